//! Names: whatever is typed is read or refused in time, and what is read has a name.

use std::time::{Duration, Instant};

use effloresce::Formula;
use effloresce::formula::ErrorKind;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

/// Texts made of what names are made of.
fn like_a_name() -> impl Strategy<Value = String> {
    let pieces = select(vec![
        "sodium",
        "potassium",
        "iron",
        "cobalt",
        "mercury",
        "ammonium",
        "ferric",
        "aluminum",
        "sulfate",
        "sulphate",
        "chloride",
        "oxide",
        "peroxide",
        "phosphate",
        "hydrogen",
        "carbonate",
        "hydrate",
        "heptahydrate",
        "hemi",
        "di",
        "tri",
        "tetra",
        "hexaaqua",
        "bis",
        "tris",
        "kis",
        "water",
        "ammonia",
        "anhydrous",
        "hexacyanidoferrate",
        "(II)",
        "(III)",
        "(IX)",
        "(2+)",
        "(",
        ")",
        "(1/10)",
        "(1/x)",
        "(0/0)",
        "(1/",
        "/",
        "1",
        "10",
        "0.5",
        "999999999999",
        "½",
        "n",
        "x",
        "II",
        "-",
        "—",
        "–",
        " ",
        ", ",
        ".",
        "'",
        "Mohr's salt",
        "é",
        "\u{301}",
        "İ",
        "\u{7}",
        "\u{200B}",
        "１２",
    ]);
    let any = any::<char>().prop_map(String::from);
    let piece =
        prop_oneof![12 => pieces.prop_map(String::from), 6 => Just(" ".to_owned()), 1 => any];
    vec(piece, 0..14).prop_map(|pieces| pieces.concat())
}

/// Names of salts of one or two cations, some of which leave nothing open.
fn like_a_salt() -> impl Strategy<Value = String> {
    let cations = vec![
        "sodium",
        "potassium",
        "ammonium",
        "magnesium",
        "zinc",
        "aluminium",
        "iron(II)",
        "iron(III)",
        "copper(I)",
        "copper(II)",
        "cobalt(II)",
        "tin(IV)",
        "mercury(I)",
        "hexaaquanickel(II)",
    ];
    let anions = vec![
        "fluoride",
        "oxide",
        "nitride",
        "hydroxide",
        "nitrate",
        "sulfate",
        "carbonate",
        "phosphate",
        "hydrogenphosphate",
        "acetate",
        "oxalate",
        "hexacyanidoferrate(III)",
    ];
    let degrees = vec![
        "",
        " monohydrate",
        " hemihydrate",
        " sesquihydrate",
        " heptahydrate",
        " icosahydrate",
        " 8/3-hydrate",
        " hydrate",
        " n-hydrate",
    ];
    let two = prop_oneof![select(cations.clone()).prop_map(Some), Just(None)];
    (two, select(cations), select(anions), select(degrees)).prop_map(
        |(first, second, anion, degree)| {
            let first = first.map_or_else(String::new, |first| format!("{first} "));
            format!("{first}{second} {anion}{degree}")
        },
    )
}

fn composition(formula: &Formula) -> Option<String> {
    let dry = formula.anhydrous()?;
    Some(format!(
        "{} {:?}",
        dry.composition().ok()?.hill(),
        formula.waters()
    ))
}

/// A refusal has a sentence, a place inside the text, and a help.
fn refused_in_order(text: &str, error: &effloresce::formula::Error) -> Result<(), TestCaseError> {
    prop_assert!(!error.to_string().is_empty());
    prop_assert!(error.to_string().len() < 400, "{}", error);
    prop_assert!(error.help().is_some(), "{}", error);
    let span = error.span().unwrap();
    prop_assert!(
        text.get(span.start..span.end).is_some(),
        "{:?}: {:?}",
        text,
        error
    );
    let kinds = [ErrorKind::BadName, ErrorKind::TooLarge];
    prop_assert!(kinds.contains(&error.kind()), "{:?}: {:?}", text, error);
    Ok(())
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in prop_oneof![like_a_name(), any::<String>()]) {
        match Formula::from_name(&text) {
            Ok((formula, _)) => {
                let again: Formula = formula.to_string().parse().unwrap();
                prop_assert_eq!(&again, &formula, "{:?}", text);
            }
            Err(error) => refused_in_order(&text, &error)?,
        }
    }

    /// What is read from a name of a salt is named, and the name is read as the same substance.
    #[test]
    fn a_salt_is_named_again(text in like_a_salt()) {
        let formula = match Formula::from_name(&text) {
            Ok((formula, _)) => formula,
            Err(error) => return refused_in_order(&text, &error),
        };
        let name = match formula.name() {
            Ok(name) => name,
            Err(error) => {
                // Two cations of one metal, or two salts with one formula.
                prop_assert_eq!(error.kind(), ErrorKind::BadName);
                let metal = |word: &str| word.split('(').next().map(str::to_owned);
                let words: Vec<&str> = text.split(' ').collect();
                let one = metal(words[0]) == metal(words[1]);
                prop_assert!(one || error.to_string().contains(" can be read as "), "{}", error);
                return Ok(());
            }
        };
        let (again, _) = Formula::from_name(name.name()).map_err(|e| {
            TestCaseError::fail(format!("{text} → {formula} → {name}: {e}"))
        })?;
        prop_assert_eq!(composition(&again), composition(&formula), "{} → {}", text, name);
        let last = again.name().unwrap();
        prop_assert_eq!(last.name(), name.name());
        if text.split(' ').filter(|word| !word.is_empty()).count() == 2 {
            prop_assert_eq!(name.name(), text.as_str());
            prop_assert_eq!(&again, &formula);
        }
    }

    /// The writer names or refuses whatever the parser reads.
    #[test]
    fn any_formula_is_named_or_refused(meaning in crate::strategies::open_meaning()) {
        let text = crate::strategies::Spelling::new(0).write(&meaning);
        let Ok((formula, _)) = Formula::read(&text) else { return Ok(()) };
        match formula.name() {
            Ok(name) => {
                prop_assert!(Formula::from_name(name.name()).is_ok(), "{} {}", formula, name);
                prop_assert!(Formula::from_name(name.systematic()).is_ok(), "{} {}", formula, name.systematic());
            }
            Err(error) => {
                prop_assert_eq!(error.kind(), ErrorKind::BadName);
                prop_assert!(error.help().is_some());
            }
        }
    }
}

/// The longest texts, made to cost as much as they can.
#[test]
fn the_longest_texts_take_no_time() {
    let start = Instant::now();
    for piece in [
        "tin ",
        "di",
        "hydrogen ",
        "a ",
        "(",
        "1/",
        "-",
        "—water",
        "bis(",
        "tritritri ",
        "é",
        "sodium sulfate—",
        "hexaaqua",
        "sulfat ",
        "x ",
    ] {
        let text = piece.repeat(2048 / piece.len());
        for text in [
            text.clone(),
            format!("{} (1/10)", &text[..piece.len() * 20]),
        ] {
            assert!(Formula::from_name(&text).is_err(), "{piece}");
        }
    }
    for text in [
        "O2".repeat(120),
        "(O2)".repeat(100),
        "Na".repeat(200),
        "NH4".repeat(100),
    ] {
        assert!(Formula::read(&text).unwrap().0.name().is_err(), "{text}");
    }
    assert!(
        start.elapsed() < Duration::from_secs(5),
        "{:?}",
        start.elapsed()
    );
}
