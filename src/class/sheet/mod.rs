//! A class sheet: what a teacher collected, as CSV.

mod build;
mod cell;
mod decode;
mod entry;
mod header;
mod layout;
mod link;
mod read_row;
mod records;
mod row;
mod rows;
mod slate;
mod summary;
#[cfg(test)]
mod tests;

use alloc::string::String;
use alloc::vec::Vec;
use std::io::Read;

pub use entry::Entry;
pub use row::{Problem, Reported, ReportedValue, Row};
pub use rows::Rows;

use super::Error;
use crate::gravimetry::Quantity;
use crate::number::Ratio;
use crate::text::Note;
use decode::Text;
use header::Mapping;
use link::Balance;

/// A class sheet: the rows that benches and pupils filled in, and the cells that could not be read.
///
/// The sheet is CSV with a header. Needed columns are `bench` and either `crucible_g` and
/// `crucible_hydrate_g`, with `heated_1_g`, `heated_2_g` and so on, or `hydrate_g` and `residue_g`.
/// Known as well are `pupil`, `balance`, `period`, `issued`, `readability_g`, `stand_in` (`yes`
/// where nobody weighed the readings), `notes`, and what was reported: `reported_hydrate_g`,
/// `reported_residue_g`, `reported_water_g`, `reported_percent_water`, `reported_mol_salt`,
/// `reported_mol_water`, `reported_ratio` (`6.99` or `1 : 6.99`) and `reported_formula`. Their order, their case, and blanks or hyphens in place of
/// underscores do not matter. Any other column is kept with its row and noted.
///
/// Cells are separated by commas, semicolons or tabs; where not by commas, a comma is a decimal
/// mark too. The text is UTF-8, UTF-16 with or without a byte-order mark, or else Windows-1252.
/// Titles above the header, blank lines, a cell's own unit, powers of ten, and dashes or `n/a` for
/// missing values do no harm. A line below the class whose bench is `Mean`, `Class median` or the
/// like is no bench.
///
/// ```
/// use effloresce::class::Sheet;
/// let text = "\
/// Bench;Crucible g;Crucible hydrate g;Heated 1 g;Heated 2 g;Heated 3 g;Reported ratio
/// Heron;21,352;24,018;22,701;22,656;22,655;1 : 6,99
/// Wren;20,114;22,987;21,560;21,5x8;;7
/// ";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let heron = &sheet.rows()[0];
/// assert_eq!(heron.crucible().unwrap().to_string(), "21.352");
/// assert_eq!(heron.heated().len(), 3);
/// assert_eq!(sheet.readability(heron).unwrap().to_string(), "0.001");
/// let problem = &sheet.problems()[0];
/// assert_eq!((problem.line(), problem.bench(), problem.cell()), (3, "Wren", "21,5x8"));
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    rows: Vec<Row>,
    summary_rows: Vec<Row>,
    problems: Vec<Problem>,
    notes: Vec<Note>,
    extra_columns: Vec<String>,
    reported_columns: Vec<Quantity>,
    balances: Vec<Balance>,
}

impl Sheet {
    /// Reads a sheet whose columns have the names above.
    ///
    /// # Errors
    /// Where there is no sheet to speak of: nothing can be read, no header is found, a needed
    /// column is missing or stands twice, or it has more than 16 MiB, 1000 columns or 100,000 rows.
    /// A bad cell is no error: see [`problems`](Sheet::problems).
    ///
    /// ```
    /// use effloresce::class::{ErrorKind, Sheet};
    /// let error = Sheet::read("Monday's lesson\n".as_bytes()).unwrap_err();
    /// assert_eq!(error.kind(), ErrorKind::NoHeader);
    /// ```
    pub fn read(reader: impl Read) -> Result<Sheet, Error> {
        SheetReader::default().read(reader)
    }

    /// Reads a sheet whose columns have the names above row by row, without holding it: for files
    /// of any length. See [`Rows`] for what differs.
    ///
    /// # Errors
    /// As [`read`](Sheet::read), as far as the header; no number of rows or bytes is too large.
    pub fn stream<R: Read>(reader: R) -> Result<Rows<R>, Error> {
        SheetReader::default().stream(reader)
    }

    /// A reader for a sheet with headers of its own.
    #[must_use]
    pub fn reader() -> SheetReader {
        SheetReader::default()
    }

