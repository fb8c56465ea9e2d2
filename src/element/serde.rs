//! The atomic weights of a calculation in serialised data, in the shape of the JSON-lines contract.

use ::serde::{Deserialize, Deserializer};

use super::edition::Edition;
use super::elements::Element;
use super::weights::{AtomicWeights, Rounding, Values};
use crate::number::{Reading, TieRule};
use crate::text::{BoundedCount, Detail, Setting, UniqueKeys, fields, given, refusal};

impl AtomicWeights {
    const fn rounded_to(&self) -> (Option<u8>, Option<u8>) {
        match self.rounding {
            None => (None, None),
            Some(Rounding::Decimals(n)) => (Some(n), None),
            Some(Rounding::Figures(n)) => (None, Some(n)),
        }
    }
}

fields!(AtomicWeights, weights, {
    "edition": weights.edition,
    "values": weights.values,
    "decimals": weights.rounded_to().0,
    "figures": weights.rounded_to().1,
    "ties": weights.ties,
    "override": weights.overrides,
});

given! {
    #[derive(Default)]
    struct WeightsFields {
        "edition" => edition: Edition,
        "values" => values: Values,
        "decimals" => decimals: Option<Setting<BoundedCount<u8>>>,
        "figures" => figures: Option<Setting<BoundedCount<u8>>>,
        "ties" => ties: Option<TieRule>,
        "override" => overrides: UniqueKeys<Element, Setting<Reading>>,
    }
}

impl<'de> Deserialize<'de> for AtomicWeights {
    /// Reads a table of weights. Every field may be left out.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// let table = r#"{"edition": "2021", "decimals": 1, "override": {"Cl": "35.5"}}"#;
    /// let weights: AtomicWeights = serde_json::from_str(table)?;
    /// assert_eq!(weights.to_string(), "IUPAC 2021, abridged, to 1 decimal, with Cl = 35.5");
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = WeightsFields::deserialize(deserializer)?;
        let mut weights = AtomicWeights::new(fields.edition).values(fields.values);
        weights = match (fields.decimals, fields.figures) {
            (None, None) => weights,
            (Some(Setting(BoundedCount(decimals))), None) => weights.decimals(decimals),
            (None, Some(Setting(BoundedCount(figures)))) => weights.figures(figures),
            (Some(_), Some(_)) => {
                let message = "a table cannot be rounded both to decimals and to figures";
                return Err(refusal(
                    &Detail::new(message).help("give `decimals` or `figures`"),
                ));
            }
        };
        if let Some(ties) = fields.ties {
            weights = weights.ties(ties);
        }
        let mut overrides = fields.overrides.0.into_iter();
        let with = overrides.try_fold(weights, |weights, (element, Setting(weight))| {
            weights.with(element, weight)
        });
        with.map_err(|error| refusal(&error))
    }
}

/// The weights as a request of the JSON-lines contract states them: the edition and the column always, the rest
/// only where the table differs from the edition.
#[cfg(feature = "exercise")]
pub(crate) struct StatedWeights<'w>(pub(crate) &'w AtomicWeights);

#[cfg(feature = "exercise")]
impl ::serde::Serialize for StatedWeights<'_> {
    fn serialize<S: ::serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use ::serde::ser::SerializeMap;
        let (decimals, figures) = self.0.rounded_to();
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("edition", &self.0.edition)?;
        map.serialize_entry("values", &self.0.values)?;
        if let Some(decimals) = decimals {
            map.serialize_entry("decimals", &decimals)?;
        }
        if let Some(figures) = figures {
            map.serialize_entry("figures", &figures)?;
        }
        if !self.0.overrides.is_empty() {
            map.serialize_entry("override", &self.0.overrides)?;
        }
        map.end()
    }
}
