//! The sheet and the key, in each form.

use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::super::block::Block;
use super::super::latex_text::LatexFormulas;
use super::super::{html, latex, markdown, plain};
use super::key;
use super::sheet::{self, NamedSet};
use crate::exercise::ExerciseSet;
use crate::text::visible;

/// The form of a sheet or a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum PaperFormat {
    /// Plain text.
    Text,
    /// Markdown with tables in pipes.
    Markdown,
    /// A page of HTML that needs no other file, with formulas and steps as `MathML`.
    Html,
    /// A document of LaTeX that `pdflatex` compiles.
    Latex(LatexFormulas),
}

/// The paper of a problem set: the sheet for pupils, and the key.
///
/// Several sets are printed together if they are versions of one sheet, or if each pupil has a set. The key then
/// has one table for all of them.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind};
/// use effloresce::report::{PaperFormat, ProblemPaper};
/// let set = Exercises::new(7).kinds([Kind::PercentWater]).set(5)?;
/// let paper = ProblemPaper::new(set).title("Water in hydrates");
/// let (mut sheet, mut key) = (String::new(), String::new());
/// paper.write_sheet(PaperFormat::Text, &mut sheet).unwrap();
/// paper.write_key(PaperFormat::Text, &mut key).unwrap();
/// assert!(sheet.starts_with("Water in hydrates\n"));
/// assert!(key.starts_with("Key: Water in hydrates\n"));
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ProblemPaper {
    title: String,
    sets: Vec<NamedSet>,
    /// Whether pupils write their names on the sheet.
    is_named_by_hand: bool,
}

impl ProblemPaper {
    /// Makes the paper of one set.
    #[must_use]
    pub fn new(set: ExerciseSet) -> Self {
        Self::of([(String::new(), set)], true)
    }

    /// Makes the paper of several versions of a sheet, each with its letter or name.
    #[must_use]
    pub fn versions<N: AsRef<str>>(versions: impl IntoIterator<Item = (N, ExerciseSet)>) -> Self {
        let named = |(name, set): (N, _)| (format!("Version {}", name.as_ref()), set);
        Self::of(versions.into_iter().map(named), true)
    }

    /// Makes the paper of a roster: each code has its own set. The sheets have no line for a name.
    #[must_use]
    pub fn roster<N: AsRef<str>>(codes: impl IntoIterator<Item = (N, ExerciseSet)>) -> Self {
        let named = |(code, set): (N, _)| (format!("Code {}", code.as_ref()), set);
        Self::of(codes.into_iter().map(named), false)
    }

    fn of(sets: impl IntoIterator<Item = (String, ExerciseSet)>, is_named_by_hand: bool) -> Self {
        // The names are written by others, and a heading of a table shows them, too.
        let named = |(name, set): (String, _)| NamedSet {
            name: visible(&name).into_owned(),
            set,
        };
        ProblemPaper {
            title: "Problems".to_owned(),
            sets: sets.into_iter().map(named).collect(),
            is_named_by_hand,
        }
    }

    /// Sets the title; `Problems` without it, or if it is blank.
    #[must_use]
    pub fn title(mut self, title: impl Into<String>) -> Self {
        let title = title.into();
        if !title.trim().is_empty() {
            self.title = title;
        }
        self
    }

    /// Writes the sheets, each on its own pages: the atomic weights that it uses, the problems, places for the
    /// answers, the usual cautions if a problem speaks of heating, and what the set was made from.
    ///
    /// # Errors
    /// Returns an error if `out` fails.
    pub fn write_sheet(&self, format: PaperFormat, out: &mut impl Write) -> fmt::Result {
        let blocks = sheet::blocks(&self.title, &self.sets, self.is_named_by_hand);
        format.write(&blocks, out)
    }

    /// Writes the key: one table of all answers, then each answer with what counts as right, its steps, and what to
    /// tell who chose a wrong option. The key of more than four sets has only the table.
    ///
    /// # Errors
    /// Returns an error if `out` fails.
    pub fn write_key(&self, format: PaperFormat, out: &mut impl Write) -> fmt::Result {
        let blocks = key::blocks(&format!("Key: {}", self.title), &self.sets);
        format.write(&blocks, out)
    }
}

impl PaperFormat {
    /// Returns the usual ending of the name of a file, without the dot.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            PaperFormat::Text => "txt",
            PaperFormat::Markdown => "md",
            PaperFormat::Html => "html",
            PaperFormat::Latex(_) => "tex",
        }
    }

    fn write(self, blocks: &[Block], out: &mut impl Write) -> fmt::Result {
        match self {
            PaperFormat::Text => plain::write(blocks, out),
            PaperFormat::Markdown => markdown::write(blocks, out),
            PaperFormat::Html => html::write_with_mathml(blocks, out),
            PaperFormat::Latex(formulas) => latex::write(blocks, formulas, out),
        }
    }
}
