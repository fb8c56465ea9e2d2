//! The editions of the table of standard atomic weights, and what each publishes for an element.

use core::fmt;

use super::elements::Element;
use super::error::{Error, ErrorKind};
use super::iupac_2024;
use super::table::{Published, Standard};
use crate::number::Reading;

/// A published table of standard atomic weights. An edition never changes once released here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
#[non_exhaustive]
pub enum Edition {
    /// T. Prohaska et al., Pure Appl. Chem. 2022, 94, 573–600 (doi 10.1515/pac-2019-0603).
    Iupac2021,
    /// The table of 2021 with the revisions of zirconium, gadolinium and lutetium that the
    /// Commission on Isotopic Abundances and Atomic Weights announced in 2024. The default until
    /// version 2.0 of this crate.
    #[default]
    Iupac2024,
}

impl Edition {
    /// All editions, in order.
    pub const ALL: [Edition; 2] = [Edition::Iupac2021, Edition::Iupac2024];

    /// Returns the year, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn year(self) -> &'static str {
        match self {
            Edition::Iupac2021 => "2021",
            Edition::Iupac2024 => "2024",
        }
    }
}

impl fmt::Display for Edition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.year())
    }
}

crate::text::codes!(Edition, year, "editions", Error(ErrorKind::UnknownCode));

/// The standard atomic weight of an element as it is published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StandardWeight {
    /// The weight varies in nature between two bounds.
    Interval {
        /// The lower bound.
        lower: Reading,
        /// The upper bound.
        upper: Reading,
    },
    /// One value with its uncertainty (±).
    Value {
        /// The value.
        value: Reading,
        /// The uncertainty in its last digits.
        uncertainty: Reading,
    },
    /// The element has no characteristic isotopic composition on Earth, so it has no standard atomic
    /// weight.
    None,
}

impl Element {
    /// Returns what IUPAC publishes for the element in this edition.
    ///
    /// ```
    /// use effloresce::{Element, element::{Edition, StandardWeight}};
    /// let sulfur: Element = "S".parse()?;
    /// let StandardWeight::Interval { lower, upper } = sulfur.standard_weight(Edition::Iupac2024) else {
    ///     panic!("sulfur has an interval");
    /// };
    /// assert_eq!((lower.to_string(), upper.to_string()), ("32.059".into(), "32.076".into()));
    /// # Ok::<(), effloresce::element::Error>(())
    /// ```
    #[must_use]
    pub fn standard_weight(self, edition: Edition) -> StandardWeight {
        match self.published(edition) {
            Published::None => StandardWeight::None,
            Published::Some { standard, .. } => match standard {
                Standard::Interval(lower, upper) => StandardWeight::Interval { lower, upper },
                Standard::Value(value, uncertainty) => StandardWeight::Value { value, uncertainty },
            },
        }
    }

    /// Returns the value abridged to five significant figures and the limit of its deviation (±), if
    /// there is one.
    #[must_use]
    pub fn abridged(self, edition: Edition) -> Option<(Reading, Reading)> {
        match self.published(edition) {
            Published::None => None,
            Published::Some { abridged, .. } => Some(abridged),
        }
    }

    /// Returns the conventional value of an element whose standard atomic weight is an interval, if
    /// there is one.
    #[must_use]
    pub fn conventional(self, edition: Edition) -> Option<Reading> {
        match self.published(edition) {
            Published::None => None,
            Published::Some { conventional, .. } => conventional,
        }
    }

    fn published(self, edition: Edition) -> Published {
        let revised = match edition {
            Edition::Iupac2021 => None,
            Edition::Iupac2024 => iupac_2024::REVISED
                .iter()
                .find(|(z, _)| *z == self.number()),
        };
        revised.map_or_else(|| self.row_2021().weight, |(_, row)| row.weight)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The abridged value and its limit include the whole interval, so that a rectangle of that width
    /// leaves no natural material out.
    #[test]
    fn abridged_limits_cover_the_intervals() {
        let mut intervals = 0;
        for element in Element::ALL {
            let StandardWeight::Interval { lower, upper } =
                element.standard_weight(Edition::Iupac2024)
            else {
                continue;
            };
            intervals += 1;
            let (value, limit) = element.abridged(Edition::Iupac2024).unwrap();
            let (value, limit) = (value.value(), limit.value());
            assert!(&value - &limit <= lower.value(), "{element}");
            assert!(&value + &limit >= upper.value(), "{element}");
        }
        assert_eq!(intervals, 14);
    }

    #[test]
    fn the_revised_rows_are_the_elements_they_say() {
        for (z, row) in &iupac_2024::REVISED {
            assert_eq!(Element::from_symbol(row.symbol).unwrap().number(), *z);
        }
    }
}
