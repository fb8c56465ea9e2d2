//! What a check finds in a template: nothing in a good one.

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
