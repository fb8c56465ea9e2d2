//! Problems in the shape of the JSON-lines contract.

use alloc::string::String;

use ::serde::{Serialize, Serializer};

use super::given::GivenValue;
use super::problem::{Choice, Exercise};
use super::set::ExerciseSet;
use crate::gravimetry::Interval;
use crate::number::Ratio;
use crate::text::fields;

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
