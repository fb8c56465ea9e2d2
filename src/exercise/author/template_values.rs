//! The quantities of a template, read from TOML.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use super::author_text::words;
use super::own_quantity::{OwnQuantity, OwnValues, UNITS};
use super::template_text::is_code;
use crate::class::{Error, TomlMembers, TomlValue};
use crate::formula::Formula;
use crate::number::{Ratio, Reading};
use crate::text::{list, shorten};

const MOST_QUANTITIES: usize = 30;
const MOST_CHOICES: usize = 200;
/// The largest number, the most decimal places and the most steps of a range.
const MOST: i64 = 1_000_000_000;
const MOST_PLACES: i32 = 8;

const KEYS: [&str; 11] = [
    "from",
    "to",
    "step",
    "balance",
    "numbers",
    "formulas",
    "words",
    "pool",
    "least_waters",
    "unit",
    "symbol",
];
/// The keys that say what a quantity is drawn from.
const SOURCES: [&str; 5] = ["from", "numbers", "formulas", "words", "pool"];

/// The value of a key, if it is there.
pub(super) fn get<'m, 'a>(members: &'m TomlMembers<'a>, name: &str) -> Option<&'m TomlValue<'a>> {
    let mut named = members.iter().filter(|(key, _)| *key == name);
    named.next().map(|(_, value)| value)
}

/// Returns one of the units.
pub(super) fn unit(members: &TomlMembers<'_>) -> Result<&'static str, Error> {
    let Some(value) = get(members, "unit") else {
        return Ok("");
    };
    let word = value.choice(&UNITS)?;
    Ok(UNITS
        .into_iter()
        .find(|unit| *unit == word)
        .unwrap_or_default())
}

/// Returns a name of an author's own.
pub(super) fn code<'a>(value: &TomlValue<'a>) -> Result<&'a str, Error> {
    let text = value.text()?;
    if is_code(text) {
        return Ok(text);
    }
    let message = format!("`{}` cannot be a name", shorten(text));
    Err(value.refusal(
        message,
        "write small letters, digits and underscores, a letter first, at most 40",
    ))
}

pub(super) fn quantities(value: &TomlValue<'_>) -> Result<Vec<OwnQuantity>, Error> {
    let members = value.table(
        &[],
        "write `[quantities.mass]`, and below it `from`, `to` and `step`",
    )?;
    if members.len() > MOST_QUANTITIES {
        let message = format!("there are more than {MOST_QUANTITIES} quantities");
        return Err(value.refusal(message, "leave out those that the problem does not need"));
    }
    members
        .iter()
        .map(|(name, value)| quantity(name, value))
        .collect()
}

fn quantity(name: &str, value: &TomlValue<'_>) -> Result<OwnQuantity, Error> {
    if !is_code(name) {
        return Err(value.refusal(
            format!("`{}` cannot be the name of a quantity", shorten(name)),
            "write small letters, digits and underscores, a letter first, at most 40",
        ));
    }
    let members = value.table(
        &KEYS,
        "give the quantity a table, such as `{ from = 1.00, to = 3.00, step = 0.01 }`",
    )?;
    let source = source(value, &members)?;
    let values = match (source, get(&members, source)) {
        ("numbers", Some(list)) => OwnValues::Numbers(choices(list, number)?),
        ("formulas", Some(list)) => OwnValues::Formulas(choices(list, formula)?),
        ("words", Some(list)) => OwnValues::Words(choices(list, words)?),
        ("pool", Some(pool)) => {
            pool.choice(&["hydrate"])?;
            let least = get(&members, "least_waters").map(number).transpose()?;
            OwnValues::Hydrate {
                least_waters: least.map_or(Ratio::ZERO, |least| least.value()),
            }
        }
        _ => range(value, &members)?,
    };
    let symbol = match get(&members, "symbol") {
        Some(symbol) => words(symbol)?,
        None => name.replace('_', " "),
    };
    Ok(OwnQuantity {
        name: name.into(),
        unit: unit(&members)?,
        symbol,
        values,
    })
}

/// The key that says what a quantity is drawn from.
fn source(value: &TomlValue<'_>, members: &TomlMembers<'_>) -> Result<&'static str, Error> {
    let given: Vec<&'static str> = SOURCES
        .into_iter()
        .filter(|key| get(members, key).is_some())
        .collect();
    let [source] = given[..] else {
        let sources = list(SOURCES.map(|key| format!("`{key}`"))).replace(" and ", " or ");
        let message = match given.is_empty() {
            true => "nothing says what the quantity is drawn from".to_string(),
            false => format!(
                "the quantity has {}",
                list(given.iter().map(|key| format!("`{key}`")))
            ),
        };
        return Err(value.refusal(message, format!("give one of {sources}")));
    };
    let others = [
        ("to", "from"),
        ("step", "from"),
        ("balance", "from"),
        ("least_waters", "pool"),
    ];
    for (key, of) in others {
        if let Some(surplus) = get(members, key).filter(|_| source != of) {
            return Err(
                surplus.refusal(format!("`{key}` does not go with `{source}`"), "remove it")
            );
        }
    }
    Ok(source)
}

fn choices<T>(
    list: &TomlValue<'_>,
    read: impl Fn(&TomlValue<'_>) -> Result<T, Error>,
) -> Result<Vec<T>, Error> {
    let values = list.list("write the choices in square brackets, with commas between them")?;
    if values.is_empty() || values.len() > MOST_CHOICES {
        let message = format!("the list has {} choices", values.len());
        return Err(list.refusal(message, format!("give from 1 to {MOST_CHOICES}")));
    }
    values.iter().map(read).collect()
}

fn formula(value: &TomlValue<'_>) -> Result<Formula, Error> {
    let text = value.text()?;
    text.parse::<Formula>().map_err(|error| {
        let help = error.help().unwrap_or("correct the formula").to_string();
        value.refusal(error.to_string(), help)
    })
}

/// A number that a problem may give.
fn number(value: &TomlValue<'_>) -> Result<Reading, Error> {
    let reading = value.reading()?;
    let small = reading.value().abs() <= Ratio::from(MOST);
    if small && (0..=MOST_PLACES).contains(&reading.decimal_places()) {
        return Ok(reading);
    }
    let message = format!(
        "{} is not a number for a problem",
        shorten(&reading.to_string())
    );
    let help = format!("write a number up to {MOST} with at most {MOST_PLACES} decimal places");
    Err(value.refusal(message, help))
}

fn range(value: &TomlValue<'_>, members: &TomlMembers<'_>) -> Result<OwnValues, Error> {
    const HELP: &str =
        "give `from`, `to` and `step`, such as `{ from = 1.00, to = 3.00, step = 0.01 }`";
    let get_number = |name: &str| number(crate::class::required(value, members, name, HELP)?);
    let (from, to, step) = (get_number("from")?, get_number("to")?, get_number("step")?);
    if !step.value().is_positive() {
        return Err(value.refusal(
            format!("the step {step} is not positive"),
            "give a positive step",
        ));
    }
    if to.value() < from.value() {
        let message = format!("the range ends at {to}, before it begins at {from}");
        return Err(value.refusal(message, "exchange `from` and `to`"));
    }
    let steps = (to.value() - from.value()).checked_div(&step.value());
    if steps.is_none_or(|steps| steps > Ratio::from(MOST)) {
        return Err(value.refusal(
            format!("the range has more than {MOST} steps"),
            "give a larger step",
        ));
    }
    let balance = get(members, "balance").map_or(Ok(false), TomlValue::flag)?;
    Ok(OwnValues::Range {
        from,
        to,
        step,
        balance,
    })
}
