//! The spellings of a formula that count as right, and the x of a hydrate.
//!
//! A response is compared with them letter by letter, so a pupil's usual ways of typing are listed.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::element::Element;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::to_superscript;

/// A formula has at most this number of spellings.
pub(super) const MOST_SPELLINGS: usize = 200;
/// Elements or cations are put into each order if there are at most so many, so at most 24 orders.
const MOST_IN_ANY_ORDER: usize = 4;

/// What people type between a salt and its water. The last two need spaces.
const DOTS: [&str; 6] = ["·", "•", ".", "*", "x", "×"];
/// Ions that books write in several ways: the canonical way, and the others.
const IONS: [(&str, [&str; 2]); 2] = [("C2H3O2", ["CH3COO", "CH3CO2"]), ("CHO2", ["HCOO", "HCO2"])];

/// Returns the spellings of a formula that count as right, the given one first; at most [`MOST_SPELLINGS`].
///
/// They are its elements or cations in another order, subscripts, and the ways to type a dot, a half and a charge.
/// [`Formula::read`] reads each as the same atoms, charge and water, with two exceptions that it refuses:
/// a decimal comma, and the charge of an ion without a caret, as in `SO42-` and `SO4 2-`.
pub(super) fn accepted(formula: &str) -> Vec<String> {
    let mut all = Vec::from([formula.to_string()]);
    let Ok((meant, _)) = Formula::read(formula) else {
        return all;
    };
    let candidates = match (waters(formula), is_charged(&meant)) {
        (Some((salt, x)), _) => hydrates(&salt, &x),
        (None, true) => charged(&meant),
        (None, false) => orders(&elements_or_ions(&meant.to_string()))
            .into_iter()
            .flat_map(in_two_scripts)
            .collect(),
    };
    for candidate in candidates {
        let is_new = all.len() < MOST_SPELLINGS && !all.contains(&candidate);
        if is_new && counts(&candidate, &meant) {
            all.push(candidate);
        }
    }
    all
}

/// Whether a spelling means the formula. A charge without a caret is the only one that may not be read.
fn counts(spelling: &str, meant: &Formula) -> bool {
    match Formula::read(&spelling.replace(',', ".")) {
        Ok((read, _)) => is_same(&read, meant),
        Err(_) => is_charged(meant),
    }
}

/// Returns the salt of a hydrate, and the number of waters for one of it; `None` for any other formula.
pub(super) fn waters(formula: &str) -> Option<(String, Ratio)> {
    let (hydrate, _) = Formula::read(formula).ok()?;
    let x = hydrate.waters()?;
    let salt = hydrate.anhydrous()?;
    (!is_charged(&hydrate)).then(|| (salt.to_string(), x))
}

fn is_charged(formula: &Formula) -> bool {
    !formula
        .exact_charge()
        .is_some_and(|charge| charge.is_zero())
}

/// Whether two formulas have the same atoms, charge and water.
fn is_same(read: &Formula, meant: &Formula) -> bool {
    let atoms = read.composition().ok();
    atoms.is_some()
        && atoms == meant.composition().ok()
        && read.exact_charge() == meant.exact_charge()
        && read.waters() == meant.waters()
}

/// A formula as typed, and with subscripts.
fn in_two_scripts(plain: String) -> Vec<String> {
    let pretty = Formula::read(&plain).map(|(formula, _)| formula.to_unicode());
    let mut both = Vec::from([plain]);
    both.extend(pretty.ok());
    both
}

/// A salt with its water, as people type it.
fn hydrates(salt: &str, x: &Ratio) -> Vec<String> {
    let counts = waters_typed(x);
    let mut all = Vec::new();
    for salt in orders(&ions(salt)) {
        for count in &counts {
            for dot in DOTS {
                all.push(format!("{salt}{dot}{count}H2O"));
                all.push(format!("{salt} {dot} {count}H2O"));
                all.push(format!("{salt} {dot} {count} H2O"));
            }
        }
        let pretty = Formula::read(&salt).map(|(salt, _)| salt.to_unicode());
        let pretty = pretty.unwrap_or(salt);
        for count in &counts {
            all.push(format!("{pretty}·{count}H₂O"));
            all.push(format!("{pretty} · {count} H₂O"));
        }
    }
    all
}

