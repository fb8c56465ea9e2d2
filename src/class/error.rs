//! What can be wrong with a class sheet, a policy or a list of values.

crate::text::room_error! {
    /// A class sheet or a policy for marks that could not be read at all, or values that have no
    /// statistics.
    ///
    /// ```
    /// use effloresce::class::{ErrorKind, Sheet};
    /// let error = Sheet::read("bench,crucible_g\nHeron,21.352\n".as_bytes()).unwrap_err();
    /// assert_eq!(error.kind(), ErrorKind::MissingColumn);
    /// assert_eq!(error.code(), "bad_sheet");
    /// assert!(error.to_string().contains("crucible_hydrate_g"));
    /// ```
    Error, ErrorKind {
        /// The source of the sheet failed while it was read.
        Unreadable => "bad_sheet",
        /// The bytes are no text: a workbook, for instance, not its export.
        NotText => "bad_sheet",
        /// Nothing is written in the sheet.
        Empty => "bad_sheet",
        /// No line is a header.
        NoHeader => "bad_sheet",
        /// The header lacks a column without which no bench can be worked out.
        MissingColumn => "bad_sheet",
        /// Two columns of the header mean the same.
        RepeatedColumn => "bad_sheet",
        /// A second header, with other columns, stands among the rows.
        SecondHeader => "bad_sheet",
        /// Quotation marks are opened and not closed all over the sheet.
        OpenQuotes => "bad_sheet",
        /// The caller mapped a header to a column that does not exist, or to two.
        BadMapping => "bad_sheet",
        /// The sheet is larger than any class's.
        TooLarge => "too_large",
        /// A policy for marks that cannot be read, or contradicts itself.
        BadPolicy => "bad_policy",
        /// Statistics of no values.
        NoValues => "bad_request",
        /// Statistics of more values than any class has.
        TooManyValues => "too_large",
        /// A level of confidence that is not between nought and one.
        BadLevel => "out_of_range",
        /// A summary that is none of any values: a negative standard deviation, or one of a single
        /// value.
        BadSummary => "out_of_range",
    }
}
