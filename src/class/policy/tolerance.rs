//! How far a value may be from the key, and what it earns there.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::mark_step::MarkStep;
use crate::class::Marks;
use crate::number::{Ratio, Reading};
use crate::text::Detail;

/// The most marks for one answer.
pub(super) const MOST_MARKS: u32 = 100;

/// Returns what can be given as marks.
pub(super) fn marks_help() -> String {
    format!("give a whole number from 0 to {MOST_MARKS}, or a half such as 1.5 with `step = 0.5`")
}

/// The most bands in one list.
pub(super) const MOST_BANDS: usize = 20;

/// A width, and the marks that a value earns within it.
///
/// ```
/// use effloresce::class::Band;
/// let band = Band::new("0.5".parse()?, 2);
/// assert_eq!(band.within().to_string(), "0.5");
/// assert_eq!(band.marks(), 2);
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Band {
    within: Reading,
    marks: Marks,
}

impl Band {
    /// Creates a band that gives these marks within this width, edge included. The
    /// [`Policy`](super::Policy) that takes the band checks width and marks.
    #[must_use]
    pub fn new(within: Reading, marks: impl Into<Marks>) -> Self {
        let marks = marks.into();
        Band { within, marks }
    }

    /// Returns the width to either side, in the unit of the quantity or in per cent of it.
    #[must_use]
    pub fn within(&self) -> Reading {
        self.within
    }

    /// Returns the marks.
    #[must_use]
    pub fn marks(&self) -> Marks {
        self.marks
    }
}

/// The distance that a reported value may have from what the bench's own readings give.
///
/// All comparisons are exact, and an edge counts as inside: a tolerance of 0.1 about 6.99 admits
/// 7.09.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Tolerance {
    /// A distance to either side, in the unit of the quantity.
    Absolute(Reading),
    /// A distance to either side, in per cent of the nearer end of what the value is compared with.
    RelativePercent(Reading),
    /// The same nearest whole number. A value half-way between two counts as either. In marking, a mole
    /// ratio near a hydrate with a fraction of water, such as CaSO4·½H2O, needs the same nearest hydrate.
    NearestWhole,
    /// Marks by distance, in the unit of the quantity; ascending, with marks falling.
    Bands(Vec<Band>),
    /// Marks by distance, in per cent of the nearer end; ascending, with marks falling.
    PercentBands(Vec<Band>),
}

impl Tolerance {
    /// Returns the marks that a value earns, out of `most`; `None` if it is outside.
    ///
    /// The value is compared with the range from `low` to `high`. For a bench's own value both ends
    /// are equal. Bands give their own marks, never more than `most`.
    ///
    /// ```
    /// use effloresce::{Ratio, class::Tolerance};
    /// let tolerance = Tolerance::Absolute("0.1".parse()?);
    /// let key: Ratio = "6.99".parse()?;
    /// let most = 2.into();
    /// assert_eq!(tolerance.marks_of(&"7.09".parse()?, &key, &key, most), Some(most));
    /// assert_eq!(tolerance.marks_of(&"7.091".parse()?, &key, &key, most), None);
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn marks_of(&self, value: &Ratio, low: &Ratio, high: &Ratio, most: Marks) -> Option<Marks> {
        let (low, high) = (low.min(high), low.max(high));
        let end = if value < low { low } else { high };
        let distance = if (low..=high).contains(&value) {
            Ratio::ZERO
        } else {
            (value - end).abs()
        };
        let is_within = |width: &Reading| distance <= width.value();
        let is_within_percent = |percent: &Reading| &distance * 100 <= end.abs() * percent.value();
        match self {
            Tolerance::Absolute(width) => is_within(width).then_some(most),
            Tolerance::RelativePercent(percent) => is_within_percent(percent).then_some(most),
            Tolerance::NearestWhole => same_whole(value, low, high).then_some(most),
            Tolerance::Bands(bands) => best(bands, is_within).map(|marks| marks.min(most)),
            Tolerance::PercentBands(bands) => {
                best(bands, is_within_percent).map(|marks| marks.min(most))
            }
        }
    }

    /// Returns the bands, which give their own marks.
    pub(super) fn bands(&self) -> Option<&[Band]> {
        match self {
            Tolerance::Bands(bands) | Tolerance::PercentBands(bands) => Some(bands),
            _ => None,
        }
    }

    /// Returns what is wrong with the tolerance, with the index of the band if it is one band.
    pub(super) fn check(&self, step: MarkStep) -> Result<(), (Option<usize>, Detail)> {
        match self {
            Tolerance::Absolute(width) => check_width(width, false).map_err(|d| (None, d)),
            Tolerance::RelativePercent(width) => check_width(width, true).map_err(|d| (None, d)),
            Tolerance::NearestWhole => Ok(()),
            Tolerance::Bands(bands) => check_bands(bands, false, step),
            Tolerance::PercentBands(bands) => check_bands(bands, true, step),
        }
    }
}

/// Returns whether one of the whole numbers nearest to the value is nearest to something in the range.
fn same_whole(value: &Ratio, low: &Ratio, high: &Ratio) -> bool {
    let half = Ratio::new(1, 2).unwrap_or_default();
    let lowest = |of: &Ratio| (of - &half).ceil();
    let highest = |of: &Ratio| (of + &half).floor();
    lowest(value) <= highest(high) && lowest(low) <= highest(value)
}

fn best(bands: &[Band], is_within: impl Fn(&Reading) -> bool) -> Option<Marks> {
    bands
        .iter()
        .filter(|band| is_within(&band.within))
        .map(|band| band.marks)
        .max()
}

