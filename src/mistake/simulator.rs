//! One simulator of benches, from a seed.

use alloc::format;
use alloc::vec::Vec;

use super::balance::Balance;
use super::draws::Draws;
use super::error::wrong;
use super::error::{Error, ErrorKind};
use super::fault::Fault;
use super::fault_sizes::BETWEEN_BENCHES;
use super::heated_salt::{HeatedSalt, from_method};
use super::misreading::{misread, possible};
use super::sample_state::{BenchSettings, SampleState};
use super::simulated_bench::SimulatedBench;
use crate::formula::Formula;
use crate::gravimetry::{Method, Weighings, known_hydrates};
use crate::number::{Ratio, Reading, TieRule, rectangular};

/// The largest mass that a bench takes or weighs, in grams.
const MOST_MASS: f64 = 1000.0;
/// The mass that a bench takes if the balance does not need more, in grams (common practice, no source).
const PRACTICAL: f64 = 2.0;
/// The largest relative deviation from the mass that a bench was told to take (common practice, no
/// source).
const MISSED_BY: f64 = 0.05;
const MOST_REPEATABILITY: f64 = 0.1;
/// The largest number of heatings. No lesson is long enough for it, and every series ends before.
const HEATINGS: u32 = 12;
/// The least mass of the water and of the residue, in divisions.
const LEAST_DIVISIONS: f64 = 20.0;

/// A simulator of the readings of benches, without a fault or with one.
///
/// A bench weighs an empty container, puts the hydrate in, and heats until two weighings agree by
/// the rules of its method. Each heating drives off most of the water that is still there. Weighings
/// scatter by a third of a division, and the balance shows the nearest division. The method itself
/// scatters by 0.3 % of the water. How large a fault is, how far a heating gets and how benches differ is
/// drawn with heavy tails (Student's t with four degrees of freedom), by a table that is fixed.
///
/// The same seed gives the same readings, on every machine and in every later patch release.
///
/// ```
/// use effloresce::gravimetry::Method;
/// use effloresce::mistake::{Fault, Simulator};
///
/// let simulator = Simulator::new(&"MgSO4·7H2O".parse()?, "0.001".parse()?)?;
/// let bench = simulator.bench(1)?;
/// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench.weighings())?;
/// assert_eq!(run.nearest_formula().to_string(), "MgSO4·7H2O");
///
/// let bench = simulator.fault(Fault::SolidLost)?.bench(1)?;
/// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench.weighings())?;
/// assert!(run.ratio().to_f64() > 7.0);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Simulator {
    issued: Formula,
    salt: HeatedSalt,
    method: Method,
    balance: Balance,
    /// The mass fraction of the hydrate that leaves as water.
    water: f64,
    /// The least and the greatest mass of hydrate that a bench takes, in grams.
    sample: (f64, f64),
    least: f64,
    container: (f64, f64),
    heatings: u32,
    repeatability: f64,
    fault: Option<Fault>,
    /// The fraction of the water that is left, for each lower hydrate at which heating may stop.
    lower: Vec<f64>,
}

impl Simulator {
    /// Makes a simulator of benches with this hydrate and a balance with this smallest step in grams.
    ///
    /// The benches take 2 g to 3 g of the hydrate. They take more if the balance needs more to
    /// distinguish the candidates and to find the water to 1 %. The container weighs 15 g to 30 g, and
    /// more with larger samples. The benches follow the default [`Method`].
    ///
    /// # Errors
    /// Returns an error if the issued formula is not a hydrate or has no molar mass. It also does so if
    /// the smallest step is not from 0.0000001 g to 1 g, or is too large for the water.
    pub fn new(issued: &Formula, readability: Reading) -> Result<Simulator, Error> {
        let simulator = Simulator {
            issued: issued.clone(),
            salt: HeatedSalt::new(issued, &Method::new())?,
            method: Method::new(),
            balance: Balance::new(readability)?,
            water: 0.0,
            sample: (0.0, 0.0),
            least: 0.0,
            container: (0.0, 0.0),
            heatings: HEATINGS,
            repeatability: BETWEEN_BENCHES.spread,
            fault: None,
            lower: Vec::new(),
        };
        let mut simulator = simulator.method(Method::new())?;
        let one_percent = 200.0 * core::f64::consts::SQRT_2 * rectangular(simulator.half());
        let low = PRACTICAL
            .max(2.0 * simulator.least)
            .max(one_percent / simulator.water);
        simulator.sample = (low, 1.5 * low);
        if simulator.sample.1 > MOST_MASS {
            return Err(wrong(
                ErrorKind::Readability,
                format!(
                    "a smallest step of {readability} g is too large to find the water of {issued} in up to \
                     {MOST_MASS} g"
                ),
                "give a balance with a smaller step",
            ));
        }
        simulator.container = (f64::max(15.0, 1.5 * low), f64::max(30.0, 3.0 * low));
        Ok(simulator)
    }

