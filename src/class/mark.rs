//! Marking: every row against its own bench's readings.

use alloc::format;
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::judge::{Judge, Known};
use super::picture::Picture;
use super::worked::{Benches, Worked};
use super::{Answer, Band, FiguresRule, Policy, Pooled, Problem, Row, Sheet, Stock};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::gravimetry::{self, Check, Constancy, Dehydration, Method, Weighings};
use crate::number::Ratio;
use crate::text::Note;

/// Marks class sheets: what was issued, and the rules of the laboratory.
///
/// Each reported value is compared with the defensible range of the bench's *own* readings, and
/// outside that with what follows from the group's own earlier answers, then with the catalogue of
/// slips. How near the bench came to what was issued is a key of its own: it costs no mark, and
/// earns one only where the teacher's [`Policy`] says so.
///
/// ```
/// use effloresce::class::{Marker, Sheet, Verdict};
/// use effloresce::gravimetry::Method;
/// let text = "\
/// bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_water_g,reported_ratio
/// Heron,21.352,24.018,22.656,22.655,1.373,7.04
/// ";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let answers = marked.rows()[0].answers();
/// assert_eq!(answers[0].verdict(), Verdict::Slip);
/// assert_eq!(answers[0].slips()[0].code(), "subtraction_error");
/// assert_eq!(answers[1].verdict(), Verdict::CarriedForward);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Marker {
    issued: Formula,
    method: Method,
    policy: Policy,
}

/// A marked class.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    pub(super) issued: Formula,
    pub(super) weights: AtomicWeights,
    pub(super) rows: Vec<MarkedRow>,
    pub(super) pooled: Pooled,
    pub(super) at_constant_mass: Pooled,
    pub(super) picture: Picture,
    pub(super) problems: Vec<Problem>,
    pub(super) notes: Vec<Note>,
}

/// A row of the sheet, worked out and marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedRow {
    pub(super) line: u64,
    pub(super) bench: String,
    pub(super) pupil: Option<String>,
    pub(super) period: Option<String>,
    pub(super) issued: Formula,
    pub(super) own_readings: bool,
    pub(super) readings_line: Option<u64>,
    pub(super) stand_in: bool,
    /// The bench as it was worked out, shared by all who hand in from it.
    pub(super) worked: Option<Arc<Worked>>,
    /// Of the bench that could be worked out, the degree that its ratio is compared with.
    pub(super) expected_degree: Option<Ratio>,
    pub(super) accuracy: Option<Accuracy>,
    /// Whether the policy takes a mark for the figures.
    pub(super) figures_mark: bool,
    pub(super) answers: Vec<Answer>,
    pub(super) unmarked: usize,
}

/// The marks for the accuracy at the bench, where the policy gives any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Accuracy {
    pub(super) marks: u32,
    pub(super) out_of: u32,
}

impl Marker {
    /// A marker for a class that was issued this hydrate, by the default policy.
    #[must_use]
    pub fn new(issued: Formula, method: Method) -> Self {
        Marker {
            issued,
            method,
            policy: Policy::default(),
        }
    }

    /// The teacher's policy: marks, tolerances, figures, accuracy, what the jar holds.
    #[must_use]
    pub fn policy(mut self, policy: Policy) -> Self {
        self.policy = policy;
        self
    }

    /// Marks a sheet. What cannot be worked out is a problem of its row; everything else is
    /// marked.
    #[must_use]
    pub fn mark(&self, sheet: &Sheet) -> Marked {
        let mut problems = sheet.problems().to_vec();
        let mut notes = sheet.notes().to_vec();
        let jar = self
            .policy
            .stock_content()
            .and_then(|jar| match self.run_of(jar) {
                Ok(run) => {
                    notes.extend(still_falling(&run));
                    Some(run.ratio().clone())
                }
                Err(error) => {
                    notes.push(unusable(&error));
                    None
                }
            });
        let mut benches = Benches::new(sheet, &self.method);
        let rows: Vec<MarkedRow> = sheet
            .rows()
            .iter()
            .enumerate()
            .map(|row| self.row(sheet, row, &mut benches, jar.as_ref(), &mut problems))
            .collect();
        problems.sort_by_key(Problem::line);
        let ratios = |at_constant_mass: bool| -> Vec<Ratio> {
            rows.iter()
                .filter_map(|row| row.counted(&self.issued))
                .filter(|run| {
                    !at_constant_mass
                        || run.constant_mass().and_then(Constancy::reached) == Some(true)
                })
                .map(|run| run.ratio().clone())
                .collect()
        };
        Marked {
            pooled: Pooled::of(&ratios(false)),
            at_constant_mass: Pooled::of(&ratios(true)),
            issued: self.issued.clone(),
            weights: self.method.atomic_weights().clone(),
            picture: Picture::of(&rows, sheet, &self.issued, &self.method),
            rows,
            problems,
            notes,
        }
    }

