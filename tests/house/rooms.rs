//! Each room uses those above it and never those below.
//!
//! Read are the paths in code: `use` in every form, and paths that stand where they are used.
//! Unit tests are held to the same order. Comments are not read: an example in a room's
//! documentation is written as a caller would write it.

use std::collections::BTreeMap;

use crate::source::{Token, sources, tokens};

/// From the top of the house down.
const ROOMS: [&str; 11] = [
    "number",
    "element",
    "formula",
    "working",
    "reaction",
    "gravimetry",
    "mistake",
    "class",
    "exercise",
    "report",
    "qti",
];

/// Outside the order: they may name every room, and no room may name them.
const OUTSIDE: [&str; 2] = ["lib", "error"];

/// Free to all, and for that reason naming no room.
const FREE: &str = "text";

pub(crate) type Path = Vec<String>;

/// `formula/parse.rs` is the module `formula::parse`.
pub(crate) fn module(file: &str) -> Path {
    let path = file.strip_suffix(".rs").unwrap();
    let path = path.strip_suffix("/mod").unwrap_or(path);
    match path {
        "lib" => Vec::new(),
        _ => path.split('/').map(String::from).collect(),
    }
}

/// All paths that a file names, from the crate's root on. A path that begins outside the crate
/// is left out; one that leads above the root is `["super"]`.
pub(crate) fn named(file: &str, tokens: &[Token]) -> Vec<Path> {
    let mut here = module(file);
    let mut blocks: Vec<bool> = Vec::new();
    let mut found = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let next_is =
            |offset: usize, text: &str| tokens.get(i + offset).is_some_and(|t| t.is(text));
        match &tokens[i] {
            Token::Sign('{') => blocks.push(false),
            Token::Sign('}') if blocks.pop() == Some(true) => {
                here.pop();
            }
            Token::Word(word) if word == "mod" && next_is(2, "{") => {
                here.extend(tokens[i + 1].word().map(String::from));
                blocks.push(true);
                i += 2;
            }
            Token::Word(word) if word == "use" && !next_is(1, "<") => {
                let mut paths = Vec::new();
                i = tree(tokens, i + 1, &Vec::new(), &mut paths);
                found.extend(paths.iter().filter_map(|path| resolve(&here, path)));
                continue;
            }
            Token::Word(word) if is_anchor(word) && next_is(1, "::") => {
                let mut path = vec![word.clone()];
                while let (Some(Token::Colons), Some(Token::Word(next))) =
                    (tokens.get(i + 1), tokens.get(i + 2))
                {
                    path.push(next.clone());
                    i += 2;
                }
                found.extend(resolve(&here, &path));
            }
            _ => {}
        }
        i += 1;
    }
    found
}

fn is_anchor(word: &str) -> bool {
    matches!(word, "crate" | "self" | "super")
}

/// Reads one tree of a `use` and returns the place behind it.
pub(crate) fn tree(tokens: &[Token], start: usize, before: &Path, found: &mut Vec<Path>) -> usize {
    let mut path = before.clone();
    let mut i = start;
    loop {
        match tokens.get(i) {
            Some(Token::Word(word)) if word == "as" => {
                i += 2;
                break;
            }
            Some(Token::Word(word)) => path.push(word.clone()),
            Some(Token::Sign('*')) => path.push("*".into()),
            // A path that begins with `::` leads out of the crate.
            Some(Token::Colons) if path.is_empty() => path.push("::".into()),
            Some(Token::Colons) => {}
            Some(Token::Sign('{')) => {
                i += 1;
                while tokens.get(i).is_some_and(|t| !t.is("}")) {
                    i = tree(tokens, i, &path, found);
                    if tokens.get(i).is_some_and(|t| t.is(",")) {
                        i += 1;
                    }
                }
                return i + 1;
            }
            _ => break,
        }
        i += 1;
    }
    found.push(path);
    i
}

pub(crate) fn resolve(here: &Path, path: &Path) -> Option<Path> {
    let mut at = match path.first()?.as_str() {
        "crate" => Vec::new(),
        "self" | "super" => here.clone(),
        // Another crate, or a module of this one below `here`: in the same room either way.
        _ => return None,
    };
    for segment in path {
        match segment.as_str() {
            "crate" | "self" => {}
            "super" => {
                if at.pop().is_none() {
                    return Some(vec!["super".into()]);
                }
            }
            name => at.push(name.into()),
        }
    }
    Some(at)
}

