//! Slips (wrong steps on paper, each with the value that it gives) and faults (wrong steps at the
//! bench), with a simulator of benches.
//!
//! A slip gives exactly the digits of an answer, and a fault does not. This distinguishes them.
//!
#![doc = include_str!("confusion.md")]
//!
#![doc = include_str!("reliability.md")]
//!
//! The picture shows the table of stated probabilities:
//!
#![doc = include_str!("reliability.svg")]

// Files in order; each uses only those before it:
//   error            what can be wrong with a simulation
//   fault            the faults at the bench
//   heated_salt      what heating makes of the hydrate that was issued
//   draws            uniform and normal deviates
//   fault_sizes      how large faults are, and how far a heating gets
//   balance          the balance of a simulated bench
//   misreading       a weighing that is written down wrongly
//   sample_state     the true masses of a sample while it is heated
//   simulated_bench  the readings of one simulated bench
//   simulator        the simulator of benches
//   diagnosis        which fault explains the readings of a bench
//   student_work     what a student has worked out before a slip
//   arithmetic       the value that each slip gives
//   rounding         the arithmetic of slips in rounding
//   slip             the catalogue of slips
//   chance           how often a number that is wrong at random would be called certain

mod arithmetic;
mod balance;
#[cfg(feature = "class")]
mod chance;
mod diagnosis;
mod draws;
mod error;
mod fault;
mod fault_sizes;
mod heated_salt;
mod misreading;
mod rounding;
mod sample_state;
mod simulated_bench;
mod simulator;
mod slip;
mod student_work;

pub use diagnosis::{
    Confidence, DiagnosedCheck, Diagnosis, Evidence, FaultHypothesis, MisreadingKind, NextStep,
    Priors, ProbableMisreading, SameMass,
};
pub use error::{Error, ErrorKind};
pub use fault::{Direction, Fault};
pub use simulated_bench::SimulatedBench;
pub use simulator::Simulator;
pub use slip::Slip;
#[cfg_attr(
    not(feature = "class"),
    allow(unused_imports, reason = "used by the marker")
)]
pub(crate) use student_work::{MistakenMasses, StudentWork, confused_salts};
