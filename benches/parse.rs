//! Formula to molar mass, on lines in random order, against a baseline written by hand.

mod floor;
mod lines;
mod ratio;

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, Throughput};
use effloresce::formula::Error;
use effloresce::{AtomicWeights, Decimal, Formula, Ratio};

use lines::Draw;

const LINES: usize = 20_000;

fn main() {
    let vectors = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/published/data/formula_vectors.csv"
    );
    let vectors = std::fs::read_to_string(vectors).expect("run from the repository");
    let mut rows = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(vectors.as_bytes());
    let header = rows.headers().expect("a header").clone();
    let find = |name: &str| header.iter().position(|h| h == name).expect("a column");
    let (text, mass) = (find("formula"), find("molar_mass_2024"));
    let rows: Vec<(String, Ratio)> = rows
        .records()
        .map(|row| row.expect("a row"))
        .map(|row| (row[text].to_owned(), row[mass].parse().expect("a mass")))
        .collect();

    let weights = AtomicWeights::default();
    let by_hand = floor::Weights::new(&weights);
    let shared = check(&rows, &weights, &by_hand);
    let every: Vec<&str> = rows.iter().map(|(text, _)| text.as_str()).collect();

    let mut criterion = Criterion::default()
        .sample_size(30)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    let mut group = criterion.benchmark_group("parse");
    group.throughput(Throughput::Elements(LINES as u64));
    let cold = drawn(&shared);
    group.bench_function("floor by hand", |b| {
        b.iter(|| each(&cold, |text| floor::mass(text.as_bytes(), &by_hand)));
    });
    group.bench_function("molar mass", |b| {
        b.iter(|| each(&cold, |text| molar_mass(text, &weights)));
    });
    group.bench_function("formula alone", |b| {
        b.iter(|| each(&cold, str::parse::<Formula>));
    });
    let cold_every = drawn(&every);
    group.bench_function("molar mass, all texts", |b| {
        b.iter(|| each(&cold_every, |text| molar_mass(text, &weights)));
    });
    group.finish();
    ratio::say(
        || each(&cold, |text| floor::mass(text.as_bytes(), &by_hand)),
        [
            ("molar mass", &mut || {
                each(&cold, |text| molar_mass(text, &weights));
            }),
            ("formula alone", &mut || each(&cold, str::parse::<Formula>)),
        ],
    );
    criterion.final_summary();
}

fn molar_mass(text: &str, weights: &AtomicWeights) -> Result<Decimal, Error> {
    Ok(text.parse::<Formula>()?.molar_mass(weights)?.value())
}

fn each<T>(lines: &[&str], mut work: impl FnMut(&str) -> T) {
    for line in lines {
        black_box(work(black_box(line)));
    }
}

fn drawn<'a>(texts: &[&'a str]) -> Vec<&'a str> {
    let mut draw = Draw::new(2024);
    (0..LINES).map(|_| texts[draw.below(texts.len())]).collect()
}

/// The texts that both read. Either way must give the printed mass of each, and every text in ASCII must
/// be among them. Otherwise the baseline reads too little, or wrongly.
fn check<'a>(
    rows: &'a [(String, Ratio)],
    weights: &AtomicWeights,
    by_hand: &floor::Weights,
) -> Vec<&'a str> {
    let mut shared = Vec::new();
    let unit = floor::unit();
    let printed = |exact: &Ratio| {
        exact
            .to_places(6, effloresce::number::TieRule::Even)
            .value()
    };
    for (text, mass) in rows {
        let formula: Formula = text.parse().expect(text);
        let exact = formula.molar_mass(weights).expect(text).exact().clone();
        assert_eq!(printed(&exact), *mass, "{text}");
        match floor::mass(text.as_bytes(), by_hand) {
            Some(units) => {
                let found = &Ratio::from(units) * &unit;
                assert_eq!(found, exact, "the floor reads {text} wrongly");
                shared.push(text.as_str());
            }
            None => assert!(!text.is_ascii(), "the floor does not read {text}"),
        }
    }
    let distinct: std::collections::BTreeSet<&str> = shared.iter().copied().collect();
    assert!(
        distinct.len() >= 300,
        "only {} texts to draw from",
        distinct.len()
    );
    println!(
        "{} texts, {} of them read by the floor",
        rows.len(),
        distinct.len()
    );
    shared
}
