//! A table, and its form in plain text: columns as wide as they must be.

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::wrap::one_line;

/// The side at which the cells of a column are aligned.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

pub(super) struct TextTable {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

/// A column with a cell that is not blank.
pub(super) struct VisibleColumn<'a> {
    pub(super) index: usize,
    pub(super) name: &'a str,
    pub(super) align: Align,
    /// The number of characters of its widest cell or of its name.
    width: usize,
}

impl TextTable {
    pub(super) fn new() -> Self {
        TextTable {
            columns: Vec::new(),
            rows: Vec::new(),
        }
    }

    /// Adds columns of text.
    pub(super) fn left<const N: usize>(self, names: [&str; N]) -> Self {
        self.columns(names, Align::Left)
    }

    /// Adds columns of numbers.
    pub(super) fn right<const N: usize>(self, names: [&str; N]) -> Self {
        self.columns(names, Align::Right)
    }

    fn columns<const N: usize>(mut self, names: [&str; N], align: Align) -> Self {
        let columns = names.map(|name| (String::from(name), align));
        self.columns.extend(columns);
        self
    }

    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        let cells = cells.into_iter().map(|cell| one_line(&cell));
        self.rows.push(cells.collect());
    }

    pub(super) fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// The columns that are not blank in every row.
    pub(super) fn visible(&self) -> Vec<VisibleColumn<'_>> {
        let columns = self.columns.iter().enumerate();
        columns
            .filter_map(|(index, (name, align))| {
                let cells = self.rows.iter().filter_map(|row| row.get(index));
                let widest = cells.map(|cell| cell.chars().count()).max().unwrap_or(0);
                (widest > 0).then(|| VisibleColumn {
                    index,
                    name,
                    align: *align,
                    width: widest.max(name.chars().count()),
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

impl VisibleColumn<'_> {
    fn padded(&self, cell: &str) -> String {
        let padding = " ".repeat(self.width.saturating_sub(cell.chars().count()));
        match self.align {
            Align::Left => [cell, &padding].concat(),
            Align::Right => [&padding, cell].concat(),
        }
    }
}
