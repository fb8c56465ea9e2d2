//! Text to coefficients, on the published equations in no order, against what it cannot do without:
//! reading the species and one elimination.

mod balance_floor;
mod lines;
mod ratio;

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{BenchmarkId, Criterion, Throughput};
use effloresce::Formula;
use effloresce::reaction::{Equation, Error};

use balance_floor::Matrix;
use lines::Draw;

const LINES: usize = 2_000;

/// Some elements, in the order in which the long equations take them.
const ELEMENTS: [&str; 30] = [
    "C", "H", "O", "N", "S", "P", "Na", "K", "Cl", "Ca", "Mg", "Al", "Si", "Mn", "Fe", "Co", "Ni",
    "Cu", "Zn", "Br", "Ag", "Sn", "I", "Ba", "Pb", "Cr", "V", "Ti", "F", "Li",
];

/// An equation with one balance, as its text and as what the floor is given.
struct Line {
    text: String,
    species: Vec<String>,
    matrix: Matrix,
}

fn main() {
    let lines = published();
    let mut draw = Draw::new(2024);
    let cold: Vec<&Line> = (0..LINES)
        .map(|_| &lines[draw.below(lines.len())])
        .collect();

    let mut criterion = Criterion::default()
        .sample_size(30)
        .warm_up_time(Duration::from_secs(1))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    let mut group = criterion.benchmark_group("balance");
    group.throughput(Throughput::Elements(LINES as u64));
    group.bench_function("all by hand", |b| {
        b.iter(|| {
            each(&cold, |line| {
                Matrix::read(&line.text).and_then(Matrix::solve)
            });
        });
    });
    group.bench_function("floor: species read, elimination by hand", |b| {
        b.iter(|| each(&cold, floor));
    });
    group.bench_function("equation read", |b| {
        b.iter(|| each(&cold, |line| line.text.parse::<Equation>()));
    });
    group.bench_function("text to coefficients", |b| {
        b.iter(|| each(&cold, |line| balance(&line.text)));
    });
    group.finish();
    ratio::say(
        || each(&cold, floor),
        [("text to coefficients", &mut || {
            each(&cold, |line| balance(&line.text));
        })],
    );
    let mut group = criterion.benchmark_group("species of six elements");
    for species in [10, 20, 40, 60] {
        let text = long(species, 6);
        group.throughput(Throughput::Elements(species as u64));
        group.bench_with_input(BenchmarkId::from_parameter(species), &text, |b, text| {
            b.iter(|| black_box(balance(text)));
        });
    }
    group.finish();
    sixty_of_thirty();
    criterion.final_summary();
}

fn balance(text: &str) -> Result<usize, Error> {
    let equation: Equation = text.parse()?;
    let balanced = equation.balance()?;
    Ok(black_box(balanced.coefficients()).len())
}

fn floor(line: &Line) -> Option<[i64; 12]> {
    for species in &line.species {
        black_box(species.parse::<Formula>().ok()?);
    }
    line.matrix.clone().solve()
}

fn each<T>(lines: &[&Line], mut work: impl FnMut(&Line) -> T) {
    for line in lines {
        black_box(work(black_box(line)));
    }
}

/// The published equations that have one balance; by either way it must be the printed one.
fn published() -> Vec<Line> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/published/data/d_balancing.jsonl"
    );
    let rows = std::fs::read_to_string(path).expect("run from the repository");
    let mut lines = Vec::new();
    for row in rows.lines() {
        let row: serde_json::Value = serde_json::from_str(row).expect("JSON");
        let Some(printed) = row["recomputed"]["coefficients"].as_array() else {
            continue;
        };
        let printed: Vec<i64> = printed.iter().map(|n| n.as_i64().expect("whole")).collect();
        let side = |name: &str| -> Vec<String> {
            let list = row["inputs"][name].as_array().expect("a list");
            list.iter()
                .map(|s| s.as_str().expect("a text").to_owned())
                .collect()
        };
        let (left, right) = (side("reactants"), side("products"));
        let text = format!("{} -> {}", left.join(" + "), right.join(" + "));
        let matrix = Matrix::read(&text).unwrap_or_else(|| panic!("the floor reads {text}"));
        let by_hand = matrix.clone().solve().expect("one balance");
        assert_eq!(
            by_hand[..printed.len()],
            printed,
            "the floor balances {text}"
        );
        let equation: Equation = text.parse().expect("an equation");
        let found = equation.balance().expect("one balance");
        let found: Vec<i64> = found
            .coefficients()
            .iter()
            .map(|n| n.to_i128().and_then(|n| n.try_into().ok()).expect("small"))
            .collect();
        assert_eq!(found, printed, "{text}");
        let species = [left, right].concat();
        lines.push(Line {
            text,
            species,
            matrix,
        });
    }
    assert_eq!(lines.len(), 57);
    lines
}

/// So many different species of so many elements, half of them on either side.
fn long(species: usize, elements: usize) -> String {
    let mut draw = Draw::new(61);
    let mut text = String::new();
    for place in 0..species {
        if place > 0 {
            text += if place == species / 2 { " -> " } else { " + " };
        }
        for step in 0..3 {
            // Each element comes in turn, on both sides.
            let at = (place + step * (1 + place / elements)) % elements;
            text += &format!("{}{}", ELEMENTS[at], 2 + draw.below(9));
        }
    }
    text
}

/// Within a second, whatever is answered.
fn sixty_of_thirty() {
    let text = long(60, 30);
    let start = Instant::now();
    let answer = balance(&text);
    let took = start.elapsed();
    let said = answer.map_or_else(|error| error.to_string(), |_| "balanced".to_owned());
    println!("60 species of 30 elements: {took:?} ({said})");
    assert!(took < Duration::from_secs(1), "{took:?}");
}
