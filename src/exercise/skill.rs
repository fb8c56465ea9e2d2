//! What a problem practises.

use super::error::{Error, ErrorKind};

/// A skill that a problem practises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Skill {
    /// Reading a formula, with brackets and waters.
    ReadFormula,
    /// Writing the formula of a named substance.
    ReadName,
    /// Adding up a molar mass.
    MolarMass,
    /// A mass fraction from a formula.
    MassFraction,
    /// An amount of substance from a mass.
    AmountFromMass,
    /// A mass from an amount of substance.
    MassFromAmount,
    /// An amount from the concentration and the volume of a solution.
    Concentration,
    /// The share of an impure sample that is the substance.
    Purity,
    /// A ratio of amounts.
    MoleRatio,
    /// Subtracting the mass of a container.
    SubtractContainer,
    /// Judging whether a mass is constant.
    ConstantMass,
    /// Finding the whole number that a result means.
    NearestWholeNumber,
    /// Balancing an equation.
    BalanceEquation,
    /// Finding the limiting reactant.
    LimitingReactant,
    /// A percent yield.
    PercentYield,
    /// A gravimetric factor.
    GravimetricFactor,
    /// Heating in stages.
    HeatingStages,
    /// Two unknowns from two equations.
    TwoUnknowns,
    /// An empirical formula.
    EmpiricalFormula,
    /// A molecular formula.
    MolecularFormula,
    /// Heat from an enthalpy.
    HeatFromEnthalpy,
    /// Comparing two substances or two results.
    Compare,
    /// Judging readings: a fault at the bench, a slip on paper.
    JudgeReadings,
}

crate::text::codes! {
    Skill, "skills", Error(ErrorKind::UnknownCode);
    ReadFormula => "read_formula",
    ReadName => "read_name",
    MolarMass => "molar_mass",
    MassFraction => "mass_fraction",
    AmountFromMass => "amount_from_mass",
    MassFromAmount => "mass_from_amount",
    Concentration => "concentration",
    Purity => "purity",
    MoleRatio => "mole_ratio",
    SubtractContainer => "subtract_container",
    ConstantMass => "constant_mass",
    NearestWholeNumber => "nearest_whole_number",
    BalanceEquation => "balance_equation",
    LimitingReactant => "limiting_reactant",
    PercentYield => "percent_yield",
    GravimetricFactor => "gravimetric_factor",
    HeatingStages => "heating_stages",
    TwoUnknowns => "two_unknowns",
    EmpiricalFormula => "empirical_formula",
    MolecularFormula => "molecular_formula",
    HeatFromEnthalpy => "heat_from_enthalpy",
    Compare => "compare",
    JudgeReadings => "judge_readings",
}
