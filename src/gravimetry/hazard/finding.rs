//! What rules and rows say of one hydrate.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::cmp::Reverse;

use super::super::salts::{HazardStatement, SaltFacts, Severity, Sourced, Suitability};
use super::rule::{Effect, Hydrate, Rule, with_origin};
use super::toxic::{TOXIC, ToxicElements};
use super::{gases, harmful, melting, metals, oxidizing, pairs};
use crate::element::Element;
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
        Finding {
            severity,
            is_unfit: severity == Severity::Forbidden,
            note: Note::new(code, with_origin(text, source))
                .with("hazard", severity.code())
                .with("source", source),
        }
    }

    fn with(mut self, name: &'static str, value: impl Into<String>) -> Finding {
        self.note = self.note.with(name, value);
        self
    }

    /// Adds the rule that speaks.
    fn by(self, rule: &'static str) -> Finding {
        self.with("rule", rule)
    }
}

/// A hydrate, and the residue that heating it must leave, if that is known.
pub(crate) type Heated<'a> = (&'a Formula, Option<&'a Formula>);

/// What is known of one hydrate, the most severe first.
pub(super) struct Findings {
    /// Whether nothing may say how to heat it: it is forbidden, or it is with something so that both are.
    pub(super) is_forbidden: bool,
    /// The anhydrous salt.
    pub(super) salt: Formula,
    /// The lower hydrate that heating must leave, or `None` for the salt.
    pub(super) lower: Option<Formula>,
    pub(super) found: Vec<Finding>,
    /// What a row says of the method, or `None` if no row does.
    pub(super) row_suits: Option<bool>,
    /// Whether the dry salt reacts violently with water.
    pub(super) reacts_with_water: bool,
    /// Whether a row says something of heating the salt or of its hazards.
    has_row: bool,
    /// Whether a burner decomposes the salt into gases that harm.
    is_decomposed: bool,
}

/// What a row says of the method.
fn row_suits(facts: &SaltFacts) -> Option<bool> {
    let suitability = facts.suitability()?.value();
    let suits = [Suitability::Suitable, Suitability::Poor];
    Some(suits.contains(suitability))
}

/// The gases that may leave a hydrate with its water, joined by ` + `, if the row of the salt does not say
/// that the method suits it.
pub(in crate::gravimetry) fn leaving_with_water(formula: &Formula) -> Option<&'static str> {
    let hydrate = Hydrate::new(formula);
    if hydrate.facts().and_then(row_suits) == Some(true) {
        return None;
    }
    let mut rules = all_rules().filter(|rule| rule.effect == Effect::Unfit);
    let rule = rules.find(|rule| !rule.gases.is_empty() && (rule.applies)(&hydrate))?;
    Some(rule.gases)
}

/// Whether the dry salt of a hydrate reacts violently with water.
pub(in crate::gravimetry) fn reacts_with_water(formula: &Formula) -> bool {
    gases::reacts_with_water(&Hydrate::new(formula))
}

/// The rules by ions, in the order of the files.
pub(super) fn all_rules() -> impl Iterator<Item = &'static Rule> {
    let rules = [
        oxidizing::RULES,
        gases::RULES,
        metals::RULES,
        harmful::RULES,
        melting::RULES,
    ];
    rules.into_iter().flatten()
}

impl Findings {
    pub(super) fn of(formula: &Formula) -> Findings {
        Findings::heated_with((formula, None), false)
    }

