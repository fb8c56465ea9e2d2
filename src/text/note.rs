//! A remark that can be worded in any language.

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;

use super::visible::into_visible;

/// A warning, a reason or a remark: a stable code, its values, and English text.
///
/// Programs should use the code and the values, because the text may be reworded in any release.
///
/// ```
/// use effloresce::Note;
/// let note = Note::new("number_not_text", "`heated` is a number, not text.").with("fields", "heated");
/// assert_eq!(note.code(), "number_not_text");
/// assert_eq!(note.values().next(), Some(("fields", "heated")));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Note {
    code: &'static str,
    values: Vec<(&'static str, String)>,
    text: Cow<'static, str>,
}

impl Note {
    /// Creates a note of a program's own, from a stable code in `snake_case` and English sentences.
    #[must_use]
    pub fn new(code: &'static str, text: impl Into<Cow<'static, str>>) -> Self {
        Note {
            code,
            values: Vec::new(),
            text: into_visible(text.into()),
        }
    }

    /// Adds a value that the text speaks of.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.values.push((name, value.into()));
        self
    }

    /// Returns the stable code, in `snake_case`.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.code
    }

    /// Returns the values in the text, by name.
    pub fn values(&self) -> impl Iterator<Item = (&'static str, &str)> {
        self.values
            .iter()
            .map(|(name, value)| (*name, value.as_str()))
    }

    /// Returns one or more English sentences.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl core::fmt::Display for Note {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(&self.text)
    }
}

/// The values of a note by name.
#[cfg(feature = "serde")]
struct NoteValues<'a>(&'a Note);

#[cfg(feature = "serde")]
impl serde::Serialize for NoteValues<'_> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.values())
    }
}

#[cfg(feature = "serde")]
super::serde::fields!(Note, note, {
    "code": note.code(),
    "values": NoteValues(note),
    "text": note.text(),
});
