//! Reading and marking a class sheet with all eight quantities reported, some right, some carried
//! forward, some slips; against the csv crate reading the same bytes. Sizes a factor of ten apart
//! show that the time for a row does not grow with the sheet. The report on a class is compared with its
//! marking.

mod csv_floor;
mod lines;
mod ratio;

use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, Throughput};
use effloresce::class::{Marked, MarkedRow, Marker, Sheet, Verdict};
use effloresce::gravimetry::Method;
use effloresce::report::write_report_html;

use csv_floor::cells;
use lines::Draw;

const COLUMNS: usize = 15;

/// M(MgSO4) and M(H2O), only to make up what pupils report.
const SALT: f64 = 120.36;
const WATER: f64 = 18.015;

fn grams(thousandths: usize) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}

/// A class of so many rows, each a bench of its own.
fn class(rows: usize) -> String {
    let mut draw = Draw::new(11);
    let mut text = String::from(
        "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g,\
         reported_hydrate_g,reported_residue_g,reported_water_g,reported_percent_water,\
         reported_mol_salt,reported_mol_water,reported_ratio,reported_formula\n",
    );
    for row in 0..rows {
        let container = 18_000 + draw.below(6_000);
        let hydrate = 2_000 + draw.below(1_500);
        let residue = hydrate * 4_884 / 10_000 + draw.below(15);
        let first = residue + 20 + draw.below(60);
        let second = residue + draw.below(4);
        let [c, b, f, s, l] =
            [0, hydrate, first, second, residue].map(|above| grams(container + above));
        let kind = row % 5;
        // A wrong difference, from which the rest follows.
        let water = hydrate - residue + if kind == 1 { 10 } else { 0 };
        let [mass, left, lost] = [hydrate, residue, water].map(|mass| mass as f64 / 1000.0);
        let percent = match kind {
            2 => 100.0 * lost / left,
            _ => 100.0 * lost / mass,
        };
        let (salt, gone) = (left / SALT, lost / WATER);
        let ratio = match kind {
            3 => salt / gone,
            4 => 5.83,
            _ => gone / salt,
        };
        let (hydrate, residue, water) = (grams(hydrate), grams(residue), grams(water));
        writeln!(
            text,
            "B{row},P{row},{c},{b},{f},{s},{l},{hydrate},{residue},{water},{percent:.2},\
             {salt:.5},{gone:.5},{ratio:.3},MgSO4.7H2O",
        )
        .unwrap();
    }
    text
}

/// How many answers got the verdict.
fn count(marked: &Marked, verdict: Verdict) -> usize {
    let answers = marked.rows().iter().flat_map(MarkedRow::answers);
    answers.filter(|answer| answer.verdict() == verdict).count()
}

/// The report on a class, as a page.
fn report(marked: &Marked) -> String {
    let mut page = String::new();
    write_report_html(marked, &mut page).unwrap();
    page
}

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
    for rows in [1_000, 10_000] {
        let text = class(rows);
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = marker.mark(&sheet);
        assert_eq!(marked.problems(), []);
        for verdict in [Verdict::Correct, Verdict::CarriedForward, Verdict::Slip] {
            let found = count(&marked, verdict);
            assert!(found * 10 > rows, "{found} of {rows} rows: {verdict}");
        }
        let mut group = criterion.benchmark_group(format!("marking, {rows} rows"));
        group.throughput(Throughput::Elements(rows as u64));
        group.bench_function("floor: csv records alone", |bench| {
            bench.iter(|| assert_eq!(cells(black_box(&text)), COLUMNS * rows));
        });
        group.bench_function("mark", |bench| {
            bench.iter(|| marker.mark(black_box(&sheet)));
        });
        group.bench_function("report", |bench| {
            bench.iter(|| report(black_box(&marked)));
        });
        group.bench_function("read and mark", |bench| {
            bench.iter(|| marker.mark(&Sheet::read(black_box(text.as_bytes())).unwrap()));
        });
        group.finish();
    }
    let text = class(1_000);
    ratio::say(
        || assert_eq!(cells(black_box(&text)), COLUMNS * 1_000),
        [("read and mark", &mut || {
            drop(marker.mark(&Sheet::read(black_box(text.as_bytes())).unwrap()));
        })],
    );
    // The baseline here is the marking of the same class.
    let sheet = Sheet::read(class(100).as_bytes()).unwrap();
    let marked = marker.mark(&sheet);
    ratio::say(
        || drop(marker.mark(black_box(&sheet))),
        [("report on the marked class", &mut || {
            drop(report(black_box(&marked)));
        })],
    );
    criterion.final_summary();
}
