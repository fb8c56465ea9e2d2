//! The answers of a row, judged by the key of its bench, or by another one that they follow.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::answer::{Answer, Judgement, Obstacle};
use super::bench_key::{BenchKey, BenchKeys, BenchResult};
use super::judge::Judge;
use super::mistyped::{Correction, MistypedReading, corrections};
use super::remark::Remark;
use super::verdict::Verdict;
use crate::class::{FiguresRule, Marks, Policy, Row};
use crate::formula::Formula;
use crate::gravimetry::{Quantity, Weighings};
use crate::mistake::Slip;
use crate::number::Ratio;

/// What the answers of a row are judged by.
pub(super) struct RowJudge<'a> {
    pub(super) row: &'a Row,
    /// What the row was issued, if anything says it.
    pub(super) issued: Option<&'a Formula>,
    /// What the class was issued.
    pub(super) of_class: &'a Formula,
    pub(super) policy: &'a Policy,
}

/// The answers of a row, judged.
pub(super) struct JudgedRow {
    pub(super) answers: Vec<Answer>,
    /// Whether the policy takes a mark for significant figures.
    pub(super) figures_mark: bool,
    pub(super) compared: ComparedRatio,
}

/// The ratio that shows how accurate a bench was.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ComparedRatio {
    /// The bench's own.
    Own,
    /// That with a further residue than heating should leave.
    Further(Box<Ratio>),
    /// None, because a reading may be mistyped.
    Unknown,
}

impl ComparedRatio {
    /// Returns the ratio; `own` is the bench's own.
    pub(super) fn or_own<'a>(&'a self, own: &'a Ratio) -> Option<&'a Ratio> {
        match self {
            ComparedRatio::Own => Some(own),
            ComparedRatio::Further(further) => Some(further),
            ComparedRatio::Unknown => None,
        }
    }
}

