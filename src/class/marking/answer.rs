//! One reported value, with its verdict and its marks.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::mistyped::MistypedReading;
use super::remark::Remark;
use super::verdict::Verdict;
use crate::class::{Marks, Reported, ReportedValue};
use crate::formula::{self, Formula};
use crate::gravimetry::{Dehydration, Interval, Quantity};
use crate::mistake::Slip;
use crate::number::Measured;
use crate::text::{Note, one_line, sentence};

/// What the bench's own readings give for a quantity. The text is made only if it is needed.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Expected {
    Number(Measured),
    Formula(Box<Formula>),
}

impl Expected {
    pub(super) fn of(dehydration: &Dehydration, quantity: Quantity) -> Option<Expected> {
        match quantity {
            Quantity::Formula => Some(Expected::Formula(Box::new(dehydration.nearest_formula()))),
            _ => dehydration.measured(quantity).map(Expected::Number),
        }
    }
}

/// What was found about a reported value.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Judgement {
    Correct {
        /// The answer handed in that the value follows from, if the readings alone do not give it.
        follows: Option<Quantity>,
    },
    CarriedForward {
        from: Quantity,
    },
    /// The same error as in an earlier answer, such as another unit, which is charged once.
    SameError {
        with: Quantity,
    },
    /// Every slip that gives the value. It is certain if there is one and it does not fit by chance.
    Slips {
        slips: Vec<Slip>,
        certain: bool,
    },
    /// Nothing that the marker knows gives the value.
    Unexplained,
    Obstacle(Obstacle),
    /// A person has marked what could not be judged by its text alone.
    ByHand,
    Missing,
}

/// Why a value cannot be judged by its text alone, or earns no marks.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum Obstacle {
    /// A number that cannot be read.
    Unreadable,
    /// A value that depends on the salt, of a bench of which nothing says what was issued.
    NotIssued,
    /// A value of a bench whose readings could not be worked out.
    NotWorkedOut,
    /// A value that is right if a reading is mistyped in the sheet.
    Mistyped(Box<MistypedReading>),
    /// A formula that cannot be read.
    BadFormula { text: String, error: formula::Error },
    /// A formula with two meanings of which neither is right.
    DoubtfulFormula { text: String },
    /// A formula that the ratio handed in does not give, which the policy asks for. The ratio gives this
    /// one.
    ContradictsRatio(Box<Formula>),
    /// A known hydrate of the salt, but not the one that the ratio or the readings give.
    OtherHydrate,
    /// Careful work gives the number before it is rounded so far that it differs by more than 5 %.
    TooCoarse,
    /// Careful work gives the number, and the teacher's tolerance does not admit it.
    OutsideTolerance,
}

impl Obstacle {
    /// Returns whether a person has to mark the value.
    pub(crate) fn needs_a_person(&self) -> bool {
        matches!(
            self,
            Obstacle::Unreadable
                | Obstacle::NotIssued
                | Obstacle::NotWorkedOut
                | Obstacle::Mistyped(_)
                | Obstacle::BadFormula { .. }
                | Obstacle::DoubtfulFormula { .. }
        )
    }

    /// Returns the obstacle in words for the pupil.
    pub(crate) fn to_pupil(&self) -> &'static str {
        match self {
            Obstacle::Unreadable => "this number could not be read, so your teacher will mark it",
            Obstacle::NotIssued => {
                "it is not clear which salt you were given, so your teacher will mark it"
            }
            Obstacle::NotWorkedOut => {
                "your readings could not be worked out, so your teacher will mark it"
            }
            Obstacle::Mistyped(_) => {
                "a reading may be mistyped in the class sheet, so your teacher will mark it"
            }
            Obstacle::BadFormula { .. } => {
                "this formula could not be read, so your teacher will mark it"
            }
            Obstacle::DoubtfulFormula { .. } => {
                "this formula has two possible meanings, so your teacher will mark it"
            }
            Obstacle::ContradictsRatio(_) => {
                "it does not agree with your mole ratio, so work it out from that"
            }
            Obstacle::OtherHydrate => {
                "it is another hydrate of this salt, so work it out from your mole ratio"
            }
            Obstacle::TooCoarse => "it has too few significant figures to be right, so write more",
            Obstacle::OutsideTolerance => {
                "it is further from the exact value than your teacher allows, so keep more digits on the way"
            }
        }
    }

    /// Returns the obstacle as a note for the teacher.
    pub(crate) fn note(&self) -> Note {
        match self {
            Obstacle::Unreadable => Note::new(
                "unreadable",
                "it could not be read as a number, so it is still to be marked by hand",
            ),
            Obstacle::NotIssued => Note::new(
                "not_issued",
                "nothing says which salt was issued, so it is still to be marked by hand",
            ),
            Obstacle::NotWorkedOut => Note::new(
                "not_worked_out",
                "the readings could not be worked out, so it is still to be marked by hand",
            ),
            Obstacle::Mistyped(reading) => reading.note(),
            Obstacle::BadFormula { text, error } => {
                Note::new("bad_formula", format!("`{text}` is not a formula: {error}"))
                    .with("code", error.code())
            }
            Obstacle::DoubtfulFormula { text } => Note::new(
                "doubtful_formula",
                format!("`{text}` has two possible meanings, so it is still to be marked by hand"),
            ),
            Obstacle::ContradictsRatio(formula) => Note::new(
                "not_from_ratio",
                format!("the policy asks for the formula of the reported mole ratio, {formula}"),
            )
            .with("formula", formula.to_string()),
            Obstacle::OtherHydrate => Note::new(
                "other_hydrate",
                "it is another known hydrate of the salt, which the mole ratio does not give",
            ),
            Obstacle::TooCoarse => Note::new(
                "too_coarse",
                "careful work on the readings gives it only after rounding that changes it by more than 5 %",
            ),
            Obstacle::OutsideTolerance => Note::new(
                "outside_tolerance",
                "careful work on the readings gives it, but it differs by more than the policy allows",
            ),
        }
    }
}

