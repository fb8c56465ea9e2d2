//! Results in the shape of the JSON-lines contract; readings and rules in that shape, both ways.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use ::serde::de::Visitor;
use ::serde::ser::SerializeStruct;
use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::advice::{Check, Plateau};
use super::constant_mass::{Constancy, ConstantMass};
use super::defensible::Defensible;
use super::dehydration::Dehydration;
use super::error::Error;
use super::interval::Interval;
use super::method::{Method, positive_division};
use super::outcome::Candidate;
use super::quantity::Quantity;
use super::sensitivity::Sensitivity;
use super::weighings::{Net, WeighingUsed, Weighings, WeighingsForm};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{DecimalMark, READING_AS_TEXT, Ratio, Reading, TieRule, Unit};
use crate::text::{Detail, Fields, fields, list, read_text, refusal};

// ---- results

fields!(Dehydration, it, {
    "hydrate_mass": it.hydrate_mass(),
    "residue_mass": it.residue_mass(),
    "water_mass": it.water_mass(),
    "percent_water": it.percent_water().to_plain(),
    "mol_salt": it.mol_salt().map(|amount| amount.to_plain()),
    "mol_water": it.mol_water().map(|amount| amount.to_plain()),
    "ratio": it.ratio().to_plain(),
    "ratio_uncertainty": it.standard_uncertainty(),
    "uncertainty_covers": it.uncertainty_covers(),
    "sensitivity": it.sensitivity(),
    "nearest": it.nearest().to_string(),
    "nearest_formula": it.nearest_formula(),
    "outcome": it.outcome().code(),
    "formula": it.outcome().formula(),
    "candidates": it.candidates(),
    "constant_mass": it.constant_mass(),
    "defensible": it.defensible(),
    "warnings": it.warnings(),
    "edition": it.edition(),
});

fields!(Sensitivity, it, {
    "crucible": it.container().map(Ratio::to_plain),
    "crucible_hydrate": it.with_hydrate().map(Ratio::to_plain),
    "heated": it.heated().map(Ratio::to_plain),
    "hydrate_mass": it.hydrate_mass().map(Ratio::to_plain),
    "residue_mass": it.residue_mass().map(Ratio::to_plain),
    "percent_water": it.percent_water().map(Ratio::to_plain),
});

fields!(Candidate, it, {
    "waters": it.waters.to_string(),
    "formula": it.formula,
    "expected_percent_water": it.expected_percent_water.to_plain(),
    "expected_residue_mass": it.expected_residue_mass.as_ref().map(Ratio::to_plain),
    "z": it.z,
    "known": it.known,
});

fields!(Constancy, it, {
    "reached": it.reached,
    "last_change": it.last_change,
    "criterion": it.criterion.to_plain(),
});

fields!(Check, it, {
    "advice": it.advice(),
    "reasons": it.reasons(),
    "expected_last": it.expected_last().map(Ratio::to_plain),
    "still_to_lose": it.still_to_lose().map(Ratio::to_plain),
    "plateaus": it.expectation.as_ref().map(|known| &known.plateaus),
    "constant_mass": it.constant_mass(),
});

fields!(Plateau, it, {
    "waters": it.waters().to_string(),
    "mass": it.mass().to_plain(),
});

impl Serialize for Interval {
    /// Writes the pair `[low, high]` in plain decimal notation.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = |value: &Ratio| match self.places {
            Some(places) => {
                let needed = value
                    .exact_decimal_places()
                    .and_then(|p| i32::try_from(p).ok());
                let places = places.max(needed.unwrap_or(0));
                format!("{}", value.to_places(places, TieRule::Even))
            }
            None => value.to_plain(),
        };
        [text(&self.low), text(&self.high)].serialize(serializer)
    }
}

impl Serialize for Defensible {
    /// Writes each quantity with its `[low, high]`, or null.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(Quantity::ALL.iter().zip(&self.intervals))
    }
}

// ---- readings

/// A mass in grams. Its text may have a unit (`"2666 mg"`), as in a request of the contract.
#[derive(Clone, Copy, Serialize)]
#[serde(transparent)]
pub(crate) struct Grams(pub(crate) Reading);

impl<'de> Deserialize<'de> for Grams {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Reading::deserialize_in(Unit::Gram, deserializer).map(Grams)
    }
}

/// A percentage. Its text may have the sign `%`.
#[derive(Clone, Copy, Serialize)]
#[serde(transparent)]
pub(crate) struct Percent(pub(crate) Reading);

impl<'de> Deserialize<'de> for Percent {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Reading::deserialize_in(Unit::Percent, deserializer).map(Percent)
    }
}

/// The readings of one bench, of which those of one form are given.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(crate) struct WeighingsFields {
    pub(crate) crucible: Option<Grams>,
    pub(crate) crucible_hydrate: Option<Grams>,
    pub(crate) heated: Option<Vec<Grams>>,
    pub(crate) hydrate_mass: Option<Grams>,
    pub(crate) residue_mass: Option<Grams>,
    pub(crate) net: Option<Net>,
    pub(crate) percent_water: Option<Percent>,
}

