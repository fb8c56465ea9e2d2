//! Exact fractions, their rounding and their printing against `num-rational` over big integers, at every size and
//! most of all about the limits of `u64` and `i128`.

use std::str::FromStr;

use effloresce::number::{Rounded, TieRule};
use effloresce::{Ratio, Reading};
use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{One, Pow, Signed, ToPrimitive, Zero};
use proptest::prelude::*;

/// Numbers near the limits of the machine's integers, and of any length below.
fn part() -> impl Strategy<Value = i128> {
    let limits = [
        i128::from(u32::MAX),
        i128::from(i64::MAX),
        i128::from(u64::MAX),
        i128::MAX / 10_i128.pow(12),
        i128::MAX / 2,
    ];
    prop_oneof![
        2 => -1000_i128..1000,
        2 => (any::<i128>(), 0_u32..127).prop_map(|(number, bits)| number >> bits),
        2 => (prop::sample::select(limits.to_vec()), -20_i128..20, any::<bool>())
            .prop_map(|(limit, by, minus)| if minus { -limit - by } else { limit + by }),
        1 => (0_i128..20).prop_map(|by| i128::MAX - by),
        1 => (0_i128..20).prop_map(|by| i128::MIN + by),
        // What shares many factors with its like.
        1 => (0_u32..20, 0_u32..20, 0_u32..15).prop_map(|(two, three, five)| {
            2_i128.pow(two) * 3_i128.pow(three) * 5_i128.pow(five)
        }),
        1 => (0_u32..39).prop_map(|power| 10_i128.pow(power)),
    ]
}

/// A value and the same in big integers.
#[derive(Debug, Clone)]
struct Both(Ratio, BigRational);

fn one() -> impl Strategy<Value = Both> {
    let below = part().prop_filter("nothing is divided by nought", |d| *d != 0);
    (part(), below).prop_map(|(n, d)| {
        let exact = BigRational::new(n.into(), d.into());
        Both(Ratio::new(n, d).unwrap(), exact)
    })
}

fn any_size() -> impl Strategy<Value = Both> {
    prop_oneof![
        6 => one(),
        1 => (one(), one()).prop_map(|(a, b)| Both(&a.0 * &b.0, a.1 * b.1)),
        1 => (one(), one(), one()).prop_map(|(a, b, c)| Both(&(&a.0 * &b.0) + &c.0, a.1 * b.1 + c.1)),
    ]
}

/// The same value, in the one form that it may have.
fn same(value: &Ratio, exact: &BigRational) -> Result<(), TestCaseError> {
    let parts = exact.numer().to_i128().zip(exact.denom().to_i128());
    let parts = parts.filter(|(n, _)| *n != i128::MIN);
    prop_assert_eq!(value.to_parts(), parts, "{}", exact);
    if parts.is_none() {
        let (n, d) = fraction(value);
        prop_assert_eq!((&n, &d), (exact.numer(), exact.denom()));
    }
    Ok(())
}

/// Numerator and denominator by the text of the value.
fn fraction(value: &Ratio) -> (BigInt, BigInt) {
    let text = value.to_string();
    let read = |digits: &str| BigInt::from_str(digits).unwrap();
    if let Some((above, below)) = text.split_once('/') {
        return (read(above), read(below));
    }
    let places = text.split_once('.').map_or(0, |(_, d)| d.len());
    let units = BigRational::new(read(&text.replace('.', "")), power(places as u32));
    units.into_raw()
}

fn power(exponent: u32) -> BigInt {
    BigInt::from(10).pow(exponent)
}

fn scaled(value: &BigRational, places: i32) -> BigRational {
    let power = BigRational::from(power(places.unsigned_abs()));
    if places < 0 {
        value / power
    } else {
        value * power
    }
}

/// The nearest whole number, by its definition: no whole number is nearer, and of two as near the
/// rule chooses.
fn whole(value: &BigRational, ties: TieRule) -> BigInt {
    let (floor, half) = (value.floor(), BigRational::new(1.into(), 2.into()));
    let above = value - &floor;
    let (low, high) = (floor.to_integer(), value.ceil().to_integer());
    if above < half {
        low
    } else if above > half {
        high
    } else {
        let even = if low.is_even() {
            low.clone()
        } else {
            high.clone()
        };
        let away = if value.is_negative() { low } else { high };
        match ties {
            TieRule::Even => even,
            TieRule::AwayFromZero => away,
        }
    }
}

/// `floor(log10 |value|)` by counting.
fn exponent(value: &BigRational) -> i32 {
    let size = value.abs();
    let mut exponent = 0;
    while scaled(&size, -exponent) >= BigRational::from(power(1)) {
        exponent += 1;
    }
    while scaled(&size, -exponent) < BigRational::one() {
        exponent -= 1;
    }
    exponent
}

