use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::builder::EntryBuilder;
use super::entries;
use crate::exercise::{Exercise, Exercises, Kind, Level, Template};
use crate::number::{Ratio, TieRule};
use crate::qti::entry::{EntryAnswer, Extreme, ItemEntry, ShownBy};
use crate::working::Step;

const LEVELS: [Level; 2] = [Level::SeveralSteps, Level::Judgement];

/// Kinds that have entries of their own.
const OTHERS: [Kind; 2] = [Kind::Balance, Kind::ErrorAnalysis];

fn each_problem(count: usize, mut check: impl FnMut(&Exercise)) {
    for kind in Kind::ALL.iter().filter(|kind| !OTHERS.contains(kind)) {
        for level in LEVELS {
            let set = Exercises::new(22).kinds([*kind]).level(level).set(count);
            set.unwrap().problems().iter().for_each(&mut check);
        }
    }
}

fn failures_of(found: &BTreeMap<String, (usize, String)>) -> String {
    let lines = found
        .iter()
        .map(|(what, (times, example))| format!("{times} × {what}\n    {example}\n"));
    lines.collect()
}

fn note(found: &mut BTreeMap<String, (usize, String)>, what: String, example: String) {
    found.entry(what).or_insert((0, example)).0 += 1;
}

#[test]
fn every_calculated_step_is_proved() {
    let mut found = BTreeMap::new();
    each_problem(200, |problem| {
        let mut builder = EntryBuilder::new(problem, false);
        let steps = problem.working().steps();
        for (at, step) in steps.iter().enumerate() {
            let is_last = at + 1 == steps.len();
            let is_proved = match step.relation() {
                "so" => builder.concluded(step, is_last).is_some(),
                _ => builder.calculated(step, is_last) == Some(true),
            };
            if !is_proved {
                let what = format!("{} {} {}", problem.kind(), problem.form(), step.what());
                note(
                    &mut found,
                    what,
                    format!("{} {}: {step:?}", problem.id(), problem.prompt()),
                );
            }
        }
    });
    assert!(found.is_empty(), "{}", failures_of(&found));
}

/// With right entries before it, no named error earns a mark; and the last label does not tell the answer.
#[test]
fn no_named_error_follows_from_right_entries() {
    each_problem(40, |problem| {
        let entries = entries(problem, false);
        let keys: Vec<Ratio> = entries.iter().map(key_of).collect();
        let last = entries.last().unwrap();
        let told = problem.options().len();
        assert!(last.errors.len() < told.max(1), "{}", problem.id());
        assert!(!last.label.contains(&problem.answer()), "{}", last.label);
        for entry in &entries {
            let EntryAnswer::Number(number) = &entry.answer else {
                continue;
            };
            for error in &entry.errors {
                let ShownBy::Between(low, high) = &error.shown_by else {
                    panic!("{}", error.code);
                };
                let middle = (low + high) * Ratio::new(1, 2).unwrap();
                let follows = number.follows.as_ref().is_some_and(|follows| {
                    let own = follows.value.value(&|at| keys.get(at).cloned()).unwrap();
                    (&middle - own).abs() <= follows.rounding
                });
                let is_right = number.low < middle && middle < number.high;
                assert!(!is_right && !follows, "{} {}", problem.id(), error.code);
            }
        }
    });
}

fn key_of(entry: &ItemEntry<'_>) -> Ratio {
    match &entry.answer {
        EntryAnswer::Number(number) => number.key(),
        EntryAnswer::Choice(choice) => Ratio::from(i64::try_from(choice.right).unwrap()),
        EntryAnswer::Spelling(_) => Ratio::ZERO,
    }
}

/// A decimal comma changes what is printed and nothing else.
#[test]
fn entries_with_decimal_commas_are_the_same() {
    for kind in Kind::ALL.iter().filter(|kind| !OTHERS.contains(kind)) {
        for level in LEVELS {
            let exercises = Exercises::new(5).kinds([*kind]).level(level);
            let points = exercises.set(12).unwrap();
            let commas = exercises.decimal_comma().set(12).unwrap();
            for (point, comma) in points.problems().iter().zip(commas.problems()) {
                let (point, comma) = (entries(point, false), entries(comma, true));
                assert_eq!(point.len(), comma.len());
                for (point, comma) in point.iter().zip(&comma) {
                    assert_eq!(key_of(point), key_of(comma), "{}", point.label);
                    let value = |entry: &ItemEntry<'_>| match &entry.answer {
                        EntryAnswer::Number(number) => {
                            let follows = number.follows.as_ref();
                            follows.map(|follows| format!("{:?}", follows.value))
                        }
                        _ => None,
                    };
                    assert_eq!(value(point), value(comma), "{}", point.label);
                }
            }
        }
    }
}

