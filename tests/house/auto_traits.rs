//! Public types may cross threads and can be shown; errors behave as errors.

use std::collections::BTreeSet;
use std::error::Error;

fn crosses_threads<T: Send + Sync + std::fmt::Debug + 'static>() {}

/// Checks the types of a room, and lists them by name.
macro_rules! rooms {
    ($($(#[$gate:meta])? $room:ident: $($path:ident)::+ { $($name:ident $(<$of:ty>)? $(for $life:lifetime)?),+ $(,)? })+) => {
        /// `room::Name` of all types checked.
        fn checked() -> BTreeSet<String> {
            let mut names = BTreeSet::new();
            $($(#[$gate])? {
                use $($path)::+ as room;
                $(
                    crosses_threads::<room::$name$(<$of>)?$(<$life>)?>();
                    names.insert(format!("{}::{}", stringify!($room), stringify!($name)));
                )+
            })+
            names
        }
    };
}

rooms! {
    error: effloresce { Error }
    text: effloresce { Note, Span }
    number: effloresce::number {
        Bounded, Budget, Contribution, DecimalMark, Error, ErrorKind, Figures, MaximumUncertainty, Measured,
        Ratio, Reading, Rounded, Stated, TieRule, Unit,
    }
    element: effloresce::element {
        Atom, AtomicWeight, AtomicWeights, Edition, Element, Error, ErrorKind, StandardWeight,
        Values,
    }
    formula: effloresce::formula {
        Analysis, AtomCounts for 'static, Composition, Constituent, Description, Empirical, Error, ErrorKind, Fit, Formula, FormulaBuilder, GroupBuilder, HydrateName,
        MolarMass, PartDescription, State, Times, Trial,
    }
    working: effloresce::working { Step, Working }
    reaction: effloresce::reaction {
        Amounts, Arrow, Balancer for 'static, Balanced, Checked, Conserved, Equation, Error, ErrorKind, Extent,
        PercentYield, Reacted, Side, Species, SpeciesAmount, Stoichiometry, Supply, Total,
    }
    gravimetry: effloresce::gravimetry {
        Advice, Candidate, Check, Compliance, Component, Constancy, ConstantMass, Content, Decomposition, Defensible,
        Dehydration, Error, ErrorKind, GravimetricFactor, HazardStatement, HeatOfHydration, HeatingSafety, HeatingStage, HydrateMatch, Identification, Limits, LossOnDrying, MassLimits,
        Method, Mixture, MoleRatio, Net, Outcome, Plan, PlannedBalance, PlannedSample, Plateau, Quantity, Interval, SaltFacts, Sensitivity, SequenceFit, Severity, Sourced<u16>, Stage,
        Stages, Suitability, UncertaintyPart, Waste,
        WeighingUsed, Weighings,
    }
    mistake: effloresce::mistake {
        Confidence, DiagnosedCheck, Diagnosis, Direction, Error, ErrorKind, Evidence, Fault, FaultHypothesis, MisreadingKind,
        NextStep, Priors, ProbableMisreading, SameMass, SimulatedBench, Simulator, Slip,
    }
    #[cfg(feature = "class")]
    class: effloresce::class {
        Answer, Band, BenchGroup, Change, Entry, Error, ErrorKind, ExcessScatter, FiguresRule, FormulaRule, HandMark, HandMarks, IssuedPool, MarkStep, Marks, Stock, Marked, MarkedEntry, MarkedRow, MarkedRows for 'static, Marker, Outlier, OutlierTest,
        Policy, Pooled, Problem, MarkChanges, Reported, ReportedValue, Row, RowChange, RowStream<&'static [u8]>, Sheet, SheetReader, StandIn, StandInReadings, Statistics, Suspect,
        Tails, Tolerance, Verdict,
    }
    #[cfg(feature = "exercise")]
    exercise: effloresce::exercise {
        AnswerPart, PartChoice, Choice, Error, ErrorKind, Exercise, ExerciseSet, Exercises, Field, GivenValue, Kind, Level, Operation, OwnSalts,
        Request, Skill, Solved, Template, WrongStep,
    }
    #[cfg(feature = "report")]
    report: effloresce::report { BalanceTime, LatexFormulas, LessonPaper, PaperFile, PaperFormat, ProblemPaper }
    #[cfg(feature = "qti")]
    qti: effloresce::qti { Error, ErrorKind, Package for 'static, PackagedItem }
}

#[test]
fn every_public_type_is_send_and_sync() {
    let checked = checked();
    assert!(checked.len() >= 50, "{} types", checked.len());
}

/// The list above is whole: it has every public type that the sources declare. (The compiler warns
/// of one that is declared `pub` and not in reach.)
#[cfg(all(feature = "report", feature = "qti"))]
#[test]
fn every_public_type_is_listed() {
    use crate::source::{sources, tokens};

    let mut declared = BTreeSet::new();
    for (file, source) in sources() {
        let room = file.split(['/', '.']).next().unwrap();
        let tokens = tokens(&source);
        for t in tokens.windows(3) {
            let kind = ["struct", "enum", "union", "type"]
                .iter()
                .any(|kind| t[1].is(kind));
            if let (true, true, Some(name)) = (t[0].is("pub"), kind, t[2].word()) {
                declared.insert(format!("{room}::{name}"));
            }
        }
        // A room's error is made by a macro that is told its two names.
        for t in tokens.windows(6) {
            if t[0].is("room_error") && t[1].is("!") && t[4].is(",") {
                for name in [&t[3], &t[5]] {
                    declared.insert(format!("{room}::{}", name.word().unwrap()));
                }
            }
            if let (true, true, Some(kind)) = (t[0].is("error_kind"), t[1].is("!"), t[3].word()) {
                declared.insert(format!("{room}::{kind}"));
            }
        }
    }
    let checked = checked();
    let unlisted: Vec<&String> = declared.difference(&checked).collect();
    let gone: Vec<&String> = checked.difference(&declared).collect();
    assert!(unlisted.is_empty(), "not in the list: {unlisted:?}");
    assert!(gone.is_empty(), "not in the sources: {gone:?}");
}

/// Types that hold no number in binary floating point can be keys.
#[test]
fn what_holds_no_float_is_eq_and_hash() {
    fn is_a_key<T: Eq + std::hash::Hash>() {}
    is_a_key::<effloresce::Error>();
    is_a_key::<effloresce::Note>();
    {
        use effloresce::number::{Bounded, Figures, Measured, Ratio, Reading, Rounded, TieRule};
        is_a_key::<(Bounded, Figures, Measured, Ratio, Reading, Rounded, TieRule)>();
        use effloresce::element::{
            Atom, AtomicWeight, AtomicWeights, Edition, StandardWeight, Values,
        };
        is_a_key::<(
            Atom,
            AtomicWeight,
            AtomicWeights,
            Edition,
            StandardWeight,
            Values,
        )>();
        use effloresce::formula::{Composition, Formula, HydrateName, State, Times};
        is_a_key::<(Composition, Formula, HydrateName, State, Times)>();
        use effloresce::reaction::{Balanced, Checked, Equation, Stoichiometry, Supply, Total};
        is_a_key::<(Balanced, Checked, Equation, Stoichiometry, Supply, Total)>();
        is_a_key::<(effloresce::working::Step, effloresce::working::Working)>();
        is_a_key::<(effloresce::mistake::Slip, effloresce::mistake::Fault)>();
    }
    {
        use effloresce::gravimetry::{Advice, Constancy, ConstantMass, Defensible, Interval};
        is_a_key::<(Advice, Constancy, ConstantMass, Defensible, Interval)>();
        use effloresce::gravimetry::{Decomposition, MoleRatio, Net, Outcome, Plateau, Quantity};
        is_a_key::<(Decomposition, MoleRatio, Net, Outcome, Plateau, Quantity)>();
        use effloresce::gravimetry::{Compliance, Limits, Sensitivity, WeighingUsed, Weighings};
        is_a_key::<(Compliance, Limits, Sensitivity, WeighingUsed, Weighings)>();
    }
    #[cfg(feature = "class")]
    {
        use effloresce::class::{
            Answer, Band, Entry, FiguresRule, FormulaRule, Policy, Problem, Reported, Row,
        };
        is_a_key::<(
            Answer,
            Band,
            Entry,
            FiguresRule,
            FormulaRule,
            Policy,
            Problem,
            Reported,
            Row,
        )>();
        use effloresce::class::{BenchGroup, OutlierTest, Stock, Tails, Tolerance, Verdict};
        is_a_key::<(BenchGroup, OutlierTest, Stock, Tails, Tolerance, Verdict)>();
    }
    #[cfg(feature = "exercise")]
    {
        use effloresce::exercise::{
            AnswerPart, Choice, Field, Kind, Level, Operation, PartChoice, Request, Skill,
            WrongStep,
        };
        is_a_key::<(
            AnswerPart,
            Choice,
            Field,
            Kind,
            Level,
            Operation,
            PartChoice,
            Request,
            Skill,
            WrongStep,
        )>();
    }
}

/// What a program keeps is read from serialised data, too. `tests/laws/serialised.rs` holds that it is
/// the same.
#[cfg(feature = "serde")]
#[test]
fn what_is_kept_is_serialised_both_ways() {
    fn both_ways<T: serde::Serialize + serde::de::DeserializeOwned>() {}
    use effloresce::gravimetry::{Advice, ConstantMass, Method, Net, Outcome};
    both_ways::<(Advice, ConstantMass, Method, Net, Outcome)>();
    use effloresce::gravimetry::{Quantity, UncertaintyPart, WeighingUsed, Weighings};
    both_ways::<(Quantity, UncertaintyPart, WeighingUsed, Weighings)>();
    use effloresce::element::{AtomicWeights, Edition, Element, Values};
    both_ways::<(AtomicWeights, Edition, Element, Values)>();
    use effloresce::{Formula, Ratio, Reading, reaction::Equation};
    both_ways::<(Formula, Ratio, Reading, Equation)>();
    both_ways::<(effloresce::number::TieRule, effloresce::formula::State)>();
    both_ways::<(effloresce::mistake::Slip, effloresce::mistake::Fault)>();
    #[cfg(feature = "class")]
    {
        use effloresce::class::{
            BenchGroup, Entry, FiguresRule, FormulaRule, OutlierTest, Policy, Tolerance, Verdict,
        };
        both_ways::<(
            BenchGroup,
            Entry,
            FiguresRule,
            FormulaRule,
            OutlierTest,
            Policy,
            Tolerance,
            Verdict,
        )>();
    }
}

/// An error that `?` and `Box<dyn Error + Send + Sync>` take, one pointer wide, so that a result is
/// not larger for it.
fn is_a_small_error<E: Error + Send + Sync + Clone + PartialEq + 'static>() {
    assert_eq!(size_of::<E>(), size_of::<usize>());
    assert_eq!(size_of::<Result<(), E>>(), size_of::<usize>());
}

#[test]
fn errors_are_errors() {
    is_a_small_error::<effloresce::number::Error>();
    is_a_small_error::<effloresce::element::Error>();
    is_a_small_error::<effloresce::formula::Error>();
    is_a_small_error::<effloresce::reaction::Error>();
    is_a_small_error::<effloresce::gravimetry::Error>();
    is_a_small_error::<effloresce::mistake::Error>();
    #[cfg(feature = "class")]
    is_a_small_error::<effloresce::class::Error>();
    #[cfg(feature = "exercise")]
    is_a_small_error::<effloresce::exercise::Error>();

    fn is_an_error<E: Error + Send + Sync + 'static>() {}
    is_an_error::<effloresce::Error>();
    assert!(size_of::<effloresce::Error>() <= 2 * size_of::<usize>());
    let boxed: Box<dyn Error + Send + Sync> =
        Box::new("Xx".parse::<effloresce::Formula>().unwrap_err());
    assert!(!boxed.to_string().is_empty());
}

/// What a program prints whose `main` returns the error.
#[test]
fn errors_are_readable_where_main_returns_them() {
    use effloresce::reaction::Equation;
    let errors: [effloresce::Error; 4] = [
        "7,x".parse::<effloresce::Reading>().unwrap_err().into(),
        "Xx".parse::<effloresce::Formula>().unwrap_err().into(),
        "H2 + O2".parse::<Equation>().unwrap_err().into(),
        "Mg -> Ca"
            .parse::<Equation>()
            .unwrap()
            .balance()
            .unwrap_err()
            .into(),
    ];
    for error in errors {
        let shown = format!("{error:?}");
        let mut lines = shown.lines();
        assert_eq!(lines.next(), Some(error.to_string().as_str()));
        let help = lines.next().and_then(|line| line.strip_prefix("help: "));
        assert_eq!(help, error.help());
        let code = lines.next().and_then(|line| line.strip_prefix("code: "));
        assert_eq!(code, Some(error.code()));
        assert_eq!(lines.next(), None);
    }
}
