//! XML as a tree that keeps the order of texts and elements, because prose needs it.

use quick_xml::Reader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};

#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: Vec<(String, String)>,
    pub(crate) content: Vec<Content>,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Content {
    Element(Element),
    Text(String),
}

impl Element {
    /// The one element of a document, or what is not well-formed about it.
    pub(crate) fn read(bytes: &[u8]) -> Result<Element, String> {
        let xml = std::str::from_utf8(bytes).map_err(|e| e.to_string())?;
        let mut reader = Reader::from_str(xml);
        let mut open = vec![Element::default()];
        loop {
            let event = reader.read_event().map_err(|e| e.to_string())?;
            let last = open.last_mut().ok_or("an end too many")?;
            match event {
                Event::Decl(_) if last.content.is_empty() => {}
                Event::Start(start) => open.push(Element::of(&start)?),
                Event::Empty(start) => last.push(Element::of(&start)?),
                Event::End(_) => {
                    let element = open.pop().ok_or("an end too many")?;
                    open.last_mut().ok_or("an end too many")?.push(element);
                }
                Event::Text(text) => last.push_text(&text.decode().map_err(|e| e.to_string())?),
                Event::GeneralRef(reference) => {
                    let name = reference.decode().map_err(|e| e.to_string())?;
                    let text = format!("&{name};");
                    last.push_text(&unescape(&text).map_err(|e| e.to_string())?);
                }
                Event::Eof => break,
                other => return Err(format!("{other:?} are not read here")),
            }
        }
        let root = open.pop().filter(|_| open.is_empty());
        let root = root.ok_or("an element that does not end")?;
        let outside = root.own_text();
        let mut roots = root.content.into_iter().filter_map(Content::element);
        match (roots.next(), roots.next(), outside.trim()) {
            (Some(root), None, "") => Ok(root),
            _ => Err("not one element".into()),
        }
    }

    fn of(start: &BytesStart<'_>) -> Result<Element, String> {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).map_err(|e| e.to_string());
        let mut element = Element {
            name: text(start.name().as_ref())?,
            ..Element::default()
        };
        for attribute in start.attributes() {
            let attribute = attribute.map_err(|e| e.to_string())?;
            let value = unescape(&text(&attribute.value)?)
                .map_err(|e| e.to_string())?
                .into_owned();
            element
                .attributes
                .push((text(attribute.key.as_ref())?, value));
        }
        Ok(element)
    }

    fn push(&mut self, element: Element) {
        self.content.push(Content::Element(element));
    }

    fn push_text(&mut self, text: &str) {
        match self.content.last_mut() {
            Some(Content::Text(last)) => last.push_str(text),
            _ => self.content.push(Content::Text(text.into())),
        }
    }

    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        let mut attributes = self.attributes.iter();
        let found = attributes.find(|(key, _)| key == name);
        found.map(|(_, value)| value.as_str())
    }

    pub(crate) fn needed(&self, name: &str) -> Result<&str, String> {
        let value = self.attribute(name);
        value.ok_or_else(|| format!("`{}` has no attribute `{name}`", self.name))
    }

    pub(crate) fn elements(&self) -> impl Iterator<Item = &Element> {
        self.content.iter().filter_map(|content| match content {
            Content::Element(element) => Some(element),
            Content::Text(_) => None,
        })
    }

    pub(crate) fn child<'a>(&'a self, name: &'a str) -> Option<&'a Element> {
        self.elements().find(|element| element.name == name)
    }

    /// Itself and all elements inside, in the order of the document.
    pub(crate) fn all(&self) -> Vec<&Element> {
        let mut all = vec![self];
        for element in self.elements() {
            all.extend(element.all());
        }
        all
    }

    pub(crate) fn named<'a>(&'a self, name: &str) -> Vec<&'a Element> {
        let mut all = self.all();
        all.retain(|element| element.name == name);
        all
    }

    /// The texts that are directly inside.
    pub(crate) fn own_text(&self) -> String {
        let texts = self.content.iter().map(|content| match content {
            Content::Text(text) => text.as_str(),
            Content::Element(_) => "",
        });
        texts.collect()
    }

    /// What is read aloud or seen, in its order: the texts, and the alternative text of each `math`.
    pub(crate) fn reading(&self) -> String {
        if self.name == "math" {
            return self.attribute("alttext").unwrap_or_default().into();
        }
        let parts = self.content.iter().map(|content| match content {
            Content::Text(text) => text.clone(),
            Content::Element(element) => element.reading(),
        });
        parts.collect()
    }
}

impl Content {
    fn element(self) -> Option<Element> {
        match self {
            Content::Element(element) => Some(element),
            Content::Text(_) => None,
        }
    }
}
