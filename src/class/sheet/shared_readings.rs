//! The readings that several rows of one bench share.

use alloc::boxed::Box;
use alloc::collections::{BTreeMap, BTreeSet};
use alloc::string::String;
use alloc::vec::Vec;
use std::collections::HashMap;

use super::cell_text::write_comparable_name;
use super::limits::MOST_LINE_NOTES;
use super::remark::SheetRemark;
use super::row::Row;
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// Which row's readings count for each row of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SharedReadings {
    /// For each row, the index of the row with its readings.
    holders: Vec<Option<usize>>,
    /// The rows with readings that nobody weighed.
    stand_ins: BTreeSet<usize>,
    /// The rows whose readings count for other rows as well.
    lenders: BTreeSet<usize>,
}

impl SharedReadings {
    /// Returns the index of the row with the readings of this row.
    pub(super) fn holder(&self, index: usize) -> Option<usize> {
        self.holders.get(index).copied().flatten()
    }

    /// Whether the readings that count for this row count for another one as well.
    pub(super) fn is_shared(&self, index: usize) -> bool {
        let holder = self.holder(index);
        holder.is_some_and(|holder| self.lenders.contains(&holder))
    }

    /// Whether nobody weighed the readings that count for this row: it says so, or another row
    /// with the same readings does.
    pub(super) fn is_stand_in(&self, index: usize, row: &Row) -> bool {
        row.stand_in
            || self
                .holder(index)
                .is_some_and(|holder| self.stand_ins.contains(&holder))
    }
}

/// Rows with their indices.
type IndexedRows<'r> = Vec<(usize, &'r Row)>;

/// What is known of the benches that were looked at so far.
struct Sharing<'r> {
    rows: &'r [Row],
    holders: Vec<Option<usize>>,
    /// Each further run of a bench, with its first one.
    repeated: BTreeMap<usize, &'r Row>,
    /// The rows that leave open which of several runs is theirs, with the one that was chosen.
    undecided: BTreeMap<usize, &'r Row>,
    /// The first row of each bench that has no readings.
    without: BTreeMap<usize, &'r Row>,
}

/// Finds the readings of each row, and the first row of each bench that has none.
pub(super) fn share<'r>(rows: &'r [Row], notes: &mut Vec<Note>) -> (SharedReadings, Vec<&'r Row>) {
    let own = |(index, row): (usize, &Row)| row.has_readings.then_some(index);
    let mut sharing = Sharing {
        rows,
        holders: rows.iter().enumerate().map(own).collect(),
        repeated: BTreeMap::new(),
        undecided: BTreeMap::new(),
        without: BTreeMap::new(),
    };
    let Benches { alone, shared } = Benches::of(rows);
    // A bench with one row shares with nobody.
    let lacks = |row: &Row| !row.has_readings && !row.absent;
    let alone = alone.into_iter().filter(|(_, row)| lacks(row));
    sharing.without.extend(alone);
    for members in shared {
        for members in by_period(members).into_values() {
            sharing.share_bench(&members);
        }
    }
    let row = |index: &usize| rows.get(*index);
    let repeated = sharing.repeated.iter();
    let repeated = repeated.filter_map(|(index, first)| {
        let row = row(index)?;
        Some(SheetRemark::BenchRepeated(
            row.bench(),
            [first.line, row.line],
        ))
    });
    first_notes("bench_repeated", repeated, notes);
    let undecided = sharing.undecided.iter();
    let undecided = undecided.filter_map(|(index, run)| {
        let row = row(index)?;
        Some(SheetRemark::RunChosen(row.bench(), [row.line, run.line]))
    });
    first_notes("run_chosen", undecided, notes);
    let contradicted = rows.iter().filter(|row| net_masses_contradict(row));
    let contradicted = contradicted.map(|row| SheetRemark::NetMassesUnused(row.line, row.bench()));
    first_notes("net_masses_unused", contradicted, notes);
    let absent = rows.iter().filter(|row| row.absent).map(|row| {
        let bench = row.named.then(|| row.bench());
        SheetRemark::Absent(row.line, [bench, row.pupil()])
    });
    first_notes("absent", absent, notes);
    // A row that has no readings and claims a stand-in changes nothing for the bench that weighed.
    let claims = rows.iter().zip(&sharing.holders);
    let claims = claims.filter(|(row, _)| row.stand_in && row.has_readings);
    let others = sharing.holders.iter().enumerate();
    let lenders = others.filter_map(|(index, holder)| holder.filter(|holder| *holder != index));
    let shared = SharedReadings {
        stand_ins: claims.filter_map(|(_, holder)| *holder).collect(),
        lenders: lenders.collect(),
        holders: sharing.holders,
    };
    (shared, sharing.without.into_values().collect())
}

