//! The salt of a formula that is given, and the number of its waters.

use alloc::format;
use alloc::string::{String, ToString};

use super::error::{Error, ErrorKind};
use super::hazard::grave_hazard;
use super::salts::{SaltFacts, salt_facts};
use crate::formula::{Formula, State};
use crate::number::Ratio;
use crate::text::Detail;

/// Refuses an ion, and what is labelled as a solution, a liquid or a gas: nobody heats that in a crucible.
fn refuse_unless_solid(formula: &Formula) -> Result<(), Error> {
    let (what, help) = match (formula.exact_charge(), formula.state()) {
        (Some(charge), _) if !charge.is_zero() => (
            "an ion, not a salt",
            "give the salt with both its ions, such as MgSO4",
        ),
        (_, None | Some(State::Solid)) => return Ok(()),
        (_, Some(_)) => ("not a solid", "leave out the state, or write (s)"),
    };
    let detail = Detail::new(format!("{formula} is {what}")).help(help);
    Err(Error::new(ErrorKind::NotASalt, detail))
}

/// What is wrong with a formula such as `[Cu(H2O)4]SO4·H2O`.
const HAS_BOUND_WATER: &str = "has water inside brackets, which heat drives off, too";

/// The hydrate with its salt as the catalogue spells it: two spellings of a salt are one salt.
fn as_in_catalogue(hydrate: Formula) -> Formula {
    let unit = hydrate.one_formula_unit();
    let usual = unit.and_then(|(salt, waters)| {
        let salt = salt_facts(&salt).map_or(&salt, SaltFacts::salt);
        salt.with_waters(&waters)
    });
    usual.unwrap_or(hydrate)
}

/// The salt and the number of waters of a hydrate that was issued, for one formula unit.
pub(super) fn issued_hydrate(issued: &Formula) -> Result<(Formula, Ratio), Error> {
    refuse_unless_solid(issued)?;
    let wrong = |kind, message: &str, help: &str| {
        let message = format!("{issued} {message}{}", grave_hazard(&[issued]));
        Error::new(kind, Detail::new(message).help(help.to_string()))
    };
    if let Some(hydrate) = issued.with_bound_water_after_dot() {
        let hydrate = as_in_catalogue(hydrate);
        let help = format!("write all its water after a dot: {hydrate}");
        return Err(wrong(ErrorKind::NotASalt, HAS_BOUND_WATER, &help));
    }
    issued.one_formula_unit().ok_or_else(|| {
        let help = match has_isotopes(issued) {
            true => "only H2O counts as water here: give a hydrate without labelled atoms, such as MgSO4·7H2O",
            false => "give the hydrate that was issued, such as MgSO4·7H2O",
        };
        match issued.is_hydrate() {
            true => wrong(
                ErrorKind::UnknownDegree,
                "has an unknown number of waters",
                help,
            ),
            false => wrong(
                ErrorKind::NotASalt,
                "is not a hydrate with a known number of waters",
                help,
            ),
        }
    })
}

/// Whether an atom has its mass number, as in heavy water.
fn has_isotopes(formula: &Formula) -> bool {
    let atoms = formula.composition();
    atoms.is_ok_and(|atoms| atoms.iter().any(|(atom, _)| atom.mass_number().is_some()))
}

/// The anhydrous salt of a formula that is anhydrous or has an unknown number of waters.
pub(super) fn anhydrous(salt: &Formula) -> Result<Formula, Error> {
    let wrong = |message: &str, help: String| {
        let detail = Detail::new(format!("{salt} {message}"));
        Error::new(ErrorKind::NotASalt, detail.help(help))
    };
    let Some(anhydrous) = salt.anhydrous().filter(|salt| !salt.is_electron()) else {
        let help = "give the anhydrous salt, such as MgSO4";
        return Err(wrong("is not a salt", help.to_string()));
    };
    refuse_unless_solid(salt)?;
    let bound = anhydrous.with_bound_water_after_dot().map(as_in_catalogue);
    if let Some(dry) = bound.and_then(|hydrate| hydrate.anhydrous()) {
        let help = format!("give the anhydrous salt, {dry}");
        return Err(wrong(HAS_BOUND_WATER, help));
    }
    if salt.waters().is_some() {
        let message = "is already a hydrate with a known number of waters";
        let help = format!("give the anhydrous salt, {anhydrous}");
        return Err(wrong(message, help));
    }
    Ok(anhydrous)
}