    /// The rows in the order of the file, blank ones left out.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The lines that sum up the class (`Mean`, `Class median`, `Total` for a bench), which a
    /// spreadsheet worked out. They are none of the [rows](Sheet::rows): no bench, no readings, no
    /// marks; and nothing that is wrong in them is a problem.
    #[must_use]
    pub fn summary_rows(&self) -> &[Row] {
        &self.summary_rows
    }

    /// What could not be taken as it stands, in the order of the file.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// What was decided in reading and costs nobody anything: `encoding`, `title_line`,
    /// `extra_column`, `mapping_unused`, `header_repeated`, `summary_row`, `bench_repeated`,
    /// `coarser_reading`, `lone_finer_reading`, `too_many_places`. More may be added.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// The headers without a meaning here, in order; `column` and its number for a column that has
    /// cells and no header.
    #[must_use]
    pub fn extra_columns(&self) -> &[String] {
        &self.extra_columns
    }

    /// The quantities that the sheet has a `reported_…` column for, in the order of
    /// [`Quantity::ALL`].
    #[must_use]
    pub fn reported_columns(&self) -> &[Quantity] {
        &self.reported_columns
    }

    /// The row whose readings count for `row`, a row of this sheet: itself, or where several
    /// pupils hand in from one bench, the one that has the bench's readings.
    ///
    /// A row without readings takes those of the nearest row of its bench above it, else of the
    /// first below it. A row that repeats the readings of an earlier one shares that one, so that
    /// each run has one row; a row of which a heating cannot be read shares the row that has the
    /// whole run, above it or below. Benches of different periods are different. `None` where the readings
    /// stand nowhere, which is a problem of the sheet.
    ///
    /// ```
    /// use effloresce::class::Sheet;
    /// let text = "bench,pupil,hydrate_g,residue_g\nHeron,a,2.666,1.303\nHeron,b,,\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let shared = sheet.readings_of(&sheet.rows()[1]).unwrap();
    /// assert_eq!(shared.pupil(), Some("a"));
    /// # Ok::<(), effloresce::class::Error>(())
    /// ```
    #[must_use]
    pub fn readings_of(&self, row: &Row) -> Option<&Row> {
        row.readings_row.and_then(|index| self.rows.get(index))
    }

    /// The readability, in grams, of the balance that `row`, a row of this sheet, was weighed on.
    ///
    /// This is what the row itself gives in `readability_g`, else what the row with its readings
    /// gives, else the finest last place of all weighings and net masses on that balance: a
    /// spreadsheet drops final zeros, but not from every cell. Without a column `balance` the sheet
    /// has one balance.
    #[must_use]
    pub fn readability(&self, row: &Row) -> Option<Ratio> {
        let holder = self.readings_of(row).unwrap_or(row);
        // A percentage was not read off a balance.
        if holder.percent_water.is_some() {
            return None;
        }
        match row.readability.or(holder.readability) {
            Some(own) => Some(own.value()),
            None => self.balances.get(holder.balance_index)?.readability(),
        }
    }
}

/// How to read a sheet: which of its own headers mean which column.
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
    /// Takes the column headed `theirs` as the column `ours`, which is one of those that [`Sheet`]
    /// names. Both are compared as headers are. A header that the sheet does not have is noted.
    #[must_use]
    pub fn map_column(mut self, theirs: impl Into<String>, ours: impl Into<String>) -> Self {
        self.mapping.push((theirs.into(), ours.into()));
        self
    }

    /// Reads the sheet.
    ///
    /// # Errors
    /// As [`Sheet::read`], and [`ErrorKind::BadMapping`](crate::class::ErrorKind::BadMapping) where a header is mapped to a column that
    /// does not exist, or to two.
    pub fn read(&self, reader: impl Read) -> Result<Sheet, Error> {
        let mapping = Mapping::new(&self.mapping)?;
        let mut notes = Vec::new();
        let text = Text::whole(reader, &mut notes)?;
        build::sheet(Rows::begin(text, mapping, notes)?)
    }

    /// Reads the sheet row by row, without holding it. See [`Rows`] for what differs.
    ///
    /// # Errors
    /// Where no header is found in the first MiB, or the header is not one that
    /// [`read`](SheetReader::read) takes.
    pub fn stream<R: Read>(&self, reader: R) -> Result<Rows<R>, Error> {
        let mapping = Mapping::new(&self.mapping)?;
        let mut notes = Vec::new();
        let text = Text::first(reader, &mut notes)?;
        Rows::begin(text, mapping, notes)
    }
}
