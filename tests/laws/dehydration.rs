//! From weighings to a ratio: what must not change it, the limits that it must lie between, and its
//! sensitivities.

use effloresce::element::{Edition, StandardWeight, Values};
use effloresce::gravimetry::{
    Advice, Candidate, Check, ConstantMass, Dehydration, Method, MoleRatio, Net, Quantity,
    WeighingUsed, Weighings,
};
use effloresce::{AtomicWeights, Element, Formula, Ratio, Reading};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use crate::strategies::{Bench, Salt, WATER, bench, ratio_of, reading, ten_to, written};

const MEASURED: [Quantity; 7] = [
    Quantity::HydrateMass,
    Quantity::ResidueMass,
    Quantity::WaterMass,
    Quantity::PercentWater,
    Quantity::MolSalt,
    Quantity::MolWater,
    Quantity::Ratio,
];

fn salt(bench: &Bench) -> Formula {
    bench.salt.formula.parse().unwrap()
}

fn run(method: &Method, bench: &Bench) -> Dehydration {
    method
        .dehydration(&salt(bench), &bench.weighings())
        .unwrap()
}

/// Criteria that do not depend on the unit of mass.
fn criterion() -> impl Strategy<Value = ConstantMass> {
    let small = |text: &str| -> Reading { text.parse().unwrap() };
    select(vec![
        ConstantMass::Divisions(0),
        ConstantMass::Divisions(2),
        ConstantMass::Divisions(20),
        ConstantMass::PerGram(small("0.0005")),
        ConstantMass::Relative(small("0.001")),
    ])
}

fn used() -> impl Strategy<Value = WeighingUsed> {
    select(vec![
        WeighingUsed::Last,
        WeighingUsed::Lowest,
        WeighingUsed::MeanOfLastTwo,
    ])
}

fn class_table() -> impl Strategy<Value = AtomicWeights> {
    let by_hand = |table: AtomicWeights, symbol: &str, weight: &str| {
        table
            .with(symbol.parse().unwrap(), weight.parse().unwrap())
            .unwrap()
    };
    let plain = AtomicWeights::default;
    select(vec![
        plain(),
        plain().values(Values::Full),
        plain().values(Values::Conventional),
        AtomicWeights::new(Edition::Iupac2021),
        plain().decimals(0),
        by_hand(plain().decimals(0), "Cl", "35.5"),
        plain().decimals(1),
        plain().decimals(2),
        plain().figures(2),
        plain().figures(3),
        by_hand(plain(), "O", "16"),
    ])
}

// --- what must not change ----------------------------------------------------------------

