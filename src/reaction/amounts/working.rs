//! The working of amounts: from what is given to every mass, and to the percent yield.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::reacted::{Reacted, SpeciesAmount};
use super::supply::{Form, Supply};
use crate::number::{Measured, Ratio, TieRule};
use crate::reaction::equation::Side;
use crate::working::{Step, Working};

impl Reacted {
    /// The steps from the amounts given to those of all species, and to the percent yield.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let balanced = self
            .warnings()
            .iter()
            .find(|note| note.code() == "balanced_first");
        if let Some((_, equation)) = balanced.and_then(|note| note.values().next()) {
            working.push(self.balanced(equation));
        }
        let given = || {
            let species = self.species().iter();
            species.filter_map(|species| Some((species, species.given?)))
        };
        for (species, supply) in given() {
            if let Some(step) = amount(species, &supply) {
                working.push(step);
            }
        }
        let mut allowed = Vec::new();
        for (species, _) in given() {
            let moles = species.supplied();
            let extent = moles.checked_div(&Measured::exact(species.coefficient().clone()));
            let extent = extent.as_ref().map(guarded).unwrap_or_default();
            let name = species.name();
            working.push(Step::new(
                format!("extent by {name}"),
                format!("n({name}) / ν({name})"),
                format!("{} mol / {}", guarded(&moles), species.coefficient()),
                extent.clone(),
                "mol",
            ));
            allowed.push(format!("{extent} mol by {name}"));
        }
        let limiting: Vec<String> = self.limiting().map(SpeciesAmount::name).collect();
        if allowed.len() > 1 {
            working.push(
                Step::new(
                    "limiting reactant",
                    "the least extent",
                    allowed.join(", "),
                    limiting.join(", "),
                    "",
                )
                .concluded(),
            );
        }
        for species in self.species() {
            // What was given and is used up to nothing needs no step.
            if species.given.is_some() && (species.is_limiting() || species.side == Side::Products)
            {
                continue;
            }
            working.push(self.turned(species));
            if let (Side::Reactants, Some(left)) = (species.side, left(species)) {
                working.push(left);
            }
        }
        if let Some(percent) = self.percent_yield() {
            working.push(Step::new(
                "percent yield",
                "100 % × m(obtained) / m(theoretical)",
                format!(
                    "100 % × {} g / {} g",
                    percent.actual,
                    guarded(&percent.theoretical)
                ),
                percent.measured().plainly(),
                "%",
            ));
        }
        working
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

    /// The mass that is used up or formed.
    fn turned(&self, species: &SpeciesAmount) -> Step {
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
                guarded(self.extent().measured()),
                species.molar_mass().to_plain()
            ),
            size(species.measured_mass_change()).plainly(),
            "g",
        )
    }
}

impl SpeciesAmount {
    /// The amount that was given: of a product what is formed.
    fn supplied(&self) -> Measured {
        match (&self.initial, self.side) {
            (Some(initial), Side::Reactants) => initial.measured().clone(),
            _ => self.change.measured().clone(),
        }
    }
}

/// From what is given to the amount; an amount in moles is there already.
fn amount(species: &SpeciesAmount, supply: &Supply) -> Option<Step> {
    let name = species.name();
    let (mut symbols, mut numbers) = match &supply.form {
        Form::Mass(grams) => (
            format!("m / M({name})"),
            format!("{grams} g / {} g/mol", species.molar_mass().to_plain()),
        ),
        Form::Moles(moles) => ("n".into(), format!("{moles} mol")),
        Form::Solution {
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
    } else if matches!(supply.form, Form::Moles(_)) {
        return None;
    }
    Some(Step::new(
        format!("amount of {name}"),
        format!("n({name}) = {symbols}"),
        numbers,
        guarded(&species.supplied()),
        "mol",
    ))
}

/// What is left of a reactant that was given.
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
        format!("{} g − {} g", guarded(initial.measured()), guarded(&used)),
        last.plainly(),
        "g",
    ))
}

/// With one digit more than means something.
fn guarded(value: &Measured) -> String {
    format!("{}", value.guarded(1, TieRule::Even))
}
