//! The numbers of a wording and of a request, as texts.

use alloc::collections::BTreeSet;
use alloc::string::{String, ToString};

use super::field::Field;
use crate::number::Reading;

/// The numbers of a wording, without those inside formulas.
pub(super) fn of_wording(wording: &str) -> BTreeSet<String> {
    let separates = |c: char| c.is_whitespace() || matches!(c, '(' | ')' | '“' | '”' | '"' | '/');
    let words = wording
        .split(separates)
        .filter(|word| !word.contains(|c: char| c.is_alphabetic() || c == '·'));
    words.flat_map(digits).collect()
}

/// The numbers of a text, also those inside formulas.
#[cfg(feature = "serde")]
pub(super) fn of_text(text: &str) -> BTreeSet<String> {
    digits(text).collect()
}

/// The numbers that are fields of a request by themselves, and all others that they hold.
pub(super) fn of_fields<'r>(
    fields: impl IntoIterator<Item = &'r (String, Field)>,
) -> [BTreeSet<String>; 2] {
    let mut numbers = [BTreeSet::new(), BTreeSet::new()];
    for (name, value) in fields {
        numbers[1].extend(digits(name));
        add(value, &mut numbers);
    }
    numbers
}

fn add(field: &Field, numbers: &mut [BTreeSet<String>; 2]) {
    match field {
        Field::Text(text) => match text.parse::<Reading>() {
            Ok(_) => {
                numbers[0].insert(text.clone());
            }
            Err(_) => numbers[1].extend(digits(text)),
        },
        Field::List(values) => values.iter().for_each(|value| add(value, numbers)),
        Field::Object(members) => {
            for (name, value) in members {
                numbers[1].extend(digits(name));
                add(value, numbers);
            }
        }
    }
}

/// The runs of digits in a text, with the points inside them.
fn digits(text: &str) -> impl Iterator<Item = String> + '_ {
    let runs = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    let trimmed = runs.map(|run| run.trim_matches('.'));
    trimmed
        .filter(|run| !run.is_empty())
        .map(ToString::to_string)
}
