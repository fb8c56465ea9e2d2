//! All that pupils get, and the answers for the teacher.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::lesson_paper::LessonPaper;
use crate::formula::Formula;
use crate::text::Note;

impl LessonPaper {
    /// The pages for pupils. They do not say what x is.
    pub(super) fn pupil_blocks(&self) -> Vec<Block> {
        let hydrate = self.hydrate_for_pupils();
        let mut blocks = self.title(&format!("Find x in {hydrate}"));
        blocks.push(Block::section("Safety"));
        blocks.push(Block::dashes(self.cautions_for_pupils()));
        blocks.push(Block::section("Waste"));
        blocks.push(Block::dashes([
            "Put no solid into the sink or the bin.",
            "Let the crucible cool. Then put the solid where your teacher shows you.",
        ]));
        blocks.push(Block::section("What you do"));
        blocks.extend(self.task().into_iter().map(Block::Paragraph));
        blocks.push(Block::section("Questions before the lesson"));
        if let Some(practice) = self.practice() {
            let salt = &practice.salt;
            let words = format!("Questions 1 to 4 are about another salt, {salt}.");
            blocks.push(Block::Paragraph(words));
        }
        let numbered = self.questions().into_iter().zip(1..);
        let numbered =
            numbered.map(|((question, _), number)| format!("Question {number}. {question}"));
        blocks.push(Block::dashes(numbered));
        blocks.push(Block::paragraph(self.atomic_weights()));
        blocks.push(Block::section("Your results"));
        blocks.push(Block::Table(self.data_table()));
        blocks.push(Block::section("Bench cards"));
        blocks.extend(self.bench_cards());
        blocks
    }

    /// The cautions, with who decides in the words of a pupil.
    fn cautions_for_pupils(&self) -> Vec<String> {
        let cautions = self.plan.cautions();
        let own = cautions
            .iter()
            .filter(|caution| caution.code() != "who_decides");
        let own = own.map(|caution| caution.text().to_string());
        let who_decides =
            "Your teacher decides. The safety data sheet and the local rules count first.";
        own.chain([who_decides.to_string()]).collect()
    }

    fn task(&self) -> Vec<String> {
        let (plan, hydrate) = (&self.plan, self.hydrate_for_pupils());
        let residue = plan.residue();
        let mut task = Vec::from([
            format!("You have {hydrate}. The number x is not known. Heat drives off water."),
            format!("Heat until two readings agree. Then {residue} is left."),
        ]);
        if residue.waters().is_some() {
            task.push("Your teacher says how hot the sample may become.".into());
            task.push(format!(
                "Some water stays in {residue}. Your x counts this water, too."
            ));
        } else {
            task.push("From the masses you find x.".into());
        }
        task
    }

    /// The atomic weights that pupils need, from the class's table.
    fn atomic_weights(&self) -> String {
        let weights = self.plan.method().atomic_weights();
        let practice = self.practice().map(|practice| practice.salt);
        let salts = [Some(self.salt()), practice, Some(Formula::water())];
        let mut shown: BTreeMap<String, String> = BTreeMap::new();
        for salt in salts.into_iter().flatten() {
            let composition = salt.composition().unwrap_or_default();
            for (atom, _) in &composition {
                if let Ok(weight) = weights.atom(atom) {
                    shown.insert(atom.to_string(), weight.value().to_plain());
                }
            }
        }
        let shown: Vec<String> = shown
            .iter()
            .map(|(atom, weight)| format!("{atom} {weight}"))
            .collect();
        format!("Atomic weights ({weights}): {}.", shown.join(", "))
    }

    /// The answers to the questions, and what to do with the empty sheet.
    pub(super) fn key_blocks(&self) -> Vec<Block> {
        let plan = &self.plan;
        let title = format!(
            "Answers for the teacher: loss on heating of {}",
            plan.issued()
        );
        let mut blocks = self.title(&title);
        blocks.push(Block::section("Safety"));
        blocks.push(Block::dashes(plan.cautions().iter().map(Note::text)));
        blocks.push(Block::section("Answers"));
        blocks.extend(self.answers());
        blocks.push(Block::section("After the lesson"));
        let mut command = format!("answer_key class_sheet.csv --issued '{}'", plan.issued());
        if plan.residue().waters().is_some() {
            command += &format!(" --residue '{}'", plan.residue());
        }
        blocks.push(Block::paragraph(
            "Type the readings and the answers into class_sheet.csv. Then mark the class:",
        ));
        blocks.push(Block::Command(command));
        blocks
    }
}
