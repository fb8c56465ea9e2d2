//! A formula as a column of an equation's matrix: atoms and charge in whole numbers.

use smallvec::SmallVec;

use super::packed::Token;
use super::{Count, Error, Formula};
use crate::element::Atom;
use crate::number::Ratio;

/// The atoms and the charge of so many (`units`) formula units, all whole.
#[derive(Debug)]
pub(crate) struct Column {
    pub(crate) atoms: SmallVec<[(Atom, u64); 12]>,
    pub(crate) charge: i64,
    pub(crate) units: u64,
}

impl Formula {
    /// Atoms and charge in whole numbers; an error where a count is left open.
    #[inline]
    pub(crate) fn column(&self) -> Result<Column, Error> {
        let tally = self.tally(None).map_err(|why| self.uncounted(why))?;
        let mut column = Column {
            atoms: tally.counts,
            charge: 0,
            units: tally.denominator,
        };
        match self.whole_charge() {
            Some(charge) if column.units == 1 => column.charge = charge,
            Some(0) => {}
            _ => self.charge_of_broken(&mut column),
        }
        Ok(column)
    }

    /// Whether it has several parts, joined by dots.
    pub(crate) fn is_adduct(&self) -> bool {
        let mut tokens = self.packed.tokens();
        tokens.any(|token| matches!(token, Token::Dot))
    }

    /// Whether its first part has a coefficient, with which its text begins.
    pub(crate) fn begins_with_number(&self) -> bool {
        matches!(self.packed.tokens().next(), Some(Token::Coefficient(_)))
    }

    /// The formula without the label of its state.
    pub(crate) fn without_state(&self) -> Formula {
        Formula {
            state: None,
            ..self.clone()
        }
    }

    /// The charge, where every charged part stands there a whole number of times.
    #[inline]
    fn whole_charge(&self) -> Option<i64> {
        let (mut sum, mut times) = (0, 1);
        for token in self.packed.tokens() {
            match token {
                Token::Dot => times = 1,
                Token::Coefficient(Count::Known(n, 1)) => times = i64::from(n),
                Token::Coefficient(_) => times = 0,
                Token::Charge(charge) if times == 0 && charge != 0 => return None,
                Token::Charge(charge) => sum += i64::from(charge) * times,
                _ => {}
            }
        }
        Some(sum)
    }

    /// The exact charge beside atoms that are counted over a denominator.
    #[cold]
    fn charge_of_broken(&self, column: &mut Column) {
        let mut sum = Ratio::ZERO;
        for part in self.parts() {
            let times = part.coefficient.ratio().unwrap_or(Ratio::ONE);
            sum = &sum + &(&times * &Ratio::from(part.charge));
        }
        // The denominator of every coefficient divides `units` or is that of a part whose atoms
        // came out whole: then the column is made longer.
        let scaled = &sum * &Ratio::from(column.units);
        let (above, below) = scaled.to_parts().unwrap_or((0, 1));
        let more = u64::try_from(below).unwrap_or(1);
        column.units = column.units.saturating_mul(more);
        for (_, count) in &mut column.atoms {
            *count = count.saturating_mul(more);
        }
        column.charge = i64::try_from(above).unwrap_or_default();
    }
}
