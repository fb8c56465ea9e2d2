//! Published results that the crate must reproduce, one module for each kind of source.
//!
//! `README.md` beside this file says what the data are and what was left out.

mod amount_kinds;
mod analysis;
mod atomic_weights;
mod balancing;
mod calc;
mod data;
mod empirical_kinds;
mod exam_paper;
mod example;
mod figures;
mod formulas;
mod gravimetric_kinds;
mod handbook;
mod hazard_statements;
mod heat;
mod journal;
mod kinds;
mod lab_manual;
mod names;
mod not_checked;
mod number_kinds;
mod outliers;
mod pharmacopoeia;
mod propagation;
mod reference;
mod rounding;
mod salts;
mod spread;
mod textbook;

/// Every worked example stands on exactly one shelf, and each shelf has a module that runs it.
#[test]
fn every_example_has_a_module() {
    let shelves = [
        analysis::SHELF,
        balancing::SHELF,
        exam_paper::SHELF,
        figures::SHELF,
        handbook::SHELF,
        journal::SHELF,
        lab_manual::SHELF,
        names::SHELF,
        outliers::SHELF,
        pharmacopoeia::SHELF,
        propagation::SHELF,
        rounding::SHELF,
        spread::SHELF,
        textbook::SHELF,
    ];
    let examples = data::examples();
    assert_eq!(examples.len(), 9 + 60 + 33 + 21 + 58 + 18 + 41 + 61 + 28);
    for example in &examples {
        let homes = shelves.iter().filter(|shelf| **shelf == example.shelf);
        assert_eq!(homes.count(), 1, "{}: {}", example.id, example.shelf);
    }
    let ids: std::collections::BTreeSet<_> = examples.iter().map(|e| &e.id).collect();
    assert_eq!(ids.len(), examples.len(), "an id is used twice");
}
