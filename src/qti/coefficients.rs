//! The coefficients of an equation as entries.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answer::is_named;
use super::entry::{
    Carry, EntryAnswer, Extreme, Follows, ItemEntry, NamedError, NumberAnswer, ShownBy,
};
use crate::exercise::{Exercise, Field, Kind, WrongStep, species_name};
use crate::number::Ratio;
use crate::reaction::{Equation, Species};

/// The coefficients of an equation, in its order. The item writes them as gaps in the equation.
pub(super) struct Coefficients<'p> {
    pub(super) entries: Vec<ItemEntry<'p>>,
    /// How many of them stand before the arrow.
    pub(super) before_arrow: usize,
}

/// Multiples of the smallest whole number up to this one are told as such.
const MOST_TIMES: u32 = 6;
const NOT_THE_SIMPLEST: &str = "not_the_simplest";
const MULTIPLE: &str = "This is a multiple of the smallest whole number. If all your coefficients have a common \
                        factor, divide them by it.";
const AS_GIVEN: &str = "coefficient_as_given";

/// Returns an entry for each coefficient, those of one included; `None` for a problem without an equation to balance.
///
/// The first is right if it is the smallest whole number. A later one is right, too, if it is in the right proportion
/// to the pupil's own first one. So a multiple of the whole equation loses the mark of the first coefficient only.
/// If the problem itself gives a multiple, nothing follows, so that a copy of it earns no mark.
pub(super) fn coefficients(problem: &Exercise) -> Option<Coefficients<'_>> {
    if problem.kind() != Kind::Balance {
        return None;
    }
    let (equation, _) = Equation::read(&problem.answer()).ok()?;
    let given = given_equation(problem);
    let first = equation.species().first()?.count();
    let is_multiple = given
        .as_ref()
        .is_some_and(|given| is_multiple(given, &equation));
    let species = equation.species().iter().enumerate();
    let entries = species.map(|(index, one)| {
        // A multiple is told at the first coefficient.
        let given = given.as_ref().filter(|_| index > 0 || !is_multiple);
        let given = given.and_then(|given| given.species().get(index));
        ItemEntry {
            label: label(problem, one).into(),
            unit: "".into(),
            answer: EntryAnswer::Number(NumberAnswer {
                printed: one.count().to_string().into(),
                low: one.count(),
                high: one.count(),
                follows: (index > 0 && !is_multiple).then(|| in_proportion(&first, one.count())),
            }),
            errors: errors(index, one, given),
        }
    });
    Some(Coefficients {
        entries: entries.collect(),
        before_arrow: equation.reactants().len(),
    })
}

/// The equation that the problem gives.
fn given_equation(problem: &Exercise) -> Option<Equation> {
    let mut fields = problem.request().fields().iter();
    let equation = fields.find_map(|(name, field)| match field {
        Field::Text(text) if name == "equation" => Some(text),
        _ => None,
    });
    Some(Equation::read(equation?).ok()?.0)
}

/// Whether an equation is another one with all coefficients multiplied.
fn is_multiple(given: &Equation, right: &Equation) -> bool {
    let pairs = given.species().iter().zip(right.species());
    let mut times = pairs.map(|(given, right)| given.count().checked_div(&right.count()));
    let first = times.next().flatten();
    first.as_ref().is_some_and(|times| *times != Ratio::ONE) && times.all(|times| times == first)
}

/// The species as the prompt has it: by its formula, or by its name if only names are given.
fn label(problem: &Exercise, species: &Species) -> String {
    let formula = species.formula();
    let text = formula.to_string();
    let is_in_prompt = |text: &str| is_named(problem.prompt(), text);
    match species_name(formula) {
        Some(name) if !is_in_prompt(&text) && is_in_prompt(&name) => name,
        _ => text,
    }
}

/// A coefficient in the right proportion to the pupil's own first one. If that is zero or negative, nothing follows.
fn in_proportion(first: &Ratio, count: Ratio) -> Follows {
    let least = Ratio::new(1, 1000).unwrap_or_default();
    let own_first = Carry::OneOf(
        Extreme::Greatest,
        [Carry::Entry(0), Carry::Number(least)].into(),
    );
    let product = Carry::Product([own_first, Carry::Number(count)].into());
    Follows {
        value: Carry::Quotient(product.into(), Carry::Number(first.clone()).into()),
        slack: Ratio::power_of_ten(-6),
        rounding: Ratio::ZERO,
    }
}

