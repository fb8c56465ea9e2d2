//! Lawful readings that are nearly always slips of the keyboard: the digit 1 or a capital I for
//! the small l of chlorine, and the dot before the water left out.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::Count;
use super::error::{Error, ErrorKind};
use super::notation::{Notation, Place, Sign, TermNotation};
use super::parse;
use crate::element::Element;
use crate::text::{Note, Span, digit};

/// A lawful but improbable reading, with its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Suspect {
    /// The 1 of `NaC1` and `CaC12`: carbon, where chlorine is likelier. Also thallium's, `T1`.
    One(Place),
    /// The I of `NaCI`: iodine, where the l of chlorine is likelier.
    Letter(Place),
    /// The count in `MgSO47H2O`: a subscript and the number of waters run together.
    Dot(Place),
}

/// Tells of each suspect, in the order of the text within a part. For nearly every formula this
/// is one look at each term.
pub(super) fn each(notation: &Notation, mut tell: impl FnMut(Suspect)) {
    let mut ones = 0;
    for part in &notation.parts {
        let terms = notation.terms.get(part.terms.clone()).unwrap_or_default();
        for (index, term) in terms.iter().enumerate() {
            let Sign::Atom(atom) = term.sign else {
                continue;
            };
            if term.plain_digits && term.count.is_one() {
                ones += 1;
            }
            if atom.element() == IODINE {
                if let Some(place) = letter(terms, index) {
                    tell(Suspect::Letter(place));
                }
            }
        }
        if let [metal, carbon] = terms {
            if let (Some(place), None) = (chlorides(metal, carbon), part.charge) {
                tell(Suspect::One(place));
            }
        }
        if let ([.., before, hydrogen, oxygen], None) = (terms, part.charge) {
            if is(hydrogen, Element::HYDROGEN, 2) && is(oxygen, Element::OXYGEN, 1) {
                if let Some(place) = run_together(before) {
                    tell(Suspect::Dot(place));
                }
            }
        }
    }
    // A machine that writes every one writes more of them.
    if ones == 1 {
        if let Some(place) = lone_one(notation) {
            tell(Suspect::One(place));
        }
    }
}

const IODINE: Element = Element::ALL[52];
const URANIUM: Element = Element::ALL[91];

fn element(term: &TermNotation) -> Option<Element> {
    match term.sign {
        Sign::Atom(atom) if atom.mass_number().is_none() => Some(atom.element()),
        Sign::Atom(_) | Sign::Open(_) | Sign::Close(_) => None,
    }
}

fn is(term: &TermNotation, wanted: Element, count: u32) -> bool {
    element(term) == Some(wanted) && term.count == Count::Known(count, 1)
}

/// `NaCI`: a metal, a carbon that is not counted, an iodine. `CI4` is carbon's iodide.
fn letter(terms: &[TermNotation], index: usize) -> Option<Place> {
    let metal = terms.get(index.checked_sub(2)?)?;
    let carbon = terms.get(index - 1)?;
    let honest = !element(metal)?.is_metal()
        || element(carbon)? != Element::CARBON
        || carbon.counted.somewhere().is_some();
    if honest {
        return None;
    }
    Some(terms.get(index)?.place)
}

/// `CaC12`: no carbide has as much carbon, save those that graphite makes with alkali metals.
fn chlorides(metal: &TermNotation, carbon: &TermNotation) -> Option<Place> {
    if !matches!(carbon.count, Count::Known(12..=14, 1)) || !carbon.plain_digits {
        return None;
    }
    let metal = element(metal).filter(|metal| metal.is_metal())?;
    let alkali = matches!(metal.number(), 3 | 11 | 19 | 37 | 55 | 87);
    (element(carbon)? == Element::CARBON && !alkali).then(|| first_digit(carbon))
}

/// The only count of one that is written, behind a C that does not begin its part (`C1H4`), or
/// behind the T of heavy hydrogen. `C1U` and `C1I` are written so on purpose.
fn lone_one(notation: &Notation) -> Option<Place> {
    for part in &notation.parts {
        let terms = notation.terms.get(part.terms.clone())?;
        for (index, term) in terms.iter().enumerate() {
            if !term.plain_digits || !term.count.is_one() {
                continue;
            }
            let next = terms.get(index + 1).and_then(element);
            let on_purpose = matches!(next, Some(IODINE | URANIUM));
            let carbon = index > 0 && element(term) == Some(Element::CARBON) && !on_purpose;
            let tritium = matches!(term.sign, Sign::Atom(atom)
                if atom.element() == Element::HYDROGEN && atom.mass_number() == Some(3))
                && term.place.span().end - term.place.span().start == 1;
            return (carbon || tritium).then_some(term.counted);
        }
    }
    None
}

fn first_digit(term: &TermNotation) -> Place {
    let start = term.counted.span().start;
    Place::new(start, start + 1)
}

/// `O47` before H2O: behind oxygen, a halogen or a bracket two or three digits, of which the
/// first would do as a subscript and the others as a number of waters.
fn run_together(before: &TermNotation) -> Option<Place> {
    let Count::Known(count @ 11..=999, 1) = before.count else {
        return None;
    };
    let likely = match before.sign {
        Sign::Atom(atom) => matches!(atom.element().number(), 8 | 9 | 17 | 35 | 53),
        Sign::Close(_) => true,
        Sign::Open(_) => false,
    };
    let waters = if count < 100 { count % 10 } else { count % 100 };
    let counts = waters > 0 && (count < 100 || waters >= 10);
    (likely && counts && before.plain_digits).then_some(before.counted)
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
    pub(super) fn note(self, text: &str) -> Note {
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
    pub(super) fn refused(self, text: &str) -> Error {
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
pub(super) fn settle(canonical: &mut String) {
    // A quick look that spares nearly every text the rest.
    let bytes = canonical.as_bytes();
    let pair = |pair: &[u8]| matches!(pair, b"CI" | b"C1");
    let water = |run: &[u8]| run.ends_with(b"H2O") && run.first().is_some_and(u8::is_ascii_digit);
    if !bytes.windows(2).any(pair) && !bytes.windows(4).any(water) {
        return;
    }
    let mut notation = Notation::default();
    if parse::notation(canonical, &mut notation).is_err() {
        return;
    }
    let mut found = Vec::new();
    each(&notation, |suspect| found.push(suspect));
    found.sort_by_key(|suspect| suspect.place());
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
