//! The characters that spreadsheets and word processors put in place of the plain ones.

/// A decimal digit in plain or full-width form.
pub(crate) fn digit(c: char) -> Option<u8> {
    match c {
        '0'..='9' => Some(c as u8 - b'0'),
        '\u{FF10}'..='\u{FF19}' => u8::try_from(c as u32 - 0xFF10).ok(),
        _ => None,
    }
}

/// Any of the characters that are typed, pasted or autocorrected for a minus sign.
pub(crate) fn is_minus(c: char) -> bool {
    matches!(
        c,
        '-' | '\u{2010}'
            | '\u{2011}'
            | '\u{2012}'
            | '\u{2013}'
            | '\u{2212}'
            | '\u{FE63}'
            | '\u{FF0D}'
    )
}

/// White space, the kinds without width included.
pub(crate) fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{2060}' | '\u{FEFF}')
}
