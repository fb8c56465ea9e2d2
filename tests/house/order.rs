//! One direction inside every module: a file uses only files that come before it.
//!
//! Each `mod.rs` lists its files in order, and holds nothing but that list, its documentation,
//! declarations and re-exports. A path through a re-export counts as a path to the file that defines the
//! item. Unit tests are not held to this order: they look at several files together.

use std::collections::BTreeMap;

use crate::rooms::{Path, module, named, resolve, tree};
use crate::source::{Token, after_item, sources, tokens_with_lines, without_tests};

/// The line before the list, in every `mod.rs`.
const HEAD: &str = "// Files in order; each uses only those before it:";

/// A source without its unit tests, and without the paths that say in which module a name is visible.
fn library_tokens(source: &str) -> Vec<Token> {
    let tokens = without_tests(&tokens_with_lines(source));
    let mut kept = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let is = |offset: usize, text: &str| {
            let token = tokens.get(i + offset);
            token.is_some_and(|(token, _)| token.is(text))
        };
        let places = ["crate", "super", "self", "in"];
        let restricted = is(0, "pub") && is(1, "(") && places.iter().any(|word| is(2, word));
        kept.push(tokens[i].0.clone());
        i = if restricted {
            closing(&tokens, i + 1)
        } else {
            i
        } + 1;
    }
    kept
}

/// Files of unit tests.
fn is_tests(file: &str) -> bool {
    file.ends_with("tests.rs") || file.contains("/tests/")
}

/// The files that a `mod.rs` lists, in order.
fn listed(source: &str) -> Vec<String> {
    let lines = source.lines().skip_while(|line| *line != HEAD).skip(1);
    let names = lines.map_while(|line| line.strip_prefix("//   "));
    names
        .map(|line| line.split(' ').next().unwrap_or_default().to_owned())
        .collect()
}

/// The crate's modules: which files there are, what each folder lists and passes on.
#[derive(Clone)]
struct House {
    sources: BTreeMap<Path, (String, String)>,
    listed: BTreeMap<Path, Vec<String>>,
    /// For each module, the names that it re-exports and the path that each stands for.
    exported: BTreeMap<Path, BTreeMap<String, Path>>,
}

impl House {
    fn new(sources: Vec<(String, String)>) -> House {
        let mut house = House {
            sources: BTreeMap::new(),
            listed: BTreeMap::new(),
            exported: BTreeMap::new(),
        };
        for (file, source) in sources {
            if file.ends_with("/mod.rs") && !is_tests(&file) {
                house.listed.insert(module(&file), listed(&source));
            }
            let exported = re_exported(&module(&file), &library_tokens(&source));
            house.exported.insert(module(&file), exported);
            house.sources.insert(module(&file), (file, source));
        }
        house
    }

    /// The module of the file that defines what a path names.
    fn definer(&self, path: &Path) -> Path {
        let mut path = path.clone();
        // A chain of re-exports is no longer than this.
        for _ in 0..8 {
            let known = (0..=path.len()).take_while(|n| self.sources.contains_key(&path[..*n]));
            let depth = known.last().unwrap_or_default();
            let (here, rest) = path.split_at(depth);
            let exported = rest
                .first()
                .and_then(|name| self.exported.get(here)?.get(name));
            // A macro is passed on by the file that defines it.
            let exported = exported.filter(|other| !path.starts_with(other));
            match exported {
                Some(other) => path = [other.as_slice(), &rest[1..]].concat(),
                None => return here.to_vec(),
            }
        }
        panic!("{path:?}: a circle of re-exports");
    }

    /// What is wrong with the order of the paths that a file names, and how many paths were read.
    fn against_the_order(&self, own: &Path) -> (Vec<String>, usize) {
        let (file, source) = &self.sources[own];
        if self.listed.contains_key(own) || own.len() < 2 || is_tests(file) {
            return (Vec::new(), 0);
        }
        let (mut wrong, mut read) = (Vec::new(), 0);
        for path in named(file, &library_tokens(source)) {
            let other = self.definer(&path);
            if other == *own || other.first() != own.first() {
                continue;
            }
            read += 1;
            let path = path.join("::");
            if own.starts_with(&other) {
                wrong.push(format!("src/{file} names {path}: the folder that it is in"));
                continue;
            }
            let together = own.iter().zip(&other).take_while(|(a, b)| a == b).count();
            let order = &self.listed[&own[..together]];
            let level = |name: &String| order.iter().position(|listed| listed == name);
            if level(&other[together]) >= level(&own[together]) {
                wrong.push(format!("src/{file} names {path}: a file that comes later"));
            }
        }
        (wrong, read)
    }
}

