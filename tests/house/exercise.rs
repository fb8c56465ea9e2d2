//! The operation `exercise`, and every problem of it solved again by the filter itself.

use std::collections::BTreeMap;
use std::fs;

use effloresce::Ratio;
use effloresce::exercise::{ErrorKind, Exercises, Kind, Level, Template};
use effloresce::number::TieRule;
use serde::Deserialize;
use serde_json::value::RawValue;
use serde_json::{Value, json};

use crate::filter::{answers, replies, reply};
use crate::operation::{answered, codes, merged, refused};
use crate::source::repository;

/// The operation that solves a kind of problem, as the contract says.
fn operation(kind: Kind) -> &'static str {
    match kind {
        Kind::PercentWater | Kind::MolarMass => "formula",
        Kind::FormulaFromMasses | Kind::FormulaFromPercent | Kind::FormulaFromWeighings => {
            "dehydration"
        }
        Kind::SampleMass | Kind::Limiting | Kind::Yield => "limiting",
        Kind::ErrorAnalysis => "class",
        other => other.code(),
    }
}

/// The levels that a kind has.
fn levels(kind: Kind) -> Vec<Level> {
    let has = |level: &Level| match Exercises::new(1).kinds([kind]).level(*level).problem(0) {
        Ok(problem) => {
            assert_eq!(problem.level(), *level);
            true
        }
        Err(error) => {
            assert_eq!(error.kind(), ErrorKind::Level, "{kind}: {error}");
            let named = error.help().expect("a help").to_string();
            assert!(named.starts_with("give level "), "{named}");
            false
        }
    };
    Level::ALL.into_iter().filter(has).collect()
}

/// A value of a result as it is printed in an answer.
fn printed(value: &Value, answer: &str) -> String {
    let text = match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    let number = answer
        .bytes()
        .all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-'));
    match (number, text.parse::<Ratio>()) {
        (true, Ok(value)) => {
            let places = answer.split_once('.').map_or(0, |(_, places)| places.len());
            let places = i32::try_from(places).unwrap();
            value.to_places(places, TieRule::Even).to_string()
        }
        _ => text,
    }
}

fn list(value: &Value) -> Vec<&str> {
    match value {
        Value::Array(values) => values.iter().map(|value| value.as_str().unwrap()).collect(),
        one => vec![one.as_str().unwrap()],
    }
}

/// Compares what the filter replies to the request of a problem with the answers of the problem.
fn solves(reply: &Value, problem: &Value) {
    assert_eq!(reply["ok"], true, "{problem}\n{reply}");
    let (pointers, answers) = (list(&problem["asks"]), list(&problem["answer"]));
    assert_eq!(pointers.len(), answers.len(), "{problem}");
    for (pointer, answer) in pointers.into_iter().zip(answers) {
        let value = reply["result"].pointer(pointer).expect(pointer);
        assert_eq!(printed(value, answer), answer, "{pointer}: {problem}");
    }
}

/// A reply with its problems as they were sent: members in a request have an order.
#[derive(Deserialize)]
struct SetReply {
    result: SetResult,
}

#[derive(Deserialize)]
struct SetResult {
    problems: Vec<Box<RawValue>>,
}

#[derive(Deserialize)]
struct WithRequest {
    request: Box<RawValue>,
}

/// How many problems of each kind and level are solved again.
const EACH: usize = 20;

