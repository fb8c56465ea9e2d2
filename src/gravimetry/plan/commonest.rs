//! The hydrate that is meant if only its salt is named.

use super::super::error::{Error, ErrorKind};
use super::super::given_salt::anhydrous;
use super::super::hazard::grave_hazard;
use super::super::salts::{SaltFacts, Sourced, known_hydrates, salt_facts};
use crate::formula::Formula;
use crate::text::Detail;

/// The hydrate that a salt is planned with.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Commonest {
    pub(super) hydrate: Formula,
    /// The source that bottles usually hold it; `None` if it is the highest one known.
    pub(super) bottled: Option<&'static str>,
}

/// Returns the hydrate of a salt that is planned for if nothing else is said: the one that bottles usually
/// hold, if the catalogue [has it](super::super::SaltFacts::bottled), otherwise the highest one known.
/// [`Plan::reasons`](super::Plan::reasons) says which.
///
/// # Errors
/// Returns an error if the salt is not anhydrous, or if no hydrate of it is known.
///
/// ```
/// use effloresce::gravimetry::commonest_hydrate;
/// assert_eq!(commonest_hydrate(&"MgSO4".parse()?)?.to_string(), "MgSO4·7H2O");
/// assert_eq!(commonest_hydrate(&"MnSO4".parse()?)?.to_string(), "MnSO4·H2O");
/// assert!(commonest_hydrate(&"NaCl".parse()?).is_err());
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn commonest_hydrate(salt: &Formula) -> Result<Formula, Error> {
    commonest(salt).map(|commonest| commonest.hydrate)
}

pub(super) fn commonest(salt: &Formula) -> Result<Commonest, Error> {
    let salt = anhydrous(salt)?;
    let bottled = salt_facts(&salt).and_then(SaltFacts::bottled);
    let waters = bottled.map(Sourced::value);
    let waters = waters.or_else(|| known_hydrates(&salt).last());
    let hydrate = waters.and_then(|waters| salt.with_waters(waters));
    let commonest = hydrate.map(|hydrate| Commonest {
        hydrate,
        bottled: bottled.map(Sourced::source),
    });
    commonest.ok_or_else(|| {
        let message = alloc::format!("no hydrate of {salt} is known{}", grave_hazard(&[&salt]));
        let help = "give the hydrate that you have, such as MgSO4·7H2O";
        Error::new(ErrorKind::NotASalt, Detail::new(message).help(help))
    })
}
