//! Sums, differences and products of fractions by value, by reference and with whole numbers, and
//! their comparison with whole numbers.

use core::cmp::Ordering;
use core::iter::{Product, Sum};
use core::ops::{Add, AddAssign, Mul, MulAssign, Sub, SubAssign};

use super::ratio::Ratio;

/// Every operator goes back to that of two references.
macro_rules! operator {
    ($operator:ident $method:ident, $assign:ident $assign_method:ident) => {
        impl $operator<Ratio> for Ratio {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $operator::$method(&self, &other)
            }
        }
        impl $operator<&Ratio> for Ratio {
            type Output = Ratio;
            fn $method(self, other: &Ratio) -> Ratio {
                $operator::$method(&self, other)
            }
        }
        impl $operator<Ratio> for &Ratio {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $operator::$method(self, &other)
            }
        }
        // One implementation for all whole numbers, so that the type of `&x * 2` is known.
        impl<N: Into<i128>> $operator<N> for Ratio {
            type Output = Ratio;
            fn $method(self, whole: N) -> Ratio {
                $operator::$method(&self, &Ratio::from(whole.into()))
            }
        }
        impl<N: Into<i128>> $operator<N> for &Ratio {
            type Output = Ratio;
            fn $method(self, whole: N) -> Ratio {
                $operator::$method(self, &Ratio::from(whole.into()))
            }
        }
        impl $assign<Ratio> for Ratio {
            fn $assign_method(&mut self, other: Ratio) {
                *self = $operator::$method(&*self, &other);
            }
        }
        impl $assign<&Ratio> for Ratio {
            fn $assign_method(&mut self, other: &Ratio) {
                *self = $operator::$method(&*self, other);
            }
        }
        impl<N: Into<i128>> $assign<N> for Ratio {
            fn $assign_method(&mut self, whole: N) {
                *self = $operator::$method(&*self, &Ratio::from(whole.into()));
            }
        }
        // Only one type may come first. Then the type of the literal in `1 - &x` is known, and so is
        // that of the difference.
        impl $operator<Ratio> for i64 {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $operator::$method(&Ratio::from(self), &other)
            }
        }
        impl $operator<&Ratio> for i64 {
            type Output = Ratio;
            fn $method(self, other: &Ratio) -> Ratio {
                $operator::$method(&Ratio::from(self), other)
            }
        }
    };
}

operator!(Add add, AddAssign add_assign);
operator!(Sub sub, SubAssign sub_assign);
operator!(Mul mul, MulAssign mul_assign);

impl Sum for Ratio {
    fn sum<I: Iterator<Item = Ratio>>(terms: I) -> Ratio {
        terms.fold(Ratio::ZERO, |sum, term| sum + term)
    }
}

impl<'a> Sum<&'a Ratio> for Ratio {
    fn sum<I: Iterator<Item = &'a Ratio>>(terms: I) -> Ratio {
        terms.fold(Ratio::ZERO, |sum, term| sum + term)
    }
}

impl Product for Ratio {
    fn product<I: Iterator<Item = Ratio>>(factors: I) -> Ratio {
        factors.fold(Ratio::ONE, |product, factor| product * factor)
    }
}

impl<'a> Product<&'a Ratio> for Ratio {
    fn product<I: Iterator<Item = &'a Ratio>>(factors: I) -> Ratio {
        factors.fold(Ratio::ONE, |product, factor| product * factor)
    }
}

/// A reference is compared, because `ratio == text.parse()?` would have two meanings if the value
/// itself could be compared with other types.
macro_rules! compare_with {
    ($($whole:ty)+) => {
        $(
            impl PartialEq<$whole> for &Ratio {
                fn eq(&self, whole: &$whole) -> bool {
                    **self == Ratio::from(*whole)
                }
            }
            impl PartialOrd<$whole> for &Ratio {
                fn partial_cmp(&self, whole: &$whole) -> Option<Ordering> {
                    (**self).partial_cmp(&Ratio::from(*whole))
                }
            }
        )+
    };
}
compare_with!(i32 u32 i64 u64 i128);

