//! What to do about one answer.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::class::CsvStyle;
use crate::class::marking::answer::{Answer, Obstacle};
use crate::class::marking::marked_row::MarkedRow;
use crate::class::marking::remark::Remark;
use crate::formula::Formula;
use crate::gravimetry::{Dehydration, Quantity, figures_kept};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading, TieRule};
use crate::text::{Note, sentence};

/// Returns what to do about an answer that is not right.
pub(super) fn look_again(row: &MarkedRow, answer: &Answer, style: CsvStyle) -> Note {
    let quantity = answer.quantity();
    let exchanged = exchanged_with(row, answer);
    let exchanged = exchanged.map(|other| format!("You have exchanged it with your {other}."));
    let counted =
        quantity == Quantity::Ratio && answer.slips().contains(&Slip::ResidualWaterMiscounted);
    let missing = counted.then(|| missing_steps(row, style)).flatten();
    let how = missing.unwrap_or_else(|| instruction(row, quantity, style));
    let begins_with_digit = quantity == Quantity::Formula
        && answer
            .reported()
            .trim_start()
            .starts_with(|c: char| c.is_ascii_digit());
    let (code, advice) = match (answer.obstacle(), answer.slips()) {
        _ if exchanged.is_some() => ("look_at_value", exchanged.unwrap_or_default()),
        (Some(obstacle), _) => ("look_at_value", unread(obstacle)),
        (None, []) => (
            "look_at_value",
            format!("{how} Your readings give another value."),
        ),
        // How it is done names the water that is left.
        (None, [Slip::ResidualWaterMiscounted]) if answer.certain() == Some(true) => {
            ("look_at_slip", how)
        }
        (None, [slip]) if answer.certain() == Some(true) => {
            let advice = format!("{}{}", slip.look_at(), difference(row, quantity, style));
            ("look_at_slip", sentence(&advice))
        }
        (None, [Slip::RatioInverted])
            if begins_with_digit && row.answer(Quantity::Ratio).is_some() =>
        {
            let advice = "Write the number of waters before H2O, not before the salt.";
            ("look_at_slip", advice.into())
        }
        // More causes than two tell the pupil less than how it is done.
        (None, slips @ ([_] | [_, _])) => {
            let names: Vec<String> = slips.iter().map(ToString::to_string).collect();
            let names = names.join(". Another possible cause: ");
            ("look_at_slip", format!("{how} A possible cause: {names}."))
        }
        (None, _) => ("look_at_slip", how),
    };
    let shown = answer.reported_with_unit();
    let own = from_own_answers(row, quantity, style).unwrap_or_default();
    let text = format!("{own}Look again at your {quantity} ({shown}). {advice}");
    let note = about(code, answer, text);
    let slips: Vec<&str> = answer.slips().iter().copied().map(Slip::code).collect();
    if slips.is_empty() {
        note
    } else {
        note.with("slips", slips.join(" "))
    }
}

/// Returns a sentence with the value that the pupil's own answers give for a quantity: nothing helps
/// more.
fn from_own_answers(row: &MarkedRow, quantity: Quantity, style: CsvStyle) -> Option<String> {
    let (names, [above, below], times, unit) = match quantity {
        Quantity::PercentWater => {
            let masses = [Quantity::WaterMass, Quantity::HydrateMass];
            ("masses of water and hydrate", masses, 100, " %")
        }
        Quantity::Ratio => {
            let amounts = [Quantity::MolWater, Quantity::MolSalt];
            ("two amounts", amounts, 1, "")
        }
        _ => return None,
    };
    let (above, below) = (reported(row, above)?, reported(row, below)?);
    let mut value = above.value().checked_div(&below.value())? * times;
    let positive = value.is_positive();
    if let (Quantity::Ratio, Some((_, waters))) = (quantity, lower_hydrate(row)) {
        value += waters;
    }
    let figures = above.figures().at_most().min(below.figures().at_most());
    let shown = value.to_figures(figures_kept(figures).max(1), TieRule::Even);
    let shown = style.number(shown);
    positive.then(|| format!("Your {names} give {shown}{unit}. "))
}

