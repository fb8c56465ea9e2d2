//! The paths of careful work: tables of atomic weights, and rounding of intermediate values.

use alloc::collections::BTreeSet;
use alloc::vec::Vec;

use super::interval::Interval;
use super::residual_salt::ResidualSalt;
use crate::element::{AtomicWeights, Element};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};

/// Returns the least number of significant figures that careful work keeps of a value: three, or as many
/// as the readings allow.
pub(crate) fn figures_kept(allowed: u32) -> u32 {
    allowed.min(3)
}

/// The rounding of intermediate values along a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Keeping {
    Unrounded,
    Figures(u32),
}

impl Keeping {
    /// The rounded interval, and whether the other tie rule gives another one. Rounding keeps the
    /// order, so rounding the ends is enough.
    fn keep(self, interval: &Interval, ties: TieRule) -> (Interval, bool) {
        match self {
            Keeping::Unrounded => (interval.clone(), false),
            Keeping::Figures(figures) => {
                let low = interval.low.to_figures(figures, ties);
                let high = interval.high.to_figures(figures, ties);
                let differ = low.ties_differ() || high.ties_differ();
                (Interval::new(low.value(), high.value()), differ)
            }
        }
    }

    /// The rounded interval, and that of the other tie rule if it is another one.
    fn kept(self, interval: &Interval) -> impl Iterator<Item = Interval> + use<> {
        let (even, differ) = self.keep(interval, TieRule::Even);
        let away = differ.then(|| self.keep(interval, TieRule::AwayFromZero).0);
        core::iter::once(even).chain(away)
    }
}

/// A mass, which is still to be divided by a molar mass, or an amount.
#[derive(Debug, Clone)]
pub(crate) enum MassOrAmount {
    Mass(Interval),
    #[cfg_attr(
        not(feature = "class"),
        allow(dead_code, reason = "used only by the marker")
    )]
    Amount(Interval),
}

/// The tables of weights that careful work may use, and the roundings of its intermediate values.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CarefulPaths {
    keepings: Vec<Keeping>,
    tables: Vec<AtomicWeights>,
}

impl CarefulPaths {
    /// `figures` are those that the data allow.
    pub(crate) fn new(weights: &AtomicWeights, figures: u32) -> CarefulPaths {
        let mut keepings = alloc::vec![Keeping::Unrounded];
        for kept in figures_kept(figures).max(1)..=6 {
            keepings.push(Keeping::Figures(kept));
        }
        CarefulPaths {
            keepings,
            tables: weights.comparable_tables(),
        }
    }

    /// The paths with a printed table or finer ones. Intermediate values keep at least so many figures.
    #[cfg(feature = "exercise")]
    pub(crate) fn with_printed_table(weights: &AtomicWeights, figures: u32) -> CarefulPaths {
        let finer = weights.without_rounding();
        CarefulPaths {
            keepings: core::iter::once(Keeping::Unrounded)
                .chain((figures..=6).map(Keeping::Figures))
                .collect(),
            tables: alloc::vec![
                weights.clone(),
                finer.clone().values(crate::element::Values::Abridged),
                finer.values(crate::element::Values::Full),
            ],
        }
    }

    /// The one path with these weights and without rounding of intermediate values.
    pub(crate) fn unrounded(weights: &AtomicWeights) -> CarefulPaths {
        CarefulPaths {
            keepings: alloc::vec![Keeping::Unrounded],
            tables: alloc::vec![weights.clone()],
        }
    }

    /// The molar masses of a formula along the paths.
    ///
    /// A molar mass is an intermediate value, too. It is rounded or not, independently of the amounts.
    /// Rounding and dividing keep the order, so working with the ends is enough.
    pub(crate) fn molar_mass(&self, formula: &Formula) -> Option<Interval> {
        let tables = self.tables.iter();
        let of_tables = tables
            .filter_map(|table| formula.molar_mass(table).ok())
            .map(|m| Interval::point(m.exact().clone()))
            .reduce(Interval::join)?;
        self.kept(&of_tables)
    }

