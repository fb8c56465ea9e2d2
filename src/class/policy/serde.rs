//! A policy in serialised data, in the shape of the JSON-lines contract.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::vec::Vec;

use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::mark_step::MarkStep;
use super::rules::{FiguresRule, FormulaRule, Policy, Stock, bad};
use super::tolerance::{Band, Tolerance};
use crate::class::{Error, Marks};
use crate::gravimetry::{Percent, Quantity, Weighings};
use crate::number::Reading;
use crate::text::{Detail, UniqueKeys, refusal};

/// A band whose width is in the unit of the quantity.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BandFields {
    within: Reading,
    marks: Marks,
}

/// A band whose width is in per cent.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PercentBandFields {
    within_percent: Percent,
    marks: Marks,
}

impl From<&Band> for BandFields {
    fn from(band: &Band) -> Self {
        BandFields {
            within: band.within(),
            marks: band.marks(),
        }
    }
}

impl From<BandFields> for Band {
    fn from(band: BandFields) -> Self {
        Band::new(band.within, band.marks)
    }
}

impl From<&Band> for PercentBandFields {
    fn from(band: &Band) -> Self {
        PercentBandFields {
            within_percent: Percent(band.within()),
            marks: band.marks(),
        }
    }
}

impl From<PercentBandFields> for Band {
    fn from(band: PercentBandFields) -> Self {
        Band::new(band.within_percent.0, band.marks)
    }
}

/// Returns bands in another form.
fn all<'a, A: 'a, B: From<A>>(bands: impl IntoIterator<Item = A>) -> Vec<B> {
    bands.into_iter().map(B::from).collect()
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Whole {
    Whole,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum ToleranceFields {
    Absolute(Reading),
    Percent(Percent),
    Nearest(Whole),
    Bands(Vec<BandFields>),
    PercentBands(Vec<PercentBandFields>),
}

impl Serialize for Tolerance {
    /// Writes an object with one field: `absolute`, `percent`, `nearest`, `bands` or `percent_bands`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let fields = match self {
            Tolerance::Absolute(width) => ToleranceFields::Absolute(*width),
            Tolerance::RelativePercent(width) => ToleranceFields::Percent(Percent(*width)),
            Tolerance::NearestWhole => ToleranceFields::Nearest(Whole::Whole),
            Tolerance::Bands(bands) => ToleranceFields::Bands(all(bands)),
            Tolerance::PercentBands(bands) => ToleranceFields::PercentBands(all(bands)),
        };
        fields.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Tolerance {
    /// Reads an object with one field: `absolute`, `percent`, `nearest`, `bands` or `percent_bands`. As in
    /// Rust, the [`Policy`] that takes the tolerance checks it.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(match ToleranceFields::deserialize(deserializer)? {
            ToleranceFields::Absolute(width) => Tolerance::Absolute(width),
            ToleranceFields::Percent(Percent(width)) => Tolerance::RelativePercent(width),
            ToleranceFields::Nearest(Whole::Whole) => Tolerance::NearestWhole,
            ToleranceFields::Bands(bands) => Tolerance::Bands(all(bands)),
            ToleranceFields::PercentBands(bands) => Tolerance::PercentBands(all(bands)),
        })
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
    accuracy: Vec<PercentBandFields>,
    #[serde(skip_serializing_if = "Option::is_none")]
    issued_percent_water: Option<Percent>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stock: Option<&'a Weighings>,
}

impl Serialize for Policy {
    /// Writes the fields that a policy in JSON has, and those that are set.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let (issued_percent_water, stock) = match self.stock_content() {
            None => (None, None),
            Some(Stock::PercentWater(percent)) => (Some(Percent(*percent)), None),
            Some(Stock::Weighings(weighings)) => (None, Some(weighings)),
        };
        let fields = PolicyFields {
            step: (self.step != MarkStep::default()).then_some(self.step),
            marks: &self.marks,
            figures: self.figures,
            formula: (self.formula != FormulaRule::default()).then_some(self.formula),
            tolerance: &self.tolerances,
            accuracy: all(&self.accuracy),
            issued_percent_water,
            stock,
        };
        fields.serialize(serializer)
    }
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct GivenPolicy {
    step: MarkStep,
    marks: UniqueKeys<Quantity, Marks>,
    figures: FiguresRule,
    formula: FormulaRule,
    tolerance: UniqueKeys<Quantity, Tolerance>,
    accuracy: Option<Vec<PercentBandFields>>,
    issued_percent_water: Option<Percent>,
    stock: Option<Weighings>,
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
            policy = policy.accuracy(all::<_, Band>(bands))?;
        }
        let stock = match (self.issued_percent_water, self.stock) {
            (None, None) => return Ok(policy),
            (Some(Percent(percent)), None) => Stock::checked(percent).map_err(bad)?,
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
