//! The options of `answer_key`: policies, marking again, Markdown, other people's headers.

use std::fs;

use serde_json::Value;

use crate::answer_key::{ISSUED, on, run};
use crate::ran::{folder, sheet, words};
use crate::source::repository;

fn policy(name: &str, text: &str) -> String {
    sheet(name, text).to_str().unwrap().into()
}

#[test]
fn the_key_by_the_teachers_policy() {
    let path = repository().join("examples/data/policy.toml");
    let key = run(&["--policy", path.to_str().unwrap()]).quiet();
    for line in [
        // 50.9/18.015 over 49.1/120.361.
        "The stock holds 50.90 % water, x = 6.926. The accuracy of each bench is measured from this",
        "  At the bench: x is 1.1 % above 6.926, the value of the stock. The readings show MgSO4·7H2O.",
        "  Calculation: 9 of 9 marks. Accuracy at the bench: 2 of 3 marks.",
        "    [–]   mass of hydrate 2.308 g (not counted): correct.",
        "    [3/3] mole ratio 7.00: correct: the bench's own readings give 7.001.",
        "    [0/3] mole ratio 0.1431: wrong: the mole ratio upside down (the only known error that fits).",
    ] {
        assert!(key.lines().any(|printed| printed == line), "{line}\n{key}");
    }
    let agate = key.lines().find(|line| line.starts_with("Agate  "));
    assert!(agate.unwrap().ends_with("  9/9       2/3       11/12"));
}

#[test]
fn slips_that_cannot_be_distinguished_are_perhaps() {
    let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\n\
                Heron,21.352,24.018,22.656,22.655,0.1\n";
    let key = on("perhaps.csv", text, &ISSUED).quiet();
    let (_, said) = key.split_once("[0] mole ratio 0.1: ").unwrap();
    assert!(
        said.starts_with("wrong: perhaps the mole ratio upside down, or the amount of water"),
        "{said}"
    );
}

#[test]
fn a_wrong_policy_is_one_sentence() {
    for (text, with) in [
        (
            "[marks]\nratoi = 3\n",
            "line 2: there is no key `marks.ratoi`",
        ),
        ("[marks\n", "line 1"),
        ("[marks]\nratio = 1.5\n", "line 2"),
        ("[marks]\nratio = -1\n", "line 2"),
    ] {
        let path = policy("wrong.toml", text);
        for option in ["--policy", "--before"] {
            let ran = run(&[option, &path]);
            ran.complains(with);
            ran.complains("wrong.toml");
            assert_eq!(ran.out, "");
        }
    }
    run(&["--policy", "no such policy.toml"]).complains("there is no file no such policy.toml");
    let bytes = sheet("bytes.toml", "");
    fs::write(&bytes, [0xFF, 0xFE, 0x00]).unwrap();
    run(&["--policy", bytes.to_str().unwrap()]).complains("is not UTF-8 text");
    let long = policy("long.toml", &"# long\n".repeat(20_000));
    run(&["--policy", &long]).complains("long.toml");
    let longer = policy("longer.toml", &"# longer\n".repeat(400_000));
    run(&["--policy", &longer]).complains("longer.toml is longer than 1 MB; check that");
}

const CLASS: &str = "bench,pupil,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
                     Heron,H1,2.666,1.303,51.13,7.08\n\
                     Wren,W1,2.880,1.406,51.18,7.00\n\
                     Crake,C1,2.500,1.2x0,51.2,7.02\n";

