//! What is doubtful about a reading: the note that says so, and the error of the strict reader.

use alloc::format;

use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::{Suspect, suspect_pair};
use crate::formula::repr::{Count, Place};
use crate::text::{Note, Span};

/// What the lenient reader notes, and the strict one may refuse.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Doubt {
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
    pub(crate) fn note(self, text: &str) -> Option<Note> {
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
    pub(crate) fn refused(self, text: &str) -> Option<Error> {
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
