//! What rows have in common: the readings of a bench, the readability of a balance.

use alloc::collections::btree_map::Entry;
use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::collections::HashMap;

use super::cell::{flat, shown};
use super::row::Row;
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// Places of a mass in grams that the finest balances show; more were worked out, not read.
const MOST_PLACES: i32 = 7;

/// Adds a name in the form in which names are compared: without regard to case or to blanks.
fn write_key(name: Option<&str>, key: &mut String) {
    match name {
        Some(plain) if plain.bytes().all(|b| b.is_ascii_graphic()) => {
            key.extend(plain.chars().map(|c| c.to_ascii_lowercase()));
        }
        Some(name) => key.push_str(&flat(name).to_lowercase()),
        None => {}
    }
}

/// The rows of each bench. Benches of different periods are different.
fn benches(rows: &[Row]) -> HashMap<String, Vec<usize>> {
    let mut benches: HashMap<String, Vec<usize>> = HashMap::new();
    let mut key = String::new();
    for (index, row) in rows.iter().enumerate().filter(|(_, row)| row.named) {
        key.clear();
        write_key(row.period(), &mut key);
        // No name has a line's end in it.
        key.push('\n');
        write_key(Some(row.bench()), &mut key);
        match benches.get_mut(&key) {
            Some(members) => members.push(index),
            None => {
                benches.insert(key.clone(), alloc::vec![index]);
            }
        }
    }
    join_rows_without_period(&mut benches);
    benches
}

/// A bench has several runs, and a row leaves its readings blank: said, for it may cost marks.
fn run_chosen(rows: &[Row], index: usize) -> Option<Note> {
    let row = rows.get(index)?;
    let run = rows.get(row.readings_row?)?;
    let text = format!(
        "Line {} leaves its readings blank, and bench `{}` has several runs: it is marked by the one \
         in line {}; fill the readings in if it belongs to another.",
        row.line,
        shown(&row.bench),
        run.line
    );
    let note = Note::new("run_chosen", text).with("bench", row.bench.clone());
    Some(
        note.with("line", row.line.to_string())
            .with("of_line", run.line.to_string()),
    )
}

/// Rows that leave the period blank belong to the only bench of their name that has one.
fn join_rows_without_period(benches: &mut HashMap<String, Vec<usize>>) {
    let blank = benches.keys().filter(|key| key.starts_with('\n'));
    let blank: Vec<String> = blank.cloned().collect();
    if blank.len() == benches.len() {
        return;
    }
    let mut hours: HashMap<String, Vec<String>> = HashMap::new();
    for key in benches.keys().filter(|key| !key.starts_with('\n')) {
        let bench = key.find('\n').and_then(|at| key.get(at..));
        let bench = bench.unwrap_or_default();
        hours.entry(bench.into()).or_default().push(key.clone());
    }
    for key in blank {
        let Some([only]) = hours.get(&key).map(Vec::as_slice) else {
            continue;
        };
        let rows = benches.remove(&key).unwrap_or_default();
        if let Some(members) = benches.get_mut(only) {
            members.extend(rows);
            members.sort_unstable();
        }
    }
}

