//! Units: those of the requests and of the results, and no unit twice.

use effloresce::exercise::{Exercises, Template};

use super::{PRECIPITATE, WATER, edited, template};

fn refused(text: &str) -> String {
    let error = Template::read(text).expect_err("refused");
    format!("{error} | {}", error.help().unwrap_or("no help"))
}

#[test]
fn a_quantity_has_the_unit_of_its_field() {
    for unit in ["mg", "kg", "mol", "%", "mL"] {
        let text = edited(
            PRECIPITATE,
            "unit = \"g\", symbol",
            &format!("unit = \"{unit}\", symbol"),
        );
        assert_eq!(
            refused(&text),
            format!(
                "line 33, `request.amounts.CaCl2·2H2O.mass`: `mass` is in g, and the quantity `mass` is in {unit} | give the quantity `mass` its numbers in this unit, and `unit = \"g\"`"
            )
        );
    }
    let none = edited(PRECIPITATE, "unit = \"g\", symbol", "symbol");
    assert!(
        refused(&none).contains("the quantity `mass` is without a unit"),
        "{}",
        refused(&none)
    );
    // The elements of an analysis have the unit of the table that they are in.
    let elements = r#"
        kind = "empirical"
        form = "oxide"
        level = 1
        skills = ["amount_from_mass"]
        wording = "An oxide holds {iron} of iron and 1.20 g of oxygen. Work out its empirical formula."
        quantities.iron = { from = 2.70, to = 2.90, step = 0.01, unit = "mg" }
        request = { op = "empirical", masses = { Fe = "{iron}", O = "1.20" } }
        answer = { pointer = "/formula" }
        working = [{ what = "formula", symbols = "the ratio" }]
    "#;
    assert!(refused(elements).contains("`masses` is in g, and the quantity `iron` is in mg"));
    for (field, unit, expected) in [
        (
            "concentration = \"{mass}\", volume = \"0.100\"",
            "mol/L",
            None,
        ),
        (
            "concentration = \"{mass}\", volume = \"0.100\"",
            "mol/dm³",
            None,
        ),
        (
            "concentration = \"{mass}\", volume = \"0.100\"",
            "g",
            Some("`concentration` is in mol/L or mol/dm³"),
        ),
        (
            "concentration = \"0.100\", volume = \"{mass}\"",
            "dm³",
            None,
        ),
        (
            "concentration = \"0.100\", volume = \"{mass}\"",
            "mL",
            Some("`volume` is in L or dm³"),
        ),
        ("mol = \"{mass}\"", "mmol", Some("`mol` is in mol")),
    ] {
        let text = edited(
            PRECIPITATE,
            "[request.amounts.\"CaCl2·2H2O\"]\nmass = \"{mass}\"",
            &format!("amounts = {{ \"CaCl2·2H2O\" = {{ {field} }} }}"),
        );
        let text = edited(
            &text,
            "unit = \"g\", symbol",
            &format!("unit = \"{unit}\", symbol"),
        );
        match expected {
            Some(expected) => assert!(refused(&text).contains(expected), "{}", refused(&text)),
            None => drop(template(&text)),
        }
    }
}

#[test]
fn an_answer_has_the_unit_of_the_result() {
    let text = edited(
        PRECIPITATE,
        "unit = \"g\"\nfigures",
        "unit = \"mg\"\nfigures",
    );
    assert_eq!(
        refused(&text),
        "line 23, `answer.unit`: `/species/2/mass_final` is in g, not in mg | write `unit = \"g\"`"
    );
    let text = edited(
        PRECIPITATE,
        "/species/2/mass_final\"\nunit",
        "/species/2/mol_final\"\nunit",
    );
    assert!(refused(&text).contains("`/species/2/mol_final` is in mol, not in g"));
}

#[test]
fn no_unit_is_written_twice() {
    let text = edited(WATER, "holds {water} of water", "holds {water} g of water");
    assert_eq!(
        refused(&text),
        "line 8, `wording`: `{water}` is printed with its unit, and `g` is after it | remove `g` from the wording"
    );
    let good = template(&edited(
        WATER,
        "holds {water} of water",
        "holds ({water}) goods of water",
    ));
    assert!(
        Exercises::new(1)
            .templates([good])
            .problem(0)
            .unwrap()
            .prompt()
            .contains("\u{a0}g) goods")
    );
}

#[test]
fn a_value_that_the_result_leaves_open_is_named() {
    let text = edited(
        PRECIPITATE,
        "\"/species/2/mass_final\"",
        "\"/species/1/mass_final\"",
    );
    let notes = template(&text).check();
    let said = notes
        .iter()
        .find(|note| note.code() == "unsolvable")
        .expect("a note");
    assert_eq!(
        said.text(),
        "The request cannot be solved. `mass_final` of the result is null, because Na2CO3 is in excess and its amount is not given. Give what is missing in the request, or ask for another value."
    );
    let text = edited(
        PRECIPITATE,
        "\"/species/2/mass_final\"\nunit = \"g\"",
        "\"/percent_yield\"\nunit = \"%\"",
    );
    let text = edited(
        &text,
        "M(CaCO3)\"\nunit = \"g\"",
        "M(CaCO3)\"\nunit = \"%\"",
    );
    let notes = template(&text).check();
    assert!(
        notes.iter().any(|note| note.text().contains(
            "`percent_yield` of the result is null, because no product has an actual mass"
        )),
        "{notes:?}"
    );
}
