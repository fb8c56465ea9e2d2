//! A line of working as a calculation from earlier entries.

use alloc::vec::Vec;

use super::freedom::{around, half_unit, kept, reach, rounded_up, values};
use super::printed::PrintedNumber;
use super::source::{ValueSource, ValueSources};
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::qti::entry::Carry;
use crate::working::Expression;

/// A line of working. Its `Carry` has a leaf where it names an entry.
pub(super) struct WorkedLine {
    tree: Carry,
    leaves: Vec<LineLeaf>,
}

/// A value of a line that is not simply the number printed.
struct LineLeaf {
    carry: Carry,
    exact: Ratio,
    careful: Interval,
    is_rounded: bool,
}

/// What a line is read with.
pub(super) struct LineReader<'s> {
    pub(super) sources: &'s ValueSources,
    /// The name of the step.
    pub(super) what: &'s str,
    /// The figures of the answer.
    pub(super) figures: u32,
    /// Whether the molar masses of the line may be rounded.
    pub(super) rounds_molar_masses: bool,
}

impl LineReader<'_> {
    /// Reads a line; `None` if it is not a calculation.
    pub(super) fn read(&self, numbers: &str, symbols: &str) -> Option<WorkedLine> {
        let symbols = symbols
            .split_once(" = ")
            .map_or(symbols, |(_, right)| right);
        let symbols = Expression::read(symbols);
        let mut leaves = Vec::new();
        let tree = self.tree(&Expression::read(numbers)?, symbols.as_ref(), &mut leaves)?;
        Some(WorkedLine { tree, leaves })
    }

    fn tree(
        &self,
        numbers: &Expression,
        symbols: Option<&Expression>,
        leaves: &mut Vec<LineLeaf>,
    ) -> Option<Carry> {
        match numbers {
            Expression::Value(text) => self.value(text, symbols, leaves),
            Expression::Bracket(inner) => {
                self.tree(inner, symbols.map(Expression::without_brackets), leaves)
            }
            Expression::Joined(a, sign, b) => {
                let (of_a, of_b) = match symbols {
                    Some(Expression::Joined(of_a, other, of_b)) if sign == other => {
                        (Some(&**of_a), Some(&**of_b))
                    }
                    _ => (None, None),
                };
                let a = self.tree(a, of_a, leaves)?;
                let b = self.tree(b, of_b, leaves)?;
                match sign {
                    '+' => Some(Carry::Sum(Vec::from([a, b]))),
                    '−' => Some(Carry::Difference(a.into(), b.into())),
                    '×' => Some(Carry::Product(Vec::from([a, b]))),
                    _ => None,
                }
            }
            Expression::Quotient(a, b) => {
                let (of_a, of_b) = match symbols {
                    Some(Expression::Quotient(of_a, of_b)) => (Some(&**of_a), Some(&**of_b)),
                    _ => (None, None),
                };
                let a = self.tree(a, of_a, leaves)?;
                let b = self.tree(b, of_b, leaves)?;
                Some(Carry::Quotient(a.into(), b.into()))
            }
        }
    }

    fn value(
        &self,
        text: &str,
        symbols: Option<&Expression>,
        leaves: &mut Vec<LineLeaf>,
    ) -> Option<Carry> {
        let symbol = match symbols {
            Some(Expression::Value(symbol)) => &**symbol,
            _ => "",
        };
        // A line leaves out a factor of one that the symbols have.
        let (factor, rest) = match symbols {
            Some(Expression::Joined(factor, '×', rest)) => match &**factor {
                Expression::Value(factor) => (self.sources.factor_of_one(factor), Some(&**rest)),
                _ => (None, None),
            },
            _ => (self.sources.factor_of_one(&of_gas(symbol)), None),
        };
        if let Some(factor) = factor {
            let factor = leaf(leaves, from_source(factor, self.figures));
            let rest = match rest {
                Some(rest) => self.value(text, Some(rest), leaves)?,
                None => self.printed(text, "", leaves)?,
            };
            return Some(Carry::Product(Vec::from([factor, rest])));
        }
        self.printed(text, symbol, leaves)
    }

    fn printed(&self, text: &str, symbol: &str, leaves: &mut Vec<LineLeaf>) -> Option<Carry> {
        if let Some(source) = self.sources.find(text, symbol, self.what) {
            return Some(leaf(leaves, from_source(source, self.figures)));
        }
        let read = PrintedNumber::read(text)?;
        if read.unit != "g/mol" || !self.rounds_molar_masses {
            return Some(Carry::Number(read.value));
        }
        // A finer table differs from the printed one by about half a unit of the last place.
        let finer = Interval::point(read.value.clone()).widened(&read.half);
        let given = LineLeaf {
            careful: match read.value.is_integer() {
                true => Interval::point(read.value.clone()),
                false => kept(&finer, self.figures),
            },
            carry: Carry::Number(read.value.clone()),
            exact: read.value,
            is_rounded: false,
        };
        Some(leaf(leaves, given))
    }
}

