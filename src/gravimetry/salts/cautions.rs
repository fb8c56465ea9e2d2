//! The cautions for heating a salt. General cautions are common practice, without a source. They do not
//! replace the safety data sheet, which this crate does not contain. A hazard is named only if a row
//! gives its source.

use alloc::format;
use alloc::vec::Vec;

use super::catalogue::salt_facts;
use super::decomposition::Decomposition;
use super::salt_facts::SaltFacts;
use super::source::Source::Practice;
use super::suitability::Suitability;
use crate::element::Element;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::Note;

/// Returns the cautions for heating a hydrate. First come those of the salt: whether it is unsuitable
/// for this method or toxic, and its hazards with their source. Then come general cautions, and what
/// too much heat does to the salt.
///
/// They are reminders of common practice. The safety data sheet, the local rules and the person in
/// charge of the laboratory decide.
///
/// ```
/// use effloresce::gravimetry::cautions;
/// let notes = cautions(&"CoCl2·6H2O".parse()?);
/// assert_eq!(notes[0].code(), "toxic_salt");
/// assert!(notes.iter().any(|note| note.code() == "too_hot"));
/// assert_eq!(notes.last().unwrap().code(), "who_decides");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn cautions(issued: &Formula) -> Vec<Note> {
    cautions_for([issued])
}

/// The cautions for heating several hydrates: those of each salt first, the general ones once.
pub(crate) fn cautions_for<'a>(issued: impl IntoIterator<Item = &'a Formula>) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut heat = Vec::new();
    for issued in issued {
        let salt = issued.anhydrous().unwrap_or_else(|| issued.clone());
        notes.extend(of_salt(&salt, issued.waters()));
        heat.extend(too_hot(&salt));
    }
    notes.extend(GENERAL.iter().map(|(code, text)| Note::new(code, *text)));
    notes.extend(heat);
    let (code, text) = WHO_DECIDES;
    notes.push(Note::new(code, text));
    notes
}

/// The cautions for this salt alone, which come before the general ones.
fn of_salt(salt: &Formula, waters: Option<Ratio>) -> Vec<Note> {
    let mut notes: Vec<Note> = unfit(salt, waters)
        .map(|(reason, source)| {
            Note::new(
                "unfit_salt",
                format!("{salt} is not well suited to this method: {reason}."),
            )
            .with("source", source)
        })
        .into_iter()
        .collect();
    if let Some(element) = toxic(salt) {
        notes.push(Note::new(
            "toxic_salt",
            format!(
                "Salts of {} are toxic. Avoid skin contact and dust, and collect the waste separately.",
                element.name()
            ),
        ));
    }
    if let Some(words) = salt_facts(salt).and_then(SaltFacts::hazard_words) {
        let note = Note::new("hazard", format!("{salt}: {}.", words.value()));
        notes.push(note.with("source", words.source()));
    }
    notes
}

/// The effect of too much heat on the salt, and the sign of it.
fn too_hot(salt: &Formula) -> Option<Note> {
    let facts = salt_facts(salt)?;
    if let Some(remark) = facts.heat_remark() {
        let note = Note::new("heat", format!("{salt} {}.", remark.value()));
        return Some(note.with("source", remark.source()));
    }
    let all = facts.decompositions();
    let last = all.last()?;
    let from = all
        .iter()
        .filter_map(Decomposition::marked_from_celsius)
        .min();
    let mut text = format!("If {salt} is heated too far, it leaves {}", last.residue());
    if !last.gases().is_empty() {
        text += &format!(" and gives off {}", last.gases().replace(" + ", ", "));
    }
    if let Some(celsius) = from {
        text += &format!(", markedly from about {celsius} °C");
    }
    text += ". ";
    text += &match last.sign() {
        Some(sign) => format!("A sign of this: {sign}. Colour is a hint, not the end point."),
        None => "You may not see any change.".into(),
    };
    let mut note = Note::new("too_hot", text)
        .with("residue", format!("{}", last.residue()))
        .with("gases", last.gases())
        .with("source", last.source());
    if let Some(celsius) = from {
        note = note.with("celsius", format!("{celsius}"));
    }
    Some(note)
}

const GENERAL: [(&str, &str); 6] = [
    (
        "eye_protection",
        "Wear eye protection from the first heating to the last.",
    ),
    (
        "hot_looks_cold",
        "Hot apparatus looks like cold apparatus. Use tongs for every crucible, and put it on a heat-proof mat.",
    ),
    (
        "cool_covered",
        "Let the covered crucible cool before you weigh it, in a desiccator if you have one.",
    ),
    (
        "gentle_then_strong",
        "Heat gently at first, because wet crystals spit. Do not heat beyond the loss of water, because many salts then decompose.",
    ),
    (
        "ventilation",
        "Ventilate. Use a fume cupboard if the salt can give off a gas other than steam.",
    ),
    (
        "water_back",
        "Add water back only to a cold solid, drop by drop. Taking up water gives off heat.",
    ),
];

