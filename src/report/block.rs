//! What a text is made of, before it is drawn as plain text or as Markdown.

use alloc::string::String;
use alloc::vec::Vec;

use super::table::Table;
use crate::working::Working;

pub(super) enum Block {
    Title(String),
    Section(String),
    Paragraph(String),
    List(Vec<Item>),
    Table(Table),
    Working(Working),
}

pub(super) struct Item {
    pub(super) lead: Lead,
    pub(super) text: String,
}

/// What an item of a list begins with.
pub(super) enum Lead {
    Dash,
    /// Something to look at.
    Warning,
    /// What an answer earns.
    Marks(String),
}

impl Block {
    pub(super) fn section(title: impl Into<String>) -> Block {
        Block::Section(title.into())
    }

    pub(super) fn paragraph(text: impl Into<String>) -> Block {
        Block::Paragraph(text.into())
    }

    /// A list with a dash before each item.
    pub(super) fn dashes<S: Into<String>>(texts: impl IntoIterator<Item = S>) -> Block {
        Block::List(texts.into_iter().map(Item::dash).collect())
    }
}

impl Item {
    pub(super) fn dash(text: impl Into<String>) -> Item {
        Item {
            lead: Lead::Dash,
            text: text.into(),
        }
    }

    /// The characters of the marks before it.
    pub(super) fn mark_width(&self) -> usize {
        match &self.lead {
            Lead::Marks(marks) => marks.chars().count(),
            Lead::Dash | Lead::Warning => 0,
        }
    }

    pub(super) fn warning(text: impl Into<String>) -> Item {
        Item {
            lead: Lead::Warning,
            text: text.into(),
        }
    }
}

/// The words of a text with one blank between them: a cell of a sheet may hold line breaks and
/// other control characters, which would break a table or a heading.
pub(super) fn one_line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    let words = text.split(|c: char| c.is_whitespace() || c.is_control());
    for word in words.filter(|word| !word.is_empty()) {
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    line
}
