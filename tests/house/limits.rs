//! Requests that ask for too much: each has one reply of bounded length, in bounded memory.

use std::io::{BufRead, BufReader, Write};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::filter::{answers, start};

/// The most bytes by which a reply is longer than its request.
const LONGER: usize = 40_000;

/// The most bytes of a reply for each row of a class.
const A_ROW: usize = 8_000;

/// Sends requests, and checks the length of their replies. Returns the codes of those that failed.
#[track_caller]
fn bounded(requests: &[Value]) -> Vec<String> {
    let lines: Vec<String> = requests.iter().map(Value::to_string).collect();
    let began = Instant::now();
    let replies = answers(lines.join("\n") + "\n");
    assert!(
        began.elapsed() < Duration::from_secs(60),
        "{:?}",
        began.elapsed()
    );
    assert_eq!(replies.len(), lines.len());
    let each = requests.iter().zip(&lines).zip(&replies);
    each.map(|((request, line), reply)| {
        let rows = |request: &Value| match (&request["rows"], &request["text"]) {
            (Value::Array(rows), _) => rows.len(),
            (_, Value::String(text)) => text.lines().count().saturating_sub(1),
            _ => 0,
        };
        let most = match request["op"].as_str() {
            Some("class" | "read_sheet") => LONGER + A_ROW * rows(request),
            Some("re_mark") => LONGER + A_ROW * rows(&request["after"]),
            _ => LONGER + line.len(),
        };
        let shown: String = line.chars().take(300).collect();
        assert!(
            reply.len() <= most,
            "{} bytes, not {most}, for {shown}",
            reply.len()
        );
        let reply: Value = serde_json::from_str(reply).expect("a reply is JSON");
        match reply["error"]["code"].as_str() {
            Some(code) => code.to_owned(),
            None => String::new(),
        }
    })
    .collect()
}

/// An object with `n` members.
fn object(n: usize, member: impl Fn(usize) -> (String, Value)) -> Value {
    Value::Object((0..n).map(member).collect())
}

/// A number of 28 digits.
const LONG: &str = "1.234567890123456789012345678";

#[test]
fn too_many_parts_are_refused_before_any_is_read() {
    let parts = |value: Value| object(100_000, |n| (format!("C{}H", n + 1), value.clone()));
    let mut combustion = parts(json!("1.0"));
    combustion["sample"] = json!("1");
    let values = vec![LONG; 100_000];
    let row = json!({"bench": "A", "hydrate_mass": "2.666", "residue_mass": "1.303"});
    let text = "bench,hydrate_g,residue_g\n".to_owned() + &"A,2.666,1.303\n".repeat(50_000);
    let sheet = json!({"issued": "MgSO4·7H2O", "text": text});
    let codes = bounded(&[
        json!({"op": "re_mark", "before": sheet, "after": sheet}),
        json!({"op": "empirical", "masses": parts(json!("1.0"))}),
        json!({"op": "empirical", "percent": parts(json!("1.0"))}),
        json!({"op": "empirical", "combustion": combustion}),
        json!({"op": "limiting", "equation": "H2 + O2 -> H2O", "amounts": parts(json!({"mol": "1"}))}),
        json!({"op": "balance", "equation": "H2 + O2 -> H2O", "fixed": parts(json!(1))}),
        json!({"op": "formula", "formula": "H2O", "weights": {"override": parts(json!(1))}}),
        json!({"op": "dehydration", "salt": "MgSO4", "crucible": "1", "crucible_hydrate": "3",
            "heated": values}),
        json!({"op": "check", "issued": "MgSO4·7H2O", "crucible": "1", "crucible_hydrate": "3",
            "heated": values}),
        json!({"op": "dehydration", "salt": "MgSO4", "percent_water": "51", "candidates": values}),
        json!({"op": "statistics", "values": values}),
        json!({"op": "class", "issued": "MgSO4·7H2O", "rows": vec![row; 100_000]}),
    ]);
    assert!(codes.iter().all(|code| code == "too_large"), "{codes:?}");
}

