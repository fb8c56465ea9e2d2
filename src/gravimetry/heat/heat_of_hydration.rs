//! The heat of hydration of a salt, and of a sample.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::error::{Error, ErrorKind, out_of_range};
use super::super::given_salt::issued_hydrate;
use super::super::hazard::{cautions_for_wetting, reacts_with_water};
use super::super::salts::{LIQUID_WATER, salt_facts};
use super::{heat_capacity, remark};
use crate::element::{AtomicWeights, Edition};
use crate::formula::Formula;
use crate::number::{Ratio, Reading};
use crate::text::{Detail, Note};

/// The heat that is given off if an anhydrous salt takes up liquid water and becomes a hydrate.
///
/// The enthalpy follows from the standard enthalpies of formation of the hydrate, the anhydrous salt and liquid
/// water at 25 °C, exactly. They are facts of the catalogue, which a second table confirms. Without both there
/// is no enthalpy, and a note says so.
///
/// ```
/// use effloresce::{AtomicWeights, gravimetry::HeatOfHydration};
/// let copper = HeatOfHydration::of(&"CuSO4·5H2O".parse()?, &AtomicWeights::default())?
///     .mass("10.00".parse()?)?
///     .water_mass("50.0".parse()?)?;
/// assert_eq!(copper.equation(), "CuSO4(s) + 5H2O(l) -> CuSO4·5H2O(s)");
/// assert_eq!(copper.enthalpy().unwrap().to_string(), "-79.14");
/// assert_eq!(format!("{:.3}", copper.heat().unwrap()), "-4.959");
/// assert_eq!(format!("{:.3}", copper.restoring_water().unwrap()), "5.644");
/// assert_eq!(format!("{:.0}", copper.temperature_rise().unwrap()), "24");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct HeatOfHydration {
    salt: Formula,
    hydrate: Formula,
    waters: Ratio,
    /// Of the anhydrous salt and of water.
    molar: [Ratio; 2],
    enthalpy: Option<Ratio>,
    source: Option<String>,
    /// The molar heat capacity of the hydrate in J/(mol·K).
    heat_capacity: Ratio,
    mass: Option<Reading>,
    water_mass: Option<Reading>,
    notes: Vec<Note>,
    edition: Edition,
}

impl HeatOfHydration {
    /// Takes a hydrate. All quantities are for one formula unit of its anhydrous salt: of `3CdSO4·8H2O` for
    /// `CdSO4` with 8/3 waters.
    ///
    /// # Errors
    /// `bad_request` if the formula is not a solid hydrate, `unknown_degree` if it has an unknown number of waters,
    /// `no_standard_weight` if it has no molar mass.
    pub fn of(hydrate: &Formula, weights: &AtomicWeights) -> Result<HeatOfHydration, Error> {
        let (salt, waters) = issued_hydrate(hydrate)?;
        let one_unit = salt.with_waters(&waters);
        let one_unit = one_unit.ok_or_else(|| not_a_hydrate(hydrate))?;
        let molar = |formula: &Formula| Ok::<_, Error>(formula.molar_mass(weights)?.exact());
        let mut found = HeatOfHydration {
            molar: [molar(&salt)?, molar(&Formula::water())?],
            heat_capacity: heat_capacity::of_solid(&one_unit.composition()?),
            enthalpy: None,
            source: None,
            salt,
            hydrate: one_unit,
            waters,
            mass: None,
            water_mass: None,
            notes: Vec::new(),
            edition: weights.edition(),
        };
        found.find_enthalpy();
        Ok(found)
    }

