//! Any text is read or refused, by every reader alike; what is read has all its properties, and
//! what is refused has a place and a help.
#![no_main]

use effloresce::element::{Edition, Values};
use effloresce::gravimetry::HeatingSafety;
use effloresce::{AtomicWeights, Error, Formula};
use libfuzzer_sys::fuzz_target;

fn refused(text: &str, error: &Error) {
    let span = error.span().expect("a place");
    assert!(text.get(span.start..span.end).is_some(), "{span:?}");
    assert!(error.help().is_some_and(|help| !help.is_empty()));
    assert!(!error.to_string().is_empty() && !error.code().is_empty());
    let shown = error.caret(text).to_string();
    assert!(shown.contains('^') && shown.len() < 16_000, "{shown}");
}

fn used(text: &str, formula: &Formula) {
    for written in [
        formula.to_string(),
        formula.to_unicode(),
        formula.to_html(),
        formula.to_latex(),
    ] {
        assert!(!written.is_empty());
    }
    let _ = (formula.charge(), formula.state(), formula.is_electron());
    let _ = (
        formula.waters(),
        formula.waters_coordinated(),
        formula.is_hydrate(),
    );
    let _ = (
        formula.anhydrous(),
        formula.one_formula_unit(),
        formula.misreadings(),
    );
    let safety = HeatingSafety::of(formula);
    assert!(!safety.cautions().is_empty() && !safety.severity().code().is_empty());
    for table in [
        AtomicWeights::default(),
        AtomicWeights::new(Edition::Iupac2021)
            .values(Values::Full)
            .decimals(1),
    ] {
        match formula.molar_mass(&table) {
            Ok(mass) => {
                assert!(mass.uncertainty().is_finite() && mass.uncertainty() >= 0.0);
                assert!(formula.is_electron() || mass.exact().is_positive());
                let _ = (mass.value(), mass.to_string());
                assert!(formula.describe(&table).is_ok());
                assert!(!formula.composition().unwrap().hill().is_empty() || formula.is_electron());
            }
            Err(error) => refused(text, &error.into()),
        }
    }
}

fuzz_target!(|text: &str| {
    let strict = text.parse::<Formula>();
    let json = serde_json::to_string(text).unwrap();
    let told = serde_json::from_str::<Formula>(&json);
    assert_eq!(strict.as_ref().ok(), told.as_ref().ok());
    match Formula::read(text) {
        Ok((formula, notes)) => {
            for note in notes {
                assert!(!note.text().is_empty());
            }
            match &strict {
                Ok(strict) => assert_eq!(*strict, formula),
                Err(error) => refused(text, &error.clone().into()),
            }
            used(text, &formula);
        }
        Err(error) => {
            assert_eq!(strict.unwrap_err(), error);
            refused(text, &error.into());
        }
    }
});