/// An `id` is repeated with escapes for its hidden characters, which are longer.
#[test]
fn an_id_is_not_much_longer_in_its_reply() {
    for c in ["\u{85}", "\u{202e}", "\u{e0041}"] {
        let request = |count| json!({"id": c.repeat(count), "op": "formula", "formula": "H2O"});
        // Not escaped as a request, as a program may send it.
        let [many, few] = [100_000, 1000].map(request);
        assert_eq!(bounded(&[many.clone(), few.clone()]), ["too_large", ""]);
        let reply = answers(format!("{many}\n{few}\n"));
        let reply = reply
            .iter()
            .map(|line| serde_json::from_str::<Value>(line).unwrap());
        let ids: Vec<Value> = reply.map(|reply| reply["id"].clone()).collect();
        assert_eq!(ids, [Value::Null, few["id"].clone()]);
    }
}

/// One more than a limit is as much too large as a thousand more.
#[test]
fn one_more_than_a_limit_is_too_large() {
    let parts = |n| object(n, |n| (format!("C{}H", n + 1), json!("1.0")));
    let degrees = |n: usize| (1..=n).map(|degree| json!(degree)).collect::<Vec<_>>();
    let request = |n| json!({"op": "dehydration", "salt": "MgSO4", "percent_water": "51", "candidates": degrees(n)});
    let codes = bounded(&[
        json!({"op": "empirical", "masses": parts(51)}),
        json!({"op": "empirical", "percent": parts(51)}),
        request(50),
        request(51),
    ]);
    assert_eq!(codes, ["too_large", "too_large", "", "too_large"]);
}

#[test]
fn long_texts_and_numbers_have_short_replies() {
    let long = "\u{1}\"\\é".repeat(50_000);
    let mut requests: Vec<Value> = Vec::new();
    for op in [
        "balance",
        "class",
        "formula",
        "name",
        "nothing",
        "read_sheet",
    ] {
        let rows = json!([{"bench": long, "pupil": long, "reported": {"formula": long}}]);
        requests.push(match op {
            "class" => json!({"op": op, "issued": "MgSO4·7H2O", "rows": rows}),
            "read_sheet" => json!({"op": op, "issued": "MgSO4·7H2O", "text": long}),
            _ => json!({"op": op, "formula": long, "equation": long, "name": long}),
        });
        requests.push(json!({"op": op, "equation": long}));
        requests.push(json!({"op": op, "formula": long}));
        requests.push(json!({"op": op, long.as_str(): 1, "rows": [], "text": ""}));
    }
    requests.push(json!({"op": long, "id": long}));
    requests.push(json!({"op": "round", "value": LONG, "places": 100}));
    requests.push(json!({"op": "round", "value": format!("{LONG}e-3"), "figures": 100}));
    requests.push(
        json!({"op": "round", "value": format!("{}/{}", LONG.replace('.', ""), "7".repeat(28)),
        "places": 100}),
    );
    requests.push(json!({"op": "statistics", "values": vec![LONG; 10_000]}));
    requests.push(
        json!({"op": "stand_in", "issued": "MgSO4·7H2O", "seed": "9".repeat(100_000),
        "readability": "1e-28", "sample_mass": LONG}),
    );
    let heated: Vec<String> = (0..1000).map(|n| format!("2.{n:027}")).collect();
    let fraction = |n: usize| format!("{}/{}", 7 * n + 1, "9".repeat(28));
    requests.push(
        json!({"op": "dehydration", "salt": "MgSO4", "crucible": LONG,
        "crucible_hydrate": "3.234567890123456789012345678", "heated": heated,
        "candidates": (0..50).map(fraction).collect::<Vec<_>>()}),
    );
    requests.push(
        json!({"op": "check", "issued": "MgSO4·7H2O", "crucible": LONG,
        "crucible_hydrate": "3.234567890123456789012345678", "heated": heated}),
    );
    bounded(&requests);
}

