//! Reactions: an [`Equation`] as it is written, balanced exactly or refused with its reasons.

// A text is cut by `get` and its like: no cut can fail.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

mod balance;
mod check;
mod coefficient;
mod eliminate;
mod error;
mod parse;
mod plus;
mod positive;
mod reasons;
mod system;
#[cfg(test)]
mod tests;
mod write;

pub use balance::{Balance, Balanced};
pub use check::{Checked, Conserved, Total};
pub use error::{Error, ErrorKind};

use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;
use core::fmt;
use core::hash::{Hash, Hasher};
use core::str::FromStr;

use crate::formula::{Formula, State};
use crate::number::Ratio;
use crate::text::{Detail, Note, Span};

/// The longest text that is read as an equation, in bytes.
pub(crate) const MOST_BYTES: usize = 16_384;
/// The most species on both sides together.
pub(crate) const MOST_SPECIES: usize = 64;

/// A chemical equation, balanced or not: species in the order in which they were written.
///
/// Species are joined by ` + `; between the sides stands one of `->`, `→`, `=`, `⇌`, `<=>` and
/// their like. A coefficient stands apart from the formula and counts for the whole species:
/// `2CuSO4·5H2O` is two of the hydrate. Where a formula begins with a number of its own, the
/// coefficient is written before it with a space, `1` included: `1 3CdSO4·8H2O`.
///
/// A `+` with a space before it joins; one behind a formula and before a space charges; one with
/// neither joins, unless it may as well be a charge (`Cu2+Cl2`, `Na+Cl-`), which is an error that
/// names both readings.
///
/// Equality and hashing go by what is meant: the same species with the same coefficients (none is
/// one) in the same order, and the same kind of arrow.
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
    text: Arc<str>,
    species: Vec<Species>,
    /// How many of the species are reactants; they come first.
    reactants: usize,
    arrow: Arrow,
}

/// One of the two sides of an equation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Before the arrow.
    Reactants,
    /// Behind it.
    Products,
}

impl Side {
    /// `reactants` or `products`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Side::Reactants => "reactants",
            Side::Products => "products",
        }
    }

    /// The other side.
    #[must_use]
    pub const fn other(self) -> Side {
        match self {
            Side::Reactants => Side::Products,
            Side::Products => Side::Reactants,
        }
    }
}

/// What stands between the sides. The three are those of the IUPAC Green Book (3rd edition, 2.10.1).
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
    formula: Formula,
    coefficient: Option<Ratio>,
    side: Side,
    text: Arc<str>,
    span: Span,
    /// Where in the text the formula begins.
    formula_at: usize,
}

impl Species {
    /// The formula, without the coefficient.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// The formula in canonical plain text, as one unit: two CN are `(CN)2` in an equation, where a
    /// number in front would be a coefficient.
    #[must_use]
    pub fn name(&self) -> String {
        write::plain_formula(&self.formula)
    }

    /// The coefficient, if one was written.
    #[must_use]
    pub fn coefficient(&self) -> Option<&Ratio> {
        self.coefficient.as_ref()
    }

    /// The coefficient; one where none was written.
    #[must_use]
    pub fn count(&self) -> Ratio {
        self.coefficient.clone().unwrap_or(Ratio::ONE)
    }

    /// The state of matter, if a label was written.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.formula.state()
    }

    /// Where it stands.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Its place in the equation's text, coefficient and label included.
    #[must_use]
    pub fn span(&self) -> Span {
        self.span
    }

    /// Its own text, as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        self.text
            .get(self.span.start..self.span.end)
            .unwrap_or_default()
    }
}

