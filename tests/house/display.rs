//! Every type that is printed does what the format asks: width, fill and alignment, and if it is a
//! number also a sign, zeros in front and decimal places.

use std::collections::BTreeSet;
use std::fmt::Display;

#[cfg(feature = "class")]
use effloresce::class::{MarkStep, Marks};
use effloresce::number::{Stated, TieRule};
use effloresce::{AtomicWeights, Element, Formula, Ratio, Reading};

use crate::source::{self, Token};

/// The numbers. `numbers` has values of each.
const NUMBERS: [&str; 5] = ["MolarMass", "Ratio", "Reading", "Rounded", "Stated"];

/// The numbers of the feature `class`.
const CLASS_NUMBERS: [&str; 2] = ["MarkStep", "Marks"];

/// The codes of the feature `exercise`. `exercise_texts` has one of each.
const EXERCISE_TEXTS: [&str; 3] = ["Kind", "Operation", "Skill"];

/// The words and sentences on one line. `texts` has one of each.
const TEXTS: [&str; 27] = [
    "Advice",
    "Atom",
    "AtomicWeights",
    "BenchGroup",
    "Conserved",
    "Edition",
    "Element",
    "Equation",
    "Fault",
    "FiguresRule",
    "FormulaRule",
    "Formula",
    "HydrateName",
    "Net",
    "Note",
    "OutlierTest",
    "Problem",
    "Quantity",
    "Severity",
    "Slip",
    "Species",
    "State",
    "TieRule",
    "UncertaintyPart",
    "Values",
    "Verdict",
    "WeighingUsed",
];

/// What has several lines, which no width fits.
const SEVERAL_LINES: [&str; 1] = ["Caret"];

/// Parts of a page. Nobody outside the crate has one, and pages have a law of their own (`tests/laws/pages.rs`).
const PARTS_OF_PAGES: [&str; 4] = ["Heading", "Names", "Prose", "StepMaths"];

/// The types of a source that implement `Display` by hand, or by a table of codes.
fn displayed(source: &str) -> Vec<String> {
    let tokens = source::tokens(source);
    let ends_in = |window: &[Token]| window[0].is("Display") && window[1].is("for");
    let names = tokens.windows(3).filter(|window| ends_in(window));
    // The macro itself names no type.
    let names = names.filter(|window| !window[2].is("$"));
    let table = |window: &&[Token]| window[0].is("codes") && window[1].is("!") && window[2].is("{");
    let tables = tokens.windows(4).filter(table).map(|window| &window[1..]);
    names
        .chain(tables)
        .map(|window| format!("{:?}", window[2].word().unwrap_or("not a plain name")))
        .map(|name| name.trim_matches('"').to_owned())
        .collect()
}

#[test]
fn every_display_is_walked_over() {
    let sources = source::sources();
    let all: BTreeSet<String> = sources
        .iter()
        .flat_map(|(_, text)| displayed(text))
        .collect();
    let listed = NUMBERS
        .iter()
        .chain(&CLASS_NUMBERS)
        .chain(&TEXTS)
        .chain(&EXERCISE_TEXTS)
        .chain(&SEVERAL_LINES)
        .chain(&PARTS_OF_PAGES);
    let listed: BTreeSet<String> = listed.map(|name| (*name).to_owned()).collect();
    assert_eq!(
        all, listed,
        "list the type above, and add a value of it below"
    );
    let walked: BTreeSet<&str> = numbers().iter().map(|number| number.kind).collect();
    let of_class = CLASS_NUMBERS.iter().filter(|_| cfg!(feature = "class"));
    assert_eq!(walked, NUMBERS.iter().chain(of_class).copied().collect());
    #[cfg(feature = "class")]
    {
        let walked: BTreeSet<&str> = texts().iter().map(|(kind, _)| *kind).collect();
        assert_eq!(walked, BTreeSet::from(TEXTS));
    }
    #[cfg(feature = "exercise")]
    {
        let walked: BTreeSet<&str> = exercise_texts().iter().map(|(kind, _)| *kind).collect();
        assert_eq!(walked, BTreeSet::from(EXERCISE_TEXTS));
    }
}

