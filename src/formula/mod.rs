//! Formulas: a text is read as *notation* (as written, with places), then as a [`Formula`]
//! (as meant, with notes), which has a composition, a molar mass, a charge, and writers.

// A text is cut by `get` and its like: no cut can fail.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

mod brackets;
mod builder;
mod charge;
mod column;
mod complaint;
mod composition;
mod count;
mod describe;
mod doubt;
mod empirical;
mod error;
mod leaf;
mod lookalike;
mod misread;
mod molar_inputs;
mod molar_mass;
mod name;
mod notation;
mod origins;
mod packed;
mod parse;
mod plain;
mod resolve;
mod size;
mod solvate;
mod state;
mod suspect;
mod symbol;
mod tally;
#[cfg(test)]
mod tests;
mod walk;
mod write;

pub use builder::{FormulaBuilder, GroupBuilder, Times};
pub(crate) use column::Column;
pub use composition::Composition;
pub use describe::{Description, PartDescription};
pub use empirical::{Analysis, Constituent, Empirical, Fit, Trial};
pub(crate) use empirical::{Origin, Product};
pub use error::{Error, ErrorKind};
pub(crate) use leaf::vulgar_fraction;
pub(crate) use molar_inputs::MolarInputs;
pub use molar_mass::MolarMass;
pub use name::HydrateName;
pub use state::State;

use alloc::vec::Vec;
use core::fmt;
use core::str::FromStr;

use crate::element::{Atom, Element};
use crate::number::Ratio;
use crate::text::Note;
use notation::{Bracket, Place};
use origins::Origins;
use packed::{Packed, Token};
use state::Label;

/// A chemical formula, as it is meant: a salt, a hydrate, an ion, a molecule.
///
/// Every spelling of one hydrate is one formula: equality, order, hashing and serialisation go
/// by the meaning.
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
    packed: Packed,
    label: Label,
    origins: Origins,
}

/// What stands between two dots, laid out for whoever takes it apart.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Part {
    coefficient: Count,
    terms: Vec<Term>,
    charge: i32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Term {
    Atom(Atom, Count),
    Open(Bracket),
    Close(Bracket, Count),
}

/// How many of something: an exact fraction, or left open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Count {
    Known(u32, u32),
    Unknown(char),
}

impl Count {
    const ONE: Count = Count::Known(1, 1);
    /// No numerator or denominator is larger: as many digits as the parser reads.
    const MOST: u32 = 999_999_999;

    const fn is_one(self) -> bool {
        matches!(self, Count::Known(1, 1))
    }

    fn known(numerator: u32, denominator: u32) -> Count {
        let divisor = num_integer::gcd(numerator, denominator).max(1);
        Count::Known(numerator / divisor, denominator / divisor)
    }

    fn ratio(self) -> Option<Ratio> {
        match self {
            Count::Known(numerator, denominator) => {
                Ratio::new(numerator.into(), denominator.into())
            }
            Count::Unknown(_) => None,
        }
    }

    /// The count that a ratio is, where its parts fit.
    fn from_ratio(value: &Ratio) -> Option<Count> {
        let (numerator, denominator) = value.to_parts()?;
        let short = |n: i128| {
            let n = u32::try_from(n).ok();
            n.filter(|n| (1..=Count::MOST).contains(n))
        };
        Some(Count::Known(short(numerator)?, short(denominator)?))
    }
}

