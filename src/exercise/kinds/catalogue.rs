//! All kinds: another one is a file and a line here.

use super::balance;
use super::empirical;
use super::error_analysis;
use super::factor;
use super::percent_water;
use super::row::KindRow;
use super::stages;
use crate::exercise::kind::Kind;

impl KindRow {
    pub(in crate::exercise) const fn of(kind: Kind) -> &'static KindRow {
        match kind {
            Kind::Empirical => &empirical::KIND,
            Kind::Factor => &factor::KIND,
            Kind::Balance => &balance::KIND,
            Kind::PercentWater => &percent_water::KIND,
            Kind::Stages => &stages::KIND,
            Kind::ErrorAnalysis => &error_analysis::KIND,
            _ => &percent_water::KIND,
        }
    }
}
