//! The steps from a bench's readings to its formula.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;

use super::dehydration::Dehydration;
use super::quantity::Quantity;
use super::series::places_of;
use crate::number::{Reading, Rounded, TieRule};
use crate::working::{Step, Working};

impl Dehydration {
    /// Returns the steps from the readings to the formula.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        if let Some([container, with_hydrate, heated]) = &self.loss.readings {
            let container = self.grams(container);
            working.push(self.step(
                Quantity::HydrateMass,
                "m(hydrate) = container with hydrate − empty container",
                format!("{} g − {container} g", self.grams(with_hydrate)),
            ));
            working.push(self.step(
                Quantity::ResidueMass,
                "m(residue) = container after heating − empty container",
                format!("{} g − {container} g", self.grams(heated)),
            ));
        }
        let salt = &self.residual.formula;
        let left = &self.residual.waters;
        if let (Some(h), Some(s), Some(w)) = (self.loss.hydrate, self.loss.residue, self.loss.water)
        {
            working.push(self.step(
                Quantity::WaterMass,
                "m(water) = m(hydrate) − m(residue)",
                format!("{h} g − {s} g"),
            ));
            working.push(self.step(
                Quantity::PercentWater,
                "100 % × m(water) / m(hydrate)",
                format!("100 % × {w} g / {h} g"),
            ));
            working.push(self.step(
                Quantity::MolSalt,
                format!("n({salt}) = m / M({salt})"),
                format!("{s} g / {} g/mol", self.salt_molar),
            ));
            working.push(self.step(
                Quantity::MolWater,
                "n(H2O) = m / M(H2O)",
                format!("{w} g / {} g/mol", self.water_molar),
            ));
        }
        let with_left = |quotient: String| match left.is_zero() {
            true => quotient,
            false => format!("{left} + {quotient}"),
        };
        let symbols = format!("x = {}", with_left(format!("n(H2O) / n({salt})")));
        working.push(self.step(Quantity::Ratio, symbols, with_left(self.quotient())));
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

    fn step(
        &self,
        quantity: Quantity,
        symbols: impl Into<Cow<'static, str>>,
        numbers: String,
    ) -> Step {
        let result = match quantity {
            Quantity::MolSalt | Quantity::MolWater => self.guarded(quantity),
            _ => self.written(quantity),
        };
        let result = result.unwrap_or_default();
        Step::new(quantity.name(), symbols, numbers, result, quantity.unit())
    }

    /// An amount with one guard digit, or with as many more as the ratio needs to follow from the amounts as shown.
    fn guarded(&self, quantity: Quantity) -> Option<String> {
        Some(format!("{}", self.amount(quantity, self.guard_digits())?))
    }

    fn amount(&self, quantity: Quantity, guard_digits: u32) -> Option<Rounded> {
        let amount = self.measured(quantity)?;
        Some(amount.guarded(guard_digits, TieRule::Even))
    }

    fn guard_digits(&self) -> u32 {
        const MOST: u32 = 4;
        let follows = |digits: &u32| {
            let water = self.amount(Quantity::MolWater, *digits)?;
            let salt = self.amount(Quantity::MolSalt, *digits)?;
            let shown = water.value().checked_div(&salt.value())? + &self.residual.waters;
            let ratio = self.measured(Quantity::Ratio)?.written(TieRule::Even);
            let places = ratio.decimal_places().max(0);
            let [shown, ratio] = [shown, ratio.value()].map(|x| x.to_places(places, TieRule::Even));
            (shown == ratio).then_some(())
        };
        let found = (1..=MOST).find(|digits| follows(digits).is_some());
        found.unwrap_or(1)
    }

    /// A reading with the decimal places of the balance.
    fn grams(&self, reading: &Reading) -> String {
        let places = places_of(&self.loss.division).max(reading.decimal_places());
        format!("{}", reading.value().to_places(places, TieRule::Even))
    }

    /// The amount of water divided by the amount of salt, or both from 100 g of hydrate.
    fn quotient(&self) -> String {
        let amounts = [Quantity::MolWater, Quantity::MolSalt].map(|q| self.guarded(q));
        if let [Some(water), Some(salt)] = amounts {
            return format!("{water} mol / {salt} mol");
        }
        let percent = &self.loss.percent;
        let rest = 100 - percent;
        format!(
            "({} / {}) / ({} / {})",
            percent.to_plain(),
            self.water_molar,
            rest.to_plain(),
            self.salt_molar
        )
    }
}
