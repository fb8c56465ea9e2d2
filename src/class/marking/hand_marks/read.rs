//! A list of marks given by hand, read from CSV.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Read;

use super::hand_mark::{HandMark, HandMarks, bad};
use crate::class::sheet::{
    Records, SEPARATORS, TextSource, decimal_mark, first_record, lines, normal, not_blank,
};
use crate::class::{Error, ErrorKind, Marks};
use crate::gravimetry::Quantity;
use crate::number::Reading;
use crate::text::{Detail, advice, one_line, shorten};

/// The number of lines that are searched for the header.
const MOST_LINES: usize = 100;

/// Where the columns are.
struct Columns {
    separator: u8,
    /// Where the rows begin.
    end: usize,
    count: usize,
    bench: usize,
    quantity: usize,
    marks: usize,
    pupil: Option<usize>,
    period: Option<usize>,
    reported: Option<usize>,
    out_of: Option<usize>,
}

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
        let mut notes = Vec::new();
        let text = TextSource::read_whole(source, &mut notes)?;
        let columns = Columns::find(text.window())?;
        let mut records = Records::new(text, columns.end, columns.separator, columns.count);
        let mut marks = Vec::new();
        while records.next(&mut notes)? {
            let record = records.record();
            let cell = |index: usize| record.cells.get(index).and_then(not_blank);
            if record.cells.iter().all(|cell| not_blank(cell).is_none()) {
                continue;
            }
            marks.extend(columns.mark(record.line, cell)?);
        }
        Ok(HandMarks(marks))
    }
}

impl Columns {
    fn find(text: &str) -> Result<Columns, Error> {
        let candidates = lines(text).take(MOST_LINES).flat_map(|(start, _)| {
            SEPARATORS.map(|separator| Columns::of_line(text, start, separator))
        });
        candidates.flatten().next().ok_or_else(|| {
            let message = "no line has the columns `bench`, `quantity` and `marks`";
            let help = "begin the file with `bench,pupil,quantity,marks`";
            Error::new(ErrorKind::BadHandMarks, Detail::new(message).help(help))
        })
    }

    fn of_line(text: &str, start: usize, separator: u8) -> Option<Columns> {
        let (cells, length) = first_record(text.get(start..)?, separator);
        let find = |name: &str| cells.iter().position(|cell| normal(cell) == name);
        Some(Columns {
            separator,
            end: start + length,
            count: cells.len(),
            bench: find("bench")?,
            quantity: find("quantity")?,
            marks: find("marks")?,
            pupil: find("pupil"),
            period: find("period"),
            reported: find("reported"),
            out_of: find("out_of"),
        })
    }

    /// Returns the marks of a row; `None` if they are not given yet.
    fn mark<'r>(
        &self,
        line: u64,
        cell: impl Fn(usize) -> Option<&'r str>,
    ) -> Result<Option<HandMark>, Error> {
        let Some(marks) = cell(self.marks) else {
            return Ok(None);
        };
        let Some(bench) = cell(self.bench) else {
            let help = "write the bench as in the class sheet";
            return Err(bad(line, "bench", "no bench is named", help));
        };
        let Some(quantity) = cell(self.quantity) else {
            let help = format!("write the quantity, such as `{}`", Quantity::Ratio.code());
            return Err(bad(line, "quantity", "no quantity is named", help));
        };
        let words = |index: Option<usize>| index.and_then(&cell).map(one_line);
        let mark = HandMark::new(
            bench,
            read_quantity(line, quantity)?,
            self.marks(line, marks)?,
        );
        Ok(Some(HandMark {
            line,
            pupil: words(self.pupil).unwrap_or_default(),
            period: words(self.period),
            reported: words(self.reported),
            out_of: self
                .out_of
                .and_then(&cell)
                .and_then(|cell| self.value(cell)),
            ..mark
        }))
    }

    fn marks(&self, line: u64, cell: &str) -> Result<Marks, Error> {
        self.value(cell).ok_or_else(|| {
            let what = format!("`{}` is not a number of whole or half marks", shown(cell));
            let help = "write a number such as 2 or 0.5, or leave the cell blank";
            bad(line, "marks", &what, help)
        })
    }

    fn value(&self, cell: &str) -> Option<Marks> {
        let read = Reading::read(cell, decimal_mark(self.separator)).ok()?;
        let value = read.value();
        Marks::of_value(&value).filter(|_| !value.is_negative())
    }
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
