//! Reads the files in `data/`.

use std::collections::BTreeMap;

use serde_json::Value;

pub(crate) const ATOMIC_WEIGHTS: &str = include_str!("data/atomic_weights.csv");
pub(crate) const REVISIONS_2024: &str = include_str!("data/atomic_weights_2024_revisions.csv");
pub(crate) const PACKAGES: &str = include_str!("data/weights_against_packages.csv");
pub(crate) const ISOTOPES: &str = include_str!("data/isotopes.csv");
pub(crate) const FORMULA_VECTORS: &str = include_str!("data/formula_vectors.csv");
pub(crate) const FORMULA_REJECTS: &str = include_str!("data/formula_rejects.csv");
pub(crate) const HANDBOOK: &str = include_str!("data/handbook_molar_masses.csv");
pub(crate) const THERMOCHEMISTRY: &str = include_str!("data/hydrate_thermochemistry.csv");
pub(crate) const HAZARD_STATEMENTS: &str = include_str!("data/hazard_statements.csv");
pub(crate) const HYDRATION: &str = include_str!("data/hydration_enthalpies.csv");

const EXAMPLES: [&str; 9] = [
    include_str!("data/a_hydrate_mass_loss.jsonl"),
    include_str!("data/a2_hydrate_mass_loss.jsonl"),
    include_str!("data/b_theoretical_water.jsonl"),
    include_str!("data/c_empirical_formula.jsonl"),
    include_str!("data/d_balancing.jsonl"),
    include_str!("data/e_limiting_yield.jsonl"),
    include_str!("data/f_gravimetric.jsonl"),
    include_str!("data/g_numbers.jsonl"),
    include_str!("data/h_hydrate_naming.jsonl"),
];

/// One row of a CSV file, by column name.
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    #[track_caller]
    pub(crate) fn get(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The cell, where it is not empty.
    #[track_caller]
    pub(crate) fn filled(&self, column: &str) -> Option<&str> {
        Some(self.get(column)).filter(|cell| !cell.is_empty())
    }
}

/// The rows of a CSV file whose head comments start with `#`.
pub(crate) fn rows(text: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            let cells = header.iter().zip(record.iter());
            Row(cells.map(|(k, v)| (k.to_owned(), v.to_owned())).collect())
        })
        .collect()
}

/// How a worked example may be tested.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Use {
    /// The printed figure is the full-precision result, rounded.
    Exact,
    /// The source rounded on the way, used other weights, or prints limits.
    Tolerance,
    /// The printed figure is wrong.
    SourceError,
    /// A rule of a standard, which the crate must follow.
    Definition,
}

/// One worked example.
pub(crate) struct Example {
    pub(crate) id: String,
    pub(crate) kind: String,
    pub(crate) shelf: String,
    pub(crate) use_: Use,
    pub(crate) inputs: Value,
    pub(crate) expected: Value,
    pub(crate) recomputed: Value,
}

impl Example {
    fn read(line: &str) -> Example {
        let row: Value = serde_json::from_str(line).unwrap();
        let text = |key: &str| row[key].as_str().unwrap_or_default().to_owned();
        for key in ["id", "source", "shelf"] {
            assert!(!text(key).is_empty(), "a row without {key}: {line}");
        }
        Example {
            id: text("id"),
            kind: text("kind"),
            shelf: text("shelf"),
            use_: match row["use"].as_str() {
                Some("exact") => Use::Exact,
                Some("tolerance") => Use::Tolerance,
                Some("source-error") => Use::SourceError,
                Some("definition") => Use::Definition,
                other => panic!("{}: unknown use {other:?}", text("id")),
            },
            inputs: row["inputs"].clone(),
            expected: row["expected"].clone(),
            recomputed: row["recomputed"].clone(),
        }
    }

    /// A text of the problem.
    #[track_caller]
    pub(crate) fn text(&self, key: &str) -> &str {
        self.inputs[key]
            .as_str()
            .unwrap_or_else(|| panic!("{}: no input {key}", self.id))
    }

    /// Whether the problem gives this.
    pub(crate) fn has(&self, key: &str) -> bool {
        !self.inputs[key].is_null()
    }

    /// A list of texts of the problem.
    #[track_caller]
    pub(crate) fn list(&self, key: &str) -> Vec<&str> {
        let items = self.inputs[key]
            .as_array()
            .unwrap_or_else(|| panic!("{}: no list {key}", self.id));
        items.iter().map(|item| item.as_str().unwrap()).collect()
    }
}

/// Every worked example.
pub(crate) fn examples() -> Vec<Example> {
    let lines = EXAMPLES.iter().flat_map(|file| file.lines());
    lines.map(Example::read).collect()
}
