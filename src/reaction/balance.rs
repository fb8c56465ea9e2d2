//! Balancing: the smallest whole numbers with which nothing is made and nothing is lost.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use num_bigint::BigInt;

use super::eliminate::Matrix;
use super::equation::Equation;
use super::error::{Error, ErrorKind};
use super::positive::{PositiveSolution, search};
use super::reasons::{self, Imbalance};
use super::system::{Solutions, System};
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::{Detail, list};

/// Coefficients with which an equation balances.
///
/// ```
/// use effloresce::reaction::Equation;
/// let equation: Equation = "Al + O2 -> Al2O3".parse()?;
/// let balanced = equation.balance()?;
/// assert_eq!(balanced.coefficients().len(), 3);
/// assert_eq!(equation.with(&balanced).to_string(), "4Al + 3O2 -> 2Al2O3");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Balanced {
    coefficients: Vec<Ratio>,
}

impl Balanced {
    /// A whole number above nought for each species, reactants first, in the order of the equation.
    #[must_use]
    pub fn coefficients(&self) -> &[Ratio] {
        &self.coefficients
    }
}

/// Balances an equation with the coefficients of some species given.
///
/// A given coefficient is kept as it is, never scaled: where others would not be whole, that is an
/// error that says with which multiple they are. So a given coefficient also chooses a multiple of
/// the smallest balance.
///
/// ```
/// use effloresce::reaction::{Balancer, Equation};
/// let equation: Equation = "KMnO4 + H2O2 + H2SO4 -> K2SO4 + MnSO4 + O2 + H2O".parse()?;
/// let error = equation.balance().unwrap_err();
/// assert_eq!((error.code(), error.nullity()), ("many_balances", 2));
/// let [manganate, peroxide] = ["KMnO4", "H2O2"].map(|text| text.parse());
/// let balanced = Balancer::of(&equation)
///     .fix(&manganate?, 2.into())?
///     .fix(&peroxide?, 5.into())?
///     .run()?;
/// let whole = "2KMnO4 + 5H2O2 + 3H2SO4 -> K2SO4 + 2MnSO4 + 5O2 + 8H2O";
/// assert_eq!(equation.with(&balanced).to_string(), whole);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Balancer<'e> {
    equation: &'e Equation,
    fixed: Vec<(usize, Ratio)>,
}

impl<'e> Balancer<'e> {
    /// Nothing given yet. The coefficients written in the equation are not looked at.
    #[must_use]
    pub fn of(equation: &'e Equation) -> Self {
        Balancer {
            equation,
            fixed: Vec::new(),
        }
    }

    /// Gives the coefficient of the species with this formula; a formula without a label of its
    /// state stands for every state.
    ///
    /// # Errors
    /// `bad_request` where the equation does not have it, or has it several times; where the
    /// coefficient is not a whole number above nought; where the species has one already.
    pub fn fix(self, formula: &Formula, coefficient: Ratio) -> Result<Self, Error> {
        let mut places = self.equation.indices_of(formula);
        let found = (places.next(), places.next());
        drop(places);
        match found {
            (Some(place), None) => self.fix_at(place, coefficient),
            (None, _) => {
                let species = self.equation.species().iter();
                let names = list(species.map(|one| format!("`{}`", one.name())));
                Err(request(
                    format!("the equation has no species `{formula}`"),
                    &format!("its species are {names}"),
                ))
            }
            (Some(_), Some(_)) => Err(request(
                format!("`{formula}` stands in the equation several times"),
                "say by its place which one is meant",
            )),
        }
    }

