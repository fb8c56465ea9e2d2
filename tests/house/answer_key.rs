//! The program `answer_key`, run as a teacher runs it.

use std::fs;
use std::process::Command;

use serde_json::Value;

use crate::program::built;
use crate::ran::{Ran, run_program, sheet};
use crate::source::repository;

pub(crate) fn run(arguments: &[&str]) -> Ran {
    run_program("answer_key", arguments)
}

pub(crate) fn on(name: &str, text: &str, arguments: &[&str]) -> Ran {
    let path = sheet(name, text);
    let mut all = vec![path.to_str().unwrap()];
    all.extend(arguments);
    run(&all)
}

/// The line of the table that begins with this bench.
#[track_caller]
fn line<'a>(text: &'a str, bench: &str) -> Vec<&'a str> {
    let line = text
        .lines()
        .find(|line| line.split("  ").next() == Some(bench));
    let line = line.unwrap_or_else(|| panic!("no line for {bench}:\n{text}"));
    line.split_whitespace().collect()
}

pub(crate) const ISSUED: [&str; 2] = ["--issued", "MgSO4·7H2O"];

#[test]
fn without_arguments_it_prints_a_whole_key() {
    let key = run(&[]).quiet();
    assert!(
        key.starts_with("An invented class"),
        "says that it is invented"
    );
    let demonstration = repository().join("examples/data/demonstration_class.csv");
    let demonstration = fs::read_to_string(demonstration).unwrap();
    let rows = || {
        demonstration
            .lines()
            .skip(2)
            .map(|row| row.split(',').collect::<Vec<_>>())
    };
    let mut benches: Vec<&str> = rows().map(|row| row[0]).collect();
    benches.dedup();
    assert!(benches.len() >= 10, "{benches:?}");
    for row in rows() {
        // Each bench has a line in the table, and each pupil a section.
        line(&key, row[0]);
        assert!(
            key.contains(&format!("\n{}, {}\n", row[0], row[1])),
            "{row:?}"
        );
    }
    for section in ["\nThe class\n", "\nCare\n"] {
        assert!(key.contains(section), "no section{section}");
    }
    // 24.984 − 22.676, 23.803 − 22.676; 1.181/18.015 over 1.127/120.361.
    let agate = line(&key, "Agate");
    assert_eq!(
        agate[1..7],
        ["A1", "2.308", "1.127", "1.181", "51.17", "7.001"]
    );
    // Epidote stopped too early, Fluorite spilt, Beryl inverted the ratio, Garnet's cell is missing.
    assert!(line(&key, "Epidote").contains(&"no"));
    assert!(!line(&key, "Fluorite").contains(&"MgSO4·7H2O"));
    assert!(line(&key, "Beryl").ends_with(&["6/7"]));
    assert!(line(&key, "Garnet").ends_with(&["not", "marked"]));
}

/// A spreadsheet with decimal commas saves semicolons and no final zeros.
#[test]
fn a_sheet_of_a_spreadsheet_needs_no_option_but_what_was_issued() {
    let text = "\u{FEFF}Bench;Crucible g;Crucible hydrate g;Heated 1 g;Heated 2 g;Heated 3 g;\
                Reported ratio;Reported percent water\r\n\
                Heron;21,352;24,018;22,701;22,656;22,655;1 : 6,99;51,13\r\n\
                Wren;20,11;22,99;21,56;21,517;21,516;7;51,2\r\n\
                Crake;20;22,5;21,23;21,22;21,22;7;51\r\n";
    let key = on("comma.csv", text, &ISSUED).quiet();
    let heron = line(&key, "Heron");
    assert_eq!(heron[1..6], ["2.666", "1.303", "1.363", "51.13", "6.989"]);
    assert_eq!(heron.last(), Some(&"2/2"));
    // 22,99 is 22.990 on a balance that shows 21,517; 1.474 of 2.880 is 51.18 %.
    let wren = line(&key, "Wren");
    assert_eq!(wren[1..5], ["2.880", "1.406", "1.474", "51.18"]);
    assert_eq!(wren.last(), Some(&"2/2"));
    // None of its five readings has a third decimal place.
    assert_eq!(line(&key, "Crake")[1..4], ["2.50", "1.22", "1.28"]);
    // Any spelling of what was issued.
    for issued in ["MgSO4.7H2O", "MgSO4 * 7 H2O", "MgSO₄·7H₂O"] {
        assert_eq!(on("comma.csv", text, &["--issued", issued]).quiet(), key);
    }
}

