//! Any text is a policy or is refused with a help and a span inside it. A policy that was read is
//! written and read back as the same, and marks a class.
#![no_main]

use effloresce::Error;
use effloresce::class::{Marker, Policy, Sheet};
use effloresce::gravimetry::Method;
use libfuzzer_sys::fuzz_target;

const CLASS: &str = "bench,hydrate_g,residue_g,reported_water_g,reported_percent_water,reported_ratio\n\
    Heron,2.666,1.303,1.363,51.13,6.99\nWren,2.684,1.312,1.372,51.1,7.1\n";

fuzz_target!(|text: &str| {
    let policy = match Policy::from_toml(text) {
        Ok(policy) => policy,
        Err(error) => {
            let error = Error::from(error);
            if let Some(span) = error.span() {
                assert!(text.get(span.start..span.end).is_some(), "{span:?}");
            }
            assert!(error.help().is_some_and(|help| !help.is_empty()), "{error}");
            assert!(!error.caret(text).to_string().is_empty());
            return;
        }
    };
    let json = serde_json::to_string(&policy).expect("JSON");
    let read: Policy = serde_json::from_str(&json).unwrap_or_else(|e| panic!("{json}: {e}"));
    assert_eq!(read, policy, "{json}");
    let sheet = Sheet::read(CLASS.as_bytes()).expect("a sheet");
    let issued = "MgSO4·7H2O".parse().expect("a hydrate");
    let marked = Marker::new(issued, Method::new())
        .policy(policy)
        .mark(&sheet);
    for row in marked.rows() {
        for answer in row.answers() {
            assert!(answer.marks() <= answer.out_of());
        }
    }
});