/// The names that a module passes on from others.
fn re_exported(here: &Path, tokens: &[Token]) -> BTreeMap<String, Path> {
    let mut names = BTreeMap::new();
    for (i, token) in tokens.iter().enumerate() {
        let public = i > 0 && tokens[i - 1].is("pub");
        if !token.is("use") || !public {
            continue;
        }
        let mut paths = Vec::new();
        tree(tokens, i + 1, &Vec::new(), &mut paths);
        for path in paths {
            let anchored = matches!(path[0].as_str(), "crate" | "self" | "super");
            let path = match anchored {
                true => path,
                false => [vec!["self".to_owned()], path].concat(),
            };
            let name = path.last().cloned().unwrap_or_default();
            names.extend(resolve(here, &path).map(|path| (name, path)));
        }
    }
    names
}

/// What a `mod.rs` has that it may not have, and the files that it declares.
fn declarations(source: &str) -> (Vec<String>, Vec<String>) {
    let tokens = without_tests(&tokens_with_lines(source));
    let (mut wrong, mut declared) = (Vec::new(), Vec::new());
    let mut i = 0;
    while i < tokens.len() {
        let is = |offset: usize, text: &str| {
            tokens
                .get(i + offset)
                .is_some_and(|(token, _)| token.is(text))
        };
        let (start, line) = (i, tokens[i].1);
        if is(0, "#") {
            // An attribute, with or without a `!`.
            i += if is(1, "!") { 2 } else { 1 };
            i = closing(&tokens, i) + 1;
            continue;
        }
        let public = is(0, "pub");
        if public {
            i += 1;
            if tokens[i].0.is("(") {
                i = closing(&tokens, i) + 1;
            }
        }
        match &tokens[i].0 {
            word if word.is("mod") && tokens[i + 2].0.is(";") => {
                declared.extend(tokens[i + 1].0.word().map(String::from));
            }
            word if word.is("use") && public => {}
            _ => wrong.push(format!("line {line}: neither a `mod` nor a re-export")),
        }
        i = after_item(&tokens, start);
    }
    (wrong, declared)
}

/// Where the bracket that stands at a place is closed.
fn closing(tokens: &[(Token, usize)], start: usize) -> usize {
    let mut depth = 0;
    for (i, (token, _)) in tokens.iter().enumerate().skip(start) {
        match token {
            Token::Sign('(' | '[' | '{') => depth += 1,
            Token::Sign(')' | ']' | '}') => {
                depth -= 1;
                if depth == 0 {
                    return i;
                }
            }
            _ => {}
        }
    }
    tokens.len()
}

