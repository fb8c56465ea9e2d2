//! A student's work before a wrong step: the readings of the bench, and the right values from them.

use alloc::vec::Vec;

use crate::formula::Formula;
use crate::gravimetry::{
    ContainerWeighings, DefensiblePaths, Dehydration, Interval, MassOrAmount, NUMERIC_QUANTITIES,
    Quantity, Weighings, other_salts, percent,
};
use crate::number::Ratio;

/// The wrong molar masses that people use for the salt and for water, worked out once for a salt.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MistakenMasses {
    /// The molar masses of the salt with a subscript or a bracket overlooked.
    misread_salts: Vec<Interval>,
    /// The molar masses of the salt with one atom more or fewer.
    miscounted_salts: Vec<Interval>,
    /// The molar masses of the other salts of the class and of the catalogue.
    other_salts: Vec<Interval>,
    /// The molar masses of O, OH and H2O2, used for water.
    waters: Vec<Interval>,
    /// The degree of hydration issued, and the hydrate's molar mass.
    hydrate: Option<(Ratio, Interval)>,
    /// The percentages of water that books print: what heating drives off, and all of it.
    textbook_percents: Vec<Interval>,
    /// The molar mass of the anhydrous salt, if the residue is a lower hydrate.
    anhydrous: Option<Interval>,
}

impl MistakenMasses {
    /// `others` are the salts that people confuse with the one issued.
    pub(crate) fn new(
        issued: &Formula,
        paths: &DefensiblePaths,
        others: &[Formula],
    ) -> MistakenMasses {
        let unit = issued.one_formula_unit();
        let salt = unit.as_ref().map(|(salt, _)| salt);
        let left = &paths.waters_left;
        let waters_left = paths.water_molar_mass.times(&Interval::point(left.clone()));
        let molar = |formulas: &[Formula]| -> Vec<Interval> {
            let known = formulas.iter().filter_map(|f| paths.molar_mass(f));
            known.collect()
        };
        let with_waters_left = |salts: &[Formula]| -> Vec<Interval> {
            let salts = molar(salts).into_iter();
            salts.map(|salt| salt.plus(&waters_left)).collect()
        };
        let hydrate = unit.as_ref().and_then(|(salt, degree)| {
            let hydrate = salt.with_waters(degree)?;
            Some((degree, hydrate))
        });
        let textbook_percents = hydrate.iter().flat_map(|(degree, hydrate)| {
            // The water that heating drives off, or all of it.
            let mut percents = paths.percent_by_each_table(&(*degree - left), hydrate);
            percents.extend(paths.percent_by_each_table(degree, hydrate));
            percents.into_iter().map(Interval::point)
        });
        MistakenMasses {
            misread_salts: with_waters_left(&salt.map(Formula::misreadings).unwrap_or_default()),
            miscounted_salts: with_waters_left(&salt.map(Formula::miscounts).unwrap_or_default()),
            other_salts: with_waters_left(others),
            waters: molar(&Formula::mistaken_for_water()),
            textbook_percents: textbook_percents.collect(),
            anhydrous: salt
                .filter(|_| !left.is_zero())
                .and_then(|salt| paths.molar_mass(salt)),
            hydrate: hydrate
                .and_then(|(degree, hydrate)| Some((degree.clone(), paths.molar_mass(&hydrate)?))),
        }
    }
}

/// The salts that people confuse with the one issued: those of the class, and those of the catalogue.
pub(crate) fn confused_salts(issued: &Formula, class_salts: &[Formula]) -> Vec<Formula> {
    let Some((salt, _)) = issued.one_formula_unit() else {
        return Vec::new();
    };
    let mut others = other_salts(&salt);
    for other in class_salts {
        if *other != salt && !others.contains(other) {
            others.push(other.clone());
        }
    }
    others
}

/// A student's work before a wrong step. Each value is the interval that careful work gives, or a
/// single value without any rounding.
pub(crate) struct StudentWork<'a> {
    pub(crate) paths: &'a DefensiblePaths,
    mistaken: &'a MistakenMasses,
    pub(crate) weighings: Option<&'a ContainerWeighings>,
    /// The masses that the student uses; relative ones if only a percentage is known.
    pub(crate) hydrate: Interval,
    pub(crate) residue: Interval,
    pub(crate) water: Interval,
    /// Whether these are masses in grams, from which amounts follow.
    weighed: bool,
    /// The decimal places of the balance.
    pub(crate) places: i32,
    expected: [Option<Interval>; NUMERIC_QUANTITIES],
}

impl<'a> StudentWork<'a> {
    /// Makes the work of a bench whose values lie in these intervals, in the order of
    /// [`Quantity::ALL`]; `None` if neither masses nor a percentage are known.
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

    /// The right value of a quantity.
    pub(crate) fn expected(&self, quantity: Quantity) -> Option<&Interval> {
        self.expected.get(quantity as usize)?.as_ref()
    }

    /// Replaces a value by the one that was handed in.
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

    /// Works out the values that were not handed in from those that were.
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
        let recalculated = [
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
        for (quantity, value) in recalculated {
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

    /// Whether the quantity can be worked out: most need masses in grams.
    pub(crate) fn can_give(&self, quantity: Quantity) -> bool {
        self.weighed || matches!(quantity, Quantity::PercentWater | Quantity::Ratio)
    }

    /// The degree of hydration issued, and the hydrate's molar mass.
    pub(crate) fn issued(&self) -> Option<(&Ratio, &Interval)> {
        self.mistaken.hydrate.as_ref().map(|(n, molar)| (n, molar))
    }

    pub(crate) fn textbook_percents(&self) -> &[Interval] {
        &self.mistaken.textbook_percents
    }

    /// The molar mass of the anhydrous salt, if the residue is a lower hydrate.
    pub(crate) fn anhydrous(&self) -> Option<&Interval> {
        self.mistaken.anhydrous.as_ref()
    }

    pub(crate) fn misread_salts(&self) -> &[Interval] {
        &self.mistaken.misread_salts
    }

    pub(crate) fn miscounted_salts(&self) -> &[Interval] {
        &self.mistaken.miscounted_salts
    }

    pub(crate) fn other_salts(&self) -> &[Interval] {
        &self.mistaken.other_salts
    }

    pub(crate) fn mistaken_waters(&self) -> &[Interval] {
        &self.mistaken.waters
    }

    /// The ratio that careful work gives from these masses of water and salt.
    pub(crate) fn ratio_of(&self, water: &Interval, salt: &Interval) -> Option<Interval> {
        let mass = |mass: &Interval| MassOrAmount::Mass(mass.clone());
        self.paths.ratio(&mass(water), &mass(salt))
    }

    /// The quotient of two amounts, of which the second is an intermediate value, rounded or not.
    pub(crate) fn quotient(&self, one: &Interval, other: &Interval) -> Option<Interval> {
        let amounts = [one, other].map(|amount| MassOrAmount::Mass(amount.clone()));
        let molar = Interval::point(Ratio::ONE);
        self.paths
            .quotient([&amounts[0], &amounts[1]], [&molar, &molar])
    }

    /// The ratio with these molar masses.
    pub(crate) fn ratio_by(
        &self,
        water: &Interval,
        water_molar: &Interval,
        salt: &Interval,
        salt_molar: &Interval,
    ) -> Option<Interval> {
        let mass = |mass: &Interval| MassOrAmount::Mass(mass.clone());
        let masses = [&mass(water), &mass(salt)];
        self.paths.ratio_by(masses, [water_molar, salt_molar])
    }

    /// The value of a quantity if these masses of residue and water are used.
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
