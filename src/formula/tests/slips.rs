//! Slips of the keyboard, and what is said about each: the whole sentence, its place, the help.

use super::*;

#[track_caller]
fn slip(text: &str, code: &str, span: (usize, usize), message: &str, help: &str) {
    refused(text, code, span, message);
    helped(text, help);
}

/// Read leniently with one note; refused strictly at this place, with this sentence and help.
#[track_caller]
fn suspect(text: &str, canonical: &str, note: [&str; 2], span: (usize, usize), said: [&str; 2]) {
    noted(text, canonical, &note[..1], "ambiguous_notation");
    assert_eq!(Formula::read(text).unwrap().1[0].text(), note[1]);
    let error = text.parse::<Formula>().unwrap_err();
    assert_eq!(
        (error.to_string().as_str(), error.help()),
        (said[0], Some(said[1]))
    );
    assert_eq!(
        error.span(),
        Some(Span::new(span.0, span.1)),
        "span of {text:?}"
    );
}

#[test]
fn zeros_for_the_letter_o() {
    slip(
        "C0",
        "bad_formula",
        (1, 2),
        "a count of zero after `C`",
        "write the letter O for oxygen: `CO`",
    );
    slip(
        "Ca(0H)2",
        "bad_formula",
        (3, 4),
        "`0` is where a group should begin",
        "write the letter O for oxygen: `Ca(OH)2`",
    );
    slip(
        "Ca(2OH)",
        "bad_formula",
        (3, 4),
        "`2` is where a group should begin",
        "write the count after what it counts",
    );
    slip(
        "Na0H",
        "bad_formula",
        (2, 3),
        "a count of zero after `Na`",
        "write the letter O for oxygen: `NaOH`",
    );
}

#[test]
fn digits_and_letters_for_l() {
    suspect(
        "NaC1",
        "NaC",
        [
            "suspect_one",
            "`C1` was read with the digit 1. Perhaps Cl was meant, with the small letter l.",
        ],
        (3, 4),
        [
            "`C1` has the digit 1, but it looks like Cl with a one for the small letter l",
            "write `NaCl`",
        ],
    );
    suspect(
        "MgC12·6H2O",
        "MgC_{12}·6H2O",
        [
            "suspect_one",
            "`C1` was read with the digit 1. Perhaps Cl was meant, with the small letter l.",
        ],
        (3, 4),
        [
            "`C1` has the digit 1, but it looks like Cl with a one for the small letter l",
            "write `MgCl2·6H2O`",
        ],
    );
    suspect(
        "T1NO3",
        "[3H]NO3",
        [
            "suspect_one",
            "`T1` was read with the digit 1. Perhaps Tl was meant, with the small letter l.",
        ],
        (1, 2),
        [
            "`T1` has the digit 1, but it looks like Tl with a one for the small letter l",
            "write `TlNO3`",
        ],
    );
    suspect(
        "CuCI2·2H2O",
        "CuC1I2·2H2O",
        [
            "suspect_letter",
            "`CI` was read as carbon and iodine. Perhaps Cl was meant, with the small letter l.",
        ],
        (3, 4),
        [
            "`CI` is carbon and iodine, but it looks like Cl with a capital I for the small letter l",
            "write `CuCl2·2H2O`",
        ],
    );
    for text in [
        "HC1",
        "NH4C1",
        "KC1O3",
        "FeC13",
        "MgC12.6H2O",
        "NaC1(s)",
        "NaCI",
        "NaCI2O",
        "FeC13*6H2O",
        "HT1",
        "T1",
    ] {
        assert!(Formula::read(text).is_ok(), "{text}");
        let error = text.parse::<Formula>().unwrap_err();
        assert_eq!(error.code(), "ambiguous_notation", "{text}");
    }
    for honest in [
        "C1H4",
        "K1C1O3",
        "LiC12",
        "KC8",
        "CaC2",
        "CI4",
        "CHI3",
        "C1UO2",
        "NaC1I",
        "C₁O",
        "NaC_1",
        "UC",
        "C12H22O11",
    ] {
        assert_eq!(honest.parse::<Formula>().err(), None, "{honest}");
    }
    slip(
        "A1Cl3",
        "unknown_element",
        (0, 1),
        "`A` is not the symbol of an element",
        "perhaps Al, aluminium, with the small letter l: `AlCl3`",
    );
    slip(
        "AI2O3",
        "unknown_element",
        (0, 1),
        "`A` is not the symbol of an element",
        "perhaps Al, aluminium, with the small letter l: `Al2O3`",
    );
    slip(
        "BaCl2·lH2O",
        "unknown_element",
        (7, 8),
        "`l` is not the symbol of an element",
        "perhaps the digit 1 in place of the small letter l: `BaCl2·1H2O`",
    );
}

