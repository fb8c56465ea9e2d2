//! From readings to the degree of hydration, with its uncertainty.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::outcome::{Candidate, Judged, Outcome, shown};
use super::range::{Defensible, Masses, Paths};
use super::series::{Constancy, Form, Net, Series, Used, difference, impossible, mass, places_of};
use super::{Error, ErrorKind, Method, Quantity, Weighings};
use crate::element::{AtomicWeights, Edition};
use crate::formula::{Formula, MolarMass};
use crate::number::{Budget, Contribution, Ratio, Reading, TieRule, rectangular};
use crate::text::{Detail, Note};
use crate::working::{Step, Working};

/// What one bench's readings give, worked out exactly.
#[derive(Debug, Clone, PartialEq)]
pub struct Dehydration {
    salt: Formula,
    weights: AtomicWeights,
    salt_molar: MolarMass,
    water_molar: MolarMass,
    found: Found,
    ratio: Ratio,
    budget: Budget,
    candidates: Vec<Candidate>,
    nearest: Ratio,
    outcome: Outcome,
    warnings: Vec<Note>,
    /// The degrees that the caller named.
    given: Option<Vec<Ratio>>,
}

/// What the readings give before any molar mass comes in.
#[derive(Debug, Clone, PartialEq)]
struct Found {
    hydrate: Option<Reading>,
    residue: Option<Reading>,
    water: Option<Reading>,
    percent: Ratio,
    /// Mass of water over mass of residue.
    mass_ratio: Ratio,
    /// Other masses of residue and water that the same criterion allows.
    agreeing: Vec<(Ratio, Ratio)>,
    sensitivity: Sensitivity,
    /// The inputs that were read, with their standard uncertainties and sensitivities of the
    /// mass ratio.
    inputs: Vec<(&'static str, f64, Ratio)>,
    constancy: Option<Constancy>,
    /// The readings themselves, for the working.
    subtractions: Option<[Reading; 3]>,
    division: Ratio,
    figures: u32,
}

/// How the ratio changes with each reading: the partial derivatives, exact. Those of the mass
/// readings are in moles of water a mole of salt for each gram.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sensitivity {
    container: Option<Ratio>,
    with_hydrate: Option<Ratio>,
    heated: Option<Ratio>,
    hydrate_mass: Option<Ratio>,
    residue_mass: Option<Ratio>,
    percent_water: Option<Ratio>,
}

impl Sensitivity {
    /// For the empty container.
    #[must_use]
    pub fn container(&self) -> Option<&Ratio> {
        self.container.as_ref()
    }

    /// For the container with the hydrate.
    #[must_use]
    pub fn with_hydrate(&self) -> Option<&Ratio> {
        self.with_hydrate.as_ref()
    }

    /// For the weighing after heating that counts. It sits in the water and in the residue, so
    /// it moves the ratio most.
    #[must_use]
    pub fn heated(&self) -> Option<&Ratio> {
        self.heated.as_ref()
    }

    /// For a net mass of hydrate.
    #[must_use]
    pub fn hydrate_mass(&self) -> Option<&Ratio> {
        self.hydrate_mass.as_ref()
    }

    /// For a net mass of residue.
    #[must_use]
    pub fn residue_mass(&self) -> Option<&Ratio> {
        self.residue_mass.as_ref()
    }

    /// For each per cent of water.
    #[must_use]
    pub fn percent_water(&self) -> Option<&Ratio> {
        self.percent_water.as_ref()
    }

    fn times(&self, factor: &Ratio) -> Sensitivity {
        let times = |part: &Option<Ratio>| part.as_ref().map(|p| p * factor);
        Sensitivity {
            container: times(&self.container),
            with_hydrate: times(&self.with_hydrate),
            heated: times(&self.heated),
            hydrate_mass: times(&self.hydrate_mass),
            residue_mass: times(&self.residue_mass),
            percent_water: times(&self.percent_water),
        }
    }
}

