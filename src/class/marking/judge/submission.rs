//! What one pupil has handed in so far, and what follows from it.

use alloc::vec::Vec;

use super::starting_value::{StartingValue, pairs};
use crate::class::marking::bench_key::BenchResult;
use crate::formula::Formula;
use crate::gravimetry::{Interval, MassOrAmount, Quantity, Weighings, percent};
use crate::number::Ratio;

/// The numbers that a pupil has handed in, with the key of the bench that they belong to.
pub(super) struct Submission<'a> {
    pub(super) weighings: &'a Weighings,
    pub(super) bench: &'a BenchResult,
    pub(super) issued: &'a Formula,
    /// The numbers handed in so far that later answers may start from.
    pub(super) values: Vec<(Quantity, StartingValue)>,
}

impl Submission<'_> {
    pub(super) fn handed_in(&self, quantity: Quantity) -> Option<&StartingValue> {
        let mut values = self.values.iter();
        values.find(|(q, _)| *q == quantity).map(|(_, value)| value)
    }

    /// Returns whether one of the values handed in was not right.
    pub(super) fn has_errors(&self) -> bool {
        self.values.iter().any(|(_, value)| value.origin.is_some())
    }

    /// Returns the bench's own value and the one handed in, if there are such values.
    fn values_of(&self, quantity: Quantity) -> Vec<StartingValue> {
        let own = self.bench.defensible.interval(quantity);
        // A right value handed in gives nothing that the bench's own value does not give.
        let another = |value: &&StartingValue| {
            value.origin.is_some() || !own.is_some_and(|own| own.contains(&value.range))
        };
        let handed_in = self.handed_in(quantity).filter(another).cloned();
        let own = own.map(|range| StartingValue {
            range: range.clone(),
            from: None,
            origin: None,
        });
        own.into_iter().chain(handed_in).collect()
    }

    /// Returns the masses of water: own, handed in, or a difference of masses, one of them handed in.
    fn water_masses(&self) -> Vec<StartingValue> {
        self.with_difference(Quantity::WaterMass, Quantity::ResidueMass)
    }

    /// Returns the masses of residue: own, handed in, or a difference of masses, one of them handed in.
    fn residue_masses(&self) -> Vec<StartingValue> {
        self.with_difference(Quantity::ResidueMass, Quantity::WaterMass)
    }

    fn with_difference(&self, mass: Quantity, other: Quantity) -> Vec<StartingValue> {
        let mut values = self.values_of(mass);
        let (hydrates, others) = (self.values_of(Quantity::HydrateMass), self.values_of(other));
        values.extend(pairs(&hydrates, &others, |h, o| Some(h.minus(o))));
        values
    }

    /// Returns every value that follows from at least one answer handed in.
    pub(super) fn following(&self, quantity: Quantity) -> Vec<StartingValue> {
        let paths = &self.bench.shared.careful.paths;
        let one = |values: Vec<StartingValue>, of: &dyn Fn(&Interval) -> Option<Interval>| {
            let handed_in = values.into_iter().filter(|value| value.from.is_some());
            let found = handed_in.filter_map(|value| {
                Some(StartingValue {
                    range: of(&value.range)?,
                    ..value
                })
            });
            found.collect()
        };
        match quantity {
            Quantity::HydrateMass | Quantity::Formula => Vec::new(),
            // It has the same error as the mass of hydrate to the last digit.
            Quantity::ResidueMass => {
                let mut hydrates = self.values_of(Quantity::HydrateMass);
                for hydrate in &mut hydrates {
                    if let Some(written) = middle(&hydrate.range) {
                        hydrate.range = Interval::point(written);
                    }
                }
                let waters = self.values_of(Quantity::WaterMass);
                pairs(&hydrates, &waters, |h, w| Some(h.minus(w)))
            }
            Quantity::WaterMass => one(self.water_masses(), &|w| Some(w.clone())),
            Quantity::PercentWater => pairs(
                &self.water_masses(),
                &self.values_of(Quantity::HydrateMass),
                percent,
            ),
            Quantity::MolSalt => one(self.residue_masses(), &|r| paths.mol_salt(r)),
            Quantity::MolWater => one(self.water_masses(), &|w| paths.mol_water(w)),
            Quantity::Ratio => self.ratios(),
        }
    }

    /// Returns every mole ratio that follows from at least one answer handed in.
    pub(super) fn ratios(&self) -> Vec<StartingValue> {
        let paths = &self.bench.shared.careful.paths;
        let sides = |masses: Vec<StartingValue>, amount: Quantity| {
            let masses = masses.into_iter();
            let masses = masses.map(|value| (MassOrAmount::Mass(value.range.clone()), value));
            let amount = self.handed_in(amount).cloned();
            let amount = amount.map(|value| (MassOrAmount::Amount(value.range.clone()), value));
            masses.chain(amount).collect::<Vec<_>>()
        };
        let water = sides(self.water_masses(), Quantity::MolWater);
        let salt = sides(self.residue_masses(), Quantity::MolSalt);
        let mut found = Vec::new();
        for (w, from_water) in &water {
            for (s, from_salt) in &salt {
                if from_water.from.is_some() || from_salt.from.is_some() {
                    let range = paths.ratio(w, s);
                    found.extend(
                        range.map(|range| StartingValue::of_two(range, from_water, from_salt)),
                    );
                }
            }
        }
        let hydrates = self.values_of(Quantity::HydrateMass);
        for (s, from_salt) in &salt {
            let salt = core::slice::from_ref(from_salt);
            found.extend(pairs(&hydrates, salt, |h, _| paths.ratio_by_hydrate(h, s)));
        }
        if let Some(water) = self.handed_in(Quantity::PercentWater) {
            let rest = Interval::point(Ratio::from(100)).minus(&water.range);
            let ratio = paths.ratio(
                &MassOrAmount::Mass(water.range.clone()),
                &MassOrAmount::Mass(rest),
            );
            found.extend(ratio.map(|range| StartingValue {
                range,
                ..water.clone()
            }));
        }
        found
    }
}

/// Returns the value half-way between the ends.
pub(super) fn middle(range: &Interval) -> Option<Ratio> {
    (range.low() + range.high()).checked_div(&Ratio::from(2))
}
