//! Lawful readings that are nearly always slips of the keyboard: the digit 1 or a capital I for
//! the small l of chlorine, and the dot before the water left out.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::adduct;
use super::leaf::{state, vulgar_fraction};
use crate::element::Element;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::repr::Place;
use crate::text::{Note, Span, digit, is_space};

/// A lawful but improbable reading, with its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Suspect {
    /// The 1 of `NaC1` and `CaC12`: carbon, where chlorine is likelier. Also thallium's, `T1`.
    One(Place),
    /// The I of `NaCI`: iodine, where the l of chlorine is likelier.
    Letter(Place),
    /// The count in `MgSO47H2O`: a subscript and the number of waters run together.
    Dot(Place),
}

/// Tells of each suspect in a text that is a formula, in the order of the text. For nearly every
/// formula this is one look at its bytes.
#[inline]
pub(crate) fn each(text: &str, tell: impl FnMut(Suspect)) {
    let bytes = text.as_bytes();
    let mut places = bytes.iter().enumerate();
    if places.any(|(at, byte)| matches!(byte, b'1' | b'I' | b'H') && is_strange(bytes, at)) {
        look(text, tell);
    }
}

/// Whether a suspect may be here: `C1`, `CI`, `T1`, or two digits before an H that count a symbol
/// or a bracket.
fn is_strange(bytes: &[u8], at: usize) -> bool {
    let (before, behind) = bytes.split_at_checked(at).unwrap_or_default();
    match (before, behind) {
        ([.., b'C'], [b'1', b'2'..=b'4', next, ..]) => !next.is_ascii_alphanumeric(),
        ([.., b'C' | b'T'], [b'1', next, ..]) => !next.is_ascii_digit() || behind.len() == 2,
        ([.., b'C' | b'T'], [b'1']) | ([.., b'C'], [b'I', ..]) => true,
        ([.., mark, b'0'..=b'9', b'0'..=b'9'], [b'H', ..]) => {
            (mark.is_ascii_alphanumeric() && *mark != b'C') || matches!(mark, b')' | b']' | b'}')
        }
        _ => false,
    }
}

#[cold]
fn look(text: &str, mut tell: impl FnMut(Suspect)) {
    // Who labels atoms or lowers counts by signs knows where the l is on the keyboard.
    if text.contains('^') {
        return;
    }
    let single = lone_ones(text) == 1;
    for (at, byte) in text.bytes().enumerate() {
        let (Some(before), Some(behind)) = (text.get(..at), text.get(at + 1..)) else {
            continue;
        };
        let place = Place::new(at, at + 1);
        match byte {
            b'1' if (single && is_lone_one(before, behind)) || is_chlorides(before, behind) => {
                tell(Suspect::One(place));
            }
            b'I' if is_letter(before, behind) => tell(Suspect::Letter(place)),
            b'H' => tell_run_together(before, behind, &mut tell),
            _ => {}
        }
    }
}

fn without_digits(text: &str) -> &str {
    text.trim_end_matches(|c: char| c.is_ascii_digit())
}

/// The symbol at the end of a text.
fn last_symbol(text: &str) -> Option<&str> {
    text.get(text.rfind(|c: char| c.is_ascii_uppercase())?..)
}

fn ends_with_metal(text: &str) -> Option<Element> {
    Element::from_symbol(last_symbol(text)?).filter(|element| element.is_metal())
}

/// What of the text before a place belongs to the same part. (A decimal point ends it, too: then
/// less is suspect.)
fn part_before(before: &str) -> &str {
    before
        .rsplit(adduct::is_dot)
        .next()
        .unwrap_or_default()
        .trim_start()
}

/// Whether a part ends here: nothing, a dot or a label follows, and no decimals.
fn ends_part(behind: &str) -> bool {
    if let Some(rest) = behind.strip_prefix('.') {
        return !rest.starts_with(|c: char| c.is_ascii_digit()) || adduct::is_adduct_point(rest);
    }
    let rest = behind.trim_start_matches(is_space);
    rest.is_empty() || rest.starts_with(adduct::is_dot) || state(rest).is_ok()
}

/// How many counts of one are written behind a symbol. A machine that writes every one writes
/// more than one of them.
fn lone_ones(text: &str) -> usize {
    let alone = |run: &&[u8]| {
        matches!(run, [before, b'1', behind]
            if before.is_ascii_alphabetic() && !behind.is_ascii_digit())
    };
    let bytes = text.as_bytes();
    let last = matches!(bytes, [.., before, b'1'] if before.is_ascii_alphabetic());
    bytes.windows(3).filter(alone).count() + usize::from(last)
}

