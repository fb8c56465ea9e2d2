//! The plan for the teacher.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::numbers::two_figures;
#[cfg(not(target_family = "wasm"))]
use super::super::picture::plan_picture;
use super::super::table::TextTable;
use super::lesson_paper::LessonPaper;
use crate::gravimetry::{PlannedBalance, Warning};
use crate::number::{Ratio, Rounded, TieRule};
use crate::text::Note;

impl LessonPaper {
    /// The plan as blocks, with this picture if there is one. Suitability and cautions are first.
    pub(super) fn plan_blocks(&self, picture: Option<Block>) -> Vec<Block> {
        let plan = &self.plan;
        let mut blocks = self.title(&format!("Plan: loss on heating of {}", plan.issued()));
        blocks.extend(self.safety_first());
        // Nothing says how to heat what must not be heated.
        if self.is_forbidden() {
            return blocks;
        }
        blocks.push(Block::section("Weigh out"));
        blocks.extend(self.masses());
        let reasons = plan.reasons().into_iter().chain(self.remarks());
        blocks.push(Block::dashes(reasons.map(|note| note.text().to_string())));
        blocks.extend(self.heating());
        blocks.push(Block::section("Balances"));
        blocks.push(Block::paragraph(
            "The least mass of hydrate by each limit, in g. Weigh out at least the largest of a row.",
        ));
        blocks.push(Block::Table(self.limits()));
        blocks.push(Block::dashes(limits_in_words(self)));
        blocks.push(Block::section("Sample masses"));
        blocks.push(Block::paragraph(self.what_is_expected()));
        blocks.push(Block::Table(self.sample_masses()));
        blocks.extend(self.certainty().map(Block::Paragraph));
        blocks.extend(picture);
        blocks.extend(self.time());
        blocks
    }

    /// What is doubtful about how the lesson is run.
    fn remarks(&self) -> Vec<Note> {
        let mut remarks = Vec::new();
        let (criterion, step) = (self.criterion(), self.plan.readability());
        if criterion < *step {
            remarks.push(Warning::CriterionBelowDivision(criterion, step.clone()).note());
        }
        if self.heatings == 1 {
            let text = "Each sample is heated once, so nothing shows whether all the water has left. Heat each at least \
                        twice.";
            remarks.push(Note::new("one_heating", text));
        }
        remarks
    }

    /// The picture of the plan, if one can be drawn.
    pub(super) fn picture(&self) -> Option<Block> {
        #[cfg(not(target_family = "wasm"))]
        {
            plan_picture(&self.plan).map(Block::Picture)
        }
        #[cfg(target_family = "wasm")]
        {
            None
        }
    }

    fn masses(&self) -> Vec<Block> {
        let plan = &self.plan;
        let [low, _] = plan.weigh_between();
        let mut blocks = Vec::from([
            Block::paragraph(format!(
                "Each bench weighs out {} of {} on a balance that shows {} g.",
                self.range(),
                plan.issued(),
                plan.readability().to_plain()
            )),
            Block::paragraph(format!(
                "{} g of hydrate leaves {} g of {} and loses {} g.",
                self.grams(low),
                self.grams(&plan.expected_residue()),
                plan.residue(),
                self.grams(&plan.expected_loss())
            )),
        ]);
        if let (Some(total), Some(benches)) = (plan.total_mass(), plan.bench_count()) {
            // Rounded up, so that it is enough.
            let tenths = (total * 10).ceil();
            let total = tenths.checked_div(&10.into()).unwrap_or_default();
            blocks.push(Block::paragraph(format!(
                "Have {} g of the hydrate ready: {}, each with the greatest mass, and {} % spare.",
                total.to_plain(),
                counted(benches, "bench"),
                plan.spare_percent().to_plain()
            )));
        }
        blocks
    }

    /// The temperatures that the catalogue has for this salt.
    fn heating(&self) -> Vec<Block> {
        // The caution is above; this is where its temperature is from.
        let hottest = self.hottest().map(|caution| {
            let values: Vec<(&str, &str)> = caution.values().collect();
            let value = |name| {
                let found = values.iter().find(|(own, _)| *own == name);
                found.map_or("", |(_, value)| *value)
            };
            let (celsius, source) = (value("celsius"), value("source"));
            format!("The limit of {celsius} °C: {source}.")
        });
        let mut sentences: Vec<String> = hottest.into_iter().collect();
        sentences.extend(
            self.how_to_keep_below()
                .zip(self.why_not_glowing())
                .map(|(how, why)| format!("{how} {why}")),
        );
        let stages = self.plan.heating_stages().iter().map(|stage| {
            let range = match stage.celsius() {
                (low, high) if low == high => low.to_string(),
                (low, high) => format!("{low} to {high}"),
            };
            let (from, to) = (stage.from(), stage.to());
            let (conditions, source) = (stage.conditions(), stage.source());
            format!("{from} → {to}: {range} °C, {conditions} ({source}).")
        });
        sentences.extend(stages);
        if sentences.is_empty() {
            return Vec::new();
        }
        Vec::from([
            Block::section("Heating"),
            Block::paragraph(
                "Published temperatures. They depend on the vapour over the solid and on how fast you heat.",
            ),
            Block::dashes(sentences),
        ])
    }

