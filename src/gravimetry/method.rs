//! The rules of a laboratory: atomic weights, constant mass, the weighing that counts.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::{Constancy, ConstantMass};
use super::error::{Error, out_of_range};
use super::residual_salt::ResidualSalt;
use super::series::Series;
use super::weighings::{WeighingUsed, Weighings};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{Ratio, Reading, rectangular};

/// The relative standard deviation of the mass of water that careful benches show beyond what
/// their balances explain, unless the method states its own: common practice, no source.
pub(crate) const USUAL_REPEATABILITY: f64 = 0.003;

/// The rules of a laboratory for this experiment: everything that is not a reading.
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
    pub(super) residue: Option<ResidualSalt>,
    pub(super) readability: Option<Ratio>,
    /// The balance's repeatability and the limit of its deviation from linearity, in grams.
    pub(super) balance: (f64, f64),
    pub(super) repeatability: Option<f64>,
    pub(super) coverage: f64,
    pub(super) candidates: Option<Vec<Ratio>>,
}

impl Default for Method {
    fn default() -> Self {
        Method {
            weights: AtomicWeights::default(),
            constant_mass: ConstantMass::default(),
            weighing_used: WeighingUsed::default(),
            residue: None,
            readability: None,
            balance: (0.0, 0.0),
            repeatability: None,
            coverage: 2.0,
            candidates: None,
        }
    }
}

impl Method {
    /// Returns the default rules. The atomic weights are those of 2024, the mass is constant within two
    /// divisions, and the last weighing counts. The coverage factor is 2.
    #[must_use]
    pub fn new() -> Self {
        Method::default()
    }

    /// Sets the atomic weights.
    #[must_use]
    pub fn weights(mut self, weights: AtomicWeights) -> Self {
        self.weights = weights;
        self
    }

    /// Sets the criterion for constant mass.
    #[must_use]
    pub fn constant_mass(mut self, criterion: ConstantMass) -> Self {
        self.constant_mass = criterion;
        self
    }

    /// Sets which weighing after heating counts.
    #[must_use]
    pub fn weighing_used(mut self, rule: WeighingUsed) -> Self {
        self.weighing_used = rule;
        self
    }

