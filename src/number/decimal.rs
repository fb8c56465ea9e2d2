//! Fractions as decimals of as many figures as a [`Decimal`] always holds.

use core::cmp::Ordering;

use rust_decimal::Decimal;

/// As many figures as always fit 96 bits; more places a [`Decimal`] has not.
pub(super) const MOST_FIGURES: u32 = 28;

/// The decimal nearest to a quotient, with the fewest places, ties to even: of 28 figures and no more
/// than 28 places. `None` where it has more figures before the point, or where 128 bits do not hold
/// what it takes.
#[cold]
pub(crate) fn nearest_decimal(above: u128, below: u128) -> Option<Decimal> {
    let (mut quotient, mut rest) = (above.checked_div(below)?, above % below);
    let figures = quotient.checked_ilog10().map_or(0, |log| log + 1);
    let most = MOST_FIGURES.checked_sub(figures)?;
    let mut places = 0;
    // Long division, by as many figures at once as there is room for.
    let room = (u128::MAX / below).ilog10();
    while places < most && rest > 0 {
        let step = room.min(most - places);
        if step == 0 {
            return None;
        }
        let shift = 10_u128.pow(step);
        let shifted = rest * shift;
        let next = shifted / below;
        quotient = quotient * shift + next;
        rest = shifted - next * below;
        places += step;
    }
    let up = match rest.cmp(&(below - rest)) {
        Ordering::Less => 0,
        Ordering::Equal => quotient % 2,
        Ordering::Greater => 1,
    };
    let rounded = i128::try_from(quotient + up).ok()?;
    let decimal = Decimal::try_from_i128_with_scale(rounded, places).ok()?;
    Some(decimal.normalize())
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use proptest::prelude::*;

    use super::super::Ratio;
    use super::*;

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
}
