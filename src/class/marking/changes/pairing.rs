//! Which row of one marking is which of another.

use alloc::collections::{BTreeMap, VecDeque};
use alloc::vec::Vec;

use crate::class::marking::marked_row::MarkedRow;

/// One row before and now.
pub(super) type Pair<'a> = (Option<&'a MarkedRow>, Option<&'a MarkedRow>);

/// Returns the pairs in the order of the rows now; those that are gone come last.
pub(super) fn pairs<'a>(before: &'a [MarkedRow], after: &'a [MarkedRow]) -> Vec<Pair<'a>> {
    let mut waiting = by_name(before);
    let mut partners: BTreeMap<usize, &MarkedRow> = BTreeMap::new();
    for (name, now) in by_name(after) {
        if let Some(then) = waiting.get_mut(&name) {
            partners.extend(matched(then, now));
        }
    }
    let now = after
        .iter()
        .enumerate()
        .map(|(index, row)| (partners.get(&index).copied(), Some(row)));
    let mut gone: Vec<IndexedRow<'_>> = waiting.into_values().flatten().collect();
    gone.sort_by_key(|(index, _)| *index);
    let gone = gone.into_iter().map(|(_, row)| (Some(row), None));
    now.chain(gone).collect()
}

/// Returns the partners of rows of one name, by the index of the row now. They are taken out of
/// `then`.
fn matched<'a>(
    then: &mut VecDeque<IndexedRow<'a>>,
    now: VecDeque<IndexedRow<'a>>,
) -> Vec<IndexedRow<'a>> {
    let mut found = Vec::new();
    let mut open = now;
    // Lines move when a row is put in above. They only show which of several rows is new or gone.
    if then.len() != open.len() {
        let old: VecDeque<IndexedRow<'_>> = core::mem::take(then);
        let lines = old.iter().enumerate().rev();
        let lines: BTreeMap<u64, usize> = lines.map(|(at, (_, row))| (row.line(), at)).collect();
        let mut old: Vec<Option<IndexedRow<'_>>> = old.into_iter().map(Some).collect();
        open.retain(|(index, row)| {
            let same = lines.get(&row.line()).and_then(|at| old.get_mut(*at));
            let same = same.and_then(Option::take);
            found.extend(same.map(|(_, old)| (*index, old)));
            same.is_none()
        });
        then.extend(old.into_iter().flatten());
    }
    let rest = then.len().min(open.len());
    let old = then.drain(..rest);
    found.extend(
        open.into_iter()
            .zip(old)
            .map(|((index, _), (_, old))| (index, old)),
    );
    found
}

/// Period, bench and pupil.
type Name<'a> = (Option<&'a str>, &'a str, Option<&'a str>);

/// A row with its index among all.
type IndexedRow<'a> = (usize, &'a MarkedRow);

fn by_name(rows: &[MarkedRow]) -> BTreeMap<Name<'_>, VecDeque<IndexedRow<'_>>> {
    let mut found: BTreeMap<Name<'_>, VecDeque<IndexedRow<'_>>> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        let name = (row.period(), row.bench(), row.pupil());
        found.entry(name).or_default().push_back((index, row));
    }
    found
}
