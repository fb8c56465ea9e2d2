//! The blank table of a lesson, and a card for each bench.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::table::TextTable;
use super::lesson_paper::LessonPaper;
use crate::gravimetry::{Quantity, Severity};

/// The name of a bench on its card and in the sheet.
pub(super) fn bench_name(number: u32) -> String {
    format!("Bench {number}")
}

impl LessonPaper {
    /// The table for the calculation, with the quantities that a class sheet asks for.
    pub(super) fn data_table(&self) -> TextTable {
        let mut table = TextTable::new("Results")
            .left(["Quantity"])
            .blank(["Working"])
            .left(["Unit"])
            .blank(["Result"]);
        for quantity in Quantity::ALL {
            table.row([
                quantity.to_string(),
                String::new(),
                quantity.unit().to_string(),
                String::new(),
            ]);
        }
        table
    }

    /// A card for each bench: each step with its reading and its check.
    pub(super) fn bench_cards(&self) -> Vec<Block> {
        let benches = self.plan.bench_count().unwrap_or(0);
        let (reminder, steps) = (self.reminder(), self.steps());
        let card = |number| {
            let blocks = Vec::from([
                Block::paragraph("Names: ______________________________"),
                Block::paragraph(reminder.as_str()),
                Block::Table(steps.clone()),
            ]);
            Block::Card(bench_name(number), blocks)
        };
        (1..=benches).map(card).collect()
    }

    /// What a card says of safety, because it may be read without the page.
    fn reminder(&self) -> String {
        let mut reminder = String::from("Read the safety page first. Wear eye protection.");
        if self.safety.severity() == Severity::FumeCupboard {
            reminder += " Heat only in the fume cupboard.";
        }
        if let Some(hottest) = self.hottest() {
            let (first, _) = hottest.text().split_once(". ").unwrap_or_default();
            reminder += &format!(" {first}.");
        }
        if let Some(how) = self.how_to_keep_below() {
            reminder += &format!(" {how}");
        }
        if self.harms_for_life() {
            reminder += &format!(" Handle {} only if your teacher allows it.", self.salt());
        }
        reminder
    }

    fn steps(&self) -> TextTable {
        let mut table = TextTable::new("Readings")
            .left(["Do this"])
            .blank(["Reading/g"])
            .left(["Check"]);
        let mut step = |what: String, check: String| table.row([what, String::new(), check]);
        step(
            "Weigh the empty crucible.".into(),
            "The crucible is clean, dry and cold.".into(),
        );
        step(
            "Add the hydrate. Weigh again.".into(),
            format!("The reading is {} higher.", self.range()),
        );
        let criterion = self.criterion().to_plain();
        for heating in 1..=self.heatings {
            let what = match heating {
                1 => {
                    "Heat gently, then as your teacher shows you. Cover it. Let it cool. Weigh it."
                }
                _ => "Heat again. Cover it. Let it cool. Weigh it.",
            };
            let check = match heating {
                1 => "The reading is lower than before. It is still above that of the empty crucible.".into(),
                _ if heating < self.heatings => format!(
                    "Do the last two readings differ by {criterion} g or less? Then stop heating. If not, heat again."
                ),
                _ => format!(
                    "The last two readings differ by {criterion} g or less. If not, tell your teacher."
                ),
            };
            step(what.into(), check);
        }
        table
    }
}
