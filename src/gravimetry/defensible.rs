//! The defensible range: the least and the greatest answer that careful work can give from the
//! same readings.

use super::interval::{Interval, percent};
use super::paths::{DefensiblePaths, MassOrAmount};
use super::quantity::Quantity;
use crate::number::Ratio;

/// The defensible range of every quantity.
///
/// The range comes from all combinations of these choices:
///
/// - the table of atomic weights, separately for the salt and for water: whole numbers with Cl 35.5
///   and Cu 63.5, one, two or three decimals, abridged, full, and the table of the class. If the class
///   has its own table, only that and the finer ones count.
/// - each intermediate value unrounded, or rounded to three to six significant figures, or to fewer
///   if the data allow no more.
/// - the tie rule of rounding.
/// - the ratio from two amounts, or from the molar mass of the hydrate, which is its mass divided by the
///   amount of residue to three significant figures.
/// - the weighing used, of those that agree within the criterion.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Defensible {
    pub(super) intervals: [Option<Interval>; NUMERIC_QUANTITIES],
}

/// The masses that one choice of weighing gives, each an interval of one value.
pub(super) struct Masses {
    pub(super) hydrate: Interval,
    pub(super) residue: Interval,
    pub(super) water: Interval,
}

/// The number of quantities that have an interval: all but the formula, which is the last one.
pub(crate) const NUMERIC_QUANTITIES: usize = Quantity::Formula as usize;

impl Defensible {
    /// The intervals of the masses that each weighing gives, or of a percentage without masses.
    pub(super) fn new(
        choices: &[Masses],
        percent_water: &Ratio,
        paths: &DefensiblePaths,
    ) -> Defensible {
        let ratio = |hydrate: &Interval, water: &Interval, salt: &Interval| {
            let salt = MassOrAmount::Mass(salt.clone());
            let by_amounts = paths.ratio(&MassOrAmount::Mass(water.clone()), &salt);
            let by_hydrate = paths.ratio_by_hydrate(hydrate, &salt);
            by_amounts
                .into_iter()
                .chain(by_hydrate)
                .reduce(Interval::join)
        };
        if choices.is_empty() {
            let water = Interval::point(percent_water.clone());
            let salt = Interval::point(100 - percent_water);
            let ratio = ratio(&Interval::point(Ratio::from(100)), &water, &salt);
            return Defensible {
                intervals: [None, None, None, Some(water), None, None, ratio],
            };
        }
        let over = |of: &dyn Fn(&Masses) -> Option<Interval>| {
            choices.iter().filter_map(of).reduce(Interval::join)
        };
        Defensible {
            intervals: [
                over(&|m| Some(m.hydrate.clone())),
                over(&|m| Some(m.residue.clone())),
                over(&|m| Some(m.water.clone())),
                over(&|m| percent(&m.water, &m.hydrate)),
                over(&|m| paths.mol_salt(&m.residue)),
                over(&|m| paths.mol_water(&m.water)),
                over(&|m| ratio(&m.hydrate, &m.water, &m.residue)),
            ],
        }
    }

    /// The intervals in the order of [`Quantity::ALL`], without the formula's.
    pub(crate) fn into_intervals(self) -> [Option<Interval>; NUMERIC_QUANTITIES] {
        self.intervals
    }

    /// Returns the interval of a quantity; `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn interval(&self, quantity: Quantity) -> Option<&Interval> {
        self.intervals.get(quantity as usize)?.as_ref()
    }
}
