//! The files that `answer_key` writes: the gradebook and the strips of feedback.

use std::fs;

use serde_json::Value;

use crate::answer_key::{ISSUED, on, run};
use crate::ran::{folder, names_in, sheet};

/// The gradebook of a sheet: its bytes, and its records by column.
#[track_caller]
fn gradebook(name: &str, text: &str, status: i32) -> (Vec<u8>, Vec<Vec<(String, String)>>) {
    let marks = folder(name).join("marks.csv");
    let mut arguments = ISSUED.to_vec();
    arguments.extend(["--marks", marks.to_str().unwrap()]);
    let ran = on(&format!("{name}.csv"), text, &arguments);
    assert_eq!(ran.status, status, "{}", ran.err);
    let bytes = fs::read(&marks).unwrap();
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let header = reader.headers().unwrap().clone();
    let records = reader.records().map(|record| {
        let record = record.unwrap();
        let cells = header.iter().zip(&record);
        cells.map(|(h, c)| (h.into(), c.into())).collect()
    });
    let records = records.collect();
    (bytes, records)
}

fn cell<'a>(record: &'a [(String, String)], column: &str) -> &'a str {
    let found = record.iter().find(|(name, _)| name == column);
    &found.unwrap_or_else(|| panic!("no column {column}")).1
}

#[test]
fn the_gradebook_has_a_line_for_each_row() {
    let marks = folder("gradebook").join("marks.csv");
    let key = run(&["--marks", marks.to_str().unwrap()]).quiet();
    assert!(key.contains("The class"), "the key is printed all the same");
    let written = fs::read_to_string(&marks).unwrap();
    let lines: Vec<&str> = written.lines().collect();
    assert_eq!(lines.len(), 14);
    assert_eq!(
        lines[0],
        "bench,pupil,period,stand_in,hydrate_mass,water_mass,percent_water,mol_salt,mol_water,ratio,formula,\
         calculation,calculation_out_of,accuracy,accuracy_out_of,total,out_of,percent,figures_mark_lost,open,certain_slips,marked,\
         problems"
    );
    assert_eq!(
        lines[2],
        "Beryl,B1,,,1,1,1,1,1,0,1,6,7,,,6,7,85.7,0,0,ratio: ratio_inverted,yes,This class is invented for demonstration."
    );
    // A row that is not marked has blanks and the reason.
    assert!(
        lines[7]
            .starts_with("Garnet,G1,,,,,,,,,,,,,,,,,,7,,no,crucible_g: the row has readings but"),
        "{}",
        lines[7]
    );
    // The totals are those of the marked class.
    let json: Value = serde_json::from_str(&run(&["--json"]).quiet()).unwrap();
    let mut reader = csv::Reader::from_reader(written.as_bytes());
    let totals: Vec<Option<u64>> = reader
        .records()
        .map(|record| record.unwrap()[15].parse().ok())
        .collect();
    let rows = json["rows"].as_array().unwrap().iter();
    assert_eq!(
        totals,
        rows.map(|row| row["total"].as_u64()).collect::<Vec<_>>()
    );
}

#[test]
fn names_of_a_sheet_are_no_formulas_and_stay_in_their_cells() {
    let text = "bench,pupil,period,hydrate_g,residue_g,reported_ratio\n\
                =1+1,@SUM(A1),-2,2.666,1.303,6.99\n\
                \"Wren, left\",\"a \"\"b\"\"\n;=c\",3,2.880,1.406,7.00\n";
    let (bytes, records) = gradebook("formulas", text, 0);
    assert!(bytes.is_ascii(), "no mark where none is needed");
    let names = |record: &[(String, String)]| -> [String; 3] {
        ["bench", "pupil", "period"].map(|column| cell(record, column).into())
    };
    assert_eq!(names(&records[0]), ["'=1+1", "'@SUM(A1)", "'-2"]);
    assert_eq!(names(&records[1]), ["Wren, left", "a \"b\" ;'=c", "3"]);
    assert_eq!(cell(&records[1], "total"), "1");
}

#[test]
fn other_letters_are_marked_as_utf_8() {
    let text = "bench,pupil,hydrate_g,residue_g,reported_ratio\nHeron,Zoë,2.666,1.303,6.99\n";
    let (bytes, _) = gradebook("letters", text, 0);
    let text = std::str::from_utf8(&bytes).unwrap();
    assert!(text.starts_with("\u{FEFF}bench,pupil"), "{text}");
    assert!(text.contains("\nHeron,Zoë,"), "{text}");
}

