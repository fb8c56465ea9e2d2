//! The page for the wall: what the class found, without pupils, answers or marks.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::bench_names::{BenchNames, names_a_pupil};
use super::block::Block;
use super::class_pictures::class_pictures;
use super::html;
use super::key::{care, own_cautions, salts};
use super::numbers::short_degree;
use super::overview::{by_balance, by_issued};
use super::row::{invented, stock_degree};
use super::table::TextTable;
use crate::class::{ExcessScatter, IssuedPool, Marked, MarkedRow, Outlier};
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::text::list;

/// Writes a page of HTML to project for the class: the result of each bench, and what the class shows together.
///
/// It has no pupils, no answers and no marks, and nothing of the notes or of further columns of the sheet. If a
/// bench may be named like a pupil, all benches are numbered, in the order of x. A name of a balance that may be
/// that of a pupil is left out. The page needs no other file.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_wall_page};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\n\
///     Heron,Ann,2.666,1.303,0.143\nWren,Ben,2.701,1.319,7.00\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut page = String::new();
/// write_wall_page(&marked, &mut page).unwrap();
/// assert!(page.contains("Heron") && page.contains("6.995"));
/// assert!(!page.contains("Ann") && !page.contains("0.143"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_wall_page(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    html::write_large(&blocks(marked), out)
}

fn blocks(marked: &Marked) -> Vec<Block> {
    let salts = salts(marked);
    let names = list(salts.iter().map(ToString::to_string));
    let mut blocks = Vec::from([Block::Title(format!("What the class found: {names}"))]);
    blocks.extend(invented(marked).map(Block::paragraph));
    blocks.extend(own_cautions(marked));
    let names = BenchNames::without_pupils(marked);
    let mut pools = marked
        .pools()
        .iter()
        .filter(|pool| pool.all().n() > 0)
        .peekable();
    if pools.peek().is_none() {
        blocks.push(Block::paragraph("No bench has a result yet."));
        return blocks;
    }
    blocks.extend(pools.map(|pool| Block::Paragraph(result(pool))));
    if names.are_numbers() {
        blocks.push(Block::paragraph(
            "The sheet names benches like pupils, so the benches are numbered in the order of x.",
        ));
    }
    let [dots, series] = class_pictures(marked, &names);
    blocks.extend(dots);
    blocks.push(Block::section("What the class shows"));
    blocks.push(Block::Table(by_issued(marked)));
    blocks.extend(balances(marked).map(Block::Table));
    let findings = ClassFindings::of(marked);
    let shown = findings.shown();
    if !shown.is_empty() {
        blocks.push(Block::dashes(shown));
    }
    if !series.is_empty() {
        blocks.push(Block::section("Heating by heating"));
        blocks.extend(series);
    }
    let questions = findings.questions();
    if !questions.is_empty() {
        blocks.push(Block::section("To discuss"));
        blocks.push(Block::dashes(questions));
    }
    care(marked, &mut blocks);
    blocks
}

/// The result of the benches that were issued one hydrate, in a few sentences.
fn result(pool: &IssuedPool) -> String {
    let (issued, all) = (pool.issued(), pool.all());
    let mut sentences = Vec::from([match all.n() {
        1 => format!("1 bench heated {issued}."),
        n => format!("{n} benches heated {issued}."),
    }]);
    if let Some(median) = all.median() {
        let median = short_degree(median);
        sentences.push(match all.robust_interval() {
            Some((low, high)) => format!(
                "The median of x is {median}, with the 95 % interval {low:.3} to {high:.3}."
            ),
            None => format!("The median of x is {median}."),
        });
    }
    sentences.join(" ")
}

/// Whether a salt must not be heated in a school.
fn is_forbidden(salt: &Formula) -> bool {
    HeatingSafety::of(salt).severity() == Severity::Forbidden
}

/// The statistics of each balance, if no name of a balance may be that of a pupil.
fn balances(marked: &Marked) -> Option<TextTable> {
    let rows = marked.rows().iter();
    let pupils: Vec<&str> = rows.filter_map(MarkedRow::pupil).collect();
    let names = marked.by_balance().iter().map(|(name, _)| name.as_str());
    by_balance(marked).filter(|_| !names_a_pupil(names, &pupils))
}

