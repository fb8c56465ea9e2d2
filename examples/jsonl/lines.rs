//! Lines of the input, as bytes. A line beyond the limit is read to its end but not kept.

use std::io::{self, BufRead, BufReader, ErrorKind, Read};

/// The longest line that is answered, in bytes. A class sheet of 100,000 rows is far shorter.
pub(crate) const LONGEST: usize = 64 << 20;

pub(crate) enum Line<'a> {
    /// A line without its end.
    Whole(&'a [u8]),
    /// A line beyond the limit.
    TooLong,
}

pub(crate) struct Lines<R> {
    input: BufReader<R>,
    line: Vec<u8>,
    limit: usize,
}

impl<R: Read> Lines<R> {
    pub(crate) fn new(input: R, limit: usize) -> Self {
        Lines {
            input: BufReader::with_capacity(1 << 16, input),
            line: Vec::new(),
            limit,
        }
    }

    /// The next line, `None` at the end of the input.
    ///
    /// `pause` is called before each read that may have to wait, because the writer of the input may
    /// be waiting for its replies.
    pub(crate) fn next(
        &mut self,
        mut pause: impl FnMut() -> io::Result<()>,
    ) -> io::Result<Option<Line<'_>>> {
        // The memory of one very long line is given back.
        self.line.clear();
        self.line.shrink_to(1 << 20);
        let mut too_long = false;
        let mut ended = false;
        let mut any = false;
        while !ended {
            if self.input.buffer().is_empty() {
                pause()?;
            }
            let bytes = match self.input.fill_buf() {
                Ok(bytes) => bytes,
                Err(error) if error.kind() == ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            if bytes.is_empty() {
                break;
            }
            any = true;
            let end = bytes.iter().position(|byte| *byte == b'\n');
            ended = end.is_some();
            let part = &bytes[..end.unwrap_or(bytes.len())];
            too_long |= self.line.len() + part.len() > self.limit;
            if !too_long {
                self.line.extend_from_slice(part);
            }
            let used = part.len() + usize::from(ended);
            self.input.consume(used);
        }
        Ok(match (any, too_long) {
            (false, _) => None,
            (true, true) => Some(Line::TooLong),
            (true, false) => Some(Line::Whole(&self.line)),
        })
    }
}
