//! Hill order.

use alloc::string::String;
use core::fmt;

use super::pieces::to_text;
use crate::formula::Composition;
use crate::number::Ratio;

impl Composition {
    /// Returns the formula in Hill order: carbon and hydrogen first if there is carbon, otherwise all
    /// elements by symbol.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let complex: Formula = "[Cu(NH3)4]SO4·H2O".parse()?;
    /// assert_eq!(complex.composition()?.hill(), "CuH14N4O5S");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn hill(&self) -> String {
        to_text(|out| self.write_hill(out))
    }

    /// Writes what [`hill`](Composition::hill) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_hill(&self, out: &mut impl fmt::Write) -> fmt::Result {
        for (atom, count) in self.hill_order() {
            write!(out, "{atom}")?;
            if *count != Ratio::ONE {
                write!(out, "{count}")?;
            }
        }
        Ok(())
    }
}
