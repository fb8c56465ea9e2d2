//! The rules of a class, and the marks of one row against the readings of its own bench.

use alloc::format;
use alloc::string::ToString;
use alloc::sync::Arc;
use alloc::vec::Vec;
use core::fmt;

use super::answer::{Answer, Obstacle};
use super::bench_key::{BenchKey, BenchKeys, MOST_ISSUED};
use super::judged_row::RowJudge;
use super::marked_row::{AccuracyMarks, MarkedRow, RowMarks, percent_difference};
use super::sheet_row::SheetRow;
use crate::class::sheet::ProblemKind;
use crate::class::{Band, Policy, Problem, Row, Stock};
use crate::formula::Formula;
use crate::gravimetry::{self, Dehydration, Method, Quantity, Weighings};
use crate::number::Ratio;
use crate::text::Note;

/// A marker of class sheets: it knows what was issued and the rules of the class.
///
/// The marker compares each reported value with the defensible range of the bench's *own* readings.
/// It then tries what follows from the group's own earlier answers, and then the catalogue of slips.
/// The accuracy at the bench is marked separately: it costs no mark, and it earns one only if the
/// teacher's [`Policy`] says so.
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
    pub(super) issued: Formula,
    /// Whether a row that names nothing was issued nothing known.
    named_in_sheet: bool,
    pub(super) method: Method,
    pub(super) policy: Policy,
}

impl Marker {
    /// The most different hydrates that the rows of one class may be issued. A row with one more has the
    /// problem `too_many_issued`. Only its masses and its percentage of water are marked.
    pub const MOST_ISSUED: usize = MOST_ISSUED;

    /// Creates a marker for a class that was issued this hydrate, with the default policy.
    #[must_use]
    pub fn new(issued: Formula, method: Method) -> Self {
        Marker {
            issued,
            named_in_sheet: false,
            method,
            policy: Policy::default(),
        }
    }

