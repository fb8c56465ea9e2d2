//! The answer of a problem as one entry.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::entry::{
    ChoiceAnswer, EntryAnswer, ItemEntry, NamedError, NumberAnswer, ShownBy, SpellingAnswer,
    with_mark, with_point,
};
use super::spelling::{accepted, waters};
use crate::exercise::{Choice, Exercise, Operation};
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};

const LABEL: &str = "Answer";

/// Returns the answer of a problem as one entry: a number, the x of a hydrate, a choice of substances that the prompt
/// names, or a formula as it is spelled. Its errors are the wrong options of the problem.
pub(super) fn entry(problem: &Exercise, comma: bool) -> ItemEntry<'_> {
    if let Some(tolerance) = problem.tolerance() {
        return number(problem, tolerance);
    }
    let by_waters = || waters_of(problem, comma);
    let among_named = || choice(problem).filter(|_| names_all_options(problem));
    let found = by_waters().or_else(among_named);
    found.unwrap_or_else(|| spelled(problem))
}

/// Returns the options of a problem as one choice, each wrong one with its feedback; `None` if it has no options.
pub(super) fn choice(problem: &Exercise) -> Option<ItemEntry<'_>> {
    let options = problem.options();
    let right = options
        .iter()
        .position(|option| option.wrong_step().is_none())?;
    let texts = options.iter().map(|option| option.text().into());
    Some(ItemEntry {
        label: "".into(),
        unit: "".into(),
        answer: EntryAnswer::Choice(ChoiceAnswer {
            options: texts.collect(),
            right,
            follows: None,
        }),
        errors: errors(problem, |index, _| Some(ShownBy::Chosen(index))),
    })
}

/// Returns what an entry asks for that takes the x of a hydrate, and the x; `None` if this would tell the salt,
/// because the prompt has neither its formula nor its name, or for any other formula.
pub(super) fn waters_asked(prompt: &str, formula: &str) -> Option<(String, Ratio)> {
    let (salt, x) = waters(formula)?;
    if is_named(prompt, &salt) {
        return Some((format!("x in {salt}·xH2O"), x));
    }
    let (salt, _) = crate::Formula::read(&salt).ok()?;
    let name = salt.name().ok()?;
    is_named(prompt, name.name()).then(|| (format!("number of waters x for one {name}"), x))
}

/// The errors of the wrong options, by what shows each.
pub(super) fn errors<'p>(
    problem: &'p Exercise,
    shown_by: impl Fn(usize, &'p Choice) -> Option<ShownBy>,
) -> Vec<NamedError<'p>> {
    let options = problem.options().iter().enumerate();
    let errors = options.filter_map(|(index, option)| {
        Some(NamedError {
            code: option.wrong_step()?.into(),
            feedback: option.feedback().into(),
            shown_by: shown_by(index, option)?,
        })
    });
    errors.collect()
}

fn number<'p>(problem: &'p Exercise, tolerance: &Interval) -> ItemEntry<'p> {
    let printed = |option: &Choice| {
        let text = option.text().trim_end_matches(problem.unit()).trim_end();
        with_point(text).parse::<Reading>().ok()
    };
    let all: Vec<Option<Reading>> = problem.options().iter().map(printed).collect();
    let shown = |index: usize, _: &Choice| {
        let own = all.get(index)?.as_ref()?;
        let others = all.iter().enumerate().filter(|(other, _)| *other != index);
        let others = others.filter_map(|(_, other)| other.as_ref().map(half_unit_around));
        let right = (tolerance.low().clone(), tolerance.high().clone());
        let (low, high) = between_others(own, others.chain([right]));
        Some(ShownBy::Between(low, high))
    };
    ItemEntry {
        label: LABEL.into(),
        unit: problem.unit().into(),
        answer: EntryAnswer::Number(NumberAnswer {
            printed: problem.answer().into(),
            low: tolerance.low().clone(),
            high: tolerance.high().clone(),
            follows: None,
        }),
        errors: errors(problem, shown),
    }
}

/// The values that are rounded to a printed one.
fn half_unit_around(printed: &Reading) -> (Ratio, Ratio) {
    let half = Ratio::new(1, 2).unwrap_or_default();
    let half = half * Ratio::power_of_ten(-printed.decimal_places());
    (printed.value() - &half, printed.value() + half)
}

