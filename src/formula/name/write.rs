//! A formula to its name.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use num_integer::Integer;

use super::hydrate_name::HydrateName;
use super::ion_search::salt_names;
use super::numbers;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::ions::MOLECULES;
use crate::formula::repr::{Count, Formula, Part};
use crate::formula::write::plain_part;

impl Formula {
    /// Returns the name of a salt or of its hydrate, by the IUPAC recommendations of 2005, with the
    /// cations in alphabetical order.
    ///
    /// # Errors
    /// `bad_name` if the formula cannot be named from the table of ions. This holds for complexes,
    /// single ions, salts with several anions, and formulas that can be read as two salts.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let gypsum: Formula = "CaSO4·2H2O".parse()?;
    /// assert_eq!(gypsum.name()?.to_string(), "calcium sulfate dihydrate");
    /// let isomer: Formula = "[Cr(H2O)4Cl2]Cl·2H2O".parse()?;
    /// assert_eq!(isomer.name().unwrap_err().code(), "bad_name");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn name(&self) -> Result<HydrateName, Error> {
        let parts = self.parts();
        let mut names = Vec::new();
        for part in &parts {
            names.push(part_name(part).map_err(|error| self.perhaps_misspelt(error))?);
        }
        let (name, systematic) = match (parts.as_slice(), names.as_slice()) {
            ([salt], _) if !salt.coefficient.is_one() => {
                return Err(unnamed(
                    format!("`{self}` is more than one formula unit"),
                    "name one formula unit",
                ));
            }
            ([salt], _) if molecule(salt).is_some() => return Err(not_a_salt(salt)),
            ([_], [name]) => (name.clone(), name.clone()),
            ([salt, water], [name, _])
                if water.is_water() && !salt.is_water() && salt.coefficient.is_one() =>
            {
                let prefix = numbers::degree_prefix(water.coefficient);
                (format!("{name} {prefix}hydrate"), adduct(&parts, &names)?)
            }
            _ => {
                let systematic = adduct(&parts, &names)?;
                (systematic.clone(), systematic)
            }
        };
        Ok(HydrateName {
            formula: self.clone(),
            name,
            systematic,
            notes: Vec::new(),
        })
    }

    /// The error, with the formula that was probably meant if there is one.
    fn perhaps_misspelt(&self, error: Error) -> Error {
        match self.perhaps_meant() {
            Some(meant) => {
                let help = format!("perhaps `{meant}` was meant");
                unnamed(error.to_string(), help)
            }
            None => error,
        }
    }
}

fn unnamed(message: impl Into<String>, help: impl Into<Cow<'static, str>>) -> Error {
    Error::nowhere(ErrorKind::BadName, message.into(), help)
}

/// Names joined by dashes, and their proportion in whole numbers.
fn adduct(parts: &[Part], names: &[String]) -> Result<String, Error> {
    let mut common = 1_u32;
    for part in parts {
        if let Count::Known(_, denominator) = part.coefficient {
            common = Some(common.lcm(&denominator))
                .filter(|common| *common < 1000)
                .ok_or_else(no_proportion)?;
        }
    }
    let mut counts = Vec::new();
    for part in parts {
        counts.push(match part.coefficient {
            Count::Known(numerator, denominator) => numerator
                .checked_mul(common / denominator)
                .filter(|count| *count < 1_000_000)
                .ok_or_else(no_proportion)?
                .to_string(),
            Count::Unknown(letter) if common == 1 => letter.to_string(),
            Count::Unknown(_) => return Err(no_proportion()),
        });
    }
    Ok(format!("{} ({})", names.join("—"), counts.join("/")))
}

fn no_proportion() -> Error {
    unnamed(
        "the parts have no proportion in short whole numbers",
        "write the formula instead",
    )
}

/// The name of one part, without its coefficient.
fn part_name(part: &Part) -> Result<String, Error> {
    let text = plain_part(part);
    if part.charge != 0 {
        return Err(unnamed(
            format!("`{text}` is an ion, not a salt"),
            "choose a formula whose charges cancel",
        ));
    }
    if let Some(name) = molecule(part) {
        return Ok(name.into());
    }
    let mut names = salt_names(part).into_iter();
    match (names.next(), names.next()) {
        (None, _) => Err(not_a_salt(part)),
        (Some(name), None) => Ok(name),
        (Some(first), Some(second)) => Err(unnamed(
            format!("`{text}` can be read as {first} or as {second}"),
            "write the name that you mean",
        )),
    }
}

fn molecule(part: &Part) -> Option<&'static str> {
    let text = plain_part(part);
    let is_this = |formula| formula == text || formula == "H2O" && part.is_water();
    let row = MOLECULES.iter().find(|(_, formula)| is_this(*formula));
    row.map(|(name, _)| *name)
}

fn not_a_salt(part: &Part) -> Error {
    unnamed(
        format!("`{}` is not a salt of known ions", plain_part(part)),
        "give a salt or hydrate of one or two common cations and one common anion",
    )
}
