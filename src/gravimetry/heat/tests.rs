//! Heats of hydration, worked out by hand.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use super::HeatOfHydration;
use crate::element::AtomicWeights;
use crate::text::Note;

fn of(hydrate: &str) -> HeatOfHydration {
    HeatOfHydration::of(&hydrate.parse().unwrap(), &AtomicWeights::default()).unwrap()
}

fn sample(hydrate: &str, mass: &str, water: &str) -> HeatOfHydration {
    let dry = of(hydrate).mass(mass.parse().unwrap()).unwrap();
    dry.water_mass(water.parse().unwrap()).unwrap()
}

fn codes(notes: &[Note]) -> Vec<&str> {
    notes.iter().map(Note::code).collect()
}

/// The enthalpies of formation are those of `hydrate_thermochemistry.csv`.
#[test]
fn enthalpies_by_hand() {
    for (hydrate, kilojoules) in [
        // −2279.65 + 771.36 + 5·285.83.
        ("CuSO4·5H2O", "-79.14"),
        // −1460.13 + 858.6 + 2·285.83.
        ("BaCl2·2H2O", "-29.87"),
        // −4081.32 + 1130.68 + 10·285.83.
        ("Na2CO3·10H2O", "-92.34"),
        // −4327.26 + 1387.08 + 10·285.83.
        ("Na2SO4·10H2O", "-81.88"),
        // −1304.49 + 982.8 + 285.83.
        ("ZnSO4·H2O", "-35.86"),
        // −1574.65 + 1434.11 + 285.83/2.
        ("CaSO4·0.5H2O", "2.375"),
        // −2022.63 + 1434.11 + 2·285.83.
        ("CaSO4·2H2O", "-16.86"),
    ] {
        let heat = of(hydrate);
        assert_eq!(heat.enthalpy().unwrap().to_plain(), kilojoules, "{hydrate}");
        assert!(heat.source().unwrap().starts_with("D. D. Wagman"));
    }
}

/// (−5188.2 + 3·933.28 + 8·285.83)/3 = −101.72/3.
#[test]
fn a_double_formula_counts_for_one_unit() {
    let heat = of("3CdSO4·8H2O");
    assert_eq!(format!("{}", heat.enthalpy().unwrap()), "-2543/75");
    assert_eq!(heat.equation(), "CdSO4(s) + 8/3H2O(l) -> CdSO4·8/3H2O(s)");
    assert_eq!(
        of("ZnSO4·H2O").equation(),
        "ZnSO4(s) + H2O(l) -> ZnSO4·H2O(s)"
    );
    assert_eq!(
        of("ZnSO4·H2O(s)").equation(),
        "ZnSO4(s) + H2O(l) -> ZnSO4·H2O(s)"
    );
}

/// MgSO4·7H2O differs between the tables by more than half a kilojoule.
#[test]
fn without_both_enthalpies_nothing_is_estimated() {
    let heat = sample("MgSO4·7H2O", "5.00", "20");
    assert_eq!(
        (heat.enthalpy(), heat.heat(), heat.source()),
        (None, None, None)
    );
    assert_eq!(heat.temperature_rise(), None);
    assert_eq!(codes(&heat.notes()), ["not_verified"]);
    let notes = heat.notes();
    let text = notes[0].text();
    assert!(
        text.contains("MgSO4·7H2O") && !text.contains("MgSO4 and"),
        "{text}"
    );
    // 5.00 g · 7 · 18.015/120.361.
    assert_eq!(format!("{:.4}", heat.restoring_water().unwrap()), "5.2386");
    assert_eq!(codes(&of("XeF4·H2O").notes()), ["not_verified"]);
}

/// Of 15.9602 g, a tenth of a mole: 7914 J, with 24.97 g of hydrate and 90.99 g of excess water. A mole of the
/// hydrate takes up 26.0 + 22.6 + 9·16.7 + 10·9.6 = 294.9 J/K by Kopp's rule, and a gram of water 4.18 J/K (both
/// from memory).
#[test]
fn the_rise_of_temperature_by_hand() {
    let heat = sample("CuSO4·5H2O", "15.9602", "100.0");
    let kelvin = 7914.0 / (29.49 + 4.18 * (100.0 - 9.0075));
    let rise = heat.temperature_rise().unwrap().to_f64();
    assert!((rise - kelvin).abs() < 0.01, "{rise} and {kelvin}");
    assert_eq!(codes(&heat.notes()), ["estimate"]);
    // Half a unit of the last place is enough.
    let just = sample("CuSO4·5H2O", "15.9602", "9.01");
    assert_eq!(codes(&just.notes()), ["estimate", "water_boils"]);
    let less = sample("CuSO4·5H2O", "15.9602", "8.9");
    assert_eq!(less.temperature_rise(), None);
    assert_eq!(codes(&less.notes()), ["too_little_water"]);
    assert!(less.heat().is_some());
    // 79140 J of a mole would warm its hydrate by 268 K, but the water boils before.
    let no_water = of("CuSO4·5H2O").mass("15.9602".parse().unwrap()).unwrap();
    assert_eq!(
        (just.temperature_rise(), no_water.temperature_rise()),
        (None, None)
    );
    assert_eq!(
        codes(&no_water.notes()),
        ["just_enough_water", "estimate", "water_boils"]
    );
    let cautions = heat.cautions();
    let cautions = codes(&cautions);
    assert!(cautions.contains(&"water_back") && cautions.contains(&"eye_protection"));
}

/// The tables mean anhydrite, the stable form, and not what gentle heating of gypsum leaves.
#[test]
fn an_uptake_of_heat_is_said() {
    let heat = sample("CaSO4·0.5H2O", "13.6", "100");
    assert!(heat.heat().unwrap().is_positive());
    assert_eq!(codes(&heat.notes()), ["takes_up_heat", "estimate"]);
    assert!(heat.temperature_rise().unwrap().is_negative());
}

#[test]
fn no_rise_is_estimated_for_what_reacts_violently_with_water() {
    let heat = sample("AlCl3·6H2O", "5.00", "20");
    assert!(heat.heat().is_some());
    assert_eq!(heat.temperature_rise(), None);
    assert_eq!(codes(&heat.notes()), ["reacts_with_water"]);
    let cautions = heat.cautions();
    assert!(!codes(&cautions).contains(&"water_back"));
}

#[test]
fn what_must_not_be_heated_has_cautions_for_adding_water() {
    let cautions = of("CdSO4·8/3H2O").cautions();
    let codes = codes(&cautions);
    assert_eq!(codes[0], "forbidden_salt");
    let at = codes
        .iter()
        .position(|code| *code == "eye_protection")
        .unwrap();
    assert_eq!(codes[at + 1], "water_back");
    assert!(!codes.contains(&"gentle_then_strong"));
}

#[test]
fn what_is_refused() {
    let weights = AtomicWeights::default();
    for (text, code) in [
        ("CuSO4", "bad_request"),
        ("CuSO4·5H2O(aq)", "bad_request"),
        ("CuSO4·xH2O", "unknown_degree"),
        ("[Cu(H2O)4]SO4·H2O", "bad_request"),
    ] {
        let error = HeatOfHydration::of(&text.parse().unwrap(), &weights).unwrap_err();
        assert_eq!(error.code(), code, "{text}");
    }
    let azide = HeatOfHydration::of(&"NaN3".parse().unwrap(), &weights).unwrap_err();
    assert!(azide.to_string().contains("must not be heated"), "{azide}");
    let zero = of("CuSO4·5H2O").mass("0".parse().unwrap()).unwrap_err();
    assert_eq!(zero.code(), "out_of_range");
}
