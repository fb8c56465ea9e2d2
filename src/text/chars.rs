//! The characters that spreadsheets and word processors write instead of the plain ones.

/// Returns the value of a decimal digit, plain or full-width.
pub(crate) fn digit(c: char) -> Option<u8> {
    match c {
        '0'..='9' => Some(c as u8 - b'0'),
        '\u{FF10}'..='\u{FF19}' => u8::try_from(c as u32 - 0xFF10).ok(),
        _ => None,
    }
}

/// Returns the value of a subscript digit.
pub(crate) fn subscript_digit(c: char) -> Option<u8> {
    let digit = u8::try_from((c as u32).checked_sub(0x2080)?).ok()?;
    (digit < 10).then_some(digit)
}

/// Returns the value of a superscript digit.
pub(crate) fn superscript_digit(c: char) -> Option<u8> {
    match c {
        '\u{B9}' => Some(1),
        '\u{B2}' => Some(2),
        '\u{B3}' => Some(3),
        '\u{2070}' | '\u{2074}'..='\u{2079}' => u8::try_from(c as u32 - 0x2070).ok(),
        _ => None,
    }
}

/// Returns whether a superscript sign is a minus; `None` for any other character.
pub(crate) fn superscript_sign(c: char) -> Option<bool> {
    match c {
        '\u{207A}' => Some(false),
        '\u{207B}' => Some(true),
        _ => None,
    }
}

/// Returns the subscript form of a digit; `None` for any other character.
pub(crate) fn to_subscript(c: char) -> Option<char> {
    char::from_u32(0x2080 + c.to_digit(10)?)
}

/// Returns the superscript form of a digit; `None` for any other character.
pub(crate) fn to_superscript(c: char) -> Option<char> {
    match c {
        '1' => Some('\u{B9}'),
        '2' => Some('\u{B2}'),
        '3' => Some('\u{B3}'),
        _ => char::from_u32(0x2070 + c.to_digit(10)?),
    }
}

/// Returns whether the character is a plus sign, plain or full-width.
pub(crate) fn is_plus(c: char) -> bool {
    matches!(c, '+' | '\u{FF0B}')
}

/// Returns whether the character is one that people type, paste or autocorrect for a minus sign.
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

/// Returns whether the character is white space, including the kinds without width.
pub(crate) fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{2060}' | '\u{FEFF}')
}
