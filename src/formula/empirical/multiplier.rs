//! The multipliers that may make the ratios whole numbers, and which of them is chosen.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::constituent::Constituent;
use crate::number::{Ratio, TieRule};

/// The largest multiplier that is tried.
const MOST: u32 = 12;

/// The largest multiplier of the school's rule, and of the other counts that are named. Common
/// practice, no source.
const MOST_AT_SCHOOL: u32 = 6;

/// How near to a whole number a count must be by the school's rule. Common practice, no source.
const SCHOOL_DISTANCE: (i128, i128) = (1, 10);

/// The same for counts above ten, as a share of the count, and its largest value.
const SCHOOL_SHARE: (i128, i128) = (1, 100);
const MOST_SCHOOL_SHARE: (i128, i128) = (1, 4);

/// If counts at random are whole with more than this chance, the readings alone choose no multiplier.
const MOST_CHANCE: f64 = 0.1;

/// The largest count of a part in a formula unit.
const MOST_COUNT: i128 = 1_000;

/// How many other counts are named.
const MOST_NAMED: usize = 6;

/// One multiplier with the counts that it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    multiplier: u32,
    counts: Vec<u32>,
    distances: Vec<Ratio>,
    allowances: Vec<f64>,
    chance: f64,
    fit: Option<Fit>,
}

/// The rule by which the counts of a multiplier are whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Fit {
    /// Each count is a whole number within the coverage factor times its standard uncertainty.
    Figures,
    /// The school's rule: each count is within 0.1 of a whole number, or within 1 % of it if that is
    /// more (but at most 0.25). At a multiplier above one, the readings must also distinguish
    /// neighbouring whole numbers.
    School,
}

impl Trial {
    /// Returns the number by which the ratios are multiplied.
    #[must_use]
    pub fn multiplier(&self) -> u32 {
        self.multiplier
    }

    /// Returns the nearest whole numbers, in the order of the constituents. A number above 1000 is
    /// given as zero.
    #[must_use]
    pub fn counts(&self) -> &[u32] {
        &self.counts
    }

    /// Returns how far each multiplied ratio is above its whole number.
    #[must_use]
    pub fn distances(&self) -> &[Ratio] {
        &self.distances
    }

    /// Returns how far each may be from its whole number by the uncertainty of the readings and of
    /// the atomic weights: the coverage factor times the standard uncertainty.
    #[must_use]
    pub fn allowances(&self) -> &[f64] {
        &self.allowances
    }

    /// Returns the largest distance, without its sign.
    #[must_use]
    pub fn residual(&self) -> Ratio {
        let sizes = self.distances.iter().map(Ratio::abs);
        sizes.max().unwrap_or_default()
    }

    /// Returns the probability that random ratios are whole numbers within their allowances at this
    /// or a smaller multiplier: the sum over the multipliers of the product of the allowances' widths.
    #[must_use]
    pub fn chance(&self) -> f64 {
        self.chance
    }

    /// Returns the rule by which every count is a whole number. `None` if one count is not. If both
    /// rules hold, this is [`Fit::Figures`].
    #[must_use]
    pub fn fit(&self) -> Option<Fit> {
        self.fit
    }

    fn new(multiplier: u32, before: f64, parts: &[Constituent], coverage: f64) -> Trial {
        let times = Ratio::from(multiplier);
        let mut trial = Trial {
            multiplier,
            counts: Vec::new(),
            distances: Vec::new(),
            allowances: Vec::new(),
            chance: 0.0,
            fit: None,
        };
        let mut chance = 1.0;
        for part in parts {
            let value = &times * part.ratio();
            let nearest = value.to_places(0, TieRule::Even).value();
            let allowance = part.allowance(multiplier, coverage);
            if allowance > 0.0 {
                chance *= (2.0 * allowance).min(1.0);
            }
            let count = nearest.to_i128().filter(|count| *count <= MOST_COUNT);
            let count = count.and_then(|count| u32::try_from(count).ok());
            trial.counts.push(count.unwrap_or(0));
            trial.distances.push(&value - &nearest);
            trial.allowances.push(allowance);
        }
        trial.chance = (before + chance).min(1.0);
        trial.fit = trial.best_fit();
        trial
    }

    fn best_fit(&self) -> Option<Fit> {
        if self.counts.contains(&0) {
            return None;
        }
        // If the readings do not distinguish neighbouring whole numbers, any ratio would fit, and a
        // multiplier above one is no evidence.
        let distinguishes = self.allowances.iter().all(|allowance| *allowance < 0.5);
        if distinguishes && self.is_within(1.0) {
            return Some(Fit::Figures);
        }
        let is_evidence = distinguishes || self.multiplier == 1;
        (is_evidence && self.fits_at_school()).then_some(Fit::School)
    }

