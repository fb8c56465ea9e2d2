//! Any bytes and any cells.

use alloc::vec;

use proptest::prelude::*;

use super::*;

/// What must hold of any sheet that was read.
fn holds(sheet: &Sheet) {
    let mut line = 0;
    for (index, row) in sheet.rows().iter().enumerate() {
        assert!(row.line() > line, "rows start on lines of their own");
        line = row.line();
        assert!(!row.bench().is_empty());
        assert_eq!(row.reported().len(), sheet.reported_columns().len());
        match sheet.readings_of(index) {
            Some(holder) => {
                assert!(holder.has_readings());
                let holder_index = sheet.rows().iter().position(|row| row == holder).unwrap();
                assert_eq!(sheet.readings_of(holder_index), Some(holder));
            }
            None => assert!(!row.has_readings()),
        }
        if row.readings_unreadable() {
            assert!(sheet.problems().iter().any(|p| p.line() == row.line()));
        }
        assert!(sheet.readability(index).is_none_or(|r| r.is_positive()));
    }
    for problem in sheet.problems() {
        assert!(problem.line() <= line && problem.message().len() < 1000);
    }
}

fn cell() -> impl Strategy<Value = String> {
    let chosen = prop::sample::select(vec![
        "",
        "-",
        "Heron",
        "Wren",
        "21.352",
        "21,352",
        "\"21,352\"",
        "22.655 g",
        "1 : 6,99",
        "51 %",
        "x",
        "\"",
        "\"\"",
        "\"a\nb\"",
        "\u{FEFF}",
        "bench",
        "crucible_g",
        "1e9",
        "-1",
        "\r",
        "\n",
        "\u{1F426}",
    ]);
    prop_oneof![4 => chosen.prop_map(String::from), 1 => any::<String>()]
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        if let Ok(sheet) = Sheet::read(&bytes[..]) {
            holds(&sheet);
        }
    }

    #[test]
    fn any_cells_are_read_or_refused(
        separator in prop::sample::select(vec![",", ";", "\t"]),
        rows in prop::collection::vec(prop::collection::vec(cell(), 0..12), 0..8),
    ) {
        let mut lines = vec![
            ["bench", "crucible_g", "crucible_hydrate_g", "heated_1_g", "readability_g",
             "balance", "notes", "reported_ratio", "reported_formula"].join(separator),
        ];
        lines.extend(rows.iter().map(|row| row.join(separator)));
        if let Ok(sheet) = Sheet::read(lines.join("\n").as_bytes()) {
            holds(&sheet);
        }
    }
}