    /// Gives the coefficient of the species at a place among all, from nought.
    ///
    /// # Errors
    /// As [`Balancer::fix`].
    pub fn fix_at(mut self, place: usize, coefficient: Ratio) -> Result<Self, Error> {
        let Some(species) = self.equation.species().get(place) else {
            let most = self.equation.species().len();
            return Err(request(
                format!("the equation has no species at place {place}"),
                &format!("it has {most} species; the first has place 0"),
            ));
        };
        let formula = species.name();
        if !coefficient.is_positive() || !coefficient.is_integer() {
            return Err(request(
                format!(
                    "the coefficient {coefficient} of `{formula}` is not a whole number above nought"
                ),
                "give a whole number from 1 on",
            ));
        }
        if self.fixed.iter().any(|(other, _)| *other == place) {
            return Err(request(
                format!("`{formula}` is given two coefficients"),
                "give each species one",
            ));
        }
        self.fixed.push((place, coefficient));
        self.fixed.sort_by_key(|(place, _)| *place);
        Ok(self)
    }

    /// Balances.
    ///
    /// # Errors
    /// As [`Equation::balance`]; `no_balance` also where the given coefficients contradict each
    /// other (reason `fixed`), or leave another coefficient broken (reason `fraction`).
    pub fn run(&self) -> Result<Balanced, Error> {
        let equation = self.equation;
        let mut system = System::new();
        system.take(equation)?;
        if !self.fixed.is_empty() {
            system.fix(self.weights(&system)?);
        }
        let (_, solutions) = system.solve();
        match solutions {
            Solutions::Line(line) if line.iter().all(Ratio::is_positive) => self.scaled(line),
            Solutions::Several(basis) => match self.positive(&system)? {
                None => Err(many(equation, basis)),
                Some(nought) => Err(self.none(&nought, None)),
            },
            Solutions::Line(line) => Err(self.none(&[], Some(&line))),
            Solutions::None => Err(self.none(&[], None)),
        }
    }

    /// The error where there is no balance. `nought` are species that no balance uses; `line` is the
    /// only solution there is, where it has noughts or both signs.
    #[cold]
    fn none(&self, nought: &[usize], line: Option<&[Ratio]>) -> Error {
        if self.fixed.is_empty() {
            return reasons::none(self.equation, nought, line);
        }
        match self.equation.balance() {
            // What is wrong without the given coefficients is wrong with them.
            Err(error) if error.kind() != ErrorKind::ManyBalances => error,
            _ => reasons::contradiction(self.equation, &self.fixed),
        }
    }

    /// The given coefficients in the units of the system's columns, over one denominator.
    fn weights(&self, system: &System) -> Result<Vec<(usize, i64)>, Error> {
        let mut parts = Vec::new();
        let mut shared: i128 = 1;
        let units = |place: &usize| Ratio::from(system.units(*place));
        for (place, value) in &self.fixed {
            let part = value.checked_div(&units(place)).and_then(|r| r.to_parts());
            let (above, below) = part.ok_or_else(too_large)?;
            let more = below / num_integer::gcd(shared, below);
            shared = shared.checked_mul(more).ok_or_else(too_large)?;
            parts.push((*place, above, below));
        }
        let whole = parts.into_iter().map(|(place, above, below)| {
            let weight = above.checked_mul(shared / below)?;
            Some((place, i64::try_from(weight).ok()?))
        });
        whole.map(|one| one.ok_or_else(too_large)).collect()
    }

    /// Where nothing positive solves the system, the species that are nought in it.
    fn positive(&self, system: &System) -> Result<Option<Vec<usize>>, Error> {
        let mut matrix: Matrix<BigInt> = Matrix::new();
        system.fill(&mut matrix).ok_or_else(too_large)?;
        match search(&matrix) {
            PositiveSolution::Exists => Ok(None),
            PositiveSolution::AlwaysZero(columns) if self.fixed.is_empty() => Ok(Some(columns)),
            // Columns are not species where some are given.
            PositiveSolution::AlwaysZero(_) => Ok(Some(Vec::new())),
            PositiveSolution::TooLong => Err(too_large()),
        }
    }

