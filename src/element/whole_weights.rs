//! Weights as whole numbers of one small unit, so that a molar mass is a sum of whole numbers.

use super::edition::Edition;
use super::elements::Element;
use super::isotopes::{self, Atom};
use super::isotopes_data::NUCLIDES;
use super::table::{Published, Standard};
use super::weights::{AtomicWeights, Values};
use super::{iupac_2021, iupac_2024};
use crate::number::Reading;

/// The decimal places of a whole weight: more than any published weight or nuclide mass has.
pub(crate) const WEIGHT_PLACES: u32 = 12;

/// A weight as a whole number of units of 10⁻¹².
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct WholeWeight {
    pub(crate) weight: u64,
    /// The limit of its deviation, or a nuclide's standard uncertainty.
    pub(crate) limit: u64,
    /// Whether the limit is rectangular.
    pub(crate) rectangular: bool,
}

const NONE: WholeWeight = WholeWeight {
    weight: 0,
    limit: 0,
    rectangular: true,
};

/// The length of a table by atomic number: a power of two.
pub(crate) const ATOMIC_NUMBERS: usize = 128;

/// The weights of elements by atomic number, and their limits: of all elements, from one column of an
/// edition, or of those in a formula.
pub(crate) struct WeightTable {
    /// [`NO_WEIGHT`] if there is none.
    weights: [u64; ATOMIC_NUMBERS],
    limits: [u64; ATOMIC_NUMBERS],
}

/// The entry for an element without a weight; no weight has this bit.
pub(crate) const NO_WEIGHT: u64 = 1 << 63;

const fn whole(reading: &Reading) -> u64 {
    reading.units_of(WEIGHT_PLACES)
}

const fn table(edition: Edition, values: Values) -> WeightTable {
    let mut table = WeightTable::EMPTY;
    let mut index = 0;
    while index < 118 {
        table.set(index + 1, of_row(&iupac_2021::TABLE[index].weight, values));
        index += 1;
    }
    if let Edition::Iupac2024 = edition {
        let mut index = 0;
        while index < iupac_2024::REVISED.len() {
            let (z, row) = &iupac_2024::REVISED[index];
            table.set(*z as usize, of_row(&row.weight, values));
            index += 1;
        }
    }
    table
}

const fn of_row(row: &Published, values: Values) -> WholeWeight {
    let Published::Some {
        standard,
        abridged: (abridged, limit),
        conventional,
    } = row
    else {
        return NONE;
    };
    let (weight, limit) = match (values, standard, conventional) {
        (Values::Conventional, _, Some(conventional)) => (conventional, limit),
        (Values::Full, Standard::Value(value, uncertainty), _) => (value, uncertainty),
        _ => (abridged, limit),
    };
    WholeWeight {
        weight: whole(weight),
        limit: whole(limit),
        rectangular: true,
    }
}

/// The published weights by edition and column.
static WEIGHTS: [[WeightTable; 3]; 2] = [
    [
        table(Edition::Iupac2021, Values::Abridged),
        table(Edition::Iupac2021, Values::Conventional),
        table(Edition::Iupac2021, Values::Full),
    ],
    [
        table(Edition::Iupac2024, Values::Abridged),
        table(Edition::Iupac2024, Values::Conventional),
        table(Edition::Iupac2024, Values::Full),
    ],
];

static NUCLIDE_WEIGHTS: [WholeWeight; NUCLIDES.len()] = {
    let mut all = [NONE; NUCLIDES.len()];
    let mut index = 0;
    while index < NUCLIDES.len() {
        let (_, _, mass, uncertainty) = NUCLIDES[index];
        all[index] = WholeWeight {
            weight: whole(&Reading::literal(mass)),
            limit: whole(&Reading::literal(uncertainty)),
            rectangular: false,
        };
        index += 1;
    }
    all
};

impl Element {
    /// Returns whether the element has a standard atomic weight.
    pub(crate) const fn has_weight(self) -> bool {
        let row = &iupac_2021::TABLE[self.number() as usize - 1];
        matches!(row.weight, Published::Some { .. })
    }
}

fn column(edition: Edition, values: Values) -> &'static WeightTable {
    let columns = match edition {
        Edition::Iupac2021 => &WEIGHTS[0],
        Edition::Iupac2024 => &WEIGHTS[1],
    };
    match values {
        Values::Abridged => &columns[0],
        Values::Conventional => &columns[1],
        Values::Full => &columns[2],
    }
}

impl WeightTable {
    /// A table without weights.
    const EMPTY: WeightTable = WeightTable {
        weights: [NO_WEIGHT; ATOMIC_NUMBERS],
        limits: [0; ATOMIC_NUMBERS],
    };