/// The symbol of the amount of a gas that leaves, from that of its molar mass.
fn of_gas(molar_mass: &str) -> alloc::string::String {
    match molar_mass.strip_prefix("M(") {
        Some(gas) => alloc::format!("ν({gas}"),
        None => alloc::string::String::new(),
    }
}

fn from_source(source: &ValueSource, figures: u32) -> LineLeaf {
    LineLeaf {
        carry: source.carry.clone(),
        exact: source.exact.clone(),
        careful: match source.is_rounded {
            true => kept(&source.careful, figures),
            false => source.careful.clone(),
        },
        is_rounded: source.is_rounded,
    }
}

fn adds(tree: &Carry) -> bool {
    match tree {
        Carry::Number(_) | Carry::Entry(_) => true,
        Carry::Difference(a, b) => adds(a) && adds(b),
        Carry::Sum(parts) => parts.iter().all(adds),
        _ => false,
    }
}

/// The place of a leaf in a line. A value that occurs twice is the same leaf.
fn leaf(leaves: &mut Vec<LineLeaf>, new: LineLeaf) -> Carry {
    let known = leaves.iter().position(|leaf| leaf.carry == new.carry);
    Carry::Entry(known.unwrap_or_else(|| {
        leaves.push(new);
        leaves.len() - 1
    }))
}

impl WorkedLine {
    /// A line with a tree of its own. Its entries are these sources.
    pub(super) fn of(tree: Carry, sources: &[&ValueSource], figures: u32) -> WorkedLine {
        let leaves = sources.iter().map(|source| from_source(source, figures));
        WorkedLine {
            tree,
            leaves: leaves.collect(),
        }
    }

    /// The result without any rounding.
    pub(super) fn exact(&self) -> Option<Ratio> {
        self.tree
            .value(&|at| self.leaves.get(at).map(|leaf| leaf.exact.clone()))
    }

    /// What careful work may give.
    pub(super) fn careful(&self) -> Option<Interval> {
        let leaves = self.leaves.iter().map(|leaf| leaf.careful.clone());
        values(&self.tree, &leaves.collect::<Vec<Interval>>())
    }

    /// Whether it adds or subtracts readings only. What comes out keeps its decimal places.
    pub(super) fn is_difference(&self) -> bool {
        adds(&self.tree) && self.leaves.iter().all(|leaf| !leaf.is_rounded)
    }

    /// The value by entries; `None` if it does not depend on any.
    pub(super) fn carry(&self) -> Option<Carry> {
        let put = |at: usize| self.leaves.get(at).map(|leaf| leaf.carry.clone());
        let carry = self.tree.with_entries(&put)?;
        carry.is_carried().then_some(carry)
    }

    /// How far an honest result may be from what the entries give, as a fraction of it. The entries and the result
    /// are rounded to the figures of the answer.
    pub(super) fn slack(&self, exact: &Ratio, figures: u32) -> Option<Ratio> {
        let own = |value: &Ratio| half_unit(value, figures).checked_div(&value.abs());
        // Another value may begin with another digit. A rounded 1.00 is the coarsest.
        let coarsest = Ratio::power_of_ten(1 - i32::try_from(figures).ok()?) * Ratio::new(1, 2)?;
        let least = self.slack_by(exact, &own)?;
        let most = self.slack_by(exact, &|_| Some(coarsest.clone()))?;
        Some(rounded_up(&least.max(most.min(Ratio::new(1, 50)?))))
    }

    fn slack_by(&self, exact: &Ratio, rounding: &dyn Fn(&Ratio) -> Option<Ratio>) -> Option<Ratio> {
        let leaves = self.leaves.iter().map(|leaf| match leaf.is_rounded {
            true => Some(around(&leaf.exact, &rounding(&leaf.exact)?)),
            false => Some(leaf.careful.clone()),
        });
        let values = values(&self.tree, &leaves.collect::<Option<Vec<Interval>>>()?)?;
        let reach = reach(&values, exact)?;
        let least = match &self.tree {
            // The smallest of several values may be another one than in the key.
            Carry::Quotient(_, by) if matches!(**by, Carry::OneOf(..)) => rounding(exact)? * 2,
            _ => Ratio::ZERO,
        };
        Some(reach.max(least) + rounding(exact)?)
    }
}
