//! What is doubtful about a bench's readings.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::overheating::Overheating;
use crate::formula::Formula;
use crate::number::{Ratio, Reading, Rounded};
use crate::text::{Note, list, shorten};

/// A doubt about the readings of a bench or about what they give; masses in grams.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Warning {
    OneHeating,
    /// The last change, which is negative, and the criterion.
    NotConstant(Reading, Ratio),
    /// The last two falls, of which the second is not smaller.
    DoesNotSettle([Rounded; 2]),
    Gain(Gain),
    /// The criterion and the smallest step of the balance.
    CriterionBelowDivision(Ratio, Ratio),
    /// The number of readings and the smallest step of the balance.
    CoarserReading(usize, Ratio),
    /// The loss fits this hydrate if heating stopped at the lower one.
    LowerHydrate(Box<[Formula; 2]>),
    /// The loss fits this hydrate if it was heated beyond the second formula, which heating should leave, to the third
    /// one.
    HeatedBeyond(Box<[Formula; 3]>),
    /// The same, if the loss is between those to the second and to the third formula.
    PartlyBeyond(Box<[Formula; 3]>),
    Overheating(Box<Overheating>),
    /// Degrees that are candidates and have too many digits for a formula.
    CandidatesLeftOut(Vec<Ratio>),
    /// A hydrate that nobody knows, and those of its salt that are known, if any.
    UnknownHydrate(Formula, Vec<Formula>),
    /// The salt is known without a hydrate, by this publication.
    NoHydrate(Formula, &'static str),
    /// More than this hydrate, the highest considered, loses until the second formula is left.
    AboveKnown(Box<[Formula; 2]>),
}

impl Warning {
    pub(crate) fn note(&self) -> Note {
        match self {
            Warning::OneHeating => one_heating(),
            Warning::NotConstant(change, criterion) => {
                let fall = format!("{change}").replace('-', "");
                let text = format!(
                    "The mass still fell by {fall} g between the last two weighings. If only water leaves, the ratio \
                     found is a lower bound."
                );
                Note::new("not_constant", text)
                    .with("fall", fall)
                    .with("criterion", criterion.to_plain())
            }
            Warning::DoesNotSettle([before, last]) => {
                let text = format!(
                    "The last two falls, {before} g and {last} g, do not get smaller. Water may still be leaving, or \
                     the salt may be decomposing."
                );
                Note::new("does_not_settle", text)
                    .with("fall_before", format!("{before}"))
                    .with("last_fall", format!("{last}"))
            }
            Warning::Gain(gain) => gain.note(),
            Warning::CriterionBelowDivision(criterion, division) => {
                let (criterion, division) = (criterion.to_plain(), division.to_plain());
                let text = format!(
                    "The criterion for constant mass ({criterion} g) is finer than the smallest step of the balance \
                     ({division} g)."
                );
                Note::new("criterion_below_division", text)
                    .with("criterion", criterion)
                    .with("division", division)
            }
            Warning::CoarserReading(readings, division) => coarser_reading(*readings, division),
            Warning::LowerHydrate(hydrates) => {
                let [hydrate, residue] = &**hydrates;
                let text = format!(
                    "The loss also fits {hydrate} that stopped at {residue}. Constant mass can be reached there, too."
                );
                Note::new("lower_hydrate", text)
                    .with("hydrate", format!("{hydrate}"))
                    .with("residue", format!("{residue}"))
            }
            Warning::HeatedBeyond(formulas) => heated_beyond(formulas),
            Warning::PartlyBeyond(formulas) => partly_beyond(formulas),
            Warning::Overheating(overheating) => overheating.note(),
            Warning::CandidatesLeftOut(degrees) => left_out(degrees),
            Warning::UnknownHydrate(hydrate, known) => unknown_hydrate(hydrate, known),
            Warning::NoHydrate(salt, source) => no_hydrate(salt, source),
            Warning::AboveKnown(formulas) => above_known(formulas),
        }
    }
}

pub(super) fn one_heating() -> Note {
    Note::new(
        "one_heating",
        "There is only one weighing after heating. Constant mass needs two that agree.",
    )
}

