//! What single cells say.

use super::*;

/// What one cell below `hydrate_g` of a semicolon sheet is read as.
#[track_caller]
fn mass(cell: &str, expected: &str) {
    let sheet = clean(&format!("bench;hydrate_g;residue_g\nHeron;{cell};1,303\n"));
    assert_eq!(written(sheet.rows()[0].hydrate_mass()), expected);
}

#[track_caller]
fn bad_mass(cell: &str, code: &str, message: &str) {
    let sheet = read(&format!("bench;hydrate_g;residue_g\nHeron;{cell};1,303\n"));
    let found: Vec<(&str, &str)> = sheet
        .problems()
        .iter()
        .map(|p| (p.code(), p.message()))
        .collect();
    assert_eq!(found, [(code, message)]);
    let row = &sheet.rows()[0];
    assert!(row.readings_unreadable() && row.has_readings());
    assert_eq!(row.hydrate_mass(), None);
    assert_eq!(written(row.residue_mass()), "1.303");
}

#[test]
fn masses_with_their_units() {
    mass("2,666", "2.666");
    mass("2.660", "2.660");
    mass(" 2,666\u{A0}g ", "2.666");
    mass("2,666g", "2.666");
    mass("2,666\u{2009}G", "2.666");
    mass("2.666 grams", "2.666");
    mass("2,666 g.", "2.666");
    mass("2, g", "2.");
    mass("2666 mg", "2.666");
    mass("2666,0mg", "2.6660");
    mass("2,5e3 mg", "2.5");
    mass("0 g", "0");
    mass("\"2,666\n g\"", "2.666");
    mass("２,６６６", "2.666");
}

#[test]
fn masses_that_are_none() {
    let number = "Write digits and one decimal mark, such as 2,50.";
    bad_mass(
        "21,5x8",
        "bad_number",
        &format!("`21,5x8` is not a number. {number}"),
    );
    bad_mass(
        "ca. 2,6 g",
        "bad_number",
        &format!("`ca. 2,6` is not a number. {number}"),
    );
    bad_mass(
        "2,666*",
        "bad_number",
        &format!("`2,666*` is not a number. {number}"),
    );
    bad_mass(
        "spilt",
        "bad_number",
        &format!("`spilt` is not a number. {number}"),
    );
    bad_mass(
        "1.234,5",
        "bad_number",
        "`1.234,5` has a comma and a point. Write 1234.5.",
    );
    for (cell, unit) in [
        ("2,6 kg", "kg"),
        ("2,6 Mg", "Mg"),
        ("51,1 %", "%"),
        ("2 oz.", "oz"),
    ] {
        bad_mass(
            cell,
            "bad_unit",
            &format!("`{cell}` has the unit `{unit}`. Write the mass in g or mg."),
        );
    }
    bad_mass(
        "\u{2212}2,666 g",
        "negative_mass",
        "`\u{2212}2,666 g` is a negative mass. Correct the sign, or weigh with the balance set to \
         zero.",
    );
    bad_mass(
        "1e-29 mg",
        "bad_number",
        "`1e-29 mg` has too many digits. Write at most 28 digits.",
    );
    let long = "x".repeat(200);
    bad_mass(
        &format!("2 {long}"),
        "bad_unit",
        &format!(
            "`2 {}…` has the unit `{}…`. Write the mass in g or mg.",
            &long[..38],
            &long[..40]
        ),
    );
}

#[test]
fn a_comma_in_a_comma_sheet_has_two_meanings() {
    let sheet = problems(
        "bench,hydrate_g,residue_g\nHeron,\"1,234\",1.303\nWren,\"1,234 g\",1.303\n",
        &[
            "line 2, `hydrate_g`, bench Heron: `1,234` may mean 1.234 or 1234. Write 1.234 or 1234.",
            "line 3, `hydrate_g`, bench Wren: `1,234` may mean 1.234 or 1234. Write 1.234 or 1234.",
        ],
    );
    assert_eq!(sheet.problems()[1].cell(), "1,234 g");
}

#[test]
fn numbers_as_people_write_them() {
    mass("22.655g", "22.655");
    mass("2,2655×10^1 g", "22.655");
    mass("2.2655 x 10\u{2070} g", "2.2655");
    mass("2266,5 × 10⁻³ g", "2.2665");
    mass("2,2665x10+3mg", "2.2665");
    let sheet = clean(
        "bench;hydrate_g;residue_g;reported_percent_water;reported_mol_salt;reported_mol_water\n\
         Heron;2,666;1,303;51.1%;1.08×10^-2;0.0108 mol\n\
         Wren;2,666;1,303;51,1 %;1.08x10-2;1,08*10^-2 mol\n\
         Rook;2,666;1,303;51.1 percent;1.08 × 10⁻²;1,08 · 10⁻² mol\n\
         Finch;2,666;1,303;5.11E+1;1.08E-02;10,8mmol\n",
    );
    for row in sheet.rows() {
        value(row, Quantity::PercentWater, "51.1");
        value(row, Quantity::MolSalt, "0.0108");
        value(row, Quantity::MolWater, "0.0108");
    }
}

