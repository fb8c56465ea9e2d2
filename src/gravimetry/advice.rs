//! The advice to a bench that is still heating.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::dehydration::issued_hydrate;
use super::error::{Error, ErrorKind};
use super::method::Method;
use super::overheating::{Overheating, Residue, explaining, residues};
use super::reason::Reason;
use super::residual_salt::ResidualSalt;
use super::salts::plateau_hydrates;
use super::series::Series;
use super::weighings::{ContainerWeighings, WeighingUsed, Weighings};
use crate::formula::Formula;
use crate::number::{Ratio, rectangular};
use crate::text::{Detail, Note};

/// An advice on what to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Advice {
    /// Start again: the readings are impossible, or far below the expected mass.
    StartAgain,
    /// Ask the teacher: the readings do not fit the loss of water alone.
    Ask,
    /// Heat, cool and weigh again.
    HeatAgain,
    /// Heat: nothing has been heated yet.
    Heat,
    /// Stop: the mass is constant and as expected.
    Stop,
}

impl Advice {
    /// All kinds of advice, the most urgent first.
    pub const ALL: [Advice; 5] = [
        Advice::StartAgain,
        Advice::Ask,
        Advice::HeatAgain,
        Advice::Heat,
        Advice::Stop,
    ];

    /// The stable name of the advice.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Advice::Heat => "heat",
            Advice::HeatAgain => "heat_again",
            Advice::Stop => "stop",
            Advice::Ask => "ask",
            Advice::StartAgain => "start_again",
        }
    }
}

crate::text::codes!(Advice, code, "advice", Error(ErrorKind::UnknownCode));

impl core::fmt::Display for Advice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(&self.code().replace('_', " "))
    }
}

/// A lower hydrate at which heating may seem to be finished.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Plateau {
    waters: Ratio,
    mass: Ratio,
}

impl Plateau {
    /// The degree of the lower hydrate.
    #[must_use]
    pub fn waters(&self) -> &Ratio {
        &self.waters
    }

    /// The mass of the container with this hydrate, in grams.
    #[must_use]
    pub fn mass(&self) -> &Ratio {
        &self.mass
    }
}

/// The advice to a bench, with the reasons.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    advice: Advice,
    findings: Vec<Reason>,
    /// The notes from reading the text of the issued formula.
    notes: Vec<Note>,
    pub(super) expectation: Option<Expectation>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Expectation {
    expected_last: Ratio,
    still_to_lose: Option<Ratio>,
    pub(super) plateaus: Vec<Plateau>,
    constancy: Constancy,
}

impl Check {
    fn new(advice: Advice, findings: Vec<Reason>, expectation: Option<Expectation>) -> Check {
        Check {
            advice,
            findings,
            notes: Vec::new(),
            expectation,
        }
    }

    /// Adds the notes from reading the text of the issued formula.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The advice.
    #[must_use]
    pub fn advice(&self) -> Advice {
        self.advice
    }

    /// Returns the reasons for the advice, and the notes from reading the text of the issued formula.
    #[must_use]
    pub fn reasons(&self) -> Vec<Note> {
        let reasons = self.findings.iter().map(Reason::note);
        reasons.chain(self.notes.iter().cloned()).collect()
    }

    /// The reasons for the advice, as values.
    #[cfg(feature = "report")]
    pub(crate) fn findings(&self) -> &[Reason] {
        &self.findings
    }

    /// The expected mass of the container with the residue, in grams; `None` if the masses are
    /// impossible.
    #[must_use]
    pub fn expected_last(&self) -> Option<&Ratio> {
        self.expectation.as_ref().map(|known| &known.expected_last)
    }

    /// The last weighing minus the expected mass, in grams; negative if the last weighing is too light,
    /// `None` before the first heating.
    #[must_use]
    pub fn still_to_lose(&self) -> Option<&Ratio> {
        self.expectation.as_ref()?.still_to_lose.as_ref()
    }

    /// The lower hydrates that may appear on heating, from the highest down.
    #[must_use]
    pub fn plateaus(&self) -> &[Plateau] {
        self.expectation
            .as_ref()
            .map_or(&[], |known| &known.plateaus)
    }

    /// The comparison with the criterion for constant mass.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.expectation.as_ref().map(|known| &known.constancy)
    }
}

