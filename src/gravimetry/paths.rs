//! The paths that careful work can take: tables of atomic weights and ways of rounding.

use alloc::vec::Vec;

use super::interval::Interval;
use crate::element::{AtomicWeights, Element};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, TieRule};

/// How intermediate values are kept along a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Keeping {
    Unrounded,
    Figures(u32),
}

impl Keeping {
    /// The interval as it is kept, and whether the other rule for ties gives another one. Rounding
    /// keeps the order, so the ends serve for all.
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
}

/// Where an amount comes from: a mass divided by a molar mass, or an amount already at hand.
#[derive(Debug, Clone)]
pub(crate) enum MassOrAmount {
    Mass(Interval),
    #[cfg_attr(
        not(feature = "class"),
        allow(dead_code, reason = "used by the marker")
    )]
    Amount(Interval),
}

/// The molar masses and roundings that the paths are made of, for one salt.
#[derive(Debug, Clone)]
pub(crate) struct DefensiblePaths {
    salt: Interval,
    water: Interval,
    keepings: Vec<Keeping>,
    tables: Vec<AtomicWeights>,
}

impl DefensiblePaths {
    pub(crate) fn new(salt: &Formula, weights: &AtomicWeights, figures: u32) -> DefensiblePaths {
        let tables = weights.comparable_tables();
        let mut keepings = alloc::vec![Keeping::Unrounded];
        for kept in figures.clamp(1, 3)..=6 {
            keepings.push(Keeping::Figures(kept));
        }
        DefensiblePaths::along(salt, tables, keepings)
    }

    /// The one path of a table in which nothing is rounded on the way.
    pub(crate) fn unrounded(salt: &Formula, weights: &AtomicWeights) -> DefensiblePaths {
        let tables = alloc::vec![weights.clone()];
        DefensiblePaths::along(salt, tables, alloc::vec![Keeping::Unrounded])
    }

    fn along(
        salt: &Formula,
        tables: Vec<AtomicWeights>,
        keepings: Vec<Keeping>,
    ) -> DefensiblePaths {
        let nothing = || Interval::point(Ratio::ZERO);
        let mut paths = DefensiblePaths {
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
    pub(crate) fn molar_mass(&self, formula: &Formula) -> Option<Interval> {
        let of_tables = self
            .tables
            .iter()
            .filter_map(|table| formula.molar_mass(table).ok())
            .map(|m| Interval::point(m.exact().clone()))
            .reduce(Interval::join)?;
        self.along_all(|keeping, ties| {
            let (kept, differ) = keeping.keep(&of_tables, ties);
            (Some(kept), differ)
        })
    }

    /// The values along all paths of rounding. `of` gives those of one path, and whether the other
    /// rule for ties gives other ones; only then is it asked for these.
    fn along_all(
        &self,
        of: impl Fn(Keeping, TieRule) -> (Option<Interval>, bool),
    ) -> Option<Interval> {
        let both = self.keepings.iter().flat_map(|keeping| {
            let (even, differ) = of(*keeping, TieRule::Even);
            let away = differ.then(|| of(*keeping, TieRule::AwayFromZero).0);
            even.into_iter().chain(away.flatten())
        });
        both.reduce(Interval::join)
    }

    /// The molar mass of the salt.
    pub(crate) fn salt(&self) -> &Interval {
        &self.salt
    }

    /// The molar mass of water.
    pub(crate) fn water(&self) -> &Interval {
        &self.water
    }

    pub(crate) fn mol_salt(&self, residue: &Interval) -> Option<Interval> {
        residue.over(&self.salt)
    }

    pub(crate) fn mol_water(&self, water: &Interval) -> Option<Interval> {
        water.over(&self.water)
    }

    /// The ratio, from masses or from amounts already at hand.
    pub(crate) fn ratio(&self, water: &MassOrAmount, salt: &MassOrAmount) -> Option<Interval> {
        self.ratio_by([water, salt], [&self.water, &self.salt])
    }

    /// The same with the molar masses of water and salt that somebody took for the right ones.
    pub(crate) fn ratio_by(
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
    /// The tables that careful work may use in place of this one.
    fn comparable_tables(&self) -> Vec<AtomicWeights> {
        use crate::element::Values;
        let plain = self.without_rounding();
        let own = self.own_decimals();
        let mut tables = Vec::with_capacity(10);
        if own.is_none() {
            // Whole numbers, but Cl 35.5 and Cu 63.5.
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