impl WeighingsFields {
    /// The names of the fields that are given.
    fn given(&self) -> Vec<&'static str> {
        let given = [
            ("crucible", self.crucible.is_some()),
            ("crucible_hydrate", self.crucible_hydrate.is_some()),
            ("heated", self.heated.is_some()),
            ("hydrate_mass", self.hydrate_mass.is_some()),
            ("residue_mass", self.residue_mass.is_some()),
            ("net", self.net.is_some()),
            ("percent_water", self.percent_water.is_some()),
        ];
        let given = given.into_iter().filter(|(_, given)| *given);
        given.map(|(name, _)| name).collect()
    }

    /// Returns the readings if they are those of exactly one form, `None` if there are none.
    pub(crate) fn weighings(self) -> Result<Option<Weighings>, Detail> {
        let given = self.given();
        let form = (
            (self.crucible, self.crucible_hydrate, self.heated),
            (self.hydrate_mass, self.residue_mass),
            self.percent_water,
        );
        Ok(Some(match (given.as_slice(), form) {
            ([], _) => return Ok(None),
            (
                ["crucible", "crucible_hydrate", "heated"],
                ((Some(container), Some(hydrate), Some(heated)), ..),
            ) => {
                let heated = heated.into_iter().map(|Grams(mass)| mass);
                Weighings::new(container.0, hydrate.0, heated)
            }
            (
                ["hydrate_mass", "residue_mass"] | ["hydrate_mass", "residue_mass", "net"],
                (_, (Some(hydrate), Some(residue)), _),
            ) => Weighings::net(hydrate.0, residue.0, self.net.unwrap_or_default()),
            (["percent_water"], (.., Some(percent))) => Weighings::percent_water(percent.0),
            _ => {
                let given = list(given.iter().map(|name| format!("`{name}`")));
                let message = format!("these are not the readings of one bench: {given}");
                return Err(Detail::new(message).help(FORMS));
            }
        }))
    }
}

const FORMS: &str = "give `crucible`, `crucible_hydrate` and `heated`; or `hydrate_mass` and `residue_mass`; or \
     `percent_water`";

impl Fields for Weighings {
    fn count(&self) -> usize {
        match self.form() {
            WeighingsForm::Container(_) | WeighingsForm::Net { .. } => 3,
            WeighingsForm::Percent(_) => 1,
        }
    }

    fn write<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
        match self.form() {
            WeighingsForm::Container(weighings) => {
                out.serialize_field("crucible", &weighings.container)?;
                out.serialize_field("crucible_hydrate", &weighings.with_hydrate)?;
                out.serialize_field("heated", &weighings.heated)
            }
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => {
                out.serialize_field("hydrate_mass", hydrate)?;
                out.serialize_field("residue_mass", residue)?;
                out.serialize_field("net", net)
            }
            WeighingsForm::Percent(percent) => out.serialize_field("percent_water", percent),
        }
    }
}

impl Serialize for Weighings {
    /// Writes the fields of the form in which the readings were given.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Weighings", self.count())?;
        self.write(&mut out)?;
        out.end()
    }
}

impl<'de> Deserialize<'de> for Weighings {
    /// Reads the fields of one form: `crucible`, `crucible_hydrate` and `heated`; `hydrate_mass`,
    /// `residue_mass` and perhaps `net`; or `percent_water`.
    ///
    /// ```
    /// use effloresce::gravimetry::Weighings;
    /// let bench = r#"{"crucible": "21.352", "crucible_hydrate": "24.018", "heated": ["22655 mg"]}"#;
    /// let bench: Weighings = serde_json::from_str(bench)?;
    /// assert_eq!(bench.heated()[0].to_string(), "22.655");
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let weighings = WeighingsFields::deserialize(deserializer)?.weighings();
        let weighings = weighings.map_err(|detail| refusal(&detail))?;
        weighings.ok_or_else(|| refusal(&Detail::new("there are no readings").help(FORMS)))
    }
}

// ---- rules

/// The criterion for constant mass, as the contract writes it.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Criterion {
    Divisions(u32),
    Absolute(Grams),
    PerGram(Reading),
    Relative(Reading),
}

impl Serialize for ConstantMass {
    /// Writes an object with one field: `divisions`, `absolute`, `per_gram` or `relative`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let criterion = match *self {
            ConstantMass::Divisions(divisions) => Criterion::Divisions(divisions),
            ConstantMass::Absolute(limit) => Criterion::Absolute(Grams(limit)),
            ConstantMass::PerGram(limit) => Criterion::PerGram(limit),
            ConstantMass::Relative(limit) => Criterion::Relative(limit),
        };
        criterion.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for ConstantMass {
    /// Reads an object with one field: `divisions`, `absolute`, `per_gram` or `relative`.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let criterion = match Criterion::deserialize(deserializer)? {
            Criterion::Divisions(divisions) => ConstantMass::Divisions(divisions),
            Criterion::Absolute(Grams(limit)) => ConstantMass::Absolute(limit),
            Criterion::PerGram(limit) => ConstantMass::PerGram(limit),
            Criterion::Relative(limit) => ConstantMass::Relative(limit),
        };
        criterion.checked().map_err(|error| refusal(&error))
    }
}

