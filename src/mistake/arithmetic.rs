//! The arithmetic of each slip: from what stands on the paper to the value that the slip leaves
//! behind. The names are those of the catalogue.

use alloc::vec::Vec;

use super::paper::{Containers, Paper};
use crate::gravimetry::{Quantity, Range, percent};
use crate::number::{Ratio, Reading, TieRule};

type Ranges = Vec<Range>;

fn one(range: Option<Range>) -> Ranges {
    range.into_iter().collect()
}

fn number(value: i32) -> Range {
    Range::point(Ratio::from(value))
}

fn mass(reading: &Reading) -> Range {
    Range::point(reading.value())
}

fn hundred_times(range: &Range) -> Range {
    range.times(&number(100))
}

pub(super) fn ratio_inverted(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::Ratio => one(paper.ratio().and_then(|x| number(1).over(x))),
        _ => Vec::new(),
    }
}

pub(super) fn mass_ratio_for_mole_ratio(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::Ratio => one(paper.water.over(&paper.residue)),
        _ => Vec::new(),
    }
}

pub(super) fn mass_fraction_for_ratio(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::Ratio => one(paper.water.over(&paper.hydrate)),
        _ => Vec::new(),
    }
}

pub(super) fn mole_fraction_for_ratio(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let (Quantity::Ratio, Some(x)) = (quantity, paper.ratio()) else {
        return Vec::new();
    };
    // x/(x + 1) grows with x.
    let fraction = |x: &Ratio| x.checked_div(&(x + &Ratio::ONE)).map(Range::point);
    match (fraction(x.low()), fraction(x.high())) {
        (Some(low), Some(high)) => one(Some(low.join(high))),
        _ => Vec::new(),
    }
}

pub(super) fn mol_water_as_ratio(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::Ratio => one(paper.mol_water().cloned()),
        _ => Vec::new(),
    }
}

pub(super) fn salt_water_swapped(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let (salt, water) = (paper.paths.salt(), paper.paths.water());
    let (s, w) = (&paper.residue, &paper.water);
    match quantity {
        Quantity::ResidueMass => one(Some(w.clone())),
        Quantity::WaterMass => one(Some(s.clone())),
        // The masses exchanged, the molar masses, or the names of the results.
        Quantity::MolSalt => [w.over(salt), s.over(water), w.over(water)]
            .into_iter()
            .flatten()
            .collect(),
        Quantity::MolWater => [s.over(water), w.over(salt), s.over(salt)]
            .into_iter()
            .flatten()
            .collect(),
        Quantity::Ratio => one(paper.ratio_of(s, w)),
        _ => Vec::new(),
    }
}

pub(super) fn percent_of_residue(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::PercentWater => one(percent(&paper.water, &paper.residue)),
        _ => Vec::new(),
    }
}

pub(super) fn percent_salt_for_water(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let right = paper.own(Quantity::PercentWater);
    match quantity {
        Quantity::PercentWater => one(right.map(|right| number(100).minus(right))),
        _ => Vec::new(),
    }
}

pub(super) fn percent_of_gross_mass(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match (quantity, &paper.containers) {
        (Quantity::PercentWater, Some(c)) => one(percent(&paper.water, &mass(&c.with_hydrate))),
        _ => Vec::new(),
    }
}

pub(super) fn fraction_for_percent(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::PercentWater => one(paper.water.over(&paper.hydrate)),
        _ => Vec::new(),
    }
}

pub(super) fn one_water_only(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match (quantity, paper.issued()) {
        (Quantity::PercentWater, Some((_, hydrate))) => {
            one(hundred_times(paper.paths.water()).over(hydrate))
        }
        _ => Vec::new(),
    }
}

pub(super) fn theory_copied(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let Some((degree, hydrate)) = paper.issued() else {
        return Vec::new();
    };
    let degree = Range::point(degree.clone());
    match quantity {
        Quantity::Ratio => one(Some(degree)),
        Quantity::PercentWater => {
            let water = hundred_times(paper.paths.water()).times(&degree);
            one(water.over(hydrate))
        }
        _ => Vec::new(),
    }
}

