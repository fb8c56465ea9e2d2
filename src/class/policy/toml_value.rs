//! A value of a TOML text, with its key and its span.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::ops::Range;

use toml::de::{DeTable, DeValue};

use super::rules::bad;
use super::tolerance::{MOST_MARKS, marks_help};
use crate::class::{Error, Marks};
use crate::number::Reading;
use crate::text::{Detail, Span, advice, shorten};

/// A value, with what a message needs to say where it is.
#[derive(Clone)]
pub(crate) struct TomlValue<'a> {
    text: &'a str,
    key: String,
    span: Range<usize>,
    value: &'a DeValue<'a>,
}

/// The values of a table by their keys, in the order of the text.
pub(crate) type TomlMembers<'a> = Vec<(&'a str, TomlValue<'a>)>;

/// Returns the members of a table below the key `above`, if each is one of `known`. If none are, any key will do.
pub(crate) fn members<'a>(
    text: &'a str,
    above: &str,
    table: &'a DeTable<'a>,
    known: &[&str],
) -> Result<TomlMembers<'a>, Error> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(name, _)| name.span().start);
    let entries = entries.into_iter().map(|(name, value)| {
        let word: &'a str = name.get_ref();
        let key = match above {
            "" => shorten(word),
            above => format!("{above}.{}", shorten(word)),
        };
        if !known.is_empty() && !known.contains(&word) {
            let line = line(text, name.span().start);
            let detail = Detail::new(format!("line {line}: there is no key `{key}`"))
                .at(span(name.span()))
                .help(advice(word, known, "the keys here are"));
            return Err(bad(detail));
        }
        let value = TomlValue {
            text,
            key,
            span: value.span(),
            value: value.get_ref(),
        };
        Ok((word, value))
    });
    entries.collect()
}

impl<'a> TomlValue<'a> {
    /// Returns the error for this value.
    pub(crate) fn error(&self, detail: Detail) -> Error {
        let line = line(self.text, self.span.start);
        let message = format!("line {line}, `{}`: {}", self.key, detail.message);
        let detail = Detail {
            help: detail.help,
            ..Detail::new(message)
        };
        bad(detail.at(span(self.span.clone())))
    }

    /// Returns the error for this value, with a message and what to do.
    pub(crate) fn refusal(
        &self,
        message: impl Into<Cow<'static, str>>,
        help: impl Into<Cow<'static, str>>,
    ) -> Error {
        self.error(Detail::new(message).help(help))
    }

    fn expected(&self, what: &str, help: &'static str) -> Error {
        let found = match self.value {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) => "a whole number",
            DeValue::Float(_) => "a decimal number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or a time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.refusal(format!("{what} is expected here, not {found}"), help)
    }

    /// Returns the members of a table that has only these keys.
    pub(crate) fn table(
        &self,
        known: &[&str],
        help: &'static str,
    ) -> Result<TomlMembers<'a>, Error> {
        match self.value {
            DeValue::Table(table) => members(self.text, &self.key, table, known),
            _ => Err(self.expected("a table", help)),
        }
    }

    /// Returns the values of a list.
    pub(crate) fn list(&self, help: &'static str) -> Result<Vec<TomlValue<'a>>, Error> {
        let DeValue::Array(array) = self.value else {
            return Err(self.expected("a list", help));
        };
        let values = array.iter().enumerate().map(|(index, value)| TomlValue {
            text: self.text,
            key: format!("{}[{index}]", self.key),
            span: value.span(),
            value: value.get_ref(),
        });
        Ok(values.collect())
    }

    /// Returns whether it is a table, and whether it is a list.
    #[cfg(feature = "exercise")]
    pub(crate) fn is_table_or_list(&self) -> [bool; 2] {
        let table = matches!(self.value, DeValue::Table(_));
        [table, matches!(self.value, DeValue::Array(_))]
    }

    /// Returns true or false.
    #[cfg(feature = "exercise")]
    pub(crate) fn flag(&self) -> Result<bool, Error> {
        match self.value {
            DeValue::Boolean(flag) => Ok(*flag),
            _ => Err(self.expected("true or false", "write it without quotation marks")),
        }
    }

    /// Returns a text.
    #[cfg(feature = "exercise")]
    pub(crate) fn text(&self) -> Result<&'a str, Error> {
        match self.value {
            DeValue::String(text) => Ok(text),
            _ => Err(self.expected("a text", "write it in quotation marks")),
        }
    }

    /// Returns a text that is one of these.
    pub(crate) fn choice(&self, names: &[&str]) -> Result<&'a str, Error> {
        let DeValue::String(word) = self.value else {
            return Err(self.expected("a text", "write the word in quotation marks"));
        };
        if !names.contains(&word.as_ref()) {
            let word = shorten(word);
            let all = if names.len() > 1 {
                "write one of"
            } else {
                "write"
            };
            let message = format!("`{word}` is not a possible value");
            return Err(self.refusal(message, advice(&word, names, all)));
        }
        Ok(word)
    }

    /// Returns the digits of a number, quoted or not, as they were written.
    pub(crate) fn digits(&self) -> Result<Cow<'a, str>, Error> {
        match self.value {
            DeValue::String(text) => Ok(Cow::Borrowed(text)),
            // Another base than ten shows in the text, which is then refused as a number.
            DeValue::Integer(number) => Ok(number.to_string().into()),
            DeValue::Float(number) => Ok(Cow::Borrowed(number.as_str())),
            _ => Err(self.expected("a number", "write plain digits, such as 0.05")),
        }
    }

    /// Returns a number with its own digits.
    pub(crate) fn reading(&self) -> Result<Reading, Error> {
        let digits = self.digits()?;
        digits.parse().map_err(|error: crate::number::Error| {
            let detail = Detail::new(error.to_string());
            self.error(match error.help() {
                Some(help) => detail.help(String::from(help)),
                None => detail,
            })
        })
    }

    /// Returns a number of marks.
    pub(crate) fn marks(&self) -> Result<Marks, Error> {
        let digits = self.digits()?;
        let plain = digits.trim();
        let most = Marks::from(MOST_MARKS);
        let marks = Marks::read(plain).filter(|marks| *marks <= most);
        marks.ok_or_else(|| {
            let message = format!("`{}` is not a number of marks", shorten(plain));
            self.refusal(message, marks_help())
        })
    }
}

