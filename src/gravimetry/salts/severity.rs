//! How much care a salt needs in a school.

use crate::gravimetry::error::{Error, ErrorKind};

/// The care that it needs to heat a salt in a school. The greater one is the more severe. If nothing is known
/// of a salt, this counts as more severe than care: it may be worse.
///
/// ```
/// use effloresce::gravimetry::Severity;
/// assert!(Severity::Forbidden > Severity::FumeCupboard);
/// assert!(Severity::Unknown > Severity::Care);
/// assert_eq!(Severity::FumeCupboard.code(), "fume_cupboard");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Severity {
    /// The usual precautions are enough.
    Ordinary,
    /// It needs gloves, little dust, or a watch on the temperature.
    Care,
    /// Nothing is known.
    Unknown,
    /// It is heated only in a fume cupboard.
    FumeCupboard,
    /// It is not heated in a school.
    Forbidden,
}

crate::text::codes! {
    Severity, "the care that a salt needs", Error(ErrorKind::UnknownCode);
    Ordinary => "ordinary",
    Unknown => "unknown",
    Care => "care",
    FumeCupboard => "fume_cupboard",
    Forbidden => "forbidden",
}