pub(super) fn degree_assumed(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let Some((degree, hydrate)) = paper.issued() else {
        return Vec::new();
    };
    let times_degree = |amount: Range| amount.times(&Range::point(degree.clone()));
    match quantity {
        Quantity::MolSalt => one(paper.hydrate.over(hydrate)),
        Quantity::MolWater => {
            let from_hydrate = paper.hydrate.over(hydrate).map(times_degree);
            let from_salt = paper.mol_salt().cloned().map(times_degree);
            from_hydrate.into_iter().chain(from_salt).collect()
        }
        Quantity::Ratio => {
            let water = paper.paths.water();
            one(paper.ratio_by(&paper.water, water, &paper.hydrate, hydrate))
        }
        _ => Vec::new(),
    }
}

/// The weighings after heating that are not the bench's own last mass, in order.
fn earlier<'p>(paper: &'p Paper<'_>) -> impl Iterator<Item = (&'p Containers, &'p Reading)> {
    let containers = paper.containers.iter();
    containers.flat_map(move |c| {
        let earlier = c.heated.split_last().map_or(&[][..], |(_, before)| before);
        earlier.iter().map(move |a| (c, a))
    })
}

pub(super) fn first_heating_used(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let values = earlier(paper).filter_map(|(c, a)| {
        let residue = mass(a).minus(&mass(&c.empty));
        let water = mass(&c.with_hydrate).minus(&mass(a));
        paper.with_masses(quantity, Some(&residue), Some(&water))
    });
    values.collect()
}

pub(super) fn heatings_mixed(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    if quantity != Quantity::Ratio {
        return Vec::new();
    }
    let values = earlier(paper).flat_map(|(c, a)| {
        let residue = mass(a).minus(&mass(&c.empty));
        let water = mass(&c.with_hydrate).minus(&mass(a));
        [
            paper.with_masses(quantity, None, Some(&water)),
            paper.with_masses(quantity, Some(&residue), None),
        ]
    });
    values.flatten().collect()
}

pub(super) fn losses_added(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let Some(c) = paper.containers.as_ref().filter(|c| c.heated.len() > 1) else {
        return Vec::new();
    };
    if matches!(quantity, Quantity::ResidueMass | Quantity::MolSalt) {
        return Vec::new();
    }
    let with_hydrate = c.with_hydrate.value();
    let sum: Ratio = c.heated.iter().map(|a| &with_hydrate - &a.value()).sum();
    one(paper.with_masses(quantity, None, Some(&Range::point(sum))))
}

pub(super) fn last_loss_only(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    if matches!(quantity, Quantity::ResidueMass | Quantity::MolSalt) {
        return Vec::new();
    }
    let Some(c) = &paper.containers else {
        return Vec::new();
    };
    let Some((last, earlier)) = c.heated.split_last() else {
        return Vec::new();
    };
    // The last heating's own, and that of all heatings after the first.
    let mut from: Vec<&Reading> = earlier.last().into_iter().chain(earlier.first()).collect();
    from.dedup();
    let losses = from.iter().map(|a| &a.value() - &last.value());
    losses
        .filter(Ratio::is_positive)
        .filter_map(|loss| paper.with_masses(quantity, None, Some(&Range::point(loss))))
        .collect()
}

pub(super) fn container_not_subtracted(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let Some(c) = &paper.containers else {
        return Vec::new();
    };
    let gross = paper.residue.plus(&mass(&c.empty));
    match quantity {
        Quantity::HydrateMass => one(Some(mass(&c.with_hydrate))),
        Quantity::ResidueMass | Quantity::MolSalt | Quantity::Ratio => {
            one(paper.with_masses(quantity, Some(&gross), None))
        }
        _ => Vec::new(),
    }
}

