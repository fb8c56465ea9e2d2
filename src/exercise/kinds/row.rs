//! What a kind is made of.

use crate::exercise::draft::{DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::kind::Level;

/// A kind: its levels, and how a problem is drawn.
pub(in crate::exercise) struct KindRow {
    pub(in crate::exercise) levels: &'static [Level],
    pub(in crate::exercise) draw: fn(&mut Draw<'_>) -> Result<DraftProblem, Refusal>,
}
