//! All that pupils get, and the answers for the teacher.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::block::Block;
use super::lesson_paper::LessonPaper;
use super::questions::Practice;
use crate::formula::Formula;
use crate::text::sentence;

impl LessonPaper {
    /// The pages for pupils. They do not say what x is.
    pub(super) fn pupil_blocks(&self) -> Vec<Block> {
        let hydrate = self.hydrate_for_pupils();
        let mut blocks = self.title(&format!("Find x in {hydrate}"));
        blocks.push(Block::section("Safety"));
        blocks.push(Block::dashes(self.cautions_for_pupils()));
        blocks.push(Block::section("Waste"));
        blocks.push(Block::dashes(self.waste()));
        blocks.push(Block::section("What you do"));
        blocks.extend(self.task().into_iter().map(Block::Paragraph));
        blocks.push(Block::section("Questions before the lesson"));
        let practice = self.practice();
        if let Some(practice) = &practice {
            let salt = &practice.salt;
            let words = format!("Questions 1 to 4 are about another salt, {salt}.");
            blocks.push(Block::Paragraph(words));
        }
        let questions = self.questions(practice.as_ref()).into_iter();
        blocks.push(Block::dashes(questions.map(|(question, _)| question)));
        blocks.push(Block::paragraph(self.atomic_weights(practice.as_ref())));
        blocks.push(Block::section("Your results"));
        blocks.push(Block::Table(self.data_table()));
        blocks.push(Block::section("Bench cards"));
        blocks.extend(self.bench_cards());
        blocks
    }

    /// The cautions in short sentences, with who decides in the words of a pupil. What is said of waste is not
    /// among them.
    fn cautions_for_pupils(&self) -> Vec<String> {
        let cautions = self.safety.cautions();
        let own = cautions
            .iter()
            .filter(|caution| !["who_decides", "waste"].contains(&caution.code()));
        let own = own.map(|caution| {
            let text = short_sentences(&without_waters(caution.text()));
            // The caution itself names the oven.
            let how = self.how_to_keep_below();
            let how = how.filter(|_| caution.code() == "safe_up_to" && !text.contains("oven"));
            how.map_or(text.clone(), |how| format!("{text} {how}"))
        });
        let who_handles_it = self.harms_for_life().then(|| {
            format!(
                "Your teacher decides by the local rules whether you may handle {}. If not, your teacher shows you the \
                 experiment.",
                self.salt()
            )
        });
        let who_decides =
            "Your teacher decides. The safety data sheet and the local rules count first.";
        let all = who_handles_it.into_iter().chain(own);
        all.chain([who_decides.to_string()]).collect()
    }

    /// What is said of waste.
    fn waste(&self) -> Vec<String> {
        let cautions = self.safety.cautions();
        let own = cautions.iter().filter(|caution| caution.code() == "waste");
        let own = own.map(|caution| short_sentences(caution.text()));
        let first = "Let the crucible cool. Ask your teacher where the solid goes.";
        [first.to_string()].into_iter().chain(own).collect()
    }

    fn task(&self) -> Vec<String> {
        let (plan, hydrate) = (&self.plan, self.hydrate_for_pupils());
        let residue = plan.residue();
        let mut task = Vec::from([
            format!("You have {hydrate}. The number x is not known. Heat drives off water."),
            match self.heatings {
                1 => "Follow the card of your bench. You heat, cool and weigh once. This does not show whether all the \
                      water has left."
                    .into(),
                _ => format!(
                    "Follow the card of your bench. Heat, cool and weigh until two readings in a row differ by {} g or \
                     less. Then {residue} is left.",
                    self.criterion().to_plain()
                ),
            },
        ]);
        let ratio = format!(
            "Fill in the table of results. Divide the amount of water by the amount of {residue}."
        );
        task.push(match residue.waters() {
            None => format!("{ratio} This is x."),
            Some(left) => format!(
                "{ratio} Some water stays in {residue}, so add {}. This is x.",
                left.to_plain()
            ),
        });
        if residue.waters().is_some() && self.hottest().is_none() {
            task.push("Your teacher says how hot the sample may become.".into());
        }
        task
    }

