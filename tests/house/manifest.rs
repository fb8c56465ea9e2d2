//! The promises of the package, and the files of the repository.

use std::collections::BTreeSet;
use std::fs;

use crate::source::{files, repository, sources, tokens};

fn read(name: &str) -> String {
    fs::read_to_string(repository().join(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// The lines of a table of Cargo.toml.
fn table(name: &str) -> Vec<String> {
    let manifest = read("Cargo.toml");
    let lines = manifest.lines().skip_while(|line| *line != name).skip(1);
    let lines: Vec<String> = lines
        .take_while(|line| !line.starts_with('['))
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(String::from)
        .collect();
    assert!(!lines.is_empty(), "Cargo.toml has no {name}");
    lines
}

#[test]
fn the_core_asks_for_no_operating_system() {
    let lib = read("src/lib.rs");
    let code = lib
        .lines()
        .filter(|line| !line.starts_with("//") && !line.is_empty());
    let code: Vec<&str> = code.collect();
    for attribute in [
        "#![no_std]",
        "#![forbid(unsafe_code)]",
        "#![deny(missing_docs)]",
    ] {
        assert!(code.contains(&attribute), "no {attribute}");
    }
    // `std` is available only with its feature.
    let std = code
        .iter()
        .position(|line| line.contains("extern crate std"));
    assert_eq!(
        code[std.unwrap() - 1],
        "#[cfg(any(feature = \"std\", test))]"
    );
    assert_eq!(lib.matches("extern crate std").count(), 1);
}

/// Modules of the core name `std` in tests only.
#[test]
fn no_room_of_the_core_names_std() {
    let mut read = 0;
    for (file, source) in sources() {
        let room = file.split(['/', '.']).next().unwrap();
        let is_test =
            file.ends_with("tests.rs") || file.contains("/tests/") || file.contains("/tests/");
        if is_test || matches!(room, "class" | "exercise" | "report" | "qti") {
            continue;
        }
        read += 1;
        let (code, _) = source
            .split_once("#[cfg(test)]\nmod tests {")
            .unwrap_or((&source, ""));
        let tokens = tokens(code);
        let named = tokens.windows(2).any(|t| t[0].is("std") && t[1].is("::"));
        assert!(!named, "src/{file} names std");
    }
    assert!(read >= 30, "{read} files read");
}

/// A feature has the name of a module that is built, or it is one of three others.
#[test]
fn features_have_the_names_of_rooms() {
    let features = table("[features]");
    let names = features
        .iter()
        .map(|line| line.split(" = ").next().unwrap());
    let names: BTreeSet<&str> = names.filter(|name| *name != "default").collect();
    assert!(names.len() >= 5, "{names:?}");
    for name in &names {
        let is_room = repository().join("src").join(name).is_dir();
        let others = ["std", "serde", "portable-atomic"];
        assert!(is_room || others.contains(name), "{name} adds nothing");
    }
    // It is of no use on other targets.
    let by_default = names.iter().filter(|name| **name != "portable-atomic");
    let quoted: BTreeSet<String> = by_default.map(|name| format!("\"{name}\"")).collect();
    let default = features
        .iter()
        .find_map(|line| line.strip_prefix("default = "));
    let default = default.unwrap().trim_matches(['[', ']']).split(", ");
    assert_eq!(default.map(String::from).collect::<BTreeSet<_>>(), quoted);
}

/// A build without the default features has only the packages that the core needs.
#[test]
fn packages_of_the_upper_rooms_are_optional() {
    for line in table("[dependencies]") {
        let package = line.split(" = ").next().unwrap();
        let upper = [
            "askama",
            "csv",
            "csv-core",
            "encoding_rs",
            "statrs",
            "serde",
            "plotters",
            "quick-xml",
            "zip",
            "toml",
        ];
        assert_eq!(
            line.contains("optional = true"),
            upper.contains(&package),
            "{line}"
        );
        if !line.contains("optional = true") && package != "libm" {
            assert!(line.contains("default-features = false"), "{line}");
        }
    }
}

#[test]
fn there_are_no_stray_files() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "src",
        "templates",
        "tests",
        "benches",
        "examples",
        ".gitignore",
        ".ci",
        ".git",
        "target",
    ];
    let mut found = 0;
    for entry in fs::read_dir(repository()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(allowed.contains(&name.as_str()), "{name} at the top level");
        found += 1;
    }
    assert!(found >= 10, "{found} entries");
}

/// Files are about their subject, not about how they were made.
#[test]
fn files_keep_to_their_subject() {
    // The words are put together here, so that this file may be read as well.
    let forbidden = [
        ["seed", "document"].join(" "),
        ["trans", "cript"].concat(),
        ["vid", "eo"].concat(),
    ];
    let mut read = 0;
    for entry in fs::read_dir(repository()).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        if matches!(name, "target" | ".git") {
            continue;
        }
        let all = if path.is_dir() {
            files(&path)
        } else {
            vec![path]
        };
        for file in all {
            let text = String::from_utf8_lossy(&fs::read(&file).unwrap()).to_lowercase();
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for words in &forbidden {
                assert!(
                    !text.contains(words.as_str()),
                    "{}: {words}",
                    file.display()
                );
            }
            read += 1;
        }
    }
    assert!(read >= 100, "{read} files read");
}
