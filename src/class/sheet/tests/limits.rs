//! Cells, rows and columns without end, and what is said about them.

use super::*;

#[test]
fn a_cell_has_a_limit() {
    let long = |word: &str| word.repeat(Sheet::LONGEST_CELL / word.len() + 1);
    let text = format!(
        "bench,pupil,notes,lid,hydrate_g,residue_g,reported_ratio\n\
         Heron,{},{},{},2.666,{},7\n{},,,,2.666,1.303,{}\nWren,,,,2.777,1.357,7.00\n",
        long("Anna "),
        long("late "),
        long("on "),
        long("1"),
        long("Heron "),
        long("7"),
    );
    let shown = |word: &str| word.chars().cycle().take(60).collect::<String>();
    let line = |line: u64, column: &str, bench: &str, word: &str| {
        format!(
            "line {line}, `{column}`, bench {bench}: `{}…` is too long: a cell of this column may have some \
             1000 letters. Shorten it, or move the words to a column of your own.",
            shown(word)
        )
    };
    let expected = [
        line(2, "pupil", "Heron", "Anna "),
        line(2, "notes", "Heron", "late "),
        line(2, "residue_g", "Heron", "1"),
        line(3, "bench", "line 3", "Heron "),
        line(3, "reported_ratio", "line 3", "7"),
    ];
    let expected: Vec<&str> = expected.iter().map(String::as_str).collect();
    let sheet = problems(&text, &expected);
    let [heron, nameless, wren] = sheet.rows() else {
        panic!("{:?}", sheet.rows());
    };
    assert_eq!(heron.pupil(), Some(&*format!("{}…", shown("Anna "))));
    assert!(heron.readings_unreadable());
    // The start of a name may be that of another bench.
    assert_eq!(nameless.bench(), "line 3");
    assert_eq!(nameless.reported()[0].value(), &ReportedValue::Unreadable);
    assert!(nameless.reported()[0].text().chars().count() <= 61);
    value(wren, Quantity::Ratio, "7.00");
    // A column of one's own has no limit.
    assert_eq!(heron.extra().next().unwrap().1.len(), 1001);
}

#[test]
fn a_cell_as_long_as_allowed_is_read() {
    let name = "H".repeat(Sheet::LONGEST_CELL);
    let sheet = clean(&format!("bench,hydrate_g,residue_g\n{name},2.666,1.303\n"));
    assert_eq!(sheet.rows()[0].bench(), name);
}

#[test]
fn many_columns_are_one_note() {
    let header = |count: usize| -> String {
        let columns = (1..=count).map(|index| format!(",my column {index}"));
        format!("bench,hydrate_g,residue_g{}\n", columns.collect::<String>())
    };
    assert_eq!(clean(&header(5)).notes().len(), 5);
    let sheet = clean(&header(997));
    notes(
        &sheet,
        &[(
            "extra_column",
            "The columns `my column 1`, `my column 2`, `my column 3`, `my column 4`, `my column 5` and \
             992 others have no meaning here. Their cells are kept and not used.",
        )],
    );
    assert_eq!(sheet.extra_columns().len(), 997);
}

/// What a spreadsheet worked out is no bench, whatever its name. What was weighed is one.
#[test]
fn a_bench_may_be_called_mean() {
    let rows = |last: &str| {
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,reported_ratio";
        let above = "Heron,21.352,24.018,22.655,6.99\nWren,20.114,22.987,21.518,7.00";
        format!("{head}\n{above}\n{last}\nRook,20.001,22.667,21.304,7.0\n")
    };
    for last in [
        "Mean,20.733,23.5025,22.0865,6.995",
        "Mean,20.733,23.502,22.086,6.995",
        "Mittelwert,20.733,23.502,22.086,6.995",
        "Average:,20.73,23.50,22.09,7.0",
        "TOTAL,41.466,47.005,44.173,13.99",
        "Mean,20.7330001,23.4,22.0,7.0",
        "Mean,,,,6.995",
        "Mean,20.001,22.667,,6.995",
        "Median,20.001,22.667,21.304,6.995",
        "Class mean,20.001,22.667,21.304,6.995",
    ] {
        let sheet = clean(&rows(last));
        assert_eq!(sheet.rows().len(), 3, "{last}");
        assert_eq!(sheet.summary_rows().len(), 1, "{last}");
        assert_eq!(sheet.notes()[0].code(), "summary_row", "{last}");
    }
    // Each period has its own mean.
    let two = "bench,hydrate_g,residue_g\nA,2.000,1.000\nB,2.002,1.002\nMean,2.001,1.001\n\
               C,3.000,1.500\nD,3.004,1.504\nMean,3.002,1.502\nAverage,2.502,1.252\n";
    assert_eq!(clean(two).summary_rows().len(), 3);
    let first = clean("bench,hydrate_g,residue_g\nMean,2.666,1.303\nWren,2.777,1.357\n");
    assert_eq!(first.rows().len(), 2);
    for last in [
        "Mean,20.001,22.667,21.304,6.99",
        "Total,20.001,22.667,21.304,6.99",
    ] {
        let sheet = clean(&rows(last));
        assert_eq!(
            (sheet.rows().len(), sheet.summary_rows().len()),
            (4, 0),
            "{last}"
        );
        let name = sheet.rows()[2].bench();
        notes(
            &sheet,
            &[(
                "summary_name",
                &format!(
                    "Line 4 (`{name}`) has readings of its own and was read as a bench. If it sums up \
                     the class, delete its readings."
                ),
            )],
        );
    }
}

