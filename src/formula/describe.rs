//! Everything about a formula at once.

use alloc::string::String;
use alloc::vec::Vec;

use super::error::Error;
use super::mass::MolarMass;
use super::repr::{Count, Formula, Part};
use super::write;
use crate::element::{Atom, AtomicWeights};
use crate::number::Ratio;
use crate::text::Note;

/// A formula with its written forms, composition, molar mass and water.
#[derive(Debug, Clone, PartialEq)]
pub struct Description {
    formula: Formula,
    molar_mass: MolarMass,
    composition: Vec<(Atom, Ratio, Ratio)>,
    hill: String,
    parts: Vec<PartDescription>,
    percent_water: Option<Ratio>,
    notes: Vec<Note>,
}

/// One part of a formula. Dots join the parts.
#[derive(Debug, Clone, PartialEq)]
pub struct PartDescription {
    formula: String,
    coefficient: Ratio,
    molar_mass: MolarMass,
}

impl PartDescription {
    /// Returns the part without its coefficient, in canonical plain text.
    #[must_use]
    pub fn formula(&self) -> &str {
        &self.formula
    }

    /// Returns how many times the formula contains the part.
    #[must_use]
    pub fn coefficient(&self) -> &Ratio {
        &self.coefficient
    }

    /// Returns the molar mass of the part without its coefficient.
    #[must_use]
    pub fn molar_mass(&self) -> &MolarMass {
        &self.molar_mass
    }
}

impl Description {
    /// Returns the formula that is described.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Returns its molar mass.
    #[must_use]
    pub fn molar_mass(&self) -> &MolarMass {
        &self.molar_mass
    }

    /// Returns each kind of atom with its count and its share of the mass in per cent.
    pub fn composition(&self) -> impl Iterator<Item = (Atom, &Ratio, &Ratio)> {
        self.composition
            .iter()
            .map(|(atom, count, percent)| (*atom, count, percent))
    }

    /// Returns the parts. Dots join them in the formula.
    #[must_use]
    pub fn parts(&self) -> &[PartDescription] {
        &self.parts
    }

    /// Returns water of crystallization and bound water, in per cent of the mass.
    #[must_use]
    pub fn percent_water(&self) -> Option<&Ratio> {
        self.percent_water.as_ref()
    }

    /// Returns what was noted when the text was read.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Adds the notes of [`Formula::read`].
    #[must_use]
    pub fn with_notes(mut self, notes: Vec<Note>) -> Self {
        self.notes = notes;
        self
    }
}

impl Formula {
    /// Returns composition, molar mass, parts and water, with these atomic weights.
    ///
    /// # Errors
    /// The error of [`molar_mass`](Formula::molar_mass) if the formula has none.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula};
    /// let mineral: Formula = "3CdSO4·8H2O".parse()?;
    /// let described = mineral.describe(&AtomicWeights::default())?;
    /// assert_eq!(described.parts()[0].formula(), "CdSO4");
    /// assert_eq!(described.parts()[0].coefficient().to_string(), "3");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn describe(&self, weights: &AtomicWeights) -> Result<Description, Error> {
        let molar_mass = self.molar_mass(weights)?;
        let counts = self.composition()?;
        let shares = counts.shares(weights, &molar_mass.exact())?.into_iter();
        let composition = shares.zip(&counts);
        let composition =
            composition.map(|((atom, percent), (_, count))| (atom, count.clone(), percent));
        let mut parts = Vec::new();
        for part in self.parts() {
            let one = Part {
                coefficient: Count::ONE,
                ..part.clone()
            };
            parts.push(PartDescription {
                formula: write::plain_part(&part),
                coefficient: part.coefficient.ratio().unwrap_or_default(),
                molar_mass: Formula::from_parts(&[one], None).molar_mass(weights)?,
            });
        }
        Ok(Description {
            hill: counts.hill(),
            percent_water: self.percent_water(weights)?,
            formula: self.clone(),
            molar_mass,
            composition: composition.collect(),
            parts,
            notes: Vec::new(),
        })
    }
}

#[cfg(feature = "serde")]
mod serde {
    use super::{Atom, Description, PartDescription, Ratio, String, Vec};
    use crate::text::fields;

    /// The longest canonical text, in bytes, for which a reply contains `MathML`. A reply may be 40 kB
    /// longer than its request. The formulas of real substances are shorter.
    const MOST_MARKED_UP: usize = 256;

    #[derive(serde::Serialize)]
    struct AtomShare {
        element: Atom,
        count: String,
        mass_percent: String,
    }

    impl Description {
        /// Null for a formula whose canonical text is longer than 256 bytes.
        fn short_mathml(&self) -> Option<String> {
            let short = self.formula.plain().len() <= MOST_MARKED_UP;
            short.then(|| self.formula.to_mathml())
        }

        fn atom_shares(&self) -> Vec<AtomShare> {
            let shares = self.composition();
            let shares = shares.map(|(element, count, percent)| AtomShare {
                element,
                count: alloc::format!("{count}"),
                mass_percent: percent.to_plain(),
            });
            shares.collect()
        }
    }

    fields!(Description, it, {
        "formula": it.formula,
        "unicode": it.formula.to_unicode(),
        "html": it.formula.to_html(),
        "latex": it.formula.to_latex(),
        "mathml": it.short_mathml(),
        "spoken": it.formula.to_spoken(),
        "hill": it.hill,
        "charge": it.formula.charge(),
        "molar_mass": it.molar_mass.exact().to_plain(),
        "uncertainty": it.molar_mass.uncertainty(),
        "composition": it.atom_shares(),
        "parts": it.parts,
        "waters": it.formula.waters(),
        "waters_coordinated": it.formula.waters_coordinated(),
        "percent_water": it.percent_water.as_ref().map(Ratio::to_plain),
        "edition": it.molar_mass.edition(),
        "notes": it.notes,
    });

    fields!(PartDescription, it, {
        "formula": it.formula,
        "coefficient": it.coefficient,
        "molar_mass": it.molar_mass.exact().to_plain(),
    });
}
