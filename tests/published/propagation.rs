//! Uncertainties carried through an expression in quadrature.

use crate::example::{Tally, run};

pub(crate) const SHELF: &str = "propagation";

#[test]
fn every_row() {
    let tally = run(SHELF, &[]);
    let expected = Tally {
        exact: 7,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 16,
        recomputed: 16,
    };
    assert_eq!(tally, expected);
}
