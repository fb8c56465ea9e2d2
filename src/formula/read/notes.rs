//! The note about what a text leaves open, and the error of the strict reader.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::ambiguity::Ambiguity;
use super::draft::Draft;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::{Typo, any_digit, corrected, split_first_digit};
use crate::text::{Note, Span};

impl Draft<'_> {
    /// A note about each ambiguity.
    pub(crate) fn notes(&self) -> Vec<Note> {
        let ambiguities = self.ambiguities.iter();
        ambiguities.map(|found| found.note(self.text)).collect()
    }

    /// What the strict reader refuses first.
    pub(crate) fn refusal(&self) -> Option<Error> {
        let mut ambiguities = self.ambiguities.iter();
        ambiguities.find_map(|found| found.refusal(self.text))
    }
}

impl Ambiguity {
    fn note(self, text: &str) -> Note {
        let (read, perhaps) = self.read_and_perhaps(text);
        let (code, sentence) = match self {
            Ambiguity::Dot(dot @ Span { start, .. }) => {
                let sentence = format!(
                    "The full stop in `{}` was read as an adduct dot. It could also be a decimal point.",
                    with_neighbours(text, dot)
                );
                return Note::new("ambiguous_dot", sentence).with("at", format!("{start}"));
            }
            Ambiguity::BracketedWater(count) => {
                let ratio = count.ratio();
                let waters = ratio.map_or_else(|| "x".into(), |count| format!("{count}"));
                let sentence = format!(
                    "The water in brackets at the end was read as {waters} H2O of crystallization."
                );
                return Note::new("bracketed_water", sentence).with("waters", waters);
            }
            Ambiguity::FullStop(_) => {
                return Note::new("full_stop", "The full stop at the end was left out.");
            }
            Ambiguity::Zero(_) => (
                "suspect_zero",
                "`H20` was read as twenty hydrogens. Perhaps water was meant, with the letter O."
                    .into(),
            ),
            Ambiguity::Typo(Typo::MetalInCapitals(_)) => (
                "suspect_case",
                format!("`{read}` was read as two elements. Perhaps {perhaps} was meant."),
            ),
            Ambiguity::Typo(Typo::SmallO(_)) => (
                "suspect_case",
                format!(
                    "`{read}` was read as three cobalts. Perhaps {perhaps} was meant, with the capital letter O."
                ),
            ),
            Ambiguity::Typo(Typo::OneForL(_)) => (
                "suspect_one",
                format!(
                    "`{read}` was read with the digit 1. Perhaps {perhaps} was meant, with the small letter l."
                ),
            ),
            Ambiguity::Typo(Typo::CapitalIForL(_)) => (
                "suspect_letter",
                format!(
                    "`{read}` was read as carbon and iodine. Perhaps {perhaps} was meant, with the small letter l."
                ),
            ),
            Ambiguity::Typo(Typo::MissingDot(_)) => (
                "suspect_dot",
                format!(
                    "`{read}` was read as one count before hydrogen. Perhaps {perhaps} was meant, with a dot before the water."
                ),
            ),
        };
        let note = Note::new(code, sentence);
        note.with("read", read).with("perhaps", perhaps)
    }

