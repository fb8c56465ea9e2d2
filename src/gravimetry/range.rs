//! The defensible range: the least and the greatest answer that careful work can give from the
//! same readings.

use alloc::vec::Vec;

use super::series::places_of;
use super::{Dehydration, Quantity};
use crate::element::{AtomicWeights, Element};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};

/// The least and the greatest defensible value of a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Range {
    low: Ratio,
    high: Ratio,
    /// The decimal places that a mass found by subtraction keeps when it is printed.
    places: Option<i32>,
}

impl Range {
    fn new(low: Ratio, high: Ratio) -> Range {
        Range {
            low,
            high,
            places: None,
        }
    }

    pub(crate) fn point(value: Ratio) -> Range {
        Range::new(value.clone(), value)
    }

    /// What a number with this last place may have been before it was rounded.
    #[cfg(feature = "class")]
    pub(crate) fn about(reading: &Reading) -> Range {
        let (value, half) = (reading.value(), half_place(reading));
        Range::new(&value - &half, &value + &half)
    }

    /// The difference of two values that lie anywhere in their ranges.
    pub(crate) fn minus(&self, other: &Range) -> Range {
        Range::new(&self.low - &other.high, &self.high - &other.low)
    }

    /// The quotients of two values that lie anywhere in their ranges; `None` where the divisor may
    /// be nought.
    pub(crate) fn over(&self, divisor: &Range) -> Option<Range> {
        if !divisor.low.is_positive() && !divisor.high.is_negative() {
            return None;
        }
        let quotient = |a: &Ratio, b: &Ratio| a.checked_div(b);
        if self.low.is_positive() && divisor.low.is_positive() {
            let (low, high) = (&self.low, &self.high);
            return Some(Range::new(
                quotient(low, &divisor.high)?,
                quotient(high, &divisor.low)?,
            ));
        }
        let ends = [
            quotient(&self.low, &divisor.low),
            quotient(&self.low, &divisor.high),
            quotient(&self.high, &divisor.low),
            quotient(&self.high, &divisor.high),
        ];
        ends.into_iter()
            .flatten()
            .map(Range::point)
            .reduce(Range::join)
    }

    /// The sum of two values that lie anywhere in their ranges.
    pub(crate) fn plus(&self, other: &Range) -> Range {
        Range::new(&self.low + &other.low, &self.high + &other.high)
    }

    /// The products of two values that lie anywhere in their ranges.
    pub(crate) fn times(&self, other: &Range) -> Range {
        let product = |a: &Ratio, b: &Ratio| Range::point(a * b);
        let rest = [
            product(&self.low, &other.high),
            product(&self.high, &other.low),
            product(&self.high, &other.high),
        ];
        rest.into_iter()
            .fold(product(&self.low, &other.low), Range::join)
    }

    pub(crate) fn join(self, other: Range) -> Range {
        Range {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            places: self.places,
        }
    }

    /// Whether all of another range lies in this one.
    #[cfg(feature = "class")]
    pub(crate) fn holds(&self, other: &Range) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// Whether some value lies in both.
    pub(crate) fn meets(&self, other: &Range) -> bool {
        self.low <= other.high && other.low <= self.high
    }

    /// The least value.
    #[must_use]
    pub fn low(&self) -> &Ratio {
        &self.low
    }

    /// The greatest value.
    #[must_use]
    pub fn high(&self) -> &Ratio {
        &self.high
    }

