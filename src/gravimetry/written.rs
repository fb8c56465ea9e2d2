//! A dehydration as it should be written: figures, the linear rule, the working.

use alloc::format;
use alloc::string::String;

use super::series::places_of;
use super::{Dehydration, Quantity};
use crate::formula::MolarMass;
use crate::number::{Bounded, LinearRule, Measured, Ratio, Reading, Stated, TieRule};
use crate::working::{Step, Working};

impl Dehydration {
    /// The value of a quantity as it should be written: masses with the places of the balance,
    /// the rest with the figures that the masses allow; the nearest hydrate for the formula.
    #[must_use]
    pub fn written(&self, quantity: Quantity) -> Option<String> {
        match quantity {
            Quantity::Formula => Some(format!("{}", self.nearest_formula())),
            _ => Some(self.measured(quantity)?.plainly()),
        }
    }

    /// The value of a quantity with the digits that mean something: masses keep the places of the
    /// balance, what is multiplied and divided from them keeps figures, and weights and the
    /// hundred limit nothing. `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn measured(&self, quantity: Quantity) -> Option<Measured> {
        let kept =
            |mass: Option<Reading>| mass.map(|m| Measured::with_places(m.value(), m.places()));
        let (hydrate, residue, water) = (
            kept(self.found.hydrate),
            kept(self.found.residue),
            kept(self.found.water),
        );
        let hundred = Measured::exact(Ratio::from(100));
        let molar = |mass: &MolarMass| Measured::exact(mass.exact().clone());
        match quantity {
            Quantity::HydrateMass => hydrate,
            Quantity::ResidueMass => residue,
            Quantity::WaterMass => water,
            Quantity::PercentWater => match &self.found.percent_read {
                Some(percent) => Some(Measured::from(percent)),
                None => (&hundred * &water?).checked_div(&hydrate?),
            },
            Quantity::MolSalt => residue?.checked_div(&molar(&self.salt_molar)),
            Quantity::MolWater => water?.checked_div(&molar(&self.water_molar)),
            Quantity::Ratio => {
                // Of a percentage: so many grams in a hundred.
                let (water, salt) = match &self.found.percent_read {
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

    /// The uncertainty of the ratio by the school's linear rule, exact; `None` where only the
    /// percentage is known and it is nought.
    ///
    /// Absolute errors add in the two differences and relative ones in the quotient, as if all four
    /// readings were different: the rule as it is taught, not the standard uncertainty.
    ///
    /// ```
    /// use effloresce::{gravimetry::{Method, Weighings}, number::LinearRule};
    /// let bench = Weighings::new("20.00".parse()?, "25.00".parse()?, ["23.20".parse()?]);
    /// let run = Method::new().dehydration(&"CuSO4".parse()?, &bench)?;
    /// // x (0.01/1.80 + 0.01/3.20) with x = 4.983
    /// let linear = run.linear_uncertainty(LinearRule::HalfDivision).unwrap();
    /// assert_eq!(linear.to_places(4, Default::default()).to_string(), "0.0433");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn linear_uncertainty(&self, rule: LinearRule) -> Option<Ratio> {
        let error = rule.of(&self.found.division);
        let exact = |mass: &MolarMass| Bounded::new(mass.exact().clone(), &Ratio::ZERO);
        let (water, salt) = match (&self.found.percent_read, &self.found.subtractions) {
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
                let hydrate = Bounded::new(self.found.hydrate?.value(), &error);
                let residue = Bounded::new(self.found.residue?.value(), &error);
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

    /// The steps from the readings to the formula.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let places = places_of(&self.found.division);
        // One guard digit more than the amount may be written with.
        let guarded = |quantity| {
            self.measured(quantity)
                .map(|amount| format!("{}", amount.guarded(1, TieRule::Even)))
        };
        let grams = |r: &Reading| {
            format!(
                "{}",
                r.value().to_places(places.max(r.places()), TieRule::Even)
            )
        };
        if let Some([c, b, a]) = &self.found.subtractions {
            let (c, b, a) = (grams(c), grams(b), grams(a));
            for (what, symbols, from, mass) in [
                (
                    "mass of hydrate",
                    "m(hydrate) = container with hydrate − empty container",
                    &b,
                    self.found.hydrate,
                ),
                (
                    "mass of residue",
                    "m(residue) = container after heating − empty container",
                    &a,
                    self.found.residue,
                ),
            ] {
                let result = mass.map(|m| format!("{m}")).unwrap_or_default();
                working.push(Step::new(
                    what,
                    symbols,
                    format!("{from} g − {c} g"),
                    result,
                    "g",
                ));
            }
        }
        if let (Some(h), Some(s), Some(w)) =
            (self.found.hydrate, self.found.residue, self.found.water)
        {
            working.push(Step::new(
                "mass of water",
                "m(water) = m(hydrate) − m(residue)",
                format!("{h} g − {s} g"),
                format!("{w}"),
                "g",
            ));
            working.push(Step::new(
                "percent water",
                "100 % × m(water) / m(hydrate)",
                format!("100 % × {w} g / {h} g"),
                self.written(Quantity::PercentWater).unwrap_or_default(),
                "%",
            ));
            let salt = &self.salt;
            for (what, symbol, mass, molar, amount) in [
                (
                    "amount of salt",
                    format!("{salt}"),
                    s,
                    &self.salt_molar,
                    Quantity::MolSalt,
                ),
                (
                    "amount of water",
                    "H2O".into(),
                    w,
                    &self.water_molar,
                    Quantity::MolWater,
                ),
            ] {
                working.push(Step::new(
                    what,
                    format!("n({symbol}) = m / M({symbol})"),
                    format!("{mass} g / {molar} g/mol"),
                    guarded(amount).unwrap_or_default(),
                    "mol",
                ));
            }
        }
        let numbers = match (guarded(Quantity::MolWater), guarded(Quantity::MolSalt)) {
            (Some(water), Some(salt)) => format!("{water} mol / {salt} mol"),
            _ => {
                let rest = &Ratio::from(100) - &self.found.percent;
                format!(
                    "({} / {}) / ({} / {})",
                    self.found.percent.to_plain(),
                    self.water_molar,
                    rest.to_plain(),
                    self.salt_molar
                )
            }
        };
        working.push(Step::new(
            "mole ratio",
            format!("x = n(H2O) / n({})", self.salt),
            numbers,
            self.written(Quantity::Ratio).unwrap_or_default(),
            "",
        ));
        let nearest = Step::new(
            "nearest formula",
            "the degree of hydration nearest to x",
            format!("x is nearest to {}", self.nearest),
            format!("{}", self.nearest_formula()),
            "",
        );
        working.push(nearest.concluded());
        working
    }
}