    /// Sets that only the rows of the sheet name what was issued. The hydrate of the marker is then that of
    /// some rows, and not of a row that names nothing.
    ///
    /// Of a row that names nothing, masses and percentage are marked. The amounts, the ratio and the
    /// formula are left open, and the row has the problem `not_issued`.
    ///
    /// ```
    /// use effloresce::class::{Marker, Sheet, Verdict};
    /// use effloresce::gravimetry::Method;
    /// let text = "bench,issued,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
    ///             Heron,BaCl2·2H2O,2.443,2.082,14.78,2.00\nWren,,2.666,1.303,51.13,6.99\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marker = Marker::new("BaCl2·2H2O".parse()?, Method::new()).named_in_sheet();
    /// let marked = marker.mark(&sheet);
    /// let wren = &marked.rows()[1];
    /// assert_eq!(wren.issued(), None);
    /// assert_eq!(wren.answers()[0].verdict(), Verdict::Correct);
    /// assert!(wren.answers()[1].by_hand());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn named_in_sheet(mut self) -> Self {
        self.named_in_sheet = true;
        self
    }

    /// Sets the teacher's policy: marks, tolerances, significant figures, accuracy, what the stock holds.
    #[must_use]
    pub fn policy(mut self, policy: Policy) -> Self {
        self.policy = policy;
        self
    }

    /// Returns the ratio that the stock really holds, if the policy says so, and what is to be noted
    /// about it.
    pub(super) fn stock_ratio(&self) -> (Option<Ratio>, Option<Note>) {
        let Some(stock) = self.policy.stock_content() else {
            return (None, None);
        };
        match self.stock_dehydration(stock) {
            Ok(dehydration) if dehydration.ratio().is_positive() => (
                Some(dehydration.ratio().clone()),
                still_falling(&dehydration).or_else(|| maybe_a_fraction(stock)),
            ),
            Ok(_) => (None, Some(unusable("no hydrate contains 0 % water"))),
            Err(error) => (None, Some(unusable(error))),
        }
    }

    /// Works out what the stock really holds, as a bench is worked out.
    fn stock_dehydration(&self, stock: &Stock) -> Result<Dehydration, gravimetry::Error> {
        let unit = self.issued.one_formula_unit();
        // If what was issued is not a hydrate, every row says so.
        let salt = unit.map_or_else(|| self.issued.clone(), |(salt, _)| salt);
        let weighings = match stock {
            Stock::PercentWater(percent) => {
                // This is all the water, whatever the benches leave in the residue.
                let weighings = Weighings::percent_water(*percent);
                return self
                    .method
                    .clone()
                    .without_residue()
                    .dehydration(&salt, &weighings);
            }
            Stock::Weighings(weighings) => weighings,
        };
        self.method.dehydration(&salt, weighings)
    }

    /// Returns what a row was issued: what it says itself, or what the row with its readings says, or what
    /// the class was issued.
    fn issued_to(&self, sheet_row: &SheetRow<'_>) -> Result<Formula, ProblemKind> {
        let SheetRow { row, holder, .. } = sheet_row;
        let named = [Some(*row), *holder].into_iter().flatten();
        let named = named.filter_map(|row| Some((row.issued()?, row.issued_formula()?)));
        match named.into_iter().next() {
            Some((_, Ok(issued))) => Ok(issued),
            Some((text, Err(error))) => Err(ProblemKind::BadIssued(text.into(), error)),
            None if self.named_in_sheet => Err(ProblemKind::NotIssued),
            None => Ok(self.issued.clone()),
        }
    }

    /// Returns what a row was issued, with its degree of hydration, if that is known, a hydrate, and not one of
    /// too many different ones. Otherwise it adds the problem.
    fn admitted(
        &self,
        sheet_row: &SheetRow<'_>,
        keys: &mut BenchKeys<'_>,
        problems: &mut Vec<Problem>,
    ) -> Option<(Formula, Ratio)> {
        let hydrate =
            self.issued_to(sheet_row)
                .and_then(|issued| match issued.one_formula_unit() {
                    Some((_, degree)) => Ok((keys.admit(issued)?, degree)),
                    None => Err(ProblemKind::NoHydrateIssued(issued.to_string())),
                });
        match hydrate {
            Ok(hydrate) => Some(hydrate),
            // The rows that share the readings of a bench do not repeat what it lacks.
            Err(ProblemKind::NotIssued) if !sheet_row.has_own_readings() => None,
            Err(kind) => {
                problems.push(sheet_row.row.problem("issued", &kind));
                None
            }
        }
    }

    /// Marks one row of a sheet, and adds what is wrong with it.
    pub(super) fn row(
        &self,
        index: usize,
        sheet_row: &SheetRow<'_>,
        keys: &mut BenchKeys<'_>,
        stock: Option<&Ratio>,
        problems: &mut Vec<Problem>,
    ) -> MarkedRow {
        let SheetRow { row, holder, .. } = sheet_row;
        if row.absent() {
            return self.not_marked(index, sheet_row, self.issued_to(sheet_row).ok(), None, keys);
        }
        let (issued, degree) = self.admitted(sheet_row, keys, problems).unzip();
        problems.extend(holder.and_then(|holder| other_issue(row, holder)));
        let Some(holder) = holder.filter(|holder| !holder.readings_unreadable()) else {
            let key = keys.up_to_unreadable(index, *holder, issued.as_ref());
            return self.not_marked(index, sheet_row, issued, key, keys);
        };
        let Some(key) = keys.key(index, holder, issued.as_ref()) else {
            return self.not_marked(index, sheet_row, issued, None, keys);
        };
        let result = match &key.result {
            Ok(result) => result,
            Err(error) => {
                if sheet_row.has_own_readings() {
                    problems.push(complaint(row, error));
                }
                let key = Some(key.clone());
                return self.not_marked(index, sheet_row, issued, key, keys);
            }
        };
        let of_stock = stock.filter(|_| issued.as_ref() == Some(&self.issued));
        let expected_degree = of_stock.cloned().or(degree);
        let judge = self.judge_of(row, issued.as_ref());
        let judged = judge.judge(&key, result, expected_degree.as_ref(), keys);
        problems.extend(unreadable_formulas(row, &judged.answers));
        let own = result.dehydration.ratio();
        let compared = expected_degree.as_ref().zip(judged.compared.or_own(own));
        let marks = RowMarks {
            figures_mark: judged.figures_mark,
            accuracy: compared
                .and_then(|(expected, ratio)| self.accuracy(sheet_row, ratio, expected)),
            compared: judged.compared,
            expected_degree,
            answers: judged.answers,
            key: key.clone(),
        };
        MarkedRow::marked(sheet_row, issued, marks)
    }

    fn judge_of<'a>(&'a self, row: &'a Row, issued: Option<&'a Formula>) -> RowJudge<'a> {
        RowJudge {
            row,
            issued,
            of_class: &self.issued,
            policy: &self.policy,
        }
    }

    /// Returns a row that could not be worked out.
    fn not_marked(
        &self,
        index: usize,
        sheet_row: &SheetRow<'_>,
        issued: Option<Formula>,
        key: Option<Arc<BenchKey>>,
        keys: &mut BenchKeys<'_>,
    ) -> MarkedRow {
        let holder = sheet_row.holder;
        let judge = self.judge_of(sheet_row.row, issued.as_ref());
        let answers = judge.without_result(|| keys.before_heating(index, holder?, issued.as_ref()));
        MarkedRow::not_marked(sheet_row, issued, key, answers)
    }

    /// Returns the marks for accuracy. Nobody weighed stand-in readings, so they show none.
    fn accuracy(
        &self,
        sheet_row: &SheetRow<'_>,
        ratio: &Ratio,
        expected: &Ratio,
    ) -> Option<AccuracyMarks> {
        if sheet_row.stand_in {
            return None;
        }
        let difference = percent_difference(ratio, expected)?;
        let bands = self.policy.accuracy_bands().iter();
        Some(AccuracyMarks {
            marks: self.policy.accuracy_marks(&difference)?,
            out_of: bands.map(Band::marks).max()?,
        })
    }
}