    /// An intermediate value, rounded or not.
    pub(crate) fn kept(&self, value: &Interval) -> Option<Interval> {
        let keepings = self.keepings.iter();
        keepings
            .flat_map(|keeping| keeping.kept(value))
            .reduce(Interval::join)
    }
}

/// The molar masses and roundings of the paths of careful work, for one salt.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DefensiblePaths {
    /// The molar mass of the residue.
    pub(crate) salt_molar_mass: Interval,
    pub(crate) water_molar_mass: Interval,
    work: CarefulPaths,
    /// The waters that complete heating leaves in the residue.
    pub(crate) waters_left: Ratio,
    /// Each molar mass of the residue, by every table and rounding; none on the path without rounding.
    residue_molar_masses: BTreeSet<Ratio>,
}

/// The rounding of the amount of residue on the way by the molar mass of the hydrate.
const AMOUNT: Keeping = Keeping::Figures(3);

impl DefensiblePaths {
    pub(super) fn new(
        salt: &ResidualSalt,
        weights: &AtomicWeights,
        figures: u32,
    ) -> DefensiblePaths {
        let work = CarefulPaths::new(weights, figures);
        let mut paths = DefensiblePaths::along(salt, work);
        paths.residue_molar_masses = paths.each_molar_mass(&salt.formula);
        paths
    }

    /// The one path with these weights and without rounding of intermediate values.
    pub(super) fn unrounded(salt: &ResidualSalt, weights: &AtomicWeights) -> DefensiblePaths {
        DefensiblePaths::along(salt, CarefulPaths::unrounded(weights))
    }

    fn along(salt: &ResidualSalt, work: CarefulPaths) -> DefensiblePaths {
        let nothing = || Interval::point(Ratio::ZERO);
        let mut paths = DefensiblePaths {
            salt_molar_mass: nothing(),
            water_molar_mass: nothing(),
            work,
            waters_left: salt.waters.clone(),
            residue_molar_masses: BTreeSet::new(),
        };
        paths.salt_molar_mass = paths.molar_mass(&salt.formula).unwrap_or_else(nothing);
        paths.water_molar_mass = paths.molar_mass(&Formula::water()).unwrap_or_else(nothing);
        paths
    }

    /// The molar masses of a formula along the paths.
    pub(crate) fn molar_mass(&self, formula: &Formula) -> Option<Interval> {
        self.work.molar_mass(formula)
    }

    /// The mass fraction of so many waters in a hydrate, in per cent: one for each table, with nothing
    /// rounded on the way.
    pub(crate) fn percent_by_each_table(
        &self,
        waters: &Ratio,
        hydrate: &Formula,
    ) -> BTreeSet<Ratio> {
        let water = Formula::water();
        let percent = |table| {
            let water = 100 * waters * water.molar_mass(table).ok()?.exact();
            water.checked_div(&hydrate.molar_mass(table).ok()?.exact())
        };
        self.work.tables.iter().filter_map(percent).collect()
    }

    /// The molar masses of a formula, one for each table and rounding.
    fn each_molar_mass(&self, formula: &Formula) -> BTreeSet<Ratio> {
        let tables = self.work.tables.iter();
        let exact = tables.filter_map(|table| formula.molar_mass(table).ok());
        let exact: BTreeSet<Ratio> = exact.map(|m| m.exact().clone()).collect();
        let mut each = BTreeSet::new();
        for mass in exact {
            let mass = Interval::point(mass);
            let keepings = self.work.keepings.iter();
            each.extend(
                keepings
                    .flat_map(|keeping| keeping.kept(&mass))
                    .map(|mass| mass.low),
            );
        }
        each
    }

    /// The values along all roundings. `of` returns those of one rounding, and whether the other tie
    /// rule gives other values. Only in that case is it called again.
    fn along_all(
        &self,
        of: impl Fn(Keeping, TieRule) -> (Option<Interval>, bool),
    ) -> Option<Interval> {
        let both = self.work.keepings.iter().flat_map(|keeping| {
            let (even, differ) = of(*keeping, TieRule::Even);
            let away = differ.then(|| of(*keeping, TieRule::AwayFromZero).0);
            even.into_iter().chain(away.flatten())
        });
        both.reduce(Interval::join)
    }

