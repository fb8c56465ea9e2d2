//! Marking again tells exactly what differs.

use effloresce::class::{MarkChanges, Marked, MarkedRow, Marker, Marks, RowChange, Sheet};
use effloresce::gravimetry::Method;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

/// What the texts of one sheet report, marked.
fn marked(ratios: &[&str]) -> Marked {
    let mut text = String::from("bench,hydrate_g,residue_g,reported_ratio\n");
    for (bench, ratio) in ratios.iter().enumerate() {
        text.push_str(&format!("B{bench},2.666,1.303,{ratio}\n"));
    }
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    marker.mark(&Sheet::read(text.as_bytes()).unwrap())
}

proptest! {
    #[test]
    fn marking_again_tells_what_differs(
        before in vec(select(vec!["6.99", "7.01", "5.8", ""]), 1..6),
        changed in subsequence(vec![0_usize, 1, 2, 3, 4], 0..5),
    ) {
        let mut now = before.clone();
        for place in changed {
            if let Some(cell) = now.get_mut(place) {
                *cell = if *cell == "6.99" { "5.8" } else { "6.99" };
            }
        }
        let (before, after) = (marked(&before), marked(&now));
        let mark_changes = MarkChanges::between(&before, &after);
        let total = |class: &Marked| -> Marks {
            class.rows().iter().filter_map(MarkedRow::total).sum()
        };
        let gained: Marks = mark_changes.rows().iter().filter_map(RowChange::difference).sum();
        prop_assert_eq!(total(&before) + gained, total(&after));
        let differing = before.rows().iter().zip(after.rows()).filter(|(old, new)| {
            old.answers()[0].verdict() != new.answers()[0].verdict()
        });
        prop_assert_eq!(mark_changes.changes().len(), differing.count());
    }
}
