//! A sheet read from a file, whole or row by row.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::mem;
use std::io::Read;

use super::class_sheet::Sheet;
use super::columns::{HeaderMapping, SheetColumn};
use super::csv::TextSource;
use super::csv_style::CsvStyle;
use super::header::Header;
use super::limits::{MOST_LINE_NOTES, MOST_NAMED, MOST_ROWS};
use super::problem::Problem;
use super::remark::SheetRemark;
use super::row::Row;
use super::stream::{RowKind, RowStream};
use super::suggestions::suggestions;
use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note};

const MOST_PROBLEMS: usize = 100_000;
/// The fewest rows that memory is made for at a time.
const FEWEST_TO_COME: usize = 32;

/// A reader for sheets whose headers are not the usual ones.
///
/// ```
/// use effloresce::class::Sheet;
/// let text = "Platz;Einwaage;Rückstand\nReiher;2,666 g;1303 mg\n";
/// let sheet = Sheet::reader()
///     .map_column("Platz", "bench")
///     .map_column("Einwaage", "hydrate_g")
///     .map_column("Rückstand", "residue_g")
///     .read(text.as_bytes())?;
/// assert_eq!(sheet.rows()[0].residue_mass().unwrap().to_string(), "1.303");
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SheetReader {
    mapping: Vec<(String, String)>,
}

impl SheetReader {
    /// Reads the column with the header `theirs` as the column `ours`, which is one of those that
    /// [`Sheet`] names. Case and blanks do not matter. A header that the sheet does not have is
    /// noted.
    #[must_use]
    pub fn map_column(mut self, theirs: impl Into<String>, ours: impl Into<String>) -> Self {
        self.mapping.push((theirs.into(), ours.into()));
        self
    }

    /// Reads the sheet.
    ///
    /// # Errors
    /// Returns the errors of [`Sheet::read`], and [`ErrorKind::BadMapping`] if a header is mapped
    /// to a column that does not exist, or to two.
    pub fn read(&self, reader: impl Read) -> Result<Sheet, Error> {
        let mapping = HeaderMapping::new(&self.mapping)?;
        let mut notes = Vec::new();
        let text = TextSource::read_whole(reader, &mut notes)?;
        collect(RowStream::begin(text, mapping, notes)?)
    }

    /// Reads the sheet row by row, without holding it. See [`RowStream`] for what differs.
    ///
    /// # Errors
    /// Returns an error if the first MiB has no header, or if [`read`](SheetReader::read) would not
    /// accept the header.
    pub fn stream<R: Read>(&self, reader: R) -> Result<RowStream<R>, Error> {
        let mapping = HeaderMapping::new(&self.mapping)?;
        let mut notes = Vec::new();
        let text = TextSource::read_start(reader, &mut notes)?;
        RowStream::begin(text, mapping, notes)
    }
}

impl Sheet {
    /// Reads a sheet whose columns have the usual names.
    ///
    /// # Errors
    /// Returns an error if nothing can be read, if no header is found, or if a needed column is
    /// missing or appears twice. A sheet has at most 16 MiB ([`MOST_BYTES`](Sheet::MOST_BYTES)), 1000
    /// columns ([`MOST_COLUMNS`](Sheet::MOST_COLUMNS)) and 100,000 rows
    /// ([`MOST_ROWS`](Sheet::MOST_ROWS)). A bad cell is not an error: see
    /// [`problems`](Sheet::problems). Nor is one that is longer than
    /// [`LONGEST_CELL`](Sheet::LONGEST_CELL).
    ///
    /// ```
    /// use effloresce::class::{ErrorKind, Sheet};
    /// let error = Sheet::read("Monday's lesson\n".as_bytes()).unwrap_err();
    /// assert_eq!(error.kind(), ErrorKind::NoHeader);
    /// ```
    pub fn read(reader: impl Read) -> Result<Sheet, Error> {
        SheetReader::default().read(reader)
    }

    /// Reads a sheet whose columns have the usual names row by row, without holding it: for files
    /// of any length. See [`RowStream`] for what differs.
    ///
    /// # Errors
    /// Returns the errors of [`read`](Sheet::read) up to the header. No file is too large.
    pub fn stream<R: Read>(reader: R) -> Result<RowStream<R>, Error> {
        SheetReader::default().stream(reader)
    }

    /// Returns a reader for a sheet with headers of its own.
    #[must_use]
    pub fn reader() -> SheetReader {
        SheetReader::default()
    }
}

