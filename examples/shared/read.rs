//! Whole files that a program reads.

use std::io::Read;
use std::path::Path;

use crate::input;

/// The text of a file of at most some megabytes.
pub(crate) fn read_text(path: &Path, megabytes: u64) -> Result<String, String> {
    String::from_utf8(read_bytes(path, megabytes)?)
        .map_err(|_| format!("{} is not UTF-8 text; save it as UTF-8", path.display()))
}

pub(crate) fn read_bytes(path: &Path, megabytes: u64) -> Result<Vec<u8>, String> {
    let longest = megabytes << 20;
    let mut bytes = Vec::new();
    let read = input::open(path)?
        .take(longest + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| {
            format!(
                "{} could not be read: {}",
                path.display(),
                input::reason(&error)
            )
        })?;
    if read as u64 > longest {
        let path = path.display();
        return Err(format!(
            "{path} is longer than {megabytes} MB; check that it is the right file"
        ));
    }
    Ok(bytes)
}
