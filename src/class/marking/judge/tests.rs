//! Answers as a fair examiner judges them.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{MarkedRow, Marker, Policy, Sheet};
use crate::gravimetry::Method;

// Benches made up for these tests. x is (w/18.015)/(s/M): 6.989, 0.4938, 1.999, 1.998, 5.011, 10.01, 5.835, 2.667.
const EPSOM: [&str; 2] = ["MgSO4·7H2O", "21.352,24.018,22.701,22.655"];
const PLASTER: [&str; 2] = ["CaSO4·½H2O", "22.4130,26.0372,25.8150,25.8149"];
const GYPSUM: [&str; 2] = ["CaSO4·2H2O", "22.413,25.018,24.489,24.473"];
const BARIUM: [&str; 2] = ["BaCl2·2H2O", "18.204,20.647,20.288,20.287"];
const COPPER: [&str; 2] = ["CuSO4·5H2O", "32.45,35.91,34.67,34.66"];
const SODA: [&str; 2] = ["Na2CO3·10H2O", "28.64,33.26,30.35,30.35"];
const COBALT: [&str; 2] = ["CoCl2·6H2O", "25.118,27.903,26.658,26.657"];
const CADMIUM: [&str; 2] = ["3CdSO4·8H2O", "20.105,23.517,22.878,22.878"];

fn marker(issued: &str) -> Marker {
    Marker::new(issued.parse().unwrap(), Method::new())
}

/// The marker of a class that heats to a hydrate of copper sulfate.
fn copper_monohydrate() -> Marker {
    let residue = "CuSO4·H2O".parse().unwrap();
    let method = Method::new().residue(&residue).unwrap();
    Marker::new("CuSO4·5H2O".parse().unwrap(), method)
}

/// The first row of a class sheet.
fn marked(marker: &Marker, text: &str) -> MarkedRow {
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    marker.mark(&sheet).rows()[0].clone()
}

/// The verdict of each answer of a bench, with its slips, and `!` if they are certain.
fn verdicts([issued, readings]: [&str; 2], policy: &str, answers: &[(&str, &str)]) -> Vec<String> {
    let columns: Vec<String> = answers
        .iter()
        .map(|(q, _)| format!("reported_{q}"))
        .collect();
    let cells: Vec<&str> = answers.iter().map(|(_, cell)| *cell).collect();
    let (columns, cells) = (columns.join(","), cells.join(","));
    let text = format!(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,{columns}\nFinch,{readings},{cells}\n"
    );
    let policy = Policy::from_toml(policy).unwrap();
    let row = marked(&marker(issued).policy(policy), &text);
    let answers = row.answers().iter().map(|answer| {
        let mut text = String::from(answer.verdict().code());
        for slip in answer.slips() {
            text = format!("{text} {}", slip.code());
        }
        match answer.certain() {
            Some(true) => text + "!",
            _ => text,
        }
    });
    answers.collect()
}

#[track_caller]
fn judged(bench: [&str; 2], policy: &str, answers: &[(&str, &str)], wanted: &[&str]) {
    assert_eq!(verdicts(bench, policy, answers), wanted, "{answers:?}");
}

const NEAREST: &str = "[tolerance]\nratio = { nearest = \"whole\" }\n";

#[test]
fn a_ratio_of_whole_numbers_is_read() {
    for ratio in [
        "½", "1/2", "1 : 1/2", "1:½", "2:1", "1:2", "0.5:1", "1 : 0.5",
    ] {
        judged(PLASTER, "", &[("ratio", ratio)], &["correct"]);
    }
    for ratio in ["8/3", "2 2/3", "3:8", "8:3", "2⅔", "16:6"] {
        judged(CADMIUM, "", &[("ratio", ratio)], &["correct"]);
    }
    for ratio in ["7/1", "1:7", "2:14", "0.143:1", "1 : 1/7"] {
        judged(EPSOM, "", &[("ratio", ratio)], &["correct"]);
    }
    judged(EPSOM, "", &[("ratio", "1/7")], &["slip ratio_inverted"]);
    for (bench, ratio) in [
        (EPSOM, "1:6"),
        (EPSOM, "0.2:1"),
        (CADMIUM, "3:7"),
        (PLASTER, "1:3"),
    ] {
        let found = verdicts(bench, "", &[("ratio", ratio)]);
        assert!(found[0] != "correct", "{ratio}");
    }
}

