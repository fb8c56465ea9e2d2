//! What an author gives without Rust: salts, atomic weights, templates.

mod check;
mod hostile;
mod salts;
mod templates;
mod units;
mod weights;
mod words;

use effloresce::exercise::Template;

pub(crate) const PRECIPITATE: &str =
    include_str!("../../../examples/data/template_precipitate.toml");
pub(crate) const WATER: &str = include_str!("../../../examples/data/template_water.toml");

pub(crate) fn template(text: &str) -> Template {
    Template::read(text).unwrap_or_else(|error| panic!("{error:?}"))
}

/// A template with one part of its text changed.
pub(crate) fn edited(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}