#[test]
fn marking_again_prints_the_changes_and_the_reasons() {
    let wider = policy("wider.toml", "[tolerance]\nratio = { absolute = 0.1 }\n");
    let strict = policy("strict.toml", "");
    let again = |arguments: &[&str]| {
        let mut all = ISSUED.to_vec();
        all.extend(arguments);
        // A cell that cannot be read is not a change, so it is not printed here.
        on("again.csv", CLASS, &all).quiet()
    };
    assert_eq!(
        again(&["--before", &strict, "--policy", &wider]),
        "Marked again: loss on heating of MgSO4·7H2O\n\
         1 of 2 totals changes: 1 up, 0 down.\n\
         \n\
         Bench  Pupil  Before  Now  Change\n\
         -----  -----  ------  ---  ------\n\
         Heron  H1        1/2  2/2      +1\n\
         \n\
         Why\n\
         ===\n  \
           - the mole ratio was unexplained and is now correct, and earns 1 instead of 0: Heron (H1).\n"
    );
    // Without --policy the comparison is with one mark for each answer.
    let back = again(&["--before", &wider]);
    assert!(
        back.contains("\nHeron  H1        2/2  1/2      −1\n"),
        "{back}"
    );
    let markdown = again(&["--before", &wider, "--markdown"]);
    assert!(markdown.contains("\n| Heron | H1 | 2/2 | 1/2 | −1 |\n\n## Why\n\n- the mole ratio"));
    let json: Value = serde_json::from_str(&again(&["--before", &wider, "--json"])).unwrap();
    let changes = json["changes"].as_array().unwrap();
    assert_eq!(changes.len(), 1);
    assert_eq!(changes[0]["pupil"], "H1");
    assert_eq!(
        (&changes[0]["from"], &changes[0]["to"]),
        (&1.into(), &0.into())
    );
    assert_eq!(changes[0]["reason"]["code"], "verdict_changed");

    let same = again(&["--before", &wider, "--policy", &wider]);
    assert!(same.ends_with("All totals stay the same.\n"), "{same}");
}

#[test]
fn another_maximum_is_printed() {
    let more = policy(
        "more.toml",
        "[marks]\nratio = 3\n[accuracy]\nbands = [{ within_percent = 1, marks = 2 }]\n",
    );
    let none = policy("none.toml", "");
    let text = run(&["--before", &none, "--policy", &more]).quiet();
    assert!(text.contains("\nThe maximum was 7 marks and is now 11.\n"));
    assert!(
        text.contains("\n7 of 12 percentages change: 2 up, 5 down.\n"),
        "{text}"
    );
    let beryl = "\nBeryl     B1      6/7 (85.7 %)   8/11 (72.7 %)  −13.0 points\n";
    assert!(text.contains(beryl), "{text}");
    assert!(
        !text.contains("\nAgate"),
        "all of the marks before and now: {text}"
    );
    // Each reason is printed once, with all its rows.
    let reason =
        "the mole ratio, correct as before, earned 1 and now earns 3: Agate (A1), Dolomite";
    assert_eq!(text.matches(reason).count(), 1, "{text}");
    assert!(text.contains("the accuracy at the bench was not marked and now earns 2: Agate (A1)"));
}

/// Nothing that is made from the demonstration may be taken for a class.
#[test]
fn what_is_made_from_the_demonstration_says_that_it_is_invented() {
    let folder = folder("invented");
    let [marks, strips] = ["marks.csv", "strips.txt"].map(|name| folder.join(name));
    let [marks, strips] = [&marks, &strips].map(|path| path.to_str().unwrap());
    let more = policy("invented.toml", "[marks]\nratio = 3\n");
    let texts: Vec<String> = [
        &["--marks", marks, "--feedback", strips][..],
        &["--markdown"],
        &["--json"],
        &["--during"],
        &["--before", &more],
        &["--before", &more, "--markdown"],
        &["--before", &more, "--json"],
    ]
    .iter()
    .map(|options| run(options).quiet())
    .collect();
    for text in texts {
        assert!(text.contains("nvented"), "{text}");
    }
    let gradebook = fs::read_to_string(marks).unwrap();
    let rows = gradebook.lines().skip(1);
    assert!(
        rows.clone().all(|row| row.contains("invented")),
        "{gradebook}"
    );
    let strips = fs::read_to_string(strips).unwrap();
    assert_eq!(
        strips.matches("\n(invented, for demonstration)\n").count(),
        rows.count()
    );
    // The sheet has a problem, and the help says that the status is 0 nevertheless.
    let help = words(&run(&["--help"]).quiet());
    assert!(help.contains("For the invented class, and with --before, it is 0"));
}

/// The number of pipes in a line that separate columns.
fn pipes(line: &str) -> usize {
    let mut pipes = 0;
    let mut escaped = false;
    for c in line.chars() {
        pipes += usize::from(c == '|' && !escaped);
        escaped = c == '\\' && !escaped;
    }
    pipes
}

