//! What heating a hydrate in a school means: the severity, the suitability, and the cautions.

use alloc::vec::Vec;
use core::cmp::Reverse;

use super::super::salts::Severity;
use super::cautions::{
    eye_protection, general, keeps_water_up_to, not_classified, of_unknown, safe_up_to, too_hot,
    waste, water_back, who_decides,
};
use super::finding::{Finding, Findings, Heated, together};
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
        HeatingSafety::by(Findings::of(hydrate))
    }

    fn by(findings: Findings) -> HeatingSafety {
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

    /// Returns what is known of heating a hydrate until this residue is left. A lower hydrate may not become as
    /// hot as the anhydrous salt, and the cautions say so.
    ///
    /// ```
    /// use effloresce::gravimetry::HeatingSafety;
    /// let safety = HeatingSafety::leaving(&"CuSO4·5H2O".parse()?, &"CuSO4·H2O".parse()?);
    /// let limit = safety.cautions().iter().find(|note| note.code() == "safe_up_to").unwrap();
    /// assert!(limit.text().starts_with("Do not heat CuSO4·H2O above about 200 °C."));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn leaving(hydrate: &Formula, residue: &Formula) -> HeatingSafety {
        HeatingSafety::by(of_heated((hydrate, Some(residue))))
    }

    /// What is known of heating solids together in one crucible, inert ones included. If one of them is
    /// forbidden, all are, and so are some pairs. If nothing is known of one, nothing is known of all, unless
    /// something is worse.
    pub(crate) fn of_mixture(solids: &[Heated<'_>]) -> HeatingSafety {
        let formulas: Vec<&Formula> = solids.iter().map(|(formula, _)| *formula).collect();
        let together = together(&formulas);
        let all = |is_forbidden| -> Vec<Findings> {
            let solids = solids.iter();
            let findings = solids.map(|solid| Findings::heated_with(*solid, is_forbidden));
            findings.collect()
        };
        let is_banned = |own: &Finding| own.severity == Severity::Forbidden;
        let is_pair_banned = together.iter().any(is_banned);
        let mut findings = all(is_pair_banned);
        let is_forbidden = findings.iter().any(|own| own.is_forbidden);
        if is_forbidden && !is_pair_banned {
            findings = all(true);
        }
        let alone = findings.iter().map(Findings::severity);
        let severities = alone.chain(together.iter().map(|own| own.severity));
        let severity = severities.max().unwrap_or(Severity::Unknown);
        if let Some(first) = findings.first_mut() {
            // The notes on all of them are the first of equal severity.
            first.found.splice(0..0, together);
        }
        let unfit = findings.iter().flat_map(|own| &own.found);
        let unfit = unfit.filter(|finding| finding.is_unfit);
        HeatingSafety {
            severity,
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

/// The end of a sentence on solids that cannot be worked out: what heating them, together if there are several,
/// is if the hazards are grave.
pub(in crate::gravimetry) fn grave_hazard(solids: &[&Formula]) -> &'static str {
    let (severity, several) = match solids {
        [one] => (HeatingSafety::of(one).severity(), false),
        _ => {
            let solids: Vec<Heated<'_>> = solids.iter().map(|solid| (*solid, None)).collect();
            (HeatingSafety::of_mixture(&solids).severity(), true)
        }
    };
    match (severity, several) {
        (Severity::Forbidden, false) => ", and it must not be heated in a school at all",
        (Severity::Forbidden, true) => ", and they must not be heated together in a school at all",
        (Severity::FumeCupboard, false) => ", and it may only be heated in a fume cupboard",
        (Severity::FumeCupboard, true) => ", and they may only be heated in a fume cupboard",
        _ => "",
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

/// The cautions for adding water to the anhydrous salt of a hydrate: also for one that must not be heated, they
/// have eye protection and how water goes back.
pub(in crate::gravimetry) fn cautions_for_wetting(hydrate: &Formula) -> Vec<Note> {
    let findings = Findings::of(hydrate);
    let water_back = (!findings.reacts_with_water).then(water_back);
    let (is_forbidden, own) = (findings.is_forbidden, findings.found.len());
    let mut notes = all_cautions([findings]);
    if is_forbidden {
        let general = [eye_protection()].into_iter().chain(water_back);
        notes.splice(own..own, general);
    }
    notes
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

fn of_heated(heated: Heated<'_>) -> Findings {
    Findings::heated_with(heated, false)
}

/// The cautions for heating several hydrates: those of each salt first, the most severe above all, then
/// the general ones once.
#[cfg(feature = "report")]
pub(crate) fn cautions_for<'a>(heated: impl IntoIterator<Item = Heated<'a>>) -> Vec<Note> {
    all_cautions(heated.into_iter().map(of_heated))
}

/// The cautions that nobody should have to look for: the hazards of each hydrate, and why it does not suit
/// the method.
#[cfg(feature = "report")]
pub(crate) fn own_cautions_for<'a>(heated: impl IntoIterator<Item = Heated<'a>>) -> Vec<Note> {
    of_salts(heated.into_iter().map(of_heated))
}

/// The cautions without those of [`own_cautions_for`]: how to heat, what too much heat does, the waste.
#[cfg(feature = "report")]
pub(crate) fn general_cautions_for<'a>(heated: impl IntoIterator<Item = Heated<'a>>) -> Vec<Note> {
    let all: Vec<Findings> = heated.into_iter().map(of_heated).collect();
    general_cautions(&all)
}

/// The cautions for heating any salt and for adding water to it, and who decides.
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) fn cautions_for_any() -> Vec<Note> {
    general().chain([water_back(), who_decides()]).collect()
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

/// How hot a hydrate may become, and the effect of too much heat.
fn of_heat(findings: &Findings) -> impl Iterator<Item = Note> {
    let limit = match &findings.lower {
        Some(lower) => Some(keeps_water_up_to(lower)),
        None => safe_up_to(&findings.salt),
    };
    // What the anhydrous salt stands says nothing of a lower hydrate.
    let too_hot =
        too_hot(&findings.salt).filter(|note| findings.lower.is_none() || note.code() != "heat");
    limit.into_iter().chain(too_hot)
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
        notes.extend(heated().flat_map(of_heat));
        notes.extend(heated().filter_map(|own| not_classified(&own.salt)));
    }
    notes.extend(
        all.iter()
            .filter_map(|own| waste(&own.salt, own.reacts_with_water)),
    );
    notes.push(who_decides());
    notes
}
