//! A solid heated in stages: the values of careful work and of wrong steps.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::ops::Range;

use crate::exercise::careful::CarefulWork;
use crate::exercise::draw::to_figures;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::{Interval, Stage, Stages, percent};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};
use crate::working::Step;

/// What is asked of a stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::exercise::kinds) enum StageQuantity {
    /// The loss of the stage, in per cent of the starting mass.
    Lost,
    /// The loss of all stages up to this one, in per cent of the starting mass.
    Total,
    /// What is left after the stage, in per cent of the starting mass.
    Left,
    /// The mass that is left after the stage.
    Mass,
}

impl StageQuantity {
    /// The member of a stage in the result of the request.
    pub(in crate::exercise::kinds) fn member(self) -> &'static str {
        match self {
            StageQuantity::Lost => "percent_lost",
            StageQuantity::Total => "percent_total",
            StageQuantity::Left => "percent_residue",
            StageQuantity::Mass => "mass",
        }
    }

    pub(in crate::exercise::kinds) fn unit(self) -> &'static str {
        match self {
            StageQuantity::Mass => "g",
            _ => "%",
        }
    }
}

/// A solid heated in stages, of which one is asked about.
pub(in crate::exercise::kinds) struct StagedSolid {
    pub(in crate::exercise::kinds) stages: Stages,
    /// The stage asked about, from zero.
    pub(in crate::exercise::kinds) asked: usize,
    pub(in crate::exercise::kinds) sample: Option<Reading>,
}

type WrongShares = Vec<(WrongStep, Ratio)>;

impl StagedSolid {
    pub(in crate::exercise::kinds) fn start(&self) -> &Formula {
        self.stages.start()
    }

    pub(in crate::exercise::kinds) fn residues(&self) -> impl Iterator<Item = &Formula> {
        self.stages.stages().iter().map(Stage::residue)
    }

    /// The stages that a quantity speaks of.
    pub(in crate::exercise::kinds) fn range(&self, quantity: StageQuantity) -> Range<usize> {
        match quantity {
            StageQuantity::Lost => self.asked..self.asked + 1,
            _ => 0..self.asked + 1,
        }
    }

    /// The gases of some stages, each with its number of molecules.
    pub(in crate::exercise::kinds) fn gases(&self, range: Range<usize>) -> Vec<(Formula, Ratio)> {
        let mut all: Vec<(Formula, Ratio)> = Vec::new();
        let stages = self.stages.stages().get(range).unwrap_or_default();
        for (name, number) in stages.iter().flat_map(Stage::gases) {
            let Ok(gas) = name.parse::<Formula>() else {
                continue;
            };
            match all.iter_mut().find(|(known, _)| *known == gas) {
                Some((_, sum)) => *sum += number,
                None => all.push((gas, number.clone())),
            }
        }
        all
    }

    /// What leaves in some stages, in grams for a mole of the solid.
    fn lost(&self, range: Range<usize>, paths: &CarefulWork) -> Option<Interval> {
        let mut sum = Interval::point(Ratio::ZERO);
        for (gas, number) in self.gases(range) {
            sum = sum.plus(&paths.molar_mass(&gas)?.times(&Interval::point(number)));
        }
        Some(sum)
    }

    /// What is left after the stage asked about, in grams for a mole of the solid.
    fn left(&self, paths: &CarefulWork) -> Option<Interval> {
        let stage = self.stages.stages().get(self.asked)?;
        let units = Interval::point(stage.per_start().clone());
        Some(paths.molar_mass(stage.residue())?.times(&units))
    }

