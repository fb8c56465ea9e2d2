//! What is given in serialised data: objects whose fields have names, and settings.

use alloc::format;
use alloc::vec::Vec;
use core::fmt::{self, Display, Formatter};
use core::str::FromStr;

use ::serde::de::{DeserializeSeed, Error, MapAccess, Visitor};
use ::serde::{Deserialize, Deserializer, Serialize};
use num_traits::Bounded;

use super::error::Detail;
use super::line::shorten;
use super::serde::{Helpful, Text};
use super::suggestion::advice;

/// A setting, whose final zeros mean nothing. It is read from text, or from a number by the shortest
/// digits that it has.
#[derive(Clone, Copy, Serialize)]
#[serde(transparent)]
pub(crate) struct Setting<T>(pub(crate) T);

impl<'de, T: FromStr<Err: Helpful>> Deserialize<'de> for Setting<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read_setting(deserializer, "a number, such as 0.05", str::parse).map(Setting)
    }
}

/// Reads a setting from its digits.
pub(crate) fn read_setting<'de, D: Deserializer<'de>, T, E: Helpful>(
    deserializer: D,
    expected: &'static str,
    read: impl FnOnce(&str) -> Result<T, E>,
) -> Result<T, D::Error> {
    deserializer.deserialize_any(SettingVisitor(Text { expected, read }))
}

/// The text of a setting or the digits of its number.
struct SettingVisitor<F>(Text<F>);

impl<T, E: Helpful, F: FnOnce(&str) -> Result<T, E>> Visitor<'_> for SettingVisitor<F> {
    type Value = T;

    fn expecting(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.0.expecting(f)
    }

    fn visit_str<A: Error>(self, text: &str) -> Result<T, A> {
        self.0.visit_str(text)
    }

    fn visit_i64<A: Error>(self, number: i64) -> Result<T, A> {
        self.0.visit_str(&format!("{number}"))
    }

    fn visit_u64<A: Error>(self, number: u64) -> Result<T, A> {
        self.0.visit_str(&format!("{number}"))
    }

    fn visit_f64<A: Error>(self, number: f64) -> Result<T, A> {
        self.0.visit_str(&format!("{number}"))
    }
}

/// A whole number up to the largest one of its type.
#[derive(Clone, Copy, Serialize)]
#[serde(transparent)]
pub(crate) struct BoundedCount<T>(pub(crate) T);

impl<T: FromStr + Bounded + Display> FromStr for BoundedCount<T> {
    type Err = Detail;

    fn from_str(digits: &str) -> Result<Self, Detail> {
        digits.parse().map(BoundedCount).map_err(|_| {
            let (digits, most) = (shorten(digits), T::max_value());
            let message = format!("`{digits}` is not a whole number from 0 to {most}");
            Detail::new(message).help("write a whole number, such as 2")
        })
    }
}

/// Reads the name of the next field of an object, which is one of the names.
pub(crate) fn next_field<'de, A: MapAccess<'de>>(
    members: &mut A,
    names: &[&'static str],
    given: &mut Vec<&'static str>,
) -> Result<Option<&'static str>, A::Error> {
    let Some(name) = members.next_key_seed(FieldName(names))? else {
        return Ok(None);
    };
    if given.contains(&name) {
        return Err(Error::custom(format_args!("`{name}` is given twice")));
    }
    given.push(name);
    Ok(Some(name))
}

/// The names of the fields of an object.
struct FieldName<'n>(&'n [&'static str]);

impl<'de> DeserializeSeed<'de> for FieldName<'_> {
    type Value = &'static str;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<&'static str, D::Error> {
        let read = |name: &str| {
            let known = self.0.iter().find(|known| **known == name);
            known.copied().ok_or_else(|| {
                let detail = Detail::new(format!("unknown field `{}`", shorten(name)));
                detail.help(advice(name, self.0, "the fields are"))
            })
        };
        let expected = "the name of a field";
        deserializer.deserialize_identifier(Text { expected, read })
    }
}

/// Returns the value of a field that must be given.
#[cfg(feature = "class")]
pub(crate) fn required<T>(value: Option<T>, name: &str, help: &'static str) -> Result<T, Detail> {
    value.ok_or_else(|| Detail::new(format!("`{name}` is missing")).help(help))
}

/// Returns the value of the one field that is given. `what` is what an object without a field lacks.
pub(crate) fn the_only<T, const N: usize>(
    fields: [(&str, Option<T>); N],
    what: &str,
    help: &'static str,
) -> Result<T, Detail> {
    let given = fields.into_iter();
    let mut given = given.filter_map(|(name, value)| Some((name, value?)));
    match (given.next(), given.next()) {
        (Some((_, value)), None) => Ok(value),
        (None, _) => Err(Detail::new(format!("the object does not say the {what}")).help(help)),
        (Some((one, _)), Some((other, _))) => {
            let message = format!("`{one}` and `{other}` cannot be given together");
            Err(Detail::new(message).help(help))
        }
    }
}

/// Defines a struct that is read from an object. A field that is missing or null keeps its default.
macro_rules! given {
    (
        $(#[$attribute:meta])*
        $visibility:vis struct $type:ident { $($name:literal => $field:ident: $value:ty,)+ }
    ) => {
        $(#[$attribute])*
        $visibility struct $type { $($visibility $field: $value,)+ }

        impl<'de> ::serde::Deserialize<'de> for $type {
            fn deserialize<D: ::serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                const NAMES: &[&str] = &[$($name),+];
                struct Visitor;

                impl<'de> ::serde::de::Visitor<'de> for Visitor {
                    type Value = $type;

                    fn expecting(&self, f: &mut ::core::fmt::Formatter<'_>) -> ::core::fmt::Result {
                        f.write_str("an object")
                    }

                    fn visit_map<A: ::serde::de::MapAccess<'de>>(
                        self,
                        mut members: A,
                    ) -> Result<$type, A::Error> {
                        let mut object = $type::default();
                        let mut given = ::alloc::vec::Vec::new();
                        while let Some(name) =
                            $crate::text::next_field(&mut members, NAMES, &mut given)?
                        {
                            $(if name == $name {
                                if let Some(value) = members.next_value::<Option<$value>>()? {
                                    object.$field = value;
                                }
                            })+
                        }
                        Ok(object)
                    }
                }

                deserializer.deserialize_struct(stringify!($type), NAMES, Visitor)
            }
        }
    };
}
pub(crate) use given;
