//! Salts of known ions, read from the text alone. A text is probably a typing error if what looks like it
//! is a salt whose charges cancel.
//!
//! Two capitals are probably a metal if the part is a salt with the metal, and not otherwise. No group
//! such as `(CH3)4` or `H3` is a cation, so that `(CH3)4NBF4` has no niobium.

use super::adduct::is_dot;
use super::marks::marked_charge;
use crate::formula::ions::{ANIONS, Ion, Metal};
use crate::formula::repr::State;
use crate::text::{Span, is_space};

/// Two capitals that are probably a metal, and where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CapitalPair {
    offset: u16,
    symbol: &'static str,
}

impl CapitalPair {
    pub(crate) fn span(self) -> Span {
        let start = self.offset.into();
        Span::new(start, start + 2)
    }

    /// The metal's symbol.
    pub(crate) fn symbol(self) -> &'static str {
        self.symbol
    }

    /// Whether the pair has a D or T, which would be heavy hydrogen.
    fn has_heavy_hydrogen(self) -> bool {
        self.symbol
            .contains(|c: char| matches!(c.to_ascii_uppercase(), 'D' | 'T'))
    }
}

/// The usual charges of a metal, or of silicon.
fn charges(symbol: &str) -> Option<(&'static str, &'static [u8])> {
    let letters = symbol.as_bytes();
    let second = letters.get(1).copied().unwrap_or_default();
    if !is_metal(*letters.first()?, second) {
        return None;
    }
    match symbol {
        "Si" => Some(("Si", &[4])),
        // `INO3` and `INCO` are iodine's, not indium(I)'s.
        "In" => Some(("In", &[3])),
        // Tb4O7 has both ions of terbium.
        "Tb" => Some(("Tb", &[3, 4])),
        _ => Metal::of(symbol).map(|metal| (metal.symbol, metal.common)),
    }
}

/// Molecules that look like salts.
const MOLECULES: [&str; 3] = ["SNO", "SNS", "OSF4"];

/// The most ions in a salt that is recognized.
const MOST_IONS: usize = 5;

/// What was read of a salt.
#[derive(Clone, Copy, Default)]
struct KnownSalt {
    ions: usize,
    /// The number of atoms of metals, and of ammonium and hydrogen ions.
    cations: u32,
    least: u32,
    most: u32,
    /// The usual charges of the first metal.
    charges: &'static [u8],
    negative: u32,
    pairs: [Option<CapitalPair>; MOST_IONS],
    /// Whether an anion has oxygen, or molecules of water or ammonia are bound.
    has_oxoanion: bool,
    has_ligand: bool,
}

/// The count at the start of a text, which is one if there are no digits, and the rest.
fn count(text: &str) -> Option<(u32, &str)> {
    let rest = text.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = text.get(..text.len() - rest.len())?;
    match digits {
        "" => Some((1, rest)),
        _ => Some((digits.parse().ok().filter(|count| *count < 100)?, rest)),
    }
}

/// The count of this ion or molecule at the start of a text, in brackets or not, and the rest.
fn counted<'t>(text: &'t str, ion: &str) -> Option<(u32, &'t str)> {
    if let Some(rest) = text.strip_prefix('(') {
        return count(rest.strip_prefix(ion)?.strip_prefix(')')?);
    }
    let rest = text.strip_prefix(ion)?;
    let small = |c: char| c.is_ascii_lowercase();
    let digit = |c: char| c.is_ascii_digit();
    let is_atom = ion.len() <= 2 && !ion.ends_with(digit) && !ion.contains("OH");
    let is_cut = rest.starts_with(small) || (!is_atom && rest.starts_with(digit));
    if is_cut { None } else { count(rest) }
}

impl KnownSalt {
    /// Whether the rest of a part makes this a salt. `offset` is that of the rest.
    fn goes_on(&mut self, rest: &str, part: &SaltText<'_>) -> bool {
        let rest = rest.trim_start_matches(['[', ']']);
        if let Some(charge) = charge_at_end(rest) {
            return self.is_balanced(charge, part);
        }
        if self.ions == MOST_IONS {
            return false;
        }
        self.ions += 1;
        let before = *self;
        let found = self.goes_on_with_cation(rest, part);
        if !found {
            *self = before;
        }
        found || self.goes_on_with_anion(rest, part)
    }

