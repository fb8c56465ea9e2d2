//! A whole class sheet in memory.

use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use super::balances::Balances;
use super::csv_style::CsvStyle;
use super::issued::assumed_charges;
use super::limits;
use super::problem::{Problem, ProblemKind};
use super::row::Row;
use super::shared_readings::{SharedReadings, share};
use crate::gravimetry::Quantity;
use crate::number::Ratio;
use crate::text::Note;

/// A class sheet: the rows that benches and pupils filled in, and the cells that could not be read.
///
/// The sheet is CSV with a header. The needed columns are `bench` and either `crucible_g` and
/// `crucible_hydrate_g`, with `heated_1_g`, `heated_2_g` and so on, or `hydrate_g` and `residue_g`.
/// Known as well are `pupil`, `balance`, `period`, `issued`, `readability_g`, `stand_in` (`yes`
/// if nobody weighed the readings), `notes`, and what was reported: `reported_hydrate_g`,
/// `reported_residue_g`, `reported_water_g`, `reported_percent_water`, `reported_mol_salt`,
/// `reported_mol_water`, `reported_ratio` (`6.99` or `1 : 6.99`) and `reported_formula`. Their
/// order, their case, and blanks or hyphens in place of underscores do not matter. Any other column
/// is kept with its row and noted.
///
/// Cells are separated by commas, semicolons or tabs. If not by commas, a comma is a decimal mark
/// too. The text is UTF-8, UTF-16 with or without a byte-order mark, or otherwise Windows-1252.
/// Titles above the header, blank lines, a cell's own unit, powers of ten, a raised decimal point (`6·99`),
/// and dashes or `n/a` for missing values do no harm. In an answer, words such as `idk`, `none` or
/// `forgot` mean that it is missing. A line whose bench is `Mean`, `Class median` or the like is not a
/// bench. One that is called `Mean`, `Average` or `Total` is, if it has all readings of a bench, and
/// they are not the means or the sums of those above it.
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
/// assert_eq!(sheet.readability(0).unwrap().to_string(), "0.001");
/// let problem = &sheet.problems()[0];
/// assert_eq!((problem.line(), problem.bench(), problem.cell()), (3, "Wren", "21,5x8"));
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    pub(super) rows: Vec<Row>,
    pub(super) summary_rows: Vec<Row>,
    pub(super) problems: Vec<Problem>,
    pub(super) notes: Vec<Note>,
    pub(super) extra_columns: Vec<String>,
    pub(super) reported_columns: Vec<Quantity>,
    pub(super) shared: SharedReadings,
    pub(super) balances: Balances,
    pub(super) style: CsvStyle,
    pub(super) invented: bool,
    /// The headers of the file by the usual names of their columns.
    pub(super) titles: BTreeMap<String, String>,
}

impl Sheet {
    /// The largest sheet that [`read`](Sheet::read) accepts, in bytes: 16 MiB.
    pub const MOST_BYTES: usize = limits::MOST_BYTES;

    /// The largest number of columns that a sheet may have.
    pub const MOST_COLUMNS: usize = limits::MOST_COLUMNS;

    /// The largest number of rows that [`read`](Sheet::read) accepts.
    pub const MOST_ROWS: usize = limits::MOST_ROWS;

    /// The longest cell that is read, in bytes. A longer one in a column with a meaning is a problem of
    /// that cell: a value cannot be read, and a name is cut. Cells in columns of your own may be longer.
    ///
    /// ```
    /// use effloresce::class::Sheet;
    /// let long = "9".repeat(Sheet::LONGEST_CELL + 1);
    /// let text = format!("bench,hydrate_g,residue_g\nHeron,{long},1.303\n");
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// assert_eq!(sheet.problems()[0].code(), "cell_too_long");
    /// # Ok::<(), effloresce::class::Error>(())
    /// ```
    pub const LONGEST_CELL: usize = limits::LONGEST_CELL;

    /// Makes a sheet of rows, with what only all of them together show. A bench without readings is
    /// a problem of the column `readings_column`.
    pub(super) fn of_rows(
        rows: Vec<Row>,
        mut problems: Vec<Problem>,
        mut notes: Vec<Note>,
        reported_columns: Vec<Quantity>,
        readings_column: &str,
    ) -> Sheet {
        let (shared, without) = share(&rows, &mut notes);
        notes.extend(assumed_charges(rows.iter().filter_map(Row::issued)));
        let without = without.into_iter();
        problems.extend(without.map(|row| row.problem(readings_column, &ProblemKind::NoReadings)));
        // Stable: within a row the order of the columns stays.
        problems.sort_by_key(Problem::line);
        Sheet {
            balances: Balances::of(&rows, &shared, &mut notes),
            shared,
            rows,
            summary_rows: Vec::new(),
            problems,
            notes,
            extra_columns: Vec::new(),
            reported_columns,
            style: CsvStyle::default(),
            invented: false,
            titles: BTreeMap::new(),
        }
    }

