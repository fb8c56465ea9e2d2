//! One reported value, and what is said of it.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::formula::Formula;
use crate::gravimetry::{Dehydration, Interval, Quantity};
use crate::mistake::Slip;
use crate::number::Measured;
use crate::text::Note;

/// What is said of a reported value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Verdict {
    /// Careful work on the bench's own readings gives it, or it follows from earlier answers that
    /// are all correct.
    Correct,
    /// It follows from an earlier answer that is not correct: no second penalty.
    #[doc(alias = "ECF")]
    #[doc(alias = "error carried forward")]
    CarriedForward,
    /// One or more known slips on paper lead to it, to the digits written.
    Slip,
    /// Nothing that the marker knows leads to it.
    Unexplained,
    /// Nothing was handed in.
    Missing,
}

impl Verdict {
    /// The stable name of the verdict.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried_forward",
            Verdict::Slip => "slip",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        }
    }

    /// Whether the value earns its mark.
    #[must_use]
    pub const fn earns(self) -> bool {
        matches!(self, Verdict::Correct | Verdict::CarriedForward)
    }
}

impl core::fmt::Display for Verdict {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(match self {
            Verdict::Correct => "correct",
            Verdict::CarriedForward => "carried forward",
            Verdict::Slip => "a slip",
            Verdict::Unexplained => "unexplained",
            Verdict::Missing => "missing",
        })
    }
}

/// What the bench's own readings give for a quantity. It is put into words only when asked.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Expected {
    /// A mass found by subtraction, which keeps its decimal places.
    Mass(Measured),
    Number(Measured),
    Formula(Box<Formula>),
    Nothing,
}

impl Expected {
    pub(super) fn of(run: &Dehydration, quantity: Quantity) -> Expected {
        match (quantity, run.measured(quantity)) {
            (Quantity::Formula, _) => Expected::Formula(Box::new(run.nearest_formula())),
            (_, None) => Expected::Nothing,
            (Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass, Some(mass)) => {
                Expected::Mass(mass)
            }
            (_, Some(number)) => Expected::Number(number),
        }
    }

    fn unrounded(&self) -> Option<String> {
        match self {
            Expected::Number(number) => Some(number.value().to_plain()),
            _ => self.written(),
        }
    }

    fn written(&self) -> Option<String> {
        match self {
            Expected::Mass(number) | Expected::Number(number) => Some(number.plainly()),
            Expected::Formula(formula) => Some(format!("{formula}")),
            Expected::Nothing => None,
        }
    }
}

/// A reported value, marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    pub(super) quantity: Quantity,
    pub(super) reported: String,
    pub(super) verdict: Verdict,
    pub(super) marks: u32,
    pub(super) out_of: u32,
    pub(super) expected: Expected,
    pub(super) defensible: Option<Interval>,
    pub(super) slips: Vec<Slip>,
    pub(super) certain: Option<bool>,
    pub(super) carried_from: Option<Quantity>,
    /// The answer handed in that a correct value follows from, where the readings alone do not
    /// give it.
    pub(super) follows: Option<Quantity>,
    pub(super) remarks: Vec<Note>,
}

