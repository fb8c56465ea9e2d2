//! Marking again.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::reason::ChangeReason;
use crate::class::{MarkChanges, Marked, Marker, Marks, Policy, RowChange, Sheet, Verdict};
use crate::element::AtomicWeights;
use crate::gravimetry::{Method, Quantity};
use crate::number::Ratio;

const READINGS: &str = "21.352,24.018,22.656,22.655";

/// Rows of bench, pupil and the values below the columns; all with the same readings.
fn marked_by(method: Method, columns: &str, rows: &[(&str, &str, &str)]) -> Marked {
    let mut text =
        format!("bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,{columns}\n");
    for (bench, pupil, cells) in rows {
        text.push_str(&format!("{bench},{pupil},{READINGS},{cells}\n"));
    }
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    Marker::new("MgSO4·7H2O".parse().unwrap(), method).mark(&sheet)
}

fn marked(columns: &str, rows: &[(&str, &str, &str)]) -> Marked {
    marked_by(Method::new(), columns, rows)
}

type Line<'a> = (
    &'a str,
    Option<&'static str>,
    Option<u32>,
    Option<u32>,
    &'static str,
);

/// Bench and pupil, quantity, marks before and now, and the code of the reason.
fn lines(mark_changes: &MarkChanges) -> Vec<Line<'_>> {
    // The policies of these tests have whole marks only.
    let whole =
        |marks: Option<Marks>| marks.map(|marks| u32::try_from(marks.halves() / 2).unwrap());
    let changes = mark_changes.changes().iter();
    changes
        .map(|change| {
            let who = change.pupil().unwrap_or(change.bench());
            let quantity = change.quantity().map(Quantity::code);
            let code = change.reason().code();
            (
                who,
                quantity,
                whole(change.from()),
                whole(change.to()),
                code,
            )
        })
        .collect()
}

#[test]
fn nothing_changes_where_nothing_was_changed() {
    let class = marked(
        "reported_ratio",
        &[("Heron", "", "6.99"), ("Wren", "", "5.8")],
    );
    let mark_changes = MarkChanges::between(&class, &class);
    assert_eq!(mark_changes.changes(), []);
    assert_eq!(mark_changes.rows(), []);
}

#[test]
fn another_answer_and_what_follows_from_it() {
    let columns = "reported_water_g,reported_mol_water";
    let before = marked(columns, &[("Heron", "HQ", "1.373,0.07566")]);
    let after = marked(columns, &[("Heron", "HQ", "1.363,0.07566")]);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [("HQ", Some("water_mass"), Some(0), Some(1), "answer_changed")]
    );
    let reason = mark_changes.changes()[0].reason();
    assert_eq!(
        reason.text(),
        "the mass of water reported was `1.373` and is now `1.363`"
    );
    let values: Vec<_> = reason.values().collect();
    assert_eq!(values, [("before", "1.373"), ("after", "1.363")]);
    let row = &mark_changes.rows()[0];
    assert_eq!((row.bench(), row.pupil()), ("Heron", Some("HQ")));
    assert_eq!(
        (row.from(), row.to(), row.difference()),
        (Some(1.into()), Some(2.into()), Some(1.into()))
    );
    let back = MarkChanges::between(&after, &before);
    assert_eq!(
        back.rows()[0].difference(),
        Some(Marks::ZERO - Marks::from(1))
    );
    // What followed from the wrong value and does so no more; the row's total stays.
    let before = marked(columns, &[("Heron", "", "1.373,0.07621")]);
    let after = marked(columns, &[("Heron", "", "1.363,0.07621")]);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [
            (
                "Heron",
                Some("water_mass"),
                Some(0),
                Some(1),
                "answer_changed"
            ),
            (
                "Heron",
                Some("mol_water"),
                Some(1),
                Some(0),
                "verdict_changed"
            ),
        ]
    );
    assert_eq!(
        mark_changes.changes()[1].reason().text(),
        "the amount of water was carried forward and is now unexplained"
    );
    assert_eq!(mark_changes.rows(), []);
}

