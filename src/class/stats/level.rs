//! Levels of confidence, and how many benches a spread needs.

use alloc::format;

use crate::class::{Error, ErrorKind};
use crate::text::Detail;

/// The fewest benches for which a spread is given.
pub(super) const LEAST_FOR_SPREAD: usize = 5;

/// The level of confidence of everything that is said about a class.
pub(super) const LEVEL: f64 = 0.95;

/// The highest level of confidence for which anything is worked out.
pub(super) const HIGHEST_LEVEL: f64 = 0.999_999;

pub(super) fn is_level(level: f64) -> bool {
    level > 0.0 && level <= HIGHEST_LEVEL
}

/// Returns the level itself if anything can be worked out for it.
pub(super) fn checked(level: f64) -> Result<f64, Error> {
    if is_level(level) {
        return Ok(level);
    }
    let fault = match level > 0.0 && level < 1.0 {
        true => "is too high for a level of confidence",
        false => "is not a level of confidence",
    };
    Err(Error::new(
        ErrorKind::BadLevel,
        Detail::new(format!("{level} {fault}")).help(format!(
            "give a number above 0 and at most {HIGHEST_LEVEL}, usually 0.95"
        )),
    ))
}
