//! The steps from molar masses to the losses of the stages.

use alloc::format;
use alloc::string::{String, ToString};

use super::stage::{Stage, Stages};
use crate::formula::Formula;
use crate::number::{Ratio, TieRule};
use crate::working::{Step, Working};

impl Stages {
    /// Returns the steps from the molar masses to the loss of each stage. Percentages have two decimal
    /// places, as tables of thermogravimetry print them.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let start = self.start();
        let whole = self.molar.to_plain();
        let mut before = Mass::new(start, &Ratio::ONE, &self.molar);
        for stage in self.stages() {
            let after = Mass::new(stage.residue(), stage.per_start(), &stage.molar);
            working.push(Step::new(
                format!("loss from {} to {}", before.name, after.name),
                format!(
                    "100 % × ({} − {}) / M({start})",
                    before.symbols, after.symbols
                ),
                format!(
                    "100 % × ({} g/mol − {} g/mol) / {whole} g/mol",
                    before.numbers, after.numbers
                ),
                percent(stage.percent_lost()),
                "%",
            ));
            working.push(lost(stage).concluded());
            before = after;
        }
        working
    }
}

/// A molar mass times a number of formula units.
struct Mass {
    name: String,
    symbols: String,
    numbers: String,
}

impl Mass {
    fn new(formula: &Formula, units: &Ratio, molar: &Ratio) -> Mass {
        let times = match *units == Ratio::ONE {
            true => String::new(),
            false => format!("{units} × "),
        };
        Mass {
            name: formula.to_string(),
            symbols: format!("{times}M({formula})"),
            numbers: format!("{times}{}", molar.to_plain()),
        }
    }
}

fn percent(value: &Ratio) -> String {
    value.to_places(2, TieRule::Even).to_string()
}

/// The step that names what was lost.
fn lost(stage: &Stage) -> Step {
    let taken_up = stage.taken_up().map(|gas| format!("{gas} is taken up"));
    let gases = stage.gases().iter();
    let gases = gases.map(|(gas, number)| match *number == Ratio::ONE {
        true => gas.clone(),
        false => format!("{number} {gas}"),
    });
    let gases = gases.collect::<alloc::vec::Vec<_>>().join(" + ");
    let gases = match gases.is_empty() {
        true => stage.lost().unwrap_or_else(|| "nothing".into()),
        false => gases,
    };
    Step::new(
        "what is lost",
        "the atoms before − the atoms after",
        taken_up.unwrap_or_else(|| "by difference".into()),
        gases,
        "",
    )
}
