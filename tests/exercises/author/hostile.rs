//! Texts that nobody meant to be a template: no panic, and errors with a message.

use effloresce::exercise::{Exercises, OwnSalts, Template};
use proptest::prelude::*;

use super::{PRECIPITATE, WATER, edited};

/// Reads a text, and draws a problem if it is a template.
fn survives(text: &str) {
    match Template::read(text) {
        Ok(template) => {
            let _ = Exercises::new(1).templates([template]).problem(0);
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}

#[test]
fn hostile_texts_are_refused() {
    let deep = |open: &str, close: &str| {
        let expression = format!("{}1{}", open.repeat(5000), close.repeat(5000));
        edited(PRECIPITATE, "{n} * M(CaCO3)", &expression)
    };
    let nested = format!("x = {}1{}", "[".repeat(50_000), "]".repeat(50_000));
    for text in [
        String::new(),
        "\u{0}".into(),
        "= = =".into(),
        "a".repeat(100_000),
        deep("(", ")"),
        deep("M(", ")"),
        deep("[", "]"),
        nested,
        edited(PRECIPITATE, "step = 0.01", "step = 1e-300"),
        edited(PRECIPITATE, "to = 4.00", "to = 1e300"),
        edited(PRECIPITATE, "to = 4.00", "to = inf"),
        edited(PRECIPITATE, "from = 1.50", "from = nan"),
        edited(PRECIPITATE, "mass = \"{mass}\"", "mass = 2001-01-01"),
        edited(PRECIPITATE, "[request]", "[request]\n\"{bench}\" = [[[]]]"),
    ] {
        assert!(
            Template::read(&text).is_err() || text.contains("{bench}\" ="),
            "{}",
            &text[..text.len().min(80)]
        );
        survives(&text);
    }
}

/// A value that grows with each step is refused before it is worked out.
#[test]
fn working_that_grows_without_end_is_refused() {
    let mut steps = String::new();
    let mut last = "mass".to_string();
    for step in 0..9 {
        let square = vec![format!("{{{last}}}"); 9].join(" * ");
        last = format!("s{step}");
        steps +=
            &format!("[[working]]\nname = \"{last}\"\nwhat = \"x\"\nexpression = \"{square}\"\n\n");
    }
    let text = edited(PRECIPITATE, "[[working]]", &format!("{steps}[[working]]"));
    let error = Template::read(&text).unwrap_err();
    assert!(
        error
            .to_string()
            .contains("goes back to more than 120 numbers"),
        "{error}"
    );
}

#[test]
fn division_by_zero_is_an_error() {
    let text = edited(
        PRECIPITATE,
        "{mass} / M(CaCl2·2H2O)\"\nunit",
        "{mass} / ({mass} - {mass})\"\nunit",
    );
    let template = Template::read(&text).unwrap();
    let error = Exercises::new(1)
        .templates([template])
        .problem(0)
        .unwrap_err();
    assert!(error.to_string().contains("divides by zero"), "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn mutated_templates_do_no_harm(
        water in any::<bool>(),
        edits in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..12, "[ -~°·−]{0,6}"), 1..4),
    ) {
        let mut text: Vec<char> = if water { WATER } else { PRECIPITATE }.chars().collect();
        for (index, removed, added) in edits {
            let start = index.index(text.len());
            let end = (start + removed).min(text.len());
            text.splice(start..end, added.chars());
        }
        survives(&text.into_iter().collect::<String>());
    }

    #[test]
    fn any_bytes_as_a_list_of_salts_do_no_harm(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = OwnSalts::read(&bytes[..]);
        let mut list = b"hydrate,name\n".to_vec();
        list.extend(bytes);
        let _ = OwnSalts::read(&list[..]);
    }
}
