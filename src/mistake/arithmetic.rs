//! The arithmetic of each slip: from the work so far to the value that the slip gives. The names are
//! those of the catalogue.

use alloc::vec::Vec;

use super::student_work::StudentWork;
use crate::gravimetry::{ContainerWeighings, Interval, Quantity, percent};
use crate::number::{Ratio, Reading, TieRule, neighbours_exchanged};

pub(super) type Intervals = Vec<Interval>;

fn one(interval: Option<Interval>) -> Intervals {
    interval.into_iter().collect()
}

pub(super) fn number(value: i32) -> Interval {
    Interval::point(Ratio::from(value))
}

fn mass(reading: &Reading) -> Interval {
    Interval::point(reading.value())
}

fn hundred_times(interval: &Interval) -> Interval {
    interval.times(&number(100))
}

/// The ratios of a pupil who divides by x, or by the water lost alone if the residue still holds some.
fn divisors(work: &StudentWork<'_>) -> Intervals {
    let Some(x) = work.ratio() else {
        return Vec::new();
    };
    let left = &work.paths.waters_left;
    let lost = (!left.is_zero()).then(|| x.minus(&Interval::point(left.clone())));
    [Some(x.clone()), lost].into_iter().flatten().collect()
}

pub(super) fn ratio_inverted(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    if quantity != Quantity::Ratio {
        return Vec::new();
    }
    // Before it is inverted, x is an intermediate value, rounded or not.
    let divisors = divisors(work).into_iter();
    let mut values: Intervals = divisors
        .filter_map(|x| work.quotient(&number(1), &x))
        .collect();
    // The water that the residue holds may be added to the inverse.
    let left = Interval::point(work.paths.waters_left.clone());
    let added = values.get(1).map(|inverse| inverse.plus(&left));
    values.extend(added);
    values
}

pub(super) fn mole_fraction_for_ratio(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    if quantity != Quantity::Ratio {
        return Vec::new();
    }
    // x/(x + 1) grows with x.
    let fraction = |x: &Ratio| x.checked_div(&(x + 1)).map(Interval::point);
    let divisors = divisors(work).into_iter();
    let fractions = divisors.filter_map(|x| {
        let x = number(1).over(&work.quotient(&number(1), &x)?)?;
        Some(fraction(x.low())?.join(fraction(x.high())?))
    });
    fractions.collect()
}

pub(super) fn salt_water_swapped(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let (salt, water) = (&work.paths.salt_molar_mass, &work.paths.water_molar_mass);
    let (s, w) = (&work.residue, &work.water);
    match quantity {
        Quantity::ResidueMass => one(Some(w.clone())),
        Quantity::WaterMass => one(Some(s.clone())),
        // The masses, the molar masses or the names of the results are exchanged.
        Quantity::MolSalt => [w.over(salt), s.over(water), w.over(water)]
            .into_iter()
            .flatten()
            .collect(),
        Quantity::MolWater => [s.over(water), w.over(salt), s.over(salt)]
            .into_iter()
            .flatten()
            .collect(),
        Quantity::Ratio => [work.ratio_of(s, w), work.ratio_by(w, salt, s, water)]
            .into_iter()
            .flatten()
            .collect(),
        _ => Vec::new(),
    }
}

pub(super) fn percent_of_gross_mass(work: &StudentWork<'_>) -> Option<Interval> {
    percent(&work.water, &mass(&work.weighings?.with_hydrate))
}

pub(super) fn one_water_only(work: &StudentWork<'_>) -> Option<Interval> {
    // For a monohydrate this is the textbook value itself.
    let (_, hydrate) = work.issued().filter(|(degree, _)| **degree != Ratio::ONE)?;
    hundred_times(&work.paths.water_molar_mass).over(hydrate)
}

pub(super) fn textbook_value(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    match quantity {
        Quantity::Ratio => one(work
            .issued()
            .map(|(degree, _)| Interval::point(degree.clone()))),
        Quantity::PercentWater => work.textbook_percents().to_vec(),
        _ => Vec::new(),
    }
}

