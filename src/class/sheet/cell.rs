//! One cell: missing, a number with its unit, a ratio.

use alloc::format;
use alloc::string::String;

use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Ratio, Reading};
use crate::text::{is_minus, is_space};

/// Characters of a cell that a message shows.
const MOST_SHOWN: usize = 60;

/// What a column of numbers measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Mass,
    Percent,
    Amount,
    Ratio,
}

impl Measure {
    /// `None` for the formula, which is no number.
    pub(super) fn of(quantity: Quantity) -> Option<Measure> {
        match quantity {
            Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass => {
                Some(Measure::Mass)
            }
            Quantity::PercentWater => Some(Measure::Percent),
            Quantity::MolSalt | Quantity::MolWater => Some(Measure::Amount),
            Quantity::Ratio => Some(Measure::Ratio),
            Quantity::Formula => None,
        }
    }

    /// The power of ten that turns `unit` into the column's own.
    fn power(self, unit: &str) -> Option<i32> {
        let lower = unit.to_lowercase();
        match (self, lower.as_str()) {
            (Measure::Mass, "g" | "gram" | "grams" | "gramme" | "grammes") => Some(0),
            // Not the lower-cased spelling: Mg is another unit.
            (Measure::Mass, _) if unit == "mg" => Some(-3),
            (Measure::Mass, "milligram" | "milligrams") => Some(-3),
            (Measure::Percent, "%" | "\u{FF05}" | "percent" | "per cent") => Some(0),
            (Measure::Amount, "mol" | "mole" | "moles") => Some(0),
            _ => None,
        }
    }

    fn rule(self) -> &'static str {
        match self {
            Measure::Mass => "write the mass in g or mg",
            Measure::Percent => "write the percentage alone or with %",
            Measure::Amount => "write the amount in mol",
            Measure::Ratio => "a ratio has no unit",
        }
    }
}

/// Why a cell was not read.
#[derive(Debug, PartialEq, Eq)]
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
        Bad::new("bad_number", message)
    }
}

/// The cell without the blanks around it; `None` where it is blank or only dashes.
pub(super) fn present(cell: &str) -> Option<&str> {
    let cell = cell.trim_matches(is_space);
    let dash = |c| is_space(c) || is_minus(c) || matches!(c, '\u{2014}' | '\u{2015}');
    (!cell.chars().all(dash)).then_some(cell)
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
pub(super) fn number(cell: &str, measure: Measure, mark: DecimalMark) -> Result<Reading, Bad> {
    let cell = flat(cell);
    if measure == Measure::Ratio {
        if let Some((left, right)) = cell.split_once([':', '\u{2236}', '\u{FF1A}']) {
            return pair(&cell, left, right, mark);
        }
    }
    let (digits, unit) = split_unit(&cell);
    let power = if unit.is_empty() {
        0
    } else {
        measure.power(unit).ok_or_else(|| {
            Bad::new(
                "bad_unit",
                format!(
                    "`{}` has the unit `{}`; {}",
                    shown(&cell),
                    shown(unit),
                    measure.rule()
                ),
            )
        })?
    };
    let reading = Reading::read(digits, mark).map_err(|error| Bad::number(&error))?;
    scaled(reading, power).ok_or_else(|| {
        Bad::new(
            "bad_number",
            format!("`{}` has more digits than can be kept", shown(&cell)),
        )
    })
}

/// `reading × 10^power`, with the same digits.
fn scaled(reading: Reading, power: i32) -> Option<Reading> {
    if power == 0 {
        return Some(reading);
    }
    let places = reading.places();
    let mantissa = &reading.value() * &Ratio::power_of_ten(places);
    Reading::from_units(mantissa.to_i128()?, power - places)
}

/// `21.352 g` is `21.352` and `g`. Only a letter or a per cent sign starts a unit; a full stop after
/// it is none of it.
fn split_unit(cell: &str) -> (&str, &str) {
    let last = cell
        .char_indices()
        .rev()
        .find(|(_, c)| crate::text::digit(*c).is_some());
    let Some((at, c)) = last else {
        return (cell, "");
    };
    let digits = at + c.len_utf8();
    let mark = cell
        .get(digits..)
        .is_some_and(|rest| rest.starts_with(['.', ',']));
    let (number, unit) = cell.split_at(digits + usize::from(mark));
    let unit = unit.trim_matches(is_space).trim_end_matches('.');
    match unit.chars().next() {
        Some(c) if c.is_alphabetic() || matches!(c, '%' | '\u{FF05}') => (number, unit),
        _ => (cell, ""),
    }
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
    number(right, Measure::Ratio, mark)
}
