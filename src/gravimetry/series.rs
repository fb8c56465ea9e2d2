//! The weighings of a container on its balance.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::constant_mass::{Constancy, ConstantMass};
use super::error::{Error, impossible};
use super::slow_loss::{MOST_WEIGHINGS, WaterToCome};
use super::warning::{Gain, Warning};
use super::weighings::{ContainerWeighings, WeighingUsed};
use crate::number::{Ratio, Reading, Rounded, TieRule};
use crate::text::{Note, sentence};

/// The greatest number of gains that are named one by one.
const MOST_GAINS: usize = 4;

/// The weighings of a container and the smallest step of its balance.
pub(super) struct Series<'a> {
    pub(super) weighings: &'a ContainerWeighings,
    pub(super) division: &'a Ratio,
}

/// Two weighings that cannot both be right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Contradiction {
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

    pub(super) fn note(&self) -> Note {
        let [one, other] = self.readings.clone();
        Note::new("impossible_masses", sentence(&self.message))
            .with("reading", one)
            .with("other", other)
    }
}

/// The mass after heating that counts.
pub(super) struct HeatedMass {
    pub(super) value: Ratio,
    /// The reading itself, unless this is a mean.
    reading: Option<Reading>,
    /// The number of readings of which this is the mean.
    pub(super) readings: u32,
    pub(super) name: &'static str,
}

