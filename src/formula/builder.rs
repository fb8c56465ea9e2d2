//! Formulas made in code. The builder's formula is written as text and read, so that it passes the
//! same checks and gets the same meaning as any text.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use super::limits::{MOST_CHARGE, MOST_DEPTH, MOST_PARTS};
use super::repr::{Bracket, Count, Formula, Part, State, Term};
use crate::element::{Atom, Element};
use crate::number::Ratio;

/// The count of an atom, a group or a part for a [`FormulaBuilder`]: exact or unknown.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Times {
    /// A positive number, whole or not, with at most nine digits in numerator and denominator.
    Exactly(Ratio),
    /// An unknown number, written `x`.
    X,
    /// An unknown number, written `n`.
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
            let sign = if number.is_zero() { "zero" } else { "negative" };
            return Err(bad_formula(format!("{what} is {sign}"), "leave it out"));
        }
        Count::from_ratio(number).ok_or_else(|| too_large(what, "9 digits"))
    }
}

const TOO_LARGE_HELP: &str = "check where the numbers come from";

fn too_large(what: &str, limit: impl core::fmt::Display) -> Error {
    let message = format!("{what} exceeds {limit}");
    Error::nowhere(ErrorKind::TooLarge, message, TOO_LARGE_HELP)
}

fn bad_formula(message: String, help: &'static str) -> Error {
    Error::nowhere(ErrorKind::BadFormula, message, help)
}

fn empty(what: &str) -> Error {
    bad_formula(format!("{what} is empty"), "add an atom")
}

/// A closure returned a group of another formula.
fn foreign_group() -> Error {
    Error::nowhere(
        ErrorKind::UnbalancedBracket,
        "a closure returned a group of another formula",
        "return the group that the closure was given",
    )
}

/// Makes a [`Formula`] in code, from [`Formula::builder`].
///
/// The formula is the one that [`Formula::read`] reads from its canonical text. Water in round brackets
/// at the end of a part is therefore water of crystallization. The builder keeps the first error, and
/// [`build`](FormulaBuilder::build) returns it.
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
///
/// let carbon = effloresce::element::Atom::labelled("C".parse()?, 13).unwrap();
/// let methane = Formula::builder()
///     .atom(carbon, 1)
///     .atom("H".parse::<Element>()?, 4)
///     .build()?;
/// assert_eq!(methane.to_string(), "[13C]H4");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone)]
#[must_use = "a builder does nothing until `build`"]
pub struct FormulaBuilder(UnfinishedFormula);

/// Makes the content of a pair of brackets, for a [`FormulaBuilder`].
#[derive(Debug, Clone)]
#[must_use = "return the group from the closure"]
pub struct GroupBuilder(UnfinishedFormula);

impl Formula {
    /// Begins a formula that is made in code.
    pub fn builder() -> FormulaBuilder {
        FormulaBuilder(UnfinishedFormula::default())
    }
}

/// The methods that add to a formula and to a group in the same way.
macro_rules! add_terms {
    ($builder:ident) => {
        /// Adds atoms: an element as found on Earth, or a labelled [`Atom`].
        pub fn atom(self, atom: impl Into<Atom>, count: impl Into<Times>) -> Self {
            $builder(self.0.atom(atom.into(), &count.into()))
        }

        /// Adds a group in round brackets.
        pub fn group(
            self,
            inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
            count: impl Into<Times>,
        ) -> Self {
            $builder(self.0.group(Bracket::Round, inside, &count.into()))
        }

        /// Adds a group in square brackets, such as a coordination entity.
        pub fn square_group(
            self,
            inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
            count: impl Into<Times>,
        ) -> Self {
            $builder(self.0.group(Bracket::Square, inside, &count.into()))
        }

        /// Adds a group in braces.
        pub fn curly_group(
            self,
            inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
            count: impl Into<Times>,
        ) -> Self {
            $builder(self.0.group(Bracket::Curly, inside, &count.into()))
        }
    };
}

impl GroupBuilder {
    add_terms!(GroupBuilder);
}

impl FormulaBuilder {
    add_terms!(FormulaBuilder);

    /// Sets the charge of the part, in elementary charges. Zero removes it.
    pub fn charge(self, charge: i32) -> Self {
        FormulaBuilder(self.0.then(|unfinished| unfinished.charge(charge)))
    }

