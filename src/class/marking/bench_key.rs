//! Each bench worked out once, however many hand in from it.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;
use std::sync::OnceLock;

use super::shared_key::SharedKey;
use crate::class::sheet::{ProblemKind, UnreadableHeating};
use crate::class::{Row, Sheet};
use crate::formula::Formula;
use crate::gravimetry::{self, Check, Defensible, Dehydration, Method, Weighings, figures_kept};
use crate::mistake::{Diagnosis, Priors};
use crate::number::Ratio;

/// The readings of one bench, with what they give under the rules of the class.
#[derive(Debug, Clone)]
pub(super) struct BenchKey {
    pub(super) weighings: Weighings,
    pub(super) result: Result<BenchResult, gravimetry::Error>,
    pub(super) method: Method,
    /// The waters that the stock really holds, if the policy says so.
    stock: Option<Ratio>,
    unreadable: Option<Unreadable>,
    priors: Priors,
    /// The advice, made when it is asked for: it takes as much memory as the result.
    check: OnceLock<Option<Check>>,
    /// The diagnosis, made when it is asked for: it takes longer than all the marking.
    diagnosis: OnceLock<Option<Diagnosis>>,
}

impl BenchKey {
    /// Returns what the bench should do now, if it was issued this. A check needs weighings of a
    /// container. Net masses have none, which is not a problem.
    pub(super) fn check(&self, issued: &Formula) -> Option<&Check> {
        self.check.get_or_init(|| self.advised(issued)).as_ref()
    }

    /// Returns which faults explain the readings that can be read, if the bench was issued this.
    pub(super) fn diagnosis(&self, issued: &Formula) -> Option<&Diagnosis> {
        let diagnosis = self.diagnosis.get_or_init(|| {
            let (method, priors, weighings) = (&self.method, &self.priors, self.readable());
            let diagnosis = match &self.stock {
                Some(waters) => Diagnosis::from_stock(issued, waters, method, priors, weighings),
                None => Diagnosis::new(issued, method, priors, weighings),
            };
            diagnosis.ok()
        });
        diagnosis.as_ref()
    }

    /// Returns the readings up to the first that cannot be read.
    fn readable(&self) -> &Weighings {
        let unreadable = self.unreadable.as_ref();
        unreadable.map_or(&self.weighings, |unreadable| &unreadable.before)
    }

    fn advised(&self, issued: &Formula) -> Option<Check> {
        let unreadable = self.unreadable.as_ref();
        let weighings = self.readable();
        let check = match &self.stock {
            Some(waters) => self.method.check_from_stock(issued, waters, weighings),
            None => self.method.check(issued, weighings),
        };
        let check = check.ok()?;
        Some(match unreadable {
            Some(Unreadable { column, cell, .. }) => check.up_to_unreadable(column, cell),
            None => check,
        })
    }
}

impl PartialEq for BenchKey {
    /// Compares the readings, the rules and the results, from which the advice follows.
    fn eq(&self, other: &BenchKey) -> bool {
        self.weighings == other.weighings
            && self.method == other.method
            && self.stock == other.stock
            && self.priors == other.priors
            && self.unreadable == other.unreadable
            && self.result == other.result
    }
}

/// The first weighing after heating that cannot be read.
#[derive(Debug, Clone, PartialEq)]
struct Unreadable {
    /// The readings before it.
    before: Weighings,
    column: String,
    cell: String,
}

impl Unreadable {
    fn new(row: &Row) -> Option<Unreadable> {
        let UnreadableHeating {
            before,
            column,
            cell,
        } = row.unreadable_heating()?;
        Some(Unreadable {
            before: Weighings::new(
                row.crucible()?,
                row.crucible_hydrate()?,
                before.iter().copied(),
            ),
            column: column.clone(),
            cell: cell.clone(),
        })
    }
}

/// The results of a bench whose readings can be worked out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BenchResult {
    pub(super) dehydration: Dehydration,
    pub(super) defensible: Defensible,
    pub(super) shared: Arc<SharedKey>,
}

/// The most different hydrates that are issued to one class.
pub(super) const MOST_ISSUED: usize = 200;

/// The most keys that are kept for the rows to come. A class has fewer benches; in a larger sheet the
/// rows of a bench are near each other, and otherwise the key is made again.
const MOST_KEPT: usize = 200;

