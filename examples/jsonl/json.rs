//! JSON as it was sent: members in order, numbers with their own digits, each key once.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use effloresce::number::{DecimalMark, Unit};
use effloresce::{Ratio, Reading};
use serde::Deserialize;
use serde::de::{Deserializer, IgnoredAny, MapAccess, Visitor};
use serde_json::value::RawValue;

use crate::reply::{Failure, cut, shorten};
use crate::suggest;

/// The deepest nesting of objects and lists that is accepted. Common readers of JSON go no deeper,
/// so they could not read a reply that repeats a deeper `id`.
pub(crate) const MAX_DEPTH: usize = 127;

/// One JSON value, as text that is not parsed yet.
#[derive(Clone, Copy)]
pub(crate) struct Json<'a>(&'a RawValue);

/// The members of an object, in the order in which they were sent.
pub(crate) struct Object<'a>(Vec<(Cow<'a, str>, Json<'a>)>);

impl<'a> Json<'a> {
    /// Reads a line, which may be any JSON value.
    pub(crate) fn read(line: &'a str) -> Result<Self, Failure> {
        serde_json::from_str(line)
            .map(Json)
            .map_err(|error| unreadable(&error))
    }

    pub(crate) fn raw(self) -> &'a str {
        self.0.get()
    }

    pub(crate) fn is_null(self) -> bool {
        self.raw() == "null"
    }

    /// The first byte of the value, which shows its kind.
    fn first(self) -> u8 {
        self.raw().as_bytes().first().copied().unwrap_or_default()
    }

    fn is_text(self) -> bool {
        self.first() == b'"'
    }

    fn is_number(self) -> bool {
        matches!(self.first(), b'-' | b'0'..=b'9')
    }

    fn expected(self, what: &str) -> Failure {
        let kind = match self.first() {
            b'"' => "a text",
            b'{' => "an object",
            b'[' => "a list",
            b't' | b'f' => "true or false",
            b'n' => "null",
            _ => "a number",
        };
        let help = match what {
            "a text" => "write one text in quotes",
            "a list" => "write a list in square brackets: [ … ]",
            "an object" => "write its fields in braces: { … }",
            "true or false" => "write true or false, without quotes",
            _ => "write digits in quotes, such as \"3\"",
        };
        let message = format!("{what} was expected here, not {kind}");
        Failure::new("bad_request", message).help(help)
    }

    /// A text.
    pub(crate) fn text(self) -> Result<Cow<'a, str>, Failure> {
        if self.is_text() {
            unquote(self.raw())
        } else {
            Err(self.expected("a text"))
        }
    }

    /// A text, or the digits of a number as they were sent.
    pub(crate) fn text_or_digits(self) -> Result<Cow<'a, str>, Failure> {
        self.text_or_digits_of("a text or a number")
    }

    fn text_or_digits_of(self, what: &str) -> Result<Cow<'a, str>, Failure> {
        if self.is_text() {
            self.text()
        } else if self.is_number() {
            Ok(Cow::Borrowed(self.raw()))
        } else {
            Err(self.expected(what))
        }
    }

    /// A quantity: a text, or a number with the digits as they were sent.
    pub(crate) fn quantity(self) -> Result<Reading, Failure> {
        let digits = self.text_or_digits_of("a quantity, as a text or a number,")?;
        Ok(digits.parse()?)
    }

    /// A quantity that may be followed by its unit: `"1303.5 mg"`.
    pub(crate) fn quantity_in(self, unit: Unit) -> Result<Reading, Failure> {
        if self.is_text() {
            Ok(Reading::read_in(unit, &self.text()?, DecimalMark::Point)?)
        } else {
            self.quantity()
        }
    }

    /// A mass in grams, or with its unit.
    pub(crate) fn mass(self) -> Result<Reading, Failure> {
        self.quantity_in(Unit::Gram)
    }

    /// An exact number, as a quantity or as a fraction (`"8/3"`).
    pub(crate) fn number(self) -> Result<Ratio, Failure> {
        if self.is_text() {
            Ok(self.text()?.parse()?)
        } else {
            Ok(self.quantity()?.value())
        }
    }

    /// `true` or `false`.
    pub(crate) fn boolean(self) -> Result<bool, Failure> {
        match self.raw() {
            "true" => Ok(true),
            "false" => Ok(false),
            _ => Err(self.expected("true or false")),
        }
    }

    /// A whole number between two limits.
    pub(crate) fn count(self, least: u32, most: u32) -> Result<u32, Failure> {
        let digits = self.raw();
        if !self.is_number() || digits.contains(['.', 'e', 'E']) {
            return Err(self.expected("a whole number").help(format!(
                "write a whole number between {least} and {most}, without quotes"
            )));
        }
        digits
            .parse()
            .ok()
            .filter(|count| (least..=most).contains(count))
            .ok_or_else(|| {
                let message = format!("`{}` is not between {least} and {most}", shorten(digits));
                let help = format!("write a whole number between {least} and {most}");
                Failure::new("out_of_range", message).help(help)
            })
    }

    /// A seed: a whole number of 64 bits, as a number, or as a text if a caller's numbers are shorter.
    pub(crate) fn seed(self) -> Result<u64, Failure> {
        let digits = self.text_or_digits_of("a seed, as a number or a text,")?;
        let whole = digits.strip_prefix('-').unwrap_or(&digits);
        if whole.is_empty() || !whole.bytes().all(|b| b.is_ascii_digit()) {
            let message = format!("`{}` is not a whole number", shorten(&digits));
            return Err(Failure::new("bad_number", message)
                .help("write a whole number in plain digits, such as 3"));
        }
        digits.parse().map_err(|_| {
            let message = format!("`{}` is not between 0 and {}", shorten(&digits), u64::MAX);
            Failure::new("out_of_range", message).help("write a number of at most 64 bits")
        })
    }

    /// A value of the library, from its code.
    pub(crate) fn code<T: FromStr<Err: Into<Failure>>>(self) -> Result<T, Failure> {
        self.text()?.parse().map_err(Into::into)
    }

    /// The meaning of a word, which must be one of those given.
    pub(crate) fn choice<T: Copy>(self, choices: &[(&str, T)]) -> Result<T, Failure> {
        let word = self.text()?;
        match choices.iter().find(|(name, _)| *name == word) {
            Some((_, meaning)) => Ok(*meaning),
            None => {
                let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
                Err(Failure::new(
                    "out_of_range",
                    format!("`{}` is not a choice here", shorten(&word)),
                )
                .help(suggest::help(&word, &names, "write one of")))
            }
        }
    }

    /// A list of at most `most` items, which are read one by one.
    pub(crate) fn list<T>(
        self,
        most: usize,
        mut read: impl FnMut(Json<'a>) -> Result<T, Failure>,
    ) -> Result<Vec<T>, Failure> {
        if self.first() != b'[' {
            return Err(self.expected("a list"));
        }
        let raw = self.raw();
        // A hostile list may have millions of items, so they are counted before they are kept.
        let count = serde_json::from_str(raw).map(|items: Vec<IgnoredAny>| items.len());
        let count = count.map_err(|error| unreadable(&error))?;
        refuse_more(most, count, "items")?;
        let items: Vec<&'a RawValue> =
            serde_json::from_str(raw).map_err(|error| unreadable(&error))?;
        let items = items.into_iter().enumerate().map(|(index, item)| {
            read(Json(item)).map_err(|failure| failure.within(&format!("[{index}]")))
        });
        items.collect()
    }

    /// An object.
    pub(crate) fn object(self) -> Result<Object<'a>, Failure> {
        if self.first() == b'{' {
            serde_json::from_str(self.raw()).map_err(|error| unreadable(&error))
        } else {
            Err(self.expected("an object"))
        }
    }

    /// Refuses a key given twice in any object, and nesting beyond the limit.
    ///
    /// The text is known to be JSON, so that a string before a colon is always a key. The loop
    /// has no recursion, so that deep nesting cannot overflow the stack.
    pub(crate) fn check_keys_and_depth(self, deepest: usize) -> Result<(), Failure> {
        let text = self.raw();
        let bytes = text.as_bytes();
        let mut keys: Vec<Cow<'_, str>> = Vec::new();
        // The index of the first key for each open object, nothing for each open list.
        let mut open: Vec<Option<usize>> = Vec::new();
        let mut offset = 0;
        while let Some(byte) = bytes.get(offset) {
            match byte {
                b'{' => open.push(Some(keys.len())),
                b'[' => open.push(None),
                b'}' | b']' => {
                    if let Some(first) = open.pop().flatten() {
                        refuse_repeated_key(&mut keys[first..])?;
                        keys.truncate(first);
                    }
                }
                b'"' => {
                    let end = string_end(bytes, offset);
                    let next = bytes[end..].iter().find(|byte| !byte.is_ascii_whitespace());
                    if next == Some(&b':') {
                        keys.push(unquote(&text[offset..end])?);
                    }
                    offset = end;
                    continue;
                }
                _ => {}
            }
            if open.len() > deepest {
                return Err(Failure::new(
                    "too_deep",
                    format!("objects and lists are nested more than {deepest} deep"),
                )
                .help("no request needs more than a few levels"));
            }
            offset += 1;
        }
        Ok(())
    }
}