    fn half(&self) -> f64 {
        self.balance.division / 2.0
    }

    /// Sets the rules that the bench follows: its criterion for constant mass, and its atomic weights.
    /// The smallest step of the balance is that of the simulator.
    ///
    /// # Errors
    /// Returns an error if the hydrate has no molar mass with these weights.
    pub fn method(mut self, method: Method) -> Result<Self, Error> {
        self.salt = HeatedSalt::new(&self.issued, &method)?;
        self.water = self.salt.water();
        let dry = 1.0 - self.water;
        let lost = (&self.salt.waters - &self.salt.left).to_f64();
        // x − left = (b − a)/(a − c)·M/W, and each of the three weighings lies within half a division.
        let factor = lost * dry / self.water;
        let sum = factor * factor + lost * lost + (factor + lost) * (factor + lost);
        let resolution =
            4.0 * rectangular(self.half()) * libm::sqrt(sum) / (dry * self.nearest_other());
        let divisions = LEAST_DIVISIONS * self.balance.division / self.water.min(dry);
        self.least = resolution.max(divisions);
        self.method = method
            .readability(self.balance.readability())
            .map_err(|error| from_method(&error))?;
        let fault = self.fault;
        self.fault(fault)
    }

    /// The distance to the nearest other candidate: a whole number, or a known hydrate of the salt.
    fn nearest_other(&self) -> f64 {
        let waters = &self.salt.waters;
        let whole = [waters.floor(), waters.ceil()];
        let next = [&whole[0] - 1, &whole[1] + 1];
        let known = known_hydrates(&self.salt.salt).iter();
        let all = whole.iter().chain(&next).chain(known);
        let apart = all.filter(|n| n.is_positive() && *n != waters);
        let apart = apart.map(|n| (n - waters).abs().to_f64());
        apart.fold(1.0, f64::min)
    }

    /// Sets the mass of hydrate that is taken, in grams. Each bench deviates from it by up to 5 %.
    ///
    /// # Errors
    /// Returns an error if the mass is too small to distinguish the candidates, or above 1000 g.
    pub fn sample_mass(self, mass: Reading) -> Result<Self, Error> {
        let about = mass.value().to_f64();
        let sample = (about * (1.0 - MISSED_BY), about * (1.0 + MISSED_BY));
        self.sample(mass, sample)
    }

    /// Sets the least and the greatest mass of hydrate that is taken, in grams.
    ///
    /// # Errors
    /// Returns the errors of [`sample_mass`](Simulator::sample_mass), and one if the second mass is
    /// smaller than the first.
    pub fn sample_between(self, low: Reading, high: Reading) -> Result<Self, Error> {
        let sample = (low.value().to_f64(), high.value().to_f64());
        if sample.1 < sample.0 {
            return Err(wrong(
                ErrorKind::Sample,
                format!("no mass lies between {low} g and {high} g"),
                "give the lower mass first",
            ));
        }
        self.sample(low, sample)
    }

