//! A strip of feedback for each pupil, to be cut out and handed back.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::plain::bracketed;
use super::row::{earned, marks, not_counted, title};
use super::wrap::{one_line, paragraph_within};
use crate::class::{Answer, Marked, MarkedRow, Verdict};

/// The width of a strip, in characters: it fits on a narrow piece of paper.
const WIDTH: usize = 72;

/// Writes a strip for each row of the sheet, 72 characters wide, with a line to cut along between
/// strips.
///
/// A strip names what is right and what to look at. Then it lists each answer with its verdict and
/// its marks. It holds the data of one pupil only. A row that could not be marked has a strip that
/// says so.
///
/// The right value of a wrong or missing answer is not shown. If all answers are right, the second
/// sentence compares the bench's x with the expected one.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_feedback};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
///             Heron,H1,2.666,1.303,51.13,0.1431\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut strips = String::new();
/// write_feedback(&marked, &mut strips).unwrap();
/// assert_eq!(strips, "\
/// Heron, H1
///
/// Your percent water (51.13 %) is right.
/// Look again at your mole ratio (0.1431). x is the amount of water divided
/// by the amount of salt, not the other way round.
///
///   [1] percent water 51.13 %: right
///   [0] mole ratio 0.1431: the mole ratio upside down
///
/// Calculation: 1 of 2 marks.
/// ");
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_feedback(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    for (index, row) in marked.rows().iter().enumerate() {
        if index > 0 {
            writeln!(out, "\n{}-\n", "- ".repeat(WIDTH / 2 - 1))?;
        }
        strip(row, out)?;
    }
    Ok(())
}

fn strip(row: &MarkedRow, out: &mut impl Write) -> fmt::Result {
    paragraph_within(WIDTH, out, "", &title(row))?;
    writeln!(out)?;
    for note in row.feedback() {
        paragraph_within(WIDTH, out, "", note.text())?;
    }
    if !row.answers().is_empty() {
        writeln!(out)?;
    }
    let earned = earned(row);
    let width = earned.iter().map(|marks| marks.chars().count()).max();
    for (answer, marks) in row.answers().iter().zip(&earned) {
        let lead = bracketed("  ", marks, width.unwrap_or(0));
        paragraph_within(WIDTH, out, &lead, &answer_line(answer))?;
    }
    if let Some(marks) = marks(row) {
        writeln!(out)?;
        paragraph_within(WIDTH, out, "", &marks)?;
    }
    Ok(())
}

fn answer_line(answer: &Answer) -> String {
    let quantity = answer.quantity();
    let mut text = match answer.reported() {
        "" => format!("{quantity}: {}", verdict(answer)),
        _ => format!(
            "{quantity} {}: {}",
            one_line(&answer.reported_with_unit()),
            verdict(answer)
        ),
    };
    let mut remarks = answer.side_remarks().iter();
    if let Some(remark) = remarks.find(|remark| remark.is_of_figures()) {
        text.push_str(&format!(" ({})", remark.note().text()));
    }
    text.push_str(not_counted(answer));
    text
}

/// The verdict for the pupil, without the value that the readings give.
fn verdict(answer: &Answer) -> String {
    match answer.verdict() {
        Verdict::Correct => "right".into(),
        Verdict::CarriedForward => match answer.carried_from() {
            Some(from) => format!("follows from your {from}, so it counts"),
            None => "follows from your earlier answer, so it counts".into(),
        },
        Verdict::Slip => {
            let names: Vec<String> = answer.slips().iter().map(|s| format!("{s}")).collect();
            let perhaps = if answer.certain() == Some(true) {
                ""
            } else {
                "perhaps "
            };
            format!("{perhaps}{}", names.join(", or "))
        }
        Verdict::Missing => "missing".into(),
        Verdict::Unexplained => match answer.obstacle() {
            Some(obstacle) => obstacle.to_pupil().into(),
            None => "your readings give another value".into(),
        },
    }
}