impl Method {
    /// Works a bench's readings out: the degree of hydration of `salt` (anhydrous, or with an
    /// open degree such as `MgSO4·xH2O`).
    ///
    /// # Errors
    /// Where the masses are impossible (the message names the two readings that disagree), where
    /// no weighing after heating is given, where the salt is already a hydrate or has no molar
    /// mass.
    #[doc(alias = "water of crystallization")]
    pub fn dehydration(&self, salt: &Formula, weighings: &Weighings) -> Result<Dehydration, Error> {
        let salt = anhydrous(salt)?;
        let salt_molar = salt.molar_mass(&self.weights)?;
        let water_molar = Formula::water().molar_mass(&self.weights)?;
        let found = self.find(weighings)?;
        let (m_salt, m_water) = (salt_molar.exact(), water_molar.exact());
        let factor = m_salt.checked_div(m_water).ok_or_else(no_mass)?;
        let ratio = &found.mass_ratio * &factor;
        let budget = self.budget(&salt, &found, m_salt, m_water)?;
        let uncertainty = budget.standard_uncertainty();
        let judged = Judged {
            salt: &salt,
            ratio: &ratio,
            uncertainty,
            coverage: self.coverage,
            given: self.candidates.as_deref(),
            salt_mass: m_salt,
            water_mass: m_water,
            hydrate_mass: found.hydrate.as_ref(),
        };
        let unknown = Constancy::unknown_for(&found.division);
        let constancy = found.constancy.as_ref().unwrap_or(&unknown);
        let candidates = judged.candidates();
        let nearest = judged.nearest(&candidates);
        let outcome = judged.outcome(&candidates, constancy);
        let mut warnings = self.warnings(weighings, &found);
        // What fits a hydrate that lost all its water needs no other explanation.
        if !matches!(outcome, Outcome::Resolved(_) | Outcome::Ambiguous(_))
            && constancy.reached() != Some(false)
        {
            let tolerance = (self.coverage * uncertainty).max(0.01 * ratio.to_f64());
            if let Some((hydrate, left)) = judged.lower_plateau(tolerance) {
                warnings.push(
                    Note::new(
                        "lower_hydrate",
                        format!(
                            "The loss is also what {hydrate} shows when it stops at {left}: constant mass can be \
                             met there, too."
                        ),
                    )
                    .with("hydrate", format!("{hydrate}"))
                    .with("residue", format!("{left}")),
                );
            }
        }
        Ok(Dehydration {
            weights: self.weights.clone(),
            salt_molar,
            water_molar,
            found: Found {
                sensitivity: found.sensitivity.times(&factor),
                ..found
            },
            ratio,
            budget,
            candidates,
            nearest,
            outcome,
            warnings,
            salt,
            given: self.candidates.clone(),
        })
    }

    fn division(&self, weighings: &Weighings) -> Ratio {
        self.readability
            .clone()
            .unwrap_or_else(|| weighings.finest_place())
    }

    fn find(&self, weighings: &Weighings) -> Result<Found, Error> {
        let division = self.division(weighings);
        match weighings.form() {
            Form::Series {
                container,
                with_hydrate,
                heated,
            } => {
                let series = Series {
                    container: *container,
                    with_hydrate: *with_hydrate,
                    heated,
                    division: &division,
                };
                self.find_in_series(&series)
            }
            Form::Net {
                hydrate,
                residue,
                net,
            } => find_net(hydrate, residue, *net, &division),
            Form::Percent(percent) => find_percent(percent, &division),
        }
    }

