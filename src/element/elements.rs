//! The 118 elements: symbols, names and atomic numbers.

use core::fmt;
use core::str::FromStr;

use super::error::{Error, ErrorKind};
use super::iupac_2021;
use super::table::{WeightRow, none};

/// A chemical element.
///
/// ```
/// use effloresce::Element;
/// let magnesium: Element = "Mg".parse()?;
/// assert_eq!(magnesium.name(), "magnesium");
/// assert_eq!(magnesium.number(), 12);
/// assert_eq!(Element::ALL.len(), 118);
/// # Ok::<(), effloresce::element::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Element(u8);

impl Element {
    /// Every element, by atomic number.
    pub const ALL: [Element; 118] = {
        let mut all = [Element(1); 118];
        let mut z = 1;
        while z <= 118 {
            all[z - 1] = Element(z as u8);
            z += 1;
        }
        all
    };

    pub(crate) const HYDROGEN: Element = Element(1);
    pub(crate) const CARBON: Element = Element(6);
    pub(crate) const NITROGEN: Element = Element(7);
    pub(crate) const OXYGEN: Element = Element(8);
    pub(crate) const IODINE: Element = Element(53);

    /// Returns the element with this symbol, written with a capital first letter.
    #[must_use]
    pub fn from_symbol(symbol: &str) -> Option<Element> {
        let mut bytes = symbol.bytes();
        let first = bytes.next().filter(u8::is_ascii_uppercase)?;
        let second = match (bytes.next(), bytes.next()) {
            (None, _) => None,
            (Some(second), None) if second.is_ascii_lowercase() => Some(second),
            _ => return None,
        };
        Element::from_letters(first, second)
    }

    /// Returns the element whose symbol is this capital and, if any, this small letter.
    pub(crate) fn from_letters(first: u8, second: Option<u8>) -> Option<Element> {
        let column = match second {
            None => 0,
            Some(small) => usize::from(small.checked_sub(b'a' - 1)?),
        };
        let row = BY_LETTERS.get(usize::from(first.checked_sub(b'A')?))?;
        row.get(column).filter(|z| **z != 0).map(|z| Element(*z))
    }

    /// Returns the element with this atomic number, from 1 to 118.
    #[must_use]
    pub fn from_number(number: u8) -> Option<Element> {
        (1..=118).contains(&number).then_some(Element(number))
    }

    /// Returns the atomic number.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Returns the IUPAC symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        self.row_2021().symbol
    }

    /// Returns the capital letter of the symbol and the small one, or a backquote, which is before `a`.
    pub(crate) const fn letters(self) -> (u8, u8) {
        match iupac_2021::TABLE[self.0 as usize - 1].symbol.as_bytes() {
            [first] => (*first, b'`'),
            [first, second, ..] => (*first, *second),
            [] => (b'@', b'`'),
        }
    }

    /// Returns the IUPAC name, in the spelling that IUPAC puts first: aluminium, caesium, sulfur.
    #[must_use]
    pub fn name(self) -> &'static str {
        NAMES
            .get(usize::from(self.0) - 1)
            .copied()
            .unwrap_or_default()
    }

    /// Returns the other spelling of the name, if IUPAC has two: aluminum and cesium.
    ///
    /// IUPAC's *Red Book*, Nomenclature of Inorganic Chemistry 2005, table I, gives both spellings; for
    /// sulfur it gives one.
    ///
    /// ```
    /// use effloresce::Element;
    /// let aluminium: Element = "Al".parse()?;
    /// assert_eq!((aluminium.name(), aluminium.alternative_name()), ("aluminium", Some("aluminum")));
    /// # Ok::<(), effloresce::element::Error>(())
    /// ```
    #[must_use]
    pub const fn alternative_name(self) -> Option<&'static str> {
        match self.0 {
            13 => Some("aluminum"),
            55 => Some("cesium"),
            _ => None,
        }
    }

    /// Returns the element with this English name, in either of IUPAC's spellings and in any case.
    /// Retired and Latin names are not known.
    ///
    /// ```
    /// use effloresce::Element;
    /// assert_eq!(Element::from_name("Caesium"), Element::from_name("cesium"));
    /// assert_eq!(Element::from_name("sulfur"), Element::from_symbol("S"));
    /// assert_eq!(Element::from_name("natrium"), None);
    /// ```
    #[must_use]
    pub fn from_name(name: &str) -> Option<Element> {
        let same = |known: &str| known.eq_ignore_ascii_case(name);
        Element::ALL
            .into_iter()
            .find(|element| same(element.name()) || element.alternative_name().is_some_and(same))
    }

    /// Returns whether the element is a metal.
    ///
    /// Books differ on boron, silicon, germanium, arsenic, antimony and tellurium. Here these are not
    /// metals, nor are astatine, tennessine and oganesson.
    #[must_use]
    pub fn is_metal(self) -> bool {
        !matches!(
            self.0,
            1 | 2 | 5..=10 | 14..=18 | 32..=36 | 51..=54 | 85 | 86 | 117 | 118
        )
    }

    pub(super) fn row_2021(self) -> &'static WeightRow {
        static TABLE: [WeightRow; 118] = iupac_2021::TABLE;
        static NONE: WeightRow = none("");
        // Every element has a number from 1 to 118.
        TABLE.get(usize::from(self.0) - 1).unwrap_or(&NONE)
    }
}

impl FromStr for Element {
    type Err = Error;

    fn from_str(symbol: &str) -> Result<Element, Error> {
        Element::from_symbol(symbol).ok_or_else(|| no_symbol(symbol))
    }
}

