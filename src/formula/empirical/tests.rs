//! Hand-worked cases, doubts and refusals.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::{Analysis, Empirical, Fit};
use crate::formula::{ErrorKind, Formula};
use crate::number::Reading;

fn formula(text: &str) -> Formula {
    text.parse().unwrap()
}

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

fn masses(parts: &[(&str, &str)]) -> Analysis {
    let parts = parts.iter();
    parts.fold(Analysis::new(), |analysis, (part, mass)| {
        analysis.mass(formula(part), reading(mass))
    })
}

fn percents(parts: &[(&str, &str)]) -> Analysis {
    let parts = parts.iter();
    parts.fold(Analysis::new(), |analysis, (part, percent)| {
        analysis.percent(formula(part), reading(percent))
    })
}

fn codes(found: &Empirical) -> Vec<&'static str> {
    found
        .warnings()
        .iter()
        .map(crate::text::Note::code)
        .collect()
}

#[track_caller]
fn finds(analysis: &Analysis, text: &str, warnings: &[&str]) -> Empirical {
    let found = analysis.empirical().unwrap();
    let formula = found.formula().map(ToString::to_string);
    assert_eq!(formula.as_deref(), Some(text));
    assert_eq!(codes(&found), warnings);
    found
}

#[track_caller]
fn refuses(analysis: &Analysis, kind: ErrorKind, message: &str) {
    let error = analysis.empirical().unwrap_err();
    assert_eq!((error.kind(), error.to_string().as_str()), (kind, message));
    assert!(error.help().is_some_and(|help| !help.is_empty()));
}

#[test]
fn elements_and_species() {
    finds(&masses(&[("Fe", "34.97"), ("O", "15.03")]), "Fe2O3", &[]);
    // Both spellings of oxygen are oxygen.
    finds(&masses(&[("Fe", "34.97"), ("O2", "15.03")]), "Fe2O3", &[]);
    finds(
        &masses(&[("H2O", "1.80"), ("CuSO4", "3.20")]),
        "CuSO4·5H2O",
        &[],
    );
    let soda = [
        ("Na", "16.1"),
        ("C", "4.20"),
        ("O", "16.8"),
        ("H2O", "62.9"),
    ];
    finds(&percents(&soda), "Na2CO3·10H2O", &[]);
    let sulfate = percents(&[("Fe", "27.9"), ("SO4", "72.1")]);
    finds(&sulfate, "Fe2(SO4)3", &[]);
    let one = percents(&[("Fe", "36.76"), ("SO4", "63.24")]);
    finds(&one, "FeSO4", &[]);
    let clay = percents(&[("Al2O3", "39.50"), ("H2O", "13.96"), ("SiO2", "46.55")]);
    finds(&clay, "Al2O3·2SiO2·2H2O", &[]);
    let heavy = percents(&[("[2H]", "20.11"), ("O", "79.89")]);
    finds(&heavy, "[2H]2O", &[]);
}

/// The given order, but with carbon and hydrogen first if there is carbon and no metal.
#[test]
fn the_order_of_the_elements() {
    let sugar = percents(&[("O", "53.29"), ("H", "6.71"), ("C", "40.00")]);
    finds(&sugar, "CH2O", &[]);
    let chalk = percents(&[("Ca", "40.04"), ("C", "12.00"), ("O", "47.96")]);
    finds(&chalk, "CaCO3", &[]);
    let acid = percents(&[("H", "1.60"), ("N", "22.23"), ("O", "76.17")]);
    finds(&acid, "HNO3", &[]);
}

#[test]
fn multipliers_are_shown_and_one_is_chosen() {
    let sucrose = percents(&[("C", "42.11"), ("H", "6.48"), ("O", "51.42")]);
    let found = finds(&sucrose, "C12H22O11", &[]);
    assert_eq!(found.trials().len(), 12);
    let first = &found.trials()[0];
    // 1.0909 is within the school's 0.1 of one, but not within the uncertainty of the readings.
    assert_eq!(
        (first.counts(), first.fit()),
        (&[1, 2, 1][..], Some(Fit::School))
    );
    assert_eq!(
        first.distances()[0]
            .to_figures(4, Default::default())
            .to_string(),
        "0.09085"
    );
    let chosen = found.chosen().unwrap();
    assert_eq!(
        (chosen.multiplier(), chosen.counts(), chosen.fit()),
        (11, &[12, 22, 11][..], Some(Fit::Figures))
    );
    assert!(chosen.chance() < 0.01);
    assert_eq!(found.residual(), Some(chosen.residual()));
}

