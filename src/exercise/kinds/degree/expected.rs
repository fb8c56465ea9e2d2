//! What exactly a hydrate gives, whatever a bench found.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, WrongValue};
use crate::exercise::draw::to_figures;
use crate::exercise::hydrate::PoolHydrate;
use crate::exercise::kinds::percent_water;
use crate::exercise::wrong_step::WrongStep;
use crate::gravimetry::{Dehydration, Interval};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};
use crate::working::Step;

/// The significant figures of the numbers asked for.
pub(super) const FIGURES: u32 = 3;

/// What exactly a hydrate gives, whatever the bench found: the mass of the residue of the hydrate that the prompt
/// names, or the percentage of water of the one of several that it is.
pub(super) struct ExpectedAnswer<'r> {
    run: &'r Dehydration,
    row: &'r PoolHydrate,
    /// The place of the hydrate among the candidates.
    index: usize,
    /// The mass of the hydrate, if the residue is asked for.
    hydrate: Option<Reading>,
}

impl<'r> ExpectedAnswer<'r> {
    pub(super) fn new(run: &'r Dehydration, row: &'r PoolHydrate) -> Option<ExpectedAnswer<'r>> {
        let mut candidates = run.candidates().iter();
        Some(ExpectedAnswer {
            index: candidates.position(|own| *own.waters() == row.waters)?,
            hydrate: run
                .hydrate_mass()
                .copied()
                .filter(|_| run.candidates().len() == 1),
            run,
            row,
        })
    }

    /// The value along some paths.
    fn value(&self, paths: &CarefulWork) -> Option<Interval> {
        let percent = percent_water::percent(self.row, paths)?;
        let Some(hydrate) = self.hydrate else {
            return Some(percent);
        };
        let hundred = Interval::point(Ratio::from(100));
        let salt = hundred.minus(&paths.kept(&percent)?).over(&hundred)?;
        Some(Interval::point(hydrate.value()).times(&salt))
    }

    pub(super) fn asked(&self, paths: &CarefulWork) -> Option<Asked> {
        let (code, unit) = match self.hydrate {
            Some(_) => ("expected_residue_mass", "g"),
            None => ("expected_percent_water", "%"),
        };
        Some(Asked::Number {
            pointer: format!("/candidates/{}/{code}", self.index),
            unit,
            figures: FIGURES,
            careful: self.value(paths)?,
        })
    }

    pub(super) fn wrong(&self, exact: &CarefulWork) -> Vec<(WrongStep, WrongValue)> {
        match self.hydrate {
            Some(hydrate) => self.wrong_masses(&hydrate, exact),
            None => self.wrong_percents(exact),
        }
    }

    fn wrong_percents(&self, exact: &CarefulWork) -> Vec<(WrongStep, WrongValue)> {
        let others = self.run.candidates().iter();
        let others = others.filter(|own| *own.waters() != self.row.waters);
        let others = others.map(|own| {
            (
                WrongStep::OTHER_SUBSTANCE,
                own.expected_percent_water().clone(),
            )
        });
        let found = (WrongStep::MEASURED_VALUE, self.run.percent_water().clone());
        let first = core::iter::once(found).chain(others);
        let first = first.map(|(step, value)| (step, WrongValue::Number(value)));
        let own = percent_water::wrong(self.row, exact).unwrap_or_default();
        first.chain(own).collect()
    }

    fn wrong_masses(&self, hydrate: &Reading, exact: &CarefulWork) -> Vec<(WrongStep, WrongValue)> {
        let mut wrong: Vec<(WrongStep, Ratio)> = Vec::new();
        let residue = self.run.residue_mass();
        wrong.extend(residue.map(|own| (WrongStep::NOT_YET_DRY, own.value())));
        if let Some(right) = self.value(exact) {
            let lost = hydrate.value() - right.low();
            let one = lost.checked_div(&self.row.waters);
            let tenth = right.low() * Ratio::power_of_ten(-1);
            wrong.push((WrongStep::LOST_FOR_LEFT, lost));
            if self.row.waters != Ratio::ONE {
                wrong.extend(one.map(|one| (WrongStep::ONE_WATER_LOST, hydrate.value() - one)));
            }
            wrong.push((Slip::FactorOfTen.into(), tenth));
        }
        let wrong = wrong.into_iter();
        wrong
            .map(|(step, value)| (step, WrongValue::Number(value)))
            .collect()
    }

    /// The steps after those that find the hydrate or its mass.
    pub(super) fn steps(&self, exact: &CarefulWork) -> Option<Vec<Step>> {
        let value = to_figures(self.value(exact)?.low(), FIGURES);
        let Some(mass) = self.hydrate else {
            return Some(percent_water::share_steps(self.row, "the hydrate", value, exact)?.into());
        };
        let [molar, _] = percent_water::share_steps(self.row, "the hydrate", String::new(), exact)?;
        let salt = exact.molar_mass(&self.row.salt)?.low().to_plain();
        let left = Step::new(
            "mass of anhydrous salt",
            "m(hydrate) × M(salt) / M(hydrate)",
            format!("{mass} g × {salt} g/mol / {} g/mol", molar.result()),
            value,
            "g",
        );
        Some(Vec::from([molar, left]))
    }
}
