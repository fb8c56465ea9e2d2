//! The faults: wrong steps at the bench, each of which leads to other readings.

use core::fmt;

use super::error::{Error, ErrorKind};

/// The direction in which a fault changes x, the degree of hydration that is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Direction {
    /// More water seems to have left: x is too high.
    Up,
    /// Less water seems to have left: x is too low.
    Down,
    /// Too high or too low.
    Either,
}

macro_rules! faults {
    ($($(#[$doc:meta])* $fault:ident $code:literal, $phrase:literal, $direction:ident, $what:literal;)+) => {
        /// A wrong step at the bench.
        ///
        /// ```
        /// use effloresce::mistake::{Direction, Fault};
        /// let fault: Fault = "solid_lost".parse()?;
        /// assert_eq!(fault, Fault::SolidLost);
        /// assert_eq!(fault.direction(), Direction::Up);
        /// assert_eq!(
        ///     fault.sentence(),
        ///     "Solid was lost: it spattered, or it stuck to the stirring wire. x is too high."
        /// );
        /// # Ok::<(), effloresce::mistake::Error>(())
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[non_exhaustive]
        pub enum Fault {
            $($(#[$doc])* $fault,)+
        }

        impl Fault {
            /// All faults, in a fixed order.
            pub const ALL: [Fault; 11] = [$(Fault::$fault),+];

            /// The stable name of the fault, as the JSON-lines contract spells it.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $(Fault::$fault => $code,)+ }
            }

            /// The English name in a sentence, such as "lost solid".
            #[must_use]
            pub const fn phrase(self) -> &'static str {
                match self { $(Fault::$fault => $phrase,)+ }
            }

            /// The direction in which the fault changes x.
            ///
            /// A container that was warm when it was weighed empty makes x too low;
            /// [`Fault::WeighedWarm`] is about the last weighing.
            #[must_use]
            pub const fn direction(self) -> Direction {
                match self { $(Fault::$fault => Direction::$direction,)+ }
            }

            /// The English description: what happened, and how it changes x.
            #[must_use]
            pub const fn sentence(self) -> &'static str {
                match self { $(Fault::$fault => concat!($what, ending!($direction)),)+ }
            }
        }
    };
}

macro_rules! ending {
    (Up) => {
        " x is too high."
    };
    (Down) => {
        " x is too low."
    };
    (Either) => {
        " x is too high or too low."
    };
}

faults! {
    /// Heating ended while water was still leaving.
    WaterLeft "water_left", "water left in the residue", Down, "Heating ended while water was still leaving.";
    /// The mass became constant at a lower hydrate, which was read as the anhydrous salt.
    StoppedAtLowerHydrate "stopped_at_lower_hydrate", "a stop at a lower hydrate", Down,
        "The mass became constant at a lower hydrate, and this was read as the anhydrous salt.";
    /// The residue took up moisture while it cooled.
    MoistureTakenUp "moisture_taken_up", "moisture taken up on cooling", Down, "The residue took up moisture while it cooled.";
    /// Solid was lost while it was heated.
    SolidLost "solid_lost", "lost solid", Up, "Solid was lost: it spattered, or it stuck to the stirring wire.";
    /// The anhydrous salt itself decomposed.
    Decomposed "decomposed", "decomposition of the salt", Up, "The anhydrous salt was heated too far and decomposed.";
    /// The sample was damp: it held more water than its crystals do.
    SampleDamp "sample_damp", "a damp sample", Up, "The sample was damp: it held more water than its crystals do.";
    /// The sample had lost part of its water before it was weighed.
    SampleEffloresced "sample_effloresced", "a sample that had lost water before", Down,
        "The sample had lost part of its water before it was weighed.";
    /// The empty container was damp when it was weighed.
    ContainerDamp "container_damp", "a damp empty container", Up,
        "The empty container was damp when it was weighed, and it dried when it was heated.";
    /// A weighing was not written down as the balance showed it.
    WeighingMisread "weighing_misread", "a weighing written down wrongly", Either,
        "A weighing was not written down as the balance showed it.";
    /// The last weighing was made before the container had cooled.
    WeighedWarm "weighed_warm", "a warm container at the last weighing", Up,
        "The container was still warm at the last weighing, and the rising air made it seem lighter.";
    /// The weighings after heating were made on another balance.
    BalanceChanged "balance_changed", "a change of balance", Either,
        "The weighings after heating were made on another balance, which shows another mass.";
}

impl fmt::Display for Fault {
    /// The code.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

crate::text::codes!(
    Fault,
    code,
    "faults at the bench",
    Error(ErrorKind::UnknownCode)
);

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
        assert_eq!(
            error.to_string(),
            "`solid_lots` is not one of the codes for faults at the bench"
        );
        assert_eq!(error.kind(), ErrorKind::UnknownCode);
        assert_eq!(error.help(), Some("did you mean `solid_lost`?"));
    }

    /// The sentence says what the direction says.
    #[test]
    fn sentences_agree_with_directions() {
        for fault in Fault::ALL {
            let end = match fault.direction() {
                Direction::Up => "x is too high.",
                Direction::Down => "x is too low.",
                Direction::Either => "x is too high or too low.",
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
