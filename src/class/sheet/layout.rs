//! Where each column is in the rows of one sheet, worked out once from its header.

use alloc::format;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::cell;
use super::columns::SheetColumn;
use super::csv::Cells;
use super::header::Header;
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Unit};
use crate::text::is_space;

/// A column, and its index in the rows if the sheet has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct LayoutColumn {
    pub(super) column: SheetColumn,
    index: Option<usize>,
}

impl LayoutColumn {
    fn of(header: &Header, column: SheetColumn) -> LayoutColumn {
        LayoutColumn {
            column,
            index: header.indices.get(&column).copied(),
        }
    }

    /// Returns the cell as it is, and nothing if the row ends before it.
    #[inline]
    pub(super) fn cell<'r>(&self, cells: Cells<'r>) -> &'r str {
        let cell = self.index.and_then(|index| cells.get(index));
        cell.unwrap_or_default()
    }

    /// Returns the cell without the blanks around it, and `None` if it is blank or only dashes.
    #[inline]
    pub(super) fn not_blank<'r>(&self, cells: Cells<'r>) -> Option<&'r str> {
        cell::not_blank(self.cell(cells))
    }
}

/// The indices of all columns.
pub(super) struct Layout {
    pub(super) header: Header,
    pub(super) mark: DecimalMark,
    pub(super) bench: LayoutColumn,
    pub(super) pupil: LayoutColumn,
    pub(super) balance: LayoutColumn,
    pub(super) period: LayoutColumn,
    pub(super) issued: LayoutColumn,
    pub(super) notes: LayoutColumn,
    pub(super) readability: LayoutColumn,
    pub(super) stand_in: LayoutColumn,
    pub(super) crucible: LayoutColumn,
    pub(super) crucible_hydrate: LayoutColumn,
    pub(super) heated: Vec<LayoutColumn>,
    pub(super) hydrate: LayoutColumn,
    pub(super) residue: LayoutColumn,
    pub(super) reported: Vec<(Quantity, LayoutColumn, Option<Unit>)>,
    /// The columns without a meaning.
    pub(super) extra: Vec<(usize, Arc<str>)>,
    /// The columns that have no header and, so far, no cell.
    blank: Vec<usize>,
}

impl Layout {
    pub(super) fn new(header: Header) -> Layout {
        let find = |column| LayoutColumn::of(&header, column);
        let (mut heated, mut reported) = (Vec::new(), Vec::new());
        for column in header.indices.keys() {
            match *column {
                SheetColumn::Heated(_) => heated.push(find(*column)),
                SheetColumn::Reported(quantity) => {
                    reported.push((quantity, find(*column), cell::unit_of(quantity)));
                }
                _ => {}
            }
        }
        let (mut extra, mut blank) = (Vec::new(), Vec::new());
        for (index, cell) in header.cells.iter().enumerate() {
            if header.indices.values().any(|known| *known == index) {
                continue;
            }
            if cell.is_empty() {
                blank.push(index);
                extra.push((index, format!("column {}", index + 1).into()));
            } else {
                extra.push((index, cell.as_str().into()));
            }
        }
        Layout {
            mark: if header.separator == b',' {
                DecimalMark::Point
            } else {
                DecimalMark::CommaOrPoint
            },
            bench: find(SheetColumn::Bench),
            pupil: find(SheetColumn::Pupil),
            balance: find(SheetColumn::Balance),
            period: find(SheetColumn::Period),
            issued: find(SheetColumn::Issued),
            notes: find(SheetColumn::Notes),
            readability: find(SheetColumn::Readability),
            stand_in: find(SheetColumn::StandIn),
            crucible: find(SheetColumn::Crucible),
            crucible_hydrate: find(SheetColumn::CrucibleHydrate),
            heated,
            hydrate: find(SheetColumn::Hydrate),
            residue: find(SheetColumn::Residue),
            reported,
            extra,
            blank,
            header,
        }
    }

    /// Marks the columns without a header that have a cell in this row as used.
    pub(super) fn mark_used_columns(&mut self, cells: Cells<'_>) {
        let is_blank = |cell: &str| cell.chars().all(is_space);
        self.blank
            .retain(|index| cells.get(*index).is_none_or(is_blank));
    }

    /// Returns the names of the columns without a meaning that have a header or a cell.
    pub(super) fn extra_columns(&self) -> impl Iterator<Item = &str> {
        let named = |index: &usize| !self.blank.contains(index);
        let extra = self.extra.iter().filter(move |(index, _)| named(index));
        extra.map(|(_, header)| &**header)
    }
}
