//! How large a formula may be.

use alloc::format;

use super::error::Error;
use super::packed::Token;
use super::{Count, Formula, parse};
use crate::element::Atom;
use crate::text::Span;

/// More atoms of one kind than this are refused, and so are finer fractions.
pub(super) const MOST_ATOMS: u64 = 1_000_000_000_000;

/// No short text has more terms, which may all be of one kind.
pub(super) const MOST_TERMS: u64 = SURELY_SHORT as u64;

/// A text of at most so many bytes has a canonical one that is short enough: no sign of a text grows
/// more than fourfold when it is written back (T to [3H]).
pub(super) const SURELY_SHORT: usize = parse::MOST_CANONICAL / 4;

impl Formula {
    /// No kind of atom is counted beyond [`MOST_ATOMS`], nor more finely, and the canonical text is
    /// not too long.
    #[cold]
    pub(super) fn check_size(&self, span: Span) -> Result<(), Error> {
        if self.longest_text() > parse::MOST_CANONICAL && self.plain().len() > parse::MOST_CANONICAL
        {
            let limit = format!("{} bytes", parse::MOST_CANONICAL);
            return Err(Error::too_large(span, "the formula", limit));
        }
        // What is left open cannot make more atoms than are counted.
        let tally = self.tally(Some(Count::ONE));
        let few = tally.is_ok_and(|tally| {
            let most = |(_, count): (Atom, u64)| count / tally.denominator <= MOST_ATOMS;
            tally.denominator <= MOST_ATOMS && tally.counts().all(most)
        });
        if few {
            return Ok(());
        }
        Err(Error::too_large(
            span,
            "the number of atoms of one kind",
            MOST_ATOMS,
        ))
    }

    /// A bound from above of the length of the canonical text.
    fn longest_text(&self) -> usize {
        let lengths = self.packed.tokens().map(|token| {
            let (sign, count) = match token {
                // `[293Og]`
                Token::Atom(atom, count) if atom.mass_number().is_some() => (7, count),
                Token::Atom(_, count) => (2, count),
                Token::Close(_, count) | Token::Coefficient(count) => (1, count),
                Token::Dot | Token::Open(_) | Token::Charge(_) => (12, Count::ONE),
            };
            sign + match count {
                Count::Known(1, 1) => 0,
                Count::Known(n, 1) => 4 + n.ilog10() as usize,
                Count::Known(..) | Count::Unknown(_) => 23,
            }
        });
        lengths.sum()
    }
}