    fn goes_on_with_cation(&mut self, rest: &str, part: &SaltText<'_>) -> bool {
        if self.negative > 0 {
            return false;
        }
        let before = *self;
        for ion in ["NH4", "H"] {
            let Some((count, rest)) = counted(rest, ion) else {
                continue;
            };
            self.charges = &[1];
            if self.with_cation((count, 1, 1), rest, part) {
                return true;
            }
            *self = before;
        }
        let [first, second, ..] = rest.as_bytes() else {
            let known = charges(rest);
            return known.is_some_and(|(_, charges)| self.with_metal(charges, "", part));
        };
        let after = rest.get(2..).unwrap_or_default();
        let small = [*first, second.to_ascii_lowercase()];
        let symbol = core::str::from_utf8(&small).unwrap_or_default();
        let is_pair = second.is_ascii_uppercase();
        let is_whole = !after.starts_with(|c: char| c.is_ascii_lowercase());
        // `TiOSO4` is an oxide sulfate, not a salt of osmium.
        let is_sulfate = is_pair && small == *b"Os" && self.cations > 0 && after.starts_with("O4");
        if let Some((symbol, charges)) = charges(symbol).filter(|_| is_whole && !is_sulfate) {
            if is_pair {
                let offset = part.text.len() - part.behind - rest.len();
                let offset = (part.offset + offset) as u16;
                let pair = CapitalPair { offset, symbol };
                let mut free = self.pairs.iter_mut().filter(|place| place.is_none());
                free.next().map(|place| place.insert(pair));
            }
            if self.with_metal(charges, after, part) {
                return true;
            }
            *self = before;
        }
        let single = rest.get(..1).and_then(charges);
        let single = single.filter(|_| !second.is_ascii_lowercase());
        let after = rest.get(1..).unwrap_or_default();
        single.is_some_and(|(_, charges)| self.with_metal(charges, after, part))
    }

    fn with_metal(&mut self, charges: &'static [u8], after: &str, part: &SaltText<'_>) -> bool {
        let Some((count, rest)) = count(after) else {
            return false;
        };
        let least = charges.iter().min().copied().unwrap_or_default();
        let most = charges.iter().max().copied().unwrap_or_default();
        self.charges = charges;
        self.with_cation((count, least.into(), most.into()), rest, part)
    }

    fn with_cation(
        &mut self,
        (count, least, most): (u32, u32, u32),
        rest: &str,
        part: &SaltText<'_>,
    ) -> bool {
        self.cations += count;
        self.least += count * least;
        self.most += count * most;
        self.goes_on(rest, part)
    }

    fn goes_on_with_anion(&mut self, rest: &str, part: &SaltText<'_>) -> bool {
        if self.cations == 0 {
            return false;
        }
        let before = *self;
        for ligand in ["H2O", "NH3"] {
            let bound = rest.starts_with('(').then(|| counted(rest, ligand));
            if let Some((_, rest)) = bound.flatten() {
                self.has_ligand = true;
                return self.goes_on(rest, part);
            }
        }
        let Some(letter) = rest.trim_start_matches('(').as_bytes().first() else {
            return false;
        };
        // Nearly all anions begin with other letters.
        anions_with(*letter).any(|ion| {
            let spellings = [ion.formula].into_iter();
            let mut spellings = spellings.chain(ion.spellings.iter().copied());
            spellings.any(|formula| {
                let Some((count, rest)) = counted(rest, formula) else {
                    return false;
                };
                *self = before;
                // Many molecules have hydrogen or nitrogen after what looks like a metal.
                let heavy = self
                    .pairs
                    .iter()
                    .flatten()
                    .all(|pair| pair.has_heavy_hydrogen());
                if formula == "H" || (formula == "N" && !heavy) {
                    return false;
                }
                self.negative += count * u32::from(ion.charge);
                let is_oxide_of_several = formula == "O" && self.cations > 1;
                let is_cyanate = matches!(formula, "OCN" | "NCO");
                self.has_oxoanion |= is_oxide_of_several
                    || (formula.contains('O') && formula.len() > 2 && !is_cyanate);
                self.goes_on(rest, part)
            })
        })
    }

