//! What the catalogue knows of one salt.

use alloc::vec::Vec;

use super::decomposition::Decomposition;
use super::fact::{Fact, FactRow};
use super::hazard_statement::HazardStatement;
use super::heating_stage::HeatingStage;
use super::severity::Severity;
use super::source::Source;
use super::sourced::Sourced;
use super::suitability::Suitability;
use super::waste::Waste;
use crate::formula::Formula;
use crate::number::Ratio;

/// The facts that the catalogue has on an anhydrous salt and its hydrates. What it does not know is `None` or
/// empty. It does not replace the safety data sheet.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let gypsum = salt_facts(&"CaSO4·2H2O".parse()?).unwrap();
/// assert_eq!(gypsum.salt().to_string(), "CaSO4");
/// let degrees: Vec<String> = gypsum.known_hydrates().iter().map(|n| n.to_string()).collect();
/// assert_eq!(degrees, ["0.5", "2"]);
/// assert!(gypsum.hydrate_source(&"2".parse().unwrap()).is_some());
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct SaltFacts {
    salt: Formula,
    written: &'static str,
    degrees: Vec<Ratio>,
    /// Each with the degree at the same index.
    degree_sources: Vec<Source>,
    bottled: Option<Sourced<Ratio>>,
    no_hydrate: Option<Source>,
    taught: bool,
    plateaus: Option<Vec<Ratio>>,
    stages: Vec<HeatingStage>,
    decompositions: Vec<Decomposition>,
    heat_remark: Option<Sourced<&'static str>>,
    suitability: Option<(Sourced<Suitability>, &'static str)>,
    safe_up_to: Option<Sourced<u16>>,
    no_safe_stage: Option<Sourced<&'static str>>,
    no_sign: Option<Sourced<&'static str>>,
    melting: Vec<(Ratio, Sourced<Option<u16>>)>,
    hazard_statements: Vec<Sourced<HazardStatement>>,
    hazard_words: Option<Sourced<&'static str>>,
    not_classified: Option<Source>,
    severity: Option<Sourced<Severity>>,
    waste: Option<Sourced<Waste>>,
    enthalpies: Vec<(Ratio, Sourced<Ratio>)>,
}

impl SaltFacts {
    /// The facts of these rows about one salt. Rows that do not parse are left out; a test fails if there
    /// are any.
    pub(super) fn of(rows: &[FactRow]) -> Option<SaltFacts> {
        let mut facts = SaltFacts::new(rows.first()?.salt)?;
        for row in rows {
            let _ = facts.add(row);
        }
        Some(facts)
    }

    /// No facts yet about a salt; `None` if its formula does not parse.
    pub(super) fn new(written: &'static str) -> Option<SaltFacts> {
        Some(SaltFacts {
            salt: written.parse().ok()?,
            written,
            degrees: Vec::new(),
            degree_sources: Vec::new(),
            bottled: None,
            no_hydrate: None,
            taught: false,
            plateaus: None,
            stages: Vec::new(),
            decompositions: Vec::new(),
            heat_remark: None,
            suitability: None,
            safe_up_to: None,
            no_safe_stage: None,
            no_sign: None,
            melting: Vec::new(),
            hazard_statements: Vec::new(),
            hazard_words: None,
            not_classified: None,
            severity: None,
            waste: None,
            enthalpies: Vec::new(),
        })
    }

    /// Adds the fact of a row; `None` if it does not parse, or belongs to a row that is not there.
    pub(super) fn add(&mut self, row: &FactRow) -> Option<()> {
        let source = row.source;
        match row.fact {
            Fact::Degree(waters) => self.add_degree(waters.parse().ok()?, source),
            Fact::Bottled(waters) => {
                self.bottled = Some(Sourced::new(waters.parse().ok()?, source));
            }
            Fact::Taught => self.taught = true,
            Fact::NoHydrate => self.no_hydrate = Some(source),
            Fact::Plateau(waters) | Fact::VapourPlateau(waters) => {
                let plateaus = self.plateaus.get_or_insert_default();
                insert(plateaus, waters.parse().ok()?);
            }
            Fact::NoPlateau => self.plateaus = Some(Vec::new()),
            Fact::Stage(from, to, celsius, conditions) => {
                let ends = (from, to);
                let stage = HeatingStage::new(&self.salt, ends, celsius, conditions, source)?;
                self.stages.push(stage);
            }
            Fact::Residue(residue, per_salt, gases) => {
                let decomposition = Decomposition::new(residue, per_salt, gases, source)?;
                self.decompositions.push(decomposition);
            }
            Fact::MarkedFrom(celsius) => {
                let last = self.decompositions.last_mut()?;
                last.mark(Sourced::new(celsius, source));
            }
            Fact::Sign(sign) => {
                let last = self.decompositions.last_mut()?;
                last.show(Sourced::new(sign, source));
            }
            Fact::NoSign(reason) => self.no_sign = Some(Sourced::new(reason, source)),
            Fact::HeatRemark(text) => self.heat_remark = Some(Sourced::new(text, source)),
            Fact::Suited(suitability, reason) => {
                self.suitability = Some((Sourced::new(suitability, source), reason));
            }
            Fact::SafeUpTo(celsius) => self.safe_up_to = Some(Sourced::new(celsius, source)),
            Fact::NoSafeStage(reason) => self.no_safe_stage = Some(Sourced::new(reason, source)),
            Fact::MeltsInItsWater(waters, celsius) => {
                let melting = (waters.parse().ok()?, Sourced::new(celsius, source));
                self.melting.push(melting);
            }
            Fact::Hazards(codes) => self.add_statements(codes, source)?,
            Fact::HazardWords(words) => self.hazard_words = Some(Sourced::new(words, source)),
            Fact::NotClassified => self.not_classified = Some(source),
            Fact::SchoolCare(severity) => self.severity = Some(Sourced::new(severity, source)),
            Fact::WasteRoute(waste) => self.waste = Some(Sourced::new(waste, source)),
            Fact::Enthalpy(waters, kilojoules) => {
                let enthalpy = Sourced::new(kilojoules.parse().ok()?, source);
                self.enthalpies.push((waters.parse().ok()?, enthalpy));
            }
        }
        Some(())
    }

    fn add_statements(&mut self, codes: &[&str], source: Source) -> Option<()> {
        for code in codes {
            let statement = HazardStatement::of(code)?;
            self.hazard_statements.push(Sourced::new(statement, source));
        }
        Some(())
    }

    /// Of several sources for one degree, the first counts.
    fn add_degree(&mut self, waters: Ratio, source: Source) {
        if let Err(index) = self.degrees.binary_search(&waters) {
            self.degrees.insert(index, waters);
            self.degree_sources.insert(index, source);
        }
    }

    /// Returns the anhydrous salt.
    #[must_use]
    pub fn salt(&self) -> &Formula {
        &self.salt
    }

    /// Returns the salt as it is usually written.
    #[cfg(feature = "class")]
    pub(crate) fn written(&self) -> &'static str {
        self.written
    }

    /// Returns the degrees of hydration that have been described, in ascending order.
    #[must_use]
    pub fn known_hydrates(&self) -> &[Ratio] {
        &self.degrees
    }

    /// Returns the publication that describes the hydrate of this degree.
    #[must_use]
    pub fn hydrate_source(&self, waters: &Ratio) -> Option<&'static str> {
        let index = self.degrees.binary_search(waters).ok()?;
        Some(self.degree_sources.get(index)?.publication())
    }

    /// Returns the degree of the hydrate that bottles of the salt usually hold; `None` if the catalogue does
    /// not know, or if it is the highest one.
    ///
    /// ```
    /// use effloresce::gravimetry::salt_facts;
    /// let manganese = salt_facts(&"MnSO4".parse()?).unwrap();
    /// assert_eq!(*manganese.bottled().unwrap().value(), 1.into());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn bottled(&self) -> Option<&Sourced<Ratio>> {
        self.bottled.as_ref()
    }

    /// Returns the publication that lists the salt without any hydrate, if the catalogue has it as a
    /// salt without hydrates at room temperature.
    #[must_use]
    pub fn no_hydrate_source(&self) -> Option<&'static str> {
        self.no_hydrate.map(Source::publication)
    }

    /// Whether teaching laboratories give out its hydrates.
    pub(crate) fn is_taught(&self) -> bool {
        self.taught
    }

    /// Returns the lower hydrates at which heating may seem to be finished, in ascending order; `None` if
    /// the catalogue does not know. See [`plateau_hydrates`](super::plateau_hydrates).
    #[must_use]
    pub fn plateaus(&self) -> Option<&[Ratio]> {
        self.plateaus.as_deref()
    }

    /// Returns the stages of heating, those of one source together.
    #[must_use]
    pub fn stages(&self) -> &[HeatingStage] {
        &self.stages
    }

    /// Returns the decompositions of the salt, in the order in which they occur on heating.
    #[must_use]
    pub fn decompositions(&self) -> &[Decomposition] {
        &self.decompositions
    }

    /// Returns the remark that a burner leaves all of the salt, or nothing, as a clause whose subject is
    /// the salt.
    #[must_use]
    pub fn heat_remark(&self) -> Option<&Sourced<&'static str>> {
        self.heat_remark.as_ref()
    }

    /// Returns the suitability for the loss-on-heating experiment.
    #[must_use]
    pub fn suitability(&self) -> Option<&Sourced<Suitability>> {
        self.suitability
            .as_ref()
            .map(|(suitability, _)| suitability)
    }

    /// Returns the reason of [`suitability`](Self::suitability), as a clause.
    #[must_use]
    pub fn suitability_reason(&self) -> Option<&'static str> {
        self.suitability.as_ref().map(|(_, reason)| *reason)
    }

    /// Returns the temperature of the hottest stage that leaves the anhydrous salt whole, in degrees
    /// Celsius.
    #[must_use]
    pub fn safe_up_to_celsius(&self) -> Option<&Sourced<u16>> {
        self.safe_up_to.as_ref()
    }

    /// Returns the reason why no stage leaves the anhydrous salt whole, as a clause; `None` if one does, or if
    /// the catalogue does not know.
    ///
    /// ```
    /// use effloresce::gravimetry::salt_facts;
    /// let chloride = salt_facts(&"MgCl2".parse()?).unwrap();
    /// assert_eq!(*chloride.no_safe_stage().unwrap().value(), "hydrogen chloride leaves with the last water");
    /// assert!(chloride.safe_up_to_celsius().is_none());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn no_safe_stage(&self) -> Option<&Sourced<&'static str>> {
        self.no_safe_stage.as_ref()
    }

    /// Returns the reason why nobody sees that the salt is heated too far, as a clause; `None` if there is a
    /// [sign](Decomposition::sign), or if the catalogue does not know.
    ///
    /// ```
    /// use effloresce::gravimetry::salt_facts;
    /// let sulfate = salt_facts(&"MgSO4".parse()?).unwrap();
    /// assert_eq!(*sulfate.no_visible_sign().unwrap().value(), "the sulfate and the oxide are both white");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn no_visible_sign(&self) -> Option<&Sourced<&'static str>> {
        self.no_sign.as_ref()
    }

    /// Returns the hydrates that melt in their own water and spit: their degree, and the temperature in
    /// degrees Celsius if it is known.
    #[must_use]
    pub fn melting_hydrates(&self) -> &[(Ratio, Sourced<Option<u16>>)] {
        &self.melting
    }

    /// Returns the hazard statements of the salt or its hydrates. Suppliers differ: the label and the
    /// safety data sheet of the bottle decide.
    #[must_use]
    pub fn hazard_statements(&self) -> &[Sourced<HazardStatement>] {
        &self.hazard_statements
    }

    /// Returns the hazards in the words of a source, as a clause.
    #[must_use]
    pub fn hazard_words(&self) -> Option<&Sourced<&'static str>> {
        self.hazard_words.as_ref()
    }

    /// Returns the publication that does not classify the salt as hazardous. Suppliers differ: another one may
    /// give [hazard statements](Self::hazard_statements). The label and the safety data sheet of the bottle
    /// decide.
    ///
    /// ```
    /// use effloresce::gravimetry::salt_facts;
    /// let gypsum = salt_facts(&"CaSO4".parse()?).unwrap();
    /// assert!(gypsum.not_classified_source().is_some() && gypsum.hazard_statements().is_empty());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn not_classified_source(&self) -> Option<&'static str> {
        self.not_classified.map(Source::publication)
    }

    /// Returns the care that it needs to heat the salt in a school.
    #[must_use]
    pub fn severity(&self) -> Option<&Sourced<Severity>> {
        self.severity.as_ref()
    }

    /// Returns the waste route of the salt and its residue, in general words.
    #[must_use]
    pub fn waste(&self) -> Option<&Sourced<Waste>> {
        self.waste.as_ref()
    }

    /// Returns the standard enthalpy of formation of the solid hydrate of this degree at 298.15 K, in
    /// kJ for each mole of the salt in it. Zero waters give that of the anhydrous salt. Only figures that
    /// a second table confirms are in the catalogue.
    #[must_use]
    pub fn enthalpy_of_formation(&self, waters: &Ratio) -> Option<&Sourced<Ratio>> {
        let mut enthalpies = self.enthalpies.iter();
        let (_, enthalpy) = enthalpies.find(|(degree, _)| degree == waters)?;
        Some(enthalpy)
    }
}

/// Inserts a degree into an ascending list, once.
fn insert(degrees: &mut Vec<Ratio>, waters: Ratio) {
    if let Err(index) = degrees.binary_search(&waters) {
        degrees.insert(index, waters);
    }
}
