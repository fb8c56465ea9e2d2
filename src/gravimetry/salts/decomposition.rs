//! What is left of a salt that is heated too far.

use super::source::Source;
use super::sourced::Sourced;
use crate::formula::Formula;
use crate::number::Ratio;

/// The decomposition of an anhydrous salt that is heated too far.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Decomposition {
    residue: Formula,
    per_salt: Ratio,
    gases: &'static str,
    marked: Option<Sourced<u16>>,
    sign: Option<Sourced<&'static str>>,
    source: Source,
}

impl Decomposition {
    /// The decomposition of these rows; `None` if they do not parse.
    pub(super) fn new(
        residue: &str,
        per_salt: &str,
        gases: &'static str,
        source: Source,
    ) -> Option<Decomposition> {
        Some(Decomposition {
            residue: residue.parse().ok()?,
            per_salt: per_salt.parse().ok()?,
            gases,
            marked: None,
            sign: None,
            source,
        })
    }

    pub(super) fn mark(&mut self, celsius: Sourced<u16>) {
        self.marked = Some(celsius);
    }

    pub(super) fn show(&mut self, sign: Sourced<&'static str>) {
        self.sign = Some(sign);
    }

    /// The solid that is left. An adduct (`K2SO4·Al2O3`) is a mixture in that proportion.
    #[must_use]
    pub fn residue(&self) -> &Formula {
        &self.residue
    }

    /// The number of formula units of residue from each formula unit of salt.
    #[must_use]
    pub fn per_salt(&self) -> &Ratio {
        &self.per_salt
    }

    /// The gases other than steam that are given off, joined by ` + `; empty if there are none.
    #[must_use]
    pub fn gases(&self) -> &'static str {
        self.gases
    }

    /// The temperature from which the decomposition is marked, in degrees Celsius, if a source gives
    /// one. The decomposition begins below it.
    #[must_use]
    pub fn marked_from_celsius(&self) -> Option<u16> {
        self.marked.map(|celsius| *celsius.value())
    }

    /// The publication that gives that temperature.
    #[must_use]
    pub fn marked_source(&self) -> Option<&'static str> {
        self.marked.map(|celsius| celsius.source())
    }

    /// The visible sign of the decomposition, if there is one. Colour is a hint, not the end point.
    #[must_use]
    pub fn sign(&self) -> Option<&'static str> {
        self.sign.map(|sign| *sign.value())
    }

    /// The publication that names the sign, or the words that there is none.
    #[must_use]
    pub fn sign_source(&self) -> Option<&'static str> {
        self.sign.map(|sign| sign.source())
    }

    /// The publication that names the residue, or the words that there is none.
    #[must_use]
    pub fn source(&self) -> &'static str {
        self.source.publication()
    }

    /// Whether a burner can heat a crucible to this decomposition (common practice, no source).
    pub(crate) fn within_reach(&self) -> bool {
        const HOTTEST_CRUCIBLE: u16 = 1000;
        self.marked
            .is_none_or(|celsius| *celsius.value() <= HOTTEST_CRUCIBLE)
    }
}