    const fn set(&mut self, z: usize, whole: WholeWeight) {
        if whole.weight > 0 {
            self.weights[z] = whole.weight;
            self.limits[z] = whole.limit;
        }
    }

    /// Returns the weight of the element with this number, or [`NO_WEIGHT`].
    pub(crate) const fn weight(&self, z: u8) -> u64 {
        self.weights[z as usize % ATOMIC_NUMBERS]
    }

    /// Returns the weight of an atom; `None` if it has none.
    pub(crate) fn of_atom(&self, atom: Atom) -> Option<WholeWeight> {
        match atom.mass_number() {
            None => self.of(atom.element()),
            Some(number) => {
                let row = isotopes::row(atom.element(), number)?;
                NUCLIDE_WEIGHTS.get(row).copied()
            }
        }
    }

    /// Returns the weight of an element; `None` if it has none.
    fn of(&self, element: Element) -> Option<WholeWeight> {
        let z = usize::from(element.number());
        let whole = WholeWeight {
            weight: *self.weights.get(z)?,
            limit: *self.limits.get(z)?,
            rectangular: true,
        };
        (whole.weight != NO_WEIGHT).then_some(whole)
    }
}

impl AtomicWeights {
    /// Returns the table of all elements, if every weight is the published one.
    pub(crate) fn published_table(&self) -> Option<&'static WeightTable> {
        self.is_published()
            .then(|| column(self.edition, self.values))
    }

    /// Returns a table of these elements alone.
    pub(crate) fn table_of(&self, elements: impl Iterator<Item = Element>) -> WeightTable {
        let mut table = WeightTable::EMPTY;
        for element in elements {
            let z = element.number();
            if table.weight(z) != NO_WEIGHT {
                continue;
            }
            if let Some(whole) = self.whole_weight(element.into()) {
                table.set(z.into(), whole);
            }
        }
        table
    }

    /// Returns the weight of an atom in units of 10⁻¹²; `None` if there is none, or if it was given
    /// by hand to more decimal places.
    pub(crate) fn whole_weight(&self, atom: Atom) -> Option<WholeWeight> {
        if self.is_as_published(atom) {
            return column(self.edition, self.values).of_atom(atom);
        }
        let weight = self.atom(atom).ok()?;
        let whole = |value: &crate::Ratio| {
            let units = value * &crate::Ratio::power_of_ten(WEIGHT_PLACES as i32);
            u64::try_from(units.to_i128()?).ok()
        };
        // A sum of many weights that are heavier than any nuclide might not fit.
        const HEAVIEST: u64 = 1000 * 10_u64.pow(WEIGHT_PLACES);
        Some(WholeWeight {
            weight: whole(weight.value()).filter(|weight| *weight <= HEAVIEST)?,
            limit: whole(weight.limit())?,
            rectangular: weight.is_rectangular(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Ratio;

    #[test]
    fn whole_weights_are_the_weights() {
        let unit = Ratio::power_of_ten(-(WEIGHT_PLACES as i32));
        let same = |weights: &AtomicWeights, atom: Atom| {
            let (whole, weight) = (weights.whole_weight(atom), weights.atom(atom));
            match (whole, weight) {
                (Some(whole), Ok(weight)) => {
                    assert_eq!(
                        &(&Ratio::from(whole.weight) * &unit),
                        weight.value(),
                        "{atom}"
                    );
                    assert_eq!(
                        &(&Ratio::from(whole.limit) * &unit),
                        weight.limit(),
                        "{atom}"
                    );
                }
                (whole, weight) => assert_eq!((whole, weight.ok()), (None, None), "{atom}"),
            }
        };
        let mut compared = 0;
        for edition in [Edition::Iupac2021, Edition::Iupac2024] {
            for values in [Values::Abridged, Values::Conventional, Values::Full] {
                let plain = AtomicWeights::new(edition).values(values);
                for weights in [plain.clone(), plain.decimals(1)] {
                    for element in Element::ALL {
                        same(&weights, element.into());
                        compared += 1;
                    }
                }
            }
        }
        assert_eq!(compared, 2 * 3 * 2 * 118);
        for (z, a, ..) in &NUCLIDES {
            let element = Element::from_number(*z).unwrap();
            same(
                &AtomicWeights::default(),
                Atom::labelled(element, *a).unwrap(),
            );
        }
    }

    #[test]
    fn what_was_given_to_more_places_has_no_whole_weight() {
        let carbon: Element = "C".parse().unwrap();
        let given = |weight: &str| {
            let weights = AtomicWeights::default().with(carbon, weight.parse().unwrap());
            weights
                .unwrap()
                .whole_weight(carbon.into())
                .map(|whole| whole.weight)
        };
        assert_eq!(given("12.01"), Some(12_010_000_000_000));
        assert_eq!(given("12.0000000000001"), None);
        assert_eq!(given("1e20"), None);
    }
}
