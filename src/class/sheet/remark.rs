//! What is decided in reading a sheet and costs nobody anything.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};

use super::cell_text::shown;
use crate::number::Ratio;
use crate::text::Note;

/// One decision.
pub(super) enum SheetRemark<'a> {
    EncodingAssumed(&'static str),
    /// With the name in the form of a program.
    WindowsAssumed(&'static str),
    InvalidBytes(&'static str),
    TitleLine {
        line: u64,
        title: &'a str,
    },
    MappingUnused {
        header: &'a str,
        column: Cow<'static, str>,
    },
    ExtraColumn(&'a str),
    HeaderRepeated {
        line: u64,
    },
    SummaryRow {
        line: u64,
        name: &'a str,
    },
    BenchRepeated {
        bench: &'a str,
        first_line: u64,
        line: u64,
    },
    RunChosen {
        bench: &'a str,
        line: u64,
        run_line: u64,
    },
    TooManyPlaces {
        readings: u64,
        most: i32,
    },
    LoneFinerReading {
        line: u64,
        readability: Ratio,
    },
    CoarserReadings {
        coarser: u64,
        all: u64,
        balance: Option<&'a str>,
        /// The readability of the balance, and the first line that shows it.
        finest: Option<(Ratio, u64)>,
    },
}

impl From<SheetRemark<'_>> for Note {
    // Long because every remark has its sentence here.
    fn from(remark: SheetRemark<'_>) -> Note {
        match remark {
            SheetRemark::EncodingAssumed(name) => Note::new(
                "encoding",
                format!("The sheet has no byte-order mark and was read as {name}."),
            )
            .with("encoding", name),
            SheetRemark::WindowsAssumed(name) => Note::new(
                "encoding",
                "The sheet is not UTF-8 and was read as Windows-1252. Check the names with \
                 accents.",
            )
            .with("encoding", name),
            SheetRemark::InvalidBytes(name) => Note::new(
                "encoding",
                format!(
                    "Some bytes of the sheet are not valid {name}. They are shown as \
                         \u{FFFD}."
                ),
            )
            .with("encoding", name),
            SheetRemark::TitleLine { line, title } => Note::new(
                "title_line",
                format!(
                    "Line {line} is above the header and was read as a title: `{}`.",
                    shown(title)
                ),
            )
            .with("line", line.to_string())
            .with("title", shown(title)),
            SheetRemark::MappingUnused { header, column } => Note::new(
                "mapping_unused",
                format!(
                    "No column has the header `{}`, which was mapped to `{column}`.",
                    shown(header)
                ),
            )
            .with("header", shown(header))
            .with("column", column.into_owned()),
            SheetRemark::ExtraColumn(column) => Note::new(
                "extra_column",
                format!(
                    "The column `{}` has no meaning here. Its cells are kept and not used.",
                    shown(column)
                ),
            )
            .with("column", column),
            SheetRemark::HeaderRepeated { line } => Note::new(
                "header_repeated",
                format!("Line {line} repeats the header and was skipped."),
            )
            .with("line", line.to_string()),
            SheetRemark::SummaryRow { line, name } => Note::new(
                "summary_row",
                format!(
                    "Line {line} sums up the class (`{}`) and was not read as a bench.",
                    shown(name)
                ),
            )
            .with("line", line.to_string())
            .with("name", shown(name)),
            SheetRemark::BenchRepeated {
                bench,
                first_line,
                line,
            } => Note::new(
                "bench_repeated",
                format!(
                    "Bench `{}` of line {first_line} appears again in line {line} with other \
                     readings. \
                     Each line is read as a run of its own.",
                    shown(bench)
                ),
            )
            .with("bench", bench)
            .with("first_line", first_line.to_string())
            .with("line", line.to_string()),
            // It may cost marks.
            SheetRemark::RunChosen {
                bench,
                line,
                run_line,
            } => Note::new(
                "run_chosen",
                format!(
                    "Line {line} has no readings, and bench `{}` has several runs: the row is \
                     marked \
                     by the run in line {run_line}. Fill in its readings if it belongs to another \
                     run.",
                    shown(bench)
                ),
            )
            .with("bench", bench)
            .with("line", line.to_string())
            .with("of_line", run_line.to_string()),
            SheetRemark::TooManyPlaces { readings, most } => Note::new(
                "too_many_places",
                format!(
                    "{readings} {} more than {most} decimal places, which no balance shows. The \
                     readability comes from the other readings.",
                    if readings == 1 {
                        "reading has"
                    } else {
                        "readings have"
                    }
                ),
            )
            .with("cells", readings.to_string()),
            SheetRemark::LoneFinerReading { line, readability } => Note::new(
                "lone_finer_reading",
                format!(
                    "One reading, in line {line}, has more decimal places than any other. It does \
                     not change the readability, {} g.",
                    readability.to_plain()
                ),
            )
            .with("line", line.to_string())
            .with("readability", readability.to_plain()),
            SheetRemark::CoarserReadings {
                coarser,
                all,
                balance,
                finest,
            } => {
                let on = balance
                    .map_or_else(String::new, |name| format!(" on balance `{}`", shown(name)));
                let shows = finest
                    .as_ref()
                    .map_or_else(String::new, |(readability, line)| {
                        format!(" ({} g, first in line {line})", readability.to_plain())
                    });
                let note = Note::new(
                    "coarser_reading",
                    format!(
                        "{coarser} of {all} readings{on} {} fewer decimal places than the balance \
                         shows{shows}. Final zeros that a spreadsheet dropped cost nothing.",
                        if coarser == 1 { "has" } else { "have" },
                    ),
                )
                .with("cells", coarser.to_string())
                .with("of", all.to_string());
                let note = balance
                    .into_iter()
                    .fold(note, |note, name| note.with("balance", name));
                finest.iter().fold(note, |note, (readability, _)| {
                    note.with("readability", readability.to_plain())
                })
            }
        }
    }
}