    /// Gives a problem the header of its column as the file has it.
    pub(in crate::class) fn entitle(&self, problem: &mut Problem) {
        if let Some(title) = self.titles.get(problem.column()) {
            problem.set_column(title);
        }
    }

    /// Returns the rows in the order of the file, without the blank ones.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// Returns the lines that sum up the class (`Mean`, `Class median`, `Total` for a bench), which
    /// a spreadsheet worked out. They are not among the [rows](Sheet::rows) and earn no marks.
    /// Nothing that is wrong in them is a problem.
    #[must_use]
    pub fn summary_rows(&self) -> &[Row] {
        &self.summary_rows
    }

    /// Returns what is wrong with cells and rows, in the order of the file.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// Returns what was decided in reading and costs nobody anything: `encoding`, `title_line`,
    /// `extra_column`, `column_suggested`, `mapping_unused`, `header_repeated`, `summary_row`, `summary_name`, `bench_repeated`,
    /// `run_chosen`, `net_masses_unused`, `absent`, `coarser_balance`, `coarser_reading`, `lone_finer_reading`, `too_many_places`. More may be added.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the headers without a meaning here, in order: `column` and its number if a column
    /// has cells and no header.
    #[must_use]
    pub fn extra_columns(&self) -> &[String] {
        &self.extra_columns
    }

    /// Says that the class is invented, for instance for a demonstration. Everything that is made from it
    /// then says so: the strips, the gradebook, the changes of marks, and JSON.
    #[must_use]
    pub fn invented(mut self) -> Self {
        self.invented = true;
        self
    }

    /// Returns whether the class is invented.
    #[must_use]
    pub fn is_invented(&self) -> bool {
        self.invented
    }

    /// Returns how the sheet separates its cells and writes its decimals.
    pub(in crate::class) fn style(&self) -> CsvStyle {
        self.style
    }

    /// Returns the quantities that the sheet has a `reported_…` column for, in the order of
    /// [`Quantity::ALL`].
    #[must_use]
    pub fn reported_columns(&self) -> &[Quantity] {
        &self.reported_columns
    }

    /// Returns the row whose readings count for the row with this index among the
    /// [rows](Sheet::rows): itself, or the row of its bench that several pupils share.
    ///
    /// A row without readings takes those of the nearest row of its bench above it, or of the first
    /// below it. A row that repeats the readings of an earlier one shares that one, so that each
    /// run has one row. A row of which a heating cannot be read shares the row that has the whole
    /// run, above it or below. Benches of different periods are different. `None` if the bench has
    /// no readings, which is a problem of the sheet.
    ///
    /// ```
    /// use effloresce::class::Sheet;
    /// let text = "bench,pupil,hydrate_g,residue_g\nHeron,a,2.666,1.303\nHeron,b,,\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let shared = sheet.readings_of(1).unwrap();
    /// assert_eq!(shared.pupil(), Some("a"));
    /// # Ok::<(), effloresce::class::Error>(())
    /// ```
    #[must_use]
    pub fn readings_of(&self, row_index: usize) -> Option<&Row> {
        self.rows.get(self.shared.holder(row_index)?)
    }

    /// Returns whether the readings that count for the row with this index count for another row as
    /// well.
    pub(in crate::class) fn is_shared(&self, row_index: usize) -> bool {
        self.shared.is_shared(row_index)
    }

    /// Returns whether the readings that count for the row with this index are stand-in readings,
    /// made for somebody who was absent: the row says so, or another row with the same readings
    /// does.
    #[must_use]
    pub fn stand_in(&self, row_index: usize) -> bool {
        let row = self.rows.get(row_index);
        row.is_some_and(|row| self.shared.is_stand_in(row_index, row))
    }

    /// Returns the readability, in grams, of the balance that the row with this index was weighed
    /// on.
    ///
    /// The row itself may give it in `readability_g`, or the row with its readings. Otherwise it is
    /// the finest last place of all weighings and net masses on that balance: a spreadsheet drops
    /// final zeros, but not from every cell.
    ///
    /// If the sheet names no balance, it has one. A bench with three readings or more that all lack the
    /// last place has a coarser balance of its own, which is noted.
    #[must_use]
    pub fn readability(&self, row_index: usize) -> Option<Ratio> {
        let row = self.rows.get(row_index)?;
        let holder_index = self.shared.holder(row_index).unwrap_or(row_index);
        let holder = self.rows.get(holder_index)?;
        // A percentage was not read off a balance.
        if holder.readings.percent_water.is_some() {
            return None;
        }
        match row.readability.or(holder.readability) {
            Some(own) => Some(own.value()),
            None => self.balances.readability(holder_index),
        }
    }
}
