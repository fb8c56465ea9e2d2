//! Rounding to figures, to multiples of a step and to an uncertainty, as books and standards print
//! it.

use effloresce::Ratio;
use effloresce::number::Stated;

use crate::example::{Tally, run};

pub(crate) const SHELF: &str = "rounding";

#[test]
fn every_row() {
    let tally = run(SHELF, &[]);
    let expected = Tally {
        exact: 18,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 19,
        recomputed: 42,
    };
    assert_eq!(tally, expected);
}

/// JCGM 100:2008 (GUM), 7.2.6: it may be right to round an uncertainty up, as 10.47 mΩ to 11 mΩ.
///
/// DIFFERENCE: the crate rounds an uncertainty to the nearest digit.
#[test]
fn an_uncertainty_is_rounded_to_the_nearest_digit() {
    let value: Ratio = "100".parse().unwrap();
    let stated = Stated::new(&value, 10.47).unwrap();
    assert_eq!(stated.plus_minus(), "100 ± 10");
}
