//! The widths of the columns of a table for LaTeX, which does not choose them itself.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::latex_text::LONGEST_WORD;
use super::table::{Align, TextTable, VisibleColumn};
use crate::text::with_no_break_spaces;

/// A size of letters, with widths in hundredths of a point. They are those of Computer Modern, rounded up.
struct LetterSize {
    /// What sets the size, and the space around columns.
    command: &'static str,
    letter: usize,
    bold: usize,
    /// The space and the line beside a column.
    around: usize,
}

/// The sizes, the largest first. A table takes the first one in which no word is wider than its column.
const SIZES: [LetterSize; 3] = [
    LetterSize {
        command: "",
        letter: 560,
        bold: 640,
        around: 1_240,
    },
    LetterSize {
        command: "\\footnotesize\\setlength{\\tabcolsep}{3pt}",
        letter: 470,
        bold: 570,
        around: 640,
    },
    LetterSize {
        command: "\\scriptsize\\setlength{\\tabcolsep}{2pt}",
        letter: 430,
        bold: 520,
        around: 440,
    },
];
/// The width of a line, in hundredths of a point: that of A4 less its margins and a frame.
const LINE: usize = 46_500;
/// The letters of a line: a longer cell is broken.
const LINE_LETTERS: usize = 90;
/// The letters that a dot with its spaces is as wide as.
const DOT: usize = 3;

pub(super) struct TableLayout {
    /// What sets the size of its letters.
    pub(super) size: &'static str,
    /// The columns, as the beginning of a table states them.
    pub(super) columns: String,
}

/// The width of a column that is not broken within a word, and the one that it needs for one line.
struct ColumnWidth {
    least: usize,
    most: usize,
}

impl TableLayout {
    /// Chooses the size of the letters, and the columns. Those of a wide table, and of one that goes on on the next
    /// page, have a fixed width.
    pub(super) fn new(table: &TextTable, columns: &[VisibleColumn<'_>], is_short: bool) -> Self {
        let [normal, smaller @ ..] = SIZES.each_ref();
        let widths = |size| -> Vec<ColumnWidth> {
            columns
                .iter()
                .map(|column| width(table, column, size))
                .collect()
        };
        let (mut size, mut chosen) = (normal, widths(normal));
        let whole: usize = chosen.iter().map(|width| width.most).sum();
        let is_filled_in = columns.iter().any(|column| column.to_fill_in);
        if is_short && whole <= LINE && !is_filled_in {
            let sides = columns.iter().map(|column| side(column).0);
            return TableLayout {
                size: size.command,
                columns: lined(sides),
            };
        }
        let least = |widths: &[ColumnWidth]| -> usize { widths.iter().map(|w| w.least).sum() };
        for next in smaller {
            if least(&chosen) > LINE {
                (size, chosen) = (next, widths(next));
            }
        }
        let left = LINE.saturating_sub(least(&chosen));
        let wanted: usize = chosen.iter().map(|width| width.most - width.least).sum();
        let line = LINE.max(least(&chosen));
        let fixed = columns.iter().zip(&chosen).map(|(column, width)| {
            // What is left of the line goes to those that need more.
            let more = (width.most - width.least) * left.min(wanted) / wanted.max(1);
            let thousandths = (width.least + more) * 1_000 / line;
            format!(
                ">{{\\{}\\arraybackslash}}p{{\\dimexpr {}.{:03}\\linewidth-2\\tabcolsep-\\arrayrulewidth\\relax}}",
                side(column).1,
                thousandths / 1_000,
                thousandths % 1_000
            )
        });
        TableLayout {
            size: size.command,
            columns: lined(fixed),
        }
    }
}

/// The columns with lines between them.
fn lined(columns: impl Iterator<Item = impl AsRef<str>>) -> String {
    let columns = columns.map(|column| format!("{}|", column.as_ref()));
    format!("|{}", columns.collect::<String>())
}

/// The side of a column that is as wide as it must be, and of one with a fixed width.
fn side(column: &VisibleColumn<'_>) -> (&'static str, &'static str) {
    match column.align {
        Align::Left => ("l", "raggedright"),
        Align::Right => ("r", "raggedleft"),
    }
}

fn width(table: &TextTable, column: &VisibleColumn<'_>, size: &LetterSize) -> ColumnWidth {
    let letters = |text: &str| text.chars().count() + (DOT - 1) * text.matches('·').count();
    // A number is not parted from its unit.
    let longest = |text: &str| {
        let text = with_no_break_spaces(text);
        text.split(' ').map(letters).max().unwrap_or(0)
    };
    let cells = table.rows().iter().filter_map(|row| row.get(column.index));
    let (mut least, mut most) = (
        longest(column.name) * size.bold,
        letters(column.name) * size.bold,
    );
    for cell in cells {
        least = least.max(longest(cell).min(LONGEST_WORD) * size.letter);
        most = most.max(letters(cell).min(LINE_LETTERS) * size.letter);
    }
    ColumnWidth {
        least: least + size.around,
        most: most.max(least) + size.around,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wide_table_has_columns_of_fixed_width_that_fill_the_line() {
        let mut table = TextTable::new("").left(["Bench", "Why"]);
        table.row(["Agate".into(), "long words ".repeat(20)]);
        let columns = table.visible();
        let layout = TableLayout::new(&table, &columns, true).columns;
        let shares: Vec<f64> = layout
            .split("\\dimexpr ")
            .skip(1)
            .map(|rest| rest.split('\\').next().unwrap().parse().unwrap())
            .collect();
        assert_eq!(shares.len(), 2, "{layout}");
        let whole: f64 = shares.iter().sum();
        assert!((0.9..=1.0).contains(&whole), "{layout}");
        assert!(shares[0] < 0.2, "{layout}");
    }

    #[test]
    fn many_columns_have_small_letters() {
        let layout = |count: usize| {
            let mut table = TextTable::new("").right((0..count).map(|_| "crucible/g"));
            table.row((0..count).map(|_| "20.125".into()));
            TableLayout::new(&table, &table.visible(), true)
        };
        assert_eq!(
            (layout(6).size, layout(6).columns.as_str()),
            ("", "|r|r|r|r|r|r|")
        );
        assert!(layout(7).size.is_empty() || layout(7).size.starts_with("\\footnotesize"));
        assert!(
            layout(8).size.starts_with("\\scriptsize")
                || layout(8).size.starts_with("\\footnotesize")
        );
        assert!(layout(20).size.starts_with("\\scriptsize"));
    }
}
