//! The JSON-lines contract: its examples, replayed through the built filter.

use std::collections::BTreeMap;

use effloresce::Ratio;
use effloresce::number::TieRule;
use serde_json::value::RawValue;
use serde_json::{Value, json};

use crate::filter::replies;

/// The contract's own examples, byte for byte.
const EXAMPLES: &str = include_str!("contract_examples.jsonl");

/// How many examples of each operation are answered as the contract shows.
const ANSWERED: [(&str, usize); 22] = [
    ("(bad line)", 2),
    ("balance", 8),
    ("check", 8),
    ("class", 1),
    ("dehydration", 7),
    ("empirical", 1),
    ("exercise", 2),
    ("factor", 4),
    ("formula", 34),
    ("heat", 1),
    ("identify", 2),
    ("levitate", 1),
    ("limiting", 4),
    ("mark", 16),
    ("mixture", 1),
    ("name", 2),
    ("plan", 1),
    ("read_sheet", 1),
    ("round", 2),
    ("stages", 1),
    ("stand_in", 1),
    ("statistics", 1),
];

/// Every path at which `got` differs from `expected`.
pub(crate) fn differences(expected: &Value, got: &Value) -> Vec<String> {
    let mut found = Vec::new();
    compare(expected, got, "reply", &mut found);
    found
}

fn compare(expected: &Value, got: &Value, path: &str, found: &mut Vec<String>) {
    match (expected, got) {
        (Value::Object(wanted), Value::Object(members)) => {
            for (key, value) in wanted {
                let path = format!("{path}.{key}");
                match members.get(key) {
                    Some(member) => compare(value, member, &path, found),
                    None => found.push(format!("{path} is not there")),
                }
            }
        }
        (Value::Array(wanted), Value::Array(items)) if wanted.iter().any(Value::is_object) => {
            for (place, value) in wanted.iter().enumerate() {
                let path = format!("{path}[{place}]");
                match items.get(place) {
                    Some(item) => compare(value, item, &path, found),
                    None => found.push(format!("{path} is not there")),
                }
            }
        }
        // Other lists are values: whole, but a quantity in one may still be rounded.
        (Value::Array(wanted), Value::Array(items)) if wanted.len() == items.len() => {
            for (place, (value, item)) in wanted.iter().zip(items).enumerate() {
                compare(value, item, &format!("{path}[{place}]"), found);
            }
        }
        (Value::String(text), _) if text.starts_with('~') => {
            if !rounds_to(got, &text[1..]) {
                found.push(format!("{path} is {got}, not about {}", &text[1..]));
            }
        }
        _ if expected == got => {}
        _ => found.push(format!("{path} is {got}, not {expected}")),
    }
}

/// Whether a quantity, rounded by either rule to the places of `shown`, equals it.
fn rounds_to(got: &Value, shown: &str) -> bool {
    let text = match got {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.to_string(),
        _ => return false,
    };
    let places = shown.split_once('.').map_or(0, |(_, places)| places.len());
    let places = i32::try_from(places).expect("an example shows few digits");
    let wanted: Ratio = shown.parse().expect("an example shows a number");
    let Ok(value) = text.parse::<Ratio>() else {
        return false;
    };
    [TieRule::Even, TieRule::AwayFromZero]
        .iter()
        .any(|ties| value.to_places(places, *ties).value() == wanted)
}

#[test]
fn the_examples_of_the_contract() {
    let mut input = String::new();
    let mut wanted = Vec::new();
    for line in EXAMPLES.lines() {
        let example: BTreeMap<&str, Box<RawValue>> =
            serde_json::from_str(line).expect("an example is JSON");
        let request: Value = serde_json::from_str(example["request"].get()).expect("JSON");
        let (op, line) = match &request {
            Value::String(line) => ("(bad line)".to_owned(), line.clone()),
            _ => (
                request["op"].as_str().expect("an operation").to_owned(),
                example["request"].get().to_owned(),
            ),
        };
        input.push_str(&line);
        input.push('\n');
        let shown: Value = serde_json::from_str(example["reply"].get()).expect("JSON");
        wanted.push((op, line, shown));
    }
    let replies = replies(input);
    assert_eq!(replies.len(), wanted.len(), "a reply to each line");

    let mut answered: BTreeMap<&str, usize> = BTreeMap::new();
    let mut faults = Vec::new();
    for ((op, line, shown), reply) in wanted.iter().zip(&replies) {
        *answered.entry(op).or_default() += 1;
        let mut different = differences(shown, reply);
        if !well_formed(reply) {
            different.push("the envelope is not as it should be".to_owned());
        }
        if !different.is_empty() {
            faults.push(format!("{line}\n  {}\n  {reply}", different.join("\n  ")));
        }
    }
    assert!(
        faults.is_empty(),
        "{} of {} examples differ:\n{}",
        faults.len(),
        wanted.len(),
        faults.join("\n")
    );
    assert_eq!(answered, BTreeMap::from(ANSWERED));
}

