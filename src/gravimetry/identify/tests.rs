//! Unknown hydrates, from percentages and from readings.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::method::Method;
use super::super::weighings::{Net, Weighings};
use super::{HydrateMatch, Identification};
use crate::formula::Formula;
use crate::text::Note;

fn formulas(texts: &[&str]) -> Vec<Formula> {
    texts.iter().map(|text| text.parse().unwrap()).collect()
}

fn among(percent: &str, list: &[&str]) -> Identification {
    let observed = Weighings::percent_water(percent.parse().unwrap());
    Method::new()
        .identify_among(formulas(list), &observed)
        .unwrap()
}

fn codes(found: &Identification) -> Vec<&str> {
    found.notes().iter().map(Note::code).collect()
}

fn ranking(found: &Identification) -> Vec<String> {
    let matches = found.matches().iter();
    matches.map(|one| one.formula().to_string()).collect()
}

/// 51.17 is 51.167 of MgSO4·7H2O. Na2CO3·10H2O has 62.96 and CuSO4·5H2O 36.08.
#[test]
fn the_nearest_is_first() {
    let found = among("51.17", &["Na2CO3·10H2O", "CuSO4·5H2O", "MgSO4·7H2O"]);
    assert_eq!(
        ranking(&found),
        ["MgSO4·7H2O", "Na2CO3·10H2O", "CuSO4·5H2O"]
    );
    let best = &found.matches()[0];
    assert!(best.z().abs() < 0.1 && best.probability() > 0.999_999);
    assert!(!found.undecided() && found.likely().len() == 1);
    assert!(codes(&found).is_empty());
}

/// The percentage has 0.3 % of itself, and the last place: 0.1/√12.
#[test]
fn the_uncertainty_has_its_parts() {
    let found = among("36.1", &["CuSO4·5H2O"]);
    let expected = libm::hypot(0.003 * 36.1, 0.1 / libm::sqrt(12.0));
    assert!((found.standard_uncertainty() - expected).abs() < 1e-12);
    let observed = Weighings::percent_water("36.1".parse().unwrap());
    let exact = Method::new().repeatability(0.0).unwrap();
    let found = exact
        .identify_among(formulas(&["CuSO4·5H2O"]), &observed)
        .unwrap();
    assert!((found.standard_uncertainty() - 0.1 / libm::sqrt(12.0)).abs() < 1e-12);
}

/// For 2.666 g with 1.363 g of water, dp/dh = 100 s/h² and dp/ds = −100/h.
#[test]
fn net_masses_give_their_percentage() {
    let bench = Weighings::net(
        "2.666".parse().unwrap(),
        "1.303".parse().unwrap(),
        Net::Tared,
    );
    let exact = Method::new().repeatability(0.0).unwrap();
    let found = exact.identify(&bench).unwrap();
    assert_eq!(alloc::format!("{:.3}", found.percent_water()), "51.125");
    let (h, s) = (2.666_f64, 1.303);
    let expected = libm::hypot(100.0 * s / (h * h), 100.0 / h) * 0.001 / libm::sqrt(12.0);
    assert!((found.standard_uncertainty() - expected).abs() < 1e-9);
}

/// ZnSO4·7H2O has 43.86 % and NiSO4·7H2O 44.90 %; FeSO4·7H2O 45.36 %, CoSO4·7H2O 44.86 %.
#[test]
fn what_the_mass_does_not_decide_is_said() {
    let list = ["ZnSO4·7H2O", "NiSO4·7H2O", "FeSO4·7H2O", "CoSO4·7H2O"];
    let found = among("44.9", &list);
    assert!(found.undecided());
    assert_eq!(codes(&found), ["undecided", "same_water"]);
    let text = found.notes()[1].text();
    assert!(
        text.contains("NiSO4·7H2O (44.90 %)") && text.contains("CoSO4·7H2O (44.86 %)"),
        "{text}"
    );
    // The most severe of the likely ones is first.
    let cautions = found.cautions();
    let first = cautions[0].text();
    assert!(
        first.contains("nickel") || first.contains("cobalt"),
        "{first}"
    );
}

#[test]
fn a_formula_in_two_spellings_stays_undecided() {
    let found = among("36.08", &["CuSO4·5H2O", "[Cu(H2O)4]SO4·H2O", "CuSO4.5H2O"]);
    assert_eq!(ranking(&found), ["CuSO4·5H2O", "[Cu(H2O)4]SO4·H2O"]);
    assert_eq!(found.matches()[0].probability(), 0.5);
    assert_eq!(codes(&found), ["listed_twice", "undecided", "same_water"]);
}

#[test]
fn a_percentage_that_nothing_has_is_said() {
    let found = among("5", &["MgSO4·7H2O", "CuSO4·5H2O"]);
    assert!(!found.undecided());
    assert_eq!(codes(&found), ["none_fits"]);
    let text = found.notes()[0].text();
    assert!(
        text.contains("CuSO4·5H2O") && text.contains("36.08 %"),
        "{text}"
    );
}

#[test]
fn what_is_refused() {
    let observed = Weighings::percent_water("36.1".parse().unwrap());
    let code = |method: Method, list: &[&str], observed: &Weighings| {
        let found = method.identify_among(formulas(list), observed);
        found.unwrap_err().code()
    };
    assert_eq!(code(Method::new(), &[], &observed), "out_of_range");
    assert_eq!(code(Method::new(), &["CuSO4"], &observed), "bad_request");
    assert_eq!(
        code(Method::new(), &["CuSO4·xH2O"], &observed),
        "unknown_degree"
    );
    let dry = Method::new().residue(&formulas(&["CuSO4·H2O"])[0]).unwrap();
    assert_eq!(code(dry, &["CuSO4·5H2O"], &observed), "bad_request");
    let too_wet = Weighings::percent_water("100".parse().unwrap());
    assert_eq!(
        code(Method::new(), &["CuSO4·5H2O"], &too_wet),
        "impossible_masses"
    );
}

/// Every hydrate of the catalogue is among the likely ones for its own percentage.
#[test]
fn every_known_hydrate_finds_itself() {
    let all = Method::new()
        .identify(&Weighings::percent_water("50.00".parse().unwrap()))
        .unwrap();
    assert!(all.matches().len() > 250, "{}", all.matches().len());
    let sum: f64 = all.matches().iter().map(HydrateMatch::probability).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    for (index, one) in all.matches().iter().enumerate().step_by(7) {
        let percent = one
            .expected_percent_water()
            .to_places(4, Default::default());
        let observed = Weighings::percent_water(percent.to_string().parse().unwrap());
        let found = Method::new().identify(&observed).unwrap();
        let likely = found.likely().iter();
        let first = &found.matches()[0];
        assert!(first.z().abs() < 0.01, "{index}: {first:?}");
        assert!(
            likely.clone().any(|other| other.formula() == one.formula()),
            "{}",
            one.formula()
        );
    }
}
