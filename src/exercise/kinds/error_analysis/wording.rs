//! The prompt: the sheet as a table of plain text, what may have gone wrong, and the question.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::{SheetBench, SheetBenches};
use super::rules::SheetRules;
use crate::exercise::answer_part::PartChoice;
use crate::gravimetry::Quantity;

/// What stands between two cells of a row of the table.
const BETWEEN: &str = " | ";
const HEATINGS: [&str; 6] = ["first", "second", "third", "fourth", "fifth", "sixth"];

/// How the sheet came about, and the sheet.
pub(super) fn sheet(rules: &SheetRules, benches: &SheetBenches<'_>, answers: &Answers) -> String {
    let count = match rules.benches {
        4 => "Four",
        5 => "Five",
        _ => "Six",
    };
    let reported = crate::text::list(rules.quantities.iter().map(|quantity| quantity.name()));
    let mut text = format!(
        "{count} benches heated {} to find its water of crystallization. \
         Each bench weighed a crucible empty, filled with the hydrate, and after each heating. \
         Each line ends with what the bench reports: {reported}. \
         The balance shows steps of {}\u{a0}g. \
         The mass is constant if the last two weighings differ by at most {}\u{a0}g. \
         A dash means that the bench did not heat again.\n",
        benches.row.hydrate, benches.readability, benches.criterion,
    );
    for line in table(rules, benches, answers) {
        text.push_str(&line.join(BETWEEN));
        text.push('\n');
    }
    if rules.quantities.contains(&Quantity::Ratio) {
        text.push_str(&format!(
            "The mole ratio is the amount of water divided by the amount of {}.\n",
            benches.row.salt
        ));
    }
    text.push_str(
        "One bench had a fault: something went wrong with its sample or its weighings. \
         Its reported values follow from its readings. \
         Another bench has good readings and made one slip: it worked out a value in a wrong way.",
    );
    if rules.carried {
        text.push_str(" Its later values may follow from the wrong one.");
    }
    text.push('\n');
    text
}

/// The rows of the table, the headings first.
fn table(rules: &SheetRules, benches: &SheetBenches<'_>, answers: &Answers) -> Vec<Vec<String>> {
    let heatings = benches
        .all
        .iter()
        .map(|bench| bench.weighings.heated().len());
    let heatings = heatings.max().unwrap_or(0);
    let before = ["bench", "empty/g", "filled/g"].map(String::from);
    let mut head = Vec::from(before);
    let ordinals = HEATINGS.iter().take(heatings);
    head.extend(ordinals.map(|ordinal| format!("{ordinal}/g")));
    head.extend(rules.quantities.iter().map(|quantity| heading(*quantity)));
    let rows = benches.all.iter().zip(&answers.reported);
    let rows = rows.map(|(bench, reported)| row(bench, heatings, reported));
    core::iter::once(head).chain(rows).collect()
}

/// The heading of what is reported, with its unit.
fn heading(quantity: Quantity) -> String {
    let short = match quantity {
        Quantity::MolSalt => "salt",
        Quantity::WaterMass | Quantity::PercentWater | Quantity::MolWater => "water",
        other => other.name(),
    };
    match quantity.unit() {
        "" => short.into(),
        unit => format!("{short}/{unit}"),
    }
}

fn row(bench: &SheetBench, heatings: usize, reported: &[String]) -> Vec<String> {
    let SheetBench {
        name, weighings, ..
    } = bench;
    let before = [weighings.container(), weighings.with_hydrate()];
    let readings = before.into_iter().flatten().chain(weighings.heated());
    let mut cells = Vec::from([(*name).to_string()]);
    cells.extend(readings.map(ToString::to_string));
    cells.resize(3 + heatings, "–".into());
    cells.extend(reported.iter().cloned());
    cells
}

/// A list of things to choose from, one a line, under its heading.
pub(super) fn list(heading: &str, choices: &[PartChoice]) -> String {
    let lines = choices
        .iter()
        .map(|choice| format!("- {}\n", choice.words()));
    format!("{heading}\n{}", lines.collect::<String>())
}
