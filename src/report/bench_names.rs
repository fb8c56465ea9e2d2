//! The names of benches in one class: as the sheet has them and distinct, or numbers that name nobody.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{Marked, MarkedRow};
use crate::gravimetry::Dehydration;
use crate::number::Ratio;

/// The names of the benches of one class.
pub(super) struct BenchNames<'a> {
    /// The number of benches of each name.
    namesakes: BTreeMap<&'a str, usize>,
    /// The number of the bench on each line, if names are not to be shown.
    numbers: Option<BTreeMap<u64, usize>>,
}

impl<'a> BenchNames<'a> {
    /// The names that the sheet has.
    pub(super) fn new(marked: &'a Marked) -> Self {
        let mut namesakes = BTreeMap::new();
        for row in benches(marked) {
            *namesakes.entry(row.bench()).or_default() += 1;
        }
        BenchNames {
            namesakes,
            numbers: None,
        }
    }

    /// The names that the sheet has, or numbers if a bench may be named like a pupil. The numbers follow x, as
    /// the order of the sheet may be that of the pupils' names.
    pub(super) fn without_pupils(marked: &'a Marked) -> Self {
        let mut names = BenchNames::new(marked);
        let rows = marked.rows().iter();
        let pupils: Vec<&str> = rows.filter_map(MarkedRow::pupil).collect();
        if names_a_pupil(names.namesakes.keys().copied(), &pupils) {
            let mut by_x: Vec<(Option<&Ratio>, u64)> = benches(marked)
                .map(|row| (row.dehydration().map(Dehydration::ratio), row.line()))
                .collect();
            by_x.sort_unstable();
            let lines = by_x.into_iter().map(|(_, line)| line);
            names.numbers = Some(lines.zip(1..).collect());
        }
        names
    }

    /// Whether the benches are numbered.
    pub(super) fn are_numbers(&self) -> bool {
        self.numbers.is_some()
    }

    /// The number of the bench on this line, if the benches are numbered.
    pub(super) fn number(&self, line: u64) -> Option<usize> {
        self.numbers.as_ref()?.get(&line).copied()
    }

    /// The bench, distinguished from others of its name by its period and its line.
    pub(super) fn of(&self, bench: &str, period: Option<&str>, line: u64) -> String {
        if self.are_numbers() {
            let number = self.number(line);
            return number.map_or_else(|| "A bench".into(), |number| format!("Bench {number}"));
        }
        if self.namesakes.get(bench).is_none_or(|count| *count < 2) {
            return bench.into();
        }
        match period {
            Some(period) => format!("{bench} (period {period}, line {line})"),
            None => format!("{bench} (line {line})"),
        }
    }

    /// The bench of a row.
    #[cfg(not(target_family = "wasm"))]
    pub(super) fn of_row(&self, row: &MarkedRow) -> String {
        self.of(row.bench(), row.period(), row.line())
    }
}

/// The rows with readings of their own.
fn benches(marked: &Marked) -> impl Iterator<Item = &MarkedRow> {
    marked.rows().iter().filter(|row| row.has_own_readings())
}

/// Whether a name may be that of a pupil: it has a word of a pupil's name, or the letters of a whole one.
pub(super) fn names_a_pupil<'n>(names: impl IntoIterator<Item = &'n str>, pupils: &[&str]) -> bool {
    // A single letter and a number alone name nobody.
    let tells = |word: &String| word.chars().any(char::is_alphabetic) && word.chars().count() > 1;
    let of_pupils: alloc::collections::BTreeSet<String> = pupils
        .iter()
        .flat_map(|pupil| words(pupil).filter(tells).chain([letters(pupil)]))
        .filter(|word| !word.is_empty())
        .collect();
    names.into_iter().any(|name| {
        let whole = letters(name);
        of_pupils.contains(&whole)
            || words(name).any(|word| tells(&word) && of_pupils.contains(&word))
    })
}

/// The words of a name in small letters.
fn words(name: &str) -> impl Iterator<Item = String> {
    let words = name.split(|c: char| !c.is_alphanumeric());
    words.map(str::to_lowercase)
}

/// The letters and digits of a name, in small letters.
fn letters(name: &str) -> String {
    words(name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bench_that_is_named_like_a_pupil_is_found() {
        for (bench, pupil) in [
            ("Ann Heron", "Ann Heron"),
            ("heron, ANN", "Ann Heron"),
            ("AnnHeron", "Ann Heron"),
            ("Bench of Ann", "Heron, Ann"),
            ("1", "1"),
            ("Žofie", "žofie k"),
        ] {
            assert!(names_a_pupil([bench], &[pupil]), "{bench} {pupil}");
        }
        for (bench, pupil) in [
            ("1", "Pupil 1"),
            ("A", "A Heron"),
            ("Agate", "A1"),
            ("", ""),
        ] {
            assert!(!names_a_pupil([bench], &[pupil]), "{bench} {pupil}");
        }
    }
}