/// In columns of values: a pupil may be called as she likes.
#[test]
fn words_for_missing() {
    for word in ["n/a", "N/A", "#N/A", "n.a.", "absent", "Absent "] {
        let sheet = clean(&format!(
            "bench;pupil;notes;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g;\
             reported_ratio;reported_formula\n\
             Heron;a;;21,352;24,018;22,655;{word};{word};{word}\n\
             Heron;{word};{word};{word};{word};{word};;;\n"
        ));
        let [row, other] = sheet.rows() else { panic!() };
        assert_eq!(all(row.heated()), ["22.655"]);
        assert!(!row.readings_unreadable());
        for reported in row.reported() {
            assert_eq!(
                (reported.value(), reported.text()),
                (&ReportedValue::Missing, "")
            );
        }
        assert!(!other.has_readings());
        assert_eq!(sheet.readings_of(1), Some(row));
        assert_eq!(
            (other.pupil(), other.notes()),
            (Some(word.trim()), Some(word.trim()))
        );
    }
    for word in ["none", "NA", "lost", "?"] {
        let code = |cell: &str| {
            let sheet = read(&format!("bench;hydrate_g;residue_g\nHeron;2,666;{cell}\n"));
            sheet.problems()[0].code()
        };
        assert_eq!(code(word), "bad_number", "{word}");
    }
}

#[test]
fn absence_in_words() {
    let absent = |note: &str| {
        let text = format!("bench,pupil,crucible_g,crucible_hydrate_g,notes\nHeron,Ann,,,{note}\n");
        Sheet::read(text.as_bytes()).unwrap().rows()[0].absent()
    };
    for note in ["absent", "was absent (ill)", "fehlt", "not here: absent"] {
        assert!(absent(note), "{note}");
    }
    for note in ["not absent", "nicht fehlt", "here", "present"] {
        assert!(!absent(note), "{note}");
    }
}

#[test]
fn the_example_has_the_decimal_mark_of_the_cell() {
    for (cell, example) in [("20.000?", "2.50"), ("20,000?", "2,50")] {
        let text = format!("bench;hydrate_g;residue_g\nHeron;2,666;{cell}\n");
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let message = sheet.problems()[0].message();
        assert!(
            message.ends_with(&format!("such as {example}.")),
            "{message}"
        );
    }
}

/// Who was absent has no readings and no problem, and is listed.
#[test]
fn the_absent_are_listed() {
    let sheet = clean(
        "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,reported_ratio,notes,seat\n\
         Heron,Ann,21.352,24.018,22.655,6.99,Bob was absent last week,\n\
         Wren,Bob,absent,,,,,\nRook,,Absent today,,,absent,,\nFinch,Dee,,,,,ABSENT (ill),\n\
         ,Eve,,,,,,absent\nHeron,Fay,,,,,absent,\nLark,Gus,,,,,,,absent\n",
    );
    let absent: Vec<bool> = sheet.rows().iter().map(Row::absent).collect();
    assert_eq!(absent, [false, true, true, true, true, true, true]);
    let listed = |line: u64, who: &str| {
        format!("Line {line} says that {who} was absent. The row is not marked.")
    };
    let expected = [
        listed(3, "`Bob` of bench `Wren`"),
        listed(4, "bench `Rook`"),
        listed(5, "`Dee` of bench `Finch`"),
        listed(6, "`Eve`"),
        listed(7, "`Fay` of bench `Heron`"),
        listed(8, "`Gus` of bench `Lark`"),
    ];
    let found = sheet.notes().iter().filter(|note| note.code() == "absent");
    assert_eq!(found.map(Note::text).collect::<Vec<&str>>(), expected);
}

