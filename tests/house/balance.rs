//! The operation `balance`: wrong requests, reasons, a basis, and replies of a bounded length.

use serde_json::{Value, json};

use crate::contract::{differences, well_formed};
use crate::filter::reply;

fn ask(equation: &str, fixed: &Value) -> Value {
    reply(&json!({"op": "balance", "equation": equation, "fixed": fixed}))
}

#[track_caller]
fn fails(mut request: Value, code: &str, field: &str) -> Value {
    request["op"] = json!("balance");
    let reply = reply(&request);
    assert!(well_formed(&reply), "{reply}");
    assert_eq!(reply["ok"], false, "{reply}");
    let error = reply["error"].clone();
    assert_eq!(
        (&error["code"], &error["field"]),
        (&json!(code), &json!(field)),
        "{reply}"
    );
    error
}

#[track_caller]
fn shows(reply: &Value, expected: &Value) {
    let none: [String; 0] = [];
    assert_eq!(differences(expected, reply), none, "{reply}");
}

#[test]
fn wrong_requests() {
    let water = "H2 + O2 -> H2O";
    for (request, code, field) in [
        (json!({}), "missing_field", "equation"),
        (json!({"equation": null}), "missing_field", "equation"),
        (json!({"equation": 7}), "bad_request", "equation"),
        (json!({"equation": ["H2", "O2"]}), "bad_request", "equation"),
        (json!({"equation": ""}), "bad_equation", "equation"),
        (json!({"equation": "H2 + O2"}), "bad_equation", "equation"),
        (
            json!({"equation": "H2 + O2 -> "}),
            "bad_equation",
            "equation",
        ),
        (
            json!({"equation": "H2 + -> H2O"}),
            "bad_equation",
            "equation",
        ),
        (
            json!({"equation": "H2 -> H -> H2"}),
            "bad_equation",
            "equation",
        ),
        (
            json!({"equation": "H2 + Xx -> HXx"}),
            "unknown_element",
            "equation",
        ),
        (
            json!({"equation": "CuS04 -> Cu"}),
            "bad_formula",
            "equation",
        ),
        (
            json!({"equation": "SO42- + Ba2+ -> BaSO4"}),
            "ambiguous_notation",
            "equation",
        ),
        (
            json!({"equation": "Ca(OH -> CaO"}),
            "unbalanced_bracket",
            "equation",
        ),
        (
            json!({"equation": "CuSO4·xH2O -> CuSO4 + H2O"}),
            "unknown_degree",
            "equation",
        ),
        (
            json!({"equation": " ".repeat(100_000)}),
            "too_large",
            "equation",
        ),
        (
            json!({"equation": vec!["H2"; 100].join(" + ") + " -> H2"}),
            "too_large",
            "equation",
        ),
        (
            json!({"equation": water, "equaton": water}),
            "unknown_field",
            "equaton",
        ),
        (
            json!({"equation": water, "strict": 1}),
            "bad_request",
            "strict",
        ),
        (
            json!({"equation": water, "weights": {"edition": "1921"}}),
            "out_of_range",
            "weights.edition",
        ),
        (
            json!({"equation": water, "fixed": ["H2"]}),
            "bad_request",
            "fixed",
        ),
        (
            json!({"equation": water, "fixed": {"H2": true}}),
            "bad_request",
            "fixed.H2",
        ),
        (
            json!({"equation": water, "fixed": {"H2": "two"}}),
            "bad_number",
            "fixed.H2",
        ),
        (
            json!({"equation": water, "fixed": {"H2": 0}}),
            "bad_request",
            "fixed.H2",
        ),
        (
            json!({"equation": water, "fixed": {"H2": -2}}),
            "bad_request",
            "fixed.H2",
        ),
        (
            json!({"equation": water, "fixed": {"H2": "1.5"}}),
            "bad_request",
            "fixed.H2",
        ),
        (
            json!({"equation": water, "fixed": {"N2": 2}}),
            "bad_request",
            "fixed.N2",
        ),
        (
            json!({"equation": water, "fixed": {"H2Xx": 2}}),
            "unknown_element",
            "fixed.H2Xx",
        ),
        (
            json!({"equation": water, "fixed": {"H2O": 2, "H₂O": 2}}),
            "bad_request",
            "fixed.H₂O",
        ),
        (
            json!({"equation": "H2O -> H2O", "fixed": {"H2O": 2}}),
            "bad_request",
            "fixed.H2O",
        ),
        (
            json!({"equation": water, "fixed": {"H2": 2, "O2": 2}}),
            "no_balance",
            "fixed",
        ),
        (
            json!({"equation": water, "fixed": {"H2O": 1}}),
            "no_balance",
            "fixed",
        ),
    ] {
        let error = fails(request.clone(), code, field);
        let spoken = code != "missing_field" && code != "bad_request" && code != "out_of_range";
        if spoken && field == "equation" {
            assert!(error["help"].is_string(), "{request}: {error}");
        }
    }
    // Where in the equation's own text, in bytes.
    let error = fails(
        json!({"equation": "½O₂ + Xx -> H2"}),
        "unknown_element",
        "equation",
    );
    assert_eq!(error["span"], json!([9, 11]));
}

