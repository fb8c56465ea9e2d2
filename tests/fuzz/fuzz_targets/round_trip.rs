//! What is read is written so that it reads back, and the canonical text strictly.
#![no_main]

use effloresce::Formula;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok((formula, _)) = Formula::read(text) else {
        return;
    };
    let canonical = formula.to_string();
    assert_eq!(
        canonical.parse::<Formula>().as_ref(),
        Ok(&formula),
        "{canonical}"
    );
    let json = serde_json::to_string(&formula).unwrap();
    assert_eq!(serde_json::from_str::<Formula>(&json).unwrap(), formula);
    for written in [canonical, formula.to_unicode()] {
        let (again, _) = Formula::read(&written).unwrap_or_else(|e| panic!("{written}: {e}"));
        assert_eq!(again, formula, "{written}");
        assert_eq!(again.to_string(), formula.to_string());
        assert_eq!(again.to_unicode(), formula.to_unicode());
    }
});
