//! The marks of a class as a gradebook reads them.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use crate::class::{Answer, CsvStyle, Marked, MarkedRow, Marks, Problem, not_a_formula, write_csv};
use crate::gravimetry::Quantity;
use crate::mistake::Slip;
use crate::number::{Rounded, TieRule};
use crate::text::Note;

/// Writes the marks as CSV: a header, then a line for each row of the sheet.
///
/// The columns are, in this order:
/// - `bench`, `pupil` and `period`, as in the sheet;
/// - `stand_in`: `yes` if the readings are stand-ins, otherwise blank;
/// - the marks of each answer that was asked, under the code of its quantity;
/// - `calculation`, `accuracy` and `total`, each followed by its maximum;
/// - `percent`: the total in per cent of its maximum, to one decimal place;
/// - `figures_mark_lost`: the mark taken off for significant figures, `0` if none is;
/// - `open`: the number of answers that are still to be marked by hand. While there are any, `total` and
///   `percent` are blank;
/// - `certain_slips`, such as `ratio: ratio_inverted`;
/// - `marked`: `yes`, `no`, `in part` if there is no total yet, or `absent`;
/// - `problems`. If the class is [invented](crate::class::Sheet::invented), each row says so here.
///
/// A row or a cell that could not be marked has blanks instead of marks, never a zero. A pupil who was
/// absent has a line without marks and without a total.
///
/// Cells are separated as in the sheet, and half marks have its decimal mark.
///
/// The text is UTF-8. It begins with a byte-order mark if anything in it is not ASCII, because
/// spreadsheets guess another encoding otherwise.
///
/// Spreadsheets run a cell that begins with `=`, `+`, `-` or `@` as a formula. The names in a class
/// sheet are written by others, so an apostrophe is put before such a sign. This also holds after
/// spaces, quotation marks, a comma and a semicolon, where programs begin a new cell. Line breaks and tabs
/// in a name are spaces here.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_marks};
/// let text = "bench,pupil,hydrate_g,residue_g,reported_percent_water,reported_ratio\n\
///             Heron,H1,2.666,1.303,51.13,0.1431\n\
///             Wren,=W1,2.701,,51.2,7.0\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut csv = Vec::new();
/// write_marks(&marked, &mut csv).unwrap();
/// let csv = String::from_utf8(csv).unwrap();
/// let lines: Vec<&str> = csv.lines().collect();
/// assert_eq!(
///     lines[..2],
///     [
///         "bench,pupil,period,stand_in,percent_water,ratio,calculation,calculation_out_of,accuracy,\
///          accuracy_out_of,total,out_of,percent,figures_mark_lost,open,certain_slips,marked,problems",
///         "Heron,H1,,,1,0,1,2,,,1,2,50.0,0,0,ratio: ratio_inverted,yes,",
///     ]
/// );
/// assert!(lines[2].starts_with("Wren,'=W1,,,,,,,,,,,,,2,,no,"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_marks(marked: &Marked, out: impl io::Write) -> io::Result<()> {
    let quantities = quantities(marked);
    let style = marked.style();
    let problems = Problems::new(marked);
    let rows = marked.rows().iter();
    let records = rows.map(|row| record(&problems, row, &quantities, style));
    write_csv(style, &header(&quantities), records, out)
}

/// The quantities of which any row has an answer, in their order.
fn quantities(marked: &Marked) -> Vec<Quantity> {
    let asked = |quantity: &Quantity| {
        let mut answers = marked.rows().iter().flat_map(MarkedRow::answers);
        answers.any(|answer| answer.quantity() == *quantity)
    };
    Quantity::ALL.into_iter().filter(asked).collect()
}

fn header(quantities: &[Quantity]) -> Vec<&'static str> {
    let mut header = Vec::from(["bench", "pupil", "period", "stand_in"]);
    header.extend(quantities.iter().map(|quantity| quantity.code()));
    header.extend([
        "calculation",
        "calculation_out_of",
        "accuracy",
        "accuracy_out_of",
        "total",
        "out_of",
        "percent",
        "figures_mark_lost",
        "open",
        "certain_slips",
        "marked",
        "problems",
    ]);
    header
}

