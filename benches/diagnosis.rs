//! The diagnosis of each bench of a class sheet, against the reading of its row from the sheet. The time
//! for twice as many benches is there, too.

mod lines;
mod ratio;

use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, Throughput};
use effloresce::Formula;
use effloresce::class::Sheet;
use effloresce::gravimetry::{Method, Weighings};
use effloresce::mistake::{Diagnosis, Fault, Priors, Simulator};

use lines::Draw;

const BENCHES: usize = 48;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_secs(1))
        .configure_from_args();
    diagnosis(&mut criterion);
    criterion.final_summary();
}

/// Benches without a fault and with each fault, alternating.
fn benches(issued: &Formula) -> Vec<Weighings> {
    let mut draw = Draw::new(13);
    let simulator = Simulator::new(issued, "0.001".parse().unwrap()).unwrap();
    let faults: Vec<Option<Fault>> = Fault::ALL
        .into_iter()
        .flat_map(|fault| [None, Some(fault)])
        .collect();
    let drawn = (0..BENCHES).map(|at| {
        let simulator = simulator.clone().fault(faults[at % faults.len()]).unwrap();
        simulator
            .bench(draw.below(10_000) as u64)
            .unwrap()
            .weighings()
    });
    drawn.collect()
}

fn sheet(benches: &[Weighings]) -> String {
    let most = benches.iter().map(|bench| bench.heated().len()).max();
    let mut text = String::from("bench,crucible_g,crucible_hydrate_g");
    for heating in 1..=most.unwrap_or_default() {
        write!(text, ",heated_{heating}_g").unwrap();
    }
    text.push('\n');
    for (at, bench) in benches.iter().enumerate() {
        let before = [bench.container().unwrap(), bench.with_hydrate().unwrap()];
        write!(text, "B{at},{},{}", before[0], before[1]).unwrap();
        for heating in 0..most.unwrap_or_default() {
            let mass = bench.heated().get(heating);
            let mass = mass.map_or_else(String::new, ToString::to_string);
            write!(text, ",{mass}").unwrap();
        }
        text.push('\n');
    }
    text
}

fn diagnosis(criterion: &mut Criterion) {
    let issued: Formula = "CuSO4·5H2O".parse().unwrap();
    let (method, priors) = (Method::new(), Priors::new());
    let benches = benches(&issued);
    let text = sheet(&benches);
    let read = || Sheet::read(black_box(text.as_bytes())).unwrap();
    assert_eq!(read().rows().len(), BENCHES);
    let diagnose = |benches: &[Weighings]| {
        for bench in benches {
            let found = Diagnosis::new(&issued, &method, &priors, black_box(bench));
            black_box(found.unwrap());
        }
    };
    let mut group = criterion.benchmark_group("diagnosis");
    for size in [BENCHES / 2, BENCHES] {
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::new("diagnosed", size), |bench| {
            bench.iter(|| diagnose(&benches[..size]));
        });
    }
    group.bench_function(
        BenchmarkId::new("floor: the sheet is read", BENCHES),
        |bench| {
            bench.iter(read);
        },
    );
    group.finish();
    ratio::say(
        || drop(black_box(read())),
        [("diagnosed", &mut || diagnose(&benches))],
    );
}
