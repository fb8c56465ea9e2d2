//! The rules of a laboratory in the shape of the JSON-lines contract, both ways.

use alloc::format;
use alloc::vec::Vec;
use core::str::FromStr;

use ::serde::ser::SerializeStruct;
use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::constant_mass::ConstantMass;
use super::error::Error;
use super::method::{Method, balance_division};
use super::serde::Grams;
use super::weighings::WeighingUsed;
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{self, Ratio, Reading};
use crate::text::{BoundedCount, Detail, Setting, fields, given, refusal, shorten, the_only};

given! {
    /// The criterion for constant mass, of which one form is given.
    #[derive(Default)]
    struct CriterionFields {
        "divisions" => divisions: Option<Setting<BoundedCount<u32>>>,
        "absolute" => absolute: Option<Setting<Grams>>,
        "per_gram" => per_gram: Option<Setting<Reading>>,
        "relative" => relative: Option<Setting<Reading>>,
    }
}

impl Serialize for ConstantMass {
    /// Writes an object with one field: `divisions`, `absolute`, `per_gram` or `relative`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("ConstantMass", 1)?;
        match self {
            ConstantMass::Divisions(divisions) => out.serialize_field("divisions", divisions),
            ConstantMass::Absolute(limit) => out.serialize_field("absolute", limit),
            ConstantMass::PerGram(limit) => out.serialize_field("per_gram", limit),
            ConstantMass::Relative(limit) => out.serialize_field("relative", limit),
        }?;
        out.end()
    }
}

impl<'de> Deserialize<'de> for ConstantMass {
    /// Reads an object with one field: `divisions`, `absolute`, `per_gram` or `relative`.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        const HELP: &str =
            "give one of `divisions`, `absolute` (grams), `per_gram` and `relative` (a fraction)";
        let given = CriterionFields::deserialize(deserializer)?;
        let divisions = given
            .divisions
            .map(|Setting(BoundedCount(n))| ConstantMass::Divisions(n));
        let absolute = given
            .absolute
            .map(|Setting(Grams(limit))| ConstantMass::Absolute(limit));
        let per_gram = given
            .per_gram
            .map(|Setting(limit)| ConstantMass::PerGram(limit));
        let relative = given
            .relative
            .map(|Setting(limit)| ConstantMass::Relative(limit));
        let forms = [
            ("divisions", divisions),
            ("absolute", absolute),
            ("per_gram", per_gram),
            ("relative", relative),
        ];
        let criterion = the_only(forms, "criterion", HELP).map_err(|detail| refusal(&detail))?;
        criterion.checked().map_err(|error| refusal(&error))
    }
}

/// A number in binary floating point, written as text so that it is read back exactly.
struct Float(f64);

impl Serialize for Float {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&format_args!("{:?}", self.0))
    }
}

impl FromStr for Float {
    type Err = Detail;

    fn from_str(text: &str) -> Result<Self, Detail> {
        text.parse().map(Float).map_err(|_| {
            let detail = Detail::new(format!("`{}` is not a number", shorten(text)));
            detail.help("write digits and one decimal point, such as 0.003")
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

given! {
    struct MethodFields {
        "weights" => weights: AtomicWeights,
        "constant_mass" => constant_mass: ConstantMass,
        "weighing_used" => weighing_used: WeighingUsed,
        "residue" => residue: Option<Formula>,
        "readability" => readability: Option<Setting<Division>>,
        "balance_repeatability" => balance_repeatability: Setting<Float>,
        "balance_linearity" => balance_linearity: Setting<Float>,
        "repeatability" => repeatability: Option<Setting<Float>>,
        "coverage" => coverage: Setting<Float>,
        "candidates" => candidates: Option<Vec<Setting<Ratio>>>,
    }
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
            balance_repeatability: Setting(Float(method.balance.0)),
            balance_linearity: Setting(Float(method.balance.1)),
            repeatability: None,
            coverage: Setting(Float(method.coverage)),
            candidates: None,
        }
    }
}

/// The smallest step of a balance in grams, perhaps with its unit.
struct Division(Ratio);

impl FromStr for Division {
    type Err = number::Error;

    fn from_str(text: &str) -> Result<Self, number::Error> {
        let division = text.parse().map(|Grams(step)| step.value());
        // A step of many decimal places was not written as a reading.
        let division = division.or_else(|error| text.parse().map_err(|_| error));
        division.map(Division)
    }
}

impl MethodFields {
    fn method(self) -> Result<Method, Error> {
        let mut method = Method::new()
            .weights(self.weights)
            .constant_mass(self.constant_mass)
            .weighing_used(self.weighing_used)
            .balance_repeatability(self.balance_repeatability.0.0)?
            .balance_linearity(self.balance_linearity.0.0)?
            .coverage(self.coverage.0.0)?;
        if let Some(Setting(Float(relative))) = self.repeatability {
            method = method.repeatability(relative)?;
        }
        if let Some(residue) = &self.residue {
            method = method.residue(residue)?;
        }
        if let Some(Setting(Division(division))) = self.readability {
            method.readability = Some(balance_division(division)?);
        }
        match self.candidates {
            Some(degrees) => method.candidates(degrees.into_iter().map(|Setting(degree)| degree)),
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
