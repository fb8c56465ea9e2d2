//! A row of the sheet, worked out and marked.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::answer::Answer;
use super::bench_key::BenchKey;
use super::judged_row::ComparedRatio;
use super::sheet_row::SheetRow;
use super::verdict::Verdict;
use crate::class::stats::ClassBench;
use crate::class::{Marks, Row};
use crate::formula::Formula;
#[cfg(all(feature = "report", not(target_family = "wasm")))]
use crate::gravimetry::Weighings;
use crate::gravimetry::{self, Check, Dehydration, Quantity, Warning};
use crate::mistake::Diagnosis;
use crate::number::{Ratio, Rounded, TieRule};

/// A row of the sheet, worked out and marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedRow {
    line: u64,
    pub(super) owner: RowOwner,
    /// What was issued, if anything says it.
    issued: Option<Formula>,
    own_readings: bool,
    absent: bool,
    readings_line: Option<u64>,
    ending: RowEnding,
}

/// The bench, pupil and period of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub(super) struct RowOwner {
    pub(super) bench: String,
    pub(super) pupil: Option<String>,
    pub(super) period: Option<String>,
    pub(super) stand_in: bool,
}

/// Writes the methods of a type with an `owner`.
macro_rules! owner_accessors {
    () => {
        /// Returns the bench.
        #[must_use]
        pub fn bench(&self) -> &str {
            &self.owner.bench
        }

        /// Returns the pupil.
        #[must_use]
        pub fn pupil(&self) -> Option<&str> {
            self.owner.pupil.as_deref()
        }

        /// Returns the period.
        #[must_use]
        pub fn period(&self) -> Option<&str> {
            self.owner.period.as_deref()
        }

        /// Returns whether the readings are stand-in readings, made for a pupil who was absent.
        #[must_use]
        pub fn stand_in(&self) -> bool {
            self.owner.stand_in
        }
    };
}
pub(super) use owner_accessors;

/// How the work on a row ended.
#[derive(Debug, Clone, PartialEq)]
enum RowEnding {
    /// The bench has no readings, or they could not be worked out.
    NotMarked {
        /// The key, if there were readings that could be read.
        key: Option<Arc<BenchKey>>,
        /// What was reported, which a person may mark.
        answers: Vec<Answer>,
    },
    Marked(RowMarks),
}

/// The marks of a row that could be worked out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RowMarks {
    /// The key of the bench, shared by all who hand in from it.
    pub(super) key: Arc<BenchKey>,
    /// The degree of hydration that the bench's ratio is compared with, if it is known what was issued.
    pub(super) expected_degree: Option<Ratio>,
    pub(super) accuracy: Option<AccuracyMarks>,
    pub(super) compared: ComparedRatio,
    /// Whether the policy takes a mark for significant figures.
    pub(super) figures_mark: bool,
    pub(super) answers: Vec<Answer>,
}

/// The marks for the accuracy at the bench, if the policy gives any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct AccuracyMarks {
    pub(super) marks: Marks,
    pub(super) out_of: Marks,
}

/// Returns how far a value is from the expected one, in per cent of the expected one.
pub(super) fn percent_difference(value: &Ratio, expected: &Ratio) -> Option<Ratio> {
    ((value - expected) * 100).checked_div(expected)
}

impl MarkedRow {
    /// Returns a row that could be worked out.
    pub(super) fn marked(
        sheet_row: &SheetRow<'_>,
        issued: Option<Formula>,
        marks: RowMarks,
    ) -> MarkedRow {
        MarkedRow::new(sheet_row, issued, RowEnding::Marked(marks))
    }

    /// Returns a row that could not be worked out.
    pub(super) fn not_marked(
        sheet_row: &SheetRow<'_>,
        issued: Option<Formula>,
        key: Option<Arc<BenchKey>>,
        answers: Vec<Answer>,
    ) -> MarkedRow {
        MarkedRow::new(sheet_row, issued, RowEnding::NotMarked { key, answers })
    }

    fn new(sheet_row: &SheetRow<'_>, issued: Option<Formula>, ending: RowEnding) -> MarkedRow {
        MarkedRow {
            line: sheet_row.row.line(),
            owner: RowOwner {
                bench: sheet_row.row.bench().into(),
                pupil: sheet_row.row.pupil().map(String::from),
                period: sheet_row.row.period().map(String::from),
                stand_in: sheet_row.stand_in,
            },
            issued,
            own_readings: sheet_row.has_own_readings(),
            absent: sheet_row.row.absent(),
            readings_line: sheet_row.holder.map(Row::line),
            ending,
        }
    }

