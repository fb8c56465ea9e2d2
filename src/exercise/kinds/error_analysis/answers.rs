//! What the benches report, one with a slip.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::benches::{SheetBench, SheetBenches};
use super::rules::SheetRules;
use crate::exercise::draft::Refusal;
use crate::exercise::draw::Draw;
use crate::formula::Formula;
use crate::gravimetry::Quantity;
use crate::mistake::Slip;
use crate::number::{Measured, Ratio, Reading, TieRule};

/// A wrong mass has at least so many steps of the balance.
const LEAST_STEPS: i64 = 20;

/// What the benches report, in the order of the quantities.
pub(super) struct Answers {
    pub(super) reported: Vec<Vec<String>>,
    pub(super) slip: Slip,
    /// The index of the bench with the slip.
    pub(super) bench: usize,
    /// The index of the quantity with the slip.
    pub(super) quantity: usize,
}

impl Answers {
    pub(super) fn draw(
        draw: &mut Draw<'_>,
        rules: &SheetRules,
        benches: &SheetBenches<'_>,
    ) -> Result<Answers, Refusal> {
        let sound: Vec<usize> = (0..benches.all.len())
            .filter(|index| *index != benches.faulty)
            .collect();
        let bench = draw.sampler.one_of(&sound).copied();
        let bench = bench.ok_or(Refusal::Again("no bench is left for the slip"))?;
        let slip = draw.sampler.one_of(rules.slips).copied();
        let slip = slip.ok_or(Refusal::Again("there is no slip to plant"))?;
        let own = benches
            .all
            .get(bench)
            .ok_or(Refusal::Again("there is no such bench"))?;
        let (quantity, value) = slip_value(slip, own, rules, draw, &benches.row.hydrate)?;
        let careful = |bench: &SheetBench| {
            let written = rules
                .quantities
                .iter()
                .map(|quantity| bench.run.written(*quantity));
            written.collect::<Option<Vec<String>>>()
        };
        let reported = benches.all.iter().map(careful).collect::<Option<Vec<_>>>();
        let mut reported = reported.ok_or(Refusal::Again("a bench cannot report a value"))?;
        let mistaken = mistaken(own, rules, quantity, &value);
        let mistaken = mistaken.ok_or(Refusal::Again("nothing follows from the slip"))?;
        if let Some(values) = reported.get_mut(bench) {
            *values = mistaken;
        }
        Ok(Answers {
            reported,
            slip,
            bench,
            quantity,
        })
    }
}

/// The quantity that a slip is made in, and one of the values that it gives.
fn slip_value(
    slip: Slip,
    bench: &SheetBench,
    rules: &SheetRules,
    draw: &mut Draw<'_>,
    issued: &Formula,
) -> Result<(usize, Ratio), Refusal> {
    let last = rules.quantities.len() - usize::from(rules.carried);
    let quantities = rules.quantities.iter().take(last).enumerate();
    let all = quantities.flat_map(|(index, quantity)| {
        let values = slip.values(&bench.run, &bench.weighings, issued, *quantity);
        values.into_iter().map(move |value| (index, value))
    });
    let sane = all.filter(|(index, value)| {
        let quantity = rules.quantities.get(*index);
        value.is_positive() && quantity.is_some_and(|quantity| is_sane(*quantity, value, bench))
    });
    let all: Vec<(usize, Ratio)> = sane.collect();
    let drawn = draw.sampler.one_of(&all).cloned();
    drawn.ok_or(Refusal::Again("the slip cannot be made at the bench"))
}

/// Whether a bench may believe a wrong value: no more water than hydrate, and a mass of enough digits.
fn is_sane(quantity: Quantity, value: &Ratio, bench: &SheetBench) -> bool {
    match quantity {
        Quantity::PercentWater => *value <= Ratio::from(100),
        Quantity::WaterMass => {
            let hydrate = bench.run.value(Quantity::HydrateMass);
            let enough = *value >= LEAST_STEPS * bench.run.division();
            enough && hydrate.is_some_and(|hydrate| *value <= hydrate)
        }
        _ => true,
    }
}

/// The answers of a bench with a wrong value of one quantity. Later answers follow from it as it is written.
fn mistaken(
    bench: &SheetBench,
    rules: &SheetRules,
    wrong: usize,
    value: &Ratio,
) -> Option<Vec<String>> {
    let mut values: Vec<(Quantity, Ratio)> = Vec::new();
    let mut all = Vec::new();
    for (index, quantity) in rules.quantities.iter().enumerate() {
        let own = bench.run.measured(*quantity)?;
        let follows = rules.carried && index > wrong;
        let value = match follows {
            _ if index == wrong => value.clone(),
            true => following(bench, *quantity, &values).unwrap_or_else(|| own.value().clone()),
            false => own.value().clone(),
        };
        let written = as_written(*quantity, &own, &value)?;
        values.push((*quantity, written.parse::<Reading>().ok()?.value()));
        all.push(written);
    }
    Some(all)
}

/// A value of a bench from the values before it; `None` if it needs none of them.
fn following(
    bench: &SheetBench,
    quantity: Quantity,
    before: &[(Quantity, Ratio)],
) -> Option<Ratio> {
    let find = |quantity: Quantity| {
        let mut before = before.iter();
        before
            .find(|(other, _)| *other == quantity)
            .map(|(_, value)| value.clone())
    };
    let own = |quantity| bench.run.value(quantity);
    match quantity {
        Quantity::PercentWater => {
            (find(Quantity::WaterMass)? * 100).checked_div(&own(Quantity::HydrateMass)?)
        }
        Quantity::Ratio => {
            let water = || {
                let mass = find(Quantity::WaterMass)?;
                let amount = own(Quantity::MolWater)? * mass;
                amount.checked_div(&own(Quantity::WaterMass)?)
            };
            let water = find(Quantity::MolWater).or_else(water)?;
            let salt = find(Quantity::MolSalt).or_else(|| own(Quantity::MolSalt))?;
            water.checked_div(&salt)
        }
        _ => None,
    }
}

/// A value with the decimal places of a mass, or with the significant figures that careful work has; `None` if it
/// does not show them.
fn as_written(quantity: Quantity, careful: &Measured, value: &Ratio) -> Option<String> {
    let written = match quantity.unit() {
        "g" => value.to_places(careful.decimal_places()?, TieRule::Even),
        _ => value.to_figures(careful.figures()?, TieRule::Even),
    };
    (written.decimal_places() >= 0).then(|| written.to_string())
}
