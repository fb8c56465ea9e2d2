//! Versions of a set, and the sets of a roster.

use std::collections::BTreeSet;

use effloresce::exercise::{ErrorKind, Exercise, Exercises, Kind, Level};

/// How many problems each version of a kind has here.
const PLACES: usize = 3;

/// The significant figures of an answer that is a number.
fn figures(problem: &Exercise) -> Option<usize> {
    problem.tolerance()?;
    let digits = problem.answer().replace(['.', '-', '−'], "");
    Some(digits.trim_start_matches('0').len())
}

#[test]
fn versions_are_alike_place_by_place_and_share_no_answer() {
    for kind in Kind::ALL {
        let exercises = Exercises::new(11).kinds([kind]);
        let versions = exercises.versions(PLACES, 4).unwrap();
        assert_eq!(versions.len(), 4);
        let mut ids = BTreeSet::new();
        for place in 0..PLACES {
            let at = |version: usize| &versions[version].problems()[place];
            let shared = |problem: &Exercise| {
                (
                    problem.kind(),
                    problem.level(),
                    problem.form().to_owned(),
                    problem.working().steps().len(),
                    figures(problem),
                )
            };
            let answers: BTreeSet<String> = (0..4).map(|version| at(version).answer()).collect();
            assert_eq!(answers.len(), 4, "{kind}, place {place}: {answers:?}");
            for version in 0..4 {
                let problem = at(version);
                assert_eq!(shared(problem), shared(at(0)), "{}", problem.id());
                assert!(ids.insert(problem.id().to_owned()), "{}", problem.id());
            }
        }
    }
}

#[test]
fn a_problem_of_a_version_depends_on_nothing_but_its_place() {
    let exercises = Exercises::new(5).kinds([Kind::PercentWater, Kind::MolarMass]);
    let all = exercises.versions(6, 4).unwrap();
    let fewer = exercises.versions(3, 2).unwrap();
    for (fewer, all) in fewer.iter().zip(&all) {
        assert_eq!(*fewer.problems(), all.problems()[..3]);
    }
    assert_eq!(all[0].problems(), exercises.set(6).unwrap().problems());
    assert_eq!(all, exercises.versions(6, 4).unwrap());
}

#[test]
fn versions_that_cannot_differ_are_refused() {
    let one = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .salts(["BaCl2".parse().unwrap()]);
    let one = one.level(Level::OneStep);
    assert!(one.versions(1, 1).is_ok());
    let error = one.versions(1, 26).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NoProblem);
    assert!(error.to_string().contains("for version "), "{error}");
    for (count, versions) in [(0, 2), (3, 0), (3, 27), (10_001, 2)] {
        let error = one.versions(count, versions).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Count, "{error}");
    }
}

/// What the salts leave decides the level, if none is chosen.
#[test]
fn one_salt_is_enough_for_a_set() {
    for salt in ["CuSO4", "BaCl2"] {
        for kind in [
            Kind::PercentWater,
            Kind::MolarMass,
            Kind::FormulaFromPercent,
        ] {
            let exercises = Exercises::new(3)
                .kinds([kind])
                .salts([salt.parse().unwrap()]);
            assert!(exercises.set(12).is_ok(), "{kind}: {:?}", exercises.set(12));
        }
    }
}

#[test]
fn each_code_of_a_roster_has_its_own_seed() {
    let exercises = Exercises::new(7).kinds([Kind::PercentWater]);
    let mut seen = BTreeSet::new();
    for code in 0..200 {
        let own = exercises.for_code(&format!("K{code}"));
        assert!(seen.insert(own.problem(0).unwrap().id().to_owned()));
        assert_eq!(own, exercises.for_code(&format!("K{code}")));
    }
    assert_ne!(exercises.for_code("K1"), Exercises::new(8).for_code("K1"));
    // The first 64 bits of ChaCha20 with the key 7, `K1`, zeros, 255 and the stream 2, worked out apart from the crate.
    let id = exercises.for_code("K1").problem(0).unwrap().id().to_owned();
    assert_eq!(id, "percent_water-13245636023775918265-1");
}