impl Equation {
    /// Reads an equation and notes what may have been meant otherwise.
    ///
    /// The notes are those of [`Formula::read`], each with the value `species`, and
    /// `coefficient_of_all` where a number right before a hydrate was read as the coefficient of
    /// the whole (`2CuSO4·5H2O`). [`FromStr`] is strict: it refuses what [`Formula`]'s strict
    /// reader refuses.
    ///
    /// # Errors
    /// Where the text is no equation, or has two readings of which neither may be preferred. The
    /// span is that in the equation's text.
    ///
    /// ```
    /// use effloresce::reaction::Equation;
    /// let (equation, notes) = Equation::read("2CuSO4·5H2O -> 2CuSO4 + 10H2O")?;
    /// assert_eq!(equation.reactants()[0].formula().to_string(), "CuSO4·5H2O");
    /// assert_eq!(notes[0].code(), "coefficient_of_all");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<(Equation, Vec<Note>), Error> {
        let mut notes = Vec::new();
        let equation = parse::equation(text, Some(&mut notes))?;
        Ok((equation, notes))
    }

    /// An equation of these formulas, each with its coefficient.
    ///
    /// # Errors
    /// `bad_equation` where a side is empty, a coefficient is not above nought, or a formula cannot
    /// stand in an equation (`3H2O` as one formula); `too_large` where there are too many.
    ///
    /// ```
    /// use effloresce::reaction::{Arrow, Equation};
    /// use effloresce::Ratio;
    /// let with = |text: &str| Ok::<_, effloresce::Error>((None::<Ratio>, text.parse()?));
    /// let left = [with("H2")?, with("O2")?];
    /// let equation = Equation::new(left, Arrow::Forward, [with("H2O")?])?;
    /// assert_eq!(equation.to_string(), "H2 + O2 -> H2O");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn new(
        reactants: impl IntoIterator<Item = (Option<Ratio>, Formula)>,
        arrow: Arrow,
        products: impl IntoIterator<Item = (Option<Ratio>, Formula)>,
    ) -> Result<Equation, Error> {
        let mut species = Vec::new();
        let mut add = |side, (coefficient, formula)| {
            species.push(Species {
                formula,
                coefficient,
                side,
                text: "".into(),
                span: Span::new(0, 0),
                formula_at: 0,
            });
        };
        reactants
            .into_iter()
            .for_each(|one| add(Side::Reactants, one));
        products
            .into_iter()
            .for_each(|one| add(Side::Products, one));
        let made = Equation {
            text: "".into(),
            reactants: species.iter().filter(|s| s.side == Side::Reactants).count(),
            species,
            arrow,
        };
        // Its own text is what tells whether all of it can be written.
        let written = parse::equation(&made.to_plain(), None);
        match written {
            Ok(read) if read == made => Ok(read),
            Err(error) if error.kind() == ErrorKind::TooLarge => Err(error),
            _ => Err(Error::new(
                ErrorKind::BadEquation,
                Detail::new("these formulas and coefficients cannot be written as an equation")
                    .help("give both sides a species, every species a coefficient above nought, and no formula a number in front"),
            )),
        }
    }

    /// The text that was read.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// All species, reactants first.
    #[must_use]
    pub fn species(&self) -> &[Species] {
        &self.species
    }

    /// The species before the arrow.
    #[must_use]
    pub fn reactants(&self) -> &[Species] {
        self.species.get(..self.reactants).unwrap_or_default()
    }

    /// The species behind the arrow.
    #[must_use]
    pub fn products(&self) -> &[Species] {
        self.species.get(self.reactants..).unwrap_or_default()
    }

    /// What stands between the sides.
    #[must_use]
    pub fn arrow(&self) -> Arrow {
        self.arrow
    }

    /// The places, among all species, of those that are this formula. A formula without a label of
    /// its state stands for every state.
    pub fn places_of(&self, formula: &Formula) -> impl Iterator<Item = usize> {
        let places = self.species.iter().enumerate();
        places.filter_map(move |(place, species)| {
            let found = &species.formula;
            let same =
                found == formula || formula.state().is_none() && found.without_state() == *formula;
            same.then_some(place)
        })
    }

    /// The same reaction the other way round. The arrow stays what it is.
    #[must_use]
    pub fn reversed(&self) -> Equation {
        let turned = |species: &Species| Species {
            side: species.side.other(),
            ..species.clone()
        };
        let sides = [self.products(), self.reactants()];
        Equation {
            text: self.text.clone(),
            species: sides.into_iter().flatten().map(turned).collect(),
            reactants: self.products().len(),
            arrow: self.arrow,
        }
    }
}

impl FromStr for Equation {
    type Err = Error;

    /// Reads an equation strictly.
    fn from_str(text: &str) -> Result<Equation, Error> {
        parse::equation(text, None)
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

impl fmt::Display for Equation {
    /// The canonical plain text; [`FromStr`] reads it back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.to_plain())
    }
}

impl fmt::Debug for Equation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Equation({self})")
    }
}

impl fmt::Display for Species {
    /// The canonical plain text, coefficient included.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&write::plain_species(self))
    }
}

impl fmt::Debug for Species {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Species({self})")
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Equation {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.to_plain())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Equation {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <alloc::borrow::Cow<'_, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

/// A text made by a writer into a string, which refuses nothing.
fn written(write: impl FnOnce(&mut String) -> fmt::Result) -> String {
    let mut out = String::with_capacity(64);
    let done = write(&mut out);
    debug_assert!(done.is_ok(), "a text refused what was written to it");
    out
}
