//! The results of a dehydration as they should be written: significant figures and uncertainty.

use alloc::format;
use alloc::string::String;

use super::dehydration::Dehydration;
use super::quantity::Quantity;
use crate::formula::MolarMass;
use crate::number::{Bounded, MaximumUncertainty, Measured, Ratio, Reading, Stated};

impl Dehydration {
    /// Returns the value of a quantity as it should be written. Masses have the decimal places of the
    /// balance, and the rest the significant figures that the masses allow. The formula is the
    /// nearest hydrate.
    #[must_use]
    pub fn written(&self, quantity: Quantity) -> Option<String> {
        match quantity {
            Quantity::Formula => Some(format!("{}", self.nearest_formula())),
            _ => Some(self.measured(quantity)?.to_plain()),
        }
    }

    /// Returns the value of a quantity with its significant digits; `None` for the formula, and for
    /// masses that were not given.
    ///
    /// Masses keep the decimal places of the balance. Products and quotients of them keep significant
    /// figures. Atomic weights and the factor 100 limit nothing.
    #[must_use]
    pub fn measured(&self, quantity: Quantity) -> Option<Measured> {
        let mass = |mass: Option<Reading>| {
            mass.map(|m| Measured::with_places(m.value(), m.decimal_places()))
        };
        let amount = |mass: &Measured, molar: &MolarMass| {
            mass.checked_div(&Measured::exact(molar.exact().clone()))
        };
        let hundred = Measured::exact(Ratio::from(100));
        let loss = &self.loss;
        match quantity {
            Quantity::HydrateMass => mass(loss.hydrate),
            Quantity::ResidueMass => mass(loss.residue),
            Quantity::WaterMass => mass(loss.water),
            Quantity::PercentWater => match &loss.percent_reading {
                Some(percent) => Some(Measured::from(percent)),
                None => (&hundred * &mass(loss.water)?).checked_div(&mass(loss.hydrate)?),
            },
            Quantity::MolSalt => amount(&mass(loss.residue)?, &self.salt_molar),
            Quantity::MolWater => amount(&mass(loss.water)?, &self.water_molar),
            Quantity::Ratio => {
                // Of 100 g of hydrate.
                let (water, salt) = match &loss.percent_reading {
                    Some(percent) => {
                        let water = Measured::from(percent);
                        let salt = &hundred - &water;
                        (water, salt)
                    }
                    None => (mass(loss.water)?, mass(loss.residue)?),
                };
                let quotient = amount(&water, &self.water_molar)?
                    .checked_div(&amount(&salt, &self.salt_molar)?)?;
                let left = &self.residual.waters;
                if left.is_zero() {
                    return Some(quotient);
                }
                Some(&quotient + &Measured::exact(left.clone()))
            }
            Quantity::Formula => None,
        }
    }

    /// Returns the maximum (worst-case) uncertainty of the ratio, exact; `None` if only the percentage
    /// is known and it is zero.
    ///
    /// This is the rule that schools teach, not the standard uncertainty. Absolute errors are added in
    /// the two differences, and relative errors in the quotient, as if all four readings were
    /// different.
    ///
    /// ```
    /// use effloresce::{gravimetry::{Method, Weighings}, number::MaximumUncertainty};
    /// let bench = Weighings::new("20.00".parse()?, "25.00".parse()?, ["23.20".parse()?]);
    /// let run = Method::new().dehydration(&"CuSO4".parse()?, &bench)?;
    /// // x (0.01/1.80 + 0.01/3.20) with x = 4.983
    /// let maximum = run.maximum_uncertainty(MaximumUncertainty::HalfDivision).unwrap();
    /// assert_eq!(maximum.to_places(4, Default::default()).to_string(), "0.0433");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn maximum_uncertainty(&self, rule: MaximumUncertainty) -> Option<Ratio> {
        let error = rule.of(&self.loss.division);
        let exact = |mass: &MolarMass| Bounded::new(mass.exact().clone(), &Ratio::ZERO);
        let (water, salt) = match (&self.loss.percent_reading, &self.loss.readings) {
            (Some(percent), _) => {
                let hundred = Bounded::new(Ratio::from(100), &Ratio::ZERO);
                let water = Bounded::new(percent.value(), &error);
                let salt = &hundred - &water;
                (water, salt)
            }
            (None, Some([c, b, a])) => {
                let [c, b, a] = [c, b, a].map(|r| Bounded::new(r.value(), &error));
                (&b - &a, &a - &c)
            }
            (None, None) => {
                let hydrate = Bounded::new(self.loss.hydrate?.value(), &error);
                let residue = Bounded::new(self.loss.residue?.value(), &error);
                (&hydrate - &residue, residue)
            }
        };
        let water = water.checked_div(&exact(&self.water_molar))?;
        let salt = salt.checked_div(&exact(&self.salt_molar))?;
        Some(water.checked_div(&salt)?.absolute().clone())
    }

    /// Returns the ratio with its standard uncertainty, rounded to be written together.
    #[must_use]
    pub fn stated(&self) -> Option<Stated> {
        Stated::new(&self.ratio, self.standard_uncertainty())
    }
}