#[test]
fn another_table_of_weights_is_another_key() {
    let heavy = AtomicWeights::default().with("Mg".parse().unwrap(), "26".parse().unwrap());
    let rows = [("Heron", "", "7.08,MgSO4.7H2O")];
    let columns = "reported_ratio,reported_formula";
    let before = marked(columns, &rows);
    let after = marked_by(Method::new().weights(heavy.unwrap()), columns, &rows);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [("Heron", Some("ratio"), Some(0), Some(1), "key_changed")]
    );
    assert_eq!(
        mark_changes.changes()[0].reason().text(),
        "the mole ratio was unexplained and is now correct: the bench's own value was 6.989 and \
         is now 7.087"
    );
}

#[test]
fn a_column_more_or_less() {
    let one = marked("reported_ratio", &[("Heron", "", "6.99")]);
    let two = marked("reported_ratio,reported_formula", &[("Heron", "", "6.99,")]);
    let added = MarkChanges::between(&one, &two);
    assert_eq!(
        lines(&added),
        [("Heron", Some("formula"), None, Some(0), "answer_added")]
    );
    assert_eq!(
        added.changes()[0].reason().text(),
        "the formula was not asked for before"
    );
    // The total is the same, and it is half of what could be earned.
    let row = &added.rows()[0];
    assert_eq!(row.difference(), Some(Marks::ZERO));
    let percent = [row.percent_before(), row.percent_now()].map(|percent| percent.unwrap());
    assert_eq!(percent, [100, 50].map(Ratio::from));
    let removed = MarkChanges::between(&two, &one);
    assert_eq!(
        lines(&removed),
        [("Heron", Some("formula"), Some(0), None, "answer_removed")]
    );
}

#[test]
fn rows_on_one_side_only() {
    let heron = ("Heron", "", "6.99");
    let before = marked("reported_ratio", &[("Wren", "", "5.8"), heron]);
    let after = marked("reported_ratio", &[heron, ("Finch", "FN", "6.99")]);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [
            ("FN", None, None, Some(1), "row_added"),
            ("Wren", None, Some(0), None, "row_removed"),
        ]
    );
    let differences: Vec<_> = mark_changes
        .rows()
        .iter()
        .map(RowChange::difference)
        .collect();
    assert_eq!(differences, [None, None]);
}

#[test]
fn a_row_that_could_not_be_worked_out() {
    let before = marked("reported_ratio", &[("Heron", "", "6.99")]);
    let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,3.303,6.99\n";
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let after = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let lost = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&lost),
        [("Heron", None, Some(1), None, "not_worked_out")]
    );
    let found = MarkChanges::between(&after, &before);
    assert_eq!(
        lines(&found),
        [("Heron", None, None, Some(1), "now_worked_out")]
    );
    assert_eq!(MarkChanges::between(&after, &after).changes(), []);
}

#[test]
fn rows_of_one_name_keep_their_order_or_else_their_line() {
    let row = |ratio| ("Heron", "HQ", ratio);
    let class = |rows: &[_]| marked("reported_ratio", rows);
    let both = class(&[row("6.99"), row("5.8")]);
    // A row put in above moves the lines and not the order.
    let moved = class(&[("Wren", "", "6.99"), row("6.99"), row("5.8")]);
    assert_eq!(
        lines(&MarkChanges::between(&both, &moved)),
        [("Wren", None, None, Some(1), "row_added")]
    );
    // Of three, the last is gone.
    let three = class(&[row("6.99"), row("5.8"), row("6.99")]);
    assert_eq!(
        lines(&MarkChanges::between(&three, &both)),
        [("HQ", None, Some(1), None, "row_removed")]
    );
    // The first line now belongs to someone else; the second is where it was.
    let second = class(&[("Wren", "", "6.99"), row("5.8")]);
    assert_eq!(
        lines(&MarkChanges::between(&both, &second)),
        [
            ("Wren", None, None, Some(1), "row_added"),
            ("HQ", None, Some(1), None, "row_removed"),
        ]
    );
}

