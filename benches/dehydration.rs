//! One bench's readings with everything that is said of them, against the four operations of the
//! bare ratio; and a class sheet, against the csv crate reading the same bytes.

mod lines;

use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, Throughput};
use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::{Method, Weighings};
use effloresce::{AtomicWeights, Decimal, Formula, Reading};

use lines::Draw;

const BENCHES: usize = 1_000;
const ROWS: usize = 20_000;

/// Readings in thousandths of a gram, as a class of magnesium sulfate has them.
fn readings(draw: &mut Draw) -> [u64; 5] {
    let container = 18_000 + draw.below(6_000);
    let hydrate = 2_000 + draw.below(1_500);
    let residue = hydrate * 4_884 / 10_000 + draw.below(15);
    let first = residue + 20 + draw.below(60);
    let second = residue + draw.below(4);
    let all = [0, hydrate, first, second, residue];
    all.map(|above| (container + above) as u64)
}

fn grams(thousandths: u64) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(30)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    one_bench(&mut criterion);
    class_sheet(&mut criterion);
    every_answer(&mut criterion);
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
    // Both ways come to the same ratio.
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
    group.bench_function("bare ratio, decimals", |bench| {
        bench.iter(|| {
            for [c, b, a] in &decimals {
                black_box((b - a) / (a - c) * black_box(factor));
            }
        });
    });
    group.bench_function("run", |bench| {
        bench.iter(|| {
            for weighings in &weighings {
                black_box(method.dehydration(&salt, black_box(weighings)).unwrap());
            }
        });
    });
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

    // Growth with the number of weighings: ten times as many should take at most ten times as long.
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

fn class_sheet(criterion: &mut Criterion) {
    let mut draw = Draw::new(11);
    let mut text = String::from(
        "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,\
         reported_water_g,reported_ratio\n",
    );
    for row in 0..ROWS {
        let masses = readings(&mut draw);
        let [c, b, first, second, last] = masses.map(grams);
        let water = grams(masses[1] - masses[4]);
        writeln!(
            text,
            "B{row},P{row},{c},{b},{first},{second},{last},{water},7.0"
        )
        .unwrap();
    }
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    assert_eq!((sheet.rows().len(), sheet.problems().len()), (ROWS, 0));
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let salt: Formula = "MgSO4".parse().unwrap();

    let mut group = criterion.benchmark_group("class sheet");
    group.sample_size(10);
    group.throughput(Throughput::Elements(ROWS as u64));
    group.bench_function("floor: csv records alone", |bench| {
        bench.iter(|| {
            let mut reader = csv::Reader::from_reader(black_box(text.as_bytes()));
            let mut record = csv::ByteRecord::new();
            let mut cells = 0;
            while reader.read_byte_record(&mut record).unwrap() {
                cells += record.len();
            }
            assert_eq!(cells, 9 * ROWS);
        });
    });
    group.bench_function("read", |bench| {
        bench.iter(|| Sheet::read(black_box(text.as_bytes())).unwrap());
    });
    group.bench_function("read, and each row's ratio", |bench| {
        bench.iter(|| {
            let sheet = Sheet::read(black_box(text.as_bytes())).unwrap();
            let method = Method::new();
            for row in sheet.rows() {
                let (c, b) = (row.crucible().unwrap(), row.crucible_hydrate().unwrap());
                let weighings = Weighings::new(c, b, row.heated().iter().copied());
                black_box(method.dehydration(&salt, &weighings).unwrap());
            }
        });
    });
    group.bench_function("read and mark", |bench| {
        bench.iter(|| marker.mark(&Sheet::read(black_box(text.as_bytes())).unwrap()));
    });
    group.finish();
}

/// A school class in which every bench answers all eight questions, a quarter of them with a wrong
/// mass of water carried on.
fn every_answer(criterion: &mut Criterion) {
    const CLASS: usize = 20;
    let mut draw = Draw::new(13);
    let mut text = String::from(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,\
         reported_hydrate_g,reported_residue_g,reported_water_g,reported_percent_water,\
         reported_mol_salt,reported_mol_water,reported_ratio,reported_formula\n",
    );
    for row in 0..CLASS {
        let masses = readings(&mut draw);
        let [hydrate, residue] = [1, 4].map(|i| masses[i] - masses[0]);
        let water = hydrate - residue + if row % 4 == 0 { 10 } else { 0 };
        let [h, s, w] = [hydrate, residue, water].map(|mass| mass as f64 / 1000.0);
        let (mol_salt, mol_water) = (s / 120.361, w / 18.015);
        let (percent, ratio) = (100.0 * w / h, mol_water / mol_salt);
        let [c, b, first, second, last] = masses.map(grams);
        let [hydrate, residue, water] = [hydrate, residue, water].map(grams);
        writeln!(
            text,
            "B{row},{c},{b},{first},{second},{last},{hydrate},{residue},{water},{percent:.2},\
             {mol_salt:.5},{mol_water:.5},{ratio:.2},MgSO4·7H2O"
        )
        .unwrap();
    }
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    let answers = |row: &effloresce::class::MarkedRow| row.answers().len();
    let marked = marker.mark(&sheet);
    assert_eq!(marked.rows().iter().map(answers).sum::<usize>(), 8 * CLASS);

    let mut group = criterion.benchmark_group("every answer");
    group.throughput(Throughput::Elements(CLASS as u64));
    group.bench_function("mark", |bench| {
        bench.iter(|| marker.mark(black_box(&sheet)));
    });
    group.finish();
}
