//! Formulas made in code. What a builder gathers is written down and read: the same checks are made
//! as of any text, and the same meaning comes out.

use alloc::format;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use super::limits::{MOST_DEPTH, MOST_PARTS};
use super::repr::{Bracket, Count, Formula, Part, State, Term};
use crate::element::{Atom, Element};
use crate::number::Ratio;

/// The largest charge of a part that the parser reads.
const MOST_CHARGE: u32 = 999;

/// How many of something a [`FormulaBuilder`] is given: an exact number, or one left open.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Times {
    /// So many, whole or not: above zero, with at most nine digits above and below the line.
    Exactly(Ratio),
    /// An open number, written `x`.
    X,
    /// An open number, written `n`.
    N,
}

impl From<Ratio> for Times {
    fn from(number: Ratio) -> Times {
        Times::Exactly(number)
    }
}

impl From<&Ratio> for Times {
    fn from(number: &Ratio) -> Times {
        Times::Exactly(number.clone())
    }
}

macro_rules! from_integer {
    ($($integer:ty),+) => {
        $(impl From<$integer> for Times {
            fn from(number: $integer) -> Times {
                Times::Exactly(Ratio::from(number))
            }
        })+
    };
}
from_integer!(i32, u32, i64, u64);

impl Times {
    fn count(&self, what: &str) -> Result<Count, Error> {
        let number = match self {
            Times::X => return Ok(Count::Unknown('x')),
            Times::N => return Ok(Count::Unknown('n')),
            Times::Exactly(number) => number,
        };
        if !number.is_positive() {
            let side = if number.is_zero() {
                "zero"
            } else {
                "below zero"
            };
            return Err(Error::nowhere(
                ErrorKind::BadFormula,
                format!("{what} is {side}"),
                "leave out what is not there",
            ));
        }
        Count::from_ratio(number).ok_or_else(|| too_large(what, "9 digits"))
    }
}

const TOO_LARGE_HELP: &str = "check where the numbers come from: no formula needs as much";

fn too_large(what: &str, limit: impl core::fmt::Display) -> Error {
    let message = format!("{what} goes beyond {limit}");
    Error::nowhere(ErrorKind::TooLarge, message, TOO_LARGE_HELP)
}

/// Makes a [`Formula`] in code, from [`Formula::builder`].
///
/// What is built is what [`Formula::read`] makes of its canonical text: water in round brackets at
/// the end of a part is water of crystallization here, too. A mistake on the way is kept, and
/// [`build`](FormulaBuilder::build) tells the first one.
///
/// ```
/// use effloresce::{Element, Formula};
/// let [potassium, aluminium] = ["K", "Al"].map(|symbol| symbol.parse::<Element>());
/// let [sulfur, oxygen] = ["S", "O"].map(|symbol| symbol.parse::<Element>());
/// let (sulfur, oxygen) = (sulfur?, oxygen?);
/// let alum = Formula::builder()
///     .atom(potassium?, 1)
///     .atom(aluminium?, 1)
///     .group(|sulfate| sulfate.atom(sulfur, 1).atom(oxygen, 4), 2)
///     .waters(12)
///     .build()?;
/// assert_eq!(alum.to_string(), "KAl(SO4)2·12H2O");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone)]
#[must_use = "a builder does nothing until `build`"]
pub struct FormulaBuilder(Gathered);

/// Makes what stands between two brackets, for a [`FormulaBuilder`].
#[derive(Debug, Clone)]
#[must_use = "give the group back to the formula"]
pub struct GroupBuilder(Gathered);

impl Formula {
    /// Begins a formula that is made in code.
    pub fn builder() -> FormulaBuilder {
        FormulaBuilder(Gathered::default())
    }
}

