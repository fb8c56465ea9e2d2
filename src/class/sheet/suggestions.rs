//! What a header in other words probably means. Nothing is read by it: it is only suggested.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::columns::{PLAIN, SheetColumn, normal};
use crate::gravimetry::Quantity;
use crate::text::{likely, visible};

/// The longest header, in bytes, that is looked at.
const LONGEST: usize = 60;
/// The most headers of a row that are looked at.
const MOST_HEADERS: usize = 100;
/// The most lines that one message suggests.
const MOST_SUGGESTED: usize = 12;

/// A header, and the column that it may be.
pub(super) struct Suggestion {
    pub(super) header: String,
    pub(super) column: SheetColumn,
}

impl Suggestion {
    /// Returns the option of the answer key that reads the header so, quoted for a shell.
    pub(super) fn option(&self) -> String {
        let header = self.header.replace('\'', "'\\''");
        format!("--map '{header}={}'", self.column.name())
    }
}

/// Returns the options that read all these headers, one after the other.
pub(super) fn options(suggestions: &[Suggestion]) -> String {
    let options = suggestions.iter().take(MOST_SUGGESTED);
    let options: Vec<String> = options.map(Suggestion::option).collect();
    options.join(" ")
}

/// Returns what the headers may mean that have no meaning here. A column is suggested once, and not if
/// `known` has it already.
pub(super) fn suggestions<'h>(
    headers: impl Iterator<Item = &'h str>,
    known: impl Iterator<Item = SheetColumn>,
) -> Vec<Suggestion> {
    let mut taken: BTreeSet<SheetColumn> = known.collect();
    let mut found = Vec::new();
    for header in headers.take(MOST_HEADERS) {
        // A header that is cut or escaped where it is shown could not be copied.
        if header.len() > LONGEST || visible(header) != header {
            continue;
        }
        let column = column(header, &taken).filter(|column| !taken.contains(column));
        if let Some(column) = column {
            taken.insert(column);
            found.push(Suggestion {
                header: header.into(),
                column,
            });
        }
    }
    found
}

fn column(header: &str, taken: &BTreeSet<SheetColumn>) -> Option<SheetColumn> {
    let header = normal(header);
    let words = Words::of(&header);
    // A crucible may have a number.
    if words.any(&["number", "no", "nr", "label", "nummer"]) {
        return None;
    }
    // A mass would say so.
    if let [word] = words.words[..] {
        if SALTS.contains(&word) {
            return Some(SheetColumn::Issued);
        }
    }
    words
        .answer()
        .or_else(|| words.weighing(taken))
        .or_else(|| words.name())
        .or_else(|| misspelt(&header))
}

/// Returns the column whose name differs by a few letters only.
fn misspelt(header: &str) -> Option<SheetColumn> {
    let columns = PLAIN
        .into_iter()
        .chain(Quantity::ALL.map(SheetColumn::Reported));
    let columns = columns.chain((1..=3).map(SheetColumn::Heated));
    let named: Vec<(String, SheetColumn)> = columns.map(|c| (c.name().into_owned(), c)).collect();
    let names: Vec<&str> = named.iter().map(|(name, _)| name.as_str()).collect();
    let name = likely(header, &names)?;
    named
        .iter()
        .find(|(own, _)| own == name)
        .map(|(_, column)| *column)
}

