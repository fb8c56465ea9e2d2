//! What is known of salts and their hydrates. The catalogue will grow here, one fact a row;
//! at present it holds the degrees of hydration of common salts.

mod care;
mod known;

pub use care::cautions;

use alloc::boxed::Box;
use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use crate::formula::Formula;
use crate::number::Ratio;

/// A hydrate that is known, as a row of the catalogue.
struct Known {
    salt: &'static str,
    waters: &'static str,
    /// Kept beside the fact that it vouches for.
    #[cfg_attr(
        not(test),
        allow(dead_code, reason = "read by the test of the catalogue")
    )]
    source: Source,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Source {
    Nbs,
    Crc,
}

/// By composition in Hill order, so that every spelling of a salt finds it.
type Catalogue = BTreeMap<String, Vec<Ratio>>;

fn key(salt: &Formula) -> Option<String> {
    salt.composition()
        .ok()
        .map(|composition| composition.hill())
}

/// The catalogue, parsed once.
fn catalogue() -> &'static Catalogue {
    static CATALOGUE: OnceBox<Catalogue> = OnceBox::new();
    CATALOGUE.get_or_init(|| {
        let mut catalogue = Catalogue::new();
        for row in known::KNOWN {
            // A row that does not parse is left out here and fails the test below.
            let salt = row.salt.parse().ok().as_ref().and_then(key);
            if let (Some(salt), Ok(waters)) = (salt, row.waters.parse()) {
                catalogue.entry(salt).or_default().push(waters);
            }
        }
        Box::new(catalogue)
    })
}

/// The degrees of hydration known of an anhydrous salt, in ascending order; empty where the
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
        .and_then(|key| catalogue().get(&key))
        .map_or(&[], Vec::as_slice)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_parses_and_ascends() {
        let rows: usize = catalogue().values().map(Vec::len).sum();
        assert_eq!(rows, known::KNOWN.len());
        for (salt, degrees) in catalogue() {
            assert!(degrees.is_sorted_by(|a, b| a < b), "{salt}");
        }
        let acetate = "CH3COONa".parse().unwrap();
        assert_eq!(known_hydrates(&acetate), [Ratio::from(3)]);
        assert_eq!(known_hydrates(&"NaCl".parse().unwrap()), []);
        let handbook = known::KNOWN
            .iter()
            .filter(|row| row.source == Source::Crc)
            .count();
        assert_eq!(handbook, 2, "rows that rest on the handbook alone");
    }
}