proptest! {
    #[test]
    fn a_power_of_ten_does_not_matter(
        bench in bench(), places in 0_u32..=7, criterion in criterion(), used in used(),
    ) {
        let scaled = Bench { places, ..bench.clone() };
        let method = Method::new().constant_mass(criterion).weighing_used(used);
        let (a, b) = (run(&method, &bench), run(&method, &scaled));
        prop_assert_eq!(a.ratio(), b.ratio());
        prop_assert_eq!(a.percent_water(), b.percent_water());
        prop_assert_eq!(a.figures(), b.figures());
        prop_assert_eq!(a.outcome(), b.outcome());
        prop_assert_eq!(a.nearest(), b.nearest());
        let (ranges_a, ranges_b) = (a.defensible(), b.defensible());
        for quantity in [Quantity::PercentWater, Quantity::Ratio] {
            prop_assert_eq!(ranges_a.interval(quantity), ranges_b.interval(quantity));
        }
        let reached = |run: &Dehydration| run.constant_mass().and_then(effloresce::gravimetry::Constancy::reached);
        prop_assert_eq!(reached(&a), reached(&b));
        let (u, v) = (a.standard_uncertainty(), b.standard_uncertainty());
        prop_assert!((u - v).abs() <= 1e-9 * u, "{} and {}", u, v);
    }

    /// The readings in another unit that is in any ratio to grams: `n` units of `q` become
    /// `n` units of `p`, the readability with them.
    #[test]
    fn any_scale_does_not_matter(bench in bench(), p in 1_i128..500, q in 1_i128..500) {
        let at = |step: i128| {
            let shown = |units: i128| reading(units * step, bench.places);
            let method = Method::new().readability(shown(1)).unwrap();
            method.dehydration(&salt(&bench), &bench.weighings_by(shown)).unwrap()
        };
        let (a, b) = (at(p), at(q));
        prop_assert_eq!(a.ratio(), b.ratio());
        prop_assert_eq!(a.percent_water(), b.percent_water());
        prop_assert_eq!(a.nearest(), b.nearest());
        prop_assert_eq!(a.outcome().code(), b.outcome().code());
        prop_assert_eq!(a.outcome().formula(), b.outcome().formula());
    }

    /// The same zero error in every weighing.
    #[test]
    fn a_zero_error_does_not_matter(
        bench in bench(), by in 0_i128..20_000, criterion in criterion(), used in used(),
    ) {
        let shifted = Bench { container: bench.container + by, ..bench.clone() };
        let method = Method::new().constant_mass(criterion).weighing_used(used);
        let (a, b) = (run(&method, &bench), run(&method, &shifted));
        prop_assert_eq!(a.ratio(), b.ratio());
        prop_assert_eq!(a.sensitivity(), b.sensitivity());
        prop_assert_eq!(a.budget(), b.budget());
        prop_assert_eq!(a.constant_mass(), b.constant_mass());
        prop_assert_eq!(a.outcome(), b.outcome());
        prop_assert_eq!(a.defensible(), b.defensible());
        for quantity in Quantity::ALL {
            prop_assert_eq!(a.written(quantity), b.written(quantity));
        }
        let issued = salt(&bench).with_waters(&Ratio::from(5)).unwrap();
        let check = |bench: &Bench| method.check(&issued, &bench.weighings()).unwrap();
        let (a, b) = (check(&bench), check(&shifted));
        // A digit can be wrong in one of the readings and not in the other, so only this may differ.
        let advice = |check: &Check| match check.advice() {
            Advice::CheckReadings => Advice::StartAgain,
            other => other,
        };
        prop_assert_eq!(advice(&a), advice(&b));
        prop_assert_eq!(a.still_to_lose(), b.still_to_lose());
    }

    /// Tared masses give what the same masses in a container give.
    #[test]
    fn net_masses_give_the_same(bench in bench()) {
        let series = run(&Method::new(), &bench);
        let net = |net| {
            let hydrate = reading(bench.hydrate, bench.places);
            let weighings = Weighings::net(hydrate, reading(bench.last(), bench.places), net);
            Method::new().dehydration(&salt(&bench), &weighings).unwrap()
        };
        let tared = net(Net::Tared);
        prop_assert_eq!(tared.ratio(), series.ratio());
        prop_assert_eq!(tared.percent_water(), series.percent_water());
        for quantity in MEASURED {
            prop_assert_eq!(tared.value(quantity), series.value(quantity));
        }
        // The reading of the container adds to the uncertainty of two tared ones.
        let subtracted = net(Net::Subtracted);
        prop_assert_eq!(subtracted.ratio(), series.ratio());
        prop_assert!(subtracted.standard_uncertainty() >= tared.standard_uncertainty());
    }
}

// --- what it is --------------------------------------------------------------------------

