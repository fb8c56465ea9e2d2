//! The operation `plan`: what it answers, and how it refuses.

use serde_json::{Value, json};

use crate::filter::reply;
use crate::operation::{self, codes, merged};

fn request(with: &Value) -> Value {
    merged(json!({"op": "plan", "readability": "0.01"}), with)
}

#[track_caller]
fn answered(with: &Value) -> Value {
    operation::answered(&request(with))
}

/// 246.466 g of hydrate leave 120.361 g. With readings uncertain by 0.01/√12 g, twice that of the water is
/// 1 % of it from 0.8165 g of water on, which is in 1.596 g of hydrate. In 0.3962 g, twice that of x is 0.5, half
/// the distance to six and to eight waters. A class weighs out up to half as much again.
#[test]
fn the_masses_of_a_class() {
    let plan = answered(&json!({"issued": "MgSO4·7H2O", "benches": 12}));
    assert_eq!(plan["issued"], "MgSO4·7H2O");
    assert_eq!(plan["weigh_between"], json!(["1.60", "2.40"]));
    let limits = json!({"resolution": "0.3962", "relative": "1.596", "practical": "1"});
    assert_eq!(plan["limits"], limits);
    let [residue, loss] = ["expected_residue", "expected_loss"].map(|name| {
        let mass = plan[name].as_str().unwrap();
        mass.parse::<f64>().unwrap()
    });
    assert!(
        (residue - 1.6 * 120.361 / 246.466).abs() < 1e-12,
        "{residue}"
    );
    assert!((residue + loss - 1.6).abs() < 1e-12, "{loss}");
    // 12 × 2.40 g and a fifth of it.
    assert_eq!(plan["total_mass"], "34.56");
    assert_eq!(codes(&plan["reasons"]), ["by_relative"]);
    let balances = plan["balances"].as_array().unwrap();
    let steps: Vec<&Value> = balances.iter().map(|of| &of["readability"]).collect();
    assert_eq!(steps, ["0.1", "0.01", "0.001", "0.0001"]);
    assert_eq!(balances[2]["resolution"], "0.03962");
    assert_eq!(
        plan["cautions"].as_array().unwrap().last().unwrap()["code"],
        "who_decides"
    );
}

#[test]
fn a_salt_that_does_not_suit_says_so_first() {
    let plan = answered(&json!({"issued": "Na2Cr2O7·2H2O"}));
    assert_eq!(
        (&plan["suitable"], &plan["hazard"]),
        (&json!(false), &json!("forbidden"))
    );
    assert_eq!(plan["cautions"][0]["code"], "forbidden_salt");
    assert_eq!(codes(&plan["reasons"]), ["forbidden_salt", "by_relative"]);
    let plan = answered(&json!({"issued": "MgSO4·7H2O"}));
    assert_eq!(
        (&plan["suitable"], &plan["hazard"]),
        (&json!(true), &json!("ordinary"))
    );
}

#[test]
fn spare_and_other_balances() {
    let plan = answered(&json!({
        "issued": "MgSO4·7H2O", "readability": "0.02", "benches": 10, "spare": "50 %",
    }));
    // Twice 1.596 g, in steps of 0.02 g.
    assert_eq!(plan["weigh_between"], json!(["3.20", "4.80"]));
    // 10 × 4.80 g and half of it.
    assert_eq!(plan["total_mass"], "72");
    assert_eq!(plan["balances"].as_array().unwrap().len(), 5);
    let plan = answered(&json!({"issued": "MgSO4·7H2O"}));
    assert_eq!(plan["total_mass"], Value::Null);
}

/// At 150 °C a mole of CuSO4·5H2O loses four moles of water: 72.06 g of 249.677 g.
#[test]
fn a_class_that_heats_to_a_lower_hydrate() {
    let plan = answered(&json!({"issued": "CuSO4·5H2O", "residue": "CuSO4·H2O"}));
    let water = 2.0 * 2.0_f64.sqrt() / 12.0_f64.sqrt();
    let relative = water * 249.677 / 72.06;
    let got: f64 = plan["limits"]["relative"]
        .as_str()
        .unwrap()
        .parse()
        .unwrap();
    assert!((got - relative).abs() < 0.0005, "{got} {relative}");
}

#[test]
fn the_commonest_hydrate_of_a_salt() {
    let plan = answered(&json!({"salt": "MgSO4"}));
    assert_eq!(plan["issued"], "MgSO4·7H2O");
    assert_eq!(codes(&plan["reasons"]), ["highest_known", "by_relative"]);
    let plan = answered(&json!({"salt": "MnSO4"}));
    assert_eq!(plan["issued"], "MnSO4·H2O");
    assert_eq!(plan["reasons"][0]["code"], "commonest");
    let source = plan["reasons"][0]["values"]["source"].as_str().unwrap();
    assert!(source.contains("Pharmacopeia"), "{source}");
}

