//! Numbers as they were written.

use effloresce::number::DecimalMark;
use effloresce::{Decimal, Ratio, Reading};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{ratio_of, ten_to};

/// A number put together from its digits, so that the test knows what it says.
#[derive(Debug, Clone)]
struct Written {
    sign: &'static str,
    above: Vec<u8>,
    /// The digits after the mark, if there is one.
    below: Option<Vec<u8>>,
    exponent: Option<i32>,
}

fn written() -> impl Strategy<Value = Written> {
    (
        select(vec!["", "", "", "-", "+", "\u{2212}"]),
        (vec(0_u8..10, 0..7), 0_usize..3).prop_map(|(mut digits, zeros)| {
            digits.extend(vec![0; zeros]);
            digits
        }),
        // With a mark and nothing after it, the zeros before it are significant.
        prop::option::of(prop_oneof![Just(Vec::new()), vec(0_u8..10, 0..9)]),
        prop::option::weighted(0.2, -9_i32..9),
    )
        .prop_filter("some digit", |(_, above, below, _)| {
            !above.is_empty() || below.as_ref().is_some_and(|below| !below.is_empty())
        })
        .prop_map(|(sign, above, below, exponent)| Written {
            sign,
            above,
            below,
            exponent,
        })
}

impl Written {
    fn text(&self, mark: char, zero: char) -> String {
        let show = |digits: &[u8]| -> String {
            let digit = |d: &u8| char::from_u32(zero as u32 + u32::from(*d)).unwrap();
            digits.iter().map(digit).collect()
        };
        let mut text = format!("{}{}", self.sign, show(&self.above));
        if let Some(below) = &self.below {
            text.push(mark);
            text.push_str(&show(below));
        }
        if let Some(exponent) = self.exponent {
            text.push_str(&format!("e{exponent}"));
        }
        text
    }

    fn digits(&self) -> Vec<u8> {
        let below = self.below.iter().flatten();
        self.above.iter().chain(below).copied().collect()
    }

    fn decimal_places(&self) -> i32 {
        let below = self.below.as_ref().map_or(0, Vec::len) as i32;
        below - self.exponent.unwrap_or(0)
    }
}

fn raised(c: char) -> char {
    match c {
        '-' => '\u{207B}',
        '1' => '\u{B9}',
        '2' | '3' => char::from_u32(0xB0 + c.to_digit(10).unwrap()).unwrap(),
        digit => char::from_u32(0x2070 + digit.to_digit(10).unwrap()).unwrap(),
    }
}

