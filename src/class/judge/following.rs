//! What follows from what was handed in.

use alloc::vec::Vec;

use super::Judge;
use crate::gravimetry::{Interval, MassOrAmount, Quantity, percent};
use crate::number::Ratio;

/// A value that a pupil may have gone on from.
#[derive(Clone)]
pub(super) struct Step {
    pub(super) range: Interval,
    /// The first answer handed in that the value rests on; `None` for the bench's own.
    pub(super) from: Option<Quantity>,
    /// The first of them that was not right, or too coarse to go on from.
    pub(super) origin: Option<Quantity>,
}

impl Judge<'_> {
    pub(super) fn handed_in(&self, quantity: Quantity) -> Option<Step> {
        self.reported
            .iter()
            .find(|(q, _)| *q == quantity)
            .map(|(_, step)| step.clone())
    }

    /// The bench's own value and the reported one, where there are such.
    fn steps(&self, quantity: Quantity) -> Vec<Step> {
        let own = self.own.interval(quantity).map(|range| Step {
            range: range.clone(),
            from: None,
            origin: None,
        });
        // What was handed in and is the bench's own value leads nowhere else.
        let another = |step: &Step| {
            let own = self.own.interval(quantity);
            step.origin.is_some() || !own.is_some_and(|own| own.holds(&step.range))
        };
        let handed = self.handed_in(quantity).filter(another);
        own.into_iter().chain(handed).collect()
    }

    /// The water: own, handed in, or the difference of masses of which one was handed in.
    fn waters(&self) -> Vec<Step> {
        self.with_difference(Quantity::WaterMass, Quantity::ResidueMass)
    }

    /// The residue, likewise.
    fn residues(&self) -> Vec<Step> {
        self.with_difference(Quantity::ResidueMass, Quantity::WaterMass)
    }

    fn with_difference(&self, mass: Quantity, other: Quantity) -> Vec<Step> {
        let mut steps = self.steps(mass);
        let (hydrates, others) = (self.steps(Quantity::HydrateMass), self.steps(other));
        steps.extend(pairs(&hydrates, &others, |h, o| {
            Some(h.range.minus(&o.range))
        }));
        steps
    }

    /// Every value that follows from at least one answer handed in.
    pub(super) fn following(&self, quantity: Quantity) -> Vec<Step> {
        let one = |steps: Vec<Step>, of: &dyn Fn(&Interval) -> Option<Interval>| -> Vec<Step> {
            let handed = steps.into_iter().filter(|s| s.from.is_some());
            handed
                .filter_map(|s| {
                    Some(Step {
                        range: of(&s.range)?,
                        ..s
                    })
                })
                .collect()
        };
        match quantity {
            Quantity::HydrateMass | Quantity::Formula => Vec::new(),
            Quantity::ResidueMass => one(self.residues(), &|r| Some(r.clone())),
            Quantity::WaterMass => one(self.waters(), &|w| Some(w.clone())),
            Quantity::PercentWater => {
                let hydrates = self.steps(Quantity::HydrateMass);
                pairs(&self.waters(), &hydrates, |w, h| {
                    percent(&w.range, &h.range)
                })
            }
            Quantity::MolSalt => one(self.residues(), &|r| self.known.careful.paths.mol_salt(r)),
            Quantity::MolWater => one(self.waters(), &|w| self.known.careful.paths.mol_water(w)),
            Quantity::Ratio => self.ratios(),
        }
    }

    pub(super) fn ratios(&self) -> Vec<Step> {
        let sides = |masses: Vec<Step>, amount: Quantity| -> Vec<(MassOrAmount, Step)> {
            let masses = masses
                .into_iter()
                .map(|s| (MassOrAmount::Mass(s.range.clone()), s));
            let amount = self.handed_in(amount);
            masses
                .chain(amount.map(|s| (MassOrAmount::Amount(s.range.clone()), s)))
                .collect()
        };
        let water = sides(self.waters(), Quantity::MolWater);
        let salt = sides(self.residues(), Quantity::MolSalt);
        let mut found = Vec::new();
        for (w, from_water) in &water {
            for (s, from_salt) in &salt {
                if from_water.from.is_some() || from_salt.from.is_some() {
                    found.extend(both(
                        self.known.careful.paths.ratio(w, s),
                        from_water,
                        from_salt,
                    ));
                }
            }
        }
        if let Some(p) = self.handed_in(Quantity::PercentWater) {
            let rest = Interval::point(Ratio::from(100)).minus(&p.range);
            let ratio = self.known.careful.paths.ratio(
                &MassOrAmount::Mass(p.range.clone()),
                &MassOrAmount::Mass(rest),
            );
            found.extend(ratio.map(|range| Step { range, ..p }));
        }
        found
    }
}

/// What follows from each pair of which at least one was handed in.
fn pairs(a: &[Step], b: &[Step], of: impl Fn(&Step, &Step) -> Option<Interval>) -> Vec<Step> {
    let mut found = Vec::new();
    for a in a {
        for b in b {
            if a.from.is_some() || b.from.is_some() {
                found.extend(both(of(a, b), a, b));
            }
        }
    }
    found
}

/// A value that rests on two others.
fn both(range: Option<Interval>, a: &Step, b: &Step) -> Option<Step> {
    let first = |a: Option<Quantity>, b: Option<Quantity>| match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    };
    Some(Step {
        range: range?,
        from: first(a.from, b.from),
        origin: first(a.origin, b.origin),
    })
}
