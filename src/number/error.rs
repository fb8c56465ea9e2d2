//! What can be wrong with a number.

crate::text::room_error! {
    /// An error of a number that could not be read or calculated.
    ///
    /// ```
    /// let error = "1,234".parse::<effloresce::Reading>().unwrap_err();
    /// assert_eq!(error.code(), "bad_number");
    /// assert!(error.to_string().contains("1.234"));
    /// ```
    Error, ErrorKind {
        /// The text is not a number.
        NotANumber => "bad_number",
        /// A comma may mark decimals or thousands.
        AmbiguousComma => "bad_number",
        /// The unit does not belong to the quantity.
        OtherUnit => "bad_number",
        /// The number has more digits, or a larger power of ten, than a measurement has.
        OutOfRange => "out_of_range",
        /// The text is not a code.
        UnknownCode => "out_of_range",
    }
}
