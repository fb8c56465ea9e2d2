//! The filter's marking under attack: what is wrong with a request is told with its place.

use std::time::{Duration, Instant};

use effloresce::Note;
use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::report::write_key;
use serde_json::{Value, json};

use crate::contract::{differences, well_formed};
use crate::filter::{answers, replies, reply};

const READINGS: &str =
    r#""crucible":"21.352","crucible_hydrate":"24.018","heated":["22.701","22.656","22.655"]"#;
const ISSUED: &str = r#""issued":"MgSO4·7H2O""#;

fn mark(rest: &str) -> String {
    format!(r#"{{"op":"mark",{ISSUED},{READINGS},{rest}}}"#)
}

fn class(rows: &str) -> String {
    format!(r#"{{"op":"class",{ISSUED},"rows":[{rows}]}}"#)
}

/// A row of a class; the readings are those of every bench here.
fn row(bench: &str, rest: &str) -> String {
    format!(r#"{{"bench":"{bench}",{READINGS},"reported":{{{rest}}}}}"#)
}

/// All requests at once: each must fail with this code about this field.
#[track_caller]
fn all_fail(cases: &[(String, &str, &str)]) {
    let input: String = cases.iter().map(|(line, ..)| format!("{line}\n")).collect();
    let replies = replies(input);
    assert_eq!(replies.len(), cases.len());
    for ((line, code, field), reply) in cases.iter().zip(&replies) {
        assert!(well_formed(reply), "{reply}");
        let error = &reply["error"];
        let found = (error["code"].as_str(), error["field"].as_str());
        let line: String = line.chars().take(400).collect();
        assert_eq!(found, (Some(*code), Some(*field)), "{line}\n{reply}");
    }
}

#[track_caller]
fn result(line: &str) -> Value {
    let reply = replies(line).remove(0);
    assert_eq!(reply["ok"], true, "{reply}");
    reply["result"].clone()
}

#[track_caller]
fn shows(line: &str, expected: &Value) {
    let got = result(line);
    assert_eq!(differences(expected, &got), [""; 0], "{got}");
}

/// A name, a cell that cannot be read, an absent bench and a coarser balance in one sheet.
#[test]
fn what_was_issued_who_was_absent_and_a_coarser_balance() {
    let text = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,reported_percent_water,reported_ratio\\n\
                Heron,barium chloride dihydrate,21.352,23.795,23.434,14.78,2.00\\n\
                Wren,bluestone,21.352,24.018,22.655,51.13,7\\nRook,,absent,,,,\\n\
                Finch,,21.35,24.02,22.66,50.9,6.9\\n";
    let expected = json!({
        "rows": [
            {"issued": "BaCl2·2H2O", "total": 2},
            {"issued": null, "ratio": null, "formula": null, "total": null, "out_of": 2, "by_hand": 1,
             "answers": [{"verdict": "correct"}, {"marks": null, "expected": null}]},
            {"total": null, "by_hand": 0, "feedback": [{"code": "absent"}]},
            {"issued": "MgSO4·7H2O", "total": 2},
        ],
        "pools": [{"issued": "BaCl2·2H2O", "n": 1}, {"issued": "MgSO4·7H2O", "n": 1}],
        "problems": [{"line": 3, "column": "issued", "bench": "Wren"}],
        "notes": [
            {"code": "absent", "values": {"bench": "Rook"}},
            {"code": "coarser_balance", "values": {"readability": "0.01"}},
        ],
    });
    shows(
        &format!(r#"{{"op":"read_sheet",{ISSUED},"text":"{text}"}}"#),
        &expected,
    );
}

#[test]
fn one_bench_is_marked_or_refused() {
    let reported = |inside: &str| mark(&format!(r#""reported":{{{inside}}}"#));
    let none = r#""reported":{}"#;
    let without = |field: &str, line: String| line.replace(&format!("{field},"), "");
    let (bad, missing) = ("bad_request", "missing_field");
    all_fail(&[
        (mark(r#""reported":null"#), missing, "reported"),
        (mark(r#""reported":[]"#), bad, "reported"),
        (without(ISSUED, mark(none)), missing, "issued"),
        (without(READINGS, mark(none)), missing, "crucible"),
        (
            mark(none).replace("24.018", "24,018"),
            "bad_number",
            "crucible_hydrate",
        ),
        (
            mark(none).replace("22.656", "22.6x6"),
            "bad_number",
            "heated[1]",
        ),
        (mark(none).replace("·7H2O", ""), bad, "issued"),
        (
            mark(none).replace("·7H2O", "·xH2O"),
            "unknown_degree",
            "issued",
        ),
        (
            mark(none).replace("MgSO4", "MgS04"),
            "bad_formula",
            "issued",
        ),
        (
            mark(r#""reported":{},"bench":"Heron""#),
            "unknown_field",
            "bench",
        ),
        (
            mark(r#""reported":{},"percent_water":"51""#),
            bad,
            "percent_water",
        ),
        (
            mark(r#""reported":{},"readability":"0""#),
            "out_of_range",
            "readability",
        ),
        (
            reported(r#""ratoi":"7""#),
            "unknown_field",
            "reported.ratoi",
        ),
        (reported(r#""ratio":true"#), bad, "reported.ratio"),
        (reported(r#""formula":7"#), bad, "reported.formula"),
    ]);
    let help =
        |line: String| reply(&serde_json::from_str(&line).expect("JSON"))["error"]["help"].clone();
    assert_eq!(help(reported(r#""ratoi":"7""#)), "did you mean `ratio`?");

    // Impossible masses and a bench not heated fail as in `dehydration`.
    for (from, to, code) in [
        ("21.352", "-21.352", "impossible_masses"),
        ("22.656", "-22.656", "impossible_masses"),
        ("24.018", "20.018", "impossible_masses"),
        ("22.655", "20.655", "impossible_masses"),
        (r#"["22.701","22.656","22.655"]"#, "[]", "missing_field"),
    ] {
        let line = mark(none).replace(from, to);
        let bare = line
            .replace(r#""op":"mark""#, r#""op":"dehydration""#)
            .replace(ISSUED, r#""salt":"MgSO4""#)
            .replace(r#","reported":{}"#, "");
        let both = replies(format!("{line}\n{bare}\n"));
        assert_eq!(both[0]["error"]["code"], code, "{}", both[0]);
        assert_eq!(both[0], both[1]);
        let field = match to {
            "-21.352" => "crucible".into(),
            "-22.656" => "heated[1]".into(),
            "[]" => "heated".into(),
            _ => Value::Null,
        };
        assert_eq!(both[0]["error"]["field"], field);
    }
}

#[test]
fn an_answer_that_cannot_be_read_stays_open() {
    for (quantity, text) in [
        ("ratio", r#""seven""#),
        ("ratio", r#""about 7 I think""#),
        ("water_mass", r#""1,363""#),
        ("water_mass", r#""1.363 mol""#),
        ("water_mass", r#""lost""#),
        ("mol_salt", "1e99"),
    ] {
        let line = mark(&format!(r#""reported":{{"{quantity}":{text}}}"#));
        let expected = json!({
            "answers": [{"quantity": quantity, "verdict": "unexplained", "marks": null}],
            "by_hand": 1,
            "problems": [{"cell": text.trim_matches('"')}],
        });
        shows(&line, &expected);
    }

    // In a class, everybody else is marked.
    let odd = row("Rook", r#""ratio":"about 7 I think""#);
    let fair = row("Heron", r#""ratio":"6.99""#);
    let line = class(&format!("{odd},{fair}"));
    let expected = json!({
        "rows": [{"by_hand": 1, "ratio": "~6.989"}, {"by_hand": 0, "total": 1}],
        "problems": [{"line": 1, "bench": "Rook", "code": "bad_unit"}],
    });
    shows(&line, &expected);
    let again = json!({"op": "re_mark", "before": line_of(&line), "after": line_of(&line)});
    shows(&again.to_string(), &json!({"changes": []}));
}

#[test]
fn what_was_issued_may_be_a_name() {
    let sheet =
        r#"{"op":"read_sheet",ISSUED,"text":"bench,hydrate_g,residue_g\nHeron,2.666,1.303\n"}"#;
    let lines = [
        mark(r#""reported":{}"#),
        class(r#"{"bench":"Heron"}"#),
        sheet.replace("ISSUED", ISSUED),
    ];
    let named = |name: &str| {
        let issued = format!(r#""issued":"{name}""#);
        lines.clone().map(|line| line.replace(ISSUED, &issued))
    };
    for line in named("magnesium sulfate heptahydrate") {
        assert_eq!(result(&line)["notes"], json!([]), "{line}");
    }
    for line in named("Cobalt chloride hexahydrate") {
        assert_eq!(
            result(&line)["notes"][0]["code"],
            "assumed_charge",
            "{line}"
        );
    }
    for line in named("copper sulphate") {
        all_fail(&[(line, "bad_name", "issued")]);
    }

    let rows = r#"{"bench":"Heron","issued":"copper(II) sulfate pentahydrate","crucible":"1.00","crucible_hydrate":"3.00","heated":["2.28"]},
        {"bench":"Rook","issued":"copper sulfate pentahydrate"}"#;
    let expected = json!({
        "rows": [{"issued": "CuSO4·5H2O"}, {"issued": "CuSO4·5H2O"}],
        "notes": [{"code": "assumed_charge", "values": {"read_as": "CuSO4·5H2O"}}],
    });
    shows(&class(&rows.replace('\n', " ")), &expected);
}

fn line_of(line: &str) -> Value {
    serde_json::from_str(line).expect("JSON")
}

#[test]
fn only_what_was_asked_is_answered_in_order() {
    let line = mark(
        r#""reported":{"formula":"MgS04","ratio":6.99,"water_mass":"1.363 g","mol_salt":null,"percent_water":" - "}"#,
    );
    let answers = result(&line)["answers"].clone();
    let answers = answers.as_array().expect("a list");
    let found: Vec<[&str; 3]> = answers
        .iter()
        .map(|a| ["quantity", "reported", "verdict"].map(|key| a[key].as_str().unwrap_or("?")))
        .collect();
    assert_eq!(
        found,
        [
            ["water_mass", "1.363 g", "correct"],
            ["percent_water", "", "missing"],
            ["ratio", "6.99", "correct"],
            ["formula", "MgS04", "unexplained"],
        ]
    );
    assert_eq!(result(&line)["problems"][0]["cell"], "MgS04");
    let shown = json!({"answers": [], "faults": [], "accuracy": {"marks": null}, "total": 0});
    let got = result(&mark(r#""reported":{}"#));
    for (key, value) in shown.as_object().expect("an object") {
        if key == "accuracy" {
            assert_eq!(got[key]["marks"], value["marks"]);
        } else {
            assert_eq!(&got[key], value);
        }
    }
    // All forms of readings.
    for readings in [
        r#""hydrate_mass":"2.666","residue_mass":"1.303","net":"subtracted""#,
        r#""percent_water":"51.125""#,
    ] {
        let line = mark(r#""reported":{"ratio":"6.99"}"#).replace(READINGS, readings);
        shows(&line, &json!({"answers": [{"verdict": "correct"}]}));
    }
}

#[test]
fn a_policy_is_followed_or_refused() {
    let with = |policy: &str| {
        mark(&format!(
            r#""reported":{{"ratio":"6.98881"}},"policy":{policy}"#
        ))
    };
    let (unknown, range, bad) = ("unknown_field", "out_of_range", "bad_request");
    let cases: Vec<(String, &str, &str)> = [
        (r"[]", bad, "policy"),
        (r#"{"mark":{}}"#, unknown, "policy.mark"),
        (r#"{"marks":3}"#, bad, "policy.marks"),
        (r#"{"marks":{"ratoi":1}}"#, unknown, "policy.marks.ratoi"),
        (r#"{"marks":{"ratio":-1}}"#, range, "policy.marks.ratio"),
        (r#"{"marks":{"ratio":1.25}}"#, bad, "policy.marks.ratio"),
        (r#"{"marks":{"ratio":"1"}}"#, bad, "policy.marks.ratio"),
        (r#"{"marks":{"ratio":101}}"#, range, "policy.marks.ratio"),
        (r#"{"figures":"one mark off"}"#, range, "policy.figures"),
        (r#"{"figures":1}"#, bad, "policy.figures"),
        (r#"{"formula":"ratio"}"#, range, "policy.formula"),
        (r#"{"accuracy":{}}"#, bad, "policy.accuracy"),
        (r#"{"accuracy":[1]}"#, bad, "policy.accuracy[0]"),
        (
            r#"{"accuracy":[{"within_percent":1,"marks":2},{"within":2,"marks":1}]}"#,
            unknown,
            "policy.accuracy[1].within",
        ),
        (
            r#"{"accuracy":[{"within_percent":1}]}"#,
            "missing_field",
            "policy.accuracy[0].marks",
        ),
        (
            r#"{"accuracy":[{"within_percent":"1 g","marks":1}]}"#,
            "bad_number",
            "policy.accuracy[0].within_percent",
        ),
        (
            r#"{"accuracy":[{"within_percent":2,"marks":1},{"within_percent":1,"marks":2}]}"#,
            "bad_policy",
            "policy.accuracy",
        ),
        (
            r#"{"issued_percent_water":"100"}"#,
            range,
            "policy.issued_percent_water",
        ),
        (
            r#"{"issued_percent_water":-5}"#,
            range,
            "policy.issued_percent_water",
        ),
        (
            r#"{"tolerance":{"ratio":{}}}"#,
            bad,
            "policy.tolerance.ratio",
        ),
        (
            r#"{"tolerance":{"ratio":0.1}}"#,
            bad,
            "policy.tolerance.ratio",
        ),
        (
            r#"{"tolerance":{"ratio":{"absolute":1,"percent":1}}}"#,
            bad,
            "policy.tolerance.ratio.percent",
        ),
        (
            r#"{"tolerance":{"ratio":{"nearest":"tenth"}}}"#,
            range,
            "policy.tolerance.ratio.nearest",
        ),
        (
            r#"{"tolerance":{"ratio":{"absolut":1}}}"#,
            unknown,
            "policy.tolerance.ratio.absolut",
        ),
        (
            r#"{"tolerance":{"ratio":{"absolute":"-1"}}}"#,
            "bad_policy",
            "policy.tolerance.ratio",
        ),
        (
            r#"{"tolerance":{"formula":{"absolute":"1"}}}"#,
            "bad_policy",
            "policy.tolerance.formula",
        ),
        (
            r#"{"marks":{"ratio":2.5}}"#,
            "bad_policy",
            "policy.marks.ratio",
        ),
        (r#"{"step":0.25}"#, "out_of_range", "policy.step"),
        (
            r#"{"marks":{"ratio":2},"tolerance":{"ratio":{"bands":[{"within":1,"marks":1}]}}}"#,
            "bad_policy",
            "policy.tolerance.ratio",
        ),
    ]
    .into_iter()
    .map(|(policy, code, field)| (with(policy), code, field))
    .collect();
    all_fail(&cases);

    let earns = |policy: &str, marks: &Value, accuracy: &Value, total: &Value| {
        let expected = json!({
            "answers": [{"verdict": "correct", "marks": marks}],
            "accuracy": {"marks": accuracy},
            "total": total,
        });
        shows(&with(policy), &expected);
    };
    let half = r#"{"step":0.5,"marks":{"ratio":2.5},"figures":"one_mark"}"#;
    earns(half, &json!(2.5), &Value::Null, &json!(1.5));
    let marks = |policy: &str, marks: u32, accuracy: Value, total: u32| {
        earns(policy, &json!(marks), &accuracy, &json!(total));
    };
    marks("{}", 1, Value::Null, 1);
    marks("null", 1, Value::Null, 1);
    marks(
        r#"{"marks":{"ratio":3},"figures":"ignore"}"#,
        3,
        Value::Null,
        3,
    );
    marks(
        r#"{"marks":{"ratio":3},"figures":"one_mark"}"#,
        3,
        Value::Null,
        2,
    );
    // The bench is 0.16 % off the formula, and 1.7 % off what the jar holds.
    let bands = r#""accuracy":[{"within_percent":1,"marks":4},{"within_percent":"2","marks":2}]"#;
    marks(&format!("{{{bands}}}"), 1, json!(4), 5);
    marks(
        &format!(r#"{{{bands},"issued_percent_water":"51.54 %"}}"#),
        1,
        json!(2),
        3,
    );
    for tolerance in [
        r#"{"nearest":"whole"}"#,
        r#"{"absolute":"0.1"}"#,
        r#"{"percent":"2"}"#,
    ] {
        let policy = format!(r#"{{"tolerance":{{"ratio":{tolerance}}}}}"#);
        let line = with(&policy).replace("6.98881", "7.08");
        shows(
            &line,
            &json!({"answers": [{"verdict": "correct", "marks": 1}]}),
        );
    }
    for (kind, within) in [("bands", "within"), ("percent_bands", "within_percent")] {
        let bands = format!(r#"[{{"{within}":"0.01","marks":3}},{{"{within}":2,"marks":1}}]"#);
        let policy = format!(r#"{{"tolerance":{{"ratio":{{"{kind}":{bands}}}}}}}"#);
        let line = with(&policy).replace("6.98881", "7.08");
        shows(
            &line,
            &json!({"answers": [{"verdict": "correct", "marks": 1}]}),
        );
    }
}

/// Widths are named as in the library's policies in TOML.
#[test]
fn a_width_has_the_name_of_its_kind() {
    let with = |bands: &str| {
        mark(&format!(
            r#""reported":{{}},"policy":{{"tolerance":{{"ratio":{{{bands}}}}}}}"#
        ))
    };
    let (unknown, field) = ("unknown_field", "policy.tolerance.ratio");
    all_fail(&[
        (
            with(r#""percent_bands":[{"within":1,"marks":1}]"#),
            unknown,
            &format!("{field}.percent_bands[0].within"),
        ),
        (
            with(r#""bands":[{"within_percent":1,"marks":1}]"#),
            unknown,
            &format!("{field}.bands[0].within_percent"),
        ),
    ]);
}

/// What `stand_in` answers can be sent on with what was reported from it.
#[test]
fn stand_in_readings_are_marked_as_such() {
    let made = result(&format!(
        r#"{{"op":"stand_in",{ISSUED},"seed":3,"readability":"0.001"}}"#
    ));
    let mut request = json!({
        "op": "mark", "reported": {"ratio": "7.08"},
        "policy": {"accuracy": [{"within_percent": 99, "marks": 4}]},
    });
    for field in [
        "stand_in",
        "issued",
        "readability",
        "crucible",
        "crucible_hydrate",
        "heated",
    ] {
        request[field] = made[field].clone();
    }
    let marked = result(&request.to_string());
    assert_eq!(marked["stand_in"], true, "{marked}");
    assert_eq!(marked["accuracy"]["marks"], Value::Null, "{marked}");
    assert_eq!(marked["problems"], json!([]));
    request["stand_in"] = json!(false);
    let weighed = result(&request.to_string());
    assert_eq!(weighed["stand_in"], false, "{weighed}");
    assert_eq!(weighed["accuracy"]["marks"], 4, "{weighed}");
    assert_eq!(weighed["problems"], json!([]));
    request["stand_in"] = json!("yes");
    all_fail(&[(request.to_string(), "bad_request", "stand_in")]);
}

#[test]
fn a_class_is_marked_or_refused() {
    let good = row("Heron", "");
    let third = |from: &str, to: &str| {
        let bad = row("Rook", r#""ratio":"6.99""#).replace(from, to);
        class(&format!("{good},{good},{bad}"))
    };
    let (unknown, bad) = ("unknown_field", "bad_request");
    all_fail(&[
        (
            format!(r#"{{"op":"class",{ISSUED}}}"#),
            "missing_field",
            "rows",
        ),
        (
            r#"{"op":"class","rows":[]}"#.to_owned(),
            "missing_field",
            "issued",
        ),
        (class("1"), bad, "rows[0]"),
        (class("null"), bad, "rows[0]"),
        (class("{}"), "missing_field", "rows[0].bench"),
        (class(r#"{"bench":["a"]}"#), bad, "rows[0].bench"),
        (third("21.352", "21,352"), "bad_number", "rows[2].crucible"),
        (
            third("22.656", "22.6.56"),
            "bad_number",
            "rows[2].heated[1]",
        ),
        (third("\"heated\"", "\"heatde\""), unknown, "rows[2].heatde"),
        (
            third("\"ratio\"", "\"ration\""),
            unknown,
            "rows[2].reported.ration",
        ),
        (
            third("\"Rook\",", "\"Rook\",\"readability\":0,"),
            "out_of_range",
            "rows[2].readability",
        ),
        (
            third("\"Rook\",", "\"Rook\",\"issued\":\"MgSO4\","),
            bad,
            "rows[2].issued",
        ),
        (
            third("\"Rook\",", "\"Rook\",\"net\":\"tared\","),
            bad,
            "rows[2].net",
        ),
        (
            third("\"Rook\",", "\"Rook\",\"stand_in\":\"yes\","),
            bad,
            "rows[2].stand_in",
        ),
        (
            class(r#"{"bench":"Heron","crucible":"21.352"}"#),
            "missing_field",
            "rows[0].crucible_hydrate",
        ),
        (
            class(&good).replace("\"rows\"", "\"coverage\":0,\"rows\""),
            "out_of_range",
            "coverage",
        ),
        (
            class(&good).replace("\"rows\"", "\"text\":\"\",\"rows\""),
            unknown,
            "text",
        ),
        (
            class(&good).replace("\"rows\"", "\"policy\":{\"figures\":\"\"},\"rows\""),
            "out_of_range",
            "policy.figures",
        ),
    ]);

    // A row that cannot be worked out costs nobody else anything.
    let rows = [
        row("Heron", r#""ratio":"6.99""#),
        r#"{"bench":"Heron","pupil":"b","reported":{"ratio":"0.1431"}}"#.to_owned(),
        row("Wren", "").replace("24.018", "20.018"),
        r#"{"bench":"Rook","period":2}"#.to_owned(),
        row("Crane", "").replace(r#""22.701","22.656","22.655""#, ""),
    ];
    shows(
        &class(&rows.join(",")),
        &json!({
            "rows": [
                {"bench": "Heron", "ratio": "~6.988806", "answers": [{"verdict": "correct"}]},
                {"bench": "Heron", "pupil": "b", "answers": [{"slips": ["ratio_inverted"]}]},
                {"bench": "Wren", "ratio": null, "total": null},
                {"bench": "Rook", "ratio": null},
                {"bench": "Crane", "ratio": null},
            ],
            "pooled": {"n": 1},
            "problems": [
                {"line": 3, "column": "crucible_hydrate_g", "code": "impossible_masses"},
                {"line": 4, "bench": "Rook", "code": "no_readings"},
                {"line": 5, "bench": "Crane", "code": "not_heated"},
            ],
        }),
    );
    shows(
        &class(""),
        &json!({"rows": [], "pooled": {"n": 0, "mean": null}}).clone(),
    );
}

#[test]
fn marking_again_tells_what_changes() {
    let again = |before: &str, after: &str| {
        format!(r#"{{"op":"re_mark","before":{before},"after":{after}}}"#)
    };
    let heron = class(&row("Heron", r#""ratio":"7.2""#));
    let kind = heron.replace(
        "\"rows\"",
        r#""policy":{"tolerance":{"ratio":{"nearest":"whole"}}},"rows""#,
    );
    let changed = |from: u32, to: u32| {
        json!({"changes": [{
            "bench": "Heron", "pupil": null, "quantity": "ratio", "from": from, "to": to,
            "reason": {"code": "verdict_changed"},
        }]})
    };
    shows(&again(&heron, &kind), &changed(0, 1));
    shows(&again(&kind, &heron), &changed(1, 0));
    assert_eq!(result(&again(&heron, &heron))["changes"], json!([]));
    // Without `op`, and one of each kind.
    let unnamed = kind.replace(r#""op":"class","#, "");
    shows(&again(&heron, &unnamed), &changed(0, 1));
    let sheet = format!(
        r#"{{{ISSUED},"text":"bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,reported_ratio\nHeron,21.352,24.018,22.701,22.656,22.655,7.2\n"}}"#
    );
    shows(&again(&sheet, &kind), &changed(0, 1));
    // Weights beside both hold for both.
    let weights = r#""weights":{"override":{"Mg":"30"}}"#;
    let outer = again(&heron, &heron).replace(r#""before""#, &format!("{weights},\"before\""));
    assert_eq!(result(&outer)["changes"], json!([]));

    let heated = heron.replace("22.656", "x");
    all_fail(&[
        (r#"{"op":"re_mark"}"#.to_owned(), "missing_field", "before"),
        (again(&heron, "null"), "missing_field", "after"),
        (again("[]", &heron), "bad_request", "before"),
        (again("{}", &heron), "missing_field", "before.op"),
        (
            again(&heron, r#"{"rows":[],"text":""}"#),
            "missing_field",
            "after.op",
        ),
        (
            again(&heron, r#"{"op":"mark"}"#),
            "out_of_range",
            "after.op",
        ),
        (
            again(&heated, &heron),
            "bad_number",
            "before.rows[0].heated[1]",
        ),
        (
            again(&heron, &sheet.replace("bench", "b")),
            "bad_sheet",
            "after.text",
        ),
        (
            again(&heron, r#"{"op":"class","row":[]}"#),
            "unknown_field",
            "after.row",
        ),
        (
            again(&heron, &heron).replace("\"before\"", "\"befor\""),
            "unknown_field",
            "befor",
        ),
        (
            again(&heron, &heron).replace("\"before\"", "\"weights\":1,\"before\""),
            "bad_request",
            "weights",
        ),
    ]);
}

#[test]
fn a_sheet_takes_a_policy() {
    let sheet = |policy: &str| {
        format!(
            r#"{{"op":"read_sheet",{ISSUED},"policy":{policy},"constant_mass":{{"absolute":"0.002"}},"text":"bench,hydrate_g,residue_g,reported_ratio\nA,2.666,1.303,6.99\n"}}"#
        )
    };
    shows(
        &sheet(r#"{"marks":{"ratio":4}}"#),
        &json!({"rows": [{"total": 4, "answers": [{"marks": 4}]}]}),
    );
    all_fail(&[(
        sheet(r#"{"marks":{"ratio":-4}}"#),
        "out_of_range",
        "policy.marks.ratio",
    )]);
}

#[test]
fn hostile_requests_are_refused_at_once() {
    let rows = vec![row("Heron", ""); 100_000].join(",");
    let deep = "[".repeat(200) + &"]".repeat(200);
    let bands = vec![r#"{"within_percent":1,"marks":1}"#; 100_000].join(",");
    let heated = "22.7,".repeat(200_000);
    let long = "7".repeat(100_000);
    let started = Instant::now();
    let again = format!(
        r#"{{"op":"re_mark","before":{0},"after":{0}}}"#,
        class(&rows)
    );
    all_fail(&[
        (class(&rows), "too_large", "rows"),
        (again, "too_large", "before.rows"),
        (
            mark(&format!(
                r#""reported":{{}},"policy":{{"accuracy":[{bands}]}}"#
            )),
            "too_large",
            "policy.accuracy",
        ),
        (
            mark(r#""reported":{}"#).replace("\"22.701\"", &format!("{heated}22.7")),
            "too_large",
            "heated",
        ),
        (
            mark(&format!(r#""reported":{{"ratio":"{long}"}}"#)),
            "too_large",
            "reported.ratio",
        ),
        (
            mark(&format!(r#""reported":{{"formula":"{long}"}}"#)),
            "too_large",
            "reported.formula",
        ),
    ]);
    for line in [
        mark(&format!(r#""reported":{{"ratio":{deep}}}"#)),
        class(&deep),
    ] {
        assert_eq!(replies(line).remove(0)["error"]["code"], "too_deep");
    }
    // Far longer than it takes, on any machine.
    assert!(started.elapsed() < Duration::from_secs(60));
}

#[test]
fn a_reply_about_one_bench_is_not_much_longer_than_its_request() {
    let all = |values: [&str; 8]| {
        let names = [
            "hydrate_mass",
            "residue_mass",
            "water_mass",
            "percent_water",
            "mol_salt",
            "mol_water",
            "ratio",
            "formula",
        ];
        let pairs: Vec<String> = names
            .iter()
            .zip(values)
            .map(|(name, value)| format!("\"{name}\":{}", json!(value)))
            .collect();
        mark(&format!(r#""reported":{{{}}}"#, pairs.join(",")))
    };
    let long = "H".repeat(1_000);
    let quotes = "\"\\\u{1}".repeat(300);
    let mut longest = 0;
    for request in [
        all([
            "2.666",
            "1.303",
            "1.363",
            "51.13",
            "0.01083",
            "0.07566",
            "6.99",
            "MgSO4·7H2O",
        ]),
        all([
            "2.667",
            "1.3",
            "1.373",
            "104.6",
            "0.0108",
            "0.0757",
            "0.1431",
            "MgSO4·6H2O",
        ]),
        all(["9", "9", "9", "9", "9", "9", "9", &long]),
        all(["", "", "", "", "", "", "", ""]),
        all(["1", "1", "1", "1", "1", "1", "1", &quotes]),
    ] {
        let line = answers(request.clone()).remove(0);
        assert!(
            line.len() <= request.len() + 20_000,
            "{} for {}: {}",
            line.len(),
            request.len(),
            &line[..line.len().min(500)]
        );
        longest = longest.max(line.len().saturating_sub(request.len()));
    }
    assert!(
        longest > 500,
        "some of these must have been marked at length"
    );
}

/// Each remark on a formula that is handed in is printed once in the key.
#[track_caller]
fn remarks_in_the_key(formula: &str, expected: &[&str]) {
    let text = format!("bench,hydrate_g,residue_g,reported_formula\nHeron,2.666,1.303,{formula}\n");
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let mut key = String::new();
    write_key(&marked, &mut key).unwrap();
    let key: Vec<&str> = key.split_whitespace().collect();
    let key = key.join(" ");
    let remarks = marked.rows()[0].answers()[0].remarks();
    let codes: Vec<&str> = remarks.iter().map(Note::code).collect();
    assert_eq!(codes, expected);
    for remark in remarks {
        assert_eq!(key.matches(remark.text()).count(), 1, "{remark}: {key}");
    }
}

#[test]
fn every_remark_on_a_formula_is_printed_once() {
    remarks_in_the_key("MgSO47H2O", &["suspect_dot", "doubtful_formula"]);
    remarks_in_the_key("MgSO4(H2O)4", &["bracketed_water", "other_hydrate"]);
}
