//! From the supply of one species to a mass or an amount of another, along right and wrong ways.

use alloc::vec::Vec;

use super::species::ReactionSpecies;
use super::supply::PrintedSupply;
use crate::exercise::careful::CarefulWork;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};

/// What the way leads to.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Goal {
    Mass,
    Amount,
}

/// The way from a supply of one species to another species.
#[derive(Clone, Copy)]
pub(super) struct Route<'r> {
    pub(super) supply: &'r PrintedSupply,
    pub(super) from: &'r ReactionSpecies,
    pub(super) to: &'r ReactionSpecies,
    pub(super) goal: Goal,
}

/// A wrong step with the value that it gives.
pub(super) type WrongNumber = (WrongStep, Ratio);

fn point(value: &Ratio) -> Interval {
    Interval::point(value.clone())
}

impl Route<'_> {
    /// The value along some paths.
    pub(super) fn along(&self, paths: &CarefulWork) -> Option<Interval> {
        let molar = self.molar(paths)?;
        let coefficients = [&self.from.coefficient, &self.to.coefficient];
        self.work(paths, &molar, coefficients)
    }

    fn molar(&self, paths: &CarefulWork) -> Option<[Interval; 2]> {
        let [from, to] = [self.from, self.to].map(|one| paths.molar_mass(&one.formula));
        Some([from?, to?])
    }

    /// True if the molar mass of the species given (0) or sought (1) is needed.
    fn uses_molar_mass(&self, index: usize) -> bool {
        match index {
            0 => self.supply.grams().is_some(),
            _ => self.goal == Goal::Mass,
        }
    }

    /// The value with these molar masses and coefficients, of the species given and of the one sought.
    fn work(
        &self,
        paths: &CarefulWork,
        molar: &[Interval; 2],
        coefficients: [&Ratio; 2],
    ) -> Option<Interval> {
        let [from, to] = molar;
        let [given, sought] = coefficients.map(point);
        let amount = self.supply.amount(paths, from)?;
        let amount_sought = paths.kept(&amount.times(&sought).over(&given)?)?;
        let extent = paths.kept(&amount.over(&given)?)?;
        let amount_sought = amount_sought.join(extent.times(&sought));
        if self.goal == Goal::Amount {
            return Some(amount_sought);
        }
        let mass = amount_sought.times(to);
        // Others multiply a mass by the ratio of masses.
        let Some(grams) = self.supply.mass(paths) else {
            return Some(mass);
        };
        let ratio = paths.kept(&to.times(&sought).over(&from.times(&given))?)?;
        Some(mass.join(grams.times(&ratio)))
    }

    /// The wrong steps on the way, with their values.
    pub(super) fn wrong(&self, exact: &CarefulWork) -> Option<Vec<WrongNumber>> {
        let molar = self.molar(exact)?;
        let [given, sought] = [&self.from.coefficient, &self.to.coefficient];
        let mut wrong: Vec<(WrongStep, Option<Interval>)> = Vec::new();
        if given != sought {
            let one = &Ratio::ONE;
            wrong.push((
                WrongStep::COEFFICIENTS_IGNORED,
                self.work(exact, &molar, [one, one]),
            ));
            wrong.push((
                WrongStep::MOLE_RATIO_INVERTED,
                self.work(exact, &molar, [sought, given]),
            ));
        }
        wrong.extend(self.purity_wrong(exact));
        wrong.extend(self.water_wrong(exact, &molar));
        if let (Goal::Mass, PrintedSupply::Mass(grams)) = (self.goal, self.supply) {
            let ratio = sought.checked_div(given)?;
            wrong.push((
                WrongStep::MASSES_FOR_AMOUNTS,
                Some(Interval::point(grams.value() * ratio)),
            ));
        }
        if self.from.formula != self.to.formula {
            let step = match (self.goal, self.supply.grams()) {
                (Goal::Mass, Some(_)) => WrongStep::MOLAR_MASSES_EXCHANGED,
                _ => WrongStep::MOLAR_MASS_OF_OTHER,
            };
            let [from, to] = molar.clone();
            wrong.push((step, self.work(exact, &[to, from], [given, sought])));
        }
        for (index, one) in [self.from, self.to].into_iter().enumerate() {
            let mut changed = molar.clone();
            if let (true, Some(lighter), Some(place)) = (
                self.uses_molar_mass(index),
                one_atom_less(&one.formula, exact),
                changed.get_mut(index),
            ) {
                *place = lighter;
                let value = self.work(exact, &changed, [given, sought]);
                wrong.push((WrongStep::ATOM_LEFT_OUT, value));
            }
        }
        let wrong = wrong.into_iter();
        Some(
            wrong
                .filter_map(|(step, value)| Some((step, value?.low().clone())))
                .collect(),
        )
    }

    /// The values with the purity forgotten, and with it upside down.
    fn purity_wrong(&self, exact: &CarefulWork) -> Vec<(WrongStep, Option<Interval>)> {
        let PrintedSupply::Impure { grams, percent } = self.supply else {
            return Vec::new();
        };
        let with = |supply: &PrintedSupply| Route { supply, ..*self }.along(exact);
        let forgotten = with(&PrintedSupply::Mass(*grams));
        let share = percent.value().checked_div(&Ratio::from(100));
        let divided = share.and_then(|share| forgotten.clone()?.over(&point(&share)));
        Vec::from([
            (WrongStep::PURITY_FORGOTTEN, forgotten),
            (WrongStep::PURITY_INVERTED, divided),
        ])
    }

    /// The values with the water of a hydrate forgotten in its molar mass, and with one water only.
    fn water_wrong(
        &self,
        exact: &CarefulWork,
        molar: &[Interval; 2],
    ) -> Vec<(WrongStep, Option<Interval>)> {
        let mut wrong = Vec::new();
        for (index, one) in [self.from, self.to].into_iter().enumerate() {
            let Some((salt, waters)) = one
                .salt_and_waters()
                .filter(|_| self.uses_molar_mass(index))
            else {
                continue;
            };
            let mut with = |step: WrongStep, mass: Option<Interval>| {
                let mut changed = molar.clone();
                let (Some(mass), Some(place)) = (mass, changed.get_mut(index)) else {
                    return;
                };
                *place = mass;
                let coefficients = [&self.from.coefficient, &self.to.coefficient];
                wrong.push((step, self.work(exact, &changed, coefficients)));
            };
            let salt = exact.molar_mass(&salt);
            with(WrongStep::HYDRATE_WATER_FORGOTTEN, salt.clone());
            if waters != Ratio::ONE {
                let water = exact.molar_mass(&Formula::water());
                let mass = salt.and_then(|salt| Some(salt.plus(&water?)));
                with(WrongStep::HYDRATE_WITH_ONE_WATER, mass);
            }
        }
        wrong
    }
}

/// The molar mass with one atom too few, of the first element of which there are several; `None` if there is none
/// that makes a difference of a twentieth.
fn one_atom_less(formula: &Formula, exact: &CarefulWork) -> Option<Interval> {
    let whole = exact.molar_mass(formula)?;
    let composition = formula.composition().ok()?;
    let several = composition.iter().filter(|(_, count)| **count > Ratio::ONE);
    let mut lighter = several.filter_map(|(atom, _)| {
        let one: Formula = alloc::format!("{atom}").parse().ok()?;
        let one = exact.molar_mass(&one)?;
        (one.low() * 20 > *whole.low()).then(|| whole.minus(&one))
    });
    lighter.next()
}

/// The percentage that a mass obtained is of a theoretical one.
pub(super) fn percent_of(
    obtained: &Reading,
    theoretical: &Interval,
    paths: &CarefulWork,
) -> Option<Interval> {
    let hundred = Interval::point(obtained.value() * 100);
    hundred.over(&paths.kept(theoretical)?)
}