    /// The quantity along some paths.
    pub(in crate::exercise::kinds) fn value(
        &self,
        quantity: StageQuantity,
        paths: &CarefulWork,
    ) -> Option<Interval> {
        let whole = paths.molar_mass(self.start())?;
        let hundred = Interval::point(Ratio::from(100));
        let lost = || percent(&self.lost(self.range(quantity), paths)?, &whole);
        match quantity {
            StageQuantity::Lost | StageQuantity::Total => lost(),
            StageQuantity::Left => {
                let left = percent(&self.left(paths)?, &whole)?;
                Some(left.join(hundred.minus(&lost()?)))
            }
            StageQuantity::Mass => {
                let sample = Interval::point(self.sample?.value());
                let left = paths.kept(&self.value(StageQuantity::Left, paths)?)?;
                let by_percent = left.times(&sample).over(&hundred)?;
                let amount = paths.kept(&sample.over(&whole)?)?;
                Some(by_percent.join(amount.times(&self.left(paths)?)))
            }
        }
    }

    /// The wrong steps with their values, the commonest first.
    pub(in crate::exercise::kinds) fn wrong(
        &self,
        quantity: StageQuantity,
        exact: &CarefulWork,
    ) -> Option<WrongShares> {
        let mut wrong = match quantity {
            StageQuantity::Lost | StageQuantity::Total => self.wrong_losses(quantity, exact)?,
            StageQuantity::Left | StageQuantity::Mass => self.wrong_rests(quantity, exact)?,
        };
        let right = self.value(quantity, exact)?;
        // Another stage may lose just as much.
        let share = match quantity {
            StageQuantity::Mass => self.value(StageQuantity::Left, exact)?,
            _ => right.clone(),
        };
        wrong.retain(|(_, value)| value != share.low());
        if quantity == StageQuantity::Mass {
            let factor = self.sample?.value() * Ratio::power_of_ten(-2);
            for (_, share) in &mut wrong {
                *share = &*share * &factor;
            }
        }
        let tenth = right.low() * Ratio::power_of_ten(-1);
        wrong.push((Slip::FactorOfTen.into(), tenth));
        Some(wrong)
    }

    /// The losses that wrong steps give, in per cent.
    fn wrong_losses(&self, quantity: StageQuantity, exact: &CarefulWork) -> Option<WrongShares> {
        let range = self.range(quantity);
        let whole = exact.molar_mass(self.start())?.low().clone();
        let grams = |range: Range<usize>| Some(self.lost(range, exact)?.low().clone());
        let share = |part: &Ratio, of: &Ratio| (part * 100).checked_div(of);
        let (part, total) = (grams(range.clone())?, grams(0..range.end)?);
        let (before, after) = (&whole - grams(0..range.start)?, &whole - &total);
        let mut wrong = Vec::new();
        if range.start > 0 {
            wrong.push((WrongStep::PERCENT_OF_STAGE_START, share(&part, &before)?));
            wrong.push((WrongStep::STAGES_ADDED, share(&total, &whole)?));
        } else if range.len() > 1 {
            let last = grams(self.asked..range.end)?;
            wrong.push((WrongStep::ONE_STAGE_ONLY, share(&last, &whole)?));
        }
        wrong.push((WrongStep::PERCENT_OF_MASS_LEFT, share(&part, &after)?));
        wrong.push((WrongStep::LEFT_FOR_LOST, share(&after, &whole)?));
        for other in (0..self.stages.stages().len()).filter(|other| *other != self.asked) {
            let start = match quantity {
                StageQuantity::Lost => other,
                _ => 0,
            };
            let value = share(&grams(start..other + 1)?, &whole)?;
            wrong.push((WrongStep::OTHER_STAGE, value));
        }
        for (step, water) in self.wrong_waters(&range, exact)? {
            wrong.push((step, share(&water, &whole)?));
        }
        if let Some(waters) = self.only_waters(range) {
            let by = &waters * 17;
            let less = part - &by;
            wrong.push((
                Slip::WrongWaterMolarMass.into(),
                share(&by, &(whole - less))?,
            ));
        }
        Some(wrong)
    }