/// A reported value with its verdict and its marks.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Answer {
    pub(super) quantity: Quantity,
    pub(super) reported: String,
    pub(super) judgement: Judgement,
    pub(super) marks: Marks,
    pub(super) out_of: Marks,
    pub(super) expected: Option<Expected>,
    pub(super) defensible: Option<Interval>,
    pub(super) remarks: Vec<Remark>,
}

impl Answer {
    /// Returns an answer that only a person can mark, or that is missing.
    pub(super) fn not_judged(reported: &Reported, why: Obstacle, out_of: Marks) -> Answer {
        Answer {
            quantity: reported.quantity(),
            reported: reported.text().into(),
            judgement: match reported.value() {
                ReportedValue::Missing => Judgement::Missing,
                _ => Judgement::Obstacle(why),
            },
            marks: Marks::ZERO,
            out_of,
            expected: None,
            defensible: None,
            remarks: Vec::new(),
        }
    }

    /// Returns the quantity.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// Returns the value as it was handed in.
    #[must_use]
    pub fn reported(&self) -> &str {
        &self.reported
    }

    /// Returns the value as it was handed in, on one line, with the unit of its quantity if it has none.
    #[must_use]
    pub fn reported_with_unit(&self) -> String {
        // A number may have been handed in with its unit.
        let reported = one_line(&self.reported);
        if reported.ends_with(|c: char| c.is_ascii_digit()) {
            self.with_unit(&reported)
        } else {
            reported
        }
    }

    /// Returns a value with the unit of the quantity, if it has one.
    fn with_unit(&self, value: &str) -> String {
        match self.quantity.unit() {
            "" => value.into(),
            unit => format!("{value} {unit}"),
        }
    }

