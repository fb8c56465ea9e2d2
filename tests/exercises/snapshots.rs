//! Problems of each kind and level, as they were when the generator got its name. Another problem for the same seed
//! needs another name of the generator.

use std::fs;
use std::path::Path;

use effloresce::exercise::{Exercises, Kind, Level};

/// The seeds of each kind and level.
const SEEDS: [u64; 2] = [1, 20];

/// The problems as JSON, each on its own line.
fn problems() -> (String, usize) {
    let mut lines = Vec::new();
    let mut generator = String::new();
    for kind in Kind::ALL {
        for level in Level::ALL {
            for seed in SEEDS {
                let exercises = Exercises::new(seed).kinds([kind]).level(level);
                // A level that the kind does not have.
                let Ok(set) = exercises.set(1) else { continue };
                generator = set.generator().to_owned();
                lines.push(serde_json::to_string(&set.problems()[0]).unwrap());
            }
        }
    }
    let count = lines.len();
    let lines = lines.join(",\n");
    let text = format!("{{\"generator\": \"{generator}\", \"problems\": [\n{lines}\n]}}\n");
    (text, count)
}

/// `RENEW=1` writes the file again, for another name of the generator.
#[test]
fn the_same_seed_gives_the_same_problem() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/golden/exercises_1.json");
    let (now, count) = problems();
    if std::env::var_os("RENEW").is_some() {
        fs::create_dir_all(Path::new(path).parent().unwrap()).unwrap();
        fs::write(path, &now).unwrap();
    }
    let then = fs::read_to_string(path).unwrap();
    for (now, then) in now.lines().zip(then.lines()) {
        assert_eq!(now, then);
    }
    assert_eq!(now, then);
    // 15 kinds with at least two levels each.
    assert!(count >= 60, "{count}");
}
