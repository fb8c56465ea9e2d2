//! One cell: missing, a number with its unit, a ratio.

use alloc::format;
use alloc::string::String;

use super::one_line::{flat, shown};
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, ErrorKind, Ratio, Reading, Unit};
use crate::text::{is_minus, is_space};

/// What a column of numbers measures; `None` for the formula, which is no number.
pub(super) fn unit_of(quantity: Quantity) -> Option<Unit> {
    match quantity {
        Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass => Some(Unit::Gram),
        Quantity::PercentWater => Some(Unit::Percent),
        Quantity::MolSalt | Quantity::MolWater => Some(Unit::Mole),
        Quantity::Ratio => Some(Unit::One),
        Quantity::Formula => None,
    }
}

/// Why a cell was not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bad {
    pub(super) code: &'static str,
    pub(super) message: String,
}

impl Bad {
    #[cold]
    pub(super) fn new(code: &'static str, message: String) -> Bad {
        Bad { code, message }
    }

    #[cold]
    fn number(error: &crate::number::Error) -> Bad {
        let message = match error.help() {
            Some(help) => format!("{error}; {help}"),
            None => format!("{error}"),
        };
        let code = match error.kind() {
            ErrorKind::OtherUnit => "bad_unit",
            _ => "bad_number",
        };
        Bad::new(code, message)
    }
}

/// The cell without the blanks around it; `None` where it is blank or only dashes.
#[inline]
pub(super) fn present(cell: &str) -> Option<&str> {
    match cell.as_bytes() {
        // Most cells; nothing of these is a blank or a dash.
        [first, .., last] if first.is_ascii_alphanumeric() && last.is_ascii_alphanumeric() => {
            Some(cell)
        }
        [] => None,
        _ => between_blanks(cell),
    }
}

fn between_blanks(cell: &str) -> Option<&str> {
    let cell = cell.trim_matches(is_space);
    let dash = |c| is_space(c) || is_minus(c) || matches!(c, '\u{2014}' | '\u{2015}');
    (!cell.chars().all(dash)).then_some(cell)
}

/// What a cell answers that asks for yes or no; `None` where it is neither.
pub(super) fn yes_or_no(cell: &str) -> Option<bool> {
    let is = |word: &&str| cell.eq_ignore_ascii_case(word);
    if ["yes", "true", "x", "1"].iter().any(is) {
        return Some(true);
    }
    ["no", "false", "0"].iter().any(is).then_some(false)
}

/// Whether a cell where a value should be says that there is none. (`none` may be a nought, and
/// `NA` is the way some write sodium.)
#[inline]
pub(super) fn says_missing(cell: &str) -> bool {
    !cell.as_bytes().first().is_some_and(u8::is_ascii_digit) && among_missing(cell)
}

fn among_missing(cell: &str) -> bool {
    let missing = ["n/a", "n.a.", "#n/a", "absent"];
    missing.iter().any(|word| cell.eq_ignore_ascii_case(word))
}

/// A number, in the unit of its column.
#[inline(always)]
pub(super) fn number(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Bad> {
    Reading::read_in(unit, cell, mark).or_else(|_| otherwise(cell, unit, mark))
}

/// A cell that is not simply a number with its unit.
#[cold]
fn otherwise(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Bad> {
    let cell = flat(cell);
    if unit == Unit::One {
        let value = without_name(&cell);
        return match value.split_once(COLONS) {
            Some((left, right)) => pair(&cell, left.trim(), right.trim(), mark),
            None => Reading::read_in(unit, value, mark).map_err(|error| Bad::number(&error)),
        };
    }
    Reading::read_in(unit, &cell, mark).map_err(|error| Bad::number(&error))
}

const COLONS: [char; 3] = [':', '\u{2236}', '\u{FF1A}'];
/// Signs for "is about".
const ABOUT: [char; 4] = ['~', '\u{2248}', '\u{223C}', '\u{2243}'];

/// What stands behind `x =`, `n =`, or a sign for "about".
fn without_name(cell: &str) -> &str {
    let named = cell.strip_prefix(['x', 'X', 'n']).map(str::trim_start);
    let behind = match named {
        Some(rest) => rest.strip_prefix('=').or_else(|| rest.strip_prefix(ABOUT)),
        None => cell.strip_prefix(ABOUT),
    };
    behind.map_or(cell, str::trim_start)
}

/// `1 : x` is x.
fn pair(cell: &str, left: &str, right: &str, mark: DecimalMark) -> Result<Reading, Bad> {
    let one = |side| Reading::read(side, mark).is_ok_and(|side| side.value() == Ratio::ONE);
    let number = right.chars().any(|c| crate::text::digit(c).is_some()) && !right.contains(COLONS);
    if one(left) && number {
        return Reading::read_in(Unit::One, right, mark).map_err(|error| Bad::number(&error));
    }
    let shown = shown(cell);
    if one(right) && Reading::read(left, mark).is_ok() {
        return Err(Bad::new(
            "ambiguous_ratio",
            format!(
                "`{shown}` may mean {left} mol of water to 1 mol of salt, or {left} mol of salt to \
                 1 mol of water; write the water to one mole of salt, as `{left}` or `1 : {left}`"
            ),
        ));
    }
    Err(Bad::new(
        "bad_ratio",
        format!("`{shown}` is no ratio to one mole of salt; write `6.99` or `1 : 6.99`"),
    ))
}
