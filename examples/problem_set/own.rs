//! Templates and salts of an author's own.

use std::path::Path;
use std::process::ExitCode;

use effloresce::exercise::{OwnSalts, Template};

use crate::command_line::{explain, print};
use crate::input;
use crate::packaged;
use crate::read::read_text;

/// The longest template, in megabytes.
const LONGEST: u64 = 1;

/// Reads the hydrates of a course.
pub(crate) fn salts(option: &str, path: &Path) -> Result<OwnSalts, String> {
    let file = input::open(path).map_err(|why| format!("{option}: {why}"))?;
    OwnSalts::read(file)
        .map_err(|error| format!("{option}: {}: {}", path.display(), explain(&error.into())))
}

/// Reads a template of problems.
pub(crate) fn template(option: &str, path: &Path) -> Result<Template, String> {
    let text = read_text(path, LONGEST).map_err(|why| format!("{option}: {why}"))?;
    Template::read(text.trim_start_matches('\u{FEFF}'))
        .map_err(|error| format!("{option}: {}: {}", path.display(), explain(&error.into())))
}

/// Prints what is wrong with a template or a list of salts.
pub(crate) fn check(path: &Path) -> Result<ExitCode, String> {
    let ending = path.extension().unwrap_or_default();
    if ending.eq_ignore_ascii_case("zip") {
        return packaged::check(path);
    }
    let notes = match ending.eq_ignore_ascii_case("csv") {
        true => salts("--check", path)?.notes().to_vec(),
        false => template("--check", path)?.check(),
    };
    if notes.is_empty() {
        print(&format!("Nothing is wrong with {}.\n", path.display()))?;
        return Ok(ExitCode::SUCCESS);
    }
    let lines = notes.iter().map(|note| format!("- {}\n", note.text()));
    print(&lines.collect::<String>())?;
    Ok(ExitCode::FAILURE)
}
