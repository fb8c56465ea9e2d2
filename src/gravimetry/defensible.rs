//! The defensible range: the least and the greatest answer that careful work can give from the
//! same readings.

use super::interval::{Interval, percent};
use super::paths::{DefensiblePaths, MassOrAmount};
use super::quantity::Quantity;
use super::series::places_of;
use crate::number::Ratio;

/// The defensible range of every quantity.
///
/// The paths that careful work can take are the product of: the table of atomic weights, for the
/// salt and for water apart (whole numbers with Cl 35.5 and Cu 63.5, one, two, three decimals,
/// abridged, full, and the class's own; where a class has its own table, that and the finer
/// ones); each intermediate value unrounded, or rounded to three to six figures (to fewer where
/// the data allow no more); the tie rule; and which of the weighings that agree within the
/// criterion was used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Defensible {
    pub(super) intervals: [Option<Interval>; NUMERIC_QUANTITIES],
}

/// One choice of weighing, as masses.
pub(crate) struct Masses {
    pub(crate) hydrate: Ratio,
    pub(crate) residue: Ratio,
    pub(crate) water: Ratio,
}

/// The quantities that have a range: all but the formula, which stands last.
pub(crate) const NUMERIC_QUANTITIES: usize = 7;

impl Defensible {
    pub(super) fn new(
        choices: &[Masses],
        percent_water: &Ratio,
        division: &Ratio,
        paths: &DefensiblePaths,
    ) -> Defensible {
        if choices.is_empty() {
            let mut intervals: [Option<Interval>; NUMERIC_QUANTITIES] = Default::default();
            intervals[3] = Some(Interval::point(percent_water.clone()));
            intervals[6] = paths.ratio_of_percent(percent_water);
            return Defensible { intervals };
        }
        let places = places_of(division);
        let kept = |value: &Ratio| Interval {
            places: Some(places),
            ..Interval::point(value.clone())
        };
        let over = |of: &dyn Fn(&Masses) -> Option<Interval>| {
            choices.iter().filter_map(of).reduce(Interval::join)
        };
        Defensible {
            intervals: [
                over(&|m| Some(kept(&m.hydrate))),
                over(&|m| Some(kept(&m.residue))),
                over(&|m| Some(kept(&m.water))),
                over(&|m| {
                    percent(
                        &Interval::point(m.water.clone()),
                        &Interval::point(m.hydrate.clone()),
                    )
                }),
                over(&|m| paths.mol_salt(&Interval::point(m.residue.clone()))),
                over(&|m| paths.mol_water(&Interval::point(m.water.clone()))),
                over(&|m| {
                    paths.ratio(
                        &MassOrAmount::Mass(Interval::point(m.water.clone())),
                        &MassOrAmount::Mass(Interval::point(m.residue.clone())),
                    )
                }),
            ],
        }
    }

    /// The intervals in the order of [`Quantity::ALL`], without the formula's.
    pub(crate) fn into_intervals(self) -> [Option<Interval>; NUMERIC_QUANTITIES] {
        self.intervals
    }

    /// The range of a quantity; `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn interval(&self, quantity: Quantity) -> Option<&Interval> {
        let index = Quantity::ALL.iter().position(|q| *q == quantity)?;
        self.intervals.get(index)?.as_ref()
    }
}
