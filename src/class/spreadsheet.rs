//! CSV as spreadsheets read it.

use alloc::string::String;
use alloc::vec::Vec;
use std::io;

use super::sheet::CsvStyle;
use crate::text::visible_line;

/// Writes a header and records. A byte-order mark comes first if anything is not ASCII.
pub(crate) fn write_csv(
    style: CsvStyle,
    header: &[&str],
    records: impl Iterator<Item = Vec<String>>,
    mut out: impl io::Write,
) -> io::Result<()> {
    let mut writer = csv::WriterBuilder::new()
        .delimiter(style.separator)
        .from_writer(Vec::new());
    writer.write_record(header)?;
    for record in records {
        writer.write_record(record)?;
    }
    let bytes = writer
        .into_inner()
        .map_err(csv::IntoInnerError::into_error)?;
    if !bytes.is_ascii() {
        out.write_all("\u{FEFF}".as_bytes())?;
    }
    out.write_all(&bytes)?;
    out.flush()
}

/// A text that no spreadsheet runs as a formula.
pub(crate) fn not_a_formula(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut beginning = true;
    // A line break, a tab or a separator that is not the sheet's begins another cell in some programs.
    for c in visible_line(text).chars() {
        if beginning && matches!(c, '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠') {
            out.push('\'');
        }
        beginning = matches!(c, ';' | ',') || (beginning && matches!(c, ' ' | '"'));
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_is_a_formula() {
        for (text, expected) in [
            ("Heron", "Heron"),
            ("Finch-Hall + 2", "Finch-Hall + 2"),
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-1", "'-1"),
            ("@SUM(A1)", "'@SUM(A1)"),
            (" =1", "'=1"),
            ("\t=1", "'=1"),
            ("\r\n=1", "'=1"),
            ("\u{1b}=1", "\\u{1b}=1"),
            ("\"=1", "\"'=1"),
            ("a;=1", "a;'=1"),
            ("a; @b", "a; '@b"),
            ("a,=1+1", "a,'=1+1"),
            ("a, =1+1", "a, '=1+1"),
            ("＝1", "'＝1"),
            ("", ""),
        ] {
            assert_eq!(not_a_formula(text), expected);
        }
    }
}
