//! The hydrate that is meant if only its salt is named.

use super::super::dehydration::anhydrous;
use super::super::error::{Error, ErrorKind};
use super::super::salts::known_hydrates;
use crate::formula::Formula;
use crate::text::Detail;

/// Returns the hydrate of a salt that is planned for if nothing else is said: the highest one known.
/// [`Plan::reasons`](super::Plan::reasons) says so.
///
/// # Errors
/// Returns an error if the salt is not anhydrous, or if no hydrate of it is known.
///
/// ```
/// use effloresce::gravimetry::commonest_hydrate;
/// assert_eq!(commonest_hydrate(&"MgSO4".parse()?)?.to_string(), "MgSO4·7H2O");
/// assert!(commonest_hydrate(&"NaCl".parse()?).is_err());
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn commonest_hydrate(salt: &Formula) -> Result<Formula, Error> {
    let salt = anhydrous(salt)?;
    let highest = known_hydrates(&salt).last();
    let hydrate = highest.and_then(|waters| salt.with_waters(waters));
    hydrate.ok_or_else(|| {
        let message = alloc::format!("no hydrate of {salt} is known");
        let help = "give the hydrate that you have, such as MgSO4·7H2O";
        Error::new(ErrorKind::NotASalt, Detail::new(message).help(help))
    })
}
