//! A formula is serialised as its canonical plain text.

use crate::formula::repr::Formula;

impl serde::Serialize for Formula {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.plain())
    }
}

impl<'de> serde::Deserialize<'de> for Formula {
    /// Reads the text strictly. To keep code and span of an error, read a `String` and parse it (see
    /// [serialised data](crate#serialised-data)).
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        crate::text::read_text(deserializer, "a formula as text", str::parse)
    }
}
