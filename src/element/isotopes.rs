//! Labelled atoms and the masses of nuclides.

use core::fmt;

use super::elements::Element;
use super::isotopes_data::NUCLIDES;
use crate::number::Reading;

/// An atom in a formula: an element as found on Earth, or one of its nuclides.
///
/// ```
/// use effloresce::{Element, element::Atom};
/// let oxygen: Element = "O".parse()?;
/// assert_eq!(Atom::natural(oxygen).to_string(), "O");
/// assert_eq!(Atom::labelled(oxygen, 18).unwrap().to_string(), "[18O]");
/// assert!(Atom::labelled(oxygen, 99).is_none());
/// # Ok::<(), effloresce::element::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Atom {
    element: Element,
    /// Zero for the natural mixture.
    mass_number: u16,
}

impl Atom {
    /// Returns an atom of the element in its natural mixture of isotopes.
    #[must_use]
    pub const fn natural(element: Element) -> Atom {
        Atom {
            element,
            mass_number: 0,
        }
    }

    /// Returns an atom of one nuclide; `None` if its mass is not in the crate's table.
    #[must_use]
    pub fn labelled(element: Element, mass_number: u16) -> Option<Atom> {
        row(element, mass_number).map(|_| Atom {
            element,
            mass_number,
        })
    }

    /// Returns an atom of a nuclide that is known to be in the table; zero is the natural mixture.
    pub(crate) const fn known(element: Element, mass_number: u16) -> Atom {
        Atom {
            element,
            mass_number,
        }
    }

    /// Returns the element.
    #[must_use]
    pub const fn element(self) -> Element {
        self.element
    }

    /// Returns the mass number of a labelled atom.
    #[must_use]
    pub fn mass_number(self) -> Option<u16> {
        (self.mass_number != 0).then_some(self.mass_number)
    }
}

impl From<Element> for Atom {
    fn from(element: Element) -> Atom {
        Atom::natural(element)
    }
}

impl fmt::Display for Atom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.mass_number() {
            None => self.element.fmt(f),
            Some(number) => f.pad(&alloc::format!("[{number}{}]", self.element)),
        }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Atom {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// Returns the mass of a nuclide and its standard uncertainty, if the crate knows it.
///
/// Both are in unified atomic mass units, which are also grams per mole. Source: AME2020, M. Wang et
/// al., Chinese Phys. C 2021, 45, 030003.
///
/// ```
/// use effloresce::element::nuclide_mass;
/// let (mass, _) = nuclide_mass("H".parse()?, 2).unwrap();
/// assert_eq!(mass.to_string(), "2.01410177784");
/// # Ok::<(), effloresce::element::Error>(())
/// ```
#[must_use]
pub fn nuclide_mass(element: Element, mass_number: u16) -> Option<(Reading, Reading)> {
    let (_, _, mass, uncertainty) = NUCLIDES.get(row(element, mass_number)?)?;
    Some((Reading::literal(mass), Reading::literal(uncertainty)))
}

/// Returns the row of a nuclide.
pub(super) fn row(element: Element, mass_number: u16) -> Option<usize> {
    let z = usize::from(element.number());
    let (first, end) = (*FIRST_ROWS.get(z)?, *FIRST_ROWS.get(z + 1)?);
    let rows = NUCLIDES.get(first..end)?;
    let index = rows.iter().position(|(_, a, ..)| *a == mass_number)?;
    Some(first + index)
}

/// The first row of each element by atomic number, and then the number of rows. Rows are in the order
/// of atomic numbers.
static FIRST_ROWS: [usize; 120] = {
    let mut first = [NUCLIDES.len(); 120];
    let mut row = NUCLIDES.len();
    let mut z = first.len();
    while z > 0 {
        z -= 1;
        while row > 0 && NUCLIDES[row - 1].0 as usize >= z {
            row -= 1;
        }
        first[z] = row;
    }
    first
};