impl RowJudge<'_> {
    /// Judges the row by the key of its bench. If the answers follow another key better, that one counts.
    pub(super) fn judge(
        &self,
        key: &BenchKey,
        result: &BenchResult,
        expected_degree: Option<&Ratio>,
        keys: &mut BenchKeys<'_>,
    ) -> JudgedRow {
        let mut judged = self.by(&key.weighings, result);
        let is_wrong = |answer: &Answer| !answer.verdict().earns() && !answer.by_hand();
        if !judged.answers.iter().any(is_wrong) {
            return judged;
        }
        if let Some(further) = self.by_further_residue(key, result, keys, &judged.answers) {
            return further;
        }
        let Some(expected) = expected_degree else {
            return judged;
        };
        let mistyped = self.mistyped(key, result, expected, keys, &judged.answers);
        if let Some((reading, other)) = mistyped {
            leave_open(&mut judged.answers, &other, &reading);
            judged.compared = ComparedRatio::Unknown;
        }
        judged
    }

    /// Judges a row whose readings could not be worked out. What they give before any heating may show that the mass of
    /// hydrate is right. All the rest is left open.
    pub(super) fn without_result(
        &self,
        before_heating: impl FnOnce() -> Option<(Weighings, BenchResult)>,
    ) -> Vec<Answer> {
        let reported = self.row.reported();
        let answers = reported.iter().map(|reported| {
            let out_of = self.policy.marks_for(reported.quantity());
            Answer::not_judged(reported, Obstacle::NotWorkedOut, out_of)
        });
        let mut answers: Vec<Answer> = answers.collect();
        let is_asked =
            |answer: &Answer| answer.quantity() == Quantity::HydrateMass && answer.by_hand();
        let mut all = reported.iter().zip(&mut answers);
        if let Some((reported, answer)) = all.find(|(_, answer)| is_asked(answer)) {
            let judged = before_heating()
                .map(|(weighings, result)| self.judge_by(&weighings, &result).answer(reported));
            if let Some(right) = judged.filter(|judged| judged.verdict() == Verdict::Correct) {
                *answer = right;
            }
        }
        answers
    }

    /// Returns what judges by these readings.
    fn judge_by<'j>(&'j self, weighings: &'j Weighings, result: &'j BenchResult) -> Judge<'j> {
        let known = self.issued.unwrap_or(self.of_class);
        Judge::new(weighings, result, known, self.policy)
    }

    /// Judges the row by what these readings give.
    fn by(&self, weighings: &Weighings, result: &BenchResult) -> JudgedRow {
        let mut judge = self.judge_by(weighings, result);
        let answers = self.row.reported().iter().map(|reported| {
            let quantity = reported.quantity();
            // What depends on the salt is not judged if it is not known what was issued.
            if self.issued.is_some() || !depends_on_salt(quantity) {
                return judge.answer(reported);
            }
            let out_of = self.policy.marks_for(quantity);
            Answer::not_judged(reported, Obstacle::NotIssued, out_of)
        });
        let answers = answers.collect();
        let one_mark = self.policy.figures_rule() == FiguresRule::OneMark;
        JudgedRow {
            answers,
            figures_mark: one_mark && judge.figures_remarked(),
            compared: ComparedRatio::Own,
        }
    }

    /// Judges the row with a further residue than heating should leave, if the mass agrees with that, and an answer
    /// earns more so. An answer that is right without it stays right.
    fn by_further_residue(
        &self,
        key: &BenchKey,
        result: &BenchResult,
        keys: &mut BenchKeys<'_>,
        own: &[Answer],
    ) -> Option<JudgedRow> {
        let residue = result.dehydration.further_residue()?;
        let other = keys.with_residue(key, self.issued?, residue)?;
        let mut judged = self.by(&key.weighings, &other);
        let follows = earned(&judged.answers) > earned(own);
        let mut gained = Vec::new();
        for (answer, own) in judged.answers.iter_mut().zip(own) {
            // What follows from an answer that is right with the further residue is judged with that, too.
            let rests_on_gain = own
                .carried_from()
                .is_some_and(|from| gained.contains(&from));
            if answer.marks() > own.marks() {
                gained.push(answer.quantity());
                let remark = Remark::FurtherResidue(Box::new(residue.clone()));
                answer.remarks.push(remark);
            } else if !rests_on_gain && (answer.marks() < own.marks() || !follows) {
                *answer = own.clone();
            }
        }
        if follows {
            judged.compared = ComparedRatio::Further(Box::new(other.dehydration.ratio().clone()));
        }
        let is_fair = !gained.is_empty() && earned(&judged.answers) >= earned(own);
        is_fair.then_some(judged)
    }

    /// Returns the reading that is mistyped in the sheet if the answers follow another one, with the answers as
    /// they are with it.
    fn mistyped(
        &self,
        key: &BenchKey,
        result: &BenchResult,
        expected_degree: &Ratio,
        keys: &mut BenchKeys<'_>,
        own: &[Answer],
    ) -> Option<(Box<MistypedReading>, Vec<Answer>)> {
        // Who worked with the mistyped reading has all right but the formula of what was issued. A formula alone
        // shows nothing.
        let is_only_formula =
            |answer: &Answer| answer.verdict().earns() != (answer.quantity() == Quantity::Formula);
        let shown_by_formula = own.len() > 1 && own.iter().all(is_only_formula);
        let wrong = own.iter().filter(|answer| may_follow(answer)).count();
        if wrong == 0 && !shown_by_formula {
            return None;
        }
        let corrections = corrections(&key.weighings, &result.dehydration, expected_degree);
        let may_be_shown = |of: &Correction| of.makes_constant || wrong >= of.evidence;
        let corrections = corrections.into_iter().filter(may_be_shown);
        let corrected = corrections.filter_map(|correction| {
            let result = keys.with_readings(key, self.issued, &correction.weighings)?;
            let other = self.by(&correction.weighings, &result).answers;
            let following = following(own, &other);
            let is_shown = following.unearned >= correction.evidence
                || correction.makes_constant && (shown_by_formula || following.is_whole_work());
            is_shown.then_some((correction.reading, other))
        });
        corrected.max_by_key(|(_, answers)| earned(answers))
    }
}

fn earned(answers: &[Answer]) -> Marks {
    answers.iter().map(Answer::marks).sum()
}

/// Whether a quantity can be worked out only if it is known what was issued.
fn depends_on_salt(quantity: Quantity) -> bool {
    match quantity {
        Quantity::HydrateMass
        | Quantity::ResidueMass
        | Quantity::WaterMass
        | Quantity::PercentWater => false,
        Quantity::MolSalt | Quantity::MolWater | Quantity::Ratio | Quantity::Formula => true,
    }
}

