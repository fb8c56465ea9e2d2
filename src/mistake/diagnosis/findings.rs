//! The evidence in the readings of a bench, by exact masses.

use super::super::fault::Fault;
use super::super::heated_salt::HeatedSalt;
use super::bench_readings::BenchReadings;
use super::evidence::Evidence;
use super::probable_misreading::ProbableMisreading;
use crate::formula::Formula;
use crate::number::{Ratio, Reading, Rounded, TieRule};

/// The masses of a bench that evidence speaks of, in grams.
pub(super) struct BenchFindings<'b> {
    bench: &'b BenchReadings,
    salt: &'b HeatedSalt,
    criterion: Ratio,
    /// The last weighing minus the expected one.
    above: Ratio,
    /// The last weighing minus the one before, and that one minus the one before it.
    changes: [Option<Ratio>; 2],
    heatings: usize,
    misreading: Option<ProbableMisreading>,
    is_possible: bool,
}

impl<'b> BenchFindings<'b> {
    pub(super) fn new(
        bench: &'b BenchReadings,
        salt: &'b HeatedSalt,
        criterion: Option<Ratio>,
        misreading: Option<ProbableMisreading>,
        is_possible: bool,
    ) -> BenchFindings<'b> {
        let first = bench.first_heated();
        let value = |index: usize| bench.written.get(index).map(Reading::value);
        let container = value(0).filter(|_| bench.has_container).unwrap_or_default();
        let taken = value(first - 1).unwrap_or_default() - &container;
        let expected = &container + &taken * &salt.residue;
        let last = bench.written.len() - 1;
        let change = |from: Option<usize>| {
            let from = from.filter(|from| *from >= first)?;
            Some(value(from + 1)? - value(from)?)
        };
        BenchFindings {
            above: value(last).unwrap_or_default() - expected,
            changes: [change(last.checked_sub(1)), change(last.checked_sub(2))],
            heatings: last + 1 - first,
            criterion: criterion.unwrap_or_else(|| 2 * &bench.division),
            bench,
            salt,
            misreading,
            is_possible,
        }
    }

    /// Whether the last two weighings agree and are as they should be.
    pub(super) fn is_as_expected(&self) -> bool {
        self.bench.is_as_expected
    }

    /// Whether the residue is lighter than it should be.
    pub(super) fn is_light(&self) -> bool {
        self.above.is_negative()
    }

    pub(super) fn heatings(&self) -> usize {
        self.heatings
    }

    /// The misreading that explains the readings best.
    pub(super) fn misreading(&self) -> Option<&ProbableMisreading> {
        self.misreading.as_ref()
    }

    /// A mass without its sign, as the balance shows it.
    fn shown(&self, mass: &Ratio) -> Rounded {
        let shown = mass.to_multiple(&self.bench.division, TieRule::Even);
        shown.unwrap_or_else(|| mass.to_places(6, TieRule::Even))
    }

    /// The evidence for a fault.
    pub(super) fn evidence(&self, fault: Fault) -> Evidence {
        let fall = self.changes[0].as_ref().map(|change| -change);
        let fall = fall.filter(|fall| *fall > self.criterion);
        let below = || self.shown(&-&self.above);
        match (fault, fall) {
            (Fault::WeighingMisread, _) => match &self.misreading {
                Some(misreading) => Evidence::OtherReading(misreading.clone()),
                None if self.is_possible => Evidence::Nothing,
                None => Evidence::Impossible,
            },
            (Fault::WaterLeft, Some(fall)) if self.above.is_positive() => Evidence::StillFalling {
                fall: self.shown(&fall),
                above: self.shown(&self.above),
            },
            (Fault::WeighedWarm, Some(fall)) if self.was_constant() => {
                Evidence::FellAfterConstant {
                    fall: self.shown(&fall),
                    below: below(),
                }
            }
            (Fault::Decomposed, Some(fall)) if self.is_light() => Evidence::FellBelow {
                fall: self.shown(&fall),
                below: below(),
            },
            (Fault::MoistureTakenUp, _) => match &self.changes[0] {
                Some(gain) if gain.is_positive() => Evidence::GainedAtLast {
                    gain: self.shown(gain),
                },
                _ => self.by_mass(),
            },
            (Fault::StoppedAtLowerHydrate, _) => match self.nearest_plateau() {
                Some(hydrate) => Evidence::AtLowerHydrate { hydrate },
                None => self.by_mass(),
            },
            _ => self.by_mass(),
        }
    }

    /// Whether the two weighings before the last agree.
    fn was_constant(&self) -> bool {
        let change = self.changes[1].as_ref();
        change.is_some_and(|change| change.abs() <= self.criterion)
    }

    /// The evidence of the last mass alone.
    fn by_mass(&self) -> Evidence {
        let heatings = self.heatings;
        let shown = self.shown(&self.above.abs());
        if shown.value().is_zero() {
            Evidence::Nothing
        } else if self.is_light() {
            Evidence::TooLight {
                below: shown,
                heatings,
            }
        } else {
            Evidence::TooHeavy {
                above: shown,
                heatings,
            }
        }
    }

    /// The lower hydrate whose mass is nearest, if the residue is nearer to it than to the expected mass.
    fn nearest_plateau(&self) -> Option<Formula> {
        let first = self.bench.first_heated();
        let value = |index: usize| self.bench.written.get(index).map(|r| r.value().to_f64());
        let container = value(0).filter(|_| self.bench.has_container);
        let taken = value(first - 1)? - container.unwrap_or_default();
        let water = taken * self.salt.water();
        let above = self.above.to_f64();
        let off = |left: f64| (above - left * water).abs();
        let plateaus = self.salt.possible_plateaus().into_iter();
        let nearest = plateaus.min_by(|(_, one), (_, other)| off(*one).total_cmp(&off(*other)));
        let (waters, left) = nearest?;
        (off(left) < above.abs()).then(|| self.salt.salt.with_waters(&waters))?
    }
}