#[test]
fn equations_and_analyses_with_everything_in_them() {
    let elements = effloresce::Element::ALL;
    let pairs = |n: usize| elements[..n].iter().zip(&elements[1..]);
    let species: Vec<String> = pairs(63).map(|(a, b)| format!("{a}97{b}89")).collect();
    let equation = |n: usize| format!("{} -> H2O", species[..n].join(" + "));
    let long = elements[..40]
        .iter()
        .map(|e| format!("{e}0.123456789"))
        .collect::<String>();
    let mut requests = Vec::new();
    for equation in [
        equation(63),
        equation(49),
        format!("{long} + O2 -> {long}O2"),
        "H2 + O2 + C + N2 + S -> ".to_owned() + &species.join(" + "),
    ] {
        let fixed = json!({species[0].as_str(): "9".repeat(28)});
        requests.push(json!({"op": "balance", "equation": equation, "fixed": fixed}));
        requests.push(json!({"op": "balance", "equation": equation}));
        let amounts = object(49, |n| {
            (species[n].clone(), json!({"mass": LONG, "mol": null}))
        });
        requests.push(json!({"op": "limiting", "equation": equation, "amounts": amounts}));
    }
    let alike: Vec<String> = (1..=32).map(|n| format!("H{n}")).collect();
    let alike = format!("{} -> {}", alike.join(" + "), alike.join(" + "));
    requests.push(json!({"op": "balance", "equation": alike}));
    requests.push(json!({"op": "limiting", "equation": "C + O2 -> CO2",
        "amounts": {"C": {"mol": "1e30"}, "O2": {"mol": "1e-30"}}}));
    requests.push(json!({"op": "limiting", "equation": alike, "amounts": {"H": {"mol": LONG}}}));
    for field in ["masses", "percent"] {
        let parts = object(50, |n| {
            (
                elements[n].to_string(),
                json!(format!("{}{LONG}", n % 9 + 1)),
            )
        });
        requests.push(json!({"op": "empirical", field: parts, "molar_mass": "1e9"}));
        requests.push(json!({"op": "empirical", field: {long.as_str(): LONG, "H2O": "1e-20"}}));
    }
    requests.push(
        json!({"op": "dehydration", "salt": long, "crucible": "1", "crucible_hydrate": "3",
        "heated": ["2"], "candidates": (1..=50).map(|n| format!("{n}/7")).collect::<Vec<_>>()}),
    );
    requests.push(
        json!({"op": "check", "issued": format!("{long}·7H2O"), "crucible": "1",
        "crucible_hydrate": "3", "heated": ["2"]}),
    );
    requests.push(
        json!({"op": "mark", "issued": format!("{long}·7H2O"), "hydrate_mass": "3",
        "residue_mass": "2", "reported": {"formula": long, "ratio": LONG}}),
    );
    bounded(&requests);
}

/// A row with an answer to everything, of this text and as long as is read.
fn full_row(bench: usize, text: &str) -> Value {
    let answer = text.repeat(1000 / text.len());
    let name = format!("{}{bench:03}", &answer[..answer.len() - 3]);
    json!({"bench": name, "pupil": name, "balance": name, "period": name, "crucible": "21.352",
        "crucible_hydrate": "24.018", "heated": ["23.701", "23.900", "22.155"],
        "reported": {"hydrate_mass": "2666", "residue_mass": "26.26", "water_mass": "1.373",
            "percent_water": "104.6", "mol_salt": "1.083", "mol_water": "0.148", "ratio": "0.1431",
            "formula": answer}})
}

#[test]
fn the_reply_about_a_class_is_bounded_by_its_rows() {
    let rows = |n: usize, text: &str| (0..n).map(|row| full_row(row, text)).collect::<Vec<_>>();
    let class =
        |rows: Vec<Value>| json!({"op": "class", "issued": "KAl(SO4)2·12H2O", "rows": rows});
    let quoted = class(rows(30, "\""));
    let hidden = class(rows(30, "\u{1}"));
    let plain = class(rows(30, "x"));
    let short = class(
        rows(400, "x")
            .into_iter()
            .map(|mut row| {
                for (name, text) in [
                    ("bench", "Finch"),
                    ("pupil", "F1"),
                    ("balance", "B"),
                    ("period", "1"),
                ] {
                    row[name] = json!(text);
                }
                row["reported"]["formula"] = json!("KAl(SO4)212H2O");
                row
            })
            .collect(),
    );
    let codes = bounded(&[quoted, hidden.clone(), plain, short.clone()]);
    assert_eq!((&*codes[1], &*codes[3]), ("too_large", ""), "{codes:?}");

    let answers = "9.999,".repeat(8);
    let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,reported_hydrate_g,reported_residue_g,\
                reported_water_g,reported_percent_water,reported_mol_salt,reported_mol_water,\
                reported_ratio,reported_formula";
    let sheet = |row: String, extra: &str| {
        let text = format!("{head}{extra}\n{}", format!("{row}\n").repeat(50));
        json!({"op": "read_sheet", "issued": "MgSO4·7H2O", "text": text})
    };
    let cells = ["\u{1}", "\"\"", "x", "=1/0"].map(|cell| cell.repeat(100));
    let mut requests: Vec<Value> = cells
        .iter()
        .map(|cell| {
            sheet(
                format!("{}\"{cell}\"", format!("\"{cell}\",").repeat(11)),
                "",
            )
        })
        .collect();
    let many: String = (0..980).map(|n| format!(",column number {n}")).collect();
    requests.push(sheet(format!("A,21.352,24.018,22.656,{answers}"), &many));
    requests.push(sheet(format!("{},1,2", "A".repeat(1_000_000)), ""));
    bounded(&requests);

    let mut marked = short.clone();
    marked["policy"] = json!({"marks": {"ratio": 3, "formula": 0}, "figures": "one_mark"});
    bounded(&[
        json!({"op": "re_mark", "before": short, "after": marked}),
        json!({"op": "re_mark", "before": hidden, "after": short_again(&marked)}),
    ]);
}

