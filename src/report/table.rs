//! A table in plain text: columns as wide as they must be.

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

/// How a column stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

pub(super) struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new<const N: usize>(columns: [(&str, Align); N]) -> Self {
        Table {
            columns: columns
                .iter()
                .map(|(name, align)| (String::from(*name), *align))
                .collect(),
            rows: Vec::new(),
        }
    }

    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().collect());
    }

    /// Writes the table; columns in which no row says anything are left out.
    pub(super) fn write(&self, out: &mut impl Write) -> fmt::Result {
        let width = |text: &str| text.chars().count();
        let shown: Vec<(usize, usize)> = self
            .columns
            .iter()
            .enumerate()
            .filter_map(|(index, (name, _))| {
                let cells = self.rows.iter().filter_map(|row| row.get(index));
                let widest = cells.map(|cell| width(cell)).max().unwrap_or(0);
                (widest > 0).then(|| (index, widest.max(width(name))))
            })
            .collect();
        let line = |out: &mut dyn Write, cell: &dyn Fn(usize) -> String| {
            let mut text = String::new();
            for (index, wide) in &shown {
                let cell = cell(*index);
                let padding = " ".repeat(wide.saturating_sub(width(&cell)));
                if !text.is_empty() {
                    text.push_str("  ");
                }
                match self.columns.get(*index).map(|(_, align)| *align) {
                    Some(Align::Right) => text.extend([padding, cell]),
                    _ => text.extend([cell, padding]),
                }
            }
            writeln!(out, "{}", text.trim_end())
        };
        line(out, &|index| {
            self.columns
                .get(index)
                .map_or_else(String::new, |(name, _)| name.clone())
        })?;
        line(out, &|index| {
            let wide = shown
                .iter()
                .find(|(i, _)| *i == index)
                .map_or(0, |(_, wide)| *wide);
            "-".repeat(wide)
        })?;
        for row in &self.rows {
            line(out, &|index| row.get(index).cloned().unwrap_or_default())?;
        }
        Ok(())
    }
}
