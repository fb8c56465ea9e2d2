//! One bench, from every side.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::*;
use crate::number::{MaximumUncertainty, TieRule};
use crate::{AtomicWeights, Formula, Ratio, Reading};

mod hour;

fn read(text: &str) -> Reading {
    text.parse().unwrap()
}

fn formula(text: &str) -> Formula {
    text.parse().unwrap()
}

fn bench(container: &str, with_hydrate: &str, heated: &[&str]) -> Weighings {
    Weighings::new(
        read(container),
        read(with_hydrate),
        heated.iter().map(|h| read(h)),
    )
}

fn finch() -> Weighings {
    bench("21.352", "24.018", &["22.701", "22.656", "22.655"])
}

fn run(salt: &str, weighings: &Weighings) -> Dehydration {
    Method::new()
        .dehydration(&formula(salt), weighings)
        .unwrap()
}

#[track_caller]
fn rounds_to(value: &Ratio, text: &str) {
    let written = read(text);
    assert_eq!(
        value
            .to_places(written.decimal_places(), TieRule::Even)
            .to_string(),
        text
    );
}

#[track_caller]
fn impossible(container: &str, with_hydrate: &str, heated: &[&str], message: &str) {
    let error = Method::new()
        .dehydration(&formula("MgSO4"), &bench(container, with_hydrate, heated))
        .unwrap_err();
    assert_eq!(error.code(), "impossible_masses");
    assert_eq!(error.to_string(), message);
    assert!(error.help().is_some());
}

fn codes(notes: &[crate::Note]) -> Vec<&'static str> {
    notes.iter().map(crate::Note::code).collect()
}

#[test]
fn worked_by_hand() {
    // 2.666 g of hydrate, 1.303 g of residue; 1.363/18.015 : 1.303/120.361.
    let run = run("MgSO4", &finch());
    assert_eq!(run.hydrate_mass().unwrap().to_string(), "2.666");
    assert_eq!(run.residue_mass().unwrap().to_string(), "1.303");
    assert_eq!(run.water_mass().unwrap().to_string(), "1.363");
    rounds_to(run.percent_water(), "51.125281");
    rounds_to(run.ratio(), "6.988806");
    assert_eq!(run.nearest().to_string(), "7");
    assert_eq!(run.outcome().code(), "resolved");
    assert_eq!(run.written(Quantity::Ratio).unwrap(), "6.989");
    assert_eq!(run.written(Quantity::MolSalt).unwrap(), "0.01083");
}

#[test]
fn the_last_weighing_counts_once() {
    // dx/da = -k (b-c)/(a-c)^2 with k = 120.361/18.015: 10.49 a gram, so 0.0105 for a milligram.
    let run = run("MgSO4", &finch());
    let sensitivity = run.sensitivity();
    rounds_to(sensitivity.heated().unwrap(), "-10.4911");
    rounds_to(sensitivity.with_hydrate().unwrap(), "5.1275");
    rounds_to(sensitivity.container().unwrap(), "5.3636");
    // Shifting all weighings alike changes nothing.
    let sum = &(sensitivity.heated().unwrap() + sensitivity.with_hydrate().unwrap())
        + sensitivity.container().unwrap();
    assert!(sum.is_zero());
}

#[test]
fn sensitivities_are_the_slopes() {
    let exact = run("CuSO4", &bench("20.0000", "25.0000", &["23.2000"]));
    let step = "0.0001";
    let moved = run("CuSO4", &bench("20.0000", "25.0000", &["23.2001"]));
    let slope = (moved.ratio() - exact.ratio())
        .checked_div(&read(step).value())
        .unwrap();
    let difference = (&slope - exact.sensitivity().heated().unwrap()).abs();
    assert!(difference < read("0.001").value(), "{difference}");
}

#[test]
fn the_budget_adds_up_and_names_every_input_once() {
    let run = run("MgSO4", &finch());
    let names: Vec<&str> = run
        .budget()
        .contributions()
        .iter()
        .map(crate::number::Contribution::input)
        .collect();
    assert_eq!(
        names,
        [
            "empty container",
            "container with hydrate",
            "the last weighing after heating",
            "constant-mass criterion",
            "atomic weight of Mg",
            "atomic weight of S",
            "atomic weight of O",
            "atomic weight of H",
        ]
    );
    // By hand: the readings give (5.3636² + 5.1275² + 10.4911²)(0.001/√12)² = 1.376e-5, the
    // criterion (10.4911 · 0.002/√3)² = 1.4675e-4, the weights 4.7e-7, nearly all of it sulfur's
    // (0.05807 · 0.02/√3)²; the root of the sum is 0.012688.
    assert!(
        (run.standard_uncertainty() - 0.012_688).abs() < 1e-6,
        "{}",
        run.standard_uncertainty()
    );
    let shares: f64 = run
        .budget()
        .contributions()
        .iter()
        .map(|c| run.budget().share(c))
        .sum();
    assert!((shares - 1.0).abs() < 1e-12);
}

#[test]
fn hydrogen_and_oxygen_are_shared_between_salt_and_water() {
    // NaHCO3-like case by hand: for water itself as the salt the weights cancel entirely.
    let weights = AtomicWeights::default();
    let run = run(
        "H2O2",
        &Weighings::net(read("3.4000"), read("1.7000"), Net::Tared),
    );
    let m = |text: &str| formula(text).molar_mass(&weights).unwrap().exact().to_f64();
    let (salt, water) = (m("H2O2"), m("H2O"));
    let by_oxygen = 2.0 / water - salt / (water * water);
    let oxygen = run
        .budget()
        .contributions()
        .iter()
        .find(|c| c.input() == "atomic weight of O")
        .unwrap();
    assert!((oxygen.sensitivity() - by_oxygen).abs() < 1e-12);
}