    fn is_balanced(&self, charge: i32, part: &SaltText<'_>) -> bool {
        let Some(positive) = i64::from(self.negative)
            .checked_add(charge.into())
            .and_then(|charge| u32::try_from(charge).ok())
        else {
            return false;
        };
        let cancels = match self.cations {
            1 => self.charges.iter().any(|one| u32::from(*one) == positive),
            _ => (self.least..=self.most).contains(&positive),
        };
        // Carbonyl has compounds with halogens and other groups.
        let is_carbonyl = self.pairs.iter().flatten().any(|pair| pair.symbol == "Co")
            && !(self.has_oxoanion || self.has_ligand || part.has_water);
        let has_anion = self.negative > 0 || self.has_ligand;
        cancels && has_anion && !is_carbonyl && !MOLECULES.contains(&part.text)
    }
}

/// The charge that is all of a text, which is zero if there is none.
fn charge_at_end(text: &str) -> Option<i32> {
    match text {
        "" => Some(0),
        _ if text.starts_with(|c: char| c.is_ascii_alphabetic()) => None,
        _ => marked_charge(text)
            .ok()
            .filter(|(rest, _)| rest.is_empty())
            .map(|(_, charge)| charge),
    }
}

/// A part of a text, without its coefficient and its label.
struct SaltText<'t> {
    text: &'t str,
    /// The offset of the part in the whole text.
    offset: usize,
    /// The number of bytes after what is read of the part.
    behind: usize,
    /// Whether another part of the text is water.
    has_water: bool,
}

/// Calls `tell` with each salt of a text.
fn each_salt(text: &str, may_be_salt: fn(&str) -> bool, mut tell: impl FnMut(&KnownSalt)) {
    let has_water = text.split(is_dot).any(ends_with_water);
    let mut offset = 0;
    for piece in text.split_inclusive(is_dot) {
        let part = piece.trim_end_matches(is_dot).trim_end_matches(is_space);
        let (part, _) = State::split_label(part);
        let ignored = |c: char| is_space(c) || c.is_ascii_digit();
        let whole = part.trim_end_matches(is_space);
        let text = whole.trim_start_matches(ignored);
        let start = offset + whole.len() - text.len();
        offset += piece.len();
        if !may_be_salt(text) {
            continue;
        }
        // Water in brackets at the end is water of crystallization.
        let salt_alone = text.rfind("(H2O)").and_then(|at| text.get(..at));
        let salt_alone = salt_alone.filter(|salt| !salt.is_empty() && !text.contains('['));
        let part = SaltText {
            text,
            offset: start,
            behind: 0,
            has_water,
        };
        let mut salt = KnownSalt::default();
        let found = salt.goes_on(text, &part);
        if found {
            tell(&salt);
        } else if let Some(alone) = salt_alone {
            let part = SaltText {
                behind: text.len() - alone.len(),
                has_water: true,
                ..part
            };
            let mut salt = KnownSalt::default();
            if salt.goes_on(alone, &part) {
                tell(&salt);
            }
        }
    }
}

/// Calls `tell` with each pair of capitals in a text that is probably a metal, because the part is a salt
/// with it.
#[cold]
pub(crate) fn metals_in_capitals(text: &str, mut tell: impl FnMut(CapitalPair)) {
    each_salt(
        text,
        |part| part.as_bytes().windows(2).any(is_pair),
        |salt| salt.pairs.into_iter().flatten().for_each(&mut tell),
    );
}

/// Whether a part is a salt, as it is written.
pub(crate) fn is_salt(part: &str) -> bool {
    let mut found = false;
    each_salt(
        part,
        |_| true,
        |salt| found |= salt.pairs.iter().all(Option::is_none),
    );
    found
}

/// Whether a part is a number of waters.
fn ends_with_water(part: &str) -> bool {
    part.trim_matches(is_space)
        .trim_end_matches("(s)")
        .ends_with("H2O")
}

/// The second letters of the symbols of metals, as bits, by the first letter's lowest five bits. The lowest
/// bit is for a symbol of one letter.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static SECOND_LETTERS: [u32; 32] = {
    use crate::formula::ions::METALS;
    let mut letters = [0; 32];
    letters[(b'S' & 0x1F) as usize] = letter_bit(b'I');
    let mut index = 0;
    while index < METALS.len() {
        let symbol = METALS[index].symbol.as_bytes();
        let second = if symbol.len() == 2 { symbol[1] } else { 0 };
        letters[(symbol[0] & 0x1F) as usize] |= letter_bit(second);
        index += 1;
    }
    letters
};

