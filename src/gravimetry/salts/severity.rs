//! How much care a salt needs in a school.

/// The care that it needs to heat a salt in a school. The greater one is the more severe.
///
/// ```
/// use effloresce::gravimetry::Severity;
/// assert!(Severity::Forbidden > Severity::FumeCupboard);
/// assert_eq!(Severity::FumeCupboard.code(), "fume_cupboard");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Severity {
    /// The usual precautions are enough.
    Ordinary,
    /// It needs gloves, little dust, or a watch on the temperature.
    Care,
    /// It is heated only in a fume cupboard.
    FumeCupboard,
    /// It is not heated in a school.
    Forbidden,
}

impl Severity {
    /// Returns the stable name: `ordinary`, `care`, `fume_cupboard` or `forbidden`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Severity::Ordinary => "ordinary",
            Severity::Care => "care",
            Severity::FumeCupboard => "fume_cupboard",
            Severity::Forbidden => "forbidden",
        }
    }
}
