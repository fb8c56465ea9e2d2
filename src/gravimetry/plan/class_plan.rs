//! The plan for a class that heats a hydrate.

use alloc::format;
use alloc::vec::Vec;

use super::super::error::{Error, out_of_range};
use super::super::given_salt::issued_hydrate;
use super::super::hazard::HeatingSafety;
use super::super::interval::Interval;
use super::super::method::{Method, balance_division};
use super::super::outcome::{Candidate, Degrees, nearest_other};
use super::super::residual_salt::ResidualSalt;
use super::super::series::places_of;
use super::commonest::{Commonest, commonest};
use super::limits::MassLimits;
use super::precision::Precision;
use super::reason::{LARGE_SAMPLE, PlanReason};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};
use crate::text::Note;

/// The usual balances of a school: decimal places of a gram.
const USUAL_BALANCES: [i32; 4] = [1, 2, 3, 4];

/// The most benches of a plan.
const MOST_BENCHES: u32 = 10_000;

/// The largest spare, in per cent.
const MOST_SPARE: i64 = 1000;

/// The spare that is taken if none is given, in per cent (common practice, no source).
const SPARE: i64 = 20;

/// A plan for a class that heats a hydrate: how much each bench weighs out, and what is left.
///
/// ```
/// use effloresce::gravimetry::Method;
/// let plan = Method::new()
///     .plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?
///     .benches(12)?;
/// assert_eq!(plan.limits().resolution().unwrap().to_string(), "0.3962");
/// assert_eq!(plan.limits().relative().unwrap().to_string(), "1.596");
/// let [low, high] = plan.weigh_between();
/// assert_eq!((low.to_string(), high.to_string()), ("1.6".into(), "2.4".into()));
/// assert_eq!(plan.reasons().last().unwrap().code(), "by_relative");
/// // 12 benches with up to 2.40 g each, and a fifth more.
/// assert_eq!(plan.total_mass().unwrap().to_string(), "34.56");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    pub(in super::super) issued: Formula,
    residual: ResidualSalt,
    method: Method,
    precision: Precision,
    other: Option<Candidate>,
    distance: Option<Ratio>,
    division: Ratio,
    limits: MassLimits,
    pub(in super::super) weigh_between: Interval,
    balances: Vec<PlannedBalance>,
    benches: Option<u32>,
    spare: Ratio,
    /// The hydrate of the plan, if only its salt was named.
    commonest: Option<Commonest>,
    notes: Vec<Note>,
}

/// A balance, and the least mass of hydrate that it needs.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct PlannedBalance {
    readability: Ratio,
    limits: MassLimits,
}

impl PlannedBalance {
    /// The smallest step that the balance shows, in grams.
    #[must_use]
    pub fn readability(&self) -> &Ratio {
        &self.readability
    }

    /// The least mass of hydrate by each rule.
    #[must_use]
    pub fn limits(&self) -> &MassLimits {
        &self.limits
    }
}

