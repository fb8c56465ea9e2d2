//! The policy: what a teacher decides about marks, built by its methods.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::mark_step::MarkStep;
use super::tolerance::{
    Band, MOST_MARKS, Tolerance, check_bands, marks_help, marks_within_percent,
};
use crate::class::{Error, ErrorKind, Marks};
use crate::gravimetry::{Quantity, Weighings};
use crate::mistake::{self, Fault, Priors};
use crate::number::{Ratio, Reading};
use crate::text::Detail;

/// The rules by which a teacher gives marks.
///
/// Unless the policy says otherwise, each answer earns one mark and the defensible range decides.
/// Significant figures are only remarked on, and the accuracy at the bench earns nothing.
///
/// ```
/// use effloresce::class::{Policy, Tolerance};
/// use effloresce::gravimetry::Quantity;
/// let policy = Policy::new()
///     .marks(Quantity::PercentWater, 2)?
///     .tolerance(Quantity::Ratio, Tolerance::Absolute("0.05".parse()?))?;
/// let same = Policy::from_toml("
/// [marks]
/// percent_water = 2
/// [tolerance]
/// ratio = { absolute = 0.05 }
/// ")?;
/// assert_eq!(policy, same);
/// assert_eq!(policy.marks_for(Quantity::PercentWater), 2);
/// assert_eq!(policy.marks_for(Quantity::Ratio), 1);
/// # Ok::<(), effloresce::Error>(())
/// ```
#[doc(alias = "mark scheme")]
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Policy {
    pub(super) step: MarkStep,
    pub(super) marks: BTreeMap<Quantity, Marks>,
    pub(super) tolerances: BTreeMap<Quantity, Tolerance>,
    pub(super) figures: FiguresRule,
    pub(super) formula: FormulaRule,
    pub(super) accuracy: Vec<Band>,
    pub(super) priors: BTreeMap<Fault, Reading>,
    stock: Option<Stock>,
}

/// The cost of more or fewer significant figures than the readings allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum FiguresRule {
    /// No remark and no cost.
    Ignore,
    /// One remark in a submission, which costs nothing.
    #[default]
    Remark,
    /// One remark in a submission, which costs one mark.
    OneMark,
}

crate::text::codes! {
    FiguresRule, "significant figures", Error(ErrorKind::UnknownCode);
    Ignore => "ignore",
    Remark => "remark",
    OneMark => "one_mark",
}

/// The mole ratio that a formula must agree with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum FormulaRule {
    /// The bench's own ratio. A formula that contradicts the ratio handed in has a remark.
    #[default]
    Bench,
    /// The ratio that the pupil handed in, if there is one. A formula that contradicts it earns nothing.
    OwnRatio,
}

crate::text::codes! {
    FormulaRule, "rules for formulas", Error(ErrorKind::UnknownCode);
    Bench => "bench",
    OwnRatio => "own_ratio",
}

/// The true content of the stock (the bottle that the samples came from), which may have gained or
/// lost water: `[jar]` in a policy.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Stock {
    /// The mass fraction of water, in per cent.
    PercentWater(Reading),
    /// The technician's own weighings of a sample of the stock, in grams.
    Weighings(Weighings),
}

impl Stock {
    /// Returns a stock with this percentage of water, if a hydrate can hold it.
    pub(super) fn checked(percent: Reading) -> Result<Stock, Detail> {
        if percent.value().is_positive() && percent.value() < Ratio::from(100) {
            return Ok(Stock::PercentWater(percent));
        }
        let help = "give a percentage above 0 and below 100";
        Err(no_hydrate(&format!("{percent}"), help))
    }
}

/// Returns what is wrong with a stock that no hydrate can be.
pub(super) fn no_hydrate(percent: &str, help: &'static str) -> Detail {
    Detail::new(format!("no hydrate contains {percent} % water")).help(help)
}

impl Policy {
    /// Creates the default policy: one mark for each answer, by the defensible range.
    #[must_use]
    pub fn new() -> Self {
        Policy::default()
    }

    /// Sets the smallest difference of marks: whole marks, the default, or half marks. Set it before
    /// the marks. Nothing is rounded to it: other marks are refused.
    ///
    /// # Errors
    /// Fails for whole marks if the policy has half marks already.
    pub fn step(mut self, step: MarkStep) -> Result<Self, Error> {
        self.step = step;
        let banded = self.tolerances.values().filter_map(Tolerance::bands);
        let bands = banded.flatten().chain(&self.accuracy).map(Band::marks);
        for marks in self.marks.values().copied().chain(bands) {
            step.check(marks).map_err(bad)?;
        }
        Ok(self)
    }

