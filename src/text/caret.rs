//! An error under the text that it is about: the text, carets, the message and the help.

use core::fmt::{self, Display, Formatter, Write};

use unicode_width::UnicodeWidthChar;

use super::span::Span;
use super::visible::is_hidden;

/// The most columns of the text that are shown, not counting the marks of cuts.
const COLUMNS: usize = 72;
/// The columns that are kept for the span and the text after it, before the rest is shared.
const COLUMNS_AFTER: usize = 36;
/// The most characters that are read for each column, because combining marks take no column.
const CHARS_PER_COLUMN: usize = 4;

/// An error to be printed; made by an error's `caret`.
pub(crate) struct Caret<'a> {
    pub(crate) text: &'a str,
    pub(crate) span: Option<Span>,
    pub(crate) message: &'a dyn Display,
    pub(crate) help: Option<&'a str>,
}

impl Display for Caret<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        if let Some(span) = self.span {
            write_line(f, self.text, span)?;
        }
        write!(f, "{}", self.message)?;
        match self.help {
            Some(help) => write!(f, "\nhelp: {help}"),
            None => Ok(()),
        }
    }
}

/// Writes the line in which the span begins, and carets below it.
fn write_line(f: &mut Formatter<'_>, text: &str, span: Span) -> fmt::Result {
    let (before, after) = text.split_at(boundary(text, span.start));
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    let (head, tail) = (before.get(line_start..), after.lines().next());
    let (head, tail) = (head.unwrap_or_default(), tail.unwrap_or_default());
    let length = boundary(text, span.end).saturating_sub(before.len());
    let (marked, _) = tail.split_at(boundary(tail, length));

    let ahead = fit(tail.chars(), COLUMNS_AFTER);
    let left = fit(head.chars().rev(), COLUMNS.saturating_sub(ahead.columns));
    let right = fit(tail.chars(), COLUMNS.saturating_sub(left.columns));
    let cut = left.bytes < head.len();
    let shown = head.get(head.len() - left.bytes..).unwrap_or_default();
    let rest = tail.get(..right.bytes).unwrap_or_default();
    let under = fit(marked.chars(), right.columns);
    let mut column = left.columns + usize::from(cut);
    if marked.chars().next().is_some_and(|c| columns(c) == 0) {
        // A combining mark is on the character before it.
        column = column.saturating_sub(1);
    }

    let several = text.contains('\n');
    let line = 1 + before.matches('\n').count();
    if several {
        write!(f, "{line} | ")?;
    }
    f.write_str(if cut { "…" } else { "" })?;
    show(f, shown)?;
    show(f, rest)?;
    f.write_str(if right.bytes < tail.len() {
        "…\n"
    } else {
        "\n"
    })?;
    if several {
        let gutter = line.ilog10() as usize + 1;
        write!(f, "{:gutter$} | ", "")?;
    }
    writeln!(f, "{:column$}{:^<2$}", "", "", under.columns.max(1))
}

