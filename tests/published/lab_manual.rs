//! Laboratory manuals and handouts.

use crate::example::{Difference, Tally, run};

pub(crate) const SHELF: &str = "lab_manual";

const DIFFERENCES: &[Difference] = &[Difference::new(
    "b-pw-07",
    "molar_mass",
    "0.013",
    "weights of about 2005 give 249.685",
)];

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 4,
        tolerance: 1,
        source_error: 0,
        definition: 0,
        printed: 6,
        recomputed: 17,
    };
    assert_eq!(tally, expected);
}
