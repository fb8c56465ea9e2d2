//! How large a sheet may be.

/// The largest whole sheet in memory, in bytes: some hundred thousand rows, where a class has thirty.
pub(super) const MOST_BYTES: usize = 16 << 20;
/// The most rows of a sheet in memory.
pub(super) const MOST_ROWS: usize = 100_000;
pub(super) const MOST_COLUMNS: usize = 1000;
/// The longest cell of a column with a meaning, in bytes.
pub(super) const LONGEST_CELL: usize = 1000;
/// The most notes of a kind on single lines.
pub(super) const MOST_LINE_NOTES: usize = 1000;
/// The most names that one message lists.
pub(super) const MOST_NAMED: usize = 5;
