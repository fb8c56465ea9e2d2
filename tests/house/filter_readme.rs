//! The documentation of the filter: every line in it is replayed, every field is the filter's own.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::process::Command;

use serde_json::{Value, json};

use crate::filter::{answers, reply};
use crate::program::built;
use crate::source::{files, repository};

fn path() -> PathBuf {
    repository().join("examples/jsonl/README.md")
}

fn text() -> String {
    fs::read_to_string(path()).expect("the documentation of the filter")
}

/// The blocks of JSON in the document, as the ranges of their lines.
fn blocks(document: &str) -> Vec<(usize, usize)> {
    let start = "```json\n";
    let starts = document
        .match_indices(start)
        .map(|(at, _)| at + start.len());
    let ends = |from: usize| document[from..].find("```").map(|length| from + length);
    starts
        .map(|from| (from, ends(from).expect("a block ends")))
        .collect()
}

/// The widest line of a reply in the document, if its values allow.
const WIDTH: usize = 100;

/// JSON on as few lines as fit, in its own order.
fn laid_out(json: &str, indent: usize, out: &mut String) {
    let room = WIDTH.saturating_sub(indent);
    let inner = json.get(1..json.len() - 1).unwrap_or_default();
    if json.chars().count() <= room || !json.starts_with(['{', '[']) || inner.is_empty() {
        out.push_str(json);
        return;
    }
    out.push_str(&json[..1]);
    let members = split(inner, ',');
    for (index, member) in members.iter().enumerate() {
        out.push('\n');
        out.push_str(&" ".repeat(indent + 2));
        let mut rest = *member;
        if json.starts_with('{') {
            let key = split(member, ':')[0];
            out.push_str(&format!("{key}: "));
            rest = &member[key.len() + 1..];
        }
        laid_out(rest, indent + 2, out);
        if index + 1 < members.len() {
            out.push(',');
        }
    }
    out.push_str(&format!(
        "\n{}{}",
        " ".repeat(indent),
        &json[json.len() - 1..]
    ));
}

/// The parts of JSON text between separators that are in no text, object or list.
fn split(json: &str, separator: char) -> Vec<&str> {
    let (mut depth, mut quoted, mut escaped, mut from) = (0, false, false, 0);
    let mut parts = Vec::new();
    for (at, c) in json.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => quoted = !quoted,
            _ if quoted => {}
            '{' | '[' => depth += 1,
            '}' | ']' => depth -= 1,
            _ if c == separator && depth == 0 => {
                parts.push(&json[from..at]);
                from = at + 1;
            }
            _ => {}
        }
    }
    parts.push(&json[from..]);
    parts
}

/// The document with the replies that the filter gives now.
fn renewed(document: &str) -> String {
    let blocks = blocks(document);
    let requests = blocks.iter().step_by(2);
    let input: String = requests.map(|(from, to)| &document[*from..*to]).collect();
    let replies = answers(input);
    assert_eq!(
        replies.len() * 2,
        blocks.len(),
        "a reply block for each request"
    );
    let mut out = String::new();
    let mut before = 0;
    for (reply, (from, to)) in replies.iter().zip(blocks.iter().skip(1).step_by(2)) {
        out.push_str(&document[before..*from]);
        laid_out(reply, 0, &mut out);
        out.push('\n');
        before = *to;
    }
    out + &document[before..]
}

/// The requests of the document with the replies that it shows.
fn shown(document: &str) -> Vec<(Value, Value)> {
    let read = |(from, to): &(usize, usize)| -> Value {
        let text = &document[*from..*to];
        serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
    };
    let blocks = blocks(document);
    blocks
        .chunks(2)
        .map(|pair| (read(&pair[0]), read(&pair[1])))
        .collect()
}

#[test]
fn every_line_has_the_reply_that_is_shown() {
    let mut document = text();
    if std::env::var_os("RENEW").is_some() {
        document = renewed(&document);
        fs::write(path(), &document).expect("the document is written");
    }
    let shown = shown(&document);
    let operations: BTreeSet<&str> = shown
        .iter()
        .filter_map(|(line, _)| line["op"].as_str())
        .collect();
    assert_eq!(
        operations,
        listed().iter().map(String::as_str).collect(),
        "a line for each operation"
    );
    for (request, expected) in shown {
        let got = reply(&request);
        assert_eq!(
            got, expected,
            "renew with RENEW=1 if the new reply is right: {request}"
        );
    }
}

#[test]
fn another_reply_than_the_one_shown_is_seen() {
    let document = text()
        .replacen(
            "\"molar_mass\":\"249.677\"",
            "\"molar_mass\":\"249.678\"",
            1,
        )
        .replacen(
            "\"molar_mass\": \"249.677\"",
            "\"molar_mass\": \"249.678\"",
            1,
        );
    let (request, expected) = shown(&document).remove(1);
    assert_eq!(request["formula"], "CuSO4.5H2O");
    assert_ne!(reply(&request), expected);
    let mut out = String::new();
    laid_out(
        &format!("{{\"a\":[1,\"{}\"],\"b\":{{}}}}", ",:]\\\"".repeat(20)),
        0,
        &mut out,
    );
    assert!(out.starts_with("{\n  \"a\": [\n    1,\n    \",:]"), "{out}");
    assert!(out.ends_with("\"\n  ],\n  \"b\": {}\n}"), "{out}");
}

/// The operations that the program lists in its help.
fn listed() -> BTreeSet<String> {
    let output = Command::new(built("jsonl", "jsonl"))
        .arg("--help")
        .output()
        .unwrap();
    assert!(output.status.success());
    let help = String::from_utf8(output.stdout).unwrap();
    let (_, list) = help
        .split_once("Operations (`op`):\n")
        .expect("a list of operations");
    let (list, _) = list.split_once("\n\n").expect("one paragraph");
    list.split(',').map(|name| name.trim().to_owned()).collect()
}