    /// Returns the verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self.judgement {
            Judgement::Correct { .. } => Verdict::Correct,
            Judgement::CarriedForward { .. } | Judgement::SameError { .. } => {
                Verdict::CarriedForward
            }
            Judgement::Slips { .. } => Verdict::Slip,
            Judgement::Unexplained | Judgement::Obstacle(_) => Verdict::Unexplained,
            Judgement::ByHand if self.marks == self.out_of => Verdict::Correct,
            Judgement::ByHand => Verdict::Unexplained,
            Judgement::Missing => Verdict::Missing,
        }
    }

    /// Returns the marks that the value earns: by default one if it is correct or carried forward.
    #[must_use]
    pub fn marks(&self) -> Marks {
        self.marks
    }

    /// Returns the most that the value could earn.
    #[must_use]
    pub fn out_of(&self) -> Marks {
        self.out_of
    }

    /// Returns what the bench's own readings give: a number unrounded, a formula as text.
    #[must_use]
    pub fn expected(&self) -> Option<String> {
        match (self.quantity, &self.expected) {
            // A mass found by subtraction keeps its decimal places.
            (Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass, _) => {}
            (_, Some(Expected::Number(number))) => return Some(number.value().to_plain()),
            _ => {}
        }
        self.expected_as_written()
    }

    /// Returns what the bench's own readings give, with the significant figures that they allow.
    #[must_use]
    pub fn expected_as_written(&self) -> Option<String> {
        Some(match self.expected.as_ref()? {
            Expected::Number(number) => number.to_plain(),
            Expected::Formula(formula) => formula.to_string(),
        })
    }

    /// Returns the same with the unit of its quantity, if it has one.
    #[must_use]
    pub fn expected_with_unit(&self) -> Option<String> {
        Some(self.with_unit(&self.expected_as_written()?))
    }

    /// Returns all slips that give exactly the digits written. They are empty if the value is right or
    /// carried forward, or if no slip gives it.
    #[must_use]
    pub fn slips(&self) -> &[Slip] {
        match &self.judgement {
            Judgement::Slips { slips, .. } => slips,
            _ => &[],
        }
    }

    /// Returns whether the slip is certain; `None` if there is no slip.
    ///
    /// It is certain if it is the only one, if it gives exactly the digits written by the class's own
    /// weights with nothing rounded on the way, and if a wrong number would hardly be called so: of all
    /// numbers that are no further from the right one, fewer than one in a hundred are certain slips.
    #[must_use]
    pub fn certain(&self) -> Option<bool> {
        match self.judgement {
            Judgement::Slips { certain, .. } => Some(certain),
            _ => None,
        }
    }

    /// Returns the least and the greatest value that careful work can give.
    #[must_use]
    pub fn defensible(&self) -> Option<&Interval> {
        self.defensible.as_ref()
    }

    /// Returns the earlier answer from which an error is carried forward.
    #[must_use]
    pub fn carried_from(&self) -> Option<Quantity> {
        match self.judgement {
            Judgement::CarriedForward { from } | Judgement::SameError { with: from } => Some(from),
            _ => None,
        }
    }

    /// Returns whether the value has the same error as an earlier answer, and does not follow from it.
    pub(crate) fn repeats_an_error(&self) -> bool {
        matches!(self.judgement, Judgement::SameError { .. })
    }

    /// Returns the remarks: notes from reading a formula, the reason why an answer could not be judged,
    /// and significant figures.
    #[must_use]
    pub fn remarks(&self) -> Vec<Note> {
        let remarks = self.remarks.iter().map(Remark::note);
        let by_hand = self.marked_by_hand().then(|| {
            let text = "the marks were given by hand";
            Note::new("marked_by_hand", text)
        });
        let obstacle = self.obstacle().map(Obstacle::note);
        remarks.chain(obstacle).chain(by_hand).collect()
    }

    /// Returns the remarks without the reason of the verdict.
    pub(crate) fn side_remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// Returns why the value could not be judged, or earns no marks.
    pub(crate) fn obstacle(&self) -> Option<&Obstacle> {
        match &self.judgement {
            Judgement::Obstacle(obstacle) => Some(obstacle),
            _ => None,
        }
    }

    /// Returns whether the answer is still to be marked by hand, because its text alone does not show what
    /// was meant. It is a number or a formula that cannot be read, or a formula with two possible
    /// meanings of which neither is right.
    #[must_use]
    pub fn by_hand(&self) -> bool {
        self.obstacle().is_some_and(Obstacle::needs_a_person)
    }

    /// Returns whether the marks were [given by hand](super::HandMarks). The verdict is then `Correct` if
    /// they are all that the answer could earn, and otherwise `Unexplained`.
    #[must_use]
    pub fn marked_by_hand(&self) -> bool {
        self.judgement == Judgement::ByHand
    }

    /// Returns the marks; `None` while the answer is still to be marked by hand.
    pub(crate) fn final_marks(&self) -> Option<Marks> {
        (!self.by_hand()).then_some(self.marks)
    }

    /// Returns the verdict with its reason, in one or two sentences for the teacher.
    #[must_use]
    pub fn reason(&self) -> String {
        let own = self.expected_with_unit();
        let own = own.map(|own| format!("the bench's own readings give {own}."));
        let why = match &self.judgement {
            Judgement::Correct { follows: None } => {
                return own.map_or_else(|| "correct.".into(), |own| format!("correct: {own}"));
            }
            Judgement::Correct {
                follows: Some(from),
            } => return format!("correct: it follows from the reported {from}."),
            Judgement::CarriedForward { from } => {
                return format!(
                    "carried forward: it follows from the reported {from}, so no second mark is lost."
                );
            }
            Judgement::SameError { with } => {
                format!(
                    "carried forward: the same error as in the reported {with}, so it costs no second mark"
                )
            }
            Judgement::ByHand => "marked by hand".into(),
            Judgement::Missing => "missing: nothing was handed in".into(),
            Judgement::Slips { slips, certain } => {
                let names: Vec<String> = slips.iter().map(ToString::to_string).collect();
                let names = names.join(", or ");
                if *certain {
                    format!("wrong: {names} (the only known error that fits)")
                } else {
                    format!("wrong: perhaps {names}")
                }
            }
            Judgement::Obstacle(obstacle) if obstacle.needs_a_person() => {
                format!("no marks yet: {}", obstacle.note())
            }
            Judgement::Obstacle(obstacle) => {
                let why = match obstacle {
                    Obstacle::TooCoarse => "rounded too far",
                    Obstacle::OtherHydrate => "another hydrate",
                    Obstacle::ContradictsRatio(_) => "contradicts the reported mole ratio",
                    _ => "outside the tolerance",
                };
                format!("{why}: {}", obstacle.note())
            }
            Judgement::Unexplained => "unexplained: no known error gives this value".into(),
        };
        match own {
            Some(own) => format!("{why}. {}", sentence(&own)),
            None => format!("{why}."),
        }
    }
}
