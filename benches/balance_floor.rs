//! What balancing is measured against: species read by hand into whole counts, and fraction-free
//! elimination in 64 bits, all of it in arrays on the stack.
//!
//! It knows the plain notation with caret charges and the raised dot, and nothing else: no notes,
//! no spans, no reasons, no second width. Beyond that, and where the balance is not one, it answers
//! `None`.

const ROWS: usize = 12;
const COLUMNS: usize = 12;
/// The row of the charge; the others are found by the element's letters.
const CHARGE: u16 = u16::MAX;

/// What the species hold of what is conserved: reactants positive, products negative.
#[derive(Clone)]
pub(crate) struct Matrix {
    cells: [[i64; COLUMNS]; ROWS],
    names: [u16; ROWS],
    rows: usize,
    columns: usize,
}

impl Matrix {
    const fn new() -> Matrix {
        Matrix {
            cells: [[0; COLUMNS]; ROWS],
            names: [0; ROWS],
            rows: 0,
            columns: 0,
        }
    }

    fn add(&mut self, name: u16, value: i64) -> Option<()> {
        let known = self.names[..self.rows].iter().position(|n| *n == name);
        let row = known.unwrap_or(self.rows);
        if row == self.rows {
            *self.names.get_mut(row)? = name;
            self.rows += 1;
        }
        self.cells[row][self.columns] += value;
        Some(())
    }

    /// The matrix of an equation.
    pub(crate) fn read(text: &str) -> Option<Matrix> {
        let mut matrix = Matrix::new();
        let mut side = 1;
        for word in text.split(' ') {
            match word {
                "+" => {}
                "->" => side = -1,
                species => {
                    if matrix.columns == COLUMNS {
                        return None;
                    }
                    read(species.as_bytes(), side, &mut matrix)?;
                    matrix.columns += 1;
                }
            }
        }
        Some(matrix)
    }

    /// The smallest whole coefficients, where there is one balance.
    pub(crate) fn solve(mut self) -> Option<[i64; COLUMNS]> {
        let (mut rank, mut before, mut free) = (0, 1, None);
        let mut pivots = [0; ROWS];
        for column in 0..self.columns {
            let Some(found) = (rank..self.rows).find(|row| self.cells[*row][column] != 0) else {
                if free.replace(column).is_some() {
                    return None;
                }
                continue;
            };
            self.cells.swap(rank, found);
            let line = self.cells[rank];
            let pivot = line[column];
            for row in (0..self.rows).filter(|row| *row != rank) {
                let cells = &mut self.cells[row];
                let factor = cells[column];
                for (cell, of_pivot) in cells[..self.columns].iter_mut().zip(&line) {
                    let product = pivot.checked_mul(*cell)?;
                    *cell = product.checked_sub(factor.checked_mul(*of_pivot)?)? / before;
                }
            }
            before = pivot;
            pivots[rank] = column;
            rank += 1;
        }
        let free = free?;
        let mut all = [0; COLUMNS];
        all[free] = before;
        for (row, column) in pivots[..rank].iter().enumerate() {
            all[*column] = -self.cells[row][free];
        }
        let values = &mut all[..self.columns];
        let shared = values.iter().fold(0, |a, b| divisor(a, b.abs())) * before.signum();
        for value in values.iter_mut() {
            *value /= shared;
        }
        values.iter().all(|value| *value > 0).then_some(all)
    }
}

fn divisor(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// One species into the next column.
fn read(text: &[u8], side: i64, matrix: &mut Matrix) -> Option<()> {
    // Each atom or group with its count; a group's members are multiplied when it closes.
    let mut terms = [(0_u16, 0_i64); 64];
    let mut groups = [0_usize; 8];
    let (mut count, mut depth, mut part, mut i) = (0, 0, 0, 0);
    let mut times = number(text, &mut i);
    while let Some(byte) = text.get(i).copied() {
        i += 1;
        match byte {
            b'A'..=b'Z' => {
                let mut name = u16::from(byte) << 8;
                if let Some(small) = text.get(i).filter(|b| b.is_ascii_lowercase()) {
                    name |= u16::from(*small);
                    i += 1;
                }
                *terms.get_mut(count)? = (name, number(text, &mut i));
                count += 1;
            }
            b'(' | b'[' => {
                *groups.get_mut(depth)? = count;
                depth += 1;
            }
            b')' | b']' => {
                depth = depth.checked_sub(1)?;
                let by = number(text, &mut i);
                multiply(&mut terms[groups[depth]..count], by);
            }
            b'^' => {
                let size = number(text, &mut i);
                let sign = if *text.get(i)? == b'-' { -1 } else { 1 };
                matrix.add(CHARGE, side * sign * size)?;
                i += 1;
            }
            0xC2 if text.get(i) == Some(&0xB7) => {
                i += 1;
                multiply(&mut terms[part..count], times);
                part = count;
                times = number(text, &mut i);
            }
            b'e' => {}
            _ => return None,
        }
    }
    multiply(&mut terms[part..count], times);
    terms[..count]
        .iter()
        .try_for_each(|(name, n)| matrix.add(*name, side * n))
}

fn multiply(terms: &mut [(u16, i64)], by: i64) {
    terms.iter_mut().for_each(|(_, n)| *n *= by);
}

/// The digits here; one where there are none.
fn number(text: &[u8], i: &mut usize) -> i64 {
    let start = *i;
    let mut value = 0;
    while let Some(digit) = text.get(*i).filter(|b| b.is_ascii_digit()) {
        value = value * 10 + i64::from(digit - b'0');
        *i += 1;
    }
    if *i == start { 1 } else { value }
}
