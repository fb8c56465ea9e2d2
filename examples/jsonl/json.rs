//! JSON as it was sent: members in order, numbers by their own digits, no key given twice.

use std::borrow::Cow;
use std::fmt;

use effloresce::number::{DecimalMark, Unit};
use effloresce::{Ratio, Reading};
use serde::Deserialize;
use serde::de::{Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;

use crate::reply::{Failure, shown};

/// How deep objects and lists may be nested. Common readers of JSON refuse to go deeper, and so
/// could not read a reply that echoes such an `id`.
pub(crate) const DEEPEST: usize = 127;

/// One JSON value, not yet looked into.
#[derive(Clone, Copy)]
pub(crate) struct Json<'a>(&'a RawValue);

/// An object whose keys are known to be distinct.
pub(crate) struct Object<'a>(Vec<(Cow<'a, str>, Json<'a>)>);

impl<'a> Json<'a> {
    /// Reads a line: any JSON value.
    pub(crate) fn read(line: &'a str) -> Result<Self, Failure> {
        serde_json::from_str(line)
            .map(Json)
            .map_err(|error| unreadable(&error))
    }

    pub(crate) fn raw(self) -> &'a RawValue {
        self.0
    }

    pub(crate) fn is_null(self) -> bool {
        self.0.get() == "null"
    }

    fn kind(self) -> &'static str {
        match self.0.get().as_bytes().first() {
            Some(b'"') => "a text",
            Some(b'{') => "an object",
            Some(b'[') => "a list",
            Some(b't' | b'f') => "true or false",
            Some(b'n') => "null",
            _ => "a number",
        }
    }

    #[cold]
    fn expected(self, what: &str) -> Failure {
        Failure::new(
            "bad_request",
            format!("{what} was expected here, not {}", self.kind()),
        )
    }

    /// A text.
    pub(crate) fn text(self) -> Result<Cow<'a, str>, Failure> {
        if self.kind() == "a text" {
            unquote(self.0.get())
        } else {
            Err(self.expected("a text"))
        }
    }

    /// What a person wrote: a text, or a number by the digits it was sent with.
    pub(crate) fn written(self) -> Result<Cow<'a, str>, Failure> {
        match self.kind() {
            "a text" => self.text(),
            "a number" => Ok(Cow::Borrowed(self.0.get())),
            _ => Err(self.expected("a text or a number")),
        }
    }

    /// A quantity: a text, or a number that is taken by the digits it was sent with.
    pub(crate) fn quantity(self) -> Result<Reading, Failure> {
        match self.kind() {
            "a text" => Ok(self.text()?.parse()?),
            "a number" => Ok(self.0.get().parse()?),
            _ => Err(self.expected("a quantity, as a text or a number,")),
        }
    }

    /// A quantity that may have its unit behind it: `"1303.5 mg"`.
    pub(crate) fn quantity_in(self, unit: Unit) -> Result<Reading, Failure> {
        match self.kind() {
            "a text" => Ok(Reading::read_in(unit, &self.text()?, DecimalMark::Point)?),
            _ => self.quantity(),
        }
    }

    /// A mass in grams, or with its unit.
    pub(crate) fn mass(self) -> Result<Reading, Failure> {
        self.quantity_in(Unit::Gram)
    }

    /// An exact number of something: as a quantity, or as a fraction (`"8/3"`).
    pub(crate) fn number(self) -> Result<Ratio, Failure> {
        match self.kind() {
            "a text" => Ok(self.text()?.parse()?),
            _ => Ok(self.quantity()?.value()),
        }
    }

    /// `true` or `false`.
    pub(crate) fn flag(self) -> Result<bool, Failure> {
        match self.0.get() {
            "true" => Ok(true),
            "false" => Ok(false),
            _ => Err(self.expected("true or false")),
        }
    }

    /// A whole number of things between two limits.
    pub(crate) fn count(self, least: u32, most: u32) -> Result<u32, Failure> {
        let digits = self.0.get();
        if self.kind() != "a number" || digits.contains(['.', 'e', 'E']) {
            return Err(self.expected("a whole number").help(format!(
                "write a whole number between {least} and {most}, without quotes"
            )));
        }
        digits
            .parse()
            .ok()
            .filter(|count| (least..=most).contains(count))
            .ok_or_else(|| {
                Failure::new(
                    "out_of_range",
                    format!("`{}` is not between {least} and {most}", shown(digits)),
                )
            })
    }

    /// A seed: a whole number of 64 bits, as a number or, where a caller's numbers are shorter, a
    /// text.
    pub(crate) fn seed(self) -> Result<u64, Failure> {
        let digits = match self.kind() {
            "a text" => self.text()?,
            "a number" => Cow::Borrowed(self.0.get()),
            _ => return Err(self.expected("a seed, as a number or a text,")),
        };
        let whole = digits.strip_prefix('-').unwrap_or(&digits);
        if whole.is_empty() || !whole.bytes().all(|b| b.is_ascii_digit()) {
            let message = format!("`{}` is no whole number", shown(&digits));
            return Err(Failure::new("bad_number", message)
                .help("write a whole number in plain digits, such as 3"));
        }
        digits.parse().map_err(|_| {
            let message = format!("`{}` is not between 0 and {}", shown(&digits), u64::MAX);
            Failure::new("out_of_range", message).help("write a number of at most 64 bits")
        })
    }

    /// One of the words given, as what it stands for.
    pub(crate) fn choice<T: Copy>(self, choices: &[(&str, T)]) -> Result<T, Failure> {
        let word = self.text()?;
        match choices.iter().find(|(name, _)| *name == word) {
            Some((_, meaning)) => Ok(*meaning),
            None => {
                let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
                Err(Failure::new(
                    "out_of_range",
                    format!("`{}` is not a choice here", shown(&word)),
                )
                .help(match likely(&word, &names) {
                    Some(name) => format!("did you mean `{name}`?"),
                    None => format!("write one of {}", quoted(&names)),
                }))
            }
        }
    }

    /// A list of at most so many places, each of which is read alike.
    pub(crate) fn list<T>(
        self,
        most: usize,
        read: impl Fn(Json<'a>) -> Result<T, Failure>,
    ) -> Result<Vec<T>, Failure> {
        if self.kind() != "a list" {
            return Err(self.expected("a list"));
        }
        let items: Items<'a> =
            serde_json::from_str(self.0.get()).map_err(|error| unreadable(&error))?;
        let most = most.min(MOST_PLACES);
        if items.count > most {
            return Err(Failure::new(
                "too_large",
                format!(
                    "a list of {} was sent; at most {most} are read here",
                    items.count
                ),
            ));
        }
        items
            .first
            .into_iter()
            .enumerate()
            .map(|(place, item)| {
                read(item).map_err(|failure| failure.within(&format!("[{place}]")))
            })
            .collect()
    }

    /// An object.
    pub(crate) fn object(self) -> Result<Object<'a>, Failure> {
        if self.kind() == "an object" {
            serde_json::from_str(self.0.get()).map_err(|error| unreadable(&error))
        } else {
            Err(self.expected("an object"))
        }
    }

    /// Refuses a key given twice in any object, and nesting beyond the limit.
    ///
    /// The text is known to be JSON, so that a string followed by a colon is a key and nothing
    /// else. There is no recursion: depth costs memory in proportion, and is limited anyway.
    pub(crate) fn inspect(self, deepest: usize) -> Result<(), Failure> {
        let text = self.0.get();
        let bytes = text.as_bytes();
        let mut keys: Vec<Cow<'_, str>> = Vec::new();
        // For each open object where its keys begin, for each open list nothing.
        let mut open: Vec<Option<usize>> = Vec::new();
        let mut at = 0;
        while let Some(byte) = bytes.get(at) {
            match byte {
                b'{' => open.push(Some(keys.len())),
                b'[' => open.push(None),
                b'}' | b']' => {
                    if let Some(first) = open.pop().flatten() {
                        distinct(&mut keys[first..])?;
                        keys.truncate(first);
                    }
                }
                b'"' => {
                    let end = string_end(bytes, at);
                    let next = bytes[end..].iter().find(|byte| !byte.is_ascii_whitespace());
                    if next == Some(&b':') {
                        keys.push(unquote(&text[at..end])?);
                    }
                    at = end;
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
            at += 1;
        }
        Ok(())
    }
}

impl<'a> Object<'a> {
    /// The request's own mark, which a program may set to `null`; nothing where it stands twice.
    pub(crate) fn id(&self) -> Option<Json<'a>> {
        let mut ids = self.0.iter().filter(|(key, _)| key == "id");
        match (ids.next(), ids.next()) {
            (Some((_, id)), None) => Some(*id),
            _ => None,
        }
    }

    /// Whether a field is given, as anything but `null`.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    fn get(&self, name: &str) -> Option<Json<'a>> {
        self.0
            .iter()
            .find(|(key, value)| key == name && !value.is_null())
            .map(|(_, value)| *value)
    }

    /// A field that may be left out, which `null` does too.
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

    /// A field that the request cannot do without.
    pub(crate) fn required<T>(
        &self,
        name: &str,
        read: impl FnOnce(Json<'a>) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        self.optional(name, read)?
            .ok_or_else(|| Failure::missing(name, format!("`{name}` is missing")))
    }

    /// Takes these fields from another object where this one leaves them out.
    pub(crate) fn inherit(&mut self, other: &Object<'a>, names: &[&str]) {
        let new = other.0.iter().filter(|(key, _)| names.contains(&&**key));
        let new: Vec<_> = new.filter(|(key, _)| !self.has(key)).cloned().collect();
        self.0.extend(new);
    }

    /// All members, in the order in which they were sent.
    pub(crate) fn members(&self) -> impl Iterator<Item = (&str, Json<'a>)> {
        self.0.iter().map(|(key, value)| (&**key, *value))
    }

    /// Refuses any field but these; a misspelt option must not be ignored silently.
    pub(crate) fn only(&self, known: &[&[&str]]) -> Result<(), Failure> {
        let stranger = self
            .0
            .iter()
            .find(|(key, _)| !known.iter().any(|names| names.contains(&&**key)));
        let Some((key, _)) = stranger else {
            return Ok(());
        };
        let names = known.concat();
        Err(Failure::new(
            "unknown_field",
            format!("there is no field `{}` here", shown(key)),
        )
        .within(&shown(key))
        .help(match likely(key, &names) {
            Some(name) => format!("did you mean `{name}`?"),
            None => format!("the fields are {}", quoted(&names)),
        }))
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Object<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        struct Key<'a>(#[serde(borrow)] Cow<'a, str>);
        struct Members;
        impl<'de> Visitor<'de> for Members {
            type Value = Object<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Object<'de>, A::Error> {
                let mut members = Vec::new();
                while let Some((key, value)) = map.next_entry::<Key<'de>, &'de RawValue>()? {
                    members.push((key.0, Json(value)));
                }
                Ok(Object(members))
            }
        }
        deserializer.deserialize_map(Members)
    }
}