impl Formula {
    /// Reads a formula and notes what may have been meant otherwise.
    ///
    /// The notes are `ambiguous_dot` (a full stop taken as an adduct dot, where a decimal point
    /// would be honest too), `suspect_case` (all capitals, with two that spell a metal),
    /// `suspect_zero` (`H20`, with a zero), `suspect_one` (`NaC1`, `CaC12`, with the digit 1 for a
    /// small l), `suspect_letter` (`NaCI`, with a capital I for it), `suspect_dot` (`MgSO47H2O`,
    /// with the dot left out), `full_stop` (one at the end, left out) and `bracketed_water`
    /// (water in brackets at the end, read as water of crystallization).
    /// [`FromStr`] is strict: it refuses all but the last.
    ///
    /// # Errors
    /// Where the text is no formula, or has two readings of which neither may be preferred.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let (clay, notes) = Formula::read("Al2O3.2SiO2.2H2O")?;
    /// assert_eq!(clay.to_string(), "Al2O3·2SiO2·2H2O");
    /// assert_eq!(notes[0].code(), "ambiguous_dot");
    /// assert!("Al2O3.2SiO2.2H2O".parse::<Formula>().is_err());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<(Formula, Vec<Note>), Error> {
        let (mut formula, mut notes) = (Formula::new(), Vec::new());
        formula.fill(text, Some(&mut notes))?;
        Ok((formula, notes))
    }

    /// The electric charge, in elementary charges.
    #[must_use]
    pub fn charge(&self) -> i64 {
        self.parts()
            .iter()
            .map(|part| match part.coefficient {
                // A charge on a part of fractional or open count is not whole; none is claimed.
                Count::Known(n, d) if n % d == 0 => i64::from(part.charge) * i64::from(n / d),
                Count::Known(..) | Count::Unknown(_) => i64::from(part.charge),
            })
            .sum()
    }

    /// The label `(s)`, `(l)`, `(g)` or `(aq)`, if one was written.
    #[must_use]
    pub fn state(&self) -> Option<State> {
        self.label.state()
    }

    /// Whether this is the electron.
    #[must_use]
    pub fn is_electron(&self) -> bool {
        let mut tokens = self.packed.tokens();
        !tokens.any(|token| matches!(token, Token::Atom(..)))
    }

    /// The formula as if it stood in no text.
    fn without_places(self) -> Formula {
        Formula {
            origins: Origins::new(),
            ..self
        }
    }

    /// The formula of nothing yet.
    const fn new() -> Formula {
        Formula {
            packed: Packed::new(),
            label: Label::NONE,
            origins: Origins::new(),
        }
    }

    /// The electron, e⁻, which has no atoms and so no [builder](Formula::builder).
    ///
    /// ```
    /// # use effloresce::Formula;
    /// assert_eq!(Formula::electron(), "e-".parse()?);
    /// assert_eq!(Formula::electron().charge(), -1);
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn electron() -> Formula {
        let mut electron = Formula::new();
        electron.packed.push(Token::Charge(-1));
        electron
    }

    /// Begins a part, whose coefficient stands at this place.
    #[inline]
    fn push_part(&mut self, coefficient: Count, place: Place) {
        if let Count::Unknown(_) = coefficient {
            self.origins.open(place);
        }
        self.packed.part(coefficient);
    }

    #[inline(always)]
    fn push_atom(&mut self, atom: Atom, count: Count, place: Place) {
        if let Count::Unknown(_) = count {
            self.origins.open(place);
        }
        self.origins.atom(atom, place);
        self.packed.push(Token::Atom(atom, count));
    }

    fn push_water(&mut self) {
        let atom = |element: Element, count| Token::Atom(element.into(), count);
        self.packed
            .push(atom(Element::HYDROGEN, Count::Known(2, 1)));
        self.packed.push(atom(Element::OXYGEN, Count::ONE));
    }

    /// The parts that dots join.
    fn parts(&self) -> Vec<Part> {
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

    /// The formula of these parts, which stand in no text.
    fn from_parts(parts: &[Part], state: Option<State>) -> Formula {
        let mut formula = Formula::new();
        for part in parts {
            formula.push_part(part.coefficient, Place::NOWHERE);
            formula
                .packed
                .extend(part.terms.iter().map(|term| match term {
                    Term::Atom(atom, count) => Token::Atom(*atom, *count),
                    Term::Open(bracket) => Token::Open(*bracket),
                    Term::Close(bracket, count) => Token::Close(*bracket, *count),
                }));
            formula.packed.push(Token::Charge(part.charge));
        }
        formula.label = Label::of(state);
        formula
    }

    /// Water.
    pub(crate) fn water() -> Formula {
        let mut water = Formula::new();
        water.push_water();
        water
    }

    /// What is taken for water's formula when its molar mass comes out as 16, 17 or 34 g/mol.
    pub(crate) fn mistaken_for_water() -> [Formula; 3] {
        [(0, 1), (1, 1), (2, 2)].map(|(hydrogens, oxygens)| {
            let mut formula = Formula::new();
            for (element, count) in [(Element::HYDROGEN, hydrogens), (Element::OXYGEN, oxygens)] {
                if count > 0 {
                    formula.push_atom(element.into(), Count::Known(count, 1), Place::NOWHERE);
                }
            }
            formula
        })
    }

    /// The water of crystallization, in moles for each mole of the formula: the coefficient of
    /// H2O behind a dot; `None` where there is none or where it is left open.
    #[must_use]
    #[doc(alias = "degree of hydration")]
    pub fn waters(&self) -> Option<Ratio> {
        let mut sum = None;
        for part in self.parts().iter().skip(1).filter(|part| part.is_water()) {
            sum = Some(&sum.unwrap_or(Ratio::ZERO) + &part.coefficient.ratio()?);
        }
        sum
    }

    /// Whether the formula has water behind a dot, counted or open.
    #[must_use]
    pub fn is_hydrate(&self) -> bool {
        self.parts().iter().skip(1).any(Part::is_water)
    }

    /// The formula without its water of crystallization (counted or open); `None` where nothing
    /// else is left.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let hydrate: Formula = "CuSO4·xH2O".parse()?;
    /// assert_eq!(hydrate.anhydrous().unwrap().to_string(), "CuSO4");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn anhydrous(&self) -> Option<Formula> {
        let parts = self.dry_parts()?;
        Some(Formula::from_parts(&parts, self.state()))
    }

    /// The parts without water of crystallization; `None` where nothing else is left.
    fn dry_parts(&self) -> Option<Vec<Part>> {
        let parts = self.parts().into_iter().enumerate();
        let dry = parts.filter(|(index, part)| *index == 0 || !part.is_water());
        let dry: Vec<Part> = dry.map(|(_, part)| part).collect();
        (!dry.iter().all(Part::is_water)).then_some(dry)
    }

    /// The anhydrous salt of a hydrate, one formula unit of it, and its waters: of `3CdSO4·8H2O`
    /// `CdSO4` and 8/3. A salt of several parts is taken as it stands. `None` where the formula is no
    /// hydrate of a known degree.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let mineral: Formula = "3CdSO4·8H2O".parse()?;
    /// let (salt, waters) = mineral.one_formula_unit().unwrap();
    /// assert_eq!((salt.to_string(), waters.to_string()), ("CdSO4".into(), "8/3".into()));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn one_formula_unit(&self) -> Option<(Formula, Ratio)> {
        let waters = self.waters()?;
        let mut parts = self.dry_parts()?;
        let mut units = Ratio::ONE;
        if let [part] = parts.as_mut_slice() {
            units = part.coefficient.ratio()?;
            part.coefficient = Count::ONE;
        }
        let salt = Formula::from_parts(&parts, self.state());
        Some((salt, waters.checked_div(&units)?))
    }

    /// The hydrate of this formula with so many waters behind the dot; nought gives the formula
    /// itself. `None` where the number is negative or its fraction too long to write.
    ///
    /// ```
    /// use effloresce::{Formula, Ratio};
    /// let plaster: Formula = "CaSO4".parse()?;
    /// let half = Ratio::new(1, 2).unwrap();
    /// assert_eq!(plaster.with_waters(&half).unwrap().to_string(), "CaSO4·0.5H2O");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn with_waters(&self, waters: &Ratio) -> Option<Formula> {
        let mut hydrate = self.anhydrous()?;
        if !waters.is_zero() {
            hydrate.push_part(Count::from_ratio(waters)?, Place::NOWHERE);
            hydrate.push_water();
        }
        Some(hydrate)
    }
}

