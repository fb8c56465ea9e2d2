//! A policy read from TOML.

use alloc::format;
use alloc::vec::Vec;

use toml::de::DeTable;

use super::mark_step::MarkStep;
use super::rules::{BandError, FiguresRule, FormulaRule, Policy, Stock, bad, no_hydrate};
use super::tolerance::{Band, Tolerance};
use super::toml_value::{TomlValue, members, no_toml, required};
use crate::class::Error;
use crate::gravimetry::{Net, Quantity, Weighings};
use crate::mistake::Fault;
use crate::number::Reading;
use crate::text::{Detail, Span, list};

/// The largest policy that is read, in bytes: far more than any policy needs.
const MOST_BYTES: usize = 64 * 1024;

const SECTIONS: [&str; 8] = [
    "step",
    "figures",
    "formula",
    "marks",
    "tolerance",
    "accuracy",
    "priors",
    "jar",
];

const TOLERANCES: [&str; 5] = ["absolute", "percent", "nearest", "bands", "percent_bands"];

impl Policy {
    /// Reads a policy from TOML. Numbers keep their own digits: `0.05` is exactly one twentieth.
    ///
    /// ```
    /// use effloresce::class::{FiguresRule, Policy};
    /// use effloresce::gravimetry::Quantity;
    /// let policy = Policy::from_toml(r#"
    /// figures = "one_mark"
    /// formula = "own_ratio"
    /// [marks]
    /// formula = 2
    /// [tolerance]
    /// percent_water = { bands = [{ within = 0.2, marks = 2 }, { within = 0.5, marks = 1 }] }
    /// mol_water = { percent = 1 }
    /// ratio = { nearest = "whole" }
    /// [accuracy]
    /// bands = [{ within_percent = 1, marks = 3 }, { within_percent = 2, marks = 2 }]
    /// [priors]
    /// water_left = 0.15
    /// [jar]
    /// percent_water = 50.9
    /// "#)?;
    /// assert_eq!(policy.figures_rule(), FiguresRule::OneMark);
    /// assert_eq!(policy.marks_for(Quantity::PercentWater), 2);
    /// assert_eq!(policy.accuracy_bands().len(), 2);
    ///
    /// let error = Policy::from_toml("[marks]\nratoi = 3\n").unwrap_err();
    /// assert_eq!(error.to_string(), "line 2: there is no key `marks.ratoi`");
    /// assert_eq!(error.help(), Some("did you mean `ratio`?"));
    /// # Ok::<(), effloresce::class::Error>(())
    /// ```
    ///
    /// # Errors
    /// Fails if the text is not TOML, is longer than 64 KiB, has a key that is unknown or of the wrong
    /// kind, or asks for what [`marks`](Self::marks), [`tolerance`](Self::tolerance),
    /// [`accuracy`](Self::accuracy) or [`priors`](Self::priors) refuse. The message names the line and the key, and the span
    /// is in bytes of the text.
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        policy(text)
    }
}

fn policy(text: &str) -> Result<Policy, Error> {
    if text.len() > MOST_BYTES {
        let message = format!(
            "the policy has {} bytes, and at most {MOST_BYTES} are read",
            text.len()
        );
        let detail = Detail::new(message).help("give the policy alone, without the class sheet");
        return Err(bad(detail.at(Span::new(MOST_BYTES, text.len()))));
    }
    let document = DeTable::parse(text).map_err(|error| no_toml(text, &error))?;
    let sections = members(text, "", document.get_ref(), &SECTIONS)?;
    let mut policy = Policy::new();
    // Marks are checked by the step, wherever it is in the text.
    if let Some((_, value)) = sections.iter().find(|(name, _)| *name == "step") {
        policy = policy.step(step(value)?)?;
    }
    for (name, value) in &sections {
        match *name {
            "step" => {}
            "figures" => policy = policy.figures(figures(value)?),
            "formula" => policy = policy.formula(formula(value)?),
            "marks" => marks(&mut policy, value)?,
            "tolerance" => tolerances(&mut policy, value)?,
            "accuracy" => accuracy(&mut policy, value)?,
            "priors" => priors(&mut policy, value)?,
            _ => policy = policy.stock(stock(value)?),
        }
    }
    Ok(policy)
}

fn step(value: &TomlValue<'_>) -> Result<MarkStep, Error> {
    let size = value.reading()?;
    MarkStep::of_size(&size.value()).ok_or_else(|| {
        let message = format!("marks cannot be given in steps of {size}");
        value.refusal(message, "give `1` for whole marks or `0.5` for half marks")
    })
}

