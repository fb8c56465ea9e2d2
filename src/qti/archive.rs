//! ZIP files: written the same on every machine, and read with care.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::{self, Cursor, Read, Seek, SeekFrom, Write};

use zip::write::{FileOptions, SimpleFileOptions};
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::error::{Error, ErrorKind, bad_file, wrong};

/// The most files of a package.
pub(super) const MOST_FILES: usize = 10_002;
/// The largest package, in megabytes. All its files together may not have more.
const LARGEST: u64 = 512;
/// The record at the end of a ZIP file, without the comment that may follow it.
const END_RECORD: usize = 22;
/// An entry of the list of files, without its name, extra fields and comment.
const ENTRY: usize = 46;
/// The number of the system.
const UNIX: u8 = 3;

/// A ZIP file in memory. Its files are not compressed, and nothing in it depends on the machine or the time.
pub(super) struct Archive {
    zip: ZipWriter<Cursor<Vec<u8>>>,
}

impl Archive {
    pub(super) fn new() -> Archive {
        Archive {
            zip: ZipWriter::new(Cursor::new(Vec::new())),
        }
    }

    pub(super) fn add(&mut self, name: &str, bytes: &[u8]) -> io::Result<()> {
        let options: SimpleFileOptions = FileOptions::DEFAULT
            .compression_method(CompressionMethod::Stored)
            .last_modified_time(DateTime::DEFAULT)
            .unix_permissions(0o644);
        self.zip.start_file(name, options)?;
        self.zip.write_all(bytes)
    }

    pub(super) fn finish(self) -> io::Result<Vec<u8>> {
        let mut bytes = self.zip.finish()?.into_inner();
        say_made_on_unix(&mut bytes);
        Ok(bytes)
    }
}

/// Says of each file that it was made on Unix. The entry of a file in the list at the end of the ZIP file says on which
/// system it was, and so would differ on Windows.
fn say_made_on_unix(zip: &mut [u8]) {
    let record = zip.len().saturating_sub(END_RECORD);
    let number = |zip: &[u8], at: usize| match zip.get(at..at + 2) {
        Some([low, high]) => usize::from(u16::from_le_bytes([*low, *high])),
        _ => 0,
    };
    let mut entry = number(zip, record + 16) + (number(zip, record + 18) << 16);
    for _ in 0..number(zip, record + 10) {
        if let Some(system) = zip.get_mut(entry + 5) {
            *system = UNIX;
        }
        let lengths = [28, 30, 32].map(|field| number(zip, entry + field));
        entry += ENTRY + lengths.iter().sum::<usize>();
    }
}

/// Reads all files of a ZIP file, by their names.
pub(super) fn read_files(
    mut package: impl Read + Seek,
) -> Result<BTreeMap<String, Vec<u8>>, Error> {
    let bad = |what: String, help: &str| wrong(ErrorKind::BadPackage, what, help);
    if package.seek(SeekFrom::End(0))? > LARGEST << 20 {
        let what = format!("the package is larger than {LARGEST} MB");
        return Err(bad(what, "check that it is the right file"));
    }
    let not_zip = |_| {
        let what = "the package is not a ZIP file, or it is damaged";
        bad(what.into(), "check that it is the right file")
    };
    let mut zip = ZipArchive::new(package).map_err(not_zip)?;
    let (listed, comment) = (zip.len(), zip.comment().len());
    let mut files = BTreeMap::new();
    let mut total = 0;
    for index in 0..listed {
        let (name, is_stored, size) = {
            let file = zip.by_index_raw(index).map_err(not_zip)?;
            let is_stored = file.compression() == CompressionMethod::Stored && !file.encrypted();
            (
                file.name().to_string(),
                is_stored,
                file.size().max(file.compressed_size()),
            )
        };
        total += size;
        if !is_inside(&name) {
            return Err(bad_file(
                &name,
                "this is not the name of a file in a package",
            ));
        }
        if !is_stored {
            let what = format!("{name}: the file is compressed or has a password");
            return Err(bad(what, "pack the files without compression"));
        }
        if total > LARGEST << 20 || listed > MOST_FILES {
            let what = format!("the package has more than {MOST_FILES} files or {LARGEST} MB");
            return Err(bad(what, "check that it is the right file"));
        }
        if name.ends_with('/') {
            continue;
        }
        let mut bytes = Vec::new();
        let mut file = zip.by_index(index).map_err(not_zip)?;
        let read = file.read_to_end(&mut bytes);
        read.map_err(|_| bad_file(&name, "the file is damaged"))?;
        files.insert(name, bytes);
    }
    let what = match files_at_end(zip.into_inner(), comment)? {
        Some(files_at_end) if files_at_end == listed => return Ok(files),
        Some(_) => "two files of the package have the same name",
        None => "something follows the end of the package",
    };
    Err(bad(what.into(), "make the package again"))
}

/// The number of files that the record at the end has. A list by names has less if a name appears twice. There is no
/// number if the record is not at the end.
fn files_at_end(mut package: impl Read + Seek, comment: usize) -> Result<Option<usize>, Error> {
    let mut record = [0; END_RECORD];
    let back = i64::try_from(END_RECORD + comment).unwrap_or(i64::MAX);
    package.seek(SeekFrom::End(-back))?;
    package.read_exact(&mut record)?;
    let [.., low, high, _, _, _, _, _, _, _, _, _, _] = record;
    let files = usize::from(u16::from_le_bytes([low, high]));
    Ok(record.starts_with(b"PK\x05\x06").then_some(files))
}

/// Whether a name leads to a file in the package: words of letters, digits, hyphens, underscores and dots.
fn is_inside(name: &str) -> bool {
    let is_word = |word: &str| {
        let is_allowed =
            |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.');
        !word.is_empty() && !word.starts_with('.') && word.bytes().all(is_allowed)
    };
    name.strip_suffix('/')
        .unwrap_or(name)
        .split('/')
        .all(is_word)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// On Windows the entries say another system.
    #[test]
    fn a_file_is_the_same_on_every_system() {
        let mut archive = Archive::new();
        for name in ["a", "b/c.xml"] {
            archive.add(name, b"PK\x01\x02 is no entry").unwrap();
        }
        let bytes = archive.finish().unwrap();
        let mut entries = bytes.clone();
        let systems = |bytes: &[u8]| -> Vec<u8> {
            let places = (0..bytes.len()).filter(|at| bytes[*at..].starts_with(b"PK\x01\x02\x0a"));
            places.map(|at| bytes[at + 5]).collect()
        };
        assert_eq!(systems(&bytes), [UNIX, UNIX]);
        for at in 0..bytes.len() {
            if bytes[at..].starts_with(b"PK\x01\x02\x0a") {
                entries[at + 5] = 0;
            }
        }
        assert_eq!(systems(&entries), [0, 0]);
        say_made_on_unix(&mut entries);
        assert_eq!(entries, bytes);
    }
}
