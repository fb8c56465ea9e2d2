//! Lines below a class that a spreadsheet worked out. They are not benches.

use super::row::Row;

/// Names that nobody gives a bench.
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
/// Names that a bench may have. They sum up only after one of `WHOLE`.
const AMBIGUOUS: [&str; 8] = [
    "sum", "sd", "max", "min", "maximum", "minimum", "range", "count",
];
const WHOLE: [&str; 4] = ["class", "group", "overall", "grand"];

fn is_summary(name: &str) -> bool {
    let name = name.trim_end_matches([':', '.', ' ']);
    let among = |words: &[&str], name: &str| words.iter().any(|w| name.eq_ignore_ascii_case(w));
    among(&SUMMARIES, name)
        || name.split_once(' ').is_some_and(|(whole, rest)| {
            among(&WHOLE, whole) && (among(&SUMMARIES, rest) || among(&AMBIGUOUS, rest))
        })
}

/// Returns the name by which a row sums up the others: its bench, or its pupil if no bench is named.
pub(super) fn summary_name(row: &Row) -> Option<&str> {
    let name = if row.named {
        row.bench()
    } else {
        row.pupil().unwrap_or_default()
    };
    Some(name).filter(|name| is_summary(name))
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
