//! The cells of a row in columns without a meaning.

use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

/// The cells of a row in columns without a meaning, one after the other in one text: a sheet may have a
/// thousand of them in each row.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub(super) struct ExtraCells {
    /// The headers of all such columns, which the rows of a sheet share.
    headers: Arc<[String]>,
    text: String,
    /// For each cell: the index of its header, and where it ends in the text.
    cells: Vec<(u32, u32)>,
}

impl ExtraCells {
    /// Lets go of the cells of another row.
    pub(super) fn clear(&mut self, headers: &Arc<[String]>) {
        if !Arc::ptr_eq(&self.headers, headers) {
            self.headers = headers.clone();
        }
        self.text.clear();
        self.cells.clear();
    }

    /// Adds the cell of the column with this index among the headers.
    pub(super) fn push(&mut self, index: usize, cell: &str) {
        self.text.push_str(cell);
        // No row is longer than 16 MiB.
        let offset = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        self.cells.push((offset(index), offset(self.text.len())));
    }

    /// Returns the header and the text of each cell.
    pub(super) fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        let mut start = 0;
        self.cells.iter().filter_map(move |(index, end)| {
            let end = *end as usize;
            let cell = self.text.get(start..end)?;
            start = end;
            Some((self.headers.get(*index as usize)?.as_str(), cell))
        })
    }
}
