//! What stands where in the rows of one sheet, worked out once from its header.

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

/// A column and where it stands, if the sheet has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seat {
    pub(super) column: SheetColumn,
    pub(super) place: Option<usize>,
}

impl Seat {
    fn of(header: &Header, column: SheetColumn) -> Seat {
        Seat {
            column,
            place: header.at.get(&column).copied(),
        }
    }

    /// The cell as it stands; nothing where the row ends before it.
    #[inline]
    pub(super) fn cell<'r>(&self, cells: Cells<'r>) -> &'r str {
        let cell = self.place.and_then(|place| cells.get(place));
        cell.unwrap_or_default()
    }

    #[inline]
    pub(super) fn present<'r>(&self, cells: Cells<'r>) -> Option<&'r str> {
        cell::present(self.cell(cells))
    }
}

/// The places of all columns.
pub(super) struct Layout {
    pub(super) header: Header,
    pub(super) mark: DecimalMark,
    pub(super) bench: Seat,
    pub(super) pupil: Seat,
    pub(super) balance: Seat,
    pub(super) period: Seat,
    pub(super) issued: Seat,
    pub(super) notes: Seat,
    pub(super) readability: Seat,
    pub(super) stand_in: Seat,
    pub(super) crucible: Seat,
    pub(super) crucible_hydrate: Seat,
    pub(super) heated: Vec<Seat>,
    pub(super) hydrate: Seat,
    pub(super) residue: Seat,
    pub(super) reported: Vec<(Quantity, Seat, Option<Unit>)>,
    /// The columns without a meaning.
    pub(super) extra: Vec<(usize, Arc<str>)>,
    /// Those of them that have no header and, so far, no cell.
    idle: Vec<usize>,
}

impl Layout {
    pub(super) fn new(header: Header) -> Layout {
        let seat = |column| Seat::of(&header, column);
        let (mut extra, mut idle) = (Vec::new(), Vec::new());
        for (place, cell) in header.cells.iter().enumerate() {
            if header.at.values().any(|known| *known == place) {
                continue;
            }
            if cell.is_empty() {
                idle.push(place);
                extra.push((place, format!("column {}", place + 1).into()));
            } else {
                extra.push((place, cell.as_str().into()));
            }
        }
        Layout {
            mark: if header.separator == b',' {
                DecimalMark::Point
            } else {
                DecimalMark::CommaOrPoint
            },
            bench: seat(SheetColumn::Bench),
            pupil: seat(SheetColumn::Pupil),
            balance: seat(SheetColumn::Balance),
            period: seat(SheetColumn::Period),
            issued: seat(SheetColumn::Issued),
            notes: seat(SheetColumn::Notes),
            readability: seat(SheetColumn::Readability),
            stand_in: seat(SheetColumn::StandIn),
            crucible: seat(SheetColumn::Crucible),
            crucible_hydrate: seat(SheetColumn::CrucibleHydrate),
            heated: header.heated().map(seat).collect(),
            hydrate: seat(SheetColumn::Hydrate),
            residue: seat(SheetColumn::Residue),
            reported: header
                .reported()
                .map(|quantity| {
                    let seat = seat(SheetColumn::Reported(quantity));
                    (quantity, seat, cell::unit_of(quantity))
                })
                .collect(),
            extra,
            idle,
            header,
        }
    }

    /// Sees to it that a column without a header is named once it has a cell.
    pub(super) fn look_for_idle(&mut self, cells: Cells<'_>) {
        if self.idle.is_empty() {
            return;
        }
        let blank = |cell: &str| cell.chars().all(is_space);
        self.idle
            .retain(|place| cells.get(*place).is_none_or(blank));
    }

    /// The names of the columns without a meaning that have a header or a cell.
    pub(super) fn extra_columns(&self) -> impl Iterator<Item = &str> {
        let named = |place: &usize| !self.idle.contains(place);
        let extra = self.extra.iter().filter(move |(place, _)| named(place));
        extra.map(|(_, header)| &**header)
    }
}
