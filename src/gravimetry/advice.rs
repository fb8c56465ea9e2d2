//! The advice to a bench that is still heating.

use alloc::string::String;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind};
use super::hazard::HeatingSafety;
use super::issued::{Issued, Plateau};
use super::reason::{Reason, do_not_heat};
use super::salts::Severity;
#[cfg(feature = "report")]
use super::series::on_balance;
use crate::formula::Formula;
use crate::number::Ratio;
#[cfg(feature = "report")]
use crate::number::Rounded;
use crate::text::Note;

/// An advice on what to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Advice {
    /// Check the readings: one cannot be as it is written.
    CheckReadings,
    /// Start again: the last weighing is far below the expected mass.
    StartAgain,
    /// Ask the teacher: the readings do not fit the loss of water alone.
    Ask,
    /// Heat, cool and weigh again.
    HeatAgain,
    /// Heat: nothing has been heated yet.
    Heat,
    /// Stop: the mass is constant and as expected.
    Stop,
}

impl Advice {
    /// All kinds of advice, the most urgent first.
    pub const ALL: [Advice; 6] = [
        Advice::CheckReadings,
        Advice::StartAgain,
        Advice::Ask,
        Advice::HeatAgain,
        Advice::Heat,
        Advice::Stop,
    ];

    /// The stable name of the advice.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Advice::CheckReadings => "check_readings",
            Advice::Heat => "heat",
            Advice::HeatAgain => "heat_again",
            Advice::Stop => "stop",
            Advice::Ask => "ask",
            Advice::StartAgain => "start_again",
        }
    }
}

crate::text::codes!(Advice, code, "advice", Error(ErrorKind::UnknownCode));

impl core::fmt::Display for Advice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(&self.code().replace('_', " "))
    }
}

/// The advice to a bench, with the reasons.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    issued: Formula,
    /// What heating should leave.
    residue: Formula,
    advice: Advice,
    findings: Vec<Reason>,
    swap: Option<[String; 2]>,
    /// The notes from reading the text of the issued formula.
    notes: Vec<Note>,
    pub(super) expectation: Option<Expectation>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Expectation {
    /// The smallest step of the balance.
    pub(super) division: Ratio,
    /// The waters that the stock really holds, if the masses follow it.
    #[cfg_attr(
        not(feature = "report"),
        allow(dead_code, reason = "only a report prints it")
    )]
    pub(super) stock: Option<Ratio>,
    pub(super) expected_last: Ratio,
    pub(super) still_to_lose: Option<Ratio>,
    pub(super) plateaus: Vec<Plateau>,
    pub(super) constancy: Constancy,
}

impl Expectation {
    /// The mass of the last weighing after heating.
    pub(super) fn last(&self) -> Option<Ratio> {
        Some(&self.expected_last + self.still_to_lose.as_ref()?)
    }

    /// Whether a mass is the expected one, within this tolerance.
    pub(super) fn is_met_by(&self, mass: &Ratio, tolerance: &Ratio) -> bool {
        (mass - &self.expected_last).abs() <= *tolerance
    }

    /// The lower hydrate whose mass the last weighing has, within this tolerance: the nearest one.
    pub(super) fn near_plateau(&self, tolerance: &Ratio) -> Option<&Plateau> {
        let last = self.last()?;
        let off = |plateau: &Plateau| (&last - &plateau.mass).abs();
        let near = self
            .plateaus
            .iter()
            .filter(|plateau| off(plateau) <= *tolerance);
        near.min_by_key(|plateau| off(plateau))
    }
}

/// An advice with its reasons, before it becomes a check.
pub(super) struct Found {
    pub(super) advice: Advice,
    pub(super) reasons: Vec<Reason>,
}

impl Found {
    pub(super) fn new(advice: Advice, reasons: impl IntoIterator<Item = Reason>) -> Found {
        Found {
            advice,
            reasons: reasons.into_iter().collect(),
        }
    }
}

impl Check {
    pub(super) fn new(
        issued: &Issued<'_>,
        found: Found,
        expectation: Option<Expectation>,
    ) -> Check {
        let swap = found.reasons.iter().find_map(|reason| match reason {
            Reason::Swapped(swap) => Some(swap.map(|reading| reading.path())),
            _ => None,
        });
        Check {
            issued: issued.hydrate.clone(),
            residue: issued.residual.formula.clone(),
            advice: found.advice,
            findings: found.reasons,
            swap,
            notes: Vec::new(),
            expectation,
        }
    }

    /// Returns what heating the issued hydrate in a school until its residue is left means, with the cautions.
    #[must_use]
    pub fn safety(&self) -> HeatingSafety {
        HeatingSafety::leaving(&self.issued, &self.residue)
    }

