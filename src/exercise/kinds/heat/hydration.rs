//! A salt that takes up water: the values of careful work.

use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::Refusal;
use crate::exercise::draw::{Draw, shown};
use crate::formula::Formula;
use crate::gravimetry::{HeatOfHydration, Interval, LIQUID_WATER, salt_facts};
use crate::number::{Ratio, Reading, TieRule};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum HeatQuantity {
    Heat,
    Water,
    Enthalpy,
    Rise,
}

impl HeatQuantity {
    pub(super) fn pointer(self) -> &'static str {
        match self {
            HeatQuantity::Heat => "/heat",
            HeatQuantity::Water => "/restoring_water",
            HeatQuantity::Enthalpy => "/enthalpy",
            HeatQuantity::Rise => "/temperature_rise",
        }
    }

    pub(super) fn unit(self) -> &'static str {
        match self {
            HeatQuantity::Heat => "kJ",
            HeatQuantity::Water => "g",
            HeatQuantity::Enthalpy => "kJ/mol",
            HeatQuantity::Rise => "K",
        }
    }
}

/// A sample of an anhydrous salt that takes up water.
pub(super) struct Hydration {
    pub(super) heat: HeatOfHydration,
    pub(super) waters: Ratio,
    /// In kJ for a mole of salt.
    pub(super) enthalpy: Ratio,
    /// The enthalpies of formation of the salt, the hydrate and liquid water in kJ/mol.
    pub(super) formation: [Ratio; 3],
    pub(super) mass: Reading,
    /// All the water, if the problem gives it.
    pub(super) water_mass: Option<Reading>,
}

/// The specific heat capacity of water in J/(g·K), as the estimate of the library has it.
pub(super) const WATER_CAPACITY: &str = "4.18";
pub(super) const WATER_SOURCE: &str = "OpenStax, Chemistry 2e, Table 5.1 (there 4.184)";

impl Hydration {
    pub(super) fn draw(draw: &mut Draw<'_>, hydrate: &str) -> Result<Hydration, Refusal> {
        let hydrate: Formula = hydrate
            .parse()
            .map_err(Refusal::refused::<crate::formula::Error>)?;
        let unknown = || Refusal::Again("an enthalpy of formation is not known");
        let (salt, waters) = hydrate.one_formula_unit().ok_or_else(unknown)?;
        let facts = salt_facts(&salt).ok_or_else(unknown)?;
        let of = |waters: &Ratio| Some(facts.enthalpy_of_formation(waters)?.value().clone());
        let formation = [
            of(&Ratio::ZERO).ok_or_else(unknown)?,
            of(&waters).ok_or_else(unknown)?,
            LIQUID_WATER
                .value()
                .parse()
                .map_err(Refusal::refused::<crate::number::Error>)?,
        ];
        let heat = HeatOfHydration::of(&hydrate, draw.weights()).map_err(Refusal::refused)?;
        let enthalpy = heat.enthalpy().filter(|enthalpy| enthalpy.is_negative());
        let enthalpy = enthalpy.ok_or_else(unknown)?.clone();
        let mass = draw.sample("0.01", 100)?;
        Ok(Hydration {
            heat: heat.mass(mass).map_err(Refusal::refused)?,
            water_mass: None,
            enthalpy,
            formation,
            waters,
            mass,
        })
    }

    /// Adds more water than the salt takes up: from a tenth more to twice as much.
    pub(super) fn with_much_water(self, draw: &mut Draw<'_>) -> Result<Hydration, Refusal> {
        let times = Ratio::from(draw.sampler.between(11, 20)) * Ratio::power_of_ten(-1);
        let water = self.needed_water()? * times;
        self.with_water(draw, &water)
    }

