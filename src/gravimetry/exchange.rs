//! Readings that one exchange would put right: of two readings, of two neighbouring digits, or of one
//! digit for another.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::weighings::ContainerWeighings;
use crate::number::{Ratio, Reading, neighbours_exchanged};

/// The number of weighings after heating that are exchanged with others, the last ones.
const MOST_EXCHANGED: usize = 16;

/// The mass that each bench should end at, as far as its readings decide it.
pub(super) trait Target {
    /// The expected residue of this mass of hydrate, and the tolerance.
    fn left_and_tolerance(&self, hydrate: &Ratio) -> Option<(Ratio, Ratio)>;

    /// Whether two weighings agree within the criterion for constant mass.
    fn agree(&self, one: &Ratio, other: &Ratio) -> bool;
}

/// All weighings of a bench as exact masses: the empty container, with the hydrate, after each heating.
fn masses(weighings: &ContainerWeighings) -> Vec<Ratio> {
    let before = [&weighings.container, &weighings.with_hydrate];
    let all = before.into_iter().chain(&weighings.heated);
    all.map(Reading::value).collect()
}

/// A reading of a bench with its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct NamedReading {
    /// The index among the empty container, the container with the hydrate, and each heating.
    index: usize,
    reading: Reading,
}

impl NamedReading {
    pub(crate) fn new(weighings: &ContainerWeighings, index: usize) -> Option<NamedReading> {
        let reading = match index {
            0 => &weighings.container,
            1 => &weighings.with_hydrate,
            _ => weighings.heated.get(index - 2)?,
        };
        Some(NamedReading {
            index,
            reading: *reading,
        })
    }

    /// The weighing after a heating, counted from 1.
    pub(super) fn heated(weighings: &ContainerWeighings, heating: usize) -> Option<NamedReading> {
        NamedReading::new(weighings, heating + 1).filter(|_| heating > 0)
    }

    /// The name as a request spells it.
    pub(crate) fn path(&self) -> String {
        match self.index {
            0 => "crucible".into(),
            1 => "crucible_hydrate".into(),
            _ => format!("heated[{}]", self.index - 2),
        }
    }

    /// The name for people, with the reading.
    pub(super) fn words(&self) -> String {
        format!("{} ({} g)", self.name(), self.reading)
    }

    /// The name for people.
    pub(crate) fn name(&self) -> String {
        match self.index {
            0 => "the empty container".into(),
            1 => "the container with the hydrate".into(),
            _ => format!("the weighing after heating {}", self.index - 1),
        }
    }

    pub(super) fn reading(&self) -> &Reading {
        &self.reading
    }
}

/// Whether every weighing after heating lies between the container and the container with the hydrate.
fn is_possible(masses: &[Ratio]) -> bool {
    match masses {
        [container, with_hydrate, heated @ ..] => {
            !container.is_negative()
                && container < with_hydrate
                && heated.iter().all(|a| container < a && a <= with_hydrate)
        }
        _ => false,
    }
}

/// The number of weighings after heating that gained more than the tolerance. An exchange that makes another gain
/// explains nothing: if two weighings agree, neither of them is a typing error.
fn gains(masses: &[Ratio], target: &impl Target) -> usize {
    let [container, with_hydrate, heated @ ..] = masses else {
        return 0;
    };
    let hydrate = with_hydrate - container;
    let Some((_, tolerance)) = target.left_and_tolerance(&hydrate) else {
        return 0;
    };
    let gains = heated.windows(2).map(|pair| &pair[1] - &pair[0]);
    gains.filter(|gain| *gain > tolerance).count()
}

/// By how much the last weighing after heating is above the expected mass, and the tolerance.
fn above_and_tolerance(masses: &[Ratio], target: &impl Target) -> Option<(Ratio, Ratio)> {
    let [container, with_hydrate, .., last] = masses else {
        return None;
    };
    let (left, tolerance) = target.left_and_tolerance(&(with_hydrate - container))?;
    Some((last - container - left, tolerance))
}

/// Whether the last weighing after heating, if there is one, is not below the expected mass.
fn is_not_below(masses: &[Ratio], target: &impl Target) -> bool {
    let found = above_and_tolerance(masses, target);
    masses.len() < 3 || found.is_some_and(|(above, tolerance)| above >= -tolerance)
}

fn is_as_expected(masses: &[Ratio], target: &impl Target) -> bool {
    let found = above_and_tolerance(masses, target);
    found.is_some_and(|(above, tolerance)| above.abs() <= tolerance)
}