fn record(
    problems: &Problems<'_>,
    row: &MarkedRow,
    quantities: &[Quantity],
    style: CsvStyle,
) -> Vec<String> {
    let shown = |marks: Option<Marks>| marks.map_or_else(String::new, |marks| style.number(marks));
    let open = row.by_hand();
    let mut cells = Vec::from([
        not_a_formula(row.bench()),
        not_a_formula(row.pupil().unwrap_or_default()),
        not_a_formula(row.period().unwrap_or_default()),
        String::from(if row.stand_in() { "yes" } else { "" }),
    ]);
    cells.extend(quantities.iter().map(|quantity| {
        shown(
            row.answer(*quantity)
                .filter(|a| !row.is_open(a))
                .and_then(Answer::final_marks),
        )
    }));
    for (marks, out_of) in [
        (row.calculation(), row.calculation_out_of()),
        (row.accuracy(), row.accuracy_out_of()),
    ] {
        cells.push(shown(marks));
        cells.push(shown(marks.map(|_| out_of)));
    }
    let total = row.total();
    cells.push(shown(total));
    cells.push(shown(row.calculation().map(|_| row.out_of())));
    let percent = total.and_then(|total| percent(total, row.out_of()));
    cells.push(percent.map_or_else(String::new, |percent| style.number(percent)));
    cells.push(shown(row.figures_cost()));
    cells.push(open.to_string());
    cells.push(certain_slips(row));
    cells.push(whether_marked(row).into());
    cells.push(not_a_formula(&problems.of_row(row)));
    cells
}

/// The marks in per cent of the most, to one decimal place.
fn percent(marks: Marks, most: Marks) -> Option<Rounded> {
    Some(marks.percent_of(most)?.to_places(1, TieRule::Even))
}

fn whether_marked(row: &MarkedRow) -> &'static str {
    match row.calculation() {
        None if row.absent() => "absent",
        None => "no",
        Some(_) if row.total().is_none() => "in part",
        Some(_) => "yes",
    }
}

fn certain_slips(row: &MarkedRow) -> String {
    let certain = row.answers().iter().filter(|a| a.certain() == Some(true));
    let slips = certain.map(|answer| {
        let codes: Vec<&str> = answer.slips().iter().copied().map(Slip::code).collect();
        format!("{}: {}", answer.quantity().code(), codes.join(" "))
    });
    slips.collect::<Vec<String>>().join("; ")
}

/// A name as it is compared: case and the number of spaces do not count.
fn normalized(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    words.join(" ").to_lowercase()
}

/// The period as it is compared; empty if the row has none.
fn period(row: &MarkedRow) -> String {
    row.period().map(normalized).unwrap_or_default()
}

/// The problems of a sheet, by line and by bench.
struct Problems<'a> {
    by_line: BTreeMap<u64, Vec<&'a Problem>>,
    /// The words that say so if the class is invented.
    invented: Option<Note>,
    /// By the line of the readings that they are about.
    by_readings: BTreeMap<u64, Vec<&'a Problem>>,
    /// Problems of benches without any readings, which one of their rows has: by the bench's name,
    /// each with the period.
    without_readings: BTreeMap<String, Vec<(String, &'a Problem)>>,
}

impl<'a> Problems<'a> {
    fn new(marked: &'a Marked) -> Self {
        let mut problems = Problems {
            by_line: BTreeMap::new(),
            invented: marked.invented_note(),
            by_readings: BTreeMap::new(),
            without_readings: BTreeMap::new(),
        };
        let rows = marked.rows().iter();
        let rows: BTreeMap<u64, &MarkedRow> = rows.map(|row| (row.line(), row)).collect();
        for problem in marked.problems() {
            let line = problems.by_line.entry(problem.line()).or_default();
            line.push(problem);
            let row = rows.get(&problem.line());
            let Some(row) = row.filter(|_| !problem.column().starts_with("reported_")) else {
                continue;
            };
            if let Some(line) = row.readings_line() {
                problems.by_readings.entry(line).or_default().push(problem);
            } else {
                let bench = problems
                    .without_readings
                    .entry(normalized(row.bench()))
                    .or_default();
                bench.push((period(row), problem));
            }
        }
        problems
    }

