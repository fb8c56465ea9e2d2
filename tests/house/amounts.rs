//! Analyses and amounts in the filter: what is asked, what is refused, and where it says so.

use serde_json::json;

use crate::contract::differences;
use crate::envelope::{fails, failure};
use crate::filter::{replies, reply};

#[test]
fn an_analysis_is_read_part_by_part() {
    let line = |rest: &str| format!(r#"{{"op":"empirical",{rest}}}"#);
    for (rest, code, field) in [
        (r#""strict":true"#, "missing_field", Some("masses")),
        (r#""masses":null"#, "missing_field", Some("masses")),
        (r#""masses":[]"#, "bad_request", Some("masses")),
        (r#""masses":{}"#, "bad_request", None),
        (r#""masses":{"C":"12"}"#, "bad_request", None),
        (
            r#""masses":{"C":"12","Xx":"1"}"#,
            "unknown_element",
            Some("masses.Xx"),
        ),
        (
            r#""masses":{"C":"12","H":"a"}"#,
            "bad_number",
            Some("masses.H"),
        ),
        (
            r#""masses":{"C":"12","H":"4 %"}"#,
            "bad_number",
            Some("masses.H"),
        ),
        (
            r#""percent":{"C":"75","H":"25 g"}"#,
            "bad_number",
            Some("percent.H"),
        ),
        (r#""percent":{"C":"75","H":"2"}"#, "impossible_masses", None),
        (r#""masses":{"C":"12","H":"0"}"#, "impossible_masses", None),
        (
            r#""masses":{"C":"1"},"percent":{"H":"2"}"#,
            "bad_request",
            None,
        ),
        (r#""masses":{"Tc":"1","O":"1"}"#, "no_standard_weight", None),
        (
            r#""masses":{"C":"12","H":"4"},"molar_mass":"0"}"#,
            "bad_json",
            None,
        ),
        (
            r#""masses":{"C":"12","H":"4"},"molar_mass":"0""#,
            "out_of_range",
            Some("molar_mass"),
        ),
        (
            r#""masses":{"C":"12","H":"4"},"molarmass":"16""#,
            "unknown_field",
            Some("molarmass"),
        ),
        (
            r#""combustion":{"CO2":"1"}"#,
            "missing_field",
            Some("combustion.sample"),
        ),
        (
            r#""combustion":{"sample":"1","CO2":"1","by_diference":"O"}"#,
            "unknown_field",
            Some("combustion.by_diference"),
        ),
        (
            r#""combustion":{"sample":"1","CO2":"1","by_difference":"Ox"}"#,
            "unknown_degree",
            Some("combustion.by_difference"),
        ),
        (
            r#""combustion":{"sample":"1","CO2":"1","H2O":["1"]}"#,
            "bad_request",
            Some("combustion.H2O"),
        ),
        (
            r#""combustion":{"sample":"1","CO2":"1","HCl":"1"}"#,
            "bad_request",
            None,
        ),
        (
            r#""strict":true,"masses":{"CUSO4":"3.2","H2O":"1.8"}"#,
            "ambiguous_notation",
            Some("masses.CUSO4"),
        ),
    ] {
        fails(&line(rest), code, field);
    }
    let result = |rest: &str| {
        let reply = replies(line(rest) + "\n").remove(0);
        assert_eq!(reply["ok"], true, "{reply}");
        reply["result"].clone()
    };
    // Null is as good as left out; units may stand behind; nitrogen from another sample.
    let burnt = result(
        r#""combustion":{"sample":"100.0 mg","CO2":"181.3 mg","H2O":"46.4 mg","SO2":null,"by_difference":"O"},
           "percent":{"N":"28.85 %"},"molar_mass":"194.2""#
            .replace('\n', "")
            .as_str(),
    );
    let shown = json!({"formula": "C4H5N2O", "multiplier": 2, "molecular_formula": "C8H10N4O2",
        "ratios": {"C": "~4.000", "H": "~5.00", "N": "~2.000", "O": "1"}, "warnings": []});
    assert_eq!(differences(&shown, &burnt), [""; 0]);
    // Nothing is guessed, and doubts stand beside the notes of the texts.
    let alloy = result(r#""masses":{"Ar":"1.000","Pb":"1.91"},"molar_mass":"40""#);
    let shown = json!({"formula": null, "multiplier": null, "molecular_formula": null,
        "residual": null, "warnings": [{"code": "no_whole_numbers", "values": {"multiplier": "4"}}]});
    assert_eq!(differences(&shown, &alloy), [""; 0]);
    let noted = result(r#""masses":{"CUSO4":"3.20","H2O":"1.80"}"#);
    let last = noted["warnings"].as_array().and_then(|notes| notes.last());
    assert_eq!(last.expect("a note")["code"], "suspect_case");
}

#[test]
fn amounts_are_of_the_species_of_the_equation() {
    let line = |rest: &str| format!(r#"{{"op":"limiting",{rest}}}"#);
    let of_lime = |rest: &str| line(&format!(r#""equation":"CaCO3 -> CaO + CO2",{rest}"#));
    for (rest, code, field) in [
        (r#""strict":false"#, "missing_field", Some("amounts")),
        (r#""amounts":{}"#, "bad_request", Some("amounts")),
        (r#""amounts":["CaO"]"#, "bad_request", Some("amounts")),
        (r#""amounts":{"CaO":null}"#, "bad_request", Some("amounts")),
        (
            r#""amounts":{"CaO":"1"}"#,
            "bad_request",
            Some("amounts.CaO"),
        ),
        (
            r#""amounts":{"CaO":{}}"#,
            "missing_field",
            Some("amounts.CaO.mass"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1 mol"}}"#,
            "bad_number",
            Some("amounts.CaO.mass"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1","mol":"1"}}"#,
            "bad_request",
            Some("amounts.CaO.mol"),
        ),
        (
            r#""amounts":{"CaO":{"volume":"1"}}"#,
            "missing_field",
            Some("amounts.CaO.concentration"),
        ),
        (
            r#""amounts":{"CaO":{"grams":"1"}}"#,
            "unknown_field",
            Some("amounts.CaO.grams"),
        ),
        (
            r#""amounts":{"Cao":{"mass":"1"}}"#,
            "unknown_element",
            Some("amounts.Cao"),
        ),
        (
            r#""amounts":{"MgO":{"mass":"1"}}"#,
            "bad_request",
            Some("amounts"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"0"}}"#,
            "impossible_masses",
            Some("amounts"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1","purity_percent":"120 %"}}"#,
            "out_of_range",
            Some("amounts.CaO.purity_percent"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1","purity_percent":0}}"#,
            "out_of_range",
            Some("amounts.CaO.purity_percent"),
        ),
        (
            r#""amounts":{"CaO":{"mol":"1","purity_percent":"95"}}"#,
            "bad_request",
            Some("amounts.CaO.purity_percent"),
        ),
        (
            r#""amounts":{"CaO":{"concentration":"1","volume":"1","purity_percent":"95"}}"#,
            "bad_request",
            Some("amounts.CaO.purity_percent"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1","purity":"95"}}"#,
            "unknown_field",
            Some("amounts.CaO.purity"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1"},"CO2":{"mass":"1"}}"#,
            "bad_request",
            Some("amounts"),
        ),
        (
            r#""amounts":{"CaO":{"mass":"1"},"CaCO3":{"mass":"1"}}"#,
            "bad_request",
            Some("amounts"),
        ),
        (
            r#""amounts":{"CaCO3":{"mass":"1"}},"actual":{"species":"MgO","mass":"1"}"#,
            "bad_request",
            Some("actual"),
        ),
        (
            r#""amounts":{"CaCO3":{"mass":"1"}},"actual":{"species":"CaO"}"#,
            "missing_field",
            Some("actual.mass"),
        ),
        (
            r#""amounts":{"CaCO3":{"mass":"1"}},"actual":{"species":"CaO","mol":"1"}"#,
            "unknown_field",
            Some("actual.mol"),
        ),
    ] {
        fails(&of_lime(rest), code, field);
    }
    for (equation, code) in [
        ("CaCO3", "bad_equation"),
        ("CaCo3 -> CaO + CO2", "no_balance"),
        ("H2O2 + KMnO4 -> MnO2 + O2 + KOH + H2O", "many_balances"),
        ("TcO2 -> Tc + O2", "no_standard_weight"),
    ] {
        let rest =
            format!(r#""equation":"{equation}","amounts":{{"O2":{{"mol":"1"}},"CO2":null}}"#);
        fails(&line(&rest), code, Some("equation"));
    }
    let several = reply(
        &json!({"op": "limiting", "equation": "H2O2 + KMnO4 -> MnO2 + O2 + KOH + H2O",
        "amounts": {"O2": {"mol": "1"}}}),
    );
    assert_eq!(several["error"]["basis"].as_array().map(Vec::len), Some(2));
    // A place in the equation is told in the equation's own bytes.
    let open = reply(
        &json!({"op": "limiting", "equation": "CuO + MgSO4·xH2O -> CuO + MgSO4·xH2O",
        "amounts": {"CuO": {"mol": "1"}}}),
    );
    assert_eq!(failure(&open), ("unknown_degree", Some("equation")));
    assert_eq!(open["error"]["span"], json!([6, 17]));
    let answer = reply(
        &json!({"op": "limiting", "equation": "CaCO3 + 2HCl -> CaCl2 + CO2 + H2O",
        "amounts": {"CaCO3": {"mass": "150 mg", "purity_percent": "80 %"},
            "HCl": {"concentration": 1.00, "volume": "0.0250"}},
        "actual": {"species": "CO2", "mass": "0.0600"}}),
    );
    let shown = json!({"ok": true, "result": {"limiting": ["CaCO3"], "extent": "~0.0011989689",
        "species": [
            {"species": "CaCO3", "role": "reactant", "mass_initial": "0.12", "mass_final": "0"},
            {"species": "HCl", "mol_initial": "0.025", "mol_final": "~0.0226020622"},
            {"species": "CaCl2", "role": "product", "mol_initial": "0", "mass_initial": "0"}],
        "percent_yield": "~113.7108", "warnings": [{"code": "yield_above_100"}]}});
    assert_eq!(differences(&shown, &answer), [""; 0]);
    let bare = reply(&json!({"op": "limiting", "equation": "Al + O2 -> Al2O3",
        "amounts": {"Al": {"mol": "2"}, "O2": {"mol": "1.5"}}}));
    let shown = json!({"result": {"limiting": ["Al", "O2"], "extent": "0.5", "warnings": [
        {"code": "balanced_first", "values": {"equation": "4Al + 3O2 -> 2Al2O3"}}]}});
    assert_eq!(differences(&shown, &bare), [""; 0]);
    let cyanogen = reply(&json!({"op": "limiting", "equation": "2HCN -> (CN)2 + H2",
        "amounts": {"(CN)2": {"mol": "1"}}}));
    let shown =
        json!({"result": {"extent": "1", "species": [{"mol_change": "-2"}, {"species": "(CN)2"}]}});
    assert_eq!(differences(&shown, &cyanogen), [""; 0]);
    let excess = reply(&json!({"op": "limiting", "equation": "2Na + Cl2 -> 2NaCl",
        "amounts": {"Na": {"mass": "10.0"}}}));
    let shown = json!({"result": {"limiting": ["Na"], "percent_yield": null, "species": [{},
        {"mol_initial": null, "mol_final": null, "mass_initial": null, "mass_final": null,
            "mass_change": "~-15.42"}]}});
    assert_eq!(differences(&shown, &excess), [""; 0]);
}

/// As many species as are answered for, each with amounts of 28 digits, and all tied or all left.
#[test]
fn the_longest_replies() {
    let metals = "Li Be Na Mg Al K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge Rb Sr Y Zr Nb Mo Ru Rh Pd Ag Cd In Sn \
                  Sb Cs Ba La Ce Pr Nd Sm Eu Gd Tb Dy Ho Er Tm Yb Lu";
    let elements: Vec<&str> = metals.split_whitespace().collect();
    let line = |count: usize, amount: &str| {
        let left = elements[..count].join(" + ");
        let right = elements[..count].join("7") + "7";
        let given = elements[..count].iter();
        let given: Vec<_> = given
            .map(|e| format!(r#""{e}":{{"{amount}":"0.1234567890123456789"}}"#))
            .collect();
        let given = given.join(",");
        format!(r#"{{"op":"limiting","equation":"{left} -> {right}","amounts":{{{given}}}}}"#)
    };
    for amount in ["mol", "mass"] {
        let request = line(49, amount);
        let reply = crate::filter::answers(request.clone() + "\n").remove(0);
        assert!(reply.starts_with(r#"{"id":null,"ok":true"#), "{reply}");
        let longer = reply.len() - request.len();
        assert!((10_000..=20_000).contains(&longer), "{longer} bytes longer");
    }
    let mut more = line(49, "mol");
    more = more
        .replace("Li + ", "Hf + Li + ")
        .replace("-> Li", "-> Hf7Li");
    fails(&more, "too_large", Some("equation"));
    // Fifty parts, of which nothing whole comes.
    let parts: Vec<String> = elements
        .iter()
        .enumerate()
        .map(|(at, e)| format!(r#""{e}":"{}.{at}17""#, at + 3))
        .collect();
    let request = format!(r#"{{"op":"empirical","masses":{{{}}}}}"#, parts.join(","));
    let reply = crate::filter::answers(request.clone() + "\n").remove(0);
    assert!(reply.contains("no_whole_numbers"), "{reply}");
    assert!(reply.len() <= request.len() + 20_000);
    let over: Vec<String> = (1..=51).map(|n| format!(r#""CuSO{n}":"1""#)).collect();
    let request = format!(r#"{{"op":"empirical","masses":{{{}}}}}"#, over.join(","));
    fails(&request, "too_large", Some("masses"));
}