    /// Works out the enthalpy from the catalogue, or notes what is not known.
    fn find_enthalpy(&mut self) {
        let facts = salt_facts(&self.salt);
        let of = |waters| facts.and_then(|facts| facts.enthalpy_of_formation(waters));
        let (dry, wet) = (of(&Ratio::ZERO), of(&self.waters));
        match (dry, wet, LIQUID_WATER.value().parse::<Ratio>()) {
            (Some(dry), Some(wet), Ok(water)) => {
                self.enthalpy = Some(wet.value() - dry.value() - &self.waters * water);
                let mut sources: Vec<&str> =
                    Vec::from([dry.source(), wet.source(), LIQUID_WATER.source()]);
                sources.dedup();
                self.source = Some(sources.join("; "));
            }
            _ => {
                let solids = [(&self.salt, dry), (&self.hydrate, wet)].into_iter();
                let missing = solids.filter(|(_, enthalpy)| enthalpy.is_none());
                let missing: Vec<&Formula> = missing.map(|(solid, _)| solid).collect();
                self.notes.push(remark::not_verified(&missing));
            }
        }
    }

    /// Sets the mass of the anhydrous salt in grams.
    ///
    /// # Errors
    /// `out_of_range` if the mass is not positive.
    pub fn mass(mut self, grams: Reading) -> Result<Self, Error> {
        self.mass = Some(positive(grams, "anhydrous salt")?);
        Ok(self)
    }

    /// Sets the mass of all the water that is added, in grams. The default is just the water that restores the
    /// hydrate. It only counts for the rise of temperature.
    ///
    /// # Errors
    /// `out_of_range` if the mass is not positive.
    pub fn water_mass(mut self, grams: Reading) -> Result<Self, Error> {
        self.water_mass = Some(positive(grams, "water")?);
        Ok(self)
    }

    /// Adds the notes from reading the hydrate's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The hydrate, for one formula unit of its salt.
    #[must_use]
    pub fn hydrate(&self) -> &Formula {
        &self.hydrate
    }

    /// The anhydrous salt.
    #[must_use]
    pub fn salt(&self) -> &Formula {
        &self.salt
    }

