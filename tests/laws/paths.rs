//! The defensible range against its definition: every path of the product is enumerated, with
//! independent arithmetic.

use std::collections::BTreeSet;

use effloresce::element::Values;
use effloresce::gravimetry::{Dehydration, Method, Quantity, Weighings};
use effloresce::number::TieRule;
use effloresce::{AtomicWeights, Formula, Ratio, Reading};

/// The parts of the product that are enumerated.
#[derive(Clone, Copy)]
struct Parts {
    tables: bool,
    roundings: bool,
    ties: &'static [TieRule],
    weighings: bool,
}

const BOTH: &[TieRule] = &[TieRule::Even, TieRule::AwayFromZero];

const ALL: Parts = Parts {
    tables: true,
    roundings: true,
    ties: BOTH,
    weighings: true,
};

/// A bench: container, with hydrate, and the weighings that agree within the criterion, the one
/// that is used last.
struct Bench {
    salt: &'static str,
    container: &'static str,
    with_hydrate: &'static str,
    agreeing: &'static [&'static str],
    weights: AtomicWeights,
    /// The tables that the definition allows as well as that of the class, written out by hand.
    tables: Vec<AtomicWeights>,
    figures: u32,
}

fn exact(text: &str) -> Ratio {
    text.parse::<Reading>().unwrap().value()
}

fn every_table() -> Vec<AtomicWeights> {
    let plain = AtomicWeights::default;
    let whole = plain().decimals(0);
    let whole = whole
        .with("Cl".parse().unwrap(), "35.5".parse().unwrap())
        .unwrap();
    let whole = whole
        .with("Cu".parse().unwrap(), "63.5".parse().unwrap())
        .unwrap();
    vec![
        whole,
        plain().decimals(1),
        plain().decimals(1).ties(TieRule::AwayFromZero),
        plain().decimals(2),
        plain().decimals(2).ties(TieRule::AwayFromZero),
        plain().decimals(3),
        plain().decimals(3).ties(TieRule::AwayFromZero),
        plain(),
        plain().values(Values::Full),
    ]
}

/// Each rounding of a value along a path: none, or to k significant figures by a tie rule.
fn kept(value: &Ratio, least: u32, parts: Parts) -> BTreeSet<Ratio> {
    let mut values = BTreeSet::from([value.clone()]);
    if parts.roundings {
        for figures in least..=6 {
            for ties in parts.ties {
                values.insert(value.to_figures(figures, *ties).value());
            }
        }
    }
    values
}

impl Bench {
    fn run(&self) -> Dehydration {
        let read = |text: &str| text.parse::<Reading>().unwrap();
        let weighings = Weighings::new(
            read(self.container),
            read(self.with_hydrate),
            self.agreeing.iter().map(|text| read(text)),
        );
        Method::new()
            .weights(self.weights.clone())
            .dehydration(&self.salt.parse().unwrap(), &weighings)
            .unwrap()
    }

    fn molar_masses(&self, formula: &str, parts: Parts) -> BTreeSet<Ratio> {
        let formula: Formula = formula.parse().unwrap();
        let own = std::iter::once(&self.weights);
        let tables = self.tables.iter().filter(|_| parts.tables).chain(own);
        tables
            .map(|table| formula.molar_mass(table).unwrap().exact().clone())
            .flat_map(|mass| kept(&mass, self.figures, parts))
            .collect()
    }

    /// The least and the greatest value of each of four quantities over all paths, and how many
    /// paths there were.
    fn walk(&self, parts: Parts) -> ([(Ratio, Ratio); 4], usize) {
        let (c, b) = (exact(self.container), exact(self.with_hydrate));
        let weighings = match parts.weighings {
            true => self.agreeing,
            false => &self.agreeing[self.agreeing.len() - 1..],
        };
        let salt_masses = self.molar_masses(self.salt, parts);
        let water_masses = self.molar_masses("H2O", parts);
        let ties = parts.ties.iter().filter(|_| parts.roundings);
        let mut found: [Vec<Ratio>; 4] = Default::default();
        let mut paths = 0;
        for a in weighings {
            let a = exact(a);
            let (residue, water) = (&a - &c, &b - &a);
            let percent = &Ratio::from(100) * &water;
            found[0].push(percent.checked_div(&(&b - &c)).unwrap());
            for m_salt in &salt_masses {
                let n_salt = residue.checked_div(m_salt).unwrap();
                found[1].push(n_salt.clone());
                // The molar mass of the hydrate, with the amount of salt to three figures.
                for ties in ties.clone() {
                    let amount = n_salt.to_figures(3, *ties).value();
                    let water = (&b - &c).checked_div(&amount).unwrap() - m_salt;
                    for m_water in &water_masses {
                        paths += 1;
                        found[3].push(water.checked_div(m_water).unwrap());
                    }
                }
                for m_water in &water_masses {
                    let n_water = water.checked_div(m_water).unwrap();
                    found[2].push(n_water.clone());
                    // Both amounts are rounded in the same way.
                    let mut pairs = vec![(n_water.clone(), n_salt.clone())];
                    if parts.roundings {
                        for figures in self.figures..=6 {
                            for ties in parts.ties {
                                let round = |n: &Ratio| n.to_figures(figures, *ties).value();
                                pairs.push((round(&n_water), round(&n_salt)));
                            }
                        }
                    }
                    for (n_water, n_salt) in pairs {
                        paths += 1;
                        found[3].push(n_water.checked_div(&n_salt).unwrap());
                    }
                }
            }
        }
        let ends = found.map(|values| {
            let least = values.iter().min().unwrap().clone();
            (least, values.iter().max().unwrap().clone())
        });
        (ends, paths)
    }
}

