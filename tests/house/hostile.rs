//! One hostile name at every outlet: nothing that it holds reaches a terminal or a page as it is.

use std::fs;

use effloresce::class::{Marker, Policy, Sheet};
use effloresce::gravimetry::Method;
use effloresce::mistake::Slip;
use effloresce::{Element, Formula, Reading, reaction::Equation};
use serde_json::{Value, json};

use crate::answer_key::{ISSUED, run};
use crate::answer_key_options::sound_markdown;
use crate::filter::answers;
use crate::page::text_of;
use crate::ran::{folder, sheet};

/// Colours, a cleared screen, a bell, lines of its own, a reversed line; a spreadsheet's formula; a
/// table row, a heading, HTML, an image and links in Markdown.
const HOSTILE: &str = "=1\u{1b}[31m\u{9b}2J\u{7}\u{8}\u{7f}\u{202e}\u{2066}\u{ad}\u{e0041}\u{3164}x\u{200f}\n\
    answer_key: done\r## h\u{2028}| a |\u{85}<img src=x>![i](u)[l](u)https://a.example www.a.example\
    \u{feff}";

/// What is shown as an escape. The other white space of the name becomes blanks.
const ESCAPED: [char; 11] = [
    '\u{1b}',
    '\u{9b}',
    '\u{7}',
    '\u{8}',
    '\u{7f}',
    '\u{202e}',
    '\u{2066}',
    '\u{ad}',
    '\u{200f}',
    '\u{e0041}',
    '\u{3164}',
];

/// Asserts that a text has no character that is hidden, but for the ends of its lines.
#[track_caller]
fn clean(outlet: &str, text: &str) {
    assert!(!text.is_empty(), "{outlet} is empty");
    let harmful = |c: char| {
        c != '\n' && (c.is_control() || (HOSTILE.contains(c) && !c.is_ascii() || c == '\u{2029}'))
    };
    if let Some(at) = text.find(harmful) {
        panic!("{outlet}: {}", text[at..].escape_debug());
    }
}

/// Asserts also that what is hidden is shown.
#[track_caller]
fn shows(outlet: &str, text: &str) {
    clean(outlet, text);
    // Lines are broken within words, too.
    let text: String = text.split_whitespace().collect();
    for c in ESCAPED {
        let escape = c.escape_unicode().to_string();
        let shown = text.contains(&escape) || text.replace('\\', "").contains(&escape[1..]);
        assert!(shown, "{outlet} does not show {escape}: {text}");
    }
}

/// A sheet with the name wherever a sheet has text: the bench, the pupil, headers, answers, numbers.
fn hostile_sheet() -> String {
    let cell = format!("\"{HOSTILE}\"");
    let mut text = format!(
        "{cell}\nbench,pupil,balance,period,notes,hydrate_g,residue_g,reported_ratio,reported_formula,{cell}\n"
    );
    for (masses, ratio) in [("2.666,1.303", "6.99"), ("2.7,1.3", &cell)] {
        text.push_str(&format!(
            "{cell},{cell},{cell},{cell},{cell},{masses},{ratio},{cell},{cell}\n"
        ));
    }
    text + &format!("Wren,{cell},,,,2.880,{cell},7.00,,\n")
}

#[test]
fn every_text_of_the_answer_key() {
    let path = sheet("hostile.csv", &hostile_sheet());
    let policy = sheet("hostile.toml", "tolerance = { ratio = { absolute = 0.5 } }");
    let here = folder("hostile");
    let (marks, strips) = (here.join("marks.csv"), here.join("strips.txt"));
    let on = |options: &[&str]| {
        let mut all = vec![path.to_str().unwrap(), ISSUED[0], ISSUED[1]];
        all.extend(options);
        run(&all)
    };
    let [marks_path, strips_path] = [&marks, &strips].map(|path| path.to_str().unwrap());
    let key = on(&["--marks", marks_path, "--feedback", strips_path]);
    shows("the key", &key.out);
    shows("standard error", &key.err);
    let own = key
        .err
        .lines()
        .all(|line| line.starts_with("answer_key: line "));
    assert!(own, "a line that the program did not begin: {}", key.err);
    shows("the strips", &fs::read_to_string(&strips).unwrap());
    let pages = ["report.html", "strips.html"].map(|name| here.join(name));
    let [report, strips] = [&pages[0], &pages[1]].map(|path| path.to_str().unwrap());
    on(&["--html", report, "--feedback", strips]);
    for page in &pages {
        let page = fs::read_to_string(page).unwrap();
        shows("a page", &page);
        text_of(&page);
    }

    let marks = fs::read_to_string(&marks).unwrap();
    // A gradebook begins with a byte-order mark if it is not ASCII.
    let marks = marks.strip_prefix('\u{feff}').unwrap_or(&marks);
    shows("the gradebook", marks);
    let mut reader = csv::Reader::from_reader(marks.as_bytes());
    for record in reader.records().map(Result::unwrap) {
        assert_eq!(record.len(), 18);
        for cell in &record {
            assert!(!cell.starts_with(['=', '+', '-', '@']), "a formula: {cell}");
        }
    }

    let markdown = on(&["--markdown"]).out;
    shows("Markdown", &markdown);
    sound_markdown(&markdown);
    for sign in ["<", "[i]", "[l]", "://", "www."] {
        for (at, _) in markdown.match_indices(sign) {
            let at = if sign == "www." { at + 3 } else { at };
            assert!(
                markdown[..at].ends_with('\\'),
                "{sign}: {}",
                &markdown[at..]
            );
        }
    }

    shows("the period", &on(&["--during"]).out);
    for form in ["--json", "--markdown", "--constant-mass=1"] {
        let changes = on(&["--before", policy.to_str().unwrap(), form]);
        clean("the changes", &(changes.out + &changes.err));
    }
    let json = on(&["--json"]).out;
    clean("JSON", &json);
    let json: Value = serde_json::from_str(&json).unwrap();
    // JSON has an escape of its own, so nothing is lost.
    let bench = json["rows"][0]["bench"].as_str().unwrap();
    assert!(ESCAPED.iter().all(|c| bench.contains(*c)), "{bench:?}");
}

