//! The shape of a published table of atomic weights: one row an element, numbers as printed.

use crate::number::Reading;

/// What a publication gives for one element.
#[derive(Debug, Clone, Copy)]
pub(super) struct WeightRow {
    pub(super) symbol: &'static str,
    pub(super) weight: Published,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Published {
    None,
    Some {
        standard: Standard,
        /// The value abridged to five figures, and the limit of its deviation (±).
        abridged: (Reading, Reading),
        conventional: Option<Reading>,
    },
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Standard {
    Interval(Reading, Reading),
    Value(Reading, Reading),
}

pub(super) const fn interval(
    symbol: &'static str,
    lower: &str,
    upper: &str,
    abridged: &str,
    limit: &str,
    conventional: Option<&str>,
) -> WeightRow {
    let standard = Standard::Interval(Reading::literal(lower), Reading::literal(upper));
    row(symbol, standard, abridged, limit, conventional)
}

pub(super) const fn value(
    symbol: &'static str,
    value: &str,
    uncertainty: &str,
    abridged: &str,
    limit: &str,
    conventional: Option<&str>,
) -> WeightRow {
    let standard = Standard::Value(Reading::literal(value), Reading::literal(uncertainty));
    row(symbol, standard, abridged, limit, conventional)
}

pub(super) const fn none(symbol: &'static str) -> WeightRow {
    WeightRow {
        symbol,
        weight: Published::None,
    }
}

const fn row(
    symbol: &'static str,
    standard: Standard,
    abridged: &str,
    limit: &str,
    conventional: Option<&str>,
) -> WeightRow {
    WeightRow {
        symbol,
        weight: Published::Some {
            standard,
            abridged: (Reading::literal(abridged), Reading::literal(limit)),
            conventional: match conventional {
                Some(text) => Some(Reading::literal(text)),
                None => None,
            },
        },
    }
}
