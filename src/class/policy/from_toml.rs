//! A policy read from TOML.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use toml::de::DeTable;

use super::rules::{BandError, FiguresRule, Policy, Stock, bad};
use super::tolerance::{Band, Tolerance};
use super::toml_value::{Members, TomlValue, members, no_toml};
use crate::class::Error;
use crate::gravimetry::{Net, Quantity, Weighings};
use crate::number::{Ratio, Reading};
use crate::text::{Detail, Span, list};

/// The largest policy that is read, in bytes: far more than any policy needs.
const MOST_BYTES: usize = 64 * 1024;

const SECTIONS: [&str; 5] = ["figures", "marks", "tolerance", "accuracy", "jar"];

const TOLERANCES: [&str; 5] = ["absolute", "percent", "nearest", "bands", "percent_bands"];

const STOCK: [&str; 6] = [
    "percent_water",
    "crucible",
    "crucible_hydrate",
    "heated",
    "hydrate",
    "residue",
];

impl Policy {
    /// Reads a policy from TOML. Numbers keep their own digits: `0.05` is exactly one twentieth.
    ///
    /// ```
    /// use effloresce::class::{FiguresRule, Policy};
    /// use effloresce::gravimetry::Quantity;
    /// let policy = Policy::from_toml(r#"
    /// figures = "one_mark"
    /// [marks]
    /// formula = 2
    /// [tolerance]
    /// percent_water = { bands = [{ within = 0.2, marks = 2 }, { within = 0.5, marks = 1 }] }
    /// mol_water = { percent = 1 }
    /// ratio = { nearest = "whole" }
    /// [accuracy]
    /// bands = [{ within_percent = 1, marks = 3 }, { within_percent = 2, marks = 2 }]
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
    /// kind, or asks for what [`marks`](Self::marks), [`tolerance`](Self::tolerance) or
    /// [`accuracy`](Self::accuracy) refuse. The message names the line and the key, and the span
    /// is in bytes of the text.
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        policy(text)
    }
}

fn policy(text: &str) -> Result<Policy, Error> {
    if text.len() > MOST_BYTES {
        let detail = Detail::new(format!(
            "the policy has {} bytes, and at most {MOST_BYTES} are read",
            text.len()
        ))
        .at(Span::new(MOST_BYTES, text.len()));
        return Err(bad(
            detail.help("give the policy alone, without the class sheet")
        ));
    }
    let document = DeTable::parse(text).map_err(|error| no_toml(text, &error))?;
    let sections = members(text, "", document.get_ref(), &SECTIONS)?;
    let mut policy = Policy::new();
    for (name, place) in &sections {
        match *name {
            "figures" => policy = policy.figures(figures(place)?),
            "marks" => marks(&mut policy, place)?,
            "tolerance" => tolerances(&mut policy, place)?,
            "accuracy" => accuracy(&mut policy, place)?,
            _ => policy = policy.stock(stock(place)?),
        }
    }
    Ok(policy)
}

fn figures(place: &TomlValue<'_>) -> Result<FiguresRule, Error> {
    let word = place.choice(&FiguresRule::ALL.map(FiguresRule::code))?;
    let rule = FiguresRule::ALL
        .into_iter()
        .find(|rule| rule.code() == word);
    Ok(rule.unwrap_or_default())
}

/// Returns the values of a table whose keys are quantities.
fn by_quantity<'a>(
    place: &TomlValue<'a>,
    help: &'static str,
) -> Result<Vec<(Quantity, TomlValue<'a>)>, Error> {
    let members = place.table(&Quantity::ALL.map(Quantity::code), help)?;
    let with_quantity = members.into_iter().filter_map(|(name, place)| {
        let quantity = Quantity::ALL.into_iter().find(|q| q.code() == name)?;
        Some((quantity, place))
    });
    Ok(with_quantity.collect())
}

fn marks(policy: &mut Policy, place: &TomlValue<'_>) -> Result<(), Error> {
    let members = by_quantity(place, "write `[marks]`, and below it `ratio = 3`")?;
    for (quantity, place) in members {
        let set = policy.set_marks(quantity, place.marks()?);
        set.map_err(|detail| place.error(detail))?;
    }
    Ok(())
}