#[test]
fn net_masses_and_percent() {
    let tared = run(
        "CuSO4",
        &Weighings::net(read("5.00"), read("3.20"), Net::Tared),
    );
    assert_eq!(tared.water_mass().unwrap().to_string(), "1.80");
    rounds_to(tared.ratio(), "4.983410");
    assert_eq!(tared.outcome().code(), "resolved");
    let subtracted = run(
        "CuSO4",
        &Weighings::net(read("5.00"), read("3.20"), Net::Subtracted),
    );
    let series = run("CuSO4", &bench("20.00", "25.00", &["23.20"]));
    assert!((subtracted.standard_uncertainty() - series.standard_uncertainty()).abs() < 1e-12);
    assert!(tared.standard_uncertainty() < subtracted.standard_uncertainty());
    let percent = run("CuSO4", &Weighings::percent_water(read("36.0")));
    assert_eq!(percent.nearest().to_string(), "5");
    assert!(percent.hydrate_mass().is_none());
    assert_eq!(percent.ratio(), tared.ratio());
}

#[test]
fn impossible_masses_name_the_two_that_disagree() {
    impossible(
        "24.018",
        "21.352",
        &["22.656"],
        "the container with the hydrate (21.352 g) is not heavier than the empty container (24.018 g)",
    );
    impossible(
        "21.352",
        "24.018",
        &["24.500"],
        "the last weighing after heating (24.500 g) is heavier than the container with the hydrate (24.018 g)",
    );
    impossible(
        "21.352",
        "24.018",
        &["21.352"],
        "the last weighing after heating (21.352 g) leaves nothing above the empty container (21.352 g)",
    );
    impossible(
        "-1.0",
        "24.0",
        &["22.0"],
        "the empty container weighs -1.0 g, but a mass cannot be negative",
    );
    impossible(
        "21.352",
        "24.018",
        &["-1", "22.655"],
        "the weighing after heating 1 is -1 g, but a mass cannot be negative",
    );
    let swapped = Weighings::net(read("3.2"), read("5.0"), Net::Tared);
    let error = Method::new()
        .dehydration(&formula("CuSO4"), &swapped)
        .unwrap_err();
    assert_eq!(
        error.to_string(),
        "the residue (5.0 g) is heavier than the hydrate (3.2 g)"
    );
    let full = Weighings::percent_water(read("100"));
    assert_eq!(
        Method::new()
            .dehydration(&formula("CuSO4"), &full)
            .unwrap_err()
            .code(),
        "impossible_masses"
    );
    let none = bench("21.352", "24.018", &[]);
    assert_eq!(
        Method::new()
            .dehydration(&formula("MgSO4"), &none)
            .unwrap_err()
            .code(),
        "missing_field"
    );
}

#[test]
fn the_salt_is_anhydrous_or_open() {
    assert_eq!(run("MgSO4·xH2O", &finch()).salt().to_string(), "MgSO4");
    let error = Method::new()
        .dehydration(&formula("MgSO4·7H2O"), &finch())
        .unwrap_err();
    assert_eq!(
        error.to_string(),
        "MgSO4·7H2O is already a hydrate with a known number of waters"
    );
    assert_eq!(error.help(), Some("give the anhydrous salt, MgSO4"));
    let error = Method::new()
        .dehydration(&formula("e^-"), &finch())
        .unwrap_err();
    assert_eq!(error.to_string(), "e^- is not a salt");
    let error = Method::new()
        .dehydration(&formula("TcO2"), &finch())
        .unwrap_err();
    assert_eq!(error.code(), "no_standard_weight");
}

#[test]
fn ions_and_solutions_are_not_heated() {
    for (salt, hydrate, said) in [
        ("Mg^2+", "Mg^2+·7H2O", "an ion, not a salt"),
        ("MgSO4(aq)", "MgSO4·7H2O(aq)", "not a solid"),
        ("MgSO4(l)", "MgSO4·7H2O(l)", "not a solid"),
    ] {
        let method = Method::new();
        let errors = [
            (salt, method.dehydration(&formula(salt), &finch()).err()),
            (hydrate, method.check(&formula(hydrate), &finch()).err()),
            (hydrate, method.plan(&formula(hydrate), read("0.01")).err()),
        ];
        for (what, error) in errors {
            let error = error.unwrap();
            assert_eq!(error.to_string(), format!("{what} is {said}"));
            assert_eq!(error.code(), "bad_request");
            assert!(error.help().is_some());
        }
    }
    let solid = Method::new().plan(&formula("MgSO4·7H2O(s)"), read("0.01"));
    assert!(solid.is_ok());
}

#[test]
fn constant_mass_by_each_criterion() {
    let reached = |criterion: ConstantMass, heated: &[&str]| {
        Method::new()
            .constant_mass(criterion)
            .dehydration(&formula("MgSO4"), &bench("21.352", "24.018", heated))
            .unwrap()
            .constant_mass()
            .unwrap()
            .reached()
    };
    let two = ["22.658", "22.655"];
    assert_eq!(reached(ConstantMass::Divisions(2), &two), Some(false));
    assert_eq!(reached(ConstantMass::Divisions(3), &two), Some(true));
    assert_eq!(
        reached(ConstantMass::Absolute(read("0.002")), &two),
        Some(false)
    );
    assert_eq!(
        reached(ConstantMass::Absolute(read("0.003")), &two),
        Some(true)
    );
    // 2.666 g taken, 1.303 g left: 0.003 g is 0.00113 of one and 0.0023 of the other.
    assert_eq!(
        reached(ConstantMass::PerGram(read("0.0011")), &two),
        Some(false)
    );
    assert_eq!(
        reached(ConstantMass::PerGram(read("0.0012")), &two),
        Some(true)
    );
    assert_eq!(
        reached(ConstantMass::Relative(read("0.0022")), &two),
        Some(false)
    );
    assert_eq!(
        reached(ConstantMass::Relative(read("0.0024")), &two),
        Some(true)
    );
    assert_eq!(reached(ConstantMass::Divisions(2), &["22.655"]), None);
}

