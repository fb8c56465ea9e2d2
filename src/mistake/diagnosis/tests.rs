use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::{ErrorKind, Fault};
use super::*;
use crate::formula::Formula;
use crate::gravimetry::{Method, Net, Weighings};
use crate::number::Reading;

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

/// The container, the container with the hydrate, and each heating.
fn weighings(text: &str) -> Weighings {
    let all: Vec<Reading> = text.split_whitespace().map(reading).collect();
    Weighings::new(all[0], all[1], all[2..].iter().copied())
}

fn diagnosis_by(issued: &str, readings: &str, priors: &Priors) -> Diagnosis {
    let issued: Formula = issued.parse().unwrap();
    Diagnosis::new(&issued, &Method::new(), priors, &weighings(readings)).unwrap()
}

fn diagnosis(issued: &str, readings: &str) -> Diagnosis {
    diagnosis_by(issued, readings, &Priors::new())
}

/// The first hypothesis, and the sentences for the teacher.
#[track_caller]
fn finds(issued: &str, readings: &str, fault: Fault, evidence: &str, next: &str) {
    let found = diagnosis(issued, readings);
    let first = found
        .likely()
        .first()
        .unwrap_or_else(|| panic!("{found:?}"));
    assert_eq!(first.fault(), fault, "{found:?}");
    assert_eq!(first.evidence().sentence().replace('\u{a0}', " "), evidence);
    assert_eq!(first.next().sentence().replace('\u{a0}', " "), next);
}

/// 2.666 g of MgSO4·7H2O leave 1.302 g, so the container should end at 22.654 g.
const BEFORE: &str = "21.352 24.018";

fn magnesium(heated: &str) -> String {
    [BEFORE, heated].join(" ")
}

#[test]
fn a_bench_without_a_fault_is_not_accused() {
    for heated in [
        "22.675",
        "22.675 22.656",
        "22.701 22.656 22.655",
        "22.675 22.657 22.654 22.654",
        // Dry after the first heating.
        "22.656 22.655",
        "22.655 22.654",
        "22.656",
        // Nothing depends on the first weighing here.
        "22.765 22.656 22.655",
        "26.275 22.656 22.655",
        "22.600 22.656 22.655",
    ] {
        let found = diagnosis("MgSO4·7H2O", &magnesium(heated));
        assert!(found.likely().is_empty(), "{heated}: {found:?}");
        assert!(found.no_fault() > 0.9, "{heated}: {}", found.no_fault());
        assert_eq!((found.misreading(), found.same_mass()), (None, None));
    }
}

#[test]
fn water_is_left_while_the_mass_falls() {
    finds(
        "MgSO4·7H2O",
        &magnesium("23.060 22.776"),
        Fault::WaterLeft,
        "The residue is 0.122 g heavier than it should be, and the mass still fell by 0.284 g at the last \
         heating.",
        "Heat again until two weighings agree.",
    );
}

#[test]
fn a_constant_mass_at_a_plateau_is_a_lower_hydrate() {
    finds(
        "CuSO4·5H2O",
        "23.995 26.249 25.933 25.925 25.923",
        Fault::StoppedAtLowerHydrate,
        "The residue has the mass of CuSO4·3H2O.",
        &diagnosis("CuSO4·5H2O", "23.995 26.249 25.933 25.925 25.923").all()[0]
            .next()
            .sentence()
            .replace('\u{a0}', " "),
    );
}

#[test]
fn a_gain_at_the_end_is_moisture() {
    finds(
        "MgSO4·7H2O",
        &magnesium("22.675 22.656 22.655 22.671"),
        Fault::MoistureTakenUp,
        "The container gained 0.016 g between the last two weighings.",
        "Heat once more, cool in a desiccator, and weigh at once.",
    );
}

#[test]
fn a_fall_after_constant_mass_is_a_warm_container() {
    finds(
        "MgSO4·7H2O",
        &magnesium("22.675 22.656 22.655 22.642"),
        Fault::WeighedWarm,
        "The mass fell by 0.013 g at the last weighing, after two that agreed. The residue is 0.012 g lighter \
         than it should be.",
        "Let the container cool to room temperature, and weigh it again.",
    );
}

