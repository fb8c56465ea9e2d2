//! Hand-worked cases, doubts and refusals.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::{Amounts, Reacted, SpeciesAmount, Supply};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};
use crate::reaction::{ErrorKind, Side, Stoichiometry};

fn formula(text: &str) -> Formula {
    text.parse().unwrap()
}

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

fn grams(text: &str) -> Supply {
    Supply::mass(reading(text))
}

fn moles(text: &str) -> Supply {
    Supply::moles(reading(text))
}

fn reaction(left: &[(i32, &str)], right: &[(i32, &str)]) -> Stoichiometry {
    let side = |terms: &[(i32, &str)]| -> Vec<(Ratio, Formula)> {
        let terms = terms.iter();
        terms
            .map(|(n, text)| (Ratio::from(*n), formula(text)))
            .collect()
    };
    Stoichiometry::new(side(left), side(right)).unwrap()
}

fn rust() -> Stoichiometry {
    reaction(&[(4, "Al"), (3, "O2")], &[(2, "Al2O3")])
}

fn lime() -> Stoichiometry {
    reaction(&[(1, "CaCO3")], &[(1, "CaO"), (1, "CO2")])
}

fn names(reacted: &Reacted) -> Vec<String> {
    let limiting = reacted.limiting();
    limiting
        .map(|species| species.formula().to_string())
        .collect()
}

fn plain(value: Option<&Ratio>) -> Option<String> {
    value.map(Ratio::to_plain)
}

#[track_caller]
fn refuses(amounts: &Amounts, reaction: &Stoichiometry, kind: ErrorKind, message: &str) {
    let error = amounts.react(reaction).unwrap_err();
    assert_eq!((error.kind(), error.to_string().as_str()), (kind, message));
    assert!(error.help().is_some_and(|help| !help.is_empty()));
}

#[test]
fn the_least_extent_limits() {
    let amounts = Amounts::new()
        .with(formula("Al"), grams("10.0"))
        .with(formula("O2"), grams("10.0"))
        .actual(formula("Al2O3"), reading("15.0"));
    let reacted = amounts.react(&rust()).unwrap();
    assert_eq!(names(&reacted), ["Al"]);
    // 10.0/26.982/4; 10.0/31.998/3 = 0.1042
    let extent = reacted.extent();
    assert_eq!(
        extent.amount().to_figures(6, TieRule::Even).to_string(),
        "0.0926544"
    );
    assert_eq!(extent.measured().figures(), Some(3));
    let [aluminium, oxygen, oxide] = reacted.species() else {
        panic!("three species");
    };
    assert_eq!(plain(aluminium.mol_final()).unwrap(), "0");
    assert_eq!(plain(aluminium.mass_initial()).unwrap(), "10");
    // 10.0 − 3 · 0.0926544 · 31.998
    let left = oxygen.measured_mass_final().unwrap();
    assert_eq!(left.written(TieRule::Even).to_string(), "1.1");
    assert_eq!(
        (oxygen.side(), oxide.side()),
        (Side::Reactants, Side::Products)
    );
    let percent = reacted.percent_yield().unwrap();
    assert_eq!(
        percent.percent().to_figures(6, TieRule::Even).to_string(),
        "79.3892"
    );
    assert!(reacted.warnings().is_empty());
}

#[test]
fn ties_are_exact() {
    let water = reaction(&[(2, "H2"), (1, "O2")], &[(2, "H2O")]);
    let tie = Amounts::new()
        .with(formula("H2"), moles("2"))
        .with(formula("O2"), moles("1"));
    let reacted = tie.react(&water).unwrap();
    assert_eq!(names(&reacted), ["H2", "O2"]);
    assert_eq!(reacted.extent().amount(), &Ratio::ONE);
    // Masses in the ratio of the molar masses: exact where binary fractions would differ.
    let tie = Amounts::new()
        .with(formula("H2"), grams("0.4032"))
        .with(formula("O2"), grams("3.1998"));
    assert_eq!(names(&tie.react(&water).unwrap()), ["H2", "O2"]);
    let beside = Amounts::new()
        .with(formula("H2"), grams("0.4032"))
        .with(formula("O2"), grams("3.19980000000001"));
    assert_eq!(names(&beside.react(&water).unwrap()), ["H2"]);
}

