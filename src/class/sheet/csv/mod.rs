//! Bytes to rows of cells.

// Files in order; each uses only those before it:
//   encoding       bytes to text
//   record_buffer  the cells of one row
//   records        rows of cells with the lines on which they start

mod encoding;
mod record_buffer;
mod records;

pub(super) use encoding::TextSource;
pub(super) use record_buffer::{Cells, first_record};
pub(super) use records::{Record, Records, lines};
