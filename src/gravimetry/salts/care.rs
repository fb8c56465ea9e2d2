//! What anybody who heats a salt must be told. General cautions are common practice, no source;
//! they do not replace the safety data sheet, which this crate does not hold.

use alloc::format;
use alloc::vec::Vec;

use crate::element::Element;
use crate::formula::Formula;
use crate::text::Note;

/// The cautions for heating a hydrate: general ones, and where the salt is known to be toxic or
/// unfit for this method, that it is and why.
///
/// They are reminders of common practice. The safety data sheet, the local rules and the person
/// responsible for the room decide.
///
/// ```
/// use effloresce::gravimetry::cautions;
/// let notes = cautions(&"CoCl2·6H2O".parse()?);
/// assert_eq!(notes[0].code(), "toxic_salt");
/// assert_eq!(notes.last().unwrap().code(), "who_decides");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn cautions(issued: &Formula) -> Vec<Note> {
    let salt = issued.anhydrous().unwrap_or_else(|| issued.clone());
    let mut notes: Vec<Note> = unfit(&salt)
        .map(|reason| {
            Note::new(
                "unfit_salt",
                format!("{salt} is poor or unfit for this method: {reason}."),
            )
        })
        .into_iter()
        .collect();
    if let Some(element) = toxic(&salt) {
        notes.push(Note::new(
            "toxic_salt",
            format!(
                "Salts of {} are toxic: no skin contact, no dust, waste into its own container.",
                element.name()
            ),
        ));
    }
    notes.extend(GENERAL.iter().map(|(code, text)| Note::new(code, *text)));
    notes
}

const GENERAL: [(&str, &str); 7] = [
    (
        "eye_protection",
        "Wear eye protection from the first heating to the last.",
    ),
    (
        "hot_looks_cold",
        "Hot apparatus looks like cold apparatus: tongs for every crucible, a heat-proof mat under it.",
    ),
    (
        "cool_covered",
        "Let the crucible cool, covered, in a desiccator where there is one, before it is weighed.",
    ),
    (
        "gentle_then_strong",
        "Heat gently at first, for wet crystals spit; do not heat beyond the loss of water. Many salts then decompose.",
    ),
    (
        "ventilation",
        "Ventilate, and use a fume cupboard where the salt can give off a gas other than steam.",
    ),
    (
        "water_back",
        "Water goes back only onto a cold solid, drop by drop: taking it up again gives heat.",
    ),
    (
        "who_decides",
        "The safety data sheet of the salt, the local rules, also for its waste, and the person responsible for the \
         room decide.",
    ),
];

/// Why a salt does badly in this experiment (common practice, no source).
fn unfit(salt: &Formula) -> Option<&'static str> {
    let composition = salt.composition().ok()?;
    let has = |symbol: &str| {
        Element::from_symbol(symbol)
            .is_some_and(|e| composition.iter().any(|(atom, _)| atom.element() == e))
    };
    let is = |texts: &[&str]| {
        texts
            .iter()
            .filter_map(|text| text.parse::<Formula>().ok()?.composition().ok())
            .any(|other| other.hill() == composition.hill())
    };
    let text = format!("{salt}");
    if is(&["MgCl2", "FeCl3", "AlCl3"]) {
        Some("hydrogen chloride leaves with the water")
    } else if text.contains("NO3") {
        Some("nitrates decompose and give off oxides of nitrogen")
    } else if text.contains("NH4") {
        Some("ammonium salts lose ammonia")
    } else if is(&["FeSO4"]) {
        Some("it takes up oxygen, gaining mass, then loses oxides of sulfur")
    } else if is(&["Na2S2O3", "Na2CO3"]) {
        Some("the hydrate melts in its own water and spatters")
    } else if has("C") && is(&["H2C2O4"]) {
        Some("the acid sublimes, and its vapour is harmful")
    } else {
        None
    }
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
    fn salts_that_need_a_word_get_one() {
        first("MgCl2·6H2O", "unfit_salt");
        first("Cu(NO3)2·3H2O", "unfit_salt");
        first("FeSO4·7H2O", "unfit_salt");
        first("NH4Al(SO4)2·12H2O", "unfit_salt");
        first("BaCl2·2H2O", "toxic_salt");
        first("MgSO4·7H2O", "eye_protection");
        first("MgSO4·xH2O", "eye_protection");
    }
}
