//! Counts.

use crate::number::Ratio;

/// A count: an exact fraction, or unknown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Count {
    Known(u32, u32),
    Unknown(char),
}

impl Count {
    pub(crate) const ONE: Count = Count::Known(1, 1);
    /// The largest numerator or denominator: it has as many digits as the parser reads.
    pub(crate) const MOST: u32 = 999_999_999;

    pub(crate) const fn is_one(self) -> bool {
        matches!(self, Count::Known(1, 1))
    }

    pub(crate) fn known(numerator: u32, denominator: u32) -> Count {
        let divisor = num_integer::gcd(numerator, denominator).max(1);
        Count::Known(numerator / divisor, denominator / divisor)
    }

    pub(crate) fn ratio(self) -> Option<Ratio> {
        match self {
            Count::Known(numerator, denominator) => {
                Ratio::new(numerator.into(), denominator.into())
            }
            Count::Unknown(_) => None,
        }
    }

    /// The count that a ratio is, if numerator and denominator fit.
    pub(crate) fn from_ratio(value: &Ratio) -> Option<Count> {
        let (numerator, denominator) = value.to_parts()?;
        let short = |n: i128| {
            let n = u32::try_from(n).ok();
            n.filter(|n| (1..=Count::MOST).contains(n))
        };
        Some(Count::Known(short(numerator)?, short(denominator)?))
    }

    /// The product of two counts, if both are known and numerator and denominator fit.
    pub(crate) fn times(self, other: Count) -> Option<Count> {
        Count::from_ratio(&(self.ratio()? * other.ratio()?))
    }
}
