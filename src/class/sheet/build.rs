//! A sheet from its rows, and what only all rows together tell.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Read;

use super::cell::shown;
use super::header::{Column, Header};
use super::rows::{Kind, Rows};
use super::{Problem, Row, Sheet, link};
use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note};

pub(super) const MOST_ROWS: usize = 100_000;
const MOST_PROBLEMS: usize = 100_000;

/// The sheet that all these rows make.
pub(super) fn sheet<R: Read>(mut source: Rows<R>) -> Result<Sheet, Error> {
    let (mut rows, mut summary_rows) = (Vec::new(), Vec::new());
    let mut problems: Vec<Problem> = Vec::new();
    while let Some(kind) = source.advance()? {
        let held = rows.len() + summary_rows.len();
        if held >= MOST_ROWS || problems.len() >= MOST_PROBLEMS {
            return Err(too_many(source.row().line));
        }
        match kind {
            Kind::Summary => summary_rows.push(source.row().clone()),
            Kind::Bench => {
                rows.push(source.row().clone());
                problems.append(source.problems());
            }
        }
    }
    let reported_columns = source.reported_columns().to_vec();
    let extra_columns: Vec<String> = source.extra_columns().map(String::from).collect();
    let (header, mut notes) = source.end();
    notes.extend(extra_columns.iter().map(|column| extra(column)));
    let without = link::readings(&mut rows, &mut notes);
    link::stand_ins(&mut rows);
    let without = without.iter().filter_map(|index| rows.get(*index));
    problems.extend(without.map(|row| no_readings(row, &header)));
    // Stable: within a row the order of the columns stays.
    problems.sort_by_key(Problem::line);
    let balances = link::balances(&mut rows, &mut notes);
    Ok(Sheet {
        rows,
        summary_rows,
        problems,
        notes,
        extra_columns,
        reported_columns,
        balances,
    })
}

#[cold]
fn too_many(line: u64) -> Error {
    Error::new(
        ErrorKind::TooLarge,
        Detail::new(format!(
            "line {line} is beyond {MOST_ROWS} rows or {MOST_PROBLEMS} problems"
        ))
        .help("give one file for each class, and check that this is a class sheet"),
    )
}

fn extra(column: &str) -> Note {
    let text = format!(
        "The column `{}` has no meaning here; its cells are kept and not used.",
        shown(column)
    );
    Note::new("extra_column", text).with("column", column)
}

fn no_readings(row: &Row, header: &Header) -> Problem {
    let wanted = [Column::Crucible, Column::Hydrate];
    let column = wanted.into_iter().find(|c| header.at.contains_key(c));
    let title = header.title(column.unwrap_or(Column::Bench));
    Problem {
        line: row.line,
        column: title.into_owned(),
        bench: row.bench.clone(),
        cell: String::new(),
        code: "no_readings",
        message: "no row of this bench has readings; fill them in, in one of its rows".to_string(),
    }
}
