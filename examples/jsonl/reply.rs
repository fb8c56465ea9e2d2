//! The reply to a request: a result or a failure, and how long it may be.

use std::borrow::Cow;
use std::io::{self, Write};

use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::Formatter;
use serde_json::value::RawValue;

use effloresce::{Note, Span, visible};

use crate::json_text::visible_json;

/// The reply to a request that failed.
#[derive(Debug, Serialize)]
pub(crate) struct Failure {
    code: &'static str,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    field: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    span: Option<Span>,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<String>,
    #[serde(flatten)]
    unbalanced: Option<Box<Unbalanced>>,
}

/// More about an equation that has no balance or several.
#[derive(Debug, Serialize)]
struct Unbalanced {
    /// The reasons.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    reasons: Vec<Note>,
    /// Independent balances, if it has several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    basis: Vec<Vec<Box<RawValue>>>,
}

impl Failure {
    pub(crate) fn new(code: &'static str, message: impl Into<String>) -> Self {
        Failure {
            code,
            message: message.into(),
            field: None,
            span: None,
            help: None,
            unbalanced: None,
        }
    }

    pub(crate) fn missing(field: &str, message: impl Into<String>) -> Self {
        Failure::new("missing_field", message).within(field)
    }

    pub(crate) fn at(mut self, span: Option<Span>) -> Self {
        self.span = span;
        self
    }

    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds reasons and a basis. If the reply would be longer than `longest`, message and help are
    /// cut to a line, and the last reasons and balances are left out.
    pub(crate) fn with_balances(
        mut self,
        reasons: &[Note],
        basis: Vec<Vec<Box<RawValue>>>,
        longest: usize,
    ) -> Self {
        let most = longest / 4;
        if self.message.len() > most {
            self.message = shorten(&self.message);
        }
        self.help = self.help.map(|help| match help.len() > most {
            true => shorten(&help),
            false => help,
        });
        let mut remaining = longest / 2;
        let mut fits = |length: usize| {
            let rest = remaining.checked_sub(length);
            remaining = rest.unwrap_or(0);
            rest.is_some()
        };
        let reasons = reasons.iter().take_while(|one| fits(length(one)));
        let reasons = reasons.cloned().collect();
        let basis = basis.into_iter().take_while(|one| fits(length(one)));
        let basis = basis.collect();
        self.unbalanced = Some(Box::new(Unbalanced { reasons, basis }));
        self
    }

    /// Puts a field, or an index of a list (`[2]`), in front of the path to the failure.
    pub(crate) fn within(mut self, outer: &str) -> Self {
        self.field = Some(match self.field.take() {
            None => outer.to_owned(),
            Some(inner) if inner.starts_with('[') => format!("{outer}{inner}"),
            Some(inner) => format!("{outer}.{inner}"),
        });
        self
    }

    /// The same, if the failure is about one field.
    pub(crate) fn within_any(self, outer: Option<&str>) -> Self {
        match outer {
            Some(outer) => self.within(outer),
            None => self,
        }
    }
}

/// The errors of all modules have the same four parts.
macro_rules! from_library {
    ($($error:ty),+ $(,)?) => {
        $(impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                let failure = Failure::new(error.code(), error.to_string()).at(error.span());
                match error.help() {
                    Some(help) => failure.help(help),
                    None => failure,
                }
            }
        })+
    };
}

from_library!(
    effloresce::number::Error,
    effloresce::element::Error,
    effloresce::formula::Error,
    effloresce::reaction::Error,
    effloresce::gravimetry::Error,
    effloresce::mistake::Error,
    effloresce::class::Error,
    effloresce::exercise::Error,
);

/// The most bytes by which a reply is longer than its request, or than the rows of its class.
pub(crate) const MOST_LONGER: usize = 40_000;

/// The most bytes by which the escapes in an `id` make it longer.
pub(crate) const MOST_ESCAPED: usize = MOST_LONGER / 4;

/// The most bytes of a reply for each row of a class.
const MOST_A_ROW: usize = 8_000;

/// The longest reply that is held in memory. A longer one is written while it is worked out.
const MOST_KEPT: usize = 1 << 20;

