//! How large a formula may be.

/// The longest text that is read as a formula, in bytes: every writer's text of the longest
/// canonical one is shorter.
pub(super) const MOST_BYTES: usize = 2048;
/// The longest canonical text of a formula, in bytes.
pub(super) const MOST_CANONICAL: usize = 512;
/// The deepest nesting of brackets.
pub(super) const MOST_DEPTH: usize = 16;
/// The most parts joined by dots.
pub(super) const MOST_PARTS: usize = 16;

/// The largest charge of a part: three digits after a caret.
pub(super) const MOST_CHARGE: i32 = 999;

/// More atoms of one kind than this are refused, and so are finer fractions.
pub(super) const MOST_ATOMS: u64 = 1_000_000_000_000;

/// A text of at most so many bytes has a canonical one that is short enough: no sign of a text grows
/// more than fourfold when it is written back (T to [3H]).
pub(super) const SURELY_SHORT: usize = MOST_CANONICAL / 4;

/// No count of atoms, in whole numbers over the denominator of all counts, is larger, nor is that
/// denominator. With a weight of any nuclide in units of 10⁻¹² the sum of all fits in 128 bits.
pub(super) const MOST_COUNTED: u64 = 1_000_000_000_000_000_000;