/// The places of a list; of a hostile one only the first, and how many there are.
struct Items<'a> {
    first: Vec<Json<'a>>,
    count: usize,
}

/// More places than any list of a request has.
const MOST_PLACES: usize = 100_000;

impl<'de: 'a, 'a> Deserialize<'de> for Items<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Places;
        impl<'de> Visitor<'de> for Places {
            type Value = Items<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Items<'de>, A::Error> {
                let mut items = Items {
                    first: Vec::new(),
                    count: 0,
                };
                while let Some(item) = seq.next_element::<&'de RawValue>()? {
                    items.count += 1;
                    if items.count <= MOST_PLACES {
                        items.first.push(Json(item));
                    }
                }
                Ok(items)
            }
        }
        deserializer.deserialize_seq(Places)
    }
}

#[cold]
fn unreadable(error: &serde_json::Error) -> Failure {
    // It is always line 1, and of a part of the line the column would mislead.
    let reason = error.to_string();
    let reason = reason
        .rsplit_once(" at line ")
        .map_or(&*reason, |(start, _)| start);
    Failure::new("bad_json", format!("the line is not JSON: {reason}"))
        .help("write one JSON object on one line")
}

/// The text of a JSON string, which may still hold half of a surrogate pair.
fn unquote(quoted: &str) -> Result<Cow<'_, str>, Failure> {
    #[derive(Deserialize)]
    struct Text<'a>(#[serde(borrow)] Cow<'a, str>);
    serde_json::from_str::<Text<'_>>(quoted)
        .map(|text| text.0)
        .map_err(|error| unreadable(&error))
}