impl Answer {
    /// Which quantity.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        self.quantity
    }

    /// The value as it was handed in.
    #[must_use]
    pub fn reported(&self) -> &str {
        &self.reported
    }

    /// The same with the unit of its quantity, where it was handed in without one.
    #[must_use]
    pub fn reported_with_unit(&self) -> String {
        // A number may have been handed in with its unit.
        let bare = self.reported.ends_with(|c: char| c.is_ascii_digit());
        match self.quantity.unit() {
            unit if bare && !unit.is_empty() => format!("{} {unit}", self.reported),
            _ => self.reported.clone(),
        }
    }

    /// The verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.verdict
    }

    /// The marks that it earns: by default one where it is correct or carried forward.
    #[must_use]
    pub fn marks(&self) -> u32 {
        self.marks
    }

    /// The most that it could earn.
    #[must_use]
    pub fn out_of(&self) -> u32 {
        self.out_of
    }

    /// What the bench's own readings give, unrounded (the formula: as text).
    #[must_use]
    pub fn expected(&self) -> Option<String> {
        self.expected.unrounded()
    }

    /// What the bench's own readings give, with the figures that they allow.
    #[must_use]
    pub fn expected_as_written(&self) -> Option<String> {
        self.expected.written()
    }

    /// The slips that lead to the value, to the digits written; empty where it is right, carried
    /// forward, or none does. Several may give one value: all of them are here.
    #[must_use]
    pub fn slips(&self) -> &[Slip] {
        &self.slips
    }

    /// Whether only one slip leads to the value, and gives the very digits by the class's own weights
    /// with nothing rounded on the way, as many of them as careful work keeps; `None` where there is
    /// no slip.
    #[must_use]
    pub fn certain(&self) -> Option<bool> {
        self.certain
    }

    /// The least and the greatest value that careful work can give.
    #[must_use]
    pub fn defensible(&self) -> Option<&Interval> {
        self.defensible.as_ref()
    }

    /// The earlier answer that this one follows from.
    #[must_use]
    pub fn carried_from(&self) -> Option<Quantity> {
        self.carried_from
    }

    /// What else is to be said.
    #[must_use]
    pub fn remarks(&self) -> &[Note] {
        &self.remarks
    }

    /// Whether nobody can tell by the text alone what was meant, so that it is to be marked by hand: a
    /// number or a formula that cannot be read, or a formula with two readings of which neither is
    /// right.
    #[must_use]
    pub fn by_hand(&self) -> bool {
        self.verdict == Verdict::Unexplained
            && self.remarks.iter().any(|remark| {
                matches!(
                    remark.code(),
                    "unreadable" | "bad_formula" | "doubtful_formula"
                )
            })
    }

    /// The remark that says why an answer is not explained.
    pub(super) fn obstacle(&self) -> Option<&Note> {
        self.remarks.iter().find(|remark| {
            matches!(
                remark.code(),
                "unreadable" | "bad_formula" | "doubtful_formula" | "outside_tolerance"
            )
        })
    }

    /// Takes the slips for the reason, where there are any.
    pub(super) fn explain(&mut self, slips: Vec<Slip>, certain: bool) {
        if !slips.is_empty() {
            self.verdict = Verdict::Slip;
            self.slips = slips;
            self.certain = Some(certain);
        }
    }

    /// The verdict in a sentence, with its reason.
    #[must_use]
    pub fn reason(&self) -> String {
        let unit = match self.quantity.unit() {
            "" => String::new(),
            unit => format!(" {unit}"),
        };
        let own = self.expected_as_written();
        let own = own.as_deref().unwrap_or("nothing");
        match self.verdict {
            Verdict::Correct => match self.follows {
                Some(from) => format!("correct: it follows from the {from} reported"),
                None => format!("correct: the bench's own readings give {own}{unit}"),
            },
            Verdict::CarriedForward => match self.carried_from {
                Some(from) => format!("follows from the {from} reported, so no mark is lost twice"),
                None => "follows from an earlier answer".into(),
            },
            Verdict::Missing => {
                format!("nothing was handed in; the bench's own readings give {own}{unit}")
            }
            Verdict::Slip => {
                let names: Vec<String> = self.slips.iter().map(|slip| format!("{slip}")).collect();
                let (names, how) = (
                    names.join(", or "),
                    if self.certain == Some(true) {
                        ""
                    } else {
                        "perhaps "
                    },
                );
                format!("{how}{names}; the bench's own readings give {own}{unit}")
            }
            Verdict::Unexplained => match self.obstacle() {
                Some(remark) => format!(
                    "{}; the bench's own readings give {own}{unit}",
                    remark.text()
                ),
                None => format!(
                    "the bench's own readings give {own}{unit}, and nothing leads from them to this"
                ),
            },
        }
    }
}
