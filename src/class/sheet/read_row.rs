//! One row: its cells by their columns, and what is wrong with them.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::build::Builder;
use super::cell::{self, Bad, flat, shown};
use super::header::{Column, Header};
use super::records::Record;
use super::{Problem, Reported, ReportedValue, Row};
use crate::gravimetry::{Net, Quantity};
use crate::number::Unit;
use crate::number::{DecimalMark, Reading};
use crate::text::is_space;

/// One row of cells as it becomes a [`Row`].
pub(super) struct RowReader<'r> {
    header: &'r Header,
    mark: DecimalMark,
    heated: &'r [Column],
    quantities: &'r [Quantity],
    extra: &'r BTreeMap<usize, Arc<str>>,
    record: &'r Record,
    bench: String,
    /// Whether cells may stand under the wrong headers, so that no number counts.
    shifted: bool,
    has_readings: bool,
    unreadable: bool,
    pub(super) problems: Vec<Problem>,
}

impl<'r> RowReader<'r> {
    pub(super) fn new(sheet: &'r Builder<'_>, record: &'r Record) -> Self {
        let mut reader = RowReader {
            header: sheet.header,
            mark: sheet.mark,
            heated: &sheet.heated,
            quantities: &sheet.reported,
            extra: &sheet.extra,
            record,
            bench: String::new(),
            shifted: false,
            has_readings: false,
            unreadable: false,
            problems: Vec::new(),
        };
        reader.bench = match reader.present(Column::Bench) {
            Some(bench) => flat(bench),
            None => format!("line {}", record.line),
        };
        reader
    }

