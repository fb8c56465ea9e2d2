//! The working: what each bench's readings give, and what that shows.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::answers::Answers;
use super::benches::{SheetBench, SheetBenches};
use super::rules::SheetRules;
use crate::exercise::draw::to_figures;
use crate::exercise::problem::with_unit;
use crate::formula::Formula;
use crate::gravimetry::{CarefulWork, Quantity};
use crate::mistake::NextStep;
use crate::working::{Step, Working};

/// The steps. Only the results of the last two name a bench.
pub(super) fn working(
    rules: &SheetRules,
    benches: &SheetBenches<'_>,
    answers: &Answers,
    next: NextStep,
    exact: &CarefulWork,
) -> Option<Working> {
    let mut working = Working::default();
    working.push(last_changes(benches)?);
    for quantity in rules.quantities {
        if *quantity == Quantity::PercentWater {
            working.push(from_formula(benches, exact)?);
        }
        working.push(of_each_bench(*quantity, benches)?);
    }
    let faulty = benches.all.get(benches.faulty)?;
    let fault = benches.fault;
    working.push(
        Step::new(
            "the fault",
            "the bench whose readings do not fit the formula, or whose mass is not constant",
            format!(
                "compare the mole ratios with {}, and the last changes with {}\u{a0}g",
                benches.row.waters, benches.criterion
            ),
            format!(
                "{}: {} ({fault}). Advice ({}): {}",
                faulty.name,
                fault.phrase(),
                next.code(),
                next.pupil()
            ),
            "",
        )
        .concluded(),
    );
    let (bench, slip) = (benches.all.get(answers.bench)?, answers.slip);
    let quantity = rules.quantities.get(answers.quantity)?;
    working.push(
        Step::new(
            "the slip",
            "the bench that reports a value which its own readings do not give",
            "compare each reported value with that of the same bench above".into(),
            format!(
                "{}, {quantity} ({}): {slip} ({})",
                bench.name,
                quantity.code(),
                slip.code()
            ),
            "",
        )
        .concluded(),
    );
    Some(working)
}

/// The percentage of water of the formula.
fn from_formula(benches: &SheetBenches<'_>, exact: &CarefulWork) -> Option<Step> {
    let hydrate = &benches.row.hydrate;
    let waters = hydrate.waters()?;
    let molar = |formula: &Formula| Some(exact.molar_mass(formula)?.low().clone());
    let (water, whole) = (molar(&Formula::water())?, molar(hydrate)?);
    let percent = (&water * &waters * 100).checked_div(&whole)?;
    Some(Step::new(
        "percent water of the formula",
        format!("100 % × {waters} × M(H2O) / M({hydrate})"),
        format!(
            "100 % × {waters} × {} g/mol / {} g/mol",
            water.to_plain(),
            whole.to_plain()
        ),
        to_figures(&percent, 4),
        "%",
    ))
}

/// The change between the last two weighings, of all benches.
fn last_changes(benches: &SheetBenches<'_>) -> Option<Step> {
    let last = |bench: &SheetBench| match bench.weighings.heated() {
        [.., before, last] => {
            let places = benches.readability.decimal_places();
            let change = (last.value() - before.value()).to_places(places, Default::default());
            Some((
                format!("{last} g − {before} g"),
                format!("{change} g").replace('-', "−"),
            ))
        }
        _ => None,
    };
    let (numbers, results) = in_order(benches, last)?;
    let symbols = "last weighing − the weighing before it";
    Some(Step::new(
        "last change of each bench, in the order of the sheet",
        symbols,
        numbers,
        results,
        "",
    ))
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
