//! A strip of feedback for each pupil, to be cut out and handed back.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::block::{Block, Item, Lead};
use super::html;
use super::plain::bracketed;
use super::row::{marks_of_answers, marks_sentence, reported, title};
use super::wrap::paragraph_within;
use crate::class::{Answer, Marked, MarkedRow, Remark, Verdict};

/// The width of a strip, in characters: it fits on a narrow piece of paper.
const WIDTH: usize = 72;

/// Writes a strip for each row of the sheet, 72 characters wide, with a line to cut along between
/// strips.
///
/// A strip names what is right and what to look at. Then it lists each answer with its verdict and
/// its marks. It holds the data of one pupil only. A row that could not be marked has a strip that
/// says so.
///
/// Numbers have the decimal mark of the sheet. What a pupil wrote stays as it was written.
///
/// The right value of a wrong or missing answer is not shown. If all answers are right, the second
/// note compares the bench's x with the expected one.
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
/// Look again at your mole ratio (0.1431). Divide the amount of water by
/// the amount of salt, not the other way round.
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
        Strip::of(row, marked).write(out)?;
    }
    Ok(())
}

/// Writes the strips of [`write_feedback`] as one page of HTML, each in a dashed frame to cut along.
///
/// No strip is cut by the end of a printed page. The page needs no other file and loads none.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_feedback_html};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,H1,2.666,1.303,0.1431\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut page = String::new();
/// write_feedback_html(&marked, &mut page).unwrap();
/// assert!(page.contains("<h2>Heron, H1</h2>"));
/// assert!(page.contains("<li><strong>[0]</strong> mole ratio 0.1431: the mole ratio upside down</li>"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_feedback_html(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let title = Block::Title("Feedback for each pupil".into());
    let strips = marked.rows().iter();
    let strips = strips.map(|row| Strip::of(row, marked).into_card());
    let blocks: Vec<Block> = [title].into_iter().chain(strips).collect();
    html::write(&blocks, out)
}

/// What one pupil gets.
struct Strip {
    title: String,
    invented: bool,
    notes: Vec<String>,
    answers: Vec<Item>,
    marks: Option<String>,
}

const INVENTED: &str = "(invented, for demonstration)";

impl Strip {
    fn of(row: &MarkedRow, marked: &Marked) -> Strip {
        let style = marked.style();
        let answers = row.answers().iter().zip(marks_of_answers(row, style));
        let answers = answers.map(|(answer, marks)| Item {
            lead: Lead::Marks(marks),
            text: answer_line(answer),
        });
        let notes = row.feedback_in(style);
        Strip {
            title: title(row),
            invented: marked.is_invented(),
            notes: notes.iter().map(|note| note.text().into()).collect(),
            answers: answers.collect(),
            marks: marks_sentence(row, style),
        }
    }

    fn write(&self, out: &mut impl Write) -> fmt::Result {
        paragraph_within(WIDTH, out, "", &self.title)?;
        if self.invented {
            writeln!(out, "{INVENTED}")?;
        }
        writeln!(out)?;
        for note in &self.notes {
            paragraph_within(WIDTH, out, "", note)?;
        }
        if !self.answers.is_empty() {
            writeln!(out)?;
        }
        let width = self.answers.iter().map(Item::mark_width).max();
        for answer in &self.answers {
            let lead = match &answer.lead {
                Lead::Marks(marks) => bracketed("  ", marks, width.unwrap_or(0)),
                Lead::Dash | Lead::Warning => String::new(),
            };
            paragraph_within(WIDTH, out, &lead, &answer.text)?;
        }
        if let Some(marks) = &self.marks {
            writeln!(out)?;
            paragraph_within(WIDTH, out, "", marks)?;
        }
        Ok(())
    }

    fn into_card(self) -> Block {
        let invented = self.invented.then(|| Block::paragraph(INVENTED));
        let mut blocks: Vec<Block> = invented.into_iter().collect();
        blocks.extend(self.notes.into_iter().map(Block::Paragraph));
        if !self.answers.is_empty() {
            blocks.push(Block::List(self.answers));
        }
        blocks.extend(self.marks.map(Block::Paragraph));
        Block::Card(self.title, blocks)
    }
}

fn answer_line(answer: &Answer) -> String {
    let mut text = format!("{}: {}", reported(answer), verdict(answer));
    let mut remarks = answer.side_remarks().iter();
    if let Some(remark) = remarks.find_map(Remark::to_pupil) {
        text.push_str(&format!(" ({remark})"));
    }
    text
}

