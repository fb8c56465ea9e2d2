//! The program `plan_lab`, run as a teacher runs it, and every file that it writes.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use effloresce::class::{Problem, Sheet};
use serde_json::Value;

use crate::answer_key::{self, ISSUED};
use crate::page::text_of;
use crate::ran::{Ran, folder, names_in, run_program, sheet, words};

fn run(arguments: &[&str]) -> Ran {
    run_program("plan_lab", arguments)
}

fn with<'a>(first: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [first, more].concat()
}

/// Writes the paper with these options, and reads every file.
#[track_caller]
fn paper(name: &str, arguments: &[&str]) -> BTreeMap<String, String> {
    let lesson = folder(name).join("lesson");
    let all = with(arguments, &["--paper", lesson.to_str().unwrap()]);
    run(&all).quiet();
    let names = names_in(&lesson).into_iter();
    let read = |name: String| {
        let text = fs::read_to_string(lesson.join(&name)).unwrap();
        (name, text)
    };
    names.map(read).collect()
}

#[test]
fn without_arguments_it_plans_an_invented_class() {
    let plan = run(&[]).quiet();
    let said = words(&plan);
    for text in [
        "Plan: loss on heating of MgSO4·7H2O An invented class, for demonstration. Loss on heating gives the x of \
         MgSO4·7H2O.",
        "Each bench weighs out 1.60 g to 2.40 g of MgSO4·7H2O on a balance that shows 0.01 g.",
        // 1.60 g × 120.361/246.466.
        "1.60 g of hydrate leaves 0.78 g of MgSO4 and loses 0.82 g.",
        // 12 × 2.40 g × 1.2 = 34.56 g.
        "Have 34.6 g of the hydrate ready: 12 benches, each with the greatest mass, and 20 % spare.",
        // In proportion to the step of the balance; `tests/house/plan.rs` has the calculation for 0.01 g.
        "0.1 3.962 15.96 1 0.01 0.3962 1.596 1 0.001 0.03962 0.1596 1",
        "12 benches × 4 weighings ÷ 3 balances = 16 weighings at each balance. At 2 min each, this takes 32 min.",
    ] {
        assert!(said.contains(text), "{text}:\n{plan}");
    }
    // The cautions come before everything else.
    let caution = said.find("Wear eye protection").unwrap();
    assert!(caution < said.find("Weigh out").unwrap(), "{plan}");
    assert!(said.contains("The safety data sheet of the salt"), "{plan}");
}

/// The pages of the invented class say that it is invented.
#[test]
fn the_invented_class_has_paper_too() {
    let files = paper("invented", &[]);
    let pages = files
        .iter()
        .filter(|(name, _)| name.ends_with("ml") || name.ends_with(".md"));
    assert_eq!(pages.clone().count(), 6);
    for (name, text) in pages {
        assert!(
            text.contains("An invented class, for demonstration."),
            "{name}"
        );
    }
    assert_eq!(files["class_sheet.csv"].lines().count(), 13);
}

#[test]
fn a_name_is_read_as_a_formula_is() {
    let more = ["--benches", "8", "--readability", "1 mg"];
    let of = |hydrate| run(&with(&["--issued", hydrate], &more)).quiet();
    let plan = of("MgSO4.7H2O");
    assert_eq!(plan, of("magnesium sulfate heptahydrate"));
    assert!(!plan.contains("invented"), "{plan}");
    assert!(
        plan.contains("Each bench weighs out 1.000 g to 1.500 g"),
        "{plan}"
    );
    let of_salt = |salt| run(&["--salt", salt]).quiet();
    assert_eq!(of_salt("magnesium sulfate"), of_salt("MgSO4"));
    let said = words(&of_salt("MgSO4"));
    assert!(
        said.contains("This plan is for MgSO4·7H2O, the highest known"),
        "{said}"
    );
}

