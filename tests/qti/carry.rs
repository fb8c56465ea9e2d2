//! A pupil who makes one error and then goes on honestly: each later step of the printed working is done again with
//! the pupil's own numbers. It reads the lines that people read, and nothing else.

use std::collections::BTreeMap;

use effloresce::exercise::{Exercise, Field};

use super::line::{Line, Tree};
use super::value::number;

/// What a pupil has for each step.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Own {
    Number(f64),
    Text(String),
}

impl Own {
    fn number(&self) -> Option<f64> {
        match self {
            Own::Number(number) => Some(*number),
            Own::Text(_) => None,
        }
    }
}

pub(crate) struct Pupil {
    pub(crate) lines: Vec<Line>,
    /// The numbers of waters that the problem gives to choose from.
    candidates: Vec<f64>,
}

impl Pupil {
    pub(crate) fn of(problem: &Exercise) -> Pupil {
        let steps = problem.working().steps();
        let lines = steps.iter().map(Line::of);
        Pupil {
            lines: lines.collect(),
            candidates: candidates(problem),
        }
    }

    /// What stands in each line if these lines are other than printed. A line that does not depend on them stands as
    /// printed. `None` if a line would be something that a pupil does not go on with, such as zero or a negative mass.
    pub(crate) fn with(&self, errors: &BTreeMap<usize, Own>) -> Option<Vec<Own>> {
        let mut own: Vec<Own> = Vec::new();
        for (index, line) in self.lines.iter().enumerate() {
            let printed = line.printed();
            let value = match (errors.get(&index), self.again(index, &own)) {
                (Some(error), _) => error.clone(),
                (None, None) => printed.clone(),
                (None, Some(again)) => again,
            };
            if let (Own::Number(value), Own::Number(printed)) = (&value, &printed) {
                if value.signum() != printed.signum() || *value == 0.0 || !value.is_finite() {
                    return None;
                }
            }
            own.push(value);
        }
        Some(own)
    }

    /// The line with own numbers; `None` if nothing that it needs is other than printed.
    fn again(&self, index: usize, own: &[Own]) -> Option<Own> {
        let line = &self.lines[index];
        if line.concluded {
            return self.concluded(index, own);
        }
        let [tree] = &line.trees[..] else { return None };
        if let Some(value) = self.by_other_limit(index, own) {
            return Some(Own::Number(line.rounded(value)));
        }
        let mut changed = false;
        let value = tree.value(&mut |literal| {
            let value = self.own_of(index, literal, own)?;
            changed |= value != literal.literal()?;
            Some(value)
        });
        let value = value.filter(|_| changed)?;
        Some(Own::Number(line.rounded(value)))
    }

    /// The own value of a number that a line is worked out from.
    fn own_of(&self, index: usize, literal: &Tree, own: &[Own]) -> Option<f64> {
        let Tree::Literal { text, unit } = literal else {
            return None;
        };
        let line = &self.lines[index];
        let printed = literal.literal();
        if let Some(value) = self.by_choice(index, literal, own) {
            return Some(value);
        }
        // Waters are a number in a line, and a formula in the line that finds them.
        if line.symbols.contains("waters") && unit.is_empty() {
            let found = self.lines[..index].iter().zip(own);
            let mut found =
                found.filter(|(earlier, _)| earlier.waters() == printed && printed.is_some());
            if let Some((_, own)) = found.next() {
                return own.number();
            }
        }
        // Each amount is divided by the smallest of the pupil's own.
        if line.what.starts_with("ratio of ")
            && line.trees[0].last() == Some(literal)
            && line.trees[0].first() != Some(literal)
        {
            let amounts = self
                .lines
                .iter()
                .zip(own)
                .filter(|(line, _)| line.what.starts_with("amount of "));
            return amounts.filter_map(|(_, own)| own.number()).reduce(f64::min);
        }
        let earlier: Vec<usize> = (0..index)
            .filter(|at| {
                let earlier = &self.lines[*at];
                !earlier.concluded && earlier.result == *text && earlier.unit == *unit
            })
            .collect();
        let named = earlier.iter().find(|at| {
            let quantity = self.lines[**at].quantity();
            !quantity.is_empty() && line.right_side().contains(&quantity)
        });
        match named.or(earlier.last()) {
            Some(at) => own[*at].number(),
            None => printed,
        }
    }

    /// The last line that chooses a substance, and what the pupil chose there if it is another one than printed.
    fn other_choice(&self, index: usize, own: &[Own]) -> Option<(usize, ChoiceOption)> {
        let at = self.lines[..index]
            .iter()
            .rposition(|line| line.concluded)?;
        let choice = &self.lines[at];
        let chosen = match own.get(at)? {
            Own::Text(chosen) if *chosen != choice.result => chosen,
            _ => return None,
        };
        let mut options = choice.options().into_iter();
        Some((at, options.find(|option| option.name == *chosen)?))
    }

    /// The amount that another limiting reactant gives: its own amount, and its coefficient.
    fn by_other_limit(&self, index: usize, own: &[Own]) -> Option<f64> {
        let line = &self.lines[index];
        let (at, option) = self.other_choice(index, own)?;
        let literals = line.literals();
        let (product, _) = literals
            .get(1)
            .filter(|_| line.symbols.starts_with("n(limiting)"))?;
        Some(self.amount(at, &option, own)? * number(product)? / option.coefficient)
    }

