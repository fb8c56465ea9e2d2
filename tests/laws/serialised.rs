//! What the library serialises, it reads back equal. What its constructors refuse, its readers refuse.

use std::fmt::{Debug, Display};
use std::str::FromStr;

use effloresce::class::{
    Band, BenchGroup, Entry, FiguresRule, FormulaRule, OutlierTest, Policy, Stock, Tolerance,
    Verdict,
};
use effloresce::element::{Edition, Element, Values};
use effloresce::formula::State;
use effloresce::gravimetry::{
    Advice, ConstantMass, Method, Net, Outcome, Quantity, Severity, UncertaintyPart, WeighingUsed,
    Weighings,
};
use effloresce::mistake::{Fault, Slip};
use effloresce::number::TieRule;
use effloresce::reaction::Equation;
use effloresce::{AtomicWeights, Formula, Ratio, Reading};
use proptest::collection::{btree_map, vec};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::strategies::{Spelling, bench, meaning, ratio, reading};

/// A value through JSON text and through a tree of JSON values.
#[track_caller]
fn comes_back<T: Serialize + DeserializeOwned + PartialEq + Debug>(value: &T) {
    let text = serde_json::to_string(value).expect("it can be written");
    let back: T = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(&back, value, "{text}");
    let tree = serde_json::to_value(value).expect("it can be written");
    let back: T = serde_json::from_value(tree).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(&back, value, "{text}");
}

/// The error of a text that must not be read.
#[track_caller]
fn refused<T: DeserializeOwned + Debug>(json: &str) -> String {
    let read = serde_json::from_str::<T>(json);
    read.expect_err(json).to_string()
}

#[track_caller]
fn refuses<T: DeserializeOwned + Debug>(json: &str, message: &str) {
    let error = refused::<T>(json);
    assert!(error.starts_with(message), "{json}: {error}");
}

// ---- codes

