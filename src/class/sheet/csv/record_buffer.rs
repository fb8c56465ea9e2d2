//! Putting the cells of a row together.

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};

pub(in crate::class::sheet) fn reader(separator: u8, quoting: bool) -> Reader {
    ReaderBuilder::new()
        .delimiter(separator)
        .quoting(quoting)
        .build()
}

/// The cells of one row.
#[derive(Clone, Copy)]
pub(in crate::class::sheet) struct Cells<'r> {
    text: &'r str,
    ends: &'r [usize],
}

impl<'r> Cells<'r> {
    pub(in crate::class::sheet) fn len(&self) -> usize {
        self.ends.len()
    }

    #[inline]
    pub(in crate::class::sheet) fn get(&self, place: usize) -> Option<&'r str> {
        let end = *self.ends.get(place)?;
        let before = place.checked_sub(1);
        let start = before.and_then(|before| self.ends.get(before));
        self.text.get(start.copied().unwrap_or(0)..end)
    }

    pub(in crate::class::sheet) fn iter(self) -> impl Iterator<Item = &'r str> + Clone {
        (0..self.len()).filter_map(move |place| self.get(place))
    }
}

/// Where the cells of a row are put together; used again for each row.
pub(in crate::class::sheet) struct RecordBuffer {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    pub(in crate::class::sheet) written: usize,
    pub(in crate::class::sheet) ended: usize,
}

/// How far a row was read.
pub(in crate::class::sheet) enum Progress {
    Row,
    /// The input is used up, and the row may go on.
    Open,
    /// There is no row.
    Nothing,
}

impl RecordBuffer {
    pub(in crate::class::sheet) fn new() -> Self {
        RecordBuffer {
            bytes: vec![0; 1024],
            ends: vec![0; 64],
            written: 0,
            ended: 0,
        }
    }

    pub(in crate::class::sheet) fn wipe(&mut self) {
        (self.written, self.ended) = (0, 0);
    }

    /// Goes on with a row; no input says that there is none any more. Returns how many bytes were
    /// used.
    pub(in crate::class::sheet) fn read(
        &mut self,
        reader: &mut Reader,
        mut input: &[u8],
    ) -> (Progress, usize) {
        let over = input.is_empty();
        let mut used = 0;
        loop {
            let bytes = self.bytes.get_mut(self.written..).unwrap_or_default();
            let ends = self.ends.get_mut(self.ended..).unwrap_or_default();
            let (result, read, written, ended) = reader.read_record(input, bytes, ends);
            used += read;
            self.written += written;
            self.ended += ended;
            let progress = match result {
                ReadRecordResult::OutputFull => {
                    self.bytes.resize(2 * self.bytes.len(), 0);
                    None
                }
                ReadRecordResult::OutputEndsFull => {
                    self.ends.resize(2 * self.ends.len(), 0);
                    None
                }
                ReadRecordResult::InputEmpty => Some(Progress::Open),
                ReadRecordResult::Record => Some(Progress::Row),
                ReadRecordResult::End => Some(Progress::Nothing),
            };
            input = input.get(read..).unwrap_or_default();
            match progress {
                Some(progress) => return (progress, used),
                None if input.is_empty() && !over => return (Progress::Open, used),
                None => {}
            }
        }
    }

    /// Reads one row of a text that ends where the row may end.
    pub(in crate::class::sheet) fn read_whole(&mut self, reader: &mut Reader, text: &str) -> usize {
        self.wipe();
        let (progress, used) = self.read(reader, text.as_bytes());
        if matches!(progress, Progress::Open) {
            self.read(reader, &[]);
        }
        used
    }

    /// What was written. It is cut from text at ASCII characters, so it is text.
    pub(in crate::class::sheet) fn cells(&self) -> Cells<'_> {
        let bytes = self.bytes.get(..self.written).unwrap_or_default();
        Cells {
            text: core::str::from_utf8(bytes).unwrap_or_default(),
            ends: self.ends.get(..self.ended).unwrap_or_default(),
        }
    }
}

/// The first row of a text, each cell by `of`, and its length in bytes.
pub(in crate::class::sheet) fn first_record(
    text: &str,
    separator: u8,
    of: fn(&str) -> String,
) -> (Vec<String>, usize) {
    let mut record_buffer = RecordBuffer::new();
    let length = record_buffer.read_whole(&mut reader(separator, true), text);
    (record_buffer.cells().iter().map(of).collect(), length)
}
