//! Plain enums whose values have stable codes.

use alloc::format;

use super::error::Detail;
use super::line::shorten;
use super::span::Span;
use super::suggestion::{advice, all_of};

/// The most codes that are all named, even if one of them is near.
const FEW: usize = 4;

/// Returns what is wrong with a text that is not one of the codes. `what` is what the codes are for.
pub(crate) fn no_code(text: &str, what: &str, codes: &[&str]) -> Detail {
    const ONE_OF: &str = "write one of";
    let help = if codes.len() <= FEW {
        all_of(codes, ONE_OF)
    } else {
        advice(text, codes, ONE_OF)
    };
    let message = format!("`{}` is not one of the codes for {what}", shorten(text));
    Detail::new(message).at(Span::new(0, text.len())).help(help)
}

/// Reads the values of an enum from their codes, and serializes them as codes. With a table of codes it
/// also writes `ALL`, `code` and `Display`.
macro_rules! codes {
    ($type:ident, $what:literal, $error:ident($kind:expr); $($value:ident => $code:literal,)+) => {
        impl $type {
            /// All values, in order.
            pub const ALL: [$type; [$($code),+].len()] = [$($type::$value),+];

            /// Returns the stable code of the value.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $($type::$value => $code,)+ }
            }
        }

        impl core::fmt::Display for $type {
            /// Writes the code.
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.pad(self.code())
            }
        }

        $crate::text::codes!($type, code, $what, $error($kind));
    };
    ($type:ident, $code:ident, $what:literal, $error:ident($kind:expr)) => {
        impl core::str::FromStr for $type {
            type Err = $error;

            #[doc = concat!("Reads one of the codes for ", $what, ".")]
            fn from_str(code: &str) -> Result<$type, $error> {
                let value = $type::ALL.iter().find(|value| value.$code() == code);
                value.copied().ok_or_else(|| {
                    let codes = $type::ALL.iter().map(|value| value.$code());
                    let codes: alloc::vec::Vec<&str> = codes.collect();
                    $error::new($kind, $crate::text::no_code(code, $what, &codes))
                })
            }
        }

        #[cfg(feature = "serde")]
        impl serde::Serialize for $type {
            /// Serializes the code.
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.$code())
            }
        }

        #[cfg(feature = "serde")]
        impl<'de> serde::Deserialize<'de> for $type {
            #[doc = concat!("Reads one of the codes for ", $what, ".")]
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $crate::text::read_text(deserializer, concat!("one of the codes for ", $what, ", as text"), str::parse)
            }
        }
    };
}
pub(crate) use codes;
