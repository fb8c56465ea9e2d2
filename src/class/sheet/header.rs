//! Finds the header of a sheet, and with it the separator.

use alloc::borrow::Cow;
use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::cmp::Ordering;

use super::cell_text::shown;
use super::columns::{HeaderMapping, SheetColumn};
use super::csv::{Cells, first_record, lines};
use super::csv_style::SEPARATORS;
use super::limits::MOST_COLUMNS;
use super::remark::SheetRemark;
use super::suggestions::{Suggestion, options, suggestions};
use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note, is_space, list};

/// The number of lines that are searched. Titles are few, and a file that is not a sheet ends soon.
const MOST_LINES: usize = 100;
/// The number of lines that are searched for headers in other words.
const MOST_LIKELY_LINES: usize = 10;
/// The longest header, in bytes: enough for that many columns with long names.
const WINDOW: usize = 128 << 10;
/// A sheet needs both columns of one of these pairs.
const WEIGHINGS: [SheetColumn; 2] = [SheetColumn::Crucible, SheetColumn::CrucibleHydrate];
const NET_MASSES: [SheetColumn; 2] = [SheetColumn::Hydrate, SheetColumn::Residue];

/// The header of a sheet.
#[derive(Debug)]
pub(super) struct Header {
    pub(super) separator: u8,
    /// Where in the text the rows begin.
    pub(super) end: usize,
    /// Each column's header on one line, without blanks at the end of the row.
    pub(super) cells: Vec<String>,
    /// The index of each column that has a meaning.
    pub(super) indices: BTreeMap<SheetColumn, usize>,
}

/// A line of the sheet, read as a header with one of the separators.
struct HeaderLine {
    line: u64,
    /// Whether the line is longer than any header.
    cut: bool,
    header: Header,
}

impl Header {
    /// Finds the first line that is a header with any separator. The text may go on after what is
    /// given of it.
    pub(super) fn find(
        text: &str,
        goes_on: bool,
        mapping: &HeaderMapping,
        notes: &mut Vec<Note>,
    ) -> Result<Header, Error> {
        let mut titles: Vec<(u64, &str)> = Vec::new();
        let mut nearest: Option<HeaderLine> = None;
        for (line, (start, content)) in (1..).zip(lines(text).take(MOST_LINES)) {
            // The CSV reader skips blank lines, so the line number would be wrong.
            if content.is_empty() {
                continue;
            }
            let read = |separator| HeaderLine::read(text, goes_on, line, start, separator, mapping);
            // Of several separators that find as many columns, the first in the list counts.
            let separators = SEPARATORS.into_iter().rev();
            let Some(best) = separators.map(read).max_by_key(HeaderLine::known) else {
                continue;
            };
            if is_plausible(&best.header.indices) {
                for (line, title) in titles {
                    notes.push(SheetRemark::TitleLine(line, title).into());
                }
                best.check(mapping)?;
                mapping.remark_on_unused(&best.header.cells, notes);
                return Ok(best.header);
            }
            if nearest.as_ref().is_none_or(|n| best.known() > n.known()) {
                nearest = Some(best);
            }
            let blank = |c: char| is_space(c) || matches!(c, ',' | ';' | '"');
            let title = content.trim_matches(blank);
            if !title.is_empty() && !is_separator_hint(title) {
                titles.push((line, title));
            }
        }
        Err(match nearest {
            // Two words of a header are no accident, so the error says what else it needs.
            Some(nearest) if nearest.known() > 1 => nearest.missing_columns(),
            _ => no_header(&likely_mapping(text, mapping)),
        })
    }