impl FormulaBuilder {
    /// Adds atoms: an element as found on Earth, or a labelled [`Atom`].
    ///
    /// ```
    /// use effloresce::{Element, Formula, element::Atom};
    /// let carbon = Atom::labelled("C".parse()?, 13).unwrap();
    /// let methane = Formula::builder()
    ///     .atom(carbon, 1)
    ///     .atom("H".parse::<Element>()?, 4)
    ///     .build()?;
    /// assert_eq!(methane.to_string(), "[13C]H4");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn atom(self, atom: impl Into<Atom>, count: impl Into<Times>) -> Self {
        FormulaBuilder(self.0.atom(atom.into(), &count.into()))
    }

    /// Adds a group in round brackets.
    pub fn group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        FormulaBuilder(self.0.group(Bracket::Round, inside, &count.into()))
    }

    /// Adds a group in square brackets, such as a coordination entity.
    pub fn square_group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        FormulaBuilder(self.0.group(Bracket::Square, inside, &count.into()))
    }

    /// Adds a group in braces.
    pub fn curly_group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        FormulaBuilder(self.0.group(Bracket::Curly, inside, &count.into()))
    }

    /// Gives the part its charge, in elementary charges; nought takes it away.
    pub fn charge(self, charge: i32) -> Self {
        FormulaBuilder(self.0.then(|gathered| gathered.charge(charge)))
    }

    /// Begins a part with its coefficient, behind an adduct dot if it is not the first. The first
    /// part begins by itself where its coefficient is one.
    pub fn part(self, coefficient: impl Into<Times>) -> Self {
        let coefficient = coefficient.into();
        FormulaBuilder(self.0.then(|gathered| gathered.part(&coefficient)))
    }

    /// Adds an adduct dot and so many waters of crystallization: a part that is finished.
    pub fn waters(self, waters: impl Into<Times>) -> Self {
        let waters = waters.into();
        FormulaBuilder(self.0.then(|gathered| gathered.waters(&waters)))
    }

    /// Labels the formula with its state of matter.
    pub fn state(mut self, state: State) -> Self {
        self.0.state = Some(state);
        self
    }

    /// The formula.
    ///
    /// # Errors
    /// The first of: a count that is zero, negative or longer than nine digits; brackets or a part
    /// with nothing in them; water of crystallization without a salt, or atoms behind it; brackets
    /// nested deeper, more parts, a greater charge or a longer formula than the parser reads. No
    /// error has a span; each has a help.
    pub fn build(self) -> Result<Formula, Error> {
        self.0.build()
    }
}

impl GroupBuilder {
    /// Adds atoms: an element as found on Earth, or a labelled [`Atom`].
    pub fn atom(self, atom: impl Into<Atom>, count: impl Into<Times>) -> Self {
        GroupBuilder(self.0.atom(atom.into(), &count.into()))
    }

    /// Adds a group in round brackets.
    pub fn group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        GroupBuilder(self.0.group(Bracket::Round, inside, &count.into()))
    }

    /// Adds a group in square brackets.
    pub fn square_group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        GroupBuilder(self.0.group(Bracket::Square, inside, &count.into()))
    }

    /// Adds a group in braces.
    pub fn curly_group(
        self,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: impl Into<Times>,
    ) -> Self {
        GroupBuilder(self.0.group(Bracket::Curly, inside, &count.into()))
    }
}

/// What has come so far, and the first mistake.
#[derive(Debug, Clone, Default)]
struct Gathered {
    parts: Vec<Part>,
    state: Option<State>,
    /// The brackets that are not closed yet.
    open: Vec<Bracket>,
    /// Whether the part is water that nothing may follow.
    finished: bool,
    mistake: Option<Error>,
}

impl Gathered {
    fn then(mut self, step: impl FnOnce(&mut Gathered) -> Result<(), Error>) -> Gathered {
        if self.mistake.is_none() {
            self.mistake = step(&mut self).err();
        }
        self
    }

    fn atom(self, atom: Atom, count: &Times) -> Gathered {
        self.then(|gathered| {
            let count = count.count("the count of an atom")?;
            gathered.part_to_fill()?.terms.push(Term::Atom(atom, count));
            Ok(())
        })
    }

    fn group(
        self,
        bracket: Bracket,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: &Times,
    ) -> Gathered {
        let opened = self.then(|gathered| gathered.open(bracket));
        let filled = inside(GroupBuilder(opened)).0;
        filled.then(|gathered| gathered.close(bracket, count))
    }

    fn open(&mut self, bracket: Bracket) -> Result<(), Error> {
        if self.open.len() == MOST_DEPTH {
            return Err(Error::nowhere(
                ErrorKind::TooDeep,
                format!("brackets nested deeper than {MOST_DEPTH}"),
                "check the groups: no formula needs as many",
            ));
        }
        self.part_to_fill()?.terms.push(Term::Open(bracket));
        self.open.push(bracket);
        Ok(())
    }

