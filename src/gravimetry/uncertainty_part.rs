//! What the uncertainty of a ratio covers.

use super::error::{Error, ErrorKind};

/// A part of what makes a ratio uncertain.
///
/// ```
/// use effloresce::gravimetry::{Method, UncertaintyPart, Weighings};
/// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
/// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
/// assert_eq!(run.uncertainty_covers(), [UncertaintyPart::Balance]);
/// assert!(run.uncertainty_is_lower_bound(), "nothing shows whether water is left");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum UncertaintyPart {
    /// The readings of the balance and the atomic weights.
    Balance,
    /// The water that the criterion for constant mass may leave, if it is reached.
    ConstantMass,
    /// The water that is still lost slowly, estimated from three or more weighings after heating.
    SlowLoss,
}

crate::text::codes! {
    UncertaintyPart, "what an uncertainty covers", Error(ErrorKind::UnknownCode);
    Balance => "balance",
    ConstantMass => "constant_mass",
    SlowLoss => "slow_loss",
}
