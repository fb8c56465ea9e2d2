//! The words of a formula.

use alloc::boxed::Box;
use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bracket::Bracket;
use super::count::Count;
use super::tokens::{Token, Tokens};
use super::water::WaterSpelling;
use super::words::{
    CHARGE, CLOSE, COEFFICIENT, COUNT_FOLLOWS, DOT, FRACTION, INLINE, LABELLED, LEAST_LONG_COUNT,
    LONG_FRACTION, OPEN, SHIFT, TAG, atom_word,
};
use crate::element::Atom;
use crate::formula::limits::MOST_DEPTH;

/// The words of a formula: in the array, or all of them on the heap if they do not fit. Unused words of
/// the array are zero, so that derived equality and hashing go by the meaning.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Packed {
    inline: [u16; INLINE],
    /// The number of all words.
    length: u32,
    spill: Option<Box<Spill>>,
}

/// The first words of a formula: nearly always all of them. They are fewer than the array holds.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FirstWords([u16; FirstWords::MOST]);

impl FirstWords {
    /// The number that four registers of 16 bytes hold, which are copied whole.
    const MOST: usize = 32;

    pub(crate) const NONE: FirstWords = FirstWords([0; FirstWords::MOST]);

    /// The formula that has this number of words, which are the first of these.
    pub(crate) fn packed(&self, length: u16) -> Packed {
        let mut packed = Packed::new();
        let words = self.0.iter().take(length.into());
        words.for_each(|word| packed.push_word(*word));
        packed
    }
}

/// All words of a formula that has too many for the array. The box keeps the formula small to move.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Spill(Vec<u16>);

impl Packed {
    pub(crate) const fn new() -> Packed {
        Packed {
            inline: [0; INLINE],
            length: 0,
            spill: None,
        }
    }

    #[inline(always)]
    pub(crate) fn push_word(&mut self, word: u16) {
        match self.inline.get_mut(self.length as usize) {
            Some(room) => *room = word,
            None => self.push_spilled(word),
        }
        self.length += 1;
    }

    /// Writes the word at an index of the array, if it has one. The caller [sets](Packed::set_length) the
    /// number of words in the end.
    #[inline(always)]
    pub(crate) fn put(&mut self, at: usize, word: u16) -> Option<()> {
        *self.inline.get_mut(at)? = word;
        Some(())
    }

    #[inline(always)]
    pub(crate) fn set_length(&mut self, length: usize) {
        self.length = length as u32;
    }

    #[cold]
    fn push_spilled(&mut self, word: u16) {
        let inline = &mut self.inline;
        let spill = self.spill.get_or_insert_with(|| {
            let all = core::mem::replace(inline, [0; INLINE]);
            Box::new(Spill(all.to_vec()))
        });
        spill.0.push(word);
    }

    pub(crate) fn push(&mut self, token: Token) {
        match token {
            Token::Dot(count) => self.push_counted(DOT, count),
            Token::Coefficient(count) => self.push_counted(COEFFICIENT, count),
            Token::Atom(atom, count) => {
                let z = atom.element().number();
                match atom.mass_number() {
                    None => self.push_counted(z.into(), count),
                    Some(mass_number) => {
                        self.push_counted(LABELLED, count);
                        self.push_word(atom_word(z, mass_number));
                    }
                }
            }
            Token::Open(bracket) => self.push_word(OPEN + bracket as u16),
            Token::Close(bracket, count) => self.close(self.last_open(), bracket, count),
            Token::Charge(charge) => {
                if charge != 0 {
                    let size = charge.unsigned_abs() << 1 | u32::from(charge < 0);
                    self.push_counted(CHARGE, Count::Known(size, 1));
                }
            }
        }
    }

    /// Adds tokens in which every bracket that opens is closed.
    pub(crate) fn extend(&mut self, tokens: impl Iterator<Item = Token>) {
        // The indices of the open ones, so that none has to be searched for.
        let mut open = SmallVec::<[u16; MOST_DEPTH]>::new();
        for token in tokens {
            match token {
                Token::Open(_) => open.push(self.length()),
                Token::Close(bracket, count) => {
                    let opened = open.pop().unwrap_or_else(|| self.last_open());
                    self.close(opened, bracket, count);
                    continue;
                }
                _ => {}
            }
            self.push(token);
        }
    }

