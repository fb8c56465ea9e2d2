//! The operation `stand_in`: what it answers, and how it refuses.

use serde_json::{Value, json};

use crate::filter::reply;
use crate::operation::{self, codes, merged};

fn request(with: &Value) -> Value {
    let usual = json!({
        "op": "stand_in", "issued": "MgSO4·7H2O", "seed": 3, "readability": "0.001",
    });
    merged(usual, with)
}

#[track_caller]
fn answered(with: &Value) -> Value {
    operation::answered(&request(with))
}

/// The code, the field, and part of the help.
#[track_caller]
fn refused(with: &Value, code: &str, field: &str, help: &str) {
    operation::refused(&request(with), code, Some(field), help);
}

#[test]
fn readings_say_what_they_are() {
    let result = answered(&json!({}));
    assert_eq!(result["stand_in"], true);
    assert_eq!(result["seed"], 3);
    assert_eq!(result["generator"], "effloresce stand-in 2 (ChaCha8)");
    assert_eq!(result["issued"], "MgSO4·7H2O");
    assert_eq!(result["readability"], "0.001");
    assert_eq!(result["fault"], Value::Null);
    assert_eq!(result["notes"], json!([]));
    // What a balance shows: three places each.
    let mut readings = vec![&result["crucible"], &result["crucible_hydrate"]];
    readings.extend(result["heated"].as_array().unwrap());
    assert!(readings.len() >= 4, "{result}");
    for reading in readings {
        let (_, places) = reading.as_str().unwrap().split_once('.').unwrap();
        assert_eq!(places.len(), 3, "{result}");
    }
}

/// The readings can be sent on as they are.
#[test]
fn readings_are_readings_of_the_contract() {
    let result = answered(&json!({"fault": "stopped_at_lower_hydrate", "issued": "CuSO4·5H2O"}));
    assert_eq!(result["fault"], "stopped_at_lower_hydrate");
    let reply = reply(&json!({
        "op": "dehydration", "salt": "CuSO4", "readability": result["readability"],
        "crucible": result["crucible"], "crucible_hydrate": result["crucible_hydrate"],
        "heated": result["heated"],
    }));
    assert_eq!(reply["result"]["constant_mass"]["reached"], true, "{reply}");
    assert_eq!(
        codes(&reply["result"]["warnings"]),
        ["lower_hydrate"],
        "{reply}"
    );
}

#[test]
fn the_same_request_gives_the_same_readings() {
    assert_eq!(answered(&json!({})), answered(&json!({"seed": "3"})));
    assert_ne!(answered(&json!({})), answered(&json!({"seed": 4})));
    let most = answered(&json!({"seed": "18446744073709551615"}));
    assert_eq!(most, answered(&json!({"seed": u64::MAX})));
    assert_eq!(most["seed"], "18446744073709551615");
    let heavy = answered(&json!({"sample_mass": "10 g"}));
    let mass = |name: &str| heavy[name].as_str().unwrap().parse::<f64>().unwrap();
    let taken = mass("crucible_hydrate") - mass("crucible");
    assert!((9.4..10.6).contains(&taken), "{heavy}");
}

#[test]
fn wrong_input_is_told_by_its_field() {
    refused(
        &json!({"fault": "solid_lots"}),
        "out_of_range",
        "fault",
        "did you mean `solid_lost`?",
    );
    refused(
        &json!({"fault": "soot"}),
        "out_of_range",
        "fault",
        "`water_left`, ",
    );
    refused(&json!({"seed": -1}), "out_of_range", "seed", "64 bits");
    refused(
        &json!({"seed": "18446744073709551616"}),
        "out_of_range",
        "seed",
        "64 bits",
    );
    refused(&json!({"seed": 1.5}), "bad_number", "seed", "plain digits");
    refused(&json!({"seed": ""}), "bad_number", "seed", "plain digits");
    refused(&json!({"seed": [3]}), "bad_request", "seed", "");
    refused(&json!({"seed": null}), "missing_field", "seed", "");
    refused(
        &json!({"readability": "0"}),
        "out_of_range",
        "readability",
        "such as 0.001",
    );
    refused(
        &json!({"readability": null}),
        "missing_field",
        "readability",
        "",
    );
    refused(
        &json!({"issued": "MgSO4"}),
        "bad_request",
        "issued",
        "such as MgSO4·7H2O",
    );
    refused(
        &json!({"issued": "MgSO4·xH2O"}),
        "unknown_degree",
        "issued",
        "",
    );
    refused(
        &json!({"readability": "0.1", "sample_mass": "1.0"}),
        "out_of_range",
        "sample_mass",
        "take at least",
    );
    refused(
        &json!({"sample_mass": "5000"}),
        "out_of_range",
        "sample_mass",
        "1000 g",
    );
    let whole = json!({"issued": "BaCl2·2H2O", "fault": "decomposed"});
    refused(&whole, "fault_not_shown", "fault", "choose another fault");
    let reply = reply(&request(&json!({"faults": "solid_lost"})));
    assert_eq!(reply["error"]["code"], "unknown_field", "{reply}");
}