const QUANTITIES: [Quantity; 4] = [
    Quantity::PercentWater,
    Quantity::MolSalt,
    Quantity::MolWater,
    Quantity::Ratio,
];

fn magnesium() -> Bench {
    Bench {
        salt: "MgSO4",
        container: "21.352",
        with_hydrate: "24.018",
        agreeing: &["22.656", "22.655"],
        weights: AtomicWeights::default(),
        tables: every_table(),
        figures: 3,
    }
}

/// Copper(II) chloride: 134.5 g/mol by whole numbers, a tie at three figures.
fn copper() -> Bench {
    Bench {
        salt: "CuCl2",
        container: "18.4021",
        with_hydrate: "20.1069",
        agreeing: &["19.7468", "19.7467"],
        ..magnesium()
    }
}

/// Two figures in the water: amounts may be kept to two.
fn coarse() -> Bench {
    Bench {
        salt: "CuSO4",
        container: "20.11",
        with_hydrate: "21.11",
        agreeing: &["20.75", "20.75"],
        figures: 2,
        ..magnesium()
    }
}

/// A class with a table of two decimals: that and the finer ones.
fn own_table() -> Bench {
    let all = every_table();
    Bench {
        weights: AtomicWeights::default().decimals(2),
        tables: all[5..].to_vec(),
        ..copper()
    }
}

#[test]
fn the_fast_way_and_the_slow_way_agree() {
    let mut walked = 0;
    for bench in [magnesium(), copper(), coarse(), own_table()] {
        let defensible = bench.run().defensible();
        let (ends, paths) = bench.walk(ALL);
        walked += paths;
        for (quantity, (low, high)) in QUANTITIES.into_iter().zip(ends) {
            let interval = defensible.interval(quantity).unwrap();
            assert_eq!(
                (interval.low(), interval.high()),
                (&low, &high),
                "{quantity} of {}",
                bench.salt
            );
        }
    }
    assert!(walked > 1_000, "{walked} paths");
}

/// The interval of a quantity changes if a part of the product is left out.
#[track_caller]
fn matters(bench: &Bench, quantity: Quantity, without: Parts) {
    let defensible = bench.run().defensible();
    let interval = defensible.interval(quantity).unwrap();
    let index = QUANTITIES.iter().position(|q| *q == quantity).unwrap();
    let (low, high) = &bench.walk(without).0[index];
    assert_ne!((interval.low(), interval.high()), (low, high));
}

#[test]
fn the_weight_tables_matter() {
    let tables = false;
    matters(&coarse(), Quantity::Ratio, Parts { tables, ..ALL });
    matters(&copper(), Quantity::MolSalt, Parts { tables, ..ALL });
}

#[test]
fn the_rounding_of_intermediate_values_matters() {
    let roundings = false;
    matters(&magnesium(), Quantity::Ratio, Parts { roundings, ..ALL });
}

#[test]
fn the_tie_rule_matters() {
    // 1.3020 g of salt by whole numbers is 0.01085 mol: 0.0108 or 0.0109 to three figures.
    let tie = Bench {
        container: "20.0000",
        with_hydrate: "22.6647",
        agreeing: &["21.3020", "21.3020"],
        ..magnesium()
    };
    let ties = &[TieRule::Even];
    matters(&tie, Quantity::Ratio, Parts { ties, ..ALL });
    matters(&copper(), Quantity::MolSalt, Parts { ties, ..ALL });
}

#[test]
fn which_weighing_was_used_matters() {
    let weighings = false;
    matters(
        &magnesium(),
        Quantity::PercentWater,
        Parts { weighings, ..ALL },
    );
}

#[test]
fn the_molar_mass_of_the_hydrate_is_a_way() {
    // 2.131/208.23 mol is 0.010234 mol, to three figures 0.0102 mol: 2.500/0.0102 − 208.23 is 36.868.
    let barium = Bench {
        salt: "BaCl2",
        container: "20.000",
        with_hydrate: "22.500",
        agreeing: &["22.131", "22.131"],
        ..magnesium()
    };
    let defensible = barium.run().defensible();
    let interval = defensible.interval(Quantity::Ratio).unwrap();
    assert!(interval.admits(&"2.05".parse().unwrap()));
    assert!(!interval.admits(&"2.10".parse().unwrap()));
    assert_eq!(interval.high(), &barium.walk(ALL).0[3].1);
}
