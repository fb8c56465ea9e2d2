//! The faults: wrong steps at the bench, each of which leaves other readings behind.

use alloc::format;
use core::fmt;
use core::str::FromStr;

use super::error::{Error, ErrorKind};
use crate::text::Detail;

/// Which way a fault moves x, the degree of hydration that is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Direction {
    /// More water seems to have left: x is found too high.
    Up,
    /// Less water seems to have left: x is found too low.
    Down,
    /// Either way.
    Either,
}

/// A wrong step at the bench.
///
/// ```
/// use effloresce::mistake::{Direction, Fault};
/// let fault: Fault = "solid_lost".parse()?;
/// assert_eq!(fault, Fault::SolidLost);
/// assert_eq!(fault.direction(), Direction::Up);
/// assert_eq!(fault.sentence(), "Solid was lost: it spattered, or stuck to the stirring wire; x comes out too high.");
/// # Ok::<(), effloresce::mistake::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Fault {
    /// Heating ended while water was still leaving.
    WaterLeft,
    /// The mass stood still at a lower hydrate, which was taken for the anhydrous salt.
    StoppedAtLowerHydrate,
    /// The residue took up moisture while it cooled.
    MoistureTakenUp,
    /// Solid was lost while it was heated.
    SolidLost,
    /// The anhydrous salt itself decomposed.
    Decomposed,
    /// The sample held water beside that of its crystals.
    SampleDamp,
    /// The sample had lost part of its water before it was weighed.
    SampleEffloresced,
    /// The empty container was damp when it was weighed.
    ContainerDamp,
    /// A weighing was written down otherwise than the balance showed it.
    WeighingMisread,
    /// The last weighing was made before the container had cooled.
    WeighedWarm,
    /// The weighings after heating were made on another balance.
    BalanceChanged,
}

impl Fault {
    /// All faults, in a fixed order.
    pub const ALL: [Fault; 11] = [
        Fault::WaterLeft,
        Fault::StoppedAtLowerHydrate,
        Fault::MoistureTakenUp,
        Fault::SolidLost,
        Fault::Decomposed,
        Fault::SampleDamp,
        Fault::SampleEffloresced,
        Fault::ContainerDamp,
        Fault::WeighingMisread,
        Fault::WeighedWarm,
        Fault::BalanceChanged,
    ];

    /// The stable name of the fault, as the JSON-lines contract spells it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Fault::WaterLeft => "water_left",
            Fault::StoppedAtLowerHydrate => "stopped_at_lower_hydrate",
            Fault::MoistureTakenUp => "moisture_taken_up",
            Fault::SolidLost => "solid_lost",
            Fault::Decomposed => "decomposed",
            Fault::SampleDamp => "sample_damp",
            Fault::SampleEffloresced => "sample_effloresced",
            Fault::ContainerDamp => "container_damp",
            Fault::WeighingMisread => "weighing_misread",
            Fault::WeighedWarm => "weighed_warm",
            Fault::BalanceChanged => "balance_changed",
        }
    }

    /// Which way the fault moves x.
    ///
    /// A container weighed warm when it was empty moves x down; [`Fault::WeighedWarm`] is the last
    /// weighing.
    #[must_use]
    pub const fn direction(self) -> Direction {
        match self {
            Fault::SolidLost
            | Fault::Decomposed
            | Fault::SampleDamp
            | Fault::ContainerDamp
            | Fault::WeighedWarm => Direction::Up,
            Fault::WaterLeft
            | Fault::StoppedAtLowerHydrate
            | Fault::MoistureTakenUp
            | Fault::SampleEffloresced => Direction::Down,
            Fault::WeighingMisread | Fault::BalanceChanged => Direction::Either,
        }
    }

    /// What happened and which way it moves x, in one English sentence.
    #[must_use]
    pub const fn sentence(self) -> &'static str {
        match self {
            Fault::WaterLeft => "Heating ended while water was still leaving; x comes out too low.",
            Fault::StoppedAtLowerHydrate => {
                "The mass stood still at a lower hydrate, which was taken for the anhydrous salt; x comes \
                 out too low."
            }
            Fault::MoistureTakenUp => {
                "The residue took up moisture while it cooled; x comes out too low."
            }
            Fault::SolidLost => {
                "Solid was lost: it spattered, or stuck to the stirring wire; x comes out too high."
            }
            Fault::Decomposed => {
                "The anhydrous salt was heated too far and decomposed; x comes out too high."
            }
            Fault::SampleDamp => {
                "The sample held water beside that of its crystals; x comes out too high."
            }
            Fault::SampleEffloresced => {
                "The sample had lost part of its water before it was weighed; x comes out too low."
            }
            Fault::ContainerDamp => {
                "The empty container was damp when it was weighed, and dried when it was heated; x comes \
                 out too high."
            }
            Fault::WeighingMisread => {
                "A weighing was written down otherwise than the balance showed it; x comes out too high or \
                 too low."
            }
            Fault::WeighedWarm => {
                "The container was still warm at the last weighing, and the rising air made it seem \
                 lighter; x comes out too high."
            }
            Fault::BalanceChanged => {
                "The weighings after heating were made on another balance, which shows another mass; x \
                 comes out too high or too low."
            }
        }
    }
}