/// A number in binary floating point, written as text so that it is read back exactly. A number
/// without quotation marks is read as well.
struct Float(f64);

impl Serialize for Float {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&format_args!("{:?}", self.0))
    }
}

impl<'de> Deserialize<'de> for Float {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        if deserializer.is_human_readable() {
            deserializer.deserialize_any(FloatVisitor)
        } else {
            deserializer.deserialize_str(FloatVisitor)
        }
    }
}

struct FloatVisitor;

impl Visitor<'_> for FloatVisitor {
    type Value = Float;

    fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("a number")
    }

    fn visit_f64<E: ::serde::de::Error>(self, number: f64) -> Result<Float, E> {
        Ok(Float(number))
    }

    fn visit_i64<E: ::serde::de::Error>(self, number: i64) -> Result<Float, E> {
        Ok(Float(number as f64))
    }

    fn visit_u64<E: ::serde::de::Error>(self, number: u64) -> Result<Float, E> {
        Ok(Float(number as f64))
    }

    fn visit_str<E: ::serde::de::Error>(self, text: &str) -> Result<Float, E> {
        text.parse().map(Float).map_err(|_| {
            let text = crate::text::shorten(text);
            let detail = Detail::new(format!("`{text}` is not a number"));
            refusal(&detail.help("write digits and one decimal point, such as 0.003"))
        })
    }
}

fields!(Method, method, {
    "weights": method.weights,
    "constant_mass": method.constant_mass,
    "weighing_used": method.weighing_used,
    "residue": method.residue.as_ref().map(|residue| &residue.formula),
    "readability": method.readability,
    "balance_repeatability": Float(method.balance.0),
    "balance_linearity": Float(method.balance.1),
    "repeatability": method.repeatability.map(Float),
    "coverage": Float(method.coverage),
    "candidates": method.candidates,
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields, default)]
struct MethodFields {
    weights: AtomicWeights,
    constant_mass: ConstantMass,
    weighing_used: WeighingUsed,
    residue: Option<Formula>,
    readability: Option<Division>,
    balance_repeatability: Float,
    balance_linearity: Float,
    repeatability: Option<Float>,
    coverage: Float,
    candidates: Option<Vec<Ratio>>,
}

impl Default for MethodFields {
    fn default() -> Self {
        let method = Method::default();
        MethodFields {
            weights: method.weights,
            constant_mass: method.constant_mass,
            weighing_used: method.weighing_used,
            residue: None,
            readability: None,
            balance_repeatability: Float(method.balance.0),
            balance_linearity: Float(method.balance.1),
            repeatability: None,
            coverage: Float(method.coverage),
            candidates: method.candidates,
        }
    }
}

/// The smallest step of a balance in grams, perhaps with its unit.
struct Division(Ratio);

impl<'de> Deserialize<'de> for Division {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read_text(deserializer, READING_AS_TEXT, |text| {
            let reading = Reading::read_in(Unit::Gram, text, DecimalMark::Point);
            // A step of many decimal places was not written as a reading.
            let division = reading.map(|reading| reading.value());
            division
                .or_else(|error| text.parse().map_err(|_| error))
                .map(Division)
        })
    }
}

impl MethodFields {
    fn method(self) -> Result<Method, Error> {
        let mut method = Method::new()
            .weights(self.weights)
            .constant_mass(self.constant_mass)
            .weighing_used(self.weighing_used)
            .balance_repeatability(self.balance_repeatability.0)?
            .balance_linearity(self.balance_linearity.0)?
            .coverage(self.coverage.0)?;
        if let Some(Float(relative)) = self.repeatability {
            method = method.repeatability(relative)?;
        }
        if let Some(residue) = &self.residue {
            method = method.residue(residue)?;
        }
        if let Some(Division(division)) = self.readability {
            method.readability = Some(positive_division(division)?);
        }
        match self.candidates {
            Some(degrees) => method.candidates(degrees),
            None => Ok(method),
        }
    }
}

impl<'de> Deserialize<'de> for Method {
    /// Reads the rules of a laboratory. Every field may be left out.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let rules = r#"{"constant_mass": {"absolute": "0.002"}, "weighing_used": "lowest"}"#;
    /// let method: Method = serde_json::from_str(rules)?;
    /// assert_eq!(serde_json::from_str::<Method>(&serde_json::to_string(&method)?)?, method);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let method = MethodFields::deserialize(deserializer)?.method();
        method.map_err(|error| refusal(&error))
    }
}