    /// Returns the bench if it counts in the class's statistics: if it was worked out from the row's own
    /// readings, and not from stand-in readings. `issued` is what the class was issued.
    pub(super) fn class_bench(
        &self,
        issued: &Formula,
        balance: Option<&str>,
    ) -> Option<ClassBench> {
        let counts = self.own_readings && !self.stand_in();
        let dehydration = self.dehydration().filter(|_| counts)?;
        let own = self.issued.as_ref();
        Some(ClassBench {
            bench: self.bench().into(),
            period: self.period().map(Box::from),
            balance: balance.map(Box::from),
            issued: own.filter(|own| *own != issued).cloned().map(Box::new),
            ..ClassBench::new(self.line, dehydration)
        })
    }

    fn marks(&self) -> Option<&RowMarks> {
        match &self.ending {
            RowEnding::Marked(marks) => Some(marks),
            RowEnding::NotMarked { .. } => None,
        }
    }

    pub(super) fn key(&self) -> Option<&BenchKey> {
        match &self.ending {
            RowEnding::Marked(marks) => Some(&marks.key),
            RowEnding::NotMarked { key, .. } => key.as_deref(),
        }
    }

    /// Returns the line of the sheet.
    #[must_use]
    pub fn line(&self) -> u64 {
        self.line
    }

    owner_accessors!();

    /// Returns what this row was issued; `None` if nothing says it, or if it cannot be read.
    #[must_use]
    pub fn issued(&self) -> Option<&Formula> {
        self.issued.as_ref()
    }

    /// Returns whether the row has readings of its own, and does not share those of another row.
    #[must_use]
    pub fn has_own_readings(&self) -> bool {
        self.own_readings
    }

    /// Returns whether the row says that its pupil or its bench was [absent](Row::absent). Such a row
    /// is not marked.
    #[must_use]
    pub fn absent(&self) -> bool {
        self.absent
    }

    /// Returns the line of the sheet with the readings that count for this row: its own line, or that of
    /// the row whose readings it shares; `None` if the bench has no readings.
    #[must_use]
    pub fn readings_line(&self) -> Option<u64> {
        self.readings_line
    }

    /// Returns the dehydration worked out from the bench's readings; `None` if it could not be worked out,
    /// or if it is not known what was issued. The problems then say why.
    #[must_use]
    pub fn dehydration(&self) -> Option<&Dehydration> {
        self.mass_loss().filter(|_| self.issued.is_some())
    }

    /// Returns what the readings give. If it is not known what was issued, only the masses, the percentage
    /// and the constant mass of it count.
    pub(crate) fn mass_loss(&self) -> Option<&Dehydration> {
        Some(&self.key()?.result.as_ref().ok()?.dehydration)
    }

    /// Returns the readings of the bench, if they could be read.
    #[cfg(all(feature = "report", not(target_family = "wasm")))]
    pub(crate) fn weighings(&self) -> Option<&Weighings> {
        Some(&self.key()?.weighings)
    }

    /// Returns the expanded uncertainty of the bench's ratio, with the coverage factor of the method.
    #[cfg(all(feature = "report", not(target_family = "wasm")))]
    pub(crate) fn expanded_uncertainty(&self) -> Option<f64> {
        let coverage = self.key()?.method.coverage_factor();
        Some(coverage * self.dehydration()?.standard_uncertainty())
    }

    /// Returns the mass fraction of water in per cent, for which it need not be known what was issued;
    /// `None` if the readings could not be worked out.
    #[must_use]
    pub fn percent_water(&self) -> Option<&Ratio> {
        Some(self.mass_loss()?.percent_water())
    }

    /// Returns why the bench could not be worked out, if its readings were there.
    #[must_use]
    pub fn error(&self) -> Option<&gravimetry::Error> {
        self.key()?.result.as_ref().err()
    }

    /// Returns what the bench should do now; `None` if there are no weighings of a container.
    #[must_use]
    pub fn check(&self) -> Option<&Check> {
        self.key()?.check(self.issued.as_ref()?)
    }

