//! The advice to a bench that is still heating.

use alloc::boxed::Box;
use alloc::string::String;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind};
use super::exchange::{self, Target};
use super::issued::{Issued, Plateau};
use super::method::Method;
use super::overheating::{Overheating, Residue, explaining, residues};
use super::reason::Reason;
use super::residual_salt::ResidualSalt;
use super::series::{Series, places_of};
use super::weighings::{ContainerWeighings, WeighingUsed, Weighings};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, rectangular};
use crate::text::{Detail, Note};

/// An advice on what to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Advice {
    /// Check the readings: one cannot be as it is written.
    CheckReadings,
    /// Start again: the last weighing is far below the expected mass.
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
    pub const ALL: [Advice; 6] = [
        Advice::CheckReadings,
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
            Advice::CheckReadings => "check_readings",
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

/// The advice to a bench, with the reasons.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    advice: Advice,
    findings: Vec<Reason>,
    swap: Option<[String; 2]>,
    /// The notes from reading the text of the issued formula.
    notes: Vec<Note>,
    pub(super) expectation: Option<Expectation>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Expectation {
    /// The decimal places of the balance.
    places: i32,
    expected_last: Ratio,
    still_to_lose: Option<Ratio>,
    pub(super) plateaus: Vec<Plateau>,
    constancy: Constancy,
}

impl Expectation {
    /// The lower hydrate whose mass the last weighing has, within this tolerance.
    fn near_plateau(&self, tolerance: &Ratio) -> Option<&Plateau> {
        let last = &self.expected_last + self.still_to_lose.as_ref()?;
        let mut plateaus = self.plateaus.iter();
        plateaus.find(|plateau| (&last - &plateau.mass).abs() <= *tolerance)
    }
}

/// An advice with its reasons, before it becomes a check.
struct Found {
    advice: Advice,
    reasons: Vec<Reason>,
    swap: Option<[String; 2]>,
}

impl Found {
    fn new(advice: Advice, reasons: impl IntoIterator<Item = Reason>) -> Found {
        Found {
            advice,
            reasons: reasons.into_iter().collect(),
            swap: None,
        }
    }
}

impl Check {
    fn new(found: Found, expectation: Option<Expectation>) -> Check {
        Check {
            advice: found.advice,
            findings: found.reasons,
            swap: found.swap,
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

    /// The two readings that make sense exchanged, by their names in JSON (`crucible`, `heated[0]`).
    #[must_use]
    pub fn swap(&self) -> Option<[&str; 2]> {
        let [one, other] = self.swap.as_ref()?;
        Some([one, other])
    }

    /// The expected mass of the container with the residue, in grams; `None` if the masses are
    /// impossible.
    #[must_use]
    pub fn expected_last(&self) -> Option<&Ratio> {
        self.expectation.as_ref().map(|known| &known.expected_last)
    }

    /// The decimal places of the balance; 0 if the masses are impossible.
    #[cfg(feature = "report")]
    pub(crate) fn decimal_places(&self) -> i32 {
        self.expectation.as_ref().map_or(0, |known| known.places)
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
    /// 1. Check the readings if the masses are impossible, or if a weighing after heating is not between
    ///    the container and the container with the hydrate. Do so, too, if the last weighing is too light
    ///    by more than a tenth of the expected loss, and one exchange of two readings or of two
    ///    neighbouring digits, or one wrong digit, would bring it within *t* of the expected mass.
    /// 2. Start again if the last weighing is too light by more than a tenth of the expected loss.
    /// 3. Ask if a weighing gained more than the criterion and none after it came back, if the last is too
    ///    light by more than *t*, or if the mass is constant within *t* both of the expected mass and of
    ///    that of a lower hydrate.
    /// 4. Stop if the mass is constant and within *t* of the expected mass.
    /// 5. Heat again.
    ///
    /// # Errors
    /// Returns an error if the readings are not weighings of a container. It also does so if the issued
    /// formula is not a hydrate or has no molar mass. Impossible masses give an advice instead.
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
        let target = IssuedTarget {
            method: self,
            series: &series,
            issued: &issued,
            criterion: series.constancy(criterion),
        };
        if let Some(contradiction) = series.contradiction(last.as_ref()) {
            let reason = Reason::Contradiction(contradiction);
            return Ok(Check::new(target.misread(reason), None));
        }
        let expected_last = issued.mass_with(&issued.residual.waters);
        let expected_last = expected_last.unwrap_or_else(|| weighings.container.value());
        let expectation = Expectation {
            places: places_of(&division),
            still_to_lose: last.map(|last| &last.value - &expected_last),
            expected_last,
            plateaus: issued.plateaus(),
            constancy: target.criterion.clone(),
        };
        let found = self.advise(&expectation, &target);
        Ok(Check::new(found, Some(expectation)))
    }

    fn advise(&self, expectation: &Expectation, target: &IssuedTarget<'_>) -> Found {
        let IssuedTarget { series, issued, .. } = target;
        let Some(above) = &expectation.still_to_lose else {
            let expected_last = series.shown(&expectation.expected_last);
            return Found::new(Advice::Heat, [Reason::NothingHeated(expected_last)]);
        };
        if let Some((heating, weighing)) = series.outside() {
            let ContainerWeighings {
                container,
                with_hydrate,
                ..
            } = series.weighings;
            let readings = [*container, *with_hydrate, *weighing];
            return target.misread(Reason::Outside(heating, readings));
        }
        let constancy = &expectation.constancy;
        let reached = constancy.reached();
        let loss = series.weighings.with_hydrate.value() - &expectation.expected_last;
        let tolerance = self.tolerance(series, constancy, &loss);
        let below = -above;
        let tenth = loss.checked_div(&Ratio::from(10)).unwrap_or_default();
        let gained = series.lasting_gain(constancy.criterion());
        let mut found = if below > tenth {
            if let Some(found) = target.wrong_digit(&below) {
                return found;
            }
            let reason = Reason::FarTooLight(series.shown(&below));
            Found::new(Advice::StartAgain, [reason])
        } else if gained.is_some() || below > tolerance {
            to_ask(expectation, series, gained, &tolerance)
        } else if reached == Some(true) && *above <= tolerance {
            finished(expectation, target, &tolerance, &loss)
        } else {
            let heavier = issued.heavier_residue(&self.weights);
            let heavier = heavier.filter(|(_, excess)| *above <= excess + &tolerance);
            let heavier = heavier.map(|(residue, _)| residue);
            let reasons = to_heat_again(expectation, target, heavier, &tolerance);
            Found::new(Advice::HeatAgain, reasons)
        };
        // A salt that decomposes does not gain mass.
        if below > tolerance && gained.is_none() {
            let overheating = self.overheating(issued, above, reached, &tolerance);
            if let Some(overheating) = overheating {
                let before_question = found.reasons.len().min(1);
                let reason = Reason::Overheating(Box::new(overheating));
                found.reasons.insert(before_question, reason);
            }
        }
        found
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

/// The mass that a bench should end at, with its tolerance.
struct IssuedTarget<'a> {
    method: &'a Method,
    series: &'a Series<'a>,
    issued: &'a Issued<'a>,
    criterion: Constancy,
}

impl Target for IssuedTarget<'_> {
    fn fits(&self, container: &Ratio, with_hydrate: &Ratio, last: &Ratio) -> bool {
        self.left_and_tolerance(&(with_hydrate - container))
            .is_some_and(|(left, tolerance)| (last - container - left).abs() <= tolerance)
    }

    fn is_gain(&self, hydrate: &Ratio, gain: &Ratio) -> bool {
        self.left_and_tolerance(hydrate)
            .is_some_and(|(_, tolerance)| *gain > tolerance)
    }
}

impl IssuedTarget<'_> {
    /// The expected residue of this mass of hydrate, and the tolerance.
    fn left_and_tolerance(&self, hydrate: &Ratio) -> Option<(Ratio, Ratio)> {
        let left = self.issued.left_of(hydrate, &self.issued.residual.waters)?;
        let loss = hydrate - &left;
        let tolerance = self.method.tolerance(self.series, &self.criterion, &loss);
        Some((left, tolerance))
    }

    /// The advice to check the readings, for this reason and for two readings that make sense exchanged.
    fn misread(&self, reason: Reason) -> Found {
        let swap = exchange::swap(self.series.weighings, self);
        let swapped = swap.clone().map(Reason::Swapped);
        let reasons = core::iter::once(reason).chain(swapped);
        Found {
            swap,
            ..Found::new(Advice::CheckReadings, reasons)
        }
    }

    /// The advice to check the readings if one exchange explains a last weighing that is too light.
    fn wrong_digit(&self, below: &Ratio) -> Option<Found> {
        let weighings = self.series.weighings;
        if let Some(swap) = exchange::swap(weighings, self) {
            let reasons = [Reason::Swapped(swap.clone())];
            return Some(Found {
                swap: Some(swap),
                ..Found::new(Advice::CheckReadings, reasons)
            });
        }
        let readings = exchange::wrong_digits(weighings, self);
        (!readings.is_empty()).then(|| {
            let reason = Reason::WrongDigit(self.series.shown(below), readings);
            Found::new(Advice::CheckReadings, [reason])
        })
    }
}

/// The advice to ask: a gain that lasts, or a last weighing that is too light.
fn to_ask(
    expectation: &Expectation,
    series: &Series<'_>,
    gained: Option<usize>,
    tolerance: &Ratio,
) -> Found {
    let criterion = expectation.constancy.criterion();
    let mut reasons = Vec::new();
    let mut question = "Ask your teacher: was solid lost, or the salt heated too far? Do we go on?";
    if let Some(heating) = gained {
        reasons.extend(series.gains(criterion).into_iter().map(Reason::Gain));
        let before = series.weighings.heated.iter().take(heating - 1);
        let values: Vec<Ratio> = before.map(Reading::value).collect();
        question = "Ask your teacher: did the solid take up moisture? Do we heat once more?";
        if let [.., earlier, last] = values.as_slice() {
            let off = (last - &expectation.expected_last).abs();
            if (last - earlier).abs() <= *criterion && off <= *tolerance {
                reasons.push(Reason::WasConstant(values.len()));
                question = "Ask your teacher: do we heat once more, or use the earlier weighings?";
            }
        }
    }
    let below = expectation.still_to_lose.as_ref().map(|above| -above);
    if let Some(below) = below.filter(|below| below > tolerance) {
        reasons.push(Reason::TooLight(series.shown(&below)));
    }
    reasons.push(Reason::Question(question));
    Found::new(Advice::Ask, reasons)
}

/// The advice at constant mass as expected. If a lower hydrate has this mass, too, the teacher decides.
fn finished(
    expectation: &Expectation,
    target: &IssuedTarget<'_>,
    tolerance: &Ratio,
    loss: &Ratio,
) -> Found {
    let IssuedTarget { series, issued, .. } = target;
    let lower = expectation.near_plateau(tolerance).and_then(|plateau| {
        let ResidualSalt { salt, formula, .. } = &issued.residual;
        Some([formula.clone(), salt.with_waters(&plateau.waters)?])
    });
    if let Some(residues) = lower {
        let question =
            "Ask your teacher: which is left? A finer balance or more of the hydrate would tell.";
        let alike = Reason::LooksAlike(series.shown(tolerance), Box::new(residues));
        return Found::new(Advice::Ask, [alike, Reason::Question(question)]);
    }
    let half = loss.checked_div(&Ratio::from(2)).unwrap_or_default();
    let reason = if *tolerance < half {
        Reason::ConstantAndExpected
    } else {
        Reason::CannotTell(series.shown(tolerance), series.shown(loss))
    };
    Found::new(Advice::Stop, [reason])
}

/// The reasons to heat again. `heavier` is what the salt may have turned into, if it gained mass.
fn to_heat_again(
    expectation: &Expectation,
    target: &IssuedTarget<'_>,
    heavier: Option<Formula>,
    tolerance: &Ratio,
) -> Vec<Reason> {
    let IssuedTarget { series, issued, .. } = target;
    let mut reasons = Vec::new();
    let constancy = &expectation.constancy;
    match (constancy.reached(), constancy.last_change()) {
        (None, _) => reasons.push(Reason::OneHeating),
        (Some(false), Some(change)) => {
            reasons.push(Reason::NotConstant(*change, constancy.criterion().clone()));
        }
        _ => {}
    }
    let above = expectation.still_to_lose.as_ref();
    if let Some(above) = above.filter(|above| *above > tolerance) {
        let shown = series.shown(above);
        reasons.push(match heavier {
            None => Reason::StillToLose(shown),
            Some(heavier) => {
                let formula = issued.residual.formula.clone();
                Reason::WaterOrHeavier(shown, Box::new([formula, heavier]))
            }
        });
    }
    let near = expectation.near_plateau(tolerance);
    reasons.extend(near.map(|plateau| Reason::LowerHydrate(plateau.waters.clone())));
    reasons
}