/// The envelope of a reply: `id`, `ok` and one of `result` and `error`, the latter complete, and
/// nothing else.
pub(crate) fn well_formed(reply: &Value) -> bool {
    let Some(members) = reply.as_object() else {
        return false;
    };
    let ok = reply["ok"] == true;
    let body = if ok { "result" } else { "error" };
    let named = |key: &String| matches!(key.as_str(), "id" | "ok") || key == body;
    if members.len() != 3 || !members.keys().all(named) || !reply[body].is_object() {
        return false;
    }
    ok || {
        let error = &reply["error"];
        let text = |key: &str| error[key].as_str().is_some_and(|text| !text.is_empty());
        let spoken = ["bad_formula", "unbalanced_bracket", "unknown_element"];
        text("code")
            && text("message")
            && (error.get("help").is_some()
                || !spoken.contains(&error["code"].as_str().unwrap_or_default()))
    }
}

// ---- the comparison can fail

#[track_caller]
fn differ(expected: &Value, got: &Value, message: &str) {
    assert_eq!(differences(expected, got), [message]);
}

#[test]
fn a_wrong_digit_is_seen() {
    let got = json!({"result": {"ratio": "6.988806224", "z": -0.0949, "third": "1/3"}});
    for fits in ["~6.988806", "~6.99", "~7"] {
        assert!(differences(&json!({"result": {"ratio": fits}}), &got).is_empty());
    }
    assert!(differences(&json!({"result": {"z": "~-0.09", "third": "~0.333"}}), &got).is_empty());
    differ(
        &json!({"result": {"ratio": "~6.988807"}}),
        &got,
        "reply.result.ratio is \"6.988806224\", not about 6.988807",
    );
    differ(
        &json!({"result": {"ratio": "6.988806"}}),
        &got,
        "reply.result.ratio is \"6.988806224\", not \"6.988806\"",
    );
    differ(
        &json!({"result": {"ratio": "~6.98"}}),
        &got,
        "reply.result.ratio is \"6.988806224\", not about 6.98",
    );
    // Halfway both rules are accepted, but no other digit.
    let tie = json!("2.345");
    assert!(rounds_to(&tie, "2.34") && rounds_to(&tie, "2.35"));
    assert!(!rounds_to(&tie, "2.33") && !rounds_to(&tie, "2.36"));
    assert!(!rounds_to(&Value::Null, "0") && !rounds_to(&json!("about 7"), "7"));
}

#[test]
fn a_missing_field_is_seen() {
    let got = json!({"ok": true, "result": {"parts": [{"a": 1}], "sd": null, "list": [1, 2]}});
    differ(
        &json!({"result": {"ratio": null}}),
        &got,
        "reply.result.ratio is not there",
    );
    differ(
        &json!({"result": {"sd": 1}}),
        &got,
        "reply.result.sd is null, not 1",
    );
    differ(
        &json!({"result": {"parts": [{"a": 1}, {"a": 2}]}}),
        &got,
        "reply.result.parts[1] is not there",
    );
    differ(
        &json!({"result": {"parts": [{"b": 1}]}}),
        &got,
        "reply.result.parts[0].b is not there",
    );
    assert!(differences(&json!({"result": {"parts": []}}), &got).len() == 1);
    differ(
        &json!({"result": {"list": [1]}}),
        &got,
        "reply.result.list is [1,2], not [1]",
    );
}

#[test]
fn a_wrong_code_is_seen() {
    let got = json!({"id": 1, "ok": false, "error": {"code": "bad_formula", "span": [3, 4]}});
    differ(
        &json!({"id": 1, "ok": false, "error": {"code": "unknown_element"}}),
        &got,
        "reply.error.code is \"bad_formula\", not \"unknown_element\"",
    );
    differ(
        &json!({"error": {"span": [3, 5]}}),
        &got,
        "reply.error.span[1] is 4, not 5",
    );
    differ(&json!({"id": "1"}), &got, "reply.id is 1, not \"1\"");
    assert!(!well_formed(&got), "no message, no help");
    assert!(!well_formed(
        &json!({"id": 1, "ok": true, "result": {}, "more": 1})
    ));
    assert!(!well_formed(&json!({"id": 1, "ok": true, "error": {}})));
}
