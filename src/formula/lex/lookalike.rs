//! Characters that do not belong to the notation and look like some that do: letters of other scripts,
//! quotation marks, primes.

use alloc::format;
use alloc::string::String;

/// Why a character is refused and what to do, as message and help with the corrected text.
pub(crate) fn explain(text: &str, c: char) -> Option<(String, String)> {
    if let Some((script, latin)) = foreign_letter(c) {
        let message = format!("`{c}` is a {script} letter that looks like the Latin {latin}");
        let corrected: String = text
            .chars()
            .map(|c| foreign_letter(c).map_or(c, |(_, latin)| latin))
            .collect();
        return Some((message, format!("type it again: `{}`", corrected.trim())));
    }
    let name = mark(c)?;
    let corrected: String = text.chars().filter(|c| mark(*c).is_none()).collect();
    let corrected = corrected.trim();
    let help = if corrected.is_empty() {
        "take it out".into()
    } else {
        format!("take it out: `{corrected}`")
    };
    Some((format!("`{c}` is {name}, and no formula has one"), help))
}

/// The script of a letter, and the Latin one that it looks like.
fn foreign_letter(c: char) -> Option<(&'static str, char)> {
    const CYRILLIC: [(char, char); 22] = [
        ('А', 'A'),
        ('В', 'B'),
        ('Е', 'E'),
        ('Ѕ', 'S'),
        ('І', 'I'),
        ('Ј', 'J'),
        ('К', 'K'),
        ('М', 'M'),
        ('Н', 'H'),
        ('О', 'O'),
        ('Р', 'P'),
        ('С', 'C'),
        ('Т', 'T'),
        ('У', 'Y'),
        ('Х', 'X'),
        ('а', 'a'),
        ('е', 'e'),
        ('і', 'i'),
        ('о', 'o'),
        ('р', 'p'),
        ('с', 'c'),
        ('у', 'y'),
    ];
    const GREEK: [(char, char); 17] = [
        ('Α', 'A'),
        ('Β', 'B'),
        ('Ε', 'E'),
        ('Ζ', 'Z'),
        ('Η', 'H'),
        ('Ι', 'I'),
        ('Κ', 'K'),
        ('Μ', 'M'),
        ('Ν', 'N'),
        ('Ο', 'O'),
        ('Ρ', 'P'),
        ('Τ', 'T'),
        ('Υ', 'Y'),
        ('Χ', 'X'),
        ('α', 'a'),
        ('ι', 'i'),
        ('ο', 'o'),
    ];
    let among = |script, letters: &[(char, char)]| {
        let found = letters.iter().find(|(foreign, _)| *foreign == c);
        found.map(|(_, latin)| (script, *latin))
    };
    let full_width = || {
        let ascii = u8::try_from((c as u32).checked_sub(0xFEE0)?).ok()?;
        let letter = char::from(ascii);
        letter
            .is_ascii_alphabetic()
            .then_some(("full-width", letter))
    };
    among("Cyrillic", &CYRILLIC)
        .or_else(|| among("Greek", &GREEK))
        .or_else(full_width)
}

fn mark(c: char) -> Option<&'static str> {
    match c {
        '\''
        | '"'
        | '«'
        | '»'
        | '\u{2018}'..='\u{201F}'
        | '\u{2039}'
        | '\u{203A}'
        | '\u{FF02}'
        | '\u{FF07}' => Some("a quotation mark"),
        '\u{2032}'..='\u{2037}' | '\u{02B9}' | '\u{02BA}' => Some("a prime"),
        '`' | '\u{00B4}' => Some("an accent"),
        _ => None,
    }
}
