//! What stands on a paper before one step of it goes wrong: the bench's readings and what was
//! rightly worked out from them.

use alloc::vec::Vec;

use crate::formula::Formula;
use crate::gravimetry::{
    ContainerWeighings, DefensiblePaths, Dehydration, Interval, MassOrAmount, NUMERIC_QUANTITIES,
    Quantity, Weighings, percent,
};
use crate::number::Ratio;

/// What people take for the molar masses of the salt and of water, worked out once for a salt.
#[derive(Debug, Clone)]
pub(crate) struct MistakenMasses {
    /// Of the salt with a subscript or a bracket overlooked.
    salts: Vec<Interval>,
    /// O, OH and H2O2 for water.
    waters: Vec<Interval>,
    /// The degree of hydration issued, and the hydrate's molar mass.
    hydrate: Option<(Ratio, Interval)>,
}

impl MistakenMasses {
    pub(crate) fn new(issued: &Formula, paths: &DefensiblePaths) -> MistakenMasses {
        let unit = issued.one_formula_unit();
        let salts = unit.as_ref().map(|(salt, _)| salt.misreadings());
        let molar = |formulas: &[Formula]| -> Vec<Interval> {
            formulas
                .iter()
                .filter_map(|f| paths.molar_mass(f))
                .collect()
        };
        MistakenMasses {
            salts: molar(&salts.unwrap_or_default()),
            waters: molar(&Formula::mistaken_for_water()),
            hydrate: unit.and_then(|(salt, waters)| {
                let hydrate = salt.with_waters(&waters)?;
                Some((waters, paths.molar_mass(&hydrate)?))
            }),
        }
    }
}

/// A paper up to the step that goes wrong. Each value is the interval of what careful work gives, or
/// one value where the paper is worked without any rounding.
pub(crate) struct StudentWork<'a> {
    pub(crate) paths: &'a DefensiblePaths,
    mistaken: &'a MistakenMasses,
    pub(crate) weighings: Option<&'a ContainerWeighings>,
    /// The masses as the paper has them; relative ones where only a percentage is known.
    pub(crate) hydrate: Interval,
    pub(crate) residue: Interval,
    pub(crate) water: Interval,
    /// Whether they are masses, from which amounts follow.
    weighed: bool,
    /// The least step of the balance as a power of ten.
    pub(crate) places: i32,
    expected: [Option<Interval>; NUMERIC_QUANTITIES],
}