    /// Adds the notes from reading the text of the issued formula.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The advice.
    #[must_use]
    pub fn advice(&self) -> Advice {
        self.advice
    }

    /// Returns whether the issued hydrate must not be heated in a school, whatever the advice is by the
    /// readings.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, []);
    /// let check = Method::new().check(&"Na2Cr2O7·2H2O".parse()?, &bench)?;
    /// assert!(check.must_not_heat());
    /// assert_eq!(check.reasons()[0].code(), "do_not_heat");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn must_not_heat(&self) -> bool {
        self.safety().severity() == Severity::Forbidden
    }

    /// Returns whether the masses show that heating went beyond the lower hydrate that it should leave.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let method = Method::new().residue(&"CuSO4·H2O".parse()?)?;
    /// // All the water is gone.
    /// let bench = Weighings::new("20.000".parse()?, "22.497".parse()?, ["21.597".parse()?, "21.596".parse()?]);
    /// assert!(method.check(&"CuSO4·5H2O".parse()?, &bench)?.is_beyond_residue());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn is_beyond_residue(&self) -> bool {
        let mut findings = self.findings.iter();
        findings.any(|reason| matches!(reason, Reason::BeyondTarget(..) | Reason::BelowTarget(..)))
    }

    /// Returns the reasons for the advice, and the notes from reading the text of the issued formula.
    ///
    /// If the hydrate [must not be heated](Check::must_not_heat), the first reason says so. Then reasons follow
    /// only for checking the readings, because all others speak of heating.
    #[must_use]
    pub fn reasons(&self) -> Vec<Note> {
        let ban = self.must_not_heat().then(|| do_not_heat(&self.issued));
        let is_left_out = ban.is_some() && self.advice != Advice::CheckReadings;
        let reasons = self.findings.iter().filter(|_| !is_left_out);
        let reasons = ban.into_iter().chain(reasons.map(Reason::note));
        reasons.chain(self.notes.iter().cloned()).collect()
    }

    /// The reasons for the advice, as values.
    #[cfg(feature = "report")]
    pub(crate) fn findings(&self) -> &[Reason] {
        &self.findings
    }

    /// The two readings that make sense exchanged, by their names in JSON (`crucible`, `heated[0]`).
    #[must_use]
    pub fn swap(&self) -> Option<[&str; 2]> {
        let [one, other] = self.swap.as_ref()?;
        Some([one, other])
    }

    /// The expected mass of the container with the residue, in grams; `None` if the masses are
    /// impossible.
    #[must_use]
    pub fn expected_last(&self) -> Option<&Ratio> {
        self.expectation.as_ref().map(|known| &known.expected_last)
    }

    /// A mass as the bench's balance would show it.
    #[cfg(feature = "report")]
    pub(crate) fn on_balance(&self, mass: &Ratio) -> Option<Rounded> {
        Some(on_balance(mass, &self.expectation.as_ref()?.division))
    }

    /// The waters that the stock really holds, if the expected masses follow it.
    #[cfg(feature = "report")]
    pub(crate) fn stock_waters(&self) -> Option<&Ratio> {
        self.expectation.as_ref()?.stock.as_ref()
    }

    /// Changes the advice if the next weighing cannot be read, from the column and the text of its cell. A
    /// word such as `spilt` is for the teacher. A number, or only signs, are to be checked.
    #[cfg(feature = "class")]
    pub(crate) fn up_to_unreadable(mut self, column: &str, cell: &str) -> Check {
        let is_word =
            cell.contains(char::is_alphabetic) && !cell.contains(|c: char| c.is_ascii_digit());
        let advice = match is_word {
            true => Advice::Ask,
            false => Advice::CheckReadings,
        };
        if matches!(self.advice, Advice::Heat | Advice::HeatAgain) {
            self.findings.clear();
        }
        if let Some(known) = &mut self.expectation {
            known.still_to_lose = None;
        }
        self.advice = self.advice.min(advice);
        let unreadable = Reason::Unreadable(column.into(), cell.into());
        self.findings.insert(0, unreadable);
        if is_word {
            let question = "Ask your teacher: can this sample still be used?";
            self.findings.push(Reason::Question(question));
        }
        self
    }

    /// The last weighing minus the expected mass, in grams; negative if the last weighing is too light,
    /// `None` before the first heating.
    #[must_use]
    pub fn still_to_lose(&self) -> Option<&Ratio> {
        self.expectation.as_ref()?.still_to_lose.as_ref()
    }

    /// The lower hydrates that may appear on heating, from the highest down.
    #[must_use]
    pub fn plateaus(&self) -> &[Plateau] {
        self.expectation
            .as_ref()
            .map_or(&[], |known| &known.plateaus)
    }

    /// The comparison with the criterion for constant mass.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.expectation.as_ref().map(|known| &known.constancy)
    }
}
