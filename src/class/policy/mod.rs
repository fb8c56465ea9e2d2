//! What a teacher decides about marks: how many an answer earns, how far it may lie from the key,
//! what figures cost, and what the stock really holds.

// Files in order; each uses only those before it:
//   mark_step   the smallest difference of marks
//   tolerance   how far a value may lie from the key, and what it earns there
//   rules       the policy itself, built by its methods
//   toml_value  a value of a TOML text, with its key and its span
//   from_toml   a policy read from TOML
//   serde       a policy in serialised data

mod from_toml;
mod mark_step;
mod rules;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;
mod tolerance;
mod toml_value;

pub use mark_step::MarkStep;
pub use rules::{FiguresRule, FormulaRule, Policy, Stock};
pub use tolerance::{Band, Tolerance};
#[cfg(feature = "exercise")]
pub(crate) use toml_value::{TomlMembers, TomlValue, members, no_toml, required};