    fn close(&mut self, bracket: Bracket, count: &Times) -> Result<(), Error> {
        let count = count.count("the count of a group")?;
        if self.open.pop() != Some(bracket) {
            return Err(astray());
        }
        let part = self.part_to_fill()?;
        if let Some(Term::Open(_)) = part.terms.last() {
            return Err(nothing_in("a group", "put an atom into each group"));
        }
        part.terms.push(Term::Close(bracket, count));
        Ok(())
    }

    fn charge(&mut self, charge: i32) -> Result<(), Error> {
        if charge.unsigned_abs() > MOST_CHARGE {
            return Err(too_large("the charge", MOST_CHARGE));
        }
        self.part_to_fill()?.charge = charge;
        Ok(())
    }

    /// The part that something is to be added to; the first begins by itself.
    fn part_to_fill(&mut self) -> Result<&mut Part, Error> {
        if self.finished {
            return Err(Error::nowhere(
                ErrorKind::BadFormula,
                "something behind water of crystallization",
                "begin a part for it, or add the water last",
            ));
        }
        if self.parts.is_empty() {
            self.parts.push(Part::empty());
        }
        self.parts
            .last_mut()
            .ok_or_else(|| nothing_in("a formula", "add an atom"))
    }

    fn part(&mut self, coefficient: &Times) -> Result<(), Error> {
        let coefficient = coefficient.count("the coefficient")?;
        self.end_part()?;
        if self.parts.len() == MOST_PARTS {
            return Err(too_large("the number of parts", MOST_PARTS));
        }
        self.finished = false;
        self.parts.push(Part {
            coefficient,
            ..Part::empty()
        });
        Ok(())
    }

    fn waters(&mut self, waters: &Times) -> Result<(), Error> {
        if self.parts.is_empty() {
            return Err(Error::nowhere(
                ErrorKind::BadFormula,
                "water of crystallization without a salt",
                "add the atoms of the salt first; water alone is made of its atoms",
            ));
        }
        self.part(waters)?;
        self.part_to_fill()?.terms.extend([
            Term::Atom(Element::HYDROGEN.into(), Count::Known(2, 1)),
            Term::Atom(Element::OXYGEN.into(), Count::ONE),
        ]);
        self.finished = true;
        Ok(())
    }

    /// Nothing more comes into the part, if there is one.
    fn end_part(&self) -> Result<(), Error> {
        if !self.open.is_empty() {
            return Err(astray());
        }
        match self.parts.last() {
            Some(part) if part.terms.is_empty() => {
                Err(nothing_in("a part", "add an atom to each part"))
            }
            _ => Ok(()),
        }
    }

    fn build(self) -> Result<Formula, Error> {
        if let Some(mistake) = self.mistake {
            return Err(mistake);
        }
        if self.parts.is_empty() {
            return Err(nothing_in("a formula", "add an atom"));
        }
        self.end_part()?;
        let written = Formula::from_parts(&self.parts, self.state).plain();
        match Formula::read(&written) {
            Ok((formula, _)) => Ok(formula.without_places()),
            // Nothing but its size is left to refuse, and there is no text to point into.
            Err(error) => Err(Error::nowhere(
                error.kind(),
                format!("{error}"),
                TOO_LARGE_HELP,
            )),
        }
    }
}

/// What a closure gave back was begun in another formula.
fn astray() -> Error {
    Error::nowhere(
        ErrorKind::UnbalancedBracket,
        "a group that was begun in another formula",
        "give back the group that the closure was given",
    )
}