#[test]
fn the_house_rule_of_which_weighing_counts() {
    let residue = |rule: WeighingUsed, heated: &[&str]| {
        Method::new()
            .weighing_used(rule)
            .dehydration(&formula("MgSO4"), &bench("21.352", "24.018", heated))
            .unwrap()
            .residue_mass()
            .unwrap()
            .to_string()
    };
    let heated = ["22.701", "22.654", "22.655"];
    assert_eq!(residue(WeighingUsed::Last, &heated), "1.303");
    assert_eq!(residue(WeighingUsed::Lowest, &heated), "1.302");
    assert_eq!(residue(WeighingUsed::MeanOfLastTwo, &heated), "1.3025");
    assert_eq!(residue(WeighingUsed::MeanOfLastTwo, &["22.655"]), "1.303");
}

#[test]
fn warnings_say_what_is_doubtful() {
    let warned =
        |heated: &[&str]| codes(&run("MgSO4", &bench("21.352", "24.018", heated)).warnings());
    assert_eq!(warned(&["22.701", "22.656", "22.655"]), [""; 0]);
    assert_eq!(warned(&["22.655"]), ["one_heating"]);
    assert_eq!(warned(&["22.701", "22.656"]), ["not_constant"]);
    assert_eq!(warned(&["22.656", "22.701"]), ["gain"]);
    let falling = ["23.300", "23.200", "23.100"];
    assert_eq!(warned(&falling), ["not_constant", "does_not_settle"]);
    assert_eq!(warned(&["23.300", "23.200", "23.101"]), ["not_constant"]);
    assert_eq!(warned(&["22.7", "22.656", "22.656"]), ["coarser_reading"]);
    let fine = Method::new().constant_mass(ConstantMass::Absolute(read("0.0005")));
    let run = fine.dehydration(&formula("MgSO4"), &finch()).unwrap();
    assert_eq!(
        codes(&run.warnings()),
        ["not_constant", "criterion_below_division"]
    );
    // 2.4647 g of the heptahydrate that stops at the monohydrate leaves 1.3838 g.
    let stopped = super::tests::run(
        "MgSO4",
        &bench("20.0000", "22.4647", &["21.3838", "21.3838"]),
    );
    assert_eq!(
        codes(&stopped.warnings()),
        ["lower_hydrate", "unknown_hydrate"]
    );
    assert_eq!(
        stopped.warnings()[0].values().last(),
        Some(("residue", "MgSO4·H2O"))
    );
}

#[test]
fn the_four_outcomes() {
    let outcome = |weighings: &Weighings| run("MgSO4", weighings).outcome().code();
    assert_eq!(outcome(&finch()), "resolved");
    // A balance that shows 0.1 g cannot tell six from eight.
    assert_eq!(outcome(&bench("21.4", "22.4", &["21.9"])), "ambiguous");
    // Still falling, yet nearer to seven than to any other.
    assert_eq!(
        outcome(&bench("21.352", "24.018", &["22.701", "22.656"])),
        "approximate"
    );
    // Half-way between two.
    assert_eq!(
        outcome(&bench("20.0000", "22.0000", &["21.0138", "21.0138"])),
        "inconsistent"
    );
    let only = Method::new()
        .candidates([Ratio::from(6), Ratio::from(7)])
        .unwrap();
    let run = only.dehydration(&formula("MgSO4"), &finch()).unwrap();
    let degrees: Vec<String> = run
        .candidates()
        .iter()
        .map(|c| c.waters().to_string())
        .collect();
    assert_eq!(degrees, ["6", "7"]);
}

#[test]
fn fractional_hydrates_are_candidates() {
    // Plaster: 0.5 H2O is 6.206 % of 145.1415 g.
    let plaster = run(
        "CaSO4",
        &Weighings::net(read("10.000"), read("9.379"), Net::Tared),
    );
    assert_eq!(plaster.nearest().to_string(), "0.5");
    assert_eq!(plaster.nearest_formula().to_string(), "CaSO4·0.5H2O");
    assert_eq!(plaster.outcome().code(), "resolved");
}

/// The outcome, the nearest formula, the codes of the warnings, and which candidates are known.
fn judged(run: &Dehydration) -> (&'static str, String, Vec<&'static str>, Vec<bool>) {
    let known = run.candidates().iter().map(Candidate::known);
    (
        run.outcome().code(),
        run.nearest_formula().to_string(),
        codes(&run.warnings()),
        known.collect(),
    )
}

