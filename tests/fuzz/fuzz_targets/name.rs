//! Any text is a name or is refused with a place and a help; what is read has a name of its own
//! that reads back as the same substance, or an honest reason why it has none.
#![no_main]

use effloresce::element::Atom;
use effloresce::formula::ErrorKind;
use effloresce::{Error, Formula, Ratio};
use libfuzzer_sys::fuzz_target;

fn refused(text: &str, error: &Error) {
    let span = error.span().expect("a place");
    assert!(text.get(span.start..span.end).is_some(), "{span:?}");
    assert!(error.help().is_some_and(|help| !help.is_empty()));
    assert!(error.caret(text).to_string().contains('^'));
}

/// How many atoms there are for each one of the lightest element: `—water (2/1)` is read as two
/// formula units.
fn substance(formula: &Formula) -> Option<Vec<(Atom, Ratio)>> {
    let composition = formula.composition().ok()?;
    let (_, first) = composition.iter().min_by_key(|(atom, _)| *atom)?;
    let each = |(atom, count): (Atom, &Ratio)| Some((atom, count.checked_div(first)?));
    let mut shares = composition.iter().map(each).collect::<Option<Vec<_>>>()?;
    shares.sort();
    Some(shares)
}

/// A name that was written is read as the same substance, which is named the same.
fn reads_back(formula: &Formula, name: &str) {
    let again = read(name);
    assert_eq!(substance(&again), substance(formula), "{name}");
    let named = again.name().unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!(named.name(), name);
}

fn read(name: &str) -> Formula {
    let read = Formula::from_name(name);
    read.unwrap_or_else(|e| panic!("{name}: {e}")).0
}

fuzz_target!(|text: &str| {
    // A name, or a formula that may have one.
    let formula = match Formula::from_name(text) {
        Ok((formula, _)) => formula,
        Err(error) => {
            refused(text, &error.into());
            let Ok((formula, _)) = Formula::read(text) else {
                return;
            };
            formula
        }
    };
    assert_eq!(
        formula.to_string().parse::<Formula>().as_ref(),
        Ok(&formula)
    );
    match formula.name() {
        Ok(name) => {
            assert_eq!(*name.formula(), formula);
            reads_back(&formula, name.name());
            let again = read(name.systematic());
            assert_eq!(substance(&again), substance(&formula), "{name}");
            assert!(again.name().is_ok(), "{name}");
        }
        Err(error) => {
            assert_eq!(error.kind(), ErrorKind::BadName);
            assert!(!error.to_string().is_empty() && error.help().is_some());
        }
    }
});