pub(super) fn hydrate_mass_as_salt(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match quantity {
        Quantity::ResidueMass | Quantity::MolSalt | Quantity::Ratio => {
            one(paper.with_masses(quantity, Some(&paper.hydrate), None))
        }
        _ => Vec::new(),
    }
}

pub(super) fn hydrate_molar_mass_for_salt(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    match paper.issued() {
        Some((_, hydrate)) => one(with_salt_molar(paper, quantity, hydrate)),
        None => Vec::new(),
    }
}

/// What follows where another molar mass is taken for that of the salt.
fn with_salt_molar(paper: &Paper<'_>, quantity: Quantity, molar: &Range) -> Option<Range> {
    match quantity {
        Quantity::MolSalt => paper.residue.over(molar),
        Quantity::Ratio => {
            let water = paper.paths.water();
            paper.ratio_by(&paper.water, water, &paper.residue, molar)
        }
        _ => None,
    }
}

pub(super) fn wrong_water_molar_mass(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let with = |molar: &Range| match quantity {
        Quantity::MolWater => paper.water.over(molar),
        Quantity::Ratio => {
            let salt = paper.paths.salt();
            paper.ratio_by(&paper.water, molar, &paper.residue, salt)
        }
        _ => None,
    };
    paper.mistaken_waters().iter().filter_map(with).collect()
}

pub(super) fn subscript_dropped(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let with = |molar: &Range| with_salt_molar(paper, quantity, molar);
    paper.mistaken_salts().iter().filter_map(with).collect()
}

pub(super) fn multiplied_by_molar_mass(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let salt = paper.residue.times(paper.paths.salt());
    let water = paper.water.times(paper.paths.water());
    one(match quantity {
        Quantity::MolSalt => Some(salt),
        Quantity::MolWater => Some(water),
        Quantity::Ratio => water.over(&salt),
        _ => None,
    })
}

/// A reading copied with two digits exchanged, in one of the three differences.
pub(super) fn reading_transposed(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let Some(c) = &paper.containers else {
        return Vec::new();
    };
    // The weighings that count: those that give the paper's own residue.
    let (low, high) = (paper.residue.low(), paper.residue.high());
    let counts = |a: &&Reading| {
        let residue = &a.value() - &c.empty.value();
        *low <= residue && residue <= *high
    };
    let heated = || c.heated.iter().filter(counts);
    let pairs: Vec<(&Reading, &Reading)> = match quantity {
        Quantity::HydrateMass => alloc::vec![(&c.with_hydrate, &c.empty)],
        Quantity::ResidueMass => heated().map(|a| (a, &c.empty)).collect(),
        Quantity::WaterMass => heated().map(|a| (&c.with_hydrate, a)).collect(),
        _ => Vec::new(),
    };
    let mut values = Vec::new();
    for (from, less) in pairs {
        let right = (from.value(), less.value());
        let places = paper.places;
        values.extend(transpositions(&right.0, places).map(|from| &from - &right.1));
        values.extend(transpositions(&right.1, places).map(|less| &right.0 - &less));
    }
    values.into_iter().map(Range::point).collect()
}

/// Whether the number, with two neighbouring digits exchanged, would be right.
pub(super) fn answer_transposed(right: &Range, reported: &Reading) -> bool {
    let places = reported.places();
    transpositions(&reported.value(), places).any(|value| {
        let digits = (&value * &Ratio::power_of_ten(places)).to_i128();
        let restored = digits.and_then(|digits| Reading::from_units(digits, -places));
        restored.is_some_and(|restored| right.admits(&restored))
    })
}

/// The values that come of a number written to so many places when two neighbouring digits that
/// differ change places.
fn transpositions(value: &Ratio, places: i32) -> impl Iterator<Item = Ratio> {
    let digits = (value * &Ratio::power_of_ten(places)).to_i128();
    let digits = digits.filter(|digits| *digits > 0).unwrap_or(0);
    let count = if digits > 0 { digits.ilog10() } else { 0 };
    (0..count).filter_map(move |at| {
        let unit = 10_i128.pow(at);
        let (lower, upper) = (digits / unit % 10, digits / unit / 10 % 10);
        // The upper digit stands for ten times as much: a difference of 9 for each step between.
        let swapped = digits + (lower - upper) * 9 * unit;
        (lower != upper).then(|| &Ratio::from(swapped) * &Ratio::power_of_ten(-places))
    })
}

