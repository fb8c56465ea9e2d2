//! The mass fraction of water.

use crate::element::AtomicWeights;
use crate::formula::error::Error;
use crate::formula::repr::Formula;
use crate::number::Ratio;

impl Formula {
    /// Returns the mass fraction of water, of crystallization and bound in brackets, in per cent.
    /// `None` if the formula has neither.
    ///
    /// # Errors
    /// The error of [`molar_mass`](Formula::molar_mass) if the formula has none.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula, number::TieRule};
    /// let hydrate: Formula = "MgSO4·7H2O".parse()?;
    /// let percent = hydrate.percent_water(&AtomicWeights::default())?.unwrap();
    /// assert_eq!(percent.to_places(2, TieRule::Even).to_string(), "51.17");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[doc(alias = "theoretical percent water")]
    pub fn percent_water(&self, weights: &AtomicWeights) -> Result<Option<Ratio>, Error> {
        let whole = self.molar_mass(weights)?;
        let waters = match (self.waters(), self.waters_coordinated()) {
            (None, None) => return Ok(None),
            (a, b) => a.unwrap_or_default() + b.unwrap_or_default(),
        };
        let water = Formula::water().molar_mass(weights)?;
        let mass = waters * water.exact() * 100;
        Ok(mass.checked_div(&whole.exact()))
    }
}