/// 2.773 g of `CdSO4` is 0.01330 mol of it, and 0.004434 mol of three. 0.639 g of water is 0.03547 mol.
#[test]
fn a_mole_may_be_one_of_what_was_issued() {
    for policy in ["", "formula = \"own_ratio\"\n"] {
        judged(
            CADMIUM,
            policy,
            &[
                ("mol_salt", "0.004434"),
                ("mol_water", "0.03547"),
                ("ratio", "8.00"),
                ("formula", "3CdSO4.8H2O"),
            ],
            &["correct"; 4],
        );
        judged(
            CADMIUM,
            policy,
            &[("ratio", "8.00"), ("formula", "3CdSO4.8H2O")],
            &["correct"; 2],
        );
    }
}

#[test]
fn the_nearest_degree_may_be_a_fraction() {
    for ratio in ["0", "0.01", "1", "1.2"] {
        let found = verdicts(PLASTER, NEAREST, &[("ratio", ratio)]);
        assert!(found[0] != "correct", "{ratio}");
        let found = verdicts(
            PLASTER,
            NEAREST,
            &[
                ("mol_salt", "0.02499"),
                ("mol_water", "0.01234"),
                ("ratio", ratio),
            ],
        );
        assert!(found[2] != "correct", "{ratio}");
    }
    for ratio in ["0.4", "0.51", "½"] {
        judged(PLASTER, NEAREST, &[("ratio", ratio)], &["correct"]);
    }
    judged(CADMIUM, NEAREST, &[("ratio", "2.6")], &["correct"]);
    judged(EPSOM, NEAREST, &[("ratio", "7.4")], &["correct"]);
}

#[test]
fn another_known_hydrate_is_not_a_ratio_upside_down() {
    let both = |ratio, formula| [("ratio", ratio), ("formula", formula)];
    for formula in ["CaSO4.2H2O", "gypsum"] {
        judged(
            PLASTER,
            "",
            &both("0.494", formula),
            &["correct", "unexplained"],
        );
    }
    judged(
        GYPSUM,
        "",
        &both("2.00", "CaSO4.½H2O"),
        &["correct", "unexplained"],
    );
    judged(
        BARIUM,
        "",
        &both("2.00", "BaCl2.½H2O"),
        &["correct", "slip ratio_inverted"],
    );
    judged(
        PLASTER,
        "",
        &[("formula", "CaSO4.2H2O")],
        &["slip ratio_inverted"],
    );
}

#[test]
fn a_formula_follows_from_a_wrong_ratio_as_it_was_written() {
    for (bench, ratio, formula) in [
        (BARIUM, "1.5", "2BaCl2.3H2O"),
        (BARIUM, "1.5", "BaCl2.1.5H2O"),
        (CADMIUM, "2.5", "2CdSO4.5H2O"),
        (GYPSUM, "1.5", "CaSO4.1.5H2O"),
        (PLASTER, "1", "CaSO4.H2O"),
        (PLASTER, "0", "CaSO4"),
        (EPSOM, "0", "MgSO4"),
    ] {
        let found = verdicts(bench, "", &[("ratio", ratio), ("formula", formula)]);
        assert!(!found[0].contains("textbook_value"), "{ratio}");
        assert_eq!(found[1], "carried_forward", "{ratio}, {formula}");
    }
}

#[test]
fn formulas_and_names_as_people_write_them() {
    for formula in [
        "Ca2(SO4)2.H2O",
        "Ca2S2O8.H2O",
        "CaSO4·½H20",
        "CaSO4·1/2H20",
        "CaSO4..5H2O",
        "CaSO4 .5H2O",
    ] {
        // The ratio is 0.4938, 0.4974, 0.4990 and 0.5011.
        for last in ["25.8149", "25.8134", "25.8127", "25.8118"] {
            let readings = format!("22.4130,26.0372,25.8150,{last}");
            judged(
                [PLASTER[0], &readings],
                "",
                &[("formula", formula)],
                &["correct"],
            );
        }
    }
    for (bench, formula) in [
        (COPPER, "CuSO4..5H2O"),
        (COPPER, "CuSO4 .5H2O"),
        (COPPER, "CuSO4·.5H2O"),
        (PLASTER, "CaSO4·.5H2O"),
        (COPPER, "Cu(SO4)5H2O"),
        (EPSOM, "Mg(SO4)7H2O"),
        (SODA, "Na2(CO3)10H2O"),
        (BARIUM, "Ba(Cl2)2H2O"),
        (EPSOM, "MgS04.7H2O"),
        (COPPER, "CuS04.5H20"),
        (SODA, "Na2C03.10H2O"),
        (SODA, "Na2CO3.1OH2O"),
        (COPPER, "copper sulphate pentahydrate"),
        (COBALT, "Cobalt chloride hexahydrate"),
    ] {
        judged(bench, "", &[("formula", formula)], &["correct"]);
    }
    for (bench, formula) in [
        (EPSOM, "Mg(SO4)6H2O"),
        (EPSOM, "MgSO4.xH2O"),
        (EPSOM, "Mg(SO47H2O"),
        (EPSOM, "Mg)SO4(7H2O"),
        (COPPER, "copper sulfate monohydrate"),
        (PLASTER, "CaSO4.5H2O"),
        (PLASTER, "CaSO4.H2O"),
    ] {
        let found = verdicts(bench, "", &[("formula", formula)]);
        assert!(found[0] != "correct", "{formula}");
    }
}

