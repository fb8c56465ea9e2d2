//! The files that a program reads, and the words of the operating system.

use std::fs::File;
use std::io::{self, ErrorKind};
use std::path::Path;

pub(crate) fn open(path: &Path) -> Result<File, String> {
    if path.is_dir() {
        return Err(format!(
            "{} is a folder; give the name of a file",
            path.display()
        ));
    }
    File::open(path).map_err(|error| match error.kind() {
        ErrorKind::NotFound => format!("there is no file {}; check its name", path.display()),
        _ => format!("{} could not be opened: {}", path.display(), reason(&error)),
    })
}

/// The words of the operating system without its number, to be read within a sentence.
pub(crate) fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    let text = match text.rsplit_once(" (os error ") {
        Some((words, _)) => words.to_string(),
        None => text,
    };
    let mut letters = text.chars();
    match letters.next() {
        Some(first) if letters.as_str().starts_with(char::is_lowercase) => {
            format!("{}{}", first.to_lowercase(), letters.as_str())
        }
        _ => text,
    }
}
