//! One cell: missing, a number with its unit, a ratio.

use alloc::format;
use alloc::string::String;

use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, ErrorKind, Ratio, Reading, Unit};
use crate::text::{is_minus, is_space};

/// Characters of a cell that a message shows.
const MOST_SHOWN: usize = 60;

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
pub(super) fn present(cell: &str) -> Option<&str> {
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

/// On one line: every run of white space or control characters is one blank.
pub(super) fn flat(cell: &str) -> String {
    let mut out = String::with_capacity(cell.len());
    for word in cell.split(|c: char| is_space(c) || c.is_control()) {
        if !word.is_empty() {
            if !out.is_empty() {
                out.push(' ');
            }
            out.push_str(word);
        }
    }
    out
}

/// On one line, and no longer than a line.
pub(super) fn shown(cell: &str) -> String {
    let mut out = flat(cell);
    if let Some((end, _)) = out.char_indices().nth(MOST_SHOWN) {
        out.truncate(end);
        out.push('…');
    }
    out
}

/// A number, in the unit of its column.
pub(super) fn number(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Bad> {
    let cell = flat(cell);
    if unit == Unit::One {
        if let Some((left, right)) = cell.split_once([':', '\u{2236}', '\u{FF1A}']) {
            return pair(&cell, left, right, mark);
        }
    }
    Reading::read_in(unit, &cell, mark).map_err(|error| Bad::number(&error))
}

/// `1 : x` is x.
fn pair(cell: &str, left: &str, right: &str, mark: DecimalMark) -> Result<Reading, Bad> {
    let one = Reading::read(left, mark).is_ok_and(|left| left.value() == Ratio::ONE);
    let other = right.chars().any(|c| crate::text::digit(c).is_some())
        && !right.contains([':', '\u{2236}', '\u{FF1A}']);
    if !(one && other) {
        return Err(Bad::new(
            "bad_ratio",
            format!(
                "`{}` is no ratio to one mole of salt; write `6.99` or `1 : 6.99`",
                shown(cell)
            ),
        ));
    }
    number(right, Unit::One, mark)
}
