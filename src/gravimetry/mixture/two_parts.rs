//! The fractions of two components.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::component::Component;
use crate::element::Edition;
use crate::formula::MolarInputs;
use crate::gravimetry::constant_mass::Constancy;
use crate::gravimetry::error::{Error, ErrorKind, impossible, no_mass};
use crate::gravimetry::hazard::{HeatingSafety, grave_hazard};
use crate::gravimetry::method::Method;
use crate::gravimetry::salts::Severity;
use crate::gravimetry::weighings::Weighings;
use crate::number::{Budget, Inputs, Ratio, Reading, Traced};
use crate::text::{Detail, Note};

/// The expanded uncertainty of a fraction, in per cent of the mixture, from which a warning says that
/// the loss hardly distinguishes the components (common practice, no source).
const HARDLY_DISTINGUISHED: f64 = 10.0;

/// The number of standard uncertainties by which a fraction may be above 100 % or below 0 % (common
/// practice, no source). Two readings that are one step of the balance apart are within it.
const STILL_POSSIBLE: f64 = 3.0;

/// The composition of a mixture of two components, from the mass that it loses on heating.
///
/// The components may be hydrates of different salts, a hydrate and inert matter, or any other solids
/// that leave different fractions of their mass.
///
/// ```
/// use effloresce::gravimetry::{Component, Method, Net, Weighings};
/// let parts = [
///     Component::new("NaHCO3".parse()?, "Na2CO3".parse()?)?,
///     Component::inert("Na2CO3".parse()?)?,
/// ];
/// let heated = Weighings::net("2.000".parse()?, "1.600".parse()?, Net::Tared);
/// let mixture = Method::new().mixture(parts, &heated)?;
/// let [bicarbonate, carbonate] = mixture.fractions();
/// assert_eq!(format!("{bicarbonate:.2} % and {carbonate:.2} %"), "54.18 % and 45.82 %");
/// assert_eq!(format!("{:.2}", mixture.standard_uncertainty()), "0.05");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    pub(super) components: [Component; 2],
    pub(super) molar: [[Ratio; 2]; 2],
    /// What is left of each gram of a component.
    pub(super) left: [Ratio; 2],
    pub(super) masses: Option<(Reading, Reading)>,
    pub(super) residue_fraction: Ratio,
    fractions: [Ratio; 2],
    budget: Budget,
    constancy: Option<Constancy>,
    warnings: Vec<Note>,
    edition: Edition,
}

impl Method {
    /// Works out the fractions of two components from the mass of a sample and of its residue.
    ///
    /// # Errors
    /// `impossible_masses` if no mixture of the two leaves this residue, by more than three standard
    /// uncertainties. `bad_request` if both lose the same fraction of their mass, so that
    /// the loss cannot distinguish them. `no_standard_weight` if a component has no molar mass.
    ///
    /// ```
    /// use effloresce::gravimetry::{Component, Method, Net, Weighings};
    /// let parts = || -> Result<[Component; 2], effloresce::Error> {
    ///     Ok([Component::new("CuSO4·5H2O".parse()?, "CuSO4".parse()?)?, Component::inert("SiO2".parse()?)?])
    /// };
    /// let heated = |residue: &str| -> Result<Weighings, effloresce::Error> {
    ///     Ok(Weighings::net("2.000".parse()?, residue.parse()?, Net::Tared))
    /// };
    /// assert!(Method::new().mixture(parts()?, &heated("1.500")?).is_ok());
    /// let error = Method::new().mixture(parts()?, &heated("1.200")?).unwrap_err();
    /// assert_eq!(error.code(), "impossible_masses");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn mixture(
        &self,
        components: [Component; 2],
        weighings: &Weighings,
    ) -> Result<Mixture, Error> {
        let found = self.residue_fraction(weighings)?;
        let mut inputs = found.inputs.clone();
        let mut table = MolarInputs::new(&self.weights);
        let parts = [
            ComponentMasses::new(&components[0], &mut table, &mut inputs)?,
            ComponentMasses::new(&components[1], &mut table, &mut inputs)?,
        ];
        let apart = parts[0].left.minus(&parts[1].left);
        let first = found.fraction.minus(&parts[1].left).over(&apart);
        let formulas = components.each_ref().map(Component::formula);
        let first = first.ok_or_else(|| same_loss(&components).ending(grave_hazard(&formulas)))?;
        let percent = first.times_exact(&Ratio::from(100));
        let budget = inputs.budget(&percent);
        let expanded = budget.expanded(self.coverage);
        let fractions = [percent.value().clone(), 100 - percent.value()];
        let left = parts.each_ref().map(|part| part.left.value().clone());
        let mut warnings = found.warnings;
        for ((component, alone), fraction) in components.iter().zip(&left).zip(&fractions) {
            let excess = fraction - Ratio::from(100);
            if excess.to_f64() > budget.expanded(STILL_POSSIBLE) {
                let masses = found.masses;
                let limits = [
                    limit(&components[0], &left[0], masses),
                    limit(&components[1], &left[1], masses),
                ];
                let fraction = found.fraction.value();
                let error = no_mixture(fraction, alone, limits, masses);
                return Err(error.ending(grave_hazard(&formulas)));
            }
            if excess.is_positive() {
                warnings.push(pure(component, &excess));
            }
        }
        if expanded > HARDLY_DISTINGUISHED {
            warnings.push(hardly_distinguished(&components, expanded));
        }
        Ok(Mixture {
            molar: parts.map(|part| part.molar.map(|molar| molar.value().clone())),
            residue_fraction: found.fraction.value().clone(),
            masses: found.masses,
            constancy: found.constancy,
            edition: self.weights.edition(),
            components,
            left,
            fractions,
            budget,
            warnings,
        })
    }
}

