//! The texts of a run: a sheet and its key, or JSON with both.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::ValueEnum;
use effloresce::report::{LatexFormulas, PaperFormat};

use crate::Arguments;
use crate::command_line::text_of;
use crate::sheets::Sheets;

/// The form of the texts.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Text,
    Markdown,
    Html,
    Latex,
    Json,
    Qti,
}

/// Files with their names, to be written together.
pub(crate) type NamedFiles = Vec<(PathBuf, Vec<u8>)>;

/// The texts.
pub(crate) struct Paper {
    /// The sheet; with JSON, everything.
    sheet: String,
    key: Option<String>,
}

impl Format {
    /// The format that is asked for, or that of the ending of the file.
    pub(crate) fn of(arguments: &Arguments) -> Result<Format, String> {
        let ending = arguments
            .output
            .as_deref()
            .map(ending)
            .transpose()?
            .flatten();
        let by_ending = match ending.as_deref() {
            Some("md" | "markdown") => Format::Markdown,
            Some("html" | "htm") => Format::Html,
            Some("tex") => Format::Latex,
            Some("json") => Format::Json,
            Some("zip") => Format::Qti,
            None | Some("txt" | "text") => Format::Text,
            Some(_) if arguments.format.is_some() => Format::Text,
            Some(ending) => {
                return Err(format!(
                    "--output: no format has the ending .{ending}; give .txt, .md, .html, .tex, .json or .zip, or choose \
                     with --format"
                ));
            }
        };
        let format = arguments.format.unwrap_or(by_ending);
        if matches!(format, Format::Html | Format::Latex) && arguments.output.is_none() {
            return Err(
                "the sheet and the key are two documents in this format; name a file with --output"
                    .into(),
            );
        }
        let is_package = ending.as_deref() == Some("zip");
        if arguments.output.is_some() && is_package != (format == Format::Qti) {
            return Err("--output: a package has the ending .zip, and nothing else has it; give another ending, or another \
                        --format"
                .into());
        }
        if format == Format::Qti {
            if arguments.output.is_none() {
                return Err("a package is a ZIP file; name one with --output".into());
            }
            if arguments.roster.is_some() {
                return Err(
                    "--roster: a package has no sheet for each code; give --versions".into(),
                );
            }
        } else if arguments.select.is_some() || arguments.with_options {
            return Err("--select and --with-options are for packages; add --format qti".into());
        }
        if arguments.mhchem && format != Format::Latex {
            return Err("--mhchem is for LaTeX; add --format latex".into());
        }
        Ok(format)
    }
}

impl Paper {
    pub(crate) fn drawn(
        sheets: Sheets,
        format: Format,
        arguments: &Arguments,
    ) -> Result<Paper, String> {
        let drawn = match format {
            Format::Text => PaperFormat::Text,
            Format::Markdown => PaperFormat::Markdown,
            Format::Html => PaperFormat::Html,
            Format::Latex => PaperFormat::Latex(match arguments.mhchem {
                true => LatexFormulas::Mhchem,
                false => LatexFormulas::Maths,
            }),
            Format::Json | Format::Qti => {
                return Ok(Paper {
                    sheet: sheets.json()?,
                    key: None,
                });
            }
        };
        let mut paper = sheets.into_paper();
        if let Some(title) = &arguments.title {
            paper = paper.title(title);
        }
        Ok(Paper {
            sheet: text_of(|out| paper.write_sheet(drawn, out))?,
            key: Some(text_of(|out| paper.write_key(drawn, out))?),
        })
    }

    /// The sheet and then the key.
    pub(crate) fn printed(&self) -> String {
        match &self.key {
            Some(key) => format!("{}\n\n{key}", self.sheet),
            None => self.sheet.clone(),
        }
    }

    /// The files with their texts, and which is which.
    pub(crate) fn files(self, path: &Path) -> (NamedFiles, String) {
        let sheet = path.display();
        let Some(key) = self.key else {
            let what = format!("The set with its key is in {sheet}.\n");
            return (vec![(path.into(), self.sheet.into_bytes())], what);
        };
        let key_path = key_path(path);
        let what = format!(
            "The sheet is in {sheet}.\nThe key is in {}.\n",
            key_path.display()
        );
        let texts = [(path.into(), self.sheet), (key_path, key)];
        let files = texts.map(|(path, text)| (path, text.into_bytes()));
        (files.into(), what)
    }
}

/// The ending of a file, in lower case. A name that is nothing but an ending, such as `.zip`, is refused.
fn ending(path: &Path) -> Result<Option<String>, String> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    match path.extension() {
        None if name.starts_with('.') => Err(format!(
            "--output: {name} is an ending without a name; give a name such as week{name}"
        )),
        ending => Ok(ending.map(|ending| ending.to_string_lossy().to_ascii_lowercase())),
    }
}

/// The name with `-key` before its ending.
pub(crate) fn key_path(path: &Path) -> PathBuf {
    let mut name = OsString::from(path.file_stem().unwrap_or_default());
    name.push("-key");
    if let Some(ending) = path.extension() {
        name.push(".");
        name.push(ending);
    }
    path.with_file_name(name)
}
