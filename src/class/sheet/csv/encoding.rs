//! Bytes to text: the encodings in which spreadsheets export.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use std::io::Read;

use encoding_rs::{Decoder, Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::class::sheet::limits::MOST_BYTES;
use crate::class::sheet::remark::SheetRemark;
use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note};

/// The number of bytes that are read before the first row of a streamed sheet, and its longest row.
pub(crate) const LOOK_AHEAD: usize = 1 << 20;
/// The number of bytes that are read at a time after that.
const CHUNK: usize = 64 << 10;
/// The number of bytes that show UTF-16 without its mark.
const SAMPLE: usize = 4 << 10;

/// The text of a source, without a byte-order mark, decoded piece by piece.
pub(crate) struct TextSource<R> {
    source: R,
    /// The bytes that are read and not decoded yet.
    raw: Vec<u8>,
    /// `None` while every byte was ASCII.
    decoder: Option<Decoder>,
    window: String,
    ended: bool,
    damage_noted: bool,
}

/// Returns the words of an error of the operating system without its number.
fn reason(error: &std::io::Error) -> String {
    let mut text = format!("{error}");
    if let Some(words) = text.find(" (os error ") {
        text.truncate(words);
    }
    text
}

impl<R: Read> TextSource<R> {
    /// Reads the whole of a source that is not too large for the memory.
    pub(crate) fn read_whole(source: R, notes: &mut Vec<Note>) -> Result<Self, Error> {
        let mut text = TextSource::new(source);
        text.read(MOST_BYTES + 1)?;
        if text.raw.len() > MOST_BYTES {
            return Err(Error::new(
                ErrorKind::TooLarge,
                Detail::new(format!(
                    "the sheet is larger than {} MiB",
                    MOST_BYTES / (1 << 20)
                ))
                .help("give one file for each class"),
            ));
        }
        text.begin(notes)?;
        text.raw = Vec::new();
        Ok(text)
    }

    /// Reads the first part of a source, which [`more`](TextSource::more) goes on with.
    pub(crate) fn read_start(source: R, notes: &mut Vec<Note>) -> Result<Self, Error> {
        let mut text = TextSource::new(source);
        text.read(LOOK_AHEAD)?;
        text.begin(notes)?;
        Ok(text)
    }

    fn new(source: R) -> Self {
        TextSource {
            source,
            raw: Vec::new(),
            decoder: None,
            window: String::new(),
            ended: false,
            damage_noted: false,
        }
    }

    /// Returns the decoded text that was not let go.
    pub(crate) fn window(&self) -> &str {
        &self.window
    }

    /// Whether the window reaches to the end of the source.
    pub(crate) fn ended(&self) -> bool {
        self.ended
    }

    /// Lets go of the window's first bytes and decodes more after the others. The window may not
    /// grow yet if a character is cut.
    pub(crate) fn more(&mut self, used: usize, notes: &mut Vec<Note>) -> Result<(), Error> {
        if self.window.is_char_boundary(used) {
            self.window.drain(..used);
        }
        self.read(CHUNK)?;
        self.decode(notes)
    }

    /// Reads this number of bytes, or up to the end.
    fn read(&mut self, bytes: usize) -> Result<(), Error> {
        let mut source = (&mut self.source).take(bytes as u64);
        let read = source.read_to_end(&mut self.raw).map_err(|error| {
            Error::new(
                ErrorKind::Unreadable,
                Detail::new(format!("the sheet could not be read: {}", reason(&error)))
                    .help("check that the file can be opened and is complete"),
            )
        })?;
        self.ended = read < bytes;
        Ok(())
    }

    /// Decodes the first part, which shows the encoding or leaves it open.
    fn begin(&mut self, notes: &mut Vec<Note>) -> Result<(), Error> {
        if let Some((encoding, length)) = Encoding::for_bom(&self.raw) {
            self.raw.drain(..length);
            self.decoder = Some(encoding.new_decoder_without_bom_handling());
        } else if let Some(encoding) = utf_16(&self.raw) {
            notes.push(SheetRemark::EncodingAssumed(encoding.name()).into());
            self.decoder = Some(encoding.new_decoder_without_bom_handling());
        }
        self.decode(notes)?;
        // A tool that adds a mark to a text that has one leaves two.
        let marks = self.window.len() - self.window.trim_start_matches('\u{FEFF}').len();
        self.window.drain(..marks);
        Ok(())
    }

    /// Moves the bytes that were read into the window.
    fn decode(&mut self, notes: &mut Vec<Note>) -> Result<(), Error> {
        let before = self.window.len();
        if self.decoder.is_none() {
            let plain = Encoding::ascii_valid_up_to(&self.raw);
            let ascii = core::str::from_utf8(self.raw.get(..plain).unwrap_or_default());
            self.window.push_str(ascii.unwrap_or_default());
            self.raw.drain(..plain);
            self.decoder = self.guess_decoder(notes);
        }
        if let Some(decoder) = &mut self.decoder {
            let most = decoder.max_utf8_buffer_length(self.raw.len());
            self.window.reserve(most.unwrap_or(3 * self.raw.len()));
            let (_, read, damaged) =
                decoder.decode_to_string(&self.raw, &mut self.window, self.ended);
            self.raw.drain(..read);
            if damaged && !self.damage_noted {
                self.damage_noted = true;
                notes.push(SheetRemark::InvalidBytes(decoder.encoding().name()).into());
            }
        }
        // Workbooks are archives full of zero bytes.
        if self
            .window
            .as_bytes()
            .get(before..)
            .is_some_and(|new| new.contains(&0))
        {
            return Err(Error::new(
                ErrorKind::NotText,
                Detail::new("the file is not text: it may be a workbook")
                    .help("export the sheet from the spreadsheet as CSV (UTF-8)"),
            ));
        }
        Ok(())
    }

    /// Returns a decoder by the first characters beyond ASCII: UTF-8 if they are that, otherwise
    /// Windows-1252. `None` if there are none yet.
    fn guess_decoder(&self, notes: &mut Vec<Note>) -> Option<Decoder> {
        let encoding = match core::str::from_utf8(&self.raw) {
            Ok("") => return None,
            Ok(_) => UTF_8,
            Err(error) if error.error_len().is_none() && !self.ended => {
                // A character cut by the end of what was read so far.
                if error.valid_up_to() == 0 {
                    return None;
                }
                UTF_8
            }
            Err(_) => {
                notes.push(SheetRemark::WindowsAssumed(WINDOWS_1252.name()).into());
                WINDOWS_1252
            }
        };
        Some(encoding.new_decoder_without_bom_handling())
    }
}

/// Recognises UTF-16 without its mark, as some spreadsheets export "Unicode text": in plain text
/// one of every two bytes is always zero, and the other never.
fn utf_16(bytes: &[u8]) -> Option<&'static Encoding> {
    let sample = bytes.get(..SAMPLE).unwrap_or(bytes);
    let pairs = sample.chunks_exact(2);
    let all = pairs.len();
    let zeros = |index: usize| pairs.clone().filter(|p| p.get(index) == Some(&0)).count();
    // Separators, blanks and digits alone are that many in any script.
    let many = |zeros: usize| zeros * 10 > all;
    match (zeros(0), zeros(1)) {
        (0, low) if many(low) => Some(UTF_16LE),
        (high, 0) if many(high) => Some(UTF_16BE),
        _ => None,
    }
}
