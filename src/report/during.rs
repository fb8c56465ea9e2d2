//! What each bench should do now, while the class is heating.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::cmp::Reverse;
use core::fmt::{self, Write};

use super::faults;
use super::key::{heated, salts};
use super::numbers::short_degree;
use super::plain::paragraph;
use super::row::{title, with_stand_in, write_invented};
use super::table::TextTable;
use crate::class::{Marked, MarkedRow, Problem};
use crate::gravimetry::{Advice, Check, HeatingSafety, Reason, Severity, cautions_for};
use crate::number::Ratio;
use crate::text::{Note, list, sentence};

/// Writes a table of what each bench should do now, with the reasons below it.
///
/// The cautions for the salt come first, then the benches that need help most. A bench whose salt must not be
/// heated is told so, whatever its readings are.
///
/// # Errors
/// Returns an error if `out` fails.
pub fn write_during(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    write_invented(marked, out)?;
    let salts = salts(marked);
    let names = list(salts.iter().map(ToString::to_string));
    writeln!(out, "What each bench should do now ({names})\n")?;
    // Before the first flame, not after it.
    for caution in cautions_for(heated(marked)) {
        paragraph(out, "  - ", caution.text())?;
    }
    writeln!(out)?;
    let benches = most_urgent_first(marked);
    stock(marked, &benches, out)?;
    table(&benches, salts.len() > 1).write("", out)?;
    for bench in &benches {
        let faults = faults::beside_advice(bench.row);
        let reasons = bench.reasons.iter().map(Note::text);
        let reasons: Vec<&str> = reasons.chain(faults.as_deref()).collect();
        if !reasons.is_empty() {
            writeln!(out)?;
            paragraph(out, &format!("{}: ", bench.name), &reasons.join(" "))?;
        }
    }
    let absent = marked.rows().iter().filter(|row| row.absent());
    let names: Vec<String> = absent.map(title).collect();
    if !names.is_empty() {
        writeln!(out)?;
        paragraph(out, "", &sentence(&format!("Absent: {}", names.join("; "))))?;
    }
    without_advice(marked, out)?;
    problems(marked, out)
}

/// A bench with readings of its own, and what it should do.
struct Bench<'a> {
    row: &'a MarkedRow,
    check: &'a Check,
    /// As the table and the paragraphs have it.
    name: String,
    must_not_heat: bool,
    reasons: Vec<Note>,
}

/// What the stock really holds, if the expected masses follow it, and what is doubtful about it.
fn stock(marked: &Marked, benches: &[Bench<'_>], out: &mut impl Write) -> fmt::Result {
    let mut lines = Vec::new();
    let mut benches = benches.iter();
    if let Some(waters) = benches.find_map(|bench| bench.check.stock_waters()) {
        let (issued, waters) = (marked.issued(), short_degree(waters));
        lines.push(format!(
            "The expected masses are those of what the stock of {issued} really holds, x = {waters}."
        ));
    }
    let notes = marked.notes().iter().filter(|note| is_about_stock(note));
    lines.extend(notes.map(|note| note.text().into()));
    for line in &lines {
        paragraph(out, "", line)?;
    }
    match lines.is_empty() {
        true => Ok(()),
        false => writeln!(out),
    }
}

fn is_about_stock(note: &Note) -> bool {
    ["jar_not_constant", "jar_unusable", "suspect_percent_water"].contains(&note.code())
}

/// Why there is no advice for a bench by its readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum NoAdvice {
    MustNotHeat,
    Unreadable,
    NotIssued,
    NoContainer,
    NotWeighedIn,
    NothingWeighed,
}

impl NoAdvice {
    const ALL: [NoAdvice; 6] = [
        NoAdvice::MustNotHeat,
        NoAdvice::Unreadable,
        NoAdvice::NotIssued,
        NoAdvice::NoContainer,
        NoAdvice::NotWeighedIn,
        NoAdvice::NothingWeighed,
    ];