#[test]
fn one_species_gives_all_the_others() {
    for (given, mass) in [("CaO", "56.077"), ("CO2", "44.009"), ("CaCO3", "100.086")] {
        let amounts = Amounts::new().with(formula(given), grams(mass));
        let reacted = amounts.react(&lime()).unwrap();
        let changes: Vec<String> = reacted
            .species()
            .iter()
            .map(|species| species.mass_change().to_plain())
            .collect();
        assert_eq!(changes, ["-100.086", "56.077", "44.009"], "{given}");
        let reactant = &reacted.species()[0];
        let known = given == "CaCO3";
        assert_eq!(reactant.mol_initial().is_some(), known);
        assert_eq!(reactant.mass_final().is_some(), known);
        assert_eq!(reacted.limiting().count(), usize::from(known));
        assert_eq!(plain(reacted.species()[1].mol_initial()).unwrap(), "0");
        assert_eq!(plain(reacted.species()[1].mol_final()).unwrap(), "1");
    }
}

#[test]
fn solutions_purity_and_hydrates() {
    let acid = reaction(
        &[(1, "CaCO3"), (2, "HCl")],
        &[(1, "CaCl2"), (1, "CO2"), (1, "H2O")],
    );
    let solution = Supply::solution(reading("0.100"), reading("0.0250"));
    let amounts = Amounts::new()
        .with(formula("HCl"), solution)
        .with(formula("CaCO3"), grams("0.1500").pure(reading("80.0")));
    let reacted = amounts.react(&acid).unwrap();
    assert_eq!(names(&reacted), ["CaCO3"]);
    let chalk = &reacted.species()[0];
    assert_eq!(plain(chalk.mass_initial()).unwrap(), "0.12");
    assert_eq!(chalk.measured_mol_change().figures(), Some(3));
    let inputs: Vec<&str> = reacted
        .extent()
        .budget()
        .contributions()
        .iter()
        .map(crate::number::Contribution::input)
        .collect();
    let weights = ["Ca", "C", "O"].map(|symbol| alloc::format!("atomic weight of {symbol}"));
    assert_eq!(&inputs[..3], weights);
    assert_eq!(inputs[3..], ["mass of CaCO3", "purity of CaCO3"]);

    assert_eq!(reacted.warnings(), []);

    // A fraction in place of a percentage is read as written, and questioned.
    let doubt = |purity: &str| {
        let amounts = Amounts::new().with(formula("CaCO3"), grams("10.0").pure(reading(purity)));
        let reacted = amounts.react(&lime()).unwrap();
        let notes = reacted.warnings().iter();
        notes
            .map(|note| (note.code(), String::from(note.text())))
            .collect::<Vec<_>>()
    };
    let sentence = "The purity of CaCO3 was read as 0.95 %. Give it in per cent: was 95 % meant?";
    assert_eq!(doubt("0.95"), [("suspect_purity", sentence.into())]);
    assert_eq!(doubt("1.49").len(), 1);
    assert_eq!(doubt("1.5"), []);
    assert_eq!(doubt("100"), []);

    let drying = reaction(&[(1, "CuSO4·5H2O")], &[(1, "CuSO4"), (5, "H2O")]);
    let amounts = Amounts::new().with(formula("CuSO4.5H2O"), grams("5.00"));
    let reacted = amounts.react(&drying).unwrap();
    let [_, salt, water] = reacted.species() else {
        panic!("three species");
    };
    let shown = |s: &SpeciesAmount| s.measured_mass_change().written(TieRule::Even).to_string();
    assert_eq!((shown(salt), shown(water)), ("3.20".into(), "1.80".into()));
}

/// d(m)/d(mass) against a small step; each weight counts once, in the species and the product.
#[test]
fn uncertainty_is_carried() {
    let work = |mass: &str| {
        let amounts = Amounts::new().with(formula("CaCO3"), grams(mass));
        amounts.react(&lime()).unwrap().species()[1].clone()
    };
    let lime = work("5.000");
    let parts = lime.budget().contributions();
    let mass = parts
        .iter()
        .find(|part| part.input() == "mass of CaCO3")
        .unwrap();
    let (low, high) = (work("4.999"), work("5.001"));
    let slope = (high.mass_change() - low.mass_change()).to_f64() / 0.002;
    assert!((mass.sensitivity() - slope).abs() < 1e-9);
    assert_eq!(parts.len(), 4);
    // Of 5.000 g the reading gives nearly all: 0.001/√12 · 56.077/100.086.
    assert!((lime.standard_uncertainty() - 0.000_162).abs() < 0.000_02);
    // The mass of what was weighed depends on no weight.
    let amounts = Amounts::new().with(formula("CaCO3"), grams("5.000"));
    let reacted = amounts.react(&self::lime()).unwrap();
    let only: Vec<_> = reacted.species()[0]
        .budget()
        .contributions()
        .iter()
        .collect();
    assert_eq!(only.len(), 1);
}

