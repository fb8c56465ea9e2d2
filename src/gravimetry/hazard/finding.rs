//! What rules and rows say of one hydrate.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::cmp::Reverse;

use super::super::salts::{SaltFacts, Severity, Sourced, Suitability};
use super::rule::{Effect, Hydrate, MEMORY, PRACTICE, Rule};
use super::toxic::{TOXIC, ToxicElements};
use super::{gases, melting, oxidizing};
use crate::formula::Formula;
use crate::text::{Note, list, sentence};

/// One thing that a rule or a row says.
pub(super) struct Finding {
    pub(super) severity: Severity,
    /// Whether loss on heating does not give the degree of hydration because of it.
    pub(super) is_unfit: bool,
    pub(super) note: Note,
}

impl Finding {
    /// The text says so if there is no source.
    fn new(severity: Severity, code: &'static str, text: String, source: &str) -> Finding {
        let text = match source {
            MEMORY => text + " (This is from memory.)",
            PRACTICE => text + " (This is common practice, without a source.)",
            _ if source.contains(MEMORY) => text + " (This is partly from memory.)",
            _ => text,
        };
        Finding {
            severity,
            is_unfit: severity == Severity::Forbidden,
            note: Note::new(code, text).with("source", source),
        }
    }

    fn with(mut self, name: &'static str, value: impl Into<String>) -> Finding {
        self.note = self.note.with(name, value);
        self
    }

    /// Adds the rule that speaks, and its severity.
    fn by(self, rule: &'static str) -> Finding {
        let severity = self.severity.code();
        self.with("rule", rule).with("hazard", severity)
    }
}

/// What is known of one hydrate, the most severe first.
pub(super) struct Findings {
    /// The anhydrous salt.
    pub(super) salt: Formula,
    pub(super) found: Vec<Finding>,
    /// What a row says of the method, or `None` if no row does.
    pub(super) row_suits: Option<bool>,
    /// Whether a row says something of heating the salt or of its hazards.
    has_row: bool,
    /// Whether a burner decomposes the salt into gases that harm.
    is_decomposed: bool,
}

impl Findings {
    pub(super) fn of(formula: &Formula) -> Findings {
        let salt = formula.anhydrous().unwrap_or_else(|| formula.clone());
        let hydrate = Hydrate::new(formula, &salt);
        let facts = hydrate.facts();
        let row_suits = facts.and_then(SaltFacts::suitability).map(|suitability| {
            matches!(
                suitability.value(),
                Suitability::Suitable | Suitability::Poor
            )
        });
        let mut found: Vec<Finding> = TOXIC
            .iter()
            .filter_map(|row| toxic(row, &hydrate))
            .collect();
        found.extend(
            facts.and_then(|facts| statements(&salt, facts).or_else(|| hazard_words(&salt, facts))),
        );
        let rules = [oxidizing::RULES, gases::RULES, melting::RULES];
        let rules = rules.into_iter().flatten();
        let melts = facts.and_then(|facts| melts(&hydrate, facts));
        let is_other = |rule: &&Rule| melts.is_none() || rule.name != "melting";
        let rules = rules.filter(is_other);
        let rules = rules.filter(|rule| (rule.applies)(&hydrate));
        found.extend(rules.map(|rule| by_rule(rule, &hydrate, row_suits)));
        found.extend(melts);
        found.extend(facts.and_then(|facts| asked_care(&salt, facts, &found)));
        found.sort_by_key(|finding| Reverse(finding.severity));
        if let Some(unsuited) = facts.and_then(|facts| unsuited(&hydrate, facts, &found)) {
            let forbidden = found
                .iter()
                .take_while(|own| own.severity > unsuited.severity);
            let at = forbidden.count();
            found.insert(at, unsuited);
        }
        Findings {
            found,
            row_suits,
            has_row: facts.is_some_and(says_something),
            is_decomposed: facts.is_some_and(|facts| {
                let mut all = facts.decompositions().iter();
                all.any(|own| own.within_reach() && !["", "CO2", "O2"].contains(&own.gases()))
            }),
            salt,
        }
    }