    /// The cell as it stands; nothing where the row ends before it.
    fn cell(&self, column: Column) -> &'r str {
        let place = self.header.at.get(&column);
        place
            .and_then(|place| self.record.cells.get(*place))
            .unwrap_or_default()
    }

    fn present(&self, column: Column) -> Option<&'r str> {
        cell::present(self.cell(column))
    }

    fn problem(&mut self, column: impl Into<String>, cell: &str, bad: Bad) {
        self.problems.push(Problem {
            line: self.record.line,
            column: column.into(),
            bench: self.bench.clone(),
            cell: shown(cell),
            code: bad.code,
            message: bad.message,
        });
    }

    /// Looks at the row as a whole: its quotation marks, its length, its bench.
    pub(super) fn shape(&mut self) {
        if self.record.open_quote {
            let opened = self.record.cells.iter().enumerate();
            let opened = opened
                .filter(|(_, cell)| cell.trim_matches(is_space).starts_with('"'))
                .last();
            let (place, cell) = opened.unwrap_or((0, ""));
            let bad = Bad::new(
                "open_quote",
                "a quotation mark opens a cell and nothing closes it; the row was read with its \
                 quotation marks as plain characters: remove them from the cell"
                    .to_string(),
            );
            self.problem(self.column(place), cell, bad);
        }
        let columns = self.header.cells.len();
        let surplus = || {
            let cells = self.record.cells.iter().enumerate().skip(columns);
            cells.filter(|(_, cell)| !cell.chars().all(is_space))
        };
        if let Some((place, cell)) = surplus().next() {
            let count = surplus().count();
            // Words at the end are somebody's remark; a number there came from further left.
            self.shifted = surplus().any(|(_, cell)| {
                let cell = flat(cell);
                Reading::read(&cell, DecimalMark::CommaOrPoint).is_ok()
            });
            let cells = if count == 1 { "cell" } else { "cells" };
            let message = if !self.shifted {
                format!(
                    "the row has {count} {cells} beyond the last header, which {} not used; put a \
                     header above or move the text to a column of notes",
                    if count == 1 { "is" } else { "are" }
                )
            } else if self.mark == DecimalMark::Point {
                format!(
                    "the row has {count} {cells} beyond the last header, so its numbers may stand \
                     under the wrong headers and none is used; where a comma marks decimals, write \
                     a point or quote the cell"
                )
            } else {
                format!(
                    "the row has {count} {cells} beyond the last header, so its numbers may stand \
                     under the wrong headers and none is used; move them or add a header"
                )
            };
            self.problem(self.column(place), cell, Bad::new("surplus_cell", message));
        }
        if self.present(Column::Bench).is_none() {
            let title = self.header.title(Column::Bench).into_owned();
            let message = "no bench is named in this row, so it shares no readings; write the \
                           bench in every row"
                .to_string();
            self.problem(
                title,
                self.cell(Column::Bench),
                Bad::new("blank_bench", message),
            );
        }
    }

    fn column(&self, place: usize) -> String {
        match self.header.cells.get(place) {
            Some(header) if !header.is_empty() => shown(header),
            _ => format!("column {}", place + 1),
        }
    }

    pub(super) fn row(&mut self) -> Row {
        let words = |column| self.present(column).map(flat);
        let pupil = words(Column::Pupil);
        let balance = words(Column::Balance);
        let period = words(Column::Period);
        let issued = words(Column::Issued);
        let notes = self.present(Column::Notes).map(ToString::to_string);
        let readability = self.readability();
        let stand_in = self.stand_in();
        let crucible = self.mass(Column::Crucible);
        let crucible_hydrate = self.mass(Column::CrucibleHydrate);
        let mut heated = Vec::new();
        for column in self.heated {
            heated.extend(self.mass(*column));
        }
        let hydrate_mass = self.mass(Column::Hydrate);
        let residue_mass = self.mass(Column::Residue);
        self.completeness();
        let mut reported = Vec::with_capacity(self.quantities.len());
        for quantity in self.quantities {
            reported.push(self.reported(*quantity));
        }
        let extra = self.extra.iter().filter_map(|(place, header)| {
            let cell = self.record.cells.get(*place)?.trim_matches(is_space);
            (!cell.is_empty()).then(|| (header.clone(), cell.to_string()))
        });
        Row {
            line: self.record.line,
            bench: self.bench.clone(),
            named: self.present(Column::Bench).is_some(),
            pupil,
            balance,
            period,
            issued,
            notes,
            crucible,
            crucible_hydrate,
            heated,
            hydrate_mass,
            residue_mass,
            net: Net::default(),
            percent_water: None,
            readability,
            stand_in,
            has_readings: self.has_readings,
            readings_unreadable: self.unreadable,
            reported,
            extra: extra.collect(),
            readings_row: None,
            balance_index: 0,
        }
    }

    /// The number in a cell that has one; what is wrong with it is told.
    fn number(&mut self, column: Column, unit: Unit) -> Option<Reading> {
        let text = self.present(column)?;
        match cell::number(text, unit, self.mark) {
            Ok(reading) => Some(reading),
            Err(bad) => {
                let title = self.header.title(column).into_owned();
                self.problem(title, text, bad);
                None
            }
        }
    }

    fn mass(&mut self, column: Column) -> Option<Reading> {
        let text = self.present(column)?;
        self.has_readings = true;
        if self.shifted {
            self.unreadable = true;
            return None;
        }
        let mass = self.number(column, Unit::Gram);
        if mass.is_some_and(|mass| mass.value().is_negative()) {
            let title = self.header.title(column).into_owned();
            let message = format!(
                "`{}` is a mass below zero; correct the sign, or weigh with the balance set to zero",
                shown(text)
            );
            self.problem(title, text, Bad::new("negative_mass", message));
            self.unreadable = true;
            return None;
        }
        self.unreadable |= mass.is_none();
        mass
    }

    fn readability(&mut self) -> Option<Reading> {
        if self.shifted {
            return None;
        }
        let reading = self.number(Column::Readability, Unit::Gram)?;
        if reading.value().is_positive() {
            return Some(reading);
        }
        let text = self.cell(Column::Readability);
        let title = self.header.title(Column::Readability).into_owned();
        let message = format!(
            "`{}` is no readability; write one division of the balance in g, such as 0.001",
            shown(text)
        );
        self.problem(title, text, Bad::new("bad_readability", message));
        None
    }

    /// Whether the row says that nobody weighed its readings.
    fn stand_in(&mut self) -> bool {
        let Some(text) = self.present(Column::StandIn).filter(|_| !self.shifted) else {
            return false;
        };
        let said = cell::yes_or_no(text);
        if said.is_none() {
            let title = self.header.title(Column::StandIn).into_owned();
            let message = format!(
                "`{}` does not say whether these are stand-in readings, so they count as a \
                 bench's own; write yes, or leave the cell blank",
                shown(text)
            );
            self.problem(title, text, Bad::new("bad_stand_in", message));
        }
        said.unwrap_or(false)
    }

    /// Tells which weighing a row lacks that has others.
    fn completeness(&mut self) {
        if !self.has_readings || self.shifted {
            return;
        }
        let lacks = |columns: [Column; 2]| {
            let blank = columns.into_iter().filter(|c| self.present(*c).is_none());
            blank.collect::<Vec<Column>>()
        };
        let weighings = lacks([Column::Crucible, Column::CrucibleHydrate]);
        let net = lacks([Column::Hydrate, Column::Residue]);
        if weighings.is_empty() || net.is_empty() {
            return;
        }
        let heated = self.heated.iter().any(|c| self.present(*c).is_some());
        let missing = if net.len() < 2 && weighings.len() == 2 && !heated {
            net
        } else {
            weighings
        };
        for column in missing {
            let title = self.header.title(column).into_owned();
            let message =
                format!("the row has readings but no `{title}`; without it nothing is worked out");
            self.problem(
                title,
                self.cell(column),
                Bad::new("missing_reading", message),
            );
        }
    }

    fn reported(&mut self, quantity: Quantity) -> Reported {
        let column = Column::Reported(quantity);
        let text = self.present(column);
        let value = match (text, cell::unit_of(quantity)) {
            (None, _) => ReportedValue::Missing,
            (Some(_), _) if self.shifted => ReportedValue::Unreadable,
            (Some(text), None) => ReportedValue::Formula(text.to_string()),
            (Some(_), Some(unit)) => self
                .number(column, unit)
                .map_or(ReportedValue::Unreadable, ReportedValue::Number),
        };
        Reported {
            quantity,
            text: text.unwrap_or_default().to_string(),
            value,
        }
    }
}
