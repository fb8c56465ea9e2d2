//! What one cell says: nothing, a number with its unit, a ratio, yes or no.

use alloc::boxed::Box;

use super::problem::ProblemKind;
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Error, Ratio, Reading, Unit};
use crate::text::{digit, is_minus, is_space, one_line};

/// Returns the unit of the numbers of a quantity, and `None` for the formula.
pub(super) fn unit_of(quantity: Quantity) -> Option<Unit> {
    match quantity {
        Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass => Some(Unit::Gram),
        Quantity::PercentWater => Some(Unit::Percent),
        Quantity::MolSalt | Quantity::MolWater => Some(Unit::Mole),
        Quantity::Ratio => Some(Unit::One),
        Quantity::Formula => None,
    }
}

/// Returns the cell without the blanks around it, and `None` if it is blank or only dashes.
#[inline]
pub(in crate::class) fn not_blank(cell: &str) -> Option<&str> {
    match cell.as_bytes() {
        // Most cells begin and end with no blank and no dash.
        [first, .., last] if first.is_ascii_alphanumeric() && last.is_ascii_alphanumeric() => {
            Some(cell)
        }
        [] => None,
        _ => trimmed(cell),
    }
}

fn trimmed(cell: &str) -> Option<&str> {
    let cell = cell.trim_matches(is_space);
    let dash = |c| is_space(c) || is_minus(c) || matches!(c, '\u{2014}' | '\u{2015}');
    (!cell.chars().all(dash)).then_some(cell)
}

/// Returns what a cell says that asks for yes or no, and `None` if it says neither.
pub(super) fn yes_or_no(cell: &str) -> Option<bool> {
    let is = |word: &&str| cell.eq_ignore_ascii_case(word);
    if ["yes", "true", "x", "1"].iter().any(is) {
        return Some(true);
    }
    ["no", "false", "0"].iter().any(is).then_some(false)
}

/// Returns whether a cell where a value should be says that there is none. (`none` may mean zero, and `NA`
/// is the way some write sodium.)
#[inline]
pub(super) fn says_missing(cell: &str) -> bool {
    // Most values begin with a digit.
    !cell.as_bytes().first().is_some_and(u8::is_ascii_digit) && is_missing_word(cell)
}

fn is_missing_word(cell: &str) -> bool {
    let missing = ["n/a", "n.a.", "#n/a"];
    missing.iter().any(|word| cell.eq_ignore_ascii_case(word))
        // Beside a number, the word needs a person to read it.
        || (says_absent(cell) && !cell.chars().any(|c| digit(c).is_some()))
}

/// Returns whether a cell has the word `absent`.
pub(super) fn says_absent(cell: &str) -> bool {
    let mut words = cell.split(|c: char| !c.is_alphanumeric());
    words.any(|word| word.eq_ignore_ascii_case("absent"))
}

/// Reads a number, in the unit of its column. What is wrong is boxed, so that the result is no
/// larger than a reading.
#[inline(always)]
pub(super) fn number(
    cell: &str,
    unit: Unit,
    mark: DecimalMark,
) -> Result<Reading, Box<ProblemKind>> {
    Reading::read_in(unit, cell, mark).or_else(|_| loose_number(cell, unit, mark))
}

fn bad_number(error: Error) -> Box<ProblemKind> {
    Box::new(ProblemKind::BadNumber(error))
}

/// Reads a cell that is not simply a number with its unit.
#[cold]
fn loose_number(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Box<ProblemKind>> {
    let cell = one_line(cell);
    if unit == Unit::One {
        let value = without_name(&cell);
        return match value.split_once(COLONS) {
            Some((left, right)) => pair(left.trim(), right.trim(), mark),
            None => Reading::read_in(unit, value, mark).map_err(bad_number),
        };
    }
    Reading::read_in(unit, &cell, mark).map_err(bad_number)
}

const COLONS: [char; 3] = [':', '\u{2236}', '\u{FF1A}'];
/// Signs that mean "is about".
const ABOUT: [char; 4] = ['~', '\u{2248}', '\u{223C}', '\u{2243}'];

/// Returns what follows `x =`, `n =`, or a sign for "about".
fn without_name(cell: &str) -> &str {
    let named = cell.strip_prefix(['x', 'X', 'n']).map(str::trim_start);
    let value = match named {
        Some(rest) => rest.strip_prefix('=').or_else(|| rest.strip_prefix(ABOUT)),
        None => cell.strip_prefix(ABOUT),
    };
    value.map_or(cell, str::trim_start)
}

/// Reads the pair `1 : x` as x.
fn pair(left: &str, right: &str, mark: DecimalMark) -> Result<Reading, Box<ProblemKind>> {
    let one = |side| Reading::read(side, mark).is_ok_and(|side| side.value() == Ratio::ONE);
    let number = right.chars().any(|c| digit(c).is_some()) && !right.contains(COLONS);
    if one(left) && number {
        return Reading::read_in(Unit::One, right, mark).map_err(bad_number);
    }
    if one(right) && Reading::read(left, mark).is_ok() {
        return Err(Box::new(ProblemKind::AmbiguousRatio(left.into())));
    }
    Err(Box::new(ProblemKind::BadRatio))
}