    /// Returns the header of a column as the file has it.
    pub(super) fn title(&self, column: SheetColumn) -> Cow<'_, str> {
        let named = self
            .indices
            .get(&column)
            .and_then(|index| self.cells.get(*index));
        named.map_or_else(|| column.name(), |cell| Cow::Owned(shown(cell)))
    }

    /// Returns the headers by the usual names of their columns.
    pub(super) fn titles(&self) -> BTreeMap<String, String> {
        let columns = self.indices.keys();
        columns
            .map(|column| (column.name().into_owned(), self.title(*column).into_owned()))
            .collect()
    }

    /// Returns the headers without a meaning here, with their indices.
    pub(super) fn without_meaning(&self) -> impl Iterator<Item = (usize, &str)> + Clone {
        let known: BTreeSet<usize> = self.indices.values().copied().collect();
        let cells = self.cells.iter().map(String::as_str).enumerate();
        cells.filter(move |(index, _)| !known.contains(index))
    }

    /// Returns whether a row repeats the header, as where two sheets were joined.
    pub(super) fn is_repeated_by(
        &self,
        line: u64,
        cells: Cells<'_>,
        mapping: &HeaderMapping,
    ) -> Result<bool, Error> {
        let bench = self.indices.get(&SheetColumn::Bench);
        let bench = bench.and_then(|index| self.cells.get(*index));
        let is_bench = |cell: &str| {
            let cell = cell.trim_matches(is_space);
            cell.eq_ignore_ascii_case("bench")
                || bench.is_some_and(|bench| cell.eq_ignore_ascii_case(bench))
        };
        if !cells.iter().any(is_bench) {
            return Ok(false);
        }
        let indices = mapping.columns(cells.iter());
        if indices == self.indices || !is_plausible(&indices) {
            return Ok(indices == self.indices);
        }
        Err(Error::new(
            ErrorKind::SecondHeader,
            Detail::new(format!(
                "line {line} is a second header, with other columns"
            ))
            .help("give each table a file of its own"),
        ))
    }
}

/// Whether these columns make a header: a title may hold one of the words, not two of these.
fn is_plausible(indices: &BTreeMap<SheetColumn, usize>) -> bool {
    let is_value = |column: &SheetColumn| {
        let pairs = WEIGHINGS.contains(column) || NET_MASSES.contains(column);
        pairs || matches!(column, SheetColumn::Heated(_) | SheetColumn::Reported(_))
    };
    indices.contains_key(&SheetColumn::Bench) && indices.keys().any(is_value)
}

impl HeaderLine {
    fn read(
        text: &str,
        goes_on: bool,
        line: u64,
        start: usize,
        separator: u8,
        mapping: &HeaderMapping,
    ) -> HeaderLine {
        let mut end = text.len().min(start.saturating_add(WINDOW));
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        let window = text.get(start..end).unwrap_or_default();
        let (mut cells, length) = first_record(window, separator);
        // Spreadsheets leave blank columns behind a table that was deleted.
        while cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        HeaderLine {
            line,
            cut: length == window.len() && (end < text.len() || goes_on),
            header: Header {
                separator,
                end: start + length,
                indices: mapping.columns(cells.iter().map(String::as_str)),
                cells,
            },
        }
    }

    /// How many columns with a meaning the line has.
    fn known(&self) -> usize {
        self.header.indices.len()
    }

    /// Checks that the header can be used.
    fn check(&self, mapping: &HeaderMapping) -> Result<(), Error> {
        let Header { cells, indices, .. } = &self.header;
        if self.cut || cells.len() > MOST_COLUMNS {
            return Err(Error::new(
                ErrorKind::TooLarge,
                Detail::new(format!(
                    "the header in line {} has more than {MOST_COLUMNS} columns or is longer than \
                     {} KiB",
                    self.line,
                    WINDOW >> 10
                ))
                .help("leave out the columns that do not belong to the class sheet"),
            ));
        }
        for (index, cell) in cells.iter().enumerate() {
            let column = mapping.column(cell);
            let first = column.and_then(|column| Some((column, *indices.get(&column)?)));
            if let Some((column, first)) = first.filter(|(_, first)| *first != index) {
                return Err(self.repeated_column(column, [first, index]));
            }
        }
        let has = |columns: [SheetColumn; 2]| columns.iter().all(|c| indices.contains_key(c));
        if has(WEIGHINGS) || has(NET_MASSES) {
            Ok(())
        } else {
            Err(self.missing_columns())
        }
    }

