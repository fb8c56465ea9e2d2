//! Molar masses with their sensitivity to each atomic weight.

use alloc::format;
use alloc::vec::Vec;

use crate::element::{Atom, AtomicWeights};
use crate::formula::error::Error;
use crate::formula::repr::Formula;
use crate::number::{Inputs, Ratio, Traced};

/// The atomic weights of a calculation as inputs. Each is one input, even if several formulas contain
/// its element.
pub(crate) struct MolarInputs<'a> {
    weights: &'a AtomicWeights,
    atoms: Vec<(Atom, Traced)>,
}

impl<'a> MolarInputs<'a> {
    pub(crate) fn new(weights: &'a AtomicWeights) -> Self {
        MolarInputs {
            weights,
            atoms: Vec::new(),
        }
    }

    /// The molar mass of a formula.
    pub(crate) fn molar(
        &mut self,
        formula: &Formula,
        inputs: &mut Inputs,
    ) -> Result<Traced, Error> {
        let mut sum = Traced::exact(Ratio::ZERO);
        for (atom, count) in &formula.composition()? {
            sum = sum.plus(&self.atom(atom, inputs)?.times_exact(count));
        }
        Ok(sum)
    }

    fn atom(&mut self, atom: Atom, inputs: &mut Inputs) -> Result<Traced, Error> {
        if let Some((_, known)) = self.atoms.iter().find(|(known, _)| *known == atom) {
            return Ok(known.clone());
        }
        let weight = self.weights.atom(atom)?;
        let traced = inputs.weight(
            format!("atomic weight of {atom}"),
            weight.value(),
            weight.standard_uncertainty(),
        );
        self.atoms.push((atom, traced.clone()));
        Ok(traced)
    }
}
