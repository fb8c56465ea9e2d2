//! The atomic weights that a calculation uses: an edition, one of its columns, and a class's own
//! rounding and overrides.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use core::fmt;

use super::edition::{Edition, StandardWeight};
use super::elements::Element;
use super::error::{Error, ErrorKind};
use super::isotopes::{Atom, nuclide_mass};
use crate::number::{Ratio, Reading, Rounded, TieRule};
use crate::text::Detail;

/// The column of an edition that is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Values {
    /// The values abridged to five significant figures: the default.
    #[default]
    Abridged,
    /// The conventional values; the abridged value if there is none.
    Conventional,
    /// The published values; the abridged value for an interval.
    Full,
}

crate::text::codes! {
    Values, "columns of weights", Error(ErrorKind::UnknownCode);
    Abridged => "abridged",
    Conventional => "conventional",
    Full => "full",
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Rounding {
    Decimals(u8),
    Figures(u8),
}

/// The atomic weights that a calculation uses.
///
/// The default is the edition of 2024, abridged to five significant figures. A class with a shorter
/// table rounds it and overrides single weights:
///
/// ```
/// use effloresce::{AtomicWeights, Formula};
/// let table = AtomicWeights::default().decimals(1).with("Cl".parse()?, "35.5".parse()?)?;
/// let salt: Formula = "NaCl".parse()?;
/// assert_eq!(salt.molar_mass(&table)?.to_string(), "58.5");
/// assert_eq!(table.to_string(), "IUPAC 2024, abridged, to 1 decimal, with Cl = 35.5");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct AtomicWeights {
    pub(super) edition: Edition,
    pub(super) values: Values,
    pub(super) rounding: Option<Rounding>,
    pub(super) ties: TieRule,
    pub(super) overrides: BTreeMap<Element, Reading>,
}

/// One atomic weight, with the limit of its deviation from the true one.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct AtomicWeight {
    value: Ratio,
    limit: Ratio,
    rectangular: bool,
}

impl AtomicWeight {
    /// Returns the weight (dimensionless; also the molar mass in grams per mole).
    #[must_use]
    pub fn value(&self) -> &Ratio {
        &self.value
    }

    /// Returns half the width of the interval that contains the weight of a sample.
    ///
    /// It is the published ±, and the change by rounding if a class's table rounds. It is zero for a
    /// weight given by hand.
    #[must_use]
    pub fn limit(&self) -> &Ratio {
        &self.limit
    }

    pub(super) fn is_rectangular(&self) -> bool {
        self.rectangular
    }

    /// Returns the standard uncertainty: a rectangular limit divided by √3, or as published for the mass
    /// of a nuclide.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        if self.rectangular {
            crate::number::rectangular(self.limit.to_f64())
        } else {
            self.limit.to_f64()
        }
    }
}

impl Default for AtomicWeights {
    /// Returns the abridged values of the default edition.
    fn default() -> AtomicWeights {
        AtomicWeights {
            edition: Edition::default(),
            values: Values::default(),
            rounding: None,
            ties: TieRule::AwayFromZero,
            overrides: BTreeMap::new(),
        }
    }
}

impl AtomicWeights {
    /// Returns the abridged values of an edition.
    #[must_use]
    pub fn new(edition: Edition) -> Self {
        AtomicWeights {
            edition,
            ..AtomicWeights::default()
        }
    }

    /// Uses another column of the edition.
    #[must_use]
    pub fn values(mut self, values: Values) -> Self {
        self.values = values;
        self
    }

    /// Rounds every weight to this many decimals, ties away from zero unless [`ties`](Self::ties) changes
    /// that.
    #[must_use]
    pub fn decimals(mut self, decimals: u8) -> Self {
        self.rounding = Some(Rounding::Decimals(decimals));
        self
    }

    /// Rounds every weight to this many significant figures, ties away from zero unless
    /// [`ties`](Self::ties) changes that.
    #[must_use]
    pub fn figures(mut self, figures: u8) -> Self {
        self.rounding = Some(Rounding::Figures(figures));
        self
    }

    /// Uses this rule for weights that are half-way: to one decimal, chlorine's 35.45 is 35.4 or 35.5.
    ///
    /// Printed tables round them away from zero, which is the default.
    #[must_use]
    pub fn ties(mut self, ties: TieRule) -> Self {
        self.ties = ties;
        self
    }