/// 249.677 g of CuSO4·5H2O leave 177.617 g of CuSO4·H2O.
#[test]
fn a_class_may_heat_to_a_lower_hydrate() {
    let lower = [
        "--issued",
        "CuSO4·5H2O",
        "--residue",
        "CuSO4·H2O",
        "--benches",
        "2",
    ];
    let files = paper("lower", &lower);
    let plan = words(&files["plan.md"].replace('\u{A0}', " "));
    assert!(plan.contains("plus 0.7114 × the mass of hydrate"), "{plan}");
    assert!(
        plan.contains("Do not heat CuSO4·H2O above about 200 °C. From there, it loses more water."),
        "{plan}"
    );
    assert!(
        plan.contains("CuSO4·5H2O → CuSO4·3H2O: 97 to 102 °C, warming curve"),
        "{plan}"
    );
    let pupils = words(&files["pupils.md"]);
    for said in [
        "Then CuSO4·H2O is left.",
        "Some water stays in CuSO4·H2O, so add 1.",
    ] {
        assert!(pupils.contains(said), "{pupils}");
    }
    // The practice bench has another salt.
    assert!(pupils.contains("about another salt, MgSO4."), "{pupils}");
    let command = "answer_key class_sheet.csv --issued 'CuSO4·5H2O' --residue 'CuSO4·H2O'";
    assert!(files["key.md"].contains(command), "{}", files["key.md"]);
}

#[test]
fn json_is_the_reply_of_the_filter() {
    let text = run(&with(&ISSUED, &["--benches", "12", "--json"])).quiet();
    let plan: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(plan["weigh_between"], serde_json::json!(["1.60", "2.40"]));
    assert_eq!(plan["limits"]["relative"], "1.596");
    assert_eq!(plan["total_mass"], "34.56");
    let of_two = plan["samples"]
        .as_array()
        .unwrap()
        .iter()
        .find(|sample| sample["hydrate"] == "2");
    let of_two = of_two.unwrap();
    assert!(of_two["residue"].as_str().unwrap().starts_with("0.976"));
    assert_eq!(
        of_two["expanded_uncertainties"].as_array().unwrap().len(),
        4
    );
    assert_eq!(plan["heating"][0]["from"], "MgSO4·7H2O");
    assert!(plan["heating"][0]["celsius"][0].is_u64());
    // 12 benches × 4 weighings ÷ 2 balances, 2 min each.
    let time = serde_json::json!({"weighings_at_each": 24, "minutes": 48});
    assert_eq!(plan["time_at_the_balances"], time);
    // Nothing says how to heat what must not be heated.
    let forbidden = run(&["--issued", "Ba(ClO4)2·3H2O", "--json"]);
    let plan: Value = serde_json::from_str(&forbidden.quiet()).unwrap();
    assert_eq!(
        (&plan["hazard"], &plan["heating"]),
        (&"forbidden".into(), &serde_json::json!([]))
    );
    assert_eq!(plan["time_at_the_balances"], Value::Null);
}

#[test]
fn the_paper_has_every_page_twice() {
    let files = paper("paper", &with(&ISSUED, &["--benches", "12"]));
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    let expected = [
        "class_sheet.csv",
        "key.html",
        "key.md",
        "plan.html",
        "plan.md",
        "plan.svg",
        "pupils.html",
        "pupils.md",
    ];
    assert_eq!(names, expected);
    for (page, texts) in [
        (
            "plan",
            &[
                "Weigh out",
                "1.60 g to 2.40 g",
                "Sample masses",
                "weighings at each balance",
            ][..],
        ),
        (
            "pupils",
            &[
                "Safety",
                "Waste",
                "Questions before the lesson",
                "Your results",
                "Bench 12",
                "The reading is 1.60 g to 2.40 g higher.",
            ],
        ),
        (
            "key",
            &[
                "Answers",
                "2.50 g − 1.60 g = 0.90 g",
                "36 %",
                "The mass changed by 0.03 g",
            ],
        ),
    ] {
        let markdown = words(&files[&format!("{page}.md")]);
        let html = &files[&format!("{page}.html")];
        let seen = words(&text_of(html)).replace('\u{A0}', " ");
        for text in texts {
            assert!(markdown.contains(text), "{page}: {text}\n{markdown}");
            assert!(seen.contains(text), "{page}: {text}\n{seen}");
        }
        for text in [&markdown, &seen] {
            let caution = text.find("Wear eye protection").unwrap();
            assert!(caution < 300, "the cautions are first: {text}");
        }
    }
    assert!(files["plan.md"].contains("](plan.svg)"));
    assert!(files["plan.html"].contains("<svg "));
    assert!(files["key.html"].contains("CuSO<sub>4</sub>·5H<sub>2</sub>O"));
    // One card for each bench.
    assert_eq!(
        files["pupils.html"]
            .matches("<section class=\"card\">")
            .count(),
        12
    );
    assert_eq!(files["pupils.md"].matches("\n### Bench ").count(), 12);
}

