//! The rows agree with what the crate knows and works out.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::*;
use crate::element::{AtomicWeights, Element};
use crate::formula::{Analysis, Formula, State};
use crate::gravimetry::{
    Component, GravimetricFactor, HeatOfHydration, HeatingSafety, Method, Net, Severity, Stages,
    Weighings, known_hydrates, salt_facts,
};
use crate::number::Ratio;
use crate::reaction::Equation;
use crate::text::Note;

/// A formula, as it is written in the pool: canonical, without a doubt, with a molar mass.
#[track_caller]
fn strict(text: &str) -> Formula {
    let (formula, notes) = Formula::read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert!(notes.is_empty(), "{text}: {notes:?}");
    assert_eq!(formula.to_string(), text);
    assert!(
        formula.molar_mass(&AtomicWeights::default()).is_ok(),
        "{text}"
    );
    formula
}

/// The bench of a school, without a fume cupboard, is enough.
fn is_allowed(severity: Severity) -> bool {
    severity <= Severity::Care
}

fn distinct<'a>(texts: impl IntoIterator<Item = &'a str>) -> usize {
    texts.into_iter().collect::<BTreeSet<_>>().len()
}

/// Nothing of the pool names it by itself.
fn is_copper_sulfate(text: &str) -> bool {
    text.contains("CuSO4")
}

#[test]
fn salts_are_known_named_and_safe_as_they_say() {
    for row in SALTS {
        let hydrate = strict(row.hydrate);
        let facts = salt_facts(&hydrate).unwrap_or_else(|| panic!("{row:?} is not known"));
        let waters = hydrate.waters().unwrap();
        assert!(known_hydrates(facts.salt()).contains(&waters), "{row:?}");
        assert_eq!(hydrate.name().unwrap().name(), row.name);
        let (named, _) = Formula::from_name(row.name).unwrap();
        let same = named.composition().unwrap() == hydrate.composition().unwrap();
        assert!(same && named.waters() == Some(waters), "{row:?}: {named}");
        let safety = HeatingSafety::of(&hydrate);
        let heated = is_allowed(safety.severity()) && safety.suitable() == Some(true);
        assert_eq!(row.heated, heated, "{row:?}: {:?}", safety.severity());
        assert!(!is_copper_sulfate(row.hydrate));
    }
    let heated = || SALTS.iter().filter(|row| row.heated).map(|row| row.hydrate);
    assert_eq!(distinct(SALTS.iter().map(|row| row.hydrate)), SALTS.len());
    assert!(SALTS.len() >= 180 && heated().count() >= 60);
    let salts: BTreeSet<String> = heated()
        .map(|hydrate| salt_facts(&strict(hydrate)).unwrap().salt().to_string())
        .collect();
    assert!(salts.len() >= 20, "{}", salts.len());
}

#[test]
fn heats_of_hydration_are_known_and_water_may_be_added() {
    for row in HEATS {
        let hydrate = strict(row.hydrate);
        let heat = HeatOfHydration::of(&hydrate, &AtomicWeights::default()).unwrap();
        // The dry salt is in the state that water makes warm.
        assert!(heat.enthalpy().unwrap().is_negative(), "{row:?}");
        assert_eq!(heat.salt().name().unwrap().name(), row.salt_name);
        let cautions = heat.cautions();
        assert!(
            cautions.iter().any(|note| note.code() == "water_back"),
            "{row:?}"
        );
        assert!(HeatingSafety::of(&hydrate).severity() < Severity::Forbidden);
        assert!(!is_copper_sulfate(row.hydrate));
    }
    assert_eq!(distinct(HEATS.iter().map(|row| row.hydrate)), HEATS.len());
    assert!(distinct(HEATS.iter().map(|row| row.salt_name)) >= 15);
    // All hydrates with an enthalpy are here, but for those that the head of the file names.
    let left_out = [
        "AlCl3·6H2O",
        "CaSO4·0.5H2O",
        "CdSO4·8/3H2O",
        "CdSO4·H2O",
        "CoCl2·2H2O",
        "CoCl2·6H2O",
        "CoSO4·6H2O",
        "CoSO4·7H2O",
        "CuSO4·5H2O",
        "NiCl2·2H2O",
        "NiCl2·6H2O",
        "NiSO4·6H2O",
        "NiSO4·7H2O",
    ];
    let mut all: Vec<String> = Vec::new();
    for facts in crate::gravimetry::known_salts() {
        for waters in facts.known_hydrates() {
            let hydrate = facts.salt().with_waters(waters).unwrap();
            let heat = HeatOfHydration::of(&hydrate, &AtomicWeights::default()).unwrap();
            all.extend(heat.enthalpy().map(|_| hydrate.to_string()));
        }
    }
    let mut here: Vec<String> = HEATS.iter().map(|row| row.hydrate.to_string()).collect();
    here.extend(left_out.map(String::from));
    here.sort();
    all.sort();
    assert_eq!(here, all);
}

