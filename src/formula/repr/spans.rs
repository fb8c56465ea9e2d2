//! Where a formula's text has what may keep the formula from having a molar mass: an unknown count, or an
//! element without a standard atomic weight. Nothing else needs its span once the text is read.

use core::cmp::Ordering;
use core::hash::{Hash, Hasher};

use smallvec::SmallVec;

use crate::element::{Atom, Element};
use crate::text::Span;

/// A span of a formula's text, or none. A text is short enough for two bytes an offset.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub(crate) struct ShortSpan {
    start: u16,
    end: u16,
}

impl ShortSpan {
    /// No span: every other one ends after its start.
    pub(crate) const NONE: ShortSpan = ShortSpan { start: 0, end: 0 };

    pub(crate) const fn new(start: usize, end: usize) -> ShortSpan {
        ShortSpan {
            start: start as u16,
            end: end as u16,
        }
    }

    /// The span, which is empty if there is none.
    pub(crate) const fn span(self) -> Span {
        Span::new(self.start as usize, self.end as usize)
    }

    /// The span, if there is one.
    pub(crate) fn span_if_any(self) -> Option<Span> {
        (self != ShortSpan::NONE).then_some(self.span())
    }
}

/// The spans that errors about a formula's molar mass show. They are no part of its meaning: all are
/// equal.
#[derive(Debug, Clone, Default)]
pub(crate) struct ErrorSpans(SmallVec<[(Option<Element>, ShortSpan); 2]>);

impl ErrorSpans {
    pub(crate) const fn new() -> ErrorSpans {
        ErrorSpans(SmallVec::new_const())
    }

    pub(crate) fn note_unknown_count(&mut self, span: ShortSpan) {
        self.note(None, span);
    }

    /// Notes an atom if it has no weight.
    #[inline]
    pub(crate) fn note_atom(&mut self, atom: Atom, span: ShortSpan) {
        if atom.mass_number().is_none() && !atom.element().has_weight() {
            self.note(Some(atom.element()), span);
        }
    }

    /// Keeps the first span of each element, and the first of an unknown count.
    #[cold]
    fn note(&mut self, element: Option<Element>, span: ShortSpan) {
        if span != ShortSpan::NONE && self.find(element).is_none() {
            self.0.push((element, span));
        }
    }

    fn find(&self, element: Option<Element>) -> Option<Span> {
        let mut all = self.0.iter();
        let found = all.find(|(kept, _)| *kept == element);
        found.map(|(_, span)| span.span())
    }

    /// The first unknown count.
    pub(crate) fn unknown_count(&self) -> Option<Span> {
        self.find(None)
    }

    /// The first atom of an element.
    pub(crate) fn element(&self, element: Element) -> Option<Span> {
        self.find(Some(element))
    }
}

impl PartialEq for ErrorSpans {
    fn eq(&self, _: &ErrorSpans) -> bool {
        true
    }
}
impl Eq for ErrorSpans {}
impl Hash for ErrorSpans {
    fn hash<H: Hasher>(&self, _: &mut H) {}
}
impl PartialOrd for ErrorSpans {
    fn partial_cmp(&self, other: &ErrorSpans) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for ErrorSpans {
    fn cmp(&self, _: &ErrorSpans) -> Ordering {
        Ordering::Equal
    }
}