#[test]
fn during_the_period_it_says_what_to_do_now() {
    let during = run(&["--during"]).quiet();
    let at = |bench: &str| {
        line(&during, bench);
        during.find(&format!("\n{bench} ")).unwrap()
    };
    // The most urgent first: spilt, still losing mass, finished.
    assert!(at("Fluorite") < at("Epidote") && at("Epidote") < at("Agate"));
    assert_eq!(line(&during, "Epidote")[1..3], ["heat", "again"]);
    assert_eq!(line(&during, "Agate")[1], "stop");
    assert!(!during.contains("Answers"), "nothing of the marks");

    // A class that is still heating has done nothing wrong.
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                Heron,21.352,24.018,22.701,\nWren,20.114,22.987,,\n";
    let during = on("during.csv", text, &["--issued", "MgSO4.7H2O", "--during"]).quiet();
    assert_eq!(line(&during, "Heron")[1..3], ["heat", "again"]);
    assert_eq!(line(&during, "Wren")[1], "heat");
}

#[test]
fn json_is_json() {
    let json: Value = serde_json::from_str(&run(&["--json"]).quiet()).unwrap();
    let rows = json["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 13);
    assert_eq!(rows[0]["bench"], "Agate");
    assert_eq!(rows[0]["outcome"], "resolved");
    assert!(rows[0]["ratio"].as_str().unwrap().starts_with("7.0012809"));
    assert_eq!(json["problems"].as_array().unwrap().len(), 1);

    let text = "bench;hydrate_g;residue_g\nHeron;2,666;1,303\n";
    let own = on("json.csv", text, &["--issued", "MgSO4.7H2O", "--json"]).quiet();
    let own: Value = serde_json::from_str(&own).unwrap();
    assert_eq!(own["rows"][0]["bench"], "Heron");
}

#[test]
fn a_wrong_file_name_is_one_sentence() {
    let ran = run(&["no such sheet.csv", "--issued", "MgSO4·7H2O"]);
    ran.complains("no such sheet.csv");
    assert_eq!(ran.out, "");
}

#[test]
fn an_unreadable_cell_is_one_sentence_and_costs_nobody_else() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\n\
                Heron,21.352,24.018,22.656,22.655,6.99\n\
                Wren,20.114,22.987,21.5x8,21.517,7\n\
                Crake,20.000,22.500,21.221,21.220,7.0\n";
    for (arguments, bench) in [
        (&ISSUED[..], "1/1"),
        (&["--issued", "MgSO4.7H2O", "--during"], ""),
    ] {
        let ran = on("cell.csv", text, arguments);
        ran.complains("line 3, `heated_1_g`, bench Wren: `21.5x8` is not a number");
        for other in ["Heron", "Crake"] {
            let found = line(&ran.out, other);
            assert!(bench.is_empty() || found.ends_with(&[bench]), "{found:?}");
        }
        assert!(ran.out.contains("21.5x8"), "the key says so, too");
    }
    let ran = on("cell.csv", text, &["--issued", "MgSO4.7H2O", "--json"]);
    ran.complains("21.5x8");
    assert!(serde_json::from_str::<Value>(&ran.out).is_ok());
}

/// The key has every problem. A terminal need not show them all twice.
#[test]
fn of_many_problems_the_first_are_complained_about() {
    let text = |rows| {
        format!(
            "bench,hydrate_g,residue_g\n{}",
            "Heron,2.6x6,1.303\n".repeat(rows)
        )
    };
    for (rows, lines) in [(100, 100), (150, 101)] {
        let ran = on("many.csv", &text(rows), &ISSUED);
        assert_eq!((ran.status, ran.err.lines().count()), (1, lines));
        assert!(
            ran.out.contains(&format!("line {}", rows + 1))
                || ran.out.contains(&format!("Line {}", rows + 1))
        );
        if rows == 150 {
            let last = ran.err.lines().last();
            let expected = "answer_key: and 50 more problems, which are not listed here";
            assert_eq!(last, Some(expected));
        }
    }
}

#[test]
fn who_is_absent_is_listed_and_no_problem() {
    let absent = "Wren,Bob,absent,,,,\nRook,,,,,,absent\nHeron,Fay,,,,absent,\n";
    let text = format!(
        "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,reported_ratio,notes\n\
         Heron,Ann,21.352,24.018,22.655,6.99,\n{absent}"
    );
    let ran = on("absent.csv", &text, &ISSUED);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(!ran.out.contains("Problems"), "{}", ran.out);
    for (bench, marks) in [("Heron", "1/1"), ("Wren", "absent"), ("Rook", "absent")] {
        let cells = line(&ran.out, bench);
        assert_eq!(cells.last(), Some(&marks), "{}", ran.out);
    }
    for listed in [
        "Wren, Bob\n=========\n  Absent, and not marked.\n",
        "- Line 3 says that `Bob` of bench `Wren` was absent. The row is not marked.\n",
        "- Line 4 says that bench `Rook` was absent.",
        "- Line 5 says that `Fay` of bench `Heron` was absent.",
    ] {
        assert!(ran.out.contains(listed), "{listed}: {}", ran.out);
    }
    let during = on("absent.csv", &text, &["--issued", "MgSO4.7H2O", "--during"]);
    assert_eq!((during.status, during.err.as_str()), (0, ""));
    let said = "\nAbsent: Wren, Bob; Rook; Heron, Fay.\n";
    assert!(during.out.contains(said), "{}", during.out);
    assert!(!during.out.contains("no advice"), "{}", during.out);
}

