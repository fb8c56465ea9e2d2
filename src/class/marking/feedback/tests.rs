//! What the strips say.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{Marker, Marks, Sheet};
use crate::gravimetry::Method;
use crate::text::Note;

#[track_caller]
fn feedback(columns: &str, cells: &str, first: [&str; 2], second: [&str; 2]) {
    notes_are(columns, cells, &[first, second]);
}

#[track_caller]
fn notes_are(columns: &str, cells: &str, expected: &[[&str; 2]]) {
    let text = format!(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,{columns}\nFinch,{cells}\n"
    );
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let found = marked.rows()[0].feedback();
    let found: Vec<[&str; 2]> = found.iter().map(|n| [n.code(), n.text()]).collect();
    assert_eq!(found, expected);
    for sentence in found.iter().flat_map(|[_, text]| text.split(". ")) {
        let words = sentence.split_whitespace();
        assert!(words.count() <= 20, "{sentence}");
    }
}

const SOUND: &str = "21.352,24.018,22.656,22.655";

#[test]
fn what_is_right_comes_first() {
    feedback(
        "reported_water_g,reported_ratio",
        &format!("{SOUND},1.363,6.99"),
        [
            "all_right",
            "Your mass of water (1.363 g) and mole ratio (6.99) are right.",
        ],
        [
            "look_at_bench",
            "At the bench, your x of 6.989 agrees with the expected 7, as far as the balance can tell. To compare: 0.001 g more or less in your last weighing changes x by 0.010.",
        ],
    );
    feedback(
        "reported_water_g,reported_percent_water,reported_ratio",
        &format!("{SOUND},1.373,51.50,"),
        [
            "follows_rightly",
            "Your percent water (51.50 %) follows correctly from your earlier work.",
        ],
        [
            "look_at_slip",
            "Look again at your mass of water (1.373 g). Subtract the mass after heating from the mass before heating (24.018 g − 22.655 g). A possible cause: a subtraction that is off by one in one digit.",
        ],
    );
    feedback(
        "reported_ratio",
        &format!("{SOUND},5.83"),
        [
            "nothing_right_yet",
            "Go through your work one step at a time. Your answers do not follow from your readings yet.",
        ],
        [
            "look_at_value",
            "Look again at your mole ratio (5.83). Divide the amount of water by the amount of salt. Your readings give another value.",
        ],
    );
}

#[test]
fn what_is_missing_or_cannot_be_read() {
    feedback(
        "reported_ratio",
        &format!("{SOUND},"),
        [
            "nothing_handed_in",
            "You have not handed in an answer yet. Your readings are enough to work everything out.",
        ],
        [
            "look_at_gap",
            "Work out your mole ratio, which is missing. Divide the amount of water by the amount of salt.",
        ],
    );
    feedback(
        "reported_ratio",
        &format!("{SOUND},seven"),
        [
            "to_be_read",
            "Your teacher will read and mark what you handed in.",
        ],
        [
            "look_at_cell",
            "Next time, write your mole ratio (seven) more clearly. This number could not be read, so your teacher will mark it.",
        ],
    );
    feedback(
        "reported_ratio",
        "21.352,24.018,20.656,20.655,6.99",
        [
            "not_marked",
            "Your readings could not be worked out, so your answers are not marked yet.",
        ],
        [
            "look_at_readings",
            "Check that every weighing is in your table and copied correctly. Then show the table to your teacher.",
        ],
    );
}

#[test]
fn several_slips_are_all_named() {
    feedback(
        "reported_ratio",
        &format!("{SOUND},0.1"),
        [
            "nothing_right_yet",
            "Go through your work one step at a time. Your answers do not follow from your readings yet.",
        ],
        [
            "look_at_slip",
            "Look again at your mole ratio (0.1). Divide the amount of water by the amount of salt. A possible cause: the mole ratio upside down. Another possible cause: the amount of water instead of the mole ratio.",
        ],
    );
}

