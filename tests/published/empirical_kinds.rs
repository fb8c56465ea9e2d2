//! The examples about composition and empirical formulas worked out, kind by kind.

use effloresce::formula::{Analysis, Empirical, Formula};
use effloresce::{Element, Ratio, Reading};
use serde_json::Value;

use crate::calc::{formula, molar, number, over, reading, weights};
use crate::data::Example;
use crate::example::Answers;
use crate::kinds::{put, text};

pub(crate) fn percent_composition(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let described = formula(example.text("formula")).describe(&weights());
    let described = described.unwrap();
    for (atom, _, percent) in described.composition() {
        put(&mut answers, &format!("percent/{atom}"), percent.clone());
    }
    put(
        &mut answers,
        "molar_mass",
        described.molar_mass().exact().clone(),
    );
    answers
}

type Add = fn(Analysis, Formula, Reading) -> Analysis;

/// Masses or percentages in sorted order. The order does not matter.
pub(crate) fn from_parts(example: &Example) -> Answers {
    let mut analysis = Analysis::new();
    for (key, add) in [
        ("masses_g", Analysis::mass as Add),
        ("percent", Analysis::percent),
    ] {
        let parts = example.inputs[key].as_object();
        for (part, figure) in parts.into_iter().flatten() {
            analysis = add(analysis, formula(part), reading(figure.as_str().unwrap()));
        }
    }
    let found = conclude(example, analysis);
    let mut answers = counts(&found);
    let one = found.formula().unwrap().molar_mass(&weights()).unwrap();
    put(&mut answers, "molar_mass", one.exact().clone());
    answers
}

pub(crate) fn combustion(example: &Example) -> Answers {
    let mut analysis = Analysis::new();
    let boron = example.has("B2O3_g");
    if boron {
        analysis = analysis
            .sample(reading(example.text("sample_g")))
            .product(formula("B2O3"), reading(example.text("B2O3_g")))
            .by_difference(formula("H"));
    } else {
        assert_eq!(example.inputs["other_element_by_difference"], Value::Null);
        analysis = analysis.sample(reading(example.text("sample")));
        for product in ["CO2", "H2O"] {
            analysis = analysis.product(formula(product), reading(example.text(product)));
        }
    }
    let found = conclude(example, analysis);
    let mut answers = counts(&found);
    if !boron {
        let parts: Ratio = found.constituents().iter().map(|p| p.mass().clone()).sum();
        put(
            &mut answers,
            "residual_mass",
            &number(example.text("sample")) - &parts,
        );
    }
    answers
}

/// The chloride that the titration finds is as much as the alkali.
pub(crate) fn titration(example: &Example) -> Answers {
    let litres = over(&number(example.text("NaOH_mL")), &Ratio::from(1000));
    let moles = &litres * &number(example.text("NaOH_M"));
    let analysis = Analysis::new()
        .mass(formula("W"), reading(example.text("W_g")))
        .amount(formula("Cl"), reading(&moles.to_plain()));
    let found = conclude(example, analysis);
    let mut answers = counts(&found);
    put(
        &mut answers,
        "ratio_Cl_per_W",
        found.constituents()[1].ratio().clone(),
    );
    answers
}

/// The element whose weight makes the formula of the oxide from its masses.
pub(crate) fn element_of_oxide(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let oxygens = match example.text("formula") {
        "X4O10" => Ratio::new(10, 4),
        "M2O3" => Ratio::new(3, 2),
        other => panic!("{}: {other}", example.id),
    };
    let oxygens = oxygens.unwrap();
    let (key, metal, oxygen) = if example.has("sample_mg") {
        let oxygen = number(example.text("oxygen_mg"));
        (
            "atomic_weight_X",
            &number(example.text("sample_mg")) - &oxygen,
            oxygen,
        )
    } else {
        let metal = number(example.text("metal_g"));
        let oxygen = &number(example.text("oxide_g")) - &metal;
        ("atomic_weight_M", metal, oxygen)
    };
    let amount = over(&over(&oxygen, &molar("O")), &oxygens);
    put(&mut answers, key, over(&metal, &amount));
    // Of all elements the one whose ratio to oxygen comes nearest to the formula's.
    let apart = |element: Element| {
        let symbol = element.symbol();
        let analysis = Analysis::new()
            .mass(formula(symbol), reading(&metal.to_plain()))
            .mass(formula("O"), reading(&oxygen.to_plain()))
            .weights(weights());
        let found = analysis.empirical().ok()?;
        let [metal, oxygen] = found.constituents() else {
            return None;
        };
        Some((&over(oxygen.ratio(), metal.ratio()) - &oxygens).abs())
    };
    let ranked = Element::ALL
        .into_iter()
        .filter_map(|element| Some((apart(element)?, element)));
    let (_, element) = ranked.min_by(|(a, _), (b, _)| a.cmp(b)).unwrap();
    text(&mut answers, "element", element.symbol());
    answers
}

#[track_caller]
fn conclude(example: &Example, mut analysis: Analysis) -> Empirical {
    if example.has("molar_mass_g_per_mol") {
        analysis = analysis.molar_mass(reading(example.text("molar_mass_g_per_mol")));
    }
    let found = analysis.weights(weights()).empirical();
    found.unwrap_or_else(|e| panic!("{}: {e}", example.id))
}

/// The ratios and the counts of both formulas, read back from what is written.
fn counts(found: &Empirical) -> Answers {
    let mut answers = Answers::new();
    for part in found.constituents() {
        let key = format!("ratios/{}", part.formula());
        put(&mut answers, &key, part.ratio().clone());
    }
    for (key, formula) in [
        ("empirical_counts", found.formula()),
        ("molecular_counts", found.molecular_formula()),
    ] {
        let composition = formula.map(|formula| formula.composition().unwrap());
        for (atom, count) in composition
            .iter()
            .flat_map(effloresce::formula::Composition::iter)
        {
            put(&mut answers, &format!("{key}/{atom}"), count.clone());
        }
    }
    if let Some(units) = found.units() {
        put(&mut answers, "units_per_molecule", units.value().clone());
    }
    answers
}
