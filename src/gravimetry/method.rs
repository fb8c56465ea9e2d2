//! The rules a laboratory works by: atomic weights, constant mass, which weighing counts.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::{Constancy, ConstantMass};
use super::error::{Error, out_of_range};
use super::series::Series;
use super::weighings::{WeighingUsed, Weighings};
use crate::element::AtomicWeights;
use crate::number::{Ratio, Reading, rectangular};

/// How a laboratory does the experiment: everything that is not a reading.
///
/// ```
/// use effloresce::gravimetry::{ConstantMass, Method, Outcome, Weighings};
/// let bench = Weighings::new(
///     "21.352".parse()?,
///     "24.018".parse()?,
///     ["22.701".parse()?, "22.656".parse()?, "22.655".parse()?],
/// );
/// let run = Method::new()
///     .constant_mass(ConstantMass::Absolute("0.002".parse()?))
///     .dehydration(&"MgSO4".parse()?, &bench)?;
/// match run.outcome() {
///     Outcome::Resolved(hydrate) => assert_eq!(hydrate.to_string(), "MgSO4·7H2O"),
///     other => panic!("{other:?}"),
/// }
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Method {
    pub(super) weights: AtomicWeights,
    pub(super) constant_mass: ConstantMass,
    pub(super) weighing_used: WeighingUsed,
    pub(super) readability: Option<Ratio>,
    /// The balance's repeatability and the limit of its deviation from linearity, in grams.
    pub(super) balance: (f64, f64),
    pub(super) repeatability: f64,
    pub(super) coverage: f64,
    pub(super) candidates: Option<Vec<Ratio>>,
}

impl Default for Method {
    fn default() -> Self {
        Method {
            weights: AtomicWeights::default(),
            constant_mass: ConstantMass::default(),
            weighing_used: WeighingUsed::default(),
            readability: None,
            balance: (0.0, 0.0),
            repeatability: 0.0,
            coverage: 2.0,
            candidates: None,
        }
    }
}

impl Method {
    /// The default rules: atomic weights of 2024, constant mass within two divisions, the last
    /// weighing counts, no repeatability beyond the balance's, coverage factor 2.
    #[must_use]
    pub fn new() -> Self {
        Method::default()
    }

    /// The atomic weights.
    #[must_use]
    pub fn weights(mut self, weights: AtomicWeights) -> Self {
        self.weights = weights;
        self
    }

    /// The criterion for constant mass.
    #[must_use]
    pub fn constant_mass(mut self, criterion: ConstantMass) -> Self {
        self.constant_mass = criterion;
        self
    }

    /// The house rule of which weighing counts.
    #[must_use]
    pub fn weighing_used(mut self, rule: WeighingUsed) -> Self {
        self.weighing_used = rule;
        self
    }

    /// The smallest step the balance shows, in grams; by default the finest last place among
    /// the readings.
    ///
    /// # Errors
    /// Where it is not above nought.
    #[doc(alias = "resolution")]
    pub fn readability(mut self, division: Reading) -> Result<Self, Error> {
        self.readability = Some(above_nought(division.value())?);
        Ok(self)
    }

    /// The readability of the balance where the method itself names none.
    #[cfg(feature = "class")]
    pub(crate) fn fall_back_on(&mut self, division: Option<Ratio>) -> Result<(), Error> {
        if self.readability.is_none() {
            self.readability = division.map(above_nought).transpose()?;
        }
        Ok(())
    }

    /// The balance's repeatability: the standard deviation of one reading, in grams, beside its
    /// readability; nought by default.
    ///
    /// # Errors
    /// Where it is negative or no finite number.
    pub fn balance_repeatability(mut self, grams: f64) -> Result<Self, Error> {
        self.balance.0 = not_negative(grams)?;
        Ok(self)
    }

    /// The limit of the balance's deviation from linearity, in grams, either way; nought by default.
    ///
    /// # Errors
    /// Where it is negative or no finite number.
    pub fn balance_linearity(mut self, grams: f64) -> Result<Self, Error> {
        self.balance.1 = not_negative(grams)?;
        Ok(self)
    }

    /// The smallest step of the balance that these readings were taken on.
    pub(super) fn division(&self, weighings: &Weighings) -> Ratio {
        self.readability
            .clone()
            .unwrap_or_else(|| weighings.finest_place())
    }

