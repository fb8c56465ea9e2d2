//! The note about what a text leaves open, and the error of the strict reader.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::ambiguity::Ambiguity;
use super::draft::Draft;
use crate::element::Element;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::{Typo, any_digit, corrected, last_symbol, split_first_digit};
use crate::formula::repr::Count;
use crate::text::{Note, Span};

impl Draft<'_> {
    /// A note about each ambiguity.
    pub(crate) fn notes(&self) -> Vec<Note> {
        if self.ambiguities.is_empty() {
            return Vec::new();
        }
        let corrected = self.corrected();
        let note = |found: &Ambiguity| {
            let note = found.note(self.text);
            match found {
                Ambiguity::Typo(_) => note.with("write", corrected.clone()),
                _ => note,
            }
        };
        self.ambiguities.iter().map(note).collect()
    }

    /// What the strict reader refuses first.
    pub(crate) fn refusal(&self) -> Option<Error> {
        let mut ambiguities = self.ambiguities.iter();
        // Water in brackets is read by both readers. Nothing is corrected for it.
        let found = ambiguities.find(|found| !matches!(found, Ambiguity::BracketedWater(_)))?;
        found.refusal(self.text, &self.corrected())
    }

    /// The text with each of its typing errors corrected.
    pub(crate) fn corrected(&self) -> String {
        let typos = self.ambiguities.iter();
        let mut typos: Vec<_> = typos
            .filter(|found| matches!(found, Ambiguity::Typo(_)))
            .filter_map(|found| Some((found.span()?, found.correction(self.text))))
            .collect();
        typos.sort_by_key(|(span, _)| core::cmp::Reverse(span.start));
        let mut text = String::from(self.text);
        for (span, correction) in typos {
            text = corrected(&text, span, &correction);
        }
        text
    }
}