    /// The severity of all that was found.
    pub(super) fn severity(&self) -> Severity {
        let found = self.found.iter().map(|finding| finding.severity);
        let least = match (self.has_row, self.is_decomposed) {
            (true, true) => Severity::Care,
            (true, false) => Severity::Ordinary,
            (false, _) if self.found.is_empty() => Severity::Unknown,
            (false, _) => Severity::Ordinary,
        };
        found.fold(least, Severity::max)
    }
}

/// Whether a row says something of heating, or of hazards.
fn says_something(facts: &SaltFacts) -> bool {
    facts.suitability().is_some()
        || facts.severity().is_some()
        || facts.heat_remark().is_some()
        || !facts.decompositions().is_empty()
        || !facts.hazard_statements().is_empty()
        || facts.hazard_words().is_some()
        || facts.not_classified_source().is_some()
}

/// The finding of a row that the salt is not suitable, or only poorly. It comes before all others, unless
/// the salt is forbidden.
fn unsuited(hydrate: &Hydrate<'_>, facts: &SaltFacts, found: &[Finding]) -> Option<Finding> {
    let suitability = facts.suitability()?;
    let reason = facts.suitability_reason()?;
    let salt = hydrate.salt;
    let (code, text) = match suitability.value() {
        Suitability::Suitable => return None,
        Suitability::Poor => {
            // With less water than the hydrate that melts, nothing speaks against a salt.
            let mut melting = facts.melting_hydrates().iter().peekable();
            let has_melting = melting.peek().is_some();
            if has_melting && !melting.any(|(degree, _)| hydrate.has_waters(degree)) {
                return None;
            }
            (
                "poor_salt",
                format!("{salt} needs care with this method: {reason}."),
            )
        }
        _ => (
            "unfit_salt",
            format!("{salt} is not well suited to this method: {reason}."),
        ),
    };
    let most = found.iter().map(|finding| finding.severity).max();
    let severity = most.unwrap_or(Severity::Ordinary);
    let severity = severity.min(Severity::FumeCupboard);
    let mut finding = Finding::new(severity, code, text, suitability.source());
    finding.is_unfit = code == "unfit_salt";
    Some(finding)
}

fn toxic(row: &ToxicElements, hydrate: &Hydrate<'_>) -> Option<Finding> {
    let element = row.found_in(hydrate)?.name();
    let salts = format!("Salts of {element} are toxic. {}", row.reason);
    let (code, text) = match row.severity {
        Severity::Forbidden => ("forbidden_salt", forbidden(hydrate.salt) + " " + &salts),
        severity => {
            let care = "Avoid skin contact and dust, and collect the waste separately.";
            let cupboard = cupboard(severity);
            ("toxic_salt", format!("{salts} {care}{cupboard}"))
        }
    };
    Some(Finding::new(row.severity, code, text, row.source).by(row.name))
}

fn forbidden(salt: &Formula) -> String {
    format!("{salt} must not be heated in a school at all.")
}

/// The sentence that asks for a fume cupboard, if it is needed.
fn cupboard(severity: Severity) -> &'static str {
    match severity {
        Severity::FumeCupboard => " Heat it only in a fume cupboard.",
        _ => "",
    }
}

fn by_rule(rule: &Rule, hydrate: &Hydrate<'_>, row_suits: Option<bool>) -> Finding {
    let salt = hydrate.salt;
    // The row of a salt wins over the rule for its ions.
    let is_unfit = rule.effect == Effect::Unfit && row_suits.is_none();
    let reason = rule.reason;
    let (code, mut text) = match rule.severity {
        Severity::Forbidden => ("forbidden_salt", forbidden(salt) + " " + reason),
        _ if is_unfit => {
            let unfit = format!("{salt} is not well suited to this method. {reason}");
            ("unfit_salt", unfit)
        }
        _ => ("hazard", format!("{salt}: {reason}")),
    };
    if !rule.gases.is_empty() {
        text += &format!(
            " Besides water, {} may leave.",
            list(rule.gases.split(" + ").map(String::from))
        );
    }
    text += cupboard(rule.severity);
    if hydrate.ions.is_inferred() {
        text +=
            " The formula counts atoms and does not show its ions, so this is what they may form.";
    }
    let mut finding = Finding::new(rule.severity, code, text, rule.source).by(rule.name);
    finding.is_unfit |= is_unfit;
    match rule.gases {
        "" => finding,
        gases => finding.with("gases", gases),
    }
}

