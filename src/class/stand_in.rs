//! Stand-in readings for a pupil who was absent. They are always labelled as such.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::formula::Formula;
use crate::gravimetry::{Method, Weighings};
use crate::mistake::{Error, Fault, SimulatedBench, Simulator};
use crate::number::Reading;
use crate::text::Note;

/// The generator of the readings. With another number, the same seed gives other readings.
const GENERATOR: &str = "effloresce stand-in 2 (ChaCha8)";

/// A maker of readings for a pupil who was absent.
///
/// The same seed, hydrate, balance, mass and fault give the same readings on every machine, and
/// in every release that names the same [`generator`](StandInReadings::generator).
///
/// ```
/// use effloresce::class::StandIn;
/// let readings = StandIn::new("MgSO4·7H2O".parse()?, 3, "0.001".parse()?)
///     .sample_mass("2.5".parse()?)
///     .readings()?;
/// assert_eq!(readings.generator(), "effloresce stand-in 2 (ChaCha8)");
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
    /// Creates a maker of readings of this hydrate, at a balance with this readability in grams.
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

    /// Sets the rules of the class: its criterion for constant mass and its atomic weights.
    #[must_use]
    pub fn method(mut self, method: Method) -> Self {
        self.method = method;
        self
    }

    /// Sets about how much of the hydrate is taken, in grams. By default it is what the balance needs,
    /// and at least 2 g.
    #[must_use]
    pub fn sample_mass(mut self, mass: Reading) -> Self {
        self.sample_mass = Some(mass);
        self
    }

    /// Sets what went wrong at the bench; nothing by default.
    #[must_use]
    pub fn fault(mut self, fault: impl Into<Option<Fault>>) -> Self {
        self.fault = fault.into();
        self
    }

    /// Returns the readings.
    ///
    /// # Errors
    /// Fails as [`Simulator::new`], [`Simulator::sample_mass`] and [`Simulator::fault`] do: if what was
    /// issued is not a hydrate, if the readability is impossible or needs a larger sample, or if this
    /// salt cannot show the fault.
    pub fn readings(&self) -> Result<StandInReadings, Error> {
        let mut simulator =
            Simulator::new(&self.issued, self.readability)?.method(self.method.clone())?;
        if let Some(mass) = self.sample_mass {
            simulator = simulator.sample_mass(mass)?;
        }
        Ok(StandInReadings {
            issued: self.issued.clone(),
            seed: self.seed,
            bench: simulator.fault(self.fault)?.bench(self.seed)?,
            notes: Vec::new(),
        })
    }
}

/// Readings that nobody weighed. Every text that shows them says so.
#[derive(Debug, Clone, PartialEq)]
pub struct StandInReadings {
    issued: Formula,
    seed: u64,
    bench: SimulatedBench,
    notes: Vec<Note>,
}

impl StandInReadings {
    /// Adds the notes from reading the issued formula's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// Returns the hydrate that the readings are of.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// Returns the seed, from which the readings can be made again.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// Returns the name of the generator, with its version.
    #[must_use]
    pub fn generator(&self) -> &'static str {
        GENERATOR
    }

    /// Returns the simulated bench: its readings, its fault, its true masses.
    #[must_use]
    pub fn bench(&self) -> &SimulatedBench {
        &self.bench
    }

    /// Returns the readings as the weighings of a bench.
    #[must_use]
    pub fn weighings(&self) -> Weighings {
        self.bench.weighings()
    }

    /// Returns the notes from reading the issued formula's text.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the header of a class sheet for these readings, as one line of CSV.
    #[must_use]
    pub fn sheet_header(&self) -> String {
        line(
            self.sheet_columns("", None)
                .into_iter()
                .map(|(name, _)| name),
        )
    }

    /// Returns the row of a class sheet under [`sheet_header`](StandInReadings::sheet_header), as one
    /// line of CSV. `stand_in` is `yes`. The fault is not in it, because pupils see the sheet.
    #[must_use]
    pub fn sheet_row(&self, bench: &str, pupil: Option<&str>) -> String {
        line(
            self.sheet_columns(bench, pupil)
                .into_iter()
                .map(|(_, cell)| cell),
        )
    }

    /// Returns the header and the cell of each column.
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

/// Returns cells as one line of CSV, with quotation marks if they are needed.
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

/// A seed. One above 2⁵³ is written as text, because some readers of JSON would round it.
#[cfg(feature = "serde")]
struct Seed(u64);

#[cfg(feature = "serde")]
impl serde::Serialize for Seed {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        const EXACT_EVERYWHERE: u64 = 1 << 53;
        match self.0 {
            seed @ ..=EXACT_EVERYWHERE => serializer.serialize_u64(seed),
            seed => serializer.collect_str(&seed),
        }
    }
}

#[cfg(feature = "serde")]
crate::text::fields!(StandInReadings, it, {
    "stand_in": true,
    "seed": Seed(it.seed),
    "generator": GENERATOR,
    "issued": it.issued,
    "readability": it.bench.readability(),
    "fault": it.bench.fault(),
    "crucible": it.bench.container(),
    "crucible_hydrate": it.bench.with_hydrate(),
    "heated": it.bench.heated(),
    "notes": it.notes,
});

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
        assert!(marked.rows()[0].dehydration().is_some());
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