#[test]
fn a_light_residue_is_lost_solid_among_others() {
    let readings = magnesium("22.640 22.622 22.620");
    finds(
        "MgSO4·7H2O",
        &readings,
        Fault::SolidLost,
        "The residue is 0.034 g lighter than it should be after 3 heatings.",
        "Repeat with a fresh sample. Heat gently at first, under a loose lid.",
    );
    let found = diagnosis("MgSO4·7H2O", &readings);
    let same = found.same_mass().unwrap();
    assert_eq!(
        same.faults(),
        [Fault::SolidLost, Fault::SampleDamp, Fault::ContainerDamp]
    );
    assert_eq!(
        same.sentence(),
        "Mass alone does not distinguish lost solid, a damp sample and a damp empty container."
    );
}

/// The faults that are told apart by their priors only.
#[test]
fn priors_decide_where_the_mass_does_not() {
    let light = magnesium("22.640 22.622 22.620");
    let heavy = magnesium("22.690 22.674 22.672");
    for (fault, readings, next) in [
        (Fault::SampleDamp, &light, NextStep::DryCrystals),
        (Fault::ContainerDamp, &light, NextStep::DryContainer),
        (Fault::BalanceChanged, &light, NextStep::OneBalance),
        (Fault::BalanceChanged, &heavy, NextStep::OneBalance),
    ] {
        let priors = Priors::new().with(Fault::SolidLost, 0.0).unwrap();
        let priors = priors.with(fault, 0.3).unwrap();
        let found = diagnosis_by("MgSO4·7H2O", readings, &priors);
        let first = &found.likely()[0];
        assert_eq!((first.fault(), first.next()), (fault, next), "{found:?}");
        assert_eq!(found.all().last().unwrap().probability(), 0.0);
    }
}

#[test]
fn a_constant_mass_that_is_too_high_is_an_effloresced_sample() {
    finds(
        "MgSO4·7H2O",
        &magnesium("22.755 22.734 22.733"),
        Fault::SampleEffloresced,
        "The residue is 0.079 g heavier than it should be after 3 heatings.",
        "Repeat with crystals from a closed bottle. Compare benches with the same bottle.",
    );
}

#[test]
fn a_mass_that_falls_on_below_the_salt_is_decomposition() {
    let readings = "23.995 26.249 25.435 25.388 25.361 25.336";
    let found = diagnosis("CuSO4·5H2O", readings);
    let first = &found.likely()[0];
    assert_eq!(first.fault(), Fault::Decomposed, "{found:?}");
    assert_eq!(
        first.evidence().sentence().replace('\u{a0}', " "),
        "The residue is 0.100 g lighter than it should be, and the mass still fell by 0.025 g at the last heating."
    );
    assert_eq!(first.next(), NextStep::HeatLess);
    assert_eq!(first.confidence(), Confidence::Likely);
}

#[test]
fn the_misread_weighing_is_named() {
    for (readings, path, written, meant, kind) in [
        // 24.018 with two digits exchanged, and with one digit wrong.
        (
            "21.352 24.108 22.675 22.656 22.655",
            "crucible_hydrate",
            "24.108",
            "24.018",
            MisreadingKind::DigitsExchanged,
        ),
        (
            "21.352 24.018 22.675 22.656 22.565",
            "heated[2]",
            "22.565",
            "22.655",
            MisreadingKind::DigitsExchanged,
        ),
        (
            "20.352 24.018 22.675 22.656 22.655",
            "crucible",
            "20.352",
            "21.352",
            MisreadingKind::OneDigit,
        ),
        // Two readings in each other's place.
        (
            "24.018 21.352 22.675 22.656 22.655",
            "crucible",
            "24.018",
            "21.352",
            MisreadingKind::ReadingsSwapped,
        ),
    ] {
        let found = diagnosis("MgSO4·7H2O", readings);
        let misreading = found.misreading().unwrap_or_else(|| panic!("{found:?}"));
        assert_eq!(misreading.path(), path, "{found:?}");
        assert_eq!(
            (
                misreading.written().to_string(),
                misreading.meant().to_string()
            ),
            (written.to_string(), meant.to_string())
        );
        assert_eq!(misreading.kind(), kind);
        let mut likely = found.likely().iter();
        let own = likely.find(|own| own.fault() == Fault::WeighingMisread);
        assert_eq!(
            own.map(FaultHypothesis::next),
            Some(NextStep::CheckWeighing)
        );
    }
}