    /// What wrong steps leave, in per cent.
    fn wrong_rests(&self, quantity: StageQuantity, exact: &CarefulWork) -> Option<WrongShares> {
        let range = self.range(quantity);
        let whole = exact.molar_mass(self.start())?.low().clone();
        let grams = |range: Range<usize>| Some(self.lost(range, exact)?.low().clone());
        let share = |part: &Ratio, of: &Ratio| (part * 100).checked_div(of);
        let total = grams(range.clone())?;
        let after = &whole - &total;
        let mut wrong = Vec::from([(WrongStep::LOST_FOR_LEFT, share(&total, &whole)?)]);
        let stage = self.stages.stages().get(self.asked)?;
        if *stage.per_start() != Ratio::ONE {
            let one = exact.molar_mass(stage.residue())?;
            wrong.push((
                WrongStep::RESIDUE_UNITS_MISCOUNTED,
                share(one.low(), &whole)?,
            ));
        }
        if self.asked > 0 {
            let only = &whole - grams(self.asked..range.end)?;
            wrong.push((WrongStep::ONE_STAGE_ONLY, share(&only, &whole)?));
        }
        for other in (0..self.stages.stages().len()).filter(|other| *other != self.asked) {
            let rest = &whole - grams(0..other + 1)?;
            wrong.push((WrongStep::OTHER_STAGE, share(&rest, &whole)?));
        }
        for (step, water) in self.wrong_waters(&range, exact)? {
            wrong.push((step, share(&(&whole - water), &whole)?));
        }
        if let Some(waters) = self.only_waters(range) {
            let whole = &after + waters * 17;
            wrong.push((Slip::WrongWaterMolarMass.into(), share(&after, &whole)?));
        }
        if quantity == StageQuantity::Left {
            let rest = 100 - share(&total, &after)?;
            wrong.push((WrongStep::PERCENT_OF_MASS_LEFT, rest));
        }
        Some(wrong)
    }

    /// The number of waters that leave in some stages; `None` if another gas does, too.
    fn only_waters(&self, range: Range<usize>) -> Option<Ratio> {
        match self.gases(range).as_slice() {
            [(gas, number)] if *gas == Formula::water() => Some(number.clone()),
            _ => None,
        }
    }

    /// The mass of one water, and of all the water, if it is another than the mass that leaves.
    fn wrong_waters(
        &self,
        range: &Range<usize>,
        exact: &CarefulWork,
    ) -> Option<Vec<(WrongStep, Ratio)>> {
        let water = exact.molar_mass(&Formula::water())?.low().clone();
        let right = self.only_waters(range.clone());
        let all = self.start().one_formula_unit().map(|(_, waters)| waters);
        let mut wrong = Vec::new();
        for (step, waters) in [
            (WrongStep::ALL_WATER_LOST, all),
            (WrongStep::ONE_WATER_LOST, Some(Ratio::ONE)),
        ] {
            let Some(waters) = waters.filter(Ratio::is_positive) else {
                continue;
            };
            if right.as_ref().is_some_and(|right| *right != waters) {
                wrong.push((step, waters * &water));
            }
        }
        Some(wrong)
    }

    /// What leaves in some stages, such as `6 H2O`.
    pub(in crate::exercise::kinds) fn gases_shown(&self, range: Range<usize>) -> String {
        let gases = self.gases(range);
        let shown = gases
            .iter()
            .map(|(gas, number)| match *number == Ratio::ONE {
                true => format!("{gas}"),
                false => format!("{number} {gas}"),
            });
        shown.collect::<Vec<_>>().join(" + ")
    }

