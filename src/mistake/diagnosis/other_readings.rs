//! The readings that a balance may have shown instead of those that were written down.

use alloc::vec::Vec;

use super::super::misreading::{exchanges, off_by_one};
use super::bench_readings::BenchReadings;
use crate::number::{Ratio, Reading};

/// The kind of a misreading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum MisreadingKind {
    /// Two neighbouring digits were exchanged.
    DigitsExchanged,
    /// One digit was written as another.
    OneDigit,
    /// Two weighings were written in each other's place.
    ReadingsSwapped,
}

impl MisreadingKind {
    /// Returns the stable name, in `snake_case`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            MisreadingKind::DigitsExchanged => "digits_exchanged",
            MisreadingKind::OneDigit => "one_digit",
            MisreadingKind::ReadingsSwapped => "readings_swapped",
        }
    }
}

/// The probabilities of the kinds of misreading (common practice, no source).
const EXCHANGED: f64 = 0.82;
const OFF_BY_ONE: f64 = 0.14;
const OTHER_DIGIT: f64 = 0.02;
const SWAPPED: f64 = 0.02;

/// The weight of a weighing before the last heating: x does not depend on it, so it is written with less
/// care, but also with less haste.
const EARLIER: f64 = 0.2;

/// A misreading is noticed if it changes the mass by this part of the hydrate or more (common practice,
/// no source).
const NOTICED: f64 = 1.0 / 3.0;

/// The weighings before the last that are looked at.
const MOST_EARLIER: usize = 6;

/// A reading as it may have been meant.
#[derive(Debug, Clone)]
pub(super) struct OtherReading {
    pub(super) kind: MisreadingKind,
    /// The index of the reading, and of the one that it is exchanged with.
    pub(super) index: usize,
    pub(super) swapped: Option<usize>,
    pub(super) meant: Reading,
    /// The change of the mass, in grams.
    pub(super) change: f64,
    /// The probability that this misreading happens, if one does.
    pub(super) probability: f64,
}

impl OtherReading {
    /// The masses with this reading as it was meant.
    pub(super) fn corrected(&self, masses: &[f64]) -> Vec<f64> {
        let mut masses = masses.to_vec();
        match self.swapped {
            Some(other) if other < masses.len() && self.index < masses.len() => {
                masses.swap(self.index, other);
            }
            _ => {
                if let Some(mass) = masses.get_mut(self.index) {
                    *mass += self.change;
                }
            }
        }
        masses
    }
}

/// All readings that one misreading explains. `is_gross` says that the masses are impossible as they were
/// written, or far from what they should be. Then any digit may be wrong, and any error may have gone
/// unnoticed.
pub(super) fn other_readings(
    bench: &BenchReadings,
    masses: &[f64],
    is_gross: bool,
) -> Vec<OtherReading> {
    let last = bench.written.len() - 1;
    let first = bench.first_heated();
    let earlier = last.saturating_sub(MOST_EARLIER).max(first)..=last;
    let counted = (0..first.min(last)).chain(earlier);
    let counted = counted.filter(|index| bench.counts(*index));
    let weighted = counted.map(|index| {
        let is_used = index < first || index == last;
        (index, if is_used { 1.0 } else { EARLIER })
    });
    let weighted: Vec<(usize, f64)> = weighted.collect();
    let all: f64 = weighted.iter().map(|(_, weight)| weight).sum();
    let taken = masses.get(first - 1).copied().unwrap_or_default();
    let taken = taken - if bench.has_container { masses[0] } else { 0.0 };
    let unnoticed = if is_gross {
        f64::INFINITY
    } else {
        NOTICED * taken
    };
    let mut found = Vec::new();
    for (index, weight) in weighted {
        let mass = (index, masses[index]);
        if let Some(written) = WrittenDigits::new(&bench.written[index], &bench.division) {
            for (kind, probability, units) in written.misreadings(is_gross) {
                let probability = probability * weight / all;
                found.extend(written.readings(mass, unnoticed, kind, probability, &units));
            }
        }
    }
    found.extend(swaps(bench, masses));
    found
}

