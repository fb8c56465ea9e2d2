//! The full result of one bench's readings, against the four operations of the ratio alone.

mod lines;
mod ratio;
mod readings;

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, Throughput};
use effloresce::gravimetry::{Method, Weighings};
use effloresce::{AtomicWeights, Decimal, Formula, Reading};

use lines::Draw;
use readings::{grams, readings};

const BENCHES: usize = 1_000;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(30)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    one_bench(&mut criterion);
    criterion.final_summary();
}

fn one_bench(criterion: &mut Criterion) {
    let salt: Formula = "MgSO4".parse().unwrap();
    let method = Method::new();
    let weights = AtomicWeights::default();
    let molar = |formula: &str| {
        let formula: Formula = formula.parse().unwrap();
        formula.molar_mass(&weights).unwrap().value()
    };
    let factor = molar("MgSO4") / molar("H2O");

    let mut draw = Draw::new(7);
    let texts: Vec<[String; 5]> = (0..BENCHES)
        .map(|_| readings(&mut draw).map(grams))
        .collect();
    let decimals: Vec<[Decimal; 3]> = texts
        .iter()
        .map(|t| [0, 1, 4].map(|i| Decimal::from_str_exact(&t[i]).unwrap()))
        .collect();
    let floats: Vec<[f64; 3]> = texts
        .iter()
        .map(|t| [0, 1, 4].map(|i| t[i].parse().unwrap()))
        .collect();
    let factor_float: f64 = factor.to_string().parse().unwrap();
    let weighings: Vec<Weighings> = texts
        .iter()
        .map(|t| {
            let [c, b, heated @ ..] = t.each_ref().map(|t| t.parse::<Reading>().unwrap());
            Weighings::new(c, b, heated)
        })
        .collect();
    // Both ways give the same ratio.
    for (weighings, [c, b, a]) in weighings.iter().zip(&decimals) {
        let run = method.dehydration(&salt, weighings).unwrap();
        let bare = (b - a) / (a - c) * factor;
        let difference = run.ratio().to_decimal().unwrap() - bare;
        assert!(difference.abs() < Decimal::new(1, 20), "{difference}");
    }

    let mut group = criterion.benchmark_group("dehydration");
    group.throughput(Throughput::Elements(BENCHES as u64));
    group.bench_function("bare ratio, binary floats", |bench| {
        bench.iter(|| {
            for [c, b, a] in &floats {
                black_box((b - a) / (a - c) * black_box(factor_float));
            }
        });
    });
    let bare = || {
        for [c, b, a] in &decimals {
            black_box((b - a) / (a - c) * black_box(factor));
        }
    };
    let run = || {
        for weighings in &weighings {
            black_box(method.dehydration(&salt, black_box(weighings)).unwrap());
        }
    };
    group.bench_function("bare ratio, decimals", |bench| bench.iter(bare));
    group.bench_function("run", |bench| bench.iter(run));
    let runs: Vec<_> = weighings
        .iter()
        .map(|w| method.dehydration(&salt, w).unwrap())
        .collect();
    group.bench_function("defensible range alone", |bench| {
        bench.iter(|| {
            for run in &runs {
                black_box(run.defensible());
            }
        });
    });
    group.bench_function("run, defensible range, working", |bench| {
        bench.iter(|| {
            for weighings in &weighings {
                let run = method.dehydration(&salt, black_box(weighings)).unwrap();
                black_box((run.defensible(), run.working()));
            }
        });
    });
    group.finish();
    ratio::say(bare, [("run", &mut { run })]);

    // Ten times as many weighings should take at most ten times as long.
    let mut group = criterion.benchmark_group("weighings");
    for count in [4_usize, 40, 400] {
        let heated = (0..count).map(|i| {
            let above = (count - i) * usize::from(i + 2 < count);
            format!("22.{}", 655 + above.min(300))
                .parse::<Reading>()
                .unwrap()
        });
        let series = Weighings::new("21.352".parse().unwrap(), "24.018".parse().unwrap(), heated);
        group.throughput(Throughput::Elements(count as u64));
        group.bench_function(format!("{count} heatings"), |bench| {
            bench.iter(|| black_box(method.dehydration(&salt, black_box(&series)).unwrap()));
        });
    }
    group.finish();
}
