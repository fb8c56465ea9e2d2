//! A part without the brackets that say nothing more: `5(H2O)` is `5H2O`.

use crate::formula::error::Error;
use crate::formula::repr::{Bracket, Count, Token, Tokens, WaterSpelling};
use crate::text::Span;

/// A part without the brackets that say nothing more.
#[derive(Clone, Copy)]
pub(crate) struct BarePart<'w> {
    pub(crate) coefficient: Count,
    pub(crate) words: &'w [u16],
    pub(crate) charge: i32,
}

/// A group in round brackets at the end of a part.
struct FinalGroup<'w> {
    before: &'w [u16],
    inside: &'w [u16],
    count: Count,
}

impl<'w> BarePart<'w> {
    /// How water is spelled here, if the part is water or looks like it.
    pub(crate) fn water(&self) -> Option<WaterSpelling> {
        WaterSpelling::of(self.words).filter(|_| self.charge == 0)
    }

    fn final_group(&self) -> Option<FinalGroup<'w>> {
        let (mut depth, mut opened, mut last) = (0_usize, 0, None);
        for (at, token) in Tokens::of(self.words).with_offsets() {
            last = None;
            match token {
                Token::Open(_) => {
                    if depth == 0 {
                        opened = at;
                    }
                    depth += 1;
                }
                Token::Close(bracket, count) => {
                    depth = depth.saturating_sub(1);
                    last = Some((at, bracket, count)).filter(|_| depth == 0);
                }
                _ => {}
            }
        }
        let (closed, Bracket::Round, count) = last? else {
            return None;
        };
        Some(FinalGroup {
            before: self.words.get(..opened)?,
            inside: self.words.get(opened + 1..closed)?,
            count,
        })
    }

    /// `(H2O)5` counts water and `(CaSO4)2` a salt, and the brackets say nothing more. Other groups keep
    /// brackets with a count, as in `(COOH)2`. With a charge after them, they hold together what carries it.
    pub(crate) fn without_brackets(mut self, span: Span) -> Result<BarePart<'w>, Error> {
        while let Some(group) = self.final_group().filter(|group| group.before.is_empty()) {
            let is_unit = self.charge == 0 && is_formula_unit(group.inside);
            if !group.count.is_one() && !is_unit {
                break;
            }
            let Some(product) = product(self.coefficient, group.count, span)? else {
                break;
            };
            self.coefficient = product;
            self.words = group.inside;
        }
        Ok(self)
    }

    /// `CuSO4(H2O)5`: water in round brackets at the end of a part is water of crystallization.
    /// What is before it, and its count.
    pub(crate) fn split_final_water(self) -> Option<(BarePart<'w>, Count)> {
        // With a count of its own, or with a charge, the part is a unit that holds its water.
        if self.coefficient != Count::ONE || self.charge != 0 {
            return None;
        }
        let group = self.final_group()?;
        if group.before.is_empty() || !WaterSpelling::is_water(group.inside) {
            return None;
        }
        let words = group.before;
        Some((BarePart { words, ..self }, group.count))
    }
}

/// Whether a group is water or has a metal, so that it is a formula unit and not part of a molecule.
fn is_formula_unit(inside: &[u16]) -> bool {
    let is_metal = |token| matches!(token, Token::Atom(atom, _) if atom.element().is_metal());
    WaterSpelling::of(inside).is_some() || Tokens::of(inside).any(is_metal)
}

/// One count for two; `None` if one of them is unknown and the other more than one.
fn product(a: Count, b: Count, span: Span) -> Result<Option<Count>, Error> {
    match (a, b) {
        (count, Count::ONE) | (Count::ONE, count) => Ok(Some(count)),
        (Count::Known(..), Count::Known(..)) => a
            .times(b)
            .map(Some)
            .ok_or_else(|| Error::too_large(span, "the number of formula units", "9 digits")),
        _ => Ok(None),
    }
}