/// The benches of a sheet that were worked out and are needed again.
#[derive(Clone)]
pub(super) struct BenchKeys<'s> {
    sheet: &'s Sheet,
    method: &'s Method,
    /// What the class was issued, and the waters that the stock of it really holds.
    stock: Option<(&'s Formula, Ratio)>,
    priors: Priors,
    /// The salt of the class. Without what was issued to a bench, its masses are worked out by it, which
    /// do not depend on it.
    salt: Formula,
    /// The salts that the rows name.
    class_salts: Vec<Formula>,
    /// By the line of the row with the readings, what was issued, and the balance's readability.
    keys: BTreeMap<(u64, Option<Formula>, Option<Ratio>), Arc<BenchKey>>,
    /// What was issued to the rows so far.
    issued: BTreeSet<Formula>,
    /// By what was issued, the residue, and the significant figures that are kept.
    shared: BTreeMap<(Option<Formula>, Formula, u32), Arc<SharedKey>>,
}

impl<'s> BenchKeys<'s> {
    /// `issued` is what the class was issued, `stock` the waters that it really holds, and `priors` how
    /// probable faults are.
    pub(super) fn new(
        sheet: &'s Sheet,
        method: &'s Method,
        issued: &'s Formula,
        stock: Option<&Ratio>,
        priors: Priors,
    ) -> Self {
        let unit = issued.one_formula_unit();
        BenchKeys {
            sheet,
            method,
            stock: stock.map(|waters| (issued, waters.clone())),
            priors,
            salt: unit.map_or_else(|| issued.clone(), |(salt, _)| salt),
            class_salts: class_salts(sheet),
            keys: BTreeMap::new(),
            issued: BTreeSet::new(),
            shared: BTreeMap::new(),
        }
    }

    /// Returns what was issued to a row, if the class has not too many different hydrates. Each of them
    /// costs as much work as many rows.
    pub(super) fn admit(&mut self, issued: Formula) -> Result<Formula, ProblemKind> {
        if self.issued.contains(&issued) {
            return Ok(issued);
        }
        if self.issued.len() >= MOST_ISSUED {
            return Err(ProblemKind::TooManyIssued(MOST_ISSUED));
        }
        self.issued.insert(issued.clone());
        Ok(issued)
    }

    /// Returns the key of the bench of the row with this index, whose readings are in the row `holder`.
    /// It was issued `issued`, if anything says it.
    pub(super) fn key(
        &mut self,
        row_index: usize,
        holder: &Row,
        issued: Option<&Formula>,
    ) -> Option<Arc<BenchKey>> {
        let readability = self.sheet.readability(row_index);
        let bench = (holder.line(), issued.cloned(), readability.clone());
        if let Some(key) = self.keys.get(&bench) {
            return Some(key.clone());
        }
        let weighings = weighings(holder)?;
        let mut method = self.method.clone();
        method.keep_residue_of(issued.unwrap_or(&self.salt));
        let result = method
            .fall_back_on(readability)
            .and_then(|()| self.result(&method, issued, &weighings));
        let key = Arc::new(BenchKey {
            weighings,
            result,
            method,
            stock: self.stock_of(issued),
            unreadable: Unreadable::new(holder),
            priors: self.priors.clone(),
            check: OnceLock::new(),
            diagnosis: OnceLock::new(),
        });
        if self.sheet.is_shared(row_index) {
            keep(&mut self.keys, bench, key.clone());
        }
        Some(key)
    }

    fn result(
        &mut self,
        method: &Method,
        issued: Option<&Formula>,
        weighings: &Weighings,
    ) -> Result<BenchResult, gravimetry::Error> {
        let dehydration = match issued {
            Some(issued) => method.dehydration_of(issued, weighings),
            None => method.dehydration(&self.salt, weighings),
        }?;
        let shared = self.shared(issued, &dehydration);
        Ok(BenchResult {
            defensible: dehydration.defensible_along(&shared.careful.paths),
            dehydration,
            shared,
        })
    }

