//! The mole ratio alone, for many benches of one salt.

use super::error::{Error, no_mass};
use super::given_salt::anhydrous;
use super::mass_loss::net_masses;
use super::residual_salt::ResidualSalt;
use super::series::Series;
use super::weighings::{ContainerWeighings, WeighingUsed};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};

/// A calculator of the mole ratio of water to one salt, and of nothing else.
///
/// It is for many benches of a class or for a stream of rows. For one bench, [`Method::dehydration`]
/// gives the uncertainty and the conclusion as well.
///
/// *x* = *m*(water)/*m*(salt) · *M*(salt)/*M*(water), exact. The last factor is worked out once.
///
/// ```
/// use effloresce::{AtomicWeights, gravimetry::MoleRatio, number::TieRule};
/// let magnesium_sulfate = MoleRatio::new(&"MgSO4".parse()?, &AtomicWeights::default())?;
/// let x = magnesium_sulfate.of_weighings(
///     &"21.352".parse()?,
///     &"24.018".parse()?,
///     &"22.655".parse()?,
/// )?;
/// assert_eq!(x.to_places(3, TieRule::Even).to_string(), "6.989");
/// let net = magnesium_sulfate.of_masses(&"2.666".parse()?, &"1.303".parse()?)?;
/// assert_eq!(net, x);
/// # Ok::<(), effloresce::Error>(())
/// ```
///
/// [`Method::dehydration`]: super::Method::dehydration
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct MoleRatio {
    factor: Ratio,
    /// The numerator and the denominator of the factor, if both are short.
    parts: Option<(i128, i128)>,
    /// The waters that complete heating leaves in each formula unit.
    waters_left: Ratio,
}

/// The product of two numbers below this one does not overflow.
const SHORT: i128 = 1 << 62;

impl MoleRatio {
    /// Makes a calculator for an anhydrous salt with a table of atomic weights.
    ///
    /// # Errors
    /// Returns an error if the salt is a hydrate or has no molar mass.
    pub fn new(salt: &Formula, weights: &AtomicWeights) -> Result<MoleRatio, Error> {
        MoleRatio::until(&ResidualSalt::anhydrous(&anhydrous(salt)?), weights)
    }

    /// Makes a calculator for benches whose complete heating leaves this residue: a lower hydrate of the
    /// salt, such as CuSO4·H2O at 150 °C. The ratio still counts all the water of the hydrate.
    ///
    /// # Errors
    /// Returns an error if the residue is not a salt with a known number of waters, or has no molar mass.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, gravimetry::MoleRatio, number::TieRule};
    /// let to_monohydrate =
    ///     MoleRatio::with_residue(&"CuSO4·H2O".parse()?, &AtomicWeights::default())?;
    /// let x = to_monohydrate.of_masses(&"2.497".parse()?, &"1.776".parse()?)?;
    /// assert_eq!(x.to_places(3, TieRule::Even).to_string(), "5.003");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn with_residue(residue: &Formula, weights: &AtomicWeights) -> Result<MoleRatio, Error> {
        MoleRatio::until(&ResidualSalt::new(residue)?, weights)
    }

    /// A calculator for heating that leaves this.
    fn until(residual: &ResidualSalt, weights: &AtomicWeights) -> Result<MoleRatio, Error> {
        let salt = residual.formula.molar_mass(weights)?;
        let water = Formula::water().molar_mass(weights)?;
        let factor = salt
            .exact()
            .checked_div(&water.exact())
            .ok_or_else(no_mass)?;
        let parts = factor.to_parts();
        Ok(MoleRatio {
            parts: parts.filter(|(above, below)| *above < SHORT && *below < SHORT),
            factor,
            waters_left: residual.waters.clone(),
        })
    }

    /// The molar mass of the residue divided by that of water.
    #[must_use]
    pub fn factor(&self) -> &Ratio {
        &self.factor
    }

    /// Returns the ratio from the empty container, the container with the hydrate, and the weighing
    /// after heating that counts, in grams.
    ///
    /// # Errors
    /// Returns the error of [`Method::dehydration`] if the masses are impossible.
    ///
    /// [`Method::dehydration`]: super::Method::dehydration
    pub fn of_weighings(
        &self,
        container: &Reading,
        with_hydrate: &Reading,
        heated: &Reading,
    ) -> Result<Ratio, Error> {
        if let Some([c, b, a]) = in_one_unit([container, with_hydrate, heated]) {
            if 0 <= c && c < a && a <= b {
                return self.of(b - a, a - c);
            }
        }
        self.of_long_weighings(container, with_hydrate, heated)
    }

    /// Returns the ratio from the net masses of the hydrate and of its residue, in grams.
    ///
    /// # Errors
    /// Returns the error of [`Method::dehydration`] if the masses are impossible.
    ///
    /// [`Method::dehydration`]: super::Method::dehydration
    pub fn of_masses(&self, hydrate: &Reading, residue: &Reading) -> Result<Ratio, Error> {
        if let Some([h, s]) = in_one_unit([hydrate, residue]) {
            if 0 < s && s <= h {
                return self.of(h - s, s);
            }
        }
        let (h, s) = net_masses(hydrate, residue)?;
        self.of_ratios(&(&h - &s), &s)
    }

    /// The ratio from masses in one unit, none of them negative.
    fn of(&self, water: i128, salt: i128) -> Result<Ratio, Error> {
        let short = self.parts.filter(|_| water < SHORT && salt < SHORT);
        let Some((above, below)) = short else {
            return self.of_ratios(&Ratio::from(water), &Ratio::from(salt));
        };
        let lost = Ratio::new(water * above, salt * below).ok_or_else(no_mass)?;
        Ok(self.with_waters_left(lost))
    }

    fn of_ratios(&self, water: &Ratio, salt: &Ratio) -> Result<Ratio, Error> {
        let masses = water.checked_div(salt).ok_or_else(no_mass)?;
        Ok(self.with_waters_left(&masses * &self.factor))
    }

    fn with_waters_left(&self, lost: Ratio) -> Ratio {
        match self.waters_left.is_zero() {
            true => lost,
            false => lost + &self.waters_left,
        }
    }

    fn of_long_weighings(
        &self,
        container: &Reading,
        with_hydrate: &Reading,
        heated: &Reading,
    ) -> Result<Ratio, Error> {
        let readings = [container, with_hydrate, heated];
        let places = readings.iter().map(|r| r.decimal_places()).max();
        let series = Series {
            weighings: &ContainerWeighings {
                container: *container,
                with_hydrate: *with_hydrate,
                heated: alloc::vec![*heated],
            },
            division: &Ratio::power_of_ten(-places.unwrap_or(0)),
        };
        let last = series.heated_mass(WeighingUsed::Last);
        if let Some(contradiction) = series.contradiction(last.as_ref()) {
            return Err(contradiction.error());
        }
        let (c, b, a) = (container.value(), with_hydrate.value(), heated.value());
        self.of_ratios(&(&b - &a), &(&a - &c))
    }
}

/// Readings as whole numbers of their finest last place, if these are short.
fn in_one_unit<const N: usize>(readings: [&Reading; N]) -> Option<[i128; N]> {
    let places = readings.iter().map(|r| r.decimal_places()).max()?;
    let mut units = [0; N];
    for (units, reading) in units.iter_mut().zip(readings) {
        *units = reading.in_units_of(-places)?;
    }
    Some(units)
}
