//! What the error types of all modules share.

use alloc::borrow::Cow;
use core::fmt::{self, Formatter};

use super::caret::Caret;
use super::span::Span;
use super::visible::into_visible;

/// What the error of any module carries besides its kind.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Detail {
    pub(crate) message: Cow<'static, str>,
    pub(crate) span: Option<Span>,
    pub(crate) help: Option<Cow<'static, str>>,
}

impl Detail {
    pub(crate) fn new(message: impl Into<Cow<'static, str>>) -> Self {
        Detail {
            message: into_visible(message.into()),
            span: None,
            help: None,
        }
    }

    pub(crate) fn at(mut self, span: Span) -> Self {
        self.span = Some(span);
        self
    }

    pub(crate) fn help(mut self, help: impl Into<Cow<'static, str>>) -> Self {
        self.help = Some(into_visible(help.into()));
        self
    }

    /// Writes the error as a program shows it that ends with it: the message, the help, and the code. The
    /// span is for programs, which count bytes as people do not.
    pub(crate) fn debug(&self, code: &str, f: &mut Formatter<'_>) -> fmt::Result {
        let said = Caret {
            text: "",
            span: None,
            message: &self.message,
            help: self.help.as_deref(),
        };
        write!(f, "{said}\ncode: {code}")
    }
}

#[cfg(feature = "serde")]
impl super::serde::Helpful for Detail {
    fn what_is_wrong(&self) -> &dyn core::fmt::Display {
        &self.message
    }

    fn to_correct_it(&self) -> Option<&str> {
        self.help.as_deref()
    }
}

/// Defines the enum of what can go wrong in a module, with its stable codes.
macro_rules! error_kind {
    ($kind:ident { $($(#[$variant_doc:meta])* $variant:ident => $code:literal,)+ }) => {
        /// The kinds of error, without the particulars.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum $kind {
            $($(#[$variant_doc])* $variant,)+
        }

        impl $kind {
            /// Returns the stable name of the kind, as the JSON-lines contract spells it.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $($kind::$variant => $code,)+ }
            }
        }
    };
}
pub(crate) use error_kind;

/// Defines the error type of a module: opaque, one pointer wide, with `kind`, `code`, `span`, `help`.
macro_rules! room_error {
    ($(#[$doc:meta])* $name:ident, $kind:ident { $($variants:tt)+ }) => {
        $crate::text::error_kind! { $kind { $($variants)+ } }

        $(#[$doc])*
        ///
        /// An error that comes through serde keeps its message and help only: see
        /// [serialised data](crate#serialised-data).
        #[derive(Clone, PartialEq, Eq, Hash, thiserror::Error)]
        #[error("{}", self.0.1.message)]
        pub struct $name(alloc::boxed::Box<($kind, $crate::text::Detail)>);

        #[cfg(feature = "serde")]
        impl $crate::text::Helpful for $name {
            fn what_is_wrong(&self) -> &dyn core::fmt::Display {
                self
            }

            fn to_correct_it(&self) -> Option<&str> {
                self.help()
            }
        }

        impl core::fmt::Debug for $name {
            /// Writes the message, the help and the code for people to read.
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                self.0.1.debug(self.code(), f)
            }
        }

        #[allow(dead_code, reason = "not every module needs every one of these")]
        impl $name {
            // Keeps errors out of the loop of the formula parser.
            #[cold]
            pub(crate) fn new(kind: $kind, detail: $crate::text::Detail) -> Self {
                $name(alloc::boxed::Box::new((kind, detail)))
            }

            /// Returns the same error for a longer text, in which the text that was read begins at `by`.
            pub(crate) fn shifted(mut self, by: usize) -> Self {
                let span = &mut self.0.1.span;
                *span = span.map(|s| $crate::Span::new(s.start + by, s.end + by));
                self
            }

            /// Returns what went wrong, for a program to match on.
            #[must_use]
            pub fn kind(&self) -> $kind {
                self.0.0
            }

            /// Returns the stable code of the kind (see the JSON-lines contract).
            #[must_use]
            pub fn code(&self) -> &'static str {
                self.0.0.code()
            }

            /// Returns where in the text the error is, in bytes, if a text was read.
            #[must_use]
            pub fn span(&self) -> Option<$crate::Span> {
                self.0.1.span
            }

            /// Returns how to correct it.
            #[must_use]
            pub fn help(&self) -> Option<&str> {
                self.0.1.help.as_deref()
            }

            /// Returns the error for people to read: the line of the text, carets under the wrong part,
            /// the message, and the help. `text` is the text that was read.
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
