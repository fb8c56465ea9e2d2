//! Marking: every row against its own bench's readings.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::judge::Judge;
use super::{Answer, Pooled, Problem, Row, Sheet};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::gravimetry::{self, Check, Constancy, Dehydration, Method, Net, Paths, Weighings};
use crate::number::Ratio;
use crate::text::Note;

/// Marks class sheets: what was issued, and the rules of the laboratory.
///
/// Each reported value is compared with the defensible range of the bench's *own* readings, and
/// outside that with what follows from the group's own earlier answers. How near the bench came
/// to what was issued is said apart and costs no mark.
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
/// assert_eq!(answers[0].verdict(), Verdict::Unexplained);
/// assert_eq!(answers[1].verdict(), Verdict::CarriedForward);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Marker {
    issued: Formula,
    method: Method,
}

/// A marked class.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    pub(super) issued: Formula,
    pub(super) weights: AtomicWeights,
    pub(super) rows: Vec<MarkedRow>,
    pub(super) pooled: Pooled,
    pub(super) at_constant_mass: Pooled,
    pub(super) problems: Vec<Problem>,
    pub(super) notes: Vec<Note>,
}

/// A row of the sheet, worked out and marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedRow {
    pub(super) line: u64,
    pub(super) bench: String,
    pub(super) pupil: Option<String>,
    pub(super) issued: Formula,
    pub(super) own_readings: bool,
    pub(super) stand_in: bool,
    pub(super) run: Option<Dehydration>,
    pub(super) check: Option<Check>,
    pub(super) answers: Vec<Answer>,
    pub(super) unmarked: usize,
}

impl Marker {
    /// A marker for a class that was issued this hydrate.
    #[must_use]
    pub fn new(issued: Formula, method: Method) -> Self {
        Marker { issued, method }
    }

    /// Marks a sheet. What cannot be worked out is a problem of its row; everything else is
    /// marked.
    #[must_use]
    pub fn mark(&self, sheet: &Sheet) -> Marked {
        let mut problems = sheet.problems().to_vec();
        let mut known = KnownPaths::default();
        let rows: Vec<MarkedRow> = sheet
            .rows()
            .iter()
            .map(|row| self.row(sheet, row, &mut known, &mut problems))
            .collect();
        problems.sort_by_key(Problem::line);
        let ratios = |at_constant_mass: bool| -> Vec<Ratio> {
            rows.iter()
                .filter(|row| row.own_readings && !row.stand_in && row.issued == self.issued)
                .filter_map(|row| row.run.as_ref())
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
            rows,
            problems,
            notes: sheet.notes().to_vec(),
        }
    }

    fn row(
        &self,
        sheet: &Sheet,
        row: &Row,
        known: &mut KnownPaths,
        problems: &mut Vec<Problem>,
    ) -> MarkedRow {
        let mut marked = MarkedRow {
            line: row.line(),
            bench: row.bench().into(),
            pupil: row.pupil().map(String::from),
            issued: self.issued.clone(),
            own_readings: false,
            stand_in: row.stand_in(),
            run: None,
            check: None,
            answers: Vec::new(),
            unmarked: row
                .reported()
                .iter()
                .filter(|r| !r.text().is_empty())
                .count(),
        };
        // Who shares a bench's readings shares what it was issued.
        let holder = sheet.readings_of(row);
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
        marked.own_readings = core::ptr::eq(holder, row);
        if holder.readings_unreadable() {
            return marked;
        }
        let Some(weighings) = weighings(holder) else {
            return marked;
        };
        let mut method = self.method.clone();
        if let Err(error) = method.fall_back_on(sheet.readability(row)) {
            problems.push(complaint(row, &error));
            return marked;
        }
        // A check needs weighings of a container; net masses have none, which is no problem.
        marked.check = method.check(&marked.issued, &weighings).ok();
        let Some((salt, _)) = marked.issued.one_formula_unit() else {
            let message = format!("{} was issued, which is no hydrate", marked.issued);
            problems.push(Problem::of_row(row, "issued", "bad_issued", message));
            return marked;
        };
        match method.dehydration(&salt, &weighings) {
            Ok(run) => {
                marked.unmarked = 0;
                let paths = known.of(&run);
                let own = run.defensible_along(paths);
                let mut judge = Judge::new(&run, paths, &own);
                marked.answers = row.reported().iter().map(|r| judge.answer(r)).collect();
                let unread = marked.answers.iter().flat_map(Answer::remarks);
                for remark in unread.filter(|remark| remark.code() == "bad_formula") {
                    let message = remark.text().into();
                    problems.push(Problem::of_row(
                        row,
                        "reported_formula",
                        "bad_formula",
                        message,
                    ));
                }
                marked.run = Some(run);
            }
            Err(error) if marked.own_readings => problems.push(complaint(row, &error)),
            // The bench's own row has said it.
            Err(_) => {}
        }
        marked
    }
}

/// The paths of careful work, which are the same for every bench of a salt whose readings allow as
/// many figures.
#[derive(Default)]
struct KnownPaths(BTreeMap<(Formula, u32), Paths>);

impl KnownPaths {
    fn of(&mut self, run: &Dehydration) -> &Paths {
        self.0
            .entry((run.salt().clone(), run.figures().min(3)))
            .or_insert_with(|| run.paths())
    }
}

fn complaint(row: &Row, error: &gravimetry::Error) -> Problem {
    let last = row.heated().len().max(1);
    let column = match (error.kind(), row.crucible(), row.crucible_hydrate()) {
        (gravimetry::ErrorKind::MissingWeighing, ..) => "heated_1_g".into(),
        (gravimetry::ErrorKind::ImpossibleMasses, Some(c), Some(b)) if b.value() <= c.value() => {
            "crucible_hydrate_g".into()
        }
        (_, Some(_), Some(_)) => format!("heated_{last}_g"),
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

/// The row's readings: a container's weighings, or else net masses.
fn weighings(row: &Row) -> Option<Weighings> {
    match (row.crucible(), row.crucible_hydrate()) {
        (Some(container), Some(with_hydrate)) => Some(Weighings::new(
            container,
            with_hydrate,
            row.heated().iter().copied(),
        )),
        _ => Some(Weighings::net(
            row.hydrate_mass()?,
            row.residue_mass()?,
            Net::Tared,
        )),
    }
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

    /// Whether nobody weighed the readings: they were made for somebody who was absent.
    #[must_use]
    pub fn stand_in(&self) -> bool {
        self.stand_in
    }

    /// The bench's own key; `None` where it could not be worked out, which is among the problems.
    #[must_use]
    pub fn run(&self) -> Option<&Dehydration> {
        self.run.as_ref()
    }

    /// What the bench should do now; `None` where there are no weighings of a container.
    #[must_use]
    pub fn check(&self) -> Option<&Check> {
        self.check.as_ref()
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

    /// The marks, one for each answer that earns it; `None` where the row could not be worked out.
    #[must_use]
    pub fn total(&self) -> Option<u32> {
        self.run.as_ref()?;
        Some(self.answers.iter().map(Answer::marks).sum())
    }

    /// How far the bench's ratio is from the degree issued, in per cent of it: the accuracy at the
    /// bench, which the marks leave out.
    #[must_use]
    pub fn difference_percent(&self) -> Option<Ratio> {
        let (_, issued) = self.issued.one_formula_unit()?;
        let difference = self.run.as_ref()?.ratio() - &issued;
        (&difference * &Ratio::from(100)).checked_div(&issued)
    }
}