/// The answers that another key makes correct: those that earn nothing by the own key, and those that follow from them.
#[derive(Default)]
struct FollowingAnswers {
    unearned: usize,
    carried: usize,
}

impl FollowingAnswers {
    /// Whether a wrong answer and what was worked out from it are all right by the other key.
    fn is_whole_work(&self) -> bool {
        self.unearned > 0 && self.carried > 0
    }
}

/// Whether an answer shows something if another key makes it correct. A ratio, a formula and a value of the textbook
/// may be right for another reason.
fn is_evidence(own: &Answer) -> bool {
    let copied = own.slips().contains(&Slip::TextbookValue);
    !copied && !matches!(own.quantity(), Quantity::Ratio | Quantity::Formula)
}

/// Whether an answer that earns nothing by the own key may show another one. What is missing is so by every key.
fn may_follow(own: &Answer) -> bool {
    let verdict = own.verdict();
    is_evidence(own) && !verdict.earns() && verdict != Verdict::Missing
}

/// Counts the answers that the other key makes correct and the own key does not; none if there is one the other way
/// round.
fn following(own: &[Answer], other: &[Answer]) -> FollowingAnswers {
    let pairs = own.iter().zip(other).filter(|(own, _)| is_evidence(own));
    let mut found = FollowingAnswers::default();
    for (own, other) in pairs {
        match (own.verdict(), other.verdict()) {
            (own, other) if own.earns() && !other.earns() => return FollowingAnswers::default(),
            (Verdict::CarriedForward, Verdict::Correct) => found.carried += 1,
            (own, Verdict::Correct) if !own.earns() => found.unearned += 1,
            _ => {}
        }
    }
    found
}

/// Leaves the answers to a person that earn more with a reading that may be mistyped.
fn leave_open(answers: &mut [Answer], other: &[Answer], reading: &MistypedReading) {
    for (answer, other) in answers.iter_mut().zip(other) {
        let gains = other.verdict().earns() && !answer.verdict().earns();
        if gains || other.marks() > answer.marks() {
            let obstacle = Obstacle::Mistyped(Box::new(reading.clone()));
            answer.judgement = Judgement::Obstacle(obstacle);
            answer.marks = Marks::ZERO;
        }
    }
}

#[cfg(test)]
mod tests {
    use alloc::format;
    use alloc::string::{String, ToString};

    use super::*;
    use crate::class::{MarkedRow, Marker, Sheet};
    use crate::gravimetry::Method;
    use crate::number::TieRule;
    use crate::text::Note;

    const HEAD: &str = "bench,pupil,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_hydrate_g,\
                        reported_residue_g,reported_water_g,reported_percent_water,reported_mol_salt,\
                        reported_mol_water,reported_ratio,reported_formula";

    fn marked(issued: &str, policy: &str, row: &str) -> MarkedRow {
        let sheet = Sheet::read(format!("{HEAD}\n{row}\n").as_bytes()).unwrap();
        let marker = Marker::new(issued.parse().unwrap(), Method::new());
        let marker = marker.policy(Policy::from_toml(policy).unwrap());
        marker.mark(&sheet).rows()[0].clone()
    }

    /// The verdicts, with `?` for an answer that is left open.
    fn verdicts(row: &MarkedRow) -> String {
        let of = |answer: &Answer| match answer.by_hand() {
            true => "?".to_string(),
            false => answer.verdict().code()[..4].into(),
        };
        row.answers()
            .iter()
            .map(of)
            .collect::<Vec<String>>()
            .join(" ")
    }

