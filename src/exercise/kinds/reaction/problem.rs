//! A problem about amounts: from what is given to the draft with its request, working and wrong steps.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::route::{Goal, Route, WrongNumber, percent_of};
use super::species::{Reaction, ReactionSpecies};
use super::supply::PrintedSupply;
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, to_figures};
use crate::exercise::field::Field;
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::gravimetry::Interval;
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};
use crate::working::{Step, Working};

/// What is asked for.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Ask {
    /// The mass that forms.
    Mass,
    /// The amount that forms.
    Amount,
    /// The percent yield.
    Yield(Reading),
    /// The mass that is left of a reactant.
    Left(Reading),
}

/// What is given, and what is asked for.
pub(super) struct ReactionProblem<'r> {
    pub(super) reaction: &'r Reaction,
    /// Indices of species with what is given of them.
    pub(super) supplies: Vec<(usize, PrintedSupply)>,
    /// The index of the species that is asked about.
    pub(super) to: usize,
    pub(super) ask: Ask,
    /// A mass of the species asked about that the request has and the answer does not need.
    pub(super) superfluous: Option<Reading>,
}

/// The words of a problem.
pub(super) struct ProblemWords {
    pub(super) form: &'static str,
    pub(super) prompt: String,
    pub(super) skills: Vec<Skill>,
    pub(super) wrong: Vec<WrongNumber>,
}

const NO_NUMBER: Refusal = Refusal::Again("the amounts cannot be worked out");