#[test]
fn the_picture_is_svg_with_words_for_those_who_do_not_see_it() {
    let files = paper(
        "picture",
        &with(&ISSUED, &["--benches", "2", "--readability", "0.02"]),
    );
    let svg = &files["plan.svg"];
    let mut reader = quick_xml::Reader::from_str(svg);
    let mut shapes: BTreeMap<Vec<u8>, usize> = BTreeMap::new();
    let mut label = None;
    loop {
        use quick_xml::events::Event;
        match reader.read_event().unwrap() {
            Event::Eof => break,
            Event::Start(tag) | Event::Empty(tag) => {
                *shapes.entry(tag.name().as_ref().to_vec()).or_default() += 1;
                let named = tag.try_get_attribute("aria-label").unwrap();
                label =
                    label.or(named.map(|named| String::from_utf8(named.value.to_vec()).unwrap()));
            }
            _ => {}
        }
    }
    let label = label.expect("words for those who do not see it");
    for said in [
        "0.1 g, 0.02 g, 0.01 g, 0.001 g, 0.0001 g",
        "3.20 g to 4.80 g",
        "MgSO4·6H2O",
    ] {
        assert!(label.contains(said), "{label}");
    }
    // Five lines, told apart by marks as well as by colour.
    for name in [
        "balance that shows 0.02 g",
        "balance that shows 0.0001 g",
        "mass of hydrate / g",
    ] {
        assert!(svg.contains(name), "{name}");
    }
    let count = |shape: &str| shapes.get(shape.as_bytes()).copied().unwrap_or(0);
    assert!(count("circle") > 20 && count("polygon") > 10, "{shapes:?}");
    // The page shows the same words.
    assert!(files["plan.md"].contains(&label), "{}", files["plan.md"]);
}

#[test]
fn the_empty_sheet_is_read_and_marked_as_it_is() {
    let options = ["--benches", "12", "--heatings", "3"];
    let csv = &paper("empty_sheet", &with(&ISSUED, &options))["class_sheet.csv"];
    let sheet_read = Sheet::read(csv.as_bytes()).unwrap();
    assert_eq!(sheet_read.rows().len(), 12);
    // All that is missing is readings.
    let problems = sheet_read.problems().iter();
    let codes: Vec<&str> = problems.map(Problem::code).collect();
    assert_eq!(codes, ["no_readings"; 12]);
    assert_eq!(sheet_read.notes().len(), 0, "{:?}", sheet_read.notes());
    for (row, number) in sheet_read.rows().iter().zip(1..) {
        assert_eq!(row.bench(), format!("Bench {number}"));
        let issued = row.issued_formula().unwrap().unwrap();
        assert_eq!(issued, "MgSO4·7H2O".parse().unwrap());
    }
    let header = csv.lines().next().unwrap();
    assert!(
        header.contains(",heated_3_g,reported_hydrate_g,"),
        "{header}"
    );
    // Filled in, it is marked without any problem.
    let filled = csv.lines().enumerate().map(|(line, row)| match line {
        0 => row.to_string(),
        _ => row.replacen(
            "0.01,,,,,,,,,,,,,",
            "0.01,21.35,24.02,22.66,22.65,22.65,2.67,1.30,1.37,51.3,0.0108,0.0760,7.04,MgSO4.7H2O",
            1,
        ),
    });
    let filled: Vec<String> = filled.collect();
    let path = sheet("filled.csv", &filled.join("\n"));
    let key = answer_key::run(&with(&[path.to_str().unwrap()], &ISSUED)).quiet();
    assert_eq!(
        key.matches("Calculation: 8 of 8 marks.").count(),
        12,
        "{key}"
    );
}