    fn find_in_series(&self, series: &Series<'_>) -> Result<Found, Error> {
        let used = series.used(self.weighing_used).ok_or_else(|| {
            Error::new(
                ErrorKind::MissingWeighing,
                Detail::new("no weighing after heating is given")
                    .help("give the container's mass after at least one heating"),
            )
        })?;
        let (c, b) = (series.container.value(), series.with_hydrate.value());
        possible(series, &used)?;
        let division = series.division;
        let constancy = series.constancy(self.constant_mass.sound()?);
        let residue = &used.value - &c;
        let water = &b - &used.value;
        let hydrate = &b - &c;
        let squared = &residue * &residue;
        let one_over = Ratio::ONE.checked_div(&residue).ok_or_else(no_mass)?;
        let by_container = water.checked_div(&squared).ok_or_else(no_mass)?;
        let by_heated = -&hydrate.checked_div(&squared).ok_or_else(no_mass)?;
        let d = read_uncertainty(division);
        let mut inputs = alloc::vec![
            ("empty container", d, by_container.clone()),
            ("container with hydrate", d, one_over.clone()),
            (
                used.name,
                d / libm::sqrt(f64::from(used.readings)),
                by_heated.clone()
            ),
        ];
        if constancy.reached() == Some(true) {
            let limit = rectangular(constancy.criterion().to_f64());
            inputs.push(("constant-mass criterion", limit, by_heated.clone()));
        }
        let others = series.agreeing(&constancy).into_iter().filter_map(|a| {
            let residue = &a - &c;
            (residue.is_positive() && a <= b).then(|| (residue, &b - &a))
        });
        let hydrate_mass = difference(&series.with_hydrate, &series.container, division);
        Ok(Found {
            agreeing: others.collect(),
            percent: percent(&water, &hydrate)?,
            mass_ratio: &water * &one_over,
            figures: figures(&[&residue, &water], division),
            hydrate: Some(hydrate_mass.ok_or_else(too_long)?),
            residue: Some(mass(&residue, division).ok_or_else(too_long)?),
            water: Some(mass(&water, division).ok_or_else(too_long)?),
            sensitivity: Sensitivity {
                container: Some(by_container),
                with_hydrate: Some(one_over),
                heated: Some(by_heated),
                ..Sensitivity::default()
            },
            inputs,
            constancy: Some(constancy),
            subtractions: mass(&used.value, division)
                .map(|a| [series.container, series.with_hydrate, a]),
            division: division.clone(),
        })
    }

    fn budget(
        &self,
        salt: &Formula,
        found: &Found,
        m_salt: &Ratio,
        m_water: &Ratio,
    ) -> Result<Budget, Error> {
        let factor = m_salt.checked_div(m_water).ok_or_else(no_mass)?;
        let mut contributions: Vec<Contribution> = found
            .inputs
            .iter()
            .map(|(name, u, by)| Contribution::new(*name, *u, (by * &factor).to_f64()))
            .collect();
        if self.repeatability > 0.0 {
            // With w the water and h the hydrate, x = k w/(h − w), so w dx/dw = x (1 + w/(h − w)).
            let x = &found.mass_ratio * &factor;
            let by_relative = &x * &(&Ratio::ONE + &found.mass_ratio);
            contributions.push(Contribution::new(
                "repeatability of the mass of water",
                self.repeatability,
                by_relative.to_f64(),
            ));
        }
        // H and O sit in the salt and in the water: each element counts once, with the sum of
        // its sensitivities.
        let (in_salt, in_water) = (salt.composition()?, Formula::water().composition()?);
        let mut atoms: Vec<_> = in_salt.iter().map(|(atom, _)| atom).collect();
        atoms.extend(
            in_water
                .iter()
                .map(|(atom, _)| atom)
                .filter(|a| in_salt.count(*a).is_zero()),
        );
        for atom in atoms {
            let weight = self
                .weights
                .atom(atom)
                .map_err(crate::formula::Error::from)?;
            let by_salt = &in_salt.count(atom) * m_water;
            let by_water = &in_water.count(atom) * m_salt;
            let slope = (&by_salt - &by_water)
                .checked_div(&(m_water * m_water))
                .ok_or_else(no_mass)?;
            contributions.push(Contribution::new(
                format!("atomic weight of {atom}"),
                weight.standard_uncertainty(),
                (&slope * &found.mass_ratio).to_f64(),
            ));
        }
        Ok(Budget::new(contributions))
    }