pub(super) fn degree_assumed(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let Some((degree, hydrate)) = work.issued() else {
        return Vec::new();
    };
    let lost = Interval::point(degree - &work.paths.waters_left);
    let times_degree = |amount: Interval| amount.times(&lost);
    match quantity {
        Quantity::MolSalt => one(work.hydrate.over(hydrate)),
        Quantity::MolWater => {
            let from_hydrate = work.hydrate.over(hydrate).map(times_degree);
            let from_salt = work.mol_salt().cloned().map(times_degree);
            from_hydrate.into_iter().chain(from_salt).collect()
        }
        Quantity::Ratio => {
            let water = &work.paths.water_molar_mass;
            one(work.ratio_by(&work.water, water, &work.hydrate, hydrate))
        }
        _ => Vec::new(),
    }
}

/// The number of weighings that are searched for slips, more than a bench takes.
const MOST_HEATINGS: usize = 32;

/// The weighings after heating without the last one, in order.
fn earlier<'p>(
    work: &'p StudentWork<'_>,
) -> impl Iterator<Item = (&'p ContainerWeighings, &'p Reading)> {
    let containers = work.weighings.into_iter();
    containers.flat_map(move |c| {
        let earlier = c.heated.split_last().map_or(&[][..], |(_, before)| before);
        earlier.iter().take(MOST_HEATINGS).map(move |a| (c, a))
    })
}

pub(super) fn first_heating_used(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let values = earlier(work).filter_map(|(c, a)| {
        let residue = mass(a).minus(&mass(&c.container));
        let water = mass(&c.with_hydrate).minus(&mass(a));
        work.with_masses(quantity, Some(&residue), Some(&water))
    });
    values.collect()
}

pub(super) fn heatings_mixed(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    if quantity != Quantity::Ratio {
        return Vec::new();
    }
    let values = earlier(work).flat_map(|(c, a)| {
        let residue = mass(a).minus(&mass(&c.container));
        let water = mass(&c.with_hydrate).minus(&mass(a));
        [
            work.with_masses(quantity, None, Some(&water)),
            work.with_masses(quantity, Some(&residue), None),
        ]
    });
    values.flatten().collect()
}

pub(super) fn losses_added(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let Some(c) = work.weighings.filter(|c| c.heated.len() > 1) else {
        return Vec::new();
    };
    if matches!(quantity, Quantity::ResidueMass | Quantity::MolSalt) {
        return Vec::new();
    }
    let with_hydrate = c.with_hydrate.value();
    let losses = || c.heated.iter().map(|a| &with_hydrate - a.value());
    // The losses of all heatings are added, or those of the first and the last.
    let ends = losses().next().into_iter().chain(losses().next_back());
    let mut sums = alloc::vec![losses().sum::<Ratio>(), ends.sum()];
    sums.dedup();
    sums.into_iter()
        .filter_map(|sum| work.with_masses(quantity, None, Some(&Interval::point(sum))))
        .collect()
}

pub(super) fn last_loss_only(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    if matches!(quantity, Quantity::ResidueMass | Quantity::MolSalt) {
        return Vec::new();
    }
    let Some(c) = work.weighings else {
        return Vec::new();
    };
    let Some((last, earlier)) = c.heated.split_last() else {
        return Vec::new();
    };
    // The loss of the last heating, and that of all heatings after the first.
    let mut from: Vec<&Reading> = earlier.last().into_iter().chain(earlier.first()).collect();
    from.dedup();
    let losses = from.iter().map(|a| a.value() - last.value());
    losses
        .filter(Ratio::is_positive)
        .filter_map(|loss| work.with_masses(quantity, None, Some(&Interval::point(loss))))
        .collect()
}

pub(super) fn container_not_subtracted(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let Some(c) = work.weighings else {
        return Vec::new();
    };
    // The container is left in the residue, or in the hydrate from which the residue is subtracted.
    let residue = work.residue.plus(&mass(&c.container));
    let water = mass(&c.with_hydrate).minus(&work.residue);
    match quantity {
        Quantity::HydrateMass => one(Some(mass(&c.with_hydrate))),
        Quantity::PercentWater | Quantity::Formula => Vec::new(),
        _ => [
            work.with_masses(quantity, Some(&residue), None),
            work.with_masses(quantity, None, Some(&water)),
        ]
        .into_iter()
        .flatten()
        .collect(),
    }
}

pub(super) fn hydrate_mass_as_salt(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    match quantity {
        Quantity::ResidueMass | Quantity::MolSalt | Quantity::Ratio => {
            one(work.with_masses(quantity, Some(&work.hydrate), None))
        }
        _ => Vec::new(),
    }
}

pub(super) fn hydrate_mass_as_water(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    match quantity {
        Quantity::WaterMass | Quantity::MolWater | Quantity::Ratio => {
            one(work.with_masses(quantity, None, Some(&work.hydrate)))
        }
        _ => Vec::new(),
    }
}

