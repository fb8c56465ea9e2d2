//! The general cautions for heating a salt, which are common practice, without a source, and what too much
//! heat does to it. They do not replace the safety data sheet, which this crate does not contain.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::salts::{Decomposition, SaltFacts, Severity, salt_facts};
use super::finding::WHO_CLASSIFIES;
use super::rule::with_origin;
use crate::formula::Formula;
use crate::text::Note;

/// The note that nothing is known of a salt.
pub(super) fn of_unknown(salt: &Formula) -> Note {
    let text = format!(
        "Nothing is known here of heating {salt}. No rule for its ions and no row of the catalogue speaks of that. Read its \
         safety data sheet first, and ask the person in charge of the laboratory."
    );
    Note::new("unknown_salt", text).with("hazard", Severity::Unknown.code())
}

/// The caution for the eyes.
pub(super) fn eye_protection() -> Note {
    let (code, text) = EYE_PROTECTION;
    Note::new(code, text)
}

/// The cautions for heating any salt.
pub(super) fn general() -> impl Iterator<Item = Note> {
    GENERAL.iter().map(|(code, text)| Note::new(code, *text))
}

/// The caution for adding water to any salt.
pub(super) fn water_back() -> Note {
    let (code, text) = WATER_BACK;
    Note::new(code, text)
}

/// The note on who decides.
pub(super) fn who_decides() -> Note {
    let (code, text) = WHO_DECIDES;
    Note::new(code, text)
}

/// The waste route of the salt, if a row gives it. No water goes to what reacts violently with it.
pub(super) fn waste(salt: &Formula, reacts_with_water: bool) -> Option<Note> {
    let waste = salt_facts(salt)?.waste()?;
    let words = match reacts_with_water {
        true => "Keep it dry, and ask the person in charge of the laboratory.",
        false => waste.value().words(),
    };
    let note = Note::new("waste", format!("Waste of {salt}: {words}"));
    let note = note.with("route", waste.value().code());
    Some(note.with("source", waste.source()))
}

/// The fact that a safety data sheet does not classify the salt as hazardous, if no row gives a hazard of it.
pub(super) fn not_classified(salt: &Formula) -> Option<Note> {
    let facts = salt_facts(salt)?;
    let source = facts.not_classified_source()?;
    if !facts.hazard_statements().is_empty() || facts.hazard_words().is_some() {
        return None;
    }
    let text = format!(
        "A safety data sheet does not classify {salt} as hazardous before it is heated. {WHO_CLASSIFIES}"
    );
    Some(Note::new("not_classified", text).with("source", source))
}

/// How hot the salt may become, or why it does not stay whole at any heat. A salt that a burner leaves whole has
/// no such limit.
pub(super) fn safe_up_to(salt: &Formula) -> Option<Note> {
    let facts = salt_facts(salt)?;
    if let Some(reason) = facts.no_safe_stage() {
        let text = format!(
            "No stage leaves anhydrous {salt} whole, because {}.",
            reason.value()
        );
        let note = Note::new("no_safe_stage", with_origin(text, reason.source()));
        return Some(note.with("source", reason.source()));
    }
    let limit = facts
        .safe_up_to_celsius()
        .filter(|_| facts.heat_remark().is_none())?;
    let celsius = limit.value();
    let text =
        format!("Do not heat {salt} above about {celsius} °C. Up to there, it does not decompose.");
    let text = with_origin(text, limit.source()) + below_a_burner(celsius);
    let note = Note::new("safe_up_to", text);
    let note = note.with("celsius", format!("{celsius}"));
    Some(note.with("source", limit.source()))
}

/// How to keep to a limit that a burner exceeds at once.
fn below_a_burner(celsius: &u16) -> &'static str {
    match *celsius < 300 {
        true => {
            " A burner is hotter than that: use an oven, or a hot plate with a thermometer. (This is common practice, \
             without a source.)"
        }
        false => "",
    }
}

