//! Formulas as people write them by hand, if only one salt can be meant.

use alloc::string::{String, ToString};

use super::same_hydrate::same;
use crate::formula::Formula;
use crate::gravimetry::written_salts;
use crate::number::Ratio;
use crate::text::{is_minus, is_space, subscript_digit};

/// Returns the hydrate that a text means which is not a formula: `MgSO4 7H2O`, `MgSO4:7H2O`,
/// `MgSO4/7H2O`, `MgSO4(7H2O)`, `mgso4.7h2o`, `MgSO4.7H20` or `3CdSO4 8H2O`. Its salt is the one issued or one of the catalogue,
/// without regard to case. `None` if it is none of them, or if two salts have these letters.
pub(super) fn loose_formula(text: &str, salt: &Formula) -> Option<Formula> {
    let plain = |c: char| match subscript_digit(c) {
        Some(digit) => char::from(b'0' + digit),
        None if is_space(c) => ' ',
        None => c.to_ascii_lowercase(),
    };
    let text: String = text.chars().map(plain).collect();
    let text = text.trim_matches(' ').trim_end_matches('.');
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit());
    let salts = match text.strip_suffix(unit)? {
        "" => Ratio::ONE,
        count => count.parse().ok()?,
    };
    let mut found: Option<Formula> = None;
    let issued = salt.to_string();
    for salt in [issued.as_str()].into_iter().chain(written_salts()) {
        let waters = strip_letters(unit, salt).and_then(waters);
        let Some(degree) = waters.and_then(|waters| waters.checked_div(&salts)) else {
            continue;
        };
        let salt: Formula = salt.parse().ok()?;
        let hydrate = salt.with_waters(&degree)?;
        match &found {
            Some(other) if !same(other, &hydrate) => return None,
            _ => found = Some(hydrate),
        }
    }
    found
}

/// Returns what follows the letters of a salt, without regard to case.
fn strip_letters<'t>(text: &'t str, salt: &str) -> Option<&'t str> {
    let (start, after) = text.split_at_checked(salt.len())?;
    start.eq_ignore_ascii_case(salt).then_some(after)
}

/// Returns the number of waters after a salt. A sign or a space must part it from the salt, because the
/// count of the last element may end there.
fn waters(text: &str) -> Option<Ratio> {
    let parts = |c: char| is_minus(c) || " .·•∙⋅*×x:,+_—/\u{2044}".contains(c);
    let mut after = text.trim_start_matches(parts);
    let before = text.strip_suffix(after)?.trim_end_matches(' ');
    // A point after another sign is a decimal point: `·.5H2O`.
    if before.ends_with('.') && !before.trim_matches([' ', '.']).is_empty() {
        after = text.get(before.len() - 1..)?;
    }
    let inner = match after.strip_prefix('(') {
        Some(inner) => inner.strip_suffix(')')?,
        None if after.len() < text.len() => after,
        None => return None,
    };
    let count = inner
        .strip_suffix("h2o")
        .or_else(|| inner.strip_suffix("h20"))?;
    match count.trim_matches(' ') {
        "" => Some(Ratio::ONE),
        "½" => Ratio::new(1, 2),
        count => count.parse().ok(),
    }
    .filter(Ratio::is_positive)
}
