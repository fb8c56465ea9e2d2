//! What every module needs to speak to a person. A [`Span`] is a range of bytes in a text; a [`Note`]
//! is a remark that can be worded in any language. Here are also the characters that spreadsheets
//! and word processors write instead of the plain ones.

// Files in order; each uses only those before it:
//   span        a range of bytes in a text
//   visible     text that can be shown anywhere
//   serde       serialised data: values as text, structs in the shape of the JSON-lines contract
//   note        a remark with a stable code
//   chars       digits, minus signs and spaces of other scripts
//   distance    how different two words are, and the nearest name
//   line        text on one line
//   no_break    spaces at which a line is not broken
//   direction   the parts of a line that are written from right to left
//   list        several things in one sentence
//   suggestion  what to do about a word that is not one of the names
//   sentence    words made a sentence
//   caret       an error under the text that it is about
//   error       what the error types of all modules share
//   given       objects and settings in serialised data
//   codes       plain enums whose values have stable codes

mod caret;
mod chars;
mod codes;
#[cfg(any(feature = "report", feature = "qti"))]
mod direction;
mod distance;
mod error;
#[cfg(feature = "serde")]
mod given;
mod line;
mod list;
#[cfg(any(feature = "report", feature = "qti"))]
mod no_break;
mod note;
mod sentence;
#[cfg(feature = "serde")]
mod serde;
mod span;
mod suggestion;
mod visible;

pub(crate) use caret::Caret;
pub(crate) use chars::{
    digit, is_minus, is_plus, is_space, subscript_digit, superscript_digit, superscript_sign,
    to_subscript, to_superscript,
};
pub(crate) use codes::{codes, no_code};
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use direction::direction_runs;
pub(crate) use distance::edit_distance;
#[cfg(feature = "class")]
pub(crate) use distance::likely;
pub(crate) use error::{Detail, error_kind, room_error};
#[cfg(feature = "serde")]
pub(crate) use given::{BoundedCount, Setting, given, next_field, the_only};
#[cfg(all(feature = "serde", feature = "class"))]
pub(crate) use given::{read_setting, required};
pub(crate) use line::shorten;
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use line::visible_line;
#[cfg(feature = "class")]
pub(crate) use line::{one_line, write_one_line};
pub(crate) use list::list;
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use no_break::with_no_break_spaces;
pub use note::Note;
pub(crate) use sentence::sentence;
#[cfg(feature = "serde")]
pub(crate) use serde::{Fields, Helpful, UniqueKeys, fields, read_text, refusal};
pub use span::Span;
#[cfg(feature = "class")]
pub(crate) use suggestion::advice;
pub use visible::visible;