impl Part {
    const fn empty() -> Part {
        Part {
            coefficient: Count::ONE,
            terms: Vec::new(),
            charge: 0,
        }
    }

    fn is_water(&self) -> bool {
        self.charge == 0 && is_water(self.terms.iter().map(Term::atom))
    }
}

impl Term {
    fn atom(&self) -> Option<(Atom, Count)> {
        match self {
            Term::Atom(atom, count) => Some((*atom, *count)),
            Term::Open(_) | Term::Close(..) => None,
        }
    }
}

/// Whether these atoms, with no bracket among them, are H2O, OH2 or HOH.
fn is_water(atoms: impl Iterator<Item = Option<(Atom, Count)>>) -> bool {
    let natural = |element: Element| Atom::natural(element);
    let mut hydrogens = 0_u32;
    let mut oxygens = 0_u32;
    for atom in atoms {
        match atom {
            Some((atom, Count::Known(n, 1))) if atom == natural(Element::HYDROGEN) => {
                hydrogens = hydrogens.saturating_add(n);
            }
            Some((atom, Count::Known(n, 1))) if atom == natural(Element::OXYGEN) => {
                oxygens = oxygens.saturating_add(n);
            }
            _ => return false,
        }
    }
    (hydrogens, oxygens) == (2, 1)
}

impl FromStr for Formula {
    type Err = Error;

    /// Reads a formula strictly: what [`Formula::read`] would only note as doubtful is refused.
    #[inline]
    fn from_str(text: &str) -> Result<Formula, Error> {
        let mut formula = Formula::new();
        formula.fill(text, None)?;
        Ok(formula)
    }
}

impl fmt::Display for Formula {
    /// The canonical plain text, such as `CaSO4·0.5H2O` or `SO4^2-`; [`FromStr`] reads it back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.plain())
    }
}

impl fmt::Debug for Formula {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Formula({self})")
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Formula {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.plain())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Formula {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <alloc::borrow::Cow<'_, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}