impl<'a> StudentWork<'a> {
    /// The paper of a bench whose values lie in these intervals, in the order of [`Quantity::ALL`].
    /// `None` where there is nothing to go on.
    pub(crate) fn new(
        run: &Dehydration,
        weighings: &'a Weighings,
        paths: &'a DefensiblePaths,
        mistaken: &'a MistakenMasses,
        expected: [Option<Interval>; NUMERIC_QUANTITIES],
    ) -> Option<StudentWork<'a>> {
        let (hydrate, residue, water, weighed) = match &expected {
            [Some(h), Some(s), Some(w), ..] => (h.clone(), s.clone(), w.clone(), true),
            [_, _, _, Some(percent), ..] => {
                let hundred = Interval::point(Ratio::from(100));
                let residue = hundred.minus(percent);
                (hundred, residue, percent.clone(), false)
            }
            _ => return None,
        };
        Some(StudentWork {
            paths,
            mistaken,
            weighings: weighings.container_weighings(),
            hydrate,
            residue,
            water,
            weighed,
            places: run.decimal_places(),
            expected,
        })
    }

    /// What is right for a quantity.
    pub(crate) fn expected(&self, quantity: Quantity) -> Option<&Interval> {
        self.expected.get(quantity as usize)?.as_ref()
    }

    /// Replaces one value by what was handed in.
    #[cfg(feature = "class")]
    pub(crate) fn replace(&mut self, quantity: Quantity, value: Interval) {
        match quantity {
            Quantity::HydrateMass => self.hydrate = value.clone(),
            Quantity::ResidueMass => self.residue = value.clone(),
            Quantity::WaterMass => self.water = value.clone(),
            _ => {}
        }
        if let Some(expected) = self.expected.get_mut(quantity as usize) {
            *expected = Some(value);
        }
    }

    /// Works out anew whatever was not handed in, from what was.
    #[cfg(feature = "class")]
    pub(crate) fn recalculate(&mut self, handed_in: impl Fn(Quantity) -> bool) {
        if !self.weighed {
            return;
        }
        let amount_or =
            |work: &StudentWork<'_>, quantity, mass: &Interval| match work.expected(quantity) {
                Some(amount) if handed_in(quantity) => MassOrAmount::Amount(amount.clone()),
                _ => MassOrAmount::Mass(mass.clone()),
            };
        let anew = [
            (Quantity::PercentWater, percent(&self.water, &self.hydrate)),
            (Quantity::MolSalt, self.paths.mol_salt(&self.residue)),
            (Quantity::MolWater, self.paths.mol_water(&self.water)),
            (
                Quantity::Ratio,
                self.paths.ratio(
                    &amount_or(self, Quantity::MolWater, &self.water),
                    &amount_or(self, Quantity::MolSalt, &self.residue),
                ),
            ),
        ];
        for (quantity, value) in anew {
            if let (false, Some(value)) = (handed_in(quantity), value) {
                self.replace(quantity, value);
            }
        }
    }

    pub(crate) fn mol_salt(&self) -> Option<&Interval> {
        self.expected(Quantity::MolSalt)
    }

    pub(crate) fn mol_water(&self) -> Option<&Interval> {
        self.expected(Quantity::MolWater)
    }

    pub(crate) fn ratio(&self) -> Option<&Interval> {
        self.expected(Quantity::Ratio)
    }

    /// Whether the quantity depends on the masses themselves, and they are known.
    pub(crate) fn can_give(&self, quantity: Quantity) -> bool {
        self.weighed || matches!(quantity, Quantity::PercentWater | Quantity::Ratio)
    }

    /// The degree of hydration issued, and the hydrate's molar mass.
    pub(crate) fn issued(&self) -> Option<(&Ratio, &Interval)> {
        self.mistaken.hydrate.as_ref().map(|(n, molar)| (n, molar))
    }

    pub(crate) fn mistaken_salts(&self) -> &[Interval] {
        &self.mistaken.salts
    }

    pub(crate) fn mistaken_waters(&self) -> &[Interval] {
        &self.mistaken.waters
    }

    /// The ratio that these masses of water and salt give, as careful work goes on.
    pub(crate) fn ratio_of(&self, water: &Interval, salt: &Interval) -> Option<Interval> {
        self.ratio_by(water, self.paths.water(), salt, self.paths.salt())
    }

    /// The same with these molar masses.
    pub(crate) fn ratio_by(
        &self,
        water: &Interval,
        water_molar: &Interval,
        salt: &Interval,
        salt_molar: &Interval,
    ) -> Option<Interval> {
        let (water, salt) = (
            MassOrAmount::Mass(water.clone()),
            MassOrAmount::Mass(salt.clone()),
        );
        self.paths
            .ratio_by([&water, &salt], [water_molar, salt_molar])
    }

    /// What follows for a quantity where these masses of residue and water are taken for the
    /// bench's.
    pub(crate) fn with_masses(
        &self,
        quantity: Quantity,
        residue: Option<&Interval>,
        water: Option<&Interval>,
    ) -> Option<Interval> {
        match quantity {
            Quantity::HydrateMass | Quantity::Formula => None,
            Quantity::ResidueMass => residue.cloned(),
            Quantity::WaterMass => water.cloned(),
            Quantity::PercentWater => percent(water?, &self.hydrate),
            Quantity::MolSalt => self.paths.mol_salt(residue?),
            Quantity::MolWater => self.paths.mol_water(water?),
            Quantity::Ratio => self.ratio_of(
                water.unwrap_or(&self.water),
                residue.unwrap_or(&self.residue),
            ),
        }
    }
}
