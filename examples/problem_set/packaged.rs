//! Packages for course platforms: written with their keys, and checked.

use std::fs::File;
use std::path::Path;
use std::process::ExitCode;

use effloresce::qti::{ErrorKind, Package, PackagedItem, read_items};
use effloresce::visible;

use crate::Arguments;
use crate::command_line::{explain, print};
use crate::input;
use crate::paper::{NamedFiles, key_path};
use crate::sheets::Sheets;

/// Said of a package in which nothing wrong is found.
const CHECKED: &str =
    "The manifest, the test and the items agree. How answers are marked is not checked.\n";
/// The widest column of the list of items. A longer cell is printed whole.
const WIDEST: usize = 40;

/// Refuses more items than a package can have, before any is made.
pub(crate) fn check_size(arguments: &Arguments) -> Result<(), String> {
    let items = arguments.count as usize * arguments.versions.unwrap_or(1);
    Package::check_size(items).map_err(|error| explain(&error.into()))
}

/// The package and its key, each with the name of its file, and which is which.
pub(crate) fn files(
    sheets: Sheets,
    arguments: &Arguments,
    path: &Path,
) -> Result<(NamedFiles, String), String> {
    let wrong = |error: effloresce::qti::Error| {
        let option = match error.kind() {
            ErrorKind::Selection => "--select: ",
            _ => "",
        };
        format!("{option}{}", explain(&error.into()))
    };
    let sets = sheets.into_sets()?;
    let mut package = Package::new(&sets).map_err(wrong)?;
    if let Some(title) = &arguments.title {
        package = package.title(title);
    }
    if let Some(siblings) = arguments.select {
        package = package.select(siblings).map_err(wrong)?;
    }
    if arguments.with_options {
        package = package.with_options();
    }
    let (mut zip, mut key) = (Vec::new(), Vec::new());
    package.write(&mut zip).map_err(wrong)?;
    package.write_key(&mut key).map_err(wrong)?;
    let key_path = key_path(path).with_extension("csv");
    let what = format!(
        "The package is in {}.\nThe key is in {}.\n",
        path.display(),
        key_path.display()
    );
    Ok((vec![(path.into(), zip), (key_path, key)], what))
}

/// Prints the items of a package, or what is wrong with it.
pub(crate) fn check(path: &Path) -> Result<ExitCode, String> {
    let file: File = input::open(path).map_err(|why| format!("--check: {why}"))?;
    match read_items(file) {
        Ok(items) => {
            print(&table(&items))?;
            print(CHECKED)?;
            Ok(ExitCode::SUCCESS)
        }
        Err(error) if error.kind() == ErrorKind::BadPackage => {
            print(&format!("- {}\n", explain(&error.into())))?;
            Ok(ExitCode::FAILURE)
        }
        Err(error) => Err(format!("--check: {}", explain(&error.into()))),
    }
}

/// A line for each item, its columns aligned.
fn table(items: &[PackagedItem]) -> String {
    let head = ["Section", "Item", "Kind", "Level", "Form", "Marks"].map(String::from);
    let rows = items.iter().map(|item| {
        [
            item.section().to_string(),
            item.identifier().to_string(),
            item.kind().to_string(),
            item.level().number().to_string(),
            visible(item.form()).into_owned(),
            item.marks().to_string(),
        ]
    });
    let rows: Vec<[String; 6]> = std::iter::once(head).chain(rows).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max();
    let widths: [usize; 6] =
        std::array::from_fn(|column| width(column).unwrap_or_default().min(WIDEST));
    let mut text = String::new();
    for row in &rows {
        let cells = row.iter().zip(widths);
        let cells: Vec<String> = cells
            .map(|(cell, width)| format!("{cell:width$}"))
            .collect();
        text.push_str(cells.join("  ").trim_end());
        text.push('\n');
    }
    text
}
