//! Formulas and names as people write them by hand, if only one salt can be meant.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::same_hydrate::same;
use crate::class::sheet::is_known_hydrate;
use crate::formula::{Formula, vulgar_fraction};
use crate::gravimetry::written_salts;
use crate::number::Ratio;
use crate::text::{is_minus, is_space, subscript_digit};

/// Returns the hydrate that a text means which is not a formula: `MgSO4 7H2O`, `MgSO4:7H2O`,
/// `MgSO4/7H2O`, `MgSO4(7H2O)`, `Mg(SO4)7H2O`, `mgso4.7h2o`, `MgSO4.7H20`, `MgS04.7H2O` or `3CdSO4 8H2O`. Its
/// salt is the one issued or one of the catalogue, without regard to case. `None` if it is none of them, or if
/// two salts have these letters. If the number of waters has two meanings, the right hydrate is meant.
pub(super) fn loose_formula(text: &str, salt: &Formula, right: &Formula) -> Option<Formula> {
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
        let Some(waters) = strip_letters(unit, salt).map(waters) else {
            continue;
        };
        let salt: Formula = salt.parse().ok()?;
        let hydrates = waters.iter().filter_map(|waters| {
            let degree = waters.checked_div(&salts)?;
            salt.with_waters(&degree)
        });
        let hydrates: Vec<Formula> = hydrates.collect();
        let meant = hydrates.iter().find(|hydrate| same(hydrate, right));
        let Some(hydrate) = meant.or(hydrates.first()) else {
            continue;
        };
        match &found {
            Some(other) if !same(other, hydrate) => return None,
            _ => found = Some(hydrate.clone()),
        }
    }
    found
}

/// Returns the only known hydrate that a name means whose metal has no charge: `copper sulfate
/// pentahydrate`.
pub(super) fn loose_name(text: &str) -> Option<Formula> {
    let (metal, rest) = text.trim_matches(is_space).split_once(is_space)?;
    let mut found: Option<Formula> = None;
    for charge in ["I", "II", "III", "IV"] {
        let Ok((hydrate, _)) = Formula::from_name(&format!("{metal}({charge}) {rest}")) else {
            continue;
        };
        if is_known_hydrate(&hydrate) && found.replace(hydrate).is_some() {
            return None;
        }
    }
    found
}

/// Returns what follows the letters of a salt, without regard to case, and whether a bracket ends there that
/// the salt does not have: `Mg(SO4)7H2O`. A zero may stand for the letter O.
fn strip_letters<'t>(text: &'t str, salt: &str) -> Option<(&'t str, bool)> {
    let mut left = text.chars();
    let mut open = 0_usize;
    for wanted in salt.chars() {
        loop {
            let c = left.next()?;
            match c {
                _ if c.eq_ignore_ascii_case(&wanted) => break,
                '0' if wanted == 'O' => break,
                '(' => open += 1,
                ')' => open = open.checked_sub(1)?,
                _ => return None,
            }
        }
    }
    let after = left.as_str();
    let closed = after.trim_start_matches(')');
    (after.len() - closed.len() == open).then_some((closed, open > 0))
}

/// Returns the numbers of waters that may follow a salt. A sign, a space or a bracket must part them from
/// the salt, because the count of the last element may end there.
fn waters((text, after_bracket): (&str, bool)) -> Vec<Ratio> {
    let parts = |c: char| is_minus(c) || " .·•∙⋅*×x:,+_—/\u{2044}".contains(c);
    let after = text.trim_start_matches(parts);
    let signs = text.strip_suffix(after).unwrap_or_default();
    let before = signs.trim_end_matches(' ');
    let with_point = || text.get(before.len() - 1..);
    // A point after another sign may be a decimal point, and most likely is one: `·.5H2O`.
    let [first, second] = match before.strip_suffix('.') {
        Some(others) if !others.trim_matches([' ', '.']).is_empty() => [with_point(), Some(after)],
        Some(others) if !others.is_empty() || text.starts_with(' ') => [Some(after), with_point()],
        _ => [Some(after), None],
    };
    let parted = after_bracket || !signs.is_empty();
    let counts = [first, second].into_iter().flatten();
    let counts = counts.filter_map(|after| count(after, parted));
    counts.filter(Ratio::is_positive).collect()
}

/// Reads so many waters.
fn count(after: &str, parted: bool) -> Option<Ratio> {
    let inner = match after.strip_prefix('(') {
        Some(inner) => inner.strip_suffix(')')?,
        None if parted => after,
        None => return None,
    };
    let count = inner
        .strip_suffix("h2o")
        .or_else(|| inner.strip_suffix("h20"))?;
    let count = count.trim_matches(' ');
    let mut chars = count.chars();
    let vulgar = chars.next().and_then(vulgar_fraction);
    match vulgar.filter(|_| chars.as_str().is_empty()) {
        _ if count.is_empty() => Some(Ratio::ONE),
        Some((above, below)) => Ratio::new(above.into(), below.into()),
        // `1OH2O`: a letter looks like a digit.
        None => count.replace('o', "0").replace('l', "1").parse().ok(),
    }
}
