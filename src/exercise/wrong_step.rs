//! The wrong steps that wrong options come from: the slips of marking, and those of other problems.

use alloc::format;
use alloc::string::String;

use crate::mistake::Slip;
use crate::text::sentence;

/// A wrong step on the way to an answer. A wrong option is the value that it gives.
///
/// ```
/// use effloresce::exercise::WrongStep;
/// use effloresce::mistake::Slip;
/// let step = WrongStep::from(Slip::RatioInverted);
/// assert_eq!(step.code(), "ratio_inverted");
/// assert!(step.feedback().starts_with("This is the mole ratio upside down."));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct WrongStep {
    code: alloc::borrow::Cow<'static, str>,
    name: alloc::borrow::Cow<'static, str>,
    instead: alloc::borrow::Cow<'static, str>,
}

macro_rules! wrong_steps {
    ($($constant:ident $code:literal, $name:literal, $instead:literal;)+) => {
        impl WrongStep {
            $(
                #[doc = concat!("`", $code, "`: ", $name, ".")]
                pub(super) const $constant: WrongStep = WrongStep::row($code, $name, $instead);
            )+

            /// All wrong steps that are not slips of marking, in order of their codes.
            pub const ALL: &'static [WrongStep] = &[$(WrongStep::$constant),+];
        }
    };
}