#[test]
fn impossible_masses_are_misread() {
    let found = diagnosis("MgSO4·7H2O", "21.352 24.018 19.655");
    assert_eq!(found.all()[0].fault(), Fault::WeighingMisread);
    assert_eq!((found.no_fault(), found.all()[0].probability()), (0.0, 1.0));
    // Nothing makes sense of these.
    let found = diagnosis("MgSO4·7H2O", "50.000 2.000 40.000");
    let first = &found.likely()[0];
    assert_eq!(first.evidence(), &Evidence::Impossible);
    assert_eq!(found.misreading(), None);
    assert_eq!(
        first.sentence(),
        "Likely cause: a weighing written down wrongly."
    );
}

/// A lower hydrate that was meant is not a fault, and stopping there is not seen.
#[test]
fn a_residue_that_was_meant_is_no_fault() {
    let issued: Formula = "CuSO4·5H2O".parse().unwrap();
    let bench = weighings("23.995 26.249 25.618 25.600 25.599");
    let to_monohydrate = Method::new()
        .residue(&"CuSO4·H2O".parse().unwrap())
        .unwrap();
    let priors = Priors::new();
    let meant = Diagnosis::new(&issued, &to_monohydrate, &priors, &bench).unwrap();
    assert!(meant.likely().is_empty(), "{meant:?}");
    let found = Diagnosis::new(&issued, &Method::new(), &priors, &bench).unwrap();
    assert_eq!(found.likely()[0].fault(), Fault::StoppedAtLowerHydrate);
}

/// A stock that has lost water explains a heavy residue.
#[test]
fn what_the_stock_holds_counts() {
    let issued: Formula = "MgSO4·7H2O".parse().unwrap();
    let bench = weighings(&magnesium("22.765 22.744 22.743"));
    let (method, priors) = (Method::new(), Priors::new());
    let waters = "6.15".parse().unwrap();
    let found = Diagnosis::from_stock(&issued, &waters, &method, &priors, &bench).unwrap();
    assert!(found.likely().is_empty(), "{found:?}");
    let none = "0".parse().unwrap();
    let error = Diagnosis::from_stock(&issued, &none, &method, &priors, &bench).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::OutOfRange);
}

#[test]
fn net_masses_are_diagnosed_as_one_heating() {
    let issued: Formula = "MgSO4·7H2O".parse().unwrap();
    let of = |residue: &str, net: Net| {
        let bench = Weighings::net(reading("2.666"), reading(residue), net);
        Diagnosis::new(&issued, &Method::new(), &Priors::new(), &bench).unwrap()
    };
    for net in Net::ALL {
        let light = of("1.262", net);
        assert!(light.same_mass().is_some(), "{light:?}");
        assert!(of("1.310", net).likely().is_empty());
        // Between two lower hydrates.
        assert_eq!(of("1.590", net).likely()[0].fault(), Fault::WaterLeft);
    }
}

#[test]
fn what_cannot_be_diagnosed_is_an_error() {
    let method = Method::new();
    let priors = Priors::new();
    let of = |issued: &str, bench: &Weighings| {
        let issued: Formula = issued.parse().unwrap();
        Diagnosis::new(&issued, &method, &priors, bench).unwrap_err()
    };
    let cold = of("MgSO4·7H2O", &weighings(BEFORE));
    assert_eq!(cold.kind(), ErrorKind::NothingHeated);
    assert_eq!(
        cold.to_string(),
        "there is no mass after heating to diagnose"
    );
    let percent = Weighings::percent_water(reading("51.2"));
    assert_eq!(of("MgSO4·7H2O", &percent).kind(), ErrorKind::NothingHeated);
    let heated = weighings(&magnesium("22.655"));
    assert_eq!(of("MgSO4", &heated).kind(), ErrorKind::NotAHydrate);
    assert_eq!(of("MgSO4·xH2O", &heated).kind(), ErrorKind::UnknownDegree);
}

