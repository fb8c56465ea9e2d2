//! An interval of values: the least and the greatest that a calculation can give.

use crate::number::{Ratio, Reading};

/// An interval of values: the least and the greatest that careful work can give for a quantity.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Interval {
    pub(super) low: Ratio,
    pub(super) high: Ratio,
    /// The decimal places that a mass found by subtraction keeps when it is printed.
    pub(super) places: Option<i32>,
}

impl Interval {
    pub(super) fn new(low: Ratio, high: Ratio) -> Interval {
        Interval {
            low,
            high,
            places: None,
        }
    }

    pub(crate) fn point(value: Ratio) -> Interval {
        Interval::new(value.clone(), value)
    }

    /// The values that round to this reading.
    #[cfg(feature = "class")]
    pub(crate) fn about(reading: &Reading) -> Interval {
        let (value, half) = (reading.value(), half_place(reading));
        Interval::new(&value - &half, &value + &half)
    }

    /// The difference of two values that lie anywhere in their intervals.
    pub(crate) fn minus(&self, other: &Interval) -> Interval {
        Interval::new(&self.low - &other.high, &self.high - &other.low)
    }

    /// The quotients of two values that lie anywhere in their intervals; `None` if the divisor may
    /// be zero.
    pub(crate) fn over(&self, divisor: &Interval) -> Option<Interval> {
        if !divisor.low.is_positive() && !divisor.high.is_negative() {
            return None;
        }
        let quotient = |a: &Ratio, b: &Ratio| a.checked_div(b);
        if self.low.is_positive() && divisor.low.is_positive() {
            let (low, high) = (&self.low, &self.high);
            return Some(Interval::new(
                quotient(low, &divisor.high)?,
                quotient(high, &divisor.low)?,
            ));
        }
        let ends = [
            quotient(&self.low, &divisor.low),
            quotient(&self.low, &divisor.high),
            quotient(&self.high, &divisor.low),
            quotient(&self.high, &divisor.high),
        ];
        ends.into_iter()
            .flatten()
            .map(Interval::point)
            .reduce(Interval::join)
    }

    /// The sum of two values that lie anywhere in their intervals.
    pub(crate) fn plus(&self, other: &Interval) -> Interval {
        Interval::new(&self.low + &other.low, &self.high + &other.high)
    }

    /// The products of two values that lie anywhere in their intervals.
    pub(crate) fn times(&self, other: &Interval) -> Interval {
        let product = |a: &Ratio, b: &Ratio| Interval::point(a * b);
        let rest = [
            product(&self.low, &other.high),
            product(&self.high, &other.low),
            product(&self.high, &other.high),
        ];
        rest.into_iter()
            .fold(product(&self.low, &other.low), Interval::join)
    }

    /// The interval with this much more at both ends.
    #[cfg(feature = "exercise")]
    pub(crate) fn widened(&self, by: &Ratio) -> Interval {
        Interval::new(&self.low - by, &self.high + by)
    }

    pub(crate) fn join(self, other: Interval) -> Interval {
        Interval {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            places: self.places,
        }
    }

    /// Whether this interval contains all of another one.
    #[cfg(feature = "class")]
    pub(crate) fn contains(&self, other: &Interval) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// The least value.
    #[must_use]
    pub fn low(&self) -> &Ratio {
        &self.low
    }

    /// The greatest value.
    #[must_use]
    pub fn high(&self) -> &Ratio {
        &self.high
    }

    /// Returns whether some value of the interval rounds to a written number, at the decimal places
    /// of that number and by either tie rule.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Quantity, Weighings};
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
    /// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
    /// let interval = run.defensible().interval(Quantity::Ratio).cloned().unwrap();
    /// assert!(interval.admits(&"6.99".parse()?));
    /// assert!(interval.admits(&"7.0".parse()?));
    /// assert!(!interval.admits(&"6.39".parse()?));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn admits(&self, written: &Reading) -> bool {
        self.reaches(&written.value(), &half_place(written))
    }

    /// Returns whether the interval, rounded to the decimal places of a written number, has an end that
    /// is one unit of its last place away from the number. A written zero has no such end.
    #[cfg(feature = "class")]
    pub(crate) fn is_one_unit_from(&self, written: &Reading) -> bool {
        !self.admits(written) && self.reaches(&written.value(), &(half_place(written) * 3))
    }

    fn reaches(&self, value: &Ratio, half: &Ratio) -> bool {
        // Nearly every small value rounds to zero, so a written zero must be exact.
        let half = if value.is_zero() { &Ratio::ZERO } else { half };
        self.low <= value + half && value - half <= self.high
    }
}

fn half_place(written: &Reading) -> Ratio {
    written.last_place() * Ratio::new(1, 2).unwrap_or_default()
}

/// 100 w/h. There is no intermediate value that could be rounded.
pub(crate) fn percent(water: &Interval, hydrate: &Interval) -> Option<Interval> {
    let hundred = Ratio::from(100);
    Interval::new(&hundred * &water.low, &hundred * &water.high).over(hydrate)
}
