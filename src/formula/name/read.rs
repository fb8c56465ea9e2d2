//! A name as a whole: a salt, its degree of hydration, or an adduct with its proportions.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::ions::{MOLECULES, TRIVIAL};
use super::words::{self, Token};
use super::{likely, numbers};
use crate::formula::error::{Error, ErrorKind};
use crate::formula::limits::MOST_BYTES;
use crate::formula::repr::{Count, Formula, Place};
use crate::text::{Note, Span};

/// What is read, and what is remarked on the way.
pub(super) struct Reader<'t> {
    pub(super) text: &'t str,
    pub(super) notes: Vec<Note>,
}

pub(super) fn read(text: &str) -> Result<(Formula, Vec<Note>), Error> {
    let whole = Span::new(0, text.len());
    if text.len() > MOST_BYTES {
        let limit = format!("{} bytes", MOST_BYTES);
        return Err(Error::too_large(whole, "the name", limit));
    }
    let mut reader = Reader {
        text,
        notes: Vec::new(),
    };
    let tokens = words::tokens(text);
    let tokens = match tokens.split_last() {
        Some((stop, before)) if stop.is('.') => before,
        _ => &tokens,
    };
    let formula = reader.whole(tokens)?;
    formula.check_size(whole)?;
    Ok((formula, reader.notes))
}

/// A name that is not read, with its place and its help.
#[cold]
pub(super) fn bad(span: Span, message: impl Into<String>, help: impl Into<String>) -> Error {
    Error::say(ErrorKind::BadName, span, message.into(), help.into())
}

fn is_dash(token: &Token) -> bool {
    token.is('-') || token.is('—')
}

/// Without a dash or a comma at the end.
fn trimmed(tokens: &[Token]) -> &[Token] {
    match tokens.split_last() {
        Some((last, before)) if is_dash(last) || last.is(',') => before,
        _ => tokens,
    }
}

impl<'t> Reader<'t> {
    pub(super) fn written(&self, span: Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// The text of a message's place, not too long to be quoted.
    pub(super) fn quoted(&self, span: Span) -> String {
        const MOST: usize = 60;
        let written = self.written(span);
        match written.char_indices().nth(MOST) {
            Some((end, _)) => format!("{}…", written.get(..end).unwrap_or_default()),
            None => written.into(),
        }
    }

    pub(super) fn note_name(&mut self, code: &'static str, span: Span, meaning: &str) {
        let written = self.quoted(span);
        let text = match code {
            "old_name" => format!("`{written}` is an older name of {meaning}."),
            "trivial_name" => format!("`{written}` is a name of the trade for {meaning}."),
            _ => format!("`{written}` is another name of {meaning}."),
        };
        let note = Note::new(code, text).with("name", written);
        self.notes.push(note.with("read_as", meaning));
    }

    fn whole(&mut self, tokens: &[Token]) -> Result<Formula, Error> {
        let Some(span) = words::span(tokens) else {
            return Err(bad(
                Span::new(0, self.text.len()),
                "an empty text where a name was expected",
                "write a name such as magnesium sulfate heptahydrate",
            ));
        };
        if let Some(formula) = trivial(tokens) {
            self.note_name("trivial_name", span, formula);
            return Formula::read(formula).map(|(formula, _)| formula);
        }
        if let Some((components, proportion)) = self.proportion(tokens)? {
            return self.adduct(components, &proportion);
        }
        self.hydrate(tokens)
    }

    // --- adducts -------------------------------------------------------------------------

    /// The proportion at the end, `(1/10)`, and what stands before it.
    #[allow(clippy::type_complexity, reason = "used in one place")]
    fn proportion<'a>(
        &self,
        tokens: &'a [Token],
    ) -> Result<Option<(&'a [Token], Vec<(Count, Span)>)>, Error> {
        let open = tokens.iter().rposition(|token| token.is('('));
        let Some((before, [_, inside @ .., close])) =
            open.and_then(|at| tokens.split_at_checked(at))
        else {
            return Ok(None);
        };
        if !close.is(')') || !inside.iter().any(|token| token.is('/')) {
            return Ok(None);
        }
        let mut counts = Vec::new();
        for item in inside.split(|token| token.is('/')) {
            let (count, span) = match item {
                [token] => (self.open_or_counted(token), token.span),
                _ => (None, words::span(inside).unwrap_or(close.span)),
            };
            let Some(count) = count else {
                return Err(bad(
                    span,
                    format!("`{}` is no number of a proportion", self.quoted(span)),
                    "write the proportion as numbers above 0: `sodium sulfate—water (1/10)`",
                ));
            };
            counts.push((count, span));
        }
        Ok(Some((before, counts)))
    }