    #[test]
    fn a_typing_error_of_the_sheet_is_not_charged_to_the_pupil() {
        // All answers are those of 21.363 g.
        let answers = "2.511,1.226,1.285,51.17,0.01019,0.07133,7.00,MgSO4.7H2O";
        let eva = |readings: &str| {
            let row = format!("Eva,E,{readings},{answers}");
            marked(
                "MgSO4·7H2O",
                "accuracy.bands = [{ within_percent = 2, marks = 2 }]",
                &row,
            )
        };
        let right = eva("20.137,22.648,21.364,21.363");
        assert_eq!(right.total(), Some(10.into()));
        let last = eva("20.137,22.648,21.364,20.363");
        assert_eq!(verdicts(&last), "corr ? carr carr carr carr carr carr");
        assert_eq!((last.total(), last.accuracy()), (None, None));
        assert_eq!(last.difference_percent(), None);
        let note = last.answers()[1].remarks().last().map(Note::to_string);
        assert_eq!(
            note.unwrap(),
            "it is right with 21.363 g instead of 20.363 g as `heated_2_g`, so compare the sheet with the pupil's \
             paper"
        );
        let [_, look] = last.feedback().try_into().unwrap();
        assert_eq!(look.code(), "look_at_readings");
        // A decimal point in another place and a digit too many make masses impossible. These do not.
        for readings in [
            "20.137,22.648,21.364,22.363",
            "20.137,23.648,21.364,21.363",
            "21.137,22.648,21.364,21.363",
            "20.137,26.248,21.364,21.363",
        ] {
            let row = eva(readings);
            assert_eq!(row.total(), None, "{readings}");
            assert!(row.open_answers().count() > 0, "{readings}");
            assert!(
                row.answers()
                    .iter()
                    .all(|a| a.verdict().earns() || a.by_hand())
            );
        }
    }

    #[test]
    fn a_wrong_digit_that_hides_constant_mass_is_evidence_enough() {
        let of = |readings: &str, answers: &str| {
            marked("MgSO4·7H2O", "", &format!("Dohle,D,{readings},{answers}"))
        };
        // Less than a tenth of the loss: the pupil has 21.363 g on paper.
        for last in ["21.263", "21.336"] {
            let row = of(
                &format!("20.137,22.648,21.364,{last}"),
                "2.511,1.226,1.285,,,,,",
            );
            assert_eq!(
                verdicts(&row),
                "corr ? carr miss miss miss miss miss",
                "{last}"
            );
            assert_eq!((row.total(), row.difference_percent()), (None, None));
        }
        // One answer alone may agree by chance.
        let alone = of("20.137,22.648,21.364,21.263", "2.511,1.226,,,,,,");
        assert_eq!(alone.by_hand(), 0);
        // Both weighings are alike, so that no digit is wrong.
        let alike = of("20.137,22.648,21.263,21.263", "2.511,1.226,1.285,,,,,");
        assert_eq!(alike.by_hand(), 0);
        // All follows from the mistyped reading, but the formula is that of the true one.
        let row = of(
            "20.137,22.648,21.364,20.363",
            "2.511,0.226,2.285,91.00,0.001878,0.1268,67.6,MgSO4.7H2O",
        );
        assert_eq!(verdicts(&row), "corr corr corr corr corr corr corr ?");
    }

    #[test]
    fn a_wrong_answer_of_a_bad_bench_is_wrong() {
        let of = |row: &str| verdicts(&marked("MgSO4·7H2O", "", row));
        // Solid was lost, and everything follows from the readings but the formula of the book.
        assert_eq!(
            of(
                "Rook,R,20.137,22.648,20.364,20.363,2.511,0.226,2.285,91.00,0.001878,0.1268,67.6,MgSO4.7H2O"
            ),
            "corr corr corr corr corr corr corr slip"
        );
        // The percentage of the book is copied.
        assert_eq!(
            of("Rook,R,20.137,22.648,20.364,20.363,2.511,0.226,2.285,51.17,,,,"),
            "corr corr corr slip miss miss miss miss"
        );
        // A good bench and a subtraction without borrowing.
        assert_eq!(
            of("Wren,W,20.137,22.648,21.364,21.363,2.511,2.226,1.285,51.17,,,,"),
            "corr slip corr corr miss miss miss miss"
        );
    }

