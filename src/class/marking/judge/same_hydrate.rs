//! Whether two formulas are one hydrate.

use crate::formula::{Composition, Formula};
use crate::number::Ratio;

/// Returns whether two formulas are one hydrate, however its salt is spelt: the same atoms, and the same
/// water of both kinds among them, in one proportion.
pub(super) fn same(a: &Formula, b: &Formula) -> bool {
    let waters = |formula: &Formula| -> Ratio {
        let waters = [formula.waters(), formula.waters_coordinated()];
        waters.into_iter().flatten().sum()
    };
    let (Ok(in_a), Ok(in_b)) = (a.composition(), b.composition()) else {
        return a == b;
    };
    proportion(&in_b, &in_a).is_some_and(|times| waters(b) == &waters(a) * &times)
}

/// Returns the number of units of a formula that another is, if it has the same atoms in one proportion: two
/// units of `CaSO4` are `Ca2(SO4)2`.
pub(super) fn units(of: &Formula, unit: &Formula) -> Option<Ratio> {
    proportion(&of.composition().ok()?, &unit.composition().ok()?)
}

fn proportion(of: &Composition, unit: &Composition) -> Option<Ratio> {
    let (atom, count) = unit.iter().next()?;
    let times = of.count(atom).checked_div(count)?;
    let in_proportion = of.iter().count() == unit.iter().count()
        && unit
            .iter()
            .all(|(atom, count)| of.count(atom) == count * &times);
    (in_proportion && times.is_positive()).then_some(times)
}