#[test]
fn only_a_known_hydrate_is_resolved() {
    // 2.46 g of the heptahydrate that stopped at the monohydrate: x = 5.14, and u(x) is 0.1.
    let stopped = bench("20.00", "22.46", &["21.39", "21.39"]);
    let (outcome, nearest, warnings, known) = judged(&run("MgSO4", &stopped));
    assert_eq!((outcome, &*nearest), ("approximate", "MgSO4·5H2O"));
    assert_eq!(warnings, ["lower_hydrate", "unknown_hydrate"]);
    assert_eq!(known, [true, true, true, true, false, true, true]);
    // The catalogue has only the trihydrate and the hexahydrate; 8.0 is above both.
    let net = |hydrate, residue| Weighings::net(read(hydrate), read(residue), Net::Tared);
    let above = run("Cu(NO3)2", &net("3.3168", "1.8756"));
    assert_eq!(judged(&above).0, "inconsistent");
    // No hydrate of this salt is known. 0.1802 g of water is 0.01000 mol, and 3.6188 g/361.866 g of salt, too.
    let unknown = run("Cs2SO4", &net("3.7990", "3.6188"));
    let (outcome, nearest, warnings, known) = judged(&unknown);
    assert_eq!((outcome, &*nearest), ("approximate", "Cs2SO4·H2O"));
    assert_eq!(
        (&*warnings, known),
        (&["unknown_hydrate"][..], alloc::vec![false, false])
    );
    // 0.01 mol of (NH4)2Fe(SO4)2 is 2.8404 g; 62 and 66 waters are 11.1693 g and 11.8899 g.
    for (hydrate, nearest) in [("14.0098", "62"), ("14.7304", "66")] {
        let absurd = run("(NH4)2Fe(SO4)2", &net(hydrate, "2.8405"));
        assert_ne!(absurd.outcome().code(), "resolved", "{nearest}");
        assert_eq!(absurd.nearest().to_string(), nearest);
    }
    // The catalogue has K2SO4 as a salt without a hydrate. 0.3603 g of water is 0.02000 mol, and 1.7426 g/174.252 g of
    // salt half as much.
    let none = run("K2SO4", &net("2.1029", "1.7426"));
    let (outcome, nearest, warnings, _) = judged(&none);
    assert_eq!((outcome, &*nearest), ("inconsistent", "K2SO4·2H2O"));
    assert_eq!(warnings, ["no_hydrate"]);
    let dry = run("K2SO4", &net("1.7428", "1.7426"));
    assert_eq!((judged(&dry).0, &*judged(&dry).2), ("approximate", &[][..]));
    // Who names the candidates knows them.
    let listed = Method::new().candidates([Ratio::ONE, Ratio::from(2)]);
    let listed = listed
        .unwrap()
        .dehydration(&formula("Cs2SO4"), &net("3.7990", "3.6188"));
    assert_eq!(listed.unwrap().outcome().code(), "resolved");
}

#[test]
fn a_known_hydrate_within_the_uncertainty_is_never_inconsistent() {
    // x = (1.4/1.2) · 120.361/18.015 is nearest to 8, but u(x) is large.
    let coarse = run("MgSO4", &bench("21.4", "24.0", &["22.6", "22.6"]));
    rounds_to(coarse.ratio(), "7.795");
    assert_eq!(coarse.nearest(), &Ratio::from(8));
    let mut candidates = coarse.candidates().iter();
    let seven = candidates.find(|c| c.waters() == &Ratio::from(7)).unwrap();
    assert!(seven.known() && seven.z().unwrap() < 1.0);
    assert_eq!(coarse.outcome().code(), "ambiguous");
    // On a fine balance the same ratio is that of no hydrate.
    let fine = run("MgSO4", &bench("21.400", "24.000", &["22.600", "22.600"]));
    assert_eq!(fine.outcome(), &Outcome::Inconsistent);
}

#[test]
fn the_plateau_is_named_whatever_the_outcome() {
    // 2.46 g of the heptahydrate that stopped at the dihydrate: x = 3.92 fits the tetrahydrate, too.
    let stopped = run("MgSO4", &bench("20.00", "22.46", &["21.55", "21.55"]));
    let (outcome, nearest, warnings, _) = judged(&stopped);
    assert_eq!((outcome, &*nearest), ("resolved", "MgSO4·4H2O"));
    assert_eq!(warnings, ["lower_hydrate"]);
}

#[test]
fn what_was_issued_is_a_candidate() {
    let of = |issued: &str, hydrate: &str, residue: &str| {
        let weighings = Weighings::net(read(hydrate), read(residue), Net::Tared);
        Method::new().dehydration_of(&formula(issued), &weighings)
    };
    // 0.01 mol is 2.3259 g and leaves 1.8756 g.
    let (outcome, nearest, warnings, known) =
        judged(&of("Cu(NO3)2·2.5H2O", "2.3259", "1.8756").unwrap());
    assert_eq!((outcome, &*nearest), ("resolved", "Cu(NO3)2·2.5H2O"));
    assert_eq!(
        (warnings.len(), known),
        (0, alloc::vec![false, true, true, true])
    );
    // Nothing but the issued hydrate is known of this salt.
    let absurd = of("(NH4)2Fe(SO4)2·6H2O", "2.0000", "0.4056").unwrap();
    let (outcome, _, warnings, _) = judged(&absurd);
    assert_eq!(
        (outcome, &*warnings),
        ("inconsistent", &["above_known"][..])
    );
    let none = of("MgSO4", "2.666", "1.303").unwrap_err();
    assert_eq!(none.kind(), ErrorKind::NotASalt);
}

#[test]
fn the_target_may_be_a_lower_hydrate() {
    let method = Method::new().residue(&formula("CuSO4·H2O")).unwrap();
    // 0.01 mol is 2.4968 g, and leaves 1.7762 g of the monohydrate (177.617 g/mol).
    let stopped = bench("20.000", "22.497", &["21.777", "21.776"]);
    let run = method
        .dehydration_of(&formula("CuSO4·5H2O"), &stopped)
        .unwrap();
    // By hand: 1 + (0.721/18.015)/(1.776/177.617), and 100 · 0.721/2.497.
    rounds_to(run.ratio(), "5.002603");
    let bare = MoleRatio::with_residue(&formula("CuSO4·H2O"), &AtomicWeights::default()).unwrap();
    let weighings = [read("20.000"), read("22.497"), read("21.776")];
    let [container, with_hydrate, heated] = &weighings;
    let bare = bare.of_weighings(container, with_hydrate, heated);
    assert_eq!(&bare.unwrap(), run.ratio());
    rounds_to(run.percent_water(), "28.87465");
    rounds_to(&run.mol_salt().unwrap(), "0.0099990");
    rounds_to(&run.mol_water().unwrap(), "0.0400222");
    assert_eq!(judged(&run).0, "resolved");
    assert_eq!(judged(&run).2, [""; 0]);
    let five = &run.candidates()[1];
    // 100 · 4 · 18.015/249.677
    rounds_to(five.expected_percent_water(), "28.8613");
    rounds_to(five.expected_residue_mass().unwrap(), "1.776334");
    let all: Vec<String> = run
        .candidates()
        .iter()
        .map(|c| c.waters().to_string())
        .collect();
    assert_eq!(all, ["3", "5", "6"], "the monohydrate is no candidate");
    let ratio = run.defensible();
    let ratio = ratio.interval(Quantity::Ratio).unwrap();
    assert!(ratio.admits(&read("5.003")) && !ratio.admits(&read("4.003")));
    let text = format!("{:?}", run.working());
    assert!(text.contains("x = 1 + n(H2O) / n(CuSO4·H2O)"), "{text}");
    assert_eq!(run.written(Quantity::Ratio).unwrap(), "5.00");

    let check = |heated: &[&str]| {
        let weighings = bench("20.000", "22.497", heated);
        method.check(&formula("CuSO4·5H2O"), &weighings).unwrap()
    };
    assert_eq!(check(&["21.777", "21.776"]).advice(), Advice::Stop);
    rounds_to(check(&[]).expected_last().unwrap(), "21.7763");
    let plateaus = check(&[]);
    let plateaus = plateaus.plateaus().iter().map(|p| p.waters().to_string());
    assert_eq!(plateaus.collect::<Vec<_>>(), ["3"]);
}

