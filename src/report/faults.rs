//! What may have gone wrong at a bench, for the teacher.

use alloc::format;
use alloc::string::String;

use crate::class::MarkedRow;
use crate::gravimetry::{Advice, Check, Reason};
use crate::mistake::{Diagnosis, Fault, FaultHypothesis};
use crate::text::{list, sentence};

/// The sentences about a bench whose advice is given beside them; `None` if no fault is more probable than none, or
/// if the reasons of the advice say as much.
pub(super) fn beside_advice(row: &MarkedRow) -> Option<String> {
    let (check, diagnosis) = (row.check()?, row.diagnosis()?);
    let first = diagnosis.likely().first()?.fault();
    let goes_on = matches!(check.advice(), Advice::Heat | Advice::HeatAgain);
    let is_said = match first {
        // The lesson is not over.
        Fault::WaterLeft | Fault::StoppedAtLowerHydrate => goes_on,
        Fault::Decomposed => has(check, |reason| matches!(reason, Reason::Overheating(_))),
        _ => false,
    };
    if is_said || check.must_not_heat() {
        return None;
    }
    after_the_lesson(row)
}

/// The sentences about a bench that is done.
pub(super) fn after_the_lesson(row: &MarkedRow) -> Option<String> {
    let diagnosis = row.diagnosis()?;
    let first = diagnosis.likely().first()?;
    let names_reading = row.check().is_some_and(|check| has(check, names_a_reading));
    if first.fault() == Fault::WeighingMisread && names_reading {
        return None;
    }
    let (evidence, next) = (first.evidence().sentence(), first.next().sentence());
    let mut text = format!("{} {evidence}", diagnosis.sentence()?);
    if let Some(same) = diagnosis.same_mass() {
        text.push_str(&format!(" {}", same.sentence()));
    }
    if let Some(others) = others(diagnosis) {
        text.push_str(&format!(" {others}"));
    }
    text.push_str(&format!(" {next}"));
    Some(text)
}

/// The other faults that are more probable than none, but for those that mass does not distinguish from the first.
fn others(diagnosis: &Diagnosis) -> Option<String> {
    let same = diagnosis.same_mass().map_or(&[][..], |same| same.faults());
    let rest = diagnosis.likely().iter().skip(1);
    let rest = rest
        .map(FaultHypothesis::fault)
        .filter(|fault| !same.contains(fault));
    let named = list(rest.map(Fault::phrase));
    (!named.is_empty()).then(|| sentence(&format!("less probable: {named}")))
}

fn has(check: &Check, is_such: impl Fn(&Reason) -> bool) -> bool {
    check.findings().iter().any(is_such)
}

/// Whether a reason says what a reading may have been.
fn names_a_reading(reason: &Reason) -> bool {
    matches!(
        reason,
        Reason::Mistyped(..)
            | Reason::Swapped(_)
            | Reason::Reordered(_)
            | Reason::GainByDigits(_, Some(_))
    )
}

#[cfg(test)]
mod tests {
    use alloc::vec::Vec;

    use super::*;
    use crate::class::{Marker, Policy, Sheet};
    use crate::gravimetry::Method;
    use crate::report::{write_during, write_key};

    /// What `--during` and the key print, with line ends and spaces between numbers and units read as spaces.
    fn printed(heated: &str, policy: &str) -> [String; 2] {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g\nWren,21.352,24.018,{heated}\n"
        );
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let marked = marker
            .policy(Policy::from_toml(policy).unwrap())
            .mark(&sheet);
        let (mut during, mut key) = (String::new(), String::new());
        write_during(&marked, &mut during).unwrap();
        write_key(&marked, &mut key).unwrap();
        [during, key].map(|text| text.split_whitespace().collect::<Vec<&str>>().join(" "))
    }

    #[test]
    fn a_bench_is_told_what_may_have_gone_wrong() {
        let said = "Likely cause: moisture taken up on cooling.";
        for text in printed("22.675,22.656,22.690", "") {
            assert!(text.contains(said), "{text}");
            assert!(
                text.contains("gained 0.034 g between the last two weighings."),
                "{text}"
            );
        }
    }

    #[test]
    fn what_the_advice_says_is_not_said_again() {
        let [during, key] = printed("22.946,22.801,", "");
        assert!(!during.contains("water left in the residue"), "{during}");
        assert!(
            key.contains("Likely cause: water left in the residue."),
            "{key}"
        );
        let [during, key] = printed("22.675,22.656,22.655", "");
        for text in [during, key] {
            assert!(
                !text.contains("consistent with") && !text.contains("cause:"),
                "{text}"
            );
        }
    }

    #[test]
    fn priors_of_the_policy_count() {
        let policy = "[priors]\nsolid_lost = 0\nsample_damp = 0.2";
        let [_, by_policy] = printed("22.602,22.601,", policy);
        assert!(by_policy.contains("a damp sample"), "{by_policy}");
        assert!(!by_policy.contains("lost solid"), "{by_policy}");
        let [_, key] = printed("22.602,22.601,", "");
        assert!(key.contains("lost solid"), "{key}");
    }
}