    /// Whether a container's weighings are constant, and nothing else of a check; `None` for the
    /// other forms of readings.
    pub(crate) fn constancy(&self, weighings: &Weighings) -> Result<Option<Constancy>, Error> {
        let division = self.division(weighings);
        let rule = self.constant_mass.checked()?;
        let constancy = |weighings| Series::new(weighings, &division).constancy(rule);
        Ok(weighings.container_weighings().map(constancy))
    }

    /// The standard uncertainty of one reading: anywhere within half a division either way, d/√12,
    /// with the balance's own repeatability and linearity.
    pub(super) fn of_one_reading(&self, division: &Ratio) -> f64 {
        let read = rectangular(division.to_f64() / 2.0);
        let (repeatability, linearity) = (self.balance.0, rectangular(self.balance.1));
        libm::sqrt(read * read + repeatability * repeatability + linearity * linearity)
    }

    /// The method's own relative standard deviation of the mass of water, beyond what the
    /// balance explains (0.003 for 0.3 %); nought by default.
    ///
    /// # Errors
    /// Where it is not a number from 0 to 1.
    pub fn repeatability(mut self, relative: f64) -> Result<Self, Error> {
        if !(0.0..=1.0).contains(&relative) {
            return Err(out_of_range(
                format!("{relative} is no relative standard deviation"),
                "give a fraction from 0 to 1, such as 0.003 for 0.3 %",
            ));
        }
        self.repeatability = relative;
        Ok(self)
    }

    /// The relative standard deviation of the mass of water that the method was told.
    #[cfg(feature = "class")]
    pub(crate) fn own_repeatability(&self) -> f64 {
        self.repeatability
    }

    /// The coverage factor within which a candidate counts as compatible; 2 by default.
    ///
    /// # Errors
    /// Where it is not above 0, or above 100.
    pub fn coverage(mut self, factor: f64) -> Result<Self, Error> {
        if !(factor > 0.0 && factor <= 100.0) {
            return Err(out_of_range(
                format!("{factor} is no coverage factor"),
                "give a number above 0, usually 2",
            ));
        }
        self.coverage = factor;
        Ok(self)
    }

    /// The degrees of hydration among which to decide, in place of the salt's known hydrates and
    /// the whole numbers about the ratio found.
    ///
    /// # Errors
    /// Where one is negative or nought, where there is none, or where there are more than fifty.
    pub fn candidates(mut self, degrees: impl IntoIterator<Item = Ratio>) -> Result<Self, Error> {
        let mut degrees: Vec<Ratio> = degrees.into_iter().take(MOST_CANDIDATES + 1).collect();
        if degrees.len() > MOST_CANDIDATES {
            return Err(out_of_range(
                format!("more than {MOST_CANDIDATES} candidates"),
                "name only the hydrates that may be at hand",
            ));
        }
        if let Some(wrong) = degrees.iter().find(|n| !n.is_positive()) {
            return Err(out_of_range(
                format!("{wrong} is no degree of hydration"),
                "give numbers above 0",
            ));
        }
        if degrees.is_empty() {
            return Err(out_of_range(
                "no candidates to decide among".into(),
                "name the hydrates that may be at hand, or leave the candidates out",
            ));
        }
        degrees.sort();
        degrees.dedup();
        self.candidates = Some(degrees);
        Ok(self)
    }

    /// The atomic weights in use.
    #[must_use]
    pub fn atomic_weights(&self) -> &AtomicWeights {
        &self.weights
    }
}

const MOST_CANDIDATES: usize = 50;

fn not_negative(grams: f64) -> Result<f64, Error> {
    if grams >= 0.0 && grams.is_finite() {
        return Ok(grams);
    }
    Err(out_of_range(
        format!("{grams} g is no uncertainty of a balance"),
        "give a number that is not negative, such as 0.0005",
    ))
}

fn above_nought(division: Ratio) -> Result<Ratio, Error> {
    if division.is_positive() {
        return Ok(division);
    }
    Err(out_of_range(
        format!("a balance cannot have a readability of {division} g"),
        "give the smallest step it shows, such as 0.001",
    ))
}