fn left_out(degrees: &[Ratio]) -> Note {
    let degrees: Vec<String> = degrees.iter().map(|d| shorten(&d.to_string())).collect();
    let first = degrees.first().map_or("so many", String::as_str);
    let candidates = match degrees.len() {
        1 => "This candidate is".into(),
        several => format!("{several} such candidates are"),
    };
    let text = format!(
        "A formula cannot have {first} waters, because that has too many digits. {candidates} left out."
    );
    Note::new("candidates_left_out", text).with("waters", degrees.join(", "))
}

fn unknown_hydrate(hydrate: &Formula, known: &[Formula]) -> Note {
    let known = list(known.iter().map(Formula::to_string));
    let text = if known.is_empty() {
        format!(
            "The ratio is near {hydrate}. No hydrate of this salt is in the catalogue, so nothing confirms it. If you \
             know the possible hydrates, give them as candidates."
        )
    } else {
        format!(
            "The ratio is near {hydrate}, which is not a known hydrate. Known: {known}. Water may be left, or a \
             reading may be wrong."
        )
    };
    Note::new("unknown_hydrate", text)
        .with("hydrate", format!("{hydrate}"))
        .with("known", known)
}

fn no_hydrate(salt: &Formula, source: &str) -> Note {
    let text = format!(
        "No hydrate of {salt} is known at room temperature. The sample may have been damp, the salt may be another \
         one, or a reading may be wrong."
    );
    Note::new("no_hydrate", text)
        .with("salt", format!("{salt}"))
        .with("source", source)
}

fn heated_beyond([hydrate, residue, left]: &[Formula; 3]) -> Note {
    let text = format!(
        "The loss also fits {hydrate} that was heated beyond {residue}, to {left}. Then the figures can be worked out \
         with {left} as the residue."
    );
    Note::new("lower_hydrate", text)
        .with("hydrate", format!("{hydrate}"))
        .with("residue", format!("{left}"))
        .with("target", format!("{residue}"))
}

fn partly_beyond([hydrate, residue, left]: &[Formula; 3]) -> Note {
    let text = format!(
        "The loss is more than the water that {hydrate} loses when it turns into {residue}. The salt may have been heated \
         too far, on the way to {left}. Solid may also have been lost, the sample may have been damp, or a reading \
         may be wrong."
    );
    Note::new("above_known", text)
        .with("hydrate", format!("{hydrate}"))
        .with("salt", format!("{left}"))
}

fn above_known([hydrate, residue]: &[Formula; 2]) -> Note {
    let water = match residue.waters() {
        Some(_) => format!("the water that {hydrate} loses when it turns into {residue}"),
        None => format!("the water of {hydrate}"),
    };
    let text = format!(
        "The loss is more than {water}. Solid may have been lost, the sample may have been damp, or a reading may \
         be wrong."
    );
    Note::new("above_known", text).with("hydrate", format!("{hydrate}"))
}

fn coarser_reading(readings: usize, division: &Ratio) -> Note {
    let have = match readings {
        1 => "One reading has".into(),
        _ => format!("{readings} readings have"),
    };
    let division = division.to_plain();
    let text = format!(
        "{have} fewer decimal places than the balance shows ({division} g). The missing digits were read as zeros."
    );
    Note::new("coarser_reading", text)
        .with("readings", format!("{readings}"))
        .with("division", division)
}

/// Weighings that are heavier than the ones before them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Gain {
    /// The number of the heating, and by how much its weighing is heavier.
    One(usize, Rounded),
    /// The number of such weighings, and the largest gain.
    Many(usize, Rounded),
}

impl Gain {
    pub(crate) fn note(&self) -> Note {
        const CAUSES: &str = "Possible causes: moisture or oxygen taken up, a container still warm at the weighing before, or a misreading.";
        match self {
            Gain::One(heating, gain) => {
                let text = format!(
                    "The weighing after heating {heating} is {gain} g more than the one before it. {CAUSES}"
                );
                Note::new("gain", text)
                    .with("heating", format!("{heating}"))
                    .with("gain", format!("{gain}"))
            }
            Gain::Many(weighings, gain) => {
                let text = format!(
                    "{weighings} weighings are heavier than the ones before them, by up to {gain} g. {CAUSES}"
                );
                Note::new("gain", text)
                    .with("weighings", format!("{weighings}"))
                    .with("gain", format!("{gain}"))
            }
        }
    }
}
