//! The note on readings that came as JSON numbers, whose final zeros may be gone.

use effloresce::Note;

use crate::json::Object;
use crate::options::READINGS;
use crate::reply::shorten;

/// Weighings, and percentages that follow from them, that came as JSON numbers. Their last place
/// counts, and no readability says it.
#[derive(Default)]
pub(crate) struct Numbers {
    fields: Vec<String>,
    more: usize,
    /// Whether one of them has more digits than any balance shows.
    calculated: bool,
}

impl Numbers {
    /// The largest number of fields that are named.
    const MOST_NAMED: usize = 12;

    /// The largest number of digits that a balance shows.
    const MOST_SHOWN: usize = 12;

    /// Adds the readings of an object, whose place in the request is `path`.
    pub(crate) fn add_readings(&mut self, object: &Object<'_>, path: &str) {
        for field in READINGS {
            self.add(object, path, field);
        }
    }

    /// Adds some fields of a request.
    pub(crate) fn add_fields(&mut self, request: &Object<'_>, fields: &[&str]) {
        for field in fields {
            self.add(request, "", field);
        }
    }

    /// Adds all members of an object, whose place in the request is `path`.
    pub(crate) fn add_members(&mut self, object: &Object<'_>, path: &str) {
        for (key, _) in object.members() {
            self.add(object, path, key);
        }
    }

    fn add(&mut self, object: &Object<'_>, path: &str, field: &str) {
        let numbers = object.numbers(field);
        let digits = |number: &&str| number.bytes().filter(u8::is_ascii_digit).count();
        self.calculated |= numbers.iter().map(digits).max() > Some(Self::MOST_SHOWN);
        match (numbers.is_empty(), self.fields.len() < Self::MOST_NAMED) {
            (true, _) => {}
            (false, true) => self.fields.push(format!("{path}{}", shorten(field))),
            (false, false) => self.more += 1,
        }
    }

    /// The note, if there is anything to note. `otherwise` is another way to correct it.
    pub(crate) fn note(self, otherwise: &str) -> Option<Note> {
        let (last, others) = self.fields.split_last()?;
        let quoted: Vec<String> = others.iter().map(|field| format!("`{field}`")).collect();
        let quoted = quoted.join(", ");
        let named = match (quoted.is_empty(), self.more) {
            (true, _) => format!("`{last}` came as a number"),
            (_, 0) => format!("{quoted} and `{last}` came as numbers"),
            (_, more) => format!("{quoted}, `{last}` and {more} more fields came as numbers"),
        };
        let digits = match self.calculated {
            true => " Digits that a calculation left behind count as those of the balance.",
            false => "",
        };
        let text = format!(
            "{named}. Final zeros may be gone, and with them what the balance shows.{digits} Send \
             readings as text, such as \"2.50\"{otherwise}."
        );
        let note = Note::new("number_not_text", text).with("fields", self.fields.join(", "));
        Some(match self.more {
            0 => note,
            more => note.with("more", more.to_string()),
        })
    }
}
