//! The misreading that explains a bench's readings best.

use alloc::format;
use alloc::string::String;

use super::other_readings::MisreadingKind;
use crate::number::Reading;

/// A weighing that was probably written down wrongly: as it was written, and as it most likely was.
#[derive(Debug, Clone, PartialEq)]
pub struct ProbableMisreading {
    pub(super) path: String,
    pub(super) words: String,
    pub(super) written: Reading,
    pub(super) meant: Reading,
    pub(super) kind: MisreadingKind,
    pub(super) probability: f64,
    /// The name of the weighing that it was exchanged with.
    pub(super) other: Option<String>,
}

impl ProbableMisreading {
    /// Returns the name of the weighing as a request spells it, such as `crucible` or `heated[0]`.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// Returns the name of the weighing for people, such as "the empty container".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.words
    }

    /// Returns the reading as it was written, in grams.
    #[must_use]
    pub fn written(&self) -> &Reading {
        &self.written
    }

    /// Returns the reading as it most likely was, in grams.
    #[must_use]
    pub fn meant(&self) -> &Reading {
        &self.meant
    }

    /// Returns what happened.
    #[must_use]
    pub fn kind(&self) -> MisreadingKind {
        self.kind
    }

    /// Returns the probability of this misreading, if a weighing was misread at all.
    #[must_use]
    pub fn probability(&self) -> f64 {
        self.probability
    }

    /// Returns an English sentence, such as "The empty container (21.352 g) may have been 21.325 g, with two
    /// digits exchanged."
    #[must_use]
    pub fn sentence(&self) -> String {
        let ProbableMisreading {
            words,
            written,
            meant,
            ..
        } = self;
        let what = match (self.kind, &self.other) {
            (MisreadingKind::ReadingsSwapped, Some(other)) => {
                return crate::text::sentence(&format!(
                    "{words} ({written}\u{a0}g) and {other} ({meant}\u{a0}g) may have been exchanged"
                ));
            }
            (MisreadingKind::DigitsExchanged, _) => "two neighbouring digits are exchanged",
            _ => "one digit differs",
        };
        crate::text::sentence(&format!(
            "{words} ({written}\u{a0}g) may have been {meant}\u{a0}g: {what}"
        ))
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(ProbableMisreading, it, {
    "reading": it.path(),
    "written": it.written(),
    "meant": it.meant(),
    "kind": it.kind().code(),
    "probability": it.probability(),
});
