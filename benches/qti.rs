//! Packages: the problems of all kinds in turn written as a package of QTI, against making the same problems. Sizes a
//! factor of ten apart show that the time for an item does not grow with the package. Last, the kind that is made in
//! the least time, at each level.

mod ratio;

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, Throughput};
use effloresce::exercise::{ExerciseSet, Exercises, Kind, Level};
use effloresce::qti::Package;

const PROBLEMS: usize = 100;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_secs(1))
        .configure_from_args();
    let exercises = Exercises::new(1).kinds(Kind::ALL);
    let make = |count: usize| [exercises.set(count).unwrap()];
    let mut group = criterion.benchmark_group("qti");
    for size in [PROBLEMS, PROBLEMS * 10] {
        let sets = make(size);
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::new("package", size), |bench| {
            bench.iter(|| package(&sets));
        });
        group.bench_function(
            BenchmarkId::new("floor: the problems are made", size),
            |bench| {
                bench.iter(|| make(size));
            },
        );
    }
    group.finish();
    let sets = make(PROBLEMS);
    let floor = || drop(black_box(make(PROBLEMS)));
    ratio::say(floor, [("package", &mut || package(&sets))]);
    for level in Level::ALL {
        let exercises = Exercises::new(1).kinds([Kind::PercentWater]).level(level);
        let make = || [exercises.set(PROBLEMS).unwrap()];
        let sets = make();
        let name = format!("package of percent_water, level {}", level.number());
        ratio::say(
            || drop(black_box(make())),
            [(&*name, &mut || package(&sets))],
        );
    }
    criterion.final_summary();
}

fn package(sets: &[ExerciseSet]) {
    let mut bytes = Vec::new();
    Package::new(sets).unwrap().write(&mut bytes).unwrap();
    black_box(bytes);
}
