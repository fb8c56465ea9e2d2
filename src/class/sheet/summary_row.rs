//! Lines below a class that a spreadsheet worked out. They are not benches.

use super::row::Row;
use crate::number::Reading;

/// Names of a line that sums up. A bench has one of them only if it has readings that do not.
const SUMMARIES: [&str; 9] = [
    "mean",
    "average",
    "avg",
    "total",
    "totals",
    "mittelwert",
    "durchschnitt",
    "summe",
    "gesamt",
];
/// Names that nobody gives a bench.
const SPREADS: [&str; 6] = [
    "median",
    "stdev",
    "std dev",
    "standard deviation",
    "standardabweichung",
    "stabw",
];
/// Names that a bench may have. They sum up after one of `WHOLE`, or below a line that sums up.
const AMBIGUOUS: [&str; 8] = [
    "sum", "sd", "max", "min", "maximum", "minimum", "range", "count",
];
const WHOLE: [&str; 4] = ["class", "group", "overall", "grand"];

fn bare(name: &str) -> &str {
    name.trim_end_matches([':', '.', ' '])
}

fn among(words: &[&str], name: &str) -> bool {
    words.iter().any(|word| name.eq_ignore_ascii_case(word))
}

/// Returns which of `SUMMARIES` a name is.
fn summary_index(name: &str) -> Option<usize> {
    let name = bare(name);
    SUMMARIES
        .iter()
        .position(|word| name.eq_ignore_ascii_case(word))
}

fn is_summary(name: &str) -> bool {
    let name = bare(name);
    let sums_up = |name| among(&SUMMARIES, name) || among(&SPREADS, name);
    sums_up(name)
        || name.split_once(' ').is_some_and(|(whole, rest)| {
            among(&WHOLE, whole) && (sums_up(rest) || among(&AMBIGUOUS, rest))
        })
}

/// Returns the name by which a row sums up the others: its bench, or its pupil if no bench is named.
pub(super) fn summary_name(row: &Row) -> Option<&str> {
    let name = if row.named {
        row.bench()
    } else {
        row.pupil().unwrap_or_default()
    };
    Some(name).filter(|name| is_summary(name))
}

/// The masses of a row that a mean or a sum would be taken of.
fn masses(row: &Row) -> [Option<&Reading>; 4] {
    let readings = &row.readings;
    [
        readings.crucible.as_ref(),
        readings.crucible_hydrate.as_ref(),
        readings.hydrate_mass.as_ref(),
        readings.residue_mass.as_ref(),
    ]
}

/// Whether the row can be worked out by its own readings.
fn is_complete(row: &Row) -> bool {
    let [crucible, crucible_hydrate, hydrate, residue] = masses(row).map(|mass| mass.is_some());
    let weighings = crucible && crucible_hydrate && !row.readings.heated.is_empty();
    weighings || (hydrate && residue)
}

/// What the masses of the rows so far add up to.
#[derive(Debug, Default)]
pub(super) struct ClassSums {
    /// For each mass: the sum in units of a nanogram, and the number of them.
    sums: [(i64, i64); 4],
    /// The same up to the last row that sums up: a sheet may sum up each period.
    up_to_group: [(i64, i64); 4],
    /// The most decimal places of a mass.
    places: i32,
    /// Which of `SUMMARIES` is the name of a bench.
    benches: [bool; SUMMARIES.len()],
    /// Whether a bench has no pupil.
    without_pupil: bool,
    /// Whether the last row sums up.
    summed_up: bool,
}

impl ClassSums {
    /// Adds a bench.
    pub(super) fn add(&mut self, row: &Row) {
        self.without_pupil |= row.pupil().is_none();
        self.summed_up = false;
        let name = if row.named { row.bench() } else { "" };
        if let Some(bench) = summary_index(name).and_then(|index| self.benches.get_mut(index)) {
            *bench = true;
        }
        for ((sum, count), mass) in self.sums.iter_mut().zip(masses(row)) {
            if let Some((mass, units)) = mass.and_then(|mass| Some((mass, units(mass)?))) {
                *sum = sum.saturating_add(units);
                *count += 1;
                self.places = self.places.max(mass.decimal_places());
            }
        }
    }