/// A salt that must not be heated in a school, or that heating does not leave whole, is not heated again.
#[test]
fn nobody_is_told_to_heat_what_must_not_be_heated() {
    for issued in ["Na2Cr2O7·2H2O", "MgCl2·6H2O", "Mg(ClO4)2·6H2O"] {
        let issued: Formula = issued.parse().unwrap();
        for fault in Fault::ALL {
            let next = NextStep::of(fault, NextStep::may_heat(&issued), true);
            let words = [next.sentence(), next.pupil()].concat();
            let heats = words.contains("Heat ") || words.contains("heat gently");
            assert!(!heats, "{issued}, {fault}: {words}");
        }
        assert_eq!(
            NextStep::of(Fault::WaterLeft, NextStep::may_heat(&issued), true),
            NextStep::AskTeacher
        );
    }
    let copper: Formula = "CuSO4·5H2O".parse().unwrap();
    let may_heat = NextStep::may_heat(&copper);
    let step = |fault, may_be_wet| NextStep::of(fault, may_heat, may_be_wet);
    assert_eq!(step(Fault::WaterLeft, false), NextStep::HeatAgain);
    assert_eq!(
        step(Fault::StoppedAtLowerHydrate, false),
        NextStep::HeatMore
    );
    // One heating has not shown yet that the crystals were old.
    assert_eq!(step(Fault::SampleEffloresced, true), NextStep::HeatAgain);
    assert_eq!(
        step(Fault::SampleEffloresced, false),
        NextStep::FreshCrystals
    );
}

/// The sentences are short: 25 words for teachers, 20 for pupils. None says that a fault is a fact.
#[test]
fn sentences_are_short_and_careful() {
    let words = |text: &str| {
        text.split(". ")
            .map(|one| one.split_whitespace().count())
            .max()
    };
    let benches = [
        "23.060 22.776",
        "22.675 22.656 22.655 22.671",
        "22.675 22.656 22.655 22.642",
        "22.640 22.622 22.620",
        "22.765 22.744 22.743",
        "23.108",
        "22.565",
        "19.655",
    ];
    for heated in benches {
        let found = diagnosis("MgSO4·7H2O", &magnesium(heated));
        for own in found.all() {
            let teacher: [alloc::string::String; 3] = [
                own.sentence(),
                own.evidence().sentence(),
                own.next().sentence().into(),
            ];
            for text in &teacher {
                assert!(words(text) <= Some(25), "{text}");
                assert!(text.ends_with('.'), "{text}");
            }
            for text in [own.evidence().pupil().as_str(), own.next().pupil()] {
                assert!(words(text) <= Some(20), "{text}");
                assert!(text.ends_with('.'), "{text}");
            }
            let careful = [
                "Likely cause: ",
                "The readings are consistent with ",
                "Possible cause: ",
            ];
            let sentence = own.sentence();
            assert!(careful.iter().any(|word| sentence.starts_with(word)));
            let word = own.confidence().word();
            assert!(sentence.to_lowercase().contains(word), "{sentence}");
        }
    }
}

#[cfg(feature = "serde")]
#[test]
fn faults_have_the_shape_of_the_contract() {
    let found = diagnosis("MgSO4·7H2O", &magnesium("23.060 22.776"));
    let data = serde_json::to_value(&found).unwrap();
    let first = &data["faults"][0];
    assert_eq!(first["code"], "water_left");
    assert!(first["probability"].as_f64().unwrap() > 0.9);
    assert_eq!(first["evidence"]["code"], "still_falling");
    assert_eq!(first["evidence"]["values"]["fall"], "0.284");
    assert_eq!(first["next"]["code"], "heat_again");
    assert_eq!(data["misreading"], serde_json::Value::Null);
    let sound = diagnosis("MgSO4·7H2O", &magnesium("22.675 22.656 22.655"));
    let data = serde_json::to_value(&sound).unwrap();
    assert_eq!(data["faults"], serde_json::json!([]));

    let priors: Priors = serde_json::from_str(r#"{"water_left": 0.2}"#).unwrap();
    assert_eq!(priors, Priors::new().with(Fault::WaterLeft, 0.2).unwrap());
    let back: Priors = serde_json::from_value(serde_json::to_value(&priors).unwrap()).unwrap();
    assert_eq!(back, priors);
    for wrong in [
        r#"{"water_left": 1.2}"#,
        r#"{"water_lost": 0.1}"#,
        r#"{"water_left": 0.95}"#,
    ] {
        assert!(serde_json::from_str::<Priors>(wrong).is_err(), "{wrong}");
    }
}
