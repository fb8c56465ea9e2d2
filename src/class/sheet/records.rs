//! Rows of cells with the lines on which they start.

use csv::{Reader, ReaderBuilder, StringRecord};

use crate::class::{Error, ErrorKind};
use crate::text::Detail;

/// The physical lines of a text: number, where it starts, content without its end.
pub(super) struct Lines<'t> {
    text: &'t str,
    at: usize,
    line: u64,
}

impl<'t> Lines<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Lines {
            text,
            at: 0,
            line: 0,
        }
    }

    /// The number of the line that holds the byte `at`; asked in ascending order.
    fn line_of(&mut self, at: usize) -> u64 {
        while self.at <= at && self.next().is_some() {}
        self.line
    }
}

impl<'t> Iterator for Lines<'t> {
    type Item = (u64, usize, &'t str);

    fn next(&mut self) -> Option<Self::Item> {
        let rest = self.text.get(self.at..).filter(|rest| !rest.is_empty())?;
        let start = self.at;
        let length = rest.find(['\r', '\n']).unwrap_or(rest.len());
        let (content, end) = rest.split_at(length);
        let end = if end.starts_with("\r\n") {
            2
        } else {
            usize::from(!end.is_empty())
        };
        self.at = start + length + end;
        self.line += 1;
        Some((self.line, start, content))
    }
}

fn reader(text: &str, separator: u8, quoting: bool) -> Reader<&[u8]> {
    ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .quoting(quoting)
        .from_reader(text.as_bytes())
}

/// The first row of a text, and its length in bytes.
pub(super) fn first(text: &str, separator: u8) -> (StringRecord, usize) {
    let mut record = StringRecord::new();
    let mut reader = reader(text, separator, true);
    // Reading from memory fails on nothing but what is not UTF-8, which a `str` is.
    let read = reader.read_record(&mut record).unwrap_or(false);
    let length = if read { offset(&reader) } else { 0 };
    (record, length)
}

fn offset(reader: &Reader<&[u8]>) -> usize {
    usize::try_from(reader.position().byte()).unwrap_or(usize::MAX)
}

/// One row.
pub(super) struct Record {
    pub(super) line: u64,
    pub(super) cells: StringRecord,
    /// A quotation mark of this row would have swallowed the rows after it, so its first line was
    /// read with quotation marks as plain characters.
    pub(super) open_quote: bool,
}

/// The rows below a header.
pub(super) struct Records<'t> {
    text: &'t str,
    separator: u8,
    columns: usize,
    lines: Lines<'t>,
    reader: Reader<&'t [u8]>,
    /// Where in the text the reader began.
    base: usize,
    /// Bytes that may yet be read twice because of quotation marks left open, so that no text
    /// takes time that grows with the square of its length.
    budget: usize,
}

impl<'t> Records<'t> {
    pub(super) fn new(text: &'t str, start: usize, separator: u8, columns: usize) -> Self {
        Records {
            text,
            separator,
            columns,
            lines: Lines::new(text),
            reader: reader(text.get(start..).unwrap_or_default(), separator, true),
            base: start,
            budget: (1 << 20) + 8 * text.len(),
        }
    }

    pub(super) fn next(&mut self) -> Result<Option<Record>, Error> {
        let mut start = self.base + offset(&self.reader);
        let mut cells = StringRecord::new();
        let read = self.reader.read_record(&mut cells).map_err(|error| {
            Error::new(
                ErrorKind::Unreadable,
                Detail::new(alloc::format!("a row could not be read: {error}"))
                    .help("export the sheet again as CSV (UTF-8)"),
            )
        })?;
        if !read {
            return Ok(None);
        }
        // Blank lines before a row belong to it for the reader; the row starts below them.
        let skipped = self.text.get(start..).unwrap_or_default();
        start += skipped.len() - skipped.trim_start_matches(['\r', '\n']).len();
        let line = self.lines.line_of(start);
        let end = self.base + offset(&self.reader);
        let raw = self.text.get(start..end).unwrap_or_default();
        if !swallows(raw, self.separator, self.columns) {
            return Ok(Some(Record {
                line,
                cells,
                open_quote: false,
            }));
        }
        let length = raw.find(['\r', '\n']).unwrap_or(raw.len());
        let Some(budget) = self.budget.checked_sub(raw.len() - length) else {
            return Err(Error::new(
                ErrorKind::OpenQuotes,
                Detail::new("quotation marks are opened and not closed in many rows")
                    .help("remove the quotation marks from the cells and read the sheet again"),
            ));
        };
        self.budget = budget;
        let mut plain = reader(raw.get(..length).unwrap_or_default(), self.separator, false);
        plain.read_record(&mut cells).unwrap_or(false);
        self.base = start + length;
        let rest = self.text.get(self.base..).unwrap_or_default();
        self.reader = reader(rest, self.separator, true);
        Ok(Some(Record {
            line,
            cells,
            open_quote: true,
        }))
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
        if raw.get(at) != Some(&b'"') {
            // To the start of the next cell.
            while raw.get(at).is_some_and(|b| !ends(*b)) {
                at += 1;
            }
            at += 1;
            continue;
        }
        at += 1;
        let open = at;
        let mut closed = false;
        while let Some(byte) = raw.get(at) {
            if *byte == b'"' {
                if raw.get(at + 1) != Some(&b'"') {
                    closed = true;
                    break;
                }
                at += 1;
            }
            at += 1;
        }
        let inside = raw.get(open..at.min(raw.len())).unwrap_or_default();
        let wide = inside.iter().filter(|b| **b == separator).count() + 1 >= columns;
        let broken = inside.iter().any(|b| matches!(b, b'\r' | b'\n'));
        let opens_another =
            inside.last().is_some_and(|b| ends(*b)) || raw.get(at + 1).is_some_and(|b| !ends(*b));
        if wide && broken && (!closed || opens_another) {
            return true;
        }
        // To the start of the next cell, past what follows the mark.
        while raw.get(at).is_some_and(|b| !ends(*b)) {
            at += 1;
        }
        at += 1;
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[test]
    fn open_quotes_have_an_end() {
        let text = "\"a,b,c\nd,e,f\ng,h,i\n";
        let mut records = Records::new(text, 0, b',', 3);
        let first = records.next().unwrap().unwrap();
        assert!(first.open_quote);
        assert_eq!(first.cells, alloc::vec!["\"a", "b", "c"]);
        let second = records.next().unwrap().unwrap();
        assert_eq!((second.line, second.open_quote), (2, false));

        let mut records = Records::new(text, 0, b',', 3);
        records.budget = 12;
        let error = records.next().err().unwrap();
        assert_eq!(
            error.to_string(),
            "quotation marks are opened and not closed in many rows"
        );
        assert_eq!(error.kind(), ErrorKind::OpenQuotes);
        records = Records::new(text, 0, b',', 3);
        records.budget = 13;
        assert!(records.next().is_ok());
    }
}
