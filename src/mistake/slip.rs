//! The catalogue of slips: wrong steps on work. A row holds a slip's code, its name, what the
//! pupil should look at, and its arithmetic; the next slip is one row more.

use alloc::vec::Vec;
use core::fmt;

use super::arithmetic as by;
use super::rounding;
use super::student_work::{MistakenMasses, StudentWork};
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
    /// The values that it gives for a quantity, from what stands on the work.
    Values(fn(&StudentWork<'_>, Quantity) -> Vec<Interval>),
    /// Whether a written number comes of it where the right value lies in this interval.
    Writing(fn(&Interval, &Reading) -> bool),
    /// Both: in a step before, or in writing the answer.
    Either(
        fn(&StudentWork<'_>, Quantity) -> Vec<Interval>,
        fn(&Interval, &Reading) -> bool,
    ),
}

macro_rules! catalogue {
    ($($slip:ident $code:literal, $name:literal, $look:literal, $arithmetic:expr;)+) => {
        /// A wrong step on work: a value that careful work from the same readings cannot give,
        /// and that one known mistake does.
        ///
        /// The order is the one in which slips of equal merit are told.
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
            /// All of them, in order.
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
        "x is the amount of water divided by the amount of salt, not the other way round",
        One(Quantity::Ratio, by::ratio_inverted);
    MassRatioForMoleRatio "mass_ratio_for_mole_ratio", "a ratio of masses for the ratio of amounts",
        "turn each mass into an amount, with its own molar mass, before you divide",
        One(Quantity::Ratio, |work| work.water.over(&work.residue));
    MassFractionForRatio "mass_fraction_for_ratio", "the mass fraction of water for the mole ratio",
        "the mass of water over the mass of hydrate is a mass fraction; x compares amounts of water and of salt",
        One(Quantity::Ratio, |work| work.water.over(&work.hydrate));
    MoleFractionForRatio "mole_fraction_for_ratio", "the mole fraction of water for the mole ratio",
        "divide by the amount of salt alone, not by the amounts of salt and water together",
        One(Quantity::Ratio, by::mole_fraction_for_ratio);
    MolWaterAsRatio "mol_water_as_ratio", "the amount of water for the mole ratio",
        "the amount of water still has to be divided by the amount of salt",
        One(Quantity::Ratio, |work| work.mol_water().cloned());
    SaltWaterSwapped "salt_water_swapped", "salt and water exchanged",
        "what stays in the crucible is the salt, and what has left it is the water",
        Values(by::salt_water_swapped);
    PercentOfResidue "percent_of_residue", "the percentage taken of the residue",
        "the percentage is of the hydrate that you weighed in, not of what was left of it",
        One(Quantity::PercentWater, |work| percent(&work.water, &work.residue));
    PercentSaltForWater "percent_salt_for_water", "the percentage of salt for that of water",
        "this is the share of what stayed; the water is what left",
        One(Quantity::PercentWater, |work| Some(by::number(100).minus(work.expected(Quantity::PercentWater)?)));
    PercentOfGrossMass "percent_of_gross_mass", "the percentage taken of the mass with the container",
        "take the empty container off before you divide",
        One(Quantity::PercentWater, by::percent_of_gross_mass);
    FractionForPercent "fraction_for_percent", "a fraction for a percentage",
        "the fraction still has to be multiplied by 100 %",
        One(Quantity::PercentWater, |work| work.water.over(&work.hydrate));
    OneWaterOnly "one_water_only", "the theory for one molecule of water",
        "the formula does not have just one water, and a percentage from your own masses needs no formula at all",
        One(Quantity::PercentWater, by::one_water_only);
    TheoryCopied "theory_copied", "the value of the book, which the readings deny",
        "your own readings do not give this value; work it out from them",
        Values(by::theory_copied);
    DegreeAssumed "degree_assumed", "the number of waters taken as known",
        "the number of waters is what you are looking for, so no molar mass may contain it",
        Values(by::degree_assumed);
    FirstHeatingUsed "first_heating_used", "a weighing from before constant mass",
        "use the last weighing, after the mass had become constant",
        Values(by::first_heating_used);
    HeatingsMixed "heatings_mixed", "water from one heating, salt from another",
        "take both masses from the same weighing, the last one",
        Values(by::heatings_mixed);
    LossesAdded "losses_added", "the losses of several heatings added",
        "each weighing already shows everything lost so far, so the last one alone gives the loss",
        Values(by::losses_added);
    LastLossOnly "last_loss_only", "the loss of the last heating alone",
        "the water is all that has left since the hydrate was weighed in, not only what the last heating drove off",
        Values(by::last_loss_only);
    ContainerNotSubtracted "container_not_subtracted", "the container left in",
        "the mass of the empty container is still in it, or in a mass that it comes from",
        Values(by::container_not_subtracted);
    HydrateMassAsSalt "hydrate_mass_as_salt", "the mass of the hydrate for that of the salt",
        "the amount of salt comes from what was left after heating, not from what you weighed in",
        Values(by::hydrate_mass_as_salt);
    HydrateMolarMassForSalt "hydrate_molar_mass_for_salt", "the molar mass of the hydrate for that of the salt",
        "what is left is the anhydrous salt, so its molar mass has no water in it",
        Values(by::hydrate_molar_mass_for_salt);
    WrongWaterMolarMass "wrong_water_molar_mass", "a wrong molar mass of water",
        "count the atoms of H2O again: two of hydrogen and one of oxygen",
        Values(by::wrong_water_molar_mass);
    SubscriptDropped "subscript_dropped", "a subscript or bracket overlooked in the molar mass",
        "add up the molar mass of the salt again, with every subscript and bracket",
        Values(by::subscript_dropped);
    MultipliedByMolarMass "multiplied_by_molar_mass", "multiplied by the molar mass",
        "an amount is the mass divided by the molar mass",
        Values(by::multiplied_by_molar_mass);
    DigitsTransposed "digits_transposed", "two neighbouring digits exchanged",
        "compare each digit with the reading or the display that you copied it from",
        Either(by::reading_transposed, by::answer_transposed);
    SubtractionError "subtraction_error", "a subtraction that is off by one in one digit",
        "do the subtraction again, with the borrowed digits",
        Values(by::subtraction_error);
    SignReversed "sign_reversed", "the sign reversed",
        "subtract the smaller mass from the larger; neither a mass nor a ratio of them is below nought",
        Values(by::sign_reversed);
    RoundedEarly "rounded_early", "values rounded too early",
        "keep each mass as the balance shows it and each amount to three figures or more, and round only the answer",
        Values(rounding::rounded_early);
    Truncated "truncated", "digits cut off, not rounded",
        "look at the first digit that you leave out: from 5 on the last one kept goes up",
        Writing(rounding::truncated);
    FactorOfThousand "factor_of_thousand", "a factor of a thousand",
        "look at the units: 1 g is 1000 mg, and 1 mol is 1000 mmol",
        Values(by::factor_of_thousand);
}

impl Slip {
    /// The stable name of the slip, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.row().code
    }

    /// What somebody who made it should look at: a clause that may follow a colon.
    #[must_use]
    pub const fn look_at(self) -> &'static str {
        self.row().look
    }

    /// The values that the slip gives for a quantity of a bench, worked out with the bench's own
    /// weights and without rounding. Empty where the slip cannot be made there, or where it is made
    /// in writing and so depends on the digits written.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Quantity, Weighings};
    /// use effloresce::{mistake::Slip, number::TieRule};
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
    /// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
    /// let issued = "MgSO4·7H2O".parse()?;
    /// let values = Slip::RatioInverted.values(&run, &bench, &issued, Quantity::Ratio);
    /// assert_eq!(values[0].to_decimal_places(4, TieRule::Even).to_string(), "0.1431");
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
        let mistaken = MistakenMasses::new(issued, &paths);
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
            Values(values) | Either(values, _) if work.can_give(quantity) => values(work, quantity),
            One(only, value) if only == quantity => value(work).into_iter().collect(),
            _ => Vec::new(),
        }
    }

    /// Whether the slip leads to the number that was handed in, to the digits written.
    pub(crate) fn gives(
        self,
        work: &StudentWork<'_>,
        quantity: Quantity,
        reported: &Reading,
    ) -> bool {
        let written = match self.row().arithmetic {
            Writing(written) | Either(_, written) => work
                .expected(quantity)
                .is_some_and(|right| written(right, reported)),
            One(..) | Values(_) => false,
        };
        written
            || self
                .intervals(work, quantity)
                .iter()
                .any(|interval| interval.admits(reported))
    }

    /// Every slip that leads from a bench's own readings to a number, to the digits written, in the
    /// catalogue's order. Empty where none does; it is for the caller to ask first whether
    /// the number is right ([`Interval::admits`]).
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
        let mistaken = MistakenMasses::new(issued, &paths);
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

#[cfg(feature = "serde")]
impl serde::Serialize for Slip {
    /// As its code.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::collections::BTreeSet;

    #[test]
    fn each_slip_has_its_own_row() {
        assert_eq!(Slip::ALL.len(), 29);
        for slip in Slip::ALL {
            assert!(!slip.look_at().ends_with('.'), "{slip}");
        }
        let codes: BTreeSet<&str> = Slip::ALL.iter().map(|slip| slip.code()).collect();
        assert_eq!(codes.len(), 29);
    }
}