/// Asserts that all lines of a table have as many pipes, and that there is one title.
#[track_caller]
pub(crate) fn sound_markdown(text: &str) {
    let mut columns = None;
    let mut before = "";
    for line in text.lines() {
        if line.starts_with('|') {
            let known = *columns.get_or_insert_with(|| {
                assert_eq!(before, "", "an empty line before a table: {line}");
                pipes(line)
            });
            assert_eq!(pipes(line), known, "{line}");
        } else {
            assert!(
                columns.is_none() || line.is_empty(),
                "after a table: {line}"
            );
            columns = None;
        }
        if line.starts_with('#') {
            assert!(line.starts_with("# ") || line.starts_with("## "), "{line}");
            assert_eq!(before, "", "an empty line before a heading: {line}");
        }
        before = line;
    }
    assert_eq!(
        text.lines().filter(|line| line.starts_with("# ")).count(),
        1
    );
}

#[test]
fn the_key_as_markdown() {
    let markdown = run(&["--markdown"]).quiet();
    sound_markdown(&markdown);
    for line in [
        "# Key: loss on heating of MgSO4·7H2O",
        "| Agate | A1 | 2.308 | 1.127 | 1.181 | 51.17 | 7.001 | 0.015 | yes | MgSO4·7H2O | 7/7 |",
        "## Beryl, B1",
        "| mass of water | 2.684 g − 1.312 g = 1.372 g |",
        "- **\\[1\\]** percent water 51.12\u{a0}%: correct.",
        "## The class",
        "## Care",
    ] {
        assert!(
            markdown.lines().any(|printed| printed == line),
            "{line}\n{markdown}"
        );
    }
    // Both forms have the same words.
    let words = |text: &str| -> Vec<String> {
        let text = text.replace('\\', "").replace("**Warning:**", "!");
        let text = text.replace("| Step | Working |", "");
        let words = text.split(|c: char| c.is_whitespace() || "|*#".contains(c));
        let bare = words.filter(|word| !word.trim_matches([':', '-', '=']).is_empty());
        let mut words: Vec<String> = bare.map(String::from).collect();
        words.sort();
        words
    };
    assert_eq!(words(&markdown), words(&run(&[]).quiet()));
}

#[test]
fn names_do_not_break_the_markdown() {
    let text = "bench,pupil,hydrate_g,residue_g,reported_ratio,reported_formula\n\
                A|B,*x*,2.666,1.303,6.99,\"`a|b` <i>\"\n\
                \"# c\n| d\",\\|,2.880,1.406,7_0,MgSO4·7H2O\n\
                [e](f),~~g~~ &amp;,2.701,1.319,7,MgSO4·7H2O\n";
    let ran = on("names.csv", text, &["--issued", "MgSO4.7H2O", "--markdown"]);
    assert_eq!(ran.status, 1, "two cells could not be read");
    sound_markdown(&ran.out);
    for line in [
        "## A\\|B, \\*x\\*",
        "## \\# c \\| d, \\\\\\|",
        "## \\[e\\](f), \\~\\~g\\~\\~ \\&amp;",
    ] {
        assert!(
            ran.out.lines().any(|printed| printed == line),
            "{line}\n{}",
            ran.out
        );
    }
}

#[test]
fn a_sheet_with_headers_of_its_own() {
    let text = "Platz;a=b;Rückstand;reported_ratio\nReiher;2,666;1,303;6,99\n";
    let mapped = |maps: &[&str]| {
        let mut all = ISSUED.to_vec();
        all.extend(maps.iter().flat_map(|map| ["--map", *map]));
        on("mapped.csv", text, &all)
    };
    let key = mapped(&["Platz=bench", "a=b=hydrate_g", "Rückstand = residue_g"]).quiet();
    assert!(
        key.contains("Reiher      2.666      1.303    1.363"),
        "{key}"
    );
    for (map, with) in [
        ("Platz", "--map: `Platz` has no `=`"),
        ("=bench", "has no `=` with a name on both sides"),
        ("Platz=", "has no `=` with a name on both sides"),
        ("Platz=benhc", "benhc"),
    ] {
        let ran = mapped(&[map]);
        ran.complains(with);
        assert_eq!(ran.out, "");
    }
    mapped(&["Platz=bench", "Platz=pupil"]).complains("Platz");
    // A column that is not mapped is still missing.
    mapped(&["Platz=bench"]).complains("lacks");
}

