//! Each bench worked out once, however many hand in from it, and what benches have in common.

use alloc::collections::BTreeMap;
use alloc::sync::Arc;

use super::judge::Known;
use super::{Row, Sheet};
use crate::formula::Formula;
use crate::gravimetry::{self, Check, Defensible, Dehydration, Method, Weighings};
use crate::number::Ratio;

/// The readings of one bench under the rules of the laboratory, and what they give.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Worked {
    pub(super) weighings: Weighings,
    pub(super) check: Option<Check>,
    pub(super) found: Result<(Dehydration, Defensible), gravimetry::Error>,
}

impl Worked {
    pub(super) fn found(&self) -> Option<(&Dehydration, &Defensible)> {
        self.found.as_ref().ok().map(|(run, own)| (run, own))
    }
}

/// The benches of a sheet that have been worked out so far.
pub(super) struct Benches<'s> {
    sheet: &'s Sheet,
    method: &'s Method,
    /// By the line of the row with the readings, what was issued, and the balance's readability.
    worked: BTreeMap<(u64, Formula, Option<Ratio>), Arc<Worked>>,
    known: BTreeMap<(Formula, u32), Arc<Known>>,
}

impl<'s> Benches<'s> {
    pub(super) fn new(sheet: &'s Sheet, method: &'s Method) -> Self {
        Benches {
            sheet,
            method,
            worked: BTreeMap::new(),
            known: BTreeMap::new(),
        }
    }

    /// The bench of the row with this index, whose readings stand in the row `holder`: issued `issued`, of which
    /// `salt` is one formula unit without its water.
    pub(super) fn work(
        &mut self,
        row_index: usize,
        holder: &Row,
        issued: &Formula,
        salt: &Formula,
    ) -> Option<Arc<Worked>> {
        let readability = self.sheet.readability(row_index);
        let key = (holder.line(), issued.clone(), readability.clone());
        if let Some(worked) = self.worked.get(&key) {
            return Some(worked.clone());
        }
        let weighings = weighings(holder)?;
        let mut method = self.method.clone();
        let worked = match method.fall_back_on(readability) {
            Err(error) => Worked {
                weighings,
                check: None,
                found: Err(error),
            },
            Ok(()) => Worked {
                // A check needs weighings of a container; net masses have none, which is no problem.
                check: method.check(issued, &weighings).ok(),
                found: method.dehydration(salt, &weighings).map(|run| {
                    let own = run.defensible_along(&self.known(issued, &run).careful.paths);
                    (run, own)
                }),
                weighings,
            },
        };
        let worked = Arc::new(worked);
        self.worked.insert(key, worked.clone());
        Some(worked)
    }

    /// The paths that careful work on this run may take, and the masses that may be mistaken.
    pub(super) fn known(&mut self, issued: &Formula, run: &Dehydration) -> Arc<Known> {
        let key = (issued.clone(), run.figures().min(3));
        let known = self.known.entry(key);
        let known = known.or_insert_with(|| Arc::new(Known::new(issued, run)));
        known.clone()
    }
}

/// The row's readings: a container's weighings, or else a percentage or net masses.
fn weighings(row: &Row) -> Option<Weighings> {
    match (row.crucible(), row.crucible_hydrate()) {
        (Some(container), Some(with_hydrate)) => Some(Weighings::new(
            container,
            with_hydrate,
            row.heated().iter().copied(),
        )),
        _ => match row.percent_water() {
            Some(percent) => Some(Weighings::percent_water(percent)),
            None => Some(Weighings::net(
                row.hydrate_mass()?,
                row.residue_mass()?,
                row.net(),
            )),
        },
    }
}
