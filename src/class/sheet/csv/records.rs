//! Rows of cells with the lines on which they start.

use alloc::format;
use alloc::vec::Vec;
use std::io::Read;

use csv_core::Reader;

use super::encoding::{LOOK_AHEAD, TextSource};
use super::record_buffer::{Cells, Progress, RecordBuffer, reader};
use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note};

/// Returns the physical lines of a text: the offset of each, and the line without its end.
pub(crate) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut start = 0;
    core::iter::from_fn(move || {
        let rest = text.get(start..).filter(|rest| !rest.is_empty())?;
        let length = rest.find(['\r', '\n']).unwrap_or(rest.len());
        let (content, end) = rest.split_at(length);
        let line = (start, content);
        // A line ends with one byte, or with two.
        start += length + usize::from(!end.is_empty()) + usize::from(end.starts_with("\r\n"));
        Some(line)
    })
}

/// One row.
pub(crate) struct Record<'r> {
    pub(crate) line: u64,
    pub(crate) cells: Cells<'r>,
    /// A quotation mark of this row would have swallowed the rows after it, so its first line was
    /// read with quotation marks as plain characters.
    pub(crate) open_quote: bool,
}

/// The rows below a header.
pub(crate) struct Records<R> {
    text: TextSource<R>,
    separator: u8,
    columns: usize,
    reader: Reader,
    buffer: RecordBuffer,
    /// Where in the window the row begins that is being read, and how far it was read.
    start: usize,
    at: usize,
    /// The lines above `start`.
    line_counter: LineCounter,
    /// The line of the row that was read last, and whether it was read without quoting.
    row_line: u64,
    open_quote: bool,
    /// The number of bytes that may still be read twice because of quotation marks left open, so
    /// that no text takes time that grows with the square of its length.
    budget: usize,
}

/// The number of bytes of any sheet that may be read twice, and how many more for each of its
/// bytes.
const LEAST_BUDGET: usize = 16 << 20;
const BUDGET_PER_BYTE: usize = 8;

impl<R: Read> Records<R> {
    pub(crate) fn new(text: TextSource<R>, start: usize, separator: u8, columns: usize) -> Self {
        let budget = LEAST_BUDGET + BUDGET_PER_BYTE * text.window().len();
        let above = text.window().get(..start).unwrap_or_default();
        let mut line_counter = LineCounter {
            line: 1,
            after_return: false,
        };
        line_counter.count(above.as_bytes());
        Records {
            text,
            separator,
            columns,
            reader: reader(separator, true),
            buffer: RecordBuffer::new(),
            start,
            at: start,
            line_counter,
            row_line: 0,
            open_quote: false,
            budget,
        }
    }

    /// Returns how much of the window was read, and how much there is.
    pub(crate) fn parts(&self) -> [usize; 2] {
        [self.at, self.text.window().len()]
    }

