//! The defensible range: the least and the greatest answer that careful work can give from the
//! same readings.

use super::interval::{Range, percent};
use super::paths::{Paths, Source};
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
    pub(super) ranges: [Option<Range>; MEASURED],
}

/// One choice of weighing, as masses.
pub(crate) struct Masses {
    pub(crate) hydrate: Ratio,
    pub(crate) residue: Ratio,
    pub(crate) water: Ratio,
}

/// The quantities that have a range: all but the formula, which stands last.
pub(crate) const MEASURED: usize = 7;

impl Defensible {
    pub(super) fn new(
        choices: &[Masses],
        percent_water: &Ratio,
        division: &Ratio,
        paths: &Paths,
    ) -> Defensible {
        if choices.is_empty() {
            let mut ranges: [Option<Range>; MEASURED] = Default::default();
            ranges[3] = Some(Range::point(percent_water.clone()));
            ranges[6] = paths.ratio_of_percent(percent_water);
            return Defensible { ranges };
        }
        let places = places_of(division);
        let kept = |value: &Ratio| Range {
            places: Some(places),
            ..Range::point(value.clone())
        };
        let over = |of: &dyn Fn(&Masses) -> Option<Range>| {
            choices.iter().filter_map(of).reduce(Range::join)
        };
        Defensible {
            ranges: [
                over(&|m| Some(kept(&m.hydrate))),
                over(&|m| Some(kept(&m.residue))),
                over(&|m| Some(kept(&m.water))),
                over(&|m| {
                    percent(
                        &Range::point(m.water.clone()),
                        &Range::point(m.hydrate.clone()),
                    )
                }),
                over(&|m| paths.mol_salt(&Range::point(m.residue.clone()))),
                over(&|m| paths.mol_water(&Range::point(m.water.clone()))),
                over(&|m| {
                    paths.ratio(
                        &Source::Mass(Range::point(m.water.clone())),
                        &Source::Mass(Range::point(m.residue.clone())),
                    )
                }),
            ],
        }
    }

    /// The ranges in the order of [`Quantity::ALL`], without the formula's.
    pub(crate) fn into_ranges(self) -> [Option<Range>; MEASURED] {
        self.ranges
    }

    /// The range of a quantity; `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn range(&self, quantity: Quantity) -> Option<&Range> {
        let index = Quantity::ALL.iter().position(|q| *q == quantity)?;
        self.ranges.get(index)?.as_ref()
    }
}