/// The two readings that make sense exchanged: the bench then ends at the expected mass. If
/// the readings as they are written are impossible, the first two columns count, too, because the bench may
/// still be heating. So do the second and the third, if it has been heated once and is not too light then.
/// Readings that agree are not exchanged: this explains nothing. Returns also whether the bench then ends at the
/// expected mass.
pub(super) fn swap(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Option<([NamedReading; 2], bool)> {
    let mut masses = masses(weighings);
    let last = masses.len() - 1;
    let first = masses.len().saturating_sub(MOST_EXCHANGED).max(2);
    let any_with = |one: usize| (first..=last).map(move |other| (one, other));
    let with_last = (first..last).map(|one| (one, last));
    let pairs = core::iter::once((0, 1))
        .chain(any_with(0))
        .chain(any_with(1))
        .chain(with_last);
    let was_possible = is_possible(&masses);
    let gains_before = gains(&masses, target);
    let named = |one, other, is_expected| {
        let reading = |index| NamedReading::new(weighings, index);
        Some(([reading(one)?, reading(other)?], is_expected))
    };
    let mut possible = Vec::new();
    for (one, other) in pairs {
        if target.agree(&masses[one], &masses[other]) {
            continue;
        }
        masses.swap(one, other);
        let found = is_possible(&masses) && gains(&masses, target) <= gains_before;
        let expected = found && is_as_expected(&masses, target);
        let heating = (one, other) == (1, 2) && last == 2 && is_not_below(&masses, target);
        masses.swap(one, other);
        if expected {
            return named(one, other, true);
        }
        let columns = (one, other) == (0, 1) && is_like(&masses[0], &masses[1]);
        if found && (columns || heating) {
            possible.push((one, other));
        }
    }
    match possible.as_slice() {
        [(one, other)] if !was_possible => named(*one, *other, false),
        _ => None,
    }
}

/// The reading that makes sense with its decimal point one to three places elsewhere, without a digit that
/// was typed twice, or with two neighbouring digits exchanged, and what it is then. The bench then ends at the
/// expected mass. If only this reading is unlike the others, or an exchange brings a weighing after heating back
/// inside its container, the bench may still have water to lose. Returns also whether the bench then ends at the
/// expected mass.
pub(super) fn mistyped(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Option<(NamedReading, Reading, bool)> {
    let mut masses = masses(weighings);
    let first = masses.len().saturating_sub(MOST_EXCHANGED).max(2);
    let gains_before = gains(&masses, target);
    let was_possible = is_possible(&masses);
    let mut heating = None;
    for index in (0..2).chain(first..masses.len()) {
        let named = NamedReading::new(weighings, index)?;
        let kept = with_digits_kept(&named.reading).map(|meant| (meant, false));
        let exchanged = with_digits_exchanged(&named.reading).map(|meant| (meant, true));
        for (meant, is_exchanged) in kept.chain(exchanged) {
            let right = core::mem::replace(&mut masses[index], meant.value());
            let most_gains = if is_exchanged { 0 } else { gains_before };
            let found = is_possible(&masses) && gains(&masses, target) <= most_gains;
            let expected = found && is_as_expected(&masses, target);
            let other = &masses[usize::from(index == 0)];
            let unlike = is_like(&masses[index], other) && !is_like(&right, other);
            let inside = is_exchanged && index > 1 && !was_possible;
            let is_wet = found && (unlike || inside) && is_not_below(&masses, target);
            masses[index] = right;
            if expected {
                return Some((named, meant, true));
            }
            if is_wet {
                heating = heating.or(Some((named, meant, false)));
            }
        }
    }
    heating
}

/// Whether neither of two masses is twice the other.
fn is_like(one: &Ratio, other: &Ratio) -> bool {
    2 * one > *other && 2 * other > *one
}

/// The readings that make sense as masses without the container: those below it, if the readings as they are
/// written are impossible. Returns also whether the bench then ends at the expected mass, or is not heated yet.
pub(super) fn without_container(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Option<(Vec<NamedReading>, bool)> {
    let mut masses = masses(weighings);
    let container = masses.first()?.clone();
    let mut net = Vec::new();
    for (index, mass) in masses.iter_mut().enumerate().skip(1) {
        if *mass < container {
            *mass = &*mass + &container;
            net.push(NamedReading::new(weighings, index)?);
        }
    }
    let expected = weighings.heated.is_empty() || is_as_expected(&masses, target);
    let found = !net.is_empty() && is_possible(&masses) && is_not_below(&masses, target);
    found.then_some((net, expected))
}

/// The three readings of a bench that has been heated once, in the only order that makes sense of them: the empty
/// container, the container with the hydrate, after heating. None of them is where it was written.
pub(super) fn reordered(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Option<[NamedReading; 3]> {
    let mut by_mass: Vec<(Ratio, usize)> = masses(weighings).into_iter().zip(0..).collect();
    by_mass.sort();
    let [(container, one), (left, two), (with_hydrate, three)] = by_mass.as_slice() else {
        return None;
    };
    let moved = *one != 0 && *three != 1 && *two != 2;
    let in_order = [container.clone(), with_hydrate.clone(), left.clone()];
    let found = moved && is_possible(&in_order) && is_not_below(&in_order, target);
    let sensible = found && (is_as_expected(&in_order, target) || is_like(container, with_hydrate));
    let named = |index: &usize| NamedReading::new(weighings, *index);
    sensible.then_some([named(one)?, named(three)?, named(two)?])
}

/// The readings with the same digits and the decimal point elsewhere, and those without one of two equal
/// digits.
pub(crate) fn with_digits_kept(reading: &Reading) -> impl Iterator<Item = Reading> {
    let (units, digits) = units_and_digits(reading);
    let exponent = -reading.decimal_places();
    let by = [-1, 1, -2, 2, -3, 3].into_iter();
    let moved = by.filter_map(move |by| Reading::from_units(units, exponent + by));
    let once = (1..digits).filter_map(move |at| {
        let unit = 10_i128.checked_pow(at)?;
        let (above, below) = (units / unit, units % unit);
        let twice = above % 10 == below / (unit / 10);
        let units = above / 10 * unit + below;
        twice.then(|| Reading::from_units(units, exponent))?
    });
    moved.chain(once)
}

/// The readings of which one wrong digit, or one exchange of two neighbouring digits, explains why the last
/// weighing is too light. With it the bench ends at the expected mass.
pub(super) fn wrong_digits(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Vec<NamedReading> {
    let last = weighings.heated.len() + 1;
    digits_that_explain(weighings, target, &[0, 1, last], |masses| {
        is_as_expected(masses, target)
    })
}

/// The readings before heating of which one wrong digit, or one exchange of two neighbouring digits, explains why
/// weighings that agree are not as expected.
pub(super) fn wrong_digits_before_heating(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Vec<NamedReading> {
    digits_that_explain(weighings, target, &[0, 1], |masses| {
        is_as_expected(masses, target)
    })
}

/// The readings of which one wrong digit explains a last weighing that is too light, if the bench still has water
/// to lose. Nearly every lost mass is that of some digit. So this counts in two cases only: more than half of
/// the solid would be missing, or the weighing before the last leaves a narrow place above the expected mass. In
/// the first case less hydrate explains it, too.
pub(super) fn wrong_digits_while_wet(
    weighings: &ContainerWeighings,
    target: &impl Target,
) -> Vec<NamedReading> {
    let masses = masses(weighings);
    let last = masses.len() - 1;
    let [container, with_hydrate, heated @ ..] = masses.as_slice() else {
        return Vec::new();
    };
    let hydrate = with_hydrate - container;
    let Some((left, tolerance)) = target.left_and_tolerance(&hydrate) else {
        return Vec::new();
    };
    let is_half_lost = |end: &Ratio| 2 * (end - container) < left;
    let is_nearly_dry = |weighing: &Ratio| {
        let above = weighing - container - &left;
        above >= -&tolerance && 10 * above <= &hydrate - &left
    };
    let readings: &[usize] = match heated {
        [.., end] if is_half_lost(end) => &[1, last],
        [.., before, _] if is_nearly_dry(before) => &[last],
        _ => &[],
    };
    digits_that_explain(weighings, target, readings, |masses| {
        is_not_below(masses, target) && masses.get(1) <= Some(with_hydrate)
    })
}

/// Those of some readings that make sense with one other digit, or with two neighbouring digits exchanged.
fn digits_that_explain(
    weighings: &ContainerWeighings,
    target: &impl Target,
    readings: &[usize],
    explains: impl Fn(&[Ratio]) -> bool,
) -> Vec<NamedReading> {
    let mut masses = masses(weighings);
    if weighings.heated.is_empty() {
        return Vec::new();
    }
    let gains_before = gains(&masses, target);
    let named = readings
        .iter()
        .filter_map(|index| NamedReading::new(weighings, *index));
    let mut makes_sense = |named: &NamedReading| {
        let right = masses[named.index].clone();
        let found = with_one_digit_changed(&named.reading).any(|reading| {
            masses[named.index] = reading.value();
            is_possible(&masses) && explains(&masses) && gains(&masses, target) <= gains_before
        });
        masses[named.index] = right;
        found
    };
    named.filter(|named| makes_sense(named)).collect()
}

/// The readings that differ from one in one digit, or by two neighbouring digits exchanged.
pub(crate) fn with_one_digit_changed(reading: &Reading) -> impl Iterator<Item = Reading> {
    let (units, digits) = units_and_digits(reading);
    let digit = move |at: u32| Some(units / 10_i128.checked_pow(at)? % 10);
    let changed = (0..digits).flat_map(move |at| {
        let others = (0..10).filter(move |other| digit(at) != Some(*other));
        others.filter_map(move |other| {
            units.checked_add((other - digit(at)?).checked_mul(10_i128.checked_pow(at)?)?)
        })
    });
    let exponent = -reading.decimal_places();
    let changed = changed.filter_map(move |units| Reading::from_units(units, exponent));
    changed.chain(with_digits_exchanged(reading))
}

/// The readings that differ from one by two neighbouring digits exchanged.
pub(super) fn with_digits_exchanged(reading: &Reading) -> impl Iterator<Item = Reading> {
    let (units, digits) = units_and_digits(reading);
    let exponent = -reading.decimal_places();
    let exchanged = neighbours_exchanged(units, digits.saturating_sub(1));
    exchanged.filter_map(move |units| Reading::from_units(units, exponent))
}

/// A reading in units of its last place, and the number of digits; 0 if it is not positive.
fn units_and_digits(reading: &Reading) -> (i128, u32) {
    let units = reading.in_units_of(-reading.decimal_places());
    match units.filter(|units| *units > 0) {
        Some(units) => (units, units.ilog10() + 1),
        None => (0, 0),
    }
}
