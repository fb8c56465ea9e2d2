//! Problems in the shape of the JSON-lines contract.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use ::serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::answer_part::{AnswerPart, PartChoice};
use super::course::Exercises;
use super::given::GivenValue;
use super::kind::{Kind, Level};
use super::problem::{Choice, Exercise};
use super::request::Request;
use super::set::ExerciseSet;
use super::skill::Skill;
use crate::element::{AtomicWeights, StatedWeights};
use crate::formula::Formula;
use crate::gravimetry::Interval;
use crate::number::{Ratio, Reading};
use crate::text::{BoundedCount, Detail, Setting, fields, given, refusal, required};
use crate::working::{Step, Working};

fields!(Exercise, problem, {
    "id": problem.id(),
    "kind": problem.kind(),
    "level": problem.level(),
    "form": problem.form(),
    "skills": problem.skills(),
    "prompt": problem.prompt(),
    "request": problem.request(),
    "data": problem.request().given(),
    "asks": OneOrMore(problem.asks()),
    "answer": OneOrMore(problem.answers()),
    "unit": Some(problem.unit()).filter(|unit| !unit.is_empty()),
    "tolerance": problem.tolerance().map(ends),
    "options": problem.options(),
    "help": problem.help(),
    "working": problem.working().steps(),
    ..(!problem.parts().is_empty()).then(|| Parts(problem.parts()))
});

/// What may be chosen for each part of an answer. Only problems with parts have the field.
struct Parts<'a>(&'a [AnswerPart]);

fields!(Parts<'_>, parts, {
    "parts": parts.0,
});

fields!(AnswerPart, part, {
    "what": part.what(),
    "choices": part.choices(),
});

fields!(PartChoice, choice, {
    "code": choice.code(),
    "words": choice.words(),
    "feedback": choice.feedback(),
});

fields!(GivenValue, given, {
    "what": given.what(),
    "value": given.value(),
    "unit": given.unit(),
    "source": given.source(),
});

fields!(Choice, choice, {
    "text": choice.text(),
    "slip": choice.wrong_step(),
    "feedback": choice.feedback(),
});

fields!(ExerciseSet, set, {
    "problems": set.problems(),
    "generator": set.generator(),
    "choices": set.exercises(),
});

fields!(Exercises, choices, {
    // As text, because the numbers of other programs may be shorter.
    "seed": choices.seed.to_string(),
    "kinds": choices.kinds_in_turn(),
    "level": choices.level,
    "salts": choices.salts,
    "avoid": choices.avoid,
    "readability": choices.readability,
    "decimal_mark": if choices.comma { "," } else { "." },
    "weights": StatedWeights(&choices.weights),
});

fn ends(interval: &Interval) -> [String; 2] {
    [interval.low(), interval.high()].map(Ratio::to_plain)
}

/// One text as it is; several as a list.
struct OneOrMore<'a>(&'a [String]);

impl Serialize for OneOrMore<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            [one] => one.serialize(serializer),
            several => several.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for OneOrSeveral {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct OneOrMoreVisitor;
        impl<'de> ::serde::de::Visitor<'de> for OneOrMoreVisitor {
            type Value = OneOrSeveral;

            fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str("a text or a list of texts")
            }

            fn visit_str<E: ::serde::de::Error>(self, text: &str) -> Result<OneOrSeveral, E> {
                Ok(OneOrSeveral(Vec::from([text.into()])))
            }

            fn visit_seq<A: ::serde::de::SeqAccess<'de>>(
                self,
                mut items: A,
            ) -> Result<OneOrSeveral, A::Error> {
                let mut texts = Vec::new();
                while let Some(text) = items.next_element()? {
                    texts.push(text);
                }
                Ok(OneOrSeveral(texts))
            }
        }
        deserializer.deserialize_any(OneOrMoreVisitor)
    }
}

/// One text, or a list of texts.
#[derive(Default)]
struct OneOrSeveral(Vec<String>);

given! {
    #[derive(Default)]
    struct ChoiceFields {
        "text" => text: String,
        "slip" => slip: Option<String>,
        "feedback" => feedback: String,
    }
}

impl<'de> Deserialize<'de> for Choice {
    /// Reads an option that was saved. Without a slip, it is the right one.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = ChoiceFields::deserialize(deserializer)?;
        Ok(Choice {
            text: fields.text,
            wrong_step: fields.slip,
            feedback: fields.feedback,
        })
    }
}

given! {
    #[derive(Default)]
    struct PartFields {
        "what" => what: String,
        "choices" => choices: Vec<PartChoiceFields>,
    }
}

given! {
    #[derive(Default)]
    struct PartChoiceFields {
        "code" => code: String,
        "words" => words: String,
        "feedback" => feedback: String,
    }
}

impl From<PartFields> for AnswerPart {
    fn from(fields: PartFields) -> AnswerPart {
        let choices = fields.choices.into_iter().map(|choice| PartChoice {
            code: choice.code,
            words: choice.words,
            feedback: choice.feedback,
        });
        AnswerPart {
            what: fields.what,
            choices: choices.collect(),
        }
    }
}

given! {
    #[derive(Default)]
    struct ExerciseFields {
        "id" => id: String,
        "kind" => kind: Option<Kind>,
        "level" => level: Option<Level>,
        "form" => form: String,
        "skills" => skills: Vec<Skill>,
        "prompt" => prompt: String,
        "request" => request: Option<Request>,
        "data" => data: Vec<GivenValue>,
        "asks" => asks: OneOrSeveral,
        "answer" => answer: OneOrSeveral,
        "unit" => unit: String,
        "tolerance" => tolerance: Option<(Ratio, Ratio)>,
        "options" => options: Vec<Choice>,
        "help" => help: Option<[String; 3]>,
        "working" => working: Vec<Step>,
        "parts" => parts: Vec<PartFields>,
    }
}

