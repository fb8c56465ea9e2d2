//! The course's data booklet.

use effloresce::AtomicWeights;
use effloresce::element::{Edition, Values};
use effloresce::exercise::{Exercises, Kind, Solved};
use effloresce::number::TieRule;

fn booklet() -> AtomicWeights {
    let table = AtomicWeights::new(Edition::Iupac2021).decimals(1);
    table
        .with("Cl".parse().unwrap(), "35.5".parse().unwrap())
        .unwrap()
}

#[test]
fn every_request_carries_the_booklet_and_is_solved_with_it() {
    let plain = Exercises::new(4).kinds([Kind::PercentWater]);
    let exercises = plain.clone().weights(booklet());
    for place in 0..40 {
        let problem = exercises.problem(place).unwrap();
        assert_eq!(*problem.request().weights(), booklet());
        let Solved::Number(exact) = problem.request().answer("/percent_water").unwrap() else {
            panic!("not a number");
        };
        let figures = problem
            .answer()
            .chars()
            .filter(char::is_ascii_digit)
            .count();
        let rounded = exact.to_figures(u32::try_from(figures).unwrap(), TieRule::Even);
        assert_eq!(rounded.to_string(), problem.answer());
        let tolerance = problem.tolerance().unwrap();
        assert!(*tolerance.low() <= exact && exact <= *tolerance.high());
    }
}

/// Whoever uses a table of one decimal has that table or a finer one, not whole numbers.
#[test]
fn the_tolerance_takes_the_booklet_and_finer_tables() {
    let width = |weights: AtomicWeights| {
        let exercises = Exercises::new(4)
            .kinds([Kind::PercentWater])
            .weights(weights);
        let problem = exercises.problem(0).unwrap();
        let tolerance = problem.tolerance().unwrap().clone();
        (
            problem.prompt().to_string(),
            (tolerance.high() - tolerance.low()).to_f64(),
        )
    };
    let (prompt, wide) = width(AtomicWeights::default());
    let (same, narrow) = width(AtomicWeights::default().decimals(3));
    assert_eq!(prompt, same);
    assert!(narrow <= wide, "{narrow} {wide}");
}

#[test]
fn the_weights_used_are_those_of_the_requests_by_atomic_number() {
    let exercises = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .salts(["CoCl2".parse().unwrap()]);
    let printed = |weights| {
        let set = exercises.clone().weights(weights).set(2).unwrap();
        let used = set.weights_used();
        used.iter()
            .map(|(element, weight)| format!("{element} {weight}"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    assert_eq!(
        printed(AtomicWeights::default()),
        "H 1.0080, O 15.999, Cl 35.45, Co 58.933"
    );
    assert_eq!(printed(booklet()), "H 1.0, O 16.0, Cl 35.5, Co 58.9");
    assert_eq!(
        printed(AtomicWeights::default().values(Values::Full)),
        "H 1.0080, O 15.999, Cl 35.45, Co 58.933194"
    );
    assert_eq!(
        printed(AtomicWeights::default().figures(3)),
        "H 1.01, O 16.0, Cl 35.5, Co 58.9"
    );
    assert_eq!(
        printed(AtomicWeights::default().decimals(4)),
        "H 1.0080, O 15.999, Cl 35.45, Co 58.933"
    );
}

#[test]
fn a_table_that_no_request_can_state_is_refused() {
    let table = AtomicWeights::default().decimals(1).ties(TieRule::Even);
    let error = Exercises::new(1).weights(table).set(1).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the table of atomic weights rounds halves to even, and no request can state that"
    );
    assert!(error.help().is_some());
}
