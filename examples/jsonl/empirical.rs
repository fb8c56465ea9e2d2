//! `empirical`: the simplest formula that an analysis speaks for, and the molecular formula.

use effloresce::formula::Analysis;
use effloresce::number::Unit;
use effloresce::{Formula, Note, Reading};
use serde_json::value::RawValue;

use crate::json::{self, Json, Object};
use crate::options;
use crate::reply::{self, Failure, shown};

/// The fields that say what was found, in one of which at least something must stand.
const FOUND: [&str; 3] = ["masses", "percent", "combustion"];

/// The fields of a combustion that are no product.
const OF_COMBUSTION: [&str; 2] = ["sample", "by_difference"];

type Add = fn(Analysis, Formula, Reading) -> Analysis;

struct Request {
    analysis: Analysis,
    notes: Vec<Note>,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[&FOUND, &["molar_mass"], &options::ENVELOPE])?;
        if !FOUND.iter().any(|field| request.has(field)) {
            return Err(Failure::missing(FOUND[0], "nothing says what was found")
                .help("give one of `masses`, `percent` and `combustion`"));
        }
        let strict = options::strict(request)?;
        let mut read = Request {
            analysis: Analysis::new().weights(options::weights(request)?),
            notes: Vec::new(),
        };
        if let Some(combustion) = request.optional("combustion", Json::object)? {
            read.combustion(&combustion, strict)
                .map_err(|failure| failure.within("combustion"))?;
        }
        for (field, unit, add) in [
            ("masses", Unit::Gram, Analysis::mass as Add),
            ("percent", Unit::Percent, Analysis::percent),
        ] {
            let parts = request.optional(field, Json::object)?;
            for (key, value) in parts.iter().flat_map(Object::members) {
                read.part(key, value, unit, strict, add)
                    .map_err(|failure| failure.within(field))?;
            }
        }
        if let Some(mass) = request.optional("molar_mass", Json::quantity)? {
            read.analysis = read.analysis.molar_mass(mass);
        }
        Ok(read)
    }

    fn combustion(&mut self, combustion: &Object<'_>, strict: bool) -> Result<(), Failure> {
        let sample = combustion.required("sample", Json::mass)?;
        self.analysis = std::mem::take(&mut self.analysis).sample(sample);
        let products = combustion.members();
        for (key, value) in products.filter(|(key, _)| !OF_COMBUSTION.contains(key)) {
            let misspelt = json::likely(key, &OF_COMBUSTION);
            self.part(key, value, Unit::Gram, strict, Analysis::product)
                .map_err(|failure| match misspelt {
                    Some(name) => Failure::new(
                        "unknown_field",
                        format!("there is no field `{}` here", shown(key)),
                    )
                    .within(&shown(key))
                    .help(format!("did you mean `{name}`?")),
                    None => failure,
                })?;
        }
        let rest = combustion.optional("by_difference", |value| {
            self.formula(&value.text()?, strict)
        })?;
        if let Some(rest) = rest {
            self.analysis = std::mem::take(&mut self.analysis).by_difference(rest);
        }
        Ok(())
    }

    /// A part with what was found of it; one that is `null` was not looked for.
    fn part(
        &mut self,
        key: &str,
        value: Json<'_>,
        unit: Unit,
        strict: bool,
        add: Add,
    ) -> Result<(), Failure> {
        if value.is_null() {
            return Ok(());
        }
        let mut read = || {
            let formula = self.formula(key, strict)?;
            Ok((formula, value.quantity_in(unit)?))
        };
        let (formula, reading) = read().map_err(|failure: Failure| failure.within(&shown(key)))?;
        self.analysis = add(std::mem::take(&mut self.analysis), formula, reading);
        Ok(())
    }

    fn formula(&mut self, text: &str, strict: bool) -> Result<Formula, Failure> {
        let (formula, notes) = if strict {
            (text.parse::<Formula>()?, Vec::new())
        } else {
            Formula::read(text)?
        };
        // A count left open is told with its place.
        formula.composition()?;
        self.notes.extend(notes);
        Ok(formula)
    }
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let found = request.analysis.empirical().map_err(blame)?;
    reply::result(&found.with_notes(request.notes))
}

/// Which field an error is about, where it is one alone.
fn blame(error: effloresce::formula::Error) -> Failure {
    let molar = error.kind() == effloresce::formula::ErrorKind::OutOfRange;
    let failure = Failure::from(error);
    if molar {
        failure.within("molar_mass")
    } else {
        failure
    }
}
