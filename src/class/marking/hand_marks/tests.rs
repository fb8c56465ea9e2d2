//! Marks by hand: what is read, where they go, and what is refused.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use crate::class::{
    Error, HandMarks, MarkChanges, Marked, MarkedRow, Marker, Marks, Policy, Problem, Sheet,
    Verdict,
};
use crate::gravimetry::Method;

const CLASS: &str = "bench,pupil,period,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
    Heron,a,1,2.666,1.303,51.13,nearly seven\nHeron,b,1,,,51.13,6.99\n\
    Wren,c,1,2.880,1.406,51.2,seven\nWren,c,2,2.880,1.406,fifty,7.00\nLark,d,1,2.880,3.406,,1\n";

fn marked() -> Marked {
    let policy = Policy::from_toml("step = 0.5\nmarks = { ratio = 2 }").unwrap();
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).policy(policy);
    marker.mark(&Sheet::read(CLASS.as_bytes()).unwrap())
}

fn given(rows: &str) -> Result<Marked, Error> {
    let text = format!("Marks by hand\nBench;Pupil;Period;Quantity;Reported;Marks\n{rows}");
    marked().with_hand_marks(&HandMarks::read(text.as_bytes()).unwrap())
}

#[test]
fn marks_out_of_another_number_are_noted() {
    let list = |rows: &str| format!("bench;pupil;quantity;out_of;marks\n{rows}");
    let note = |rows: &str| {
        let marks = HandMarks::read(list(rows).as_bytes()).unwrap();
        let after = marked().with_hand_marks(&marks).unwrap();
        after.notes().last().map(|note| note.text().to_string())
    };
    assert_eq!(note("Heron;a;ratio;2;1\n"), None);
    assert_eq!(note("Heron;a;ratio;;1\n"), None);
    assert_eq!(
        note("Heron;a;ratio;1;1\n").as_deref(),
        Some(
            "Marks by hand, line 2: the mole ratio was marked out of 1 and is now out of 2. What was given \
             still counts. Check it."
        )
    );
}

#[test]
fn marks_by_hand_count_and_say_so() {
    let before = marked();
    let after = given(
        "heron;A;;Mole ratio;Nearly  seven;1,5\nWREN;c;1;ratio;;2\nWren;c;2;percent water;fifty;\n",
    );
    let after = after.unwrap();
    let of = |row: usize| {
        let answer = &after.rows()[row].answers()[1];
        (answer.verdict(), answer.marks(), answer.marked_by_hand())
    };
    assert_eq!(of(0), (Verdict::Unexplained, Marks::from_halves(3), true));
    assert_eq!(of(2), (Verdict::Correct, 2.into(), true));
    let open: [usize; 4] = [0, 1, 2, 3].map(|row| after.rows()[row].by_hand());
    assert_eq!(open, [0, 0, 0, 1], "blank marks are not marks");
    assert_eq!(after.rows()[0].total(), Some(Marks::from_halves(5)));
    let reason = after.rows()[0].answers()[1].reason();
    assert_eq!(
        reason,
        "marked by hand. The bench's own readings give 6.989."
    );

    let changes = MarkChanges::between(&before, &after);
    let [first, second] = changes.changes() else {
        panic!("{changes:?}");
    };
    assert_eq!(
        (first.from(), first.to()),
        (None, Some(Marks::from_halves(3)))
    );
    assert_eq!(first.reason().code(), "marked_by_hand");
    assert_eq!(second.reason().text(), "the mole ratio was marked by hand");
}