    /// `problems` are those of each line that tell most.
    fn of(row: &MarkedRow, problems: &BTreeMap<u64, &Problem>) -> NoAdvice {
        let is_forbidden = |issued| HeatingSafety::of(issued).severity() == Severity::Forbidden;
        if row.issued().is_some_and(is_forbidden) {
            return NoAdvice::MustNotHeat;
        }
        if row.issued().is_none() {
            return NoAdvice::NotIssued;
        }
        let line = row.readings_line().unwrap_or(row.line());
        match problems.get(&line) {
            Some(problem) if !problem.is_still_to_come() => NoAdvice::Unreadable,
            Some(problem) if problem.code() == "no_readings" => NoAdvice::NothingWeighed,
            Some(_) => NoAdvice::NotWeighedIn,
            None => NoAdvice::NoContainer,
        }
    }

    fn sentences(self, names: &str) -> String {
        match self {
            NoAdvice::MustNotHeat => format!(
                "Do not heat what was issued to {names}. It must not be heated in a school at all."
            ),
            NoAdvice::Unreadable => format!(
                "There is no advice for {names} before a reading is filled in or corrected. The problems below name it."
            ),
            NoAdvice::NotIssued => {
                format!("There is no advice for {names}. Advice needs the hydrate that was issued.")
            }
            NoAdvice::NoContainer => {
                format!("There is no advice for {names}. Advice needs weighings of the container.")
            }
            NoAdvice::NotWeighedIn => {
                format!("Still to be weighed with the hydrate: the container of {names}.")
            }
            NoAdvice::NothingWeighed => format!(
                "Nothing is weighed yet by {names}. Weigh the empty container, then the container with the hydrate."
            ),
        }
    }
}

/// The benches without advice by their readings, and what is to be done.
fn without_advice(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let mut problems: BTreeMap<u64, &Problem> = BTreeMap::new();
    for problem in marked.problems() {
        let first = problems.entry(problem.line()).or_insert(problem);
        if problem.is_still_to_come() {
            *first = problem;
        }
    }
    let rows = marked.rows().iter();
    let rows = rows.filter(|row| row.check().is_none() && !row.absent());
    let rows = rows.map(|row| (NoAdvice::of(row, &problems), bench_name(row)));
    let rows: Vec<(NoAdvice, String)> = rows.collect();
    for cause in NoAdvice::ALL {
        let names = rows.iter().filter(|(of, _)| *of == cause);
        let mut names: Vec<&str> = names.map(|(_, name)| name.as_str()).collect();
        // Several pupils of a bench.
        names.dedup();
        let names = list(names);
        if !names.is_empty() {
            writeln!(out)?;
            paragraph(out, "", &cause.sentences(&names))?;
        }
    }
    Ok(())
}

/// The benches with readings of their own, those that need help most first.
fn most_urgent_first(marked: &Marked) -> Vec<Bench<'_>> {
    let rows = marked.rows().iter().filter(|row| row.has_own_readings());
    let bench = |row| {
        let check = MarkedRow::check(row)?;
        Some(Bench {
            row,
            check,
            name: bench_name(row),
            must_not_heat: check.must_not_heat(),
            reasons: check.reasons(),
        })
    };
    let mut benches: Vec<Bench<'_>> = rows.filter_map(bench).collect();
    benches.sort_by_cached_key(|bench| {
        let off = bench.check.still_to_lose().map(Ratio::abs);
        let off = off.unwrap_or_default();
        (!bench.must_not_heat, advice(bench.check), Reverse(off))
    });
    benches
}

