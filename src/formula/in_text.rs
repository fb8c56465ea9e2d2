//! Formulas in a text: which of its words are formulas.

use alloc::string::ToString;

use super::repr::Formula;

/// Elements that have one capital and are no codes, as H318 is one of a hazard.
const ELEMENTS: [&str; 6] = ["O2", "N2", "H2", "Cl2", "Br2", "I2"];

/// A word that is a formula.
pub(crate) struct FormulaWord<'a> {
    /// Marks of the sentence before it.
    pub(crate) before: &'a str,
    pub(crate) formula: Formula,
    pub(crate) after: &'a str,
}

/// Returns the formula that a word is, without the marks of the sentence around it.
pub(crate) fn formula_in(word: &str) -> Option<FormulaWord<'_>> {
    // A bracket may belong to the formula or to the sentence.
    let marks = |c: char| !(c.is_alphanumeric() || "()[]".contains(c));
    let bare = word.trim_matches(marks);
    let inner = [
        // A charge ends with its sign.
        Some(
            word.trim_start_matches('(')
                .trim_end_matches([',', ';', ':', '.', '?', ')']),
        )
        .filter(|word| word.contains('^')),
        Some(bare),
        bare.strip_prefix('('),
        bare.strip_suffix(')'),
        bare.strip_prefix('(')
            .and_then(|rest| rest.strip_suffix(')')),
    ];
    inner.into_iter().flatten().find_map(|inner| {
        let (before, after) = word.split_once(inner)?;
        let formula = sure_formula(inner)?;
        Some(FormulaWord {
            before,
            formula,
            after,
        })
    })
}

/// Returns the formula that a word surely is: it has two capitals and a digit, or a charge, or it is an element.
fn sure_formula(word: &str) -> Option<Formula> {
    let capitals = word.chars().filter(char::is_ascii_uppercase).count();
    let digit = word.contains(|c: char| c.is_ascii_digit());
    let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
    let likely = (capitals > 1 && digit) || word.contains('^') || ELEMENTS.contains(&unit);
    let formula: Option<Formula> = likely.then(|| word.parse().ok())?;
    // Another spelling stays as it was written.
    formula.filter(|formula| formula.to_string() == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_is_found_without_the_marks_around_it() {
        for (word, expected) in [
            ("MgSO4·7H2O.", Some(["", "MgSO4·7H2O", "."])),
            ("(of", None),
            ("Fe2O3),", Some(["", "Fe2O3", "),"])),
            ("(CuSO4)", Some(["(", "CuSO4", ")"])),
            ("3Cl2", Some(["", "3Cl2", ""])),
            ("SO4^2-,", Some(["", "SO4^2-", ","])),
            ("Ag^+", Some(["", "Ag^+", ""])),
            ("MnO4^-", Some(["", "MnO4^-", ""])),
            ("(Mg^2+).", Some(["(", "Mg^2+", ")."])),
            ("MgSO4·xH2O?", Some(["", "MgSO4·xH2O", "?"])),
            ("H318:", None),
            ("NaCl", None),
            ("a^b", None),
            ("B1", None),
            ("", None),
        ] {
            let found = formula_in(word);
            let parts =
                found.map(|f| [f.before.to_string(), f.formula.to_string(), f.after.into()]);
            let expected = expected.map(|parts| parts.map(ToString::to_string));
            assert_eq!(parts, expected, "{word}");
        }
    }
}
