//! Finding the header, and with it the separator; what each column means.

use alloc::borrow::Cow;
use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::columns::{HeaderMapping, SheetColumn, normal};
use super::csv::{Cells, Lines, first_record};
use super::one_line::{flat, shown};
use super::remark::SheetRemark;
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{self, Detail, Note, is_space};

const SEPARATORS: [u8; 3] = *b",;\t";
/// How many lines are searched: titles are few, and a file that is no sheet ends soon.
const MOST_LINES: usize = 100;
const MOST_COLUMNS: usize = 1000;
/// Enough for that many columns with long headers.
const WINDOW: usize = 128 << 10;

/// Whether these columns make a header: a title may hold one of the words, not two of these.
fn plausible(at: &BTreeMap<SheetColumn, usize>) -> bool {
    at.contains_key(&SheetColumn::Bench)
        && at
            .keys()
            .any(|column| column.is_reading() || matches!(column, SheetColumn::Reported(_)))
}

/// The header of a sheet.
#[derive(Debug)]
pub(super) struct Header {
    pub(super) separator: u8,
    /// Where in the text the rows begin.
    pub(super) end: usize,
    /// Each column's header on one line, without blanks at the end of the row.
    pub(super) cells: Vec<String>,
    pub(super) at: BTreeMap<SheetColumn, usize>,
}

/// One way to read one line.
struct HeaderLine {
    line: u64,
    separator: u8,
    end: usize,
    cut: bool,
    cells: Vec<String>,
    at: BTreeMap<SheetColumn, usize>,
}

impl Header {
    /// The first line that is a header under any separator. The text may go on after what is
    /// given of it.
    pub(super) fn find(
        text: &str,
        goes_on: bool,
        mapping: &HeaderMapping,
        notes: &mut Vec<Note>,
    ) -> Result<Header, Error> {
        let mut titles: Vec<(u64, &str)> = Vec::new();
        let mut nearest: Option<HeaderLine> = None;
        for (line, start, content) in Lines::new(text).take(MOST_LINES) {
            // A row is read past blank lines, to the wrong number.
            if content.is_empty() {
                continue;
            }
            let mut best: Option<HeaderLine> = None;
            for separator in SEPARATORS {
                let candidate = HeaderLine::read(text, goes_on, line, start, separator, mapping);
                if best
                    .as_ref()
                    .is_none_or(|b| candidate.at.len() > b.at.len())
                {
                    best = Some(candidate);
                }
            }
            let Some(best) = best else { continue };
            if plausible(&best.at) {
                for (line, title) in titles {
                    notes.push(SheetRemark::TitleLine { line, title }.into());
                }
                return best.finish(mapping, notes);
            }
            if nearest.as_ref().is_none_or(|n| best.at.len() > n.at.len()) {
                nearest = Some(best);
            }
            let blank = |c: char| is_space(c) || matches!(c, ',' | ';' | '"');
            let title = content.trim_matches(blank);
            if !title.is_empty() && !is_separator_hint(title) {
                titles.push((line, title));
            }
        }
        Err(match nearest {
            // Two words of a header are no accident: say what else it needs.
            Some(nearest) if nearest.at.len() > 1 => nearest.missing(),
            _ => Error::new(
                ErrorKind::NoHeader,
                Detail::new(
                    "no line of the sheet is a header with `bench` and either `crucible_g` and \
                     `crucible_hydrate_g` or `hydrate_g` and `residue_g`",
                )
                .help("name the columns so, or map the sheet's own headers to these"),
            ),
        })
    }

