//! What can be wrong with a text, in sentences: built only when it is.

use alloc::format;
use alloc::string::String;

use super::super::draft::PartStart;
use super::cursor::Cursor;
use crate::element::Element;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::lex::{any_digit, explain, is_digit, is_dot, is_solvate, sign};
use crate::formula::repr::Bracket;
use crate::text::{Span, is_space};

impl<'a> Cursor<'a> {
    fn between(&self, start: usize, end: usize) -> &'a str {
        self.text.get(start..end).unwrap_or_default()
    }

    fn before(&self, span: Span) -> &'a str {
        self.between(0, span.start)
    }

    fn behind(&self, span: Span) -> &'a str {
        self.between(span.end, self.text.len())
    }

    pub(crate) fn zero_count(&self, name: &str, span: Span) -> Error {
        let digits = self.between(span.start, span.end);
        let zero = Span::new(
            span.start,
            span.start + digits.chars().next().map_or(0, char::len_utf8),
        );
        let lone = zero.end == span.end;
        let before_oxygen = self.rest().starts_with('O');
        let help = if !lone || (name.ends_with(|c: char| c.is_ascii_alphabetic()) && !before_oxygen)
        {
            let mended = format!("{}O{}", self.before(zero), self.behind(zero));
            format!("write the letter O for oxygen: `{}`", mended.trim())
        } else {
            "leave out what is not there".into()
        };
        let message = if lone {
            format!("a count of zero after `{name}`")
        } else {
            format!("the count after `{name}` begins with a zero")
        };
        Error::bad(zero, message, help)
    }

    pub(crate) fn bad_charge(&self) -> Error {
        let end = self.text.len()
            - self
                .rest()
                .trim_start_matches(|c: char| !is_space(c) && !is_dot(c))
                .len();
        Error::bad(
            Span::new(self.at, end.max(self.here().end)),
            format!("`{}` is not a charge", self.between(self.at, end)),
            "write a charge as its size and one sign after a caret: `SO4^2-`",
        )
    }

    /// What must not follow a charge.
    pub(crate) fn bad_after_charge(&self, c: char) -> Error {
        if sign(c).is_some() {
            return self.bad_charge();
        }
        if any_digit(c).is_some() || c == '(' || c.is_ascii_uppercase() {
            return Error::bad(
                self.here(),
                format!("`{c}` stands behind a charge"),
                "write the charge last, after a caret: `SO4^2-`",
            );
        }
        self.unexpected(c)
    }

    pub(crate) fn nothing_before(&self, c: char) -> Error {
        Error::bad(
            self.here(),
            format!("`{c}` stands where a formula should begin"),
            "take the sign out: coefficients are above 0, and a charge stands behind its formula",
        )
    }

    #[cold]
    pub(crate) fn empty_part(&self, part: &PartStart, charged: bool) -> Error {
        let next = self.here();
        if let Some(span) = part.coefficient() {
            return Error::bad(
                span,
                format!(
                    "the number {} stands without a formula behind it",
                    self.between(span.start, span.end)
                ),
                "write the formula that it counts, such as 5H2O",
            );
        }
        if charged {
            return Error::bad(
                Span::new(part.offset.into(), self.at),
                "a charge without a formula",
                "write the formula before its charge: `SO4^2-`",
            );
        }
        match self.peek() {
            Some(c) if is_dot(c) => Error::bad(
                next,
                format!("nothing stands before the dot `{c}`"),
                "write a formula on either side of an adduct dot",
            ),
            _ => Error::bad(
                next,
                "nothing stands after the dot",
                "write a formula on either side of an adduct dot",
            ),
        }
    }

    /// A space where nothing but a dot, a label or the end may follow.
    pub(crate) fn space_inside(&self, space: Span) -> Error {
        let (before, rest) = (self.before(space), self.behind(space));
        let (sign, say) = if rest.starts_with(is_digit) || is_solvate(rest) {
            ("·", "put an adduct dot in place of the space")
        } else {
            ("", "take the space out")
        };
        let mended = format!("{before}{sign}{rest}");
        Error::bad(
            space,
            "a space inside the formula",
            format!("{say}: `{}`", mended.trim()),
        )
    }

    pub(crate) fn never_closed(&self, bracket: Bracket, at: usize) -> Error {
        let (open, close) = (bracket.open(), bracket.close());
        let span = Span::new(at, at + 1);
        let (before, behind) = (self.before(span), self.behind(span));
        let doubled = before.ends_with(open) || behind.starts_with(open);
        let help = if doubled {
            let mended = format!("{before}{behind}");
            format!(
                "take one of the two out, `{}`, or add `{close}` where the group ends",
                mended.trim()
            )
        } else {
            format!("add `{close}` where the group ends")
        };
        Error::say(
            ErrorKind::UnbalancedBracket,
            span,
            format!("the bracket `{open}` is never closed"),
            help,
        )
    }

    pub(crate) fn closes_nothing(&self, c: char) -> Error {
        let here = self.here();
        let (before, behind) = (self.before(here), self.behind(here));
        let help = if before.ends_with(c) {
            let mended = format!("{before}{behind}");
            format!("it stands twice; take one out: `{}`", mended.trim())
        } else {
            "take it out, or open the group before it".into()
        };
        Error::say(
            ErrorKind::UnbalancedBracket,
            here,
            format!("the bracket `{c}` closes nothing"),
            help,
        )
    }

    /// A digit right behind an opening bracket.
    fn nothing_to_count(&self, c: char) -> Error {
        let here = self.here();
        let (before, behind) = (self.before(here), self.behind(here));
        let zero = any_digit(c) == Some(0) && !behind.starts_with(is_digit);
        let help = if zero {
            let mended = format!("{before}O{behind}");
            format!("write the letter O for oxygen: `{}`", mended.trim())
        } else {
            "write the count behind what it counts".into()
        };
        Error::bad(
            here,
            format!("`{c}` stands where a group should begin"),
            help,
        )
    }

    pub(crate) fn unexpected(&self, c: char) -> Error {
        if any_digit(c).is_some() {
            if self.before(self.here()).ends_with(['(', '[', '{']) {
                return self.nothing_to_count(c);
            }
            return Error::bad(
                self.here(),
                format!("`{c}` follows a count that is already complete"),
                "write all digits of a count in the same way",
            );
        }
        if c.is_ascii_lowercase() {
            return self.unknown_symbol(self.at);
        }
        if let Some((message, help)) = explain(self.text, c) {
            return Error::bad(self.here(), message, help);
        }
        Error::bad(
            self.here(),
            format!("`{}` has no place in a formula", c.escape_debug()),
            "use symbols of elements, counts, brackets, dots and charges only",
        )
    }

    pub(crate) fn unknown_symbol(&self, at: usize) -> Error {
        let rest = self.between(at, self.text.len());
        let mut letters = 0;
        for (index, c) in rest.char_indices().take(3) {
            if (index > 0 && !c.is_ascii_lowercase()) || !c.is_ascii_alphabetic() {
                break;
            }
            letters = index + 1;
        }
        let found = rest.get(..letters).unwrap_or_default();
        let renamed = [
            ("Uub", "copernicium, Cn"),
            ("Uut", "nihonium, Nh"),
            ("Uuq", "flerovium, Fl"),
            ("Uup", "moscovium, Mc"),
            ("Uuh", "livermorium, Lv"),
            ("Uus", "tennessine, Ts"),
            ("Uuo", "oganesson, Og"),
        ];
        let (shown, help) = if let Some((_, now)) = renamed.iter().find(|(old, _)| *old == found) {
            (found, format!("the element was renamed to {now}"))
        } else {
            let found = found.get(..2).unwrap_or(found);
            (found, suggestion(self.text, at, found))
        };
        Error::say(
            ErrorKind::UnknownElement,
            Span::new(at, at + shown.len()),
            format!("`{shown}` is not the symbol of an element"),
            help,
        )
    }
}

