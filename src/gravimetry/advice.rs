//! What a bench should do now, while it is still heating.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind};
use super::method::Method;
use super::overheating::{excess, residues};
use super::salts::plateau_hydrates;
use super::series::Series;
use super::weighings::Weighings;
use crate::formula::Formula;
use crate::number::{Ratio, Reading, rectangular};
use crate::text::{Detail, Note};

/// What to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Advice {
    /// The readings are impossible, or far below what complete loss would leave.
    StartAgain,
    /// The readings contradict the loss of water alone: ask whoever runs the laboratory.
    Ask,
    /// Heat, cool and weigh again.
    HeatAgain,
    /// Nothing is heated yet: heat.
    Heat,
    /// Constant, and where it should be: stop.
    Stop,
}

impl Advice {
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

impl core::fmt::Display for Advice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(match self {
            Advice::Heat => "heat",
            Advice::HeatAgain => "heat again",
            Advice::Stop => "stop",
            Advice::Ask => "ask",
            Advice::StartAgain => "start again",
        })
    }
}

/// A lower hydrate, at which heating may seem to be finished.
#[derive(Debug, Clone, PartialEq, Eq)]
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

    /// What the container would weigh with it, in grams.
    #[must_use]
    pub fn mass(&self) -> &Ratio {
        &self.mass
    }
}

/// What a bench should do now, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Check {
    advice: Advice,
    reasons: Vec<Note>,
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
    /// Adds what was noted when the issued formula's text was read.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.reasons.extend(notes);
        self
    }

    /// What to do.
    #[must_use]
    pub fn advice(&self) -> Advice {
        self.advice
    }

    /// Why.
    #[must_use]
    pub fn reasons(&self) -> &[Note] {
        &self.reasons
    }

    /// What the container with the anhydrous salt should weigh, in grams; `None` where the
    /// masses are impossible.
    #[must_use]
    pub fn expected_last(&self) -> Option<&Ratio> {
        self.expectation.as_ref().map(|known| &known.expected_last)
    }

    /// How much the last weighing is above that, in grams; negative where it is too light, `None`
    /// before the first heating.
    #[must_use]
    pub fn still_to_lose(&self) -> Option<&Ratio> {
        self.expectation.as_ref()?.still_to_lose.as_ref()
    }

    /// The lower hydrates on the way, from the highest down.
    #[must_use]
    pub fn plateaus(&self) -> &[Plateau] {
        self.expectation
            .as_ref()
            .map_or(&[], |known| &known.plateaus)
    }

    /// Whether the mass is constant.
    #[must_use]
    pub fn constant_mass(&self) -> Option<&Constancy> {
        self.expectation.as_ref().map(|known| &known.constancy)
    }
}

