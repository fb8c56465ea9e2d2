//! What a kind draws from: numbers, hydrates and rows of the pool, as the author's choices allow.

use alloc::borrow::Cow;
use alloc::string::String;
use alloc::vec::Vec;

use super::course::Exercises;
use super::draft::Refusal;
use super::error::{Error, ErrorKind, wrong};
use super::hydrate::{PoolHydrate, salt_of};
use super::hydrates::hydrates as pool_hydrates;
use super::kind::Level;
use super::sampler::Sampler;
use crate::element::AtomicWeights;
use crate::exercise::careful::CarefulWork;
use crate::formula::Formula;
use crate::gravimetry::commonest_hydrate;
use crate::number::{Ratio, Reading, TieRule};

/// The greatest least mass of a sample in grams (common practice, no source).
const MOST_IN_A_CRUCIBLE: i64 = 30;

/// What all problems of a set have in common, worked out once.
pub(super) struct DrawSource<'e> {
    pub(super) exercises: &'e Exercises,
    salts: ChosenSalts,
    hydrates: Cow<'e, [PoolHydrate]>,
    /// The indices of those that a school may heat.
    heated: Vec<usize>,
    /// Careful work that keeps at least three or four significant figures.
    careful: [CarefulWork; 2],
    exact: CarefulWork,
}

impl<'e> DrawSource<'e> {
    pub(super) fn new(exercises: &'e Exercises) -> Result<DrawSource<'e>, Error> {
        if !exercises.weights.can_be_stated() {
            return Err(wrong(
                ErrorKind::Weights,
                "the table of atomic weights rounds halves to even, and no request can state that"
                    .into(),
                "give a table that rounds halves away from zero, as printed tables do",
            ));
        }
        let salts = ChosenSalts::of(exercises);
        let hydrates = hydrates(exercises, &salts);
        let heated = hydrates.iter().enumerate().filter(|(_, row)| row.heated);
        Ok(DrawSource {
            exercises,
            salts,
            heated: heated.map(|(index, _)| index).collect(),
            hydrates,
            careful: [3, 4].map(|figures| CarefulWork::new(&exercises.weights, figures)),
            exact: CarefulWork::unrounded(&exercises.weights),
        })
    }

    /// Whether a problem may be about a formula, by the salts to avoid.
    pub(super) fn allows(&self, formula: &Formula) -> bool {
        self.salts.allow(&salt_of(formula))
    }

    /// Whether a formula is among the salts to take.
    pub(super) fn asks_for(&self, formula: &Formula) -> bool {
        self.salts.ask_for(&salt_of(formula))
    }
}

/// The salts to take and to avoid. Each hydrate has its salt here.
struct ChosenSalts {
    asked: Vec<Formula>,
    avoided: Vec<Formula>,
}

impl ChosenSalts {
    fn of(exercises: &Exercises) -> ChosenSalts {
        ChosenSalts {
            asked: exercises.salts.iter().map(salt_of).collect(),
            avoided: exercises.avoid.iter().map(salt_of).collect(),
        }
    }

    fn allow(&self, salt: &Formula) -> bool {
        !self.avoided.contains(salt)
    }

    fn ask_for(&self, salt: &Formula) -> bool {
        self.asked.contains(salt)
    }
}

/// The hydrates that the choices leave. What is asked for and not in the pool comes from the catalogue, unless the
/// course has a list of its own.
fn hydrates<'e>(exercises: &'e Exercises, salts: &ChosenSalts) -> Cow<'e, [PoolHydrate]> {
    let own = exercises.own_salts.as_ref();
    let all: &[PoolHydrate] = match own {
        Some(own) => &own.hydrates,
        None => pool_hydrates(),
    };
    if exercises.is_free() {
        return all.into();
    }
    let mut hydrates: Vec<PoolHydrate> = all.to_vec();
    if !exercises.salts.is_empty() {
        hydrates.retain(|row| salts.ask_for(&row.salt));
        for (asked, salt) in exercises.salts.iter().zip(&salts.asked) {
            let known = hydrates.iter().any(|row| row.salt == *salt);
            let hydrate = match salt == asked {
                true => commonest_hydrate(asked).ok(),
                false => Some(asked.clone()),
            };
            if !known && own.is_none() {
                hydrates.extend(hydrate.and_then(|hydrate| PoolHydrate::new(hydrate, None)));
            }
        }
    }
    hydrates.retain(|row| salts.allow(&row.salt));
    hydrates.into()
}

