//! Marking, row by row.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::class::*;
use crate::gravimetry::{ConstantMass, Method, Quantity};
use crate::mistake::Slip;
use crate::text::Note;

const FINCH: &str = "21.352,24.018,22.701,22.656,22.655";

fn marker() -> Marker {
    let method = Method::new().constant_mass(ConstantMass::Absolute("0.002".parse().unwrap()));
    Marker::new("MgSO4·7H2O".parse().unwrap(), method)
}

/// Marks one bench that reports these values under these columns.
fn mark(columns: &str, cells: &str) -> Marked {
    let text = format!(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,{columns}\nFinch,{FINCH},{cells}\n"
    );
    marker().mark(&Sheet::read(text.as_bytes()).unwrap())
}

#[track_caller]
fn verdicts(columns: &str, cells: &str, expected: &[(&str, Option<Quantity>)]) {
    let marked = mark(columns, cells);
    let found: Vec<_> = marked.rows()[0]
        .answers()
        .iter()
        .map(|a| (a.verdict().code(), a.carried_from()))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn everything_right() {
    verdicts(
        "reported_hydrate_g,reported_residue_g,reported_water_g,reported_percent_water,reported_mol_salt,\
         reported_mol_water,reported_ratio,reported_formula",
        "2.666,1.303,1.363,51.13,0.01083,0.07566,6.99,MgSO4.7H2O",
        &[("correct", None); 8],
    );
}

#[test]
fn one_wrong_difference_then_right_work() {
    let from = Some(Quantity::WaterMass);
    verdicts(
        "reported_water_g,reported_percent_water,reported_mol_salt,reported_mol_water,reported_ratio",
        "1.373,51.50,0.01083,0.07621,7.04",
        &[
            ("slip", None),
            ("carried_forward", from),
            ("correct", None),
            ("carried_forward", from),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn amounts_rounded_before_dividing_are_defensible() {
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio",
        "0.0108,0.0757,7.01",
        &[("correct", None); 3],
    );
}

#[test]
fn what_nothing_leads_to() {
    verdicts("reported_ratio", "5.83", &[("unexplained", None)]);
    verdicts("reported_formula", "MgSO4·4H2O", &[("unexplained", None)]);
    verdicts("reported_formula", "MgSQ4·7H2O", &[("unexplained", None)]);
    verdicts("reported_ratio", "6.99x", &[("unexplained", None)]);
}

#[track_caller]
fn slips(column: &str, cell: &str, expected: &[Slip], certain: bool) {
    let marked = mark(column, cell);
    let answer = &marked.rows()[0].answers()[0];
    assert_eq!(answer.verdict(), Verdict::Slip, "{cell}");
    assert_eq!(answer.slips(), expected, "{cell}");
    assert_eq!(answer.certain(), Some(certain), "{cell}");
    assert_eq!(answer.marks(), 0);
}

#[test]
fn slips_are_named() {
    slips("reported_ratio", "0.1431", &[Slip::RatioInverted], true);
    slips(
        "reported_ratio",
        "0.1",
        &[Slip::RatioInverted, Slip::MolWaterAsRatio],
        false,
    );
    slips(
        "reported_percent_water",
        "104.6",
        &[Slip::PercentOfResidue],
        true,
    );
    // The molar mass of Li2SO4 gives 6.39, too, and 6.93 is right.
    let all = [
        Slip::SaltWaterSwapped,
        Slip::DigitsTransposed,
        Slip::OtherSalt,
    ];
    slips("reported_ratio", "6.39", &all, false);
    // 6.52 is too near to 6.99 to be more than chance.
    slips("reported_ratio", "6.52", &[Slip::FirstHeatingUsed], false);
    slips("reported_formula", "MgSO4·6H2O", &[Slip::Truncated], false);
    slips(
        "reported_formula",
        "7MgSO4·H2O",
        &[Slip::RatioInverted],
        true,
    );
    slips("reported_water_g", "-1.363", &[Slip::SignReversed], true);
    slips("reported_water_g", "1363", &[Slip::FactorOfThousand], true);
    slips("reported_ratio", "9.69", &[Slip::DigitsTransposed], false);
    slips("reported_ratio", "9.689", &[Slip::DigitsTransposed], true);
}

#[test]
fn one_wrong_unit_is_charged_once() {
    let masses = "reported_hydrate_g,reported_residue_g,reported_water_g,reported_mol_water";
    let hydrate = Some(Quantity::HydrateMass);
    // Milligrams, and one place off.
    for (cells, last) in [
        ("2666,1303,1363,0.07566", ("correct", None)),
        ("26.66,13.03,13.63,0.7566", ("carried_forward", hydrate)),
        ("0.2666,0.1303,0.1363,0.07566", ("correct", None)),
    ] {
        let carried = ("carried_forward", hydrate);
        verdicts(masses, cells, &[("slip", None), carried, carried, last]);
    }
    // Millimoles.
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio",
        "10.83,75.66,6.99",
        &[
            ("slip", None),
            ("carried_forward", Some(Quantity::MolSalt)),
            ("correct", None),
        ],
    );
    // It cancels out of a ratio.
    verdicts(
        "reported_hydrate_g,reported_ratio",
        "2666,6989",
        &[("slip", None), ("slip", None)],
    );
    // Too large and too small are two errors.
    verdicts(
        "reported_hydrate_g,reported_residue_g",
        "26.66,0.1303",
        &[("slip", None), ("slip", None)],
    );
    let marked = mark("reported_residue_g,reported_mol_salt", "1303,10.83");
    assert_eq!(marked.rows()[0].total(), Some(1.into()));
}

/// A slip on one's own earlier error: 1.373 g of water, and 1/7.04.
#[test]
fn a_slip_may_follow_an_error() {
    let marked = mark("reported_water_g,reported_ratio", "1.403,0.1390");
    let answer = &marked.rows()[0].answers()[1];
    assert_eq!(answer.slips(), [Slip::RatioInverted]);
}

#[test]
fn gaps_are_missing_and_cost_only_themselves() {
    verdicts(
        "reported_ratio,reported_formula",
        ",MgSO4.7H2O",
        &[("missing", None), ("correct", None)],
    );
    verdicts(
        "reported_ratio,reported_formula",
        "—,MgSO4(H2O)7",
        &[("missing", None), ("correct", None)],
    );
}

#[test]
fn a_formula_from_a_wrong_ratio_is_carried() {
    let from = Some(Quantity::Ratio);
    verdicts(
        "reported_ratio,reported_formula",
        "5.83,MgSO4·6H2O",
        &[("unexplained", None), ("carried_forward", from)],
    );
    verdicts(
        "reported_ratio,reported_formula",
        "5.83,MgSO4·7H2O",
        &[("unexplained", None), ("correct", None)],
    );
}

#[test]
fn wrong_masses_are_carried_through_amounts() {
    // The container left in the residue: 22.655 g.
    let from = Some(Quantity::ResidueMass);
    verdicts(
        "reported_residue_g,reported_mol_salt,reported_mol_water,reported_ratio",
        "22.655,0.1882,0.07566,0.402",
        &[
            ("slip", None),
            ("carried_forward", from),
            ("correct", None),
            ("carried_forward", from),
        ],
    );
    // A wrong mass of hydrate, from which the water was taken without being reported.
    let from = Some(Quantity::HydrateMass);
    verdicts(
        "reported_hydrate_g,reported_mol_water,reported_ratio",
        "2.676,0.07621,7.04",
        &[
            ("slip", None),
            ("carried_forward", from),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn nought_is_no_answer() {
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio,reported_formula",
        "0,0.00,0,MgSO4",
        &[
            ("unexplained", None),
            ("unexplained", None),
            ("unexplained", None),
            // The anhydrous salt has no water.
            ("carried_forward", Some(Quantity::Ratio)),
        ],
    );
}

#[test]
fn what_follows_from_a_coarse_answer_is_carried_from_it() {
    // 0.01 mol and 0.1 mol differ by 8 % and 32 % from the bench's own; ten waters follow from them.
    let from = Some(Quantity::MolSalt);
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio,reported_formula",
        "0.01,0.1,10,MgSO4·10H2O",
        &[
            ("unexplained", None),
            ("unexplained", None),
            ("carried_forward", from),
            ("carried_forward", from),
        ],
    );
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio",
        "0.011,0.076,6.909",
        &[
            ("correct", None),
            ("correct", None),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn the_residue_may_be_what_is_left_of_the_hydrate() {
    // 2.666 g − 1.263 g = 1.403 g of residue: 0.01166 mol, and x = 0.07011/0.01166 = 6.01.
    let from = Some(Quantity::WaterMass);
    verdicts(
        "reported_water_g,reported_mol_salt,reported_ratio",
        "1.263,0.01166,6.01",
        &[
            ("slip", None),
            ("carried_forward", from),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn a_formula_may_follow_without_a_ratio() {
    let from = Some(Quantity::MolWater);
    verdicts(
        "reported_mol_water,reported_formula",
        "0.0650,MgSO4·6H2O",
        &[("unexplained", None), ("carried_forward", from)],
    );
}

#[test]
fn a_wrong_sign_is_carried_like_any_other_error() {
    let from = Some(Quantity::WaterMass);
    verdicts(
        "reported_water_g,reported_percent_water,reported_mol_water,reported_ratio",
        "-1.363,-51.13,-0.07566,-6.99",
        &[
            ("slip", None),
            ("carried_forward", from),
            ("carried_forward", from),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn every_spelling_of_the_hydrate_is_right() {
    let verdict = |issued: &str, masses: &str, reported: &str| {
        let text = format!("bench,hydrate_g,residue_g,reported_formula\nA,{masses},{reported}\n");
        let marker = Marker::new(issued.parse().unwrap(), Method::new());
        let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        marked.rows()[0].answers()[0].verdict().code()
    };
    for reported in ["CaSO4·½H2O", "2CaSO4·H2O", "(CaSO4)2·H2O"] {
        assert_eq!(
            verdict("CaSO4·½H2O", "10.000,9.379", reported),
            "correct",
            "{reported}"
        );
    }
    for reported in [
        "KAl(SO4)2·12H2O",
        "AlK(SO4)2.12H2O",
        "K2SO4·Al2(SO4)3·24H2O",
    ] {
        assert_eq!(
            verdict("KAl(SO4)2·12H2O", "4.744,2.582", reported),
            "correct",
            "{reported}"
        );
    }
    for reported in ["CdSO4·8/3H2O", "3CdSO4·8H2O"] {
        assert_eq!(
            verdict("3CdSO4·8H2O", "7.695,6.254", reported),
            "correct",
            "{reported}"
        );
    }
    let complex = "[Fe(H2O)6]SO4·H2O";
    assert_eq!(verdict("FeSO4·7H2O", "2.780,1.519", complex), "correct");
    assert_eq!(verdict("FeSO4·7H2O", "2.780,1.519", "FeSO4·6H2O"), "slip");
    assert_eq!(
        verdict("FeSO4·7H2O", "2.780,1.519", "FeH14SO11"),
        "unexplained"
    );
}

#[test]
fn an_unreadable_formula_is_a_problem_of_the_sheet() {
    let marked = mark("reported_formula", "MgSQ4·7H2O");
    assert_eq!(marked.problems()[0].code(), "bad_formula");
    assert_eq!(marked.problems()[0].column(), "reported_formula");
    // The column is named as the file has it.
    let text = "bench,Before /g,After /g,Formel\nHeron,2.666,1.303,MgSQ4·7H2O\nWren,2.666,3.303,\n";
    let reader = Sheet::reader().map_column("Before /g", "hydrate_g");
    let reader = reader
        .map_column("After /g", "residue_g")
        .map_column("Formel", "reported_formula");
    let marked = marker().mark(&reader.read(text.as_bytes()).unwrap());
    let columns: Vec<_> = marked.problems().iter().map(Problem::column).collect();
    assert_eq!(columns, ["Formel", "After /g"]);
}

/// A name that may be several salts is no salt, and the pupil is not told that nobody wrote it down.
#[test]
fn a_name_of_several_salts_is_asked_about() {
    let text = "bench,issued,hydrate_g,residue_g,reported_ratio\n\
                A,copper sulphate,2.497,1.596,5.0\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    assert_eq!(
        marked.problems()[0].message(),
        "`copper sulphate` is not the name of one salt: `copper` forms several ions: copper(I) and copper(II). \
         Write which one you mean: CuSO4·H2O, CuSO4·3H2O or CuSO4·5H2O."
    );
    let row = &marked.rows()[0];
    assert_eq!((row.total(), row.by_hand()), (None, 1));
    assert_eq!(
        row.feedback()[1].text(),
        "Ask your teacher which salt you were given. The class sheet does not say it clearly."
    );
}

/// Only one hydrate can be meant, so it is read, with a note.
#[test]
fn a_name_without_its_charge_is_read_with_a_note() {
    let text = "bench,issued,hydrate_g,residue_g,reported_ratio\n\
                A,copper sulphate pentahydrate,2.497,1.596,5.0\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    assert_eq!(marked.problems(), []);
    assert_eq!(marked.rows()[0].total(), Some(1.into()));
    assert_eq!(
        marked.notes()[0].text(),
        "`copper sulphate pentahydrate` does not give the charge of its metal. It was read as CuSO4·5H2O, \
         the only known hydrate of that name."
    );

    let read = |text: &str| match Row::read_issued(text) {
        Ok((issued, _)) => issued.to_string(),
        Err(error) => error.help().unwrap().to_string(),
    };
    for (text, meant) in [
        ("Cobalt chloride hexahydrate", "CoCl2·6H2O"),
        ("iron sulphate heptahydrate", "FeSO4·7H2O"),
        (
            "cobalt chloride",
            "write which one you mean: CoCl2·H2O, CoCl2·2H2O or CoCl2·6H2O",
        ),
        (
            "copper sulfate hydrate",
            "write which one you mean: CuSO4·H2O, CuSO4·3H2O or CuSO4·5H2O",
        ),
        (
            "copper sulfate nonahydrate",
            "write which one you mean: copper(I) or copper(II)",
        ),
        ("iron chloride hexahydrate", "FeCl3·6H2O"),
        ("iron(III) chloride hexahydrate", "FeCl3·6H2O"),
        (
            "MgSO4.7H2O or CuSO4.5H2O",
            "write the one that was issued: MgSO4·7H2O or CuSO4·5H2O",
        ),
        (
            "Kupfersulfat-Pentahydrat",
            "use English names of ions: `cobalt(II) chloride hexahydrate`",
        ),
    ] {
        assert_eq!(read(text), meant, "{text}");
    }
}

#[test]
fn who_shares_a_bench_shares_what_it_was_issued() {
    let text =
        "bench,hydrate_g,residue_g,issued,reported_ratio\nA,5.00,3.20,CuSO4·5H2O,4.98\nA,,,,5.0\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    assert_eq!(marked.rows()[1].total(), Some(1.into()));
}

#[test]
fn reasons_are_sentences() {
    let marked = mark(
        "reported_water_g,reported_ratio,reported_formula",
        "1.373,7.04,",
    );
    let reasons: Vec<String> = marked.rows()[0]
        .answers()
        .iter()
        .map(Answer::reason)
        .collect();
    assert_eq!(
        reasons,
        [
            "wrong: perhaps a subtraction that is off by one in one digit. The bench's own readings \
             give 1.363 g.",
            "carried forward: it follows from the reported mass of water, so no second mark is lost.",
            "missing: nothing was handed in. The bench's own readings give MgSO4·7H2O.",
        ]
    );
    assert_eq!(marked.rows()[0].total(), Some(1.into()));
}

const CLASS: &str = "\
bench;pupil;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g;reported_ratio
Finch;a;21,352;24,018;22,701;22,655;1 : 6,99
Finch;b;;;;;6,5
Wren;c;20,114;22,987;21,560;21,5x8;7
Rook;d;19,870;23,001;21,439;21,4;6,98
Kite;e;21,352;20,018;22,701;22,655;7
";

#[test]
fn a_bad_row_costs_nobody_else_anything() {
    let marked = marker().mark(&Sheet::read(CLASS.as_bytes()).unwrap());
    let seen: Vec<_> = marked
        .rows()
        .iter()
        .map(|row| (row.bench(), row.total(), row.answers().len()))
        .collect();
    assert_eq!(
        seen,
        [
            ("Finch", Some(1.into()), 1),
            ("Finch", Some(0.into()), 1),
            ("Wren", None, 0),
            ("Rook", Some(1.into()), 1),
            ("Kite", None, 0)
        ]
    );
    let problems: Vec<String> = marked.problems().iter().map(ToString::to_string).collect();
    assert_eq!(problems.len(), 2, "{problems:?}");
    assert!(
        problems[0].starts_with("line 4, `heated_2_g`, bench Wren: "),
        "{}",
        problems[0]
    );
    assert_eq!(
        problems[1],
        "line 6, `crucible_hydrate_g`, bench Kite: the container with the hydrate (20.018 g) is \
         not heavier than \
         the empty container (21.352 g). Check both readings: one may be misread, or they were \
         swapped."
    );
}

#[test]
fn statistics_count_the_bench_once() {
    let marked = marker().mark(&Sheet::read(CLASS.as_bytes()).unwrap());
    assert_eq!(marked.pooled().n(), 2);
    assert_eq!(
        marked
            .rows()
            .iter()
            .filter(|row| row.has_own_readings())
            .count(),
        4
    );
    assert_eq!(marked.at_constant_mass().n(), 0);
}

/// The key of each hydrate costs as much as many rows.
#[test]
fn a_class_has_not_too_many_hydrates() {
    let rows = |last: usize| (2..last + 2).map(|n| format!("B{n},MgSO4·{n}H2O,2.666,1.303,7\n"));
    let text = |last| {
        let head = "bench,issued,hydrate_g,residue_g,reported_ratio\n";
        let known = "again,MgSO4·7H2O,2.666,1.303,7\n";
        format!("{head}{}{known}", rows(last).collect::<String>())
    };
    let mark = |last| {
        let sheet = Sheet::read(text(last).as_bytes()).unwrap();
        let marked = marker().mark(&sheet);
        assert!(marked.rows().last().unwrap().dehydration().is_some());
        let problems = marked.problems().iter();
        problems
            .map(|problem| (problem.line(), problem.code()))
            .collect::<Vec<_>>()
    };
    assert_eq!(mark(Marker::MOST_ISSUED), []);
    let expected: Vec<_> = (202..302).map(|line| (line, "too_many_issued")).collect();
    assert_eq!(mark(Marker::MOST_ISSUED + 100), expected);
}

#[test]
fn a_row_may_be_issued_something_else() {
    let text = "bench,hydrate_g,residue_g,issued\nFinch,5.00,3.20,CuSO4·5H2O\nWren,5.00,3.20,CuS04\nRook,2.666,1.303,\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    assert_eq!(
        marked.rows()[0]
            .dehydration()
            .unwrap()
            .nearest_formula()
            .to_string(),
        "CuSO4·5H2O"
    );
    assert!(marked.rows()[1].dehydration().is_none());
    assert_eq!(marked.problems()[0].code(), "bad_issued");
    // Ratios of different salts are not pooled.
    assert_eq!(marked.pooled().n(), 1);
}

#[test]
fn zeros_that_only_hold_the_place() {
    let marked = |hydrate: &str, residue: &str, percent: &str| {
        let text = format!(
            "bench,hydrate_g,residue_g,reported_percent_water\nA,{hydrate},{residue},{percent}\n"
        );
        let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
        let answer = &marked.rows()[0].answers()[0];
        (answer.verdict().code(), answer.expected_as_written())
    };
    // One figure in the water and in the residue: 52.94 % may be written 50, and is printed 53.
    assert_eq!(marked("1.7", "0.8", "50"), ("correct", Some("53".into())));
    assert_eq!(marked("1.7", "0.8", "53"), ("correct", Some("53".into())));
    assert_eq!(
        marked("1.7", "0.8", "40"),
        ("unexplained", Some("53".into()))
    );
    // With four figures to be had, 50 is within 5 % of 51.13, and 60 is not.
    assert_eq!(marked("2.666", "1.303", "50").0, "correct");
    assert_eq!(marked("2.666", "1.303", "60").0, "unexplained");
}

#[test]
fn zeros_of_milligrams_only_hold_the_place() {
    let few = &["too_few_figures"][..];
    remarked("reported_hydrate_g", "2670 mg", "correct", &[]);
    remarked("reported_hydrate_g", "2700 mg", "correct", few);
    remarked("reported_hydrate_g", "2680 mg", "unexplained", &[]);
    remarked("reported_hydrate_g", "3000 mg", "unexplained", &[]);
    remarked("reported_residue_g", "1300 mg", "correct", &[]);
    remarked("reported_residue_g", "1300", "slip", &[]);
    remarked("reported_percent_water", "50", "correct", few);
    verdicts(
        "reported_hydrate_g,reported_residue_g,reported_water_g",
        "2670,1300,1360",
        &[
            ("slip", None),
            ("carried_forward", Some(Quantity::HydrateMass)),
            ("carried_forward", Some(Quantity::HydrateMass)),
        ],
    );
}

/// Both amounts are right, so no molar mass was wrong. Here x is (1.363/18.015)/(1.303/120.361), with 159.602 of
/// `CuSO4`, with 104.362 for one oxygen less, and with 16.00 for the water.
#[test]
fn a_ratio_of_right_amounts_has_no_wrong_molar_mass() {
    let columns = "reported_mol_salt,reported_mol_water,reported_ratio";
    for (ratio, slip) in [
        ("9.267", Slip::OtherSalt),
        ("6.060", Slip::AtomMiscounted),
        ("7.869", Slip::WrongWaterMolarMass),
    ] {
        slips("reported_ratio", ratio, &[slip], true);
        let marked = mark(columns, &format!("0.01083,0.07566,{ratio}"));
        let answer = &marked.rows()[0].answers()[2];
        assert_eq!(answer.verdict(), Verdict::Unexplained, "{ratio}");
    }
    // The step itself may be wrong.
    let marked = mark(columns, "0.01083,0.07566,0.1431");
    assert_eq!(marked.rows()[0].answers()[2].slips(), [Slip::RatioInverted]);
}

/// Books print 51.17 %, with whole weights 51.22 %, and with one decimal 51.14 %, which is right here.
#[test]
fn a_textbook_value_has_the_digits_of_the_book() {
    for (cell, is_of_the_book) in [
        ("51.17", true),
        ("51.22", true),
        ("51.01", false),
        ("51.03", false),
        ("51.07", false),
        ("51.15", false),
        ("51.20", false),
        ("51.28", false),
    ] {
        let marked = mark("reported_percent_water", cell);
        let slips = marked.rows()[0].answers()[0].slips();
        assert_eq!(
            slips.contains(&Slip::TextbookValue),
            is_of_the_book,
            "{cell}"
        );
    }
}

/// 2.666/1.363 = 1.956, and 1.363/1.303 = 1.046.
#[test]
fn a_wrong_percentage_may_be_a_fraction() {
    let percent = "reported_percent_water";
    slips(percent, "195.6", &[Slip::PercentInverted], true);
    slips(percent, "1.956", &[Slip::PercentInverted], false);
    slips(percent, "104.6", &[Slip::PercentOfResidue], true);
    slips(percent, "1.046", &[Slip::PercentOfResidue], false);
}

/// 1.779 g of CuSO4·H2O is 0.01002 mol, and 0.721 g of water 0.04002 mol: 4.00, and 5.00 with the water that stays. By
/// 159.602 g of `CuSO4`, the salt is 0.01115 mol, and the ratio 3.59: 0.0400/0.01115 = 3.587 to 3.591 without rounding.
/// With the water of 0.01002 mol, 0.0500 mol is lost, 36.06 % of 2.500 g.
#[test]
fn water_that_stays_in_the_residue() {
    let method = Method::new()
        .residue(&"CuSO4·H2O".parse().unwrap())
        .unwrap();
    let marker = Marker::new("CuSO4·5H2O".parse().unwrap(), method);
    for (column, cell, earns) in [
        ("ratio", "5.00", true),
        ("ratio", "3.99", false),
        ("ratio", "3.588", false),
        ("ratio", "4.588", false),
        ("mol_salt", "0.01115", false),
        ("mol_water", "0.0500", false),
        ("percent_water", "36.06", false),
    ] {
        let text = format!("bench,hydrate_g,residue_g,reported_{column}\nA,2.500,1.779,{cell}\n");
        let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        let answer = &marked.rows()[0].answers()[0];
        assert_eq!(answer.verdict().earns(), earns, "{cell}");
        let named = answer.slips().contains(&Slip::ResidualWaterMiscounted);
        assert_eq!(named, !earns, "{cell}");
    }
    // The quotient of the two amounts, 0.730/18.015 and 1.800/177.617: no other error is as likely.
    let text = "bench,hydrate_g,residue_g,reported_mol_salt,reported_mol_water,reported_ratio\n\
                Birch,2.530,1.800,0.01013,0.04052,4.0\nBirch,,,0.01013,0.04052,4.00\n";
    let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
    for row in marked.rows() {
        let answer = &row.answers()[2];
        assert_eq!(
            answer.slips(),
            [Slip::ResidualWaterMiscounted],
            "{answer:?}"
        );
        let advice = row.feedback();
        assert!(
            advice[1].text().ends_with(
                "A possible cause: the water that stays in the residue counted wrongly."
            ),
            "{advice:?}"
        );
    }
}

#[test]
fn exchanged_amounts_are_charged_once() {
    let columns = "reported_mol_salt,reported_mol_water,reported_ratio";
    let from = Some(Quantity::MolSalt);
    let once = [("slip", None), ("carried_forward", from), ("correct", None)];
    verdicts(columns, "0.0757,0.0108,7.00", &once);
    // The second alone is an error of its own.
    let alone = [("correct", None), ("slip", None), ("correct", None)];
    verdicts(columns, "0.0108,0.0108,7.00", &alone);
}

#[test]
fn a_formula_may_be_of_another_salt() {
    // A salt of other elements is not the same one.
    for cell in ["BaCl2·H2O", "BaCl·2H2O"] {
        let marked = ratio_of("BaCl2·2H2O", ["2.443", "2.082"], "reported_formula", cell);
        assert!(
            marked.rows()[0].answers()[0]
                .slips()
                .iter()
                .all(|s| *s != Slip::OtherSalt)
        );
    }
    slips("reported_formula", "CuSO4·7H2O", &[Slip::OtherSalt], true);
    slips("reported_formula", "ZnSO4.5H2O", &[Slip::OtherSalt], true);
    // The number of waters agrees with the ratio.
    let marked = mark("reported_ratio,reported_formula", "6.99,CuSO4·7H2O");
    assert!(marked.rows()[0].answers()[1].remarks().is_empty());
}

#[test]
fn accuracy_is_apart_from_the_marks() {
    let marked = mark("reported_ratio", "6.99");
    let difference = marked.rows()[0].difference_percent().unwrap();
    assert_eq!(
        difference
            .to_places(3, crate::number::TieRule::Even)
            .to_string(),
        "-0.160"
    );
}

#[test]
fn stand_in_readings_are_marked_and_not_pooled() {
    let text = "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,stand_in,reported_ratio\n\
                Finch,a,21.352,24.018,22.656,22.655,,6.99\n\
                Wren,b,21.352,24.118,22.706,22.705,yes,6.99\n\
                Wren,c,,,,,,6.99\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    let stand_in: Vec<bool> = marked.rows().iter().map(MarkedRow::stand_in).collect();
    assert_eq!(stand_in, [false, true, true]);
    assert_eq!(marked.pooled().n(), 1);
    assert_eq!(marked.at_constant_mass().n(), 1);
    assert!(
        marked
            .rows()
            .iter()
            .all(|row| row.total() == Some(1.into()))
    );
    #[cfg(feature = "serde")]
    {
        let wire = serde_json::to_value(&marked).unwrap();
        assert_eq!(wire["rows"][0]["stand_in"], false);
        assert_eq!(wire["rows"][1]["stand_in"], true);
        assert_eq!(wire["pooled"]["n"], 1);
    }
}

/// 51.50 % is within half a per cent of the bench's own 51.13 %, and follows from its wrong water.
#[test]
fn a_band_takes_nothing_from_what_is_carried_forward() {
    let policy = "tolerance.percent_water = { bands = [{ within = 0.2, marks = 2 }, { within = \
                  0.5, marks = 1 }] }";
    let marked = |cells: &str| {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,reported_water_g,\
             reported_percent_water\nFinch,{FINCH},{cells}\n"
        );
        let policy = Policy::from_toml(policy).unwrap();
        let marked = marker()
            .policy(policy)
            .mark(&Sheet::read(text.as_bytes()).unwrap());
        let answer = &marked.rows()[0].answers()[1];
        (answer.verdict().code(), answer.marks(), answer.out_of())
    };
    assert_eq!(marked("1.363,51.13"), ("correct", 2.into(), 2.into()));
    assert_eq!(marked("1.363,51.50"), ("correct", 1.into(), 2.into()));
    assert_eq!(
        marked("1.373,51.50"),
        ("carried_forward", 2.into(), 2.into())
    );
    assert_eq!(marked("1.363,51.99").1, 0);
}

/// One policy, one bench with x = 6.989, and what is said of the answers.
fn by_policy(policy: &str, columns: &str, cells: &str) -> Marked {
    let text = format!(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,{columns}\nFinch,{FINCH},{cells}\n"
    );
    let marker = marker().policy(Policy::from_toml(policy).unwrap());
    marker.mark(&Sheet::read(text.as_bytes()).unwrap())
}

#[test]
fn what_was_copied_is_no_work_to_go_on_from() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_percent_water,\
                reported_ratio,reported_formula\nHeron,20.112,22.512,21.700,21.664,51.17,7.00,MgSO4·7H2O\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    let answers = marked.rows()[0].answers();
    assert!(
        answers
            .iter()
            .all(|a| a.slips().contains(&Slip::TextbookValue))
    );
    assert_eq!(marked.rows()[0].total(), Some(0.into()));
    // The readings agree with the book (51.167 and 51.165 %), and the answer still has the book's digits.
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_percent_water\n\
                Heron,20.112,22.512,21.284,21.284,51.16\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    let answer = &marked.rows()[0].answers()[0];
    assert_eq!(answer.verdict(), Verdict::Correct);
    assert_eq!(answer.remarks()[0].code(), "last_place");
}

#[test]
fn the_weighing_itself_is_no_mass_that_follows() {
    // 24.018 g less 1.363 g would be the gross residue, too.
    verdicts(
        "reported_hydrate_g,reported_residue_g",
        "24.018,22.655",
        // It is the same error, which is charged once.
        &[
            ("slip", None),
            ("carried_forward", Some(Quantity::HydrateMass)),
        ],
    );
}

#[test]
fn a_formula_may_follow_from_either_end_of_a_rounded_ratio() {
    let from = Some(Quantity::Ratio);
    for formula in ["MgSO4·6H2O", "MgSO4·7H2O"] {
        let marked = mark("reported_ratio,reported_formula", &format!("6.5,{formula}"));
        let answer = &marked.rows()[0].answers()[1];
        assert!(answer.verdict().earns(), "{formula}");
    }
    verdicts(
        "reported_ratio,reported_formula",
        "6.5,MgSO4·6H2O",
        &[("slip", None), ("carried_forward", from)],
    );
    // From one's own 7.00 nothing is cut off.
    verdicts(
        "reported_ratio,reported_formula",
        "7.00,MgSO4·6H2O",
        &[("correct", None), ("unexplained", None)],
    );
}

#[test]
fn the_figures_of_a_wrong_answer_cost_nothing() {
    let policy = "figures = 'one_mark'";
    let columns = "reported_water_g,reported_percent_water";
    let wrong = by_policy(policy, columns, "1.363,104.60475825");
    assert_eq!(wrong.rows()[0].calculation(), Some(1.into()));
    let right = by_policy(policy, columns, "1.363,51.1252813");
    assert_eq!(right.rows()[0].calculation(), Some(1.into()));
    assert!(right.rows()[0].figures_mark());
    let reason = wrong.rows()[0].answers()[1].reason();
    assert!(
        reason.starts_with("wrong: a percentage of the residue"),
        "{reason}"
    );
}

#[test]
fn outside_a_narrow_tolerance_is_said_to_be_so() {
    let marked = by_policy(
        "tolerance = { ratio = { absolute = 0.0001 } }",
        "reported_ratio",
        "6.99",
    );
    let row = &marked.rows()[0];
    assert_eq!(
        row.answers()[0].reason(),
        "outside the tolerance: careful work on the readings gives it, but it differs by more than \
         the policy allows. The bench's own readings give 6.989."
    );
    assert_eq!(row.feedback()[1].code(), "look_at_value");
}

#[test]
fn what_cannot_be_read_is_marked_by_hand() {
    for formula in ["magnesium sulphate is what we had", "07.10.2024", "7H20"] {
        let marked = mark("reported_formula", formula);
        assert!(marked.rows()[0].answers()[0].by_hand(), "{formula}");
    }
    verdicts(
        "reported_formula",
        "magnesium sulfate heptahydrate",
        &[("correct", None)],
    );
}

#[test]
fn the_jar_is_weighed_like_a_bench() {
    let jar =
        "[jar]\ncrucible = 20.112\ncrucible_hydrate = 22.512\nheated = [21.30, 21.25, 21.24]\n";
    let notes = |jar: &str| {
        let marked = by_policy(jar, "reported_ratio", "6.99");
        marked.notes().iter().map(Note::code).collect::<Vec<_>>()
    };
    assert_eq!(notes(jar), ["jar_not_constant"]);
    assert!(notes("[jar]\npercent_water = 51.0\n").is_empty());
    assert!(notes("[jar]\npercent_water = 1.5\n").is_empty());
    let marked = by_policy("[jar]\npercent_water = 0.509\n", "reported_ratio", "6.99");
    let [note] = marked.notes() else {
        panic!("{:?}", marked.notes());
    };
    assert_eq!(note.code(), "suspect_percent_water");
    assert_eq!(
        note.text(),
        "The stock was read as having 0.509 % of water. Give it in per cent: was 50.9 % meant?"
    );
}

/// Nd2(SO4)3·8H2O is not in the catalogue. 1.303 g was divided by its salt's 576.66 g/mol.
#[test]
fn the_other_salts_of_a_class_are_known() {
    let text = "bench,hydrate_g,residue_g,issued,reported_mol_salt\n\
                A,2.666,1.303,MgSO4·7H2O,0.002260\nB,2.000,1.629,Nd2(SO4)3·8H2O,\n";
    let slips = |text: &str| {
        let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
        marked.rows()[0].answers()[0].slips().to_vec()
    };
    assert!(slips(text).contains(&Slip::OtherSalt));
    assert!(!slips(&text.replace("Nd2(SO4)3·8H2O", "BaCl2·2H2O")).contains(&Slip::OtherSalt));
}

#[test]
fn who_shares_readings_and_says_another_salt_is_a_problem() {
    let text = "bench,hydrate_g,residue_g,issued,reported_ratio\nA,5.00,3.20,CuSO4·5H2O,4.98\n\
                A,,,MgSO4·7H2O,5.0\nA,,,CuSO4.5H2O,5.0\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    let codes: Vec<_> = marked
        .problems()
        .iter()
        .map(|p| (p.line(), p.code()))
        .collect();
    assert_eq!(codes, [(3, "issued_differs")]);
}

#[cfg(feature = "serde")]
#[test]
fn a_serialised_row_is_enough_for_a_page() {
    let text = "bench,hydrate_g,residue_g,reported_water_g,reported_ratio,reported_formula\n\
                Heron,2.666,1.303,1.373,6.99,17.10.\nWren,,,1.4,6.9,\n";
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let policy = "accuracy.bands = [{ within_percent = 1, marks = 2 }]";
    let marker = marker().policy(Policy::from_toml(policy).unwrap());
    let rows = serde_json::to_value(marker.mark(&sheet)).unwrap()["rows"].take();
    let row = &rows[0];
    let of_row =
        ["issued", "outcome", "formula", "total", "out_of", "by_hand"].map(|key| &row[key]);
    let hydrate = "MgSO4·7H2O";
    let expected = serde_json::json!([hydrate, "approximate", hydrate, null, 5, 1]);
    assert_eq!(serde_json::json!(of_row), expected);
    assert_eq!(row["accuracy"]["out_of"], 2);
    let water = &row["answers"][0];
    assert_eq!(water["expected"], "1.363");
    assert_eq!(water["expected_as_written"], "1.363 g");
    assert_eq!((&water["marks"], &water["out_of"]), (&0.into(), &1.into()));
    assert!(water["reason"].as_str().unwrap().starts_with("wrong: "));
    assert_eq!(row["answers"][2]["marks"], serde_json::Value::Null);
    assert_eq!(row["answers"][2]["expected_as_written"], hydrate);
    // Without readings nothing is marked, and what was handed in is left to a person.
    let row = &rows[1];
    let of_row = ["outcome", "formula", "total", "out_of", "by_hand"].map(|key| &row[key]);
    assert_eq!(
        serde_json::json!(of_row),
        serde_json::json!([null, null, null, null, 2])
    );
}

/// More benches than keys are kept for, of each of which two hand in, far from each other.
#[test]
fn row_by_row_and_whole_are_the_same() {
    let mut text = String::from("bench,balance,hydrate_g,residue_g,reported_ratio\n");
    for index in 0..220 {
        text.push_str(&format!("B{index},a,2.6{index:03},1.303,6.99\n"));
    }
    for index in 0..220 {
        text.push_str(&format!("B{index},,,,7\n"));
    }
    text.push_str("B,,2.666,1.3o3,7\nC,,1.303,2.666,7\n");
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let policy = "accuracy.bands = [{ within_percent = 1, marks = 2 }]\n\
                  jar.percent_water = 51.0";
    let marker = marker().policy(Policy::from_toml(policy).unwrap());
    let marked = marker.mark(&sheet);
    let mut rows = marker.mark_rows(&sheet);
    assert_eq!(rows.len(), 442);
    assert!(rows.by_ref().eq(marked.rows().iter().cloned()));
    assert_eq!(rows.len(), 0);
    let class = rows.finish();
    assert_eq!((class.rows().len(), class.pooled().n()), (0, 220));
    assert_eq!(class.pooled(), marked.pooled());
    assert_eq!(class.problems(), marked.problems());
    let at = |class: &Marked| class.outliers_at(0.5, Tails::One).unwrap();
    assert_eq!(at(&class), at(&marked));
    // What is left is marked at the end.
    let mut rows = marker.mark_rows(&sheet);
    assert!(rows.next().is_some());
    assert_eq!(rows.finish().pooled(), marked.pooled());
    #[cfg(feature = "serde")]
    assert_eq!(
        serde_json::to_string(&marker.mark_rows(&sheet)).unwrap(),
        serde_json::to_string(&marked).unwrap()
    );
}

#[test]
fn a_stock_without_water_is_noted_and_not_used() {
    let net = crate::gravimetry::Weighings::net(
        "2.666".parse().unwrap(),
        "2.666".parse().unwrap(),
        crate::gravimetry::Net::Tared,
    );
    let policy = Policy::new()
        .accuracy([Band::new("1".parse().unwrap(), 3)])
        .unwrap()
        .stock(Stock::Weighings(net));
    let sheet = Sheet::read("bench,hydrate_g,residue_g\nHeron,2.666,1.303\n".as_bytes()).unwrap();
    let marked = marker().policy(policy).mark(&sheet);
    assert_eq!(
        marked.notes()[0].text(),
        "What the stock holds could not be worked out: no hydrate contains 0 % water. The benches are \
         compared with the formula."
    );
    assert_eq!(marked.rows()[0].accuracy(), Some(3.into()));
}

#[test]
fn a_formula_may_have_the_decimal_comma_of_its_sheet() {
    let text = "bench;issued;hydrate_g;residue_g;reported_ratio;reported_formula\n\
                Heron;CaSO4·0,5H2O;2,666;2,500;0,502;CaSO4·0,5H2O\n\
                Wren;\"CaSO4 · 0,5 H2O\";2,666;2,500;0,502;CaSO4.½H2O\n";
    let marked = marker().mark(&Sheet::read(text.as_bytes()).unwrap());
    assert!(marked.problems().is_empty(), "{:?}", marked.problems());
    for row in marked.rows() {
        assert_eq!(row.issued().unwrap().to_string(), "CaSO4·0.5H2O");
        let verdicts = row.answers().iter().map(Answer::verdict);
        assert!(verdicts.eq([Verdict::Correct; 2]), "{:?}", row.answers());
    }
}

/// The verdict and the remarks of one answer of a bench with x = 6.989 and 51.125 % of water.
#[track_caller]
fn remarked(column: &str, cell: &str, verdict: &str, remarks: &[&str]) {
    let marked = mark(column, cell);
    let answer = &marked.rows()[0].answers()[0];
    let codes: Vec<_> = answer
        .remarks()
        .iter()
        .map(|r| r.code().to_string())
        .collect();
    assert_eq!(
        (answer.verdict().code(), &codes[..]),
        (
            verdict,
            &remarks.iter().map(ToString::to_string).collect::<Vec<_>>()[..]
        ),
        "{cell}"
    );
}

#[track_caller]
fn wrong(column: &str, cell: &str) {
    let marked = mark(column, cell);
    assert!(!marked.rows()[0].answers()[0].verdict().earns(), "{cell}");
}

#[test]
fn one_unit_of_the_last_place_costs_nothing() {
    let percent = "reported_percent_water";
    remarked(percent, "51.13", "correct", &[]);
    // The last two weighings give 51.125 and 51.088 %.
    remarked(percent, "51.14", "correct", &["last_place"]);
    wrong(percent, "51.15");
    remarked(percent, "51.08", "correct", &["last_place"]);
    wrong(percent, "51.07");
    remarked("reported_mol_water", "0.0758", "correct", &["last_place"]);
    wrong("reported_mol_water", "0.0762");
    // One figure of two is one unit, and a tenth of the value.
    wrong("reported_ratio", "6");
    wrong("reported_ratio", "8");
    // A subtraction is right or wrong.
    wrong("reported_water_g", "1.364");
    // What is carried forward may be rounded in another way, too.
    let marked = mark("reported_water_g,reported_percent_water", "1.373,51.53");
    let answer = &marked.rows()[0].answers()[1];
    assert_eq!(answer.carried_from(), Some(Quantity::WaterMass));
    assert_eq!(answer.remarks()[0].code(), "last_place");
    assert_eq!(answer.marks(), 1);
}

/// The verdict of a ratio of a bench with these net masses of this hydrate.
#[track_caller]
fn ratio_of(issued: &str, [hydrate, residue]: [&str; 2], column: &str, cell: &str) -> Marked {
    let text = format!(
        "bench,issued,hydrate_g,residue_g,{column}\nA,{issued},{hydrate},{residue},{cell}\n"
    );
    marker().mark(&Sheet::read(text.as_bytes()).unwrap())
}

#[test]
fn a_coarse_answer_is_within_five_per_cent() {
    let plaster = ("CaSO4·0.5H2O", ["2.000", "1.876"]); // x = 0.4995
    let sesqui = ("CaSO4·1.5H2O", ["2.000", "1.669"]); // x = 1.4987
    let verdict = |(issued, masses), column, cell| {
        let marked = ratio_of(issued, masses, column, cell);
        let answer = &marked.rows()[0].answers()[0];
        let remarks: Vec<_> = answer
            .remarks()
            .iter()
            .map(|r| r.code().to_string())
            .collect();
        (answer.verdict(), remarks.join(" "))
    };
    for (bench, cell) in [(plaster, "1"), (sesqui, "1"), (sesqui, "2"), (plaster, "0")] {
        let found = verdict(bench, "reported_ratio", cell);
        assert!(found.0 != Verdict::Correct, "{cell}: {found:?}");
    }
    for (bench, cell) in [(plaster, "1"), (sesqui, "2")] {
        let coarse = (Verdict::Unexplained, "too_coarse".to_string());
        assert_eq!(verdict(bench, "reported_ratio", cell), coarse);
    }
    assert_eq!(
        verdict(plaster, "reported_ratio", "0.5").0,
        Verdict::Correct
    );
    assert_eq!(verdict(sesqui, "reported_ratio", "1.5").0, Verdict::Correct);
    remarked(
        "reported_percent_water",
        "1e2",
        "unexplained",
        &["too_coarse"],
    );
    remarked(
        "reported_percent_water",
        "51",
        "correct",
        &["too_few_figures"],
    );
    remarked("reported_ratio", "7", "correct", &[]);
    remarked("reported_water_g", "1.4", "correct", &["too_few_figures"]);
    remarked("reported_water_g", "1", "unexplained", &["too_coarse"]);
    // Eight waters follow from amounts that are not right themselves.
    let from = Some(Quantity::MolSalt);
    verdicts(
        "reported_mol_salt,reported_mol_water,reported_ratio",
        "0.01,0.08,8",
        &[
            ("unexplained", None),
            ("unexplained", None),
            ("carried_forward", from),
        ],
    );
}

#[test]
fn a_whole_ratio_costs_no_figures_where_whole_numbers_are_wanted() {
    let policy = "figures = \"one_mark\"\ntolerance.ratio = { nearest = \"whole\" }";
    for (policy, cell, lost) in [
        (policy, "7", false),
        (policy, "7.000000", false),
        (policy, "6.92652", true),
        ("figures = \"one_mark\"", "7", true),
    ] {
        // x = 6.9265
        let text = format!("bench,hydrate_g,residue_g,reported_ratio\nA,2.666,1.309,{cell}\n");
        let marker = marker().policy(Policy::from_toml(policy).unwrap());
        let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        assert_eq!(marked.rows()[0].figures_mark(), lost, "{cell}");
        let answer = &marked.rows()[0].answers()[0];
        assert_eq!(answer.verdict(), Verdict::Correct);
        assert_eq!(answer.remarks().is_empty(), !lost, "{cell}");
    }
    // The mark for figures may still be lost for another answer.
    let marked = by_policy(policy, "reported_percent_water,reported_ratio", "51,7");
    assert!(marked.rows()[0].figures_mark());
}

/// The verdict, marks and remarks of the formula of a bench with x = 6.989.
fn of_formula(policy: &str, ratio: &str, formula: &str) -> (&'static str, Marks, String) {
    let cells = format!("{ratio},{formula}");
    let marked = by_policy(policy, "reported_ratio,reported_formula", &cells);
    let answer = &marked.rows()[0].answers()[1];
    let remarks = answer.remarks();
    let codes: Vec<_> = remarks.iter().map(Note::code).collect();
    (answer.verdict().code(), answer.marks(), codes.join(" "))
}

#[test]
fn a_formula_that_contradicts_the_own_ratio_is_told_so() {
    let own_ratio = "formula = \"own_ratio\"";
    let contradicts = || "contradicts_ratio".to_string();
    let right = |remarks: String| ("correct", Marks::from(1), remarks);
    let formula = "MgSO4·7H2O";
    assert_eq!(of_formula("", "5.02", formula), right(contradicts()));
    assert_eq!(
        of_formula(own_ratio, "5.02", formula),
        (
            "unexplained",
            Marks::ZERO,
            "contradicts_ratio not_from_ratio".into()
        )
    );
    // What follows from the own ratio earns its mark by either rule.
    for policy in ["", own_ratio] {
        let carried = ("carried_forward", Marks::from(1), String::new());
        assert_eq!(of_formula(policy, "5.02", "MgSO4·5H2O"), carried);
        assert_eq!(of_formula(policy, "6.99", formula), right(String::new()));
        // Without a ratio there is nothing to contradict.
        assert_eq!(of_formula(policy, "", formula), right(String::new()));
        assert_eq!(of_formula(policy, "none", formula), right(String::new()));
        let (verdict, ..) = of_formula(policy, "6.99", "MgSO4·5H2O");
        assert!(!matches!(verdict, "correct" | "carried_forward"));
    }
    let marked = by_policy(
        own_ratio,
        "reported_ratio,reported_formula",
        "5.02,MgSO4·7H2O",
    );
    let answer = &marked.rows()[0].answers()[1];
    assert_eq!(
        answer.reason(),
        "contradicts the reported mole ratio: the policy asks for the formula of the reported mole ratio, \
         MgSO4·5H2O. The bench's own readings give MgSO4·7H2O."
    );
    assert!(!answer.by_hand());
}

#[test]
fn an_unrounded_number_of_waters_is_right_with_a_remark() {
    let unrounded = |verdict| (verdict, Marks::from(1), "unrounded_degree".to_string());
    assert_eq!(
        of_formula("", "6.99", "MgSO4·6.99H2O"),
        unrounded("correct")
    );
    assert_eq!(of_formula("", "", "MgSO4·6.99H2O"), unrounded("correct"));
    assert_eq!(
        of_formula("", "5.02", "MgSO4·5.02H2O"),
        unrounded("carried_forward")
    );
    for wrong in [
        "MgSO4·6.39H2O",
        "MgSO4·6.59H2O",
        "CuSO4·6.99H2O",
        "MgSO4·13.98H2O",
    ] {
        let (verdict, marks, _) = of_formula("", "6.99", wrong);
        assert_eq!(marks, Marks::ZERO, "{wrong} is {verdict}");
    }
}

#[test]
fn formulas_as_people_write_them() {
    for formula in [
        "MgSO4 7H2O",
        "MgSO4 7 H2O",
        "MgSO4 x 7H2O",
        "MgSO4 x7H2O",
        "MgSO4:7H2O",
        "MgSO4 : 7H2O",
        "MgSO4-7H2O",
        "MgSO4 \u{2013} 7H2O",
        "MgSO4(7H2O)",
        "MgSO4 (7H2O)",
        "MgSO\u{2084} 7H\u{2082}O",
        "mgso4.7h2o",
        "MGSO4.7H2O",
        "Mgso4 7h2o",
        "MgSO4.7H20",
        "mgso4*7h20",
        "magnesium sulphate heptahydrate",
        "Magnesium sulphate-7-water",
    ] {
        let (verdict, marks, remarks) = of_formula("", "6.99", formula);
        assert_eq!(
            (verdict, marks),
            ("correct", Marks::from(1)),
            "{formula}: {remarks}"
        );
    }
    assert_eq!(of_formula("", "6.99", "mgso4.7h2o").2, "read_as");
    assert_eq!(of_formula("", "6.99", "MgSO4.7H20").2, "read_as");
    let slash = ("correct", "read_as".to_string());
    let found = of_formula("", "6.99", "MgSO4/7H2O");
    assert_eq!((found.0, found.2), slash);
    remarked("reported_formula", "MgSO4 / 7 H2O", "correct", &["read_as"]);
    for (issued, masses, formula) in [
        ("CaSO4·0.5H2O", ["2.000", "1.876"], "CaSO4·.5H2O"),
        ("CaSO4·0.5H2O", ["2.000", "1.876"], "CaSO4 * .5 H2O"),
        ("CaSO4·0.5H2O", ["2.000", "1.876"], "2CaSO4 H2O"),
        ("3CdSO4·8H2O", ["7.695", "6.254"], "3CdSO4 8H2O"),
        ("3CdSO4·8H2O", ["7.695", "6.254"], "3CdSO4.8H20"),
        ("MgSO4·7H2O", ["2.666", "1.303"], "MgSO4 .7H2O"),
    ] {
        let marked = ratio_of(issued, masses, "reported_formula", formula);
        let answer = &marked.rows()[0].answers()[0];
        assert_eq!(answer.verdict(), Verdict::Correct, "{formula}");
    }
    // Another salt of the catalogue is read, and wrong.
    let (verdict, _, remarks) = of_formula("", "6.99", "znso4 7h2o");
    assert_eq!((verdict, &*remarks), ("slip", "read_as"));
    let (verdict, ..) = of_formula("", "6.99", "mgso4.5h20");
    assert!(!matches!(verdict, "correct" | "carried_forward"));
    // Nothing is guessed: a person reads these.
    for formula in [
        "MgSO47H2O",
        "MgSO4(7H2O",
        "MgSO4 7H3O",
        "mgso.7h2o",
        "MgSQ4.7H2O",
        "7 waters",
    ] {
        let cells = format!("6.99,{formula}");
        let marked = by_policy("", "reported_ratio,reported_formula", &cells);
        let answer = &marked.rows()[0].answers()[1];
        assert!(answer.by_hand(), "{formula}: {}", answer.reason());
    }
}

#[test]
fn a_strip_does_not_look_again_at_what_could_not_be_read() {
    for (ratio, formula) in [
        ("about seven", "MgSO4·7H2O"),
        ("6.99", "MgSQ4.7H2O"),
        ("7x", "MgSQ4"),
    ] {
        let cells = format!("{ratio},{formula}");
        let marked = mark("reported_ratio,reported_formula", &cells);
        let feedback = marked.rows()[0].feedback();
        assert!(
            feedback
                .iter()
                .all(|note| !note.text().contains("Look again")),
            "{feedback:?}"
        );
        assert_eq!(feedback[1].code(), "look_at_cell");
    }
    // What is wrong comes first.
    let marked = mark("reported_water_g,reported_ratio", "1.373,7x");
    let text = marked.rows()[0].feedback()[1].text().to_string();
    assert!(
        text.starts_with("Look again at your mass of water"),
        "{text}"
    );
}

#[test]
fn the_molar_mass_of_the_hydrate_is_a_careful_way() {
    let verdict = |columns: &str, cells: &str| {
        let marked = ratio_of("BaCl2·2H2O", ["2.500", "2.131"], columns, cells);
        let answers = marked.rows()[0].answers();
        answers
            .last()
            .map(|answer| (answer.verdict(), answer.carried_from()))
    };
    // 2.500 g/0.0102 mol = 245.1 g/mol, less 208.2 g/mol, divided by 18.02 g/mol.
    let right = Some((Verdict::Correct, None));
    assert_eq!(verdict("reported_ratio", "2.046"), right);
    assert_eq!(
        verdict("reported_mol_salt,reported_ratio", "0.0102,2.046"),
        right
    );
    assert_ne!(verdict("reported_ratio", "2.100"), right);
    // By a wrong amount: 2.500 g/0.0112 mol = 223.2 g/mol.
    let from = Some(Quantity::MolSalt);
    let carried = Some((Verdict::CarriedForward, from));
    assert_eq!(
        verdict("reported_mol_salt,reported_ratio", "0.0112,0.832"),
        carried
    );
}