    /// Returns whether a row named as a summary is a pupil's, who shares the readings of a bench of that
    /// name.
    pub(super) fn is_shared(&self, row: &Row) -> bool {
        let bench = summary_index(row.bench()).and_then(|index| self.benches.get(index));
        row.named && row.pupil().is_some() && bench == Some(&true) && !is_complete(row)
    }

    /// Returns the name of a row below one that sums up, if it only sums up there: a row of nobody's with
    /// such a name that has no readings, or that is called `SD`.
    pub(super) fn name_below<'r>(&self, row: &'r Row) -> Option<&'r str> {
        let name = bare(row.bench());
        let is_nobodys = self.summed_up && row.named && row.pupil().is_none();
        let sums_up = !row.has_readings || name.eq_ignore_ascii_case("sd");
        Some(row.bench()).filter(|_| is_nobodys && sums_up && among(&AMBIGUOUS, name))
    }

    /// Begins a group of rows after one that sums up.
    pub(super) fn begin_group(&mut self) {
        self.summed_up = true;
        self.up_to_group = self.sums;
    }

    /// Returns whether a row named as a summary is a bench: it has all the readings of one, a pupil if all
    /// rows above it have one, no more decimal places than they, and its masses are neither the means nor the sums of
    /// theirs.
    pub(super) fn is_bench(&self, row: &Row) -> bool {
        if !row.named || summary_index(row.bench()).is_none() || !is_complete(row) {
            return false;
        }
        let has_rows = self.sums.iter().any(|(_, count)| *count > 0);
        // A mean is nobody's.
        if has_rows && !self.without_pupil && row.pupil().is_none() {
            return false;
        }
        // Digits that no balance showed were worked out.
        let worked_out = |mass: &Reading| mass.decimal_places() > self.places;
        if has_rows && masses(row).into_iter().flatten().any(worked_out) {
            return false;
        }
        let mut group = self.sums;
        for ((sum, count), (sum_before, count_before)) in group.iter_mut().zip(self.up_to_group) {
            *sum = sum.saturating_sub(sum_before);
            *count -= count_before;
        }
        !sums_up(row, self.sums) && !sums_up(row, group)
    }
}

/// Returns whether all masses of a row are the means of these sums, or all are the sums.
fn sums_up(row: &Row, sums: [(i64, i64); 4]) -> bool {
    let given = masses(row).into_iter().zip(sums);
    let mut given = given.filter_map(|(mass, sum)| Some((mass?, sum)));
    let is_mean = given
        .clone()
        .all(|(mass, (sum, n))| n > 0 && is_about(mass, sum, n));
    is_mean || given.all(|(mass, (sum, _))| is_about(mass, sum, 1))
}

/// What a last digit counts in nanograms, by its decimal place.
const LAST_PLACES: [i64; 10] = [
    1_000_000_000,
    100_000_000,
    10_000_000,
    1_000_000,
    100_000,
    10_000,
    1_000,
    100,
    10,
    1,
];

fn last_place(mass: &Reading) -> Option<i64> {
    let place = usize::try_from(mass.decimal_places()).ok()?;
    LAST_PLACES.get(place).copied()
}

/// The mass in nanograms; `None` beyond nine thousand tonnes.
fn units(mass: &Reading) -> Option<i64> {
    let digits = mass.in_units_of(-mass.decimal_places())?;
    i64::try_from(digits).ok()?.checked_mul(last_place(mass)?)
}

/// Returns whether a mass is this sum divided by `count`, rounded to its last place.
fn is_about(mass: &Reading, sum: i64, count: i64) -> bool {
    let difference = units(mass).and_then(|mass| mass.checked_mul(count)?.checked_sub(sum));
    let place = last_place(mass).and_then(|place| place.checked_mul(count));
    difference
        .zip(place)
        .is_some_and(|(difference, place)| difference.unsigned_abs() <= place.unsigned_abs() / 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_sums_up_and_what_is_a_bench() {
        for name in [
            "Mean",
            "AVERAGE:",
            "median",
            "Std dev.",
            "Class mean",
            "class SD",
            "Grand total",
            "overall max",
            "Mittelwert",
            "Durchschnitt:",
            "Standardabweichung",
        ] {
            assert!(is_summary(name), "{name}");
        }
        for name in [
            "Max",
            "Min",
            "Sum",
            "SD",
            "Meaning",
            "mean 3",
            "Total recall",
            "class 3",
            "",
        ] {
            assert!(!is_summary(name), "{name}");
        }
    }
}