    /// The problems of a row. A row that is not marked because of readings that it shares also has
    /// those of its bench.
    fn of_row(&self, row: &MarkedRow) -> String {
        let own = self.by_line.get(&row.line()).into_iter().flatten().copied();
        let shares = row.calculation().is_none() && !row.has_own_readings() && !row.absent();
        let bench = if shares {
            self.of_bench(row)
        } else {
            Vec::new()
        };
        let bench = bench.into_iter();
        let texts = own
            .chain(bench.filter(|problem| problem.line() != row.line()))
            .map(|problem| format!("{}: {}", problem.column(), problem.message()));
        let invented = self.invented.iter().map(|note| note.text().to_string());
        texts.chain(invented).collect::<Vec<String>>().join(" ")
    }

    /// The problems of the readings that a row shares, or of having none.
    fn of_bench(&self, row: &MarkedRow) -> Vec<&'a Problem> {
        if let Some(line) = row.readings_line() {
            return self.by_readings.get(&line).cloned().unwrap_or_default();
        }
        let bench = self
            .without_readings
            .get(&normalized(row.bench()))
            .into_iter()
            .flatten();
        let own = period(row);
        // A blank period belongs to the only bench of the name.
        let same =
            bench.filter(|(period, _)| *period == own || period.is_empty() || own.is_empty());
        same.map(|(_, problem)| *problem).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    /// The records of a sheet of these rows, the header left out.
    fn records(rows: &str) -> Vec<Vec<String>> {
        let text =
            format!("bench,pupil,period,stand_in,hydrate_g,residue_g,reported_ratio\n{rows}");
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let mut out = Vec::new();
        write_marks(&marked, &mut out).unwrap();
        let mut reader = csv::Reader::from_reader(out.as_slice());
        let records = reader.records().map(Result::unwrap);
        records
            .map(|record| record.iter().map(String::from).collect())
            .collect()
    }

    #[test]
    fn who_shares_readings_shares_their_problems_however_the_bench_is_spelt() {
        let records = records(
            "Heron,a,,,2.666,3.303,6.99\nheron,b,,,,,6.99\nWren,c,1,,,,6.99\nWREN,d,1,,,,7\nWren,g,2,,,,7\n\
             Lark,e,1,,2.666,2.667,7\nLark,f,2,,2.666,1.303,6.99\n",
        );
        let problems: Vec<&str> = records.iter().map(|r| r.last().unwrap().as_str()).collect();
        for row in [0, 2] {
            assert_ne!(problems[row], "");
            assert_eq!(problems[row + 1], problems[row]);
        }
        assert_eq!(problems[4].matches("no row of this bench").count(), 1);
        assert_ne!(problems[5], "");
        assert_eq!(problems[6], "", "the bench of another period");
    }

    #[test]
    fn who_was_absent_has_a_line_without_marks() {
        let records = records("Heron,a,,,2.666,1.303,6.99\nHeron,b,,,,,absent\n");
        assert_eq!(records[1][..4], ["Heron", "b", "", ""]);
        assert_eq!(records[1][4..13], [""; 9]);
        assert_eq!(records[1][13..], ["0", "", "absent", ""]);
    }

    #[test]
    fn stand_in_readings_have_a_column() {
        let records =
            records("Heron,a,1,,2.666,1.303,6.99\nWren,b,1,yes,2.777,1.357,7\nWren,c,1,,,,7\n");
        let column: Vec<&str> = records.iter().map(|r| r[3].as_str()).collect();
        assert_eq!(column, ["", "yes", "yes"]);
    }
}
