//! The facts of a salt, found by its composition.

use alloc::boxed::Box;
use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use super::decomposition::Decomposition;
use super::fact::FactRow;
use super::salt_facts::SaltFacts;
use super::{
    carbonates, complexes, double_sulfates, halates, halides, nitrates, organic, oxides_and_acids,
    phosphates, sulfates, sulfur_and_selenium,
};
use crate::formula::Formula;
use crate::number::Ratio;

const FAMILIES: [&[FactRow]; 11] = [
    sulfates::ROWS,
    double_sulfates::ROWS,
    halides::ROWS,
    halates::ROWS,
    carbonates::ROWS,
    nitrates::ROWS,
    phosphates::ROWS,
    sulfur_and_selenium::ROWS,
    oxides_and_acids::ROWS,
    complexes::ROWS,
    organic::ROWS,
];

/// The rows of each salt.
pub(super) fn salts() -> impl Iterator<Item = &'static [FactRow]> {
    let families = FAMILIES.into_iter();
    families.flat_map(|rows| rows.chunk_by(|a, b| a.salt == b.salt))
}

/// All rows of the catalogue.
#[cfg(test)]
pub(super) fn rows() -> impl Iterator<Item = &'static FactRow> {
    FAMILIES.into_iter().flatten()
}

/// Facts by the composition in Hill order, so that every spelling of a salt finds them. They are parsed
/// once. A test fails if a row does not parse.
pub(super) fn catalogue() -> &'static BTreeMap<String, SaltFacts> {
    static CATALOGUE: OnceBox<BTreeMap<String, SaltFacts>> = OnceBox::new();
    CATALOGUE.get_or_init(|| {
        let facts = salts().filter_map(SaltFacts::of);
        let found = facts.filter_map(|facts| Some((key(facts.salt())?, facts)));
        Box::new(found.collect())
    })
}

fn key(salt: &Formula) -> Option<String> {
    salt.composition()
        .ok()
        .map(|composition| composition.hill())
}

/// The facts of an anhydrous salt in any spelling.
fn facts(salt: &Formula) -> Option<&'static SaltFacts> {
    catalogue().get(&key(salt)?)
}

/// Returns what the catalogue knows of a salt. The formula may be that of the salt in any spelling, or of
/// one of its hydrates, also with an unknown number of waters.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let found = |text: &str| Ok::<_, effloresce::formula::Error>(salt_facts(&text.parse()?).is_some());
/// assert!(found("CdSO4")? && found("CdSO4·xH2O")?);
/// assert!(found("3CdSO4·8H2O")? && found("3CdSO4")?);
/// assert!(!found("XeF4")?);
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn salt_facts(salt: &Formula) -> Option<&'static SaltFacts> {
    facts(salt).or_else(|| {
        // A water after the dot makes one formula unit of `3CdSO4`, too.
        let unit = salt
            .one_formula_unit()
            .or_else(|| salt.with_waters(&Ratio::ONE)?.one_formula_unit());
        facts(&unit?.0)
    })
}

/// Iterates over all salts of the catalogue.
///
/// ```
/// use effloresce::gravimetry::known_salts;
/// let melting = known_salts().filter(|facts| !facts.melting_hydrates().is_empty());
/// assert!(melting.count() > 20);
/// assert!(known_salts().any(|facts| facts.salt().to_string() == "CuSO4"));
/// ```
pub fn known_salts() -> impl Iterator<Item = &'static SaltFacts> {
    catalogue().values()
}

/// The salts of the catalogue of which a hydrate is known.
fn hydrated() -> impl Iterator<Item = &'static SaltFacts> {
    known_salts().filter(|facts| !facts.known_hydrates().is_empty())
}

/// Returns the salts of the catalogue as they are usually written.
#[cfg(feature = "class")]
pub(crate) fn written_salts<'a>() -> impl Iterator<Item = &'a str> {
    hydrated().map(|facts| -> &'a str { facts.written() })
}

/// Returns the salts of teaching laboratories without this one.
pub(crate) fn other_salts(salt: &Formula) -> Vec<Formula> {
    let own = facts(salt).map(SaltFacts::salt);
    let taught = hydrated().filter(|facts| facts.is_taught());
    let others = taught.map(SaltFacts::salt);
    others
        .filter(|other| own != Some(*other))
        .cloned()
        .collect()
}

/// Returns the known degrees of hydration of an anhydrous salt, in ascending order; empty if the
/// catalogue does not have the salt.
///
/// ```
/// use effloresce::gravimetry::known_hydrates;
/// let degrees: Vec<String> = known_hydrates(&"CaSO4".parse()?).iter().map(|n| n.to_string()).collect();
/// assert_eq!(degrees, ["0.5", "2"]);
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn known_hydrates(salt: &Formula) -> &'static [Ratio] {
    facts(salt).map_or(&[], SaltFacts::known_hydrates)
}

/// Returns the lower hydrates at which heating may seem to be finished, in ascending order.
///
/// They were seen by thermogravimetry, in open crucibles or under the water vapour that a heap or a
/// lid keeps. The list is empty if heating is known to reach none. If the catalogue knows nothing about
/// heating the salt, it has all known hydrates, because none can be excluded.
///
/// ```
/// use effloresce::gravimetry::plateau_hydrates;
/// let degrees: Vec<String> = plateau_hydrates(&"CuSO4".parse()?).iter().map(|n| n.to_string()).collect();
/// assert_eq!(degrees, ["1", "3"]);
/// assert!(plateau_hydrates(&"Na2SO4".parse()?).is_empty());
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn plateau_hydrates(salt: &Formula) -> &'static [Ratio] {
    let facts = facts(salt);
    facts.map_or(&[], |f| f.plateaus().unwrap_or(f.known_hydrates()))
}

/// Returns the last decomposition of an anhydrous salt that is heated too far in air. It is `None` if
/// a burner does not decompose the salt, if nothing is left, and if the catalogue does not know.
///
/// ```
/// use effloresce::gravimetry::decomposition;
/// let iron = decomposition(&"FeSO4".parse()?).unwrap();
/// assert_eq!(iron.residue().to_string(), "Fe2O3");
/// assert_eq!(iron.per_salt().to_string(), "0.5");
/// assert_eq!(iron.gases(), "SO3 + SO2");
/// assert!(decomposition(&"Na2SO4".parse()?).is_none());
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn decomposition(salt: &Formula) -> Option<&'static Decomposition> {
    decompositions(salt).last()
}

/// Returns all known decompositions of a salt, in the order in which they occur on heating: the
/// intermediate ones, then that of [`decomposition`].
///
/// ```
/// use effloresce::gravimetry::decompositions;
/// let residues: Vec<String> =
///     decompositions(&"MgCl2".parse()?).iter().map(|d| d.residue().to_string()).collect();
/// assert_eq!(residues, ["Mg(OH)Cl", "MgO"]);
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[must_use]
pub fn decompositions(salt: &Formula) -> &'static [Decomposition] {
    facts(salt).map_or(&[], SaltFacts::decompositions)
}
