//! Balancing: the smallest whole coefficients that conserve atoms and charge.

use alloc::format;
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
use crate::text::list;

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
    /// Returns a positive whole number for each species, reactants first, in the order of the equation.
    #[must_use]
    pub fn coefficients(&self) -> &[Ratio] {
        &self.coefficients
    }
}

/// Balances an equation with the coefficients of some species given.
///
/// A given coefficient is never scaled. If the other coefficients would not be whole, the error says
/// which multiple makes them whole. So a given coefficient also chooses a multiple of the smallest
/// balance.
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
    /// Returns a balancer without given coefficients. It ignores the coefficients written in the
    /// equation.
    #[must_use]
    pub fn of(equation: &'e Equation) -> Self {
        Balancer {
            equation,
            fixed: Vec::new(),
        }
    }

    /// Fixes the coefficient of the species with this formula. A formula without a state label names
    /// every state.
    ///
    /// # Errors
    /// `bad_request` if the equation does not have the species, or has it several times; if the
    /// coefficient is not a positive whole number; if the species has a given coefficient already.
    pub fn fix(self, formula: &Formula, coefficient: Ratio) -> Result<Self, Error> {
        let indices: Vec<usize> = self.equation.indices_of(formula).collect();
        match indices[..] {
            [index] => self.fix_at(index, coefficient),
            [] => {
                let species = self.equation.species().iter();
                let names = list(species.map(|one| format!("`{}`", one.name())));
                Err(Error::request(
                    format!("the equation has no species `{formula}`"),
                    format!("its species are {names}"),
                ))
            }
            _ => Err(Error::request(
                format!("`{formula}` appears in the equation several times"),
                "fix the coefficient by the index of the species",
            )),
        }
    }

    /// Fixes the coefficient of the species with this index among all species. The first has index 0.
    ///
    /// # Errors
    /// As [`Balancer::fix`].
    pub fn fix_at(mut self, index: usize, coefficient: Ratio) -> Result<Self, Error> {
        let Some(species) = self.equation.species().get(index) else {
            let last = self.equation.species().len().saturating_sub(1);
            return Err(Error::request(
                format!("the equation has no species with index {index}"),
                format!("give an index from 0 to {last}"),
            ));
        };
        let formula = species.name();
        if !coefficient.is_positive() || !coefficient.is_integer() {
            return Err(Error::request(
                format!(
                    "the coefficient {coefficient} of `{formula}` is not a positive whole number"
                ),
                "give 1 or a larger whole number",
            ));
        }
        if self.fixed.iter().any(|(other, _)| *other == index) {
            return Err(Error::request(
                format!("`{formula}` has two given coefficients"),
                "give each species one coefficient",
            ));
        }
        let before = self.fixed.partition_point(|(other, _)| *other < index);
        self.fixed.insert(before, (index, coefficient));
        Ok(self)
    }

    /// Balances the equation.
    ///
    /// # Errors
    /// As [`Equation::balance`]; `no_balance` also if the given coefficients contradict each other
    /// (reason `fixed`), or make another coefficient a fraction (reason `fraction`).
    pub fn run(&self) -> Result<Balanced, Error> {
        let equation = self.equation;
        let mut system = System::new();
        system.add_equation(equation)?;
        if !self.fixed.is_empty() {
            system.proportions = self.proportions(&system)?;
        }
        let (_, solutions) = system.solve();
        match solutions {
            Solutions::Line(line) if line.iter().all(Ratio::is_positive) => self.scaled(line),
            Solutions::Several(basis) => match self.always_zero(&system)? {
                None => Err(many(equation, basis)),
                Some(zeros) => Err(self.no_balance(&system, &zeros, None)),
            },
            Solutions::Line(line) => Err(self.no_balance(&system, &[], Some(&line))),
            Solutions::OnlyZeros => Err(self.no_balance(&system, &[], None)),
        }
    }

    /// Returns the error if there is no balance. `zeros` are species that no balance uses; `line` is
    /// the only solution, if it has zeros or both signs.
    #[cold]
    fn no_balance(&self, system: &System, zeros: &[usize], line: Option<&[Ratio]>) -> Error {
        if self.fixed.is_empty() {
            return reasons::no_balance(self.equation, system, zeros, line);
        }
        match self.equation.balance() {
            // What is wrong without the given coefficients is wrong with them.
            Err(error) if error.kind() != ErrorKind::ManyBalances => error,
            _ => reasons::contradiction(self.equation, &self.fixed),
        }
    }

    /// Returns the proportions of the given coefficients, as whole numbers of the system's columns.
    fn proportions(&self, system: &System) -> Result<Vec<(usize, i64)>, Error> {
        let mut parts = Vec::new();
        let mut shared: i128 = 1;
        for (index, value) in &self.fixed {
            let part = value.checked_div(&Ratio::from(system.formula_units(*index)));
            let part = part.and_then(|part| part.to_parts());
            let (numerator, denominator) = part.ok_or_else(too_large)?;
            let more = denominator / num_integer::gcd(shared, denominator);
            shared = shared.checked_mul(more).ok_or_else(too_large)?;
            parts.push((*index, numerator, denominator));
        }
        let whole = parts.into_iter().map(|(index, numerator, denominator)| {
            let part = numerator.checked_mul(shared / denominator)?;
            Some((index, i64::try_from(part).ok()?))
        });
        whole.map(|one| one.ok_or_else(too_large)).collect()
    }

    /// Returns `None` if a solution is positive; otherwise the species that are always zero.
    fn always_zero(&self, system: &System) -> Result<Option<Vec<usize>>, Error> {
        let mut matrix: Matrix<BigInt> = Matrix::new();
        system.fill(&mut matrix).ok_or_else(too_large)?;
        match search(&matrix) {
            PositiveSolution::Exists => Ok(None),
            PositiveSolution::AlwaysZero(columns) if self.fixed.is_empty() => Ok(Some(columns)),
            // With given coefficients, columns are not species.
            PositiveSolution::AlwaysZero(_) => Ok(Some(Vec::new())),
            PositiveSolution::TooLong => Err(too_large()),
        }
    }

    /// Returns the balance in which the given species have their given coefficients.
    fn scaled(&self, line: Vec<Ratio>) -> Result<Balanced, Error> {
        let Some((index, wanted)) = self.fixed.first() else {
            return Ok(Balanced { coefficients: line });
        };
        let by = line.get(*index).and_then(|found| wanted.checked_div(found));
        let by = by.unwrap_or(Ratio::ONE);
        let coefficients: Vec<Ratio> = line.iter().map(|one| one * &by).collect();
        match coefficients.iter().position(|one| !one.is_integer()) {
            None => Ok(Balanced { coefficients }),
            Some(index) => Err(reasons::fraction(
                self.equation,
                &self.fixed,
                index,
                &coefficients,
            )),
        }
    }
}