/// 2.666 g leaves 1.303 g, 0.01083 mol, and loses 1.363 g, 0.07566 mol and 51.13 %. What is wrong is a power of ten
/// away, or holds the container (21.352 g).
#[test]
fn an_error_in_several_answers_is_charged_once() {
    for (answers, wanted) in [
        (
            &[
                ("mol_salt", "1.083"),
                ("mol_water", "7.566"),
                ("ratio", "6.99"),
            ][..],
            &["slip factor_of_ten!", "carried_forward", "correct"][..],
        ),
        (
            &[
                ("hydrate_g", "266.6"),
                ("residue_g", "130.3"),
                ("water_g", "136.3"),
            ],
            &["slip factor_of_ten!", "carried_forward", "carried_forward"],
        ),
        (&[("percent_water", "5113")], &["slip factor_of_ten!"]),
        (
            &[
                ("percent_water", "5.113"),
                ("mol_water", "0.007566"),
                ("ratio", "0.699"),
            ],
            &["slip factor_of_ten!", "carried_forward", "carried_forward"],
        ),
        // Of the salt, it is another error.
        (
            &[("percent_water", "5.113"), ("mol_salt", "0.001083")],
            &["slip factor_of_ten!", "slip factor_of_ten!"],
        ),
        (
            &[("percent_water", "0.5113")],
            &["slip fraction_for_percent!"],
        ),
        (
            &[
                ("hydrate_g", "24.018"),
                ("residue_g", "22.655"),
                ("water_g", "1.363"),
            ],
            &[
                "slip container_not_subtracted!",
                "carried_forward",
                "correct",
            ],
        ),
        (
            &[
                ("hydrate_g", "1.303"),
                ("residue_g", "2.666"),
                ("water_g", "1.363"),
            ],
            &["unexplained", "carried_forward", "correct"],
        ),
        (
            &[("hydrate_g", "2.666"), ("residue_g", "2.666")],
            &["correct", "slip hydrate_mass_as_salt!"],
        ),
    ] {
        judged(EPSOM, "", answers, wanted);
    }
    // The container, and another weighing.
    let found = verdicts(
        EPSOM,
        "",
        &[("hydrate_g", "24.018"), ("residue_g", "22.701")],
    );
    assert!(found[1] != "carried_forward", "{found:?}");
}

#[test]
fn the_same_error_does_not_follow_from_an_answer() {
    let text = "bench,hydrate_g,residue_g,reported_hydrate_g,reported_residue_g\nFinch,2.666,1.303,2666,1303\n";
    let row = marked(&marker("MgSO4·7H2O"), text);
    assert_eq!(
        row.answers()[1].reason(),
        "carried forward: the same error as in the reported mass of hydrate, so it costs no second mark. The \
         bench's own readings give 1.303 g."
    );
    assert_eq!(row.feedback()[0].code(), "nothing_right_yet");
}

/// 0.743 g of water, 0.04124 mol, leaves 1.833 g, 0.01032 mol: 3.996, and x is 4.996. The answers are 1 + 1/3.996,
/// 1/3.996, 1/4.996 and 3.996/4.996.
#[test]
fn divisions_upside_down_of_a_residue_with_water() {
    let marker = copper_monohydrate();
    for (column, cell, slip) in [
        ("ratio", "1.250", "ratio_inverted"),
        ("ratio", "0.2502", "ratio_inverted"),
        ("ratio", "0.2001", "ratio_inverted"),
        ("ratio", "0.7999", "mole_fraction_for_ratio"),
        ("formula", "CuSO4.4H2O", "residual_water_miscounted"),
    ] {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_{column}\n\
             A,30.212,32.788,32.046,32.045,{cell}\n"
        );
        let row = marked(&marker, &text);
        let answer = &row.answers()[0];
        assert_eq!(answer.slips()[0].code(), slip, "{cell}");
    }
}

