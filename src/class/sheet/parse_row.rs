//! One row: its cells by their columns, and what is wrong with them.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::cell::{self, Bad};
use super::csv::Record;
use super::layout::{Layout, Seat};
use super::one_line::{flat, shown, write_flat};
use super::problem::Problem;
use super::row::{Reported, ReportedValue, Row};
use crate::number::{DecimalMark, Reading, Unit};
use crate::text::is_space;

/// One row of cells as it becomes a [`Row`].
pub(super) struct RowReader<'r> {
    layout: &'r Layout,
    record: &'r Record<'r>,
    problems: &'r mut Vec<Problem>,
    /// Whether cells may stand under the wrong headers, so that no number counts.
    shifted: bool,
    has_readings: bool,
    unreadable: bool,
}

impl<'r> RowReader<'r> {
    pub(super) fn new(
        layout: &'r Layout,
        record: &'r Record<'r>,
        problems: &'r mut Vec<Problem>,
    ) -> Self {
        RowReader {
            layout,
            record,
            problems,
            shifted: false,
            has_readings: false,
            unreadable: false,
        }
    }

    /// Reads the whole row; what is wrong with it is told. The row is written over, so that its
    /// strings need not be made anew.
    pub(super) fn read(&mut self, row: &mut Row) {
        let layout = self.layout;
        self.words(row);
        self.shape(row.named);
        row.readability = self.readability();
        row.stand_in = self.stand_in();
        self.mass(&layout.crucible, &mut row.crucible);
        self.mass(&layout.crucible_hydrate, &mut row.crucible_hydrate);
        row.heated_cut = self.heatings(&mut row.heated);
        self.mass(&layout.hydrate, &mut row.hydrate_mass);
        self.mass(&layout.residue, &mut row.residue_mass);
        row.has_readings = self.has_readings;
        row.readings_unreadable = self.unreadable;
        self.completeness(row);
        self.reports(&mut row.reported);
        self.extra(&mut row.extra);
    }