/// Returns the marks of the best band that holds a difference in per cent.
pub(super) fn marks_within_percent(bands: &[Band], difference: &Ratio) -> Option<Marks> {
    let size = difference.abs();
    best(bands, |percent| size <= percent.value())
}

fn check_width(width: &Reading, percent: bool) -> Result<(), Detail> {
    let value = width.value();
    if value.is_negative() {
        let detail = Detail::new(format!("a tolerance of {width} is negative"));
        return Err(
            detail.help("give a width without a sign: how far a value may be on either side")
        );
    }
    if percent && value > Ratio::from(100) {
        let detail = Detail::new(format!("a tolerance of {width} % is more than 100 %"));
        return Err(detail.help("give a percentage from 0 to 100"));
    }
    Ok(())
}

/// Checks that bands go from the narrowest with the most marks to the widest with the fewest.
pub(super) fn check_bands(
    bands: &[Band],
    percent: bool,
    step: MarkStep,
) -> Result<(), (Option<usize>, Detail)> {
    const ORDER: &str =
        "give the bands from the narrowest with the most marks to the widest with the fewest";
    if bands.is_empty() {
        let detail = Detail::new("the list has no band");
        return Err((None, detail.help(ORDER)));
    }
    if bands.len() > MOST_BANDS {
        let count = bands.len();
        let detail = Detail::new(format!(
            "the list has {count} bands, and at most {MOST_BANDS} are read"
        ));
        return Err((None, detail.help("leave out the bands that matter least")));
    }
    let mut before: Option<&Band> = None;
    for (index, band) in bands.iter().enumerate() {
        let at = |detail: Detail| (Some(index), detail);
        let number = index + 1;
        let Band { within, marks } = band;
        check_width(within, percent).map_err(at)?;
        if *marks <= Marks::ZERO || *marks > MOST_MARKS.into() {
            let detail = Detail::new(format!("band {number} gives {marks} marks"));
            return Err(at(
                detail.help(format!("give each band from 1 to {MOST_MARKS} marks"))
            ));
        }
        step.check(*marks).map_err(at)?;
        if let Some(narrower) = before {
            let reach = &narrower.within;
            if within.value() <= reach.value() {
                return Err(at(Detail::new(format!(
                    "band {number} reaches {within}, not further than the {reach} of band {index}"
                ))
                .help(ORDER)));
            }
            if *marks >= narrower.marks {
                return Err(at(Detail::new(format!(
                    "band {number} gives {marks} marks, not fewer than the {} of band {index}",
                    narrower.marks
                ))
                .help(ORDER)));
            }
        }
        before = Some(band);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(text: &str) -> Reading {
        text.parse().unwrap()
    }

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    fn band(within: &str, marks: u32) -> Band {
        Band::new(reading(within), marks)
    }

    #[track_caller]
    fn earns(tolerance: &Tolerance, value: &str, (low, high): (&str, &str), marks: Option<u32>) {
        let found = tolerance.marks_of(&ratio(value), &ratio(low), &ratio(high), 3.into());
        let marks = marks.map(Marks::from);
        assert_eq!(
            found, marks,
            "{tolerance:?}: {value} against {low} to {high}"
        );
    }

    #[test]
    fn absolute_and_relative_edges_are_inside() {
        let absolute = Tolerance::Absolute(reading("0.1"));
        let key = ("6.99", "6.99");
        earns(&absolute, "7.09", key, Some(3));
        earns(&absolute, "6.89", key, Some(3));
        earns(&absolute, "7.0900001", key, None);
        earns(&absolute, "6.8899999", key, None);
        // About a range from its nearer end; the ends in either order.
        earns(&absolute, "7.1", ("6.9", "7"), Some(3));
        earns(&absolute, "6.8", ("7", "6.9"), Some(3));
        earns(&absolute, "6.79", ("6.9", "7"), None);
        let percent = Tolerance::RelativePercent(reading("1"));
        earns(&percent, "50.5", ("49", "50"), Some(3));
        earns(&percent, "48.51", ("49", "50"), Some(3));
        earns(&percent, "50.51", ("49", "50"), None);
        earns(&percent, "48.5", ("49", "50"), None);
        earns(&percent, "-1.01", ("-1", "-1"), Some(3));
        // The width of a percentage of a key is exact even where the key does not end.
        earns(&percent, "101/300", ("1/3", "1/3"), Some(3));
        earns(&percent, "101001/300000", ("1/3", "1/3"), None);
    }

    #[test]
    fn nearest_whole_with_ties_either_way() {
        let whole = Tolerance::NearestWhole;
        earns(&whole, "6.6", ("7.4", "7.4"), Some(3));
        earns(&whole, "6.4", ("6.6", "6.6"), None);
        earns(&whole, "6.5", ("7.4", "7.4"), Some(3));
        earns(&whole, "6.5", ("5.6", "5.6"), Some(3));
        earns(&whole, "7", ("6.4", "6.5"), Some(3));
        earns(&whole, "7", ("6.4", "6.49"), None);
        earns(&whole, "-7", ("-6.5", "-6.5"), Some(3));
    }

    #[test]
    fn bands_give_the_marks_of_the_narrowest_that_holds() {
        let bands = Tolerance::Bands([band("0.2", 2), band("0.5", 1)].into());
        let key = ("51.1", "51.1");
        earns(&bands, "51.3", key, Some(2));
        earns(&bands, "50.6", key, Some(1));
        earns(&bands, "51.61", key, None);
        let percent = Tolerance::PercentBands([band("1", 9), band("2", 2), band("3", 1)].into());
        earns(&percent, "101", ("100", "100"), Some(3));
        earns(&percent, "98", ("100", "100"), Some(2));
        earns(&percent, "103", ("100", "100"), Some(1));
        earns(&percent, "103.01", ("100", "100"), None);
    }
}