    pub(crate) fn mol_salt(&self, residue: &Interval) -> Option<Interval> {
        residue.over(&self.salt_molar_mass)
    }

    pub(crate) fn mol_water(&self, water: &Interval) -> Option<Interval> {
        water.over(&self.water_molar_mass)
    }

    /// Returns the ratio, from masses or from amounts.
    pub(crate) fn ratio(&self, water: &MassOrAmount, salt: &MassOrAmount) -> Option<Interval> {
        self.ratio_by(
            [water, salt],
            [&self.water_molar_mass, &self.salt_molar_mass],
        )
    }

    /// Returns the ratio with other molar masses of water and residue. The waters left in the residue are
    /// added to the amounts' quotient.
    pub(crate) fn ratio_by(
        &self,
        sources: [&MassOrAmount; 2],
        molar: [&Interval; 2],
    ) -> Option<Interval> {
        let quotient = self.quotient(sources, molar)?;
        if self.waters_left.is_zero() {
            return Some(quotient);
        }
        Some(quotient.plus(&Interval::point(self.waters_left.clone())))
    }

    /// Returns the ratio by way of the molar mass of the hydrate: (*m*/*n* − *M*)/*M*(water), with *n*
    /// worked out to three significant figures. *M* is that of the residue, by one table and rounding in
    /// both places.
    pub(crate) fn ratio_by_hydrate(
        &self,
        hydrate: &Interval,
        salt: &MassOrAmount,
    ) -> Option<Interval> {
        let water_of = |amount: &Interval, molar: &Interval| {
            let water = hydrate.over(amount)?.minus(molar);
            water.low.is_positive().then_some(water)
        };
        let by_each = self.residue_molar_masses.iter().filter_map(|molar| {
            let molar = Interval::point(molar.clone());
            let mass = match salt {
                MassOrAmount::Amount(amount) => return water_of(amount, &molar),
                MassOrAmount::Mass(mass) => mass,
            };
            let amount = mass.over(&molar)?;
            let kept = AMOUNT.kept(&amount);
            kept.filter_map(|amount| water_of(&amount, &molar))
                .reduce(Interval::join)
        });
        let lost = by_each
            .reduce(Interval::join)?
            .over(&self.water_molar_mass)?;
        Some(lost.plus(&Interval::point(self.waters_left.clone())))
    }

    /// Returns the quotient of two amounts along the paths.
    pub(crate) fn quotient(
        &self,
        [water, salt]: [&MassOrAmount; 2],
        molar: [&Interval; 2],
    ) -> Option<Interval> {
        let side = |source: &MassOrAmount, molar: &Interval| match source {
            MassOrAmount::Mass(mass) => mass.over(molar).map(|amount| (amount, true)),
            MassOrAmount::Amount(amount) => Some((amount.clone(), false)),
        };
        let (water, salt) = (side(water, molar[0])?, side(salt, molar[1])?);
        let kept = |keeping: Keeping, ties, (amount, computed): &(Interval, bool)| match computed {
            true => keeping.keep(amount, ties),
            false => (amount.clone(), false),
        };
        self.along_all(|keeping, ties| {
            let (water, differ) = kept(keeping, ties, &water);
            let (salt, differs) = kept(keeping, ties, &salt);
            (water.over(&salt), differ || differs)
        })
    }
}

impl AtomicWeights {
    /// The tables that careful work may use instead of this one.
    fn comparable_tables(&self) -> Vec<AtomicWeights> {
        use crate::element::Values;
        let plain = self.without_rounding();
        let own = self.own_decimals();
        let mut tables = Vec::with_capacity(10);
        if own.is_none() {
            // Textbooks with whole numbers have Cl 35.5 and Cu 63.5.
            let mut whole = plain.clone().decimals(0);
            for (number, weight) in [(17, "35.5"), (29, "63.5")] {
                if let Some(element) = Element::from_number(number) {
                    let table = whole.clone().with(element, Reading::literal(weight));
                    whole = table.unwrap_or(whole);
                }
            }
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