#[test]
fn a_planted_display_is_found() {
    let planted = "impl fmt::Display for New {} impl<T> core::fmt::Display for Of<T> {}
        // impl Display for Comment
        fn f() -> impl Display + 'a {}
        codes! { Coded, \"a code\", Error(Kind); One => \"one\", } codes!(Other, code, \"one\", Error(Kind));";
    assert_eq!(displayed(planted), ["New", "Of", "Coded"]);
}

/// A number to be printed.
struct Number {
    kind: &'static str,
    value: Box<dyn Display>,
    /// The same value in binary, exactly. `None` for a value with its uncertainty.
    binary: Option<f64>,
}

fn numbers() -> Vec<Number> {
    let mut all = Vec::new();
    // Binary fractions, so that the standard library prints exactly the same values, ties to even.
    let texts = [
        "0",
        "0.125",
        "0.375",
        "0.5",
        "1.5",
        "2.5",
        "-2.5",
        "-0.875",
        "7",
        "7.000",
        "246.46875",
        "1500",
        "1500.",
        "-15e2",
        "12345678.0625",
        "99.99609375",
        "-999.5",
    ];
    for text in texts {
        let reading: Reading = text.parse().unwrap();
        let binary: f64 = text.parse().unwrap();
        let mut add = |kind, value| {
            let binary = Some(binary);
            all.push(Number {
                kind,
                value,
                binary,
            });
        };
        add("Reading", Box::new(reading));
        add("Ratio", Box::new(reading.value()));
        #[cfg(feature = "class")]
        if (binary * 2.0).fract() == 0.0 {
            add("Marks", Box::new(Marks::from_halves((binary * 2.0) as i64)));
            if let Some(step) = MarkStep::of_size(&reading.value()) {
                add("MarkStep", Box::new(step));
            }
        }
        let places = reading.decimal_places();
        let rounded = reading.value().to_places(places, TieRule::Even);
        add("Rounded", Box::new(rounded));
        if binary > 0.0 {
            let technetium: Element = "Tc".parse().unwrap();
            let weights = AtomicWeights::default().with(technetium, reading);
            let formula: Formula = "Tc".parse().unwrap();
            let mass = formula.molar_mass(&weights.unwrap()).unwrap();
            add("MolarMass", Box::new(mass));
        }
    }
    // No decimal ends it, and its sixteen figures are those of the binary number.
    let third: Ratio = "-1/3".parse().unwrap();
    let (kind, binary) = ("Ratio", Some(-1.0 / 3.0));
    all.push(Number {
        kind,
        value: Box::new(third),
        binary,
    });
    for (value, uncertainty) in [("246.4666", 0.25), ("-1/3", 0.0)] {
        let value = Stated::new(&value.parse().unwrap(), uncertainty).unwrap();
        let (kind, binary) = ("Stated", None);
        all.push(Number {
            kind,
            value: Box::new(value),
            binary,
        });
    }
    all
}

/// The value and the standard library's number by each format.
macro_rules! by_formats {
    ($value:expr, $binary:expr, $($format:literal)+) => {
        [$(($format, format!($format, $value), format!($format, $binary))),+]
    };
}

/// Decimal places are those of the standard library's numbers.
#[test]
fn numbers_have_the_decimal_places_asked_for() {
    for number in numbers() {
        let (kind, value) = (number.kind, &number.value);
        let Some(binary) = number.binary else {
            continue;
        };
        let formats = by_formats!(
            value, binary,
            "{:.0}" "{:.1}" "{:.2}" "{:.3}" "{:.4}" "{:.10}" "{:+.2}" "{:10.2}" "{:<10.2}" "{:^10.2}" "{:>10.2}"
            "{:*<12.1}" "{:-^12.1}" "{:=>+12.3}" "{:08.2}" "{:+08.2}" "{:*<+08.2}" "{:2.1}" "{:016.1}"
        );
        for (format, printed, expected) in formats {
            // A value that is rounded to zero has no sign.
            if expected.contains('-') && !expected.contains(|c: char| ('1'..='9').contains(&c)) {
                continue;
            }
            assert_eq!(printed, expected, "{kind} {value} by `{format}`");
        }
    }
}

/// Without decimal places only the surroundings of the text change.
#[test]
fn numbers_have_the_width_and_the_sign_asked_for() {
    for Number { kind, value, .. } in numbers() {
        let plain = value.to_string();
        let (minus, digits) = match plain.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", plain.as_str()),
        };
        let plus = if minus.is_empty() { "+" } else { "-" };
        let signed = format!("{plus}{digits}");
        let missing = |width: usize, text: &str| width.saturating_sub(text.chars().count());
        // A fraction keeps its digits together: zeros would make it another one.
        let padded = |width: usize, sign: &str, text: &str| match text.contains('/') {
            true => format!("{text:>width$}"),
            false => format!("{sign}{}{digits}", "0".repeat(missing(width, text))),
        };
        for (printed, expected) in [
            (format!("{value:60}"), format!("{plain:>60}")),
            (format!("{value:<60}"), format!("{plain:<60}")),
            (format!("{value:*^60}"), format!("{plain:*^60}")),
            (format!("{value:1}"), plain.clone()),
            (format!("{value:+}"), signed.clone()),
            (format!("{value:+60}"), format!("{signed:>60}")),
            (format!("{value:050}"), padded(50, minus, &plain)),
            (format!("{value:+050}"), padded(50, plus, &signed)),
        ] {
            assert_eq!(printed, expected, "{kind} {plain}");
        }
    }
}