    fn sample(mut self, shown: Reading, sample: (f64, f64)) -> Result<Self, Error> {
        if sample.1 > MOST_MASS {
            return Err(wrong(
                ErrorKind::Sample,
                format!("{shown} g of {} is more than a bench can take", self.issued),
                format!("give at most {MOST_MASS} g, such as 2.5"),
            ));
        }
        if !(sample.0 > 0.0 && sample.0 >= self.least) {
            let readability = self.balance.readability();
            // This is enough even for a bench that takes 5 % less.
            let enough = Ratio::from_float(self.least * (1.0 + 2.0 * MISSED_BY));
            let enough = enough.map(|enough| enough.to_figures(2, TieRule::AwayFromZero));
            let enough = enough.map_or_else(|| format!("{PRACTICAL}"), |e| e.value().to_plain());
            return Err(wrong(
                ErrorKind::Sample,
                format!(
                    "{shown} g of {} is too little for a balance with a smallest step of {readability} g",
                    self.issued
                ),
                format!("take at least {enough} g, or use a balance with a smaller step"),
            ));
        }
        self.sample = sample;
        Ok(self)
    }

    /// Sets the least and the greatest mass of the empty container, in grams.
    ///
    /// # Errors
    /// Returns an error if these are not positive and in order, or if one is above 1000 g.
    pub fn container_between(mut self, low: Reading, high: Reading) -> Result<Self, Error> {
        let limits = (low.value().to_f64(), high.value().to_f64());
        if !(limits.0 > 0.0 && limits.1 >= limits.0 && limits.1 <= MOST_MASS) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("no container weighs between {low} g and {high} g"),
                format!("give two masses above 0 g and up to {MOST_MASS} g, the lower one first"),
            ));
        }
        self.container = limits;
        Ok(self)
    }

    /// Sets the largest number of heatings. The default is 12, which is enough for constant mass within
    /// two divisions of a balance that scatters by a third of one.
    ///
    /// # Errors
    /// Returns an error if the number is not from 1 to 100.
    pub fn most_heatings(mut self, most: u32) -> Result<Self, Error> {
        if !(1..=100).contains(&most) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("a bench cannot heat {most} times"),
                "give a number from 1 to 100",
            ));
        }
        self.heatings = most;
        Ok(self)
    }

    /// Sets the relative standard deviation of the mass of water between benches. The default is 0.003.
    ///
    /// # Errors
    /// Returns an error if the value is not from 0 to 0.1.
    pub fn repeatability(mut self, relative: f64) -> Result<Self, Error> {
        if !(0.0..=MOST_REPEATABILITY).contains(&relative) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("a repeatability of {relative} cannot be simulated"),
                "give a fraction from 0 to 0.1, such as 0.003 for 0.3 %",
            ));
        }
        self.repeatability = relative;
        Ok(self)
    }

    /// Sets the standard deviation of a weighing before it is rounded, in grams. The default is a third
    /// of a division.
    ///
    /// # Errors
    /// Returns an error if the value is not from 0 to two divisions. A balance that scatters by more
    /// never shows constant mass.
    pub fn balance_repeatability(mut self, grams: f64) -> Result<Self, Error> {
        if !(0.0..=2.0 * self.balance.division).contains(&grams) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("{grams} g is not a repeatability of this balance"),
                "give a number of grams from 0 to two divisions",
            ));
        }
        self.balance.repeatability = grams;
        Ok(self)
    }

    /// Sets the fault at every bench from now on; `None` for benches without a fault.
    ///
    /// # Errors
    /// Returns an error if the fault cannot be shown with this salt: `stopped_at_lower_hydrate` if no
    /// lower hydrate is known, `decomposed` if no lighter residue is known that a burner can produce.
    pub fn fault(mut self, fault: impl Into<Option<Fault>>) -> Result<Self, Error> {
        self.fault = fault.into();
        let hidden = |what: &str, instead: &str| {
            wrong(
                ErrorKind::FaultNotShown,
                format!("{what}, so the fault cannot be shown"),
                format!("choose another fault, or {instead}"),
            )
        };
        if self.fault == Some(Fault::StoppedAtLowerHydrate) {
            let plateaus = self.salt.plateaus().into_iter();
            self.lower = plateaus.map(|(_, left)| left).collect();
            if self.lower.is_empty() {
                let what = format!(
                    "no lower hydrate is known at which heating {} may stop",
                    self.issued
                );
                return Err(hidden(
                    &what,
                    "a salt with lower hydrates, such as CuSO4·5H2O",
                ));
            }
        }
        if self.fault == Some(Fault::Decomposed) && self.salt.decomposed.is_none() {
            let what = format!(
                "no lighter solid is known that a burner could make of {}",
                self.salt.salt
            );
            return Err(hidden(&what, "a salt that decomposes, such as CuSO4·5H2O"));
        }
        Ok(self)
    }

    /// Returns the bench of a seed with its readings. A fault uses random draws of its own. So a bench
    /// without a fault and one with a fault differ in more than the fault, even if the seed is the same.
    ///
    /// # Errors
    /// Returns an error if the criterion for constant mass is not possible, or if the masses are
    /// impossible. The latter can happen only with a sample near the least allowed.
    pub fn bench(&self, seed: u64) -> Result<SimulatedBench, Error> {
        let draws = &mut Draws::new(seed);
        let mut state = SampleState::start(&self.settings(), draws);
        let container = self.balance.weigh(state.container_at_first(), draws)?;
        let with_hydrate = self.balance.weigh(state.with_hydrate(), draws)?;
        let mut readings = alloc::vec![container, with_hydrate];
        for heating in 1..=self.heatings {
            state.heat(heating, draws);
            readings.push(self.balance.weigh(state.mass(), draws)?);
            if state.stops_after(heating)
                || state.stops_at_constant_mass() && self.is_constant(&readings)?
            {
                break;
            }
        }
        if let Some(mass) = state.last_mass(draws) {
            // The last weighing is replaced, or one is added if heatings are left.
            if readings.len() > self.heatings as usize + 1 {
                readings.pop();
            }
            readings.push(self.balance.weigh(mass, draws)?);
        }
        if self.fault == Some(Fault::WeighingMisread) {
            let written = misread(&self.balance, &readings, draws);
            let (place, written) = written.ok_or_else(impossible)?;
            if let Some(reading) = readings.get_mut(place) {
                let change = (written.value() - reading.value()).to_f64();
                state.effect = self.moves_residue(place, change);
                *reading = written;
            }
        }
        let [container, with_hydrate, heated @ ..] = readings.as_slice() else {
            return Err(impossible());
        };
        if !possible(&readings) {
            return Err(impossible());
        }
        Ok(SimulatedBench {
            container: *container,
            with_hydrate: *with_hydrate,
            heated: heated.to_vec(),
            readability: self.balance.readability(),
            fault: self.fault,
            true_container: state.container,
            true_sample: state.sample,
            true_water: state.water,
            water_left: state.left,
            effect: state.effect,
        })
    }

    /// By how much a change of one reading changes the residue relative to the expected one.
    fn moves_residue(&self, place: usize, change: f64) -> f64 {
        let by = match place {
            0 => self.water,
            1 => 1.0 - self.water,
            _ => 1.0,
        };
        by * change.abs()
    }

    fn settings(&self) -> BenchSettings<'_> {
        BenchSettings {
            container: self.container,
            sample: self.sample,
            water: self.water,
            repeatability: self.repeatability,
            division: self.balance.division,
            most_heatings: self.heatings,
            fault: self.fault,
            lower: &self.lower,
            decomposed: self.salt.decomposed,
        }
    }

    /// Whether a bench with these readings may stop.
    fn is_constant(&self, readings: &[Reading]) -> Result<bool, Error> {
        let [container, with_hydrate, heated @ ..] = readings else {
            return Ok(false);
        };
        if heated.len() < 2 {
            return Ok(false);
        }
        let weighings = Weighings::new(*container, *with_hydrate, heated.iter().copied());
        let constancy = self.method.constancy(&weighings);
        let constancy = constancy.map_err(|error| from_method(&error))?;
        Ok(constancy.is_some_and(|constancy| constancy.reached() == Some(true)))
    }
}

fn impossible() -> Error {
    wrong(
        ErrorKind::Sample,
        "the sample is so small that the balance shows impossible masses".into(),
        "take more of the hydrate",
    )
}
