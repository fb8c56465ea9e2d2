//! Types and values of QTI 3.0.

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Base {
    Boolean,
    Float,
    Identifier,
    Integer,
    Text,
}

/// A base type, and whether it is a container.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Type {
    pub(crate) base: Base,
    pub(crate) many: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    Null,
    Boolean(bool),
    Float(f64),
    Identifier(String),
    Integer(i64),
    Text(String),
    Many(Vec<Value>),
}

/// How a program reads a number that is too large for it, and the words for infinity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Overflow {
    Null,
    Infinite,
}

impl Base {
    pub(crate) fn read(name: &str) -> Result<Base, String> {
        Ok(match name {
            "boolean" => Base::Boolean,
            "float" => Base::Float,
            "identifier" => Base::Identifier,
            "integer" => Base::Integer,
            "string" => Base::Text,
            _ => return Err(format!("the base type `{name}` is not read here")),
        })
    }

    pub(crate) fn single(self) -> Type {
        Type {
            base: self,
            many: false,
        }
    }

    pub(crate) fn is_number(self) -> bool {
        matches!(self, Base::Float | Base::Integer)
    }

    /// A value that an item states. One that cannot be read is an error.
    pub(crate) fn constant(self, text: &str) -> Result<Value, String> {
        let value = match self {
            Base::Boolean => match text {
                "true" => Value::Boolean(true),
                "false" => Value::Boolean(false),
                _ => Value::Null,
            },
            Base::Identifier if !is_identifier(text) => Value::Null,
            Base::Float | Base::Integer if text != text.trim() => Value::Null,
            _ => self.entered(text, Overflow::Null),
        };
        match value {
            Value::Null => Err(format!("`{text}` is not of the type {self:?}")),
            value => Ok(value),
        }
    }

    /// A value that a pupil enters. A text that is not of the type is NULL, and so is an empty one.
    pub(crate) fn entered(self, text: &str, overflow: Overflow) -> Value {
        match self {
            Base::Text if text.is_empty() => Value::Null,
            Base::Text => Value::Text(text.into()),
            Base::Float => float(text, overflow).map_or(Value::Null, Value::Float),
            Base::Integer => text.trim().parse().map_or(Value::Null, Value::Integer),
            Base::Identifier if is_identifier(text) => Value::Identifier(text.into()),
            Base::Identifier | Base::Boolean => Value::Null,
        }
    }
}

/// A number as `xs:double` writes it.
fn float(text: &str, overflow: Overflow) -> Option<f64> {
    let text = text.trim_matches([' ', '\t', '\r', '\n']);
    let unsigned = text.trim_start_matches(['+', '-']);
    if overflow == Overflow::Infinite && matches!(unsigned, "INF" | "NaN") {
        return text.replace("INF", "inf").parse().ok();
    }
    // Rust also reads words such as `inf`.
    let begins = unsigned.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let value: f64 = text.parse().ok().filter(|_| begins)?;
    (value.is_finite() || overflow == Overflow::Infinite).then_some(value)
}

/// The value of a number as people write it.
pub(crate) fn number(text: &str) -> Option<f64> {
    text.replace(',', ".").replace('−', "-").parse().ok()
}

/// A name without a colon, as XML has it. Only ASCII is allowed here, so that each program reads it.
pub(crate) fn is_identifier(text: &str) -> bool {
    let mut bytes = text.bytes();
    let begins = bytes
        .next()
        .is_some_and(|b| b.is_ascii_alphabetic() || b == b'_');
    begins && bytes.all(|b| b.is_ascii_alphanumeric() || b"_-.".contains(&b))
}

impl Value {
    pub(crate) fn number(&self) -> Option<f64> {
        match self {
            Value::Float(value) => Some(*value),
            Value::Integer(value) => Some(*value as f64),
            _ => None,
        }
    }

    pub(crate) fn truth(&self) -> Option<bool> {
        match self {
            Value::Boolean(value) => Some(*value),
            _ => None,
        }
    }

    pub(crate) fn text(&self) -> Option<&str> {
        match self {
            Value::Text(text) | Value::Identifier(text) => Some(text),
            _ => None,
        }
    }

    /// The values of a container, or the one value; none for NULL.
    pub(crate) fn members(&self) -> &[Value] {
        match self {
            Value::Null => &[],
            Value::Many(values) => values,
            single => std::slice::from_ref(single),
        }
    }
}

#[test]
fn a_number_is_read_as_its_type_has_it() {
    let read = |text| Base::Float.entered(text, Overflow::Null);
    for (text, value) in [
        ("5", 5.0),
        (" -.5 ", -0.5),
        ("+1e3", 1000.0),
        ("51.17", 51.17),
        ("5.", 5.0),
    ] {
        assert_eq!(read(text), Value::Float(value));
    }
    for text in [
        "", " ", "51,17", "5 1", "abc", "-", "1e999", "INF", "NaN", "inf", "infinity", "0x1", "5g",
        "٣",
    ] {
        assert_eq!(read(text), Value::Null, "{text}");
    }
    assert_eq!(
        Base::Float.entered("1e999", Overflow::Infinite),
        Value::Float(f64::INFINITY)
    );
    assert_eq!(
        Base::Float.entered("-INF", Overflow::Infinite),
        Value::Float(f64::NEG_INFINITY)
    );
    assert_eq!(Base::Float.entered("inf", Overflow::Infinite), Value::Null);
    assert!(Base::Float.constant("51,17").is_err());
    assert!(Base::Float.constant(" 51.17").is_err());
    assert!(Base::Identifier.constant("1A").is_err());
    assert_eq!(Base::Text.entered("", Overflow::Null), Value::Null);
}
