//! The balances of a sheet, and the readability that their readings show.

use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use super::cell_text::write_comparable_name;
use super::remark::SheetRemark;
use super::row::Row;
use super::shared_readings::SharedReadings;
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// Places of a mass in grams that the finest balances show. More were worked out, not read.
const MOST_PLACES: i32 = 7;
/// From this number of readings on, a single one with more places than all others does not speak
/// for the balance: it would change the criterion, and so the marks, of every other bench.
const LEAST_FOR_LONE: u64 = 8;

/// From this number of readings on, a bench of which none has the last place was weighed on a coarser
/// balance: one reading in ten ends in a zero.
const LEAST_FOR_COARSER: usize = 3;

/// The balances of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Balances {
    balances: Vec<BalanceReadings>,
    /// For each row, the index of its balance.
    of_rows: Vec<usize>,
}

/// What was read off one balance.
#[derive(Debug, Clone, PartialEq, Eq)]
struct BalanceReadings {
    name: Option<String>,
    /// For each number of decimal places: how many readings have it, and the first line.
    places: BTreeMap<i32, (u64, u64)>,
}

impl BalanceReadings {
    fn readability(&self) -> Option<Ratio> {
        let (places, _) = self.finest()?;
        Some(Ratio::power_of_ten(-places))
    }

    /// Returns the most decimal places that count, and the first line that has them.
    fn finest(&self) -> Option<(i32, u64)> {
        let skipped = usize::from(self.lone().is_some());
        let (places, (_, line)) = self.places.iter().rev().nth(skipped)?;
        Some((*places, *line))
    }

    /// Returns the line of the one reading that is finer than all others, if there are enough of
    /// them.
    fn lone(&self) -> Option<u64> {
        let all: u64 = self.places.values().map(|(count, _)| count).sum();
        let (_, (count, line)) = self.places.last_key_value()?;
        (*count == 1 && self.places.len() > 1 && all > LEAST_FOR_LONE).then_some(*line)
    }
}

impl Balances {
    /// Finds the balance of each row, and what all readings on it show.
    pub(super) fn of(rows: &[Row], shared: &SharedReadings, notes: &mut Vec<Note>) -> Balances {
        let mut balances: Vec<BalanceReadings> = Vec::new();
        let mut of_rows = Vec::with_capacity(rows.len());
        let mut indices: BTreeMap<String, usize> = BTreeMap::new();
        let mut key = String::new();
        let mut too_fine: u64 = 0;
        for (row_index, row) in rows.iter().enumerate() {
            key.clear();
            write_comparable_name(row.balance().unwrap_or_default(), &mut key);
            let index = indices.get(&key).copied().unwrap_or_else(|| {
                balances.push(BalanceReadings {
                    name: row.balance().map(String::from),
                    places: BTreeMap::new(),
                });
                indices.insert(key.clone(), balances.len() - 1);
                balances.len() - 1
            });
            of_rows.push(index);
            // Readings that nobody weighed say nothing of the balance.
            if shared.is_stand_in(row_index, row) {
                continue;
            }
            let Some(balance) = balances.get_mut(index) else {
                continue;
            };
            for mass in row.masses() {
                let places = mass.decimal_places();
                if places > MOST_PLACES {
                    too_fine += 1;
                } else {
                    balance.places.entry(places).or_insert((0, row.line)).0 += 1;
                }
            }
        }
        if too_fine > 0 {
            notes.push(SheetRemark::TooManyPlaces(too_fine, MOST_PLACES).into());
        }
        let mut balances = Balances { balances, of_rows };
        balances.remark_on_lone(notes);
        balances.find_coarser(rows, notes);
        balances.remark_on_coarser(rows, notes);
        balances
    }

    /// Finds the benches that were weighed on a coarser balance than the others, if the sheet names no
    /// balance.
    fn find_coarser(&mut self, rows: &[Row], notes: &mut Vec<Note>) {
        let [only] = self.balances.as_slice() else {
            return;
        };
        let Some((finest, _)) = only.finest().filter(|_| only.name.is_none()) else {
            return;
        };
        let mut coarser: BTreeMap<i32, Vec<usize>> = BTreeMap::new();
        for (row_index, row) in rows.iter().enumerate() {
            let places = row.masses().map(Reading::decimal_places);
            let enough = row.masses().count() >= LEAST_FOR_COARSER && row.readability.is_none();
            if let Some(most) = places.max().filter(|most| enough && *most < finest) {
                coarser.entry(most).or_default().push(row_index);
            }
        }
        for (places, row_indices) in coarser.into_iter().rev() {
            let benches = row_indices.iter().filter_map(|index| rows.get(*index));
            let mut names: Vec<&str> = benches.clone().map(Row::bench).collect();
            names.dedup();
            let steps = [finest, places].map(|places| Ratio::power_of_ten(-places));
            notes.push(SheetRemark::CoarserBalance(&names, steps).into());
            let line = benches.map(|row| row.line).next().unwrap_or_default();
            for index in row_indices {
                if let Some(balance) = self.of_rows.get_mut(index) {
                    *balance = self.balances.len();
                }
            }
            self.balances.push(BalanceReadings {
                name: None,
                places: BTreeMap::from([(places, (1, line))]),
            });
        }
    }

    /// Returns what the balance of this row shows.
    pub(super) fn readability(&self, row_index: usize) -> Option<Ratio> {
        self.balances
            .get(*self.of_rows.get(row_index)?)?
            .readability()
    }

    fn remark_on_lone(&self, notes: &mut Vec<Note>) {
        for balance in &self.balances {
            if let (Some(line), Some(readability)) = (balance.lone(), balance.readability()) {
                notes.push(SheetRemark::LoneFinerReading(line, readability).into());
            }
        }
    }

    /// Adds a note for each balance that has readings with fewer places than it shows.
    fn remark_on_coarser(&self, rows: &[Row], notes: &mut Vec<Note>) {
        let finest: Vec<Option<(i32, u64)>> =
            self.balances.iter().map(BalanceReadings::finest).collect();
        // A row with a readability of its own has another step than its balance.
        let mut counts: BTreeMap<(usize, Option<Ratio>), (u64, u64)> = BTreeMap::new();
        for (row, index) in rows.iter().zip(&self.of_rows) {
            let own = row.readability.map(|reading| reading.value());
            let places = finest.get(*index).copied().flatten();
            let is_coarser = |mass: &&Reading| match (&own, places) {
                (Some(own), _) => mass.last_place() > *own,
                (None, Some((places, _))) => mass.decimal_places() < places,
                (None, None) => false,
            };
            if own.is_none() && places.is_none() {
                continue;
            }
            let more = row.masses().filter(is_coarser).count() as u64;
            let (coarser, all) = counts.entry((*index, own)).or_default();
            *all += row.masses().count() as u64;
            *coarser += more;
        }
        for ((index, own), (coarser, all)) in counts {
            if coarser == 0 {
                continue;
            }
            let finest = finest.get(index).copied().flatten();
            let finest = finest.map(|(places, line)| (Ratio::power_of_ten(-places), Some(line)));
            let balance = self.balances.get(index);
            let remark = SheetRemark::CoarserReadings {
                coarser,
                all,
                balance: balance.and_then(|balance| balance.name.as_deref()),
                finest: own.map(|own| (own, None)).or(finest),
            };
            notes.push(remark.into());
        }
    }
}
