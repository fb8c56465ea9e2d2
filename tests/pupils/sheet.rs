//! A class sheet in the making.

use std::fmt::Write;

use effloresce::class::{Answer, Marker, Sheet, Verdict};
use effloresce::gravimetry::{Method, Quantity};

use super::bench::Bench;

/// A sheet with benches, and what was handed in from each.
pub(crate) struct Class {
    text: String,
    benches: usize,
    handed_in: usize,
}

const QUANTITIES: [&str; 8] = [
    "reported_hydrate_g",
    "reported_residue_g",
    "reported_water_g",
    "reported_percent_water",
    "reported_mol_salt",
    "reported_mol_water",
    "reported_ratio",
    "reported_formula",
];

impl Class {
    pub(crate) fn new() -> Class {
        let text = format!(
            "bench,pupil,issued,readability_g,crucible_g,crucible_hydrate_g,\
             heated_1_g,heated_2_g,heated_3_g,heated_4_g,{}\n",
            QUANTITIES.join(",")
        );
        Class {
            text,
            benches: 0,
            handed_in: 0,
        }
    }

    /// A bench with its readings; what is handed in after it is from it.
    pub(crate) fn bench(&mut self, bench: &Bench) {
        self.benches += 1;
        let mut heated: Vec<String> = bench.heated().iter().map(|m| bench.shown(*m)).collect();
        heated.resize(4, String::new());
        writeln!(
            self.text,
            "{},,{},{},{},{},{},,,,,,,,",
            self.benches,
            bench.salt.issued,
            bench.shown(1),
            bench.shown(bench.container),
            bench.shown(bench.with_hydrate()),
            heated.join(",")
        )
        .unwrap();
    }

    /// One submission.
    pub(crate) fn hand_in(&mut self, answers: &[(Quantity, String)]) {
        self.handed_in += 1;
        write!(self.text, "{},{},,,,,,,,", self.benches, self.handed_in).unwrap();
        for quantity in Quantity::ALL {
            let answer = answers.iter().find(|(q, _)| *q == quantity);
            let cell = answer.map_or("", |(_, text)| text);
            write!(self.text, ",{cell}").unwrap();
        }
        self.text.push('\n');
    }

    /// What each submission's answers come to, in order; those left out are not among them.
    pub(crate) fn marked(&self) -> Vec<Vec<Answer>> {
        self.marked_by(Method::new())
    }

    /// The same in a class that heats to this residue.
    pub(crate) fn marked_to(&self, residue: &str) -> Vec<Vec<Answer>> {
        let residue = residue.parse().unwrap();
        self.marked_by(Method::new().residue(&residue).unwrap())
    }

    fn marked_by(&self, method: Method) -> Vec<Vec<Answer>> {
        let sheet = Sheet::read(self.text.as_bytes()).unwrap();
        assert!(sheet.problems().is_empty(), "{:?}", sheet.problems());
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), method);
        let marked = marker.mark(&sheet);
        assert!(marked.problems().is_empty(), "{:?}", marked.problems());
        let given = |answers: &[Answer]| -> Vec<Answer> {
            let given = answers.iter().filter(|a| a.verdict() != Verdict::Missing);
            given.cloned().collect()
        };
        let rows = marked.rows().iter().filter(|row| !row.has_own_readings());
        let all: Vec<Vec<Answer>> = rows.map(|row| given(row.answers())).collect();
        assert_eq!(all.len(), self.handed_in);
        all
    }
}
