//! A formula, and the parts that it is taken apart into and put together from.

use alloc::vec::Vec;

use super::count::Count;
use super::packed::Packed;
use super::part::{Part, Term};
use super::spans::{ErrorSpans, ShortSpan};
use super::state::{PackedState, State};
use super::tokens::Token;
use crate::element::{Atom, Element};
use crate::number::Ratio;

/// A chemical formula of a salt, a hydrate, an ion or a molecule, as it is meant.
///
/// Every spelling of a hydrate is the same formula. Equality, order, hashing and serialisation go by the
/// meaning.
///
/// ```
/// use effloresce::Formula;
/// let hydrate: Formula = "MgSO4·7H2O".parse()?;
/// for spelling in ["MgSO4.7H2O", "MgSO4 * 7 H2O", "MgSO₄•7H₂O", "MgSO_{4}·7(H2O)"] {
///     assert_eq!(spelling.parse::<Formula>()?, hydrate);
/// }
/// assert_eq!(hydrate.to_string(), "MgSO4·7H2O");
/// assert_eq!(hydrate.waters().unwrap().to_string(), "7");
/// assert_eq!(hydrate.anhydrous().unwrap().to_string(), "MgSO4");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Formula {
    pub(in crate::formula) packed: Packed,
    pub(in crate::formula) state: PackedState,
    pub(in crate::formula) error_spans: ErrorSpans,
}

impl Formula {
    /// Returns the electric charge in whole elementary charges, or `None` if it is not whole or if a
    /// charged part has an unknown count.
    ///
    /// ```
    /// use effloresce::{Formula, Ratio};
    /// let halves: Formula = "0.5SO4^2-·0.5SO4^2-".parse()?;
    /// assert_eq!(halves.charge(), Some(-2));
    /// let third: Formula = "1/3SO4^2-".parse()?;
    /// assert_eq!(third.charge(), None);
    /// assert_eq!(third.exact_charge(), Ratio::new(-2, 3));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn charge(&self) -> Option<i64> {
        i64::try_from(self.exact_charge()?.to_i128()?).ok()
    }

    /// Returns the exact electric charge in elementary charges, or `None` if a charged part has an
    /// unknown count.
    #[must_use]
    #[inline]
    pub fn exact_charge(&self) -> Option<Ratio> {
        let (mut whole, mut fractional) = (0, Ratio::ZERO);
        let mut coefficient = Count::ONE;
        for token in self.packed.tokens() {
            match (token, coefficient) {
                (Token::Dot(count) | Token::Coefficient(count), _) => coefficient = count,
                (Token::Charge(charge), Count::Known(times, 1)) => {
                    whole += i64::from(charge) * i64::from(times);
                }
                (Token::Charge(charge), times) => {
                    fractional += times.ratio()? * charge;
                }
                _ => {}
            }
        }
        // Nearly every charge is whole, and a balance asks each species for its charge.
        let whole = Ratio::from(whole);
        Some(match fractional.is_zero() {
            true => whole,
            false => &fractional + &whole,
        })
    }

    /// Returns the state of matter, if a label `(s)`, `(l)`, `(g)` or `(aq)` was written.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.state.state()
    }

    /// Returns whether this is the electron.
    #[must_use]
    pub fn is_electron(&self) -> bool {
        let mut tokens = self.packed.tokens();
        !tokens.any(|token| matches!(token, Token::Atom(..)))
    }

    /// The formula without the spans of a text that it was read from.
    pub(in crate::formula) fn without_spans(self) -> Formula {
        Formula {
            error_spans: ErrorSpans::new(),
            ..self
        }
    }

    /// A formula without any part.
    pub(in crate::formula) const fn new() -> Formula {
        Formula {
            packed: Packed::new(),
            state: PackedState::NONE,
            error_spans: ErrorSpans::new(),
        }
    }

    /// Returns the electron, e⁻. It has no atoms, so that no [builder](Formula::builder) makes it.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// assert_eq!(Formula::electron(), "e-".parse()?);
    /// assert_eq!(Formula::electron().charge(), Some(-1));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn electron() -> Formula {
        let mut electron = Formula::new();
        electron.packed.push(Token::Charge(-1));
        electron
    }

    /// Begins a part with its coefficient, which has this span.
    pub(in crate::formula) fn push_part(&mut self, coefficient: Count, span: ShortSpan) {
        if let Count::Unknown(_) = coefficient {
            self.error_spans.note_unknown_count(span);
        }
        self.packed.push_part(coefficient);
    }

    pub(in crate::formula) fn push_atom(&mut self, atom: Atom, count: Count, span: ShortSpan) {
        if let Count::Unknown(_) = count {
            self.error_spans.note_unknown_count(span);
        }
        self.error_spans.note_atom(atom, span);
        self.packed.push(Token::Atom(atom, count));
    }

    pub(in crate::formula) fn push_water(&mut self) {
        let atom = |element: Element, count| Token::Atom(element.into(), count);
        self.packed
            .push(atom(Element::HYDROGEN, Count::Known(2, 1)));
        self.packed.push(atom(Element::OXYGEN, Count::ONE));
    }

    /// The parts that dots join.
    pub(in crate::formula) fn parts(&self) -> Vec<Part> {
        let mut parts = Vec::new();
        let mut part = Part::empty();
        for token in self.packed.tokens() {
            match token {
                Token::Dot(count) => {
                    parts.push(core::mem::replace(&mut part, Part::empty()));
                    part.coefficient = count;
                }
                Token::Coefficient(count) => part.coefficient = count,
                Token::Atom(atom, count) => part.terms.push(Term::Atom(atom, count)),
                Token::Open(bracket) => part.terms.push(Term::Open(bracket)),
                Token::Close(bracket, count) => part.terms.push(Term::Close(bracket, count)),
                Token::Charge(charge) => part.charge = charge,
            }
        }
        parts.push(part);
        parts
    }

    /// The formula of these parts, which were not read from a text.
    pub(in crate::formula) fn from_parts(parts: &[Part], state: Option<State>) -> Formula {
        let mut formula = Formula::new();
        for part in parts {
            formula.push_part(part.coefficient, ShortSpan::NONE);
            formula
                .packed
                .extend(part.terms.iter().map(|term| match term {
                    Term::Atom(atom, count) => Token::Atom(*atom, *count),
                    Term::Open(bracket) => Token::Open(*bracket),
                    Term::Close(bracket, count) => Token::Close(*bracket, *count),
                }));
            formula.packed.push(Token::Charge(part.charge));
        }
        formula.state = PackedState::of(state);
        formula
    }

    /// Water.
    pub(crate) fn water() -> Formula {
        let mut water = Formula::new();
        water.push_water();
        water
    }

    /// O, HO and H2O2: formulas that pupils take for water's, of 16, 17 and 34 g/mol.
    pub(crate) fn mistaken_for_water() -> [Formula; 3] {
        [(0, 1), (1, 1), (2, 2)].map(|(hydrogens, oxygens)| {
            let mut formula = Formula::new();
            for (element, count) in [(Element::HYDROGEN, hydrogens), (Element::OXYGEN, oxygens)] {
                if count > 0 {
                    formula.push_atom(element.into(), Count::Known(count, 1), ShortSpan::NONE);
                }
            }
            formula
        })
    }
}