/// The pages for pupils keep x open, and their sentences are short.
#[test]
fn pupils_read_short_sentences_that_do_not_say_x() {
    for hydrate in [
        "MgSO4·7H2O",
        "CuSO4·5H2O",
        "BaCl2·2H2O",
        "CaSO4·2H2O",
        "NiCl2·6H2O",
        "CoCl2·6H2O",
        "Na2CO3·10H2O",
        "KAl(SO4)2·12H2O",
        "NaC2H3O2·3H2O",
        "CuCl2·2H2O",
        "Na2HPO4·12H2O",
        "Al2(SO4)3·18H2O",
    ] {
        let arguments = ["--issued", hydrate, "--benches", "2"];
        let files = paper("pupils", &arguments);
        let pupils = &files["pupils.md"];
        assert!(!pupils.contains(hydrate), "{pupils}");
        for line in pupils.lines().map(|line| line.replace('\u{A0}', " ")) {
            let cells = line
                .split(" | ")
                .flat_map(|cell| cell.split(['.', '?']).map(words).collect::<Vec<_>>());
            for sentence in cells {
                let count = sentence
                    .split(' ')
                    .filter(|word| word.chars().any(char::is_alphanumeric))
                    .count();
                assert!(count <= 20, "{count} words: {sentence}");
            }
        }
    }
}

#[test]
fn the_scatter_of_an_earlier_class_counts() {
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\nWren,2.701,1.330\nFinch,2.688,1.315\n\
                Rook,2.640,1.280\nLark,2.655,1.300\n";
    let earlier = sheet("earlier.csv", text);
    let arguments = with(&ISSUED, &["--earlier", earlier.to_str().unwrap()]);
    let plan = words(&run(&arguments).quiet());
    let said = "The scatter of 5 benches of an earlier class gives a repeatability of 0.";
    assert!(plan.contains(said), "{plan}");
    // A class that agrees better than usual says so, with its own figure.
    let text = "bench,hydrate_g,residue_g\nHeron,2.6660,1.3019\nWren,2.7010,1.3190\nFinch,2.6880,1.3127\n\
                Rook,2.6400,1.2893\nLark,2.6550,1.2966\n";
    let close = sheet("close.csv", text);
    let of_close = run(&with(&ISSUED, &["--earlier", close.to_str().unwrap()]));
    let of_close = words(&of_close.quiet());
    let said = "The scatter of 5 benches of an earlier class, without that of the balance, is less than 0.01 % of the water. The \
                plan takes 0.30 %, the usual repeatability (common practice, no source), because a small class may agree \
                by chance.";
    assert!(of_close.contains(said), "{of_close}");
    // The same repeatability, given by hand.
    let (_, rest) = plan.split_once("gives a repeatability of ").unwrap();
    let percent = rest.split(' ').next().unwrap();
    let by_hand = words(&run(&with(&ISSUED, &["--repeatability", percent])).quiet());
    let limits = |plan: &str| plan.split_once("Practical/g").unwrap().1[..60].to_string();
    assert_eq!(limits(&plan), limits(&by_hand));
    let few = sheet("few.csv", "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n");
    let ran = run(&with(&ISSUED, &["--earlier", few.to_str().unwrap()]));
    ran.complains("fewer than five benches");
}

#[test]
fn nothing_is_replaced_unless_it_may_be() {
    let here = folder("replaced");
    let lesson = here.join("lesson");
    let lesson = lesson.to_str().unwrap();
    let arguments = with(&ISSUED, &["--benches", "2", "--paper", lesson]);
    fs::create_dir(lesson).unwrap();
    let key = Path::new(lesson).join("key.md");
    fs::write(&key, "mine").unwrap();
    let ran = run(&arguments);
    ran.complains("key.md exists already; choose another folder, or add --replace");
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    assert_eq!(names_in(&lesson.into()), ["key.md"]);
    assert_eq!(fs::read_to_string(&key).unwrap(), "mine");
    run(&with(&arguments, &["--replace"])).quiet();
    assert!(fs::read_to_string(&key).unwrap().starts_with("# Answers"));
    assert_eq!(names_in(&lesson.into()).len(), 8);
    // Pages for pupils of another plan are not left beside a plan that has none.
    let unknown = [
        "--issued",
        "Nd2(SO4)3·8H2O",
        "--benches",
        "2",
        "--paper",
        lesson,
        "--replace",
    ];
    run(&unknown).complains(
        "pupils.md is of an earlier paper, and this plan has none of it; choose another folder",
    );
    // The earlier class stays.
    let earlier = Path::new(lesson).join("class_sheet.csv");
    let text = "bench,hydrate_g,residue_g\nA,2.666,1.303\nB,2.7,1.33\nC,2.688,1.315\nD,2.64,1.28\nE,2.655,1.3\n";
    fs::write(&earlier, text).unwrap();
    let more = ["--replace", "--earlier", earlier.to_str().unwrap()];
    run(&with(&arguments, &more)).complains("name the same file");
    assert_eq!(fs::read_to_string(&earlier).unwrap(), text);
    let nowhere = here.join("no").join("lesson");
    let arguments = with(
        &ISSUED,
        &["--benches", "2", "--paper", nowhere.to_str().unwrap()],
    );
    run(&arguments).complains("the folder could not be made");
    let file = Path::new(lesson).join("key.md");
    let arguments = with(
        &ISSUED,
        &["--benches", "2", "--paper", file.to_str().unwrap()],
    );
    run(&arguments).complains("it is a file; give the name of a folder");
}