    /// What the jar really holds, worked out as a bench is.
    fn run_of(&self, jar: &Stock) -> Result<Dehydration, gravimetry::Error> {
        let unit = self.issued.one_formula_unit();
        // What was issued is no hydrate: every row will say so.
        let salt = unit.map_or_else(|| self.issued.clone(), |(salt, _)| salt);
        let weighings = match jar {
            Stock::PercentWater(percent) => Weighings::percent_water(*percent),
            Stock::Weighings(weighings) => weighings.clone(),
        };
        self.method.dehydration(&salt, &weighings)
    }

    fn row(
        &self,
        sheet: &Sheet,
        (index, row): (usize, &Row),
        benches: &mut Benches<'_>,
        jar: Option<&Ratio>,
        problems: &mut Vec<Problem>,
    ) -> MarkedRow {
        let reported = row.reported().iter();
        let mut marked = MarkedRow {
            line: row.line(),
            bench: row.bench().into(),
            pupil: row.pupil().map(String::from),
            period: row.period().map(String::from),
            issued: self.issued.clone(),
            own_readings: false,
            readings_line: None,
            stand_in: sheet.stand_in(index),
            worked: None,
            expected_degree: None,
            accuracy: None,
            figures_mark: false,
            answers: Vec::new(),
            unmarked: reported.filter(|r| !r.text().is_empty()).count(),
        };
        // Who shares a bench's readings shares what it was issued.
        let holder = sheet.readings_of(index);
        marked.readings_line = holder.map(Row::line);
        if let Some(issued) = row.issued().or(holder.and_then(Row::issued)) {
            match Formula::read(issued) {
                Ok((issued, _)) => marked.issued = issued,
                Err(error) => {
                    problems.push(Problem::of_row(
                        row,
                        "issued",
                        "bad_issued",
                        format!("`{issued}` is no formula: {error}"),
                    ));
                    return marked;
                }
            }
        }
        let Some(holder) = holder else {
            return marked;
        };
        problems.extend(other_issue(row, holder));
        marked.own_readings = core::ptr::eq(holder, row);
        if holder.readings_unreadable() {
            return marked;
        }
        let Some((salt, degree)) = marked.issued.one_formula_unit() else {
            let message = format!("{} was issued, which is no hydrate", marked.issued);
            problems.push(Problem::of_row(row, "issued", "bad_issued", message));
            return marked;
        };
        marked.worked = benches.work(index, holder, &marked.issued, &salt);
        match marked.worked.as_deref().map(|worked| &worked.found) {
            None => {}
            Some(Ok((run, _))) => {
                let same_jar = marked.issued == self.issued;
                let degree = jar.filter(|_| same_jar).cloned().unwrap_or(degree);
                // Readings that nobody weighed say nothing of anybody's care.
                if !marked.stand_in {
                    marked.accuracy = self.accuracy(run.ratio(), &degree);
                }
                marked.expected_degree = Some(degree);
                let known = benches.known(&marked.issued, run);
                self.answers(row, &mut marked, &known, problems);
            }
            Some(Err(error)) if marked.own_readings => problems.push(complaint(row, error)),
            // The bench's own row has said it.
            Some(Err(_)) => {}
        }
        marked
    }

