//! The working: what each bench's readings give, and what that shows.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::{SheetBench, SheetBenches};
use super::rules::{SheetRules, sign};
use crate::exercise::problem::with_unit;
use crate::gravimetry::Quantity;
use crate::mistake::NextStep;
use crate::number::{Ratio, TieRule};
use crate::working::{Step, Working};

/// The steps. Only the results of the last two name a bench.
pub(super) fn working(
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
    next: NextStep,
) -> Option<Working> {
    let mut working = Working::default();
    working.push(last_changes(benches)?);
    for quantity in rules.quantities {
        working.push(of_each_bench(*quantity, benches)?);
    }
    working.push(series(benches)?);
    working.push(water(benches)?);
    working.push(the_fault(benches, next)?);
    let (bench, slip) = (benches.all.get(answers.bench)?, answers.slip);
    let quantity = rules.quantities.get(answers.quantity)?;
    working.push(
        Step::new(
            "the slip",
            "the bench that reports a value which its own readings do not give",
            "compare each reported value with that of the same bench above".into(),
            format!("{}, {quantity}: {slip}", bench.name),
            "",
        )
        .concluded(),
    );
    Some(working)
}

/// The last two weighings of a bench, and the change between them.
fn last_change(bench: &SheetBench) -> Option<(String, Ratio)> {
    let [.., before, last] = bench.weighings.heated() else {
        return None;
    };
    Some((
        format!("{last} g − {before} g"),
        last.value() - before.value(),
    ))
}

/// A change of mass with its unit and a minus sign.
fn in_grams(change: &Ratio, benches: &SheetBenches<'_>) -> String {
    let places = benches.readability.decimal_places();
    let change = change.to_places(places, TieRule::default());
    format!("{change} g").replace('-', "−")
}

/// The change between the last two weighings, of all benches.
fn last_changes(benches: &SheetBenches<'_>) -> Option<Step> {
    let (numbers, results) = in_order(benches, |bench| {
        let (numbers, change) = last_change(bench)?;
        Some((numbers, in_grams(&change, benches)))
    })?;
    let symbols = "last weighing − the weighing before it";
    Some(Step::new(
        "last change of each bench, in the order of the sheet",
        symbols,
        numbers,
        results,
        "",
    ))
}

/// Whether the mass of each bench is constant.
fn series(benches: &SheetBenches<'_>) -> Option<Step> {
    let limit = benches.criterion;
    let (numbers, results) = in_order(benches, |bench| {
        let (_, change) = last_change(bench)?;
        let is = match (change.abs() <= limit.value(), change.is_negative()) {
            (true, _) => "constant",
            (_, true) => "still falling",
            _ => "rising",
        };
        Some((in_grams(&change, benches), is.into()))
    })?;
    let numbers = format!("{numbers}, compared with {limit} g");
    let symbols = "constant if the last change is at most the limit, whatever its sign";
    let what = "mass of each bench, in the order of the sheet";
    Some(Step::new(what, symbols, numbers, results, "").concluded())
}

/// Whether what has left each bench is the water of the formula.
fn water(benches: &SheetBenches<'_>) -> Option<Step> {
    let faulty = benches.all.get(benches.faulty)?.name;
    let waters = &benches.row.waters;
    let (numbers, results) = in_order(benches, |bench| {
        let against = match (bench.name == faulty, bench.run.ratio() < waters) {
            (false, _) => "as in the formula",
            (true, true) => "less",
            (true, false) => "more",
        };
        Some((bench.run.written(Quantity::Ratio)?, against.into()))
    })?;
    let numbers = format!("{numbers}, compared with {waters}");
    let symbols = "the mole ratio, compared with the waters of the formula";
    let what = "what has left each bench, in the order of the sheet";
    Some(Step::new(what, symbols, numbers, results, "").concluded())
}

/// The fault, from the sign of its bench.
fn the_fault(benches: &SheetBenches<'_>, next: NextStep) -> Option<Step> {
    let (faulty, fault) = (benches.all.get(benches.faulty)?, benches.fault);
    let (sign, phrase, advice) = (sign(fault), fault.phrase(), next.pupil());
    Some(
        Step::new(
            "the fault",
            "the bench whose mass is not constant, or whose mole ratio does not fit the formula",
            "compare the two lines above with the signs of the faults on the sheet".into(),
            format!(
                "{}: {sign}. This is {phrase}. Advice: {advice}",
                faulty.name
            ),
            "",
        )
        .concluded(),
    )
}

/// A quantity of all benches, from the working of each.
fn of_each_bench(quantity: Quantity, benches: &SheetBenches<'_>) -> Option<Step> {
    let step = |bench: &SheetBench| {
        let working = bench.run.working();
        let mut steps = working.steps().iter();
        steps.find(|step| step.what() == quantity.name()).cloned()
    };
    let symbols = step(benches.all.first()?)?.symbols().to_string();
    let (numbers, results) = in_order(benches, |bench| {
        let step = step(bench)?;
        Some((step.numbers().into(), with_unit(step.result(), step.unit())))
    })?;
    let what = format!(
        "{} of each bench, in the order of the sheet",
        quantity.name()
    );
    Some(Step::new(what, symbols, numbers, results, ""))
}

/// The numbers and the results of all benches, each joined.
fn in_order(
    benches: &SheetBenches<'_>,
    of: impl Fn(&SheetBench) -> Option<(String, String)>,
) -> Option<(String, String)> {
    let all: Option<Vec<(String, String)>> = benches.all.iter().map(of).collect();
    let (numbers, results): (Vec<String>, Vec<String>) = all?.into_iter().unzip();
    Some((numbers.join("; "), results.join("; ")))
}
