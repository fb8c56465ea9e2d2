//! Texts that an author writes for pupils: something to read, and nothing that cannot be seen.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;

use crate::class::{Error, TomlValue};
use crate::text::{one_line, shorten, visible};

/// A text that has a control character, a mark of direction or another hidden one, with these as escapes.
pub(super) fn hidden(text: &str) -> Option<String> {
    match visible(text) {
        Cow::Owned(shown) => Some(shorten(&shown)),
        Cow::Borrowed(_) => None,
    }
}

/// Refuses hidden characters in a value, and in all that is in it.
pub(super) fn check_visible(value: &TomlValue<'_>) -> Result<(), Error> {
    let check = |text: &str| match hidden(&one_line(text)) {
        None => Ok(()),
        Some(shown) => {
            let message = format!("`{shown}` has a character that nobody can see");
            Err(value.refusal(message, "remove it"))
        }
    };
    match value.is_table_or_list() {
        [true, _] => value.table(&[], "")?.iter().try_for_each(|(name, member)| {
            check(name)?;
            check_visible(member)
        }),
        [_, true] => value.list("")?.iter().try_for_each(check_visible),
        _ => value.text().map_or(Ok(()), check),
    }
}

/// Reads words for people on one line.
pub(super) fn words(value: &TomlValue<'_>) -> Result<String, Error> {
    let text = one_line(value.text()?);
    match text.trim_matches('.').is_empty() {
        true => Err(value.refusal("there are no words", "write some")),
        false => Ok(text),
    }
}
