//! A policy in serialised data, in the shape of the JSON-lines contract.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::vec::Vec;

use ::serde::ser::SerializeStruct;
use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::mark_step::MarkStep;
use super::rules::{FiguresRule, FormulaRule, Policy, Stock, bad};
use super::tolerance::{Band, Tolerance};
use crate::class::{Error, Marks};
use crate::gravimetry::{Percent, Quantity, Weighings};
use crate::mistake::Fault;
use crate::number::Reading;
use crate::text::{
    Detail, Setting, UniqueKeys, given, no_code, read_text, refusal, required, the_only,
};

given! {
    /// A band whose width is in the unit of the quantity.
    #[derive(Default)]
    struct BandFields {
        "within" => within: Option<Setting<Reading>>,
        "marks" => marks: Option<Marks>,
    }
}

given! {
    /// A band whose width is in per cent.
    #[derive(Default)]
    struct PercentBandFields {
        "within_percent" => within: Option<Setting<Percent>>,
        "marks" => marks: Option<Marks>,
    }
}

impl BandFields {
    fn band(self) -> Result<Band, Detail> {
        const HELP: &str = "give each band, such as {\"within\": 0.2, \"marks\": 2}";
        let Setting(within) = required(self.within, "within", HELP)?;
        Ok(Band::new(within, required(self.marks, "marks", HELP)?))
    }
}

impl PercentBandFields {
    fn band(self) -> Result<Band, Detail> {
        const HELP: &str = "give each band, such as {\"within_percent\": 1, \"marks\": 2}";
        let Setting(Percent(within)) = required(self.within, "within_percent", HELP)?;
        Ok(Band::new(within, required(self.marks, "marks", HELP)?))
    }
}

fn percent_bands(given: Vec<PercentBandFields>) -> Result<Vec<Band>, Detail> {
    given.into_iter().map(PercentBandFields::band).collect()
}

/// A band with the name of its width.
struct NamedBand<'a>(&'static str, &'a Band);

impl Serialize for NamedBand<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let NamedBand(name, band) = self;
        let mut out = serializer.serialize_struct("Band", 2)?;
        out.serialize_field(name, &band.within())?;
        out.serialize_field("marks", &band.marks())?;
        out.end()
    }
}

/// Returns bands with the name of their widths.
fn named<'a>(name: &'static str, bands: &'a [Band]) -> Vec<NamedBand<'a>> {
    bands.iter().map(|band| NamedBand(name, band)).collect()
}

/// The word `whole`.
struct Whole;

impl<'de> Deserialize<'de> for Whole {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        const WHOLE: &str = "whole";
        read_text(deserializer, "the word `whole`", |text| match text {
            WHOLE => Ok(Whole),
            _ => Err(no_code(text, "rounded values", &[WHOLE])),
        })
    }
}

impl Serialize for Tolerance {
    /// Writes an object with one field: `absolute`, `percent`, `nearest`, `bands` or `percent_bands`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Tolerance", 1)?;
        match self {
            Tolerance::Absolute(width) => out.serialize_field("absolute", width),
            Tolerance::RelativePercent(width) => out.serialize_field("percent", width),
            Tolerance::NearestWhole => out.serialize_field("nearest", "whole"),
            Tolerance::Bands(bands) => out.serialize_field("bands", &named("within", bands)),
            Tolerance::PercentBands(bands) => {
                out.serialize_field("percent_bands", &named("within_percent", bands))
            }
        }?;
        out.end()
    }
}

given! {
    /// A tolerance, of which one form is given.
    #[derive(Default)]
    struct ToleranceFields {
        "absolute" => absolute: Option<Setting<Reading>>,
        "percent" => percent: Option<Setting<Percent>>,
        "nearest" => nearest: Option<Whole>,
        "bands" => bands: Option<Vec<BandFields>>,
        "percent_bands" => percent_bands: Option<Vec<PercentBandFields>>,
    }
}

impl ToleranceFields {
    fn tolerance(self) -> Result<Tolerance, Detail> {
        const HELP: &str =
            "give one of `absolute`, `percent`, `nearest`, `bands` and `percent_bands`";
        let absolute = self
            .absolute
            .map(|Setting(width)| Tolerance::Absolute(width));
        let percent = self.percent;
        let percent = percent.map(|Setting(Percent(width))| Tolerance::RelativePercent(width));
        let bands = self
            .bands
            .map(|bands| bands.into_iter().map(BandFields::band).collect());
        let percent_bands = self.percent_bands.map(percent_bands);
        let forms = [
            ("absolute", absolute),
            ("percent", percent),
            ("nearest", self.nearest.map(|Whole| Tolerance::NearestWhole)),
            ("bands", bands.transpose()?.map(Tolerance::Bands)),
            (
                "percent_bands",
                percent_bands.transpose()?.map(Tolerance::PercentBands),
            ),
        ];
        the_only(forms, "tolerance", HELP)
    }
}

