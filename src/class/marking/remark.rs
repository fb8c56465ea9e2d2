//! What is said about an answer that costs nothing.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};

use crate::formula::Formula;
use crate::number::Reading;
use crate::text::Note;

/// What is said about a value in addition to its judgement.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum Remark {
    /// A note from reading a formula.
    Notation(Note),
    /// More significant figures than the readings allow.
    TooManyFigures { written: u32, allowed: u32 },
    /// Fewer significant figures than careful work keeps.
    TooFewFigures { written: u32, allowed: u32 },
    /// The number that is one unit of its last place away from what careful work gives.
    LastPlace(Reading),
    /// A text that is not a formula, but can only mean this one.
    LooseFormula(Box<Formula>),
    /// A formula with an unrounded number of waters, which means this one.
    UnroundedDegree(Box<Formula>),
    /// A formula that the ratio handed in does not give: it gives this one.
    ContradictsRatio(Box<Formula>),
    /// A value that is right with this residue, which the mass agrees with although heating should leave another
    /// one.
    FurtherResidue(Box<Formula>),
}

impl Remark {
    /// The remark in a few words to the pupil; `None` for a note, which is for the teacher.
    #[cfg(feature = "report")]
    pub(crate) fn to_pupil(&self) -> Option<String> {
        match self {
            Remark::Notation(_) => None,
            Remark::TooManyFigures { written, allowed }
            | Remark::TooFewFigures { written, allowed } => Some(format!(
                "you wrote {}, and your readings allow {allowed}",
                significant_figures(*written)
            )),
            Remark::LastPlace(_) => Some("check its last digit, which costs nothing".into()),
            Remark::LooseFormula(formula) => Some(format!("read as {formula}")),
            Remark::UnroundedDegree(_) => Some("round the number of waters".into()),
            Remark::FurtherResidue(formula) => Some(format!("with {formula} as the residue")),
            Remark::ContradictsRatio(_) => Some("your mole ratio gives another formula".into()),
        }
    }

    pub(crate) fn note(&self) -> Note {
        let (code, text, written, allowed) = match self {
            Remark::Notation(note) => return note.clone(),
            Remark::LastPlace(number) => {
                let text = "it differs by one unit of its last place, which costs nothing";
                let unit = number.last_place().to_plain();
                return Note::new("last_place", text).with("unit", unit);
            }
            Remark::LooseFormula(formula) => {
                let text = format!("it was read as {formula}");
                return Note::new("read_as", text).with("formula", formula.to_string());
            }
            Remark::UnroundedDegree(formula) => {
                let text = format!("the number of waters is not rounded, and {formula} is meant");
                return Note::new("unrounded_degree", text).with("formula", formula.to_string());
            }
            Remark::ContradictsRatio(formula) => {
                let text = format!("the reported mole ratio gives {formula}");
                return Note::new("contradicts_ratio", text).with("formula", formula.to_string());
            }
            Remark::FurtherResidue(formula) => {
                let text = format!(
                    "it is worked out with {formula} as the residue, which the mass agrees with"
                );
                return Note::new("further_residue", text).with("residue", formula.to_string());
            }
            Remark::TooManyFigures { written, allowed } => (
                "too_many_figures",
                format!(
                    "{} {} written, and the readings allow {allowed}",
                    significant_figures(*written),
                    are(*written)
                ),
                written,
                allowed,
            ),
            Remark::TooFewFigures { written, allowed } => (
                "too_few_figures",
                format!(
                    "{written} of the {allowed} significant figures that the readings allow {} written",
                    are(*written)
                ),
                written,
                allowed,
            ),
        };
        Note::new(code, text)
            .with("written", format!("{written}"))
            .with("allowed", format!("{allowed}"))
    }
}

fn significant_figures(count: u32) -> String {
    match count {
        1 => "1 significant figure".into(),
        _ => format!("{count} significant figures"),
    }
}

fn are(count: u32) -> &'static str {
    if count == 1 { "is" } else { "are" }
}