// In order of their codes. A name completes "This is …", an instruction completes "You …" without "you".
wrong_steps! {
    ADDED_MASSES "added_masses", "the sum of the masses of the reactants",
        "work out which reactant is used up first, because the rest of the other one forms nothing";
    ALL_WATER_LOST "all_water_lost", "the value for the loss of all the water",
        "count only the waters that have left when the residue that you were asked for is there";
    ALL_WATER_TAKEN_UP "all_water_taken_up", "the heat as if all the water were taken up",
        "use the amount of salt, because the salt is used up first";
    ALL_WATER_WARMED "all_water_warmed", "the rise as if the heat warmed all the water and nothing else",
        "subtract the water that the salt takes up, and add the heat capacity of the crystals";
    ATOM_LEFT_OUT "atom_left_out", "the value with one atom too few in a molar mass",
        "count the atoms of each element in the formula again";
    ATOMIC_NUMBER "atomic_number", "the formula by atomic numbers",
        "divide each mass by the molar mass of its element";
    ATOMIC_NUMBERS_ADDED "atomic_numbers_added", "the sum of the atomic numbers",
        "add up the molar masses of the elements";
    BOUND_WATER_COUNTED_TWICE "bound_water_counted_twice", "the rise with the water in the crystals counted twice",
        "subtract the water that the salt takes up from the mass of water";
    COEFFICIENT_AS_GIVEN "coefficient_as_given", "the coefficient that the problem gives",
        "count the atoms of each element before and after the arrow";
    COEFFICIENTS_IGNORED "coefficients_ignored", "the value for a mole ratio of one to one",
        "use the coefficients of the equation in the mole ratio";
    COUNTS_EXCHANGED "counts_exchanged", "the formula with the numbers of atoms exchanged",
        "write each number after its own element";
    CRYSTALS_NOT_WARMED "crystals_not_warmed", "the rise without the crystals",
        "add the heat capacity of the crystals to that of the water left over";
    EMPIRICAL_FORMULA "empirical_formula", "the empirical formula",
        "divide the molar mass by that of the empirical formula, and multiply each number by the result";
    ENTHALPY_OF_EACH_WATER "enthalpy_of_each_water", "the enthalpy for each mole of water",
        "give the value for each mole of the anhydrous salt";
    EXCESS_REACTANT "excess_reactant", "the value by the reactant that is in excess",
        "use the reactant with the least amount divided by its coefficient";
    FACTOR_INVERTED "factor_inverted", "the value with the gravimetric factor upside down",
        "divide the molar mass of the substance sought by the molar mass of what is weighed";
    HEAT_FOR_EACH_WATER "heat_for_each_water", "the heat counted once for each water",
        "multiply the enthalpy by the amount of salt, not of water";
    HEAT_FOR_ONE_MOLE "heat_for_one_mole", "the heat for one mole of salt",
        "multiply it by the amount of salt in the sample";
    HEAT_OF_SAMPLE "heat_of_sample", "the heat of the sample",
        "give the value for one mole, which does not depend on the mass";
    HYDRATE_FOR_WATER "hydrate_for_water", "the mass of the hydrate instead of the water",
        "give only the water that the salt takes up";
    HYDRATE_WATER_FORGOTTEN "hydrate_water_forgotten", "the value with the molar mass of the salt without its water",
        "add the molar mass of all the waters to that of the salt";
    HYDRATE_WITH_ONE_WATER "hydrate_with_one_water", "the value with one water in the molar mass of the hydrate",
        "multiply the molar mass of water by the number of waters in the formula";
    HYDROGEN_NOT_DOUBLED "hydrogen_not_doubled", "the formula with one hydrogen atom for each water",
        "count two hydrogen atoms for each molecule of water";
    HYDROGEN_OF_WATER_ALONE "hydrogen_of_water_alone", "the molar mass with the number of waters on hydrogen alone",
        "multiply the whole molar mass of water, its oxygen, too";
    JOULES "joules", "the number in joules",
        "divide by 1000, because 1 kJ is 1000 J";
    LEFT_FOR_LOST "left_for_lost", "what is left instead of what has left",
        "divide the mass that leaves by the starting mass";
    LIMITING_BY_MASS "limiting_by_mass", "the value by the reactant with the smaller mass",
        "compare the amounts divided by their coefficients, not the masses";
    LOSS_AS_COMPONENT "loss_as_component", "the percentage of the mass that has left",
        "work out from this loss how much of the component there was";
    LOST_FOR_LEFT "lost_for_left", "what has left instead of what is left",
        "subtract what has left from the start";
    MASS_OF_HYDRATE "mass_of_hydrate", "the value from the mass of the hydrate",
        "use the mass of the anhydrous salt";
    MASSES_FOR_AMOUNTS "masses_for_amounts", "the value with the coefficients used for masses",
        "divide the mass by the molar mass first, because coefficients count amounts";
    MEASURED_VALUE "measured_value", "the value that was found, not that of the formula",
        "work the value out from the formula, because every measurement has an error";
    MOLAR_MASS_OF_OTHER "molar_mass_of_other", "the value with the molar mass of the other substance",
        "use the molar mass of the substance whose mass is given or sought";
    MOLAR_MASSES_EXCHANGED "molar_masses_exchanged", "the value with the two molar masses exchanged",
        "divide the mass that is given by its own molar mass, and multiply by that of the substance sought";
    MOLE_RATIO_INVERTED "mole_ratio_inverted", "the value with the mole ratio of the equation upside down",
        "multiply by the coefficient of the substance sought, and divide by that of the one given";
    MOLECULAR_FORMULA "molecular_formula", "the molecular formula",
        "give the simplest whole numbers of atoms; the molar mass is not needed";
    MOLECULES_FOR_ATOMS "molecules_for_atoms", "the formula by the molar masses of molecules such as O2",
        "divide each mass by the molar mass of single atoms";
    MULTIPLE_ON_FIRST "multiple_on_first", "the formula with the multiple on the first element alone",
        "multiply each number of the empirical formula";
    NEXT_MULTIPLE "next_multiple", "the formula of a neighbouring multiple",
        "divide the molar mass by that of the empirical formula";
    NEXT_WHOLE_NUMBER "next_whole_number", "a whole number that is not the nearest",
        "round the ratio to the nearest whole number";
    NOT_THE_SIMPLEST "not_the_simplest", "a formula with a common factor",
        "divide all numbers by their greatest common factor";
    NOT_YET_DRY "not_yet_dry", "a mass from before all the water has left",
        "work the mass out from the formula, because the crucible still holds water";
    ONE_STAGE_ONLY "one_stage_only", "the value for one stage alone",
        "count all that has left from the start to the end of the stage";
    ONE_WATER_ADDED "one_water_added", "the molar mass with one water",
        "multiply the molar mass of water by the number of waters in the formula";
    ONE_WATER_COUNTED "one_water_counted", "the value for one water in the formula",
        "multiply the molar mass of water by the number of waters in the formula";
    ONE_WATER_LEFT_IN "one_water_left_in", "the molar mass with one water left",
        "leave all the water out";
    ONE_WATER_LOST "one_water_lost", "the value for the loss of one water",
        "compare the two formulas, and count how many waters leave";
    ONLY_ONE_LOSES "only_one_loses", "the value as if only one component lost mass",
        "write the loss as the sum of what both lose";
    OTHER_COMPONENT "other_component", "the percentage of the other component",
        "check which of the two you were asked for";
    OTHER_ELEMENT "other_element", "the value by an element that is not kept",
        "use the element that all comes from the sample and is all weighed";
    OTHER_HYDRATE "other_hydrate", "another hydrate that is offered",
        "work out the mole ratio, and take the hydrate whose number of waters is nearest to it";
    OTHER_STAGE "other_stage", "the value of another stage",
        "check which residue you were asked for";
    OTHER_SUBSTANCE "other_substance", "the value of the other substance",
        "compare the two values, and give the one that you were asked for";
    OXYGEN_LEFT_OUT "oxygen_left_out", "the formula without oxygen",
        "find the mass of oxygen: the mass of the sample minus those of carbon and hydrogen";
    OXYGEN_OF_PRODUCTS "oxygen_of_products", "the formula with all oxygen of the products",
        "find the mass of oxygen: the mass of the sample minus those of carbon and hydrogen";
    PERCENT_NOT_OBTAINED "percent_not_obtained", "the percentage that was not obtained",
        "divide the mass obtained by the greatest mass possible";
    PERCENT_OF_MASS_LEFT "percent_of_mass_left", "a percentage of the mass after heating",
        "divide by the mass before heating";
    PERCENT_OF_REACTANT "percent_of_reactant", "a percentage of the mass of the reactant",
        "divide by the mass of product that the reactant can give";
    PERCENT_OF_STAGE_START "percent_of_stage_start", "a percentage of the mass at the start of the stage",
        "divide by the starting mass, before the first stage";
    PRECIPITATE_AS_SUBSTANCE "precipitate_as_substance", "the value for all of what is weighed",
        "multiply the mass that is weighed by the gravimetric factor";
    PRODUCT_AS_ELEMENT "product_as_element", "the formula with the masses of the products as if they were elements",
        "divide the mass of each product by its own molar mass";
    PRODUCT_NOT_REACTANT "product_not_reactant", "a product",
        "choose one of the reactants, because only a reactant can be used up";
    PROPORTION_INVERTED "proportion_inverted", "the value with the numbers of the two formulas exchanged",
        "count the atoms of the shared element in each formula";
    PROPORTION_LEFT_OUT "proportion_left_out", "the value for one formula of each",
        "count the atoms of the shared element in each formula";
    PURITY_FORGOTTEN "purity_forgotten", "the value for a pure sample",
        "multiply the mass of the sample by its purity";
    PURITY_INVERTED "purity_inverted", "the value with the purity upside down",
        "multiply the mass of the sample by its purity, and do not divide by it";
    RATIOS_ROUNDED_AT_ONCE "ratios_rounded_at_once", "the ratios rounded at once",
        "multiply the ratios by a small number until all are nearly whole";
    REACTANT_LEFT_OVER "reactant_left_over", "the reactant that is left over",
        "choose the reactant with the least amount divided by its coefficient";
    RESIDUE_AS_COMPONENT "residue_as_component", "the percentage of the mass that is left",
        "work out from the loss how much of each component there was";
    RESIDUE_OF_COMPONENT "residue_of_component", "the percentage for what heating leaves of the component",
        "use the molar mass of the component before heating";
    RESIDUE_UNITS_MISCOUNTED "residue_units_miscounted", "the value for as many formula units after as before",
        "balance the equation first, and count how many formula units of the residue arise";
    REST_OF_PRECIPITATE "rest_of_precipitate", "the value for the rest of what is weighed",
        "use the molar mass of the substance sought";
    ROUNDED_UP "rounded_up", "the next whole number above the mole ratio",
        "round the mole ratio to the nearest number of waters, not always up";
    SAMPLE_AS_PRECIPITATE "sample_as_precipitate", "the value from the mass of the sample",
        "multiply the mass that is weighed by the gravimetric factor";
    SIGN_OF_HEAT "sign_of_heat", "the value with the wrong sign",
        "give heat that is given off a minus sign";
    STAGES_ADDED "stages_added", "the loss of all stages so far",
        "use only the loss of the stage that you were asked for";
    SUM_OF_MOLAR_MASSES "sum_of_molar_masses", "the value with both molar masses added up",
        "divide by the molar mass of what is weighed alone";
    SUPERFLUOUS_MASS "superfluous_mass", "a mass that the answer does not need",
        "start from the mass of product that is wanted";
    USED_NOT_LEFT "used_not_left", "the mass that is used up",
        "subtract the mass used up from the mass at first";
    WATER_AS_VAPOUR "water_as_vapour", "the value for water vapour",
        "use the enthalpy of formation of liquid water";
    WATER_LEFT_OUT "water_left_out", "the molar mass without the water",
        "add the molar mass of each water in the formula";
    WATER_LEFT_OVER "water_left_over", "the mass of water that is left over",
        "give the water that the salt takes up";
    WATER_NOT_WARMED "water_not_warmed", "the rise without the water",
        "add the heat capacity of the water left over to that of the crystals";
}

