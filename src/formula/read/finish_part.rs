//! A part that was read is brought into its usual form: its charge, its brackets, its water.

use smallvec::SmallVec;

use super::ambiguity::Ambiguity;
use super::bare_part::BarePart;
use super::draft::Draft;
use super::parse::{BareCharge, ChargeNotation};
use crate::formula::error::Error;
use crate::formula::repr::words;
use crate::formula::repr::{Count, ShortSpan, Token, WaterSpelling, begins_with_group_of_water};
use crate::text::Span;

/// Three atoms of cobalt.
const THREE_COBALTS: u16 = words::atom_word(27, 3);

impl Draft<'_> {
    /// Finishes the part that ends here in the text. `opened` is the index of the word of the outermost
    /// bracket that was closed last.
    #[inline(always)]
    pub(crate) fn finish_part(&mut self, end: usize, opened: u16) -> Result<(), Error> {
        let may_be_normal = !self.is_water_in_rare_spelling() && !self.has_cobalt_before_end(1);
        if self.may_have_idle_brackets(opened) || !may_be_normal {
            return self.normalize_part(end, 0);
        }
        Ok(())
    }

    /// Finishes a part with a charge.
    #[cold]
    pub(crate) fn finish_charged_part(
        &mut self,
        end: usize,
        opened: u16,
        charge: ChargeNotation,
    ) -> Result<(), Error> {
        let charge = match charge {
            ChargeNotation::Marked(charge) => charge,
            ChargeNotation::Bare(charge) => self.decide_charge(end, opened, charge)?,
        };
        if self.may_have_idle_brackets(opened) {
            return self.normalize_part(end, charge);
        }
        self.formula.packed.push(Token::Charge(charge));
        Ok(())
    }

    /// Whether a part may be in brackets as a whole, or have water or cobalt in brackets at its end.
    #[inline(always)]
    fn may_have_idle_brackets(&self, opened: u16) -> bool {
        let packed = &self.formula.packed;
        self.after_round == packed.length()
            && (opened == self.part.words
                || begins_with_group_of_water(packed.words_from(opened + 1))
                || self.has_cobalt_before_end(2))
    }

    /// Whether three cobalts, which may be a carbonate, are this number of words before the end.
    #[inline(always)]
    fn has_cobalt_before_end(&self, words: usize) -> bool {
        self.formula.packed.word_before_end(words) == THREE_COBALTS
    }

    #[inline(always)]
    fn is_water_in_rare_spelling(&self) -> bool {
        let (packed, first) = (&self.formula.packed, self.part.words);
        WaterSpelling::may_be_rare(packed.inline_word(first))
            && WaterSpelling::is_rare(packed.words_from(first))
    }

    /// The span of the part that ends here in the text.
    fn part_span(&self, end: usize) -> Span {
        Span::new(self.part.offset.into(), end)
    }

    /// The charge of a part. If the last count was its size, that count is taken away.
    fn decide_charge(&mut self, end: usize, opened: u16, charge: BareCharge) -> Result<i32, Error> {
        let first = self.part.words;
        let mut tokens = SmallVec::<[Token; 40]>::new();
        tokens.extend(self.formula.packed.tokens_from(first));
        let is_one_group = opened == first;
        let (size, keeps_count) =
            charge.size(self.text, self.part_span(end), &tokens, is_one_group)?;
        if !keeps_count {
            let packed = &mut self.formula.packed;
            packed.truncate(packed.start_of_last(first));
            match tokens.last() {
                Some(Token::Atom(atom, _)) => packed.push(Token::Atom(*atom, Count::ONE)),
                Some(Token::Close(bracket, _)) => packed.push(Token::Close(*bracket, Count::ONE)),
                _ => {}
            }
        }
        Ok(if charge.negative { -size } else { size })
    }

    /// Takes off brackets that say nothing more, makes water in brackets at the end a part of its
    /// own, and spells water as it is mostly spelled.
    #[cold]
    fn normalize_part(&mut self, end: usize, charge: i32) -> Result<(), Error> {
        let (span, first) = (self.part_span(end), self.part.words);
        self.maybe_typo = true;
        let packed = &self.formula.packed;
        let words = SmallVec::<[u16; 64]>::from_slice(packed.words_from(first));
        let (coefficient, before_coefficient) = packed.coefficient_before(first);
        let mut waters = SmallVec::<[Count; 4]>::new();
        let mut rest = BarePart {
            coefficient,
            words: &words,
            charge,
        };
        rest = rest.without_brackets(span)?;
        while let Some((before, water)) = rest.split_final_water() {
            waters.push(water);
            rest = before.without_brackets(span)?;
        }
        let spelling = rest.water();
        let is_changed = rest.words.len() < words.len();
        if is_changed || spelling == Some(WaterSpelling::Rare) {
            self.formula.packed.truncate(before_coefficient);
            self.formula.push_part(rest.coefficient, ShortSpan::NONE);
            match spelling {
                Some(WaterSpelling::Usual | WaterSpelling::Rare) => self.formula.push_water(),
                _ => self.formula.packed.extend_words(rest.words),
            }
        }
        self.formula.packed.push(Token::Charge(charge));
        for count in waters.into_iter().rev() {
            self.note(Ambiguity::BracketedWater(count));
            self.formula.push_part(count, ShortSpan::NONE);
            self.formula.push_water();
        }
        Ok(())
    }
}
