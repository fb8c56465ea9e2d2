//! The words of a template: known codes, nothing blank, nothing that cannot be seen.

use super::{PRECIPITATE, edited};
use effloresce::exercise::Template;

fn refused(text: &str) -> String {
    let error = Template::read(text).expect_err("refused");
    format!("{error} | {}", error.help().unwrap_or("no help"))
}

#[test]
fn an_unknown_code_without_words_is_named() {
    let near = edited(
        PRECIPITATE,
        "code = \"factor_of_ten\"",
        "code = \"factor_of_tem\"",
    );
    assert_eq!(
        refused(&near),
        "line 70, `errors[3].code`: `factor_of_tem` is not the code of a known wrong step | did you mean `factor_of_ten`? Otherwise give `name` and `instead`, or take a code of examples/data/wrong_steps.md"
    );
    let far = edited(
        PRECIPITATE,
        "code = \"factor_of_ten\"",
        "code = \"zzzzzzzzz\"",
    );
    assert!(
        refused(&far).ends_with(
            "| give `name` and `instead`, or take a code of examples/data/wrong_steps.md"
        )
    );
}

#[test]
fn no_words_may_be_blank() {
    for (from, to) in [
        ("name = \"the mass of sodium chloride\"", "name = \"\""),
        ("name = \"the mass of sodium chloride\"", "name = \" . \""),
        (
            "instead = \"find the product that you were asked for\"",
            "instead = \"\"",
        ),
        ("what = \"mass of calcium carbonate\"", "what = \"  \""),
        ("symbol = \"m(chloride)\"", "symbol = \"\""),
        ("\"Juniper\"", "\"\""),
    ] {
        let said = refused(&edited(PRECIPITATE, from, to));
        assert!(
            said.ends_with(": there are no words | write some"),
            "{to}: {said}"
        );
    }
    let start = PRECIPITATE.find("wording = ").unwrap();
    let end = PRECIPITATE.find("# What is drawn").unwrap();
    let text = format!(
        "{}wording = \"\"\n{}",
        &PRECIPITATE[..start],
        &PRECIPITATE[end..]
    );
    assert!(refused(&text).contains("`wording`: there are no words"));
}

#[test]
fn nothing_in_a_template_is_hidden() {
    for (from, to, place) in [
        ("Work out", "Work \u{202e}out", "wording"),
        ("mass of sodium", "mass of \\u0007sodium", "errors[1].name"),
        ("\"Hazel\"", "\"Ha\\u202Ezel\"", "quantities.bench.words[1]"),
        (
            "find the product",
            "find the\\u00AD product",
            "errors[1].instead",
        ),
    ] {
        let said = refused(&edited(PRECIPITATE, from, to));
        assert!(
            said.contains(&format!("`{place}`: "))
                && said.ends_with("has a character that nobody can see | remove it"),
            "{said}"
        );
        assert!(!said.contains(['\u{202e}', '\u{7}', '\u{ad}']));
    }
}