#[test]
fn capitals_and_small_letters() {
    let capitals = "A symbol is a capital letter, or a capital and a small one";
    for (text, span, message, perhaps) in [
        (
            "cl",
            (0, 2),
            "`cl` is not the symbol of an element",
            "Cl, chlorine",
        ),
        (
            "mgso4",
            (0, 2),
            "`mg` is not the symbol of an element",
            "Mg, magnesium",
        ),
        (
            "NACL",
            (1, 2),
            "`A` is not the symbol of an element",
            "Na, sodium",
        ),
        (
            "H2o",
            (2, 3),
            "`o` is not the symbol of an element",
            "O, oxygen",
        ),
        (
            "NaoH",
            (2, 3),
            "`o` is not the symbol of an element",
            "O, oxygen",
        ),
        (
            "MGSO4",
            (0, 1),
            "`M` is not the symbol of an element",
            "Mg, magnesium",
        ),
    ] {
        let help = format!("perhaps {perhaps}. {capitals}");
        slip(text, "unknown_element", span, message, &help);
    }
}

#[test]
fn doubled_brackets() {
    let code = "unbalanced_bracket";
    let open = "the bracket `(` is never closed";
    slip(
        "Ca((OH)2",
        code,
        (2, 3),
        open,
        "take one of the two out, `Ca(OH)2`, or add `)` where the group ends",
    );
    slip(
        "((OH)2",
        code,
        (0, 1),
        open,
        "take one of the two out, `(OH)2`, or add `)` where the group ends",
    );
    slip("Ca(OH", code, (2, 3), open, "add `)` where the group ends");
    slip(
        "(OH))2",
        code,
        (4, 5),
        "the bracket `)` closes nothing",
        "it appears twice. Take one out: `(OH)2`",
    );
    slip(
        "[Fe(CN)6]]",
        code,
        (9, 10),
        "the bracket `]` closes nothing",
        "it appears twice. Take one out: `[Fe(CN)6]`",
    );
    slip(
        "CuSO4)",
        code,
        (5, 6),
        "the bracket `)` closes nothing",
        "take it out, or open the group before it",
    );
}

#[test]
fn dots_left_out() {
    suspect(
        "MgSO47H2O",
        "MgSO_{47}H2O",
        [
            "suspect_dot",
            "`47H2O` was read as one count before hydrogen. Perhaps 4·7H2O was meant, with a dot before the water.",
        ],
        (4, 6),
        [
            "`47H2O` is one count before hydrogen, but it looks like 4·7H2O with the dot left out",
            "write `MgSO4·7H2O`",
        ],
    );
    for (text, mended) in [
        ("CuSO45H2O", "write `CuSO4·5H2O`"),
        ("BaCl22H2O", "write `BaCl2·2H2O`"),
        ("Zn(NO3)26H2O", "write `Zn(NO3)2·6H2O`"),
        ("Al2(SO4)318H2O", "write `Al2(SO4)3·18H2O`"),
        ("Na2CO310H2O", "write `Na2CO3·10H2O`"),
    ] {
        let error = text.parse::<Formula>().unwrap_err();
        assert_eq!(error.help(), Some(mended), "{text}");
        let (formula, _) = Formula::read(text).unwrap();
        assert_eq!(formula.to_string().parse(), Ok(formula), "{text}");
    }
    for honest in [
        "C60H2O",
        "H4SiW12O40H2O",
        "MgSO4H2O",
        "CH3(CH2)16CO2H",
        "MgSO_{47}H2O",
        "MgSO₄₇H₂O",
        "C10H2O",
    ] {
        assert_eq!(honest.parse::<Formula>().err(), None, "{honest}");
    }
    let space = "a space inside the formula";
    slip(
        "MgSO4 7H2O",
        "bad_formula",
        (5, 6),
        space,
        "put an adduct dot in place of the space: `MgSO4·7H2O`",
    );
    slip(
        "MgSO4\u{A0} H2O ",
        "bad_formula",
        (5, 8),
        space,
        "put an adduct dot in place of the space: `MgSO4·H2O`",
    );
    slip(
        "Na Cl",
        "bad_formula",
        (2, 3),
        space,
        "take the space out: `NaCl`",
    );
}

