//! The memory in which the cells of a row are put together.

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};

use crate::text::one_line;

pub(crate) fn reader(separator: u8, quoting: bool) -> Reader {
    ReaderBuilder::new()
        .delimiter(separator)
        .quoting(quoting)
        .build()
}

/// The cells of one row.
#[derive(Clone, Copy)]
pub(crate) struct Cells<'r> {
    text: &'r str,
    ends: &'r [usize],
}

impl<'r> Cells<'r> {
    /// Makes cells of one text, each of which ends at one of these offsets.
    pub(crate) fn new(text: &'r str, ends: &'r [usize]) -> Self {
        Cells { text, ends }
    }

    /// Returns the number of bytes of all cells.
    pub(crate) fn bytes(&self) -> usize {
        self.text.len()
    }

    pub(crate) fn len(&self) -> usize {
        self.ends.len()
    }

    #[inline]
    pub(crate) fn get(&self, index: usize) -> Option<&'r str> {
        let end = *self.ends.get(index)?;
        let before = index.checked_sub(1);
        let start = before.and_then(|before| self.ends.get(before));
        self.text.get(start.copied().unwrap_or(0)..end)
    }

    pub(crate) fn iter(self) -> impl Iterator<Item = &'r str> + Clone {
        (0..self.len()).filter_map(move |index| self.get(index))
    }
}

/// Memory for the cells of a row, used again for each row.
pub(crate) struct RecordBuffer {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    /// The number of bytes of the row so far.
    byte_count: usize,
    /// The number of its cells that have ended.
    end_count: usize,
}

/// How far a row was read.
pub(crate) enum Progress {
    Row,
    /// The input is used up, and the row may go on.
    Open,
    /// The input is at its end.
    NoRow,
}

impl RecordBuffer {
    pub(crate) fn new() -> Self {
        RecordBuffer {
            bytes: vec![0; 1024],
            ends: vec![0; 64],
            byte_count: 0,
            end_count: 0,
        }
    }

    pub(crate) fn clear(&mut self) {
        (self.byte_count, self.end_count) = (0, 0);
    }

    /// Goes on reading a row, and returns the number of bytes that were used. Empty input says that
    /// the text is at its end.
    pub(crate) fn read(&mut self, reader: &mut Reader, mut input: &[u8]) -> (Progress, usize) {
        let over = input.is_empty();
        let mut used = 0;
        loop {
            let bytes = self.bytes.get_mut(self.byte_count..).unwrap_or_default();
            let ends = self.ends.get_mut(self.end_count..).unwrap_or_default();
            let (result, read, written, ended) = reader.read_record(input, bytes, ends);
            used += read;
            self.byte_count += written;
            self.end_count += ended;
            match result {
                ReadRecordResult::OutputFull => self.bytes.resize(2 * self.bytes.len(), 0),
                ReadRecordResult::OutputEndsFull => self.ends.resize(2 * self.ends.len(), 0),
                ReadRecordResult::InputEmpty => return (Progress::Open, used),
                ReadRecordResult::Record => return (Progress::Row, used),
                ReadRecordResult::End => return (Progress::NoRow, used),
            }
            input = input.get(read..).unwrap_or_default();
            if input.is_empty() && !over {
                return (Progress::Open, used);
            }
        }
    }

    /// Reads one row of a text that ends where the row may end, and returns the number of bytes
    /// used.
    pub(crate) fn read_whole(&mut self, reader: &mut Reader, text: &str) -> usize {
        self.clear();
        let (progress, used) = self.read(reader, text.as_bytes());
        if matches!(progress, Progress::Open) {
            self.read(reader, &[]);
        }
        used
    }

    /// Returns the length of the row as text if it has no quotation marks: its cells, with one
    /// character after each.
    pub(crate) fn plain_length(&self) -> usize {
        self.byte_count + self.end_count
    }

    /// Returns the cells. They are cut from text at ASCII characters, so they are text.
    pub(crate) fn cells(&self) -> Cells<'_> {
        let bytes = self.bytes.get(..self.byte_count).unwrap_or_default();
        Cells {
            text: core::str::from_utf8(bytes).unwrap_or_default(),
            ends: self.ends.get(..self.end_count).unwrap_or_default(),
        }
    }
}

/// Returns the first row of a text, each cell on one line, and its length in bytes.
pub(crate) fn first_record(text: &str, separator: u8) -> (Vec<String>, usize) {
    let mut buffer = RecordBuffer::new();
    let length = buffer.read_whole(&mut reader(separator, true), text);
    (buffer.cells().iter().map(one_line).collect(), length)
}
