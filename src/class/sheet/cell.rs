//! What one cell says: nothing, a number with its unit, a ratio, yes or no.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;

use super::problem::ProblemKind;
use crate::formula::vulgar_fraction;
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Error, ErrorKind, Ratio, Reading, Unit};
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

/// Returns whether a cell has the word `absent`, or `fehlt` in German, without a `not` before it.
pub(super) fn says_absent(cell: &str) -> bool {
    let is = |word: &str, of: &[&str]| of.iter().any(|own| word.eq_ignore_ascii_case(own));
    let words = cell.split(|c: char| !c.is_alphanumeric());
    let mut before = "";
    words.filter(|word| !word.is_empty()).any(|word| {
        let is_denied = is(before, &["not", "nicht"]);
        before = word;
        is(word, &["absent", "fehlt"]) && !is_denied
    })
}

/// Words for an answer that a pupil does not have, without apostrophes.
const UNKNOWN: [&str; 14] = [
    "idk",
    "dunno",
    "dont know",
    "i dont know",
    "no idea",
    "unknown",
    "forgot",
    "i forgot",
    "not done",
    "no answer",
    "none",
    "nil",
    "weiß nicht",
    "keine ahnung",
];

/// Returns whether the cell of an answer says that the pupil has none.
pub(super) fn says_unknown(cell: &str) -> bool {
    // Numbers and formulas have digits.
    if cell.bytes().any(|byte| byte.is_ascii_digit()) {
        return false;
    }
    let is_mark = |c: char| matches!(c, '?' | '\u{FF1F}' | '!' | '.' | '\'' | '\u{2019}');
    let words: String = cell.chars().filter(|c| !is_mark(*c)).collect();
    let words = words.trim_matches(is_space);
    let known = |word: &&str| words.eq_ignore_ascii_case(word);
    (words.is_empty() && cell.contains(['?', '\u{FF1F}'])) || UNKNOWN.iter().any(known)
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

/// Reads a number that must be one, and returns what is wrong with it otherwise.
fn strict_number(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Box<ProblemKind>> {
    Reading::read_in(unit, cell, mark)
        .map_err(|error| Box::new(bad_number(cell, unit, mark, error)))
}

fn bad_number(cell: &str, unit: Unit, mark: DecimalMark, error: Error) -> ProblemKind {
    if error.kind() != ErrorKind::OtherUnit {
        return ProblemKind::BadNumber(error);
    }
    let digit = |c: char| match c {
        'O' | 'o' => '0',
        'l' | 'I' => '1',
        _ => c,
    };
    let digits: String = cell.chars().map(digit).collect();
    match Reading::read_in(unit, &digits, mark) {
        Ok(_) => ProblemKind::LetterInNumber(digits),
        Err(_) => ProblemKind::BadNumber(error),
    }
}

/// Reads a cell that is not simply a number with its unit.
#[cold]
fn loose_number(cell: &str, unit: Unit, mark: DecimalMark) -> Result<Reading, Box<ProblemKind>> {
    let cell = one_line(cell);
    let cell = with_point(&cell).unwrap_or(cell);
    if unit == Unit::One {
        let value = without_water(without_name(&cell));
        let sides = value
            .split_once(COLONS)
            .or_else(|| value.split_once(" to "));
        return match sides {
            Some((left, right)) => pair(left.trim(), right.trim(), mark),
            // The water for one mole of salt may be written with its unit.
            None => Reading::read_in(Unit::Mole, value, mark)
                .or_else(|_| strict_number(value, unit, mark)),
        };
    }
    let joined = joined_groups(&cell);
    let cell = joined.as_deref().unwrap_or(&cell);
    let mark = match unit {
        Unit::Percent if has_decimal_comma(cell) => DecimalMark::CommaOrPoint,
        _ => mark,
    };
    strict_number(cell, unit, mark)
}

/// Returns a ratio without the word for what it counts: `7 H2O`, `7 mol of water`.
fn without_water(value: &str) -> &str {
    let words = ["H2O", "H\u{2082}O", "waters", "water"];
    let before = words.iter().find_map(|word| value.strip_suffix(word));
    before.map_or(value, |before| {
        let before = before.trim_end();
        before.strip_suffix(" of").unwrap_or(before)
    })
}

/// Returns a number with a raised decimal point (`6·99`) as it is usually written. Before a power of ten,
/// the same sign multiplies.
fn with_point(cell: &str) -> Option<String> {
    let (whole, decimals) = cell.split_once(['\u{B7}', '\u{22C5}', '\u{2022}', '\u{2219}'])?;
    let count = decimals.bytes().take_while(u8::is_ascii_digit).count();
    let is_number = whole.ends_with(|c: char| c.is_ascii_digit()) && !whole.contains(['.', ',']);
    let is_power = decimals.get(..count) == Some("10");
    (is_number && count > 0 && !is_power).then(|| format!("{whole}.{decimals}"))
}

/// Returns whether the only comma of a number can only mark its decimals: thousands are groups of three.
fn has_decimal_comma(cell: &str) -> bool {
    let Some((whole, decimals)) = cell.split_once(',') else {
        return false;
    };
    let count = decimals.bytes().take_while(u8::is_ascii_digit).count();
    count != 3 && !whole.contains('.') && !decimals.contains(['.', ','])
}

/// Returns a number whose digits are in groups of three (`2 500 mg`) without the spaces between them. It
/// must have a unit: without one, a space may stand for the decimal mark.
fn joined_groups(cell: &str) -> Option<String> {
    let unit = cell.find(char::is_alphabetic)?;
    let (number, unit) = cell.split_at(unit);
    let mut groups = number.trim_end().split(' ');
    let first = groups.next()?;
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    let mut joined = String::from(first);
    let mut last = first;
    for group in groups {
        let whole = group.split(['.', ',']).next()?;
        if !digits(last) || last.len() > 3 || whole.len() != 3 || !digits(whole) {
            return None;
        }
        joined.push_str(group);
        last = group;
    }
    let is_grouped = last.len() < joined.len() && (1..=3).contains(&first.len());
    is_grouped.then(|| joined + unit)
}

/// Reads a mole ratio of whole numbers, as numerator and denominator: `½`, `8/3`, `2 2/3`, `3 : 8` or
/// `1 : ½`. Between two whole numbers, the larger is the numerator: there is more water than salt in nearly
/// all hydrates.
#[cold]
pub(super) fn whole_ratio(cell: &str) -> Option<(Reading, u16)> {
    let cell = one_line(cell);
    let value = without_name(&cell);
    let (above, below) = match value.split_once(COLONS) {
        None => fraction(value)?,
        Some((left, right)) => match (fraction(left.trim())?, fraction(right.trim())?) {
            ((1, 1), other) | (other, (1, 1)) => other,
            ((left, 1), (right, 1)) => (left.max(right), left.min(right)),
            _ => return None,
        },
    };
    Some((Reading::from_units(above.into(), 0)?, below))
}

/// Reads a whole number or a fraction of small whole numbers, as numerator and denominator.
fn fraction(text: &str) -> Option<(u16, u16)> {
    let whole = |text: &str| -> Option<u16> {
        let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        text.parse().ok().filter(|n| digits && *n < 1000)
    };
    let last = text.chars().next_back()?;
    let (before, (above, below)) = match vulgar_fraction(last) {
        Some((above, below)) => {
            let before = text.get(..text.len() - last.len_utf8())?;
            (before, (above.try_into().ok()?, below.try_into().ok()?))
        }
        None => {
            let (left, below) = text.split_once(['/', '\u{2044}']).unwrap_or((text, "1"));
            let left = left.trim_end();
            let (before, above) = left.rsplit_once(' ').unwrap_or(("", left));
            (before, (whole(above)?, whole(below.trim_start())?))
        }
    };
    let before = before.trim_end();
    let units = if before.is_empty() { 0 } else { whole(before)? };
    let above = units.checked_mul(below)?.checked_add(above)?;
    let is_proper = before.is_empty() || above - units * below < below;
    (above > 0 && below > 0 && is_proper).then_some((above, below))
}

/// Reads an answer: a number, also with a sign for "about" or with an uncertainty (`6.99 ± 0.02`).
pub(super) fn answer(
    cell: &str,
    unit: Unit,
    mark: DecimalMark,
) -> Result<Reading, Box<ProblemKind>> {
    number(cell, unit, mark).or_else(|problem| loose_answer(cell, unit, mark).ok_or(problem))
}

#[cold]
fn loose_answer(cell: &str, unit: Unit, mark: DecimalMark) -> Option<Reading> {
    let cell = one_line(cell);
    let cell = without_rounding(cell.trim_start_matches(ABOUT).trim_start());
    let signs = ["\u{B1}", "+/-", "+-"];
    let split = signs.iter().find_map(|sign| cell.split_once(sign));
    let Some((value, uncertainty)) = split else {
        let kilograms = kilograms(cell, mark).filter(|_| unit == Unit::Gram);
        return kilograms.or_else(|| number(cell, unit, mark).ok());
    };
    let value = value.trim_end();
    number(uncertainty.trim_start(), unit, mark).ok()?;
    let after = uncertainty.rfind(|c| digit(c).is_some())?;
    // A unit after the uncertainty is that of the value, too.
    let own_unit = value.ends_with(|c| digit(c).is_none());
    let unit_after = uncertainty.get(after..).filter(|_| !own_unit);
    let unit_after = unit_after.and_then(|rest| rest.get(rest.chars().next()?.len_utf8()..));
    let value = format!("{value}{}", unit_after.unwrap_or_default());
    number(&value, unit, mark).ok()
}

/// Returns a value without the number of digits that it was rounded to: `51.1 (3 s.f.)`.
fn without_rounding(cell: &str) -> &str {
    let bracket = cell
        .strip_suffix(')')
        .and_then(|cell| cell.rsplit_once('('));
    let Some((value, rounding)) = bracket else {
        return cell;
    };
    let letters: String = rounding.chars().filter(|c| c.is_alphabetic()).collect();
    match ["sf", "dp", "sigfig", "sigfigs"].contains(&&*letters.to_lowercase()) {
        true => value.trim_end(),
        false => cell,
    }
}

/// Reads a mass in kilograms, in grams. In a weighing, the unit is a typing error.
fn kilograms(cell: &str, mark: DecimalMark) -> Option<Reading> {
    let kilograms = Reading::read(cell.strip_suffix("kg")?, mark).ok()?;
    let exponent = -kilograms.decimal_places();
    Reading::from_units(kilograms.in_units_of(exponent)?, exponent + 3)
}

/// Returns whether a mole ratio is written as a pair, whose order may be either.
pub(super) fn is_pair(cell: &str) -> bool {
    cell.contains(COLONS) || cell.contains(" to ")
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

/// Reads the pairs `1 : x` and `x : 1` as x.
fn pair(left: &str, right: &str, mark: DecimalMark) -> Result<Reading, Box<ProblemKind>> {
    let one = |side| Reading::read(side, mark).is_ok_and(|side| side.value() == Ratio::ONE);
    let number = right.chars().any(|c| digit(c).is_some()) && !right.contains(COLONS);
    if one(left) && number {
        return strict_number(right, Unit::One, mark);
    }
    let water = Reading::read(left, mark).ok().filter(|_| one(right));
    water.ok_or_else(|| Box::new(ProblemKind::BadRatio))
}