/// The 1 behind a C that does not begin its part (as `C1H4` does) or behind the T of heavy
/// hydrogen. `C1U` and `C1I` are written so on purpose.
fn is_lone_one(before: &str, behind: &str) -> bool {
    let goes_on = behind.starts_with(|c: char| c.is_ascii_digit() || c == '/')
        || behind.starts_with(|c| vulgar_fraction(c).is_some())
        || (behind.starts_with('.') && !ends_part(behind));
    if goes_on {
        return false;
    }
    if before.ends_with('T') {
        return true;
    }
    let mut next = behind.chars();
    let on_purpose = matches!(next.next(), Some('U' | 'I'))
        && !next.next().is_some_and(|c| c.is_ascii_lowercase());
    before.strip_suffix('C').is_some_and(|before| {
        let atoms = |c: char| c.is_ascii_alphabetic() || c == ')';
        !on_purpose && without_digits(part_before(before)).ends_with(atoms)
    })
}

/// `CaC12`: no carbide has as much carbon, save those that graphite makes with alkali metals.
fn is_chlorides(before: &str, behind: &str) -> bool {
    let Some(rest) = behind
        .strip_prefix(['2', '3', '4'])
        .filter(|rest| ends_part(rest))
    else {
        return false;
    };
    let Some(salt) = before.strip_suffix('C').filter(|_| !rest.starts_with('/')) else {
        return false;
    };
    let part = part_before(salt).trim_start_matches(|c: char| c.is_ascii_digit());
    let metal = Element::from_symbol(without_digits(part));
    metal.is_some_and(|metal| {
        let alkali = matches!(metal.number(), 3 | 11 | 19 | 37 | 55 | 87);
        metal.is_metal() && !alkali
    })
}

/// `NaCI`: a metal, a carbon that is not counted, an iodine. `CI4` is carbon's iodide.
fn is_letter(before: &str, behind: &str) -> bool {
    let iodine = !behind.starts_with(|c: char| c.is_ascii_lowercase());
    let metal = before.strip_suffix('C').map(without_digits);
    iodine && metal.and_then(ends_with_metal).is_some()
}

/// `O47H2O`: behind oxygen, a halogen or a bracket two or three digits, of which the first would
/// do as a subscript and the others as a number of waters; then water, and the part ends.
fn tell_run_together(before: &str, behind: &str, tell: &mut impl FnMut(Suspect)) {
    if !behind.strip_prefix("2O").is_some_and(ends_part) {
        return;
    }
    let counted = without_digits(before);
    let digits = before.get(counted.len()..).unwrap_or_default();
    let (_, waters) = split_first(digits);
    if !matches!(digits.len(), 2 | 3) || waters.starts_with('0') {
        return;
    }
    let halogen = matches!(last_symbol(counted), Some("O" | "F" | "Cl" | "Br" | "I"));
    if halogen || counted.ends_with([')', ']', '}']) {
        tell(Suspect::Dot(Place::new(counted.len(), before.len())));
    }
}

impl Suspect {
    fn place(self) -> Span {
        match self {
            Suspect::One(place) | Suspect::Letter(place) | Suspect::Dot(place) => place.span(),
        }
    }

    /// What was read, and what is likelier, in a few letters.
    fn both(self, text: &str) -> (String, String) {
        let span = self.place();
        let written = text.get(span.start..span.end).unwrap_or_default();
        let before = text.get(..span.start).unwrap_or_default();
        let symbol = before.chars().next_back().unwrap_or('C');
        match self {
            Suspect::One(_) | Suspect::Letter(_) => {
                (format!("{symbol}{written}"), format!("{symbol}l"))
            }
            Suspect::Dot(_) => {
                let (subscript, waters) = split_first(written);
                (format!("{written}H2O"), format!("{subscript}·{waters}H2O"))
            }
        }
    }

    /// The whole text as it was probably meant.
    fn mended(self, text: &str) -> String {
        let span = self.place();
        let written = text.get(span.start..span.end).unwrap_or_default();
        let middle = match self {
            Suspect::One(_) | Suspect::Letter(_) => "l".into(),
            Suspect::Dot(_) => {
                let (subscript, waters) = split_first(written);
                format!("{subscript}·{waters}")
            }
        };
        let before = text.get(..span.start).unwrap_or_default();
        let behind = text.get(span.end..).unwrap_or_default();
        String::from(format!("{before}{middle}{behind}").trim())
    }

    #[cold]
    pub(crate) fn note(self, text: &str) -> Note {
        let (read, perhaps) = self.both(text);
        let (code, sentence) = match self {
            Suspect::One(_) => (
                "suspect_one",
                format!(
                    "`{read}` was read with the digit 1; perhaps {perhaps} was meant, with the small letter l."
                ),
            ),
            Suspect::Letter(_) => (
                "suspect_letter",
                format!(
                    "`{read}` was read as carbon and iodine; perhaps {perhaps} was meant, with the small letter l."
                ),
            ),
            Suspect::Dot(_) => (
                "suspect_dot",
                format!(
                    "`{read}` was read as one count before hydrogen; perhaps {perhaps} was meant, with a dot before the water."
                ),
            ),
        };
        Note::new(code, sentence)
            .with("read", read)
            .with("perhaps", perhaps)
    }

