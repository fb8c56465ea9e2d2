//! An identification in the shape of the JSON-lines contract.

use super::hydrate_match::HydrateMatch;
use super::identification::Identification;
use crate::text::fields;

/// The most matches that a reply shows.
const MOST_SHOWN: usize = 100;

fields!(HydrateMatch, it, {
    "formula": it.formula(),
    "expected_percent_water": it.expected_percent_water().to_plain(),
    "z": it.z(),
    "probability": it.probability(),
});

fields!(Identification, it, {
    "percent_water": it.percent_water().to_plain(),
    "uncertainty": it.standard_uncertainty(),
    "matches": it.matches().iter().take(MOST_SHOWN).collect::<alloc::vec::Vec<_>>(),
    "left_out": it.matches().len().saturating_sub(MOST_SHOWN),
    "undecided": it.undecided(),
    "cautions": it.cautions(),
    "warnings": it.notes(),
    "edition": it.edition(),
});
