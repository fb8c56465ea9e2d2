//! An examination paper.

use crate::example::{Tally, run};

pub(crate) const SHELF: &str = "exam_paper";

#[test]
fn every_row() {
    let tally = run(SHELF, &[]);
    let expected = Tally {
        exact: 1,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 5,
        recomputed: 11,
    };
    assert_eq!(tally, expected);
}
