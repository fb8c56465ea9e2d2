//! Adduct dots and the molecules that follow them, by which the meaning of a full stop between digits is
//! decided.

use super::digits::vulgar_fraction;
use crate::formula::repr::State;
use crate::text::{Span, digit, is_space, subscript_digit};

/// Whether a character joins the parts of an adduct.
pub(crate) fn is_dot(c: char) -> bool {
    matches!(
        c,
        '\u{00B7}' | '\u{2022}' | '\u{2219}' | '\u{22C5}' | '*' | '.'
    )
}

/// Whether a text begins with an adduct dot. A letter x or a multiplication sign
/// after a space and before a number is one, too: `CuSO4 x 5H2O`. So is a sign before counted water.
#[inline]
pub(crate) fn begins_with_dot(is_spaced: bool, text: &str) -> bool {
    let first = text.chars().next();
    first.is_some_and(|first| is_dot(first) || is_times(is_spaced, first, text))
}

/// Whether the first character of a text is a dot written as a letter x or as a multiplication sign.
fn is_times(is_spaced: bool, first: char, text: &str) -> bool {
    let after = || text.get(first.len_utf8()..).unwrap_or_default();
    let begins_number = |c| digit(c).is_some() || vulgar_fraction(c).is_some();
    match first {
        'x' | 'X' | TIMES if is_spaced => {
            let after = after().trim_start_matches(is_space);
            after.starts_with(begins_number)
        }
        TIMES => counts_solvate(after()),
        _ => false,
    }
}

/// The multiplication sign.
pub(crate) const TIMES: char = '\u{D7}';

/// The span of what is in round brackets around a whole text, but for its label: `(3CdSO4·8H2O)`.
pub(crate) fn inside_brackets(text: &str) -> Option<Span> {
    let whole = text.trim_end_matches(is_space);
    let (whole, _) = State::split_label(whole);
    let whole = whole.trim_end_matches(is_space);
    let inside = whole.trim_start_matches(is_space).strip_prefix('(')?;
    let mut depth = 1_usize;
    let closing = inside.char_indices().find(|(_, c)| {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        depth == 0
    });
    let (length, _) = closing?;
    let start = whole.len() - inside.len();
    let is_whole = start + length + 1 == whole.len();
    is_whole.then_some(Span::new(start, start + length))
}

/// Solvents, ligands, acids and gases that crystals hold, in the spellings in use. The commonest comes
/// first. They are general nomenclature and need no source.
const SOLVATES: &[&str] = &[
    "H2O",
    "OH2",
    "HOH",
    "D2O",
    "[2H]2O",
    "HDO",
    "DHO",
    "HOD",
    "T2O",
    "NH3",
    "ND3",
    "N2H4",
    "H2NNH2",
    "NH2NH2",
    "NH2OH",
    "H2NOH",
    "H2O2",
    "HOOH",
    "CH3OH",
    "CH4O",
    "C2H5OH",
    "C2H6O",
    "CH3CH2OH",
    "C3H7OH",
    "C3H8O",
    "C4H9OH",
    "C4H10O",
    "C2H4(OH)2",
    "HOCH2CH2OH",
    "C2H6O2",
    "C3H5(OH)3",
    "C3H8O3",
    "CH3COCH3",
    "(CH3)2CO",
    "C3H6O",
    "CH3CN",
    "C2H3N",
    "CH3COOH",
    "CH3CO2H",
    "HC2H3O2",
    "C2H4O2",
    "HCOOH",
    "HCO2H",
    "CH2O2",
    "CH3COOC2H5",
    "C4H8O2",
    "CHCl3",
    "CH2Cl2",
    "CCl4",
    "C2H4Cl2",
    "ClCH2CH2Cl",
    "C6H6",
    "C6H5CH3",
    "C7H8",
    "C8H10",
    "C6H4(CH3)2",
    "C6H14",
    "C5H12",
    "C6H12",
    "C4H8O",
    "(CH2)4O",
    "O(CH2CH2)2O",
    "(C2H5)2O",
    "C4H10O2",
    "CH3OCH2CH2OCH3",
    "(CH3)2SO",
    "C2H6OS",
    "HCON(CH3)2",
    "C3H7NO",
    "CH3CON(CH3)2",
    "C4H9NO",
    "CO(NH2)2",
    "(NH2)2CO",
    "CH4N2O",
    "C5H5N",
    "C2H8N2",
    "H2NCH2CH2NH2",
    "NH2CH2CH2NH2",
    "C10H8N2",
    "C12H8N2",
    "C2H7N",
    "(CH3)2NH",
    "C6H15N",
    "(C2H5)3N",
    "C6H12N4",
    "(CH2)6N4",
    "C18H15P",
    "P(C6H5)3",
    "HCl",
    "HBr",
    "HI",
    "HF",
    "H2SO4",
    "HNO3",
    "H3PO4",
    "HClO4",
    "H2C2O4",
    "(COOH)2",
    "C2H2O4",
    "H3BO3",
    "B(OH)3",
    "H2S",
    "SO2",
    "CO2",
    "CO",
    "N2",
    "O2",
    "CH4",
    "Cl2",
    "Br2",
    "I2",
];

