//! What a piece of text is, by its characters alone.

// Files in order; each uses only those before it:
//   leaf       digits, charges, labels, symbols
//   adduct     adduct dots and the solvates behind them
//   lookalike  characters that are easily taken for others
//   suspect    what is lawful and nearly always a typing error

mod adduct;
mod leaf;
mod lookalike;
mod suspect;

pub(crate) use adduct::{follows, is_adduct_point, is_dot, is_plain_adduct_point, is_solvate};
pub(crate) use leaf::{
    Digits, Fraction, Leaf, Run, any_digit, bracketed_nuclide, digits, is_digit, marked_charge,
    raised_mass_number, sign, small_number, state, vulgar_fraction,
};
pub(crate) use lookalike::explain;
pub(crate) use suspect::{Suspect, each, may_have_suspect, part_suspects, suspect_pair};
