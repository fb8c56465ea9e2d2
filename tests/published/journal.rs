//! Thermogravimetric steps from journals: percentages calculated from formulas.

use crate::example::{Difference, Tally, run};

pub(crate) const SHELF: &str = "journal";

const CUT: &str = "cut off after one decimal, where the same table rounds other figures";

const DIFFERENCES: &[Difference] = &[
    Difference::new("a2-85", "calculated_percent", "0.065", CUT),
    Difference::new("a2-90", "calculated_percent", "0.074", CUT),
    Difference::new("a2-91", "calculated_percent", "0.054", CUT),
];

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 12,
        tolerance: 3,
        source_error: 0,
        definition: 0,
        printed: 19,
        recomputed: 50,
    };
    assert_eq!(tally, expected);
}