fn nothing_in(what: &str, help: &'static str) -> Error {
    Error::nowhere(
        ErrorKind::BadFormula,
        format!("{what} with nothing in it"),
        help,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    const H: Element = Element::HYDROGEN;
    const C: Element = Element::CARBON;
    const O: Element = Element::OXYGEN;

    fn start() -> FormulaBuilder {
        Formula::builder().atom(C, 1)
    }

    #[track_caller]
    fn refused(builder: FormulaBuilder, kind: ErrorKind, message: &str) {
        let error = builder.build().unwrap_err();
        assert_eq!((error.kind(), error.to_string().as_str()), (kind, message));
        assert_eq!(error.span(), None);
        assert!(error.help().is_some_and(|help| !help.is_empty()));
    }

    #[test]
    fn what_is_not_there_is_refused() {
        let bad = |builder, message| refused(builder, ErrorKind::BadFormula, message);
        bad(Formula::builder(), "a formula with nothing in it");
        bad(Formula::builder().charge(-1), "a part with nothing in it");
        bad(Formula::builder().part(2), "a part with nothing in it");
        bad(
            start().part(2).part(3).atom(H, 1),
            "a part with nothing in it",
        );
        bad(start().group(|g| g, 2), "a group with nothing in it");
        bad(start().atom(H, 0), "the count of an atom is zero");
        bad(start().atom(H, -1), "the count of an atom is below zero");
        bad(
            start().group(|g| g.atom(H, 1), 0),
            "the count of a group is zero",
        );
        bad(start().waters(0), "the coefficient is zero");
        bad(
            Formula::builder().waters(7),
            "water of crystallization without a salt",
        );
        bad(
            start().waters(7).atom(H, 1),
            "something behind water of crystallization",
        );
    }

    #[test]
    fn what_is_too_large_is_refused() {
        let large = |builder, message| refused(builder, ErrorKind::TooLarge, message);
        large(
            start().atom(H, 1_000_000_000),
            "the count of an atom goes beyond 9 digits",
        );
        large(start().charge(1000), "the charge goes beyond 999");
        large(start().charge(i32::MIN), "the charge goes beyond 999");
        large(
            (0..16).fold(start(), |builder, _| builder.part(1).atom(H, 1)),
            "the number of parts goes beyond 16",
        );
        large(
            (0..600).fold(start(), |builder, _| builder.atom(H, 1)),
            "the formula goes beyond 512 bytes",
        );
        large(
            (0..3000).fold(start(), |builder, _| builder.atom(H, 1)),
            "the text goes beyond 2048 bytes",
        );
        large(
            start().group(|g| g.atom(H, 999_999_999), 999_999_999),
            "the number of atoms of one kind goes beyond 1000000000000",
        );
        refused(
            Formula::builder().group(|g| deep(g, 16), 1),
            ErrorKind::TooDeep,
            "brackets nested deeper than 16",
        );
        assert!(Formula::builder().group(|g| deep(g, 15), 1).build().is_ok());
    }

    fn deep(group: GroupBuilder, depth: u32) -> GroupBuilder {
        match depth {
            0 => group.atom(C, 1),
            _ => group.square_group(|g| deep(g, depth - 1), 2).atom(H, 1),
        }
    }

    /// The first mistake is told, whatever comes behind it.
    #[test]
    fn the_first_mistake_is_told() {
        let builder = start().atom(H, 0).charge(5000).group(|g| g, -1);
        refused(
            builder,
            ErrorKind::BadFormula,
            "the count of an atom is zero",
        );
    }

    #[test]
    fn a_group_stays_in_its_formula() {
        let mut other = None;
        let _ = Formula::builder().curly_group(
            |g| {
                other = Some(g.clone());
                g
            },
            1,
        );
        let astray = start().group(|_| other.clone().unwrap().atom(H, 1), 2);
        let message = "a group that was begun in another formula";
        refused(astray, ErrorKind::UnbalancedBracket, message);
        // Deeper in the other than here.
        let inner = other.clone().unwrap().group(|g| g.atom(O, 1), 2);
        let astray = start().curly_group(|g| g.group(|_| inner.clone().atom(H, 1), 2), 1);
        refused(astray, ErrorKind::UnbalancedBracket, message);
    }

    #[test]
    fn a_built_formula_stands_in_no_text() {
        let open = start().atom(O, Times::X).build().unwrap();
        let error = open.molar_mass(&crate::AtomicWeights::default());
        let error = error.unwrap_err();
        assert_eq!(
            (error.kind(), error.span()),
            (ErrorKind::UnknownDegree, None)
        );
    }

    #[test]
    fn every_piece_has_its_place() {
        let half = Ratio::new(1, 2).unwrap();
        let carbon = Atom::labelled(C, 13).unwrap();
        let built = Formula::builder()
            .part(3)
            .square_group(
                |g| g.atom(carbon, 2).curly_group(|g| g.atom(O, Times::N), 4),
                1,
            )
            .charge(-2)
            .part(&half)
            .atom(H, half.clone())
            .waters(Times::X)
            .state(State::Aqueous)
            .build()
            .unwrap();
        assert_eq!(built.to_string(), "3[[13C]2{On}4]^2-·0.5H0.5·xH2O(aq)");
        assert_eq!(built.to_string().parse(), Ok(built));
    }
}