/// One past the closing quote of the string that opens at `start`.
fn string_end(bytes: &[u8], start: usize) -> usize {
    let mut at = start + 1;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'\\' => at += 2,
            b'"' => return at + 1,
            _ => at += 1,
        }
    }
    bytes.len()
}

fn distinct(keys: &mut [Cow<'_, str>]) -> Result<(), Failure> {
    keys.sort_unstable();
    match keys.windows(2).find(|pair| pair[0] == pair[1]) {
        None => Ok(()),
        Some(pair) => Err(Failure::new(
            "bad_json",
            format!("the key `{}` is given twice", shown(&pair[0])),
        )
        .help("give each key of an object once")),
    }
}

/// The name that was probably meant.
pub(crate) fn likely<'n>(word: &str, names: &[&'n str]) -> Option<&'n str> {
    const LONGEST: usize = 40;
    let plain = |text: &str| -> Vec<char> {
        text.chars()
            .map(|c| match c {
                '-' | ' ' => '_',
                _ => c.to_ascii_lowercase(),
            })
            .collect()
    };
    if word.len() > LONGEST {
        return None;
    }
    let word = plain(word);
    names
        .iter()
        .map(|name| (distance(&word, &plain(name)), *name))
        .filter(|(distance, name)| distance * 3 <= name.len().max(3))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Characters to add, drop, replace or exchange with their neighbour to make one word the other.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut least = (above[j] + usize::from(x != y))
                .min(above[j + 1] + 1)
                .min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut above, row);
    }
    above.last().copied().unwrap_or_default()
}

/// `` `a`, `b`, `c` ``
pub(crate) fn quoted(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}