/// A component with its molar masses.
struct ComponentMasses {
    /// Of the component and of its residue.
    molar: [Traced; 2],
    /// The mass that is left of each gram.
    left: Traced,
}

impl ComponentMasses {
    fn new(
        component: &Component,
        table: &mut MolarInputs<'_>,
        inputs: &mut Inputs,
    ) -> Result<ComponentMasses, Error> {
        let whole = table.molar(component.formula(), inputs)?;
        let residue = match component.residue() {
            Some(residue) => table.molar(residue, inputs)?,
            None => Traced::exact(Ratio::ZERO),
        };
        let of_residue = residue.times_exact(component.residues_per_formula());
        let left = of_residue.over(&whole).ok_or_else(no_mass)?;
        Ok(ComponentMasses {
            molar: [whole, residue],
            left,
        })
    }
}

fn same_loss([one, other]: &[Component; 2]) -> Error {
    let message = format!(
        "{} and {} lose the same fraction of their mass, so the loss cannot distinguish them",
        one.formula(),
        other.formula()
    );
    let help = "use another property of the mixture, such as a precipitate of one of them";
    Error::new(ErrorKind::SameLoss, Detail::new(message).help(help))
}

fn no_mixture(
    fraction: &Ratio,
    nearest: &Ratio,
    limits: [String; 2],
    masses: Option<(Reading, Reading)>,
) -> Error {
    let [one, other] = limits;
    let found = match masses {
        Some((sample, residue)) => format!("a residue of {residue} g from {sample} g"),
        None => format!("a residue of {}", percentage(fraction)),
    };
    let direction = match fraction > nearest {
        true => "more",
        false => "less",
    };
    impossible(
        format!("{found} is {direction} than any mixture leaves: {one}, and {other}"),
        "check the readings, the components and their residues",
    )
}

/// What a component leaves alone.
fn limit(component: &Component, left: &Ratio, masses: Option<(Reading, Reading)>) -> String {
    let mass = match masses {
        Some((sample, residue)) => {
            let places = sample.decimal_places().max(residue.decimal_places());
            let mass = sample.value() * left;
            format!("{} g", mass.to_places(places, Default::default()))
        }
        None => percentage(left),
    };
    format!("{} alone leaves {mass}", component.formula())
}

fn percentage(fraction: &Ratio) -> String {
    format!("{:.2} %", 100 * fraction)
}

fn pure(component: &Component, excess: &Ratio) -> Note {
    let formula = component.formula().to_string();
    let excess = format!("{excess:.2}");
    let text = format!(
        "The readings give {excess} % more {formula} than the whole mixture has. This is within the uncertainty, \
         so the mixture may be pure {formula}."
    );
    Note::new("may_be_pure", text)
        .with("formula", formula)
        .with("excess_percent", excess)
}

fn hardly_distinguished([one, other]: &[Component; 2], expanded: f64) -> Note {
    let expanded = format!("{expanded:.0}");
    let text = format!(
        "{} and {} lose nearly the same fraction of their mass. So the fractions are uncertain by ± {expanded} % of \
         the mixture.",
        one.formula(),
        other.formula()
    );
    Note::new("hardly_distinguished", text).with("expanded_uncertainty", expanded)
}

impl Mixture {
    /// The components.
    #[must_use]
    pub fn components(&self) -> &[Component; 2] {
        &self.components
    }

    /// The mass fractions of the components in per cent, exact. Together they are 100. If the mixture may
    /// be pure, one may be a little negative and the other above 100.
    #[must_use]
    pub fn fractions(&self) -> &[Ratio; 2] {
        &self.fractions
    }

    /// Returns the masses of the components in grams; `None` if only the percentage of the loss is known.
    #[must_use]
    pub fn masses(&self) -> Option<[Ratio; 2]> {
        let (sample, _) = self.masses?;
        let mass = |percent: &Ratio| sample.value() * percent * Ratio::power_of_ten(-2);
        Some(self.fractions.each_ref().map(mass))
    }

    /// The mass that is left of each gram of a component alone.
    #[must_use]
    pub fn left_of_each(&self) -> &[Ratio; 2] {
        &self.left
    }

    /// The standard uncertainty of the first fraction, in per cent. That of the second is the same.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// The contributions to the uncertainty of the first fraction, in per cent.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// The comparison with the criterion for constant mass; `None` for net masses and percentages.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.constancy.as_ref()
    }

    /// The doubts about the readings and about the fractions.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// Returns how severe the hazards of heating the components together are, inert ones included. If one
    /// is forbidden, the mixture is. So is an oxidiser with something that burns.
    ///
    /// ```
    /// use effloresce::gravimetry::{Component, Method, Net, Severity, Weighings};
    /// let parts = [
    ///     Component::new("CuSO4·5H2O".parse()?, "CuSO4".parse()?)?,
    ///     Component::inert("KClO4".parse()?)?,
    /// ];
    /// let heated = Weighings::net("2.000".parse()?, "1.700".parse()?, Net::Tared);
    /// let mixture = Method::new().mixture(parts, &heated)?;
    /// assert_eq!(mixture.severity(), Severity::Forbidden);
    /// assert_eq!(mixture.cautions()[0].code(), "forbidden_salt");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.safety().severity()
    }

    /// Returns the cautions for heating the components together, the most severe first. They are reminders.
    /// The safety data sheet, the local rules and the person in charge of the laboratory decide.
    #[must_use]
    pub fn cautions(&self) -> Vec<Note> {
        self.safety().cautions().to_vec()
    }

    fn safety(&self) -> HeatingSafety {
        HeatingSafety::of_mixture(
            &self
                .components
                .each_ref()
                .map(|own| (own.formula(), own.residue())),
        )
    }

    /// Adds the notes from reading the texts of the formulas.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.warnings.extend(notes);
        self
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}