#[test]
fn the_steps_of_a_template_are_entries() {
    for text in [
        include_str!("../../../examples/data/template_precipitate.toml"),
        include_str!("../../../examples/data/template_water.toml"),
    ] {
        let template = Template::read(text).unwrap();
        let set = Exercises::new(3).templates([template]).set(20).unwrap();
        for problem in set.problems() {
            let entries = entries(problem, false);
            assert_eq!(entries.len(), problem.working().steps().len());
            for entry in entries.iter().skip(1) {
                let EntryAnswer::Number(number) = &entry.answer else {
                    panic!("{}", entry.label);
                };
                assert!(number.follows.is_some(), "{}", entry.label);
            }
        }
    }
}

/// How a pupil writes intermediate values.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Writing {
    /// With all digits.
    Unrounded,
    /// Rounded, and the rounded value is used.
    Rounded,
    /// Rounded, but the calculator keeps the digits.
    KeptInCalculator,
}

/// An error that is planted in one entry.
#[derive(Debug, Clone, Copy)]
enum Planted {
    Times(i64, i64),
    OneMore,
    Option(usize),
    Misspelled,
}

struct Pupil<'p> {
    entries: &'p [ItemEntry<'p>],
    figures: u32,
    writing: Writing,
    /// The entries that are differences of readings.
    differences: Vec<usize>,
    typed: Vec<Ratio>,
    kept: Vec<Ratio>,
    marks: usize,
}

impl Pupil<'_> {
    fn rounded(&self, value: &Ratio, is_count: bool) -> Ratio {
        match self.writing {
            Writing::Unrounded => value.clone(),
            _ if is_count => value.clone(),
            _ => value.to_figures(self.figures, TieRule::Even).value(),
        }
    }

    fn enter(&mut self, planted: Option<Planted>) {
        let index = self.typed.len();
        let used = match self.writing {
            Writing::KeptInCalculator => self.kept.clone(),
            _ => self.typed.clone(),
        };
        let used = |at: usize| used.get(at).cloned();
        let shown = self.typed.clone();
        let shown = |at: usize| shown.get(at).cloned();
        let (value, is_right) = match &self.entries[index].answer {
            EntryAnswer::Number(number) => {
                let is_count = number.low == number.high;
                let own = number.follows.as_ref().map(|follows| &follows.value);
                let mut value = match own {
                    // A conclusion is drawn from what was written.
                    Some(own) if is_count => own.value(&shown).unwrap(),
                    Some(own) => own.value(&used).unwrap(),
                    None => number.key(),
                };
                match planted {
                    Some(Planted::Times(times, by)) => {
                        value = value * times * Ratio::new(1, by.into()).unwrap();
                    }
                    Some(Planted::OneMore) => value += 1,
                    _ => (),
                }
                // A difference of readings keeps its decimal places.
                let typed = self.rounded(&value, is_count || self.differences.contains(&index));
                let follows = number.follows.as_ref().is_some_and(|follows| {
                    let own = follows.value.value(&shown).unwrap();
                    let is_off = own <= number.low || number.high <= own;
                    let distance = (&typed - &own).abs();
                    is_off && distance <= &follows.slack * own.abs() || distance <= follows.rounding
                });
                let is_right = number.low <= typed && typed <= number.high || follows;
                self.kept.push(value);
                (typed, is_right)
            }
            EntryAnswer::Choice(choice) => {
                let values = choice.follows.as_ref().map(|(extreme, values)| {
                    let values = values.iter().map(|value| value.value(&shown).unwrap());
                    (*extreme, values.collect::<Vec<Ratio>>())
                });
                let least = values.as_ref().and_then(|(extreme, values)| match extreme {
                    Extreme::Least => values.iter().min(),
                    Extreme::Greatest => values.iter().max(),
                });
                let chosen = match (planted, &values) {
                    (Some(Planted::Option(option)), _) => option,
                    (_, Some((_, values))) => values
                        .iter()
                        .position(|value| Some(value) == least)
                        .unwrap(),
                    (_, None) => choice.right,
                };
                let follows = values
                    .as_ref()
                    .is_some_and(|(_, values)| Some(&values[chosen]) == least);
                let value = Ratio::from(i64::try_from(chosen).unwrap());
                self.kept.push(value.clone());
                (value, follows || chosen == choice.right)
            }
            EntryAnswer::Spelling(_) => {
                self.kept.push(Ratio::ZERO);
                (Ratio::ZERO, planted.is_none())
            }
        };
        self.typed.push(value);
        self.marks += usize::from(is_right);
    }
}