/// The slips whose words of marking speak of a bench's own masses, with words for problems on paper.
const ON_PAPER: &[(Slip, &str, &str)] = &[
    (
        Slip::SaltWaterSwapped,
        "salt and water exchanged",
        "divide the mass of water by the molar mass of water, and the mass of salt by that of the salt",
    ),
    (
        Slip::PercentOfResidue,
        "a percentage of the salt instead of the hydrate",
        "divide by the mass of the whole hydrate, not by that of the salt in it",
    ),
    (
        Slip::PercentSaltForWater,
        "the percentage of salt instead of water",
        "use the mass of the water in the hydrate, not that of the salt",
    ),
    (
        Slip::OneWaterOnly,
        "the percentage of water in a hydrate with one water",
        "count all the waters in the formula",
    ),
    (
        Slip::HydrateMassAsSalt,
        "the mass of the hydrate instead of the salt",
        "use the mass of the salt without its water",
    ),
    (
        Slip::HydrateMassAsWater,
        "the mass of the hydrate instead of the water",
        "use the mass of the water alone",
    ),
];

impl WrongStep {
    const fn row(code: &'static str, name: &'static str, instead: &'static str) -> WrongStep {
        WrongStep {
            code: alloc::borrow::Cow::Borrowed(code),
            name: alloc::borrow::Cow::Borrowed(name),
            instead: alloc::borrow::Cow::Borrowed(instead),
        }
    }

