//! What somebody has who solves a problem on paper: the prompt, a pocket calculator, and a table of atomic weights.

use std::collections::BTreeMap;

/// Standard atomic weights, abridged to five significant figures: IUPAC, Standard Atomic Weights of the Elements
/// 2021 (Prohaska et al., Pure Appl. Chem. 2022, 94, 573), Table 2. Typed in by hand, apart from the crate's.
const WEIGHTS: &[(&str, f64)] = &[
    ("H", 1.008),
    ("Li", 6.94),
    ("Be", 9.0122),
    ("B", 10.81),
    ("C", 12.011),
    ("N", 14.007),
    ("O", 15.999),
    ("F", 18.998),
    ("Na", 22.990),
    ("Mg", 24.305),
    ("Al", 26.982),
    ("Si", 28.085),
    ("P", 30.974),
    ("S", 32.06),
    ("Cl", 35.45),
    ("K", 39.098),
    ("Ca", 40.078),
    ("Ti", 47.867),
    ("V", 50.942),
    ("Cr", 51.996),
    ("Mn", 54.938),
    ("Fe", 55.845),
    ("Co", 58.933),
    ("Ni", 58.693),
    ("Cu", 63.546),
    ("Zn", 65.38),
    ("As", 74.922),
    ("Br", 79.904),
    ("Sr", 87.62),
    ("Mo", 95.95),
    ("Ag", 107.87),
    ("Cd", 112.41),
    ("Sn", 118.71),
    ("Sb", 121.76),
    ("I", 126.90),
    ("Cs", 132.91),
    ("Ba", 137.33),
    ("La", 138.91),
    ("Ce", 140.12),
    ("W", 183.84),
    ("Pb", 207.2),
    ("Bi", 208.98),
];

/// The numbers of a prompt in order, without those inside formulas.
pub(crate) fn numbers(prompt: &str) -> Vec<f64> {
    // A digit after a bracket, as in `Ba(OH)2`, is part of a formula.
    let words = prompt.split(|c: char| c.is_whitespace() || matches!(c, '“' | '”'));
    let plain = words.filter(|word| !word.chars().any(|c| c.is_alphabetic() || c == '·'));
    let trimmed = plain.map(|word| word.trim_matches(|c: char| !c.is_ascii_digit()));
    trimmed
        .filter_map(|word| word.replace(',', ".").parse().ok())
        .collect()
}

/// The formulas of a prompt in order: words that begin with a capital and hold another one, a digit or a dot.
pub(crate) fn formulas(prompt: &str) -> Vec<&str> {
    let words = prompt.split(|c: char| c.is_whitespace() || matches!(c, '“' | '”' | ','));
    let trimmed = words.map(|word| word.trim_end_matches(['.', ':', ';', '?']));
    let shape = |word: &&str| {
        let mut letters = word.chars();
        letters
            .next()
            .is_some_and(|c| c.is_ascii_uppercase() || matches!(c, '(' | '['))
            && letters.any(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '·')
    };
    trimmed
        .filter(shape)
        .filter(|word| atoms(word).is_some())
        .collect()
}

/// The molar mass of a formula in grams per mole.
pub(crate) fn molar_mass(formula: &str) -> f64 {
    let atoms = atoms(formula).unwrap_or_else(|| panic!("`{formula}` is not a formula"));
    let weight = |symbol: &str| {
        WEIGHTS
            .iter()
            .find(|(known, _)| *known == symbol)
            .map(|(_, weight)| *weight)
    };
    let mass = |(symbol, count): (&String, &f64)| {
        count * weight(symbol).unwrap_or_else(|| panic!("no {symbol}"))
    };
    atoms.iter().map(mass).sum()
}

/// A species of an equation, as it is read on paper.
pub(crate) struct Term {
    pub(crate) coefficient: f64,
    /// Without the coefficient.
    pub(crate) text: String,
    pub(crate) atoms: BTreeMap<String, f64>,
    pub(crate) charge: f64,
}

