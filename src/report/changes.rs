//! Who changes when a class is marked again, by how much and why.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::cmp::Ordering;
use core::fmt::{self, Write};

use super::block::{Block, Item};
use super::row::{with_stand_in, write_invented};
use super::table::TextTable;
use super::{markdown, plain};
use crate::class::{Change, MarkChanges, Marked, MarkedRow, Marks, RowChange};
use crate::number::{Ratio, TieRule};
use crate::text::list;

/// Writes the changes between two markings of a class as plain text: whose marks change, by how
/// much, and why.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Policy, Sheet};
/// use effloresce::{gravimetry::Method, report::write_changes};
/// let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,7.08\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marker = Marker::new("MgSO4·7H2O".parse()?, Method::new());
/// let before = marker.mark(&sheet);
/// let policy = Policy::from_toml("[tolerance]\nratio = { absolute = 0.1 }")?;
/// let after = marker.policy(policy).mark(&sheet);
/// let mut text = String::new();
/// write_changes(&before, &after, &mut text).unwrap();
/// assert!(text.contains("Heron     0/1  1/1      +1"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_changes(before: &Marked, after: &Marked, out: &mut impl Write) -> fmt::Result {
    write_invented(after, out)?;
    plain::write(&blocks(before, after), out)
}

/// Writes the changes between two markings of a class as Markdown, as [`write_changes`] does as
/// plain text.
///
/// # Errors
/// Returns an error if `out` fails.
pub fn write_changes_markdown(
    before: &Marked,
    after: &Marked,
    out: &mut impl Write,
) -> fmt::Result {
    write_invented(after, out)?;
    markdown::write(&blocks(before, after), out)
}

fn blocks(before: &Marked, after: &Marked) -> Vec<Block> {
    let mark_changes = MarkChanges::between(before, after);
    let mut blocks = Vec::from([Block::Title(format!(
        "Marked again: loss on heating of {}",
        after.issued()
    ))]);
    let (was, is) = (maximum(before), maximum(after));
    if was != is {
        blocks.push(Block::Paragraph(format!(
            "The maximum was {was} marks and is now {is}."
        )));
    }
    // If a row is out of more or less, its marks alone do not show whether it gains.
    let rows: Vec<&RowChange> = mark_changes
        .rows()
        .iter()
        .filter(|row| gain(row) != Some(Ordering::Equal))
        .collect();
    let all = if mark_changes.rows().iter().any(by_percent) {
        "percentages"
    } else {
        "totals"
    };
    if rows.is_empty() {
        blocks.push(Block::Paragraph(format!("All {all} stay the same.")));
    } else {
        blocks.push(Block::Paragraph(count(&rows, after, all)));
        if rows.iter().any(|row| by_percent(row)) {
            blocks.push(Block::paragraph(
                "Where the maximum changes, the change is in percentage points.",
            ));
        }
        blocks.push(Block::Table(totals(&rows)));
    }
    if !mark_changes.changes().is_empty() {
        blocks.push(Block::section("Why"));
        blocks.push(Block::List(reasons(&mark_changes)));
    }
    blocks
}

/// The largest number of marks that a row could earn.
fn maximum(marked: &Marked) -> Marks {
    let rows = marked.rows().iter();
    rows.map(MarkedRow::out_of).max().unwrap_or_default()
}

/// Whether the row is compared by percentages, because it is out of other marks now.
fn by_percent(row: &RowChange) -> bool {
    row.difference().is_some() && row.out_of_before() != row.out_of_now()
}

/// Whether the row has more of its marks now, or fewer; `None` if it was or is not marked.
fn gain(row: &RowChange) -> Option<Ordering> {
    let difference = row.difference()?;
    Some(if by_percent(row) {
        row.percent_now().cmp(&row.percent_before())
    } else {
        difference.cmp(&Marks::ZERO)
    })
}

fn count(rows: &[&RowChange], after: &Marked, what: &str) -> String {
    let gone = rows.iter().filter(|row| row.to().is_none()).count();
    let marked = after.rows().iter().filter(|row| row.total().is_some());
    let (changed, all) = (rows.len(), marked.count() + gone);
    let way = |way: Ordering| rows.iter().filter(|row| gain(row) == Some(way)).count();
    let verb = if changed == 1 { "changes" } else { "change" };
    let (up, down) = (way(Ordering::Greater), way(Ordering::Less));
    let others = match changed - up - down {
        0 => String::new(),
        others => format!(", {others} without a total before or now"),
    };
    format!("{changed} of {all} {what} {verb}: {up} up, {down} down{others}.")
}

