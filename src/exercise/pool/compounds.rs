//! Compounds for empirical and molecular formulas.
//!
//! The formulas are textbook knowledge (from memory). Iron(III) oxide and aspirin are also examples of Flowers et al.,
//! Chemistry 2e, 3.2. The hydrates are those of the catalogue of salts.

/// A compound.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CompoundRow {
    /// Its name.
    pub(crate) name: &'static str,
    /// The parts that an analysis finds, elements or whole species, with their numbers in the empirical
    /// formula.
    pub(crate) parts: &'static [(&'static str, u8)],
    /// The molecular formula as a multiple of the empirical one; none if it has no molecules.
    pub(crate) multiple: Option<u8>,
    /// True if burning it in oxygen gives carbon dioxide and water alone.
    pub(crate) burns: bool,
}

/// A substance of carbon, hydrogen and perhaps oxygen.
const fn organic(
    name: &'static str,
    parts: &'static [(&'static str, u8)],
    multiple: u8,
) -> CompoundRow {
    CompoundRow {
        name,
        parts,
        multiple: Some(multiple),
        burns: true,
    }
}

const fn molecules(
    name: &'static str,
    parts: &'static [(&'static str, u8)],
    multiple: u8,
) -> CompoundRow {
    CompoundRow {
        name,
        parts,
        multiple: Some(multiple),
        burns: false,
    }
}

/// A substance without molecules: a salt, an oxide of a metal, a hydrate.
const fn salt(name: &'static str, parts: &'static [(&'static str, u8)]) -> CompoundRow {
    CompoundRow {
        name,
        parts,
        multiple: None,
        burns: false,
    }
}

#[rustfmt::skip]
pub(crate) const COMPOUNDS: &[CompoundRow] = &[
    organic("glucose", &[("C", 1), ("H", 2), ("O", 1)], 6),
    salt("iron(III) oxide", &[("Fe", 2), ("O", 3)]),
    organic("vitamin C", &[("C", 3), ("H", 4), ("O", 3)], 2),
    molecules("caffeine", &[("C", 4), ("H", 5), ("N", 2), ("O", 1)], 2),
    organic("lactic acid", &[("C", 1), ("H", 2), ("O", 1)], 3),
    salt("magnesium sulfate heptahydrate", &[("MgSO4", 1), ("H2O", 7)]),
    organic("limonene", &[("C", 5), ("H", 8)], 2),
    salt("copper(I) oxide", &[("Cu", 2), ("O", 1)]),
    organic("succinic acid", &[("C", 2), ("H", 3), ("O", 2)], 2),
    salt("sodium carbonate", &[("Na", 2), ("C", 1), ("O", 3)]),
    organic("butane", &[("C", 2), ("H", 5)], 2),
    molecules("phosphorus(V) oxide", &[("P", 2), ("O", 5)], 2),
    organic("tartaric acid", &[("C", 2), ("H", 3), ("O", 3)], 2),
    salt("iron(II,III) oxide", &[("Fe", 3), ("O", 4)]),
    organic("aspirin", &[("C", 9), ("H", 8), ("O", 4)], 1),
    salt("calcium chloride dihydrate", &[("CaCl2", 1), ("H2O", 2)]),
    organic("ethanol", &[("C", 2), ("H", 6), ("O", 1)], 1),
    organic("cyclohexane", &[("C", 1), ("H", 2)], 6),
    salt("pyrite", &[("Fe", 1), ("S", 2)]),
    organic("acetic acid", &[("C", 1), ("H", 2), ("O", 1)], 2),
    salt("potassium phosphate", &[("K", 3), ("P", 1), ("O", 4)]),
    organic("hexane", &[("C", 3), ("H", 7)], 2),
    molecules("paracetamol", &[("C", 8), ("H", 9), ("N", 1), ("O", 2)], 1),
    salt("sodium carbonate decahydrate", &[("Na2CO3", 1), ("H2O", 10)]),
    organic("naphthalene", &[("C", 5), ("H", 4)], 2),
    salt("zinc sulfide", &[("Zn", 1), ("S", 1)]),
    organic("ethyl acetate", &[("C", 2), ("H", 4), ("O", 1)], 2),
    salt("aluminium oxide", &[("Al", 2), ("O", 3)]),
    organic("citric acid", &[("C", 6), ("H", 8), ("O", 7)], 1),
    molecules("urea", &[("C", 1), ("H", 4), ("N", 2), ("O", 1)], 1),
    salt("sodium thiosulfate", &[("Na", 2), ("S", 2), ("O", 3)]),
    organic("glycerol", &[("C", 3), ("H", 8), ("O", 3)], 1),
    salt("barium chloride dihydrate", &[("BaCl2", 1), ("H2O", 2)]),
    organic("vanillin", &[("C", 8), ("H", 8), ("O", 3)], 1),
    salt("manganese(IV) oxide", &[("Mn", 1), ("O", 2)]),
    organic("propene", &[("C", 1), ("H", 2)], 3),
    salt("potassium permanganate", &[("K", 1), ("Mn", 1), ("O", 4)]),
    organic("benzoic acid", &[("C", 7), ("H", 6), ("O", 2)], 1),
    salt("calcium fluoride", &[("Ca", 1), ("F", 2)]),
    organic("malic acid", &[("C", 4), ("H", 6), ("O", 5)], 1),
    salt("zinc sulfate heptahydrate", &[("ZnSO4", 1), ("H2O", 7)]),
    organic("propanone", &[("C", 3), ("H", 6), ("O", 1)], 1),
    salt("sodium sulfite", &[("Na", 2), ("S", 1), ("O", 3)]),
    organic("ribose", &[("C", 1), ("H", 2), ("O", 1)], 5),
    salt("chromium(III) oxide", &[("Cr", 2), ("O", 3)]),
    organic("isooctane", &[("C", 4), ("H", 9)], 2),
    salt("magnesium nitride", &[("Mg", 3), ("N", 2)]),
    organic("butanedione", &[("C", 2), ("H", 3), ("O", 1)], 2),
    salt("calcium sulfate dihydrate", &[("CaSO4", 1), ("H2O", 2)]),
    molecules("alanine", &[("C", 3), ("H", 7), ("N", 1), ("O", 2)], 1),
    organic("ethylene glycol", &[("C", 1), ("H", 3), ("O", 1)], 2),
    salt("manganese(II,III) oxide", &[("Mn", 3), ("O", 4)]),
    organic("salicylic acid", &[("C", 7), ("H", 6), ("O", 3)], 1),
    salt("strontium chloride hexahydrate", &[("SrCl2", 1), ("H2O", 6)]),
    organic("adipic acid", &[("C", 3), ("H", 5), ("O", 2)], 2),
    salt("copper(I) sulfide", &[("Cu", 2), ("S", 1)]),
    organic("menthol", &[("C", 10), ("H", 20), ("O", 1)], 1),
    molecules("glycine", &[("C", 2), ("H", 5), ("N", 1), ("O", 2)], 1),
    salt("sodium sulfate decahydrate", &[("Na2SO4", 1), ("H2O", 10)]),
    organic("fumaric acid", &[("C", 1), ("H", 1), ("O", 1)], 4),
];