impl Method {
    /// What a bench should do now: `issued` is the hydrate that was given out, `weighings` the
    /// readings so far.
    ///
    /// With *t* the largest of the criterion for constant mass, three standard uncertainties of
    /// the mass of water and 1 % of the loss expected: start again where the masses are
    /// impossible or the last weighing is below the expected one by more than a tenth of the
    /// loss expected; else ask where a weighing gained more than the criterion or the last is
    /// more than *t* too light; else stop where the mass is constant and within *t*; else heat
    /// again.
    ///
    /// # Errors
    /// Where the readings are no weighings of a container, or the issued formula is no hydrate or
    /// has no molar mass. Impossible masses are an advice, not an error.
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
                Detail::new("net masses and percentages do not tell what to do next")
                    .help("give the weighings of the container"),
            ));
        };
        let series = Series {
            weighings,
            division: &division,
        };
        let criterion = self.constant_mass.sound()?;
        let Some((salt, waters)) = issued.one_formula_unit() else {
            return Err(Error::new(
                ErrorKind::NotASalt,
                Detail::new(format!(
                    "{issued} is not a hydrate with a known number of waters"
                ))
                .help("give the hydrate that was issued, such as MgSO4·7H2O"),
            ));
        };
        let m_salt = salt.molar_mass(&self.weights)?.exact().clone();
        let m_water = Formula::water().molar_mass(&self.weights)?.exact().clone();
        let whole = &m_salt + &(&waters * &m_water);
        let (c, b) = (weighings.container.value(), weighings.with_hydrate.value());
        let last = weighings.heated.last().map(Reading::value);
        let used = last.as_ref().map(|last| (last, "the last weighing"));
        if let Some(contradiction) = series.contradiction(used) {
            return Ok(Check {
                advice: Advice::StartAgain,
                reasons: alloc::vec![contradiction.note()],
                expectation: None,
            });
        }
        let constancy = series.constancy(criterion);
        let taken = &b - &c;
        // The container with what is left of the hydrate when it holds `left` waters.
        let weighs = |left: &Ratio| {
            let part = &m_salt + &(left * &m_water);
            (&taken * &part).checked_div(&whole).map(|mass| &c + &mass)
        };
        let expected_last = weighs(&Ratio::ZERO).unwrap_or_else(|| c.clone());
        let plateaus = plateau_hydrates(&salt)
            .iter()
            .rev()
            .filter(|n| **n < waters)
            .filter_map(|n| {
                Some(Plateau {
                    waters: n.clone(),
                    mass: weighs(n)?,
                })
            })
            .collect();
        let loss = &b - &expected_last;
        let mut check = Check {
            advice: Advice::Heat,
            reasons: Vec::new(),
            expectation: Some(Expectation {
                still_to_lose: last.map(|last| &last - &expected_last),
                expected_last,
                plateaus,
                constancy,
            }),
        };
        let issued = Issued {
            hydrate: issued,
            salt: &salt,
            salt_mass: &m_salt,
            molar_mass: &whole,
            taken: &taken,
        };
        self.advise(&mut check, &series, &loss, &issued);
        Ok(check)
    }

    fn advise(&self, check: &mut Check, series: &Series<'_>, loss: &Ratio, issued: &Issued<'_>) {
        let Some(expectation) = &check.expectation else {
            return;
        };
        let shown = |mass: &Ratio| series.shown(mass);
        let Some(above) = &expectation.still_to_lose else {
            check.reasons.push(
                Note::new(
                    "nothing_heated",
                    format!(
                        "Nothing is heated yet. The container with the anhydrous salt should come to {} g.",
                        shown(&expectation.expected_last)
                    ),
                )
                .with("expected_last", shown(&expectation.expected_last)),
            );
            return;
        };
        let constancy = &expectation.constancy;
        let tolerance = self.tolerance(series, constancy, loss);
        let below = -above;
        let tenth = loss.checked_div(&Ratio::from(10)).unwrap_or_default();
        let gains = series.gains(constancy.criterion());
        let gained = !gains.is_empty();
        let still = shown(&above.abs());
        let (advice, mut reasons) = if below > tenth {
            let note = Note::new(
                "far_too_light",
                format!(
                    "The last weighing is {still} g below what complete loss would leave: solid was lost, the salt decomposed, or a reading is wrong."
                ),
            );
            (Advice::StartAgain, alloc::vec![note.with("below", still)])
        } else if gained || below > tolerance {
            let mut notes = gains;
            if below > tolerance {
                let text = format!(
                    "The last weighing is {still} g below what complete loss would leave: more than water has gone, or a reading is wrong."
                );
                notes.push(Note::new("too_light", text).with("below", still));
            }
            (Advice::Ask, notes)
        } else if constancy.reached() == Some(true) && *above <= tolerance {
            (Advice::Stop, alloc::vec![finished(&tolerance, loss, shown)])
        } else {
            (
                Advice::HeatAgain,
                heat_again(expectation, series, above, &tolerance),
            )
        };
        // A decomposing salt gains nothing.
        if below > tolerance && !gained {
            let reached = constancy.reached();
            reasons.extend(self.decomposed(issued, above, reached, &tolerance));
        }
        check.advice = advice;
        check.reasons = reasons;
    }

    /// What is said where the last weighing is too light for the anhydrous salt.
    fn decomposed(
        &self,
        issued: &Issued<'_>,
        above: &Ratio,
        reached: Option<bool>,
        tolerance: &Ratio,
    ) -> Option<Note> {
        let residues = residues(issued.salt, &self.weights, issued.salt_mass);
        let anhydrous = (issued.taken * issued.salt_mass).checked_div(issued.molar_mass)?;
        let left = &anhydrous + above;
        let case = excess(&residues, reached, tolerance.to_f64(), |residue| {
            let would_be = residue.left_of(issued.taken, issued.molar_mass)?;
            Some((&left - &would_be).to_f64())
        });
        case.map(|case| case.note(issued.salt, issued.hydrate))
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
        let method = self.repeatability * loss.to_f64();
        let three = 3.0 * libm::sqrt(variance + method * method);
        // To a whole nanogram, which no advice depends on.
        let three = Ratio::new(libm::ceil(three * 1e9) as i128, 1_000_000_000).unwrap_or_default();
        let hundredth = loss.checked_div(&Ratio::from(100)).unwrap_or_default();
        constancy.criterion().clone().max(three).max(hundredth)
    }
}

