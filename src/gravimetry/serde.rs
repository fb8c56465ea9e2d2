//! Results in the shape of the JSON-lines contract; outcomes and readings in that shape, both ways.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::str::FromStr;

use ::serde::ser::SerializeStruct;
use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::advice::Check;
use super::constant_mass::Constancy;
use super::defensible::Defensible;
use super::dehydration::Dehydration;
use super::hazard::HeatingSafety;
use super::interval::Interval;
use super::issued::Plateau;
use super::outcome::{Candidate, Outcome};
use super::plan::{MassLimits, Plan, PlannedBalance, PlannedSample};
use super::quantity::Quantity;
use super::salts::HeatingStage;
use super::sensitivity::Sensitivity;
use super::weighings::{Net, Weighings, WeighingsForm};
use crate::formula::Formula;
use crate::number::{self, DecimalMark, READING_AS_TEXT, Ratio, Reading, Rounded, TieRule, Unit};
use crate::text::{Detail, Fields, fields, given, list, no_code, read_text, refusal};

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
    ..it.safety()
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
    "swap": it.swap(),
    "expected_last": it.expected_last().map(Ratio::to_plain),
    "still_to_lose": it.still_to_lose().map(Ratio::to_plain),
    "plateaus": it.expectation.as_ref().map(|known| &known.plateaus),
    "constant_mass": it.constant_mass(),
    ..it.safety()
});

fields!(Plan, it, {
    "issued": it.issued(),
    "weigh_between": it.weigh_between,
    "limits": it.limits(),
    "expected_residue": it.expected_residue().to_plain(),
    "expected_loss": it.expected_loss().to_plain(),
    "balances": it.balances(),
    "total_mass": it.total_mass().map(|mass| mass.to_plain()),
    "samples": it.samples(),
    "heating": it.heating_stages(),
    "reasons": it.reasons(),
    ..it.safety()
});

fields!(PlannedBalance, it, {
    "readability": it.readability().to_plain(),
    "resolution": it.limits().resolution().map(Rounded::to_string),
});

fields!(PlannedSample, it, {
    "hydrate": it.hydrate().to_plain(),
    "residue": it.residue().to_plain(),
    "loss": it.loss().to_plain(),
    "expanded_uncertainties": it.expanded_uncertainties(),
});

fields!(HeatingStage, it, {
    "from": it.from(),
    "to": it.to(),
    "celsius": it.celsius(),
    "conditions": it.conditions(),
    "source": it.source(),
});

fields!(MassLimits, it, {
    "resolution": it.resolution().map(Rounded::to_string),
    "relative": it.relative().map(Rounded::to_string),
    "practical": it.practical().to_string(),
});

fields!(HeatingSafety, it, {
    "suitable": it.suitable(),
    "hazard": it.severity(),
    "cautions": it.cautions(),
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

impl Serialize for Outcome {
    /// Writes `outcome`, `formula` (null if there is not exactly one), and `formulas` if it is ambiguous.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let formulas = match self {
            Outcome::Ambiguous(formulas) => Some(formulas),
            _ => None,
        };
        let count = 2 + usize::from(formulas.is_some());
        let mut out = serializer.serialize_struct("Outcome", count)?;
        out.serialize_field("outcome", self.code())?;
        out.serialize_field("formula", &self.formula())?;
        if let Some(formulas) = formulas {
            out.serialize_field("formulas", formulas)?;
        }
        out.end()
    }
}

given! {
    #[derive(Default)]
    struct OutcomeFields {
        "outcome" => code: Option<String>,
        "formula" => formula: Option<Formula>,
        "formulas" => formulas: Option<Vec<Formula>>,
    }
}

impl OutcomeFields {
    fn outcome(self) -> Result<Outcome, Detail> {
        const CODES: [&str; 4] = ["resolved", "approximate", "ambiguous", "inconsistent"];
        let code = self.code.as_deref().unwrap_or_default();
        match (code, self.formula, self.formulas) {
            ("resolved", Some(formula), None) => Ok(Outcome::Resolved(formula)),
            ("approximate", Some(formula), None) => Ok(Outcome::Approximate(formula)),
            ("ambiguous", None, Some(formulas)) => Ok(Outcome::Ambiguous(formulas)),
            ("inconsistent", None, None) => Ok(Outcome::Inconsistent),
            ("resolved" | "approximate", ..) => {
                let detail = Detail::new(format!("the outcome `{code}` has exactly one formula"));
                Err(detail.help("give it as `formula`, and leave `formulas` out"))
            }
            ("ambiguous", ..) => {
                let detail = Detail::new("the outcome `ambiguous` has several formulas");
                Err(detail.help("give them as `formulas`, and leave `formula` out"))
            }
            ("inconsistent", ..) => {
                let detail = Detail::new("the outcome `inconsistent` has no formula");
                Err(detail.help("leave `formula` and `formulas` out"))
            }
            ("", ..) => {
                let help = no_code(code, "outcomes", &CODES).help.unwrap_or_default();
                Err(Detail::new("`outcome` is missing").help(help))
            }
            _ => Err(no_code(code, "outcomes", &CODES)),
        }
    }
}

impl<'de> Deserialize<'de> for Outcome {
    /// Reads an outcome as it is written.
    ///
    /// ```
    /// use effloresce::gravimetry::Outcome;
    /// let outcome = r#"{"outcome": "approximate", "formula": "MgSO4·7H2O"}"#;
    /// let outcome: Outcome = serde_json::from_str(outcome)?;
    /// assert_eq!(outcome, Outcome::Approximate("MgSO4·7H2O".parse()?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let outcome = OutcomeFields::deserialize(deserializer)?.outcome();
        outcome.map_err(|detail| refusal(&detail))
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

impl FromStr for Grams {
    type Err = number::Error;

    fn from_str(text: &str) -> Result<Self, number::Error> {
        Reading::read_in(Unit::Gram, text, DecimalMark::Point).map(Grams)
    }
}

impl<'de> Deserialize<'de> for Grams {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read_text(deserializer, READING_AS_TEXT, str::parse)
    }
}

/// A percentage. Its text may have the sign `%`.
#[derive(Clone, Copy, Serialize)]
#[serde(transparent)]
pub(crate) struct Percent(pub(crate) Reading);

impl FromStr for Percent {
    type Err = number::Error;

    fn from_str(text: &str) -> Result<Self, number::Error> {
        Reading::read_in(Unit::Percent, text, DecimalMark::Point).map(Percent)
    }
}

impl<'de> Deserialize<'de> for Percent {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read_text(deserializer, READING_AS_TEXT, str::parse)
    }
}

given! {
    /// The readings of one bench, of which those of one form are given.
    #[derive(Default)]
    pub(crate) struct WeighingsFields {
        "crucible" => crucible: Option<Grams>,
        "crucible_hydrate" => crucible_hydrate: Option<Grams>,
        "heated" => heated: Option<Vec<Grams>>,
        "hydrate_mass" => hydrate_mass: Option<Grams>,
        "residue_mass" => residue_mass: Option<Grams>,
        "net" => net: Option<Net>,
        "percent_water" => percent_water: Option<Percent>,
    }
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
