//! A list of marks given by hand, read from CSV.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Read;

use super::hand_mark::{HandMark, HandMarks, bad};
use crate::class::sheet::{NamedRow, NamedTable, decimal_mark, normal};
use crate::class::{Error, ErrorKind, Marks};
use crate::gravimetry::Quantity;
use crate::number::{DecimalMark, Reading};
use crate::text::{Detail, advice, one_line, shorten};

/// The columns, the required ones first.
const COLUMNS: [&str; 7] = [
    "bench", "quantity", "marks", "pupil", "period", "reported", "out_of",
];
const REQUIRED: usize = 3;

impl HandMarks {
    /// Reads a list from CSV with the columns `bench`, `quantity` and `marks`. The columns `pupil`,
    /// `period`, `reported` (the answer that was marked) and `out_of` (the most that it could earn) may be
    /// there as well. Other columns do no harm.
    ///
    /// The quantity is a code such as `ratio`, or its name, such as `mole ratio`. A row with blank marks is not marked yet. Separators,
    /// decimal marks, encodings and title lines are read as in a [`Sheet`](crate::class::Sheet).
    ///
    /// ```
    /// use effloresce::class::HandMarks;
    /// let text = "bench;pupil;quantity;marks\nHeron;a;ratio;1,5\nWren;b;formula;\n";
    /// assert!(HandMarks::read(text.as_bytes()).is_ok());
    /// let error = HandMarks::read("bench,quantity,marks\nHeron,ratoi,1\n".as_bytes()).unwrap_err();
    /// assert_eq!(error.to_string(), "line 2, `quantity`: `ratoi` is not a quantity");
    /// assert_eq!(error.help(), Some("did you mean `ratio`?"));
    /// ```
    ///
    /// # Errors
    /// Fails if the source cannot be read or has no header with these columns. Fails for a bench or a
    /// quantity that is missing, an unknown quantity, and marks that are not a number of whole or half
    /// marks. The message names the line and the column.
    pub fn read(source: impl Read) -> Result<HandMarks, Error> {
        let table = NamedTable::read(source, &COLUMNS, REQUIRED)?.ok_or_else(|| {
            let message = "no line has the columns `bench`, `quantity` and `marks`";
            let help = "begin the file with `bench,pupil,quantity,marks`";
            Error::new(ErrorKind::BadHandMarks, Detail::new(message).help(help))
        })?;
        let rows = table.rows.iter();
        let marks = rows.map(|row| mark(row, decimal_mark(table.separator)));
        let marks: Vec<Option<HandMark>> = marks.collect::<Result<_, Error>>()?;
        Ok(HandMarks(marks.into_iter().flatten().collect()))
    }
}

/// Returns the marks of a row; `None` if they are not given yet.
fn mark(row: &NamedRow, decimal_mark: DecimalMark) -> Result<Option<HandMark>, Error> {
    let [bench, quantity, marks, pupil, period, reported, out_of] =
        core::array::from_fn(|column| row.cell(column));
    let Some(marks) = marks else {
        return Ok(None);
    };
    let Some(bench) = bench else {
        let help = "write the bench as in the class sheet";
        return Err(bad(row.line, "bench", "no bench is named", help));
    };
    let Some(quantity) = quantity else {
        let help = format!("write the quantity, such as `{}`", Quantity::Ratio.code());
        return Err(bad(row.line, "quantity", "no quantity is named", help));
    };
    let quantity = read_quantity(row.line, quantity)?;
    let given = value(marks, decimal_mark).ok_or_else(|| {
        let what = format!("`{}` is not a number of whole or half marks", shown(marks));
        let help = "write a number such as 2 or 0.5, or leave the cell blank";
        bad(row.line, "marks", &what, help)
    })?;
    Ok(Some(HandMark {
        line: row.line,
        pupil: pupil.map(one_line).unwrap_or_default(),
        period: period.map(one_line),
        reported: reported.map(one_line),
        out_of: out_of.and_then(|cell| value(cell, decimal_mark)),
        ..HandMark::new(bench, quantity, given)
    }))
}

fn value(cell: &str, decimal_mark: DecimalMark) -> Option<Marks> {
    let value = Reading::read(cell, decimal_mark).ok()?.value();
    Marks::of_value(&value).filter(|_| !value.is_negative())
}

fn read_quantity(line: u64, cell: &str) -> Result<Quantity, Error> {
    let code = normal(cell);
    // The key and the strips print the name, and the gradebook the code.
    let named =
        |quantity: &Quantity| quantity.code() == code || normal(&quantity.to_string()) == code;
    Quantity::ALL.into_iter().find(named).ok_or_else(|| {
        let what = format!("`{}` is not a quantity", shown(cell));
        let help = advice(&code, &Quantity::ALL.map(Quantity::code), "write one of");
        bad(line, "quantity", &what, help)
    })
}

fn shown(cell: &str) -> String {
    shorten(&one_line(cell))
}
