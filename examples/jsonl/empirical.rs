//! `empirical`: the empirical formula that an analysis gives, and the molecular formula.

use effloresce::formula::{self, Analysis};
use effloresce::number::Unit;
use effloresce::{Formula, Note, Reading};
use serde_json::value::RawValue;

use crate::json::{self, Json, Object};
use crate::options;
use crate::reply::{self, Failure, shorten};
use crate::suggest;

/// The fields that hold results of an analysis. At least one must be given.
const RESULTS: [&str; 3] = ["masses", "percent", "combustion"];

/// The fields of a combustion that are not the name of a product.
const OF_COMBUSTION: [&str; 2] = ["sample", "by_difference"];

type Add = fn(Analysis, Formula, Reading) -> Analysis;

struct Request {
    strict: bool,
    analysis: Analysis,
    notes: Vec<Note>,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[&RESULTS, &["molar_mass"], &options::ENVELOPE])?;
        if !RESULTS.iter().any(|field| request.has(field)) {
            let message = "there are no results of an analysis";
            return Err(Failure::missing(RESULTS[0], message)
                .help("give one of `masses`, `percent` and `combustion`"));
        }
        let mut read = Request {
            strict: options::strict(request)?,
            analysis: Analysis::new().weights(options::weights(request)?),
            notes: Vec::new(),
        };
        request.optional("combustion", |value| read.combustion(&value.object()?))?;
        for (field, unit, add) in [
            ("masses", Unit::Gram, Analysis::mass as Add),
            ("percent", Unit::Percent, Analysis::percent),
        ] {
            request.optional(field, |value| {
                let parts = value.object()?;
                let mut parts = parts.members();
                parts.try_for_each(|(key, value)| read.part(key, value, unit, add))
            })?;
        }
        if let Some(mass) = request.optional("molar_mass", Json::quantity)? {
            read.analysis = read.analysis.molar_mass(mass);
        }
        Ok(read)
    }

    fn combustion(&mut self, combustion: &Object<'_>) -> Result<(), Failure> {
        let sample = combustion.required("sample", Json::mass)?;
        self.add(|analysis| analysis.sample(sample));
        let products = combustion.members();
        for (key, value) in products.filter(|(key, _)| !OF_COMBUSTION.contains(key)) {
            self.part(key, value, Unit::Gram, Analysis::product)
                .map_err(|failure| match suggest::likely_name(key, &OF_COMBUSTION) {
                    Some(_) => json::unknown_field(key, &OF_COMBUSTION),
                    None => failure,
                })?;
        }
        if let Some(rest) =
            combustion.optional("by_difference", |value| self.formula(&value.text()?))?
        {
            self.add(|analysis| analysis.by_difference(rest));
        }
        Ok(())
    }

    /// Adds a part and its amount. A part that is `null` was not analysed.
    fn part(&mut self, key: &str, value: Json<'_>, unit: Unit, add: Add) -> Result<(), Failure> {
        if value.is_null() {
            return Ok(());
        }
        let mut read = || Ok((self.formula(key)?, value.quantity_in(unit)?));
        let (formula, reading) =
            read().map_err(|failure: Failure| failure.within(&shorten(key)))?;
        self.add(|analysis| add(analysis, formula, reading));
        Ok(())
    }

    fn add(&mut self, step: impl FnOnce(Analysis) -> Analysis) {
        self.analysis = step(std::mem::take(&mut self.analysis));
    }

    fn formula(&mut self, text: &str) -> Result<Formula, Failure> {
        let (formula, notes) = options::read_formula(text, self.strict)?;
        // An unknown number of waters is an error of this field, not of the analysis.
        formula.composition()?;
        self.notes.extend(notes);
        Ok(formula)
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let empirical = request.analysis.empirical().map_err(|error| {
        let molar_mass = error.kind() == formula::ErrorKind::OutOfRange;
        Failure::from(error).within_any(molar_mass.then_some("molar_mass"))
    })?;
    reply::result(&empirical.with_notes(request.notes))
}