impl Method {
    /// Plans a class to which the hydrate `issued` is given, on a balance whose smallest step is
    /// `readability` in grams.
    ///
    /// The repeatability and the coverage factor of the method count, and what complete heating leaves.
    /// The criterion for constant mass does not: the limits are those of three weighings.
    ///
    /// # Errors
    /// Returns an error if `issued` is not a hydrate with a known number of waters and a molar mass. It also
    /// does so if the readability is not above 0 and at most 1000 g, or if the method's residue is not one of this hydrate.
    pub fn plan(&self, issued: &Formula, readability: Reading) -> Result<Plan, Error> {
        let (salt, waters) = issued_hydrate(issued)?;
        let division = balance_division(readability.value())?;
        let residual = self.residual_salt(&salt, Some(&waters))?;
        let precision = Precision::new(self, &residual, &waters)?;
        let degrees = Degrees::new(&salt, self.candidates.as_deref(), Some(waters.clone()));
        let other = nearest_other(&residual, &degrees, &waters);
        let distance = other.as_ref().map(|other| (&other.waters - &waters).abs());
        let limits =
            |division: &Ratio| MassLimits::new(self, &precision, distance.as_ref(), division);
        let mut divisions: Vec<Ratio> = USUAL_BALANCES.map(|n| Ratio::power_of_ten(-n)).into();
        divisions.push(division.clone());
        divisions.sort_by(|a, b| b.cmp(a));
        divisions.dedup();
        let balances = divisions.into_iter().map(|readability| PlannedBalance {
            limits: limits(&readability),
            readability,
        });
        let balances = balances.collect();
        let limits = limits(&division);
        Ok(Plan {
            issued: issued.clone(),
            weigh_between: weigh_between(&limits.largest().value(), &division),
            residual,
            method: self.clone(),
            other,
            distance,
            limits,
            balances,
            precision,
            division,
            benches: None,
            spare: SPARE.into(),
            commonest: None,
            notes: Vec::new(),
        })
    }

    /// Plans a class for the [commonest hydrate](super::super::commonest_hydrate) of an anhydrous salt. A reason says
    /// which one it is.
    ///
    /// # Errors
    /// Returns an error as [`Method::plan`] does, and if no hydrate of the salt is known.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let plan = Method::new().plan_salt(&"MgSO4".parse()?, "0.001".parse()?)?;
    /// assert_eq!(plan.issued().to_string(), "MgSO4·7H2O");
    /// assert!(plan.reasons().iter().any(|reason| reason.code() == "highest_known"));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn plan_salt(&self, salt: &Formula, readability: Reading) -> Result<Plan, Error> {
        let commonest = commonest(salt)?;
        let plan = self.plan(&commonest.hydrate, readability)?;
        Ok(Plan {
            commonest: Some(commonest),
            ..plan
        })
    }
}

/// The interval from a limit, rounded up to what the balance shows, to one and a half times that mass,
/// rounded down.
fn weigh_between(limit: &Ratio, division: &Ratio) -> Interval {
    let steps = |mass: &Ratio| mass.checked_div(division).unwrap_or_default();
    let low = steps(limit).ceil() * division;
    let one_and_a_half = &low + low.checked_div(&2.into()).unwrap_or_default();
    let high = steps(&one_and_a_half).floor() * division;
    Interval {
        low,
        high,
        places: Some(places_of(division)),
    }
}

/// Whether a usual crucible holds this mass of hydrate well.
fn fits_a_crucible(hydrate: &Ratio) -> bool {
    *hydrate <= LARGE_SAMPLE.into()
}

impl Plan {
    /// Sets the number of benches.
    ///
    /// # Errors
    /// Returns an error if there is no bench or if there are more than 10,000.
    pub fn benches(mut self, benches: u32) -> Result<Self, Error> {
        if !(1..=MOST_BENCHES).contains(&benches) {
            let message = format!("a class cannot have {benches} benches");
            return Err(out_of_range(message, "give a number from 1 to 10,000"));
        }
        self.benches = Some(benches);
        Ok(self)
    }

    /// Sets how much more than the benches need is made ready, in per cent. The default is 20.
    ///
    /// # Errors
    /// Returns an error if the percentage is not from 0 to 1000.
    pub fn spare(mut self, percent: Ratio) -> Result<Self, Error> {
        if percent.is_negative() || percent > MOST_SPARE.into() {
            let message = format!("{} % is not a spare", percent.to_plain());
            return Err(out_of_range(
                message,
                "give a percentage from 0 to 1000, such as 20",
            ));
        }
        self.spare = percent;
        Ok(self)
    }

    /// Adds the notes from reading the issued formula's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The hydrate that is planned for.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// The solid that complete heating leaves.
    #[must_use]
    pub fn residue(&self) -> &Formula {
        &self.residual.formula
    }

    /// The rules that the plan is made by.
    #[must_use]
    pub fn method(&self) -> &Method {
        &self.method
    }

