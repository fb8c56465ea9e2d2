//! Whole rows: short, long, without a bench, with quotation marks.

use super::*;

#[test]
fn a_bad_cell_costs_nobody_else_anything() {
    let sheet = problems(
        "\u{FEFF}bench;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g;reported_ratio\r\n\
         Finch;21,352;24,018;22,701;22,655;1 : 6,99\r\n\
         Wren;20,114;22,987;21,560;21,5x8;7\r\n\
         Rook;19,870;23,001;21,439;21,4;6,98\r\n",
        &[
            "line 3, `heated_2_g`, bench Wren: `21,5x8` is not a number. \
             Write digits and one decimal mark, such as 2,50.",
        ],
    );
    let unreadable: Vec<bool> = sheet.rows().iter().map(Row::readings_unreadable).collect();
    assert_eq!(unreadable, [false, true, false]);
    assert_eq!(all(sheet.rows()[1].heated()), ["21.560"]);
    value(&sheet.rows()[1], Quantity::Ratio, "7");
    for row in 0..sheet.rows().len() {
        assert_eq!(sheet.readability(row).unwrap().to_string(), "0.001");
    }
}

/// Only weighings that followed one another show constant mass.
#[test]
fn a_bad_heating_costs_what_came_before_it() {
    let heated = |cells: &str, unreadable: bool, expected: &[&str]| {
        let sheet = read(&format!(
            "bench;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g;heated_3_g;heated_4_g\n\
             Heron;21,352;24,018;{cells}\n"
        ));
        let row = &sheet.rows()[0];
        assert_eq!(all(row.heated()), expected, "{cells}");
        assert_eq!(row.readings_unreadable(), unreadable, "{cells}");
        assert!(row.has_readings());
        sheet.problems().to_vec()
    };
    let told = heated("22,7o1;22,656;22,655;", false, &["22.656", "22.655"]);
    let [problem] = &told[..] else { panic!() };
    assert_eq!(
        problem.to_string(),
        "line 2, `heated_1_g`, bench Heron: `22,7o1` is not a number. \
         Write digits and one decimal mark, such as 2,50. The row is worked out from the \
         weighings after it."
    );
    // One weighing is left, and constant mass is not known.
    heated("22,701;22,6S6;22,655;", false, &["22.655"]);
    let told = heated("22,701;-22,6;x;22,655", false, &["22.655"]);
    let codes: Vec<&str> = told.iter().map(Problem::code).collect();
    assert_eq!(codes, ["negative_mass", "bad_number"]);
    assert!(told.iter().all(|p| p.message().ends_with("after it.")));
    // The last weighing is the one that counts.
    let told = heated("22,701;22,656;22,6S5;", true, &["22.701", "22.656"]);
    assert!(told[0].message().ends_with("such as 2,50."));
    heated("x;;;", true, &[]);
    heated("x;22,656;x;", true, &["22.656"]);
    // Another weighing has no later one in its place.
    let sheet = read(
        "bench;crucible_g;crucible_hydrate_g;heated_1_g;heated_2_g\nHeron;21,352;2x;y;22,655\n",
    );
    assert!(sheet.rows()[0].readings_unreadable());
}

#[test]
fn a_line_that_sums_up_is_no_bench() {
    let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\n\
                Heron,a,2.666,1.303,6.99\nWren,b,2.777,1.357,7.00\nMax,c,2.6,1.3,7\n\
                Class mean:,,2.6810001,1.31999,#DIV/0!\n,Median,2.666,1.303,\n";
    let sheet = clean(text);
    let benches: Vec<&str> = sheet.rows().iter().map(Row::bench).collect();
    assert_eq!(benches, ["Heron", "Wren", "Max"]);
    let summaries: Vec<u64> = sheet.summary_rows().iter().map(Row::line).collect();
    assert_eq!(summaries, [5, 6]);
    assert_eq!(written(sheet.summary_rows()[0].residue_mass()), "1.31999");
    // Its worked-out digits say nothing of the balance.
    assert_eq!(sheet.readability(0).unwrap().to_string(), "0.001");
    assert_eq!(
        sheet.notes()[0].text(),
        "Line 5 sums up the class (`Class mean:`) and was not read as a bench."
    );
    let codes: Vec<&str> = sheet.notes().iter().map(Note::code).collect();
    assert_eq!(codes, ["summary_row", "summary_row", "coarser_reading"]);
    assert_eq!(streamed(text).len(), 3);
}

