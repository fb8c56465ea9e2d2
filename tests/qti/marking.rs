//! What pupils earn: the key, each wrong option, both edges of the tolerance, commas, and garbage.

use std::collections::BTreeMap;

use effloresce::exercise::Kind;
use effloresce::number::Ratio;

use super::body::seen;
use super::pupil::{Entered, bare, text_of};
use super::sets::{each, is_worked_out};
use super::value::{Base, number};

/// Texts that are no answer to anything.
fn garbage() -> Vec<String> {
    let texts = [
        "abc", "1e999", "-1e999", "-", "🧪🧪", ",", ".", "1,2,3", "NaN", "INF", "--5", "5-", "<p>",
        "\u{0}", " ", "٣", "0x10", "CHOICE_Z", "]]>",
    ];
    let mut texts: Vec<String> = texts.map(String::from).into();
    texts.extend(["7", "x", "("].map(|text| text.repeat(10_000)));
    texts
}

#[test]
fn the_key_earns_all_marks_and_nothing_earns_none() {
    each(
        |_| true,
        |_, problem, item| {
            let marked = item.mark(&item.all_right());
            assert!(
                marked
                    .texts
                    .iter()
                    .all(|text| text.ends_with("This is right.")),
                "{}: {marked:?}",
                problem.id()
            );
            assert_eq!(marked.total(), item.count() as f64, "{}", problem.id());
            let marked = item.mark(&Entered::new());
            assert_eq!(marked.total(), 0.0, "{}", problem.id());
            let told = |text: &String| {
                text.contains("Nothing is entered") || text.contains("No number can be read")
            };
            assert!(
                marked.texts.iter().all(told),
                "{}: {marked:?}",
                problem.id()
            );
        },
    );
}

/// The last entry is what the problem asks for.
#[test]
fn the_answer_of_the_problem_is_right() {
    each(is_worked_out, |sample, problem, item| {
        let last = item.count() - 1;
        let answer = bare(problem, &problem.answer());
        let entry = &item.body.entries[last];
        let text = match (
            &entry.options[..],
            waters(&answer).filter(|_| item.is_number(last)),
        ) {
            ([], Some(x)) => text_of(x, sample.comma),
            // The subscripts of a formula are entries of their own.
            ([], None) if item.is_number(last) && number(&answer).is_none() => return,
            ([], None) => answer,
            (options, _) => {
                let option = options
                    .iter()
                    .find(|(_, text)| bare(problem, text) == answer);
                option
                    .unwrap_or_else(|| panic!("{}: {options:?}", problem.id()))
                    .0
                    .clone()
            }
        };
        let marked = item.mark(&item.alone(last, &text));
        assert_eq!(
            marked.marks[last],
            1.0,
            "{}: {text}: {marked:?}",
            problem.id()
        );
        assert_eq!(marked.total(), 1.0, "{}", problem.id());
    });
}

/// The number of waters of a formula.
fn waters(formula: &str) -> Option<f64> {
    let (_, water) = formula.rsplit_once('·')?;
    match water.strip_suffix("H2O")? {
        "" => Some(1.0),
        count => number(count),
    }
}

#[test]
fn a_wrong_option_earns_nothing_and_is_told_why() {
    let mut told = 0;
    each(is_worked_out, |sample, problem, item| {
        let last = item.count() - 1;
        let wrong = problem
            .options()
            .iter()
            .filter(|option| option.wrong_step().is_some());
        let mut by_text: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for option in wrong {
            let text = bare(problem, option.text());
            let entry = &item.body.entries[last];
            let text = if let Some((name, _)) = entry
                .options
                .iter()
                .find(|(_, shown)| bare(problem, shown) == text)
            {
                name.clone()
            } else if !entry.options.is_empty() {
                panic!("{}: `{text}` is not in {:?}", problem.id(), entry.options)
            } else if number(&text).is_none() && item.is_number(last) {
                match waters(&text) {
                    Some(x) => text_of(x, sample.comma),
                    None => continue,
                }
            } else {
                text
            };
            by_text
                .entry(text)
                .or_default()
                .push(seen(option.feedback()));
        }
        for (text, feedback) in &by_text {
            for entered in [
                item.alone(last, text),
                item.with(&item.all_right(), last, text),
            ] {
                let marked = item.mark(&entered);
                assert_eq!(marked.marks[last], 0.0, "{}: {text}", problem.id());
                let says = &marked.texts[last];
                assert!(feedback.contains(says), "{}: {text}: {says}", problem.id());
                told += 1;
            }
        }
    });
    assert!(told > 1_000, "{told}");
}

