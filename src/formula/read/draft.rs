//! A formula while its text is read: what the parser has written of it, and what it noted on the way.

use smallvec::SmallVec;

use super::ambiguity::Ambiguity;
use crate::element::Atom;
use crate::formula::limits::{MOST_ATOMS, SURELY_SHORT};
use crate::formula::repr::words::LEAST_LONG_COUNT;
use crate::formula::repr::{Bracket, Count, Formula, ShortSpan};
use crate::text::Span;

/// A formula while its text is read.
pub(crate) struct Draft<'t> {
    pub(crate) text: &'t str,
    pub(crate) formula: &'t mut Formula,
    /// What the lenient reader notes about the text.
    pub(crate) ambiguities: SmallVec<[Ambiguity; 2]>,
    /// The part that is being read.
    pub(crate) part: PartStart,
    /// The number of words up to and including the round bracket that was closed last.
    pub(crate) after_round: u16,
    /// An upper bound of log2 of the product of all counts but those of plain atoms.
    factor_bits: u32,
    /// Whether a small letter follows a capital somewhere: then the text is not all in capitals.
    pub(crate) has_small_letters: bool,
    /// Whether anything was read that may be a typing error, or hide one.
    pub(crate) maybe_typo: bool,
}

/// Where a part begins.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PartStart {
    /// The offset in the text.
    pub(crate) offset: u16,
    /// The index of the word of the part's first term.
    pub(crate) words: u16,
    /// The coefficient that was written last. It is this part's if it lies in the part.
    pub(crate) last_coefficient: ShortSpan,
}

impl PartStart {
    const FIRST: PartStart = PartStart {
        offset: 0,
        words: 0,
        last_coefficient: ShortSpan::NONE,
    };

    /// The coefficient of this part, if it has one.
    pub(crate) fn coefficient(&self) -> Option<Span> {
        let last = self.last_coefficient.span_if_any();
        last.filter(|span| span.start >= self.offset.into())
    }
}

/// The most `factor_bits` with which a short text surely has few enough atoms. It has no more terms than
/// bytes: atoms < `SURELY_SHORT` · `LEAST_LONG_COUNT` · 2^`factor_bits` ≤ `MOST_ATOMS`.
const FEW_BITS: u32 = (MOST_ATOMS / SURELY_SHORT as u64 / LEAST_LONG_COUNT as u64).ilog2();

/// log2 of a count, rounded up.
#[inline(always)]
const fn bits(count: u64) -> u32 {
    u64::BITS - count.saturating_sub(1).leading_zeros()
}

impl<'t> Draft<'t> {
    #[inline]
    pub(crate) fn new(text: &'t str, formula: &'t mut Formula) -> Draft<'t> {
        Draft {
            text,
            formula,
            ambiguities: SmallVec::new(),
            part: PartStart::FIRST,
            after_round: 0,
            factor_bits: 0,
            has_small_letters: false,
            maybe_typo: false,
        }
    }

    /// Forgets what was read, so that another text can be.
    pub(crate) fn restart(&mut self, text: &'t str) {
        *self.formula = Formula::new();
        self.text = text;
        self.ambiguities.clear();
        self.part = PartStart::FIRST;
        (self.after_round, self.factor_bits) = (0, 0);
        (self.has_small_letters, self.maybe_typo) = (false, false);
    }

    /// Whether nothing of the part has been read yet.
    #[inline(always)]
    pub(crate) fn part_is_empty(&self) -> bool {
        self.formula.packed.length() == self.part.words
    }

    /// Whether the counts alone show that the formula is not too large.
    #[inline(always)]
    pub(crate) fn is_small_by_counts(&self) -> bool {
        self.factor_bits <= FEW_BITS && self.text.len() <= SURELY_SHORT
    }

    #[cold]
    pub(crate) fn note(&mut self, ambiguity: Ambiguity) {
        self.ambiguities.push(ambiguity);
    }

    /// Begins a part with its coefficient.
    pub(crate) fn push_coefficient(&mut self, count: Count, span: ShortSpan) {
        self.count_factor(count);
        self.formula.push_part(count, span);
        self.part.last_coefficient = span;
        self.part.words = self.formula.packed.length();
    }

    /// Adds an atom with a plain count. An error about the atom would show `origin`.
    #[inline]
    pub(crate) fn push_plain_atom(&mut self, atom: Atom, count: u16, origin: ShortSpan) {
        self.formula.error_spans.note_atom(atom, origin);
        self.formula.packed.push_plain_atom(atom, count);
    }

    /// Adds an atom with any count.
    pub(crate) fn push_atom(&mut self, atom: Atom, count: Count, origin: ShortSpan) {
        self.formula.push_atom(atom, count, origin);
        self.count_factor(count);
    }

    /// Closes the bracket whose word is at the index `opened`. `count_span` is that of its count.
    pub(crate) fn close(
        &mut self,
        opened: u16,
        bracket: Bracket,
        count: Count,
        count_span: ShortSpan,
    ) {
        let packed = &mut self.formula.packed;
        packed.close(opened, bracket, count);
        if bracket == Bracket::Round {
            self.after_round = packed.length();
        }
        self.count_factor(count);
        if let Count::Unknown(_) = count {
            self.formula.error_spans.note_unknown_count(count_span);
        }
    }

    /// Multiplies the bound of all counts by a plain count.
    #[inline(always)]
    pub(crate) fn count_plain_factor(&mut self, count: u16) {
        self.factor_bits += bits(count.into());
    }

    /// Multiplies the bound of all counts by any count.
    fn count_factor(&mut self, count: Count) {
        if let Count::Known(numerator, denominator) = count {
            let product = u64::from(numerator) * u64::from(denominator);
            self.factor_bits += bits(product);
        }
    }
}
