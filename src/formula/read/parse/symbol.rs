//! Symbols of elements, and atoms that are labelled.

use alloc::format;

use super::super::draft::Draft;
use super::cursor::Cursor;
use crate::element::{Atom, Element};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::bracketed_nuclide;
use crate::formula::repr::Count;
use crate::text::Span;

impl Cursor<'_> {
    /// Adds an atom whose text began at `start`, with the count after it.
    pub(crate) fn counted_atom(
        &mut self,
        draft: &mut Draft<'_>,
        atom: Atom,
        start: usize,
    ) -> Result<(), Error> {
        let place = self.span_since(start);
        if let Some(count) = self.plain_count(draft) {
            draft.push_plain_atom(atom, count, place);
            return Ok(());
        }
        let count = self.any_count(draft, place)?;
        let origin = match count {
            Count::Unknown(_) => self.last_rare_count.span,
            Count::Known(..) => place,
        };
        draft.push_atom(atom, count, origin);
        Ok(())
    }

    /// Reads a symbol that is not plain. It may be that of a labelled atom, or of an element that needs a
    /// span for an error, or not exist.
    pub(crate) fn atom(
        &mut self,
        draft: &mut Draft<'_>,
        mass_number: Option<u16>,
        start: usize,
    ) -> Result<Atom, Error> {
        let at = self.at;
        let first = self.byte().unwrap_or_default();
        draft.maybe_typo |= matches!(first, b'C' | b'I' | b'N' | b'P' | b'T');
        if matches!(first, b'A' | b'T') {
            self.check_short_form()?;
        }
        let before = at
            .checked_sub(1)
            .and_then(|at| self.text.as_bytes().get(at));
        let may_be_numeral = matches!(self.byte_after(), Some(b'I' | b'V' | b')'))
            || matches!(before, Some(b'I' | b'V'));
        if first == b'I' && may_be_numeral {
            self.check_roman_numeral()?;
        }
        let second = self.byte_after().filter(u8::is_ascii_lowercase);
        let (atom, length) = match (atom(first, second), second) {
            (Some(atom), None) => (atom, 1),
            (Some(atom), Some(_)) => (atom, 2),
            // An unknown count: `FexO`.
            (None, Some(b'x' | b'n')) => {
                (atom(first, None).ok_or_else(|| self.unknown_symbol(at))?, 1)
            }
            (None, _) => return Err(self.unknown_symbol(at)),
        };
        self.at += length;
        match mass_number {
            None => Ok(atom),
            Some(number) => nuclide(atom.element(), number, self.span_since(start).span()),
        }
    }

    pub(crate) fn nuclide_in_brackets(&mut self) -> Result<Atom, Error> {
        let start = self.at;
        let Some((number, letters)) = self.take(bracketed_nuclide) else {
            return Err(Error::bad(
                self.here(),
                "a number follows the bracket `[`",
                "write a labelled atom alone in its brackets, such as `[13C]`, or put the count after the atom",
            ));
        };
        let span = self.span_since(start).span();
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

/// The atom of a symbol, including D and T for heavy hydrogen.
fn atom(first: u8, second: Option<u8>) -> Option<Atom> {
    match (Element::from_letters(first, second), first, second) {
        (Some(element), ..) => Some(Atom::natural(element)),
        (None, b'D', None) => Some(Atom::known(Element::HYDROGEN, 2)),
        (None, b'T', None) => Some(Atom::known(Element::HYDROGEN, 3)),
        _ => None,
    }
}
