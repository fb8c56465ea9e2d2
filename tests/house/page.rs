//! A page of HTML as a browser and a screen reader need it.

use std::collections::BTreeSet;

/// The text of a page. Every element is closed, the page needs no other file, and what a screen reader needs
/// is there.
#[track_caller]
pub(crate) fn text_of(html: &str) -> String {
    let page = html
        .strip_prefix("<!DOCTYPE html>\n")
        .expect("a page of HTML");
    loads_nothing(page);
    let mut open: Vec<&str> = Vec::new();
    let mut text = String::new();
    let mut headings = Vec::new();
    for part in page.split('<').skip(1) {
        let (tag, rest) = part.split_once('>').expect("a tag ends");
        let name = tag.split([' ', '\n']).next().unwrap();
        if let Some(name) = name.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "{part}");
        } else if !tag.ends_with('/') && name != "meta" {
            open.push(name);
        }
        if let ["h", level] = [name.get(..1), name.get(1..)].map(Option::unwrap_or_default) {
            headings.extend(level.parse::<u32>());
        }
        let inline = ["sub", "/sub", "strong", "/strong", "bdi", "/bdi"].contains(&name);
        text.push_str(if inline { "" } else { " " });
        if !open.contains(&"style") && !open.contains(&"svg") {
            text.push_str(rest);
        }
        if open.first() == Some(&"html") && !open.contains(&"svg") || name == "svg" {
            has_its_words(tag, rest);
        }
    }
    assert!(open.is_empty(), "{open:?}");
    assert_eq!(headings.first(), Some(&1));
    assert_eq!(headings.iter().filter(|level| **level == 1).count(), 1);
    let in_order = headings.windows(2).all(|two| two[1] <= two[0] + 1);
    assert!(in_order, "no level is skipped: {headings:?}");
    names_are_unique(page);
    without_entities(&text)
}

#[track_caller]
fn loads_nothing(page: &str) {
    // The name of a namespace is not a file.
    let own = page.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
    for outside in ["<script", "<link", "<img", "<iframe", "<object", "<form"] {
        assert!(!own.contains(outside), "{outside}");
    }
    let (_, style) = own.split_once("<style>").unwrap();
    let (style, _) = style.split_once("</style>").unwrap();
    assert!(!style.contains("url(") && !style.contains("@import"));
    assert!(
        style.contains("@page { margin: 12mm }"),
        "no size of paper is fixed"
    );
    for needed in [
        "<html lang=\"en-GB\">",
        "<meta charset=\"utf-8\">",
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\"",
        "content=\"width=device-width, initial-scale=1\"",
        "<main>",
        "<header>",
    ] {
        assert!(own.contains(needed), "{needed}");
    }
    for href in own.split(" href=\"").skip(1) {
        assert!(href.starts_with('#'), "{href}");
        let (target, _) = href[1..].split_once('"').unwrap();
        assert!(own.contains(&format!(" id=\"{target}\"")), "{target}");
    }
}

/// A cell of a header has its scope and is not empty, a region and a picture have a label.
#[track_caller]
fn has_its_words(tag: &str, rest: &str) {
    let is = |name: &str| tag == name || tag.starts_with(&format!("{name} "));
    for outside in [" src=", " on", " style="] {
        assert!(is("svg") || !tag.contains(outside), "{tag}");
    }
    if is("th") {
        assert!(tag.contains(" scope="), "{tag}");
        assert!(
            !rest.is_empty() || tag.contains("row"),
            "{tag}: an empty header"
        );
    }
    if tag.contains(" role=\"region\"") {
        assert!(tag.contains(" tabindex=\"0\""), "{tag}");
        assert!(
            tag.contains(" aria-label=\"") && !tag.contains(" aria-label=\"\""),
            "{tag}"
        );
    }
    if is("svg") {
        assert!(
            tag.contains(" role=\"img\"") && tag.contains(" aria-label=\""),
            "{tag}"
        );
    }
}

#[track_caller]
fn names_are_unique(page: &str) {
    for attribute in [" id=\"", "role=\"region\" aria-label=\""] {
        let mut names = BTreeSet::new();
        for part in page.split(attribute).skip(1) {
            let (name, _) = part.split_once('"').unwrap();
            assert!(names.insert(name), "{attribute}{name} is there twice");
        }
    }
    let count = |what: &str| page.matches(what).count();
    assert_eq!(count("<table"), count("<caption>"));
}

fn without_entities(text: &str) -> String {
    let entities = [
        ("&#60;", "<"),
        ("&#62;", ">"),
        ("&#39;", "'"),
        ("&#34;", "\""),
        ("&#38;", "&"),
    ];
    entities
        .iter()
        .fold(text.into(), |text: String, (entity, c)| {
            text.replace(entity, c)
        })
}
