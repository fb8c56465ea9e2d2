//! The values of wrong steps on the way to a heat, to a mass of water, or to a rise of temperature.

use alloc::vec::Vec;

use super::hydration::{HeatQuantity, Hydration, water_capacity};
use super::prompt::FORMATION;
use crate::exercise::careful::CarefulWork;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};

type WrongNumbers = Vec<(WrongStep, Ratio)>;

/// The enthalpy of vaporization of water at 25 °C in kJ/mol: the difference of its enthalpies of formation as vapour,
/// −241.82, and as a liquid, −285.83 (from memory).
const VAPORIZATION: &str = "44.01";

impl Hydration {
    /// The wrong steps with their values, the commonest first.
    pub(super) fn wrong(
        &self,
        form: &str,
        quantity: HeatQuantity,
        exact: &CarefulWork,
    ) -> Option<WrongNumbers> {
        match quantity {
            HeatQuantity::Heat => self.wrong_heats(form, exact),
            HeatQuantity::Water => self.wrong_waters(exact),
            HeatQuantity::Enthalpy => self.wrong_enthalpies(exact),
            HeatQuantity::Rise => self.wrong_rises(exact),
        }
    }

    /// The molar mass of the salt divided by that of the hydrate.
    fn salt_by_hydrate(&self, exact: &CarefulWork) -> Option<Ratio> {
        let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
        molar(self.salt())?.checked_div(&molar(self.hydrate())?)
    }

    fn heat_of_vapour(&self) -> Ratio {
        &self.enthalpy - &self.waters * Reading::literal(VAPORIZATION).value()
    }

    fn wrong_heats(&self, form: &str, exact: &CarefulWork) -> Option<WrongNumbers> {
        let right = self.value(HeatQuantity::Heat, exact)?.low().clone();
        let amount = self.amount(exact)?.low().clone();
        let mut wrong = Vec::from([
            (WrongStep::SIGN_OF_HEAT, -&right),
            (
                Slip::HydrateMolarMassForSalt.into(),
                &right * self.salt_by_hydrate(exact)?,
            ),
        ]);
        if let Some(water) = self.water_mass {
            let times = water.value().checked_div(self.water(exact)?.low())?;
            wrong.insert(0, (WrongStep::ALL_WATER_TAKEN_UP, &right * times));
        }
        if self.waters != Ratio::ONE {
            wrong.push((WrongStep::HEAT_FOR_EACH_WATER, &right * &self.waters));
        }
        let of_hydrate = right.checked_div(&self.salt_by_hydrate(exact)?)?;
        wrong.push((WrongStep::MASS_OF_HYDRATE, of_hydrate));
        if form == FORMATION {
            let heat = self.heat_of_vapour() * amount;
            wrong.push((WrongStep::WATER_AS_VAPOUR, heat));
        }
        wrong.push((WrongStep::HEAT_FOR_ONE_MOLE, self.enthalpy.clone()));
        wrong.push((WrongStep::JOULES, right * 1000));
        Some(wrong)
    }

    fn wrong_waters(&self, exact: &CarefulWork) -> Option<WrongNumbers> {
        let right = self.value(HeatQuantity::Water, exact)?.low().clone();
        let mut wrong = Vec::from([
            (
                Slip::HydrateMolarMassForSalt.into(),
                &right * self.salt_by_hydrate(exact)?,
            ),
            (WrongStep::HYDRATE_FOR_WATER, self.mass.value() + &right),
        ]);
        if let Some(water) = self.water_mass {
            wrong.insert(0, (WrongStep::WATER_LEFT_OVER, water.value() - &right));
        }
        if self.waters != Ratio::ONE {
            let one = right.checked_div(&self.waters)?;
            wrong.push((WrongStep::ONE_WATER_COUNTED, one));
        }
        let amount = self.amount(exact)?.low().clone();
        let ions = amount * &self.waters * 17;
        wrong.push((Slip::WrongWaterMolarMass.into(), ions));
        wrong.push((Slip::FactorOfTen.into(), right * Ratio::power_of_ten(-1)));
        Some(wrong)
    }

    fn wrong_enthalpies(&self, exact: &CarefulWork) -> Option<WrongNumbers> {
        let right = &self.enthalpy;
        let mut wrong = Vec::from([
            (WrongStep::SIGN_OF_HEAT, -right),
            (WrongStep::WATER_AS_VAPOUR, self.heat_of_vapour()),
        ]);
        if self.waters != Ratio::ONE {
            let each = right.checked_div(&self.waters)?;
            wrong.push((WrongStep::ENTHALPY_OF_EACH_WATER, each));
        }
        let of_sample = self.value(HeatQuantity::Heat, exact)?.low().clone();
        wrong.push((WrongStep::HEAT_OF_SAMPLE, of_sample));
        let tenth = right * Ratio::power_of_ten(-1);
        wrong.push((Slip::FactorOfTen.into(), tenth));
        Some(wrong)
    }

    fn wrong_rises(&self, exact: &CarefulWork) -> Option<WrongNumbers> {
        let joules = self.value(HeatQuantity::Heat, exact)?.low() * -1000;
        let all = self.water_mass?.value() * water_capacity();
        let whole = self.capacity(exact)?.low().clone();
        let of_crystals = self.amount(exact)?.low() * self.heat.heat_capacity();
        let left_over = &whole - &of_crystals;
        let rise = |capacity: &Ratio| joules.checked_div(capacity);
        let by_hydrate = rise(&whole)? * self.salt_by_hydrate(exact)?;
        Some(Vec::from([
            (
                WrongStep::BOUND_WATER_COUNTED_TWICE,
                rise(&(&all + &of_crystals))?,
            ),
            (WrongStep::CRYSTALS_NOT_WARMED, rise(&left_over)?),
            (WrongStep::WATER_NOT_WARMED, rise(&of_crystals)?),
            (WrongStep::ALL_WATER_WARMED, rise(&all)?),
            (Slip::HydrateMolarMassForSalt.into(), by_hydrate),
        ]))
    }
}
