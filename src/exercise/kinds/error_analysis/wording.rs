//! The prompt: the sheet as a table of plain text, what may have gone wrong, and the question.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::{SheetBench, SheetBenches};
use super::rules::SheetRules;
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
    let mut text = format!(
        "{count} benches heated {} to find its water of crystallization. \
         Each bench weighed its empty crucible, put the hydrate in, and weighed again after each heating. \
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
    let mut head: Vec<String> = ["bench", "empty crucible/g", "with hydrate/g"]
        .map(String::from)
        .into();
    let ordinals = HEATINGS.iter().take(heatings);
    head.extend(ordinals.map(|ordinal| format!("after {ordinal} heating/g")));
    head.extend(
        rules
            .quantities
            .iter()
            .map(|quantity| match quantity.unit() {
                "" => quantity.name().to_string(),
                unit => format!("{}/{unit}", quantity.name()),
            }),
    );
    let rows = benches.all.iter().zip(&answers.reported);
    let rows = rows.map(|(bench, reported)| row(bench, heatings, reported));
    core::iter::once(head).chain(rows).collect()
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
pub(super) fn choices(heading: &str, items: impl IntoIterator<Item = impl ToString>) -> String {
    let lines = items
        .into_iter()
        .map(|item| format!("- {}\n", item.to_string()));
    format!("{heading}\n{}", lines.collect::<String>())
}