/// 1.833 g/159.602 g is 0.01148, by the molar mass of `CuSO4`.
#[test]
fn the_water_of_a_residue_has_a_plain_instruction() {
    let text = "bench,hydrate_g,residue_g,reported_mol_salt\nA,2.576,1.833,0.01148\n";
    let row = marked(&copper_monohydrate(), text);
    assert_eq!(
        row.answers()[0].slips()[0].code(),
        "residual_water_miscounted"
    );
    assert!(row.feedback()[1].text().contains(
        "Divide the mass of residue by the molar mass of CuSO4·H2O, which heating leaves."
    ));
}

#[test]
fn a_fraction_of_water_is_found_by_whole_numbers() {
    let text = "bench,hydrate_g,residue_g,reported_ratio,reported_formula\nA,3.412,2.773,2.67,CdSO4.3H2O\n";
    let feedback = marked(&marker("3CdSO4·8H2O"), text).feedback();
    let text = feedback[1].text();
    assert!(
        text.contains("Find the smallest whole numbers in your mole ratio, such as 2 : 5 for 2.5."),
        "{text}"
    );
}

#[test]
fn a_whole_ratio_gives_only_its_own_formula() {
    for (bench, ratio, formula) in [
        (EPSOM, "5", "MgSO4.6H2O"),
        (EPSOM, "5", "2MgSO4.11H2O"),
        (EPSOM, "8", "MgSO4.9H2O"),
        (EPSOM, "3", "MgSO4.4H2O"),
        (EPSOM, "1", "MgSO4.2H2O"),
        (EPSOM, "0", "MgSO4.H2O"),
        (BARIUM, "0", "BaCl2.H2O"),
        (PLASTER, "1", "2CaSO4.3H2O"),
    ] {
        let found = verdicts(bench, "", &[("ratio", ratio), ("formula", formula)]);
        assert!(found[1] != "carried_forward", "{ratio}, {formula}");
    }
    let own_ratio = "formula = \"own_ratio\"\n";
    for (bench, ratio, formula) in [
        (EPSOM, "6", "MgSO4.7H2O"),
        (COPPER, "4", "CuSO4.5H2O"),
        (BARIUM, "1", "BaCl2.2H2O"),
        (PLASTER, "1", "CaSO4.½H2O"),
    ] {
        let found = verdicts(bench, own_ratio, &[("ratio", ratio), ("formula", formula)]);
        assert!(found[1] != "correct", "{ratio}, {formula}");
    }
    for ratio in ["6.99", "7", "6.9", "7.0", "6.5"] {
        let answers = [("ratio", ratio), ("formula", "MgSO4.7H2O")];
        let found = verdicts(EPSOM, own_ratio, &answers);
        assert_eq!(found[1], "correct", "{ratio}");
    }
}

/// 0.143 is 1/7.
#[test]
fn below_one_half_the_smallest_hydrate_follows() {
    for ratio in ["0.143", "0.4"] {
        for (formula, wanted) in [
            ("MgSO4", "carried_forward"),
            ("MgSO4.H2O", "carried_forward"),
            ("MgSO4.2H2O", "unexplained"),
        ] {
            let found = verdicts(EPSOM, "", &[("ratio", ratio), ("formula", formula)]);
            assert_eq!(found[1], wanted, "{ratio}, {formula}");
        }
    }
}

#[test]
fn the_number_of_waters_may_be_before_the_salt() {
    let text =
        "bench,hydrate_g,residue_g,reported_ratio,reported_formula\nA,2.666,1.303,7,7MgSO4.H2O\n";
    let row = marked(&marker("MgSO4·7H2O"), text);
    assert_eq!(row.answers()[1].certain(), Some(false));
    assert!(
        row.feedback()[1]
            .text()
            .ends_with("Write the number of waters before H2O, not before the salt.")
    );
}

