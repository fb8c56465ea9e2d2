//! The readings of the benches, one with a fault.

use alloc::vec::Vec;

use super::rules::SheetRules;
use crate::exercise::draft::Refusal;
use crate::exercise::draw::{Draw, written};
use crate::exercise::hydrate::PoolHydrate;
use crate::gravimetry::{ConstantMass, Dehydration, Method, Weighings};
use crate::mistake::{Diagnosis, Evidence, Fault, Priors, Simulator};
use crate::number::Reading;

/// The names of benches in problems.
const NAMES: [&str; 10] = [
    "Alder", "Hazel", "Heron", "Juniper", "Linden", "Otter", "Rowan", "Sorrel", "Wren", "Yarrow",
];

/// Another fault of the list must be so much less probable than the planted one.
const CLEARLY_LESS: f64 = 0.05;
/// A bench is simulated at most so often.
const MOST_TRIES: u32 = 12;
/// The ratio of a bench without a fault deviates at most by this much of it.
const SOUND_PERCENT: i64 = 1;
/// The ratio of a bench whose series shows nothing deviates at least by this much.
const OFF_PERCENT: i64 = 4;

/// A bench: its name, its readings and what they give.
pub(super) struct SheetBench {
    pub(super) name: &'static str,
    pub(super) weighings: Weighings,
    pub(super) run: Dehydration,
}

/// The benches of a class, one with a fault.
pub(super) struct SheetBenches<'d> {
    pub(super) row: &'d PoolHydrate,
    pub(super) readability: Reading,
    /// The largest change of a constant mass, in grams.
    pub(super) criterion: Reading,
    pub(super) all: Vec<SheetBench>,
    pub(super) fault: Fault,
    /// The index of the bench with the fault.
    pub(super) faulty: usize,
}

impl<'d> SheetBenches<'d> {
    pub(super) fn draw(
        draw: &mut Draw<'d>,
        rules: &SheetRules,
    ) -> Result<SheetBenches<'d>, Refusal> {
        let row = draw.heated_hydrate()?;
        let readability = draw.readability_or(rules.readability);
        let criterion = written(&(2 * &readability.value()), readability.decimal_places())?;
        let method = Method::new()
            .weights(draw.weights().clone())
            .constant_mass(ConstantMass::Absolute(criterion))
            .readability(readability)
            .map_err(Refusal::refused)?;
        let simulator = Simulator::new(&row.hydrate, readability)
            .and_then(|simulator| simulator.method(method.clone()))
            .and_then(|simulator| simulator.most_heatings(rules.most_heatings))
            .map_err(Refusal::refused)?;
        let shown = |fault: &&Fault| simulator.clone().fault(**fault).is_ok();
        let faults: Vec<&Fault> = rules.faults.iter().filter(shown).collect();
        let fault = draw.sampler.one_of(&faults).copied().copied();
        let fault = fault.ok_or(Refusal::Again("the salt shows none of the faults"))?;
        let with_fault = simulator.clone().fault(fault).map_err(Refusal::refused)?;
        let mut names = NAMES;
        draw.sampler.shuffle(&mut names);
        let faulty = draw.sampler.below(rules.benches as u32) as usize;
        let mut all = Vec::with_capacity(rules.benches);
        for (index, name) in names.into_iter().take(rules.benches).enumerate() {
            let planted = (index == faulty).then_some(fault);
            let simulator = planted.map_or(&simulator, |_| &with_fault);
            let judge = BenchJudge {
                row,
                method: &method,
                faults: rules.faults,
                planted,
            };
            all.push(judge.bench(name, simulator, draw)?);
        }
        Ok(SheetBenches {
            row,
            readability,
            criterion,
            all,
            fault,
            faulty,
        })
    }
}

/// Judges whether the readings of a bench show what was planted, and nothing else.
struct BenchJudge<'b> {
    row: &'b PoolHydrate,
    method: &'b Method,
    faults: &'b [Fault],
    planted: Option<Fault>,
}

impl BenchJudge<'_> {
    fn bench(
        &self,
        name: &'static str,
        simulator: &Simulator,
        draw: &mut Draw<'_>,
    ) -> Result<SheetBench, Refusal> {
        for _ in 0..MOST_TRIES {
            let seed = u64::from(draw.sampler.below(u32::MAX));
            let Ok(simulated) = simulator.bench(seed) else {
                continue;
            };
            let weighings = simulated.weighings();
            let run = self.method.dehydration(&self.row.salt, &weighings);
            let run = run
                .ok()
                .filter(|run| self.shows(&weighings, run) == Some(true));
            if let Some(run) = run {
                return Ok(SheetBench {
                    name,
                    weighings,
                    run,
                });
            }
        }
        Err(Refusal::Again("no simulated bench shows what was planted"))
    }

    fn shows(&self, weighings: &Weighings, run: &Dehydration) -> Option<bool> {
        let constant = run.constant_mass()?.reached()?;
        let waters = &self.row.waters;
        let off = (run.ratio() - waters).abs() * 100;
        let Some(fault) = self.planted else {
            return Some(constant && off <= waters * SOUND_PERCENT);
        };
        let far = off >= waters * OFF_PERCENT;
        let series = matches!(
            fault,
            Fault::WaterLeft | Fault::MoistureTakenUp | Fault::Decomposed
        );
        if series == constant || !(series || far) {
            return Some(false);
        }
        Some(is_clear(&self.diagnosis(weighings)?, fault, self.faults))
    }

    fn diagnosis(&self, weighings: &Weighings) -> Option<Diagnosis> {
        Diagnosis::new(&self.row.hydrate, self.method, &Priors::new(), weighings).ok()
    }
}

/// Whether a diagnosis names a fault first by its own sign in the readings, and no other of a list may be meant.
pub(super) fn is_clear(diagnosis: &Diagnosis, fault: Fault, faults: &[Fault]) -> bool {
    let Some(first) = diagnosis.likely().first() else {
        return false;
    };
    let sign = matches!(
        (fault, first.evidence()),
        (Fault::WaterLeft, Evidence::StillFalling { .. })
            | (
                Fault::StoppedAtLowerHydrate,
                Evidence::AtLowerHydrate { .. }
            )
            | (Fault::MoistureTakenUp, Evidence::GainedAtLast { .. })
            | (Fault::SolidLost, Evidence::TooLight { .. })
            | (Fault::Decomposed, Evidence::FellBelow { .. })
    );
    let rival = |other: Fault| {
        let mut all = diagnosis.all().iter();
        all.any(|own| {
            own.fault() == other && own.probability() > CLEARLY_LESS * first.probability()
        })
    };
    let same_mass = diagnosis.same_mass().map_or(&[][..], |same| same.faults());
    let others = || faults.iter().copied().filter(|other| *other != fault);
    first.fault() == fault
        && sign
        && !others().any(rival)
        && !others().any(|other| same_mass.contains(&other))
}
