//! Marks by hand with `answer_key`: a file to fill in, and the marks that come back.

use std::fs;

use serde_json::Value;

use crate::answer_key::{ISSUED, on};
use crate::ran::{folder, sheet};

const CLASS: &str = "bench;pupil;hydrate_g;residue_g;reported_percent_water;reported_ratio\n\
    Heron;a;2,666;1,303;51,13;nearly seven\nWren;=W;2,880;1,406;51,2;seven\n";

#[test]
fn a_file_is_written_to_be_filled_in_and_comes_back() {
    let folder = folder("by_hand");
    let [by_hand, marks] = ["by_hand.csv", "marks.csv"].map(|name| folder.join(name));
    let old = sheet("by_hand_old.toml", "marks = { ratio = 2 }\n");
    let new = sheet(
        "by_hand_new.toml",
        "step = 0.5\nmarks = { ratio = 2, percent_water = 0.5 }\n",
    );
    let [by_hand, marks, old, new] =
        [&by_hand, &marks, &old, &new].map(|path| path.to_str().unwrap());
    let with = |options: &[&'static str]| {
        let given: Vec<&str> = options
            .iter()
            .flat_map(|option| match *option {
                "--by-hand" => vec!["--by-hand", by_hand],
                "--marks" => vec!["--marks", marks],
                "--before" => vec!["--before", old],
                "--policy" => vec!["--policy", new],
                other => vec![other],
            })
            .chain(ISSUED)
            .collect();
        on("by_hand.csv", CLASS, &given)
    };

    let ran = with(&["--policy", "--by-hand", "--marks"]);
    assert!(
        ran.err.contains("2 answers are still to be marked by hand"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains(by_hand), "{}", ran.err);
    let to_fill_in = fs::read_to_string(by_hand).unwrap();
    let expected = "bench;pupil;period;quantity;reported;out_of;marks\n\
                    Heron;a;;ratio;nearly seven;2;\nWren;'=W;;ratio;seven;2;\n";
    assert_eq!(to_fill_in, expected);

    let filled_in = to_fill_in.replace("nearly seven;2;", "nearly seven;2;1,5");
    fs::write(by_hand, &filled_in).unwrap();
    let ran = with(&["--policy", "--by-hand", "--marks"]);
    assert!(
        ran.err
            .contains("1 answer is still to be marked by hand: the mole ratio of Wren, =W."),
        "{}",
        ran.err
    );
    assert_eq!(
        fs::read_to_string(by_hand).unwrap(),
        filled_in,
        "it is the teacher's"
    );
    let gradebook = fs::read_to_string(marks).unwrap();
    let lines: Vec<&str> = gradebook.lines().collect();
    assert!(
        lines[1].starts_with("Heron;a;;;0,5;1,5;2;2,5;;;2;2,5;80,0;0;0;;yes;"),
        "{gradebook}"
    );
    assert!(
        lines[2].starts_with("Wren;'=W;;;0,5;;0,5;2,5;;;;2,5;;0;1;;in part;"),
        "{gradebook}"
    );

    let filled_in = filled_in.replace("W;;ratio;seven;2;", "W;;ratio;seven;2;2");
    fs::write(by_hand, &filled_in).unwrap();
    let json: Value =
        serde_json::from_str(&with(&["--policy", "--by-hand", "--json"]).out).unwrap();
    let rows = json["rows"].as_array().unwrap();
    let shown: Vec<_> = rows
        .iter()
        .map(|row| (&row["answers"][1]["marks"], &row["by_hand"]))
        .collect();
    assert_eq!(
        shown,
        [
            (&serde_json::json!(1.5), &serde_json::json!(0)),
            (&serde_json::json!(2), &serde_json::json!(0))
        ]
    );

    // Marking again honours them as well. The old policy has whole marks only, so one is open there.
    let ran = with(&["--before", "--policy", "--by-hand"]);
    assert_eq!(ran.status, 0);
    for said in [
        "Heron  a        open  2/2.5",
        "1 of 2 percentages changes: 0 up, 0 down, 1 without a total before or now.",
        "the mole ratio was marked by hand: Heron (a).",
    ] {
        assert!(ran.out.contains(said), "{}", ran.out);
    }
    fs::write(by_hand, filled_in.replace("1,5", "1")).unwrap();
    let changes = with(&["--before", "--policy", "--by-hand"]).out;
    assert!(
        changes.contains("percent water, correct as before, earned 1 and now earns 0.5"),
        "{changes}"
    );
    assert!(!changes.contains("mole ratio"), "{changes}");
}

#[test]
fn marks_that_fit_nothing_are_one_sentence() {
    let by_hand = sheet(
        "by_hand_wrong.csv",
        "bench,pupil,quantity,marks\nHeron,b,ratio,1\n",
    );
    let mut arguments = ISSUED.to_vec();
    arguments.extend(["--by-hand", by_hand.to_str().unwrap()]);
    let ran = on("by_hand_2.csv", CLASS, &arguments);
    ran.complains(
        "by_hand_wrong.csv: line 2, `bench`: no row of the sheet has bench `Heron`, pupil `b`; ",
    );
    assert_eq!(ran.status, 2);
}
