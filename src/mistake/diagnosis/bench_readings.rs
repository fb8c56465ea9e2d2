//! The readings of one bench in the form that the likelihoods need.

use alloc::vec::Vec;

use super::super::error::{Error, ErrorKind, wrong};
use super::super::heated_salt::{HeatedSalt, from_method};
use super::progress::HeatedSeries;
use crate::gravimetry::{Constancy, Method, Net, USUAL_REPEATABILITY, Weighings};
use crate::number::{Ratio, Reading, rectangular};

/// The number of weighings after heating that count, the last ones.
const MOST_HEATED: usize = 12;

/// The standard deviation of a weighing in divisions, unless the method states it (common practice, no
/// source).
const SCATTER: f64 = 1.0 / 3.0;

/// The readings of one bench, with what is known of their noise.
pub(super) struct BenchReadings {
    /// The empty container, the container with the hydrate, and each heating; without a container the two
    /// net masses.
    pub(super) written: Vec<Reading>,
    /// Whether the first reading is the empty container.
    pub(super) has_container: bool,
    pub(super) division: Ratio,
    /// The standard deviation of one weighing, in grams.
    pub(super) noise: f64,
    /// The relative standard deviation of the water between benches.
    repeatability: f64,
    /// The mass fraction of the hydrate that stays.
    stays: f64,
    /// The number of the first weighings after heating that do not count.
    skipped: usize,
    /// Whether the last two weighings agree and are as they should be.
    pub(super) is_as_expected: bool,
}

/// The masses of a bench as differences from those of a bench without water left.
#[derive(Debug, Clone)]
pub(super) struct Deviations {
    pub(super) heated: Vec<f64>,
    pub(super) noise: f64,
    /// The standard deviation that all weighings after heating share.
    pub(super) common: f64,
    /// The mass of hydrate, its water, and the residue that should be left.
    pub(super) taken: f64,
    pub(super) water: f64,
    pub(super) residue: f64,
}

impl BenchReadings {
    /// Takes the readings of a bench that has heated at least once.
    pub(super) fn new(
        weighings: &Weighings,
        salt: &HeatedSalt,
        method: &Method,
    ) -> Result<BenchReadings, Error> {
        let division = method.division(weighings);
        let (written, has_container, readings) = match weighings.net_masses() {
            Some((hydrate, residue, net)) => {
                let each = if net == Net::Subtracted { 2.0 } else { 1.0 };
                (alloc::vec![*hydrate, *residue], false, each)
            }
            None => {
                let before = [weighings.container(), weighings.with_hydrate()];
                let before = before.into_iter().flatten();
                let all: Vec<Reading> = before.chain(weighings.heated()).copied().collect();
                (all, true, 1.0)
            }
        };
        if written.len() < if has_container { 3 } else { 2 } {
            return Err(wrong(
                ErrorKind::NothingHeated,
                "there is no mass after heating to diagnose".into(),
                "give the weighings of the container, at least one of them after heating",
            ));
        }
        let constancy = method.constancy(weighings);
        let constancy = constancy.map_err(|error| from_method(&error))?;
        let step = division.to_f64();
        let of_balance = SCATTER * step;
        let read = rectangular(step / 2.0);
        let usual = libm::hypot(read, of_balance).max(OF_CRUCIBLE);
        let one = method.of_one_reading(&division).max(usual);
        let heated = written.len() - if has_container { 2 } else { 1 };
        let mut readings = BenchReadings {
            skipped: heated.saturating_sub(MOST_HEATED),
            is_as_expected: false,
            written,
            has_container,
            noise: one * libm::sqrt(readings),
            repeatability: method
                .own_repeatability()
                .unwrap_or_default()
                .max(USUAL_REPEATABILITY),
            stays: salt.residue.to_f64(),
            division,
        };
        let noise = readings.noise;
        let agree = |own: &Constancy| {
            let change = own
                .last_change()
                .map(|change| change.value().abs().to_f64());
            own.reached() == Some(true) || change.is_some_and(|change| change <= AGREE * noise)
        };
        if let Some(constancy) = constancy.filter(agree) {
            readings.settle(rectangular(constancy.criterion().to_f64()));
        }
        Ok(readings)
    }

    /// Leaves out the weighings before the last two, which agree, if the last is as it should be: within three
    /// standard uncertainties, with that of the `criterion`. Nothing depends on them then.
    fn settle(&mut self, criterion: f64) {
        let before = self.skipped;
        self.skipped = (self.written.len() - self.first_heated()).saturating_sub(2);
        let deviations = self.deviations(&self.masses());
        self.is_as_expected = deviations.is_some_and(|own| {
            let of_readings = libm::hypot(own.common, own.noise);
            own.last().abs() <= EXPECTED * libm::hypot(of_readings, criterion)
        });
        if !self.is_as_expected {
            self.skipped = before;
        }
    }

    /// The masses as they were written.
    pub(super) fn masses(&self) -> Vec<f64> {
        let values = self.written.iter().map(|reading| reading.value().to_f64());
        values.collect()
    }

    /// The index of the first reading after heating.
    pub(super) fn first_heated(&self) -> usize {
        if self.has_container { 2 } else { 1 }
    }

    /// Whether the likelihoods depend on the reading with this index.
    pub(super) fn counts(&self, index: usize) -> bool {
        index < self.first_heated() || index >= self.first_heated() + self.skipped
    }

    /// These masses as deviations; `None` if they are impossible: a negative container, no hydrate, or a
    /// weighing after heating that is not heavier than the container or is heavier than with the hydrate.
    pub(super) fn deviations(&self, masses: &[f64]) -> Option<Deviations> {
        let (container, rest) = if self.has_container {
            let (container, rest) = masses.split_first()?;
            (*container, rest)
        } else {
            (0.0, masses)
        };
        let (with_hydrate, heated) = rest.split_first()?;
        let heated = heated.get(self.skipped..)?;
        let taken = with_hydrate - container;
        let slack = CLEAR * self.noise;
        let is_possible = |mass: &f64| *mass > container && *mass <= with_hydrate + slack;
        if !(container >= 0.0 && taken > 0.0 && heated.iter().all(is_possible)) {
            return None;
        }
        let stays = self.stays;
        let residue = taken * stays;
        let water = taken - residue;
        let heated = heated.iter();
        let ends = libm::sqrt(stays * stays + (1.0 - stays) * (1.0 - stays));
        let readings = if self.has_container { ends } else { stays };
        let of_method = self.repeatability * water;
        let of_readings = readings * self.noise;
        Some(Deviations {
            heated: heated.map(|mass| mass - container - residue).collect(),
            noise: self.noise,
            common: libm::sqrt(of_readings * of_readings + of_method * of_method),
            taken,
            water,
            residue,
        })
    }
}

/// The gain over the hydrate, in standard deviations of a weighing, that may still be noise.
const CLEAR: f64 = 6.0;

/// Two weighings agree if they differ by no more than this many standard deviations of one.
const AGREE: f64 = 4.0;

/// The least standard deviation of a weighing, in grams, however fine the balance is: moisture on a crucible and
/// rising air change it (common practice, no source).
const OF_CRUCIBLE: f64 = 0.0002;

/// How near to the expected mass a constant one is as it should be, in standard deviations.
const EXPECTED: f64 = 3.0;

impl Deviations {
    /// The weighings after heating as a series.
    pub(super) fn series(&self) -> HeatedSeries<'_> {
        HeatedSeries {
            deviations: &self.heated,
            noise: self.noise,
            water: self.water,
        }
    }

    /// The last weighing.
    pub(super) fn last(&self) -> f64 {
        self.heated.last().copied().unwrap_or_default()
    }
}