impl<'a> Object<'a> {
    /// The `id` of the request, which may be `null`; nothing if it is given twice.
    pub(crate) fn id(&self) -> Option<Json<'a>> {
        let mut ids = self.0.iter().filter(|(key, _)| key == "id");
        match (ids.next(), ids.next()) {
            (Some((_, id)), None) => Some(*id),
            _ => None,
        }
    }

    /// Whether a field is given and is not `null`.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    /// The digits of a field that is a number, or of the numbers in its list.
    pub(crate) fn numbers(&self, name: &str) -> Vec<&'a str> {
        let values = self.get(name).map(|value| match value.first() {
            b'[' => serde_json::from_str(value.raw()).unwrap_or_default(),
            _ => vec![value.0],
        });
        let values = values.into_iter().flatten().map(Json);
        let numbers = values.filter(|value| value.is_number());
        numbers.map(Json::raw).collect()
    }

    fn get(&self, name: &str) -> Option<Json<'a>> {
        self.0
            .iter()
            .find(|(key, value)| key == name && !value.is_null())
            .map(|(_, value)| *value)
    }

    /// A field that may be left out or `null`.
    pub(crate) fn optional<T>(
        &self,
        name: &str,
        read: impl FnOnce(Json<'a>) -> Result<T, Failure>,
    ) -> Result<Option<T>, Failure> {
        self.get(name)
            .map(read)
            .transpose()
            .map_err(|failure| failure.within(name))
    }

    /// A field that must be given.
    pub(crate) fn required<T>(
        &self,
        name: &str,
        read: impl FnOnce(Json<'a>) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        self.optional(name, read)?.ok_or_else(|| {
            let message = format!("`{name}` is missing");
            Failure::missing(name, message).help(suggest::adding(name))
        })
    }

    /// Changes a value by a field, if the field is given.
    pub(crate) fn set<T>(
        &self,
        name: &str,
        value: T,
        set: impl FnOnce(T, Json<'a>) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        match self.get(name) {
            Some(field) => set(value, field).map_err(|failure| failure.within(name)),
            None => Ok(value),
        }
    }

    /// Changes a value by each member of the object. At most `most` of them may have a value.
    pub(crate) fn fold<T>(
        &self,
        most: usize,
        value: T,
        mut set: impl FnMut(T, &str, Json<'a>) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        let given = self.0.iter().filter(|(_, value)| !value.is_null());
        refuse_more(most, given.count(), "members")?;
        self.members().try_fold(value, |value, (key, field)| {
            set(value, key, field).map_err(|failure| failure.within(&cut(key)))
        })
    }

    /// Takes these fields from another object if this one leaves them out.
    pub(crate) fn inherit(&mut self, other: &Object<'a>, names: &[&str]) {
        let new = other.0.iter().filter(|(key, _)| names.contains(&&**key));
        let new: Vec<_> = new.filter(|(key, _)| !self.has(key)).cloned().collect();
        self.0.extend(new);
    }

    /// All members, in the order in which they were sent.
    pub(crate) fn members(&self) -> impl Iterator<Item = (&str, Json<'a>)> {
        self.0.iter().map(|(key, value)| (&**key, *value))
    }

    /// Refuses all other fields, because a misspelt one must not be ignored.
    pub(crate) fn only(&self, known: &[&[&str]]) -> Result<(), Failure> {
        let names = known.concat();
        match self.0.iter().find(|(key, _)| !names.contains(&&**key)) {
            Some((key, _)) => Err(unknown_field(key, &names)),
            None => Ok(()),
        }
    }

    /// The one field of several that is given.
    pub(crate) fn one_of<'n>(
        &self,
        names: &[&'n str],
        missing: Failure,
        help: &str,
    ) -> Result<&'n str, Failure> {
        let forms: Vec<&[&str]> = names.iter().map(std::slice::from_ref).collect();
        self.form(&forms, missing, help)
    }

    /// The one form of several that is used, by the first of its fields that is given.
    pub(crate) fn form<'n>(
        &self,
        forms: &[&[&'n str]],
        missing: Failure,
        help: &str,
    ) -> Result<&'n str, Failure> {
        let used = |form: &&[&'n str]| form.iter().copied().find(|name| self.has(name));
        let mut used = forms.iter().filter_map(used);
        match (used.next(), used.next()) {
            (None, _) => Err(missing.help(help)),
            (Some(form), None) => Ok(form),
            (Some(form), Some(other)) => Err(Failure::new(
                "bad_request",
                format!("`{form}` and `{other}` cannot be given together"),
            )
            .within(other)
            .help(help)),
        }
    }
}

