//! A container's weighings on its balance.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::constant_mass::{Constancy, ConstantMass};
use super::error::{Error, impossible};
use super::weighings::{ContainerWeighings, WeighingUsed};
use crate::number::{Ratio, Reading, TieRule};
use crate::text::Note;

/// So many rises are told one by one.
const MOST_GAINS: usize = 4;

/// A container's weighings under a method's rules: the base of a dehydration and of a check.
pub(super) struct Series<'a> {
    pub(super) weighings: &'a ContainerWeighings,
    pub(super) division: &'a Ratio,
}

/// Two weighings that cannot both be.
pub(super) struct Contradiction {
    message: String,
    readings: [String; 2],
}

impl Contradiction {
    pub(super) fn error(self) -> Error {
        impossible(
            self.message,
            "check both readings: one may be misread, or they were swapped",
        )
    }

    pub(super) fn note(self) -> Note {
        let mut chars = self.message.chars();
        let first: String = chars
            .next()
            .into_iter()
            .flat_map(char::to_uppercase)
            .collect();
        let [one, other] = self.readings;
        Note::new("impossible_masses", format!("{first}{}.", chars.as_str()))
            .with("reading", one)
            .with("other", other)
    }
}

/// The weighing that counts: its value and what it is made from.
pub(super) struct Used {
    pub(super) value: Ratio,
    /// How many readings it is the mean of.
    pub(super) readings: u32,
    pub(super) name: &'static str,
}

