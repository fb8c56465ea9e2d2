//! What a bench should do about a fault.

use super::super::fault::Fault;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity, salt_facts};
use crate::text::Note;

/// The next step of a bench with a fault, in words for the teacher and for pupils.
///
/// It never says to heat a salt again that must not be heated in a school, that is not fit for loss on
/// heating, or that no stage of heating leaves whole. Otherwise the cautions of
/// [`HeatingSafety`] hold, with the limit of the temperature. The safety data sheet, the local rules and the person in
/// charge of the laboratory decide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum NextStep {
    /// Heat again until two weighings agree.
    HeatAgain,
    /// Heat more strongly than before, as far as the cautions allow.
    HeatMore,
    /// Heat once more, cool under a lid or in a desiccator, and weigh at once.
    DryAgain,
    /// Do not heat; ask the teacher.
    AskTeacher,
    /// Start again with a fresh sample, and heat gently at first.
    HeatGently,
    /// Start again with a fresh sample, and heat less strongly.
    HeatLess,
    /// Dry the crystals between filter papers, and start again.
    DryCrystals,
    /// Start again with crystals from a closed bottle.
    FreshCrystals,
    /// Heat and cool the empty container before it is weighed.
    DryContainer,
    /// Compare the weighing with the balance or with the first notes.
    CheckWeighing,
    /// Let the container cool to room temperature, and weigh it again.
    CoolAndWeigh,
    /// Make all weighings on one balance.
    OneBalance,
}

impl NextStep {
    /// All next steps, in the order of their declaration.
    pub const ALL: [NextStep; 12] = [
        NextStep::HeatAgain,
        NextStep::HeatMore,
        NextStep::DryAgain,
        NextStep::AskTeacher,
        NextStep::HeatGently,
        NextStep::HeatLess,
        NextStep::DryCrystals,
        NextStep::FreshCrystals,
        NextStep::DryContainer,
        NextStep::CheckWeighing,
        NextStep::CoolAndWeigh,
        NextStep::OneBalance,
    ];

    /// Whether a sample of this hydrate may be heated again.
    pub(super) fn may_heat(issued: &Formula) -> bool {
        let safety = HeatingSafety::of(issued);
        let is_whole = salt_facts(issued).is_none_or(|facts| facts.no_safe_stage().is_none());
        safety.severity() != Severity::Forbidden && safety.suitable() != Some(false) && is_whole
    }

    /// The step for a fault, if the hydrate `may_heat`. `may_be_wet` says that one heating has left too much mass:
    /// then more heat comes before all else.
    pub(super) fn of(fault: Fault, may_heat: bool, may_be_wet: bool) -> NextStep {
        let step = match fault {
            Fault::WaterLeft => NextStep::HeatAgain,
            Fault::MoistureTakenUp | Fault::SampleEffloresced | Fault::StoppedAtLowerHydrate
                if may_be_wet =>
            {
                NextStep::HeatAgain
            }
            Fault::StoppedAtLowerHydrate => NextStep::HeatMore,
            Fault::MoistureTakenUp => NextStep::DryAgain,
            Fault::SolidLost => NextStep::HeatGently,
            Fault::Decomposed => NextStep::HeatLess,
            Fault::SampleDamp => NextStep::DryCrystals,
            Fault::SampleEffloresced => NextStep::FreshCrystals,
            Fault::ContainerDamp => NextStep::DryContainer,
            Fault::WeighingMisread => NextStep::CheckWeighing,
            Fault::WeighedWarm => NextStep::CoolAndWeigh,
            Fault::BalanceChanged => NextStep::OneBalance,
        };
        if step.heats() && !may_heat {
            NextStep::AskTeacher
        } else {
            step
        }
    }

    /// Whether a sample is heated.
    fn heats(self) -> bool {
        !matches!(
            self,
            NextStep::AskTeacher
                | NextStep::CheckWeighing
                | NextStep::CoolAndWeigh
                | NextStep::OneBalance
        )
    }

    /// Returns the stable name, in `snake_case`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            NextStep::HeatAgain => "heat_again",
            NextStep::HeatMore => "heat_more",
            NextStep::DryAgain => "dry_again",
            NextStep::AskTeacher => "ask_teacher",
            NextStep::HeatGently => "heat_gently",
            NextStep::HeatLess => "heat_less",
            NextStep::DryCrystals => "dry_crystals",
            NextStep::FreshCrystals => "fresh_crystals",
            NextStep::DryContainer => "dry_container",
            NextStep::CheckWeighing => "check_weighing",
            NextStep::CoolAndWeigh => "cool_and_weigh",
            NextStep::OneBalance => "one_balance",
        }
    }

    /// Returns what to do, in English sentences for the teacher.
    #[must_use]
    pub const fn sentence(self) -> &'static str {
        match self {
            NextStep::HeatAgain => "Heat again until two weighings agree.",
            NextStep::HeatMore => {
                "Heat more strongly if the cautions allow it, until two weighings agree again."
            }
            NextStep::DryAgain => "Heat once more, cool in a desiccator, and weigh at once.",
            NextStep::AskTeacher => {
                "Do not heat this salt further. See the safety data sheet and the local rules."
            }
            NextStep::HeatGently => {
                "Repeat with a fresh sample. Heat gently at first, under a loose lid."
            }
            NextStep::HeatLess => "Repeat with a fresh sample, and heat less strongly.",
            NextStep::DryCrystals => {
                "Repeat with crystals dried between filter papers. Compare benches with the same bottle."
            }
            NextStep::FreshCrystals => {
                "Repeat with crystals from a closed bottle. Compare benches with the same bottle."
            }
            NextStep::DryContainer => {
                "Repeat. Heat the empty container and let it cool before it is weighed."
            }
            NextStep::CheckWeighing => {
                "Ask the bench for its first notes, or weigh again if the container is still there."
            }
            NextStep::CoolAndWeigh => {
                "Let the container cool to room temperature, and weigh it again."
            }
            NextStep::OneBalance => {
                "Ask which balances were used. Make all weighings on one balance."
            }
        }
    }

    /// Returns what to do, in English sentences for pupils.
    #[must_use]
    pub const fn pupil(self) -> &'static str {
        match self {
            NextStep::HeatAgain => "Next time, heat until two weighings agree.",
            NextStep::HeatMore => "Next time, heat more strongly, if your teacher allows it.",
            NextStep::DryAgain => "Next time, let it cool under a lid, and weigh at once.",
            NextStep::AskTeacher => "Do not heat again. Ask your teacher.",
            NextStep::HeatGently => "Next time, heat gently at first, so that nothing spits out.",
            NextStep::HeatLess => "Next time, heat less strongly.",
            NextStep::DryCrystals => "Next time, dry the crystals between filter papers first.",
            NextStep::FreshCrystals => "Next time, take crystals from a closed bottle.",
            NextStep::DryContainer => {
                "Next time, heat and cool the empty container before you weigh it."
            }
            NextStep::CheckWeighing => "Compare this number with your first notes.",
            NextStep::CoolAndWeigh => {
                "Next time, let the container cool to room temperature before you weigh it."
            }
            NextStep::OneBalance => "Next time, make all weighings on the same balance.",
        }
    }

    /// Returns the step as a note with a code and the words for the teacher.
    #[must_use]
    pub fn note(self) -> Note {
        Note::new(self.code(), self.sentence())
    }
}