    fn warnings(&self, weighings: &Weighings, found: &Found) -> Vec<Note> {
        let Form::Series {
            container,
            with_hydrate,
            heated,
        } = weighings.form()
        else {
            return Vec::new();
        };
        let series = Series {
            container: *container,
            with_hydrate: *with_hydrate,
            heated,
            division: &found.division,
        };
        let given = !matches!(self.constant_mass, super::ConstantMass::Divisions(_));
        let mut notes = found
            .constancy
            .as_ref()
            .map(|constancy| series.warnings(constancy, given))
            .unwrap_or_default();
        let coarse = weighings
            .readings()
            .iter()
            .filter(|r| r.last_place() > found.division)
            .count();
        if coarse > 0 {
            notes.push(
                Note::new(
                    "coarser_reading",
                    format!(
                        "{} written with fewer places than the balance shows ({} g); final zeros were taken as \
                         dropped.",
                        if coarse == 1 {
                            "One reading is".into()
                        } else {
                            format!("{coarse} readings are")
                        },
                        found.division.to_plain()
                    ),
                )
                .with("readings", format!("{coarse}"))
                .with("division", found.division.to_plain()),
            );
        }
        notes
    }
}

impl Constancy {
    fn unknown_for(division: &Ratio) -> Constancy {
        let none: Series<'_> = Series {
            container: Reading::literal("0"),
            with_hydrate: Reading::literal("0"),
            heated: &[],
            division,
        };
        none.constancy(super::ConstantMass::default())
    }
}

fn find_net(
    hydrate: &Reading,
    residue: &Reading,
    net: Net,
    division: &Ratio,
) -> Result<Found, Error> {
    let (h, s) = (hydrate.value(), residue.value());
    if !h.is_positive() || !s.is_positive() || s > h {
        let message = if s > h {
            format!("the residue ({residue} g) is heavier than the hydrate ({hydrate} g)")
        } else {
            format!("a hydrate of {hydrate} g and a residue of {residue} g cannot both be")
        };
        return Err(impossible(
            message,
            "check both readings: one may be misread, or they were swapped",
        ));
    }
    let water = &h - &s;
    let by_hydrate = Ratio::ONE.checked_div(&s).ok_or_else(no_mass)?;
    let by_residue = -&h.checked_div(&(&s * &s)).ok_or_else(no_mass)?;
    let d = read_uncertainty(division);
    let mut inputs = alloc::vec![
        ("hydrate", d, by_hydrate.clone()),
        ("residue", d, by_residue.clone()),
    ];
    if net == Net::Subtracted {
        // Both differences share the empty container, so it moves them together.
        inputs.push(("empty container", d, &by_hydrate + &by_residue));
    }
    Ok(Found {
        agreeing: Vec::new(),
        percent: percent(&water, &h)?,
        mass_ratio: &water * &by_hydrate,
        figures: figures(&[&s, &water], division),
        hydrate: Some(mass(&h, division).ok_or_else(too_long)?),
        residue: Some(mass(&s, division).ok_or_else(too_long)?),
        water: Some(mass(&water, division).ok_or_else(too_long)?),
        sensitivity: Sensitivity {
            hydrate_mass: Some(by_hydrate),
            residue_mass: Some(by_residue),
            ..Sensitivity::default()
        },
        inputs,
        constancy: None,
        subtractions: None,
        division: division.clone(),
    })
}

