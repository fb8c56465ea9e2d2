//! A formula as a species of an equation.

use super::bracket::Bracket;
use super::count::Count;
use super::formula::Formula;
use super::part::{Part, Term};
use super::state::PackedState;
use super::tokens::Token;

impl Formula {
    /// Whether the formula has several parts, joined by dots.
    pub(crate) fn is_adduct(&self) -> bool {
        let mut tokens = self.packed.tokens();
        tokens.any(|token| matches!(token, Token::Dot(_)))
    }

    /// Whether the first part has a coefficient, so that the text begins with a number.
    pub(crate) fn begins_with_number(&self) -> bool {
        matches!(self.packed.tokens().next(), Some(Token::Coefficient(_)))
    }

    /// A formula that is a number of one group and nothing else, such as two CN, in brackets as one
    /// unit: `(CN)2`. `None` for all others.
    pub(crate) fn as_one_unit(&self) -> Option<Formula> {
        if !self.begins_with_number() {
            return None;
        }
        let mut parts = self.parts();
        // A group in brackets cannot have a charge.
        let [part @ Part { charge: 0, .. }] = parts.as_mut_slice() else {
            return None;
        };
        let count = core::mem::replace(&mut part.coefficient, Count::ONE);
        part.terms.insert(0, Term::Open(Bracket::Round));
        part.terms.push(Term::Close(Bracket::Round, count));
        Some(Formula::from_parts(&parts, self.state()))
    }

    /// The formula without the label of its state.
    pub(crate) fn without_state(&self) -> Formula {
        Formula {
            state: PackedState::NONE,
            ..self.clone()
        }
    }
}