/// A pupil of a bench called `Mean` is marked, whichever row comes first. A mean has no pupil.
#[test]
fn a_pupil_shares_the_readings_of_a_bench_called_mean() {
    let head = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,H,2.701,1.319,7.0\n";
    let (a, b) = ("Mean,A,2.666,1.303,7\n", "Mean,B,,,6.99\n");
    for rows in [[a, b], [b, a]] {
        let sheet = clean(&format!("{head}{}Mean,,,,6.995\n", rows.concat()));
        let pupils: Vec<_> = sheet.rows().iter().map(Row::pupil).collect();
        let expected = rows.map(|row| row.get(5..6));
        assert_eq!(pupils, [Some("H"), expected[0], expected[1]]);
        for row in [1, 2] {
            assert_eq!(sheet.readings_of(row).unwrap().pupil(), Some("A"));
        }
        let lines: Vec<u64> = sheet.summary_rows().iter().map(Row::line).collect();
        assert_eq!(lines, [5]);
        let codes: Vec<_> = sheet.notes().iter().map(crate::text::Note::code).collect();
        assert_eq!(codes, ["summary_name", "summary_row"]);
    }
    let wrong = format!("{head}Mean,B,,,6.9x\n{a}");
    let sheet = Sheet::read(wrong.as_bytes()).unwrap();
    assert_eq!(sheet.problems()[0].cell(), "6.9x");
}

/// A mean is nobody's, also if a cell above cannot be read. What is below it may sum up as well.
#[test]
fn means_in_a_sheet_with_pupils() {
    let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,H,2.701,1.319,7.0\n\
                Wren,W,2.x66,1.303,7\nMean,,2.68,1.31,7\nSD,,0.02,0.01,0.1\nmax,,,,7\n";
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    assert_eq!(sheet.rows().len(), 2);
    let lines: Vec<u64> = sheet.summary_rows().iter().map(Row::line).collect();
    assert_eq!(lines, [4, 5, 6]);
    // Benches have such names, too.
    let text = "bench,hydrate_g,residue_g\nHeron,2.701,1.319\nMean,2.701,1.319\nMax,2.666,1.303\n";
    assert_eq!(clean(text).rows().len(), 2);
    let text = "bench,pupil,hydrate_g,residue_g\nSD,a,2.701,1.319\nMax,b,2.666,1.303\n";
    assert_eq!(clean(text).rows().len(), 2);
}

/// What is not the mean as rounding gives it was weighed.
#[test]
fn a_mean_is_rounded_half_up_or_down() {
    let sheet = |mean| {
        let text = format!("bench;hydrate_g;residue_g\nHeron;2,666;1,303\nMean;{mean}\n");
        clean(&text).summary_rows().len()
    };
    assert_eq!(sheet("2,6;1,3"), 0);
    assert_eq!(sheet("2,7;1,3"), 1);
}

#[test]
fn notes_on_lines_have_an_end() {
    let runs: String = (0..1503)
        .map(|run| format!("Heron,2.{run:04},1.303\n"))
        .collect();
    let text = format!(
        "bench,hydrate_g,residue_g\n{runs}{}",
        "Heron,,\n".repeat(1001)
    );
    let sheet = clean(&text);
    let count = |code: &str| sheet.notes().iter().filter(|n| n.code() == code).count();
    assert_eq!((count("bench_repeated"), count("run_chosen")), (1001, 1001));
    assert_eq!(
        sheet.notes()[1000].text(),
        "The same is true of 502 other lines. They are not listed."
    );
}
