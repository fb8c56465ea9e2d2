//! What the readings of the bench show.

use alloc::borrow::Cow;
use alloc::format;

use crate::class::CsvStyle;
use crate::class::marking::marked_row::MarkedRow;
use crate::gravimetry::{Check, Constancy, Dehydration, Outcome, Quantity, Warning};
use crate::number::TieRule;
use crate::text::Note;

/// Returns what to look at if the last weighings do not show constant mass.
pub(super) fn constant_mass(
    row: &MarkedRow,
    dehydration: &Dehydration,
    style: CsvStyle,
) -> Option<Note> {
    let constancy = dehydration.constant_mass()?;
    if constancy.reached() == Some(true) {
        return None;
    }
    let Some(change) = Constancy::last_change(constancy) else {
        let why = if may_hold_water(row, dehydration) {
            "so some water may be left"
        } else {
            "which does not show that the mass is constant"
        };
        let text =
            format!("Next time, heat until two weighings agree. Your bench heated once, {why}.");
        return Some(Note::new("look_at_constant_mass", text));
    };
    let size = change.value().abs();
    let size = style.number(size.to_places(change.decimal_places(), TieRule::Even));
    let text = if has_wrong_digit(row) {
        format!(
            "Look at your last two weighings. They differ by {size} g, and one wrong digit explains it, so \
             compare them with your paper."
        )
    } else if change.value().is_negative() {
        let so = if may_hold_water(row, dehydration) {
            "so some water may be left and your x too low"
        } else {
            "so it was not yet constant. Water that is left does not explain your x"
        };
        format!("Look at your last two weighings. The mass still fell by {size} g, {so}.")
    } else {
        format!(
            "Look at your last two weighings. The mass rose by {size} g. The solid took up moisture, \
             or it was still warm at the weighing before."
        )
    };
    Some(Note::new("look_at_constant_mass", text).with("change", format!("{change}")))
}

/// Whether one wrong digit in the weighing before the last explains that the mass fell.
fn has_wrong_digit(row: &MarkedRow) -> bool {
    let mut reasons = row.check().into_iter().flat_map(Check::reasons);
    reasons.any(|reason| reason.code() == "fall_by_digits")
}

/// Whether water that is left can explain the bench's x: a reading may not be wrong, and more water than expected may
/// not have gone.
fn may_hold_water(row: &MarkedRow, dehydration: &Dehydration) -> bool {
    let (Some(expected), Some(_)) = (row.expected_degree(), row.difference_percent()) else {
        return false;
    };
    let above = (dehydration.ratio() - expected).to_f64();
    above <= 2.0 * dehydration.standard_uncertainty()
}

/// Returns what to compare if the readings resolve another hydrate than the one issued.
pub(super) fn other_hydrate(row: &MarkedRow, dehydration: &Dehydration) -> Option<Note> {
    let Outcome::Resolved(hydrate) = dehydration.outcome() else {
        return None;
    };
    let issued = row.issued()?;
    let other = hydrate.waters() != issued.one_formula_unit().map(|(_, waters)| waters);
    other.then(|| {
        let text = format!(
            "Check the label of your sample. At the bench, your readings fit {hydrate}, but you were given \
             {issued}."
        );
        Note::new("look_at_bench", text).with("hydrate", format!("{hydrate}"))
    })
}

/// Returns how the bench's x compares with the one expected.
pub(super) fn accuracy(row: &MarkedRow, dehydration: &Dehydration, style: CsvStyle) -> Note {
    if let Some(further) = further_residue(row, dehydration) {
        return further;
    }
    let (Some(expected), Some(difference), Some(size)) = (
        row.expected_degree(),
        row.difference_percent(),
        row.printed_difference(),
    ) else {
        return Note::new(
            "look_at_bench",
            "Compare your x with the x of other benches.",
        );
    };
    let x = dehydration.measured(Quantity::Ratio);
    let x = x.map(|x| style.number(x.to_plain())).unwrap_or_default();
    let apart = (dehydration.ratio() - expected).abs().to_f64();
    let shown = expected.to_figures(4, TieRule::Even).value().to_plain();
    let (shown, size) = (style.number(shown), style.number(size));
    let mut text = if apart <= 2.0 * dehydration.standard_uncertainty() {
        format!(
            "At the bench, your x of {x} agrees with the expected {shown}, as far as the balance \
             can tell."
        )
    } else {
        let way = if difference.is_negative() {
            "below"
        } else {
            "above"
        };
        format!("At the bench, your x of {x} is {size} % {way} the expected {shown}.")
    };
    if let Some(cause) = cause(dehydration).filter(|_| fault(row).is_none()) {
        text.push_str(&format!(" This fits {cause}."));
    } else if let Some(sensitivity) = dehydration.sensitivity().heated() {
        let change = (sensitivity * dehydration.division()).abs();
        let change = style.number(change.to_figures(2, TieRule::Even));
        let step = style.number(dehydration.division().to_plain());
        text.push_str(&format!(
            " To compare: {step} g more or less in your last weighing changes x by {change}."
        ));
    }
    Note::new("look_at_bench", text).with("difference_percent", difference.to_plain())
}

/// Returns the fault that explains the readings best, with what to do about it, if one does better than none.
pub(super) fn fault(row: &MarkedRow) -> Option<Note> {
    let diagnosis = row.diagnosis()?;
    let first = diagnosis.likely().first()?;
    let text = format!(
        "{} {} {}",
        first.evidence().pupil(),
        diagnosis.sentence()?,
        first.next().pupil()
    );
    Some(Note::new(first.fault().code(), text))
}

/// What may have happened at a bench whose readings fit no hydrate that lost only its water.
fn cause(dehydration: &Dehydration) -> Option<Cow<'static, str>> {
    let mut findings = dehydration.findings().iter();
    findings.find_map(|finding| {
        let cause = match finding {
            Warning::LowerHydrate(..) => "heating that stopped too soon",
            Warning::HeatedBeyond(formulas) => {
                let [_, residue, left] = &**formulas;
                return Some(format!("salt that was heated beyond {residue}, to {left}").into());
            }
            Warning::PartlyBeyond(_) | Warning::Overheating(_) => {
                "solid that was lost, or salt that was heated too far"
            }
            Warning::AboveKnown(_) => "solid that was lost, or a sample that was damp",
            _ => return None,
        };
        Some(cause.into())
    })
}

/// Returns what to do next time if the answers are right with a further residue than heating should leave.
fn further_residue(row: &MarkedRow, dehydration: &Dehydration) -> Option<Note> {
    let (target, left) = (dehydration.residue(), row.further_residue()?);
    let text = format!(
        "Next time, heat more gently. At the bench, your salt was heated beyond {target}, to {left}."
    );
    Some(Note::new("look_at_bench", text).with("residue", format!("{left}")))
}