    /// A wrong step of an author's own.
    pub(super) fn own(code: String, name: String, instead: String) -> WrongStep {
        WrongStep {
            code: code.into(),
            name: name.into(),
            instead: instead.into(),
        }
    }

    /// A slip in a problem on paper, where nothing is weighed or heated.
    pub(super) fn on_paper(slip: Slip) -> WrongStep {
        let row = ON_PAPER.iter().find(|(of, ..)| *of == slip);
        match row {
            Some((_, name, instead)) => WrongStep::row(slip.code(), name, instead),
            None => slip.into(),
        }
    }

    /// The same wrong step with other words on what to do instead.
    pub(super) fn instead(mut self, instead: &'static str) -> WrongStep {
        self.instead = instead.into();
        self
    }

    /// Returns the stable name of the wrong step.
    #[must_use]
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Returns what a pupil reads who chose the option: what the value is, and what to do instead.
    #[must_use]
    pub fn feedback(&self) -> String {
        format!("This is {}. {}", self.name, sentence(&self.instead))
    }

    /// Returns whether the step only moves the decimal point, so that its value may be far from the right one.
    pub(super) fn moves_the_point(&self) -> bool {
        let slips = [Slip::FactorOfTen, Slip::FactorOfThousand];
        *self == WrongStep::JOULES || slips.map(Slip::code).contains(&self.code())
    }
}

impl WrongStep {
    /// All wrong steps that have a code: the slips of marking as problems on paper word them, and those of problems.
    pub(super) fn known() -> impl Iterator<Item = WrongStep> {
        let slips = Slip::ALL.iter().map(|slip| WrongStep::on_paper(*slip));
        slips.chain(WrongStep::ALL.iter().cloned())
    }
}

impl From<Slip> for WrongStep {
    fn from(slip: Slip) -> WrongStep {
        let name = format!("{slip}");
        WrongStep::own(slip.code().into(), name, slip.look_at().into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_in_order_and_differ_from_those_of_slips() {
        let codes: alloc::vec::Vec<&str> = WrongStep::ALL.iter().map(WrongStep::code).collect();
        assert!(codes.is_sorted_by(|a, b| a < b), "{codes:?}");
        assert!(Slip::ALL.iter().all(|slip| !codes.contains(&slip.code())));
    }

    /// The list for authors of templates is `examples/data/wrong_steps.md`.
    #[test]
    fn the_list_for_authors_has_all_codes() {
        let known: alloc::vec::Vec<WrongStep> = WrongStep::known().collect();
        let codes = known.iter().map(|step| format!("`{}`", step.code));
        let mut codes: alloc::vec::Vec<String> = codes.collect();
        codes.sort();
        let list = include_str!("../../examples/data/wrong_steps.md");
        assert_eq!(list.trim_end(), codes.join(",\n"), "{}", codes.join(",\n"));
    }

    #[test]
    fn feedback_is_short_sentences() {
        let slips = Slip::ALL.iter().map(|slip| WrongStep::from(*slip));
        let on_paper = Slip::ALL.iter().map(|slip| WrongStep::on_paper(*slip));
        for step in slips.chain(on_paper).chain(WrongStep::ALL.iter().cloned()) {
            for sentence in step.feedback().split(". ") {
                assert!(sentence.split(' ').count() <= 25, "{sentence}");
            }
        }
    }
}
