//! What is decided in reading a sheet and costs nobody anything.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec;
use alloc::vec::Vec;

use super::cell_text::shown;
use super::limits::MOST_NAMED;
use crate::number::Ratio;
use crate::text::{Note, list};

/// One decision, with the values that its sentences need.
pub(super) enum SheetRemark<'a> {
    EncodingAssumed(&'static str),
    WindowsAssumed(&'static str),
    InvalidBytes(&'static str),
    TitleLine(u64, &'a str),
    /// The caller's header that no column has, and the column that it was mapped to.
    MappingUnused(&'a str, Cow<'static, str>),
    ExtraColumn(&'a str),
    /// A header in other words, the column that it may be, and the option that reads it so.
    ColumnSuggested(&'a str, Cow<'static, str>, String),
    /// The first of many columns without a meaning, and the number of them.
    ExtraColumns(&'a [String], usize),
    HeaderRepeated(u64),
    SummaryRow(u64, &'a str),
    /// A bench that is named as a line that sums up.
    SummaryName(u64, &'a str),
    /// A bench, the line of its first run, and the line of another one.
    BenchRepeated(&'a str, [u64; 2]),
    /// A bench, a line without readings, and the line of the run by which it is marked.
    RunChosen(&'a str, [u64; 2]),
    /// The line of a row whose pupil or bench was absent, with the bench and the pupil.
    Absent(u64, [Option<&'a str>; 2]),
    /// The line of a row whose net masses contradict its weighings, with the bench.
    NetMassesUnused(u64, &'a str),
    /// The code of the notes above, and the number of lines that would have the same.
    Others(&'static str, usize),
    /// The number of readings with more than this number of decimal places.
    TooManyPlaces(u64, i32),
    /// The line of a reading that is finer than all others, and the readability without it.
    LoneFinerReading(u64, Ratio),
    /// Benches that were weighed on a coarser balance, the readability of the others and theirs.
    CoarserBalance(&'a [&'a str], [Ratio; 2]),
    CoarserReadings {
        coarser: u64,
        all: u64,
        balance: Option<&'a str>,
        /// The readability of the balance, and the first line that shows it, if no row states it.
        finest: Option<(Ratio, Option<u64>)>,
    },
}

impl SheetRemark<'_> {
    fn code(&self) -> &'static str {
        match self {
            SheetRemark::EncodingAssumed(_)
            | SheetRemark::WindowsAssumed(_)
            | SheetRemark::InvalidBytes(_) => "encoding",
            SheetRemark::TitleLine(..) => "title_line",
            SheetRemark::MappingUnused(..) => "mapping_unused",
            SheetRemark::ColumnSuggested(..) => "column_suggested",
            SheetRemark::ExtraColumn(_) | SheetRemark::ExtraColumns(..) => "extra_column",
            SheetRemark::HeaderRepeated(_) => "header_repeated",
            SheetRemark::SummaryRow(..) => "summary_row",
            SheetRemark::SummaryName(..) => "summary_name",
            SheetRemark::BenchRepeated(..) => "bench_repeated",
            SheetRemark::RunChosen(..) => "run_chosen",
            SheetRemark::Absent(..) => "absent",
            SheetRemark::NetMassesUnused(..) => "net_masses_unused",
            SheetRemark::Others(code, _) => code,
            SheetRemark::TooManyPlaces(..) => "too_many_places",
            SheetRemark::LoneFinerReading(..) => "lone_finer_reading",
            SheetRemark::CoarserBalance(..) => "coarser_balance",
            SheetRemark::CoarserReadings { .. } => "coarser_reading",
        }
    }

    fn text(&self) -> String {
        match self {
            SheetRemark::EncodingAssumed(name) => {
                format!("The sheet has no byte-order mark and was read as {name}.")
            }
            SheetRemark::WindowsAssumed(_) => "The sheet is not UTF-8 and was read as \
                Windows-1252. Check the names with accents."
                .into(),
            SheetRemark::InvalidBytes(name) => {
                format!("Some bytes of the sheet are not valid {name}. They are shown as \u{FFFD}.")
            }
            SheetRemark::TitleLine(line, title) => format!(
                "Line {line} is above the header and was read as a title: `{}`.",
                shown(title)
            ),
            SheetRemark::MappingUnused(header, column) => format!(
                "No column has the header `{}`, which was mapped to `{column}`.",
                shown(header)
            ),
            SheetRemark::ExtraColumn(column) => format!(
                "The column `{}` has no meaning here. Its cells are kept and not used.",
                shown(column)
            ),
            SheetRemark::ColumnSuggested(header, column, option) => {
                column_suggested(header, column, option)
            }
            SheetRemark::ExtraColumns(first, all) => extra_columns(first, *all),
            SheetRemark::HeaderRepeated(line) => header_repeated(*line),
            SheetRemark::SummaryRow(line, name) => format!(
                "Line {line} sums up the class (`{}`) and was not read as a bench.",
                shown(name)
            ),
            SheetRemark::SummaryName(line, name) => summary_name(*line, name),
            SheetRemark::BenchRepeated(bench, lines) => bench_repeated(bench, *lines),
            SheetRemark::RunChosen(bench, lines) => run_chosen(bench, *lines),
            SheetRemark::Absent(line, who) => absent(*line, *who),
            SheetRemark::NetMassesUnused(line, bench) => net_masses_unused(*line, bench),
            SheetRemark::Others(_, lines) => {
                format!("The same is true of {lines} other lines. They are not listed.")
            }
            SheetRemark::TooManyPlaces(readings, most) => format!(
                "{readings} {} more than {most} decimal places, which no balance shows. The \
                 readability comes from the other readings.",
                readings_have(*readings)
            ),
            SheetRemark::LoneFinerReading(line, readability) => format!(
                "One reading, in line {line}, has more decimal places than any other. It does not \
                 change the readability, {} g.",
                readability.to_plain()
            ),
            SheetRemark::CoarserBalance(benches, steps) => coarser_balance(benches, steps),
            SheetRemark::CoarserReadings {
                coarser,
                all,
                balance,
                finest,
            } => coarser_readings([*coarser, *all], *balance, finest.as_ref()),
        }
    }

    fn values(self) -> Vec<(&'static str, String)> {
        match self {
            SheetRemark::EncodingAssumed(name)
            | SheetRemark::WindowsAssumed(name)
            | SheetRemark::InvalidBytes(name) => vec![("encoding", name.to_string())],
            SheetRemark::TitleLine(line, title) => {
                vec![("line", line.to_string()), ("title", shown(title))]
            }
            SheetRemark::MappingUnused(header, column)
            | SheetRemark::ColumnSuggested(header, column, _) => {
                vec![("header", shown(header)), ("column", column.into_owned())]
            }
            SheetRemark::ExtraColumn(column) => vec![("column", shown(column))],
            SheetRemark::ExtraColumns(_, all) => vec![("columns", all.to_string())],
            SheetRemark::HeaderRepeated(line) | SheetRemark::NetMassesUnused(line, _) => {
                vec![("line", line.to_string())]
            }
            SheetRemark::SummaryRow(line, name) | SheetRemark::SummaryName(line, name) => {
                vec![("line", line.to_string()), ("name", shown(name))]
            }
            SheetRemark::BenchRepeated(bench, [first, line]) => vec![
                ("bench", bench.to_string()),
                ("first_line", first.to_string()),
                ("line", line.to_string()),
            ],
            SheetRemark::RunChosen(bench, [line, run]) => vec![
                ("bench", bench.to_string()),
                ("line", line.to_string()),
                ("of_line", run.to_string()),
            ],
            SheetRemark::Absent(line, [bench, pupil]) => {
                let mut values = vec![("line", line.to_string())];
                values.extend(bench.map(|bench| ("bench", bench.to_string())));
                values.extend(pupil.map(|pupil| ("pupil", pupil.to_string())));
                values
            }
            SheetRemark::Others(_, lines) => vec![("lines", lines.to_string())],
            SheetRemark::TooManyPlaces(readings, _) => vec![("cells", readings.to_string())],
            SheetRemark::LoneFinerReading(line, readability) => vec![
                ("line", line.to_string()),
                ("readability", readability.to_plain()),
            ],
            SheetRemark::CoarserBalance(benches, [finest, step]) => vec![
                ("benches", benches.len().to_string()),
                ("finest", finest.to_plain()),
                ("readability", step.to_plain()),
            ],
            SheetRemark::CoarserReadings {
                coarser,
                all,
                balance,
                finest,
            } => {
                let mut values = vec![("cells", coarser.to_string()), ("of", all.to_string())];
                values.extend(balance.map(|name| ("balance", name.to_string())));
                values.extend(finest.map(|(finest, _)| ("readability", finest.to_plain())));
                values
            }
        }
    }
}

fn column_suggested(header: &str, column: &str, option: &str) -> String {
    format!("The column `{header}` may be `{column}`. If it is, read it so with {option}.")
}

fn extra_columns(first: &[String], all: usize) -> String {
    format!(
        "The columns {} have no meaning here. Their cells are kept and not used.",
        first_names(first, all)
    )
}

/// The first of several names, and the number of the others.
fn first_names(first: &[impl AsRef<str>], all: usize) -> String {
    let names = first
        .iter()
        .map(|name| format!("`{}`", shown(name.as_ref())));
    let others = all.saturating_sub(first.len());
    let others = (others > 0).then(|| format!("{others} others"));
    list(names.chain(others))
}

fn summary_name(line: u64, name: &str) -> String {
    format!(
        "Line {line} (`{}`) has readings of its own and was read as a bench. If it sums up the class, \
         delete its readings.",
        shown(name)
    )
}

fn bench_repeated(bench: &str, [first, line]: [u64; 2]) -> String {
    format!(
        "Bench `{}` of line {first} appears again in line {line} with other readings. Each line is \
         read as a run of its own.",
        shown(bench)
    )
}

fn run_chosen(bench: &str, [line, run]: [u64; 2]) -> String {
    format!(
        "Line {line} has no readings, and bench `{}` has several runs: the row is marked by the run \
         in line {run}. Fill in its readings if it belongs to another run.",
        shown(bench)
    )
}

fn header_repeated(line: u64) -> String {
    format!("Line {line} repeats the header and was skipped.")
}

fn net_masses_unused(line: u64, bench: &str) -> String {
    format!(
        "In line {line} the net masses of bench `{}` contradict its weighings, and the weighings were \
         used. Correct what is wrong, or delete the net masses.",
        shown(bench)
    )
}

fn absent(line: u64, [bench, pupil]: [Option<&str>; 2]) -> String {
    let bench = bench.map(|bench| format!("bench `{}`", shown(bench)));
    let pupil = pupil.map(|pupil| format!("`{}`", shown(pupil)));
    let who = match (pupil, bench) {
        (Some(pupil), Some(bench)) => format!("{pupil} of {bench}"),
        (pupil, bench) => pupil.or(bench).unwrap_or_else(|| "a pupil".into()),
    };
    format!("Line {line} says that {who} was absent. The row is not marked.")
}

fn readings_have(count: u64) -> &'static str {
    if count == 1 {
        "reading has"
    } else {
        "readings have"
    }
}

fn coarser_balance(benches: &[&str], [finest, step]: &[Ratio; 2]) -> String {
    let first = benches.get(..MOST_NAMED).unwrap_or(benches);
    format!(
        "No reading of {} shows the last place of the other benches ({} g). Their balance is read as one \
         that shows {} g. If it is another, add a column `readability_g`.",
        first_names(first, benches.len()),
        finest.to_plain(),
        step.to_plain()
    )
}

fn coarser_readings(
    [coarser, all]: [u64; 2],
    balance: Option<&str>,
    finest: Option<&(Ratio, Option<u64>)>,
) -> String {
    let on = balance.map_or_else(String::new, |name| format!(" on balance `{}`", shown(name)));
    let shows = finest.map_or_else(String::new, |(readability, line)| {
        let first = line.map_or_else(String::new, |line| format!(", shown in line {line}"));
        format!(" ({} g{first})", readability.to_plain())
    });
    let have = if coarser == 1 { "has" } else { "have" };
    format!(
        "{coarser} of {all} readings{on} {have} fewer decimal places than the balance \
         shows{shows}. \
         Final zeros that a spreadsheet dropped cost nothing."
    )
}

impl From<SheetRemark<'_>> for Note {
    fn from(remark: SheetRemark<'_>) -> Note {
        let note = Note::new(remark.code(), remark.text());
        let values = remark.values().into_iter();
        values.fold(note, |note, (name, value)| note.with(name, value))
    }
}
