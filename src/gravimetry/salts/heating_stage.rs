//! One stage of heating, as a thermal analysis saw it.

use super::source::Source;
use crate::formula::Formula;

/// A stage of heating, as a source describes it. Temperatures depend on the conditions: on the rate of
/// heating, on the depth of the powder, and on the vapour over it.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let copper = salt_facts(&"CuSO4".parse()?).unwrap();
/// let first = &copper.stages()[0];
/// assert_eq!((first.from().to_string(), first.to().to_string()), ("CuSO4·5H2O".into(), "CuSO4·3H2O".into()));
/// assert_eq!(first.celsius(), (97, 102));
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct HeatingStage {
    from: Formula,
    to: Formula,
    celsius: [u16; 2],
    conditions: &'static str,
    source: Source,
}

impl HeatingStage {
    /// The stage of a salt from a degree to a degree or to another residue; `None` if they do not
    /// parse.
    pub(super) fn new(
        salt: &Formula,
        (from, to): (&str, &str),
        celsius: [u16; 2],
        conditions: &'static str,
        source: Source,
    ) -> Option<HeatingStage> {
        let hydrate = |degree: &str| salt.with_waters(&degree.parse().ok()?);
        Some(HeatingStage {
            from: hydrate(from)?,
            to: hydrate(to).or_else(|| to.parse().ok())?,
            celsius,
            conditions,
            source,
        })
    }

    /// The solid that is heated.
    #[must_use]
    pub fn from(&self) -> &Formula {
        &self.from
    }

    /// The solid that is left.
    #[must_use]
    pub fn to(&self) -> &Formula {
        &self.to
    }

    /// The temperatures of the stage in degrees Celsius, lowest and highest. They are equal if the source
    /// gives one temperature, such as that of a peak.
    #[must_use]
    pub fn celsius(&self) -> (u16, u16) {
        let [lowest, highest] = self.celsius;
        (lowest, highest)
    }

    /// The conditions, such as "in air, 10 K/min", or the words "conditions not given" if the source names none.
    ///
    /// ```
    /// use effloresce::gravimetry::salt_facts;
    /// let cobalt = salt_facts(&"CoSO4".parse()?).unwrap();
    /// assert!(cobalt.stages().iter().any(|stage| stage.conditions() == "conditions not given"));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn conditions(&self) -> &'static str {
        match self.conditions {
            "" => "conditions not given",
            conditions => conditions,
        }
    }

    /// The publication, or the words that there is none.
    #[must_use]
    pub fn source(&self) -> &'static str {
        self.source.publication()
    }
}
