//! What complete heating leaves: the anhydrous salt, or a lower hydrate of it.

use alloc::format;

use super::error::{Error, ErrorKind};
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::Detail;

/// A salt with the waters that complete heating leaves in it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ResidualSalt {
    /// The anhydrous salt.
    pub(super) salt: Formula,
    pub(super) waters: Ratio,
    /// The salt with these waters.
    pub(super) formula: Formula,
}

impl ResidualSalt {
    /// Reads a residue: an anhydrous salt, or one with a known number of waters.
    pub(super) fn new(formula: &Formula) -> Result<ResidualSalt, Error> {
        let unit = formula.one_formula_unit().or_else(|| {
            let salt = formula.anhydrous().filter(|salt| salt == formula)?;
            Some((salt, Ratio::ZERO))
        });
        let unit = unit.filter(|(salt, _)| !salt.is_electron());
        let residual = unit.and_then(|(salt, waters)| {
            let formula = salt.with_waters(&waters)?;
            Some(ResidualSalt {
                salt,
                waters,
                formula,
            })
        });
        residual.ok_or_else(|| wrong(format!("{formula} is not a lower hydrate of a salt")))
    }

    /// The anhydrous salt as its own residue.
    pub(super) fn anhydrous(salt: &Formula) -> ResidualSalt {
        ResidualSalt {
            salt: salt.clone(),
            waters: Ratio::ZERO,
            formula: salt.clone(),
        }
    }

    /// Refuses a residue of another salt, or one that is not lower than the hydrate issued.
    pub(super) fn checked(self, salt: &Formula, issued: Option<&Ratio>) -> Result<Self, Error> {
        let residue = &self.formula;
        if self.salt != *salt {
            return Err(wrong(format!("{residue} is not a residue of {salt}")));
        }
        match issued.filter(|issued| self.waters >= **issued) {
            Some(issued) => Err(wrong(format!(
                "{residue} has no fewer waters than what was issued ({})",
                issued.to_plain()
            ))),
            None => Ok(self),
        }
    }
}

fn wrong(message: alloc::string::String) -> Error {
    Error::new(
        ErrorKind::NotAResidue,
        Detail::new(message).help(
            "give a lower hydrate of the salt that was issued, such as CuSO4·H2O of CuSO4·5H2O",
        ),
    )
}
