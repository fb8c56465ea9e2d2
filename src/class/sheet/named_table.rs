//! A table from CSV, with its columns by name.

use alloc::string::String;
use alloc::vec::Vec;
use std::io::Read;

use super::cell::not_blank;
use super::columns::normal;
use super::csv::{Records, TextSource, first_record, lines};
use super::csv_style::SEPARATORS;
use crate::class::Error;

/// The number of lines that are searched for the header.
const MOST_LINES: usize = 100;

/// The rows of a table. Separators, encodings and title lines are read as in a class sheet.
pub(crate) struct NamedTable {
    pub(crate) separator: u8,
    pub(crate) rows: Vec<NamedRow>,
}

/// The cells of a row, in the order of the names that were asked for. Blank cells are `None`.
pub(crate) struct NamedRow {
    pub(crate) line: u64,
    cells: Vec<Option<String>>,
}

impl NamedRow {
    /// Returns the cell of a column, by its place among the names that were asked for.
    pub(crate) fn cell(&self, column: usize) -> Option<&str> {
        self.cells.get(column)?.as_deref()
    }
}

/// Where the columns are.
struct Columns {
    separator: u8,
    /// Where the rows begin.
    end: usize,
    count: usize,
    indices: Vec<Option<usize>>,
}

impl NamedTable {
    /// Reads a table. The first `required` names must be in its header; `None` if no line has them. Blank rows are
    /// left out.
    pub(crate) fn read(
        source: impl Read,
        names: &[&str],
        required: usize,
    ) -> Result<Option<NamedTable>, Error> {
        let mut notes = Vec::new();
        let text = TextSource::read_whole(source, &mut notes)?;
        let candidates = lines(text.window())
            .take(MOST_LINES)
            .flat_map(|(start, _)| {
                SEPARATORS.map(|separator| {
                    Columns::of_line(text.window(), start, separator, names, required)
                })
            });
        let Some(columns) = candidates.flatten().next() else {
            return Ok(None);
        };
        let mut records = Records::new(text, columns.end, columns.separator, columns.count);
        let mut rows = Vec::new();
        while records.next(&mut notes)? {
            let record = records.record();
            let cell = |index: usize| record.cells.get(index).and_then(not_blank);
            if record.cells.iter().any(|cell| not_blank(cell).is_some()) {
                let indices = columns.indices.iter();
                rows.push(NamedRow {
                    line: record.line,
                    cells: indices
                        .map(|index| index.and_then(cell).map(String::from))
                        .collect(),
                });
            }
        }
        Ok(Some(NamedTable {
            separator: columns.separator,
            rows,
        }))
    }
}

impl Columns {
    fn of_line(
        text: &str,
        start: usize,
        separator: u8,
        names: &[&str],
        required: usize,
    ) -> Option<Columns> {
        let (cells, length) = first_record(text.get(start..)?, separator);
        let find = |name: &&str| cells.iter().position(|cell| normal(cell) == *name);
        let indices: Vec<Option<usize>> = names.iter().map(find).collect();
        let complete = indices.iter().take(required).all(Option::is_some);
        complete.then_some(Columns {
            separator,
            end: start + length,
            count: cells.len(),
            indices,
        })
    }
}
