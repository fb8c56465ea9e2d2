//! Questions before the lesson, and their answers.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::block::Block;
use super::super::numbers::grams;
use super::lesson_paper::LessonPaper;
use crate::formula::Formula;
use crate::gravimetry::{Method, Net, Weighings};
use crate::number::{Ratio, Reading};
use crate::working::Working;

/// The hydrates of the practice bench: the first one that is not of the class's own salt.
const PRACTICE: [&str; 2] = ["CuSO4·5H2O", "MgSO4·7H2O"];
/// The mass of hydrate of the practice bench, and the step of its balance, in grams.
const PRACTICE_MASS: (&str, &str) = ("2.50", "0.01");

/// A bench to calculate with, whose salt is another one than that of the class.
pub(super) struct Practice {
    pub(super) salt: Formula,
    hydrate: Reading,
    residue: Reading,
    working: Working,
}

impl LessonPaper {
    /// The practice bench, with the atomic weights of the class.
    pub(super) fn practice(&self) -> Option<Practice> {
        let own = self.salt();
        let issued = PRACTICE
            .iter()
            .filter_map(|text| text.parse::<Formula>().ok());
        let of = |issued: Formula| Some((issued.one_formula_unit()?.0, issued));
        let (salt, issued) = issued.filter_map(of).find(|(salt, _)| *salt != own)?;
        let hydrate: Reading = PRACTICE_MASS.0.parse().ok()?;
        let step: Reading = PRACTICE_MASS.1.parse().ok()?;
        let method = Method::new().weights(self.plan.method().atomic_weights().clone());
        let plan = method.plan(&issued, step).ok()?;
        let residue = grams(&plan.residue_from(&hydrate.value()), &step.value());
        let residue: Reading = residue.parse().ok()?;
        let bench = Weighings::net(hydrate, residue, Net::Tared);
        let working = method.dehydration(&salt, &bench).ok()?.working();
        Some(Practice {
            salt,
            hydrate,
            residue,
            working,
        })
    }

    /// The questions, each with its answer. The steps of the calculation are the answer to the first ones.
    pub(super) fn questions(&self) -> Vec<(String, Option<String>)> {
        let mut questions = Vec::new();
        if let Some(practice) = self.practice() {
            questions.extend(practice.questions().map(|question| (question, None)));
        }
        let (question, answer) = self.question_on_constant_mass();
        questions.push((question, Some(answer)));
        let others = [
            (
                "Why do you heat, cool and weigh until two readings agree?",
                "The first heating may leave water behind. If two readings agree, no more water leaves.",
            ),
            (
                "Why must the crucible be cold before you weigh it?",
                "Hot air rises around a hot crucible, so the reading is wrong. Heat can also damage the balance.",
            ),
            (
                "How can you see that a crucible is hot? What do you do about this?",
                "You cannot see it. Use tongs for every crucible.",
            ),
            (
                "Some solid jumps out of the crucible. What does this do to your x?",
                "The loss counts as water, so x is too large. Tell your teacher, and start again.",
            ),
        ];
        questions.extend(others.map(|(q, a)| (q.into(), Some(a.into()))));
        questions
    }

    /// Two readings that do not agree yet.
    fn question_on_constant_mass(&self) -> (String, String) {
        let step = self.plan.readability();
        let criterion = self.criterion();
        let steps = criterion.checked_div(step).unwrap_or_default();
        let change = (steps.floor() + 1) * step;
        let first = Ratio::from(24);
        let last = &first - &change;
        let [first, last] = [first, last].map(|mass| self.grams(&mass));
        let question = format!(
            "Two readings in a row are {first} g and {last} g. Up to {} g of change counts as constant mass. What do \
             you do next?",
            criterion.to_plain()
        );
        let answer = format!(
            "The mass changed by {} g, which is more. Heat, cool and weigh again.",
            self.grams(&change)
        );
        (question, answer)
    }

    /// The answers as blocks.
    pub(super) fn answers(&self) -> Vec<Block> {
        let mut blocks = Vec::new();
        let questions = self.questions();
        let calculated = questions
            .iter()
            .filter(|(_, answer)| answer.is_none())
            .count();
        if let Some(practice) = self.practice() {
            blocks.push(Block::paragraph(format!("Questions 1 to {calculated}:")));
            blocks.push(Block::Working(practice.working));
        }
        let others = questions.into_iter().zip(1..);
        let others = others.filter_map(|((question, answer), number)| {
            Some(format!("Question {number}. {question} {}", answer?))
        });
        blocks.push(Block::dashes(others));
        blocks
    }
}

impl Practice {
    fn questions(&self) -> [String; 4] {
        let Practice {
            salt,
            hydrate,
            residue,
            ..
        } = self;
        [
            format!(
                "{hydrate} g of {salt}·xH2O leaves {residue} g of {salt}. What mass of water leaves?"
            ),
            "What percentage of the hydrate is this water?".into(),
            format!("What amount of {salt} is this, in mol? What amount of water is it?"),
            format!(
                "Divide the amount of water by the amount of {salt}. What is x, to a whole number?"
            ),
        ]
    }
}
