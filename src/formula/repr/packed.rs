//! The words of a formula.

use alloc::boxed::Box;
use alloc::vec::Vec;

use smallvec::SmallVec;

use super::bracket::Bracket;
use super::count::Count;
use super::tokens::{Token, Tokens};
use super::words::{
    CHARGE, CLOSE, COEFFICIENT, DOT, FRACTION, IN_LINE, LABELLED, LONG_FRACTION, MORE, OPEN, SHIFT,
    SIGN, plain,
};
use crate::element::Atom;
use crate::formula::limits::MOST_DEPTH;

/// The words: in line, or all of them behind where there is no room. (Unused room is nought, so
/// that what is derived goes by the meaning.)
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Packed {
    in_line: [u16; IN_LINE],
    /// How many there are.
    length: u32,
    behind: Option<Box<Behind>>,
}

/// The first words of a formula: nearly always all of them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Head([u16; Head::MOST]);

impl Head {
    /// As many as four registers of 16 bytes hold, which are copied whole.
    const MOST: usize = 32;

    pub(crate) const NONE: Head = Head([0; Head::MOST]);

    /// The formula that has so many words.
    pub(crate) fn unpacked(&self, length: u16) -> Packed {
        let mut packed = Packed::new();
        let words = self.0.iter().take(length.into());
        words.for_each(|word| packed.word(*word));
        packed
    }
}

/// A pointer in the formula, which is moved more often than it has anything behind it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Behind(Vec<u16>);

impl Packed {
    pub(crate) const fn new() -> Packed {
        Packed {
            in_line: [0; IN_LINE],
            length: 0,
            behind: None,
        }
    }

    #[inline(always)]
    pub(crate) fn word(&mut self, word: u16) {
        match self.in_line.get_mut(self.length as usize) {
            Some(room) => *room = word,
            None => self.spill(word),
        }
        self.length += 1;
    }

    /// Puts a word behind so many, if there is room. Whoever does [tells](Packed::set_length) how many
    /// there are in the end.
    #[inline(always)]
    pub(crate) fn put(&mut self, at: usize, word: u16) -> Option<()> {
        *self.in_line.get_mut(at)? = word;
        Some(())
    }

    #[inline(always)]
    pub(crate) fn set_length(&mut self, length: usize) {
        self.length = length as u32;
    }

    #[cold]
    fn spill(&mut self, word: u16) {
        let in_line = &mut self.in_line;
        let behind = self.behind.get_or_insert_with(|| {
            let all = core::mem::replace(in_line, [0; IN_LINE]);
            Box::new(Behind(all.to_vec()))
        });
        behind.0.push(word);
    }

    pub(crate) fn push(&mut self, token: Token) {
        match token {
            Token::Dot(count) => self.counted(DOT, count),
            Token::Coefficient(count) => self.counted(COEFFICIENT, count),
            Token::Atom(atom, count) => {
                let z = atom.element().number();
                match atom.mass_number() {
                    None => self.counted(z.into(), count),
                    Some(mass_number) => {
                        self.counted(LABELLED, count);
                        self.word(plain(z, mass_number));
                    }
                }
            }
            Token::Open(bracket) => self.word(OPEN + bracket as u16),
            Token::Close(bracket, count) => self.close(self.last_open(), bracket, count),
            Token::Charge(charge) => {
                if charge != 0 {
                    let size = charge.unsigned_abs() << 1 | u32::from(charge < 0);
                    self.counted(CHARGE, Count::Known(size, 1));
                }
            }
        }
    }