impl Ambiguity {
    fn note(self, text: &str) -> Note {
        let (read, perhaps) = self.read_and_perhaps(text);
        let (code, sentence) = match self {
            Ambiguity::Dot(dot) => return dot_note(dot, text),
            Ambiguity::BracketedWater(count) => return water_note(count),
            Ambiguity::FullStop(_) => {
                return Note::new("full_stop", "The full stop at the end was left out.");
            }
            Ambiguity::Typo(Typo::Zero(_)) => {
                let (atoms, meant) = atoms_and_oxide(&read, &perhaps);
                let sentence = format!(
                    "`{read}` was read as twenty {atoms}. Perhaps {meant} was meant, with the letter O."
                );
                ("suspect_zero", sentence)
            }
            Ambiguity::Typo(Typo::CountAfterWater(_)) => (
                "suspect_count",
                format!(
                    "`{read}` was read as one molecule. Perhaps {perhaps} was meant, with the count before the water."
                ),
            ),
            Ambiguity::Typo(Typo::MetalInCapitals(_)) => (
                "suspect_case",
                format!("`{read}` was read as two elements. Perhaps {perhaps} was meant."),
            ),
            Ambiguity::Typo(Typo::SmallO(_)) => (
                "suspect_case",
                format!(
                    "`{read}` was read as {}. Perhaps {perhaps} was meant, with the capital letter O.",
                    counted_metal(&read)
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

    fn refusal(self, text: &str, without_typos: &str) -> Option<Error> {
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
            Ambiguity::Typo(Typo::Zero(_)) => {
                let (atoms, meant) = atoms_and_oxide(&read, &perhaps);
                format!(
                    "`{read}` is twenty {atoms}, but it looks like {meant} with a zero for the letter O"
                )
            }
            Ambiguity::Typo(Typo::CountAfterWater(_)) => format!(
                "`{read}` is one molecule, but it looks like {perhaps} with the count after the water"
            ),
            Ambiguity::Typo(Typo::MetalInCapitals(_)) => {
                format!("`{read}` is two elements, but it looks like {perhaps} typed in capitals")
            }
            Ambiguity::Typo(Typo::SmallO(_)) => format!(
                "`{read}` is {}, but it looks like {perhaps} with a small o for the capital O",
                counted_metal(&read)
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
        let help = match self {
            Ambiguity::Dot(_) => {
                let corrected = corrected(text, span, &self.correction(text));
                let before = text.get(..span.start).unwrap_or_default();
                let help = format!("write an adduct dot: `{corrected}`");
                match before.ends_with(|c: char| c.is_ascii_alphabetic()) {
                    true => format!("{help}, or a zero before the decimal point"),
                    false => help,
                }
            }
            _ => format!("write `{without_typos}`"),
        };
        let kind = ErrorKind::AmbiguousNotation;
        Some(Error::say(kind, span, message, help))
    }

    fn span(self) -> Option<Span> {
        match self {
            Ambiguity::Dot(span) | Ambiguity::FullStop(span) => Some(span),
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
            Ambiguity::Typo(Typo::Zero(_) | Typo::SmallO(_)) => "O".into(),
            Ambiguity::Typo(Typo::OneForL(_) | Typo::CapitalIForL(_)) => "l".into(),
            Ambiguity::Typo(Typo::MetalInCapitals(pair)) => pair.symbol().into(),
            Ambiguity::Typo(Typo::MissingDot(_)) => {
                let (subscript, waters) = split_first_digit(self.written(text));
                format!("{subscript}·{waters}")
            }
            Ambiguity::Typo(Typo::CountAfterWater(_)) => {
                let count = self.written(text).trim_start_matches("H2O");
                format!("{count}H2O")
            }
            Ambiguity::BracketedWater(_) | Ambiguity::FullStop(_) => String::new(),
        }
    }

    /// What was read and what was perhaps meant, with enough of the text around to be understood.
    fn read_and_perhaps(self, text: &str) -> (String, String) {
        let start = self.span().map_or(0, |span| span.start);
        let before = text.get(..start).unwrap_or_default();
        let end = self.span().map_or(0, |span| span.end);
        let after = text.get(end..).unwrap_or_default();
        let symbol = |text| String::from(last_symbol(text).unwrap_or_default());
        let digit = || after.get(..1).unwrap_or_default();
        let (before, after) = match self {
            Ambiguity::Typo(Typo::SmallO(_)) => (symbol(before), digit()),
            Ambiguity::Typo(Typo::MissingDot(_)) => (String::new(), "H2O"),
            Ambiguity::Typo(Typo::Zero(_) | Typo::OneForL(_) | Typo::CapitalIForL(_)) => {
                (symbol(before), "")
            }
            _ => (String::new(), ""),
        };
        let surrounded = |piece: &str| format!("{before}{piece}{after}");
        (
            surrounded(self.written(text)),
            surrounded(&self.correction(text)),
        )
    }
}

fn dot_note(dot: Span, text: &str) -> Note {
    let sentence = format!(
        "The full stop in `{}` was read as an adduct dot. It could also be a decimal point.",
        with_neighbours(text, dot)
    );
    Note::new("ambiguous_dot", sentence).with("at", format!("{}", dot.start))
}

fn water_note(count: Count) -> Note {
    let ratio = count.ratio();
    let waters = ratio.map_or_else(|| "x".into(), |count| format!("{count}"));
    let sentence =
        format!("The water in brackets at the end was read as {waters} H2O of crystallization.");
    Note::new("bracketed_water", sentence).with("waters", waters)
}

/// The atoms of `K20`, and what was perhaps meant.
fn atoms_and_oxide(read: &str, perhaps: &str) -> (String, String) {
    match read.trim_end_matches("20") {
        "H" => ("hydrogens".into(), "water".into()),
        symbol => {
            let atoms = Element::from_symbol(symbol).map_or(symbol, |element| element.name());
            (format!("atoms of {atoms}"), perhaps.into())
        }
    }
}

/// The atoms of `Co3`, `No3` or `Po4`.
fn counted_metal(read: &str) -> &'static str {
    match read {
        "Co3" => "three cobalts",
        "No3" => "three nobeliums",
        _ => "four poloniums",
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