/// Refuses what is too large before anything is done with it.
pub(crate) fn refuse_more(most: usize, count: usize, what: &str) -> Result<(), Failure> {
    if count <= most {
        return Ok(());
    }
    let message = format!("{count} {what} are given, and at most {most} are read");
    Err(Failure::new("too_large", message).help(format!("send fewer {what}")))
}

/// The failure for a field that is not among the names.
pub(crate) fn unknown_field(key: &str, names: &[&str]) -> Failure {
    let message = format!("there is no field `{}` here", shorten(key));
    Failure::new("unknown_field", message)
        .within(&cut(key))
        .help(suggest::help(key, names, "the fields are"))
}

impl<'de: 'a, 'a> Deserialize<'de> for Object<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        // Bytes, because a key with half of a surrogate pair must not hide the `id` behind it.
        #[derive(Deserialize)]
        struct Key<'a>(#[serde(borrow)] Cow<'a, [u8]>);
        struct MembersVisitor;
        impl<'de> Visitor<'de> for MembersVisitor {
            type Value = Object<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Object<'de>, A::Error> {
                let mut members = Vec::new();
                while let Some((key, value)) = map.next_entry::<Key<'de>, &'de RawValue>()? {
                    let key = match key.0 {
                        Cow::Borrowed(key) => String::from_utf8_lossy(key),
                        Cow::Owned(key) => String::from_utf8_lossy(&key).into_owned().into(),
                    };
                    members.push((key, Json(value)));
                }
                Ok(Object(members))
            }
        }
        deserializer.deserialize_map(MembersVisitor)
    }
}