fn find_percent(percent: &Reading, division: &Ratio) -> Result<Found, Error> {
    let p = percent.value();
    let hundred = Ratio::from(100);
    let salt = &hundred - &p;
    if p.is_negative() || !salt.is_positive() {
        return Err(impossible(
            format!("a hydrate cannot hold {percent} % of water"),
            "give a percentage from 0 to below 100",
        ));
    }
    let slope = hundred.checked_div(&(&salt * &salt)).ok_or_else(no_mass)?;
    Ok(Found {
        hydrate: None,
        residue: None,
        water: None,
        percent: p.clone(),
        mass_ratio: p.checked_div(&salt).ok_or_else(no_mass)?,
        agreeing: Vec::new(),
        sensitivity: Sensitivity {
            percent_water: Some(slope.clone()),
            ..Sensitivity::default()
        },
        inputs: alloc::vec![("percent water", read_uncertainty(division), slope)],
        constancy: None,
        subtractions: None,
        figures: percent.figures().at_least().max(1),
        division: division.clone(),
    })
}

/// The salt to work with: as given where it is anhydrous, without its water where that is open.
fn anhydrous(salt: &Formula) -> Result<Formula, Error> {
    if salt.is_electron() {
        return Err(Error::new(
            ErrorKind::NotASalt,
            Detail::new(format!("{salt} is no salt"))
                .help("give the anhydrous salt, such as MgSO4"),
        ));
    }
    if !salt.is_hydrate() {
        return Ok(salt.clone());
    }
    match (salt.waters(), salt.anhydrous()) {
        (None, Some(anhydrous)) => Ok(anhydrous),
        (_, anhydrous) => {
            let bare = anhydrous.map_or_else(|| "the anhydrous salt".into(), |a| format!("{a}"));
            Err(Error::new(
                ErrorKind::NotASalt,
                Detail::new(format!(
                    "{salt} is a hydrate; its degree is what is to be found"
                ))
                .help(format!("give the anhydrous salt, {bare}")),
            ))
        }
    }
}

/// Whether the weighings can be what they are said to be; names the two that disagree.
fn possible(series: &Series<'_>, used: &Used) -> Result<(), Error> {
    let (c, b) = (&series.container, &series.with_hydrate);
    let (cv, bv) = (c.value(), b.value());
    let help = "check both readings: one may be misread, or they were swapped";
    if cv.is_negative() {
        return Err(impossible(
            format!("the empty container weighs {c} g, less than nothing"),
            help,
        ));
    }
    if bv <= cv {
        return Err(impossible(
            format!(
                "the container with the hydrate ({b} g) is not heavier than the empty container ({c} g)"
            ),
            help,
        ));
    }
    let name = used.name;
    let value = shown(&used.value, series.division);
    if used.value > bv {
        return Err(impossible(
            format!("{name} ({value} g) is heavier than the container with the hydrate ({b} g)"),
            help,
        ));
    }
    if used.value <= cv {
        return Err(impossible(
            format!("{name} ({value} g) leaves nothing above the empty container ({c} g)"),
            help,
        ));
    }
    Ok(())
}

/// The standard uncertainty of one reading: anywhere within half a division either way, d/√12.
pub(super) fn read_uncertainty(division: &Ratio) -> f64 {
    rectangular(division.to_f64() / 2.0)
}

fn percent(water: &Ratio, hydrate: &Ratio) -> Result<Ratio, Error> {
    (&Ratio::from(100) * water)
        .checked_div(hydrate)
        .ok_or_else(no_mass)
}

/// The fewest significant figures among masses that keep the places of the balance.
fn figures(masses: &[&Ratio], division: &Ratio) -> u32 {
    masses
        .iter()
        .filter_map(|value| mass(value, division))
        .map(|reading| reading.figures().at_most())
        .min()
        .unwrap_or(1)
        .max(1)
}

#[cold]
fn no_mass() -> Error {
    impossible(
        "a mass of nothing was divided by".into(),
        "check the readings",
    )
}

#[cold]
fn too_long() -> Error {
    super::method::out_of_range(
        "the readings differ too much in size to be subtracted to the last digit".into(),
        "give readings of one balance, in grams",
    )
}

