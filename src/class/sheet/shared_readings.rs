//! The readings that several rows of one bench share.

use alloc::collections::btree_map::Entry;
use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::collections::HashMap;

use super::cell::{shown, write_key};
use super::row::Row;
use crate::number::Ratio;
use crate::text::Note;

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