    /// Whether some value of the range rounds to what was written, at the places it was written
    /// to, by either tie rule.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Quantity, Weighings};
    /// let bench = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.655".parse()?]);
    /// let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
    /// let range = run.defensible().range(Quantity::Ratio).cloned().unwrap();
    /// assert!(range.admits(&"6.99".parse()?));
    /// assert!(range.admits(&"7.0".parse()?));
    /// assert!(!range.admits(&"6.39".parse()?));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn admits(&self, written: &Reading) -> bool {
        self.reaches(&written.value(), &half_place(written))
    }

    /// The same, and for a number whose final zeros may only hold the place (`50`) also at its last
    /// certain figure, where the readings allow no more figures than that.
    #[cfg(feature = "class")]
    pub(crate) fn admits_with(&self, written: &Reading, allowed: u32) -> bool {
        let figures = written.figures();
        let doubtful = i32::try_from(figures.at_most() - figures.at_least()).unwrap_or(0);
        let zeros_hold_the_place = doubtful > 0 && figures.at_least() >= allowed;
        let half = &half_place(written) * &Ratio::power_of_ten(doubtful);
        self.admits(written) || (zeros_hold_the_place && self.reaches(&written.value(), &half))
    }

    fn reaches(&self, value: &Ratio, half: &Ratio) -> bool {
        // Nought rounds from nearly anything, and says nothing.
        let half = if value.is_zero() { &Ratio::ZERO } else { half };
        self.low <= value + half && value - half <= self.high
    }
}

fn half_place(written: &Reading) -> Ratio {
    &written.last_place() * &Ratio::new(1, 2).unwrap_or_default()
}

#[cfg(feature = "serde")]
impl serde::Serialize for Range {
    /// As the pair `[low, high]` in plain decimal notation.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = |value: &Ratio| match self.places {
            Some(places) => {
                let needed = value.exact_places().and_then(|p| i32::try_from(p).ok());
                let places = places.max(needed.unwrap_or(0));
                alloc::format!("{}", value.to_places(places, TieRule::Even))
            }
            None => value.to_plain(),
        };
        [text(&self.low), text(&self.high)].serialize(serializer)
    }
}

/// The defensible range of every quantity.
///
/// The paths that careful work can take are the product of: the table of atomic weights, for the
/// salt and for water apart (whole numbers with Cl 35.5 and Cu 63.5, one, two, three decimals,
/// abridged, full, and the class's own; where a class has its own table, that and the finer
/// ones); each intermediate value unrounded, or rounded to three to six figures (to fewer where
/// the data allow no more); the tie rule; and which of the weighings that agree within the
/// criterion was used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Defensible {
    ranges: [Option<Range>; MEASURED],
}

/// One choice of weighing, as masses.
pub(crate) struct Masses {
    pub(crate) hydrate: Ratio,
    pub(crate) residue: Ratio,
    pub(crate) water: Ratio,
}

/// The quantities that have a range: all but the formula, which stands last.
pub(crate) const MEASURED: usize = 7;

impl Defensible {
    pub(super) fn new(run: &Dehydration, paths: &Paths) -> Defensible {
        let choices = run.masses();
        if choices.is_empty() {
            let percent = run.percent_water();
            let mut ranges: [Option<Range>; MEASURED] = Default::default();
            ranges[3] = Some(Range::point(percent.clone()));
            ranges[6] = paths.ratio_of_percent(percent);
            return Defensible { ranges };
        }
        let places = places_of(run.division());
        let kept = |value: &Ratio| Range {
            places: Some(places),
            ..Range::point(value.clone())
        };
        let over = |of: &dyn Fn(&Masses) -> Option<Range>| {
            choices.iter().filter_map(of).reduce(Range::join)
        };
        Defensible {
            ranges: [
                over(&|m| Some(kept(&m.hydrate))),
                over(&|m| Some(kept(&m.residue))),
                over(&|m| Some(kept(&m.water))),
                over(&|m| {
                    percent(
                        &Range::point(m.water.clone()),
                        &Range::point(m.hydrate.clone()),
                    )
                }),
                over(&|m| paths.mol_salt(&Range::point(m.residue.clone()))),
                over(&|m| paths.mol_water(&Range::point(m.water.clone()))),
                over(&|m| {
                    paths.ratio(
                        &Source::Mass(Range::point(m.water.clone())),
                        &Source::Mass(Range::point(m.residue.clone())),
                    )
                }),
            ],
        }
    }

