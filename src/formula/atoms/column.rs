//! A formula as a column of an equation's matrix: atoms and charge in whole numbers.

use super::tally::Tally;
use super::walk::Uncounted;
use crate::element::Atom;
use crate::formula::error::Error;
use crate::formula::limits::MOST_COUNTED;
use crate::formula::repr::Formula;
use crate::number::Ratio;

/// The atoms and the charge of a number (`formula_units`) of formula units, all whole.
#[derive(Debug)]
pub(crate) struct Column {
    tally: Tally,
    /// The factor of the numbers of the tally.
    times: u64,
    pub(crate) charge: i64,
    pub(crate) formula_units: u64,
}

impl Column {
    pub(crate) const fn new() -> Column {
        Column {
            tally: Tally::new(),
            times: 1,
            charge: 0,
            formula_units: 1,
        }
    }

    /// Calls `take` with each kind of atom and its number, in order of appearance. No number is larger
    /// than 10¹⁸.
    #[inline]
    pub(crate) fn each(&self, mut take: impl FnMut(Atom, u64)) {
        let times = self.times;
        if self.tally.rare_atoms().next().is_some() {
            let counts = self.tally.counts();
            return counts.for_each(|(atom, number)| take(atom, number * times));
        }
        for (element, number) in self.tally.rows() {
            take(element.into(), number * times);
        }
    }

    /// Sets the charge of one formula unit. `None` if a number becomes too large.
    ///
    /// The atoms of a part may be whole and its charge not. Then the column is for more formula units.
    #[inline]
    fn set_charge(&mut self, charge: &Ratio) -> Option<()> {
        if let (Some(whole), 1) = (charge.to_i128(), self.formula_units) {
            self.charge = i64::try_from(whole).ok()?;
            return Some(());
        }
        let (numerator, denominator) = (charge * self.formula_units).to_parts()?;
        let times = u64::try_from(denominator).ok()?;
        let multiplied = |number: u64| number.checked_mul(times).filter(|n| *n <= MOST_COUNTED);
        self.formula_units = multiplied(self.formula_units)?;
        for (_, number) in self.tally.counts() {
            multiplied(number)?;
        }
        self.times = times;
        self.charge = i64::try_from(numerator).ok()?;
        Some(())
    }
}

impl Formula {
    /// Puts atoms and charge in whole numbers into a new column. Returns an error if a count is
    /// unknown.
    #[inline]
    pub(crate) fn column(&self, column: &mut Column) -> Result<(), Error> {
        self.packed
            .tally_into(&mut column.tally, None)
            .map_err(|why| self.uncounted(why))?;
        column.formula_units = column.tally.denominator;
        let charge = self.exact_charge();
        let charge = charge.ok_or_else(|| self.uncounted(Uncounted::UnknownCount))?;
        if charge.is_zero() {
            return Ok(());
        }
        column
            .set_charge(&charge)
            .ok_or_else(|| self.uncounted(Uncounted::TooMany))
    }
}