/// Headers are mapped once, and what they probably mean is suggested ready to be copied.
#[test]
fn headers_are_suggested_and_mapped_by_a_file() {
    let text = "Group;Mass of sample (g);Residue;x\nReiher;2,666;1,303;6,99\n";
    let on = |options: &[&str]| {
        let mut all = ISSUED.to_vec();
        all.extend(options);
        on("mapped_once.csv", text, &all)
    };
    let ran = on(&[]);
    let suggested = "--map 'Group=bench' --map 'Mass of sample (g)=hydrate_g' --map \
                     'Residue=residue_g' --map 'x=reported_ratio'";
    ran.complains(suggested);
    let lines = suggested.replace("--map '", "\n").replace('\'', "");
    let file = policy("map.txt", &format!("\u{FEFF}# our sheet\r\n\n{lines}\n"));
    let key = on(&["--map-file", &file]).quiet();
    assert!(
        key.contains("Reiher      2.666      1.303    1.363"),
        "{key}"
    );
    // The options come after the file.
    let some = policy(
        "map_some.txt",
        "Group = bench\nMass of sample (g)=hydrate_g\n",
    );
    let key = on(&["--map-file", &some, "--map", "Residue=residue_g"]).quiet();
    assert!(
        key.contains("may be `reported_ratio`. If it is, read it so with --map"),
        "{key}"
    );
    let wrong = policy("map_wrong.txt", "# our sheet\nGroup bench\n");
    on(&["--map-file", &wrong]).complains("map_wrong.txt, line 2: `Group bench` has no `=`");
    on(&["--map-file", "no_such_file.txt"]).complains("there is no file no_such_file.txt");
}

#[test]
fn a_file_of_headers_may_be_as_old_as_the_sheet() {
    let text = "Plätze;Einwaage;Größe\nReiher;2,666;1,303\n";
    let file = policy("map_old.txt", "");
    let map = "Plätze=bench\nEinwaage=hydrate_g\nGröße=residue_g\n";
    let latin_1: Vec<u8> = map.chars().map(|c| u8::try_from(c).unwrap()).collect();
    fs::write(&file, latin_1).unwrap();
    let all = [&ISSUED[..], &["--map-file", &file]].concat();
    let key = on("mapped_old.csv", text, &all).quiet();
    assert!(
        key.contains("Reiher      2.666      1.303    1.363"),
        "{key}"
    );
}

#[test]
fn the_class_in_the_teachers_words() {
    let mut text = String::from("bench,balance,period,hydrate_g,residue_g,stand_in\n");
    for (bench, balance, period, residue) in [
        ("Heron", "North", "1", "1.303"),
        ("Wren", "North", "2", "1.304"),
        ("Finch", "South", "1", "1.302"),
        ("Rook", "South", "2", "1.303"),
        ("Lark", "South", "2", "1.560"),
    ] {
        text.push_str(&format!("{bench},{balance},{period},2.666,{residue},\n"));
    }
    text.push_str("Tern,South,2,2.777,1.357,yes\n");
    let key = on("overview.csv", &text, &ISSUED).quiet();
    let (_, class) = key.split_once("\nThe class\n").unwrap();
    let flat = words(class);
    for said in [
        "all 5 ",
        "Balance n Mean x Median",
        "North 2 ",
        "South 3 ",
        "Period n Mean x Median",
        "- Lark is an outlier by Grubbs' test (1.789; the critical value is 1.715 at the 95 % level) \
         and Dixon's test (0.",
        "It still counts. Check its readings before you leave anything out.",
        "- The benches scatter more than the balance, the criterion for constant mass and the method \
         explain (chi-squared ",
        "the critical value for 5 benches is 9.5 at the 95 % level)",
        "The repeatability of the method is taken as 0.3 % of the water.",
        "- Stand-in readings are not counted here.",
    ] {
        assert!(flat.contains(said), "{said}\n{class}");
    }
    // Without the outlier the key says that there is none.
    let sound = text.replace("1.560", "1.303");
    let key = on("sound.csv", &sound, &ISSUED).quiet();
    assert!(
        key.contains(
            "  - No bench is an outlier by Grubbs' test or Dixon's test at the 95 % level, beyond what its\n    \
             balance can show.\n"
        ),
        "{key}"
    );
    assert!(
        key.contains("  - The balance, the criterion for constant mass and the method explain")
    );
}

