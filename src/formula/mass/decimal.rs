//! A number of units of 10⁻¹² g/mol as a ratio and as a decimal.

use rust_decimal::Decimal;

use crate::element::WEIGHT_PLACES;
use crate::number::{Ratio, nearest_decimal};

/// A number of units over a denominator.
pub(super) fn ratio(units: u128, denominator: u64) -> Ratio {
    let unit = i128::from(denominator).checked_mul(10_i128.pow(WEIGHT_PLACES));
    let exact = i128::try_from(units).ok().zip(unit);
    exact
        .and_then(|(n, d)| Ratio::new(n, d))
        .unwrap_or_default()
}

/// A number of units over a denominator, as the nearest decimal of 28 digits.
#[cold]
pub(super) fn decimal(units: u128, denominator: u64) -> Decimal {
    let divisor = u128::from(denominator) * 10_u128.pow(WEIGHT_PLACES);
    // 128 bits of units are less than 10²⁷ g/mol, so the long division with this denominator fits.
    nearest_decimal(units, divisor).unwrap_or(Decimal::MAX)
}

/// A whole number of units as the decimal with the fewest places.
#[inline]
pub(super) fn shortest(mut units: u64) -> Decimal {
    let mut places = WEIGHT_PLACES;
    // Weights of natural elements seldom have more than four decimal places.
    if let Some(quotient) = EIGHT_PLACES.divide(units) {
        (units, places) = (quotient, places - EIGHT_PLACES.exponent);
    }
    while let Some(quotient) = ONE_PLACE.divide(units).filter(|_| places > 0) {
        (units, places) = (quotient, places - 1);
    }
    Decimal::from_parts(units as u32, (units >> 32) as u32, 0, false, places)
}

/// A power of ten, prepared for exact division.
struct PowerOfTen {
    exponent: u32,
    /// The inverse of five to the same power, modulo 2⁶⁴.
    inverse_of_five: u64,
    /// The largest quotient of a 64-bit number by this power.
    largest_quotient: u64,
}

const EIGHT_PLACES: PowerOfTen = power(8);
const ONE_PLACE: PowerOfTen = power(1);

impl PowerOfTen {
    /// The quotient of a number, if the division has no remainder.
    ///
    /// The number is multiplied by the inverse of the power of five, and rotated right by the exponent.
    /// If the power of ten divides the number, the result is the quotient. If not, the result is larger
    /// than any quotient.
    #[inline(always)]
    const fn divide(&self, number: u64) -> Option<u64> {
        let quotient = number
            .wrapping_mul(self.inverse_of_five)
            .rotate_right(self.exponent);
        if quotient <= self.largest_quotient {
            Some(quotient)
        } else {
            None
        }
    }
}

const fn power(exponent: u32) -> PowerOfTen {
    let five = 5_u64.pow(exponent);
    let mut inverse = five;
    // An odd number is its own inverse in the last three bits. Each step doubles the correct bits.
    let mut correct_bits = 3;
    while correct_bits < u64::BITS {
        inverse = inverse.wrapping_mul(2_u64.wrapping_sub(five.wrapping_mul(inverse)));
        correct_bits *= 2;
    }
    PowerOfTen {
        exponent,
        inverse_of_five: inverse,
        largest_quotient: u64::MAX / 10_u64.pow(exponent),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_decimal_is_the_nearest() {
        let unit = Ratio::power_of_ten(-(WEIGHT_PLACES as i32));
        let (mut exact, mut compared) = (0, 0);
        let mut units = 1_u128;
        for step in 0..400_u128 {
            units = units * 3 / 2 + 1 + step % 7;
            if units > 1 << 100 {
                units = 1_000_000 + step;
            }
            for denominator in [1, 2, 3, 7, 10, 64, 625, 999, 65_536, 999_999_999] {
                let below = Ratio::from(denominator);
                let above = Ratio::new(i128::try_from(units).unwrap(), 1).unwrap();
                let value = (&above * &unit).checked_div(&below).unwrap();
                assert_eq!(ratio(units, denominator), value);
                let expected = value.decimal_of_digits().unwrap();
                let nearest = decimal(units, denominator);
                assert_eq!(nearest, expected, "{units} over {denominator}");
                assert_eq!(nearest.scale(), expected.scale());
                compared += 1;
                if let (Ok(units), true) =
                    (u64::try_from(units), units % u128::from(denominator) == 0)
                {
                    let shortest = shortest(units / denominator);
                    assert_eq!(shortest, expected, "{units} over {denominator}");
                    assert_eq!(shortest.scale(), expected.scale());
                    exact += 1;
                }
            }
        }
        assert!(compared > 2000 && exact > 300, "{compared} {exact}");
    }

    /// Every number of trailing zeros, and numbers that no power of ten divides.
    #[test]
    fn as_few_places_as_it_takes() {
        for power in 0..=12 {
            for odd in [1_u64, 3, 7, 24_305, 999_999] {
                let Some(units) = odd.checked_mul(10_u64.pow(power)) else {
                    continue;
                };
                let decimal = shortest(units);
                assert_eq!(decimal.scale(), WEIGHT_PLACES - power, "{units}");
                let expected = Decimal::from_i128_with_scale(units.into(), WEIGHT_PLACES);
                assert_eq!(decimal, expected);
            }
        }
        assert_eq!(
            alloc::format!("{}", shortest(u64::MAX)),
            "18446744.073709551615"
        );
        assert_eq!(
            alloc::format!("{}", shortest(18_000_000 * 10_u64.pow(12))),
            "18000000"
        );
    }
}