    /// Takes up tokens in which every bracket that opens is closed.
    pub(crate) fn extend(&mut self, tokens: impl Iterator<Item = Token>) {
        // Where the open ones stand, so that none is looked for.
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

    /// Takes up the words of whole terms.
    pub(crate) fn extend_words(&mut self, words: &[u16]) {
        words.iter().for_each(|word| self.word(*word));
    }

    /// Takes up an atom with a count below [`MORE`].
    #[inline]
    pub(crate) fn plain_atom(&mut self, atom: Atom, count: u16) {
        let z = atom.element().number();
        match atom.mass_number() {
            None => self.word(plain(z, count)),
            Some(mass_number) => {
                self.word(LABELLED | count << SHIFT);
                self.word(plain(z, mass_number));
            }
        }
    }

    /// Begins a part, of which there are so many.
    pub(crate) fn part(&mut self, count: Count) {
        match (self.is_empty(), count) {
            (true, Count::ONE) => {}
            (true, _) => self.counted(COEFFICIENT, count),
            (false, _) => self.counted(DOT, count),
        }
    }

    /// [Puts](Packed::put) the beginning of a part, with a count below [`MORE`]. How many words there are
    /// behind it.
    #[inline(always)]
    pub(crate) fn put_part(&mut self, count: u16) -> Option<usize> {
        let length = self.length as usize;
        let sign = match (length, count) {
            (0, 1) => return Some(0),
            (0, _) => COEFFICIENT,
            _ => DOT,
        };
        self.put(length, sign | count << SHIFT)?;
        Some(length + 1)
    }

    /// [Puts](Packed::put) an opening bracket, which a byte tells.
    #[inline(always)]
    pub(crate) fn put_open(&mut self, at: usize, byte: u8) -> Option<()> {
        self.put(at, OPEN + u16::from(Bracket::number(byte)))
    }

    /// The word at an index, nought if there are so many words that they are kept elsewhere.
    #[inline(always)]
    pub(crate) fn word_in_line(&self, index: u16) -> u16 {
        let word = self.in_line.get(usize::from(index));
        word.copied().unwrap_or_default()
    }

    /// Closes the bracket that was opened when there were so many words.
    pub(crate) fn close(&mut self, opened: u16, bracket: Bracket, count: Count) {
        let inside = match count {
            Count::Known(whole, 1) if whole < MORE.into() => whole as u16,
            _ => MORE,
        };
        if let Some(open) = self.words_mut().get_mut(usize::from(opened)) {
            *open = (OPEN + bracket as u16) | (inside << SHIFT);
        }
        self.counted(CLOSE + bracket as u16, count);
    }

    /// [Puts](Packed::put) a closing bracket, which a byte tells, with a count below [`MORE`]; `None` where
    /// it closes nothing, or nothing is in it.
    #[inline(always)]
    pub(crate) fn put_close(&mut self, opened: u16, at: usize, byte: u8, count: u16) -> Option<()> {
        let number = u16::from(Bracket::number(byte));
        let open = self.in_line.get(usize::from(opened)).copied()?;
        if usize::from(opened) + 1 >= at || open != OPEN + number {
            return None;
        }
        self.put(at, (CLOSE + number) | (count << SHIFT))?;
        self.put(opened.into(), open | (count << SHIFT))
    }

    /// The word of the bracket that was opened when there were so many words, if it is of this kind
    /// and has something in it.
    pub(crate) fn partner(&mut self, opened: u16, bracket: Bracket) -> Option<&mut u16> {
        let something = u32::from(opened) + 1 < self.length;
        let open = self.words_mut().get_mut(usize::from(opened))?;
        (something && *open == OPEN + bracket as u16).then_some(open)
    }

    /// The kind of the bracket that was opened when there were so many words.
    pub(crate) fn opened(&self, at: u16) -> Option<Bracket> {
        let open = self.words_from(at).first()?;
        let kind = (open & SIGN).checked_sub(OPEN)?;
        Bracket::ALL.get(usize::from(kind)).copied()
    }

    /// How many words there were before the last token of those that begin there.
    #[cold]
    pub(crate) fn last_from(&self, start: u16) -> u16 {
        let last = self.tokens_from(start).with_offsets().last();
        last.map_or(start, |(at, _)| start + at as u16)
    }

    /// How many words there were before the bracket that is to be closed next.
    #[cold]
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

    /// The coefficient of the part whose terms begin behind so many words, and how many words there
    /// are before it.
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
    fn counted(&mut self, sign: u16, count: Count) {
        match count {
            Count::Known(whole, 1) if whole < MORE.into() => {
                self.word(sign | (whole as u16) << SHIFT);
            }
            Count::Known(numerator, denominator) => self.long(sign, numerator, denominator),
            Count::Unknown(letter) => self.long(sign, letter.into(), 0),
        }
    }

    #[cold]
    fn long(&mut self, sign: u16, above: u32, below: u32) {
        if let (Ok(whole), 1) = (u16::try_from(above), below) {
            self.word(sign | MORE << SHIFT);
            self.word(whole);
            return;
        }
        if let (Ok(above), Ok(below)) = (u16::try_from(above), u16::try_from(below)) {
            self.word(sign | FRACTION << SHIFT);
            self.word(above);
            self.word(below);
            return;
        }
        self.word(sign | LONG_FRACTION << SHIFT);
        for number in [above, below] {
            self.word(number as u16);
            self.word((number >> 16) as u16);
        }
    }

    pub(crate) const fn is_empty(&self) -> bool {
        self.length == 0
    }

    /// Whether the [head](Packed::head) has all the words.
    #[inline(always)]
    pub(crate) fn is_short(&self) -> bool {
        self.length as usize <= Head::MOST
    }

    /// The first words; noughts where there are so many that they are kept elsewhere.
    #[inline(always)]
    pub(crate) fn head(&self) -> Head {
        let words = self.in_line.first_chunk();
        words.map_or(Head::NONE, |words| Head(*words))
    }

    #[inline]
    fn words(&self) -> &[u16] {
        match &self.behind {
            Some(behind) => &behind.0,
            None => {
                let in_line = self.in_line.get(..self.length as usize);
                in_line.unwrap_or_default()
            }
        }
    }

    #[inline]
    fn words_mut(&mut self) -> &mut [u16] {
        match &mut self.behind {
            Some(behind) => &mut behind.0,
            None => {
                let in_line = self.in_line.get_mut(..self.length as usize);
                in_line.unwrap_or_default()
            }
        }
    }

    /// How many words there are, while a text is read: few enough for two bytes.
    #[inline]
    pub(crate) fn length(&self) -> u16 {
        self.length as u16
    }

    /// The words from one on.
    #[inline]
    pub(crate) fn words_from(&self, start: u16) -> &[u16] {
        self.words().get(usize::from(start)..).unwrap_or_default()
    }

    /// Takes away what was pushed after there were so many words.
    pub(crate) fn truncate(&mut self, length: u16) {
        if u32::from(length) >= self.length {
            return;
        }
        self.length = length.into();
        let length = usize::from(length);
        if length <= IN_LINE {
            if let Some(behind) = self.behind.take() {
                let room = self.in_line.iter_mut();
                room.zip(behind.0).for_each(|(room, word)| *room = word);
            }
        }
        if let Some(behind) = &mut self.behind {
            behind.0.truncate(length);
        }
        let unused = self.in_line.get_mut(length..);
        unused.unwrap_or_default().fill(0);
    }

    /// The tokens pushed after there were so many words.
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
        assert!(packed.behind.is_none());
        assert!(core::mem::size_of::<Packed>() <= 216);
    }
}