    /// The findings of a solid that is heated with another one. If heating both is forbidden, nothing says
    /// how to heat this one.
    pub(super) fn heated_with((formula, residue): Heated<'_>, is_forbidden: bool) -> Findings {
        let hydrate = Hydrate::new(formula);
        let salt = &hydrate.salt;
        let facts = hydrate.facts();
        let row_suits = facts.and_then(row_suits);
        let toxic_elements = TOXIC
            .iter()
            .filter_map(|row| Some((row, row.found_in(&hydrate)?)));
        let toxic_elements: Vec<_> = toxic_elements.collect();
        let melting_row = facts.and_then(|facts| melting_row(&hydrate, facts));
        let rules: Vec<&Rule> = all_rules()
            .filter(|rule| melting_row.is_none() || rule.effect != Effect::Melts)
            .filter(|rule| (rule.applies)(&hydrate))
            .collect();
        let severities = toxic_elements.iter().map(|(row, _)| row.severity);
        let severities = severities.chain(rules.iter().map(|rule| rule.severity));
        let mut severities =
            severities.chain(facts.and_then(SaltFacts::severity).map(|row| *row.value()));
        let is_forbidden = is_forbidden || severities.any(|own| own == Severity::Forbidden);
        let how = Heating { is_forbidden };
        let toxic_elements = toxic_elements.into_iter();
        let mut found: Vec<Finding> = toxic_elements
            .map(|(row, element)| toxic(row, element, salt, how))
            .collect();
        found.extend(facts.and_then(|facts| statements(salt, facts)));
        found.extend(facts.and_then(|facts| hazard_words(salt, facts)));
        let rules = rules.into_iter();
        found.extend(rules.map(|rule| by_rule(rule, &hydrate, row_suits, how)));
        let melts = melting_row.map(|row| melts(salt, row, how));
        found.extend(melts);
        found.extend(facts.and_then(|facts| asked_care(salt, facts, &found, how)));
        let unsuited = facts.and_then(|facts| unsuited(&hydrate, facts, &found, how));
        found.splice(0..0, unsuited);
        found.sort_by_key(|finding| Reverse(finding.severity));
        Findings {
            is_forbidden,
            found,
            lower: residue.filter(|own| own.waters().is_some()).cloned(),
            row_suits,
            reacts_with_water: gases::reacts_with_water(&hydrate),
            has_row: facts.is_some_and(says_something),
            is_decomposed: facts.is_some_and(|facts| {
                let mut all = facts.decompositions().iter();
                all.any(|own| own.within_reach() && !["", "CO2", "O2"].contains(&own.gases()))
            }),
            salt: hydrate.salt,
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

/// The finding of a row that the salt is not suitable, or only poorly. It is about the method and less severe
/// than what asks for a fume cupboard.
fn unsuited(
    hydrate: &Hydrate,
    facts: &SaltFacts,
    found: &[Finding],
    how: Heating,
) -> Option<Finding> {
    let suitability = facts.suitability()?;
    let reason = facts.suitability_reason()?;
    let salt = &hydrate.salt;
    let (is_unfit, text) = match suitability.value() {
        Suitability::Suitable => return None,
        Suitability::Poor if how.is_forbidden => return None,
        Suitability::Poor => {
            // With less water than the hydrate that melts, nothing speaks against a salt.
            let mut melting = facts.melting_hydrates().iter().peekable();
            let has_melting = melting.peek().is_some();
            if has_melting && !melting.any(|(degree, _)| hydrate.has_waters(degree)) {
                return None;
            }
            (
                false,
                format!("{salt} needs care with this method: {reason}."),
            )
        }
        _ => (
            true,
            format!("{salt} is not well suited to this method: {reason}."),
        ),
    };
    let most = found.iter().map(|finding| finding.severity).max();
    let severity = most.unwrap_or(Severity::Ordinary);
    let severity = severity.min(Severity::Care);
    let code = if is_unfit { "unfit_salt" } else { "poor_salt" };
    let mut finding = Finding::new(severity, code, text, suitability.source());
    finding.is_unfit = is_unfit;
    Some(finding)
}

fn toxic(row: &ToxicElements, element: Element, salt: &Formula, how: Heating) -> Finding {
    let salts = format!("Salts of {} are toxic. {}", element.name(), row.reason);
    let (code, text) = match row.severity {
        Severity::Forbidden => ("forbidden_salt", forbidden(salt) + " " + &salts),
        severity => {
            let care = "Avoid skin contact and dust, and collect the waste separately.";
            let cupboard = how.cupboard(severity);
            ("toxic_salt", format!("{salts} {care}{cupboard}"))
        }
    };
    Finding::new(row.severity, code, text, row.source).by(row.name)
}

fn forbidden(salt: &Formula) -> String {
    format!("{salt} must not be heated in a school at all.")
}

/// Says how to heat, unless heating is forbidden. Then no sentence may.
#[derive(Clone, Copy)]
struct Heating {
    is_forbidden: bool,
}

impl Heating {
    /// The sentence that asks for a fume cupboard, if it is needed.
    fn cupboard(self, severity: Severity) -> &'static str {
        match severity {
            Severity::FumeCupboard if !self.is_forbidden => " Heat it only in a fume cupboard.",
            _ => "",
        }
    }

    /// The sentence for a hydrate that melts.
    fn gently(self) -> &'static str {
        match self.is_forbidden {
            true => "",
            false => " Heat it very gently, under a lid that is ajar.",
        }
    }
}

fn by_rule(rule: &Rule, hydrate: &Hydrate, row_suits: Option<bool>, how: Heating) -> Finding {
    let salt = &hydrate.salt;
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
    text += match rule.effect {
        Effect::Melts => how.gently(),
        _ => how.cupboard(rule.severity),
    };
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

/// What heating solids together means beyond what each does alone. The most severe comes first.
pub(super) fn together(solids: &[&Formula]) -> Vec<Finding> {
    let hydrates: Vec<Hydrate> = solids.iter().map(|solid| Hydrate::new(solid)).collect();
    let names = list(hydrates.iter().map(|own| own.salt.to_string()));
    let pairs = || {
        let all = hydrates.iter().enumerate();
        all.flat_map(|(at, one)| {
            let others = hydrates
                .iter()
                .enumerate()
                .filter(move |(own, _)| *own != at);
            others.map(move |(_, other)| (one, other))
        })
    };
    let any = |is: fn(&Hydrate) -> bool| hydrates.iter().any(is);
    let mut found = Vec::new();
    for rule in pairs::RULES {
        let is_met = match rule.within_one {
            true => any(rule.one) && any(rule.other),
            false => pairs().any(|(one, other)| (rule.one)(one) && (rule.other)(other)),
        };
        if !is_met {
            continue;
        }
        let (code, text) = match rule.severity {
            Severity::Forbidden => {
                let banned = format!("{names} must not be heated together in a school at all.");
                ("forbidden_salt", banned + " " + rule.reason)
            }
            severity => {
                let cupboard = Heating {
                    is_forbidden: false,
                }
                .cupboard(severity);
                ("hazard", format!("{names}: {}{cupboard}", rule.reason))
            }
        };
        let finding = Finding::new(rule.severity, code, text, rule.source).by(rule.name);
        found.push(match rule.gases {
            "" => finding,
            gases => finding.with("gases", gases),
        });
    }
    found.sort_by_key(|finding| Reverse(finding.severity));
    found
}

/// The least severity of a salt with a hazard statement.
fn of_statement(code: &str) -> Severity {
    const GRAVE: [&str; 6] = ["H300", "H310", "H330", "H340", "H350", "H271"];
    // H350i is a kind of H350.
    match GRAVE.iter().any(|grave| code.starts_with(grave)) {
        true => Severity::FumeCupboard,
        false => Severity::Care,
    }
}

/// The row of a hydrate that melts in its own water, or that does so on the way to the salt.
fn melting_row(
    hydrate: &Hydrate,
    facts: &'static SaltFacts,
) -> Option<&'static Sourced<Option<u16>>> {
    let mut hydrates = facts.melting_hydrates().iter();
    let (_, row) = hydrates.find(|(degree, _)| hydrate.has_waters(degree))?;
    Some(row)
}

fn melts(salt: &Formula, row: &Sourced<Option<u16>>, how: Heating) -> Finding {
    let celsius = row.value().map(|celsius| format!(" at about {celsius} °C"));
    let text = format!(
        "The hydrate of {salt} melts in its own water{} and spits.{}",
        celsius.unwrap_or_default(),
        how.gently()
    );
    Finding::new(Severity::Care, "hazard", text, row.source()).by("melting")
}

/// The care that a row asks for, if nothing else that was found asks for as much.
fn asked_care(
    salt: &Formula,
    facts: &SaltFacts,
    found: &[Finding],
    how: Heating,
) -> Option<Finding> {
    let row = facts.severity()?;
    let severity = *row.value();
    if found.iter().any(|finding| finding.severity >= severity) {
        return None;
    }
    let (code, text) = match severity {
        Severity::Forbidden => {
            let why = match found.is_empty() {
                true => "",
                false => " The notes after this one say why.",
            };
            ("forbidden_salt", forbidden(salt) + why)
        }
        _ if how.is_forbidden => return None,
        Severity::FumeCupboard => ("hazard", format!("Heat {salt} only in a fume cupboard.")),
        Severity::Care => ("hazard", format!("Take particular care with {salt}.")),
        Severity::Ordinary | Severity::Unknown => return None,
    };
    Some(Finding::new(severity, code, text, row.source()))
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

/// Statements that say less than another one: the stronger, and those that it includes.
const INCLUDED: [(&str, &[&str]); 20] = [
    ("H271", &["H272"]),
    ("H300", &["H301", "H302", "H303"]),
    ("H301", &["H302", "H303"]),
    ("H310", &["H311", "H312"]),
    ("H311", &["H312"]),
    ("H314", &["H315", "H318", "H319", "H320"]),
    ("H318", &["H319", "H320"]),
    ("H319", &["H320"]),
    ("H330", &["H331", "H332"]),
    ("H331", &["H332"]),
    ("H340", &["H341"]),
    ("H350", &["H351"]),
    ("H350i", &["H350", "H351"]),
    ("H360", &["H361"]),
    ("H360D", &["H360", "H361", "H361d"]),
    ("H360Df", &["H360", "H361", "H361d", "H361f", "H361fd"]),
    ("H360F", &["H360", "H361", "H361f"]),
    ("H360FD", &["H360", "H361", "H361d", "H361f", "H361fd"]),
    ("H372", &["H373"]),
    ("H410", &["H400", "H411", "H412"]),
];

/// The hazard statements of a salt in one note, each once, without those that another one includes.
fn statements(salt: &Formula, facts: &SaltFacts) -> Option<Finding> {
    let all = facts.hazard_statements();
    let is_included = |code: &str| {
        let mut stronger = INCLUDED.iter().filter(|(_, less)| less.contains(&code));
        stronger.any(|(code, _)| all.iter().any(|own| own.value().code() == *code))
    };
    let mut statements: Vec<&Sourced<HazardStatement>> = all.iter().collect();
    statements.retain(|own| !is_included(own.value().code()));
    let own = || statements.iter().map(|own| own.value());
    let severity = own().map(|own| of_statement(own.code())).max()?;
    let words = own().map(|own| sentence(&format!("{} ({})", own.words(), own.code())));
    let words: Vec<String> = words.collect();
    let recalled = statements.iter().filter(|own| own.is_from_memory());
    let recalled: Vec<&str> = recalled.map(|own| own.value().code()).collect();
    let origin = match recalled.is_empty() {
        true => String::new(),
        false => format!(" From memory: {}.", recalled.join(", ")),
    };
    let text = format!("{salt}: {}{origin} {WHO_CLASSIFIES}", words.join(" "));
    let mut sources: Vec<&str> = statements.iter().map(|own| own.source()).collect();
    sources.dedup();
    let codes: Vec<&str> = own().map(|own| own.code()).collect();
    let note = Note::new("hazard", text)
        .with("hazard", severity.code())
        .with("source", sources.join("; "));
    Some(Finding {
        severity,
        is_unfit: false,
        note: note.with("codes", codes.join(" ")),
    })
}