impl Dehydration {
    /// The anhydrous salt.
    #[must_use]
    pub fn salt(&self) -> &Formula {
        &self.salt
    }

    /// The mass of hydrate, in grams, with the places of the balance.
    #[must_use]
    pub fn hydrate_mass(&self) -> Option<&Reading> {
        self.found.hydrate.as_ref()
    }

    /// The mass of residue, in grams.
    #[must_use]
    pub fn residue_mass(&self) -> Option<&Reading> {
        self.found.residue.as_ref()
    }

    /// The mass of water driven off, in grams.
    #[must_use]
    pub fn water_mass(&self) -> Option<&Reading> {
        self.found.water.as_ref()
    }

    /// The mass fraction of water, in per cent.
    #[must_use]
    pub fn percent_water(&self) -> &Ratio {
        &self.found.percent
    }

    /// The amount of anhydrous salt, in moles.
    #[must_use]
    pub fn mol_salt(&self) -> Option<Ratio> {
        let mass = self.found.residue?.value();
        mass.checked_div(self.salt_molar.exact())
    }

    /// The amount of water driven off, in moles.
    #[must_use]
    pub fn mol_water(&self) -> Option<Ratio> {
        let mass = self.found.water?.value();
        mass.checked_div(self.water_molar.exact())
    }

    /// The degree of hydration found, exact.
    #[must_use]
    pub fn ratio(&self) -> &Ratio {
        &self.ratio
    }

    /// The standard uncertainty of the ratio.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// Where the uncertainty comes from.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// How the ratio changes with each reading.
    #[must_use]
    pub fn sensitivity(&self) -> &Sensitivity {
        &self.found.sensitivity
    }

    /// The hydrates compared with, by degree.
    #[must_use]
    pub fn candidates(&self) -> &[Candidate] {
        &self.candidates
    }

    /// The degree nearest to the ratio: the school rule, whatever the uncertainty says.
    #[must_use]
    pub fn nearest(&self) -> &Ratio {
        &self.nearest
    }

    /// The hydrate of the nearest degree.
    #[must_use]
    pub fn nearest_formula(&self) -> Formula {
        self.salt
            .with_waters(&self.nearest)
            .unwrap_or_else(|| self.salt.clone())
    }

    /// The hydrate that another ratio is nearest to.
    #[cfg(feature = "class")]
    pub(crate) fn nearest_formula_to(&self, ratio: &Ratio) -> Option<Formula> {
        let degree = super::outcome::nearest_degree(&self.salt, self.given.as_deref(), ratio);
        self.salt.with_waters(&degree)
    }

