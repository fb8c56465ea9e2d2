//! The catalogue of slips: wrong steps on paper. A row has the code of a slip, its name, an
//! instruction for the pupil, and its arithmetic. Another slip is one more row.

use alloc::vec::Vec;
use core::fmt;

use super::arithmetic as by;
use super::error::{Error, ErrorKind};
use super::rounding;
use super::student_work::{MistakenMasses, StudentWork, confused_salts};
use crate::formula::Formula;
use crate::gravimetry::{Dehydration, Interval, Quantity, Weighings, percent};
use crate::number::{Ratio, Reading};

/// One row of the catalogue.
struct SlipRow {
    code: &'static str,
    name: &'static str,
    look: &'static str,
    arithmetic: Arithmetic,
}

/// The way in which a slip gives its value.
enum Arithmetic {
    /// The value that it gives for one quantity only.
    One(Quantity, fn(&StudentWork<'_>) -> Option<Interval>),
    /// The values that it gives for a quantity, from the work so far.
    Values(fn(&StudentWork<'_>, Quantity) -> Vec<Interval>),
    /// The numbers that it gives for the right value, written with so many decimal places.
    Writing(fn(&Interval, i32) -> Vec<Interval>),
    #[cfg_attr(
        not(feature = "class"),
        allow(dead_code, reason = "the list is used by the marker")
    )]
    /// Both: in an earlier step, or in writing the answer. The test of a written number lists none,
    /// because there may be many.
    Either(
        fn(&StudentWork<'_>, Quantity) -> Vec<Interval>,
        fn(&Interval, i32) -> Vec<Interval>,
        fn(&Interval, &Reading) -> bool,
    ),
}

macro_rules! catalogue {
    ($($slip:ident $code:literal, $name:literal, $look:literal, $arithmetic:expr;)+) => {
        /// A wrong step on paper. It gives a value that careful work from the same readings cannot
        /// give.
        ///
        /// Slips that fit equally well are listed in this order.
        ///
        /// ```
        /// use effloresce::mistake::Slip;
        /// assert_eq!(Slip::RatioInverted.code(), "ratio_inverted");
        /// assert_eq!(Slip::RatioInverted.to_string(), "the mole ratio upside down");
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[non_exhaustive]
        pub enum Slip {
            $(#[doc = concat!("`", $code, "`: ", $name, ".")] $slip,)+
        }

        impl Slip {
            /// All slips, in order.
            pub const ALL: &'static [Slip] = &[$(Slip::$slip),+];
        }

        impl Slip {
            const fn row(self) -> &'static SlipRow {
                match self {
                    $(Slip::$slip => &SlipRow {
                        code: $code,
                        name: $name,
                        look: $look,
                        arithmetic: $arithmetic,
                    },)+
                }
            }
        }
    };
}

use Arithmetic::{Either, One, Values, Writing};

catalogue! {
    RatioInverted "ratio_inverted", "the mole ratio upside down",
        "divide the amount of water by the amount of salt, not the other way round",
        Values(by::ratio_inverted);
    MassRatioForMoleRatio "mass_ratio_for_mole_ratio", "a ratio of masses instead of a ratio of amounts",
        "divide each mass by its own molar mass before you work out the ratio",
        One(Quantity::Ratio, |work| work.water.over(&work.residue));
    MassFractionForRatio "mass_fraction_for_ratio", "the mass fraction of water instead of the mole ratio",
        "divide the amount of water by the amount of salt, not the mass of water by the mass of hydrate",
        One(Quantity::Ratio, |work| work.water.over(&work.hydrate));
    MoleFractionForRatio "mole_fraction_for_ratio", "the mole fraction of water instead of the mole ratio",
        "divide by the amount of salt alone, not by the amounts of salt and water together",
        Values(by::mole_fraction_for_ratio);
    MolWaterAsRatio "mol_water_as_ratio", "the amount of water instead of the mole ratio",
        "divide the amount of water by the amount of salt",
        One(Quantity::Ratio, |work| work.mol_water().cloned());
    SaltWaterSwapped "salt_water_swapped", "salt and water exchanged",
        "use the mass that stays in the crucible for the salt, and the mass that has left for the water",
        Values(by::salt_water_swapped);
    PercentOfResidue "percent_of_residue", "a percentage of the residue instead of the hydrate",
        "divide by the mass of hydrate that you started with, not by the mass left after heating",
        One(Quantity::PercentWater, |work| percent(&work.water, &work.residue));
    PercentSaltForWater "percent_salt_for_water", "the percentage of salt instead of water",
        "use the mass of water that has left, not the mass of salt that stayed",
        One(Quantity::PercentWater, |work| Some(by::number(100).minus(work.expected(Quantity::PercentWater)?)));
    PercentOfGrossMass "percent_of_gross_mass", "a percentage of the mass with the container",
        "subtract the mass of the empty container before you divide",
        One(Quantity::PercentWater, by::percent_of_gross_mass);
    FractionForPercent "fraction_for_percent", "a fraction instead of a percentage",
        "multiply the fraction by 100 %",
        One(Quantity::PercentWater, |work| work.water.over(&work.hydrate));
    OneWaterOnly "one_water_only", "the textbook value for one molecule of water",
        "use your own masses, because this percentage needs no formula",
        One(Quantity::PercentWater, by::one_water_only);
    TextbookValue "textbook_value", "the textbook value, which does not match the readings",
        "work this value out from your own readings, because they give a different value",
        Values(by::textbook_value);
    DegreeAssumed "degree_assumed", "the number of waters used as if it were known",
        "use the molar masses of the anhydrous salt and of water, because your masses must show the number of waters",
        Values(by::degree_assumed);
    FirstHeatingUsed "first_heating_used", "a weighing from before constant mass",
        "use the last weighing, after the mass became constant",
        Values(by::first_heating_used);
    HeatingsMixed "heatings_mixed", "water from one heating, salt from another",
        "take both masses from the same weighing, the last one",
        Values(by::heatings_mixed);
    LossesAdded "losses_added", "the losses of several heatings added",
        "use the last weighing alone, because it already shows everything lost so far",
        Values(by::losses_added);
    LastLossOnly "last_loss_only", "the loss of the last heating alone",
        "use the whole loss since the start, not only that of the last heating",
        Values(by::last_loss_only);
    ContainerNotSubtracted "container_not_subtracted", "the container not subtracted",
        "subtract the mass of the empty container from each mass that still contains it",
        Values(by::container_not_subtracted);
    HydrateMassAsSalt "hydrate_mass_as_salt", "the mass of the hydrate instead of the salt",
        "use the mass left after heating for the salt, not the mass of hydrate that you started with",
        Values(by::hydrate_mass_as_salt);
    HydrateMolarMassForSalt "hydrate_molar_mass_for_salt", "the molar mass of the hydrate instead of the salt",
        "use the molar mass of the anhydrous salt, without any water",
        Values(by::hydrate_molar_mass_for_salt);
    WrongWaterMolarMass "wrong_water_molar_mass", "a wrong molar mass of water",
        "count the atoms of H2O again, two of hydrogen and one of oxygen",
        Values(by::wrong_water_molar_mass);
    SubscriptDropped "subscript_dropped", "a subscript or bracket overlooked in the molar mass",
        "add up the molar mass of the salt again, with every subscript and bracket",
        Values(|work, quantity| by::with_salt_molars(work, quantity, work.misread_salts()));
    MultipliedByMolarMass "multiplied_by_molar_mass", "multiplied by the molar mass",
        "divide the mass by the molar mass",
        Values(by::multiplied_by_molar_mass);
    DigitsTransposed "digits_transposed", "two neighbouring digits exchanged",
        "compare each digit with the reading or the display that you copied it from",
        Either(by::reading_transposed, by::transposed_answers, by::answer_transposed);
    SubtractionError "subtraction_error", "a subtraction that is off by one in one digit",
        "do the subtraction again, and check every digit that you borrow",
        Values(by::subtraction_error);
    SignReversed "sign_reversed", "the sign reversed",
        "subtract the smaller mass from the larger one, because no mass and no ratio is negative",
        Values(by::sign_reversed);
    RoundedEarly "rounded_early", "values rounded too early",
        "keep all digits of each mass and at least three significant figures of each amount, and round only the answer",
        Values(rounding::rounded_early);
    Truncated "truncated", "digits cut off instead of rounded",
        "round up if the first digit that you leave out is 5 or more",
        Writing(rounding::truncated);
    FactorOfTen "factor_of_ten", "the decimal point in the wrong place",
        "check the place of the decimal point",
        Values(by::decimal_point);
    FactorOfThousand "factor_of_thousand", "a factor of a thousand",
        "check your units, because 1 g is 1000 mg and 1 mol is 1000 mmol",
        Values(|work, quantity| by::factor_of(1000, work, quantity));
    PercentInverted "percent_inverted", "the percentage upside down",
        "divide the mass of water by the mass of hydrate, not the other way round",
        One(Quantity::PercentWater, |work| percent(&work.hydrate, &work.water));
    HydrateMassAsWater "hydrate_mass_as_water", "the mass of the hydrate instead of the water",
        "use the mass that has left for the water, not the mass of hydrate that you started with",
        Values(by::hydrate_mass_as_water);
    AtomMiscounted "atom_miscounted", "one atom too many or too few in the molar mass",
        "add up the molar mass of the salt again, and count the atoms of each element",
        Values(|work, quantity| by::with_salt_molars(work, quantity, work.miscounted_salts()));
    OtherSalt "other_salt", "another salt, or its molar mass",
        "use the formula and the molar mass of the salt that you were given",
        Values(|work, quantity| by::with_salt_molars(work, quantity, work.other_salts()));
    ResidualWaterMiscounted "residual_water_miscounted", "the water that stays in the residue counted wrongly",
        "use the molar mass of what heating leaves, and add the water that it still holds to your ratio",
        Values(by::residual_water_miscounted);
}

impl Slip {
    /// The stable name of the slip, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.row().code
    }

    /// The instruction for the pupil, as a clause without capital and full stop.
    #[must_use]
    pub const fn look_at(self) -> &'static str {
        self.row().look
    }

    /// The amounts that the slip makes wrong on the way to a mole ratio.
    #[cfg(feature = "class")]
    pub(crate) const fn wrong_amounts(self) -> &'static [Quantity] {
        match self {
            Slip::HydrateMassAsSalt
            | Slip::HydrateMolarMassForSalt
            | Slip::SubscriptDropped
            | Slip::AtomMiscounted
            | Slip::OtherSalt
            | Slip::DegreeAssumed => &[Quantity::MolSalt],
            Slip::HydrateMassAsWater
            | Slip::WrongWaterMolarMass
            | Slip::LossesAdded
            | Slip::LastLossOnly => &[Quantity::MolWater],
            Slip::SaltWaterSwapped
            | Slip::FirstHeatingUsed
            | Slip::HeatingsMixed
            | Slip::ContainerNotSubtracted
            | Slip::MultipliedByMolarMass => &[Quantity::MolSalt, Quantity::MolWater],
            _ => &[],
        }
    }