    fn answers(
        &self,
        row: &Row,
        marked: &mut MarkedRow,
        known: &Known,
        problems: &mut Vec<Problem>,
    ) {
        let judge = marked
            .worked
            .as_deref()
            .and_then(|worked| Judge::new(worked, known, &marked.issued, &self.policy));
        let Some(mut judge) = judge else { return };
        let answers: Vec<Answer> = row.reported().iter().map(|r| judge.answer(r)).collect();
        let remarked = judge.figures_remarked();
        marked.unmarked = 0;
        marked.figures_mark = remarked && self.policy.figures_rule() == FiguresRule::OneMark;
        let remarks = answers.iter().flat_map(Answer::remarks);
        for remark in remarks.filter(|remark| remark.code() == "bad_formula") {
            let message = remark.text().into();
            problems.push(Problem::of_row(
                row,
                "reported_formula",
                "bad_formula",
                message,
            ));
        }
        marked.answers = answers;
    }

    fn accuracy(&self, found: &Ratio, expected: &Ratio) -> Option<Accuracy> {
        let difference = percent_of(&(found - expected), expected)?;
        let bands = self.policy.accuracy_bands().iter();
        Some(Accuracy {
            marks: self.policy.accuracy_marks(&difference)?,
            out_of: bands.map(Band::marks).max()?,
        })
    }
}

/// A row that shares readings and says that another salt was issued than the row with them.
fn other_issue(row: &Row, holder: &Row) -> Option<Problem> {
    let (own, theirs) = (row.issued()?, holder.issued()?);
    let read = |text: &str| Formula::read(text).ok().map(|(formula, _)| formula);
    (read(own)? != read(theirs)?).then(|| {
        let message = format!(
            "`{own}` was issued by this row and `{theirs}` by line {}, whose readings it shares; the row \
             is marked by its own: correct one of them",
            holder.line()
        );
        Problem::of_row(row, "issued", "issued_differs", message)
    })
}

fn percent_of(part: &Ratio, whole: &Ratio) -> Option<Ratio> {
    (part * &Ratio::from(100)).checked_div(whole)
}

/// A technician's weighings bear the same warning as a bench's.
fn still_falling(run: &Dehydration) -> Option<Note> {
    let reached = run.constant_mass()?.reached();
    (reached != Some(true)).then(|| {
        Note::new(
            "jar_not_constant",
            "The weighings of what the jar holds had not become constant, so it may hold more water \
             than they show; the accuracy of every bench is measured by them.",
        )
    })
}

fn unusable(error: &gravimetry::Error) -> Note {
    Note::new(
        "jar_unusable",
        format!(
            "What the jar holds could not be worked out, so benches are compared with the formula: {error}."
        ),
    )
}

fn complaint(row: &Row, error: &gravimetry::Error) -> Problem {
    let last = row.heated().len().max(1);
    let column = match (error.kind(), row.crucible(), row.crucible_hydrate()) {
        (gravimetry::ErrorKind::MissingWeighing, ..) => "heated_1_g".into(),
        (gravimetry::ErrorKind::ImpossibleMasses, Some(c), Some(b)) if b.value() <= c.value() => {
            "crucible_hydrate_g".into()
        }
        (_, Some(_), Some(_)) => format!("heated_{last}_g"),
        _ if row.percent_water().is_some() => "percent_water".into(),
        _ => "residue_g".into(),
    };
    let code = match error.kind() {
        gravimetry::ErrorKind::MissingWeighing => "not_heated",
        gravimetry::ErrorKind::ImpossibleMasses => "impossible_masses",
        _ => error.code(),
    };
    let help = error
        .help()
        .map(|help| format!("; {help}"))
        .unwrap_or_default();
    Problem::of_row(row, &column, code, format!("{error}{help}"))
}

impl Marked {
    /// Adds what was noted when the issued formula's text was read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The hydrate issued to the class.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// The atomic weights that the key was made with.
    #[must_use]
    pub fn weights(&self) -> &AtomicWeights {
        &self.weights
    }

    /// The rows, in the order of the sheet.
    #[must_use]
    pub fn rows(&self) -> &[MarkedRow] {
        &self.rows
    }

    /// All benches that were issued the class's hydrate and could be worked out, each once;
    /// stand-in readings are left out, since nobody weighed them.
    #[must_use]
    pub fn pooled(&self) -> &Pooled {
        &self.pooled
    }

    /// Those of them that had reached constant mass.
    #[must_use]
    pub fn at_constant_mass(&self) -> &Pooled {
        &self.at_constant_mass
    }