/// The same bench may stand in several rows: gives each the row whose readings count for it.
/// Returns the first row of each bench that has no readings anywhere.
pub(super) fn readings(rows: &mut [Row], notes: &mut Vec<Note>) -> Vec<usize> {
    let mut without = Vec::new();
    let mut repeated: Vec<(usize, usize)> = Vec::new();
    let mut chosen: Vec<usize> = Vec::new();
    for members in benches(rows).values() {
        if let [index] = *members.as_slice() {
            // A bench with one row shares with nobody.
            if let Some(row) = rows.get_mut(index) {
                row.readings_row = row.has_readings.then_some(index);
                without.extend((!row.has_readings).then_some(index));
            }
            continue;
        }
        let mut runs = BTreeMap::new();
        let mut first = None;
        let mut latest = None;
        let mut waiting = Vec::new();
        let whole = whole_runs(rows, members);
        for &index in members {
            let Some(row) = rows.get(index) else { continue };
            let whole_of = |row: &Row| {
                let index = whole.get(&row.heated_cut.then(|| row.ends())?)?;
                rows.get(*index)?.heated_ends_as(row).then_some(*index)
            };
            let own = if !row.has_readings {
                latest
            } else if row.readings_unreadable {
                Some(index)
            } else if let Some(whole) = whole_of(row) {
                Some(whole)
            } else {
                match runs.entry(row.weighings()) {
                    Entry::Occupied(run) => Some(*run.get()),
                    Entry::Vacant(run) => {
                        if let Some(first) = first.filter(|first| *first != index) {
                            repeated.push((first, index));
                        }
                        Some(*run.insert(index))
                    }
                }
            };
            match own {
                Some(own) => {
                    latest = Some(own);
                    if first.is_none() {
                        first = latest;
                    }
                }
                None => waiting.push(index),
            }
            if let Some(row) = rows.get_mut(index) {
                row.readings_row = own;
            }
        }
        if runs.len() > 1 {
            let blank = |index: &&usize| rows.get(**index).is_some_and(|row| !row.has_readings);
            chosen.extend(members.iter().filter(blank).copied());
        }
        match first {
            None => without.extend(members.first()),
            Some(_) => {
                for index in waiting {
                    if let Some(row) = rows.get_mut(index) {
                        row.readings_row = first;
                    }
                }
            }
        }
    }
    for (index, row) in rows.iter_mut().enumerate().filter(|(_, row)| !row.named) {
        row.readings_row = row.has_readings.then_some(index);
    }
    repeated.sort_by_key(|(_, again)| *again);
    for (first, again) in repeated {
        if let (Some(first), Some(again)) = (rows.get(first), rows.get(again)) {
            notes.push(
                Note::new(
                    "bench_repeated",
                    format!(
                        "Bench `{}` of line {} stands again in line {} with other readings; each \
                         is taken as a run of its own.",
                        shown(&again.bench),
                        first.line,
                        again.line
                    ),
                )
                .with("bench", again.bench.clone())
                .with("first_line", first.line.to_string())
                .with("line", again.line.to_string()),
            );
        }
    }
    chosen.sort_unstable();
    notes.extend(chosen.iter().filter_map(|index| run_chosen(rows, *index)));
    without.sort_unstable();
    without
}

/// Who shares a run of stand-in readings has stand-in readings; but a row without readings that
/// claims them changes nothing for the bench that weighed.
pub(super) fn stand_ins(rows: &mut [Row]) {
    let claimed = rows.iter().filter(|row| row.stand_in && row.has_readings);
    let runs: BTreeSet<usize> = claimed.filter_map(|row| row.readings_row).collect();
    for row in rows {
        row.stand_in |= row.readings_row.is_some_and(|run| runs.contains(&run));
    }
}

/// The rows of a bench that have whole runs, the first of each by the ends of the run; looked for
/// only where a run could be read in part.
fn whole_runs(rows: &[Row], members: &[usize]) -> BTreeMap<Vec<Option<Ratio>>, usize> {
    let mut whole = BTreeMap::new();
    let members = || {
        members
            .iter()
            .filter_map(|index| Some((*index, rows.get(*index)?)))
    };
    if members().any(|(_, row)| row.heated_cut) {
        for (index, row) in members().filter(|(_, row)| row.is_whole()) {
            whole.entry(row.ends()).or_insert(index);
        }
    }
    whole
}

/// One balance of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Balance {
    name: Option<String>,
    /// For each number of decimal places: how many readings have it, and the first line.
    written: BTreeMap<i32, (u64, u64)>,
}

/// From so many readings on, a single one with more places than all others does not speak for the
/// balance: it would move the criterion, and so the marks, of every other bench.
const LEAST_FOR_LONE: u64 = 8;

impl Balance {
    pub(super) fn readability(&self) -> Option<Ratio> {
        self.finest()
            .map(|(places, _)| Ratio::power_of_ten(-places))
    }

    /// The most decimal places that count, and the line where they were first written.
    fn finest(&self) -> Option<(i32, u64)> {
        let skipped = usize::from(self.lone().is_some());
        let (places, (_, line)) = self.written.iter().rev().nth(skipped)?;
        Some((*places, *line))
    }

    /// The line of the one reading that is finer than all others, where there are enough of them.
    fn lone(&self) -> Option<u64> {
        let all: u64 = self.written.values().map(|(count, _)| count).sum();
        let (_, (count, line)) = self.written.last_key_value()?;
        (*count == 1 && self.written.len() > 1 && all > LEAST_FOR_LONE).then_some(*line)
    }
}

