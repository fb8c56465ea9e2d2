//! An equation as it was written: species in order, an arrow between the sides.

use alloc::boxed::Box;
use alloc::vec::Vec;
use core::hash::{Hash, Hasher};

use smallvec::SmallVec;

use crate::formula::{Formula, State};
use crate::number::Ratio;
use crate::text::Span;

/// A chemical equation, balanced or not: species in the order in which they were written.
///
/// Species are joined by ` + `; between the sides is an arrow such as `->`, `→`, `=`, `⇌` or `<=>`.
/// A coefficient is separate from the formula and counts for the whole species:
/// `2CuSO4·5H2O` is two of the hydrate. If a formula begins with a number of its own, the
/// coefficient is written before it with a space, including a `1`: `1 3CdSO4·8H2O`.
///
/// A `+` with a space before it joins. A `+` after a formula and before a space is a charge. A `+`
/// without spaces joins, unless it may be a charge as well (`Cu2+Cl2`, `Na+Cl-`): that is an error
/// that names both meanings.
///
/// Two equations are equal if they mean the same: the same species with the same coefficients (no
/// coefficient is one) in the same order, and the same kind of arrow.
///
/// ```
/// use effloresce::reaction::{Equation, Side};
/// let equation: Equation = "MnO4^- + 5Fe2+ + 8H+ → Mn2+ + 5Fe3+ + 4H2O".parse()?;
/// assert_eq!(equation.to_string(), "MnO4^- + 5Fe^2+ + 8H^+ -> Mn^2+ + 5Fe^3+ + 4H2O");
/// let iron = &equation.species()[1];
/// assert_eq!((iron.text(), iron.side()), ("5Fe2+", Side::Reactants));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Clone)]
pub struct Equation {
    pub(super) text: Box<str>,
    /// All species, reactants first. Each side has at least one.
    pub(super) species: Vec<Species>,
    pub(super) arrow: Arrow,
}

/// One of the two sides of an equation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Before the arrow.
    Reactants,
    /// After it.
    Products,
}

impl Side {
    /// Returns `reactants` or `products`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Side::Reactants => "reactants",
            Side::Products => "products",
        }
    }

    /// Returns the other side.
    #[must_use]
    pub const fn other(self) -> Side {
        match self {
            Side::Reactants => Side::Products,
            Side::Products => Side::Reactants,
        }
    }
}

/// The sign between the sides. The three kinds are those of the IUPAC Green Book (3rd edition, 2.10.1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Arrow {
    /// `->`: a net forward reaction.
    Forward,
    /// `=`: a stoichiometric relation.
    Equals,
    /// `<=>`: an equilibrium, or a reaction both ways.
    BothWays,
}

/// A formula in an equation, with its coefficient as it was written.
#[derive(Clone)]
pub struct Species {
    pub(super) formula: Formula,
    pub(super) coefficient: Option<Ratio>,
    pub(super) side: Side,
    /// The bytes of its text. Most texts are short, so that none is on the heap.
    pub(super) text: SmallVec<[u8; 24]>,
    pub(super) span: Span,
    /// Where in the text the formula begins.
    pub(super) formula_at: usize,
}

impl Species {
    /// Returns the formula, without the coefficient.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Returns the coefficient, if one was written.
    #[must_use]
    pub fn coefficient(&self) -> Option<&Ratio> {
        self.coefficient.as_ref()
    }

    /// Returns the coefficient; one if none was written.
    #[must_use]
    pub fn count(&self) -> Ratio {
        self.coefficient.clone().unwrap_or(Ratio::ONE)
    }

    /// Returns the state of matter, if a label was written.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.formula.state()
    }

    /// Returns the side that the species is on.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Returns the bytes of the species in the equation's text, including coefficient and label.
    #[must_use]
    pub fn span(&self) -> Span {
        self.span
    }

    /// Returns the text of the species as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        core::str::from_utf8(&self.text).unwrap_or_default()
    }
}

/// Returns whether a formula names a species. A formula without a state label names every state.
pub(super) fn is_named(species: &Formula, by: &Formula) -> bool {
    species == by || (by.state().is_none() && species.without_state() == *by)
}

impl Equation {
    /// Returns the text that was read.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Returns all species, reactants first.
    #[must_use]
    pub fn species(&self) -> &[Species] {
        &self.species
    }

    /// Returns the species before the arrow.
    #[must_use]
    pub fn reactants(&self) -> &[Species] {
        self.sides().0
    }

    /// Returns the species after the arrow.
    #[must_use]
    pub fn products(&self) -> &[Species] {
        self.sides().1
    }

    fn sides(&self) -> (&[Species], &[Species]) {
        let reactants = |species: &Species| species.side == Side::Reactants;
        self.species
            .split_at(self.species.partition_point(reactants))
    }

    /// Returns the kind of arrow between the sides.
    #[must_use]
    pub fn arrow(&self) -> Arrow {
        self.arrow
    }

    /// Returns the indices, among all species, of those that are this formula.
    ///
    /// A formula without a state label names every state.
    pub fn indices_of(&self, formula: &Formula) -> impl Iterator<Item = usize> {
        let species = self.species.iter().enumerate();
        species.filter_map(move |(index, species)| {
            is_named(&species.formula, formula).then_some(index)
        })
    }

    /// Returns the equation with its sides exchanged. The arrow stays the same.
    #[must_use]
    pub fn reversed(&self) -> Equation {
        let moved = |species: &Species| Species {
            side: species.side.other(),
            ..species.clone()
        };
        let sides = [self.products(), self.reactants()];
        Equation {
            text: self.text.clone(),
            species: sides.into_iter().flatten().map(moved).collect(),
            arrow: self.arrow,
        }
    }
}

impl PartialEq for Species {
    fn eq(&self, other: &Species) -> bool {
        self.side == other.side && self.formula == other.formula && self.count() == other.count()
    }
}

impl Eq for Species {}

impl Hash for Species {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.side.hash(state);
        self.formula.hash(state);
        self.count().hash(state);
    }
}

impl PartialEq for Equation {
    fn eq(&self, other: &Equation) -> bool {
        self.arrow == other.arrow && self.species == other.species
    }
}

impl Eq for Equation {}

impl Hash for Equation {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.arrow.hash(state);
        self.species.hash(state);
    }
}
