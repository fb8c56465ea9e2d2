//! `empirical`: the empirical formula that an analysis gives, and the molecular formula.

use effloresce::formula::{self, Analysis};
use effloresce::number::Unit;
use effloresce::{Formula, Reading};

use crate::json::{self, Json, Object};
use crate::numbers::Numbers;
use crate::options;
use crate::reply::{self, Failure, Reply};
use crate::suggest;

/// The fields that hold results of an analysis. At least one must be given.
const RESULTS: [&str; 3] = ["masses", "percent", "combustion"];

/// The fields of a combustion that are not the name of a product.
const OF_COMBUSTION: [&str; 2] = ["sample", "by_difference"];

/// The largest number of members of a combustion.
const MOST_OF_COMBUSTION: usize = Analysis::MOST_PARTS + OF_COMBUSTION.len();

type Add = fn(Analysis, Formula, Reading) -> Analysis;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&RESULTS, &["molar_mass"], &options::ENVELOPE])?;
    if !RESULTS.iter().any(|field| request.has(field)) {
        let message = "there are no results of an analysis";
        return Err(Failure::missing(RESULTS[0], message)
            .help("give one of `masses`, `percent` and `combustion`"));
    }
    let strict = options::strict(request)?;
    let mut notes = Vec::new();
    let mut formula = |text: &str| -> Result<Formula, Failure> {
        let (formula, more) = options::read_formula(text, strict)?;
        // An unknown number of waters is an error of this field, not of the analysis.
        formula.composition()?;
        notes.extend(more);
        Ok(formula)
    };
    let analysis = Analysis::new().weights(options::weights(request)?);
    let mut analysis = request.set("combustion", analysis, |analysis, value| {
        combustion(analysis, &value.object()?, &mut formula)
    })?;
    for (field, unit, add) in [
        ("masses", Unit::Gram, Analysis::mass as Add),
        ("percent", Unit::Percent, Analysis::percent),
    ] {
        analysis = request.set(field, analysis, |analysis, value| {
            value
                .object()?
                .fold(Analysis::MOST_PARTS, analysis, |analysis, key, value| {
                    part(analysis, key, value, unit, add, &mut formula)
                })
        })?;
    }
    analysis = request.set("molar_mass", analysis, |analysis, value| {
        Ok(analysis.molar_mass(value.quantity()?))
    })?;
    let empirical = analysis.empirical().map_err(|error| {
        let molar_mass = error.kind() == formula::ErrorKind::OutOfRange;
        Failure::from(error).within_any(molar_mass.then_some("molar_mass"))
    })?;
    // The last digits decide how near to whole numbers the counts must be.
    let mut numbers = Numbers::default();
    for field in RESULTS {
        request.optional(field, |value| {
            numbers.add_members(&value.object()?, &format!("{field}."));
            Ok(())
        })?;
    }
    notes.extend(numbers.note(""));
    Ok(reply::result(empirical.with_notes(notes)))
}

fn combustion(
    analysis: Analysis,
    combustion: &Object<'_>,
    formula: &mut impl FnMut(&str) -> Result<Formula, Failure>,
) -> Result<Analysis, Failure> {
    let keys = combustion.members().map(|(key, _)| key);
    for key in keys.filter(|key| !OF_COMBUSTION.contains(key)) {
        let misspelt = suggest::likely(key, &OF_COMBUSTION).is_some();
        if misspelt && Formula::read(key).is_err() {
            return Err(json::unknown_field(key, &OF_COMBUSTION));
        }
    }
    let analysis = analysis.sample(combustion.required("sample", Json::mass)?);
    let analysis = combustion.fold(MOST_OF_COMBUSTION, analysis, |analysis, key, value| {
        if OF_COMBUSTION.contains(&key) {
            return Ok(analysis);
        }
        part(analysis, key, value, Unit::Gram, Analysis::product, formula)
    })?;
    combustion.set("by_difference", analysis, |analysis, value| {
        Ok(analysis.by_difference(formula(&value.text()?)?))
    })
}

/// Adds a part and its amount. A part that is `null` was not analysed.
fn part(
    analysis: Analysis,
    key: &str,
    value: Json<'_>,
    unit: Unit,
    add: Add,
    formula: &mut impl FnMut(&str) -> Result<Formula, Failure>,
) -> Result<Analysis, Failure> {
    if value.is_null() {
        return Ok(analysis);
    }
    Ok(add(analysis, formula(key)?, value.quantity_in(unit)?))
}