/// Magnesium burnt in a crucible errs by more than the balance: the school's rule decides, for at
/// some multiplier any ratio would seem to fit.
#[test]
fn a_bench_that_errs_by_more_than_its_balance() {
    let oxide = masses(&[("Mg", "0.372"), ("O", "0.265")]);
    let found = finds(&oxide, "MgO", &["beyond_figures"]);
    assert_eq!(found.chosen().unwrap().fit(), Some(Fit::School));
    let by_figures = found
        .trials()
        .iter()
        .filter(|t| t.fit() == Some(Fit::Figures));
    let by_figures: Vec<_> = by_figures
        .map(|t| (t.multiplier(), t.chance() > 0.1))
        .collect();
    assert_eq!(by_figures, [(12, true)]);
}

#[test]
fn coarse_readings_allow_other_counts() {
    let hydride = Analysis::new()
        .sample(reading("0.025"))
        .product(formula("B2O3"), reading("0.063"))
        .by_difference(formula("H"));
    let found = finds(&hydride, "BH3", &["ambiguous_multiplier"]);
    let values: Vec<_> = found.warnings()[0].values().collect();
    assert_eq!(
        values,
        [("candidates", "B3H8, B4H11, B4H13, B5H14, B5H16, B6H17, …")]
    );
    assert_eq!(
        found.warnings()[0].text(),
        "The uncertainty of the readings also allows B3H8, B4H11, B4H13, B5H14, B5H16, B6H17 and \
         other formulas that are not listed."
    );
    let coarse = masses(&[("C", "1.0"), ("H", "0.3")]).empirical().unwrap();
    assert_eq!(coarse.formula(), None);
    assert_eq!((coarse.residual(), coarse.multiplier()), (None, None));
    assert_eq!(codes(&coarse), ["no_whole_numbers", "ambiguous_multiplier"]);
    let text = coarse.warnings()[1].text();
    assert!(text.starts_with("The uncertainty of the readings allows CH3, CH4, C2H7,"));
}

#[test]
fn no_formula_is_made_up() {
    let alloy = masses(&[("Ar", "1.000"), ("Pb", "1.91")])
        .empirical()
        .unwrap();
    assert_eq!(alloy.formula(), None);
    assert_eq!(
        alloy.warnings()[0].text(),
        "No multiplier brings the ratios 2.715 : 1 near whole numbers. The multiplier 4 comes nearest, with a \
         distance of 0.138."
    );
}

#[test]
fn what_the_parts_make_up() {
    let short = percents(&[("C", "40.0"), ("H", "6.7"), ("O", "52.1")]);
    let found = finds(&short, "CH2O", &["sum_not_whole", "beyond_figures"]);
    assert_eq!(
        found.warnings()[0].text(),
        "The parts make up 98.8 % of 100 %. A part may be missing, or a value may be wrong."
    );
    refuses(
        &percents(&[("C", "40.0"), ("H", "6.7")]),
        ErrorKind::ImpossibleMasses,
        "the parts make up 46.7 % of 100 %",
    );
    refuses(
        &masses(&[("C", "40.0"), ("H", "6.7")]).sample(reading("40.00")),
        ErrorKind::ImpossibleMasses,
        "the parts make up 46.7 g of 40.00 g",
    );
    // Rounding gives no warning. The rest may be an element that is found by difference.
    finds(
        &percents(&[("C", "40.0"), ("H", "6.7")]).by_difference(formula("O")),
        "CH2O",
        &[],
    );
    finds(&percents(&[("C", "27.3"), ("O", "72.8")]), "CO2", &[]);
}

#[test]
fn burning() {
    // 0.1000 g of caffeine-like C4H5N2O, the nitrogen found in a separate analysis.
    let whole = Analysis::new()
        .sample(reading("0.1000"))
        .product(formula("CO2"), reading("0.1813"))
        .product(formula("H2O"), reading("0.0464"))
        .percent(formula("N"), reading("28.85"))
        .by_difference(formula("O"));
    let found = finds(&whole.molar_mass(reading("194.2")), "C4H5N2O", &[]);
    assert_eq!(found.molecular_formula().unwrap().to_string(), "C8H10N4O2");
    // A hydrocarbon leaves nothing for oxygen.
    let methane = Analysis::new()
        .sample(reading("0.2000"))
        .product(formula("CO2"), reading("0.5487"))
        .product(formula("H2O"), reading("0.4491"))
        .by_difference(formula("O"));
    finds(&methane, "CH4", &["nothing_left"]);
    // Carbon that burnt to two oxides.
    let both = Analysis::new()
        .product(formula("CO2"), reading("2.2005"))
        .product(formula("CO"), reading("1.4005"))
        .product(formula("H2O"), reading("3.603"));
    let found = finds(&both, "CH4", &[]);
    assert_eq!(found.constituents().len(), 2);
}

