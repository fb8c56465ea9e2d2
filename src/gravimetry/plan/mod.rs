//! The masses to weigh out for a class, planned before anything is weighed.

// Files in order; each uses only those before it:
//   precision  how well a mass of hydrate fixes the degree
//   limits     the least mass of hydrate, by three rules
//   commonest  the hydrate that is meant if only its salt is named
//   reason     what a plan says of the salt and of the masses
//   class_plan the plan for a class
//   sample     what is expected of a mass of hydrate, and the published stages

mod class_plan;
mod commonest;
mod limits;
mod precision;
mod reason;
mod sample;

pub use class_plan::{Plan, PlannedBalance};
pub use commonest::commonest_hydrate;
pub use limits::MassLimits;
pub use sample::PlannedSample;