#[test]
fn anybody_can_solve_every_problem_again() {
    let mut asked = Vec::new();
    let mut problems = Vec::new();
    for kind in Kind::ALL {
        for level in levels(kind) {
            let request = json!({
                "op": "exercise", "kind": kind.code(), "level": level.number(), "seed": 20, "count": EACH,
            });
            let line = answers(format!("{request}\n")).remove(0);
            let reply: SetReply = serde_json::from_str(&line).expect(&line);
            let set = reply.result.problems.into_iter().map(|problem| {
                let shown: Value = serde_json::from_str(problem.get()).unwrap();
                let asked: WithRequest = serde_json::from_str(problem.get()).unwrap();
                (shown, asked.request.get().to_owned())
            });
            let set: Vec<(Value, String)> = set.collect();
            asked.push((kind, level));
            problems.extend(
                set.into_iter()
                    .map(|problem| (kind, level, problem.0, problem.1)),
            );
        }
    }
    let input: String = problems
        .iter()
        .map(|(_, _, _, request)| format!("{request}\n"))
        .collect();
    let mut solved: BTreeMap<(Kind, Level), usize> = BTreeMap::new();
    for ((kind, level, problem, _), reply) in problems.iter().zip(&replies(input)) {
        assert_eq!(problem["kind"], kind.code());
        assert_eq!(problem["level"], level.number());
        assert_eq!(problem["request"]["op"], operation(*kind), "{problem}");
        solves(reply, problem);
        *solved.entry((*kind, *level)).or_default() += 1;
    }
    let every = asked.iter().map(|which| (*which, EACH)).collect();
    assert_eq!(solved, every);
    // All fifteen kinds, and all levels that they have.
    assert!(solved.len() >= 40, "{solved:?}");
}

/// The templates in the folder of examples, and the one of the README.
fn templates() -> Vec<(String, Template)> {
    let read = |name: &str| fs::read_to_string(repository().join(name)).expect(name);
    let readme = read("README.md");
    let in_readme = readme.split("```toml\nkind = ").nth(1).expect("a template");
    let in_readme = in_readme.split("```").next().unwrap_or_default();
    let texts = [
        read("examples/data/template_precipitate.toml"),
        read("examples/data/template_water.toml"),
        format!("kind = {in_readme}"),
    ];
    texts
        .into_iter()
        .map(|text| {
            let template = Template::read(&text).unwrap_or_else(|error| panic!("{error}"));
            (text, template)
        })
        .collect()
}

#[test]
fn anybody_can_solve_the_problems_of_templates_again() {
    for (text, template) in templates() {
        let notes = template.check();
        assert!(notes.is_empty(), "{text}\n{notes:?}");
        let set = Exercises::new(20)
            .templates([template])
            .set(EACH)
            .expect(&text);
        let requests = set.problems().iter().map(|problem| {
            let request = serde_json::to_string(problem.request()).unwrap();
            format!("{request}\n")
        });
        let replies = replies(requests.collect::<String>());
        assert_eq!(replies.len(), EACH);
        for (problem, reply) in set.problems().iter().zip(&replies) {
            solves(reply, &serde_json::to_value(problem).unwrap());
        }
    }
}

fn ask(with: &Value) -> Value {
    merged(
        json!({"op": "exercise", "kind": "percent_water", "seed": 1}),
        with,
    )
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    let request = format!("{}\n", ask(&json!({"count": 10})));
    assert_eq!(answers(request.clone()), answers(request));
    let five = answered(&ask(&json!({"count": 5})));
    let ten = answered(&ask(&json!({"count": 10})));
    assert_eq!(
        five["problems"].as_array().unwrap()[..],
        ten["problems"].as_array().unwrap()[..5]
    );
    assert_eq!(five["generator"], ten["generator"]);
    // A seed of 64 bits may be a text.
    let number = answered(&ask(&json!({"seed": u64::MAX})));
    let text = answered(&ask(&json!({"seed": u64::MAX.to_string()})));
    assert_eq!(number, text);
    assert_ne!(number["problems"], five["problems"]);
}

