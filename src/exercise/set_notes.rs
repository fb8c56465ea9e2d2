//! What sets say as well as their problems: the atomic weights, cautions if a problem speaks of heating, and which
//! numbers count as right.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::problem::Exercise;
use super::set::ExerciseSet;
use crate::gravimetry::cautions_for_any;
use crate::number::{Ratio, Rounded, TieRule};

/// The ends of what counts as right have so many decimal places more than the answer.
const MORE_PLACES: i32 = 2;

/// Paragraphs under a heading.
pub(crate) struct SetNote {
    pub(crate) heading: &'static str,
    pub(crate) paragraphs: Vec<String>,
    /// A list after the paragraphs.
    pub(crate) items: Vec<String>,
}

/// Returns the elements whose weights the problems of some sets use, with the weights and their source. All sets have
/// the table of the first one. `None` if they use no weights.
pub(crate) fn weights_note(sets: &[&ExerciseSet]) -> Option<SetNote> {
    let first = sets.first()?;
    let weights = first.problems().first()?.request().weights();
    let used = sets.iter().flat_map(|set| set.weights_used());
    let used: BTreeMap<_, _> = used.collect();
    let weights = weights.with_overrides_of(|element| used.contains_key(&element));
    let written = used
        .iter()
        .map(|(element, weight)| format!("{element}\u{A0}{weight}"));
    let written: Vec<String> = written.collect();
    (!written.is_empty()).then(|| SetNote {
        heading: "Atomic weights",
        paragraphs: Vec::from([
            first.exercises().with_decimal_mark(&written.join("; ")),
            format!("Source: {weights}."),
        ]),
        items: Vec::new(),
    })
}

/// Returns the usual cautions, if a problem speaks of heating.
pub(crate) fn heating_note<'a>(
    problems: impl IntoIterator<Item = &'a Exercise>,
) -> Option<SetNote> {
    let speaks_of_heat = |problem: &Exercise| {
        let mut words = problem.prompt().split(|c: char| !c.is_alphabetic());
        words.any(|word| word.to_lowercase().starts_with("heat"))
    };
    problems.into_iter().any(speaks_of_heat).then(|| {
        let cautions = cautions_for_any();
        SetNote {
            heading: "Before you heat anything",
            paragraphs: Vec::from([String::from(
                "These problems are for paper. Heat a substance only if your teacher asks you to.",
            )]),
            items: cautions
                .iter()
                .map(|note| note.text().to_string())
                .collect(),
        }
    })
}

/// Returns the least and the greatest number that count as right, with two more decimal places than the answer as
/// printed. They are rounded inward, so that both count.
pub(crate) fn short_ends(printed: &str, low: &Ratio, high: &Ratio) -> [Rounded; 2] {
    let decimals = printed.split_once(['.', ',']);
    let decimals = decimals.map_or("", |(_, decimals)| decimals);
    let places = decimals.chars().count() as i32 + MORE_PLACES;
    let (up, down) = (Ratio::power_of_ten(places), Ratio::power_of_ten(-places));
    let low = -(-(low * &up)).floor();
    let high = (high * &up).floor();
    [low, high].map(|end| (end * &down).to_places(places, TieRule::Even))
}