    /// The balance in which the given species have what they are given.
    fn scaled(&self, line: Vec<Ratio>) -> Result<Balanced, Error> {
        let Some((place, wanted)) = self.fixed.first() else {
            return Ok(Balanced { coefficients: line });
        };
        let by = line.get(*place).and_then(|found| wanted.checked_div(found));
        let by = by.unwrap_or(Ratio::ONE);
        let coefficients: Vec<Ratio> = line.iter().map(|one| one * &by).collect();
        match coefficients.iter().position(|one| !one.is_integer()) {
            None => Ok(Balanced { coefficients }),
            Some(broken) => Err(reasons::broken(
                self.equation,
                &self.fixed,
                broken,
                &coefficients,
            )),
        }
    }
}

impl Equation {
    /// The smallest whole coefficients with which every kind of atom (isotopes apart) and the
    /// charge are conserved. What is written before the species is not looked at.
    ///
    /// Nothing is added, dropped or moved: a species on both sides stays two species.
    ///
    /// # Errors
    /// - `no_balance`: no solution has every coefficient above nought. [`Error::reasons`] say why:
    ///   `one_side_only` (an element or charge that nothing makes up for; values `what`, `side`,
    ///   `species`), `wrong_side` (`species`, `side`: where it would balance), `no_part` (`species`:
    ///   it could only have nought), `both_sides` (`species`), `add` (`reactants`, `products`,
    ///   `equation`: H2O, H⁺, OH⁻ or e⁻ with which it would balance; each smallest set was tried),
    ///   `not_tried` (in their place, where the numbers are too long for it), `fixed`, `fraction` (see [`Balancer`]) or `only_nought`.
    /// - `many_balances`: several independent ones; see [`Error::basis`]. The reason is `both_sides`
    ///   where a species stands on both.
    /// - `unknown_degree`: a count is left open.
    /// - `too_large`: the work would take too long.
    ///
    /// ```
    /// use effloresce::reaction::Equation;
    /// let equation: Equation = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+".parse()?;
    /// let error = equation.balance().unwrap_err();
    /// assert_eq!(error.code(), "no_balance");
    /// let add = error.reasons().iter().find(|reason| reason.code() == "add").unwrap();
    /// let whole = "MnO4^- + 5Fe^2+ + 8H^+ -> Mn^2+ + 5Fe^3+ + 4H2O";
    /// assert!(add.values().any(|value| value == ("equation", whole)));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[doc(alias = "stoichiometric coefficient")]
    pub fn balance(&self) -> Result<Balanced, Error> {
        Balancer::of(self).run()
    }

    /// The same equation with these coefficients.
    #[must_use]
    pub fn with(&self, balanced: &Balanced) -> Equation {
        let mut equation = self.clone();
        let coefficients = balanced.coefficients.iter();
        for (species, coefficient) in equation.species.iter_mut().zip(coefficients) {
            species.coefficient = Some(coefficient.clone());
        }
        equation
    }
}

#[cold]
fn request(message: String, help: &str) -> Error {
    let help: String = help.into();
    Error::new(ErrorKind::BadRequest, Detail::new(message).help(help))
}

#[cold]
fn too_large() -> Error {
    Error::new(
        ErrorKind::TooLarge,
        Detail::new("balancing this equation would take too long")
            .help("split it into the reactions that it is made of"),
    )
}

#[cold]
fn many(equation: &Equation, basis: Vec<super::error::Sparse>) -> Error {
    let (count, species) = (basis.len(), equation.species().len());
    let more = count - 1;
    let plural = if more == 1 { "" } else { "s" };
    let detail = Detail::new(format!("the equation has {count} independent balances")).help(format!(
        "give the coefficient{plural} of {} more species in it, or write the reactions that it is made of one by one",
        more.max(1)
    ));
    let twice: Vec<Imbalance> = reasons::both_sides(equation).collect();
    let error = Error::new(ErrorKind::ManyBalances, detail).because(reasons::notes(&twice));
    error.with_basis(basis, species)
}
