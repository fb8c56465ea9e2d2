//! An interval of values: the least and the greatest that a calculation can give.

use crate::number::{Ratio, Reading};

/// The least and the greatest defensible value of a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
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

    /// What a number with this last place may have been before it was rounded.
    #[cfg(feature = "class")]
    pub(crate) fn about(reading: &Reading) -> Interval {
        let (value, half) = (reading.value(), half_place(reading));
        Interval::new(&value - &half, &value + &half)
    }

    /// The difference of two values that lie anywhere in their intervals.
    pub(crate) fn minus(&self, other: &Interval) -> Interval {
        Interval::new(&self.low - &other.high, &self.high - &other.low)
    }

    /// The quotients of two values that lie anywhere in their intervals; `None` where the divisor may
    /// be nought.
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

    pub(crate) fn join(self, other: Interval) -> Interval {
        Interval {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            places: self.places,
        }
    }

    /// Whether all of another interval lies in this one.
    #[cfg(feature = "class")]
    pub(crate) fn contains(&self, other: &Interval) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// Whether some value lies in both.
    pub(crate) fn overlaps(&self, other: &Interval) -> bool {
        self.low <= other.high && other.low <= self.high
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

    /// Whether some value of the interval rounds to what was written, at the places it was written
    /// to, by either tie rule.
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

    /// The same, and for a number whose final zeros may only hold the place (`50`) also at its last
    /// certain figure, where the readings allow no more figures than that.
    #[cfg(feature = "class")]
    pub(crate) fn admits_with(&self, written: &Reading, allowed: u32) -> bool {
        let figures = written.figures();
        let doubtful = i32::try_from(figures.at_most() - figures.at_least()).unwrap_or(0);
        let zeros_hold_the_place = doubtful > 0 && figures.at_least() >= allowed;
        let half = &half_place(written) * &Ratio::power_of_ten(doubtful);
        self.admits(written) || (zeros_hold_the_place && self.reaches(&written.value(), &half))
    }

    fn reaches(&self, value: &Ratio, half: &Ratio) -> bool {
        // Nought rounds from nearly anything, and says nothing.
        let half = if value.is_zero() { &Ratio::ZERO } else { half };
        self.low <= value + half && value - half <= self.high
    }
}

fn half_place(written: &Reading) -> Ratio {
    &written.last_place() * &Ratio::new(1, 2).unwrap_or_default()
}

/// 100 w/h; nothing is rounded on the way, for there is nothing between.
pub(crate) fn percent(water: &Interval, hydrate: &Interval) -> Option<Interval> {
    let hundred = Ratio::from(100);
    Interval::new(&hundred * &water.low, &hundred * &water.high).over(hydrate)
}
