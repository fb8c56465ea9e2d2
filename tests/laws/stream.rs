//! Class sheets row by row: a row is the same whichever way it is read.

use effloresce::class::{Problem, Row, Sheet};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::sheet::{cell, class, header, style, text};

/// Everything that a row says.
fn says(row: &Row) -> impl Clone + PartialEq + std::fmt::Debug + use<> {
    (
        (
            row.line(),
            row.bench().to_owned(),
            row.pupil().map(str::to_owned),
        ),
        [row.balance(), row.period(), row.issued(), row.notes()].map(|w| w.map(str::to_owned)),
        [row.crucible(), row.crucible_hydrate(), row.readability()],
        [row.hydrate_mass(), row.residue_mass()],
        row.heated().to_vec(),
        row.reported().to_vec(),
        (
            row.has_readings(),
            row.readings_unreadable(),
            row.stand_in(),
        ),
        row.extra()
            .map(|(h, c)| (h.to_owned(), c.to_owned()))
            .collect::<Vec<_>>(),
    )
}

/// Both ways give the same rows, problems and notes, or the same error.
fn both_ways_agree(bytes: &[u8]) -> Result<(), TestCaseError> {
    let held = Sheet::read(bytes);
    let mut rows = match (Sheet::stream(bytes), &held) {
        (Ok(rows), _) => rows,
        (Err(error), Err(same)) => {
            prop_assert_eq!(&error, same);
            return Ok(());
        }
        (Err(error), Ok(_)) => return Err(TestCaseError::fail(format!("{error}"))),
    };
    let mut problems: Vec<Problem> = Vec::new();
    let mut count = 0;
    loop {
        match (rows.next_row(), &held) {
            (Ok(Some((row, wrong))), held) => {
                if let Ok(held) = held {
                    prop_assert_eq!(says(row), says(&held.rows()[count]));
                }
                problems.extend_from_slice(wrong);
                count += 1;
            }
            (Ok(None), Ok(held)) => {
                prop_assert_eq!(count, held.rows().len());
                let by_row: Vec<&Problem> = held
                    .problems()
                    .iter()
                    .filter(|p| p.code() != "no_readings")
                    .collect();
                prop_assert_eq!(problems.iter().collect::<Vec<_>>(), by_row);
                prop_assert_eq!(
                    rows.reported_columns().collect::<Vec<_>>(),
                    held.reported_columns()
                );
                prop_assert!(rows.extra_columns().eq(held.extra_columns()));
                prop_assert_eq!(rows.notes(), &held.notes()[..rows.notes().len()]);
                return Ok(());
            }
            (Err(error), Err(same)) => {
                prop_assert_eq!(&error, same);
                return Ok(());
            }
            (end, held) => {
                return Err(TestCaseError::fail(format!(
                    "{:?}, {held:?}",
                    end.map(|r| r.is_some())
                )));
            }
        }
    }
}

proptest! {
    #[test]
    fn any_bytes_read_the_same_both_ways(bytes in vec(any::<u8>(), 0..300)) {
        both_ways_agree(&bytes)?;
    }

    #[test]
    fn any_cells_read_the_same_both_ways(
        separator in select(vec![",", ";", "\t"]),
        header in header(),
        rows in vec(vec(cell(), 0..11), 0..7),
        again in any::<bool>(),
    ) {
        let header = header.join(separator);
        let mut lines = vec![header.clone()];
        lines.extend(rows.iter().map(|row| row.join(separator)));
        if again {
            lines.push(header);
        }
        both_ways_agree(lines.join("\n").as_bytes())?;
    }

    /// In any encoding that a spreadsheet writes.
    #[test]
    fn every_encoding_reads_the_same(class in class(), style in style()) {
        let plain = text(&class, style).replace('B', "Bü");
        let says = |bytes: &[u8]| -> Vec<_> {
            Sheet::read(bytes).unwrap().rows().iter().map(says).collect()
        };
        let expected = says(plain.as_bytes());
        prop_assert!(!expected.is_empty());
        let unmarked = plain.trim_start_matches('\u{FEFF}');
        for text in [unmarked, plain.as_str()] {
            for units in [u16::to_le_bytes, u16::to_be_bytes] {
                let bytes: Vec<u8> = text.encode_utf16().flat_map(units).collect();
                prop_assert_eq!(says(&bytes), expected.clone());
                both_ways_agree(&bytes)?;
            }
        }
        let windows: Vec<u8> = unmarked.chars().map(|c| u8::try_from(c).unwrap()).collect();
        prop_assert_eq!(says(&windows), expected);
        both_ways_agree(&windows)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2))]

    /// As many rows as a sheet holds, from more than the first piece of a source.
    #[test]
    fn a_hundred_thousand_rows_read_the_same_both_ways(class in class(), style in style()) {
        let some = text(&class, style);
        let (header, rows) = some.split_at(some.find(style.ends).unwrap() + style.ends.len());
        let each = class.benches.len();
        let mut long = String::from(header);
        let mut count = 0;
        while count + each <= 100_000 {
            long.push_str(rows);
            count += each;
        }
        prop_assert!(count > 99_990 && long.len() > 3 << 20);
        both_ways_agree(long.as_bytes())?;
        // And more than a sheet holds, for a stream has no end.
        long.push_str(&rows.repeat(2));
        let mut rows = Sheet::stream(long.as_bytes()).unwrap();
        let mut streamed = 0;
        while rows.next_row().unwrap().is_some() {
            streamed += 1;
        }
        prop_assert_eq!(streamed, count + 2 * each);
        prop_assert_eq!(Sheet::read(long.as_bytes()).is_err(), streamed > 100_000);
    }
}