/// Two balances in one sheet, which no column tells apart.
#[test]
fn a_bench_with_a_coarser_balance_is_said() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\n\
                Heron,21.352,24.018,22.656,22.655,6.99\n\
                Wren,21.35,24.02,22.66,22.66,6.9\n";
    let key = on("two_balances.csv", text, &ISSUED).quiet();
    let uncertainty = |bench| line(&key, bench)[6].to_string();
    assert_eq!(uncertainty("Heron"), "0.013");
    assert_eq!(uncertainty("Wren"), "0.13");
    let said = "- No reading of `Wren` shows the last place of the other benches (0.001 g).";
    assert!(key.contains(said), "{key}");
    assert!(!key.contains("fewer decimal places"), "{key}");
}

/// Several salts in a class, of which one row leaves open which it was issued.
#[test]
fn a_blank_cell_is_never_the_salt_of_another_row() {
    let text = "bench,pupil,issued,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
                Heron,a,barium chloride dihydrate,2.443,2.082,14.78,2.00\n\
                Wren,b,,2.666,1.303,14.75,6.99\nWren,c,,,,51.13,\n\
                Rook,d,MgSO4.7H2O,2.666,1.303,51.13,6.99\n";
    let ran = on("blank_issued.csv", text, &[]);
    ran.complains("line 3, `issued`, bench Wren: nothing says what was issued");
    for shown in [
        "Key: loss on heating of BaCl2·2H2O and MgSO4·7H2O\n",
        "[0] percent water 14.75 %: unexplained: no known error gives this value.",
        "[?] mole ratio 6.99: no marks yet: nothing says which salt was issued",
        "[1] percent water 51.13 %: correct.",
        "[0] mole ratio: missing: nothing was handed in.",
    ] {
        assert!(ran.out.contains(shown), "{shown}: {}", ran.out);
    }
    let table: String = ran
        .out
        .lines()
        .map(|line| format!("{}\n", line.trim_start()))
        .collect();
    let wren = line(&table, "Wren");
    let open = [
        "b", "2.666", "1.303", "1.363", "51.13", "0/2", "(1", "open)",
    ];
    assert_eq!(wren[1..], open);
    for bench in ["Heron", "Rook"] {
        assert_eq!(line(&table, bench).last(), Some(&"2/2"));
    }
    let json = on("blank_issued.csv", text, &["--json"]);
    let rows = &serde_json::from_str::<Value>(&json.out).unwrap()["rows"];
    for field in ["issued", "ratio", "outcome", "formula"] {
        assert_eq!(rows[1][field], Value::Null, "{field}");
    }
    assert!(
        rows[1]["percent_water"]
            .as_str()
            .unwrap()
            .starts_with("51.12")
    );
    assert_eq!(rows[0]["issued"], "BaCl2·2H2O");
    // A salt that was named for the class is what a blank cell means.
    let named = on(
        "blank_issued.csv",
        text,
        &["--issued", "magnesium sulfate heptahydrate"],
    );
    let shown = "[1] mole ratio 6.99: correct: the bench's own readings give 6.989.";
    assert_eq!(named.quiet().matches(shown).count(), 2);
}

/// A sheet without a column that every bench needs is refused.
#[test]
fn a_missing_column_is_one_sentence() {
    let text = "bench,crucible_g,heated_1_g\nHeron,21.352,22.656\n";
    let ran = on("column.csv", text, &ISSUED);
    ran.complains("lacks `crucible_hydrate_g`");
    assert_eq!(ran.out, "");

    let ran = on("header.csv", "Monday's lesson\n", &ISSUED);
    ran.complains("header");
    let ran = on("empty.csv", "", &ISSUED);
    ran.complains("empty");
}

