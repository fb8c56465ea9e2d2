//! What a check finds in a template: nothing in a good one.

use effloresce::exercise::Exercises;

use super::{PRECIPITATE, WATER, edited, template};

fn codes(text: &str) -> Vec<&'static str> {
    template(text)
        .check()
        .iter()
        .map(effloresce::Note::code)
        .collect()
}

#[test]
fn a_good_template_has_no_finding() {
    for text in [PRECIPITATE, WATER] {
        let notes = template(text).check();
        assert!(notes.is_empty(), "{notes:?}");
    }
}

#[test]
fn each_fault_is_found() {
    for (text, from, to, code) in [
        (
            PRECIPITATE,
            "Work out the mass",
            "Wait for 5 minutes. Work out the mass",
            "number_not_in_request",
        ),
        (
            PRECIPITATE,
            "{mass} of CaCl2",
            "some CaCl2",
            "number_not_in_wording",
        ),
        (
            PRECIPITATE,
            "mass = \"{mass}\"",
            "mass = \"{mass}\"\npurity_percent = 95",
            "number_not_in_wording",
        ),
        (
            PRECIPITATE,
            "Bench {bench} dissolves",
            "Somebody dissolves",
            "quantity_unused",
        ),
        (
            PRECIPITATE,
            "\"/species/2/mass_final\"",
            "\"/species/9/mass_final\"",
            "unsolvable",
        ),
        (
            PRECIPITATE,
            "CaCl2·2H2O + Na2CO3 ->",
            "CaCl2·2H2O + Na2SO4 ->",
            "unsolvable",
        ),
        (
            PRECIPITATE,
            "{n} * M(CaCO3)",
            "{n} * M(CaO)",
            "draw_refused",
        ),
        (
            PRECIPITATE,
            "{n} * M(CaCO3)",
            "{n} * M(CaCO3) + 50 * M(NaCl) - 50 * M(NaCl)",
            "draw_refused",
        ),
        (PRECIPITATE, "{n} * M(CaCO3)", "{n} * M(CaO)", "draws_fail"),
        (
            PRECIPITATE,
            "figures = 3",
            "figures = 5",
            "too_many_figures",
        ),
        (
            PRECIPITATE,
            "{mass} / M(CaCl2) * M(CaCO3)",
            "{mass} / M(CaCl2·2H2O) * 100",
            "error_is_right",
        ),
        (
            PRECIPITATE,
            "[/species/3/mass_final]",
            "{mass} / M(CaCl2) * M(CaCO3)",
            "errors_collide",
        ),
        (
            PRECIPITATE,
            "[/species/3/mass_final]",
            "{mass} * 1000",
            "error_unused",
        ),
        (
            PRECIPITATE,
            "[/species/3/mass_final]",
            "0 - {mass}",
            "error_unused",
        ),
    ] {
        let found = codes(&edited(text, from, to));
        assert!(found.contains(&code), "{to}: {found:?} lack {code}");
    }
    let two = edited(PRECIPITATE, "[/species/3/mass_final]", "{mass} * 1000");
    assert!(
        codes(&edited(
            &two,
            "[/species/2/mass_final] / 10",
            "{mass} * 3000"
        ))
        .contains(&"too_few_options")
    );
    let tie = r#"
        kind = "sample_mass"
        form = "ties"
        level = 1
        skills = ["amount_from_mass"]
        wording = "Take {mol} of NaCl. Work out the amount of chlorine atoms in half of it."
        quantities.mol = { from = 1.01, to = 1.99, step = 0.02, unit = "mol" }
        request = { op = "limiting", equation = "2NaCl -> 2Na + Cl2", amounts = { NaCl = { mol = "{mol}" } } }
        answer = { pointer = "/species/2/mol_final", unit = "mol", figures = 2 }
        working = [{ what = "amount", expression = "{mol} / 2", unit = "mol" }]
        errors = [
            { code = "one", name = "one", instead = "two", value = "{mol}" },
            { code = "two", name = "one", instead = "two", value = "{mol} * 2" },
            { code = "three", name = "one", instead = "two", value = "{mol} / 4" },
        ]
    "#;
    assert!(codes(tie).contains(&"rounding_tie"), "{:?}", codes(tie));
}

