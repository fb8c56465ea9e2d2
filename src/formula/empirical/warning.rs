//! What is doubtful about an analysis.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::formula::repr::Formula;
use crate::number::{Ratio, Reading, TieRule};
use crate::text::{Note, list};

/// What is doubtful about an analysis.
pub(super) enum AnalysisWarning {
    /// The parts do not make up the sample.
    SumNotWhole {
        sum: String,
        whole: String,
        unit: &'static str,
    },
    /// No mass is left for the part by difference.
    NothingLeft { part: Formula, rest: Ratio },
    NoWholeNumbers {
        ratios: String,
        multiplier: u32,
        residual: Ratio,
    },
    /// The readings allow these formulas, besides the chosen one if there is one.
    AmbiguousMultiplier {
        candidates: Vec<String>,
        /// Whether there are more than these.
        more: bool,
        is_chosen: bool,
    },
    /// The readings do not explain the distance of the counts from whole numbers.
    BeyondFigures { residual: Ratio },
    /// The molar mass is not near a multiple of the formula's.
    MolarMassNoMultiple {
        molar_mass: Reading,
        formula: Formula,
        formula_mass: Ratio,
        quotient: Ratio,
    },
}

impl From<AnalysisWarning> for Note {
    fn from(warning: AnalysisWarning) -> Note {
        let three_places = |residual: Ratio| format!("{}", residual.to_places(3, TieRule::Even));
        match warning {
            AnalysisWarning::SumNotWhole { sum, whole, unit } => {
                let text = format!(
                    "The parts make up {sum} {unit} of {whole} {unit}. A part may be missing, or a \
                     value may be wrong."
                );
                let note = Note::new("sum_not_whole", text).with("sum", sum);
                note.with("whole", whole)
            }
            AnalysisWarning::NothingLeft { part, rest } => {
                let text = format!(
                    "The mass that is left for {part} is negligible. The formula leaves out {part}."
                );
                let note = Note::new("nothing_left", text).with("part", format!("{part}"));
                note.with("rest", rest.to_plain())
            }
            AnalysisWarning::NoWholeNumbers {
                ratios,
                multiplier,
                residual,
            } => {
                let residual = three_places(residual);
                let text = format!(
                    "No multiplier brings the ratios {ratios} near whole numbers. The multiplier \
                     {multiplier} comes nearest, with a distance of {residual}."
                );
                let note = Note::new("no_whole_numbers", text).with("ratios", ratios);
                let note = note.with("multiplier", format!("{multiplier}"));
                note.with("residual", residual)
            }
            AnalysisWarning::AmbiguousMultiplier {
                candidates,
                more,
                is_chosen,
            } => other_formulas(&candidates, more, is_chosen),
            AnalysisWarning::BeyondFigures { residual } => {
                let residual = three_places(residual);
                let text = format!(
                    "A count differs from a whole number by {residual}. The last places of the \
                     readings do not explain this difference."
                );
                Note::new("beyond_figures", text).with("residual", residual)
            }
            AnalysisWarning::MolarMassNoMultiple {
                molar_mass,
                formula,
                formula_mass,
                quotient,
            } => no_multiple(&molar_mass, &formula, &formula_mass, &quotient),
        }
    }
}

fn other_formulas(candidates: &[String], more: bool, is_chosen: bool) -> Note {
    let also = if is_chosen { " also" } else { "" };
    let (mut all, mut named) = (candidates.join(", "), list(candidates));
    if more {
        named = format!("{all} and other formulas that are not listed");
        all.push_str(", …");
    }
    let text = format!("The uncertainty of the readings{also} allows {named}.");
    Note::new("ambiguous_multiplier", text).with("candidates", all)
}

fn no_multiple(given: &Reading, formula: &Formula, own: &Ratio, quotient: &Ratio) -> Note {
    let quotient = format!("{}", quotient.to_figures(4, TieRule::Even));
    let text = format!(
        "The molar mass {given} g/mol is {quotient} times that of {formula} ({} g/mol). {quotient} is \
         not near a whole number. The molar mass or the formula is wrong.",
        own.to_plain()
    );
    Note::new("molar_mass_no_multiple", text)
        .with("molar_mass", format!("{given}"))
        .with("formula", format!("{formula}"))
        .with("quotient", quotient)
}
