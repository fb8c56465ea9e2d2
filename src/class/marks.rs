//! Numbers of marks, in whole and half marks.

#[cfg(feature = "serde")]
use alloc::format;
use core::fmt;
use core::iter::Sum;
use core::ops::{Add, Sub};

use crate::number::Ratio;
#[cfg(feature = "serde")]
use crate::text::{Detail, shorten};

/// A number of marks, exact to half a mark. A difference of marks may be negative.
///
/// ```
/// use effloresce::class::Marks;
/// let marks = Marks::from(6) + Marks::from_halves(1);
/// assert_eq!(marks.to_string(), "6.5");
/// assert_eq!(Marks::from(6).to_string(), "6");
/// assert_eq!(Marks::from(6), 6);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Marks {
    halves: i64,
}

impl Marks {
    /// No marks.
    pub const ZERO: Marks = Marks { halves: 0 };

    /// Returns this number of half marks.
    #[must_use]
    pub const fn from_halves(halves: i64) -> Self {
        Marks { halves }
    }

    /// Returns the number of half marks.
    #[must_use]
    pub const fn halves(self) -> i64 {
        self.halves
    }

    /// Returns the marks as an exact number.
    #[must_use]
    pub fn value(self) -> Ratio {
        Ratio::new(self.halves.into(), 2).unwrap_or_default()
    }

    /// Returns the marks in per cent of the most.
    pub(crate) fn percent_of(self, most: Marks) -> Option<Ratio> {
        (self.value() * 100).checked_div(&most.value())
    }

    /// Returns the marks that a number is, if it is a whole number of halves.
    pub(crate) fn of_value(value: &Ratio) -> Option<Marks> {
        let halves = value * 2;
        let halves = halves.is_integer().then(|| halves.to_i128()).flatten()?;
        halves.try_into().ok().map(Marks::from_halves)
    }

    /// Returns the marks that plain digits say, with nothing but a half after a decimal point.
    pub(super) fn read(digits: &str) -> Option<Marks> {
        let (whole, half) = match digits.split_once('.') {
            None => (digits, 0),
            Some((whole, rest)) if rest.trim_end_matches('0') == "5" => (whole, 1),
            Some(_) => return None,
        };
        let whole: u32 = whole.parse().ok()?;
        Some(Marks::from(whole) + Marks::from_halves(half))
    }
}

impl From<u32> for Marks {
    fn from(whole: u32) -> Self {
        Marks::from_halves(i64::from(whole) * 2)
    }
}

impl PartialEq<u32> for Marks {
    fn eq(&self, whole: &u32) -> bool {
        *self == Marks::from(*whole)
    }
}

impl Add for Marks {
    type Output = Marks;

    fn add(self, other: Marks) -> Marks {
        Marks::from_halves(self.halves.saturating_add(other.halves))
    }
}

impl Sub for Marks {
    type Output = Marks;

    fn sub(self, other: Marks) -> Marks {
        Marks::from_halves(self.halves.saturating_sub(other.halves))
    }
}

impl Sum for Marks {
    fn sum<I: Iterator<Item = Marks>>(marks: I) -> Marks {
        marks.fold(Marks::ZERO, Add::add)
    }
}

impl fmt::Display for Marks {
    /// Writes whole marks as a whole number, and half marks with one decimal place.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.value().fmt(f)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Marks {
    /// Writes a JSON number, such as 6 or 6.5.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.halves % 2 == 0 {
            serializer.serialize_i64(self.halves / 2)
        } else {
            // A half is exact in binary.
            serializer.serialize_f64(self.halves as f64 / 2.0)
        }
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Marks {
    /// Reads a number that is not negative, such as 6 or 6.5, or its digits as text.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        crate::text::read_setting(
            deserializer,
            "a number of marks, such as 2 or 0.5",
            |digits| {
                Marks::read(digits).ok_or_else(|| {
                    let message = format!("`{}` is not a number of marks", shorten(digits));
                    Detail::new(message).help("write whole or half marks, such as 2 or 0.5")
                })
            },
        )
    }
}
