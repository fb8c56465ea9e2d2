//! Problem sets: percent-water problems without options, against parsing the same hydrates with their molar mass.
//! Sizes a factor of ten apart show that the time for a problem does not grow with the set. A problem of each other
//! kind is there, too.

mod ratio;

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, Throughput};
use effloresce::exercise::{Exercises, Field, Kind};
use effloresce::{AtomicWeights, Formula};

const PROBLEMS: usize = 1_000;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_secs(1))
        .configure_from_args();
    percent_water(&mut criterion);
    kinds(&mut criterion);
    criterion.final_summary();
}

fn percent_water(criterion: &mut Criterion) {
    let exercises = Exercises::new(1).kinds([Kind::PercentWater]);
    let bare = exercises.clone().without_options();
    let set = bare.set(PROBLEMS).unwrap();
    // The hydrates of the problems themselves.
    let hydrates = set.problems().iter().map(|problem| {
        let mut fields = problem.request().fields().iter();
        match fields.find(|(name, _)| name == "formula") {
            Some((_, Field::Text(hydrate))) => hydrate.clone(),
            other => panic!("no formula: {other:?}"),
        }
    });
    let hydrates: Vec<String> = hydrates.collect();
    let weights = AtomicWeights::default();
    let parse = || {
        for hydrate in &hydrates {
            let formula: Formula = black_box(hydrate).parse().unwrap();
            black_box(formula.molar_mass(&weights).unwrap());
        }
    };
    let make = |exercises: &Exercises, count: usize| {
        drop(black_box(exercises.set(count).unwrap()));
    };
    let mut group = criterion.benchmark_group("exercises");
    for size in [PROBLEMS / 10, PROBLEMS, PROBLEMS * 10] {
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::new("percent_water", size), |bench| {
            bench.iter(|| make(&bare, size));
        });
    }
    group.throughput(Throughput::Elements(PROBLEMS as u64));
    group.bench_function(BenchmarkId::new("with options", PROBLEMS), |bench| {
        bench.iter(|| make(&exercises, PROBLEMS));
    });
    group.bench_function(
        BenchmarkId::new("floor: the hydrates are parsed", PROBLEMS),
        |bench| bench.iter(parse),
    );
    group.finish();
    ratio::say(
        parse,
        [
            ("percent_water", &mut || make(&bare, PROBLEMS)),
            ("with options", &mut || make(&exercises, PROBLEMS)),
        ],
    );
}

fn kinds(criterion: &mut Criterion) {
    const EACH: usize = 100;
    let mut group = criterion.benchmark_group("kinds");
    group.throughput(Throughput::Elements(EACH as u64));
    for kind in Kind::ALL {
        let exercises = Exercises::new(1).kinds([kind]);
        group.bench_function(kind.code(), |bench| {
            bench.iter(|| exercises.set(EACH).unwrap());
        });
    }
    group.finish();
}