/// A number of waters as people type it; empty for one water.
fn waters_typed(x: &Ratio) -> Vec<String> {
    if *x == Ratio::ONE {
        return [String::new(), "1".into()].into();
    }
    let decimal = x.to_string();
    let mut all = Vec::from([decimal.clone()]);
    if x.is_integer() {
        return all;
    }
    all.push(decimal.replace('.', ","));
    if Some(x) == Ratio::new(1, 2).as_ref() {
        all.push("½".into());
    }
    if let Some((above, below)) = x.to_parts() {
        all.push(format!("{above}/{below}"));
    }
    all
}

/// A charged species, with its charge as people type it.
fn charged(species: &Formula) -> Vec<String> {
    let plain = species.to_string();
    let mut all = in_two_scripts(plain.clone());
    if let Some((atoms, charge)) = plain.rsplit_once('^') {
        let raised = charge.chars().map(|c| match c {
            '+' => '⁺',
            '-' => '⁻',
            c => to_superscript(c).unwrap_or(c),
        });
        all.push(format!("{atoms}{}", raised.collect::<String>()));
        all.push(format!("{atoms}{charge}"));
        all.push(format!("{atoms} {charge}"));
        all.push(format!("{atoms}({charge})"));
        all.push(format!("[{atoms}]{charge}"));
    }
    let with_minus = all.iter().map(|text| text.replace('-', "−"));
    let with_minus: Vec<String> = with_minus.collect();
    all.extend(with_minus);
    all
}

/// The units in their usual orders, the given one first: elements in each, and cations in each before their anion.
/// An ion that books write in several ways also has those, and may come first.
fn orders(units: &[&str]) -> Vec<String> {
    let last = units.last().copied().unwrap_or_default();
    let is_element = |unit: &&str| elements(unit).len() == 1 && !unit.contains(['(', '[']);
    let in_any = units.iter().all(is_element) || IONS.iter().any(|(ion, _)| last.contains(ion));
    let most = MOST_IN_ANY_ORDER + usize::from(!in_any);
    let orders = match units.len().checked_sub(1) {
        Some(_) if units.len() > most => Vec::from([units.concat()]),
        Some(cations) if !in_any => {
            let first = permutations(units.get(..cations).unwrap_or_default());
            first.into_iter().map(|cations| cations + last).collect()
        }
        _ => permutations(units),
    };
    let mut all = Vec::new();
    for order in orders {
        let written = IONS.iter().filter(|(ion, _)| order.contains(ion));
        let others =
            written.flat_map(|(ion, others)| others.map(|other| order.replace(ion, other)));
        let others: Vec<String> = others.collect();
        all.push(order);
        all.extend(others);
    }
    all
}

/// The elements of a formula without brackets if there are few, and otherwise its ions.
fn elements_or_ions(plain: &str) -> Vec<&str> {
    let elements = elements(plain);
    match elements.len() <= MOST_IN_ANY_ORDER && !plain.contains(['(', '[']) {
        true => elements,
        false => ions(plain),
    }
}

/// The elements of a text without brackets, as written, each with its count.
fn elements(plain: &str) -> Vec<&str> {
    let mut starts: Vec<usize> = plain
        .match_indices(|c: char| c.is_ascii_uppercase())
        .map(|(start, _)| start)
        .collect();
    starts.push(plain.len());
    let pieces = starts.windows(2).filter_map(|ends| match *ends {
        [start, end] => plain.get(start..end),
        _ => None,
    });
    pieces.collect()
}

/// The ions of a salt: what is in brackets with its count, ammonium, each metal, and what is between them.
fn ions(plain: &str) -> Vec<&str> {
    let mut all = Vec::new();
    let (mut start, mut at) = (0, 0);
    while at < plain.len() {
        let rest = plain.get(at..).unwrap_or_default();
        let length = cation_or_group(rest);
        if let Some(length) = length {
            all.extend(plain.get(start..at).filter(|ion| !ion.is_empty()));
            all.extend(plain.get(at..at + length));
            start = at + length;
        }
        let element = elements(rest)
            .first()
            .map_or(rest.len(), |element| element.len());
        at += length.unwrap_or(element.max(1));
    }
    all.extend(plain.get(start..).filter(|ion| !ion.is_empty()));
    all
}

/// The length of the bracket, the ammonium or the metal that a text begins with.
fn cation_or_group(text: &str) -> Option<usize> {
    let with_count = |length: usize| {
        let after = text.get(length..).unwrap_or_default();
        let digits = after.bytes().take_while(u8::is_ascii_digit);
        length + digits.count()
    };
    match text.chars().next()? {
        '(' => Some(with_count(text.find(')')? + 1)),
        '[' => Some(with_count(text.find(']')? + 1)),
        _ if text.starts_with("NH4") => Some(3),
        _ => {
            let letters = text.bytes().skip(1).take_while(u8::is_ascii_lowercase);
            let length = 1 + letters.count();
            let element = Element::from_symbol(text.get(..length)?)?;
            element.is_metal().then(|| with_count(length))
        }
    }
}