fn tolerances(policy: &mut Policy, place: &TomlValue<'_>) -> Result<(), Error> {
    let help = "write `[tolerance]`, and below it `ratio = { absolute = 0.05 }`";
    for (quantity, place) in by_quantity(place, help)? {
        let (value, bands, tolerance) = tolerance(&place)?;
        let set = policy.set_tolerance(quantity, tolerance);
        set.map_err(|(band, detail)| match band {
            Some(_) => at_band(&value, &bands, (band, detail)),
            None => place.error(detail),
        })?;
    }
    Ok(())
}

/// Returns a tolerance with the value that holds it, and the values of its bands.
fn tolerance<'a>(
    place: &TomlValue<'a>,
) -> Result<(TomlValue<'a>, Vec<TomlValue<'a>>, Tolerance), Error> {
    const HELP: &str = "write for instance `{ absolute = 0.05 }`";
    let mut members = place.table(&TOLERANCES, HELP)?.into_iter();
    let Some((name, value)) = members.next() else {
        let names = TOLERANCES.map(|name| format!("`{name}`"));
        let detail = Detail::new("the table has no tolerance");
        return Err(place.error(detail.help(format!("give one of {}", list(names)))));
    };
    if let Some((other, second)) = members.next() {
        let detail = Detail::new(format!("`{name}` and `{other}` are two tolerances"));
        return Err(second.error(detail.help("give only one of them")));
    }
    let mut places = Vec::new();
    let tolerance = match name {
        "absolute" => Tolerance::Absolute(value.reading()?),
        "percent" => Tolerance::RelativePercent(value.reading()?),
        "nearest" => {
            value.choice(&["whole"])?;
            Tolerance::NearestWhole
        }
        _ => {
            let percent = name == "percent_bands";
            let (found, bands) = bands(&value, if percent { "within_percent" } else { "within" })?;
            places = found;
            if percent {
                Tolerance::PercentBands(bands)
            } else {
                Tolerance::Bands(bands)
            }
        }
    };
    Ok((value, places, tolerance))
}

fn accuracy(policy: &mut Policy, place: &TomlValue<'_>) -> Result<(), Error> {
    const HELP: &str =
        "write `[accuracy]`, and below it `bands = [{ within_percent = 1, marks = 3 }]`";
    let members = place.table(&["bands"], HELP)?;
    let list = required(place, &members, "bands", HELP)?;
    let (places, bands) = bands(list, "within_percent")?;
    let set = policy.set_accuracy(bands);
    set.map_err(|fault| at_band(list, &places, fault))
}

/// Returns the bands of a list with their values.
fn bands<'a>(list: &TomlValue<'a>, width: &str) -> Result<(Vec<TomlValue<'a>>, Vec<Band>), Error> {
    const LIST: &str = "write the bands in square brackets, each in braces";
    const BAND: &str = "give each band a width and its `marks`, such as `{ within = 0.2, marks = 2 }` \
                        (`within_percent` if the width is in per cent)";
    let places = list.list(LIST)?;
    let bands = places.iter().map(|place| {
        let members = place.table(&[width, "marks"], BAND)?;
        let within = required(place, &members, width, BAND)?.reading()?;
        Ok(Band::new(
            within,
            required(place, &members, "marks", BAND)?.marks()?,
        ))
    });
    let bands = bands.collect::<Result<Vec<Band>, Error>>()?;
    Ok((places, bands))
}

/// Returns the error for a list of bands or for one of them.
fn at_band(list: &TomlValue<'_>, bands: &[TomlValue<'_>], (band, detail): BandError) -> Error {
    let place = band.and_then(|index| bands.get(index)).unwrap_or(list);
    place.error(detail)
}

fn find<'m, 'a>(members: &'m Members<'a>, name: &str) -> Option<&'m TomlValue<'a>> {
    let mut named = members.iter().filter(|(key, _)| *key == name);
    named.next().map(|(_, place)| place)
}

fn required<'m, 'a>(
    place: &TomlValue<'a>,
    members: &'m Members<'a>,
    name: &str,
    help: &'static str,
) -> Result<&'m TomlValue<'a>, Error> {
    find(members, name)
        .ok_or_else(|| place.error(Detail::new(format!("`{name}` is missing")).help(help)))
}