    /// Returns what the headers without a meaning may be.
    fn suggestions(&self) -> Vec<Suggestion> {
        let known = self.header.indices.keys().copied();
        suggestions(self.header.without_meaning().map(|(_, cell)| cell), known)
    }

    fn repeated_column(&self, column: SheetColumn, indices: [usize; 2]) -> Error {
        let [first, second] = indices.map(|index| {
            let cell = self.header.cells.get(index).map_or("", String::as_str);
            format!("{} (`{}`)", index + 1, shown(cell))
        });
        Error::new(
            ErrorKind::RepeatedColumn,
            Detail::new(format!(
                "columns {first} and {second} of the header in line {} are both `{}`",
                self.line,
                column.name()
            ))
            .help("rename or remove one of them"),
        )
    }

    fn missing_columns(&self) -> Error {
        let lacks = |columns: &[SheetColumn]| -> Vec<String> {
            let lacking = columns
                .iter()
                .filter(|c| !self.header.indices.contains_key(c));
            lacking.map(|c| format!("`{}`", c.name())).collect()
        };
        let (weighings, net) = (lacks(&WEIGHINGS), lacks(&NET_MASSES));
        let readings = if weighings.is_empty() || net.is_empty() {
            String::new()
        } else {
            match weighings.len().cmp(&net.len()) {
                Ordering::Equal => format!("{}, or {}", list(weighings), list(net)),
                // The pair that is half there is the one that was meant.
                Ordering::Less => list(weighings),
                Ordering::Greater => list(net),
            }
        };
        let mut what = lacks(&[SheetColumn::Bench]);
        what.extend((!readings.is_empty()).then_some(readings));
        Error::new(
            ErrorKind::MissingColumn,
            Detail::new(format!(
                "the header in line {} lacks {}",
                self.line,
                what.join(", and ")
            ))
            .help(with_options(
                "add the column, or map the sheet's own header to it",
                &self.suggestions(),
            )),
        )
    }
}

fn no_header(mapping: &[Suggestion]) -> Error {
    let message = "no line of the sheet is a header with the columns that are needed";
    let help = "name the columns `bench` and either `crucible_g` and `crucible_hydrate_g` or \
                `hydrate_g` and `residue_g`, or map the sheet's own headers to these";
    let detail = Detail::new(message).help(with_options(help, mapping));
    Error::new(ErrorKind::NoHeader, detail)
}

/// Returns the mapping of the first lines with the most headers in other words. One such word is an
/// accident, as in a title.
fn likely_mapping(text: &str, mapping: &HeaderMapping) -> Vec<Suggestion> {
    let lines = lines(text).take(MOST_LIKELY_LINES);
    let candidates = lines.flat_map(|(start, _)| {
        SEPARATORS.map(|separator| HeaderLine::read(text, false, 1, start, separator, mapping))
    });
    let suggested = candidates.map(|line| (line.known(), line.suggestions()));
    let most = suggested.max_by_key(|(known, suggested)| known + suggested.len());
    most.filter(|(known, suggested)| known + suggested.len() > 1)
        .map(|(_, suggested)| suggested)
        .unwrap_or_default()
}

/// Adds the options that map these headers.
fn with_options(help: &str, mapping: &[Suggestion]) -> String {
    if mapping.is_empty() {
        return help.into();
    }
    format!("{help}, such as {}", options(mapping))
}

/// Whether a line is `sep=;`, which some spreadsheets write first.
fn is_separator_hint(title: &str) -> bool {
    title
        .get(..4)
        .is_some_and(|start| start.eq_ignore_ascii_case("sep="))
        && title.chars().count() <= 5
}