    /// Uses this weight for an element instead of that of the edition. It counts as exact.
    ///
    /// # Errors
    /// If the weight is not positive.
    ///
    /// ```
    /// use effloresce::{AtomicWeights, Formula};
    /// let weights = AtomicWeights::default().with("Tc".parse()?, "98".parse()?)?;
    /// let oxide: Formula = "TcO2".parse()?;
    /// assert_eq!(oxide.molar_mass(&weights)?.to_string(), "129.998");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn with(mut self, element: Element, weight: Reading) -> Result<Self, Error> {
        if !weight.value().is_positive() {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                Detail::new(format!(
                    "the atomic weight {weight} of {element} is not positive"
                ))
                .help("give a positive weight"),
            ));
        }
        self.overrides.insert(element, weight);
        Ok(self)
    }

    /// Returns the edition.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Returns the weight of an element.
    ///
    /// # Errors
    /// If the element has no standard atomic weight and none was given by hand. Nothing is guessed: a
    /// mass number is not a weight.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// let weights = AtomicWeights::default();
    /// let magnesium = weights.weight("Mg".parse()?)?;
    /// assert_eq!(magnesium.value().to_string(), "24.305");
    /// assert_eq!(magnesium.limit().to_string(), "0.002");
    /// assert!(weights.weight("Pm".parse()?).is_err());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn weight(&self, element: Element) -> Result<AtomicWeight, Error> {
        if let Some(given) = self.overrides.get(&element) {
            return Ok(AtomicWeight {
                value: given.value(),
                limit: Ratio::ZERO,
                rectangular: true,
            });
        }
        let (value, limit) = self.listed(element).ok_or_else(|| no_weight(element))?;
        Ok(self.rounded(value.value(), limit.value(), true))
    }

    /// Returns the weight of an atom in a formula: that of the element, or of the labelled nuclide.
    ///
    /// # Errors
    /// As [`weight`](Self::weight).
    ///
    /// ```
    /// use effloresce::{AtomicWeights, element::Atom};
    /// let carbon_13 = Atom::labelled("C".parse()?, 13).unwrap();
    /// let weight = AtomicWeights::default().atom(carbon_13)?;
    /// assert!(weight.value().to_string().starts_with("13.00335"));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn atom(&self, atom: Atom) -> Result<AtomicWeight, Error> {
        let nuclide = atom
            .mass_number()
            .and_then(|number| nuclide_mass(atom.element(), number));
        match nuclide {
            Some((mass, uncertainty)) => Ok(self.rounded(mass.value(), uncertainty.value(), false)),
            None => self.weight(atom.element()),
        }
    }

    /// Returns whether every element's weight is the published one.
    pub(super) fn is_published(&self) -> bool {
        self.rounding.is_none() && self.overrides.is_empty()
    }

    /// Returns whether an atom's weight is the published one, neither rounded nor given by hand.
    pub(super) fn is_as_published(&self, atom: Atom) -> bool {
        self.rounding.is_none()
            && (self.overrides.is_empty()
                || atom.mass_number().is_some()
                || !self.overrides.contains_key(&atom.element()))
    }

    /// Returns the table without rounding, and with overrides only for elements that have no standard
    /// atomic weight.
    pub(crate) fn without_rounding(&self) -> AtomicWeights {
        AtomicWeights {
            edition: self.edition,
            values: self.values,
            rounding: None,
            ties: self.ties,
            overrides: self
                .overrides
                .iter()
                .filter(|(element, _)| element.abridged(self.edition).is_none())
                .map(|(element, weight)| (*element, *weight))
                .collect(),
        }
    }

    /// Returns the table with the overrides of some elements only.
    #[cfg(any(feature = "report", feature = "qti"))]
    pub(crate) fn with_overrides_of(&self, kept: impl Fn(Element) -> bool) -> AtomicWeights {
        let mut weights = self.clone();
        weights.overrides.retain(|element, _| kept(*element));
        weights
    }

    /// Returns the decimals that the own table of a class keeps; `None` if it uses the edition as it is.
    ///
    /// Abridged values have at most three decimals that matter.
    pub(crate) fn own_decimals(&self) -> Option<u8> {
        match self.rounding {
            Some(Rounding::Decimals(n)) => Some(n),
            Some(Rounding::Figures(n)) => Some(n.saturating_sub(2)),
            None if self.overrides != self.without_rounding().overrides => Some(3),
            None => None,
        }
    }

    fn listed(&self, element: Element) -> Option<(Reading, Reading)> {
        let (abridged, limit) = element.abridged(self.edition)?;
        Some(match self.values {
            Values::Abridged => (abridged, limit),
            Values::Conventional => (
                element.conventional(self.edition).unwrap_or(abridged),
                limit,
            ),
            Values::Full => match element.standard_weight(self.edition) {
                StandardWeight::Value { value, uncertainty } => (value, uncertainty),
                StandardWeight::Interval { .. } | StandardWeight::None => (abridged, limit),
            },
        })
    }

    /// Returns the weight of an element as the table prints it, with its final zeros; `None` if it has none.
    #[cfg(feature = "exercise")]
    pub(crate) fn printed(&self, element: Element) -> Option<Reading> {
        if let Some(given) = self.overrides.get(&element) {
            return Some(*given);
        }
        let (listed, _) = self.listed(element)?;
        let rounded = self.rounded_value(&listed.value());
        let shorter = rounded.filter(|rounded| rounded.decimal_places() < listed.decimal_places());
        shorter.map_or(Some(listed), |rounded| Reading::try_from(rounded).ok())
    }

    /// Returns the value as the rounding of the table writes it; `None` without rounding.
    fn rounded_value(&self, value: &Ratio) -> Option<Rounded> {
        Some(match self.rounding? {
            Rounding::Decimals(n) => value.to_places(i32::from(n), self.ties),
            Rounding::Figures(n) => value.to_figures(u32::from(n), self.ties),
        })
    }

    /// Returns whether the JSON-lines contract can state the table: it rounds ties away from zero.
    #[cfg(feature = "exercise")]
    pub(crate) fn can_be_stated(&self) -> bool {
        self.rounding.is_none() || self.ties == TieRule::AwayFromZero
    }

    fn rounded(&self, value: Ratio, limit: Ratio, rectangular: bool) -> AtomicWeight {
        let shown = self.rounded_value(&value);
        let (shown, limit) = match shown.map(|rounded| rounded.value()) {
            None => (value, limit),
            Some(shown) => {
                let change = (&shown - &value).abs();
                (shown, &limit + &change)
            }
        };
        AtomicWeight {
            value: shown,
            limit,
            rectangular,
        }
    }
}

