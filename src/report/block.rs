//! The parts of a text, before it is drawn as plain text or as Markdown.

use alloc::string::String;
use alloc::vec::Vec;

use super::table::TextTable;
use crate::working::Working;

pub(super) enum Block {
    Title(String),
    Section(String),
    Paragraph(String),
    List(Vec<Item>),
    Table(TextTable),
    Working(Working),
}

pub(super) struct Item {
    pub(super) lead: Lead,
    pub(super) text: String,
}

/// The beginning of an item of a list.
pub(super) enum Lead {
    Dash,
    /// An exclamation mark, for something to look at.
    Warning,
    /// The marks of an answer, in brackets.
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

    /// The number of characters of the marks before it.
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
