//! Exercise sets: every printed prompt is solved again by arithmetic of its own, and sets are as various, as fair
//! and as stable as they say.

mod author;
mod kinds;
mod paper;
mod sets;
#[cfg(feature = "serde")]
mod snapshots;
mod versions;
mod wording;