#[test]
fn wrong_input_is_told_in_one_sentence() {
    for (arguments, said) in [
        (
            &["--benches", "12"][..],
            "the hydrate is missing; give it, such as --issued 'MgSO4·7H2O'",
        ),
        (
            &["--issued", "MgSO4"],
            "--issued: MgSO4 is not a hydrate with a known number of waters",
        ),
        (
            &["--issued", "KClO3"],
            "KClO3 is not a hydrate with a known number of waters, and it must not be heated in a school at all; give",
        ),
        (
            &["--issued", "CoCl2"],
            "CoCl2 is not a hydrate with a known number of waters, and it may only be heated in a fume cupboard; give",
        ),
        (
            &["--salt", "(NH4)2Cr2O7"],
            "no hydrate of (NH4)2Cr2O7 is known, and it must not be heated in a school at all; give",
        ),
        (
            &["--issued", "UrSO4·7H2O"],
            "--issued: `Ur` is not the symbol of an element",
        ),
        (
            &["--salt", "MgSO4·7H2O"],
            "--salt: MgSO4·7H2O is already a hydrate",
        ),
        (
            &["--salt", "NaCl"],
            "--salt: no hydrate of NaCl is known; give the hydrate that you have",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--salt", "MgSO4"],
            "cannot be used with",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--readability", "0"],
            "--readability: a balance cannot have",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--readability", "fine"],
            "--readability: `fine`",
        ),
        (&["--issued", "MgSO4·7H2O", "--benches", "0"], "--benches"),
        (
            &["--issued", "MgSO4·7H2O", "--spare", "-5"],
            "--spare: -5 % is not a spare",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--residue", "CuSO4"],
            "--residue: CuSO4 is not a residue of MgSO4",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--paper", "lesson"],
            "--paper: the number of benches is missing; give it, such as --benches 12",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--earlier", "no.csv"],
            "there is no file no.csv; check its name",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--repeatability", "200"],
            "--repeatability: 200 is not from 0 to 100",
        ),
    ] {
        let ran = run(arguments);
        ran.complains(said);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{arguments:?}");
    }
}

/// Pupils are not told to heat a salt whose loss does not give x. The teacher gets the plan, with the reason.
#[test]
fn a_salt_that_does_not_suit_has_no_pages_for_pupils() {
    for (hydrate, reason) in [
        ("H2C2O4·2H2O", "the acid sublimes"),
        ("MgCl2·6H2O", "hydrogen chloride"),
        ("FeSO4·7H2O", "oxygen"),
    ] {
        let files = paper("unfit", &["--issued", hydrate, "--benches", "2"]);
        let names: Vec<&str> = files.keys().map(String::as_str).collect();
        assert_eq!(names, ["plan.html", "plan.md", "plan.svg"], "{hydrate}");
        let plan = words(&files["plan.md"]);
        let first = format!(
            "# Plan: loss on heating of {hydrate} Loss on heating does not give the x of {hydrate}, for the reasons \
             below. Choose another salt. There are no pages for pupils, and no answers."
        );
        let plan = plan.replace('\u{A0}', " ");
        assert!(plan.starts_with(&first), "{plan}");
        assert!(plan.contains(reason), "{plan}");
    }
}

