//! The reader from outside, by whole sentences, and the laws that hold of any bytes.

mod cells;
mod entry;
mod header;
mod laws;
mod limits;
mod rows;
mod shared;
mod suggestions;

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use std::io::Read;

use super::*;
use crate::class::ErrorKind;
use crate::gravimetry::Quantity;
use crate::number::Reading;
use crate::text::Note;

#[track_caller]
fn read(text: &str) -> Sheet {
    Sheet::read(text.as_bytes()).unwrap()
}

/// All problems of a sheet, each as one line.
#[track_caller]
fn problems(text: &str, expected: &[&str]) -> Sheet {
    let sheet = read(text);
    let found: Vec<String> = sheet.problems().iter().map(Problem::to_string).collect();
    assert_eq!(found, expected);
    sheet
}

/// A sheet that has nothing wrong with it.
#[track_caller]
fn clean(text: &str) -> Sheet {
    problems(text, &[])
}

#[track_caller]
fn notes(sheet: &Sheet, expected: &[(&str, &str)]) {
    let found: Vec<(&str, &str)> = sheet.notes().iter().map(|n| (n.code(), n.text())).collect();
    assert_eq!(found, expected);
}

#[track_caller]
fn refused(text: impl AsRef<[u8]>, kind: ErrorKind, message: &str, help: &str) {
    refused_by(&Sheet::reader(), text, kind, message, help);
}

#[track_caller]
fn refused_by(
    reader: &SheetReader,
    text: impl AsRef<[u8]>,
    kind: ErrorKind,
    message: &str,
    help: &str,
) {
    let error = reader.read(text.as_ref()).unwrap_err();
    assert_eq!(error.to_string(), message);
    assert_eq!((error.kind(), error.help()), (kind, Some(help)));
}

fn written(reading: Option<Reading>) -> String {
    reading.map_or_else(|| "none".to_string(), |r| r.to_string())
}

fn all(readings: &[Reading]) -> Vec<String> {
    readings.iter().map(ToString::to_string).collect()
}

/// The crucible, the crucible with hydrate, and each heating, of the first row.
#[track_caller]
fn lead(sheet: &Sheet) {
    let row = &sheet.rows()[0];
    assert_eq!(row.bench(), "Heron");
    assert_eq!(written(row.crucible()), "21.352");
    assert_eq!(written(row.crucible_hydrate()), "24.018");
    assert_eq!(all(row.heated()), ["22.701", "22.656", "22.655"]);
}

#[track_caller]
fn value(row: &Row, quantity: Quantity, expected: &str) {
    let found = row.reported().iter().find(|r| r.quantity() == quantity);
    let found = match found.unwrap().value() {
        ReportedValue::Number(reading) => reading.to_string(),
        other => format!("{other:?}"),
    };
    assert_eq!(found, expected);
}

const LEAD: &str = "\
bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g
Heron,21.352,24.018,22.701,22.656,22.655
";
