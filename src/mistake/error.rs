//! The errors of this module.

use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// An error in the settings of a simulated bench, in the readings of a diagnosis, or in a code.
    ///
    /// ```
    /// use effloresce::mistake::{Fault, Simulator};
    /// let simulator = Simulator::new(&"BaCl2·2H2O".parse()?, "0.001".parse()?)?;
    /// let error = simulator.fault(Fault::Decomposed).unwrap_err();
    /// assert_eq!(error.code(), "fault_not_shown");
    /// assert!(error.to_string().contains("BaCl2"));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    Error, ErrorKind {
        /// An issued formula that is not a hydrate: it has no salt before the dot, or no water after it.
        NotAHydrate => "bad_request",
        /// A formula with an element that has no standard atomic weight.
        NoStandardWeight => "no_standard_weight",
        /// A formula with an unknown number of waters.
        UnknownDegree => "unknown_degree",
        /// A readability that no balance for this experiment has.
        Readability => "out_of_range",
        /// A sample that is too small for the balance, or larger than a bench takes.
        Sample => "out_of_range",
        /// Another setting outside its possible range.
        OutOfRange => "out_of_range",
        /// A fault that cannot be shown with this salt, because no solid is known that it would leave.
        FaultNotShown => "fault_not_shown",
        /// Probabilities of faults that are not possible.
        Prior => "bad_policy",
        /// Readings without a mass after heating.
        NothingHeated => "bad_request",
        /// A text that is not a code.
        UnknownCode => "out_of_range",
    }
}

impl From<crate::formula::Error> for Error {
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        Error::new(kind, error.into())
    }
}

/// An error with its help.
pub(super) fn wrong(kind: ErrorKind, message: String, help: impl Into<String>) -> Error {
    Error::new(kind, Detail::new(message).help(help.into()))
}
