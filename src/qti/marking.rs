//! The response rules of an item: what each entry earns, and what is told of it.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::entry::{
    Carry, EntryAnswer, Extreme, Follows, ItemEntry, NamedError, NumberAnswer, ShownBy,
};
use super::number_text::{NumberReach, outward, value_rules};
use super::rule::{ResponseRule, RuleValue};
use crate::number::Ratio;

pub(super) const EMPTY: &str = "EMPTY";
pub(super) const UNREADABLE: &str = "UNREADABLE";
pub(super) const RIGHT: &str = "GOOD";
pub(super) const FOLLOWS: &str = "FOLLOWS";
pub(super) const WRONG: &str = "OTHER";

/// The identifier of a response.
pub(super) fn response(index: usize) -> String {
    format!("ENTRY_{}", index + 1)
}

/// The outcome with the mark of an entry.
pub(super) fn mark(index: usize) -> String {
    format!("MARK_{}", index + 1)
}

/// The outcome that says which feedback of an entry is shown.
pub(super) fn says(index: usize) -> String {
    format!("SAYS_{}", index + 1)
}

/// The identifier of the feedback for a named error.
pub(super) fn error_name(index: usize) -> String {
    format!("ERROR_{}", index + 1)
}

/// The identifier of an option.
pub(super) fn choice_name(index: usize) -> String {
    match u8::try_from(index) {
        Ok(letter @ 0..26) => format!("CHOICE_{}", char::from(b'A' + letter)),
        _ => format!("CHOICE_{}", index + 1),
    }
}

/// The outcome with what follows from earlier entries.
fn own(index: usize) -> String {
    format!("OWN_{}", index + 1)
}

/// The variable with the number that was entered.
fn number(index: usize, comma: bool) -> String {
    match comma {
        true => format!("NUMBER_{}", index + 1),
        false => response(index),
    }
}

/// The outcomes that hold numbers on the way.
pub(super) fn numbers(entries: &[ItemEntry<'_>], comma: bool) -> Vec<String> {
    let mut names = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        let EntryAnswer::Number(answer) = &entry.answer else {
            continue;
        };
        if comma {
            names.push(number(index, comma));
        }
        if answer.follows.is_some() {
            names.push(own(index));
        }
    }
    names
}

/// Returns the rules of an item, entry by entry, and the sum of the marks last.
pub(super) fn rules(entries: &[ItemEntry<'_>], comma: bool) -> Vec<ResponseRule> {
    let mut rules = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        match &entry.answer {
            EntryAnswer::Number(answer) => {
                if comma {
                    let reach = NumberReach::of(&answer.printed);
                    rules.extend(value_rules(&response(index), &number(index, comma), &reach));
                }
                if let Some(follows) = &answer.follows {
                    rules.push(own_value(index, &follows.value, comma));
                }
            }
            EntryAnswer::Spelling(_) | EntryAnswer::Choice(_) => (),
        }
        rules.push(entry_rule(index, entry, comma));
    }
    let marks = (0..entries.len()).map(|index| RuleValue::Variable(mark(index)));
    rules.push(ResponseRule::Set(
        "SCORE".into(),
        RuleValue::Sum(marks.collect()),
    ));
    rules
}

/// The rule that marks an entry and chooses its feedback.
fn entry_rule(index: usize, entry: &ItemEntry<'_>, comma: bool) -> ResponseRule {
    let entered = RuleValue::Variable(response(index));
    let mut branches = Vec::from([(RuleValue::Missing(entered.into()), told(index, EMPTY))]);
    if comma && matches!(entry.answer, EntryAnswer::Number(_)) {
        let number = RuleValue::Variable(number(index, comma));
        branches.push((RuleValue::Missing(number.into()), told(index, UNREADABLE)));
    }
    branches.push((is_right(index, &entry.answer, comma), marked(index, RIGHT)));
    if let Some(follows) = follows(index, &entry.answer, comma) {
        branches.push((follows, marked(index, FOLLOWS)));
    }
    if let EntryAnswer::Number(answer) = &entry.answer {
        if let Some(Follows { rounding, .. }) = &answer.follows {
            // Earlier entries that are right, but rounded, may lead a little beyond what is right in itself.
            let most = RuleValue::Float(rounding.clone());
            let is_near = RuleValue::All(Vec::from([
                leads_on(index),
                RuleValue::AtMost(distance(index, comma).into(), most.into()),
            ]));
            branches.push((is_near, marked(index, RIGHT)));
        }
    }
    for (place, error) in entry.errors.iter().enumerate() {
        let shown = is_shown(index, error, comma);
        branches.push((shown, told(index, &error_name(place))));
    }
    ResponseRule::Branch(branches, told(index, WRONG))
}

