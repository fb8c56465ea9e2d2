//! The elements that most formulas are made of, by the letters of their symbols.

use crate::element::Element;

/// Atomic numbers by the lowest five bits of the capital and of the small letter, which are zero if there
/// is none. The number is zero for elements without a standard atomic weight, because an error about
/// them needs a span. It is zero for iodine, too, whose I may be the l of chlorine.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static PLAIN_ATOMS: [u8; 1 << 10] = {
    let mut table = [0; 1 << 10];
    let mut index = 0;
    while index < Element::ALL.len() {
        let element = Element::ALL[index];
        let symbol = element.letters();
        if element.has_weight() && element.number() != Element::IODINE.number() {
            table[letters(symbol.0 as usize, symbol.1 as usize)] = element.number();
        }
        index += 1;
    }
    table
};

const fn letters(first: usize, second: usize) -> usize {
    (first << 5 | (second & 0x1F)) & 0x3FF
}

/// The atomic number for the two letters of a symbol, or zero if the table has none.
pub(crate) fn plain_atom(first: usize, second: usize) -> u8 {
    let z = PLAIN_ATOMS.get(letters(first, second));
    z.copied().unwrap_or_default()
}
