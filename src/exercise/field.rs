//! The fields of a request, in the shape of the JSON-lines contract.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::error::{Error, ErrorKind, wrong};
use crate::formula::Formula;
use crate::number::Reading;

/// The value of a field of a [`Request`](super::Request).
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Field {
    /// A text. Quantities are texts, too, as the prompt prints them.
    Text(String),
    /// Several values, in order.
    List(Vec<Field>),
    /// Named values, in order.
    Object(Vec<(String, Field)>),
}

impl Field {
    /// An object of these members.
    pub(super) fn object<K: Into<String>, V: Into<Field>>(
        members: impl IntoIterator<Item = (K, V)>,
    ) -> Field {
        let members = members.into_iter();
        Field::Object(
            members
                .map(|(name, value)| (name.into(), value.into()))
                .collect(),
        )
    }

    /// A list of these values.
    pub(super) fn list<V: Into<Field>>(values: impl IntoIterator<Item = V>) -> Field {
        Field::List(values.into_iter().map(Into::into).collect())
    }
}

impl From<&str> for Field {
    fn from(text: &str) -> Field {
        Field::Text(text.into())
    }
}

impl From<String> for Field {
    fn from(text: String) -> Field {
        Field::Text(text)
    }
}

impl From<&Formula> for Field {
    fn from(formula: &Formula) -> Field {
        Field::Text(formula.to_string())
    }
}

impl From<&Reading> for Field {
    fn from(reading: &Reading) -> Field {
        Field::Text(reading.to_string())
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Field {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Field::Text(text) => serializer.serialize_str(text),
            Field::List(values) => serializer.collect_seq(values),
            Field::Object(members) => {
                serializer.collect_map(members.iter().map(|(name, value)| (name, value)))
            }
        }
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Field {
    /// Reads texts, lists and objects. A number is refused, because it has lost its final zeros.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(FieldVisitor)
    }
}

#[cfg(feature = "serde")]
struct FieldVisitor;

#[cfg(feature = "serde")]
impl<'de> serde::de::Visitor<'de> for FieldVisitor {
    type Value = Field;

    fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("a text in quotation marks, a list or an object")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Field, E> {
        Ok(text.into())
    }

    fn visit_seq<A: serde::de::SeqAccess<'de>>(self, mut items: A) -> Result<Field, A::Error> {
        let mut values = Vec::new();
        while let Some(value) = items.next_element()? {
            values.push(value);
        }
        Ok(Field::List(values))
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, mut members: A) -> Result<Field, A::Error> {
        let mut values = Vec::new();
        while let Some((name, value)) = members.next_entry()? {
            values.push((name, value));
        }
        Ok(Field::Object(values))
    }
}

/// The members of a request or of an object in it, with their place for messages.
#[derive(Clone)]
pub(super) struct RequestMembers<'r> {
    members: &'r [(String, Field)],
    path: String,
}

impl<'r> RequestMembers<'r> {
    pub(super) fn new(members: &'r [(String, Field)]) -> RequestMembers<'r> {
        RequestMembers {
            members,
            path: String::new(),
        }
    }

    /// Refuses a member that is not one of these names.
    pub(super) fn only(&self, names: &[&str]) -> Result<(), Error> {
        let unknown = self
            .members
            .iter()
            .find(|(name, _)| !names.contains(&name.as_str()));
        match unknown {
            None => Ok(()),
            Some((name, _)) => {
                let help = format!("the fields are {}", crate::text::list(names));
                Err(self.wrong(name, "is not a field of this request", help))
            }
        }
    }

    /// The value of a member, if there is one.
    pub(super) fn get(&self, name: &str) -> Option<&'r Field> {
        let mut members = self.members.iter();
        members
            .find(|(member, _)| member == name)
            .map(|(_, value)| value)
    }

