//! The true masses at a simulated bench: the water that leaves, and the effect of a fault.

use super::draws::Draws;
use super::fault::Fault;
use super::fault_sizes::{
    BALANCE_CHANGED, BETWEEN_BENCHES, CONTAINER_DAMP, DECOMPOSED, FIRST_HEATING_LEAVES,
    HeavyTailed, LATER_HEATING_LEAVES, LONG_FIRST_HEATING, LONG_HEATING_LEAVES, MOISTURE_TAKEN_UP,
    SAMPLE_DAMP, SAMPLE_EFFLORESCED, SLOW_HEATING_LEAVES, SOLID_LOST, WEIGHED_WARM,
};

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
    /// By how much the fault changes the residue that the readings give, in grams, without its sign.
    pub(super) effect: f64,
}

impl SampleState {
    pub(super) fn start(settings: &BenchSettings<'_>, draws: &mut Draws) -> Self {
        let container = draws.between(settings.container.0, settings.container.1);
        let sample = draws.between(settings.sample.0, settings.sample.1);
        let scatter = 1.0 + BETWEEN_BENCHES.signed(settings.repeatability, draws);
        let (water, most) = (settings.water, (1.0 + settings.water) / 2.0);
        let water = sample * (water * scatter).clamp(water / 2.0, most);
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
            effect: 0.0,
        };
        state.apply_fault(settings, draws);
        state.salt = state.sample - state.water;
        state.left = state.water;
        state
    }

    /// A size in grams: a part of a `whole`, large enough to be seen and at most `most`.
    fn size(&self, of: &HeavyTailed, whole: f64, most: f64, draws: &mut Draws) -> f64 {
        of.visible(whole, self.division, most, draws)
    }

    /// Applies what is wrong before the first heating, and prepares what goes wrong later.
    fn apply_fault(&mut self, settings: &BenchSettings<'_>, draws: &mut Draws) {
        let small = self.salt.min(self.water);
        match self.fault {
            Some(Fault::SampleDamp) => {
                let damp = self.size(&SAMPLE_DAMP, self.sample, 0.3 * small, draws);
                // The sample keeps its mass, so it has less of the crystals.
                self.effect = damp * (1.0 - self.water / self.sample);
                self.water += self.effect;
            }
            Some(Fault::SampleEffloresced) => {
                let gone = self.size(&SAMPLE_EFFLORESCED, self.water, 0.4 * small, draws);
                self.effect = gone * (1.0 - self.water / self.sample);
                let crystals = self.sample + gone;
                self.water = crystals * (self.water / self.sample) - gone;
            }
            Some(Fault::ContainerDamp) => {
                self.moisture = self.size(&CONTAINER_DAMP, 1.0, 0.3 * small, draws);
                self.effect = self.moisture;
            }
            Some(Fault::StoppedAtLowerHydrate) => {
                let left = draws.one_of(settings.lower).copied().unwrap_or_default();
                self.plateau = left * self.water;
                self.effect = self.plateau;
            }
            Some(Fault::BalanceChanged) => {
                let offset = self.size(&BALANCE_CHANGED, 1.0, 0.3 * small, draws);
                self.effect = offset;
                self.offset = if draws.chance(0.5) { offset } else { -offset };
            }
            Some(Fault::Decomposed) => {
                let all = self.salt * (1.0 - settings.decomposed.unwrap_or(1.0));
                self.decomposition_loss = self.size(&DECOMPOSED, all, 0.8 * all, draws);
                self.effect = self.decomposition_loss;
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
        let progress = if !first {
            LATER_HEATING_LEAVES
        } else if draws.chance(LONG_FIRST_HEATING.centre) {
            LONG_HEATING_LEAVES
        } else {
            FIRST_HEATING_LEAVES
        };
        let mut leaves = progress.draw(draws);
        match self.fault {
            Some(Fault::SolidLost) if first => {
                let most = 0.3 * self.salt.min(self.water);
                let lost = self.size(&SOLID_LOST, self.salt, most, draws);
                self.fraction_kept = 1.0 - lost / self.salt;
                self.effect = lost;
            }
            // The flame was too small, or the time too short.
            Some(Fault::WaterLeft) => leaves = SLOW_HEATING_LEAVES.draw(draws),
            Some(Fault::Decomposed) => {
                let heatings = f64::from(self.planned_heatings.unwrap_or(1));
                self.lost_by_decomposition =
                    self.decomposition_loss * (f64::from(heating) / heatings);
            }
            _ => {}
        }
        self.left = self.plateau + (self.left - self.plateau) * leaves;
        if self.fault == Some(Fault::WaterLeft) {
            self.effect = self.left;
        }
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
                let most = 0.4 * self.salt.min(self.water);
                self.effect = self.size(&MOISTURE_TAKEN_UP, self.salt, most, draws);
                self.left += self.effect;
                Some(self.mass())
            }
            Some(Fault::WeighedWarm) => {
                let most = 0.3 * self.salt.min(self.water);
                self.effect = self.size(&WEIGHED_WARM, 1.0, most, draws);
                Some(self.mass() - self.effect)
            }
            _ => None,
        }
    }
}
