//! The room's errors.

use alloc::format;
use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// A bench that cannot be simulated, or a name that is none.
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
        /// What was issued has no water behind a dot, or no salt before it.
        NotAHydrate => "bad_request",
        /// The formula has no molar mass: an element without a weight.
        NoStandardWeight => "no_standard_weight",
        /// The formula has no molar mass: a count left open.
        UnknownDegree => "unknown_degree",
        /// A readability that no balance for this experiment has.
        Readability => "out_of_range",
        /// A sample that is too small for the balance, or larger than a bench takes.
        Sample => "out_of_range",
        /// Another setting that makes no sense.
        OutOfRange => "out_of_range",
        /// The fault cannot be shown with this salt: nothing is known that it could leave.
        FaultNotShown => "fault_not_shown",
        /// A name that is no fault's.
        UnknownFault => "out_of_range",
    }
}

impl From<crate::formula::Error> for Error {
    /// What keeps a formula from having a molar mass keeps its bench from being simulated.
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        let mut detail = Detail::new(format!("{error}"));
        detail.span = error.span();
        detail.help = error.help().map(|help| String::from(help).into());
        Error::new(kind, detail)
    }
}

/// An error of this kind with what to do about it.
pub(super) fn wrong(kind: ErrorKind, message: String, help: impl Into<String>) -> Error {
    Error::new(kind, Detail::new(message).help(help.into()))
}