/// The rows that a stream gives, each with its problems.
fn streamed(text: &str) -> Vec<(Row, Vec<Problem>)> {
    let mut rows = Sheet::stream(text.as_bytes()).unwrap();
    let mut all = Vec::new();
    while let Some((row, problems)) = rows.next_row().unwrap() {
        all.push((row.clone(), problems.to_vec()));
    }
    all
}

#[test]
fn a_row_that_is_lent_again_keeps_nothing() {
    let text = "bench,pupil,balance,period,issued,notes,readability_g,crucible_g,\
                crucible_hydrate_g,heated_1_g,heated_2_g,hydrate_g,residue_g,reported_ratio,\
                reported_formula,seat\n\
                Heron,a,A,1,MgSO4·7H2O,dry,0.001,21.352,24.018,22.656,2x,2.666,1.303,7,x,4\n\
                Wren,,,,,,,,,,,,,,,\n,,,,,,,,,,,1,,,,\n";
    let rows = streamed(text);
    assert_eq!(rows[0].1.len(), 1);
    for (number, line) in text.lines().skip(1).enumerate() {
        let (header, _) = text.split_once('\n').unwrap();
        let blank = "\n".repeat(number);
        let alone = streamed(&format!("{header}\n{blank}{line}\n"));
        assert_eq!(alone, [rows[number].clone()], "{line}");
    }
}

#[test]
fn the_header_is_named_as_the_file_has_it() {
    problems(
        "Bench;Hydrate G;residue_g\nHeron;x;1\n",
        &[
            "line 2, `Hydrate G`, bench Heron: `x` is not a number. Write \
             digits and one decimal mark, such as 2,50.",
        ],
    );
}

#[test]
fn short_rows_lack_their_last_cells() {
    let sheet = clean(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,reported_ratio\nHeron,21.352,24.018\n",
    );
    value(&sheet.rows()[0], Quantity::Ratio, "Missing");
    problems(
        "bench,hydrate_g,residue_g\nHeron,2.666\n",
        &[
            "line 2, `residue_g`, bench Heron: the row has readings but not this one. Fill it in: \
             nothing is worked out without it.",
        ],
    );
}

#[test]
fn surplus_words() {
    let sheet = problems(
        "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,7,, lid cracked ,2nd try\n\
         Wren,2.666,1.303,7,,\n",
        &[
            "line 2, column 6, bench Heron: the row has 2 cells after the last header, and \
             nothing there is used. Add a header, or move the text to a column of notes.",
        ],
    );
    assert_eq!(sheet.problems()[0].cell(), "lid cracked");
    assert!(!sheet.rows()[0].readings_unreadable());
    value(&sheet.rows()[0], Quantity::Ratio, "7");
}

#[test]
fn surplus_numbers_make_the_row_doubtful() {
    let sheet = problems(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,reported_ratio\n\
         Heron,21,352,24,018,22,655,7\nWren,21.352,24.018,22.655,7\n",
        &[
            "line 2, column 6, bench Heron: the row has 3 cells after the last header, so its \
             numbers may be under the wrong headers and none is used. Write a decimal point, or \
             quote each cell that has a comma.",
        ],
    );
    let row = &sheet.rows()[0];
    assert!(row.readings_unreadable());
    assert_eq!((row.crucible(), row.heated().len()), (None, 0));
    value(row, Quantity::Ratio, "Unreadable");
    assert!(!sheet.rows()[1].readings_unreadable());
    problems(
        "bench;hydrate_g;residue_g\nHeron;2,666;1,303;1,302\n",
        &[
            "line 2, column 4, bench Heron: the row has 1 cell after the last header, so its \
             numbers may be under the wrong headers and none is used. Move the cells, or add a \
             header.",
        ],
    );
}

