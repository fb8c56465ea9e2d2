//! The key of a package: what is right, and the error behind each option and each feedback.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use super::entry::{EntryAnswer, ItemEntry, NamedError, ShownBy, with_mark};
use super::item::ProblemItem;
use super::marking::{self, choice_name};
use crate::class::{CsvStyle, not_a_formula, write_csv};
use crate::exercise::short_ends;

const HEADER: [&str; 8] = [
    "item",
    "entry",
    "label",
    "unit",
    "identifier",
    "shown",
    "right",
    "error",
];

/// A line of the key.
struct KeyRow {
    /// The identifier of the option or of the feedback; empty for an answer that is entered.
    identifier: String,
    shown: String,
    is_right: bool,
    /// The code of the wrong step; empty if there is none.
    error: String,
}

/// Writes a line for each right answer, each option and each error that the items name.
pub(super) fn write(items: &[ProblemItem<'_>], out: impl io::Write) -> io::Result<()> {
    let records = items.iter().flat_map(|item| {
        let entries = item.entries.iter().enumerate();
        entries.flat_map(move |(index, entry)| {
            rows(entry, item.comma).into_iter().map(move |row| {
                let right = if row.is_right { "yes" } else { "no" };
                let texts = [&*entry.label, &*entry.unit, &*row.identifier, &*row.shown];
                let mut record = Vec::from([item.identifier.clone(), marking::response(index)]);
                record.extend(texts.map(not_a_formula));
                record.extend([right.to_string(), not_a_formula(&row.error)]);
                record
            })
        })
    });
    write_csv(CsvStyle::default(), &HEADER, records, out)
}

fn rows(entry: &ItemEntry<'_>, comma: bool) -> Vec<KeyRow> {
    let right = |shown: String| {
        Vec::from([KeyRow {
            identifier: String::new(),
            shown,
            is_right: true,
            error: String::new(),
        }])
    };
    let mut rows = match &entry.answer {
        EntryAnswer::Number(number) => {
            let [low, high] = short_ends(&number.printed, &number.low, &number.high);
            let ends = with_mark(format!("{low} to {high}"), comma);
            right(format!("{} ({ends})", number.printed))
        }
        EntryAnswer::Spelling(spelling) => right(spelling.printed.to_string()),
        EntryAnswer::Choice(choice) => {
            let options = choice.options.iter().enumerate();
            options
                .map(|(index, option)| KeyRow {
                    identifier: choice_name(index),
                    shown: option.to_string(),
                    is_right: index == choice.right,
                    error: chosen_error(entry, index),
                })
                .collect()
        }
    };
    let errors = entry.errors.iter().enumerate();
    rows.extend(errors.map(|(index, error)| KeyRow {
        identifier: marking::error_name(index),
        shown: shown_by(error, comma),
        is_right: false,
        error: error.code.to_string(),
    }));
    rows
}

/// The code of the error behind an option.
fn chosen_error(entry: &ItemEntry<'_>, option: usize) -> String {
    let mut errors = entry.errors.iter();
    let error =
        errors.find(|error| matches!(error.shown_by, ShownBy::Chosen(one) if one == option));
    error
        .map(|error| error.code.to_string())
        .unwrap_or_default()
}

/// What shows an error: numbers, a text, or an option by its identifier.
fn shown_by(error: &NamedError<'_>, comma: bool) -> String {
    match &error.shown_by {
        ShownBy::Between(low, high) => {
            with_mark(format!("{} to {}", low.to_plain(), high.to_plain()), comma)
        }
        ShownBy::Spelled(spellings) => spellings.first().cloned().unwrap_or_default(),
        ShownBy::Chosen(option) => choice_name(*option),
    }
}
