//! Adduct dots, and the molecules that stand behind them: what the rule for a full stop
//! between digits goes by.

use alloc::string::String;

use super::leaf::vulgar_fraction;
use crate::text::{digit, is_space};

/// Whether a character joins the parts of an adduct.
pub(super) fn is_dot(c: char) -> bool {
    matches!(
        c,
        '\u{00B7}' | '\u{2022}' | '\u{2219}' | '\u{22C5}' | '*' | '.'
    )
}

/// Solvents, ligands, acids and gases that crystals hold, in the spellings in use.
/// General nomenclature; no source needed beyond it.
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

/// Whether this text is one of the known solvates, in brackets or not.
pub(super) fn is_solvate(text: &str) -> bool {
    let mut plain = String::new();
    for c in text.chars().filter(|c| !is_space(*c)) {
        match c as u32 {
            lowered @ 0x2080..=0x2089 => plain.extend(char::from_digit(lowered - 0x2080, 10)),
            _ => match digit(c) {
                Some(d) => plain.push((b'0' + d) as char),
                None => plain.push(c),
            },
        }
    }
    for label in ["(s)", "(l)", "(g)", "(aq)"] {
        if let Some(rest) = plain.strip_suffix(label) {
            plain.truncate(rest.len());
            break;
        }
    }
    let bare = plain
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'))
        .unwrap_or(&plain);
    SOLVATES.contains(&plain.as_str()) || SOLVATES.contains(&bare)
}

/// What follows the number at the head of `behind`, up to the next dot.
fn segment(behind: &str) -> &str {
    fn without_figures(text: &str) -> &str {
        text.trim_start_matches(|c| digit(c).is_some())
    }
    let mut rest = without_figures(behind);
    // The number right after an adduct dot may itself have a decimal point or a fraction line.
    if let Some(more) = rest.strip_prefix(['.', '/']) {
        let behind = without_figures(more);
        if behind.len() < more.len() {
            rest = behind;
        }
    }
    let rest = rest.trim_start_matches(|c| vulgar_fraction(c).is_some());
    rest.split(is_dot).next().unwrap_or_default()
}

/// Whether the number at the head of `behind` counts a known solvate.
pub(super) fn follows(behind: &str) -> bool {
    is_solvate(segment(behind))
}

/// Whether a full stop between digits is an adduct dot: a solvate or another formula follows.
/// Where nothing follows, or only a charge or a label, it is a decimal point.
pub(super) fn is_adduct_point(behind: &str) -> bool {
    let rest = segment(behind).trim_start_matches(is_space);
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