/// The number of bytes of the longest solvate.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
const LONGEST: usize = {
    let (mut longest, mut index) = (0, 0);
    while index < SOLVATES.len() {
        if SOLVATES[index].len() > longest {
            longest = SOLVATES[index].len();
        }
        index += 1;
    }
    longest
};

/// Whether this text is one of the known solvates, in brackets or not.
pub(crate) fn is_solvate(text: &str) -> bool {
    // Most texts are spelled as in the list, and nearly all are its first entry.
    if SOLVATES.contains(&text) {
        return true;
    }
    // The longest solvate in brackets, with the longest label.
    let mut buffer = [0; LONGEST + 2 + State::Aqueous.label().len()];
    let mut length = 0;
    for c in text.chars().filter(|c| !is_space(*c)) {
        let plain = match subscript_digit(c).or_else(|| digit(c)) {
            Some(d) => b'0' + d,
            None if c.is_ascii() => c as u8,
            None => return false,
        };
        let Some(byte) = buffer.get_mut(length) else {
            return false;
        };
        *byte = plain;
        length += 1;
    }
    let plain = buffer.get(..length).unwrap_or_default();
    let mut labels = State::ALL.iter().map(|state| state.label().as_bytes());
    let without_label = labels.find_map(|label| plain.strip_suffix(label));
    let plain = without_label.unwrap_or(plain);
    let inside = plain.strip_prefix(b"(");
    let bare = inside.and_then(|rest| rest.strip_suffix(b")"));
    let known = |text: &[u8]| SOLVATES.iter().any(|known| known.as_bytes() == text);
    known(plain) || bare.is_some_and(known)
}

/// What follows the number at the start of a text, up to the next dot.
fn segment(text: &str) -> &str {
    fn without_digits(text: &str) -> &str {
        text.trim_start_matches(|c| digit(c).is_some())
    }
    let mut rest = without_digits(text);
    // The number right after an adduct dot may itself have a decimal mark or a fraction line.
    if let Some(more) = rest.strip_prefix(['.', ',', '/']) {
        let after = without_digits(more);
        if after.len() < more.len() {
            rest = after;
        }
    }
    let rest = rest.trim_start_matches(|c| vulgar_fraction(c).is_some());
    rest.split(is_dot).next().unwrap_or_default()
}

/// Whether a text begins with a number that counts a known solvate.
pub(crate) fn counts_solvate(text: &str) -> bool {
    is_solvate(segment(text))
}

fn without_plain_digits(mut text: &[u8]) -> &[u8] {
    while let [b'0'..=b'9', rest @ ..] = text {
        text = rest;
    }
    text
}

/// Whether a full stop between digits is surely an adduct dot, because a symbol follows.
pub(crate) fn is_plain_adduct_point(after: &[u8]) -> bool {
    matches!(without_plain_digits(after), [b'A'..=b'Z', ..])
}

/// Whether a full stop between digits is an adduct dot, because a solvate or another formula follows.
/// If nothing follows, or only a charge or a label, it is a decimal point.
pub(crate) fn is_adduct_point(after: &str) -> bool {
    let rest = segment(after).trim_start_matches(is_space);
    let mut chars = rest.chars();
    match chars.next() {
        Some('(') => chars
            .next()
            .is_some_and(|c| c.is_ascii_uppercase() || matches!(c, '(' | '[')),
        Some('[' | '{' | 'x' | 'n') => true,
        Some(c) => c.is_ascii_uppercase(),
        None => false,
    }
}
