//! One error in one entry, carried on honestly in those after it, loses one mark.

use std::collections::BTreeMap;

use effloresce::exercise::{Exercise, Kind};

use super::carry::{Own, Pupil};
use super::line::Line;
use super::opened::OpenedItem;
use super::pupil::{Entered, Marked, text_of};
use super::sets::{Sample, each, is_worked_out};
use super::value::number;

/// The line of working that each entry asks for.
fn lines_of(pupil: &Pupil, item: &OpenedItem) -> Vec<Option<usize>> {
    let mut from = 0;
    let entries = 0..item.count();
    let line_of = |entry: usize| {
        let key = item.key(entry);
        let options = &item.body.entries[entry].options;
        let text = options
            .iter()
            .find(|(name, _)| *name == key)
            .map_or(&key, |(_, text)| text);
        let fits = |line: &Line| match line.printed() {
            Own::Number(printed) => number(text) == Some(printed) || *text == line.result,
            Own::Text(printed) => printed == *text,
        };
        let found = (from..pupil.lines.len()).find(|at| fits(&pupil.lines[*at]));
        from = found.map_or(from, |at| at + 1);
        found
    };
    entries.map(line_of).collect()
}

/// Values that a pupil may have for a line instead.
fn errors(line: &Line, item: &OpenedItem, entry: usize) -> Vec<Own> {
    let options = &item.body.entries[entry].options;
    let key = item.key(entry);
    if !options.is_empty() {
        let others = options.iter().filter(|(name, _)| *name != key);
        return others.map(|(_, text)| Own::Text(text.clone())).collect();
    }
    match line.printed() {
        Own::Text(_) => vec![Own::Text("NaCl".into())],
        Own::Number(x) if line.waters().is_some() => {
            [1.0, 2.0, -1.0].map(|d| Own::Number(x + d)).into()
        }
        // As many figures as printed may leave the number as it is.
        Own::Number(x) => [1.37, 0.62, 1.1, 10.0]
            .map(|d| Own::Number(line.rounded(x * d)))
            .into(),
    }
}

#[test]
fn one_error_that_is_carried_on_honestly_loses_one_mark() {
    let (mut planted, mut followed, mut unread) = (0, 0, 0);
    let mut failed = Vec::new();
    each(is_worked_out, |sample, problem, item| {
        if sample.options || item.count() < 2 {
            return;
        }
        let pupil = Pupil::of(problem);
        let lines = lines_of(&pupil, item);
        for (entry, line) in lines.iter().enumerate() {
            let Some(line) = *line else {
                // No line has just this result: an error there is followed by what is right in itself.
                unread += 1;
                let key = item.key(entry);
                let options = &item.body.entries[entry].options;
                let other = options.iter().find(|(name, _)| *name != key);
                let wrong = match number(&key) {
                    _ if !options.is_empty() => other.map_or("", |(name, _)| name).to_owned(),
                    Some(value) => text_of(value * 2.0 + 1.0, sample.comma),
                    None => "NaCl".into(),
                };
                let marked = item.mark(&item.with(&item.all_right(), entry, &wrong));
                failed.extend(wrong_loss(problem, item, entry, &marked));
                continue;
            };
            for error in errors(&pupil.lines[line], item, entry) {
                let Some(own) = pupil.with(&BTreeMap::from([(line, error)])) else {
                    continue;
                };
                let entered = entered(sample, item, &lines, &own);
                let marked = item.mark(&entered);
                planted += 1;
                followed += marked
                    .texts
                    .iter()
                    .filter(|text| text.starts_with("This follows"))
                    .count();
                failed.extend(
                    wrong_loss(problem, item, entry, &marked)
                        .map(|text| format!("{text} {entered:?}")),
                );
            }
        }
    });
    println!(
        "{planted} errors, {followed} entries follow, {unread} of no line, {} failed",
        failed.len()
    );
    assert!(
        failed.is_empty(),
        "{:#?}",
        failed
            .iter()
            .step_by(1 + failed.len() / 40)
            .collect::<Vec<_>>()
    );
    assert!(planted > 2_000 && followed > 2_000, "{planted} {followed}");
}

