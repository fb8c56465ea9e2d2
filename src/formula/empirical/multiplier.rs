//! The multipliers that may make whole numbers of the ratios, and which of them is chosen.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::constituent::Constituent;
use crate::number::{Ratio, TieRule};

/// The greatest multiplier that is tried.
const MOST: u32 = 12;

/// The greatest multiplier of the school's rule, and of the other counts that are named. Common
/// practice, no source.
const MOST_AT_SCHOOL: u32 = 6;

/// How near to a whole number the school's rule asks a count to be. Common practice, no source.
const AT_SCHOOL: (i128, i128) = (1, 10);

/// The same for counts above ten, in parts of the count, and what it never exceeds.
const AT_SCHOOL_OF_COUNT: (i128, i128) = (1, 100);
const MOST_OF_COUNT: (i128, i128) = (1, 4);

/// Above this chance the readings speak for no multiplier by themselves.
const MOST_CHANCE: f64 = 0.1;

/// No formula unit holds more of a part.
const MOST_COUNT: i128 = 1_000;

/// So many other counts are named.
const MOST_NAMED: usize = 6;

/// One multiplier with what it makes of the ratios.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    multiplier: u32,
    counts: Vec<u32>,
    distances: Vec<Ratio>,
    allowances: Vec<f64>,
    chance: f64,
    fit: Option<Fit>,
}

/// By which rule the counts of a multiplier are whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Fit {
    /// Within the coverage factor times the standard uncertainty of each count.
    Figures,
    /// Within 0.1, or 1 % of the count where that is more (but 0.25 at most): the school's rule. At
    /// a multiplier above one the readings must tell neighbouring whole numbers apart, too.
    School,
}

impl Trial {
    /// What the ratios are multiplied by.
    #[must_use]
    pub fn multiplier(&self) -> u32 {
        self.multiplier
    }

    /// The nearest whole numbers, in the order of the constituents; nought for more than 1000.
    #[must_use]
    pub fn counts(&self) -> &[u32] {
        &self.counts
    }

    /// How far each multiplied ratio is above its whole number.
    #[must_use]
    pub fn distances(&self) -> &[Ratio] {
        &self.distances
    }

    /// How far the uncertainty of the readings and of the atomic weights lets each be from it: the
    /// coverage factor times the standard uncertainty.
    #[must_use]
    pub fn allowances(&self) -> &[f64] {
        &self.allowances
    }

    /// The largest distance, without its sign.
    #[must_use]
    pub fn residual(&self) -> Ratio {
        let sizes = self.distances.iter().map(Ratio::abs);
        sizes.max().unwrap_or_default()
    }

    /// How probably ratios at random would have been whole numbers within their allowances at this
    /// or a smaller multiplier: the sum over the multipliers of the product of the allowances' widths.
    #[must_use]
    pub fn chance(&self) -> f64 {
        self.chance
    }

    /// By which rule every count is a whole number; `None` where one is not. What fits by both is
    /// [`Fit::Figures`].
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
            let nearest = value.to_decimal_places(0, TieRule::Even).value();
            let allowance = coverage * f64::from(multiplier) * part.standard_uncertainty();
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
        trial.fit = trial.judged();
        trial
    }

    fn judged(&self) -> Option<Fit> {
        if self.counts.contains(&0) {
            return None;
        }
        // Where neighbouring numbers cannot be told apart, any ratio would fit, and a multiplier above
        // one is no evidence.
        let tells = self.allowances.iter().all(|own| *own < 0.5);
        if tells && self.is_within(1.0) {
            return Some(Fit::Figures);
        }
        (self.at_school() && (tells || self.multiplier == 1)).then_some(Fit::School)
    }
}