#[test]
fn a_residue_is_a_lower_hydrate_of_what_was_issued() {
    let error = |residue: &str, issued: &str| {
        let method = Method::new().residue(&formula(residue))?;
        method.waters_left(&formula(issued)).map(|_| ())
    };
    assert_eq!(error("CuSO4·H2O", "CuSO4·5H2O"), Ok(()));
    assert_eq!(
        error("CuSO4", "CuSO4·5H2O"),
        Ok(()),
        "the default, written out"
    );
    for (residue, issued) in [
        ("CuSO4·5H2O", "CuSO4·5H2O"),
        ("CuSO4·7H2O", "CuSO4·5H2O"),
        ("MgSO4·H2O", "CuSO4·5H2O"),
        ("CuSO4·xH2O", "CuSO4·5H2O"),
        ("e-", "CuSO4·5H2O"),
    ] {
        let error = error(residue, issued).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::NotAResidue, "{residue}");
        assert!(error.help().is_some());
    }
}

#[test]
fn an_uncertainty_that_knows_only_the_balance_is_a_lower_bound() {
    use UncertaintyPart::{Balance, ConstantMass, SlowLoss};
    let covers = |heated: &[&str]| {
        let run = run("MgSO4", &bench("21.352", "24.018", heated));
        let covers = run.uncertainty_covers();
        assert_eq!(run.uncertainty_is_lower_bound(), covers == [Balance]);
        covers
    };
    assert_eq!(covers(&["22.655"]), [Balance]);
    assert_eq!(covers(&["22.701", "22.656"]), [Balance]);
    assert_eq!(covers(&["22.656", "22.701"]), [Balance]);
    assert_eq!(covers(&["22.656", "22.655"]), [Balance, ConstantMass]);
    let finch = ["22.701", "22.656", "22.655"];
    assert_eq!(covers(&finch), [Balance, ConstantMass, SlowLoss]);
    let run = |heated: &[&str]| run("MgSO4", &bench("21.352", "24.018", heated));
    // The falls of 0.08 g and 0.04 g halve, so 0.04 g is to come. Twice the uncertainty reaches as far.
    let falling = ["22.820", "22.740", "22.700"];
    assert_eq!(covers(&falling), [Balance, SlowLoss]);
    let slow = run(&falling);
    let change = (run(&["22.660"]).ratio() - slow.ratio()).to_f64();
    let reaches = slow.budget().expanded(2.0) / change;
    assert!((1.0..1.15).contains(&reaches), "{reaches}");
    // Falls that shrink little leave much.
    assert_eq!(covers(&["22.820", "22.740", "22.670"]), [Balance, SlowLoss]);
    // Falls that are equal, grow or do not exist show nothing.
    assert_eq!(covers(&["22.820", "22.740", "22.660"]), [Balance]);
    assert_eq!(covers(&["22.820", "22.820", "22.740"]), [Balance]);
    // More would be left than the whole residue.
    assert_eq!(covers(&["23.900", "23.500", "23.150"]), [Balance]);
    // Within the criterion of 0.002 g, but the falls of 3 mg and 2 mg leave 4 mg to come.
    let slowly = run(&["22.660", "22.657", "22.655"]);
    let twice = run(&["22.657", "22.655"]).standard_uncertainty();
    assert!(slowly.standard_uncertainty() > 1.5 * twice);
    // Earlier weighings show that the loss is a fast one.
    let fast = run(&["22.700", "22.670", "22.660", "22.657", "22.656"]);
    let last_three = run(&["22.660", "22.657", "22.656"]);
    assert!(fast.standard_uncertainty() < last_three.standard_uncertainty());
    let net = Weighings::net(read("2.666"), read("1.303"), Net::Tared);
    let net = Method::new().dehydration(&formula("MgSO4"), &net).unwrap();
    assert!(net.uncertainty_is_lower_bound());
}

#[test]
fn the_defensible_range_holds_careful_answers_and_no_others() {
    let defensible = run("MgSO4", &finch()).defensible();
    let admits =
        |quantity: Quantity, text: &str| defensible.interval(quantity).unwrap().admits(&read(text));
    for right in ["6.99", "6.989", "7.0", "7", "7.01", "6.988806"] {
        assert!(admits(Quantity::Ratio, right), "{right}");
    }
    for wrong in ["0.1431", "6.39", "6.52", "5.83", "7.2", "1.05"] {
        assert!(!admits(Quantity::Ratio, wrong), "{wrong}");
    }
    assert!(admits(Quantity::PercentWater, "51.13"));
    assert!(!admits(Quantity::PercentWater, "51.17"));
    assert!(admits(Quantity::MolSalt, "0.0108"));
    assert!(admits(Quantity::MolSalt, "0.01086")); // Mg 24, S 32, O 16: 120
    assert!(!admits(Quantity::MolSalt, "0.0529"));
    // The weighing before the last agrees within the criterion, so its masses are right, too.
    assert!(admits(Quantity::ResidueMass, "1.304"));
    assert!(!admits(Quantity::ResidueMass, "1.349"));
    assert!(defensible.interval(Quantity::Formula).is_none());
}