impl<'r> Sharing<'r> {
    fn share_bench(&mut self, members: &IndexedRows<'r>) {
        let whole = whole_runs(members);
        let mut runs: BTreeMap<Vec<Option<Ratio>>, usize> = BTreeMap::new();
        let (mut first, mut latest): (Option<usize>, Option<usize>) = (None, None);
        for &(index, row) in members {
            if row.has_readings {
                // A run that cannot be read is like no other.
                let holder = if row.readings_unreadable {
                    index
                } else if let Some(whole) = whole_run(row, &whole) {
                    whole
                } else {
                    *runs.entry(run_values(row)).or_insert_with(|| {
                        let first = first.filter(|first| *first != index);
                        if let Some(first) = first.and_then(|first| self.rows.get(first)) {
                            self.repeated.insert(index, first);
                        }
                        index
                    })
                };
                latest = Some(holder);
                first = first.or(latest);
            }
            self.set_holder(index, latest);
        }
        let Some(first) = first else {
            let present = members.iter().find(|(_, row)| !row.absent);
            self.without.extend(present.copied());
            return;
        };
        for &(index, row) in members.iter().filter(|(_, row)| !row.has_readings) {
            // A row above all readings of its bench takes the first ones.
            let holder = self.holders.get(index).copied().flatten();
            let holder = holder.unwrap_or(first);
            self.set_holder(index, Some(holder));
            let undecided = runs.len() > 1 && !row.absent;
            if let Some(run) = self.rows.get(holder).filter(|_| undecided) {
                self.undecided.insert(index, run);
            }
        }
    }

    fn set_holder(&mut self, index: usize, holder: Option<usize>) {
        if let Some(old) = self.holders.get_mut(index) {
            *old = holder;
        }
    }
}

/// Returns whether a row has weighings and net masses that are not their differences, up to a last place.
fn net_masses_contradict(row: &Row) -> bool {
    let readings = &row.readings;
    let (Some(container), Some(with_hydrate)) = (&readings.crucible, &readings.crucible_hydrate)
    else {
        return false;
    };
    let differs = |net: &Reading, gross: &Reading| {
        let difference = gross.value() - container.value() - net.value();
        difference.abs() > net.last_place().max(gross.last_place())
    };
    let heated = &readings.heated;
    let hydrate = readings.hydrate_mass.as_ref();
    let residue = readings.residue_mass.as_ref();
    hydrate.is_some_and(|net| differs(net, with_hydrate))
        || residue
            .is_some_and(|net| !heated.is_empty() && heated.iter().all(|gross| differs(net, gross)))
}

/// Adds a note for each remark. Of many, the first are enough, with the number of the others.
fn first_notes<'r>(
    code: &'static str,
    mut remarks: impl Iterator<Item = SheetRemark<'r>>,
    notes: &mut Vec<Note>,
) {
    let first = remarks.by_ref().take(MOST_LINE_NOTES);
    notes.extend(first.map(Note::from));
    let others = remarks.count();
    if others > 0 {
        notes.push(SheetRemark::Others(code, others).into());
    }
}

/// The rows by the names of their benches.
struct Benches<'r> {
    /// The benches with one row.
    alone: IndexedRows<'r>,
    /// The rows of every other bench.
    shared: Vec<IndexedRows<'r>>,
}