/// The gradebook is opened where the sheet was made.
#[test]
fn separator_and_decimal_mark_are_those_of_the_sheet() {
    let folder = folder("separator");
    let [marks, policy] = ["marks.csv", "policy.toml"].map(|name| folder.join(name));
    let rules =
        "step = 0.5\nfigures = \"one_mark\"\nmarks = { ratio = 2.5, percent_water = 0.5 }\n";
    fs::write(&policy, rules).unwrap();
    let [marks, policy] = [&marks, &policy].map(|path| path.to_str().unwrap());
    let mut arguments = ISSUED.to_vec();
    arguments.extend(["--marks", marks, "--policy", policy]);
    for (name, text, expected) in [
        (
            "comma.csv",
            "bench;hydrate_g;residue_g;reported_percent_water;reported_ratio\nHeron;2,666;1,303;51,13;6,98881\n",
            "Heron;;;;0,5;2,5;2;3;;;2;3;66,7;1;0;;yes;",
        ),
        (
            "tab.csv",
            "bench\thydrate_g\tresidue_g\treported_percent_water\treported_ratio\nHeron\t2.666\t1.303\t51.13\t6.99\n",
            "Heron\t\t\t\t0.5\t2.5\t3\t3\t\t\t3\t3\t100.0\t0\t0\t\tyes\t",
        ),
    ] {
        on(name, text, &arguments).quiet();
        let written = fs::read_to_string(marks).unwrap();
        assert_eq!(written.lines().nth(1), Some(expected));
    }
}

/// A cell that nobody could read is blank, not zero. A bench that cannot be worked out is blank for
/// all who share it.
#[test]
fn what_is_not_marked_is_blank() {
    let text = "bench,pupil,period,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
                Heron,a,1,2.666,1.303,51.13,about 7\n\
                Heron,b,1,,,,6.99\n\
                Wren,c,2,2.880,1.4o6,51.2,7.02\n\
                Wren,d,2,,,51.2,7.02\n\
                Wren,e,3,2.880,1.406,51.2,7.00\n\
                Wren,f,3,,,51.2,seven\n";
    let (_, records) = gradebook("blank", text, 1);
    let of = |row: usize, columns: [&str; 5]| columns.map(|column| cell(&records[row], column));
    let columns = ["period", "percent_water", "ratio", "total", "marked"];
    assert_eq!(of(0, columns), ["1", "1", "", "", "in part"]);
    assert_eq!(of(1, columns), ["1", "0", "1", "1", "yes"]);
    assert_eq!(of(2, columns), ["2", "", "", "", "no"]);
    assert_eq!(of(3, columns), ["2", "", "", "", "no"]);
    assert_eq!(of(4, columns), ["3", "1", "1", "2", "yes"]);
    assert_eq!(of(5, columns), ["3", "1", "", "", "in part"]);
    let so_far = [
        "calculation",
        "out_of",
        "percent",
        "figures_mark_lost",
        "open",
    ];
    assert_eq!(of(0, so_far), ["1", "2", "", "0", "1"]);
    assert_eq!(of(1, so_far), ["1", "2", "50.0", "0", "0"]);
    assert_eq!(of(2, so_far), ["", "", "", "", "2"]);
    for (row, column) in [
        (0, "reported_ratio: `about 7`"),
        (5, "reported_ratio: `seven`"),
    ] {
        let problems = cell(&records[row], "problems");
        assert!(problems.starts_with(column), "{problems}");
    }
    assert_eq!(cell(&records[4], "problems"), "", "of another hour");
    for row in [2, 3] {
        let problems = cell(&records[row], "problems");
        assert!(problems.starts_with("residue_g: `1.4o6`"), "{problems}");
    }
}

/// The strips of a sheet, cut along their lines.
#[track_caller]
fn strips(name: &str, arguments: &[&str]) -> Vec<String> {
    let path = folder(name).join("strips.txt");
    let mut all = arguments.to_vec();
    all.extend(["--feedback", path.to_str().unwrap()]);
    run(&all).quiet();
    let text = fs::read_to_string(&path).unwrap();
    for line in text.lines() {
        assert!(line.chars().count() <= 72, "{line}");
    }
    let cut = format!("\n{}-\n\n", "- ".repeat(35));
    text.split(&cut).map(String::from).collect()
}

