//! What can be wrong with a text, in sentences.

use alloc::format;
use alloc::string::String;

use super::super::draft::PartStart;
use super::cursor::Cursor;
use crate::element::Element;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::ions::{COMMON_NAMES, MOLECULES, formula_of};
use crate::formula::lex::{
    any_digit, corrected, counts_solvate, explain, is_digit, is_dot, is_salt, is_solvate,
    last_symbol, likely_short_form, roman_numeral, short_form_at, sign,
};
use crate::formula::repr::Bracket;
use crate::text::{Span, is_space};

impl<'a> Cursor<'a> {
    fn between(&self, start: usize, end: usize) -> &'a str {
        self.text.get(start..end).unwrap_or_default()
    }

    fn before(&self, span: Span) -> &'a str {
        self.between(0, span.start)
    }

    fn after(&self, span: Span) -> &'a str {
        self.between(span.end, self.text.len())
    }

    pub(crate) fn zero_count(&self, name: &str, span: Span) -> Error {
        let digits = self.between(span.start, span.end);
        let first = digits.chars().next().map_or(0, char::len_utf8);
        let zero = Span::new(span.start, span.start + first);
        let lone = zero.end == span.end;
        let before_oxygen = self.rest().starts_with('O');
        let follows_symbol = name.ends_with(|c: char| c.is_ascii_alphabetic());
        let help = if !lone || (follows_symbol && !before_oxygen) {
            self.letter_o(zero)
        } else {
            LEAVE_OUT.into()
        };
        let message = if lone {
            format!("a count of zero after `{name}`")
        } else {
            format!("the count after `{name}` begins with a zero")
        };
        Error::bad(zero, message, help)
    }

    /// The help for a decimal without its zero: `(Ba.5Sr0.5)TiO3`.
    fn zero_before(&self, point: Span) -> String {
        let corrected = corrected(self.text, point, "0.");
        format!("write a zero before a decimal point: `{corrected}`")
    }

    /// The help for a zero in place of the letter O.
    fn letter_o(&self, zero: Span) -> String {
        let corrected = corrected(self.text, zero, "O");
        format!("write the letter O for oxygen: `{corrected}`")
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
        let before = self.before(self.here()).trim_end_matches(is_digit);
        if let Some(mark) = before
            .chars()
            .next_back()
            .filter(|mark| sign(*mark).is_some())
        {
            let mark = Span::new(before.len() - mark.len_utf8(), before.len());
            if counts_solvate(self.after(mark)) {
                return self.dot_in_place_of(mark);
            }
            if c.is_ascii_uppercase() {
                let corrected = corrected(self.text, mark, "");
                let help = format!("leave a bond out: `{corrected}`. A charge is written last");
                return Error::bad(self.here(), format!("`{c}` follows a charge"), help);
            }
        }
        if any_digit(c).is_some() || c == '(' || c.is_ascii_uppercase() {
            return Error::bad(
                self.here(),
                format!("`{c}` follows a charge"),
                "write the charge last, after a caret: `SO4^2-`",
            );
        }
        self.unexpected(c)
    }

    /// A sign before the number of waters, where a dot belongs: `MgSO4-7H2O`.
    fn dot_in_place_of(&self, sign: Span) -> Error {
        let help = format!(
            "write an adduct dot before water: `{}`",
            corrected(self.text, sign, "·")
        );
        let sign_text = self.between(sign.start, sign.end).trim_end();
        Error::bad(sign, format!("`{sign_text}` before water"), help)
    }

    pub(crate) fn nothing_before(&self, c: char) -> Error {
        Error::bad(
            self.here(),
            format!("`{c}` is where a formula should begin"),
            "take the sign out. A coefficient is positive, and a charge comes after its formula",
        )
    }

    #[cold]
    pub(crate) fn empty_part(&self, part: &PartStart, charged: bool) -> Error {
        if let Some(span) = part.coefficient() {
            return Error::bad(
                span,
                format!(
                    "no formula follows the number {}",
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
        let message = match self.peek() {
            Some(c) if is_dot(c) => format!("nothing comes before the dot `{c}`"),
            _ => "nothing follows the dot".into(),
        };
        let help = "write a formula on either side of an adduct dot";
        Error::bad(self.here(), message, help)
    }

    /// A space after which neither a dot nor a label nor the end follows.
    pub(crate) fn space_inside(&self, space: Span) -> Error {
        let rest = self.after(space);
        let solvate = rest
            .strip_prefix(['x', 'X'])
            .map(|rest| rest.trim_start_matches(is_space));
        if solvate.is_some_and(is_solvate) {
            let times = Span::new(space.end, space.end + 1);
            return two_meanings_of_x(self.text, Span::new(space.start, times.end));
        }
        let is_charge = rest
            .trim_start_matches(is_digit)
            .chars()
            .next()
            .is_some_and(|c| sign(c).is_some());
        let before = self.before(space);
        let (sign, say) = if is_charge {
            ("^", "write the charge after a caret")
        } else if rest.starts_with(is_digit) || is_solvate(rest) || counts_solvate(before) {
            ("·", "put an adduct dot in place of the space")
        } else {
            ("", "take the space out")
        };
        let corrected = corrected(self.text, space, sign);
        let help = format!("{say}: `{corrected}`");
        Error::bad(space, "a space inside the formula", help)
    }

    pub(crate) fn never_closed(&self, bracket: Bracket, at: usize) -> Error {
        let (point, before) = (self.here(), self.before(self.here()));
        let is_decimal = self.rest().starts_with('.') && self.after(point).starts_with(is_digit);
        if is_decimal && before.ends_with(|c: char| c.is_ascii_alphabetic()) {
            let help = self.zero_before(point);
            return Error::bad(point, "a full stop inside brackets", help);
        }
        let (open, close) = (bracket.open(), bracket.close());
        let span = Span::new(at, at + 1);
        let is_double = self.before(span).ends_with(open) || self.after(span).starts_with(open);
        let help = if is_double {
            let corrected = corrected(self.text, span, "");
            format!("take one of the two out, `{corrected}`, or add `{close}` where the group ends")
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
        let help = if self.before(here).ends_with(c) {
            let corrected = corrected(self.text, here, "");
            format!("it appears twice. Take one out: `{corrected}`")
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

    /// A digit right after an opening bracket.
    fn nothing_to_count(&self, c: char) -> Error {
        let here = self.here();
        if let Some((inside, after)) = self.rest().split_once(')') {
            if after.is_empty() && counts_solvate(inside) {
                let group = Span::new(self.at - 1, self.text.len());
                let corrected = corrected(self.text, group, &format!("·{inside}"));
                let help = format!("write an adduct dot before water: `{corrected}`");
                return Error::bad(here, format!("`{c}` is where a group should begin"), help);
            }
        }
        let is_zero = any_digit(c) == Some(0) && !self.after(here).starts_with(is_digit);
        let help = if is_zero {
            self.letter_o(here)
        } else {
            "write the count after what it counts".into()
        };
        Error::bad(here, format!("`{c}` is where a group should begin"), help)
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
        let here = self.here();
        if c == ','
            && self.before(here).ends_with(is_digit)
            && self.after(here).starts_with(is_digit)
        {
            return Error::bad(
                here,
                "a comma between digits",
                "write an adduct dot `·` before water, or a full stop in a decimal",
            );
        }
        let after = self.after(here);
        let counted = after.trim_start_matches(is_space);
        if matches!(c, ',' | ';' | ':') && counts_solvate(counted) {
            return self.dot_in_place_of(Span::new(here.start, self.text.len() - counted.len()));
        }
        if let Some((message, help)) = explain(self.text, c) {
            return Error::bad(self.here(), message, help);
        }
        Error::bad(
            self.here(),
            format!("`{}` does not belong in a formula", c.escape_debug()),
            "use only symbols of elements, counts, brackets, dots and charges",
        )
    }

    /// Refuses symbols that are likelier to be an abbreviation: `AcOH`, `THF`.
    #[cold]
    pub(crate) fn check_short_form(&self) -> Result<(), Error> {
        let Some((form, span)) = likely_short_form(self.text, self.at) else {
            return Ok(());
        };
        Err(Error::say(
            ErrorKind::AmbiguousNotation,
            span,
            format!(
                "`{}` has two possible meanings: elements, or {}",
                self.between(span.start, span.end),
                form.name()
            ),
            form.help(self.text),
        ))
    }

    /// Refuses a Roman numeral after a metal: `Fe(III)`, `CoII`.
    #[cold]
    pub(crate) fn check_roman_numeral(&self) -> Result<(), Error> {
        let Some((numeral, number)) = roman_numeral(self.text, self.at) else {
            return Ok(());
        };
        let before = self.before(numeral);
        let symbol = last_symbol(before).unwrap_or("Fe");
        let size = if number == 1 {
            String::new()
        } else {
            format!("{number}")
        };
        let message = format!(
            "`{}` has two possible meanings: the charge {number}+, or elements such as iodine",
            self.between(numeral.start, numeral.end)
        );
        let help = format!(
            "leave the numeral out: `{}`. The charge of an ion is written as `{symbol}^{size}+`",
            corrected(self.text, numeral, "")
        );
        Err(Error::say(
            ErrorKind::AmbiguousNotation,
            numeral,
            message,
            help,
        ))
    }

    pub(crate) fn unknown_symbol(&self, at: usize) -> Error {
        if let Some((form, span)) = short_form_at(self.text, at) {
            let found = self.between(span.start, span.end);
            let message = match form.is_name() {
                true => format!("`{found}` is a name, not a formula"),
                false => format!("`{found}` is not the symbol of an element"),
            };
            let help = form.help(self.text);
            return Error::say(ErrorKind::UnknownElement, span, message, help);
        }
        if let Some(error) = self.name() {
            return error;
        }
        let rest = self.between(at, self.text.len());
        if rest.strip_prefix(['x', 'X']).is_some_and(counts_solvate) {
            return self.dot_in_place_of(Span::new(at, at + 1));
        }
        let mut letters = 0;
        for (index, c) in rest.char_indices().take(3) {
            if (index > 0 && !c.is_ascii_lowercase()) || !c.is_ascii_alphabetic() {
                break;
            }
            letters = index + 1;
        }
        let found = rest.get(..letters).unwrap_or_default();
        let retired = RETIRED.iter().find(|(old, _)| *old == found);
        let shown = match retired {
            Some(_) => found,
            None => found.get(..2).unwrap_or(found),
        };
        let help = match retired {
            Some((_, now)) => format!("the element was renamed to {now}"),
            None => self.suggestion(at, shown),
        };
        Error::say(
            ErrorKind::UnknownElement,
            Span::new(at, at + shown.len()),
            format!("`{shown}` is not the symbol of an element"),
            help,
        )
    }

    /// The error about a text that is words: `sodium chloride`, `uranium-235`.
    fn name(&self) -> Option<Error> {
        let name = self.text.trim_matches(is_space);
        let start = self.text.len() - self.text.trim_start_matches(is_space).len();
        let span = Span::new(start, start + name.len());
        if let Some((element, number)) = name.split_once('-') {
            let element = Element::from_name(element)?;
            let number: u16 = number.parse().ok()?;
            let message = format!("`{name}` is the name of a nuclide, not a formula");
            let help = format!(
                "write its mass number in square brackets: `[{number}{}]`",
                element.symbol()
            );
            return Some(Error::say(
                ErrorKind::AmbiguousNotation,
                span,
                message,
                help,
            ));
        }
        let is_words = name
            .chars()
            .all(|c| c.is_ascii_alphabetic() || is_space(c) || c == '\'');
        let rest = name.get(1..).unwrap_or_default();
        let is_small = rest.chars().filter(char::is_ascii_uppercase).count() == 0;
        if !is_words || !is_small || name.len() < 5 {
            return None;
        }
        let known = formula_of(COMMON_NAMES, name).or_else(|| formula_of(MOLECULES, name));
        let help = match known {
            Some(formula) => format!("write its formula: `{formula}`"),
            None => "write its formula, such as `MgSO4·7H2O`".into(),
        };
        let message = format!("`{name}` is a name, not a formula");
        Some(Error::say(ErrorKind::UnknownElement, span, message, help))
    }

    /// What was probably meant by letters that are not a symbol.
    fn suggestion(&self, at: usize, found: &str) -> String {
        let span = Span::new(at, at + found.len());
        if let Some(help) = self.letter_l(span, found) {
            return help;
        }
        // `MgSo4`, `Al(Oh)3`
        let in_capitals = self.text.replace(found, &found.to_ascii_uppercase());
        let mut end = 0;
        let part = in_capitals.split_inclusive(is_dot).find(|part| {
            end += part.len();
            at < end
        });
        if found.contains(|c: char| c.is_ascii_lowercase())
            && found.starts_with(|c: char| c.is_ascii_uppercase())
            && part.is_some_and(is_salt)
        {
            return format!("write `{}`", in_capitals.trim());
        }
        // A capital in place of a small letter: the A of NACL belongs to the N before it.
        let before = self.before(span).chars().next_back();
        let before = before.filter(char::is_ascii_uppercase);
        let after = self.after(span).chars().next();
        let after = after.filter(char::is_ascii_alphabetic);
        let first = found.chars().next().unwrap_or('?');
        let small = first.is_ascii_lowercase().then(|| String::from(found));
        let pairs = [before.map(|b| [b, first]), after.map(|a| [first, a])];
        let pairs = pairs.into_iter().flatten().map(String::from_iter);
        let candidates = small.into_iter().chain(pairs);
        let mut candidates = candidates.chain([found.into(), first.into()]);
        match candidates.find_map(|candidate| element_in_any_case(&candidate)) {
            Some(element) => format!(
                "perhaps {}, {}. A symbol is a capital letter, or a capital and a small one",
                element.symbol(),
                element.name()
            ),
            None => "check the symbol against a periodic table".into(),
        }
    }

    /// The help for `A1` and `AI`, with the digit 1 or a capital I for the small letter l, and for
    /// `lH2O`, with the small letter for the digit.
    fn letter_l(&self, span: Span, found: &str) -> Option<String> {
        if found == "l" {
            let corrected = corrected(self.text, span, "1");
            return Some(format!(
                "perhaps the digit 1 in place of the small letter l: `{corrected}`"
            ));
        }
        self.after(span).strip_prefix(['1', 'I'])?;
        let element = Element::from_symbol(&format!("{found}l"))?;
        let symbol = element.symbol();
        let span = Span::new(span.start, span.end + 1);
        Some(format!(
            "perhaps {symbol}, {}, with the small letter l: `{}`",
            element.name(),
            corrected(self.text, span, symbol)
        ))
    }
}

/// `CuSO4 x H2O`: the letter is a dot, or an unknown number.
fn two_meanings_of_x(text: &str, times: Span) -> Error {
    let rest = text.get(times.end..).unwrap_or_default();
    let spaces = rest.len() - rest.trim_start_matches(is_space).len();
    let span = Span::new(times.start, times.end + spaces);
    let (one, unknown) = (corrected(text, span, "·"), corrected(text, span, "·x"));
    Error::say(
        ErrorKind::AmbiguousNotation,
        Span::new(times.end - 1, times.end),
        "this x can be an adduct dot or an unknown number",
        format!("write `{one}` or `{unknown}`"),
    )
}

/// Symbols that were used before an element had its name.
const RETIRED: [(&str, &str); 7] = [
    ("Uub", "copernicium, Cn"),
    ("Uut", "nihonium, Nh"),
    ("Uuq", "flerovium, Fl"),
    ("Uup", "moscovium, Mc"),
    ("Uuh", "livermorium, Lv"),
    ("Uus", "tennessine, Ts"),
    ("Uuo", "oganesson, Og"),
];

/// The help for a count of zero.
pub(crate) const LEAVE_OUT: &str = "leave out what is not there";

/// The element whose symbol these letters are, be they capital or small.
fn element_in_any_case(letters: &str) -> Option<Element> {
    let (first, rest) = letters.split_at_checked(1)?;
    let symbol = first.to_ascii_uppercase() + &rest.to_ascii_lowercase();
    Element::from_symbol(&symbol)
}
