//! Every example program is run on a file.

use std::collections::BTreeSet;
use std::fs;

use crate::source::repository;

/// The programs in `examples/`, each with the test module that runs it.
pub(crate) const RUN: [(&str, &str); 5] = [
    ("answer_key", "answer_key.rs"),
    ("identify", "identify_program.rs"),
    ("jsonl", "contract.rs"),
    ("plan_lab", "plan_lab.rs"),
    ("problem_set", "problem_set.rs"),
];

#[test]
fn no_program_is_without_a_test() {
    let mut programs = BTreeSet::new();
    for entry in fs::read_dir(repository().join("examples")).unwrap() {
        let path = entry.unwrap().path();
        let is_program = match path.is_dir() {
            true => path.join("main.rs").is_file(),
            false => path.extension().is_some_and(|ending| ending == "rs"),
        };
        if is_program {
            programs.insert(path.file_stem().unwrap().to_str().unwrap().to_owned());
        }
    }
    let run: BTreeSet<String> = RUN.iter().map(|(name, _)| String::from(*name)).collect();
    assert_eq!(
        programs, run,
        "the programs in examples/, and those that tests here run"
    );

    let manifest = fs::read_to_string(repository().join("Cargo.toml")).unwrap();
    for (name, module) in RUN {
        // Cargo.toml lists each with the features that it needs.
        let listed = format!("[[example]]\nname = \"{name}\"\n");
        assert!(
            manifest.contains(&listed),
            "Cargo.toml does not list {name}"
        );
        let test = fs::read_to_string(repository().join("tests/house").join(module)).unwrap();
        assert!(test.contains("#[test]"), "{module} has no test");
    }
}
