//! Any bytes are a sheet or are refused with a help; the sheet is marked and printed in every form,
//! and nothing in it reaches the reader as a control code.
#![no_main]

use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::report::{
    write_changes, write_during, write_feedback, write_key, write_key_markdown, write_marks,
};
use libfuzzer_sys::fuzz_target;

fn shows_no_control_code(text: &str) {
    let hidden = |c: char| c.is_control() && c != '\n';
    assert!(!text.contains(hidden), "{text:?}");
}

fuzz_target!(|bytes: &[u8]| {
    let sheet = match Sheet::read(bytes) {
        Ok(sheet) => sheet,
        Err(error) => {
            assert!(error.help().is_some_and(|help| !help.is_empty()), "{error}");
            return;
        }
    };
    for problem in sheet.problems() {
        shows_no_control_code(&problem.to_string());
    }
    let issued = "MgSO4·7H2O".parse().expect("a hydrate");
    let marked = Marker::new(issued, Method::new()).mark(&sheet);
    assert_eq!(marked.rows().len(), sheet.rows().len());
    let mut forms: [String; 5] = Default::default();
    let [key, markdown, during, strips, changes] = &mut forms;
    write_key(&marked, key).expect("a key");
    write_key_markdown(&marked, markdown).expect("a key in Markdown");
    write_during(&marked, during).expect("a table for the period");
    write_feedback(&marked, strips).expect("strips");
    write_changes(&marked, &marked, changes).expect("changes");
    for form in &forms {
        shows_no_control_code(form);
    }
    write_marks(&marked, &mut Vec::new()).expect("a gradebook");
    serde_json::to_string(&marked).expect("JSON");
});
