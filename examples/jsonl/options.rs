//! Fields that several operations share: the table of weights, the readings of a bench, the method.

use effloresce::class::Row;
use effloresce::formula;
use effloresce::gravimetry::{self, ConstantMass, Method, Net, Weighings};
use effloresce::number::Unit;
use effloresce::reaction::Equation;
use effloresce::{AtomicWeights, Element, Formula, Note, Ratio, Reading};

use crate::json::{Json, Object};
use crate::numbers::Numbers;
use crate::reply::{Failure, shorten};

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

/// The fields of the method by which readings are judged.
pub(crate) const METHOD: [&str; 6] = [
    "readability",
    "constant_mass",
    "weighing_used",
    "residue",
    "repeatability",
    "coverage",
];

/// The largest number of digits: more than any table prints.
const MOST_DIGITS: u32 = 28;

/// The largest number of heatings: more than any bench has time for.
const MOST_HEATINGS: usize = 1_000;

/// The table of weights, or the default one.
pub(crate) fn weights(request: &Object<'_>) -> Result<AtomicWeights, Failure> {
    let weights = request.optional("weights", |value| table(&value.object()?))?;
    Ok(weights.unwrap_or_default())
}

fn table(table: &Object<'_>) -> Result<AtomicWeights, Failure> {
    table.only(&[&["edition", "values", "decimals", "figures", "override"]])?;
    if table.has("decimals") && table.has("figures") {
        let message = "a table cannot be rounded both to decimals and to figures";
        return Err(Failure::new("bad_request", message)
            .within("figures")
            .help("give `decimals` or `figures`"));
    }
    let mut weights = table.set("edition", AtomicWeights::default(), |_, value| {
        Ok(AtomicWeights::new(value.code()?))
    })?;
    weights = table.set("values", weights, |weights, value| {
        Ok(weights.values(value.code()?))
    })?;
    weights = table.set("decimals", weights, |weights, value| {
        Ok(weights.decimals(small(value.count(0, MOST_DIGITS)?)))
    })?;
    weights = table.set("figures", weights, |weights, value| {
        Ok(weights.figures(small(value.count(1, MOST_DIGITS)?)))
    })?;
    table.set("override", weights, |weights, value| {
        value
            .object()?
            .fold(Element::ALL.len(), weights, |weights, symbol, value| {
                Ok(weights.with(symbol.parse()?, value.quantity()?)?)
            })
    })
}

fn small(count: u32) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}

pub(crate) fn strict(request: &Object<'_>) -> Result<bool, Failure> {
    Ok(request.optional("strict", Json::boolean)?.unwrap_or(false))
}

/// The formula in a field, read as strictly as the request asks.
pub(crate) fn formula(request: &Object<'_>, field: &str) -> Result<(Formula, Vec<Note>), Failure> {
    formula_of(request, field, strict(request)?)
}

/// The formula in a field, whose molar mass must be known.
pub(crate) fn substance(
    request: &Object<'_>,
    field: &str,
    weights: &AtomicWeights,
) -> Result<(Formula, Vec<Note>), Failure> {
    substance_of(request, field, weights, strict(request)?)
}

/// The formula in a field of an object inside a request, whose molar mass must be known.
pub(crate) fn substance_of(
    object: &Object<'_>,
    field: &str,
    weights: &AtomicWeights,
    strict: bool,
) -> Result<(Formula, Vec<Note>), Failure> {
    let (formula, notes) = formula_of(object, field, strict)?;
    let known = formula.molar_mass(weights);
    known.map_err(|error| Failure::from(error).within(field))?;
    Ok((formula, notes))
}

/// The formula in a field, which may be written as a name.
pub(crate) fn formula_or_name(
    request: &Object<'_>,
    field: &str,
) -> Result<(Formula, Vec<Note>), Failure> {
    let strict = strict(request)?;
    request.required(field, |value| {
        Ok(read_formula_or_name(&value.text()?, strict)?)
    })
}

fn formula_of(
    object: &Object<'_>,
    field: &str,
    strict: bool,
) -> Result<(Formula, Vec<Note>), Failure> {
    object.required(field, |value| read_formula(&value.text()?, strict))
}

