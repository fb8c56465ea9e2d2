//! A value of a result, found by its JSON Pointer.

use alloc::string::String;
use alloc::vec::Vec;

use crate::number::Ratio;

/// A value of the result of a request.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Solved {
    /// An exact number.
    Number(Ratio),
    /// A text, such as a formula.
    Text(String),
}

/// A JSON Pointer (RFC 6901), as the members and indices that it goes along.
pub(super) struct Pointer<'p>(Vec<&'p str>);

impl<'p> Pointer<'p> {
    /// `None` if the text does not begin with a slash. No name in a result holds `~` or `/`.
    pub(super) fn new(text: &'p str) -> Option<Pointer<'p>> {
        Some(Pointer(text.strip_prefix('/')?.split('/').collect()))
    }

    pub(super) fn steps(&self) -> &[&'p str] {
        &self.0
    }

    pub(super) fn index(step: &str) -> Option<usize> {
        step.parse().ok()
    }
}