#[test]
fn letters_of_other_scripts() {
    slip(
        "Н2О",
        "bad_formula",
        (0, 2),
        "`Н` is a Cyrillic letter that looks like the Latin H",
        "type it again: `H2O`",
    );
    slip(
        "CaСО3",
        "bad_formula",
        (2, 4),
        "`С` is a Cyrillic letter that looks like the Latin C",
        "type it again: `CaCO3`",
    );
    slip(
        "MgSΟ4",
        "bad_formula",
        (3, 5),
        "`Ο` is a Greek letter that looks like the Latin O",
        "type it again: `MgSO4`",
    );
    slip(
        "ＮaCl",
        "bad_formula",
        (0, 3),
        "`Ｎ` is a full-width letter that looks like the Latin N",
        "type it again: `NaCl`",
    );
    slip(
        "NaCl🧂",
        "bad_formula",
        (4, 8),
        "`🧂` does not belong in a formula",
        "use only symbols of elements, counts, brackets, dots and charges",
    );
}

#[test]
fn quotation_marks_and_primes() {
    let refuse = |text: &str, end: usize, mark: &str, kind: &str| {
        let message = format!("`{mark}` is {kind}, and no formula has one");
        slip(
            text,
            "bad_formula",
            (end - mark.len(), end),
            &message,
            "take it out: `NaCl`",
        );
    };
    refuse("\"NaCl\"", 1, "\"", "a quotation mark");
    refuse("“NaCl”", 3, "“", "a quotation mark");
    refuse("NaCl'", 5, "'", "a quotation mark");
    refuse("NaCl’", 7, "’", "a quotation mark");
    refuse("NaCl′", 7, "′", "a prime");
    refuse("NaCl´", 6, "´", "an accent");
    helped("''", "take it out");
}

#[test]
fn an_error_is_shown_under_its_place() {
    let text = "Na2SО4·10H2O";
    let error = text.parse::<Formula>().unwrap_err();
    let expected = "\
Na2SО4·10H2O
    ^
`О` is a Cyrillic letter that looks like the Latin O
help: type it again: `Na2SO4·10H2O`";
    assert_eq!(error.caret(text).to_string(), expected);
    let long = format!("{}Xx", "H".repeat(200));
    let error = long.parse::<Formula>().unwrap_err();
    let expected = format!(
        "…{}Xx\n{}^^\n`Xx` is not the symbol of an element\nhelp: check the symbol against a periodic table",
        "H".repeat(70),
        " ".repeat(71)
    );
    assert_eq!(error.caret(&long).to_string(), expected);
    // An error about no text in particular is its sentence and its help.
    let weights = AtomicWeights::default();
    let error = weights
        .weight("Tc".parse().unwrap())
        .unwrap_err()
        .caret("TcO2")
        .to_string();
    assert_eq!(
        error,
        "technetium (Tc) has no standard atomic weight, because it has no natural mixture of isotopes\n\
         help: give the mass of the nuclide as the weight of Tc"
    );
}
