//! An equation as a system of linear equations in whole numbers, and its solutions.

use alloc::vec::Vec;

use num_bigint::BigInt;
use num_traits::Signed;
use smallvec::SmallVec;

use super::conserved::Conserved;
use super::eliminate::{Matrix, MatrixInteger, Reduced};
use super::equation::{Equation, Side};
use super::error::Error;
use crate::element::Atom;
use crate::formula::{Column, Formula};
use crate::number::Ratio;

/// The number of each kind of atom, and the charge, in each species: positive in reactants, negative
/// in products.
#[derive(Debug, Clone)]
pub(super) struct System {
    atoms: SmallVec<[Atom; 12]>,
    /// Row, species, value; the row of the charge is [`CHARGE`].
    entries: SmallVec<[(u16, u16, i64); 40]>,
    /// The number of formula units in each column.
    formula_units: SmallVec<[u64; 12]>,
    charged: bool,
    /// The species whose coefficients keep their proportions, each with its part.
    pub(super) proportions: Vec<(usize, i64)>,
}

const CHARGE: u16 = u16::MAX;

/// The width of whole numbers in which a system was solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Width {
    Bits64,
    Bits128,
    Big,
}

/// All solutions of a system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Solutions {
    OnlyZeros,
    /// All are multiples of this one, in smallest whole numbers. The first number that is not zero is
    /// positive.
    Line(Vec<Ratio>),
    /// All are sums of multiples of these.
    Several(Vec<Vec<Ratio>>),
}

impl System {
    #[inline]
    pub(super) fn new() -> System {
        System {
            atoms: SmallVec::new(),
            entries: SmallVec::new(),
            formula_units: SmallVec::new(),
            charged: false,
            proportions: Vec::new(),
        }
    }

    /// Adds all species of an equation.
    #[inline]
    pub(super) fn add_equation(&mut self, equation: &Equation) -> Result<(), Error> {
        for species in equation.species() {
            self.add_species(&species.formula, species.side)
                .map_err(|error| Error::of_formula(&error, species.formula_at))?;
        }
        Ok(())
    }

    /// Adds a species.
    #[inline]
    pub(super) fn add_species(
        &mut self,
        formula: &Formula,
        side: Side,
    ) -> Result<(), crate::formula::Error> {
        let mut column = Column::new();
        formula.column(&mut column)?;
        let index = self.formula_units.len() as u16;
        let turn = |value: i64| match side {
            Side::Reactants => value,
            Side::Products => -value,
        };
        let (atoms, entries) = (&mut self.atoms, &mut self.entries);
        column.each(|atom, count| {
            let row = match atoms.iter().position(|known| *known == atom) {
                Some(row) => row,
                None => {
                    atoms.push(atom);
                    atoms.len() - 1
                }
            };
            let count = i64::try_from(count).unwrap_or(i64::MAX);
            entries.push((row as u16, index, turn(count)));
        });
        if column.charge != 0 {
            self.charged = true;
            self.entries.push((CHARGE, index, turn(column.charge)));
        }
        self.formula_units.push(column.formula_units);
        Ok(())
    }

    /// Returns whether any species has a charge.
    pub(super) fn is_charged(&self) -> bool {
        self.charged
    }

    /// Returns the number of species.
    pub(super) fn species(&self) -> usize {
        self.formula_units.len()
    }

    /// Returns the number of formula units in the column of a species.
    pub(super) fn formula_units(&self, index: usize) -> u64 {
        self.formula_units.get(index).copied().unwrap_or(1)
    }

    /// Returns each kind of atom and the charge, with its number in each species that has any.
    pub(super) fn rows(&self) -> impl Iterator<Item = (Conserved, Vec<(usize, i64)>)> {
        let atoms = self.atoms.iter().enumerate();
        let rows = atoms.map(|(row, atom)| (row as u16, Conserved::Atom(*atom)));
        let charge = self.charged.then_some((CHARGE, Conserved::Charge));
        rows.chain(charge).map(|(row, what)| {
            let entries = self.entries.iter().filter(|entry| entry.0 == row);
            let line = entries.map(|(_, index, value)| (usize::from(*index), *value));
            (what, line.collect())
        })
    }

    /// Returns the column of a species, and its part there. All species that keep their proportions
    /// share the last column; each other species has its own, with the part one.
    fn column_of(&self, index: usize) -> (usize, i64) {
        if self.proportions.is_empty() {
            return (index, 1);
        }
        let before = self.proportions.iter().filter(|(other, _)| *other < index);
        match self.proportions.iter().find(|(other, _)| *other == index) {
            Some((_, part)) => (self.species() - self.proportions.len(), *part),
            None => (index - before.count(), 1),
        }
    }

