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

/// The hydrates of the practice bench, and a lower one: the first salt that is not the class's own.
const PRACTICE: [[&str; 2]; 2] = [["CuSO4·5H2O", "CuSO4·H2O"], ["MgSO4·7H2O", "MgSO4·H2O"]];
/// The mass of hydrate of the practice bench, and the step of its balance, in grams.
const PRACTICE_MASS: (&str, &str) = ("2.50", "0.01");

/// A bench to calculate with, whose salt is another one than that of the class.
pub(super) struct Practice {
    pub(super) salt: Formula,
    /// What is left: the salt, or a lower hydrate of it if the class heats to one, too.
    left: Formula,
    hydrate: Reading,
    residue: Reading,
    working: Working,
}

impl LessonPaper {
    /// The practice bench, with the atomic weights of the class.
    pub(super) fn practice(&self) -> Option<Practice> {
        let own = self.salt();
        let of = |[issued, lower]: &[&str; 2]| {
            let issued: Formula = issued.parse().ok()?;
            let (salt, _) = issued.one_formula_unit()?;
            Some((salt, issued, lower.parse::<Formula>().ok()?))
        };
        let mut all = PRACTICE.iter().filter_map(of);
        let (salt, issued, lower) = all.find(|(salt, ..)| *salt != own)?;
        let left = match self.plan.residue().waters() {
            None => salt.clone(),
            Some(_) => lower,
        };
        let hydrate: Reading = PRACTICE_MASS.0.parse().ok()?;
        let step: Reading = PRACTICE_MASS.1.parse().ok()?;
        let method = Method::new().weights(self.plan.method().atomic_weights().clone());
        let method = method.residue(&left).ok()?;
        let plan = method.plan(&issued, step).ok()?;
        let residue = grams(&plan.residue_from(&hydrate.value()), &step.value());
        let residue: Reading = residue.parse().ok()?;
        let bench = Weighings::net(hydrate, residue, Net::Tared);
        let working = method.dehydration(&salt, &bench).ok()?.working();
        Some(Practice {
            salt,
            left,
            hydrate,
            residue,
            working,
        })
    }

    /// The questions with their numbers, each with its answer. The first ones are about the practice bench: the
    /// steps of its calculation are their answer.
    pub(super) fn questions(&self, practice: Option<&Practice>) -> Vec<(String, Option<String>)> {
        let mut questions: Vec<(String, Option<String>)> = Vec::new();
        if let Some(practice) = practice {
            questions.extend(practice.questions().map(|question| (question, None)));
        }
        let (question, answer) = self.question_on_constant_mass();
        questions.push((question, Some(answer)));
        let others = [
            (
                match self.heatings {
                    1 => {
                        "You heat once. What would it show if you heated again and two readings agreed?"
                    }
                    _ => "Why do you heat, cool and weigh until two readings agree?",
                },
                "The first heating may leave water behind. If two readings agree, no more water leaves.",
            ),
            (
                "Why must the crucible be cold before you weigh it?",
                "Hot air rises around a hot crucible, so the reading is wrong. Heat can also damage the balance.",
            ),
            (
                "Can you see whether a crucible is hot? How do you hold it?",
                "You cannot see it. Hold every crucible with tongs.",
            ),
            (
                "Some solid jumps out of the crucible. What does this do to your x?",
                "The loss counts as water, so x is too large. Tell your teacher, and start again.",
            ),
        ];
        questions.extend(others.map(|(q, a)| (q.into(), Some(a.into()))));
        let numbered = questions.into_iter().zip(1..);
        numbered
            .map(|((question, answer), number)| (format!("Question {number}. {question}"), answer))
            .collect()
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
        let practice = self.practice();
        let questions = self.questions(practice.as_ref());
        if let Some(practice) = practice {
            let asked = questions.iter().filter(|(_, answer)| answer.is_none());
            blocks.push(Block::dashes(asked.map(|(question, _)| question.as_str())));
            blocks.push(Block::Working(practice.working));
        }
        let others = questions.into_iter();
        let others =
            others.filter_map(|(question, answer)| Some(format!("{question} Answer: {}", answer?)));
        blocks.push(Block::dashes(others));
        blocks
    }
}

impl Practice {
    fn questions(&self) -> [String; 4] {
        let Practice {
            salt,
            left,
            hydrate,
            residue,
            ..
        } = self;
        let add = match left.waters() {
            None => String::new(),
            Some(waters) => format!(" Add {} for the water that stays.", waters.to_plain()),
        };
        [
            format!(
                "{hydrate} g of {salt}·xH2O leaves {residue} g of {left}. What mass of water leaves?"
            ),
            "What percentage of the hydrate is this water?".into(),
            format!("What amount of {left} is left, in mol? What amount of water leaves, in mol?"),
            format!(
                "Divide the amount of water by the amount of {left}.{add} What is x, to a whole number?"
            ),
        ]
    }
}