/// The values that are rounded to a printed one, without those of others.
fn between_others(
    printed: &Reading,
    others: impl Iterator<Item = (Ratio, Ratio)>,
) -> (Ratio, Ratio) {
    let own = printed.value();
    let (mut low, mut high) = half_unit_around(printed);
    for (least, greatest) in others {
        if greatest <= own {
            low = low.max(greatest);
        } else if own <= least {
            high = high.min(least);
        } else if &least + &greatest > 2 * &own {
            high = high.min(own.clone());
        } else {
            low = low.max(own.clone());
        }
    }
    (low, high)
}

/// The x of a hydrate; `None` if the answer is not the hydrate of a salt that the prompt names.
fn waters_of(problem: &Exercise, comma: bool) -> Option<ItemEntry<'_>> {
    // There the answer is one of several substances.
    if problem.request().operation() == Operation::Limiting {
        return None;
    }
    let answer = problem.answer();
    let (label, x) = waters_asked(problem.prompt(), &answer)?;
    let (salt, _) = waters(&answer)?;
    let of_salt = |_: usize, option: &Choice| {
        let (own, x) = waters(option.text())?;
        (own == salt).then(|| ShownBy::Between(x.clone(), x))
    };
    Some(ItemEntry {
        label: label.into(),
        unit: "".into(),
        answer: EntryAnswer::Number(NumberAnswer {
            printed: with_mark(x.to_string(), comma).into(),
            low: x.clone(),
            high: x,
            follows: None,
        }),
        errors: errors(problem, of_salt),
    })
}

fn spelled(problem: &Exercise) -> ItemEntry<'_> {
    let answer = problem.answer();
    ItemEntry {
        label: LABEL.into(),
        unit: problem.unit().into(),
        answer: EntryAnswer::Spelling(SpellingAnswer {
            accepted: accepted(&answer),
            printed: Cow::Owned(answer),
        }),
        errors: errors(problem, |_, option| {
            Some(ShownBy::Spelled(accepted(option.text())))
        }),
    }
}

/// Whether the prompt names all options, so that a choice of them tells nothing.
fn names_all_options(problem: &Exercise) -> bool {
    let mut options = problem.options().iter();
    options.all(|option| is_named(problem.prompt(), option.text()))
}

