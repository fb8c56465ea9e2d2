//! What heating makes of the hydrate that was issued: of each gram, the water that leaves, the lower
//! hydrates on the way, and the first solid of a decomposition.

use alloc::format;
use alloc::vec::Vec;

use super::error::{Error, ErrorKind, wrong};
use crate::formula::Formula;
use crate::gravimetry::{Method, decompositions, known_hydrates, plateau_hydrates};
use crate::number::Ratio;

/// The most waters of an unknown salt at which heating may stop.
const MOST_UNKNOWN: u32 = 12;

/// The hydrate that was issued, with the masses of its solids relative to its own.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct HeatedSalt {
    pub(super) salt: Formula,
    pub(super) waters: Ratio,
    /// The waters of the residue that heating should leave.
    pub(super) left: Ratio,
    /// The mass of that residue from each gram of the hydrate.
    pub(super) residue: Ratio,
    /// The mass of the first lighter solid of a decomposition, divided by that of the residue.
    pub(super) decomposed: Option<f64>,
}

impl HeatedSalt {
    /// Reads an issued formula.
    pub(super) fn new(issued: &Formula, method: &Method) -> Result<HeatedSalt, Error> {
        HeatedSalt::from_stock(issued, None, method)
    }

    /// The same for a stock that holds this number of waters.
    pub(super) fn from_stock(
        issued: &Formula,
        stock: Option<&Ratio>,
        method: &Method,
    ) -> Result<HeatedSalt, Error> {
        let parts = issued.one_formula_unit().filter(|(_, n)| n.is_positive());
        let Some((salt, waters)) = parts else {
            // An unknown number of waters has an error of its own.
            issued.molar_mass(method.atomic_weights())?;
            return Err(wrong(
                ErrorKind::NotAHydrate,
                format!("{issued} is not a hydrate"),
                "give the hydrate that was issued, such as MgSO4·7H2O",
            ));
        };
        let left = method.waters_left(issued);
        let left = left.map_err(|error| from_method(&error))?;
        let waters = stock.cloned().unwrap_or(waters);
        if waters <= left {
            return Err(wrong(
                ErrorKind::OutOfRange,
                format!("a stock with {waters} waters in each formula unit has none to lose"),
                "give the waters that the stock holds, such as 6.9",
            ));
        }
        let weights = method.atomic_weights();
        let molar = salt.molar_mass(weights)?.exact().clone();
        let water = Formula::water().molar_mass(weights)?.exact().clone();
        let dry = &molar + &left * &water;
        let residue = dry.checked_div(&(&molar + &waters * &water));
        let decomposed = first_residue(&salt, &molar, &dry, method)?;
        Ok(HeatedSalt {
            salt,
            waters,
            left,
            residue: residue.unwrap_or(Ratio::ONE),
            decomposed,
        })
    }

    /// The mass fraction of the hydrate that leaves as water.
    pub(super) fn water(&self) -> f64 {
        1.0 - self.residue.to_f64()
    }

    /// The lower hydrates at which heating may stop, each with the fraction of the water that it keeps.
    pub(super) fn plateaus(&self) -> Vec<(Ratio, f64)> {
        let plateaus = plateau_hydrates(&self.salt).iter();
        self.fractions_left(plateaus.cloned())
    }

    /// The lower hydrates at which heating may stop; for an unknown salt those with a whole number of
    /// waters, because none can be excluded.
    pub(super) fn possible_plateaus(&self) -> Vec<(Ratio, f64)> {
        if self.is_known() {
            self.plateaus()
        } else {
            self.fractions_left((1..=MOST_UNKNOWN).map(Ratio::from))
        }
    }

    /// Whether the catalogue knows a hydrate of the salt.
    pub(super) fn is_known(&self) -> bool {
        !known_hydrates(&self.salt).is_empty()
    }

    /// Those of some degrees that are between the residue and the hydrate, each with the fraction of the
    /// water that it keeps.
    fn fractions_left(&self, of: impl Iterator<Item = Ratio>) -> Vec<(Ratio, f64)> {
        let lost = &self.waters - &self.left;
        let below = of.filter(|n| *n > self.left && *n < self.waters);
        let left = below.filter_map(|n| {
            let left = (&n - &self.left).checked_div(&lost)?.to_f64();
            Some((n, left))
        });
        left.collect()
    }
}

/// The mass of the first lighter solid that a burner can produce, divided by that of the residue.
fn first_residue(
    salt: &Formula,
    molar: &Ratio,
    dry: &Ratio,
    method: &Method,
) -> Result<Option<f64>, Error> {
    let reached = decompositions(salt).iter().filter(|d| d.within_reach());
    for decomposition in reached {
        let solid = decomposition
            .residue()
            .molar_mass(method.atomic_weights())?;
        let left = decomposition.per_salt() * solid.exact();
        if left < *molar {
            return Ok(left.checked_div(dry).map(|left| left.to_f64()));
        }
    }
    Ok(None)
}

/// An error of the method as one of this module.
pub(super) fn from_method(error: &crate::gravimetry::Error) -> Error {
    let help = error.help().unwrap_or("give the method possible rules");
    wrong(ErrorKind::OutOfRange, format!("{error}"), help)
}