#[test]
fn no_mark_is_lost_silently() {
    for (rows, message, help) in [
        (
            "Heron;a;;ratio;;2,5",
            "line 3, `marks`: the mole ratio can earn at most 2, not 2.5",
            "give a number of marks from 0 to 2",
        ),
        (
            "Heron;x;;ratio;;1",
            "line 3, `bench`: no row of the sheet has bench `Heron`, pupil `x`",
            "write bench, pupil and period as in the sheet",
        ),
        (
            "Heron;b;;ratio;;1",
            "line 3, `quantity`: the mole ratio of bench `Heron`, pupil `b` is not open: it has 2 of 2",
            "remove this row, or correct the bench, the pupil or the quantity",
        ),
        (
            "Heron;a;;formula;;1",
            "line 3, `quantity`: bench `Heron`, pupil `a` was not asked for the formula",
            "remove this row, or correct the bench, the pupil or the quantity",
        ),
        (
            "Heron;a;;ratio;eight;1",
            "line 3, `reported`: the mole ratio of bench `Heron`, pupil `a` is now `nearly seven`",
            "mark it again and write the answer as in the sheet, or leave it blank",
        ),
        (
            "Heron;a;;ratio;;1\n\nHeron;a;;ratio;;1",
            "line 5, `quantity`: the mole ratio of bench `Heron`, pupil `a` is marked twice in this file",
            "remove this row, or correct the bench, the pupil or the quantity",
        ),
        (
            "Heron;;;ratio;;1",
            "line 3, `pupil`: bench `Heron` has pupils, and none is named",
            "write the pupil as in the sheet, such as `a` and `b`",
        ),
        (
            "Lark;d;;percent water;;1",
            "line 3, `quantity`: bench `Lark`, pupil `d` handed in no percent water",
            "remove this row, or correct the bench, the pupil or the quantity",
        ),
    ] {
        let error = given(rows).unwrap_err();
        assert_eq!(error.to_string(), message);
        assert_eq!(error.help(), Some(help));
        assert_eq!(error.code(), "bad_sheet");
    }
}

/// What is left to do about a cell is done when it is marked.
#[test]
fn an_answer_that_is_marked_is_no_problem() {
    let lines =
        |marked: &Marked| -> Vec<u64> { marked.problems().iter().map(Problem::line).collect() };
    assert_eq!(lines(&marked()), [2, 4, 5, 6]);
    let after = given("Heron;a;;ratio;;1\nWren;c;2;percent water;;0\n").unwrap();
    assert_eq!(lines(&after), [4, 6]);
}

/// The answers of a bench that could not be worked out are marked by hand, too. Those that are not marked
/// yet are open, and so is the total.
#[test]
fn a_bench_without_a_key_is_marked_by_hand() {
    let text = "bench,pupil,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
                Lark,d,2.880,,51.2,7.00\nLark,e,,,,7.1\n";
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let marks = |text: &str| {
        let text = format!("bench,pupil,quantity,marks\n{text}");
        HandMarks::read(text.as_bytes()).unwrap()
    };
    let before = marker.mark(&sheet);
    assert_eq!(
        (before.rows()[0].by_hand(), before.rows()[1].by_hand()),
        (2, 1)
    );
    let one = marks("Lark,d,ratio,1\nLark,e,ratio,0\n");
    let after = before.clone().with_hand_marks(&one).unwrap();
    let [d, e] = [&after.rows()[0], &after.rows()[1]];
    assert_eq!(
        (d.calculation(), d.total(), d.by_hand()),
        (Some(1.into()), None, 1)
    );
    assert_eq!(d.answers()[0].remarks()[0].code(), "not_worked_out");
    assert_eq!(
        (e.total(), e.out_of(), e.by_hand()),
        (Some(Marks::ZERO), 2.into(), 0)
    );
    assert_eq!(e.feedback()[0].code(), "marked_by_hand");
    assert_eq!(e.feedback()[1].code(), "look_at_readings");
    let changes = MarkChanges::between(&before, &after);
    let reasons: Vec<_> = changes
        .changes()
        .iter()
        .map(|c| c.reason().code())
        .collect();
    assert_eq!(reasons, ["marked_by_hand", "marked_by_hand"]);
    let both = marks("Lark,d,ratio,1\nLark,d,percent_water,1\n");
    let after = before.with_hand_marks(&both).unwrap();
    assert_eq!(after.rows()[0].total(), Some(2.into()));
    assert!(!after.problems().is_empty(), "the bench has still no key");
}

