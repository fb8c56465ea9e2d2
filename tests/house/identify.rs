//! The operation `identify`: what it answers, and how it refuses.

use serde_json::{Value, json};

use crate::operation::{self, codes, merged};

fn request(with: &Value) -> Value {
    merged(json!({"op": "identify"}), with)
}

#[track_caller]
fn answered(with: &Value) -> Value {
    operation::answered(&request(with))
}

#[test]
fn the_catalogue_is_ranked() {
    let found = answered(&json!({"percent_water": "50"}));
    let matches = found["matches"].as_array().unwrap();
    assert_eq!(matches.len(), 100);
    assert!(
        found["left_out"].as_u64().unwrap() > 100,
        "{}",
        found["left_out"]
    );
    assert_eq!(matches[0]["formula"], "Na2SO3·7H2O");
    assert_eq!(found["undecided"], true);
    assert_eq!(codes(&found["warnings"]), ["undecided"]);
    assert_eq!(
        found["cautions"].as_array().unwrap().last().unwrap()["code"],
        "who_decides"
    );
}

#[test]
fn readings_are_taken_as_in_a_dehydration() {
    let among = json!(["MgSO4·7H2O", "Na2CO3·10H2O"]);
    let found = answered(&json!({"crucible": "21.352", "crucible_hydrate": "24.018",
        "heated": ["22.701", "22.656"], "among": among}));
    assert_eq!(found["matches"][0]["formula"], "MgSO4·7H2O");
    assert_eq!(found["undecided"], false);
    // 0.045 g are more than two steps of the balance.
    assert_eq!(codes(&found["warnings"]), ["not_constant"]);
    let numbers = answered(&json!({"percent_water": 51.2, "among": among}));
    assert_eq!(codes(&numbers["warnings"]), ["number_not_text"]);
}

#[test]
fn a_wrong_request_says_where() {
    let percent = |more: Value| merged(json!({"percent_water": "51.2"}), &more);
    for (with, code, field) in [
        (json!({}), "missing_field", Some("crucible")),
        (
            json!({"percent_water": "100"}),
            "impossible_masses",
            Some("percent_water"),
        ),
        (
            json!({"crucible": "-1", "crucible_hydrate": "24.018", "heated": ["22.655"]}),
            "impossible_masses",
            Some("crucible"),
        ),
        (
            json!({"crucible": "21.352", "crucible_hydrate": "24.018", "heated": ["-1", "22.655"]}),
            "impossible_masses",
            Some("heated[0]"),
        ),
        // Either of the two may be wrong.
        (
            json!({"crucible": "24.018", "crucible_hydrate": "21.352", "heated": ["22.655"]}),
            "impossible_masses",
            None,
        ),
        (
            percent(json!({"among": []})),
            "missing_field",
            Some("among"),
        ),
        (
            percent(json!({"among": "CuSO4·5H2O"})),
            "bad_request",
            Some("among"),
        ),
        (
            percent(json!({"among": ["CuSO4·5H2O", "CuSO4"]})),
            "bad_request",
            Some("among[1]"),
        ),
        (
            percent(json!({"among": ["CuSO4·xH2O"]})),
            "unknown_degree",
            Some("among[0]"),
        ),
        (
            percent(json!({"among": ["Xx·5H2O"]})),
            "unknown_element",
            Some("among[0]"),
        ),
        (
            percent(json!({"among": vec!["CuSO4·5H2O"; 101]})),
            "too_large",
            Some("among"),
        ),
        (
            percent(json!({"residue": "CuSO4·H2O"})),
            "unknown_field",
            Some("residue"),
        ),
    ] {
        operation::refused(&request(&with), code, field, "");
    }
}