#[test]
fn every_text_of_the_command_line() {
    let policy = sheet("hostile_key.toml", "\"=1\\u001b[31m\\u202e\\nx\" = 1");
    let class = sheet(
        "hostile_short.csv",
        "bench,hydrate_g,residue_g\nWren,2.666,1.303\n",
    );
    let class = class.to_str().unwrap();
    let map = format!("{HOSTILE}=bench");
    for arguments in [
        vec![HOSTILE, "--issued", "MgSO4.7H2O"],
        vec![class, "--issued", HOSTILE],
        vec![class, "--issued", "MgSO4.7H2O", "--map", HOSTILE],
        vec![class, "--issued", "MgSO4.7H2O", "--map", &map, "--during"],
        vec!["--constant-mass", HOSTILE],
        vec!["--policy", HOSTILE],
        vec!["--policy", policy.to_str().unwrap()],
        vec!["--marks", HOSTILE],
        vec!["--feedback", HOSTILE],
        vec![class, HOSTILE],
    ] {
        let ran = run(&arguments);
        if ran.status == 0 {
            clean("standard output", &ran.out);
        } else {
            clean("standard error", &ran.err);
            assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
        }
    }
}

#[test]
fn every_text_of_the_library() {
    fn error<T>(result: Result<T, impl Into<effloresce::Error>>, text: &str) -> String {
        let Err(error) = result.map_err(Into::into) else {
            panic!("{text:?} is refused");
        };
        let (help, caret) = (error.help().unwrap_or_default(), error.caret(text));
        format!("{error}\n{help}\n{caret}\n")
    }
    let hydrate = format!("MgSO4·{HOSTILE}");
    for text in [HOSTILE, &hydrate, &HOSTILE[1..], "12.5\u{1b}", "x\u{202e}y"] {
        clean("a number", &error(text.parse::<Reading>(), text));
        clean("a formula", &error(text.parse::<Formula>(), text));
        clean("a name", &error(Formula::from_name(text), text));
        clean("an element", &error(text.parse::<Element>(), text));
        clean("an equation", &error(text.parse::<Equation>(), text));
        clean("a code", &error(text.parse::<Slip>(), text));
        clean("a policy", &error(Policy::from_toml(text), text));
        clean("a sheet", &error(Sheet::read(text.as_bytes()), text));
        let mapped = Sheet::reader().map_column(text, text);
        clean("a mapping", &error(mapped.read(&b""[..]), text));
    }
    let sheet = Sheet::read(hostile_sheet().as_bytes()).unwrap();
    let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let problems = marked.problems().iter();
    let problems: Vec<String> = problems
        .map(|one| format!("{one}{}", one.message()))
        .collect();
    shows("the problems", &problems.join("\n"));
    let notes = marked.notes().iter();
    let notes: Vec<&str> = notes.map(effloresce::Note::text).collect();
    shows("the notes", &notes.join("\n"));
    for row in marked.rows() {
        let feedback: Vec<String> = row.feedback().iter().map(ToString::to_string).collect();
        let feedback = feedback.join("\n");
        clean("the feedback", &feedback);
        assert!(!feedback.contains("\\u{a}"), "on one line: {feedback}");
        for answer in row.answers() {
            clean("a reason", &answer.reason());
        }
    }
}

#[test]
fn every_reply_of_the_filter() {
    let requests = [
        json!({"op": "read_sheet", "issued": "MgSO4.7H2O", "text": hostile_sheet()}),
        json!({"op": "class", "issued": "MgSO4.7H2O", "rows": [{
            "bench": HOSTILE, "pupil": HOSTILE, "hydrate_mass": "2.666", "residue_mass": "1.303",
            "reported": {"ratio": HOSTILE, "formula": HOSTILE},
        }]}),
        json!({"op": "formula", "formula": HOSTILE}),
        json!({"op": "name", "name": HOSTILE}),
        json!({"op": "balance", "equation": HOSTILE}),
        json!({"op": "round", "value": HOSTILE, "figures": 2}),
        json!({"op": HOSTILE}),
        json!({"op": "formula", HOSTILE: 1}),
        json!(HOSTILE),
    ];
    let lines: Vec<String> = requests
        .into_iter()
        .map(|mut request| {
            if let Some(members) = request.as_object_mut() {
                members.insert("id".into(), HOSTILE.into());
            }
            request.to_string() + "\n"
        })
        .collect();
    let answers = answers(lines.concat());
    assert_eq!(answers.len(), lines.len());
    for answer in &answers {
        clean("a reply", answer);
    }
    let reply: Value = serde_json::from_str(&answers[0]).unwrap();
    assert_eq!(reply["id"], HOSTILE);
    let bench = reply["result"]["rows"][0]["bench"].as_str().unwrap();
    assert!(ESCAPED.iter().all(|c| bench.contains(*c)), "{bench:?}");
}