#[cfg(test)]
mod tests {
    use alloc::string::{String, ToString};
    use alloc::vec::Vec;

    use super::*;
    use crate::number::Error;

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    #[test]
    fn by_value_by_reference_and_with_whole_numbers() {
        let (a, b) = (ratio("1/2"), ratio("1/3"));
        for sum in [
            &a + &b,
            a.clone() + &b,
            &a + b.clone(),
            a.clone() + b.clone(),
        ] {
            assert_eq!(sum, ratio("5/6"));
        }
        for difference in [
            &a - &b,
            a.clone() - &b,
            &a - b.clone(),
            a.clone() - b.clone(),
        ] {
            assert_eq!(difference, ratio("1/6"));
        }
        for product in [
            &a * &b,
            a.clone() * &b,
            &a * b.clone(),
            a.clone() * b.clone(),
        ] {
            assert_eq!(product, ratio("1/6"));
        }
        assert_eq!((&a + 2).to_string(), "2.5");
        assert_eq!((a.clone() - 2_u64).to_string(), "-1.5");
        assert_eq!((&a * 3_i64).to_string(), "1.5");
        assert_eq!(2 * &a + 1 - 3_u32, -Ratio::ONE);
        assert_eq!((7 - a).to_string(), "6.5");
        assert_eq!((100 * (1 - &b)).to_string(), "200/3");
        assert_eq!(ratio("2") * u64::MAX, ratio("36893488147419103230"));
        assert_eq!(i64::MAX + ratio("1"), ratio("9223372036854775808"));
    }

    #[test]
    fn in_place() {
        let mut x = ratio("1/2");
        x += 1;
        x += ratio("1/2");
        x *= &ratio("1/3");
        x -= 2_u64;
        x *= 3;
        x -= &ratio("1");
        assert_eq!(x, ratio("-5"));
    }

    #[test]
    fn of_many() {
        let all = [ratio("1/2"), ratio("3"), ratio("-1/3")];
        assert_eq!(all.iter().sum::<Ratio>(), ratio("19/6"));
        assert_eq!(all.iter().product::<Ratio>(), ratio("-1/2"));
        assert_eq!(all.iter().cloned().sum::<Ratio>(), ratio("19/6"));
        assert_eq!(all.into_iter().product::<Ratio>(), ratio("-1/2"));
        let none: [Ratio; 0] = [];
        assert_eq!(none.iter().sum::<Ratio>(), Ratio::ZERO);
        assert_eq!(none.iter().product::<Ratio>(), Ratio::ONE);
    }

    #[test]
    fn with_whole_numbers() {
        let x = &ratio("7/2");
        assert!(x > 3 && x < 4_u64 && x != 3_i64 && x >= 3_i128 && &(x + 1) <= 5_u32);
        assert!(&ratio("3") == 3);
        assert_eq!(&(x * 2), 7);
        let large = &(ratio("1e30") * ratio("1e30"));
        assert!(large > i128::MAX && large != u64::MAX);
    }

    /// What people write already still compiles: the type is known without being named.
    #[test]
    fn comparisons_do_not_need_a_type() -> Result<(), Error> {
        let (x, three) = (ratio("3"), &ratio("3"));
        assert!(x == 3.into() && three == &3.into() && x >= 3.into());
        assert!(x == "3".parse()? && three == &"3".parse()? && x > "5/2".parse()?);
        assert!(three > &Ratio::from(1) && *three > Ratio::ZERO && three >= &x);
        assert_eq!(x, "3".parse()?);
        assert_eq!(three, &3.into());
        assert!([&x, three].iter().all(|value| *value == &3.into()));
        assert!(x == String::from("3").parse()? && Some(&x) > None && x != Default::default());
        assert!(three * &2.into() == 6.into() && three + &"1".parse()? == 4.into());
        let doubled: Vec<i64> = [1_i64].iter().map(|n| n * 2).collect();
        assert_eq!(doubled.iter().sum::<i64>(), 2);
        Ok(())
    }
}
