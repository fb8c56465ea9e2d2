//! Formulas: a text is read as *notation* (as written, with places), then as a [`Formula`]
//! (as meant, with notes), which has a composition, a molar mass, a charge, and writers.

mod complaint;
mod composition;
mod describe;
mod error;
mod leaf;
mod misread;
mod molar_mass;
mod notation;
mod parse;
mod resolve;
mod solvate;
#[cfg(test)]
mod tests;
mod write;

pub use composition::Composition;
pub use describe::{Description, PartDescription};
pub use error::{Error, ErrorKind};
pub use molar_mass::MolarMass;

use alloc::string::String;
use alloc::vec::Vec;
use core::cmp::Ordering;
use core::fmt;
use core::hash::{Hash, Hasher};
use core::str::FromStr;

use crate::element::{Atom, Element};
use crate::number::Ratio;
use crate::text::{Note, Span};
use notation::{Bracket, Sign};

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
    parts: Vec<Part>,
    state: Option<State>,
}

/// What stands between two dots.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
struct Part {
    coefficient: Count,
    terms: Vec<Term>,
    charge: i32,
    place: Place,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Term {
    Atom(Atom, Count, Place),
    Open(Bracket),
    Close(Bracket, Count, Place),
}

/// How many of something: an exact fraction, or left open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Count {
    Known(u32, u32),
    Unknown(char),
}

impl Count {
    const ONE: Count = Count::Known(1, 1);

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
        // As many digits as the parser reads.
        let short = |n: i128| {
            u32::try_from(n)
                .ok()
                .filter(|n| (1..1_000_000_000).contains(n))
        };
        Some(Count::Known(short(numerator)?, short(denominator)?))
    }
}

/// Where in the text something stood. It is no part of the meaning: all places are equal.
#[derive(Debug, Clone, Copy)]
struct Place(Option<Span>);

impl PartialEq for Place {
    fn eq(&self, _: &Place) -> bool {
        true
    }
}
impl Eq for Place {}
impl Hash for Place {
    fn hash<H: Hasher>(&self, _: &mut H) {}
}
impl PartialOrd for Place {
    fn partial_cmp(&self, other: &Place) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Place {
    fn cmp(&self, _: &Place) -> Ordering {
        Ordering::Equal
    }
}

/// The state of matter that a label gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum State {
    /// `(s)`
    Solid,
    /// `(l)`
    Liquid,
    /// `(g)`
    Gas,
    /// `(aq)`
    Aqueous,
}

impl State {
    const fn label(self) -> &'static str {
        match self {
            State::Solid => "(s)",
            State::Liquid => "(l)",
            State::Gas => "(g)",
            State::Aqueous => "(aq)",
        }
    }
}

