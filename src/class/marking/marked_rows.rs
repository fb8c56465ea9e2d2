//! A sheet marked row by row, or whole.

use alloc::vec::Vec;
use core::fmt;

use super::bench_key::BenchKeys;
use super::marked::Marked;
use super::marked_row::MarkedRow;
use super::marker::Marker;
use super::sheet_row::SheetRow;
use crate::class::stats::{ClassBench, Overview};
use crate::class::{Problem, Sheet};
use crate::number::Ratio;
use crate::text::Note;

/// The rows of a sheet, each marked when it is asked for, and none of them kept.
///
/// A marked row is large, because it holds how everything was worked out: some 10 kB, against 1 kB of
/// the row in the [`Sheet`]. [`Marker::mark`] keeps them all. Here one is held at a time, so that
/// a sheet of 100,000 rows needs no more memory than the sheet itself and little more.
///
/// With the feature `serde` the rows serialise as [`Marked`] does, the class included: each is marked as
/// it is written.
///
/// ```
/// use effloresce::class::{Marker, Marks, Sheet};
/// use effloresce::gravimetry::Method;
/// let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,6.99\nWren,2.701,1.319,7\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marker = Marker::new("MgSO4·7H2O".parse()?, Method::new());
/// let mut rows = marker.mark_rows(&sheet);
/// let marks: Marks = rows.by_ref().filter_map(|row| row.total()).sum();
/// assert_eq!(marks, 2);
/// let class = rows.finish();
/// assert_eq!(class.pooled().n(), 2);
/// assert!(class.rows().is_empty());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Clone)]
pub struct MarkedRows<'a> {
    marker: &'a Marker,
    sheet: &'a Sheet,
    keys: BenchKeys<'a>,
    stock: Option<Ratio>,
    /// The index of the next row.
    next: usize,
    benches: Vec<ClassBench>,
    problems: Vec<Problem>,
    notes: Vec<Note>,
}

impl Marker {
    /// Marks a sheet. What cannot be worked out is a problem of its row, and everything else is marked.
    ///
    /// All marked rows are kept, at some 10 kB each. For sheets of any size see
    /// [`mark_rows`](Marker::mark_rows).
    #[must_use]
    pub fn mark(&self, sheet: &Sheet) -> Marked {
        let mut rows = self.mark_rows(sheet);
        let marked = rows.by_ref().collect();
        Marked {
            rows: marked,
            ..rows.finish()
        }
    }

    /// Marks a sheet row by row, without keeping the marked rows.
    #[must_use]
    pub fn mark_rows<'a>(&'a self, sheet: &'a Sheet) -> MarkedRows<'a> {
        let (stock, note) = self.stock_ratio();
        MarkedRows {
            marker: self,
            sheet,
            keys: BenchKeys::new(
                sheet,
                &self.method,
                &self.issued,
                stock.as_ref(),
                self.policy.fault_priors(),
            ),
            stock,
            next: 0,
            benches: Vec::new(),
            problems: sheet.problems().to_vec(),
            notes: sheet.notes().iter().cloned().chain(note).collect(),
        }
    }
}

impl Iterator for MarkedRows<'_> {
    type Item = MarkedRow;

    fn next(&mut self) -> Option<MarkedRow> {
        let (index, sheet) = (self.next, self.sheet);
        let row = sheet.rows().get(index)?;
        self.next += 1;
        let sheet_row = SheetRow {
            row,
            holder: sheet.readings_of(index),
            stand_in: sheet.stand_in(index),
        };
        let (keys, problems) = (&mut self.keys, &mut self.problems);
        let (stock, before) = (self.stock.as_ref(), problems.len());
        let marked = self.marker.row(index, &sheet_row, keys, stock, problems);
        let own = problems.iter_mut().skip(before);
        own.for_each(|problem| sheet.entitle(problem));
        self.benches
            .extend(marked.class_bench(&self.marker.issued, row.balance()));
        Some(marked)
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        let left = self.sheet.rows().len().saturating_sub(self.next);
        (left, Some(left))
    }
}

impl ExactSizeIterator for MarkedRows<'_> {}

impl MarkedRows<'_> {
    /// Adds the notes from reading the issued formula's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// Marks the rows that are left, and returns what all rows show together: pools, outliers,
    /// scatter, problems and notes. The class that is returned has no rows.
    #[must_use]
    pub fn finish(mut self) -> Marked {
        self.by_ref().for_each(drop);
        self.problems.sort_by_key(Problem::line);
        let method = &self.marker.method;
        let mut marked = Marked {
            issued: self.marker.issued.clone(),
            method: method.clone(),
            rows: Vec::new(),
            overview: Overview::of(
                &self.marker.issued,
                self.benches,
                method.own_repeatability(),
            ),
            problems: self.problems,
            notes: self.notes,
            style: self.sheet.style(),
            invented: self.sheet.is_invented(),
            step: self.marker.policy.mark_step(),
        };
        marked.notes.splice(0..0, marked.invented_note());
        marked
    }
}

impl fmt::Debug for MarkedRows<'_> {
    /// Writes how many rows are marked, and what is wrong so far.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("MarkedRows")
            .field("marked", &self.next)
            .field("left", &self.len())
            .field("problems", &self.problems)
            .finish_non_exhaustive()
    }
}