/// The table of the benches, with a column for what was issued if that is not the same for all.
fn table(benches: &[Bench<'_>], issued_differs: bool) -> TextTable {
    let mut table = TextTable::new("What each bench should do now").names(["Bench"]);
    if issued_differs {
        table = table.left(["Issued"]);
    }
    let mut table = table
        .left(["Do now"])
        .right(["Expected/g", "Water left/g"])
        .left(["Why"]);
    for bench in benches {
        let check = bench.check;
        let grams = |mass: Option<&Ratio>| {
            let shown = mass.and_then(|mass| check.on_balance(mass));
            shown.map_or_else(String::new, |mass| mass.to_string())
        };
        let issued = bench
            .row
            .issued()
            .map_or_else(String::new, ToString::to_string);
        let first = [bench.name.clone()].into_iter();
        let first = first.chain(issued_differs.then_some(issued));
        table.row(
            first.chain([
                do_now(bench),
                grams(check.expected_last()),
                grams(
                    check
                        .still_to_lose()
                        .filter(|_| !may_be_another_solid(check)),
                ),
                why(bench),
            ]),
        );
    }
    table
}

/// The advice, unless the salt must not be heated.
fn do_now(bench: &Bench<'_>) -> String {
    match bench.must_not_heat {
        true => "do not heat".into(),
        false => advice(bench.check).to_string(),
    }
}

/// The advice, which is to ask if the excess mass may not be water, or if the sample may still be saved.
fn advice(check: &Check) -> Advice {
    match check.advice() {
        Advice::HeatAgain if may_be_another_solid(check) => Advice::Ask,
        Advice::StartAgain if may_be_saved(check) => Advice::Ask,
        advice => advice,
    }
}

/// Whether a mass above the expected one does not show how much water is left.
fn may_be_another_solid(check: &Check) -> bool {
    let mut reasons = check.findings().iter();
    reasons.any(|reason| {
        matches!(
            reason,
            Reason::WaterOrHeavier(..) | Reason::NotOnlyWater(..)
        )
    })
}

/// Whether the last weighing is between the expected mass and that of the anhydrous salt.
fn may_be_saved(check: &Check) -> bool {
    matches!(check.findings(), [Reason::BelowTarget(..), ..])
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

/// The first reason in two or three words, for the table. What makes sense of the readings is not named alone if their
/// mass is that of a salt that was heated too far.
fn why(bench: &Bench<'_>) -> String {
    let first = bench.reasons.first();
    let first = first.map_or_else(String::new, |reason| reason.code().replace('_', " "));
    let mut others = bench.check.findings().iter().skip(1);
    let is_checked = bench.check.advice() == Advice::CheckReadings;
    match is_checked && others.any(|reason| matches!(reason, Reason::Overheating(_))) {
        true => format!("{first} or decomposed"),
        false => first,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Policy, Problem, Sheet, Stock};
    use crate::gravimetry::Method;

    fn marked(text: &str, policy: Policy) -> Marked {
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        marker.policy(policy).mark(&sheet)
    }

    fn during(marked: &Marked) -> String {
        let mut during = String::new();
        write_during(marked, &mut during).unwrap();
        during
    }

    #[test]
    fn no_weighing_counts_after_one_that_cannot_be_read() {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,heated_4_g\n\
                    Heron,21.352,24.018,22.656,spilt,,\nWren,21.352,24.018,22.656,spilt,22.656,22.655\n\
                    Crake,21.352,24.018,22.701,22.6S6,22.656,22.655\n\
                    Smew,21.352,24.018,22.656,22.655,spilt,\n\
                    Teal,21.352,24.018,12.656,spilt,,\n\
                    Gull,21.352,24.018,22.656,??,,\n";
        let marked = marked(text, Policy::default());
        let advised = marked.rows().iter().map(|row| {
            let check = row.check().unwrap();
            assert_eq!(check.still_to_lose(), None);
            let reasons = check.reasons();
            let codes: Vec<&str> = reasons.iter().map(Note::code).collect();
            (check.advice(), codes.join(" "))
        });
        let spilt = || (Advice::Ask, "unreadable question".into());
        assert_eq!(
            advised.collect::<Vec<_>>(),
            [
                spilt(),
                spilt(),
                (Advice::CheckReadings, "unreadable".into()),
                (
                    Advice::Ask,
                    "unreadable constant_and_expected question".into()
                ),
                (
                    Advice::CheckReadings,
                    "unreadable impossible_masses question".into()
                ),
                (Advice::CheckReadings, "unreadable".into()),
            ]
        );
        // The weighings after it are marked all the same.
        assert!(marked.rows()[1].dehydration().is_some());
        let during = during(&marked);
        let said = "Crake: `heated_2_g` is `22.6S6`, which cannot be read as a mass.";
        assert!(during.contains(said), "{during}");
    }

    #[test]
    fn what_was_issued_has_a_column_if_it_differs() {
        let header = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g\n";
        let one = "Heron,,21.352,24.018,22.701\n";
        let other = "Wren,BaCl2·2H2O,21.352,24.018,\n";
        let both = during(&marked(&[header, one, other].concat(), Policy::default()));
        assert!(both.starts_with("What each bench should do now (MgSO4·7H2O and BaCl2·2H2O)\n"));
        let line = |bench: &str| both.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(
            line("Bench  ").starts_with("Bench  Issued      Do now"),
            "{both}"
        );
        assert!(
            line("Wren  ").starts_with("Wren   BaCl2·2H2O  heat "),
            "{both}"
        );
        let same = during(&marked(&[header, one].concat(), Policy::default()));
        assert!(!same.contains("Issued"), "{same}");
    }

    #[test]
    fn a_bench_that_still_has_to_weigh_is_told_what() {
        let text = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g\n\
                    Heron,,,,\nWren,,20.137,,\nTeal,,20.137?,22.648,\nSmew,,,22.648,21.364\n\
                    Crake,,20.137,,21.364\nGull,Na2Cr2O7·2H2O,20.137,,\n";
        let marked = marked(text, Policy::default());
        let due = marked.problems().iter();
        let due: Vec<&str> = due
            .filter(|problem| !problem.is_still_to_come())
            .map(Problem::bench)
            .collect();
        assert_eq!(due, ["Teal", "Smew", "Crake"]);
        let during = during(&marked);
        for said in [
            "Do not heat what was issued to Gull. ",
            "There is no advice for Teal, Smew and Crake before a reading is filled in or corrected.",
            "Still to be weighed with the hydrate: the container of Wren.",
            "Nothing is weighed yet by Heron. ",
        ] {
            assert!(during.contains(said), "{said} {during}");
        }
    }

    #[test]
    fn a_bench_whose_salt_must_not_be_heated_is_told_so_in_the_table() {
        let text = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Heron,,21.352,24.018,22.265,\nWren,Na2Cr2O7·2H2O,21.352,24.018,,\n\
                    Teal,Na2Cr2O7·2H2O,21.352,24.018,23.211,23.210\n";
        let during = during(&marked(text, Policy::default()));
        let benches = ["Teal ", "Wren ", "Heron "].map(|bench| {
            let line = during.lines().position(|line| line.starts_with(bench));
            line.unwrap()
        });
        assert!(benches.is_sorted(), "{during}");
        let lines: Vec<&str> = during.lines().collect();
        for line in &benches[..2] {
            let line = lines[*line];
            assert!(line.contains("  do not heat  "), "{line}");
            assert!(!line.contains("start again"), "{line}");
        }
        assert!(lines[benches[2]].contains("check readings"), "{during}");
        let said = "\nWren: Do not heat Na2Cr2O7·2H2O. It must not be heated in a school at all.";
        assert!(during.contains(said), "{during}");
    }

    #[test]
    fn mass_that_may_not_be_water_is_not_in_the_column_of_water() {
        let header = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
        // 2.000 g of FeSO4·7H2O leave 1.093 g of FeSO4, and of MgSO4·7H2O 0.977 g.
        let text = [
            header,
            "Wren,MgSO4·7H2O,20.000,22.000,21.216,21.215\n",
            "Heron,FeSO4·7H2O,20.000,22.000,21.216,21.215\nTeal,MgCl2·6H2O,20.000,22.000,21.300,\n",
        ];
        let during = during(&marked(&text.concat(), Policy::default()));
        let cells = |bench: &str| {
            let line = during.lines().find(|line| line.starts_with(bench)).unwrap();
            line.split("  ")
                .map(str::trim)
                .filter(|cell| !cell.is_empty())
                .map(String::from)
                .collect::<Vec<String>>()
        };
        assert_eq!(
            cells("Heron ")[2..],
            ["ask", "21.093", "water or heavier"],
            "{during}"
        );
        assert_eq!(cells("Teal ")[2], "ask", "{during}");
        assert_eq!(cells("Wren ")[2..5], ["heat again", "20.977", "0.238"]);
        let said = "Ask your teacher before you heat again.";
        assert!(during.replace('\n', " ").contains(said), "{during}");
    }

    #[test]
    fn a_sample_that_may_be_saved_is_not_thrown_away_by_the_table() {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Heron,20.123,22.618,21.803,21.802\nWren,20.000,22.497,21.480,21.480\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let residue = "CuSO4·H2O".parse().unwrap();
        let method = Method::new().residue(&residue).unwrap();
        let marked = Marker::new("CuSO4·5H2O".parse().unwrap(), method).mark(&sheet);
        let during = during(&marked);
        let line = |bench: &str| during.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(line("Heron  ").contains("  ask  "), "{during}");
        assert!(line("Heron  ").ends_with("below target"), "{during}");
        assert!(line("Wren  ").contains("start again"), "{during}");
    }

    #[test]
    fn the_limit_is_that_of_what_should_be_left() {
        // Before the first weighing, too.
        for text in [
            "bench,crucible_g,crucible_hydrate_g,heated_1_g\nHeron,20.123,22.618,21.803\n",
            "bench,crucible_g,crucible_hydrate_g,heated_1_g\nHeron,,,\n",
        ] {
            let sheet = Sheet::read(text.as_bytes()).unwrap();
            let residue = "CuSO4·H2O".parse().unwrap();
            let method = Method::new().residue(&residue).unwrap();
            let marked = Marker::new("CuSO4·5H2O".parse().unwrap(), method).mark(&sheet);
            let mut key = String::new();
            crate::report::write_key(&marked, &mut key).unwrap();
            for page in [during(&marked), key] {
                let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(
                    page.contains("Do not heat CuSO4·H2O above about 200 °C"),
                    "{page}"
                );
                assert!(!page.contains("400 °C"), "{page}");
            }
        }
    }

    #[test]
    fn the_expected_masses_follow_the_stock_of_the_policy() {
        let text = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Heron,,21.352,24.018,22.683,22.682\nWren,BaCl2·2H2O,21.352,24.018,,\n";
        // x = (50.1/49.9) · 120.361/18.015 = 6.708, and 21.352 + 2.666 · 0.499 = 22.682.
        let policy = Policy::default().stock(Stock::PercentWater("50.1".parse().unwrap()));
        let during = during(&marked(text, policy));
        let said = "The expected masses are those of what the stock of MgSO4·7H2O really holds, x = 6.708.";
        assert!(during.contains(said), "{during}");
        let line = |bench: &str| during.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(
            line("Heron  ").contains("stop        22.682         0.000"),
            "{during}"
        );
        // The stock of another salt is not known: 2.666 · 208.227/244.257 = 2.273.
        assert!(line("Wren  ").contains(" 23.625 "), "{during}");
    }

    #[test]
    fn a_mass_of_a_decomposed_salt_is_not_only_a_wrong_digit() {
        // 2 g of CuSO4·5H2O leave 0.637 g of CuO, and 1.278 g of CuSO4.
        let text = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Heron,CuSO4·5H2O,20.000,22.000,20.638,20.637\nWren,CuSO4·5H2O,20.000,22.000,21.279,21.278\n";
        let during = during(&marked(text, Policy::default()));
        let line = |bench: &str| during.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(line("Heron ").contains("check readings"), "{during}");
        assert!(
            line("Heron ").ends_with("  wrong digit or decomposed"),
            "{during}"
        );
        assert!(
            during.replace('\n', " ").contains("turned into CuO."),
            "{during}"
        );
        assert!(!line("Wren ").contains("decomposed"), "{during}");
    }

    #[test]
    fn expected_masses_are_written_to_the_step_of_the_balance() {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,readability_g\nHeron,21.35,24.00,22.90,0.05\n";
        let during = during(&marked(text, Policy::default()));
        // 22.6441 g and 0.2559 g.
        assert!(during.contains("  22.65  "), "{during}");
        assert!(during.contains("  0.25  "), "{during}");
    }

    #[test]
    fn benches_are_named_with_their_period_and_stand_ins_are_marked() {
        let text = "bench,period,stand_in,crucible_g,crucible_hydrate_g,heated_1_g,hydrate_g,residue_g\n\
                    Heron,1,,21.352,24.018,22.701,,\nHeron,2,yes,21.352,24.018,22.655,,\n\
                    Wren,,,,,,2.666,1.303\n";
        let during = during(&marked(text, Policy::default()));
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
        let during = during(&marked);
        let line = |bench: &str| during.lines().find(|line| line.starts_with(bench)).unwrap();
        assert!(line("Heron  ").contains("check readings"), "{during}");
        assert!(line("Wren  ").contains("ask  "), "{during}");
        // The readings up to that cell still show what the container should weigh.
        assert!(line("Wren  ").contains("  22.809  "), "{during}");
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
