//! The text of a name with the remarks on it.

use alloc::string::String;
use alloc::vec::Vec;

use super::remark::NameRemark;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::ions::Usage;
use crate::text::{Span, shorten};

/// The text of a name with the remarks on it.
pub(super) struct NameReader<'t> {
    pub(super) text: &'t str,
    pub(super) remarks: Vec<NameRemark>,
    /// The charge of a metal with several common ions, if the name does not give it.
    pub(super) assumed_charge: Option<u8>,
}

/// The error of a name that cannot be read, with its place and its help.
pub(super) fn bad_name(span: Span, message: impl Into<String>, help: impl Into<String>) -> Error {
    Error::say(ErrorKind::BadName, span, message.into(), help.into())
}

impl<'t> NameReader<'t> {
    pub(super) fn written(&self, span: Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// What is written here, cut to a length that a message can quote.
    pub(super) fn quoted(&self, span: Span) -> String {
        shorten(self.written(span))
    }

    /// Notes a name that is not that of the recommendations.
    pub(super) fn note_usage(&mut self, usage: Usage, span: Span, meaning: &str) {
        if usage != Usage::Current {
            self.remarks.push(NameRemark::Synonym {
                usage,
                name: self.quoted(span),
                meaning: meaning.into(),
            });
        }
    }
}
