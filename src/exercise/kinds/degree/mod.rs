//! What the kinds that ask for the formula of a hydrate share.

// Files in order; each uses only those before it:
//   words     words of prompts
//   sample    a sample, and the request about it
//   expected  what exactly a hydrate gives
//   draft     a problem, with what its readings show and what wrong steps make of them

mod draft;
mod expected;
mod sample;
mod words;

pub(super) use draft::{DegreeAsked, DegreeDraft, drafted, level_skill};
pub(super) use sample::{compared_hydrate, degrees, lower_hydrate, offered, request, weighed};
pub(super) use words::{ASK_FORMULA, BENCHES, MassContext, ask_ratio, doubt, salt_name};