#[test]
fn a_class_table_leaves_coarser_ones_out() {
    // Whole numbers make 159.5 g/mol of copper sulfate; a table of two decimals does not go there.
    let weighings = bench("20.0000", "25.0000", &["23.2000"]);
    let wide = run("CuSO4", &weighings).defensible();
    let table = AtomicWeights::default().decimals(2);
    let own = Method::new()
        .weights(table)
        .dehydration(&formula("CuSO4"), &weighings)
        .unwrap();
    let narrow = own.defensible();
    let high = |d: &Defensible| d.interval(Quantity::MolSalt).unwrap().high().clone();
    assert_eq!(high(&wide), "3.2/159.5".parse().unwrap());
    assert_eq!(high(&narrow), "3.2/159.6".parse().unwrap());
}

#[track_caller]
fn advised(heated: &[&str], advice: Advice, reasons: &[&str]) {
    let check = Method::new()
        .check(&formula("MgSO4·7H2O"), &bench("21.352", "24.018", heated))
        .unwrap();
    assert_eq!(
        (check.advice(), codes(&check.reasons())),
        (advice, reasons.to_vec())
    );
}

#[test]
fn advice_for_the_hour() {
    advised(&[], Advice::Heat, &["nothing_heated"]);
    advised(
        &["22.701"],
        Advice::HeatAgain,
        &["one_heating", "still_to_lose"],
    );
    advised(&["22.655"], Advice::HeatAgain, &["one_heating"]);
    advised(
        &["22.701", "22.690"],
        Advice::HeatAgain,
        &["not_constant", "still_to_lose"],
    );
    advised(
        &["22.701", "22.656", "22.655"],
        Advice::Stop,
        &["constant_and_expected"],
    );
    advised(&["22.701", "22.790"], Advice::Ask, &["gain", "question"]);
    advised(
        &["22.600", "22.600"],
        Advice::Ask,
        &["too_light", "question"],
    );
    advised(
        &["22.400", "22.400"],
        Advice::StartAgain,
        &["far_too_light"],
    );
    advised(
        &["24.500"],
        Advice::CheckReadings,
        &["impossible_masses", "swapped"],
    );
    // Constant at the monohydrate: 2.666 g leaves 1.4968 g there, 0.195 g above the end.
    advised(
        &["22.850", "22.849"],
        Advice::HeatAgain,
        &["still_to_lose", "lower_hydrate"],
    );
}