#[test]
fn stages_follow_and_may_be_heated() {
    let weights = AtomicWeights::default();
    for row in STAGES {
        assert!(!is_copper_sulfate(row.start));

        let mut stages = Stages::of(strict(row.start), &weights).unwrap();
        for residue in row.residues {
            stages = stages.then(strict(residue)).unwrap();
        }
        assert!(
            is_allowed(stages.severity()),
            "{row:?}: {:?}",
            stages.severity()
        );
        assert!((2..=3).contains(&row.residues.len()), "{row:?}");
        for stage in stages.stages() {
            assert!(
                *stage.percent_lost() > Ratio::from(1),
                "{row:?}: {}",
                stage.residue()
            );
            assert!(stage.taken_up().is_none(), "{row:?}");
            let gases = stage.gases();
            assert!(
                gases
                    .iter()
                    .all(|(gas, _)| ["H2O", "CO2"].contains(&gas.as_str()))
            );
        }
    }
    assert!(STAGES.len() >= 20);
    assert!(distinct(STAGES.iter().map(|row| row.start)) >= 18);
}

#[test]
fn mixtures_are_solved_and_may_be_heated() {
    for row in MIXTURES {
        let [one, other] = [0, 1]
            .map(|i| Component::new(strict(row.formulas[i]), strict(row.residues[i])).unwrap());
        let left = |component: &Component| {
            let molar = |formula: &Formula| {
                formula
                    .molar_mass(&AtomicWeights::default())
                    .unwrap()
                    .exact()
            };
            let residue = molar(component.residue().unwrap());
            let residue = component.residues_per_formula() * &residue;
            residue.checked_div(&molar(component.formula())).unwrap()
        };
        // Half and half, weighed to 0.0001 g.
        let half = Ratio::new(1, 2).unwrap();
        let residue = (left(&one) + left(&other)) * half;
        let residue = residue.to_places(4, Default::default()).to_string();
        let weighings = Weighings::net(
            "1.0000".parse().unwrap(),
            residue.parse().unwrap(),
            Net::Tared,
        );
        let solved = Method::new().mixture([one, other], &weighings).unwrap();
        assert_eq!(format!("{:.0}", solved.fractions()[0]), "50", "{row:?}");
        assert!(solved.standard_uncertainty() < 0.1, "{row:?}");
        assert!(
            is_allowed(solved.severity()),
            "{row:?}: {:?}",
            solved.severity()
        );
        let [low, high] = row.percent;
        assert!(0 < low && low < high && high < 100, "{row:?}");
        assert!(!row.formulas.into_iter().any(is_copper_sulfate));
    }
    let pairs: BTreeSet<[&str; 2]> = MIXTURES.iter().map(|row| row.formulas).collect();
    assert!(pairs.len() == MIXTURES.len() && pairs.len() >= 20);
}

