//! Texts for LaTeX: every character that LaTeX reads as its own is escaped, and formulas are typeset.

use alloc::format;
use alloc::string::String;

use crate::formula::{Formula, FormulaWord, formula_in};
use crate::text::{subscript_digit, superscript_digit};
use crate::text::{visible_line, with_no_break_spaces};

/// The way in which formulas are typeset in LaTeX.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum LatexFormulas {
    /// In maths mode, without packages.
    #[default]
    Maths,
    /// With the package `mhchem`, so that a formula can be edited as `\ce{MgSO4 * 7H2O}`.
    Mhchem,
}

/// A word with more characters may be broken.
pub(super) const LONGEST_WORD: usize = 24;

/// Signs that are written as commands. Those of maths mode need no font but the usual ones.
const SIGNS: [(char, &str); 66] = [
    ('\\', "\\textbackslash{}"),
    ('{', "\\{"),
    ('}', "\\}"),
    ('$', "$\\mathdollar$"),
    ('&', "\\&"),
    ('#', "\\#"),
    ('%', "\\%"),
    ('_', "\\_"),
    ('^', "\\textasciicircum{}"),
    ('~', "\\textasciitilde{}"),
    ('<', "\\textless{}"),
    ('>', "\\textgreater{}"),
    ('|', "\\textbar{}"),
    // Brackets and stars may be read as arguments of the command before them.
    ('[', "{[}"),
    (']', "{]}"),
    ('*', "{*}"),
    // Two of these would become one other sign.
    ('-', "-{}"),
    ('\'', "'{}"),
    ('`', "`{}"),
    ('?', "?{}"),
    ('!', "!{}"),
    ('"', "\\char34{}"),
    ('\u{A0}', "~"),
    ('·', "$\\cdot$"),
    ('•', "$\\bullet$"),
    ('−', "$-$"),
    ('±', "$\\pm$"),
    ('×', "$\\times$"),
    ('÷', "$\\div$"),
    ('→', "$\\rightarrow$"),
    ('←', "$\\leftarrow$"),
    ('⇌', "$\\rightleftharpoons$"),
    ('≈', "$\\approx$"),
    ('≠', "$\\neq$"),
    ('≤', "$\\leq$"),
    ('≥', "$\\geq$"),
    ('∞', "$\\infty$"),
    ('°', "$^{\\circ}$"),
    ('½', "$\\frac{1}{2}$"),
    ('⅓', "$\\frac{1}{3}$"),
    ('⅔', "$\\frac{2}{3}$"),
    ('¼', "$\\frac{1}{4}$"),
    ('¾', "$\\frac{3}{4}$"),
    ('⁺', "$^{+}$"),
    ('⁻', "$^{-}$"),
    ('α', "$\\alpha$"),
    ('β', "$\\beta$"),
    ('γ', "$\\gamma$"),
    ('δ', "$\\delta$"),
    ('λ', "$\\lambda$"),
    ('µ', "$\\mu$"),
    ('μ', "$\\mu$"),
    ('ν', "$\\nu$"),
    ('ξ', "$\\xi$"),
    ('π', "$\\pi$"),
    ('ρ', "$\\rho$"),
    ('Δ', "$\\Delta$"),
    ('Ω', "$\\Omega$"),
    ('Ω', "$\\Omega$"),
    ('–', "--"),
    ('—', "---"),
    ('“', "``"),
    ('”', "''"),
    ('‘', "`{}"),
    ('’', "'{}"),
    ('…', "\\ldots{}"),
];