proptest! {
    #[test]
    fn says_what_was_written(written in written()) {
        let reading: Reading = written.text('.', '0').parse().unwrap();
        let digits = written.digits();
        let units = digits.iter().fold(0_i128, |sum, d| 10 * sum + i128::from(*d));
        let units = if matches!(written.sign, "-" | "\u{2212}") { -units } else { units };
        let value = &ratio_of(units, 1) * &ten_to(-written.decimal_places());
        prop_assert_eq!(reading.value(), value);
        prop_assert_eq!(reading.decimal_places(), written.decimal_places());
        prop_assert_eq!(reading.last_place(), ten_to(-written.decimal_places()));
        // Zeros in front hold the place; at the end of a whole number they may.
        let at_most = digits.iter().skip_while(|d| **d == 0).count();
        let zeros = digits.iter().rev().take_while(|d| **d == 0).count();
        let doubtful = match written.below.is_none() && written.exponent.is_none() {
            true if at_most > 0 => zeros,
            _ => 0,
        };
        prop_assert_eq!(reading.figures().at_most() as usize, at_most);
        prop_assert_eq!(reading.figures().at_least() as usize, at_most - doubtful);
        prop_assert_eq!(reading.figures().is_certain(), doubtful == 0);
    }

    #[test]
    fn reads_back(written in written()) {
        let reading: Reading = written.text('.', '0').parse().unwrap();
        let text = reading.to_string();
        let again: Reading = text.parse().unwrap();
        prop_assert_eq!(again, reading, "{}", text);
        prop_assert_eq!(again.figures(), reading.figures());
        prop_assert_eq!(again.to_string(), text);
    }

    #[test]
    fn marks_and_digits_of_other_hands_mean_the_same(written in written(), spaces in 0_usize..3) {
        let plain: Reading = written.text('.', '0').parse().unwrap();
        let wide: Reading = written.text('.', '\u{FF10}').parse().unwrap();
        prop_assert_eq!(wide, plain);
        let spaced = format!("{0}{1}{0}", "\u{A0}".repeat(spaces), written.text(',', '0'));
        prop_assert_eq!(Reading::read(&spaced, DecimalMark::CommaOrPoint).unwrap(), plain);
        // With a point for the mark, a comma is never passed over.
        prop_assert_eq!(spaced.parse::<Reading>().is_err(), written.below.is_some());
    }

    /// A power of ten written by hand is the one that a calculator shows.
    #[test]
    fn powers_of_ten_by_hand_mean_the_same(
        written in written(),
        power in -19_i32..19,
        times in select(vec!["x", " x ", "\u{D7}", "*", " \u{B7} "]),
    ) {
        let mantissa = Written { exponent: None, ..written }.text('.', '0');
        let plain = format!("{mantissa}e{power}").parse::<Reading>();
        let raised: String = power.to_string().chars().map(raised).collect();
        for exponent in [format!("^{power}"), format!("{power:+}"), raised] {
            let by_hand = format!("{mantissa}{times}10{exponent}");
            prop_assert_eq!(by_hand.parse::<Reading>().ok(), plain.clone().ok(), "{}", by_hand);
        }
        // Where the raised digits may have come down, nothing is guessed.
        let flat = format!("{mantissa}{times}10{}", power.unsigned_abs());
        prop_assert!(flat.parse::<Reading>().is_err(), "{}", flat);
    }

    /// `2.50` is not `2.5`, and both are worth the same.
    #[test]
    fn a_final_zero_is_kept(written in written()) {
        let mut written = written;
        written.below.get_or_insert_default();
        let mut longer = written.clone();
        longer.below.get_or_insert_default().push(0);
        let (short, long): (Reading, Reading) =
            (written.text('.', '0').parse().unwrap(), longer.text('.', '0').parse().unwrap());
        prop_assert_ne!(short, long);
        prop_assert_eq!(short.value(), long.value());
        prop_assert_eq!(short.decimal_places() + 1, long.decimal_places());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    /// From its digits, as a text, as a decimal and as a float: the same reading.
    #[test]
    fn of_other_numbers(units in -1_000_000_000_000_i64..1_000_000_000_000, places in 0_u32..12) {
        let decimal = Decimal::new(units, places);
        let read: Reading = decimal.to_string().parse().unwrap();
        prop_assert_eq!(Reading::try_from(decimal).unwrap(), read);
        let decimal_places = places as i32;
        let made = Reading::new(units.into(), decimal_places).unwrap();
        prop_assert_eq!(made.value(), read.value());
        prop_assert_eq!(made.last_place(), read.last_place());
        prop_assert!(made.figures().is_certain());
        prop_assert_eq!(made.to_string().parse::<Reading>().unwrap(), made);
        let float: f64 = decimal.to_string().parse().unwrap();
        prop_assert_eq!(Reading::from_f64(float, decimal_places).unwrap(), made);
    }

    /// No number of any kind panics, and no reading is longer than one.
    #[test]
    fn of_anything(mantissa in any::<i128>(), float in any::<f64>(), places in any::<i32>(), few in -40_i32..40) {
        for places in [places, few] {
            let made = Reading::new(mantissa, places);
            let short = mantissa.unsigned_abs() < 10_u128.pow(28) && (-30..=30).contains(&places);
            prop_assert_eq!(made.is_ok(), short);
            if let Ok(reading) = Reading::from_f64(float, places) {
                let off = (reading.value() - Ratio::from_float(float).unwrap()).abs();
                prop_assert!(off * 2 <= reading.last_place());
                prop_assert_eq!(reading.decimal_places(), places);
            }
        }
    }
}