impl fmt::Display for Fault {
    /// The code.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

impl FromStr for Fault {
    type Err = Error;

    /// The fault of a code.
    fn from_str(code: &str) -> Result<Fault, Error> {
        let found = Fault::ALL.into_iter().find(|fault| fault.code() == code);
        found.ok_or_else(|| {
            let shown: alloc::string::String = code.chars().take(MOST_SHOWN).collect();
            let codes = Fault::ALL.map(Fault::code).join(", ");
            Error::new(
                ErrorKind::UnknownFault,
                Detail::new(format!("`{shown}` is no fault at the bench"))
                    .help(format!("write one of {codes}")),
            )
        })
    }
}

/// Of a code that is none.
const MOST_SHOWN: usize = 40;

#[cfg(feature = "serde")]
impl serde::Serialize for Fault {
    /// As its code.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Fault {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let code = <alloc::borrow::Cow<'_, str>>::deserialize(deserializer)?;
        code.parse().map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[test]
    fn every_fault_is_read_back_from_its_code() {
        for fault in Fault::ALL {
            assert_eq!(fault.code().parse::<Fault>(), Ok(fault));
            assert_eq!(fault.to_string(), fault.code());
        }
        let error = "solid_lots".parse::<Fault>().unwrap_err();
        assert_eq!(error.to_string(), "`solid_lots` is no fault at the bench");
        assert_eq!(error.kind(), ErrorKind::UnknownFault);
        assert!(error.help().unwrap().contains("solid_lost"));
    }

    /// The sentence says what the direction says.
    #[test]
    fn sentences_agree_with_directions() {
        for fault in Fault::ALL {
            let end = match fault.direction() {
                Direction::Up => "x comes out too high.",
                Direction::Down => "x comes out too low.",
                Direction::Either => "x comes out too high or too low.",
            };
            let words = fault.sentence().split_whitespace();
            let words: alloc::vec::Vec<&str> = words.collect();
            assert!(words.join(" ").ends_with(end), "{fault}");
        }
    }

    #[cfg(feature = "serde")]
    #[test]
    fn faults_are_text_in_both_directions() {
        let text = serde_json::to_string(&Fault::ALL).unwrap();
        assert!(text.starts_with(r#"["water_left","stopped_at_lower_hydrate""#));
        let back: alloc::vec::Vec<Fault> = serde_json::from_str(&text).unwrap();
        assert_eq!(back, Fault::ALL);
        assert!(serde_json::from_str::<Fault>(r#""soot""#).is_err());
    }
}
