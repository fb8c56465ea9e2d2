//! Numerical terms of names: di, tri, dodeca, bis, hemi, sesqui.
//!
//! Source: Nomenclature of Inorganic Chemistry, IUPAC Recommendations 2005, Table IV, from memory;
//! that no vowel is left out before another, except in monoxide, was read there in IR-2.7.

use alloc::format;
use alloc::string::String;

use crate::formula::repr::Count;
use crate::number::Ratio;

/// The largest number that is written as a word.
pub(super) const MOST: u32 = 99;

/// The largest number of ions that is read at the front of a word.
const MOST_IONS: u32 = 12;

const UNITS: [&str; 13] = [
    "", "mono", "di", "tri", "tetra", "penta", "hexa", "hepta", "octa", "nona", "deca", "undeca",
    "dodeca",
];

/// The prefixes of common degrees, as words.
pub(super) fn prefixes() -> impl Iterator<Item = &'static str> {
    UNITS.into_iter().skip(1).chain(["hemi", "sesqui"])
}

/// Other forms, which are read but not written.
const OTHERS: [(&str, u32); 4] = [("ennea", 9), ("hendeca", 11), ("eicosa", 20), ("bi", 2)];

/// The numerical term for a number from 1 to [`MOST`].
pub(super) fn term(number: u32) -> Option<String> {
    if let Some(term) = UNITS.get(usize::try_from(number).ok()?) {
        return (!term.is_empty()).then(|| (*term).into());
    }
    if number > MOST {
        return None;
    }
    let unit = match number % 10 {
        1 => "hen",
        2 => "do",
        unit => UNITS.get(usize::try_from(unit).ok()?)?,
    };
    let ends_in_vowel = unit.ends_with(['a', 'o', 'i']);
    Some(match number / 10 {
        1 => format!("{unit}deca"),
        // docosa, tricosa, but icosa and henicosa.
        2 if ends_in_vowel => format!("{unit}cosa"),
        2 => format!("{unit}icosa"),
        3 => format!("{unit}triaconta"),
        tens => format!("{unit}{}conta", UNITS.get(usize::try_from(tens).ok()?)?),
    })
}

/// The numerical term for a number of ions, if the reader knows it at the front of a word.
pub(super) fn of_ions(number: u32) -> Option<String> {
    term(number).filter(|_| number <= MOST_IONS)
}

/// bis, tris, tetrakis: for a group, or for an ion that has a number in its name.
pub(super) fn multiplier(number: u32) -> Option<String> {
    match number {
        2 => Some("bis".into()),
        3 => Some("tris".into()),
        _ => term(number).map(|term| format!("{term}kis")),
    }
}

/// The number that a whole term stands for.
pub(super) fn number(term: &str) -> Option<u32> {
    if let Some((_, number)) = OTHERS.iter().find(|(other, _)| *other == term) {
        return Some(*number);
    }
    (1..=MOST).find(|number| self::term(*number).as_deref() == Some(term))
}

/// The number that bis, tris or tetrakis stands for.
pub(super) fn multiplied(word: &str) -> Option<u32> {
    match word {
        "bis" => Some(2),
        "tris" => Some(3),
        _ => number(word.strip_suffix("kis")?),
    }
}

/// Every way in which a word begins with a term from 1 to 12, and what follows the term.
/// `monoxide` and `pentoxide` have lost a vowel.
pub(super) fn beginnings(word: &str) -> impl Iterator<Item = (u32, &str)> {
    (1..)
        .zip(UNITS.iter().skip(1))
        .filter_map(move |(number, term)| {
            if let Some(rest) = word.strip_prefix(term) {
                return Some((number, rest));
            }
            let rest = word.strip_prefix(term.strip_suffix(['a', 'o'])?)?;
            rest.starts_with('o').then_some((number, rest))
        })
}

/// The count that a degree's prefix gives: `hepta`, `hemi`, `sesqui`, `hemipenta`.
pub(super) fn degree(prefix: &str) -> Option<Count> {
    match prefix {
        "hemi" => return Some(Count::Known(1, 2)),
        "sesqui" => return Some(Count::Known(3, 2)),
        _ => {}
    }
    if let Some(doubled) = prefix.strip_prefix("hemi") {
        let doubled = number(doubled).filter(|number| number % 2 == 1)?;
        return Some(Count::known(doubled, 2));
    }
    Some(Count::Known(number(prefix)?, 1))
}

/// A degree in front of `hydrate`: as a word if there is one, otherwise in digits with a hyphen.
pub(super) fn degree_prefix(waters: Count) -> String {
    let word = match waters {
        Count::Known(1, 2) => Some("hemi".into()),
        Count::Known(3, 2) => Some("sesqui".into()),
        Count::Known(whole, 1) => term(whole),
        Count::Known(doubled, 2) => term(doubled).map(|term| format!("hemi{term}")),
        Count::Known(..) => None,
        Count::Unknown('x') => Some(String::new()),
        Count::Unknown(letter) => return format!("{letter}-"),
    };
    word.unwrap_or_else(|| format!("{}-", waters.ratio().unwrap_or(Ratio::ZERO)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terms_of_the_standard() {
        for (number, expected) in [
            (1, "mono"),
            (9, "nona"),
            (11, "undeca"),
            (12, "dodeca"),
            (13, "trideca"),
            (19, "nonadeca"),
            (20, "icosa"),
            (21, "henicosa"),
            (22, "docosa"),
            (23, "tricosa"),
            (24, "tetracosa"),
            (30, "triaconta"),
            (31, "hentriaconta"),
            (32, "dotriaconta"),
            (46, "hexatetraconta"),
            (99, "nonanonaconta"),
        ] {
            assert_eq!(term(number).as_deref(), Some(expected));
        }
        assert_eq!((term(0), term(100)), (None, None));
        assert_eq!(multiplier(4).as_deref(), Some("tetrakis"));
    }

    #[test]
    fn every_term_reads_back() {
        for whole in 1..=MOST {
            let word = term(whole).unwrap();
            assert_eq!(number(&word), Some(whole), "{word}");
            assert_eq!(degree(&word), Some(Count::Known(whole, 1)));
            assert_eq!(multiplied(&multiplier(whole).unwrap()), Some(whole));
            let half = Count::known(whole, 2);
            let prefix = degree_prefix(half);
            assert_eq!(degree(&prefix), Some(half), "{prefix}");
        }
        let found = |word| beginnings(word).collect::<alloc::vec::Vec<_>>();
        assert_eq!(found("pentoxide"), [(5, "oxide")]);
        assert_eq!(found("pentaoxide"), [(5, "oxide")]);
        assert_eq!(found("dichloride"), [(2, "chloride")]);
        assert!(found("tin").is_empty());
        for nothing in ["", "hex", "hemidi", "hemihemi", "kis", "tetrak"] {
            assert_eq!(degree(nothing), None, "{nothing}");
        }
    }
}
