//! What a teacher decides about marks: how many an answer earns, how far it may lie from the key,
//! what figures cost, and what the jar really holds.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::vec::Vec;

use super::tolerance::{Band, MOST_MARKS, Tolerance, check_bands, marks_within_percent};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::{Quantity, Weighings};
use crate::number::{Ratio, Reading};
use crate::text::Detail;

/// How a teacher gives marks.
///
/// Unless something else is said, each answer earns one mark, the defensible range decides,
/// figures are a remark, and the accuracy at the bench earns nothing.
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
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Policy {
    marks: BTreeMap<Quantity, u32>,
    tolerances: BTreeMap<Quantity, Tolerance>,
    figures: FiguresRule,
    accuracy: Vec<Band>,
    stock: Option<Stock>,
}

/// What it costs to report more or fewer figures than the readings allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum FiguresRule {
    /// Nothing is said of figures.
    Ignore,
    /// It is said once in a submission, and costs nothing.
    #[default]
    Remark,
    /// It is said once in a submission, and costs one mark there.
    OneMark,
}

impl FiguresRule {
    /// All of them.
    pub(super) const ALL: [FiguresRule; 3] = [
        FiguresRule::Ignore,
        FiguresRule::Remark,
        FiguresRule::OneMark,
    ];

    /// The stable name of the rule, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            FiguresRule::Ignore => "ignore",
            FiguresRule::Remark => "remark",
            FiguresRule::OneMark => "one_mark",
        }
    }
}

/// What the jar really holds, since stock gains and loses water.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Stock {
    /// The mass fraction of water, in per cent.
    PercentWater(Reading),
    /// The technician's own weighings of a sample from the jar, in grams.
    Weighings(Weighings),
}

impl Policy {
    /// One mark an answer, by the defensible range; figures are a remark.
    #[must_use]
    pub fn new() -> Self {
        Policy::default()
    }

    /// Gives a correct answer so many marks, from 0 to 100. With 0 it is judged and not counted.
    ///
    /// # Errors
    /// Above 100 marks, or where the quantity has a tolerance in bands, which give its marks.
    pub fn marks(mut self, quantity: Quantity, marks: u32) -> Result<Self, Error> {
        self.set_marks(quantity, marks).map_err(bad)?;
        Ok(self)
    }

    /// Judges a quantity by a tolerance instead of the defensible range.
    ///
    /// # Errors
    /// For the formula, which is right or wrong; where a width is negative or above 100 %; where
    /// bands do not ascend with marks that fall, or are more than 20; where the quantity has bands
    /// and marks of its own.
    pub fn tolerance(mut self, quantity: Quantity, tolerance: Tolerance) -> Result<Self, Error> {
        self.set_tolerance(quantity, tolerance)
            .map_err(|(_, detail)| bad(detail))?;
        Ok(self)
    }

    /// What the figures of the values reported cost.
    #[must_use]
    pub fn figures(mut self, rule: FiguresRule) -> Self {
        self.figures = rule;
        self
    }

    /// Gives marks for the accuracy at the bench: how far the bench's ratio lies from the expected
    /// degree, in per cent of that.
    ///
    /// # Errors
    /// Where a width is negative or above 100 %, or where the bands do not ascend with marks that
    /// fall, or are none, or more than 20.
    pub fn accuracy(mut self, bands: impl IntoIterator<Item = Band>) -> Result<Self, Error> {
        self.set_accuracy(bands.into_iter().collect())
            .map_err(|(_, detail)| bad(detail))?;
        Ok(self)
    }

    /// Takes what the jar really holds in place of the formula on its label.
    #[must_use]
    pub fn stock(mut self, stock: Stock) -> Self {
        self.stock = Some(stock);
        self
    }

    /// The most that the answer can earn: of bands, what the best one gives.
    #[must_use]
    pub fn marks_for(&self, quantity: Quantity) -> u32 {
        let bands = self.tolerance_for(quantity).and_then(Tolerance::bands);
        match bands.and_then(<[Band]>::first) {
            Some(band) => band.marks(),
            None => self.marks.get(&quantity).copied().unwrap_or(1),
        }
    }

    /// The tolerance that stands in place of the defensible range.
    #[must_use]
    pub fn tolerance_for(&self, quantity: Quantity) -> Option<&Tolerance> {
        self.tolerances.get(&quantity)
    }

    /// What figures cost.
    #[must_use]
    pub fn figures_rule(&self) -> FiguresRule {
        self.figures
    }

    /// The bands for the accuracy at the bench, from the narrowest; empty where it earns nothing.
    #[must_use]
    pub fn accuracy_bands(&self) -> &[Band] {
        &self.accuracy
    }

    /// The marks for the accuracy at the bench, by the difference from the expected degree in per
    /// cent of it, of either sign; `None` where accuracy is not marked.
    ///
    /// ```
    /// use effloresce::class::{Band, Policy};
    /// let policy = Policy::new().accuracy([Band::new("1".parse()?, 3)])?;
    /// assert_eq!(policy.accuracy_marks(&"-1.00".parse()?), Some(3));
    /// assert_eq!(policy.accuracy_marks(&"1.01".parse()?), Some(0));
    /// assert_eq!(Policy::new().accuracy_marks(&"0".parse()?), None);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn accuracy_marks(&self, difference_percent: &Ratio) -> Option<u32> {
        (!self.accuracy.is_empty())
            .then(|| marks_within_percent(&self.accuracy, difference_percent).unwrap_or(0))
    }

    /// What the jar really holds, where that was found out.
    #[must_use]
    pub fn stock_content(&self) -> Option<&Stock> {
        self.stock.as_ref()
    }

    pub(super) fn set_marks(&mut self, quantity: Quantity, marks: u32) -> Result<(), Detail> {
        if marks > MOST_MARKS {
            return Err(
                Detail::new(format!("{marks} marks are too many for the {quantity}"))
                    .help(format!("give a whole number from 0 to {MOST_MARKS}")),
            );
        }
        if self.has_bands(quantity) {
            return Err(both(quantity));
        }
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
        tolerance.check()?;
        if tolerance.bands().is_some() && self.marks.contains_key(&quantity) {
            return Err((None, both(quantity)));
        }
        self.tolerances.insert(quantity, tolerance);
        Ok(())
    }

    pub(super) fn set_accuracy(&mut self, bands: Vec<Band>) -> Result<(), BandError> {
        check_bands(&bands, true)?;
        self.accuracy = bands;
        Ok(())
    }

    fn has_bands(&self, quantity: Quantity) -> bool {
        self.tolerance_for(quantity)
            .is_some_and(|tolerance| tolerance.bands().is_some())
    }
}

/// What is wrong, and with which band of a list.
pub(super) type BandError = (Option<usize>, Detail);

fn both(quantity: Quantity) -> Detail {
    Detail::new(format!(
        "the {quantity} has bands, which give its marks, and marks of its own"
    ))
    .help("leave out its marks, or give it a tolerance without bands")
}

pub(super) fn bad(detail: Detail) -> Error {
    Error::new(ErrorKind::BadPolicy, detail)
}
