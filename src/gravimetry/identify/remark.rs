//! What a ranking does not decide, in words.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::method::USUAL_REPEATABILITY;
use super::hydrate_match::HydrateMatch;
use crate::formula::Formula;
use crate::number::{Ratio, TieRule};
use crate::text::{Note, list};

/// The number of coverage factors from which on not even the nearest hydrate fits (common practice, no
/// source).
pub(super) const FAR: f64 = 1.5;

/// The difference of two percentages in standard uncertainties, from which on a sample that has exactly
/// one of them makes it 95 % probable: exp(−z²/2) is then 0.05/0.95.
const DISTINGUISHED: f64 = 2.43;

/// The most hydrates that a sentence names.
const MOST_NAMED: usize = 8;

/// The observed percentage is far from the nearest hydrate.
pub(super) fn none_fits(percent: &Ratio, best: &HydrateMatch) -> Note {
    let (percent, expected) = (
        two_places(percent),
        two_places(&best.expected_percent_water),
    );
    let text = format!(
        "No hydrate that is compared has {percent} % of water. The nearest is {} with {expected} %, which is {:.0} \
         standard uncertainties away. The probabilities only compare these hydrates, so nothing is known of the \
         unknown's hazards. Heat to constant mass, or compare other hydrates.",
        best.formula,
        best.z.abs()
    );
    let note = Note::new("none_fits", text).with("nearest", best.formula.to_string());
    note.with("percent_water", percent)
}

/// The mass does not decide between the most probable hydrates.
pub(super) fn undecided(likely: &[HydrateMatch]) -> Note {
    let names = named(likely);
    let text = format!(
        "The mass alone does not decide between {names}. Use another property, such as the colour, a flame test or a \
         precipitate."
    );
    Note::new("undecided", text).with("formulas", names)
}

/// Hydrates have nearly the same percentage of water as the best, so that no balance distinguishes them.
pub(super) fn same_water(likely: &[HydrateMatch]) -> Option<Note> {
    let best = &likely.first()?.expected_percent_water;
    let limit = DISTINGUISHED * USUAL_REPEATABILITY * best.to_f64();
    let mut alike: Vec<&HydrateMatch> = likely
        .iter()
        .filter(|one| (&one.expected_percent_water - best).to_f64().abs() < limit)
        .collect();
    if alike.len() < 2 {
        return None;
    }
    alike.truncate(MOST_NAMED);
    let percentages = alike.iter().map(|one| {
        let percent = two_places(&one.expected_percent_water);
        format!("{} ({percent} %)", one.formula)
    });
    let text = format!(
        "Nearly the same percentage of water have {}. A better balance would not distinguish them, because careful \
         heating repeats within about 0.3 % of the water.",
        list(percentages)
    );
    let formulas: Vec<String> = alike.iter().map(|one| one.formula.to_string()).collect();
    Some(Note::new("same_water", text).with("formulas", formulas.join(", ")))
}

/// A hydrate is in the list more than once.
pub(super) fn listed_twice(formula: &Formula) -> Note {
    let text = format!("{formula} is in the list more than once. It counts once.");
    Note::new("listed_twice", text).with("formula", formula.to_string())
}

/// The first of the hydrates by name, and the number of the others.
fn named(likely: &[HydrateMatch]) -> String {
    let most = match likely.len() <= MOST_NAMED {
        true => MOST_NAMED,
        // At least two others are counted.
        false => MOST_NAMED - 1,
    };
    let names = likely.iter().take(most).map(|one| one.formula.to_string());
    let mut names: Vec<String> = names.collect();
    match likely.len().saturating_sub(most) {
        0 => {}
        more => names.push(format!("{more} others")),
    }
    list(names)
}

fn two_places(percent: &Ratio) -> String {
    percent.to_places(2, TieRule::Even).to_string()
}
