//! Where a printed value comes from: the entry of an earlier step, or the problem itself.

use alloc::string::String;
use alloc::vec::Vec;

use super::printed::PrintedNumber;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::qti::entry::Carry;
use crate::working::Step;

/// A value that later steps may use.
#[derive(Clone)]
pub(super) struct ValueSource {
    /// As printed, with its unit.
    pub(super) printed: String,
    /// The symbol that the steps write for it; empty if it has none.
    pub(super) symbol: String,
    /// The name of the step that gives it; empty if it is known by its symbol alone.
    pub(super) what: String,
    pub(super) carry: Carry,
    /// The value without any rounding.
    pub(super) exact: Ratio,
    /// What careful work may give, before it is written down.
    pub(super) careful: Interval,
    /// Whether it is written down rounded. A number of atoms is not.
    pub(super) is_rounded: bool,
}

/// The values that a step may use.
pub(super) struct ValueSources {
    pub(super) all: Vec<ValueSource>,
    pub(super) prompt: String,
}

impl ValueSources {
    /// Returns the source of a value in a step; `None` if the problem gives the value.
    ///
    /// A number may look like a result and be another one. The symbol settles it, and then the words.
    pub(super) fn find(&self, text: &str, symbol: &str, what: &str) -> Option<&ValueSource> {
        let read = PrintedNumber::read(text)?;
        let named = |source: &&ValueSource| {
            !symbol.is_empty() && source.symbol == symbol && read.is_of(&source.exact)
        };
        if let Some(source) = self.all.iter().rev().find(named) {
            return Some(source);
        }
        let alike = self
            .all
            .iter()
            .filter(|source| !source.what.is_empty() && same(&source.printed, text));
        let alike: Vec<&ValueSource> = alike.collect();
        let is_given = holds_number(&self.prompt, text);
        if let ([source], false) = (&*alike, is_given) {
            return Some(source);
        }
        let related = alike.iter().filter(|source| related(&source.what, what));
        let related: Vec<&&ValueSource> = related.collect();
        match (&*related, is_given) {
            ([source], _) => Some(source),
            (_, true) => None,
            (_, false) => alike.last().copied(),
        }
    }

    /// Returns the source with a symbol, if its value is one. Lines leave out a factor of one.
    pub(super) fn factor_of_one(&self, symbol: &str) -> Option<&ValueSource> {
        let mut all = self.all.iter().rev();
        let found = all.find(|source| !symbol.is_empty() && source.symbol == symbol)?;
        (found.exact == Ratio::ONE && !found.is_rounded).then_some(found)
    }
}

/// The symbol of the result of a step; empty if it has none.
pub(super) fn symbol_of(step: &Step) -> String {
    if let Some((symbol, _)) = step.symbols().split_once(" = ") {
        return symbol.into();
    }
    let last = step.what().rsplit(' ').next().unwrap_or_default();
    match last.contains('(') && last.ends_with(')') {
        true => last.into(),
        false => String::new(),
    }
}

/// Whether two texts are the same but for the kind of their spaces.
fn same(a: &str, b: &str) -> bool {
    let spaced = |c: char| if c == '\u{a0}' { ' ' } else { c };
    a.chars().map(spaced).eq(b.chars().map(spaced))
}

/// Whether a text has a number, not as part of a longer one.
fn holds_number(text: &str, number: &str) -> bool {
    let spaced = number.replace(' ', "\u{a0}");
    [number, &*spaced].into_iter().any(|number| {
        text.match_indices(number).any(|(start, _)| {
            let before = text[..start].chars().next_back();
            let mut after = text[start + number.len()..].chars();
            let next = after.next();
            let joins = |c: char| c.is_alphanumeric() || matches!(c, '·' | '(' | '/');
            let longer = next.is_some_and(joins)
                || (next == Some('.') && after.next().is_some_and(char::is_alphanumeric));
            !longer && !before.is_some_and(|c| joins(c) || c == '.')
        })
    })
}

/// Words that the names of many steps have.
const COMMON: [&str; 13] = [
    "mass",
    "amount",
    "of",
    "the",
    "in",
    "for",
    "percentage",
    "percent",
    "ratio",
    "lost",
    "by",
    "n",
    "m",
];

/// Whether the names of two steps are about the same thing.
fn related(a: &str, b: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let words = text.split([' ', ',']).filter(|word| !COMMON.contains(word));
        let words = words.map(|word| match word {
            // What is left of a hydrate is its salt.
            "residue" => "salt".into(),
            word => word.into(),
        });
        words.filter(|word: &String| !word.is_empty()).collect()
    };
    let others = words(b);
    words(a).iter().any(|word| others.contains(word))
}
