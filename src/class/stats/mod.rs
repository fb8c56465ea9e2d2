//! The class as a whole: centre, spread, confidence, outliers, and scatter beyond what the readings
//! explain.

// Files in order; each uses only those before it:
//   level       levels of confidence, and how many benches a spread needs
//   centre      where values lie and how far they spread
//   student     points of Student's t and of χ²
//   grubbs      Grubbs' test for an outlier
//   dixon       Dixon's test for an outlier
//   esd         the generalised test for several outliers
//   outlier     all three tests, on values and on benches
//   scatter     whether benches scatter more than their uncertainties explain
//   pooled      mean, median and spread of several benches
//   statistics  all statistics of a list of values
//   overview    the benches of a class: pools, outliers, scatter

mod centre;
mod dixon;
mod esd;
mod grubbs;
mod level;
mod outlier;
mod overview;
mod pooled;
mod scatter;
mod statistics;
mod student;

pub(super) use outlier::ClassBench;
pub use outlier::{BenchGroup, Outlier, OutlierTest, Suspect, Tails};
pub(super) use overview::Overview;
pub use pooled::{IssuedPool, Pooled};
pub use scatter::ExcessScatter;
pub use statistics::Statistics;
