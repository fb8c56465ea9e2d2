//! The steps to an answer about heat.

use alloc::format;
use alloc::string::String;

use super::hydration::{HeatQuantity, Hydration, WATER_CAPACITY};
use super::prompt::{EXTRA_MASS, FORMATION, MUCH_WATER, WATER_OF_MUCH};
use crate::exercise::careful::CarefulWork;
use crate::exercise::draw::to_figures;
use crate::formula::Formula;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::working::{Step, Working};

impl Hydration {
    pub(super) fn working(
        &self,
        form: &str,
        quantity: HeatQuantity,
        exact: &CarefulWork,
        figures: u32,
    ) -> Option<Working> {
        let answer = to_figures(self.value(quantity, exact)?.low(), figures);
        let five = |interval: Interval| to_figures(interval.low(), 5);
        let mut working = Working::default();
        if form == FORMATION || form == EXTRA_MASS {
            working.push(self.enthalpy_step());
        }
        if quantity == HeatQuantity::Enthalpy {
            return Some(working);
        }
        let amount = five(self.amount(exact)?);
        working.push(self.amount_step(&amount, exact)?);
        if matches!(form, MUCH_WATER | WATER_OF_MUCH) {
            for step in self.steps_to_used_up(&amount, exact)? {
                working.push(step);
            }
        }
        match quantity {
            HeatQuantity::Heat => working.push(self.heat_step(&amount, answer)),
            HeatQuantity::Water => working.push(self.water_step(&amount, exact, answer)?),
            _ => {
                let heat = five(self.value(HeatQuantity::Heat, exact)?);
                let water = five(self.water(exact)?);
                let capacity = five(self.capacity(exact)?);
                working.push(self.heat_step(&amount, heat.clone()));
                working.push(self.water_step(&amount, exact, water.clone())?);
                working.push(self.capacity_step([&amount, &water], capacity.clone())?);
                working.push(Step::new(
                    "rise of temperature",
                    "−1000 J/kJ × q / C",
                    format!("−1000 J/kJ × {heat} kJ / {capacity} J/K"),
                    answer,
                    "K",
                ));
            }
        }
        Some(working)
    }

    fn amount_step(&self, amount: &str, exact: &CarefulWork) -> Option<Step> {
        let salt = self.salt();
        let molar = exact.molar_mass(salt)?.low().to_plain();
        Some(Step::new(
            "amount of salt",
            format!("m({salt}) / M({salt})"),
            format!("{} g / {molar} g/mol", self.mass),
            amount.into(),
            "mol",
        ))
    }

    /// The steps that find which of the two is used up.
    fn steps_to_used_up(&self, amount: &str, exact: &CarefulWork) -> Option<[Step; 3]> {
        let (salt, waters, grams) = (self.salt(), &self.waters, self.water_mass?);
        let molar = exact.molar_mass(&Formula::water())?.low().clone();
        let of_water = grams.value().checked_div(&molar)?;
        let enough = to_figures(&of_water.checked_div(waters)?, 5);
        let of_water = to_figures(&of_water, 5);
        let molar = molar.to_plain();
        Some([
            Step::new(
                "amount of water",
                "m(H2O) / M(H2O)",
                format!("{grams} g / {molar} g/mol"),
                of_water.clone(),
                "mol",
            ),
            Step::new(
                "amount of salt that this water is enough for",
                format!("n(H2O) / {waters}"),
                format!("{of_water} mol / {waters}"),
                enough.clone(),
                "mol",
            ),
            Step::new(
                "used up",
                "the one with the smaller of the two amounts of salt",
                format!("compare {amount} mol with {enough} mol"),
                format!("{salt}"),
                "",
            )
            .concluded(),
        ])
    }

    fn heat_step(&self, amount: &str, result: String) -> Step {
        let numbers = format!("{amount} mol × {} kJ/mol", signed(&self.enthalpy));
        Step::new("heat", "n × ΔH", numbers, result, "kJ")
    }

    fn water_step(&self, amount: &str, exact: &CarefulWork, result: String) -> Option<Step> {
        let waters = &self.waters;
        let water = exact.molar_mass(&Formula::water())?.low().to_plain();
        Some(Step::new(
            "mass of water taken up",
            format!("n × {waters} × M(H2O)"),
            format!("{amount} mol × {waters} × {water} g/mol"),
            result,
            "g",
        ))
    }

    fn capacity_step(&self, [amount, bound]: [&str; 2], result: String) -> Option<Step> {
        let (all, crystals) = (self.water_mass?, self.heat.heat_capacity().to_plain());
        let of_water = format!("({all} g − {bound} g) × {WATER_CAPACITY} J/(g·K)");
        Some(Step::new(
            "heat capacity",
            "n × C(hydrate) + (m(water) − m(taken up)) × c(water)",
            format!("{amount} mol × {crystals} J/(mol·K) + {of_water}"),
            result,
            "J/K",
        ))
    }

    /// The enthalpy of hydration from enthalpies of formation.
    fn enthalpy_step(&self) -> Step {
        let [of_salt, of_hydrate, of_water] = self.formation.each_ref().map(signed);
        let (salt, hydrate, waters) = (self.salt(), self.hydrate(), &self.waters);
        Step::new(
            "enthalpy of hydration",
            format!("ΔH = ΔfH({hydrate}) − ΔfH({salt}) − {waters} × ΔfH(H2O)"),
            format!("({of_hydrate} kJ/mol) − ({of_salt} kJ/mol) − {waters} × ({of_water} kJ/mol)"),
            signed(&self.enthalpy),
            "kJ/mol",
        )
    }
}

/// A number with a minus sign, not a hyphen.
fn signed(value: &Ratio) -> String {
    value.to_plain().replace('-', "−")
}