const WHO_DECIDES: (&str, &str) = (
    "who_decides",
    "The safety data sheet of the salt, the local rules (also for waste) and the person in charge of the laboratory \
     decide.",
);

/// Ions whose salts are not suitable (common practice, no source).
const UNFIT_IONS: [(&str, &str); 2] = [
    ("NO3", "nitrates decompose and give off oxides of nitrogen"),
    ("NH4", "ammonium salts lose ammonia"),
];

/// The reason why a salt is not suitable for this experiment, and the source.
fn unfit(salt: &Formula, waters: Option<Ratio>) -> Option<(&'static str, &'static str)> {
    let text = format!("{salt}");
    let ion = UNFIT_IONS.iter().find(|(ion, _)| text.contains(ion));
    if let Some((_, reason)) = ion {
        return Some((reason, Practice.publication()));
    }
    let facts = salt_facts(salt)?;
    if let Some((_, melting)) = facts.melting_hydrates().first() {
        // With one water or none, a hydrate cannot melt in its own water.
        let melts = waters.is_none_or(|n| n > Ratio::ONE);
        let reason = "the hydrate melts in its own water and spatters";
        return melts.then_some((reason, melting.source()));
    }
    let suitability = facts.suitability()?;
    let unfit = *suitability.value() == Suitability::Unfit;
    unfit.then_some((facts.suitability_reason()?, suitability.source()))
}

fn toxic(salt: &Formula) -> Option<Element> {
    let composition = salt.composition().ok()?;
    let toxic = ["Ba", "Co", "Cd", "Ni", "Pb", "Hg"];
    composition
        .iter()
        .map(|(atom, _)| atom.element())
        .find(|element| toxic.contains(&element.symbol()))
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::rows;
    use super::super::fact::Fact;
    use super::*;

    #[track_caller]
    fn first(issued: &str, code: &str) {
        assert_eq!(
            cautions(&issued.parse().unwrap())[0].code(),
            code,
            "{issued}"
        );
    }

    #[test]
    fn salts_that_need_a_caution_get_one() {
        first("MgCl2·6H2O", "unfit_salt");
        first("Cu(NO3)2·3H2O", "unfit_salt");
        first("FeSO4·7H2O", "unfit_salt");
        first("NH4Al(SO4)2·12H2O", "unfit_salt");
        first("Na2CO3·10H2O", "unfit_salt");
        first("Na2CO3·xH2O", "unfit_salt");
        first("Na2CO3·H2O", "eye_protection");
        first("Na2S2O3·5H2O", "unfit_salt");
        first("H2C2O4·2H2O", "unfit_salt");
        first("CuSO4·5H2O", "hazard");
        first("BaCl2·2H2O", "toxic_salt");
        first("MgSO4·7H2O", "eye_protection");
        first("MgSO4·xH2O", "eye_protection");
    }

    fn note(issued: &str, code: &str) -> Note {
        let notes = cautions(&issued.parse().unwrap());
        let found = notes.into_iter().find(|note| note.code() == code);
        found.unwrap_or_else(|| panic!("{issued}: no {code}"))
    }

    #[test]
    fn too_much_heat_is_named() {
        assert_eq!(
            note("CuSO4·5H2O", "too_hot").text(),
            "If CuSO4 is heated too far, it leaves CuO and gives off SO3, SO2, O2, markedly from about 560 °C. A sign of \
             this: it turns grey, then black. Colour is a hint, not the end point."
        );
        assert_eq!(
            note("CaSO4·2H2O", "too_hot").text(),
            "If CaSO4 is heated too far, it leaves CaO and gives off SO2, O2, markedly from about 1250 °C. You may not \
             see any change."
        );
        // The lowest temperature of the rows, the last residue.
        let magnesium = note("MgCl2·6H2O", "too_hot");
        assert!(magnesium.text().contains("leaves MgO") && magnesium.text().contains("167 °C"));
        assert!(note("BaCl2·2H2O", "heat").text().contains("961 °C"));
    }

    #[test]
    fn a_hazard_has_a_source() {
        let hazards = rows().filter(|row| matches!(row.fact, Fact::HazardWords(_)));
        for salt in hazards.map(|row| row.salt) {
            let hazard = note(salt, "hazard");
            let source = hazard.values().find(|(name, _)| *name == "source");
            assert!(source.is_some_and(|(_, text)| !text.contains("no source")));
        }
        let notes = cautions(&"ZnSO4·7H2O".parse().unwrap());
        assert!(notes.iter().all(|note| note.code() != "hazard"));
    }
}
