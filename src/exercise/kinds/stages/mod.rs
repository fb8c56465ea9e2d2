//! What heating in stages leaves and drives off.

// Files in order; each uses only those before it:
//   staged_solid  a solid heated in stages: the values of careful work and of wrong steps
//   words         a share of a mass in words
//   prompt        the wordings
//   kind          how a problem is drawn

mod kind;
mod prompt;
mod staged_solid;
mod words;

pub(super) use kind::KIND;
pub(super) use staged_solid::{StageQuantity, StagedSolid};