impl LatexFormulas {
    /// The line that the preamble needs.
    pub(super) fn package(self) -> &'static str {
        match self {
            LatexFormulas::Maths => "",
            LatexFormulas::Mhchem => "\\usepackage[version=4]{mhchem}\n",
        }
    }

    /// Returns a text with its formulas typeset and nothing in it that LaTeX reads as its own.
    pub(super) fn prose(self, text: &str) -> String {
        let line = with_no_break_spaces(text);
        let mut out = String::with_capacity(line.len());
        for word in line.split_inclusive([' ', '\u{A0}']) {
            let bare = word.trim_end_matches([' ', '\u{A0}']);
            match formula_in(bare) {
                Some(found) => {
                    let FormulaWord { before, after, .. } = found;
                    escape_word(before, &mut out);
                    out.push_str(&self.formula(&found.formula));
                    escape_word(after, &mut out);
                }
                None => escape_word(bare, &mut out),
            }
            escape_word(word.get(bare.len()..).unwrap_or_default(), &mut out);
        }
        out
    }

    /// Returns a formula in a text.
    fn formula(self, formula: &Formula) -> String {
        match self {
            LatexFormulas::Maths => ["$", &formula.to_latex(), "$"].concat(),
            LatexFormulas::Mhchem => formula.to_mhchem(),
        }
    }

    /// Returns a formula in maths mode.
    pub(super) fn formula_in_maths(self, formula: &Formula) -> String {
        match self {
            LatexFormulas::Maths => formula.to_latex(),
            LatexFormulas::Mhchem => formula.to_mhchem(),
        }
    }
}

/// Returns a text without formulas, with nothing in it that LaTeX reads as its own.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in visible_line(text).split_inclusive(' ') {
        escape_word(word, &mut out);
    }
    out
}

fn escape_word(word: &str, out: &mut String) {
    let is_long = word.chars().count() > LONGEST_WORD;
    for c in word.chars() {
        escape_sign(c, out);
        if is_long {
            out.push_str("\\allowbreak{}");
        }
    }
}

fn escape_sign(c: char, out: &mut String) {
    if let Some((_, command)) = SIGNS.iter().find(|(sign, _)| *sign == c) {
        out.push_str(command);
    } else if matches!(c, ' '..='~') || is_latin(c) {
        out.push(c);
    } else if let Some(digit) = superscript_digit(c) {
        out.push_str(&format!("$^{{{digit}}}$"));
    } else if let Some(digit) = subscript_digit(c) {
        out.push_str(&format!("$_{{{digit}}}$"));
    } else {
        // Another letter may need a font that is missing.
        let escape: String = c.escape_unicode().collect();
        escape_word(&escape, out);
        out.push_str("\\allowbreak{}");
    }
}

/// Whether the usual font has the letter, or makes it of a letter and an accent. Every one of them was compiled.
fn is_latin(c: char) -> bool {
    let missing = "ÐÞðþ×÷ĄąĐđĘęĦħĮįĸĿŀŉŊŋŦŧŲųſ";
    matches!(c, 'À'..='ſ' | 'Ș'..='ț') && !missing.contains(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_text_is_read_as_latex() {
        for (text, latex) in [
            ("\\end{document}", "\\textbackslash{}end\\{document\\}"),
            (
                "$x$ & #1 a_b^c ~ 5 %",
                "$\\mathdollar$x$\\mathdollar$ \\& \\#1 a\\_b\\textasciicircum{}c \\textasciitilde{} 5 \\%",
            ),
            ("[a] *", "{[}a{]} {*}"),
            ("a--b ?` ''", "a-{}-{}b ?{}`{} '{}'{}"),
            ("Zoë Łódź", "Zoë Łódź"),
            ("2 µg at 20 °C", "2 $\\mu$g at 20 $^{\\circ}$C"),
            ("10³ x₂", "10$^{3}$ x$_{2}$"),
            ("\u{202e}a\nb", "\\textbackslash{}u\\{202e\\}a b"),
            ("塩", "\\textbackslash{}u\\{5869\\}\\allowbreak{}"),
        ] {
            assert_eq!(escaped(text), latex);
        }
        let long = escaped(&"A".repeat(LONGEST_WORD + 1));
        assert_eq!(long, "A\\allowbreak{}".repeat(LONGEST_WORD + 1));
    }

    #[test]
    fn formulas_are_typeset_in_both_ways() {
        let text = "(K3[Fe(CN)6]), 2 H2O";
        assert_eq!(
            LatexFormulas::Maths.prose(text),
            "($\\mathrm{K_{3}[Fe(CN)_{6}]}$), 2~$\\mathrm{H_{2}O}$"
        );
        assert_eq!(
            LatexFormulas::Mhchem.prose(text),
            "(\\ce{K3[Fe(CN)6]}), 2~\\ce{H2O}"
        );
    }
}