    /// Adds so much water that the temperature rises by 35 K to 70 K, as the estimate has it.
    pub(super) fn with_warm_water(self, draw: &mut Draw<'_>) -> Result<Hydration, Refusal> {
        let rise = Ratio::from(draw.sampler.between(35, 70));
        let none = || Refusal::Again("no mass of water fits");
        let joules = self.heat.heat().ok_or_else(none)? * -1000;
        let amount = self
            .mass
            .value()
            .checked_div(&self.molar(draw.exact())?)
            .ok_or_else(none)?;
        let capacity = joules.checked_div(&rise).ok_or_else(none)?;
        let of_water = capacity - amount * self.heat.heat_capacity();
        let excess = of_water.checked_div(&water_capacity()).ok_or_else(none)?;
        if !excess.is_positive() {
            return Err(none());
        }
        let water = self.needed_water()? + excess;
        self.with_water(draw, &water)
    }

    fn with_water(mut self, draw: &Draw<'_>, grams: &Ratio) -> Result<Hydration, Refusal> {
        let water = shown(grams, &draw.readability_or("0.01"))?;
        if water.value() <= self.needed_water()? {
            return Err(Refusal::Again("the water does not restore the hydrate"));
        }
        self.water_mass = Some(water);
        self.heat = self.heat.water_mass(water).map_err(Refusal::refused)?;
        Ok(self)
    }

    fn molar(&self, paths: &CarefulWork) -> Result<Ratio, Refusal> {
        let molar = paths.molar_mass(self.salt());
        let molar = molar.ok_or(Refusal::Again("the salt has no molar mass"))?;
        Ok(molar.low().clone())
    }

    fn needed_water(&self) -> Result<Ratio, Refusal> {
        self.heat
            .restoring_water()
            .ok_or(Refusal::Again("no mass is given"))
    }

    pub(super) fn salt(&self) -> &Formula {
        self.heat.salt()
    }

    pub(super) fn hydrate(&self) -> &Formula {
        self.heat.hydrate()
    }

    /// The amount of salt in moles along some paths, as an intermediate value.
    pub(super) fn amount(&self, paths: &CarefulWork) -> Option<Interval> {
        let mass = Interval::point(self.mass.value());
        paths.kept(&mass.over(&paths.molar_mass(self.salt())?)?)
    }

    /// The mass of water that the salt takes up, in grams.
    pub(super) fn water(&self, paths: &CarefulWork) -> Option<Interval> {
        let waters = Interval::point(self.waters.clone());
        let water = paths.molar_mass(&Formula::water())?;
        Some(self.amount(paths)?.times(&waters).times(&water))
    }

    /// What a hydrate and the water left over take up for each kelvin, in joules.
    pub(super) fn capacity(&self, paths: &CarefulWork) -> Option<Interval> {
        let capacity = Interval::point(self.heat.heat_capacity().clone());
        let of_crystals = self.amount(paths)?.times(&capacity);
        let left_over = Interval::point(self.water_mass?.value()).minus(&self.water(paths)?);
        Some(of_crystals.plus(&left_over.times(&Interval::point(water_capacity()))))
    }

    /// The quantity along some paths.
    pub(super) fn value(&self, quantity: HeatQuantity, paths: &CarefulWork) -> Option<Interval> {
        let heat = || {
            let enthalpy = Interval::point(self.enthalpy.clone());
            Some(self.amount(paths)?.times(&enthalpy))
        };
        match quantity {
            HeatQuantity::Heat => heat(),
            HeatQuantity::Water => self.water(paths),
            HeatQuantity::Enthalpy => Some(Interval::point(self.enthalpy.clone())),
            HeatQuantity::Rise => {
                let joules = paths
                    .kept(&heat()?)?
                    .times(&Interval::point(Ratio::from(-1000)));
                let rise = joules.over(&paths.kept(&self.capacity(paths)?)?)?;
                // The result of the request is rounded to two significant figures.
                let stated = self.heat.temperature_rise()?.to_figures(2, TieRule::Even);
                Some(rise.join(Interval::point(stated.value())))
            }
        }
    }
}

pub(super) fn water_capacity() -> Ratio {
    Reading::literal(WATER_CAPACITY).value()
}