    /// The header of a column as the file has it.
    pub(super) fn title(&self, column: SheetColumn) -> Cow<'_, str> {
        let named = self.at.get(&column).and_then(|at| self.cells.get(*at));
        named.map_or_else(|| column.name(), |cell| Cow::Owned(shown(cell)))
    }

    /// The columns of weighings after heating, in order of their numbers.
    pub(super) fn heated(&self) -> impl Iterator<Item = SheetColumn> {
        self.at
            .keys()
            .copied()
            .filter(|column| matches!(column, SheetColumn::Heated(_)))
    }

    /// The quantities that the sheet has a column for.
    pub(super) fn reported(&self) -> impl Iterator<Item = Quantity> {
        self.at.keys().filter_map(|column| match column {
            SheetColumn::Reported(quantity) => Some(*quantity),
            _ => None,
        })
    }

    /// Whether a row is the header once more, as where two sheets were joined.
    pub(super) fn repeated_by(
        &self,
        line: u64,
        cells: Cells<'_>,
        mapping: &HeaderMapping,
    ) -> Result<bool, Error> {
        let bench = self
            .at
            .get(&SheetColumn::Bench)
            .and_then(|at| self.cells.get(*at));
        let hint = |cell: &str| {
            let cell = cell.trim_matches(is_space);
            cell.eq_ignore_ascii_case("bench")
                || bench.is_some_and(|bench| cell.eq_ignore_ascii_case(bench))
        };
        if !cells.iter().any(hint) {
            return Ok(false);
        }
        let at = mapping.columns(cells.iter());
        if !plausible(&at) {
            return Ok(false);
        }
        if at == self.at {
            return Ok(true);
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
        let (mut cells, length) = first_record(window, separator, flat);
        // Columns that end blank, as spreadsheets leave behind a deleted table.
        while cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        HeaderLine {
            line,
            separator,
            end: start + length,
            cut: length == window.len() && (end < text.len() || goes_on),
            at: mapping.columns(cells.iter().map(String::as_str)),
            cells,
        }
    }

    fn finish(self, mapping: &HeaderMapping, notes: &mut Vec<Note>) -> Result<Header, Error> {
        if self.cut || self.cells.len() > MOST_COLUMNS {
            return Err(Error::new(
                ErrorKind::TooLarge,
                Detail::new(format!(
                    "the header in line {} has more than {MOST_COLUMNS} columns or is longer than \
                     {} KiB",
                    self.line,
                    WINDOW >> 10
                ))
                .help("leave out the columns that are no part of the class sheet"),
            ));
        }
        for (index, cell) in self.cells.iter().enumerate() {
            let Some(column) = mapping.column(cell) else {
                continue;
            };
            let first = self.at.get(&column).copied().unwrap_or(index);
            if first != index {
                let other = self.cells.get(first).map_or("", String::as_str);
                return Err(Error::new(
                    ErrorKind::RepeatedColumn,
                    Detail::new(format!(
                        "columns {} (`{}`) and {} (`{}`) of the header in line {} are both `{}`",
                        first + 1,
                        shown(other),
                        index + 1,
                        shown(cell),
                        self.line,
                        column.name()
                    ))
                    .help("rename or remove one of them"),
                ));
            }
        }
        let has = |column| self.at.contains_key(&column);
        if !(has(SheetColumn::Crucible) && has(SheetColumn::CrucibleHydrate)
            || has(SheetColumn::Hydrate) && has(SheetColumn::Residue))
        {
            return Err(self.missing());
        }
        for (theirs, column) in mapping.0.values() {
            let used = self.cells.iter().any(|cell| normal(cell) == normal(theirs));
            if !used {
                let remark = SheetRemark::MappingUnused {
                    header: theirs,
                    column: column.name(),
                };
                notes.push(remark.into());
            }
        }
        Ok(Header {
            separator: self.separator,
            end: self.end,
            cells: self.cells,
            at: self.at,
        })
    }

    #[cold]
    fn missing(&self) -> Error {
        let lacks = |wanted: [SheetColumn; 2]| {
            let lacking = wanted.into_iter().filter(|c| !self.at.contains_key(c));
            let names: Vec<String> = lacking.map(|c| format!("`{}`", c.name())).collect();
            names
        };
        let weighings = lacks([SheetColumn::Crucible, SheetColumn::CrucibleHydrate]);
        let net = lacks([SheetColumn::Hydrate, SheetColumn::Residue]);
        let readings = if weighings.is_empty() || net.is_empty() {
            String::new()
        } else if weighings.len() == net.len() {
            format!("{}, or {}", text::list(weighings), text::list(net))
        } else {
            // The pair that is half there is the one that was meant.
            text::list(if weighings.len() < net.len() {
                weighings
            } else {
                net
            })
        };
        let bench = !self.at.contains_key(&SheetColumn::Bench);
        let what = match (bench, readings.is_empty()) {
            (true, true) => "`bench`".to_string(),
            (true, false) => format!("`bench`, and {readings}"),
            (false, _) => readings,
        };
        Error::new(
            ErrorKind::MissingColumn,
            Detail::new(format!("the header in line {} lacks {what}", self.line))
                .help("add the column, or map the sheet's own header to it"),
        )
    }
}

/// `sep=;`, which some spreadsheets put first.
fn is_separator_hint(title: &str) -> bool {
    title
        .get(..4)
        .is_some_and(|start| start.eq_ignore_ascii_case("sep="))
        && title.chars().count() <= 5
}
