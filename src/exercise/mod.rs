//! Problems from a seed, each solved before it is let out, with keys, options, and help in stages.
//!
//! A problem has a [`Kind`] and a [`Level`]. It carries the [`Request`] of the JSON-lines contract that solves it,
//! with the numbers as its prompt prints them. So anybody can solve it again.
//!
//! ```
//! use effloresce::exercise::{Exercises, Kind};
//! let set = Exercises::new(1).kinds([Kind::PercentWater]).set(3)?;
//! for problem in set.problems() {
//!     println!("{}\n  {}", problem.prompt(), problem.answer());
//! }
//! # Ok::<(), effloresce::exercise::Error>(())
//! ```
//!
//! # What stays the same
//!
//! The same choices give the same problems, on every machine and in every release that names the same
//! [`generator`](ExerciseSet::generator). The problem at a place depends on the seed, its kind, the place and the
//! choices, not on the number of problems. Numbers are drawn from `ChaCha20` (RFC 8439). Salts, reactions and
//! wordings come from a pool with a version.
//!
//! # What is proved
//!
//! - The crate solves the request of each problem, and the answer is that value, rounded as the prompt asks.
//! - The tolerance is what careful work can give, widened by half a unit of the last place asked for. Careful work
//!   uses the printed weights or finer ones, and keeps as many significant figures on the way as the answer has.
//! - No wrong step that the kind knows gives a value inside the tolerance.
//! - The first two stages of help do not hold the answer.
//! - What is heated in a problem may be heated in a school.
//!
//! A draw that fails is drawn again, at most 200 times.
//!
//! # An author's own
//!
//! A [`Template`] is a problem in TOML: [`Template::read`] explains one line by line, and [`Template::check`] finds
//! what is wrong with it. [`OwnSalts`] are the hydrates of a course. [`Exercises::weights`] takes its data booklet, and
//! [`ExerciseSet::weights_used`] says which weights a set uses.

// Files in order; each uses only those before it:
//   error          what can be wrong with what is asked of a set
//   sampler        whole numbers from a seed
//   careful        the answers that careful work can give
//   kind           the kinds of problem, and their levels
//   skill          what a problem practises
//   wrong_step     the wrong steps that options come from
//   decimal_comma  decimal commas in a text for people
//   field          the fields of a request
//   given          values that a prompt gives and a request does not have
//   request        a request of the JSON-lines contract
//   numbers        the numbers of a wording and of a request
//   solve          requests solved: one file an operation
//   pool           the lists that problems are drawn from, by version
//   hydrate        a hydrate that problems may be about
//   hydrates       the hydrates of the pool
//   answer_part    what may be chosen for a part of an answer
//   draft          what a kind draws, before it is proved
//   problem        a problem that has been solved
//   consistency    whether a problem that was saved contradicts itself
//   author         salts and templates of an author's own
//   course         what an author chooses
//   draw           what a kind draws from
//   options        the right answer among the values of wrong steps
//   proof          the proof of a problem
//   kinds          one file a kind
//   templates      problems drawn from templates, and templates checked
//   set            a set of problems
//   versions       versions of a set
//   weights_used   the atomic weights that a set uses
//   set_notes      what sets say as well as their problems, and what counts as right
//   prompt         the parts of a prompt
//   serde          problems in the shape of the JSON-lines contract

mod answer_part;
mod author;
mod careful;
#[cfg(feature = "serde")]
mod consistency;
mod course;
mod decimal_comma;
mod draft;
mod draw;
mod error;
mod field;
mod given;
mod hydrate;
mod hydrates;
mod kind;
mod kinds;
mod numbers;
mod options;
mod pool;
mod problem;
#[cfg(any(feature = "report", feature = "qti"))]
mod prompt;
mod proof;
mod request;
mod sampler;
#[cfg(feature = "serde")]
mod serde;
mod set;
#[cfg(any(feature = "report", feature = "qti"))]
mod set_notes;
mod skill;
mod solve;
mod templates;
mod versions;
mod weights_used;
mod wrong_step;

pub use answer_part::{AnswerPart, PartChoice};
pub use author::{OwnSalts, Template};
pub use course::Exercises;
pub use error::{Error, ErrorKind};
pub use field::Field;
pub use given::GivenValue;
pub use kind::{Kind, Level};
#[cfg(feature = "qti")]
pub(crate) use kinds::species_name;
#[cfg(all(test, feature = "qti"))]
pub(crate) use pool::{EQUATIONS, REACTIONS, SALTS};
pub use problem::{Choice, Exercise};
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use prompt::{PromptBlock, PromptTable, as_printed, prompt_blocks};
pub use request::{Operation, Request};
pub use set::ExerciseSet;
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use set_notes::{SetNote, heating_note, short_ends, weights_note};
pub use skill::Skill;
pub use solve::Solved;
pub use wrong_step::WrongStep;