    /// Begins a part with its coefficient, after an adduct dot if it is not the first. The first part
    /// begins by itself if its coefficient is one.
    pub fn part(self, coefficient: impl Into<Times>) -> Self {
        let coefficient = coefficient.into();
        FormulaBuilder(self.0.then(|unfinished| unfinished.part(&coefficient)))
    }

    /// Adds an adduct dot and this number of waters of crystallization. Nothing can be added to this
    /// part.
    pub fn waters(self, waters: impl Into<Times>) -> Self {
        let waters = waters.into();
        FormulaBuilder(self.0.then(|unfinished| unfinished.waters(&waters)))
    }

    /// Labels the formula with its state of matter.
    pub fn state(mut self, state: State) -> Self {
        self.0.state = Some(state);
        self
    }

    /// Returns the formula.
    ///
    /// # Errors
    /// The first error of the steps:
    /// - a count is zero, negative or longer than nine digits;
    /// - brackets or a part are empty;
    /// - water of crystallization comes without a salt, or atoms follow it;
    /// - the brackets are deeper, the parts more, the charge larger or the formula longer than the
    ///   parser reads.
    ///
    /// No error has a span. Each has a help.
    pub fn build(self) -> Result<Formula, Error> {
        self.0.build()
    }
}

/// The parts of a formula so far, and the first error.
#[derive(Debug, Clone, Default)]
struct UnfinishedFormula {
    parts: Vec<Part>,
    state: Option<State>,
    /// The brackets that are not closed yet.
    open_brackets: Vec<Bracket>,
    /// Whether the last part is water, to which nothing can be added.
    ends_with_water: bool,
    error: Option<Error>,
}

impl UnfinishedFormula {
    fn then(
        mut self,
        step: impl FnOnce(&mut UnfinishedFormula) -> Result<(), Error>,
    ) -> UnfinishedFormula {
        if self.error.is_none() {
            self.error = step(&mut self).err();
        }
        self
    }

    fn atom(self, atom: Atom, count: &Times) -> UnfinishedFormula {
        self.then(|unfinished| {
            let count = count.count("the count of an atom")?;
            unfinished
                .part_to_fill()?
                .terms
                .push(Term::Atom(atom, count));
            Ok(())
        })
    }

    fn group(
        self,
        bracket: Bracket,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: &Times,
    ) -> UnfinishedFormula {
        let opened = self.then(|unfinished| unfinished.open(bracket));
        let filled = inside(GroupBuilder(opened)).0;
        filled.then(|unfinished| unfinished.close(bracket, count))
    }

    fn open(&mut self, bracket: Bracket) -> Result<(), Error> {
        if self.open_brackets.len() == MOST_DEPTH {
            return Err(Error::nowhere(
                ErrorKind::TooDeep,
                format!("the brackets are nested deeper than {MOST_DEPTH}"),
                "use fewer groups inside one another",
            ));
        }
        self.part_to_fill()?.terms.push(Term::Open(bracket));
        self.open_brackets.push(bracket);
        Ok(())
    }

    fn close(&mut self, bracket: Bracket, count: &Times) -> Result<(), Error> {
        let count = count.count("the count of a group")?;
        if self.open_brackets.pop() != Some(bracket) {
            return Err(foreign_group());
        }
        let part = self.part_to_fill()?;
        if let Some(Term::Open(_)) = part.terms.last() {
            return Err(empty("a group"));
        }
        part.terms.push(Term::Close(bracket, count));
        Ok(())
    }

    fn charge(&mut self, charge: i32) -> Result<(), Error> {
        if !(-MOST_CHARGE..=MOST_CHARGE).contains(&charge) {
            return Err(too_large("the charge", MOST_CHARGE));
        }
        self.part_to_fill()?.charge = charge;
        Ok(())
    }

    /// The part to which a term is added. The first begins by itself.
    fn part_to_fill(&mut self) -> Result<&mut Part, Error> {
        if self.ends_with_water {
            return Err(bad_formula(
                "nothing can be added to water of crystallization".into(),
                "begin a part, or add the water last",
            ));
        }
        if self.parts.is_empty() {
            self.parts.push(Part::empty());
        }
        self.parts.last_mut().ok_or_else(|| empty("the formula"))
    }