/// Gives each row its balance.
pub(super) fn balances(rows: &mut [Row], notes: &mut Vec<Note>) -> Vec<Balance> {
    let mut balances: Vec<Balance> = Vec::new();
    let mut indices: BTreeMap<String, usize> = BTreeMap::new();
    let mut key = String::new();
    let mut too_fine: u64 = 0;
    for row in rows.iter_mut() {
        key.clear();
        write_key(row.balance(), &mut key);
        let index = match indices.get(&key) {
            Some(index) => *index,
            None => {
                balances.push(Balance {
                    name: row.balance().map(String::from),
                    written: BTreeMap::new(),
                });
                indices.insert(key.clone(), balances.len() - 1);
                balances.len() - 1
            }
        };
        row.balance_index = index;
        let Some(balance) = balances.get_mut(index) else {
            continue;
        };
        // Readings that nobody weighed say nothing of the balance.
        for mass in row.masses().filter(|_| !row.stand_in) {
            let places = mass.places();
            if places > MOST_PLACES {
                too_fine += 1;
            } else {
                balance.written.entry(places).or_insert((0, row.line)).0 += 1;
            }
        }
    }
    if too_fine > 0 {
        notes.push(
            Note::new(
                "too_many_places",
                format!(
                    "{too_fine} {} more than {MOST_PLACES} decimal places, which no balance shows; \
                     the readability is taken from the other readings.",
                    if too_fine == 1 {
                        "reading has"
                    } else {
                        "readings have"
                    }
                ),
            )
            .with("cells", too_fine.to_string()),
        );
    }
    notes.extend(balances.iter().filter_map(lone_note));
    notes.extend(coarser(&balances, rows));
    balances
}

fn lone_note(balance: &Balance) -> Option<Note> {
    let line = balance.lone()?;
    let readability = balance.readability()?.to_plain();
    Some(
        Note::new(
            "lone_finer_reading",
            format!(
                "One reading, in line {line}, has more decimal places than any other; it was not \
                 taken for what the balance shows ({readability} g)."
            ),
        )
        .with("line", line.to_string())
        .with("readability", readability),
    )
}

/// One note for each balance with readings of fewer places than it shows.
fn coarser(balances: &[Balance], rows: &[Row]) -> Vec<Note> {
    let mut counts: Vec<(u64, u64)> = balances.iter().map(|_| (0, 0)).collect();
    let shared: Vec<Option<Ratio>> = balances.iter().map(Balance::readability).collect();
    let finest: Vec<Option<i32>> = balances
        .iter()
        .map(|balance| balance.finest().map(|(places, _)| places))
        .collect();
    for row in rows {
        let own = row.readability.map(|reading| reading.value());
        let balance = finest.get(row.balance_index).copied().flatten();
        let coarser = |mass: &Reading| match (&own, balance) {
            (Some(own), _) => mass.last_place() > *own,
            (None, Some(places)) => mass.places() < places,
            (None, None) => false,
        };
        if own.is_none() && balance.is_none() {
            continue;
        }
        let Some((coarse, all)) = counts.get_mut(row.balance_index) else {
            continue;
        };
        for mass in row.masses() {
            *all += 1;
            *coarse += u64::from(coarser(mass));
        }
    }
    let counted = balances.iter().zip(shared).zip(counts);
    counted
        .filter(|(_, (coarse, _))| *coarse > 0)
        .map(|((balance, shared), (coarse, all))| coarser_note(balance, shared, coarse, all))
        .collect()
}

fn coarser_note(balance: &Balance, shared: Option<Ratio>, coarse: u64, all: u64) -> Note {
    let on = balance
        .name
        .as_ref()
        .map_or_else(String::new, |name| format!(" on balance `{}`", shown(name)));
    let finest = match (&shared, balance.finest()) {
        (Some(finest), Some((_, line))) => format!(
            " (the finest, {} g, stands first in line {line})",
            finest.to_plain()
        ),
        _ => String::new(),
    };
    let mut note = Note::new(
        "coarser_reading",
        format!(
            "{coarse} of {all} readings{on} {} fewer decimal places than the balance \
             shows{finest}; final zeros that a spreadsheet dropped cost nothing.",
            if coarse == 1 { "has" } else { "have" },
        ),
    )
    .with("cells", coarse.to_string())
    .with("of", all.to_string());
    if let Some(name) = &balance.name {
        note = note.with("balance", name.clone());
    }
    if let Some(finest) = shared {
        note = note.with("readability", finest.to_plain());
    }
    note
}