    fn refusal(self, text: &str) -> Option<Error> {
        let (read, perhaps) = self.read_and_perhaps(text);
        let message = match self {
            Ambiguity::BracketedWater(_) => return None,
            Ambiguity::FullStop(stop) => {
                return Some(Error::bad(
                    stop,
                    "a full stop after the formula",
                    "take it out",
                ));
            }
            Ambiguity::Dot(_) => "this full stop can be an adduct dot or a decimal point".into(),
            Ambiguity::Zero(_) => {
                "`H20` is twenty hydrogens, but it looks like water with a zero for the letter O"
                    .into()
            }
            Ambiguity::Typo(Typo::MetalInCapitals(_)) => {
                format!("`{read}` is two elements, but it looks like {perhaps} typed in capitals")
            }
            Ambiguity::Typo(Typo::SmallO(_)) => format!(
                "`{read}` is three cobalts, but it looks like {perhaps} with a small o for the capital O"
            ),
            Ambiguity::Typo(Typo::OneForL(_)) => format!(
                "`{read}` has the digit 1, but it looks like {perhaps} with a one for the small letter l"
            ),
            Ambiguity::Typo(Typo::CapitalIForL(_)) => format!(
                "`{read}` is carbon and iodine, but it looks like {perhaps} with a capital I for the small letter l"
            ),
            Ambiguity::Typo(Typo::MissingDot(_)) => format!(
                "`{read}` is one count before hydrogen, but it looks like {perhaps} with the dot left out"
            ),
        };
        let span = self.span()?;
        let corrected = corrected(text, span, &self.correction(text));
        let help = match self {
            Ambiguity::Dot(_) => {
                let before = text.get(..span.start).unwrap_or_default();
                let help = format!("write an adduct dot: `{corrected}`");
                match before.ends_with(|c: char| c.is_ascii_alphabetic()) {
                    true => format!("{help}, or a zero before the decimal point"),
                    false => help,
                }
            }
            _ => format!("write `{corrected}`"),
        };
        let kind = ErrorKind::AmbiguousNotation;
        Some(Error::say(kind, span, message, help))
    }

    fn span(self) -> Option<Span> {
        match self {
            Ambiguity::Dot(span) | Ambiguity::FullStop(span) => Some(span),
            Ambiguity::Zero(span) => Some(span.span()),
            Ambiguity::Typo(typo) => Some(typo.span()),
            Ambiguity::BracketedWater(_) => None,
        }
    }

    fn written(self, text: &str) -> &str {
        let written = self.span().and_then(|span| text.get(span.start..span.end));
        written.unwrap_or_default()
    }

    /// What was probably meant in place of what is written.
    fn correction(self, text: &str) -> String {
        match self {
            Ambiguity::Dot(_) => "·".into(),
            Ambiguity::Zero(_) | Ambiguity::Typo(Typo::SmallO(_)) => "O".into(),
            Ambiguity::Typo(Typo::OneForL(_) | Typo::CapitalIForL(_)) => "l".into(),
            Ambiguity::Typo(Typo::MetalInCapitals(pair)) => pair.symbol().into(),
            Ambiguity::Typo(Typo::MissingDot(_)) => {
                let (subscript, waters) = split_first_digit(self.written(text));
                format!("{subscript}·{waters}")
            }
            Ambiguity::BracketedWater(_) | Ambiguity::FullStop(_) => String::new(),
        }
    }

    /// What was read and what was perhaps meant, with enough of the text around to be understood.
    fn read_and_perhaps(self, text: &str) -> (String, String) {
        let start = self.span().map_or(0, |span| span.start);
        let before = text.get(..start).unwrap_or_default();
        let (before, after) = match self {
            Ambiguity::Zero(_) => ("H2", ""),
            Ambiguity::Typo(Typo::SmallO(_)) => ("C", "3"),
            Ambiguity::Typo(Typo::MissingDot(_)) => ("", "H2O"),
            Ambiguity::Typo(Typo::OneForL(_) | Typo::CapitalIForL(_)) => {
                let symbol = before.char_indices().next_back();
                let symbol = symbol.and_then(|(at, _)| before.get(at..));
                (symbol.unwrap_or_default(), "")
            }
            _ => ("", ""),
        };
        let surrounded = |piece: &str| format!("{before}{piece}{after}");
        (
            surrounded(self.written(text)),
            surrounded(&self.correction(text)),
        )
    }
}

/// What is at a span, with the symbol and the digits before it and after it: `O3.2Si`.
fn with_neighbours(text: &str, span: Span) -> &str {
    let before = text.get(..span.start).unwrap_or_default();
    let after = text.get(span.end..).unwrap_or_default();
    let is_digit = |c: char| any_digit(c).is_some();
    let is_small = |c: char| c.is_ascii_lowercase();
    let mut head = before
        .trim_end_matches(is_digit)
        .trim_end_matches(is_small)
        .chars();
    head.next_back();
    let mut tail = after.trim_start_matches(is_digit).chars();
    tail.next();
    let tail = tail.as_str().trim_start_matches(is_small);
    let end = text.len() - tail.len();
    text.get(head.as_str().len()..end).unwrap_or_default()
}
