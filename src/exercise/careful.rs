//! The answers that careful work can give, for many calculations.

use alloc::rc::Rc;
use alloc::string::String;
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
    printed: RefCell<HashMap<Formula, Rc<PrintedMasses>>>,
}

/// The molar masses of a hydrate in its working.
pub(super) struct PrintedMasses {
    /// The sum of the salt and its waters.
    pub(super) sum: String,
    pub(super) whole: String,
    /// The percentage of water from them.
    pub(super) share: String,
}

/// What is known of a formula, or what the work gives.
fn once<T: Clone>(
    known: &RefCell<HashMap<Formula, T>>,
    formula: &Formula,
    work: impl FnOnce() -> Option<T>,
) -> Option<T> {
    if let Some(known) = known.borrow().get(formula) {
        return Some(known.clone());
    }
    let new = work()?;
    known.borrow_mut().insert(formula.clone(), new.clone());
    Some(new)
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
            printed: RefCell::default(),
        }
    }

    /// The molar masses of a formula along the paths.
    pub(super) fn molar_mass(&self, formula: &Formula) -> Option<Interval> {
        once(&self.known, formula, || self.paths.molar_mass(formula))
    }

    /// The percentage of water of a hydrate along the paths, worked out once.
    pub(super) fn percent_water(
        &self,
        hydrate: &Formula,
        work: impl FnOnce() -> Option<Interval>,
    ) -> Option<Interval> {
        once(&self.percents, hydrate, work)
    }

    /// The molar masses of a hydrate as its working prints them, written once.
    pub(super) fn printed(
        &self,
        hydrate: &Formula,
        write: impl FnOnce() -> Option<PrintedMasses>,
    ) -> Option<Rc<PrintedMasses>> {
        once(&self.printed, hydrate, || write().map(Rc::new))
    }

    /// An intermediate value, rounded or not.
    pub(super) fn kept(&self, value: &Interval) -> Option<Interval> {
        self.paths.kept(value)
    }
}
