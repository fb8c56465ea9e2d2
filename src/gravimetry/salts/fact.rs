//! The kinds of fact about a salt, and a row of the catalogue.

use super::severity::Severity;
use super::source::Source;
use super::suitability::Suitability;
use super::waste::Waste;

/// One fact about an anhydrous salt, with its source.
pub(super) struct FactRow {
    pub(super) salt: &'static str,
    pub(super) fact: Fact,
    pub(super) source: Source,
}

pub(super) const fn row(salt: &'static str, fact: Fact, source: Source) -> FactRow {
    FactRow { salt, fact, source }
}

/// A fact. Degrees of hydration are numbers of water for each formula unit of the salt (`8/3`), and
/// temperatures are in degrees Celsius.
pub(super) enum Fact {
    /// A solid hydrate of this degree has been described. Heating need not stop there. Left out are
    /// hydrates that no bottle contains at room temperature.
    Degree(&'static str),
    /// Bottles of the salt usually hold the hydrate of this degree, which is not the highest.
    Bottled(&'static str),
    /// Teaching laboratories give out its hydrates.
    Taught,
    /// No solid hydrate is known at room temperature.
    NoHydrate,
    /// The mass stands still for a while at the hydrate of this degree, in an open crucible and moving air.
    Plateau(&'static str),
    /// The same under the water vapour that a heap or a lid keeps. A school's crucible is between the two,
    /// so both count.
    VapourPlateau(&'static str),
    /// Heating reaches no lower hydrate.
    NoPlateau,
    /// A stage of heating: the degree that it starts from, what is left (a degree, `0` for the anhydrous
    /// salt, or the formula of another residue), the range of temperature, and the conditions.
    Stage(&'static str, &'static str, [u16; 2], &'static str),
    /// The residue of overheating, the number of its formula units for each of the salt, and the gases.
    /// Of several rows for a salt, the first is reached first. An adduct such as K2SO4·Al2O3 is a
    /// mixture in that proportion. Gases that the source does not name follow from what the solid
    /// loses. SO3 is then partly SO2 and O2.
    Residue(&'static str, &'static str, &'static str),
    /// The temperature at which the source calls the decomposition of the residue before it marked. It
    /// begins below.
    MarkedFrom(u16),
    /// The visible sign of the residue before it.
    Sign(&'static str),
    /// Nobody sees that the salt is heated too far: the reason, as a clause.
    NoSign(&'static str),
    /// A burner leaves all of the salt, or nothing.
    HeatRemark(&'static str),
    /// The suitability for loss on heating, and the reason as a clause.
    Suited(Suitability, &'static str),
    /// The hottest stage that leaves the anhydrous salt whole.
    SafeUpTo(u16),
    /// No stage leaves the anhydrous salt whole: the reason, as a clause.
    NoSafeStage(&'static str),
    /// The hydrate of this degree melts in its own water and spits, at this temperature if it is known.
    MeltsInItsWater(&'static str, Option<u16>),
    /// The codes of the hazard statements. Suppliers differ.
    Hazards(&'static [&'static str]),
    /// A hazard in the words of its source.
    HazardWords(&'static str),
    /// The source does not classify the salt as hazardous. Suppliers differ.
    NotClassified,
    /// The care that it needs in a school.
    SchoolCare(Severity),
    /// The waste route of the salt and its residue.
    WasteRoute(Waste),
    /// The standard enthalpy of formation of the solid hydrate of this degree at 298.15 K, in kJ for
    /// each mole of the salt in it.
    Enthalpy(&'static str, &'static str),
}
