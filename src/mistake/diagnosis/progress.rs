//! How the water leaves: the likelihood of a series of weighings if each heating leaves a part of the
//! water that is still there.

use super::super::fault_sizes::{
    FIRST_HEATING_LEAVES, HeavyTailed, LATER_HEATING_LEAVES, LONG_FIRST_HEATING,
    LONG_HEATING_LEAVES, SLOW_HEATING_LEAVES,
};
use super::log_normal::{LogNormal, bell, bell_area};

/// Water below this part of the noise of a weighing counts as none.
const DRY: f64 = 0.1;
/// Above this multiple of the noise, a weighing itself tells how much water is left.
const CLEAR: f64 = 5.0;
/// The number of amounts of water that stand for all below that.
const AMOUNTS: u8 = 8;
/// How much more the logarithm of what a heating leaves varies than the table says without its tails.
const WIDER: f64 = 1.15;

/// The parts that a slow heating may leave, with their weights, and how much the logarithm of each varies (common
/// practice, no source).
const SLOW: [(f64, f64); 9] = [
    (0.09, 0.04),
    (0.13, 0.06),
    (0.18, 0.12),
    (0.25, 0.2),
    (0.34, 0.2),
    (0.46, 0.14),
    (0.6, 0.1),
    (0.74, 0.08),
    (0.88, 0.06),
];
const SLOW_SPREAD: f64 = 0.15;

/// Three points and weights that replace a normal deviate (Gauss and Hermite).
const THREE_POINTS: [(f64, f64); 3] = [
    (-1.732_050_807_568_877_2, 1.0 / 6.0),
    (0.0, 2.0 / 3.0),
    (1.732_050_807_568_877_2, 1.0 / 6.0),
];

/// The part of the water that a heating leaves.
#[derive(Debug, Clone, Copy)]
pub(super) struct PartLeft {
    usual: LogNormal,
    /// The probability of a long heating, and what it leaves.
    long: Option<(f64, LogNormal)>,
}

impl PartLeft {
    fn of(row: &HeavyTailed) -> PartLeft {
        PartLeft {
            usual: LogNormal::part(row, 1.0).wider(WIDER),
            long: None,
        }
    }

    /// The mean of a function of the usual and the long heating.
    fn mean(&self, of: impl Fn(&LogNormal) -> f64) -> f64 {
        match &self.long {
            Some((share, long)) => (1.0 - share) * of(&self.usual) + share * of(long),
            None => of(&self.usual),
        }
    }

    /// Values that stand for all, each with its weight.
    fn values(&self) -> impl Iterator<Item = (f64, f64)> + use<> {
        let (share, long) = self.long.unwrap_or((0.0, self.usual));
        let long = long
            .values()
            .map(move |(part, weight)| (part, share * weight));
        let usual = self.usual.values();
        let usual = usual.map(move |(part, weight)| (part, (1.0 - share) * weight));
        usual.chain(long.filter(move |_| share > 0.0))
    }
}

/// The parts of the water that the first and each later heating leave.
#[derive(Debug, Clone, Copy)]
pub(super) struct DryingProgress {
    first: PartLeft,
    later: PartLeft,
}

impl DryingProgress {
    /// That of a bench without a fault.
    pub(super) fn usual() -> DryingProgress {
        let long = PartLeft::of(&LONG_HEATING_LEAVES).usual;
        DryingProgress {
            first: PartLeft {
                long: Some((LONG_FIRST_HEATING.centre, long)),
                ..PartLeft::of(&FIRST_HEATING_LEAVES)
            },
            later: PartLeft::of(&LATER_HEATING_LEAVES),
        }
    }

    /// Those of a flame that is too small, or of too short a time, each with its weight. Each heating leaves about
    /// the same part. The middle ones are as in the table, and the others are left out there.
    pub(super) fn slow() -> impl Iterator<Item = (DryingProgress, f64)> {
        SLOW.into_iter().map(|(centre, weight)| {
            let row = HeavyTailed {
                centre,
                spread: SLOW_SPREAD,
                ..SLOW_HEATING_LEAVES
            };
            let each = PartLeft::of(&row);
            let progress = DryingProgress {
                first: each,
                later: each,
            };
            (progress, weight)
        })
    }