#[test]
fn a_wrong_hydrate_is_one_sentence() {
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n";
    for (issued, with) in [
        ("MgS04·7H2O", "zero"),
        ("MgSO4·7H2", "is not a hydrate"),
        ("MgSO4", "is not a hydrate"),
        ("MgSO4·xH2O", "is not a hydrate"),
        ("Xx·H2O", "not the symbol"),
        ("", "empty"),
        (
            "copper sulphate",
            "write which one you mean: CuSO4·H2O, CuSO4·3H2O or CuSO4·5H2O",
        ),
        (
            "alum",
            "`alum` is not a known word; use English names of ions",
        ),
        ("Tc2O7·H2O", "no standard atomic weight"),
        // The command line has no place for an atomic weight.
        (
            "Tc2O7·H2O",
            "; without a molar mass no bench can be worked out",
        ),
    ] {
        let ran = on("issued.csv", text, &["--issued", issued]);
        ran.complains(with);
        assert_eq!(ran.out, "", "{issued}");
    }
    // No hydrate is given at all.
    on("issued.csv", text, &[]).complains("the hydrate that was issued is missing");
    let ran = on(
        "issued.csv",
        text,
        &["--issued", "MgSO4.7H2O", "--constant-mass", "two"],
    );
    ran.complains("--constant-mass");
    let criterion = |mass: &'static str| {
        on(
            "issued.csv",
            text,
            &["--issued", "MgSO4.7H2O", "--constant-mass", mass],
        )
    };
    criterion("2")
        .complains("2 has no unit and would be 2 g; give grams such as 0.002, or the unit");
    for mass in ["2 mg", "2 g", "0.5"] {
        criterion(mass).quiet();
    }
}

/// A difference of 0.044 g is constant mass if 0.05 g are allowed.
#[test]
fn the_criterion_is_the_teachers() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                Heron,21.352,24.018,22.700,22.656\n";
    let constant = |arguments: &[&str], says: &str| {
        let mut all = ISSUED.to_vec();
        all.extend(arguments);
        let key = on("criterion.csv", text, &all).quiet();
        line(&key, "Heron").contains(&says)
    };
    assert!(constant(&[], "no"));
    assert!(constant(&["--constant-mass", "0.05"], "yes"));
}

/// The README shows lines that are printed, in their order.
#[test]
fn the_readme_shows_what_is_printed() {
    let readme = fs::read_to_string(repository().join("README.md")).unwrap();
    let (_, block) = readme.split_once("It prints (shortened):").unwrap();
    let (_, block) = block.split_once("```text\n").unwrap();
    let (block, _) = block.split_once("\n```").unwrap();
    let printed = run(&[]).quiet();
    let mut printed = printed.lines();
    let mut shown = 0;
    for line in block
        .lines()
        .filter(|line| !line.is_empty() && *line != "…")
    {
        assert!(
            printed.any(|real| real == line),
            "not printed there: {line}"
        );
        shown += 1;
    }
    assert!(shown > 30, "{shown} lines");
}

#[test]
fn a_criterion_may_have_a_decimal_comma() {
    let path = sheet(
        "criterion.csv",
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\nHeron,21.352,24.018,22.660,22.655\n",
    );
    let path = path.to_str().unwrap();
    let with = |grams: &str| {
        run(&[
            path,
            "--issued",
            "MgSO4.7H2O",
            &format!("--constant-mass={grams}"),
        ])
    };
    assert!(with("0,005").quiet().contains("yes"));
    assert!(with("2 mg").quiet().contains("no"));
    with("-1").complains("is negative");
    with("much").complains("is not a number");
}

#[test]
fn every_salt_that_was_issued_has_its_cautions() {
    let path = sheet(
        "mixed.csv",
        "bench,hydrate_g,residue_g,issued\nHeron,2.666,1.303,\nWren,2.443,2.082,BaCl2·2H2O\n",
    );
    let key = run(&[path.to_str().unwrap(), "--issued", "MgSO4.7H2O"]).quiet();
    assert!(key.contains("Salts of barium are toxic"), "{key}");
}

#[test]
fn no_bench_is_left_out_while_the_class_heats() {
    let during = run(&["--during"]).quiet();
    for bench in ["Agate", "Garnet", "Lazulite"] {
        assert!(during.contains(bench), "{bench}");
    }
    let path = sheet("empty.csv", "bench,hydrate_g,residue_g\n");
    run(&[path.to_str().unwrap(), "--issued", "MgSO4.7H2O"]).complains("no rows");
}

/// The reader of the output has gone, as in `2>&1 | head -1`.
#[test]
fn nobody_reads_and_nothing_breaks() {
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\nWren,2.666,\n";
    let sheet = sheet("unread.csv", text);
    let sheet = sheet.to_str().unwrap();
    for (arguments, status) in [
        (vec![], 0),
        (vec!["--help"], 0),
        (vec![sheet, ISSUED[0], ISSUED[1]], 1),
        (vec![sheet, ISSUED[0], ISSUED[1], "--during"], 1),
        (vec![sheet, "--no-such-option"], 2),
        (vec!["no such sheet.csv", ISSUED[0], ISSUED[1]], 2),
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let mut child = Command::new(built("answer_key", "answer_key"))
            .args(&arguments)
            .stdout(writer.try_clone().unwrap())
            .stderr(writer)
            .spawn()
            .expect("the program starts");
        assert_eq!(child.wait().unwrap().code(), Some(status), "{arguments:?}");
    }
}