fn told(index: usize, identifier: &str) -> Vec<ResponseRule> {
    let identifier = RuleValue::Identifier(identifier.into());
    Vec::from([ResponseRule::Set(says(index), identifier)])
}

fn marked(index: usize, identifier: &str) -> Vec<ResponseRule> {
    let mut rules = told(index, identifier);
    rules.push(ResponseRule::Set(mark(index), RuleValue::Float(Ratio::ONE)));
    rules
}

/// Whether an entry is right in itself.
fn is_right(index: usize, answer: &EntryAnswer<'_>, comma: bool) -> RuleValue {
    let entered = RuleValue::Variable(response(index));
    match answer {
        EntryAnswer::Number(answer) => near(index, answer, comma),
        EntryAnswer::Spelling(answer) => {
            RuleValue::SpelledAs(answer.accepted.clone(), entered.into())
        }
        EntryAnswer::Choice(_) => {
            let right = RuleValue::Correct(response(index));
            RuleValue::Same(right.into(), entered.into())
        }
    }
}

fn near(index: usize, answer: &NumberAnswer<'_>, comma: bool) -> RuleValue {
    let key = answer.key();
    let (below, above) = distances(answer, &key, comma);
    let right = match comma {
        // The right response is a text there.
        true => RuleValue::Float(key),
        false => RuleValue::Correct(response(index)),
    };
    RuleValue::Near {
        right: right.into(),
        entered: RuleValue::Variable(number(index, comma)).into(),
        below,
        above,
    }
}

/// How far below and above the key a number is right in itself.
fn distances(answer: &NumberAnswer<'_>, key: &Ratio, comma: bool) -> (Ratio, Ratio) {
    let (mut low, mut high) = (answer.low.clone(), answer.high.clone());
    if comma {
        let reach = NumberReach::of(&answer.printed);
        (low, high) = (reach.cut(&low).min(low), reach.cut(&high).max(high));
    }
    outward(&low, key, &high)
}

/// Whether what follows from earlier entries is not right in itself, so that an earlier entry must be wrong.
fn is_off(index: usize, answer: &NumberAnswer<'_>, comma: bool) -> RuleValue {
    let own = || RuleValue::Variable(own(index)).into();
    let key = answer.key();
    let (below, above) = distances(answer, &key, comma);
    RuleValue::Any(Vec::from([
        RuleValue::AtMost(own(), RuleValue::Float(&key - below).into()),
        RuleValue::AtMost(RuleValue::Float(key + above).into(), own()),
    ]))
}

/// The largest number from which anything follows. A program may read a larger one as infinite.
const MOST_OWN: i32 = 30;

/// Whether anything follows from earlier entries: not from zeros, and not from numbers without end.
fn leads_on(index: usize) -> RuleValue {
    let own = || RuleValue::Absolute(RuleValue::Variable(own(index)).into()).into();
    RuleValue::All(Vec::from([
        RuleValue::Below(RuleValue::Float(Ratio::ZERO).into(), own()),
        RuleValue::Below(
            own(),
            RuleValue::Float(Ratio::power_of_ten(MOST_OWN)).into(),
        ),
    ]))
}

/// How far an entry is from what follows from earlier entries.
fn distance(index: usize, comma: bool) -> RuleValue {
    let own = RuleValue::Variable(own(index)).into();
    let entered = RuleValue::Variable(number(index, comma)).into();
    RuleValue::Absolute(RuleValue::Difference(entered, own).into())
}

