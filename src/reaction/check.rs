//! Whether an equation balances as it is written, and what is not conserved if it does not.

use alloc::vec::Vec;

use super::conserved::Conserved;
use super::equation::{Equation, Side};
use super::error::Error;
use crate::formula::Column;
use crate::number::Ratio;

/// The amount of something on each side of an equation, including the coefficients.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Total {
    what: Conserved,
    left: Ratio,
    right: Ratio,
}

impl Total {
    /// Returns what is counted.
    #[must_use]
    pub fn what(&self) -> Conserved {
        self.what
    }

    /// Returns the number of atoms, or elementary charges, in the reactants.
    #[must_use]
    pub fn left(&self) -> &Ratio {
        &self.left
    }

    /// Returns the number of atoms, or elementary charges, in the products.
    #[must_use]
    pub fn right(&self) -> &Ratio {
        &self.right
    }

    /// Returns whether both sides have the same number.
    #[must_use]
    pub fn is_balanced(&self) -> bool {
        self.left == self.right
    }
}

/// The totals of an equation as it is written.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Checked {
    totals: Vec<Total>,
}

impl Checked {
    /// Returns whether all atoms and the charge are conserved.
    #[must_use]
    pub fn is_balanced(&self) -> bool {
        self.totals.iter().all(Total::is_balanced)
    }

    /// Returns each kind of atom in order of appearance, then the charge, if any species has one.
    #[must_use]
    pub fn totals(&self) -> &[Total] {
        &self.totals
    }

    /// Returns the totals that differ between the sides.
    pub fn off(&self) -> impl Iterator<Item = &Total> {
        self.totals.iter().filter(|total| !total.is_balanced())
    }

    pub(super) fn new() -> Checked {
        Checked { totals: Vec::new() }
    }

    /// Adds what a species has of one quantity. The charge stays last.
    pub(super) fn add(&mut self, what: Conserved, side: Side, amount: &Ratio) {
        if amount.is_zero() {
            return;
        }
        let known = self.totals.iter().position(|total| total.what == what);
        let index = known.unwrap_or_else(|| {
            let last = self.totals.last();
            let charged = last.is_some_and(|total| total.what == Conserved::Charge);
            let index = self.totals.len() - usize::from(charged);
            let (left, right) = (Ratio::ZERO, Ratio::ZERO);
            self.totals.insert(index, Total { what, left, right });
            index
        });
        if let Some(total) = self.totals.get_mut(index) {
            let sum = match side {
                Side::Reactants => &mut total.left,
                Side::Products => &mut total.right,
            };
            *sum = &*sum + amount;
        }
    }
}

impl Equation {
    /// Counts both sides with the coefficients as they are written. No coefficient counts as one.
    ///
    /// # Errors
    /// `unknown_degree` if a count is unknown.
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
        let mut checked = Checked::new();
        for species in &self.species {
            let mut column = Column::new();
            species
                .formula
                .column(&mut column)
                .map_err(|error| Error::of_formula(&error, species.formula_at))?;
            let units = Ratio::from(column.formula_units);
            // A column never stands for zero formula units.
            let each = species.count().checked_div(&units).unwrap_or_default();
            let mut add = |what, count| checked.add(what, species.side, &(&count * &each));
            column.each(|atom, count| add(Conserved::Atom(atom), Ratio::from(count)));
            add(Conserved::Charge, Ratio::from(column.charge));
        }
        Ok(checked)
    }
}
