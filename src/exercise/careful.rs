//! The answers that careful work can give, for many calculations.

use core::cell::RefCell;
use std::collections::HashMap;

use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::gravimetry::{CarefulPaths, Interval};

/// The paths of careful work. Each molar mass is worked out once.
pub(super) struct CarefulWork {
    paths: CarefulPaths,
    known: RefCell<HashMap<Formula, Interval>>,
    percents: RefCell<HashMap<Formula, Interval>>,
}

impl CarefulWork {
    /// Careful work with the table that is printed with the problems, or a finer one. Intermediate values keep at
    /// least as many significant figures as the answer.
    pub(super) fn new(weights: &AtomicWeights, figures: u32) -> CarefulWork {
        CarefulWork::along(CarefulPaths::with_printed_table(weights, figures))
    }

    /// The one path with these weights and without rounding of intermediate values.
    pub(super) fn unrounded(weights: &AtomicWeights) -> CarefulWork {
        CarefulWork::along(CarefulPaths::unrounded(weights))
    }

    fn along(paths: CarefulPaths) -> CarefulWork {
        CarefulWork {
            paths,
            known: RefCell::default(),
            percents: RefCell::default(),
        }
    }

    /// The molar masses of a formula along the paths.
    pub(super) fn molar_mass(&self, formula: &Formula) -> Option<Interval> {
        if let Some(known) = self.known.borrow().get(formula) {
            return Some(known.clone());
        }
        let molar = self.paths.molar_mass(formula)?;
        let mut known = self.known.borrow_mut();
        known.insert(formula.clone(), molar.clone());
        Some(molar)
    }

    /// The percentage of water of a hydrate along the paths, worked out once.
    pub(super) fn percent_water(
        &self,
        hydrate: &Formula,
        work: impl FnOnce() -> Option<Interval>,
    ) -> Option<Interval> {
        if let Some(known) = self.percents.borrow().get(hydrate) {
            return Some(known.clone());
        }
        let percent = work()?;
        let mut known = self.percents.borrow_mut();
        known.insert(hydrate.clone(), percent.clone());
        Some(percent)
    }

    /// An intermediate value, rounded or not.
    pub(super) fn kept(&self, value: &Interval) -> Option<Interval> {
        self.paths.kept(value)
    }
}
