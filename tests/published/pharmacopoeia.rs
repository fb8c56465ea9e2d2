//! Limits that pharmacopoeias set to the water of labelled hydrates, and contents restated.
//!
//! A limit is no result: the theoretical percentage of the hydrate on the label must lie within.

use effloresce::element::Edition;
use effloresce::gravimetry::Limits;
use effloresce::{AtomicWeights, Formula};

use crate::calc::reading;
use crate::data;
use crate::example::{Difference, Tally, run};

pub(crate) const SHELF: &str = "pharmacopoeia";

const DIFFERENCES: &[Difference] = &[
    Difference::new(
        "a2-14",
        "range_percent/1",
        "2.22",
        "the limits for the pentahydrate end below the loss that its formula means, 29.22 %",
    ),
    Difference::new(
        "a2-24",
        "hydrate_percent/0",
        "0.069",
        "98.93 stands as 99.0: the content limit is rounded up",
    ),
    Difference::new(
        "a2-25",
        "hydrate_percent/1",
        "0.051",
        "108.65 stands as 108.7: the content limit is rounded up",
    ),
    Difference::new(
        "a2-44",
        "range_percent/0",
        "3.57",
        "the limits are for ignition, which takes half a molecule of water out of HPO4 besides: 26.17 %",
    ),
];

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 2,
        tolerance: 22,
        source_error: 0,
        definition: 0,
        printed: 82,
        recomputed: 91,
    };
    assert_eq!(tally, expected);
}

/// Which hydrates' theoretical water lies outside the limits: with the two that the table above
/// excuses, dried iron(II) sulfate, which holds a varying amount of water (see its row's rule).
#[test]
fn the_theoretical_percentage_lies_within_the_limits() {
    let weights = AtomicWeights::new(Edition::Iupac2021);
    let (mut within, mut outside) = (0, Vec::new());
    for example in data::examples() {
        let between = |low: &str, high: &str| Limits::between(reading(low), reading(high)).unwrap();
        let (salt, limits, degree) = if example.has("limit_low_percent") {
            let degree = example.expected["x"].as_str().unwrap();
            let low = example.text("limit_low_percent");
            let limits = between(low, example.text("limit_high_percent"));
            (example.text("salt"), limits, degree)
        } else if example.id == "a2-72" {
            // 86.0 to 89.0 % of anhydrous salt; the monohydrate is what the name stands for.
            (example.text("salt"), between("11.0", "14.0"), "1")
        } else {
            continue;
        };
        let hydrate: Formula = format!("{salt}·{degree}H2O").parse().unwrap();
        let theory = hydrate.percent_water(&weights).unwrap().unwrap();
        if limits.compare(&theory).complies() {
            within += 1;
        } else {
            outside.push(example.id);
        }
    }
    assert_eq!(
        (within, outside.join(" ").as_str()),
        (17, "a2-14 a2-44 a2-72")
    );
}
