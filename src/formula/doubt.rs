//! What is doubtful about a reading: the note that says so, and the error of the strict reader.

use alloc::format;
use alloc::string::String;

use super::Count;
use super::error::{Error, ErrorKind};
use super::notation::Place;
use super::suspect::{self, Suspect};
use crate::text::{Note, Span};

/// What the lenient reader notes, and the strict one may refuse.
#[derive(Debug, Clone, Copy)]
pub(super) enum Doubt {
    /// A full stop that may be an adduct dot or a decimal point.
    Dot(Span),
    /// Water in brackets at the end.
    Water(Count),
    /// The zero of `H20`.
    Zero(Place),
    /// Capitals that look like a metal.
    Case,
    /// Another slip of the keyboard.
    Slip(Suspect),
    /// A full stop at the end.
    FullStop(Span),
}

impl Doubt {
    #[cold]
    pub(super) fn note(self, text: &str) -> Option<Note> {
        Some(match self {
            Doubt::Dot(dot) => {
                let start = dot.start;
                Note::new(
                    "ambiguous_dot",
                    format!(
                        "The full stop at byte {start} was taken as an adduct dot; it could also be a decimal point."
                    ),
                )
                .with("at", format!("{start}"))
            }
            Doubt::Water(count) => {
                let count = match count.ratio() {
                    Some(count) => format!("{count}"),
                    None => "x".into(),
                };
                Note::new(
                    "bracketed_water",
                    format!(
                        "The water in brackets at the end was read as {count} H2O of crystallization."
                    ),
                )
                .with("waters", count)
            }
            Doubt::Zero(_) => Note::new(
                "suspect_zero",
                "`H20` was read as twenty hydrogens; perhaps water was meant, with the letter O.",
            )
            .with("read", "H20")
            .with("perhaps", "H2O"),
            Doubt::Case => {
                let (_, capitals, symbol) = suspect_pair(text)?;
                Note::new(
                    "suspect_case",
                    format!("`{capitals}` was read as two elements; perhaps {symbol} was meant."),
                )
                .with("read", capitals)
                .with("perhaps", symbol)
            }
            Doubt::Slip(slip) => slip.note(text),
            Doubt::FullStop(_) => Note::new("full_stop", "The full stop at the end was left out."),
        })
    }

    #[cold]
    pub(super) fn refused(self, text: &str) -> Option<Error> {
        let between = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
        Some(match self {
            Doubt::Water(_) => return None,
            Doubt::Dot(dot) => Error::say(
                ErrorKind::AmbiguousNotation,
                dot,
                "this full stop can be an adduct dot or a decimal point",
                format!(
                    "write an adduct dot: `{}·{}`",
                    between(0, dot.start),
                    between(dot.end, text.len())
                ),
            ),
            Doubt::Zero(zero) => {
                let zero = zero.span();
                let mended = format!(
                    "{}O{}",
                    between(0, zero.start),
                    between(zero.end, text.len())
                );
                Error::say(
                    ErrorKind::AmbiguousNotation,
                    zero,
                    "`H20` would be twenty hydrogens; it looks like water with a zero for the letter O",
                    format!("write `{}`", mended.trim()),
                )
            }
            Doubt::Case => {
                let (at, capitals, symbol) = suspect_pair(text)?;
                let mended = text.replacen(capitals, symbol, 1);
                Error::say(
                    ErrorKind::AmbiguousNotation,
                    Span::new(at, at + 2),
                    format!(
                        "`{capitals}` would be two elements; it looks like {symbol} typed in capitals"
                    ),
                    format!("write `{}`", mended.trim()),
                )
            }
            Doubt::Slip(slip) => slip.refused(text),
            Doubt::FullStop(stop) => {
                Error::bad(stop, "a full stop after the formula", "take it out")
            }
        })
    }
}

/// Pairs of capitals that are nearly always a metal (or silicon) typed without small letters,
/// where more elements follow.
const SUSPECTS: [(&str, &str); 10] = [
    ("CU", "Cu"),
    ("NI", "Ni"),
    ("SN", "Sn"),
    ("SB", "Sb"),
    ("SI", "Si"),
    ("PB", "Pb"),
    ("BI", "Bi"),
    ("NB", "Nb"),
    ("PU", "Pu"),
    ("YB", "Yb"),
];

/// Whether two neighbouring bytes of a text spell a suspect.
#[inline]
pub(super) fn may_have_suspect(text: &str) -> bool {
    let mut pairs = text.as_bytes().windows(2);
    pairs.any(|pair| match pair {
        // Their lowest five bits rule out most bytes.
        [first, second] if SECOND_LETTERS & letter_bit(*second) != 0 => matches!(
            (first, second),
            (b'C' | b'P', b'U')
                | (b'N' | b'S' | b'B', b'I')
                | (b'S' | b'P' | b'N' | b'Y', b'B')
                | (b'S', b'N')
        ),
        _ => false,
    })
}

/// The second letters of the suspects.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
const SECOND_LETTERS: u32 = {
    let (mut letters, mut index) = (0, 0);
    while index < SUSPECTS.len() {
        letters |= letter_bit(SUSPECTS[index].0.as_bytes()[1]);
        index += 1;
    }
    letters
};

/// A bit for each letter of the alphabet, which other bytes share.
const fn letter_bit(letter: u8) -> u32 {
    1 << (letter & 0x1F)
}

/// Where two capitals in a text without small letters spell a suspect, which, and what for.
pub(super) fn suspect_pair(text: &str) -> Option<(usize, &'static str, &'static str)> {
    if text.chars().any(|c| c.is_ascii_lowercase()) {
        return None;
    }
    SUSPECTS.iter().find_map(|(capitals, symbol)| {
        let (before, behind) = text.split_once(capitals)?;
        let at = before.len();
        let begins = !before.ends_with(|c: char| c.is_ascii_uppercase());
        let more = behind.chars().any(|c| c.is_ascii_uppercase());
        (begins && more).then_some((at, *capitals, *symbol))
    })
}

/// Writes what would look like a slip so that it does not: a one between two elements that would
/// look like a metal in capitals (`C1UO2`), a count lowered.
pub(super) fn part_suspects(canonical: &mut String) {
    while let Some((at, ..)) = suspect_pair(canonical) {
        canonical.insert(at + 1, '1');
    }
    suspect::settle(canonical);
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::vec::Vec;

    #[test]
    fn the_first_look_is_for_the_suspects_and_nothing_else() {
        let letters = || (b'A'..=b'Z').map(char::from);
        let pairs = letters().flat_map(|a| letters().map(move |b| String::from_iter([a, b])));
        let found: Vec<String> = pairs.filter(|pair| may_have_suspect(pair)).collect();
        let mut suspects = SUSPECTS.map(|(capitals, _)| capitals);
        suspects.sort_unstable();
        assert_eq!(found, suspects);
    }
}
