//! What in the readings speaks for a fault.

use alloc::format;
use alloc::string::String;

use super::probable_misreading::ProbableMisreading;
use crate::formula::Formula;
use crate::number::Rounded;
use crate::text::Note;

/// The evidence in the readings for a fault, with its values. Masses are in grams, as the balance shows them,
/// and positive.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Evidence {
    /// The mass still fell by much at the last heating, and the residue is too heavy.
    StillFalling {
        /// The fall at the last heating.
        fall: Rounded,
        /// How much heavier than expected the residue is.
        above: Rounded,
    },
    /// The container gained mass at the last heating.
    GainedAtLast {
        /// The gain.
        gain: Rounded,
    },
    /// The mass fell at the last heating, after two weighings that agreed.
    FellAfterConstant {
        /// The fall at the last heating.
        fall: Rounded,
        /// How much lighter than expected the residue is; negative if it is heavier.
        below: Rounded,
    },
    /// The mass went on falling below the expected one.
    FellBelow {
        /// The fall at the last heating.
        fall: Rounded,
        /// How much lighter than expected the residue is.
        below: Rounded,
    },
    /// The mass is that of a lower hydrate.
    AtLowerHydrate {
        /// The hydrate.
        hydrate: Formula,
    },
    /// The residue is too heavy.
    TooHeavy {
        /// How much heavier than expected it is.
        above: Rounded,
        /// The number of heatings.
        heatings: usize,
    },
    /// The residue is too light.
    TooLight {
        /// How much lighter than expected it is.
        below: Rounded,
        /// The number of heatings.
        heatings: usize,
    },
    /// One misreading explains the readings.
    OtherReading(ProbableMisreading),
    /// No bench could weigh these masses.
    Impossible,
    /// Nothing in the readings speaks for it more than for another fault.
    Nothing,
}

impl Evidence {
    /// Returns the stable name, in `snake_case`.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Evidence::StillFalling { .. } => "still_falling",
            Evidence::GainedAtLast { .. } => "gained_at_last",
            Evidence::FellAfterConstant { .. } => "fell_after_constant",
            Evidence::FellBelow { .. } => "fell_below",
            Evidence::AtLowerHydrate { .. } => "at_lower_hydrate",
            Evidence::TooHeavy { .. } => "too_heavy",
            Evidence::TooLight { .. } => "too_light",
            Evidence::OtherReading(_) => "other_reading",
            Evidence::Impossible => "impossible",
            Evidence::Nothing => "nothing",
        }
    }

    /// Returns English sentences for the teacher.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Evidence::StillFalling { fall, above } => format!(
                "The residue is {above}\u{a0}g heavier than it should be, and the mass still fell by \
                 {fall}\u{a0}g at the last heating."
            ),
            Evidence::GainedAtLast { gain } => {
                format!("The container gained {gain}\u{a0}g between the last two weighings.")
            }
            Evidence::FellAfterConstant { fall, below } => format!(
                "The mass fell by {fall}\u{a0}g at the last weighing, after two that agreed.{}",
                lighter(below)
            ),
            Evidence::FellBelow { fall, below } => format!(
                "The residue is {below}\u{a0}g lighter than it should be, and the mass still fell by \
                 {fall}\u{a0}g at the last heating."
            ),
            Evidence::AtLowerHydrate { hydrate } => {
                format!("The residue has the mass of {hydrate}.")
            }
            Evidence::TooHeavy { above, heatings } => format!(
                "The residue is {above}\u{a0}g heavier than it should be{}.",
                after(*heatings)
            ),
            Evidence::TooLight { below, heatings } => format!(
                "The residue is {below}\u{a0}g lighter than it should be{}.",
                after(*heatings)
            ),
            Evidence::OtherReading(misreading) => misreading.sentence(),
            Evidence::Impossible => {
                "These masses are impossible, so at least one is written down wrongly.".into()
            }
            Evidence::Nothing => "The masses are near those of a bench without a fault.".into(),
        }
    }

    /// Returns an English sentence for pupils, of at most 20 words.
    #[must_use]
    pub fn pupil(&self) -> String {
        match self {
            Evidence::StillFalling { fall, .. } => {
                format!("Your mass still fell by {fall}\u{a0}g at the last heating.")
            }
            Evidence::GainedAtLast { gain } => {
                format!("Your container gained {gain}\u{a0}g between the last two weighings.")
            }
            Evidence::FellAfterConstant { fall, .. } => {
                format!(
                    "Your last weighing is {fall}\u{a0}g lower, although the mass was constant before."
                )
            }
            Evidence::FellBelow { below, .. } | Evidence::TooLight { below, .. } => {
                format!("Your residue is {below}\u{a0}g lighter than it should be.")
            }
            Evidence::AtLowerHydrate { hydrate } => {
                format!("Your residue has the mass of {hydrate}.")
            }
            Evidence::TooHeavy { above, .. } => {
                format!("Your residue is {above}\u{a0}g heavier than it should be.")
            }
            Evidence::OtherReading(misreading) => format!(
                "Look at {} again: you wrote {}\u{a0}g.",
                misreading.name(),
                misreading.written()
            ),
            Evidence::Impossible => "At least one of your masses is not possible.".into(),
            Evidence::Nothing => "Your masses are near the expected ones.".into(),
        }
    }

    /// Returns the evidence as a note with a code, its values and the words for the teacher.
    #[must_use]
    pub fn note(&self) -> Note {
        let note = Note::new(self.code(), self.sentence());
        match self {
            Evidence::StillFalling { fall, above } => {
                with(note, [("fall", fall), ("above", above)])
            }
            Evidence::GainedAtLast { gain } => with(note, [("gain", gain)]),
            Evidence::FellAfterConstant { fall, below } | Evidence::FellBelow { fall, below } => {
                with(note, [("fall", fall), ("below", below)])
            }
            Evidence::AtLowerHydrate { hydrate } => note.with("hydrate", format!("{hydrate}")),
            Evidence::TooHeavy { above, .. } => with(note, [("above", above)]),
            Evidence::TooLight { below, .. } => with(note, [("below", below)]),
            Evidence::OtherReading(misreading) => note
                .with("reading", misreading.path())
                .with("written", format!("{}", misreading.written()))
                .with("meant", format!("{}", misreading.meant()))
                .with("kind", misreading.kind().code()),
            Evidence::Impossible | Evidence::Nothing => note,
        }
    }
}

fn with<const N: usize>(note: Note, values: [(&'static str, &Rounded); N]) -> Note {
    values.into_iter().fold(note, |note, (name, value)| {
        note.with(name, format!("{value}"))
    })
}

/// How much lighter than expected a residue is, if it is.
fn lighter(below: &Rounded) -> String {
    if below.value().is_positive() {
        format!(" The residue is {below}\u{a0}g lighter than it should be.")
    } else {
        String::new()
    }
}

/// After how many heatings.
fn after(heatings: usize) -> String {
    match heatings {
        1 => " after one heating".into(),
        n => format!(" after {n} heatings"),
    }
}
