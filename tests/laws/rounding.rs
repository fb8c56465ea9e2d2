//! Rounding: as near as can be, once, by the tie rule named.

use effloresce::Ratio;
use effloresce::number::{Rounded, TieRule};
use proptest::prelude::*;

use crate::strategies::{ratio, ratio_of, ten_to};

const RULES: [TieRule; 2] = [TieRule::Even, TieRule::AwayFromZero];

/// Values of the size of measurements, half of them exactly between two printable ones.
fn measured() -> impl Strategy<Value = Ratio> {
    prop_oneof![
        (-10_000_000_i128..10_000_000, 0_i32..6)
            .prop_map(|(n, places)| { &ratio_of(2 * n + 1, 2) * &ten_to(-places) }),
        (-10_000_000_i128..10_000_000, 1_i128..5000).prop_map(|(n, d)| ratio_of(n, d)),
    ]
}

fn any_size() -> impl Strategy<Value = Ratio> {
    prop_oneof![3 => measured(), 1 => ratio()]
}

/// What holds of a value rounded to its places.
fn is_nearest(value: &Ratio, rounded: &Rounded, ties: TieRule) -> Result<(), TestCaseError> {
    let unit = ten_to(-rounded.decimal_places());
    let half = &unit * &ratio_of(1, 2);
    let kept = rounded.value();
    let units = kept.checked_div(&unit).unwrap();
    prop_assert!(
        units.is_integer(),
        "{} is no whole number of {}",
        kept,
        unit
    );
    let off = (&kept - value).abs();
    prop_assert!(
        off <= half,
        "{} is more than half a unit from {}",
        kept,
        value
    );
    if off == half {
        match ties {
            TieRule::Even => prop_assert!((&units * &ratio_of(1, 2)).is_integer()),
            TieRule::AwayFromZero => prop_assert!(kept.abs() > value.abs()),
        }
    }
    // Rounded again it stays.
    let again = kept.to_places(rounded.decimal_places(), ties);
    prop_assert_eq!(again.value(), kept.clone());
    prop_assert!(!again.ties_differ());
    prop_assert_eq!(again.to_string(), rounded.to_string());
    // Its text says the same, with its places.
    let text = rounded.to_string();
    let digits = text.trim_start_matches('-');
    prop_assert!(
        digits.chars().all(|c| c.is_ascii_digit() || c == '.'),
        "{}",
        text
    );
    let shown = text
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len() as i32);
    prop_assert_eq!(shown, rounded.decimal_places().max(0), "{}", text);
    if digits.len() <= 28 {
        prop_assert_eq!(text.parse::<Ratio>().unwrap(), kept);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn to_places(value in any_size(), places in -6_i32..12) {
        let [even, away] = RULES.map(|ties| value.to_places(places, ties));
        for (rounded, ties) in [(&even, RULES[0]), (&away, RULES[1])] {
            prop_assert_eq!(rounded.decimal_places(), places);
            is_nearest(&value, rounded, ties)?;
            prop_assert_eq!(rounded.ties_differ(), even.value() != away.value());
            let opposite = (-&value).to_places(places, ties).value();
            prop_assert_eq!(opposite, -&rounded.value(), "both sides of zero alike");
        }
    }

    #[test]
    fn to_figures(value in any_size(), figures in 1_u32..15) {
        let [even, away] = RULES.map(|ties| value.to_figures(figures, ties));
        for (rounded, ties) in [(&even, RULES[0]), (&away, RULES[1])] {
            is_nearest(&value, rounded, ties)?;
            prop_assert_eq!(rounded.ties_differ(), even.value() != away.value());
            // Exactly so many figures: the kept value is a whole number of units of that many digits.
            let kept = rounded.value().abs();
            let units = &kept * &ten_to(rounded.decimal_places());
            if kept.is_zero() {
                prop_assert!(value.is_zero());
                continue;
            }
            prop_assert!(units < ten_to(figures as i32), "{}", rounded);
            prop_assert!(units >= ten_to(figures as i32 - 1), "{}", rounded);
            let again = rounded.value().to_figures(figures, ties);
            prop_assert_eq!(&again.to_string(), &rounded.to_string());
        }
    }

    /// A greater value never rounds to a lesser one.
    #[test]
    fn keeps_the_order(a in measured(), b in measured(), places in -2_i32..5) {
        let (less, more) = if a <= b { (a, b) } else { (b, a) };
        for ties in RULES {
            prop_assert!(less.to_places(places, ties).value() <= more.to_places(places, ties).value());
        }
    }
}