    /// What could not be read or worked out, by line.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// What was decided in reading the sheet.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

impl MarkedRow {
    /// The line of the sheet.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    /// The bench.
    #[must_use]
    pub fn bench(&self) -> &str {
        &self.bench
    }

    /// Who handed in.
    #[must_use]
    pub fn pupil(&self) -> Option<&str> {
        self.pupil.as_deref()
    }

    /// The class hour.
    #[must_use]
    pub fn period(&self) -> Option<&str> {
        self.period.as_deref()
    }

    /// What this row was issued.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// Whether the row has readings of its own, rather than sharing those of another row.
    #[must_use]
    pub fn has_own_readings(&self) -> bool {
        self.own_readings
    }

    /// The line of the sheet with the readings that count for this row: its own, or where it shares
    /// those of another row, that one's; `None` where the bench has none.
    #[must_use]
    pub fn readings_line(&self) -> Option<u64> {
        self.readings_line
    }

    /// Whether nobody weighed the readings: they were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(&self) -> bool {
        self.stand_in
    }

    /// The bench's own key; `None` where it could not be worked out, which is among the problems.
    #[must_use]
    pub fn run(&self) -> Option<&Dehydration> {
        Some(self.worked.as_deref()?.found()?.0)
    }

    /// Why the bench could not be worked out, where its readings were there and could be read.
    #[must_use]
    pub fn error(&self) -> Option<&gravimetry::Error> {
        self.worked.as_deref()?.found.as_ref().err()
    }

    /// What the bench should do now; `None` where there are no weighings of a container.
    #[must_use]
    pub fn check(&self) -> Option<&Check> {
        self.worked.as_deref()?.check.as_ref()
    }

    /// The reported values, marked; empty where the row could not be worked out.
    #[must_use]
    pub fn answers(&self) -> &[Answer] {
        &self.answers
    }

    /// How many reported values could not be marked because the row could not be worked out.
    #[must_use]
    pub fn unmarked(&self) -> usize {
        self.unmarked
    }

    /// The marks for the calculation: those of all answers, less one where the policy takes it for
    /// the figures; `None` where the row could not be worked out.
    #[must_use]
    pub fn calculation(&self) -> Option<u32> {
        self.run()?;
        let marks: u32 = self.answers.iter().map(Answer::marks).sum();
        Some(marks.saturating_sub(u32::from(self.figures_mark)))
    }

    /// The most marks that the calculation could earn.
    #[must_use]
    pub fn calculation_out_of(&self) -> u32 {
        self.answers.iter().map(Answer::out_of).sum()
    }

    /// Whether the policy takes a mark for the figures of this submission.
    #[must_use]
    pub fn figures_mark(&self) -> bool {
        self.figures_mark
    }

    /// The marks for the accuracy at the bench; `None` where the policy gives none, or where the
    /// row could not be worked out.
    #[must_use]
    pub fn accuracy(&self) -> Option<u32> {
        self.accuracy.map(|accuracy| accuracy.marks)
    }

    /// The most marks that the accuracy could earn.
    #[must_use]
    pub fn accuracy_out_of(&self) -> u32 {
        self.accuracy.map_or(0, |accuracy| accuracy.out_of)
    }

    /// All marks, of the calculation and of the accuracy at the bench; `None` where the row could
    /// not be worked out.
    #[must_use]
    pub fn total(&self) -> Option<u32> {
        Some(self.calculation()? + self.accuracy().unwrap_or(0))
    }

    /// The most marks that the row could earn.
    #[must_use]
    pub fn out_of(&self) -> u32 {
        self.calculation_out_of() + self.accuracy_out_of()
    }

    /// The degree of hydration that the bench's own ratio is compared with: that of the formula, or
    /// what the jar really holds where the policy says so.
    #[must_use]
    pub fn expected_degree(&self) -> Option<&Ratio> {
        self.expected_degree.as_ref()
    }

    /// How far the bench's ratio is from the [expected degree](Self::expected_degree), in per cent
    /// of it: the accuracy at the bench.
    #[must_use]
    pub fn difference_percent(&self) -> Option<Ratio> {
        let expected = self.expected_degree()?;
        percent_of(&(self.run()?.ratio() - expected), expected)
    }
}
