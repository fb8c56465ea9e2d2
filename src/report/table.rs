//! A table, and its form in plain text: columns as wide as they must be.

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use crate::text::visible_line;

/// The side at which the cells of a column are aligned.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

/// The most characters of a name or a formula in a table. A longer one would make every line of the table as long.
const WIDEST_NAME: usize = 48;
/// The characters at the end of a name that are kept if it is cut: they often tell names apart, and they
/// hold what is said of stand-in readings.
const NAME_END: usize = 23;

#[derive(Clone)]
pub(super) struct TextTable {
    /// What the table shows. Only a page of HTML has it.
    caption: Cow<'static, str>,
    columns: Vec<TextColumn>,
    rows: Vec<Vec<String>>,
}

#[derive(Clone)]
struct TextColumn {
    heading: Cow<'static, str>,
    align: Align,
    /// Whether long cells are cut.
    is_cut: bool,
    /// Whether the cells are names that people chose.
    has_names: bool,
    /// Whether the cells are blank, to be filled in by hand.
    to_fill_in: bool,
}

/// A column with a cell that is not blank, or one to be filled in.
pub(super) struct VisibleColumn<'a> {
    pub(super) index: usize,
    pub(super) name: &'a str,
    pub(super) align: Align,
    pub(super) has_names: bool,
    pub(super) to_fill_in: bool,
    /// The number of characters of its widest cell or of its name.
    pub(super) width: usize,
}

impl TextTable {
    pub(super) fn new(caption: impl Into<Cow<'static, str>>) -> Self {
        TextTable {
            caption: caption.into(),
            columns: Vec::new(),
            rows: Vec::new(),
        }
    }

    /// Adds columns of names that people chose. Long ones are cut.
    pub(super) fn names<const N: usize>(self, headings: [&'static str; N]) -> Self {
        self.columns(headings, |column| {
            (column.is_cut, column.has_names) = (true, true);
        })
    }

    /// Adds columns of formulas. Long ones are cut.
    pub(super) fn formulas<const N: usize>(self, headings: [&'static str; N]) -> Self {
        self.columns(headings, |column| column.is_cut = true)
    }

    /// Adds columns of text.
    pub(super) fn left(
        self,
        headings: impl IntoIterator<Item = impl Into<Cow<'static, str>>>,
    ) -> Self {
        self.columns(headings, |_| {})
    }

    /// Adds columns of numbers.
    pub(super) fn right(
        self,
        headings: impl IntoIterator<Item = impl Into<Cow<'static, str>>>,
    ) -> Self {
        self.columns(headings, |column| column.align = Align::Right)
    }

    /// Adds blank columns, to be filled in by hand.
    pub(super) fn blank<const N: usize>(self, headings: [&'static str; N]) -> Self {
        self.columns(headings, |column| column.to_fill_in = true)
    }

    fn columns(
        mut self,
        headings: impl IntoIterator<Item = impl Into<Cow<'static, str>>>,
        set: impl Fn(&mut TextColumn),
    ) -> Self {
        let columns = headings.into_iter().map(|heading| {
            let mut column = TextColumn {
                heading: heading.into(),
                align: Align::Left,
                is_cut: false,
                has_names: false,
                to_fill_in: false,
            };
            set(&mut column);
            column
        });
        self.columns.extend(columns);
        self
    }

    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let mut columns = self.columns.iter();
        let cells = cells.into_iter().map(|cell| {
            let cell = visible_line(&cell);
            match columns.next() {
                Some(column) if column.is_cut => cut(cell),
                _ => cell,
            }
        });
        self.rows.push(cells.collect());
    }

    pub(super) fn caption(&self) -> &str {
        &self.caption
    }

    pub(super) fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// The columns that are not blank in every row, and those to be filled in.
    pub(super) fn visible(&self) -> Vec<VisibleColumn<'_>> {
        let columns = self.columns.iter().enumerate();
        columns
            .filter_map(|(index, column)| {
                let cells = self.rows.iter().filter_map(|row| row.get(index));
                let widest = cells.map(|cell| cell.chars().count()).max().unwrap_or(0);
                (widest > 0 || column.to_fill_in).then(|| VisibleColumn {
                    index,
                    name: &column.heading,
                    align: column.align,
                    has_names: column.has_names,
                    to_fill_in: column.to_fill_in,
                    width: widest.max(column.heading.chars().count()),
                })
            })
            .collect()
    }

    /// Writes the table, each line indented.
    pub(super) fn write(&self, indent: &str, out: &mut impl Write) -> fmt::Result {
        let columns = self.visible();
        let mut line = |cell: &dyn Fn(&VisibleColumn<'_>) -> String| {
            let cells: Vec<String> = columns.iter().map(|c| c.padded(&cell(c))).collect();
            writeln!(out, "{indent}{}", cells.join("  ").trim_end())
        };
        line(&|column| column.name.into())?;
        line(&|column| "-".repeat(column.width))?;
        for row in &self.rows {
            line(&|column| row.get(column.index).cloned().unwrap_or_default())?;
        }
        Ok(())
    }
}

/// Cuts a name that is too long in the middle.
fn cut(name: String) -> String {
    let offset = |index: usize| name.char_indices().nth(index).map(|(offset, _)| offset);
    if offset(WIDEST_NAME).is_none() {
        return name;
    }
    let (start, end) = (WIDEST_NAME - NAME_END - 1, name.chars().count() - NAME_END);
    let parts = (offset(start), offset(end));
    let (Some(start), Some(end)) = parts else {
        return name;
    };
    let start = name.get(..start).unwrap_or_default();
    [start, "…", name.get(end..).unwrap_or_default()].concat()
}

impl VisibleColumn<'_> {
    fn padded(&self, cell: &str) -> String {
        let padding = " ".repeat(self.width.saturating_sub(cell.chars().count()));
        match self.align {
            Align::Left => [cell, &padding].concat(),
            Align::Right => [&padding, cell].concat(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_long_name_does_not_make_every_line_long() {
        let mut table = TextTable::new("").names(["Bench"]).left(["Why"]);
        let long = [&"H".repeat(100_000), ", Anna (stand-in readings)"].concat();
        table.row([long, "w".repeat(60)]);
        table.row(["é".repeat(48), String::new()]);
        let mut text = String::new();
        table.write("", &mut text).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let cut = [&"H".repeat(24), "…nna (stand-in readings)"].concat();
        assert_eq!(lines[2], [&cut, "  ", &"w".repeat(60)].concat());
        assert_eq!(lines[3], "é".repeat(48));
        assert!(text.len() < 500, "{text}");
    }
}