    /// Returns the equation, for one formula unit of the anhydrous salt.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, gravimetry::HeatOfHydration};
    /// let plaster = HeatOfHydration::of(&"CaSO4·0.5H2O".parse()?, &AtomicWeights::default())?;
    /// assert_eq!(plaster.equation(), "CaSO4(s) + 0.5H2O(l) -> CaSO4·0.5H2O(s)");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn equation(&self) -> String {
        let solid = |formula: &Formula| {
            let text = format!("{formula}");
            // A formula that begins with a number of its own needs its coefficient in an equation.
            let one = if text.starts_with(|c: char| c.is_ascii_digit()) {
                "1 "
            } else {
                ""
            };
            let state = if formula.state().is_some() { "" } else { "(s)" };
            format!("{one}{text}{state}")
        };
        let count = match self.waters == Ratio::ONE {
            true => String::new(),
            false => format!("{}", self.waters),
        };
        let (salt, hydrate) = (solid(&self.salt), solid(&self.hydrate));
        format!("{salt} + {count}H2O(l) -> {hydrate}")
    }

    /// The enthalpy in kJ for each mole of anhydrous salt that takes up liquid water at 25 °C. It is negative
    /// if heat is given off. `None` if the enthalpies of formation are not both confirmed.
    #[must_use]
    pub fn enthalpy(&self) -> Option<&Ratio> {
        self.enthalpy.as_ref()
    }

    /// The publications that the enthalpies of formation come from.
    #[must_use]
    pub fn source(&self) -> Option<&str> {
        self.source.as_deref()
    }

    /// The amount of anhydrous salt in moles.
    fn amount(&self) -> Option<Ratio> {
        self.mass?.value().checked_div(&self.molar[0])
    }

    /// Returns the heat of the sample in kJ, negative if it is given off. `None` without a mass or an enthalpy.
    #[must_use]
    pub fn heat(&self) -> Option<Ratio> {
        Some(self.amount()? * self.enthalpy.as_ref()?)
    }

    /// Returns the mass of water that restores the hydrate from the sample, in grams. `None` without a mass.
    #[must_use]
    pub fn restoring_water(&self) -> Option<Ratio> {
        Some(self.amount()? * &self.waters * &self.molar[1])
    }

    /// The molar heat capacity of the hydrate by Kopp's rule, in J/(mol·K).
    #[cfg(feature = "exercise")]
    pub(crate) fn heat_capacity(&self) -> &Ratio {
        &self.heat_capacity
    }

    /// Returns an estimate of the rise of temperature in kelvin. `None` without a mass or an enthalpy, and if
    /// the water does not restore the hydrate, if it would boil, or if the dry salt reacts violently with water.
    /// [`notes`](Self::notes) has the assumptions.
    ///
    /// The heat warms the hydrate and the excess water. The heat capacity of the hydrate comes from Kopp's
    /// rule: each H adds 9.6 J/(mol·K), O 16.7, C 7.5, B 11.3, F 20.9, Si 15.9, P and S 22.6, any other
    /// element 26.0. That of water is 4.18 J/(g·K). These figures are from memory. For CuSO4·5H2O the rule
    /// gives 294.9 J/(mol·K), and 288.0 was measured.
    #[must_use]
    pub fn temperature_rise(&self) -> Option<Ratio> {
        if reacts_with_water(&self.hydrate) {
            return None;
        }
        self.estimated_rise().filter(|rise| !remark::boils(rise))
    }

    /// The estimate, also if it is so high that the water boils.
    fn estimated_rise(&self) -> Option<Ratio> {
        let excess = self.excess_water()?;
        let of_hydrate = self.amount()? * &self.heat_capacity;
        let capacity = of_hydrate + heat_capacity::of_water(&excess);
        let joules = self.heat()? * -1000;
        joules.checked_div(&capacity)
    }

    /// The mass of water that the hydrate does not take up; `None` if the water does not restore it, by more
    /// than half a unit of its last place.
    fn excess_water(&self) -> Option<Ratio> {
        let needed = self.restoring_water()?;
        let Some(given) = self.water_mass else {
            return Some(Ratio::ZERO);
        };
        let excess = given.value() - needed;
        let is_enough = &excess * 2 + given.last_place() >= Ratio::ZERO;
        is_enough.then(|| excess.max(Ratio::ZERO))
    }

    /// Returns the notes: the assumptions of the estimate, and what is not known.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = self.notes.clone();
        if self.enthalpy.as_ref().is_some_and(Ratio::is_positive) {
            notes.push(remark::takes_up_heat(&self.salt));
        }
        if reacts_with_water(&self.hydrate) {
            notes.push(remark::reacts_with_water(&self.salt));
            return notes;
        }
        if let (Some(needed), Some(_)) = (self.restoring_water(), &self.enthalpy) {
            let rise = self.estimated_rise();
            let is_excess = self.excess_water().is_some_and(|mass| mass.is_positive());
            match (&self.water_mass, &rise) {
                (Some(given), None) => {
                    notes.push(remark::too_little(&self.hydrate, given, &needed));
                }
                (Some(_), Some(_)) => notes.push(remark::assumptions(&self.hydrate, is_excess)),
                (None, _) => {
                    notes.push(remark::just_enough(&needed));
                    notes.push(remark::assumptions(&self.hydrate, is_excess));
                }
            }
            if rise.as_ref().is_some_and(remark::boils) {
                notes.push(remark::water_boils());
            }
        }
        notes
    }

    /// Returns the cautions, the most severe first. They include eye protection. They say that water goes back
    /// only to a cold solid, drop by drop, or that it does not because the salt reacts violently with it.
    #[must_use]
    pub fn cautions(&self) -> Vec<Note> {
        cautions_for_wetting(&self.hydrate)
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}

fn not_a_hydrate(formula: &Formula) -> Error {
    let message = format!("{formula} is not a hydrate with a short number of waters");
    let help = "give the hydrate that the salt becomes, such as CuSO4·5H2O";
    Error::new(ErrorKind::NotASalt, Detail::new(message).help(help))
}

fn positive(grams: Reading, what: &str) -> Result<Reading, Error> {
    if grams.value().is_positive() {
        return Ok(grams);
    }
    let message = format!("{grams} g is not a mass of {what}");
    Err(out_of_range(message, "give a mass above 0 g"))
}
