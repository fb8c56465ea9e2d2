//! What heating a hydrate in a school means: the severity, the suitability, and the cautions.

use alloc::vec::Vec;
use core::cmp::Reverse;

use super::super::salts::Severity;
use super::cautions::{
    general, keeps_water_up_to, not_classified, of_unknown, safe_up_to, too_hot, waste, water_back,
    who_decides,
};
use super::finding::{Finding, Findings, explosive_mixture};
use crate::formula::Formula;
use crate::text::Note;

/// The hazards of heating a hydrate in a school: their severity, whether loss on heating gives the degree of
/// hydration, and the cautions.
///
/// The ions that the formula holds decide by rules, each with its reason and its source. If the catalogue
/// knows the salt, its own rows win: they say whether the salt is suitable, and they may be more severe
/// than the rules, never less. A salt that no rule and no row knows is [`Severity::Unknown`].
///
/// It does not replace the safety data sheet, the local rules and the person in charge of the laboratory.
///
/// ```
/// use effloresce::gravimetry::{HeatingSafety, Severity};
/// let dichromate = HeatingSafety::of(&"(NH4)2Cr2O7".parse()?);
/// assert_eq!(dichromate.severity(), Severity::Forbidden);
/// assert_eq!(dichromate.suitable(), Some(false));
/// assert!(dichromate.cautions()[0].text().contains("must not be heated in a school at all"));
///
/// let copper = HeatingSafety::of(&"CuSO4·5H2O".parse()?);
/// assert_eq!(copper.severity(), Severity::Care);
///
/// let nobody_knows = HeatingSafety::of(&"RbCl·2H2O".parse()?);
/// assert_eq!((nobody_knows.severity(), nobody_knows.suitable()), (Severity::Unknown, None));
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeatingSafety {
    severity: Severity,
    suitable: Option<bool>,
    reasons: Vec<Note>,
    cautions: Vec<Note>,
}

impl HeatingSafety {
    /// Returns what is known of heating a hydrate, or an anhydrous salt.
    #[must_use]
    pub fn of(hydrate: &Formula) -> HeatingSafety {
        let findings = Findings::of(hydrate);
        let severity = findings.severity();
        let is_unfit = |finding: &&Finding| finding.is_unfit;
        let unfit = findings.found.iter().filter(is_unfit);
        let reasons: Vec<Note> = unfit.map(|finding| finding.note.clone()).collect();
        let suitable = match severity {
            Severity::Forbidden => Some(false),
            _ => findings
                .row_suits
                .or_else(|| (!reasons.is_empty()).then_some(false)),
        };
        HeatingSafety {
            severity,
            suitable,
            reasons,
            cautions: all_cautions([findings]),
        }
    }

    /// The same for heating that must leave this lower hydrate: it may not become as hot as the anhydrous salt.
    pub(crate) fn leaving(mut self, residue: &Formula) -> HeatingSafety {
        if residue.waters().is_some() {
            let keep = |note: Note| match note.code() {
                "safe_up_to" => keeps_water_up_to(residue),
                _ => Some(note),
            };
            self.cautions = self.cautions.into_iter().filter_map(keep).collect();
        }
        self
    }

    /// What is known of heating solids together in one crucible, inert ones included. If one of them is
    /// forbidden, all are. So is an oxidiser with something that burns.
    pub(crate) fn of_mixture(solids: &[&Formula]) -> HeatingSafety {
        let explosive = explosive_mixture(solids);
        let all = |is_forbidden| -> Vec<Findings> {
            let solids = solids.iter();
            let findings = solids.map(|solid| Findings::heated_with(solid, is_forbidden));
            findings.collect()
        };
        let mut findings = all(explosive.is_some());
        let is_forbidden = findings.iter().any(|own| own.is_forbidden);
        if is_forbidden && explosive.is_none() {
            findings = all(true);
        }
        if let Some(first) = findings.first_mut() {
            // The note on all of them is the first of the most severe.
            first.found.splice(0..0, explosive);
        }
        let severities = findings.iter().map(Findings::severity);
        let unfit = findings.iter().flat_map(|own| &own.found);
        let unfit = unfit.filter(|finding| finding.is_unfit);
        HeatingSafety {
            severity: severities.max().unwrap_or(Severity::Unknown),
            suitable: is_forbidden.then_some(false),
            reasons: unfit.map(|finding| finding.note.clone()).collect(),
            cautions: all_cautions(findings),
        }
    }