    /// What may be concluded.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// Whether the mass had become constant; `None` for net masses and percentages.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.found.constancy.as_ref()
    }

    /// What is doubtful about the readings.
    #[must_use]
    pub fn warnings(&self) -> &[Note] {
        &self.warnings
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.weights.edition()
    }

    /// The significant figures that the masses allow for what is multiplied and divided from them.
    #[must_use]
    pub fn figures(&self) -> u32 {
        self.found.figures
    }

    /// The value of a quantity, exact; `None` for the formula and for masses that were not given.
    #[must_use]
    pub fn value(&self, quantity: Quantity) -> Option<Ratio> {
        match quantity {
            Quantity::HydrateMass => self.found.hydrate.map(|r| r.value()),
            Quantity::ResidueMass => self.found.residue.map(|r| r.value()),
            Quantity::WaterMass => self.found.water.map(|r| r.value()),
            Quantity::PercentWater => Some(self.found.percent.clone()),
            Quantity::MolSalt => self.mol_salt(),
            Quantity::MolWater => self.mol_water(),
            Quantity::Ratio => Some(self.ratio.clone()),
            Quantity::Formula => None,
        }
    }

    /// The value of a quantity as it should be written: masses with the places of the balance,
    /// the rest with the figures that the masses allow; the nearest hydrate for the formula.
    #[must_use]
    pub fn written(&self, quantity: Quantity) -> Option<String> {
        match quantity {
            Quantity::HydrateMass => self.found.hydrate.map(|r| format!("{r}")),
            Quantity::ResidueMass => self.found.residue.map(|r| format!("{r}")),
            Quantity::WaterMass => self.found.water.map(|r| format!("{r}")),
            Quantity::Formula => Some(format!("{}", self.nearest_formula())),
            _ => {
                let value = self.value(quantity)?;
                Some(format!(
                    "{}",
                    value.to_figures(self.found.figures, TieRule::Even)
                ))
            }
        }
    }

    pub(super) fn division(&self) -> &Ratio {
        &self.found.division
    }

    /// Adds what was noted when the salt's text was read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.warnings.extend(notes);
        self
    }

    /// The weight tables and roundings that careful work on these readings may use.
    pub(crate) fn paths(&self) -> Paths {
        Paths::new(&self.salt, &self.weights, self.found.figures)
    }

    pub(super) fn masses(&self) -> Vec<Masses> {
        let (Some(hydrate), Some(residue), Some(water)) =
            (self.found.hydrate, self.found.residue, self.found.water)
        else {
            return Vec::new();
        };
        let hydrate = hydrate.value();
        let mut all = alloc::vec![(residue.value(), water.value())];
        for pair in &self.found.agreeing {
            if !all.contains(pair) {
                all.push(pair.clone());
            }
        }
        all.into_iter()
            .map(|(residue, water)| Masses {
                hydrate: hydrate.clone(),
                residue,
                water,
            })
            .collect()
    }

    /// The least and the greatest answer that careful work can give from these readings, for
    /// each quantity; see [`Defensible`].
    #[must_use]
    pub fn defensible(&self) -> Defensible {
        Defensible::new(self, &self.paths())
    }

    /// The steps from the readings to the formula.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let places = places_of(&self.found.division);
        // One guard digit more than the result will have.
        let guard = |value: &Ratio| {
            format!(
                "{}",
                value.to_figures(self.found.figures + 1, TieRule::Even)
            )
        };
        let grams = |r: &Reading| {
            format!(
                "{}",
                r.value().to_places(places.max(r.places()), TieRule::Even)
            )
        };
        if let Some([c, b, a]) = &self.found.subtractions {
            let (c, b, a) = (grams(c), grams(b), grams(a));
            for (what, symbols, from, mass) in [
                (
                    "mass of hydrate",
                    "m(hydrate) = container with hydrate − empty container",
                    &b,
                    self.found.hydrate,
                ),
                (
                    "mass of residue",
                    "m(residue) = container after heating − empty container",
                    &a,
                    self.found.residue,
                ),
            ] {
                let result = mass.map(|m| format!("{m}")).unwrap_or_default();
                working.push(Step::new(
                    what,
                    symbols,
                    format!("{from} g − {c} g"),
                    result,
                    "g",
                ));
            }
        }
        if let (Some(h), Some(s), Some(w)) =
            (self.found.hydrate, self.found.residue, self.found.water)
        {
            working.push(Step::new(
                "mass of water",
                "m(water) = m(hydrate) − m(residue)",
                format!("{h} g − {s} g"),
                format!("{w}"),
                "g",
            ));
            working.push(Step::new(
                "percent water",
                "100 % × m(water) / m(hydrate)",
                format!("100 % × {w} g / {h} g"),
                self.written(Quantity::PercentWater).unwrap_or_default(),
                "%",
            ));
            let salt = &self.salt;
            for (what, symbol, mass, molar, amount) in [
                (
                    "amount of salt",
                    format!("{salt}"),
                    s,
                    &self.salt_molar,
                    self.mol_salt(),
                ),
                (
                    "amount of water",
                    "H2O".into(),
                    w,
                    &self.water_molar,
                    self.mol_water(),
                ),
            ] {
                working.push(Step::new(
                    what,
                    format!("n({symbol}) = m / M({symbol})"),
                    format!("{mass} g / {molar} g/mol"),
                    amount.as_ref().map(guard).unwrap_or_default(),
                    "mol",
                ));
            }
        }
        let numbers = match (self.mol_water(), self.mol_salt()) {
            (Some(water), Some(salt)) => format!("{} mol / {} mol", guard(&water), guard(&salt)),
            _ => {
                let rest = &Ratio::from(100) - &self.found.percent;
                format!(
                    "({} / {}) / ({} / {})",
                    self.found.percent.to_plain(),
                    self.water_molar,
                    rest.to_plain(),
                    self.salt_molar
                )
            }
        };
        working.push(Step::new(
            "mole ratio",
            format!("x = n(H2O) / n({})", self.salt),
            numbers,
            self.written(Quantity::Ratio).unwrap_or_default(),
            "",
        ));
        working.push(Step::new(
            "formula",
            "the nearest degree of hydration",
            format!("x ≈ {}", self.nearest),
            format!("{}", self.nearest_formula()),
            "",
        ));
        working
    }
}

