//! Rust source as tokens, as far as these tests need it: words, `::` and single signs, without
//! comments, strings and characters.

use std::fs;
use std::path::{Path, PathBuf};

#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Token {
    Word(String),
    Colons,
    Sign(char),
}

impl Token {
    pub(crate) fn word(&self) -> Option<&str> {
        match self {
            Token::Word(word) => Some(word),
            _ => None,
        }
    }

    pub(crate) fn is(&self, text: &str) -> bool {
        match self {
            Token::Word(word) => word == text,
            Token::Colons => text == "::",
            Token::Sign(sign) => text.chars().eq([*sign]),
        }
    }
}

pub(crate) fn tokens(source: &str) -> Vec<Token> {
    let lined = tokens_with_lines(source).into_iter();
    lined.map(|(token, _)| token).collect()
}

/// The tokens of a source, each with the number of its line, from 1 on.
pub(crate) fn tokens_with_lines(source: &str) -> Vec<(Token, usize)> {
    let chars: Vec<char> = source.chars().collect();
    let at = |index: usize| chars.get(index).copied().unwrap_or('\0');
    let mut found = Vec::new();
    let mut i = 0;
    let (mut line, mut counted) = (1, 0);
    while i < chars.len() {
        line += chars[counted..i].iter().filter(|c| **c == '\n').count();
        counted = i;
        let c = chars[i];
        if c == '/' && at(i + 1) == '/' {
            while i < chars.len() && at(i) != '\n' {
                i += 1;
            }
        } else if c == '/' && at(i + 1) == '*' {
            i = after_comment(&chars, i);
        } else if c == '"' {
            i = after_string(&chars, i + 1);
        } else if c == '\'' {
            // A character ends in a quote; a lifetime does not.
            if at(i + 1) == '\\' {
                i += 3;
                while i < chars.len() && at(i - 1) != '\'' {
                    i += 1;
                }
            } else if at(i + 2) == '\'' {
                i += 3;
            } else {
                i += 1;
            }
        } else if c == ':' && at(i + 1) == ':' {
            found.push((Token::Colons, line));
            i += 2;
        } else if c.is_alphanumeric() || c == '_' {
            let start = i;
            while at(i).is_alphanumeric() || at(i) == '_' {
                i += 1;
            }
            let word: String = chars[start..i].iter().collect();
            let raw = matches!(word.as_str(), "r" | "br" | "cr");
            if raw && matches!(at(i), '"' | '#') {
                let hashes = chars[i..].iter().take_while(|c| **c == '#').count();
                if at(i + hashes) == '"' {
                    i = after_raw_string(&chars, i + hashes + 1, hashes);
                    continue;
                }
            }
            found.push((Token::Word(word), line));
        } else {
            if !c.is_whitespace() {
                found.push((Token::Sign(c), line));
            }
            i += 1;
        }
    }
    found
}

/// The tokens that are compiled into the library: no item under `#[cfg(test)]` or `#[cfg(all(test, …))]`.
pub(crate) fn without_tests(tokens: &[(Token, usize)]) -> Vec<(Token, usize)> {
    let spells = |from: usize, signs: &[&str]| {
        let mut pairs = signs.iter().zip(from..);
        pairs.all(|(sign, i)| tokens.get(i).is_some_and(|(token, _)| token.is(sign)))
    };
    let mut kept = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let tested = spells(i, &["#", "[", "cfg", "(", "test"])
            || spells(i, &["#", "[", "cfg", "(", "all", "(", "test"]);
        if tested {
            i = after_item(tokens, i);
        } else {
            kept.push(tokens[i].clone());
            i += 1;
        }
    }
    kept
}

/// The place after an item with its attributes: after its `;` or its block.
pub(crate) fn after_item(tokens: &[(Token, usize)], start: usize) -> usize {
    let mut depth = 0_usize;
    for (i, (token, _)) in tokens.iter().enumerate().skip(start) {
        match token {
            Token::Sign('(' | '[' | '{') => depth += 1,
            Token::Sign(')' | ']') => depth -= 1,
            Token::Sign('}') => {
                depth -= 1;
                if depth == 0 {
                    // `use a::{b, c};` and `const A: B = B {};` go on to their semicolon.
                    let ends = tokens.get(i + 1).is_some_and(|(next, _)| next.is(";"));
                    return i + 1 + usize::from(ends);
                }
            }
            Token::Sign(';') if depth == 0 => return i + 1,
            _ => {}
        }
    }
    tokens.len()
}

fn after_comment(chars: &[char], start: usize) -> usize {
    let mut depth = 0;
    let mut i = start;
    while i + 1 < chars.len() {
        match (chars[i], chars[i + 1]) {
            ('/', '*') => depth += 1,
            ('*', '/') => depth -= 1,
            _ => {
                i += 1;
                continue;
            }
        }
        i += 2;
        if depth == 0 {
            return i;
        }
    }
    chars.len()
}

fn after_string(chars: &[char], start: usize) -> usize {
    let mut i = start;
    while i < chars.len() && chars[i] != '"' {
        i += if chars[i] == '\\' { 2 } else { 1 };
    }
    i + 1
}

fn after_raw_string(chars: &[char], start: usize, hashes: usize) -> usize {
    let mut i = start;
    while i < chars.len() {
        let closes = chars[i] == '"' && chars[i + 1..].iter().take(hashes).eq(&vec!['#'; hashes]);
        i += 1;
        if closes {
            return i + hashes;
        }
    }
    i
}

pub(crate) fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder, in order, save what the fuzz targets build and find.
pub(crate) fn files(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display())) {
        let path = entry.unwrap().path();
        let made = ["target", "corpus", "artifacts", "coverage"];
        if made
            .iter()
            .any(|name| path.ends_with(Path::new("tests/fuzz").join(name)))
        {
            continue;
        }
        if path.is_dir() {
            all.extend(files(&path));
        } else {
            all.push(path);
        }
    }
    all.sort();
    all
}

/// The Rust files below `src/`, each with its path from there and its text.
pub(crate) fn sources() -> Vec<(String, String)> {
    let src = repository().join("src");
    files(&src)
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let name = path.strip_prefix(&src).unwrap().to_str().unwrap();
            (name.replace('\\', "/"), text)
        })
        .collect()
}

#[test]
fn only_code_is_read() {
    let source = r##"
        // mod comment;
        /* use /* nested */ crate::x; */
        const A: &str = "use crate::\"y\";"; /// use crate::z;
        const B: &str = r#"use "crate"::y;"#;
        fn f<'a>(c: &'a char) -> bool { *c == '"' || *c == '\'' || *c == '\u{7B}' }
        use crate::kept;
    "##;
    let words: Vec<Token> = tokens(source);
    let words: Vec<&str> = words.iter().filter_map(Token::word).collect();
    let expected = "const A str const B str fn f a c a char bool c c c use crate kept";
    assert_eq!(words.join(" "), expected);
}