    #[inline]
    fn present(&self, seat: &Seat) -> Option<&'r str> {
        seat.present(self.record.cells)
    }

    #[cold]
    fn problem(&mut self, column: impl Into<String>, cell: &str, bad: Bad) {
        let line = self.record.line;
        let bench = self.present(&self.layout.bench);
        self.problems.push(Problem {
            line,
            column: column.into(),
            bench: bench.map_or_else(|| nameless(line), flat),
            cell: shown(cell),
            code: bad.code,
            message: bad.message,
        });
    }

    /// A problem of the cell in a column.
    #[cold]
    fn problem_of(&mut self, seat: &Seat, bad: Bad) {
        let title = self.layout.header.title(seat.column).into_owned();
        self.problem(title, seat.cell(self.record.cells), bad);
    }

    fn words(&self, row: &mut Row) {
        let (layout, cells) = (self.layout, self.record.cells);
        row.line = self.record.line;
        let write = |seat: &Seat, words: &mut String| {
            words.clear();
            write_flat(seat.present(cells).unwrap_or_default(), words);
        };
        write(&layout.bench, &mut row.bench);
        row.named = !row.bench.is_empty();
        if !row.named {
            row.bench = nameless(row.line);
        }
        write(&layout.pupil, &mut row.pupil);
        write(&layout.balance, &mut row.balance);
        write(&layout.period, &mut row.period);
        write(&layout.issued, &mut row.issued);
        row.notes.clear();
        row.notes
            .push_str(layout.notes.present(cells).unwrap_or_default());
    }

    /// Looks at the row as a whole: its quotation marks, its length, its bench.
    fn shape(&mut self, named: bool) {
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
        if self.record.cells.len() > self.layout.header.cells.len() {
            self.surplus();
        }
        if !named {
            let bench = self.layout.bench;
            let message = "no bench is named in this row, so it shares no readings; write the \
                           bench in every row"
                .to_string();
            self.problem_of(&bench, Bad::new("blank_bench", message));
        }
    }

    /// Cells beyond the last header.
    #[cold]
    fn surplus(&mut self) {
        let columns = self.layout.header.cells.len();
        let cells = self.record.cells;
        let surplus = || {
            let cells = cells.iter().enumerate().skip(columns);
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
            } else if self.layout.mark == DecimalMark::Point {
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
    }

    fn column(&self, place: usize) -> String {
        match self.layout.header.cells.get(place) {
            Some(header) if !header.is_empty() => shown(header),
            _ => format!("column {}", place + 1),
        }
    }

    /// The cell of a column of values; none where it is blank or says that there is none.
    #[inline]
    fn value(&self, seat: &Seat) -> Option<&'r str> {
        self.present(seat).filter(|cell| !cell::says_missing(cell))
    }

    /// The number in a cell; what is wrong with it is told. In line, so that what is read goes to
    /// its place without stops on the way.
    #[inline(always)]
    fn number(&mut self, seat: &Seat, text: &str, unit: Unit) -> Option<Reading> {
        match cell::number(text, unit, self.layout.mark) {
            Ok(number) => Some(number),
            Err(bad) => {
                self.problem_of(seat, bad);
                None
            }
        }
    }

    /// The weighings after heating. What cannot be read costs nothing where later ones can be
    /// read: the last of them counts, and whether the mass was constant is told by those that
    /// followed one another. Returns whether any are left out for that.
    fn heatings(&mut self, heated: &mut Vec<Reading>) -> bool {
        heated.clear();
        let told = self.problems.len();
        // How many were read before the last one that could not be.
        let mut before = None;
        for seat in &self.layout.heated {
            let Some(text) = self.value(seat) else {
                continue;
            };
            match self.weighing(seat, text) {
                Some(mass) => heated.push(mass),
                None => before = Some(heated.len()),
            }
        }
        let Some(before) = before else { return false };
        if before == heated.len() {
            self.unreadable = true;
            return false;
        }
        heated.drain(..before);
        for problem in self.problems.iter_mut().skip(told) {
            problem
                .message
                .push_str("; the row is worked out from the weighings after it");
        }
        true
    }

    fn mass(&mut self, seat: &Seat, to: &mut Option<Reading>) {
        *to = None;
        if let Some(text) = self.value(seat) {
            *to = self.weighing(seat, text);
            self.unreadable |= to.is_none();
        }
    }

    #[inline(always)]
    fn weighing(&mut self, seat: &Seat, text: &str) -> Option<Reading> {
        self.has_readings = true;
        if self.shifted {
            return None;
        }
        let mass = self.number(seat, text, Unit::Gram)?;
        if mass.is_negative() {
            self.below_zero(seat, text);
            return None;
        }
        Some(mass)
    }

    #[cold]
    fn below_zero(&mut self, seat: &Seat, text: &str) {
        let message = format!(
            "`{}` is a mass below zero; correct the sign, or weigh with the balance set to zero",
            shown(text)
        );
        self.problem_of(seat, Bad::new("negative_mass", message));
    }

    fn readability(&mut self) -> Option<Reading> {
        let seat = &self.layout.readability;
        let text = self.value(seat).filter(|_| !self.shifted)?;
        let reading = self.number(seat, text, Unit::Gram)?;
        if reading.value().is_positive() {
            return Some(reading);
        }
        let message = format!(
            "`{}` is no readability; write one division of the balance in g, such as 0.001",
            shown(text)
        );
        self.problem_of(seat, Bad::new("bad_readability", message));
        None
    }

    /// Whether the row says that nobody weighed its readings.
    fn stand_in(&mut self) -> bool {
        let seat = &self.layout.stand_in;
        let Some(text) = self.present(seat).filter(|_| !self.shifted) else {
            return false;
        };
        let said = cell::yes_or_no(text);
        if said.is_none() {
            let message = format!(
                "`{}` does not say whether these are stand-in readings, so they count as a \
                 bench's own; write yes, or leave the cell blank",
                shown(text)
            );
            self.problem_of(seat, Bad::new("bad_stand_in", message));
        }
        said.unwrap_or(false)
    }

    /// Tells which weighing a row lacks that has others.
    fn completeness(&mut self, row: &Row) {
        let weighings = row.crucible.is_some() && row.crucible_hydrate.is_some();
        let net = row.hydrate_mass.is_some() && row.residue_mass.is_some();
        if self.has_readings && !self.shifted && !weighings && !net {
            self.lacking();
        }
    }

    #[cold]
    fn lacking(&mut self) {
        let layout = self.layout;
        let lacks = |seats: [Seat; 2]| {
            let blank = seats.into_iter().filter(|seat| self.value(seat).is_none());
            blank.collect::<Vec<Seat>>()
        };
        let weighings = lacks([layout.crucible, layout.crucible_hydrate]);
        let net = lacks([layout.hydrate, layout.residue]);
        if weighings.is_empty() || net.is_empty() {
            return;
        }
        let heated = layout.heated.iter().any(|seat| self.value(seat).is_some());
        let missing = if net.len() < 2 && weighings.len() == 2 && !heated {
            net
        } else {
            weighings
        };
        for seat in missing {
            let title = layout.header.title(seat.column);
            let message =
                format!("the row has readings but no `{title}`; without it nothing is worked out");
            self.problem_of(&seat, Bad::new("missing_reading", message));
        }
    }

    fn reports(&mut self, reports: &mut Vec<Reported>) {
        let columns = &self.layout.reported;
        let missing = columns.iter().skip(reports.len());
        reports.extend(missing.map(|(quantity, ..)| Reported::none(*quantity)));
        for ((_, seat, unit), reported) in columns.iter().zip(reports) {
            let text = self.value(seat);
            reported.text.clear();
            reported.text.push_str(text.unwrap_or_default());
            match (text, unit) {
                (None, _) => reported.value = ReportedValue::Missing,
                (Some(_), _) if self.shifted => reported.value = ReportedValue::Unreadable,
                (Some(text), None) => reported.value = ReportedValue::Formula(text.to_string()),
                (Some(text), Some(unit)) => match self.number(seat, text, *unit) {
                    Some(number) => reported.value = ReportedValue::Number(number),
                    None => reported.value = ReportedValue::Unreadable,
                },
            }
        }
    }

    fn extra(&self, extra: &mut Vec<(Arc<str>, String)>) {
        extra.clear();
        for (place, header) in &self.layout.extra {
            let cell = self.record.cells.get(*place).unwrap_or_default();
            let cell = cell.trim_matches(is_space);
            if !cell.is_empty() {
                extra.push((header.clone(), cell.to_string()));
            }
        }
    }
}

/// What a row is called whose bench is not named.
#[cold]
fn nameless(line: u64) -> String {
    format!("line {line}")
}