#[test]
fn a_strip_has_the_data_of_one_pupil() {
    let strips = strips("strips", &[]);
    assert_eq!(strips.len(), 13);
    let names: Vec<&str> = strips.iter().map(|s| s.lines().next().unwrap()).collect();
    for (strip, name) in strips.iter().zip(&names) {
        for other in names.iter().filter(|other| *other != name) {
            let (_, pupil) = other.split_once(", ").unwrap();
            let words = strip.split(|c: char| !c.is_alphanumeric());
            assert!(!words.clone().any(|word| word == pupil), "{other}: {strip}");
        }
    }
    assert_eq!(
        strips[1],
        "Beryl, B1\n\
         (invented, for demonstration)\n\
         \n\
         6 of your 7 answers are right, including your amount of water\n\
         (0.07616 mol).\n\
         Your two amounts give 6.99. Look again at your mole ratio (0.1431).\n\
         Divide the amount of water by the amount of salt, not the other way\n\
         round.\n\
         \n  \
           [1] mass of hydrate 2.684 g: right\n  \
           [1] mass of water 1.372 g: right\n  \
           [1] percent water 51.12 %: right\n  \
           [1] amount of salt 0.01090 mol: right\n  \
           [1] amount of water 0.07616 mol: right\n  \
           [0] mole ratio 0.1431: the mole ratio upside down\n  \
           [1] formula MgSO4·7H2O: right (your mole ratio gives another formula)\n\
         \n\
         Calculation: 6 of 7 marks.\n"
    );
}

/// The right value of a wrong or missing answer is for the pupil to find.
#[test]
fn a_strip_does_not_show_right_values() {
    let json: Value = serde_json::from_str(&run(&["--json"]).quiet()).unwrap();
    let strips = strips("answers", &[]);
    let mut withheld = 0;
    for (row, strip) in json["rows"].as_array().unwrap().iter().zip(&strips) {
        for answer in row["answers"].as_array().unwrap() {
            if matches!(
                answer["verdict"].as_str(),
                Some("correct" | "carried_forward")
            ) {
                continue;
            }
            let expected = answer["expected"].as_str().unwrap();
            let figures: String = expected.chars().take(5).collect();
            assert!(!strip.contains(&figures), "{figures}: {strip}");
            withheld += 1;
        }
    }
    assert!(withheld >= 4, "{withheld}");
}

#[test]
fn calculation_and_accuracy_are_marked_separately_on_a_strip() {
    let policy = sheet(
        "apart.toml",
        "figures = 'one_mark'\n[accuracy]\nbands = [{ within_percent = 1, marks = 3 }]\n",
    );
    let class = sheet(
        "apart.csv",
        "bench,pupil,period,hydrate_g,residue_g,reported_water_g,reported_ratio,stand_in\n\
         Heron,H1,4,2.666,1.303,1.363,6.98881,\n\
         Wren,W1,4,2.667,1.303,1.364,6.99,yes\n",
    );
    let mut arguments = vec![class.to_str().unwrap()];
    arguments.extend(ISSUED);
    arguments.extend(["--policy", policy.to_str().unwrap()]);
    let strips = strips("apart", &arguments);
    let [strip, stand_in] = &strips[..] else {
        panic!("two strips: {strips:?}");
    };
    assert!(strip.starts_with("Heron, H1, period 4\n"), "{strip}");
    // Stand-in readings are not marked for accuracy.
    assert!(
        stand_in.starts_with("Wren, W1, period 4 (stand-in readings)\n"),
        "{stand_in}"
    );
    assert!(!stand_in.contains("Accuracy"), "{stand_in}");
    assert!(
        strip.ends_with(
            "  [1] mole ratio 6.98881: right (you wrote 6 significant figures, and\n      your readings allow 4)\n\
             \n\
             Calculation: 1 of 2 marks. One mark was taken off for significant\n\
             figures. Accuracy at the bench: 3 of 3 marks.\n"
        ),
        "{strip}"
    );
}