#[test]
fn a_fraction_is_judged_by_its_value() {
    for (bench, ratio) in [
        (EPSOM, "20/3"),
        (EPSOM, "22/3"),
        (EPSOM, "27/4"),
        (EPSOM, "29/4"),
        (EPSOM, "6 3/4"),
        (EPSOM, "3:20"),
        (SODA, "21/2"),
        (COBALT, "17/3"),
        (COBALT, "23/4"),
        (CADMIUM, "11/4"),
        (PLASTER, "1/3"),
        (PLASTER, "2/5"),
        (CADMIUM, "5/2"),
    ] {
        let (issued, readings) = (bench[0], bench[1]);
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\nA,{readings},{ratio}\n"
        );
        let row = marked(&marker(issued), &text);
        let answer = &row.answers()[0];
        let verdict = answer.verdict().code();
        assert!(
            ["slip", "unexplained"].contains(&verdict),
            "{ratio}: {verdict}"
        );
        assert!(answer.obstacle().is_none(), "{ratio}: {}", answer.reason());
        assert!(answer.remarks().is_empty(), "{ratio}");
    }
    for (bench, ratio) in [
        (EPSOM, "699/100"),
        (EPSOM, "7/1"),
        (CADMIUM, "8/3"),
        (PLASTER, "½"),
        (SODA, "10/1"),
        (PLASTER, "40/81"),
    ] {
        judged(bench, "", &[("ratio", ratio)], &["correct"]);
    }
}

/// Of the amounts of one `CdSO4` and of three: 0.03547/0.01330 = 2.67, and 0.03547/0.004434 = 8.00.
#[test]
fn a_ratio_has_the_mole_of_the_amounts() {
    for (salt, ratio, wanted) in [
        ("0.01330", "2.67", "correct"),
        ("0.01330", "8.00", "unexplained"),
        ("0.004434", "8.00", "correct"),
        ("0.004434", "2.67", "unexplained"),
        ("0.004434", "8/3", "correct"),
    ] {
        judged(
            CADMIUM,
            "",
            &[
                ("mol_salt", salt),
                ("mol_water", "0.03547"),
                ("ratio", ratio),
            ],
            &["correct", "correct", wanted],
        );
    }
}

/// 2.656 g and 1.293 g are both 0.010 g less than the bench's own.
#[test]
fn a_residue_is_weighed_and_does_not_follow() {
    let residue = |hydrate, residue| {
        let text = format!(
            "bench,hydrate_g,residue_g,reported_hydrate_g,reported_residue_g\nA,2.666,1.303,{hydrate},{residue}\n"
        );
        marked(&marker("MgSO4·7H2O"), &text).answers()[1].reason()
    };
    assert!(
        residue("2.656", "1.293").contains("the same error as in the reported mass of hydrate")
    );
    for (hydrate, other) in [("2.9", "1.6"), ("3", "2"), ("2.656", "1.294")] {
        let reason = residue(hydrate, other);
        assert!(
            !reason.contains("carried forward"),
            "{hydrate}, {other}: {reason}"
        );
    }
}

/// The second note of the feedback on one bench of net masses.
fn advice(marker: &Marker, columns: &str, cells: &str) -> String {
    let text = format!("bench,hydrate_g,residue_g,{columns}\nA,{cells}\n");
    String::from(marked(marker, &text).feedback()[1].text())
}

/// (0.7435/18.015)/(1.8329/159.602) = 3.594, and one more.
#[test]
fn a_ratio_by_the_molar_mass_of_the_anhydrous_salt_is_told_so() {
    let marker = copper_monohydrate();
    let divide = "Divide the mass of residue by the molar mass of CuSO4·H2O";
    for (ratio, wanted) in [
        (
            "3.594",
            format!("{divide}. Add 1 for the water that it still holds."),
        ),
        ("4.594", format!("(4.594). {divide}, which heating leaves.")),
    ] {
        let cells = format!("2.5764,1.8329,{ratio}");
        let text = advice(&marker, "reported_ratio", &cells);
        assert!(text.contains(&wanted), "{text}");
    }
}

#[test]
fn exchanged_masses_are_named() {
    let marker = marker("MgSO4·7H2O");
    for (other, cells) in [
        ("residue", "2.666,1.303,1.303,2.666"),
        ("water", "2.666,1.303,1.363,2.666"),
    ] {
        let columns = format!("reported_hydrate_g,reported_{other}_g");
        let text = advice(&marker, &columns, cells);
        let wanted = format!("You have exchanged it with your mass of {other}.");
        assert!(text.ends_with(&wanted), "{text}");
    }
}
