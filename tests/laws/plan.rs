//! The limits of a plan, against dehydrations of benches that weigh out just less and just more.

use effloresce::gravimetry::{Dehydration, Method, Plan, Weighings};
use effloresce::number::Rounded;
use effloresce::{Formula, Ratio, Reading};
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::ten_to;

/// Hydrates, each with what heating leaves.
const HYDRATES: [(&str, &str); 9] = [
    ("MgSO4·7H2O", "MgSO4"),
    ("MgSO4·7H2O", "MgSO4·H2O"),
    ("CuSO4·5H2O", "CuSO4·H2O"),
    ("CaSO4·0.5H2O", "CaSO4"),
    ("3CdSO4·8H2O", "CdSO4"),
    ("K2CO3·1.5H2O", "K2CO3"),
    ("BaCl2·2H2O", "BaCl2"),
    ("Na2CO3·10H2O", "Na2CO3"),
    ("Li2SO4·H2O", "Li2SO4"),
];

#[derive(Debug, Clone)]
struct Class {
    issued: Formula,
    residue: Formula,
    readability: Reading,
    method: Method,
    coverage: f64,
    repeatability: f64,
}

impl Class {
    fn plan(&self) -> Plan {
        self.method.plan(&self.issued, self.readability).unwrap()
    }

    /// A bench that weighs out this mass of hydrate and heats it once, without any error.
    fn bench(&self, mass: &Ratio) -> Dehydration {
        let weights = self.method.atomic_weights();
        let (salt, waters) = self.issued.one_formula_unit().unwrap();
        let unit = salt.with_waters(&waters).unwrap();
        let of = |formula: &Formula| formula.molar_mass(weights).unwrap().exact();
        let left = (mass * of(&self.residue)).checked_div(&of(&unit)).unwrap();
        let shown = |mass: Ratio| -> Reading { written(&(20 + mass)).parse().unwrap() };
        let (container, hydrate) = (shown(Ratio::ZERO), shown(mass.clone()));
        let bench = Weighings::new(container, hydrate, [shown(left)]);
        let method = self.method.clone().readability(self.readability).unwrap();
        method.dehydration_of(&self.issued, &bench).unwrap()
    }

    /// Whether x is certain enough to distinguish the hydrate from all other candidates.
    fn distinguishes(&self, mass: &Ratio) -> bool {
        let run = self.bench(mass);
        let (_, waters) = self.issued.one_formula_unit().unwrap();
        let others = run
            .candidates()
            .iter()
            .map(|other| other.waters() - &waters);
        let others = others
            .map(|distance| distance.abs())
            .filter(|d| !d.is_zero());
        let nearest = others.min().unwrap().to_f64();
        self.coverage * run.standard_uncertainty() <= nearest / 2.0
    }

    /// Whether the mass of water is certain to 1 %.
    fn is_certain(&self, mass: &Ratio) -> bool {
        let run = self.bench(mass);
        let water = run.water_mass().unwrap().value().to_f64();
        let reading = self.readability.value().to_f64() / 12.0_f64.sqrt();
        let own = self.repeatability * water;
        self.coverage * (2.0 * reading * reading + own * own).sqrt() <= 0.01 * water
    }
}

/// A mass to 15 decimal places, cut off.
fn written(mass: &Ratio) -> String {
    let units = (mass * ten_to(15)).floor();
    (units * ten_to(-15)).to_plain()
}

fn class() -> impl Strategy<Value = Class> {
    let readability = select(vec!["0.1", "0.05", "0.01", "0.001", "0.0002"]);
    let coverage = select(vec![1.0, 2.0, 3.0]);
    let repeatability = select(vec![0.0, 0.001, 0.003, 0.006]);
    let of = (
        select(HYDRATES.to_vec()),
        readability,
        coverage,
        repeatability,
    );
    of.prop_map(
        |((issued, residue), readability, coverage, repeatability)| {
            let residue: Formula = residue.parse().unwrap();
            let method = Method::new().residue(&residue).unwrap();
            let method = method.coverage(coverage).unwrap();
            Class {
                issued: issued.parse().unwrap(),
                residue,
                readability: readability.parse().unwrap(),
                method: method.repeatability(repeatability).unwrap(),
                coverage,
                repeatability,
            }
        },
    )
}

/// A limit holds if a thousandth more is enough and a thousandth less is not. Without a limit, not even a
/// tonne is enough.
fn is_the_least(limit: Option<Ratio>, enough: impl Fn(&Ratio) -> bool) -> bool {
    let per_mille = |n: i128| Ratio::new(n, 1000).unwrap();
    match limit {
        Some(mass) => enough(&(&mass * per_mille(1001))) && !enough(&(&mass * per_mille(999))),
        None => !enough(&Ratio::from(1_000_000)),
    }
}

proptest! {
    #[test]
    fn a_limit_is_the_least_mass_that_is_enough(class in class()) {
        let plan = class.plan();
        let resolution = plan.limits().resolution().map(Rounded::value);
        prop_assert!(is_the_least(resolution, |mass| class.distinguishes(mass)), "{plan:?}");
        let relative = plan.limits().relative().map(Rounded::value);
        prop_assert!(is_the_least(relative, |mass| class.is_certain(mass)), "{plan:?}");
    }

    #[test]
    fn the_masses_to_weigh_are_those_that_the_balance_shows(class in class()) {
        let plan = class.plan();
        let [low, high] = plan.weigh_between();
        let step = class.readability.value();
        let limit = plan.limits().largest().value();
        prop_assert!(*low >= limit && *low < &limit + &step);
        let most = low * Ratio::new(3, 2).unwrap();
        prop_assert!(*high <= most && *high > &most - &step);
        for mass in [low, high] {
            prop_assert!(mass.checked_div(&step).unwrap().is_integer());
        }
    }

    #[test]
    fn what_is_left_and_what_is_lost_make_up_what_was_taken(class in class()) {
        let plan = class.plan();
        let [low, _] = plan.weigh_between();
        prop_assert_eq!(&(plan.expected_residue() + plan.expected_loss()), low);
        let run = class.bench(low);
        let found = run.residue_mass().unwrap().value();
        let difference = (found - plan.expected_residue()).abs();
        prop_assert!(difference < ten_to(-14));
        // The uncertainty of the plan is that of the bench.
        let expanded = plan.expanded_uncertainty(low, plan.readability());
        let of_bench = class.coverage * run.standard_uncertainty();
        prop_assert!((expanded - of_bench).abs() <= 1e-9 * of_bench);
    }
}