    /// Sets what complete heating leaves: a lower hydrate of the salt, such as CuSO4·H2O at 150 °C. The
    /// default is the anhydrous salt.
    ///
    /// The ratio still counts all the water of the hydrate. The mass, the percentage and the amount of
    /// water are those of the loss. In a class with several salts, the others are heated until they are
    /// anhydrous.
    ///
    /// # Errors
    /// Returns an error if the formula is not a salt with a known number of waters.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Net, Weighings};
    /// let method = Method::new().residue(&"CuSO4·H2O".parse()?)?;
    /// let bench = Weighings::net("2.497".parse()?, "1.776".parse()?, Net::Tared);
    /// let run = method.dehydration(&"CuSO4".parse()?, &bench)?;
    /// assert_eq!(run.nearest_formula().to_string(), "CuSO4·5H2O");
    /// assert_eq!(run.percent_water().to_places(2, Default::default()).to_string(), "28.87");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn residue(mut self, residue: &Formula) -> Result<Self, Error> {
        self.residue = Some(ResidualSalt::new(residue)?);
        Ok(self)
    }

    /// Forgets the residue if it is of another salt.
    #[cfg(feature = "class")]
    pub(crate) fn keep_residue_of(&mut self, issued: &Formula) {
        if self.residue_of(issued).is_none() {
            self.residue = None;
        }
    }

    /// The residue that heating this hydrate should leave, if one was set for its salt.
    #[cfg(feature = "class")]
    pub(crate) fn residue_of(&self, issued: &Formula) -> Option<&Formula> {
        let (salt, _) = issued.one_formula_unit()?;
        let residue = self.residue.as_ref().filter(|own| own.salt == salt)?;
        Some(&residue.formula)
    }

    /// Forgets the residue: heating drives off all the water.
    #[cfg(feature = "class")]
    pub(crate) fn without_residue(mut self) -> Self {
        self.residue = None;
        self
    }

    /// Returns the number of waters that complete heating of a hydrate leaves in each formula unit.
    ///
    /// # Errors
    /// Returns an error if the residue is of another salt, or has no fewer waters than the hydrate.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let method = Method::new().residue(&"CuSO4·H2O".parse()?)?;
    /// assert_eq!(method.waters_left(&"CuSO4·5H2O".parse()?)?, 1.into());
    /// assert!(method.waters_left(&"MgSO4·7H2O".parse()?).is_err());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn waters_left(&self, issued: &Formula) -> Result<Ratio, Error> {
        match issued.one_formula_unit() {
            Some((salt, waters)) => Ok(self.residual_salt(&salt, Some(&waters))?.waters),
            None => Ok(Ratio::ZERO),
        }
    }

    /// What complete heating of a salt leaves.
    pub(super) fn residual_salt(
        &self,
        salt: &Formula,
        issued: Option<&Ratio>,
    ) -> Result<ResidualSalt, Error> {
        match &self.residue {
            Some(residue) => residue.clone().checked(salt, issued),
            None => Ok(ResidualSalt::anhydrous(salt)),
        }
    }

    /// Sets the smallest step that the balance shows, in grams. The default is the finest last place
    /// of the readings.
    ///
    /// # Errors
    /// Returns an error if the step is not positive, or if it is more than 1000 g.
    #[doc(alias = "resolution")]
    pub fn readability(mut self, division: Reading) -> Result<Self, Error> {
        self.readability = Some(balance_division(division.value())?);
        Ok(self)
    }

    /// Sets the smallest step of the balance if the method has none.
    #[cfg(feature = "class")]
    pub(crate) fn fall_back_on(&mut self, division: Option<Ratio>) -> Result<(), Error> {
        if self.readability.is_none() {
            self.readability = division.map(balance_division).transpose()?;
        }
        Ok(())
    }

    /// Sets the repeatability of the balance: the standard deviation of one reading, in grams, in
    /// addition to its smallest step. The default is 0.
    ///
    /// # Errors
    /// Returns an error if the value is negative or not finite.
    pub fn balance_repeatability(mut self, grams: f64) -> Result<Self, Error> {
        self.balance.0 = not_negative(grams)?;
        Ok(self)
    }

    /// Sets the largest deviation of the balance from linearity, in grams and in both directions. The
    /// default is 0.
    ///
    /// # Errors
    /// Returns an error if the value is negative or not finite.
    pub fn balance_linearity(mut self, grams: f64) -> Result<Self, Error> {
        self.balance.1 = not_negative(grams)?;
        Ok(self)
    }

    /// The smallest step of the balance that these readings were taken on.
    pub(crate) fn division(&self, weighings: &Weighings) -> Ratio {
        self.readability
            .clone()
            .unwrap_or_else(|| weighings.finest_place())
    }

    /// The comparison of a container's weighings with the criterion for constant mass; `None` for the
    /// other forms of readings.
    pub(crate) fn constancy(&self, weighings: &Weighings) -> Result<Option<Constancy>, Error> {
        let division = self.division(weighings);
        let rule = self.constant_mass.checked()?;
        let constancy = |weighings| Series::new(weighings, &division).constancy(rule);
        Ok(weighings.container_weighings().map(constancy))
    }

    /// The standard uncertainty of one reading: d/√12 for a division d, combined with the
    /// repeatability and the linearity of the balance.
    pub(crate) fn of_one_reading(&self, division: &Ratio) -> f64 {
        let read = rectangular(division.to_f64() / 2.0);
        let (repeatability, linearity) = (self.balance.0, rectangular(self.balance.1));
        libm::sqrt(read * read + repeatability * repeatability + linearity * linearity)
    }

    /// Sets the relative standard deviation of the mass of water that the balance does not explain,
    /// such as 0.003 for 0.3 %. The default is 0 for a bench. For the scatter of a class and for an
    /// unknown hydrate it is 0.003, and a stated one replaces it.
    ///
    /// # Errors
    /// Returns an error if the value is not from 0 to 1.
    pub fn repeatability(mut self, relative: f64) -> Result<Self, Error> {
        if !(0.0..=1.0).contains(&relative) {
            return Err(out_of_range(
                format!("{relative} is not a relative standard deviation"),
                "give a fraction from 0 to 1, such as 0.003 for 0.3 %",
            ));
        }
        self.repeatability = Some(relative);
        Ok(self)
    }

    /// The relative standard deviation of the mass of water, if it is stated.
    pub(crate) fn own_repeatability(&self) -> Option<f64> {
        self.repeatability
    }

    #[cfg(all(feature = "report", not(target_family = "wasm")))]
    pub(crate) fn coverage_factor(&self) -> f64 {
        self.coverage
    }

    /// Sets the coverage factor: a candidate is compatible if it is within this number of standard
    /// uncertainties. The default is 2.
    ///
    /// # Errors
    /// Returns an error if the factor is not positive or is above 100.
    pub fn coverage(mut self, factor: f64) -> Result<Self, Error> {
        if !(factor > 0.0 && factor <= 100.0) {
            return Err(out_of_range(
                format!("{factor} is not a coverage factor"),
                "give a number above 0 and up to 100, usually 2",
            ));
        }
        self.coverage = factor;
        Ok(self)
    }

    /// Sets the degrees of hydration that are candidates. They replace the known hydrates of the salt
    /// and the whole numbers near the ratio.
    ///
    /// # Errors
    /// Returns an error if there is no degree, if there are more than 50, or if one is not positive.
    pub fn candidates(mut self, degrees: impl IntoIterator<Item = Ratio>) -> Result<Self, Error> {
        let mut degrees: Vec<Ratio> = degrees.into_iter().take(MOST_CANDIDATES + 1).collect();
        if degrees.len() > MOST_CANDIDATES {
            return Err(out_of_range(
                format!("there are more than {MOST_CANDIDATES} candidates"),
                "give only the hydrates that are possible",
            ));
        }
        if let Some(wrong) = degrees.iter().find(|n| !n.is_positive()) {
            return Err(out_of_range(
                format!("{wrong} is not a degree of hydration"),
                "give numbers above 0",
            ));
        }
        if degrees.is_empty() {
            return Err(out_of_range(
                "the list of candidates is empty".into(),
                "give the hydrates that are possible, or leave the candidates out",
            ));
        }
        degrees.sort_unstable();
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

/// The coarsest step of a balance, in grams: more than that of any balance in a laboratory (from memory).
const MOST_DIVISION: i128 = 1000;

fn not_negative(grams: f64) -> Result<f64, Error> {
    if grams >= 0.0 && grams.is_finite() {
        return Ok(grams);
    }
    Err(out_of_range(
        format!("{grams} g is not an uncertainty of a balance"),
        "give 0 or a positive number, such as 0.0005",
    ))
}

/// Returns the smallest step of a balance, if it is one in grams.
pub(super) fn balance_division(division: Ratio) -> Result<Ratio, Error> {
    if division.is_positive() && division <= MOST_DIVISION.into() {
        return Ok(division);
    }
    Err(out_of_range(
        format!("a balance cannot have a readability of {division} g"),
        "give the smallest step that it shows, above 0 and at most 1000 g, such as 0.001",
    ))
}