/// A class that scatters by 1 % of the water is never certain to 1 % at a coverage of 2.
#[test]
fn a_limit_that_no_mass_reaches_is_null() {
    let plan = answered(&json!({"issued": "MgSO4·7H2O", "repeatability": "0.01"}));
    assert_eq!(plan["limits"]["relative"], Value::Null);
    assert_eq!(plan["weigh_between"], json!(["1.00", "1.50"]));
    assert_eq!(codes(&plan["reasons"]), ["no_relative", "by_practical"]);
    let plan = answered(&json!({"issued": "MgSO4·7H2O", "repeatability": "0.05"}));
    assert_eq!(plan["limits"]["resolution"], Value::Null);
    let reasons = ["no_resolution", "no_relative", "by_practical"];
    assert_eq!(codes(&plan["reasons"]), reasons);
}

#[test]
fn wrong_input_is_told_by_its_field() {
    for (with, code, field, help) in [
        (
            json!({}),
            "missing_field",
            "issued",
            "give `issued`, or `salt`",
        ),
        (
            json!({"issued": "MgSO4"}),
            "bad_request",
            "issued",
            "such as MgSO4·7H2O",
        ),
        (
            json!({"issued": "MgSO4·xH2O"}),
            "unknown_degree",
            "issued",
            "such as MgSO4·7H2O",
        ),
        (
            json!({"issued": "TcSO4·7H2O"}),
            "no_standard_weight",
            "issued",
            "weight of Tc",
        ),
        (
            json!({"salt": "MgSO4·7H2O"}),
            "bad_request",
            "salt",
            "give the anhydrous salt, MgSO4",
        ),
        (
            json!({"salt": "NaCl"}),
            "bad_request",
            "salt",
            "give the hydrate that you have",
        ),
        (
            json!({"salt": "CuSO4", "issued": "CuSO4·5H2O"}),
            "bad_request",
            "salt",
            "give `issued`",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "benches": 0}),
            "out_of_range",
            "benches",
            "between 1 and 10000",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "benches": "12"}),
            "bad_request",
            "benches",
            "without quotes",
        ),
        (json!({"issued": 5}), "bad_request", "issued", "in quotes"),
        (
            json!({"issued": "CuSO4·5H2O", "strict": "no"}),
            "bad_request",
            "strict",
            "true or false",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "spare": "-1"}),
            "out_of_range",
            "spare",
            "0 to 1000",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "readability": "0"}),
            "out_of_range",
            "readability",
            "0.001",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "readability": "1e29"}),
            "out_of_range",
            "readability",
            "at most 1000 g",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "readability": null}),
            "missing_field",
            "readability",
            "add `readability`, such as \"0.001\"",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "residue": "MgSO4"}),
            "bad_request",
            "residue",
            "lower hydrate",
        ),
        (
            json!({"issued": "CuSO4·5H2O", "coverage": "0"}),
            "out_of_range",
            "coverage",
            "usually 2",
        ),
    ] {
        operation::refused(&request(&with), code, Some(field), help);
    }
}

/// A name is read in these operations as it is in a sheet.
#[test]
fn a_hydrate_may_be_given_by_its_name() {
    let readings = r#""crucible":"21.352","crucible_hydrate":"24.018""#;
    let named = |name: &str| {
        [
            format!(r#"{{"op":"check","issued":"{name}",{readings},"heated":[]}}"#),
            format!(r#"{{"op":"plan","issued":"{name}","readability":"0.01"}}"#),
            format!(r#"{{"op":"heat","hydrate":"{name}","mass":"5.00"}}"#),
            format!(r#"{{"op":"identify","among":["{name}"],"percent_water":"36.1"}}"#),
        ]
        .map(|line| reply(&serde_json::from_str(&line).unwrap()))
    };
    let by_name = named("copper(II) sulfate pentahydrate");
    assert_eq!(by_name[0]["ok"], true, "{}", by_name[0]);
    assert_eq!(by_name, named("CuSO4·5H2O"));
    // The charge of its metal is assumed, with a note.
    let assumed = named("copper sulfate pentahydrate").map(|reply| reply.to_string());
    for reply in assumed {
        assert!(reply.contains("assumed_charge"), "{reply}");
    }
    for reply in named("cobalt chloride") {
        let error = &reply["error"];
        assert_eq!(error["code"], "bad_name", "{reply}");
        let help = error["help"].as_str().unwrap();
        assert!(help.contains("CoCl2·6H2O"), "{reply}");
    }
    let plan = answered(&json!({"salt": "magnesium sulfate"}));
    assert_eq!(plan["issued"], "MgSO4·7H2O");
}