impl ExerciseFields {
    fn problem(self, comma: bool) -> Result<Exercise, Detail> {
        let mut request = required(self.request, "request", "give the request that solves it")?;
        for value in self.data {
            request = request.giving(value);
        }
        let tolerance = match self.tolerance {
            Some((low, high)) if low > high => {
                let message = "the lower end of its tolerance is above the upper one";
                return Err(Detail::new(message).help("exchange the two"));
            }
            Some((low, high)) => Some(Interval::point(low).join(Interval::point(high))),
            None => None,
        };
        let problem = Exercise {
            id: self.id,
            kind: required(self.kind, "kind", "give it, such as \"percent_water\"")?,
            level: required(self.level, "level", "give it, a number from 1 to 3")?,
            form: self.form,
            skills: self.skills,
            prompt: self.prompt,
            request,
            pointers: self.asks.0,
            answers: self.answer.0,
            unit: self.unit.into(),
            tolerance,
            options: self.options,
            parts: self.parts.into_iter().map(AnswerPart::from).collect(),
            help: required(self.help, "help", "give its three stages")?,
            working: Working::of(self.working),
        };
        problem.check(comma)?;
        Ok(problem)
    }
}

given! {
    #[derive(Default)]
    struct ExercisesFields {
        "seed" => seed: Option<Setting<BoundedCount<u64>>>,
        "kinds" => kinds: Vec<Kind>,
        "level" => level: Option<Level>,
        "salts" => salts: Vec<Formula>,
        "avoid" => avoid: Vec<Formula>,
        "readability" => readability: Option<Reading>,
        "decimal_mark" => decimal_mark: String,
        "weights" => weights: AtomicWeights,
    }
}

impl<'de> Deserialize<'de> for Exercises {
    /// Reads choices that were saved. Only the seed must be given.
    ///
    /// ```
    /// use effloresce::exercise::Exercises;
    /// let choices = r#"{"seed": "7", "kinds": ["percent_water"], "level": 1}"#;
    /// let exercises: Exercises = serde_json::from_str(choices)?;
    /// assert_eq!(exercises.seed(), 7);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = ExercisesFields::deserialize(deserializer)?;
        let seed = required(fields.seed, "seed", "give it, such as \"7\"");
        let Setting(BoundedCount(seed)) = seed.map_err(|error| refusal(&error))?;
        let mut exercises = Exercises::new(seed)
            .kinds(fields.kinds)
            .salts(fields.salts)
            .avoid(fields.avoid)
            .weights(fields.weights);
        if let Some(level) = fields.level {
            exercises = exercises.level(level);
        }
        if let Some(grams) = fields.readability {
            let with = exercises.readability(grams);
            exercises = with.map_err(|error| refusal(&error))?;
        }
        match &*fields.decimal_mark {
            "" | "." => Ok(exercises),
            "," => Ok(exercises.decimal_comma()),
            other => {
                let message = format!("`{other}` is not a decimal mark");
                Err(refusal(&Detail::new(message).help("write \".\" or \",\"")))
            }
        }
    }
}

given! {
    #[derive(Default)]
    struct SetFields {
        "problems" => problems: Vec<ExerciseFields>,
        "generator" => generator: Option<String>,
        "choices" => choices: Option<Exercises>,
        // A reply of the filter says what was noted about the names of salts.
        "notes" => _notes: ::serde::de::IgnoredAny,
    }
}

impl<'de> Deserialize<'de> for ExerciseSet {
    /// Reads a set that was saved, and perhaps edited. Prompts, feedback and help stay as they are edited.
    ///
    /// A problem that contradicts itself is an error that names it: without a right option, with an answer outside its
    /// tolerance, with a wrong option inside it, or with an answer that is not that of its request. So is one whose
    /// prompt lacks a number of its request, and one whose working ends with another number than the answer.
    ///
    /// ```
    /// use effloresce::exercise::{ExerciseSet, Exercises, Kind};
    /// let set = Exercises::new(7).kinds([Kind::PercentWater]).set(2)?;
    /// let saved = serde_json::to_string(&set)?;
    /// let edited = saved.replace("Work out", "Calculate");
    /// let read: ExerciseSet = serde_json::from_str(&edited)?;
    /// assert!(read.problems()[0].prompt().contains("Calculate"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields = SetFields::deserialize(deserializer)?;
        let refused = |detail: Detail| refusal(&detail);
        let choices = required(fields.choices, "choices", "give what the set was made from");
        let exercises: Exercises = choices.map_err(refused)?;
        let generator = required(fields.generator, "generator", "give the maker of the set");
        if fields.problems.is_empty() {
            let detail = Detail::new("the set has no problems").help("give `problems`");
            return Err(refusal(&detail));
        }
        let problems = (1..).zip(fields.problems).map(|(number, fields)| {
            let name = match fields.id.is_empty() {
                true => format!("problem {number}"),
                false => format!("problem {number}, `{}`", fields.id),
            };
            let problem = fields.problem(exercises.comma);
            problem.map_err(|mut detail| {
                detail.message = format!("{name}: {}", detail.message).into();
                detail
            })
        });
        let problems: Result<Vec<Exercise>, Detail> = problems.collect();
        Ok(ExerciseSet {
            problems: problems.map_err(refused)?,
            exercises,
            generator: generator.map_err(refused)?.into(),
        })
    }
}
