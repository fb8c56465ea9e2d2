//! Things that every room needs when it speaks to a person: where in a text something stands
//! ([`Span`]), a remark that can be worded in any language ([`Note`]), and the characters that
//! spreadsheets and word processors put in place of the plain ones.

mod caret;

pub(crate) use caret::Caret;

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;

/// A range of bytes in the text that was read: `start` inclusive, `end` exclusive.
///
/// ```
/// let error = "CuXx".parse::<effloresce::Formula>().unwrap_err();
/// let span = error.span().unwrap();
/// assert_eq!(&"CuXx"[span.start..span.end], "Xx");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The bytes from `start` up to, not including, `end`.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Self {
        Span { start, end }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Span {
    /// As the pair `[start, end]`.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        [self.start, self.end].serialize(serializer)
    }
}

/// A warning, a reason or a remark: a stable `code`, the values it speaks of, and English text.
///
/// The code and the values are what a program should use; the text may be reworded in any release.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Note {
    code: &'static str,
    values: Vec<(&'static str, String)>,
    text: Cow<'static, str>,
}

impl Note {
    pub(crate) fn new(code: &'static str, text: impl Into<Cow<'static, str>>) -> Self {
        Note {
            code,
            values: Vec::new(),
            text: text.into(),
        }
    }

    pub(crate) fn with(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.values.push((name, value.into()));
        self
    }

    /// The stable name of what is said, in `snake_case`.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.code
    }

    /// The values that the text speaks of, by name.
    pub fn values(&self) -> impl Iterator<Item = (&'static str, &str)> {
        self.values
            .iter()
            .map(|(name, value)| (*name, value.as_str()))
    }

    /// One or two English sentences.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl core::fmt::Display for Note {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.text)
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Note {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::{SerializeMap, SerializeStruct};
        struct Values<'a>(&'a [(&'static str, String)]);
        impl serde::Serialize for Values<'_> {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut map = serializer.serialize_map(Some(self.0.len()))?;
                for (name, value) in self.0 {
                    map.serialize_entry(name, value)?;
                }
                map.end()
            }
        }
        let mut note = serializer.serialize_struct("Note", 3)?;
        note.serialize_field("code", self.code)?;
        note.serialize_field("values", &Values(&self.values))?;
        note.serialize_field("text", self.text())?;
        note.end()
    }
}

/// What an error of any room carries beside its kind.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Detail {
    pub(crate) message: Cow<'static, str>,
    pub(crate) span: Option<Span>,
    pub(crate) help: Option<Cow<'static, str>>,
}

impl Detail {
    pub(crate) fn new(message: impl Into<Cow<'static, str>>) -> Self {
        Detail {
            message: message.into(),
            span: None,
            help: None,
        }
    }

    pub(crate) fn at(mut self, span: Span) -> Self {
        self.span = Some(span);
        self
    }

    pub(crate) fn help(mut self, help: impl Into<Cow<'static, str>>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// Gives a room its one error type: opaque, one pointer wide, with `kind`, `code`, `span`, `help`.
macro_rules! room_error {
    ($(#[$doc:meta])* $name:ident, $kind:ident { $($(#[$variant_doc:meta])* $variant:ident => $code:literal,)+ }) => {
        /// What went wrong, without the particulars.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum $kind {
            $($(#[$variant_doc])* $variant,)+
        }

        impl $kind {
            /// The stable name of the kind, as the JSON-lines contract spells it.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $($kind::$variant => $code,)+ }
            }
        }

        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
        #[error("{}", self.0.1.message)]
        pub struct $name(alloc::boxed::Box<($kind, $crate::text::Detail)>);

        #[allow(dead_code, reason = "not every room needs every one of these")]
        impl $name {
            #[cold]
            pub(crate) fn new(kind: $kind, detail: $crate::text::Detail) -> Self {
                $name(alloc::boxed::Box::new((kind, detail)))
            }

            /// The same error in a longer text, in which what was read begins at `by`.
            pub(crate) fn shifted(mut self, by: usize) -> Self {
                let span = &mut self.0.1.span;
                *span = span.map(|s| $crate::Span::new(s.start + by, s.end + by));
                self
            }

            /// What went wrong, for a program to match on.
            #[must_use]
            pub fn kind(&self) -> $kind {
                self.0.0
            }

            /// The stable code of the kind (see the JSON-lines contract).
            #[must_use]
            pub fn code(&self) -> &'static str {
                self.0.0.code()
            }

            /// Where in the text that was read, in bytes, if there was a text.
            #[must_use]
            pub fn span(&self) -> Option<$crate::Span> {
                self.0.1.span
            }

            /// What to do about it.
            #[must_use]
            pub fn help(&self) -> Option<&str> {
                self.0.1.help.as_deref()
            }

            /// The error for people to read: the line of the text that was read, carets under the
            /// place, the sentence, and the help. `text` is the text that was given to the reader.
            pub fn caret<'a>(&'a self, text: &'a str) -> impl core::fmt::Display + 'a {
                $crate::text::Caret {
                    text,
                    span: self.span(),
                    message: &self.0.1.message,
                    help: self.help(),
                }
            }
        }
    };
}
pub(crate) use room_error;

/// A decimal digit in plain or full-width form.
pub(crate) fn digit(c: char) -> Option<u8> {
    match c {
        '0'..='9' => Some(c as u8 - b'0'),
        '\u{FF10}'..='\u{FF19}' => u8::try_from(c as u32 - 0xFF10).ok(),
        _ => None,
    }
}

/// Any of the characters that are typed, pasted or autocorrected for a minus sign.
pub(crate) fn is_minus(c: char) -> bool {
    matches!(
        c,
        '-' | '\u{2010}'
            | '\u{2011}'
            | '\u{2012}'
            | '\u{2013}'
            | '\u{2212}'
            | '\u{FE63}'
            | '\u{FF0D}'
    )
}

/// White space, the kinds without width included.
pub(crate) fn is_space(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200B}' | '\u{2060}' | '\u{FEFF}')
}

/// `one, two and three`
#[cfg(feature = "class")]
pub(crate) fn list<I: IntoIterator<Item = S>, S: AsRef<str>>(items: I) -> String {
    let items: Vec<S> = items.into_iter().collect();
    let mut out = String::new();
    for (index, item) in items.iter().enumerate() {
        if index > 0 {
            out.push_str(if index + 1 == items.len() {
                " and "
            } else {
                ", "
            });
        }
        out.push_str(item.as_ref());
    }
    out
}
