//! The files that a program writes: replaced together or not at all.

use std::ffi::OsString;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf, is_separator};

use same_file::{Handle, is_same_file};

use super::input::reason;

/// A file to be written.
pub(crate) struct Output {
    /// The option that names it.
    option: &'static str,
    path: PathBuf,
    bytes: Vec<u8>,
}

/// A file that is complete under a temporary name in the folder of its target.
pub(crate) struct Staged<'a> {
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

    fn failure(&self, why: &str) -> String {
        format!(
            "{}: {} could not be written: {why}",
            self.option,
            self.path.display()
        )
    }

    /// The path to write to, and what is known of the file that is there. A link is followed. Only an
    /// ordinary file that may be written to is replaced.
    fn target(&self) -> Result<(PathBuf, Option<Metadata>), String> {
        let failure = |why: &str| Err(self.failure(why));
        let is_link = || fs::symlink_metadata(&self.path).is_ok();
        let old = match fs::metadata(&self.path) {
            Err(error) if error.kind() != ErrorKind::NotFound => {
                return Err(self.failure(&reason(&error)));
            }
            Err(_) if is_link() => {
                return failure(
                    "it is a link to a file that does not exist; correct or remove the link",
                );
            }
            Err(_) => return Ok((self.path.clone(), None)),
            Ok(old) if old.is_dir() => {
                return failure("it is a folder; give the name of a file");
            }
            Ok(old) if !old.is_file() => {
                return failure("it is not an ordinary file; give another name");
            }
            Ok(old) => old,
        };
        // The administrator may write to every file, also to one that is meant to stay as it is.
        let writable = match OpenOptions::new().write(true).open(&self.path) {
            Ok(_) => !old.permissions().readonly(),
            Err(error) if error.kind() == ErrorKind::PermissionDenied => false,
            Err(error) => return Err(self.failure(&reason(&error))),
        };
        if !writable {
            return failure("it is read-only; allow writing to it, or give another name");
        }
        let target = fs::canonicalize(&self.path).map_err(|error| self.failure(&reason(&error)))?;
        Ok((target, Some(old)))
    }

    fn stage(&self) -> Result<Staged<'_>, String> {
        let (target, old) = self.target()?;
        let bytes = target.as_os_str().as_encoded_bytes();
        let is_folder = bytes
            .last()
            .is_some_and(|last| is_separator(char::from(*last)));
        if target.file_name().is_none() || is_folder {
            return Err(self.failure("it has no name; give the name of a file"));
        }
        let (mut file, temporary) =
            create_beside(&target, old.as_ref()).map_err(|error| match error.kind() {
                ErrorKind::NotFound => {
                    self.failure("its folder does not exist; create the folder first")
                }
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => self.failure(
                    "its folder is read-only; give a name in a folder that you may write to",
                ),
                _ => self.failure(&reason(&error)),
            })?;
        // From here on the temporary file is removed if anything fails.
        let staged = Staged {
            output: self,
            temporary,
            target,
        };
        old.map_or(Ok(()), |old| keep_access(&file, &old))
            .and_then(|()| file.write_all(&self.bytes))
            .and_then(|()| file.sync_all())
            .map_err(|error| self.failure(&reason(&error)))?;
        Ok(staged)
    }
}

/// Creates a file with a temporary name in the folder of `target`, which nobody else may read unless
/// they may read the target. What a run that was ended by force left under that name is removed.
fn create_beside(target: &Path, old: Option<&Metadata>) -> io::Result<(File, PathBuf)> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    if let Some(old) = old {
        use std::os::unix::fs::{MetadataExt, OpenOptionsExt};
        options.mode(old.mode());
    }
    #[cfg(not(unix))]
    let _ = old;
    let mut name = OsString::from(".");
    name.push(target.file_name().unwrap_or_default());
    name.push(concat!(".", env!("CARGO_CRATE_NAME"), ".part"));
    let path = target.with_file_name(name);
    match fs::remove_file(&path) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
        _ => options.open(&path).map(|file| (file, path)),
    }
}

/// Gives a new file the owner, the group and the permissions of the old one.
fn keep_access(file: &File, old: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        let new = file.metadata()?;
        if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
            let kept = fchown(file, Some(old.uid()), Some(old.gid()));
            kept.map_err(|error| {
                io::Error::other(format!("its owner cannot be kept: {}", reason(&error)))
            })?;
        }
    }
    file.set_permissions(old.permissions())
}

impl Drop for Staged<'_> {
    /// Removes a temporary file that was not renamed.
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.temporary);
    }
}

/// Writes all files under temporary names. If one cannot be written, none stays.
pub(crate) fn stage(outputs: &[Output]) -> Result<Vec<Staged<'_>>, String> {
    outputs.iter().map(Output::stage).collect()
}

/// Gives all files their names. If that fails, the message names those that have theirs already.
pub(crate) fn replace(staged: Vec<Staged<'_>>) -> Result<(), String> {
    let mut written = Vec::new();
    for file in staged {
        if let Err(error) = fs::rename(&file.temporary, &file.target) {
            let failure = file.output.failure(&reason(&error));
            return Err(match written.is_empty() {
                true => format!("{failure}; no file was replaced"),
                false => format!("{failure}; already written: {}", written.join(", ")),
            });
        }
        written.push(file.output.path.display().to_string());
    }
    Ok(())
}

/// What a file of the command line is, and its path.
pub(crate) type Given<'a> = (&'a str, &'a Path);

/// Refuses to write to a file that is also read or written twice, be it by a stream of the program.
pub(crate) fn refuse_same_file(outputs: &[Given<'_>], inputs: &[Given<'_>]) -> Result<(), String> {
    let refused = |one: &str, other: &str, path: &Path| {
        Err(format!(
            "{one} and {other} name the same file, {}; give two different files",
            path.display()
        ))
    };
    for (index, (option, path)) in outputs.iter().enumerate() {
        for (other, other_path) in inputs.iter().chain(outputs.iter().skip(index + 1)) {
            if is_same(path, other_path) {
                return refused(option, other, path);
            }
        }
    }
    // Pipes, terminals and devices lose nothing.
    let files = outputs.iter().chain(inputs);
    for (name, path) in files.filter(|(_, path)| path.is_file()) {
        for (stream, printed) in [
            ("standard output", Handle::stdout()),
            ("standard error", Handle::stderr()),
        ] {
            if printed.is_ok_and(|out| Handle::from_path(path).is_ok_and(|file| file == out)) {
                return refused(stream, name, path);
            }
        }
    }
    Ok(())
}

/// Says whether two paths lead to one file: by a link of either kind, or as one name of a new file.
fn is_same(one: &Path, other: &Path) -> bool {
    // A pipe that is opened would wait.
    let are_files = one.is_file() && other.is_file();
    one == other
        || (real(one).is_some() && real(one) == real(other))
        || (are_files && is_same_file(one, other).unwrap_or(false))
}

/// The path without links. A file that does not exist yet is known by its folder and its name.
fn real(path: &Path) -> Option<PathBuf> {
    fs::canonicalize(path).ok().or_else(|| {
        let folder = path.parent().filter(|folder| *folder != Path::new(""));
        let folder = fs::canonicalize(folder.unwrap_or(Path::new("."))).ok()?;
        Some(folder.join(path.file_name()?))
    })
}
