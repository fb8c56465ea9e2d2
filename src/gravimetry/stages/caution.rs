//! The cautions for heating in stages: those for the solid, and the gases that the stages give off.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::stage::{Stage, Stages};
use crate::gravimetry::hazard::HeatingSafety;
use crate::gravimetry::salts::Severity;
use crate::text::Note;

/// Gases and vapours that harm when they are breathed in, among those that stages give off.
const HARMFUL: [&str; 14] = [
    "NH3", "CO", "SO2", "SO3", "HF", "HCl", "HBr", "HI", "NO2", "NO", "Cl2", "Br2", "I2", "N2H4",
];

/// The source of [`HARMFUL`].
const SOURCE: &str =
    "Regulation (EC) No 1272/2008, Annex VI, Table 3 (a copy of the list); SO3 and NO from memory";

impl Stages {
    /// Returns how severe the hazards of these stages are. Heating that gives off a harmful gas, or one
    /// that is not known, needs a fume cupboard at least.
    #[must_use]
    pub fn severity(&self) -> Severity {
        let of_solid = HeatingSafety::of(self.start()).severity();
        match self.stages().iter().any(|stage| gases(stage).is_some()) {
            true => of_solid.max(Severity::FumeCupboard),
            false => of_solid,
        }
    }

    /// Returns the cautions for these stages: those for heating the solid, as
    /// [`cautions`](crate::gravimetry::cautions) gives them, and the harmful gases of each stage.
    ///
    /// They are reminders. The safety data sheet, the local rules and the person in charge of the laboratory
    /// decide.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::{Severity, Stages};
    /// let stages = Stages::of("CuSO4·5H2O".parse()?, &AtomicWeights::default())?
    ///     .then("CuSO4".parse()?)?
    ///     .then("CuO".parse()?)?;
    /// assert_eq!(stages.severity(), Severity::FumeCupboard);
    /// assert_eq!(stages.cautions()[0].code(), "harmful_gas");
    /// assert_eq!(stages.cautions().last().unwrap().code(), "who_decides");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn cautions(&self) -> Vec<Note> {
        let safety = HeatingSafety::of(self.start());
        let forbidden = safety.severity() == Severity::Forbidden;
        // What must not be heated says so before its gases are named.
        let (first, rest) = safety
            .cautions()
            .split_at(usize::from(forbidden).min(safety.cautions().len()));
        let own = self
            .stages()
            .iter()
            .filter_map(|stage| caution(stage, forbidden));
        first
            .iter()
            .cloned()
            .chain(own)
            .chain(rest.iter().cloned())
            .collect()
    }
}

/// The harmful or unknown gases of a stage, and whether they are known.
fn gases(stage: &Stage) -> Option<(String, bool)> {
    if stage.gases().is_empty() {
        return stage.lost().map(|unknown| (unknown, false));
    }
    let names = stage.gases().iter().map(|(gas, _)| gas.as_str());
    let harmful: Vec<&str> = names.filter(|gas| HARMFUL.contains(gas)).collect();
    (!harmful.is_empty()).then(|| (harmful.join(" + "), true))
}

fn caution(stage: &Stage, forbidden: bool) -> Option<Note> {
    let (gases, known) = gases(stage)?;
    let residue = stage.residue().to_string();
    let heat = match forbidden {
        true => "",
        false => " Heat it only in a fume cupboard.",
    };
    let note = match known {
        true => {
            let text = format!(
                "The stage to {residue} gives off {gases}. This harms when it is breathed in.{heat}"
            );
            Note::new("harmful_gas", text).with("source", SOURCE)
        }
        false => {
            let text = format!(
                "Nothing is known here of what leaves in the stage to {residue}. It may burn or be toxic.{heat}"
            );
            Note::new("unknown_gas", text)
        }
    };
    Some(note.with("gases", gases).with("residue", residue))
}