/// The exchanges of two readings: the two before heating, one of them with the first or the last after
/// heating, and the last two.
fn swaps(bench: &BenchReadings, masses: &[f64]) -> Vec<OtherReading> {
    let (first, last) = (bench.first_heated(), bench.written.len() - 1);
    let mut pairs = alloc::vec![(first - 1, last), (last - 1, last), (first - 1, first)];
    if bench.has_container {
        pairs.extend([(0, 1), (0, first), (0, last)]);
    }
    pairs.retain(|(one, other)| one < other && bench.counts(*one) && bench.counts(*other));
    pairs.sort_unstable();
    pairs.dedup();
    let each = SWAPPED / pairs.len() as f64;
    let swapped = pairs.into_iter().map(|(index, other)| OtherReading {
        kind: MisreadingKind::ReadingsSwapped,
        index,
        swapped: Some(other),
        meant: bench.written[other],
        change: masses[other] - masses[index],
        probability: each,
    });
    swapped.collect()
}

/// The digits of a reading with all places that the balance shows.
struct WrittenDigits {
    units: i128,
    places: i32,
    /// The smallest step of the balance in these units.
    step: i128,
}

/// No balance shows as many units of its last place. Each digit costs time.
const MOST_UNITS: i128 = 10_i128.pow(14);

impl WrittenDigits {
    fn new(reading: &Reading, division: &Ratio) -> Option<WrittenDigits> {
        let of_balance = division.exact_decimal_places();
        let of_balance = of_balance.and_then(|places| i32::try_from(places).ok());
        let places = reading.decimal_places().max(of_balance.unwrap_or(0));
        let units = reading
            .in_units_of(-places)
            .filter(|units| (1..MOST_UNITS).contains(units))?;
        let step = (division * Ratio::power_of_ten(places)).to_i128();
        Some(WrittenDigits {
            units,
            places,
            step: step.unwrap_or(1).max(1),
        })
    }

    /// Whether the balance can show this number.
    fn is_shown(&self, units: i128) -> bool {
        units % self.step == 0
    }

    /// The numbers that each kind of misreading makes of this one, with its probability.
    fn misreadings(&self, is_gross: bool) -> Vec<(MisreadingKind, f64, Vec<i128>)> {
        let mut kinds = alloc::vec![
            (
                MisreadingKind::DigitsExchanged,
                EXCHANGED,
                exchanges(self.units)
            ),
            (MisreadingKind::OneDigit, OFF_BY_ONE, off_by_one(self.units)),
        ];
        if is_gross {
            kinds.push((MisreadingKind::OneDigit, OTHER_DIGIT, self.other_digits()));
        }
        kinds
    }

    /// Those of some numbers that the balance can show and that change the mass at an index by less than is
    /// noticed. They share a probability.
    fn readings(
        &self,
        (index, mass): (usize, f64),
        unnoticed: f64,
        kind: MisreadingKind,
        probability: f64,
        units: &[i128],
    ) -> Vec<OtherReading> {
        let shown = units.iter().filter(|units| self.is_shown(**units));
        let meant = shown.filter_map(|units| {
            let meant = Reading::from_units(*units, -self.places)?;
            let change = meant.value().to_f64() - mass;
            (change.abs() < unnoticed).then_some((meant, change))
        });
        let meant: Vec<(Reading, f64)> = meant.collect();
        let each = probability / meant.len() as f64;
        let readings = meant.into_iter().map(|(meant, change)| OtherReading {
            kind,
            index,
            swapped: None,
            meant,
            change,
            probability: each,
        });
        readings.collect()
    }

    /// The numbers with one digit that is another one by two or more.
    fn other_digits(&self) -> Vec<i128> {
        let mut found = Vec::new();
        let mut unit = 1_i128;
        while self.units / unit > 0 {
            let digit = self.units / unit % 10;
            let others = (0..10).filter(|other| (other - digit).abs() > 1);
            found
                .extend(others.filter_map(|other| {
                    self.units.checked_add((other - digit).checked_mul(unit)?)
                }));
            let Some(next) = unit.checked_mul(10) else {
                break;
            };
            unit = next;
        }
        found
    }
}