/// Where the names at the root come from: `Formula` from `formula`. A name from another crate
/// has no room.
fn at_the_root(lib: &str) -> BTreeMap<String, Option<String>> {
    let tokens = tokens(lib);
    let mut names = BTreeMap::new();
    for (i, token) in tokens.iter().enumerate() {
        let exported = i > 0 && tokens[i - 1].is("pub");
        if token.is("mod") && tokens.get(i + 2).is_some_and(|t| t.is(";")) {
            let name = tokens[i + 1].word().unwrap().to_owned();
            names.insert(name.clone(), Some(name));
        } else if token.is("use") && exported {
            let mut paths = Vec::new();
            tree(&tokens, i + 1, &Vec::new(), &mut paths);
            for path in paths {
                let first = path[0].clone();
                names.insert(path.last().unwrap().clone(), Some(first));
            }
        }
    }
    let modules: Vec<String> = names.keys().cloned().collect();
    for home in names.values_mut() {
        home.take_if(|home| !modules.contains(home));
    }
    names
}

/// What is wrong with a path, if anything is.
fn complaint(file: &str, path: &Path, root: &BTreeMap<String, Option<String>>) -> Option<String> {
    let own = module(file)[0].clone();
    let says = |what: &str| Some(format!("src/{file} names {}: {what}", path.join("::")));
    let Some(first) = path.first() else {
        return says("the crate itself, through which any room is in reach");
    };
    let Some(home) = root.get(first) else {
        return says("nothing known at the crate's root");
    };
    let Some(home) = home else { return None };
    if *home == own || home == FREE {
        return None;
    }
    let level = |room: &str| ROOMS.iter().position(|r| *r == room);
    match (level(&own), level(home)) {
        (Some(own), Some(other)) if other < own => None,
        (Some(_), Some(_)) => says("a room further down"),
        (Some(_), None) => says("it stands outside the order"),
        (None, _) => says("it is free to all and may name no room"),
    }
}

fn complaints(file: &str, source: &str, root: &BTreeMap<String, Option<String>>) -> Vec<String> {
    let paths = named(file, &tokens(source));
    let wrong = paths.iter().filter_map(|path| complaint(file, path, root));
    wrong.collect()
}

fn lib() -> String {
    let lib = sources().into_iter().find(|(file, _)| file == "lib.rs");
    lib.expect("src/lib.rs").1
}