    /// The part that a heating leaves, counted from 0.
    pub(super) fn of_heating(&self, index: usize) -> &PartLeft {
        if index == 0 { &self.first } else { &self.later }
    }
}

/// An amount of water that may be left after a heating, with the likelihood of the weighings so far.
#[derive(Debug, Clone, Copy)]
pub(super) struct WaterState {
    /// The logarithm of the grams; `None` if it is dry.
    ln: Option<f64>,
    pub(super) grams: f64,
    pub(super) likelihood: f64,
}

/// The amounts of water that may be left after some heatings.
pub(super) type WaterStates = smallvec::SmallVec<[WaterState; 9]>;

/// The weighings after heating, as differences from a residue without water, and the noise of one.
#[derive(Debug, Clone, Copy)]
pub(super) struct HeatedSeries<'s> {
    pub(super) deviations: &'s [f64],
    pub(super) noise: f64,
    /// The water before the first heating, in grams.
    pub(super) water: f64,
}

impl HeatedSeries<'_> {
    /// The amounts of water that may be left after the last heating, if all weighings are off by an
    /// `offset`. Each weighing counts relative to its most likely value.
    pub(super) fn states(&self, offset: f64, progress: &DryingProgress) -> WaterStates {
        let mut states = WaterStates::new();
        states.push(WaterState {
            ln: Some(libm::log(self.water)),
            grams: self.water,
            likelihood: 1.0,
        });
        for (index, deviation) in self.deviations.iter().enumerate() {
            let mut next = self.candidates(deviation - offset);
            let leaves = progress.of_heating(index);
            for state in &mut next {
                let ways = states.iter().map(|before| self.step(before, state, leaves));
                state.likelihood *= ways.sum::<f64>();
            }
            states = next;
        }
        states
    }

    /// The likelihood of the whole series.
    pub(super) fn likelihood(&self, offset: f64, progress: &DryingProgress) -> f64 {
        let states = self.states(offset, progress);
        states.iter().map(|state| state.likelihood).sum()
    }

    /// The likelihood of one amount of water after another: a density of the logarithm, or a probability
    /// that it is dry.
    fn step(&self, before: &WaterState, after: &WaterState, leaves: &PartLeft) -> f64 {
        let ways = match (before.ln, after.ln) {
            (Some(before), Some(after)) => leaves.mean(|own| own.of_log(after - before)),
            (Some(before), None) => {
                let dry = libm::log(DRY * self.noise) - before;
                leaves.mean(|own| own.below_log(dry))
            }
            (None, None) => 1.0,
            (None, Some(_)) => 0.0,
        };
        before.likelihood * ways
    }

    /// The amounts of water that may explain a weighing. The likelihood holds that of the weighing, and the
    /// width of the logarithm for which the amount stands.
    fn candidates(&self, excess: f64) -> WaterStates {
        let noise = self.noise;
        let mut states = WaterStates::new();
        if excess > CLEAR * noise {
            let area = bell_area(noise);
            states.extend(THREE_POINTS.iter().map(|(z, weight)| {
                let grams = excess + noise * z;
                WaterState {
                    ln: Some(libm::log(grams)),
                    grams,
                    likelihood: area * weight / grams,
                }
            }));
            return states;
        }
        states.push(WaterState {
            ln: None,
            grams: 0.0,
            likelihood: bell(excess, noise),
        });
        let least = libm::log(DRY * noise);
        let most = libm::log((excess + 4.0 * noise).max(noise));
        let width = (most - least) / f64::from(AMOUNTS);
        states.extend((0..AMOUNTS).map(|n| {
            let ln = least + width * (f64::from(n) + 0.5);
            let grams = libm::exp(ln);
            WaterState {
                ln: Some(ln),
                grams,
                likelihood: width * bell(excess - grams, noise),
            }
        }));
        states
    }
}

impl WaterState {
    /// What one more heating may leave, each with its weight.
    pub(super) fn after_heating(
        &self,
        leaves: &PartLeft,
    ) -> impl Iterator<Item = (f64, f64)> + use<> {
        let grams = self.grams;
        leaves
            .values()
            .map(move |(part, weight)| (part * grams, weight))
    }
}