/// The units joined in each order, the given one first.
fn permutations(units: &[&str]) -> Vec<String> {
    if units.len() <= 1 {
        return Vec::from([units.concat()]);
    }
    let mut all = Vec::new();
    for (index, first) in units.iter().enumerate() {
        let mut rest = units.to_vec();
        rest.remove(index);
        all.extend(
            permutations(&rest)
                .into_iter()
                .map(|rest| format!("{first}{rest}")),
        );
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn has(formula: &str, spellings: &[&str]) {
        let all = accepted(formula);
        assert_eq!(all.first().map(String::as_str), Some(formula));
        for spelling in spellings {
            assert!(all.iter().any(|own| own == spelling), "{spelling}: {all:?}");
        }
    }

    #[test]
    fn usual_ways_to_type_count() {
        has("Al2O3", &["O3Al2", "Al₂O₃", "O₃Al₂"]);
        has("CH4N2O", &["CON2H4", "N2H4CO", "CH₄N₂O"]);
        has(
            "MgSO4·7H2O",
            &[
                "MgSO4*7H2O",
                "MgSO4 . 7 H2O",
                "MgSO₄·7H₂O",
                "MgSO4.7H2O",
                "MgSO4•7H2O",
            ],
        );
        has("Zn(NO3)2·6H2O", &["Zn(NO3)2.6H2O", "Zn(NO₃)₂ · 6 H₂O"]);
        has("CaCl2·H2O", &["CaCl2·1H2O", "CaCl2*H2O"]);
        has(
            "CaSO4·0.5H2O",
            &[
                "CaSO4·½H2O",
                "CaSO4·1/2H2O",
                "CaSO4 * 0,5 H2O",
                "CaSO₄·½H₂O",
            ],
        );
        has(
            "K2CO3·1.5H2O",
            &["K2CO3·3/2H2O", "K2CO3 x 1.5 H2O", "K2CO3·1,5H2O"],
        );
        has("KAl(SO4)2·12H2O", &["AlK(SO4)2·12H2O"]);
        has("NH4MgPO4·6H2O", &["MgNH4PO4*6H2O"]);
        has("(NH4)2Fe(SO4)2·6H2O", &["Fe(NH4)2(SO4)2·6H2O"]);
        has(
            "Mg(C2H3O2)2·4H2O",
            &["Mg(CH3COO)2·4H2O", "(CH3COO)2Mg·4H2O"],
        );
        has("SO4^2-", &["SO4²⁻", "SO₄²⁻", "SO4 2-", "SO42-", "SO4^2−"]);
        has("Zn^2+", &["Zn2+", "Zn²⁺", "Zn(2+)"]);
    }

    #[test]
    fn few_spellings_and_each_means_the_formula() {
        for formula in [
            "KAl(SO4)2·12H2O",
            "CaSO4·0.5H2O",
            "NaC2H3O2·3H2O",
            "Mg(CHO2)2·2H2O",
            "NaHCO3",
            "PO4^3-",
        ] {
            let all = accepted(formula);
            let (meant, _) = Formula::read(formula).unwrap();
            assert!(all.len() < MOST_SPELLINGS, "{formula}: {}", all.len());
            for spelling in all {
                let exempt = spelling.contains(',')
                    || matches!(&*spelling, "PO43-" | "PO4 3-" | "PO43−" | "PO4 3−");
                let read = Formula::read(&spelling);
                assert!(exempt || is_same(&read.unwrap().0, &meant), "{spelling}");
            }
        }
    }

    #[test]
    fn what_cannot_be_read_has_itself_alone() {
        for text in ["", "???", "CaSO4·xH2O"] {
            assert_eq!(accepted(text), [text]);
            assert_eq!(waters(text), None);
        }
    }

    #[test]
    fn x_of_a_hydrate() {
        let half = Ratio::new(1, 2).unwrap();
        assert_eq!(waters("CaSO4·0.5H2O"), Some(("CaSO4".into(), half)));
        assert_eq!(waters("(NH4)2SO4"), None);
        assert_eq!(waters("SO4^2-"), None);
    }
}