impl<'r> Benches<'r> {
    fn of(rows: &'r [Row]) -> Benches<'r> {
        // Most benches have one row, and are kept without a list of their rows.
        let mut first_rows: HashMap<Box<str>, usize> = HashMap::new();
        let mut shared: BTreeMap<usize, IndexedRows<'_>> = BTreeMap::new();
        let mut key = String::new();
        for (index, row) in rows.iter().enumerate().filter(|(_, row)| row.named) {
            key.clear();
            write_comparable_name(row.bench(), &mut key);
            match first_rows.get(key.as_str()) {
                Some(first) => {
                    let members = shared.entry(*first).or_default();
                    if members.is_empty() {
                        members.extend(rows.get(*first).map(|row| (*first, row)));
                    }
                    members.push((index, row));
                }
                None => {
                    first_rows.insert(key.as_str().into(), index);
                }
            }
        }
        let alone = first_rows.into_values();
        let alone = alone.filter(|first| !shared.contains_key(first));
        Benches {
            alone: alone
                .filter_map(|index| Some((index, rows.get(index)?)))
                .collect(),
            shared: shared.into_values().collect(),
        }
    }
}

/// Divides the rows with one bench's name: benches of different periods are different. Rows that
/// leave the period blank belong to the period of the others, if those have only one.
fn by_period(members: IndexedRows<'_>) -> BTreeMap<String, IndexedRows<'_>> {
    let mut periods: BTreeMap<String, IndexedRows<'_>> = BTreeMap::new();
    for (index, row) in members {
        let mut key = String::new();
        write_comparable_name(row.period().unwrap_or_default(), &mut key);
        periods.entry(key).or_default().push((index, row));
    }
    if periods.len() == 2 {
        let blank = periods.remove("").unwrap_or_default();
        for rows in periods.values_mut() {
            rows.extend(&blank);
            rows.sort_unstable_by_key(|(index, _)| *index);
        }
    }
    periods
}

/// The rows that have whole runs, by what the run begins and ends with.
type WholeRuns<'r> = BTreeMap<Vec<Option<Ratio>>, (usize, &'r Row)>;

/// Returns the first row of each whole run of a bench. None is looked for where no run was read in
/// part.
fn whole_runs<'r>(members: &IndexedRows<'r>) -> WholeRuns<'r> {
    let mut whole = WholeRuns::new();
    if members.iter().any(|(_, row)| row.readings.heated_cut) {
        let complete =
            |row: &Row| row.has_readings && !row.readings_unreadable && !row.readings.heated_cut;
        for &(index, row) in members.iter().filter(|(_, row)| complete(row)) {
            whole.entry(ends(row)).or_insert((index, row));
        }
    }
    whole
}

/// Returns the index of the row with the whole of a run that `part` has without its beginning.
fn whole_run(part: &Row, whole: &WholeRuns<'_>) -> Option<usize> {
    if !part.readings.heated_cut {
        return None;
    }
    let (index, row) = whole.get(&ends(part))?;
    let mut last = row.readings.heated.iter().rev().map(Reading::value);
    let same = part
        .readings
        .heated
        .iter()
        .rev()
        .all(|mass| last.next() == Some(mass.value()));
    same.then_some(*index)
}

/// Returns the values that identify a run.
fn run_values(row: &Row) -> Vec<Option<Ratio>> {
    let mut values = before_heating(row);
    values.extend(row.readings.heated.iter().map(|mass| Some(mass.value())));
    values
}

/// Returns the values that a run begins and ends with.
fn ends(row: &Row) -> Vec<Option<Ratio>> {
    let mut values = before_heating(row);
    values.push(row.readings.heated.last().map(Reading::value));
    values
}

fn before_heating(row: &Row) -> Vec<Option<Ratio>> {
    let readings = [
        row.readings.crucible,
        row.readings.crucible_hydrate,
        row.readings.hydrate_mass,
        row.readings.residue_mass,
        row.readings.percent_water,
    ];
    readings
        .iter()
        .map(|reading| reading.as_ref().map(Reading::value))
        .collect()
}
