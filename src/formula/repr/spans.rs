//! Where in the text stands what may keep a formula from having a molar mass: an open count, or an
//! element without a standard atomic weight. The rest needs no place once it is read.

use core::cmp::Ordering;
use core::hash::{Hash, Hasher};

use smallvec::SmallVec;

use crate::element::{Atom, Element};
use crate::text::Span;

/// Where in the text something stands. A text is short enough for two bytes a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub(crate) struct Place {
    start: u16,
    end: u16,
}

impl Place {
    /// Nowhere: every place in a text ends behind its start.
    pub(crate) const NOWHERE: Place = Place { start: 0, end: 0 };

    pub(crate) const fn new(start: usize, end: usize) -> Place {
        Place {
            start: start as u16,
            end: end as u16,
        }
    }

    /// Where the text goes on behind it.
    pub(crate) const fn end(self) -> usize {
        self.end as usize
    }

    pub(crate) const fn span(self) -> Span {
        Span::new(self.start as usize, self.end as usize)
    }

    /// The place, if it is one.
    pub(crate) fn somewhere(self) -> Option<Span> {
        (self != Place::NOWHERE).then_some(self.span())
    }
}

/// Places in the text that a formula was read from. They are no part of its meaning: all are equal.
#[derive(Debug, Clone, Default)]
pub(crate) struct Origins(SmallVec<[(Option<Element>, Place); 2]>);

impl Origins {
    pub(crate) const fn new() -> Origins {
        Origins(SmallVec::new_const())
    }

    /// Notes an open count.
    pub(crate) fn open(&mut self, place: Place) {
        self.note(None, place);
    }

    /// Notes an atom, where it has no weight.
    #[inline]
    pub(crate) fn atom(&mut self, atom: Atom, place: Place) {
        if atom.mass_number().is_none() && !atom.element().has_weight() {
            self.note(Some(atom.element()), place);
        }
    }

    /// Keeps the first place of each.
    #[cold]
    fn note(&mut self, what: Option<Element>, place: Place) {
        if place.somewhere().is_some() && self.find(what).is_none() {
            self.0.push((what, place));
        }
    }

    fn find(&self, what: Option<Element>) -> Option<Span> {
        let mut all = self.0.iter();
        all.find(|(kept, _)| *kept == what)
            .map(|(_, place)| place.span())
    }

    /// The first open count.
    pub(crate) fn open_count(&self) -> Option<Span> {
        self.find(None)
    }

    /// The first of an element.
    pub(crate) fn element(&self, element: Element) -> Option<Span> {
        self.find(Some(element))
    }
}

impl PartialEq for Origins {
    fn eq(&self, _: &Origins) -> bool {
        true
    }
}
impl Eq for Origins {}
impl Hash for Origins {
    fn hash<H: Hasher>(&self, _: &mut H) {}
}
impl PartialOrd for Origins {
    fn partial_cmp(&self, other: &Origins) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Origins {
    fn cmp(&self, _: &Origins) -> Ordering {
        Ordering::Equal
    }
}
