//! Exact fractions: the laws of a field and of its order, on both sides of what fits an `i128`.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use effloresce::Ratio;
use proptest::prelude::*;

use crate::strategies::{ratio, ratio_of};

fn hash(value: &Ratio) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

/// Equal in every way there is to tell.
fn same(a: &Ratio, b: &Ratio) -> Result<(), TestCaseError> {
    prop_assert_eq!(a, b);
    prop_assert_eq!(hash(a), hash(b));
    prop_assert_eq!(a.cmp(b), std::cmp::Ordering::Equal);
    prop_assert_eq!(a.to_string(), b.to_string());
    prop_assert_eq!(a.to_parts(), b.to_parts());
    Ok(())
}

/// Whether a text has no more digits than a reading keeps.
fn is_short(text: &str) -> bool {
    text.split('/')
        .all(|part| part.chars().filter(char::is_ascii_digit).count() <= 28)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn sums_and_products_commute(a in ratio(), b in ratio()) {
        same(&(&a + &b), &(&b + &a))?;
        same(&(&a * &b), &(&b * &a))?;
    }

    #[test]
    fn sums_and_products_associate(a in ratio(), b in ratio(), c in ratio()) {
        same(&(&(&a + &b) + &c), &(&a + &(&b + &c)))?;
        same(&(&(&a * &b) * &c), &(&a * &(&b * &c)))?;
    }

    #[test]
    fn products_distribute(a in ratio(), b in ratio(), c in ratio()) {
        same(&(&a * &(&b + &c)), &(&(&a * &b) + &(&a * &c)))?;
    }

    #[test]
    fn what_is_done_can_be_undone(a in ratio(), b in ratio()) {
        same(&(&(&a + &b) - &b), &a)?;
        same(&(&a - &a), &Ratio::ZERO)?;
        same(&-&-&a, &a)?;
        same(&(&a + &-&b), &(&a - &b))?;
        same(&(&a + &Ratio::ZERO), &a)?;
        same(&(&a * &Ratio::ONE), &a)?;
        same(&(&a * &Ratio::ZERO), &Ratio::ZERO)?;
        match a.checked_div(&b) {
            Some(quotient) => same(&(&quotient * &b), &a)?,
            None => prop_assert!(b.is_zero()),
        }
        if !b.is_zero() {
            same(&(&a * &b).checked_div(&b).unwrap(), &a)?;
        }
    }

    /// By whole numbers alone, where they cannot overflow.
    #[test]
    fn agrees_with_whole_numbers(
        a in -(1_i128 << 40)..1 << 40, b in 1_i128..1 << 20,
        c in -(1_i128 << 40)..1 << 40, d in 1_i128..1 << 20,
    ) {
        let (x, y) = (ratio_of(a, b), ratio_of(c, d));
        same(&(&x + &y), &ratio_of(a * d + c * b, b * d))?;
        same(&(&x - &y), &ratio_of(a * d - c * b, b * d))?;
        same(&(&x * &y), &ratio_of(a * c, b * d))?;
        if c != 0 {
            same(&x.checked_div(&y).unwrap(), &ratio_of(a * d, b * c))?;
        }
        prop_assert_eq!(x.cmp(&y), (a * d).cmp(&(c * b)));
        prop_assert_eq!(x.floor().to_i128(), Some(a.div_euclid(b)));
    }

    #[test]
    fn the_order_is_that_of_differences(a in ratio(), b in ratio(), c in ratio()) {
        let difference = &a - &b;
        prop_assert_eq!(a < b, difference.is_negative());
        prop_assert_eq!(a > b, difference.is_positive());
        prop_assert_eq!(a == b, difference.is_zero());
        prop_assert_eq!(a.cmp(&b), b.cmp(&a).reverse());
        prop_assert_eq!(a.cmp(&b), (&a + &c).cmp(&(&b + &c)));
        if c.is_positive() {
            prop_assert_eq!(a.cmp(&b), (&a * &c).cmp(&(&b * &c)));
        }
        if a <= b && b <= c {
            prop_assert!(a <= c);
        }
        prop_assert_eq!(a.abs(), if a.is_negative() { -&a } else { a.clone() });
    }

    #[test]
    fn floor_and_ceil_are_the_whole_numbers_about(a in ratio()) {
        let (floor, ceil) = (a.floor(), a.ceil());
        prop_assert!(floor.is_integer() && ceil.is_integer());
        prop_assert!(floor <= a && a <= ceil);
        prop_assert!(a < &floor + &Ratio::ONE);
        prop_assert!(&ceil - &Ratio::ONE < a);
        prop_assert_eq!(floor == ceil, a.is_integer());
        same(&-&(-&a).floor(), &ceil)?;
    }

    /// Text is exact: it reads back, or is refused for its length, never changed.
    #[test]
    fn text_reads_back(a in ratio()) {
        let text = a.to_string();
        match text.parse::<Ratio>() {
            Ok(again) => same(&again, &a)?,
            Err(error) => {
                prop_assert!(!is_short(&text), "{}", text);
                prop_assert_eq!(error.code(), "out_of_range", "{}", text);
            }
        }
        prop_assert!(!text.contains(['e', 'E', ' ']));
    }

    #[test]
    fn small_fractions_always_read_back(
        n in -1_000_000_000_000_i128..1_000_000_000_000, d in 1_i128..1_000_000_000,
    ) {
        let a = ratio_of(n, d);
        same(&a.to_string().parse().unwrap(), &a)?;
    }

    /// The nearest decimal of 28 digits is that near.
    #[test]
    fn decimals_are_near(a in ratio()) {
        let plain = a.to_plain();
        prop_assert!(plain.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '.')));
        if plain.len() <= 128 {
            let again: Ratio = plain.parse().unwrap();
            prop_assert_eq!(again.to_plain(), plain);
        }
        if let Some(decimal) = a.to_decimal() {
            let off = (&Ratio::from(decimal) - &a).abs();
            let last = ratio_of(1, 10_i128.pow(27));
            prop_assert!(off <= &a.abs() * &last || off <= ratio_of(1, 2 * 10_i128.pow(28)));
        } else {
            prop_assert!(a.abs() >= Ratio::from(10_i128.pow(28)));
        }
        let float = a.to_f64();
        prop_assert_eq!(float < 0.0, a.is_negative());
        prop_assert!(float.is_finite());
    }
}
