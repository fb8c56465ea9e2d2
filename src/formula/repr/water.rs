//! What is water.

use super::count::Count;
use super::words::{CLOSE, apart, plain};
use crate::element::{Atom, Element};

pub(crate) const H: u16 = plain(1, 1);
pub(crate) const H2: u16 = plain(1, 2);
pub(crate) const H20: u16 = plain(1, 20);
pub(crate) const O: u16 = plain(8, 1);

/// Whether words are water in one of its spellings.
#[inline]
pub(crate) const fn is_water(words: &[u16]) -> bool {
    matches!(words, [H2, O]) || is_odd(words) && !matches!(words, [H20])
}

/// Whether there is nothing but water in a bracket behind which these words stand.
#[inline(always)]
pub(crate) fn is_group_of_water(inside: &[u16]) -> bool {
    let closes = |word: u16| apart(word).0 >= CLOSE;
    match inside {
        [a, b, end, ..] if closes(*end) => is_water(&[*a, *b]),
        [a, b, c, end, ..] if closes(*end) => is_water(&[*a, *b, *c]),
        _ => false,
    }
}

/// Whether words are water in an odd spelling, or what water with a zero in it is read as.
#[inline]
pub(crate) const fn is_odd(words: &[u16]) -> bool {
    matches!(words, [O | H | H20, ..])
        && matches!(words, [O, H2] | [H, H, O] | [H, O, H] | [O, H, H] | [H20])
}

/// Whether these atoms, with no bracket among them, are H2O, OH2 or HOH.
pub(crate) fn is_water_of(atoms: impl Iterator<Item = Option<(Atom, Count)>>) -> bool {
    let natural = |element: Element| Atom::natural(element);
    let mut hydrogens = 0_u32;
    let mut oxygens = 0_u32;
    for atom in atoms {
        match atom {
            Some((atom, Count::Known(n, 1))) if atom == natural(Element::HYDROGEN) => {
                hydrogens = hydrogens.saturating_add(n);
            }
            Some((atom, Count::Known(n, 1))) if atom == natural(Element::OXYGEN) => {
                oxygens = oxygens.saturating_add(n);
            }
            _ => return false,
        }
    }
    (hydrogens, oxygens) == (2, 1)
}
