//! What each bench should do now, while the class is heating.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::plain::paragraph;
use super::table::{Align, Table};
use crate::class::{Marked, MarkedRow};
use crate::gravimetry::Check;
use crate::number::{Ratio, TieRule};

/// Writes what each bench should do now, those in the greatest trouble first.
///
/// # Errors
/// Where `out` fails.
pub fn write_during(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    writeln!(out, "What each bench should do now ({})", marked.issued())?;
    writeln!(out)?;
    let mut benches: Vec<(&MarkedRow, &Check)> = marked
        .rows()
        .iter()
        .filter(|row| row.has_own_readings())
        .filter_map(|row| row.check().map(|check| (row, check)))
        .collect();
    let off = |check: &Check| check.still_to_lose().map(Ratio::abs).unwrap_or_default();
    benches.sort_by(|(_, a), (_, b)| {
        a.advice()
            .cmp(&b.advice())
            .then_with(|| off(b).cmp(&off(a)))
    });
    let mut table = Table::new([
        ("Bench", Align::Left),
        ("Do now", Align::Left),
        ("Should come to/g", Align::Right),
        ("Still to lose/g", Align::Right),
        ("Why", Align::Left),
    ]);
    for (row, check) in &benches {
        let grams = |mass: Option<&Ratio>| {
            mass.map_or_else(String::new, |m| m.to_places(4, TieRule::Even).to_string())
        };
        table.row([
            row.bench().to_string(),
            check.advice().to_string(),
            grams(check.expected_last()),
            grams(check.still_to_lose()),
            check.reasons().first().map_or_else(String::new, short),
        ]);
    }
    table.write("", out)?;
    for (row, check) in &benches {
        if check.reasons().is_empty() {
            continue;
        }
        writeln!(out)?;
        let why: Vec<&str> = check.reasons().iter().map(crate::Note::text).collect();
        paragraph(out, &format!("{}: ", row.bench()), &why.join(" "))?;
    }
    let silent: Vec<&str> = marked
        .rows()
        .iter()
        .filter(|row| row.check().is_none())
        .map(MarkedRow::bench)
        .collect();
    if !silent.is_empty() {
        writeln!(out)?;
        let names = crate::text::list(silent);
        let text =
            format!("No advice can be given for {names}: weighings of a container are needed.");
        paragraph(out, "", &text)?;
    }
    let blocked: Vec<String> = marked
        .problems()
        .iter()
        .filter(|problem| !problem.is_still_to_come())
        .map(ToString::to_string)
        .collect();
    if !blocked.is_empty() {
        writeln!(out, "\nProblems")?;
        for problem in blocked {
            paragraph(out, "  - ", &problem)?;
        }
    }
    Ok(())
}

/// The reason in two or three words, for the table.
fn short(reason: &crate::Note) -> String {
    reason.code().replace('_', " ")
}