#[test]
fn a_row_without_a_bench_is_kept() {
    let sheet = problems(
        "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n,2.777,1.357\n-,,1.303\n",
        &[
            "line 3, `bench`, bench line 3: no bench is named, so the row shares no readings. \
             Write the bench in every row.",
            "line 4, `bench`, bench line 4: no bench is named, so the row shares no readings. \
             Write the bench in every row.",
            "line 4, `hydrate_g`, bench line 4: the row has readings but not this one. Fill it \
             in: nothing is worked out without it.",
        ],
    );
    let row = &sheet.rows()[1];
    assert_eq!(
        (row.bench(), written(row.hydrate_mass()).as_str()),
        ("line 3", "2.777")
    );
    assert_eq!(sheet.readings_of(1), Some(row));
}

#[test]
fn weighings_that_are_not_there() {
    problems(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,hydrate_g,residue_g\n\
         Heron,,24.018,22.655,,\nWren,,,22.655,,\nRook,,,,,1.303\n",
        &[
            "line 2, `crucible_g`, bench Heron: the row has readings but not this one. Fill it \
             in: nothing is worked out without it.",
            "line 3, `crucible_g`, bench Wren: the row has readings but not this one. Fill it in: \
             nothing is worked out without it.",
            "line 3, `crucible_hydrate_g`, bench Wren: the row has readings but not this one. \
             Fill it in: nothing is worked out without it.",
            "line 4, `hydrate_g`, bench Rook: the row has readings but not this one. Fill it in: \
             nothing is worked out without it.",
        ],
    );
}

#[test]
fn quoted_cells() {
    let sheet = problems(
        "bench,notes,hydrate_g,residue_g\r\n\
         \"Heron, \"\"left\"\"\",\"one\r\ntwo, three\r\n\r\nfour\",2.666,1.303\r\n\r\n\
         Wren,say \"no\",2.666,x\r\n",
        &[
            "line 7, `residue_g`, bench Wren: `x` is not a number. Write \
             digits and one decimal point, such as 2.50.",
        ],
    );
    assert_eq!(sheet.rows()[0].bench(), "Heron, \"left\"");
    assert_eq!(
        sheet.rows()[0].notes(),
        Some("one\r\ntwo, three\r\n\r\nfour")
    );
    assert_eq!(sheet.rows()[1].notes(), Some("say \"no\""));
}

#[test]
fn lines_are_counted_as_an_editor_does() {
    for end in ["\n", "\r\n", "\r"] {
        let text = "bench,hydrate_g,residue_g\n\n\nHeron,2,1\n\"Wr\nen\",2,1\nRook,2,1\n";
        let sheet = clean(&text.replace('\n', end));
        let lines: Vec<u64> = sheet.rows().iter().map(Row::line).collect();
        assert_eq!(lines, [4, 5, 7], "with {end:?}");
        assert_eq!(sheet.rows()[1].bench(), "Wr en");
    }
}

#[test]
fn an_open_quote_swallows_no_rows() {
    let open = "a quotation mark opens a cell and nothing closes it, so the quotation marks of \
                the row were read as plain characters. Remove them from the cell.";
    // Never closed; closed by the next quoted cell; ditto marks; closed before the first cell.
    for (second, third) in [("dry", "dry"), ("\"dry\"", "dry"), ("\"", "dry")] {
        let text = format!(
            "bench,hydrate_g,residue_g,notes\nHeron,2.666,1.303,\"warm\n\
             Wren,2.666,1.303,{second}\nRook,2.666,1.303,{third}\n"
        );
        let sheet = read(&text);
        let benches: Vec<&str> = sheet.rows().iter().map(Row::bench).collect();
        assert_eq!(benches, ["Heron", "Wren", "Rook"], "with {second}");
        assert_eq!(sheet.rows()[0].notes(), Some("\"warm"));
        let problem = &sheet.problems()[0];
        assert_eq!((problem.line(), problem.column()), (2, "notes"));
        assert_eq!((problem.code(), problem.message()), ("open_quote", open));
    }
    let sheet = read("bench,hydrate_g,residue_g\n\"Heron,2.666,1.303\n\"Wren\",2.666,1.303\n");
    assert_eq!(sheet.rows().len(), 2);
    assert_eq!(sheet.rows()[1].bench(), "Wren");
    // Prose in a closed cell is left alone.
    let sheet = clean(
        "bench,hydrate_g,residue_g,notes\nHeron,2.666,1.303,\"a, b, c, d,\ne, f, g\"\nWren,2,1,\n",
    );
    assert_eq!(sheet.rows().len(), 2);
}
