//! The true masses at a simulated bench: the water that leaves, and the effect of a fault.

use super::draws::Draws;
use super::fault::Fault;

/// The fraction of the water still there that the first heating leaves, and each later one (common
/// practice, no source). Later heatings leave less than a half. Otherwise weighings could agree
/// within the criterion although water is left.
const FIRST_LEAVES: (f64, f64) = (0.01, 0.06);
const LATER_LEAVES: (f64, f64) = (0.05, 0.25);

/// The least change of a mass by a fault, in divisions, so that the balance shows it.
const LEAST_EFFECT: f64 = 8.0;

/// The settings of a simulated bench; masses in grams.
pub(super) struct BenchSettings<'s> {
    pub(super) container: (f64, f64),
    pub(super) sample: (f64, f64),
    /// The mass fraction of water in the hydrate.
    pub(super) water: f64,
    pub(super) repeatability: f64,
    pub(super) division: f64,
    pub(super) most_heatings: u32,
    pub(super) fault: Option<Fault>,
    pub(super) lower: &'s [f64],
    pub(super) decomposed: Option<f64>,
}

/// The true masses of one bench, in grams, before and after each heating.
pub(super) struct SampleState {
    fault: Option<Fault>,
    division: f64,
    pub(super) container: f64,
    /// The moisture on the empty container.
    moisture: f64,
    pub(super) sample: f64,
    /// The mass of the sample without its water.
    salt: f64,
    pub(super) water: f64,
    pub(super) left: f64,
    /// The water that no heating drives off.
    plateau: f64,
    /// The fraction of the solid that was not lost.
    fraction_kept: f64,
    /// The difference of what another balance shows.
    offset: f64,
    /// The number of heatings, if the bench does not wait for constant mass.
    planned_heatings: Option<u32>,
    /// The loss by decomposition over all heatings.
    decomposition_loss: f64,
    lost_by_decomposition: f64,
}

impl SampleState {
    pub(super) fn start(settings: &BenchSettings<'_>, draws: &mut Draws) -> Self {
        let container = draws.between(settings.container.0, settings.container.1);
        let sample = draws.between(settings.sample.0, settings.sample.1);
        let scatter = 1.0 + settings.repeatability * draws.normal();
        let water = sample * (settings.water * scatter).min((1.0 + settings.water) / 2.0);
        let mut state = SampleState {
            fault: settings.fault,
            division: settings.division,
            container,
            moisture: 0.0,
            sample,
            salt: sample - water,
            water,
            left: water,
            plateau: 0.0,
            fraction_kept: 1.0,
            offset: 0.0,
            planned_heatings: None,
            decomposition_loss: 0.0,
            lost_by_decomposition: 0.0,
        };
        state.apply_fault(settings, draws);
        state.salt = state.sample - state.water;
        state.left = state.water;
        state
    }

    /// An effect of this size, in grams, but large enough to be seen and at most `most`.
    fn visible(&self, size: f64, most: f64) -> f64 {
        size.max(LEAST_EFFECT * self.division).min(most)
    }

    /// Applies what is wrong before the first heating, and prepares what goes wrong later.
    fn apply_fault(&mut self, settings: &BenchSettings<'_>, draws: &mut Draws) {
        let small = self.salt.min(self.water);
        match self.fault {
            Some(Fault::SampleDamp) => {
                let damp = self.sample * draws.between(0.01, 0.05);
                let damp = self.visible(damp, 0.3 * small);
                // The sample keeps its mass, so it has less of the crystals.
                self.water += damp * (1.0 - self.water / self.sample);
            }
            Some(Fault::SampleEffloresced) => {
                let gone = self.water * draws.between(0.05, 0.2);
                let gone = self.visible(gone, 0.4 * small);
                let crystals = self.sample + gone;
                self.water = crystals * (self.water / self.sample) - gone;
            }
            Some(Fault::ContainerDamp) => {
                self.moisture = self.visible(draws.between(0.01, 0.05), 0.3 * small);
            }
            Some(Fault::StoppedAtLowerHydrate) => {
                let left = draws.one_of(settings.lower).copied().unwrap_or_default();
                self.plateau = left * self.water;
            }
            Some(Fault::BalanceChanged) => {
                let offset = self.visible(draws.between(0.005, 0.03), 0.3 * small);
                self.offset = if draws.chance(0.5) { offset } else { -offset };
            }
            Some(Fault::Decomposed) => {
                let all = self.salt * (1.0 - settings.decomposed.unwrap_or(1.0));
                let part = all * draws.between(0.1, 0.4);
                self.decomposition_loss = self.visible(part, 0.8 * all);
                let heatings = if draws.chance(0.5) { 3 } else { 4 };
                self.planned_heatings = Some(heatings.min(settings.most_heatings));
            }
            Some(Fault::WaterLeft) => self.planned_heatings = Some(2.min(settings.most_heatings)),
            _ => {}
        }
    }

    /// The mass of the empty container with its moisture.
    pub(super) fn container_at_first(&self) -> f64 {
        self.container + self.moisture
    }

    pub(super) fn with_hydrate(&self) -> f64 {
        self.container_at_first() + self.sample
    }

    /// One more heating, counted from 1.
    pub(super) fn heat(&mut self, heating: u32, draws: &mut Draws) {
        let first = heating == 1;
        let (least, most) = if first { FIRST_LEAVES } else { LATER_LEAVES };
        let mut leaves = draws.between(least, most);
        match self.fault {
            Some(Fault::SolidLost) if first => {
                let lost = self.salt * draws.between(0.01, 0.05);
                let lost = self.visible(lost, 0.3 * self.salt.min(self.water));
                self.fraction_kept = 1.0 - lost / self.salt;
            }
            // The flame was too small, or the time too short.
            Some(Fault::WaterLeft) => leaves = draws.between(0.2, 0.4),
            Some(Fault::Decomposed) => {
                let heatings = f64::from(self.planned_heatings.unwrap_or(1));
                self.lost_by_decomposition =
                    self.decomposition_loss * (f64::from(heating) / heatings);
            }
            _ => {}
        }
        self.left = self.plateau + (self.left - self.plateau) * leaves;
    }

    /// The mass of the container on the balance that is used after heating.
    pub(super) fn mass(&self) -> f64 {
        self.container
            + self.fraction_kept * (self.salt - self.lost_by_decomposition + self.left)
            + self.offset
    }

    /// Whether the bench stops after this heating, whether or not the mass is constant.
    pub(super) fn stops_after(&self, heating: u32) -> bool {
        self.planned_heatings == Some(heating)
    }

    /// Whether the bench stops when the mass is constant.
    pub(super) fn stops_at_constant_mass(&self) -> bool {
        self.planned_heatings.is_none()
    }

    /// The mass at the last weighing, if the fault changes it.
    pub(super) fn last_mass(&mut self, draws: &mut Draws) -> Option<f64> {
        match self.fault {
            Some(Fault::MoistureTakenUp) => {
                let taken_up = self.salt * draws.between(0.005, 0.02);
                let most = 0.4 * self.salt.min(self.water);
                self.left += self.visible(taken_up, most);
                Some(self.mass())
            }
            Some(Fault::WeighedWarm) => {
                let lighter = draws.between(0.005, 0.02);
                let most = 0.3 * self.salt.min(self.water);
                Some(self.mass() - self.visible(lighter, most))
            }
            _ => None,
        }
    }
}
