//! What can be wrong with a number.

crate::text::room_error! {
    /// A number that could not be read or made.
    ///
    /// ```
    /// let error = "1,234".parse::<effloresce::Reading>().unwrap_err();
    /// assert_eq!(error.code(), "bad_number");
    /// assert!(error.to_string().contains("1.234"));
    /// ```
    Error, ErrorKind {
        /// The text is not a number.
        NotANumber => "bad_number",
        /// A comma that could mark decimals or thousands.
        AmbiguousComma => "bad_number",
        /// A unit that the quantity is not given in.
        OtherUnit => "bad_number",
        /// More digits, or a larger power of ten, than a measurement has.
        OutOfRange => "out_of_range",
    }
}