    /// The ranges in the order of [`Quantity::ALL`], without the formula's.
    pub(crate) fn into_ranges(self) -> [Option<Range>; MEASURED] {
        self.ranges
    }

    /// The range of a quantity; `None` for the formula, and for masses that were not given.
    #[must_use]
    pub fn range(&self, quantity: Quantity) -> Option<&Range> {
        let index = Quantity::ALL.iter().position(|q| *q == quantity)?;
        self.ranges.get(index)?.as_ref()
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Defensible {
    /// Each quantity with its `[low, high]`, or null.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = serializer.serialize_map(Some(self.ranges.len()))?;
        for (quantity, range) in Quantity::ALL.iter().zip(&self.ranges) {
            map.serialize_entry(quantity.code(), range)?;
        }
        map.end()
    }
}

/// 100 w/h; nothing is rounded on the way, for there is nothing between.
pub(crate) fn percent(water: &Range, hydrate: &Range) -> Option<Range> {
    let hundred = Ratio::from(100);
    Range::new(&hundred * &water.low, &hundred * &water.high).over(hydrate)
}

/// How intermediate values are kept along a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Keeping {
    Unrounded,
    Figures(u32),
}

impl Keeping {
    /// The range as it is kept, and whether the other rule for ties gives another one. Rounding
    /// keeps the order, so the ends serve for all.
    fn keep(self, range: &Range, ties: TieRule) -> (Range, bool) {
        match self {
            Keeping::Unrounded => (range.clone(), false),
            Keeping::Figures(figures) => {
                let low = range.low.to_figures(figures, ties);
                let high = range.high.to_figures(figures, ties);
                let differ = low.ties_differ() || high.ties_differ();
                (Range::new(low.value(), high.value()), differ)
            }
        }
    }
}

/// What comes of both rules for ties; the second is asked only where it differs from the first.
fn by_either_rule(of: impl Fn(TieRule) -> (Option<Range>, bool)) -> Option<Range> {
    let (even, differ) = of(TieRule::Even);
    let away = differ.then(|| of(TieRule::AwayFromZero).0);
    even.into_iter().chain(away.flatten()).reduce(Range::join)
}

/// Where an amount comes from: a mass divided by a molar mass, or an amount already at hand.
#[derive(Debug, Clone)]
pub(crate) enum Source {
    Mass(Range),
    #[cfg_attr(
        not(feature = "class"),
        allow(dead_code, reason = "used by the marker")
    )]
    Amount(Range),
}

/// The molar masses and roundings that the paths are made of, for one salt.
#[derive(Debug, Clone)]
pub(crate) struct Paths {
    salt: Range,
    water: Range,
    keepings: Vec<Keeping>,
    tables: Vec<AtomicWeights>,
}

impl Paths {
    pub(crate) fn new(salt: &Formula, weights: &AtomicWeights, figures: u32) -> Paths {
        let tables = weights.comparable_tables();
        let mut keepings = alloc::vec![Keeping::Unrounded];
        for kept in figures.clamp(1, 3)..=6 {
            keepings.push(Keeping::Figures(kept));
        }
        Paths::along(salt, tables, keepings)
    }

    /// The one path of a table in which nothing is rounded on the way.
    pub(crate) fn unrounded(salt: &Formula, weights: &AtomicWeights) -> Paths {
        let tables = alloc::vec![weights.clone()];
        Paths::along(salt, tables, alloc::vec![Keeping::Unrounded])
    }

    fn along(salt: &Formula, tables: Vec<AtomicWeights>, keepings: Vec<Keeping>) -> Paths {
        let nothing = || Range::point(Ratio::ZERO);
        let mut paths = Paths {
            salt: nothing(),
            water: nothing(),
            keepings,
            tables,
        };
        paths.salt = paths.molar_mass(salt).unwrap_or_else(nothing);
        paths.water = paths.molar_mass(&Formula::water()).unwrap_or_else(nothing);
        paths
    }

