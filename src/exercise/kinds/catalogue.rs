//! All kinds: another one is a file and a line here.

use super::row::KindRow;
use super::{
    balance, empirical, error_analysis, factor, formula_from_masses, formula_from_percent,
    formula_from_weighings, heat, mixture, molar_mass, percent_water, reaction, stages,
};
use crate::exercise::kind::Kind;

impl KindRow {
    pub(in crate::exercise) const fn of(kind: Kind) -> &'static KindRow {
        match kind {
            Kind::Empirical => &empirical::KIND,
            Kind::Factor => &factor::KIND,
            Kind::Balance => &balance::KIND,
            Kind::FormulaFromMasses => &formula_from_masses::KIND,
            Kind::FormulaFromPercent => &formula_from_percent::KIND,
            Kind::FormulaFromWeighings => &formula_from_weighings::KIND,
            Kind::Limiting => &reaction::LIMITING,
            Kind::SampleMass => &reaction::SAMPLE_MASS,
            Kind::Yield => &reaction::YIELD,
            Kind::MolarMass => &molar_mass::KIND,
            Kind::PercentWater => &percent_water::KIND,
            Kind::Mixture => &mixture::KIND,
            Kind::Heat => &heat::KIND,
            Kind::Stages => &stages::KIND,
            Kind::ErrorAnalysis => &error_analysis::KIND,
        }
    }
}