    fn open_or_counted(&self, token: &Token) -> Option<Count> {
        match (token.word(), token.number()) {
            (Some("x"), _) => Some(Count::Unknown('x')),
            (Some("n"), _) => Some(Count::Unknown('n')),
            (_, Some(digits)) => words::count(digits),
            _ => None,
        }
    }

    fn adduct(&mut self, tokens: &[Token], proportion: &[(Count, Span)]) -> Result<Formula, Error> {
        let long = tokens.iter().any(|token| token.is('—'));
        let dash = if long { '—' } else { '-' };
        let components = tokens.split(|token| token.is(dash));
        let components: Vec<&[Token]> = components.filter(|tokens| !tokens.is_empty()).collect();
        if components.len() != proportion.len() {
            let span = |at: Option<&(Count, Span)>| at.map_or(Span::new(0, 0), |(_, span)| *span);
            let (first, last) = (span(proportion.first()), span(proportion.last()));
            return Err(bad(
                Span::new(first.start, last.end),
                format!(
                    "the components are {}, the numbers {}",
                    components.len(),
                    proportion.len()
                ),
                "give each component one number: `sodium sulfate—water (1/10)`",
            ));
        }
        let mut parts = Vec::new();
        for (component, (count, _)) in components.into_iter().zip(proportion) {
            let formula = match molecule(component) {
                Some(formula) => Formula::read(formula)?.0,
                None => self.salt(component)?,
            };
            for mut part in formula.parts() {
                part.coefficient = *count;
                parts.push(part);
            }
        }
        Ok(Formula::from_parts(&parts, None))
    }

    // --- hydrates ------------------------------------------------------------------------

    fn hydrate(&mut self, tokens: &[Token]) -> Result<Formula, Error> {
        let (tokens, dry) = anhydrous(tokens);
        let (salt, degree) = self.degree(tokens)?;
        if let (Some(dry), Some(_)) = (dry, degree) {
            return Err(bad(
                dry.span,
                "an anhydrous salt has no water of crystallization",
                "leave out one of the two words",
            ));
        }
        let molecule = molecule(salt).filter(|formula| degree.is_some() && *formula != "H2O");
        let mut formula = match molecule {
            Some(formula) => Formula::read(formula)?.0,
            None => self.salt(salt)?,
        };
        if let Some(degree) = degree {
            formula.push_part(degree, Place::NOWHERE);
            formula.push_water();
        }
        Ok(formula)
    }

