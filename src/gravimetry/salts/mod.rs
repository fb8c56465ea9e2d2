//! The catalogue of salts: one file a family, one fact a row, each row with its source.

// Files in order; each uses only those before it:
//   source               the publications
//   sourced              a fact together with its publication
//   liquid_water         the enthalpy of formation of liquid water
//   suitability          how well a salt suits the experiment
//   severity             how much care a salt needs in a school
//   waste                what becomes of the residue
//   hazard_statement     the hazard statements of the Globally Harmonized System
//   fact                 the kinds of fact, and a row
//   sulfates             the rows of the sulfates
//   double_sulfates      the rows of the double sulfates and the alums
//   halides              the rows of the fluorides, chlorides, bromides and iodides
//   halates              the rows of the chlorates, bromates, iodates, perchlorates and hypochlorites
//   carbonates           the rows of the carbonates
//   nitrates             the rows of the nitrates and nitrites
//   phosphates           the rows of the phosphates and arsenates
//   sulfur_and_selenium  the rows of the sulfides, sulfites, thiosulfates, selenates and selenites
//   oxides_and_acids     the rows of the hydroxides, the borates, the oxo acids and the salts of metal acids
//   complexes            the rows of the salts of complex anions
//   organic              the rows of the organic acids and their salts
//   decomposition        what is left of a salt that is heated too far
//   heating_stage        one stage of heating
//   salt_facts           what the catalogue knows of one salt
//   catalogue            the facts of a salt, found by its composition

mod carbonates;
mod catalogue;
mod complexes;
mod decomposition;
mod double_sulfates;
mod fact;
mod halates;
mod halides;
mod hazard_statement;
mod heating_stage;
mod liquid_water;
mod nitrates;
mod organic;
mod oxides_and_acids;
mod phosphates;
mod salt_facts;
mod severity;
mod source;
mod sourced;
mod suitability;
mod sulfates;
mod sulfur_and_selenium;
#[cfg(test)]
mod tests;
mod waste;

pub(crate) use catalogue::other_salts;
#[cfg(feature = "class")]
pub(crate) use catalogue::written_salts;
pub use catalogue::{
    decomposition, decompositions, known_hydrates, known_salts, plateau_hydrates, salt_facts,
};
pub use decomposition::Decomposition;
pub use hazard_statement::HazardStatement;
pub use heating_stage::HeatingStage;
pub(crate) use liquid_water::LIQUID_WATER;
pub use salt_facts::SaltFacts;
pub use severity::Severity;
pub use sourced::Sourced;
pub use suitability::Suitability;
pub use waste::Waste;
