//! The steps from the masses to the fractions of a mixture.

use alloc::format;
use alloc::string::{String, ToString};

use super::component::Component;
use super::two_parts::Mixture;
use crate::number::{Ratio, Stated, TieRule};
use crate::working::{Step, Working};

impl Mixture {
    /// Returns the steps from the molar masses and the readings to the fractions.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        for ((component, molar), left) in self.components.iter().zip(&self.molar).zip(&self.left) {
            working.push(left_of(component, molar, left));
        }
        let [one, other] = self.components.each_ref().map(|c| c.formula().to_string());
        let [r_one, r_other] = self.left.each_ref().map(rounded);
        let quotient = match self.masses {
            Some((sample, residue)) => format!("{residue} g / {sample} g"),
            None => rounded(&self.residue_fraction),
        };
        let [first, second] = self.shown();
        working.push(Step::new(
            format!("mass fraction of {one}"),
            format!(
                "w({one}) = 100 % × (m(residue) / m(sample) − r({other})) / (r({one}) − r({other}))"
            ),
            format!("100 % × ({quotient} − {r_other}) / ({r_one} − {r_other})"),
            first.clone(),
            "%",
        ));
        working.push(Step::new(
            format!("mass fraction of {other}"),
            format!("w({other}) = 100 % − w({one})"),
            format!("100 % − {first} %"),
            second,
            "%",
        ));
        working
    }

    /// The fractions, to the decimal place of the first figure of their uncertainty.
    fn shown(&self) -> [String; 2] {
        let uncertainty = self.standard_uncertainty();
        self.fractions().each_ref().map(|fraction| {
            let stated = Stated::with_digits(fraction, uncertainty, 1);
            stated.map_or_else(|| fraction.to_plain(), |stated| stated.value().to_string())
        })
    }
}

/// The step to what is left of each gram of a component.
fn left_of(component: &Component, [whole, residue]: &[Ratio; 2], left: &Ratio) -> Step {
    let formula = component.formula();
    let [whole, residue] = [whole, residue].map(|molar| format!("{} g/mol", molar.to_plain()));
    let number = match component.residues_per_formula() {
        one if *one == Ratio::ONE => String::new(),
        number => format!("{number} × "),
    };
    let (symbols, numbers) = match component.residue() {
        None => ("0".to_string(), "nothing is left".to_string()),
        Some(of) => (
            format!("{number}M({of}) / M({formula})"),
            format!("{number}{residue} / {whole}"),
        ),
    };
    Step::new(
        format!("residue of each gram of {formula}"),
        format!("r({formula}) = {symbols}"),
        numbers,
        rounded(left),
        "",
    )
}

/// Five significant figures, as for a factor.
fn rounded(left: &Ratio) -> String {
    left.to_figures(5, TieRule::Even).to_string()
}
