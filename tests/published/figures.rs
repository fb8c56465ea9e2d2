//! Significant figures through one operation and through a whole calculation.

use crate::example::{Tally, run};

pub(crate) const SHELF: &str = "figures";

#[test]
fn every_row() {
    let tally = run(SHELF, &[]);
    let expected = Tally {
        exact: 9,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 10,
        recomputed: 10,
    };
    assert_eq!(tally, expected);
}