#[test]
fn what_the_own_answers_give_comes_first() {
    feedback(
        "reported_mol_salt,reported_mol_water,reported_ratio",
        &format!("{SOUND},0.01081 mol,0.07566,5.83"),
        [
            "some_right",
            "Your amount of salt (0.01081 mol) and amount of water (0.07566 mol) are right.",
        ],
        [
            "look_at_value",
            "Your two amounts give 7.00. Look again at your mole ratio (5.83). Divide the amount of water by the amount of salt. Your readings give another value.",
        ],
    );
    feedback(
        "reported_hydrate_g,reported_water_g,reported_percent_water",
        &format!("{SOUND},2.666,1.363,195.6"),
        [
            "some_right",
            "Your mass of hydrate (2.666 g) and mass of water (1.363 g) are right.",
        ],
        [
            "look_at_slip",
            "Your masses of water and hydrate give 51.1 %. Look again at your percent water (195.6 %). Divide the mass of water by the mass of hydrate, not the other way round.",
        ],
    );
}

#[test]
fn figures_and_the_bench_come_last() {
    feedback(
        "reported_ratio",
        &format!("{SOUND},6.98881"),
        ["all_right", "Your mole ratio (6.98881) is right."],
        [
            "look_at_figures",
            "Round your mole ratio (6.98881) to 4 significant figures. You wrote 6, and your readings allow 4.",
        ],
    );
    notes_are(
        "reported_ratio",
        "21.352,24.018,22.650,22.671,6.82",
        &[
            ["all_right", "Your mole ratio (6.82) is right."],
            [
                "look_at_constant_mass",
                "Look at your last two weighings. The mass rose by 0.021 g. The solid took up moisture, or it was still warm at the weighing before.",
            ],
            [
                "moisture_taken_up",
                "Your container gained 0.021\u{a0}g between the last two weighings. Likely cause: moisture taken up on cooling. Next time, let it cool under a lid, and weigh at once.",
            ],
        ],
    );
    feedback(
        "reported_ratio",
        "21.352,24.018,22.665,,6.88",
        ["all_right", "Your mole ratio (6.88) is right."],
        [
            "look_at_constant_mass",
            "Next time, heat until two weighings agree. Your bench heated once, so some water may be left.",
        ],
    );
    feedback(
        "reported_ratio",
        "20.112,22.512,21.376,21.376,6.00",
        ["all_right", "Your mole ratio (6.00) is right."],
        [
            "look_at_bench",
            "Check the label of your sample. At the bench, your readings fit MgSO4·6H2O, but you were given MgSO4·7H2O.",
        ],
    );
    feedback(
        "reported_ratio",
        "21.352,24.018,22.956,22.755,6.02",
        ["all_right", "Your mole ratio (6.02) is right."],
        [
            "look_at_constant_mass",
            "Look at your last two weighings. The mass still fell by 0.201 g, so some water may be left and your x too low.",
        ],
    );
    // More than all the water is gone: (1.360/18.015)/(1.140/120.361) = 7.97.
    notes_are(
        "reported_ratio",
        "20.000,22.500,21.150,21.140,7.97",
        &[
            ["all_right", "Your mole ratio (7.97) is right."],
            [
                "look_at_constant_mass",
                "Look at your last two weighings. The mass still fell by 0.010 g, so it was not yet constant. Water that is left does not explain your x.",
            ],
            [
                "solid_lost",
                "Your residue is 0.081\u{a0}g lighter than it should be. The readings are consistent with lost solid or a damp sample. Next time, heat gently at first, so that nothing spits out.",
            ],
        ],
    );
    feedback(
        "reported_ratio",
        "20.500,23.000,22.721,21.722,7.00",
        ["all_right", "Your mole ratio (7.00) is right."],
        [
            "look_at_constant_mass",
            "Look at your last two weighings. They differ by 0.999 g, and one wrong digit explains it, so compare them with your paper.",
        ],
    );
    notes_are(
        "reported_ratio",
        "20.000,22.500,21.140,,7.97",
        &[
            ["all_right", "Your mole ratio (7.97) is right."],
            [
                "look_at_constant_mass",
                "Next time, heat until two weighings agree. Your bench heated once, which does not show that the mass is constant.",
            ],
            [
                "solid_lost",
                "Your residue is 0.081\u{a0}g lighter than it should be. The readings are consistent with lost solid or a damp sample. Next time, heat gently at first, so that nothing spits out.",
            ],
        ],
    );
}