pub(super) fn hydrate_molar_mass_for_salt(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    match work.issued() {
        Some((_, hydrate)) => one(with_salt_molar(work, quantity, hydrate)),
        None => Vec::new(),
    }
}

/// The value of a quantity if this molar mass is used for the salt.
fn with_salt_molar(
    work: &StudentWork<'_>,
    quantity: Quantity,
    molar: &Interval,
) -> Option<Interval> {
    match quantity {
        Quantity::MolSalt => work.residue.over(molar),
        Quantity::Ratio => {
            let water = &work.paths.water_molar_mass;
            work.ratio_by(&work.water, water, &work.residue, molar)
        }
        _ => None,
    }
}

pub(super) fn wrong_water_molar_mass(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let with = |molar: &Interval| match quantity {
        Quantity::MolWater => work.water.over(molar),
        Quantity::Ratio => {
            let salt = &work.paths.salt_molar_mass;
            work.ratio_by(&work.water, molar, &work.residue, salt)
        }
        _ => None,
    };
    work.mistaken_waters().iter().filter_map(with).collect()
}

/// The values of a quantity if one of these molar masses is used for the salt.
pub(super) fn with_salt_molars(
    work: &StudentWork<'_>,
    quantity: Quantity,
    molars: &[Interval],
) -> Intervals {
    let with = |molar: &Interval| with_salt_molar(work, quantity, molar);
    molars.iter().filter_map(with).collect()
}

pub(super) fn multiplied_by_molar_mass(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let (salt, water) = (&work.paths.salt_molar_mass, &work.paths.water_molar_mass);
    // Multiplying by M is dividing by 1/M. The result is rounded like any amount.
    let upside_down = |molar: &Interval| number(1).over(molar);
    one(match (quantity, upside_down(salt), upside_down(water)) {
        (Quantity::MolSalt, ..) => Some(work.residue.times(salt)),
        (Quantity::MolWater, ..) => Some(work.water.times(water)),
        (Quantity::Ratio, Some(salt), Some(water)) => {
            work.ratio_by(&work.water, &water, &work.residue, &salt)
        }
        _ => None,
    })
}

/// The values if the residue is read as anhydrous, or if its water is counted as lost.
pub(super) fn residual_water_miscounted(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let Some(anhydrous) = work.anhydrous() else {
        return Vec::new();
    };
    let left = Interval::point(work.paths.waters_left.clone());
    let amount = work.residue.over(&work.paths.salt_molar_mass);
    let amount = amount.map(|salt| salt.times(&left));
    let water = |amount: Interval| work.water.plus(&amount.times(&work.paths.water_molar_mass));
    let all_water = amount.map(water);
    match quantity {
        Quantity::WaterMass | Quantity::PercentWater | Quantity::MolWater => {
            one(work.with_masses(quantity, None, all_water.as_ref()))
        }
        Quantity::MolSalt => one(work.residue.over(anhydrous)),
        Quantity::Ratio => {
            let water = &work.paths.water_molar_mass;
            let of_anhydrous = work.ratio_by(&work.water, water, &work.residue, anhydrous);
            // The water in the residue is left out of the ratio, of its molar mass, or of both.
            let lost = [of_anhydrous.clone(), work.ratio().cloned()];
            let lost = lost.into_iter().flatten().map(|x| x.minus(&left));
            of_anhydrous.into_iter().chain(lost).collect()
        }
        Quantity::HydrateMass | Quantity::ResidueMass | Quantity::Formula => Vec::new(),
    }
}

/// The pairs of readings whose difference is this mass. Of the weighings after heating those count
/// that give the residue of this work.
fn differences<'p>(
    work: &'p StudentWork<'_>,
    quantity: Quantity,
) -> Vec<(&'p Reading, &'p Reading)> {
    let Some(c) = work.weighings else {
        return Vec::new();
    };
    let (low, high) = (work.residue.low(), work.residue.high());
    let counts = |a: &&Reading| {
        let residue = a.value() - c.container.value();
        *low <= residue && residue <= *high
    };
    let heated = c.heated.iter().filter(counts);
    match quantity {
        Quantity::HydrateMass => alloc::vec![(&c.with_hydrate, &c.container)],
        Quantity::ResidueMass => heated.map(|a| (a, &c.container)).collect(),
        Quantity::WaterMass => heated.map(|a| (&c.with_hydrate, a)).collect(),
        _ => Vec::new(),
    }
}