proptest! {
    /// The textbook's own steps, in fractions.
    #[test]
    fn the_ratio_is_what_the_masses_say(bench in bench()) {
        let run = run(&Method::new(), &bench);
        let grams = |units: i128| &Ratio::from(units) * &ten_to(-(bench.places as i32));
        let (h, s) = (grams(bench.hydrate), grams(bench.last()));
        let w = &h - &s;
        let per = |a: &Ratio, b: &Ratio| a.checked_div(b).unwrap();
        let (m, of_water) = (molar(bench.salt, Table::Abridged), molar(WATER, Table::Abridged));
        let expected = [
            h.clone(),
            s.clone(),
            w.clone(),
            &Ratio::from(100) * &per(&w, &h),
            per(&s, &m),
            per(&w, &of_water),
            per(&per(&w, &of_water), &per(&s, &m)),
        ];
        for (quantity, expected) in MEASURED.into_iter().zip(expected) {
            prop_assert_eq!(run.value(quantity), Some(expected), "{}", quantity);
        }
        prop_assert_eq!(run.value(Quantity::Formula), None);
    }

    /// No candidate is nearer than the nearest, and a conclusion follows from those within the coverage factor.
    #[test]
    fn the_outcome_follows_from_the_distances(bench in bench(), coverage in 0.5_f64..4.0) {
        let run = run(&Method::new().coverage(coverage).unwrap(), &bench);
        let off = |degree: &Ratio| (run.ratio() - degree).abs();
        for candidate in run.candidates() {
            prop_assert!(off(run.nearest()) <= off(candidate.waters()));
            prop_assert_eq!(candidate.formula().waters(), Some(candidate.waters().clone()));
            let theory = candidate.formula().percent_water(&AtomicWeights::default()).unwrap();
            prop_assert_eq!(theory.as_ref(), Some(candidate.expected_percent_water()));
        }
        prop_assert!(off(run.nearest()) <= ratio_of(1, 2));
        let within = |candidate: &&Candidate| {
            candidate.z().unwrap().abs() < coverage * (1.0 - 1e-9)
        };
        let all_within = || run.candidates().iter().filter(within);
        let within = all_within().count();
        // A hydrate that is not known is at best approximate. None is above those that are known.
        let known = || run.candidates().iter().filter(|candidate| candidate.known());
        let highest = known().map(Candidate::waters).max();
        let unknown = all_within().all(|candidate| !candidate.known());
        let above = unknown && highest.is_some_and(|highest| run.nearest() > highest);
        let falling = run.constant_mass().unwrap().reached() == Some(false);
        prop_assert!(!above || run.outcome().code() == "inconsistent");
        match run.outcome().code() {
            "inconsistent" if above => {}
            "resolved" => {
                prop_assert!(within <= 1 && !falling);
                prop_assert!(known().any(|candidate| candidate.waters() == run.nearest()));
            }
            "ambiguous" => prop_assert!(within != 1),
            "approximate" | "inconsistent" => {
                prop_assert!(within <= usize::from(falling || unknown));
            }
            other => prop_assert!(false, "{}", other),
        }
        if let Some(formula) = run.outcome().formula() {
            prop_assert!(*formula == run.nearest_formula());
        }
    }

    /// A step of one input changes the ratio by its sensitivity. The quotient of central
    /// differences is the derivative times s²/(s² − δ²), s being what is divided by, so that the
    /// comparison is exact.
    #[test]
    fn sensitivities_are_derivatives(bench in bench()) {
        // A container of 0 g cannot be lighter.
        prop_assume!(bench.last() < bench.hydrate && bench.container > 0);
        let finer = 1_000_000_i128;
        let places = bench.places + 6;
        let step = ten_to(-(places as i32));
        let salt = salt(&bench);
        let method = Method::new();
        let central = |at: &dyn Fn(i128) -> Weighings| {
            let ratio = |by| method.dehydration(&salt, &at(by)).unwrap().ratio().clone();
            let (up, down) = (ratio(1), ratio(-1));
            (&up - &down).checked_div(&(&step * &Ratio::from(2))).unwrap()
        };
        let shrunk = |slope: &Ratio, divisor: &Ratio| {
            let (s, d) = (divisor * divisor, &step * &step);
            (slope * &s).checked_div(&(&s - &d)).unwrap()
        };
        let grams = |units: i128| &Ratio::from(units) * &ten_to(-(bench.places as i32));
        let fine = |units: i128, by: i128| reading(units * finer + by, places);

        let own = run(&method, &bench);
        let own = own.sensitivity();
        let residue = grams(bench.last());
        let series = |[c, b, a]: [i128; 3]| {
            let heated = fine(bench.container + bench.last(), a);
            Weighings::new(fine(bench.container, c), fine(bench.with_hydrate(), b), [heated])
        };
        let by_container = central(&|by| series([by, 0, 0]));
        prop_assert_eq!(by_container, shrunk(own.container().unwrap(), &residue));
        let by_hydrate = central(&|by| series([0, by, 0]));
        prop_assert_eq!(&by_hydrate, own.with_hydrate().unwrap());
        let by_heated = central(&|by| series([0, 0, by]));
        prop_assert_eq!(by_heated, shrunk(own.heated().unwrap(), &residue));
        // A zero error changes all three weighings, but not the ratio.
        let all = &(own.container().unwrap() + own.with_hydrate().unwrap()) + own.heated().unwrap();
        prop_assert!(all.is_zero());

        let net = |h: i128, s: i128| {
            Weighings::net(fine(bench.hydrate, h), fine(bench.last(), s), Net::Tared)
        };
        let own = method.dehydration(&salt, &net(0, 0)).unwrap();
        let own = own.sensitivity();
        prop_assert_eq!(&central(&|by| net(by, 0)), own.hydrate_mass().unwrap());
        let by_residue = central(&|by| net(0, by));
        prop_assert_eq!(by_residue, shrunk(own.residue_mass().unwrap(), &residue));
    }

    #[test]
    fn the_sensitivity_to_the_percentage_is_the_derivative(hundredths in 1_i128..9_999) {
        let salt: Formula = "MgSO4".parse().unwrap();
        let step = ten_to(-8);
        let at = |by: i128| {
            let percent = reading(hundredths * 1_000_000 + by, 8);
            Method::new().dehydration(&salt, &Weighings::percent_water(percent)).unwrap()
        };
        let slope = (at(1).ratio() - at(-1).ratio()).checked_div(&(&step * &Ratio::from(2)));
        let rest = &Ratio::from(100) - &ratio_of(hundredths, 100);
        let (s, d) = (&rest * &rest, &step * &step);
        let own = at(0).sensitivity().percent_water().unwrap() * &s;
        prop_assert_eq!(slope, own.checked_div(&(&s - &d)));
    }

    /// Every input appears once, and the shares add up to one.
    #[test]
    fn the_budget_adds_up(bench in bench(), table in class_table(), used in used()) {
        let method = Method::new()
            .weights(table)
            .weighing_used(used)
            .repeatability(0.003)
            .unwrap();
        let run = run(&method, &bench);
        let budget = run.budget();
        let mut inputs: Vec<&str> = budget.contributions().iter().map(effloresce::number::Contribution::input).collect();
        inputs.sort_unstable();
        let all = inputs.len();
        inputs.dedup();
        prop_assert_eq!(inputs.len(), all);
        let sum: f64 = budget.contributions().iter().map(|c| budget.share(c)).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9);
        let variance: f64 = budget.contributions().iter().map(|c| c.amount().powi(2)).sum();
        prop_assert!((variance.sqrt() - run.standard_uncertainty()).abs() < 1e-9 * variance.sqrt());
    }
}