/// Every value of an enum comes back from its code, and another text is refused with advice.
#[track_caller]
fn has_codes<T>(all: &[T], code: impl Fn(T) -> &'static str) -> usize
where
    T: FromStr<Err: Display> + Serialize + DeserializeOwned + PartialEq + Debug + Copy,
{
    for value in all {
        let written = code(*value);
        assert_eq!(written.parse::<T>().ok(), Some(*value), "{written}");
        assert_eq!(serde_json::to_value(value).ok(), Some(written.into()));
        comes_back(value);
    }
    let error = "nothing".parse::<T>().map_err(|error| error.to_string());
    let error = error.expect_err("no code");
    assert!(
        error.starts_with("`nothing` is not one of the codes for "),
        "{error}"
    );
    let told = refused::<T>(r#""nothing""#);
    assert!(told.starts_with(&error), "{told}");
    assert!(told.contains(&format!("`{}`", code(all[0]))), "{told}");
    assert!(refused::<T>("3").contains("expected one of the codes for "));
    all.len()
}

#[test]
fn every_code_is_read_back() {
    let codes = has_codes(&TieRule::ALL, TieRule::code)
        + has_codes(&Edition::ALL, Edition::year)
        + has_codes(&Values::ALL, Values::code)
        + has_codes(&State::ALL, State::code)
        + has_codes(&Quantity::ALL, Quantity::code)
        + has_codes(&WeighingUsed::ALL, WeighingUsed::code)
        + has_codes(&Net::ALL, Net::code)
        + has_codes(&Advice::ALL, Advice::code)
        + has_codes(&UncertaintyPart::ALL, UncertaintyPart::code)
        + has_codes(&Severity::ALL, Severity::code)
        + has_codes(Slip::ALL, Slip::code)
        + has_codes(&Fault::ALL, Fault::code)
        + has_codes(&Verdict::ALL, Verdict::code)
        + has_codes(&FiguresRule::ALL, FiguresRule::code)
        + has_codes(&FormulaRule::ALL, FormulaRule::code)
        + has_codes(&BenchGroup::ALL, BenchGroup::code)
        + has_codes(&OutlierTest::ALL, OutlierTest::code);
    assert_eq!(codes, 99);
}

#[test]
fn a_code_that_is_nearly_right_is_named() {
    let error = "percent-water".parse::<Quantity>().unwrap_err();
    assert_eq!(error.code(), "out_of_range");
    assert_eq!(error.help(), Some("did you mean `percent_water`?"));
    // A year is not a misspelling of another.
    let error = "2022".parse::<Edition>().unwrap_err();
    assert_eq!(error.help(), Some("write one of `2021` and `2024`"));
    refuses::<Slip>(
        r#""ratio_invertd""#,
        "`ratio_invertd` is not one of the codes for slips (did you mean `ratio_inverted`?)",
    );
}

// ---- numbers

#[test]
fn a_number_in_place_of_a_text_is_refused_with_the_reason() {
    let lost = "text in quotation marks such as \"2.50\", because a number loses its final zeros";
    for (json, found) in [("2.5", "floating point `2.5`"), ("25", "integer `25`")] {
        refuses::<Reading>(json, &format!("invalid type: {found}, expected {lost}"));
    }
    // The same from a tree of values, and inside of everything that holds readings.
    let error = serde_json::from_value::<Reading>(2.5.into()).unwrap_err();
    assert!(error.to_string().contains(lost), "{error}");
    for error in [
        refused::<Weighings>(r#"{"crucible": "21.352", "crucible_hydrate": 24.01, "heated": []}"#),
        refused::<Weighings>(
            r#"{"crucible": "21.352", "crucible_hydrate": "24", "heated": [22.6]}"#,
        ),
        refused::<Weighings>(r#"{"percent_water": 51.1}"#),
        refused::<Policy>(r#"{"stock": {"percent_water": 51.1}}"#),
        refused::<Entry>(r#"{"bench": "Wren", "reported": {"ratio": 6.9}}"#),
    ] {
        assert!(error.contains(lost), "{error}");
    }
    let exact = "because a number may not be exact";
    assert!(refused::<Ratio>("0.1").contains(exact));
}

/// Final zeros of a setting mean nothing, so a number says the same as its text.
#[test]
fn a_setting_is_text_or_a_number() {
    #[track_caller]
    fn same<T: DeserializeOwned + PartialEq + Debug>(number: &str, text: &str) {
        let [number, text] = [number, text].map(|json| {
            let read = serde_json::from_str::<T>(json);
            read.unwrap_or_else(|error| panic!("{json}: {error}"))
        });
        assert_eq!(number, text);
    }
    for (number, text) in [
        (r#"{"absolute": 0.002}"#, r#"{"absolute": "0.002"}"#),
        (r#"{"per_gram": 1e-7}"#, r#"{"per_gram": "0.0000001"}"#),
        (r#"{"relative": 1}"#, r#"{"relative": "1"}"#),
        (r#"{"divisions": 3}"#, r#"{"divisions": "3"}"#),
    ] {
        same::<ConstantMass>(number, text);
    }
    for (number, text) in [
        (r#"{"readability": 0.001}"#, r#"{"readability": "1 mg"}"#),
        (
            r#"{"repeatability": 0.003}"#,
            r#"{"repeatability": "0.003"}"#,
        ),
        (r#"{"coverage": 3}"#, r#"{"coverage": "3.0"}"#),
        (
            r#"{"candidates": [1, 0.5, 7]}"#,
            r#"{"candidates": ["1", "1/2", "7"]}"#,
        ),
        (
            r#"{"weights": {"override": {"Cl": 35.45}}}"#,
            r#"{"weights": {"override": {"Cl": "35.45"}}}"#,
        ),
        (
            r#"{"weights": {"decimals": 1}}"#,
            r#"{"weights": {"decimals": "1"}}"#,
        ),
    ] {
        same::<Method>(number, text);
    }
    for (number, text) in [
        (
            r#"{"accuracy": [{"within_percent": 1, "marks": 2}]}"#,
            r#"{"accuracy": [{"within_percent": "1 %", "marks": "2"}]}"#,
        ),
        (
            r#"{"tolerance": {"ratio": {"absolute": 0.05}}}"#,
            r#"{"tolerance": {"ratio": {"absolute": "0.05"}}}"#,
        ),
        (
            r#"{"tolerance": {"ratio": {"percent": 5}}}"#,
            r#"{"tolerance": {"ratio": {"percent": "5"}}}"#,
        ),
        (
            r#"{"step": 0.5, "tolerance": {"ratio": {"bands": [{"within": 0.1, "marks": 1.5}]}}}"#,
            r#"{"step": "0.5", "tolerance": {"ratio": {"bands": [{"within": "0.1", "marks": "1.5"}]}}}"#,
        ),
        (
            r#"{"issued_percent_water": 50.9}"#,
            r#"{"issued_percent_water": "50.9"}"#,
        ),
    ] {
        same::<Policy>(number, text);
    }
    same::<Entry>(
        r#"{"bench": 3, "period": 2, "readability": 0.001}"#,
        r#"{"bench": "3", "period": "2", "readability": "0.001"}"#,
    );
    // A field that is null is not given, as in the contract.
    same::<Policy>(r#"{"marks": null, "step": null}"#, "{}");
    same::<Method>(r#"{"coverage": null, "weights": {"override": null}}"#, "{}");
}

// ---- values

fn mass() -> impl Strategy<Value = Reading> {
    (0..=10_000_000_i128, 0..=6_u32).prop_map(|(units, places)| reading(units, places))
}

fn weighings() -> impl Strategy<Value = Weighings> {
    prop_oneof![
        bench().prop_map(|bench| bench.weighings()),
        (mass(), mass(), vec(mass(), 0..4)).prop_map(|(a, b, c)| Weighings::new(a, b, c)),
        (mass(), mass(), select(&Net::ALL)).prop_map(|(h, r, net)| Weighings::net(h, r, net)),
        mass().prop_map(Weighings::percent_water),
    ]
}

fn criterion() -> impl Strategy<Value = ConstantMass> {
    prop_oneof![
        any::<u32>().prop_map(ConstantMass::Divisions),
        mass().prop_map(ConstantMass::Absolute),
        mass().prop_map(ConstantMass::PerGram),
        mass().prop_map(ConstantMass::Relative),
    ]
}

prop_compose! {
    fn weights()(
        edition in select(&Edition::ALL),
        values in select(&Values::ALL),
        rounding in of((any::<bool>(), any::<u8>())),
        ties in select(&TieRule::ALL),
        overrides in btree_map(1..=118_u8, 1..=10_000_000_i128, 0..4),
    ) -> AtomicWeights {
        let mut weights = AtomicWeights::new(edition).values(values).ties(ties);
        weights = match rounding {
            None => weights,
            Some((true, n)) => weights.decimals(n),
            Some((false, n)) => weights.figures(n),
        };
        for (number, weight) in overrides {
            let element = Element::from_number(number).expect("1 to 118");
            weights = weights.with(element, reading(weight, 4)).expect("it is positive");
        }
        weights
    }
}

prop_compose! {
    fn method()(
        (weights, criterion, used) in (weights(), criterion(), select(&WeighingUsed::ALL)),
        step in of((1..=1000_i128, 0..=6_u32)),
        (one, linearity) in (0.0..1e3_f64, 0.0..1e-3_f64),
        (relative, coverage) in (0.0..=1.0_f64, 1e-9..=100.0_f64),
        candidates in of(vec(ratio(), 1..5)),
    ) -> Method {
        let mut method = Method::new()
            .weights(weights)
            .constant_mass(criterion)
            .weighing_used(used)
            .balance_repeatability(one)
            .and_then(|method| method.balance_linearity(linearity))
            .and_then(|method| method.repeatability(relative))
            .and_then(|method| method.coverage(coverage))
            .expect("all are in their ranges");
        if let Some((units, places)) = step {
            method = method.readability(reading(units, places)).expect("it is positive");
        }
        if let Some(degrees) = candidates {
            let degrees = degrees.iter().map(|n| &n.abs() + &Ratio::ONE);
            method = method.candidates(degrees).expect("they are positive");
        }
        method
    }
}

/// Bands from the narrowest with the most marks.
fn bands() -> impl Strategy<Value = Vec<Band>> {
    (vec(1..=4_i128, 1..5), 0..=2_u32).prop_map(|(steps, places)| {
        let mut width = 0;
        let bands = (1..=steps.len() as u32).rev().zip(steps);
        let bands = bands.map(|(marks, step)| {
            width += step;
            Band::new(reading(width, places), marks)
        });
        bands.collect()
    })
}

fn tolerance() -> impl Strategy<Value = Tolerance> {
    prop_oneof![
        mass().prop_map(Tolerance::Absolute),
        (0..=100_i128).prop_map(|percent| Tolerance::RelativePercent(reading(percent, 0))),
        Just(Tolerance::NearestWhole),
        bands().prop_map(Tolerance::Bands),
        bands().prop_map(Tolerance::PercentBands),
    ]
}

fn stock() -> impl Strategy<Value = Stock> {
    prop_oneof![
        (1..10_000_i128).prop_map(|units| Stock::PercentWater(reading(units, 2))),
        weighings().prop_map(Stock::Weighings),
    ]
}

prop_compose! {
    fn policy()(
        marks in btree_map(select(&Quantity::ALL), 0..=100_u32, 0..8),
        tolerances in btree_map(select(&Quantity::ALL), tolerance(), 0..8),
        figures in select(&FiguresRule::ALL),
        formula in select(&FormulaRule::ALL),
        accuracy in of(bands()),
        stock in of(stock()),
    ) -> Policy {
        let mut policy = Policy::new().figures(figures).formula(formula);
        for (quantity, marks) in marks {
            policy = policy.marks(quantity, marks).expect("there are no bands yet");
        }
        for (quantity, tolerance) in tolerances {
            // A formula has none, and bands do not go with marks.
            policy = policy.clone().tolerance(quantity, tolerance).unwrap_or(policy);
        }
        if let Some(bands) = accuracy {
            policy = policy.accuracy(bands).expect("they ascend");
        }
        match stock {
            Some(stock) => policy.stock(stock),
            None => policy,
        }
    }
}

prop_compose! {
    fn entry()(
        (bench, pupil, balance, period, issued) in
            ("[a-zé]{1,3}.{0,9}", ".{0,12}", "[A-Z -]{0,4}", "[0-9 ]{0,2}", "(MgSO4·7H2O|x|-)?"),
        weighings in of(weighings()),
        readability in of(mass()),
        stand_in in any::<bool>(),
        reported in btree_map(select(&Quantity::ALL), "(1 : )?[0-9]{1,3}[.,]?[0-9]{0,3}( g)?|-|.{0,8}", 0..8),
    ) -> Entry {
        let mut entry = Entry::new(bench)
            .pupil(pupil)
            .balance(balance)
            .period(period)
            .issued(issued)
            .stand_in(stand_in);
        if let Some(weighings) = weighings {
            entry = entry.weighings(weighings);
        }
        if let Some(step) = readability {
            entry = entry.readability(step);
        }
        let mut reported = reported.into_iter();
        reported.try_fold(entry, |entry, (quantity, text)| Some(entry.reported(quantity, text)))
            .expect("all can be reported")
    }
}

fn formula() -> impl Strategy<Value = Formula> {
    (meaning(), any::<u64>()).prop_map(|(meaning, seed)| {
        let text = Spelling::new(seed).write(&meaning);
        let (formula, _) = Formula::read(&text).expect("a spelling is a formula");
        formula
    })
}

fn outcome() -> impl Strategy<Value = Outcome> {
    prop_oneof![
        formula().prop_map(Outcome::Resolved),
        formula().prop_map(Outcome::Approximate),
        vec(formula(), 2..4).prop_map(Outcome::Ambiguous),
        Just(Outcome::Inconsistent),
    ]
}

proptest! {
    #[test]
    fn numbers_come_back(mass in mass(), number in ratio()) {
        comes_back(&mass);
        comes_back(&number);
    }

    #[test]
    fn weighings_come_back(weighings in weighings()) {
        comes_back(&weighings);
    }

    #[test]
    fn methods_come_back(method in method()) {
        comes_back(&method);
    }

    #[test]
    fn policies_come_back(policy in policy()) {
        comes_back(&policy);
    }

    #[test]
    fn entries_come_back(entry in entry()) {
        comes_back(&entry);
    }

    #[test]
    fn formulas_and_outcomes_come_back(formula in formula(), outcome in outcome()) {
        comes_back(&formula);
        comes_back(&outcome);
    }

    /// Any JSON is read or refused.
    #[test]
    fn nothing_panics(keys in vec("(crucible|heated|marks|tolerance|ratio|bench|reported|weights)", 0..4), value in "[\\[\\]{}\":,0-9a-z.]{0,20}") {
        let members: Vec<String> = keys.iter().map(|key| format!("\"{key}\":{value}")).collect();
        let json = format!("{{{}}}", members.join(","));
        let _ = serde_json::from_str::<Weighings>(&json);
        let _ = serde_json::from_str::<Method>(&json);
        let _ = serde_json::from_str::<Policy>(&json);
        let _ = serde_json::from_str::<Entry>(&json);
    }
}

fn json<T: Serialize>(value: &T) -> String {
    serde_json::to_string(value).expect("it can be written")
}

#[test]
fn shapes_are_those_of_the_contract() {
    let reading = |text: &str| text.parse::<Reading>().unwrap();
    let bench = Weighings::new(reading("21.352"), reading("24.018"), [reading("22.70")]);
    assert_eq!(
        json(&bench),
        r#"{"crucible":"21.352","crucible_hydrate":"24.018","heated":["22.70"]}"#
    );
    let net = Weighings::net(reading("2.666"), reading("1.303"), Net::Subtracted);
    assert_eq!(
        json(&net),
        r#"{"hydrate_mass":"2.666","residue_mass":"1.303","net":"subtracted"}"#
    );
    assert_eq!(
        json(&ConstantMass::Absolute(reading("0.002"))),
        r#"{"absolute":"0.002"}"#
    );
    let resolved = Outcome::Resolved("MgSO4.7H2O".parse().unwrap());
    assert_eq!(
        json(&resolved),
        r#"{"outcome":"resolved","formula":"MgSO4·7H2O"}"#
    );
    let calcium = ["CaSO4.0.5H2O", "CaSO4.H2O"].map(|text| text.parse().unwrap());
    assert_eq!(
        json(&Outcome::Ambiguous(calcium.into())),
        r#"{"outcome":"ambiguous","formula":null,"formulas":["CaSO4·0.5H2O","CaSO4·H2O"]}"#
    );
    assert_eq!(
        json(&Outcome::Inconsistent),
        r#"{"outcome":"inconsistent","formula":null}"#
    );
    let equation: Equation = "2H2 + O2 -> 2H2O".parse().unwrap();
    assert_eq!(json(&equation), r#""2H2 + O2 -> 2H2O""#);
    let method = Method::new().readability(reading("0.001")).unwrap();
    assert_eq!(
        json(&method),
        concat!(
            r#"{"weights":{"edition":"2024","values":"abridged","decimals":null,"figures":null,"#,
            r#""ties":"away","override":{}},"constant_mass":{"divisions":2},"weighing_used":"last","#,
            r#""residue":null,"readability":"0.001","balance_repeatability":"0.0","balance_linearity":"0.0","#,
            r#""repeatability":null,"coverage":"2.0","candidates":null}"#
        )
    );
    let policy = Policy::new()
        .marks(Quantity::Ratio, 3)
        .and_then(|p| p.tolerance(Quantity::Ratio, Tolerance::NearestWhole))
        .and_then(|p| p.accuracy([Band::new(reading("1"), 2)]))
        .unwrap()
        .stock(Stock::PercentWater(reading("50.9")));
    assert_eq!(
        json(&policy),
        concat!(
            r#"{"marks":{"ratio":3},"figures":"remark","tolerance":{"ratio":{"nearest":"whole"}},"#,
            r#""accuracy":[{"within_percent":"1","marks":2}],"issued_percent_water":"50.9"}"#
        )
    );
}

// ---- what is refused

#[test]
fn an_unknown_field_is_named() {
    let unknown = |json: &str, field: &str, of: &dyn Fn(&str) -> String| {
        let error = of(json);
        assert!(
            error.starts_with(&format!("unknown field `{field}`")),
            "{error}"
        );
    };
    unknown(
        r#"{"crucibel": "21.352"}"#,
        "crucibel",
        &refused::<Weighings>,
    );
    unknown(
        r#"{"repeatabilty": "0"}"#,
        "repeatabilty",
        &refused::<Method>,
    );
    unknown(
        r#"{"weights": {"years": "2024"}}"#,
        "years",
        &refused::<Method>,
    );
    unknown(r#"{"mark": {}}"#, "mark", &refused::<Policy>);
    unknown(
        r#"{"accuracy": [{"within": "1", "marks": 1}]}"#,
        "within",
        &refused::<Policy>,
    );
    unknown(
        r#"{"bench": "Wren", "group": "b"}"#,
        "group",
        &refused::<Entry>,
    );
    unknown(r#"{"grams": "1"}"#, "grams", &refused::<ConstantMass>);
    unknown(r#"{"verdict": "resolved"}"#, "verdict", &refused::<Outcome>);
}

/// What is wrong is said with what to write.
#[test]
fn an_error_names_the_likely_field_or_all() {
    let absolute = "unknown field `absolut` (did you mean `absolute`?)";
    refuses::<ConstantMass>(r#"{"absolut": "1"}"#, absolute);
    refuses::<Tolerance>(r#"{"absolut": "1"}"#, absolute);
    refuses::<Weighings>(
        r#"{"crucibel": "21.352"}"#,
        "unknown field `crucibel` (did you mean `crucible`?)",
    );
    refuses::<Method>(
        r#"{"weights": {"years": "2024"}}"#,
        "unknown field `years` (the fields are `edition`, `values`, `decimals`, `figures`, `ties` and \
         `override`)",
    );
    refuses::<Method>(
        r#"{"constant_mass": {}}"#,
        "the object does not say the criterion (give one of `divisions`, `absolute` (grams), `per_gram` \
         and `relative` (a fraction))",
    );
    refuses::<Policy>(
        r#"{"tolerance": {"ratio": {}}}"#,
        "the object does not say the tolerance (give one of `absolute`, `percent`, `nearest`, `bands` \
         and `percent_bands`)",
    );
    refuses::<Policy>(
        r#"{"tolerance": {"ratio": {"absolute": 1, "percent": 1}}}"#,
        "`absolute` and `percent` cannot be given together (give one of",
    );
    refuses::<Policy>(
        r#"{"tolerance": {"ratio": {"nearest": "hole"}}}"#,
        "`hole` is not one of the codes for rounded values (write one of `whole`)",
    );
    refuses::<Policy>(
        r#"{"accuracy": [{"within_percent": 1}]}"#,
        "`marks` is missing (give each band, such as {\"within_percent\": 1, \"marks\": 2})",
    );
    refuses::<Policy>(
        r#"{"marks": {"ratio": -1}}"#,
        "`-1` is not a number of marks (write whole or half marks, such as 2 or 0.5)",
    );
    refuses::<AtomicWeights>(
        r#"{"decimals": -1}"#,
        "`-1` is not a whole number from 0 to 255 (write a whole number, such as 2)",
    );
    refuses::<ConstantMass>(
        r#"{"absolute": true}"#,
        "invalid type: boolean `true`, expected a number, such as 0.05",
    );
    refuses::<Method>(
        r#"{"coverage": "2", "coverage": "3"}"#,
        "`coverage` is given twice",
    );
    refuses::<Policy>("[]", "invalid type: sequence, expected an object");
}

#[test]
fn an_outcome_has_the_formulas_that_it_names() {
    refuses::<Outcome>(
        r#""resolved""#,
        "invalid type: string \"resolved\", expected an object",
    );
    refuses::<Outcome>(
        "{}",
        "`outcome` is missing (write one of `resolved`, `approximate`, `ambiguous` and `inconsistent`)",
    );
    refuses::<Outcome>(
        r#"{"outcome": "aproximate"}"#,
        "`aproximate` is not one of the codes for outcomes",
    );
    let one = "the outcome `resolved` has exactly one formula (give it as `formula`,";
    refuses::<Outcome>(r#"{"outcome": "resolved"}"#, one);
    refuses::<Outcome>(r#"{"outcome": "resolved", "formulas": ["NaCl"]}"#, one);
    refuses::<Outcome>(
        r#"{"outcome": "ambiguous", "formula": "NaCl"}"#,
        "the outcome `ambiguous` has several formulas (give them as `formulas`,",
    );
    refuses::<Outcome>(
        r#"{"outcome": "inconsistent", "formula": "NaCl"}"#,
        "the outcome `inconsistent` has no formula (leave",
    );
}

/// The bench of an entry, and the stock of a policy, by the names of the contract.
#[test]
fn what_a_row_and_a_policy_must_name() {
    let help = r#"(name the bench, as in `"bench": "Heron"`)"#;
    for (row, what) in [
        ("{}", "missing"),
        (r#"{"bench": " "}"#, "empty"),
        (r#"{"bench": null}"#, "missing"),
    ] {
        refuses::<Entry>(row, &format!("`bench` is {what} {help}"));
    }
    refuses::<Policy>(
        r#"{"jar": {"percent_water": "51"}}"#,
        "unknown field `jar` (did you mean `stock`?)",
    );
    for (toml, help) in [
        (
            "issued_percent_water = 50.9",
            "did you mean `jar.percent_water`?",
        ),
        ("[stock]\npercent_water = 50.9", "did you mean `jar`?"),
    ] {
        let error = Policy::from_toml(toml).unwrap_err();
        assert_eq!(error.help(), Some(help), "{error}");
    }
}

#[test]
fn what_a_constructor_refuses_is_refused() {
    refuses::<Method>(
        r#"{"coverage": "0"}"#,
        "0 is not a coverage factor (give a number above 0 and up to 100, usually 2)",
    );
    refuses::<Method>(r#"{"coverage": "NaN"}"#, "NaN is not a coverage factor");
    refuses::<Method>(r#"{"coverage": "two"}"#, "`two` is not a number");
    refuses::<Method>(
        r#"{"repeatability": 1.5}"#,
        "1.5 is not a relative standard deviation",
    );
    refuses::<Method>(
        r#"{"balance_linearity": "inf"}"#,
        "inf g is not an uncertainty",
    );
    refuses::<Method>(
        r#"{"readability": "0"}"#,
        "a balance cannot have a readability of 0 g",
    );
    refuses::<Method>(r#"{"candidates": []}"#, "the list of candidates is empty");
    refuses::<Method>(
        r#"{"candidates": ["-1"]}"#,
        "-1 is not a degree of hydration",
    );
    refuses::<ConstantMass>(
        r#"{"absolute": "-1"}"#,
        "-1 is not a criterion for constant mass",
    );
    refuses::<AtomicWeights>(r#"{"override": {"Cl": "0"}}"#, "the atomic weight 0 of Cl");
    refuses::<AtomicWeights>(
        r#"{"override": {"Cl": "35", "Cl": "36"}}"#,
        "Cl is given twice",
    );
    refuses::<AtomicWeights>(
        r#"{"override": {"cl": "35"}}"#,
        "`cl` is not the symbol of an element",
    );
    refuses::<AtomicWeights>(
        r#"{"decimals": 1, "figures": 3}"#,
        "a table cannot be rounded both to decimals and to figures",
    );
    refuses::<Weighings>("{}", "there are no readings (give `crucible`");
    refuses::<Weighings>(
        r#"{"crucible": "21", "residue_mass": "1.3"}"#,
        "these are not the readings of one bench: `crucible` and `residue_mass` (give `crucible`",
    );
    refuses::<Weighings>(
        r#"{"percent_water": "51", "hydrate_mass": "2", "residue_mass": "1"}"#,
        "these are not the readings of one bench: `hydrate_mass`, `residue_mass` and `percent_water`",
    );
    refuses::<Policy>(r#"{"marks": {"ratio": 101}}"#, "101 marks are too many");
    refuses::<Policy>(
        r#"{"marks": {"ratio": 1, "ratio": 2}}"#,
        "mole ratio is given twice",
    );
    refuses::<Policy>(
        r#"{"tolerance": {"formula": {"absolute": "1"}}}"#,
        "a formula is right or wrong and has no tolerance",
    );
    refuses::<Policy>(
        r#"{"tolerance": {"ratio": {"absolute": "-1"}}}"#,
        "a tolerance of -1",
    );
    refuses::<Policy>(r#"{"accuracy": []}"#, "the list has no band");
    refuses::<Policy>(
        r#"{"issued_percent_water": "100"}"#,
        "no hydrate contains 100 % water",
    );
    refuses::<Policy>(
        r#"{"issued_percent_water": "51", "stock": {"percent_water": "51"}}"#,
        "`issued_percent_water` and `stock` both say what the stock holds",
    );
    refuses::<Formula>(
        r#""CuS04""#,
        "the count after `S` begins with a zero (write the letter O",
    );
}
