//! What heating a hydrate in a school means: the severity, the suitability, and the cautions.

use alloc::vec::Vec;

use super::super::salts::Severity;
use super::cautions::{general, of_unknown, too_hot, waste, who_decides};
use super::finding::Findings;
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
        let Findings {
            found,
            row_suits,
            has_row,
        } = Findings::of(hydrate);
        let severity = found.iter().map(|finding| finding.severity).max();
        let severity = match severity {
            // A row that says something of heating, and nothing of a hazard.
            None if has_row => Severity::Ordinary,
            None => Severity::Unknown,
            Some(severity) => severity,
        };
        let is_forbidden = severity == Severity::Forbidden;
        let is_unfit = found.iter().any(|finding| finding.is_unfit);
        let unfit = found.iter().filter(|finding| finding.is_unfit);
        let reasons = unfit.map(|finding| finding.note.clone()).collect();
        let suitable = if is_forbidden {
            Some(false)
        } else {
            row_suits.or(is_unfit.then_some(false))
        };
        HeatingSafety {
            severity,
            suitable,
            reasons,
            cautions: cautions_for([hydrate]),
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
/// let notes = cautions(&"CoCl2·6H2O".parse()?);
/// assert_eq!(notes[0].code(), "toxic_salt");
/// assert!(notes.iter().any(|note| note.code() == "too_hot"));
/// assert_eq!(notes.last().unwrap().code(), "who_decides");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn cautions(issued: &Formula) -> Vec<Note> {
    cautions_for([issued])
}

/// The cautions for heating several hydrates: those of each salt first, the most severe above all, then
/// the general ones once.
pub(crate) fn cautions_for<'a>(issued: impl IntoIterator<Item = &'a Formula>) -> Vec<Note> {
    let mut found = Vec::new();
    let mut heat = Vec::new();
    let mut waste_routes = Vec::new();
    let mut is_forbidden = true;
    for issued in issued {
        let salt = issued.anhydrous().unwrap_or_else(|| issued.clone());
        let findings = Findings::of(issued);
        if findings.found.is_empty() && !findings.has_row {
            found.push((Severity::Unknown, of_unknown(&salt)));
        }
        let notes = findings
            .found
            .into_iter()
            .map(|own| (own.severity, own.note));
        let before = found.len();
        found.extend(notes);
        let own = found.iter().skip(before);
        is_forbidden &= own.map(|(severity, _)| *severity).max() == Some(Severity::Forbidden);
        heat.extend(too_hot(&salt));
        waste_routes.extend(waste(&salt));
    }
    found.sort_by_key(|(severity, _)| core::cmp::Reverse(*severity));
    let mut notes: Vec<Note> = Vec::new();
    for (_, note) in found {
        if !notes.contains(&note) {
            notes.push(note);
        }
    }
    // Nothing says how to heat what must not be heated.
    if !is_forbidden {
        notes.extend(general());
        notes.extend(heat);
    }
    notes.extend(waste_routes);
    notes.push(who_decides());
    notes
}