/// x = n(O)/n(C) with all inputs shared: by difference each weight and reading counts once.
#[test]
fn uncertainty_of_a_difference() {
    let oxide = |sample: &str, burnt: &str| {
        let oxide = Analysis::new()
            .sample(reading(sample))
            .product(formula("CO2"), reading(burnt))
            .by_difference(formula("O"));
        oxide.empirical().unwrap()
    };
    let found = oxide("0.4200", "0.4400");
    let [_, oxygen] = found.constituents() else {
        panic!("two parts");
    };
    assert_eq!(
        oxygen
            .measured_mass()
            .written(Default::default())
            .to_string(),
        "0.2999"
    );
    let inputs: Vec<&str> = oxygen
        .budget()
        .contributions()
        .iter()
        .map(crate::number::Contribution::input)
        .collect();
    assert_eq!(
        inputs,
        [
            "sample",
            "atomic weight of C",
            "atomic weight of O",
            "mass of CO2"
        ]
    );
    // The slope by the sample, against a small step.
    let slope = oxygen.budget().contributions()[0].sensitivity();
    let (low, high) = (oxide("0.419999", "0.4400"), oxide("0.420001", "0.4400"));
    let [low, high] = [low, high].map(|found| found.constituents()[1].ratio().to_f64());
    assert!((slope - (high - low) / 2e-6).abs() < 1e-4 * slope);
}

#[test]
fn molecules() {
    let oxide = || masses(&[("P", "1.24"), ("O", "1.60")]);
    let found = finds(&oxide().molar_mass(reading("283.9")), "P2O5", &[]);
    assert_eq!(found.multiplier(), Some(2));
    assert_eq!(found.molecular_formula().unwrap().to_string(), "P4O10");
    assert_eq!(found.units().unwrap().figures(), Some(4));
    let found = finds(
        &oxide().molar_mass(reading("215")),
        "P2O5",
        &["molar_mass_no_multiple"],
    );
    assert_eq!(
        (found.multiplier(), found.molecular_formula()),
        (None, None)
    );
    assert_eq!(
        found.warnings()[0].text(),
        "The molar mass 215 g/mol is 1.515 times that of P2O5 (141.943 g/mol). 1.515 is not near a whole \
         number. The molar mass or the formula is wrong."
    );
    // A molar mass that is smaller than the formula's, and one that fits any number.
    for mass in ["80", "1e4"] {
        let found = oxide().molar_mass(reading(mass)).empirical().unwrap();
        assert_eq!(found.multiplier(), None, "{mass}");
        assert_eq!(codes(&found), ["molar_mass_no_multiple"]);
    }
}

#[test]
fn refusals() {
    let bad = |analysis: Analysis, message: &str| {
        refuses(&analysis, ErrorKind::BadAnalysis, message);
    };
    bad(Analysis::new(), "fewer than two parts are given");
    bad(masses(&[("C", "1")]), "fewer than two parts are given");
    bad(masses(&[("O", "1"), ("O2", "1")]), "`O` is given twice");
    bad(
        masses(&[("C", "1"), ("H", "1")]).by_difference(formula("O")),
        "a part is to be found by difference, but the mass of the sample is not given",
    );
    bad(
        masses(&[("C", "1")]).percent(formula("H"), reading("5")),
        "masses and percentages are given without the mass of the sample",
    );
    for (part, shown) in [
        ("Na+", "Na^+"),
        ("CuSO4·5H2O", "CuSO4·5H2O"),
        ("2H2O", "2H2O"),
    ] {
        bad(
            masses(&[(part, "1"), ("Cl", "1")]),
            &alloc::format!("{shown} is not an element or a single uncharged species"),
        );
    }
    for product in ["HCl", "O2", "SO4^2-"] {
        let burnt = Analysis::new()
            .product(formula(product), reading("1"))
            .product(formula("CO2"), reading("1"));
        bad(
            burnt,
            &alloc::format!("{product} does not give one element of the sample"),
        );
    }
    let impossible = |analysis: Analysis, message: &str| {
        refuses(&analysis, ErrorKind::ImpossibleMasses, message);
    };
    impossible(masses(&[("C", "0.00"), ("H", "1")]), "C is given as 0.00");
    impossible(masses(&[("C", "-1"), ("H", "1")]), "C is given as -1");
    impossible(
        masses(&[("C", "1"), ("H", "1")]).sample(reading("0")),
        "the sample is given as 0 g",
    );
    refuses(
        &masses(&[("C", "12"), ("H", "4")]).molar_mass(reading("-16")),
        ErrorKind::OutOfRange,
        "-16 g/mol is not a molar mass",
    );
    refuses(
        &masses(&[("CuSO4", "1"), ("xH2O", "1")]),
        ErrorKind::BadAnalysis,
        "xH2O is not an element or a single uncharged species",
    );
    refuses(
        &masses(&[("Tc", "1"), ("O", "1")]),
        ErrorKind::NoStandardWeight,
        "technetium (Tc) has no standard atomic weight, because it has no natural mixture of isotopes",
    );
    assert!(Analysis::new().coverage(f64::NAN).is_err());
}

