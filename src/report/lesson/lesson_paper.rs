//! A plan, and how the lesson is run.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::numbers::grams;
use crate::formula::Formula;
use crate::gravimetry::{
    HeatingSafety, Plan, Severity, Weighings, decompositions, may_harm_for_life,
};
use crate::number::Ratio;
use crate::text::Note;

/// The paper for a lesson that a [`Plan`] is for: the plan for the teacher, what pupils get, and the empty
/// class sheet.
///
/// ```
/// use effloresce::{gravimetry::Method, report::LessonPaper};
/// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?.benches(12)?;
/// let paper = LessonPaper::new(plan).balances(3);
/// let mut text = String::new();
/// paper.write_plan(&mut text).unwrap();
/// assert!(text.contains("12 benches × 4 weighings ÷ 3 balances = 16 weighings at each balance"));
/// let files = paper.files().unwrap();
/// assert!(files.iter().any(|file| file.name() == "pupils.html"));
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct LessonPaper {
    pub(super) plan: Plan,
    /// What heating the hydrate of the plan means.
    pub(super) safety: HeatingSafety,
    pub(super) balances: u32,
    pub(super) heatings: u32,
    pub(super) minutes: u32,
    pub(super) invented: bool,
}

/// The time for which the balances are busy in a lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct BalanceTime {
    weighings_at_each: u64,
    minutes: u64,
}

impl BalanceTime {
    /// The number of weighings at the busiest balance.
    #[must_use]
    pub fn weighings_at_each(&self) -> u64 {
        self.weighings_at_each
    }

    /// The minutes that these take. Heating and cooling take more time.
    #[must_use]
    pub fn minutes(&self) -> u64 {
        self.minutes
    }
}

/// The most heatings that a card has room for.
const MOST_HEATINGS: u32 = 9;

/// A limit up to here, in degrees Celsius, needs an oven: its caution says so.
const OVEN: u16 = 300;
/// A burner hardly heats a crucible to more than this, in degrees Celsius (common practice, no source).
const HOT_BURNER: u16 = 800;

/// Why there are no pages for pupils and no answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoPages {
    /// Loss on heating does not give x.
    Unfit,
    /// Nothing says whether loss on heating gives x.
    NotKnown,
    /// A usual crucible does not hold the sample.
    LargeSample,
}

impl LessonPaper {
    /// Makes the paper for a lesson with two balances, two heatings of each sample, and two minutes for each
    /// weighing (common practice, no source).
    #[must_use]
    pub fn new(plan: Plan) -> Self {
        LessonPaper {
            safety: plan.safety(),
            plan,
            balances: 2,
            heatings: 2,
            minutes: 2,
            invented: false,
        }
    }

    /// Sets the number of balances; at least one counts.
    #[must_use]
    pub fn balances(mut self, balances: u32) -> Self {
        self.balances = balances.max(1);
        self
    }

    /// Sets how often each sample is heated and weighed, from 1 to 9; the nearer of these counts otherwise.
    #[must_use]
    pub fn heatings(mut self, heatings: u32) -> Self {
        self.heatings = heatings.clamp(1, MOST_HEATINGS);
        self
    }

    /// Sets how many minutes one weighing takes, with the way to the balance.
    #[must_use]
    pub fn minutes_per_weighing(mut self, minutes: u32) -> Self {
        self.minutes = minutes;
        self
    }

    /// Says on every page that the class is invented, for demonstration.
    #[must_use]
    pub fn invented(mut self) -> Self {
        self.invented = true;
        self
    }

