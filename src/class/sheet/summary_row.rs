//! Lines below a class that a spreadsheet worked out: no bench of it.

use super::remark::SheetRemark;
use super::row::Row;
use crate::text::Note;

/// What nobody calls a bench.
const SUMMARIES: [&str; 9] = [
    "mean",
    "average",
    "avg",
    "median",
    "total",
    "totals",
    "stdev",
    "std dev",
    "standard deviation",
];
/// What somebody may be called, so that it sums up only with one of `OF_ALL` before it.
const OTHERS: [&str; 8] = [
    "sum", "sd", "max", "min", "maximum", "minimum", "range", "count",
];
const OF_ALL: [&str; 4] = ["class", "group", "overall", "grand"];

fn is_summary(name: &str) -> bool {
    let name = name.trim_end_matches([':', '.', ' ']);
    let among = |words: &[&str], name: &str| words.iter().any(|w| name.eq_ignore_ascii_case(w));
    among(&SUMMARIES, name)
        || name.split_once(' ').is_some_and(|(of_all, rest)| {
            among(&OF_ALL, of_all) && (among(&SUMMARIES, rest) || among(&OTHERS, rest))
        })
}

/// The note on a row that sums up the others: its bench says so, or its pupil where no bench is
/// named.
pub(super) fn note(row: &Row) -> Option<Note> {
    let name = if row.named {
        row.bench()
    } else {
        row.pupil().unwrap_or_default()
    };
    let line = row.line;
    is_summary(name).then(|| SheetRemark::SummaryRow { line, name }.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_sums_up_and_what_is_a_bench() {
        for name in [
            "Mean",
            "AVERAGE:",
            "median",
            "Std dev.",
            "Class mean",
            "class SD",
            "Grand total",
            "overall max",
        ] {
            assert!(is_summary(name), "{name}");
        }
        for name in [
            "Max",
            "Min",
            "Sum",
            "SD",
            "Meaning",
            "mean 3",
            "Total recall",
            "class 3",
            "",
        ] {
            assert!(!is_summary(name), "{name}");
        }
    }
}
