//! The benches of which a reading may be mistyped in the sheet.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{Marked, MarkedRow};
use crate::gravimetry::{Dehydration, Reason};
use crate::text::list;

/// Returns the benches of which a reading may be mistyped, in a sentence. They stay in the pool.
pub(super) fn maybe_mistyped(marked: &Marked) -> Option<String> {
    let lines = mistyped_lines(marked);
    let named = marked
        .rows()
        .iter()
        .filter(|row| row.has_own_readings() && lines.contains(&row.line()));
    let names: Vec<&str> = named.map(MarkedRow::bench).collect();
    let counts = match names.len() {
        0 => return None,
        1 => "It still counts",
        _ => "They still count",
    };
    let names = list(names.into_iter().map(String::from));
    Some(format!(
        "A reading of {names} may be mistyped. {counts}. Compare the sheet with the paper, and correct it."
    ))
}

/// Returns the lines of the readings of which one may be mistyped.
pub(super) fn mistyped_lines(marked: &Marked) -> BTreeSet<u64> {
    let counts = |row: &&MarkedRow| !row.stand_in() && row.dehydration().is_some();
    let rows = marked.rows().iter().filter(counts);
    rows.filter(|row| is_maybe_mistyped(row))
        .filter_map(MarkedRow::readings_line)
        .collect()
}

/// Whether the answers of a row, or its readings alone, show that one digit may be wrong.
fn is_maybe_mistyped(row: &MarkedRow) -> bool {
    let is_digit =
        |reason: &Reason| matches!(reason, Reason::WrongDigit(..) | Reason::Mistyped(..));
    let dehydration = row.dehydration();
    let further = dehydration.and_then(Dehydration::further_residue);
    let checked = row
        .check()
        .is_some_and(|check| check.findings().iter().any(is_digit));
    row.difference_percent().is_none() || checked && further.is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    #[test]
    fn a_bench_that_may_be_mistyped_is_named_and_counts() {
        let said = |rows: &str| {
            let text = format!(
                "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_residue_g,reported_water_g\n{rows}"
            );
            let sheet = Sheet::read(text.as_bytes()).unwrap();
            let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
            (maybe_mistyped(&marked), marked.pooled().n())
        };
        let good = "Finch,a,20.137,22.648,21.364,21.363,1.226,1.285\n";
        assert_eq!(said(good), (None, 1));
        // By its readings alone, and by the answers of another pupil of the bench.
        let (text, n) = said(&format!("{good}Eva,b,20.137,22.648,21.364,20.363,,\n"));
        let one = "A reading of Eva may be mistyped. It still counts. Compare the sheet with the paper, and \
                   correct it.";
        assert_eq!((text.as_deref(), n), (Some(one), 2));
        let (text, _) = said("Rook,c,20.137,22.648,21.364,21.336,,\nRook,d,,,,,1.226,1.285\n");
        assert!(
            text.unwrap()
                .starts_with("A reading of Rook may be mistyped.")
        );
    }
}
