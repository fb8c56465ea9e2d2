//! What several operations are told in the same words: the table of weights, the readings of a
//! bench, the rules of the house.

use effloresce::element::{Edition, Values};
use effloresce::{AtomicWeights, Element};

use crate::json::{Json, Object};
use crate::reply::{Failure, shown};

/// The fields that every request may have.
pub(crate) const ENVELOPE: [&str; 4] = ["id", "op", "weights", "strict"];

/// The fields that give the readings of one bench.
pub(crate) const READINGS: [&str; 7] = [
    "crucible",
    "crucible_hydrate",
    "heated",
    "hydrate_mass",
    "residue_mass",
    "net",
    "percent_water",
];

/// The fields that say by what rules readings are judged.
pub(crate) const METHOD: [&str; 5] = [
    "readability",
    "constant_mass",
    "weighing_used",
    "repeatability",
    "coverage",
];

/// More digits than any table prints.
const MOST_DIGITS: u32 = 28;

/// The table of weights: the default one where nothing is said.
pub(crate) fn weights(request: &Object<'_>) -> Result<AtomicWeights, Failure> {
    let weights = request.optional("weights", |value| table(&value.object()?))?;
    Ok(weights.unwrap_or_default())
}

fn table(table: &Object<'_>) -> Result<AtomicWeights, Failure> {
    table.only(&[&["edition", "values", "decimals", "figures", "override"]])?;
    let edition = table.optional("edition", |value| {
        value.choice(&[("2021", Edition::Iupac2021), ("2024", Edition::Iupac2024)])
    })?;
    let values = table.optional("values", |value| {
        value.choice(&[
            ("abridged", Values::Abridged),
            ("conventional", Values::Conventional),
            ("full", Values::Full),
        ])
    })?;
    let decimals = table.optional("decimals", |value| value.count(0, MOST_DIGITS))?;
    let figures = table.optional("figures", |value| value.count(1, MOST_DIGITS))?;
    let mut weights =
        AtomicWeights::new(edition.unwrap_or_default()).values(values.unwrap_or_default());
    weights = match (decimals, figures) {
        (None, None) => weights,
        (Some(decimals), None) => weights.decimals(small(decimals)),
        (None, Some(figures)) => weights.figures(small(figures)),
        (Some(_), Some(_)) => {
            return Err(Failure::new(
                "bad_request",
                "a table is rounded to decimals or to figures, not to both",
            )
            .within("figures")
            .help("give `decimals` or `figures`"));
        }
    };
    let by_hand = table.optional("override", Json::object)?;
    for (symbol, value) in by_hand.iter().flat_map(Object::members) {
        let with = |weights: AtomicWeights| -> Result<AtomicWeights, Failure> {
            let element: Element = symbol.parse()?;
            Ok(weights.with(element, value.quantity()?)?)
        };
        weights =
            with(weights).map_err(|failure| failure.within(&shown(symbol)).within("override"))?;
    }
    Ok(weights)
}

fn small(count: u32) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}

pub(crate) fn strict(request: &Object<'_>) -> Result<bool, Failure> {
    Ok(request.optional("strict", Json::flag)?.unwrap_or(false))
}