/// Returns the member of this name.
pub(crate) fn required<'m, 'a>(
    value: &TomlValue<'a>,
    members: &'m TomlMembers<'a>,
    name: &str,
    help: &'static str,
) -> Result<&'m TomlValue<'a>, Error> {
    let mut named = members.iter().filter(|(key, _)| *key == name);
    let (_, member) = named
        .next()
        .ok_or_else(|| value.refusal(format!("`{name}` is missing"), help))?;
    Ok(member)
}

/// Returns the error for a text that is not TOML.
pub(crate) fn no_toml(text: &str, error: &toml::de::Error) -> Error {
    let range = error.span().unwrap_or(text.len()..text.len());
    let before = text.get(..range.start).unwrap_or(text);
    let column = before.rsplit('\n').next().unwrap_or(before).chars().count() + 1;
    let why = error.message().replace('\n', " ");
    let detail = Detail::new(format!(
        "line {}, character {column}: this is not TOML: {why}",
        line(text, range.start)
    ));
    let start = before.len() - before.rsplit('\n').next().unwrap_or(before).len();
    let this_line = text.get(start..).and_then(|rest| rest.lines().next());
    bad(detail
        .help(toml_help(text, this_line.unwrap_or_default()))
        .at(span(range)))
}

/// Returns what to write, by what the text or its line that cannot be read seems to be.
fn toml_help(text: &str, line: &str) -> Cow<'static, str> {
    let first = text.lines().find(|line| !line.trim().is_empty());
    let mut headers = first.unwrap_or_default().split([',', ';', '\t']);
    if !text.contains('=') && headers.any(|header| header.trim().eq_ignore_ascii_case("bench")) {
        return "this seems to be a class sheet; give the file of the policy".into();
    }
    if line.contains(['“', '”', '„', '‘', '’']) {
        return "write straight quotation marks, \", as in `figures = \"remark\"`".into();
    }
    match decimal_comma(line) {
        Some(number) => {
            let number = shorten(&number.replace(',', "."));
            format!("write a decimal point: {number}").into()
        }
        None => {
            "write `key = value` on each line, words in quotation marks, and each key only once in \
                 its table"
                .into()
        }
    }
}

/// Returns a number of this line that has a decimal comma. In a list, commas are between numbers.
fn decimal_comma(line: &str) -> Option<&str> {
    let is_number = |word: &&str| {
        let parts = word.split_once(',');
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        parts.is_some_and(|(whole, decimals)| digits(whole) && digits(decimals))
    };
    let mut words = line.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
    words.find(is_number).filter(|_| !line.contains('['))
}

fn line(text: &str, start: usize) -> usize {
    let before = text.as_bytes().get(..start).unwrap_or(text.as_bytes());
    1 + before.iter().filter(|byte| **byte == b'\n').count()
}

fn span(range: Range<usize>) -> Span {
    Span::new(range.start, range.end)
}
