//! The program `problem_set`, run as a teacher runs it.

use std::collections::BTreeSet;
use std::fs;
use std::io::{Cursor, Read, Write};
use std::path::Path;

use serde_json::Value;

use crate::ran::{Ran, folder, names_in, run_program, sheet, words};

fn run(arguments: &[&str]) -> Ran {
    run_program("problem_set", arguments)
}

/// What is printed as JSON.
#[track_caller]
fn json(arguments: &[&str]) -> Value {
    let all = [arguments, &["--format", "json"]].concat();
    serde_json::from_str(&run(&all).quiet()).unwrap()
}

fn problems(set: &Value) -> &Vec<Value> {
    set["problems"].as_array().unwrap()
}

/// The answers as the key prints them.
fn answers(set: &Value) -> Vec<String> {
    let answer = |problem: &Value| problem["answer"].to_string();
    problems(set).iter().map(answer).collect()
}

/// Writes a file of a test, and returns its path.
fn written(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn without_arguments_it_prints_ten_mixed_problems_and_their_key() {
    let text = run(&[]).quiet();
    let (sheet, key) = text.split_once("\nKey: Problems\n").expect("a key");
    for number in 1..=10 {
        for part in [sheet, key] {
            assert!(part.contains(&format!("\nProblem {number}\n")), "{part}");
        }
    }
    assert!(!sheet.contains("\nProblem 11\n"));
    assert!(sheet.contains("Atomic weights") && key.contains("Accept"));
    assert_eq!(text, run(&["--seed", "1", "--count", "10"]).quiet());
    assert_ne!(text, run(&["--seed", "2"]).quiet());
    let kinds: BTreeSet<String> = problems(&json(&[]))
        .iter()
        .map(|problem| problem["kind"].to_string())
        .collect();
    assert_eq!(kinds.len(), 10, "{kinds:?}");
}

/// The README shows the first lines of a sheet. `RENEW=1` renews them.
#[test]
fn the_readme_shows_the_first_lines_of_a_sheet() {
    let path = crate::source::repository().join("README.md");
    let readme = fs::read_to_string(&path).unwrap();
    let (before, section) = readme.split_once("\n## Set problems\n").expect("a section");
    let (head, rest) = section.split_once("```text\n").expect("a block of text");
    let (shown, after) = rest.split_once("```\n").expect("the block ends");
    let (_, command) = head.split_once("```sh\nproblem_set ").expect("a command");
    let command = command.split_once('\n').expect("one line").0;
    let (options, title) = command.split_once(" --title ").expect("a title");
    let mut arguments: Vec<&str> = options.split(' ').collect();
    arguments.extend(["--title", title.trim_matches('\'')]);
    let printed = run(&arguments).quiet();
    if std::env::var_os("RENEW").is_some() {
        let lines: Vec<&str> = printed.lines().take(24).collect();
        let shown = lines.join("\n");
        let renewed = format!("{before}\n## Set problems\n{head}```text\n{shown}\n…\n```\n{after}");
        fs::write(path, renewed).unwrap();
        return;
    }
    let shown = shown.strip_suffix("\n…\n").expect("it goes on");
    assert!(shown.lines().count() > 10, "{shown}");
    assert!(printed.starts_with(shown), "{shown}\n\n{printed}");
}

#[test]
fn a_teacher_chooses() {
    let set = json(&[
        "--kind",
        "percent_water",
        "--kind",
        "molar_mass",
        "--level",
        "1",
        "--seed",
        "4",
        "--count",
        "6",
        "--avoid",
        "barium chloride",
        "--decimal-mark",
        "comma",
        "--edition",
        "2021",
        "--decimals",
        "1",
        "--override",
        "Cl=35,5",
    ]);
    assert_eq!(problems(&set).len(), 6);
    for (index, problem) in problems(&set).iter().enumerate() {
        let kind = ["percent_water", "molar_mass"][index % 2];
        assert_eq!(
            (&problem["kind"], &problem["level"]),
            (&kind.into(), &1.into())
        );
        let weights = &problem["request"]["weights"];
        assert_eq!(weights["edition"], "2021");
        assert_eq!(weights["decimals"], 1);
        assert_eq!(weights["override"]["Cl"], "35.5");
        assert!(!problem["prompt"].as_str().unwrap().contains("BaCl2"));
        assert!(
            !problem["answer"].as_str().unwrap().contains('.'),
            "{problem}"
        );
    }
    assert!(answers(&set).concat().contains(','), "{set}");
    let only = json(&["--kind", "percent_water", "--salt", "SrCl2", "--level", "1"]);
    for problem in problems(&only) {
        assert!(
            problem["request"]["formula"]
                .as_str()
                .unwrap()
                .starts_with("SrCl2·")
        );
    }
    let named = run(&["--title", "Water in crystals"]).quiet();
    assert!(named.starts_with("Water in crystals\n"), "{named}");
}

#[test]
fn a_course_has_its_own_salts() {
    let list = sheet(
        "own_salts.csv",
        "hydrate,name\nSrCl2·6H2O,\nMg(ClO4)2·6H2O,\n",
    );
    let list = list.to_str().unwrap();
    let ran = run(&[
        "--kind",
        "percent_water",
        "--salts",
        list,
        "--format",
        "json",
    ]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(
        ran.err.contains("Mg(ClO4)2·6H2O must not be heated"),
        "{}",
        ran.err
    );
    let set: Value = serde_json::from_str(&ran.out).unwrap();
    for problem in problems(&set) {
        let about = problem["request"]["formula"].as_str().unwrap();
        assert!(["SrCl2·6H2O", "Mg(ClO4)2·6H2O"].contains(&about), "{about}");
    }
    let none = sheet("no_salts.csv", "salt\nNaCl\n");
    run(&["--salts", none.to_str().unwrap()]).complains("--salts");
    run(&["--salts", "/none/salts.csv"]).complains("--salts: there is no file");
}

#[test]
fn an_author_has_templates() {
    let file = |name: &str| {
        let path = crate::source::repository().join("examples/data").join(name);
        path.to_str().unwrap().to_owned()
    };
    let (water, precipitate) = (
        file("template_water.toml"),
        file("template_precipitate.toml"),
    );
    for path in [&water, &precipitate, &file("salts.csv")] {
        let ran = run(&["--check", path]);
        assert_eq!(ran.err, "", "{path}");
        assert!(
            ran.status == 0 || path.ends_with("csv"),
            "{path}: {}",
            ran.out
        );
    }
    let both = [
        "--template",
        &water,
        "--template",
        &precipitate,
        "--count",
        "4",
    ];
    let set = json(&both);
    let forms: BTreeSet<String> = problems(&set)
        .iter()
        .map(|problem| problem["form"].to_string())
        .collect();
    assert_eq!(forms.len(), 2, "{forms:?}");
    let text = run(&[&both[..], &["--versions", "2"]].concat()).quiet();
    assert!(text.contains("Version B"), "{text}");

    let template = fs::read_to_string(&precipitate).unwrap();
    let wrong = template.replace("Work out the mass", "It is 25 °C. Work out the mass");
    let wrong = sheet("wrong.toml", &wrong);
    let ran = run(&["--check", wrong.to_str().unwrap()]);
    assert_eq!((ran.status, &*ran.err), (1, ""));
    assert!(
        ran.out.contains("The wording gives the number 25"),
        "{}",
        ran.out
    );
    let broken = sheet("broken.toml", "kind = ");
    for option in ["--check", "--template"] {
        run(&[option, broken.to_str().unwrap()]).complains(option);
        run(&[option, "/none/template.toml"]).complains("there is no file");
    }
}

#[test]
fn sheet_and_key_are_two_files_and_it_says_which() {
    for (format, ending) in [
        ("text", "txt"),
        ("markdown", "md"),
        ("html", "html"),
        ("latex", "tex"),
    ] {
        let folder = folder(&format!("problems_{format}"));
        let path = folder.join(format!("week.{ending}"));
        let said = run(&["--output", path.to_str().unwrap()]).quiet();
        let key = folder.join(format!("week-key.{ending}"));
        assert_eq!(
            said,
            format!(
                "The sheet is in {}.\nThe key is in {}.\n",
                path.display(),
                key.display()
            )
        );
        assert_eq!(
            names_in(&folder),
            [format!("week-key.{ending}"), format!("week.{ending}")]
        );
        let (sheet, key) = (
            fs::read_to_string(&path).unwrap(),
            fs::read_to_string(&key).unwrap(),
        );
        assert!(
            !sheet.contains("Accept") && key.contains("Accept"),
            "{format}"
        );
        // The same with the format named, and over files that exist.
        run(&["--format", format, "--output", path.to_str().unwrap()]).quiet();
        assert_eq!(fs::read_to_string(&path).unwrap(), sheet);
    }
    let folder = folder("problems_json");
    let path = folder.join("week.json");
    let said = run(&["--output", path.to_str().unwrap()]).quiet();
    assert_eq!(
        said,
        format!("The set with its key is in {}.\n", path.display())
    );
    assert_eq!(names_in(&folder), ["week.json"]);
}

/// A package in which the first problem has another form.
fn with_form(package: &[u8], form: &str) -> Vec<u8> {
    let mut package = zip::ZipArchive::new(Cursor::new(package)).unwrap();
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..package.len() {
        let mut text = String::new();
        let mut file = package.by_index(index).unwrap();
        file.read_to_string(&mut text).unwrap();
        if file.name() == "imsmanifest.xml" {
            text = text.replacen(">from_label<", &format!(">{form}<"), 1);
        }
        let options = zip::write::SimpleFileOptions::DEFAULT;
        zip.start_file(file.name(), options).unwrap();
        zip.write_all(text.as_bytes()).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_package_and_its_key_are_two_files_and_the_package_is_checked() {
    let folder = folder("package");
    let path = folder.join("week.zip");
    let path = path.to_str().unwrap();
    let options = [
        "--kind",
        "percent_water",
        "--level",
        "1",
        "--count",
        "2",
        "--versions",
        "3",
        "--select",
        "2",
    ];
    let said = run(&[&options[..], &["--output", path]].concat()).quiet();
    let key = folder.join("week-key.csv");
    assert_eq!(
        said,
        format!(
            "The package is in {path}.\nThe key is in {}.\n",
            key.display()
        )
    );
    assert_eq!(names_in(&folder), ["week-key.csv", "week.zip"]);
    let package = fs::read(path).unwrap();
    run(&[&options[..], &["--format", "qti", "--output", path]].concat()).quiet();
    assert_eq!(fs::read(path).unwrap(), package);
    let listed = run(&["--check", path]).quiet();
    let lines: Vec<&str> = listed.lines().collect();
    assert_eq!(lines.len(), 8, "{listed}");
    assert_eq!(
        words(lines[2]),
        "1 percent_water-1-1-B percent_water 1 from_label 1"
    );
    assert_eq!(
        lines[7],
        "The manifest, the test and the items agree. How answers are marked is not checked."
    );
    // The same set, saved and then packed.
    let saved = written(
        &folder,
        "set.json",
        &run(&[&options[..8], &["--format", "json"]].concat()).quiet(),
    );
    run(&["--from", &saved, "--select", "2", "--output", path]).quiet();
    assert_eq!(fs::read(path).unwrap(), package);

    // A form may be longer than a column can be wide.
    let long = "from_label".repeat(7_000);
    let long_path = folder.join("long.zip");
    fs::write(&long_path, with_form(&package, &long)).unwrap();
    let listed = run(&["--check", long_path.to_str().unwrap()]).quiet();
    assert!(listed.contains(&long));
    assert!(listed.lines().all(|line| line.len() < long.len() + 200));

    let damaged = written(&folder, "damaged.zip", "no package");
    let ran = run(&["--check", &damaged]);
    assert_eq!((ran.status, &*ran.err), (1, ""));
    assert!(ran.out.contains("not a ZIP file"), "{}", ran.out);
}

#[test]
fn versions_share_no_answer() {
    let both = ["4", "D", "A-D", "A..D", "ABCD"];
    let first = run(&["--versions", both[0], "--count", "4"]).quiet();
    for same in both {
        assert_eq!(run(&["--versions", same, "--count", "4"]).quiet(), first);
    }
    let set = json(&["--versions", "A-D", "--count", "4"]);
    let versions = set["versions"].as_array().unwrap();
    let names: Vec<&str> = versions
        .iter()
        .map(|one| one["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["A", "B", "C", "D"]);
    let all: Vec<Vec<String>> = versions.iter().map(|one| answers(&one["set"])).collect();
    for place in 0..4 {
        let at: BTreeSet<&String> = all.iter().map(|answers| &answers[place]).collect();
        assert_eq!(at.len(), 4, "{at:?}");
    }
}

#[test]
fn each_code_of_a_roster_has_its_own_sheet() {
    let path = sheet(
        "roster.csv",
        "\u{FEFF}code;group\nK1;red\n\nK2;blue\n\u{1b}[31mK3\u{202e};red\n",
    );
    let path = path.to_str().unwrap();
    let set = json(&["--roster", path, "--count", "3"]);
    let sheets = set["roster"].as_array().unwrap();
    assert_eq!(sheets.len(), 3);
    let all: BTreeSet<Vec<String>> = sheets.iter().map(|one| answers(&one["set"])).collect();
    assert_eq!(all.len(), 3);
    let text = run(&["--roster", path, "--count", "3"]).quiet();
    assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text}");
    assert!(
        words(&text).contains("Code K1") && text.contains("u{202e}"),
        "{text}"
    );
    // The seed of a code gives its sheet again.
    let seed = sheets[1]["set"]["choices"]["seed"].as_str().unwrap();
    assert_eq!(json(&["--seed", seed, "--count", "3"]), sheets[1]["set"]);

    for (name, text, complaint) in [
        (
            "twice.csv",
            "K1\nK2\nK1\n",
            "line 3: the code K1 is in line 1 already",
        ),
        ("none.csv", "code\n\n", "has no codes"),
        ("not_text.csv", "", "has no codes"),
    ] {
        let path = sheet(name, text);
        run(&["--roster", path.to_str().unwrap()]).complains(complaint);
    }
}

#[test]
fn a_quotation_mark_that_is_not_closed_swallows_no_code() {
    let folder = folder("rosters");
    for (text, line) in [
        ("\"K1\nK2\nK3\n", 1),
        ("code;group\nK1;\"red\nK2;blue\n", 2),
        ("K1\n\nK2;\"\nK3\n", 3),
    ] {
        let ran = run(&["--roster", &written(&folder, "roster.csv", text)]);
        assert_eq!((ran.status, &*ran.out), (2, ""), "{text}");
        ran.complains(&format!("line {line}: a cell goes on in the next line"));
    }
    let closed = written(&folder, "closed.csv", " \"K 1\"; a 5\" bench\n\"K2\";red\n");
    assert_eq!(
        json(&["--roster", &closed, "--count", "1"])["roster"]
            .as_array()
            .unwrap()
            .len(),
        2
    );
}

#[test]
fn a_saved_set_is_printed_again() {
    let folder = folder("saved");
    for more in [&[][..], &["--versions", "3"], &["--decimal-mark", "comma"]] {
        let with = |last: &[&'static str]| [more, &["--count", "15"], last].concat();
        let saved = written(
            &folder,
            "set.json",
            &run(&with(&["--format", "json"])).quiet(),
        );
        for format in ["text", "markdown", "json"] {
            let again = run(&["--from", &saved, "--format", format]).quiet();
            assert_eq!(again, run(&with(&["--format", format])).quiet(), "{more:?}");
        }
    }
    let set = run(&[
        "--kind",
        "percent_water",
        "--count",
        "2",
        "--format",
        "json",
    ])
    .quiet();
    let edited = set.replace("Give your answer", "Please write it");
    assert_ne!(set, edited);
    let saved = written(&folder, "edited.json", &edited);
    assert!(words(&run(&["--from", &saved]).quiet()).contains("Please write it"));
}

#[test]
fn a_saved_set_that_contradicts_itself_is_refused() {
    let folder = folder("contradictions");
    let set = json(&["--kind", "percent_water", "--level", "1", "--count", "2"]);
    let changed = |pointer: &str, value: Value| {
        let mut set = set.clone();
        *set.pointer_mut(pointer).expect(pointer) = value;
        written(&folder, "set.json", &set.to_string())
    };
    let second = &problems(&set)[1];
    let options = second["options"].as_array().unwrap();
    let right = options
        .iter()
        .position(|option| option["slip"].is_null())
        .unwrap();
    let wrong = (right + 1) % 4;
    let at = |place: usize, member: &str| format!("/problems/1/options/{place}/{member}");
    for (pointer, value, complaint) in [
        (
            at(right, "slip"),
            "percent_of_residue".into(),
            "0 of its options are right",
        ),
        (at(wrong, "slip"), Value::Null, "2 of its options are right"),
        (
            at(wrong, "text"),
            options[right]["text"].clone(),
            "is given twice",
        ),
        (
            at(right, "text"),
            "7 %".into(),
            "is not the answer with its unit",
        ),
        (
            "/problems/1/answer".into(),
            "0.1".into(),
            "is not in its tolerance",
        ),
        (
            "/problems/1/answer".into(),
            "much".into(),
            "is not a number",
        ),
        ("/problems/1/prompt".into(), " ".into(), "it has no prompt"),
        (
            "/problems/1/asks".into(),
            "/percent".into(),
            "cannot be solved",
        ),
        (
            "/problems/1/asks".into(),
            Value::Array(Vec::new()),
            "number of parts",
        ),
        (
            "/problems/1/request/formula".into(),
            "MgCl2·H2O".into(),
            "its request gives",
        ),
        (
            "/problems/1/request".into(),
            Value::Null,
            "`request` is missing",
        ),
        (
            "/problems/1/working/1/result".into(),
            "7.7".into(),
            "the last step of its working gives 7.7",
        ),
        ("/problems/1/kind".into(), Value::Null, "`kind` is missing"),
    ] {
        let ran = run(&["--from", &changed(&pointer, value)]);
        assert_eq!(ran.status, 2);
        ran.complains(complaint);
        ran.complains("problem 2, `percent_water-1-2`");
    }
    let sheet = json(&["--kind", "error_analysis", "--count", "1"]);
    let part = "/problems/0/parts/0";
    for (pointer, value, complaint) in [
        (
            "/problems/0/parts",
            Value::Array(vec![sheet.pointer(part).unwrap().clone()]),
            "`parts` and `answer` do not have the same number of parts",
        ),
        (
            "/problems/0/parts/0/choices",
            Value::Array(Vec::new()),
            "0 choices of the part `Bench with the ",
        ),
    ] {
        let mut set = sheet.clone();
        *set.pointer_mut(pointer).expect(pointer) = value;
        let ran = run(&["--from", &written(&folder, "set.json", &set.to_string())]);
        assert_eq!(ran.status, 2);
        ran.complains(complaint);
    }
    // Sets that were saved before problems had parts are read.
    let mut old = sheet.clone();
    old["problems"][0].as_object_mut().unwrap().remove("parts");
    run(&["--from", &written(&folder, "set.json", &old.to_string())]).quiet();
    for (pointer, value, complaint) in [
        (
            "/problems",
            Value::Array(Vec::new()),
            "the set has no problems",
        ),
        ("/choices", Value::Null, "`choices` is missing"),
        ("/choices/seed", Value::Null, "`seed` is missing"),
        ("/choices/decimal_mark", ";".into(), "is not a decimal mark"),
        ("/problems/0/kind", "guess".into(), "kinds of problem"),
        ("/problems/0/level", 4.into(), "no level 4"),
        ("/problems/0/request/op", "guess".into(), "operations"),
        ("/problems/0/request/formula", 3.into(), "quotation marks"),
    ] {
        run(&["--from", &changed(pointer, value)]).complains(complaint);
    }
    for (text, complaint) in [
        ("", "is not a set that was saved"),
        ("[]", "is not a set that was saved"),
        (r#"{"versions": [], "roster": []}"#, "both"),
        (r#"{"more": 1}"#, "unknown field `more`"),
    ] {
        let saved = written(&folder, "none.json", text);
        let ran = run(&["--from", &saved]);
        assert_eq!(ran.status, 2, "{}", ran.err);
        assert!(ran.err.contains(complaint), "{}", ran.err);
    }
}

#[test]
fn a_saved_set_with_another_number_in_a_prompt_is_refused() {
    let folder = folder("other_numbers");
    let set = run(&[
        "--kind",
        "formula_from_masses",
        "--count",
        "2",
        "--decimal-mark",
        "comma",
        "--format",
        "json",
    ])
    .quiet();
    let read: Value = serde_json::from_str(&set).unwrap();
    let mass = problems(&read)[0]["request"]["residue_mass"].as_str();
    let printed = mass.expect("a mass").replace('.', ",");
    let edited = set.replace(
        &format!(" {printed}\u{a0}g"),
        &format!(" {printed}5\u{a0}g"),
    );
    assert_ne!(set, edited);
    let ran = run(&["--from", &written(&folder, "edited.json", &edited)]);
    assert_eq!(ran.status, 2);
    ran.complains(&format!(
        "its request has {printed}, and its prompt does not"
    ));
}

#[test]
fn what_cannot_be_done_is_one_sentence() {
    for (arguments, complaint) in [
        (&["--kind", "guess"][..], "--kind: `guess`"),
        (&["--kind", "percent_water", "--level", "4"], "--level"),
        (&["--count", "0"], "give a whole number from 1 to 10000"),
        (&["--count", "x"], "give a whole number from 1 to 10000"),
        (&["--count="], "give a whole number from 1 to 10000"),
        (&["--seed", "-1"], "give a whole number from 0 to"),
        (&["--seed", "99999999999999999999"], "whole number from 0"),
        (&["--level", "two"], "give a whole number from 1 to 3"),
        (&["--decimals", "7"], "give a whole number from 0 to 6"),
        (&["--select", "0"], "give a whole number from 1 to 26"),
        (&["--salt", "MgQ"], "--salt"),
        (&["--salt", "SrCl2", "--avoid", "SrCl2"], "name more salts"),
        (&["--readability", "0.03"], "--readability"),
        (&["--decimal-mark", ";"], "--decimal-mark"),
        (&["--edition", "1999"], "--edition"),
        (&["--override", "Cl"], "--override: Cl has no `=`"),
        (&["--override", "Cl=x"], "--override"),
        (&["--override", "Q=1"], "--override"),
        (
            &["--override", "Cl=35.5", "--override", "Cl = 36"],
            "--override: Cl is given twice; give each element once",
        ),
        (&["--versions", "0"], "letters such as A-D"),
        (&["--versions", "27"], "letters such as A-D"),
        (&["--versions", "B-D"], "letters such as A-D"),
        (&["--format", "html"], "--output"),
        (&["--format", "latex"], "--output"),
        (&["--mhchem"], "--format latex"),
        (&["--format", "qti"], "name one with --output"),
        (
            &[
                "--count",
                "10000",
                "--versions",
                "26",
                "--output",
                "/none/set.zip",
            ],
            "a package cannot have 260000 items",
        ),
        (
            &["--output", ".zip"],
            "--output: .zip is an ending without a name",
        ),
        (
            &["--output", ".json"],
            "--output: .json is an ending without a name",
        ),
        (
            &["--format", "text", "--output", "/none/set.zip"],
            "--output: a package has the ending .zip",
        ),
        (
            &["--format", "json", "--output", "/none/set.ZIP"],
            "--output: a package has the ending .zip",
        ),
        (
            &["--format", "qti", "--output", "/none/set.txt"],
            "--output: a package has the ending .zip",
        ),
        (
            &["--format", "qti", "--output", "/none/set"],
            "--output: a package has the ending .zip",
        ),
        (&["--select", "2"], "--format qti"),
        (&["--with-options"], "--format qti"),
        (&["--output", "/none/set.zip", "--mhchem"], "--format latex"),
        (
            &["--output", "/none/set.zip", "--select", "2"],
            "--select: 2 of 1 siblings",
        ),
        (
            &["--output", "/none/set.zip", "--select", "many"],
            "--select",
        ),
        (
            &["--output", "/none/set.zip", "--roster", "/none/roster.csv"],
            "--roster: a package has no sheet for each code",
        ),
        (&["--check", "/none/set.zip"], "--check: there is no file"),
        (
            &["--output", "/none/set.zip", "--count", "1"],
            "its folder does not exist",
        ),
        (
            &["--roster", "/none/roster.csv"],
            "--roster: there is no file",
        ),
        (&["--from", "/none/set.json"], "--from: there is no file"),
        (
            &["--from", "/none/set.json", "--seed", "2"],
            "cannot be used with",
        ),
        (&["--output", "/none/set.txt"], "its folder does not exist"),
        (
            &["--output", "set.PDF"],
            "--output: no format has the ending .pdf; give .txt, .md, .html, .tex, .json or .zip",
        ),
        (
            &[
                "--kind",
                "percent_water",
                "--salt",
                "SrCl2",
                "--level",
                "1",
                "--versions",
                "26",
            ],
            "version",
        ),
    ] {
        let ran = run(arguments);
        assert_eq!(
            (ran.status, &*ran.out),
            (2, ""),
            "{arguments:?}: {}",
            ran.err
        );
        ran.complains(complaint);
    }
    let set = sheet("set.json", "{}");
    let set = set.to_str().unwrap();
    run(&["--from", set, "--output", set]).complains("--from");
}

#[cfg(target_os = "linux")]
#[test]
fn a_bar_is_drawn_on_a_terminal_only() {
    use std::process::{Command, Stdio};
    let program = crate::program::built("problem_set", "problem_set");
    let line = format!(
        "{} --kind error_analysis --count 100 --format json > /dev/null",
        program.display()
    );
    // `script` runs a program on a terminal of its own.
    let mut command = Command::new("script");
    let command = command
        .args(["-qec", &line, "/dev/null"])
        .stdin(Stdio::null());
    let shown = command
        .output()
        .expect("`script` of util-linux starts")
        .stdout;
    let shown = String::from_utf8_lossy(&shown);
    assert!(shown.contains("of 100 problems"), "{shown}");
    assert!(shown.ends_with('\r'), "the line is cleared: {shown:?}");
}