    /// Returns the values that the slip gives for a quantity of a bench, with the bench's own atomic
    /// weights and without rounding. The list is empty if the slip cannot be made there, or if it
    /// depends on the digits written.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Quantity, Weighings};
    /// use effloresce::{mistake::Slip, number::TieRule};
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
    /// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
    /// let issued = "MgSO4·7H2O".parse()?;
    /// let values = Slip::RatioInverted.values(&run, &bench, &issued, Quantity::Ratio);
    /// assert_eq!(values[0].to_places(4, TieRule::Even).to_string(), "0.1431");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn values(
        self,
        run: &Dehydration,
        weighings: &Weighings,
        issued: &Formula,
        quantity: Quantity,
    ) -> Vec<Ratio> {
        let paths = run.unrounded_path();
        let others = confused_salts(issued, &[]);
        let mistaken = MistakenMasses::new(issued, &paths, &others);
        let own = Quantity::ALL.map(|quantity| run.value(quantity).map(Interval::point));
        let [h, s, w, p, salt, water, ratio, _] = own;
        let own = [h, s, w, p, salt, water, ratio];
        let Some(work) = StudentWork::new(run, weighings, &paths, &mistaken, own) else {
            return Vec::new();
        };
        let mut values: Vec<Ratio> = Vec::new();
        for interval in self.intervals(&work, quantity) {
            if !values.contains(interval.low()) {
                values.push(interval.low().clone());
            }
        }
        values
    }

    fn intervals(self, work: &StudentWork<'_>, quantity: Quantity) -> Vec<Interval> {
        match self.row().arithmetic {
            Values(values) | Either(values, ..) if work.can_give(quantity) => {
                values(work, quantity)
            }
            One(only, value) if only == quantity => value(work).into_iter().collect(),
            _ => Vec::new(),
        }
    }

    /// Whether the slip gives exactly the digits of the reported number.
    pub(crate) fn gives(
        self,
        work: &StudentWork<'_>,
        quantity: Quantity,
        reported: &Reading,
    ) -> bool {
        let admit = |intervals: Vec<Interval>| intervals.iter().any(|i| self.admits(i, reported));
        let written = |right: &Interval| match self.row().arithmetic {
            Writing(written) => admit(written(right, reported.decimal_places())),
            Either(_, _, is_written) => is_written(right, reported),
            One(..) | Values(_) => false,
        };
        work.expected(quantity).is_some_and(written) || admit(self.intervals(work, quantity))
    }

    /// Whether a value of the slip rounds to a number. The book does not print its values so coarsely that
    /// they change by more than 5 %: 1 is not its 0.5.
    fn admits(self, values: &Interval, number: &Reading) -> bool {
        let is_near = || {
            let value = values.low();
            (number.value() - value).abs() * 20 <= *value
        };
        values.admits(number) && (self != Slip::TextbookValue || is_near())
    }

    /// Returns the numbers that the slip gives, in an earlier step or written with so many decimal places.
    #[cfg(feature = "class")]
    pub(super) fn written(
        self,
        work: &StudentWork<'_>,
        quantity: Quantity,
        decimal_places: i32,
    ) -> Vec<Interval> {
        let mut all = self.intervals(work, quantity);
        if let Writing(written) | Either(_, written, _) = self.row().arithmetic {
            let right = work.expected(quantity);
            all.extend(
                right
                    .into_iter()
                    .flat_map(|right| written(right, decimal_places)),
            );
        }
        all
    }

    /// Returns every slip that gives exactly the digits of a reported number from a bench's own
    /// readings, in the order of the catalogue. Check first whether the number is right
    /// ([`Interval::admits`]).
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Quantity, Weighings};
    /// use effloresce::mistake::Slip;
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
    /// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
    /// let issued = "MgSO4·7H2O".parse()?;
    /// let slips = Slip::explaining(&run, &bench, &issued, Quantity::PercentWater, &"104.6".parse()?);
    /// assert_eq!(slips, [Slip::PercentOfResidue]);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn explaining(
        run: &Dehydration,
        weighings: &Weighings,
        issued: &Formula,
        quantity: Quantity,
        reported: &Reading,
    ) -> Vec<Slip> {
        let paths = run.paths();
        let others = confused_salts(issued, &[]);
        let mistaken = MistakenMasses::new(issued, &paths, &others);
        let own = run.defensible_along(&paths).into_intervals();
        StudentWork::new(run, weighings, &paths, &mistaken, own)
            .map(|work| Slip::leading_to(&work, quantity, reported))
            .unwrap_or_default()
    }

    pub(crate) fn leading_to(
        work: &StudentWork<'_>,
        quantity: Quantity,
        reported: &Reading,
    ) -> Vec<Slip> {
        let all = Slip::ALL.iter().copied();
        all.filter(|slip| slip.gives(work, quantity, reported))
            .collect()
    }
}

impl fmt::Display for Slip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.row().name)
    }
}

crate::text::codes!(Slip, code, "slips", Error(ErrorKind::UnknownCode));

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::collections::BTreeSet;

    #[test]
    fn each_slip_has_its_own_row() {
        assert_eq!(Slip::ALL.len(), 35);
        for slip in Slip::ALL {
            assert!(!slip.look_at().ends_with('.'), "{slip}");
        }
        let codes: BTreeSet<&str> = Slip::ALL.iter().map(|slip| slip.code()).collect();
        assert_eq!(codes.len(), 35);
    }
}
