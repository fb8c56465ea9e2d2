//! A plan, and how the lesson is run.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::numbers::grams;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Plan, Severity, Weighings};
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

/// The most heatings that a card has room for.
const MOST_HEATINGS: u32 = 9;

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

    /// Whether loss on heating does not give x. Pupils do not heat such a salt.
    pub(super) fn is_unfit(&self) -> bool {
        self.safety.suitable() == Some(false)
    }

    /// The caution that says how hot the sample may become, if it is known.
    pub(super) fn hottest(&self) -> Option<&Note> {
        let mut cautions = self.safety.cautions().iter();
        cautions.find(|caution| caution.code() == "safe_up_to")
    }

    /// What comes first on the pages for the teacher: whether the hydrate suits the experiment, and its
    /// cautions.
    pub(super) fn safety_first(&self) -> Vec<Block> {
        let cautions = self.safety.cautions();
        Vec::from([
            Block::Paragraph(self.suitability()),
            Block::section("Safety"),
            Block::dashes(cautions.iter().map(Note::text)),
        ])
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
        match safety.suitable() {
            Some(true) => format!("Loss on heating gives the x of {issued}.{care}"),
            Some(false) => format!(
                "Loss on heating does not give the x of {issued}, for the reasons below. Choose another salt. There \
                 are no pages for pupils, and no answers."
            ),
            None => {
                format!(
                    "It is not known here whether loss on heating gives the x of {issued}.{care}"
                )
            }
        }
    }
}