fn unreadable(error: &serde_json::Error) -> Failure {
    // The reader counts lines and columns from where it began, which may be inside the line.
    let reason = error.to_string();
    let reason = reason
        .rsplit_once(" at line ")
        .map_or(&*reason, |(start, _)| start);
    Failure::new("bad_json", format!("the line is not JSON: {reason}"))
        .help("write one JSON object on one line")
}

/// The text of a JSON string. The line is known to be JSON, so that only half of a surrogate pair can be
/// wrong with it.
fn unquote(quoted: &str) -> Result<Cow<'_, str>, Failure> {
    #[derive(Deserialize)]
    struct Text<'a>(#[serde(borrow)] Cow<'a, str>);
    serde_json::from_str::<Text<'_>>(quoted)
        .map(|text| text.0)
        .map_err(|_| {
            Failure::new("bad_json", "a text has half of a surrogate pair")
                .help("write both halves, or the character itself in UTF-8")
        })
}

/// The offset after the closing quote of the string that opens at `start`.
fn string_end(bytes: &[u8], start: usize) -> usize {
    let mut offset = start + 1;
    while let Some(byte) = bytes.get(offset) {
        match byte {
            b'\\' => offset += 2,
            b'"' => return offset + 1,
            _ => offset += 1,
        }
    }
    bytes.len()
}

fn refuse_repeated_key(keys: &mut [Cow<'_, str>]) -> Result<(), Failure> {
    keys.sort_unstable();
    match keys.windows(2).find(|pair| pair[0] == pair[1]) {
        None => Ok(()),
        Some(pair) => Err(Failure::new(
            "bad_json",
            format!("the key `{}` is given twice", shorten(&pair[0])),
        )
        .help("give each key of an object once")),
    }
}
