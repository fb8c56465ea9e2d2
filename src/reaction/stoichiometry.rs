//! The species of a reaction with their stoichiometric coefficients.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::check::Checked;
use super::conserved::Conserved;
use super::equation::{Equation, Side, Species};
use super::error::{Error, ErrorKind};
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::{Note, Span, list};

/// A reaction that conserves atoms and charge: its species, in order, with their coefficients.
///
/// A species that is on both sides is two species.
///
/// ```
/// use effloresce::{Ratio, reaction::Stoichiometry};
/// let burning = Stoichiometry::new(
///     [(Ratio::from(4), "Al".parse()?), (Ratio::from(3), "O2".parse()?)],
///     [(Ratio::from(2), "Al2O3".parse()?)],
/// )?;
/// assert_eq!(burning.species().count(), 3);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Stoichiometry {
    pub(super) terms: Vec<ReactionTerm>,
    /// The balanced equation, if it had to be balanced, and the note of that.
    pub(super) balanced_first: Option<(String, Note)>,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct ReactionTerm {
    pub(super) formula: Formula,
    pub(super) coefficient: Ratio,
    pub(super) side: Side,
    /// Its bytes in the equation's text, if there is a text.
    pub(super) span: Option<Span>,
}

impl ReactionTerm {
    /// Returns the error of a species without a composition or a molar mass, with its span.
    pub(super) fn error(&self, error: &crate::formula::Error) -> Error {
        Error::of_formula(error, 0).at(self.span)
    }
}

impl Stoichiometry {
    /// Returns a reaction of these reactants and products, each with its coefficient.
    ///
    /// # Errors
    /// `no_balance` if atoms of an element or the charge are not conserved, or a coefficient is not
    /// positive; `unknown_degree` if a count in a formula is unknown.
    pub fn new(
        reactants: impl IntoIterator<Item = (Ratio, Formula)>,
        products: impl IntoIterator<Item = (Ratio, Formula)>,
    ) -> Result<Stoichiometry, Error> {
        let term = |side| {
            move |(coefficient, formula)| ReactionTerm {
                formula,
                coefficient,
                side,
                span: None,
            }
        };
        let mut terms: Vec<ReactionTerm> =
            reactants.into_iter().map(term(Side::Reactants)).collect();
        terms.extend(products.into_iter().map(term(Side::Products)));
        let reaction = Stoichiometry {
            terms,
            balanced_first: None,
        };
        reaction.conserves()?;
        Ok(reaction)
    }

    fn of(equation: &Equation, coefficients: impl IntoIterator<Item = Ratio>) -> Stoichiometry {
        let species = equation.species().iter().zip(coefficients);
        let terms = species.map(|(species, coefficient)| ReactionTerm {
            formula: species.formula().clone(),
            coefficient,
            side: species.side(),
            span: Some(species.span()),
        });
        Stoichiometry {
            terms: terms.collect(),
            balanced_first: None,
        }
    }

    /// Returns what was done to the equation: `balanced_first`, or nothing.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        self.balanced_first
            .as_ref()
            .map_or(&[], |(_, note)| core::slice::from_ref(note))
    }

    /// Returns each species with its coefficient and its side.
    pub fn species(&self) -> impl Iterator<Item = (&Formula, &Ratio, Side)> {
        let terms = self.terms.iter();
        terms.map(|term| (&term.formula, &term.coefficient, term.side))
    }

    pub(super) fn conserves(&self) -> Result<(), Error> {
        const CHECK: &str = "check the coefficients and the species";
        if let Some(term) = self.terms.iter().find(|t| !t.coefficient.is_positive()) {
            let (coefficient, formula) = (&term.coefficient, &term.formula);
            let message = format!("the coefficient {coefficient} of {formula} is not positive");
            return Err(Error::without_span(ErrorKind::NoBalance, message, CHECK));
        }
        let mut checked = Checked::new();
        for term in &self.terms {
            let mut add =
                |what, count: Ratio| checked.add(what, term.side, &(&count * &term.coefficient));
            let counts = term.formula.composition();
            let counts = counts.map_err(|error| term.error(&error))?;
            for (atom, count) in &counts {
                add(Conserved::Atom(atom), count.clone());
            }
            add(
                Conserved::Charge,
                term.formula.exact_charge().unwrap_or_default(),
            );
        }
        if checked.is_balanced() {
            return Ok(());
        }
        let off = list(checked.off().map(|total| {
            let (what, left, right) = (total.what(), total.left(), total.right());
            format!("{what} (reactants {left}, products {right})")
        }));
        Err(Error::without_span(
            ErrorKind::NoBalance,
            format!("not conserved: {off}"),
            CHECK,
        ))
    }
}

