//! The wordings of problems about mixtures.

use alloc::format;
use alloc::string::String;

use super::heated_mixture::HeatedMixture;

/// The first component is asked for, by formulas or by names; the second as an impurity; or crystals have lost a part
/// of their water.
pub(super) const FORMULAS: &str = "fraction_from_residue";
pub(super) const NAMES: &str = "fraction_from_names";
pub(super) const IMPURITY: &str = "impurity_from_residue";
pub(super) const WEATHERED: &str = "weathered_crystals";
/// Both lose mass; or it is to be found out which one does.
pub(super) const BOTH: &str = "both_lose_mass";
pub(super) const BOTH_OTHER: &str = "both_lose_mass_other";
pub(super) const WHICH: &str = "which_loses_mass";
pub(super) const WHICH_OTHER: &str = "which_loses_mass_other";

pub(super) fn prompt(form: &str, bench: &str, mixture: &HeatedMixture) -> String {
    let HeatedMixture {
        components: [one, other],
        sample,
        residue,
        ..
    } = mixture;
    let (a, b) = (one.formula(), other.formula());
    let (a_left, b_left) = (&one.residue, &other.residue);
    let heats = |what: &str| {
        format!(
            "Bench {bench} heats {sample}\u{a0}g of {what} to constant mass. The residue weighs {residue}\u{a0}g."
        )
    };
    let mixed = || heats(&format!("a mixture of {a} and {b}"));
    let asked = mixture.component(true).formula();
    let work_out =
        |what: &str| format!("Work out the percentage by mass of {what} in the mixture.");
    match form {
        FORMULAS => format!(
            "{} Heating turns {a} into {a_left} and does not change {b}. {}",
            mixed(),
            work_out(&format!("{a}"))
        ),
        NAMES => format!(
            "{} All the water of the {} leaves, and nothing else. Write the formula of this hydrate. {}",
            heats(&format!("a mixture of {} and {}", one.name, other.name)),
            one.name,
            work_out("the hydrate")
        ),
        IMPURITY => format!(
            "{} The impurity is {b}, which heating does not change. {a} becomes {a_left}. Work out the percentage by \
             mass of the impurity.",
            heats(&format!("impure {a}"))
        ),
        WEATHERED => format!(
            "Crystals of {a} have lost a part of their water in the store. The bottle now holds a mixture of {a} and \
             {b}. {} {}",
            heats("it"),
            work_out(&format!("{a}"))
        ),
        BOTH | BOTH_OTHER => format!(
            "{} Heating turns {a} into {a_left}, and {b} into {b_left}. {}",
            mixed(),
            work_out(&format!("{asked}"))
        ),
        _ => {
            let loser = mixture.component(form == WHICH);
            let question = match form {
                WHICH => "Work out its percentage by mass in the mixture.",
                _ => "Work out the percentage by mass of the other one in the mixture.",
            };
            format!(
                "{} Only one of the two loses mass. It becomes {}. Decide which one it is. {question}",
                mixed(),
                loser.residue,
            )
        }
    }
}
