//! Dehydrations whose ratio and standard uncertainty were worked out elsewhere.
//!
//! The head of `data/propagation_reference.jsonl` says by which model. The derivatives there come
//! from differentiating the whole expression step by step, not from formulas for the ratio.

use std::collections::BTreeSet;

use effloresce::gravimetry::{
    Constancy, ConstantMass, Dehydration, Method, Net, UncertaintyPart, WeighingUsed, Weighings,
};
use effloresce::{AtomicWeights, Ratio};
use serde_json::Value;

use crate::calc::{formula, number, reading};

const REFERENCE: &str = include_str!("data/propagation_reference.jsonl");

/// Relative; both sides work with doubles.
const TOLERANCE: f64 = 1e-6;

/// The rows behind the head.
fn rows() -> Vec<Value> {
    let mut lines = REFERENCE
        .lines()
        .map(|line| serde_json::from_str(line).unwrap());
    let head: Value = lines.next().unwrap();
    assert!(head["note"].is_string());
    lines.collect()
}

#[track_caller]
fn text(value: &Value) -> &str {
    value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no text"))
}

fn weights(given: &Value) -> AtomicWeights {
    let mut table = AtomicWeights::default();
    if let Some(decimals) = given["decimals"].as_u64() {
        table = table.decimals(u8::try_from(decimals).unwrap());
    }
    for (element, weight) in given["override"].as_object().into_iter().flatten() {
        let element = element.parse().unwrap();
        table = table.with(element, reading(text(weight))).unwrap();
    }
    table
}

fn method(row: &Value) -> Method {
    let given = row["method"].as_object().unwrap();
    let mut method = Method::new()
        .readability(reading(text(&row["readability"])))
        .unwrap();
    for (key, value) in given {
        let float = || number(text(value)).to_f64();
        method = match key.as_str() {
            "constant_mass" => {
                let (kind, limit) = value.as_object().unwrap().iter().next().unwrap();
                let limit = reading(text(limit));
                method.constant_mass(match kind.as_str() {
                    "absolute" => ConstantMass::Absolute(limit),
                    "per_gram" => ConstantMass::PerGram(limit),
                    "relative" => ConstantMass::Relative(limit),
                    other => panic!("no criterion {other}"),
                })
            }
            "weighing_used" => method.weighing_used(match text(value) {
                "lowest" => WeighingUsed::Lowest,
                "mean_of_last_two" => WeighingUsed::MeanOfLastTwo,
                other => panic!("no rule {other}"),
            }),
            "balance_repeatability" => method.balance_repeatability(float()).unwrap(),
            "balance_linearity" => method.balance_linearity(float()).unwrap(),
            "repeatability" => method.repeatability(float()).unwrap(),
            "weights" => method.weights(weights(value)),
            other => panic!("no part {other} of a method"),
        };
    }
    method
}

fn run(row: &Value) -> Dehydration {
    let readings = row["readings"].as_array().unwrap();
    let readings: Vec<_> = readings.iter().map(|r| reading(text(r))).collect();
    let weighings = match (text(&row["form"]), readings.as_slice()) {
        ("series", [container, with_hydrate, heated @ ..]) => {
            Weighings::new(*container, *with_hydrate, heated.iter().copied())
        }
        ("tared", [hydrate, residue]) => Weighings::net(*hydrate, *residue, Net::Tared),
        ("subtracted", [hydrate, residue]) => Weighings::net(*hydrate, *residue, Net::Subtracted),
        ("percent", [percent]) => Weighings::percent_water(*percent),
        other => panic!("{other:?}"),
    };
    method(row)
        .dehydration(&formula(text(&row["salt"])), &weighings)
        .unwrap()
}

#[test]
fn the_ratio_and_its_uncertainty_agree() {
    let mut seen = BTreeSet::new();
    let mut slow = Vec::new();
    let (mut forms, mut parts) = (BTreeSet::new(), BTreeSet::new());
    let rows = rows();
    for row in &rows {
        let id = text(&row["id"]);
        assert!(seen.insert(id), "{id} stands twice");
        forms.insert(text(&row["form"]));
        parts.extend(row["method"].as_object().unwrap().keys());
        let run = run(row);
        let reached = run.constant_mass().and_then(Constancy::reached);
        assert_eq!(reached, row["criterion_met"].as_bool(), "{id}");
        for (key, own) in [
            ("ratio", Ratio::to_f64(run.ratio())),
            ("standard_uncertainty", run.standard_uncertainty()),
        ] {
            let reference = row[key].as_f64().unwrap();
            let apart = (own / reference - 1.0).abs();
            // The reference knows of no loss to come, so its model covers less.
            let may_cover_more = key == "standard_uncertainty"
                && run
                    .uncertainty_covers()
                    .contains(&UncertaintyPart::SlowLoss);
            if may_cover_more && own > reference * (1.0 + TOLERANCE) {
                slow.push(id);
                continue;
            }
            assert!(apart <= TOLERANCE, "{id}: {key}: {own} {reference}");
        }
    }
    assert_eq!(slow, ["series-4"]);
    assert_eq!(rows.len(), 19);
    let met = rows.iter().filter(|row| row["criterion_met"] == true);
    let not_met = rows.iter().filter(|row| row["criterion_met"] == false);
    assert_eq!((met.count(), not_met.count()), (7, 2));
    assert_eq!(forms.len(), 4);
    let all = [
        "balance_linearity",
        "balance_repeatability",
        "constant_mass",
        "repeatability",
        "weighing_used",
        "weights",
    ];
    assert_eq!(parts.into_iter().collect::<Vec<_>>(), all);
}
