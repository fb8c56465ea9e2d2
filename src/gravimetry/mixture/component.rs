//! A component of a mixture and what heating leaves of it.

use alloc::format;

use crate::formula::Formula;
use crate::gravimetry::error::{Error, ErrorKind};
use crate::gravimetry::hazard::grave_hazard;
use crate::gravimetry::stages::{Solid, arising};
use crate::number::Ratio;
use crate::text::Detail;

/// A component of a mixture, with what heating leaves of it.
///
/// ```
/// use effloresce::gravimetry::Component;
/// let bicarbonate = Component::new("NaHCO3".parse()?, "Na2CO3".parse()?)?;
/// assert_eq!(bicarbonate.residues_per_formula(), &"1/2".parse()?);
/// let inert = Component::inert("SiO2".parse()?)?;
/// assert_eq!(inert.residue(), Some(inert.formula()));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    formula: Formula,
    residue: Option<Formula>,
    residues_per_formula: Ratio,
}

impl Component {
    /// Takes a component and its residue. The elements that are kept fix how many formula units of the
    /// residue arise, as in [`Stages`](crate::gravimetry::Stages). A residue that is the component itself is
    /// inert matter.
    ///
    /// # Errors
    /// `bad_request` if the residue cannot arise from the component, `unknown_degree` if a formula has an
    /// unknown number of waters.
    pub fn new(formula: Formula, residue: Formula) -> Result<Component, Error> {
        let solid = arising(&Solid::new(formula.clone())?, residue);
        let solid = solid.map_err(|error| error.ending(grave_hazard(&[&formula])))?;
        Ok(Component {
            formula,
            residue: Some(solid.formula),
            residues_per_formula: solid.units,
        })
    }

    /// Takes a component that loses nothing.
    ///
    /// # Errors
    /// As [`Component::new`].
    pub fn inert(formula: Formula) -> Result<Component, Error> {
        Component::new(formula.clone(), formula)
    }

    /// Takes a component that leaves nothing, such as `NH4Cl`.
    ///
    /// # Errors
    /// As [`Component::new`].
    pub fn leaving_nothing(formula: Formula) -> Result<Component, Error> {
        let solid = Solid::new(formula)?;
        Ok(Component {
            formula: solid.formula,
            residue: None,
            residues_per_formula: Ratio::ZERO,
        })
    }

    /// Takes a component with a stated number of formula units of residue for each of its own. They may
    /// have elements of a reagent, as `AgCl` that chlorine makes of `AgI`.
    ///
    /// # Errors
    /// `bad_request` if the number is not positive. Otherwise as [`Component::new`].
    pub fn in_proportion(
        formula: Formula,
        residue: Formula,
        residues_per_formula: Ratio,
    ) -> Result<Component, Error> {
        if !residues_per_formula.is_positive() {
            let message = format!("{residues_per_formula} {residue} cannot be left of 1 {formula}");
            let detail = Detail::new(message).help("give a positive number, such as 1/2");
            return Err(Error::new(ErrorKind::NotAResidue, detail));
        }
        Ok(Component {
            formula: Solid::new(formula)?.formula,
            residue: Some(Solid::new(residue)?.formula),
            residues_per_formula,
        })
    }

    /// The component.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The residue; `None` if nothing is left.
    #[must_use]
    pub fn residue(&self) -> Option<&Formula> {
        self.residue.as_ref()
    }

    /// The number of formula units of residue for each of the component.
    #[must_use]
    pub fn residues_per_formula(&self) -> &Ratio {
        &self.residues_per_formula
    }
}