/// Returns what the stock holds, from one of three sets of readings.
fn stock(place: &TomlValue<'_>) -> Result<Stock, Error> {
    const FORMS: &str = "give `percent_water`; or `crucible`, `crucible_hydrate` and `heated`; or \
                         `hydrate` and `residue`";
    let members = place.table(&STOCK, FORMS)?;
    let forms: [&[&str]; 3] = [
        &["percent_water"],
        &["crucible", "crucible_hydrate", "heated"],
        &["hydrate", "residue"],
    ];
    let form_of = |name: &str| forms.iter().position(|form| form.contains(&name));
    let Some((first, _)) = members.first() else {
        let detail = Detail::new("the table is empty and does not say what the stock holds");
        return Err(place.error(detail.help(FORMS)));
    };
    for (name, other) in &members {
        if form_of(name) != form_of(first) {
            let detail = Detail::new(format!("`{first}` and `{name}` do not go together"));
            return Err(other.error(detail.help(FORMS)));
        }
    }
    let get = |name: &str| required(place, &members, name, FORMS);
    match form_of(first) {
        Some(0) => percent(get("percent_water")?).map(Stock::PercentWater),
        Some(1) => {
            let (container, hydrate) = (get("crucible")?, get("crucible_hydrate")?);
            series(container, hydrate, get("heated")?).map(Stock::Weighings)
        }
        _ => {
            let (hydrate, residue) = (mass(get("hydrate")?)?, get("residue")?);
            let residue = not_above(residue, mass(residue)?, &hydrate)?;
            Ok(Stock::Weighings(Weighings::net(
                hydrate,
                residue,
                Net::Tared,
            )))
        }
    }
}

fn series(
    container: &TomlValue<'_>,
    hydrate: &TomlValue<'_>,
    heated: &TomlValue<'_>,
) -> Result<Weighings, Error> {
    const ALONE: &str = "the crucible alone";
    let container = mass(container)?;
    let hydrate = heavier(hydrate, &container, ALONE)?;
    let places = heated.list("write the weighings in square brackets")?;
    if places.is_empty() {
        let detail = Detail::new("there is no weighing after heating");
        return Err(heated.error(detail.help("give each weighing after a heating")));
    }
    let masses = places.iter().map(|place| {
        let mass = heavier(place, &container, ALONE)?;
        not_above(place, mass, &hydrate)
    });
    let masses = masses.collect::<Result<Vec<Reading>, Error>>()?;
    Ok(Weighings::new(container, hydrate, masses))
}

fn percent(place: &TomlValue<'_>) -> Result<Reading, Error> {
    let percent = place.reading()?;
    if !percent.value().is_positive() || percent.value() >= Ratio::from(100) {
        let detail = Detail::new(format!("no hydrate contains {percent} % water"));
        return Err(place.error(detail.help("give a percentage above 0 and below 100")));
    }
    Ok(percent)
}

fn mass(place: &TomlValue<'_>) -> Result<Reading, Error> {
    let mass = place.reading()?;
    if mass.value().is_positive() {
        return Ok(mass);
    }
    let detail = Detail::new(format!("a mass of {mass} g is not positive"));
    Err(place.error(detail.help("give the weighing in grams, as the balance showed it")))
}

fn heavier(place: &TomlValue<'_>, than: &Reading, what: &str) -> Result<Reading, Error> {
    let heavier = mass(place)?;
    if heavier.value() > than.value() {
        return Ok(heavier);
    }
    Err(impossible(
        place,
        format!("{heavier} g is not heavier than {what}, {than} g"),
    ))
}

fn not_above(place: &TomlValue<'_>, mass: Reading, hydrate: &Reading) -> Result<Reading, Error> {
    if mass.value() <= hydrate.value() {
        return Ok(mass);
    }
    Err(impossible(
        place,
        format!("{mass} g is heavier than before heating, {hydrate} g"),
    ))
}

fn impossible(place: &TomlValue<'_>, message: String) -> Error {
    let help = "compare the weighings with the notebook: two may be exchanged";
    place.error(Detail::new(message).help(help))
}
