//! The filter under attack: every line gets its own reply, in its order.

use std::io::{BufRead, BufReader, Read, Write};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use serde_json::{Value, json};

use crate::contract::{differences, well_formed};
use crate::filter::{answers, replies, reply, start};

/// The code and the field of a failure.
pub(crate) fn failure(reply: &Value) -> (&str, Option<&str>) {
    assert_eq!(reply["ok"], false, "{reply}");
    assert!(well_formed(reply), "{reply}");
    let error = &reply["error"];
    let code = error["code"].as_str().expect("a failure has a code");
    (code, error["field"].as_str())
}

#[track_caller]
pub(crate) fn fails(request: &str, code: &str, field: Option<&str>) {
    let replies = replies(format!("{request}\n"));
    assert_eq!(replies.len(), 1, "{request}");
    assert_eq!(failure(&replies[0]), (code, field), "{request}");
}

#[test]
fn lines_that_cannot_be_read() {
    for line in [
        "not json",
        "{",
        "{}}",
        r#"{"id":1,"op":"formula","formula":"H2O",}"#,
        r#"{"id":1,"op":"formula","formula":"H2O"} {}"#,
        r#"{"id":01}"#,
        r#"{"id":NaN}"#,
        r#"{"op":"formula","formula":"\ud800"}"#,
        "{\"op\":\"formula\",\"formula\":\"a\tb\"}",
        // A key may not be given twice: at any depth, in two spellings, in the `id`.
        r#"{"op":"formula","formula":"H2O","op":"formula"}"#,
        r#"{"op":"formula","formula":"H2O","\u006fp":"formula"}"#,
        r#"{"op":"formula","formula":"H2O","weights":{"decimals":1,"decimals":1}}"#,
        r#"{"op":"formula","formula":"H2O","weights":{"override":{"H":"1","O":"16","H":"2"}}}"#,
        r#"{"id":[{"a":{"b":1,"b":2}}],"op":"formula","formula":"H2O"}"#,
        r#"{"id":1,"id":2,"op":"formula","formula":"H2O"}"#,
    ] {
        let replies = replies(format!("{line}\n"));
        assert_eq!(replies.len(), 1, "{line}");
        assert_eq!(failure(&replies[0]).0, "bad_json", "{line}");
    }
    // The same key in two objects is not a repetition, and values may equal keys.
    let line = r#"{"id":{"a":{"a":["a","a",{"a":1}]},"b":"a"},"op":"levitate"}"#;
    fails(line, "unknown_op", Some("op"));
    for line in ["[]", "1", "null", "\"op\"", "true"] {
        fails(line, "bad_request", None);
    }
}

