//! The example programs that `cargo test` builds before it runs any test.

use std::env;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::source::{files, repository};

/// The built program; `source` is its file or folder below `examples/`.
pub(crate) fn built(name: &str, source: &str) -> PathBuf {
    let mut path = env::current_exe().expect("this test program has a path");
    path.pop();
    if path.ends_with("deps") {
        path.pop();
    }
    path.push("examples");
    path.push(format!("{name}{}", env::consts::EXE_SUFFIX));
    let first = format!("run `cargo test`, or `cargo build --example {name}` first");
    assert!(path.is_file(), "there is no {}: {first}", path.display());
    let sources = [
        repository().join("src"),
        repository().join("templates"),
        repository().join("examples").join(source),
    ];
    let newest = sources.iter().map(|source| changed(source)).max();
    assert!(
        newest <= Some(changed(&path)),
        "{} is older than its source: {first}",
        path.display()
    );
    path
}

/// The time of the last change of a file, or of the files in a folder.
fn changed(path: &Path) -> SystemTime {
    let time = |path: &Path| {
        let metadata = path.metadata().expect("a file that is there");
        metadata.modified().expect("files have times")
    };
    if path.is_dir() {
        // Unit tests and documents are not part of a program, so a change of them does not rebuild it.
        let is_no_part = |file: &PathBuf| {
            let below = file.strip_prefix(path).expect("a file of the folder");
            let mut parts = below.iter();
            parts.any(|part| part == "tests" || part == "tests.rs")
                || file.extension().is_some_and(|ending| ending == "md")
        };
        let code = files(path).into_iter().filter(|file| !is_no_part(file));
        code.map(|file| time(&file))
            .max()
            .unwrap_or(SystemTime::UNIX_EPOCH)
    } else {
        time(path)
    }
}
