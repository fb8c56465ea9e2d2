//! How large a formula may be.

/// The longest text that is read as a formula, in bytes. Whatever any writer makes of the longest
/// canonical text is shorter.
pub(super) const MOST_BYTES: usize = 2048;
/// The longest canonical text of a formula, in bytes.
pub(super) const MOST_CANONICAL: usize = 512;
/// The deepest nesting of brackets.
pub(super) const MOST_DEPTH: usize = 16;
/// The most parts joined by dots.
pub(super) const MOST_PARTS: usize = 16;

/// The largest charge of a part: three digits after a caret.
pub(super) const MOST_CHARGE: i32 = 999;

/// The most atoms of one kind, and the largest denominator of a fraction of them.
pub(super) const MOST_ATOMS: u64 = 1_000_000_000_000;

/// The longest text, in bytes, that surely has a canonical text which is short enough: no character
/// becomes more than four when it is written back (T becomes [3H]).
pub(super) const SURELY_SHORT: usize = MOST_CANONICAL / 4;

/// No count of atoms, in whole numbers over the denominator of all counts, is larger, nor is that
/// denominator. With a weight of any nuclide in units of 10⁻¹² the sum of all fits in 128 bits.
pub(super) const MOST_COUNTED: u64 = 1_000_000_000_000_000_000;