#[test]
fn more_than_theory_allows() {
    let amounts = Amounts::new()
        .with(formula("CaCO3"), grams("1.000"))
        .actual(formula("CaO"), reading("0.600"));
    let reacted = amounts.react(&lime()).unwrap();
    let [warning] = reacted.warnings() else {
        panic!("one warning");
    };
    assert_eq!(warning.code(), "yield_above_100");
    assert!(
        warning
            .text()
            .starts_with("A yield of 107.1 % is more than theory allows.")
    );
    assert!(warning.text().contains("still wet") && warning.text().contains("impure"));
    assert_eq!(warning.values().collect::<Vec<_>>(), [("percent", "107.1")]);
}

/// A label of state need not be repeated; what is on both sides is meant as a reactant.
#[test]
fn names_of_species() {
    let dissolving = reaction(
        &[(1, "CO2(g)"), (2, "H2O(l)")],
        &[(1, "H3O+(aq)"), (1, "HCO3-(aq)")],
    );
    let given = Amounts::new().with(formula("CO2"), moles("0.5"));
    assert_eq!(names(&given.react(&dissolving).unwrap()), ["CO2(g)"]);
    refuses(
        &Amounts::new().with(formula("CO2(aq)"), moles("0.5")),
        &dissolving,
        ErrorKind::BadRequest,
        "`CO2(aq)` is not a species of the equation",
    );
    let both = reaction(&[(3, "O2"), (1, "Xe")], &[(2, "O3"), (1, "Xe")]);
    let given = Amounts::new().with(formula("Xe"), moles("1"));
    let reacted = given.react(&both).unwrap();
    assert!(reacted.species()[1].is_limiting());
    assert_eq!(plain(reacted.species()[3].mol_initial()).unwrap(), "0");
}

#[test]
fn refusals() {
    let bad = |amounts: Amounts, message: &str| {
        refuses(&amounts, &lime(), ErrorKind::BadRequest, message);
    };
    bad(Amounts::new(), "no amount is given");
    bad(
        Amounts::new().with(formula("MgO"), grams("1")),
        "`MgO` is not a species of the equation",
    );
    let two = Amounts::new().with(formula("CaO"), grams("1"));
    bad(
        two.clone().with(formula("CO2"), grams("1")),
        "amounts of two products are given, CaO and CO2",
    );
    bad(
        two.clone().with(formula("CaCO3"), grams("1")),
        "amounts of both a product, CaO, and a reactant, CaCO3, are given",
    );
    bad(two.with(formula("CaO"), grams("1")), "`CaO` is given twice");
    let chalk = || Amounts::new().with(formula("CaCO3"), grams("1"));
    bad(
        chalk().actual(formula("CaCO3"), reading("1")),
        "`CaCO3` is not a product of the equation, or appears there twice",
    );
    refuses(
        &chalk().actual(formula("CaO"), reading("0.0")),
        &lime(),
        ErrorKind::ImpossibleMasses,
        "an obtained mass of 0.0 and a theoretical yield of 0.6 are not both positive",
    );
    for (supply, message) in [
        (grams("0"), "the mass of CaCO3, 0, is not positive"),
        (moles("-1"), "the amount of CaCO3, -1, is not positive"),
        (
            Supply::solution(reading("0.1"), reading("0")),
            "the volume of CaCO3, 0, is not positive",
        ),
        (
            grams("1").pure(reading("0")),
            "the purity of CaCO3, 0, is not positive",
        ),
    ] {
        let amounts = Amounts::new().with(formula("CaCO3"), supply);
        refuses(&amounts, &lime(), ErrorKind::ImpossibleMasses, message);
    }
    refuses(
        &Amounts::new().with(formula("CaCO3"), grams("1").pure(reading("101"))),
        &lime(),
        ErrorKind::OutOfRange,
        "the purity of CaCO3, 101 %, is above 100 %",
    );
    let twice = reaction(&[(1, "H2"), (1, "H2"), (1, "O2")], &[(2, "H2O")]);
    refuses(
        &Amounts::new().with(formula("H2"), grams("1")),
        &twice,
        ErrorKind::BadRequest,
        "`H2` appears twice on one side of the equation",
    );
    let plating = reaction(&[(1, "Cu2+"), (2, "e-")], &[(1, "Cu")]);
    refuses(
        &Amounts::new().with(Formula::electron(), grams("1")),
        &plating,
        ErrorKind::BadRequest,
        "the molar mass of e^- is zero",
    );
    let faraday = Amounts::new().with(Formula::electron(), moles("0.10"));
    let copper = faraday.react(&plating).unwrap();
    assert_eq!(copper.species()[2].mass_change().to_plain(), "3.1773");
}

