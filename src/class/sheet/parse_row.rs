//! One row: its cells by their columns, and what is wrong with them.

use alloc::boxed::Box;
use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::cell;
use super::cell_text::shown;
use super::columns::SheetColumn;
use super::csv::{Cells, Record};
use super::extra_cells::ExtraCells;
use super::layout::{Layout, LayoutColumn};
use super::limits::LONGEST_CELL;
use super::problem::{Problem, ProblemKind};
use super::row::{Reported, ReportedValue, Row, RowReadings, UnreadableHeating};
use super::row_words::RowWord;
use crate::number::{DecimalMark, Reading, Unit};
use crate::text::{is_space, one_line, write_one_line};

/// One row of cells as it becomes a [`Row`].
pub(super) struct RowParser<'r> {
    layout: &'r Layout,
    record: &'r Record<'r>,
    problems: &'r mut Vec<Problem>,
    /// Whether cells may be under the wrong headers, so that no number counts.
    shifted: bool,
    has_readings: bool,
    unreadable: bool,
}

/// Reads a row into the memory of another one, so that its strings need not be made again, and sets
/// what is wrong with it.
pub(super) fn parse_row(
    layout: &Layout,
    record: &Record<'_>,
    row: &mut Row,
    problems: &mut Vec<Problem>,
) {
    problems.clear();
    if record.cells.bytes() > LONGEST_CELL && parse_long(layout, record, row, problems) {
        return;
    }
    parse_cells(layout, record, row, problems);
}

/// Reads a row that has a cell which is too long, and returns whether it has one. The start of such a
/// cell is read in its place, with a mark that is in no number and in no formula. Such a bench has no
/// name: the start of it may be that of another one.
#[cold]
fn parse_long(
    layout: &Layout,
    record: &Record<'_>,
    row: &mut Row,
    problems: &mut Vec<Problem>,
) -> bool {
    let is_long = |cell: &str| cell.len() > LONGEST_CELL;
    let columns = layout.header.indices.iter().filter_map(|(column, index)| {
        let cell = record.cells.get(*index).filter(|cell| is_long(cell))?;
        Some((*index, (*column, cell)))
    });
    let long: BTreeMap<usize, (SheetColumn, &str)> = columns.collect();
    if long.is_empty() {
        return false;
    }
    let (mut text, mut ends) = (String::new(), Vec::new());
    for (index, cell) in record.cells.iter().enumerate() {
        match long.get(&index) {
            None => text.push_str(cell),
            Some((SheetColumn::Bench, _)) => {}
            Some((_, cell)) => text.push_str(&shown(cell)),
        }
        ends.push(text.len());
    }
    let short = Record {
        cells: Cells::new(&text, &ends),
        ..*record
    };
    parse_cells(layout, &short, row, problems);
    for (column, cell) in long.into_values() {
        let title = layout.header.title(column);
        // That the start of the cell cannot be read says nothing more.
        problems.retain(|problem| problem.column() != title);
        let kind = ProblemKind::LongCell;
        let title = title.into_owned();
        let problem = Problem::new(row.line, title, row.bench(), cell, &kind);
        problems.push(problem.of_answer(column.quantity()));
    }
    true
}

fn parse_cells(layout: &Layout, record: &Record<'_>, row: &mut Row, problems: &mut Vec<Problem>) {
    let mut parser = RowParser {
        layout,
        record,
        problems,
        shifted: false,
        has_readings: false,
        unreadable: false,
    };
    parser.names(row);
    parser.check_shape(row.named);
    row.readability = parser.readability();
    row.stand_in = parser.stand_in();
    parser.mass(&layout.crucible, &mut row.readings.crucible);
    parser.mass(&layout.crucible_hydrate, &mut row.readings.crucible_hydrate);
    parser.heatings(&mut row.readings);
    parser.mass(&layout.hydrate, &mut row.readings.hydrate_mass);
    parser.mass(&layout.residue, &mut row.readings.residue_mass);
    row.has_readings = parser.has_readings;
    row.readings_unreadable = parser.unreadable;
    parser.check_completeness(row);
    parser.reports(&mut row.reported);
    parser.extra(&mut row.extra);
    row.absent = parser.is_absent(row);
    if row.absent {
        // Who is absent needs no bench, and the word may be after the last header.
        let is_answered =
            |problem: &Problem| ["blank_bench", "surplus_cell"].contains(&problem.code());
        problems.retain(|problem| !is_answered(problem));
    }
}

