//! Bytes to rows of cells.

// Files in order; each uses only those before it:
//   encoding       bytes to text
//   record_buffer  the cells of one row
//   records        rows of cells with the lines on which they start

mod encoding;
mod record_buffer;
mod records;

pub(in crate::class) use encoding::TextSource;
pub(in crate::class) use record_buffer::{Cells, first_record};
pub(in crate::class) use records::{Record, Records, lines};
