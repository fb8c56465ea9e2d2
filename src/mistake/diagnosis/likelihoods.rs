//! The likelihood of a bench's readings under each fault, and without one. Each is summed over the size of
//! the fault, over the scatter between benches, and over the water that each heating leaves.

use alloc::vec::Vec;

use super::super::fault::Fault;
use super::super::fault_sizes::{
    BALANCE_CHANGED, CONTAINER_DAMP, DECOMPOSED, HeavyTailed, MOISTURE_TAKEN_UP, SAMPLE_DAMP,
    SAMPLE_EFFLORESCED, SOLID_LOST, WEIGHED_WARM,
};
use super::super::heated_salt::HeatedSalt;
use super::bench_readings::Deviations;
use super::log_normal::{LogNormal, bell_area, student};
use super::offsets::{OffsetRange, REACH};
use super::progress::{DryingProgress, HeatedSeries};
use crate::number::Ratio;

/// How much more the logarithm of a size varies than the table says without its tails.
const WIDER: f64 = 1.15;
/// The part of the residue that an unknown salt may lose by decomposition: the median, and how much more
/// than that of a known one its logarithm varies (common practice, no source).
const UNKNOWN_LOSS: f64 = 0.5;
const UNKNOWN_WIDER: f64 = 2.0;
/// The part of the water that a bench without a fault may still hold at its last weighing.
const MOST_LEFT: f64 = 0.1;
/// The same after two heatings.
const LEFT_AFTER_TWO: f64 = 0.02;
/// The steps between the losses by decomposition over which a likelihood is summed, in standard deviations of
/// what all weighings share.
const LOSS_STEP: f64 = 0.7;
/// The relative standard deviation of the loss by decomposition in one heating.
const UNEVEN: f64 = 0.15;

/// The likelihoods of a bench's readings, relative to each other.
pub(super) struct Likelihoods<'b> {
    bench: &'b Deviations,
    salt: &'b HeatedSalt,
    division: f64,
    usual: DryingProgress,
}

impl<'b> Likelihoods<'b> {
    pub(super) fn new(bench: &'b Deviations, salt: &'b HeatedSalt, division: &Ratio) -> Self {
        Likelihoods {
            bench,
            salt,
            division: division.to_f64(),
            usual: DryingProgress::usual(),
        }
    }

    /// The size of a fault in grams.
    fn size(&self, row: &HeavyTailed, whole: f64) -> LogNormal {
        LogNormal::visible(row, whole, self.division).wider(WIDER)
    }

    /// Without a fault: what all weighings share is scatter only.
    pub(super) fn no_fault(&self) -> f64 {
        self.near(0.0, &self.usual, self.bench.water)
    }

    /// The likelihood if all weighings are off by `centre` and the scatter, and `water` leaves.
    fn near(&self, centre: f64, progress: &DryingProgress, water: f64) -> f64 {
        let Deviations { common, noise, .. } = *self.bench;
        let series = HeatedSeries {
            water,
            ..self.bench.series()
        };
        let range = OffsetRange::about(centre, common);
        let offsets = range.offsets(Some(self.bench.last()), noise);
        let each = offsets.iter().map(|(offset, width)| {
            width * student(offset - centre, common) * series.likelihood(*offset, progress)
        });
        each.sum()
    }

    /// The likelihood under each fault but a misreading; `None` if this salt cannot show it.
    pub(super) fn of_faults(&self) -> Vec<(Fault, Option<f64>)> {
        let mut all = alloc::vec![
            (Fault::WaterLeft, Some(self.slow())),
            (Fault::StoppedAtLowerHydrate, self.stopped()),
        ];
        all.extend(self.constant_offsets());
        all.extend(self.at_last_weighing());
        if self.bench.heated.len() > 1 {
            all.push((Fault::Decomposed, self.decomposed()));
        }
        all
    }

    /// Heating went on too slowly.
    fn slow(&self) -> f64 {
        let each = DryingProgress::slow();
        let each =
            each.map(|(progress, weight)| weight * self.near(0.0, &progress, self.bench.water));
        each.sum()
    }

    /// The mass became constant at one of the lower hydrates.
    fn stopped(&self) -> Option<f64> {
        let plateaus = self.salt.possible_plateaus();
        let count = plateaus.len() as f64;
        let each = plateaus.iter().map(|(_, left)| {
            let kept = left * self.bench.water;
            self.near(kept, &self.usual, self.bench.water - kept)
        });
        (count > 0.0).then(|| each.sum::<f64>() / count)
    }