    /// All members, in order.
    pub(super) fn iter(&self) -> impl Iterator<Item = (&'r str, &'r Field)> + use<'r> {
        self.members
            .iter()
            .map(|(name, value)| (name.as_str(), value))
    }

    pub(super) fn required(&self, name: &str) -> Result<&'r Field, Error> {
        self.get(name)
            .ok_or_else(|| self.wrong(name, "is missing", "give it"))
    }

    pub(super) fn text(&self, name: &str) -> Result<&'r str, Error> {
        match self.required(name)? {
            Field::Text(text) => Ok(text),
            _ => Err(self.wrong(name, "is not a text", "write it in quotation marks")),
        }
    }

    pub(super) fn list(&self, name: &str) -> Result<&'r [Field], Error> {
        match self.required(name)? {
            Field::List(values) => Ok(values),
            _ => Err(self.wrong(name, "is not a list", "write it in square brackets")),
        }
    }

    pub(super) fn object(&self, name: &str) -> Result<RequestMembers<'r>, Error> {
        match self.required(name)? {
            Field::Object(members) => Ok(RequestMembers {
                members,
                path: format!("{}{name}.", self.path),
            }),
            _ => Err(self.wrong(
                name,
                "is not an object",
                "write its members in curly brackets",
            )),
        }
    }

    /// A list of objects, each with its place for messages.
    pub(super) fn objects(&self, name: &str) -> Result<Vec<RequestMembers<'r>>, Error> {
        let object = |(index, value): (usize, &'r Field)| match value {
            Field::Object(members) => Ok(RequestMembers {
                members,
                path: format!("{}{name}[{index}].", self.path),
            }),
            _ => {
                let help = "write the members of each object in curly brackets";
                Err(self.wrong(name, "is not a list of objects", help))
            }
        };
        self.list(name)?.iter().enumerate().map(object).collect()
    }

    pub(super) fn formula(&self, name: &str) -> Result<Formula, Error> {
        self.parsed(name, str::parse::<Formula>)
    }

    pub(super) fn reading(&self, name: &str) -> Result<Reading, Error> {
        self.parsed(name, str::parse::<Reading>)
    }

    /// A list of formulas.
    pub(super) fn formulas(&self, name: &str) -> Result<Vec<Formula>, Error> {
        let formula = |(index, value): (usize, &Field)| match value {
            Field::Text(text) => text.parse::<Formula>().map_err(Error::from),
            _ => Err(self.wrong(
                &format!("{name}[{index}]"),
                "is not a text",
                "write it in quotation marks",
            )),
        };
        self.list(name)?.iter().enumerate().map(formula).collect()
    }

    /// A list of quantities.
    pub(super) fn readings(&self, name: &str) -> Result<Vec<Reading>, Error> {
        let reading = |(index, value): (usize, &Field)| {
            let name = format!("{name}[{index}]");
            let Field::Text(text) = value else {
                return Err(self.wrong(&name, "is not a text", "write it in quotation marks"));
            };
            text.parse::<Reading>()
                .map_err(|error| self.unreadable(&name, &error.into()))
        };
        self.list(name)?.iter().enumerate().map(reading).collect()
    }

    /// A quantity that may be left out.
    pub(super) fn optional_reading(&self, name: &str) -> Result<Option<Reading>, Error> {
        match self.get(name) {
            Some(_) => self.reading(name).map(Some),
            None => Ok(None),
        }
    }

    /// A text that another module reads.
    pub(super) fn parsed<T, E: Into<Error>>(
        &self,
        name: &str,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Result<T, Error> {
        read(self.text(name)?).map_err(|error| self.unreadable(name, &error.into()))
    }

    /// An error about a member that another module cannot read.
    fn unreadable(&self, name: &str, error: &Error) -> Error {
        let help = error.help().unwrap_or("correct it").to_string();
        self.wrong(name, &format!("cannot be read: {error}"), help)
    }

    /// An error about a member.
    pub(super) fn wrong(&self, name: &str, what: &str, help: impl Into<String>) -> Error {
        let message = format!("`{}{name}` {what}", self.path);
        wrong(ErrorKind::BadRequest, message, help)
    }
}
