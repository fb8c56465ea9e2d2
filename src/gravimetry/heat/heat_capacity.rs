//! Estimates of heat capacities.

use crate::element::Atom;
use crate::formula::Composition;
use crate::number::Ratio;

/// The specific heat capacity of liquid water near 25 °C, in hundredths of J/(g·K) (from memory).
const OF_WATER: i128 = 418;

/// The contributions of Kopp's rule to the molar heat capacity of a solid, by atomic number, in tenths of
/// J/(mol·K) (from memory).
const OF_ATOMS: [(u8, i128); 8] = [
    (1, 96),
    (5, 113),
    (6, 75),
    (8, 167),
    (9, 209),
    (14, 159),
    (15, 226),
    (16, 226),
];

/// The contribution of every other element, in tenths of J/(mol·K) (from memory).
const OF_OTHER_ATOMS: i128 = 260;

/// The heat capacity of a mass of liquid water in grams, in J/K.
pub(super) fn of_water(mass: &Ratio) -> Ratio {
    mass * Ratio::from(OF_WATER) * Ratio::power_of_ten(-2)
}

/// The molar heat capacity of a solid by Kopp's rule, in J/(mol·K).
pub(super) fn of_solid(composition: &Composition) -> Ratio {
    let contributions = composition
        .iter()
        .map(|(atom, count)| count * Ratio::from(of_atom(atom)));
    let tenths = contributions.fold(Ratio::ZERO, |sum, own| sum + own);
    tenths * Ratio::power_of_ten(-1)
}

fn of_atom(atom: Atom) -> i128 {
    let number = atom.element().number();
    let own = OF_ATOMS.iter().find(|(own, _)| *own == number);
    own.map_or(OF_OTHER_ATOMS, |(_, tenths)| *tenths)
}
