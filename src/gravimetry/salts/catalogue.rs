//! The facts of a salt, found by its composition.

use alloc::boxed::Box;
use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use super::known::KNOWN;
use super::plateaus::PLATEAUS;
use super::products::{DecompositionRow, HEAT_REMARKS, PRODUCTS};
use super::source::Source;
use crate::formula::Formula;
use crate::number::Ratio;

/// The decomposition of an anhydrous salt that is heated too far.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Decomposition {
    residue: Formula,
    per_salt: Ratio,
    gases: &'static str,
    marked: Option<(u16, Source)>,
    sign: Option<&'static str>,
    source: Source,
}

impl Decomposition {
    /// The solid that is left. An adduct (`K2SO4·Al2O3`) is a mixture in that proportion.
    #[must_use]
    pub fn residue(&self) -> &Formula {
        &self.residue
    }

    /// The number of formula units of residue from each formula unit of salt.
    #[must_use]
    pub fn per_salt(&self) -> &Ratio {
        &self.per_salt
    }

    /// The gases other than steam that are given off, joined by ` + `; empty if there are none.
    #[must_use]
    pub fn gases(&self) -> &'static str {
        self.gases
    }

    /// The temperature from which the decomposition is marked, in degrees Celsius, if a source gives
    /// one. The decomposition begins below it.
    #[must_use]
    pub fn marked_from_celsius(&self) -> Option<u16> {
        self.marked.map(|(celsius, _)| celsius)
    }

    /// The publication that gives that temperature.
    #[must_use]
    pub fn marked_source(&self) -> Option<&'static str> {
        self.marked.map(|(_, source)| source.publication())
    }

    /// The visible sign of the decomposition, if there is one. Colour is a hint, not the end point.
    #[must_use]
    pub fn sign(&self) -> Option<&'static str> {
        self.sign
    }

    /// The publication that names the residue, or the words that there is none.
    #[must_use]
    pub fn source(&self) -> &'static str {
        self.source.publication()
    }

    /// Whether a burner can heat a crucible to this decomposition (common practice, no source).
    pub(crate) fn within_reach(&self) -> bool {
        const HOTTEST_CRUCIBLE: u16 = 1000;
        self.marked
            .is_none_or(|(celsius, _)| celsius <= HOTTEST_CRUCIBLE)
    }
}

/// Facts by the composition in Hill order, so that every spelling of a salt finds them.
type Catalogue<T> = BTreeMap<String, Vec<T>>;

pub(super) fn key(salt: &Formula) -> Option<String> {
    salt.composition()
        .ok()
        .map(|composition| composition.hill())
}

fn key_of(text: &str) -> Option<String> {
    text.parse().ok().as_ref().and_then(key)
}

/// Whether a row with this text is about the salt.
pub(super) fn is_about(text: &str, salt: &Formula) -> bool {
    let row = key_of(text);
    row.is_some() && row == key(salt)
}

/// A catalogue of the rows that parse. A test fails if one does not.
fn catalogue<T>(rows: impl Iterator<Item = (&'static str, Option<T>)>) -> Box<Catalogue<T>> {
    let mut catalogue = Catalogue::new();
    for (salt, fact) in rows {
        if let Some(salt) = key_of(salt) {
            catalogue.entry(salt).or_insert_with(Vec::new).extend(fact);
        }
    }
    Box::new(catalogue)
}

pub(super) fn known() -> &'static Catalogue<Ratio> {
    static CATALOGUE: OnceBox<Catalogue<Ratio>> = OnceBox::new();
    let fact = |(salt, waters, _): &(&'static str, &str, _)| (*salt, waters.parse().ok());
    CATALOGUE.get_or_init(|| catalogue(KNOWN.iter().map(fact)))
}

/// Returns the salts of the catalogue as they are usually written, some of them several times.
#[cfg(feature = "class")]
pub(crate) fn written_salts<'a>() -> impl Iterator<Item = &'a str> {
    KNOWN.iter().map(|(salt, ..)| *salt)
}

/// Returns the salts of the catalogue without this one.
pub(crate) fn other_salts(salt: &Formula) -> Vec<Formula> {
    let own = key(salt);
    let others = known().keys().filter(|key| own.as_ref() != Some(key));
    others.filter_map(|key| key.parse().ok()).collect()
}

pub(super) fn plateaus() -> &'static Catalogue<Ratio> {
    static CATALOGUE: OnceBox<Catalogue<Ratio>> = OnceBox::new();
    let rows = PLATEAUS.iter();
    CATALOGUE.get_or_init(|| {
        catalogue(rows.map(|(salt, waters, ..)| (*salt, waters.and_then(|n| n.parse().ok()))))
    })
}

pub(super) fn products() -> &'static Catalogue<Decomposition> {
    static CATALOGUE: OnceBox<Catalogue<Decomposition>> = OnceBox::new();
    let decomposition = |row: &DecompositionRow| {
        Some(Decomposition {
            residue: row.residue.parse().ok()?,
            per_salt: row.per_salt.parse().ok()?,
            gases: row.gases,
            marked: row.marked,
            sign: row.sign,
            source: row.source,
        })
    };
    let rows = PRODUCTS.iter().map(|row| (row.salt, decomposition(row)));
    CATALOGUE.get_or_init(|| catalogue(rows))
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
    key(salt)
        .and_then(|key| known().get(&key))
        .map_or(&[], Vec::as_slice)
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
    key(salt)
        .and_then(|key| plateaus().get(&key))
        .map_or_else(|| known_hydrates(salt), Vec::as_slice)
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
    key(salt)
        .and_then(|key| products().get(&key))
        .map_or(&[], Vec::as_slice)
}

/// The remark that a burner leaves all of a salt, or nothing, with its source.
pub(super) fn heat_remark(salt: &Formula) -> Option<(&'static str, Source)> {
    let (_, text, source) = HEAT_REMARKS.iter().find(|row| is_about(row.0, salt))?;
    Some((text, *source))
}