fn no_weight(element: Element) -> Error {
    Error::new(
        ErrorKind::NoStandardWeight,
        Detail::new(format!(
            "{} ({element}) has no standard atomic weight, because it has no natural mixture of isotopes",
            element.name()
        ))
        .help(format!(
            "give the mass of the nuclide as the weight of {element}"
        )),
    )
}

impl fmt::Display for AtomicWeights {
    /// Writes the name of the table, for the foot of a key: edition, column, rounding, overrides.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut name = format!("IUPAC {}, {}", self.edition, self.values);
        let plural = |n: u8| if n == 1 { "" } else { "s" };
        name += &match self.rounding {
            None => String::new(),
            Some(Rounding::Decimals(0)) => String::from(", to whole numbers"),
            Some(Rounding::Decimals(n)) => format!(", to {n} decimal{}", plural(n)),
            Some(Rounding::Figures(n)) => format!(", to {n} significant figure{}", plural(n)),
        };
        if self.rounding.is_some() && self.ties == TieRule::Even {
            name += " (ties to even)";
        }
        let overrides: alloc::vec::Vec<String> = self
            .overrides
            .iter()
            .map(|(element, weight)| format!("{element} = {weight}"))
            .collect();
        if !overrides.is_empty() {
            name += &format!(", with {}", overrides.join(", "));
        }
        f.pad(&name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    fn element(symbol: &str) -> Element {
        symbol.parse().unwrap()
    }

    #[test]
    fn columns_and_rounding() {
        let hydrogen = element("H");
        let weigh = |table: &AtomicWeights| table.weight(hydrogen).unwrap();
        let table = AtomicWeights::default();
        assert_eq!(weigh(&table).value().to_string(), "1.008");
        assert_eq!(weigh(&table).limit().to_string(), "0.0002");
        let whole = table.clone().decimals(0);
        assert_eq!(weigh(&whole).value().to_string(), "1");
        assert_eq!(weigh(&whole).limit().to_string(), "0.0082");
        let zinc = AtomicWeights::new(Edition::Iupac2021).values(Values::Full);
        assert_eq!(
            zinc.weight(element("He")).unwrap().value().to_string(),
            "4.002602"
        );
        let chlorine = |ties| {
            let table = AtomicWeights::default().decimals(1).ties(ties);
            table.weight(element("Cl")).unwrap().value().to_string()
        };
        assert_eq!(chlorine(TieRule::Even), "35.4");
        assert_eq!(chlorine(TieRule::AwayFromZero), "35.5");
        assert_eq!(chlorine(AtomicWeights::default().ties), "35.5");
        let figures = AtomicWeights::default().figures(3);
        assert_eq!(
            figures.weight(element("Ba")).unwrap().value().to_string(),
            "137"
        );
    }

    #[test]
    fn nothing_is_guessed() {
        let error = AtomicWeights::default().weight(element("Tc")).unwrap_err();
        assert_eq!(
            error.to_string(),
            "technetium (Tc) has no standard atomic weight, because it has no natural mixture of isotopes"
        );
        assert_eq!(
            error.help(),
            Some("give the mass of the nuclide as the weight of Tc")
        );
        assert!(
            AtomicWeights::default()
                .with(element("Cl"), "0".parse().unwrap())
                .is_err()
        );
    }

    #[test]
    fn editions_differ_where_they_should() {
        let old = AtomicWeights::new(Edition::Iupac2021)
            .weight(element("Zr"))
            .unwrap();
        let new = AtomicWeights::new(Edition::Iupac2024)
            .weight(element("Zr"))
            .unwrap();
        assert_eq!(
            (old.value().to_string(), new.value().to_string()),
            ("91.224".into(), "91.222".into())
        );
    }
}