fn figures(value: &TomlValue<'_>) -> Result<FiguresRule, Error> {
    let word = value.choice(&FiguresRule::ALL.map(FiguresRule::code))?;
    Ok(word.parse().unwrap_or_default())
}

fn formula(value: &TomlValue<'_>) -> Result<FormulaRule, Error> {
    let word = value.choice(&FormulaRule::ALL.map(FormulaRule::code))?;
    Ok(word.parse().unwrap_or_default())
}

/// Returns the values of a table whose keys are quantities.
fn by_quantity<'a>(
    value: &TomlValue<'a>,
    help: &'static str,
) -> Result<Vec<(Quantity, TomlValue<'a>)>, Error> {
    let members = value.table(&Quantity::ALL.map(Quantity::code), help)?;
    let with_quantity = members
        .into_iter()
        .filter_map(|(name, value)| Some((name.parse().ok()?, value)));
    Ok(with_quantity.collect())
}

fn marks(policy: &mut Policy, value: &TomlValue<'_>) -> Result<(), Error> {
    let members = by_quantity(value, "write `[marks]`, and below it `ratio = 3`")?;
    for (quantity, value) in members {
        let set = policy.set_marks(quantity, value.marks()?);
        set.map_err(|detail| value.error(detail))?;
    }
    Ok(())
}

fn tolerances(policy: &mut Policy, value: &TomlValue<'_>) -> Result<(), Error> {
    let help = "write `[tolerance]`, and below it `ratio = { absolute = 0.05 }`";
    for (quantity, value) in by_quantity(value, help)? {
        let (inner, tolerance) = tolerance(&value)?;
        let set = policy.set_tolerance(quantity, tolerance);
        set.map_err(|(band, detail)| match band {
            Some(_) => at_band(&inner, (band, detail)),
            None => value.error(detail),
        })?;
    }
    Ok(())
}

/// Returns a tolerance with the value that holds it.
fn tolerance<'a>(value: &TomlValue<'a>) -> Result<(TomlValue<'a>, Tolerance), Error> {
    const HELP: &str = "write for instance `{ absolute = 0.05 }`";
    let mut members = value.table(&TOLERANCES, HELP)?.into_iter();
    let Some((name, inner)) = members.next() else {
        let help = list(TOLERANCES.map(|name| format!("`{name}`")));
        return Err(value.refusal("the table has no tolerance", format!("give one of {help}")));
    };
    if let Some((other, second)) = members.next() {
        let message = format!("`{name}` and `{other}` are two tolerances");
        return Err(second.refusal(message, "give only one of them"));
    }
    let tolerance = match name {
        "absolute" => Tolerance::Absolute(inner.reading()?),
        "percent" => Tolerance::RelativePercent(inner.reading()?),
        "nearest" => {
            inner.choice(&["whole"])?;
            Tolerance::NearestWhole
        }
        "bands" => Tolerance::Bands(bands(&inner, "within")?),
        _ => Tolerance::PercentBands(bands(&inner, "within_percent")?),
    };
    Ok((inner, tolerance))
}

fn accuracy(policy: &mut Policy, value: &TomlValue<'_>) -> Result<(), Error> {
    const HELP: &str =
        "write `[accuracy]`, and below it `bands = [{ within_percent = 1, marks = 3 }]`";
    let members = value.table(&["bands"], HELP)?;
    let list = required(value, &members, "bands", HELP)?;
    let set = policy.set_accuracy(bands(list, "within_percent")?);
    set.map_err(|error| at_band(list, error))
}

fn priors(policy: &mut Policy, value: &TomlValue<'_>) -> Result<(), Error> {
    const HELP: &str = "write `[priors]`, and below it `water_left = 0.1`";
    let members = value.table(&Fault::ALL.map(Fault::code), HELP)?;
    let faults = members.into_iter().filter_map(|(name, value)| {
        let fault: Fault = name.parse().ok()?;
        Some(value.reading().map(|probability| (fault, probability)))
    });
    let set = policy.set_priors(faults.collect::<Result<_, Error>>()?);
    set.map_err(|detail| value.error(detail))
}

fn bands(list: &TomlValue<'_>, width: &str) -> Result<Vec<Band>, Error> {
    const LIST: &str = "write the bands in square brackets, each in braces";
    const BAND: &str = "give each band a width and its `marks`, such as `{ within = 0.2, marks = 2 }` \
                        (`within_percent` if the width is in per cent)";
    let bands = list.list(LIST)?.into_iter().map(|band| {
        let members = band.table(&[width, "marks"], BAND)?;
        let get = |name| required(&band, &members, name, BAND);
        Ok(Band::new(get(width)?.reading()?, get("marks")?.marks()?))
    });
    bands.collect()
}

