//! A class sheet of many rows, against the csv crate reading the same bytes: row by row, with each
//! row's ratio, held as a whole, and marked.

mod csv_floor;
mod lines;
mod ratio;
mod readings;

use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, Throughput};
use effloresce::AtomicWeights;
use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::{Method, MoleRatio};

use csv_floor::cells;
use lines::Draw;
use readings::{grams, readings};

const SIZES: [usize; 3] = [1_000, 10_000, 100_000];
/// The rows that are marked: marking takes so much longer that fewer of them show as much.
const MARKED: usize = 1_000;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(20)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(3))
        .configure_from_args();
    class_sheet(&mut criterion);
    criterion.final_summary();
}

fn sheet(rows: usize) -> String {
    let mut draw = Draw::new(11);
    let mut text = String::from(
        "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,\
         reported_water_g,reported_ratio\n",
    );
    for row in 0..rows {
        let masses = readings(&mut draw);
        let [c, b, first, second, last] = masses.map(grams);
        let water = grams(masses[1] - masses[4]);
        writeln!(
            text,
            "B{row},P{row},{c},{b},{first},{second},{last},{water},7.0"
        )
        .unwrap();
    }
    text
}

/// Returns the number of rows with nothing wrong.
fn stream(text: &str) -> usize {
    let mut rows = Sheet::stream(text.as_bytes()).unwrap();
    let mut sound = 0;
    while let Some((row, problems)) = rows.next_row().unwrap() {
        sound += usize::from(problems.is_empty() && row.heated().len() == 3);
    }
    sound
}

/// Returns the number of rows with a positive ratio.
fn ratios(text: &str, salt: &MoleRatio) -> usize {
    let mut rows = Sheet::stream(text.as_bytes()).unwrap();
    let mut sound = 0;
    while let Some((row, _)) = rows.next_row().unwrap() {
        let (c, b) = (row.crucible().unwrap(), row.crucible_hydrate().unwrap());
        let a = row.heated().last().unwrap();
        let ratio = black_box(salt.of_weighings(&c, &b, a).unwrap());
        sound += usize::from(ratio.is_positive());
    }
    sound
}

fn done(count: usize) {
    black_box(count);
}

fn class_sheet(criterion: &mut Criterion) {
    let salt = MoleRatio::new(&"MgSO4".parse().unwrap(), &AtomicWeights::default()).unwrap();
    let mut group = criterion.benchmark_group("class sheet");
    for size in SIZES {
        let text = sheet(size);
        let text = text.as_str();
        assert_eq!(cells(text), 9 * size);
        assert_eq!((stream(text), ratios(text, &salt)), (size, size));
        group.throughput(Throughput::Elements(size as u64));
        let name = |what| BenchmarkId::new(what, size);
        group.bench_function(name("floor: csv records alone"), |bench| {
            bench.iter(|| cells(black_box(text)));
        });
        group.bench_function(name("row by row"), |bench| {
            bench.iter(|| stream(black_box(text)));
        });
        group.bench_function(name("row by row, and each ratio"), |bench| {
            bench.iter(|| ratios(black_box(text), &salt));
        });
        group.bench_function(name("read"), |bench| {
            bench.iter(|| Sheet::read(black_box(text.as_bytes())).unwrap());
        });
    }
    let text = sheet(SIZES[1]);
    ratio::say(
        || done(cells(black_box(&text))),
        [
            ("row by row", &mut || done(stream(black_box(&text)))),
            ("row by row, and each ratio", &mut || {
                done(ratios(black_box(&text), &salt));
            }),
            ("read", &mut || {
                drop(black_box(Sheet::read(text.as_bytes()).unwrap()));
            }),
        ],
    );
    let text = sheet(MARKED);
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    group.throughput(Throughput::Elements(MARKED as u64));
    group.sample_size(10);
    group.bench_function(BenchmarkId::new("read and mark", MARKED), |bench| {
        bench.iter(|| marker.mark(&Sheet::read(black_box(text.as_bytes())).unwrap()));
    });
    group.finish();
}