    fn limits(&self) -> TextTable {
        let mut table = TextTable::new("The least masses of hydrate").right([
            "Balance/g",
            "Resolution/g",
            "Relative/g",
            "Practical/g",
        ]);
        let shown = |limit: Option<&Rounded>| limit.map_or_else(|| "–".into(), Rounded::to_string);
        for balance in self.plan.balances() {
            let limits = balance.limits();
            table.row([
                balance.readability().to_plain(),
                shown(limits.resolution()),
                shown(limits.relative()),
                limits.practical().to_string(),
            ]);
        }
        table
    }

    fn what_is_expected(&self) -> String {
        let plan = &self.plan;
        let four = |share: Ratio| share.to_figures(4, TieRule::Even);
        format!(
            "The last reading is that of the empty crucible plus {} × the mass of hydrate. The loss is {} × the mass \
             of hydrate.",
            four(plan.residue_from(&Ratio::ONE)),
            four(plan.loss_from(&Ratio::ONE))
        )
    }

    fn sample_masses(&self) -> TextTable {
        let plan = &self.plan;
        let steps = plan.balances().iter().map(PlannedBalance::readability);
        let columns = steps.map(|step| format!("± x, {} g", step.to_plain()));
        let mut table = TextTable::new("What is expected")
            .right(["Hydrate/g", "Residue/g", "Loss/g"])
            .right(columns);
        for sample in plan.samples() {
            let uncertainties = sample.expanded_uncertainties();
            let uncertainties = uncertainties.iter().map(|value| two_figures(*value));
            let expected = [sample.hydrate(), sample.residue(), sample.loss()];
            let expected = expected.map(|mass| self.grams(mass));
            table.row(expected.into_iter().chain(uncertainties));
        }
        table
    }

    /// The largest uncertainty of x that is enough.
    fn certainty(&self) -> Option<String> {
        let plan = &self.plan;
        let half = plan.half_distance()?.to_figures(3, TieRule::Even);
        Some(format!(
            "“± x, 0.01 g” is the expanded uncertainty of x on a balance that shows 0.01 g. If it is {} or less, x \
             distinguishes {} from {}.",
            half.value().to_plain(),
            plan.issued(),
            plan.nearest_other()?
        ))
    }

    fn time(&self) -> Vec<Block> {
        let (Some(benches), Some(time)) = (self.plan.bench_count(), self.time_at_the_balances())
        else {
            return Vec::new();
        };
        let weighings = self.weighings_of_a_bench();
        let (at_each, minutes) = (time.weighings_at_each(), time.minutes());
        Vec::from([
            Block::section("Time at the balances"),
            Block::paragraph(format!(
                "{} × {weighings} weighings ÷ {} = {at_each} weighings at each balance. At {} min each, this takes \
                 {minutes} min. Heating and cooling take more time.",
                counted(benches, "bench"),
                counted(self.balances, "balance"),
                self.minutes
            )),
        ])
    }
}

/// What the three limits are.
fn limits_in_words(paper: &LessonPaper) -> Vec<String> {
    let mut words = Vec::new();
    if let Some(other) = paper.plan.nearest_other() {
        let other = match paper.plan.nearest_is_known() {
            true => format!("{other}, the nearest other hydrate"),
            false => format!(
                "{other}, the nearest formula to which x could be rounded. No such hydrate is known here"
            ),
        };
        words.push(format!(
            "Resolution: enough to distinguish {} from {other}.",
            paper.plan.issued()
        ));
    }
    words.push("Relative: enough to know the mass of water to 1 %.".into());
    words.push("Practical: enough to handle (common practice, no source).".into());
    words.push(
        "These are limits of the balance. Water that is left, and lost solid, change more.".into(),
    );
    words
}

/// A number with its noun.
fn counted(count: u32, noun: &str) -> String {
    match (count, noun) {
        (1, _) => format!("1 {noun}"),
        (_, "bench") => format!("{count} benches"),
        _ => format!("{count} {noun}s"),
    }
}