    /// Sets the marks of a correct answer, from 0 to 100. With 0 it is judged but not counted.
    ///
    /// # Errors
    /// Fails above 100 marks, for marks that are not a multiple of the step, or if the quantity has a tolerance in bands, because bands give its
    /// marks.
    pub fn marks(mut self, quantity: Quantity, marks: impl Into<Marks>) -> Result<Self, Error> {
        self.set_marks(quantity, marks.into()).map_err(bad)?;
        Ok(self)
    }

    /// Sets a tolerance by which a quantity is judged instead of the defensible range.
    ///
    /// # Errors
    /// Fails for the formula, which is right or wrong, and if a width is negative or above 100 %. Fails
    /// if bands do not ascend with marks that fall, if there are more than 20, or if the quantity has
    /// both bands and marks of its own.
    pub fn tolerance(mut self, quantity: Quantity, tolerance: Tolerance) -> Result<Self, Error> {
        self.set_tolerance(quantity, tolerance)
            .map_err(|(_, detail)| bad(detail))?;
        Ok(self)
    }

    /// Sets what significant figures cost.
    #[must_use]
    pub fn figures(mut self, rule: FiguresRule) -> Self {
        self.figures = rule;
        self
    }

    /// Sets what a formula must agree with: the bench's own ratio, or the one that was handed in.
    ///
    /// ```
    /// use effloresce::class::{Entry, FormulaRule, Marker, Policy};
    /// use effloresce::gravimetry::{Method, Net, Quantity, Weighings};
    /// let net = Weighings::net("2.666".parse()?, "1.303".parse()?, Net::Tared);
    /// let entry = Entry::new("Heron")
    ///     .weighings(net)
    ///     .reported(Quantity::Ratio, "5.02")
    ///     .reported(Quantity::Formula, "MgSO4·7H2O");
    /// let marks = |rule: FormulaRule| {
    ///     let policy = Policy::new().formula(rule);
    ///     let marker = Marker::new("MgSO4·7H2O".parse()?, Method::new()).policy(policy);
    ///     let marked = marker.mark_entry(entry.clone());
    ///     Ok::<_, effloresce::Error>(marked.row().unwrap().answers()[1].marks())
    /// };
    /// assert_eq!(marks(FormulaRule::Bench)?, 1);
    /// assert_eq!(marks(FormulaRule::OwnRatio)?, 0);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn formula(mut self, rule: FormulaRule) -> Self {
        self.formula = rule;
        self
    }

    /// Sets marks for the accuracy at the bench: how far the bench's ratio is from the expected degree,
    /// in per cent of that.
    ///
    /// # Errors
    /// Fails if a width is negative or above 100 %, if the bands do not ascend with marks that fall, or
    /// if there are none or more than 20.
    pub fn accuracy(mut self, bands: impl IntoIterator<Item = Band>) -> Result<Self, Error> {
        self.set_accuracy(bands.into_iter().collect())
            .map_err(|(_, detail)| bad(detail))?;
        Ok(self)
    }

    /// Sets how probable some faults at the bench are before a reading is looked at. The others keep their
    /// [default](Priors). They change no marks: they decide which faults a bench is told of.
    ///
    /// # Errors
    /// Fails if a probability is not from 0 to below 1, or if those of all faults add up to 1 or more.
    ///
    /// ```
    /// use effloresce::class::Policy;
    /// use effloresce::mistake::Fault;
    /// // In this class, each bench had a balance of its own.
    /// let policy = Policy::new().priors([(Fault::BalanceChanged, "0".parse()?)])?;
    /// assert_eq!(policy.fault_priors().of(Fault::BalanceChanged), 0.0);
    /// assert_eq!(policy, Policy::from_toml("priors.balance_changed = 0")?);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn priors(
        mut self,
        faults: impl IntoIterator<Item = (Fault, Reading)>,
    ) -> Result<Self, Error> {
        self.set_priors(faults.into_iter().collect()).map_err(bad)?;
        Ok(self)
    }

    /// Sets what the stock really holds, which counts instead of the formula on its label.
    #[must_use]
    pub fn stock(mut self, stock: Stock) -> Self {
        self.stock = Some(stock);
        self
    }

    /// Returns the smallest difference of marks.
    #[must_use]
    pub fn mark_step(&self) -> MarkStep {
        self.step
    }

    /// Returns the most that the answer can earn. If it has bands, this is what the best one gives.
    #[must_use]
    pub fn marks_for(&self, quantity: Quantity) -> Marks {
        let bands = self.tolerance_for(quantity).and_then(Tolerance::bands);
        match bands.and_then(<[Band]>::first) {
            Some(band) => band.marks(),
            None => self.marks.get(&quantity).copied().unwrap_or(Marks::from(1)),
        }
    }

    /// Returns the tolerance that counts instead of the defensible range.
    #[must_use]
    pub fn tolerance_for(&self, quantity: Quantity) -> Option<&Tolerance> {
        self.tolerances.get(&quantity)
    }

    /// Returns what significant figures cost.
    #[must_use]
    pub fn figures_rule(&self) -> FiguresRule {
        self.figures
    }

    /// Returns what a formula must agree with.
    #[must_use]
    pub fn formula_rule(&self) -> FormulaRule {
        self.formula
    }

    /// Returns the bands for the accuracy at the bench, from the narrowest. They are empty if it earns
    /// nothing.
    #[must_use]
    pub fn accuracy_bands(&self) -> &[Band] {
        &self.accuracy
    }

    /// Returns the marks for the accuracy at the bench; `None` if accuracy is not marked. The difference
    /// from the expected degree is in per cent of that and may have either sign.
    ///
    /// ```
    /// use effloresce::class::{Band, Policy};
    /// let policy = Policy::new().accuracy([Band::new("1".parse()?, 3)])?;
    /// assert_eq!(policy.accuracy_marks(&"-1.00".parse()?), Some(3.into()));
    /// assert_eq!(policy.accuracy_marks(&"1.01".parse()?), Some(0.into()));
    /// assert_eq!(Policy::new().accuracy_marks(&"0".parse()?), None);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn accuracy_marks(&self, difference_percent: &Ratio) -> Option<Marks> {
        (!self.accuracy.is_empty())
            .then(|| marks_within_percent(&self.accuracy, difference_percent).unwrap_or_default())
    }

    /// Returns how probable each fault at the bench is before a reading is looked at.
    #[must_use]
    pub fn fault_priors(&self) -> Priors {
        // They were checked when they were set.
        priors(&self.priors).unwrap_or_default()
    }

    /// Returns what the stock really holds, if it was found out.
    #[must_use]
    pub fn stock_content(&self) -> Option<&Stock> {
        self.stock.as_ref()
    }

    pub(super) fn set_marks(&mut self, quantity: Quantity, marks: Marks) -> Result<(), Detail> {
        if marks > MOST_MARKS.into() {
            return Err(
                Detail::new(format!("{marks} marks are too many for the {quantity}"))
                    .help(marks_help()),
            );
        }
        if self.has_bands(quantity) {
            return Err(both(quantity));
        }
        self.step.check(marks)?;
        self.marks.insert(quantity, marks);
        Ok(())
    }

    pub(super) fn set_tolerance(
        &mut self,
        quantity: Quantity,
        tolerance: Tolerance,
    ) -> Result<(), BandError> {
        if quantity == Quantity::Formula {
            let detail = Detail::new("a formula is right or wrong and has no tolerance");
            return Err((
                None,
                detail.help("leave it out, or give the mole ratio a tolerance"),
            ));
        }
        tolerance.check(self.step)?;
        if tolerance.bands().is_some() && self.marks.contains_key(&quantity) {
            return Err((None, both(quantity)));
        }
        self.tolerances.insert(quantity, tolerance);
        Ok(())
    }

    pub(super) fn set_accuracy(&mut self, bands: Vec<Band>) -> Result<(), BandError> {
        check_bands(&bands, true, self.step)?;
        self.accuracy = bands;
        Ok(())
    }

    pub(super) fn set_priors(&mut self, faults: BTreeMap<Fault, Reading>) -> Result<(), Detail> {
        priors(&faults).map_err(|error| {
            let detail = Detail::new(format!("{error}"));
            detail.help(error.help().map(String::from).unwrap_or_default())
        })?;
        self.priors = faults;
        Ok(())
    }

    fn has_bands(&self, quantity: Quantity) -> bool {
        self.tolerance_for(quantity)
            .is_some_and(|tolerance| tolerance.bands().is_some())
    }
}

/// Returns the default probabilities with these changed.
fn priors(faults: &BTreeMap<Fault, Reading>) -> Result<Priors, mistake::Error> {
    let faults = faults.iter();
    Priors::with_all(faults.map(|(fault, probability)| (*fault, probability.value().to_f64())))
}

/// What is wrong, with the index of the band if it is one band of a list.
pub(super) type BandError = (Option<usize>, Detail);

fn both(quantity: Quantity) -> Detail {
    Detail::new(format!(
        "the {quantity} has both bands and marks of its own"
    ))
    .help("leave out its marks, or give it a tolerance without bands")
}

pub(super) fn bad(detail: Detail) -> Error {
    Error::new(ErrorKind::BadPolicy, detail)
}
