//! The files on the command line: read with a limit, written completely or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process;

/// A file to be written.
pub(crate) struct Output {
    /// The option that names it.
    option: &'static str,
    path: PathBuf,
    bytes: Vec<u8>,
}

/// A file that is written under a temporary name in the folder of its target.
struct Staged<'a> {
    output: &'a Output,
    temporary: PathBuf,
    target: PathBuf,
}

impl Output {
    pub(crate) fn new(option: &'static str, path: &Path, bytes: Vec<u8>) -> Self {
        Output {
            option,
            path: path.into(),
            bytes,
        }
    }

    fn failure(&self, why: impl std::fmt::Display) -> String {
        format!(
            "{}: {} could not be written: {why}",
            self.option,
            self.path.display()
        )
    }

    /// The path to write to. Links are followed, and only an ordinary file is replaced.
    fn target(&self) -> Result<PathBuf, String> {
        match fs::metadata(&self.path) {
            Ok(found) if found.is_file() => {
                fs::canonicalize(&self.path).map_err(|error| self.failure(error))
            }
            Ok(found) if found.is_dir() => {
                Err(self.failure("it is a folder; give the name of a file"))
            }
            Ok(_) => Err(self.failure("it is not an ordinary file; give another name")),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(self.path.clone()),
            Err(error) => Err(self.failure(error)),
        }
    }

    fn stage(&self) -> Result<Staged<'_>, String> {
        let target = self.target()?;
        let Some(name) = target.file_name() else {
            return Err(self.failure("it has no name; give the name of a file"));
        };
        let name = format!(".{}.{}.part", name.to_string_lossy(), process::id());
        let temporary = target.with_file_name(name);
        let staged = Staged {
            output: self,
            temporary,
            target,
        };
        let opened = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&staged.temporary);
        let written = opened.and_then(|mut file| {
            file.write_all(&self.bytes)?;
            file.sync_all()
        });
        match written {
            Ok(()) => Ok(staged),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                Err(self.failure("its folder does not exist; create the folder first"))
            }
            Err(error) => Err(self.failure(error)),
        }
    }
}

impl Staged<'_> {
    fn rename(self) -> Result<(), String> {
        fs::rename(&self.temporary, &self.target).map_err(|error| self.output.failure(error))
    }
}

impl Drop for Staged<'_> {
    /// Removes a temporary file that was not renamed.
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.temporary);
    }
}

/// Writes all files. If one cannot be written, none is replaced.
pub(crate) fn write_all(outputs: &[Output]) -> Result<(), String> {
    let staged: Vec<Staged<'_>> = outputs
        .iter()
        .map(Output::stage)
        .collect::<Result<_, _>>()?;
    staged.into_iter().try_for_each(Staged::rename)
}

/// Refuses to write to a file that is also read, or written twice.
pub(crate) fn refuse_same_file(
    outputs: &[(&str, &Option<PathBuf>)],
    inputs: &[(&str, &Option<PathBuf>)],
) -> Result<(), String> {
    // A file that does not exist yet is known by its folder and its name.
    let real = |path: &Path| {
        fs::canonicalize(path).ok().or_else(|| {
            let folder = path.parent().filter(|folder| *folder != Path::new(""));
            let folder = fs::canonicalize(folder.unwrap_or(Path::new("."))).ok()?;
            Some(folder.join(path.file_name()?))
        })
    };
    for (index, (option, path)) in outputs.iter().enumerate() {
        let Some(path) = path else { continue };
        for (other, other_path) in inputs.iter().chain(outputs.iter().skip(index + 1)) {
            let Some(other_path) = other_path else {
                continue;
            };
            if path == other_path || (real(path).is_some() && real(path) == real(other_path)) {
                return Err(format!(
                    "{option} and {other} name the same file, {}; give two different files",
                    path.display()
                ));
            }
        }
    }
    Ok(())
}

pub(crate) fn open(path: &Path) -> Result<File, String> {
    File::open(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => format!("there is no file {}; check its name", path.display()),
        _ => format!("{} could not be opened: {error}", path.display()),
    })
}

/// The text of a file, cut at a length that no policy reaches.
pub(crate) fn read_text(path: &Path) -> Result<String, String> {
    /// The policy reader refuses a text of this length.
    const LONGEST: u64 = 1 << 20;
    let mut bytes = Vec::new();
    open(path)?
        .take(LONGEST)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("{} could not be read: {error}", path.display()))?;
    String::from_utf8(bytes)
        .map_err(|_| format!("{} is not UTF-8 text; save it as UTF-8", path.display()))
}