impl Equation {
    /// Returns the smallest whole coefficients that conserve every kind of atom (each isotope by
    /// itself) and the charge. Coefficients that are written already are ignored.
    ///
    /// Nothing is added, dropped or moved: a species on both sides stays two species.
    ///
    /// # Errors
    /// - `no_balance`: no solution has only positive coefficients. [`Error::reasons`] say why:
    ///   - `one_side_only`: nothing balances an element or the charge (values `what`, `side`,
    ///     `species`).
    ///   - `wrong_side`: the `species` would balance on another `side`.
    ///   - `no_part`: the `species` can only have the coefficient zero.
    ///   - `both_sides`: the `species` is on both sides.
    ///   - `add`: with H2O, H⁺, OH⁻ or e⁻ it would balance (`reactants`, `products`, `equation`);
    ///     each smallest set was tried.
    ///   - `not_tried`: the numbers are too long to try that.
    ///   - `fixed`, `fraction`: see [`Balancer`].
    ///   - `only_nought`: only zeros solve the equation.
    /// - `many_balances`: there are several independent balances; see [`Error::basis`]. The reason is
    ///   `both_sides` if a species is on both.
    /// - `unknown_degree`: a count is unknown.
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

    /// Returns the same equation with these coefficients.
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
fn too_large() -> Error {
    Error::without_span(
        ErrorKind::TooLarge,
        "balancing this equation would take too long",
        "split it into several reactions",
    )
}

#[cold]
fn many(equation: &Equation, basis: Vec<Vec<Ratio>>) -> Error {
    let (count, more) = (basis.len(), basis.len() - 1);
    let plural = if more == 1 { "" } else { "s" };
    let error = Error::without_span(
        ErrorKind::ManyBalances,
        format!("the equation has {count} independent balances"),
        format!(
            "fix the coefficient{plural} of {more} more species, or write each reaction separately"
        ),
    );
    let twice: Vec<Imbalance> = reasons::both_sides(equation).collect();
    error.because(reasons::notes(&twice)).with_basis(basis)
}