#[test]
fn a_typing_error_costs_no_sample() {
    let checked = |weighings: &Weighings| {
        let check = Method::new()
            .check(&formula("MgSO4·7H2O"), weighings)
            .unwrap();
        let swap = check.swap().map(|swap| swap.map(String::from));
        (check.advice(), codes(&check.reasons()), swap)
    };
    let swapped = |codes: &[&'static str], one: &str, other: &str| {
        let swap = Some([one.into(), other.into()]);
        (Advice::CheckReadings, codes.to_vec(), swap)
    };
    // Two columns exchanged.
    assert_eq!(
        checked(&bench("24.018", "21.352", &["22.655"])),
        swapped(
            &["impossible_masses", "swapped"],
            "crucible",
            "crucible_hydrate"
        )
    );
    assert_eq!(
        checked(&bench("21.352", "22.655", &["24.018"])),
        swapped(
            &["impossible_masses", "swapped"],
            "crucible_hydrate",
            "heated[0]"
        )
    );
    assert_eq!(
        checked(&bench("24.018", "21.352", &[])),
        swapped(
            &["impossible_masses", "swapped"],
            "crucible",
            "crucible_hydrate"
        )
    );
    let check = |codes: &[&'static str]| (Advice::CheckReadings, codes.to_vec(), None);
    // Outside the container, at the end and before it.
    let last = bench("21.352", "24.018", &["22.701", "12.655"]);
    assert_eq!(checked(&last), check(&["impossible_masses"]));
    let earlier = bench("21.352", "24.018", &["12.701", "22.656", "22.655"]);
    assert_eq!(checked(&earlier), check(&["outside"]));
    // Two digits exchanged, and one wrong digit, in any of the readings.
    for (container, with_hydrate, heated) in [
        ("21.352", "24.018", "22.265"),
        ("21.352", "24.018", "22.155"),
        ("21.352", "24.918", "22.655"),
        ("21.852", "24.018", "22.655"),
    ] {
        let wrong = bench(container, with_hydrate, &[heated]);
        assert_eq!(checked(&wrong), check(&["wrong_digit"]), "{heated}");
    }
    // No exchange explains this loss.
    let spilt = bench("21.352", "24.018", &["22.400"]);
    assert_eq!(checked(&spilt).0, Advice::StartAgain);
    // One wrong digit in a container would explain it, but three weighings that agree are right.
    let agreeing = bench("21.352", "24.018", &["22.456", "22.455", "22.454"]);
    assert_eq!(checked(&agreeing).0, Advice::StartAgain);
    // Exchanged, the second weighing would have gained.
    let digits = bench("21.352", "24.018", &["22.656", "22.265"]);
    assert_eq!(checked(&digits), check(&["wrong_digit"]));
    let gained = bench("21.352", "24.018", &["26.656", "22.655", "22.655"]);
    assert_eq!(checked(&gained), check(&["outside"]));
}

#[test]
fn a_gain_counts_if_it_lasts() {
    advised(
        &["22.655", "22.654", "22.690"],
        Advice::Ask,
        &["gain", "was_constant", "question"],
    );
    // It has come back, and the mass is constant.
    advised(
        &["22.655", "22.690", "22.656", "22.655"],
        Advice::Stop,
        &["constant_and_expected"],
    );
    // It had been constant, but at the monohydrate.
    advised(
        &["22.850", "22.849", "22.870"],
        Advice::Ask,
        &["gain", "question"],
    );
}

#[test]
fn a_balance_that_cannot_tell_says_so() {
    // 0.5 g of the dihydrate holds 0.07 g of water; two divisions of this balance are 0.2 g.
    let check = Method::new()
        .check(
            &formula("BaCl2·2H2O"),
            &bench("20.0", "20.5", &["20.5", "20.5"]),
        )
        .unwrap();
    assert_eq!(
        (check.advice(), codes(&check.reasons())),
        (Advice::Ask, alloc::vec!["cannot_tell", "question"])
    );
    // No lower hydrate of sodium sulfate is known at which heating stops.
    let check = Method::new()
        .check(
            &formula("Na2SO4·10H2O"),
            &bench("20.0", "20.5", &["20.2", "20.2"]),
        )
        .unwrap();
    assert_eq!(
        (check.advice(), codes(&check.reasons())),
        (Advice::Stop, alloc::vec!["cannot_tell"])
    );
}

#[test]
fn contradictions_carry_their_readings() {
    let check = Method::new()
        .check(
            &formula("MgSO4·7H2O"),
            &bench("21.352", "24.018", &["24.352"]),
        )
        .unwrap();
    let reasons = check.reasons();
    let values: Vec<_> = reasons[0].values().collect();
    assert_eq!(values, [("reading", "24.018"), ("other", "24.352")]);
}

#[test]
fn more_water_than_any_known_hydrate_is_noted() {
    let spilt = bench("21.352", "24.018", &["21.784", "21.785"]);
    assert!(codes(&run("MgSO4", &spilt).warnings()).contains(&"above_known"));
    assert!(!codes(&run("MgSO4", &finch()).warnings()).contains(&"above_known"));
}

#[test]
fn a_candidate_that_no_formula_can_show_is_named() {
    let long: Ratio = "123456789012345678901234567890".parse().unwrap();
    let method = Method::new().candidates([Ratio::from(7), long, Ratio::new(1, 3).unwrap()]);
    let run = method
        .unwrap()
        .dehydration(&formula("MgSO4"), &finch())
        .unwrap();
    assert_eq!(run.candidates().len(), 2);
    let warnings = run.warnings();
    let note = warnings
        .iter()
        .find(|note| note.code() == "candidates_left_out");
    assert_eq!(
        note.unwrap().text(),
        "A formula cannot have 123456789012345678901234567890 waters, because that has too many digits. \
         This candidate is left out."
    );
    assert!(!codes(&self::run("MgSO4", &finch()).warnings()).contains(&"candidates_left_out"));
}

#[test]
fn a_plateau_is_seen_alike_in_the_hour_and_after_it() {
    // 2.497 g of the pentahydrate leaves 2.1367 g of the trihydrate; the bench has 2.133 g.
    let near = bench("20.000", "22.497", &["22.134", "22.133"]);
    let check = Method::new().check(&formula("CuSO4·5H2O"), &near).unwrap();
    assert!(codes(&check.reasons()).contains(&"lower_hydrate"));
    assert!(codes(&run("CuSO4", &near).warnings()).contains(&"lower_hydrate"));
}

#[test]
fn only_weighings_that_agree_widen_the_range() {
    let residues = |rule: WeighingUsed, heated: &[&str]| {
        let method = Method::new().weighing_used(rule);
        let run = method
            .dehydration(&formula("MgSO4"), &bench("21.352", "24.018", heated))
            .unwrap();
        let defensible = run.defensible();
        let interval = defensible.interval(Quantity::ResidueMass).unwrap().clone();
        (interval.low().to_string(), interval.high().to_string())
    };
    let pair = |low: &str, high: &str| (String::from(low), String::from(high));
    let apart = ["22.650", "22.656"];
    assert_eq!(
        residues(WeighingUsed::Lowest, &apart),
        pair("1.298", "1.298")
    );
    assert_eq!(
        residues(WeighingUsed::MeanOfLastTwo, &apart),
        pair("1.301", "1.301")
    );
    let agreeing = ["22.654", "22.656"];
    assert_eq!(
        residues(WeighingUsed::MeanOfLastTwo, &agreeing),
        pair("1.302", "1.304")
    );
}

#[test]
fn figures_of_a_check() {
    let check = Method::new()
        .check(
            &formula("MgSO4·7H2O"),
            &bench("21.352", "24.018", &["22.701"]),
        )
        .unwrap();
    rounds_to(check.expected_last().unwrap(), "22.6539");
    rounds_to(check.still_to_lose().unwrap(), "0.0471");
    let degrees: Vec<String> = check
        .plateaus()
        .iter()
        .map(|p| p.waters().to_string())
        .collect();
    assert_eq!(degrees, ["6", "3", "2", "1"]);
    // Of 3CdSO4·8H2O, 2.5655 g holds 0.4804 g of water; the monohydrate is on the way.
    let cadmium = bench("20.0000", "22.5655", &[]);
    let check = Method::new()
        .check(&formula("3CdSO4·8H2O"), &cadmium)
        .unwrap();
    rounds_to(check.expected_last().unwrap(), "22.0850");
    let net = Weighings::net(read("2.6"), read("1.3"), Net::Tared);
    assert!(Method::new().check(&formula("MgSO4·7H2O"), &net).is_err());
    assert!(Method::new().check(&formula("MgSO4"), &finch()).is_err());
    assert!(
        Method::new()
            .check(&formula("MgSO4·xH2O"), &finch())
            .is_err()
    );
}

#[test]
fn the_working_can_be_followed() {
    let lines: Vec<String> = run("MgSO4", &finch())
        .working()
        .steps()
        .iter()
        .map(|s| {
            format!("{} = {} {}", s.numbers(), s.result(), s.unit())
                .trim()
                .into()
        })
        .collect();
    assert_eq!(
        lines,
        [
            "24.018 g − 21.352 g = 2.666 g",
            "22.655 g − 21.352 g = 1.303 g",
            "2.666 g − 1.303 g = 1.363 g",
            "100 % × 1.363 g / 2.666 g = 51.13 %",
            "1.303 g / 120.361 g/mol = 0.010826 mol",
            "1.363 g / 18.015 g/mol = 0.075659 mol",
            "0.075659 mol / 0.010826 mol = 6.989",
            "x is nearest to 7 = MgSO4·7H2O",
        ]
    );
}

#[test]
fn the_ratio_follows_from_the_amounts_as_they_are_shown() {
    let last_step = |salt: &str, residue: &str, weighings: &Weighings| {
        let method = Method::new().residue(&formula(residue)).unwrap();
        let run = method.dehydration(&formula(salt), weighings).unwrap();
        let working = run.working();
        let step = working
            .steps()
            .iter()
            .find(|step| step.what() == "mole ratio");
        let step = step.unwrap();
        (step.numbers().to_string(), step.result().to_string())
    };
    let net =
        |hydrate: &str, residue: &str| Weighings::net(read(hydrate), read(residue), Net::Tared);
    // With one guard digit, 0.06106/0.01012 is 6.034.
    assert_eq!(
        last_step("MgSO4", "MgSO4·H2O", &net("2.50", "1.40")),
        ("1 + 0.061060 mol / 0.010117 mol".into(), "7.04".into())
    );
    for (salt, residue, left) in [("MgSO4", "MgSO4·H2O", 1), ("CuSO4", "CuSO4", 0)] {
        for hundredths in 100..200 {
            let weighings = net("2.50", &format!("1.{:02}", hundredths - 100));
            let (numbers, result) = last_step(salt, residue, &weighings);
            let quotient = numbers.strip_prefix("1 + ").unwrap_or(&numbers);
            let amounts: Vec<Ratio> = quotient
                .split(" / ")
                .map(|amount| amount.strip_suffix(" mol").unwrap().parse().unwrap())
                .collect();
            let shown = amounts[0].checked_div(&amounts[1]).unwrap() + left;
            rounds_to(&shown, &result);
        }
    }
}

#[test]
fn a_balance_may_bring_its_own_uncertainty() {
    let weighings = bench("20.0000", "25.0000", &["23.2000"]);
    let with = |method: Method| {
        let run = method.dehydration(&formula("CuSO4"), &weighings).unwrap();
        run.budget().contributions()[0].standard_uncertainty()
    };
    let read = 0.0001 / libm::sqrt(12.0);
    assert!((with(Method::new()) - read).abs() < 1e-15);
    let repeatability = with(Method::new().balance_repeatability(0.0003).unwrap());
    assert!((repeatability - libm::hypot(read, 0.0003)).abs() < 1e-15);
    let linearity = with(Method::new().balance_linearity(0.0003).unwrap());
    assert!((linearity - libm::hypot(read, 0.0003 / libm::sqrt(3.0))).abs() < 1e-15);
    assert!(Method::new().balance_repeatability(-1.0).is_err());
    assert!(Method::new().balance_linearity(f64::INFINITY).is_err());
}

#[test]
fn figures_go_by_what_each_quantity_is_made_from() {
    // 9.876 g taken, 0.950 g left, 8.926 g lost: three figures in the residue, four elsewhere.
    let run = run(
        "MgSO4",
        &Weighings::net(read("9.876"), read("0.950"), Net::Tared),
    );
    let written = |quantity| run.written(quantity).unwrap();
    assert_eq!(written(Quantity::PercentWater), "90.38");
    assert_eq!(written(Quantity::MolSalt), "0.00789");
    assert_eq!(written(Quantity::MolWater), "0.4955");
    assert_eq!(written(Quantity::Ratio), "62.8");
}

#[test]
fn the_maximum_uncertainty_overstates() {
    let run = run("MgSO4", &finch());
    // x (0.001/1.363 + 0.001/1.303), with half a division each: twice half makes 0.001 g.
    let half = run
        .maximum_uncertainty(MaximumUncertainty::HalfDivision)
        .unwrap();
    rounds_to(&half, "0.010491");
    let one = run
        .maximum_uncertainty(MaximumUncertainty::OneDivision)
        .unwrap();
    assert_eq!(one, &half + &half);
    let percent = super::tests::run("CuSO4", &Weighings::percent_water(read("36.0")));
    assert!(
        percent
            .maximum_uncertainty(MaximumUncertainty::HalfDivision)
            .unwrap()
            .is_positive()
    );
    assert_eq!(run.stated().unwrap().short(), "6.989(13)");
}

#[test]
fn rules_out_of_range_are_refused() {
    assert!(Method::new().readability(read("0")).is_err());
    assert!(Method::new().repeatability(f64::NAN).is_err());
    assert!(Method::new().repeatability(-0.1).is_err());
    assert!(Method::new().coverage(0.0).is_err());
    let negative = Method::new().constant_mass(ConstantMass::Absolute(read("-0.002")));
    assert_eq!(
        negative
            .dehydration(&formula("MgSO4"), &finch())
            .unwrap_err()
            .code(),
        "out_of_range"
    );
    assert_eq!(
        negative
            .check(&formula("MgSO4·7H2O"), &finch())
            .unwrap_err()
            .code(),
        "out_of_range"
    );
    assert!(Method::new().candidates([]).is_err());
    let water = Method::new()
        .dehydration(&formula("H2O"), &finch())
        .unwrap_err();
    assert_eq!(water.code(), "bad_request");
    assert!(Method::new().candidates([Ratio::ZERO]).is_err());
    assert!(Method::new().candidates((1..60).map(Ratio::from)).is_err());
}
