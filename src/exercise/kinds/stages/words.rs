//! A share of a mass in words.

use alloc::format;
use alloc::string::String;

use crate::number::Ratio;

/// Shares with names, in per cent times 60.
const SHARES: [(i128, &str); 9] = [
    (600, "a tenth"),
    (1200, "a fifth"),
    (1500, "a quarter"),
    (2000, "a third"),
    (2400, "two fifths"),
    (3000, "half"),
    (3600, "three fifths"),
    (4000, "two thirds"),
    (4500, "three quarters"),
];

/// The words for a share in per cent that none of the others fits, by at least one per cent: `more than a quarter but
/// less than a third`.
pub(super) fn in_words(share: &Ratio, others: &[Ratio]) -> Option<String> {
    let percent = |sixtieths: i128| Ratio::new(sixtieths, 60).unwrap_or_default();
    let mut below = SHARES
        .iter()
        .rev()
        .map(|(size, name)| (percent(*size), name));
    let mut above = SHARES.iter().map(|(size, name)| (percent(*size), name));
    let low = below.find(|(size, _)| size + Ratio::ONE <= *share);
    let high = above.find(|(size, _)| share + Ratio::ONE <= *size);
    let fits = |other: &Ratio| {
        let above = low
            .as_ref()
            .is_none_or(|(low, _)| low - Ratio::ONE <= *other);
        let below = high
            .as_ref()
            .is_none_or(|(high, _)| *other <= high + Ratio::ONE);
        above && below
    };
    if others.iter().any(fits) {
        return None;
    }
    match (&low, &high) {
        (Some((_, low)), Some((_, high))) => Some(format!("more than {low} but less than {high}")),
        (Some((_, low)), None) => Some(format!("more than {low}")),
        (None, Some((_, high))) => Some(format!("less than {high}")),
        (None, None) => None,
    }
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;

    #[test]
    fn shares_in_words_fit_one_value_only() {
        let words = |share: i128, others: &[i128]| {
            let others: Vec<Ratio> = others.iter().map(|other| Ratio::from(*other)).collect();
            in_words(&Ratio::from(share), &others)
        };
        let between = "more than a quarter but less than a third";
        assert_eq!(words(30, &[40, 50]).as_deref(), Some(between));
        assert_eq!(words(8, &[40]).as_deref(), Some("less than a tenth"));
        assert_eq!(
            words(90, &[40]).as_deref(),
            Some("more than three quarters")
        );
        // 27 % fits the words for 30 %, and 34 % nearly does.
        assert_eq!(words(30, &[27]), None);
        assert_eq!(words(30, &[34]), None);
        // 33 % is too near to a third.
        assert_eq!(
            words(33, &[50]).as_deref(),
            Some("more than a quarter but less than two fifths")
        );
    }
}