/// The hydrate that was given out, and how much of it was taken.
struct Issued<'a> {
    hydrate: &'a Formula,
    salt: &'a Formula,
    salt_mass: &'a Ratio,
    molar_mass: &'a Ratio,
    taken: &'a Ratio,
}

/// Why to stop: the mass is where it should be, or the balance and the criterion cannot tell.
fn finished(tolerance: &Ratio, loss: &Ratio, shown: impl Fn(&Ratio) -> String) -> Note {
    let half = loss.checked_div(&Ratio::from(2)).unwrap_or_default();
    if *tolerance < half {
        let text = "The last two weighings agree and are where the anhydrous salt should be.";
        return Note::new("constant_and_expected", text);
    }
    let (loss, tolerance) = (shown(loss), shown(tolerance));
    let text = format!(
        "The last two weighings agree, but with this balance and criterion nothing smaller than {tolerance} g is \
         told apart, and the whole loss expected is {loss} g: take more of the hydrate."
    );
    Note::new("cannot_tell", text)
        .with("expected_loss", loss)
        .with("tolerance", tolerance)
}

fn heat_again(
    expectation: &Expectation,
    series: &Series<'_>,
    above: &Ratio,
    tolerance: &Ratio,
) -> Vec<Note> {
    let mut notes = Vec::new();
    let constancy = &expectation.constancy;
    let criterion = constancy.criterion();
    match constancy.reached() {
        None => notes.push(Note::new(
            "one_heating",
            "There is one weighing after heating only: constant mass needs two that agree.",
        )),
        Some(false) => {
            let change = constancy
                .last_change()
                .map(|c| format!("{c}"))
                .unwrap_or_default();
            let by = change.trim_start_matches('-');
            notes.push(
                Note::new(
                    "not_constant",
                    format!(
                        "The mass changed by {by} g in the last heating, more than {} g.",
                        criterion.to_plain()
                    ),
                )
                .with("last_change", change.clone())
                .with("criterion", criterion.to_plain()),
            );
        }
        Some(true) => {}
    }
    if above > tolerance {
        let still = series.shown(above);
        notes.push(
            Note::new(
                "still_to_lose",
                format!("There are still {still} g of water to lose."),
            )
            .with("still_to_lose", still),
        );
    }
    let last = &expectation.expected_last + above;
    let near = expectation
        .plateaus
        .iter()
        .find(|plateau| (&last - &plateau.mass).abs() <= *tolerance);
    if let Some(plateau) = near {
        notes.push(
            Note::new(
                "lower_hydrate",
                format!(
                    "The last weighing is about where {} H2O is left: constant mass can be met there, too.",
                    plateau.waters
                ),
            )
            .with("waters", format!("{}", plateau.waters)),
        );
    }
    notes
}
