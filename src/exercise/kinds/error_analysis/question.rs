//! What is asked of a class, and the problem.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::{SheetBench, SheetBenches};
use super::rules::SheetRules;
use super::{choices, key, steps, wording};
use crate::class::Marked;
use crate::element::AtomicWeights;
use crate::exercise::answer_part::{AnswerPart, PartChoice};
use crate::exercise::draft::{Asked, DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::field::Field;
use crate::exercise::kind::Level;
use crate::exercise::kinds::row::KindRow;
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::exercise::solve::marked_class;
use crate::gravimetry::Quantity;
use crate::mistake::{Diagnosis, Fault, NextStep};

pub(in crate::exercise::kinds) const KIND: KindRow = KindRow {
    levels: &[Level::SeveralSteps, Level::Judgement],
    draw,
};

/// A part of a question: the bench with the fault, with the fault or with its next step; the bench with the slip,
/// with the slip, with the value that it is in, or with both.
#[derive(Clone, Copy, PartialEq)]
enum AskedPart {
    Fault,
    NextStep,
    Slip,
    Value,
    ValueAndSlip,
}

/// A form: its code and its parts.
type Form = (&'static str, &'static [AskedPart]);

const BOTH: Form = ("find_both", &[AskedPart::Fault, AskedPart::Slip]);
const CLEAR: [Form; 4] = [
    ("find_fault", &[AskedPart::Fault]),
    ("find_slip", &[AskedPart::Slip]),
    ("next_step", &[AskedPart::NextStep]),
    BOTH,
];
const JUDGED: [Form; 4] = [
    ("first_wrong_value", &[AskedPart::ValueAndSlip]),
    ("fault_and_value", &[AskedPart::Fault, AskedPart::Value]),
    (
        "next_step_and_slip",
        &[AskedPart::NextStep, AskedPart::Slip],
    ),
    BOTH,
];

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let rules = SheetRules::drawn(draw.level, &mut draw.sampler);
    let forms = match draw.level {
        Level::Judgement => JUDGED,
        _ => CLEAR,
    };
    let form = draw.form(&forms.map(|(form, _)| form));
    let parts = forms.iter().find(|(own, _)| *own == form);
    let parts = parts.map_or(BOTH.1, |(_, parts)| parts);
    let benches = SheetBenches::draw(draw, rules)?;
    let answers = Answers::draw(draw, rules, &benches)?;
    let request = request(draw.weights(), rules, &benches, &answers);
    let marked = proved(&request, rules, &benches, &answers)?;
    let row = marked.rows().get(benches.faulty);
    let diagnosis = row.and_then(|row| row.diagnosis());
    let next = diagnosis.map(|diagnosis| next_steps(rules.faults, diagnosis));
    let next = next.ok_or(Refusal::Again(
        "the class does not find the fault, or finds another",
    ))?;
    if next
        .iter()
        .enumerate()
        .any(|(index, (_, step))| next[..index].iter().any(|(_, other)| other == step))
    {
        return Err(Refusal::Again("two faults have the same next step"));
    }
    let own_next = next
        .iter()
        .find(|(fault, _)| *fault == benches.fault)
        .map(|(_, step)| *step);
    let own_next = own_next.ok_or(Refusal::Again("the fault has no next step"))?;
    let mut prompt = wording::sheet(rules, &benches, &answers);
    let choices = SheetChoices::new(rules, &next, &benches, &answers);
    prompt.push_str(&choices.lists(parts));
    prompt.push_str(&asked(parts));
    let pointers = parts
        .iter()
        .flat_map(|part| pointers(*part, &benches, &answers));
    let parts = parts
        .iter()
        .flat_map(|part| choices.of(*part, &benches, &answers));
    Ok(DraftProblem {
        form,
        skills: skills(draw.level, rules),
        prompt,
        asked: Asked::Texts {
            pointers: pointers.collect(),
            parts: parts.collect(),
        },
        working: steps::working(rules, &benches, &answers, own_next)
            .ok_or(Refusal::Again("a bench has no working"))?,
        request,
        wrong: Vec::new(),
    })
}

/// The class of a request, if it says exactly what was planted.
fn proved(
    request: &Request,
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
) -> Result<Marked, Refusal> {
    let marked = marked_class(&request.members(), request.weights()).map_err(Refusal::refused)?;
    key::check(&marked, rules, benches, answers)?;
    Ok(marked)
}

/// The next steps of the faults to choose from, in their order.
fn next_steps(faults: &[Fault], diagnosis: &Diagnosis) -> Vec<(Fault, NextStep)> {
    let step = |fault: &Fault| {
        let mut all = diagnosis.all().iter();
        all.find(|own| own.fault() == *fault)
            .map(|own| (*fault, own.next()))
    };
    faults.iter().filter_map(step).collect()
}