#[test]
fn a_row_without_the_name_of_its_bench() {
    for row in [
        "{}",
        r#"{"bench":null}"#,
        r#"{"bench":""}"#,
        r#"{"bench":" \u00a0"}"#,
    ] {
        let line = format!(r#"{{"op":"class","issued":"MgSO4.7H2O","rows":[{row}]}}"#);
        fails(&line, "missing_field", Some("rows[0].bench"));
    }
}

#[test]
fn requests_without_a_known_operation() {
    fails("{}", "missing_field", Some("op"));
    fails(r#"{"op":null}"#, "missing_field", Some("op"));
    fails(r#"{"op":["formula"]}"#, "bad_request", Some("op"));
    fails(r#"{"op":"Levitate"}"#, "unknown_op", Some("op"));
    let help = |request: Value| reply(&request)["error"]["help"].clone();
    let text = help(json!({"op": "dehidration"}));
    assert!(text.as_str().is_some_and(|t| t.contains("`dehydration`?")));
    let text = help(json!({"op": "levitate"}));
    assert!(text.as_str().is_some_and(|t| t.contains("`formula`")));
}

#[test]
fn an_id_comes_back_as_it_was() {
    let ids = [
        "null",
        "true",
        "0",
        "-0",
        "1.50",
        "1E+400",
        "12345678901234567890123456789012345678901234567890",
        r#""""#,
        r#""a\u00e9\/\n\ud83d\ude00é😀""#,
        r#""\ud800""#,
        "[]",
        r#"[1, "two", {"three" : null}]"#,
        r#"{ "b":1, "a":[ ] }"#,
    ];
    let mut input = String::new();
    for id in ids {
        input += &format!("{{\"op\":\"formula\",\"formula\":\"H2O\",\"id\":{id}}}\n");
        input += &format!("{{\"id\":{id},\"op\":\"formula\"}}\n");
        input += &format!("{{\"id\":{id},\"op\":\"formula\",\"op\":1}}\n");
    }
    let lines = answers(input);
    assert_eq!(lines.len(), 3 * ids.len());
    for (index, line) in lines.iter().enumerate() {
        let id = ids[index / 3];
        let ok = index % 3 == 0;
        let start = format!("{{\"id\":{id},\"ok\":{ok},");
        assert!(line.starts_with(&start), "{line}\n{start}");
    }
    // Half of a surrogate pair in a key does not hide the `id` behind it.
    for line in [
        r#"{"\ud800":1,"id":5}"#,
        r#"{"op":"formula","weights":{"\udc00\ud800":1},"id":5,"formula":"H2O"}"#,
    ] {
        let reply = replies(line).remove(0);
        assert_eq!(reply["id"], 5, "{line}");
        assert_eq!(failure(&reply), ("bad_json", None));
        assert_eq!(
            reply["error"]["message"],
            "a text has half of a surrogate pair"
        );
    }
    // The limit of nesting is what common readers of JSON accept.
    let nested = |depth: usize| {
        let id = "[".repeat(depth) + &"]".repeat(depth);
        let line = format!("{{\"id\":{id},\"op\":\"formula\",\"formula\":\"H2O\"}}\n");
        (id, answers(line).remove(0))
    };
    let (id, line) = nested(126);
    assert!(line.starts_with(&format!("{{\"id\":{id},\"ok\":true,")));
    let (_, line) = nested(127);
    assert!(line.starts_with("{\"id\":null,\"ok\":false,\"error\":{\"code\":\"too_deep\""));
    // Some readers end a line at a carriage return.
    let line = &answers("{\"op\":\"x\",\"id\":[1,\r2]}\r\n")[0];
    assert!(line.starts_with("{\"id\":[1, 2],"));
}

#[test]
fn hostile_lines_cost_nobody_else_a_reply() {
    let mut input: Vec<u8> = Vec::new();
    let mut wanted: Vec<(Value, &str)> = Vec::new();
    let mut hostile = |line: &[u8], id: Value, code: &'static str| {
        let sound = wanted.len();
        input.extend_from_slice(line);
        input.push(b'\n');
        wanted.push((id, code));
        input.extend_from_slice(
            format!(
                "{{\"id\":{sound},\"op\":\"formula\",\"formula\":\"MgSO4·7H2O\"}}\r\n\r\n \t\n"
            )
            .as_bytes(),
        );
        wanted.push((json!(sound), ""));
    };
    let null = || Value::Null;
    hostile(b"\xff\xfe{}", null(), "bad_json");
    hostile(b"{\"id\":1,\"op\":\"\xc3\x28\"}", null(), "bad_json");
    hostile(b"{\"id\":1,\0}", null(), "bad_json");
    hostile("[".repeat(1_000_000).as_bytes(), null(), "bad_json");
    let deep = "[".repeat(1_000_000) + &"]".repeat(1_000_000);
    hostile(deep.as_bytes(), null(), "bad_request");
    let deep_id = format!("{{\"id\":{deep},\"op\":\"formula\"}}");
    hostile(deep_id.as_bytes(), null(), "too_deep");
    let deep_field = format!("{{\"id\":[2],\"op\":\"formula\",\"formula\":{deep}}}");
    hostile(deep_field.as_bytes(), json!([2]), "too_deep");
    let twice = format!("{{{}\"k7\":0}}", members(100_000));
    hostile(twice.as_bytes(), null(), "bad_json");
    let strange = format!(
        "{{\"id\":\"s\",\"op\":\"formula\",{}\"z\":0}}",
        members(100_000)
    );
    hostile(strange.as_bytes(), json!("s"), "unknown_field");
    let long_key = format!(
        "{{\"id\":3,\"op\":\"formula\",\"{}\":0}}",
        "\\u0000".repeat(100_000)
    );
    hostile(long_key.as_bytes(), json!(3), "unknown_field");
    let long_op = format!("{{\"id\":4,\"op\":\"{}\"}}", "é".repeat(100_000));
    hostile(long_op.as_bytes(), json!(4), "unknown_op");
    let heatings = "2,".repeat(1_000_000);
    let heatings = format!(
        "{{\"id\":7,\"op\":\"dehydration\",\"salt\":\"NaCl\",\"crucible\":1,\"crucible_hydrate\":3,\"heated\":[{heatings}2]}}"
    );
    hostile(heatings.as_bytes(), json!(7), "too_large");
    let brackets = "(".repeat(1_000_000);
    let brackets = format!("{{\"id\":5,\"op\":\"formula\",\"formula\":\"{brackets}\"}}");
    hostile(brackets.as_bytes(), json!(5), "too_large");
    let huge = format!(
        "{{\"id\":6,\"op\":\"formula\",\"formula\":\"{}\"}}",
        "H".repeat(65 << 20)
    );
    hostile(huge.as_bytes(), null(), "too_large");

    let replies = replies(input);
    assert_eq!(replies.len(), wanted.len());
    for ((id, code), reply) in wanted.iter().zip(&replies) {
        assert_eq!(&reply["id"], id);
        if code.is_empty() {
            assert_eq!(reply["result"]["waters"], "7", "{reply}");
        } else {
            assert_eq!(failure(reply).0, *code, "{reply}");
        }
    }
}

/// `n` members with different keys, each with a comma after it.
fn members(n: usize) -> String {
    (0..n).map(|k| format!("\"k{k}\":0,")).collect()
}

#[test]
fn fields_are_checked_by_name_and_by_kind() {
    let formula = |rest: &str| format!(r#"{{"op":"formula","formula":"NaCl",{rest}}}"#);
    let unknown = Some("unknown_field");
    let bad = Some("bad_request");
    let range = Some("out_of_range");
    for (rest, code, field) in [
        (r#""wieghts":{}"#, unknown, "wieghts"),
        (r#""weights":{"editon":"2021"}"#, unknown, "weights.editon"),
        (r#""weights":{"edition":2021}"#, bad, "weights.edition"),
        (r#""weights":{"edition":"1999"}"#, range, "weights.edition"),
        (r#""weights":{"values":"Full"}"#, range, "weights.values"),
        (r#""weights":{"decimals":"1"}"#, bad, "weights.decimals"),
        (r#""weights":{"decimals":1.5}"#, bad, "weights.decimals"),
        (r#""weights":{"decimals":-1}"#, range, "weights.decimals"),
        (r#""weights":{"decimals":1e99}"#, bad, "weights.decimals"),
        (
            r#""weights":{"decimals":99999999999}"#,
            range,
            "weights.decimals",
        ),
        (r#""weights":{"figures":0}"#, range, "weights.figures"),
        (
            r#""weights":{"decimals":1,"figures":3}"#,
            bad,
            "weights.figures",
        ),
        (r#""weights":{"override":["Cl"]}"#, bad, "weights.override"),
        (
            r#""weights":{"override":{"Cl":true}}"#,
            bad,
            "weights.override.Cl",
        ),
        (
            r#""weights":{"override":{"Cl":"0"}}"#,
            range,
            "weights.override.Cl",
        ),
        (
            r#""weights":{"override":{"Cl":-35.5}}"#,
            range,
            "weights.override.Cl",
        ),
        (
            r#""weights":{"override":{"Cl":"35,5"}}"#,
            Some("bad_number"),
            "weights.override.Cl",
        ),
        (
            r#""weights":{"override":{"Xx":"1"}}"#,
            Some("unknown_element"),
            "weights.override.Xx",
        ),
        (r#""weights":[]"#, bad, "weights"),
        (r#""strict":1"#, bad, "strict"),
        (r#""strict":"false""#, bad, "strict"),
    ] {
        fails(&formula(rest), code.unwrap_or_default(), Some(field));
    }
    fails(r#"{"op":"formula"}"#, "missing_field", Some("formula"));
    fails(
        r#"{"op":"formula","formula":null}"#,
        "missing_field",
        Some("formula"),
    );
    fails(
        r#"{"op":"formula","formula":7}"#,
        "bad_request",
        Some("formula"),
    );
    // The misspelt field explains why the other is missing.
    fails(
        r#"{"op":"formula","formla":"NaCl"}"#,
        "unknown_field",
        Some("formla"),
    );
    let help = |line: &str| replies(line)[0]["error"]["help"].clone();
    assert_eq!(help(&formula(r#""wieghts":{}"#)), "did you mean `weights`?");
    assert_eq!(
        help(&formula(r#""weights":{"editon":"2021"}"#)),
        "did you mean `edition`?"
    );

    // A field that is null is as good as left out. A number is read by its digits, like a text.
    let mass = |weights: &str| {
        let reply = replies(formula(&format!("\"strict\":null,\"weights\":{weights}"))).remove(0);
        reply["result"]["molar_mass"].clone()
    };
    assert_eq!(mass("null"), "58.44");
    assert_eq!(mass(r#"{"edition":null,"override":{}}"#), "58.44");
    assert_eq!(mass(r#"{"decimals":1,"override":{"Cl":35.5}}"#), "58.5");
    assert_eq!(mass(r#"{"override":{"Cl":"35.453","Na":2.3e1}}"#), "58.453");
    assert_eq!(mass(r#"{"figures":2}"#), "58");
}

#[test]
fn a_name_in_place_of_a_formula_is_told_its_formula() {
    for (request, field, name, formula) in [
        (
            r#"{"op":"stages","hydrate":"copper(II) sulfate pentahydrate","residues":["CuSO4"]}"#,
            "hydrate",
            "copper(II) sulfate pentahydrate",
            "CuSO4·5H2O",
        ),
        (
            r#"{"op":"stages","hydrate":"CuSO4.5H2O","residues":["copper(II) sulfate"]}"#,
            "residues[0]",
            "copper(II) sulfate",
            "CuSO4",
        ),
        (
            r#"{"op":"dehydration","salt":"magnesium sulfate","net":true,"heated":["2.0"]}"#,
            "salt",
            "magnesium sulfate",
            "MgSO4",
        ),
        (
            r#"{"op":"name","formula":"sodium hydrogencarbonate","strict":true}"#,
            "formula",
            "sodium hydrogencarbonate",
            "NaHCO3",
        ),
    ] {
        let reply = &replies(format!("{request}\n"))[0];
        let error = &reply["error"];
        assert_eq!(error["field"], field, "{reply}");
        assert_eq!(
            error["message"],
            format!("`{name}` is a name, not a formula")
        );
        assert_eq!(error["help"], format!("write its formula: `{formula}`"));
    }
}

#[test]
fn names_are_given_for_a_name_or_a_formula() {
    let name = |rest: &str| format!(r#"{{"op":"name",{rest}}}"#);
    for (rest, code, field) in [
        (r#""strict":true"#, "missing_field", Some("name")),
        (
            r#""name":null,"formula":null"#,
            "missing_field",
            Some("name"),
        ),
        (
            r#""name":"sodium chloride","formula":"NaCl""#,
            "bad_request",
            None,
        ),
        (r#""name":7"#, "bad_request", Some("name")),
        (r#""formula":["NaCl"]"#, "bad_request", Some("formula")),
        (
            r#""name":"sodium chloride","salt":"NaCl""#,
            "unknown_field",
            Some("salt"),
        ),
        (
            r#""name":"sodium chloride","weights":{"edition":"1921"}"#,
            "out_of_range",
            Some("weights.edition"),
        ),
        (r#""name":"""#, "bad_name", Some("name")),
        (
            r#""name":"cobalt chloride hexahydrate""#,
            "bad_name",
            Some("name"),
        ),
        (
            r#""name":"sodium \u0000\ud83d\ude00""#,
            "bad_name",
            Some("name"),
        ),
        (r#""formula":"NaCL""#, "unknown_element", Some("formula")),
        (
            r#""formula":"[Cr(H2O)4Cl2]Cl·2H2O""#,
            "bad_name",
            Some("formula"),
        ),
        (r#""formula":"SO4^2-""#, "bad_name", Some("formula")),
    ] {
        fails(&name(rest), code, field);
    }
    let long = format!("\"name\":\"{}\"", "sodium ".repeat(1000));
    fails(&name(&long), "too_large", Some("name"));

    let error = &replies(name(r#""name":"copper(II) sulfrate pentahydrate""#))[0]["error"];
    assert_eq!(error["span"], json!([11, 19]));
    assert_eq!(error["help"], "did you mean `sulfate`?");
    let result = &replies(name(r#""name":"ferric chloride hexahydrate""#))[0]["result"];
    let expected = json!({
        "formula": "FeCl3·6H2O",
        "name": "iron(III) chloride hexahydrate",
        "systematic": "iron(III) chloride—water (1/6)",
        "notes": [{
            "code": "old_name",
            "values": {"name": "ferric", "read_as": "iron(III)"},
            "text": "`ferric` is an older name of iron(III).",
        }],
    });
    assert_eq!(result, &expected);
    // The notes on the formula's text are in the reply. The strict reader refuses such texts.
    let doubtful = r#""formula":"CUSO4""#;
    let reply = replies(name(doubtful)).remove(0);
    assert_eq!(failure(&reply), ("bad_name", Some("formula")));
    fails(
        &name(&format!("{doubtful},\"strict\":true")),
        "ambiguous_notation",
        Some("formula"),
    );
    let stop = &replies(name(r#""formula":"CoCl2·6H2O.""#))[0]["result"];
    assert_eq!(stop["notes"][0]["code"], "full_stop");
}

#[test]
fn readings_come_in_one_form() {
    let dehydration = |rest: &str| format!(r#"{{"op":"dehydration","salt":"MgSO4",{rest}}}"#);
    let series = r#""crucible":"21.352","crucible_hydrate":"24.018","heated":["22.656"]"#;
    let with = |rest: &str| format!("{series},{rest}");
    let missing = "missing_field";
    for (rest, code, field) in [
        (r#""strict":true"#.to_owned(), missing, "crucible"),
        (
            r#""crucible":"21.352""#.to_owned(),
            missing,
            "crucible_hydrate",
        ),
        (r#""heated":[]"#.to_owned(), missing, "crucible"),
        (
            r#""crucible":"21.352","crucible_hydrate":"24.018""#.to_owned(),
            missing,
            "heated",
        ),
        (
            r#""crucible":"21.352","crucible_hydrate":"24.018","heated":[]"#.to_owned(),
            missing,
            "heated",
        ),
        (
            r#""hydrate_mass":"5.00""#.to_owned(),
            missing,
            "residue_mass",
        ),
        (r#""net":"tared""#.to_owned(), missing, "hydrate_mass"),
        (
            with(r#""percent_water":"51""#),
            "bad_request",
            "percent_water",
        ),
        (
            with(r#""hydrate_mass":"2.666""#),
            "bad_request",
            "hydrate_mass",
        ),
        (with(r#""net":"tared""#), "bad_request", "net"),
        (
            r#""hydrate_mass":5,"residue_mass":3,"net":"gross""#.to_owned(),
            "out_of_range",
            "net",
        ),
        (
            r#""crucible":"21.352","crucible_hydrate":"24.018","heated":"22.656""#.to_owned(),
            "bad_request",
            "heated",
        ),
        (
            r#""crucible":1,"crucible_hydrate":2,"heated":[1.5,"1.5x"]"#.to_owned(),
            "bad_number",
            "heated[1]",
        ),
        (
            r#""crucible":1,"crucible_hydrate":2,"heated":[null]"#.to_owned(),
            "bad_request",
            "heated[0]",
        ),
        (
            r#""crucible":{"g":1},"crucible_hydrate":2,"heated":[]"#.to_owned(),
            "bad_request",
            "crucible",
        ),
        (
            r#""crucible":1e99,"crucible_hydrate":2,"heated":[]"#.to_owned(),
            "out_of_range",
            "crucible",
        ),
        (with(r#""readability":"0""#), "out_of_range", "readability"),
        (
            with(r#""repeatability":-0.1"#),
            "out_of_range",
            "repeatability",
        ),
        (with(r#""coverage":0"#), "out_of_range", "coverage"),
        (
            with(r#""weighing_used":"first""#),
            "out_of_range",
            "weighing_used",
        ),
        (
            with(r#""constant_mass":"0.002""#),
            "bad_request",
            "constant_mass",
        ),
        (
            with(r#""constant_mass":{}"#),
            missing,
            "constant_mass.absolute",
        ),
        (
            with(r#""constant_mass":{"absolut":1}"#),
            "unknown_field",
            "constant_mass.absolut",
        ),
        (
            with(r#""constant_mass":{"absolute":1,"relative":1}"#),
            "bad_request",
            "constant_mass.relative",
        ),
        (
            with(r#""constant_mass":{"per_gram":"-0.1"}"#),
            "out_of_range",
            "constant_mass.per_gram",
        ),
        (
            with(r#""candidates":[7,true]"#),
            "bad_request",
            "candidates[1]",
        ),
        (
            with(r#""candidates":["7","0"]"#),
            "out_of_range",
            "candidates",
        ),
        (with(r#""crucibel":1"#), "unknown_field", "crucibel"),
    ] {
        fails(&dehydration(&rest), code, Some(field));
    }
    for (salt, code) in [
        ("\"MgSO4·7H2O\"", "bad_request"),
        ("\"MgS04\"", "bad_formula"),
        ("\"TcSO4\"", "no_standard_weight"),
        ("4", "bad_request"),
    ] {
        let line = format!(r#"{{"op":"dehydration","salt":{salt},{series}}}"#);
        fails(&line, code, Some("salt"));
    }

    for rest in [
        r#""hydrate_mass":"2.666","residue_mass":"1.303""#,
        r#""percent_water":"51.1""#,
    ] {
        let line = format!(r#"{{"op":"check","issued":"MgSO4·7H2O",{rest}}}"#);
        fails(&line, "missing_field", Some("crucible"));
    }
    let line = format!(r#"{{"op":"check","issued":"MgSO4",{series}}}"#);
    fails(&line, "bad_request", Some("issued"));

    // Texts and numbers, an unknown degree, and all options together are read.
    let same = |line: &str| {
        let reply = replies(line).remove(0);
        assert_eq!(reply["ok"], true, "{reply}");
        reply["result"].clone()
    };
    assert_eq!(
        same(&dehydration(&with(r#""readability":"0.001""#))),
        same(&dehydration(
            r#""crucible":21.352,"crucible_hydrate":2.4018e1,"heated":[22.656],"readability":0.001"#
        )),
    );
    assert_eq!(
        same(&dehydration(series)),
        same(&dehydration(series).replace("\"MgSO4\"", "\"MgSO4·xH2O\"")),
    );
    let all = same(&dehydration(&with(
        r#""readability":0.001,"constant_mass":{"per_gram":0.001},"weighing_used":"lowest",
           "repeatability":"0.003","coverage":"3","candidates":[1,"5/2",7.5],"strict":true"#
            .replace('\n', "")
            .as_str(),
    )));
    let degrees: Vec<&Value> = all["candidates"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|candidate| &candidate["waters"])
        .collect();
    assert_eq!(degrees, ["1", "2.5", "7.5"]);
}

#[test]
fn a_sheet_is_marked_or_refused_as_a_whole() {
    let sheet = |text: &str, rest: &str| {
        let text = json!(text);
        format!(r#"{{"op":"read_sheet","text":{text}{rest}}}"#)
    };
    let text = "bench,hydrate_g,residue_g,reported_ratio\nA,2.666,1.303,6.99\nB,2.7,,7\n";
    let issued = r#","issued":"MgSO4·7H2O""#;
    for (line, code, field) in [
        (sheet(text, ""), "missing_field", "issued"),
        (
            format!(r#"{{"op":"read_sheet"{issued}}}"#),
            "missing_field",
            "text",
        ),
        (sheet("", issued), "bad_sheet", "text"),
        (sheet("PK\u{3}\u{4}\0\0", issued), "bad_sheet", "text"),
        (
            sheet("bench,hydrate_g\nA,2.666\n", issued),
            "bad_sheet",
            "text",
        ),
        (sheet(text, r#","issued":"MgSO4""#), "bad_request", "issued"),
        (
            sheet(text, r#","issued":"MgSO4·xH2O""#),
            "unknown_degree",
            "issued",
        ),
        (
            sheet(text, r#","issued":"TcO2·2H2O""#),
            "no_standard_weight",
            "issued",
        ),
        (
            sheet(text, &format!("{issued},\"policy\":[]")),
            "bad_request",
            "policy",
        ),
        (
            sheet(text, &format!("{issued},\"crucible\":1")),
            "unknown_field",
            "crucible",
        ),
        (
            sheet(text, &format!("{issued},\"readability\":-1")),
            "out_of_range",
            "readability",
        ),
    ] {
        fails(&line, code, Some(field));
    }
    let marked = replies(sheet(text, &format!("{issued},\"coverage\":3"))).remove(0);
    // One bench has no outlier and no scatter. Balances and periods are not compared without columns.
    let expected = json!({"ok": true, "result": {
        "rows": [
            {"bench": "A", "answers": [{"verdict": "correct"}]},
            {"bench": "B", "ratio": null},
        ],
        "problems": [{"line": 3, "bench": "B"}],
        "pooled": {"n": 1},
        "outliers": [], "excess_scatter": null, "by_balance": null, "by_period": null,
    }});
    assert_eq!(differences(&expected, &marked), [""; 0], "{marked}");
}

#[test]
fn a_sheet_has_statistics_of_its_class() {
    let text = "bench,balance,period,hydrate_g,residue_g\n\
        Heron,North,1,2.666,1.303\nWren,North,1,2.701,1.319\nFinch,South,1,2.688,1.315\n\
        Rook,South,1,2.640,1.288\nLark,South,1,2.655,1.560\n";
    let request = json!({"op": "read_sheet", "issued": "MgSO4·7H2O", "text": text});
    let reply = reply(&request);
    let critical = ["~1.715", "~0.710"];
    let expected = json!({"ok": true, "result": {
        "pooled": {"n": 5},
        "pools": [{"issued": "MgSO4·7H2O", "n": 5, "at_constant_mass": {"n": 0}}],
        "outliers": [
            {"bench": "Lark", "among": "all", "test": "grubbs", "critical": critical[0]},
            {"bench": "Lark", "among": "all", "test": "dixon", "critical": critical[1]},
        ],
        "excess_scatter": {"test": "chi_squared_homogeneity", "n": 5, "degrees_of_freedom": 4,
            "critical": "~9.488", "excess": true, "repeatability": 0.003},
        "by_balance": {"North": {"n": 2, "sd": null}, "South": {"n": 3, "interval": null}},
        "by_period": null,
    }});
    assert_eq!(differences(&expected, &reply), [""; 0], "{reply}");
    let result = &reply["result"];
    assert_eq!(result["outliers"].as_array().map(Vec::len), Some(2));
    assert!(
        result["outliers"][0]["statistic"].as_f64() > result["outliers"][0]["critical"].as_f64()
    );
    let scatter = &result["excess_scatter"];
    for number in ["statistic", "p_value", "extra_sd", "weighted_mean"] {
        assert!(scatter[number].is_f64(), "{number}: {scatter}");
    }
}

#[test]
fn statistics_are_of_values_or_from_a_summary() {
    let request = |rest: &str| format!(r#"{{"op":"statistics"{rest}}}"#);
    let many = format!(r#","values":[{}1]"#, "1,".repeat(10_000));
    for (rest, code, field) in [
        ("", "missing_field", "values"),
        (r#","level":0.9"#, "missing_field", "values"),
        (r#","values":"7.02""#, "bad_request", "values"),
        (r#","values":[]"#, "bad_request", "values"),
        (r#","values":["7.02",true]"#, "bad_request", "values[1]"),
        (r#","values":["7.02","7,02"]"#, "bad_number", "values[1]"),
        (r#","values":["7.02",""]"#, "bad_number", "values[1]"),
        (r#","values":["1e99"]"#, "out_of_range", "values[0]"),
        (&many, "too_large", "values"),
        (r#","values":["1"],"mean":"1""#, "bad_request", "mean"),
        (r#","values":["1"],"sd":"1","n":2"#, "bad_request", "sd"),
        (r#","values":["1"],"n":1"#, "bad_request", "n"),
        (r#","value":["1"]"#, "unknown_field", "value"),
        (r#","values":["1"],"tails":1"#, "unknown_field", "tails"),
        (r#","values":["1"],"level":0"#, "out_of_range", "level"),
        (r#","values":["1"],"level":1"#, "out_of_range", "level"),
        (r#","values":["1"],"level":95"#, "out_of_range", "level"),
        (r#","values":["1"],"level":"95 %""#, "bad_number", "level"),
        (r#","values":["1"],"level":[0.9]"#, "bad_request", "level"),
        (r#","sd":"0.1","n":5"#, "missing_field", "mean"),
        (r#","mean":"7","n":5"#, "missing_field", "sd"),
        (r#","mean":"7","sd":"0.1""#, "missing_field", "n"),
        (r#","mean":"7","sd":"-0.1","n":5"#, "out_of_range", "sd"),
        (r#","mean":"7","sd":"0.1","n":1"#, "out_of_range", "n"),
        (r#","mean":"7","sd":"0.1","n":2.5"#, "bad_request", "n"),
        (r#","mean":"7","sd":"0.1","n":1000001"#, "out_of_range", "n"),
        (
            r#","mean":"7","sd":"0.1","n":5,"level":2"#,
            "out_of_range",
            "level",
        ),
    ] {
        fails(&request(rest), code, Some(field));
    }
    let error = |rest: &str| replies(request(rest))[0]["error"].clone();
    assert_eq!(
        error(r#","vaules":["1"]"#)["help"],
        "did you mean `values`?"
    );
    for level in ["0.99999999999999999999", "\"0.99999999999999999999\""] {
        let error = error(&format!(r#","values":["1"],"level":{level}"#));
        let message = "0.99999999999999999999 is too high for a level of confidence";
        assert_eq!(
            (&error["code"], &error["message"]),
            (&json!("out_of_range"), &json!(message))
        );
    }

    #[track_caller]
    fn answers(request: &str, expected: &Value) {
        let reply = replies(request).remove(0);
        assert!(well_formed(&reply), "{reply}");
        let expected = json!({"ok": true, "result": expected});
        assert_eq!(differences(&expected, &reply), [""; 0], "{reply}");
    }
    answers(
        &request(r#","values":["7.02",6.95,"6.98","7.05","5.10"]"#),
        &json!({"n": 5, "mean": "6.62", "median": "6.98", "sd": "~0.85056", "mad": "0.04",
            "t": "~2.776", "half_width": "~1.0561", "interval": ["~5.564", "~7.676"],
            "grubbs": {"suspect": "5.1", "statistic": "~1.787", "critical_two_tailed": "~1.715",
                "critical_one_tailed": "~1.671"},
            "dixon": {"suspect": "5.1", "statistic": "~0.949", "critical_two_tailed": "~0.710",
                "critical_one_tailed": "~0.642"},
            "notes": []}),
    );
    answers(
        &request(r#","values":["0.50"],"level":null"#),
        &json!({"n": 1, "mean": "0.5", "median": "0.5", "sd": null, "mad": null, "t": null,
            "half_width": null, "interval": null, "grubbs": null, "dixon": null}),
    );
    // Equal values have no outlier, and nothing is divided by zero.
    let far = json!({"suspect": null, "statistic": null, "critical_two_tailed": "~1.154"});
    answers(
        &request(r#","values":["7","7.0","7.00"]"#),
        &json!({"sd": 0.0, "half_width": 0.0, "interval": [7.0, 7.0], "grubbs": far,
            "dixon": {"suspect": null, "statistic": null}, "notes": [{"code": "no_spread"}]}),
    );
    answers(
        &request(r#","mean":"3.081","sd":"0.037","n":5,"level":"0.99""#),
        &json!({"n": 5, "mean": "3.081", "sd": 0.037, "t": "~4.604", "half_width": "~0.0762",
            "median": null, "mad": null, "grubbs": null, "dixon": null, "interval": ["~3.005", "~3.157"]}),
    );
}

#[test]
fn a_reply_is_not_much_longer_than_its_request() {
    let elements: String = effloresce::Element::ALL
        .iter()
        .map(ToString::to_string)
        .collect();
    let cells: String = effloresce::Element::ALL
        .iter()
        .filter(|element| element.number() < 93 && element.number() != 43 && element.number() != 61)
        .map(|element| format!("{element}1.234567"))
        .collect();
    let mut longest = 0;
    for formula in [
        "H".repeat(1_000),
        "HO".repeat(200_000),
        elements,
        cells,
        "H2O.".repeat(300) + "H2O",
        "CuSO4·".repeat(20) + "H2O",
        "(H2O)·".repeat(60) + "H2O",
        "(".repeat(50) + "H" + &")9".repeat(50),
        "(".repeat(500) + "H" + &")9".repeat(500),
        "[13C]".repeat(100),
        "H2".repeat(256),
        "H2".repeat(128),
        "(((((((H)))))))".repeat(34),
        "(((((((H)))))))".repeat(17),
        "NaCl".repeat(100) + "^2-",
        "H4294967296".to_owned(),
        "H99999999999999999999999999999999999999".to_owned(),
        "C1/3".repeat(60),
        "Xx<>&\"\\".repeat(5_000),
        "\u{0}".repeat(30_000),
        "é".repeat(30_000),
        "½".repeat(3_000),
    ] {
        let request = json!({"op": "formula", "formula": formula,
            "weights": {"override": {"Tc": "98", "Pm": "145"}}})
        .to_string();
        let line = answers(request.clone()).remove(0);
        assert!(
            line.len() <= request.len() + 20_000,
            "{} bytes for a request of {}: {}",
            line.len(),
            request.len(),
            &request[..request.len().min(300)]
        );
        longest = longest.max(line.len().saturating_sub(request.len()));
    }
    assert!(
        longest > 500,
        "some of these must have been answered at length"
    );
}

// ---- the stream

#[test]
fn a_line_is_answered_while_the_input_stays_open() {
    let mut child = start();
    let mut stdin = child.stdin.take().expect("its input is ours");
    let mut stdout = BufReader::new(child.stdout.take().expect("its output is ours"));
    let (tell, told) = mpsc::channel();
    let reader = thread::spawn(move || {
        let mut line = String::new();
        while stdout.read_line(&mut line).is_ok_and(|read| read > 0) {
            if tell.send(std::mem::take(&mut line)).is_err() {
                break;
            }
        }
    });
    let mut send = |text: &str| {
        stdin
            .write_all(text.as_bytes())
            .and_then(|()| stdin.flush())
    };
    let wait = || {
        told.recv_timeout(Duration::from_secs(30))
            .expect("an answer in time")
    };

    send("{\"id\":1,\"op\":\"levitate\"}\n").expect("the filter reads");
    assert!(wait().starts_with("{\"id\":1,"));
    // The start of the next line must not delay the earlier replies.
    send("{\"id\":2,\"op\":\"levitate\"}\n{\"id\":3,\"op\":\"levitate\"}\n{\"id\":4,")
        .expect("the filter reads");
    assert!(wait().starts_with("{\"id\":2,"));
    assert!(wait().starts_with("{\"id\":3,"));
    send("\"op\":\"levitate\"}").expect("the filter reads");
    // The last line ends with the input.
    drop(stdin);
    assert!(wait().starts_with("{\"id\":4,"));
    reader.join().expect("the reader ends");
    assert!(child.wait().expect("the filter ends").success());
}

#[test]
fn it_ends_quietly() {
    assert!(answers("").is_empty());
    assert!(answers("\n\r\n   \n").is_empty());
    assert_eq!(answers("\u{FEFF}{\"op\":\"levitate\"}\n").len(), 1);

    // Nobody reads the replies any more. The filter ends without a message.
    let mut child = start();
    drop(child.stdout.take());
    let mut stdin = child.stdin.take().expect("its input is ours");
    let line = "{\"op\":\"levitate\"}\n".repeat(10_000);
    // The filter may end before everything is written.
    let _ = stdin.write_all(line.as_bytes());
    drop(stdin);
    let mut complaint = String::new();
    let mut stderr = child.stderr.take().expect("its complaints are ours");
    stderr.read_to_string(&mut complaint).expect("text");
    assert_eq!(complaint, "");
    assert!(child.wait().expect("the filter ends").success());
}