fn unreadable_formulas(row: &Row, answers: &[Answer]) -> impl Iterator<Item = Problem> {
    answers
        .iter()
        .filter_map(|answer| match answer.obstacle()? {
            Obstacle::BadFormula { text, error } => {
                let kind = ProblemKind::BadFormula(text.clone(), error.clone());
                let problem = row.problem("reported_formula", &kind);
                Some(problem.of_answer(Some(Quantity::Formula)))
            }
            _ => None,
        })
}

/// Returns the problem of a row that names another salt than the row whose readings it shares.
fn other_issue(row: &Row, holder: &Row) -> Option<Problem> {
    let (own, shared) = (row.issued()?, holder.issued()?);
    if own == shared {
        return None;
    }
    let read = |row: &Row| row.issued_formula()?.ok();
    (read(row)? != read(holder)?).then(|| {
        let kind = ProblemKind::IssuedDiffers([own.into(), shared.into()], holder.line());
        row.problem("issued", &kind)
    })
}

/// Returns a warning if the technician's weighings had not reached constant mass.
fn still_falling(dehydration: &Dehydration) -> Option<Note> {
    let reached = dehydration.constant_mass()?.reached();
    (reached != Some(true)).then(|| {
        Note::new(
            "jar_not_constant",
            "The weighings of the stock had not reached constant mass. It may hold more water than they \
             show, and the accuracy of every bench is measured by them.",
        )
    })
}

/// Returns the question whether a low percentage of water is a fraction.
fn maybe_a_fraction(stock: &Stock) -> Option<Note> {
    let Stock::PercentWater(percent) = stock else {
        return None;
    };
    let value = percent.value();
    if value >= Ratio::new(3, 2)? {
        return None;
    }
    let meant = (&value * 100).to_plain();
    Some(Note::new(
        "suspect_percent_water",
        format!(
            "The stock was read as having {percent} % of water. Give it in per cent: was {meant} % meant?"
        ),
    ))
}

fn unusable(error: impl fmt::Display) -> Note {
    Note::new(
        "jar_unusable",
        format!(
            "What the stock holds could not be worked out: {error}. The benches are compared with the \
             formula."
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
    row.problem(&column, &ProblemKind::Unworkable(error.clone()))
}