fn no_symbol(text: &str) -> Error {
    let mut chars = text.trim().chars();
    let first = chars.next().map(|c| c.to_ascii_uppercase());
    let other_case: alloc::string::String = first
        .into_iter()
        .chain(chars.map(|c| c.to_ascii_lowercase()))
        .collect();
    let likely = Element::from_symbol(&other_case).or_else(|| Element::from_name(text.trim()));
    let help = match likely {
        Some(element) => alloc::format!("write {element} for {}", element.name()),
        None => "write one of the 118 symbols, with a capital first letter".into(),
    };
    Error::new(
        ErrorKind::UnknownElement,
        crate::text::Detail::new(alloc::format!("`{text}` is not the symbol of an element"))
            .at(crate::Span::new(0, text.len()))
            .help(help),
    )
}

impl fmt::Display for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.symbol())
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Element {
    /// Serializes the symbol.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.symbol())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Element {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        crate::text::read_text(deserializer, "the symbol of an element", str::parse)
    }
}

/// Atomic numbers by the capital letter and the small one (column 0: none).
static BY_LETTERS: [[u8; 27]; 26] = {
    let mut map = [[0; 27]; 26];
    let mut index = 0;
    while index < 118 {
        let symbol = iupac_2021::TABLE[index].symbol.as_bytes();
        let column = if symbol.len() > 1 {
            (symbol[1] - b'a' + 1) as usize
        } else {
            0
        };
        map[(symbol[0] - b'A') as usize][column] = index as u8 + 1;
        index += 1;
    }
    map
};

const NAMES: [&str; 118] = [
    "hydrogen",
    "helium",
    "lithium",
    "beryllium",
    "boron",
    "carbon",
    "nitrogen",
    "oxygen",
    "fluorine",
    "neon",
    "sodium",
    "magnesium",
    "aluminium",
    "silicon",
    "phosphorus",
    "sulfur",
    "chlorine",
    "argon",
    "potassium",
    "calcium",
    "scandium",
    "titanium",
    "vanadium",
    "chromium",
    "manganese",
    "iron",
    "cobalt",
    "nickel",
    "copper",
    "zinc",
    "gallium",
    "germanium",
    "arsenic",
    "selenium",
    "bromine",
    "krypton",
    "rubidium",
    "strontium",
    "yttrium",
    "zirconium",
    "niobium",
    "molybdenum",
    "technetium",
    "ruthenium",
    "rhodium",
    "palladium",
    "silver",
    "cadmium",
    "indium",
    "tin",
    "antimony",
    "tellurium",
    "iodine",
    "xenon",
    "caesium",
    "barium",
    "lanthanum",
    "cerium",
    "praseodymium",
    "neodymium",
    "promethium",
    "samarium",
    "europium",
    "gadolinium",
    "terbium",
    "dysprosium",
    "holmium",
    "erbium",
    "thulium",
    "ytterbium",
    "lutetium",
    "hafnium",
    "tantalum",
    "tungsten",
    "rhenium",
    "osmium",
    "iridium",
    "platinum",
    "gold",
    "mercury",
    "thallium",
    "lead",
    "bismuth",
    "polonium",
    "astatine",
    "radon",
    "francium",
    "radium",
    "actinium",
    "thorium",
    "protactinium",
    "uranium",
    "neptunium",
    "plutonium",
    "americium",
    "curium",
    "berkelium",
    "californium",
    "einsteinium",
    "fermium",
    "mendelevium",
    "nobelium",
    "lawrencium",
    "rutherfordium",
    "dubnium",
    "seaborgium",
    "bohrium",
    "hassium",
    "meitnerium",
    "darmstadtium",
    "roentgenium",
    "copernicium",
    "nihonium",
    "flerovium",
    "moscovium",
    "livermorium",
    "tennessine",
    "oganesson",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_and_numbers_agree() {
        for (index, element) in Element::ALL.iter().enumerate() {
            assert_eq!(usize::from(element.number()), index + 1);
            assert_eq!(Element::from_symbol(element.symbol()), Some(*element));
        }
        for wrong in [
            "", "m", "MG", "mg", "Mgg", "Uut", "D", "Xx", "é", "M\u{301}",
        ] {
            assert_eq!(Element::from_symbol(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn names_in_either_spelling() {
        let mut names = alloc::collections::BTreeSet::new();
        for element in Element::ALL {
            let spellings = core::iter::once(element.name()).chain(element.alternative_name());
            for name in spellings {
                assert!(name.bytes().all(|b| b.is_ascii_lowercase()), "{name}");
                assert_eq!(Element::from_name(name), Some(element));
                let capitals = name.to_ascii_uppercase();
                assert_eq!(Element::from_name(&capitals), Some(element));
                assert!(names.insert(name), "{name}");
            }
        }
        assert_eq!(names.len(), 120);
        for wrong in [
            "", "Na", "sulphur", "natrium", "ununtium", " sodium", "sodiu",
        ] {
            assert_eq!(Element::from_name(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn the_likely_element_is_named() {
        let help = |text: &str| {
            let error = text.parse::<Element>().unwrap_err();
            assert_eq!(error.code(), "unknown_element");
            assert_eq!(
                alloc::format!("{error}"),
                alloc::format!("`{text}` is not the symbol of an element")
            );
            assert_eq!(error.span(), Some(crate::Span::new(0, text.len())));
            alloc::string::String::from(error.help().unwrap())
        };
        for near in ["na", "NA", " Na", "sodium", "Sodium "] {
            assert_eq!(help(near), "write Na for sodium", "{near}");
        }
        assert_eq!(help("aluminum"), "write Al for aluminium");
        for far in ["", "Xx", "natrium", "é"] {
            let help = help(far);
            assert_eq!(
                help,
                "write one of the 118 symbols, with a capital first letter"
            );
        }
    }
}