/// How hot the salt may become is on the safety page, on each card, and in the plan with its source.
#[test]
fn the_paper_says_how_hot_the_salt_may_become() {
    let options = ["--benches", "2"];
    for (issued, limit, source, said) in [
        (
            &["--issued", "MgSO4·7H2O"][..],
            "Do not heat MgSO4 above about 800 °C.",
            "The limit of 800 °C: ",
            "Up to there, it does not decompose.",
        ),
        (
            &["--issued", "CuSO4·5H2O", "--residue", "CuSO4·H2O"],
            "Do not heat CuSO4·H2O above about 200 °C.",
            "The limit of 200 °C: ",
            "From there, it loses more water.",
        ),
    ] {
        let files = paper("hottest", &with(issued, &options));
        let text = |name: &str| files[name].replace('\u{A0}', " ");
        // Once in the cautions and once on each of two cards.
        assert_eq!(text("pupils.md").matches(limit).count(), 3, "{limit}");
        assert_eq!(text("pupils.md").matches(" above about ").count(), 3);
        for page in ["plan.md", "key.md", "pupils.md"] {
            assert!(text(page).contains(&format!("{limit} {said}")), "{page}");
        }
        assert!(text("plan.md").contains(source), "{source}");
    }
}

/// Pupils who heat to a lower hydrate practise with one, and add the water that stays.
#[test]
fn a_class_that_heats_to_a_lower_hydrate_practises_it() {
    let issued = ["--issued", "CuSO4·5H2O", "--residue", "CuSO4·H2O"];
    let files = paper("lower_practice", &with(&issued, &["--benches", "2"]));
    let text = |name: &str| files[name].replace('\u{A0}', " ");
    let (pupils, key) = (text("pupils.md"), text("key.md"));
    // 2.50 g × 138.376/246.466; 1.10 g/18.015 g and 1.40 g/138.376 g.
    let question = "2.50 g of MgSO4·xH2O leaves 1.40 g of MgSO4·H2O. What mass of water leaves?";
    for page in [&pupils, &key] {
        assert!(page.contains(question), "{page}");
        assert!(page.contains("Add 1 for the water that stays."), "{page}");
    }
    let task = "Divide the amount of water by the amount of CuSO4·H2O. Some water stays in CuSO4·H2O, so add 1. This \
                is x.";
    assert!(pupils.contains(task), "{pupils}");
    assert!(
        key.contains("1 + 0.061060 mol / 0.010117 mol = 7.04"),
        "{key}"
    );
    let pupils = &paper("whole", &with(&ISSUED, &["--benches", "2"]))["pupils.md"];
    let pupils = pupils.replace('\u{A0}', " ");
    let task = "Divide the amount of water by the amount of MgSO4. This is x.";
    assert!(pupils.contains(task), "{pupils}");
    let until = "until two readings in a row differ by 0.02 g or less";
    assert!(pupils.contains(until), "{pupils}");
    // The card of one heating has no second reading.
    let once = ["--benches", "2", "--heatings", "1"];
    let pupils = &paper("once", &with(&ISSUED, &once))["pupils.md"];
    assert!(
        pupils.contains("You heat, cool and weigh once."),
        "{pupils}"
    );
    assert!(!pupils.contains("until two readings in a row"), "{pupils}");
}

/// No crucible holds what a coarse balance needs of a salt with little water: twice √2 · 0.1/√12 g is 1 % of
/// 8.165 g of water, which is in 8.165 g · 244.26/36.03 = 55.4 g.
#[test]
fn too_much_for_a_crucible_names_a_finer_balance() {
    let coarse = ["--issued", "BaCl2·2H2O", "--readability", "0.1"];
    let plan = words(&run(&coarse).quiet());
    let said = "55.4 g of hydrate is too much for a usual crucible (more than 10 g; common practice, no source). It \
                spits more, makes more dust and heats through slowly. Choose a finer balance. With one that shows \
                0.01 g, 5.54 g is enough.";
    assert!(plan.contains(said), "{plan}");
    let plan = words(&run(&with(&coarse[..2], &["--readability", "0.01"])).quiet());
    assert!(!plan.contains("too much"), "{plan}");
}