    /// Adds the words of whole terms.
    pub(crate) fn extend_words(&mut self, words: &[u16]) {
        words.iter().for_each(|word| self.push_word(*word));
    }

    /// Adds an atom with a count below [`LEAST_LONG_COUNT`].
    #[inline]
    pub(crate) fn push_plain_atom(&mut self, atom: Atom, count: u16) {
        let z = atom.element().number();
        match atom.mass_number() {
            None => self.push_word(atom_word(z, count)),
            Some(mass_number) => {
                self.push_word(LABELLED | count << SHIFT);
                self.push_word(atom_word(z, mass_number));
            }
        }
    }

    /// Begins a part with its coefficient.
    pub(crate) fn push_part(&mut self, count: Count) {
        match (self.is_empty(), count) {
            (true, Count::ONE) => {}
            (true, _) => self.push_counted(COEFFICIENT, count),
            (false, _) => self.push_counted(DOT, count),
        }
    }

    /// [Puts](Packed::put) the beginning of a part with a coefficient below [`LEAST_LONG_COUNT`]. Returns
    /// the number of words after that.
    #[inline(always)]
    pub(crate) fn put_part(&mut self, count: u16) -> Option<usize> {
        let length = self.length as usize;
        let tag = match (length, count) {
            (0, 1) => return Some(0),
            (0, _) => COEFFICIENT,
            _ => DOT,
        };
        self.put(length, tag | count << SHIFT)?;
        Some(length + 1)
    }

    /// [Puts](Packed::put) the opening bracket that a byte is.
    #[inline(always)]
    pub(crate) fn put_open(&mut self, at: usize, byte: u8) -> Option<()> {
        self.put(at, OPEN + u16::from(Bracket::number(byte)))
    }

    /// The word at an index of the array, which is zero if all words are on the heap.
    #[inline(always)]
    pub(crate) fn inline_word(&self, index: u16) -> u16 {
        let word = self.inline.get(usize::from(index));
        word.copied().unwrap_or_default()
    }

    /// The word that is this number of words before the end, which is zero if all are on the heap.
    #[inline(always)]
    pub(crate) fn word_before_end(&self, words: usize) -> u16 {
        let word = self.inline.get((self.length as usize).wrapping_sub(words));
        word.copied().unwrap_or_default()
    }

    /// Closes the bracket whose word is at the index `opened`.
    pub(crate) fn close(&mut self, opened: u16, bracket: Bracket, count: Count) {
        let inside = match count {
            Count::Known(whole, 1) if whole < LEAST_LONG_COUNT.into() => whole as u16,
            _ => COUNT_FOLLOWS,
        };
        if let Some(open) = self.words_mut().get_mut(usize::from(opened)) {
            *open = (OPEN + bracket as u16) | (inside << SHIFT);
        }
        self.push_counted(CLOSE + bracket as u16, count);
    }

    /// [Puts](Packed::put) the closing bracket that a byte is, with a count below [`LEAST_LONG_COUNT`].
    /// `None` if it closes nothing, or nothing is in it.
    #[inline(always)]
    pub(crate) fn put_close(&mut self, opened: u16, at: usize, byte: u8, count: u16) -> Option<()> {
        let number = u16::from(Bracket::number(byte));
        let open = self.inline.get(usize::from(opened)).copied()?;
        if usize::from(opened) + 1 >= at || open != OPEN + number {
            return None;
        }
        self.put(at, (CLOSE + number) | (count << SHIFT))?;
        self.put(opened.into(), open | (count << SHIFT))
    }

    /// Whether the bracket whose word is at an index is of this kind and has something in it.
    pub(crate) fn can_close(&self, opened: u16, bracket: Bracket) -> bool {
        matches!(self.words_from(opened), [open, _, ..] if *open == OPEN + bracket as u16)
    }