/// Returns the number that was handed in for a quantity, in the unit of the quantity.
fn reported(row: &MarkedRow, quantity: Quantity) -> Option<Reading> {
    let text = row.answer(quantity)?.reported().trim();
    let number = text.strip_suffix(quantity.unit()).unwrap_or(text);
    number.trim_end().replace(',', ".").parse().ok()
}

fn about(code: &'static str, answer: &Answer, text: String) -> Note {
    Note::new(code, text)
        .with("quantity", answer.quantity().code())
        .with("reported", answer.reported())
}

fn unread(obstacle: &Obstacle) -> String {
    let why = sentence(obstacle.to_pupil());
    match obstacle {
        Obstacle::BadFormula { error, .. } => format!("{why} {}", sentence(&error.to_string())),
        _ => why,
    }
}

/// Returns what is said of the first answer that could not be read. Nothing shows that it is wrong.
pub(super) fn to_be_marked(row: &MarkedRow) -> Option<Note> {
    row.answers().iter().find_map(|answer| {
        let obstacle = answer.obstacle().filter(|_| answer.by_hand())?;
        let shown = format!("{} ({})", answer.quantity(), answer.reported_with_unit());
        if let Obstacle::Mistyped(_) = obstacle {
            let text = format!(
                "Show your table to your teacher. Your {shown} does not follow from the class sheet. A reading there may \
                 be mistyped."
            );
            return Some(about("look_at_readings", answer, text));
        }
        let text = format!(
            "Next time, write your {shown} more clearly. {}",
            unread(obstacle)
        );
        Some(about("look_at_cell", answer, text))
    })
}

/// Returns what to do about an answer that is missing.
pub(super) fn fill_in(row: &MarkedRow, quantity: Quantity, style: CsvStyle) -> Note {
    let text = format!(
        "Work out your {quantity}, which is missing. {}",
        instruction(row, quantity, style)
    );
    Note::new("look_at_gap", text).with("quantity", quantity.code())
}

/// Returns what to do about the first answer with too many or too few significant figures.
pub(super) fn significant_figures(row: &MarkedRow) -> Option<Note> {
    row.answers().iter().find_map(|answer| {
        let shown = format!("{} ({})", answer.quantity(), answer.reported_with_unit());
        let text = answer.side_remarks().iter().find_map(|remark| match remark {
            Remark::TooManyFigures { written, allowed } => Some(format!(
                "Round your {shown} to {allowed} significant figures. You wrote {written}, and your \
                 readings allow {allowed}."
            )),
            Remark::TooFewFigures { written, allowed } => Some(format!(
                "Write your {shown} with more significant figures. You wrote {written}, and your \
                 readings allow {allowed}."
            )),
            Remark::Notation(_)
            | Remark::LastPlace(_)
            | Remark::LooseFormula(_)
            | Remark::UnroundedDegree(_)
            | Remark::ContradictsRatio(_)
            | Remark::FurtherResidue(_) => None,
        });
        Some(about("look_at_figures", answer, text?))
    })
}

/// How a quantity is worked out, as a sentence.
fn instruction(row: &MarkedRow, quantity: Quantity, style: CsvStyle) -> String {
    let how = match quantity {
        Quantity::HydrateMass => {
            "Subtract the mass of the empty container from its mass with the hydrate"
        }
        Quantity::ResidueMass => "Subtract the mass of the empty container from the last weighing",
        Quantity::WaterMass => "Subtract the mass after heating from the mass before heating",
        Quantity::PercentWater => {
            "Divide the mass of water by the mass of hydrate, and multiply by 100 %"
        }
        Quantity::MolSalt => "Divide the mass of residue by the molar mass of the anhydrous salt",
        Quantity::MolWater => "Divide the mass of water by the molar mass of water",
        Quantity::Ratio => "Divide the amount of water by the amount of salt",
        Quantity::Formula if has_fraction(row) => {
            "Find the smallest whole numbers in your mole ratio, such as 2 : 5 for 2.5"
        }
        Quantity::Formula => "Write the salt with the number of waters nearest to your mole ratio",
    };
    match (quantity, lower_hydrate(row)) {
        (Quantity::MolSalt, Some((residue, _))) => format!(
            "Divide the mass of residue by the molar mass of {residue}, which heating leaves."
        ),
        (Quantity::Ratio, Some((_, waters))) => {
            let waters = style.number(waters);
            format!("{how}. Add {waters} for the water that the residue still holds.")
        }
        _ => format!("{how}{}.", difference(row, quantity, style)),
    }
}