/// Returns the error for a list of bands or for one of them.
fn at_band(list: &TomlValue<'_>, (band, detail): BandError) -> Error {
    let band = band.and_then(|index| list.list("").ok()?.into_iter().nth(index));
    band.as_ref().unwrap_or(list).error(detail)
}

/// Returns what the stock holds, from one of three sets of readings.
fn stock(value: &TomlValue<'_>) -> Result<Stock, Error> {
    const FORMS: &str = "give `percent_water`; or `crucible`, `crucible_hydrate` and `heated`; or \
                         `hydrate` and `residue`";
    let forms: [&[&str]; 3] = [
        &["percent_water"],
        &["crucible", "crucible_hydrate", "heated"],
        &["hydrate", "residue"],
    ];
    let members = value.table(&forms.concat(), FORMS)?;
    let form_of = |name: &str| forms.iter().position(|form| form.contains(&name));
    let Some((first, _)) = members.first() else {
        let message = "the table is empty and does not say what the stock holds";
        return Err(value.refusal(message, FORMS));
    };
    for (name, other) in &members {
        if form_of(name) != form_of(first) {
            let message = format!("`{first}` and `{name}` do not go together");
            return Err(other.refusal(message, FORMS));
        }
    }
    let get = |name: &str| required(value, &members, name, FORMS);
    match form_of(first) {
        Some(0) => {
            let value = get("percent_water")?;
            Stock::checked(value.reading()?).map_err(|detail| value.error(detail))
        }
        Some(1) => {
            let (container, hydrate) = (get("crucible")?, get("crucible_hydrate")?);
            series(container, hydrate, get("heated")?).map(Stock::Weighings)
        }
        _ => {
            let (hydrate, value) = (mass(get("hydrate")?)?, get("residue")?);
            let residue = weighing(value, None, Some(&hydrate))?;
            lighter(value, &residue, &hydrate)?;
            let weighings = Weighings::net(hydrate, residue, Net::Tared);
            Ok(Stock::Weighings(weighings))
        }
    }
}

fn series(
    container: &TomlValue<'_>,
    hydrate: &TomlValue<'_>,
    heated: &TomlValue<'_>,
) -> Result<Weighings, Error> {
    let container = mass(container)?;
    let hydrate = weighing(hydrate, Some(&container), None)?;
    let values = heated.list("write the weighings in square brackets")?;
    if values.is_empty() {
        let message = "there is no weighing after heating";
        return Err(heated.refusal(message, "give each weighing after a heating"));
    }
    let masses = values.iter();
    let masses = masses.map(|value| weighing(value, Some(&container), Some(&hydrate)));
    let masses = masses.collect::<Result<Vec<Reading>, Error>>()?;
    if let Some((value, last)) = values.last().zip(masses.last()) {
        lighter(value, last, &hydrate)?;
    }
    Ok(Weighings::new(container, hydrate, masses))
}

/// Checks that the last weighing shows any water. What a stock without water holds is compared with
/// nothing.
fn lighter(value: &TomlValue<'_>, last: &Reading, before: &Reading) -> Result<(), Error> {
    if last.value() < before.value() {
        return Ok(());
    }
    let help = "give a last weighing that is lighter than the hydrate, or leave the stock out";
    Err(value.error(no_hydrate("0", help)))
}

fn mass(value: &TomlValue<'_>) -> Result<Reading, Error> {
    let mass = value.reading()?;
    if mass.value().is_positive() {
        return Ok(mass);
    }
    let message = format!("a mass of {mass} g is not positive");
    Err(value.refusal(
        message,
        "give the weighing in grams, as the balance showed it",
    ))
}

/// Returns a mass that is heavier than the crucible alone and not heavier than before heating.
fn weighing(
    value: &TomlValue<'_>,
    crucible: Option<&Reading>,
    before: Option<&Reading>,
) -> Result<Reading, Error> {
    let mass = mass(value)?;
    let message = match (crucible, before) {
        (Some(crucible), _) if mass.value() <= crucible.value() => {
            format!("{mass} g is not heavier than the crucible alone, {crucible} g")
        }
        (_, Some(before)) if mass.value() > before.value() => {
            format!("{mass} g is heavier than before heating, {before} g")
        }
        _ => return Ok(mass),
    };
    let help = "compare the weighings with the notebook: two may be exchanged";
    Err(value.refusal(message, help))
}
