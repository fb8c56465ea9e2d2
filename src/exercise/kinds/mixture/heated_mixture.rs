//! Two solids in a crucible: the values of careful work and of wrong steps.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::Refusal;
use crate::exercise::draw::{Draw, shown, to_figures};
use crate::exercise::kinds::stages::{StageQuantity, StagedSolid};
use crate::exercise::pool::MixtureRow;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Interval, Severity, Stages};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading, TieRule};
use crate::working::{Step, Working};

/// A component of the mixture: how it loses mass, and its name.
pub(super) struct HeatedComponent {
    pub(super) heating: StagedSolid,
    pub(super) name: &'static str,
    pub(super) residue: Formula,
    /// What each part loses, in per cent of it, without rounding.
    pub(super) loss: Ratio,
}

impl HeatedComponent {
    fn new(draw: &Draw<'_>, row: &MixtureRow, index: usize) -> Result<HeatedComponent, Refusal> {
        let text = |texts: [&'static str; 2]| texts.get(index).copied().unwrap_or_default();
        let formula = text(row.formulas)
            .parse()
            .map_err(Refusal::refused::<crate::formula::Error>)?;
        let residue: Formula = text(row.residues).parse().map_err(Refusal::refused)?;
        let stages = Stages::of(formula, draw.weights()).map_err(Refusal::refused)?;
        let heating = StagedSolid {
            stages: stages.then(residue.clone()).map_err(Refusal::refused)?,
            asked: 0,
            sample: None,
        };
        let loss = heating.value(StageQuantity::Lost, draw.exact());
        let loss = loss.ok_or(Refusal::Again("a component has no molar mass"))?;
        Ok(HeatedComponent {
            loss: loss.low().clone(),
            name: text(row.names),
            heating,
            residue,
        })
    }

    pub(super) fn formula(&self) -> &Formula {
        self.heating.start()
    }

    pub(super) fn is_inert(&self) -> bool {
        self.loss.is_zero()
    }
}

/// Two solids that were heated together.
pub(super) struct HeatedMixture {
    pub(super) components: [HeatedComponent; 2],
    /// The component asked for.
    pub(super) asked: usize,
    pub(super) sample: Reading,
    pub(super) residue: Reading,
}

impl HeatedMixture {
    /// Two solids of a row, in its order, with so many per cent of the first. The first is asked for.
    pub(super) fn draw(
        draw: &mut Draw<'_>,
        row: &MixtureRow,
        percent: [u8; 2],
    ) -> Result<HeatedMixture, Refusal> {
        let components = [
            HeatedComponent::new(draw, row, 0)?,
            HeatedComponent::new(draw, row, 1)?,
        ];
        let parts = components
            .each_ref()
            .map(|own| (own.formula(), Some(&own.residue)));
        if HeatingSafety::of_mixture(&parts).severity() > Severity::Care {
            return Err(Refusal::Again("the mixture may not be heated on the bench"));
        }
        let [least, greatest] = percent.map(|percent| i64::from(percent) * 10);
        let permille = Ratio::from(draw.sampler.between(least, greatest));
        let readability = draw.readability_or("0.001");
        let sample = draw.sample("0.001", 400)?;
        let [one, other] = components.each_ref().map(|own| &own.loss);
        let lost = one * &permille + other * (1000 - &permille);
        let left = (100_000 - lost) * Ratio::power_of_ten(-5) * sample.value();
        let residue = shown(&left, &readability)?;
        if (sample.value() - residue.value()) < readability.value() * 100 {
            return Err(Refusal::Again("the loss shows too few significant figures"));
        }
        Ok(HeatedMixture {
            components,
            asked: 0,
            sample,
            residue,
        })
    }

    /// Exchanges the components. The same one is asked for.
    pub(super) fn exchange(&mut self) {
        self.components.swap(0, 1);
        self.asked = 1 - self.asked;
    }