/// Whether an entry follows from earlier ones; `None` if it cannot.
fn follows(index: usize, answer: &EntryAnswer<'_>, comma: bool) -> Option<RuleValue> {
    match answer {
        EntryAnswer::Number(answer) => {
            let Follows { slack, .. } = answer.follows.as_ref()?;
            let distance = distance(index, comma).into();
            let most = RuleValue::Product(Vec::from([
                RuleValue::Float(slack.clone()),
                RuleValue::Absolute(RuleValue::Variable(own(index)).into()),
            ]));
            Some(RuleValue::All(Vec::from([
                leads_on(index),
                is_off(index, answer, comma),
                RuleValue::AtMost(distance, most.into()),
            ])))
        }
        EntryAnswer::Spelling(_) => None,
        EntryAnswer::Choice(choice) => {
            let (extreme, values) = choice.follows.as_ref()?;
            let all = || values.iter().map(|value| as_value(value, None, comma));
            let chosen = values.iter().enumerate().map(|(option, value)| {
                let value = as_value(value, None, comma).into();
                let deciding = RuleValue::OneOf(*extreme, all().collect()).into();
                let is_deciding = match extreme {
                    Extreme::Least => RuleValue::AtMost(value, deciding),
                    Extreme::Greatest => RuleValue::AtMost(deciding, value),
                };
                RuleValue::All(Vec::from([chose(index, option), is_deciding]))
            });
            Some(RuleValue::Any(chosen.collect()))
        }
    }
}

/// Whether an option of a choice was chosen.
fn chose(index: usize, option: usize) -> RuleValue {
    RuleValue::Same(
        RuleValue::Variable(response(index)).into(),
        RuleValue::Identifier(choice_name(option)).into(),
    )
}

/// Whether an entry shows an error.
fn is_shown(index: usize, error: &NamedError<'_>, comma: bool) -> RuleValue {
    match &error.shown_by {
        ShownBy::Between(low, high) => {
            // Rounded outward, because floats may miss an end by their last digit.
            let middle = (low + high) * Ratio::new(1, 2).unwrap_or_default();
            let (below, above) = outward(low, &middle, high);
            RuleValue::Near {
                right: RuleValue::Float(middle).into(),
                entered: RuleValue::Variable(number(index, comma)).into(),
                below,
                above,
            }
        }
        ShownBy::Spelled(spellings) => {
            let entered = RuleValue::Variable(response(index));
            RuleValue::SpelledAs(spellings.clone(), entered.into())
        }
        ShownBy::Chosen(option) => chose(index, *option),
    }
}

/// The rule that works out what follows from earlier entries.
fn own_value(index: usize, value: &Carry, comma: bool) -> ResponseRule {
    let set = |chosen| ResponseRule::Set(own(index), as_value(value, chosen, comma));
    match value.choice() {
        None => set(None),
        Some((entry, options)) => {
            let branches =
                (0..options).map(|option| (chose(entry, option), Vec::from([set(Some(option))])));
            // A number that is not set is zero, and nothing follows from a choice that was not made.
            let otherwise = Vec::from([ResponseRule::Set(own(index), RuleValue::Null)]);
            ResponseRule::Branch(branches.collect(), otherwise)
        }
    }
}

/// A value by earlier entries, for one option of the choice that it depends on.
fn as_value(carry: &Carry, chosen: Option<usize>, comma: bool) -> RuleValue {
    let value = |carry: &Carry| as_value(carry, chosen, comma);
    let boxed = |carry: &Carry| Box::new(value(carry));
    let all = |parts: &[Carry]| parts.iter().map(value).collect::<Vec<_>>();
    match carry {
        Carry::Number(number) => RuleValue::Float(number.clone()),
        Carry::Entry(index) => RuleValue::Variable(number(*index, comma)),
        Carry::Sum(parts) => RuleValue::Sum(all(parts)),
        Carry::Product(parts) => RuleValue::Product(all(parts)),
        Carry::Difference(a, b) => RuleValue::Difference(boxed(a), boxed(b)),
        Carry::Quotient(a, b) => RuleValue::Quotient(boxed(a), boxed(b)),
        Carry::Nearest(inner) => RuleValue::Nearest(boxed(inner)),
        Carry::OneOf(extreme, parts) => RuleValue::OneOf(*extreme, all(parts)),
        Carry::ByChoice(_, options) => {
            let option = chosen.and_then(|chosen| options.get(chosen));
            option.map_or(RuleValue::Null, value)
        }
    }
}
