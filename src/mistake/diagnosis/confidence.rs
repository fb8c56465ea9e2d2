//! How sure people may be of a fault, in words.

/// The word for the probability of a fault, for people. The number is for programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Confidence {
    /// Less probable than three in ten.
    Possible,
    /// From three to eight in ten.
    Consistent,
    /// More probable than eight in ten.
    Likely,
}

impl Confidence {
    /// The word for a probability.
    pub(super) fn of(probability: f64) -> Confidence {
        if probability > 0.8 {
            Confidence::Likely
        } else if probability >= 0.3 {
            Confidence::Consistent
        } else {
            Confidence::Possible
        }
    }

    /// Returns the word: "possible", "consistent with" or "likely".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Confidence::Possible => "possible",
            Confidence::Consistent => "consistent with",
            Confidence::Likely => "likely",
        }
    }
}