const CONTAINER: [&str; 16] = [
    "crucible",
    "crucibles",
    "container",
    "dish",
    "boat",
    "tube",
    "vessel",
    "beaker",
    "tare",
    "tiegel",
    "schale",
    "gefäß",
    "becherglas",
    "reagenzglas",
    "creuset",
    "coupelle",
];
const HYDRATE: [&str; 18] = [
    "hydrate",
    "hydrated",
    "sample",
    "crystals",
    "salt",
    "contents",
    "before",
    "filled",
    "full",
    "substance",
    "einwaage",
    "hydrat",
    "salz",
    "inhalt",
    "vor",
    "plein",
    "hydraté",
    "échantillon",
];
const RESIDUE: [&str; 11] = [
    "residue",
    "anhydrous",
    "dried",
    "dry",
    "rückstand",
    "auswaage",
    "wasserfrei",
    "wasserfreies",
    "résidu",
    "residu",
    "anhydre",
];
const HEATED: [&str; 16] = [
    "heated",
    "heating",
    "reheated",
    "weighing",
    "after",
    "ignition",
    "ignited",
    "cooled",
    "nach",
    "erhitzen",
    "erhitzt",
    "glühen",
    "après",
    "apres",
    "chauffe",
    "chauffage",
];
const BEFORE: [&str; 3] = ["before", "vor", "avant"];
const WATER: [&str; 5] = ["water", "h2o", "wasser", "kristallwasser", "eau"];
const LOST: [&str; 4] = ["lost", "loss", "verlust", "massenverlust"];
/// Headers of what was issued.
const SALTS: [&str; 5] = ["salt", "salts", "salz", "substance", "substanz"];
const SALT: [&str; 2] = ["salt", "salz"];
const RATIO: [&str; 4] = ["ratio", "x", "verhältnis", "stoffmengenverhältnis"];
const FORMULA: [&str; 3] = ["formula", "formel", "summenformel"];
const MOLES: [&str; 6] = ["mol", "mols", "mole", "moles", "amount", "stoffmenge"];
const PERCENT: [&str; 6] = [
    "percent",
    "percentage",
    "pct",
    "prozent",
    "anteil",
    "massenanteil",
];
/// Words for columns without a number, with the column.
const NAMES: [(SheetColumn, &[&str]); 6] = [
    (
        SheetColumn::Pupil,
        &[
            "pupil",
            "pupils",
            "student",
            "students",
            "learner",
            "candidate",
            "name",
            "names",
            "initials",
            "schüler",
            "schülerin",
            "élève",
            "eleve",
        ],
    ),
    (
        SheetColumn::Bench,
        &[
            "bench", "group", "team", "station", "place", "table", "seat", "pair", "platz",
            "gruppe", "tisch", "poste", "groupe",
        ],
    ),
    (
        SheetColumn::Balance,
        &["balance", "scale", "scales", "waage"],
    ),
    (
        SheetColumn::Period,
        &[
            "period", "lesson", "session", "class", "form", "stunde", "klasse",
        ],
    ),
    (
        SheetColumn::Issued,
        &["issued", "compound", "verbindung", "ausgegeben"],
    ),
    (
        SheetColumn::Notes,
        &[
            "notes",
            "note",
            "remarks",
            "remark",
            "comments",
            "comment",
            "bemerkung",
            "bemerkungen",
            "notizen",
        ],
    ),
];

/// The words of a header.
struct Words<'h> {
    words: Vec<&'h str>,
    percent: bool,
}

impl<'h> Words<'h> {
    fn of(header: &'h str) -> Self {
        let is_end = |c: char| !c.is_alphanumeric();
        let words = header.split(is_end).filter(|word| !word.is_empty());
        Words {
            words: words.collect(),
            percent: header.contains('%'),
        }
    }

    fn any(&self, of: &[&str]) -> bool {
        self.words.iter().any(|word| of.contains(word))
    }

    /// Returns the answer that the header asks for.
    fn answer(&self) -> Option<SheetColumn> {
        let is = |quantity| Some(SheetColumn::Reported(quantity));
        let water = self.any(&WATER);
        let lost = water || self.any(&LOST);
        if self.any(&RATIO) {
            is(Quantity::Ratio)
        } else if self.any(&FORMULA) {
            is(Quantity::Formula)
        } else if self.percent || self.any(&PERCENT) {
            is(Quantity::PercentWater).filter(|_| water)
        } else if self.any(&MOLES) {
            let salt = self.any(&RESIDUE) || self.any(&SALT);
            match (water, salt) {
                (true, false) => is(Quantity::MolWater),
                (false, true) => is(Quantity::MolSalt),
                _ => None,
            }
        } else if lost && !self.any(&CONTAINER) && !self.any(&HYDRATE) {
            is(Quantity::WaterMass)
        } else {
            None
        }
    }

    /// Returns the weighing or the mass that the header names.
    fn weighing(&self, taken: &BTreeSet<SheetColumn>) -> Option<SheetColumn> {
        let (container, hydrate) = (self.any(&CONTAINER), self.any(&HYDRATE));
        let heated = self.any(&HEATED) || (container && self.any(&RESIDUE));
        // `before heating` is not after it.
        if heated && !self.any(&BEFORE) {
            let numbers = self.words.iter();
            let number = numbers
                .rev()
                .find_map(|word| word.trim_end_matches(char::is_alphabetic).parse().ok());
            let free = |number: &u32| !taken.contains(&SheetColumn::Heated(*number));
            return number
                .or_else(|| (1..=9).find(free))
                .map(SheetColumn::Heated);
        }
        match (container, hydrate, self.any(&RESIDUE)) {
            (true, true, false) => Some(SheetColumn::CrucibleHydrate),
            (true, false, false) => Some(SheetColumn::Crucible),
            (false, true, false) => Some(SheetColumn::Hydrate),
            (false, _, true) => Some(SheetColumn::Residue),
            _ => None,
        }
    }

    fn name(&self) -> Option<SheetColumn> {
        let named = NAMES.iter().find(|(_, words)| self.any(words));
        named.map(|(column, _)| *column)
    }
}
