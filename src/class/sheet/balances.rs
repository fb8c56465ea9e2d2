//! The balances of a sheet, and the readability that their readings show.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::cell::{shown, write_key};
use super::row::Row;
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// Places of a mass in grams that the finest balances show; more were worked out, not read.
const MOST_PLACES: i32 = 7;

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
