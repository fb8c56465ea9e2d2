//! A reading that may be mistyped in the sheet.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::gravimetry::{
    ContainerWeighings, Dehydration, Weighings, with_digits_kept, with_one_digit_changed,
};
use crate::number::{Ratio, Reading};
use crate::text::Note;

/// A reading of the sheet that may be mistyped, and what it is otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct MistypedReading {
    /// The column of the sheet.
    column: String,
    written: Reading,
    meant: Reading,
}

impl MistypedReading {
    /// Returns the note of an answer that is right with the other reading.
    pub(super) fn note(&self) -> Note {
        let MistypedReading {
            column,
            written,
            meant,
        } = self;
        let text = format!(
            "it is right with {meant} g instead of {written} g as `{column}`, so compare the sheet with the pupil's \
             paper"
        );
        Note::new("mistyped", text)
            .with("column", column.as_str())
            .with("written", format!("{written}"))
            .with("meant", format!("{meant}"))
    }
}

/// Readings of a bench of which one is mistyped in the sheet, and how they were meant.
pub(super) struct Correction {
    pub(super) reading: Box<MistypedReading>,
    pub(super) weighings: Weighings,
    /// The number of answers that must follow these readings: one if the loss written is far from the expected one,
    /// otherwise two.
    pub(super) evidence: usize,
    /// Whether the last two weighings agree with these readings, and do not as written.
    pub(super) makes_constant: bool,
}

/// Returns the readings that one wrong digit explains: of the container, of the container with the hydrate, or the
/// last one. An exchange of two neighbouring digits, a decimal point in another place, and a digit that was
/// typed twice count, too. The bench then lost what it should, which it did not lose as written.
pub(super) fn corrections(
    weighings: &Weighings,
    own: &Dehydration,
    expected_degree: &Ratio,
) -> Vec<Correction> {
    let loss = ExpectedLoss::new(own, expected_degree);
    let written = weighings.container_weighings();
    let Some((written, loss)) = written.zip(loss) else {
        return Vec::new();
    };
    let tenth = Ratio::new(1, 10).unwrap_or_default();
    let hundredth = Ratio::new(1, 100).unwrap_or_default();
    if loss.is_within(&hundredth, written) {
        return Vec::new();
    }
    let evidence = if loss.is_within(&tenth, written) {
        2
    } else {
        1
    };
    let last = written.heated.len();
    let agree = |weighings: &ContainerWeighings| {
        let constancy = own.constant_mass();
        let pair = weighings.heated.last_chunk::<2>();
        pair.zip(constancy)
            .is_some_and(|([before, last], constancy)| {
                (last.value() - before.value()).abs() <= *constancy.criterion()
            })
    };
    let is_constant = agree(written);
    let mut found = Vec::new();
    for index in [0, 1, last + 1] {
        let mut other = written.clone();
        let Some(reading) = reading_at(&mut other, index).copied() else {
            continue;
        };
        for meant in with_one_digit_changed(&reading).chain(with_digits_kept(&reading)) {
            if let Some(reading) = reading_at(&mut other, index) {
                *reading = meant;
            }
            if loss.is_within(&hundredth, &other) {
                let makes_constant = !is_constant && agree(&other);
                let heated = other.heated.iter().copied();
                found.push(Correction {
                    reading: Box::new(MistypedReading {
                        column: column_at(index),
                        written: reading,
                        meant,
                    }),
                    weighings: Weighings::new(other.container, other.with_hydrate, heated),
                    evidence,
                    makes_constant,
                });
            }
        }
    }
    found
}

/// Returns the reading with this index: the empty container, with the hydrate, after each heating.
fn reading_at(weighings: &mut ContainerWeighings, index: usize) -> Option<&mut Reading> {
    match index {
        0 => Some(&mut weighings.container),
        1 => Some(&mut weighings.with_hydrate),
        _ => weighings.heated.get_mut(index - 2),
    }
}

fn column_at(index: usize) -> String {
    match index {
        0 => "crucible_g".into(),
        1 => "crucible_hydrate_g".into(),
        _ => format!("heated_{}_g", index - 1),
    }
}

/// The loss that a bench should have, for each gram of hydrate.
struct ExpectedLoss<'a> {
    fraction: Ratio,
    division: &'a Ratio,
}

impl<'a> ExpectedLoss<'a> {
    fn new(own: &'a Dehydration, degree: &Ratio) -> Option<ExpectedLoss<'a>> {
        let left = own.residue().waters().unwrap_or_default();
        let (residue, water) = (own.residue_mass()?.value(), own.water_mass()?.value());
        // The molar mass of the residue divided by that of water.
        let factor = ((own.ratio() - &left) * residue).checked_div(&water)?;
        let lost = degree - left;
        Some(ExpectedLoss {
            fraction: lost.checked_div(&(&lost + factor))?,
            division: own.division(),
        })
    }

    /// Whether the last weighing is between the first two, and the loss as expected within this part of it or
    /// three divisions of the balance.
    fn is_within(&self, part: &Ratio, weighings: &ContainerWeighings) -> bool {
        let [container, full] = [&weighings.container, &weighings.with_hydrate].map(Reading::value);
        let Some(last) = weighings.heated.last().map(Reading::value) else {
            return false;
        };
        let expected = &self.fraction * (&full - &container);
        let off = (&full - &last - &expected).abs();
        let is_possible = !container.is_negative() && container < last && last < full;
        is_possible && off <= (part * expected).max(3 * self.division)
    }
}
