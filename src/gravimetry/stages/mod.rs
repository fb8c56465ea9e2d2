//! Heating in stages: what each stage leaves, what it loses, and which stages fit losses that were
//! observed.

// Files in order; each uses only those before it:
//   arising   how many formula units of a residue arise from a solid
//   gases     the gases that account for a loss
//   stage     the stages of a sequence of residues
//   working   the steps from molar masses to losses
//   caution   the cautions for the solid and for the gases of its stages
//   sequence  the sequences of a salt that fit observed losses
//   serde     stages in the shape of the JSON-lines contract

mod arising;
mod caution;
mod gases;
mod sequence;
#[cfg(feature = "serde")]
mod serde;
mod stage;
#[cfg(test)]
mod tests;
mod working;

pub(super) use arising::{Solid, arising};
pub use sequence::SequenceFit;
pub use stage::{Stage, Stages};