#[test]
fn factors_link_by_their_element() {
    let mut ambiguous = 0;
    let weights = AtomicWeights::default();
    for row in FACTORS {
        let (sought, weighed) = (strict(row.sought), strict(row.weighed));
        let element: Element = row.element.parse().unwrap();
        let by_all = GravimetricFactor::new(sought.clone(), weighed.clone(), &weights);
        let factor = GravimetricFactor::linked_by(element, sought, weighed, &weights).unwrap();
        match by_all {
            Ok(by_all) => assert_eq!(factor, by_all, "{row:?}"),
            Err(error) => {
                assert_eq!(error.code(), "ambiguous_factor", "{row:?}");
                ambiguous += 1;
            }
        }
        let [low, high] = row.percent;
        assert!(0 < low && low < high && high <= 95, "{row:?}");
        assert!(row.sample.starts_with("a ") || row.sample.starts_with("an "));
        // What is weighed of a gram of sample can be weighed.
        let most = Ratio::from(i64::from(high))
            .checked_div(factor.value())
            .unwrap();
        assert!(
            (4..600).contains(&(most.to_f64() as i64)),
            "{row:?}: {most}"
        );
    }
    let pairs: BTreeSet<[&str; 2]> = FACTORS
        .iter()
        .map(|row| [row.sought, row.weighed])
        .collect();
    assert!(pairs.len() == FACTORS.len() && pairs.len() >= 40);
    assert!(ambiguous >= 8, "{ambiguous}");
}

/// The formula that an analysis of a compound gives, from percentages with two decimal places.
fn found_from_percentages(row: &CompoundRow) -> Option<String> {
    let weights = AtomicWeights::default();
    let mass = |(part, count): &(&str, u8)| {
        let molar = part
            .parse::<Formula>()
            .unwrap()
            .molar_mass(&weights)
            .unwrap();
        &Ratio::from(i64::from(*count)) * &molar.exact()
    };
    let whole: Ratio = row.parts.iter().map(mass).sum();
    let mut analysis = Analysis::new();
    for part in row.parts {
        let percent = (100 * &mass(part)).checked_div(&whole).unwrap();
        let percent = percent.to_places(2, Default::default()).to_string();
        analysis = analysis.percent(part.0.parse().unwrap(), percent.parse().unwrap());
    }
    analysis
        .empirical()
        .unwrap()
        .formula()
        .map(ToString::to_string)
}

#[test]
fn compounds_are_found_again_from_percentages() {
    for row in COMPOUNDS {
        let expected: String = match row.parts {
            [(salt, 1), ("H2O", waters)] => format!("{salt}·{waters}H2O"),
            parts => {
                let parts = parts.iter().map(|(symbol, count)| match count {
                    1 => (*symbol).to_string(),
                    _ => format!("{symbol}{count}"),
                });
                parts.collect()
            }
        };
        let found = found_from_percentages(row);
        let found = found.unwrap_or_else(|| panic!("{row:?} is not found"));
        let atoms = |text: &str| strict(text).composition().unwrap();
        assert_eq!(atoms(&found), atoms(&expected), "{row:?}");
        assert_eq!(found.contains('·'), expected.contains('·'));
        let burns = row
            .parts
            .iter()
            .all(|(part, _)| ["C", "H", "O"].contains(part));
        assert_eq!(row.burns, burns, "{row:?}");
    }
    assert_eq!(
        distinct(COMPOUNDS.iter().map(|row| row.name)),
        COMPOUNDS.len()
    );
    let count =
        |wanted: fn(&CompoundRow) -> bool| COMPOUNDS.iter().filter(|row| wanted(row)).count();
    assert!(count(|row| row.burns) >= 25);
    assert!(count(|row| row.multiple > Some(1)) >= 18);
    assert!(count(|row| row.parts.iter().any(|(part, _)| *part == "H2O")) >= 7);
}

/// The equation of the pool, which conserves atoms and charge.
#[track_caller]
fn conserving(text: &str) -> Equation {
    let (equation, notes) = Equation::read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    // A count before a hydrate is its coefficient.
    let is_doubt = |note: &&Note| note.code() != "coefficient_of_all";
    assert_eq!(notes.iter().find(is_doubt), None, "{text}");
    assert_eq!(equation.to_string(), text);
    assert!(equation.check().unwrap().is_balanced(), "{text}");
    equation
}

/// The equation of the pool, balanced in the smallest whole coefficients, and in no other way.
#[track_caller]
fn balanced(text: &str) -> Equation {
    let equation = conserving(text);
    let found = equation
        .balance()
        .unwrap_or_else(|error| panic!("{text}: {error}"));
    let counts: Vec<Ratio> = equation
        .species()
        .iter()
        .map(crate::reaction::Species::count)
        .collect();
    assert_eq!(found.coefficients(), counts, "{text}");
    equation
}

