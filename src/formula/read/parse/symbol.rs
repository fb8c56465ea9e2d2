//! Symbols of elements, and atoms that are labelled.

use alloc::format;

use super::cursor::Cursor;
use crate::element::{Atom, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::{bracketed_nuclide, is_digit};
use crate::formula::read::resolve::Reading;
use crate::formula::repr::Count;
use crate::text::Span;

impl Cursor<'_> {
    /// Takes up an atom whose sign began at `start`, with the count behind it.
    pub(crate) fn counted_atom(
        &mut self,
        reading: &mut Reading<'_>,
        atom: Atom,
        start: usize,
    ) -> Result<(), Error> {
        let place = self.since(start);
        if let Some(count) = self.plain_count() {
            reading.plain_atom(atom, count, place);
            return Ok(());
        }
        let count = self.any_count(place)?;
        let origin = match count {
            Count::Unknown(_) => self.unusual.place,
            Count::Known(..) => place,
        };
        reading.atom(atom, count, origin);
        Ok(())
    }

    /// An atom that is not among the plain ones: a labelled one, an element that may need a place for
    /// an error, a symbol that does not exist.
    #[cold]
    pub(crate) fn atom(&mut self, mass_number: Option<u16>, start: usize) -> Result<Atom, Error> {
        let at = self.at;
        let first = self.byte().unwrap_or_default();
        self.strange |= matches!(first, b'C' | b'I' | b'T');
        let second = self.byte_after().filter(u8::is_ascii_lowercase);
        let (atom, length) = match (atom(first, second), second) {
            (Some(atom), None) => (atom, 1),
            (Some(atom), Some(_)) => (atom, 2),
            // An open count: `FexO`.
            (None, Some(b'x' | b'n')) => {
                (atom(first, None).ok_or_else(|| self.unknown_symbol(at))?, 1)
            }
            (None, _) => return Err(self.unknown_symbol(at)),
        };
        self.at += length;
        match mass_number {
            None => Ok(atom),
            Some(number) => nuclide(atom.element(), number, self.since(start).span()),
        }
    }

    pub(crate) fn nuclide_in_brackets(&mut self) -> Result<Atom, Error> {
        let start = self.at;
        let Some((number, letters)) = self.take(bracketed_nuclide) else {
            return Err(Error::bad(
                self.here(),
                "a number right after the bracket `[`",
                "write a labelled atom alone in its brackets, such as `[13C]`, or put the count behind the atom",
            ));
        };
        let span = self.since(start).span();
        match Element::from_symbol(letters) {
            Some(element) => nuclide(element, number, span),
            None => Err(Error::say(
                ErrorKind::UnknownElement,
                span,
                format!("`{letters}` is not the symbol of an element"),
                "write a labelled atom as `[13C]`",
            )),
        }
    }
}

fn nuclide(element: Element, number: u16, span: Span) -> Result<Atom, Error> {
    Atom::labelled(element, number).ok_or_else(|| {
        Error::say(
            ErrorKind::UnknownElement,
            span,
            format!("the table of nuclides has no {}-{number}", element.name()),
            format!("check the mass number, or write {element} and give its weight by hand"),
        )
    })
}

/// The atomic numbers of the elements that ask for no second look, by the lowest five bits of their
/// capital and of their small letter (of a backquote, where there is none); else nought. Those
/// without a standard atomic weight need a place for the error, and the I of iodine may be
/// chlorine's l.
#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static PLAIN_ATOMS: [u8; 1 << 10] = {
    let mut table = [0; 1 << 10];
    let mut index = 0;
    while index < Element::ALL.len() {
        let element = Element::ALL[index];
        let symbol = element.letters();
        if element.has_weight() && element.number() != Element::IODINE.number() {
            table[letters(symbol.0 as usize, symbol.1 as usize)] = element.number();
        }
        index += 1;
    }
    table
};

#[inline(always)]
const fn letters(first: usize, second: usize) -> usize {
    (first << 5 | (second & 0x1F)) & 0x3FF
}

#[inline(always)]
pub(crate) fn plain_atom(first: usize, second: usize) -> u8 {
    let z = PLAIN_ATOMS.get(letters(first, second));
    z.copied().unwrap_or_default()
}

pub(crate) fn begins_with_digit(text: &str) -> bool {
    text.starts_with(is_digit)
}

/// The symbol of an element, or D or T for heavy hydrogen.
fn atom(first: u8, second: Option<u8>) -> Option<Atom> {
    match (Element::from_letters(first, second), first, second) {
        (Some(element), ..) => Some(Atom::natural(element)),
        (None, b'D', None) => Some(Atom::known(Element::HYDROGEN, 2)),
        (None, b'T', None) => Some(Atom::known(Element::HYDROGEN, 3)),
        _ => None,
    }
}
