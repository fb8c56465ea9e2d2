//! What several operations are told in the same words: the table of weights, the readings of a
//! bench, the rules of the house.

use std::borrow::Cow;

use effloresce::element::{Edition, Values};
use effloresce::gravimetry::{self, ConstantMass, Method, Net, WeighingUsed, Weighings};
use effloresce::number::Unit;
use effloresce::{AtomicWeights, Element, Formula, Note, Reading};

use crate::json::{Json, Object};
use crate::reply::{Failure, shown};

/// The fields that every request may have.
pub(crate) const ENVELOPE: [&str; 4] = ["id", "op", "weights", "strict"];

/// The fields that give the readings of one bench.
pub(crate) const READINGS: [&str; 7] = [
    "crucible",
    "crucible_hydrate",
    "heated",
    "hydrate_mass",
    "residue_mass",
    "net",
    "percent_water",
];

/// The fields that say by what rules readings are judged.
pub(crate) const METHOD: [&str; 5] = [
    "readability",
    "constant_mass",
    "weighing_used",
    "repeatability",
    "coverage",
];

/// More digits than any table prints.
const MOST_DIGITS: u32 = 28;

/// More heatings than any bench has time for.
const MOST_HEATINGS: usize = 1_000;

/// The table of weights: the default one where nothing is said.
pub(crate) fn weights(request: &Object<'_>) -> Result<AtomicWeights, Failure> {
    let weights = request.optional("weights", |value| table(&value.object()?))?;
    Ok(weights.unwrap_or_default())
}

fn table(table: &Object<'_>) -> Result<AtomicWeights, Failure> {
    table.only(&[&["edition", "values", "decimals", "figures", "override"]])?;
    let edition = table.optional("edition", |value| {
        value.choice(&[("2021", Edition::Iupac2021), ("2024", Edition::Iupac2024)])
    })?;
    let values = table.optional("values", |value| {
        value.choice(&[
            ("abridged", Values::Abridged),
            ("conventional", Values::Conventional),
            ("full", Values::Full),
        ])
    })?;
    let decimals = table.optional("decimals", |value| value.count(0, MOST_DIGITS))?;
    let figures = table.optional("figures", |value| value.count(1, MOST_DIGITS))?;
    let mut weights =
        AtomicWeights::new(edition.unwrap_or_default()).values(values.unwrap_or_default());
    weights = match (decimals, figures) {
        (None, None) => weights,
        (Some(decimals), None) => weights.decimals(small(decimals)),
        (None, Some(figures)) => weights.figures(small(figures)),
        (Some(_), Some(_)) => {
            return Err(Failure::new(
                "bad_request",
                "a table is rounded to decimals or to figures, not to both",
            )
            .within("figures")
            .help("give `decimals` or `figures`"));
        }
    };
    let by_hand = table.optional("override", Json::object)?;
    for (symbol, value) in by_hand.iter().flat_map(Object::members) {
        let with = |weights: AtomicWeights| -> Result<AtomicWeights, Failure> {
            let element: Element = symbol.parse()?;
            Ok(weights.with(element, value.quantity()?)?)
        };
        weights =
            with(weights).map_err(|failure| failure.within(&shown(symbol)).within("override"))?;
    }
    Ok(weights)
}

fn small(count: u32) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}

pub(crate) fn strict(request: &Object<'_>) -> Result<bool, Failure> {
    Ok(request.optional("strict", Json::flag)?.unwrap_or(false))
}

/// The formula in a field, read as strictly as the request asks.
pub(crate) fn formula(request: &Object<'_>, field: &str) -> Result<(Formula, Vec<Note>), Failure> {
    formula_of(request, field, strict(request)?)
}

fn formula_of(
    object: &Object<'_>,
    field: &str,
    strict: bool,
) -> Result<(Formula, Vec<Note>), Failure> {
    object.required(field, |value| {
        let text: Cow<'_, str> = value.text()?;
        if strict {
            Ok((text.parse()?, Vec::new()))
        } else {
            Ok(Formula::read(&text)?)
        }
    })
}

/// The hydrate in a field, of a degree and a molar mass that are known.
pub(crate) fn hydrate(
    request: &Object<'_>,
    field: &str,
    method: &Method,
) -> Result<(Formula, Vec<Note>), Failure> {
    hydrate_of(request, field, method, strict(request)?)
}

/// The same in an object inside a request.
pub(crate) fn hydrate_of(
    object: &Object<'_>,
    field: &str,
    method: &Method,
    strict: bool,
) -> Result<(Formula, Vec<Note>), Failure> {
    let (hydrate, notes) = formula_of(object, field, strict)?;
    let known = hydrate.molar_mass(method.atomic_weights());
    known.map_err(|error| Failure::from(error).within(field))?;
    if !hydrate.is_hydrate() {
        return Err(
            Failure::new("bad_request", format!("{hydrate} is no hydrate"))
                .within(field)
                .help("give the hydrate that was issued, such as MgSO4·7H2O"),
        );
    }
    Ok((hydrate, notes))
}