impl Formula {
    /// Reads a formula and notes what may have been meant otherwise.
    ///
    /// The notes are `ambiguous_dot` (a full stop taken as an adduct dot, where a decimal point
    /// would be honest too), `suspect_case` (all capitals, with two that spell a metal),
    /// `suspect_zero` (`H20`, with a zero), `full_stop` (one at the end, left out) and
    /// `bracketed_water` (water in brackets at the end, read as water of crystallization).
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
        let doubts = resolve::read(text)?;
        Ok((
            doubts.formula,
            doubts.notes.into_iter().map(|doubt| doubt.note).collect(),
        ))
    }

    /// The electric charge, in elementary charges.
    #[must_use]
    pub fn charge(&self) -> i64 {
        self.parts
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
        self.state
    }

    /// Whether this is the electron.
    #[must_use]
    pub fn is_electron(&self) -> bool {
        self.parts.iter().all(|part| part.terms.is_empty())
    }

    fn electron(place: Place) -> Formula {
        Formula {
            parts: alloc::vec![Part {
                coefficient: Count::ONE,
                terms: Vec::new(),
                charge: -1,
                place,
            }],
            state: None,
        }
    }

    /// Water.
    pub(crate) fn water() -> Formula {
        Formula {
            parts: alloc::vec![Part::water(Count::ONE)],
            state: None,
        }
    }

    /// What is taken for water's formula when its molar mass comes out as 16, 17 or 34 g/mol.
    pub(crate) fn mistaken_for_water() -> [Formula; 3] {
        let count = |n| Count::Known(n, 1);
        let atom = |element: Element, n| Term::Atom(element.into(), count(n), Place(None));
        [
            alloc::vec![atom(Element::OXYGEN, 1)],
            alloc::vec![atom(Element::OXYGEN, 1), atom(Element::HYDROGEN, 1)],
            alloc::vec![atom(Element::OXYGEN, 2), atom(Element::HYDROGEN, 2)],
        ]
        .map(|terms| Formula {
            parts: alloc::vec![Part {
                coefficient: Count::ONE,
                terms,
                charge: 0,
                place: Place(None),
            }],
            state: None,
        })
    }

    /// The water of crystallization, in moles for each mole of the formula: the coefficient of
    /// H2O behind a dot; `None` where there is none or where it is left open.
    #[must_use]
    #[doc(alias = "degree of hydration")]
    pub fn waters(&self) -> Option<Ratio> {
        let mut sum = None;
        for part in self.waters_of_crystallization() {
            sum = Some(&sum.unwrap_or(Ratio::ZERO) + &part.coefficient.ratio()?);
        }
        sum
    }

    /// Whether the formula has water behind a dot, counted or open.
    #[must_use]
    pub fn is_hydrate(&self) -> bool {
        self.waters_of_crystallization().next().is_some()
    }

    fn waters_of_crystallization(&self) -> impl Iterator<Item = &Part> {
        self.parts.iter().skip(1).filter(|part| part.is_water())
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
        let mut parts: Vec<Part> = Vec::with_capacity(self.parts.len());
        for (index, part) in self.parts.iter().enumerate() {
            if index == 0 || !part.is_water() {
                parts.push(part.clone());
            }
        }
        let only_water = parts.iter().all(Part::is_water);
        (!only_water).then_some(Formula {
            parts,
            state: self.state,
        })
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
        let mut salt = self.anhydrous()?;
        let [part] = salt.parts.as_mut_slice() else {
            return Some((salt, waters));
        };
        let units = part.coefficient.ratio()?;
        part.coefficient = Count::ONE;
        let waters = waters.checked_div(&units)?;
        Some((salt, waters))
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
            hydrate.parts.push(Part::water(Count::from_ratio(waters)?));
        }
        Some(hydrate)
    }
}

impl Part {
    fn water(coefficient: Count) -> Part {
        Part {
            coefficient,
            terms: alloc::vec![
                Term::Atom(Element::HYDROGEN.into(), Count::Known(2, 1), Place(None)),
                Term::Atom(Element::OXYGEN.into(), Count::ONE, Place(None)),
            ],
            charge: 0,
            place: Place(None),
        }
    }

    fn is_water(&self) -> bool {
        self.charge == 0 && is_water(&self.terms)
    }
}

/// Whether these terms, outside any bracket, are H2O, OH2 or HOH.
fn is_water(terms: &[Term]) -> bool {
    let natural = |element: Element| Atom::natural(element);
    let mut hydrogens = 0;
    let mut oxygens = 0;
    for term in terms {
        match term {
            Term::Atom(atom, Count::Known(n, 1), _) if *atom == natural(Element::HYDROGEN) => {
                hydrogens += n;
            }
            Term::Atom(atom, Count::Known(n, 1), _) if *atom == natural(Element::OXYGEN) => {
                oxygens += n;
            }
            _ => return false,
        }
    }
    (hydrogens, oxygens) == (2, 1)
}

impl FromStr for Formula {
    type Err = Error;

    /// Reads a formula strictly: what [`Formula::read`] would only note as doubtful is refused.
    fn from_str(text: &str) -> Result<Formula, Error> {
        let doubts = resolve::read(text)?;
        match doubts.notes.into_iter().find_map(|doubt| doubt.refusal) {
            Some(error) => Err(error),
            None => Ok(doubts.formula),
        }
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

impl Formula {
    fn plain(&self) -> String {
        write::write(self, write::Style::Plain)
    }

    /// With subscripts, superscripts and vulgar fractions: `CaSO₄·½H₂O`, `SO₄²⁻`.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let ion: Formula = "SO4^2-".parse()?;
    /// assert_eq!(ion.to_unicode(), "SO₄²⁻");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn to_unicode(&self) -> String {
        write::write(self, write::Style::Unicode)
    }

    /// As an HTML fragment: `Fe(OH)<sub>3</sub>`.
    #[must_use]
    pub fn to_html(&self) -> String {
        write::write(self, write::Style::Html)
    }

    /// For LaTeX's maths mode, without packages: `\mathrm{Fe(OH)_{3}}`.
    #[must_use]
    pub fn to_latex(&self) -> String {
        write::write(self, write::Style::Latex)
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

impl Sign {
    const fn is_close(self) -> bool {
        matches!(self, Sign::Close(_))
    }
}