/// A larger coverage factor asks for more hydrate: three quarters of it for 1.5 instead of 2.
#[test]
fn the_coverage_factor_sets_the_limits() {
    let with_factor = |factor| run(&with(&ISSUED, &["--coverage", factor]));
    let plan = words(&with_factor("1.5").quiet());
    // 1.596 g × 1.5/2.
    assert!(plan.contains("With less than 1.197 g,"), "{plan}");
    with_factor("0").complains("--coverage: 0 is not a coverage factor");
    with_factor("wide").complains("--coverage: `wide`");
}

/// A salt that must not be heated has no paper, and its plan says so first and nothing else.
#[test]
fn a_forbidden_salt_has_no_paper() {
    let lesson = folder("forbidden").join("lesson");
    let dichromate = ["--issued", "Na2Cr2O7·2H2O", "--benches", "2"];
    let plan = run(&dichromate).quiet();
    let first = "Plan: loss on heating of Na2Cr2O7·2H2O\nNa2Cr2O7·2H2O must not be heated in a school at all. Choose \
                 another salt.\n";
    assert!(plan.starts_with(first), "{plan}");
    assert!(!plan.contains("weighs out"), "{plan}");
    let ran = run(&with(&dichromate, &["--paper", lesson.to_str().unwrap()]));
    ran.complains("must not be heated in a school at all");
    ran.complains("So there is no paper for it; choose another salt");
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    assert!(!lesson.exists());
}

#[test]
fn a_plan_says_first_whether_the_salt_suits() {
    for (hydrate, said) in [
        (
            "Ba(OH)2·8H2O",
            "Loss on heating does not give the x of Ba(OH)2·8H2O, for the reasons below.",
        ),
        (
            "NiCl2·6H2O",
            "Loss on heating gives the x of NiCl2·6H2O. Heat it only in a fume cupboard.",
        ),
        (
            "RbCl·2H2O",
            "It is not known here whether loss on heating gives the x of RbCl·2H2O.",
        ),
    ] {
        let plan = words(&run(&["--issued", hydrate]).quiet());
        let start = format!("Plan: loss on heating of {hydrate} {said}");
        assert!(plan.starts_with(&start), "{plan}");
    }
    let files = paper("cupboard", &["--issued", "NiCl2·6H2O", "--benches", "2"]);
    let on_card = "Wear eye protection. Heat only in the fume cupboard.";
    assert_eq!(files["pupils.md"].matches(on_card).count(), 2);
}

/// Nobody hands a salt to pupils of which nothing is known, or more of it than a crucible holds.
#[test]
fn what_is_not_known_or_too_much_has_no_pages_for_pupils() {
    for (options, said) in [
        (
            &["--issued", "Nd2(SO4)3·8H2O"][..],
            "It is not known here whether loss on heating gives the x of Nd2(SO4)3·8H2O. So there are no pages for \
             pupils, and no answers.",
        ),
        (
            &["--issued", "MgHPO4·3H2O"],
            "It is not known here whether loss on heating gives the x of MgHPO4·3H2O. So there are no pages for pupils, \
             and no answers.",
        ),
        (
            &["--issued", "MgSO4·7H2O", "--readability", "0.1"],
            "On this balance, each bench would heat too much for a usual crucible. So there are no pages for pupils, \
             and no answers.",
        ),
    ] {
        let files = paper("plan_only", &with(options, &["--benches", "2"]));
        let names: Vec<&str> = files.keys().map(String::as_str).collect();
        assert_eq!(names, ["plan.html", "plan.md", "plan.svg"], "{options:?}");
        let plan = words(&files["plan.md"]).replace('\u{A0}', " ");
        assert!(plan.contains(said), "{plan}");
    }
}

/// Whether pupils may handle what may cause cancer or harm the unborn is said before everything else.
#[test]
fn who_may_handle_a_salt_that_harms_for_life_is_said_first() {
    for salt in [
        "CoCl2·6",
        "NiSO4·6",
        "K2Ni(SO4)2·6",
        "NiC2O4·2",
        "Na2B4O7·10",
    ] {
        let hydrate = format!("{salt}H2O");
        let files = paper("harms", &["--issued", &hydrate, "--benches", "2"]);
        let (salt, _) = salt.split_once('·').unwrap();
        let text = |name: &str| words(&files[name]).replace('\u{A0}', " ");
        for page in ["plan.md", "key.md"] {
            let page = text(page);
            let said = page.find("decides by the local rules whether pupils may handle it. If they may not, demonstrate");
            assert!(said < page.find("## Safety") && said.is_some(), "{page}");
        }
        let pupils = text("pupils.md");
        let first = format!(
            "## Safety - Your teacher decides by the local rules whether you may handle {salt}."
        );
        assert!(pupils.contains(&first), "{pupils}");
        let on_card = format!("Handle {salt} only if your teacher allows it.");
        assert_eq!(pupils.matches(&on_card).count(), 2, "{pupils}");
    }
    let files = paper("harmless", &with(&ISSUED, &["--benches", "2"]));
    assert!(!files["plan.md"].contains("local rules whether"));
    assert!(!files["pupils.md"].contains("only if your teacher"));
}