    pub(super) fn component(&self, asked: bool) -> &HeatedComponent {
        let index = usize::from((self.asked == 1) == asked);
        let [one, other] = &self.components;
        [one, other].get(index).copied().unwrap_or(one)
    }

    fn lost(&self) -> Ratio {
        self.sample.value() - self.residue.value()
    }

    /// The loss in per cent of the sample.
    fn percent_lost(&self) -> Ratio {
        let percent = (self.lost() * 100).checked_div(&self.sample.value());
        percent.unwrap_or_default()
    }

    /// The percentage of the component asked for, along some paths.
    pub(super) fn value(&self, paths: &CarefulWork) -> Option<Interval> {
        let [own, other] = [true, false].map(|asked| self.component(asked));
        let hundred = Interval::point(Ratio::from(100));
        if own.is_inert() {
            return Some(hundred.minus(&self.only_loser(other, paths)?));
        }
        if other.is_inert() {
            return self.only_loser(own, paths);
        }
        let loss =
            |own: &HeatedComponent| paths.kept(&own.heating.value(StageQuantity::Lost, paths)?);
        let (own, other) = (loss(own)?, loss(other)?);
        // The fraction rises or falls all along each of the two losses, so its ends are those of the losses.
        let whole = self.percent_lost();
        let corner = |own: &Ratio, other: &Ratio| {
            let fraction = (&whole - other) * 100;
            fraction.checked_div(&(own - other)).map(Interval::point)
        };
        let corners = [
            corner(own.low(), other.low())?,
            corner(own.low(), other.high())?,
            corner(own.high(), other.low())?,
            corner(own.high(), other.high())?,
        ];
        corners.into_iter().reduce(Interval::join)
    }

    /// The percentage of a component that alone loses mass: from the shares, or by way of the amount of gas.
    fn only_loser(&self, loser: &HeatedComponent, paths: &CarefulWork) -> Option<Interval> {
        let share = paths.kept(&loser.heating.value(StageQuantity::Lost, paths)?)?;
        let by_shares = Interval::point(self.percent_lost() * 100).over(&share)?;
        let gases = loser.heating.gases(0..1);
        let [(gas, number)] = gases.as_slice() else {
            return Some(by_shares);
        };
        let amount = Interval::point(self.lost()).over(&paths.molar_mass(gas)?)?;
        let amount = paths
            .kept(&amount)?
            .over(&Interval::point(number.clone()))?;
        let mass = paths
            .kept(&amount)?
            .times(&paths.molar_mass(loser.formula())?);
        let by_amounts = crate::gravimetry::percent(&mass, &Interval::point(self.sample.value()))?;
        Some(by_shares.join(by_amounts))
    }

    /// The wrong steps with their values, the commonest first.
    pub(super) fn wrong(&self, exact: &CarefulWork) -> Option<Vec<(WrongStep, Ratio)>> {
        let right = self.value(exact)?.low().clone();
        let [own, other] = [true, false].map(|asked| self.component(asked));
        let percent_lost = self.percent_lost();
        let mut wrong = Vec::from([(WrongStep::OTHER_COMPONENT, 100 - &right)]);
        if !own.is_inert() && !other.is_inert() {
            let alone = (&percent_lost * 100).checked_div(&own.loss)?;
            wrong.push((WrongStep::ONLY_ONE_LOSES, alone));
        }
        wrong.push((WrongStep::LOSS_AS_COMPONENT, percent_lost.clone()));
        let stage = own.heating.stages.stages().first()?;
        let (units, is_alone) = (stage.per_start(), other.is_inert());
        if is_alone && *units != Ratio::ONE {
            wrong.push((WrongStep::RESIDUE_UNITS_MISCOUNTED, &right * units));
        }
        if !own.is_inert() {
            let residue = &right * (100 - &own.loss) * Ratio::power_of_ten(-2);
            wrong.push((WrongStep::RESIDUE_OF_COMPONENT, residue));
        }
        let of_residue = (&right * self.sample.value()).checked_div(&self.residue.value())?;
        wrong.push((WrongStep::PERCENT_OF_MASS_LEFT, of_residue));
        wrong.push((WrongStep::RESIDUE_AS_COMPONENT, 100 - percent_lost));
        let water = Formula::water();
        if is_alone && own.heating.gases(0..1).iter().all(|(gas, _)| *gas == water) {
            let water = exact.molar_mass(&water)?.low().clone();
            let value = (&right * water).checked_div(&Ratio::from(17))?;
            wrong.push((Slip::WrongWaterMolarMass.into(), value));
        }
        wrong.push((Slip::FactorOfTen.into(), right * Ratio::power_of_ten(-1)));
        Some(wrong)
    }

