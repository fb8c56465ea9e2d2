//! What a text leaves open: the lenient reader notes it, the strict one may refuse it.

use crate::formula::lex::Typo;
use crate::formula::repr::Count;
use crate::text::Span;

/// What a text leaves open.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Ambiguity {
    /// A full stop that may be an adduct dot or a decimal point.
    Dot(Span),
    /// Water in brackets at the end of a part.
    BracketedWater(Count),
    /// A typing error that makes another formula.
    Typo(Typo),
    /// A full stop at the end of the text.
    FullStop(Span),
}