    /// The amount of what the pupil takes for used up, if it is another one than printed.
    fn by_choice(&self, index: usize, literal: &Tree, own: &[Own]) -> Option<f64> {
        let line = &self.lines[index];
        let first = line.trees.first()?.first() == Some(literal);
        if !first || !line.symbols.starts_with("n ×") {
            return None;
        }
        let (at, option) = self.other_choice(index, own)?;
        self.amount(at, &option, own)
    }

    /// The own amount of an option.
    fn amount(&self, at: usize, option: &ChoiceOption, own: &[Own]) -> Option<f64> {
        let mut earlier = self.lines[..at].iter().zip(own);
        let found = match option.literal.is_empty() {
            true => earlier.find(|(line, _)| line.quantity() == format!("n({})", option.name)),
            false => earlier.find(|(line, _)| line.result == option.literal),
        };
        match found {
            Some((_, own)) => own.number(),
            None => Some(option.quotient * option.coefficient),
        }
    }

    fn concluded(&self, index: usize, own: &[Own]) -> Option<Own> {
        let line = &self.lines[index];
        let options = line.options();
        if !options.is_empty() {
            let values = options.iter().map(|option| {
                let quotient = self.amount(index, option, own)? / option.coefficient;
                Some((quotient, &option.name))
            });
            let values: Vec<(f64, &String)> = values.collect::<Option<_>>()?;
            let least = values.iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
            return Some(Own::Text(least.1.clone()));
        }
        if line.symbols.contains("nearest to x") {
            let x = self.lines[..index]
                .iter()
                .rposition(|line| line.what == "mole ratio")?;
            let x = own[x].number()?;
            let nearest = self
                .candidates
                .iter()
                .copied()
                .min_by(|a, b| (a - x).abs().total_cmp(&(b - x).abs()));
            let half = line.waters().is_some_and(|waters| waters.fract() != 0.0);
            let whole = if half {
                (2.0 * x).round() / 2.0
            } else {
                x.round()
            };
            return Some(Own::Number(nearest.unwrap_or(whole)));
        }
        if line.numbers.starts_with("take the ") {
            let compared = self.ends(index, &line.unit);
            let values = compared.iter().filter_map(|at| own[*at].number());
            let found = match line.numbers.contains("greater") {
                true => values.reduce(f64::max),
                false => values.reduce(f64::min),
            };
            return found.map(Own::Number);
        }
        None
    }

    /// The earlier lines of a unit that no other line is worked out from.
    fn ends(&self, index: usize, unit: &str) -> Vec<usize> {
        let used = |at: usize| {
            let later = self.lines[at + 1..index].iter();
            let mut literals = later.flat_map(|line| line.literals());
            literals.any(|(text, of)| text == self.lines[at].result && of == unit)
        };
        let earlier = (0..index).filter(|at| self.lines[*at].unit == unit && !used(*at));
        earlier.collect()
    }
}

fn candidates(problem: &Exercise) -> Vec<f64> {
    let fields = problem.request().fields().iter();
    let lists = fields.filter_map(|(name, field)| match field {
        Field::List(list) if name == "candidates" => Some(list),
        _ => None,
    });
    let texts = lists.flatten().filter_map(|field| match field {
        Field::Text(text) => Some(text),
        _ => None,
    });
    texts.filter_map(|text| number(text)).collect()
}

/// A substance that may be the one that is used up first.
#[derive(Debug)]
pub(crate) struct ChoiceOption {
    pub(crate) name: String,
    pub(crate) coefficient: f64,
    pub(crate) quotient: f64,
    /// The amount as printed, if that is all there is.
    pub(crate) literal: String,
}

/// The model itself: with nothing changed, each line gives what is printed.
#[test]
fn the_printed_working_follows_from_itself() {
    use effloresce::exercise::{Exercises, Kind};

    for kind in Kind::ALL {
        if matches!(kind, Kind::Balance | Kind::ErrorAnalysis) {
            continue;
        }
        let set = Exercises::new(5).kinds([kind]).set(60).unwrap();
        for problem in set.problems() {
            let pupil = Pupil::of(problem);
            for (index, line) in pupil.lines.iter().enumerate() {
                for tree in line.trees.iter().filter(|_| line.trees.len() == 1) {
                    let value = line.rounded(tree.value_of().unwrap());
                    // With one or two figures, the printed number is coarser.
                    let near = if line.result.len() < 4 { 0.05 } else { 0.004 };
                    let Own::Number(printed) = line.printed() else {
                        panic!("{line:?}")
                    };
                    assert!(
                        (value / printed - 1.0).abs() < near,
                        "{}: {line:?}",
                        problem.id()
                    );
                }
                assert!(
                    line.concluded || !line.trees.is_empty(),
                    "{}: {line:?}",
                    problem.id()
                );
                let printed: Vec<Own> = pupil.lines[..index].iter().map(Line::printed).collect();
                let again = pupil.concluded(index, &printed);
                assert!(
                    again.is_none_or(|again| again == line.printed()),
                    "{}: {line:?}",
                    problem.id()
                );
            }
        }
    }
}