#[test]
fn no_file_uses_a_later_one() {
    let house = House::new(sources());
    let (mut wrong, mut read) = (Vec::new(), 0);
    for own in house.sources.keys() {
        let (complaints, paths) = house.against_the_order(own);
        wrong.extend(complaints);
        read += paths;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(read >= 800, "{read} paths inside a module read");
}

#[test]
fn every_folder_lists_its_files_in_order() {
    let house = House::new(sources());
    let mut wrong = Vec::new();
    for (folder, listed) in &house.listed {
        let (file, source) = &house.sources[folder];
        let (found, mut declared) = declarations(source);
        wrong.extend(found.iter().map(|found| format!("src/{file}, {found}")));
        let mut sorted = listed.clone();
        sorted.sort();
        declared.sort();
        if sorted != declared {
            wrong.push(format!(
                "src/{file} declares {declared:?}, lists {listed:?}"
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(house.listed.len() >= 20, "{} folders", house.listed.len());
    // A file beside a folder of its name has nothing there but its tests.
    for (file, source) in house.sources.values() {
        let ours = !file.ends_with("mod.rs") && file != "lib.rs" && !is_tests(file);
        let (_, declared) = declarations(source);
        assert!(!ours || declared.is_empty(), "src/{file}: {declared:?}");
    }
}

#[test]
fn a_planted_circle_is_refused() {
    let house = House::new(sources());
    // In every folder with two files, the first is made to use the last: by its own path, and by the
    // name of an item that the folder passes on, where there is one.
    let mut planted = 0;
    for (folder, listed) in &house.listed {
        let files: Vec<Path> = listed
            .iter()
            .map(|name| [folder.as_slice(), core::slice::from_ref(name)].concat())
            .filter(|path| !house.listed.contains_key(path))
            .collect();
        let [first, .., last] = files.as_slice() else {
            continue;
        };
        let before = house.against_the_order(first).0;
        let mut passed_on = house.exported[folder].iter();
        let by_item = passed_on.find(|(_, path)| house.definer(path) == *last);
        let by_item = by_item.map(|(name, _)| format!("use super::{name};"));
        let by_file = format!("use super::{}::X;", last[last.len() - 1]);
        for circle in [Some(by_file), by_item].into_iter().flatten() {
            let mut house = house.clone();
            let (_, source) = house.sources.get_mut(first).expect("a file that is listed");
            source.insert_str(0, &format!("{circle}\n"));
            let after = house.against_the_order(first).0;
            assert_eq!(after.len(), before.len() + 1, "{first:?}: {circle}");
            planted += 1;
        }
    }
    assert!(planted >= 30, "{planted} circles planted");
}

#[test]
fn what_a_folder_may_not_hold_is_seen() {
    for (source, complaints) in [
        (
            "//! Text.\n\n#![warn(x)]\n\nmod a;\n#[cfg(feature = \"b\")]\npub(crate) use a::B;\n",
            0,
        ),
        (
            "mod a;\n#[cfg(test)]\nmod tests;\npub mod b;\npub use a::{C, D};\n",
            0,
        ),
        ("mod a;\nuse a::B;\n", 1),
        ("pub struct A { b: u8 }\nmod c;\nimpl A {}\n", 2),
        ("pub(crate) fn f() -> [u8; 2] { [1, 2] }\n", 1),
        ("mod a { fn f() {} }\n", 1),
    ] {
        assert_eq!(declarations(source).0.len(), complaints, "{source}");
    }
    assert_eq!(declarations("mod a;\n#[cfg(test)]\nmod tests;\n").1, ["a"]);
    let list = format!("//! Text.\n\n{HEAD}\n//   a    first\n//   bc   second\n\nmod a;\n");
    assert_eq!(listed(&list), ["a", "bc"]);
}

/// Names that several types have: each module has its own error.
const SHARED_NAMES: [&str; 1] = ["Error"];

/// The types that a source defines, save those associated with a trait.
fn types(source: &str) -> Vec<String> {
    let tokens = library_tokens(source);
    let (mut found, mut depth) = (Vec::new(), 0_usize);
    for (i, pair) in tokens.windows(2).enumerate() {
        match &pair[0] {
            Token::Sign('{') => depth += 1,
            Token::Sign('}') => depth -= 1,
            _ => {}
        }
        let defines = ["struct", "enum", "trait"].iter().any(|w| pair[0].is(w))
            || (pair[0].is("type") && depth == 0);
        // `r#type`, `$type` and the like are no definitions.
        let inside = i > 0 && (tokens[i - 1].is("#") || tokens[i - 1].is("$"));
        if defines && !inside {
            found.extend(pair[1].word().map(String::from));
        }
    }
    found
}

#[test]
fn no_two_types_have_one_name() {
    let mut homes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (file, source) in sources().iter().filter(|(file, _)| !is_tests(file)) {
        for name in types(source) {
            homes.entry(name).or_default().push(file.clone());
        }
    }
    assert!(homes.len() >= 200, "{} names of types", homes.len());
    let excepted = |name: &str| SHARED_NAMES.contains(&name);
    let twice: Vec<_> = homes
        .iter()
        .filter(|(name, files)| files.len() > 1 && !excepted(name))
        .collect();
    assert!(twice.is_empty(), "{twice:#?}");
    let source = "type A = B; enum C { D } impl E for C { type A = u8; } struct F(u8); trait G {}";
    assert_eq!(types(source), ["A", "C", "F", "G"]);
}

/// A file that is longer says why in a line that begins with these words.
const LONG_BECAUSE: &str = "// Long because ";
const MOST_LINES_A_FILE: usize = 500;
const MOST_LINES_A_FUNCTION: usize = 60;

/// The functions of a source, each with the number of its lines.
fn functions(source: &str) -> Vec<(String, usize)> {
    let tokens = without_tests(&tokens_with_lines(source));
    let mut found = Vec::new();
    for (i, (token, line)) in tokens.iter().enumerate() {
        let Some(name) = tokens.get(i + 1).and_then(|(next, _)| next.word()) else {
            continue;
        };
        if token.is("fn") {
            let end = after_item(&tokens, i) - 1;
            found.push((name.to_owned(), tokens[end].1 - line + 1));
        }
    }
    found
}

/// The number of lines of a source to the end of its last item that is not a unit test.
fn library_lines(source: &str) -> usize {
    let tokens = without_tests(&tokens_with_lines(source));
    tokens.last().map_or(0, |(_, line)| *line)
}

#[test]
fn files_and_functions_are_short() {
    let (mut wrong, mut read) = (Vec::new(), 0);
    for (file, source) in sources().iter().filter(|(file, _)| !is_tests(file)) {
        for (name, lines) in functions(source) {
            read += 1;
            if lines > MOST_LINES_A_FUNCTION {
                wrong.push(format!("src/{file}: `{name}` has {lines} lines"));
            }
        }
        let lines = library_lines(source);
        let reasoned = source.lines().any(|line| line.starts_with(LONG_BECAUSE));
        if lines > MOST_LINES_A_FILE && !reasoned {
            wrong.push(format!("src/{file} has {lines} lines"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(read >= 1500, "{read} functions read");
    let source = "#[cfg(test)]\nuse a;\n\nfn b() {}\n\n#[cfg(test)]\nmod tests {\n}\n";
    assert_eq!(library_lines(source), 4);
    let source = "fn a(\n) -> [u8; 3] {\n    f(|| { 1 });\n}\ntrait B {\n    fn c(&self);\n}\n";
    assert_eq!(functions(source), [("a".into(), 4), ("c".into(), 1)]);
}

/// Words that begin a clause and so no sentence that says what an item is or does.
const BEGIN_CLAUSES: [&str; 14] = [
    "Whether", "Where", "If", "When", "So", "By", "For", "With", "Of", "To", "From", "What", "Who",
    "How",
];

/// The first words of the documentation of public items, each with its line.
fn documented(source: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut first: Option<(usize, &str)> = None;
    let mut depth = 0_usize;
    for (index, line) in source.lines().enumerate() {
        let line = line.trim_start();
        if let Some(text) = line.strip_prefix("///") {
            first = first.or(Some((index + 1, text.trim())));
        } else if line.starts_with("#[") || depth > 0 {
            // An attribute may go on for several lines.
            depth = (depth + line.matches('[').count()).saturating_sub(line.matches(']').count());
        } else {
            let public = line.starts_with("pub ");
            found.extend(first.take().filter(|_| public).and_then(|(line, text)| {
                let word = text.split([' ', ',', ':']).next()?;
                Some((line, word.to_owned()))
            }));
        }
    }
    found
}

#[test]
fn documentation_begins_with_what_an_item_is() {
    let (mut wrong, mut read) = (Vec::new(), 0);
    for (file, source) in sources() {
        for (line, word) in documented(&source) {
            read += 1;
            if BEGIN_CLAUSES.contains(&word.as_str()) {
                wrong.push(format!("src/{file}, line {line}: begins with `{word}`"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(read >= 600, "{read} documented items read");
    let source = "/// Whether it is.\n#[must_use]\npub fn f() {}\n/// If.\nfn g() {}\n";
    assert_eq!(documented(source), [(1, "Whether".to_owned())]);
}