/// Makes a sheet of all these rows.
fn collect<R: Read>(mut source: RowStream<R>) -> Result<Sheet, Error> {
    let (mut rows, mut summary_rows) = (Vec::new(), Vec::new());
    let (mut problems, mut summary_problems) = (Vec::<Problem>::new(), Vec::<Problem>::new());
    while let Some(kind) = source.advance()? {
        let count = rows.len() + summary_rows.len();
        let problem_count = problems.len() + summary_problems.len();
        if count >= MOST_ROWS || problem_count >= MOST_PROBLEMS {
            return Err(too_many(source.row.line));
        }
        match kind {
            RowKind::Summary => {
                summary_rows.push(source.row.clone());
                summary_problems.append(&mut source.problems);
            }
            RowKind::Bench => {
                if rows.len() == rows.capacity() {
                    rows.reserve_exact(rows_to_come(rows.len(), source.parts()));
                }
                rows.push(source.row.clone());
                problems.append(&mut source.problems);
            }
        }
    }
    let moved = take_shared(&mut summary_rows, &mut source);
    if !moved.is_empty() {
        let is_moved = |line| {
            moved
                .binary_search_by_key(&line, |row: &Row| row.line)
                .is_ok()
        };
        summary_problems.retain(|problem| is_moved(problem.line()));
        problems.append(&mut summary_problems);
        rows.extend(moved);
        rows.sort_by_key(|row| row.line);
    }
    let reported_columns = source.reported_columns().collect();
    let extra_columns: Vec<String> = source.extra_columns().map(String::from).collect();
    let style = CsvStyle {
        separator: source.layout.header.separator,
        decimal_comma: source.decimal_comma,
    };
    let (header, mut notes) = (source.layout.header, source.notes);
    notes.extend(extra_column_notes(&extra_columns));
    notes.extend(suggestion_notes(&header, &extra_columns));
    let wanted = [SheetColumn::Crucible, SheetColumn::Hydrate];
    let column = wanted.into_iter().find(|c| header.indices.contains_key(c));
    let readings_column = header.title(column.unwrap_or(SheetColumn::Bench));
    Ok(Sheet {
        summary_rows,
        extra_columns,
        style,
        titles: header.titles(),
        ..Sheet::of_rows(rows, problems, notes, reported_columns, &readings_column)
    })
}

/// Takes from the summary rows those of pupils who share the readings of a bench called `Mean`. Only rows
/// below them showed that it is one.
fn take_shared<R>(summary_rows: &mut Vec<Row>, source: &mut RowStream<R>) -> Vec<Row> {
    let rows = mem::take(summary_rows).into_iter();
    let (shared, others): (Vec<Row>, Vec<Row>) = rows.partition(|row| source.sums.is_shared(row));
    *summary_rows = others;
    for row in shared.iter().take(MOST_LINE_NOTES) {
        let remark = SheetRemark::SummaryRow(row.line, row.bench()).into();
        source.notes.retain(|note| *note != remark);
    }
    shared
}

/// Returns a note for each column without a meaning, or one for all if there are many.
fn extra_column_notes(columns: &[String]) -> Vec<Note> {
    match columns.get(..MOST_NAMED) {
        Some(first) if columns.len() > MOST_NAMED => {
            Vec::from([SheetRemark::ExtraColumns(first, columns.len()).into()])
        }
        _ => {
            let notes = columns.iter();
            notes
                .map(|column| SheetRemark::ExtraColumn(column).into())
                .collect()
        }
    }
}

/// Returns a note for each column without a meaning that may have one.
fn suggestion_notes(header: &Header, columns: &[String]) -> Vec<Note> {
    let known = header.indices.keys().copied();
    let suggested = suggestions(columns.iter().map(String::as_str), known);
    let notes = suggested
        .iter()
        .map(|it| SheetRemark::ColumnSuggested(&it.header, it.column.name(), it.option()).into());
    notes.collect()
}

/// Estimates how many more rows there are, if they are as long as those in the part of the text that was
/// read. Memory that doubles would hold all rows twice when it grows.
fn rows_to_come(rows: usize, [read, all]: [usize; 2]) -> usize {
    let left = all.saturating_sub(read);
    let to_come = left / (read / (rows + 1)).max(1);
    to_come.clamp(FEWEST_TO_COME, MOST_ROWS)
}

fn too_many(line: u64) -> Error {
    Error::new(
        ErrorKind::TooLarge,
        Detail::new(format!(
            "the sheet has more than {MOST_ROWS} rows or {MOST_PROBLEMS} problems, from line {line} on"
        ))
        .help("give one file for each class, and check that this is a class sheet"),
    )
}