#[test]
fn an_authors_choices() {
    let kinds = answered(&merged(
        json!({"op": "exercise", "seed": 3, "count": 4}),
        &json!({"kinds": ["percent_water", "molar_mass"]}),
    ));
    let problems = kinds["problems"].as_array().unwrap();
    let order: Vec<&str> = problems
        .iter()
        .map(|problem| problem["kind"].as_str().unwrap())
        .collect();
    assert_eq!(
        order,
        ["percent_water", "molar_mass", "percent_water", "molar_mass"]
    );

    let only = ["BaCl2·2H2O", "barium chloride dihydrate", "BaCl2"];
    for salt in only {
        let result = answered(&ask(&json!({"salts": [salt], "level": 1, "count": 5})));
        for problem in result["problems"].as_array().unwrap() {
            let formula = problem["request"]["formula"].as_str().unwrap();
            assert!(formula.starts_with("BaCl2·"), "{problem}");
        }
        let avoided = answered(&ask(&json!({"avoid": [salt], "count": 60})));
        assert!(!avoided["problems"].to_string().contains("BaCl2"));
    }
    // A formula that is probably a misprint is noted.
    let noted = answered(&ask(&json!({"avoid": ["BaCl2.2H20"]})));
    assert!(!codes(&noted["notes"]).is_empty(), "{noted}");

    let comma = answered(&ask(&json!({"decimal_mark": ",", "level": 1})));
    let point = answered(&ask(&json!({"decimal_mark": "point", "level": 1})));
    let (comma, point) = (&comma["problems"][0], &point["problems"][0]);
    let with_comma = point["answer"].as_str().unwrap().replace('.', ",");
    assert_eq!(comma["answer"], with_comma);
    assert_eq!(comma["request"], point["request"]);

    let weights = json!({"decimals": 1, "override": {"Cl": "35.5"}});
    let table = answered(&ask(&json!({"weights": weights})));
    let stated = &table["problems"][0]["request"]["weights"];
    assert_eq!(stated["decimals"], 1);
    assert_eq!(stated["override"]["Cl"], "35.5");
}

#[test]
fn what_is_wrong_is_named() {
    let long = vec!["percent_water"; 101];
    for (with, code, field, help) in [
        (json!({"kind": "guess"}), "out_of_range", "kind", ""),
        (
            json!({"kind": null}),
            "missing_field",
            "kind",
            "`kinds` for several in turn",
        ),
        (
            json!({"kind": null, "kinds": []}),
            "missing_field",
            "kinds",
            "",
        ),
        (
            json!({"kind": null, "kinds": ["percent_water", "guess"]}),
            "out_of_range",
            "kinds[1]",
            "",
        ),
        (
            json!({"kinds": ["percent_water"]}),
            "bad_request",
            "kinds",
            "",
        ),
        (
            json!({"kind": null, "kinds": long}),
            "too_large",
            "kinds",
            "",
        ),
        (json!({"seed": null}), "missing_field", "seed", "such as 3"),
        (json!({"seed": -1}), "out_of_range", "seed", ""),
        (json!({"seed": "1.5"}), "bad_number", "seed", ""),
        (
            json!({"seed": "18446744073709551616"}),
            "out_of_range",
            "seed",
            "",
        ),
        (
            json!({"level": 4}),
            "out_of_range",
            "level",
            "between 1 and 3",
        ),
        (json!({"level": "1"}), "bad_request", "level", ""),
        (json!({"count": 0}), "out_of_range", "count", "10000"),
        (json!({"count": 10_001}), "out_of_range", "count", ""),
        (json!({"salts": "BaCl2"}), "bad_request", "salts", "["),
        (
            json!({"salts": ["BaCl2", "Xx"]}),
            "bad_name",
            "salts[1]",
            "",
        ),
        (
            json!({"salts": ["BaCl2"], "avoid": ["BaCl2"]}),
            "out_of_range",
            "salts",
            "name more salts",
        ),
        (
            json!({"readability": "0.03"}),
            "out_of_range",
            "readability",
            "0.01",
        ),
        (
            json!({"decimal_mark": ";"}),
            "out_of_range",
            "decimal_mark",
            "",
        ),
        (
            json!({"salt": ["BaCl2"]}),
            "unknown_field",
            "salt",
            "`salts`",
        ),
    ] {
        refused(&ask(&with), code, Some(field), help);
    }
}

#[test]
fn a_set_may_be_large() {
    let set = reply(&ask(&json!({"count": 300})));
    assert_eq!(set["result"]["problems"].as_array().unwrap().len(), 300);
}
