//! The content of a sample from the mass of the form that is weighed.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::row::KindRow;
use crate::element::Element;
use crate::exercise::careful::CarefulWork;
use crate::exercise::draft::{Asked, DraftProblem, Refusal, WrongValue};
use crate::exercise::draw::{Draw, shown, to_figures};
use crate::exercise::kind::Level;
use crate::exercise::pool::{FACTORS, FactorRow};
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::{GravimetricFactor, Interval};
use crate::mistake::Slip;
use crate::number::{Ratio, Reading};
use crate::working::Working;

pub(super) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// The factor is asked for; a mass is; a percentage is. What is weighed has a formula, or a name alone. A bottled
/// substance is not pure. The mass of the sample is superfluous. Two elements are in both formulas.
const FACTOR: &str = "factor";
const FACTOR_NAMED: &str = "factor_from_name";
const MASS: &str = "mass";
const MASS_NAMED: &str = "mass_from_name";
const PERCENT: &str = "percent";
const PERCENT_NAMED: &str = "percent_from_name";
const PURITY: &str = "purity";
const EXTRA: &str = "mass_with_superfluous_sample";
const EXTRA_NAMED: &str = "mass_from_name_with_superfluous_sample";
const LINK: &str = "percent_by_the_element_kept";
const LINK_MASS: &str = "mass_by_the_element_kept";

/// Substances that are sold in bottles.
const BOTTLED: [&str; 8] = [
    "MgSO4",
    "NaCl",
    "KCl",
    "Na2SO4",
    "FeSO4·7H2O",
    "KBr",
    "KI",
    "MgCl2",
];

const TOO_COARSE: Refusal = Refusal::Again("the balance is too coarse for what is weighed");

/// The greatest mass in grams that is weighed of a substance; silver is dear (common practice, no source).
fn most_grams(formula: &str) -> i64 {
    match formula.contains("Ag") {
        true => 5,
        false => 25,
    }
}

/// A row of the pool with a form and its masses.
struct FactorDraw<'d> {
    row: &'d FactorRow,
    form: &'static str,
    element: Element,
    factor: GravimetricFactor,
    /// Of what is weighed, and of the sample.
    masses: Option<(Reading, Reading)>,
    figures: u32,
}

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let drawn = FactorDraw::new(draw)?;
    let careful = drawn.value(draw.careful(drawn.figures));
    let no_mass = Refusal::Again("a substance has no molar mass");
    Ok(DraftProblem {
        form: drawn.form,
        skills: drawn.skills(),
        prompt: drawn.prompt(),
        request: drawn.request(draw),
        asked: Asked::Number {
            pointer: drawn.quantity().pointer().into(),
            unit: drawn.quantity().unit(),
            figures: drawn.figures,
            careful: careful.ok_or(no_mass)?,
        },
        working: drawn
            .working(draw.exact())
            .ok_or(Refusal::Again("the steps cannot be written"))?,
        wrong: match draw.source.exercises.options {
            true => drawn.wrong(draw).unwrap_or_default(),
            false => Vec::new(),
        },
    })
}

/// What is asked for.
#[derive(Clone, Copy, PartialEq)]
enum Sought {
    Factor,
    Mass,
    Percent,
}

impl Sought {
    const fn pointer(self) -> &'static str {
        match self {
            Sought::Factor => "/factor",
            Sought::Mass => "/sought_mass",
            Sought::Percent => "/percent",
        }
    }

    const fn unit(self) -> &'static str {
        match self {
            Sought::Factor => "",
            Sought::Mass => "g",
            Sought::Percent => "%",
        }
    }
}

