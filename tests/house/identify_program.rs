//! The program `identify`, run as a teacher runs it.

use std::fs;

use serde_json::Value;

use crate::ran::{Ran, folder, run_program, words};

fn run(arguments: &[&str]) -> Ran {
    run_program("identify", arguments)
}

/// 1.140 g of 2.514 g are 45.35 %. FeSO4·7H2O has 45.36 %, CoCl2·6H2O 45.43 %.
#[test]
fn without_arguments_it_identifies_an_invented_unknown() {
    let text = run(&[]).quiet();
    let said = words(&text);
    for expected in [
        "An invented unknown, for demonstration: green crystals.",
        "Water: 45.35 %",
        "FeSO4·7H2O 45.36 -0.1",
        "The mass alone does not decide between FeSO4·7H2O,",
        "A better balance would not distinguish them",
    ] {
        assert!(said.contains(expected), "{expected}: {said}");
    }
    // The most dangerous of the likely salts comes before the ranking.
    let cobalt = said.find("Salts of cobalt are toxic").unwrap();
    let mild = said.find("FeSO4 is not well suited").unwrap();
    assert!(
        cobalt < mild && mild < said.find("Water/%").unwrap(),
        "{said}"
    );
    assert!(said.contains("The safety data sheet of the salt"), "{said}");
}

#[test]
fn a_list_narrows_it_down() {
    let list = [
        "--among",
        "CuSO4.5H2O",
        "barium chloride dihydrate",
        "MgSO4·7H2O",
    ];
    let percent = run(&[&["--percent-water", "36,1"][..], &list].concat()).quiet();
    let said = words(&percent);
    assert!(said.contains("CuSO4·5H2O 36.08"), "{said}");
    assert!(
        said.contains("CuSO4·5H2O is the only likely one."),
        "{said}"
    );
    assert!(!said.contains("invented"), "{said}");
    let masses = ["--hydrate-mass", "2497 mg", "--residue-mass", "1.596"];
    let weighed = words(&run(&[&masses[..], &list].concat()).quiet());
    assert!(
        weighed.contains("CuSO4·5H2O is the only likely one."),
        "{weighed}"
    );

    let file = folder("identify").join("list.txt");
    fs::write(
        &file,
        "\u{FEFF}CuSO4·5H2O\n\nbarium chloride dihydrate\r\nMgSO4.7H2O\n",
    )
    .unwrap();
    let path = file.to_str().unwrap();
    let from_file = run(&["--percent-water", "36,1", "--among-file", path]).quiet();
    assert_eq!(from_file, percent);
}

/// A negative mass is not an option of that name.
#[test]
fn a_negative_mass_is_refused_as_a_mass() {
    let crucible = ["--crucible", "21.352", "--crucible-hydrate", "24.018"];
    let negative = [&crucible[..], &["--heated", "-1", "21.855"]].concat();
    run(&negative).complains("the weighing after heating 1 is -1 g");
    let net = ["--hydrate-mass", "-2.5", "--residue-mass", "1.2"];
    run(&net).complains("-2.5 g");
}

/// 5 % is far from both, so neither is called likely.
#[test]
fn an_unknown_that_nothing_fits_is_not_named() {
    let list = ["--among", "CuSO4·5H2O", "MgSO4·7H2O"];
    let said = words(&run(&[&["--percent-water", "5.0"][..], &list].concat()).quiet());
    assert!(
        said.contains("No hydrate that is compared has 5.00 % of water."),
        "{said}"
    );
    assert!(
        said.contains("nothing is known of the unknown's hazards"),
        "{said}"
    );
    assert!(!said.contains("only likely"), "{said}");
}

#[test]
fn json_is_the_reply_of_the_filter() {
    let series = ["--crucible", "21.352", "--crucible-hydrate", "24.018"];
    let heated = ["--heated", "22.656", "22.655", "--json"];
    let text = run(&[&series[..], &heated].concat()).quiet();
    let found: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(found["matches"][0]["formula"], "MgSO4·7H2O");
    assert_eq!(found["undecided"], false);
}

#[test]
fn what_cannot_be_done_is_one_sentence() {
    let file = folder("identify_wrong").join("list.txt");
    fs::write(&file, "CuSO4·5H2O\nCuSO4\n").unwrap();
    let path = file.to_str().unwrap();
    let percent = ["--percent-water", "36.1"];
    for (arguments, with) in [
        (
            &["--json"][..],
            "the readings are missing; give --percent-water",
        ),
        (
            &["--percent-water", "x"],
            "--percent-water: `x` is not a number",
        ),
        (
            &["--percent-water", "100"],
            "a hydrate cannot contain 100 % of water",
        ),
        (
            &["--percent-water", "3", "--crucible", "1"],
            "cannot be used with",
        ),
        (&["--hydrate-mass", "2.5"], "--residue-mass"),
        (
            &["--hydrate-mass", "2.5", "--residue-mass", "2.6"],
            "is heavier than the hydrate",
        ),
        (&[percent[0], percent[1], "--among", "Cuso4"], "--among: "),
        (
            &[percent[0], percent[1], "--among", "CuSO4"],
            "CuSO4 is not a hydrate",
        ),
        (
            &[percent[0], percent[1], "--among", "CuSO4·xH2O"],
            "unknown",
        ),
        (
            &[percent[0], percent[1], "--among-file", "no such file"],
            "there is no file",
        ),
        (
            &[percent[0], percent[1], "--among-file", path],
            "line 2: CuSO4 is not a hydrate",
        ),
        (
            &[percent[0], percent[1], "--readability", "0.01"],
            "cannot be used with",
        ),
        (
            &[
                "--hydrate-mass",
                "2.5",
                "--residue-mass",
                "1.6",
                "--readability",
                "0",
            ],
            "--readability: ",
        ),
        (
            &[percent[0], percent[1], "--repeatability", "-1"],
            "--repeatability: ",
        ),
        (&["--mass", "2"], "--help lists the options"),
    ] {
        let ran = run(arguments);
        assert_eq!(ran.status, 2, "{arguments:?}");
        ran.complains(with);
    }
}
