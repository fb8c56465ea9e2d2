//! Whatever is typed is read or refused, with a sentence; nothing panics.

use effloresce::gravimetry::{HeatingSafety, Severity};
use effloresce::number::DecimalMark;
use effloresce::{AtomicWeights, Error, Formula, Ratio, Reading};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::formula::reads_back;
use crate::writers::says_the_same;

/// Texts made of what formulas are made of.
fn like_a_formula() -> impl Strategy<Value = String> {
    let pieces = select(vec![
        "H",
        "O",
        "C",
        "N",
        "S",
        "Na",
        "Cu",
        "Mg",
        "SO4",
        "H2O",
        "HOH",
        "OH2",
        "Co",
        "U",
        "I",
        "Xx",
        "Uut",
        "Co3",
        "CO",
        "SN",
        "Cl2",
        "Ac",
        "THF",
        "Me",
        "(en)",
        "water",
        " x ",
        "×",
        ",5",
        "1.85",
        "D",
        "T",
        "[13C]",
        "^18O",
        "¹⁸O",
        "[99C]",
        "(",
        ")",
        "[",
        "]",
        "{",
        "}",
        "1",
        "2",
        "4",
        "10",
        "0",
        "05",
        "2000",
        "99999",
        "4294967296",
        ".5",
        "2.5",
        "0.33",
        "1/2",
        "8/3",
        "1/0",
        "/",
        "½",
        "2½",
        "⅓",
        "_4",
        "_{4}",
        "_{2.5}",
        "_",
        "₄",
        "₂.₅",
        "₈⁄₃",
        "x",
        "n",
        "_x",
        "ₙ",
        "·",
        "•",
        "*",
        ".",
        " · ",
        "·0.5",
        "·5H2O",
        ".5H2O",
        "(H2O)5",
        "(s)",
        "(aq)",
        "(l",
        "^2-",
        "^{2-}",
        "²⁻",
        "(2-)",
        "-",
        "--",
        "+",
        "2-",
        "-2",
        "e",
        "e-",
        "^",
        "^{",
        "—",
        " ",
        "\u{A0}",
        "\u{200B}",
        "４",
        "−",
        "⁺",
        "é",
        "\u{301}",
        "𝒪",
        "\u{7}",
        "\n",
        "\u{FEFF}",
        "=",
    ]);
    let any = any::<char>().prop_map(String::from);
    let piece = prop_oneof![20 => pieces.prop_map(String::from), 1 => any];
    vec(piece, 0..14).prop_map(|pieces| pieces.concat())
}

fn like_a_number() -> impl Strategy<Value = String> {
    let pieces = select(vec![
        "0",
        "1",
        "7",
        "21.352",
        "00",
        "000000000000000000000000000000",
        "9999999999999999",
        ".",
        ",",
        "-",
        "+",
        "−",
        "–",
        "e",
        "E",
        "e30",
        "e-30",
        "e31",
        "e99999999999",
        "１２",
        " ",
        "\u{A0}",
        "1,234",
        "1.234,5",
        "1 000",
        "½",
        "∞",
        "NaN",
        "0x1F",
        "٣",
    ]);
    let any = any::<char>().prop_map(String::from);
    let piece = prop_oneof![20 => pieces.prop_map(String::from), 1 => any];
    vec(piece, 0..6).prop_map(|pieces| pieces.concat())
}

/// One sentence, its place in the text, and what to do.
fn says_what_is_wrong(text: &str, error: &Error) -> Result<(), TestCaseError> {
    let message = error.to_string();
    prop_assert!(!message.is_empty() && message.len() < 3000);
    // A line break can only come from the text itself.
    prop_assert!(
        !message.contains('\n') || text.contains('\n'),
        "{:?}",
        message
    );
    prop_assert!(!error.code().is_empty());
    prop_assert!(
        error.help().is_some_and(|help| !help.is_empty()),
        "{:?}: {}",
        text,
        message
    );
    let Some(span) = error.span() else {
        return Err(TestCaseError::fail(format!(
            "{text:?}: no place for: {message}"
        )));
    };
    prop_assert!(span.start <= span.end, "{:?}: {:?}", text, span);
    let found = text.get(span.start..span.end);
    prop_assert!(found.is_some(), "{:?}: {:?} is no part of it", text, span);
    shown_under_its_place(text, error)
}

/// The line, carets under it, the sentence and the help.
fn shown_under_its_place(text: &str, error: &Error) -> Result<(), TestCaseError> {
    let shown = error.caret(text).to_string();
    let Some((line, rest)) = shown.split_once('\n') else {
        return Err(TestCaseError::fail(format!("{shown:?}: one line")));
    };
    let (carets, rest) = rest.split_once('\n').unwrap_or_default();
    let carets = carets
        .split_once(" | ")
        .map_or(carets, |(_, carets)| carets);
    prop_assert!(carets.trim_start().starts_with('^'), "{}", shown);
    prop_assert!(carets.chars().all(|c| matches!(c, ' ' | '^')), "{}", shown);
    prop_assert!(carets.len() <= 75, "{}", shown);
    // No control character reaches the screen.
    prop_assert!(!line.chars().any(char::is_control), "{:?}", line);
    let help = error.help().unwrap_or_default();
    prop_assert_eq!(rest, format!("{error}\nhelp: {help}"));
    Ok(())
}

