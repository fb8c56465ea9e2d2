//! A sheet row by row, and what only all rows together tell.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::cell::{self, shown};
use super::header::{Column, Header};
use super::read_row::RowReader;
use super::records::Record;
use super::{Problem, Row, Sheet, link};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::number::DecimalMark;
use crate::text::{Detail, Note, is_space};

pub(super) const MOST_ROWS: usize = 100_000;
const MOST_PROBLEMS: usize = 100_000;

/// A sheet as it grows.
pub(super) struct Builder<'h> {
    pub(super) header: &'h Header,
    pub(super) mark: DecimalMark,
    pub(super) heated: Vec<Column>,
    pub(super) reported: Vec<Quantity>,
    /// The columns without a meaning, by their place.
    pub(super) extra: BTreeMap<usize, Arc<str>>,
    /// Those of them that have no header and, so far, no cell.
    idle: Vec<usize>,
    rows: Vec<Row>,
    problems: Vec<Problem>,
    pub(super) notes: Vec<Note>,
}

impl<'h> Builder<'h> {
    pub(super) fn new(header: &'h Header, notes: Vec<Note>) -> Self {
        let mut extra = BTreeMap::new();
        let mut idle = Vec::new();
        let known: Vec<usize> = header.at.values().copied().collect();
        for (place, cell) in header.cells.iter().enumerate() {
            if known.contains(&place) {
                continue;
            }
            if cell.is_empty() {
                idle.push(place);
                extra.insert(place, format!("column {}", place + 1).into());
            } else {
                extra.insert(place, cell.as_str().into());
            }
        }
        Builder {
            header,
            mark: if header.separator == b',' {
                DecimalMark::Point
            } else {
                DecimalMark::CommaOrPoint
            },
            heated: header.heated().collect(),
            reported: header.reported().collect(),
            extra,
            idle,
            rows: Vec::new(),
            problems: Vec::new(),
            notes,
        }
    }

    pub(super) fn row(&mut self, record: &Record) -> Result<(), Error> {
        if record
            .cells
            .iter()
            .all(|cell| cell::present(cell).is_none())
        {
            return Ok(());
        }
        if self.rows.len() >= MOST_ROWS || self.problems.len() >= MOST_PROBLEMS {
            return Err(Error::new(
                ErrorKind::TooLarge,
                Detail::new(format!(
                    "line {} is beyond {MOST_ROWS} rows or {MOST_PROBLEMS} problems",
                    record.line
                ))
                .help("give one file for each class, and check that this is a class sheet"),
            ));
        }
        let mut reader = RowReader::new(self, record);
        reader.shape();
        let row = reader.row();
        let problems = reader.problems;
        self.idle.retain(|place| {
            record
                .cells
                .get(*place)
                .is_none_or(|cell| cell.chars().all(is_space))
        });
        self.rows.push(row);
        self.problems.extend(problems);
        Ok(())
    }

    pub(super) fn finish(mut self) -> Sheet {
        let idle = &self.idle;
        self.extra.retain(|place, _| !idle.contains(place));
        let extra_columns: Vec<String> = self.extra.values().map(ToString::to_string).collect();
        for header in &extra_columns {
            self.notes.push(
                Note::new(
                    "extra_column",
                    format!(
                        "The column `{}` has no meaning here; its cells are kept and not used.",
                        shown(header)
                    ),
                )
                .with("column", header.clone()),
            );
        }
        for index in link::readings(&mut self.rows, &mut self.notes) {
            let Some(row) = self.rows.get(index) else {
                continue;
            };
            let wanted = [Column::Crucible, Column::Hydrate];
            let column = wanted.into_iter().find(|c| self.header.at.contains_key(c));
            let title = self.header.title(column.unwrap_or(Column::Bench));
            self.problems.push(Problem {
                line: row.line,
                column: title.into_owned(),
                bench: row.bench.clone(),
                cell: String::new(),
                code: "no_readings",
                message: "no row of this bench has readings; fill them in, in one of its rows"
                    .to_string(),
            });
        }
        link::stand_ins(&mut self.rows);
        // Stable: within a row the order of the columns stays.
        self.problems.sort_by_key(Problem::line);
        let balances = link::balances(&mut self.rows, &mut self.notes);
        Sheet {
            rows: self.rows,
            problems: self.problems,
            notes: self.notes,
            extra_columns,
            reported_columns: self.reported,
            balances,
        }
    }
}