/// The text before and behind what was found in it.
fn around<'t>(text: &'t str, at: usize, found: &str) -> (&'t str, &'t str) {
    let behind = text.get(at + found.len()..).unwrap_or_default();
    (text.get(..at).unwrap_or_default(), behind)
}

/// What may have been meant by letters that are no symbol.
fn suggestion(text: &str, at: usize, found: &str) -> String {
    let capitalised = |letters: &str| {
        let mut out = String::new();
        for (index, c) in letters.chars().enumerate() {
            out.push(if index == 0 {
                c.to_ascii_uppercase()
            } else {
                c.to_ascii_lowercase()
            });
        }
        Element::from_symbol(&out).map(|element| (out, element))
    };
    if let Some(help) = mistaken_l(text, at, found) {
        return help;
    }
    // A capital in the place of a small letter: the A of NACL belongs to the N before it.
    let (before, behind) = around(text, at, found);
    let before = before.chars().next_back().filter(char::is_ascii_uppercase);
    let first = found.chars().next().unwrap_or('?');
    let after = behind.chars().next().filter(char::is_ascii_alphabetic);
    let pairs = [before.map(|b| [b, first]), after.map(|a| [first, a])];
    let small = found.starts_with(|c: char| c.is_ascii_lowercase());
    let candidates = small
        .then(|| found.into())
        .into_iter()
        .chain(
            pairs
                .into_iter()
                .flatten()
                .map(|pair| pair.iter().collect::<String>()),
        )
        .chain([found.into(), String::from(first)]);
    for candidate in candidates {
        if let Some((symbol, element)) = capitalised(&candidate) {
            return format!(
                "perhaps {symbol}, {}: a symbol has a capital first letter, then a small one",
                element.name()
            );
        }
    }
    "check the symbol against a periodic table".into()
}

/// `A1` and `AI` for Al, with the digit 1 or a capital I for the small letter l; and the other way
/// about `lH2O`.
fn mistaken_l(text: &str, at: usize, found: &str) -> Option<String> {
    let (before, behind) = around(text, at, found);
    if found == "l" {
        let mended = format!("{before}1{behind}");
        return Some(format!(
            "perhaps the digit 1 in place of the small letter l: `{}`",
            mended.trim()
        ));
    }
    let behind = behind.strip_prefix(['1', 'I'])?;
    let symbol = format!("{found}l");
    let element = Element::from_symbol(&symbol)?;
    let mended = format!("{before}{symbol}{behind}");
    Some(format!(
        "perhaps {symbol}, {}, with the small letter l: `{}`",
        element.name(),
        mended.trim()
    ))
}
