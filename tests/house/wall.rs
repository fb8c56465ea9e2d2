//! The page for the wall: what the class found, and nothing that names a pupil.

use std::fs;

use crate::answer_key::{ISSUED, run};
use crate::ran::{folder, sheet};
use crate::source::repository;

/// The page for the wall of a class sheet.
fn wall(name: &str, text: &str) -> String {
    wall_with(name, text, &ISSUED)
}

fn wall_with(name: &str, text: &str, options: &[&str]) -> String {
    let sheet = sheet(name, text);
    let page = folder(&format!("page_{name}")).join("wall.html");
    let arguments = [sheet.to_str().unwrap(), "--project", page.to_str().unwrap()];
    let ran = run(&[&arguments[..], options].concat());
    // A sheet may have problems.
    assert!(ran.status < 2, "{}", ran.err);
    fs::read_to_string(page).unwrap()
}

/// The text of a page between its elements, without its style.
fn text_of(page: &str) -> String {
    let (_, body) = page.split_once("<body>").unwrap();
    let parts = body.split('<').skip(1);
    let texts: Vec<&str> = parts
        .filter_map(|part| part.split_once('>'))
        .map(|(_, text)| text)
        .collect();
    let words: Vec<&str> = texts
        .iter()
        .flat_map(|text| text.split_whitespace())
        .collect();
    words.join(" ")
}

#[test]
fn the_page_for_the_wall_has_benches_and_no_pupils_answers_or_marks() {
    let page = folder("wall").join("wall.html");
    run(&["--project", page.to_str().unwrap()]).quiet();
    let page = fs::read_to_string(page).unwrap();
    let text = text_of(&page);
    for word in [
        "Agate",
        "Lazulite",
        "6.989",
        "An invented class",
        "Wear eye protection",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
    let demonstration = repository().join("examples/data/demonstration_class.csv");
    let demonstration = fs::read_to_string(demonstration).unwrap();
    let words: Vec<&str> = text.split(' ').collect();
    for row in demonstration.lines().skip(2) {
        let cells: Vec<&str> = row.split(',').collect();
        assert!(!words.contains(&cells[1]), "{row}");
        assert!(cells[9].is_empty() || !text.contains(cells[9]), "{row}");
    }
    for word in ["Marks", "marks", "correct", "wrong", "104.3", "0.1431"] {
        assert!(!page.contains(word), "{word}");
    }
    for outside in [
        "http:", "https:", "<script", "<link", "url(", "@import", " src=",
    ] {
        let page = page.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
        assert!(!page.contains(outside), "{outside}");
    }
    // Every picture says what it shows.
    let pictures = page.matches("<svg ").count();
    assert_eq!(pictures, 2);
    assert_eq!(page.matches("role=\"img\" aria-label=\"").count(), pictures);
}

#[test]
fn benches_that_are_named_like_pupils_are_numbered() {
    let text = "bench,pupil,balance,period,notes,shoe size,hydrate_g,residue_g\n\
                Zadie Quill,Zadie Quill,Quill's,Zadie,Zadie was late,41,2.666,1.303\n\
                Window,Orrin Vale,B2,1,Orrin spilt it,43,2.701,1.319\n\
                Door,Mirela Thorn,B2,1,ask Mirela,44,2.688,1.31\n";
    let page = wall("wall_pupils.csv", text);
    for word in [
        "Zadie", "Quill", "Orrin", "Vale", "Mirela", "Thorn", "was late", "spilt", "shoe", "Window",
    ] {
        assert!(!page.contains(word), "{word}");
    }
    let text = text_of(&page);
    assert!(text.contains("Bench 1 Bench 2 Bench 3"), "{text}");
    let said =
        "The sheet names benches like pupils, so the benches are numbered in the order of x.";
    assert!(text.contains(said), "{text}");
}

#[test]
fn a_bench_with_a_hostile_name_does_no_harm() {
    let text = "bench,pupil,hydrate_g,residue_g\n\
                <script>alert('1')</script>,P1,2.666,1.303\n\"\u{202e}a & \u{1b}[31m\"\"b\",P2,2.701,1.319\nשלום,P3,2.688,1.31\n";
    let page = wall("wall_hostile.csv", text);
    assert!(!page.contains("<script") && !page.contains(['\u{202e}', '\u{1b}']));
    for shown in ["&lt;script&gt;", "\\u{202e}", "שלום"] {
        assert!(page.contains(shown), "{shown}");
    }
}

#[test]
fn questions_come_from_the_results() {
    let (head, alike) = (HEAD, alike());
    let text = text_of(&wall("wall_alike.csv", &format!("{head}{alike}")));
    assert!(!text.contains("To discuss"), "{text}");
    let falling = alike.replace(",22.654\n", ",22.604\n");
    let text = text_of(&wall("wall_falling.csv", &format!("{head}{falling}")));
    assert!(
        text.contains("What would one more heating change"),
        "{text}"
    );
    // Nobody can discuss a result that is not there.
    let empty = text_of(&wall(
        "wall_empty.csv",
        &format!("{head}A,21.352,24.018,,\n"),
    ));
    assert!(empty.contains("No bench has a result yet."), "{empty}");
}

const HEAD: &str = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";

/// Five benches with x near 7.
fn alike() -> String {
    let last = ["654", "655", "656", "653", "657"];
    last.map(|last| format!("B{last},21.352,24.018,22.{last},22.{last}\n"))
        .concat()
}

#[test]
fn the_class_is_compared_with_what_the_stock_holds() {
    let rows = format!("{HEAD}{}", alike());
    let text = text_of(&wall("wall_formula.csv", &rows));
    let median = "The interval of the median contains the x of MgSO 4 ·7H 2 O.";
    assert!(text.contains(median), "{text}");
    let policy = sheet("wall_stock.toml", "[jar]\npercent_water = 49.0\n");
    let options = [
        "--issued",
        "MgSO4·7H2O",
        "--policy",
        policy.to_str().unwrap(),
    ];
    let text = text_of(&wall_with("wall_stock.csv", &rows, &options));
    let median = "The interval of the median is above the x of the stock of MgSO 4 ·7H 2 O.";
    assert!(text.contains(median), "{text}");
    assert!(text.contains("the stock, x = 6.4"), "{text}");
    assert!(
        text.contains("Most benches found more water than expected."),
        "{text}"
    );
}

#[test]
fn nobody_is_asked_about_heating_what_must_not_be_heated() {
    let falling = alike().replace(",22.654\n", ",22.604\n");
    let options = ["--issued", "Na2Cr2O7·2H2O"];
    let page = wall_with("wall_forbidden.csv", &format!("{HEAD}{falling}"), &options);
    let text = text_of(&page);
    assert!(!text.contains("one more heating"), "{text}");
    assert!(text.contains("must not be heated in a school"), "{text}");
}
