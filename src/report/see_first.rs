//! Whom the teacher should see first, with the reasons.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::block::Block;
use super::key::marks_in_columns;
use super::mistyped::mistyped_lines;
use super::row::title;
use super::table::TextTable;
use crate::class::{Marked, MarkedRow, Outlier};
use crate::gravimetry::{Constancy, Dehydration, HeatingSafety, Outcome, Severity, Warning};
use crate::mistake::Diagnosis;
use crate::number::Ratio;

/// The most rows of the table.
const MOST: usize = 12;

/// The kinds of reasons, the most urgent first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Urgency {
    Danger,
    Mistyped,
    Open,
    Outlier,
    Marks,
    Bench,
}

/// What the reasons of each row are looked up in.
struct Lookup {
    mistyped: BTreeSet<u64>,
    outliers: BTreeSet<u64>,
}

pub(super) fn section(marked: &Marked) -> Vec<Block> {
    let mut blocks = Vec::from([Block::section("Whom to see first")]);
    if marked.rows().is_empty() {
        blocks.push(Block::paragraph("The sheet has no rows."));
        return blocks;
    }
    let lookup = Lookup {
        mistyped: mistyped_lines(marked),
        outliers: marked.outliers().iter().map(Outlier::line).collect(),
    };
    let rows = marked.rows().iter();
    let mut rows: Vec<(&MarkedRow, Vec<(Urgency, String)>)> = rows
        .map(|row| (row, reasons(row, &lookup)))
        .filter(|(_, reasons)| !reasons.is_empty())
        .collect();
    rows.sort_by_cached_key(|(row, reasons)| {
        let urgency = reasons.first().map(|(urgency, _)| *urgency);
        (urgency, share(row))
    });
    if rows.is_empty() {
        blocks.push(Block::paragraph(
            "Nobody stands out. Nothing is open or mistyped, and everybody has at least half of the marks.",
        ));
        return blocks;
    }
    let mut table = TextTable::new("The most urgent first")
        .names(["Who"])
        .left(["Why"]);
    for (row, reasons) in rows.iter().take(MOST) {
        let reasons: Vec<&str> = reasons.iter().map(|(_, reason)| reason.as_str()).collect();
        table.row([title(row), reasons.join(" ")]);
    }
    blocks.push(Block::Table(table));
    match rows.len().saturating_sub(MOST) {
        0 => {}
        1 => blocks.push(Block::paragraph("One more has a less urgent reason.")),
        more => blocks.push(Block::Paragraph(format!(
            "{more} more have less urgent reasons."
        ))),
    }
    blocks
}

/// The reasons of a row, the most urgent first.
fn reasons(row: &MarkedRow, lookup: &Lookup) -> Vec<(Urgency, String)> {
    if row.absent() {
        return Vec::new();
    }
    let is_mistyped = lookup.mistyped.contains(&row.line());
    let mut reasons = Vec::new();
    if row.has_own_readings() {
        reasons.extend(danger(row).map(|why| (Urgency::Danger, why.into())));
        if is_mistyped {
            let why = "A reading may be mistyped in the sheet.";
            reasons.push((Urgency::Mistyped, why.into()));
        }
    }
    if row.mass_loss().is_none() {
        let why = "The readings could not be worked out.";
        reasons.push((Urgency::Open, why.into()));
    }
    match row.by_hand() {
        0 => {}
        1 => reasons.push((
            Urgency::Open,
            "One answer is still to be marked by hand.".into(),
        )),
        open => reasons.push((
            Urgency::Open,
            format!("{open} answers are still to be marked by hand."),
        )),
    }
    if lookup.outliers.contains(&row.line()) {
        reasons.push((Urgency::Outlier, "x is an outlier.".into()));
    }
    if share(row).is_some_and(|share| share * 2 < Ratio::ONE) {
        let [_, _, marks] = marks_in_columns(row);
        reasons.push((Urgency::Marks, format!("Marks: {marks}.")));
    }
    if let Some(dehydration) = row.dehydration().filter(|_| row.has_own_readings()) {
        reasons
            .extend(at_the_bench(row, dehydration, is_mistyped).map(|why| (Urgency::Bench, why)));
    }
    reasons
}

/// What may harm somebody.
fn danger(row: &MarkedRow) -> Option<&'static str> {
    let is_forbidden = |issued| HeatingSafety::of(issued).severity() == Severity::Forbidden;
    if row.issued().is_some_and(is_forbidden) {
        return Some("The salt must not be heated in a school at all.");
    }
    let too_far = |finding: &Warning| {
        matches!(
            finding,
            Warning::Overheating(_) | Warning::HeatedBeyond(_) | Warning::PartlyBeyond(_)
        )
    };
    let findings = row.dehydration()?.findings();
    let is_too_far = findings.iter().any(too_far);
    is_too_far.then_some("The salt may have been heated too far.")
}

/// What went wrong at the bench.
fn at_the_bench(row: &MarkedRow, dehydration: &Dehydration, is_mistyped: bool) -> Option<String> {
    // A reading that may be wrong is said already.
    let diagnosis = row
        .diagnosis()
        .filter(|own| !is_mistyped || own.misreading().is_none());
    if let Some(fault) = diagnosis.and_then(Diagnosis::sentence) {
        return Some(fault);
    }
    let reached = dehydration.constant_mass().and_then(Constancy::reached);
    match dehydration.outcome() {
        _ if reached == Some(false) => Some("Constant mass was not reached.".into()),
        Outcome::Inconsistent => Some("The readings fit no hydrate.".into()),
        _ => None,
    }
}

/// The share of the marks that the row has, if they are final.
fn share(row: &MarkedRow) -> Option<Ratio> {
    row.total()?.value().checked_div(&row.out_of().value())
}