impl Series<'_> {
    pub(super) fn criterion(&self, rule: ConstantMass) -> Ratio {
        match rule {
            ConstantMass::Divisions(count) => self.division * &Ratio::from(count),
            ConstantMass::Absolute(grams) => grams.value(),
            ConstantMass::PerGram(grams) => {
                let taken =
                    &self.weighings.with_hydrate.value() - &self.weighings.container.value();
                &grams.value() * &taken.abs()
            }
            ConstantMass::Relative(fraction) => {
                let last = self
                    .weighings
                    .heated
                    .last()
                    .unwrap_or(&self.weighings.with_hydrate);
                let residue = &last.value() - &self.weighings.container.value();
                &fraction.value() * &residue.abs()
            }
        }
    }

    /// Which two weighings contradict one another, if two do: the container and its charge, or the
    /// weighing that counts and either of these.
    pub(super) fn contradiction(&self, used: Option<(&Ratio, &str)>) -> Option<Contradiction> {
        let (c, b) = (&self.weighings.container, &self.weighings.with_hydrate);
        let say = |message, one: &Reading, other: String| {
            Some(Contradiction {
                message,
                readings: [format!("{one}"), other],
            })
        };
        if c.value().is_negative() {
            let message = format!("the empty container weighs {c} g, less than nothing");
            return say(message, c, "0".into());
        }
        if b.value() <= c.value() {
            let message = format!(
                "the container with the hydrate ({b} g) is not heavier than the empty container ({c} g)"
            );
            return say(message, b, format!("{c}"));
        }
        let (value, name) = used?;
        let shown =
            || mass(value, self.division).map_or_else(|| value.to_plain(), |m| format!("{m}"));
        if *value > b.value() {
            let shown = shown();
            let message = format!(
                "{name} ({shown} g) is heavier than the container with the hydrate ({b} g)"
            );
            say(message, b, shown)
        } else if *value <= c.value() {
            let shown = shown();
            let message =
                format!("{name} ({shown} g) leaves nothing above the empty container ({c} g)");
            say(message, c, shown)
        } else {
            None
        }
    }

    pub(super) fn constancy(&self, rule: ConstantMass) -> Constancy {
        let criterion = self.criterion(rule);
        let [.., before, last] = self.weighings.heated.as_slice() else {
            return Constancy::unknown(criterion);
        };
        let change = &last.value() - &before.value();
        Constancy {
            reached: Some(change.abs() <= criterion),
            last_change: difference(last, before, self.division),
            criterion,
        }
    }

    pub(super) fn used(&self, rule: WeighingUsed) -> Option<Used> {
        let last = self.weighings.heated.last()?;
        let one = |value, name| Used {
            value,
            readings: 1,
            name,
        };
        Some(match (rule, self.weighings.heated.as_slice()) {
            (WeighingUsed::Lowest, heated) => {
                let lowest = heated.iter().map(Reading::value).min()?;
                one(lowest, "the lowest weighing after heating")
            }
            (WeighingUsed::MeanOfLastTwo, [.., before, last]) => Used {
                value: (&before.value() + &last.value()).checked_div(&Ratio::from(2))?,
                readings: 2,
                name: "the mean of the last two weighings",
            },
            (WeighingUsed::Last | WeighingUsed::MeanOfLastTwo, _) => {
                one(last.value(), "the last weighing after heating")
            }
        })
    }

    /// The least and the greatest of the weighings that agree with the last one within the
    /// criterion, from the last one back: what lies between cannot widen an interval.
    pub(super) fn agreeing(&self, constancy: &Constancy) -> Vec<Ratio> {
        let Some(last) = self.weighings.heated.last().map(Reading::value) else {
            return Vec::new();
        };
        // Otherwise the house's own weighing is the only one.
        if constancy.reached != Some(true) {
            return Vec::new();
        }
        let within = || {
            self.weighings
                .heated
                .iter()
                .rev()
                .map(Reading::value)
                .take_while(|value| (value - &last).abs() <= constancy.criterion)
        };
        within().min().into_iter().chain(within().max()).collect()
    }

    /// What the series itself gives cause to say.
    pub(super) fn warnings(&self, constancy: &Constancy, criterion_given: bool) -> Vec<Note> {
        let mut notes = Vec::new();
        match constancy.reached {
            None if self.weighings.heated.len() == 1 => notes.push(Note::new(
                "one_heating",
                "There is one weighing after heating only, so it is not known whether the mass was constant.",
            )),
            // A rise is told as a gain below.
            Some(false) => notes.extend(constancy.fall().map(|by| {
                Note::new(
                    "not_constant",
                    format!(
                        "The mass still fell by {by} g between the last two weighings; if water is all that \
                         leaves, the ratio found is a lower bound."
                    ),
                )
                .with("fall", by)
                .with("criterion", constancy.criterion.to_plain())
            })),
            _ => {}
        }
        notes.extend(self.does_not_settle(&constancy.criterion));
        notes.extend(self.gains(&constancy.criterion));
        if criterion_given && constancy.criterion < *self.division {
            notes.push(
                Note::new(
                    "criterion_below_division",
                    format!(
                        "The criterion for constant mass, {} g, is finer than one division of the balance, {} g.",
                        constancy.criterion.to_plain(),
                        self.division.to_plain()
                    ),
                )
                .with("criterion", constancy.criterion.to_plain())
                .with("division", self.division.to_plain()),
            );
        }
        notes
    }

    /// Falls that do not get smaller: nothing shows that they would come to an end.
    fn does_not_settle(&self, criterion: &Ratio) -> Option<Note> {
        let [.., first, second, third] = self.weighings.heated.as_slice() else {
            return None;
        };
        let (before, last) = (
            &first.value() - &second.value(),
            &second.value() - &third.value(),
        );
        if before <= *criterion || last < before {
            return None;
        }
        let (before, last) = (self.shown(&before), self.shown(&last));
        Some(
            Note::new(
                "does_not_settle",
                format!(
                    "The last two falls, {before} g and {last} g, do not get smaller: more water is still to come, or the salt itself decomposes."
                ),
            )
            .with("fall_before", before)
            .with("last_fall", last),
        )
    }

    /// Every weighing after heating that is heavier than the one before it by more than the
    /// criterion; where there are many, the largest rise stands for all.
    pub(super) fn gains(&self, criterion: &Ratio) -> Vec<Note> {
        let before = core::iter::once(&self.weighings.with_hydrate).chain(&self.weighings.heated);
        let gains: Vec<(usize, Ratio)> = before
            .zip(&self.weighings.heated)
            .map(|(before, after)| &after.value() - &before.value())
            .enumerate()
            .filter(|(_, gain)| gain > criterion)
            .map(|(index, gain)| (index + 1, gain))
            .collect();
        let cause = "moisture or oxygen taken up, weighed warm before, or misread";
        if gains.len() > MOST_GAINS {
            let largest = gains.iter().map(|(_, gain)| gain).max();
            let gain = largest.map_or_else(String::new, |gain| self.shown(gain));
            let count = format!("{}", gains.len());
            let text = format!(
                "{count} weighings rose above the one before them, by up to {gain} g: {cause}."
            );
            return alloc::vec![
                Note::new("gain", text)
                    .with("weighings", count)
                    .with("gain", gain)
            ];
        }
        gains
            .iter()
            .map(|(heating, gain)| {
                let (heating, gain) = (format!("{heating}"), self.shown(gain));
                let text = format!(
                    "The weighing after heating {heating} is {gain} g more than the one before it: {cause}."
                );
                Note::new("gain", text).with("heating", heating).with("gain", gain)
            })
            .collect()
    }

    /// A difference of weighings, with the decimal places of the balance.
    pub(super) fn shown(&self, mass: &Ratio) -> String {
        format!(
            "{}",
            mass.to_decimal_places(places_of(self.division), TieRule::Even)
        )
    }
}

/// The decimal places that show a division.
pub(super) fn places_of(division: &Ratio) -> i32 {
    division
        .exact_decimal_places()
        .and_then(|places| i32::try_from(places).ok())
        .unwrap_or(0)
}

/// A mass that keeps the decimal places of the balance, and as many more as it needs.
pub(super) fn mass(value: &Ratio, division: &Ratio) -> Option<Reading> {
    let exact = value
        .exact_decimal_places()
        .and_then(|p| i32::try_from(p).ok())?;
    let places = places_of(division).max(exact);
    let units = (value * &Ratio::power_of_ten(places)).to_i128()?;
    Reading::from_units(units, -places)
}

/// The difference of two readings: it keeps their decimal places.
pub(super) fn difference(a: &Reading, b: &Reading, division: &Ratio) -> Option<Reading> {
    mass(&(&a.value() - &b.value()), division)
}
