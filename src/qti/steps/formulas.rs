//! Entries for formulas that a step concludes: the x of a hydrate, numbers of atoms, or the formula itself.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::builder::EntryBuilder;
use super::printed::{PrintedNumber, with_points};
use super::source::ValueSource;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::qti::answer::waters_asked;
use crate::qti::entry::{Carry, Extreme};
use crate::qti::spelling::waters;
use crate::working::Step;

/// A ratio this much over the middle between two hydrates points to the greater one.
const STEEP: i64 = 1_000_000;

impl<'a> EntryBuilder<'a> {
    pub(super) fn formula(&mut self, step: &'a Step, is_last: bool) -> Option<()> {
        let from_name = step.symbols().starts_with("the formula of the salt, then");
        match (step.what(), waters(step.result())) {
            ("what leaves", _) => self.gases(step),
            ("empirical formula", _) => self.empirical(step),
            ("molecular formula", _) => self.molecular(step),
            (_, Some((salt, x))) if from_name => {
                self.spelling("formula of the salt, without its water", salt.into());
                let label = "number of waters in the formula";
                self.count(label, "", &x, "waters".into(), None);
                Some(())
            }
            (_, Some((_, x))) if step.numbers().contains("nearest to x") => {
                let follows = self.nearest(&x);
                self.x(step.result(), &x, follows);
                Some(())
            }
            (_, Some((_, x))) if is_last => {
                self.x(step.result(), &x, None);
                Some(())
            }
            ("formula of the salt", None) => {
                self.spelling(step.what(), step.result().into());
                Some(())
            }
            (_, None) if is_last => {
                self.spelling(step.what(), step.result().into());
                Some(())
            }
            _ => None,
        }
    }

    /// The number of waters in a hydrate.
    fn x(&mut self, hydrate: &str, x: &Ratio, follows: Option<Carry>) {
        let label = match waters_asked(self.problem.prompt(), hydrate) {
            Some((label, _)) => label.into(),
            None => Cow::Borrowed("number of waters in the formula"),
        };
        self.count(label, "", x, "waters".into(), follows);
    }

    /// The number of waters that is nearest to the own ratio.
    fn nearest(&self, x: &Ratio) -> Option<Carry> {
        let mut all = self.sources.all.iter().rev();
        let ratio = all.find(|source| source.symbol == "x")?.carry.clone();
        let candidates = self.listed("candidates");
        let candidates = candidates.iter().map(|text| text.parse().ok());
        let mut candidates = candidates.collect::<Option<Vec<Ratio>>>()?;
        candidates.sort();
        if let [first, _, ..] = &*candidates {
            let steps = candidates.windows(2).filter_map(|pair| match pair {
                [low, high] => Some(jump(&ratio, low, high)),
                _ => None,
            });
            let first = Carry::Number(first.clone());
            return Some(Carry::Sum(core::iter::once(first).chain(steps).collect()));
        }
        if x.is_integer() {
            return Some(Carry::Nearest(ratio.into()));
        }
        let (half, two) = (Ratio::new(1, 2)?, Ratio::from(2));
        let doubled = Carry::Product(Vec::from([Carry::Number(two), ratio]));
        let nearest = Carry::Nearest(doubled.into());
        Some(Carry::Product(Vec::from([Carry::Number(half), nearest])))
    }

    /// The gases that leave, each with its amount.
    fn gases(&mut self, step: &'a Step) -> Option<()> {
        let result = with_points(step.result());
        for part in result.split(" + ") {
            let (count, gas) = match part.split_once(' ') {
                Some((count, gas)) => (PrintedNumber::read(count)?.value, gas),
                None => (Ratio::ONE, part),
            };
            let label = format!("amount of {gas} that leaves 1 mol of the solid");
            self.count(label, "mol", &count, format!("ν({gas})"), None);
        }
        Some(())
    }

