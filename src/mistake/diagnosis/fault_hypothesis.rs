//! One fault with its probability, its evidence, and what to do next.

use alloc::format;
use alloc::string::String;

use super::super::fault::{Direction, Fault};
use super::confidence::Confidence;
use super::evidence::Evidence;
use super::next_step::NextStep;

/// A fault that may explain the readings of a bench.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultHypothesis {
    pub(super) fault: Fault,
    pub(super) probability: f64,
    pub(super) evidence: Evidence,
    pub(super) next: NextStep,
}

impl FaultHypothesis {
    /// Returns the fault.
    #[must_use]
    pub fn fault(&self) -> Fault {
        self.fault
    }

    /// Returns the probability of the fault, from 0 to 1. It is for programs; people read
    /// [`confidence`](FaultHypothesis::confidence).
    #[must_use]
    pub fn probability(&self) -> f64 {
        self.probability
    }

    /// Returns how sure people may be of it, in words.
    #[must_use]
    pub fn confidence(&self) -> Confidence {
        Confidence::of(self.probability)
    }

    /// Returns what in the readings speaks for it.
    #[must_use]
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }

    /// Returns what the bench should do.
    #[must_use]
    pub fn next(&self) -> NextStep {
        self.next
    }

    /// Whether the evidence is the opposite of what the fault does, or none.
    pub(super) fn contradicts_itself(&self) -> bool {
        match self.evidence {
            Evidence::Nothing => true,
            Evidence::TooHeavy { .. } => self.fault.direction() == Direction::Up,
            Evidence::TooLight { .. } => self.fault.direction() == Direction::Down,
            _ => false,
        }
    }

    /// Returns an English sentence that names the fault with the word for its probability, never as a fact.
    #[must_use]
    pub fn sentence(&self) -> String {
        let phrase = self.fault.phrase();
        match self.confidence() {
            Confidence::Likely => format!("Likely cause: {phrase}."),
            Confidence::Consistent => format!("The readings are consistent with {phrase}."),
            Confidence::Possible => format!("Possible cause: {phrase}."),
        }
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(FaultHypothesis, it, {
    "code": it.fault,
    "probability": it.probability,
    "evidence": it.evidence.note(),
    "next": it.next.note(),
});