    /// Whether every count is within this many times its allowance of a whole number.
    pub(super) fn is_within(&self, times: f64) -> bool {
        let mut pairs = self.distances.iter().zip(&self.allowances);
        pairs.all(|(distance, own)| distance.abs().to_f64() <= times * own)
    }

    /// Whether the school's rule holds, whatever the uncertainty of the readings is.
    fn fits_at_school(&self) -> bool {
        let part = |(n, d)| Ratio::new(n, d).unwrap_or_default();
        let mut pairs = self.distances.iter().zip(&self.counts);
        pairs.all(|(distance, count)| {
            let share = part(SCHOOL_SHARE) * *count;
            let share = share.min(part(MOST_SCHOOL_SHARE));
            distance.abs() <= share.max(part(SCHOOL_DISTANCE))
        })
    }
}

/// The multipliers in order.
pub(super) fn trials(parts: &[Constituent], coverage: f64) -> Vec<Trial> {
    let mut trials: Vec<Trial> = Vec::new();
    for multiplier in 1..=MOST {
        let before = trials.last().map_or(0.0, Trial::chance);
        trials.push(Trial::new(multiplier, before, parts, coverage));
    }
    trials
}

/// The index of the multiplier that is chosen.
pub(super) fn choose(trials: &[Trial]) -> Option<usize> {
    // A single part has no ratio that could be random.
    let is_chance = |t: &Trial| t.chance > MOST_CHANCE && t.counts.len() > 1;
    let by_figures = |t: &Trial| t.fit == Some(Fit::Figures) && !is_chance(t);
    let by_school = |t: &Trial| t.fit.is_some() && t.fits_at_school();
    let at_school = trials.get(..MOST_AT_SCHOOL as usize).unwrap_or(trials);
    let figures = trials.iter().position(by_figures);
    figures.or_else(|| at_school.iter().position(by_school))
}

/// The multiplier of the school's rule that comes nearest to whole numbers.
pub(super) fn nearest(trials: &[Trial]) -> Option<&Trial> {
    let few = trials.iter().take(MOST_AT_SCHOOL as usize);
    few.min_by_key(|trial| trial.residual())
}

/// Other counts in lowest terms that the uncertainty of the readings allows at a multiplier of up to
/// six, and whether there are more.
pub(super) fn other_counts(
    parts: &[Constituent],
    coverage: f64,
    counts: &[u32],
) -> (Vec<Vec<u32>>, bool) {
    let mut others: Vec<Vec<u32>> = Vec::new();
    for multiplier in 1..=MOST_AT_SCHOOL {
        let Some(ranges) = ranges(parts, coverage, multiplier) else {
            continue;
        };
        let mut next: Option<Vec<u32>> = Some(ranges.iter().map(|(low, _)| *low).collect());
        while let Some(allowed) = next {
            let lowest = lowest(&allowed);
            if lowest != counts && !others.contains(&lowest) {
                if others.len() == MOST_NAMED {
                    return (others, true);
                }
                others.push(lowest);
            }
            next = next_counts(allowed, &ranges);
        }
    }
    (others, false)
}

/// The smallest and the largest value of each count.
fn ranges(parts: &[Constituent], coverage: f64, multiplier: u32) -> Option<Vec<(u32, u32)>> {
    let ranges = parts.iter().map(|part| {
        let value = f64::from(multiplier) * part.ratio().to_f64();
        let allowance = part.allowance(multiplier, coverage);
        if allowance <= 0.0 {
            return Some((multiplier, multiplier));
        }
        let (low, high) = (
            libm::ceil(value - allowance).max(1.0),
            libm::floor(value + allowance),
        );
        (low <= high && high <= MOST_COUNT as f64).then_some((low as u32, high as u32))
    });
    ranges.collect()
}

/// The next counts within their ranges, the last count changing fastest.
fn next_counts(mut counts: Vec<u32>, ranges: &[(u32, u32)]) -> Option<Vec<u32>> {
    for (count, (low, high)) in counts.iter_mut().zip(ranges).rev() {
        if *count < *high {
            *count += 1;
            return Some(counts);
        }
        *count = *low;
    }
    None
}

/// The counts divided by their greatest common divisor.
pub(super) fn lowest(counts: &[u32]) -> Vec<u32> {
    let divisor = counts
        .iter()
        .fold(0, |divisor, count| num_integer::gcd(divisor, *count))
        .max(1);
    counts.iter().map(|count| count / divisor).collect()
}

/// `1.4998 : 1 : 3.9993`, with a guard digit.
pub(super) fn ratios_text(parts: &[Constituent]) -> String {
    let ratios = parts.iter().map(|part| {
        let ratio = part.measured_ratio().guarded(1, TieRule::Even);
        format!("{ratio}")
    });
    ratios.collect::<Vec<_>>().join(" : ")
}
