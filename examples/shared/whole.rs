//! Whole numbers as options.

use std::fmt::Display;
use std::ops::RangeInclusive;
use std::str::FromStr;

/// Reads a whole number in a range.
pub(crate) fn whole<T>(
    range: RangeInclusive<T>,
) -> impl Fn(&str) -> Result<T, String> + Clone + Send + Sync + 'static
where
    T: FromStr + PartialOrd + Display + Clone + Send + Sync + 'static,
{
    move |text| {
        let number = text.trim().parse().ok();
        number
            .filter(|number| range.contains(number))
            .ok_or_else(|| {
                format!(
                    "give a whole number from {} to {}",
                    range.start(),
                    range.end()
                )
            })
    }
}