fn at_school(count: u32) -> Ratio {
    let part = |(n, d)| Ratio::new(n, d).unwrap_or_default();
    let of_count = &part(AT_SCHOOL_OF_COUNT) * &Ratio::from(count);
    of_count.min(part(MOST_OF_COUNT)).max(part(AT_SCHOOL))
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

/// The place of the multiplier to take.
pub(super) fn chosen(trials: &[Trial]) -> Option<usize> {
    // One part alone is there once.
    let by_figures =
        |t: &Trial| t.fit == Some(Fit::Figures) && (t.chance <= MOST_CHANCE || t.counts.len() == 1);
    let by_school = |t: &Trial| t.fit.is_some() && t.at_school() && t.multiplier <= MOST_AT_SCHOOL;
    let first = |fits: &dyn Fn(&Trial) -> bool| trials.iter().position(fits);
    first(&by_figures).or_else(|| first(&by_school))
}

impl Trial {
    /// Whether every count is within so many times its allowance of a whole number.
    pub(super) fn is_within(&self, times: f64) -> bool {
        let mut pairs = self.distances.iter().zip(&self.allowances);
        pairs.all(|(distance, own)| distance.abs().to_f64() <= times * own)
    }

    /// Whether the school's rule holds, whatever the readings' own uncertainty says.
    fn at_school(&self) -> bool {
        let mut pairs = self.distances.iter().zip(&self.counts);
        pairs.all(|(distance, count)| distance.abs() <= at_school(*count))
    }
}

/// The multiplier that comes nearest to whole numbers, of those that a school tries.
pub(super) fn nearest(trials: &[Trial]) -> Option<&Trial> {
    let few = trials.iter().take(MOST_AT_SCHOOL as usize);
    few.min_by_key(|trial| trial.residual())
}

/// Other counts in lowest terms that the readings' own uncertainty allows at a multiplier of up to
/// six, by multiplier; whether there are more.
pub(super) fn others(
    parts: &[Constituent],
    coverage: f64,
    counts: &[u32],
) -> (Vec<Vec<u32>>, bool) {
    let mut found: Vec<Vec<u32>> = Vec::new();
    for multiplier in 1..=MOST_AT_SCHOOL {
        let Some(ranges) = ranges(parts, coverage, multiplier) else {
            continue;
        };
        let mut next: Option<Vec<u32>> = Some(ranges.iter().map(|(low, _)| *low).collect());
        while let Some(counts_here) = next {
            let lowest = lowest(&counts_here);
            if lowest != counts && !found.contains(&lowest) {
                if found.len() == MOST_NAMED {
                    return (found, true);
                }
                found.push(lowest);
            }
            next = step(counts_here, &ranges);
        }
    }
    (found, false)
}

/// From where to where each count may lie.
fn ranges(parts: &[Constituent], coverage: f64, multiplier: u32) -> Option<Vec<(u32, u32)>> {
    let ranges = parts.iter().map(|part| {
        let value = f64::from(multiplier) * part.ratio().to_f64();
        let allowance = coverage * f64::from(multiplier) * part.standard_uncertainty();
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

/// The next counts within their ranges, as the hand of an odometer moves.
fn step(mut counts: Vec<u32>, ranges: &[(u32, u32)]) -> Option<Vec<u32>> {
    for (count, (low, high)) in counts.iter_mut().zip(ranges).rev() {
        if *count < *high {
            *count += 1;
            return Some(counts);
        }
        *count = *low;
    }
    None
}

/// The same counts with nothing to divide by.
pub(super) fn lowest(counts: &[u32]) -> Vec<u32> {
    let divisor = counts
        .iter()
        .fold(0, |divisor, count| num_integer::gcd(divisor, *count))
        .max(1);
    counts.iter().map(|count| count / divisor).collect()
}

/// `1.4998 : 1 : 3.9993`, with a guard digit.
pub(super) fn shown(parts: &[Constituent]) -> String {
    let mut text = String::new();
    for part in parts {
        if !text.is_empty() {
            text.push_str(" : ");
        }
        text.push_str(&format!(
            "{}",
            part.ratio.measured().guarded(1, TieRule::Even)
        ));
    }
    text
}
