//! Fractions as a [`Decimal`], which always holds 28 significant figures.

use alloc::string::ToString;
use core::cmp::Ordering;

use rust_decimal::Decimal;

use super::ratio::Ratio;
use super::ties::TieRule;

/// The significant figures that always fit the 96 bits of a [`Decimal`], and its most decimal places.
const MOST_FIGURES: u32 = 28;

/// Returns the decimal nearest to a quotient, ties to even, with the fewest decimal places: 28
/// significant figures and at most 28 decimal places.
///
/// `None` if it has more figures before the point, or if the division does not fit 128 bits.
pub(crate) fn nearest_decimal(above: u128, below: u128) -> Option<Decimal> {
    let (mut quotient, mut rest) = (above.checked_div(below)?, above % below);
    let figures = quotient.checked_ilog10().map_or(0, |log| log + 1);
    let most = MOST_FIGURES.checked_sub(figures)?;
    let mut decimal_places = 0;
    // Long division, by as many figures at once as fit.
    let most_at_once = (u128::MAX / below).ilog10();
    while decimal_places < most && rest > 0 {
        let step = most_at_once.min(most - decimal_places);
        if step == 0 {
            return None;
        }
        let shift = 10_u128.pow(step);
        let shifted = rest * shift;
        let next = shifted / below;
        quotient = quotient * shift + next;
        rest = shifted - next * below;
        decimal_places += step;
    }
    let up = match rest.cmp(&(below - rest)) {
        Ordering::Less => 0,
        Ordering::Equal => quotient % 2,
        Ordering::Greater => 1,
    };
    let rounded = i128::try_from(quotient + up).ok()?;
    let decimal = Decimal::try_from_i128_with_scale(rounded, decimal_places).ok()?;
    Some(decimal.normalize())
}

impl Ratio {
    /// Returns the nearest [`Decimal`]; `None` if the value is too large for one.
    ///
    /// A `Decimal` cuts digits off when it is formatted with a precision. Format the ratio itself.
    ///
    /// ```
    /// # use effloresce::Ratio;
    /// let third: Ratio = "1/3".parse()?;
    /// assert_eq!(third.to_decimal().unwrap().to_string(), "0.3333333333333333333333333333");
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn to_decimal(&self) -> Option<Decimal> {
        if let Some((above, below)) = self.to_parts() {
            if let Some(mut nearest) = nearest_decimal(above.unsigned_abs(), below.unsigned_abs()) {
                nearest.set_sign_negative(above < 0 && !nearest.is_zero());
                return Some(nearest);
            }
        }
        self.decimal_of_digits()
    }

    /// Returns the nearest [`Decimal`] by writing the digits, whatever their number.
    pub(crate) fn decimal_of_digits(&self) -> Option<Decimal> {
        let figures = self.to_figures(MOST_FIGURES, TieRule::Even);
        let text = if figures.decimal_places() > MOST_FIGURES as i32 {
            self.to_places(MOST_FIGURES as i32, TieRule::Even)
                .to_string()
        } else {
            figures.to_string()
        };
        Decimal::from_str_exact(&text).ok().map(|d| d.normalize())
    }
}

impl From<Decimal> for Ratio {
    fn from(value: Decimal) -> Ratio {
        let scale = i32::try_from(value.scale()).unwrap_or(0);
        Ratio::power_of_ten(-scale) * value.mantissa()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    fn assert_nearest(above: i128, below: i128) -> Result<(), TestCaseError> {
        let value = Ratio::new(above, below).unwrap();
        let found = value.to_decimal().unwrap();
        let expected = value.decimal_of_digits().unwrap();
        prop_assert_eq!(found.to_string(), expected.to_string());
        prop_assert_eq!(found.scale(), expected.scale());
        Ok(())
    }

    proptest! {
        #[test]
        fn of_small_parts(above in -1_000_000_i128..1_000_000, below in 1_i128..1_000_000) {
            assert_nearest(above, below)?;
        }

        /// Parts of all sizes, so that the quotient has from none to all of its figures before the point.
        #[test]
        fn of_parts_of_any_size(above in 1_i128.., below in 1_i128.., left in 32_u32..127, right in 0_u32..127) {
            assert_nearest((above >> left).max(1), (below >> right).max(1))?;
        }
    }

    #[test]
    fn half_way_goes_to_the_even_figure() {
        // 28 places and one more, which is a 5.
        let below = 2 * 10_u128.pow(28);
        let nearest = |above| nearest_decimal(above, below).unwrap().to_string();
        assert_eq!(nearest(2 * 10_u128.pow(16) + 1), "0.000000000001");
        assert_eq!(
            nearest(2 * 10_u128.pow(16) + 3),
            "0.0000000000010000000000000002"
        );
        assert_eq!(nearest(1), "0");
        // A whole number with the most figures, and a half.
        let most = 10_u128.pow(28) - 2;
        assert_eq!(
            nearest_decimal(2 * most + 1, 2).unwrap().to_string(),
            "9999999999999999999999999998"
        );
        assert_eq!(
            nearest_decimal(2 * most + 3, 2).unwrap().to_string(),
            "10000000000000000000000000000"
        );
    }

    #[test]
    fn what_is_not_held_is_left_to_others() {
        assert_eq!(nearest_decimal(1, 0), None);
        assert_eq!(nearest_decimal(10_u128.pow(28), 1), None);
        assert_eq!(nearest_decimal(1, u128::MAX), None);
        assert_eq!(nearest_decimal(u128::MAX - 1, u128::MAX), None);
    }

    #[test]
    fn of_long_and_of_large_ones() {
        assert_eq!(ratio("1e-30").to_decimal().unwrap().to_string(), "0");
        assert_eq!(ratio("0.5").to_decimal().unwrap().to_string(), "0.5");
        assert!((&ratio("1e29") * &ratio("10")).to_decimal().is_none());
    }
}
