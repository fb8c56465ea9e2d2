//! Where in a text something is.

/// A range of bytes in the text that was read: `start` inclusive, `end` exclusive.
///
/// ```
/// let error = "CuXx".parse::<effloresce::Formula>().unwrap_err();
/// let span = error.span().unwrap();
/// assert_eq!(&"CuXx"[span.start..span.end], "Xx");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// Returns the span from `start` up to, not including, `end`.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Self {
        Span { start, end }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Span {
    /// Serializes the pair `[start, end]`.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        [self.start, self.end].serialize(serializer)
    }
}