    /// Returns the row that was read last.
    #[inline]
    pub(crate) fn record(&self) -> Record<'_> {
        Record {
            line: self.row_line,
            cells: self.buffer.cells(),
            open_quote: self.open_quote,
        }
    }

    /// Reads the next row, and returns whether there is one.
    pub(crate) fn next(&mut self, notes: &mut Vec<Note>) -> Result<bool, Error> {
        self.start = self.at;
        self.buffer.clear();
        let (mut cut, mut ended) = (false, false);
        loop {
            // Empty input would say that the sheet is at its end.
            if self.at >= self.text.window().len() && !self.text.ended() {
                self.skip_line_ends();
                if self.at - self.start >= LOOK_AHEAD {
                    cut = true;
                    break;
                }
                self.more(notes)?;
            }
            let window = self.text.window().as_bytes();
            let input = window.get(self.at..).unwrap_or_default();
            ended = input.is_empty();
            let (progress, used) = self.buffer.read(&mut self.reader, input);
            self.at += used;
            match progress {
                Progress::NoRow => return Ok(false),
                Progress::Row => break,
                Progress::Open => {}
            }
        }
        self.skip_line_ends();
        (self.row_line, self.open_quote) = (self.line_counter.line, false);
        let raw = self.text.window().get(self.start..self.at);
        let raw = raw.unwrap_or_default();
        let quoted = if cut || ended {
            raw.as_bytes().contains(&b'"')
        } else {
            raw.len() > self.buffer.plain_length()
        };
        if quoted && swallows(raw, self.separator, self.columns) {
            return self.read_without_quoting().map(|()| true);
        }
        if cut {
            return Err(row_too_long(self.row_line));
        }
        // A row without quotation marks has no line's end but its last byte.
        let last = raw.len().saturating_sub(1);
        let first = if quoted { 0 } else { last };
        let may_end_lines = raw.as_bytes().get(first..).unwrap_or_default();
        // The row does not begin with a line's end.
        self.line_counter.after_return = false;
        self.line_counter.count(may_end_lines);
        Ok(true)
    }

    /// Reads more of the source, after the row that was begun.
    fn more(&mut self, notes: &mut Vec<Note>) -> Result<(), Error> {
        let kept = self.text.window().len() - self.start;
        loop {
            self.text.more(self.start, notes)?;
            self.at -= self.start;
            self.start = 0;
            let new = self.text.window().len().saturating_sub(kept);
            self.budget += BUDGET_PER_BYTE * new;
            if new > 0 || self.text.ended() {
                return Ok(());
            }
        }
    }

    /// Skips the blank lines before a row, which the reader counts as part of it.
    fn skip_line_ends(&mut self) {
        let raw = self.text.window().as_bytes().get(self.start..self.at);
        let raw = raw.unwrap_or_default();
        let blank = raw.iter().take_while(|b| matches!(b, b'\r' | b'\n'));
        let blank = blank.count();
        self.line_counter
            .count(raw.get(..blank).unwrap_or_default());
        self.start += blank;
    }

    /// Reads the first line of the row with quotation marks as plain characters. The next row is on
    /// the line below it.
    fn read_without_quoting(&mut self) -> Result<(), Error> {
        let raw = self.text.window().get(self.start..self.at);
        let raw = raw.unwrap_or_default();
        let length = raw.find(['\r', '\n']).unwrap_or(raw.len());
        let Some(budget) = self.budget.checked_sub(raw.len() - length) else {
            return Err(Error::new(
                ErrorKind::OpenQuotes,
                Detail::new("quotation marks are opened and not closed in many rows")
                    .help("remove the quotation marks from the cells, and read the sheet again"),
            ));
        };
        self.budget = budget;
        let line = raw.get(..length).unwrap_or_default();
        self.buffer
            .read_whole(&mut reader(self.separator, false), line);
        self.at = self.start + length;
        self.reader.reset();
        self.line_counter.after_return = false;
        self.open_quote = true;
        Ok(())
    }
}

fn row_too_long(line: u64) -> Error {
    Error::new(
        ErrorKind::TooLarge,
        Detail::new(format!(
            "the row in line {line} is longer than {} MiB",
            LOOK_AHEAD >> 20
        ))
        .help("check that this is a class sheet"),
    )
}

/// Counts the lines of a text.
struct LineCounter {
    line: u64,
    /// Whether the text so far ends with a carriage return, which a line feed may follow.
    after_return: bool,
}

impl LineCounter {
    fn count(&mut self, bytes: &[u8]) {
        for byte in bytes {
            let pair = self.after_return && *byte == b'\n';
            self.line += u64::from(matches!(byte, b'\r' | b'\n') && !pair);
            self.after_return = *byte == b'\r';
        }
    }
}

/// Whether a quoted cell of a row holds whole rows, because its quotation mark was never meant to
/// open it: it has a line's end and as many separators as a row, and it is not closed, or closed by
/// what must be the opening mark of another cell.
fn swallows(raw: &str, separator: u8, columns: usize) -> bool {
    let raw = raw.trim_end_matches(['\r', '\n']).as_bytes();
    if !raw.contains(&b'"') || !raw.iter().any(|b| matches!(b, b'\r' | b'\n')) {
        return false;
    }
    let ends = |b: u8| b == separator || matches!(b, b'\r' | b'\n');
    let mut at = 0;
    while at < raw.len() {
        if raw.get(at) == Some(&b'"') {
            let start = at + 1;
            at = closing_mark(raw, start);
            let inside = raw.get(start..at).unwrap_or_default();
            let wide = inside.iter().filter(|b| **b == separator).count() + 1 >= columns;
            let broken = inside.iter().any(|b| matches!(b, b'\r' | b'\n'));
            let opens_another = inside.last().is_some_and(|b| ends(*b))
                || raw.get(at + 1).is_some_and(|b| !ends(*b));
            if wide && broken && (at >= raw.len() || opens_another) {
                return true;
            }
        }
        // To the start of the next cell.
        while raw.get(at).is_some_and(|b| !ends(*b)) {
            at += 1;
        }
        at += 1;
    }
    false
}