/// A name may be as it likes, and work that was handed in is not overlooked.
#[test]
fn the_word_absent_excuses_nothing_else() {
    let without = "no row of this bench has readings. Write them in one of its rows.";
    let sheet = problems(
        "bench,pupil,hydrate_g,residue_g,reported_ratio,notes\n\
         Wren,Absent,,,,\nRook,Cid,absent,absent,6.99,\nFinch,Dee,absent 2.666,1.303,,\n\
         Lark,Eve,,,,absent\nLark,Fay,,,,\nTern,Gus,,,,absently\n",
        &[
            &format!("line 2, `hydrate_g`, bench Wren: {without}"),
            &format!("line 3, `hydrate_g`, bench Rook: {without}"),
            "line 4, `hydrate_g`, bench Finch: `absent 2.666` is not a number. Write digits and one \
             decimal point, such as 2.50.",
            &format!("line 6, `hydrate_g`, bench Lark: {without}"),
            &format!("line 7, `hydrate_g`, bench Tern: {without}"),
        ],
    );
    assert_eq!(sheet.rows().iter().filter(|row| row.absent()).count(), 1);
}

#[test]
fn dashes_and_blanks_are_missing() {
    for dash in [
        "",
        " ",
        "-",
        "--",
        "- -",
        "–",
        "—",
        "\u{2212}",
        "\u{A0}—\u{200B}",
        "\u{2015}",
    ] {
        let sheet = clean(&format!(
            "bench;crucible_g;crucible_hydrate_g;heated_1_g;reported_ratio;reported_formula\n\
             Heron;21,352;24,018;{dash};{dash};{dash}\n"
        ));
        let row = &sheet.rows()[0];
        assert!(row.heated().is_empty());
        for reported in row.reported() {
            assert_eq!(reported.value(), &ReportedValue::Missing);
            assert_eq!(reported.text(), "");
        }
    }
}

#[test]
fn reported_quantities() {
    let sheet = clean(
        "reported formula;reported_ratio;reported_mol_water;bench;reported_mol_salt;\
         reported_percent_water;reported_water_g;reported_residue_g;reported_hydrate_g;\
         hydrate_g;residue_g\n\
          MgSO4 . 7H2O ; 1 : 6,99 ;0,0756 mol;Heron;0.0108;51,1 %;1363 mg;1,303 \
          g;2,666;2,666;1,303\n",
    );
    assert_eq!(sheet.reported_columns(), Quantity::ALL);
    let row = &sheet.rows()[0];
    let quantities: Vec<Quantity> = row.reported().iter().map(Reported::quantity).collect();
    assert_eq!(quantities, Quantity::ALL);
    value(row, Quantity::HydrateMass, "2.666");
    value(row, Quantity::ResidueMass, "1.303");
    value(row, Quantity::WaterMass, "1.363");
    value(row, Quantity::PercentWater, "51.1");
    value(row, Quantity::MolSalt, "0.0108");
    value(row, Quantity::MolWater, "0.0756");
    value(row, Quantity::Ratio, "6.99");
    value(row, Quantity::Formula, "Formula");
    assert_eq!(row.reported()[7].text(), "MgSO4 . 7H2O");
    assert_eq!(row.reported()[6].text(), "1 : 6,99");
    assert!(row.reported().iter().all(|r| !r.text().is_empty()));
}

#[test]
fn only_the_reported_columns_that_are_there() {
    let sheet = clean("bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303\n");
    assert_eq!(sheet.reported_columns(), [Quantity::Ratio]);
    assert_eq!(sheet.rows()[0].reported().len(), 1);
}

#[track_caller]
fn ratio(cell: &str, expected: &str) {
    let sheet = clean(&format!(
        "bench;hydrate_g;residue_g;reported_ratio\nHeron;2,666;1,303;{cell}\n"
    ));
    value(&sheet.rows()[0], Quantity::Ratio, expected);
}

#[track_caller]
fn bad_ratio(cell: &str, code: &str, message: &str) {
    let sheet = read(&format!(
        "bench;hydrate_g;residue_g;reported_ratio\nHeron;2,666;1,303;{cell}\n"
    ));
    let found: Vec<(&str, &str)> = sheet
        .problems()
        .iter()
        .map(|p| (p.code(), p.message()))
        .collect();
    assert_eq!(found, [(code, message)]);
    // The readings are not touched by it.
    assert!(!sheet.rows()[0].readings_unreadable());
    value(&sheet.rows()[0], Quantity::Ratio, "Unreadable");
    assert_eq!(sheet.rows()[0].reported()[0].text(), cell);
}