/// What was given by hand is not compared by its verdict: all of one mark is half of two.
#[test]
fn the_same_marks_by_hand_are_no_change() {
    let sheet = Sheet::read(CLASS.as_bytes()).unwrap();
    let by = |policy: &str| {
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let marker = marker.policy(Policy::from_toml(policy).unwrap());
        let marks = "bench,pupil,quantity,marks\nHeron,a,ratio,1\n";
        let marks = HandMarks::read(marks.as_bytes()).unwrap();
        marker.mark(&sheet).with_hand_marks(&marks).unwrap()
    };
    let changes = MarkChanges::between(&by(""), &by("marks.ratio = 2"));
    assert!(changes.changes().iter().all(|c| c.pupil() != Some("a")));
}

/// Under an older policy, marks that it does not admit are open.
#[test]
fn marks_that_an_older_policy_does_not_admit_are_open() {
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let sheet = Sheet::read(CLASS.as_bytes()).unwrap();
    let text = "bench,pupil,period,quantity,marks\nHeron,a,1,ratio,0.5\nWren,c,1,ratio,1\n";
    let marks = HandMarks::read(text.as_bytes()).unwrap();
    let marked = marker.mark(&sheet).with_fitting_hand_marks(&marks);
    assert_eq!(
        (marked.rows()[0].by_hand(), marked.rows()[0].total()),
        (1, None)
    );
    assert_eq!(marked.rows()[2].total(), Some(2.into()));
}

#[test]
fn a_file_that_cannot_be_read_says_where() {
    for (text, message) in [
        (
            "bench,marks\nHeron,1\n",
            "no line has the columns `bench`, `quantity` and `marks`",
        ),
        (
            "bench,quantity,marks\n,ratio,1\n",
            "line 2, `bench`: no bench is named",
        ),
        (
            "bench,quantity,marks\nHeron,,1\n",
            "line 2, `quantity`: no quantity is named",
        ),
        (
            "bench,quantity,marks\nHeron,ratio,one\n",
            "line 2, `marks`: `one` is not a number of whole or half marks",
        ),
        (
            "bench;quantity;marks\nHeron;ratio;0,25\n",
            "line 2, `marks`: `0,25` is not a number of whole or half marks",
        ),
        (
            "bench\tquantity\tmarks\nHeron\tratio\t-1\n",
            "line 2, `marks`: `-1` is not a number of whole or half marks",
        ),
    ] {
        let error = HandMarks::read(text.as_bytes()).unwrap_err();
        assert_eq!(error.to_string(), message);
        assert!(error.help().is_some(), "{text}");
    }
}

#[test]
fn half_marks_by_hand_need_the_step() {
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let marked = marker.mark(&Sheet::read(CLASS.as_bytes()).unwrap());
    let marks =
        HandMarks::read("bench,pupil,quantity,marks\nHeron,a,ratio,0.5\n".as_bytes()).unwrap();
    let error = marked.with_hand_marks(&marks).unwrap_err();
    assert_eq!(
        error.to_string(),
        "line 2, `marks`: the policy has whole marks only, not 0.5"
    );
}

#[test]
fn what_a_bench_could_not_give_is_open_if_its_mass_of_hydrate_is_right() {
    let text = "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,reported_hydrate_g,reported_residue_g,\
                reported_ratio\nKay,K,20.137,22.648,,2.511,,\nCat,C,20.137,22.648,,2.411,,\nFay,F,,,,,,absent\n";
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let marked = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
    let open = |marked: &Marked| -> Vec<usize> {
        let rows = marked.rows().iter();
        rows.map(MarkedRow::by_hand).collect()
    };
    assert_eq!(open(&marked), [2, 1, 0]);
    let give = |rows: &str| {
        let text = format!("bench,pupil,quantity,reported,marks\n{rows}");
        let marks = HandMarks::read(text.as_bytes()).unwrap();
        marked.clone().with_hand_marks(&marks).unwrap()
    };
    let one = give("Kay,K,residue_mass,,0\n");
    assert_eq!(open(&one), [1, 1, 0]);
    assert_eq!(one.rows()[0].total(), None);
    let both = give("Kay,K,residue_mass,,0\nKay,K,ratio,,1\n");
    assert_eq!(open(&both), [0, 1, 0]);
    assert_eq!(both.rows()[0].total(), Some(2.into()));
}