#[test]
fn what_is_still_to_be_marked_by_hand_has_no_zero() {
    let policy = sheet("hand.toml", "[marks]\nratio = 3\nhydrate_mass = 0\n");
    let class = sheet(
        "hand.csv",
        "bench,hydrate_g,residue_g,reported_hydrate_g,reported_percent_water,reported_ratio\n\
         Heron,2.666,1.303,2.666,about 51,6.99\n",
    );
    let path = folder("hand").join("strips.txt");
    let mut all = vec![class.to_str().unwrap()];
    all.extend(ISSUED);
    all.extend(["--policy", policy.to_str().unwrap()]);
    all.extend(["--feedback", path.to_str().unwrap()]);
    let ran = run(&all);
    ran.complains("`about 51` is not a number");
    let strip = fs::read_to_string(&path).unwrap();
    let expected = "\
  [–]   mass of hydrate 2.666 g (not counted): right
  [?]   percent water about 51 %: this number could not be read, so your
        teacher will mark it
  [3/3] mole ratio 6.99: right

Calculation: 3 of 4 marks. Some answers are still to be marked by hand.
";
    assert!(strip.ends_with(expected), "{strip}");
    assert!(
        ran.out.contains("\n    [?]   percent water about 51 %: "),
        "{}",
        ran.out
    );
}

#[test]
fn long_names_do_not_widen_a_strip() {
    let name = "x".repeat(200);
    let text = format!(
        "bench,pupil,hydrate_g,residue_g,reported_formula\nHeron,{name},2.666,1.303,{name}\n"
    );
    let class = sheet("wide.csv", &text);
    let path = folder("wide").join("strips.txt");
    let mut all = vec![class.to_str().unwrap()];
    all.extend(ISSUED);
    all.extend(["--feedback", path.to_str().unwrap()]);
    run(&all);
    let strips = fs::read_to_string(&path).unwrap();
    let widest = strips.lines().map(|line| line.chars().count()).max();
    assert_eq!(widest, Some(72));
    assert!(strips.matches('x').count() >= 400);
}

/// A file that exists already is replaced completely. If one file fails, all stay as they were.
#[test]
fn files_are_written_whole_or_not_at_all() {
    let here = folder("whole");
    let marks = here.join("marks.csv");
    let marks = marks.to_str().unwrap();
    fs::write(marks, "old\n".repeat(10_000)).unwrap();
    let nowhere = here.join("nowhere").join("strips.txt");
    let ran = run(&["--marks", marks, "--feedback", nowhere.to_str().unwrap()]);
    ran.complains("its folder does not exist");
    assert_eq!(ran.out, "");
    assert_eq!(names_in(&here), ["marks.csv"], "nothing half done is left");
    assert!(fs::read_to_string(marks).unwrap().starts_with("old"));

    run(&["--marks", marks]).quiet();
    let written = fs::read_to_string(marks).unwrap();
    assert!(written.starts_with("bench,pupil") && !written.contains("old"));
    assert_eq!(names_in(&here), ["marks.csv"]);

    let ran = run(&["--marks", here.to_str().unwrap()]);
    ran.complains("it is a folder; give the name of a file");
    run(&["--marks", ""]).complains("a value is required for '--marks <FILE>'");
}

#[cfg(unix)]
#[test]
fn only_files_are_replaced_and_links_stay_links() {
    let here = folder("links");
    let (real, link) = (here.join("real.csv"), here.join("link.csv"));
    fs::write(&real, "old").unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    run(&["--marks", link.to_str().unwrap()]).quiet();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read_to_string(&real).unwrap().starts_with("bench,"));
    run(&["--marks", "/dev/null"]).complains("not an ordinary file");
}

#[test]
fn no_file_is_written_over_one_that_is_read() {
    let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,6.99\n";
    let class = sheet("own.csv", text);
    let class = class.to_str().unwrap();
    let here = folder("own");
    let same = here.join("..").join("own.csv");
    for marks in [class, same.to_str().unwrap()] {
        let ran = run(&[class, "--issued", "MgSO4.7H2O", "--marks", marks]);
        ran.complains("--marks and the sheet name the same file");
        assert_eq!(fs::read_to_string(class).unwrap(), text);
    }
    let one = here.join("one.txt");
    let other = here.join(".").join("one.txt");
    let (one, other) = (one.to_str().unwrap(), other.to_str().unwrap());
    run(&["--marks", one, "--feedback", other])
        .complains("--marks and --feedback name the same file");
    let policy = sheet("own.toml", "");
    let policy = policy.to_str().unwrap();
    run(&["--policy", policy, "--feedback", policy]).complains("name the same file");
    assert_eq!(names_in(&here), [""; 0]);
}