    /// The salt's words and the degree behind them: `heptahydrate`, `0.5-hydrate`, `5-water`.
    fn degree<'a>(&mut self, tokens: &'a [Token]) -> Result<(&'a [Token], Option<Count>), Error> {
        let Some((last, before)) = tokens.split_last() else {
            return Ok((tokens, None));
        };
        let Some(word) = last.word() else {
            return Ok((tokens, None));
        };
        if word == "water" {
            let counted = self.digits_before(before, last)?;
            return Ok(counted.map_or((tokens, None), |(rest, count)| (rest, Some(count))));
        }
        let Some(prefix) = word.strip_suffix("hydrate") else {
            return Ok((tokens, None));
        };
        if !prefix.is_empty() {
            let Some(count) = numbers::degree(prefix) else {
                return Err(self.no_prefix(last, prefix));
            };
            return Ok((trimmed(before), Some(count)));
        }
        if let Some((rest, count)) = self.digits_before(before, last)? {
            return Ok((rest, Some(count)));
        }
        if let Some((token, rest)) = trimmed(before).split_last() {
            let open = self.open_or_counted(token);
            if let Some(count) = open.or_else(|| numbers::degree(token.word()?)) {
                return Ok((trimmed(rest), Some(count)));
            }
        }
        let text = "`hydrate` does not say how much water: the degree is left open.";
        self.notes.push(Note::new("open_degree", text));
        Ok((trimmed(before), Some(Count::Unknown('x'))))
    }

    /// The number in digits that stands before a word, and what stands before the number.
    fn digits_before<'a>(
        &self,
        tokens: &'a [Token],
        word: &Token,
    ) -> Result<Option<(&'a [Token], Count)>, Error> {
        let tokens = trimmed(tokens);
        let (rest, digits, from) = match tokens {
            [rest @ .., above, line, below] if line.is('/') => {
                let (Some(over), Some(under)) = (above.number(), below.number()) else {
                    return Ok(None);
                };
                (rest, format!("{over}/{under}"), above)
            }
            [rest @ .., token] => match token.number() {
                Some(digits) => (rest, digits.into(), token),
                None => return Ok(None),
            },
            [] => return Ok(None),
        };
        match words::count(&digits) {
            Some(count) => Ok(Some((trimmed(rest), count))),
            None => Err(bad(
                Span::new(from.span.start, word.span.end),
                format!("`{digits}` is no degree of hydration"),
                "write a number above 0 with few digits: `0.5-hydrate`",
            )),
        }
    }

    #[cold]
    fn no_prefix(&self, token: &Token, prefix: &str) -> Error {
        // The prefix is made of the same letters as the text, but perhaps of other bytes.
        let end = self
            .written(token.span)
            .len()
            .saturating_sub("hydrate".len());
        let span = Span::new(token.span.start, token.span.start + end);
        let help = match likely::nearest(prefix, numbers::prefixes()) {
            Some(term) => format!("perhaps {term}hydrate; digits will do: `7-hydrate`"),
            None => "write the number in digits: `7-hydrate`".into(),
        };
        let message = format!("`{}` is no numerical prefix", self.quoted(span));
        bad(span, message, help)
    }
}

/// The formula of a salt called by a name of the trade.
fn trivial(tokens: &[Token]) -> Option<&'static str> {
    let mut name = String::new();
    for token in tokens {
        match token.word() {
            Some(word) if name.is_empty() => name.push_str(word),
            Some(word) => {
                name.push(' ');
                name.push_str(word);
            }
            None if token.is('\'') || token.is('’') => {}
            None => return None,
        }
    }
    let mut known = TRIVIAL.iter().filter(|(trivial, _)| *trivial == name);
    known.next().map(|(_, formula)| *formula)
}

/// The formula of a molecule that stands in adducts.
fn molecule(tokens: &[Token]) -> Option<&'static str> {
    let mut name = String::new();
    for (index, token) in tokens.iter().enumerate() {
        match (token.word(), &token.piece) {
            (Some(word), _) => {
                let glued = index == 0 || name.ends_with('(');
                name.push_str(if glued { "" } else { " " });
                name.push_str(word);
            }
            (None, words::Piece::Sign(sign)) => name.push(*sign),
            (None, _) => return None,
        }
    }
    let mut known = MOLECULES.iter();
    let found = known.find(|(molecule, _)| molecule.eq_ignore_ascii_case(&name));
    found.map(|(_, formula)| *formula)
}

/// Without the word `anhydrous` at either end.
fn anhydrous(tokens: &[Token]) -> (&[Token], Option<&Token>) {
    let is_dry = |token: &Token| token.word() == Some("anhydrous");
    match tokens {
        [first, rest @ ..] if is_dry(first) => (rest, Some(first)),
        [rest @ .., last] if is_dry(last) => (trimmed(rest), Some(last)),
        _ => (tokens, None),
    }
}
