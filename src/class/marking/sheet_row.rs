//! A row of the sheet with the row that has its readings.

use crate::class::Row;

/// A row of the sheet, and the row with the readings that count for it.
pub(super) struct SheetRow<'s> {
    pub(super) row: &'s Row,
    pub(super) holder: Option<&'s Row>,
    pub(super) stand_in: bool,
}

impl SheetRow<'_> {
    pub(super) fn has_own_readings(&self) -> bool {
        let holder = self.holder;
        holder.is_some_and(|holder| core::ptr::eq(holder, self.row))
    }
}
