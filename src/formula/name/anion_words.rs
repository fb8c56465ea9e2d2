//! The words of an anion.

use alloc::format;
use alloc::string::String;

use super::numbers;
use super::reader::NameReader;
use super::words::{self, NameToken};
use crate::formula::ions::{Ion, Usage, anion_named};
use crate::text::Span;

/// The anion of a name.
pub(super) struct AnionName {
    pub(super) ion: &'static Ion,
    /// How many there are, if the name gives it.
    pub(super) count: Option<u32>,
    pub(super) span: Span,
}

/// An anion at the front of some tokens.
struct AnionMatch {
    ion: &'static Ion,
    usage: Usage,
    count: Option<u32>,
    /// How many tokens name it.
    length: usize,
}

impl NameReader<'_> {
    /// The anion with which these tokens begin, and the tokens after it.
    pub(super) fn anion<'a>(
        &mut self,
        tokens: &'a [NameToken],
    ) -> Option<(AnionName, &'a [NameToken])> {
        let anion = anion_at(tokens)?;
        let (taken, after) = tokens.split_at_checked(anion.length)?;
        let span = words::span(taken)?;
        let usage = match anion.usage {
            Usage::Current if taken.iter().any(|token| token.has_sulph) => Usage::Other,
            usage => usage,
        };
        self.note_usage(usage, span, anion.ion.name);
        let (ion, count) = (anion.ion, anion.count);
        Some((AnionName { ion, count, span }, after))
    }
}

fn anion_at(tokens: &[NameToken]) -> Option<AnionMatch> {
    let word = tokens.first()?.word()?;
    let counted = |(count, rest)| {
        let count = Some(count);
        anion_beginning(tokens, rest).map(|anion| AnionMatch { count, ..anion })
    };
    anion_beginning(tokens, word)
        .or_else(|| numbers::beginnings(word).find_map(counted))
        .or_else(|| anion_in_brackets(tokens))
}

/// The anion whose name begins with this word instead of the first token.
///
/// `hydrogen carbonate` may be written in two words, and a complex has its metal's charge in
/// brackets.
fn anion_beginning(tokens: &[NameToken], first: &str) -> Option<AnionMatch> {
    let anion = |name: &str, length| {
        anion_named(name).map(|(ion, usage)| AnionMatch {
            ion,
            usage,
            count: None,
            length,
        })
    };
    (1..=3).rev().find_map(|words| {
        let mut name = String::from(first);
        for token in tokens.get(1..words)? {
            name.push_str(token.word()?);
        }
        let number = match tokens.get(words..words + 3) {
            Some([open, number, close]) if open.is('(') && close.is(')') => number.word(),
            _ => None,
        };
        number
            .and_then(|number| anion(&format!("{name}({number})"), words + 3))
            .or_else(|| anion(&name, words))
    })
}

/// `bis(sulfate)`
fn anion_in_brackets(tokens: &[NameToken]) -> Option<AnionMatch> {
    let count = numbers::multiplied(tokens.first()?.word()?)?;
    let inside = tokens.get(2..)?;
    let anion = anion_beginning(inside, inside.first()?.word()?)?;
    let bracketed = tokens.get(1)?.is('(') && inside.get(anion.length)?.is(')');
    bracketed.then_some(AnionMatch {
        count: Some(count),
        length: anion.length + 3,
        ..anion
    })
}
