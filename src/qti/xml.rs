//! Writing XML: elements that close themselves, and texts without characters that XML forbids.

use alloc::vec::Vec;
use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

use crate::text::visible;

/// An attribute: its name and its value.
pub(super) type Attribute<'a> = (&'a str, &'a str);

/// A document that is being written.
pub(super) struct Xml {
    writer: Writer<Vec<u8>>,
}

impl Xml {
    /// Begins a document.
    pub(super) fn document() -> io::Result<Xml> {
        let mut writer = Writer::new(Vec::new());
        writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
        let mut xml = Xml { writer };
        xml.new_line()?;
        Ok(xml)
    }

    /// Begins a line. Not for the inside of a paragraph, where it would be a space.
    pub(super) fn new_line(&mut self) -> io::Result<()> {
        self.markup("\n")
    }

    /// Writes an element with what is in it.
    pub(super) fn element(
        &mut self,
        name: &str,
        attributes: &[Attribute<'_>],
        content: impl FnOnce(&mut Xml) -> io::Result<()>,
    ) -> io::Result<()> {
        let start = start(name, attributes);
        self.writer.write_event(Event::Start(start))?;
        content(self)?;
        self.writer.write_event(Event::End(BytesEnd::new(name)))
    }

    /// Writes an element without content.
    pub(super) fn empty(&mut self, name: &str, attributes: &[Attribute<'_>]) -> io::Result<()> {
        let start = start(name, attributes);
        self.writer.write_event(Event::Empty(start))
    }

    /// Writes an element with a text.
    pub(super) fn leaf(
        &mut self,
        name: &str,
        attributes: &[Attribute<'_>],
        text: &str,
    ) -> io::Result<()> {
        self.element(name, attributes, |xml| xml.text(text))
    }

    /// Writes a text. What cannot be seen is written as an escape, because XML forbids most of it.
    pub(super) fn text(&mut self, text: &str) -> io::Result<()> {
        let text = visible(text);
        self.writer.write_event(Event::Text(BytesText::new(&text)))
    }

    /// Writes what is markup already.
    pub(super) fn markup(&mut self, markup: &str) -> io::Result<()> {
        self.writer
            .write_event(Event::Text(BytesText::from_escaped(markup)))
    }

    /// Ends the document.
    pub(super) fn finish(self) -> Vec<u8> {
        let mut bytes = self.writer.into_inner();
        bytes.push(b'\n');
        bytes
    }
}

fn start<'a>(name: &'a str, attributes: &[Attribute<'_>]) -> BytesStart<'a> {
    let mut start = BytesStart::new(name);
    for (key, value) in attributes {
        start.push_attribute((*key, &*visible(value)));
    }
    start
}
