//! Laws of amounts: nothing is lost, size and order do not matter.

use effloresce::reaction::{Amounts, Reacted, Side, Stoichiometry, Supply};
use effloresce::{Formula, Ratio, Reading};
use proptest::prelude::*;

type Terms = &'static [(i32, &'static str)];

/// Reactions of every kind: molecules, ions, electrons, hydrates, one species on both sides.
const REACTIONS: [(Terms, Terms); 7] = [
    (&[(4, "Al"), (3, "O2")], &[(2, "Al2O3")]),
    (&[(2, "C8H18"), (25, "O2")], &[(16, "CO2"), (18, "H2O")]),
    (
        &[(1, "Cu"), (4, "HNO3")],
        &[(1, "Cu(NO3)2"), (2, "NO2"), (2, "H2O")],
    ),
    (
        &[(1, "Cr2O7^2-"), (14, "H+"), (6, "Fe^2+")],
        &[(2, "Cr^3+"), (6, "Fe^3+"), (7, "H2O")],
    ),
    (&[(1, "CuSO4·5H2O")], &[(1, "CuSO4"), (5, "H2O")]),
    (
        &[(1, "BaCl2·2H2O"), (1, "Na2SO4·10H2O")],
        &[(1, "BaSO4"), (2, "NaCl"), (12, "H2O")],
    ),
    (&[(3, "O2"), (1, "Xe")], &[(2, "O3"), (1, "Xe")]),
];

fn side(terms: &[(i32, &str)], factor: u32) -> Vec<(Ratio, Formula)> {
    let terms = terms.iter();
    let terms = terms.map(|(n, text)| {
        let coefficient = &Ratio::from(*n) * &Ratio::from(factor);
        (coefficient, text.parse().unwrap())
    });
    terms.collect()
}

fn reaction(which: usize, factor: u32) -> Stoichiometry {
    let (left, right) = REACTIONS[which];
    Stoichiometry::new(side(left, factor), side(right, factor)).unwrap()
}

fn reading(units: u32, places: i32) -> Reading {
    let value = Ratio::from(units).checked_div(&Ratio::from(1000)).unwrap();
    let value = value.to_places(places.max(3), Default::default());
    value.to_string().parse().unwrap()
}

/// The milligrams of each reactant; zero for one that is not given.
fn amounts(which: usize, masses: &[u32], factor: u32) -> Amounts {
    let given = REACTIONS[which]
        .0
        .iter()
        .zip(masses)
        .filter(|(_, mass)| **mass > 0);
    given.fold(Amounts::new(), |amounts, ((_, text), mass)| {
        let mass = Supply::mass(reading(mass * factor, 3));
        amounts.with(text.parse().unwrap(), mass)
    })
}

/// A reaction and the mass of each reactant, one of them at least given.
fn given() -> impl Strategy<Value = (usize, Vec<u32>)> {
    let masses = proptest::collection::vec(prop_oneof![1 => Just(0), 4 => 1_u32..50_000], 3);
    let given = (0..REACTIONS.len(), masses);
    given.prop_filter("something is given", |(which, masses)| {
        let reactants = REACTIONS[*which].0.len();
        masses.iter().take(reactants).any(|mass| *mass > 0)
    })
}

fn masses_of(reacted: &Reacted) -> Vec<Ratio> {
    let species = reacted.species().iter();
    species
        .map(|species| species.mass_change().clone())
        .collect()
}

fn limiting(reacted: &Reacted) -> Vec<String> {
    let limiting = reacted.limiting();
    let mut names: Vec<_> = limiting
        .map(|species| species.formula().to_string())
        .collect();
    names.sort();
    names
}

proptest! {
    #[test]
    fn mass_is_conserved((which, masses) in given()) {
        let reacted = amounts(which, &masses, 1).react(&reaction(which, 1)).unwrap();
        let sum: Ratio = masses_of(&reacted).into_iter().sum();
        prop_assert!(sum.is_zero(), "{}", sum);
        for species in reacted.species() {
            let used = species.side() == Side::Reactants;
            prop_assert_eq!(species.mol_change().is_negative(), used);
            prop_assert!(species.mol_final().is_none_or(|left| !left.is_negative()));
            // What limits is gone, and nothing else is, of what was given.
            let gone = used && species.mol_final().is_some_and(Ratio::is_zero);
            prop_assert_eq!(gone, species.is_limiting());
        }
        prop_assert!(reacted.limiting().count() > 0);
    }

    #[test]
    fn all_scales_together((which, masses) in given(), factor in 2_u32..50) {
        let small = amounts(which, &masses, 1).react(&reaction(which, 1)).unwrap();
        let large = amounts(which, &masses, factor).react(&reaction(which, 1)).unwrap();
        let factor = Ratio::from(factor);
        prop_assert_eq!(large.extent().amount(), &(small.extent().amount() * &factor));
        prop_assert_eq!(limiting(&large), limiting(&small));
        for (small, large) in masses_of(&small).iter().zip(masses_of(&large)) {
            prop_assert_eq!(&(small * &factor), &large);
        }
    }

    /// Larger coefficients make a smaller extent, and no other difference.
    #[test]
    fn coefficients_scale_the_extent_alone((which, masses) in given(), factor in 2_u32..9) {
        let one = amounts(which, &masses, 1).react(&reaction(which, 1)).unwrap();
        let other = amounts(which, &masses, 1).react(&reaction(which, factor)).unwrap();
        let extent = other.extent().amount() * &Ratio::from(factor);
        prop_assert_eq!(one.extent().amount(), &extent);
        prop_assert_eq!(masses_of(&one), masses_of(&other));
    }

    #[test]
    fn order_does_not_matter((which, masses) in given()) {
        let (left, right) = REACTIONS[which];
        let one = amounts(which, &masses, 1).react(&reaction(which, 1)).unwrap();
        let turned = |terms: &[(i32, &str)]| {
            let mut terms = side(terms, 1);
            terms.reverse();
            terms
        };
        let turned = Stoichiometry::new(turned(left), turned(right)).unwrap();
        let other = amounts(which, &masses, 1).react(&turned).unwrap();
        prop_assert_eq!(one.extent().amount(), other.extent().amount());
        prop_assert_eq!(limiting(&one), limiting(&other));
        for species in one.species() {
            let mut same = other.species().iter();
            let same = same.find(|s| s.formula() == species.formula() && s.side() == species.side());
            let same = same.unwrap();
            prop_assert_eq!(species.mass_change(), same.mass_change());
            prop_assert_eq!(species.mol_final(), same.mol_final());
            let (u, v) = (species.standard_uncertainty(), same.standard_uncertainty());
            // Where two tie, either may stand for the extent.
            if one.limiting().count() == 1 {
                prop_assert!((u - v).abs() <= 1e-9 * u.max(v));
            }
        }
    }

    /// A product tells back what it was made of.
    #[test]
    fn there_and_back((which, masses) in given()) {
        let there = amounts(which, &masses, 1).react(&reaction(which, 1)).unwrap();
        let extent = there.extent().amount().clone();
        let product = there.species().iter().find(|s| s.side() == Side::Products).unwrap();
        prop_assume!(product.formula().to_string() != "Xe");
        let moles: Reading = product.mol_change().to_places(25, Default::default()).to_string()
            .parse().unwrap();
        let back = Amounts::new().with(product.formula().clone(), Supply::moles(moles));
        let back = back.react(&reaction(which, 1)).unwrap();
        let off = (back.extent().amount() - &extent).abs();
        prop_assert!(off <= "1e-25".parse().unwrap(), "{}", off);
        prop_assert_eq!(back.limiting().count(), 0);
    }
}
