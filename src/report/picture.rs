//! The class as a whole, in the key: its benches together, and those that lie apart.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::block::Block;
use super::key::two_figures;
use super::table::{Align, Table};
use crate::class::{ExcessScatter, Marked, Outlier, OutlierTest, Pooled};
use crate::number::{Ratio, TieRule};

pub(super) fn section(marked: &Marked, blocks: &mut Vec<Block>) {
    blocks.push(Block::section("The class"));
    let pools = [
        ("all", marked.pooled()),
        ("at constant mass", marked.at_constant_mass()),
    ];
    blocks.push(Block::Table(pooled("Benches", pools)));
    if marked.pooled().sd().is_none() {
        blocks.push(Block::paragraph("Below five benches no spread is given."));
    }
    for (name, pools) in [
        ("Balance", marked.by_balance()),
        ("Period", marked.by_period()),
    ] {
        if !pools.is_empty() {
            let pools = pools.iter().map(|(name, pool)| (name.as_str(), pool));
            blocks.push(Block::Table(pooled(name, pools)));
        }
    }
    let mut said = apart(marked);
    said.extend(marked.excess_scatter().map(scatter));
    said.extend(stand_in(marked));
    if !said.is_empty() {
        blocks.push(Block::dashes(said));
    }
}

fn pooled<'a>(first: &str, pools: impl IntoIterator<Item = (&'a str, &'a Pooled)>) -> Table {
    let mut table = Table::new([
        (first, Align::Left),
        ("n", Align::Right),
        ("Mean x", Align::Right),
        ("Median", Align::Right),
        ("s", Align::Right),
        ("95 % interval of the mean", Align::Left),
    ]);
    for (name, pool) in pools {
        let places = |value: Option<&Ratio>| {
            value.map_or_else(String::new, |v| v.to_places(3, TieRule::Even).to_string())
        };
        let interval = pool
            .interval()
            .map_or_else(String::new, |(low, high)| format!("{low:.2} to {high:.2}"));
        table.row([
            name.into(),
            pool.n().to_string(),
            places(pool.mean()),
            places(pool.median()),
            pool.sd().map_or_else(String::new, two_figures),
            interval,
        ]);
    }
    table
}

/// A sentence for each bench that a test flags, or one that there is none.
fn apart(marked: &Marked) -> Vec<String> {
    let mut benches: Vec<(&str, Vec<&Outlier>)> = Vec::new();
    for outlier in marked.outliers() {
        let known = benches.iter_mut().find(|(b, _)| *b == outlier.bench());
        match known {
            Some((_, outliers)) => outliers.push(outlier),
            None => benches.push((outlier.bench(), Vec::from([outlier]))),
        }
    }
    if benches.is_empty() {
        // The least that a test can be done with.
        return match marked.pooled().n() {
            0..=2 => Vec::new(),
            3..=10 => {
                Vec::from(["No bench lies apart by Grubbs' test or Dixon's, at 95 %.".to_string()])
            }
            _ => Vec::from(["No bench lies apart by Grubbs' test, at 95 %.".to_string()]),
        };
    }
    benches
        .iter()
        .map(|(bench, outliers)| {
            let by = outliers.iter().map(|outlier| by_test(outlier));
            format!(
                "{bench} lies apart from the others by {}. It counts all the same: look at its \
                 readings before you leave anything out.",
                crate::text::list(by)
            )
        })
        .collect()
}

fn by_test(outlier: &Outlier) -> String {
    let name = match outlier.test() {
        OutlierTest::Grubbs => "Grubbs' test",
        OutlierTest::Dixon => "Dixon's",
    };
    format!(
        "{name} ({:.3}, where sound benches stay below {:.3} in 95 % of classes)",
        outlier.statistic(),
        outlier.critical()
    )
}

fn scatter(test: &ExcessScatter) -> String {
    let figures = format!(
        "chi-squared {:.1}, where {:.1} is exceeded by chance in 5 % of classes of {} benches",
        test.statistic(),
        test.critical(),
        test.n()
    );
    if test.is_excess() {
        format!(
            "The benches scatter more than balance, criterion and method explain ({figures}); a \
             further standard deviation of {} in x would explain it.",
            two_figures(test.extra_sd())
        )
    } else {
        format!(
            "The benches scatter no more than balance, criterion and method explain ({figures})."
        )
    }
}

fn stand_in(marked: &Marked) -> Option<String> {
    let rows = marked.rows().iter();
    let any = rows
        .filter(|row| row.stand_in() && row.has_own_readings())
        .count();
    (any > 0).then(|| "Stand-in readings are in none of these figures.".to_string())
}
