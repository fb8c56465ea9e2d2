//! Why a bench should do what it is advised to do.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;

use super::overheating::Overheating;
use super::series::Contradiction;
use super::warning::{Gain, one_heating};
use crate::number::{Ratio, Reading, Rounded};
use crate::text::Note;

/// A reason for an advice; masses in grams.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Reason {
    /// What the container with the residue should weigh.
    NothingHeated(Rounded),
    Contradiction(Contradiction),
    /// By how much the last weighing is below the expected one.
    FarTooLight(Rounded),
    TooLight(Rounded),
    Gain(Gain),
    Overheating(Box<Overheating>),
    ConstantAndExpected,
    /// The smallest difference that can be seen, and the loss expected.
    CannotTell(Rounded, Rounded),
    OneHeating,
    /// The last change and the criterion.
    NotConstant(Reading, Ratio),
    StillToLose(Rounded),
    /// The waters that are left.
    LowerHydrate(Ratio),
}

impl Reason {
    pub(crate) fn note(&self) -> Note {
        match self {
            Reason::NothingHeated(mass) => valued(
                "nothing_heated",
                format!(
                    "Nothing has been heated yet. The container with the residue should weigh {mass} g."
                ),
                [("expected_last", format!("{mass}"))],
            ),
            Reason::Contradiction(contradiction) => contradiction.note(),
            Reason::FarTooLight(below) => valued(
                "far_too_light",
                format!(
                    "The last weighing is {below} g below the expected mass of the residue. Solid may have \
                     been lost, the salt may have decomposed, or a reading may be wrong."
                ),
                [("below", format!("{below}"))],
            ),
            Reason::TooLight(below) => valued(
                "too_light",
                format!(
                    "The last weighing is {below} g below the expected mass of the residue. More has left \
                     than the water of crystallization, or a reading is wrong."
                ),
                [("below", format!("{below}"))],
            ),
            Reason::Gain(gain) => gain.note(),
            Reason::Overheating(overheating) => overheating.note(),
            Reason::ConstantAndExpected => Note::new(
                "constant_and_expected",
                "The last two weighings agree, and the mass is that expected of the residue.",
            ),
            Reason::CannotTell(tolerance, loss) => valued(
                "cannot_tell",
                format!(
                    "The last two weighings agree. This balance and criterion cannot show less than {tolerance} g. \
                     The whole expected loss is only {loss} g. Take more of the hydrate."
                ),
                [
                    ("expected_loss", format!("{loss}")),
                    ("tolerance", format!("{tolerance}")),
                ],
            ),
            Reason::OneHeating => one_heating(),
            Reason::NotConstant(change, criterion) => not_constant(change, &criterion.to_plain()),
            Reason::StillToLose(mass) => valued(
                "still_to_lose",
                format!("The solid still has {mass} g of water to lose."),
                [("still_to_lose", format!("{mass}"))],
            ),
            Reason::LowerHydrate(waters) => valued(
                "lower_hydrate",
                format!(
                    "The last weighing is close to the mass with {waters} H2O left. Constant mass can be reached \
                     there, too."
                ),
                [("waters", format!("{waters}"))],
            ),
        }
    }
}

fn not_constant(change: &Reading, criterion: &str) -> Note {
    let change = format!("{change}");
    let by = change.trim_start_matches('-');
    let text = format!(
        "The mass changed by {by} g in the last heating. Constant mass allows at most {criterion} g."
    );
    let values = [("last_change", change), ("criterion", criterion.into())];
    valued("not_constant", text, values)
}

fn valued<const N: usize>(
    code: &'static str,
    text: String,
    values: [(&'static str, String); N],
) -> Note {
    let note = Note::new(code, text);
    values
        .into_iter()
        .fold(note, |note, (name, value)| note.with(name, value))
}