/// A limit that a burner can exceed comes with the means to keep it.
#[test]
fn a_card_says_how_to_stay_below_the_limit() {
    for (hydrate, limit, how) in [
        (
            "CuSO4·5H2O",
            "Do not heat CuSO4 above about 400 °C.",
            "Use a small flame. Do not let the crucible glow. Stop if you see this sign of too much heat: it turns",
        ),
        (
            "Al2(SO4)3·18H2O",
            "Do not heat Al2(SO4)3 above about 430 °C.",
            "Use a small flame. Do not let the crucible glow.",
        ),
        (
            "CuCl2·2H2O",
            "Do not heat CuCl2 above about 200 °C.",
            "Use an oven or a hot plate with a thermometer, not a burner.",
        ),
    ] {
        let files = paper("below", &["--issued", hydrate, "--benches", "2"]);
        let text = |name: &str| words(&files[name]).replace('\u{A0}', " ");
        let pupils = text("pupils.md");
        assert!(
            pupils.matches(&format!("{limit} {how}")).count() >= 2,
            "{pupils}"
        );
        let has_glow = text("plan.md").contains("A crucible glows from about 525 °C");
        assert_eq!(has_glow, !how.contains("oven"), "{hydrate}");
    }
}

/// Each row says what follows from its check, and no card goes on after two readings that agree.
#[test]
fn a_card_says_when_to_stop_heating() {
    let four = ["--benches", "1", "--heatings", "4"];
    let pupils = &paper("four", &with(&ISSUED, &four))["pupils.md"];
    let pupils = pupils.replace('\u{A0}', " ");
    let stop = "| Do the last two readings differ by 0.02 g or less? Then stop heating. If not, heat again. |";
    assert_eq!(pupils.matches(stop).count(), 2, "{pupils}");
    let tell = "| The last two readings differ by 0.02 g or less. If not, tell your teacher. |";
    assert_eq!(pupils.matches(tell).count(), 1, "{pupils}");
    // One heating has nothing to compare, and the teacher is told so.
    let files = paper(
        "one",
        &with(&ISSUED, &["--benches", "1", "--heatings", "1"]),
    );
    let pupils = words(&files["pupils.md"]);
    assert!(!pupils.contains("weigh until two"), "{pupils}");
    assert!(pupils.contains("This does not show whether all the water has left."));
    let said = "Each sample is heated once, so nothing shows whether all the water has left. Heat each at least twice.";
    assert!(words(&files["plan.md"]).contains(said));
}

#[test]
fn a_criterion_finer_than_the_balance_is_told() {
    let plan = |criterion| words(&run(&with(&ISSUED, &["--constant-mass", criterion])).quiet());
    let said = "The criterion for constant mass (0.001 g) is finer than the smallest step of the balance (0.01 g).";
    assert!(plan("0.001").contains(said), "{}", plan("0.001"));
    assert!(!plan("0.01").contains("is finer than"));
}

/// A degree to which x might be rounded is not sold as a hydrate.
#[test]
fn the_nearest_other_is_a_hydrate_only_if_one_is_known() {
    let plan = |hydrate| words(&run(&["--issued", hydrate]).quiet());
    let said = "CuSO4·6H2O, the nearest formula to which x could be rounded. No such hydrate is known here.";
    assert!(plan("CuSO4·5H2O").contains(said), "{}", plan("CuSO4·5H2O"));
    let said = "enough to distinguish NiSO4·6H2O from NiSO4·7H2O, the nearest other hydrate.";
    assert!(plan("NiSO4·6H2O").contains(said), "{}", plan("NiSO4·6H2O"));
}