/// What may be chosen on a sheet, whatever is asked.
struct SheetChoices {
    faults: Vec<PartChoice>,
    advice: Vec<PartChoice>,
    slips: Vec<PartChoice>,
    values: Vec<PartChoice>,
}

impl SheetChoices {
    fn new(
        rules: &SheetRules,
        next: &[(Fault, NextStep)],
        benches: &SheetBenches<'_>,
        answers: &Answers,
    ) -> SheetChoices {
        SheetChoices {
            faults: choices::faults(rules),
            advice: choices::advice(next),
            slips: choices::slips(rules, benches, answers),
            values: choices::values(rules),
        }
    }

    /// The lists of the prompt.
    fn lists(&self, parts: &[AskedPart]) -> String {
        let has = |part: AskedPart| parts.contains(&part);
        let mut text = String::new();
        if has(AskedPart::Fault) || has(AskedPart::NextStep) {
            text += &wording::list("The fault is one of these:", &self.faults);
        }
        if has(AskedPart::NextStep) {
            text += &wording::list("The advice is one of these:", &self.advice);
        }
        if has(AskedPart::Slip) || has(AskedPart::ValueAndSlip) {
            text += &wording::list("The slip is one of these:", &self.slips);
        }
        text
    }

    /// What may be chosen for each pointer of a part.
    fn of(
        &self,
        part: AskedPart,
        benches: &SheetBenches<'_>,
        answers: &Answers,
    ) -> Vec<AnswerPart> {
        let chosen = |what: &str, choices: &[PartChoice]| AnswerPart {
            what: what.into(),
            choices: choices.into(),
        };
        let with_fault = chosen(
            "Bench with the fault",
            &choices::benches_with_fault(benches),
        );
        let with_slip = choices::benches_with_slip(benches, answers);
        let with_slip = chosen("Bench with the slip", &with_slip);
        let value = || chosen("First wrong value", &self.values);
        let slip = || chosen("Slip", &self.slips);
        match part {
            AskedPart::Fault => [with_fault, chosen("Fault", &self.faults)].into(),
            AskedPart::NextStep => [with_fault, chosen("Advice", &self.advice)].into(),
            AskedPart::Slip => [with_slip, slip()].into(),
            AskedPart::Value => [with_slip, value()].into(),
            AskedPart::ValueAndSlip => [with_slip, value(), slip()].into(),
        }
    }
}

fn asked(parts: &[AskedPart]) -> String {
    let sentences = parts.iter().map(|part| match part {
        AskedPart::Fault => "Find the bench with the fault. Name the fault.",
        AskedPart::NextStep => {
            "Find the bench with the fault. Choose the advice that fits its fault."
        }
        AskedPart::Slip => "Find the bench with the slip. Name the slip.",
        AskedPart::Value => "Find the bench with the slip. Name its first wrong value.",
        AskedPart::ValueAndSlip => {
            "Find the bench with the slip. Name its first wrong value, and name the slip."
        }
    });
    sentences.collect::<Vec<&str>>().join(" ")
}

fn pointers(part: AskedPart, benches: &SheetBenches<'_>, answers: &Answers) -> Vec<String> {
    let fault = |end: &str| format!("/rows/{}/{end}", benches.faulty);
    let slip = |end: &str| format!("/rows/{}/{end}", answers.bench);
    let answer = |end: &str| slip(&format!("answers/{}/{end}", answers.quantity));
    match part {
        AskedPart::Fault => [fault("bench"), fault("faults/0/code")].into(),
        AskedPart::NextStep => [fault("bench"), fault("faults/0/next/code")].into(),
        AskedPart::Slip => [slip("bench"), answer("slips/0")].into(),
        AskedPart::Value => [slip("bench"), answer("quantity")].into(),
        AskedPart::ValueAndSlip => [slip("bench"), answer("quantity"), answer("slips/0")].into(),
    }
}

fn skills(level: Level, rules: &SheetRules) -> Vec<Skill> {
    let mut skills = Vec::from([
        Skill::JudgeReadings,
        Skill::SubtractContainer,
        Skill::MoleRatio,
    ]);
    if rules.quantities.contains(&Quantity::PercentWater) {
        skills.push(Skill::MassFraction);
    }
    if level == Level::Judgement {
        skills.push(Skill::ConstantMass);
    }
    skills
}