/// The fields in the tables of a section, with those of the sections that it refers to.
fn fields(document: &str, section: &str) -> BTreeSet<String> {
    let (_, rest) = document
        .split_once(&format!("# {section}\n"))
        .expect(section);
    let end = rest.find("\n#").unwrap_or(rest.len());
    let mut found = BTreeSet::new();
    let rows = rest[..end]
        .lines()
        .filter_map(|line| line.strip_prefix("| "));
    for row in rows.take_while(|row| !row.starts_with("field of a row")) {
        let (first, others) = row.split_once(" |").expect("a cell");
        if first == "*all of*" {
            for name in ["Readings", "Method"] {
                if others.contains(&format!("(#{})", name.to_lowercase())) {
                    found.extend(fields(document, name));
                }
            }
        }
        found.extend(first.split('`').skip(1).step_by(2).map(str::to_owned));
    }
    found
}

#[test]
fn every_field_is_in_its_table() {
    let document = text();
    let envelope = fields(&document, "Requests and replies");
    let unlike = "a_field_that_is_like_no_other_field_of_any_operation";
    // The fields that the filter itself lists.
    let listed_by = |request: Value| -> BTreeSet<String> {
        let help = reply(&request)["error"]["help"].clone();
        let help = help.as_str().expect("a help");
        assert!(help.starts_with("the fields are "), "{help}");
        help.split('`')
            .skip(1)
            .step_by(2)
            .map(str::to_owned)
            .collect()
    };
    for op in listed() {
        let own = fields(&document, &format!("`{op}`"));
        let all: BTreeSet<String> = own.union(&envelope).cloned().collect();
        let no_member =
            |name: &&String| !["code", "message", "field", "span", "help"].contains(&name.as_str());
        let all: BTreeSet<String> = all.iter().filter(no_member).cloned().collect();
        assert_eq!(all, listed_by(json!({"op": op, unlike: 1})), "{op}");
    }
    for (section, field, rest) in [
        (
            "Atomic weights",
            "weights",
            json!({"op": "formula", "formula": "H2O"}),
        ),
        (
            "Policy",
            "policy",
            json!({"op": "read_sheet", "issued": "MgSO4·7H2O", "text": ""}),
        ),
    ] {
        let mut request = rest;
        request[field] = json!({unlike: 1});
        assert_eq!(fields(&document, section), listed_by(request), "{section}");
    }
}

#[test]
fn members_of_fields_are_named_with_them() {
    let document = text();
    let unlike = "a_member_that_is_like_no_other_member_of_any_field";
    let other = json!({unlike: 1});
    let marked =
        json!({"op": "mark", "issued": "MgSO4·7H2O", "percent_water": "51", "reported": {}});
    let with = |field: &str, value: Value| {
        let mut request = marked.clone();
        request[field] = value;
        request
    };
    for (section, request) in [
        (
            "`limiting`",
            json!({"op": "limiting", "equation": "H2 -> H2", "amounts": {"H2": other}}),
        ),
        (
            "`limiting`",
            json!({"op": "limiting", "equation": "H2 -> H2", "amounts": {}, "actual": other}),
        ),
        (
            "`class`",
            json!({"op": "class", "issued": "MgSO4·7H2O", "rows": [other]}),
        ),
        ("Method", with("constant_mass", other.clone())),
        ("Policy", with("reported", other.clone())),
        (
            "Policy",
            with("policy", json!({"tolerance": {"ratio": other}})),
        ),
        ("Policy", with("policy", json!({"accuracy": [other]}))),
    ] {
        let error = reply(&request)["error"].clone();
        assert_eq!(error["code"], "unknown_field", "{request}");
        let help = error["help"].as_str().expect("a help");
        let (_, rest) = document
            .split_once(&format!("# {section}\n"))
            .expect(section);
        let (_, readings) = document.split_once("# Readings\n").expect("a section");
        for name in help.split('`').skip(1).step_by(2) {
            let named = |text: &str| {
                let text = &text[..text.find("\n#").unwrap_or(text.len())];
                text.contains(&format!("`{name}`")) || text.contains(&format!("\"{name}\""))
            };
            assert!(
                named(rest) || (section == "`class`" && named(readings)),
                "{section}: {name}"
            );
        }
    }
}

#[test]
fn every_code_of_an_error_is_explained() {
    let document = text();
    let mut codes = BTreeSet::new();
    // The kinds of errors and their codes: `NotANumber => "bad_number",`
    for source in files(&repository().join("src")) {
        if source.ends_with("error.rs") {
            let source = fs::read_to_string(source).unwrap();
            let ends = source.split("=> \"").skip(1);
            let named = ends
                .filter_map(|end| end.split_once("\","))
                .map(|(code, _)| code);
            codes.extend(named.filter(|code| !code.contains(' ')).map(str::to_owned));
        }
    }
    assert!(
        codes.len() > 15 && codes.contains("many_balances"),
        "{codes:?}"
    );
    let unexplained = codes
        .iter()
        .filter(|code| !document.contains(&format!("\n| `{code}` | ")));
    assert_eq!(unexplained.collect::<Vec<_>>(), [""; 0]);
}

#[test]
fn the_documentation_is_named_by_its_path() {
    for document in ["README.md", "src/lib.rs"] {
        let text = fs::read_to_string(repository().join(document)).unwrap();
        assert!(text.contains("examples/jsonl/README.md"), "{document}");
    }
}