#[test]
fn the_working_shows_each_number() {
    let amounts = Amounts::new()
        .with(formula("Al"), grams("10.0"))
        .with(formula("O2"), grams("10.0"))
        .actual(formula("Al2O3"), reading("15.0"));
    let working = amounts.react(&rust()).unwrap().working();
    let lines: Vec<String> = working
        .steps()
        .iter()
        .map(|s| {
            let line = alloc::format!(
                "{}: {} {} {} {}",
                s.what(),
                s.numbers(),
                s.relation(),
                s.result(),
                s.unit()
            );
            line.trim_end().to_string()
        })
        .collect();
    assert_eq!(
        lines,
        [
            "amount of Al: 10.0 g / 26.982 g/mol = 0.3706 mol",
            "amount of O2: 10.0 g / 31.998 g/mol = 0.3125 mol",
            "extent by Al: 0.3706 mol / 4 = 0.09265 mol",
            "extent by O2: 0.3125 mol / 3 = 0.1042 mol",
            "limiting reactant: 0.09265 mol by Al, 0.1042 mol by O2 so Al",
            "mass of O2 used up: 3 × 0.09265 mol × 31.998 g/mol = 8.89 g",
            "mass of O2 left: 10.00 g − 8.894 g = 1.1 g",
            "mass of Al2O3 formed: 2 × 0.09265 mol × 101.961 g/mol = 18.9 g",
            "percent yield: 100 % × 15.0 g / 18.89 g = 79.4 %",
        ]
    );
}

/// What is written and balances is taken as it is; else the equation is balanced first and says so.
#[test]
fn an_equation_is_balanced_first() {
    let of = |text: &str| {
        let equation: crate::reaction::Equation = text.parse().unwrap();
        let amounts = Amounts::new().with(formula("Al"), grams("10.0"));
        amounts.react(&equation.stoichiometry()?)
    };
    let bare = of("Al + O2 -> Al2O3").unwrap();
    let [note] = bare.warnings() else {
        panic!("one note");
    };
    assert_eq!(
        (note.code(), note.text()),
        (
            "balanced_first",
            "The equation was balanced first: 4Al + 3O2 -> 2Al2O3."
        )
    );
    let working = bare.working();
    let step = &working.steps()[0];
    assert_eq!(
        (step.what(), step.numbers(), step.relation(), step.result()),
        (
            "balanced equation",
            "coefficients 4, 3, 2",
            "so",
            "4Al + 3O2 -> 2Al2O3"
        )
    );
    let written = of("4Al + 3O2 -> 2Al2O3").unwrap();
    assert_eq!(written.warnings(), []);
    assert_eq!(written.species(), bare.species());
    let halves = of("2Al + 3/2 O2 -> Al2O3").unwrap();
    assert_eq!(
        halves.extent().amount(),
        &(written.extent().amount() * &Ratio::from(2))
    );
    assert_eq!(
        halves.species()[2].mass_change(),
        written.species()[2].mass_change()
    );
    assert_eq!(
        of("Al + O2 -> Al2S3").unwrap_err().kind(),
        ErrorKind::NoBalance
    );
    let error = of("Al + O2 + H2O2 -> Al2O3 + H2O").unwrap_err();
    assert_eq!(error.kind(), ErrorKind::ManyBalances);
}