impl Term {
    pub(crate) fn new(text: &str) -> Term {
        let numeric = |c: char| c.is_ascii_digit() || c == '.';
        let formula = text.trim_start_matches(numeric);
        let coefficient = &text[..text.len() - formula.len()];
        let (neutral, charge) = formula.split_once('^').unwrap_or((formula, ""));
        let (size, sign) = charge.split_at(charge.len().saturating_sub(1));
        let size: f64 = size.parse().unwrap_or(1.0);
        let atoms = match neutral {
            "e" => BTreeMap::new(),
            _ => atoms(neutral).unwrap_or_else(|| panic!("`{text}` is not a species")),
        };
        Term {
            coefficient: coefficient.parse().unwrap_or(1.0),
            text: formula.into(),
            atoms,
            charge: match sign {
                "+" => size,
                "-" => -size,
                _ => 0.0,
            },
        }
    }
}

/// The two sides of an equation.
pub(crate) fn equation(text: &str) -> [Vec<Term>; 2] {
    let (before, after) = text.split_once(" -> ").expect(text);
    [before, after].map(|side| side.split(" + ").map(Term::new).collect())
}

/// The number of waters after the dot; zero if there is none.
pub(crate) fn waters(formula: &str) -> f64 {
    let after = formula.rsplit_once('·').map(|(_, part)| part);
    let count = after.and_then(|part| part.strip_suffix("H2O"));
    count.map_or(0.0, |count| {
        if count.is_empty() {
            1.0
        } else {
            count.parse().unwrap()
        }
    })
}

/// The atoms of a formula; `None` if the text is not one.
pub(crate) fn atoms(formula: &str) -> Option<BTreeMap<String, f64>> {
    let mut all = BTreeMap::new();
    for part in formula.split('·') {
        let digits = part.len()
            - part
                .trim_start_matches(|c: char| c.is_ascii_digit() || c == '.')
                .len();
        let (times, rest) = part.split_at(digits);
        let times = if times.is_empty() {
            1.0
        } else {
            times.parse().ok()?
        };
        let letters: Vec<char> = rest.chars().collect();
        let mut place = 0;
        let counts = group(&letters, &mut place)?;
        if place != letters.len() || counts.is_empty() {
            return None;
        }
        for (symbol, count) in counts {
            *all.entry(symbol).or_insert(0.0) += count * times;
        }
    }
    Some(all)
}

fn group(letters: &[char], place: &mut usize) -> Option<BTreeMap<String, f64>> {
    let mut counts = BTreeMap::new();
    while let Some(&letter) = letters.get(*place) {
        let inner: BTreeMap<String, f64> = match letter {
            '(' | '[' => {
                *place += 1;
                let inner = group(letters, place)?;
                letters.get(*place).filter(|c| matches!(c, ')' | ']'))?;
                *place += 1;
                inner
            }
            ')' | ']' => break,
            'A'..='Z' => {
                *place += 1;
                let mut symbol = letter.to_string();
                while let Some(small) = letters.get(*place).filter(|c| c.is_ascii_lowercase()) {
                    symbol.push(*small);
                    *place += 1;
                }
                WEIGHTS.iter().find(|(known, _)| *known == symbol)?;
                BTreeMap::from([(symbol, 1.0)])
            }
            _ => return None,
        };
        let start = *place;
        while letters
            .get(*place)
            .is_some_and(|c| c.is_ascii_digit() || *c == '.')
        {
            *place += 1;
        }
        let count: String = letters[start..*place].iter().collect();
        let count = if count.is_empty() {
            1.0
        } else {
            count.parse().ok()?
        };
        for (symbol, inner) in inner {
            *counts.entry(symbol).or_insert(0.0) += inner * count;
        }
    }
    Some(counts)
}

#[test]
fn the_paper_reads_prompts() {
    let prompt =
        "Heat 2.50\u{a0}g of KAl(SO4)2·12H2O (20.0\u{a0}% water) to 120\u{a0}°C. Give 3 figures.";
    assert_eq!(numbers(prompt), [2.50, 20.0, 120.0, 3.0]);
    assert_eq!(formulas(prompt), ["KAl(SO4)2·12H2O"]);
    assert_eq!(numbers("Ba(OH)2 with 8 waters (0.5\u{a0}g)"), [8.0, 0.5]);
    // CRC Handbook of Chemistry and Physics, 97th edition: 474.389 and 246.474 g/mol.
    assert!((molar_mass("KAl(SO4)2·12H2O") - 474.389).abs() < 0.03);
    assert!((molar_mass("MgSO4·7H2O") - 246.474).abs() < 0.01);
    assert!((waters("CaSO4·0.5H2O") - 0.5).abs() < 1e-12);
}
