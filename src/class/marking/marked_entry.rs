//! One entry marked by itself.

use super::marked::Marked;
use super::marked_row::MarkedRow;
use super::marker::Marker;
use crate::class::{Entry, Problem, Sheet};
use crate::text::Note;

/// An entry of one bench or pupil, marked by itself.
///
/// ```
/// use effloresce::class::{Entry, Marker, Verdict};
/// use effloresce::gravimetry::{Method, Quantity, Weighings};
/// let weighings = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
/// let entry = Entry::new("Heron")
///     .weighings(weighings)
///     .reported(Quantity::PercentWater, "104.6");
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark_entry(entry);
/// let answer = &marked.row().unwrap().answers()[0];
/// assert_eq!(answer.verdict(), Verdict::Slip);
/// assert_eq!(answer.slips()[0].code(), "percent_of_residue");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedEntry {
    marked: Marked,
}

impl Marker {
    /// Marks one entry by itself. If it cannot be worked out, [`MarkedRow::error`] or the
    /// [`problems`](MarkedEntry::problems) say why.
    #[must_use]
    pub fn mark_entry(&self, entry: Entry) -> MarkedEntry {
        MarkedEntry {
            marked: self.mark(&Sheet::of([entry.with_name()])),
        }
    }
}

impl MarkedEntry {
    /// Adds the notes from reading the issued formula's text.
    #[must_use]
    pub fn with_notes(self, notes: impl IntoIterator<Item = Note>) -> Self {
        MarkedEntry {
            marked: self.marked.with_notes(notes),
        }
    }

    /// Returns the entry, worked out and marked.
    #[must_use]
    pub fn row(&self) -> Option<&MarkedRow> {
        self.marked.rows.first()
    }

    /// Returns what could not be read or worked out.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.marked.problems
    }

    /// Returns what was decided when the entry was read.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.marked.notes
    }
}
