//! The pages of `answer_key`: the report on a class, and the strips.

use std::fs;
use std::path::{Path, PathBuf};

use effloresce::class::{Marked, Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::report::{write_feedback_html, write_key_markdown, write_report_html};

use crate::answer_key::{ISSUED, on, run};
use crate::page::text_of;
use crate::ran::{folder, names_in, words};

fn marked(text: &str) -> Marked {
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet)
}

/// The report and the strips of a class.
fn pages(marked: &Marked) -> [String; 2] {
    let mut pages = [String::new(), String::new()];
    let [report, strips] = &mut pages;
    write_report_html(marked, report).unwrap();
    write_feedback_html(marked, strips).unwrap();
    pages
}

/// The text of a page, with one space between words.
#[track_caller]
fn read(page: &str) -> String {
    words(&text_of(page).replace('\u{A0}', " "))
}

fn file(folder: &Path, name: &str) -> PathBuf {
    folder.join(name)
}

#[test]
fn the_report_has_all_that_the_key_has() {
    let here = folder("report");
    let page = file(&here, "report.html");
    let key = run(&["--html", page.to_str().unwrap(), "--markdown"]).quiet();
    let page = fs::read_to_string(page).unwrap();
    let text = read(&page);
    let mut compared = 0;
    for line in key.lines().filter(|line| !line.starts_with(['|', '#'])) {
        let line = words(&line.replace(['\\', '*'], "").replace('\u{A0}', " "));
        let line = line.trim_start_matches("- ");
        assert!(text.contains(line), "{line}: {text}");
        compared += 1;
    }
    assert!(compared > 60, "{compared}");
    for said in [
        "Report: loss on heating of MgSO4·7H2O",
        "An invented class",
        "Rows of the sheet: 13. Benches worked out: 11.",
        "Garnet, G1 The readings could not be worked out. 7 answers are still to be marked by hand.",
        "Beryl B1 2.684 g: correct [1] 1.372 g: correct [1]",
        "0.1431: wrong [0]",
        "missing [0]",
        "51.50 %: carried forward [1]",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    // A place in the room is not hydrogen.
    assert!(page.contains("<h3>Halite, H2</h3>") && page.contains("<bdi>H2</bdi>"));
    assert!(page.contains("MgSO<sub>4</sub>·7H<sub>2</sub>O</td>"));
    let whom = text
        .find("Whom to see first The most urgent first")
        .unwrap();
    assert!(whom < text.find("Results by bench").unwrap());
}

#[test]
fn the_ending_of_a_name_makes_strips_a_page() {
    let here = folder("strips_as_page");
    for (name, is_page) in [
        ("a.html", true),
        ("b.HTM", true),
        ("c.txt", false),
        ("html", false),
    ] {
        let path = file(&here, name);
        run(&["--feedback", path.to_str().unwrap()]).quiet();
        let strips = fs::read_to_string(path).unwrap();
        assert_eq!(strips.starts_with("<!DOCTYPE html>"), is_page, "{name}");
        if !is_page {
            continue;
        }
        let text = read(&strips);
        assert_eq!(strips.matches("<section class=\"card\">").count(), 13);
        assert!(strips.contains("break-inside: avoid"));
        for said in [
            "Halite, H1 (invented, for demonstration)",
            "[0] mole ratio 0.1431: the mole ratio upside down",
            "Calculation: 6 of 7 marks.",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
        // The value that the readings give is for the teacher.
        assert!(!text.contains("the bench's own readings give"));
    }
}

#[test]
fn a_report_is_a_page_by_its_name_and_replaces_nothing_else() {
    let here = folder("report_names");
    let path = |name: &str| file(&here, name).to_str().unwrap().to_string();
    let one = path("one.html");
    run(&["--html", &path("class.csv")]).complains("does not end in .html or .htm");
    run(&["--html", &one, "--feedback", &one])
        .complains("--feedback and --html name the same file");
    run(&["--html", &one, "--marks", &one]).complains("--marks and --html name the same file");
    for other in ["--during", "--before=x.toml"] {
        run(&["--html", &one, other]).complains("cannot be used with");
    }
    assert_eq!(names_in(&here), [""; 0]);
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n";
    fs::write(&one, text).unwrap();
    run(&[&one, ISSUED[0], ISSUED[1], "--html", &one]).complains("the sheet name the same file");
    assert_eq!(fs::read_to_string(&one).unwrap(), text);
}

#[test]
fn names_do_no_harm_on_a_page() {
    let arabic = "\u{627}\u{644}\u{641}\u{631}\u{64a}\u{642}";
    let long = "x".repeat(20_000);
    let mut text = String::from("bench,pupil,hydrate_g,residue_g,reported_ratio\n");
    for name in [
        "<script>alert(1)</script>",
        "\"a\" & 'b' <b>",
        "--><style>*{display:none}</style>",
        arabic,
        "\u{202e}evil\u{2066}",
        &long,
    ] {
        let cell = name.replace('"', "\"\"");
        text.push_str(&format!("\"{cell}\",\"{cell}\",2.666,1.303,\"{cell}\"\n"));
    }
    for page in pages(&marked(&text)) {
        let read = read(&page);
        assert_eq!(page.matches("<style>").count(), 1);
        assert_eq!(page.matches("</style>").count(), 1);
        for said in [
            "<script>alert(1)</script>",
            "\"a\" & 'b' <b>",
            "\\u{202e}evil\\u{2066}",
        ] {
            assert!(read.contains(said), "{said}");
        }
        assert!(page.contains(&format!("<bdi>{arabic}")), "turned apart");
        assert!(!page.contains(['\u{202e}', '\u{2066}']));
    }
}

#[test]
fn a_class_may_be_large_or_empty() {
    let head = "bench,pupil,hydrate_g,residue_g,reported_ratio\n";
    let [report, strips] = pages(&marked(head));
    assert!(read(&report).contains("The sheet has no rows."));
    read(&strips);
    let rows = (0..300).map(|row| format!("B{row},P{row},2.666,1.30{},5\n", row % 7));
    let [report, strips] = pages(&marked(&(head.to_string() + &rows.collect::<String>())));
    assert_eq!(report.matches("<section class=\"bench\"").count(), 300);
    assert_eq!(strips.matches("<section class=\"card\">").count(), 300);
    let text = read(&report);
    assert!(text.contains("288 more have less urgent reasons."));
    read(&strips);
}

#[test]
fn the_most_urgent_is_first() {
    let rows = "Finch,a,20.137,22.648,21.364,21.363,1.22,1.22\n\
                Wren,b,20.137,22.648,21.364,20.363,1.226,1.285\n\
                Lark,c,20.137,22.648,,,1.226,1.285\n\
                Rook,d,20.137,22.648,21.390,21.363,1.226,1.285\n\
                Tern,e,20.137,22.648,21.364,21.363,1.226,1.285\n\
                Crake,f,absent,,,,,\n";
    let head = "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_residue_g,reported_water_g\n";
    let [report, _] = pages(&marked(&(head.to_string() + rows)));
    let text = read(&report);
    let (_, first) = text.split_once("The most urgent first Who Why ").unwrap();
    let (first, _) = first.split_once(" All benches").unwrap();
    assert_eq!(
        first,
        "Wren, b A reading may be mistyped in the sheet. One answer is still to be marked by hand. x is an outlier. \
         Constant mass was not reached. \
         Lark, c The readings could not be worked out. 2 answers are still to be marked by hand. \
         Finch, a Marks: 0/2. \
         Rook, d Constant mass was not reached."
    );
    let good = marked(&format!(
        "{head}Tern,e,20.137,22.648,21.364,21.363,1.226,1.285\n"
    ));
    assert!(read(&pages(&good)[0]).contains("Nobody stands out."));
    let sheet = "bench,hydrate_g,residue_g\nHeron,2.666,2.345\n";
    let path = folder("forbidden").join("r.html");
    let ran = on(
        "forbidden.csv",
        sheet,
        &[
            "--issued",
            "Na2Cr2O7·2H2O",
            "--html",
            path.to_str().unwrap(),
        ],
    );
    assert_eq!(ran.status, 0, "{}", ran.err);
    let text = read(&fs::read_to_string(path).unwrap());
    assert!(
        text.contains("Heron The salt must not be heated in a school at all."),
        "{text}"
    );
    // The cautions come before all else but the contents.
    let caution = text.find("Na2Cr2O7 must not be heated").unwrap();
    assert!(
        caution < text.find("Theory").unwrap() && caution < 300,
        "{text}"
    );
    let mut key = String::new();
    write_key_markdown(&good, &mut key).unwrap();
    assert!(!key.contains("Whom to see"), "only the page has it");
}