#[test]
fn findings_say_what_to_do() {
    for (from, to, expected) in [
        (
            "{mass} of CaCl2",
            "some CaCl2",
            "The request has a number, such as 1.52, and the wording does not give it. Add it to the wording.",
        ),
        (
            "\"/species/2/mass_final\"",
            "\"/species/9/mass_final\"",
            "The request cannot be solved. The result of `limiting` has no `/species/9/mass_final`. Give the JSON Pointer of a value that the operation returns, such as `/percent_water`.",
        ),
        (
            "Bench {bench} dissolves",
            "Somebody dissolves",
            "The quantity `bench` is in neither the wording nor the request nor the working. Remove it, or use it.",
        ),
        (
            "{n} * M(CaCO3)",
            "{n} * M(CaO)",
            "200 of 200 draws fail, because the answer is not among the values of careful work. Compare the working with the request: both must give the same answer.",
        ),
    ] {
        let notes = template(&edited(PRECIPITATE, from, to)).check();
        assert!(
            notes.iter().any(|note| note.text() == expected),
            "{notes:#?}"
        );
    }
}

/// The texts of the notes with a code.
fn texts(text: &str, code: &str) -> Vec<String> {
    let notes = template(text).check();
    let with_code = notes.iter().filter(|note| note.code() == code);
    with_code.map(|note| note.text().to_string()).collect()
}

#[test]
fn a_wrong_step_without_an_option_is_named_with_its_value() {
    for (value, expected) in [
        (
            "{mass} * 1000",
            "g, which is more than 5 times off, and the answer is ",
        ),
        ("0 - {mass}", "g, which is not positive, and the answer is "),
        ("1 / ({mass} - {mass})", ", it has no value."),
    ] {
        let found = texts(
            &edited(PRECIPITATE, "[/species/3/mass_final]", value),
            "error_unused",
        );
        let [text] = &found[..] else {
            panic!("{value}: {found:?}");
        };
        let start = "The wrong step `other_product` never gives an option. With mass ";
        assert!(text.starts_with(start) && text.contains(expected), "{text}");
        assert!(
            text.contains("\u{a0}g and bench ") && text.ends_with("Correct it, or leave it out."),
            "{text}"
        );
    }
}

#[test]
fn too_few_options_name_the_salt_the_step_and_its_value() {
    let text = r#"
        kind = "percent_water"
        form = "water_of_a_label"
        level = 1
        skills = ["molar_mass"]
        wording = "Work out the percentage of water in {hydrate}."
        quantities.hydrate = { formulas = ["MgSO4·7H2O", "CaSO4·2H2O"] }
        request = { op = "formula", formula = "{hydrate}" }
        answer = { pointer = "/percent_water", unit = "%", figures = 3 }
        working = [{ what = "part", expression = "100 * {hydrate.waters} * M(H2O) / M({hydrate})", unit = "%" }]
        errors = [
            { code = "of_salt", name = "one", instead = "two", value = "100 * {hydrate.waters} * M(H2O) / M({hydrate.salt})" },
            { code = "of_residue", name = "one", instead = "two", value = "100 * M({hydrate.salt}) / M({hydrate})" },
            { code = "one_water", name = "one", instead = "two", value = "[/percent_water] / 3" },
        ]
    "#;
    let found = texts(text, "too_few_options");
    let [text] = &found[..] else {
        panic!("{found:?}");
    };
    assert!(
        text.contains(
            "With hydrate MgSO4·7H2O, `of_salt` gives 105\u{a0}%, which is more than 100 %, and the answer is 51.2\u{a0}%. Add"
        ),
        "{text}"
    );
}

#[test]
fn a_pool_that_has_no_such_hydrate_is_named() {
    let text = edited(WATER, "least_waters = 2", "least_waters = 40");
    assert_eq!(
        texts(&text, "exhausted"),
        [
            "The pool has no hydrate with at least 40 waters for the template. Make `least_waters` smaller."
        ]
    );
    let exercises = Exercises::new(1).templates([template(&text)]);
    let error = exercises.problem(0).unwrap_err();
    assert!(!error.to_string().contains("own salts"), "{error}");
}