    /// The step from molar masses to the share that leaves or is left, or to the mass that is left.
    pub(in crate::exercise::kinds) fn share_step(
        &self,
        quantity: StageQuantity,
        exact: &CarefulWork,
        result: String,
    ) -> Option<Step> {
        let plain = |formula: &Formula| Some(exact.molar_mass(formula)?.low().to_plain());
        let start = self.start();
        let (what, parts) = match quantity {
            StageQuantity::Lost | StageQuantity::Total => (
                format!("percentage lost by {start}"),
                self.gases(self.range(quantity)),
            ),
            _ => {
                let stage = self.stages.stages().get(self.asked)?;
                let residue = stage.residue();
                let what = match quantity {
                    StageQuantity::Mass => format!("mass of {residue} left"),
                    _ => format!("percentage left as {residue}"),
                };
                (what, [(residue.clone(), stage.per_start().clone())].into())
            }
        };
        let [mut symbols, mut numbers] = [Vec::new(), Vec::new()];
        for (formula, number) in &parts {
            let times = match *number == Ratio::ONE {
                true => String::new(),
                false => format!("{number} × "),
            };
            symbols.push(format!("{times}M({formula})"));
            numbers.push(format!("{times}{} g/mol", plain(formula)?));
        }
        let joined = |parts: &[String]| match parts {
            [one] => one.clone(),
            _ => format!("({})", parts.join(" + ")),
        };
        let [symbol, number] = match self.sample.filter(|_| quantity == StageQuantity::Mass) {
            Some(grams) => ["m(sample)".into(), format!("{grams} g")],
            None => ["100 %", "100 %"].map(String::from),
        };
        Some(Step::new(
            what,
            format!("{symbol} × {} / M({start})", joined(&symbols)),
            format!("{number} × {} / {} g/mol", joined(&numbers), plain(start)?),
            result,
            quantity.unit(),
        ))
    }

    /// The same step with a relation that names no solid, because it is to be found which one it is.
    pub(in crate::exercise::kinds) fn general_step(
        &self,
        quantity: StageQuantity,
        exact: &CarefulWork,
        result: String,
    ) -> Option<Step> {
        let step = self.share_step(quantity, exact, result)?;
        let mut stages = self.stages.stages().iter();
        let units = match stages.all(|stage| *stage.per_start() == Ratio::ONE) {
            true => "",
            false => "ν × ",
        };
        let (what, sample, part) = match quantity {
            StageQuantity::Lost | StageQuantity::Total => {
                ("percentage lost", "100 %", "M(all that leaves)".into())
            }
            StageQuantity::Left => (
                "percentage left as the residue",
                "100 %",
                format!("{units}M(residue)"),
            ),
            StageQuantity::Mass => (
                "mass of the residue",
                "m(sample)",
                format!("{units}M(residue)"),
            ),
        };
        Some(Step::new(
            what,
            format!("{sample} × {part} / M(solid at the start)"),
            step.numbers().into(),
            step.result().into(),
            quantity.unit(),
        ))
    }

    /// The steps to the residue: its share, as each residue would have it, and the choice.
    pub(super) fn steps_to_residue(
        &self,
        share: StageQuantity,
        exact: &CarefulWork,
    ) -> Option<[Step; 2]> {
        let of_each = |asked: usize| {
            let one = StagedSolid {
                stages: self.stages.clone(),
                asked,
                sample: None,
            };
            let result = to_figures(one.value(share, exact)?.low(), 4);
            one.general_step(share, exact, result)
        };
        let steps: Option<Vec<Step>> = (0..self.stages.stages().len()).map(of_each).collect();
        let steps = steps?;
        let joined =
            |part: fn(&Step) -> String| steps.iter().map(part).collect::<Vec<_>>().join("; ");
        let each = Step::new(
            format!("{} at each stage", steps.first()?.what()),
            String::from(steps.first()?.symbols()),
            joined(|step| step.numbers().into()),
            joined(|step| format!("{} %", step.result())),
            "",
        );
        let residue = self.stages.stages().get(self.asked)?.residue();
        let residue = Step::new(
            "residue",
            "the one whose percentage fits the words of the problem",
            "compare each percentage with the words".into(),
            format!("{residue}"),
            "",
        );
        Some([each, residue.concluded()])
    }
}
