//! What is wrong with a cell or a row.

use alloc::string::String;
use core::fmt;

use super::row::Row;

/// A cell or a row that could not be taken as it stands.
///
/// ```
/// use effloresce::class::Sheet;
/// let text = "bench;hydrate_g;residue_g\nHeron;2,666;1,3o3\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// assert_eq!(
///     sheet.problems()[0].to_string(),
///     "line 2, column residue_g, bench Heron: `1,3o3` is not a number: `o` has no place in it; \
///      write digits with one decimal mark, such as 2,50",
/// );
/// # Ok::<(), effloresce::class::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Problem {
    pub(super) line: u64,
    pub(super) column: String,
    pub(super) bench: String,
    pub(super) cell: String,
    pub(super) code: &'static str,
    pub(super) message: String,
}

impl Problem {
    /// What the marker finds wrong with the readings of a row.
    pub(in crate::class) fn of_row(
        row: &Row,
        column: &str,
        code: &'static str,
        message: String,
    ) -> Self {
        Problem {
            line: row.line,
            column: column.into(),
            bench: row.bench.clone(),
            cell: String::new(),
            code,
            message,
        }
    }

    /// The line of the file, counted from 1, on which the row starts.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    /// The header of the column as the file has it; `column` and its number where it has none.
    #[must_use]
    pub fn column(&self) -> &str {
        &self.column
    }

    /// The bench, as [`Row::bench`] names it.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.bench
    }

    /// The text of the cell, on one line and cut after some sixty characters.
    #[must_use]
    pub fn cell(&self) -> &str {
        &self.cell
    }

    /// The stable name of what is wrong: `bad_number`, `bad_unit`, `bad_ratio`, `ambiguous_ratio`,
    /// `negative_mass`,
    /// `bad_readability`, `missing_reading`, `no_readings`, `blank_bench`, `surplus_cell` or
    /// `open_quote`; from marking also `impossible_masses`, `not_heated`, `bad_issued` and
    /// `bad_formula`.
    /// More may be added.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.code
    }

    /// Whether the only thing wrong is that a weighing is not there yet, as long as the class is
    /// still heating.
    #[must_use]
    pub fn is_still_to_come(&self) -> bool {
        self.code == "not_heated"
    }

    /// What was found and what to do about it, in English.
    #[must_use]
    pub fn message(&self) -> &str {
        &self.message
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A column without a header is already called by its number.
        let column = if self.column.starts_with("column ") {
            ""
        } else {
            "column "
        };
        write!(
            f,
            "line {}, {column}{}, bench {}: {}",
            self.line, self.column, self.bench, self.message
        )
    }
}