/// What is told of a wrong coefficient: that it is the one that the problem gives, or a multiple at the first one.
fn errors(index: usize, right: &Species, given: Option<&Species>) -> Vec<NamedError<'static>> {
    let count = right.count();
    let mut errors = Vec::new();
    let given = given.filter(|given| given.formula() == right.formula());
    let given = given.and_then(Species::coefficient);
    let step = WrongStep::ALL.iter().find(|step| step.code() == AS_GIVEN);
    let given = given.filter(|given| **given != count);
    if let (Some(given), Some(step)) = (given, step) {
        errors.push(NamedError {
            code: AS_GIVEN.into(),
            feedback: step.feedback().into(),
            shown_by: ShownBy::Between(given.clone(), given.clone()),
        });
    }
    if index == 0 {
        let multiples = (2..=MOST_TIMES).map(|times| Ratio::from(times) * &count);
        errors.extend(
            multiples
                .filter(|multiple| Some(multiple) != given)
                .map(|multiple| NamedError {
                    code: NOT_THE_SIMPLEST.into(),
                    feedback: MULTIPLE.into(),
                    shown_by: ShownBy::Between(multiple.clone(), multiple),
                }),
        );
    }
    errors
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Exercises, Level};

    fn problems() -> Vec<Exercise> {
        let of = |level| {
            let exercises = Exercises::new(1).kinds([Kind::Balance]).level(level);
            exercises.set(40).unwrap().problems().to_vec()
        };
        Level::ALL.into_iter().flat_map(of).collect()
    }

    fn counts(problem: &Exercise) -> Vec<Ratio> {
        let (equation, _) = Equation::read(&problem.answer()).unwrap();
        equation.species().iter().map(Species::count).collect()
    }

    /// The value of what follows from the entries.
    fn value(carry: &Carry, entered: &[Ratio]) -> Ratio {
        match carry {
            Carry::Number(number) => number.clone(),
            Carry::Entry(index) => entered[*index].clone(),
            Carry::OneOf(Extreme::Greatest, parts) => {
                parts.iter().map(|part| value(part, entered)).max().unwrap()
            }
            Carry::Product(parts) => {
                let parts = parts.iter().map(|part| value(part, entered));
                parts.fold(Ratio::ONE, |product, part| product * part)
            }
            Carry::Quotient(a, b) => value(a, entered).checked_div(&value(b, entered)).unwrap(),
            other => panic!("{other:?}"),
        }
    }

    fn marks(problem: &Exercise, entered: &[Ratio]) -> usize {
        let all = coefficients(problem).unwrap().entries;
        let earned = all.iter().zip(entered).filter(|(entry, entered_here)| {
            let EntryAnswer::Number(answer) = &entry.answer else {
                panic!("{}", entry.label);
            };
            let follows = answer.follows.as_ref().is_some_and(|follows| {
                let own = value(&follows.value, entered);
                (*entered_here - &own).abs() <= &follows.slack * own.abs()
            });
            answer.low <= **entered_here && **entered_here <= answer.high || follows
        });
        earned.count()
    }

    fn told(entry: &ItemEntry<'_>, entered: &Ratio) -> Option<String> {
        let shown = entry.errors.iter().find(|error| match &error.shown_by {
            ShownBy::Between(low, high) => low <= entered && entered <= high,
            _ => false,
        });
        shown.map(|error| error.code.to_string())
    }

    #[test]
    fn one_planted_error_and_a_multiple_lose_one_mark() {
        for problem in problems() {
            let (right, id) = (counts(&problem), problem.id());
            assert_eq!(marks(&problem, &right), right.len(), "{id}");
            for (index, count) in right.iter().enumerate() {
                for wrong in [count + &Ratio::ONE, Ratio::ZERO, -count.clone()] {
                    let mut entered = right.clone();
                    entered[index] = wrong;
                    assert_eq!(marks(&problem, &entered), right.len() - 1, "{id}: {index}");
                }
            }
            // A copy of what the problem gives is no work.
            let earned = match problem.form() {
                "not_smallest" => 0,
                _ => right.len() - 1,
            };
            for times in [2, 3].map(Ratio::from).into_iter().chain(Ratio::new(1, 2)) {
                let multiple: Vec<Ratio> = right.iter().map(|count| count * &times).collect();
                assert_eq!(marks(&problem, &multiple), earned, "{id}: {times}");
            }
            let nothing = alloc::vec![Ratio::ZERO; right.len()];
            assert_eq!(marks(&problem, &nothing), 0, "{id}");
        }
    }

    #[test]
    fn a_multiple_and_a_given_coefficient_are_told() {
        for problem in problems() {
            let entries = coefficients(&problem).unwrap().entries;
            let (right, id) = (counts(&problem), problem.id());
            let given = given_equation(&problem).unwrap();
            let given: Vec<Ratio> = given.species().iter().map(Species::count).collect();
            for (index, (entry, (right, given))) in
                entries.iter().zip(right.iter().zip(&given)).enumerate()
            {
                assert_eq!(told(entry, right), None, "{id}");
                let told_once = |own: &NamedError<'_>| {
                    let shows = |error: &&NamedError<'_>| match (&own.shown_by, &error.shown_by) {
                        (ShownBy::Between(own, _), ShownBy::Between(other, _)) => own == other,
                        _ => panic!("{id}"),
                    };
                    entry.errors.iter().filter(shows).count() == 1
                };
                assert!(entry.errors.iter().all(told_once), "{id}");
                let as_given = told(entry, given);
                match problem.form() {
                    "not_smallest" if index == 0 => {
                        assert_eq!(as_given.as_deref(), Some(NOT_THE_SIMPLEST));
                    }
                    "not_smallest" => {
                        assert_eq!(as_given.as_deref(), Some(AS_GIVEN));
                    }
                    "one_wrong" if given != right && *given != Ratio::ONE => {
                        assert_eq!(as_given.as_deref(), Some(AS_GIVEN), "{id}");
                    }
                    _ => (),
                }
            }
        }
    }

    #[test]
    fn names_stay_names() {
        let of_names = |problem: &Exercise| problem.form() == "from_names";
        let found = problems().into_iter().filter(of_names).map(|problem| {
            for entry in coefficients(&problem).unwrap().entries {
                assert!(problem.prompt().contains(&*entry.label), "{}", entry.label);
            }
        });
        assert!(found.count() > 0);
        let other = Exercises::new(1)
            .kinds([Kind::MolarMass])
            .problem(0)
            .unwrap();
        assert!(coefficients(&other).is_none());
    }
}
