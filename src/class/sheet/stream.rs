//! A sheet row by row, without holding it.

use alloc::vec::Vec;
use core::fmt;
use std::io::Read;

use super::cell;
use super::columns::HeaderMapping;
use super::csv::{Records, Text};
use super::header::Header;
use super::layout::Layout;
use super::parse_row::parse_row;
use super::problem::Problem;
use super::remark::SheetRemark;
use super::row::Row;
use super::summary_row;
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{Detail, Note, is_space};

/// So many lines that repeat the header or sum up a class are told one by one.
const MOST_TOLD: u64 = 1000;

/// The rows of a class sheet, read one after the other from a source of any length.
///
/// A row says here what it says in a [`Sheet`](super::Sheet), with the same problems. What it takes
/// the whole sheet to know is not known here: which row has the readings that several pupils of a
/// bench share, so that a row without readings is no problem; and the readability of a balance,
/// which is the finest last place of all its readings.
///
/// There is no end to how many rows or bytes are read, for nothing is kept of them: the source is
/// read a little ahead (up to 1 MiB, in which the header must stand), and no row may be longer than
/// that. The encoding is told by that first part, or, where it is plain ASCII, by the first
/// characters that are not.
///
/// ```
/// use effloresce::{AtomicWeights, class::Sheet, gravimetry::MoleRatio};
/// let source: &[u8] = b"\
/// bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g
/// Heron,21.352,24.018,22.656,22.655
/// Wren,20.114,22.987,21.5x8,21.560
/// ";
/// let magnesium_sulfate = MoleRatio::new(&"MgSO4".parse()?, &AtomicWeights::default())?;
/// let mut rows = Sheet::stream(source)?;
/// let (mut ratios, mut problems) = (0, 0);
/// while let Some((row, wrong)) = rows.next_row()? {
///     problems += wrong.len();
///     let heated = row.heated().last();
///     if let (Some(c), Some(b), Some(a)) = (row.crucible(), row.crucible_hydrate(), heated) {
///         ratios += usize::from(magnesium_sulfate.of_weighings(&c, &b, a).is_ok());
///     }
/// }
/// assert_eq!((ratios, problems), (2, 1));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub struct Rows<R> {
    records: Records<R>,
    mapping: HeaderMapping,
    layout: Layout,
    reported: Vec<Quantity>,
    notes: Vec<Note>,
    told: u64,
    row: Row,
    problems: Vec<Problem>,
}

/// What a row is a row of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RowKind {
    Bench,
    /// The class as a whole, worked out by the spreadsheet.
    Summary,
}

impl<R: Read> Rows<R> {
    pub(super) fn begin(
        text: Text<R>,
        mapping: HeaderMapping,
        mut notes: Vec<Note>,
    ) -> Result<Rows<R>, Error> {
        if text.ended() && text.window().chars().all(is_space) {
            return Err(Error::new(
                ErrorKind::Empty,
                Detail::new("the sheet is empty").help("give a header and at least one row"),
            ));
        }
        let header = Header::find(text.window(), !text.ended(), &mapping, &mut notes)?;
        let columns = header.cells.len();
        Ok(Rows {
            records: Records::new(text, header.end, header.separator, columns),
            mapping,
            row: Row::blank(),
            reported: header.reported().collect(),
            layout: Layout::new(header),
            notes,
            told: 0,
            problems: Vec::new(),
        })
    }

    /// The next row and what is wrong with its cells; `None` at the end of the sheet. Blank lines,
    /// repeated headers and lines that sum up the class are passed over; the latter two are
    /// [noted](Rows::notes).
    ///
    /// The row is lent until the next one is asked for: clone what should be kept.
    ///
    /// # Errors
    /// Where the source fails, where its bytes are no text, where a second header with other
    /// columns follows, where quotation marks are opened and not closed in many rows, and where a
    /// row is longer than 1 MiB. A bad cell is no error.
    pub fn next_row(&mut self) -> Result<Option<(&Row, &[Problem])>, Error> {
        while let Some(kind) = self.advance()? {
            if kind == RowKind::Bench {
                return Ok(Some((&self.row, &self.problems)));
            }
        }
        Ok(None)
    }

    /// Reads on to the next row.
    pub(super) fn advance(&mut self) -> Result<Option<RowKind>, Error> {
        while self.records.next(&mut self.notes)? {
            let record = self.records.record();
            let mut cells = record.cells.iter();
            if cells.all(|cell| cell::present(cell).is_none()) {
                continue;
            }
            self.problems.clear();
            parse_row(&self.layout, &record, &mut self.row, &mut self.problems);
            // A header has no numbers.
            let numbers = self.row.masses().next().is_some();
            let header = &self.layout.header;
            if !numbers && header.is_repeated_by(record.line, record.cells, &self.mapping)? {
                let remark = SheetRemark::HeaderRepeated { line: record.line };
                tell(&mut self.notes, &mut self.told, remark.into());
                continue;
            }
            self.layout.note_cells(record.cells);
            let Some(note) = summary_row::note(&self.row) else {
                return Ok(Some(RowKind::Bench));
            };
            tell(&mut self.notes, &mut self.told, note);
            return Ok(Some(RowKind::Summary));
        }
        Ok(None)
    }

    /// The row that was read last.
    pub(super) fn row(&self) -> &Row {
        &self.row
    }

    /// The problems of the row that was read last.
    pub(super) fn problems(&mut self) -> &mut Vec<Problem> {
        &mut self.problems
    }

    /// What is known at the end of the sheet.
    pub(super) fn end(self) -> (Header, Vec<Note>) {
        (self.layout.header, self.notes)
    }

    /// What was decided in reading so far and costs nobody anything, as [`Sheet::notes`]:
    /// `encoding`, `title_line`, `mapping_unused`, and the first thousand of `header_repeated` and
    /// `summary_row`.
    ///
    /// [`Sheet::notes`]: super::Sheet::notes
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// The headers without a meaning here, in order; `column` and its number for a column that has
    /// no header and has had a cell so far.
    pub fn extra_columns(&self) -> impl Iterator<Item = &str> {
        self.layout.extra_columns()
    }

    /// The quantities that the sheet has a `reported_…` column for, in the order of
    /// [`Quantity::ALL`].
    #[must_use]
    pub fn reported_columns(&self) -> &[Quantity] {
        &self.reported
    }
}

impl<R> fmt::Debug for Rows<R> {
    /// The row that was read last, and what was decided.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Rows")
            .field("row", &self.row)
            .field("problems", &self.problems)
            .field("notes", &self.notes)
            .finish_non_exhaustive()
    }
}

/// Notes that a source without end may give cause to without end are not all kept.
fn tell(notes: &mut Vec<Note>, told: &mut u64, note: Note) {
    if *told < MOST_TOLD {
        *told += 1;
        notes.push(note);
    }
}