#[test]
fn no_room_looks_down() {
    let sources = sources();
    let root = at_the_root(&lib());
    let mut wrong = Vec::new();
    let mut declared = 0;
    let mut between = 0;
    for (file, source) in &sources {
        let top = module(file).first().cloned();
        let top = top.as_deref().unwrap_or("lib");
        assert!(
            ROOMS.contains(&top) || OUTSIDE.contains(&top) || top == FREE,
            "src/{file} is in no room"
        );
        let tokens = tokens(source);
        let declares = tokens.windows(3).filter(|t| t[0].is("mod") && t[2].is(";"));
        declared += declares.count();
        // By another name for itself the crate would be in reach of all.
        let renames = |t: &[Token]| t[0].is("extern") && t[1].is("crate") && t[2].is("self");
        assert!(!tokens.windows(3).any(renames), "src/{file}");
        if !OUTSIDE.contains(&top) {
            let named = named(file, &tokens);
            between += named
                .iter()
                .filter(|path| path.first().is_some_and(|p| p != top))
                .count();
            wrong.extend(complaints(file, source, &root));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Every file but the root is declared once, by a `mod` that the compiler follows.
    assert_eq!(
        sources.len(),
        declared + 1,
        "a file is not read, or not compiled"
    );
    assert!(sources.len() >= 67, "{} files read", sources.len());
    assert!(between >= 200, "{between} paths from room to room read");
}

#[test]
fn names_at_the_root_have_rooms() {
    let root = at_the_root(&lib());
    for (name, home) in [
        ("AtomicWeights", Some("element")),
        ("Formula", Some("formula")),
        ("MolarMass", Some("formula")),
        ("Ratio", Some("number")),
        ("Reading", Some("number")),
        ("Error", Some("error")),
        ("Note", Some("text")),
        ("Decimal", None),
        ("class", Some("class")),
    ] {
        assert_eq!(
            root.get(name).map(|home| home.as_deref()),
            Some(home),
            "{name}"
        );
    }
}

/// Planted in a file that may not have it.
const FORBIDDEN: [(&str, &str); 24] = [
    ("gravimetry/series.rs", "use crate::class::Sheet;"),
    ("gravimetry/series.rs", "use super::super::class;"),
    (
        "gravimetry/series.rs",
        "use super::super::class::Sheet as Paper;",
    ),
    ("number/ratio.rs", "use crate::{number, report::Y};"),
    (
        "number/ratio.rs",
        "use crate::{number::{Reading, TieRule}, formula::{Formula}};",
    ),
    ("number/ratio.rs", "pub(crate) use crate::element::Element;"),
    ("number/mod.rs", "use super::formula;"),
    ("number/mod.rs", "pub(in crate::element) fn f() {}"),
    (
        "element/mod.rs",
        "fn f() { let _ = crate::formula::Formula::read(\"\"); }",
    ),
    ("element/mod.rs", "fn f(x: &super::formula::Formula) {}"),
    ("element/mod.rs", "impl From<crate::Formula> for X {}"),
    ("element/weights.rs", "use crate::{Formula};"),
    (
        "element/weights.rs",
        "mod wire { use super::super::super::report; }",
    ),
    (
        "element/weights.rs",
        "mod wire { mod inner { fn f() { super::super::super::super::qti::f() } } }",
    ),
    (
        "formula/mod.rs",
        "macro_rules! m { () => { $crate::gravimetry::Method::new() } }",
    ),
    (
        "formula/mod.rs",
        "#[cfg(test)] mod tests { use crate::mistake::Slip; }",
    ),
    ("formula/mod.rs", "use crate::working::Step;"),
    ("working.rs", "use super::gravimetry::Method;"),
    (
        "class/mark.rs",
        "fn f() -> Result<(), crate::Error> { Ok(()) }",
    ),
    ("class/mark.rs", "use crate::error::Error;"),
    ("class/mark.rs", "use crate::*;"),
    ("class/mark.rs", "use super::super as house;"),
    ("class/mark.rs", "use crate::{self as house};"),
    ("text.rs", "use crate::number::Ratio;"),
];

const ALLOWED: [(&str, &str); 12] = [
    ("class/mark.rs", "use crate::gravimetry::{self, Method};"),
    (
        "class/mark.rs",
        "use crate::{Formula, Ratio, Note, Decimal};",
    ),
    ("class/mark.rs", "use super::super::formula::Formula;"),
    ("class/mark.rs", "use super::{Row, sheet::Problem};"),
    ("class/sheet/row.rs", "pub(in crate::class) fn f() {}"),
    (
        "report/key.rs",
        "fn f() { crate::class::Marked::rows; self::g::<u8>(); }",
    ),
    (
        "gravimetry/series.rs",
        "// use crate::class::Sheet;\n/* crate::report::X */",
    ),
    (
        "gravimetry/series.rs",
        "const S: &str = \"crate::class::Sheet\";",
    ),
    (
        "gravimetry/series.rs",
        "/// use crate::class::Sheet;\nfn f() {}",
    ),
    (
        "gravimetry/series.rs",
        "use ::class::Other; use std::report::Y; use serde::{self, Serialize};",
    ),
    (
        "number/mod.rs",
        "pub(crate) use uncertainty::rectangular; crate::text::room_error! {}",
    ),
    (
        "qti/item.rs",
        "use crate::{exercise::Problem, report, number::*};",
    ),
];

#[test]
fn a_planted_import_is_caught() {
    let mut root = at_the_root(&lib());
    // Rooms that are still to be built are in the order already.
    for room in ROOMS {
        root.insert(room.into(), Some(room.into()));
    }
    for (file, planted) in FORBIDDEN {
        let found = complaints(file, planted, &root);
        assert_eq!(found.len(), 1, "src/{file}: {planted}: {found:?}");
        assert!(found[0].starts_with(&format!("src/{file} names ")));
    }
    for (file, planted) in ALLOWED {
        assert_eq!(
            complaints(file, planted, &root),
            [""; 0],
            "src/{file}: {planted}"
        );
    }
    // In the midst of a real file, too.
    let (file, source) = sources()
        .into_iter()
        .find(|(file, _)| file == "gravimetry/series.rs")
        .expect("a file of the room");
    assert_eq!(complaints(&file, &source, &root), [""; 0]);
    let planted = source.replacen("\nuse ", "\nuse crate::class::Sheet;\nuse ", 1);
    assert_eq!(complaints(&file, &planted, &root).len(), 1);
}
