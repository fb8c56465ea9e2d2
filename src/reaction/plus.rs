//! A `+` in an equation: a sign that joins species, or a charge.

use alloc::format;
use alloc::string::String;

use super::error::{Error, ErrorKind};
use crate::formula::Formula;
use crate::text::{Span, digit, is_minus, is_plus, is_space};

pub(super) enum Plus {
    /// The signs up to `end` belong to the formula.
    Charges { end: usize },
    /// The sign from `at` to `end` joins.
    Joins { at: usize, end: usize },
}

/// Returns what the run of signs at `i` is. The species that is being read begins at `start`.
#[inline]
pub(super) fn plus(text: &str, start: usize, i: usize) -> Result<Plus, Error> {
    let before = text.get(start..i).unwrap_or_default();
    let rest = text.get(i..).unwrap_or_default();
    let first = rest.chars().next().map_or(1, char::len_utf8);
    if before.is_empty() || before.ends_with(is_space) {
        return Ok(Plus::Joins {
            at: i,
            end: i + first,
        });
    }
    let after = rest.trim_start_matches(is_plus);
    let end = i + (rest.len() - after.len());
    if ends_word(after) {
        let next = after.trim_start_matches(is_space);
        return match next.len() < after.len() && begins_species(next) {
            true => Err(half_spaced(text, start, i, end)),
            false => Ok(Plus::Charges { end }),
        };
    }
    // The last sign joins.
    let last = rest.get(..rest.len() - after.len()).unwrap_or_default();
    let last = last.chars().next_back().map_or(1, char::len_utf8);
    let at = end - last;
    if ends_with_caret(before) {
        // `^2+` is a charge; a second sign may still join.
        return Ok(Plus::Charges {
            end: if at > i { at } else { end },
        });
    }
    let next = after.split(|c| is_space(c) || is_plus(c)).next();
    let doubtful = at > i || (!marked(before) && may_charge(before, next.unwrap_or_default()));
    if doubtful {
        return Err(half_spaced(text, start, i, end));
    }
    Ok(Plus::Joins { at, end })
}

const STATE_LABELS: [&str; 4] = ["(s)", "(l)", "(g)", "(aq)"];

/// Returns whether the text of a species ends here, apart from its label or a dot.
fn ends_word(after: &str) -> bool {
    let size = after.trim_start_matches(|c| digit(c).is_some());
    let arrow = |c: char| is_minus(c) || matches!(c, '=' | '<' | '→' | '⇌' | '⟶');
    let over = |text: &str| {
        text.is_empty()
            || text.starts_with(is_space)
            || text.starts_with(['·', '•', '∙', '⋅', '*', ')', ']', '}', '.'])
            || text.starts_with(arrow)
            || STATE_LABELS.iter().any(|label| text.starts_with(label))
    };
    over(after) || (size.len() < after.len() && over(size) && !size.starts_with('.'))
}

/// Returns whether another species begins here without a sign before it.
fn begins_species(next: &str) -> bool {
    let opens = |c: char| {
        c.is_ascii_alphanumeric() || matches!(c, '(' | '[' | '{' | '^') || digit(c).is_some()
    };
    next.starts_with(opens) && !STATE_LABELS.iter().any(|label| next.starts_with(label))
}

/// Returns whether the text ends with a caret, or with a caret and a number.
fn ends_with_caret(before: &str) -> bool {
    before
        .trim_end_matches(|c| digit(c).is_some())
        .ends_with('^')
}

/// Returns whether the charge of a text is marked as one.
fn marked(text: &str) -> bool {
    text.contains('^') || text.ends_with(['⁺', '⁻', ')']) && text.contains(['⁺', '⁻', '('])
}

/// Returns whether a sign between these two, without spaces, may be a charge of the first. It may if
/// the first is an ion with it, and ends in a digit or is followed by another ion.
fn may_charge(before: &str, next: &str) -> bool {
    let charged = next.ends_with(is_minus) || next.contains(['^', '⁺', '⁻']);
    if !charged && !before.ends_with(|c| digit(c).is_some()) {
        return false;
    }
    let formula = format!("{}+", before.trim_matches(is_space));
    let formula: Result<Formula, _> = formula.parse();
    formula.is_ok_and(|formula| {
        let charge = formula.exact_charge();
        charge.is_none_or(|charge| charge.is_positive())
    })
}

/// Returns the error of signs with two possible meanings, as in `Na+ Cl2` or `Cu2+Cl2`.
#[cold]
fn half_spaced(text: &str, start: usize, i: usize, end: usize) -> Error {
    let cut = |from: usize, to: usize| text.get(from..to).unwrap_or_default();
    let (before, signs) = (cut(start, i).trim_matches(is_space), cut(i, end));
    let after = cut(end, text.len()).trim_start_matches(is_space);
    let after = after.split(|c| is_space(c) || is_plus(c)).next();
    let after = after.unwrap_or_default();
    // The last of several signs may join.
    let charge: String = signs
        .chars()
        .take(signs.chars().count().saturating_sub(1))
        .collect();
    let joined = format!("{before}{charge}");
    Error::say(
        ErrorKind::AmbiguousNotation,
        Span::new(i, end),
        format!(
            "`{signs}` has two possible meanings: it joins `{joined}` and `{after}`, or it is the charge of `{before}`"
        ),
        format!("write a `+` that joins with spaces: `{joined} + {after}`"),
    )
}
