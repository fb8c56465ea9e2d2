//! How much there is of a species: a mass, an amount in moles, or a volume of solution.

use alloc::format;

use crate::formula::Formula;
use crate::number::{Inputs, Ratio, Reading, Traced};
use crate::reaction::error::{Error, ErrorKind};
use crate::text::Note;

/// The amount of a species, as it is given.
///
/// ```
/// use effloresce::reaction::{Amounts, Equation, Supply};
/// let dissolving: Equation = "CaCO3 + 2HCl -> CaCl2 + CO2 + H2O".parse()?;
/// let reacted = Amounts::new()
///     .with("HCl".parse()?, Supply::solution("0.100".parse()?, "0.0250".parse()?))
///     .with("CaCO3".parse()?, Supply::mass("0.500".parse()?).pure("95.0".parse()?))
///     .react(&dissolving.stoichiometry()?)?;
/// assert_eq!(reacted.limiting().next().unwrap().formula().to_string(), "HCl");
/// assert_eq!(reacted.extent().amount().to_string(), "0.00125");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Supply {
    pub(super) form: SupplyForm,
    /// The percentage of the species in what is given.
    pub(super) purity: Option<Reading>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum SupplyForm {
    Mass(Reading),
    Moles(Reading),
    Solution {
        concentration: Reading,
        volume: Reading,
    },
}

impl Supply {
    /// Returns the supply of a mass, in grams.
    #[must_use]
    pub fn mass(grams: Reading) -> Supply {
        SupplyForm::Mass(grams).into()
    }

    /// Returns the supply of an amount of substance, in moles.
    #[must_use]
    pub fn moles(moles: Reading) -> Supply {
        SupplyForm::Moles(moles).into()
    }

    /// Returns the supply of a solution: its concentration, in moles per litre, and its volume, in
    /// litres.
    #[must_use]
    #[doc(alias = "molarity")]
    pub fn solution(concentration: Reading, volume: Reading) -> Supply {
        SupplyForm::Solution {
            concentration,
            volume,
        }
        .into()
    }

    /// Gives the purity in per cent: the percentage of the species in what is given.
    ///
    /// It is above 0 and at most 100. Below 1.5 a warning (`suspect_purity`) asks whether it is a fraction.
    #[must_use]
    #[doc(alias = "assay")]
    pub fn pure(self, percent: Reading) -> Supply {
        Supply {
            purity: Some(percent),
            ..self
        }
    }

    /// Returns the question whether a low purity is a fraction, and not a percentage.
    pub(super) fn doubt(&self, species: &Formula) -> Option<Note> {
        let purity = self.purity?;
        let percent = purity.value();
        if percent >= Ratio::new(3, 2)? {
            return None;
        }
        let meant = &percent * 100;
        let question = match meant > Ratio::from(100) {
            true => "That is very little: is it a fraction?".into(),
            false => format!("Give it in per cent: was {} % meant?", meant.to_plain()),
        };
        let text = format!("The purity of {species} was read as {purity} %. {question}");
        let note = Note::new("suspect_purity", text).with("species", format!("{species}"));
        Some(note.with("percent", format!("{purity}")))
    }

    /// Returns the amount of the species, in moles.
    pub(super) fn moles_of(
        &self,
        species: &Formula,
        molar: &Traced,
        inputs: &mut Inputs,
    ) -> Result<Traced, Error> {
        let mut input = |what: &str, reading: &Reading| -> Result<Traced, Error> {
            if reading.value().is_positive() {
                return Ok(inputs.reading(format!("{what} of {species}"), reading));
            }
            Err(Error::without_span(
                ErrorKind::ImpossibleMasses,
                format!("the {what} of {species}, {reading}, is not positive"),
                "give a positive number, and leave out what is not there",
            ))
        };
        let moles = match &self.form {
            SupplyForm::Mass(grams) => input("mass", grams)?
                .over(molar)
                .filter(|_| molar.value().is_positive())
                .ok_or_else(|| no_mass(species))?,
            SupplyForm::Moles(moles) => input("amount", moles)?,
            SupplyForm::Solution {
                concentration,
                volume,
            } => input("concentration", concentration)?.times(&input("volume", volume)?),
        };
        let Some(percent) = &self.purity else {
            return Ok(moles);
        };
        let purity = input("purity", percent)?;
        if percent.value() > Ratio::from(100) {
            return Err(Error::without_span(
                ErrorKind::OutOfRange,
                format!("the purity of {species}, {percent} %, is above 100 %"),
                "give a purity of at most 100 %",
            ));
        }
        let hundredth = Ratio::new(1, 100).unwrap_or_default();
        Ok(moles.times(&purity).times_exact(&hundredth))
    }
}

impl From<SupplyForm> for Supply {
    fn from(form: SupplyForm) -> Supply {
        Supply { form, purity: None }
    }
}

fn no_mass(species: &Formula) -> Error {
    let message = format!("the molar mass of {species} is zero");
    Error::request(message, "give the amount in moles")
}
