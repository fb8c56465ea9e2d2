//! What can be wrong with a class sheet, a policy or a list of values.

crate::text::room_error! {
    /// An error about a class sheet or a policy that could not be read at all, or about values that
    /// have no statistics.
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
        /// The bytes are not a text; they may be a workbook instead of its export.
        NotText => "bad_sheet",
        /// The sheet is empty.
        Empty => "bad_sheet",
        /// No line is a header.
        NoHeader => "bad_sheet",
        /// The header lacks a column that every bench needs.
        MissingColumn => "bad_sheet",
        /// Two columns of the header have the same meaning.
        RepeatedColumn => "bad_sheet",
        /// A second header, with other columns, is among the rows.
        SecondHeader => "bad_sheet",
        /// Many quotation marks are opened and not closed.
        OpenQuotes => "bad_sheet",
        /// The caller mapped a header to a column that does not exist, or to two columns.
        BadMapping => "bad_sheet",
        /// The sheet is too large.
        TooLarge => "too_large",
        /// The policy cannot be read, or contradicts itself.
        BadPolicy => "bad_policy",
        /// A row of marks given by hand cannot be read, or fits no open answer.
        BadHandMarks => "bad_sheet",
        /// There are no values to summarize.
        NoValues => "bad_request",
        /// There are too many values to summarize.
        TooManyValues => "too_large",
        /// The level of confidence is not between zero and one.
        BadLevel => "out_of_range",
        /// The summary is impossible: the standard deviation is negative, or of a single value.
        BadSummary => "out_of_range",
        /// The text is not a code.
        UnknownCode => "out_of_range",
    }
}
