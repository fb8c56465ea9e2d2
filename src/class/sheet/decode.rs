//! Bytes to text: the encodings in which spreadsheets export.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use std::io::Read;

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

use crate::class::{Error, ErrorKind};
use crate::text::{Detail, Note};

/// Some hundred thousand rows; a class has thirty.
pub(super) const MOST_BYTES: u64 = 16 << 20;

/// Everything that `source` holds, as text without a byte-order mark.
pub(super) fn text(source: impl Read, notes: &mut Vec<Note>) -> Result<String, Error> {
    let mut bytes = Vec::new();
    source
        .take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| {
            Error::new(
                ErrorKind::Unreadable,
                Detail::new(format!("the sheet could not be read: {error}"))
                    .help("check that the file can be opened and is complete"),
            )
        })?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(Error::new(
            ErrorKind::TooLarge,
            Detail::new(format!(
                "the sheet is larger than {} MiB",
                MOST_BYTES / (1 << 20)
            ))
            .help("give one file for each class"),
        ));
    }
    decode(&bytes, notes)
}

fn decode(bytes: &[u8], notes: &mut Vec<Note>) -> Result<String, Error> {
    let marked = Encoding::for_bom(bytes);
    let (encoding, body) = match marked {
        Some((encoding, length)) => (encoding, bytes.get(length..).unwrap_or_default()),
        None if core::str::from_utf8(bytes).is_ok() => (UTF_8, bytes),
        None => (WINDOWS_1252, bytes),
    };
    let (text, damaged) = encoding.decode_without_bom_handling(body);
    // Workbooks are archives full of zero bytes; so is UTF-16 without its mark.
    if text.contains('\0') {
        return Err(Error::new(
            ErrorKind::NotText,
            Detail::new(
                "this is no text: it may be a workbook, or UTF-16 without a byte-order mark",
            )
            .help("export the sheet from the spreadsheet as CSV (UTF-8)"),
        ));
    }
    if marked.is_none() && encoding == WINDOWS_1252 {
        notes.push(
            Note::new(
                "encoding",
                "The sheet is not UTF-8 and was taken as Windows-1252; look at the names with \
                 accents.",
            )
            .with("encoding", encoding.name()),
        );
    } else if damaged {
        notes.push(
            Note::new(
                "encoding",
                format!(
                    "Some bytes of the sheet are not valid {}; they are shown as \u{FFFD}.",
                    encoding.name()
                ),
            )
            .with("encoding", encoding.name()),
        );
    }
    // A tool that adds a mark to a text that has one leaves two.
    Ok(text.trim_start_matches('\u{FEFF}').into())
}