    /// The plan.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Returns how long the balances are busy. `None` if the plan has no number of benches.
    ///
    /// ```
    /// use effloresce::{gravimetry::Method, report::LessonPaper};
    /// let plan = Method::new().plan(&"MgSO4·7H2O".parse()?, "0.01".parse()?)?.benches(12)?;
    /// let time = LessonPaper::new(plan).balances(3).time_at_the_balances().unwrap();
    /// assert_eq!((time.weighings_at_each(), time.minutes()), (16, 32));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn time_at_the_balances(&self) -> Option<BalanceTime> {
        let of_a_bench = self.weighings_of_a_bench();
        let weighings_at_each = self
            .plan
            .weighings_at_a_balance(of_a_bench, self.balances)?;
        Some(BalanceTime {
            weighings_at_each,
            minutes: weighings_at_each.saturating_mul(self.minutes.into()),
        })
    }

    /// The number of weighings of one bench: the crucible empty, with hydrate, and after each heating.
    pub(super) fn weighings_of_a_bench(&self) -> u32 {
        2 + self.heatings
    }

    /// A mass with the decimal places of the balance.
    pub(super) fn grams(&self, mass: &Ratio) -> String {
        grams(mass, self.plan.readability())
    }

    /// The least and the greatest mass to weigh out.
    pub(super) fn range(&self) -> String {
        let [low, high] = self.plan.weigh_between();
        format!("{} g to {} g", self.grams(low), self.grams(high))
    }

    /// The anhydrous salt.
    pub(super) fn salt(&self) -> Formula {
        let issued = self.plan.issued();
        let unit = issued.one_formula_unit();
        unit.map_or_else(|| issued.clone(), |(salt, _)| salt)
    }

    /// The salt as pupils know it before they have found x.
    pub(super) fn hydrate_for_pupils(&self) -> String {
        format!("{}·xH2O", self.salt())
    }

    /// The largest change between two weighings that counts as none, for the least mass of hydrate.
    pub(super) fn criterion(&self) -> Ratio {
        let step = self.plan.readability();
        let reading = |mass: Ratio| grams(&mass, step).parse().ok();
        let container = Ratio::from(20);
        let [low, _] = self.plan.weigh_between();
        let heated = &container + self.plan.expected_residue();
        let readings = reading(container.clone())
            .zip(reading(&container + low))
            .zip(reading(heated));
        let criterion = readings.and_then(|((container, hydrate), heated)| {
            let bench = Weighings::new(container, hydrate, [heated]);
            let method = self.plan.method().clone();
            let method = method.readability(step.to_plain().parse().ok()?).ok()?;
            Some(method.constancy(&bench).ok()??.criterion().clone())
        });
        criterion.unwrap_or_else(|| step * 2)
    }

    /// The heading of a page.
    pub(super) fn title(&self, title: &str) -> Vec<Block> {
        let mut blocks = Vec::from([Block::Title(title.to_string())]);
        if self.invented {
            blocks.push(Block::paragraph("An invented class, for demonstration."));
        }
        blocks
    }

    /// Whether the salt must not be heated in a school.
    pub(super) fn is_forbidden(&self) -> bool {
        self.safety.severity() == Severity::Forbidden
    }

    /// Why pupils do not heat this salt, or not on this balance.
    pub(super) fn no_pages(&self) -> Option<NoPages> {
        match self.safety.suitable() {
            Some(false) => Some(NoPages::Unfit),
            None => Some(NoPages::NotKnown),
            Some(true) => self.plan.has_large_sample().then_some(NoPages::LargeSample),
        }
    }

    /// Whether the salt may do harm that lasts, so that the local rules may keep it from pupils.
    pub(super) fn harms_for_life(&self) -> bool {
        may_harm_for_life(self.plan.issued())
    }

    /// The caution that says how hot the sample may become, if it is known.
    pub(super) fn hottest(&self) -> Option<&Note> {
        let mut cautions = self.safety.cautions().iter();
        cautions.find(|caution| caution.code() == "safe_up_to")
    }

    /// How hot the sample may become, in degrees Celsius, if it is known.
    fn limit(&self) -> Option<u16> {
        let mut values = self.hottest()?.values();
        let (_, celsius) = values.find(|(name, _)| *name == "celsius")?;
        celsius.parse().ok()
    }

    /// How to keep the sample below that temperature, in sentences for pupils. Not said of a temperature that a
    /// burner hardly reaches.
    pub(super) fn how_to_keep_below(&self) -> Option<String> {
        let limit = self.limit().filter(|celsius| *celsius < HOT_BURNER)?;
        if limit <= OVEN {
            return Some("Use an oven or a hot plate with a thermometer, not a burner.".into());
        }
        let mut text = String::from("Use a small flame. Do not let the crucible glow.");
        if let Some(sign) = self.sign_of_too_much_heat() {
            text += &format!(" Stop if you see this sign of too much heat: {sign}.");
        }
        Some(text)
    }

    /// Where the advice to keep the sample below its limit is from, for the teacher.
    pub(super) fn why_not_glowing(&self) -> Option<String> {
        let limit = self.limit()?;
        (limit > OVEN && limit < HOT_BURNER).then(|| {
            format!(
                "A burner can heat a crucible to more than {limit} °C. A crucible glows from about 525 °C (J. W. Draper, \
                 Philosophical Magazine 1847, 30, 345; from memory). A sign is a hint, not the end point. A furnace with a \
                 thermometer is surer (common practice, no source)."
            )
        })
    }

    /// The sign that the salt decomposes, if one is known. A lower hydrate that loses its water shows none.
    fn sign_of_too_much_heat(&self) -> Option<&'static str> {
        if self.plan.residue().waters().is_some() {
            return None;
        }
        decompositions(&self.salt()).last()?.sign()
    }

    /// What comes first on the pages for the teacher: whether the hydrate suits the experiment, and its
    /// cautions.
    pub(super) fn safety_first(&self) -> Vec<Block> {
        let cautions = self.safety.cautions();
        let mut blocks = Vec::from([Block::Paragraph(self.suitability())]);
        blocks.extend(self.who_handles_it().map(Block::Paragraph));
        blocks.push(Block::section("Safety"));
        blocks.push(Block::dashes(cautions.iter().map(Note::text)));
        blocks
    }

    /// Who decides whether pupils handle a salt that may do harm that lasts.
    fn who_handles_it(&self) -> Option<String> {
        let is_heated = !self.is_forbidden() && self.no_pages() != Some(NoPages::Unfit);
        (is_heated && self.harms_for_life()).then(|| {
            format!(
                "{} may cause cancer or genetic defects, or harm fertility or the unborn child. The person in charge of \
                 the laboratory decides by the local rules whether pupils may handle it. If they may not, demonstrate the \
                 experiment.",
                self.salt()
            )
        })
    }

    /// Whether the hydrate suits the experiment, in words.
    fn suitability(&self) -> String {
        let (issued, safety) = (self.plan.issued(), &self.safety);
        let care = match safety.severity() {
            Severity::Forbidden => {
                return format!(
                    "{issued} must not be heated in a school at all. Choose another salt."
                );
            }
            Severity::FumeCupboard => " Heat it only in a fume cupboard.",
            Severity::Care => " The salt needs care.",
            _ => "",
        };
        match self.no_pages() {
            None => format!("Loss on heating gives the x of {issued}.{care}"),
            Some(NoPages::Unfit) => format!(
                "Loss on heating does not give the x of {issued}, for the reasons below. Choose another salt. There \
                 are no pages for pupils, and no answers."
            ),
            Some(NoPages::NotKnown) => format!(
                "It is not known here whether loss on heating gives the x of {issued}.{care} So there are no pages for \
                 pupils, and no answers. Choose another salt, or ask the person in charge of the laboratory."
            ),
            Some(NoPages::LargeSample) => format!(
                "Loss on heating gives the x of {issued}.{care} On this balance, each bench would heat too much for a usual \
                 crucible. So there are no pages for pupils, and no answers. What helps is below the masses."
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gravimetry::{cautions, known_salts};

    /// The words and the statements of the cautions, and the rule of the paper, speak of the same salts.
    #[test]
    fn every_salt_whose_cautions_speak_of_lasting_harm_is_one() {
        const WORDS: [&str; 4] = ["cancer", "genetic defects", "fertility", "unborn"];
        let speaks_of_it = |note: &Note| {
            note.text().split(". ").any(|sentence| {
                let is_suspected = sentence.to_lowercase().contains("suspected");
                !is_suspected && WORDS.iter().any(|word| sentence.contains(word))
            })
        };
        let mut harmful = 0;
        for facts in known_salts() {
            let salt = facts.salt();
            let is_forbidden = HeatingSafety::of(salt).severity() == Severity::Forbidden;
            if !is_forbidden && cautions(salt).iter().any(speaks_of_it) {
                assert!(may_harm_for_life(salt), "{salt}");
                harmful += 1;
            }
        }
        assert!(harmful > 10, "{harmful}");
        for harmless in ["MgSO4·7H2O", "CuSO4·5H2O", "BaCl2·2H2O", "ZnSO4·7H2O"] {
            assert!(!may_harm_for_life(&harmless.parse().unwrap()), "{harmless}");
        }
    }
}