/// What the results of the class show.
struct ClassFindings {
    changing: usize,
    outliers: usize,
    scatter: bool,
    /// Whether the intervals of two balances are apart.
    balances: bool,
    /// What was expected, and where the benches are.
    salts: Vec<(String, Place)>,
    /// Whether a salt must not be heated in a school. Then nobody is asked about heating it.
    forbidden: bool,
}

/// Where the interval of the median is, compared with what was expected.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    Below,
    Around,
    Above,
}

impl ClassFindings {
    fn of(marked: &Marked) -> ClassFindings {
        let counts = |row: &&MarkedRow| row.has_own_readings() && !row.stand_in();
        let rows = marked.rows().iter().filter(counts);
        let reached = rows.filter_map(|row| row.dehydration()?.constant_mass()?.reached());
        let mut lines: Vec<u64> = marked.outliers().iter().map(Outlier::line).collect();
        lines.sort_unstable();
        lines.dedup();
        let of_balances = marked.by_balance().iter();
        let intervals: Vec<(f64, f64)> = of_balances
            .filter_map(|(_, pool)| pool.interval())
            .collect();
        let greatest_low = intervals.iter().map(|(low, _)| *low).reduce(f64::max);
        let least_high = intervals.iter().map(|(_, high)| *high).reduce(f64::min);
        let scatter = marked.excess_scatter();
        let pools = marked.pools().iter();
        ClassFindings {
            changing: reached.filter(|reached| !reached).count(),
            outliers: lines.len(),
            scatter: scatter.is_some_and(ExcessScatter::is_excess),
            balances: greatest_low
                .zip(least_high)
                .is_some_and(|(low, high)| low > high),
            salts: pools.filter_map(|pool| place(pool, marked)).collect(),
            forbidden: salts(marked).into_iter().any(is_forbidden),
        }
    }

    fn shown(&self) -> Vec<String> {
        let salts = self.salts.iter().map(|(issued, place)| match place {
            Place::Below => format!("The interval of the median is below the x of {issued}."),
            Place::Around => format!("The interval of the median contains the x of {issued}."),
            Place::Above => format!("The interval of the median is above the x of {issued}."),
        });
        let changing = match self.changing {
            0 => None,
            1 => Some("At 1 bench the mass was still changing.".into()),
            n => Some(format!("At {n} benches the mass was still changing.")),
        };
        let outliers = match self.outliers {
            0 => None,
            1 => Some("1 bench is an outlier. It counts all the same.".into()),
            n => Some(format!(
                "{n} benches are outliers. They count all the same."
            )),
        };
        let scatter = "The benches differ by more than the balance explains.";
        let scatter = self.scatter.then(|| scatter.into());
        salts
            .chain(changing)
            .chain(outliers)
            .chain(scatter)
            .collect()
    }

    /// The questions that the results raise.
    fn questions(&self) -> Vec<String> {
        let all = |place: Place| self.salts.iter().any(|(_, own)| *own == place);
        let questions = [
            (
                self.changing > 0 && !self.forbidden,
                "What would one more heating change where the mass was still changing?",
            ),
            (
                all(Place::Below),
                "Most benches found less water than expected. Which step can make all of them too low?",
            ),
            (
                all(Place::Above),
                "Most benches found more water than expected. Which step can make all of them too high?",
            ),
            (
                self.outliers > 0,
                "What can change x of a single bench so much? Which reading would you look at first?",
            ),
            (
                self.balances,
                "The balances give different results. How could you find out which one to trust?",
            ),
            (
                self.scatter && self.outliers == 0,
                "What differs from bench to bench, apart from the balance?",
            ),
        ];
        let raised = questions.into_iter().filter(|(is_raised, _)| *is_raised);
        raised.map(|(_, question)| question.into()).collect()
    }
}

/// What was expected of the benches that were issued one hydrate, and where they are; `None` for too few of
/// them.
fn place(pool: &IssuedPool, marked: &Marked) -> Option<(String, Place)> {
    let (low, high) = pool.all().robust_interval()?;
    let (issued, (_, waters)) = (pool.issued(), pool.issued().one_formula_unit()?);
    let rows = marked.rows().iter();
    let stock = rows
        .filter(|row| row.issued() == Some(issued))
        .find_map(stock_degree);
    let expected = stock.unwrap_or(&waters).to_f64();
    let place = match () {
        () if high < expected => Place::Below,
        () if low > expected => Place::Above,
        () => Place::Around,
    };
    let name = match stock {
        Some(_) => format!("the stock of {issued}"),
        None => issued.to_string(),
    };
    Some((name, place))
}