/// Whether a text has a formula or a name that is no part of a longer one. A coefficient may stand before it, and
/// water after it.
pub(super) fn is_named(text: &str, name: &str) -> bool {
    text.match_indices(name).any(|(start, _)| {
        let before = text.get(..start).unwrap_or_default();
        let before = before.trim_end_matches(|c: char| c.is_ascii_digit());
        let after = text.get(start + name.len()..).unwrap_or_default();
        let continues = before.ends_with(|c: char| c.is_alphanumeric() || ")]·".contains(c));
        !continues && !after.starts_with(|c: char| c.is_alphanumeric() || "([".contains(c))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Exercises, Kind, Level};

    /// Problems of all kinds and levels, with points and with commas.
    fn problems() -> Vec<(Exercise, bool)> {
        let mut all = Vec::new();
        let kinds = Kind::ALL
            .iter()
            .flat_map(|kind| Level::ALL.map(|level| (*kind, level)));
        for (kind, level) in kinds {
            for comma in [false, true] {
                let exercises = Exercises::new(3).kinds([kind]).level(level);
                let exercises = match comma {
                    true => exercises.decimal_comma(),
                    false => exercises,
                };
                let set = exercises.set(6).ok();
                let problems = set.iter().flat_map(|set| set.problems().to_vec());
                all.extend(problems.map(|problem| (problem, comma)));
            }
        }
        all
    }

    fn of(kind: Kind, level: u32, form: &str) -> Exercise {
        let level = Level::new(level).unwrap();
        let set = Exercises::new(1)
            .kinds([kind])
            .level(level)
            .set(60)
            .unwrap();
        let mut problems = set.problems().iter();
        let found = problems.find(|problem| problem.form() == form);
        found.unwrap().clone()
    }

    #[test]
    fn the_key_counts_and_no_error_does() {
        for (problem, comma) in problems() {
            let entry = entry(&problem, comma);
            let id = problem.id();
            match &entry.answer {
                EntryAnswer::Number(answer) => {
                    let key = answer.key();
                    assert!(answer.low <= key && key <= answer.high, "{id}");
                    let mut told: Vec<(Ratio, Ratio)> = Vec::new();
                    for error in &entry.errors {
                        let ShownBy::Between(low, high) = &error.shown_by else {
                            panic!("{id}");
                        };
                        assert!(low <= high, "{id}: {low} {high}");
                        assert!(*high <= answer.low || answer.high <= *low, "{id}: {low}");
                        assert!(
                            told.iter().all(|(a, b)| high <= a || b <= low),
                            "{id}: {low}"
                        );
                        told.push((low.clone(), high.clone()));
                    }
                }
                EntryAnswer::Spelling(answer) => {
                    let mut all = Vec::from([answer.accepted.clone()]);
                    for error in &entry.errors {
                        let ShownBy::Spelled(spellings) = &error.shown_by else {
                            panic!("{id}");
                        };
                        all.push(spellings.clone());
                    }
                    let mut flat: Vec<&String> = all.iter().flatten().collect();
                    let count = flat.len();
                    flat.sort();
                    flat.dedup();
                    assert_eq!(flat.len(), count, "{id}: {flat:?}");
                }
                EntryAnswer::Choice(answer) => {
                    assert_eq!(answer.options[answer.right], problem.answer(), "{id}");
                    assert_eq!(entry.errors.len() + 1, answer.options.len(), "{id}");
                }
            }
            assert!(
                !entry.label.contains(&problem.answer()),
                "{id}: {}",
                entry.label
            );
        }
    }

    #[test]
    fn a_hydrate_is_asked_by_its_waters() {
        let problem = of(Kind::FormulaFromPercent, 1, "formula_from_percent");
        let entry = entry(&problem, false);
        let (salt, x) = waters(&problem.answer()).unwrap();
        assert_eq!(entry.label, format!("x in {salt}·xH2O"));
        let EntryAnswer::Number(answer) = &entry.answer else {
            panic!("{}", entry.label);
        };
        assert_eq!([&answer.low, &answer.high], [&x, &x]);
        assert_eq!(entry.errors.len(), 3);

        let problem = of(Kind::FormulaFromPercent, 2, "formula_from_name");
        let (label, _) = waters_asked(problem.prompt(), &problem.answer()).unwrap();
        assert!(label.starts_with("number of waters x for one "), "{label}");
        assert_eq!(waters_asked("Find the formula.", &problem.answer()), None);
    }

    #[test]
    fn a_substance_that_the_prompt_names_is_chosen() {
        let problem = of(Kind::Limiting, 3, "which_limits");
        let entry = entry(&problem, false);
        assert!(matches!(entry.answer, EntryAnswer::Choice(_)));
        let problem = of(Kind::Empirical, 2, "masses");
        assert!(matches!(
            self::entry(&problem, false).answer,
            EntryAnswer::Spelling(_)
        ));
    }

    #[test]
    fn intervals_of_neighbours_do_not_overlap() {
        let [a, b] = ["9.99", "10.0"].map(|text| text.parse::<Reading>().unwrap());
        let (_, high) = between_others(&a, [half_unit_around(&b)].into_iter());
        let (low, _) = between_others(&b, [half_unit_around(&a)].into_iter());
        assert_eq!(
            (high, low),
            ("9.99".parse().unwrap(), "9.995".parse().unwrap())
        );
    }

    #[test]
    fn names_are_found_as_wholes() {
        for (text, name, found) in [
            ("a hydrate of MgSO4 is heated", "MgSO4", true),
            ("strontium chloride (SrCl2) and", "SrCl2", true),
            ("leaves BaCl2·H2O.", "BaCl2", true),
            ("Zn + 2AgNO3 -> 2Ag + Zn(NO3)2", "AgNO3", true),
            ("Zn(NO3)2", "Zn", false),
            ("(NH4)2SO4", "SO4", false),
            ("CuSO4", "Cu", false),
            ("calcium chloride dihydrate", "calcium chloride", true),
        ] {
            assert_eq!(is_named(text, name), found, "{text}: {name}");
        }
    }
}
