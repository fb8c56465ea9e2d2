//! A dehydration as it should be written: significant figures, the maximum uncertainty, value and uncertainty together.

use alloc::format;
use alloc::string::String;

use super::dehydration::Dehydration;
use super::quantity::Quantity;
use crate::formula::MolarMass;
use crate::number::{Bounded, MaximumUncertainty, Measured, Ratio, Reading, Stated};

impl Dehydration {
    /// The value of a quantity as it should be written: masses with the places of the balance,
    /// the rest with the figures that the masses allow; the nearest hydrate for the formula.
    #[must_use]
    pub fn written(&self, quantity: Quantity) -> Option<String> {
        match quantity {
            Quantity::Formula => Some(format!("{}", self.nearest_formula())),
            _ => Some(self.measured(quantity)?.to_plain()),
        }
    }

    /// The value of a quantity with the digits that mean something: masses keep the places of the
    /// balance, what is multiplied and divided from them keeps figures, and weights and the
    /// hundred limit nothing. `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn measured(&self, quantity: Quantity) -> Option<Measured> {
        let kept = |mass: Option<Reading>| {
            mass.map(|m| Measured::with_decimal_places(m.value(), m.decimal_places()))
        };
        let (hydrate, residue, water) = (
            kept(self.loss.hydrate),
            kept(self.loss.residue),
            kept(self.loss.water),
        );
        let hundred = Measured::exact(Ratio::from(100));
        let molar = |mass: &MolarMass| Measured::exact(mass.exact().clone());
        match quantity {
            Quantity::HydrateMass => hydrate,
            Quantity::ResidueMass => residue,
            Quantity::WaterMass => water,
            Quantity::PercentWater => match &self.loss.percent_reading {
                Some(percent) => Some(Measured::from(percent)),
                None => (&hundred * &water?).checked_div(&hydrate?),
            },
            Quantity::MolSalt => residue?.checked_div(&molar(&self.salt_molar)),
            Quantity::MolWater => water?.checked_div(&molar(&self.water_molar)),
            Quantity::Ratio => {
                // Of a percentage: so many grams in a hundred.
                let (water, salt) = match &self.loss.percent_reading {
                    Some(percent) => {
                        let water = Measured::from(percent);
                        let salt = &hundred - &water;
                        (water, salt)
                    }
                    None => (water?, residue?),
                };
                let water = water.checked_div(&molar(&self.water_molar))?;
                water.checked_div(&salt.checked_div(&molar(&self.salt_molar))?)
            }
            Quantity::Formula => None,
        }
    }

    /// Returns the maximum (worst-case) uncertainty of the ratio, exact; `None` where only the
    /// percentage is known and it is nought.
    ///
    /// Absolute errors add in the two differences and relative ones in the quotient, as if all four
    /// readings were different: the rule as it is taught, not the standard uncertainty.
    ///
    /// ```
    /// use effloresce::{gravimetry::{Method, Weighings}, number::MaximumUncertainty};
    /// let bench = Weighings::new("20.00".parse()?, "25.00".parse()?, ["23.20".parse()?]);
    /// let run = Method::new().dehydration(&"CuSO4".parse()?, &bench)?;
    /// // x (0.01/1.80 + 0.01/3.20) with x = 4.983
    /// let maximum = run.maximum_uncertainty(MaximumUncertainty::HalfDivision).unwrap();
    /// assert_eq!(maximum.to_decimal_places(4, Default::default()).to_string(), "0.0433");
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

    /// The ratio with its standard uncertainty, rounded to be written together.
    #[must_use]
    pub fn stated(&self) -> Option<Stated> {
        Stated::new(&self.ratio, self.standard_uncertainty())
    }
}