/// The usual repeatability is printed, and a stated one replaces it, also a smaller one.
#[test]
fn a_stated_repeatability_is_printed_and_counts() {
    let mut text = String::from("bench,hydrate_g,residue_g\n");
    for (bench, residue) in [
        ("A", "1.303"),
        ("B", "1.309"),
        ("C", "1.298"),
        ("D", "1.303"),
        ("E", "1.305"),
    ] {
        text.push_str(&format!("{bench},2.666,{residue}\n"));
    }
    let scatter = |arguments: &[&str]| {
        let key = on("repeatability.csv", &text, &[&ISSUED, arguments].concat()).quiet();
        let flat = words(&key);
        let (_, rest) = flat.split_once("(chi-squared ").unwrap();
        let (statistic, rest) = rest.split_once(';').unwrap();
        let (_, rest) = rest.split_once("is taken as ").unwrap();
        let (percent, _) = rest.split_once(" of the water.").unwrap();
        (statistic.parse::<f64>().unwrap(), percent.to_owned())
    };
    let (usual, shown) = scatter(&[]);
    assert_eq!(shown, "0.3 %");
    assert_eq!(scatter(&["--repeatability", "0,3 %"]), (usual, shown));
    let (smaller, shown) = scatter(&["--repeatability", "0.125"]);
    assert_eq!(shown, "0.125 %");
    assert!(smaller > 2.0 * usual, "{smaller} {usual}");
    let (none, shown) = scatter(&["--repeatability", "0"]);
    assert_eq!(shown, "0 %");
    assert!(none > smaller, "{none} {smaller}");
    for wrong in ["101", "-1", "three", ""] {
        let told = format!("--repeatability={wrong}");
        let ran = on(
            "repeatability.csv",
            &text,
            &[&ISSUED, &[told.as_str()][..]].concat(),
        );
        ran.complains("--repeatability");
        assert_eq!(ran.out, "");
    }
    for (option, wrong, why) in [
        ("--repeatability", "-1", "-1 is not from 0 to 100"),
        ("--repeatability", "-0,3", "-0,3 is not from 0 to 100"),
        ("--constant-mass", "-0.002", "-0.002 is negative"),
    ] {
        let arguments = [&ISSUED[..], &[option, wrong]].concat();
        let ran = on("repeatability.csv", &text, &arguments);
        ran.complains(&format!("{option}: {why}"));
    }
}

#[test]
fn options_that_exclude_each_other_are_one_sentence() {
    let empty = policy("exclude.toml", "");
    for arguments in [
        &["--json", "--markdown"][..],
        &["--json", "--during"],
        &["--during", "--markdown"],
        &["--during", "--before", &empty],
        &["--during", "--marks", "m.csv"],
        &["--during", "--feedback", "f.txt"],
        &["--before", &empty, "--marks", "m.csv"],
        &["--before", &empty, "--feedback", "f.txt"],
    ] {
        let ran = run(arguments);
        ran.complains("cannot be used with");
        assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    }
    assert!(
        run(&["--during", "--policy", &empty])
            .quiet()
            .contains("Do now")
    );
    for arguments in [&["--map", "a=bench"][..], &["--issued", "MgSO4.7H2O"]] {
        run(arguments).complains("<SHEET>");
    }
    run(&["--mrks", "m.csv"]).complains("unexpected argument '--mrks' found; tip: a similar");
    run(&["--before"]).complains("a value is required for '--before <FILE>'");
    let help = run(&["--help"]).quiet();
    for said in [
        "A file that exists already is replaced",
        "--feedback <FILE>",
    ] {
        assert!(help.contains(said), "{help}");
    }
}