/// Returns the last boundary between characters that is not after `offset`.
fn boundary(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

/// The bytes of a text that fit a number of columns, and the columns that they take.
#[derive(Clone, Copy)]
struct FittingText {
    bytes: usize,
    columns: usize,
}

fn fit(chars: impl Iterator<Item = char>, most: usize) -> FittingText {
    let mut fitting = FittingText {
        bytes: 0,
        columns: 0,
    };
    for c in chars.take(most * CHARS_PER_COLUMN) {
        let wider = fitting.columns + columns(c);
        if wider > most {
            break;
        }
        fitting.columns = wider;
        fitting.bytes += c.len_utf8();
    }
    fitting
}

const TAB: &str = "    ";

fn show(f: &mut Formatter<'_>, text: &str) -> fmt::Result {
    for c in text.chars() {
        match c {
            '\t' => f.write_str(TAB)?,
            c if is_hidden(c) => write!(f, "{}", c.escape_unicode())?,
            c => f.write_char(c)?,
        }
    }
    Ok(())
}

/// Returns the columns that a character takes when it is shown.
fn columns(c: char) -> usize {
    match c {
        '\t' => TAB.len(),
        c if is_hidden(c) => c.escape_unicode().count(),
        c => c.width().unwrap_or(0),
    }
}

#[cfg(test)]
mod tests {
    use alloc::format;
    use alloc::string::{String, ToString};

    use super::*;

    #[track_caller]
    fn shows(text: &str, span: (usize, usize), expected: &str) {
        let caret = Caret {
            text,
            span: Some(Span::new(span.0, span.1)),
            message: &"so",
            help: None,
        };
        let shown = caret.to_string();
        assert_eq!(shown.strip_suffix("\nso"), Some(expected), "{shown}");
    }

    #[test]
    fn under_plain_letters() {
        shows("CuS04", (3, 4), "CuS04\n   ^");
        shows("SO42-", (2, 5), "SO42-\n  ^^^");
        shows("CuSO4·", (7, 7), "CuSO4·\n      ^");
        shows("NaCl", (0, 0), "NaCl\n^");
        shows("", (0, 0), "\n^");
        // A span after the text, or inside a character, is moved back into it.
        shows("NaCl", (9, 12), "NaCl\n    ^");
        shows("½H", (1, 2), "½H\n^");
        shows("NaCl", (2, 1), "NaCl\n  ^");
    }

    #[test]
    fn under_wide_combining_and_invisible_ones() {
        shows("塩化NaXx", (8, 10), "塩化NaXx\n      ^^");
        shows("塩化Na", (3, 6), "塩化Na\n  ^^");
        shows("H２o", (4, 5), "H２o\n   ^");
        shows("e\u{301}\u{323}Xx", (5, 7), "e\u{301}\u{323}Xx\n ^^");
        shows("He\u{301}", (2, 4), "He\u{301}\n ^");
        shows("\u{301}He", (0, 2), "\u{301}He\n^");
        shows("Na\u{200B}Xx", (5, 7), "Na\\u{200b}Xx\n          ^^");
        shows("Na\u{7}Cl", (2, 3), "Na\\u{7}Cl\n  ^^^^^");
        shows("Na\tXx", (3, 5), "Na    Xx\n      ^^");
        shows("\u{202E}Xx", (3, 5), "\\u{202e}Xx\n        ^^");
    }

    #[test]
    fn in_the_line_that_it_is_in() {
        let policy = "# bands\nplaces = 2\ntolerance = 0,1\n";
        shows(policy, (31, 34), "3 | tolerance = 0,1\n  |             ^^^");
        shows(policy, (7, 7), "1 | # bands\n  |        ^");
        shows(policy, (35, 35), "4 | \n  | ^");
        shows(policy, (15, 25), "2 | places = 2\n  |        ^^^");
        shows("a\r\nbc\r\n", (3, 4), "2 | bc\n  | ^");
        shows("a\r\nbc\r\n", (5, 5), "2 | bc\n  |   ^");
        let far = "\n".repeat(99) + "Xx";
        shows(&far, (99, 101), "100 | Xx\n    | ^^");
    }

    #[test]
    fn a_long_line_is_cut_about_the_place() {
        let shown = |text: &str, start, end| {
            let message = &"";
            let (span, help) = (Some(Span::new(start, end)), None);
            let caret = Caret {
                text,
                span,
                message,
                help,
            };
            let lines = caret.to_string();
            let (line, carets) = lines.split_once('\n').unwrap();
            (String::from(line), String::from(carets.trim_end()))
        };
        let long = "C".repeat(100) + "Xx" + &"H".repeat(100);
        let (line, carets) = shown(&long, 100, 102);
        let expected = format!("…{}Xx{}…", "C".repeat(36), "H".repeat(34));
        assert_eq!((line, carets), (expected, " ".repeat(37) + "^^"));
        // Near an end the columns of the other side are used.
        let (line, carets) = shown(&long, 0, 1);
        assert_eq!((line, carets.as_str()), ("C".repeat(72) + "…", "^"));
        let (line, carets) = shown(&long, 202, 202);
        let expected = format!("…{}", "H".repeat(72));
        assert_eq!((line, carets), (expected, " ".repeat(73) + "^"));
        // A long place itself.
        let (line, carets) = shown(&long, 0, 202);
        assert_eq!((line, carets), ("C".repeat(72) + "…", "^".repeat(72)));
        // No more is looked at than is shown.
        let marks = "\u{301}".repeat(100_000);
        let (line, carets) = shown(&marks, 100_000, 100_002);
        assert!(line.len() < 1200 && carets.ends_with('^'));
        let wide = "塩".repeat(1000);
        let (line, carets) = shown(&wide, 1500, 1503);
        assert_eq!(line.chars().count(), 38);
        assert_eq!(carets, " ".repeat(37) + "^^");
    }
}
