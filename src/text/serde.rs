//! Serialised data: values as text, structs in the shape of the JSON-lines contract.

use alloc::collections::BTreeMap;
use core::fmt::{self, Display, Formatter};
use core::marker::PhantomData;

use ::serde::de::{Error, MapAccess, Visitor};
use ::serde::ser::SerializeStruct;
use ::serde::{Deserialize, Deserializer};

/// An error that may say how to correct it.
pub(crate) trait Helpful {
    fn what_is_wrong(&self) -> &dyn Display;

    fn to_correct_it(&self) -> Option<&str>;
}

/// Returns an error of serialised data. All that it keeps of another error is its message and its help.
pub(crate) fn refusal<E: Error>(error: &impl Helpful) -> E {
    let message = error.what_is_wrong();
    match error.to_correct_it() {
        Some(help) => E::custom(format_args!("{message} ({help})")),
        None => E::custom(message),
    }
}

/// Reads a value from text. Anything but text is an error, which says that `expected` was expected.
pub(crate) fn read_text<'de, D: Deserializer<'de>, T, E: Helpful>(
    deserializer: D,
    expected: &'static str,
    read: impl FnOnce(&str) -> Result<T, E>,
) -> Result<T, D::Error> {
    deserializer.deserialize_str(Text { expected, read })
}

/// Reads a value from text.
pub(super) struct Text<F> {
    pub(super) expected: &'static str,
    pub(super) read: F,
}

impl<T, E: Helpful, F: FnOnce(&str) -> Result<T, E>> Visitor<'_> for Text<F> {
    type Value = T;

    fn expecting(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(self.expected)
    }

    fn visit_str<A: Error>(self, text: &str) -> Result<T, A> {
        (self.read)(text).map_err(|error| refusal(&error))
    }
}

/// A map in which no key is given twice.
pub(crate) struct UniqueKeys<K, V>(pub(crate) BTreeMap<K, V>);

impl<K, V> Default for UniqueKeys<K, V> {
    fn default() -> Self {
        UniqueKeys(BTreeMap::new())
    }
}

impl<'de, K, V> Deserialize<'de> for UniqueKeys<K, V>
where
    K: Deserialize<'de> + Ord + Copy + Display,
    V: Deserialize<'de>,
{
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(UniqueKeysVisitor(PhantomData))
    }
}

struct UniqueKeysVisitor<K, V>(PhantomData<(K, V)>);

impl<'de, K, V> Visitor<'de> for UniqueKeysVisitor<K, V>
where
    K: Deserialize<'de> + Ord + Copy + Display,
    V: Deserialize<'de>,
{
    type Value = UniqueKeys<K, V>;

    fn expecting(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut members: A) -> Result<Self::Value, A::Error> {
        let mut map = BTreeMap::new();
        while let Some((key, value)) = members.next_entry()? {
            if map.insert(key, value).is_some() {
                return Err(Error::custom(format_args!("{key} is given twice")));
            }
        }
        Ok(UniqueKeys(map))
    }
}

/// A type that is serialized as a struct. Another one may have its fields among its own.
pub(crate) trait Fields {
    fn count(&self) -> usize;

    fn write<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error>;
}

impl<T: Fields> Fields for Option<T> {
    fn count(&self) -> usize {
        self.as_ref().map_or(0, T::count)
    }

    fn write<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
        self.as_ref().map_or(Ok(()), |fields| fields.write(out))
    }
}

/// Serializes a type as a struct of these fields, in this order. The fields of another type may stand at
/// the beginning or at the end.
macro_rules! fields {
    (
        $type:ident $(<$life:lifetime>)?, $it:ident,
        { $(..$first:expr,)? $($name:literal: $value:expr,)+ $(..$last:expr)? }
    ) => {
        impl $crate::text::Fields for $type$(<$life>)? {
            fn count(&self) -> usize {
                let $it = self;
                // A type without fields of another one needs no value to count its own.
                let _ = $it;
                [$($name),+].len()
                    $(+ $crate::text::Fields::count(&$first))?
                    $(+ $crate::text::Fields::count(&$last))?
            }

            fn write<S: ::serde::ser::SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
                let $it = self;
                $($crate::text::Fields::write(&$first, out)?;)?
                $(out.serialize_field($name, &$value)?;)+
                $($crate::text::Fields::write(&$last, out)?;)?
                Ok(())
            }
        }

        impl ::serde::Serialize for $type$(<$life>)? {
            fn serialize<S: ::serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                use ::serde::ser::SerializeStruct;
                let count = $crate::text::Fields::count(self);
                let mut out = serializer.serialize_struct(stringify!($type), count)?;
                $crate::text::Fields::write(self, &mut out)?;
                out.end()
            }
        }
    };
}
pub(crate) use fields;