impl Equation {
    /// Returns the species with coefficients that conserve atoms and charge.
    ///
    /// The written coefficients are used if they conserve both. Otherwise the equation is balanced,
    /// with the note `balanced_first`.
    ///
    /// # Errors
    /// As [`balance`](Equation::balance), if the written coefficients do not conserve both.
    ///
    /// ```
    /// use effloresce::reaction::Equation;
    /// let twice: Equation = "4H2 + 2O2 -> 4H2O".parse()?;
    /// let reaction = twice.stoichiometry()?;
    /// assert!(reaction.notes().is_empty());
    /// assert_eq!(reaction.species().next().unwrap().1.to_string(), "4");
    /// let bare: Equation = "H2 + O2 -> H2O".parse()?;
    /// let reaction = bare.stoichiometry()?;
    /// assert_eq!(reaction.notes()[0].text(), "The equation was balanced first: 2H2 + O2 -> 2H2O.");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn stoichiometry(&self) -> Result<Stoichiometry, Error> {
        let written = Stoichiometry::of(self, self.species().iter().map(Species::count));
        match written.conserves() {
            Ok(()) => return Ok(written),
            Err(error) if error.kind() != ErrorKind::NoBalance => return Err(error),
            Err(_) => {}
        }
        let balanced = self.balance()?;
        let mut found = Stoichiometry::of(self, balanced.coefficients().iter().cloned());
        let mut equation = format!("{}", self.with(&balanced));
        if equation.len() > LONGEST_SHOWN {
            let coefficients = balanced.coefficients().iter();
            let coefficients: Vec<String> = coefficients.map(|n| format!("{n}")).collect();
            equation = format!("coefficients {}", coefficients.join(", "));
        }
        let text = format!("The equation was balanced first: {equation}.");
        let note = Note::new("balanced_first", text).with("equation", equation.clone());
        found.balanced_first = Some((equation, note));
        Ok(found)
    }
}

/// The longest equation that a note shows, in bytes; of a longer one it shows the coefficients.
const LONGEST_SHOWN: usize = 500;

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    fn reaction(left: &[(i32, &str)], right: &[(i32, &str)]) -> Result<Stoichiometry, Error> {
        let side = |terms: &[(i32, &str)]| -> Vec<(Ratio, Formula)> {
            let terms = terms.iter();
            terms
                .map(|(n, text)| (Ratio::from(*n), text.parse().unwrap()))
                .collect()
        };
        Stoichiometry::new(side(left), side(right))
    }

    #[track_caller]
    fn refuses(left: &[(i32, &str)], right: &[(i32, &str)], kind: ErrorKind, message: &str) {
        let error = reaction(left, right).unwrap_err();
        assert_eq!((error.kind(), error.to_string().as_str()), (kind, message));
    }

    #[test]
    fn atoms_and_charge_are_conserved() {
        let silver = [(1, "Cu"), (2, "Ag+")];
        assert!(reaction(&silver, &[(1, "Cu2+"), (2, "Ag")]).is_ok());
        assert!(reaction(&[(1, "Cu2+"), (2, "e-")], &[(1, "Cu")]).is_ok());
        assert!(reaction(&[(1, "CuSO4·5H2O")], &[(1, "CuSO4"), (5, "H2O")]).is_ok());
        refuses(
            &[(1, "Cu"), (1, "Ag+")],
            &[(1, "Cu2+"), (1, "Ag")],
            ErrorKind::NoBalance,
            "not conserved: charge (reactants 1, products 2)",
        );
        refuses(
            &[(1, "H2"), (1, "O2")],
            &[(1, "H2O"), (0, "O3")],
            ErrorKind::NoBalance,
            "the coefficient 0 of O3 is not positive",
        );
        refuses(
            &[(1, "D2")],
            &[(1, "H2")],
            ErrorKind::NoBalance,
            "not conserved: [2H] (reactants 2, products 0) and H (reactants 0, products 2)",
        );
        refuses(
            &[(1, "MgSO4·xH2O")],
            &[(1, "MgSO4")],
            ErrorKind::UnknownDegree,
            "a count is unknown, so the atoms cannot be counted",
        );
    }
}
