//! What the error types of all modules share.

use alloc::borrow::Cow;

use super::span::Span;

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