/// The readings of one bench, in one of their three forms.
pub(crate) fn readings(request: &Object<'_>) -> Result<Weighings, Failure> {
    const FORMS: &str = "give `crucible`, `crucible_hydrate` and `heated`; or `hydrate_mass` and \
                         `residue_mass`; or `percent_water`";
    let series = ["crucible", "crucible_hydrate", "heated"];
    let net = ["hydrate_mass", "residue_mass", "net"];
    let percent = ["percent_water"];
    let given: Vec<&str> = [&series[..], &net, &percent]
        .iter()
        .filter_map(|form| form.iter().copied().find(|name| request.has(name)))
        .collect();
    match given[..] {
        [] => Err(Failure::missing("crucible", "there are no readings").help(FORMS)),
        [one, other, ..] => Err(Failure::new(
            "bad_request",
            format!("`{one}` and `{other}` belong to different forms of readings"),
        )
        .within(other)
        .help(FORMS)),
        [one] if series.contains(&one) => {
            let container = request.required("crucible", Json::mass)?;
            let with_hydrate = request.required("crucible_hydrate", Json::mass)?;
            let heated =
                request.required("heated", |value| value.list(MOST_HEATINGS, Json::mass))?;
            Ok(Weighings::new(container, with_hydrate, heated))
        }
        [one] if net.contains(&one) => {
            let hydrate = request.required("hydrate_mass", Json::mass)?;
            let residue = request.required("residue_mass", Json::mass)?;
            let net = request.optional("net", |value| {
                value.choice(&[("tared", Net::Tared), ("subtracted", Net::Subtracted)])
            })?;
            Ok(Weighings::net(hydrate, residue, net.unwrap_or_default()))
        }
        [_] => Ok(Weighings::percent_water(
            request.required("percent_water", |value| value.quantity_in(Unit::Percent))?,
        )),
    }
}

/// The rules of the house, with the table of weights among them.
pub(crate) fn method(request: &Object<'_>) -> Result<Method, Failure> {
    let mut method = Method::new().weights(weights(request)?);
    if let Some(rule) = request.optional("constant_mass", |value| criterion(&value.object()?))? {
        method = method.constant_mass(rule);
    }
    let rule = request.optional("weighing_used", |value| {
        value.choice(&[
            ("last", WeighingUsed::Last),
            ("lowest", WeighingUsed::Lowest),
            ("mean_of_last_two", WeighingUsed::MeanOfLastTwo),
        ])
    })?;
    if let Some(rule) = rule {
        method = method.weighing_used(rule);
    }
    for (field, set) in SETTINGS {
        let value = request.optional(field, |value| match field {
            "readability" => value.mass(),
            _ => value.quantity(),
        })?;
        if let Some(value) = value {
            method = set(method, value).map_err(|error| Failure::from(error).within(field))?;
        }
    }
    Ok(method)
}

/// One division of a balance, in grams.
pub(crate) fn division(value: Json<'_>) -> Result<Reading, Failure> {
    let division = value.mass()?;
    Method::new().readability(division)?;
    Ok(division)
}

type Set = fn(Method, Reading) -> Result<Method, gravimetry::Error>;

/// The rules that are one number each, which the library checks.
const SETTINGS: [(&str, Set); 3] = [
    ("readability", Method::readability),
    ("repeatability", |method, relative| {
        method.repeatability(relative.value().to_f64())
    }),
    ("coverage", |method, factor| {
        method.coverage(factor.value().to_f64())
    }),
];

fn criterion(rule: &Object<'_>) -> Result<ConstantMass, Failure> {
    const ONE: &str = "give one of `absolute` (grams), `relative` (a fraction) and `per_gram`";
    type Rule = fn(Reading) -> ConstantMass;
    let rules: [(&str, Rule); 3] = [
        ("absolute", ConstantMass::Absolute),
        ("relative", ConstantMass::Relative),
        ("per_gram", ConstantMass::PerGram),
    ];
    rule.only(&[&rules.map(|(name, _)| name)])?;
    let mut given = rules.iter().filter(|(name, _)| rule.has(name));
    let Some((name, make)) = given.next() else {
        return Err(Failure::missing("absolute", "the criterion is missing").help(ONE));
    };
    if let Some((other, _)) = given.next() {
        return Err(Failure::new(
            "bad_request",
            format!("`{name}` and `{other}` are two criteria"),
        )
        .within(other)
        .help(ONE));
    }
    rule.required(name, |value| {
        let limit = match *name {
            "absolute" => value.mass()?,
            _ => value.quantity()?,
        };
        if limit.value().is_negative() {
            return Err(Failure::new(
                "out_of_range",
                format!("{limit} is no criterion for constant mass"),
            )
            .help("give a number that is not negative"));
        }
        Ok(make(limit))
    })
}

/// Which field an error of the gravimetric work is about, where it is one: that of the formula,
/// or the one that gives the weighings the work cannot do without.
pub(crate) fn blame(error: gravimetry::Error, formula: &str, weighings: &str) -> Failure {
    use gravimetry::ErrorKind::{MissingWeighing, NoStandardWeight, NotASalt, UnknownDegree};
    let field = match error.kind() {
        NotASalt | NoStandardWeight | UnknownDegree => Some(formula),
        MissingWeighing => Some(weighings),
        _ => None,
    };
    let failure = Failure::from(error);
    match field {
        Some(field) => failure.within(field),
        None => failure,
    }
}