/// The request with other answers.
fn short_again(class: &Value) -> Value {
    let mut class = class.clone();
    for row in class["rows"].as_array_mut().expect("rows") {
        row["reported"]["ratio"] = json!("6.99");
    }
    class
}

/// The most memory that a filter has used when it has answered a request, in bytes.
#[cfg(target_os = "linux")]
fn peak_memory(request: &Value) -> usize {
    let mut child = start();
    let mut stdin = child.stdin.take().expect("its input is ours");
    let mut stdout = BufReader::new(child.stdout.take().expect("its output is ours"));
    writeln!(stdin, "{request}").expect("the filter reads");
    let mut reply = String::new();
    stdout.read_line(&mut reply).expect("a reply");
    assert!(
        reply.starts_with("{\"id\":null,\"ok\":true,"),
        "{}",
        &reply[..200]
    );
    // The filter waits for the next line, so that its figures can be read.
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id()));
    let status = status.expect("the status of a process");
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = peak.and_then(|line| line.split_whitespace().next());
    drop(stdin);
    assert!(child.wait().expect("the filter ends").success());
    1024 * kilobytes
        .and_then(|n| n.parse::<usize>().ok())
        .expect("a number of kB")
}

#[cfg(target_os = "linux")]
#[test]
fn memory_stays_below_twenty_times_the_input() {
    let readings = |n: usize| format!("22.7{:02}", n % 100);
    let answers = [
        ("hydrate_mass", "2.666"),
        ("residue_mass", "1.303"),
        ("water_mass", "1.363"),
        ("percent_water", "51.12"),
        ("mol_salt", "0.01083"),
        ("mol_water", "0.07566"),
        ("ratio", "6.99"),
        ("formula", "MgSO4.7H2O"),
    ];
    let sheet = |rows: usize| {
        let mut text = String::from(
            "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_hydrate_g,\
             reported_residue_g,reported_water_g,reported_percent_water,reported_mol_salt,\
             reported_mol_water,reported_ratio,reported_formula\n",
        );
        let answers = answers.map(|(_, answer)| answer).join(",");
        for n in 0..rows {
            let heated = readings(n);
            text += &format!("Bench {n},P{n},21.352,24.018,{heated},22.655,{answers}\n");
        }
        json!({"op": "read_sheet", "issued": "MgSO4·7H2O", "text": text})
    };
    let class = |rows: usize| {
        let row = |n: usize| {
            let answers = answers.map(|(quantity, answer)| (quantity.to_owned(), json!(answer)));
            json!({"bench": format!("Bench {n}"), "pupil": format!("P{n}"), "crucible": "21.352",
                "crucible_hydrate": "24.018", "heated": [readings(n), "22.655"],
                "reported": Value::Object(answers.into_iter().collect())})
        };
        json!({"op": "class", "issued": "MgSO4·7H2O", "rows": (0..rows).map(row).collect::<Vec<_>>()})
    };
    for request in [&sheet as &dyn Fn(usize) -> Value, &class] {
        // What any class needs is in both.
        let (small, large) = (request(300), request(1_500));
        let used = peak_memory(&large) - peak_memory(&small);
        let sent = large.to_string().len() - small.to_string().len();
        let shown = format!("{}: {used} bytes for {sent}", large["op"]);
        println!("{shown}, {:.1} times", used as f64 / sent as f64);
        assert!(used < 20 * sent, "{shown}");
    }
}
