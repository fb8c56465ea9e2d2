//! The report on a class for its teacher, as a page of HTML.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::bench_names::BenchNames;
use super::block::Block;
use super::class_pictures::class_pictures;
use super::key::{benches, care, heading, marks_in_columns, remarks, salts};
use super::row::{invented, marks_of_answers, with_stand_in};
use super::table::TextTable;
use super::{bench, html, overview, see_first};
use crate::class::{Answer, CsvStyle, Marked, MarkedRow, Verdict};
use crate::gravimetry::Quantity;
use crate::text::sentence;

/// Writes the report on a class as one page of HTML that needs no other file and loads none.
///
/// The page has all that the [key](super::write_key) has, and more: whom to see first with the reasons, and a table
/// of all answers with their verdicts and marks. It can be read in light and in dark, on a phone, with a
/// screen reader, and printed on A4 and on US Letter.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_report_html};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,H1,2.666,1.303,0.1431\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut page = String::new();
/// write_report_html(&marked, &mut page).unwrap();
/// assert!(page.starts_with("<!DOCTYPE html>\n"));
/// assert!(page.contains("<bdi>Heron, H1</bdi></th><td>Marks: 0/1.</td>"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_report_html(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    html::write(&blocks(marked), out)
}

fn blocks(marked: &Marked) -> Vec<Block> {
    let mut blocks = heading("Report", marked);
    let after_title = invented(marked).map(Block::paragraph);
    blocks.splice(1..1, after_title);
    blocks.push(facts(marked));
    blocks.extend(see_first::section(marked));
    if salts(marked).len() == 1 {
        blocks.push(Block::section("All benches"));
    }
    blocks.extend(benches(marked));
    let [dots, series] = class_pictures(marked, &BenchNames::new(marked));
    for (title, pictures) in [("x by bench", dots), ("Heating by heating", series)] {
        if !pictures.is_empty() {
            blocks.push(Block::section(title));
            blocks.extend(pictures);
        }
    }
    if let Some(table) = answers(marked) {
        blocks.push(Block::section("All answers"));
        blocks.push(Block::paragraph(
            "Each answer has its verdict and its marks. A question mark is one that is still to be marked by hand. A dash \
             is one that does not count.",
        ));
        blocks.push(Block::Table(table));
    }
    overview::section(marked, &mut blocks);
    blocks.push(Block::section("Each bench"));
    blocks.extend(marked.rows().iter().map(bench::section));
    remarks(marked, &mut blocks);
    care(marked, &mut blocks);
    blocks
}

/// How large the class is.
fn facts(marked: &Marked) -> Block {
    let count = |is: fn(&MarkedRow) -> bool| marked.rows().iter().filter(|row| is(row)).count();
    let mut facts = Vec::from([
        format!("Rows of the sheet: {}.", marked.rows().len()),
        format!(
            "Benches worked out: {}.",
            count(|row| row.has_own_readings() && row.mass_loss().is_some())
        ),
    ]);
    for (what, count) in [
        ("Absent", count(MarkedRow::absent)),
        (
            "Benches with stand-in readings",
            count(|row| row.has_own_readings() && row.stand_in()),
        ),
    ] {
        if count > 0 {
            facts.push(format!("{what}: {count}."));
        }
    }
    Block::Paragraph(facts.join(" "))
}

/// The answers of all rows, with a column for each quantity that was asked for.
fn answers(marked: &Marked) -> Option<TextTable> {
    let is_asked = |quantity: &Quantity| {
        let mut rows = marked.rows().iter();
        rows.any(|row| row.answer(*quantity).is_some())
    };
    let asked: Vec<Quantity> = Quantity::ALL.into_iter().filter(is_asked).collect();
    if asked.is_empty() {
        return None;
    }
    let headings = asked.iter().map(|quantity| heading_of(*quantity));
    let mut table = TextTable::new("Answers with their verdicts and marks")
        .names(["Bench", "Pupil", "Period"])
        .left(headings)
        .right(["Marks"]);
    for row in marked.rows() {
        let marks = marks_of_answers(row, CsvStyle::default());
        let answers = || row.answers().iter().zip(&marks);
        let mut cells = Vec::from([
            with_stand_in(row.stand_in(), row.bench()),
            row.pupil().unwrap_or_default().into(),
            row.period().unwrap_or_default().into(),
        ]);
        cells.extend(asked.iter().map(|quantity| {
            let of_quantity = answers().find(|(answer, _)| answer.quantity() == *quantity);
            of_quantity.map_or_else(String::new, |(answer, marks)| cell(answer, marks))
        }));
        let [_, _, total] = marks_in_columns(row);
        cells.push(total);
        table.row(cells);
    }
    Some(table)
}

/// An answer with its verdict in words and its marks.
fn cell(answer: &Answer, marks: &str) -> String {
    let verdict = match answer.verdict() {
        _ if answer.marked_by_hand() => "marked by hand".into(),
        _ if answer.by_hand() => "not marked yet".into(),
        Verdict::Slip => "wrong".into(),
        verdict => verdict.to_string(),
    };
    match answer.reported() {
        "" => format!("{verdict} [{marks}]"),
        _ => format!("{}: {verdict} [{marks}]", answer.reported_with_unit()),
    }
}

fn heading_of(quantity: Quantity) -> String {
    let mut heading = sentence(&quantity.to_string());
    heading.pop();
    heading
}
