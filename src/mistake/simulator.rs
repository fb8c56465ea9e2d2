//! One simulator of benches, which takes any random source.

use alloc::format;
use alloc::vec::Vec;

use rand_core::RngCore;

use super::balance::Balance;
use super::draws::Draws;
use super::error::wrong;
use super::error::{Error, ErrorKind};
use super::fault::Fault;
use super::misreading::{misread, possible};
use super::sample_state::{BenchSettings, SampleState};
use super::simulated_bench::SimulatedBench;
use crate::formula::Formula;
use crate::gravimetry::{Method, Weighings, decompositions, known_hydrates, plateau_hydrates};
use crate::number::{Ratio, Reading, TieRule, rectangular};

/// More than a bench ever takes or weighs, in grams.
const MOST_MASS: f64 = 1000.0;
/// What a bench takes where the balance asks for no more, in grams (common practice, no source).
const PRACTICAL: f64 = 2.0;
/// By how much a bench misses a mass that it was told to take, relative (common practice, no source).
const MISSED_BY: f64 = 0.05;
/// The relative standard deviation of the mass of water between careful benches (common practice,
/// no source).
const REPEATABILITY: f64 = 0.003;
const MOST_REPEATABILITY: f64 = 0.1;
/// So many heatings fit into no lesson, but every series ends before.
const HEATINGS: u32 = 12;
/// The water, and the residue, are at least so many divisions, whatever the candidates ask.
const LEAST_DIVISIONS: f64 = 20.0;

/// Makes up the readings of benches: sound ones, or with one fault.
///
/// A bench weighs an empty container, puts the hydrate in, and heats until two weighings agree by
/// the rules of its method. Each heating drives off most of the water that is still there. The
/// balance trembles by a third of a division and shows the nearest one; the method itself scatters
/// by 0.3 % of the water.
///
/// Any source of random bits will do. From the same bits come the same readings, on every machine
/// and in every later patch release.
///
/// ```
/// use effloresce::gravimetry::Method;
/// use effloresce::mistake::{Fault, Simulator};
/// use rand_chacha::ChaCha8Rng;
/// use rand_chacha::rand_core::SeedableRng;
///
/// let mut rng = ChaCha8Rng::seed_from_u64(1);
/// let simulator = Simulator::new(&"MgSO4·7H2O".parse()?, "0.001".parse()?)?;
/// let bench = simulator.bench(&mut rng)?;
/// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench.weighings())?;
/// assert_eq!(run.nearest_formula().to_string(), "MgSO4·7H2O");
///
/// let bench = simulator.fault(Fault::SolidLost)?.bench(&mut rng)?;
/// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench.weighings())?;
/// assert!(run.ratio().to_f64() > 7.0);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Simulator {
    issued: Formula,
    salt: Formula,
    waters: Ratio,
    method: Method,
    balance: Balance,
    /// The mass fraction of water in the hydrate.
    water: f64,
    /// The masses of hydrate, in grams, that a bench takes, and the least that will do.
    sample: (f64, f64),
    least: f64,
    container: (f64, f64),
    heatings: u32,
    repeatability: f64,
    fault: Option<Fault>,
    /// For each lower hydrate at which heating may stop, the fraction of the water that is left.
    lower: Vec<f64>,
    /// The mass that is left of the salt's when it has decomposed, as a fraction.
    decomposed: Option<f64>,
}

