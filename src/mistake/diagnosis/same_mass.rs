//! Faults that mass alone does not distinguish.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::fault::Fault;

/// Faults that mass alone does not distinguish at a bench: they make the same residue too heavy after one
/// heating, or too light.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct SameMass {
    faults: Vec<Fault>,
}

/// After a single heating, a residue that is too heavy.
const HEAVY_AFTER_ONE: [Fault; 4] = [
    Fault::WaterLeft,
    Fault::StoppedAtLowerHydrate,
    Fault::MoistureTakenUp,
    Fault::SampleEffloresced,
];

/// A residue that is too light.
const LIGHT: [Fault; 5] = [
    Fault::SolidLost,
    Fault::SampleDamp,
    Fault::ContainerDamp,
    Fault::WeighedWarm,
    Fault::BalanceChanged,
];

/// How much less probable than the first a fault may be that is still named.
const NAMED: f64 = 0.1;

impl SameMass {
    /// The faults of the same group as the most probable one, with their probabilities in descending order;
    /// `None` if it stands alone.
    pub(super) fn new(
        sorted: &[(Fault, f64)],
        heatings: usize,
        is_light: bool,
        is_known: bool,
    ) -> Option<SameMass> {
        let (first, most) = sorted.first()?;
        let mut group: Vec<Fault> = Vec::new();
        if is_light {
            group.extend(LIGHT);
            if !is_known {
                group.push(Fault::Decomposed);
            }
        } else if heatings == 1 {
            group.extend(HEAVY_AFTER_ONE);
        }
        let is_named = |(fault, probability): &&(Fault, f64)| {
            group.contains(fault) && *probability >= NAMED * most
        };
        let faults: Vec<Fault> = sorted
            .iter()
            .filter(is_named)
            .map(|(fault, _)| *fault)
            .collect();
        (group.contains(first) && faults.len() > 1).then_some(SameMass { faults })
    }

    /// Returns the faults, the most probable first.
    #[must_use]
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// Returns an English sentence that names them.
    #[must_use]
    pub fn sentence(&self) -> String {
        let phrases = self.faults.iter().map(|fault| fault.phrase());
        let phrases: Vec<&str> = phrases.collect();
        match phrases.as_slice() {
            [before @ .., last] if !before.is_empty() => format!(
                "Mass alone does not distinguish {} and {last}.",
                before.join(", ")
            ),
            _ => String::new(),
        }
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(SameMass, it, {
    "faults": it.faults(),
    "text": it.sentence(),
});