/// A formula with its notes; a name is a failure that says its formula.
pub(crate) fn read_formula(text: &str, strict: bool) -> Result<(Formula, Vec<Note>), Failure> {
    parse(text, strict).map_err(|error| match Formula::from_name(text) {
        Ok((formula, _)) => {
            let message = format!("`{}` is a name, not a formula", shorten(text));
            Failure::new(error.code(), message).help(format!("write its formula: `{formula}`"))
        }
        Err(_) => error.into(),
    })
}

/// A formula with its notes; the strict reader refuses what would be noted.
fn parse(text: &str, strict: bool) -> Result<(Formula, Vec<Note>), formula::Error> {
    if strict {
        Ok((text.parse()?, Vec::new()))
    } else {
        Formula::read(text)
    }
}

/// A formula with its notes, from a formula or a name; if it is strict, nothing may be noted.
pub(crate) fn read_formula_or_name(
    text: &str,
    strict: bool,
) -> Result<(Formula, Vec<Note>), formula::Error> {
    match Row::read_issued(text) {
        Ok((_, notes)) if strict && !notes.is_empty() => parse(text, strict),
        read => read,
    }
}

/// The equation of a request, read as strictly as it asks.
pub(crate) fn equation(request: &Object<'_>) -> Result<(Equation, Vec<Note>), Failure> {
    let strict = strict(request)?;
    request.required("equation", |value| {
        let text = value.text()?;
        if strict {
            Ok((text.parse()?, Vec::new()))
        } else {
            Ok(Equation::read(&text)?)
        }
    })
}

/// The hydrate in a field, as a formula or a name, whose degree and molar mass must be known.
pub(crate) fn hydrate(
    request: &Object<'_>,
    field: &str,
    method: &Method,
) -> Result<(Formula, Vec<Note>), Failure> {
    hydrate_of(request, field, method, strict(request)?)
}