    /// The kind of the bracket whose word is at an index.
    pub(crate) fn bracket_at(&self, at: u16) -> Option<Bracket> {
        let open = self.words_from(at).first()?;
        let kind = (open & TAG).checked_sub(OPEN)?;
        Bracket::ALL.get(usize::from(kind)).copied()
    }

    /// The index at which the last token begins.
    pub(crate) fn start_of_last(&self, start: u16) -> u16 {
        let last = self.tokens_from(start).with_offsets().last();
        last.map_or(start, |(at, _)| start + at as u16)
    }

    /// The index of the bracket that is to be closed next.
    fn last_open(&self) -> u16 {
        let mut open = SmallVec::<[u16; MOST_DEPTH]>::new();
        for (at, token) in self.tokens().with_offsets() {
            match token {
                Token::Open(_) => open.push(at as u16),
                Token::Close(..) => {
                    open.pop();
                }
                _ => {}
            }
        }
        open.pop().unwrap_or_else(|| self.length())
    }

    /// The coefficient of the part whose terms begin at an index, and the index of the coefficient.
    pub(crate) fn coefficient_before(&self, first: u16) -> (Count, u16) {
        let before = self
            .tokens()
            .with_offsets()
            .take_while(|(at, _)| *at < first.into());
        let coefficients = before.filter_map(|(at, token)| match token {
            Token::Dot(count) | Token::Coefficient(count) => Some((count, at as u16)),
            _ => None,
        });
        coefficients.last().unwrap_or((Count::ONE, 0))
    }

    #[inline]
    fn push_counted(&mut self, tag: u16, count: Count) {
        match count {
            Count::Known(whole, 1) if whole < LEAST_LONG_COUNT.into() => {
                self.push_word(tag | (whole as u16) << SHIFT);
            }
            Count::Known(numerator, denominator) => {
                self.push_long_count(tag, numerator, denominator);
            }
            Count::Unknown(letter) => self.push_long_count(tag, letter.into(), 0),
        }
    }

    #[cold]
    fn push_long_count(&mut self, tag: u16, above: u32, below: u32) {
        if let (Ok(whole), 1) = (u16::try_from(above), below) {
            self.push_word(tag | COUNT_FOLLOWS << SHIFT);
            self.push_word(whole);
            return;
        }
        if let (Ok(above), Ok(below)) = (u16::try_from(above), u16::try_from(below)) {
            self.push_word(tag | FRACTION << SHIFT);
            self.push_word(above);
            self.push_word(below);
            return;
        }
        self.push_word(tag | LONG_FRACTION << SHIFT);
        for number in [above, below] {
            self.push_word(number as u16);
            self.push_word((number >> 16) as u16);
        }
    }

    pub(crate) const fn is_empty(&self) -> bool {
        self.length == 0
    }

    /// Whether the [first words](Packed::first_words) are all words.
    #[inline(always)]
    pub(crate) fn fits_first_words(&self) -> bool {
        self.length as usize <= FirstWords::MOST
    }

    /// The first words, which are zero if all words are on the heap.
    #[inline(always)]
    pub(crate) fn first_words(&self) -> FirstWords {
        let words = self.inline.first_chunk();
        words.map_or(FirstWords::NONE, |words| FirstWords(*words))
    }

    #[inline]
    fn words(&self) -> &[u16] {
        match &self.spill {
            Some(spill) => &spill.0,
            None => {
                let inline = self.inline.get(..self.length as usize);
                inline.unwrap_or_default()
            }
        }
    }

    #[inline]
    fn words_mut(&mut self) -> &mut [u16] {
        match &mut self.spill {
            Some(spill) => &mut spill.0,
            None => {
                let inline = self.inline.get_mut(..self.length as usize);
                inline.unwrap_or_default()
            }
        }
    }

    /// Whether the first part may be water, by the first word, which is zero if the words are on the heap.
    #[inline(always)]
    pub(crate) fn may_begin_with_water(&self) -> bool {
        let first = self.inline_word(0);
        WaterSpelling::may_be_usual(first) || first & TAG == COEFFICIENT
    }