/// Returns whether the bench's hydrate has a fraction of water for one salt.
fn has_fraction(row: &MarkedRow) -> bool {
    let nearest = row.dehydration().map(Dehydration::nearest);
    nearest.is_some_and(|degree| !degree.is_integer())
}

/// Returns the lower hydrate that heating leaves, with its number of waters; `None` if it leaves the
/// anhydrous salt.
fn lower_hydrate(row: &MarkedRow) -> Option<(&Formula, Ratio)> {
    let residue = row.dehydration()?.residue();
    Some((residue, residue.waters()?))
}

/// The steps that a ratio lacks, if heating leaves a lower hydrate: its molar mass, its water, or both.
fn missing_steps(row: &MarkedRow, style: CsvStyle) -> Option<String> {
    let (residue, waters) = lower_hydrate(row)?;
    let own = |quantity| row.dehydration()?.value(quantity);
    let (water, salt) = (own(Quantity::MolWater)?, own(Quantity::MolSalt)?);
    let one_water = own(Quantity::WaterMass)?.checked_div(&water)?;
    let molar_mass = own(Quantity::ResidueMass)?.checked_div(&salt)?;
    let anhydrous = &molar_mass - &(&one_water * &waters);
    let of_residue = water.checked_div(&salt)?;
    let of_anhydrous = (&of_residue * &anhydrous).checked_div(&molar_mass)?;
    let add = format!("Add {} for the water that", style.number(&waters));
    let divide = format!("Divide the mass of residue by the molar mass of {residue}");
    let ways = [
        (
            &of_anhydrous + &waters,
            format!("{divide}, which heating leaves."),
        ),
        (of_anhydrous, format!("{divide}. {add} it still holds.")),
        (of_residue, instruction(row, Quantity::Ratio, style)),
    ];
    let number = reported(row, Quantity::Ratio)?.value();
    let nearest = ways
        .into_iter()
        .min_by_key(|(ratio, _)| (ratio - &number).abs());
    nearest.map(|(_, steps)| steps)
}

/// Returns the later mass or amount that has the number of this one, and gave it its own.
fn exchanged_with(row: &MarkedRow, answer: &Answer) -> Option<Quantity> {
    let number = reported(row, answer.quantity())?;
    let other = row.answers().iter().find(|other| {
        other.repeats_an_error()
            && other.carried_from() == Some(answer.quantity())
            && other.defensible().is_some_and(|own| own.admits(&number))
    });
    other.map(Answer::quantity)
}

/// The difference that a mass is, in the bench's own readings.
fn difference(row: &MarkedRow, quantity: Quantity, style: CsvStyle) -> String {
    let key = row.key();
    let readings = key.and_then(|key| key.weighings.container_weighings());
    let Some((readings, last)) = readings.and_then(|all| Some((all, all.heated.last()?))) else {
        return String::new();
    };
    let [empty, full, last] =
        [&readings.container, &readings.with_hydrate, last].map(|mass| style.number(mass));
    match quantity {
        Quantity::HydrateMass => format!(" ({full} g − {empty} g)"),
        Quantity::ResidueMass => format!(" ({last} g − {empty} g)"),
        Quantity::WaterMass => format!(" ({full} g − {last} g)"),
        _ => String::new(),
    }
}
