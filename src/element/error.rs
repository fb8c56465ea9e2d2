//! What can be wrong with an element.

crate::text::room_error! {
    /// An error of an element that does not exist, or has no standard atomic weight.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Element};
    /// let technetium: Element = "Tc".parse()?;
    /// let error = AtomicWeights::default().weight(technetium).unwrap_err();
    /// assert_eq!(error.code(), "no_standard_weight");
    /// # Ok::<(), effloresce::element::Error>(())
    /// ```
    Error, ErrorKind {
        /// No element has this symbol.
        UnknownElement => "unknown_element",
        /// The element has no standard atomic weight.
        NoStandardWeight => "no_standard_weight",
        /// A weight given by hand is not positive.
        OutOfRange => "out_of_range",
        /// A text is not a code.
        UnknownCode => "out_of_range",
    }
}