    /// The faults that change every weighing after heating by the same mass.
    fn constant_offsets(&self) -> Vec<(Fault, Option<f64>)> {
        let Deviations {
            common,
            noise,
            taken,
            water,
            residue,
            ..
        } = *self.bench;
        let last = self.bench.last();
        let range = OffsetRange {
            least: last.min(0.0) - REACH * common - MOST_LEFT * water,
            most: f64::INFINITY,
            centre: 0.0,
            deviation: common,
        };
        let series = self.bench.series();
        let offsets = range.offsets(Some(last), noise);
        let offsets = offsets.into_iter().map(|(offset, width)| {
            let likelihood = series.likelihood(offset, &self.usual);
            (offset, width * likelihood)
        });
        // What adds nothing need not be asked about each fault.
        let offsets: Vec<(f64, f64)> = offsets.filter(|(_, area)| *area > 0.0).collect();
        let of_size = |size: &LogNormal, sign: f64| {
            let each = offsets.iter();
            let each = each.map(|(offset, area)| area * size.blurred(sign * offset, common));
            each.sum::<f64>()
        };
        let sized = |size: LogNormal, signs: &[f64]| {
            let each = signs.iter().map(|sign| of_size(&size, *sign));
            Some(each.sum::<f64>() / signs.len() as f64)
        };
        let solid = self.size(&SOLID_LOST, residue);
        // Damp takes the place of crystals, and water that is gone leaves room for more of them.
        let damp = self.size(&SAMPLE_DAMP, taken).times(residue / taken);
        let gone = self.size(&SAMPLE_EFFLORESCED, water).times(residue / taken);
        let container = self.size(&CONTAINER_DAMP, 1.0);
        let balance = self.size(&BALANCE_CHANGED, 1.0);
        let mut all = alloc::vec![
            (Fault::SolidLost, sized(solid, &[-1.0])),
            (Fault::SampleDamp, sized(damp, &[-1.0])),
            (Fault::SampleEffloresced, sized(gone, &[1.0])),
            (Fault::ContainerDamp, sized(container, &[-1.0])),
            (Fault::BalanceChanged, sized(balance, &[1.0, -1.0])),
        ];
        if self.bench.heated.len() == 1 {
            let loss = self.decomposition_loss();
            all.push((Fault::Decomposed, loss.map(|size| of_size(&size, -1.0))));
        }
        all
    }

    /// The faults that change the last weighing only.
    fn at_last_weighing(&self) -> [(Fault, Option<f64>); 2] {
        let Deviations {
            common,
            noise,
            residue,
            ..
        } = *self.bench;
        let Some((last, before)) = self.bench.heated.split_last() else {
            return [(Fault::MoistureTakenUp, None), (Fault::WeighedWarm, None)];
        };
        let series = HeatedSeries {
            deviations: before,
            ..self.bench.series()
        };
        let moisture = self.size(&MOISTURE_TAKEN_UP, residue);
        let warm = self.size(&WEIGHED_WARM, 1.0);
        let leaves = self.usual.of_heating(before.len());
        let (mut gained, mut lifted) = (0.0, 0.0);
        for (offset, width) in
            OffsetRange::about(0.0, common).offsets(before.last().copied(), noise)
        {
            let weight = width * student(offset, common);
            for state in series.states(offset, &self.usual) {
                for (water, part) in state.after_heating(leaves) {
                    let effect = last - offset - water;
                    let weight = weight * state.likelihood * part;
                    gained += weight * moisture.density(effect);
                    lifted += weight * warm.density(-effect);
                }
            }
        }
        // The other weighings count relative to their most likely value.
        let area = bell_area(noise);
        [
            (Fault::MoistureTakenUp, Some(area * gained)),
            (Fault::WeighedWarm, Some(area * lifted)),
        ]
    }

    /// The loss by decomposition; `None` if a burner leaves the salt whole.
    fn decomposition_loss(&self) -> Option<LogNormal> {
        let residue = self.bench.residue;
        let (whole, wider) = match self.salt.decomposed {
            Some(left) => (residue * (1.0 - left), 1.0),
            None if self.salt.is_known() => return None,
            None => (residue * UNKNOWN_LOSS, UNKNOWN_WIDER),
        };
        Some(self.size(&DECOMPOSED, whole).wider(wider))
    }

    /// The anhydrous salt itself decomposed: each heating took about as much of it.
    fn decomposed(&self) -> Option<f64> {
        let size = self.decomposition_loss()?;
        let Deviations { common, water, .. } = *self.bench;
        // The last weighing tells the loss, but for the scatter and the water left.
        let width = LOSS_STEP * common;
        let least = -self.bench.last() - REACH * common;
        let count = (2.0 * REACH + LEFT_AFTER_TWO * water / common) / LOSS_STEP;
        let each = (0..count as u32).map(|n| {
            let loss = least + width * f64::from(n);
            let density = size.density(loss);
            if density > 0.0 {
                width * density * self.decomposed_by(loss)
            } else {
                0.0
            }
        });
        Some(each.sum())
    }

    /// The likelihood if this mass was lost by decomposition.
    fn decomposed_by(&self, loss: f64) -> f64 {
        let Deviations { common, noise, .. } = *self.bench;
        let heatings = self.bench.heated.len() as f64;
        let step = loss / heatings;
        let heated = (1_u32..).zip(&self.bench.heated);
        let deviations = heated.map(|(heating, mass)| mass + step * f64::from(heating));
        let deviations: Vec<f64> = deviations.collect();
        let wide = libm::hypot(noise, UNEVEN * step);
        let series = HeatedSeries {
            deviations: &deviations,
            noise: wide,
            water: self.bench.water,
        };
        let offsets = OffsetRange::about(0.0, common).offsets(deviations.last().copied(), wide);
        let each = offsets.iter().map(|(offset, width)| {
            width * student(*offset, common) * series.likelihood(*offset, &self.usual)
        });
        // Each weighing counts relative to its most likely value with the noise of the balance alone.
        each.sum::<f64>() * libm::pow(noise / wide, heatings)
    }
}
