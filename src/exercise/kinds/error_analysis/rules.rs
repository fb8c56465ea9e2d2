//! What may be planted at a level, and what the sheet shows.

use crate::exercise::kind::Level;
use crate::exercise::sampler::Sampler;
use crate::gravimetry::Quantity;
use crate::mistake::{Fault, Slip};

/// The rules of a class sheet.
pub(super) struct SheetRules {
    pub(super) benches: usize,
    /// The smallest step of the balance in grams, if none is chosen.
    pub(super) readability: &'static str,
    pub(super) most_heatings: u32,
    /// The faults to choose from. No two have the same signs in the readings.
    pub(super) faults: &'static [Fault],
    /// What each bench reports.
    pub(super) quantities: &'static [Quantity],
    /// The slips to choose from.
    pub(super) slips: &'static [Slip],
    /// Whether a later answer follows from the wrong one.
    pub(super) carried: bool,
}

/// A fault and a slip that one look at the masses or at one answer shows.
const CLEAR: SheetRules = SheetRules {
    benches: 4,
    readability: "0.001",
    most_heatings: 4,
    faults: &[
        Fault::WaterLeft,
        Fault::StoppedAtLowerHydrate,
        Fault::MoistureTakenUp,
        Fault::SolidLost,
    ],
    quantities: &[Quantity::PercentWater, Quantity::Ratio],
    slips: &[
        Slip::RatioInverted,
        Slip::MassRatioForMoleRatio,
        Slip::PercentOfResidue,
        Slip::PercentSaltForWater,
        Slip::HydrateMassAsSalt,
    ],
    carried: false,
};

/// Series to be judged, and a slip in the mass of water, that later answers follow from, or in the percentage.
const IN_MASSES: SheetRules = SheetRules {
    benches: 5,
    readability: "0.001",
    most_heatings: 4,
    faults: SERIES,
    quantities: &[Quantity::WaterMass, Quantity::PercentWater, Quantity::Ratio],
    slips: &[
        Slip::PercentOfResidue,
        Slip::PercentOfGrossMass,
        Slip::FirstHeatingUsed,
        Slip::LossesAdded,
        Slip::LastLossOnly,
    ],
    carried: true,
};

/// Series to be judged, and a slip in an amount that the mole ratio follows from.
const IN_AMOUNTS: SheetRules = SheetRules {
    quantities: &[Quantity::MolSalt, Quantity::MolWater, Quantity::Ratio],
    slips: &[
        Slip::HydrateMassAsSalt,
        Slip::HydrateMolarMassForSalt,
        Slip::WrongWaterMolarMass,
        Slip::HydrateMassAsWater,
    ],
    ..IN_MASSES
};

const SERIES: &[Fault] = &[
    Fault::WaterLeft,
    Fault::StoppedAtLowerHydrate,
    Fault::MoistureTakenUp,
    Fault::SolidLost,
    Fault::Decomposed,
];

/// How a fault shows itself in the readings of a bench. No two faults have the same sign.
pub(super) fn sign(fault: Fault) -> &'static str {
    match fault {
        Fault::WaterLeft => "the mass still falls, and less water has left than the formula has",
        Fault::StoppedAtLowerHydrate => {
            "the mass is constant, but less water has left than the formula has"
        }
        Fault::MoistureTakenUp => "the mass is not constant, because it rises at the end",
        Fault::SolidLost => "the mass is constant, but more has left than the water of the formula",
        Fault::Decomposed => {
            "the mass still falls, and more has left than the water of the formula"
        }
        _ => "the readings do not fit the formula",
    }
}

impl SheetRules {
    pub(super) fn drawn(level: Level, sampler: &mut Sampler) -> &'static SheetRules {
        match (level, sampler.below(2)) {
            (Level::Judgement, 0) => &IN_MASSES,
            (Level::Judgement, _) => &IN_AMOUNTS,
            _ => &CLEAR,
        }
    }
}
