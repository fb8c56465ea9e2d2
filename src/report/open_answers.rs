//! A file for the marks that are given by hand, to be filled in.

use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use crate::class::{Answer, Marked, MarkedRow, not_a_formula, write_csv};

/// Writes the answers that are still to be marked by hand as CSV, with a blank column for their marks. The
/// answers of a bench that could not be worked out are among them.
///
/// The columns are `bench`, `pupil`, `period`, `quantity`, `reported` (what was handed in), `out_of` and
/// `marks`. Fill in the marks, and [`HandMarks::read`](crate::class::HandMarks::read) reads them. Cells
/// are separated as in the sheet, and names are written as in the [gradebook](super::write_marks).
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{HandMarks, Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_open_answers};
/// let text = "bench;pupil;hydrate_g;residue_g;reported_ratio\nHeron;a;2,666;1,303;nearly seven\n";
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&Sheet::read(text.as_bytes())?);
/// let mut csv = Vec::new();
/// write_open_answers(&marked, &mut csv).unwrap();
/// let csv = String::from_utf8(csv).unwrap();
/// assert_eq!(csv, "bench;pupil;period;quantity;reported;out_of;marks\nHeron;a;;ratio;nearly seven;1;\n");
///
/// let filled_in = csv.replace("seven;1;", "seven;1;1");
/// let marked = marked.with_hand_marks(&HandMarks::read(filled_in.as_bytes())?)?;
/// assert_eq!(marked.rows()[0].total(), Some(1.into()));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_open_answers(marked: &Marked, out: impl io::Write) -> io::Result<()> {
    let header = [
        "bench", "pupil", "period", "quantity", "reported", "out_of", "marks",
    ];
    let style = marked.style();
    let record = |row: &MarkedRow, answer: &Answer| -> Vec<String> {
        let name = |name: Option<&str>| not_a_formula(name.unwrap_or_default());
        [
            not_a_formula(row.bench()),
            name(row.pupil()),
            name(row.period()),
            answer.quantity().code().to_string(),
            not_a_formula(answer.reported()),
            style.number(answer.out_of()),
            String::new(),
        ]
        .into()
    };
    let records = marked.rows().iter().flat_map(|row| {
        let answers = row.open_answers();
        answers.map(move |answer| record(row, answer))
    });
    write_csv(style, &header, records, out)
}