// --- what it must lie between ------------------------------------------------------------

/// One of the tables that careful work may use.
#[derive(Debug, Clone, Copy)]
enum Table {
    /// Whole numbers, but for Cl 35.5 and Cu 63.5.
    Whole,
    Decimals(i32),
    Abridged,
    Full,
}

fn weight(symbol: &str, table: Table) -> Ratio {
    let element: Element = symbol.parse().unwrap();
    let (abridged, _) = element.abridged(Edition::Iupac2024).unwrap();
    match (table, symbol) {
        (Table::Whole, "Cl") => "35.5".parse().unwrap(),
        (Table::Whole, "Cu") => "63.5".parse().unwrap(),
        (Table::Whole, _) => to_places(&abridged.value(), 0, Tie::Even),
        (Table::Decimals(places), _) => to_places(&abridged.value(), places, Tie::Even),
        (Table::Abridged, _) => abridged.value(),
        (Table::Full, _) => match element.standard_weight(Edition::Iupac2024) {
            StandardWeight::Value { value, .. } => value.value(),
            _ => abridged.value(),
        },
    }
}

fn molar(salt: Salt, table: Table) -> Ratio {
    let weigh = |(symbol, count): &(&str, u32)| &weight(symbol, table) * &Ratio::from(*count);
    salt.atoms.iter().map(weigh).sum()
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Tie {
    Even,
    Up,
}

/// Rounded to decimal places by hand; for values that are not negative.
fn to_places(value: &Ratio, places: i32, tie: Tie) -> Ratio {
    let scaled = value * &ten_to(places);
    let below = scaled.floor();
    let above = &below + &Ratio::ONE;
    let (down, up) = (&scaled - &below, &above - &scaled);
    let even = (&below * &ratio_of(1, 2)).is_integer();
    let kept = if down < up || (down == up && tie == Tie::Even && even) {
        below
    } else {
        above
    };
    &kept * &ten_to(-places)
}

fn to_figures(value: &Ratio, figures: u32, tie: Tie) -> Ratio {
    if value.is_zero() {
        return Ratio::ZERO;
    }
    let mut exponent = 0;
    while *value >= ten_to(exponent + 1) {
        exponent += 1;
    }
    while *value < ten_to(exponent) {
        exponent -= 1;
    }
    to_places(value, figures as i32 - 1 - exponent, tie)
}

/// One way through the calculation.
#[derive(Debug, Clone)]
struct Path {
    salt_table: Table,
    water_table: Table,
    /// The significant figures of rounded molar masses and amounts, counted from the fewest allowed.
    molar_kept: Option<u32>,
    amount_kept: Option<u32>,
    tie: Tie,
    weighing: Index,
    report_places: i32,
    report_tie: Tie,
}

fn path() -> impl Strategy<Value = Path> {
    let table = || {
        select(vec![
            Table::Whole,
            Table::Decimals(1),
            Table::Decimals(2),
            Table::Decimals(3),
            Table::Abridged,
            Table::Full,
        ])
    };
    let tie = || select(vec![Tie::Even, Tie::Up]);
    (
        (table(), table(), tie(), tie()),
        prop::option::of(0_u32..4),
        prop::option::of(0_u32..4),
        any::<Index>(),
        0_i32..7,
    )
        .prop_map(
            |(
                (salt_table, water_table, tie, report_tie),
                molar_kept,
                amount_kept,
                weighing,
                report_places,
            )| Path {
                salt_table,
                water_table,
                molar_kept,
                amount_kept,
                tie,
                weighing,
                report_places,
                report_tie,
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    /// Careful work is right: with any table, with or without rounding of intermediate values, and from
    /// any of the weighings that agree.
    #[test]
    fn one_careful_path_is_admitted(bench in bench(), path in path()) {
        let run = run(&Method::new(), &bench);
        let defensible = run.defensible();
        let left = &bench.left;
        let agrees = |units: i128| (units - bench.last()).abs() <= 2;
        let constant = left.len() >= 2 && agrees(left[left.len() - 2]);
        let allowed = match constant {
            true => left.iter().rev().take_while(|units| agrees(**units)).count(),
            false => 1,
        };
        let used = left[left.len() - 1 - path.weighing.index(allowed)];

        let fewest = run.figures().min(3);
        let keep = |value: Ratio, kept: Option<u32>| match kept {
            Some(more) => to_figures(&value, (fewest + more).min(6), path.tie),
            None => value,
        };
        let per = |a: &Ratio, b: &Ratio| a.checked_div(b).unwrap();
        let grams = |units: i128| &Ratio::from(units) * &ten_to(-(bench.places as i32));
        let (h, s, w) = (grams(bench.hydrate), grams(used), grams(bench.hydrate - used));
        let m_salt = keep(molar(bench.salt, path.salt_table), path.molar_kept);
        let m_water = keep(molar(WATER, path.water_table), path.molar_kept);
        let n_salt = per(&s, &m_salt);
        let n_water = per(&w, &m_water);
        let x = per(&keep(n_water.clone(), path.amount_kept), &keep(n_salt.clone(), path.amount_kept));
        let percent = &Ratio::from(100) * &per(&w, &h);
        for (quantity, value) in [
            (Quantity::HydrateMass, h),
            (Quantity::ResidueMass, s),
            (Quantity::WaterMass, w),
            (Quantity::PercentWater, percent),
            (Quantity::MolSalt, n_salt),
            (Quantity::MolWater, n_water),
            (Quantity::Ratio, x),
        ] {
            let reported = to_places(&value, path.report_places, path.report_tie);
            let units = (&reported * &ten_to(path.report_places)).to_i128().unwrap();
            let reported = reading(units, path.report_places as u32);
            let interval = defensible.interval(quantity).unwrap();
            // A value that is rounded to zero is admitted only if zero is.
            prop_assert!(
                interval.admits(&reported) != (units == 0 && interval.low().is_positive()),
                "{}: {} is not within {} to {}", quantity, reported, interval.low(), interval.high()
            );
        }
    }

    /// The key of a bench is never outside its own interval, whatever the rules of the method.
    #[test]
    fn the_own_value_is_defensible(
        bench in bench(), table in class_table(), criterion in criterion(), used in used(),
    ) {
        let method = Method::new().weights(table).constant_mass(criterion).weighing_used(used);
        let run = run(&method, &bench);
        let defensible = run.defensible();
        for quantity in MEASURED {
            let interval = defensible.interval(quantity).unwrap();
            let value = run.value(quantity).unwrap();
            prop_assert!(interval.low() <= &value && &value <= interval.high(), "{}", quantity);
            let shown: Reading = run.written(quantity).unwrap().parse().unwrap();
            // A final zero that is not significant (`50` for 52) counts as read.
            if shown.figures().is_certain() {
                prop_assert!(interval.admits(&shown), "{}: {}", quantity, shown);
            }
        }
        prop_assert!(defensible.interval(Quantity::Formula).is_none());
    }

    /// A number is admitted if and only if a value of the interval rounds to it.
    #[test]
    fn a_range_admits_what_rounds_from_it(
        bench in bench(), places in 0_i32..6, part in 0_i128..=1000, units in 0_i128..100_000_000,
    ) {
        let run = run(&Method::new(), &bench);
        let defensible = run.defensible();
        let interval = defensible.interval(Quantity::Ratio).unwrap();
        let width = interval.high() - interval.low();
        let inside = interval.low() + &(&width * &ratio_of(part, 1000));
        for tie in [Tie::Even, Tie::Up] {
            let shown = to_places(&inside, places, tie);
            let units = (&shown * &ten_to(places)).to_i128().unwrap();
            let nothing = units == 0 && interval.low().is_positive();
            prop_assert!(interval.admits(&reading(units, places as u32)) != nothing);
        }
        let shown: Ratio = written(units, places as u32).parse().unwrap();
        let half = &ten_to(-places) * &ratio_of(1, 2);
        let half = if units == 0 { Ratio::ZERO } else { half };
        let meets = interval.low() <= &(&shown + &half) && &(&shown - &half) <= interval.high();
        prop_assert_eq!(interval.admits(&reading(units, places as u32)), meets);
    }

    /// A sheet with only the percentage has an interval about its own ratio, too.
    #[test]
    fn a_percentage_is_defensible(hundredths in 0_i128..9_999, table in class_table()) {
        let percent = Weighings::percent_water(reading(hundredths, 2));
        let method = Method::new().weights(table);
        let run = method.dehydration(&"CuSO4".parse().unwrap(), &percent).unwrap();
        let defensible = run.defensible();
        for quantity in [Quantity::PercentWater, Quantity::Ratio] {
            let interval = defensible.interval(quantity).unwrap();
            let value = run.value(quantity).unwrap();
            prop_assert!(interval.low() <= &value && &value <= interval.high());
        }
        prop_assert!(defensible.interval(Quantity::WaterMass).is_none());
    }
}

// --- the ratio alone ----------------------------------------------------------------------

/// Masses of any sign and length.
fn any_mass() -> impl Strategy<Value = Reading> {
    let units = prop_oneof![
        6 => 0_i128..200,
        2 => -9_i128..30_000,
        1 => 0..10_i128.pow(28),
    ];
    (units, 0_u32..4).prop_map(|(units, places)| reading(units, places))
}

proptest! {
    #[test]
    fn the_bare_ratio_is_that_of_a_run(
        bench in bench(), table in class_table(),
    ) {
        let bare = MoleRatio::new(&salt(&bench), &table).unwrap();
        let run = run(&Method::new().weights(table), &bench);
        let shown = |units| reading(units, bench.places);
        let (c, b, a) = (bench.container, bench.with_hydrate(), bench.container + bench.last());
        let ratio = bare.of_weighings(&shown(c), &shown(b), &shown(a)).unwrap();
        prop_assert_eq!(&ratio, run.ratio());
        let net = bare.of_masses(&shown(bench.hydrate), &shown(bench.last())).unwrap();
        prop_assert_eq!(&net, run.ratio());
    }

    /// For any masses, the ratio is that of a run, or the error is.
    #[test]
    fn any_masses_have_the_ratio_of_a_run_or_its_error(
        c in any_mass(), b in any_mass(), a in any_mass(),
    ) {
        let salt: Formula = "MgSO4".parse().unwrap();
        let bare = MoleRatio::new(&salt, &AtomicWeights::default()).unwrap();
        let full = |weighings: Weighings| Method::new().dehydration(&salt, &weighings);
        for (bare, full) in [
            (bare.of_weighings(&c, &b, &a), full(Weighings::new(c, b, [a]))),
            (bare.of_masses(&b, &a), full(Weighings::net(b, a, Net::Tared))),
        ] {
            match (bare, full) {
                (Ok(ratio), Ok(run)) => prop_assert_eq!(&ratio, run.ratio()),
                // The run subtracts exactly, and the ratio does not need this.
                (Ok(_), Err(error)) => prop_assert_eq!(error.code(), "out_of_range"),
                (Err(bare), Err(full)) => prop_assert_eq!(bare, full),
                (Err(error), Ok(_)) => prop_assert!(false, "{}", error),
            }
        }
    }
}