/// Says which marks are lost, if it is not that of this entry alone.
fn wrong_loss(
    problem: &Exercise,
    item: &OpenedItem,
    entry: usize,
    marked: &Marked,
) -> Option<String> {
    let lost = marked
        .marks
        .iter()
        .enumerate()
        .filter(|(_, mark)| **mark == 0.0);
    let lost: Vec<usize> = lost.map(|(at, _)| at).collect();
    let label = &item.body.entries[entry].label;
    (lost != [entry]).then(|| format!("{} {label}: {lost:?}, not {entry}", problem.id()))
}

/// What a pupil with these lines enters.
fn entered(sample: &Sample, item: &OpenedItem, lines: &[Option<usize>], own: &[Own]) -> Entered {
    let entries = (0..item.count()).zip(lines).map(|(entry, line)| {
        let key = item.key(entry);
        let text = match line.map(|line| &own[line]) {
            None => key,
            Some(Own::Number(value)) if number(&key) == Some(*value) => key,
            Some(Own::Number(value)) => text_of(*value, sample.comma),
            Some(Own::Text(text)) => text.clone(),
        };
        let options = &item.body.entries[entry].options;
        let option = options.iter().find(|(_, shown)| *shown == text);
        (
            item.response(entry).to_owned(),
            option.map_or(text, |(name, _)| name.clone()),
        )
    });
    entries.collect()
}

/// The coefficients of a balanced equation, as it is printed.
fn coefficients(equation: &str) -> Vec<f64> {
    let sides = equation.split(" -> ").flat_map(|side| side.split(" + "));
    let counts = sides.map(|species| {
        let digits: String = species.chars().take_while(char::is_ascii_digit).collect();
        digits.parse().unwrap_or(1.0)
    });
    counts.collect()
}

/// A wrong coefficient loses its mark, and a multiple of the equation that of the first one. If the problem gives a
/// multiple, all are lost.
#[test]
fn one_wrong_coefficient_loses_one_mark() {
    let mut planted = 0;
    each(
        |kind| kind == Kind::Balance,
        |_, problem, item| {
            let counts = coefficients(&problem.answer());
            let keys: Vec<Option<f64>> = (0..item.count())
                .map(|entry| number(&item.key(entry)))
                .collect();
            assert_eq!(
                keys,
                counts.iter().copied().map(Some).collect::<Vec<_>>(),
                "{}",
                problem.id()
            );
            for (entry, count) in counts.iter().enumerate() {
                for wrong in [count + 1.0, count + 0.5, -count, 0.0] {
                    let text = text_of(wrong, false);
                    let marked = item.mark(&item.with(&item.all_right(), entry, &text));
                    assert_eq!(wrong_loss(problem, item, entry, &marked), None);
                    planted += 1;
                }
            }
            for times in [2.0, 3.0] {
                let mut multiple = Entered::new();
                for (entry, count) in counts.iter().enumerate() {
                    multiple = item.with(&multiple, entry, &text_of(count * times, false));
                }
                let marked = item.mark(&multiple);
                if problem.form() == "not_smallest" {
                    // The problem gives a multiple. A copy of it earns nothing.
                    assert!(
                        marked.marks.iter().all(|mark| *mark == 0.0),
                        "{}",
                        problem.id()
                    );
                } else {
                    assert_eq!(wrong_loss(problem, item, 0, &marked), None);
                }
            }
        },
    );
    assert!(planted > 1_000, "{planted}");
}

/// Each part of a judgement is chosen for itself. A wrong choice is told why.
#[test]
fn one_wrong_choice_loses_one_mark() {
    let mut planted = 0;
    each(
        |kind| kind == Kind::ErrorAnalysis,
        |_, problem, item| {
            // The parts of the answer, in their order; benches are named as they are.
            assert_eq!(item.count(), problem.answers().len(), "{}", problem.id());
            for (entry, answer) in problem.answers().iter().enumerate() {
                let options = &item.body.entries[entry].options;
                let right = options.iter().find(|(name, _)| *name == item.key(entry));
                let is_bench = problem.asks()[entry].ends_with("/bench");
                assert!(
                    !is_bench || right.is_some_and(|(_, text)| text == answer),
                    "{}",
                    problem.id()
                );
            }
            for (entry, choice) in item.body.entries.iter().enumerate() {
                for (name, _) in choice
                    .options
                    .iter()
                    .filter(|(name, _)| *name != item.key(entry))
                {
                    let marked = item.mark(&item.with(&item.all_right(), entry, name));
                    assert_eq!(wrong_loss(problem, item, entry, &marked), None);
                    planted += 1;
                }
            }
        },
    );
    assert!(planted > 500, "{planted}");
}