impl Method {
    /// Returns the advice to a bench: `issued` is the hydrate that was issued, `weighings` are the
    /// readings so far.
    ///
    /// The tolerance *t* is the criterion for constant mass, three standard uncertainties of the mass of
    /// water, or 1 % of the expected loss, whichever is largest. The advice is the first that applies:
    ///
    /// 1. Start again if the masses are impossible, or if the last weighing is too light by more than
    ///    a tenth of the expected loss.
    /// 2. Ask if a weighing gained more than the criterion, or if the last is too light by more than *t*.
    /// 3. Stop if the mass is constant and within *t* of the expected mass.
    /// 4. Heat again.
    ///
    /// # Errors
    /// Returns an error if the readings are not weighings of a container. It also does so if the issued
    /// formula is not a hydrate or has no molar mass. Impossible masses lead to an advice instead.
    ///
    /// ```
    /// use effloresce::gravimetry::{Advice, Method, Weighings};
    /// let so_far = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.701".parse()?]);
    /// let check = Method::new().check(&"MgSO4·7H2O".parse()?, &so_far)?;
    /// assert_eq!(check.advice(), Advice::HeatAgain);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn check(&self, issued: &Formula, weighings: &Weighings) -> Result<Check, Error> {
        let division = self.division(weighings);
        let Some(weighings) = weighings.container_weighings() else {
            return Err(Error::new(
                ErrorKind::MissingWeighing,
                Detail::new("net masses and percentages do not show what to do next")
                    .help("give the weighings of the container"),
            ));
        };
        let series = Series::new(weighings, &division);
        let criterion = self.constant_mass.checked()?;
        let issued = Issued::new(issued, self, weighings)?;
        let last = series.heated_mass(WeighingUsed::Last);
        if let Some(contradiction) = series.contradiction(last.as_ref()) {
            let reason = Reason::Contradiction(contradiction);
            return Ok(Check::new(Advice::StartAgain, alloc::vec![reason], None));
        }
        let expected_last = issued.mass_with(&issued.residual.waters);
        let expected_last = expected_last.unwrap_or_else(|| weighings.container.value());
        let expectation = Expectation {
            still_to_lose: last.map(|last| &last.value - &expected_last),
            expected_last,
            plateaus: issued.plateaus(),
            constancy: series.constancy(criterion),
        };
        let (advice, reasons) = self.advise(&expectation, &series, &issued);
        Ok(Check::new(advice, reasons, Some(expectation)))
    }

    fn advise(
        &self,
        expectation: &Expectation,
        series: &Series<'_>,
        issued: &Issued<'_>,
    ) -> (Advice, Vec<Reason>) {
        let Some(above) = &expectation.still_to_lose else {
            let expected_last = series.shown(&expectation.expected_last);
            return (
                Advice::Heat,
                alloc::vec![Reason::NothingHeated(expected_last)],
            );
        };
        let constancy = &expectation.constancy;
        let reached = constancy.reached();
        let loss = series.weighings.with_hydrate.value() - &expectation.expected_last;
        let tolerance = self.tolerance(series, constancy, &loss);
        let below = -above;
        let tenth = loss.checked_div(&Ratio::from(10)).unwrap_or_default();
        let gains = series.gains(constancy.criterion());
        let gained = !gains.is_empty();
        let (advice, mut reasons) = if below > tenth {
            let reason = Reason::FarTooLight(series.shown(&below));
            (Advice::StartAgain, alloc::vec![reason])
        } else if gained || below > tolerance {
            let mut reasons: Vec<Reason> = gains.into_iter().map(Reason::Gain).collect();
            if below > tolerance {
                reasons.push(Reason::TooLight(series.shown(&below)));
            }
            (Advice::Ask, reasons)
        } else if reached == Some(true) && *above <= tolerance {
            let reason = finished(&tolerance, &loss, series);
            (Advice::Stop, alloc::vec![reason])
        } else {
            let reasons = to_heat_again(expectation, series, above, &tolerance);
            (Advice::HeatAgain, reasons)
        };
        // A salt that decomposes does not gain mass.
        if below > tolerance && !gained {
            let overheating = self.overheating(issued, above, reached, &tolerance);
            reasons.extend(overheating.map(|found| Reason::Overheating(Box::new(found))));
        }
        (advice, reasons)
    }

    /// The decomposition that explains a last weighing that is too light.
    fn overheating(
        &self,
        issued: &Issued<'_>,
        above: &Ratio,
        reached: Option<bool>,
        tolerance: &Ratio,
    ) -> Option<Overheating> {
        let salt = &issued.residual.salt;
        let residues = residues(salt, &self.weights, &issued.salt_mass);
        let expected = issued.mass_with(&issued.residual.waters)?;
        let left = expected - &issued.container + above;
        let excess = |residue: &Residue| {
            let would_be = residue.left_of(&issued.taken, &issued.molar_mass)?;
            Some((&left - &would_be).to_f64())
        };
        let (complete, residue) = explaining(&residues, reached, tolerance.to_f64(), excess)?;
        Some(residue.overheating(complete, salt, issued.hydrate))
    }

    /// The largest of the criterion, three standard uncertainties of the mass of water, and 1 %
    /// of the loss expected.
    fn tolerance(&self, series: &Series<'_>, constancy: &Constancy, loss: &Ratio) -> Ratio {
        let d = self.of_one_reading(series.division);
        let mut variance = 2.0 * d * d;
        if constancy.reached() == Some(true) {
            let limit = rectangular(constancy.criterion().to_f64());
            variance += limit * limit;
        }
        let method = self.repeatability.unwrap_or(0.0) * loss.to_f64();
        let three = 3.0 * libm::sqrt(variance + method * method);
        // Rounded up to a whole nanogram, on which no advice depends.
        let three = Ratio::new(libm::ceil(three * 1e9) as i128, 1_000_000_000).unwrap_or_default();
        let hundredth = loss.checked_div(&Ratio::from(100)).unwrap_or_default();
        constancy.criterion().clone().max(three).max(hundredth)
    }
}

