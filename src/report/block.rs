//! The parts of a text, before it is drawn as plain text, as Markdown or as HTML.

use alloc::string::String;
use alloc::vec::Vec;
use core::ops::RangeInclusive;

use super::table::TextTable;
use crate::working::Working;

pub(super) enum Block {
    Title(String),
    Section(String),
    Paragraph(String),
    List(Vec<Item>),
    Table(TextTable),
    Working(Working),
    /// What is typed into a terminal, as it is.
    Command(String),
    /// All about one bench.
    Bench(String, Vec<Block>),
    /// What one bench gets, to be cut out.
    Card(String, Vec<Block>),
    #[cfg_attr(
        target_family = "wasm",
        allow(dead_code, reason = "nothing draws one there")
    )]
    Picture(Picture),
    /// A problem with its heading. The end of a page does not cut it.
    Problem(String, Vec<Block>),
    /// Answers to choose from. Their letters are A, B, C, …
    Options(Vec<String>),
    /// A line to write on, with its name before it and a unit after it.
    WriteLine(&'static str, String),
    /// A place for the answer to each problem.
    AnswerGrid(Vec<AnswerPlace>),
    /// What follows begins on a new page.
    NewPage,
    /// Parts in a frame, with a heading.
    Framed(String, Vec<Block>),
}

/// A row of an answer grid.
pub(super) struct AnswerPlace {
    pub(super) name: String,
    /// The number of options, each with its box to tick. Without options there is a line to write on.
    pub(super) options: usize,
    pub(super) unit: String,
}

/// A picture, and the words for those who do not see it.
pub(super) struct Picture {
    /// A whole SVG file.
    pub(super) svg: String,
    /// The name of the file beside a text that cannot contain the picture.
    pub(super) file: &'static str,
    pub(super) words: String,
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

impl Picture {
    /// The picture as a file of its own. Nothing around it gives it a colour.
    pub(super) fn as_file(&self) -> String {
        let style = "<svg style=\"color:#000;background:#fff\"";
        self.svg.replacen("<svg", style, 1)
    }
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

impl AnswerPlace {
    pub(super) const CAPTION: &'static str = "Your answers";
    pub(super) const HEADING: [&'static str; 2] = ["Problem", "Answer"];

    /// The letters of its options.
    pub(super) fn letters(&self) -> impl Iterator<Item = char> {
        LETTERS.take(self.options)
    }
}

/// The letters of options, in order.
pub(super) const LETTERS: RangeInclusive<char> = 'A'..='Z';

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

#[cfg(test)]
impl Block {
    /// A problem of each sort, and a grid.
    pub(super) fn problems() -> [Block; 4] {
        let place = |name: &str, options, unit: &str| AnswerPlace {
            name: name.into(),
            options,
            unit: unit.into(),
        };
        [
            Block::Framed("Weights".into(), Vec::from([Block::paragraph("H 1.008")])),
            Block::Problem(
                "Problem 1".into(),
                Vec::from([
                    Block::paragraph("How much H2O?"),
                    Block::Options(["1 g", "2 g"].map(String::from).into()),
                ]),
            ),
            Block::Problem(
                "Problem 2".into(),
                Vec::from([Block::WriteLine("Answer", "g".into())]),
            ),
            Block::AnswerGrid(Vec::from([place("1", 2, ""), place("2", 0, "g")])),
        ]
    }
}
