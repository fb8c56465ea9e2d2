//! Whether a homogeneous system has a solution with every number positive: the first phase of the
//! simplex method in exact whole numbers. Bland's rule keeps it from cycling (R. G. Bland, Math.
//! Oper. Res. 1977, 2, 103-107).

use alloc::vec::Vec;

use num_bigint::BigInt;
use num_traits::{One, Signed, Zero};

use super::eliminate::Matrix;

/// Whether a system has a solution with every number positive.
pub(super) enum PositiveSolution {
    /// There is a positive solution.
    Exists,
    /// There is none: these columns are zero in every solution without negative numbers.
    AlwaysZero(Vec<usize>),
    /// The search takes too many steps.
    TooLong,
}

/// The most steps that are taken; no equation of a textbook needs as many.
const MOST_STEPS: usize = 2_000;
/// The most work that is done: cells times steps times the digits of the numbers.
const MOST_WORK: u64 = 30_000_000;

/// Searches for x ≥ 1 with A x = 0 (which can be scaled from any x > 0): x = 1 + y, A y = −A 1.
pub(super) fn search(matrix: &Matrix<BigInt>) -> PositiveSolution {
    let columns = matrix.columns;
    let mut cells: Matrix<BigInt> = Matrix {
        cells: Default::default(),
        columns: columns + 1,
    };
    let mut objective = alloc::vec![BigInt::zero(); columns + 1];
    let mut basis = Vec::new();
    for row in 0..matrix.rows() {
        let row = matrix.row(row);
        let sum: BigInt = row.iter().sum();
        let turn = sum.is_positive();
        let line = row.iter().cloned().chain([-sum]);
        for (cell, total) in line.zip(&mut objective) {
            let cell = if turn { -cell } else { cell };
            *total -= &cell;
            cells.cells.push(cell);
        }
        // An artificial variable is not kept, because its column is never entered again.
        basis.push(usize::MAX);
    }
    let last = basis.len();
    cells.cells.extend(objective);
    let mut before = BigInt::one();
    let mut work = 0_u64;
    for _ in 0..MOST_STEPS {
        let objective = cells.row(last);
        if objective.last().is_none_or(Zero::is_zero) {
            return PositiveSolution::Exists;
        }
        let enters = objective.iter().take(columns).position(Signed::is_negative);
        let Some(column) = enters else {
            let positive = objective.iter().take(columns).enumerate();
            let positive = positive.filter(|(_, cell)| cell.is_positive());
            return PositiveSolution::AlwaysZero(positive.map(|(column, _)| column).collect());
        };
        let Some(row) = leaves(&cells, &basis, column) else {
            // A sum of numbers that are not negative cannot fall for ever.
            return PositiveSolution::TooLong;
        };
        let Some(pivot) = cells.row(row).get(column).cloned() else {
            return PositiveSolution::TooLong;
        };
        work += cells.cells.len() as u64 * (2 + pivot.bits() / 64);
        if work > MOST_WORK || cells.eliminate_column(row, column, &before).is_none() {
            return PositiveSolution::TooLong;
        }
        before = pivot;
        if let Some(variable) = basis.get_mut(row) {
            *variable = column;
        }
    }
    PositiveSolution::TooLong
}

/// Returns the row whose variable leaves when that of a column enters: the one with the least
/// quotient, then with the first variable.
fn leaves(cells: &Matrix<BigInt>, basis: &[usize], column: usize) -> Option<usize> {
    let mut best: Option<(usize, &BigInt, &BigInt)> = None;
    for (row, variable) in basis.iter().enumerate() {
        let line = cells.row(row);
        let (Some(cell), Some(right)) = (line.get(column), line.last()) else {
            continue;
        };
        if !cell.is_positive() {
            continue;
        }
        let better = best.is_none_or(|(other, above, below)| {
            let (ours, theirs) = (right * below, above * cell);
            ours < theirs || (ours == theirs && *variable < basis.get(other).copied().unwrap_or(0))
        });
        if better {
            best = Some((row, right, cell));
        }
    }
    best.map(|(row, ..)| row)
}