    fn part(&mut self, coefficient: &Times) -> Result<(), Error> {
        let coefficient = coefficient.count("the coefficient")?;
        self.end_part()?;
        if self.parts.len() == MOST_PARTS {
            return Err(too_large("the number of parts", MOST_PARTS));
        }
        self.ends_with_water = false;
        self.parts.push(Part {
            coefficient,
            ..Part::empty()
        });
        Ok(())
    }

    fn waters(&mut self, waters: &Times) -> Result<(), Error> {
        if self.parts.is_empty() {
            return Err(bad_formula(
                "water of crystallization needs a salt".into(),
                "add the atoms of the salt first. For water alone, add its atoms",
            ));
        }
        self.part(waters)?;
        self.part_to_fill()?.terms.extend([
            Term::Atom(Element::HYDROGEN.into(), Count::Known(2, 1)),
            Term::Atom(Element::OXYGEN.into(), Count::ONE),
        ]);
        self.ends_with_water = true;
        Ok(())
    }

    /// Checks that the last part, if there is one, is complete.
    fn end_part(&self) -> Result<(), Error> {
        if !self.open_brackets.is_empty() {
            return Err(foreign_group());
        }
        match self.parts.last() {
            Some(part) if part.terms.is_empty() => Err(empty("a part")),
            _ => Ok(()),
        }
    }

    fn build(self) -> Result<Formula, Error> {
        if let Some(error) = self.error {
            return Err(error);
        }
        if self.parts.is_empty() {
            return Err(empty("the formula"));
        }
        self.end_part()?;
        let text = Formula::from_parts(&self.parts, self.state).plain();
        match Formula::read(&text) {
            Ok((formula, _)) => Ok(formula.without_spans()),
            // Only the size can be wrong here, and the caller has no text that a span could refer to.
            Err(error) => Err(Error::nowhere(
                error.kind(),
                format!("{error}"),
                TOO_LARGE_HELP,
            )),
        }
    }
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
        bad(Formula::builder(), "the formula is empty");
        bad(Formula::builder().charge(-1), "a part is empty");
        bad(Formula::builder().part(2), "a part is empty");
        bad(start().part(2).part(3).atom(H, 1), "a part is empty");
        bad(start().group(|g| g, 2), "a group is empty");
        bad(start().atom(H, 0), "the count of an atom is zero");
        bad(start().atom(H, -1), "the count of an atom is negative");
        bad(
            start().group(|g| g.atom(H, 1), 0),
            "the count of a group is zero",
        );
        bad(start().waters(0), "the coefficient is zero");
        bad(
            Formula::builder().waters(7),
            "water of crystallization needs a salt",
        );
        bad(
            start().waters(7).atom(H, 1),
            "nothing can be added to water of crystallization",
        );
    }

    #[test]
    fn what_is_too_large_is_refused() {
        let large = |builder, message| refused(builder, ErrorKind::TooLarge, message);
        large(
            start().atom(H, 1_000_000_000),
            "the count of an atom exceeds 9 digits",
        );
        large(start().charge(1000), "the charge exceeds 999");
        large(start().charge(i32::MIN), "the charge exceeds 999");
        large(
            (0..16).fold(start(), |builder, _| builder.part(1).atom(H, 1)),
            "the number of parts exceeds 16",
        );
        large(
            (0..600).fold(start(), |builder, _| builder.atom(H, 1)),
            "the formula exceeds 512 bytes",
        );
        large(
            (0..3000).fold(start(), |builder, _| builder.atom(H, 1)),
            "the text exceeds 2048 bytes",
        );
        large(
            start().group(|g| g.atom(H, 999_999_999), 999_999_999),
            "the number of atoms of one kind exceeds 1000000000000",
        );
        refused(
            Formula::builder().group(|g| deep(g, 16), 1),
            ErrorKind::TooDeep,
            "the brackets are nested deeper than 16",
        );
        assert!(Formula::builder().group(|g| deep(g, 15), 1).build().is_ok());
    }

    fn deep(group: GroupBuilder, depth: u32) -> GroupBuilder {
        match depth {
            0 => group.atom(C, 1),
            _ => group.square_group(|g| deep(g, depth - 1), 2).atom(H, 1),
        }
    }

    /// The first error is returned, whatever comes after it.
    #[test]
    fn the_first_error_is_returned() {
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
        let message = "a closure returned a group of another formula";
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