/// A function that writes a result as JSON.
type WriteResult = dyn Fn(&mut Bounded<'_>) -> serde_json::Result<()>;

/// A result that is not written yet.
pub(crate) struct Reply {
    /// The most bytes for its items, if it is about a list of them.
    most_for_items: Option<usize>,
    /// Whether it cannot be too long, so that it need not be counted before it is written.
    surely_short: bool,
    write: Box<WriteResult>,
}

/// The result about one formula, equation or bench.
pub(crate) fn result(value: impl Serialize + 'static) -> Reply {
    Reply {
        most_for_items: None,
        surely_short: false,
        write: Box::new(move |output| write_json(output, &value)),
    }
}

/// The result about the rows of a class.
pub(crate) fn of_class(rows: usize, value: impl Serialize + 'static) -> Reply {
    of_list(rows, MOST_A_ROW, value)
}

/// The result about a list of this many items, each of at most so many bytes.
pub(crate) fn of_list(items: usize, most_each: usize, value: impl Serialize + 'static) -> Reply {
    Reply {
        most_for_items: Some(items * most_each),
        ..result(value)
    }
}

/// Writes the reply to a request of this length. Nothing is written of a result that is too long.
pub(crate) fn send(
    output: &mut dyn Write,
    id: &str,
    request: usize,
    outcome: Result<Reply, Failure>,
) -> io::Result<()> {
    let failure = match outcome {
        Ok(reply) => match reply.send(output, id, request)? {
            None => return Ok(()),
            Some(failure) => failure,
        },
        Err(failure) => failure,
    };
    write!(output, "{{\"id\":{id},\"ok\":false,\"error\":")?;
    write_json(&mut *output, &failure)?;
    output.write_all(b"}\n")
}

/// Writes a value as JSON in which no character is hidden or ends a line.
fn write_json(output: impl Write, value: &impl Serialize) -> serde_json::Result<()> {
    value.serialize(&mut Serializer::with_formatter(output, VisibleJson))
}

/// Writes hidden characters of a text as escapes.
struct VisibleJson;

impl Formatter for VisibleJson {
    fn write_string_fragment<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        fragment: &str,
    ) -> io::Result<()> {
        writer.write_all(visible_json(fragment).as_bytes())
    }
}

impl Reply {
    /// Says whether the reply cannot be too long.
    pub(crate) fn surely_short(self, surely_short: bool) -> Self {
        Reply {
            surely_short,
            ..self
        }
    }

    /// Writes the reply, or returns why it cannot be written.
    fn send(
        &self,
        output: &mut dyn Write,
        id: &str,
        request: usize,
    ) -> io::Result<Option<Failure>> {
        let start = format!("{{\"id\":{id},\"ok\":true,\"result\":");
        let end = "}\n";
        let longest = match self.most_for_items {
            None => request + MOST_LONGER,
            Some(most) => id.len() + MOST_LONGER + most,
        };
        let mut text = Bounded {
            kept: Vec::new(),
            length: start.len() + end.len(),
            longest,
            output: None,
        };
        if !self.surely_short {
            if let Err(error) = (self.write)(&mut text) {
                return Ok(Some(match text.length > longest {
                    true => self.too_long(longest),
                    false => {
                        let message = format!("the result cannot be written as JSON: {error}");
                        Failure::new("out_of_range", message)
                    }
                }));
            }
        }
        output.write_all(start.as_bytes())?;
        if self.surely_short || text.length > MOST_KEPT {
            (self.write)(&mut Bounded {
                output: Some(&mut *output),
                ..text
            })?;
        } else {
            output.write_all(&text.kept)?;
        }
        output.write_all(end.as_bytes())?;
        Ok(None)
    }

    fn too_long(&self, longest: usize) -> Failure {
        let message = format!("the reply would be longer than {longest} bytes");
        Failure::new("too_large", message).help(match self.most_for_items {
            None => "ask for less in one request",
            Some(_) => "send shorter names, answers and columns",
        })
    }
}

/// Takes the text of a result up to a number of bytes, beyond which it fails.
///
/// A long text is only counted at first. It is made a second time, for the output.
pub(crate) struct Bounded<'o> {
    kept: Vec<u8>,
    length: usize,
    longest: usize,
    output: Option<&'o mut dyn Write>,
}

impl Write for Bounded<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if let Some(output) = &mut self.output {
            output.write_all(bytes)?;
            return Ok(bytes.len());
        }
        self.length += bytes.len();
        if self.length > self.longest {
            return Err(io::Error::other("the text is too long"));
        }
        if self.length <= MOST_KEPT {
            self.kept.extend_from_slice(bytes);
        } else {
            self.kept = Vec::new();
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The length of a value as JSON text, with a comma.
fn length(value: &impl Serialize) -> usize {
    serde_json::to_string(value).map_or(0, |text| text.len() + 1)
}

/// A text from the request, short and visible enough to be quoted in a message.
pub(crate) fn shorten(text: &str) -> String {
    visible(&cut(text)).into_owned()
}

/// A key from the request, short enough for the path of a field.
pub(crate) fn cut(key: &str) -> Cow<'_, str> {
    const MOST: usize = 60;
    match key.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &key[..end]).into(),
        None => key.into(),
    }
}
