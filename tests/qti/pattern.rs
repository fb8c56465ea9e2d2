//! Patterns of XML Schema (part 2, appendix F). Only those are read that mean the same elsewhere.

use regex::Regex;

/// Reads a pattern. It describes a text as a whole.
pub(crate) fn read(pattern: &str) -> Result<Regex, String> {
    let refused = |what: &str| Err(format!("pattern `{pattern}`: {what}"));
    let mut chars = pattern.chars().peekable();
    let (mut in_class, mut class_begins) = (false, false);
    let mut before = ' ';
    while let Some(c) = chars.next() {
        let begins = std::mem::take(&mut class_begins);
        match (c, in_class) {
            ('\\', _) => {
                let escaped = chars.next().unwrap_or(' ');
                if !"nrt\\|.?*+(){}-[]^dDsS".contains(escaped) {
                    return refused(&format!("`\\{escaped}` is not an escape of each reader"));
                }
                before = ' ';
                continue;
            }
            ('[', true) => return refused("a class within a class"),
            ('[', false) => (in_class, class_begins) = (true, true),
            (']', true) => in_class = false,
            ('^', true) if !begins => return refused("`^` within a class"),
            ('^' | '$', false) => return refused("`^` and `$` are not the same for each reader"),
            ('&' | '~', true) if chars.peek() == Some(&c) => {
                return refused("an operator of a class");
            }
            ('?', false) if before == '(' => return refused("a group with a question mark"),
            ('?' | '+' | '*', false) if "?+*}".contains(before) => {
                return refused("a repetition of a repetition");
            }
            _ => {}
        }
        before = if in_class { ' ' } else { c };
    }
    // In XML Schema a point is each character but those that end a line.
    Regex::new(&format!("\\A(?:{pattern})\\z")).map_err(|e| e.to_string())
}

#[test]
fn a_pattern_describes_the_whole_text() {
    let number = read(r"\s*[0-9]{1,3}([.,][0-9]+)?\s*").unwrap();
    for text in ["5", " 5,25 ", "517.0"] {
        assert!(number.is_match(text), "{text}");
    }
    for text in ["", "5,", "5,2,5", "5172", "5\n.2", "x5", "5x"] {
        assert!(!number.is_match(text), "{text}");
    }
    // The alternatives are alternatives of the whole.
    assert!(!read("a|b").unwrap().is_match("ab"));
    for strange in [
        "^a$",
        "(?:a)",
        "a+?",
        "[a-z-[aeiou]]",
        r"\bx",
        r"\$",
        "[a^]",
        "a**",
        "[a&&b]",
        "(",
    ] {
        assert!(read(strange).is_err(), "{strange}");
    }
    assert!(read("[^a.$]*").unwrap().is_match("bc"));
}