/// The marks of a pupil who makes at most one error and carries it on honestly.
fn marks(
    entries: &[ItemEntry<'_>],
    figures: u32,
    differences: &[usize],
    writing: Writing,
    planted: Option<(usize, Planted)>,
) -> usize {
    let mut pupil = Pupil {
        entries,
        figures,
        writing,
        differences: differences.to_vec(),
        typed: Vec::new(),
        kept: Vec::new(),
        marks: 0,
    };
    for index in 0..entries.len() {
        let error = planted.filter(|(at, _)| *at == index);
        pupil.enter(error.map(|(_, planted)| planted));
    }
    pupil.marks
}

fn errors_to_plant(entry: &ItemEntry<'_>) -> Vec<Planted> {
    match &entry.answer {
        EntryAnswer::Number(number) if number.low == number.high => Vec::from([Planted::OneMore]),
        EntryAnswer::Number(_) => Vec::from([Planted::Times(11, 10), Planted::Times(1, 10)]),
        EntryAnswer::Choice(choice) => {
            let others = (0..choice.options.len()).filter(|option| *option != choice.right);
            others.map(Planted::Option).collect()
        }
        EntryAnswer::Spelling(_) => Vec::from([Planted::Misspelled]),
    }
}

#[test]
fn one_planted_error_loses_one_mark() {
    let mut found = BTreeMap::new();
    each_problem(60, |problem| {
        let figures = EntryBuilder::new(problem, false).figures;
        let entries = entries(problem, false);
        let steps = problem.working().steps().iter();
        let differences = steps
            .filter(|step| !step.numbers().contains(['×', '/']) && step.numbers().contains(" − "));
        let differences: Vec<&str> = differences.map(Step::what).collect();
        let differences = (0..entries.len())
            .filter(|index| differences.contains(&&*entries[*index].label))
            .collect::<Vec<usize>>();
        for writing in [
            Writing::Unrounded,
            Writing::Rounded,
            Writing::KeptInCalculator,
        ] {
            let kind = format!(
                "{} {} {}",
                problem.kind(),
                problem.form(),
                problem.level().number()
            );
            // The last entry is rounded as it is asked for.
            let all = marks(&entries, figures, &differences, writing, None);
            if all != entries.len() {
                let what = format!("{kind} {writing:?} right: {all} of {}", entries.len());
                note(
                    &mut found,
                    what,
                    format!("{} {:?}", problem.prompt(), problem.help()[2]),
                );
            }
            for (index, entry) in entries.iter().enumerate() {
                for planted in errors_to_plant(entry) {
                    // What is left of two equal values cannot be told from the entries, if they are rounded.
                    let cancels = ["left_over", "both_lose_mass", "both_lose_mass_other"];
                    if writing == Writing::KeptInCalculator && cancels.contains(&problem.form()) {
                        continue;
                    }
                    let marks = marks(
                        &entries,
                        figures,
                        &differences,
                        writing,
                        Some((index, planted)),
                    );
                    if marks + 1 != entries.len() {
                        let what = format!(
                            "{kind} {writing:?} {planted:?} in {}: {marks} of {}",
                            entry.label,
                            entries.len()
                        );
                        note(
                            &mut found,
                            what,
                            format!("{} {:?}", problem.prompt(), problem.help()[2]),
                        );
                    }
                }
            }
        }
    });
    assert!(found.is_empty(), "{}", failures_of(&found));
}

/// The prompts of some problems leave it to the pupil which of two substances counts.
const CHOICES: [&str; 3] = [
    "which of the two",
    "Take the one of which",
    "Decide which of the two",
];

#[test]
fn no_last_label_tells_a_choice() {
    let mut forms = Vec::new();
    each_problem(60, |problem| {
        let prompt = problem.prompt();
        if CHOICES.iter().any(|words| prompt.contains(words)) {
            let entries = entries(problem, false);
            let label = &entries.last().unwrap().label;
            let words = prompt
                .split([' ', ','])
                .map(|word| word.trim_end_matches('.'));
            let formulas = words.filter(|word| word.contains(|c: char| c.is_ascii_digit()));
            for formula in formulas.filter(|formula| formula.parse::<Ratio>().is_err()) {
                assert!(!label.contains(formula), "{}: {label}", problem.id());
            }
            forms.push(String::from(problem.form()));
        }
    });
    assert!(forms.iter().any(|form| form == "lighter_of_two"));
}

#[test]
fn a_negative_value_on_the_way_is_asked_for_with_its_sign() {
    let mut found = 0;
    each_problem(20, |problem| {
        let entries = entries(problem, false);
        for (at, entry) in entries.iter().enumerate() {
            let is_negative = key_of(entry) < Ratio::ZERO && at + 1 < entries.len();
            assert_eq!(is_negative, entry.label.ends_with(", with its sign"));
            found += usize::from(is_negative);
        }
    });
    assert!(found > 0);
}

#[test]
fn a_count_of_atoms_names_no_error() {
    each_problem(20, |problem| {
        for entry in entries(problem, false) {
            let counts = entry.label.starts_with("atoms of ");
            assert!(!counts || entry.errors.is_empty(), "{}", problem.id());
        }
    });
}