/// The anions of which a spelling begins with a letter, as bits, by its lowest five bits.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static ANIONS_BY_LETTER: [u128; 32] = {
    let mut anions = [0; 32];
    let mut index = 0;
    while index < ANIONS.len() {
        let ion = &ANIONS[index];
        let bit = 1_u128 << index;
        anions[(ion.formula.as_bytes()[0] & 0x1F) as usize] |= bit;
        let mut spelling = 0;
        while spelling < ion.spellings.len() {
            anions[(ion.spellings[spelling].as_bytes()[0] & 0x1F) as usize] |= bit;
            spelling += 1;
        }
        index += 1;
    }
    anions
};

/// The anions of which a spelling begins with this letter.
fn anions_with(letter: u8) -> impl Iterator<Item = &'static Ion> {
    let bits = ANIONS_BY_LETTER.get(usize::from(letter & 0x1F));
    let mut bits = bits.copied().unwrap_or_default();
    core::iter::from_fn(move || {
        let next = bits.trailing_zeros();
        bits &= bits.wrapping_sub(1);
        ANIONS.get(next as usize)
    })
}

/// A bit for each letter of the alphabet, which other bytes share.
const fn letter_bit(letter: u8) -> u32 {
    1 << (letter & 0x1F)
}

#[inline]
fn is_metal(first: u8, second: u8) -> bool {
    let letters = SECOND_LETTERS.get(usize::from(first & 0x1F));
    letters.is_some_and(|letters| letters & letter_bit(second) != 0)
}

/// Whether these are two capitals that are a metal's symbol.
fn is_pair(bytes: &[u8]) -> bool {
    matches!(bytes, [first @ b'A'..=b'Z', second @ b'A'..=b'Z'] if is_metal(*first, *second))
}

/// Whether what follows two capitals may be the rest of a salt: an anion, or a digit and an anion.
#[inline]
fn may_be_rest_of_salt(after: &[u8]) -> bool {
    match after {
        // Urea is common, and amides of metals in capitals are not.
        [b'(', b'N', b'H', b'2', ..] => false,
        [b'A'..=b'Z' | b'(', ..] => true,
        [b'0'..=b'9', next, ..] => matches!(next, b'A'..=b'Z' | b'('),
        _ => false,
    }
}

/// Whether a text begins with two capitals that are the symbol of a metal, and an anion may follow.
#[inline]
pub(crate) fn may_begin_with_metal(text: &str) -> bool {
    // The second letter is small in most formulas, or there is a digit.
    let bytes = text.as_bytes();
    match bytes.strip_prefix(b"[").unwrap_or(bytes) {
        [first, second @ b'A'..=b'Z', after @ ..] => {
            is_metal(*first, *second) && may_be_rest_of_salt(after)
        }
        _ => false,
    }
}

/// Whether a text without small letters has such a pair somewhere. `CO`, `HO` and `SC` are in many molecules.
#[inline]
pub(crate) fn may_be_in_capitals(text: &str) -> bool {
    let bytes = text.as_bytes();
    bytes.windows(2).enumerate().any(|(at, pair)| match pair {
        [first @ b'A'..=b'Z', second @ b'A'..=b'Z'] => {
            let is_common = match (first, second) {
                (b'C', b'O') => bytes.get(at + 2) != Some(&b'('),
                (b'H', b'O') | (b'S', b'C') => true,
                _ => false,
            };
            is_metal(*first, *second)
                && !is_common
                && bytes.get(at + 2..).is_some_and(may_be_rest_of_salt)
        }
        _ => false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn salts_are_recognized() {
        for salt in [
            "NaCl",
            "CaCO3",
            "NaHCO3",
            "Al(OH)3",
            "NaOH",
            "KAl(SO4)2",
            "Fe3O4",
            "H2SO4",
            "(NH4)2SO4",
            "NH4Cl",
            "KNO3",
            "Ca3(PO4)2",
            "2NaCl",
            "CuO",
            "K3Co(NO2)6",
            "[Co(NH3)6]Cl3",
            "[Co(H2O)6]^2+",
            "CuFeS2",
            "PbCrO4",
            "H3PO4",
            "CoCl2(H2O)6",
        ] {
            assert!(is_salt(salt), "{salt}");
        }
        for other in [
            "CH4", "C6H12O6", "NaCl2", "PtCo3Cl", "CO2", "NaClO5", "", "H2O2Na",
        ] {
            assert!(!is_salt(other), "{other}");
        }
    }
}