/// The hydrate in a field of an object inside a request.
pub(crate) fn hydrate_of(
    object: &Object<'_>,
    field: &str,
    method: &Method,
    strict: bool,
) -> Result<(Formula, Vec<Note>), Failure> {
    let (hydrate, notes) = object.required(field, |value| {
        Ok(read_formula_or_name(&value.text()?, strict)?)
    })?;
    let known = hydrate.molar_mass(method.atomic_weights());
    known.map_err(|error| Failure::from(error).within(field))?;
    if !hydrate.is_hydrate() {
        return Err(
            Failure::new("bad_request", format!("{hydrate} is not a hydrate"))
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
    let missing = Failure::missing("crucible", "there are no readings");
    let form = request.form(&[&series, &net, &["percent_water"]], missing, FORMS)?;
    if series.contains(&form) {
        let container = request.required("crucible", Json::mass)?;
        let with_hydrate = request.required("crucible_hydrate", Json::mass)?;
        let heated = request.required("heated", |value| value.list(MOST_HEATINGS, Json::mass))?;
        Ok(Weighings::new(container, with_hydrate, heated))
    } else if net.contains(&form) {
        let hydrate = request.required("hydrate_mass", Json::mass)?;
        let residue = request.required("residue_mass", Json::mass)?;
        let net: Option<Net> = request.optional("net", Json::code)?;
        Ok(Weighings::net(hydrate, residue, net.unwrap_or_default()))
    } else {
        let percent = request.required("percent_water", |value| value.quantity_in(Unit::Percent));
        Ok(Weighings::percent_water(percent?))
    }
}

/// The readings of one bench, with the note on those that came as numbers.
pub(crate) fn noted_readings(request: &Object<'_>) -> Result<(Weighings, Option<Note>), Failure> {
    let readings = readings(request)?;
    let mut numbers = Numbers::default();
    if !request.has("readability") {
        numbers.add_readings(request, "");
    }
    Ok((readings, numbers.note(", or give `readability`")))
}

/// The method, with its table of weights.
pub(crate) fn method(request: &Object<'_>) -> Result<Method, Failure> {
    let mut method = uncertainty_rules(request)?;
    method = request.set("constant_mass", method, |method, value| {
        Ok(method.constant_mass(criterion(&value.object()?)?))
    })?;
    method = request.set("weighing_used", method, |method, value| {
        Ok(method.weighing_used(value.code()?))
    })?;
    request.set("readability", method, |method, value| {
        Ok(method.readability(value.mass()?)?)
    })
}

/// The table of weights, the residue and how the uncertainty is worked out. These rules need no readings.
pub(crate) fn uncertainty_rules(request: &Object<'_>) -> Result<Method, Failure> {
    let method = Method::new().weights(weights(request)?);
    let mut method = residue(request, method)?;
    method = request.set("repeatability", method, |method, value| {
        Ok(method.repeatability(value.quantity()?.value().to_f64())?)
    })?;
    request.set("coverage", method, |method, value| {
        Ok(method.coverage(value.quantity()?.value().to_f64())?)
    })
}

/// The method with what complete heating leaves, if the request gives it.
pub(crate) fn residue(request: &Object<'_>, method: Method) -> Result<Method, Failure> {
    let strict = strict(request)?;
    request.set("residue", method, |method, value| {
        let (residue, _) = read_formula(&value.text()?, strict)?;
        Ok(method.residue(&residue)?)
    })
}

/// The smallest step of a balance, in grams.
pub(crate) fn readability(value: Json<'_>) -> Result<Reading, Failure> {
    let step = value.mass()?;
    Method::new().readability(step)?;
    Ok(step)
}

fn criterion(rule: &Object<'_>) -> Result<ConstantMass, Failure> {
    const HELP: &str = "give one of `absolute` (grams), `relative` (a fraction) and `per_gram`";
    const NAMES: [&str; 3] = ["absolute", "relative", "per_gram"];
    rule.only(&[&NAMES])?;
    let missing = Failure::missing(NAMES[0], "the criterion is missing");
    let name = rule.one_of(&NAMES, missing, HELP)?;
    rule.required(name, |value| {
        let limit = match name {
            "absolute" => value.mass()?,
            _ => value.quantity()?,
        };
        if limit.value().is_negative() {
            let message = format!("{limit} cannot be a criterion for constant mass");
            return Err(
                Failure::new("out_of_range", message).help("give a number that is not negative")
            );
        }
        Ok(match name {
            "absolute" => ConstantMass::Absolute(limit),
            "relative" => ConstantMass::Relative(limit),
            _ => ConstantMass::PerGram(limit),
        })
    })
}

/// The reading that alone makes the masses impossible, among these fields of the request.
pub(crate) fn impossible_reading(
    error: &gravimetry::Error,
    request: &Object<'_>,
    fields: &[&str],
) -> Option<String> {
    if error.kind() != gravimetry::ErrorKind::ImpossibleMasses {
        return None;
    }
    if request.has("percent_water") {
        return Some("percent_water".into());
    }
    let mut wrong = Vec::new();
    for field in fields {
        let masses = |value: Json<'_>| match *field {
            "heated" => value.list(MOST_HEATINGS, Json::mass),
            _ => Ok(vec![value.mass()?]),
        };
        // What cannot be read as a mass, such as `net`, is not one of the masses.
        let masses = request.optional(field, masses).ok().flatten();
        let masses = masses.into_iter().flatten().enumerate();
        let masses = masses.filter(|(_, mass)| cannot_weigh(field, &mass.value()));
        wrong.extend(masses.map(|(index, _)| match *field {
            "heated" => format!("heated[{index}]"),
            field => field.into(),
        }));
    }
    match wrong.as_slice() {
        [one] => Some(one.clone()),
        _ => None,
    }
}

/// Whether this mass is wrong whatever the other readings are.
fn cannot_weigh(field: &str, mass: &Ratio) -> bool {
    let may_be_nothing = !["sample_mass", "weighed_mass", "hydrate_mass"].contains(&field);
    mass.is_negative() || (mass.is_zero() && !may_be_nothing)
}

/// The failure, with the field that the error is about: that of the formula, or that of weighings
/// which are missing.
pub(crate) fn with_field(error: gravimetry::Error, formula: &str, weighings: &str) -> Failure {
    use gravimetry::ErrorKind::{
        MissingWeighing, NoStandardWeight, NotAResidue, NotASalt, UnknownDegree,
    };
    let field = match error.kind() {
        NotASalt | NoStandardWeight | UnknownDegree => Some(formula),
        NotAResidue => Some("residue"),
        MissingWeighing => Some(weighings),
        _ => None,
    };
    Failure::from(error).within_any(field)
}
