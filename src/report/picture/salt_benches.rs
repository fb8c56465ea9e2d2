//! The benches that were issued one hydrate, as a picture shows them.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::bench_names::BenchNames;
use super::super::row::stock_degree;
use super::canvas::Shape;
use crate::class::{IssuedPool, Marked, MarkedRow, Outlier};
use crate::formula::Formula;
use crate::gravimetry::{Candidate, Constancy, Dehydration};
use crate::number::Ratio;
use crate::text::list;

/// The most names in the words of a picture.
const MOST_NAMED: usize = 12;

/// The benches that were issued one hydrate and count for the class.
pub(super) struct SaltBenches<'a> {
    pub(super) pool: &'a IssuedPool,
    /// The waters of what was issued, for one formula unit.
    pub(super) waters: Ratio,
    pub(super) benches: Vec<BenchPoint<'a>>,
}

pub(super) struct BenchPoint<'a> {
    pub(super) name: String,
    pub(super) row: &'a MarkedRow,
    pub(super) dehydration: &'a Dehydration,
    pub(super) x: f64,
    pub(super) outlier: bool,
}

impl BenchPoint<'_> {
    /// The marks of benches, by whether their mass was constant.
    pub(super) const SHAPES: [(Shape, &'static str); 3] = [
        (Shape::Disc, "constant mass"),
        (Shape::Ring, "mass still changing"),
        (Shape::Triangle, "constant mass not known"),
    ];

    pub(super) fn shape(&self) -> Shape {
        match self.reached() {
            Some(true) => Shape::Disc,
            Some(false) => Shape::Ring,
            None => Shape::Triangle,
        }
    }

    /// Whether the mass was constant, if that is known.
    pub(super) fn reached(&self) -> Option<bool> {
        self.dehydration
            .constant_mass()
            .and_then(Constancy::reached)
    }
}

impl<'a> SaltBenches<'a> {
    pub(super) fn issued(&self) -> &'a Formula {
        self.pool.issued()
    }

    /// The waters that the stock really holds, if they are known.
    pub(super) fn stock(&self) -> Option<&'a Ratio> {
        stock_degree(self.benches.first()?.row)
    }

    /// The known hydrates that any of the benches was compared with.
    pub(super) fn known(&self) -> impl Iterator<Item = &'a Candidate> {
        let first = self.benches.first().map(|bench| bench.dehydration);
        let candidates = first.map_or(&[][..], Dehydration::candidates);
        candidates.iter().filter(|candidate| candidate.known())
    }

    /// The names of some of the benches, in a list.
    pub(super) fn names_of(&self, which: impl Fn(&BenchPoint<'_>) -> bool) -> Option<String> {
        named(
            self.benches
                .iter()
                .filter(|bench| which(bench))
                .map(|bench| bench.name.clone()),
        )
    }
}

/// The benches of each hydrate that was issued, without stand-in readings.
pub(super) fn by_salt<'a>(marked: &'a Marked, names: &BenchNames<'_>) -> Vec<SaltBenches<'a>> {
    let outliers: BTreeSet<u64> = marked.outliers().iter().map(Outlier::line).collect();
    let of_pool = |pool: &'a IssuedPool| {
        let rows = marked.rows().iter().filter(|row| {
            row.has_own_readings() && !row.stand_in() && row.issued() == Some(pool.issued())
        });
        let mut benches: Vec<BenchPoint<'a>> = rows
            .filter_map(|row| {
                let dehydration = row.dehydration()?;
                Some(BenchPoint {
                    name: names.of_row(row),
                    row,
                    dehydration,
                    x: dehydration.ratio().to_f64(),
                    outlier: outliers.contains(&row.line()),
                })
            })
            .collect();
        if names.are_numbers() {
            benches.sort_by_key(|bench| names.number(bench.row.line()));
        }
        let (_, waters) = pool.issued().one_formula_unit()?;
        (!benches.is_empty()).then_some(SaltBenches {
            pool,
            waters,
            benches,
        })
    };
    marked.pools().iter().filter_map(of_pool).collect()
}

/// Names in a list, not too many of them.
pub(super) fn named(names: impl Iterator<Item = String>) -> Option<String> {
    let mut names: Vec<String> = names.collect();
    if names.len() > MOST_NAMED {
        let more = names.len() - MOST_NAMED + 1;
        names.truncate(MOST_NAMED - 1);
        names.push(format!("{more} more"));
    }
    (!names.is_empty()).then(|| list(names))
}

/// A number of benches.
pub(super) fn benches(count: usize) -> String {
    match count {
        1 => "1 bench".into(),
        n => format!("{n} benches"),
    }
}
