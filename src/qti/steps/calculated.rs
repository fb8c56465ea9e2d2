//! Entries for steps that are calculated.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::builder::{AskedNumber, EntryBuilder};
use super::line::WorkedLine;
use super::printed::{PrintedNumber, with_points};
use super::source::{ValueSource, symbol_of};
use crate::number::Ratio;
use crate::qti::entry::{Carry, Extreme};
use crate::working::Step;

impl<'a> EntryBuilder<'a> {
    /// Adds an entry for each result of a calculation. Returns whether the numbers of the step give all of them;
    /// `None` if one is not a number.
    pub(super) fn calculated(&mut self, step: &'a Step, is_last: bool) -> Option<bool> {
        let mut are_proved = true;
        let numbers = with_points(step.numbers());
        let lines: Vec<&str> = numbers.split("; ").collect();
        let results: Vec<&str> = step.result().split("; ").collect();
        let several = results.len() > 1;
        let names = self.names(step, results.len());
        let symbol = match several {
            true => String::new(),
            false => symbol_of(step),
        };
        for (at, result) in results.iter().enumerate() {
            let line = match (lines.get(at), lines.len() == results.len()) {
                (Some(line), true) => self.special(step, line, is_last),
                _ => None,
            };
            let (printed, unit) = match several {
                true => result.split_once([' ', '\u{a0}']).unwrap_or((result, "")),
                false => (*result, step.unit()),
            };
            let asked = AskedNumber {
                label: names.get(at)?.clone(),
                printed: printed.into(),
                unit: unit.into(),
                symbol: symbol.clone(),
                is_answer: is_last && !several,
            };
            let is_negative = printed.starts_with(['-', '−']);
            are_proved &= self.number(asked, line)?;
            if let (Some(entry), true) = (self.entries.last_mut(), is_negative && !is_last) {
                entry.label = format!("{}, with its sign", entry.label).into();
            }
        }
        Some(are_proved)
    }

    /// What the results of a step are called.
    fn names(&self, step: &'a Step, results: usize) -> Vec<Cow<'a, str>> {
        let what = step.what();
        if results > 1 {
            let residues = self.listed("residues");
            let stages = what.strip_suffix(" at each stage").unwrap_or(what);
            let stages = stages.strip_suffix(" as the residue").unwrap_or(stages);
            return (0..results)
                .map(|at| match residues.get(at) {
                    Some(residue) => format!("{stages} when {residue} is the residue").into(),
                    None => format!("{what}, number {}", at + 1).into(),
                })
                .collect();
        }
        match what.strip_prefix("ratio of ") {
            Some(part) if self.amounts().len() > 1 => {
                Vec::from([format!("amount of {part}, divided by the smallest amount").into()])
            }
            _ => Vec::from([what.into()]),
        }
    }

    /// The amounts of the parts of a compound.
    fn amounts(&self) -> Vec<&ValueSource> {
        let all = self.sources.all.iter();
        all.filter(|source| source.what.starts_with("amount of ") && !source.what.contains(','))
            .collect()
    }

    /// The line of a step. Some lines depend on what a pupil found before in a way that their numbers do not show.
    fn special(&self, step: &Step, numbers: &str, is_last: bool) -> Option<WorkedLine> {
        if let (Some(residue), true) = (&self.chosen_residue, is_last) {
            return self.of_residue(residue, step, numbers);
        }
        if let Some(part) = step.what().strip_prefix("ratio of ") {
            let amounts = self.amounts();
            let of_part = amounts
                .iter()
                .position(|amount| amount.what.strip_prefix("amount of ") == Some(part));
            if let (Some(of_part), true) = (of_part, amounts.len() > 1) {
                // Whoever has another smallest amount divides by that one.
                let all = (0..amounts.len()).map(Carry::Entry);
                let least = Carry::OneOf(Extreme::Least, all.collect());
                let tree = Carry::Quotient(Carry::Entry(of_part).into(), least.into());
                return Some(WorkedLine::of(tree, &amounts, self.figures));
            }
        }
        self.line(step, numbers)
    }

    /// The last line for the residue that was chosen: its percentage once more, or the mass that is left.
    fn of_residue(&self, residue: &ValueSource, step: &Step, numbers: &str) -> Option<WorkedLine> {
        let own = Carry::Entry(0);
        let tree = if step.unit() == "%" {
            own
        } else {
            let hundred = || Carry::Number(Ratio::from(100));
            let (sample, _) = numbers.split_once(" × ")?;
            let sample = PrintedNumber::read(sample)?.value;
            let left = match residue.what.contains("lost") {
                true => Carry::Difference(hundred().into(), own.into()),
                false => own,
            };
            let left = Carry::Quotient(left.into(), hundred().into());
            Carry::Product(Vec::from([Carry::Number(sample), left]))
        };
        Some(WorkedLine::of(tree, &[residue], self.figures))
    }
}
