//! Fraction-free elimination (E. H. Bareiss, Math. Comp. 1968, 22, 565-578), carried to the reduced
//! form: every entry stays a minor of the matrix, so every division is exact.

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{One, Signed, Zero};
use smallvec::SmallVec;

use crate::number::Ratio;

/// Whole numbers of one width.
pub(super) trait MatrixInteger:
    Clone + Zero + One + Signed + PartialEq + Integer + From<i64>
{
    /// Returns (a·b − c·d) / e, which is exact; `None` if a product does not fit.
    fn cross(a: &Self, b: &Self, c: &Self, d: &Self, e: &Self) -> Option<Self>;

    fn ratio(self) -> Ratio;
}

macro_rules! of_width {
    ($($width:ty),+) => {
        $(impl MatrixInteger for $width {
            #[inline]
            fn cross(a: &Self, b: &Self, c: &Self, d: &Self, e: &Self) -> Option<Self> {
                let difference = match *c == 0 || *d == 0 {
                    true => a.checked_mul(*b)?,
                    false => a.checked_mul(*b)?.checked_sub(c.checked_mul(*d)?)?,
                };
                let quotient = match *e {
                    1 => difference,
                    e => difference.checked_div(e)?,
                };
                // The least number has no opposite.
                (quotient != <$width>::MIN).then_some(quotient)
            }

            fn ratio(self) -> Ratio {
                Ratio::from(self)
            }
        })+
    };
}

of_width!(i64, i128);

impl MatrixInteger for BigInt {
    fn cross(a: &Self, b: &Self, c: &Self, d: &Self, e: &Self) -> Option<Self> {
        Some((a * b - c * d) / e)
    }

    fn ratio(self) -> Ratio {
        Ratio::from_whole(self)
    }
}

/// Rows of whole numbers, one after the other.
#[derive(Debug, Clone)]
pub(super) struct Matrix<T> {
    pub(super) cells: SmallVec<[T; 96]>,
    pub(super) columns: usize,
}

/// A matrix in reduced form: each of its first rows has its pivot in a column of its own, and all
/// pivots are the same number.
#[derive(Debug)]
pub(super) struct Reduced<'m, T> {
    pub(super) matrix: &'m Matrix<T>,
    /// The columns of the pivots, row by row.
    pub(super) pivots: SmallVec<[usize; 16]>,
    /// The number of every pivot.
    pub(super) pivot: T,
}

impl<T: MatrixInteger> Matrix<T> {
    #[inline]
    pub(super) fn new() -> Matrix<T> {
        Matrix {
            cells: SmallVec::new(),
            columns: 0,
        }
    }

    #[inline]
    pub(super) fn rows(&self) -> usize {
        self.cells.len().checked_div(self.columns).unwrap_or(0)
    }

    #[inline]
    pub(super) fn row(&self, row: usize) -> &[T] {
        let start = row * self.columns;
        self.cells
            .get(start..start + self.columns)
            .unwrap_or_default()
    }

    #[inline]
    fn cell(&self, row: usize, column: usize) -> Option<&T> {
        self.cells.get(row * self.columns + column)
    }

    fn swap_rows(&mut self, one: usize, other: usize) {
        if one != other {
            for column in 0..self.columns {
                self.cells
                    .swap(one * self.columns + column, other * self.columns + column);
            }
        }
    }

    /// Returns the rows before a row, the row, and the rows after it.
    fn split_at_row(&mut self, row: usize) -> Option<(&mut [T], &mut [T], &mut [T])> {
        let (before, rest) = self.cells.split_at_mut_checked(row * self.columns)?;
        let (row, after) = rest.split_at_mut_checked(self.columns)?;
        Some((before, row, after))
    }

    /// Makes a column zero in all rows except one, whose number there is the new pivot. `before` is
    /// the pivot of the step before. `None` if a product does not fit.
    pub(super) fn eliminate_column(&mut self, row: usize, column: usize, before: &T) -> Option<()> {
        let columns = self.columns;
        let (above, pivot_row, below) = self.split_at_row(row)?;
        let pivot = pivot_row.get(column)?.clone();
        let others = above.chunks_exact_mut(columns);
        for other in others.chain(below.chunks_exact_mut(columns)) {
            let factor = other.get(column)?.clone();
            if factor.is_zero() && pivot == *before {
                continue;
            }
            for (cell, of_pivot) in other.iter_mut().zip(pivot_row.iter()) {
                if !cell.is_zero() || (!of_pivot.is_zero() && !factor.is_zero()) {
                    *cell = T::cross(&pivot, cell, &factor, of_pivot, before)?;
                }
            }
        }
        Some(())
    }

    /// Reduces the matrix; `None` if a number does not fit its width.
    pub(super) fn reduce(&mut self) -> Option<Reduced<'_, T>> {
        let rows = self.rows();
        let mut pivots = SmallVec::new();
        let mut before = T::one();
        for column in 0..self.columns {
            let done = pivots.len();
            if done == rows {
                break;
            }
            let found = |row: &usize| self.cell(*row, column).is_some_and(|cell| !cell.is_zero());
            let Some(row) = (done..rows).find(found) else {
                continue;
            };
            self.swap_rows(done, row);
            let pivot = self.cell(done, column)?.clone();
            self.eliminate_column(done, column, &before)?;
            before = pivot;
            pivots.push(column);
        }
        Some(Reduced {
            matrix: self,
            pivots,
            pivot: before,
        })
    }
}

impl<T: MatrixInteger> Reduced<'_, T> {
    /// Returns the number of independent solutions.
    #[inline]
    pub(super) fn nullity(&self) -> usize {
        self.matrix.columns - self.pivots.len()
    }

    /// Returns the columns without a pivot.
    pub(super) fn free(&self) -> impl Iterator<Item = usize> {
        // Pivots are in ascending order.
        let mut pivots = self.pivots.iter().copied().peekable();
        (0..self.matrix.columns).filter(move |column| pivots.next_if_eq(column).is_none())
    }

    /// Returns the solution of a free column: what is not zero, with its column, in order. The free
    /// column comes last.
    pub(super) fn solution(&self, free: usize) -> impl Iterator<Item = (usize, T)> {
        let rows = self.pivots.iter().enumerate();
        let at = move |(row, column): (usize, &usize)| {
            let cell = self.matrix.cell(row, free)?;
            (!cell.is_zero()).then(|| (*column, -cell.clone()))
        };
        rows.filter_map(at)
            .chain(core::iter::once((free, self.pivot.clone())))
    }
}
