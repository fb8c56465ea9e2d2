//! Words that several kinds share.

use alloc::format;
use alloc::string::{String, ToString};

use crate::exercise::draft::Refusal;
use crate::formula::Formula;

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