    /// Returns which faults at the bench explain its readings, with the probabilities of the policy; `None` if
    /// nothing was weighed after heating, if it is not known what was issued, or if heating went beyond the lower
    /// hydrate that it should leave.
    ///
    /// It changes no mark: what follows from bad readings is right, and the bench is told all the same. It is
    /// worked out when it is first asked for.
    ///
    /// ```
    /// use effloresce::{class::{Marker, Sheet}, gravimetry::Method, mistake::Fault};
    /// let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\n\
    ///             Heron,21.352,24.018,22.946,22.801,5.61\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
    /// let row = &marked.rows()[0];
    /// assert_eq!(row.answers()[0].marks(), 1);
    /// assert_eq!(row.diagnosis().unwrap().likely()[0].fault(), Fault::WaterLeft);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn diagnosis(&self) -> Option<&Diagnosis> {
        let issued = self.issued.as_ref().filter(|_| !self.is_heated_beyond())?;
        self.key()?.diagnosis(issued)
    }

    /// Returns whether the salt may have been heated beyond the lower hydrate that heating should leave.
    fn is_heated_beyond(&self) -> bool {
        let findings = self.dehydration().map_or(&[][..], Dehydration::findings);
        findings
            .iter()
            .any(|finding| matches!(finding, Warning::HeatedBeyond(_) | Warning::PartlyBeyond(_)))
    }

    /// Returns the answers with their marks. If the row could not be worked out, they are empty, except that a mass
    /// of hydrate may be right all the same, or an answer be [marked by hand](super::HandMarks).
    #[must_use]
    pub fn answers(&self) -> &[Answer] {
        let is_marked = |answer: &Answer| !answer.by_hand() && answer.verdict() != Verdict::Missing;
        match &self.ending {
            RowEnding::NotMarked { answers, .. } if !answers.iter().any(is_marked) => &[],
            _ => self.all_answers(),
        }
    }

    /// Returns the answers, also those of a row that could not be worked out.
    fn all_answers(&self) -> &[Answer] {
        match &self.ending {
            RowEnding::Marked(marks) => &marks.answers,
            RowEnding::NotMarked { answers, .. } => answers,
        }
    }

    pub(super) fn answers_mut(&mut self) -> &mut [Answer] {
        match &mut self.ending {
            RowEnding::Marked(marks) => &mut marks.answers,
            RowEnding::NotMarked { answers, .. } => answers,
        }
    }

    /// Returns the answer about this quantity, if it was asked for.
    pub(crate) fn answer(&self, quantity: Quantity) -> Option<&Answer> {
        let mut answers = self.answers().iter();
        answers.find(|answer| answer.quantity() == quantity)
    }

    /// Returns the same, also if the row could not be worked out.
    pub(super) fn any_answer(&self, quantity: Quantity) -> Option<&Answer> {
        let mut answers = self.all_answers().iter();
        answers.find(|answer| answer.quantity() == quantity)
    }

    /// Returns the number of answers that are not marked because the row could not be worked out.
    #[must_use]
    pub fn unmarked(&self) -> usize {
        match self.ending {
            RowEnding::NotMarked { .. } => self.by_hand(),
            RowEnding::Marked(_) => 0,
        }
    }

    /// Returns the number of answers that a person still has to mark: those that are
    /// [not legible](Answer::by_hand), and all that were handed in if the row could not be worked out. If one answer of
    /// such a row is marked, those that were not handed in count, too: the bench could not give them.
    #[must_use]
    pub fn by_hand(&self) -> usize {
        self.open_answers().count()
    }

    /// Returns the answers that a person still has to mark, also those of a row that could not be worked
    /// out.
    pub fn open_answers(&self) -> impl Iterator<Item = &Answer> {
        let answers = self.all_answers().iter();
        answers.filter(|answer| self.awaits_a_person(answer))
    }

    /// Returns whether a person has to mark this answer of the row, though it may be missing.
    pub(super) fn awaits_a_person(&self, answer: &Answer) -> bool {
        let is_judged = |answer: &Answer| {
            let by_person = answer.by_hand() || answer.marked_by_hand();
            !by_person && answer.verdict() != Verdict::Missing
        };
        let judged_in_part = || match &self.ending {
            RowEnding::NotMarked { answers, .. } => answers.iter().any(is_judged),
            RowEnding::Marked(_) => false,
        };
        answer.by_hand() || answer.verdict() == Verdict::Missing && judged_in_part()
    }

    /// Returns whether nothing is decided about an answer: it is still to be marked by hand, or it is missing and its
    /// bench could not be worked out.
    #[cfg(feature = "report")]
    pub(crate) fn is_open(&self, answer: &Answer) -> bool {
        let missing = answer.verdict() == Verdict::Missing;
        answer.by_hand() || missing && self.mass_loss().is_none() && self.total().is_none()
    }

    /// Returns the marks for the calculation so far: those of all answers, minus one if the policy takes it
    /// for significant figures; `None` if the row could not be worked out and no answer of it is marked.
    #[must_use]
    pub fn calculation(&self) -> Option<Marks> {
        if self.marks().is_none() && self.answers().is_empty() {
            return None;
        }
        let of_answers: Marks = self.answers().iter().map(Answer::marks).sum();
        let figures = Marks::from(u32::from(self.figures_mark()));
        Some((of_answers - figures).max(Marks::ZERO))
    }

    /// Returns the most marks that the calculation could earn.
    #[must_use]
    pub fn calculation_out_of(&self) -> Marks {
        self.answers().iter().map(Answer::out_of).sum()
    }

    /// Returns whether a mark was lost for significant figures. If the answers earn none, none is lost.
    pub(crate) fn lost_a_mark_for_figures(&self) -> bool {
        self.figures_cost().is_some_and(|cost| cost > Marks::ZERO)
    }

    /// Returns the marks lost for significant figures; `None` if the row could not be worked out.
    pub(crate) fn figures_cost(&self) -> Option<Marks> {
        let answers: Marks = self.answers().iter().map(Answer::marks).sum();
        Some(answers - self.calculation()?)
    }

    /// Returns whether the policy takes a mark for the significant figures of this submission.
    #[must_use]
    pub fn figures_mark(&self) -> bool {
        self.marks().is_some_and(|marks| marks.figures_mark)
    }

    /// Returns the marks for the accuracy at the bench; `None` if the policy gives none or the row could
    /// not be worked out.
    #[must_use]
    pub fn accuracy(&self) -> Option<Marks> {
        Some(self.marks()?.accuracy?.marks)
    }

    /// Returns the most marks that the accuracy could earn.
    #[must_use]
    pub fn accuracy_out_of(&self) -> Marks {
        let accuracy = self.marks().and_then(|marks| marks.accuracy);
        accuracy.map_or(Marks::ZERO, |accuracy| accuracy.out_of)
    }

    /// Returns the marks for the calculation and the accuracy together; `None` if the row could not be
    /// worked out and none of its answers was marked by hand, and while an answer is still to be [marked by
    /// hand](Self::by_hand).
    #[must_use]
    pub fn total(&self) -> Option<Marks> {
        let by_hand = || self.answers().iter().any(Answer::marked_by_hand);
        let is_final = self.by_hand() == 0 && (self.marks().is_some() || by_hand());
        self.so_far().filter(|_| is_final)
    }

    /// Returns the marks for both, also while an answer is open.
    pub(crate) fn so_far(&self) -> Option<Marks> {
        Some(self.calculation()? + self.accuracy().unwrap_or_default())
    }

    /// Returns the most marks that the row could earn.
    #[must_use]
    pub fn out_of(&self) -> Marks {
        self.calculation_out_of() + self.accuracy_out_of()
    }

    /// Returns the degree of hydration that the bench's own ratio is compared with: that of the formula,
    /// or that of the stock if the policy gives it.
    #[must_use]
    pub fn expected_degree(&self) -> Option<&Ratio> {
        self.marks()?.expected_degree.as_ref()
    }

    /// Returns the accuracy at the bench: how far the bench's ratio is from the
    /// [expected degree](Self::expected_degree), in per cent of it; `None` if a reading may be mistyped in the
    /// sheet. If the answers are right with a further residue than heating should leave, the ratio is that
    /// with it.
    #[must_use]
    pub fn difference_percent(&self) -> Option<Ratio> {
        let expected = self.expected_degree()?;
        let own = self.dehydration()?.ratio();
        percent_difference(self.marks()?.compared.or_own(own)?, expected)
    }

    /// Returns the further residue with which the answers are right, if there is one.
    pub(crate) fn further_residue(&self) -> Option<&Formula> {
        match self.marks()?.compared {
            ComparedRatio::Further(_) => self.dehydration()?.further_residue(),
            ComparedRatio::Own | ComparedRatio::Unknown => None,
        }
    }

    /// Returns the size of that difference as it is printed: to two significant figures, but not further
    /// than a hundredth of a per cent.
    pub(crate) fn printed_difference(&self) -> Option<Rounded> {
        let size = self.difference_percent()?.abs();
        let figures = size.to_figures(2, TieRule::Even);
        Some(if figures.decimal_places() > 2 {
            size.to_places(2, TieRule::Even)
        } else {
            figures
        })
    }
}