/// The verdict for the pupil, without the value that the readings give.
fn verdict(answer: &Answer) -> String {
    if answer.marked_by_hand() {
        return "marked by your teacher".into();
    }
    match answer.verdict() {
        Verdict::Correct => "right".into(),
        Verdict::CarriedForward => {
            let from = answer.carried_from().map(|quantity| quantity.to_string());
            let from = from.as_deref().unwrap_or("earlier answer");
            match answer.repeats_an_error() {
                true => format!("the same error as in your {from}, so it costs no second mark"),
                false => format!("follows from your {from}, so it counts"),
            }
        }
        Verdict::Missing => "missing".into(),
        Verdict::Slip | Verdict::Unexplained => match (answer.obstacle(), answer.slips()) {
            (Some(obstacle), _) => obstacle.to_pupil().into(),
            (None, [slip]) if answer.certain() == Some(true) => slip.to_string(),
            (None, [slip]) => format!("perhaps {slip}"),
            (None, [slip, other]) => format!("perhaps {slip}, or {other}"),
            // More than two causes would not help the pupil.
            (None, _) => "your readings give another value".into(),
        },
    }
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;
    use crate::class::{Marker, Policy, Sheet};
    use crate::gravimetry::Method;

    /// The strips of a sheet with decimal commas, with line ends read as spaces.
    fn strips(policy: &str, rows: &str) -> String {
        let head = "bench;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g;reported_hydrate_g;\
                    reported_water_g;reported_percent_water;reported_ratio";
        let sheet = Sheet::read(format!("{head}\n{rows}").as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let marker = marker.policy(Policy::from_toml(policy).unwrap());
        let mut strips = String::new();
        write_feedback(&marker.mark(&sheet), &mut strips).unwrap();
        strips.split_whitespace().collect::<Vec<&str>>().join(" ")
    }

    #[test]
    fn numbers_have_the_decimal_mark_of_the_sheet() {
        let readings = "21,352;24,018;22,656;22,655";
        let policy = "step = 0.5\nmarks.ratio = 2.5";
        let rows = format!(
            "Heron;{readings};2,666;1,363;51,4;6,99\nWren;{readings};2,6;1,363;51,1;6,99\n\
             Finch;{readings};2,666;1,363;51,1;6,99\n"
        );
        let strips = strips(policy, &rows);
        for said in [
            "Your masses of water and hydrate give 51,1 %.",
            "(24,018 g − 21,352 g)",
            "your x of 6,989 agrees with the expected 7",
            "0,001 g more or less in your last weighing changes x by 0,010.",
            "[2,5/2,5] mole ratio 6,99: right",
            "Calculation: 5,5 of 5,5 marks.",
        ] {
            assert!(strips.contains(said), "{said}: {strips}");
        }
    }

    /// What was copied from a book is not said to be wrong.
    #[test]
    fn the_textbook_value_is_not_blamed() {
        let strips = strips("", "Heron;21,352;24,018;22,656;22,655;;;51,17;\n");
        let said = "Heron Work from your own readings, one step at a time. They need not give the textbook \
                    value. Look again at your percent water (51,17 %).";
        assert!(strips.starts_with(said), "{strips}");
        assert!(!strips.contains("do not follow"), "{strips}");
    }

    #[test]
    fn a_salt_that_was_heated_beyond_its_residue_is_said_to_be_so() {
        let method = Method::new()
            .residue(&"CuSO4·H2O".parse().unwrap())
            .unwrap();
        let marker = Marker::new("CuSO4·5H2O".parse().unwrap(), method);
        let written = |last: &str| {
            let text = format!(
                "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_hydrate_g\n\
                 Damson,20.000,22.500,{last},{last},2.500\n"
            );
            let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
            let (mut strips, mut key) = (String::new(), String::new());
            write_feedback(&marked, &mut strips).unwrap();
            crate::report::write_key(&marked, &mut key).unwrap();
            [strips, key].map(|text| text.split_whitespace().collect::<Vec<&str>>().join(" "))
        };
        let [strips, key] = written("21.720");
        let said = "This fits solid that was lost, or salt that was heated too far.";
        assert!(strips.contains(said), "{strips}");
        let said = "The salt may have been heated too far, on the way to CuSO4.";
        assert!(key.contains(said), "{key}");
        let [strips, key] = written("21.598");
        let said = "This fits salt that was heated beyond CuSO4·H2O, to CuSO4.";
        assert!(strips.contains(said), "{strips}");
        let said = "The loss also fits CuSO4·5H2O that was heated beyond CuSO4·H2O, to CuSO4.";
        assert!(key.contains(said), "{key}");
    }
}
