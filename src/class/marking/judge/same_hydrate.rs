//! Whether two formulas are one hydrate.

use crate::formula::{Composition, Formula};
use crate::number::Ratio;

/// Returns whether two formulas are one hydrate, however its salt is spelt: the same atoms, and the same
/// water of both kinds among them, in one proportion.
pub(super) fn same(a: &Formula, b: &Formula) -> bool {
    let proportion = |a: &Composition, b: &Composition| {
        let (atom, count) = a.iter().next()?;
        b.count(atom).checked_div(count)
    };
    let waters = |formula: &Formula| -> Ratio {
        let waters = [formula.waters(), formula.waters_coordinated()];
        waters.into_iter().flatten().sum()
    };
    let (Ok(in_a), Ok(in_b)) = (a.composition(), b.composition()) else {
        return a == b;
    };
    let times = proportion(&in_a, &in_b).filter(Ratio::is_positive);
    let Some(times) = times else {
        return false;
    };
    in_a.iter().count() == in_b.iter().count()
        && in_a
            .iter()
            .all(|(atom, count)| in_b.count(atom) == count * &times)
        && waters(b) == &waters(a) * &times
}
