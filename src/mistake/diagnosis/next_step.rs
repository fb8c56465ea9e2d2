//! What a bench should do about a fault.

use alloc::format;
use alloc::string::String;

use super::super::fault::Fault;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity, salt_facts};
use crate::text::Note;

/// The next step of a bench with a fault, in words for the teacher and for pupils.
///
/// It never says to heat a salt again that must not be heated in a school, that is not fit for loss on
/// heating, or that no stage of heating leaves whole. Otherwise the usual cautions of
/// [`cautions`](crate::gravimetry::cautions) hold. The safety data sheet, the local rules and the person in
/// charge of the laboratory decide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum NextStep {
    /// Heat again until two weighings agree.
    HeatAgain {
        /// The hottest stage that leaves the salt whole, in degrees Celsius, if a source gives it.
        up_to_celsius: Option<u16>,
    },
    /// Heat once more, cool under a lid or in a desiccator, and weigh at once.
    DryAgain {
        /// As for [`NextStep::HeatAgain`].
        up_to_celsius: Option<u16>,
    },
    /// Do not heat; ask the teacher.
    AskTeacher,
    /// Start again with a fresh sample, and heat gently at first.
    HeatGently,
    /// Start again with a fresh sample, and heat less strongly.
    HeatLess {
        /// As for [`NextStep::HeatAgain`].
        up_to_celsius: Option<u16>,
    },
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
    /// The step for a fault with this hydrate. If heating should leave a lower hydrate, it may not become as
    /// hot as the anhydrous salt.
    pub(super) fn of(fault: Fault, issued: &Formula, to_anhydrous: bool) -> NextStep {
        let safety = HeatingSafety::of(issued);
        let facts = salt_facts(issued);
        let is_whole = facts.is_none_or(|facts| facts.no_safe_stage().is_none());
        let may_heat = safety.severity() != Severity::Forbidden
            && safety.suitable() != Some(false)
            && is_whole;
        let limit = facts.and_then(|facts| facts.safe_up_to_celsius());
        let up_to_celsius = limit.map(|limit| *limit.value()).filter(|_| to_anhydrous);
        let step = match fault {
            Fault::WaterLeft | Fault::StoppedAtLowerHydrate => {
                NextStep::HeatAgain { up_to_celsius }
            }
            Fault::MoistureTakenUp => NextStep::DryAgain { up_to_celsius },
            Fault::SolidLost => NextStep::HeatGently,
            Fault::Decomposed => NextStep::HeatLess { up_to_celsius },
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
            NextStep::HeatAgain { .. } => "heat_again",
            NextStep::DryAgain { .. } => "dry_again",
            NextStep::AskTeacher => "ask_teacher",
            NextStep::HeatGently => "heat_gently",
            NextStep::HeatLess { .. } => "heat_less",
            NextStep::DryCrystals => "dry_crystals",
            NextStep::FreshCrystals => "fresh_crystals",
            NextStep::DryContainer => "dry_container",
            NextStep::CheckWeighing => "check_weighing",
            NextStep::CoolAndWeigh => "cool_and_weigh",
            NextStep::OneBalance => "one_balance",
        }
    }

    /// The hottest safe stage, if the step depends on it.
    fn limit(self) -> Option<u16> {
        match self {
            NextStep::HeatAgain { up_to_celsius }
            | NextStep::DryAgain { up_to_celsius }
            | NextStep::HeatLess { up_to_celsius } => up_to_celsius,
            _ => None,
        }
    }

    /// Returns what to do, in English sentences for the teacher.
    #[must_use]
    pub fn sentence(self) -> String {
        let text = match self {
            NextStep::HeatAgain { .. } => "Heat again until two weighings agree.",
            NextStep::DryAgain { .. } => "Heat once more, cool in a desiccator, and weigh at once.",
            NextStep::AskTeacher => {
                "Do not heat this salt further. See the safety data sheet and the local rules."
            }
            NextStep::HeatGently => {
                "Repeat with a fresh sample. Heat gently at first, under a loose lid."
            }
            NextStep::HeatLess { .. } => "Repeat with a fresh sample, and heat less strongly.",
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
        };
        with_limit(text, self.limit())
    }

    /// Returns what to do, in English sentences for pupils.
    #[must_use]
    pub fn pupil(self) -> String {
        let text = match self {
            NextStep::HeatAgain { .. } => "Heat again until two weighings agree.",
            NextStep::DryAgain { .. } => {
                "Heat once more, let it cool under a lid, and weigh at once."
            }
            NextStep::AskTeacher => "Do not heat again. Ask your teacher.",
            NextStep::HeatGently => "Next time, heat gently at first, so that nothing spits out.",
            NextStep::HeatLess { .. } => "Next time, heat less strongly.",
            NextStep::DryCrystals => "Next time, dry the crystals between filter papers first.",
            NextStep::FreshCrystals => "Next time, take crystals from a closed bottle.",
            NextStep::DryContainer => {
                "Next time, heat and cool the empty container before you weigh it."
            }
            NextStep::CheckWeighing => "Compare this number with your first notes.",
            NextStep::CoolAndWeigh => {
                "Let the container cool to room temperature, and weigh it again."
            }
            NextStep::OneBalance => "Next time, make all weighings on the same balance.",
        };
        with_limit(text, self.limit())
    }

    /// Returns the step as a note with a code, its values and the words for the teacher.
    #[must_use]
    pub fn note(self) -> Note {
        let note = Note::new(self.code(), self.sentence());
        match self.limit() {
            Some(celsius) => note.with("up_to_celsius", format!("{celsius}")),
            None => note,
        }
    }
}

fn with_limit(text: &str, limit: Option<u16>) -> String {
    match limit {
        Some(celsius) => format!("{text} Do not go above {celsius}\u{a0}°C."),
        None => text.into(),
    }
}
