//! What can be wrong with a package, made or read.

use alloc::format;
use alloc::string::String;

use crate::text::Detail;

crate::text::room_error! {
    /// An error in a package: it cannot be made as asked, or it cannot be read.
    ///
    /// ```
    /// use effloresce::qti;
    /// let error = qti::read_items(std::io::Cursor::new(b"no package")).unwrap_err();
    /// assert_eq!(error.code(), "bad_request");
    /// ```
    Error, ErrorKind {
        /// A set without problems, or sets that are not alike place by place.
        Sets => "out_of_range",
        /// A number of problems to select that a section does not have.
        Selection => "out_of_range",
        /// A file that is no package, or a package that contradicts itself.
        BadPackage => "bad_request",
        /// A file that cannot be read or written.
        File => "bad_request",
    }
}

/// An error with its help.
pub(super) fn wrong(kind: ErrorKind, message: String, help: impl Into<String>) -> Error {
    Error::new(kind, Detail::new(message).help(help.into()))
}

/// An error in a file of a package.
pub(super) fn bad_file(file: &str, what: impl core::fmt::Display) -> Error {
    let help = "correct the file, or make the package again";
    wrong(ErrorKind::BadPackage, format!("{file}: {what}"), help)
}

impl From<std::io::Error> for Error {
    fn from(error: std::io::Error) -> Error {
        let message = format!("{error}");
        wrong(ErrorKind::File, message, "check the file and its folder")
    }
}
