//! Stand-in readings for somebody who was absent, which say what they are.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;

use crate::formula::Formula;
use crate::gravimetry::{Method, Weighings};
use crate::mistake::{Error, Fault, SimulatedBench, Simulator};
use crate::number::Reading;
use crate::text::Note;

/// What the readings are made with. Another number means that the same seed gives other readings.
const GENERATOR: &str = "effloresce stand-in 1 (ChaCha8)";

/// Makes readings for a pupil who was absent, so that there is something to work out.
///
/// The same seed, hydrate, balance, mass and fault give the same readings on every machine, and
/// in every release that names the same [`generator`](StandInReadings::generator).
///
/// ```
/// use effloresce::class::StandIn;
/// let readings = StandIn::new("MgSO4·7H2O".parse()?, 3, "0.001".parse()?)
///     .sample_mass("2.5".parse()?)
///     .readings()?;
/// assert_eq!(readings.generator(), "effloresce stand-in 1 (ChaCha8)");
/// assert!(readings.sheet_header().starts_with("bench,pupil,issued,readability_g,stand_in,crucible_g,"));
/// assert!(readings.sheet_row("Heron", Some("b")).starts_with("Heron,b,MgSO4·7H2O,0.001,yes,"));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct StandIn {
    issued: Formula,
    seed: u64,
    readability: Reading,
    method: Method,
    sample_mass: Option<Reading>,
    fault: Option<Fault>,
}

impl StandIn {
    /// Readings of this hydrate at a balance with this readability in grams.
    #[must_use]
    pub fn new(issued: Formula, seed: u64, readability: Reading) -> Self {
        StandIn {
            issued,
            seed,
            readability,
            method: Method::new(),
            sample_mass: None,
            fault: None,
        }
    }

    /// The rules that the class works by: its criterion for constant mass and its atomic weights.
    #[must_use]
    pub fn method(mut self, method: Method) -> Self {
        self.method = method;
        self
    }

    /// About how much of the hydrate is taken, in grams; what the balance asks for, and at least
    /// 2 g, unless given.
    #[must_use]
    pub fn sample_mass(mut self, mass: Reading) -> Self {
        self.sample_mass = Some(mass);
        self
    }

    /// What went wrong at the bench; nothing unless given.
    #[must_use]
    pub fn fault(mut self, fault: impl Into<Option<Fault>>) -> Self {
        self.fault = fault.into();
        self
    }

    /// The readings.
    ///
    /// # Errors
    /// As [`Simulator::new`], [`Simulator::sample_mass`] and [`Simulator::fault`]: where what was
    /// issued is no hydrate, where the balance is none or needs a larger sample, and where the
    /// fault cannot be shown with this salt.
    pub fn readings(&self) -> Result<StandInReadings, Error> {
        let mut simulator =
            Simulator::new(&self.issued, self.readability)?.method(self.method.clone())?;
        if let Some(mass) = self.sample_mass {
            simulator = simulator.sample_mass(mass)?;
        }
        let mut rng = ChaCha8Rng::seed_from_u64(self.seed);
        Ok(StandInReadings {
            issued: self.issued.clone(),
            seed: self.seed,
            bench: simulator.fault(self.fault)?.bench(&mut rng)?,
            notes: Vec::new(),
        })
    }
}

/// Readings that nobody weighed. Wherever they are written, they are called so.
#[derive(Debug, Clone, PartialEq)]
pub struct StandInReadings {
    issued: Formula,
    seed: u64,
    bench: SimulatedBench,
    notes: Vec<Note>,
}