/// Elements that a school does not handle in reactions.
const LEFT_OUT: [&str; 7] = ["Hg", "Pb", "Cd", "As", "Be", "Tl", "Cr"];

#[track_caller]
fn harmless(formula: &Formula) {
    let atoms = formula.composition().unwrap();
    for (atom, _) in &atoms {
        assert!(!LEFT_OUT.contains(&atom.element().symbol()), "{formula}");
    }
    let text = formula.to_string();
    assert!(
        !["Cl2", "CN", "HF", "H2S"].contains(&text.as_str()),
        "{formula}"
    );
    assert!(!is_copper_sulfate(&text));
}

#[test]
fn reactions_are_balanced_and_say_what_is_collected() {
    for row in REACTIONS {
        let equation = conserving(row.equation);
        let reactants = equation.reactants();
        assert_eq!(reactants.len(), row.reactants.len(), "{row:?}");
        assert!(
            equation.species().iter().all(|one| one.state().is_some()),
            "{row:?}"
        );
        equation
            .species()
            .iter()
            .for_each(|one| harmless(one.formula()));
        strict(row.product);
        let name = format!("{}(", row.product);
        let mut products = equation.products().iter();
        let product = products.find(|one| one.name().starts_with(&name));
        let product = product.unwrap_or_else(|| panic!("{row:?}"));
        let state = product.state().unwrap();
        let expected = match row.collected {
            Collected::Gas => [State::Gas; 2],
            Collected::Evaporated => [State::Aqueous; 2],
            _ => [State::Solid; 2],
        };
        assert!(expected.contains(&state), "{row:?}");
        if row.collected == Collected::Left {
            let start = reactants[0].formula();
            let safety = HeatingSafety::of(start).severity();
            assert!(is_allowed(safety), "{row:?}: {safety:?}");
        }
    }
    let count =
        |wanted: fn(&ReactionRow) -> bool| REACTIONS.iter().filter(|row| wanted(row)).count();
    assert!(count(|row| row.reactants.len() == 2) >= 40);
    assert!(count(ReactionRow::gives_a_yield) >= 30);
    assert_eq!(
        distinct(REACTIONS.iter().map(|row| row.equation)),
        REACTIONS.len()
    );
}

#[test]
fn equations_are_balanced_and_as_hard_as_they_say() {
    for row in EQUATIONS {
        let equation = balanced(row.equation);
        let species = equation.species();
        let largest = species
            .iter()
            .map(crate::reaction::Species::count)
            .max()
            .unwrap();
        let is_charged = species
            .iter()
            .any(|one| !one.formula().exact_charge().unwrap_or_default().is_zero());
        let points = [
            largest >= 4.into(),
            largest >= 7.into(),
            species.len() >= 5,
            is_charged,
        ];
        let points = points.iter().filter(|point| **point).count();
        assert_eq!(usize::from(row.level), 3.min(1 + points), "{row:?}");
        species.iter().for_each(|one| harmless(one.formula()));
    }
    for level in 1..=3 {
        let rows = EQUATIONS.iter().filter(|row| row.level == level);
        assert!(rows.count() >= 25, "{level}");
    }
    assert_eq!(
        distinct(EQUATIONS.iter().map(|row| row.equation)),
        EQUATIONS.len()
    );
    assert_eq!(
        distinct(EQUATIONS.iter().map(|row| row.event)),
        EQUATIONS.len()
    );
}

#[test]
fn solutes_are_written_once_and_without_waters() {
    let solutes = || SOLUTIONS.iter().flat_map(|row| row.solutes.iter().copied());
    for solute in solutes() {
        assert!(
            strict(solute)
                .waters()
                .is_none_or(|waters| waters.is_zero())
        );
    }
    assert_eq!(distinct(solutes()), solutes().count());
    for row in SOLUTIONS {
        let highest: Ratio = row.highest.parse().unwrap();
        assert!(highest.is_positive() && highest <= Ratio::from(2));
    }
}
