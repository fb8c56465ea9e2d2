//! Entries for steps that are concluded, not calculated: choices, and the greater of two values.

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;

use super::builder::{AskedNumber, EntryBuilder};
use super::line::WorkedLine;
use super::printed::{PrintedNumber, with_points};
use super::source::ValueSource;
use crate::exercise::Choice;
use crate::gravimetry::Interval;
use crate::qti::entry::{Carry, EntryAnswer, Extreme};
use crate::working::Step;

impl<'a> EntryBuilder<'a> {
    /// Adds the entries of a conclusion. `None` if nothing can be entered for it.
    pub(super) fn concluded(&mut self, step: &'a Step, is_last: bool) -> Option<()> {
        match step.what() {
            "limiting reactant" => self.limiting(step, is_last),
            "used up" => self.used_up(step),
            "residue" => self.residue(step),
            "the one that loses mass" => {
                let options = self.listed("components").into_iter().map(Cow::Borrowed);
                self.choice(step.what(), options.collect(), step.result(), None)
                    .map(|_| ())
            }
            _ if step.numbers().starts_with("take the smaller of the two") => {
                self.of_two(step, Extreme::Least, is_last)
            }
            _ if step.numbers().starts_with("take the greater of the two") => {
                self.of_two(step, Extreme::Greatest, is_last)
            }
            _ => self.formula(step, is_last),
        }
    }

    /// The reactant with the least amount divided by its coefficient.
    fn limiting(&mut self, step: &'a Step, is_last: bool) -> Option<()> {
        let numbers = with_points(step.numbers());
        let (mut names, mut amounts, mut coefficients) = (Vec::new(), Vec::new(), Vec::new());
        for part in numbers.split(", ") {
            let (symbol, coefficient) = part.split_once(" = ")?.0.split_once(" / ")?;
            let name = symbol.strip_prefix("n(")?.strip_suffix(')')?;
            let mut all = self.sources.all.iter();
            amounts.push(all.find(|source| source.symbol == symbol)?.clone());
            coefficients.push(PrintedNumber::read(coefficient)?.value);
            names.push(Cow::Owned(String::from(name)));
        }
        let right = names.iter().position(|name| name == step.result())?;
        let each = amounts.iter().zip(&coefficients);
        let each = each.map(|(amount, coefficient)| {
            Carry::Quotient(
                amount.carry.clone().into(),
                Carry::Number(coefficient.clone()).into(),
            )
        });
        let mut each: Vec<Carry> = each.collect();
        if is_last {
            // Products can be chosen as well. No amount of theirs is the least: it is that of all reactants.
            let products = self.problem.options().iter().map(Choice::text);
            for product in products {
                if names.iter().all(|name| name != product) {
                    names.push(product.into());
                    let all = each.iter().take(amounts.len()).cloned();
                    each.push(Carry::Sum(all.collect()));
                }
            }
        }
        let follows = Some((Extreme::Least, each));
        let choice = self.choice(step.what(), names, step.result(), follows)?;
        let coefficient = coefficients.get(right)?.clone();
        let numbers = coefficients.iter().cloned().map(Carry::Number).collect();
        self.by_choice("n(limiting)", choice, right, &amounts)?;
        self.sources.all.push(ValueSource {
            printed: String::new(),
            symbol: "ν(limiting)".into(),
            what: String::new(),
            carry: Carry::ByChoice(choice, numbers),
            careful: Interval::point(coefficient.clone()),
            exact: coefficient,
            is_rounded: false,
        });
        Some(())
    }

    /// A value that is one of several sources, by an earlier choice.
    fn by_choice(
        &mut self,
        symbol: &str,
        choice: usize,
        right: usize,
        options: &[ValueSource],
    ) -> Option<()> {
        let carries = options.iter().map(|source| source.carry.clone());
        let source = ValueSource {
            symbol: symbol.into(),
            what: String::new(),
            carry: Carry::ByChoice(choice, carries.collect()),
            ..options.get(right)?.clone()
        };
        self.sources.all.push(source);
        Some(())
    }

    /// The salt or the water, whichever is enough for less.
    fn used_up(&mut self, step: &'a Step) -> Option<()> {
        let numbers = with_points(step.numbers());
        let (first, second) = numbers.strip_prefix("compare ")?.split_once(" with ")?;
        let earlier = self.problem.working().steps().iter();
        let earlier: Vec<&Step> = earlier.take_while(|other| *other != step).collect();
        let mut sources = Vec::new();
        let mut names: Vec<Cow<'a, str>> = Vec::new();
        for (what, printed) in [
            ("amount of salt", first),
            ("amount of salt that this water is enough for", second),
        ] {
            let mut all = self.sources.all.iter();
            let source = all.find(|source| source.what == what && source.printed == printed)?;
            sources.push(source.clone());
            let made = earlier.iter().find(|other| other.what() == what)?;
            let (_, name) = made.symbols().split_once('(')?;
            let end = [" / ", " × "]
                .iter()
                .filter_map(|sign| name.find(sign))
                .min();
            let name = name.get(..end.unwrap_or(name.len()))?;
            names.push(name.strip_suffix(')')?.into());
        }
        let right = names.iter().position(|name| name == step.result())?;
        let each = sources.iter().map(|source| source.carry.clone());
        let follows = Some((Extreme::Least, each.collect()));
        let choice = self.choice(step.what(), names, step.result(), follows)?;
        self.by_choice("n", choice, right, &sources)
    }

    /// The residue that the words of the problem describe.
    fn residue(&mut self, step: &'a Step) -> Option<()> {
        let residues = self.listed("residues");
        let all = self.sources.all.len();
        let percentages = self.sources.all.get(all.checked_sub(residues.len())?..)?;
        let percentages = percentages.to_vec();
        let right = residues
            .iter()
            .position(|residue| *residue == step.result())?;
        let options = residues.into_iter().map(Cow::Borrowed).collect();
        let choice = self.choice(step.what(), options, step.result(), None)?;
        let carries = percentages.iter().map(|source| source.carry.clone());
        self.chosen_residue = Some(ValueSource {
            carry: Carry::ByChoice(choice, carries.collect()),
            ..percentages.get(right)?.clone()
        });
        Some(())
    }

    /// The smaller or the greater of two values that nothing else was made of.
    fn of_two(&mut self, step: &'a Step, extreme: Extreme, is_last: bool) -> Option<()> {
        let mut used = Vec::new();
        for entry in &self.entries {
            if let EntryAnswer::Number(number) = &entry.answer {
                if let Some(follows) = &number.follows {
                    follows.value.used(&mut used);
                }
            }
        }
        let free = self.sources.all.iter().filter(|source| match source.carry {
            Carry::Entry(index) => {
                let entry = self.entries.get(index);
                !used.contains(&index) && entry.is_some_and(|entry| entry.unit == step.unit())
            }
            _ => false,
        });
        let free: Vec<&ValueSource> = free.collect();
        let all = (0..free.len()).map(Carry::Entry).collect();
        let tree = Carry::OneOf(extreme, all);
        let line = (free.len() == 2).then(|| WorkedLine::of(tree, &free, self.figures));
        let asked = AskedNumber {
            label: step.what().into(),
            printed: step.result().into(),
            unit: step.unit().into(),
            symbol: String::new(),
            is_answer: is_last,
        };
        self.number(asked, line).map(|_| ())
    }
}
