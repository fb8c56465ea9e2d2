//! Benches with several rows, and the readability of balances.

use super::*;

/// For each row, the line of the row with its readings.
#[track_caller]
fn shared(sheet: &Sheet, expected: &[Option<u64>]) {
    let found: Vec<Option<u64>> = (0..sheet.rows().len())
        .map(|row| sheet.readings_of(row).map(Row::line))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn several_pupils_share_a_bench() {
    let sheet = problems(
        "bench,pupil,hydrate_g,residue_g\n\
         Wren,a,,\nHeron,b,2.666,1.303\n heron ,c,-,\nWren,d,2.777,1.357\nWren,e,,\nRook,f,,\n\
         Rook,g,,\n",
        &[
            "line 7, `hydrate_g`, bench Rook: no row of this bench has readings. Write them in \
             one of its rows.",
        ],
    );
    shared(
        &sheet,
        &[Some(5), Some(3), Some(3), Some(5), Some(5), None, None],
    );
    assert_eq!(sheet.problems()[0].code(), "no_readings");
    notes(&sheet, &[]);
}

#[test]
fn the_same_readings_again_are_one_run() {
    let sheet = clean("bench,hydrate_g,residue_g\nHeron,2.660,1.303\nHeron,2.66,1303 mg\n");
    shared(&sheet, &[Some(2), Some(2)]);
    assert_eq!(sheet.notes().len(), 1);
    assert_eq!(sheet.notes()[0].code(), "coarser_reading");
}

#[test]
fn other_readings_are_another_run() {
    let sheet = clean(
        "bench,hydrate_g,residue_g\nHeron,2.666,1.303\nHeron,,\nHeron,2.777,1.357\nHeron,,\n\
         Heron,2.666,1.303\n",
    );
    shared(&sheet, &[Some(2), Some(2), Some(4), Some(4), Some(2)]);
    notes(
        &sheet,
        &[
            (
                "bench_repeated",
                "Bench `Heron` of line 2 appears again in line 4 with other readings. Each line is \
                 read as a run of its own.",
            ),
            (
                "run_chosen",
                "Line 3 has no readings, and bench `Heron` has several runs: the row is marked by \
                 the run in line 2. Fill in its readings if it belongs to another run.",
            ),
            (
                "run_chosen",
                "Line 5 has no readings, and bench `Heron` has several runs: the row is marked by \
                 the run in line 4. Fill in its readings if it belongs to another run.",
            ),
        ],
    );
}

#[test]
fn unreadable_readings_are_shared_and_not_replaced() {
    let sheet = read("bench,hydrate_g,residue_g\nHeron,2.6x6,1.303\nHeron,,\n");
    shared(&sheet, &[Some(2), Some(2)]);
    assert!(sheet.rows()[0].readings_unreadable());
    assert_eq!(sheet.problems().len(), 1);
}

#[test]
fn a_run_that_is_read_in_part_is_that_of_the_row_that_has_it_whole() {
    let header = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g\n";
    let whole = "Heron,21.352,24.018,22.701,22.656,22.655\n";
    let part = "Heron,21.352,24.018,22.701,22.6S6,22.655\n";
    let sheet = read(&format!("{header}{part}{whole}{part}Heron,,,,,\n{whole}"));
    shared(&sheet, &[Some(3), Some(3), Some(3), Some(3), Some(3)]);
    notes(&sheet, &[]);
    assert_eq!(sheet.problems().len(), 2);
    // Many of them take no longer, one by one.
    let many = read(&format!("{header}{}{whole}", part.repeat(20_000)));
    assert_eq!(many.readings_of(19_999).unwrap().line(), 20_002);
    // Without the whole run, it has its own readings. So has another run.
    let sheet = read(&format!("{header}{part}{part}"));
    shared(&sheet, &[Some(2), Some(2)]);
    let other = whole.replace("22.655", "22.654");
    let sheet = read(&format!("{header}{part}{other}"));
    shared(&sheet, &[Some(2), Some(3)]);
    assert_eq!(sheet.notes()[0].code(), "bench_repeated");
}

#[test]
fn benches_of_different_periods_are_different() {
    let sheet = read(
        "period,bench,hydrate_g,residue_g\n1,Heron,2.666,1.303\n2,Heron,2.777,1.357\n\
         3,Heron,,\n2,Heron,,\n",
    );
    shared(&sheet, &[Some(2), Some(3), None, Some(3)]);
    assert_eq!(sheet.problems().len(), 1);
    notes(&sheet, &[]);
}

#[track_caller]
fn readabilities(sheet: &Sheet, expected: &[&str]) {
    let found: Vec<String> = (0..sheet.rows().len())
        .map(|row| {
            let readability = sheet.readability(row);
            readability.map_or_else(|| "none".to_string(), |r| r.to_string())
        })
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn the_finest_place_is_the_readability() {
    let sheet = clean(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g\nHeron,21.35,24.02,\n\
         Wren,21.3,24,22.655\n",
    );
    readabilities(&sheet, &["0.001", "0.001"]);
    notes(
        &sheet,
        &[(
            "coarser_reading",
            "4 of 5 readings have fewer decimal places than the balance shows (0.001 g, shown in \
             line 3). Final zeros that a spreadsheet dropped cost nothing.",
        )],
    );
}

/// Three readings that end in a zero by chance are rarer than a second balance.
#[test]
fn a_bench_without_the_last_place_has_a_coarser_balance() {
    let fine = "Heron,21.352,24.018,22.656,22.655\nWren,20.114,22.987,21.561,21.56\n";
    let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
    let sheet = clean(&format!(
        "{head}{fine}Rook,20.11,22.98,21.56,21.56\nLark,20.1,22.98,21.5,\nTern,20.11,22.98,,\n\
         Finch,21.4,24,22.7,22.7\nSwift,20.11,22.98,21.56,21.561\n"
    ));
    readabilities(
        &sheet,
        &["0.001", "0.001", "0.01", "0.01", "0.001", "0.1", "0.001"],
    );
    let found: Vec<(&str, &str)> = sheet.notes().iter().map(|n| (n.code(), n.text())).collect();
    let coarser = |benches: &str, step: &str| {
        format!(
            "No reading of {benches} shows the last place of the other benches (0.001 g). Their balance \
             is read as one that shows {step} g. If it is another, add a column `readability_g`."
        )
    };
    let (two, one) = (
        coarser("`Rook` and `Lark`", "0.01"),
        coarser("`Finch`", "0.1"),
    );
    assert_eq!(
        found[..2],
        [("coarser_balance", &*two), ("coarser_balance", &*one)]
    );
    // What a spreadsheet dropped is noted for each of them.
    let dropped = |all: &str| found.iter().any(|(_, text)| text.starts_with(all));
    for all in ["6 of 14 readings", "2 of 7 readings", "1 of 4 readings"] {
        assert!(dropped(all), "{all}: {found:?}");
    }
}

/// A column for it says what a balance shows, and two readings are too few.
#[test]
fn a_named_balance_is_no_other() {
    let head = "bench,balance,readability_g,crucible_g,crucible_hydrate_g,heated_1_g\n";
    let sheet = clean(&format!(
        "{head}Heron,A,,21.352,24.018,22.655\nWren,A,,21.35,24.02,22.66\n"
    ));
    readabilities(&sheet, &["0.001", "0.001"]);
    let sheet = clean(&format!(
        "{head}Heron,,,21.352,24.018,22.655\nWren,,0.001,21.35,24.02,22.66\n"
    ));
    readabilities(&sheet, &["0.001", "0.001"]);
    let sheet = clean("bench,hydrate_g,residue_g\nHeron,2.666,1.303\nWren,2.67,1.3\n");
    readabilities(&sheet, &["0.001", "0.001"]);
}

#[test]
fn each_balance_has_its_own() {
    let sheet = clean(
        "bench,balance,hydrate_g,residue_g\nHeron,A,2.666,1.303\nWren,B,2.67,1.3\n\
         Rook,a ,2.66,1.303\nFinch,,3,1\n",
    );
    readabilities(&sheet, &["0.001", "0.01", "0.001", "1"]);
    notes(
        &sheet,
        &[
            (
                "coarser_reading",
                "1 of 4 readings on balance `A` has fewer decimal places than the balance shows \
                 (0.001 g, shown in line 2). Final zeros that a spreadsheet \
                 dropped cost nothing.",
            ),
            (
                "coarser_reading",
                "1 of 2 readings on balance `B` has fewer decimal places than the balance shows \
                 (0.01 g, shown in line 3). Final zeros that a spreadsheet \
                 dropped cost nothing.",
            ),
        ],
    );
    let values: Vec<(&str, &str)> = sheet.notes()[0].values().collect();
    assert_eq!(
        values,
        [
            ("cells", "1"),
            ("of", "4"),
            ("balance", "A"),
            ("readability", "0.001")
        ]
    );
}

#[test]
fn a_row_may_give_its_own() {
    let sheet = clean(
        "bench,pupil,readability_g,hydrate_g,residue_g\nHeron,a,0.002,2.666,1.304\n\
         Heron,b,,,\nWren,c,,2.66,1.30\nRook,d,10 mg,2.6,1.3\n",
    );
    readabilities(&sheet, &["0.002", "0.002", "0.001", "0.01"]);
    assert_eq!(written(sheet.rows()[0].readability()), "0.002");
    notes(
        &sheet,
        &[
            (
                "coarser_reading",
                "2 of 2 readings have fewer decimal places than the balance shows (0.001 g, shown in line \
                 2). Final zeros that a spreadsheet dropped cost nothing.",
            ),
            (
                "coarser_reading",
                "2 of 2 readings have fewer decimal places than the balance shows (0.01 g). Final zeros \
                 that a spreadsheet dropped cost nothing.",
            ),
        ],
    );
}

#[test]
fn a_bad_readability_costs_no_readings() {
    let sheet = problems(
        "bench,readability_g,hydrate_g,residue_g\nHeron,0,2.666,1.303\nWren,fine,2.666,1.303\n",
        &[
            "line 2, `readability_g`, bench Heron: `0` is not a readability. Write the smallest \
             step of the balance in g, such as 0.001.",
            "line 3, `readability_g`, bench Wren: `fine` is not a number. \
             Write digits and one decimal point, such as 2.50.",
        ],
    );
    readabilities(&sheet, &["0.001", "0.001"]);
    assert!(sheet.rows().iter().all(|row| !row.readings_unreadable()));
}

#[test]
fn worked_out_digits_are_no_readability() {
    let sheet = clean("bench,hydrate_g,residue_g\nHeron,2.666,1.303000000001\nWren,2.666,1.303\n");
    readabilities(&sheet, &["0.001", "0.001"]);
    notes(
        &sheet,
        &[(
            "too_many_places",
            "1 reading has more than 7 decimal places, which no balance shows. The readability \
             comes from the other readings.",
        )],
    );
    let sheet = clean(
        "bench,hydrate_g,residue_g\nHeron,,\n"
            .replace(",,", ",1e-9,1e-9")
            .as_str(),
    );
    readabilities(&sheet, &["none"]);
}

#[test]
fn milligrams_say_their_places() {
    let sheet = clean("bench,hydrate_g,residue_g\nHeron,2666 mg,1303.5 mg\n");
    readabilities(&sheet, &["0.0001"]);
}

#[cfg(feature = "serde")]
#[test]
fn problems_serialise() {
    let sheet = read("bench,hydrate_g,residue_g\nHeron,-2,1.303\n");
    assert_eq!(
        serde_json::to_value(sheet.problems()).unwrap(),
        serde_json::json!([{
            "line": 2,
            "column": "hydrate_g",
            "bench": "Heron",
            "cell": "-2",
            "code": "negative_mass",
            "message": "`-2` is a negative mass. Correct the sign, or weigh with the balance set \
             to zero.",
        }])
    );
}

#[test]
fn one_finer_cell_does_not_speak_for_the_balance() {
    let benches = |last: &str| {
        let rows = (0..4).map(|i| format!("B{i},2{i}.352,2{i}.918,2{i}.601\n"));
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g\n";
        read(&format!(
            "{head}{}L,20.352,24.018,{last}\n",
            rows.collect::<String>()
        ))
    };
    let lone = benches("22.6551");
    for row in 0..lone.rows().len() {
        assert_eq!(lone.readability(row).unwrap().to_string(), "0.001");
    }
    assert_eq!(lone.notes()[0].code(), "lone_finer_reading");
    assert!(benches("22.655").notes().is_empty());
    // Two such cells do, and so does one in a sheet of a few readings.
    let few = read("bench,hydrate_g,residue_g\nA,2.6661,1.303\n");
    assert_eq!(few.readability(0).unwrap().to_string(), "0.0001");
}

/// For each row, whether its readings are stand-in readings.
#[track_caller]
fn stand_ins(sheet: &Sheet, expected: &[bool]) {
    let rows = 0..sheet.rows().len();
    let found: Vec<bool> = rows.map(|row| sheet.stand_in(row)).collect();
    assert_eq!(found, expected);
}

#[test]
fn stand_in_readings_are_known_by_their_column() {
    let sheet = clean(
        "bench,hydrate_g,residue_g,stand_in\na,2.666,1.303,yes\nb,2.667,1.303,TRUE\n\
         c,2.668,1.303, x \nd,2.669,1.303,1\ne,2.670,1.303,no\nf,2.671,1.303,\n\
         g,2.672,1.303,-\nh,2.673,1.303,False\ni,2.674,1.303,0\n",
    );
    let yes_then_no = [true, true, true, true, false, false, false, false, false];
    stand_ins(&sheet, &yes_then_no);
    stand_ins(
        &clean("bench,hydrate_g,residue_g\na,2.666,1.303\n"),
        &[false],
    );
}

#[test]
fn what_is_neither_yes_nor_no_is_a_problem() {
    let sheet = problems(
        "bench,hydrate_g,residue_g,Stand-in\nHeron,2.666,1.303,perhaps\n",
        &[
            "line 2, `Stand-in`, bench Heron: `perhaps` does not say whether these are \
             stand-in readings, so they count as the bench's own. Write yes, or leave the cell \
             blank.",
        ],
    );
    assert_eq!(sheet.problems()[0].code(), "bad_stand_in");
    stand_ins(&sheet, &[false]);
}

#[test]
fn who_shares_stand_in_readings_has_them_too() {
    // Without readings of its own; with the same readings; a bench that did weigh.
    let sheet = clean(
        "bench,pupil,hydrate_g,residue_g,stand_in\nHeron,a,2.666,1.303,\nHeron,b,,,\n\
         Heron,c,2.666,1.303,yes\nWren,d,2.777,1.357,\nWren,e,,,yes\nWren,f,,,\n",
    );
    stand_ins(&sheet, &[true, true, true, false, true, false]);
}

#[test]
fn stand_in_readings_say_nothing_of_the_balance() {
    let text = "bench,hydrate_g,residue_g,stand_in\nHeron,2.66,1.30,\nWren,2.6665,1.3035,yes\n";
    let sheet = clean(text);
    let readability = sheet.readability(0).unwrap();
    assert_eq!(readability.to_string(), "0.01");
    assert_eq!(sheet.notes().len(), 0);
}

#[test]
fn a_blank_period_is_that_of_the_only_bench_of_the_name() {
    let of = |text: &str, row: usize| {
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let found = sheet.readings_of(row).map(Row::line);
        (found, sheet.problems().len())
    };
    let one = "bench,period,pupil,hydrate_g,residue_g\nHeron,2,a,2.666,1.303\nHeron,,b,,\n";
    assert_eq!(of(one, 1), (Some(2), 0));
    // Of two hours nobody knows which.
    let two = "bench,period,pupil,hydrate_g,residue_g\nHeron,1,a,2.666,1.303\n\
               Heron,2,b,2.667,1.303\nHeron,,c,,\n";
    assert_eq!(of(two, 2), (None, 1));
}

#[test]
fn net_masses_that_contradict_the_weighings_are_noted() {
    let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,hydrate_g,residue_g";
    let weighed = "Heron,21.352,24.018,22.656,22.655";
    for same in ["2.666,1.303", "2.67,1.30", "2.666,1.304", "2.666,", ","] {
        let sheet = clean(&format!("{head}\n{weighed},{same}\n"));
        let mut codes = sheet.notes().iter().map(crate::text::Note::code);
        assert!(codes.all(|code| code != "net_masses_unused"), "{same}");
    }
    for other in ["2.766,1.303", "2.666,1.403", ",1.403"] {
        let text = "In line 2 the net masses of bench `Heron` contradict its weighings, and the weighings \
                    were used. Correct what is wrong, or delete the net masses.";
        let sheet = clean(&format!("{head}\n{weighed},{other}\n"));
        notes(&sheet, &[("net_masses_unused", text)]);
    }
}