#[test]
fn ratios_alone_and_in_pairs() {
    ratio("6.99", "6.99");
    ratio("1:6,99", "6.99");
    ratio("1 : 6.990", "6.990");
    ratio("1,0\u{2236}7", "7");
    ratio("\u{2212}6,99", "-6.99");
    ratio("1:6.99", "6.99");
    ratio("1 \u{2236} 6,99", "6.99");
    ratio("x=7", "7");
    ratio("x = 6.99", "6.99");
    ratio("X\u{A0}\u{2248} 7,0", "7.0");
    ratio("n=7", "7");
    ratio("\u{2248}7", "7");
    ratio("~ 6,99", "6.99");
    ratio("x = 1 : 6,99", "6.99");
    ratio("1 : 1", "1");
    ratio("7:1", "7");
    ratio("5.01:1", "5.01");
    ratio("6,99 : 1", "6.99");
    ratio("6.99\u{2236}1,0", "6.99");
    ratio("1 to 7", "7");
    ratio("1 to 6,99", "6.99");
    ratio("6,99 to 1", "6.99");
    // A pair may be in either order, which marking finds out.
    ratio("0,1431:1", "0.1431");
    ratio("0.5 \u{2236} 1,0", "0.5");
    for cell in [
        "2,5 : 14",
        "1 :",
        ": 7",
        "1 : x",
        "1:07:00",
        "a : 7",
        "x : 1",
        "7 : 1 : 1",
    ] {
        bad_ratio(
            cell,
            "bad_ratio",
            &format!("`{cell}` is not a ratio to one mole of salt. Write `6.99` or `1 : 6.99`."),
        );
    }
    // Neither `=` of a spreadsheet's formula nor words are left out.
    for cell in ["=7", "ca. 7", "y = 7", "x 7"] {
        bad_ratio(
            cell,
            "bad_number",
            &format!(
                "`{cell}` is not a number. Write digits and one \
                 decimal mark, such as 2,50."
            ),
        );
    }
    bad_ratio(
        "6,99 g",
        "bad_unit",
        "`6,99 g` has the unit `g`. Write the number without a unit.",
    );
    bad_ratio(
        "1 : 6,9x9",
        "bad_number",
        "`6,9x9` is not a number. Write digits and one decimal mark, \
         such as 2,50.",
    );
}

#[test]
fn units_of_what_was_reported() {
    problems(
        "bench;hydrate_g;residue_g;reported_percent_water;reported_mol_salt\n\
         Heron;2,666;1,303;51,1 g;10,8 kmol\n",
        &[
            "line 2, `reported_percent_water`, bench Heron: `51,1 g` has the unit `g`. Write the \
             percentage alone or with %.",
            "line 2, `reported_mol_salt`, bench Heron: `10,8 kmol` has the unit `kmol`. Write the \
             amount in mol or mmol.",
        ],
    );
}

/// What an answer of a comma sheet says, or the code of its problem.
fn answer(column: &str, cell: &str) -> String {
    let text = format!("bench,hydrate_g,residue_g,{column}\nHeron,2.666,1.303,{cell}\n");
    let sheet = read(&text);
    match (sheet.problems(), sheet.rows()[0].reported()[0].value()) {
        ([], ReportedValue::Number(number)) => number.to_string(),
        ([], ReportedValue::WholeRatio(number, of)) => format!("WholeRatio({number}, {of})"),
        ([], value) => format!("{value:?}"),
        ([problem, ..], _) => problem.code().into(),
    }
}

