//! The working of amounts: from the given amounts to every mass, and to the percent yield.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::reacted::{Reacted, SpeciesAmount};
use super::supply::{Supply, SupplyForm};
use super::yields::PercentYield;
use crate::number::{Measured, Ratio};
use crate::reaction::equation::Side;
use crate::working::{Step, Working};

impl Reacted {
    /// Returns the steps from the given amounts to those of all species, and to the percent yield.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        if let Some(equation) = &self.balanced_equation {
            working.push(self.balanced(equation));
        }
        let given = || {
            let species = self.species().iter();
            species.filter_map(|species| Some((species, species.given?)))
        };
        for step in given().filter_map(|(species, supply)| amount(species, &supply)) {
            working.push(step);
        }
        let extents: Vec<Step> = given().map(|(species, _)| extent_by(species)).collect();
        let limiting = (extents.len() > 1).then(|| self.limiting_step(&extents));
        for step in extents.into_iter().chain(limiting) {
            working.push(step);
        }
        for species in self.species() {
            // What was given and is used up to nothing needs no step.
            if species.given.is_some() && (species.is_limiting() || species.side == Side::Products)
            {
                continue;
            }
            working.push(self.mass_change(species));
            if let (Side::Reactants, Some(left)) = (species.side, left(species)) {
                working.push(left);
            }
        }
        if let Some(percent) = self.percent_yield() {
            working.push(percent_step(percent));
        }
        working
    }

    fn limiting_step(&self, extents: &[Step]) -> Step {
        let given = self
            .species()
            .iter()
            .filter(|species| species.given.is_some());
        let extents = extents.iter().zip(given);
        let extents: Vec<String> = extents
            .map(|(step, species)| format!("{} mol by {}", step.result(), species.name()))
            .collect();
        let limiting: Vec<String> = self.limiting().map(SpeciesAmount::name).collect();
        Step::new(
            "limiting reactant",
            "the least extent",
            extents.join(", "),
            limiting.join(", "),
            "",
        )
        .concluded()
    }

    fn balanced(&self, equation: &str) -> Step {
        let coefficients = self.species().iter();
        let coefficients: Vec<String> = coefficients
            .map(|species| format!("{}", species.coefficient()))
            .collect();
        Step::new(
            "balanced equation",
            "the smallest whole numbers that conserve atoms and charge",
            format!("coefficients {}", coefficients.join(", ")),
            String::from(equation),
            "",
        )
        .concluded()
    }

    /// Returns the step to the mass that is used up or formed.
    fn mass_change(&self, species: &SpeciesAmount) -> Step {
        let name = species.name();
        let what = match species.side {
            Side::Reactants => format!("mass of {name} used up"),
            Side::Products => format!("mass of {name} formed"),
        };
        let size = |value: &Measured| match species.side {
            Side::Reactants => value * &Measured::exact(Ratio::from(-1)),
            Side::Products => value.clone(),
        };
        Step::new(
            what,
            format!("ν({name}) × ξ × M({name})"),
            format!(
                "{} × {} mol × {} g/mol",
                species.coefficient(),
                self.extent().measured().with_guard_digit(),
                species.molar_mass().to_plain()
            ),
            size(species.measured_mass_change()).to_plain(),
            "g",
        )
    }
}

/// Returns the step to the extent of reaction that the amount of a species allows.
fn extent_by(species: &SpeciesAmount) -> Step {
    let (name, moles) = (species.name(), species.supplied());
    let extent = moles.checked_div(&Measured::exact(species.coefficient().clone()));
    Step::new(
        format!("extent by {name}"),
        format!("n({name}) / ν({name})"),
        format!(
            "{} mol / {}",
            moles.with_guard_digit(),
            species.coefficient()
        ),
        extent.map_or_else(String::new, |extent| extent.with_guard_digit()),
        "mol",
    )
}

fn percent_step(percent: &PercentYield) -> Step {
    let theoretical = percent.theoretical.with_guard_digit();
    Step::new(
        "percent yield",
        "100 % × m(obtained) / m(theoretical)",
        format!("100 % × {} g / {theoretical} g", percent.actual),
        percent.measured().to_plain(),
        "%",
    )
}

impl SpeciesAmount {
    /// Returns the given amount; of a product it is the amount formed.
    fn supplied(&self) -> Measured {
        match (&self.initial, self.side) {
            (Some(initial), Side::Reactants) => initial.measured().clone(),
            _ => self.change.measured().clone(),
        }
    }
}

/// Returns the step from the given quantity to the amount; `None` if the amount is given.
fn amount(species: &SpeciesAmount, supply: &Supply) -> Option<Step> {
    let name = species.name();
    let (mut symbols, mut numbers) = match &supply.form {
        SupplyForm::Mass(grams) => (
            format!("m / M({name})"),
            format!("{grams} g / {} g/mol", species.molar_mass().to_plain()),
        ),
        SupplyForm::Moles(moles) => ("n".into(), format!("{moles} mol")),
        SupplyForm::Solution {
            concentration,
            volume,
        } => (
            "c × V".into(),
            format!("{concentration} mol/L × {volume} L"),
        ),
    };
    if let Some(percent) = &supply.purity {
        symbols = format!("{symbols} × w / 100 %");
        numbers = format!("{numbers} × {percent} % / 100 %");
    } else if matches!(supply.form, SupplyForm::Moles(_)) {
        return None;
    }
    Some(Step::new(
        format!("amount of {name}"),
        format!("n({name}) = {symbols}"),
        numbers,
        species.supplied().with_guard_digit(),
        "mol",
    ))
}

/// Returns the step to the mass that is left of a given reactant.
fn left(species: &SpeciesAmount) -> Option<Step> {
    let name = species.name();
    let (initial, last) = (
        species.mass_initial.as_ref()?,
        species.measured_mass_final()?,
    );
    let used = &Measured::exact(Ratio::from(-1)) * species.measured_mass_change();
    Some(Step::new(
        format!("mass of {name} left"),
        "m(at first) − m(used up)",
        format!(
            "{} g − {} g",
            initial.measured().with_guard_digit(),
            used.with_guard_digit()
        ),
        last.to_plain(),
        "g",
    ))
}