fn formula(text: &str) -> Result<(), TestCaseError> {
    let strict = text.parse::<Formula>();
    if let Err(error) = &strict {
        says_what_is_wrong(text, &error.clone().into())?;
    }
    match Formula::read(text) {
        Ok((formula, notes)) => {
            prop_assert_eq!(strict.is_ok(), strict.as_ref().is_ok_and(|s| *s == formula));
            for note in notes {
                prop_assert!(!note.text().is_empty() && !note.code().is_empty());
            }
            says_the_same(&formula)?;
            let safety = HeatingSafety::of(&formula);
            prop_assert!(Severity::ALL.contains(&safety.severity()));
            prop_assert!(safety.cautions().iter().all(|note| !note.text().is_empty()));
            match formula.describe(&AtomicWeights::default()) {
                Ok(described) => prop_assert!(
                    formula.is_electron() || described.molar_mass().exact().is_positive()
                ),
                Err(error) => says_what_is_wrong(text, &error.into())?,
            }
        }
        Err(error) => {
            prop_assert!(
                strict.is_err(),
                "{:?}: read strictly and not leniently",
                text
            );
            says_what_is_wrong(text, &error.into())?;
        }
    }
    Ok(())
}

fn number(text: &str) -> Result<(), TestCaseError> {
    for mark in [DecimalMark::Point, DecimalMark::CommaOrPoint] {
        match Reading::read(text, mark) {
            Ok(reading) => {
                let again: Reading = reading.to_string().parse().unwrap();
                prop_assert_eq!(again, reading, "{:?}", text);
                prop_assert!(reading.figures().at_least() <= reading.figures().at_most());
                prop_assert!(reading.last_place().is_positive());
            }
            Err(error) => says_what_is_wrong(text, &error.into())?,
        }
    }
    if let Ok(ratio) = text.parse::<Ratio>() {
        prop_assert!(!ratio.to_plain().is_empty() && !ratio.to_string().is_empty());
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn any_text_is_a_formula_or_refused(text in any::<String>()) {
        formula(&text)?;
    }

    #[test]
    fn any_mixture_of_signs_is_a_formula_or_refused(text in like_a_formula()) {
        formula(&text)?;
    }

    #[test]
    fn whatever_is_read_reads_back(text in like_a_formula()) {
        if let Ok((formula, _)) = Formula::read(&text) {
            reads_back(&text, &formula)?;
        }
    }

    #[test]
    fn any_text_is_a_number_or_refused(text in any::<String>()) {
        number(&text)?;
    }

    #[test]
    fn any_mixture_of_digits_is_a_number_or_refused(text in like_a_number()) {
        number(&text)?;
    }
}

/// Far beyond what can be kept: refused at once by every reader, with a place and a help.
#[test]
fn great_lengths_are_refused() {
    let megabyte = 1 << 20;
    let mut refused = 0;
    for text in [
        "(".repeat(200_000),
        "[".repeat(500),
        "()".repeat(100_000),
        format!("{}H{}", "(".repeat(100_000), ")".repeat(100_000)),
        "H".repeat(100_000),
        "NaCl".repeat(megabyte / 4),
        "\u{A0}".repeat(megabyte / 2),
        "塩".repeat(megabyte / 3),
        "H2O·".repeat(200),
        "·".repeat(100_000),
        ".".repeat(100_000),
        "H.".repeat(100_000),
        "H.2".repeat(100_000),
        "-".repeat(100_000),
        "e".repeat(100_000),
        "^{".repeat(100_000),
        "9".repeat(megabyte),
        format!("H{}", "9".repeat(megabyte)),
        format!("H0.{}", "9".repeat(megabyte)),
        format!("H{}", "₉".repeat(megabyte / 3)),
        format!("H{}", "9".repeat(400)),
        format!("{}H", "9".repeat(400)),
        format!("H1/{}", "9".repeat(400)),
        format!("H^{}+", "9".repeat(400)),
        "H4294967296".into(),
        "4294967296H".into(),
        "H18446744073709551616".into(),
        format!("{}C{}", "(".repeat(16), ")999999999".repeat(16)),
        format!("{}C{}", "(".repeat(17), ")".repeat(17)),
        // As long as a text may be, and no longer.
        "(".repeat(2048),
        ")".repeat(2048),
        "H.".repeat(1024),
        ".2".repeat(1024),
        "9".repeat(2048),
        "C1I".repeat(682),
        format!("H{}", ".".repeat(2047)),
        format!("H2{}H2O", " ".repeat(2043)),
    ] {
        let error = Formula::read(&text).unwrap_err();
        let shown = error.caret(&text).to_string();
        assert!(shown.len() < 16_000, "{} bytes", shown.len());
        let strict = text.parse::<Formula>().unwrap_err();
        assert_eq!(strict, error);
        #[cfg(feature = "serde")]
        {
            let json = serde_json::to_string(&text).unwrap();
            let told = serde_json::from_str::<Formula>(&json).unwrap_err();
            assert!(told.to_string().starts_with(&error.to_string()), "{told}");
        }
        says_what_is_wrong(&text, &error.into()).unwrap();
        refused += 1;
    }
    assert_eq!(refused, 37);
    for text in ["9".repeat(100_000), format!("1e{}", "9".repeat(100_000))] {
        let error = text.parse::<Reading>().unwrap_err();
        says_what_is_wrong(&text, &error.into()).unwrap();
    }
}
