//! The percentage of water that readings give, and that a hydrate has by its formula.

use alloc::format;
use alloc::vec::Vec;

use super::super::error::{Error, ErrorKind, no_mass};
use super::super::mass_loss::MassLoss;
use super::super::method::{Method, USUAL_REPEATABILITY};
use crate::element::AtomicWeights;
use crate::formula::{Formula, MolarInputs};
use crate::number::{Budget, Contribution, Inputs, Ratio};
use crate::text::Detail;

/// A percentage of water with its standard uncertainty.
pub(super) struct ShareOfWater {
    pub(super) percent: Ratio,
    pub(super) budget: Budget,
}

impl ShareOfWater {
    /// The percentage that readings give.
    pub(super) fn observed(method: &Method, loss: &MassLoss) -> Result<ShareOfWater, Error> {
        // With q the water for each gram of residue, the percentage is 100 q/(1 + q).
        let whole = &loss.mass_ratio + 1;
        let slope = Ratio::from(100).checked_div(&(&whole * &whole));
        let slope = slope.ok_or_else(no_mass)?;
        let inputs = loss.inputs.iter();
        let inputs =
            inputs.map(|(name, u, by)| Contribution::new(*name, *u, (by * &slope).to_f64()));
        let mut contributions: Vec<Contribution> = inputs.collect();
        let relative = method.repeatability.unwrap_or(USUAL_REPEATABILITY);
        if relative > 0.0 {
            let name = "repeatability of the mass of water";
            let by_relative = loss.percent.to_f64();
            contributions.push(Contribution::new(name, relative, by_relative));
        }
        Ok(ShareOfWater {
            percent: loss.percent.clone(),
            budget: Budget::new(contributions),
        })
    }

    /// The percentage that a hydrate has, with all its water, bound in brackets or not.
    pub(super) fn of(hydrate: &Formula, weights: &AtomicWeights) -> Result<ShareOfWater, Error> {
        let mut inputs = Inputs::default();
        let mut table = MolarInputs::new(weights);
        let whole = table.molar(hydrate, &mut inputs)?;
        let waters = match (hydrate.waters(), hydrate.waters_coordinated()) {
            (None, None) => return Err(not_a_hydrate(hydrate)),
            (after_the_dot, bound) => after_the_dot.unwrap_or_default() + bound.unwrap_or_default(),
        };
        let water = table.molar(&Formula::water(), &mut inputs)?;
        let water = water.times_exact(&(waters * 100));
        let percent = water.over(&whole).ok_or_else(no_mass)?;
        Ok(ShareOfWater {
            percent: percent.value().clone(),
            budget: inputs.budget(&percent),
        })
    }
}

fn not_a_hydrate(formula: &Formula) -> Error {
    let message = format!("{formula} is not a hydrate");
    let help = "give a hydrate with its number of waters, such as MgSO4·7H2O";
    Error::new(ErrorKind::NotASalt, Detail::new(message).help(help))
}