/// The least severity of a salt with a hazard statement.
fn of_statement(code: &str) -> Severity {
    const GRAVE: [&str; 6] = ["H300", "H310", "H330", "H340", "H350", "H271"];
    // H350i is a kind of H350. H4 is about water, H302 and its like are milder.
    let is_mild = matches!(
        code,
        "H302" | "H303" | "H312" | "H315" | "H316" | "H319" | "H320" | "H332" | "H335"
    );
    match code {
        _ if GRAVE.iter().any(|grave| code.starts_with(grave)) => Severity::FumeCupboard,
        _ if is_mild || code.starts_with("H4") => Severity::Ordinary,
        _ => Severity::Care,
    }
}

/// The finding of a row that the hydrate melts in its own water, or does so on the way to the salt.
fn melts(hydrate: &Hydrate<'_>, facts: &SaltFacts) -> Option<Finding> {
    let mut hydrates = facts.melting_hydrates().iter();
    let (_, row) = hydrates.find(|(degree, _)| hydrate.has_waters(degree))?;
    let celsius = row.value().map(|celsius| format!(" at about {celsius} °C"));
    let text = format!(
        "The hydrate of {} melts in its own water{} and spits. Heat it very gently, under a lid that is ajar.",
        hydrate.salt,
        celsius.unwrap_or_default()
    );
    Some(Finding::new(Severity::Care, "hazard", text, row.source()).by("melting"))
}

/// The care that a row asks for, if nothing else that was found asks for as much.
fn asked_care(salt: &Formula, facts: &SaltFacts, found: &[Finding]) -> Option<Finding> {
    let row = facts.severity()?;
    let severity = *row.value();
    if found.iter().any(|finding| finding.severity >= severity) {
        return None;
    }
    let (code, text) = match severity {
        Severity::Forbidden => ("forbidden_salt", forbidden(salt)),
        Severity::FumeCupboard => ("hazard", format!("Heat {salt} only in a fume cupboard.")),
        Severity::Care => ("hazard", format!("Take particular care with {salt}.")),
        Severity::Ordinary | Severity::Unknown => return None,
    };
    Some(Finding::new(severity, code, text, row.source()).with("hazard", severity.code()))
}

/// The hazards of a salt in the words of a source.
fn hazard_words(salt: &Formula, facts: &SaltFacts) -> Option<Finding> {
    let words = facts.hazard_words()?;
    let text = format!("{salt}: {}.", words.value());
    Some(Finding::new(Severity::Care, "hazard", text, words.source()))
}

/// The note that suppliers differ.
pub(super) const WHO_CLASSIFIES: &str =
    "Suppliers classify differently. The label on the bottle and its safety data sheet decide.";

/// The hazard statements of a salt in one note.
fn statements(salt: &Formula, facts: &SaltFacts) -> Option<Finding> {
    let statements = facts.hazard_statements();
    let own = || statements.iter().map(Sourced::value);
    let severity = own().map(|own| of_statement(own.code())).max()?;
    let words = own().map(|own| sentence(&format!("{} ({})", own.words(), own.code())));
    let words: Vec<String> = words.collect();
    let text = format!("{salt}: {} {WHO_CLASSIFIES}", words.join(" "));
    let mut sources: Vec<&str> = statements.iter().map(Sourced::source).collect();
    sources.dedup();
    let codes: Vec<&str> = own().map(|own| own.code()).collect();
    let finding = Finding::new(severity, "hazard", text, &sources.join("; "));
    Some(finding.with("codes", codes.join(" ")))
}
