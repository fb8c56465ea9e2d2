//! Whether an equation balances as it is written, and what is off where it does not.

use alloc::vec::Vec;
use core::fmt;

use super::equation::{Equation, Side};
use super::error::Error;
use crate::element::Atom;
use crate::formula::Column;
use crate::number::Ratio;

/// What a reaction conserves: atoms of one kind, or charge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Conserved {
    /// Atoms of an element, or of one nuclide of it.
    Atom(Atom),
    /// Electric charge.
    Charge,
}

impl fmt::Display for Conserved {
    /// The symbol, or `charge`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Conserved::Atom(atom) => atom.fmt(f),
            Conserved::Charge => f.pad("charge"),
        }
    }
}

/// How much of something stands on each side, coefficients counted in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Total {
    what: Conserved,
    left: Ratio,
    right: Ratio,
}

impl Total {
    /// What is counted.
    #[must_use]
    pub fn what(&self) -> Conserved {
        self.what
    }

    /// How much of it the reactants have: atoms, or elementary charges.
    #[must_use]
    pub fn left(&self) -> &Ratio {
        &self.left
    }

    /// How much of it the products have.
    #[must_use]
    pub fn right(&self) -> &Ratio {
        &self.right
    }

    /// Whether both sides have as much.
    #[must_use]
    pub fn is_balanced(&self) -> bool {
        self.left == self.right
    }
}

/// An equation as it is written, counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    totals: Vec<Total>,
}

impl Checked {
    /// Whether all of it is conserved.
    #[must_use]
    pub fn is_balanced(&self) -> bool {
        self.totals.iter().all(Total::is_balanced)
    }

    /// Each kind of atom in order of appearance, then the charge, if any species has one.
    #[must_use]
    pub fn totals(&self) -> &[Total] {
        &self.totals
    }

    /// Those that the sides do not have alike.
    pub fn off(&self) -> impl Iterator<Item = &Total> {
        self.totals.iter().filter(|total| !total.is_balanced())
    }
}

impl Equation {
    /// Counts both sides with the coefficients as they are written; none is one.
    ///
    /// # Errors
    /// `unknown_degree` where a count is left open.
    ///
    /// ```
    /// use effloresce::reaction::Equation;
    /// let equation: Equation = "2Fe3+ + Sn2+ -> Fe2+ + Sn4+".parse()?;
    /// let checked = equation.check()?;
    /// assert!(!checked.is_balanced());
    /// let off: Vec<String> = checked
    ///     .off()
    ///     .map(|total| format!("{} {} {}", total.what(), total.left(), total.right()))
    ///     .collect();
    /// assert_eq!(off, ["Fe 2 1", "charge 8 6"]);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn check(&self) -> Result<Checked, Error> {
        let mut totals: Vec<Total> = Vec::new();
        let mut charge = Total::nought(Conserved::Charge);
        let mut charged = false;
        for species in &self.species {
            let mut column = Column::new();
            species
                .formula
                .column(&mut column)
                .map_err(|error| Error::of_formula(&error, species.formula_at))?;
            let units = Ratio::from(column.units);
            // No formula is counted in noughts.
            let each = species.count().checked_div(&units).unwrap_or_default();
            column.each(|atom, count| {
                let what = Conserved::Atom(atom);
                let place = totals.iter().position(|total| total.what == what);
                let place = place.unwrap_or_else(|| {
                    totals.push(Total::nought(what));
                    totals.len() - 1
                });
                if let Some(total) = totals.get_mut(place) {
                    total.add(species.side, &(&Ratio::from(count) * &each));
                }
            });
            charged |= column.charge != 0;
            charge.add(species.side, &(&Ratio::from(column.charge) * &each));
        }
        if charged {
            totals.push(charge);
        }
        Ok(Checked { totals })
    }
}

impl Total {
    const fn nought(what: Conserved) -> Total {
        Total {
            what,
            left: Ratio::ZERO,
            right: Ratio::ZERO,
        }
    }

    fn add(&mut self, side: Side, more: &Ratio) {
        let sum = match side {
            Side::Reactants => &mut self.left,
            Side::Products => &mut self.right,
        };
        *sum = &*sum + more;
    }
}