    /// The smallest step of the balance, in grams.
    #[must_use]
    pub fn readability(&self) -> &Ratio {
        &self.division
    }

    /// The least mass of hydrate by each rule.
    #[must_use]
    pub fn limits(&self) -> &MassLimits {
        &self.limits
    }

    /// The least and the greatest mass of hydrate that a bench should weigh out, in grams. The least is
    /// the largest limit, rounded up to what the balance shows. The greatest is one and a half times as
    /// much, rounded down.
    #[must_use]
    pub fn weigh_between(&self) -> [&Ratio; 2] {
        [self.weigh_between.low(), self.weigh_between.high()]
    }

    /// The mass of residue that a mass of hydrate leaves, in grams.
    ///
    /// ```
    /// use effloresce::{Ratio, gravimetry::Method, number::TieRule};
    /// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?;
    /// let residue = plan.residue_from(&Ratio::from(2));
    /// assert_eq!(residue.to_places(2, TieRule::Even).to_string(), "0.98");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn residue_from(&self, hydrate: &Ratio) -> Ratio {
        hydrate * &self.precision.residue
    }

    /// The mass that a mass of hydrate loses, in grams.
    #[must_use]
    pub fn loss_from(&self, hydrate: &Ratio) -> Ratio {
        hydrate * &self.precision.water
    }

    /// The mass of residue from the least mass of hydrate, in grams.
    #[must_use]
    pub fn expected_residue(&self) -> Ratio {
        self.residue_from(self.weigh_between.low())
    }

    /// The mass that the least mass of hydrate loses, in grams.
    #[must_use]
    pub fn expected_loss(&self) -> Ratio {
        self.loss_from(self.weigh_between.low())
    }

    /// The planned balance and the usual ones of a school, the coarsest first.
    #[must_use]
    pub fn balances(&self) -> &[PlannedBalance] {
        &self.balances
    }

    /// The nearest hydrate that the weighings must distinguish from what was issued; `None` if there is no
    /// other candidate. It need not exist: x might be rounded to any whole number.
    #[must_use]
    pub fn nearest_other(&self) -> Option<&Formula> {
        self.other.as_ref().map(Candidate::formula)
    }

    /// Whether the catalogue or the method names the nearest other hydrate.
    #[cfg(feature = "report")]
    pub(crate) fn nearest_is_known(&self) -> bool {
        self.other.as_ref().is_some_and(Candidate::known)
    }

    /// Half the distance to the nearest other candidate: the largest expanded uncertainty of x that
    /// distinguishes them.
    #[must_use]
    pub fn half_distance(&self) -> Option<Ratio> {
        self.distance.as_ref()?.checked_div(&2.into())
    }

    /// The expanded uncertainty of x from three weighings of a mass of hydrate, on a balance with this
    /// smallest step, both in grams.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?;
    /// let expanded = plan.expanded_uncertainty(&"0.3962".parse()?, &"0.01".parse()?);
    /// assert!((expanded - 0.5).abs() < 0.0001);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn expanded_uncertainty(&self, hydrate: &Ratio, readability: &Ratio) -> f64 {
        let reading = self.method.of_one_reading(readability);
        self.method.coverage * self.precision.of_ratio(hydrate.to_f64(), reading)
    }

    /// The number of benches, if it was given.
    #[must_use]
    pub fn bench_count(&self) -> Option<u32> {
        self.benches
    }

    /// The spare in per cent.
    #[must_use]
    pub fn spare_percent(&self) -> &Ratio {
        &self.spare
    }

    /// The mass of hydrate for the whole class, in grams. It is enough for every bench to weigh out the
    /// greatest mass, with the spare. `None` if the number of benches was not given.
    #[must_use]
    pub fn total_mass(&self) -> Option<Ratio> {
        let most = self.weigh_between.high() * self.benches?;
        (most * (100 + &self.spare)).checked_div(&100.into())
    }

    /// The number of weighings at the busiest balance if each bench weighs this many times. `None` if the
    /// number of benches was not given, or if there is no balance.
    ///
    /// ```
    /// use effloresce::gravimetry::Method;
    /// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?.benches(11)?;
    /// // 11 benches × 4 weighings ÷ 3 balances.
    /// assert_eq!(plan.weighings_at_a_balance(4, 3), Some(15));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn weighings_at_a_balance(&self, weighings: u32, balances: u32) -> Option<u64> {
        let all = u64::from(self.benches?) * u64::from(weighings);
        (balances > 0).then(|| all.div_ceil(u64::from(balances)))
    }

    /// Returns the reasons: why the salt does not suit the method, which hydrate is planned for if only its
    /// salt was named, which limit decides, and which is left out.
    #[must_use]
    pub fn reasons(&self) -> Vec<Note> {
        let commonest = self.commonest.clone();
        let commonest = commonest.map(|of| PlanReason::Commonest(of, self.residual.salt.clone()));
        let reasons = commonest.into_iter().chain(self.left_out());
        let reasons = reasons.chain(self.large_sample());
        let reasons = reasons.chain([self.deciding()]);
        let reasons = reasons.map(|reason| reason.note());
        let unfit = self.safety().reasons().to_vec();
        let reasons = unfit.into_iter().chain(reasons);
        reasons.chain(self.notes.iter().cloned()).collect()
    }

    /// The limits that no mass reaches.
    fn left_out(&self) -> impl Iterator<Item = PlanReason> {
        let other = self.other.as_ref();
        let other = other.filter(|_| self.limits.resolution().is_none());
        let no_resolution = other.map(|other| {
            let other = other.formula.clone();
            PlanReason::NoResolution(self.issued.clone(), other)
        });
        let no_relative = self.limits.relative().is_none().then(|| {
            let repeatability = self.method.repeatability.unwrap_or(0.0);
            PlanReason::NoRelative(repeatability, self.method.coverage)
        });
        no_resolution.into_iter().chain(no_relative)
    }

    /// Whether the least mass of hydrate is too much for a usual crucible. Then a reason says so.
    pub(crate) fn has_large_sample(&self) -> bool {
        !fits_a_crucible(self.weigh_between.low())
    }

    fn large_sample(&self) -> Option<PlanReason> {
        if !self.has_large_sample() {
            return None;
        }
        let low = self.weigh_between.low();
        // The coarsest balance is the first.
        let mut needed = self.balances.iter().map(|balance| {
            let step = &balance.readability;
            let needed = weigh_between(&balance.limits.largest().value(), step);
            (step, needed.low)
        });
        let finer = needed.find(|(step, low)| **step < self.division && fits_a_crucible(low));
        let finer = finer.map(|(step, low)| {
            let low = low.to_places(places_of(step), TieRule::Even);
            (step.clone(), low)
        });
        Some(PlanReason::LargeSample(low.clone(), finer))
    }

    /// The largest limit, as a reason.
    fn deciding(&self) -> PlanReason {
        let limits = &self.limits;
        let largest = limits.largest();
        match &self.other {
            Some(other) if limits.resolution() == Some(largest) => {
                PlanReason::ByResolution(largest.clone(), other.formula.clone())
            }
            _ if limits.relative() == Some(largest) => PlanReason::ByRelative(largest.clone()),
            _ => PlanReason::ByPractical,
        }
    }

    /// Returns the cautions for heating the hydrate, the most severe first.
    #[must_use]
    pub fn cautions(&self) -> Vec<Note> {
        self.safety().cautions().to_vec()
    }

    /// Returns what heating the hydrate in a school means, with the cautions. If a lower hydrate is to be left,
    /// they say how hot that may become.
    #[must_use]
    pub fn safety(&self) -> HeatingSafety {
        HeatingSafety::leaving(&self.issued, self.residue())
    }
}
