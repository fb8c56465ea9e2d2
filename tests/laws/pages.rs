//! Whatever the names and the answers in a sheet are, they are the text of a page and none of its elements.

use std::sync::LazyLock;

use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::report::{write_feedback_html, write_report_html};
use effloresce::visible;
use proptest::prelude::*;

use crate::xml::Node;

/// The report and the strips of a class with one bench of this name, pupil and answer; `None` if such a sheet is
/// refused.
fn pages(name: &str) -> Option<[Node; 2]> {
    let cell = format!("\"n{}\"", name.replace('"', "\"\""));
    let text = format!(
        "bench,pupil,hydrate_g,residue_g,reported_ratio\n{cell},{cell},2.666,1.303,{cell}\n"
    );
    let sheet = Sheet::read(text.as_bytes()).ok()?;
    let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
    let mut pages = [String::new(), String::new()];
    write_report_html(&marked, &mut pages[0]).unwrap();
    write_feedback_html(&marked, &mut pages[1]).unwrap();
    let pages = pages.map(|page| {
        let page = page.strip_prefix("<!DOCTYPE html>\n").unwrap().trim();
        let parts: Vec<&str> = page.split("<meta ").collect();
        // HTML closes no <meta>.
        let closed = parts.iter().skip(1).map(|part| part.replacen('>', "/>", 1));
        let closed: Vec<String> = closed.collect();
        let page = [parts[0], &closed.join("<meta ")].join("<meta ");
        Node::read(&page).unwrap_or_else(|error| panic!("{error}: {page}"))
    });
    Some(pages)
}

/// The elements, but for those that show which way a text runs and where a formula is. A picture has its own law.
fn shape(node: &Node, shape: &mut Vec<String>) {
    if !["bdi", "sub"].contains(&node.name.as_str()) {
        // A class says which words are long.
        let attributes = node.attributes.iter().map(|(name, _)| name.as_str());
        let attributes = attributes.filter(|name| *name != "class");
        let attributes: Vec<&str> = attributes.collect();
        shape.push([&node.name, " ", &attributes.join(" ")].concat());
    }
    if node.name != "svg" {
        node.children
            .iter()
            .for_each(|child| self::shape(child, shape));
    }
}

fn shapes(pages: &[Node; 2]) -> [Vec<String>; 2] {
    let mut shapes = [Vec::new(), Vec::new()];
    for (page, out) in pages.iter().zip(&mut shapes) {
        shape(page, out);
    }
    shapes
}

/// Those of a plain name.
static PLAIN: LazyLock<[Vec<String>; 2]> = LazyLock::new(|| shapes(&pages("").unwrap()));

#[track_caller]
fn are_text(name: &str) {
    let Some(pages) = pages(name) else {
        return;
    };
    assert!(shapes(&pages) == *PLAIN, "{name:?}");
    for page in &pages {
        no_hidden(page);
    }
}

fn no_hidden(node: &Node) {
    for line in node.text.lines() {
        assert_eq!(visible(line), line);
    }
    node.children.iter().for_each(no_hidden);
}

#[test]
fn a_name_is_never_an_element() {
    for name in [
        "<script>alert(1)</script>",
        "</td></tr></table>",
        "--><!--",
        "]]>",
        "&lt;b&gt; &#60;i>",
        "\"><img src=x onerror=alert(1)>",
        "{{ 1 }}{% raw %}",
        "\u{5d0}<b>\u{5d1}",
        "MgSO4·7H2O<sub>",
    ] {
        are_text(name);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_name_is_text(name in "\\PC{0,40}") {
        are_text(&name);
    }

    #[test]
    fn any_characters_are_text(name in "[<>&\"'/=a-c \u{5d0}-\u{5d2}\u{202a}-\u{202e}\u{0}-\u{1f}]{0,30}") {
        are_text(&name);
    }
}