impl<'de> Deserialize<'de> for Tolerance {
    /// Reads an object with one field: `absolute`, `percent`, `nearest`, `bands` or `percent_bands`. As in
    /// Rust, the [`Policy`] that takes the tolerance checks it.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let tolerance = ToleranceFields::deserialize(deserializer)?.tolerance();
        tolerance.map_err(|detail| refusal(&detail))
    }
}

impl Serialize for MarkStep {
    /// Writes the size of the step, 1 or 0.5.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.size().serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for MarkStep {
    /// Reads the size of a step: 1 or 0.5.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let size = Marks::deserialize(deserializer)?;
        MarkStep::of_size(&size.value()).ok_or_else(|| {
            let message = format!("marks cannot be given in steps of {size}");
            refusal(&bad(
                Detail::new(message).help("give 1 for whole marks or 0.5 for half marks")
            ))
        })
    }
}

#[derive(Serialize)]
struct PolicyFields<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    step: Option<MarkStep>,
    marks: &'a BTreeMap<Quantity, Marks>,
    figures: FiguresRule,
    #[serde(skip_serializing_if = "Option::is_none")]
    formula: Option<FormulaRule>,
    tolerance: &'a BTreeMap<Quantity, Tolerance>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    accuracy: Vec<NamedBand<'a>>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    priors: &'a BTreeMap<Fault, Reading>,
    #[serde(skip_serializing_if = "Option::is_none")]
    issued_percent_water: Option<&'a Reading>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stock: Option<&'a Weighings>,
}

impl Serialize for Policy {
    /// Writes the fields that a policy in JSON has, and those that are set.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let (issued_percent_water, stock) = match self.stock_content() {
            None => (None, None),
            Some(Stock::PercentWater(percent)) => (Some(percent), None),
            Some(Stock::Weighings(weighings)) => (None, Some(weighings)),
        };
        let fields = PolicyFields {
            step: (self.step != MarkStep::default()).then_some(self.step),
            marks: &self.marks,
            figures: self.figures,
            formula: (self.formula != FormulaRule::default()).then_some(self.formula),
            tolerance: &self.tolerances,
            accuracy: named("within_percent", &self.accuracy),
            priors: &self.priors,
            issued_percent_water,
            stock,
        };
        fields.serialize(serializer)
    }
}

given! {
    #[derive(Default)]
    struct GivenPolicy {
        "step" => step: MarkStep,
        "marks" => marks: UniqueKeys<Quantity, Marks>,
        "figures" => figures: FiguresRule,
        "formula" => formula: FormulaRule,
        "tolerance" => tolerance: UniqueKeys<Quantity, Tolerance>,
        "accuracy" => accuracy: Option<Vec<PercentBandFields>>,
        "priors" => priors: UniqueKeys<Fault, Setting<Reading>>,
        "issued_percent_water" => issued_percent_water: Option<Setting<Percent>>,
        "stock" => stock: Option<Weighings>,
    }
}

impl GivenPolicy {
    fn policy(self) -> Result<Policy, Error> {
        let mut policy = Policy::new()
            .step(self.step)?
            .figures(self.figures)
            .formula(self.formula);
        for (quantity, marks) in self.marks.0 {
            policy = policy.marks(quantity, marks)?;
        }
        for (quantity, tolerance) in self.tolerance.0 {
            policy = policy.tolerance(quantity, tolerance)?;
        }
        if let Some(bands) = self.accuracy {
            policy = policy.accuracy(percent_bands(bands).map_err(bad)?)?;
        }
        let priors = self.priors.0.into_iter();
        policy = policy.priors(priors.map(|(fault, Setting(probability))| (fault, probability)))?;
        let stock = match (self.issued_percent_water, self.stock) {
            (None, None) => return Ok(policy),
            (Some(Setting(Percent(percent))), None) => Stock::checked(percent).map_err(bad)?,
            (None, Some(weighings)) => Stock::Weighings(weighings),
            (Some(_), Some(_)) => {
                let message = "`issued_percent_water` and `stock` both say what the stock holds";
                return Err(bad(Detail::new(message).help("give only one of them")));
            }
        };
        Ok(policy.stock(stock))
    }
}

impl<'de> Deserialize<'de> for Policy {
    /// Reads a policy in the shape of the JSON-lines contract. Every field may be left out. `stock` may
    /// hold the technician's own readings, in any of their forms.
    ///
    /// ```
    /// use effloresce::class::Policy;
    /// let json = r#"{"marks": {"ratio": 3}, "tolerance": {"percent_water": {"absolute": "0.5"}}}"#;
    /// let policy: Policy = serde_json::from_str(json)?;
    /// let toml = "marks.ratio = 3\ntolerance.percent_water.absolute = 0.5";
    /// assert_eq!(policy, Policy::from_toml(toml)?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let policy = GivenPolicy::deserialize(deserializer)?.policy();
        policy.map_err(|error| refusal(&error))
    }
}
