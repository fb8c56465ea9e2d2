//! The steps from a bench's readings to its formula.

use alloc::format;

use super::dehydration::Dehydration;
use super::quantity::Quantity;
use super::series::places_of;
use crate::number::{Ratio, Reading, TieRule};
use crate::working::{Step, Working};

impl Dehydration {
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
                r.value()
                    .to_decimal_places(places.max(r.decimal_places()), TieRule::Even)
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
