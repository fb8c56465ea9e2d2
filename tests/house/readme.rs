//! The documents in Markdown: their links, the files that they name, the command that installs.

use std::fs;
use std::path::PathBuf;

use crate::programs::RUN;
use crate::source::{files, repository};

/// The documents of the repository, each with its text.
fn documents() -> Vec<(PathBuf, String)> {
    let root = fs::read_dir(repository()).unwrap();
    let root = root.map(|entry| entry.unwrap().path());
    let folders = ["benches", "examples", "src", "tests"];
    let below = folders.map(|folder| files(&repository().join(folder)));
    let documents = root.chain(below.into_iter().flatten());
    documents
        .filter(|path| path.extension().is_some_and(|ending| ending == "md"))
        .map(|path| (path.clone(), fs::read_to_string(path).unwrap()))
        .collect()
}

/// The targets of the links in a text that depend on where the text is shown.
fn relative_links(text: &str) -> Vec<&str> {
    let mut targets = Vec::new();
    for start in ["](", "]: ", "href=\"", "src=\""] {
        for (_, rest) in text.match_indices(start).map(|(at, _)| text.split_at(at)) {
            let rest = &rest[start.len()..];
            let target = rest.split([')', '"', ' ', '\n']).next().unwrap_or_default();
            // `[1]: correct` is a mark and its reason; a target has a full stop or a slash.
            let is_target = target.contains(['/', '.']) && !target.ends_with('.');
            let is_absolute = ["https://", "http://", "#"]
                .iter()
                .any(|s| target.starts_with(s));
            if is_target && !is_absolute {
                targets.push(target);
            }
        }
    }
    targets
}

#[test]
fn a_document_is_read_anywhere_and_has_no_relative_link() {
    let text = "a [b](c.md), [d](https://e.example/f), [g](#h), [i](../j/k)\n\n[l]: m/n\n<img src=\"o.png\">";
    assert_eq!(relative_links(text), ["c.md", "../j/k", "m/n", "o.png"]);
    let documents = documents();
    assert!(documents.len() >= 6, "{}", documents.len());
    for (path, text) in documents {
        assert_eq!(relative_links(&text), [""; 0], "{}", path.display());
    }
}

#[test]
fn the_files_that_the_readme_names_are_there() {
    let readme = fs::read_to_string(repository().join("README.md")).unwrap();
    let folders = ["examples/", "src/", "tests/"];
    let quoted = readme.split('`').filter(|words| {
        let named = folders.iter().any(|folder| words.starts_with(folder));
        named && !words.contains(char::is_whitespace)
    });
    let named: Vec<&str> = quoted.collect();
    assert!(named.len() >= 4, "{named:?}");
    for name in named {
        assert!(repository().join(name).exists(), "{name}");
    }
}

#[test]
fn the_readme_installs_every_program() {
    let readme = fs::read_to_string(repository().join("README.md")).unwrap();
    let mut install = readme
        .lines()
        .filter(|line| line.starts_with("cargo install"));
    let programs = RUN.map(|(name, _)| format!(" --example {name}")).concat();
    assert_eq!(
        install.next(),
        Some(&*format!("cargo install --path .{programs}"))
    );
    assert_eq!(install.next(), None);
    let checks = fs::read_to_string(repository().join(".ci/run")).unwrap();
    assert!(checks.contains("$(grep '^cargo install' README.md)"));
}
