//! The enthalpy of formation of liquid water.

use super::source::Source;
use super::sourced::Sourced;

/// The standard enthalpy of formation of liquid water at 298.15 K, in kJ/mol.
pub(crate) const LIQUID_WATER: Sourced<&str> = Sourced::new("-285.83", Source::Nbs);