    /// The molar masses of a formula along the paths.
    ///
    /// A molar mass is an intermediate value, too: kept in full or rounded, whatever becomes of
    /// the amounts. Rounding and dividing keep the order, so the ends serve for all.
    pub(crate) fn molar_mass(&self, formula: &Formula) -> Option<Range> {
        let of_tables = self
            .tables
            .iter()
            .filter_map(|table| formula.molar_mass(table).ok())
            .map(|m| Range::point(m.exact().clone()))
            .reduce(Range::join)?;
        self.keepings
            .iter()
            .filter_map(|keeping| {
                by_either_rule(|ties| {
                    let (kept, differ) = keeping.keep(&of_tables, ties);
                    (Some(kept), differ)
                })
            })
            .reduce(Range::join)
    }

    /// The molar mass of the salt.
    pub(crate) fn salt(&self) -> &Range {
        &self.salt
    }

    /// The molar mass of water.
    pub(crate) fn water(&self) -> &Range {
        &self.water
    }

    pub(crate) fn mol_salt(&self, residue: &Range) -> Option<Range> {
        residue.over(&self.salt)
    }

    pub(crate) fn mol_water(&self, water: &Range) -> Option<Range> {
        water.over(&self.water)
    }

    /// The ratio, from masses or from amounts already at hand.
    pub(crate) fn ratio(&self, water: &Source, salt: &Source) -> Option<Range> {
        self.ratio_by([water, salt], [&self.water, &self.salt])
    }

    /// The same with the molar masses of water and salt that somebody took for the right ones.
    pub(crate) fn ratio_by(
        &self,
        [water, salt]: [&Source; 2],
        molar: [&Range; 2],
    ) -> Option<Range> {
        let side = |source: &Source, molar: &Range| match source {
            Source::Mass(mass) => mass.over(molar).map(|amount| (amount, true)),
            Source::Amount(amount) => Some((amount.clone(), false)),
        };
        let (water, salt) = (side(water, molar[0])?, side(salt, molar[1])?);
        let kept = |keeping: Keeping, ties, (amount, computed): &(Range, bool)| match computed {
            true => keeping.keep(amount, ties),
            false => (amount.clone(), false),
        };
        self.keepings
            .iter()
            .filter_map(|keeping| {
                by_either_rule(|ties| {
                    let (water, differ) = kept(*keeping, ties, &water);
                    let (salt, differs) = kept(*keeping, ties, &salt);
                    (water.over(&salt), differ || differs)
                })
            })
            .reduce(Range::join)
    }

    /// The ratio where only the percentage is known: of 100 g of hydrate.
    fn ratio_of_percent(&self, percent: &Ratio) -> Option<Range> {
        let rest = &Ratio::from(100) - percent;
        self.ratio(
            &Source::Mass(Range::point(percent.clone())),
            &Source::Mass(Range::point(rest)),
        )
    }
}

impl AtomicWeights {
    /// The tables that careful work may use in place of this one.
    fn comparable_tables(&self) -> Vec<AtomicWeights> {
        use crate::element::Values;
        let plain = self.without_rounding();
        let own = self.own_decimals();
        let mut tables = Vec::with_capacity(10);
        if own.is_none() {
            let half = |table: AtomicWeights, z: u8, weight: &str| {
                let element = Element::from_number(z);
                match element {
                    Some(element) => table
                        .clone()
                        .with(element, Reading::literal(weight))
                        .unwrap_or(table),
                    None => table,
                }
            };
            let whole = half(half(plain.clone().decimals(0), 17, "35.5"), 29, "63.5");
            tables.push(whole);
        }
        for decimals in 1..=3 {
            if own.is_none_or(|own| decimals > own) {
                for ties in [TieRule::Even, TieRule::AwayFromZero] {
                    tables.push(plain.clone().decimals(decimals).ties(ties));
                }
            }
        }
        tables.push(plain.clone().values(Values::Abridged));
        tables.push(plain.values(Values::Full));
        tables.push(self.clone());
        tables
    }
}