impl Simulator {
    /// Benches that were issued this hydrate, at a balance with this readability in grams.
    ///
    /// They take 2 g to 3 g of it, more where the balance asks for more to tell the candidates
    /// apart and to find the water to 1 %, in a container of 15 g to 30 g, heavier with larger
    /// samples; they follow the default [`Method`].
    ///
    /// # Errors
    /// Where what was issued is no hydrate or has no molar mass, and where the readability is not
    /// from 0.0000001 g to 1 g, or too coarse for so little water.
    pub fn new(issued: &Formula, readability: Reading) -> Result<Simulator, Error> {
        let parts = issued.one_formula_unit().filter(|(_, n)| n.is_positive());
        let Some((salt, waters)) = parts else {
            // An open degree is the better thing to complain of.
            issued.molar_mass(Method::new().atomic_weights())?;
            return Err(wrong(
                ErrorKind::NotAHydrate,
                format!("{issued} is no hydrate"),
                "give the hydrate that was issued, such as MgSO4·7H2O",
            ));
        };
        let simulator = Simulator {
            issued: issued.clone(),
            salt,
            waters,
            method: Method::new(),
            balance: Balance::new(readability)?,
            water: 0.0,
            sample: (0.0, 0.0),
            least: 0.0,
            container: (0.0, 0.0),
            heatings: HEATINGS,
            repeatability: REPEATABILITY,
            fault: None,
            lower: Vec::new(),
            decomposed: None,
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
                    "a balance that shows {readability} g finds the water of {issued} in no sample of up to \
                     {MOST_MASS} g"
                ),
                "give a finer balance",
            ));
        }
        simulator.container = (f64::max(15.0, 1.5 * low), f64::max(30.0, 3.0 * low));
        Ok(simulator)
    }

    fn half(&self) -> f64 {
        self.balance.division / 2.0
    }

    /// The rules that the bench follows: its criterion for constant mass, and the atomic weights
    /// that its hydrate has. The readability is the simulator's own.
    ///
    /// # Errors
    /// Where these weights give the hydrate no molar mass.
    pub fn method(mut self, method: Method) -> Result<Self, Error> {
        let weights = method.atomic_weights();
        let m_salt = self.salt.molar_mass(weights)?.exact().to_f64();
        let m_water = Formula::water().molar_mass(weights)?.exact().to_f64();
        let waters = self.waters.to_f64();
        let whole = m_salt + waters * m_water;
        self.water = waters * m_water / whole;
        // x = (b − a)/(a − c)·M/W, of three weighings that lie within half a division.
        let factor = m_salt / m_water;
        let sum = factor * factor + waters * waters + (factor + waters) * (factor + waters);
        let dry = 1.0 - self.water;
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

    /// How far the nearest other candidate is: a whole number, or a hydrate of the salt.
    fn nearest_other(&self) -> f64 {
        let whole = [self.waters.floor(), self.waters.ceil()];
        let next = [&whole[0] - &Ratio::ONE, &whole[1] + &Ratio::ONE];
        let known = known_hydrates(&self.salt).iter();
        let all = whole.iter().chain(&next).chain(known);
        let apart = all.filter(|n| n.is_positive() && **n != self.waters);
        let apart = apart.map(|n| (n - &self.waters).abs().to_f64());
        apart.fold(1.0, f64::min)
    }

    /// About how much of the hydrate is taken, in grams: each bench misses it by up to 5 %.
    ///
    /// # Errors
    /// Where the balance cannot tell the candidates apart with so little, and above 1000 g.
    pub fn sample_mass(self, mass: Reading) -> Result<Self, Error> {
        let about = mass.value().to_f64();
        let sample = (about * (1.0 - MISSED_BY), about * (1.0 + MISSED_BY));
        self.sample(mass, sample)
    }

    /// Between which masses of the hydrate are taken, in grams.
    ///
    /// # Errors
    /// As [`sample_mass`](Simulator::sample_mass), and where the second is below the first.
    pub fn sample_between(self, low: Reading, high: Reading) -> Result<Self, Error> {
        let sample = (low.value().to_f64(), high.value().to_f64());
        if sample.1 < sample.0 {
            return Err(wrong(
                ErrorKind::Sample,
                format!("nothing lies between {low} g and {high} g"),
                "give the lower mass first",
            ));
        }
        self.sample(low, sample)
    }

    fn sample(mut self, shown: Reading, sample: (f64, f64)) -> Result<Self, Error> {
        if sample.1 > MOST_MASS {
            return Err(wrong(
                ErrorKind::Sample,
                format!("{shown} g of {} is more than a bench takes", self.issued),
                format!("give at most {MOST_MASS} g, in grams, such as 2.5"),
            ));
        }
        if !(sample.0 > 0.0 && sample.0 >= self.least) {
            let readability = self.balance.readability();
            // Enough even for a bench that misses it.
            let enough = Ratio::from_float(self.least * (1.0 + 2.0 * MISSED_BY));
            let enough = enough.map(|enough| enough.to_figures(2, TieRule::AwayFromZero));
            let enough = enough.map_or_else(|| format!("{PRACTICAL}"), |e| e.value().to_plain());
            return Err(wrong(
                ErrorKind::Sample,
                format!(
                    "{shown} g of {} is too little for a balance that shows {readability} g",
                    self.issued
                ),
                format!("take at least {enough} g, or a finer balance"),
            ));
        }
        self.sample = sample;
        Ok(self)
    }

    /// Between which masses the empty container lies, in grams.
    ///
    /// # Errors
    /// Where these are not above nought and in order, and above 1000 g.
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

    /// After how many heatings a bench stops at the latest; 12 unless given, which is enough for
    /// constant mass within two divisions of a balance that trembles by a third of one.
    ///
    /// # Errors
    /// Where it is not from 1 to 100.
    pub fn most_heatings(mut self, most: u32) -> Result<Self, Error> {
        if !(1..=100).contains(&most) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("no bench heats {most} times"),
                "give a number from 1 to 100",
            ));
        }
        self.heatings = most;
        Ok(self)
    }

    /// The relative standard deviation of the mass of water from bench to bench; 0.003 unless given.
    ///
    /// # Errors
    /// Where it is not a number from 0 to 0.1.
    pub fn repeatability(mut self, relative: f64) -> Result<Self, Error> {
        if !(0.0..=MOST_REPEATABILITY).contains(&relative) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("{relative} is no repeatability to simulate"),
                "give a fraction from 0 to 0.1, such as 0.003 for 0.3 %",
            ));
        }
        self.repeatability = relative;
        Ok(self)
    }

    /// The standard deviation of a weighing before it is rounded, in grams; a third of a division
    /// unless given.
    ///
    /// # Errors
    /// Where it is not a number from 0 to two divisions: a balance that trembles by more never
    /// shows constant mass.
    pub fn balance_repeatability(mut self, grams: f64) -> Result<Self, Error> {
        if !(0.0..=2.0 * self.balance.division).contains(&grams) {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("{grams} g is no repeatability of this balance"),
                "give a number of grams from 0 to two divisions",
            ));
        }
        self.balance.repeatability = grams;
        Ok(self)
    }

    /// What goes wrong at every bench from now on; `None` for sound ones.
    ///
    /// # Errors
    /// Where the fault cannot be shown with this salt: `stopped_at_lower_hydrate` where heating
    /// is not known to meet a lower hydrate, `decomposed` where nothing lighter is known that a
    /// burner could leave of the salt.
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
            let plateaus = plateau_hydrates(&self.salt).iter();
            let below = plateaus.filter(|n| n.is_positive() && **n < self.waters);
            let left = below.filter_map(|n| n.checked_div(&self.waters));
            self.lower = left.map(|left| left.to_f64()).collect();
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
        if self.fault == Some(Fault::Decomposed) {
            self.decomposed = self.first_residue()?;
            if self.decomposed.is_none() {
                let what = format!(
                    "no lighter solid is known that a burner could make of {}",
                    self.salt
                );
                return Err(hidden(&what, "a salt that decomposes, such as CuSO4·5H2O"));
            }
        }
        Ok(self)
    }

    /// The mass of the first lighter residue within reach, as a fraction of the salt's.
    fn first_residue(&self) -> Result<Option<f64>, Error> {
        let weights = self.method.atomic_weights();
        let salt = self.salt.molar_mass(weights)?;
        let reached = decompositions(&self.salt)
            .iter()
            .filter(|d| d.within_reach());
        for decomposition in reached {
            let residue = decomposition.residue().molar_mass(weights)?;
            let left = decomposition.per_salt() * &residue.exact();
            if left < salt.exact() {
                return Ok(left.checked_div(&salt.exact()).map(|left| left.to_f64()));
            }
        }
        Ok(None)
    }

    /// The readings of one bench. A fault draws random bits of its own, so that from the same
    /// bits a sound bench and one with a fault differ in more than the fault.
    ///
    /// # Errors
    /// Where the method's criterion for constant mass is no criterion, and where masses came out
    /// that no bench could write down, which only a sample near the least allowed can cause.
    pub fn bench<R: RngCore + ?Sized>(&self, rng: &mut R) -> Result<SimulatedBench, Error> {
        let draws = &mut Draws(rng);
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
            // The last weighing is another one, or one more where there is time.
            if readings.len() > self.heatings as usize + 1 {
                readings.pop();
            }
            readings.push(self.balance.weigh(mass, draws)?);
        }
        if self.fault == Some(Fault::WeighingMisread) {
            let written = misread(&self.balance, &readings, draws);
            let (place, written) = written.ok_or_else(impossible)?;
            if let Some(reading) = readings.get_mut(place) {
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
        })
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
            decomposed: self.decomposed,
        }
    }

    /// Whether the bench, which has these readings, may stop.
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
        "the sample is so small that the balance shows masses that cannot be".into(),
        "take more of the hydrate",
    )
}

fn from_method(error: &crate::gravimetry::Error) -> Error {
    let help = error.help().unwrap_or("give the method sound rules");
    wrong(ErrorKind::OutOfRange, format!("{error}"), help)
}