impl StandInReadings {
    /// Adds what was noted when the issued formula's text was read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The hydrate that the readings are of.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// What the readings can be made from again.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// What made the readings, with its version.
    #[must_use]
    pub fn generator(&self) -> &'static str {
        GENERATOR
    }

    /// The bench that was simulated: its readings, its fault, its true masses.
    #[must_use]
    pub fn bench(&self) -> &SimulatedBench {
        &self.bench
    }

    /// The readings as a bench's weighings.
    #[must_use]
    pub fn weighings(&self) -> Weighings {
        self.bench.weighings()
    }

    /// What was noted when the issued formula's text was read.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// The columns of a class sheet that these readings fill, as one line of CSV.
    #[must_use]
    pub fn sheet_header(&self) -> String {
        line(
            self.sheet_columns("", None)
                .into_iter()
                .map(|(name, _)| name),
        )
    }

    /// The row of a class sheet under [`sheet_header`](StandInReadings::sheet_header), as one line
    /// of CSV; `stand_in` says `yes`. The fault is not in it: pupils see the sheet.
    #[must_use]
    pub fn sheet_row(&self, bench: &str, pupil: Option<&str>) -> String {
        line(
            self.sheet_columns(bench, pupil)
                .into_iter()
                .map(|(_, cell)| cell),
        )
    }

    /// The same by column: the header and the cell.
    #[must_use]
    pub fn sheet_columns(&self, bench: &str, pupil: Option<&str>) -> Vec<(String, String)> {
        let mut columns: Vec<(String, String)> = [
            ("bench", bench.to_string()),
            ("pupil", pupil.unwrap_or_default().to_string()),
            ("issued", self.issued.to_string()),
            ("readability_g", self.bench.readability().to_string()),
            ("stand_in", "yes".to_string()),
            ("crucible_g", self.bench.container().to_string()),
            ("crucible_hydrate_g", self.bench.with_hydrate().to_string()),
        ]
        .into_iter()
        .map(|(name, cell)| (name.to_string(), cell))
        .collect();
        for (number, mass) in (1_u32..).zip(self.bench.heated()) {
            columns.push((format!("heated_{number}_g"), mass.to_string()));
        }
        let made = format!("stand-in readings: {GENERATOR}; seed {}", self.seed);
        columns.push(("notes".to_string(), made));
        columns
    }
}

/// Cells as one line of CSV, quoted where they must be.
fn line(cells: impl Iterator<Item = String>) -> String {
    let quoted = cells.map(|cell| {
        if cell.contains([',', ';', '\t', '"', '\n', '\r']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell
        }
    });
    quoted.collect::<Vec<String>>().join(",")
}

#[cfg(feature = "serde")]
impl serde::Serialize for StandInReadings {
    /// In the shape of the JSON-lines contract. A seed that some readers of JSON would round, above
    /// 2⁵³, is a text.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        const EXACT_EVERYWHERE: u64 = 1 << 53;
        let mut out = serializer.serialize_struct("StandInReadings", 10)?;
        out.serialize_field("stand_in", &true)?;
        if self.seed <= EXACT_EVERYWHERE {
            out.serialize_field("seed", &self.seed)?;
        } else {
            out.serialize_field("seed", &self.seed.to_string())?;
        }
        out.serialize_field("generator", GENERATOR)?;
        out.serialize_field("issued", &self.issued)?;
        out.serialize_field("readability", &self.bench.readability())?;
        out.serialize_field("fault", &self.bench.fault())?;
        out.serialize_field("crucible", &self.bench.container())?;
        out.serialize_field("crucible_hydrate", &self.bench.with_hydrate())?;
        out.serialize_field("heated", self.bench.heated())?;
        out.serialize_field("notes", &self.notes)?;
        out.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};

    fn readings(seed: u64) -> StandInReadings {
        StandIn::new(
            "MgSO4·7H2O".parse().unwrap(),
            seed,
            "0.001".parse().unwrap(),
        )
        .fault(Fault::SolidLost)
        .readings()
        .unwrap()
    }

    #[test]
    fn a_row_pasted_into_a_sheet_is_known_for_what_it_is() {
        let readings = readings(3);
        let odd = "Heron, \"by the door\"";
        let text = format!(
            "{}\n{}\n",
            readings.sheet_header(),
            readings.sheet_row(odd, Some("b"))
        );
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        assert!(sheet.problems().is_empty(), "{:?}", sheet.problems());
        assert!(sheet.notes().is_empty(), "{:?}", sheet.notes());
        let row = &sheet.rows()[0];
        assert_eq!(
            (row.bench(), row.pupil(), row.stand_in()),
            (odd, Some("b"), true)
        );
        assert_eq!(row.crucible(), Some(readings.bench().container()));
        assert_eq!(row.heated(), readings.bench().heated());
        assert!(row.notes().unwrap().ends_with("seed 3"));
        assert!(!text.contains("solid_lost"));
        let marked = Marker::new(readings.issued().clone(), Method::new()).mark(&sheet);
        assert!(marked.rows()[0].run().is_some());
        assert_eq!(marked.pooled().n(), 0);
    }

    #[cfg(feature = "serde")]
    #[test]
    fn they_say_what_they_are_on_the_wire() {
        let wire = serde_json::to_value(readings(3)).unwrap();
        assert_eq!(wire["stand_in"], true);
        assert_eq!(wire["seed"], 3);
        assert_eq!(wire["generator"], GENERATOR);
        assert_eq!(wire["fault"], "solid_lost");
        assert_eq!(wire["readability"], "0.001");
        assert_eq!(wire["issued"], "MgSO4·7H2O");
        let wire = serde_json::to_value(readings(u64::MAX)).unwrap();
        assert_eq!(wire["seed"], "18446744073709551615");
    }
}
