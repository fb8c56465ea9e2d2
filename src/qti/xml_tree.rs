//! A document of XML, read into a tree.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use quick_xml::NsReader;
use quick_xml::XmlVersion;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};
use quick_xml::name::ResolveResult;

/// The most elements that are inside each other.
const DEEPEST: usize = 200;
/// The most elements of a document.
const MOST_ELEMENTS: usize = 1_000_000;
/// The most attributes of an element. The parser compares each with all others.
const MOST_ATTRIBUTES: usize = 100;
/// The longest document, in bytes.
const LONGEST: usize = 64 << 20;

/// An element with what is in it. Names are without prefixes.
#[derive(Debug, Default)]
pub(super) struct XmlNode {
    pub(super) name: String,
    /// Only the root has it.
    pub(super) namespace: String,
    /// Those without a prefix.
    attributes: Vec<(String, String)>,
    pub(super) text: String,
    pub(super) children: Vec<XmlNode>,
}

impl XmlNode {
    /// Reads a document. The error says what is wrong with it.
    ///
    /// A document with a document type is refused, so no entity is ever expanded.
    pub(super) fn read(bytes: &[u8]) -> Result<XmlNode, String> {
        if bytes.len() > LONGEST {
            return Err(format!("it is longer than {LONGEST} bytes"));
        }
        let text = core::str::from_utf8(bytes).map_err(|_| "it is not UTF-8 text")?;
        check_characters(text)?;
        let mut reader = NsReader::from_str(text.trim_start_matches('\u{FEFF}'));
        let mut tree = Tree::default();
        loop {
            let (namespace, event) = reader.read_resolved_event().map_err(not_xml)?;
            let namespace = match namespace {
                ResolveResult::Bound(name) if tree.open.is_empty() => name.into_inner(),
                _ => &[],
            };
            let namespace = String::from_utf8_lossy(namespace).into_owned();
            match event {
                Event::Start(start) => tree.start(node(&start, namespace)?)?,
                Event::Empty(start) => {
                    tree.start(node(&start, namespace)?)?;
                    tree.end();
                }
                Event::End(_) => tree.end(),
                Event::Text(text) => tree.text(&text.xml10_content().map_err(not_xml)?)?,
                Event::CData(text) => tree.text(&text.xml10_content().map_err(not_xml)?)?,
                Event::GeneralRef(reference) => {
                    let reference = format!("&{};", reference.decode().map_err(not_xml)?);
                    let text = unescape(&reference).map_err(not_xml)?;
                    check_characters(&text)?;
                    tree.text(&text)?;
                }
                Event::DocType(_) => return Err("it has a document type".into()),
                Event::Decl(_) | Event::Comment(_) | Event::PI(_) => {}
                Event::Eof if tree.open.is_empty() => {
                    return tree.root.ok_or_else(|| "it has no elements".into());
                }
                Event::Eof => return Err("it ends too early".into()),
            }
        }
    }

    /// Returns the value of an attribute; empty if there is none.
    pub(super) fn attribute(&self, name: &str) -> &str {
        let mut attributes = self.attributes.iter();
        let found = attributes.find(|(key, _)| key == name);
        found.map_or("", |(_, value)| value)
    }

    /// Returns the children of a name.
    pub(super) fn children<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a XmlNode> {
        self.children.iter().filter(move |child| child.name == name)
    }

    /// Returns all elements inside this one, in no order.
    pub(super) fn inside(&self) -> Vec<&XmlNode> {
        let mut all: Vec<&XmlNode> = self.children.iter().collect();
        let mut next = 0;
        while let Some(node) = all.get(next).copied() {
            all.extend(&node.children);
            next += 1;
        }
        all
    }

    /// Returns all elements that a path of names leads to.
    pub(super) fn at<'a>(&'a self, path: &[&'a str]) -> Vec<&'a XmlNode> {
        path.iter().fold(Vec::from([self]), |nodes, name| {
            nodes
                .into_iter()
                .flat_map(|node| node.children(name))
                .collect()
        })
    }

    /// Returns the text of the first element that a path of names leads to.
    pub(super) fn text_at<'a>(&'a self, path: &[&'a str]) -> &'a str {
        self.at(path).first().map_or("", |node| &node.text)
    }
}

/// Refuses characters that XML 1.0 does not have (section 2.2 of the standard), written as such or by their numbers.
fn check_characters(text: &str) -> Result<(), String> {
    let is_allowed = |letter: &char| match letter {
        '\t' | '\n' | '\r' => true,
        '\u{FFFE}' | '\u{FFFF}' => false,
        _ => *letter >= ' ',
    };
    match text.chars().find(|letter| !is_allowed(letter)) {
        None => Ok(()),
        Some(letter) => Err(format!(
            "it has the character U+{:04X}, which XML forbids",
            u32::from(letter)
        )),
    }
}

fn not_xml(error: impl core::fmt::Display) -> String {
    format!("it is not XML: {error}")
}

fn node(start: &BytesStart<'_>, namespace: String) -> Result<XmlNode, String> {
    let local = |name: &[u8]| String::from_utf8_lossy(name).into_owned();
    let mut attributes = Vec::new();
    for (index, attribute) in start.attributes().enumerate() {
        if index >= MOST_ATTRIBUTES {
            return Err("an element has too many attributes".into());
        }
        let attribute = attribute.map_err(not_xml)?;
        if attribute.key.prefix().is_some() {
            continue;
        }
        let value = attribute
            .normalized_value(XmlVersion::Implicit1_0)
            .map_err(not_xml)?
            .to_string();
        check_characters(&value)?;
        attributes.push((local(attribute.key.local_name().as_ref()), value));
    }
    Ok(XmlNode {
        name: local(start.local_name().as_ref()),
        namespace,
        attributes,
        ..XmlNode::default()
    })
}

/// A tree that grows.
#[derive(Default)]
struct Tree {
    /// The elements that have not ended, the outermost first.
    open: Vec<XmlNode>,
    root: Option<XmlNode>,
    elements: usize,
}

impl Tree {
    fn start(&mut self, node: XmlNode) -> Result<(), String> {
        self.elements += 1;
        if self.root.is_some() {
            return Err("it has two roots".into());
        }
        if self.open.len() >= DEEPEST || self.elements > MOST_ELEMENTS {
            return Err("it has too many elements, or they are too deep".into());
        }
        self.open.push(node);
        Ok(())
    }

    fn end(&mut self) {
        let Some(node) = self.open.pop() else { return };
        match self.open.last_mut() {
            Some(parent) => parent.children.push(node),
            None => self.root = Some(node),
        }
    }

    /// Adds a text to the innermost element. Outside of the root there is only white space.
    fn text(&mut self, text: &str) -> Result<(), String> {
        match self.open.last_mut() {
            Some(node) => node.text.push_str(text),
            None if text.trim().is_empty() => {}
            None => return Err("it has a text outside of its root".into()),
        }
        Ok(())
    }
}