pub(super) fn subtraction_error(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let (Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass, Some(right)) =
        (quantity, paper.own(quantity))
    else {
        return Vec::new();
    };
    // Up to the leading digit: 1 more or less in the tens of a mass of grams is no borrowing.
    let most = right.high().clone();
    let mut values = Vec::new();
    let mut place = -paper.places;
    loop {
        let step = Ratio::power_of_ten(place);
        if step > most || place > 6 {
            break;
        }
        for end in ends(right) {
            values.push(end + &step);
            values.push(end - &step);
        }
        place += 1;
    }
    let above_nought = values.into_iter().filter(Ratio::is_positive);
    above_nought.map(Range::point).collect()
}

/// The ends of a range, once where they are one.
fn ends(range: &Range) -> impl Iterator<Item = &Ratio> {
    let high = (range.high() != range.low()).then_some(range.high());
    core::iter::once(range.low()).chain(high)
}

pub(super) fn sign_reversed(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    one(paper.own(quantity).map(|right| number(0).minus(right)))
}

pub(super) fn factor_of_thousand(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let thousand = number(1000);
    match paper.own(quantity) {
        Some(right) => [Some(right.times(&thousand)), right.over(&thousand)]
            .into_iter()
            .flatten()
            .collect(),
        None => Vec::new(),
    }
}

/// How people round too early: amounts to one or two figures or to two or three decimals, masses
/// to one or two decimals that the balance surpasses.
pub(super) fn rounded_early(paper: &Paper<'_>, quantity: Quantity) -> Ranges {
    let mut values = Vec::new();
    for places in 1..paper.places.min(3) {
        let round = |range: &Range| {
            let to = |value: &Ratio, ties| value.to_places(places, ties).value();
            Range::point(to(range.low(), TieRule::Even))
                .join(Range::point(to(range.high(), TieRule::AwayFromZero)))
        };
        let (h, s, w) = (
            round(&paper.hydrate),
            round(&paper.residue),
            round(&paper.water),
        );
        values.extend(match quantity {
            Quantity::PercentWater => percent(&w, &h),
            Quantity::MolSalt | Quantity::MolWater | Quantity::Ratio => {
                paper.with_masses(quantity, Some(&s), Some(&w))
            }
            _ => None,
        });
    }
    if let (Quantity::Ratio, Some(salt), Some(water)) =
        (quantity, paper.mol_salt(), paper.mol_water())
    {
        values.extend(of_rounded_amounts(salt, water));
    }
    values
}

fn of_rounded_amounts(salt: &Range, water: &Range) -> Ranges {
    enum To {
        Figures(u32),
        Places(i32),
    }
    let mut values = Vec::new();
    for to in [To::Figures(1), To::Figures(2), To::Places(2), To::Places(3)] {
        let round = |value: &Ratio| {
            [TieRule::Even, TieRule::AwayFromZero].map(|ties| match to {
                To::Figures(figures) => value.to_figures(figures, ties).value(),
                To::Places(places) => value.to_places(places, ties).value(),
            })
        };
        // Coarse rounding jumps, so that only what it comes to counts, not what lies between.
        for water in ends(water).flat_map(round) {
            for salt in ends(salt).flat_map(round) {
                values.extend(water.checked_div(&salt));
            }
        }
    }
    values.sort();
    values.dedup();
    values.into_iter().map(Range::point).collect()
}

/// Whether a value in the range, cut off where the number ends, is the number.
pub(super) fn truncated(right: &Range, reported: &Reading) -> bool {
    let value = reported.value();
    value.is_positive() && *right.low() < &value + &reported.last_place() && value <= *right.high()
}