/// The masses if one reading of a difference is copied with two digits exchanged.
pub(super) fn reading_transposed(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let mut values = Vec::new();
    for (from, less) in differences(work, quantity) {
        let right = (from.value(), less.value());
        let places = work.places;
        values.extend(transpositions(&right.0, places).map(|from| &from - &right.1));
        values.extend(transpositions(&right.1, places).map(|less| &right.0 - &less));
    }
    values.into_iter().map(Interval::point).collect()
}

/// Whether the number is right after two neighbouring digits are exchanged.
pub(super) fn answer_transposed(right: &Interval, reported: &Reading) -> bool {
    let places = reported.decimal_places();
    transposed_units(&reported.value(), places).any(|units| {
        let restored = Reading::from_units(units, -places);
        restored.is_some_and(|restored| right.admits(&restored))
    })
}

/// The most right answers of which the transpositions are listed.
const MOST_ANSWERS: i128 = 100;

/// The right answers, written with so many decimal places, with two neighbouring digits exchanged.
pub(super) fn transposed_answers(right: &Interval, decimal_places: i32) -> Intervals {
    let step = Ratio::power_of_ten(-decimal_places);
    let units = |value: &Ratio, ties| {
        let rounded = value.to_places(decimal_places, ties).value();
        rounded.checked_div(&step).and_then(|units| units.to_i128())
    };
    let low = units(right.low(), TieRule::Even);
    let high = units(right.high(), TieRule::AwayFromZero);
    let (Some(low), Some(high)) = (low, high) else {
        return Vec::new();
    };
    (low..=high.min(low.saturating_add(MOST_ANSWERS)))
        .flat_map(|units| transpositions(&(&step * units), decimal_places))
        .map(Interval::point)
        .collect()
}

/// The values of a number with this many decimal places after two neighbouring digits are exchanged.
fn transpositions(value: &Ratio, places: i32) -> impl Iterator<Item = Ratio> + use<> {
    let step = Ratio::power_of_ten(-places);
    transposed_units(value, places).map(move |units| &step * units)
}

/// The same values in units of the last place. The zeros before and just after the point are such digits, too.
fn transposed_units(value: &Ratio, places: i32) -> impl Iterator<Item = i128> + use<> {
    let digits = (value * Ratio::power_of_ten(places)).to_i128();
    let digits = digits.filter(|digits| *digits > 0).unwrap_or(0);
    let written = |digits: i128| digits.ilog10().max(u32::try_from(places).unwrap_or(0));
    let pairs = if digits > 0 { written(digits) } else { 0 };
    neighbours_exchanged(digits, pairs)
}

pub(super) fn subtraction_error(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let (Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass, Some(right)) =
        (quantity, work.expected(quantity))
    else {
        return Vec::new();
    };
    let mut rights = alloc::vec![right.low().clone(), right.high().clone()];
    let differences = differences(work, quantity).into_iter();
    rights.extend(differences.map(|(from, less)| from.value() - less.value()));
    rights.sort_unstable();
    rights.dedup();
    let mut values = Vec::new();
    // Only digits that the mass has can be wrong by borrowing.
    for place in -work.places..=6 {
        let step = Ratio::power_of_ten(place);
        if step > *right.high() {
            break;
        }
        for right in &rights {
            values.push(right + &step);
            values.push(right - &step);
        }
    }
    let positive = values.into_iter().filter(Ratio::is_positive);
    positive.map(Interval::point).collect()
}

pub(super) fn sign_reversed(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    one(work.expected(quantity).map(|right| number(0).minus(right)))
}

/// The values with the decimal point one place off, or two. A percentage two places too low is a fraction, and
/// a ratio two places off is like other slips.
pub(super) fn decimal_point(work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let mut values = factor_of(10, work, quantity);
    let two = factor_of(100, work, quantity).into_iter();
    values.extend(two.take(match quantity {
        Quantity::Ratio => 0,
        Quantity::PercentWater => 1,
        _ => 2,
    }));
    values
}

pub(super) fn factor_of(factor: i32, work: &StudentWork<'_>, quantity: Quantity) -> Intervals {
    let factor = number(factor);
    match work.expected(quantity) {
        Some(right) => [Some(right.times(&factor)), right.over(&factor)]
            .into_iter()
            .flatten()
            .collect(),
        None => Vec::new(),
    }
}
