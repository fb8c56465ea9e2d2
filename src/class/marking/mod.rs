//! Marking: every row against the readings of its own bench.

// Files in order; each uses only those before it:
//   shared_key    what benches of one salt have in common: rounding paths, mistaken masses
//   bench_key     each bench worked out once, however many hand in from it
//   verdict       the result for a reported value
//   mistyped      a reading that may be mistyped in the sheet
//   remark        what is said about an answer that costs nothing
//   answer        one reported value with its verdict and its marks
//   judge         the answers of one row, judged
//   judged_row    the answers of a row, judged by the key of its bench or another that they follow
//   sheet_row     a row of the sheet with the row that has its readings
//   marked_row    a row of the sheet, worked out and marked
//   marked        a marked class
//   hand_marks    marks given by hand, read and given to the answers that are open
//   marker        the rules of a class, and the marks of one row
//   marked_rows   a sheet marked row by row, or whole
//   marked_entry  one entry marked by itself
//   feedback      the notes for the pupil
//   changes       what marking again changes

mod answer;
mod bench_key;
mod changes;
mod feedback;
mod hand_marks;
mod judge;
mod judged_row;
mod marked;
mod marked_entry;
mod marked_row;
mod marked_rows;
mod marker;
mod mistyped;
mod remark;
mod shared_key;
mod sheet_row;
#[cfg(test)]
mod tests;
mod verdict;

pub use answer::Answer;
pub use changes::{Change, MarkChanges, RowChange};
pub use hand_marks::{HandMark, HandMarks};
pub use marked::Marked;
pub use marked_entry::MarkedEntry;
pub use marked_row::MarkedRow;
pub use marked_rows::MarkedRows;
pub use marker::Marker;
#[cfg(feature = "report")]
pub(crate) use remark::Remark;
pub use verdict::Verdict;