const RULES: [TieRule; 2] = [TieRule::Even, TieRule::AwayFromZero];

fn rounds(
    rounded: &Rounded,
    exact: &BigRational,
    places: i32,
    ties: TieRule,
) -> Result<(), TestCaseError> {
    let units = scaled(exact, places);
    let [even, away] = RULES.map(|ties| whole(&units, ties));
    prop_assert_eq!(rounded.decimal_places(), places);
    prop_assert_eq!(rounded.ties_differ(), even != away);
    let kept = if ties == TieRule::Even { even } else { away };
    same(&rounded.value(), &scaled(&BigRational::from(kept), -places))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4096))]

    #[test]
    fn operations(a in any_size(), b in any_size()) {
        let (Both(a, a_big), Both(b, b_big)) = (a, b);
        same(&a, &a_big)?;
        same(&(&a + &b), &(&a_big + &b_big))?;
        same(&(&a - &b), &(&a_big - &b_big))?;
        same(&(&a * &b), &(&a_big * &b_big))?;
        match a.checked_div(&b) {
            Some(quotient) => same(&quotient, &(&a_big / &b_big))?,
            None => prop_assert!(b_big.is_zero()),
        }
        same(&-&a, &-&a_big)?;
        same(&a.abs(), &a_big.abs())?;
        prop_assert_eq!(a.cmp(&b), a_big.cmp(&b_big));
        prop_assert_eq!(a == b, a_big == b_big);
    }

    /// By value, by reference, in place and with whole numbers on both sides.
    #[test]
    fn operators(a in any_size(), b in any_size(), n in part(), m in any::<i64>()) {
        let (Both(a, a_big), Both(b, b_big)) = (a, b);
        let (n_big, m_big) = (BigRational::from(BigInt::from(n)), BigRational::from(BigInt::from(m)));
        for (results, expected) in [
            ([a.clone() + b.clone(), a.clone() + &b, &a + b.clone()], &a_big + &b_big),
            ([a.clone() - b.clone(), a.clone() - &b, &a - b.clone()], &a_big - &b_big),
            ([a.clone() * b.clone(), a.clone() * &b, &a * b.clone()], &a_big * &b_big),
            ([&a + n, a.clone() + n, Ratio::from(n) + &a], &a_big + &n_big),
            ([&a - n, a.clone() - n, -(Ratio::from(n) - &a)], &a_big - &n_big),
            ([&a - m, a.clone() - m, -(m - &a)], &a_big - &m_big),
            ([&a * n, a.clone() * n, Ratio::from(n) * &a], &a_big * &n_big),
            ([&a * m, m * &a, m * a.clone()], &a_big * &m_big),
            ([&a + m, m + a.clone(), a.clone() + m], &a_big + &m_big),
            ([[&a, &b, &a].into_iter().sum(), [a.clone(), b.clone(), a.clone()].into_iter().sum(), &a * 2 + &b],
                &a_big + &b_big + &a_big),
            ([[&a, &b, &a].into_iter().product(), [a.clone(), b.clone(), a.clone()].into_iter().product(), &a * &a * &b],
                &a_big * &b_big * &a_big),
        ] {
            for result in results {
                same(&result, &expected)?;
            }
        }
        let mut x = a.clone();
        x += &b;
        x *= n;
        x -= a.clone();
        x += m;
        x *= &b;
        x -= 7_u32;
        same(&x, &((((&a_big + &b_big) * &n_big - &a_big + &m_big) * &b_big) - BigRational::from(BigInt::from(7))))?;
        prop_assert_eq!(PartialOrd::partial_cmp(&&a, &n), Some(a_big.cmp(&n_big)));
        prop_assert_eq!(PartialOrd::partial_cmp(&&a, &m), Some(a_big.cmp(&m_big)));
        prop_assert_eq!(&a == m, a_big == m_big);
        prop_assert!(&Ratio::from(m) == m && &Ratio::from(n) == n);
    }

    /// A precision rounds the exact value, ties to even, and only the surroundings change with the width.
    #[test]
    fn printed_with_places(a in any_size(), places in 0_usize..45, width in 0_usize..90) {
        let Both(a, exact) = a;
        let units = whole(&scaled(&exact, places as i32), TieRule::Even);
        let mut digits = format!("{:0>1$}", units.abs().to_string(), places + 1);
        if places > 0 {
            digits.insert(digits.len() - places, '.');
        }
        let sign = if units.is_negative() { "-" } else { "" };
        let text = format!("{sign}{digits}");
        prop_assert_eq!(format!("{a:.places$}"), text.clone());
        prop_assert_eq!(format!("{a:width$.places$}"), format!("{text:>width$}"));
        prop_assert_eq!(format!("{a:*^width$.places$}"), format!("{text:*^width$}"));
        let inside = width.saturating_sub(sign.len());
        prop_assert_eq!(format!("{a:0width$.places$}"), format!("{sign}{digits:0>inside$}"));
        let plus = if sign.is_empty() { "+" } else { "-" };
        prop_assert_eq!(format!("{a:+.places$}"), format!("{plus}{digits}"));
        let rounded = a.to_places(places as i32, TieRule::Even);
        prop_assert_eq!(format!("{rounded}"), text);
        if let Ok(reading) = Reading::try_from(&rounded) {
            prop_assert_eq!(reading.value(), rounded.value());
            prop_assert_eq!(reading.decimal_places(), rounded.decimal_places());
            prop_assert!(reading.figures().is_certain());
            prop_assert_eq!(format!("{reading:.places$}"), format!("{rounded}"));
        }
    }

    #[test]
    fn whole_numbers_about(a in any_size()) {
        let Both(a, exact) = a;
        same(&a.floor(), &exact.floor())?;
        same(&a.ceil(), &exact.ceil())?;
        prop_assert_eq!(a.is_integer(), exact.is_integer());
        prop_assert_eq!(a.is_zero(), exact.is_zero());
        prop_assert_eq!(a.is_negative(), exact.is_negative());
        let units = exact.is_integer().then(|| exact.to_integer().to_i128());
        let units = units.flatten().filter(|n| *n != i128::MIN);
        prop_assert_eq!(a.to_i128(), units);
    }

    #[test]
    fn rounding_to_places(a in any_size(), places in -45_i32..45) {
        for ties in RULES {
            rounds(&a.0.to_places(places, ties), &a.1, places, ties)?;
        }
    }

    /// Half-way between two that can be written.
    #[test]
    fn rounding_of_ties(units in part(), more in 1_u32..60, places in -22_i32..22) {
        let half = BigRational::new(BigInt::from(units) * 2 + 1, 2.into());
        let exact = scaled(&half, -places);
        let value = &Ratio::new(units, 1).unwrap() + &Ratio::new(1, 2).unwrap();
        let power = Ratio::from_float(10_f64.powi(places.abs())).unwrap();
        let value = if places < 0 { &value * &power } else { value.checked_div(&power).unwrap() };
        same(&value, &exact)?;
        for ties in RULES {
            let rounded = value.to_places(places, ties);
            rounds(&rounded, &exact, places, ties)?;
            let figures = value.to_figures(more, ties);
            rounds_to_figures(&figures, &exact, more, ties)?;
        }
    }

    #[test]
    fn rounding_to_figures(a in any_size(), figures in 1_u32..45) {
        for ties in RULES {
            rounds_to_figures(&a.0.to_figures(figures, ties), &a.1, figures, ties)?;
        }
    }

    #[test]
    fn text_of_any_size(a in any_size()) {
        let (n, d) = fraction(&a.0);
        prop_assert_eq!(BigRational::new(n, d), a.1.clone());
        let plain = fraction(&a.0.to_figures(28, TieRule::Even).value());
        let shown = a.0.to_plain();
        prop_assert!(!shown.contains('.') || !shown.ends_with(['0', '.']), "{}", shown);
        let places = shown.split_once('.').map_or(0, |(_, d)| d.len()) as u32;
        let read = BigRational::new(shown.replace('.', "").parse().unwrap(), power(places));
        prop_assert_eq!(read, BigRational::new(plain.0, plain.1));
    }
}

fn rounds_to_figures(
    rounded: &Rounded,
    exact: &BigRational,
    figures: u32,
    ties: TieRule,
) -> Result<(), TestCaseError> {
    let figures = figures as i32;
    if exact.is_zero() {
        return rounds(rounded, exact, figures - 1, ties);
    }
    let exponent = exponent(exact);
    let places = figures - 1 - exponent;
    let carried = whole(&scaled(exact, places), ties).abs() == power(figures as u32);
    if !carried {
        return rounds(rounded, exact, places, ties);
    }
    // Of a value that is carried to the next power of ten one place fewer is kept; whether the
    // rules differ was seen before.
    prop_assert_eq!(rounded.decimal_places(), places - 1);
    let [even, away] = RULES.map(|ties| whole(&scaled(exact, places), ties));
    prop_assert_eq!(rounded.ties_differ(), even != away);
    let ten = if exact.is_negative() { -1 } else { 1 };
    let ten = BigRational::from(BigInt::from(ten));
    same(&rounded.value(), &scaled(&ten, exponent + 1))
}
