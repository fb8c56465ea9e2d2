//! A text becomes a formula.

use alloc::vec::Vec;
use core::str::FromStr;

use crate::formula::error::Error;
use crate::formula::repr::Formula;
use crate::text::Note;

impl Formula {
    /// Reads a formula and notes what may have been meant otherwise.
    ///
    /// The notes are `ambiguous_dot` (a full stop taken as an adduct dot, where a decimal point
    /// would be honest too), `suspect_case` (all capitals, with two that spell a metal),
    /// `suspect_zero` (`H20`, with a zero), `suspect_one` (`NaC1`, `CaC12`, with the digit 1 for a
    /// small l), `suspect_letter` (`NaCI`, with a capital I for it), `suspect_dot` (`MgSO47H2O`,
    /// with the dot left out), `full_stop` (one at the end, left out) and `bracketed_water`
    /// (water in brackets at the end, read as water of crystallization).
    /// [`FromStr`] is strict: it refuses all but the last.
    ///
    /// # Errors
    /// Where the text is no formula, or has two readings of which neither may be preferred.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let (clay, notes) = Formula::read("Al2O3.2SiO2.2H2O")?;
    /// assert_eq!(clay.to_string(), "Al2O3·2SiO2·2H2O");
    /// assert_eq!(notes[0].code(), "ambiguous_dot");
    /// assert!("Al2O3.2SiO2.2H2O".parse::<Formula>().is_err());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<(Formula, Vec<Note>), Error> {
        let (mut formula, mut notes) = (Formula::new(), Vec::new());
        formula.fill(text, Some(&mut notes))?;
        Ok((formula, notes))
    }
}

impl FromStr for Formula {
    type Err = Error;

    /// Reads a formula strictly: what [`Formula::read`] would only note as doubtful is refused.
    #[inline]
    fn from_str(text: &str) -> Result<Formula, Error> {
        let mut formula = Formula::new();
        formula.fill(text, None)?;
        Ok(formula)
    }
}