#[test]
fn judged_otherwise_by_the_same_key() {
    let before = marked("reported_ratio", &[("Heron", "", "5.8")]);
    assert_eq!(before.rows[0].answers()[0].verdict(), Verdict::Unexplained);
    let policy = Policy::from_toml("tolerance.ratio = { absolute = 2 }").unwrap();
    let text = format!(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\nHeron,{READINGS},5.8\n"
    );
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).policy(policy);
    let after = marker.mark(&Sheet::read(text.as_bytes()).unwrap());
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [("Heron", Some("ratio"), Some(0), Some(1), "verdict_changed")]
    );
    let reason = mark_changes.changes()[0].reason();
    assert_eq!(
        reason.text(),
        "the mole ratio was unexplained and is now correct"
    );
    let values: Vec<_> = reason.values().collect();
    assert_eq!(values, [("before", "unexplained"), ("after", "correct")]);
    let same = ChangeReason::Marks(Quantity::Ratio, Verdict::Unexplained, [Marks::ZERO; 2]);
    assert_eq!(
        same.note().to_string(),
        "the mole ratio, unexplained as before, earned 0 and now earns 0"
    );
}

/// One bench whose x is 6.989 and whose report has six figures, by two policies.
fn by_policies(before: &str, after: &str) -> MarkChanges {
    let mark = |policy: &str| {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_ratio\n\
                    Heron,21.352,24.018,22.656,22.655,6.98881\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        marker
            .policy(Policy::from_toml(policy).unwrap())
            .mark(&sheet)
    };
    MarkChanges::between(&mark(before), &mark(after))
}

#[track_caller]
fn one_change(before: &str, after: &str, line: Line<'_>, text: &str) {
    let mark_changes = by_policies(before, after);
    assert_eq!(lines(&mark_changes), [line]);
    assert_eq!(mark_changes.changes()[0].reason().text(), text);
}

#[test]
fn another_policy() {
    one_change(
        "",
        "marks = { ratio = 3 }",
        ("Heron", Some("ratio"), Some(1), Some(3), "marks_changed"),
        "the mole ratio, correct as before, earned 1 and now earns 3",
    );
    one_change(
        "",
        "tolerance = { ratio = { absolute = 0.000001 } }",
        ("Heron", Some("ratio"), Some(1), Some(0), "verdict_changed"),
        "the mole ratio was correct and is now unexplained: careful work on the readings gives it, but it \
         differs by more than the policy allows",
    );
}

#[test]
fn another_rule_for_formulas_is_the_reason() {
    let mark = |policy: &str| {
        let text = "bench,hydrate_g,residue_g,reported_ratio,reported_formula\n\
                    Heron,2.666,1.303,5.00,MgSO4.7H2O\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        marker
            .policy(Policy::from_toml(policy).unwrap())
            .mark(&sheet)
    };
    let changes = MarkChanges::between(&mark(""), &mark("formula = \"own_ratio\""));
    assert_eq!(
        changes.changes()[0].reason().text(),
        "the formula was correct and is now unexplained: the policy asks for the formula of the reported \
         mole ratio, MgSO4·5H2O"
    );
}

#[test]
fn accuracy_at_the_bench() {
    let tight = "accuracy = { bands = [{ within_percent = 0.1, marks = 3 }] }";
    let wide = "accuracy = { bands = [{ within_percent = 1, marks = 3 }] }";
    one_change(
        tight,
        wide,
        ("Heron", None, Some(0), Some(3), "accuracy_changed"),
        "the accuracy at the bench earned 0 and now earns 3",
    );
    one_change(
        wide,
        "",
        ("Heron", None, Some(3), None, "accuracy_changed"),
        "the accuracy at the bench earned 3 and is no longer marked",
    );
    // What the jar holds moves what is expected: x = 6.906 of 50.8 % water.
    one_change(
        wide,
        "accuracy = { bands = [{ within_percent = 1, marks = 3 }] }\njar = { percent_water = 50.8 }",
        ("Heron", None, Some(3), Some(0), "accuracy_changed"),
        "the accuracy at the bench earned 3 and now earns 0",
    );
}

