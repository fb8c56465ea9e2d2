//! What is decided in reading a sheet and costs nobody anything.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec;

use super::cell_text::shown;
use crate::number::Ratio;
use crate::text::Note;

/// One decision, with the values that its sentences need.
pub(super) enum SheetRemark<'a> {
    EncodingAssumed(&'static str),
    WindowsAssumed(&'static str),
    InvalidBytes(&'static str),
    TitleLine(u64, &'a str),
    /// The caller's header that no column has, and the column that it was mapped to.
    MappingUnused(&'a str, Cow<'static, str>),
    ExtraColumn(&'a str),
    HeaderRepeated(u64),
    SummaryRow(u64, &'a str),
    /// A bench, the line of its first run, and the line of another one.
    BenchRepeated(&'a str, [u64; 2]),
    /// A bench, a line without readings, and the line of the run by which it is marked.
    RunChosen(&'a str, [u64; 2]),
    /// The number of readings with more than this number of decimal places.
    TooManyPlaces(u64, i32),
    /// The line of a reading that is finer than all others, and the readability without it.
    LoneFinerReading(u64, Ratio),
    CoarserReadings {
        coarser: u64,
        all: u64,
        balance: Option<&'a str>,
        /// The readability of the balance, and the first line that shows it.
        finest: Option<(Ratio, u64)>,
    },
}

impl From<SheetRemark<'_>> for Note {
    // Long because every remark has its sentences here.
    fn from(remark: SheetRemark<'_>) -> Note {
        let (code, text, values) = match remark {
            SheetRemark::EncodingAssumed(name) => (
                "encoding",
                format!("The sheet has no byte-order mark and was read as {name}."),
                vec![("encoding", name.to_string())],
            ),
            SheetRemark::WindowsAssumed(name) => (
                "encoding",
                "The sheet is not UTF-8 and was read as Windows-1252. Check the names with accents."
                    .to_string(),
                vec![("encoding", name.to_string())],
            ),
            SheetRemark::InvalidBytes(name) => (
                "encoding",
                format!(
                    "Some bytes of the sheet are not valid {name}. They are shown as \u{FFFD}."
                ),
                vec![("encoding", name.to_string())],
            ),
            SheetRemark::TitleLine(line, title) => {
                let title = shown(title);
                (
                    "title_line",
                    format!("Line {line} is above the header and was read as a title: `{title}`."),
                    vec![("line", line.to_string()), ("title", title)],
                )
            }
            SheetRemark::MappingUnused(header, column) => {
                let header = shown(header);
                (
                    "mapping_unused",
                    format!("No column has the header `{header}`, which was mapped to `{column}`."),
                    vec![("header", header), ("column", column.into_owned())],
                )
            }
            SheetRemark::ExtraColumn(column) => (
                "extra_column",
                format!(
                    "The column `{}` has no meaning here. Its cells are kept and not used.",
                    shown(column)
                ),
                vec![("column", column.to_string())],
            ),
            SheetRemark::HeaderRepeated(line) => (
                "header_repeated",
                format!("Line {line} repeats the header and was skipped."),
                vec![("line", line.to_string())],
            ),
            SheetRemark::SummaryRow(line, name) => {
                let name = shown(name);
                (
                    "summary_row",
                    format!(
                        "Line {line} sums up the class (`{name}`) and was not read as a bench."
                    ),
                    vec![("line", line.to_string()), ("name", name)],
                )
            }
            SheetRemark::BenchRepeated(bench, [first, line]) => (
                "bench_repeated",
                format!(
                    "Bench `{}` of line {first} appears again in line {line} with other readings. \
                     Each line is read as a run of its own.",
                    shown(bench)
                ),
                vec![
                    ("bench", bench.to_string()),
                    ("first_line", first.to_string()),
                    ("line", line.to_string()),
                ],
            ),
            // It may cost marks.
            SheetRemark::RunChosen(bench, [line, run]) => (
                "run_chosen",
                format!(
                    "Line {line} has no readings, and bench `{}` has several runs: the row is \
                     marked by the run in line {run}. Fill in its readings if it belongs to another \
                     run.",
                    shown(bench)
                ),
                vec![
                    ("bench", bench.to_string()),
                    ("line", line.to_string()),
                    ("of_line", run.to_string()),
                ],
            ),
            SheetRemark::TooManyPlaces(readings, most) => (
                "too_many_places",
                format!(
                    "{readings} {} more than {most} decimal places, which no balance shows. The \
                     readability comes from the other readings.",
                    if readings == 1 { "reading has" } else { "readings have" }
                ),
                vec![("cells", readings.to_string())],
            ),
            SheetRemark::LoneFinerReading(line, readability) => {
                let readability = readability.to_plain();
                (
                    "lone_finer_reading",
                    format!(
                        "One reading, in line {line}, has more decimal places than any other. It \
                         does not change the readability, {readability} g."
                    ),
                    vec![("line", line.to_string()), ("readability", readability)],
                )
            }
            SheetRemark::CoarserReadings { coarser, all, balance, finest } => {
                let mut values = vec![("cells", coarser.to_string()), ("of", all.to_string())];
                let (mut on, mut shows) = (String::new(), String::new());
                if let Some(name) = balance {
                    on = format!(" on balance `{}`", shown(name));
                    values.push(("balance", name.to_string()));
                }
                if let Some((readability, line)) = finest {
                    let readability = readability.to_plain();
                    shows = format!(" ({readability} g, first in line {line})");
                    values.push(("readability", readability));
                }
                let have = if coarser == 1 { "has" } else { "have" };
                (
                    "coarser_reading",
                    format!(
                        "{coarser} of {all} readings{on} {have} fewer decimal places than the \
                         balance shows{shows}. Final zeros that a spreadsheet dropped cost nothing."
                    ),
                    values,
                )
            }
        };
        let note = Note::new(code, text);
        values
            .into_iter()
            .fold(note, |note, (name, value)| note.with(name, value))
    }
}
