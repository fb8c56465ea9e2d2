//! How well a salt suits the loss-on-heating experiment.

/// The suitability of a salt for the loss-on-heating experiment.
///
/// ```
/// use effloresce::gravimetry::{Suitability, salt_facts};
/// let magnesium_chloride = salt_facts(&"MgCl2".parse()?).unwrap();
/// let suitability = magnesium_chloride.suitability().unwrap();
/// assert_eq!(suitability.value(), &Suitability::Unfit);
/// assert_eq!(magnesium_chloride.suitability_reason(), Some("hydrogen chloride leaves with the water"));
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Suitability {
    /// Heating leaves the anhydrous salt, or one lower hydrate, and the loss is water alone.
    Suitable,
    /// The degree can be found, but only with care: a narrow range of temperature, or a melt that spits.
    Poor,
    /// The loss is not water alone, or the water does not leave as a whole.
    Unfit,
}

impl Suitability {
    /// Returns the stable name: `suitable`, `poor` or `unfit`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Suitability::Suitable => "suitable",
            Suitability::Poor => "poor",
            Suitability::Unfit => "unfit",
        }
    }
}