/// How hot a lower hydrate may become before it loses more water, or that no row gives a stage of it.
pub(super) fn keeps_water_up_to(residue: &Formula) -> Note {
    let stages = salt_facts(residue).map_or(&[][..], SaltFacts::stages);
    let further = stages.iter().filter(|stage| stage.from() == residue);
    let Some(first) = further.min_by_key(|stage| stage.celsius()) else {
        let text = format!(
            "It is not known here how hot {residue} may become before it loses more water. The person in charge of \
             the laboratory decides how hot it is heated."
        );
        return Note::new("limit_unknown", text);
    };
    let (celsius, _) = first.celsius();
    let text =
        format!("Do not heat {residue} above about {celsius} °C. From there, it loses more water.");
    let text = with_origin(text, first.source()) + below_a_burner(&celsius);
    let note = Note::new("safe_up_to", text);
    let note = note.with("celsius", format!("{celsius}"));
    note.with("source", first.source())
}

/// A residue of several, with its own temperature.
fn step(decomposition: &Decomposition) -> String {
    let residue = decomposition.residue();
    match decomposition.marked_from_celsius() {
        Some(celsius) => format!("{residue} (markedly from about {celsius} °C)"),
        None => format!("{residue}"),
    }
}

/// The effect of too much heat on the salt, and the sign of it.
pub(super) fn too_hot(salt: &Formula) -> Option<Note> {
    let facts = salt_facts(salt)?;
    if let Some(remark) = facts.heat_remark() {
        let note = Note::new("heat", format!("{salt} {}.", remark.value()));
        return Some(note.with("source", remark.source()));
    }
    let all = facts.decompositions();
    let last = all.last()?;
    // An earlier residue counts if something is known of when it is there.
    let (_, before) = all.split_last()?;
    let mut earlier = before
        .iter()
        .filter(|own| own.marked_from_celsius().is_some());
    let first = earlier.next();
    let from = last.marked_from_celsius();
    let residue = match first {
        None => last.residue().to_string(),
        Some(first) => {
            let steps = [first].into_iter().chain(earlier).chain([last]);
            steps.map(step).collect::<Vec<String>>().join(", then ")
        }
    };
    let mut text = format!("If {salt} is heated too far, it leaves {residue}");
    if !last.gases().is_empty() {
        text += &format!(" and gives off {}", last.gases().replace(" + ", ", "));
    }
    if let (Some(celsius), None) = (from, first) {
        text += &format!(", markedly from about {celsius} °C");
    }
    text += ". ";
    text += &match last.sign() {
        Some(sign) => {
            let text = format!("A sign of this: {sign}. Colour is a hint, not the end point.");
            with_origin(text, last.sign_source().unwrap_or_default())
        }
        None => match facts.no_visible_sign() {
            Some(reason) => {
                let text = format!("You will not see any change, because {}.", reason.value());
                with_origin(text, reason.source())
            }
            None => "Nothing is known here of a sign of this.".into(),
        },
    };
    let mut note = Note::new("too_hot", text)
        .with("residue", format!("{}", last.residue()))
        .with("gases", last.gases())
        .with("source", last.source());
    if let Some(celsius) = from {
        note = note.with("celsius", format!("{celsius}"));
    }
    if let Some((first, celsius)) = first.and_then(|own| Some((own, own.marked_from_celsius()?))) {
        note = note
            .with("first_residue", format!("{}", first.residue()))
            .with("first_celsius", format!("{celsius}"));
    }
    Some(note)
}

const EYE_PROTECTION: (&str, &str) = (
    "eye_protection",
    "Wear eye protection from the first heating to the last.",
);

const GENERAL: [(&str, &str); 5] = [
    EYE_PROTECTION,
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
];

const WATER_BACK: (&str, &str) = (
    "water_back",
    "Add water back only to a cold solid, drop by drop. Taking up water gives off heat.",
);

const WHO_DECIDES: (&str, &str) = (
    "who_decides",
    "The safety data sheet of the salt, the local rules (also for waste) and the person in charge of the laboratory \
     decide.",
);