fn totals(rows: &[&RowChange]) -> TextTable {
    let mut table = TextTable::new("Totals that change")
        .names(["Bench", "Pupil", "Period"])
        .right(["Before", "Now", "Change"]);
    for row in rows {
        let [was_open, is_open] = row.open();
        let marks = |marks: Option<Marks>,
                     of: Option<Marks>,
                     percent: Option<Ratio>,
                     open: bool| match (marks.zip(of), percent) {
            (Some((marks, of)), Some(percent)) if by_percent(row) => {
                let percent = percent.to_places(1, TieRule::Even);
                format!("{marks}/{of} ({percent} %)")
            }
            (Some((marks, of)), _) => format!("{marks}/{of}"),
            (None, _) if open => "open".into(),
            (None, _) => "not marked".into(),
        };
        table.row([
            with_stand_in(row.stand_in(), row.bench()),
            row.pupil().unwrap_or_default().to_string(),
            row.period().unwrap_or_default().to_string(),
            marks(
                row.from(),
                row.out_of_before(),
                row.percent_before(),
                was_open,
            ),
            marks(row.to(), row.out_of_now(), row.percent_now(), is_open),
            change(row),
        ]);
    }
    table
}

/// The marks gained or lost, or the percentage points if the row is out of other marks now.
fn change(row: &RowChange) -> String {
    let Some(difference) = row.difference() else {
        return String::new();
    };
    let sign = match gain(row) {
        Some(Ordering::Less) => '−',
        _ => '+',
    };
    match row.percent_before().zip(row.percent_now()) {
        Some((before, now)) if by_percent(row) => {
            let points = (now - before).abs().to_places(1, TieRule::Even);
            format!("{sign}{points} points")
        }
        _ => format!("{sign}{}", difference.max(Marks::ZERO - difference)),
    }
}

/// A list of the reasons, each with the rows that it changed.
fn reasons(mark_changes: &MarkChanges) -> Vec<Item> {
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    let mut indices: BTreeMap<String, usize> = BTreeMap::new();
    for change in mark_changes.changes() {
        let name = row_name(change);
        let text = reason(change);
        let index = *indices.entry(text).or_insert_with_key(|text| {
            reasons.push((text.clone(), Vec::new()));
            reasons.len() - 1
        });
        if let Some((_, names)) = reasons.get_mut(index) {
            names.push(name);
        }
    }
    let items = reasons.into_iter();
    items
        .map(|(text, names)| Item::dash(format!("{text}: {}.", list(names))))
        .collect()
}

/// The bench, with the pupil, the period and a word about stand-in readings in brackets.
fn row_name(change: &Change) -> String {
    let period = change.period().map(|period| format!("period {period}"));
    let pupil = change.pupil().map(String::from);
    let stand_in = change.stand_in().then(|| "stand-in readings".into());
    let within = [pupil, period, stand_in].into_iter().flatten();
    let within: Vec<String> = within.collect();
    match within.as_slice() {
        [] => change.bench().into(),
        within => format!("{} ({})", change.bench(), within.join(", ")),
    }
}

/// The reason, with the marks if its sentence does not name them.
fn reason(change: &Change) -> String {
    let reason = change.reason();
    let text = reason.text();
    match (change.quantity(), change.from(), change.to()) {
        (Some(_), Some(from), Some(to)) if !change.reason_names_marks() => {
            if from == to {
                format!("{text}, and earns {to} as before")
            } else {
                format!("{text}, and earns {to} instead of {from}")
            }
        }
        _ => text.into(),
    }
}

#[cfg(test)]
mod tests {
    use alloc::vec;

    use super::*;
    use crate::class::{Marker, Policy, Sheet};
    use crate::gravimetry::Method;

    #[test]
    fn each_row_over_its_own_marks() {
        let text = "bench,period,stand_in,hydrate_g,residue_g,reported_ratio\n\
                    Heron,1,,2.666,1.303,7.08\nHeron,2,yes,2.666,1.303,7.08\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        // Stand-in readings earn nothing for accuracy, so that their row is out of one.
        let policy = "tolerance = { ratio = { absolute = 0.1 } }\n\
                      accuracy = { bands = [{ within_percent = 5, marks = 3 }] }";
        let policy = Policy::from_toml(policy).unwrap();
        let (before, after) = (marker.mark(&sheet), marker.policy(policy).mark(&sheet));
        let mut text = String::new();
        write_changes(&before, &after, &mut text).unwrap();
        let rows: Vec<Vec<&str>> = text
            .lines()
            .filter(|line| line.contains("/1 "))
            .map(|line| {
                line.split("  ")
                    .map(str::trim)
                    .filter(|c| !c.is_empty())
                    .collect()
            })
            .collect();
        assert_eq!(
            rows,
            [
                vec![
                    "Heron",
                    "1",
                    "0/1 (0.0 %)",
                    "4/4 (100.0 %)",
                    "+100.0 points"
                ],
                vec!["Heron (stand-in readings)", "2", "0/1", "1/1", "+1"],
            ],
            "{text}"
        );
        let words: Vec<&str> = text.split_whitespace().collect();
        let who = "Heron (period 1) and Heron (period 2, stand-in readings)";
        assert!(words.join(" ").contains(who), "{text}");
    }
}
