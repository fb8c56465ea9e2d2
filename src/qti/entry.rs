//! What a pupil enters or chooses, and what counts as right.

use alloc::borrow::Cow;
use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::Vec;

use crate::number::Ratio;

/// One entry of an item. It earns one mark.
pub(super) struct ItemEntry<'a> {
    /// What is entered, such as "mass of water".
    pub(super) label: Cow<'a, str>,
    /// Empty if it has none.
    pub(super) unit: Cow<'a, str>,
    pub(super) answer: EntryAnswer<'a>,
    /// The errors that are told by what was entered. The first that fits is told.
    pub(super) errors: Vec<NamedError<'a>>,
}

/// What counts as right.
pub(super) enum EntryAnswer<'a> {
    Number(NumberAnswer<'a>),
    Spelling(SpellingAnswer<'a>),
    Choice(ChoiceAnswer<'a>),
}

pub(super) struct NumberAnswer<'a> {
    /// The answer as printed, with the decimal mark of the set.
    pub(super) printed: Cow<'a, str>,
    /// The least and the greatest number that are right in themselves.
    pub(super) low: Ratio,
    pub(super) high: Ratio,
    /// What is right because it follows from the pupil's own earlier entries; `None` for a first step.
    pub(super) follows: Option<Follows>,
}

/// A number that follows from earlier entries.
pub(super) struct Follows {
    pub(super) value: Carry,
    /// How far off it may be, as a fraction of the value.
    pub(super) slack: Ratio,
    /// How far off it may be if no earlier entry is wrong: half a unit of the last place that is asked for.
    pub(super) rounding: Ratio,
}

pub(super) struct SpellingAnswer<'a> {
    /// The answer as printed.
    pub(super) printed: Cow<'a, str>,
    /// All spellings that count, the printed one included.
    pub(super) accepted: Vec<String>,
}

pub(super) struct ChoiceAnswer<'a> {
    /// The texts, in the order in which they are shown.
    pub(super) options: Vec<Cow<'a, str>>,
    /// The index of the right option.
    pub(super) right: usize,
    /// A value for each option, by earlier entries: the option with the extreme one is right as well.
    pub(super) follows: Option<(Extreme, Vec<Carry>)>,
}

/// Which of several values decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Extreme {
    Least,
    Greatest,
}

/// A value by earlier entries. An entry is named by its index in the item.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Carry {
    Number(Ratio),
    Entry(usize),
    Sum(Vec<Carry>),
    Difference(Box<Carry>, Box<Carry>),
    Product(Vec<Carry>),
    Quotient(Box<Carry>, Box<Carry>),
    /// The nearest whole number.
    Nearest(Box<Carry>),
    /// The least or the greatest of several values.
    OneOf(Extreme, Vec<Carry>),
    /// One value for each option of an earlier choice.
    ByChoice(usize, Vec<Carry>),
}

/// An error that an entry shows.
pub(super) struct NamedError<'a> {
    /// The code of the wrong step. It is in the key, not in the item.
    pub(super) code: Cow<'a, str>,
    pub(super) feedback: Cow<'a, str>,
    pub(super) shown_by: ShownBy,
}

/// What tells an error.
pub(super) enum ShownBy {
    /// A number from the least to the greatest.
    Between(Ratio, Ratio),
    /// One of several spellings.
    Spelled(Vec<String>),
    /// The option of this index.
    Chosen(usize),
}

/// A printed number with a decimal point and a hyphen, as numbers are read.
pub(super) fn with_point(printed: &str) -> String {
    printed.replace(',', ".").replace('−', "-")
}

/// Numbers with the decimal mark of the set.
pub(super) fn with_mark(numbers: String, comma: bool) -> String {
    match comma {
        true => numbers.replace('.', ","),
        false => numbers,
    }
}

impl EntryAnswer<'_> {
    /// Whether something can be right because it follows from earlier entries.
    pub(super) fn can_follow(&self) -> bool {
        match self {
            EntryAnswer::Number(number) => number.follows.is_some(),
            EntryAnswer::Spelling(_) => false,
            EntryAnswer::Choice(choice) => choice.follows.is_some(),
        }
    }
}

impl NumberAnswer<'_> {
    /// The answer as printed, as a number; the middle of what is right if the print is no number.
    pub(super) fn key(&self) -> Ratio {
        let middle = || (&self.low + &self.high) * Ratio::new(1, 2).unwrap_or_default();
        let printed = with_point(&self.printed);
        printed.parse().unwrap_or_else(|_| middle())
    }
}

impl Carry {
    /// The choice that a value depends on, and the number of its options.
    pub(super) fn choice(&self) -> Option<(usize, usize)> {
        match self {
            Carry::Number(_) | Carry::Entry(_) => None,
            Carry::Sum(parts) | Carry::Product(parts) | Carry::OneOf(_, parts) => {
                parts.iter().find_map(Carry::choice)
            }
            Carry::Difference(a, b) | Carry::Quotient(a, b) => a.choice().or_else(|| b.choice()),
            Carry::Nearest(inner) => inner.choice(),
            Carry::ByChoice(entry, options) => Some((*entry, options.len())),
        }
    }
}