#[cfg(feature = "serde")]
mod wire {
    use serde::ser::SerializeStruct;
    use serde::{Serialize, Serializer};

    use super::{Candidate, Dehydration, Ratio, Sensitivity, format};

    impl Serialize for Dehydration {
        /// In the shape of the JSON-lines contract.
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            let plain = |value: Option<Ratio>| value.map(|v| v.to_plain());
            let mut out = serializer.serialize_struct("Dehydration", 18)?;
            out.serialize_field("hydrate_mass", &self.found.hydrate)?;
            out.serialize_field("residue_mass", &self.found.residue)?;
            out.serialize_field("water_mass", &self.found.water)?;
            out.serialize_field("percent_water", &self.found.percent.to_plain())?;
            out.serialize_field("mol_salt", &plain(self.mol_salt()))?;
            out.serialize_field("mol_water", &plain(self.mol_water()))?;
            out.serialize_field("ratio", &self.ratio.to_plain())?;
            out.serialize_field("ratio_uncertainty", &self.standard_uncertainty())?;
            out.serialize_field("sensitivity", self.sensitivity())?;
            out.serialize_field("nearest", &format!("{}", self.nearest))?;
            out.serialize_field("nearest_formula", &self.nearest_formula())?;
            out.serialize_field("outcome", self.outcome.code())?;
            out.serialize_field("formula", &self.outcome.formula())?;
            out.serialize_field("candidates", &self.candidates)?;
            out.serialize_field("constant_mass", &self.found.constancy)?;
            out.serialize_field("defensible", &self.defensible())?;
            out.serialize_field("warnings", &self.warnings)?;
            out.serialize_field("edition", self.edition().year())?;
            out.end()
        }
    }

    impl Serialize for Sensitivity {
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            let mut out = serializer.serialize_struct("Sensitivity", 6)?;
            for (name, value) in [
                ("crucible", &self.container),
                ("crucible_hydrate", &self.with_hydrate),
                ("heated", &self.heated),
                ("hydrate_mass", &self.hydrate_mass),
                ("residue_mass", &self.residue_mass),
                ("percent_water", &self.percent_water),
            ] {
                out.serialize_field(name, &value.as_ref().map(Ratio::to_plain))?;
            }
            out.end()
        }
    }

    impl Serialize for Candidate {
        fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            let mut out = serializer.serialize_struct("Candidate", 5)?;
            out.serialize_field("waters", &format!("{}", self.waters))?;
            out.serialize_field("formula", &self.formula)?;
            out.serialize_field(
                "expected_percent_water",
                &self.expected_percent_water.to_plain(),
            )?;
            out.serialize_field(
                "expected_residue_mass",
                &self.expected_residue_mass.as_ref().map(Ratio::to_plain),
            )?;
            out.serialize_field("z", &self.z)?;
            out.end()
        }
    }
}