impl<'r> ReactionProblem<'r> {
    pub(super) fn species(&self, index: usize) -> Result<&'r ReactionSpecies, Refusal> {
        let species = self.reaction.species.get(index);
        species.ok_or(Refusal::Again("the reaction has no such species"))
    }

    /// The place in `supplies` of the one that allows the least extent; refused if two are nearly equal.
    pub(super) fn limiting(&self, exact: &CarefulWork) -> Result<usize, Refusal> {
        let mut extents = Vec::with_capacity(self.supplies.len());
        for (place, (index, supply)) in self.supplies.iter().enumerate() {
            let species = self.species(*index)?;
            let molar = exact.molar_mass(&species.formula).ok_or(NO_NUMBER)?;
            let amount = supply.amount(exact, &molar).ok_or(NO_NUMBER)?;
            let extent = amount.low().checked_div(&species.coefficient);
            extents.push((extent.ok_or(NO_NUMBER)?, place));
        }
        extents.sort();
        match extents.as_slice() {
            [(least, place), (next, _), ..] if next * 12 > least * 13 => Ok(*place),
            [(_, place)] => Ok(*place),
            _ => Err(Refusal::Again("no reactant clearly limits")),
        }
    }

    /// The way from the supply at a place to what is asked about.
    pub(super) fn route(&self, place: usize) -> Result<Route<'_>, Refusal> {
        let (index, supply) = self.supplies.get(place).ok_or(NO_NUMBER)?;
        Ok(Route {
            supply,
            from: self.species(*index)?,
            to: self.species(self.to)?,
            goal: match self.ask {
                Ask::Amount => Goal::Amount,
                _ => Goal::Mass,
            },
        })
    }

    /// What the end of the way gives for what is asked.
    pub(super) fn finish(&self, value: &Interval, paths: &CarefulWork) -> Option<Interval> {
        match &self.ask {
            Ask::Mass | Ask::Amount => Some(value.clone()),
            Ask::Yield(obtained) => percent_of(obtained, value, paths),
            Ask::Left(at_first) => Some(Interval::point(at_first.value()).minus(value)),
        }
    }

    fn pointer(&self) -> String {
        let to = self.to;
        match self.ask {
            Ask::Mass => format!("/species/{to}/mass_change"),
            Ask::Amount => format!("/species/{to}/mol_change"),
            Ask::Left(_) => format!("/species/{to}/mass_final"),
            Ask::Yield(_) => "/percent_yield".into(),
        }
    }

    const fn unit(&self) -> &'static str {
        match self.ask {
            Ask::Mass | Ask::Left(_) => "g",
            Ask::Amount => "mol",
            Ask::Yield(_) => "%",
        }
    }

    /// Three or four significant figures, as the numbers allow.
    fn figures(&self, answer: &Ratio) -> Result<u32, Refusal> {
        let supplies = self.supplies.iter().map(|(_, supply)| supply.figures());
        let mut figures = supplies.min().unwrap_or_default();
        if let Ask::Yield(reading) = self.ask {
            figures = figures.min(reading.figures().at_least());
        }
        if let Ask::Left(at_first) = self.ask {
            // A difference keeps the decimal places.
            let hundredfold = &at_first.last_place() * 100;
            if *answer < hundredfold {
                figures = 2;
            } else if *answer < hundredfold * 10 {
                figures = figures.min(3);
            }
        }
        match figures {
            0..=2 => Err(Refusal::Again(
                "the numbers have too few significant figures",
            )),
            figures => Ok(figures.min(4)),
        }
    }

    pub(super) fn request(&self, draw: &Draw<'_>) -> Result<Request, Refusal> {
        let mut amounts = Vec::with_capacity(self.supplies.len());
        for (index, supply) in &self.supplies {
            amounts.push((self.species(*index)?.text.clone(), supply.field()));
        }
        let request = Request::new(Operation::Limiting, draw.weights())
            .with("equation", self.reaction.equation.as_str())
            .with("amounts", Field::object(amounts));
        let obtained = match self.ask {
            Ask::Yield(obtained) => Some(obtained),
            _ => self.superfluous,
        };
        let Some(obtained) = obtained else {
            return Ok(request);
        };
        let species = Field::from(self.species(self.to)?.text.as_str());
        let actual = [("species", species), ("mass", Field::from(&obtained))];
        Ok(request.with("actual", Field::object(actual)))
    }

    pub(super) fn draft(
        &self,
        draw: &Draw<'_>,
        words: ProblemWords,
    ) -> Result<DraftProblem, Refusal> {
        let limiting = self.limiting(draw.exact())?;
        let route = self.route(limiting)?;
        let mut wrong = self.wrong(draw.exact(), limiting)?;
        let first = wrong.len().min(1);
        wrong.splice(first..first, words.wrong);
        let exact = route.along(draw.exact());
        let exact = exact.and_then(|value| self.finish(&value, draw.exact()));
        let answer = exact.ok_or(NO_NUMBER)?.low().clone();
        let figures = self.figures(&answer)?;
        let careful = self.careful(&route, figures, draw);
        let tenth = answer.checked_div(&Ratio::from(10)).unwrap_or_default();
        wrong.push((Slip::FactorOfTen.into(), tenth));
        let mut skills = words.skills;
        skills.extend(self.skills());
        let wrong = wrong.into_iter();
        Ok(DraftProblem {
            form: words.form,
            skills,
            prompt: words.prompt,
            request: self.request(draw)?,
            asked: Asked::Number {
                pointer: self.pointer(),
                unit: self.unit(),
                figures,
                careful: careful.ok_or(NO_NUMBER)?,
            },
            working: self
                .working(draw.exact(), limiting, figures)
                .ok_or(NO_NUMBER)?,
            wrong: wrong
                .map(|(step, value)| (step, WrongValue::Number(value)))
                .collect(),
        })
    }

    /// The values that careful work can give. What is left is the difference of masses, or of amounts.
    fn careful(&self, route: &Route<'_>, figures: u32, draw: &Draw<'_>) -> Option<Interval> {
        let paths = draw.careful(figures);
        let careful = self.finish(&route.along(paths)?, paths)?;
        let Ask::Left(at_first) = &self.ask else {
            return Some(careful);
        };
        // The same molar mass divides and multiplies.
        let molar = draw.exact().molar_mass(&route.to.formula)?;
        let used = Route {
            goal: Goal::Amount,
            ..*route
        };
        let amount = paths.kept(&Interval::point(at_first.value()).over(&molar)?)?;
        let left = paths.kept(&amount.minus(&used.along(paths)?))?;
        Some(careful.join(left.times(&molar)))
    }

    fn skills(&self) -> Vec<Skill> {
        let any =
            |is: fn(&PrintedSupply) -> bool| self.supplies.iter().any(|(_, supply)| is(supply));
        let practised = [
            (
                Skill::AmountFromMass,
                any(|supply| supply.grams().is_some()),
            ),
            (
                Skill::Concentration,
                any(|supply| matches!(supply, PrintedSupply::Solution { .. })),
            ),
            (
                Skill::Purity,
                any(|supply| matches!(supply, PrintedSupply::Impure { .. })),
            ),
            (Skill::LimitingReactant, self.supplies.len() > 1),
            (Skill::MoleRatio, true),
            (Skill::MassFromAmount, self.ask != Ask::Amount),
            (Skill::PercentYield, matches!(self.ask, Ask::Yield(_))),
        ];
        let practised = practised.into_iter();
        practised
            .filter_map(|(skill, is)| is.then_some(skill))
            .collect()
    }

    /// The wrong steps: first the reactant in excess, then those on the way.
    fn wrong(&self, exact: &CarefulWork, limiting: usize) -> Result<Vec<WrongNumber>, Refusal> {
        let mut wrong: Vec<WrongNumber> = Vec::new();
        let finished = |value: &Interval| Some(self.finish(value, exact)?.low().clone());
        for (place, (index, supply)) in self.supplies.iter().enumerate() {
            if place == limiting || *index == self.to {
                continue;
            }
            let grams = |place: usize| {
                let (_, supply) = self.supplies.get(place)?;
                Some(supply.grams()?.value())
            };
            let lighter = match (supply.grams(), grams(limiting)) {
                (Some(excess), Some(limiting)) => excess.value() < limiting,
                _ => false,
            };
            let step = match lighter {
                true => WrongStep::LIMITING_BY_MASS,
                false => WrongStep::EXCESS_REACTANT,
            };
            let value = self.route(place)?.along(exact);
            wrong.extend(value.and_then(|value| Some((step, finished(&value)?))));
        }
        let route = self.route(limiting)?;
        if let Ask::Left(_) = self.ask {
            let used = route.along(exact).ok_or(NO_NUMBER)?;
            wrong.push((WrongStep::USED_NOT_LEFT, used.low().clone()));
        }
        let on_the_way = route.wrong(exact).ok_or(NO_NUMBER)?.into_iter();
        wrong.extend(
            on_the_way.filter_map(|(step, value)| Some((step, finished(&Interval::point(value))?))),
        );
        Ok(wrong)
    }

    /// The steps to the amounts given, and to the limiting reactant if there are two.
    pub(super) fn limiting_steps(
        &self,
        exact: &CarefulWork,
        limiting: usize,
        figures: u32,
    ) -> Option<Working> {
        // One digit more than the answer has.
        let guarded = |value: &Interval| to_figures(value.low(), figures + 1);
        let mut working = Working::default();
        let mut extents = Vec::new();
        for (index, supply) in &self.supplies {
            let one = self.reaction.species.get(*index)?;
            let (text, coefficient) = (&one.text, &one.coefficient);
            let molar = exact.molar_mass(&one.formula)?;
            let amount = supply.amount(exact, &molar)?;
            if let Some((symbols, numbers)) = supply.steps(text, &molar.low().to_plain()) {
                let what = format!("amount n({text})");
                working.push(Step::new(what, symbols, numbers, guarded(&amount), "mol"));
            }
            let extent = amount.over(&Interval::point(coefficient.clone()))?;
            extents.push(format!(
                "n({text}) / {coefficient} = {} mol",
                guarded(&extent)
            ));
        }
        if self.supplies.len() > 1 {
            let limiting = self.reaction.species.get(self.supplies.get(limiting)?.0)?;
            let rule = "the reactant with the least amount divided by its coefficient";
            let (numbers, found) = (extents.join(", "), limiting.text.clone());
            working.push(Step::new("limiting reactant", rule, numbers, found, "").concluded());
        }
        Some(working)
    }

    fn working(&self, exact: &CarefulWork, limiting: usize, figures: u32) -> Option<Working> {
        let mut working = self.limiting_steps(exact, limiting, figures)?;
        let guarded = |value: &Interval| to_figures(value.low(), figures + 1);
        let route = self.route(limiting).ok()?;
        let (from, to) = (route.from, route.to);
        let given = route
            .supply
            .amount(exact, &exact.molar_mass(&from.formula)?)?;
        let sought = Route {
            goal: Goal::Amount,
            ..route
        };
        let sought = sought.along(exact)?;
        let last = |value: &Interval, is_last: bool| match is_last {
            true => to_figures(value.low(), figures),
            false => guarded(value),
        };
        // The relation must not say which of two reactants limits: to find it is the pupil's work.
        let from_text = match self.supplies.len() {
            1 => from.text.as_str(),
            _ => "limiting",
        };
        let is_left = matches!(self.ask, Ask::Left(_));
        let used_up = if is_left { " used up" } else { "" };
        let proportion = Step::new(
            format!("amount{used_up} n({})", to.text),
            format!("n({from_text}) × ν({}) / ν({from_text})", to.text),
            format!(
                "{} mol × {} / {}",
                guarded(&given),
                to.coefficient,
                from.coefficient
            ),
            last(&sought, self.ask == Ask::Amount),
            "mol",
        );
        if from.text != to.text {
            working.push(proportion);
        }
        if self.ask == Ask::Amount {
            return Some(working);
        }
        let molar = exact.molar_mass(&to.formula)?;
        let mass = sought.times(&molar);
        working.push(Step::new(
            format!("mass{used_up} m({})", to.text),
            format!("n({}) × M({})", to.text, to.text),
            format!(
                "{} mol × {} g/mol",
                guarded(&sought),
                molar.low().to_plain()
            ),
            last(&mass, self.ask == Ask::Mass),
            "g",
        ));
        self.last_step(&mass, exact, figures, &mut working)?;
        Some(working)
    }

    /// The step from the mass to the percent yield or to the mass left.
    fn last_step(
        &self,
        mass: &Interval,
        exact: &CarefulWork,
        figures: u32,
        working: &mut Working,
    ) -> Option<()> {
        let answer = to_figures(self.finish(mass, exact)?.low(), figures);
        let mass = to_figures(mass.low(), figures + 1);
        working.push(match &self.ask {
            Ask::Yield(obtained) => Step::new(
                "percent yield",
                "100 % × m(obtained) / m(possible)",
                format!("100 % × {obtained} g / {mass} g"),
                answer,
                "%",
            ),
            Ask::Left(at_first) => Step::new(
                "mass left",
                "m(at first) − m(used up)",
                format!("{at_first} g − {mass} g"),
                answer,
                "g",
            ),
            _ => return Some(()),
        });
        Some(())
    }
}
