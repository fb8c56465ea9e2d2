//! Words that several kinds share.

use alloc::format;
use alloc::string::{String, ToString};

use crate::exercise::draft::Refusal;
use crate::exercise::hydrate::PoolHydrate;
use crate::formula::Formula;
use crate::gravimetry::salt_facts;
use crate::number::Ratio;
use crate::working::Step;

/// The names of benches in problems.
pub(super) const BENCHES: [&str; 5] = ["Juniper", "Hazel", "Rowan", "Alder", "Heron"];

/// The name of a solid, if it names this formula and no other. A solid without water is called anhydrous.
pub(super) fn solid_name(formula: &Formula) -> Result<String, Refusal> {
    let named = formula.name().map_err(Refusal::refused)?;
    let name = named.name().to_string();
    let read = Formula::from_name(&name).map_err(Refusal::refused)?;
    if read.0 != *formula {
        return Err(Refusal::Again("a name does not name its solid"));
    }
    match formula.one_formula_unit() {
        Some((_, waters)) if waters.is_positive() => Ok(name),
        _ => Ok(format!("anhydrous {name}")),
    }
}

/// The systematic name of a hydrate, or its other name if it has none.
pub(super) fn systematic_name(row: &PoolHydrate) -> String {
    let named = row.hydrate.name();
    named.map_or_else(|_| row.name.clone(), |named| named.systematic().into())
}

/// The name of the anhydrous salt, or its formula if it has no name.
pub(super) fn salt_name(row: &PoolHydrate) -> String {
    let name = row.salt.name();
    name.map_or_else(|_| row.salt_text.clone(), |name| name.name().into())
}

/// Continues "there": "is 1 molecule of water", "are 7 molecules of water".
pub(super) fn molecules(waters: &Ratio) -> String {
    match *waters == Ratio::ONE {
        true => "is 1 molecule of water".into(),
        false => format!("are {waters} molecules of water"),
    }
}

/// The form that gives the name of a hydrate.
pub(super) const NAME: &str = "from_name";
/// The form that gives its systematic name.
pub(super) const SYSTEMATIC: &str = "from_systematic_name";
/// The form that gives the name of its salt and its waters.
pub(super) const NAMED_UNITS: &str = "from_salt_name_and_waters";

/// The step from the name that a form gives to its formula; `None` if the form gives formulas. `other` is one more
/// form that gives the name of a hydrate.
pub(super) fn name_step(form: &str, other: &str, row: &PoolHydrate) -> Option<Step> {
    match form {
        SYSTEMATIC => Some(formula_step(systematic_name(row), &row.hydrate)),
        NAMED_UNITS => Some(salt_formula_step(salt_name(row), &row.salt)),
        form if form == NAME || form == other => Some(formula_step(row.name.clone(), &row.hydrate)),
        _ => None,
    }
}

/// The step from the name of a hydrate to its formula.
fn formula_step(name: String, hydrate: &Formula) -> Step {
    let symbols = "the formula of the salt, then the number of waters that the name gives";
    let step = Step::new(
        "formula of the hydrate",
        symbols,
        name,
        hydrate.to_string(),
        "",
    );
    step.concluded()
}

/// The step from the name of a salt to its formula.
fn salt_formula_step(name: String, salt: &Formula) -> Step {
    let symbols = "as many of each ion as make the charges cancel";
    let step = Step::new("formula of the salt", symbols, name, salt.to_string(), "");
    step.concluded()
}

/// A salt that stands no more than this, in degrees Celsius, is heated gently (common practice, no source).
const GENTLE_CELSIUS: u16 = 200;

/// "gently " if more heat than drives the water off soon changes the salt itself, otherwise nothing.
pub(super) fn gently(row: &PoolHydrate) -> &'static str {
    let facts = salt_facts(&row.salt);
    let limit = facts.and_then(|facts| facts.safe_up_to_celsius());
    match limit.is_some_and(|limit| *limit.value() <= GENTLE_CELSIUS) {
        true => "gently ",
        false => "",
    }
}
