//! What each bench should do now, while the class is heating.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::cmp::Reverse;
use core::fmt::{self, Write};

use super::key::salts;
use super::plain::paragraph;
use super::row::{title, with_stand_in};
use super::table::TextTable;
use crate::class::{Marked, MarkedRow};
use crate::gravimetry::{Check, cautions_for};
use crate::number::{Ratio, TieRule};
use crate::text::Note;

/// Writes a table of what each bench should do now, with the reasons below it.
///
/// The cautions for the salt come first, then the benches that need help most.
///
/// # Errors
/// Returns an error if `out` fails.
pub fn write_during(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    writeln!(out, "What each bench should do now ({})\n", marked.issued())?;
    // Before the first flame, not after it.
    for caution in cautions_for(salts(marked)) {
        paragraph(out, "  - ", caution.text())?;
    }
    writeln!(out)?;
    let benches = most_urgent_first(marked);
    table(&benches).write("", out)?;
    for (row, check) in &benches {
        let reasons = check.reasons();
        if !reasons.is_empty() {
            let reasons: Vec<&str> = reasons.iter().map(Note::text).collect();
            writeln!(out)?;
            paragraph(out, &format!("{}: ", bench_name(row)), &reasons.join(" "))?;
        }
    }
    let absent = marked.rows().iter().filter(|row| row.absent());
    let names: Vec<String> = absent.map(title).collect();
    if !names.is_empty() {
        writeln!(out)?;
        paragraph(out, "", &format!("Absent: {}.", names.join("; ")))?;
    }
    without_advice(marked, out)?;
    problems(marked, out)
}

/// The benches without advice, and what is missing.
fn without_advice(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let causes = [
        (false, "weighings of the container"),
        (true, "the hydrate that was issued"),
    ];
    for (is_not_issued, missing) in causes {
        let rows = marked.rows().iter();
        let rows = rows.filter(|row| row.check().is_none() && !row.absent());
        let rows = rows.filter(|row| row.issued().is_none() == is_not_issued);
        let names = crate::text::list(rows.map(bench_name));
        if !names.is_empty() {
            writeln!(out)?;
            let text = format!("There is no advice for {names}. Advice needs {missing}.");
            paragraph(out, "", &text)?;
        }
    }
    Ok(())
}

/// The benches with readings of their own, those that need help most first.
fn most_urgent_first(marked: &Marked) -> Vec<(&MarkedRow, &Check)> {
    let rows = marked.rows().iter().filter(|row| row.has_own_readings());
    let mut benches: Vec<(&MarkedRow, &Check)> = rows
        .filter_map(|row| row.check().map(|check| (row, check)))
        .collect();
    benches.sort_by_key(|(_, check)| {
        let off = check.still_to_lose().map(Ratio::abs).unwrap_or_default();
        (check.advice(), Reverse(off))
    });
    benches
}

fn table(benches: &[(&MarkedRow, &Check)]) -> TextTable {
    let mut table = TextTable::new()
        .names(["Bench"])
        .left(["Do now"])
        .right(["Expected/g", "Water left/g"])
        .left(["Why"]);
    for (row, check) in benches {
        let grams = |mass: Option<&Ratio>| {
            let places = check.decimal_places();
            mass.map_or_else(String::new, |m| {
                m.to_places(places, TieRule::Even).to_string()
            })
        };
        table.row([
            bench_name(row),
            check.advice().to_string(),
            grams(check.expected_last()),
            grams(check.still_to_lose()),
            check.reasons().first().map_or_else(String::new, short),
        ]);
    }
    table
}

/// The problems of the sheet, but for weighings that are still to come.
fn problems(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let problems = marked.problems().iter();
    for (index, problem) in problems.filter(|p| !p.is_still_to_come()).enumerate() {
        if index == 0 {
            writeln!(out, "\nProblems")?;
        }
        paragraph(out, "  - ", &problem.to_string())?;
    }
    Ok(())
}

/// The bench with its period, marked if its readings are stand-ins.
fn bench_name(row: &MarkedRow) -> String {
    let name = match row.period() {
        Some(period) => format!("{}, period {period}", row.bench()),
        None => row.bench().into(),
    };
    with_stand_in(row.stand_in(), &name)
}

/// The reason in two or three words, for the table.
fn short(reason: &Note) -> String {
    reason.code().replace('_', " ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    #[test]
    fn benches_are_named_with_their_period_and_stand_ins_are_marked() {
        let text = "bench,period,stand_in,crucible_g,crucible_hydrate_g,heated_1_g,hydrate_g,residue_g\n\
                    Heron,1,,21.352,24.018,22.701,,\nHeron,2,yes,21.352,24.018,22.655,,\n\
                    Wren,,,,,,2.666,1.303\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let mut during = String::new();
        write_during(&marked, &mut during).unwrap();
        for start in ["Heron, period 1  ", "Heron, period 2 (stand-in readings)  "] {
            let lines = during.lines().filter(|line| line.starts_with(start));
            assert_eq!(lines.count(), 1, "{during}");
        }
        assert!(during.contains("\nHeron, period 1: "), "{during}");
        assert!(during.contains("There is no advice for Wren. "), "{during}");
    }

    #[test]
    fn an_unreadable_cell_costs_advice_from_that_cell_on() {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Heron,21.352,24.018,22.901,20.001?\nWren,21.352,24.018,spilt,\n\
                    Crake,21.352,24.018,22.656,22.655\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let issued = "FeSO4·7H2O".parse().unwrap();
        let marked = Marker::new(issued, Method::new()).mark(&sheet);
        let mut during = String::new();
        write_during(&marked, &mut during).unwrap();
        let line = |bench: &str| during.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(line("Heron  ").contains("heat again"), "{during}");
        assert!(line("Wren  ").contains("heat  "), "{during}");
        assert!(
            during.contains("20.001?") && during.contains("spilt"),
            "{during}"
        );
        // Worked out from M(FeSO4)/M(FeSO4·7H2O) and written to the step of the balance.
        assert!(line("Crake  ").contains("  22.809  "), "{during}");
        let unfit = during.find("not well suited").unwrap();
        assert!(unfit < during.find("Do now").unwrap(), "{during}");
        let rows = marked.rows();
        assert!(rows[0].dehydration().is_none() && rows[2].dehydration().is_some());
    }
}
