//! A rule: what ions a formula holds, and what heating it then means.

use alloc::boxed::Box;
use alloc::collections::BTreeSet;
use alloc::string::String;

use once_cell::race::OnceBox;

use super::super::salts::{SaltFacts, Severity, salt_facts};
use crate::element::Element;
use crate::formula::{Formula, IonContent};
use crate::number::Ratio;

/// The words for a rule that was recalled, not read.
pub(super) const MEMORY: &str = "from memory";
/// The words for what is usual in schools.
pub(super) const PRACTICE: &str = "common practice, no source";

/// Halogens whose ions are like one another. Fluorides have a rule of their own.
pub(super) const HALIDES: [&str; 3] = ["Cl", "Br", "I"];

/// A text that says so if it has no source.
pub(super) fn with_origin(text: String, source: &str) -> String {
    match source {
        MEMORY => text + " (This is from memory.)",
        PRACTICE => text + " (This is common practice, without a source.)",
        _ if source.contains(MEMORY) => text + " (This is partly from memory.)",
        _ => text,
    }
}

/// What a rule looks at.
pub(super) struct Hydrate {
    pub(super) ions: IonContent,
    /// The anhydrous salt, or the formula itself if it is only water.
    pub(super) salt: Formula,
    /// The composition of the salt in Hill order, which is the same for every spelling.
    hill: Option<String>,
    /// Whether there is water after a dot, be its number known or not.
    is_hydrate: bool,
    waters: Option<Ratio>,
}

impl Hydrate {
    pub(super) fn new(formula: &Formula) -> Hydrate {
        let salt = formula.anhydrous().unwrap_or_else(|| formula.clone());
        // The waters of 3CdSO4·8H2O belong to three salts.
        let mut waters = formula.one_formula_unit().map(|(_, waters)| waters);
        if let (Some(waters), Some(bound)) = (&mut waters, bound_waters(&salt)) {
            *waters += bound;
        }
        Hydrate {
            ions: salt.ions(),
            hill: hill(&salt),
            salt,
            is_hydrate: formula.is_hydrate(),
            waters,
        }
    }

    /// Whether there is water after a dot, or bound to the metal.
    pub(super) fn is_hydrate(&self) -> bool {
        self.is_hydrate || self.salt.waters_coordinated().is_some()
    }

    /// Whether so much water is in the hydrate that the salt may dissolve in it.
    pub(super) fn has_much_water(&self) -> bool {
        self.is_hydrate && self.waters.as_ref().is_none_or(|n| *n > Ratio::ONE)
    }

    /// Whether the hydrate has this number of waters, or more, or an unknown number.
    pub(super) fn has_waters(&self, least: &Ratio) -> bool {
        self.is_hydrate && self.waters.as_ref().is_none_or(|n| n >= least)
    }

    /// What the catalogue knows of the salt, also if water is written as bound to the metal.
    pub(super) fn facts(&self) -> Option<&'static SaltFacts> {
        if let Some(facts) = salt_facts(&self.salt) {
            return Some(facts);
        }
        let bound = bound_waters(&self.salt)?;
        let water = Formula::water().composition().ok()?.times(&bound).ok()?;
        let dry = self.salt.composition().ok()?.minus(&water).ok()?;
        salt_facts(&dry.hill().parse().ok()?)
    }

    /// Whether a row has the hazard statements of the salt.
    pub(super) fn is_classified(&self) -> bool {
        self.facts()
            .is_some_and(|facts| !facts.hazard_statements().is_empty())
    }

    /// Whether the salt is one of these, in any spelling.
    pub(super) fn is_one_of(&self, salts: &SaltSet) -> bool {
        let compositions = salts.compositions();
        self.hill
            .as_ref()
            .is_some_and(|hill| compositions.contains(hill))
    }
}

/// The water that the formula of a salt shows as bound to the metal, or as hydroxide of a borate: the
/// salt of `Na2[B4O5(OH)4]` is `Na2B4O7`.
fn bound_waters(salt: &Formula) -> Option<Ratio> {
    salt.waters_coordinated().or_else(|| {
        let atoms = salt.composition().ok()?;
        let [boron, hydrogen, carbon] = ["B", "H", "C"].map(|symbol| {
            let element = Element::from_symbol(symbol);
            element.map_or(Ratio::ZERO, |element| atoms.count(element.into()))
        });
        let is_borate = boron.is_positive() && hydrogen.is_positive() && carbon.is_zero();
        is_borate.then(|| hydrogen.checked_div(&Ratio::from(2)))?
    })
}

/// The composition of a salt in Hill order, for so many formula units that the rarest element has one atom.
fn hill(salt: &Formula) -> Option<String> {
    let atoms = salt.composition().ok()?;
    let rarest = atoms.iter().map(|(_, count)| count).min()?;
    let units = Ratio::ONE.checked_div(rarest)?;
    Some(atoms.times(&units).ok()?.hill())
}

/// The salts that a rule names. They are parsed once.
pub(super) struct SaltSet {
    written: &'static [&'static str],
    /// Their compositions in Hill order.
    compositions: OnceBox<BTreeSet<String>>,
}

impl SaltSet {
    pub(super) const fn new(written: &'static [&'static str]) -> SaltSet {
        SaltSet {
            written,
            compositions: OnceBox::new(),
        }
    }

    fn compositions(&self) -> &BTreeSet<String> {
        self.compositions.get_or_init(|| {
            let salts = self.written.iter().filter_map(|text| text.parse().ok());
            Box::new(salts.filter_map(|salt| hill(&salt)).collect())
        })
    }
}

/// One rule, as a row of a table.
pub(super) struct Rule {
    /// The stable name of the rule.
    pub(super) name: &'static str,
    pub(super) applies: fn(&Hydrate) -> bool,
    pub(super) severity: Severity,
    /// What the loss on heating means: not water alone, or nothing that is known.
    pub(super) effect: Effect,
    /// The reason, as sentences.
    pub(super) reason: &'static str,
    /// What may leave besides water, joined by ` + `; empty if nothing does.
    pub(super) gases: &'static str,
    /// The publication, or the words that there is none.
    pub(super) source: &'static str,
}

/// What a rule says of the method, apart from its severity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Effect {
    /// Loss on heating does not give the degree of hydration.
    Unfit,
    /// Heating is dangerous, but loss on heating may still give the degree.
    Risk,
    /// The hydrate melts in its own water and spits. Loss on heating may still give the degree.
    Melts,
}