impl<'a> Series<'a> {
    pub(super) fn new(weighings: &'a ContainerWeighings, division: &'a Ratio) -> Series<'a> {
        Series {
            weighings,
            division,
        }
    }

    pub(super) fn criterion(&self, rule: ConstantMass) -> Ratio {
        match rule {
            ConstantMass::Divisions(count) => self.division * count,
            ConstantMass::Absolute(grams) => grams.value(),
            ConstantMass::PerGram(grams) => {
                let taken = self.weighings.with_hydrate.value() - self.weighings.container.value();
                grams.value() * taken.abs()
            }
            ConstantMass::Relative(fraction) => {
                let last = self
                    .weighings
                    .heated
                    .last()
                    .unwrap_or(&self.weighings.with_hydrate);
                let residue = last.value() - self.weighings.container.value();
                fraction.value() * residue.abs()
            }
        }
    }

    /// The contradiction between the two weighings before heating, or between one of these and the
    /// weighing after heating that counts.
    pub(super) fn contradiction(&self, heated: Option<&HeatedMass>) -> Option<Contradiction> {
        let (c, b) = (&self.weighings.container, &self.weighings.with_hydrate);
        let between = |message, one: &Reading, other: String| {
            Some(Contradiction {
                message,
                readings: [format!("{one}"), other],
            })
        };
        if c.value().is_negative() {
            let message =
                format!("the empty container weighs {c} g, but a mass cannot be negative");
            return between(message, c, "0".into());
        }
        if b.value() <= c.value() {
            let message = format!(
                "the container with the hydrate ({b} g) is not heavier than the empty container ({c} g)"
            );
            return between(message, b, format!("{c}"));
        }
        let HeatedMass {
            value,
            reading,
            name,
            ..
        } = heated?;
        let shown = || {
            let shown = reading.or_else(|| mass(value, self.division));
            shown.map_or_else(|| value.to_plain(), |mass| format!("{mass}"))
        };
        if *value > b.value() {
            let shown = shown();
            let message = format!(
                "{name} ({shown} g) is heavier than the container with the hydrate ({b} g)"
            );
            between(message, b, shown)
        } else if *value <= c.value() {
            let shown = shown();
            let message =
                format!("{name} ({shown} g) leaves nothing above the empty container ({c} g)");
            between(message, c, shown)
        } else {
            None
        }
    }

    /// The first weighing after heating that is negative, even if another one counts.
    pub(super) fn negative_heating(&self) -> Option<Contradiction> {
        let mut heated = (1..).zip(&self.weighings.heated);
        let (heating, mass) = heated.find(|(_, mass)| mass.value().is_negative())?;
        let message = format!(
            "the weighing after heating {heating} is {mass} g, but a mass cannot be negative"
        );
        Some(Contradiction {
            message,
            readings: [format!("{mass}"), "0".into()],
        })
    }

    /// The first weighing after heating that does not lie between the container and the container with
    /// the hydrate, with the number of its heating.
    pub(super) fn outside(&self) -> Option<(usize, &Reading)> {
        let (c, b) = (&self.weighings.container, &self.weighings.with_hydrate);
        let (c, b) = (c.value(), b.value());
        let mut heated = (1..).zip(&self.weighings.heated);
        heated.find(|(_, a)| a.value() <= c || a.value() > b)
    }

    pub(super) fn constancy(&self, rule: ConstantMass) -> Constancy {
        let criterion = self.criterion(rule);
        let change = match self.weighings.heated.as_slice() {
            [.., before, last] => Some(last.value() - before.value()),
            _ => None,
        };
        Constancy {
            reached: change.as_ref().map(|change| change.abs() <= criterion),
            last_change: change.and_then(|change| mass(&change, self.division)),
            criterion,
        }
    }

    pub(super) fn heated_mass(&self, rule: WeighingUsed) -> Option<HeatedMass> {
        let last = self.weighings.heated.last()?;
        let one = |reading: &Reading, name| HeatedMass {
            value: reading.value(),
            reading: Some(*reading),
            readings: 1,
            name,
        };
        Some(match (rule, self.weighings.heated.as_slice()) {
            (WeighingUsed::Lowest, heated) => {
                let lowest = heated.iter().min_by_key(|reading| reading.value())?;
                one(lowest, "the lowest weighing after heating")
            }
            (WeighingUsed::MeanOfLastTwo, [.., before, last]) => HeatedMass {
                value: (before.value() + last.value()).checked_div(&Ratio::from(2))?,
                reading: None,
                readings: 2,
                name: "the mean of the last two weighings",
            },
            (WeighingUsed::Last | WeighingUsed::MeanOfLastTwo, _) => {
                one(last, "the last weighing after heating")
            }
        })
    }

    /// The least and the greatest of the last weighings that agree within the criterion. Those
    /// between them cannot widen an interval.
    pub(super) fn agreeing(&self, constancy: &Constancy) -> Vec<Ratio> {
        let Some(last) = self.weighings.heated.last().map(Reading::value) else {
            return Vec::new();
        };
        // Otherwise only the weighing chosen by the method counts.
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

    /// The last two falls, of which a negative one is a gain.
    fn last_falls(&self) -> Option<[Ratio; 2]> {
        let [.., first, second, third] = self.weighings.heated.as_slice() else {
            return None;
        };
        let second = second.value();
        Some([first.value() - &second, second - third.value()])
    }

    /// The water that further heating may drive off from the weighing that counts; `u` is the standard uncertainty
    /// of a reading. `None` if there are fewer than three weighings, or if their falls do not shrink.
    pub(super) fn water_to_come(&self, counts: &Ratio, u: f64) -> Option<WaterToCome> {
        let heated = &self.weighings.heated;
        let oldest = heated.len().saturating_sub(MOST_WEIGHINGS);
        let last = heated.iter().skip(oldest);
        let above: Vec<f64> = last.map(|a| (a.value() - counts).to_f64()).collect();
        WaterToCome::estimated(&above, u)
    }

    /// Whether the weighings agree after a fall so large that less than the criterion can be left.
    pub(super) fn falls_fast(&self, constancy: &Constancy) -> bool {
        let least = constancy.criterion.clone().max(self.division.clone());
        constancy.reached == Some(true)
            && self
                .last_falls()
                .is_some_and(|[before, _]| before >= 10 * least)
    }

    pub(super) fn warnings(&self, constancy: &Constancy, criterion_given: bool) -> Vec<Warning> {
        let mut warnings = Vec::new();
        let criterion = &constancy.criterion;
        match (constancy.reached, constancy.last_change) {
            (None, _) if self.weighings.heated.len() == 1 => warnings.push(Warning::OneHeating),
            // A rise is reported as a gain.
            (Some(false), Some(change)) if change.is_negative() => {
                warnings.push(Warning::NotConstant(change, criterion.clone()));
            }
            _ => {}
        }
        warnings.extend(self.falls_that_do_not_shrink(criterion));
        warnings.extend(self.gains(criterion).into_iter().map(Warning::Gain));
        if criterion_given && criterion < self.division {
            let division = self.division.clone();
            warnings.push(Warning::CriterionBelowDivision(criterion.clone(), division));
        }
        warnings
    }

    fn falls_that_do_not_shrink(&self, criterion: &Ratio) -> Option<Warning> {
        let [before, last] = self.last_falls()?;
        (before > *criterion && last >= before)
            .then(|| Warning::DoesNotSettle([self.shown(&before), self.shown(&last)]))
    }

    /// The heatings after which a weighing is heavier than the one before it by more than the
    /// criterion, counted from 1, with that gain.
    fn each_gain(&self, criterion: &Ratio) -> impl Iterator<Item = (usize, Ratio)> {
        let heated = &self.weighings.heated;
        let before = core::iter::once(&self.weighings.with_hydrate).chain(heated);
        let gains = before.zip(heated).map(|(b, a)| a.value() - b.value());
        let gains = (1..).zip(gains);
        gains.filter(move |(_, gain)| gain > criterion)
    }

    /// The first gain after which no weighing has come back to within the criterion of the one before
    /// the gain: the number of its heating.
    pub(super) fn lasting_gain(&self, criterion: &Ratio) -> Option<usize> {
        let heated = &self.weighings.heated;
        let mut gains = self.each_gain(criterion);
        gains.find_map(|(heating, gain)| {
            let (_, after) = heated.split_at_checked(heating - 1)?;
            let limit = after.first()?.value() - gain + criterion;
            let came_back = after.iter().any(|a| a.value() <= limit);
            (!came_back).then_some(heating)
        })
    }

    /// The gains between weighings. If there are many, only their number and the largest gain are given.
    pub(super) fn gains(&self, criterion: &Ratio) -> Vec<Gain> {
        let gains: Vec<(usize, Ratio)> = self.each_gain(criterion).collect();
        match gains.iter().map(|(_, gain)| gain).max() {
            Some(largest) if gains.len() > MOST_GAINS => {
                alloc::vec![Gain::Many(gains.len(), self.shown(largest))]
            }
            _ => gains
                .iter()
                .map(|(heating, gain)| Gain::One(*heating, self.shown(gain)))
                .collect(),
        }
    }

    /// A mass as this balance would show it: a whole number of its steps.
    pub(super) fn on_balance(&self, mass: &Ratio) -> Rounded {
        on_balance(mass, self.division)
    }

    /// A difference of weighings, with the decimal places of the balance.
    pub(super) fn shown(&self, mass: &Ratio) -> Rounded {
        mass.to_places(places_of(self.division), TieRule::Even)
    }
}

/// A mass as a balance with this division would show it.
pub(super) fn on_balance(mass: &Ratio, division: &Ratio) -> Rounded {
    let shown = mass.to_multiple(division, TieRule::Even);
    shown.unwrap_or_else(|| mass.to_places(places_of(division), TieRule::Even))
}

/// The decimal places of a balance with this division.
pub(super) fn places_of(division: &Ratio) -> i32 {
    division
        .exact_decimal_places()
        .and_then(|places| i32::try_from(places).ok())
        .unwrap_or(0)
}

/// A mass with the decimal places of the balance, or more if it has more.
pub(super) fn mass(value: &Ratio, division: &Ratio) -> Option<Reading> {
    let exact = value
        .exact_decimal_places()
        .and_then(|p| i32::try_from(p).ok())?;
    let places = places_of(division).max(exact);
    let units = (value * Ratio::power_of_ten(places)).to_i128()?;
    Reading::from_units(units, -places)
}