impl<'d> FactorDraw<'d> {
    fn new(draw: &mut Draw<'d>) -> Result<FactorDraw<'d>, Refusal> {
        let formulas = |row: &FactorRow| -> Vec<Formula> {
            let texts = [row.sought, row.weighed].into_iter();
            texts.filter_map(|text| text.parse().ok()).collect()
        };
        let row = draw.row(
            "nothing that is weighed as a precipitate",
            FACTORS,
            formulas,
        )?;
        let parse = |text: &str| text.parse::<Formula>().map_err(Refusal::refused);
        let (sought, weighed) = (parse(row.sought)?, parse(row.weighed)?);
        let element: Element = row.element.parse().map_err(Refusal::refused)?;
        let weights = draw.weights();
        let is_linked_by_all =
            GravimetricFactor::new(sought.clone(), weighed.clone(), weights).is_ok();
        let factor = GravimetricFactor::linked_by(element, sought, weighed, weights);
        let factor = factor.map_err(Refusal::refused)?;
        // There are few factors, but many masses.
        let form = draw.form(match (draw.level, is_linked_by_all) {
            (Level::OneStep, _) => &[
                MASS,
                MASS,
                MASS,
                MASS,
                MASS_NAMED,
                MASS_NAMED,
                MASS_NAMED,
                MASS_NAMED,
                FACTOR,
                FACTOR_NAMED,
            ],
            (Level::SeveralSteps, _) if BOTTLED.contains(&row.sought) => {
                &[PERCENT, PERCENT_NAMED, PURITY, PURITY]
            }
            (Level::SeveralSteps, _) => &[PERCENT, PERCENT_NAMED],
            (Level::Judgement, true) => &[EXTRA, EXTRA_NAMED],
            (Level::Judgement, false) => &[LINK, LINK_MASS],
        });
        let mut drawn = FactorDraw {
            row,
            form,
            element,
            factor,
            masses: None,
            figures: 3 + draw.sampler.below(2),
        };
        if drawn.is_named() && !drawn.has_readable_name() {
            return Err(Refusal::Again("the name does not give the formula"));
        }
        if drawn.quantity() != Sought::Factor {
            let (weighed, steps) = drawn.weigh(draw)?;
            drawn.masses = Some(weighed);
            if steps < Ratio::from(1000) {
                drawn.figures = 3;
            }
        }
        Ok(drawn)
    }

    /// The masses that the balance shows of what is weighed and of the sample, and the smaller one in steps of the
    /// balance.
    fn weigh(&self, draw: &mut Draw<'_>) -> Result<((Reading, Reading), Ratio), Refusal> {
        let readability = draw.readability_or("0.0001");
        let step = readability.value();
        let tenth = |n: i64| Ratio::from(n) * Ratio::power_of_ten(-1);
        let (least, greatest) = (&step * Ratio::from(150), &step * Ratio::from(600));
        let (least, greatest) = (least.max(tenth(3)), greatest.max(tenth(15)));
        let most = |text: &str| Ratio::from(most_grams(text));
        let greatest = greatest.min(most(self.row.sought));
        if greatest < least {
            return Err(TOO_COARSE);
        }
        let [low, high] = match self.form {
            PURITY => [85, 99],
            _ => self.row.percent,
        };
        let percent = tenth(
            draw.sampler
                .between(10 * i64::from(low), 10 * i64::from(high)),
        );
        let sample = draw.mass(&least, &greatest, &readability)?;
        let sought = sample.value() * percent * Ratio::power_of_ten(-2);
        let weighed = sought.checked_div(self.factor.value());
        let weighed = weighed.ok_or(Refusal::Again("the factor is zero"))?;
        let weighed = shown(&weighed, &readability)?;
        let smaller = sample.value().min(weighed.value()).checked_div(&step);
        let smaller = smaller.unwrap_or_default();
        match smaller < Ratio::from(100) || weighed.value() > most(self.row.weighed) {
            true => Err(TOO_COARSE),
            false => Ok(((weighed, sample), smaller)),
        }
    }

    fn is_named(&self) -> bool {
        [FACTOR_NAMED, MASS_NAMED, PERCENT_NAMED, EXTRA_NAMED].contains(&self.form)
    }

    /// Whether the name of what is weighed gives its formula.
    fn has_readable_name(&self) -> bool {
        let read = Formula::from_name(self.row.weighed_name).ok();
        let read = read.and_then(|(formula, _)| formula.composition().ok());
        read.is_some() && read == self.factor.weighed().composition().ok()
    }

    fn quantity(&self) -> Sought {
        match self.form {
            FACTOR | FACTOR_NAMED => Sought::Factor,
            MASS | MASS_NAMED | EXTRA | EXTRA_NAMED | LINK_MASS => Sought::Mass,
            _ => Sought::Percent,
        }
    }

    fn skills(&self) -> Vec<Skill> {
        let mut skills = Vec::from([Skill::MolarMass, Skill::GravimetricFactor]);
        if self.is_named() {
            skills.push(Skill::ReadName);
        }
        if self.form == PURITY {
            skills.push(Skill::Purity);
        }
        if [LINK, LINK_MASS].contains(&self.form) {
            skills.push(Skill::MoleRatio);
        }
        skills
    }

    fn prompt(&self) -> String {
        let row = self.row;
        let sought = format!("{} ({})", row.sought_name, row.sought);
        let weighed = match self.is_named() {
            true => row.weighed_name.to_string(),
            false => format!("{} ({})", row.weighed_name, row.weighed),
        };
        let element = self.element.name();
        let Some((mass, sample)) = &self.masses else {
            return format!(
                "To find {sought}, {weighed} is weighed. Work out the gravimetric factor: the mass of {} for each \
                 gram of {}.",
                row.sought_name, row.weighed_name
            );
        };
        let (mass, sample) = (format!("{mass}\u{a0}g"), format!("{sample}\u{a0}g"));
        let all_in =
            |of: &str| format!("All the {element} in {of} is weighed as {weighed}: {mass}.");
        let of_sample = format!("{sample} of {}", row.sample);
        let added = match row.weighed {
            "CaCO3" => "",
            _ => ", and carbon comes in from a reagent",
        };
        let lost = format!(
            "{of_sample} gives {mass} of {weighed}. On the way, carbon of the sample is lost{added}. \
             Compare the two substances by an element that is neither lost nor added."
        );
        let percent = format!("Work out the percentage by mass of {sought} in the sample.");
        let mass = format!("Work out the mass of {sought} in the sample.");
        match self.form {
            MASS | MASS_NAMED => format!("{} {mass}", all_in("a sample")),
            EXTRA | EXTRA_NAMED => format!("{} {mass}", all_in(&of_sample)),
            LINK => format!("{lost} {percent}"),
            LINK_MASS => format!("{lost} {mass}"),
            PURITY => format!(
                "The {sought} of an old bottle is not pure. {} Work out the percentage by mass of {} in it.",
                all_in(&format!("{sample} of it")),
                row.sought_name
            ),
            _ => format!("{} {percent}", all_in(&of_sample)),
        }
    }

    fn request(&self, draw: &Draw<'_>) -> Request {
        let request = Request::new(Operation::Factor, draw.weights())
            .with("sought", self.factor.sought())
            .with("weighed", self.factor.weighed())
            .with("by", self.row.element);
        let Some((mass, sample)) = &self.masses else {
            return request;
        };
        let request = request.with("weighed_mass", mass);
        match self.form {
            MASS | MASS_NAMED => request,
            _ => request.with("sample_mass", sample),
        }
    }

    /// The value asked for along some paths: by the factor, or by the amounts.
    fn value(&self, paths: &CarefulWork) -> Option<Interval> {
        let exact = |value: &Ratio| Interval::point(value.clone());
        let [a, b] = self.factor.sought_per_weighed();
        let proportion = exact(&a.checked_div(b)?);
        let sought = paths.molar_mass(self.factor.sought())?;
        let weighed = paths.molar_mass(self.factor.weighed())?;
        let factor = sought.times(&proportion).over(&weighed)?;
        let Some((mass, sample)) = &self.masses else {
            return Some(factor);
        };
        let mass = exact(&mass.value());
        let by_factor = mass.times(&paths.kept(&factor)?);
        let amount = paths.kept(&mass.over(&weighed)?)?;
        let amount = paths.kept(&amount.times(&proportion))?;
        let found = by_factor.join(amount.times(&sought));
        match self.quantity() {
            Sought::Percent => {
                let fraction = paths.kept(&found)?.over(&exact(&sample.value()))?;
                Some(fraction.times(&exact(&Ratio::from(100))))
            }
            _ => Some(found),
        }
    }

    /// The value asked for with another factor.
    fn with_factor(&self, factor: &Ratio) -> Option<Ratio> {
        let Some((mass, sample)) = &self.masses else {
            return Some(factor.clone());
        };
        let found = mass.value() * factor;
        match self.quantity() {
            Sought::Percent => (100 * &found).checked_div(&sample.value()),
            _ => Some(found),
        }
    }

    /// The wrong steps with their values.
    fn wrong(&self, draw: &Draw<'_>) -> Option<Vec<(WrongStep, WrongValue)>> {
        let exact = draw.exact();
        let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
        let (sought, weighed) = (self.factor.sought(), self.factor.weighed());
        let (of_sought, of_weighed) = (molar(sought)?, molar(weighed)?);
        let [a, b] = self.factor.sought_per_weighed();
        let factor = self.factor.value();
        let mut factors: Vec<(WrongStep, Option<Ratio>)> = Vec::new();
        if [LINK, LINK_MASS].contains(&self.form) {
            factors.push((WrongStep::OTHER_ELEMENT, self.by_carbon(draw)));
        }
        if let (EXTRA | EXTRA_NAMED | LINK_MASS, Some((mass, sample))) = (self.form, &self.masses) {
            let factor = (sample.value() * factor).checked_div(&mass.value());
            factors.push((WrongStep::SAMPLE_AS_PRECIPITATE, factor));
        }
        if a != b {
            let alone = of_sought.checked_div(&of_weighed);
            let exchanged = (b * &of_sought).checked_div(&(a * &of_weighed));
            factors.push((WrongStep::PROPORTION_LEFT_OUT, alone));
            factors.push((WrongStep::PROPORTION_INVERTED, exchanged));
        }
        factors.push((WrongStep::FACTOR_INVERTED, Ratio::ONE.checked_div(factor)));
        if self.masses.is_some() {
            factors.push((WrongStep::PRECIPITATE_AS_SUBSTANCE, Some(Ratio::ONE)));
        }
        if self.is_part() {
            factors.push((WrongStep::REST_OF_PRECIPITATE, Some(Ratio::ONE - factor)));
        }
        for misread in weighed.misreadings().iter().filter_map(molar).take(2) {
            let misread = (a * &of_sought).checked_div(&(b * &misread));
            factors.push((Slip::SubscriptDropped.into(), misread));
        }
        let (above, below) = (a * &of_sought, b * &of_weighed);
        let added = above.checked_div(&(&above + &below));
        factors.push((WrongStep::SUM_OF_MOLAR_MASSES, added));
        let tenth = factor * Ratio::power_of_ten(-1);
        factors.push((Slip::FactorOfTen.into(), Some(tenth)));
        let values = factors.into_iter().filter_map(|(step, factor)| {
            Some((step, WrongValue::Number(self.with_factor(&factor?)?)))
        });
        Some(values.collect())
    }

    /// The factor of somebody who takes carbon to be kept.
    fn by_carbon(&self, draw: &Draw<'_>) -> Option<Ratio> {
        let (sought, weighed) = (self.factor.sought(), self.factor.weighed());
        let carbon = "C".parse().ok()?;
        let factor =
            GravimetricFactor::linked_by(carbon, sought.clone(), weighed.clone(), draw.weights());
        Some(factor.ok()?.value().clone())
    }

    /// Whether the substance sought is a part of what is weighed.
    fn is_part(&self) -> bool {
        let [a, b] = self.factor.sought_per_weighed();
        let atoms = |formula: &Formula| formula.composition().ok();
        let (sought, weighed) = (self.factor.sought(), self.factor.weighed());
        match (atoms(sought), atoms(weighed)) {
            (Some(sought), Some(weighed)) => sought
                .iter()
                .all(|(atom, count)| a * count <= b * &weighed.count(atom)),
            _ => false,
        }
    }

    fn working(&self, exact: &CarefulWork) -> Option<Working> {
        let answer = to_figures(self.value(exact)?.low(), self.figures);
        let working = match (&self.masses, self.quantity()) {
            (None, _) => self.factor.working(),
            (Some((mass, sample)), quantity) => {
                let sample = (quantity == Sought::Percent).then_some(*sample);
                self.factor.content(*mass, sample).ok()?.working()
            }
        };
        Some(working.ending(answer))
    }
}