#[test]
fn known_numbers() {
    let salt: Formula = "MgSO4·7H2O".parse().unwrap();
    let mass = salt.molar_mass(&AtomicWeights::default()).unwrap();
    assert_eq!(format!("{mass}"), "246.466");
    assert_eq!(format!("{mass:.2}"), "246.47");
    assert_eq!(format!("{mass:.0}"), "246");
    assert_eq!(format!("{mass:010.1}|{mass:<8.1}|"), "00000246.5|246.5   |");
    let reading: Reading = "2.5".parse().unwrap();
    assert_eq!(format!("{reading:.3} {reading:.0}"), "2.500 2");
    let third = Ratio::new(1, 3).unwrap();
    assert_eq!(
        format!("{third:.2} {third:8}|{:8.0}|", -third.clone()),
        "0.33      1/3|       0|"
    );
    assert_eq!(
        format!("{:05}|{:+06}|", -third.clone(), third),
        " -1/3|  +1/3|"
    );
    // An uncertainty keeps a figure, because zero would be none at all.
    let mass = Stated::new(&"246.466".parse().unwrap(), 0.011).unwrap();
    assert_eq!(
        format!("{mass:.1} {mass:.0} {mass:.2}"),
        "246.47 ± 0.01 246.47 ± 0.01 246.47 ± 0.01"
    );
    let wide = Stated::new(&"4530".parse().unwrap(), 120.0).unwrap();
    assert_eq!(format!("{wide:.0} {wide:.1}"), "4530 ± 120 4530.0 ± 120.0");
    let stated = Stated::new(&"6.988806".parse().unwrap(), 0.01268).unwrap();
    assert_eq!(format!("{stated} {stated:.2}"), "6.989 ± 0.013 6.99 ± 0.01");
    // No more than so many are printed.
    let places = format!("{third:.1000}");
    assert_eq!(places.len(), "0.".len() + 400);
}