#[test]
fn both_edges_of_the_tolerance_are_right_and_just_beyond_is_wrong() {
    let mut checked = 0;
    each(is_worked_out, |sample, problem, item| {
        let last = item.count() - 1;
        let (Some(interval), true) = (
            problem.tolerance(),
            item.body.entries[last].options.is_empty(),
        ) else {
            return;
        };
        let (low, high) = (interval.low(), interval.high());
        let width = high - low;
        // Digits after the first that matter are not read by the rules for a comma.
        let part = if sample.comma { 100 } else { 1_000_000 };
        let little = &width * &Ratio::new(1, part).unwrap();
        let below = low - &little;
        let above = high + &little;
        for (value, right) in [(low, 1.0), (high, 1.0), (&below, 0.0), (&above, 0.0)] {
            let text = value.to_plain();
            let text = if sample.comma {
                text.replace('.', ",")
            } else {
                text
            };
            // Right entries before it, which are rounded, may lead a little beyond.
            let after_right = item.with(&item.all_right(), last, &text);
            let ways = [
                Some(item.alone(last, &text)),
                (right == 1.0).then_some(after_right),
            ];
            for entered in ways.into_iter().flatten() {
                let marked = item.mark(&entered);
                assert_eq!(
                    marked.marks[last],
                    right,
                    "{}: {text} in {interval:?}: {marked:?}",
                    problem.id()
                );
            }
        }
        checked += 1;
    });
    assert!(checked > 500, "{checked}");
}

#[test]
fn a_comma_and_a_point_count_but_nothing_else_does() {
    let mut checked = 0;
    each(
        |_| true,
        |sample, problem, item| {
            for entry in (0..item.count()).filter(|entry| item.is_number(*entry)) {
                let response = &item.item.declarations.responses[item.response(entry)];
                let base = if sample.comma && problem.kind() != Kind::Balance {
                    Base::Text
                } else {
                    Base::Float
                };
                if problem.kind() != Kind::Balance {
                    assert_eq!(response.of.base, base, "{}", problem.id());
                }
                let key = item.key(entry);
                if !sample.comma || !key.contains(',') {
                    continue;
                }
                for text in [
                    key.clone(),
                    key.replace(',', "."),
                    format!(" {key} "),
                    key.replace('-', "−"),
                ] {
                    let marked = item.mark(&item.alone(entry, &text));
                    assert_eq!(marked.marks[entry], 1.0, "{}: `{text}`", problem.id());
                }
                let spaced = key.replace(',', " ,").replacen(char::is_numeric, "5 1", 1);
                for text in [
                    key.replace(',', ";"),
                    spaced,
                    format!("{key},7"),
                    format!("{key}.7"),
                    format!("{key} g"),
                    key.replace(',', ""),
                    key.replace(',', "',"),
                    format!("--{key}"),
                    format!("{key}e1"),
                ] {
                    for entered in [
                        item.alone(entry, &text),
                        item.with(&item.all_right(), entry, &text),
                    ] {
                        let marked = item.mark(&entered);
                        assert_eq!(marked.marks[entry], 0.0, "{}: `{text}`", problem.id());
                    }
                }
                checked += 1;
            }
        },
    );
    assert!(checked > 500, "{checked}");
}

#[test]
fn garbage_earns_nothing_and_takes_no_other_mark() {
    let garbage = garbage();
    let mut turn = 0;
    each(
        |_| true,
        |_, problem, item| {
            let mut zeros = Entered::new();
            for entry in (0..item.count()).filter(|entry| item.is_number(*entry)) {
                zeros = item.with(&zeros, entry, "0");
            }
            let marked = item.mark(&zeros);
            assert_eq!(marked.total(), 0.0, "{}: {marked:?}", problem.id());
            for entry in 0..item.count() {
                turn += 1;
                // Each text in turn; the long ones cost time.
                for text in [
                    &garbage[turn % garbage.len()],
                    &garbage[(turn / 7) % garbage.len()],
                ] {
                    let marked = item.mark(&item.with(&item.all_right(), entry, text));
                    assert_eq!(marked.marks[entry], 0.0, "{}: `{text:.40}`", problem.id());
                    let others = item.mark(&item.alone(entry, text));
                    assert_eq!(others.total(), 0.0, "{}: `{text:.40}`", problem.id());
                    // What follows from nothing is not right, and zeros follow from nothing.
                    for zero in ["0", "0,0", "-0"] {
                        for later in entry + 1..item.count() {
                            let marked =
                                item.mark(&item.with(&item.alone(entry, text), later, zero));
                            assert_eq!(
                                marked.total(),
                                0.0,
                                "{}: {later} `{text:.40}`",
                                problem.id()
                            );
                        }
                    }
                }
            }
        },
    );
}