#[test]
fn figures() {
    one_change(
        "",
        "figures = \"one_mark\"",
        ("Heron", None, Some(1), Some(0), "figures_changed"),
        "significant figures now cost a mark",
    );
    one_change(
        "figures = \"one_mark\"",
        "figures = \"ignore\"",
        ("Heron", None, Some(0), Some(1), "figures_changed"),
        "significant figures no longer cost a mark",
    );
}

#[test]
fn figures_cost_nothing_where_there_is_nothing_to_lose() {
    // Wrong by the narrow tolerance, and with too many figures.
    let none = "tolerance = { ratio = { absolute = 0.000001 } }";
    let mark = "figures = \"one_mark\"\ntolerance = { ratio = { absolute = 0.000001 } }";
    let mark_changes = by_policies(none, mark);
    assert_eq!(
        (lines(&mark_changes), mark_changes.rows()),
        (Vec::new(), &[][..])
    );
}

/// Net masses by class hour, with the bench, who hands in, whether it is a stand-in, and the ratio.
fn by_hours(rows: &[&str]) -> Marked {
    let head = "period,bench,pupil,stand_in,hydrate_g,residue_g,reported_ratio";
    let text = format!("{head}\n{}\n", rows.join("\n"));
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet)
}

#[test]
fn a_bench_of_another_hour_is_another_bench() {
    let before = by_hours(&[
        "1,Heron,HQ,,2.666,1.303,6.99",
        "2,Heron,HQ,yes,2.701,1.319,5.8",
    ]);
    let after = by_hours(&[
        "2,Heron,HQ,yes,2.701,1.319,7.00",
        "1,Heron,HQ,,2.666,1.303,6.99",
    ]);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [("HQ", Some("ratio"), Some(0), Some(1), "answer_changed")]
    );
    let change = &mark_changes.changes()[0];
    assert_eq!((change.period(), change.stand_in()), (Some("2"), true));
    let row = &mark_changes.rows()[0];
    assert_eq!((row.period(), row.stand_in()), (Some("2"), true));
    assert_eq!(
        (row.out_of_before(), row.out_of_now()),
        (Some(1.into()), Some(1.into()))
    );
}

#[test]
fn of_many_rows_of_one_name_each_finds_its_line() {
    let many: Vec<String> = (0..600)
        .map(|row| {
            format!(
                "1,Heron,,,2.666,1.303,{}",
                if row % 2 == 0 { "6.99" } else { "5.8" }
            )
        })
        .collect();
    let all: Vec<&str> = many.iter().map(String::as_str).collect();
    let (before, after) = (by_hours(&all), by_hours(&all[..599]));
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        lines(&mark_changes),
        [("Heron", None, Some(0), None, "row_removed")]
    );
}

#[cfg(feature = "serde")]
#[test]
fn as_the_contract_writes_it() {
    let before = marked("reported_ratio", &[("Heron", "HQ", "5.8")]);
    let after = marked("reported_ratio", &[("Heron", "HQ", "6.99")]);
    let mark_changes = MarkChanges::between(&before, &after);
    assert_eq!(
        serde_json::to_value(&mark_changes).unwrap(),
        serde_json::json!({
            "changes": [{
                "bench": "Heron", "pupil": "HQ", "period": null, "stand_in": false,
                "quantity": "ratio", "from": 0, "to": 1,
                "reason": {
                    "code": "answer_changed",
                    "values": { "before": "5.8", "after": "6.99" },
                    "text": "the mole ratio reported was `5.8` and is now `6.99`",
                },
            }],
            "rows": [{
                "bench": "Heron", "pupil": "HQ", "period": null, "stand_in": false,
                "from": 0, "to": 1, "difference": 1, "out_of_before": 1, "out_of_now": 1,
            }],
            "notes": [],
        })
    );
}