    #[test]
    fn what_good_readings_show_is_marked_although_the_rest_is_open() {
        let of = |row: &str| marked("MgSO4·7H2O", "", row);
        let all = "2.511,1.226,1.285,51.17,0.01019,0.07133,7.00,MgSO4.7H2O";
        for readings in [
            "20.137,22.648,,",
            "20.137,22.648,21.364,spilt",
            "20.137,22.648,21.364,23.163",
        ] {
            let row = of(&format!("Kay,K,{readings},{all}"));
            assert_eq!(verdicts(&row), "corr ? ? ? ? ? ? ?", "{readings}");
            let marks = (row.calculation(), row.total(), row.by_hand());
            assert_eq!(marks, (Some(1.into()), None, 7), "{readings}");
            let row = of(&format!("Kay,K,{readings},2.511,,,,,,,"));
            assert_eq!((row.calculation(), row.total()), (Some(1.into()), None));
            assert_eq!(
                row.feedback()[0].text(),
                "Your mass of hydrate (2.511 g) is right."
            );
            // Without a good reading, or with another mass, nothing is decided.
            let row = of(&format!("Kay,K,{readings},2.411,,,,,,,"));
            assert_eq!((row.calculation(), row.by_hand()), (None, 1), "{readings}");
        }
        for readings in [
            "20.137,spilt,21.364,21.363",
            "22.648,20.137,21.364,21.363",
            ",22.648,21.364,",
        ] {
            let row = of(&format!("Kay,K,{readings},{all}"));
            assert_eq!((row.calculation(), row.by_hand()), (None, 8), "{readings}");
        }
    }

    #[test]
    fn a_salt_that_was_heated_further_may_be_worked_out_with_what_is_left() {
        let method = Method::new()
            .residue(&"CuSO4·H2O".parse().unwrap())
            .unwrap();
        let marker = Marker::new("CuSO4·5H2O".parse().unwrap(), method);
        let policy =
            Policy::from_toml("accuracy.bands = [{ within_percent = 2, marks = 2 }]").unwrap();
        let marker = marker.policy(policy);
        let of = |row: &str| {
            let sheet = Sheet::read(format!("{HEAD}\n{row}\n").as_bytes()).unwrap();
            marker.mark(&sheet).rows()[0].clone()
        };
        let readings = "Cherry,C,19.950,22.450,21.549,21.548";
        let further = of(&format!(
            "{readings},2.500,1.598,0.902,36.1,0.01001,0.05007,5.00,CuSO4.5H2O"
        ));
        assert_eq!(
            (further.total(), further.accuracy()),
            (Some(10.into()), Some(2.into()))
        );
        // By hand: (0.902/18.015)/(1.598/159.602) is 5.00073.
        let difference = further.difference_percent().unwrap();
        assert_eq!(difference.to_places(3, TieRule::Even).to_string(), "0.015");
        let codes = |answer: &Answer| answer.remarks().iter().map(Note::code).collect::<Vec<_>>();
        assert_eq!(codes(&further.answers()[3]), [""; 0]);
        assert_eq!(codes(&further.answers()[4]), ["further_residue"]);
        assert_eq!(
            further.feedback()[1].text(),
            "Next time, heat more gently. At the bench, your salt was heated beyond CuSO4·H2O, to CuSO4."
        );
        // By the residue that was meant: 1 + (0.902/18.015)/(1.598/177.617).
        let meant = of(&format!(
            "{readings},2.500,1.598,0.902,36.1,0.008997,0.05007,6.57,"
        ));
        assert_eq!(verdicts(&meant), "corr corr corr corr corr corr corr miss");
        assert_eq!(codes(&meant.answers()[6]), [""; 0]);
        // The formula then follows from what is left, and the bench is compared by the other answers.
        let both = of(&format!(
            "{readings},2.500,1.598,0.902,36.1,0.008997,0.05007,6.57,CuSO4.5H2O"
        ));
        assert_eq!(verdicts(&both), "corr corr corr corr corr corr corr corr");
        assert_eq!(
            codes(&both.answers()[7]),
            ["contradicts_ratio", "further_residue"]
        );
        assert_eq!(both.difference_percent(), meant.difference_percent());
        // The water that is left was added although nothing is left.
        let added = of(&format!(
            "{readings},2.500,1.598,0.902,36.1,0.01001,0.05007,6.00,CuSO4.5H2O"
        ));
        assert_eq!(verdicts(&added), "corr corr corr corr corr corr unex corr");
        // A bench that stopped where it should is not worked out with another residue.
        let stopped =
            of("Alder,A,20.000,22.500,21.780,21.779,2.500,1.779,0.721,28.84,0.01115,0.04002,3.59,");
        assert_eq!(stopped.answers()[4].verdict(), Verdict::Slip);
    }
}
