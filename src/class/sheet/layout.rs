//! Where each column is in the rows of one sheet, worked out once from its header.

use alloc::format;
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::cell;
use super::columns::SheetColumn;
use super::csv::Cells;
use super::csv_style::decimal_mark;
use super::header::Header;
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Unit};
use crate::text::is_space;

/// A column, and its index in the rows if the sheet has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct LayoutColumn {
    pub(super) column: SheetColumn,
    pub(super) index: Option<usize>,
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
    /// The indices of the columns without a meaning, and their headers.
    pub(super) extra: Vec<usize>,
    pub(super) extra_headers: Arc<[String]>,
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
        let extra = header.without_meaning();
        let extra_headers = extra.clone().map(|(index, cell)| {
            if cell.is_empty() {
                format!("column {}", index + 1)
            } else {
                cell.into()
            }
        });
        let blank = extra.clone().filter(|(_, cell)| cell.is_empty());
        Layout {
            mark: decimal_mark(header.separator),
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
            blank: blank.map(|(index, _)| index).collect(),
            extra_headers: extra_headers.collect(),
            extra: extra.map(|(index, _)| index).collect(),
            header,
        }
    }

    /// Returns whether a mass of this row has a decimal comma.
    pub(super) fn has_comma(&self, cells: Cells<'_>) -> bool {
        let masses = [
            self.crucible,
            self.crucible_hydrate,
            self.hydrate,
            self.residue,
        ];
        self.mark == DecimalMark::CommaOrPoint
            && masses
                .iter()
                .chain(&self.heated)
                .any(|column| column.cell(cells).contains(','))
    }

    /// Marks the columns without a header that have a cell in this row as used.
    pub(super) fn mark_used_columns(&mut self, cells: Cells<'_>) {
        let is_blank = |cell: &str| cell.chars().all(is_space);
        self.blank
            .retain(|index| cells.get(*index).is_none_or(is_blank));
    }

    /// Returns the names of the columns without a meaning that have a header or a cell.
    pub(super) fn extra_columns(&self) -> impl Iterator<Item = &str> {
        let extra = self.extra.iter().zip(self.extra_headers.iter());
        let used = extra.filter(|(index, _)| !self.blank.contains(index));
        used.map(|(_, header)| header.as_str())
    }
}