#[test]
fn the_working_shows_each_number() {
    let burnt = Analysis::new()
        .sample(reading("0.2000"))
        .product(formula("CO2"), reading("0.2932"))
        .product(formula("H2O"), reading("0.1200"))
        .by_difference(formula("O"))
        .molar_mass(reading("180.2"));
    let working = burnt.empirical().unwrap().working();
    let lines: Vec<String> = working
        .steps()
        .iter()
        .map(|s| {
            let unit = if s.unit().is_empty() { "" } else { " " };
            alloc::format!(
                "{}: {} {} {}{unit}{}",
                s.what(),
                s.numbers(),
                s.relation(),
                s.result(),
                s.unit()
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            "mass of C: 0.2932 g × 12.011 g/mol / 44.009 g/mol = 0.080021 g",
            "mass of H: 0.1200 g × 2 × 1.008 g/mol / 18.015 g/mol = 0.013429 g",
            "mass of O: 0.2000 g − 0.080021 g − 0.013429 g = 0.10655 g",
            "amount of C: 0.080021 g / 12.011 g/mol = 0.0066623 mol",
            "amount of H: 0.013429 g / 1.008 g/mol = 0.013322 mol",
            "amount of O: 0.10655 g / 15.999 g/mol = 0.0066598 mol",
            "ratio of C: 0.0066623 mol / 0.0066598 mol = 1.0004",
            "ratio of H: 0.013322 mol / 0.0066598 mol = 2.0004",
            "ratio of O: 0.0066598 mol / 0.0066598 mol = 1",
            "empirical formula: 1 × (1.0004 : 2.0004 : 1) is near 1 : 2 : 1 so CH2O",
            "formula units in a molecule: 180.2 g/mol / 30.026 g/mol = 6.0015",
            "molecular formula: 6.0015 is near 6 so C6H12O6",
        ]
    );
    assert_eq!(
        working.steps()[2].symbols(),
        "m(O) = m(sample) − the masses of the other parts"
    );
}

/// Refused by their number alone: nothing is worked out of a hundred thousand parts.
#[test]
fn too_many_parts_are_refused_at_once() {
    let parts = 100_000;
    let analysis = (0..parts).fold(Analysis::new(), |analysis, index| {
        let part = if index % 2 == 0 { "C" } else { "H" };
        analysis.mass(part.parse().unwrap(), "1.00".parse().unwrap())
    });
    assert!(analysis.values.len() <= Analysis::MOST_PARTS + 1);
    let error = analysis.empirical().unwrap_err();
    assert_eq!(error.to_string(), "more than 50 parts are given");
    assert_eq!(error.kind(), ErrorKind::BadAnalysis);
    // As many as are allowed, with numbers as large as a reading may be.
    let largest = |elements: usize| {
        let all = crate::element::Element::ALL.iter();
        let elements = all.filter(|e| e.symbol() != "Tc").take(elements);
        elements
            .enumerate()
            .fold(Analysis::new(), |analysis, (index, element)| {
                let grams = alloc::format!("{}e{}", "9".repeat(24 + index % 5), index % 3);
                let part = element.symbol().parse().unwrap();
                analysis.mass(part, grams.parse().unwrap())
            })
    };
    for (parts, refused) in [(42, false), (49, false), (50, false), (51, true)] {
        let result = largest(parts)
            .molar_mass("9e29".parse().unwrap())
            .empirical();
        let many = result.is_err_and(|error| error.to_string().starts_with("more than"));
        assert_eq!(many, refused, "{parts}");
    }
}
