//! A small tree of XML, as an XML reader of its own sees it.

use quick_xml::Reader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};

#[derive(Debug, Default)]
pub(crate) struct Node {
    pub(crate) name: String,
    pub(crate) attributes: Vec<(String, String)>,
    pub(crate) children: Vec<Node>,
    pub(crate) text: String,
}

impl Node {
    /// The one element that a text is, or what is not well-formed about it.
    pub(crate) fn read(xml: &str) -> Result<Node, String> {
        let mut reader = Reader::from_str(xml);
        let mut open = vec![Node::default()];
        loop {
            let event = reader.read_event().map_err(|e| e.to_string())?;
            match event {
                Event::Start(start) => open.push(Node::of(&start)?),
                Event::Empty(start) => {
                    let node = Node::of(&start)?;
                    open.last_mut()
                        .ok_or("nothing is open")?
                        .children
                        .push(node);
                }
                Event::End(_) => {
                    let node = open.pop().ok_or("nothing is open")?;
                    let parent = open.last_mut().ok_or("an end too many")?;
                    parent.children.push(node);
                }
                Event::Text(text) => {
                    let text = text.decode().map_err(|e| e.to_string())?;
                    open.last_mut().ok_or("nothing is open")?.text += &text;
                }
                Event::GeneralRef(reference) => {
                    let name = reference.decode().map_err(|e| e.to_string())?;
                    let c = unescape(&format!("&{name};"))
                        .map_err(|e| e.to_string())?
                        .into_owned();
                    open.last_mut().ok_or("nothing is open")?.text += &c;
                }
                Event::Eof => break,
                other => return Err(format!("{other:?} are not read here")),
            }
        }
        let mut whole = open.pop().ok_or("nothing")?;
        match (whole.children.pop(), open.is_empty()) {
            (Some(root), true) if whole.children.is_empty() && whole.text.is_empty() => Ok(root),
            _ => Err("not one element".into()),
        }
    }

    fn of(start: &BytesStart<'_>) -> Result<Node, String> {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).map_err(|e| e.to_string());
        let mut node = Node {
            name: text(start.name().as_ref())?,
            ..Node::default()
        };
        for attribute in start.attributes() {
            let attribute = attribute.map_err(|e| e.to_string())?;
            let value = text(&attribute.value)?;
            let value = unescape(&value).map_err(|e| e.to_string())?.into_owned();
            node.attributes.push((text(attribute.key.as_ref())?, value));
        }
        Ok(node)
    }

    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        let found = self.attributes.iter().find(|(key, _)| key == name);
        found.map(|(_, value)| value.as_str())
    }
}

#[test]
fn what_is_not_well_formed_is_refused() {
    let read = |xml: &str| Node::read(xml).is_ok();
    assert!(read("<a b=\"&amp;\">c<d/></a>"));
    for broken in [
        "",
        "a",
        "<a>",
        "</a>",
        "<a></b>",
        "<a/><b/>",
        "<a>&</a>",
        "<a>&amp</a>",
        "<a>&nbsp;</a>",
        "<a b=c/>",
        "<a b=\"&x\"/>",
        "<a/>b",
        "<a b=\"\" b=\"\"/>",
        "<a><!-- --></a>",
    ] {
        assert!(!read(broken), "{broken}");
    }
}
