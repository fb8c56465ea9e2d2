//! The operation `heat`: what it answers, and how it refuses.

use serde_json::{Value, json};

use crate::operation::{self, codes, merged};

fn request(with: &Value) -> Value {
    merged(json!({"op": "heat"}), with)
}

#[track_caller]
fn answered(with: &Value) -> Value {
    operation::answered(&request(with))
}

/// 10.00 g are 0.06266 mol, which give off 4.958 kJ (−2279.65 + 771.36 + 5·285.83 = −79.14 for a mole) and bind
/// 5.644 g of water. That warms 18.5 J/K of hydrate and 44.36 g of water: 4958/(18.5 + 4.18·44.36) = 24.3.
#[test]
fn a_sample_with_its_water() {
    let heat = answered(&json!({"hydrate": "CuSO4.5H2O", "mass": "10.00", "water_mass": "50.0"}));
    assert_eq!(heat["equation"], "CuSO4(s) + 5H2O(l) -> CuSO4·5H2O(s)");
    assert_eq!(heat["enthalpy"], "-79.14");
    assert!(
        heat["heat"].as_str().unwrap().starts_with("-4.958"),
        "{heat}"
    );
    assert!(
        heat["restoring_water"]
            .as_str()
            .unwrap()
            .starts_with("5.643"),
        "{heat}"
    );
    assert_eq!(heat["temperature_rise"], "24");
    assert_eq!(codes(&heat["notes"]), ["estimate"]);
    let cautions = codes(&heat["cautions"]);
    assert!(cautions.contains(&"water_back") && cautions.contains(&"eye_protection"));
}

#[test]
fn what_does_not_apply_is_null() {
    // −4081.32 + 1130.68 + 10·285.83.
    let heat = answered(&json!({"hydrate": "Na2CO3·10H2O"}));
    assert_eq!(heat["enthalpy"], "-92.34");
    for field in ["heat", "restoring_water", "temperature_rise"] {
        assert_eq!(heat[field], Value::Null, "{field}");
    }
    let unknown = answered(&json!({"hydrate": "MgSO4·7H2O", "mass": "5.00"}));
    for field in ["enthalpy", "heat", "temperature_rise", "source"] {
        assert_eq!(unknown[field], Value::Null, "{field}");
    }
    assert_eq!(codes(&unknown["notes"]), ["not_verified"]);
}

#[test]
fn a_wrong_request_says_where() {
    for (with, code, field) in [
        (json!({}), "missing_field", "hydrate"),
        (json!({"hydrate": "CuSO4"}), "bad_request", "hydrate"),
        (
            json!({"hydrate": "CuSO4·xH2O"}),
            "unknown_degree",
            "hydrate",
        ),
        (
            json!({"hydrate": "CuSO4·5H2O", "water_mass": "3"}),
            "missing_field",
            "mass",
        ),
        (
            json!({"hydrate": "CuSO4·5H2O", "mass": "0"}),
            "out_of_range",
            "mass",
        ),
        (
            json!({"hydrate": "CuSO4·5H2O", "mass": "1", "water_mass": "-3"}),
            "out_of_range",
            "water_mass",
        ),
        (
            json!({"hydrate": "CuSO4·5H2O", "grams": "1"}),
            "unknown_field",
            "grams",
        ),
    ] {
        operation::refused(&request(&with), code, Some(field), "");
    }
}
