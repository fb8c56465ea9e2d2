//! The codes of a roster.

use std::path::Path;

use effloresce::visible;

use crate::read::read_text;

/// The largest roster.
const MOST_CODES: usize = 1_000;
/// The longest code, in characters.
const LONGEST_CODE: usize = 100;
/// The longest file, in megabytes.
const LONGEST: u64 = 1;

/// Reads the codes: the first cell of each line. A first line that says `code` is a header.
pub(crate) fn codes(path: &Path) -> Result<Vec<String>, String> {
    let place = path.display();
    let text = read_text(path, LONGEST).map_err(|why| format!("--roster: {why}"))?;
    let text = text.trim_start_matches('\u{FEFF}');
    let delimiter = [b';', b'\t', b',']
        .into_iter()
        .find(|mark| text.as_bytes().contains(mark));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter.unwrap_or(b','))
        .from_reader(text.as_bytes());
    let mut codes: Vec<(String, u64)> = Vec::new();
    for (index, record) in reader.records().enumerate() {
        let record = record.map_err(|error| format!("--roster: {place}: {error}"))?;
        let line = record.position().map_or(0, |start| line_of(text, start));
        let wrong = |what: String| Err(format!("--roster: {place}, line {line}: {what}"));
        if record.iter().any(|cell| cell.contains(['\n', '\r'])) {
            return wrong(
                "a cell goes on in the next line; close its quotation mark, or write it in one line"
                    .into(),
            );
        }
        let code = record.get(0).unwrap_or_default().trim();
        let is_header = index == 0 && code.eq_ignore_ascii_case("code");
        if is_header || code.is_empty() {
            continue;
        }
        if code.chars().count() > LONGEST_CODE {
            return wrong(format!(
                "the code has more than {LONGEST_CODE} characters; give shorter codes"
            ));
        }
        if let Some((_, first)) = codes.iter().find(|(known, _)| known == code) {
            return wrong(format!(
                "the code {} is in line {first} already; give each code once",
                visible(code)
            ));
        }
        codes.push((code.to_string(), line));
        if codes.len() > MOST_CODES {
            return wrong(format!(
                "there are more than {MOST_CODES} codes; split the list"
            ));
        }
    }
    match codes.is_empty() {
        true => Err(format!(
            "--roster: {place} has no codes; write one in each line"
        )),
        false => Ok(codes.into_iter().map(|(code, _)| code).collect()),
    }
}

/// The line of a record. Its position is before the empty lines that were passed over.
fn line_of(text: &str, start: &csv::Position) -> u64 {
    let bytes = text.as_bytes().iter().skip(start.byte() as usize);
    let passed = bytes.take_while(|byte| matches!(byte, b'\n' | b'\r'));
    start.line() + passed.filter(|byte| **byte == b'\n').count() as u64
}
