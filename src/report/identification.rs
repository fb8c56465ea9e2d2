//! The hydrates that an unknown may be, as a text.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::block::Block;
use super::numbers::two_figures;
use super::plain;
use super::table::TextTable;
use crate::gravimetry::{HydrateMatch, Identification};
use crate::number::{Ratio, TieRule};
use crate::text::Note;

/// The most hydrates in the table.
const MOST_ROWS: usize = 12;

/// The most of those that are hardly probable.
const MOST_UNLIKELY: usize = 5;

/// Writes what an unknown hydrate may be: the cautions first, then the hydrates by their probability, and what
/// the mass alone decides.
///
/// `readings` are sentences on where the percentage of water comes from. They are below the title.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::gravimetry::{Method, Weighings};
/// use effloresce::report::write_identification;
/// let unknown = Method::new().identify(&Weighings::percent_water("36.1".parse()?))?;
/// let mut text = String::new();
/// write_identification(&unknown, &["It has 36.1 % of water."], &mut text)?;
/// assert!(text.contains("CuSO4·5H2O"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn write_identification(
    unknown: &Identification,
    readings: &[&str],
    out: &mut impl Write,
) -> fmt::Result {
    let mut blocks = Vec::from([Block::Title("What the unknown hydrate may be".into())]);
    blocks.extend(readings.iter().map(|text| Block::paragraph(*text)));
    blocks.push(Block::section("Safety"));
    blocks.push(Block::dashes(
        core::iter::once(UNKNOWN_CAUTION.to_string()).chain(
            unknown
                .cautions()
                .iter()
                .map(|note| note.text().to_string()),
        ),
    ));
    blocks.push(Block::section("The hydrates"));
    blocks.push(Block::paragraph(format!(
        "Water: {} %, with a standard uncertainty of {} %. Atomic weights: IUPAC {}.",
        two_places(unknown.percent_water()),
        two_figures(unknown.standard_uncertainty()),
        unknown.edition()
    )));
    blocks.push(Block::Table(table(unknown)));
    blocks.extend(left_out(unknown).map(Block::Paragraph));
    blocks.push(Block::section("What mass alone decides"));
    blocks.push(Block::dashes(decided(unknown)));
    plain::write(&blocks, out)
}

const UNKNOWN_CAUTION: &str = "Treat an unknown as the most dangerous salt that it may be. These cautions are \
     those of the most severe likely ones.";

fn shown(unknown: &Identification) -> &[HydrateMatch] {
    let likely = unknown.likely().len();
    let rows = (likely + MOST_UNLIKELY).min(MOST_ROWS.max(likely));
    unknown.matches().get(..rows).unwrap_or(unknown.matches())
}

fn table(unknown: &Identification) -> TextTable {
    let mut table = TextTable::new("Hydrates that fit")
        .left(["Hydrate"])
        .right(["Water/%", "z", "Probability"]);
    for one in shown(unknown) {
        table.row([
            one.formula().to_string(),
            two_places(one.expected_percent_water()),
            format!("{:.1}", one.z()),
            probability(one.probability()),
        ]);
    }
    table
}

/// The hydrates that are not in the table.
fn left_out(unknown: &Identification) -> Option<String> {
    let others = unknown.matches().get(shown(unknown).len()..)?;
    let sum: f64 = others.iter().map(HydrateMatch::probability).sum();
    let count = others.len();
    (count > 0).then(|| {
        format!(
            "Compared, too: {count} more, together {}.",
            probability(sum)
        )
    })
}

fn decided(unknown: &Identification) -> Vec<String> {
    let mut sentences = Vec::new();
    if let Some(best) = unknown
        .matches()
        .first()
        .filter(|_| unknown.fits() && !unknown.undecided())
    {
        sentences.push(format!(
            "Of the hydrates that are compared, {} is the only likely one. Hydrates that are not compared may have the \
             same percentage of water.",
            best.formula()
        ));
    }
    sentences.extend(unknown.notes().iter().map(Note::text).map(String::from));
    sentences.push(
        "All hydrates that are compared count as equally probable before the sample is heated. z is the distance in \
         standard uncertainties."
            .into(),
    );
    sentences
}

fn two_places(percent: &Ratio) -> String {
    percent.to_places(2, TieRule::Even).to_string()
}

fn probability(value: f64) -> String {
    match value {
        _ if value < 0.001 => "below 0.001".into(),
        _ if value > 0.999 => "above 0.999".into(),
        _ => format!("{value:.3}"),
    }
}