    /// Returns how severe the hazards of heating are.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.severity
    }

    /// Returns whether loss on heating gives the degree of hydration, or `None` if nothing is known of it.
    #[must_use]
    pub fn suitable(&self) -> Option<bool> {
        self.suitable
    }

    /// Returns why loss on heating does not give the degree of hydration.
    #[must_use]
    pub fn reasons(&self) -> &[Note] {
        &self.reasons
    }

    /// Returns the cautions, the most severe first.
    #[must_use]
    pub fn cautions(&self) -> &[Note] {
        &self.cautions
    }
}

/// Returns the cautions for heating a hydrate, the most severe first: what its ions and the rows of its
/// salt say, then general cautions, then what too much heat does to the salt.
///
/// They are reminders. The safety data sheet, the local rules and the person in charge of the laboratory
/// decide.
///
/// ```
/// use effloresce::gravimetry::cautions;
/// let notes = cautions(&"NiSO4·6H2O".parse()?);
/// assert_eq!(notes[0].code(), "toxic_salt");
/// assert!(notes.iter().any(|note| note.code() == "too_hot"));
/// assert_eq!(notes.last().unwrap().code(), "who_decides");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn cautions(issued: &Formula) -> Vec<Note> {
    all_cautions([Findings::of(issued)])
}

/// The cautions for heating a hydrate that may be any of several ones: those for the most severe, of which
/// there are at most this many.
pub(in crate::gravimetry) fn cautions_for_most_severe<'a>(
    issued: impl IntoIterator<Item = &'a Formula>,
    most: usize,
) -> Vec<Note> {
    let mut all: Vec<Findings> = issued.into_iter().map(Findings::of).collect();
    all.sort_by_cached_key(|own| Reverse(own.severity()));
    all.truncate(most);
    all_cautions(all)
}

/// The cautions for heating several hydrates: those of each salt first, the most severe above all, then
/// the general ones once.
#[cfg(feature = "report")]
pub(crate) fn cautions_for<'a>(issued: impl IntoIterator<Item = &'a Formula>) -> Vec<Note> {
    all_cautions(issued.into_iter().map(Findings::of))
}

/// The cautions that nobody should have to look for: the hazards of each hydrate, and why it does not suit
/// the method.
#[cfg(feature = "report")]
pub(crate) fn own_cautions_for<'a>(issued: impl IntoIterator<Item = &'a Formula>) -> Vec<Note> {
    of_salts(issued.into_iter().map(Findings::of))
}

/// The cautions without those of [`own_cautions_for`]: how to heat, what too much heat does, the waste.
#[cfg(feature = "report")]
pub(crate) fn general_cautions_for<'a>(issued: impl IntoIterator<Item = &'a Formula>) -> Vec<Note> {
    let all: Vec<Findings> = issued.into_iter().map(Findings::of).collect();
    general_cautions(&all)
}

/// The notes on some salts, each once, the most severe first.
fn of_salts(all: impl IntoIterator<Item = Findings>) -> Vec<Note> {
    let mut notes: Vec<(Severity, Note)> = Vec::new();
    for findings in all {
        if findings.severity() == Severity::Unknown {
            notes.push((Severity::Unknown, of_unknown(&findings.salt)));
        }
        for finding in findings.found {
            if !notes.iter().any(|(_, note)| *note == finding.note) {
                notes.push((finding.severity, finding.note));
            }
        }
    }
    notes.sort_by_key(|(severity, _)| Reverse(*severity));
    notes.into_iter().map(|(_, note)| note).collect()
}

fn all_cautions(all: impl IntoIterator<Item = Findings>) -> Vec<Note> {
    let all: Vec<Findings> = all.into_iter().collect();
    let rest = general_cautions(&all);
    let mut notes = of_salts(all);
    notes.extend(rest);
    notes
}

fn general_cautions(all: &[Findings]) -> Vec<Note> {
    // Nothing says how to heat what must not be heated.
    let heated = || all.iter().filter(|own| !own.is_forbidden);
    let mut notes = Vec::new();
    if heated().next().is_some() {
        // Nothing says how to add water to what reacts violently with it.
        let only_violent = heated().all(|own| own.reacts_with_water);
        notes.extend(general());
        notes.extend((!only_violent).then(water_back));
        let of_heat = |own: &Findings| [safe_up_to(&own.salt), too_hot(&own.salt)];
        notes.extend(heated().flat_map(of_heat).flatten());
        notes.extend(heated().filter_map(|own| not_classified(&own.salt)));
    }
    notes.extend(all.iter().filter_map(|own| waste(&own.salt)));
    notes.push(who_decides());
    notes
}
