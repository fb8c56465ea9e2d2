//! The standard atomic weights revised in 2024; every other element keeps its
//! weight of 2021.
//!
//! Source: IUPAC Commission on Isotopic Abundances and Atomic Weights, table of
//! standard atomic weights 2024, as announced by the commission that year. The
//! abridged values of gadolinium and lutetium are the revised ones rounded to
//! five figures by the rule of the 2021 report (Pure Appl. Chem. 2022, 94,
//! 573-600).
//!
//! Which to prefer: this edition, for new work.

use super::table::{WeightRow, value};

/// Atomic number and row, ascending.
#[rustfmt::skip]
pub(super) const REVISED: [(u8, WeightRow); 3] = [
    (40, value("Zr", "91.222", "0.003", "91.222", "0.003", None)),
    (64, value("Gd", "157.249", "0.002", "157.25", "0.01", None)),
    (71, value("Lu", "174.96669", "0.00005", "174.97", "0.01", None)),
];
