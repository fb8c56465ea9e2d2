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
        let amounts = self.amounts();
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
            let amounts = amounts.iter();
            let steps = amounts.flat_map(|amounts| self.steps_of_amounts([s, w], amounts));
            steps.for_each(|step| working.push(step));
        }
        let with_left = |quotient: String| match left.is_zero() {
            true => quotient,
            false => format!("{left} + {quotient}"),
        };
        let symbols = format!("x = {}", with_left(format!("n(H2O) / n({salt})")));
        let quotient = self.quotient(amounts.as_ref());
        working.push(self.step(Quantity::Ratio, symbols, with_left(quotient)));
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

    /// The steps from the masses of residue and of water to their amounts.
    fn steps_of_amounts(&self, [s, w]: [Reading; 2], [salt, water]: &[Rounded; 2]) -> [Step; 2] {
        let left = &self.residual.formula;
        [
            step_to(
                Quantity::MolSalt,
                format!("n({left}) = m / M({left})"),
                format!("{s} g / {} g/mol", self.salt_molar),
                format!("{salt}"),
            ),
            step_to(
                Quantity::MolWater,
                "n(H2O) = m / M(H2O)",
                format!("{w} g / {} g/mol", self.water_molar),
                format!("{water}"),
            ),
        ]
    }

    fn step(
        &self,
        quantity: Quantity,
        symbols: impl Into<Cow<'static, str>>,
        numbers: String,
    ) -> Step {
        let result = self.written(quantity).unwrap_or_default();
        step_to(quantity, symbols, numbers, result)
    }

    /// The amounts of salt and of water with one guard digit, or with as many more as the ratio needs to follow from
    /// them.
    fn amounts(&self) -> Option<[Rounded; 2]> {
        const MOST_GUARD_DIGITS: u32 = 4;
        let salt = self.measured(Quantity::MolSalt)?;
        let water = self.measured(Quantity::MolWater)?;
        let ratio = self.measured(Quantity::Ratio)?;
        let places = ratio.written(TieRule::Even).decimal_places().max(0);
        let ratio = ratio.value().to_places(places, TieRule::Even);
        let shown = |guard| [&salt, &water].map(|amount| amount.guarded(guard, TieRule::Even));
        let follows = |[salt, water]: &[Rounded; 2]| {
            let quotient = water.value().checked_div(&salt.value());
            let shown = quotient.map(|quotient| quotient + &self.residual.waters);
            let shown = shown.map(|shown| shown.to_places(places, TieRule::Even));
            shown.is_some_and(|shown| shown.value() == ratio.value())
        };
        let found = (1..=MOST_GUARD_DIGITS).map(shown).find(follows);
        Some(found.unwrap_or_else(|| shown(1)))
    }

    /// A reading with the decimal places of the balance.
    fn grams(&self, reading: &Reading) -> String {
        let places = places_of(&self.loss.division).max(reading.decimal_places());
        format!("{}", reading.value().to_places(places, TieRule::Even))
    }

    /// The amount of water divided by the amount of salt, or both from 100 g of hydrate.
    fn quotient(&self, amounts: Option<&[Rounded; 2]>) -> String {
        if let Some([salt, water]) = amounts {
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

fn step_to(
    quantity: Quantity,
    symbols: impl Into<Cow<'static, str>>,
    numbers: String,
    result: String,
) -> Step {
    Step::new(quantity.name(), symbols, numbers, result, quantity.unit())
}