    /// The steps to the percentage asked for. Their relations do not name the one that loses mass if it is to be
    /// found.
    pub(super) fn working(
        &self,
        is_found: bool,
        exact: &CarefulWork,
        figures: u32,
    ) -> Option<Working> {
        let right = self.value(exact)?.low().clone();
        let [own, other] = [true, false].map(|asked| self.component(asked));
        let mut working = Working::default();
        for component in self.components.iter().filter(|own| !own.is_inert()) {
            let (loss, heating) = (five(&component.loss), &component.heating);
            if is_found {
                working.push(self.loser_step(component));
                working.push(heating.general_step(StageQuantity::Lost, exact, loss)?);
            } else {
                working.push(heating.share_step(StageQuantity::Lost, exact, loss)?);
            }
        }
        working.push(self.loss_step());
        let answer = format!("{}", right.to_figures(figures, TieRule::Even));
        let [a, b] = [own, other].map(|own| match is_found {
            true if own.is_inert() => "the other one".into(),
            true => "the one that loses mass".into(),
            false => format!("{}", own.formula()),
        });
        let lost = five(&self.percent_lost());
        let [of_a, of_b] = [five(&own.loss), five(&other.loss)];
        let alone = |solid: &str, of: String, result: String| {
            Step::new(
                format!("percentage of {solid}"),
                format!("100 % × loss(mixture) / loss({solid})"),
                format!("100 % × {lost} % / {of} %"),
                result,
                "%",
            )
        };
        match (own.is_inert(), other.is_inert()) {
            (true, _) => {
                let first = five(&(100 - &right));
                working.push(alone(&b, of_b, first.clone()));
                working.push(Step::new(
                    format!("percentage of {a}"),
                    format!("100 % − w({b})"),
                    format!("100 % − {first} %"),
                    answer,
                    "%",
                ));
            }
            (_, true) => working.push(alone(&a, of_a, answer)),
            _ => working.push(Step::new(
                format!("percentage of {a}"),
                format!("100 % × (loss(mixture) − loss({b})) / (loss({a}) − loss({b}))"),
                format!("100 % × ({lost} % − {of_b} %) / ({of_a} % − {of_b} %)"),
                answer,
                "%",
            )),
        }
        Some(working)
    }

    /// The step that finds which one loses mass.
    fn loser_step(&self, loser: &HeatedComponent) -> Step {
        let [one, other] = self.components.each_ref().map(HeatedComponent::formula);
        Step::new(
            "the one that loses mass",
            "the solid that can become the residue when a gas leaves it",
            format!("compare {one} and {other} with {}", loser.residue),
            format!("{}", loser.formula()),
            "",
        )
        .concluded()
    }

    fn loss_step(&self) -> Step {
        let (sample, residue) = (&self.sample, &self.residue);
        Step::new(
            "percentage lost by the mixture",
            "100 % × (m(sample) − m(residue)) / m(sample)",
            format!("100 % × ({sample} g − {residue} g) / {sample} g"),
            five(&self.percent_lost()),
            "%",
        )
    }
}

fn five(value: &Ratio) -> String {
    to_figures(value, 5)
}