    /// The number of words, which fits in two bytes: no text has more.
    #[inline]
    pub(crate) fn length(&self) -> u16 {
        self.length as u16
    }

    /// The words from an index on.
    #[inline]
    pub(crate) fn words_from(&self, start: u16) -> &[u16] {
        self.words().get(usize::from(start)..).unwrap_or_default()
    }

    /// Takes away all words from an index on.
    pub(crate) fn truncate(&mut self, length: u16) {
        if u32::from(length) >= self.length {
            return;
        }
        self.length = length.into();
        let length = usize::from(length);
        if length <= INLINE {
            if let Some(spill) = self.spill.take() {
                let room = self.inline.iter_mut();
                room.zip(spill.0).for_each(|(room, word)| *room = word);
            }
        }
        if let Some(spill) = &mut self.spill {
            spill.0.truncate(length);
        }
        let unused = self.inline.get_mut(length..);
        unused.unwrap_or_default().fill(0);
    }

    /// The tokens from an index on.
    pub(crate) fn tokens_from(&self, start: u16) -> Tokens<'_> {
        Tokens::of(self.words_from(start))
    }

    #[inline]
    pub(crate) fn tokens(&self) -> Tokens<'_> {
        Tokens::of(self.words())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::element::Element;
    use crate::formula::Formula;
    use crate::formula::limits::MOST_BYTES;
    use crate::formula::repr::words::MOST_PER_BYTE;
    use alloc::vec::Vec;

    #[test]
    fn what_is_packed_comes_out() {
        let atom = |z| Atom::natural(Element::from_number(z).unwrap());
        let deuterium = Atom::labelled(Element::HYDROGEN, 2).unwrap();
        let all = [
            Token::Coefficient(Count::known(5, 2)),
            Token::Atom(atom(1), Count::ONE),
            Token::Atom(atom(118), Count::Known(999_999_999, 1)),
            Token::Open(Bracket::Round),
            Token::Open(Bracket::Square),
            Token::Open(Bracket::Curly),
            Token::Atom(deuterium, Count::known(999_999_999, 1_000_000)),
            Token::Close(Bracket::Curly, Count::Known(2, 1)),
            Token::Close(Bracket::Square, Count::ONE),
            Token::Close(Bracket::Round, Count::Unknown('n')),
            Token::Charge(-999),
            Token::Dot(Count::known(1, 3)),
            Token::Atom(atom(8), Count::Unknown('x')),
            Token::Charge(3),
        ];
        let mut packed = Packed::new();
        all.iter().for_each(|token| packed.push(*token));
        assert_eq!(packed.tokens().collect::<Vec<_>>(), all);
    }

    /// What is read of a text, refused or not.
    fn length_of(text: &str) -> usize {
        let mut formula = Formula::new();
        let _ = formula.fill(text, Some(&mut Vec::new()));
        usize::from(formula.packed.length())
    }

    #[test]
    fn a_byte_of_a_text_becomes_three_at_most() {
        assert_eq!(length_of("T"), 2);
        let longest = "Tx".repeat(MOST_BYTES / 2);
        assert_eq!(length_of(&longest), 2 * MOST_BYTES);
        for text in [
            "Tx",
            "xT",
            "T2",
            "T+",
            "T·T",
            "T½",
            "½T",
            "Ox",
            "T0.12345678",
            "O1/999999999",
            "[238U]x",
            "(T)x",
            "T(OH2)",
            "T(HOH)x",
            "9(T)9",
            "[[T]x]x",
            "T*T*T",
            "Og999999999",
        ] {
            let length = length_of(text);
            assert!((1..=MOST_PER_BYTE * text.len()).contains(&length), "{text}");
        }
    }

    #[test]
    fn thirty_two_terms_stay_in_line() {
        let mut packed = Packed::new();
        for z in 1..=32 {
            let element = Element::from_number(z).unwrap();
            let atom = Atom::known(element, 293);
            packed.push(Token::Atom(atom, Count::Known(4095, 1)));
        }
        assert!(packed.spill.is_none());
        assert!(core::mem::size_of::<Packed>() <= 216);
    }
}
