//! A sheet row by row, without keeping the rows.

use alloc::vec::Vec;
use core::fmt;
use std::io::Read;

use super::cell;
use super::columns::HeaderMapping;
use super::csv::{Records, TextSource};
use super::header::Header;
use super::layout::Layout;
use super::limits::MOST_LINE_NOTES;
use super::parse_row::parse_row;
use super::problem::Problem;
use super::remark::SheetRemark;
use super::row::Row;
use super::summary_row::{ClassSums, summary_name};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{Detail, Note, is_space};

/// The rows of a class sheet, read one after the other from a source of any length.
///
/// A row is the same here as in a [`Sheet`](super::Sheet), with the same problems. Only the whole
/// sheet shows which row has the readings that several pupils of a bench share, so a row without
/// readings is not a problem here. Only the whole sheet shows the readability of a balance.
///
/// The number of rows and bytes has no limit, because none are kept. The source is read up to 1 MiB
/// ahead. The header must be in that first part, and no row may be longer. The first part also
/// shows the encoding. If it is plain ASCII, the first characters that are not show it.
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
pub struct RowStream<R> {
    records: Records<R>,
    mapping: HeaderMapping,
    pub(super) layout: Layout,
    pub(super) notes: Vec<Note>,
    /// How many of the notes are on single lines.
    line_notes: usize,
    /// The row that was read last, and what is wrong with it.
    pub(super) row: Row,
    pub(super) problems: Vec<Problem>,
    pub(super) sums: ClassSums,
    /// Whether a number so far has a decimal comma.
    pub(super) decimal_comma: bool,
}

/// Whether a row is a bench or sums up the class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RowKind {
    Bench,
    Summary,
}

impl<R: Read> RowStream<R> {
    pub(super) fn begin(
        text: TextSource<R>,
        mapping: HeaderMapping,
        mut notes: Vec<Note>,
    ) -> Result<RowStream<R>, Error> {
        if text.ended() && text.window().chars().all(is_space) {
            return Err(Error::new(
                ErrorKind::Empty,
                Detail::new("the sheet is empty").help("give a header and at least one row"),
            ));
        }
        let header = Header::find(text.window(), !text.ended(), &mapping, &mut notes)?;
        let columns = header.cells.len();
        Ok(RowStream {
            records: Records::new(text, header.end, header.separator, columns),
            mapping,
            row: Row::blank(),
            layout: Layout::new(header),
            notes,
            line_notes: 0,
            problems: Vec::new(),
            sums: ClassSums::default(),
            decimal_comma: false,
        })
    }

    /// Reads the next row, and returns it with what is wrong with its cells, or `None` at the end
    /// of the sheet. Blank lines are skipped. Repeated headers and lines that sum up the class are
    /// skipped and [noted](RowStream::notes).
    ///
    /// The row is lent until the next one is read: clone what should be kept.
    ///
    /// # Errors
    /// Returns an error if the source fails, its bytes are not text, a second header with other
    /// columns follows, or a row is longer than 1 MiB. Quotation marks that are not closed in many
    /// rows are an error too. A bad cell is not an error.
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
            let is_blank = |cell| cell::not_blank(cell).is_none();
            if record.cells.iter().all(is_blank) {
                continue;
            }
            parse_row(&self.layout, &record, &mut self.row, &mut self.problems);
            // A header has no numbers.
            let has_numbers = self.row.masses().next().is_some();
            let header = &self.layout.header;
            if !has_numbers && header.is_repeated_by(record.line, record.cells, &self.mapping)? {
                let remark = SheetRemark::HeaderRepeated(record.line);
                self.add_line_note(remark.into());
                continue;
            }
            self.decimal_comma =
                self.decimal_comma || (has_numbers && self.layout.has_comma(record.cells));
            self.layout.mark_used_columns(record.cells);
            let name = summary_name(&self.row).or_else(|| self.sums.name_below(&self.row));
            let Some(name) = name else {
                self.sums.add(&self.row);
                return Ok(Some(RowKind::Bench));
            };
            if self.sums.is_shared(&self.row) {
                return Ok(Some(RowKind::Bench));
            }
            let (remark, kind) = if self.sums.is_bench(&self.row) {
                self.sums.add(&self.row);
                (SheetRemark::SummaryName(record.line, name), RowKind::Bench)
            } else {
                self.sums.begin_group();
                (SheetRemark::SummaryRow(record.line, name), RowKind::Summary)
            };
            self.add_line_note(remark.into());
            return Ok(Some(kind));
        }
        Ok(None)
    }

    /// Returns how much of the text in memory was read, and how much there is.
    pub(super) fn parts(&self) -> [usize; 2] {
        self.records.parts()
    }

    /// Adds a note on one line. A source without end may give cause to any number of them.
    fn add_line_note(&mut self, note: Note) {
        if self.line_notes < MOST_LINE_NOTES {
            self.line_notes += 1;
            self.notes.push(note);
        }
    }

    /// Returns what was decided in reading so far and costs nobody anything, as [`Sheet::notes`]:
    /// `encoding`, `title_line`, `mapping_unused`, and the first thousand of `header_repeated`,
    /// `summary_row` and `summary_name`.
    ///
    /// [`Sheet::notes`]: super::Sheet::notes
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the headers without a meaning here, in order: `column` and its number if a column
    /// has no header and has had a cell so far.
    pub fn extra_columns(&self) -> impl Iterator<Item = &str> {
        self.layout.extra_columns()
    }

    /// Returns the quantities that the sheet has a `reported_…` column for, in the order of
    /// [`Quantity::ALL`].
    pub fn reported_columns(&self) -> impl Iterator<Item = Quantity> {
        self.layout.reported.iter().map(|(quantity, ..)| *quantity)
    }
}

impl<R> fmt::Debug for RowStream<R> {
    /// Writes the row that was read last, and what was decided.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("RowStream")
            .field("row", &self.row)
            .field("problems", &self.problems)
            .field("notes", &self.notes)
            .finish_non_exhaustive()
    }
}
