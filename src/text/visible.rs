//! Text that can be shown anywhere: nothing in it is hidden, moves the cursor or turns the line round.

use alloc::borrow::Cow;
use alloc::string::String;

use unicode_width::UnicodeWidthChar;

/// The most combining marks on one letter. More are drawn over the lines around it.
const MOST_MARKS: usize = 8;

/// Returns the text with every hidden character written as an escape, such as `\u{202e}`.
///
/// Names, cells and file names come from other people. A control character in them can colour a
/// terminal, move its cursor or begin a line of its own. A bidirectional one turns the line round. All
/// texts for people go through this function: errors, notes, keys, strips, gradebooks. Use it for
/// whatever else your program prints.
///
/// These characters are written as escapes:
/// - control characters of both ranges, including tabs and line breaks;
/// - the separators of lines and paragraphs (U+2028, U+2029);
/// - bidirectional marks and controls;
/// - characters without ink, such as the zero-width space, the soft hyphen, fillers and tags, and U+FFFE and
///   U+FFFF, which are not characters;
/// - more than eight combining marks on one letter.
///
/// Some scripts need characters without ink, and names are written in them. A zero-width joiner or
/// non-joiner stays between two characters from U+0600 on (Arabic, the scripts of India, emoji). One
/// variation selector stays after a character that is not ASCII. Anywhere else they are escapes.
///
/// A backslash stays as it is, so the result shows a text and does not encode it. A text that has
/// nothing to hide is returned as it is.
///
/// ```
/// use effloresce::visible;
/// assert_eq!(visible("Zoë, 7H₂O"), "Zoë, 7H₂O");
/// assert_eq!(visible("\u{1b}[31mHeron\u{202e}"), r"\u{1b}[31mHeron\u{202e}");
/// ```
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|b| matches!(b, b' '..=b'~')) {
        return Cow::Borrowed(text);
    }
    let mut before = '\0';
    let mut marks = 0;
    let mut out = String::new();
    // What is before this offset is in `out`.
    let mut written = 0;
    for (at, c) in text.char_indices() {
        let next = at + c.len_utf8();
        marks = if c.width() == Some(0) { marks + 1 } else { 0 };
        let after = || text.get(next..).and_then(|rest| rest.chars().next());
        if marks > MOST_MARKS || (is_hidden(c) && !is_needed(before, c, after().unwrap_or('\0'))) {
            out.push_str(text.get(written..at).unwrap_or_default());
            out.extend(c.escape_unicode());
            written = next;
            before = '\0';
        } else {
            before = c;
        }
    }
    if written == 0 {
        return Cow::Borrowed(text);
    }
    out.push_str(text.get(written..).unwrap_or_default());
    Cow::Owned(out)
}

/// Returns the text as [`visible`] shows it.
pub(crate) fn into_visible(text: Cow<'static, str>) -> Cow<'static, str> {
    let shown = match visible(&text) {
        Cow::Borrowed(_) => None,
        Cow::Owned(shown) => Some(shown),
    };
    shown.map_or(text, Cow::Owned)
}

/// Returns whether a character has no ink, moves the cursor or turns the line round.
pub(super) fn is_hidden(c: char) -> bool {
    c.is_control()
        || is_joiner(c)
        || is_variation_selector(c)
        || matches!(
            c,
            '\u{AD}' | '\u{34F}' | '\u{61C}'
                // Fillers of Hangul, and vowels of Khmer that are only heard.
                | '\u{115F}' | '\u{1160}' | '\u{3164}' | '\u{FFA0}' | '\u{17B4}' | '\u{17B5}'
                // Spaces without width, marks of direction, separators of lines.
                | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
                | '\u{FEFF}' | '\u{FFF0}'..='\u{FFFB}'
                // Not characters; XML forbids them.
                | '\u{FFFE}' | '\u{FFFF}'
                // Format characters of hieroglyphs, shorthand and music; tags.
                | '\u{13430}'..='\u{1343F}' | '\u{1BCA0}'..='\u{1BCA3}'
                | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E0FFF}'
        )
}

fn is_joiner(c: char) -> bool {
    matches!(c, '\u{180E}' | '\u{200C}' | '\u{200D}')
}

fn is_variation_selector(c: char) -> bool {
    matches!(
        c,
        '\u{180B}'..='\u{180D}' | '\u{180F}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}'
    )
}

/// Returns whether a hidden character is part of how words of a script are written.
fn is_needed(before: char, c: char, after: char) -> bool {
    let joins = |c: char| c >= '\u{600}' && !is_hidden(c);
    if is_joiner(c) {
        (joins(before) || is_variation_selector(before)) && joins(after)
    } else {
        is_variation_selector(c) && !before.is_ascii() && !is_hidden(before)
    }
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::*;

    #[track_caller]
    fn shows(text: &str, expected: &str) {
        assert_eq!(visible(text), expected);
        assert_eq!(visible(expected), expected, "a second time");
        let again = into_visible(text.to_string().into());
        assert_eq!(again, expected);
    }

    #[track_caller]
    fn stays(text: &str) {
        assert!(matches!(visible(text), Cow::Borrowed(same) if same == text));
    }

    #[test]
    fn what_can_be_seen_stays() {
        for text in [
            "",
            "MgSO4·7H2O",
            "a\\u{1b}",
            "Zoe\u{308}",
            "1\u{A0}g",
            "½ 塩 ＝",
        ] {
            stays(text);
        }
    }

    #[test]
    fn what_is_hidden_is_an_escape() {
        shows("\u{1b}[31mx", "\\u{1b}[31mx");
        shows("a\tb\r\nc", "a\\u{9}b\\u{d}\\u{a}c");
        shows("\0\u{7f}\u{85}\u{9b}", "\\u{0}\\u{7f}\\u{85}\\u{9b}");
        for code in [
            0xAD, 0x61C, 0x200B, 0x200E, 0x200F, 0x2028, 0x2029, 0x202A, 0x202E, 0x2060, 0x2066,
            0x2069, 0x3164, 0xFEFF, 0xFFF9, 0xFFFE, 0xFFFF, 0xE0041,
        ] {
            let c = char::from_u32(code).unwrap();
            let text = alloc::format!("é{c}é");
            shows(&text, &alloc::format!("é\\u{{{code:x}}}é"));
        }
    }

    #[test]
    fn names_keep_the_joiners_that_they_need() {
        for text in [
            "علی\u{200c}رضا",
            "क्\u{200d}ष",
            "👩\u{200d}🔬",
            "🏳\u{fe0f}\u{200d}🌈",
            "葛\u{e0100}城",
            "ᠮ\u{180b}ᠠ",
        ] {
            stays(text);
        }
        shows("He\u{200d}ron", "He\\u{200d}ron");
        shows("علی\u{200c}", "علی\\u{200c}");
        shows("عل\u{200c}\u{200c}ی", "عل\\u{200c}\\u{200c}ی");
        shows("1\u{fe0f}", "1\\u{fe0f}");
        shows("葛\u{e0100}\u{e0101}", "葛\u{e0100}\\u{e0101}");
    }

    #[test]
    fn marks_do_not_pile_up_on_a_letter() {
        let eight = "e".to_string() + &"\u{301}".repeat(8);
        stays(&eight);
        shows(&(eight.clone() + "\u{302}"), &(eight + "\\u{302}"));
    }
}
