//! The memory of a sheet, at its most, against the bytes of its text.

use allocation_counter::measure;
use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;

const HEADER: &str = "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,\
                      reported_water_g,reported_percent_water,reported_ratio,reported_formula\n";

fn class_of(rows: usize) -> String {
    let mut text = String::from(HEADER);
    for row in 0..rows {
        let third = row % 1000;
        text.push_str(&format!(
            "B{row},P{row},21.{third:03},24.{third:03},22.{third:03},22.{third:03},2.000,66.67,13.36,MgSO4.7H2O\n"
        ));
    }
    text
}

/// How many times as much memory as the text a sheet takes at most, while it is read and marked row by
/// row, and while it is read alone.
fn times_the_text(text: &str) -> [f64; 2] {
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    // What is made only once.
    let once = Sheet::read(class_of(1).as_bytes()).unwrap();
    let _ = marker.mark_rows(&once).finish();
    let mut counted = 0;
    let all = measure(|| {
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let mut rows = marker.mark_rows(&sheet);
        counted += rows.by_ref().count();
        let class = rows.finish();
        assert_eq!(class.problems(), sheet.problems());
    });
    let read = measure(|| drop(Sheet::read(text.as_bytes())));
    [all, read].map(|memory| memory.bytes_max as f64 / text.len() as f64)
}

#[test]
fn a_sheet_takes_at_most_twenty_times_its_text() {
    let [all, read] = times_the_text(&class_of(3_000));
    assert!(all < 20.0 && read < 20.0, "{all} {read}");
    // One mark for each of 900 columns that have no meaning.
    let extra = ",a".repeat(900);
    let header = HEADER.trim_end();
    let text = format!("{header}{extra}\n");
    let rows = format!("B,P,21.352,24.018,22.656,22.655,,,,{extra}\n").repeat(100);
    let [all, read] = times_the_text(&(text + &rows));
    assert!(all < 20.0 && read < 20.0, "{all} {read}");
    // Problems, each with its sentence, take more. Their number has a limit.
    let wrong = class_of(1_000)
        .replace("21.", "21.x")
        .replace("24.", "24.x");
    let [all, read] = times_the_text(&wrong);
    assert!(all < 30.0 && read < 30.0, "{all} {read}");
}