/// The residue is not divided by the molar mass of the anhydrous salt (1.779/159.602 = 0.01115), and its water counts
/// (0.0400/0.01002 = 3.99).
#[test]
fn the_residue_may_still_hold_water() {
    let method = Method::new()
        .residue(&"CuSO4·H2O".parse().unwrap())
        .unwrap();
    let marker = Marker::new("CuSO4·5H2O".parse().unwrap(), method);
    for (columns, cells, wanted) in [
        (
            "reported_mol_salt",
            "0.01115",
            "Divide the mass of residue by the molar mass of CuSO4·H2O, which heating leaves.",
        ),
        (
            "reported_mol_salt,reported_mol_water,reported_ratio",
            "0.01002,0.0400,3.99",
            "Your two amounts give 4.99. Look again at your mole ratio (3.99). Divide the amount of water by \
             the amount of salt. Add 1 for the water that the residue still holds.",
        ),
    ] {
        let text = format!("bench,hydrate_g,residue_g,{columns}\nA,2.500,1.779,{cells}\n");
        let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        let found = marked.rows()[0].feedback();
        let found = found[1].text();
        assert!(found.contains(wanted), "{found}");
    }
}

/// A right answer from bad readings is right, and the bench is told. The last weighing of the first bench should be
/// 22.654 g: 24.018 g − 2.666 g·0.51166 (7·18.015/246.47).
#[test]
fn a_bench_with_a_fault_is_told() {
    let notes = |cells: &str| -> (Marks, Vec<&'static str>, Option<String>) {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\nFinch,{cells}\n"
        );
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let row = &marked.rows()[0];
        let codes: Vec<&'static str> = row.feedback().iter().map(Note::code).collect();
        (
            row.answers()[0].marks(),
            codes,
            row.feedback().last().map(|note| note.text().into()),
        )
    };
    let (marks, codes, told) = notes("21.352,24.018,22.602,22.601,7.58");
    assert_eq!(marks, 1);
    assert_eq!(codes, ["all_right", "look_at_bench", "solid_lost"]);
    let told = told.unwrap();
    assert!(
        told.contains("Your residue is 0.053\u{a0}g lighter than it should be."),
        "{told}"
    );
    for sentence in told.split(". ") {
        assert!(sentence.split_whitespace().count() <= 20, "{sentence}");
    }
    // The mass that still fell is told already.
    let (marks, codes, _) = notes("21.352,24.018,22.946,22.801,5.61");
    assert_eq!(marks, 1);
    assert_eq!(codes, ["all_right", "look_at_constant_mass"]);
    let (_, codes, _) = notes("21.352,24.018,22.656,22.655,6.99");
    assert_eq!(codes, ["all_right", "look_at_bench"]);
}

/// No water is to come where more has left than the hydrate held: 27.19 g − 3.00 g·0.36076 (5·18.015/249.677) is
/// 26.108 g, and `CuSO4` that is heated on gives off SO3.
#[test]
fn nobody_is_told_of_water_left_in_a_salt_that_decomposes() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,reported_water_g\n\
                Damson,24.19,27.19,25.95,25.86,25.78,1.41\n";
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let marked = Marker::new("CuSO4·5H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let row = &marked.rows()[0];
    assert!(row.dehydration().unwrap().standard_uncertainty() < 0.1);
    let texts: Vec<String> = row
        .feedback()
        .iter()
        .map(|note| note.text().into())
        .collect();
    let [_, look, fault] = texts.as_slice() else {
        panic!("{texts:?}");
    };
    assert!(
        look.ends_with("Water that is left does not explain your x."),
        "{look}"
    );
    assert!(
        fault.contains("Likely cause: decomposition of the salt. Next time, heat less strongly."),
        "{fault}"
    );
}