    #[cold]
    pub(crate) fn refused(self, text: &str) -> Error {
        let (read, perhaps) = self.both(text);
        let message = match self {
            Suspect::One(_) => format!(
                "`{read}` has the digit 1; it looks like {perhaps} with a one for the small letter l"
            ),
            Suspect::Letter(_) => format!(
                "`{read}` would be carbon and iodine; it looks like {perhaps} with a capital I for the small letter l"
            ),
            Suspect::Dot(_) => format!(
                "`{read}` would be one count before hydrogen; it looks like {perhaps} with the dot left out"
            ),
        };
        Error::say(
            ErrorKind::AmbiguousNotation,
            self.place(),
            message,
            format!("write `{}`", self.mended(text)),
        )
    }
}

/// The first digit and the others.
fn split_first(digits: &str) -> (&str, &str) {
    let first = digits.chars().next().map_or(0, char::len_utf8);
    digits.split_at(first)
}

/// Writes a canonical text so that nothing in it is suspect: `C1I`, `C_{12}`, `O_{47}H2O`.
pub(crate) fn settle(canonical: &mut String) {
    let mut found = Vec::new();
    each(canonical, |suspect| found.push(suspect));
    // From the back, so that the places in front stay right.
    for suspect in found.into_iter().rev() {
        let start = suspect.place().start;
        if let Suspect::Letter(_) = suspect {
            canonical.insert(start, '1');
            continue;
        }
        let digits = canonical.get(start..).unwrap_or_default();
        let length = digits.len() - digits.trim_start_matches(|c| digit(c).is_some()).len();
        canonical.insert(start + length, '}');
        canonical.insert_str(start, "_{");
    }
}

/// Pairs of capitals that are nearly always a metal (or silicon) typed without small letters,
/// where more elements follow.
const SUSPECTS: [(&str, &str); 10] = [
    ("CU", "Cu"),
    ("NI", "Ni"),
    ("SN", "Sn"),
    ("SB", "Sb"),
    ("SI", "Si"),
    ("PB", "Pb"),
    ("BI", "Bi"),
    ("NB", "Nb"),
    ("PU", "Pu"),
    ("YB", "Yb"),
];

/// Whether two neighbouring bytes of a text spell a suspect.
#[inline]
pub(crate) fn may_have_suspect(text: &str) -> bool {
    let mut pairs = text.as_bytes().windows(2);
    pairs.any(|pair| match pair {
        // Their lowest five bits rule out most bytes.
        [first, second] if SECOND_LETTERS & letter_bit(*second) != 0 => matches!(
            (first, second),
            (b'C' | b'P', b'U')
                | (b'N' | b'S' | b'B', b'I')
                | (b'S' | b'P' | b'N' | b'Y', b'B')
                | (b'S', b'N')
        ),
        _ => false,
    })
}

/// The second letters of the suspects.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
const SECOND_LETTERS: u32 = {
    let (mut letters, mut index) = (0, 0);
    while index < SUSPECTS.len() {
        letters |= letter_bit(SUSPECTS[index].0.as_bytes()[1]);
        index += 1;
    }
    letters
};

/// A bit for each letter of the alphabet, which other bytes share.
const fn letter_bit(letter: u8) -> u32 {
    1 << (letter & 0x1F)
}

/// Where two capitals in a text without small letters spell a suspect, which, and what for.
pub(crate) fn suspect_pair(text: &str) -> Option<(usize, &'static str, &'static str)> {
    if text.chars().any(|c| c.is_ascii_lowercase()) {
        return None;
    }
    SUSPECTS.iter().find_map(|(capitals, symbol)| {
        let (before, behind) = text.split_once(capitals)?;
        let at = before.len();
        let begins = !before.ends_with(|c: char| c.is_ascii_uppercase());
        let more = behind.chars().any(|c| c.is_ascii_uppercase());
        (begins && more).then_some((at, *capitals, *symbol))
    })
}

/// Writes what would look like a slip so that it does not: a one between two elements that would
/// look like a metal in capitals (`C1UO2`), a count lowered.
pub(crate) fn part_suspects(canonical: &mut String) {
    while let Some((at, ..)) = suspect_pair(canonical) {
        canonical.insert(at + 1, '1');
    }
    settle(canonical);
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::vec::Vec;

    #[test]
    fn the_first_look_is_for_the_suspects_and_nothing_else() {
        let letters = || (b'A'..=b'Z').map(char::from);
        let pairs = letters().flat_map(|a| letters().map(move |b| String::from_iter([a, b])));
        let found: Vec<String> = pairs.filter(|pair| may_have_suspect(pair)).collect();
        let mut suspects = SUSPECTS.map(|(capitals, _)| capitals);
        suspects.sort_unstable();
        assert_eq!(found, suspects);
    }
}
