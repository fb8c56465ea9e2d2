//! What a plan says of the salt and of the masses.

use alloc::format;

use super::commonest::Commonest;
use crate::formula::Formula;
use crate::number::{Ratio, Rounded};
use crate::text::Note;

/// A reason for the masses of a plan; masses in grams.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum PlanReason {
    /// Only this anhydrous salt was named.
    Commonest(Commonest, Formula),
    /// The least mass, and the nearest other candidate.
    ByResolution(Rounded, Formula),
    ByRelative(Rounded),
    ByPractical,
    /// The two hydrates.
    NoResolution(Formula, Formula),
    /// The repeatability of the mass of water, and the coverage factor.
    NoRelative(f64, f64),
    /// The sample at the lower end, larger than [`LARGE_SAMPLE`]. The coarsest usual balance that needs no such
    /// sample, and what it needs.
    LargeSample(Ratio, Option<(Ratio, Rounded)>),
}

/// The grams of hydrate that a usual crucible should hold at most (common practice, no source).
pub(super) const LARGE_SAMPLE: i64 = 10;

impl PlanReason {
    pub(super) fn note(&self) -> Note {
        match self {
            PlanReason::Commonest(commonest, salt) => commonest_note(commonest, salt),
            PlanReason::ByResolution(mass, other) => {
                let text = format!(
                    "The resolution limit decides. Less than {mass} g may not distinguish the hydrate from {other}."
                );
                Note::new("by_resolution", text)
                    .with("mass", format!("{mass}"))
                    .with("other", format!("{other}"))
            }
            PlanReason::ByRelative(mass) => {
                let text = format!(
                    "The relative limit decides. With less than {mass} g, the mass of water is uncertain by more than \
                     1 %."
                );
                Note::new("by_relative", text).with("mass", format!("{mass}"))
            }
            PlanReason::ByPractical => Note::new(
                "by_practical",
                "The practical limit decides. Less than 1 g is hard to handle (common practice, no source).",
            ),
            PlanReason::NoResolution(hydrate, other) => {
                let text = format!(
                    "No mass distinguishes {hydrate} from {other}. Even on a perfect balance, x is too uncertain."
                );
                Note::new("no_resolution", text)
                    .with("hydrate", format!("{hydrate}"))
                    .with("other", format!("{other}"))
            }
            PlanReason::NoRelative(repeatability, coverage) => {
                let percent = 100.0 * repeatability * coverage;
                let text = format!(
                    "No mass makes the mass of water certain to 1 %. Its repeatability alone gives {percent:.2} %. So \
                     this limit is left out."
                );
                Note::new("no_relative", text).with("repeatability", format!("{repeatability}"))
            }
            PlanReason::LargeSample(mass, finer) => large_sample_note(mass, finer.as_ref()),
        }
    }
}

fn large_sample_note(mass: &Ratio, finer: Option<&(Ratio, Rounded)>) -> Note {
    let mass = mass.to_plain();
    let text = format!(
        "{mass} g of hydrate is too much for a usual crucible (more than {LARGE_SAMPLE} g; common practice, no \
         source). It spits more, makes more dust and heats through slowly."
    );
    match finer {
        Some((step, needed)) => {
            let step = step.to_plain();
            let text = format!(
                "{text} Choose a finer balance. With one that shows {step} g, {needed} g is enough."
            );
            let note = Note::new("large_sample", text).with("mass", mass);
            note.with("readability", step)
                .with("enough", format!("{needed}"))
        }
        None => {
            let text = format!("{text} Choose a salt that loses more of its mass.");
            Note::new("large_sample", text).with("mass", mass)
        }
    }
}

fn commonest_note(commonest: &Commonest, salt: &Formula) -> Note {
    let Commonest { hydrate, bottled } = commonest;
    let (code, what) = match bottled {
        Some(_) => (
            "commonest",
            format!("the hydrate that bottles of {salt} usually hold"),
        ),
        None => (
            "highest_known",
            format!("the highest known hydrate of {salt}"),
        ),
    };
    let text = format!(
        "No hydrate was named. This plan is for {hydrate}, {what}. Compare it with the label of your bottle."
    );
    let note = Note::new(code, text).with("hydrate", format!("{hydrate}"));
    match bottled {
        Some(source) => note.with("source", *source),
        None => note,
    }
}
