//! The cautions for heating in stages: those for the solid, and the gases that the stages give off.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::stage::{Stage, Stages};
use crate::gravimetry::hazard::HeatingSafety;
use crate::gravimetry::salts::{Decomposition, Severity};
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
        match self.stages().iter().any(|stage| harm(stage).is_some()) {
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
        let safety = match self.stages().last() {
            Some(last) => HeatingSafety::leaving(self.start(), last.residue()),
            None => HeatingSafety::of(self.start()),
        };
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

/// What leaves in a stage and may harm.
enum Harm {
    /// Known gases that harm.
    Gases(String),
    /// Vapours that the catalogue names.
    Vapours(&'static Decomposition),
    /// A loss that nothing is known of.
    Unknown(String),
}

fn harm(stage: &Stage) -> Option<Harm> {
    if let Some(known) = stage.catalogue {
        return Some(Harm::Vapours(known));
    }
    if stage.gases().is_empty() {
        return stage.lost().map(Harm::Unknown);
    }
    let names = stage.gases().iter().map(|(gas, _)| gas.as_str());
    let harmful: Vec<&str> = names.filter(|gas| HARMFUL.contains(gas)).collect();
    (!harmful.is_empty()).then(|| Harm::Gases(harmful.join(" + ")))
}

fn caution(stage: &Stage, forbidden: bool) -> Option<Note> {
    let residue = stage.residue().to_string();
    let (code, text, gases, source) = match harm(stage)? {
        Harm::Gases(gases) => {
            // The difference cannot tell SO3 from SO2 and O2, which have the same atoms.
            let (named, gases) = match gases.contains("SO3") && !gases.contains("SO2") {
                true => (
                    format!("{gases} (SO3 in part as SO2 and O2)"),
                    format!("{gases} + SO2"),
                ),
                false => (gases.clone(), gases),
            };
            let text = format!(
                "The stage to {residue} gives off {named}. This harms when it is breathed in."
            );
            ("harmful_gas", text, gases, Some(SOURCE))
        }
        Harm::Vapours(known) => {
            let gases = known.gases();
            let text =
                format!("The stage to {residue} gives off {gases}. It may burn or be toxic.");
            ("vapours", text, gases.to_string(), Some(known.source()))
        }
        Harm::Unknown(gases) => {
            let text = format!(
                "Nothing is known here of what leaves in the stage to {residue}. It may burn or be toxic."
            );
            ("unknown_gas", text, gases, None)
        }
    };
    let heat = match forbidden {
        true => "",
        false => " Heat it only in a fume cupboard.",
    };
    let note = Note::new(code, format!("{text}{heat}"));
    let note = match source {
        Some(source) => note.with("source", source),
        None => note,
    };
    Some(note.with("gases", gases).with("residue", residue))
}