impl<'r> RowParser<'r> {
    /// Returns the cell of a column, and `None` if it is blank or only dashes.
    #[inline]
    fn not_blank(&self, column: &LayoutColumn) -> Option<&'r str> {
        column.not_blank(self.record.cells)
    }

    /// Returns the cell of a column of values, and `None` if it is blank or says that there is no value.
    #[inline]
    fn given(&self, column: &LayoutColumn) -> Option<&'r str> {
        self.not_blank(column)
            .filter(|cell| !cell::says_missing(cell))
    }

    fn problem(&self, title: String, cell: &str, kind: &ProblemKind) -> Problem {
        let line = self.record.line;
        let bench = self.not_blank(&self.layout.bench);
        let name = match bench {
            Some(_) => String::new(),
            None => name_by_line(line),
        };
        let bench = bench.unwrap_or(&name);
        Problem::new(line, title, bench, cell, kind)
    }

    fn report(&mut self, title: String, cell: &str, kind: &ProblemKind) {
        let problem = self.problem(title, cell, kind);
        self.problems.push(problem);
    }

    /// Reports what is wrong with the cell of a column.
    fn report_cell(&mut self, column: &LayoutColumn, kind: &ProblemKind) {
        let title = self.layout.header.title(column.column).into_owned();
        let problem = self.problem(title, column.cell(self.record.cells), kind);
        let quantity = column.column.quantity();
        self.problems.push(problem.of_answer(quantity));
    }

    fn names(&self, row: &mut Row) {
        let layout = self.layout;
        row.line = self.record.line;
        row.words.clear();
        let write = |cell: Option<&str>, words: &mut String| {
            if let Some(cell) = cell {
                write_one_line(cell, words);
            }
        };
        let bench = self.not_blank(&layout.bench);
        row.words.add(RowWord::Bench, |words| write(bench, words));
        row.named = !row.bench().is_empty();
        if !row.named {
            let name = name_by_line(row.line);
            row.words.add(RowWord::Bench, |words| words.push_str(&name));
        }
        for (word, column) in [
            (RowWord::Pupil, &layout.pupil),
            (RowWord::Balance, &layout.balance),
            (RowWord::Period, &layout.period),
            (RowWord::Issued, &layout.issued),
        ] {
            let cell = self.not_blank(column);
            row.words.add(word, |words| write(cell, words));
        }
        let notes = self.not_blank(&layout.notes).unwrap_or_default();
        row.words.add(RowWord::Notes, |words| words.push_str(notes));
    }

    /// Checks the row as a whole: its quotation marks, its length, its bench.
    fn check_shape(&mut self, named: bool) {
        let cells = self.record.cells;
        if self.record.open_quote {
            let opens = |cell: &str| cell.trim_matches(is_space).starts_with('"');
            let opened = cells.iter().enumerate().filter(|(_, cell)| opens(cell));
            let (index, cell) = opened.last().unwrap_or((0, ""));
            self.report(self.title(index), cell, &ProblemKind::OpenQuote);
        }
        if cells.len() > self.layout.header.cells.len() {
            self.check_surplus();
        }
        if !named {
            self.report_cell(&self.layout.bench, &ProblemKind::BlankBench);
        }
    }

    /// Checks the cells after the last header.
    fn check_surplus(&mut self) {
        let cells = self.record.cells.iter().enumerate();
        let surplus = cells.skip(self.layout.header.cells.len());
        let surplus: Vec<(usize, &str)> = surplus
            .filter(|(_, cell)| !cell.chars().all(is_space))
            .collect();
        let Some((index, cell)) = surplus.first() else {
            return;
        };
        // Words at the end are somebody's remark. A number there came from further left.
        let is_number = |cell| Reading::read(&one_line(cell), DecimalMark::CommaOrPoint).is_ok();
        self.shifted = surplus.iter().any(|(_, cell)| is_number(cell));
        let kind = if self.shifted {
            let commas = self.layout.mark == DecimalMark::Point;
            ProblemKind::SurplusNumbers(surplus.len(), commas)
        } else {
            ProblemKind::SurplusWords(surplus.len())
        };
        self.report(self.title(*index), cell, &kind);
    }

    fn title(&self, index: usize) -> String {
        match self.layout.header.cells.get(index) {
            Some(header) if !header.is_empty() => shown(header),
            _ => format!("column {}", index + 1),
        }
    }

    /// Returns the text of a mass. None counts if cells are under the wrong headers, which is reported.
    fn counted_reading(&mut self, column: &LayoutColumn) -> Option<&'r str> {
        let text = self.given(column)?;
        self.has_readings = true;
        self.unreadable |= self.shifted;
        Some(text).filter(|_| !self.shifted)
    }

    /// Reads a mass into its place in the row: moving it there once more takes time.
    fn mass(&mut self, column: &LayoutColumn, place: &mut Option<Reading>) {
        *place = None;
        let Some(text) = self.counted_reading(column) else {
            return;
        };
        match cell::number(text, Unit::Gram, self.layout.mark) {
            Ok(mass) if !mass.is_negative() => *place = Some(mass),
            result => {
                self.unreadable = true;
                self.report_cell(column, &not_a_mass(result));
            }
        }
    }

    /// Reads the weighings after heating. One that cannot be read costs nothing if later ones can
    /// be read: the last of them counts, and those that followed one another show whether the mass
    /// was constant.
    fn heatings(&mut self, readings: &mut RowReadings) {
        let heated = &mut readings.heated;
        heated.clear();
        readings.heated_cut = false;
        readings.unreadable_heating = None;
        let mut bad = Vec::new();
        // The number of weighings before the last one that cannot be read.
        let mut before_bad = None;
        for column in &self.layout.heated {
            let Some(text) = self.counted_reading(column) else {
                continue;
            };
            match cell::number(text, Unit::Gram, self.layout.mark) {
                Ok(mass) if !mass.is_negative() => heated.push(mass),
                result => {
                    if before_bad.is_none() {
                        let title = self.layout.header.title(column.column);
                        readings.unreadable_heating = Some(Box::new(UnreadableHeating {
                            before: heated.clone(),
                            column: title.into_owned(),
                            cell: shown(text),
                        }));
                    }
                    before_bad = Some(heated.len());
                    bad.push((column, not_a_mass(result)));
                }
            }
        }
        let Some(before_bad) = before_bad else {
            return;
        };
        let cut = before_bad < heated.len();
        self.unreadable |= !cut;
        for (column, kind) in bad {
            if cut {
                self.report_cell(column, &ProblemKind::EarlierHeating(kind));
            } else {
                self.report_cell(column, &kind);
            }
        }
        if cut {
            heated.drain(..before_bad);
        }
        readings.heated_cut = cut;
    }

    fn readability(&mut self) -> Option<Reading> {
        let column = &self.layout.readability;
        let text = self.given(column).filter(|_| !self.shifted)?;
        let kind = match cell::number(text, Unit::Gram, self.layout.mark) {
            Ok(step) if step.value().is_positive() => return Some(step),
            Ok(_) => Box::new(ProblemKind::BadReadability),
            Err(kind) => kind,
        };
        self.report_cell(column, &kind);
        None
    }

    /// Whether the row says that nobody weighed its readings.
    fn stand_in(&mut self) -> bool {
        let column = &self.layout.stand_in;
        let Some(text) = self.not_blank(column).filter(|_| !self.shifted) else {
            return false;
        };
        cell::yes_or_no(text).unwrap_or_else(|| {
            self.report_cell(column, &ProblemKind::BadStandIn);
            false
        })
    }

    /// Reports which weighing a row lacks that has others.
    fn check_completeness(&mut self, row: &Row) {
        let weighings = row.readings.crucible.is_some() && row.readings.crucible_hydrate.is_some();
        let net = row.readings.hydrate_mass.is_some() && row.readings.residue_mass.is_some();
        if !self.has_readings || self.shifted || weighings || net {
            return;
        }
        let layout = self.layout;
        let lacks = |columns: [LayoutColumn; 2]| {
            let blank = columns.into_iter().filter(|c| self.given(c).is_none());
            blank.collect::<Vec<LayoutColumn>>()
        };
        let weighings = lacks([layout.crucible, layout.crucible_hydrate]);
        let net = lacks([layout.hydrate, layout.residue]);
        if weighings.is_empty() || net.is_empty() {
            return;
        }
        let heated = layout.heated.iter().any(|c| self.given(c).is_some());
        let net_is_begun = net.len() < 2 && weighings.len() == 2 && !heated;
        let container_only = net.len() == 2 && !heated && self.given(&layout.crucible).is_some();
        let kind = match container_only {
            true => ProblemKind::NotWeighedIn,
            false => ProblemKind::MissingReading,
        };
        for column in if net_is_begun { net } else { weighings } {
            self.report_cell(&column, &kind);
        }
    }

    fn reports(&mut self, reports: &mut Vec<Reported>) {
        let columns = &self.layout.reported;
        let missing = columns.iter().skip(reports.len());
        reports.extend(missing.map(|(quantity, ..)| Reported::none(*quantity)));
        for ((_, column, unit), reported) in columns.iter().zip(reports) {
            let known = self.given(column).filter(|cell| !cell::says_unknown(cell));
            let text = known.unwrap_or_default();
            reported.text.clear();
            reported.text.push_str(text);
            reported.value = if self.shifted && !text.is_empty() {
                ReportedValue::Unreadable
            } else {
                match ReportedValue::read(text, *unit, self.layout.mark) {
                    Ok(value) => value,
                    Err(kind) => {
                        self.report_cell(column, &kind);
                        ReportedValue::Unreadable
                    }
                }
            };
        }
    }

    /// Whether a row with nothing to mark says that somebody was absent.
    fn is_absent(&self, row: &Row) -> bool {
        let is_blank = |reported: &Reported| reported.text.is_empty();
        if self.has_readings || !row.reported.iter().all(is_blank) {
            return false;
        }
        let layout = self.layout;
        let names = [layout.bench, layout.pupil, layout.balance, layout.period];
        let mut cells = self.record.cells.iter().enumerate();
        cells.any(|(index, cell)| {
            cell::says_absent(cell) && !names.iter().any(|name| name.index == Some(index))
        })
    }

    fn extra(&self, extra: &mut ExtraCells) {
        extra.clear(&self.layout.extra_headers);
        for (index, column) in self.layout.extra.iter().enumerate() {
            let cell = self.record.cells.get(*column).unwrap_or_default();
            let cell = cell.trim_matches(is_space);
            if !cell.is_empty() {
                extra.push(index, cell);
            }
        }
    }
}

/// Returns what is wrong with a mass that cannot be read or is negative.
fn not_a_mass(result: Result<Reading, Box<ProblemKind>>) -> Box<ProblemKind> {
    result
        .err()
        .unwrap_or_else(|| Box::new(ProblemKind::NegativeMass))
}

/// Returns the name of a row that names no bench.
pub(super) fn name_by_line(line: u64) -> String {
    format!("line {line}")
}