fn request(
    weights: &AtomicWeights,
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
) -> Request {
    let rows = benches.all.iter().zip(&answers.reported);
    let rows = rows.map(|(bench, reported)| bench_row(bench, rules, reported));
    Request::new(Operation::Class, weights)
        .with("issued", &benches.row.hydrate)
        .with("readability", &benches.readability)
        .with(
            "constant_mass",
            Field::object([("absolute", &benches.criterion)]),
        )
        .with("rows", Field::list(rows))
}

fn bench_row(bench: &SheetBench, rules: &SheetRules, reported: &[String]) -> Field {
    let mut members: Vec<(&str, Field)> = Vec::from([("bench", bench.name.into())]);
    let container = bench.weighings.container().map(Field::from);
    let with_hydrate = bench.weighings.with_hydrate().map(Field::from);
    members.extend(container.map(|value| ("crucible", value)));
    members.extend(with_hydrate.map(|value| ("crucible_hydrate", value)));
    members.push(("heated", Field::list(bench.weighings.heated())));
    let quantities = rules.quantities.iter().map(|quantity| quantity.code());
    members.push((
        "reported",
        Field::object(quantities.zip(reported.iter().cloned())),
    ));
    Field::object(members)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::hydrate::PoolHydrate;
    use crate::exercise::sampler::Sampler;
    use crate::gravimetry::{Method, Weighings};
    use crate::mistake::Slip;
    use crate::number::Reading;

    /// A bench whose readings are those of magnesium sulfate heptahydrate.
    fn bench(
        name: &'static str,
        readings: [&'static str; 2],
        heated: &[&'static str],
    ) -> SheetBench {
        let [container, with_hydrate] = readings.map(Reading::literal);
        let heated = heated.iter().map(|text| Reading::literal(text));
        let weighings = Weighings::new(container, with_hydrate, heated);
        let salt = "MgSO4".parse().unwrap();
        let run = Method::new().dehydration(&salt, &weighings).unwrap();
        SheetBench {
            name,
            weighings,
            run,
        }
    }

    /// The reason why a class is refused in which Heron should have left water in its residue, and Hazel should have
    /// turned its ratio upside down.
    fn refusal(heron: &[&'static str], hazel: &str) -> Option<&'static str> {
        let row = PoolHydrate::new("MgSO4·7H2O".parse().unwrap(), None).unwrap();
        let benches = SheetBenches {
            row: &row,
            readability: Reading::literal("0.001"),
            criterion: Reading::literal("0.002"),
            all: [
                bench("Heron", ["21.352", "24.018"], heron),
                bench(
                    "Hazel",
                    ["20.114", "22.987"],
                    &["21.560", "21.519", "21.518"],
                ),
                bench(
                    "Rowan",
                    ["19.870", "23.001"],
                    &["21.439", "21.403", "21.402"],
                ),
            ]
            .into(),
            fault: Fault::WaterLeft,
            faulty: 0,
        };
        let rules = SheetRules::drawn(Level::SeveralSteps, &mut Sampler::new(0, "", 0, 0, 0));
        let reported = benches.all.iter().map(|bench| {
            let values = rules
                .quantities
                .iter()
                .map(|quantity| bench.run.written(*quantity));
            values.collect::<Option<Vec<String>>>().unwrap()
        });
        let mut answers = Answers {
            reported: reported.collect(),
            slip: Slip::RatioInverted,
            bench: 1,
            quantity: 1,
        };
        answers.reported[1][1] = hazel.into();
        let request = request(&AtomicWeights::default(), rules, &benches, &answers);
        match proved(&request, rules, &benches, &answers) {
            Ok(_) => None,
            Err(Refusal::Again(reason)) => Some(reason),
            Err(Refusal::Refused(reason)) => panic!("{reason}"),
            Err(Refusal::Exhausted(error)) => panic!("{error}"),
        }
    }

    #[test]
    fn a_class_that_does_not_say_what_was_planted_is_refused() {
        let fault = Some("the class does not find the fault, or finds another");
        let slip = Some("the class does not find the slip, or finds another");
        let wet = ["22.946", "22.801"];
        assert_eq!(refusal(&wet, "0.1431"), None);
        // Dry: no fault. Gained at last: another fault.
        assert_eq!(refusal(&["22.701", "22.656", "22.655"], "0.1431"), fault);
        assert_eq!(refusal(&["22.656", "22.655", "22.690"], "0.1431"), fault);
        // Right: no slip. A ratio of masses: another slip. No known slip.
        assert_eq!(refusal(&wet, "6.990"), slip);
        assert_eq!(refusal(&wet, "1.046"), slip);
        assert_eq!(refusal(&wet, "4.321"), slip);
    }
}