    /// The atomic weights that pupils need, from the class's table.
    fn atomic_weights(&self, practice: Option<&Practice>) -> String {
        let weights = self.plan.method().atomic_weights();
        let practice = practice.map(|practice| practice.salt.clone());
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
        blocks.extend(self.safety_first());
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

/// The most words of a sentence that a pupil reads alone.
const MOST_WORDS: usize = 20;

/// A caution without the number of waters, which pupils are to find: "the decahydrate" becomes "the hydrate", and a
/// clause that counts waters is left out.
fn without_waters(text: &str) -> String {
    let (text, stop) = match text.strip_suffix('.') {
        Some(text) => (text, "."),
        None => (text, ""),
    };
    let sentences = text.split(". ").map(|sentence| {
        let mut clauses = sentence.split(", ");
        let first = clauses.next();
        let others = clauses.filter(|clause| !clause.contains(" waters"));
        let kept: Vec<&str> = first.into_iter().chain(others).collect();
        kept.join(", ")
    });
    let text = sentences.collect::<Vec<String>>().join(". ") + stop;
    let words = text.split(' ').map(|word| {
        let bare = word.trim_end_matches(|c: char| !c.is_alphanumeric());
        match bare.ends_with("hydrate") {
            true => word.replacen(bare, "hydrate", 1),
            false => word.to_string(),
        }
    });
    words.collect::<Vec<String>>().join(" ")
}

/// A caution in sentences that a pupil can read alone. A long list becomes several sentences. What is said
/// of the source is for the teacher.
fn short_sentences(text: &str) -> String {
    let sentences = text.split_inclusive(". ").map(str::trim);
    let sentences = sentences.filter(|sentence| !sentence.starts_with("(This is"));
    sentences.map(shortened).collect::<Vec<String>>().join(" ")
}

fn shortened(long: &str) -> String {
    let count = |text: &str| text.split(' ').count();
    if count(long) <= MOST_WORDS {
        return long.into();
    }
    let mut sentences: Vec<String> = Vec::new();
    for clause in long.split(", ") {
        match sentences.last_mut() {
            Some(last) if count(last) + count(clause) <= MOST_WORDS => {
                last.push_str(", ");
                last.push_str(clause);
            }
            _ => sentences.push(clause.strip_prefix("and ").unwrap_or(clause).into()),
        }
    }
    let sentences = sentences.iter().map(|words| sentence(words));
    sentences.collect::<Vec<String>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::super::markdown;
    use super::*;
    use crate::gravimetry::{Method, known_salts};

    #[test]
    fn no_page_for_pupils_says_how_much_water_a_bottle_holds() {
        let mut pages = 0;
        for facts in known_salts() {
            for waters in facts.known_hydrates() {
                let issued = facts.salt().with_waters(waters);
                let plan =
                    issued.map(|issued| Method::new().plan(&issued, "0.01".parse().unwrap()));
                let Some(Ok(plan)) = plan else { continue };
                let issued = plan.issued().to_string();
                let paper = LessonPaper::new(plan.benches(1).unwrap());
                if paper.is_forbidden() || paper.no_pages().is_some() {
                    continue;
                }
                let mut page = String::new();
                markdown::write(&paper.pupil_blocks(), &mut page).unwrap();
                assert!(!page.contains(&issued), "{issued}: {page}");
                let words = page.split(|c: char| !c.is_alphanumeric());
                for word in words {
                    let counts = word.to_lowercase().ends_with("hydrate") && word != "hydrate";
                    assert!(!counts, "{issued}: {word}");
                }
                assert!(!page.contains(" waters"), "{issued}: {page}");
                pages += 1;
            }
        }
        assert!(pages > 80, "{pages}");
    }

    #[test]
    fn a_caution_loses_only_what_counts_the_water() {
        for (caution, kept) in [
            (
                "Na2HPO4 needs care: the dodecahydrate melts at 35 °C and spits, and near 250 °C it loses water.",
                "Na2HPO4 needs care: the hydrate melts at 35 °C and spits, and near 250 °C it loses water.",
            ),
            (
                "Al2(SO4)3 needs care: the hydrate swells, and bottles hold 14 to 18 waters. (This is from memory.)",
                "Al2(SO4)3 needs care: the hydrate swells. (This is from memory.)",
            ),
            ("It spits, and bottles hold 2 waters.", "It spits."),
        ] {
            assert_eq!(without_waters(caution), kept);
        }
    }

    #[test]
    fn a_long_list_of_hazards_becomes_short_sentences() {
        let long = "CoCl2: may cause cancer and impair fertility, may cause allergy by skin contact and asthma by \
                    inhalation, suspected of causing genetic defects, very toxic to life in water. (This is from \
                    memory.)";
        assert_eq!(
            short_sentences(long),
            "CoCl2: may cause cancer and impair fertility, may cause allergy by skin contact and asthma by inhalation. \
             Suspected of causing genetic defects, very toxic to life in water."
        );
        let short = "Wear eye protection. It helps.";
        assert_eq!(short_sentences(short), short);
    }
}