#[test]
fn what_is_answered() {
    let found = ask("2CuSO4·5H2O -> CuSO4 + 9H2O", &Value::Null);
    shows(
        &found,
        &json!({"ok": true, "result": {
            "balanced": "CuSO4·5H2O -> CuSO4 + 5H2O",
            "coefficients": [1, 1, 5],
            "species": ["CuSO4·5H2O", "CuSO4", "H2O"],
            "as_written": {"balanced": false, "off": [
                {"what": "Cu", "reactants": "2", "products": "1"},
                {"what": "S", "reactants": "2", "products": "1"},
                {"what": "O", "reactants": "18", "products": "13"},
                {"what": "H", "reactants": "20", "products": "18"},
            ]},
            "notes": [{"code": "coefficient_of_all"}],
        }}),
    );
    // Nothing written, nothing to check; given coefficients are kept.
    let found = ask("H2 + O2 -> H2O", &json!({"O2": "3"}));
    let result = json!({"coefficients": [6, 3, 6], "as_written": null, "notes": []});
    shows(&found, &json!({"ok": true, "result": result}));
    // The other way round.
    let found = ask("H2O -> H2 + O2", &Value::Null);
    shows(&found, &json!({"result": {"coefficients": [2, 2, 1]}}));
    // Beyond 64 bits a coefficient is still a whole number of JSON.
    let found = ask("C999999937H + O2 -> CO2 + H999999929", &Value::Null);
    let whole = found["result"]["coefficients"].to_string();
    assert!(
        found["ok"] == true && whole.starts_with("[999999929,"),
        "{found}"
    );
}

#[test]
fn why_there_is_none_or_several() {
    let error = |equation: &str, fixed: &Value| ask(equation, fixed)["error"].clone();
    let none = error("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", &Value::Null);
    shows(
        &none,
        &json!({"code": "no_balance", "field": "equation", "reasons": [
            {"code": "one_side_only", "values": {"what": "O", "side": "reactants"}},
            {"code": "add", "values": {"reactants": "H^+", "products": "H2O",
                "equation": "MnO4^- + 5Fe^2+ + 8H^+ -> Mn^2+ + 5Fe^3+ + 4H2O"}},
            {"code": "add", "values": {"reactants": "H2O", "products": "OH^-"}},
        ]}),
    );
    let wrong = error("H2O2 + H2O -> O2", &Value::Null);
    let reasons = wrong["reasons"].as_array().unwrap();
    let moved = reasons.iter().find(|reason| reason["code"] == "wrong_side");
    let values = json!({"species": "H2O", "side": "products"});
    assert_eq!(moved.unwrap()["values"], values);
    let broken = error("H2 + O2 -> H2O", &json!({"H2O": 1}));
    let values = json!({"species": "O2", "coefficient": "0.5", "times": "2"});
    shows(
        &broken,
        &json!({"reasons": [{"code": "fraction", "values": values}]}),
    );
    let many = error("C + O2 -> CO + CO2", &Value::Null);
    shows(
        &many,
        &json!({"code": "many_balances", "basis": [[2, 1, 2, 0], [1, 1, 0, 1]]}),
    );
    assert!(many.get("reasons").is_none(), "{many}");
    let chosen = ask("C + O2 -> CO + CO2", &json!({"CO": 2, "CO2": 1}));
    shows(&chosen, &json!({"result": {"coefficients": [3, 2, 2, 1]}}));
    // A species on both sides stays two, and the reason says so.
    for (equation, code) in [
        ("H2O + H2 + O2 -> H2O", "many_balances"),
        ("H2O + Al -> H2O", "no_balance"),
    ] {
        let error = error(equation, &Value::Null);
        assert_eq!(error["code"], code);
        let reasons = error["reasons"].as_array().into_iter().flatten();
        let mut both = reasons.filter(|reason| reason["code"] == "both_sides");
        assert_eq!(both.next().unwrap()["values"]["species"], "H2O", "{error}");
    }
}

/// Twenty thousand bytes more than the request is the most, whatever is asked.
#[test]
fn a_reply_is_not_much_longer_than_its_request() {
    let elements = [
        "Na", "Mg", "Al", "Si", "Cl", "Ca", "Cr", "Mn", "Fe", "Co", "Ni", "Cu",
    ];
    let each = |n: usize| format!("{}{}T{}", elements[n % 12], n + 1, elements[(n / 3) % 12]);
    let sides = |left: usize, all: usize| {
        let join = |from: usize, to: usize| (from..to).map(each).collect::<Vec<_>>().join(" + ");
        format!("{} -> {}", join(0, left), join(left, all))
    };
    let sodium = |from: usize, to: usize| {
        let each = (from..to).map(|n| format!("Na{n}"));
        each.collect::<Vec<_>>().join(" + ")
    };
    let many = format!("{} -> {}", sodium(101, 131), sodium(131, 161));
    let one_side = sides(59, 60);
    let heavy = vec!["T".repeat(120); 60].join(" + ") + " -> C";
    let mine = vec!["T".repeat(120); 32].join(" + ");
    let both = format!("{mine} -> {mine}");
    let found = [many, one_side, heavy, both].map(|equation| {
        let request = json!({"op": "balance", "equation": equation});
        let found = reply(&request);
        assert!(well_formed(&found), "{found}");
        let (asked, told) = (request.to_string().len(), found.to_string().len());
        assert!(told <= asked + 20_000, "{asked}, {told}");
        found["error"]["code"].clone()
    });
    assert_eq!(
        found,
        ["many_balances", "no_balance", "no_balance", "many_balances"]
    );
}