    /// The smallest whole numbers that have the own ratios.
    fn empirical(&mut self, step: &'a Step) -> Option<()> {
        let numbers = with_points(step.numbers());
        let (multiplier, counts) = split_empirical(&numbers)?;
        let ratios = self.sources.all.iter().filter_map(|source| {
            let part = source.what.strip_prefix("amount of ")?;
            let part = part.strip_suffix(", divided by the smallest amount")?;
            Some((String::from(part), source.carry.clone()))
        });
        let ratios: Vec<(String, Carry)> = ratios.collect();
        if ratios.len() != counts.len() {
            return None;
        }
        for ((part, ratio), count) in ratios.into_iter().zip(&counts) {
            let multiplied = Carry::Product(Vec::from([Carry::Number(multiplier.clone()), ratio]));
            let follows = Carry::Nearest(multiplied.into());
            let label = format!("atoms of {part} in the empirical formula");
            self.count(label, "", count, format!("N({part})"), Some(follows));
        }
        self.formula_unit()
    }

    /// The molar mass of the own empirical formula, for a later step.
    fn formula_unit(&mut self) -> Option<()> {
        let mut terms = Vec::new();
        let mut sum = Ratio::ZERO;
        for step in self.problem.working().steps() {
            let Some(part) = step.what().strip_prefix("amount of ") else {
                continue;
            };
            let numbers = with_points(step.numbers());
            let (_, molar_mass) = numbers.rsplit_once(" / ")?;
            let molar_mass = PrintedNumber::read(molar_mass)?.value;
            let symbol = format!("N({part})");
            let count = self
                .sources
                .all
                .iter()
                .find(|source| source.symbol == symbol)?;
            sum += &count.exact * &molar_mass;
            let factors = Vec::from([count.carry.clone(), Carry::Number(molar_mass)]);
            terms.push(Carry::Product(factors));
        }
        self.sources.all.push(ValueSource {
            printed: String::new(),
            symbol: "M(empirical formula)".into(),
            what: String::new(),
            carry: Carry::Sum(terms),
            careful: Interval::point(sum.clone()),
            exact: sum,
            is_rounded: true,
        });
        Some(())
    }

    /// The empirical formula times the whole number nearest to the own quotient.
    fn molecular(&mut self, step: &'a Step) -> Option<()> {
        let numbers = with_points(step.numbers());
        let (_, times) = numbers.split_once(" is near ")?;
        let times = PrintedNumber::read(times)?.value;
        let mut all = self.sources.all.iter();
        let quotient = all.find(|source| source.what == "formula units in a molecule")?;
        let nearest = Carry::Nearest(quotient.carry.clone().into());
        let counts = self.sources.all.iter().filter_map(|source| {
            let part = source.symbol.strip_prefix("N(")?.strip_suffix(')')?;
            Some((
                String::from(part),
                source.exact.clone(),
                source.carry.clone(),
            ))
        });
        let counts: Vec<(String, Ratio, Carry)> = counts.collect();
        if counts.is_empty() {
            return None;
        }
        for (part, count, own) in counts {
            let follows = Carry::Product(Vec::from([own, nearest.clone()]));
            let label = format!("atoms of {part} in the molecular formula");
            self.count(label, "", &(count * &times), String::new(), Some(follows));
        }
        Some(())
    }
}

/// What the greater of two candidates adds to the smaller one: nothing, or all if the ratio is nearer to it.
fn jump(ratio: &Carry, low: &Ratio, high: &Ratio) -> Carry {
    let middle = (low + high) * Ratio::new(1, 2).unwrap_or_default();
    let over = Carry::Difference(ratio.clone().into(), Carry::Number(middle).into());
    let steep = Carry::Product(Vec::from([Carry::Number(Ratio::from(STEEP)), over]));
    let not_less = Carry::OneOf(
        Extreme::Greatest,
        Vec::from([Carry::Number(Ratio::ZERO), steep]),
    );
    Carry::OneOf(
        Extreme::Least,
        Vec::from([Carry::Number(high - low), not_less]),
    )
}

/// The multiplier and the whole numbers of `2 × (1.001 : 1.499) is near 2 : 3`.
fn split_empirical(numbers: &str) -> Option<(Ratio, Vec<Ratio>)> {
    let (multiplier, rest) = numbers.split_once(" × (")?;
    let (_, counts) = rest.split_once(" is near ")?;
    let counts = counts
        .split(" : ")
        .map(|count| PrintedNumber::read(count).map(|count| count.value));
    Some((
        PrintedNumber::read(multiplier)?.value,
        counts.collect::<Option<Vec<Ratio>>>()?,
    ))
}
