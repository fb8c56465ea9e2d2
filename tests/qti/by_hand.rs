//! The evaluator against items that are written by hand from the standard: what they must give, and faults that it
//! must refuse.

use super::evaluator::{Item, Outcomes};
use super::value::{Overflow, Value};

/// An item with two numbers, a text and a choice, and these rules.
fn written(rules: &str) -> String {
    let response = |name: &str, of: &str, more: &str| {
        format!(
            r#"<qti-response-declaration identifier="{name}" cardinality="single" base-type="{of}">{more}</qti-response-declaration>"#
        )
    };
    let outcome = |name: &str, of: &str, more: &str| {
        format!(
            r#"<qti-outcome-declaration identifier="{name}" cardinality="single" base-type="{of}">{more}</qti-outcome-declaration>"#
        )
    };
    let correct = |value: &str| {
        format!("<qti-correct-response><qti-value>{value}</qti-value></qti-correct-response>")
    };
    let mapping = r#"<qti-mapping default-value="-1" lower-bound="0"><qti-map-entry map-key="A" mapped-value="0.5"/></qti-mapping>"#;
    [
        r#"<?xml version="1.0" encoding="UTF-8"?>"#,
        r#"<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="item" title="An item" adaptive="false" time-dependent="false">"#,
        &response("X", "float", &correct("51.17")),
        &response("Y", "float", ""),
        &response("WORD", "string", &correct("MgSO4")),
        &response("CHOICE", "identifier", &(correct("A") + mapping)),
        &outcome("SCORE", "float", ""),
        &outcome("COUNT", "integer", "<qti-default-value><qti-value>7</qti-value></qti-default-value>"),
        &outcome("SAYS", "identifier", ""),
        "<qti-item-body><p>Enter a number.</p></qti-item-body>",
        "<qti-response-processing>",
        rules,
        "</qti-response-processing></qti-assessment-item>",
    ]
    .concat()
}

fn refusal(rules: &str) -> Option<String> {
    Item::read(written(rules).as_bytes()).err()
}

fn outcomes(rules: &str, entered: &[(&str, &str)]) -> Outcomes {
    let item = Item::read(written(rules).as_bytes());
    let item = item.unwrap_or_else(|error| panic!("{error}: {rules}"));
    item.outcomes(entered, Overflow::Null)
}

/// The value of an expression that is a number, with 6 and -2.5 entered.
fn number(expression: &str) -> Value {
    let rules = format!(
        r#"<qti-set-outcome-value identifier="SCORE">{expression}</qti-set-outcome-value>"#
    );
    outcomes(&rules, &[("X", "6"), ("Y", "-2.5"), ("CHOICE", "A")]).0["SCORE"].clone()
}

/// `Some` truth of a statement, or `None` for NULL.
fn truth(statement: &str, entered: &[(&str, &str)]) -> Option<bool> {
    let says = |name: &str| {
        format!(
            r#"<qti-set-outcome-value identifier="SAYS"><qti-base-value base-type="identifier">{name}</qti-base-value></qti-set-outcome-value>"#
        )
    };
    let rules = format!(
        "<qti-response-condition><qti-response-if>{statement}{}</qti-response-if>\
         <qti-response-else-if><qti-not>{statement}</qti-not>{}</qti-response-else-if>\
         <qti-response-else>{}</qti-response-else></qti-response-condition>",
        says("YES"),
        says("NO"),
        says("NEITHER")
    );
    match outcomes(&rules, entered).identifier("SAYS") {
        "YES" => Some(true),
        "NO" => Some(false),
        "NEITHER" => None,
        other => panic!("{other}"),
    }
}