    /// Returns the readings before any heating, if they can be read and nothing was lost then, and what they
    /// give. They show the mass of hydrate, however the bench went on.
    pub(super) fn before_heating(
        &mut self,
        row_index: usize,
        holder: &Row,
        issued: Option<&Formula>,
    ) -> Option<(Weighings, BenchResult)> {
        let weighings = match (holder.crucible(), holder.crucible_hydrate()) {
            (Some(container), Some(with_hydrate)) => {
                Weighings::new(container, with_hydrate, [with_hydrate])
            }
            _ => {
                let hydrate = holder.hydrate_mass()?;
                Weighings::net(hydrate, hydrate, holder.net())
            }
        };
        let mut method = self.method.clone();
        method.keep_residue_of(issued.unwrap_or(&self.salt));
        method
            .fall_back_on(self.sheet.readability(row_index))
            .ok()?;
        let result = self.result(&method, issued, &weighings).ok()?;
        Some((weighings, result))
    }

    /// Returns what other readings of a bench give.
    pub(super) fn with_readings(
        &mut self,
        key: &BenchKey,
        issued: Option<&Formula>,
        weighings: &Weighings,
    ) -> Option<BenchResult> {
        self.result(&key.method, issued, weighings).ok()
    }

    /// Returns what the readings of a bench give if heating has left this residue.
    pub(super) fn with_residue(
        &mut self,
        key: &BenchKey,
        issued: &Formula,
        residue: &Formula,
    ) -> Option<BenchResult> {
        let method = key.method.clone().residue(residue).ok()?;
        self.result(&method, Some(issued), &key.weighings).ok()
    }

    /// Returns the key of a bench of which a weighing cannot be read. It gives advice from the weighings
    /// before that, and no result.
    pub(super) fn up_to_unreadable(
        &self,
        row_index: usize,
        holder: Option<&Row>,
        issued: Option<&Formula>,
    ) -> Option<Arc<BenchKey>> {
        let weighings = weighings(holder?).filter(|known| known.container().is_some())?;
        let mut method = self.method.clone();
        method.keep_residue_of(issued?);
        method
            .fall_back_on(self.sheet.readability(row_index))
            .ok()?;
        Some(Arc::new(BenchKey {
            weighings,
            result: Err(gravimetry::Error::unreadable()),
            method,
            stock: self.stock_of(issued),
            unreadable: holder.and_then(Unreadable::new),
            priors: self.priors.clone(),
            check: OnceLock::new(),
            diagnosis: OnceLock::new(),
        }))
    }

    /// Returns the waters that the stock of this hydrate really holds.
    fn stock_of(&self, issued: Option<&Formula>) -> Option<Ratio> {
        let (of, waters) = self.stock.as_ref()?;
        (issued == Some(*of)).then(|| waters.clone())
    }

    /// Returns what this bench has in common with others of its salt.
    fn shared(&mut self, issued: Option<&Formula>, dehydration: &Dehydration) -> Arc<SharedKey> {
        let residue = dehydration.residue().clone();
        let salt = (
            issued.cloned(),
            residue,
            figures_kept(dehydration.figures()),
        );
        if let Some(shared) = self.shared.get(&salt) {
            return shared.clone();
        }
        let shared = Arc::new(SharedKey::new(
            issued.unwrap_or(&self.salt),
            dehydration,
            &self.class_salts,
        ));
        keep(&mut self.shared, salt, shared.clone());
        shared
    }
}

/// Returns the anhydrous salts of the hydrates that the rows name.
fn class_salts(sheet: &Sheet) -> Vec<Formula> {
    let mut rows = BTreeMap::new();
    for row in sheet.rows() {
        if let Some(text) = row.issued().filter(|_| rows.len() < MOST_ISSUED) {
            rows.entry(text).or_insert(row);
        }
    }
    let hydrates = rows.values().filter_map(|row| row.issued_formula()?.ok());
    let salts: BTreeSet<_> = hydrates
        .filter_map(|hydrate| Some(hydrate.one_formula_unit()?.0))
        .collect();
    salts.into_iter().collect()
}

/// Keeps a value. If there are too many, all others are let go.
fn keep<K: Ord, V>(map: &mut BTreeMap<K, V>, key: K, value: V) {
    if map.len() >= MOST_KEPT {
        map.clear();
    }
    map.insert(key, value);
}

/// Returns the readings of a row: the weighings of a container, a percentage, or net masses.
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