/// The hydrate that was issued, and the mass of it that was taken.
struct Issued<'a> {
    hydrate: &'a Formula,
    residual: ResidualSalt,
    waters: Ratio,
    salt_mass: Ratio,
    water_mass: Ratio,
    molar_mass: Ratio,
    container: Ratio,
    taken: Ratio,
}

impl Issued<'_> {
    fn new<'a>(
        hydrate: &'a Formula,
        method: &Method,
        weighings: &ContainerWeighings,
    ) -> Result<Issued<'a>, Error> {
        let (salt, waters) = issued_hydrate(hydrate)?;
        let residual = method.residual_salt(&salt, Some(&waters))?;
        let salt_mass = salt.molar_mass(&method.weights)?.exact().clone();
        let water_mass = Formula::water()
            .molar_mass(&method.weights)?
            .exact()
            .clone();
        let container = weighings.container.value();
        Ok(Issued {
            hydrate,
            residual,
            molar_mass: &salt_mass + &waters * &water_mass,
            salt_mass,
            water_mass,
            waters,
            taken: weighings.with_hydrate.value() - &container,
            container,
        })
    }

    /// The mass of the container with the solid when this number of waters is left.
    fn mass_with(&self, waters: &Ratio) -> Option<Ratio> {
        let part = &self.salt_mass + waters * &self.water_mass;
        let left = (&self.taken * &part).checked_div(&self.molar_mass)?;
        Some(&self.container + &left)
    }

    /// The lower hydrates on the way, from the highest down.
    fn plateaus(&self) -> Vec<Plateau> {
        let lower = plateau_hydrates(&self.residual.salt).iter().rev();
        let lower = lower.filter(|n| **n < self.waters && **n > self.residual.waters);
        let plateau = |waters: &Ratio| {
            Some(Plateau {
                waters: waters.clone(),
                mass: self.mass_with(waters)?,
            })
        };
        lower.filter_map(plateau).collect()
    }
}

/// The reason to stop: the mass is as expected, or the balance and the criterion cannot show it.
fn finished(tolerance: &Ratio, loss: &Ratio, series: &Series<'_>) -> Reason {
    let half = loss.checked_div(&Ratio::from(2)).unwrap_or_default();
    if *tolerance < half {
        Reason::ConstantAndExpected
    } else {
        Reason::CannotTell(series.shown(tolerance), series.shown(loss))
    }
}

fn to_heat_again(
    expectation: &Expectation,
    series: &Series<'_>,
    above: &Ratio,
    tolerance: &Ratio,
) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let constancy = &expectation.constancy;
    match (constancy.reached(), constancy.last_change()) {
        (None, _) => reasons.push(Reason::OneHeating),
        (Some(false), Some(change)) => {
            reasons.push(Reason::NotConstant(*change, constancy.criterion().clone()));
        }
        _ => {}
    }
    if above > tolerance {
        reasons.push(Reason::StillToLose(series.shown(above)));
    }
    let last = &expectation.expected_last + above;
    let near = expectation
        .plateaus
        .iter()
        .find(|plateau| (&last - &plateau.mass).abs() <= *tolerance);
    reasons.extend(near.map(|plateau| Reason::LowerHydrate(plateau.waters.clone())));
    reasons
}
