//! What a piece of text is, by its characters alone.

// Files in order; each uses only those before it:
//   digits     digits on the line, lowered and raised, and the numbers that they make
//   marks      charges, labels of states, labelled atoms
//   adduct     adduct dots and the solvates after them
//   abbreviation  abbreviations of groups and ligands, names of molecules
//   lookalike  characters that are easily taken for others
//   salt       salts of known ions, also with their metals in capitals
//   typos      typing errors that make another formula

mod abbreviation;
mod adduct;
mod digits;
mod lookalike;
mod marks;
mod salt;
mod typos;

pub(crate) use abbreviation::{likely_short_form, short_form_at};
pub(crate) use adduct::{
    TIMES, begins_with_dot, counts_solvate, inside_brackets, is_adduct_point, is_dot,
    is_plain_adduct_point, is_solvate,
};
pub(crate) use digits::{
    DigitRun, Digits, Fraction, Leaf, any_digit, digits, is_digit, small_number, split_first_digit,
    vulgar_fraction,
};
pub(crate) use lookalike::explain;
pub(crate) use marks::{bracketed_nuclide, marked_charge, raised_mass_number, sign, state_label};
pub(crate) use salt::{is_salt, may_be_in_capitals, may_begin_with_metal, metals_in_capitals};
pub(crate) use typos::{
    Typo, avoid_typos, corrected, each_typo, last_symbol, may_end_in_typo, roman_numeral,
};
