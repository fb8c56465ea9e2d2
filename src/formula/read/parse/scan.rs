//! What nearly every formula is made of, read byte by byte: symbols and brackets with a count in a few
//! digits or none.

use super::super::draft::Draft;
use super::cursor::{Cursor, OpenBracket};
use super::lookahead::{ByteClass, Lookahead};
use super::plain_count::PlainCount;
use super::symbol_table::plain_atom;
use crate::formula::repr::ShortSpan;
use crate::formula::repr::words;

/// How far a text is read while its terms are plain. It is passed by value, so that it stays in registers.
/// The cursor and the formula learn of it only [at the end](Cursor::commit).
#[derive(Clone, Copy)]
pub(crate) struct ScanState {
    /// The offset of the next byte.
    pub(crate) at: usize,
    pub(crate) next: Lookahead,
    /// The number of words that the formula has.
    pub(crate) words: usize,
}

impl Cursor<'_> {
    #[inline(always)]
    pub(crate) fn next(&self) -> Lookahead {
        Lookahead::at(self.text.as_bytes(), self.at)
    }

    #[inline(always)]
    pub(crate) fn after_next(&self) -> Lookahead {
        Lookahead::at(self.text.as_bytes(), self.at + 1)
    }

    /// Ends the reading of plain terms: the cursor and the formula go on from here.
    #[inline(always)]
    pub(crate) fn commit(&mut self, draft: &mut Draft<'_>, state: ScanState) {
        self.at = state.at;
        draft.formula.packed.set_length(state.words);
    }

    /// Begins the reading of plain terms where the cursor is.
    #[inline(always)]
    pub(crate) fn scan_state(&self, draft: &Draft<'_>) -> ScanState {
        ScanState {
            at: self.at,
            words: draft.formula.packed.length().into(),
            next: self.next(),
        }
    }

    /// The number of bytes of one of the two commonest adduct dots, of which this is the first byte. At
    /// the end of the text it is zero.
    #[inline(always)]
    pub(crate) fn plain_dot(&self, first: u8) -> Option<usize> {
        match first {
            _ if self.at == self.text.len() => Some(0),
            b'*' => Some(1),
            0xC2 if self.after_next().byte() == 0xB7 => Some('\u{B7}'.len_utf8()),
            _ => None,
        }
    }

    /// Begins a part and reads its coefficient, if it begins as nearly all do: with at most a coefficient
    /// in a few digits before a symbol or a bracket.
    #[inline(always)]
    pub(crate) fn plain_coefficient(&mut self, draft: &mut Draft<'_>) -> Option<ScanState> {
        let bytes = self.text.as_bytes();
        let start = self.at;
        draft.part.offset = start as u16;
        let mut next = Lookahead::at(bytes, start);
        let (mut at, mut value) = (start, 1);
        if next.class == ByteClass::DIGIT {
            let count = PlainCount::digits(bytes, start, next, |_| {})?;
            (at, value, next) = (count.end, count.value, count.next);
            draft.part.last_coefficient = ShortSpan::new(start, at);
            draft.count_plain_factor(value);
        }
        if !next.class.begins_group() {
            return None;
        }
        let words = draft.formula.packed.put_part(value)?;
        draft.part.words = words as u16;
        Some(ScanState { at, next, words })
    }

    /// Reads terms as long as they are plain.
    #[inline(always)]
    pub(crate) fn plain_terms(&mut self, draft: &mut Draft<'_>, mut state: ScanState) -> ScanState {
        loop {
            state = self.plain_atoms(draft, state);
            let after = match state.next.class {
                ByteClass::OPENS => self.open_plain(draft, state),
                ByteClass::CLOSES => self.close_plain(draft, state),
                _ => None,
            };
            let Some(after) = after else { return state };
            state = after;
        }
    }

    /// Reads atoms as long as they are plain: a symbol in the table, with no count or one in a few digits.
    #[inline(always)]
    pub(crate) fn plain_atoms(&mut self, draft: &mut Draft<'_>, mut state: ScanState) -> ScanState {
        let bytes = self.text.as_bytes();
        let packed = &mut draft.formula.packed;
        while state.next.class == ByteClass::CAPITAL {
            let first = state.next.byte;
            let mut end = state.at + 1;
            let mut next = Lookahead::at(bytes, end);
            let mut second = 0;
            if next.class.is_small() {
                second = next.byte;
                end += 1;
                next = Lookahead::at(bytes, end);
                draft.has_small_letters = true;
            }
            let z = plain_atom(first, second);
            let count = PlainCount::read(bytes, end, next, |digits| {
                let carbon = first == usize::from(b'C');
                draft.maybe_typo |= digits.before_hydrogen || (digits.begin_with_one && carbon);
            });
            let Some(count) = count.filter(|_| z > 0) else {
                break;
            };
            let term = words::atom_word(z, count.value);
            if packed.put(state.words, term).is_none() {
                break;
            }
            state = ScanState {
                at: count.end,
                next: count.next,
                words: state.words + 1,
            };
        }
        state
    }

    /// Reads the count after a symbol, if it is plain.
    #[inline]
    pub(crate) fn plain_count(&mut self, draft: &mut Draft<'_>) -> Option<u16> {
        let bytes = self.text.as_bytes();
        let count = PlainCount::read(bytes, self.at, self.next(), |digits| {
            draft.maybe_typo |= digits.before_hydrogen;
        })?;
        self.at = count.end;
        Some(count.value)
    }

    /// Reads an opening bracket, if a group begins after it.
    #[inline(always)]
    pub(crate) fn open_plain(
        &mut self,
        draft: &mut Draft<'_>,
        state: ScanState,
    ) -> Option<ScanState> {
        let inside = Lookahead::at(self.text.as_bytes(), state.at + 1);
        if !inside.class.begins_group() {
            return None;
        }
        *self.open.get_mut(usize::from(self.depth))? = OpenBracket::new(state.words, state.at);
        let packed = &mut draft.formula.packed;
        packed.put_open(state.words, state.next.byte())?;
        self.depth += 1;
        Some(ScanState {
            at: state.at + 1,
            next: inside,
            words: state.words + 1,
        })
    }

    /// Reads a closing bracket and its count, if that is plain.
    #[inline(always)]
    pub(crate) fn close_plain(
        &mut self,
        draft: &mut Draft<'_>,
        state: ScanState,
    ) -> Option<ScanState> {
        let bytes = self.text.as_bytes();
        let start = state.at + 1;
        let count = PlainCount::read(bytes, start, Lookahead::at(bytes, start), |digits| {
            draft.maybe_typo |= digits.before_hydrogen;
        })?;
        let opened = self.innermost()?.words;
        let byte = state.next.byte();
        let packed = &mut draft.formula.packed;
        packed.put_close(opened, state.words, byte, count.value)?;
        draft.count_plain_factor(count.value);
        let words = state.words + 1;
        if byte == b')' {
            draft.after_round = words as u16;
        }
        self.depth -= 1;
        Some(ScanState {
            at: count.end,
            next: count.next,
            words,
        })
    }
}