fn variable(name: &str) -> String {
    format!(r#"<qti-variable identifier="{name}"/>"#)
}

fn float(value: &str) -> String {
    format!(r#"<qti-base-value base-type="float">{value}</qti-base-value>"#)
}

fn of(name: &str, parts: &[String]) -> String {
    format!("<{name}>{}</{name}>", parts.concat())
}

fn equal(attributes: &str, first: &str) -> String {
    format!(
        "<qti-equal {attributes}>{}{}</qti-equal>",
        float(first),
        variable("X")
    )
}

#[test]
fn numbers_are_worked_out() {
    let (x, y) = (variable("X"), variable("Y"));
    for (name, parts, value) in [
        ("qti-sum", vec![x.clone(), y.clone(), float("1")], 4.5),
        ("qti-product", vec![x.clone(), y.clone()], -15.0),
        ("qti-subtract", vec![x.clone(), y.clone()], 8.5),
        ("qti-divide", vec![x.clone(), y.clone()], -2.4),
        ("qti-min", vec![x.clone(), y.clone()], -2.5),
        ("qti-max", vec![x.clone(), y.clone()], 6.0),
        ("qti-product", vec![x.clone()], 6.0),
    ] {
        assert_eq!(number(&of(name, &parts)), Value::Float(value), "{name}");
    }
    let abs = format!(r#"<qti-math-operator name="abs">{y}</qti-math-operator>"#);
    assert_eq!(number(&abs), Value::Float(2.5));
    assert_eq!(
        number(r#"<qti-map-response identifier="CHOICE"/>"#),
        Value::Float(0.5)
    );
    assert_eq!(
        number(r#"<qti-correct identifier="X"/>"#),
        Value::Float(51.17)
    );
    // Halves go up.
    let round = of("qti-integer-to-float", &[of("qti-round", &[y])]);
    assert_eq!(number(&round), Value::Float(-2.0));
}

#[test]
fn null_is_handed_on() {
    let zero = of("qti-subtract", &[variable("X"), variable("X")]);
    assert_eq!(number(&of("qti-divide", &[float("1"), zero])), Value::Null);
    let lost = of("qti-divide", &[float("1"), float("0")]);
    assert_eq!(
        number(&of("qti-sum", &[float("1"), lost.clone()])),
        Value::Null
    );
    assert_eq!(
        number(&of("qti-max", &[lost.clone(), float("1")])),
        Value::Null
    );
    let missing = of("qti-is-null", &[variable("X")]);
    let small = of("qti-lt", &[variable("X"), float("5")]);
    let yes = r#"<qti-base-value base-type="boolean">true</qti-base-value>"#.to_owned();
    for text in ["", "abc", "51,17", "1e999", "-", "🧪"] {
        assert_eq!(truth(&missing, &[("X", text)]), Some(true), "{text}");
        assert_eq!(truth(&small, &[("X", text)]), None, "{text}");
        assert_eq!(
            truth(&of("qti-not", std::slice::from_ref(&small)), &[("X", text)]),
            None
        );
        assert_eq!(
            truth(
                &of("qti-and", &[small.clone(), yes.clone()]),
                &[("X", text)]
            ),
            None
        );
        assert_eq!(
            truth(
                &of("qti-and", &[small.clone(), missing.clone()]),
                &[("X", text)]
            ),
            None
        );
        assert_eq!(
            truth(
                &of("qti-or", &[small.clone(), missing.clone()]),
                &[("X", text)]
            ),
            Some(true)
        );
        let found = of("qti-not", std::slice::from_ref(&missing));
        assert_eq!(
            truth(
                &of("qti-and", &[small.clone(), found.clone()]),
                &[("X", text)]
            ),
            Some(false)
        );
        assert_eq!(
            truth(&of("qti-or", &[small.clone(), found]), &[("X", text)]),
            None
        );
    }
    assert_eq!(truth(&missing, &[]), Some(true));
    assert_eq!(truth(&missing, &[("X", "0")]), Some(false));
    // An empty text is NULL, too.
    assert_eq!(
        truth(&of("qti-is-null", &[variable("WORD")]), &[("WORD", "")]),
        Some(true)
    );
}

#[test]
fn the_distance_is_measured_from_the_first_value() {
    let absolute = r#"tolerance-mode="absolute" tolerance="1 0.25""#;
    for (entered, right) in [
        ("9", true),
        ("8.999999", false),
        ("10.25", true),
        ("10.250001", false),
    ] {
        assert_eq!(
            truth(&equal(absolute, "10"), &[("X", entered)]),
            Some(right),
            "{entered}"
        );
    }
    let one = r#"tolerance-mode="absolute" tolerance="0.5""#;
    let relative = r#"tolerance-mode="relative" tolerance="10 5""#;
    let open = r#"tolerance-mode="absolute" tolerance="0.5" include-lower-bound="false" include-upper-bound="false""#;
    let exact = r#"tolerance-mode="exact""#;
    for (attributes, entered, right) in [
        (one, "9.5", true),
        (one, "10.5", true),
        (one, "10.51", false),
        (relative, "9", true),
        (relative, "10.5", true),
        (relative, "10.6", false),
        (open, "9.5", false),
        (open, "10.5", false),
        (open, "10.4", true),
        (exact, "10", true),
        (exact, "10.000001", false),
        ("", "10.0", true),
    ] {
        let found = truth(&equal(attributes, "10"), &[("X", entered)]);
        assert_eq!(found, Some(right), "{attributes}: {entered}");
    }
    assert_eq!(truth(&equal(absolute, "10"), &[]), None);
}

#[test]
fn numbers_texts_and_identifiers_are_compared() {
    let compare = |name: &str, entered| {
        let statement = of(name, &[variable("X"), float("5")]);
        truth(&statement, &[("X", entered)]).unwrap()
    };
    for (name, holds) in [
        ("qti-lt", [true, false, false]),
        ("qti-lte", [true, true, false]),
        ("qti-gt", [false, false, true]),
        ("qti-gte", [false, true, true]),
    ] {
        assert_eq!(
            ["4.9", "5", "5.1"].map(|x| compare(name, x)),
            holds,
            "{name}"
        );
    }
    let word =
        |text: &str| format!(r#"<qti-base-value base-type="string">{text}</qti-base-value>"#);
    let said = of("qti-match", &[variable("WORD"), word("MgSO4")]);
    assert_eq!(truth(&said, &[("WORD", "MgSO4")]), Some(true));
    assert_eq!(truth(&said, &[("WORD", "mgso4")]), Some(false));
    let names = of("qti-multiple", &[word("MgSO4"), word("SO4Mg")]);
    let one_of = of("qti-member", &[variable("WORD"), names]);
    assert_eq!(truth(&one_of, &[("WORD", "SO4Mg")]), Some(true));
    assert_eq!(truth(&one_of, &[("WORD", "S04Mg")]), Some(false));
    assert_eq!(truth(&one_of, &[]), None);
    let any_case = format!(
        r#"<qti-string-match case-sensitive="false">{}{}</qti-string-match>"#,
        variable("WORD"),
        word("MgSO4")
    );
    assert_eq!(truth(&any_case, &[("WORD", "mgso4")]), Some(true));
    let pattern = format!(
        r#"<qti-pattern-match pattern="[0-9]+[,.][0-9]+">{}</qti-pattern-match>"#,
        variable("WORD")
    );
    assert_eq!(truth(&pattern, &[("WORD", "51,17")]), Some(true));
    assert_eq!(truth(&pattern, &[("WORD", "51,17 g")]), Some(false));
    let chosen = of(
        "qti-match",
        &[
            variable("CHOICE"),
            r#"<qti-correct identifier="CHOICE"/>"#.into(),
        ],
    );
    assert_eq!(truth(&chosen, &[("CHOICE", "A")]), Some(true));
    assert_eq!(truth(&chosen, &[("CHOICE", "B")]), Some(false));
    assert_eq!(truth(&chosen, &[]), None);
}

#[test]
fn the_first_branch_that_is_true_is_taken_and_an_exit_ends_the_rules() {
    let set = |value: &str| {
        format!(
            r#"<qti-set-outcome-value identifier="SCORE">{}</qti-set-outcome-value>"#,
            float(value)
        )
    };
    let below = |limit: &str| of("qti-lt", &[variable("X"), float(limit)]);
    let rules = format!(
        "<qti-response-condition><qti-response-if>{}{}</qti-response-if>\
         <qti-response-else-if>{}{}<qti-exit-response/></qti-response-else-if></qti-response-condition>{}",
        below("1"),
        set("1"),
        below("2"),
        set("2"),
        of(
            "qti-response-condition",
            &[of("qti-response-if", &[below("3"), set("3")])]
        )
    );
    for (entered, score) in [("0", 3.0), ("1", 2.0), ("2", 3.0), ("3", 0.0), ("x", 0.0)] {
        let found = outcomes(&rules, &[("X", entered)]);
        assert_eq!(
            (found.number("SCORE"), found.number("COUNT")),
            (score, 7.0),
            "{entered}"
        );
    }
}

#[test]
fn what_the_standard_does_not_have_is_refused() {
    let set = |identifier: &str, value: &str| {
        format!(
            r#"<qti-set-outcome-value identifier="{identifier}">{value}</qti-set-outcome-value>"#
        )
    };
    let when = |condition: &str| {
        of(
            "qti-response-condition",
            &[of("qti-response-if", &[condition.into()])],
        )
    };
    let identifier = r#"<qti-base-value base-type="identifier">A</qti-base-value>"#;
    let faults = [
        set("NOT_DECLARED", &float("1")),
        set("X", &float("1")),
        set("SCORE", identifier),
        set("SAYS", &float("1")),
        set("COUNT", &float("1")),
        set("SCORE", &of("qti-round", &[float("1")])),
        set("SCORE", &variable("NOT_DECLARED")),
        set("SCORE", r#"<qti-correct identifier="SCORE"/>"#),
        set("SCORE", r#"<qti-map-response identifier="X"/>"#),
        set("SCORE", &of("qti-plus", &[float("1"), float("1")])),
        set("SCORE", &of("qti-divide", &[float("1")])),
        set(
            "SCORE",
            &of("qti-subtract", &[float("1"), float("1"), float("1")]),
        ),
        set("SCORE", &of("qti-sum", &[])),
        set("SCORE", &of("qti-sum", &[float("1"), variable("WORD")])),
        set("SCORE", &float("1,5")),
        set("SCORE", &float(" 1")),
        set("SCORE", &(float("1") + &float("2"))),
        set(
            "SCORE",
            r#"<qti-base-value base-type="real">1</qti-base-value>"#,
        ),
        set("SCORE", r#"<qti-variable identifier="X" of="Y"/>"#),
        format!("{}and more", set("SCORE", "")),
        when(&variable("X")),
        when(&of("qti-match", &[variable("X"), float("1")])),
        when(&of("qti-match", &[variable("WORD"), identifier.into()])),
        when(&of("qti-member", &[variable("WORD"), variable("WORD")])),
        when(&of("qti-and", &[variable("X")])),
        when(&of("qti-lt", &[variable("WORD"), float("1")])),
        when(&equal(r#"tolerance-mode="absolute""#, "1")),
        when(&equal(r#"tolerance="1 1""#, "1")),
        when(&equal(r#"tolerance-mode="absolute" tolerance="-1 1""#, "1")),
        when(&equal(r#"tolerance-mode="about" tolerance="1 1""#, "1")),
        when(&equal(
            r#"tolerance-mode="absolute" tolerance="1 1 1""#,
            "1",
        )),
        when(&format!(
            r#"<qti-pattern-match pattern="a">{}</qti-pattern-match>"#,
            variable("X")
        )),
        when(&format!(
            r#"<qti-pattern-match pattern="^a$">{}</qti-pattern-match>"#,
            variable("WORD")
        )),
        when(""),
        "<qti-response-condition/>".into(),
        of("qti-response-condition", &["<qti-response-else/>".into()]),
        "<qti-response-else/>".into(),
        "<qti-print/>".into(),
    ];
    for fault in faults {
        assert!(refusal(&fault).is_some(), "{fault}");
    }
    let good = written("");
    assert!(Item::read(good.as_bytes()).is_ok());
    for (from, to) in [
        (r#"identifier="Y""#, r#"identifier="X""#),
        (r#"identifier="Y""#, r#"identifier="SCORE""#),
        (r#"identifier="Y""#, r#"identifier="2""#),
        (r#"base-type="float""#, r#"base-type="number""#),
        ("<qti-value>51.17", "<qti-value>51,17"),
        ("<qti-value>7", "<qti-value>7.5"),
        ("<qti-value>7</qti-value>", ""),
        (
            "<qti-response-processing>",
            r#"<qti-response-processing template="t">"#,
        ),
        ("</qti-item-body>", ""),
    ] {
        let fault = good.replacen(from, to, 1);
        assert_ne!(fault, good, "{from}");
        assert!(Item::read(fault.as_bytes()).is_err(), "{from}");
    }
}