/// One text of each type of the feature `exercise`.
#[cfg(feature = "exercise")]
fn exercise_texts() -> Vec<(&'static str, Box<dyn Display>)> {
    use effloresce::exercise::{Kind, Operation, Skill};
    vec![
        ("Kind", Box::new(Kind::Yield)),
        ("Operation", Box::new(Operation::Heat)),
        ("Skill", Box::new(Skill::MolarMass)),
    ]
}

/// One text of each type.
#[cfg(feature = "class")]
fn texts() -> Vec<(&'static str, Box<dyn Display>)> {
    use effloresce::class::{BenchGroup, FiguresRule, FormulaRule, OutlierTest, Sheet, Verdict};
    use effloresce::element::{Atom, Edition, Values};
    use effloresce::formula::State;
    use effloresce::gravimetry::{Advice, Net, Quantity, Severity, UncertaintyPart, WeighingUsed};
    use effloresce::mistake::{Fault, Slip};
    use effloresce::reaction::{Conserved, Equation};

    let hydrate: Formula = "MgSO4·7H2O".parse().unwrap();
    let (_, notes) = Formula::read("MgSO47H2O").unwrap();
    let equation: Equation = "2H2 + O2 -> 2H2O".parse().unwrap();
    let carbon: Element = "C".parse().unwrap();
    let labelled = Atom::labelled(carbon, 13).unwrap();
    let sheet = "bench,pupil,hydrate_g,residue_g\nHeron,a,2.6x6,1.303\n";
    let problem = Sheet::read(sheet.as_bytes()).unwrap().problems()[0].clone();
    vec![
        ("Advice", Box::new(Advice::HeatAgain)),
        ("Atom", Box::new(labelled)),
        (
            "AtomicWeights",
            Box::new(AtomicWeights::default().decimals(1)),
        ),
        ("Conserved", Box::new(Conserved::Atom(labelled))),
        ("Edition", Box::new(Edition::Iupac2024)),
        ("Element", Box::new(carbon)),
        ("Species", Box::new(equation.species()[0].clone())),
        ("Equation", Box::new(equation)),
        ("Fault", Box::new(Fault::SolidLost)),
        ("HydrateName", Box::new(hydrate.name().unwrap())),
        ("Formula", Box::new(hydrate)),
        ("Note", Box::new(notes[0].clone())),
        ("Problem", Box::new(problem)),
        ("Quantity", Box::new(Quantity::Ratio)),
        ("Slip", Box::new(Slip::ALL[0])),
        ("Verdict", Box::new(Verdict::CarriedForward)),
        ("FiguresRule", Box::new(FiguresRule::OneMark)),
        ("FormulaRule", Box::new(FormulaRule::OwnRatio)),
        ("Net", Box::new(Net::Tared)),
        ("BenchGroup", Box::new(BenchGroup::AtConstantMass)),
        ("OutlierTest", Box::new(OutlierTest::Dixon)),
        ("State", Box::new(State::Aqueous)),
        ("TieRule", Box::new(TieRule::Even)),
        ("Values", Box::new(Values::Full)),
        ("Severity", Box::new(Severity::FumeCupboard)),
        ("UncertaintyPart", Box::new(UncertaintyPart::SlowLoss)),
        ("WeighingUsed", Box::new(WeighingUsed::MeanOfLastTwo)),
    ]
}

#[cfg(feature = "class")]
#[test]
fn texts_have_the_width_asked_for() {
    #[cfg(feature = "exercise")]
    let all = texts().into_iter().chain(exercise_texts());
    #[cfg(not(feature = "exercise"))]
    let all = texts();
    for (kind, text) in all {
        let plain = text.to_string();
        assert!(!plain.is_empty() && !plain.contains('\n'), "{kind}");
        assert_eq!(format!("{text:300}"), format!("{plain:300}"), "{kind}");
        assert_eq!(format!("{text:*>300}"), format!("{plain:*>300}"), "{kind}");
        assert_eq!(format!("{text:^300}"), format!("{plain:^300}"), "{kind}");
    }
}