    /// Fills an empty matrix; `None` if a number does not fit.
    #[inline]
    pub(super) fn fill<T: MatrixInteger>(&self, matrix: &mut Matrix<T>) -> Option<()> {
        let together = usize::from(!self.proportions.is_empty());
        let columns = self.species() - self.proportions.len() + together;
        let rows = self.atoms.len() + usize::from(self.charged);
        matrix.columns = columns;
        let cells = &mut matrix.cells;
        cells.resize(rows * columns, T::zero());
        for (row, index, value) in &self.entries {
            let row = match *row {
                CHARGE => self.atoms.len(),
                row => usize::from(row),
            };
            let (column, part) = self.column_of(usize::from(*index));
            let cell = cells.get_mut(row * columns + column)?;
            *cell = match (part, cell.is_zero()) {
                (1, true) => T::from(*value),
                _ => {
                    let [part, value, less] = [part, *value, -1].map(T::from);
                    T::cross(&part, &value, cell, &less, &T::one())?
                }
            };
        }
        Some(())
    }

    /// Returns whether species times elements are more than this, in numbers beyond 128 bits.
    pub(super) fn is_large(&self, most: usize) -> bool {
        self.species() * self.atoms.len() > most && self.solve().0 == Width::Big
    }

    /// Returns all solutions, in the narrowest width that holds every number on the way.
    #[inline]
    pub(super) fn solve(&self) -> (Width, Solutions) {
        if let Some(found) = self.solve_in::<i64>() {
            return (Width::Bits64, found);
        }
        self.solve_wider()
    }

    #[cold]
    fn solve_wider(&self) -> (Width, Solutions) {
        if let Some(found) = self.solve_in::<i128>() {
            return (Width::Bits128, found);
        }
        // Big integers hold everything.
        let found = self.solve_in::<BigInt>().unwrap_or(Solutions::OnlyZeros);
        (Width::Big, found)
    }

    #[inline]
    pub(super) fn solve_in<T: MatrixInteger>(&self) -> Option<Solutions> {
        // A matrix is large, so it is borrowed and never moved.
        let mut matrix: Matrix<T> = Matrix::new();
        self.fill(&mut matrix)?;
        let reduced = matrix.reduce()?;
        let mut free = reduced.free();
        // In a basis the number of the free column, the pivot, becomes positive.
        let negate = Some(reduced.pivot.is_negative());
        Some(match reduced.nullity() {
            0 => Solutions::OnlyZeros,
            1 => Solutions::Line(self.smallest(&reduced, free.next()?, None)?),
            _ => {
                let basis = free.map(|free| self.smallest(&reduced, free, negate));
                Solutions::Several(basis.collect::<Option<_>>()?)
            }
        })
    }

    /// Returns the solution of a free column by species, in smallest whole numbers. Their signs change
    /// if `negate` says so; without it, the first number that is not zero becomes positive.
    #[inline]
    fn smallest<T: MatrixInteger>(
        &self,
        reduced: &Reduced<'_, T>,
        free: usize,
        negate: Option<bool>,
    ) -> Option<Vec<Ratio>> {
        let mut values: SmallVec<[T; 16]> = SmallVec::new();
        values.resize(reduced.matrix.columns, T::zero());
        for (column, value) in reduced.solution(free) {
            *values.get_mut(column)? = value;
        }
        let mut all: SmallVec<[T; 16]> = SmallVec::new();
        let mut shared = T::zero();
        for (index, formula_units) in self.formula_units.iter().enumerate() {
            let (column, part) = self.column_of(index);
            let mut value = values.get(column)?.clone();
            if *formula_units != 1 || part != 1 {
                let (zero, one) = (T::zero(), T::one());
                for factor in [i64::try_from(*formula_units).ok()?, part] {
                    value = T::cross(&value, &T::from(factor), &zero, &zero, &one)?;
                }
            }
            shared = shared.gcd(&value);
            all.push(value);
        }
        let first = all.iter().find(|value| !value.is_zero());
        if negate.unwrap_or_else(|| first.is_some_and(Signed::is_negative)) {
            shared = -shared;
        }
        let whole = |value: T| match shared.is_zero() || shared.is_one() {
            true => value.ratio(),
            false => (value / shared.clone()).ratio(),
        };
        Some(all.into_iter().map(whole).collect())
    }
}
