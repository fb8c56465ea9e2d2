//! The numbers of atoms in a formula, and those that wrong steps give.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::number::{Ratio, TieRule};

/// A larger number of atoms in a wrong formula is silly.
const MOST_ATOMS: i64 = 60;
/// Ratios are multiplied by at most this to make whole numbers of them.
const MOST_TIMES: i64 = 6;

/// The formula of these numbers of parts, in their order. Water comes after a dot, and a part that is not there is
/// left out.
pub(super) fn text(parts: &[&str], counts: &[i64]) -> String {
    let mut text = String::new();
    for (part, count) in parts.iter().zip(counts) {
        let count_text = match count {
            1 => String::new(),
            count => count.to_string(),
        };
        match *part {
            _ if *count == 0 => {}
            "H2O" => text.push_str(&format!("·{count_text}H2O")),
            part => text.push_str(&format!("{part}{count_text}")),
        }
    }
    text
}

/// The whole numbers that somebody makes of amounts: over the smallest, then times a number from 1 to 6. If no
/// number makes them nearly whole, they are rounded. `None` if they are silly.
pub(super) fn whole(amounts: &[Ratio]) -> Option<Vec<i64>> {
    let ratios = over_smallest(amounts)?;
    let times = (1..=MOST_TIMES).find(|times| {
        let distances = ratios
            .iter()
            .map(|ratio| distance(&(ratio * Ratio::from(*times))));
        distances
            .into_iter()
            .all(|distance| distance * 8 < Ratio::ONE)
    });
    rounded(&ratios, times.unwrap_or(1))
}

/// The amounts over the smallest, rounded to whole numbers at once.
pub(super) fn rounded_at_once(amounts: &[Ratio]) -> Option<Vec<i64>> {
    rounded(&over_smallest(amounts)?, 1)
}

fn over_smallest(amounts: &[Ratio]) -> Option<Vec<Ratio>> {
    let smallest = amounts.iter().filter(|amount| amount.is_positive()).min()?;
    amounts
        .iter()
        .map(|amount| amount.checked_div(smallest))
        .collect()
}

fn distance(ratio: &Ratio) -> Ratio {
    (ratio - ratio.to_places(0, TieRule::Even).value()).abs()
}

fn rounded(ratios: &[Ratio], times: i64) -> Option<Vec<i64>> {
    let whole = ratios.iter().map(|ratio| {
        let count = (ratio * Ratio::from(times))
            .to_places(0, TieRule::Even)
            .value();
        let count = count.to_i128().and_then(|count| i64::try_from(count).ok());
        count.filter(|count| (0..=MOST_ATOMS).contains(count))
    });
    whole.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_by_hand() {
        assert_eq!(text(&["C", "H", "O"], &[6, 12, 6]), "C6H12O6");
        assert_eq!(text(&["C", "H", "O"], &[1, 2, 0]), "CH2");
        assert_eq!(text(&["MgSO4", "H2O"], &[1, 7]), "MgSO4·7H2O");
        assert_eq!(text(&["MgSO4", "H2O"], &[1, 1]), "MgSO4·H2O");
    }

    #[test]
    fn whole_numbers_by_hand() {
        let ratios = |texts: &[&str]| -> Vec<Ratio> {
            texts.iter().map(|text| text.parse().unwrap()).collect()
        };
        assert_eq!(whole(&ratios(&["2", "3.01"])), Some([2, 3].into()));
        assert_eq!(
            rounded_at_once(&ratios(&["2", "3.01"])),
            Some([1, 2].into())
        );
        // 1.43 is not near a multiple of a half, a third, …, a sixth.
        assert_eq!(whole(&ratios(&["1", "1.43", "70"])), None);
        assert_eq!(whole(&ratios(&["0", "1", "1.33"])), Some([0, 3, 4].into()));
    }
}
