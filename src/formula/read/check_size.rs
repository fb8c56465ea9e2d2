//! Whether a formula is too large.

use alloc::format;

use super::draft::Draft;
use crate::element::Atom;
use crate::formula::atoms::{Counter, Uncounted, product, walk};
use crate::formula::error::Error;
use crate::formula::limits::{MOST_ATOMS, MOST_CANONICAL, MOST_PARTS, SURELY_SHORT};
use crate::formula::repr::{Count, Formula, Packed, State, Token};
use crate::text::Span;

/// The number of all atoms, over a denominator.
struct AtomTotal {
    number: u64,
    denominator: u64,
}

impl Counter for AtomTotal {
    fn add_natural(&mut self, _: u8, number: u64) -> Result<(), Uncounted> {
        self.number = self.number.saturating_add(number);
        Ok(())
    }

    fn add_atom(&mut self, _: Atom, number: u64) -> Result<(), Uncounted> {
        self.add_natural(0, number)
    }

    fn multiply_all(&mut self, factor: u64) -> Result<(), Uncounted> {
        self.number = product(self.number, factor)?;
        self.denominator = product(self.denominator, factor)?;
        Ok(())
    }
}

impl Packed {
    /// Whether all atoms together are no more than [`MOST_ATOMS`], and not counted more finely. Most
    /// formulas pass this check and need no closer one.
    pub(crate) fn is_small_by_total(&self) -> bool {
        let total = AtomTotal {
            number: 0,
            denominator: 1,
        };
        // An unknown count cannot make more atoms than are counted.
        walk(self.tokens(), Some(Count::ONE), total)
            .is_ok_and(|total| total.number.max(total.denominator) <= MOST_ATOMS)
    }
}

impl Draft<'_> {
    /// Checks the number of parts. Water in brackets at the end is a part that the parser did not count.
    pub(crate) fn check_parts(&self) -> Result<(), Error> {
        let tokens = self.formula.packed.tokens();
        let dots = tokens.filter(|token| matches!(token, Token::Dot(_)));
        if dots.count() < MOST_PARTS {
            return Ok(());
        }
        let span = Span::new(0, self.text.len());
        Err(Error::too_large(span, "the number of parts", MOST_PARTS))
    }

    /// Checks that the formula is not too large. Nearly every short text passes by its total.
    pub(crate) fn check_size(&self) -> Result<(), Error> {
        let is_short = self.text.len() <= SURELY_SHORT;
        if is_short && self.formula.packed.is_small_by_total() {
            return Ok(());
        }
        self.formula.check_size(Span::new(0, self.text.len()))
    }
}

impl Formula {
    /// Checks that no kind of atom is more than [`MOST_ATOMS`], nor counted more finely, and that the
    /// canonical text is not too long. The error shows this span.
    pub(in crate::formula) fn check_size(&self, span: Span) -> Result<(), Error> {
        if self.longest_text() > MOST_CANONICAL && self.plain().len() > MOST_CANONICAL {
            let limit = format!("{MOST_CANONICAL} bytes");
            return Err(Error::too_large(span, "the formula", limit));
        }
        // An unknown count cannot make more atoms than are counted.
        let tally = self.packed.tally(Some(Count::ONE));
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

    /// An upper bound of the length of the canonical text.
    fn longest_text(&self) -> usize {
        let digits = |n: u32| n.checked_ilog10().map_or(1, |log| log as usize + 1);
        let lengths = self.packed.tokens().map(|token| {
            let (sign, count) = match token {
                // `[293Og]`
                Token::Atom(atom, count) if atom.mass_number().is_some() => (7, count),
                Token::Atom(_, count) => (2, count),
                Token::Open(_) => return 1,
                Token::Close(_, count) | Token::Coefficient(count) => (1, count),
                Token::Dot(count) => (2, count),
                Token::Charge(_) => return 12,
            };
            sign + match count {
                // It may be written out, so that nothing looks like a typing error.
                Count::Known(1, 1) => 1,
                Count::Known(n, 1) => digits(n) + "_{}".len(),
                // A decimal of ten characters at most, or a fraction.
                Count::Known(n, d) => (digits(n) + 1 + digits(d)).max(10) + "_{}".len(),
                Count::Unknown(_) => 1 + "_{}".len(),
            }
        });
        State::Aqueous.label().len() + lengths.sum::<usize>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::element::Element;
    use alloc::string::String;

    #[test]
    fn no_canonical_text_is_longer_than_its_bound() {
        let every: String = Element::ALL.iter().map(|e| e.symbol()).collect();
        let parts = ["9H20"; MOST_PARTS].join("·");
        let texts = [
            "H",
            "C1I",
            "C_{12}Ca(aq)",
            "O_{47}H2O",
            "C_xO_{0.5}N_{1/3}",
            "xH2O·nD2O(aq)",
            "[13C]_{0.12345678}[18O]_{1/3}",
            "(((Fe_{0.33})_{12.5})_{1/7})x^999-",
            "e-",
            "123456789(CN)_{0.12345678}^2-·7HOH",
            &every,
            &parts,
        ];
        for text in texts {
            let (formula, _) = Formula::read(text).unwrap();
            let plain = formula.plain();
            assert!(plain.len() <= formula.longest_text(), "{plain}");
        }
    }
}