/// Returns the index of the mark that closes a quoted cell, or the length of the row.
fn closing_mark(raw: &[u8], start: usize) -> usize {
    let mut at = start;
    while let Some(byte) = raw.get(at) {
        if *byte == b'"' {
            if raw.get(at + 1) != Some(&b'"') {
                return at;
            }
            at += 1;
        }
        at += 1;
    }
    raw.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::{String, ToString};

    fn records(text: &str) -> Records<&[u8]> {
        let text = TextSource::read_whole(text.as_bytes(), &mut Vec::new()).unwrap();
        Records::new(text, 0, b',', 3)
    }

    #[test]
    fn open_quotes_have_an_end() {
        let text = "\"a,b,c\nd,e,f\ng,h,i\n";
        let mut notes = Vec::new();
        let mut all = records(text);
        assert!(all.next(&mut notes).unwrap());
        let first = all.record();
        assert!(first.open_quote);
        assert_eq!(first.cells.iter().collect::<Vec<_>>(), ["\"a", "b", "c"]);
        assert!(all.next(&mut notes).unwrap());
        let second = all.record();
        assert_eq!((second.line, second.open_quote), (2, false));

        all = records(text);
        all.budget = 12;
        let error = all.next(&mut notes).err().unwrap();
        assert_eq!(
            error.to_string(),
            "quotation marks are opened and not closed in many rows"
        );
        assert_eq!(error.kind(), ErrorKind::OpenQuotes);
        all = records(text);
        all.budget = 13;
        assert!(all.next(&mut notes).is_ok());
    }

    /// Rows longer and shorter than a piece of the source, some of them with line ends within.
    #[test]
    fn pieces_make_no_difference() {
        let row = |number: usize| match number % 7 {
            0 => format!("\"B\r\n{number}\",{},2\r\n", "x".repeat(number % 900)),
            1 => format!("\r\n\nB{number},\u{E4}\u{1F426},2\r\n"),
            _ => format!("B{number},1,2\r\n"),
        };
        let text: String = (0..40_000).map(row).collect();
        assert!(text.len() > 2 * LOOK_AHEAD);
        let mut notes = Vec::new();
        let mut held = records(&text);
        let first = TextSource::read_start(text.as_bytes(), &mut notes).unwrap();
        let mut streamed = Records::new(first, 0, b',', 3);
        let mut count = 0;
        while held.next(&mut notes).unwrap() {
            assert!(streamed.next(&mut notes).unwrap());
            let (row, again) = (held.record(), streamed.record());
            assert_eq!((row.line, row.open_quote), (again.line, again.open_quote));
            assert!(row.cells.iter().eq(again.cells.iter()), "line {}", row.line);
            count += 1;
        }
        assert_eq!(count, 40_000);
        assert!(!streamed.next(&mut notes).unwrap());
        assert!(notes.is_empty());
    }

    #[test]
    fn a_row_has_an_end() {
        let long = "x".repeat(2 * LOOK_AHEAD);
        let mut notes = Vec::new();
        let read = |text: &str, notes: &mut Vec<Note>| {
            let first = TextSource::read_start(text.as_bytes(), notes).unwrap();
            let mut rows = Records::new(first, 0, b',', 3);
            rows.next(notes)?;
            rows.next(notes).map(|_| rows.record().cells.len())
        };
        // Blank lines are no row.
        let blank = format!("a,b,c\n{}d,e,f\n", "\n".repeat(3 * LOOK_AHEAD));
        assert_eq!(read(&blank, &mut notes).unwrap(), 3);
        let error = read(&format!("a,b,c\nd,{long},f\n"), &mut notes).unwrap_err();
        assert_eq!(error.to_string(), "the row in line 2 is longer than 1 MiB");
        assert_eq!(error.kind(), ErrorKind::TooLarge);
        // An open quotation mark makes no long row.
        let open = format!("a,b,\"c\n{}", "d,e,f\n".repeat(LOOK_AHEAD));
        assert_eq!(read(&open, &mut notes).unwrap(), 3);
    }
}
