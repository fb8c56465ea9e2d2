//! The diagnosis of a bench: which fault explains its readings.

// Files in order; each uses only those before it:
//   priors               how probable each fault is before a reading is looked at
//   confidence           how sure people may be of a fault, in words
//   next_step            what a bench should do about a fault
//   log_normal           the densities of the likelihood
//   progress             how the water leaves
//   offsets              the offsets of all weighings over which a likelihood is summed
//   bench_readings       the readings of one bench in the form that the likelihoods need
//   likelihoods          the likelihood of the readings under each fault
//   other_readings       the readings that a balance may have shown instead
//   probable_misreading  the misreading that explains a bench's readings best
//   evidence             what in the readings speaks for a fault
//   findings             the evidence in the readings of a bench
//   fault_hypothesis     one fault with its probability, its evidence, and what to do next
//   same_mass            faults that mass alone does not distinguish
//   verdict              the diagnosis of a bench
//   diagnosed_check      the advice to a bench, joined with its diagnosis

mod bench_readings;
mod confidence;
mod diagnosed_check;
mod evidence;
mod fault_hypothesis;
mod findings;
mod likelihoods;
mod log_normal;
mod next_step;
mod offsets;
mod other_readings;
mod priors;
mod probable_misreading;
mod progress;
mod same_mass;
#[cfg(test)]
mod tests;
mod verdict;

pub use confidence::Confidence;
pub use diagnosed_check::DiagnosedCheck;
pub use evidence::Evidence;
pub use fault_hypothesis::FaultHypothesis;
pub use next_step::NextStep;
pub use other_readings::MisreadingKind;
pub use priors::Priors;
pub use probable_misreading::ProbableMisreading;
pub use same_mass::SameMass;
pub use verdict::Diagnosis;
