//! Factors, stages and mixtures in the filter: what is answered, what is refused, and where it says so.

use serde_json::json;

use crate::contract::differences;
use crate::envelope::{fails, failure};
use crate::filter::{answers, reply};

/// A formula with everything that gases can be made of, `more` times as much.
fn with_all_gases(more: usize) -> String {
    let elements = ["C", "H", "N", "S", "F", "Cl", "Br", "I", "O"]
        .iter()
        .enumerate();
    let counts = elements.map(|(at, element)| format!("{element}{}", more * (at + 3) + 1));
    format!("Cu{}", counts.collect::<String>())
}

#[test]
fn what_a_factor_needs() {
    let line = |rest: &str| format!(r#"{{"op":"factor",{rest}}}"#);
    for (rest, code, field) in [
        (r#""sought":"Fe""#, "missing_field", Some("weighed")),
        (r#""weighed":"Fe2O3""#, "missing_field", Some("sought")),
        (
            r#""sought":"Xx","weighed":"Fe2O3""#,
            "unknown_element",
            Some("sought"),
        ),
        (
            r#""sought":"Tc","weighed":"Tc2O7""#,
            "no_standard_weight",
            Some("sought"),
        ),
        (
            r#""sought":"MgSO4","weighed":"MgSO4·xH2O""#,
            "unknown_degree",
            Some("weighed"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","by":"iron""#,
            "unknown_element",
            Some("by"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","by":"O""#,
            "bad_request",
            Some("by"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","by":1"#,
            "bad_request",
            Some("by"),
        ),
        (
            r#""sought":"MgO","weighed":"P2O5""#,
            "ambiguous_factor",
            Some("by"),
        ),
        (
            r#""sought":"Fe","weighed":"AgCl""#,
            "ambiguous_factor",
            Some("by"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","sample_mass":"1.000""#,
            "missing_field",
            Some("weighed_mass"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","weighed_mass":"1 mol""#,
            "bad_number",
            Some("weighed_mass"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","weighed_mass":"0""#,
            "impossible_masses",
            Some("weighed_mass"),
        ),
        (
            r#""sought":"Fe","weighed":"Fe2O3","weighed_mass":"1","sample_mass":"-1""#,
            "impossible_masses",
            Some("sample_mass"),
        ),
        (
            r#""sought":"Fe","wieghed":"Fe2O3""#,
            "unknown_field",
            Some("wieghed"),
        ),
    ] {
        fails(&line(rest), code, field);
    }
    // 0.2001 g · 2 · 237.133/101.961, of 0.910 g.
    let answer = reply(
        &json!({"op": "factor", "sought": "NH4Al(SO4)2", "weighed": "Al2O3",
        "weighed_mass": 0.2001, "sample_mass": "0.910 g", "weights": {"edition": "2021"}}),
    );
    let shown = json!({"ok": true, "result": {"sought_per_weighed": [2, 1],
        "sought_mass": "~0.93075418", "percent": "~102.28068", "edition": "2021",
        "warnings": [{"code": "percent_above_100", "values": {"percent": "102.3"}},
            {"code": "number_not_text", "values": {"fields": "weighed_mass"}}]}});
    assert_eq!(differences(&shown, &answer), [""; 0]);
    let bare = reply(&json!({"op": "factor", "sought": "Fe", "weighed": "Fe2O3"}));
    let shown = json!({"result": {"sought_mass": null, "sought_mass_uncertainty": null,
        "percent": null, "percent_uncertainty": null, "warnings": []}});
    assert_eq!(differences(&shown, &bare), [""; 0]);
}

#[test]
fn what_stages_need() {
    let line = |rest: &str| format!(r#"{{"op":"stages","hydrate":"CuSO4·5H2O",{rest}}}"#);
    for (rest, code, field) in [
        (r#""strict":true"#, "missing_field", Some("residues")),
        (r#""residues":[]"#, "missing_field", Some("residues")),
        (r#""residues":"CuO""#, "bad_request", Some("residues")),
        (
            r#""residues":["CuSO4",1]"#,
            "bad_request",
            Some("residues[1]"),
        ),
        (
            r#""residues":["CuSO4","CuCl2"]"#,
            "bad_request",
            Some("residues[1]"),
        ),
        (
            r#""residues":["CuO","CuSO4"]"#,
            "bad_request",
            Some("residues[1]"),
        ),
        (r#""residues":["H2O"]"#, "bad_request", Some("residues[0]")),
        (
            r#""residues":["Cuo"]"#,
            "unknown_element",
            Some("residues[0]"),
        ),
        (
            r#""residues":["CuSO4·xH2O"]"#,
            "unknown_degree",
            Some("residues[0]"),
        ),
        (
            r#""residues":["CuO"],"sample_mass":"0 g""#,
            "impossible_masses",
            Some("sample_mass"),
        ),
        (
            r#""residues":["CuO"],"sample":"1""#,
            "unknown_field",
            Some("sample"),
        ),
    ] {
        fails(&line(rest), code, field);
    }
    let named = reply(&json!({"op": "stages", "hydrate": "CuSO4·5H2O", "residues": ["CuCl2"]}));
    let message = named["error"]["message"].as_str().unwrap();
    assert!(message.contains("it has chlorine"), "{message}");
    // 1.705 g · 134.446/170.476; 100 % · (170.476 − 79.545)/170.476.
    let answer = reply(&json!({"op": "stages", "hydrate": "CuCl2.2H2O",
        "residues": ["CuCl2", "CuO"], "sample_mass": "1.705"}));
    let shown = json!({"ok": true, "result": {"stages": [
        {"residue": "CuCl2", "lost": "H2O", "taken_up": null, "mass": "~1.3446",
            "gases": [{"formula": "H2O", "number": "2"}]},
        {"residue": "CuO", "lost": "Cl2", "taken_up": "O2", "percent_total": "~53.3395"}],
        "notes": [{"code": "taken_up", "values": {"taken_up": "O2", "residue": "CuO"}}]}});
    assert_eq!(differences(&shown, &answer), [""; 0]);
    // 100 % · (56.077 − 100.086)/56.077.
    let gain = reply(&json!({"op": "stages", "hydrate": "CaO", "residues": ["CaCO3"]}));
    let shown = json!({"result": {"stages": [{"lost": null, "gases": [], "taken_up": "CO2",
        "percent_lost": "~-78.4796"}]}});
    assert_eq!(differences(&shown, &gain), [""; 0]);
}

#[test]
fn what_a_mixture_needs() {
    let parts = r#"[{"formula":"NaHCO3","residue":"Na2CO3"},{"formula":"NaCl","residue":"NaCl"}]"#;
    let line = |rest: &str| format!(r#"{{"op":"mixture",{rest}}}"#);
    for (rest, code, field) in [
        (
            r#""components":[],"sample_mass":"2","residue_mass":"1""#,
            "bad_request",
            Some("components"),
        ),
        (r#""components":{}"#, "bad_request", Some("components")),
        (
            r#""components":[{"formula":"NaHCO3"}]"#,
            "missing_field",
            Some("components[0].residue"),
        ),
        (
            r#""components":[{"formula":"NaHCO3","residue":"CuO"}]"#,
            "bad_request",
            Some("components[0].residue"),
        ),
        (
            r#""components":[{"formula":"NaHCO3","residue":"Na2CO3","mass":"1"}]"#,
            "unknown_field",
            Some("components[0].mass"),
        ),
    ] {
        fails(&line(rest), code, field);
    }
    let masses = |sample: &str, residue: &str| {
        let rest =
            format!(r#""components":{parts},"sample_mass":"{sample}","residue_mass":"{residue}""#);
        serde_json::from_str(&line(&rest)).unwrap()
    };
    for (sample, residue, field) in [
        ("2.000", "1.200", None),
        ("2.000", "2.100", None),
        ("0", "0", Some("sample_mass")),
        ("-1", "0", Some("sample_mass")),
        ("2.000", "-1", Some("residue_mass")),
        ("-2", "-1", None),
    ] {
        let refused = reply(&masses(sample, residue));
        assert_eq!(failure(&refused), ("impossible_masses", field), "{residue}");
    }
    // A gram of NaHCO3 leaves 0.630836 g: 100 % · (1 − 2.001/2)/(1 − 0.630836).
    let pure = reply(&masses("2.000", "2.001"));
    let shown = json!({"ok": true, "result": {"fractions": ["~-0.1354", "~100.1354"],
        "warnings": [{"code": "may_be_pure", "values": {"formula": "NaCl"}}]}});
    assert_eq!(differences(&shown, &pure), [""; 0]);
    let alike = reply(
        &json!({"op": "mixture", "sample_mass": "2.00", "residue_mass": "1.60",
        "components": [{"formula": "NaCl", "residue": "NaCl"}, {"formula": "KCl", "residue": "KCl"}]}),
    );
    assert_eq!(failure(&alike), ("bad_request", Some("components")));
}

/// The longest formulas and the longest lists have replies of bounded length, soon.
#[test]
fn the_longest_replies() {
    let long = format!("Cu{}", "C9H9N9".repeat(80));
    let residues: Vec<String> = (1..=20).rev().map(with_all_gases).collect();
    let same = vec![long.clone(); 20];
    for request in [
        json!({"op": "factor", "sought": long, "weighed": long}),
        json!({"op": "factor", "sought": format!("{long}Fe"), "weighed": long, "by": "Fe"}),
        json!({"op": "stages", "hydrate": with_all_gases(21), "residues": residues}),
        json!({"op": "stages", "hydrate": long, "residues": same}),
        json!({"op": "mixture", "sample_mass": "2", "residue_mass": "1.5", "components": [
            {"formula": long, "residue": "Cu"}, {"formula": long, "residue": long}]}),
    ] {
        let line = request.to_string();
        let began = std::time::Instant::now();
        let reply = answers(format!("{line}\n")).remove(0);
        assert!(
            began.elapsed() < std::time::Duration::from_secs(20),
            "{line}"
        );
        assert!(reply.len() <= line.len() + 40_000, "{} bytes", reply.len());
    }
    let more = json!({"op": "stages", "hydrate": "CuO", "residues": vec!["CuO"; 21]});
    fails(&more.to_string(), "too_large", Some("residues"));
}