/// The draw of one problem.
pub(super) struct Draw<'d> {
    pub(super) source: &'d DrawSource<'d>,
    pub(super) sampler: Sampler,
    pub(super) level: Level,
    /// The form of earlier versions of the problem.
    pub(super) wanted: Option<&'d str>,
}

impl<'d> Draw<'d> {
    pub(super) fn weights(&self) -> &'d AtomicWeights {
        &self.source.exercises.weights
    }

    /// The tables and roundings that careful work may use for an answer of so many significant figures.
    pub(super) fn careful(&self, figures: u32) -> &'d CarefulWork {
        let [three, four] = &self.source.careful;
        if figures > 3 { four } else { three }
    }

    /// The table of the set, without rounding on the way.
    pub(super) fn exact(&self) -> &'d CarefulWork {
        &self.source.exact
    }

    /// One of the wordings, all equally likely; that of earlier versions if it is among them.
    pub(super) fn form(&mut self, forms: &[&'static str]) -> &'static str {
        let wanted = forms.iter().find(|form| Some(**form) == self.wanted);
        let form = wanted.or_else(|| self.sampler.one_of(forms));
        form.copied().unwrap_or_default()
    }

    /// Any hydrate that the choices leave. It need not stand heating.
    pub(super) fn hydrate(&mut self) -> Result<&'d PoolHydrate, Refusal> {
        let drawn = self.sampler.one_of(self.source.hydrates.as_ref());
        drawn.ok_or_else(|| self.nothing_left("no salt with a known hydrate"))
    }

    /// Two hydrates to compare. They may be the same.
    pub(super) fn two_hydrates(&mut self) -> Result<[&'d PoolHydrate; 2], Refusal> {
        match self.source.hydrates.len() {
            0 | 1 => Err(self.nothing_left("no two hydrates to compare")),
            _ => Ok([self.hydrate()?, self.hydrate()?]),
        }
    }

    /// Whether the choices leave a hydrate that a school may heat for loss on heating.
    pub(super) fn has_heated_hydrates(&self) -> bool {
        !self.source.heated.is_empty()
    }

    /// A hydrate that a school may heat for loss on heating.
    pub(super) fn heated_hydrate(&mut self) -> Result<&'d PoolHydrate, Refusal> {
        let index = self.sampler.one_of(&self.source.heated);
        let drawn = index.and_then(|index| self.source.hydrates.get(*index));
        drawn.ok_or_else(|| self.nothing_left("no salt that a school may heat for loss on heating"))
    }

    fn nothing_left(&self, what: &str) -> Refusal {
        Refusal::Exhausted(self.source.exercises.exhausted(what))
    }

    /// A hydrate with a property. `nothing` names it for the error if the choices leave none.
    pub(super) fn hydrate_that(
        &mut self,
        nothing: &str,
        allowed: impl Fn(&PoolHydrate) -> bool,
    ) -> Result<&'d PoolHydrate, Refusal> {
        let rows: Vec<&PoolHydrate> = self
            .source
            .hydrates
            .iter()
            .filter(|row| allowed(row))
            .collect();
        let drawn = self.sampler.one_of(&rows).copied();
        drawn.ok_or_else(|| self.nothing_left(nothing))
    }

    /// One of the rows that the choices leave. `formulas` are all that a row is about; one of them must be asked
    /// for, if salts are, and none may be avoided. Copper sulfate is left out unless it is asked for.
    pub(super) fn row<'r, R>(
        &mut self,
        nothing: &str,
        rows: impl IntoIterator<Item = &'r R>,
        formulas: impl Fn(&R) -> Vec<Formula>,
    ) -> Result<&'r R, Refusal> {
        let is_free = self.source.exercises.is_free();
        let left = rows
            .into_iter()
            .filter(|row| is_free || self.is_left(&formulas(row)));
        let left: Vec<&R> = left.collect();
        let drawn = self.sampler.one_of(&left).copied();
        drawn.ok_or_else(|| self.nothing_left(nothing))
    }

    /// Whether the choices leave a row that is about these formulas.
    pub(super) fn is_left(&self, formulas: &[Formula]) -> bool {
        let chosen = &self.source.salts;
        let salts: Vec<Formula> = formulas.iter().map(salt_of).collect();
        salts.iter().all(|salt| chosen.allow(salt))
            && (chosen.asked.is_empty() || salts.iter().any(|salt| chosen.ask_for(salt)))
    }

    /// These rows if copper sulfate is asked for, otherwise none.
    pub(super) fn with_copper<R>(&self, rows: &'static [R]) -> &'static [R] {
        let copper = "CuSO4".parse::<Formula>();
        let is_asked = copper.is_ok_and(|copper| self.source.asks_for(&copper));
        match is_asked {
            true => rows,
            false => &[],
        }
    }

    /// The smallest step of the balance in grams, or this one if none is chosen.
    pub(super) fn readability_or(&self, usual: &'static str) -> Reading {
        let chosen = self.source.exercises.readability;
        chosen.unwrap_or_else(|| Reading::literal(usual))
    }

    /// A mass that a balance can show, from the least to the greatest in grams.
    pub(super) fn mass(
        &mut self,
        least: &Ratio,
        greatest: &Ratio,
        readability: &Reading,
    ) -> Result<Reading, Refusal> {
        let step = readability.value();
        let steps = |mass: &Ratio| {
            mass.checked_div(&step)
                .and_then(|steps| steps.floor().to_i128())
        };
        let ends = (steps(least), steps(greatest));
        let (Some(first), Some(last)) = ends else {
            return Err(Refusal::Again("the masses are too large for the balance"));
        };
        let (Ok(first), Ok(last)) = (i64::try_from(first + 1), i64::try_from(last)) else {
            return Err(Refusal::Again("the masses are too large for the balance"));
        };
        let drawn = Ratio::from(self.sampler.between(first, last)) * step;
        shown(&drawn, readability)
    }

    /// The mass of a sample in a crucible, from 1.5 g to 6 g. With a coarse balance it is larger, so that it has so
    /// many steps of the balance.
    pub(super) fn sample(&mut self, usual: &'static str, steps: i128) -> Result<Reading, Refusal> {
        let readability = self.readability_or(usual);
        let tenths = |tenths: i128| Ratio::new(tenths, 10).unwrap_or_default();
        let least = (readability.value() * steps).max(tenths(15));
        if least > Ratio::from(MOST_IN_A_CRUCIBLE) {
            return Err(Refusal::Again("no crucible holds what the balance needs"));
        }
        let greatest = (&least * tenths(20)).max(tenths(60));
        self.mass(&least, &greatest, &readability)
    }
}

/// The mass that a balance shows of a true one.
pub(super) fn shown(mass: &Ratio, readability: &Reading) -> Result<Reading, Refusal> {
    let rounded = mass.to_multiple(&readability.value(), TieRule::Even);
    let value = rounded
        .ok_or(Refusal::Again("the balance has no step"))?
        .value();
    written(&value, readability.decimal_places())
}

/// A number with so many decimal places.
pub(super) fn written(value: &Ratio, decimal_places: i32) -> Result<Reading, Refusal> {
    Reading::try_from(value.to_places(decimal_places, TieRule::Even)).map_err(Refusal::refused)
}

/// A number as people write it, rounded to so many significant figures.
pub(super) fn to_figures(value: &Ratio, figures: u32) -> String {
    alloc::format!("{}", value.to_figures(figures, TieRule::Even))
}