#[test]
fn answers_as_people_write_them() {
    for (column, cell, expected) in [
        ("reported_ratio", "6.99 \u{B1} 0.02", "6.99"),
        ("reported_ratio", "6.99+/-0.02", "6.99"),
        ("reported_ratio", "x = 6.99 +- 0.02", "6.99"),
        ("reported_ratio", "~ 1 : 6.99", "6.99"),
        ("reported_percent_water", "~36", "36"),
        ("reported_percent_water", "\u{2248} 51.1 %", "51.1"),
        ("reported_percent_water", "51.1 \u{B1} 0.2 %", "51.1"),
        ("reported_water_g", "1363 \u{B1} 1 mg", "1.363"),
        ("reported_water_g", "1363 mg \u{B1} 1 mg", "1.363"),
        ("reported_hydrate_g", "2 500 mg", "2.500"),
        ("reported_hydrate_g", "2\u{202F}666.0 mg", "2.6660"),
        ("reported_hydrate_g", "2 666 000 \u{B5}g", "2.666000"),
        ("reported_hydrate_g", "2666000 \u{3BC}g", "2.666000"),
        ("reported_residue_g", "0.001303 kg", "1.303"),
        ("reported_mol_salt", "10830 \u{B5}mol", "0.010830"),
        ("reported_ratio", "7 mol", "7"),
        ("reported_ratio", "7 H2O", "7"),
        ("reported_ratio", "1 : 6.99 H\u{2082}O", "6.99"),
        ("reported_ratio", "7 mol of water", "7"),
        ("reported_ratio", "7 HO", "bad_unit"),
        ("reported_percent_water", "51.1 (3sf)", "51.1"),
        ("reported_percent_water", "51.1 % (3 s.f.)", "51.1"),
        ("reported_mol_salt", "~0.01083 mol (3 sig. figs)", "0.01083"),
        ("reported_percent_water", "51.1 (3)", "bad_number"),
        // A raised point marks the decimals, except before a power of ten.
        ("reported_ratio", "6\u{B7}99", "6.99"),
        ("reported_ratio", "1 : 6\u{B7}99", "6.99"),
        ("reported_mol_salt", "1\u{B7}083\u{D7}10^-2 mol", "0.01083"),
        ("reported_ratio", "2\u{B7}10", "bad_number"),
        // Thousands are groups of three.
        ("reported_percent_water", "\"51,13 %\"", "51.13"),
        ("reported_percent_water", "\"51,130\"", "bad_number"),
        ("reported_ratio", "\"6,99\"", "bad_number"),
        // Neither is guessed.
        ("reported_hydrate_g", "2 500", "bad_number"),
        ("reported_hydrate_g", "25 00 mg", "bad_number"),
        ("reported_hydrate_g", "2500 000 mg", "bad_number"),
        ("reported_hydrate_g", "2.500 000 mg", "bad_number"),
        ("reported_ratio", "6.99 \u{B1}", "bad_number"),
        ("reported_ratio", "6.99 \u{B1} a bit", "bad_number"),
        ("reported_ratio", "\u{B1} 6.99", "bad_number"),
        ("reported_ratio", "7?", "bad_number"),
        ("reported_ratio", "6 to 7", "bad_ratio"),
        ("reported_ratio", "0.1431:1", "0.1431"),
        // Whole numbers.
        ("reported_ratio", "7/1", "7"),
        ("reported_ratio", "\u{BD}", "WholeRatio(1, 2)"),
        ("reported_ratio", "1 : \u{BD}", "WholeRatio(1, 2)"),
        ("reported_ratio", "1/2 : 1", "WholeRatio(1, 2)"),
        ("reported_ratio", "x = 8/3", "WholeRatio(8, 3)"),
        ("reported_ratio", "2 2/3", "WholeRatio(8, 3)"),
        ("reported_ratio", "2\u{2154}", "WholeRatio(8, 3)"),
        ("reported_ratio", "3:8", "WholeRatio(8, 3)"),
        ("reported_ratio", "8 : 3", "WholeRatio(8, 3)"),
        ("reported_ratio", "8/0", "bad_number"),
        ("reported_ratio", "0/8", "bad_number"),
        ("reported_ratio", "2 8/3", "bad_number"),
        ("reported_ratio", "1/2/3", "bad_number"),
        ("reported_ratio", "8.0/3", "bad_number"),
        ("reported_ratio", "70000/3", "bad_number"),
        ("reported_percent_water", "1/2", "bad_number"),
    ] {
        assert_eq!(answer(column, cell), expected, "{cell}");
    }
    for cell in [
        "idk",
        "IDK",
        "?",
        "??",
        "-",
        "n/a",
        "N/A",
        "dunno",
        "None",
        "nil",
        "no idea!",
        "Forgot",
        "I don't know.",
        "weiß nicht",
    ] {
        for column in ["reported_ratio", "reported_water_g", "reported_formula"] {
            assert_eq!(answer(column, cell), "Missing", "{cell}");
        }
    }
}

/// A letter that looks like a digit is no unit.
#[test]
fn the_letter_o_is_not_a_zero() {
    problems(
        "bench,hydrate_g,residue_g\nHeron,24.01O,1.30l g\n",
        &[
            "line 2, `hydrate_g`, bench Heron: `24.01O` has a letter where a digit should be. Write \
             24.010.",
            "line 2, `residue_g`, bench Heron: `1.30l g` has a letter where a digit should be. Write \
             1.301 g.",
        ],
    );
}

#[test]
fn a_weighing_is_never_about_right() {
    for cell in ["~2.666", "2.666 \u{B1} 0.001", "?"] {
        let sheet = read(&format!("bench,hydrate_g,residue_g\nHeron,{cell},1.303\n"));
        assert_eq!(sheet.problems()[0].code(), "bad_number", "{cell}");
    }
    let sheet = clean("bench,hydrate_g,residue_g\nHeron,2 666 mg,1303000 \u{B5}g\n");
    assert_eq!(sheet.rows()[0].hydrate_mass().unwrap().to_string(), "2.666");
}
