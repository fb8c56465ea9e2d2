//! The files that are named on the command line: read with a limit, written whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process;

/// A file to be written.
pub(crate) struct Output {
    /// The option that asks for it.
    option: &'static str,
    path: PathBuf,
    bytes: Vec<u8>,
}

/// A file that is written beside its place, and not yet in it.
struct Staged<'a> {
    output: &'a Output,
    beside: PathBuf,
    place: PathBuf,
}

impl Output {
    pub(crate) fn new(option: &'static str, path: &Path, bytes: Vec<u8>) -> Self {
        Output {
            option,
            path: path.into(),
            bytes,
        }
    }

    fn fails(&self, why: impl std::fmt::Display) -> String {
        format!(
            "{}: {} could not be written: {why}",
            self.option,
            self.path.display()
        )
    }

    /// Where the file goes: through links, and never in place of anything but a file.
    fn place(&self) -> Result<PathBuf, String> {
        match fs::metadata(&self.path) {
            Ok(there) if there.is_file() => {
                fs::canonicalize(&self.path).map_err(|error| self.fails(error))
            }
            Ok(there) if there.is_dir() => Err(self.fails("it is a folder; give a file's name")),
            Ok(_) => Err(self.fails("there is something that is no ordinary file")),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(self.path.clone()),
            Err(error) => Err(self.fails(error)),
        }
    }

    fn stage(&self) -> Result<Staged<'_>, String> {
        let place = self.place()?;
        let Some(name) = place.file_name() else {
            return Err(self.fails("give a file's name"));
        };
        let name = format!(".{}.{}.part", name.to_string_lossy(), process::id());
        let beside = place.with_file_name(name);
        let staged = Staged {
            output: self,
            beside,
            place,
        };
        let opened = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&staged.beside);
        let written = opened.and_then(|mut file| {
            file.write_all(&self.bytes)?;
            file.sync_all()
        });
        match written {
            Ok(()) => Ok(staged),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                Err(self.fails("there is no such folder"))
            }
            Err(error) => Err(self.fails(error)),
        }
    }
}

impl Staged<'_> {
    fn put_in_place(self) -> Result<(), String> {
        fs::rename(&self.beside, &self.place).map_err(|error| self.output.fails(error))
    }
}

impl Drop for Staged<'_> {
    /// What was not put in its place is taken away again.
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.beside);
    }
}

/// Writes all files, each whole: whatever fails in writing one leaves every place as it was.
pub(crate) fn write_all(outputs: &[Output]) -> Result<(), String> {
    let staged: Vec<Staged<'_>> = outputs
        .iter()
        .map(Output::stage)
        .collect::<Result<_, _>>()?;
    staged.into_iter().try_for_each(Staged::put_in_place)
}

/// Two names of one file, where one of them is to be written, are refused.
pub(crate) fn keep_apart(
    outputs: &[(&str, &Path)],
    inputs: &[(&str, &Path)],
) -> Result<(), String> {
    // A file that is not there yet is known by its folder and its name.
    let real = |path: &Path| {
        fs::canonicalize(path).ok().or_else(|| {
            let folder = path.parent().filter(|folder| *folder != Path::new(""));
            let folder = fs::canonicalize(folder.unwrap_or(Path::new("."))).ok()?;
            Some(folder.join(path.file_name()?))
        })
    };
    for (index, (option, path)) in outputs.iter().enumerate() {
        let others = inputs.iter().chain(outputs.iter().skip(index + 1));
        for (other, taken) in others {
            if path == taken || (real(path).is_some() && real(path) == real(taken)) {
                return Err(format!(
                    "{option} and {other} name one file, {}; give two",
                    path.display()
                ));
            }
        }
    }
    Ok(())
}

pub(crate) fn open(path: &Path) -> Result<File, String> {
    File::open(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => format!("there is no file {}", path.display()),
        _ => format!("{} could not be opened: {error}", path.display()),
    })
}

/// The text of a file that is longer than no policy is.
pub(crate) fn text(path: &Path) -> Result<String, String> {
    /// Enough to be refused as too long.
    const MOST: u64 = 1 << 20;
    let mut bytes = Vec::new();
    open(path)?
        .take(MOST)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("{} could not be read: {error}", path.display()))?;
    String::from_utf8(bytes).map_err(|_| format!("{} is not UTF-8 text", path.display()))
}
