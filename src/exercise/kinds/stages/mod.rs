//! What heating in stages leaves and drives off.

// Files in order; each uses only those before it:
//   heating  a solid heated in stages: the values of careful work and of wrong steps
//   words    a share of a mass in words
//   prompt   the wordings
//   kind     how a problem is drawn

mod heating;
mod kind;
mod prompt;
mod words;

pub(super) use kind::KIND;
