use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::*;
use crate::element::AtomicWeights;
use crate::gravimetry::Error;

fn factor(sought: &str, weighed: &str) -> Result<GravimetricFactor, Error> {
    let weights = AtomicWeights::default();
    GravimetricFactor::new(sought.parse().unwrap(), weighed.parse().unwrap(), &weights)
}

fn linked_by(element: &str, sought: &str, weighed: &str) -> Result<GravimetricFactor, Error> {
    let weights = AtomicWeights::default();
    let [sought, weighed] = [sought, weighed].map(|text| text.parse().unwrap());
    GravimetricFactor::linked_by(element.parse().unwrap(), sought, weighed, &weights)
}

fn proportion(factor: &GravimetricFactor) -> String {
    let [a, b] = factor.sought_per_weighed();
    alloc::format!("{a}:{b}")
}

#[test]
fn proportions_by_hand() {
    for (sought, weighed, expected) in [
        ("Fe", "Fe2O3", "2:1"),
        ("Fe3O4", "Fe2O3", "2:3"),
        ("SO3", "BaSO4", "1:1"),
        ("P2O5", "Mg2P2O7", "1:1"),
        ("Na2HPO4·12H2O", "Mg2P2O7", "2:1"),
        ("CaSO4·0.5H2O", "BaSO4", "1:1"),
        // The formula holds three of the salt.
        ("3CdSO4·8H2O", "CdO", "1:3"),
        ("K2SO4·Al2(SO4)3·24H2O", "BaSO4", "1:4"),
        ("NaCl", "AgCl", "1:1"),
        // A labelled atom is one of its element.
        ("[13C]O2", "BaCO3", "1:1"),
    ] {
        let factor = factor(sought, weighed).unwrap();
        assert_eq!(proportion(&factor), expected, "{sought} from {weighed}");
    }
    assert_eq!(
        proportion(&linked_by("C", "CaC2O4", "CaCO3").unwrap()),
        "1:2"
    );
    assert_eq!(proportion(&linked_by("O", "H2O", "CO2").unwrap()), "2:1");
}

#[test]
fn what_does_not_link() {
    let said = |result: Result<GravimetricFactor, Error>| {
        let error = result.unwrap_err();
        [
            error.code().to_string(),
            error.to_string(),
            error.help().unwrap().to_string(),
        ]
    };
    assert_eq!(
        said(factor("CaC2O4", "CaCO3")),
        [
            "ambiguous_factor",
            "calcium means 1 CaC2O4 for 1 CaCO3, but carbon means 1 CaC2O4 for 2 CaCO3",
            "name the element that is kept through the analysis, such as Ca"
        ]
    );
    assert_eq!(
        said(factor("MgO", "P2O5")),
        [
            "ambiguous_factor",
            "MgO and P2O5 share only oxygen, which does not fix their proportion",
            "name the element that links them, such as O"
        ]
    );
    assert_eq!(
        said(factor("Fe", "AgCl")),
        [
            "ambiguous_factor",
            "Fe and AgCl share no element, which does not fix their proportion",
            "give formulas that share the element that is determined"
        ]
    );
    assert_eq!(
        said(linked_by("S", "MgO", "BaSO4")),
        [
            "bad_request",
            "MgO has no sulfur",
            "name an element that both formulas have"
        ]
    );
    assert_eq!(
        factor("Tc", "Tc2S7").unwrap_err().code(),
        "no_standard_weight"
    );
    assert_eq!(
        factor("MgSO4·xH2O", "BaSO4").unwrap_err().code(),
        "unknown_degree"
    );
}

/// The masses of `f-sk-01` in `f_gravimetric.jsonl`: 0.5394 g · 2 · 231.531/(3 · 159.687) = 0.52139 g, which is
/// 46.04 % of 1.1324 g.
#[test]
fn a_content_with_its_working() {
    let content = factor("Fe3O4", "Fe2O3")
        .unwrap()
        .content("0.5394".parse().unwrap(), Some("1.1324".parse().unwrap()))
        .unwrap();
    let steps: Vec<String> = content
        .working()
        .steps()
        .iter()
        .map(|step| {
            let (symbols, numbers) = (step.symbols(), step.numbers());
            alloc::format!("{symbols} = {numbers} = {} {}", step.result(), step.unit())
        })
        .collect();
    assert_eq!(
        steps,
        [
            "F = 2 × M(Fe3O4) / (3 × M(Fe2O3)) = 2 × 231.531 g/mol / (3 × 159.687 g/mol) = 0.96660 ",
            "m(Fe3O4) = F × m(Fe2O3) = 0.96660 × 0.5394 g = 0.52139 g",
            "100 % × m(Fe3O4) / m(sample) = 100 % × 0.52139 g / 1.1324 g = 46.04 %",
        ]
    );
    assert!(content.warnings().is_empty());
    // Iron is in both formulas and counts once; both readings count.
    let budget = content.percent_budget().unwrap();
    let inputs: Vec<&str> = budget
        .contributions()
        .iter()
        .map(crate::number::Contribution::input)
        .collect();
    assert_eq!(
        inputs,
        [
            "atomic weight of Fe",
            "atomic weight of O",
            "mass weighed",
            "mass of the sample"
        ]
    );
}

/// The masses of `f-sk-03` in `f_gravimetric.jsonl`: 0.2001 g · 2 · 237.133/101.961 = 0.93075 g, which is 102.28 %
/// of 0.910 g.
#[test]
fn impossible_masses() {
    let factor = factor("NH4Al(SO4)2", "Al2O3").unwrap();
    let content = |weighed: &str, sample: &str| {
        factor.content(weighed.parse().unwrap(), Some(sample.parse().unwrap()))
    };
    assert_eq!(
        content("0", "1.0").unwrap_err().to_string(),
        "the mass weighed (0 g) is not positive"
    );
    assert_eq!(
        content("1.0", "-1.0").unwrap_err().code(),
        "impossible_masses"
    );
    let above = content("0.2001", "0.910").unwrap();
    let [warning] = above.warnings().try_into().unwrap();
    assert_eq!(
        (warning.code(), warning.values().next()),
        ("percent_above_100", Some(("percent", "102.3")))
    );
    let alone = factor.content("0.2001".parse().unwrap(), None).unwrap();
    assert_eq!((alone.percent(), alone.percent_budget()), (None, None));
}
